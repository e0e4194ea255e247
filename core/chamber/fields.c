/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chamber/chamber.h"

#include "chamber/chamber-private.h"
#include "moist/constants.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* The one place that knows which fields a thing has. The key is the member's
 * own name, so files, tables and code cannot drift apart. Fallbacks are the
 * typical rows of the catalogues in data/. */

/* clang-format off */
#define REAL(record, part, member, label, quantity, low, high, fallback) \
  { #member, label, DEW_FIELD_REAL, DEW_QUANTITY_##quantity, \
    G_STRUCT_OFFSET (record, part member), 0, low, high, fallback, NULL }
#define CHOICE(record, part, member, label, choices, fallback) \
  { #member, label, DEW_FIELD_CHOICE, DEW_QUANTITY_NONE, \
    G_STRUCT_OFFSET (record, part member), 0, 0, G_N_ELEMENTS (choices) - 2, fallback, choices }
#define FLAG(record, part, member, label, fallback) \
  { #member, label, DEW_FIELD_FLAG, DEW_QUANTITY_NONE, \
    G_STRUCT_OFFSET (record, part member), 0, 0, 1, fallback, NULL }
#define TEXT(record, part, member, label) \
  { #member, label, DEW_FIELD_TEXT, DEW_QUANTITY_NONE, \
    G_STRUCT_OFFSET (record, part member), sizeof (((record *) NULL)->part member), 0, 0, 0, NULL }
#define LINK(record, part, member, label) \
  { #member, label, DEW_FIELD_LINK, DEW_QUANTITY_NONE, \
    G_STRUCT_OFFSET (record, part member), 0, 0, G_MAXINT, 0, NULL }
#define COUNT(record, part, member, label, low, high, fallback) \
  { #member, label, DEW_FIELD_COUNT, DEW_QUANTITY_NONE, \
    G_STRUCT_OFFSET (record, part member), 0, low, high, fallback, NULL }
/* clang-format on */
#define END \
  { \
    NULL, NULL, DEW_FIELD_REAL, DEW_QUANTITY_NONE, 0, 0, 0, 0, 0, NULL \
  }

/* A place may be dragged past the cover for a moment: the check says so in
 * words, and the file can still be saved. Hence the wide range. */
#define PLACE_MIN (-10.0)
#define PLACE_MAX 10.0
#define PLACE(part, member, label, fallback) \
  REAL (DewThing, part, member, label, LENGTH, PLACE_MIN, PLACE_MAX, fallback)
#define SIZE(part, member, label, fallback) \
  REAL (DewThing, part, member, label, LENGTH, 0.001, 4.0, fallback)
#define SHARE(part, member, label, fallback) \
  REAL (DewThing, part, member, label, FRACTION, 0.0, 1.0, fallback)

#define SHARE_OF(part, member, label) \
  REAL (DewChamber, part, member, label, FRACTION, 0.0, 0.99, 0.0)

static const char *const face_keys[] = { "left", "right", "front", "back", "floor", "roof", NULL };
static const char *const board_keys[] = { "wire", "slatted", "perforated", "solid", NULL };
static const char *const opening_keys[] = { "flap", "zip", "hole", "mesh", "slot", "duct", NULL };
static const char *const mount_keys[] = { "free", "in_wall", NULL };
static const char *const sense_keys[] = { "in", "out", NULL };
static const char *const mist_keys[] = { "ultrasonic", "wick", "steam", NULL };
static const char *const surface_keys[] = { "water", "moss", "grit", NULL };
static const char *const state_keys[] = { "healthy", "weak", "arrived", NULL };
static const char *const leaf_keys[]
  = { "cam_orchid",     "thin_orchid", "slipper_orchid", "shade_fern",
      "epiphytic_fern", "filmy",       "herb",           NULL };
static const char *const crown_keys[] = { "harmful", "brief_ok", "tolerated", "welcome", NULL };

