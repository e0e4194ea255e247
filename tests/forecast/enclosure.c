/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "enclosure.h"

DewChamber *
film_enclosure (double x_m, double y_m, double z_m, double room_t_C, double room_rh)
{
  DewChamber *chamber = dew_chamber_new ();
  const double clear_m[3] = { x_m, y_m, z_m };

  for (int axis = 0; axis < 3; axis++)
    chamber->outer_m[axis] = clear_m[axis] + chamber->panels[2 * axis].thickness_m
                             + chamber->panels[2 * axis + 1].thickness_m;
  for (int month = 0; month < 12; month++)
    {
      chamber->room.months[month].t_day_C = chamber->room.months[month].t_night_C = room_t_C;
      chamber->room.months[month].rh_day = chamber->room.months[month].rh_night = room_rh;
    }
  chamber->room.sun_W_m2 = 0.0;
  return chamber;
}

DewThing *
add_thing (DewChamber *chamber, DewThingKind kind, double x_m, double y_m, double z_m)
{
  static const char *const keys[3] = { "x_m", "y_m", "z_m" };
  const double place_m[3] = { x_m, y_m, z_m };
  DewThing thing;

  dew_thing_init (&thing, kind);
  for (int axis = 0; axis < 3; axis++)
    {
      const DewField *field = dew_field_find (dew_thing_fields (kind), keys[axis]);

      if (field != NULL)
        dew_field_set_real (field, &thing, place_m[axis]);
    }
  return dew_variant_add (chamber, dew_chamber_shown (chamber), &thing);
}

DewThing *
add_shelf (DewChamber *chamber, double z_m, DewShelfBoard board, double open_ratio)
{
  DewThing *thing = add_thing (chamber, DEW_THING_SHELF, 0.0, 0.0, z_m);

  thing->shelf.board = board;
  thing->shelf.open_ratio = open_ratio;
  return thing;
}

DewThing *
add_hole (DewChamber *chamber, DewFace face, double u0_m, double u1_m, double v0_m, double v1_m)
{
  DewThing *thing = add_thing (chamber, DEW_THING_OPENING, 0.0, 0.0, 0.0);

  thing->opening.face = face;
  thing->opening.kind = DEW_OPENING_HOLE;
  thing->opening.u0_m = u0_m;
  thing->opening.u1_m = u1_m;
  thing->opening.v0_m = v0_m;
  thing->opening.v1_m = v1_m;
  thing->opening.free_ratio = 1.0;
  thing->opening.discharge_coefficient = 0.61;
  return thing;
}

DewThing *
add_pot (DewChamber *chamber, double x_m, double y_m, double z_m, double rim_m)
{
  DewThing *thing = add_thing (chamber, DEW_THING_POT, x_m, y_m, z_m);

  thing->pot.rim_diameter_m = rim_m;
  thing->pot.height_m = 0.85 * rim_m;
  return thing;
}

DewThing *
thing_of (DewChamber *chamber, guint id)
{
  return dew_variant_thing (dew_chamber_shown (chamber), id);
}

static DewForecast *
forecast_of (const DewChamber *chamber, DewGrid grid, gboolean night)
{
  g_autoptr (GError) error = NULL;
  DewForecastOptions options;
  DewForecast *forecast;

  dew_forecast_options_init (&options);
  options.grid = grid;
  options.night = night;
  forecast = dew_forecast_new (chamber, 0, &options, NULL, &error);
  g_assert_no_error (error);
  return forecast;
}

DewForecast *
forecast_by_day (const DewChamber *chamber, DewGrid grid)
{
  return forecast_of (chamber, grid, FALSE);
}

DewForecast *
forecast_by_night (const DewChamber *chamber, DewGrid grid)
{
  return forecast_of (chamber, grid, TRUE);
}

const DewDevice *
device_of (const DewForecast *forecast, guint thing_id)
{
  for (int i = 0; i < forecast->n_devices; i++)
    if (forecast->devices[i].thing_id == thing_id)
      return &forecast->devices[i];
  g_assert_not_reached ();
}

void
make_adiabatic (DewChamber *chamber, double leak_area_m2)
{
  for (int panel = 0; panel < DEW_N_FACES; panel++)
    {
      chamber->panels[panel].u_value_W_m2K = 0.0;
      chamber->panels[panel].longwave_transmission = 0.0;
    }
  chamber->leak_area_m2 = leak_area_m2;
}
