/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "published/plain-box.h"

const DewAir test_formula_air = {
  .density_kg_m3 = 1.2,
  .specific_heat_J_kgK = 1006.0,
  .viscosity_m2_s = 1.5e-5,
  .expansion_1_K = 1.0 / 293.15,
  .gravity_m_s2 = 9.81,
  .latent_heat_J_kg = 2.45e6,
  .pressure_Pa = 101325.0,
};

DewChamber *
test_plain_chamber (double x_m, double y_m, double z_m)
{
  DewChamber *chamber = dew_chamber_new ();

  chamber->outer_m[0] = x_m;
  chamber->outer_m[1] = y_m;
  chamber->outer_m[2] = z_m;
  chamber->leak_area_m2 = 0.0;
  for (int face = 0; face < DEW_N_FACES; face++)
    {
      chamber->panels[face].thickness_m = 0.0;
      chamber->panels[face].u_value_W_m2K = 0.0;
      chamber->panels[face].longwave_transmission = 0.0;
    }
  return chamber;
}

void
test_set_room (DewChamber *chamber, double t_C, double rh)
{
  for (int month = 0; month < 12; month++)
    {
      chamber->room.months[month].t_day_C = chamber->room.months[month].t_night_C = t_C;
      chamber->room.months[month].rh_day = chamber->room.months[month].rh_night = rh;
    }
}

static guint
add (DewChamber *chamber, const DewThing *thing)
{
  return dew_variant_add (chamber, dew_chamber_shown (chamber), thing)->id;
}

static void
hole (DewThing *thing, DewFace face, double u0_m, double u1_m, double v0_m, double v1_m)
{
  dew_thing_init (thing, DEW_THING_OPENING);
  thing->opening.face = face;
  thing->opening.kind = DEW_OPENING_HOLE;
  thing->opening.u0_m = u0_m;
  thing->opening.u1_m = u1_m;
  thing->opening.v0_m = v0_m;
  thing->opening.v1_m = v1_m;
  thing->opening.free_ratio = 1.0;
  thing->opening.open_fraction = 1.0;
}

guint
test_add_hole (DewChamber *chamber, DewFace face, double u0_m, double u1_m, double v0_m,
               double v1_m, double discharge_coefficient)
{
  DewThing thing;

  hole (&thing, face, u0_m, u1_m, v0_m, v1_m);
  thing.opening.discharge_coefficient = discharge_coefficient;
  return add (chamber, &thing);
}

guint
test_add_duct (DewChamber *chamber, DewFace face, double u0_m, double u1_m, double v0_m,
               double v1_m, double in_m3_s)
{
  DewThing thing;

  hole (&thing, face, u0_m, u1_m, v0_m, v1_m);
  thing.opening.kind = DEW_OPENING_DUCT;
  thing.opening.duct_flow_m3_s = in_m3_s;
  return add (chamber, &thing);
}

guint
test_add_source (DewChamber *chamber, const double at_m[3], double side_m, double heat_W,
                 double vapour_kg_s)
{
  DewThing thing;

  dew_thing_init (&thing, DEW_THING_SOURCE);
  thing.source.x_m = at_m[0];
  thing.source.y_m = at_m[1];
  thing.source.z_m = at_m[2];
  thing.source.width_m = thing.source.depth_m = thing.source.height_m = side_m;
  thing.source.heat_W = heat_W;
  thing.source.vapour_kg_s = vapour_kg_s;
  thing.source.latent_from_air = FALSE;
  return add (chamber, &thing);
}

guint
test_add_fan (DewChamber *chamber, const double at_m[3], double azimuth_rad, double elevation_rad,
              double diameter_m, double free_delivery_m3_s)
{
  DewThing thing;

  dew_thing_init (&thing, DEW_THING_FAN);
  thing.fan.x_m = at_m[0];
  thing.fan.y_m = at_m[1];
  thing.fan.z_m = at_m[2];
  thing.fan.azimuth_rad = azimuth_rad;
  thing.fan.elevation_rad = elevation_rad;
  thing.fan.diameter_m = diameter_m;
  thing.fan.free_delivery_m3_s = free_delivery_m3_s;
  thing.fan.power_W = 0.0;
  thing.fan.mount = DEW_FAN_FREE;
  thing.fan.speed_day = thing.fan.speed_night = 1.0;
  return add (chamber, &thing);
}
