/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chamber/chamber.h"

#include "chamber/chamber-private.h"

#include <math.h>
#include <string.h>

/* The one place that knows which fields a thing has. The key is the member's
 * own name, so files, tables and code cannot drift apart. Fallbacks are the
 * typical rows of the catalogues in data/. */

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
    G_STRUCT_OFFSET (record, part member), DEW_NAME_SIZE, 0, 0, 0, NULL }
#define LINK(record, part, member, label) \
  { #member, label, DEW_FIELD_LINK, DEW_QUANTITY_NONE, \
    G_STRUCT_OFFSET (record, part member), 0, 0, G_MAXINT, 0, NULL }
#define END { NULL, NULL, DEW_FIELD_REAL, DEW_QUANTITY_NONE, 0, 0, 0, 0, 0, NULL }

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

static const char *const face_keys[] = { "left", "right", "front", "back", "floor", "roof", NULL };
static const char *const board_keys[] = { "wire", "slatted", "perforated", "solid", NULL };
static const char *const opening_keys[] = { "flap", "zip", "hole", "mesh", "slot", "duct", NULL };
static const char *const mount_keys[] = { "free", "in_wall", NULL };
static const char *const sense_keys[] = { "in", "out", NULL };
static const char *const mist_keys[] = { "ultrasonic", "wick", "steam", NULL };
static const char *const surface_keys[] = { "water", "moss", "grit", NULL };

static const DewField shelf_fields[] = {
  PLACE (shelf., z_m, "Height of its underside", 0.4),
  REAL (DewThing, shelf., thickness_m, "Thickness", LENGTH, 0.0005, 0.2, 0.006),
  CHOICE (DewThing, shelf., board, "Board", board_keys, DEW_SHELF_WIRE),
  SHARE (shelf., open_ratio, "Open share", 0.86),
  REAL (DewThing, shelf., loss_coefficient, "Loss coefficient", NONE, 0.0, 1e4, 0.0),
  REAL (DewThing, shelf., gap_left_m, "Gap at the left", LENGTH, 0.0, 4.0, 0.0),
  REAL (DewThing, shelf., gap_right_m, "Gap at the right", LENGTH, 0.0, 4.0, 0.0),
  REAL (DewThing, shelf., gap_front_m, "Gap at the front", LENGTH, 0.0, 4.0, 0.0),
  REAL (DewThing, shelf., gap_back_m, "Gap at the back", LENGTH, 0.0, 4.0, 0.0),
  REAL (DewThing, shelf., load_limit_kg, "Load limit", MASS, 0.0, 500.0, 8.0),
  END
};

static const DewField opening_fields[] = {
  CHOICE (DewThing, opening., face, "Face", face_keys, DEW_FACE_FRONT),
  CHOICE (DewThing, opening., kind, "Kind", opening_keys, DEW_OPENING_FLAP),
  PLACE (opening., u0_m, "From, across", 0.1),
  PLACE (opening., u1_m, "To, across", 0.3),
  PLACE (opening., v0_m, "From, up", 0.05),
  PLACE (opening., v1_m, "To, up", 0.15),
  SHARE (opening., free_ratio, "Free share when open", 0.55),
  SHARE (opening., open_fraction, "How far open", 1.0),
  REAL (DewThing, opening., discharge_coefficient, "Discharge coefficient", NONE, 0.05, 1.0, 0.55),
  REAL (DewThing, opening., duct_flow_m3_s, "Flow through the duct", AIR_FLOW, -0.5, 0.5, 0.0),
  END
};

static const DewField fan_fields[] = {
  PLACE (fan., x_m, "Across", 0.2),
  PLACE (fan., y_m, "Deep", 0.2),
  PLACE (fan., z_m, "Up", 0.2),
  REAL (DewThing, fan., azimuth_rad, "Turned to", ANGLE, -6.3, 6.3, 0.0),
  REAL (DewThing, fan., elevation_rad, "Tilted up", ANGLE, -1.571, 1.571, 0.0),
  REAL (DewThing, fan., diameter_m, "Diameter", LENGTH, 0.01, 0.6, 0.12),
  REAL (DewThing, fan., depth_m, "Depth of the frame", LENGTH, 0.001, 0.4, 0.025),
  REAL (DewThing, fan., free_delivery_m3_s, "Free delivery", AIR_FLOW, 0.0, 0.6, 65.0 / 3600.0),
  REAL (DewThing, fan., stall_pressure_Pa, "Stall pressure", PRESSURE, 0.1, 1000.0, 10.0),
  REAL (DewThing, fan., power_W, "Power", POWER, 0.0, 200.0, 1.0),
  CHOICE (DewThing, fan., mount, "Mounted", mount_keys, DEW_FAN_FREE),
  CHOICE (DewThing, fan., face, "Wall it sits in", face_keys, DEW_FACE_BACK),
  CHOICE (DewThing, fan., sense, "Blows", sense_keys, DEW_BLOWS_OUT),
  SHARE (fan., speed_day, "Speed by day", 1.0),
  SHARE (fan., speed_night, "Speed by night", 0.6),
  FLAG (DewThing, fan., low_voltage, "Low voltage", TRUE),
  END
};

