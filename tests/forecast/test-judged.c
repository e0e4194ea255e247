/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "enclosure.h"
#include "say/findings.h"
#include "store/store.h"

#include <math.h>

/* From a drawing to what is found amiss in it, through a real forecast and the wishes of the
 * plant catalogue. The limits have their sources in core/forecast/findings-limits.c and their
 * own tests; here it counts that each finding comes where it should and only there. */

#define G_H (1e-3 / 3600.0) /* kg/s */

typedef void (*Spoil) (DewChamber *chamber);

static DewThing *
first_of (DewChamber *chamber, DewThingKind kind)
{
  GArray *things = dew_chamber_shown (chamber)->things;

  for (guint t = 0; t < things->len; t++)
    if (g_array_index (things, DewThing, t).kind == kind)
      return &g_array_index (things, DewThing, t);
  g_assert_not_reached ();
}

static void
set_room (DewChamber *chamber, double t_C, double rh)
{
  chamber->room.months[chamber->month].t_day_C = t_C;
  chamber->room.months[chamber->month].rh_day = rh;
}

/* A cloud-forest orchid in a breeze, in a cool damp and light room that it likes. */
static DewChamber *
healthy (void)
{
  DewChamber *chamber = film_enclosure (0.6, 0.45, 0.9, 17.0, 0.76);
  DewThing *thing;

  chamber->room.daylight_mol_m2s = 80e-6;
  add_shelf (chamber, 0.40, DEW_SHELF_WIRE, 0.86);
  add_hole (chamber, DEW_FACE_FRONT, 0.05, 0.55, 0.02, 0.08);
  add_hole (chamber, DEW_FACE_BACK, 0.05, 0.55, 0.80, 0.86);
  thing = add_thing (chamber, DEW_THING_FAN, 0.10, 0.10, 0.14);
  thing->fan.diameter_m = 0.08;
  thing->fan.azimuth_rad = 0.6;
  thing->fan.elevation_rad = G_PI_4;
  thing->fan.free_delivery_m3_s = 40.0 / 3600.0;
  thing->fan.power_W = 0.5;
  thing = add_thing (chamber, DEW_THING_PLANT, 0.30, 0.225, 0.45);
  g_strlcpy (thing->plant.species, "Dracula", sizeof thing->plant.species);
  thing->plant.leaf_area_m2 = 0.03;
  return chamber;
}

static DewForecast *
judge (const DewChamber *chamber)
{
  g_autoptr (GError) error = NULL;
  DewForecastOptions options;
  DewForecast *forecast;

  dew_forecast_options_init (&options);
  options.grid = DEW_GRID_DRAFT;
  options.wish = dew_catalogue_plant_wish;
  forecast = dew_forecast_new (chamber, 0, &options, NULL, &error);
  g_assert_no_error (error);
  return forecast;
}

/* "Still air, floor left: 0.02 m/s, limit 0.05". */
static char *
tell (const DewForecast *forecast, const DewFinding *finding)
{
  g_autofree char *title = dew_finding_title (forecast, finding);

  return g_strdup_printf ("%s: %g %s, limit %g", title, dew_finding_plain (finding, finding->value),
                          dew_finding_unit (finding),
                          dew_finding_plain (finding, finding->threshold));
}

static gboolean
is_found (const DewForecast *forecast, DewFindingKind kind)
{
  for (int i = 0; i < forecast->n_findings; i++)
    {
      const DewFinding *f = &forecast->findings[i];

      if (f->kind != kind)
        continue;
      g_assert_true (isfinite (f->value) && isfinite (f->threshold));
      g_assert_cmpint (f->bay, <, forecast->n_bays);
      for (int axis = 0; axis < 3; axis++)
        g_assert_true (f->at_m[axis] >= 0.0 && f->at_m[axis] <= forecast->inner_m[axis]);
      return TRUE;
    }
  return FALSE;
}

