/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The document in memory: one enclosure, the room it stands in, and one or
 * more variants (layouts) of what is in it.
 *
 * Coordinates: the origin is the left, front, lower inner corner. x runs to
 * the right, y to the back, z up, all in metres. Sizes, angles and rates are
 * SI (m, rad, kg/s, W, Pa); temperatures are in degrees Celsius; relative
 * humidity and every other share is a fraction 0..1. Names carry the unit.
 *
 * All kinds of thing share one table of fields (dew_thing_fields()). Reading,
 * writing, checking and editing go through that table, so a new field or kind
 * is added in one place.
 *
 * A DewChamber is owned by whoever made or copied it. It is not locked: one
 * thread changes it, others work on copies.
 */

#include <glib.h>

G_BEGIN_DECLS

#define DEW_NAME_SIZE 64 /* bytes of a name, terminating zero included */

#define DEW_ENCLOSURE_MIN_M 0.1 /* inner clear side */
#define DEW_ENCLOSURE_MAX_M 4.0
#define DEW_SLACK_M 1e-6 /* rounding of lengths that were typed in other units */

typedef enum
{
  DEW_FACE_LEFT,
  DEW_FACE_RIGHT,
  DEW_FACE_FRONT,
  DEW_FACE_BACK,
  DEW_FACE_FLOOR,
  DEW_FACE_ROOF,
  DEW_N_FACES
} DewFace;

typedef enum
{
  DEW_THING_SHELF,
  DEW_THING_OPENING,
  DEW_THING_FAN,
  DEW_THING_HUMIDIFIER,
  DEW_THING_POT,
  DEW_THING_TRAY,
  DEW_THING_LAMP,
  DEW_THING_MAT,
  DEW_THING_SOURCE,
  DEW_THING_PLANT,
  DEW_THING_INSTRUMENT,
  DEW_N_THING_KINDS
} DewThingKind;

typedef enum
{
  DEW_SHELF_WIRE,
  DEW_SHELF_SLATTED,
  DEW_SHELF_PERFORATED,
  DEW_SHELF_SOLID
} DewShelfBoard;

typedef enum
{
  DEW_OPENING_FLAP,
  DEW_OPENING_ZIP,
  DEW_OPENING_HOLE,
  DEW_OPENING_MESH,
  DEW_OPENING_SLOT,
  DEW_OPENING_DUCT /* a fixed flow is blown in (or drawn out) through it */
} DewOpeningKind;

typedef enum
{
  DEW_FAN_FREE,   /* stands or hangs inside */
  DEW_FAN_IN_WALL /* sits in a hole of the cover, moves air to or from the room */
} DewFanMount;

typedef enum
{
  DEW_BLOWS_IN,
  DEW_BLOWS_OUT
} DewFanSense;

typedef enum
{
  DEW_MIST_ULTRASONIC, /* droplets, heat of evaporation from the air */
  DEW_MIST_WICK,       /* vapour, heat of evaporation from the air */
  DEW_MIST_STEAM       /* vapour, brings its own heat */
} DewMistKind;

typedef enum
{
  DEW_TRAY_WATER, /* open water */
  DEW_TRAY_MOSS,  /* living moss or wet felt */
  DEW_TRAY_GRIT   /* wet clay grit or pebbles */
} DewTraySurface;

typedef enum
{
  DEW_PLANT_HEALTHY,
  DEW_PLANT_WEAK,   /* wants a place to recover */
  DEW_PLANT_ARRIVED /* new: may carry pests, stands apart for a while */
} DewPlantState;

typedef enum
{
  DEW_CROWN_HARMFUL, /* water in the crown does harm */
  DEW_CROWN_BRIEF,   /* harmless when dry within the day */
  DEW_CROWN_TOLERATED,
  DEW_CROWN_WELCOME
} DewCrownWater;

/* Plants by how their stomata behave. */
typedef enum
{
  DEW_LEAF_CAM_ORCHID, /* opens at night */
  DEW_LEAF_THIN_ORCHID,
  DEW_LEAF_SLIPPER_ORCHID,
  DEW_LEAF_SHADE_FERN,
  DEW_LEAF_EPIPHYTIC_FERN,
  DEW_LEAF_FILMY, /* filmy ferns and mosses: no skin that holds water back */
  DEW_LEAF_HERB,  /* gesneriads, begonias, aroids, carnivores and the rest */
  DEW_N_LEAF_KINDS
} DewLeafKind;

