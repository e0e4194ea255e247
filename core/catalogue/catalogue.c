/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catalogue/catalogue-private.h"

#include "chamber/chamber-private.h"
#include "moist/constants.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/**
 * dew_catalogue:
 *
 * Returns: (transfer none) (nullable): NULL for a name that is not in
 *   dew_catalogue_names().
 */
const DewCatalogue *
dew_catalogue (const char *name)
{
  g_return_val_if_fail (name != NULL, NULL);

  for (guint i = 0; dew_catalogue_table_names[i] != NULL; i++)
    if (strcmp (dew_catalogue_table_names[i], name) == 0)
      return &dew_catalogue_tables[i];
  return NULL;
}

const char *const *
dew_catalogue_names (void)
{
  return dew_catalogue_table_names;
}

const char *const *
dew_catalogue_columns (const DewCatalogue *catalogue)
{
  g_return_val_if_fail (catalogue != NULL, NULL);
  return catalogue->columns;
}

guint
dew_catalogue_rows (const DewCatalogue *catalogue)
{
  g_return_val_if_fail (catalogue != NULL, 0);
  return catalogue->n_rows;
}

/* -1 for a column that the catalogue does not have. */
static int
column_of (const DewCatalogue *catalogue, const char *column)
{
  for (guint i = 0; i < catalogue->n_columns; i++)
    if (strcmp (catalogue->columns[i], column) == 0)
      return (int) i;
  return -1;
}

/* Empty for a column that the catalogue does not have. */
const char *
dew_catalogue_text (const DewCatalogue *catalogue, guint row, const char *column)
{
  int at;

  g_return_val_if_fail (catalogue != NULL && column != NULL, "");
  g_return_val_if_fail (row < catalogue->n_rows, "");

  at = column_of (catalogue, column);
  return at < 0 ? "" : catalogue->cells[row * catalogue->n_columns + (guint) at];
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
  int at;

  g_return_val_if_fail (catalogue != NULL && name != NULL, -1);

  at = column_of (catalogue, "name");
  for (guint row = 0; at >= 0 && row < catalogue->n_rows; row++)
    if (strcmp (catalogue->cells[row * catalogue->n_columns + (guint) at], name) == 0)
      return (int) row;
  return -1;
}

/**
 * dew_catalogue_word:
 * @name: a name of an enclosure, a cover, a room or a climate, or a group of plants,
 *   as it stands in a catalogue; or anything else
 *
 * Files and look-ups keep the English name, only what is shown goes through here.
 *
 * Returns: the name in the user's language; @name itself where it is none of the
 *   catalogue's. Lent, as long as @name.
 */
const char *
dew_catalogue_word (const char *name)
{
  return g_dpgettext2 (NULL, "catalogue", name);
}

/* --- applying a row ---------------------------------------------------- */

/* What a row can fill besides things, whose kinds come first. */
enum
{
  ENCLOSURE = DEW_N_THING_KINDS,
  PANEL,
  MONTH,
  PLANT_KIND
};

/* Which column fills which field of a record, and what turns its unit into that of the
 * field. Columns with words fill choices, flags (yes, no) and texts. */
typedef struct
{
  const char *catalogue;
  int record; /* DewThingKind, or one of those above */
  const char *column;
  const char *field;
  double factor;
} Rule;

#define MM 1e-3
#define CM 1e-2
#define CM2 1e-4
#define UM 1e-6
#define UMOL 1e-6
#define M3_H (1.0 / DEW_S_PER_H)
#define ML_H (1e-3 / DEW_S_PER_H) /* of water, 1 kg to the litre */
#define PCT 1e-2