/* clang-format off */
static const DewField shelf_fields[] = {
  PLACE (shelf., z_m, N_ ("Height of its underside"), 0.4),
  REAL (DewThing, shelf., thickness_m, N_ ("Thickness"), LENGTH, 0.0005, 0.2, 0.006),
  CHOICE (DewThing, shelf., board, N_ ("Board"), board_keys, DEW_SHELF_WIRE),
  SHARE (shelf., open_ratio, N_ ("Open share"), 0.86),
  REAL (DewThing, shelf., loss_coefficient, N_ ("Loss coefficient"), NONE, 0.0, 1e4, 0.0),
  REAL (DewThing, shelf., gap_left_m, N_ ("Gap at the left"), LENGTH, 0.0, 4.0, 0.0),
  REAL (DewThing, shelf., gap_right_m, N_ ("Gap at the right"), LENGTH, 0.0, 4.0, 0.0),
  REAL (DewThing, shelf., gap_front_m, N_ ("Gap at the front"), LENGTH, 0.0, 4.0, 0.0),
  REAL (DewThing, shelf., gap_back_m, N_ ("Gap at the back"), LENGTH, 0.0, 4.0, 0.0),
  REAL (DewThing, shelf., load_limit_kg, N_ ("Load limit"), MASS, 0.0, 500.0, 8.0),
  END
};

static const DewField opening_fields[] = {
  CHOICE (DewThing, opening., face, N_ ("Face"), face_keys, DEW_FACE_FRONT),
  CHOICE (DewThing, opening., kind, N_ ("Kind"), opening_keys, DEW_OPENING_FLAP),
  PLACE (opening., u0_m, N_ ("From, across"), 0.1),
  PLACE (opening., u1_m, N_ ("To, across"), 0.3),
  PLACE (opening., v0_m, N_ ("From, up"), 0.05),
  PLACE (opening., v1_m, N_ ("To, up"), 0.15),
  SHARE (opening., free_ratio, N_ ("Free share when open"), 0.55),
  SHARE (opening., open_fraction, N_ ("How far open"), 1.0),
  REAL (DewThing, opening., discharge_coefficient, N_ ("Discharge coefficient"),
        NONE, 0.05, 1.0, 0.55),
  REAL (DewThing, opening., duct_flow_m3_s, N_ ("Flow through the duct"), AIR_FLOW, -0.5, 0.5, 0.0),
  END
};

static const DewField fan_fields[] = {
  PLACE (fan., x_m, N_ ("Across"), 0.2),
  PLACE (fan., y_m, N_ ("Deep"), 0.2),
  PLACE (fan., z_m, N_ ("Up"), 0.2),
  REAL (DewThing, fan., azimuth_rad, N_ ("Turned to"), ANGLE, -6.3, 6.3, 0.0),
  REAL (DewThing, fan., elevation_rad, N_ ("Tilted up"), ANGLE, -1.571, 1.571, 0.0),
  REAL (DewThing, fan., diameter_m, N_ ("Diameter"), LENGTH, 0.01, 0.6, 0.12),
  REAL (DewThing, fan., depth_m, N_ ("Depth of the frame"), LENGTH, 0.001, 0.4, 0.025),
  REAL (DewThing, fan., free_delivery_m3_s, N_ ("Airflow when unblocked"),
        AIR_FLOW, 0.0, 0.6, 65.0 / DEW_S_PER_H),
  REAL (DewThing, fan., stall_pressure_Pa, N_ ("Pressure when blocked"), PRESSURE, 0.1, 1000.0, 10.0),
  REAL (DewThing, fan., power_W, N_ ("Power"), POWER, 0.0, 200.0, 1.0),
  CHOICE (DewThing, fan., mount, N_ ("Mounted"), mount_keys, DEW_FAN_FREE),
  CHOICE (DewThing, fan., face, N_ ("Wall it sits in"), face_keys, DEW_FACE_BACK),
  CHOICE (DewThing, fan., sense, N_ ("Blows"), sense_keys, DEW_BLOWS_OUT),
  SHARE (fan., speed_day, N_ ("Speed by day"), 1.0),
  SHARE (fan., speed_night, N_ ("Speed by night"), 0.6),
  FLAG (DewThing, fan., low_voltage, N_ ("Extra-low voltage (5 to 24 V)"), TRUE),
  REAL (DewThing, fan., noise_dBA, N_ ("Noise, dBA"), NONE, 0.0, 90.0, 0.0),
  END
};

