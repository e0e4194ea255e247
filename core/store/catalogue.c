/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/store.h"

#include "chamber/chamber-private.h"
#include "store/csv.h"

#include <math.h>
#include <string.h>

struct _DewCatalogue
{
  const char *name;
  GPtrArray *rows;     /* GStrv; row 0 is the header */
  GHashTable *columns; /* column name -> index */
  GHashTable *names;   /* cell of column "name" -> row, first one wins */
};

static const char *const catalogue_names[]
  = { "covers", "enclosures", "fans",    "humidifiers", "lamps", "plants", "pots",
      "rooms",  "shelves",    "sources", "thresholds",  "vents", NULL };

static GBytes *
resource_bytes (const char *file)
{
  g_autofree char *path = g_strconcat ("/dewtier/data/", file, NULL);
  g_autoptr (GError) error = NULL;
  GBytes *bytes = g_resources_lookup_data (path, G_RESOURCE_LOOKUP_FLAGS_NONE, &error);

  if (bytes == NULL)
    g_error ("%s", error->message); /* compiled in, so its lack is a fault of the build */
  return bytes;
}

static DewCatalogue *
catalogue_load (const char *name)
{
  g_autofree char *file = g_strconcat (name, ".csv", NULL);
  g_autoptr (GBytes) bytes = resource_bytes (file);
  g_autoptr (GError) error = NULL;
  DewCatalogue *catalogue = g_new0 (DewCatalogue, 1);
  gsize size;
  const char *text = g_bytes_get_data (bytes, &size);
  GStrv header;
  int name_column;

  catalogue->name = name;
  catalogue->rows = dew_csv_parse (text, (gssize) size, &error);
  if (catalogue->rows == NULL)
    g_error ("%s: %s", file, error->message);

  header = g_ptr_array_index (catalogue->rows, 0);
  catalogue->columns = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint i = 0; header[i] != NULL; i++)
    g_hash_table_insert (catalogue->columns, header[i], GUINT_TO_POINTER (i));

  catalogue->names = g_hash_table_new (g_str_hash, g_str_equal);
  if (!g_hash_table_contains (catalogue->columns, "name"))
    return catalogue;
  name_column = GPOINTER_TO_INT (g_hash_table_lookup (catalogue->columns, "name"));
  for (guint row = catalogue->rows->len - 1; row > 0; row--)
    {
      GStrv cells = g_ptr_array_index (catalogue->rows, row);

      g_hash_table_insert (catalogue->names, cells[name_column], GUINT_TO_POINTER (row - 1));
    }
  return catalogue;
}

/**
 * dew_catalogue:
 *
 * Read on first use and kept; any thread may ask.
 *
 * Returns: (transfer none) (nullable): NULL for a name that is not in
 *   dew_catalogue_names().
 */
const DewCatalogue *
dew_catalogue (const char *name)
{
  static GMutex lock;
  static DewCatalogue *loaded[G_N_ELEMENTS (catalogue_names)];
  const DewCatalogue *found = NULL;

  g_return_val_if_fail (name != NULL, NULL);

  g_mutex_lock (&lock);
  for (guint i = 0; catalogue_names[i] != NULL && found == NULL; i++)
    {
      if (strcmp (catalogue_names[i], name) != 0)
        continue;
      if (loaded[i] == NULL)
        loaded[i] = catalogue_load (catalogue_names[i]);
      found = loaded[i];
    }
  g_mutex_unlock (&lock);
  return found;
}

const char *const *
dew_catalogue_names (void)
{
  return catalogue_names;
}

const char *const *
dew_catalogue_columns (const DewCatalogue *catalogue)
{
  g_return_val_if_fail (catalogue != NULL, NULL);
  return g_ptr_array_index (catalogue->rows, 0);
}

guint
dew_catalogue_rows (const DewCatalogue *catalogue)
{
  g_return_val_if_fail (catalogue != NULL, 0);
  return catalogue->rows->len - 1;
}

/* Empty for a column that the catalogue does not have. */
const char *
dew_catalogue_text (const DewCatalogue *catalogue, guint row, const char *column)
{
  gpointer index;

  g_return_val_if_fail (catalogue != NULL && column != NULL, "");
  g_return_val_if_fail (row + 1 < catalogue->rows->len, "");

  if (!g_hash_table_lookup_extended (catalogue->columns, column, NULL, &index))
    return "";
  return ((GStrv) g_ptr_array_index (catalogue->rows, row + 1))[GPOINTER_TO_UINT (index)];
}

double
dew_catalogue_number (const DewCatalogue *catalogue, guint row, const char *column)
{
  const char *text = dew_catalogue_text (catalogue, row, column);
  char *end = NULL;
  double value = g_ascii_strtod (text, &end);

  return end != text && *end == '\0' && isfinite (value) ? value : NAN;
}

int
dew_catalogue_find (const DewCatalogue *catalogue, const char *name)
{
  gpointer row;

  g_return_val_if_fail (catalogue != NULL && name != NULL, -1);

  if (!g_hash_table_lookup_extended (catalogue->names, name, NULL, &row))
    return -1;
  return GPOINTER_TO_INT (row);
}