/* A shelf spans the enclosure but for the four gaps at its edges. */
typedef struct
{
  double z_m; /* underside above the floor */
  double thickness_m;
  int board;               /* DewShelfBoard */
  double open_ratio;       /* open area over plan area, empty shelf, 0..1 */
  double loss_coefficient; /* on the approach speed; 0 = derive from open_ratio */
  double gap_left_m;
  double gap_right_m;
  double gap_front_m;
  double gap_back_m;
  double load_limit_kg;
} DewShelf;

/* A hole in one face. (u, v) is (y, z) on left and right, (x, z) on front and
 * back, (x, y) on floor and roof. */
typedef struct
{
  int face; /* DewFace */
  int kind; /* DewOpeningKind */
  double u0_m, u1_m, v0_m, v1_m;
  double free_ratio;    /* open area over the rectangle when fully open (mesh, flap) */
  double open_fraction; /* 0 closed .. 1 fully open */
  double discharge_coefficient;
  double duct_flow_m3_s; /* only for a duct; positive into the enclosure */
} DewOpening;

/* The aim of a jet: azimuth 0 blows to the right (+x), pi/2 to the back (+y);
 * elevation pi/2 blows up. */
typedef struct
{
  double x_m, y_m, z_m; /* centre of the disc */
  double azimuth_rad;
  double elevation_rad;
  double diameter_m;
  double depth_m;            /* of the frame, for the drawing */
  double free_delivery_m3_s; /* at zero pressure rise */
  double stall_pressure_Pa;  /* at zero flow */
  double power_W;
  int mount;        /* DewFanMount */
  int face;         /* DewFace, for a fan in the wall */
  int sense;        /* DewFanSense, for a fan in the wall */
  double speed_day; /* share of full speed, 0..1 */
  double speed_night;
  gboolean low_voltage; /* 5 to 24 V; FALSE = mains inside the enclosure */
  double noise_dBA;     /* at full speed, a metre away; 0 = not known */
} DewFan;

typedef struct
{
  double x_m, y_m, z_m; /* middle of the base; the outlet is at z + height */
  double width_m, depth_m, height_m;
  int technology;     /* DewMistKind */
  double output_kg_s; /* when it runs */
  double tank_kg;
  double power_W;
  double droplet_m; /* mass median diameter */
  double azimuth_rad;
  double elevation_rad;
  double outlet_diameter_m;
  double outlet_speed_m_s;
  double duty_day; /* share of the time it runs without a humidistat, 0..1 */
  double duty_night;
  double set_rh;  /* humidistat set point, fraction; 0 = no humidistat */
  double band_rh; /* width of the humidistat's switching band, fraction */
  int sensor_id;  /* instrument it listens to; 0 = at the outlet's own place */
  gboolean low_voltage;
} DewHumidifier;

/* A wet porous clay pot, empty or planted. */
typedef struct
{
  double x_m, y_m, z_m; /* middle of the base */
  double rim_diameter_m;
  double height_m;
  double wetted_fraction; /* of the outer wall, 0..1 */
  double water_kg;        /* that can evaporate before the wall is dry */
  double mass_kg;         /* wet, for the load */
} DewPot;

typedef struct
{
  double x_m, y_m, z_m; /* middle of the base */
  double width_m, depth_m, height_m;
  int surface; /* DewTraySurface */
  double water_kg;
} DewTray;

typedef struct
{
  double x_m, y_m, z_m; /* middle of the underside */
  double length_m;      /* along x */
  double width_m;       /* along y */
  double height_m;
  double power_W;
  double efficacy_mol_J; /* photons 400-700 nm per electrical joule */
  double on_day;         /* share of full power, 0..1 */
  double on_night;
  gboolean low_voltage;
} DewLamp;

typedef struct
{
  double x_m, y_m, z_m; /* middle of the underside */
  double width_m, depth_m;
  double power_W;
  double on_day;
  double on_night;
  gboolean low_voltage;
} DewMat;

