/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/store.h"

#include "chamber/chamber-private.h"

#include <glib/gi18n.h>
#include <string.h>

/* The keys of the field are the words of the table. */
static int
crown_water (const char *text)
{
  const DewField *crown = dew_field_find (dew_plant_kind_fields (), "crown");

  for (int i = 0; crown->choices[i] != NULL; i++)
    if (strcmp (crown->choices[i], text) == 0)
      return i;
  return (int) crown->fallback;
}

static void
kind_from_row (const DewCatalogue *plants, guint row, DewPlantKind *out)
{
  static const struct
  {
    const char *field;
    const char *column;
    double factor;
  } columns[] = {
    { "t_day_min_C", "t_day_min_C", 1.0 },
    { "t_day_ideal_C", "t_day_ideal_C", 1.0 },
    { "t_day_max_C", "t_day_max_C", 1.0 },
    { "t_night_min_C", "t_night_min_C", 1.0 },
    { "t_night_ideal_C", "t_night_ideal_C", 1.0 },
    { "t_night_max_C", "t_night_max_C", 1.0 },
    { "rh_min", "rh_min_pct", 1e-2 },
    { "rh_ideal", "rh_ideal_pct", 1e-2 },
    { "rh_max", "rh_max_pct", 1e-2 },
    { "speed_lo_m_s", "speed_lo_m_s", 1.0 },
    { "speed_hi_m_s", "speed_hi_m_s", 1.0 },
    { "ppfd_lo_mol_m2s", "ppfd_lo_umol_m2s", 1e-6 },
    { "ppfd_hi_mol_m2s", "ppfd_hi_umol_m2s", 1e-6 },
    { "height_m", "height_cm", 1e-2 },
    { "width_m", "spread_cm", 1e-2 },
    { "leaf_length_m", "leaf_length_cm", 1e-2 },
  };
  const DewField *fields = dew_plant_kind_fields ();

  memset (out, 0, sizeof *out);
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    dew_field_set_real (dew_field_find (fields, columns[i].field), out,
                        columns[i].factor * dew_catalogue_number (plants, row, columns[i].column));
  dew_field_set_text (dew_field_find (fields, "name"), out,
                      dew_catalogue_text (plants, row, "name"));
  dew_field_set_text (dew_field_find (fields, "group"), out,
                      dew_catalogue_text (plants, row, "group"));
  out->crown = crown_water (dew_catalogue_text (plants, row, "wet_crown"));
}

/**
 * dew_catalogue_plant_kind:
 * @data: (nullable): the const DewChamber * whose own kinds come first
 *
 * Returns: FALSE, with @out as it was, for a species that nobody knows.
 */
gboolean
dew_catalogue_plant_kind (const char *species, DewPlantKind *out, gpointer data)
{
  const DewChamber *chamber = data;
  const DewCatalogue *plants = dew_catalogue ("plants");
  const DewPlantKind *own;
  int row;

  g_return_val_if_fail (species != NULL && out != NULL, FALSE);

  own = chamber != NULL ? dew_chamber_kind (chamber, species) : NULL;
  if (own != NULL)
    {
      *out = *own;
      return TRUE;
    }
  row = dew_catalogue_find (plants, species);
  if (row < 0)
    return FALSE;
  kind_from_row (plants, (guint) row, out);
  return TRUE;
}

static void
check_species (const DewChamber *chamber, GHashTable *seen, GArray *problems, guint id,
               const char *species)
{
  DewProblem problem = { .thing_id = id, .field = "species" };
  g_autofree char *message = NULL;
  DewPlantKind kind;

  if (species[0] == '\0' || !g_hash_table_add (seen, g_strdup (species))
      || dew_catalogue_plant_kind (species, &kind, (gpointer) chamber))
    return;
  message = g_strdup_printf (_ ("Nothing is known of the kind of plant \"%s\"; choose one of the "
                                "list or describe it as a kind of your own"),
                             species);
  dew_text_copy (problem.message, sizeof problem.message, message);
  g_array_append_val (problems, problem);
}

GArray *
dew_catalogue_check_species (const DewChamber *chamber)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  GArray *problems = g_array_new (FALSE, TRUE, sizeof (DewProblem));

  g_return_val_if_fail (chamber != NULL, problems);

  for (guint i = 0; i < chamber->variants->len; i++)
    {
      const GArray *things = g_array_index (chamber->variants, DewVariant, i).things;

      for (guint k = 0; k < things->len; k++)
        {
          const DewThing *thing = &g_array_index (things, DewThing, k);

          if (thing->kind == DEW_THING_PLANT)
            check_species (chamber, seen, problems, thing->id, thing->plant.species);
        }
    }
  for (guint i = 0; i < chamber->wishes->len; i++)
    {
      const DewWish *wish = &g_array_index (chamber->wishes, DewWish, i);

      check_species (chamber, seen, problems, wish->id, wish->species);
    }
  return problems;
}

gboolean
dew_catalogue_plant_wish (const char *species, DewPlantWish *out, gpointer data)
{
  DewPlantKind kind;

  if (!dew_catalogue_plant_kind (species, &kind, data))
    return FALSE;
  out->t_day_min_C = kind.t_day_min_C;
  out->t_day_max_C = kind.t_day_max_C;
  out->t_night_min_C = kind.t_night_min_C;
  out->t_night_max_C = kind.t_night_max_C;
  out->rh_min = kind.rh_min;
  out->rh_max = kind.rh_max;
  out->speed_lo_m_s = kind.speed_lo_m_s;
  out->speed_hi_m_s = kind.speed_hi_m_s;
  out->ppfd_lo_mol_m2s = kind.ppfd_lo_mol_m2s;
  out->ppfd_hi_mol_m2s = kind.ppfd_hi_mol_m2s;
  out->crown = kind.crown;
  return TRUE;
}