static const DewField humidifier_fields[] = {
  PLACE (humidifier., x_m, N_ ("Across"), 0.2),
  PLACE (humidifier., y_m, N_ ("Deep"), 0.2),
  PLACE (humidifier., z_m, N_ ("Up"), 0.0),
  SIZE (humidifier., width_m, N_ ("Width"), 0.16),
  SIZE (humidifier., depth_m, N_ ("Depth"), 0.16),
  SIZE (humidifier., height_m, N_ ("Height of the outlet"), 0.24),
  CHOICE (DewThing, humidifier., technology, N_ ("Makes"), mist_keys, DEW_MIST_ULTRASONIC),
  REAL (DewThing, humidifier., output_kg_s, N_ ("Output"), WATER_RATE, 0.0, 0.01, 0.180 / DEW_S_PER_H),
  REAL (DewThing, humidifier., tank_kg, N_ ("Tank"), MASS, 0.0, 200.0, 2.5),
  REAL (DewThing, humidifier., power_W, N_ ("Power"), POWER, 0.0, 4000.0, 22.0),
  REAL (DewThing, humidifier., droplet_m, N_ ("Droplet"), DROPLET, 0.0, 2e-4, 3e-6),
  REAL (DewThing, humidifier., azimuth_rad, N_ ("Turned to"), ANGLE, -6.3, 6.3, 0.0),
  REAL (DewThing, humidifier., elevation_rad, N_ ("Tilted up"), ANGLE, -1.571, 1.571, G_PI_2),
  REAL (DewThing, humidifier., outlet_diameter_m, N_ ("Width of the outlet"),
        LENGTH, 0.001, 0.5, 0.025),
  REAL (DewThing, humidifier., outlet_speed_m_s, N_ ("Speed at the outlet"), SPEED, 0.0, 10.0, 0.5),
  SHARE (humidifier., duty_day, N_ ("Running by day"), 0.05),
  SHARE (humidifier., duty_night, N_ ("Running by night"), 0.05),
  SHARE (humidifier., set_rh, N_ ("Humidistat set to"), 0.0),
  REAL (DewThing, humidifier., band_rh, N_ ("Humidistat band"), FRACTION, 0.005, 0.5, 0.04),
  LINK (DewThing, humidifier., sensor_id, N_ ("Humidistat's sensor")),
  FLAG (DewThing, humidifier., low_voltage, N_ ("Extra-low voltage (5 to 24 V)"), TRUE),
  END
};

static const DewField pot_fields[] = {
  PLACE (pot., x_m, N_ ("Across"), 0.2),
  PLACE (pot., y_m, N_ ("Deep"), 0.2),
  PLACE (pot., z_m, N_ ("Up"), 0.0),
  REAL (DewThing, pot., rim_diameter_m, N_ ("Width of the rim"), LENGTH, 0.01, 1.0, 0.12),
  REAL (DewThing, pot., height_m, N_ ("Height"), LENGTH, 0.01, 1.0, 0.11),
  SHARE (pot., wetted_fraction, N_ ("Wet share of the wall"), 0.85),
  REAL (DewThing, pot., water_kg, N_ ("Water it holds"), MASS, 0.0, 50.0, 0.25),
  REAL (DewThing, pot., mass_kg, N_ ("Mass, wet"), MASS, 0.0, 200.0, 0.88),
  END
};

static const DewField tray_fields[] = {
  PLACE (tray., x_m, N_ ("Across"), 0.25),
  PLACE (tray., y_m, N_ ("Deep"), 0.2),
  PLACE (tray., z_m, N_ ("Up"), 0.0),
  SIZE (tray., width_m, N_ ("Width"), 0.4),
  SIZE (tray., depth_m, N_ ("Depth"), 0.3),
  SIZE (tray., height_m, N_ ("Height"), 0.03),
  CHOICE (DewThing, tray., surface, N_ ("Filled with"), surface_keys, DEW_TRAY_WATER),
  REAL (DewThing, tray., water_kg, N_ ("Water"), MASS, 0.0, 200.0, 3.6),
  END
};