/* A box that gives off a known heat or vapour. */
typedef struct
{
  double x_m, y_m, z_m; /* middle of the base */
  double width_m, depth_m, height_m;
  double heat_W;            /* negative cools */
  double vapour_kg_s;       /* negative dries */
  gboolean latent_from_air; /* the vapour takes its heat of evaporation from the air */
} DewSource;

typedef struct
{
  double x_m, y_m, z_m;              /* middle of the base of the crown */
  double width_m, depth_m, height_m; /* of the crown */
  double leaf_area_m2;               /* one side */
  double drag_coefficient;           /* of the leaves, on leaf area */
  double mass_kg;                    /* pot, medium and water, for the load; 0 for a mount */
  char species[DEW_NAME_SIZE];       /* an own kind or a row of the plant catalogue; empty = none */
  int state;                         /* DewPlantState */
  gboolean keep_place;               /* whoever assigns places leaves it where it is */
  double pot_diameter_m;             /* over the rim; 0 = mounted, without a pot */
} DewPlant;

typedef struct
{
  double x_m, y_m, z_m;
} DewInstrument;

typedef struct
{
  guint id; /* unique in the document, never used again; 0 = none */
  DewThingKind kind;
  char name[DEW_NAME_SIZE];
  union
  {
    DewShelf shelf;
    DewOpening opening;
    DewFan fan;
    DewHumidifier humidifier;
    DewPot pot;
    DewTray tray;
    DewLamp lamp;
    DewMat mat;
    DewSource source;
    DewPlant plant;
    DewInstrument instrument;
  };
} DewThing;

/* One side of the cover. */
typedef struct
{
  char material[DEW_NAME_SIZE]; /* row of the cover catalogue; empty = own */
  double thickness_m;
  double u_value_W_m2K;         /* room air to inside air, indoor films on both faces */
  double light_transmission;    /* fraction of visible light */
  double longwave_transmission; /* fraction of thermal radiation, dry sheet */
  double slope_rad;             /* of the roof panel, falling to the back */
} DewPanel;

typedef struct
{
  double t_day_C, t_night_C;
  double rh_day, rh_night; /* fraction */
} DewMonth;

typedef struct
{
  char name[DEW_NAME_SIZE];
  double altitude_m;
  DewMonth months[12]; /* January first */
  double sun_W_m2;     /* sunlight that reaches one face by day; 0 = none */
  int sun_face;        /* DewFace */
  double warm_from_h;  /* clock times, in hours from midnight, between which it is as by day */
  double warm_until_h;
  double volume_m3;
  double air_changes_1_h;
  double wall_colder_K; /* the wall behind the enclosure is so much colder than the room's air */
  /* Photons of 400-700 nm on a level spot beside the enclosure, mean over the hours of light,
   * lamps off; 0 = none worth counting. It brings light and no heat: that is sun_W_m2. */
  double daylight_mol_m2s;
} DewRoom;

/* What happens each day at the enclosure. Clock times in hours from midnight, local time. */
typedef struct
{
  double day_from_h;    /* what has a setting for day and one for night goes by that for day */
  double day_until_h;   /* from here to there; over midnight where it ends before it begins */
  double door_from_h;   /* the front stands open for watering from then on; what is wet is filled */
  double door_open_min; /* so long; 0: never */
  double price_kWh;     /* of a kilowatt hour, in the grower's money */
  char currency[DEW_NAME_SIZE]; /* that money: its sign or name; empty = not said */
  double water_mg_l;            /* minerals dissolved in the humidifiers' water; 0 = not known */
} DewRoutine;

/* What readings have told of this enclosure. How far each unknown is known: 0 as of any such
 * enclosure, 1 wholly; the width of what it may be shrinks by that share. */
typedef struct
{
  double evaporation_factor; /* of the evaporating area of pots and trays, against the model's */
  double leakage_known, fan_known, humidifier_known, cover_known, evaporation_known;
} DewLearned;

typedef struct
{
  guint id;
  char name[DEW_NAME_SIZE];
  GArray *things; /* DewThing, in drawing order */
} DewVariant;

/* Plants that one has or wants and that have no place yet. In the document,
 * not in a variant. */