/* --- ways to spoil it --------------------------------------------------------------------- */

static void
make_still (DewChamber *chamber)
{
  dew_variant_remove (dew_chamber_shown (chamber), first_of (chamber, DEW_THING_FAN)->id);
  dew_variant_remove (dew_chamber_shown (chamber), first_of (chamber, DEW_THING_OPENING)->id);
  dew_variant_remove (dew_chamber_shown (chamber), first_of (chamber, DEW_THING_OPENING)->id);
  chamber->leak_area_m2 = 2e-4;
}

static void
make_draughty (DewChamber *chamber)
{
  DewThing *fan = first_of (chamber, DEW_THING_FAN);

  fan->fan.y_m = 0.225;
  fan->fan.z_m = 0.50;
  fan->fan.azimuth_rad = fan->fan.elevation_rad = 0.0;
  fan->fan.free_delivery_m3_s = 80.0 / 3600.0;
}

static void
make_damp (DewChamber *chamber)
{
  set_room (chamber, 17.0, 0.93);
}

static void
make_mist (DewChamber *chamber)
{
  DewThing *thing = add_thing (chamber, DEW_THING_HUMIDIFIER, 0.30, 0.38, 0.50);

  thing->humidifier.width_m = thing->humidifier.depth_m = 0.08;
  thing->humidifier.height_m = 0.12;
  thing->humidifier.droplet_m = 20e-6;
  thing->humidifier.output_kg_s = 300.0 * G_H;
  thing->humidifier.duty_day = 1.0;
  set_room (chamber, 20.0, 0.90);
}

/* Warm wet air under a roof in a cold room. */
static void
make_drip (DewChamber *chamber)
{
  DewThing *thing = add_thing (chamber, DEW_THING_SOURCE, 0.45, 0.225, 0.0);

  thing->source.heat_W = 40.0;
  thing->source.vapour_kg_s = 40.0 * G_H;
  set_room (chamber, 8.0, 0.80);
  make_still (chamber);
}

static void
make_drip_below (DewChamber *chamber)
{
  make_drip (chamber);
  first_of (chamber, DEW_THING_PLANT)->plant.z_m = 0.05;
}

static void
make_dry (DewChamber *chamber)
{
  set_room (chamber, 17.0, 0.50);
}

static void
make_moist (DewChamber *chamber)
{
  set_room (chamber, 17.0, 0.98);
}

static void
make_warm (DewChamber *chamber)
{
  set_room (chamber, 28.0, 0.76);
}

static void
make_cool (DewChamber *chamber)
{
  set_room (chamber, 8.0, 0.76);
}

static void
make_thirsty (DewChamber *chamber)
{
  DewThing *thing = add_thing (chamber, DEW_THING_HUMIDIFIER, 0.45, 0.30, 0.0);

  thing->humidifier.technology = DEW_MIST_WICK;
  thing->humidifier.output_kg_s = 10.0 * G_H;
  thing->humidifier.tank_kg = 0.05;
  thing->humidifier.duty_day = 1.0;
  thing->humidifier.power_W = 0.0;
}

static void
make_heavy (DewChamber *chamber)
{
  first_of (chamber, DEW_THING_SHELF)->shelf.load_limit_kg = 5.0;
  first_of (chamber, DEW_THING_PLANT)->plant.mass_kg = 6.0;
}

static void
make_mains (DewChamber *chamber)
{
  first_of (chamber, DEW_THING_FAN)->fan.low_voltage = FALSE;
}

static void
make_dark (DewChamber *chamber)
{
  DewThing *lamp = add_thing (chamber, DEW_THING_LAMP, 0.30, 0.225, 0.86);

  chamber->room.daylight_mol_m2s = 0.0;
  lamp->lamp.length_m = 0.4;
  lamp->lamp.power_W = 2.0;
}

static void
make_bright (DewChamber *chamber)
{
  make_dark (chamber);
  first_of (chamber, DEW_THING_LAMP)->lamp.power_W = 40.0;
}