static const DewField humidifier_fields[] = {
  PLACE (humidifier., x_m, "Across", 0.2),
  PLACE (humidifier., y_m, "Deep", 0.2),
  PLACE (humidifier., z_m, "Up", 0.0),
  SIZE (humidifier., width_m, "Width", 0.16),
  SIZE (humidifier., depth_m, "Depth", 0.16),
  SIZE (humidifier., height_m, "Height of the outlet", 0.24),
  CHOICE (DewThing, humidifier., technology, "Makes", mist_keys, DEW_MIST_ULTRASONIC),
  REAL (DewThing, humidifier., output_kg_s, "Output", WATER_RATE, 0.0, 0.01, 0.180 / 3600.0),
  REAL (DewThing, humidifier., tank_kg, "Tank", MASS, 0.0, 200.0, 2.5),
  REAL (DewThing, humidifier., power_W, "Power", POWER, 0.0, 4000.0, 22.0),
  REAL (DewThing, humidifier., droplet_m, "Droplet", DROPLET, 0.0, 2e-4, 3e-6),
  REAL (DewThing, humidifier., azimuth_rad, "Turned to", ANGLE, -6.3, 6.3, 0.0),
  REAL (DewThing, humidifier., elevation_rad, "Tilted up", ANGLE, -1.571, 1.571, G_PI_2),
  REAL (DewThing, humidifier., outlet_diameter_m, "Width of the outlet", LENGTH, 0.001, 0.5, 0.025),
  REAL (DewThing, humidifier., outlet_speed_m_s, "Speed at the outlet", SPEED, 0.0, 10.0, 0.5),
  SHARE (humidifier., duty_day, "Running by day", 0.05),
  SHARE (humidifier., duty_night, "Running by night", 0.05),
  SHARE (humidifier., set_rh, "Humidistat set to", 0.0),
  REAL (DewThing, humidifier., band_rh, "Humidistat band", FRACTION, 0.005, 0.5, 0.04),
  LINK (DewThing, humidifier., sensor_id, "Humidistat listens to"),
  FLAG (DewThing, humidifier., low_voltage, "Low voltage", TRUE),
  END
};

static const DewField pot_fields[] = {
  PLACE (pot., x_m, "Across", 0.2),
  PLACE (pot., y_m, "Deep", 0.2),
  PLACE (pot., z_m, "Up", 0.0),
  REAL (DewThing, pot., rim_diameter_m, "Width of the rim", LENGTH, 0.01, 1.0, 0.12),
  REAL (DewThing, pot., height_m, "Height", LENGTH, 0.01, 1.0, 0.11),
  SHARE (pot., wetted_fraction, "Wet share of the wall", 0.85),
  REAL (DewThing, pot., water_kg, "Water to give", MASS, 0.0, 50.0, 0.25),
  REAL (DewThing, pot., mass_kg, "Mass, wet", MASS, 0.0, 200.0, 0.88),
  END
};

static const DewField tray_fields[] = {
  PLACE (tray., x_m, "Across", 0.25),
  PLACE (tray., y_m, "Deep", 0.2),
  PLACE (tray., z_m, "Up", 0.0),
  SIZE (tray., width_m, "Width", 0.4),
  SIZE (tray., depth_m, "Depth", 0.3),
  SIZE (tray., height_m, "Height", 0.03),
  CHOICE (DewThing, tray., surface, "Filled with", surface_keys, DEW_TRAY_WATER),
  REAL (DewThing, tray., water_kg, "Water", MASS, 0.0, 200.0, 3.6),
  END
};

static const DewField lamp_fields[] = {
  PLACE (lamp., x_m, "Across", 0.35),
  PLACE (lamp., y_m, "Deep", 0.25),
  PLACE (lamp., z_m, "Up", 1.0),
  SIZE (lamp., length_m, "Length", 0.6),
  SIZE (lamp., width_m, "Width", 0.05),
  SIZE (lamp., height_m, "Height", 0.03),
  REAL (DewThing, lamp., power_W, "Power", POWER, 0.0, 2000.0, 20.0),
  REAL (DewThing, lamp., efficacy_mol_J, "Light per energy", EFFICACY, 0.0, 4.6e-6, 2.5e-6),
  SHARE (lamp., on_day, "On by day", 1.0),
  SHARE (lamp., on_night, "On by night", 0.0),
  FLAG (DewThing, lamp., low_voltage, "Low voltage", TRUE),
  END
};