typedef struct
{
  guint id; /* unique in the document, as the ids of things are */
  char name[DEW_NAME_SIZE];
  char species[DEW_NAME_SIZE]; /* as of a plant; one that nobody knows is kept */
  int count;                   /* of such plants, 1 or more */
  int state;                   /* DewPlantState */
  double pot_diameter_m;       /* 0 = mounted */
  double width_m, height_m;    /* of the crown; 0 = as the kind has it */
} DewWish;

/* What a kind of plant wants: the rows of the plant catalogue in this form, and
 * the grower's own kinds. Of a catalogue row, NAN where the table says nothing;
 * an own kind knows all. */
typedef struct
{
  char name[DEW_NAME_SIZE]; /* unique among the own kinds, never empty */
  char group[DEW_NAME_SIZE];
  double t_day_min_C, t_day_ideal_C, t_day_max_C;
  double t_night_min_C, t_night_ideal_C, t_night_max_C;
  double rh_min, rh_ideal, rh_max;   /* fraction */
  double speed_lo_m_s, speed_hi_m_s; /* of the air at its leaves */
  double ppfd_lo_mol_m2s, ppfd_hi_mol_m2s;
  double height_m, width_m; /* of the crown */
  double leaf_length_m;
  int crown; /* DewCrownWater */
  int leaf;  /* DewLeafKind */
} DewPlantKind;

typedef struct _DewChamber
{
  char name[DEW_NAME_SIZE];
  char note[256];
  double outer_m[3]; /* x, y, z outside */
  DewPanel panels[DEW_N_FACES];
  double leak_area_m2;  /* effective leakage area of the closed cover at 4 Pa */
  double leak_exponent; /* n of Q = c dp^n */
  DewRoom room;
  DewRoutine routine;
  DewLearned learned;
  int month;           /* 0..11, the month that is looked at */
  guint shown_variant; /* id */
  guint next_id;       /* for the next thing, variant or wish */
  GArray *variants;    /* DewVariant, at least one */
  GArray *wishes;      /* DewWish, in the grower's order */
  GArray *kinds;       /* DewPlantKind, the grower's own, in the order they were made */
  /* Not of the document: see dew_chamber_keep(). */
  gatomicrefcount owners;
  gboolean kept;
} DewChamber;

/* --- fields ------------------------------------------------------------ */

typedef enum
{
  DEW_FIELD_REAL,
  DEW_FIELD_CHOICE, /* int, one of `choices` */
  DEW_FIELD_FLAG,   /* gboolean */
  DEW_FIELD_TEXT,   /* char[size] */
  DEW_FIELD_LINK,   /* int, the id of an instrument or 0 */
  DEW_FIELD_COUNT   /* int, a whole number from `min` to `max`; one edits it like a number
                     * without decimals, with dew_field_get_int() and dew_field_set_int() */
} DewFieldType;

typedef enum
{
  DEW_QUANTITY_NONE,
  DEW_QUANTITY_LENGTH,      /* m */
  DEW_QUANTITY_ANGLE,       /* rad */
  DEW_QUANTITY_AREA,        /* m2 */
  DEW_QUANTITY_FRACTION,    /* 0..1 */
  DEW_QUANTITY_TEMPERATURE, /* degrees Celsius */
  DEW_QUANTITY_SPEED,       /* m/s */
  DEW_QUANTITY_AIR_FLOW,    /* m3/s */
  DEW_QUANTITY_WATER_RATE,  /* kg/s */
  DEW_QUANTITY_MASS,        /* kg */
  DEW_QUANTITY_PRESSURE,    /* Pa */
  DEW_QUANTITY_POWER,       /* W */
  DEW_QUANTITY_U_VALUE,     /* W/m2K */
  DEW_QUANTITY_DROPLET,     /* m, of the order of micrometres */
  DEW_QUANTITY_EFFICACY,    /* mol/J */
  DEW_QUANTITY_IRRADIANCE,  /* W/m2 */
  DEW_QUANTITY_ALTITUDE,    /* m */
  DEW_QUANTITY_LIGHT        /* mol/m2s, photons of 400-700 nm */
} DewQuantity;