static const DewField lamp_fields[] = {
  PLACE (lamp., x_m, N_ ("Across"), 0.35),
  PLACE (lamp., y_m, N_ ("Deep"), 0.25),
  PLACE (lamp., z_m, N_ ("Up"), 1.0),
  SIZE (lamp., length_m, N_ ("Length"), 0.6),
  SIZE (lamp., width_m, N_ ("Width"), 0.05),
  SIZE (lamp., height_m, N_ ("Height"), 0.03),
  REAL (DewThing, lamp., power_W, N_ ("Power"), POWER, 0.0, 2000.0, 20.0),
  REAL (DewThing, lamp., efficacy_mol_J, N_ ("Light output per watt"), EFFICACY, 0.0, 4.6e-6, 2.5e-6),
  SHARE (lamp., on_day, N_ ("On by day"), 1.0),
  SHARE (lamp., on_night, N_ ("On by night"), 0.0),
  FLAG (DewThing, lamp., low_voltage, N_ ("Extra-low voltage (5 to 24 V)"), TRUE),
  END
};

static const DewField mat_fields[] = {
  PLACE (mat., x_m, N_ ("Across"), 0.2),
  PLACE (mat., y_m, N_ ("Deep"), 0.2),
  PLACE (mat., z_m, N_ ("Up"), 0.0),
  SIZE (mat., width_m, N_ ("Width"), 0.3),
  SIZE (mat., depth_m, N_ ("Depth"), 0.25),
  REAL (DewThing, mat., power_W, N_ ("Power"), POWER, 0.0, 2000.0, 10.0),
  SHARE (mat., on_day, N_ ("On by day"), 1.0),
  SHARE (mat., on_night, N_ ("On by night"), 1.0),
  FLAG (DewThing, mat., low_voltage, N_ ("Extra-low voltage (5 to 24 V)"), FALSE),
  END
};

static const DewField source_fields[] = {
  PLACE (source., x_m, N_ ("Across"), 0.2),
  PLACE (source., y_m, N_ ("Deep"), 0.2),
  PLACE (source., z_m, N_ ("Up"), 0.0),
  SIZE (source., width_m, N_ ("Width"), 0.1),
  SIZE (source., depth_m, N_ ("Depth"), 0.1),
  SIZE (source., height_m, N_ ("Height"), 0.1),
  REAL (DewThing, source., heat_W, N_ ("Heat"), POWER, -2000.0, 2000.0, 5.0),
  REAL (DewThing, source., vapour_kg_s, N_ ("Vapour"), WATER_RATE, -0.01, 0.01, 0.0),
  FLAG (DewThing, source., latent_from_air, N_ ("Heat of evaporation comes from the air"), TRUE),
  END
};

static const DewField plant_fields[] = {
  PLACE (plant., x_m, N_ ("Across"), 0.2),
  PLACE (plant., y_m, N_ ("Deep"), 0.2),
  PLACE (plant., z_m, N_ ("Up"), 0.08),
  SIZE (plant., width_m, N_ ("Width"), 0.12),
  SIZE (plant., depth_m, N_ ("Depth"), 0.12),
  SIZE (plant., height_m, N_ ("Height"), 0.15),
  REAL (DewThing, plant., leaf_area_m2, N_ ("Leaf area"), AREA, 0.0, 20.0, 0.03),
  REAL (DewThing, plant., drag_coefficient, N_ ("Drag of the leaves"), NONE, 0.0, 2.0, 0.2),
  REAL (DewThing, plant., mass_kg, N_ ("Mass, watered"), MASS, 0.0, 200.0, 0.5),
  TEXT (DewThing, plant., species, N_ ("Species")),
  CHOICE (DewThing, plant., state, N_ ("State"), state_keys, DEW_PLANT_HEALTHY),
  FLAG (DewThing, plant., keep_place, N_ ("Stays where it is"), FALSE),
  REAL (DewThing, plant., pot_diameter_m, N_ ("Width of its pot"), LENGTH, 0.0, 1.0, 0.08),
  END
};