/* --- applying a row ---------------------------------------------------- */

/* Which column fills which field, and what turns its unit into that of the
 * field. Columns with words fill choices, flags (yes, no) and texts. */
typedef struct
{
  const char *catalogue;
  DewThingKind kind;
  const char *column;
  const char *field;
  double factor;
} Rule;

#define MM 1e-3
#define CM 1e-2
#define CM2 1e-4
#define UM 1e-6
#define UMOL 1e-6
#define M3_H (1.0 / 3600.0)
#define ML_H (1e-3 / 3600.0) /* of water, 1 kg to the litre */
#define PCT 1e-2

static const Rule rules[] = {
  { "shelves", DEW_THING_SHELF, "board", "board", 1 },
  { "shelves", DEW_THING_SHELF, "thickness_mm", "thickness_m", MM },
  { "shelves", DEW_THING_SHELF, "open_typ_pct", "open_ratio", PCT },
  { "shelves", DEW_THING_SHELF, "loss_coefficient", "loss_coefficient", 1 },
  { "shelves", DEW_THING_SHELF, "gap_front_mm", "gap_front_m", MM },
  { "shelves", DEW_THING_SHELF, "gap_back_mm", "gap_back_m", MM },
  { "shelves", DEW_THING_SHELF, "load_kg", "load_limit_kg", 1 },

  { "vents", DEW_THING_OPENING, "kind", "kind", 1 },
  { "vents", DEW_THING_OPENING, "free_typ_pct", "free_ratio", PCT },
  { "vents", DEW_THING_OPENING, "cd_typ", "discharge_coefficient", 1 },

  { "fans", DEW_THING_FAN, "diameter_mm", "diameter_m", MM },
  { "fans", DEW_THING_FAN, "depth_mm", "depth_m", MM },
  { "fans", DEW_THING_FAN, "flow_typ_m3_h", "free_delivery_m3_s", M3_H },
  { "fans", DEW_THING_FAN, "stall_Pa", "stall_pressure_Pa", 1 },
  { "fans", DEW_THING_FAN, "power_W", "power_W", 1 },
  { "fans", DEW_THING_FAN, "low_voltage", "low_voltage", 1 },

  { "humidifiers", DEW_THING_HUMIDIFIER, "technology", "technology", 1 },
  { "humidifiers", DEW_THING_HUMIDIFIER, "width_mm", "width_m", MM },
  { "humidifiers", DEW_THING_HUMIDIFIER, "depth_mm", "depth_m", MM },
  { "humidifiers", DEW_THING_HUMIDIFIER, "height_mm", "height_m", MM },
  { "humidifiers", DEW_THING_HUMIDIFIER, "output_typ_mL_h", "output_kg_s", ML_H },
  { "humidifiers", DEW_THING_HUMIDIFIER, "tank_L", "tank_kg", 1 },
  { "humidifiers", DEW_THING_HUMIDIFIER, "power_W", "power_W", 1 },
  { "humidifiers", DEW_THING_HUMIDIFIER, "droplet_typ_um", "droplet_m", UM },
  { "humidifiers", DEW_THING_HUMIDIFIER, "band_pct", "band_rh", PCT },
  { "humidifiers", DEW_THING_HUMIDIFIER, "low_voltage", "low_voltage", 1 },

  { "pots", DEW_THING_POT, "rim_mm", "rim_diameter_m", MM },
  { "pots", DEW_THING_POT, "height_mm", "height_m", MM },
  { "pots", DEW_THING_POT, "wetted_pct", "wetted_fraction", PCT },
  { "pots", DEW_THING_POT, "water_kg", "water_kg", 1 },
  { "pots", DEW_THING_POT, "mass_wet_kg", "mass_kg", 1 },

  { "pots", DEW_THING_TRAY, "width_mm", "width_m", MM },
  { "pots", DEW_THING_TRAY, "depth_mm", "depth_m", MM },
  { "pots", DEW_THING_TRAY, "height_mm", "height_m", MM },
  { "pots", DEW_THING_TRAY, "surface", "surface", 1 },
  { "pots", DEW_THING_TRAY, "water_kg", "water_kg", 1 },

  { "lamps", DEW_THING_LAMP, "power_W", "power_W", 1 },
  { "lamps", DEW_THING_LAMP, "efficacy_typ_umol_J", "efficacy_mol_J", UMOL },
  { "lamps", DEW_THING_LAMP, "length_mm", "length_m", MM },
  { "lamps", DEW_THING_LAMP, "width_mm", "width_m", MM },
  { "lamps", DEW_THING_LAMP, "height_mm", "height_m", MM },
  { "lamps", DEW_THING_LAMP, "low_voltage", "low_voltage", 1 },

  { "plants", DEW_THING_PLANT, "name", "species", 1 },
  { "plants", DEW_THING_PLANT, "spread_cm", "width_m", CM },
  { "plants", DEW_THING_PLANT, "spread_cm", "depth_m", CM },
  { "plants", DEW_THING_PLANT, "height_cm", "height_m", CM },
  { "plants", DEW_THING_PLANT, "leaf_area_cm2", "leaf_area_m2", CM2 },
  { "plants", DEW_THING_PLANT, "mass_kg", "mass_kg", 1 },
};