typedef struct
{
  const char *key;   /* name in files, unit included: "free_delivery_m3_s" */
  const char *label; /* for people, in plain words, untranslated: "Free delivery"; show
                      * dew_field_label() */
  DewFieldType type;
  DewQuantity quantity;
  gsize offset;               /* into the struct the table is about */
  gsize size;                 /* of a text */
  double min, max, fallback;  /* of a real or count; fallback also of a choice or flag */
  const char *const *choices; /* NULL-terminated keys of a choice: "wire", "solid" */
} DewField;

/* Offsets of these are into DewThing, DewChamber (what is the enclosure's own),
 * DewPanel, DewRoom (without its months), DewMonth, DewWish and DewPlantKind. The
 * arrays end with a NULL key. The enclosure's begin with its outer sizes along x, y and
 * z, which JSON has as one list. */
#define DEW_N_OUTER_FIELDS 3
const DewField *dew_thing_fields (DewThingKind kind);
const DewField *dew_enclosure_fields (void);
const DewField *dew_panel_fields (void);
const DewField *dew_room_fields (void);
const DewField *dew_month_fields (void);
const DewField *dew_wish_fields (void);
const DewField *dew_plant_kind_fields (void);

/* The label in the user's language. */
const char *dew_field_label (const DewField *field);

const char *dew_thing_kind_key (DewThingKind kind);   /* "wet_pot": in files */
const char *dew_thing_kind_label (DewThingKind kind); /* "Wet pot", in the user's language */
gboolean dew_thing_kind_from_key (const char *key, DewThingKind *kind);
const char *dew_face_key (DewFace face); /* "left" */

const DewField *dew_field_find (const DewField *fields, const char *key);

double dew_field_get_real (const DewField *field, gconstpointer record);
void dew_field_set_real (const DewField *field, gpointer record, double value);
int dew_field_get_int (const DewField *field, gconstpointer record);
void dew_field_set_int (const DewField *field, gpointer record, int value);
const char *dew_field_get_text (const DewField *field, gconstpointer record);
/* Takes of `text` what a text of a document may hold, see dew_text_is_plain(). */
void dew_field_set_text (const DewField *field, gpointer record, const char *text);

/* Whether valid UTF-8 can stand in a list or a terminal and be read as it is: no control
 * characters, line breaks, marks that turn the direction of writing, code points that are no
 * characters. `lines`: line feeds and tabulators may be in it. */
gboolean dew_text_is_plain (const char *text, gboolean lines);
/* The same text made plain: line breaks and control characters become spaces, the rest goes,
 * bytes that are no UTF-8 become U+FFFD. Transfer full. */
char *dew_text_plain (const char *text, gboolean lines);

/* --- life -------------------------------------------------------------- */

/* A closed film enclosure of 0.7 x 0.5 x 1.6 m with one empty variant. */
DewChamber *dew_chamber_new (void);
DewChamber *dew_chamber_copy (const DewChamber *chamber);
/* One that is kept goes with its last owner. */
void dew_chamber_free (const DewChamber *chamber);
gboolean dew_chamber_equal (const DewChamber *a, const DewChamber *b);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewChamber, dew_chamber_free)

/* A document that is kept never changes again, so that several owners, in any threads,
 * may hold the same one. Each gives its share back with dew_chamber_free(). */
/* Keeps the document as it is now (transfer full): one that is kept already as it is,
 * else a copy. */
const DewChamber *dew_chamber_keep (const DewChamber *chamber);
/* Keeps this very one (transfer full): who had it to change may only read it now. */
const DewChamber *dew_chamber_seal (DewChamber *chamber);

/* Inner clear size: the outer one less the panels. out: [3], m. */
void dew_chamber_inner_m (const DewChamber *chamber, double out[3]);

/* What is lent by something const is const, and what can be changed lends what can be
 * changed: each function of this kind returns a const pointer, and a macro of its name
 * takes the const away again where its owner has none. */
#define DEW_LEND(Owner, owner, Lent, lent) \
  _Generic((owner), Owner * : (Lent *) (lent), const Owner * : (lent))

/* Lends the variant, or NULL; of the number 0 the shown one. The pointer holds until
 * variants change. */
const DewVariant *dew_chamber_variant (const DewChamber *chamber, guint variant_id);
const DewVariant *dew_chamber_shown (const DewChamber *chamber);
#define dew_chamber_variant(chamber, id) \
  DEW_LEND (DewChamber, chamber, DewVariant, (dew_chamber_variant) (chamber, id))
