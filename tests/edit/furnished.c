/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "furnished.h"

static const struct
{
  DewThingKind kind;
  const char *name;
  double x_m, y_m, z_m;
} places[] = {
  { DEW_THING_SHELF, "Lower shelf", 0, 0, 0.38 },
  { DEW_THING_SHELF, "Middle shelf", 0, 0, 0.74 },
  { DEW_THING_SHELF, "Upper shelf", 0, 0, 1.10 },
  { DEW_THING_OPENING, "Low flap", 0, 0, 0 },
  { DEW_THING_FAN, "Slow fan", 0.09, 0.34, 0.12 },
  { DEW_THING_LAMP, "Top lamp", 0.35, 0.25, 1.54 },
  { DEW_THING_INSTRUMENT, "Middle hygrometer", 0.60, 0.40, 0.86 },
  { DEW_THING_HUMIDIFIER, "Small mister", 0.58, 0.12, 0 },
  { DEW_THING_TRAY, "Moss tray", 0.30, 0.25, 0.388 },
  { DEW_THING_POT, "Clay pot 1", 0.12, 0.25, 0.748 },
  { DEW_THING_POT, "Clay pot 2", 0.27, 0.36, 0.748 },
  { DEW_THING_POT, "Clay pot 3", 0.60, 0.20, 1.108 },
  { DEW_THING_PLANT, "Fern", 0.40, 0.26, 0.43 },
  { DEW_THING_PLANT, "Pitcher plant, large", 0.20, 0.26, 1.20 },
  { DEW_THING_PLANT, "Sun pitcher", 0.45, 0.38, 1.20 },
};

static void
fit_thing (DewThing *thing)
{
  switch (thing->kind)
    {
    case DEW_THING_SHELF:
      thing->shelf.thickness_m = 0.008;
      thing->shelf.gap_front_m = thing->shelf.gap_back_m = 0.03;
      break;
    case DEW_THING_OPENING:
      thing->opening.face = DEW_FACE_FRONT;
      thing->opening.u0_m = 0.25;
      thing->opening.u1_m = 0.45;
      thing->opening.v0_m = 0.06;
      thing->opening.v1_m = 0.11;
      thing->opening.open_fraction = 0.5;
      break;
    case DEW_THING_FAN:
      thing->fan.diameter_m = 0.12;
      thing->fan.azimuth_rad = 0;
      thing->fan.elevation_rad = G_PI / 4;
      break;
    case DEW_THING_LAMP:
      thing->lamp.length_m = 0.6;
      thing->lamp.width_m = 0.08;
      thing->lamp.height_m = 0.03;
      break;
    case DEW_THING_HUMIDIFIER:
      thing->humidifier.width_m = thing->humidifier.depth_m = 0.14;
      thing->humidifier.height_m = 0.22;
      break;
    case DEW_THING_TRAY:
      thing->tray.width_m = 0.40;
      thing->tray.depth_m = 0.28;
      thing->tray.height_m = 0.04;
      break;
    case DEW_THING_POT:
      thing->pot.rim_diameter_m = 0.12;
      thing->pot.height_m = 0.11;
      break;
    default:
      break;
    }
}

DewChamber *
fixture_chamber_new (void)
{
  DewChamber *chamber = dew_chamber_new ();
  DewVariant *variant = dew_chamber_shown (chamber);

  chamber->outer_m[0] = 0.7;
  chamber->outer_m[1] = 0.5;
  chamber->outer_m[2] = 1.6;
  for (guint i = 0; i < G_N_ELEMENTS (places); i++)
    {
      static const char *const keys[3] = { "x_m", "y_m", "z_m" };
      const double at_m[3] = { places[i].x_m, places[i].y_m, places[i].z_m };
      DewThing thing;

      dew_thing_init (&thing, places[i].kind);
      g_strlcpy (thing.name, places[i].name, sizeof thing.name);
      for (int axis = 0; axis < 3; axis++)
        {
          const DewField *field = dew_field_find (dew_thing_fields (thing.kind), keys[axis]);

          if (field != NULL)
            dew_field_set_real (field, &thing, at_m[axis]);
        }
      fit_thing (&thing);
      dew_variant_add (chamber, variant, &thing);
    }
  return chamber;
}

DewThing *
fixture_thing (const DewVariant *variant, const char *name)
{
  for (guint i = 0; i < variant->things->len; i++)
    {
      DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (g_str_equal (thing->name, name))
        return thing;
    }
  g_error ("no thing called %s", name);
}