static const DewField instrument_fields[] = {
  PLACE (instrument., x_m, N_ ("Across"), 0.2),
  PLACE (instrument., y_m, N_ ("Deep"), 0.2),
  PLACE (instrument., z_m, N_ ("Up"), 0.1),
  END
};

/* Of one side outside: what leaves the inside its least and its largest size, whatever
 * the panels are. */
#define SIDE(axis, index, label, fallback) \
  { "outer_" #axis "_m", label, DEW_FIELD_REAL, DEW_QUANTITY_LENGTH, \
    G_STRUCT_OFFSET (DewChamber, outer_m[index]), 0, DEW_ENCLOSURE_MIN_M, \
    DEW_ENCLOSURE_MAX_M + 2.0 * PANEL_MAX_M, fallback, NULL }
#define PANEL_MAX_M 0.3

static const DewField enclosure_fields[] = {
  SIDE (x, 0, N_ ("Width, outside"), 0.7),
  SIDE (y, 1, N_ ("Depth, outside"), 0.5),
  SIDE (z, 2, N_ ("Height, outside"), 1.6),
  TEXT (DewChamber, , name, N_ ("Name")),
  TEXT (DewChamber, , note, N_ ("Note")),
  /* A film case of this size with its zips shut: 25 cm2, within a factor of three
   * either way; exponent 0.65 (common practice, no source). */
  REAL (DewChamber, , leak_area_m2, N_ ("Leaks of the closed cover"), AREA, 0.0, 0.2, 25e-4),
  REAL (DewChamber, , leak_exponent, N_ ("Exponent of the leak flow"), NONE, 0.5, 1.0, 0.65),
  REAL (DewChamber, routine., day_from_h, N_ ("Day begins at, o’clock"), NONE, 0.0, 24.0, 7.0),
  REAL (DewChamber, routine., day_until_h, N_ ("Day ends at, o’clock"), NONE, 0.0, 24.0, 21.0),
  REAL (DewChamber, routine., door_from_h, N_ ("Opened for watering at, o’clock"),
        NONE, 0.0, 24.0, 9.0),
  REAL (DewChamber, routine., door_open_min, N_ ("Open for, minutes"), NONE, 0.0, 240.0, 10.0),
  REAL (DewChamber, routine., price_kWh, N_ ("Price of a kilowatt hour"), NONE, 0.0, 1000.0, 0.0),
  TEXT (DewChamber, routine., currency, N_ ("Money of the price")),
  REAL (DewChamber, routine., water_mg_l, N_ ("Minerals in the mist’s water, mg/l"),
        NONE, 0.0, 5000.0, 0.0),
  REAL (DewChamber, learned., evaporation_factor, N_ ("Evaporation against the model"), NONE, 0.1,
        10.0, 1.0),
  SHARE_OF (learned., leakage_known, N_ ("Leakage, how far known")),
  SHARE_OF (learned., fan_known, N_ ("Fan, how far known")),
  SHARE_OF (learned., humidifier_known, N_ ("Humidifier, how far known")),
  SHARE_OF (learned., cover_known, N_ ("Cover, how far known")),
  SHARE_OF (learned., evaporation_known, N_ ("Evaporation, how far known")),
  END
};

static const DewField panel_fields[] = {
  TEXT (DewPanel, , material, N_ ("Material")),
  REAL (DewPanel, , thickness_m, N_ ("Thickness"), LENGTH, 0.0, PANEL_MAX_M, 0.0002),
  REAL (DewPanel, , u_value_W_m2K, N_ ("U-value"), U_VALUE, 0.0, 20.0, 3.84),
  REAL (DewPanel, , light_transmission, N_ ("Light let through"), FRACTION, 0.0, 1.0, 0.87),
  REAL (DewPanel, , longwave_transmission, N_ ("Heat radiation let through"),
        FRACTION, 0.0, 1.0, 0.6),
  REAL (DewPanel, , slope_rad, N_ ("Slope"), ANGLE, 0.0, 1.4, 0.0),
  END
};