#define dew_chamber_shown(chamber) \
  DEW_LEND (DewChamber, chamber, DewVariant, (dew_chamber_shown) (chamber))

DewVariant *dew_chamber_add_variant (DewChamber *chamber, const char *name,
                                     const DewVariant *copy_of /* or NULL */);
gboolean dew_chamber_remove_variant (DewChamber *chamber, guint variant_id);

/* --- wishes and own kinds ---------------------------------------------- */

/* Sets every field to its fallback; the id of a wish is 0. */
void dew_wish_init (DewWish *wish);
void dew_plant_kind_init (DewPlantKind *kind);

/* Lend the wish or the own kind, or NULL. The pointers hold until wishes or
 * kinds are added or removed. */
const DewWish *dew_chamber_wish (const DewChamber *chamber, guint id);
const DewPlantKind *dew_chamber_kind (const DewChamber *chamber, const char *name);
#define dew_chamber_wish(chamber, id) \
  DEW_LEND (DewChamber, chamber, DewWish, (dew_chamber_wish) (chamber, id))
#define dew_chamber_kind(chamber, name) \
  DEW_LEND (DewChamber, chamber, DewPlantKind, (dew_chamber_kind) (chamber, name))

/* Adds a copy with a new id (wish->id is ignored) and lends it. */
DewWish *dew_chamber_add_wish (DewChamber *chamber, const DewWish *wish);
gboolean dew_chamber_remove_wish (DewChamber *chamber, guint id);

/* Adds a copy and lends it; NULL when the name is empty or taken by another own
 * kind. A name that the catalogue has too is fine: the own kind wins. */
DewPlantKind *dew_chamber_add_kind (DewChamber *chamber, const DewPlantKind *kind);
gboolean dew_chamber_remove_kind (DewChamber *chamber, const char *name);

/* --- things ------------------------------------------------------------ */

/* Lends the thing, or NULL. The pointer holds until things are added or removed. */
const DewThing *dew_variant_thing (const DewVariant *variant, guint id);
#define dew_variant_thing(variant, id) \
  DEW_LEND (DewVariant, variant, DewThing, (dew_variant_thing) (variant, id))
/* Adds a copy with a new id (thing->id is ignored) and returns that copy. A
 * thing without a name is given one ("Fan 2"). */
DewThing *dew_variant_add (DewChamber *chamber, DewVariant *variant, const DewThing *thing);
gboolean dew_variant_remove (DewVariant *variant, guint id);

/* A thing of that kind with every field at its fallback; id 0. */
void dew_thing_init (DewThing *thing, DewThingKind kind);

/* --- checks ------------------------------------------------------------ */

