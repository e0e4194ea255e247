/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "enclosure.h"
#include "moist/moist.h"

#include <math.h>

/* An extractor in the wall that draws its air through leakage and openings: ASHRAE Fundamentals
 * ch. 16, effective leakage area at 4 Pa and power law. */

#define M3_H (1.0 / 3600.0)

static void
check_near (const char *what, double value, double expected, double share)
{
  g_test_message ("%s: %.4g, expected %.4g, off by %+.2f %%", what, value, expected,
                  100.0 * (value / expected - 1.0));
  if (!(fabs (value / expected - 1.0) <= share))
    g_test_fail_printf ("%s: %.4g instead of %.4g, off by %+.2f %%, allowed %.2f %%", what, value,
                        expected, 100.0 * (value / expected - 1.0), 100.0 * share);
}

typedef struct
{
  double leak_m2, exponent;
  double hole_m2; /* low in the front, Cd 0.61 */
  double free_m3_h, stall_Pa;
  gboolean blows_in;
} Extractor;

/* Air that leakage and hole let through at dp. */
static double
passes_m3_s (const Extractor *x, double dp_Pa, double rho)
{
  return x->leak_m2 * sqrt (8.0 / rho) * pow (dp_Pa / 4.0, x->exponent)
         + 0.61 * x->hole_m2 * sqrt (2.0 * dp_Pa / rho);
}

/* The flow at which the fan's straight characteristic meets what lets the air through. */
static double
working_m3_s (const Extractor *x, double rho, double *dp_Pa)
{
  double low = 0.0, high = x->stall_Pa;

  for (int i = 0; i < 60; i++)
    {
      *dp_Pa = 0.5 * (low + high);
      if (passes_m3_s (x, *dp_Pa, rho) < x->free_m3_h * M3_H * (1.0 - *dp_Pa / x->stall_Pa))
        low = *dp_Pa;
      else
        high = *dp_Pa;
    }
  return x->free_m3_h * M3_H * (1.0 - *dp_Pa / x->stall_Pa);
}

/* Flow within 3 % of the law, the pressure (which the flow of a fan near its free delivery says
 * little about) within 8 % or 0.2 Pa. Air that seeps in along the seams does not stir the box: it
 * is slower than 0.15 m/s in the mean, twice what the fan's flow makes if it all came in at one
 * side. */
static void
test_extractor (void)
{
  static const Extractor rows[] = {
    { 1e-4, 0.65, 0.0, 20.0, 10.0, FALSE },  { 5e-4, 0.65, 0.0, 20.0, 10.0, FALSE },
    { 20e-4, 0.65, 0.0, 20.0, 10.0, FALSE }, { 100e-4, 0.65, 0.0, 80.0, 20.0, FALSE },
    { 5e-4, 0.5, 0.0, 80.0, 20.0, FALSE },   { 5e-4, 1.0, 0.0, 20.0, 5.0, FALSE },
    { 5e-4, 0.65, 0.01, 40.0, 10.0, FALSE }, { 50e-4, 0.65, 0.01, 80.0, 10.0, FALSE },
    { 20e-4, 0.65, 0.0, 20.0, 10.0, TRUE },  { 5e-4, 0.65, 0.01, 40.0, 10.0, TRUE },
  };

  for (guint n = 0; n < G_N_ELEMENTS (rows); n++)
    {
      const Extractor *x = &rows[n];
      g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 1.2, 20.0, 0.5);
      g_autoptr (DewForecast) f = NULL;
      g_autoptr (GError) error = NULL;
      DewForecastOptions options;
      const DewDevice *device;
      DewThing *fan;
      double flow, pressure, rho;
      guint id;

      make_adiabatic (chamber, x->leak_m2);
      chamber->leak_exponent = x->exponent;
      if (x->hole_m2 > 0.0)
        add_hole (chamber, DEW_FACE_FRONT, 0.2, 0.4, 0.1, 0.1 + x->hole_m2 / 0.2);
      fan = add_thing (chamber, DEW_THING_FAN, 0.3, 0.5, 1.0);
      fan->fan.mount = DEW_FAN_IN_WALL;
      fan->fan.face = DEW_FACE_BACK;
      fan->fan.sense = x->blows_in ? DEW_BLOWS_IN : DEW_BLOWS_OUT;
      fan->fan.diameter_m = 0.10;
      fan->fan.free_delivery_m3_s = x->free_m3_h * M3_H;
      fan->fan.stall_pressure_Pa = x->stall_Pa;
      fan->fan.power_W = 0.0;
      id = fan->id;
      g_test_message ("%.0f cm2 of leakage, n %.2f, hole %.0f cm2, %s", 1e4 * x->leak_m2,
                      x->exponent, 1e4 * x->hole_m2, x->blows_in ? "in" : "out");
      dew_forecast_options_init (&options);
      options.grid = DEW_GRID_DRAFT;
      f = dew_forecast_new (chamber, 0, &options, NULL, &error);
      if (f == NULL)
        {
          g_test_fail_printf ("refused: %s", error->message);
          continue;
        }
      rho = dew_moist_density (f->room_t_C, f->room_w_kg_kg, f->pressure_Pa);
      flow = working_m3_s (x, rho, &pressure);
      device = device_of (f, id);
      check_near ("flow of the fan", device->flow_m3_s, flow, 0.03);
      check_near ("pressure of the fan", device->pressure_Pa, pressure, MAX (0.08, 0.2 / pressure));
      check_near ("air that comes in", f->balance.air_in_m3_s, flow, 0.03);
      check_near ("air changes", f->exchange_1_s, flow / (0.6 * 0.5 * 1.2), 0.03);
      g_test_message ("mean speed %.3f m/s, state %d", f->all.speed_m_s, f->state);
      if (x->hole_m2 == 0.0 && !x->blows_in && !(f->all.speed_m_s < 0.15))
        g_test_fail_printf ("leakage stirs the box to %.2f m/s", f->all.speed_m_s);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/extractor/leakage", test_extractor);
  return g_test_run ();
}
