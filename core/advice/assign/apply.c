/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/assign/assign-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* From an assignment back to the document. */

static gboolean
refuse (GError **error)
{
  g_set_error_literal (error, DEW_ASSIGN_ERROR, DEW_ASSIGN_ERROR_FORECAST,
                       _ ("The plants have changed since. Ask again."));
  return FALSE;
}

/* Every plant is still there, and no wish counts fewer. */
static gboolean
still_belongs (const DewAssignment *assignment, const DewChamber *chamber,
               const DewVariant *variant)
{
  for (int i = 0; i < assignment->n_plants; i++)
    {
      const DewAssignPlant *plant = &assignment->plants[i];

      if (plant->thing_id != 0)
        {
          const DewThing *thing = dew_variant_thing (variant, plant->thing_id);

          if (thing == NULL || thing->kind != DEW_THING_PLANT)
            return FALSE;
        }
      else
        {
          const DewWish *wish = dew_chamber_wish (chamber, plant->wish_id);

          if (wish == NULL || wish->count <= plant->number)
            return FALSE;
        }
    }
  return TRUE;
}

static void
stand_at (DewPlant *plant, const double at_m[3])
{
  plant->x_m = at_m[0];
  plant->y_m = at_m[1];
  plant->z_m = at_m[2];
}

/* Name and number, the number whole. */
static void
put_name (char name[DEW_NAME_SIZE], const char *text, const char *number)
{
  const char *end;

  g_strlcpy (name, text, DEW_NAME_SIZE - strlen (number));
  if (!g_utf8_validate (name, -1, &end))
    name[end - name] = '\0';
  g_strlcat (name, number, DEW_NAME_SIZE);
}

static void
plant_wish (const DewAssignment *assignment, const DewAssignPlant *placed, const DewWish *wish,
            DewChamber *chamber, DewVariant *variant)
{
  const DewFitPlant *fit = &assignment->groups[placed->group].plant;
  g_autofree char *number = NULL;
  DewThing thing;

  dew_thing_init (&thing, DEW_THING_PLANT);
  number = wish->count > 1 ? g_strdup_printf (" %d", placed->number + 1) : g_strdup ("");
  put_name (thing.name, wish->name[0] ? wish->name : wish->species, number);
  g_strlcpy (thing.plant.species, wish->species, sizeof thing.plant.species);
  thing.plant.state = wish->state;
  thing.plant.pot_diameter_m = wish->pot_diameter_m;
  thing.plant.width_m = thing.plant.depth_m = fit->width_m;
  thing.plant.height_m = fit->height_m;
  thing.plant.mass_kg = fit->mass_kg;
  thing.plant.leaf_area_m2 = dew_fit_leaf_area_m2 (fit->width_m);
  stand_at (&thing.plant, placed->at_m);
  dew_variant_add (chamber, variant, &thing);
}

/* A standing plant without a place is still the grower's: it waits on the list of wishes. */
static void
back_to_wishes (DewChamber *chamber, DewVariant *variant, guint thing_id)
{
  const DewThing *thing = dew_variant_thing (variant, thing_id);
  DewWish wish;

  dew_wish_init (&wish);
  g_strlcpy (wish.name, thing->name, sizeof wish.name);
  g_strlcpy (wish.species, thing->plant.species, sizeof wish.species);
  wish.count = 1;
  wish.state = thing->plant.state;
  wish.pot_diameter_m = thing->plant.pot_diameter_m;
  wish.width_m = thing->plant.width_m;
  wish.height_m = thing->plant.height_m;
  dew_chamber_add_wish (chamber, &wish);
  dew_variant_remove (variant, thing_id);
}

gboolean
dew_assign_apply (const DewAssignment *assignment, DewChamber *chamber, guint variant_id,
                  GError **error)
{
  g_autoptr (GHashTable) planted = g_hash_table_new (NULL, NULL); /* wish id -> how many */
  DewVariant *variant;
  GHashTableIter iter;
  gpointer id, n;

  g_return_val_if_fail (assignment != NULL && chamber != NULL, FALSE);

  variant = variant_id ? dew_chamber_variant (chamber, variant_id) : dew_chamber_shown (chamber);
  if (variant == NULL || !still_belongs (assignment, chamber, variant))
    return refuse (error);

  for (int i = 0; i < assignment->n_plants; i++)
    {
      const DewAssignPlant *plant = &assignment->plants[i];
      gpointer key = GUINT_TO_POINTER (plant->wish_id);

      if (plant->thing_id != 0 && plant->bay < 0 && plant->verdict != DEW_ASSIGN_KEPT)
        back_to_wishes (chamber, variant, plant->thing_id);
      else if (plant->thing_id != 0 && !plant->stays)
        stand_at (&dew_variant_thing (variant, plant->thing_id)->plant, plant->at_m);
      else if (plant->wish_id != 0 && plant->bay >= 0)
        {
          plant_wish (assignment, plant, dew_chamber_wish (chamber, plant->wish_id), chamber,
                      variant);
          g_hash_table_insert (planted, key,
                               GINT_TO_POINTER (GPOINTER_TO_INT (g_hash_table_lookup (planted, key))
                                                + 1));
        }
    }
  g_hash_table_iter_init (&iter, planted);
  while (g_hash_table_iter_next (&iter, &id, &n))
    {
      DewWish *wish = dew_chamber_wish (chamber, GPOINTER_TO_UINT (id));

      wish->count -= GPOINTER_TO_INT (n);
      if (wish->count < 1)
        dew_chamber_remove_wish (chamber, wish->id);
    }
  return TRUE;
}