static const DewField room_fields[] = {
  TEXT (DewRoom, , name, N_ ("Name")),
  REAL (DewRoom, , altitude_m, N_ ("Altitude"), ALTITUDE, -450.0, 5500.0, 50.0),
  REAL (DewRoom, , sun_W_m2, N_ ("Sun on the cover by day"), IRRADIANCE, 0.0, 1400.0, 0.0),
  CHOICE (DewRoom, , sun_face, N_ ("Side the sun reaches"), face_keys, DEW_FACE_FRONT),
  REAL (DewRoom, , warm_from_h, N_ ("As by day from, o’clock"), NONE, 0.0, 24.0, 8.0),
  REAL (DewRoom, , warm_until_h, N_ ("As by day until, o’clock"), NONE, 0.0, 24.0, 22.0),
  REAL (DewRoom, , volume_m3, N_ ("Size of the room, m³"), NONE, 1.0, 10000.0, 40.0),
  REAL (DewRoom, , air_changes_1_h, N_ ("Air changes of the room, an hour"),
        NONE, 0.02, 50.0, 0.5),
  REAL (DewRoom, , wall_colder_K, N_ ("Wall behind colder than the air, K"),
        NONE, 0.0, 40.0, 0.0),
  REAL (DewRoom, , daylight_mol_m2s, N_ ("Daylight where it stands"), LIGHT, 0.0, 2.0e-3, 0.0),
  END
};

static const DewField month_fields[] = {
  REAL (DewMonth, , t_day_C, N_ ("Temperature by day"), TEMPERATURE, -30.0, 50.0, 20.5),
  REAL (DewMonth, , t_night_C, N_ ("Temperature by night"), TEMPERATURE, -30.0, 50.0, 18.0),
  REAL (DewMonth, , rh_day, N_ ("Relative humidity by day"), FRACTION, 0.01, 1.0, 0.5),
  REAL (DewMonth, , rh_night, N_ ("Relative humidity by night"), FRACTION, 0.01, 1.0, 0.56),
  END
};

static const DewField wish_fields[] = {
  TEXT (DewWish, , name, N_ ("Name")),
  TEXT (DewWish, , species, N_ ("Species")),
  COUNT (DewWish, , count, N_ ("How many"), 1, 500, 1),
  CHOICE (DewWish, , state, N_ ("State"), state_keys, DEW_PLANT_HEALTHY),
  REAL (DewWish, , pot_diameter_m, N_ ("Width of its pot"), LENGTH, 0.0, 1.0, 0.08),
  REAL (DewWish, , width_m, N_ ("Width"), LENGTH, 0.0, 4.0, 0.0),
  REAL (DewWish, , height_m, N_ ("Height"), LENGTH, 0.0, 4.0, 0.0),
  END
};
/* clang-format on */

/* Fallbacks: a cool-growing epiphyte of middling wishes (common practice, no
 * source), to be typed over. */
#define KIND_T(member, label, fallback) \
  REAL (DewPlantKind, , member, label, TEMPERATURE, -30.0, 60.0, fallback)
#define KIND(member, label, quantity, low, high, fallback) \
  REAL (DewPlantKind, , member, label, quantity, low, high, fallback)