static const Rule panel_rules[] = {
  { "covers", 0, "name", "material", 1 },
  { "covers", 0, "thickness_mm", "thickness_m", MM },
  { "covers", 0, "u_value_W_m2K", "u_value_W_m2K", 1 },
  { "covers", 0, "light_pct", "light_transmission", PCT },
  { "covers", 0, "longwave_pct", "longwave_transmission", PCT },
};

static void
rule_apply (const Rule *rule, const DewCatalogue *catalogue, guint row, const DewField *fields,
            gpointer record)
{
  const DewField *field = dew_field_find (fields, rule->field);
  const char *text = dew_catalogue_text (catalogue, row, rule->column);
  double value;

  if (text[0] == '\0')
    return;

  switch (field->type)
    {
    case DEW_FIELD_TEXT:
      dew_field_set_text (field, record, text);
      break;
    case DEW_FIELD_FLAG:
      dew_field_set_int (field, record, strcmp (text, "yes") == 0);
      break;
    case DEW_FIELD_CHOICE:
      for (int i = 0; field->choices[i] != NULL; i++)
        if (strcmp (field->choices[i], text) == 0)
          dew_field_set_int (field, record, i);
      break;
    case DEW_FIELD_REAL:
      value = dew_catalogue_number (catalogue, row, rule->column);
      if (isfinite (value))
        dew_field_set_real (field, record, value * rule->factor);
      break;
    case DEW_FIELD_LINK:
    case DEW_FIELD_COUNT:
    default:
      g_return_if_reached ();
    }
}

/**
 * dew_catalogue_apply_thing:
 *
 * A row that is not about this kind of thing changes nothing.
 */
void
dew_catalogue_apply_thing (const DewCatalogue *catalogue, guint row, DewThing *thing)
{
  const char *applies_to;

  g_return_if_fail (catalogue != NULL && thing != NULL);
  g_return_if_fail (row < dew_catalogue_rows (catalogue));

  applies_to = dew_catalogue_text (catalogue, row, "applies_to");
  if (g_hash_table_contains (catalogue->columns, "applies_to")
      && strcmp (applies_to, dew_thing_kind_key (thing->kind)) != 0)
    return;

  for (guint i = 0; i < G_N_ELEMENTS (rules); i++)
    if (rules[i].kind == thing->kind && strcmp (rules[i].catalogue, catalogue->name) == 0)
      rule_apply (&rules[i], catalogue, row, dew_thing_fields (thing->kind), thing);

  /* Some coefficients were measured on the whole area of the mesh: its free
   * share is in them already. */
  if (thing->kind == DEW_THING_OPENING
      && strcmp (dew_catalogue_text (catalogue, row, "cd_on"), "whole") == 0)
    thing->opening.free_ratio = 1.0;
}

/* The slope stays: it is the enclosure's, not the material's. */
void
dew_catalogue_apply_panel (guint row, DewPanel *panel)
{
  const DewCatalogue *covers = dew_catalogue ("covers");

  g_return_if_fail (panel != NULL && row < dew_catalogue_rows (covers));

  for (guint i = 0; i < G_N_ELEMENTS (panel_rules); i++)
    rule_apply (&panel_rules[i], covers, row, dew_panel_fields (), panel);
}

static void
month_apply (const DewCatalogue *rooms, guint row, DewMonth *into)
{
  into->t_day_C = dew_catalogue_number (rooms, row, "t_day_C");
  into->t_night_C = dew_catalogue_number (rooms, row, "t_night_C");
  into->rh_day = dew_catalogue_number (rooms, row, "rh_day_pct") * PCT;
  into->rh_night = dew_catalogue_number (rooms, row, "rh_night_pct") * PCT;
}

/* 0 to 11; -1 for a row about all months. */
static int
month_of_row (const DewCatalogue *rooms, guint row)
{
  static const char *const names[]
    = { "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    if (strcmp (dew_catalogue_text (rooms, row, "month"), names[i]) == 0)
      return (int) i;
  return -1;
}

/**
 * dew_catalogue_apply_room:
 *
 * Sets the name and the months; a row about all months fills twelve. A pair
 * that is not in the catalogue changes nothing.
 */
void
dew_catalogue_apply_room (const char *room, const char *climate, DewRoom *into)
{
  const DewCatalogue *rooms = dew_catalogue ("rooms");

  g_return_if_fail (room != NULL && climate != NULL && into != NULL);

  for (guint row = 0; row < dew_catalogue_rows (rooms); row++)
    {
      int month;

      if (strcmp (dew_catalogue_text (rooms, row, "room"), room) != 0
          || strcmp (dew_catalogue_text (rooms, row, "climate"), climate) != 0)
        continue;
      dew_text_copy (into->name, sizeof into->name, room);
      month = month_of_row (rooms, row);
      for (int i = 0; i < 12; i++)
        if (month < 0 || month == i)
          month_apply (rooms, row, &into->months[i]);
    }
}