static const DewField mat_fields[] = {
  PLACE (mat., x_m, "Across", 0.2),
  PLACE (mat., y_m, "Deep", 0.2),
  PLACE (mat., z_m, "Up", 0.0),
  SIZE (mat., width_m, "Width", 0.3),
  SIZE (mat., depth_m, "Depth", 0.25),
  REAL (DewThing, mat., power_W, "Power", POWER, 0.0, 2000.0, 10.0),
  SHARE (mat., on_day, "On by day", 1.0),
  SHARE (mat., on_night, "On by night", 1.0),
  FLAG (DewThing, mat., low_voltage, "Low voltage", FALSE),
  END
};

static const DewField source_fields[] = {
  PLACE (source., x_m, "Across", 0.2),
  PLACE (source., y_m, "Deep", 0.2),
  PLACE (source., z_m, "Up", 0.0),
  SIZE (source., width_m, "Width", 0.1),
  SIZE (source., depth_m, "Depth", 0.1),
  SIZE (source., height_m, "Height", 0.1),
  REAL (DewThing, source., heat_W, "Heat", POWER, -2000.0, 2000.0, 5.0),
  REAL (DewThing, source., vapour_kg_s, "Vapour", WATER_RATE, -0.01, 0.01, 0.0),
  FLAG (DewThing, source., latent_from_air, "Air pays for the evaporation", TRUE),
  END
};

static const DewField plant_fields[] = {
  PLACE (plant., x_m, "Across", 0.2),
  PLACE (plant., y_m, "Deep", 0.2),
  PLACE (plant., z_m, "Up", 0.08),
  SIZE (plant., width_m, "Width", 0.12),
  SIZE (plant., depth_m, "Depth", 0.12),
  SIZE (plant., height_m, "Height", 0.15),
  REAL (DewThing, plant., leaf_area_m2, "Leaf area", AREA, 0.0, 20.0, 0.03),
  REAL (DewThing, plant., drag_coefficient, "Drag of the leaves", NONE, 0.0, 2.0, 0.2),
  REAL (DewThing, plant., mass_kg, "Mass, watered", MASS, 0.0, 200.0, 0.5),
  TEXT (DewThing, plant., species, "Species"),
  END
};

static const DewField instrument_fields[] = {
  PLACE (instrument., x_m, "Across", 0.2),
  PLACE (instrument., y_m, "Deep", 0.2),
  PLACE (instrument., z_m, "Up", 0.1),
  END
};

static const DewField panel_fields[] = {
  TEXT (DewPanel, , material, "Material"),
  REAL (DewPanel, , thickness_m, "Thickness", LENGTH, 0.0, 0.3, 0.0002),
  REAL (DewPanel, , u_value_W_m2K, "U-value", U_VALUE, 0.0, 20.0, 3.84),
  REAL (DewPanel, , light_transmission, "Light let through", FRACTION, 0.0, 1.0, 0.87),
  REAL (DewPanel, , longwave_transmission, "Heat radiation let through", FRACTION, 0.0, 1.0, 0.6),
  REAL (DewPanel, , slope_rad, "Slope", ANGLE, 0.0, 1.4, 0.0),
  END
};

static const DewField room_fields[] = {
  TEXT (DewRoom, , name, "Name"),
  REAL (DewRoom, , altitude_m, "Altitude", ALTITUDE, -450.0, 5500.0, 50.0),
  REAL (DewRoom, , sun_W_m2, "Sun on the cover by day", IRRADIANCE, 0.0, 1400.0, 0.0),
  CHOICE (DewRoom, , sun_face, "Side the sun reaches", face_keys, DEW_FACE_FRONT),
  END
};

static const struct
{
  const char *key;
  const char *label;
  const DewField *fields;
} kinds[DEW_N_THING_KINDS] = {
  [DEW_THING_SHELF] = { "shelf", "Shelf", shelf_fields },
  [DEW_THING_OPENING] = { "opening", "Opening", opening_fields },
  [DEW_THING_FAN] = { "fan", "Fan", fan_fields },
  [DEW_THING_HUMIDIFIER] = { "humidifier", "Humidifier", humidifier_fields },
  [DEW_THING_POT] = { "wet_pot", "Wet pot", pot_fields },
  [DEW_THING_TRAY] = { "tray", "Tray", tray_fields },
  [DEW_THING_LAMP] = { "lamp", "Lamp", lamp_fields },
  [DEW_THING_MAT] = { "heat_mat", "Heat mat", mat_fields },
  [DEW_THING_SOURCE] = { "source", "Source", source_fields },
  [DEW_THING_PLANT] = { "plant", "Plant", plant_fields },
  [DEW_THING_INSTRUMENT] = { "instrument", "Instrument", instrument_fields },
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
dew_panel_fields (void)
{
  return panel_fields;
}

const DewField *
dew_room_fields (void)
{
  return room_fields;
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
  return kinds[kind].label;
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

/* For choices, flags and links. */
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
  g_return_if_fail (field->type == DEW_FIELD_TEXT);
  dew_text_copy ((char *) record + field->offset, field->size, text);
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