/* clang-format off */
static const DewField plant_kind_fields[] = {
  TEXT (DewPlantKind, , name, N_ ("Name")),
  TEXT (DewPlantKind, , group, N_ ("Group")),
  KIND_T (t_day_min_C, N_ ("By day at least"), 12.0),
  KIND_T (t_day_ideal_C, N_ ("By day best"), 19.0),
  KIND_T (t_day_max_C, N_ ("By day at most"), 26.0),
  KIND_T (t_night_min_C, N_ ("By night at least"), 8.0),
  KIND_T (t_night_ideal_C, N_ ("By night best"), 13.0),
  KIND_T (t_night_max_C, N_ ("By night at most"), 18.0),
  KIND (rh_min, N_ ("Humidity at least"), FRACTION, 0.0, 1.0, 0.65),
  KIND (rh_ideal, N_ ("Humidity best"), FRACTION, 0.0, 1.0, 0.80),
  KIND (rh_max, N_ ("Humidity at most"), FRACTION, 0.0, 1.0, 0.95),
  KIND (speed_lo_m_s, N_ ("Moving air at least"), SPEED, 0.0, 10.0, 0.1),
  KIND (speed_hi_m_s, N_ ("Moving air at most"), SPEED, 0.0, 10.0, 0.5),
  KIND (ppfd_lo_mol_m2s, N_ ("Light at least"), LIGHT, 0.0, 2.5e-3, 60e-6),
  KIND (ppfd_hi_mol_m2s, N_ ("Light at most"), LIGHT, 0.0, 2.5e-3, 120e-6),
  KIND (height_m, N_ ("Height"), LENGTH, 0.001, 4.0, 0.15),
  KIND (width_m, N_ ("Width"), LENGTH, 0.001, 4.0, 0.12),
  KIND (leaf_length_m, N_ ("Length of a leaf"), LENGTH, 0.0005, 4.0, 0.08),
  CHOICE (DewPlantKind, , crown, N_ ("Water in the crown"), crown_keys, DEW_CROWN_BRIEF),
  CHOICE (DewPlantKind, , leaf, N_ ("Kind of leaf"), leaf_keys, DEW_LEAF_HERB),
  END
};
/* clang-format on */

static const struct
{
  const char *key;
  const char *label;
  const DewField *fields;
} kinds[DEW_N_THING_KINDS] = {
  [DEW_THING_SHELF] = { "shelf", N_ ("Shelf"), shelf_fields },
  [DEW_THING_OPENING] = { "opening", N_ ("Opening"), opening_fields },
  [DEW_THING_FAN] = { "fan", N_ ("Fan"), fan_fields },
  [DEW_THING_HUMIDIFIER] = { "humidifier", N_ ("Humidifier"), humidifier_fields },
  [DEW_THING_POT] = { "wet_pot", N_ ("Wet pot"), pot_fields },
  [DEW_THING_TRAY] = { "tray", N_ ("Tray"), tray_fields },
  [DEW_THING_LAMP] = { "lamp", N_ ("Lamp"), lamp_fields },
  [DEW_THING_MAT] = { "heat_mat", N_ ("Heat mat"), mat_fields },
  [DEW_THING_SOURCE] = { "source", N_ ("Source"), source_fields },
  [DEW_THING_PLANT] = { "plant", N_ ("Plant"), plant_fields },
  [DEW_THING_INSTRUMENT] = { "instrument", N_ ("Instrument"), instrument_fields },
};

/**
 * dew_thing_fields:
 * Returns: (transfer none): the table of that kind, ended by a NULL key.
 */
const DewField *
dew_thing_fields (DewThingKind kind)
{
  g_return_val_if_fail ((guint) kind < DEW_N_THING_KINDS, NULL);
  return kinds[kind].fields;
}

const DewField *
dew_enclosure_fields (void)
{
  return enclosure_fields;
}

const DewField *
dew_panel_fields (void)
{
  return panel_fields;
}

const DewField *
dew_room_fields (void)
{
  return room_fields;
}

const DewField *
dew_month_fields (void)
{
  return month_fields;
}

const DewField *
dew_wish_fields (void)
{
  return wish_fields;
}

const DewField *
dew_plant_kind_fields (void)
{
  return plant_kind_fields;
}

const char *
dew_field_label (const DewField *field)
{
  g_return_val_if_fail (field != NULL, NULL);
  return _ (field->label);
}

const char *
dew_thing_kind_key (DewThingKind kind)
{
  g_return_val_if_fail ((guint) kind < DEW_N_THING_KINDS, NULL);
  return kinds[kind].key;
}

const char *
dew_thing_kind_label (DewThingKind kind)
{
  g_return_val_if_fail ((guint) kind < DEW_N_THING_KINDS, NULL);
  return _ (kinds[kind].label);
}

gboolean
dew_thing_kind_from_key (const char *key, DewThingKind *kind)
{
  g_return_val_if_fail (key != NULL && kind != NULL, FALSE);

  for (guint i = 0; i < DEW_N_THING_KINDS; i++)
    if (strcmp (key, kinds[i].key) == 0)
      {
        *kind = i;
        return TRUE;
      }
  return FALSE;
}

