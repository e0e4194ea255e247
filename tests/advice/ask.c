/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ask.h"

#include <math.h>
#include <string.h>

DewChamber *
enclosure_read (const char *name)
{
  g_autofree char *path = g_build_filename (DEW_TESTS_DIR, "advice", "enclosures", name, NULL);
  g_autoptr (GError) error = NULL;
  DewChamber *chamber = dew_store_load (path, &error);

  g_assert_no_error (error);
  return chamber;
}

gboolean
kind_invented (const char *species, DewPlantKind *out, gpointer data)
{
  static const struct
  {
    const char *species;
    double rh_min, rh_max;
  } kinds[] = { { "Bog", 0.90, 1.00 }, { "Steppe", 0.20, 0.50 }, { "Wood", 0.60, 0.95 } };

  for (guint k = 0; k < G_N_ELEMENTS (kinds); k++)
    {
      if (strcmp (kinds[k].species, species) != 0)
        continue;
      dew_plant_kind_init (out);
      g_strlcpy (out->name, species, sizeof out->name);
      out->rh_min = kinds[k].rh_min;
      out->rh_ideal = 0.5 * (kinds[k].rh_min + kinds[k].rh_max);
      out->rh_max = kinds[k].rh_max;
      out->t_day_min_C = out->t_night_min_C = 5.0;
      out->t_day_max_C = out->t_night_max_C = 30.0;
      out->speed_lo_m_s = 0.1;
      out->speed_hi_m_s = 0.6;
      out->crown = DEW_CROWN_BRIEF;
      return TRUE;
    }
  return FALSE;
}

DewThing *
add_plant (DewChamber *chamber, const char *species, double x_m, double y_m, double z_m)
{
  DewThing plant;

  dew_thing_init (&plant, DEW_THING_PLANT);
  g_strlcpy (plant.plant.species, species, sizeof plant.plant.species);
  plant.plant.x_m = x_m;
  plant.plant.y_m = y_m;
  plant.plant.z_m = z_m;
  plant.plant.width_m = plant.plant.depth_m = plant.plant.height_m = 0.12;
  return dew_variant_add (chamber, dew_chamber_shown (chamber), &plant);
}

static void
exchange (double *a, double *b)
{
  double keep = *a;

  *a = *b;
  *b = keep;
}

static void
mirror_thing (DewThing *thing, double width_m)
{
  const DewField *x = dew_field_find (dew_thing_fields (thing->kind), "x_m");
  const DewField *turned = dew_field_find (dew_thing_fields (thing->kind), "azimuth_rad");
  int face;

  if (x != NULL)
    dew_field_set_real (x, thing, width_m - dew_field_get_real (x, thing));
  if (turned != NULL)
    dew_field_set_real (turned, thing, G_PI - dew_field_get_real (turned, thing));
  if (thing->kind == DEW_THING_SHELF)
    exchange (&thing->shelf.gap_left_m, &thing->shelf.gap_right_m);
  if (thing->kind == DEW_THING_FAN && thing->fan.face / 2 == 0)
    thing->fan.face = 1 - thing->fan.face;
  if (thing->kind != DEW_THING_OPENING)
    return;
  face = thing->opening.face;
  if (face / 2 == 0)
    thing->opening.face = 1 - face;
  else
    {
      thing->opening.u0_m = width_m - thing->opening.u0_m;
      thing->opening.u1_m = width_m - thing->opening.u1_m;
      exchange (&thing->opening.u0_m, &thing->opening.u1_m);
    }
}

void
mirror_enclosure (DewChamber *chamber)
{
  double inner[3];
  DewPanel keep = chamber->panels[DEW_FACE_LEFT];

  dew_chamber_inner_m (chamber, inner);
  chamber->panels[DEW_FACE_LEFT] = chamber->panels[DEW_FACE_RIGHT];
  chamber->panels[DEW_FACE_RIGHT] = keep;
  if (chamber->room.sun_face / 2 == 0)
    chamber->room.sun_face = 1 - chamber->room.sun_face;
  for (guint v = 0; v < chamber->variants->len; v++)
    {
      GArray *things = g_array_index (chamber->variants, DewVariant, v).things;

      for (guint t = 0; t < things->len; t++)
        mirror_thing (&g_array_index (things, DewThing, t), inner[0]);
    }
}

DewThing *
first_fan (DewChamber *chamber)
{
  GArray *things = dew_chamber_shown (chamber)->things;

  for (guint t = 0; t < things->len; t++)
    if (g_array_index (things, DewThing, t).kind == DEW_THING_FAN)
      return &g_array_index (things, DewThing, t);
  return NULL;
}
