/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catalogue/catalogue-private.h"

#include "chamber/chamber-private.h"

#include <string.h>

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
  const DewPlantKind *own;
  int row;

  g_return_val_if_fail (species != NULL && out != NULL, FALSE);

  own = chamber != NULL ? dew_chamber_kind (chamber, species) : NULL;
  if (own != NULL)
    {
      *out = *own;
      return TRUE;
    }
  row = dew_catalogue_plant_row (species);
  if (row < 0)
    return FALSE;
  dew_catalogue_apply_plant_kind ((guint) row, out);
  return TRUE;
}

static void
check_species (const DewChamber *chamber, GHashTable *seen, GArray *problems, guint id,
               const char *species)
{
  const DewCatalogue *plants = dew_catalogue ("plants");
  DewProblem problem
    = { .code = DEW_PROBLEM_UNKNOWN, .about = DEW_ABOUT_KIND, .thing_id = id, .field = "species" };
  int row;

  if (species[0] == '\0' || !g_hash_table_add (seen, g_strdup (species))
      || dew_chamber_kind (chamber, species) != NULL || dew_catalogue_find (plants, species) >= 0)
    return;
  row = dew_catalogue_plant_row (species);
  g_strlcpy (problem.name, species, sizeof problem.name);
  if (row >= 0)
    {
      problem.code = DEW_PROBLEM_TAKEN_AS;
      dew_text_copy (problem.other_name, sizeof problem.other_name,
                     dew_catalogue_text (plants, (guint) row, "name"));
    }
  else
    {
      g_autoptr (GArray) found = dew_catalogue_search_plants (chamber, species);

      if (found->len > 0)
        dew_text_copy (problem.other_name, sizeof problem.other_name,
                       g_array_index (found, DewPlantMatch, 0).name);
    }
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

/* --- kinds of leaf ----------------------------------------------------- */

/* The first that is in the group, else in the name, decides (common practice, no
 * source). */
static const struct
{
  const char *word;
  DewLeafKind leaf;
} likely[] = {
  { "filmy fern", DEW_LEAF_FILMY },       { "moss", DEW_LEAF_FILMY },
  { "liverwort", DEW_LEAF_FILMY },        { "fern", DEW_LEAF_SHADE_FERN },
  { "slipper", DEW_LEAF_SLIPPER_ORCHID }, { "orchid", DEW_LEAF_THIN_ORCHID },
  { "succulent", DEW_LEAF_CAM_ORCHID },   { "cactus", DEW_LEAF_CAM_ORCHID },
};

static gboolean
likely_leaf (const char *text, DewLeafKind *leaf)
{
  g_autofree char *small = g_utf8_strdown (text, -1);

  for (guint i = 0; i < G_N_ELEMENTS (likely); i++)
    if (strstr (small, likely[i].word) != NULL)
      {
        *leaf = likely[i].leaf;
        return TRUE;
      }
  return FALSE;
}

static DewLeafKind
leaf_of_row (guint row)
{
  DewPlantKind kind;

  dew_catalogue_apply_plant_kind (row, &kind);
  return (DewLeafKind) kind.leaf;
}

/* Whether `name` holds one of the genera that a row names ("Leptotes and Isabelia"). */
static gboolean
shares_genus (const char *row_name, const char *name)
{
  g_auto (GStrv) words = g_strsplit_set (row_name, " (),.", -1);

  for (guint i = 0; words[i] != NULL; i++)
    if (strlen (words[i]) > 3 && g_ascii_isupper (words[i][0]) && strstr (name, words[i]) != NULL)
      return TRUE;
  return FALSE;
}

/**
 * dew_catalogue_leaf_guess:
 * @name: of a kind of plant that is not in the catalogue
 * @group: as the catalogue names groups, or in the grower's own words
 */
DewLeafKind
dew_catalogue_leaf_guess (const char *name, const char *group)
{
  const DewCatalogue *plants = dew_catalogue ("plants");
  DewLeafKind leaf;

  g_return_val_if_fail (name != NULL && group != NULL, DEW_LEAF_HERB);

  for (guint row = 0; row < dew_catalogue_rows (plants); row++)
    if (shares_genus (dew_catalogue_text (plants, row, "name"), name))
      return leaf_of_row (row);
  return likely_leaf (group, &leaf) || likely_leaf (name, &leaf) ? leaf : DEW_LEAF_HERB;
}

DewLeafKind
dew_catalogue_leaf (const DewChamber *chamber, const char *species)
{
  DewPlantKind kind;

  if (dew_catalogue_plant_kind (species, &kind, (gpointer) chamber))
    return (DewLeafKind) kind.leaf;
  return dew_catalogue_leaf_guess (species, "");
}