/* What can be wrong, and which members of a DewProblem beside its subject are set. */
typedef enum
{
  DEW_PROBLEM_RANGE,         /* row, value, min, max: not a number or out of range */
  DEW_PROBLEM_COUNT,         /* the same of a whole number */
  DEW_PROBLEM_CHOICE,        /* row, value: there is no such choice */
  DEW_PROBLEM_TEXT_DAMAGED,  /* of `field`: no end or no UTF-8 */
  DEW_PROBLEM_TEXT_CONTROLS, /* it holds what dew_text_is_plain() does not take */
  DEW_PROBLEM_NEXT_ID,       /* `value`: no free number is left, up to max */
  DEW_PROBLEM_BAND,          /* row, value lies above other_row, max */
  DEW_PROBLEM_SIDE,          /* inner size along axis `index`: value, min, max */
  DEW_PROBLEM_MONTH,         /* value: there is none of this number, January is 1 */
  DEW_PROBLEM_THING_KIND,    /* value: there is none of this number */

  DEW_PROBLEM_ID_OUTSIDE, /* value, max */
  DEW_PROBLEM_ID_TWICE,   /* value */
  DEW_PROBLEM_NO_VARIANT, /* value: number of the one that was asked for */
  DEW_PROBLEM_NO_SHOWN,   /* value: number of the variant to show */
  DEW_PROBLEM_VARIANTS,   /* value, max: how many there are */
  DEW_PROBLEM_THINGS,     /* value, max: how many a variant holds */
  DEW_PROBLEM_THINGS_ALL, /* value, max: how many all variants hold together */
  DEW_PROBLEM_WISHES,     /* value, max: wishes; min, other_max: own kinds */
  DEW_PROBLEM_NAMELESS,   /* an own kind */
  DEW_PROBLEM_NAME_TWICE, /* own kinds */
  DEW_PROBLEM_UNKNOWN,    /* name: a kind of plant that is in no list; other_name: one meant? */
  DEW_PROBLEM_TAKEN_AS,   /* name: a kind of plant; other_name: whose row it is taken for */

  DEW_PROBLEM_SHELF_LOW,         /* value: underside, min */
  DEW_PROBLEM_SHELF_HIGH,        /* value: top, max: roof */
  DEW_PROBLEM_SHELF_GAPS_ACROSS, /* left and right leave nothing of it */
  DEW_PROBLEM_SHELF_GAPS_DEEP,   /* front and back */
  DEW_PROBLEM_SHELVES_CROSS,     /* other; z_m: both undersides */
  DEW_PROBLEM_SHELVES_NEAR,      /* other, above it; value: clear, min; z_m */
  DEW_PROBLEM_HOLE_EMPTY,
  DEW_PROBLEM_HOLE_OUTSIDE,  /* `index`: face; min, max: how large that is across and up */
  DEW_PROBLEM_HOLES_CROSS,   /* other; `index`: face */
  DEW_PROBLEM_TOO_LARGE,     /* along axis `index`: value, max */
  DEW_PROBLEM_STICKS_OUT,    /* through face `index`, by value */
  DEW_PROBLEM_THROUGH_SHELF, /* other: the shelf */
  DEW_PROBLEM_POT_WIDE,      /* value; other: the shelf it stands on */
  DEW_PROBLEM_POT_OVER_EDGE, /* other: the shelf */
  DEW_PROBLEM_SENSOR_GONE,   /* of a humidistat */

  /* Doubts: see dew_chamber_doubts(). */
  DEW_PROBLEM_INSIDE_OTHER, /* other */
  DEW_PROBLEM_CROWN_HIGH    /* of a plant: value, max; other: the shelf above */
} DewProblemCode;

typedef enum
{
  DEW_ABOUT_ENCLOSURE,
  DEW_ABOUT_COVER, /* `index`: face */
  DEW_ABOUT_ROOM,
  DEW_ABOUT_MONTH, /* of the room; `index` */
  DEW_ABOUT_THING, /* thing_id, kind, name */
  DEW_ABOUT_VARIANT,
  DEW_ABOUT_WISH, /* thing_id, name */
  DEW_ABOUT_KIND
} DewProblemSubject;

/* One thing that is wrong: facts in SI, which say/problems.h puts in words. */
typedef struct
{
  DewProblemCode code;
  DewProblemSubject about;
  guint thing_id; /* 0: the enclosure or the room */
  guint other_id; /* the other thing, or 0 */
  DewThingKind kind, other_kind;
  char name[DEW_NAME_SIZE]; /* empty also where it is what is damaged */
  char other_name[DEW_NAME_SIZE];
  char field[48]; /* key, or empty */
  const DewField *row, *other_row;
  int index;
  double value, min, max, other_max;
  double z_m[2];
} DewProblem;

/* Values and ids of the whole document, every variant of it: FALSE with the first problem
 * in `first`, which may be NULL. A layout that does not fit together (a fan outside, a
 * humidistat without its instrument) passes: it is saved like any other, and only
 * dew_chamber_check() of geometry.h speaks of it. */
gboolean dew_chamber_is_valid (const DewChamber *chamber, DewProblem *first);

#define DEW_CHAMBER_ERROR (dew_chamber_error_quark ())
GQuark dew_chamber_error_quark (void);
typedef enum
{
  DEW_CHAMBER_ERROR_INVALID,
  DEW_CHAMBER_ERROR_REFUSED /* arrange.h: makes no sense */
} DewChamberError;

/* --- the demo ---------------------------------------------------------- */

/* An invented scenario: a hallway cabinet for highland pitcher plants and
 * filmy ferns. */
DewChamber *dew_chamber_demo (void);

G_END_DECLS