const char *
dew_face_key (DewFace face)
{
  g_return_val_if_fail ((guint) face < DEW_N_FACES, NULL);
  return face_keys[face];
}

const DewField *
dew_field_find (const DewField *fields, const char *key)
{
  g_return_val_if_fail (fields != NULL && key != NULL, NULL);

  for (const DewField *field = fields; field->key != NULL; field++)
    if (strcmp (field->key, key) == 0)
      return field;
  return NULL;
}

double
dew_field_get_real (const DewField *field, gconstpointer record)
{
  g_return_val_if_fail (field->type == DEW_FIELD_REAL, NAN);
  return G_STRUCT_MEMBER (double, record, field->offset);
}

void
dew_field_set_real (const DewField *field, gpointer record, double value)
{
  g_return_if_fail (field->type == DEW_FIELD_REAL);
  G_STRUCT_MEMBER (double, record, field->offset) = value;
}

/* For choices, flags, links and counts. */
int
dew_field_get_int (const DewField *field, gconstpointer record)
{
  g_return_val_if_fail (field->type != DEW_FIELD_REAL && field->type != DEW_FIELD_TEXT, 0);
  return G_STRUCT_MEMBER (int, record, field->offset);
}

void
dew_field_set_int (const DewField *field, gpointer record, int value)
{
  g_return_if_fail (field->type != DEW_FIELD_REAL && field->type != DEW_FIELD_TEXT);
  G_STRUCT_MEMBER (int, record, field->offset) = value;
}

gboolean
dew_field_choose (const DewField *field, gpointer record, const char *key)
{
  g_return_val_if_fail (field->type == DEW_FIELD_CHOICE, FALSE);

  for (int i = 0; key != NULL && field->choices[i] != NULL; i++)
    if (strcmp (field->choices[i], key) == 0)
      {
        dew_field_set_int (field, record, i);
        return TRUE;
      }
  return FALSE;
}

const char *
dew_field_get_text (const DewField *field, gconstpointer record)
{
  g_return_val_if_fail (field->type == DEW_FIELD_TEXT, "");
  return (const char *) record + field->offset;
}

/* Cuts at a whole character what does not fit. */
void
dew_field_set_text (const DewField *field, gpointer record, const char *text)
{
  g_autofree char *plain = dew_text_plain (text != NULL ? text : "", DEW_TEXT_LINES (field->size));

  g_return_if_fail (field->type == DEW_FIELD_TEXT);
  dew_text_copy ((char *) record + field->offset, field->size, plain);
}

void
dew_text_copy (char *to, gsize size, const char *text)
{
  const char *from = text != NULL ? text : "";
  gsize length = strlen (from);

  if (length >= size)
    {
      const char *end = g_utf8_find_prev_char (from, from + size);

      length = end != NULL ? (gsize) (end - from) : 0;
    }
  memmove (to, from, length);
  memset (to + length, 0, size - length);
}

gboolean
dew_real_equal (double a, double b)
{
  return a == b || (isnan (a) && isnan (b));
}

void
dew_fields_init (const DewField *fields, gpointer record)
{
  for (const DewField *field = fields; field->key != NULL; field++)
    {
      if (field->type == DEW_FIELD_REAL)
        dew_field_set_real (field, record, field->fallback);
      else if (field->type == DEW_FIELD_TEXT)
        dew_field_set_text (field, record, "");
      else
        dew_field_set_int (field, record, (int) field->fallback);
    }
}

static gboolean
field_equal (const DewField *field, gconstpointer a, gconstpointer b)
{
  if (field->type == DEW_FIELD_REAL)
    return dew_real_equal (dew_field_get_real (field, a), dew_field_get_real (field, b));
  if (field->type == DEW_FIELD_TEXT)
    return strcmp (dew_field_get_text (field, a), dew_field_get_text (field, b)) == 0;
  return dew_field_get_int (field, a) == dew_field_get_int (field, b);
}

gboolean
dew_fields_equal (const DewField *fields, gconstpointer a, gconstpointer b)
{
  for (const DewField *field = fields; field->key != NULL; field++)
    if (!field_equal (field, a, b))
      return FALSE;
  return TRUE;
}