static void
make_pot_dry (DewChamber *chamber)
{
  add_pot (chamber, 0.10, 0.30, 0.406, 0.12)->pot.water_kg = 0.005;
}

/* clang-format off */
static const struct
{
  DewFindingKind kind;
  Spoil spoil;
} spoilt[] = {
  { DEW_FINDING_STILL, make_still },
  { DEW_FINDING_DRAUGHTY, make_draughty },
  { DEW_FINDING_SLOW_TO_DRY, make_damp },
  { DEW_FINDING_MIST_WETS, make_mist },
  { DEW_FINDING_ROOF_DRIP, make_drip },
  { DEW_FINDING_SHELF_DRIP, make_drip_below },
  { DEW_FINDING_DRY, make_dry },
  { DEW_FINDING_MOIST, make_moist },
  { DEW_FINDING_WARM, make_warm },
  { DEW_FINDING_COOL, make_cool },
  { DEW_FINDING_DISEASE, make_mist },
  { DEW_FINDING_TANK, make_thirsty },
  { DEW_FINDING_LOAD, make_heavy },
  { DEW_FINDING_ELECTRIC, make_mains },
  { DEW_FINDING_DARK, make_dark },
  { DEW_FINDING_BRIGHT, make_bright },
  { DEW_FINDING_POT_DRY, make_pot_dry },
};
/* clang-format on */

G_STATIC_ASSERT (G_N_ELEMENTS (spoilt) == DEW_N_FINDINGS);

static void
test_healthy (void)
{
  g_autoptr (DewChamber) chamber = healthy ();
  g_autoptr (DewForecast) forecast = judge (chamber);

  for (int i = 0; i < forecast->n_findings; i++)
    {
      g_autofree char *told = tell (forecast, &forecast->findings[i]);

      g_test_fail_printf ("%s", told);
    }
}

/* Each kind arises where it is provoked, and only by the wishes of what stands there where
 * it is a matter of wishes. */
static void
test_spoilt (gconstpointer data)
{
  int row = GPOINTER_TO_INT (data);
  g_autoptr (DewChamber) chamber = healthy ();
  g_autoptr (DewForecast) forecast = NULL;

  spoilt[row].spoil (chamber);
  forecast = judge (chamber);
  for (int i = 0; i < forecast->n_findings; i++)
    {
      g_autofree char *told = tell (forecast, &forecast->findings[i]);

      g_test_message ("%s", told);
    }
  g_assert_true (is_found (forecast, spoilt[row].kind));
}

/* The same dry air is no fault to a plant that asks for no more. */
static void
test_wishes_count (void)
{
  g_autoptr (DewChamber) chamber = healthy ();
  g_autoptr (DewForecast) forecast = NULL;
  DewPlantWish wish;

  g_assert_true (dew_catalogue_plant_wish ("Streptocarpus (rosulate hybrids)", &wish, NULL));
  g_assert_cmpfloat (wish.rh_min, <, 0.48);
  make_dry (chamber);
  g_strlcpy (first_of (chamber, DEW_THING_PLANT)->plant.species, "Streptocarpus (rosulate hybrids)",
             DEW_NAME_SIZE);
  forecast = judge (chamber);
  g_assert_false (is_found (forecast, DEW_FINDING_DRY));
  g_assert_false (dew_catalogue_plant_wish ("no such plant", &wish, NULL));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/judged/healthy", test_healthy);
  for (guint row = 0; row < G_N_ELEMENTS (spoilt); row++)
    {
      g_autofree char *path
        = g_strdup_printf ("/judged/%s", dew_finding_kind_key (spoilt[row].kind));

      g_test_add_data_func (path, GINT_TO_POINTER (row), test_spoilt);
    }
  g_test_add_func ("/judged/wishes-count", test_wishes_count);
  return g_test_run ();
}