/* clang-format off */
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
  { "fans", DEW_THING_FAN, "noise_dBA", "noise_dBA", 1 },

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

  { "plants", PLANT_KIND, "name", "name", 1 },
  { "plants", PLANT_KIND, "group", "group", 1 },
  { "plants", PLANT_KIND, "t_day_min_C", "t_day_min_C", 1 },
  { "plants", PLANT_KIND, "t_day_ideal_C", "t_day_ideal_C", 1 },
  { "plants", PLANT_KIND, "t_day_max_C", "t_day_max_C", 1 },
  { "plants", PLANT_KIND, "t_night_min_C", "t_night_min_C", 1 },
  { "plants", PLANT_KIND, "t_night_ideal_C", "t_night_ideal_C", 1 },
  { "plants", PLANT_KIND, "t_night_max_C", "t_night_max_C", 1 },
  { "plants", PLANT_KIND, "rh_min_pct", "rh_min", PCT },
  { "plants", PLANT_KIND, "rh_ideal_pct", "rh_ideal", PCT },
  { "plants", PLANT_KIND, "rh_max_pct", "rh_max", PCT },
  { "plants", PLANT_KIND, "speed_lo_m_s", "speed_lo_m_s", 1 },
  { "plants", PLANT_KIND, "speed_hi_m_s", "speed_hi_m_s", 1 },
  { "plants", PLANT_KIND, "ppfd_lo_umol_m2s", "ppfd_lo_mol_m2s", UMOL },
  { "plants", PLANT_KIND, "ppfd_hi_umol_m2s", "ppfd_hi_mol_m2s", UMOL },
  { "plants", PLANT_KIND, "height_cm", "height_m", CM },
  { "plants", PLANT_KIND, "spread_cm", "width_m", CM },
  { "plants", PLANT_KIND, "leaf_length_cm", "leaf_length_m", CM },
  { "plants", PLANT_KIND, "wet_crown", "crown", 1 },
  { "plants", PLANT_KIND, "leaf", "leaf", 1 },

  { "covers", PANEL, "name", "material", 1 },
  { "covers", PANEL, "thickness_mm", "thickness_m", MM },
  { "covers", PANEL, "u_value_W_m2K", "u_value_W_m2K", 1 },
  { "covers", PANEL, "light_pct", "light_transmission", PCT },
  { "covers", PANEL, "longwave_pct", "longwave_transmission", PCT },
  { "covers", ENCLOSURE, "leak_typ_cm2", "leak_area_m2", CM2 },

  { "enclosures", ENCLOSURE, "name", "name", 1 },
  { "enclosures", ENCLOSURE, "width_cm", "outer_x_m", CM },
  { "enclosures", ENCLOSURE, "depth_cm", "outer_y_m", CM },
  { "enclosures", ENCLOSURE, "height_cm", "outer_z_m", CM },
  { "enclosures", ENCLOSURE, "leak_cm2", "leak_area_m2", CM2 },

  { "rooms", MONTH, "t_day_C", "t_day_C", 1 },
  { "rooms", MONTH, "t_night_C", "t_night_C", 1 },
  { "rooms", MONTH, "rh_day_pct", "rh_day", PCT },
  { "rooms", MONTH, "rh_night_pct", "rh_night", PCT },
};
/* clang-format on */

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
      dew_field_choose (field, record, text);
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

/* Cells that are empty leave their field as it is. */
static void
apply_rules (const DewCatalogue *catalogue, guint row, int record_kind, const DewField *fields,
             gpointer record)
{
  g_return_if_fail (catalogue != NULL && record != NULL && row < catalogue->n_rows);

  for (guint i = 0; i < G_N_ELEMENTS (rules); i++)
    if (rules[i].record == record_kind && strcmp (rules[i].catalogue, catalogue->name) == 0)
      rule_apply (&rules[i], catalogue, row, fields, record);
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

  applies_to = dew_catalogue_text (catalogue, row, "applies_to");
  if (applies_to[0] != '\0' && strcmp (applies_to, dew_thing_kind_key (thing->kind)) != 0)
    return;
  apply_rules (catalogue, row, (int) thing->kind, dew_thing_fields (thing->kind), thing);

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
  apply_rules (dew_catalogue ("covers"), row, PANEL, dew_panel_fields (), panel);
}

void
dew_catalogue_apply_enclosure (const DewCatalogue *catalogue, guint row, DewChamber *chamber)
{
  apply_rules (catalogue, row, ENCLOSURE, dew_enclosure_fields (), chamber);
}

void
dew_catalogue_apply_plant_kind (guint row, DewPlantKind *kind)
{
  dew_plant_kind_init (kind);
  for (const DewField *field = dew_plant_kind_fields (); field->key != NULL; field++)
    if (field->type == DEW_FIELD_REAL)
      dew_field_set_real (field, kind, NAN);
  apply_rules (dew_catalogue ("plants"), row, PLANT_KIND, dew_plant_kind_fields (), kind);
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
          apply_rules (rooms, row, MONTH, dew_month_fields (), &into->months[i]);
    }
}
