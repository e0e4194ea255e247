/* SPDX-License-Identifier: GPL-3.0-or-later */

/* One layout has one answer, and its kin have kindred ones: random enclosures against their
 * image in a mirror, against themselves after a drag to and fro, and against the same with all
 * that is in them a centimetre to the right. A few are tried each time; more by the numbers of
 * the first and the last, which also prints every pair:
 *
 *     DEW_TEST_WIDE=1-60 build/tests/test-wide-kin -p /wide-kin/mirror
 */

#include "random-enclosure.h"

#include "forecast/forecast.h"
#include "geometry/geometry.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define FIRST 1
#define LAST 6

/* Below this, a share of a speed says nothing. */
#define SLOW_M_S 0.02

typedef struct
{
  double speed; /* largest difference of a bay, as a share */
  double rh;    /* fraction */
  double t_K;
} Apart;

static void
compare (const DewForecast *a, const DewForecast *b, Apart *out)
{
  *out = (Apart){ 0.0, 0.0, 0.0 };
  g_assert_cmpint (a->n_bays, ==, b->n_bays);
  for (int i = 0; i < a->n_bays; i++)
    {
      const DewClimate *one = &a->bays[i].mean, *other = &b->bays[i].mean;
      double faster = MAX (one->speed_m_s, other->speed_m_s);

      out->speed
        = MAX (out->speed, fabs (one->speed_m_s - other->speed_m_s) / MAX (SLOW_M_S, faster));
      out->rh = MAX (out->rh, fabs (one->rh - other->rh));
      out->t_K = MAX (out->t_K, fabs (one->t_C - other->t_C));
    }
}

static DewForecast *
cold (const DewChamber *chamber)
{
  DewForecastOptions options;
  g_autoptr (GError) error = NULL;
  DewForecast *f;

  dew_forecast_options_init (&options);
  f = dew_forecast_new (chamber, 0, &options, NULL, &error);
  if (f == NULL)
    g_test_message ("refused: %s", error->message);
  return f;
}

/* --- the three kin --------------------------------------------------------------------- */

static DewForecast *
in_a_mirror (const DewChamber *chamber)
{
  g_autoptr (DewChamber) kin = mirrored_enclosure (chamber);

  return cold (kin);
}

static DewForecast *
a_centimetre_on (const DewChamber *chamber)
{
  g_autoptr (DewChamber) kin = shifted_enclosure (chamber, 0.01);

  if (kin == NULL)
    kin = shifted_enclosure (chamber, -0.01);
  return kin != NULL ? cold (kin) : NULL;
}

/* What a hand would drag: a free fan, else anything that stands. */
static DewThing *
handle (DewChamber *chamber)
{
  GArray *things = dew_chamber_shown (chamber)->things;
  DewThing *best = NULL;

  for (guint t = 0; t < things->len; t++)
    {
      DewThing *thing = &g_array_index (things, DewThing, t);

      if (thing->kind == DEW_THING_FAN && thing->fan.mount == DEW_FAN_FREE)
        return thing;
      if (dew_stands (thing->kind) || thing->kind == DEW_THING_PLANT)
        best = thing;
    }
  return best;
}

static DewForecast *
after_a_drag (const DewChamber *chamber)
{
  g_autoptr (DewForecaster) forecaster = dew_forecaster_new ();
  g_autoptr (DewForecast) first = NULL;
  double offset_m = 0.005;
  DewForecastOptions options;

  dew_forecast_options_init (&options);
  first = dew_forecaster_settle (forecaster, chamber, 0, &options, NULL, NULL);
  if (first == NULL)
    return NULL;
  for (int frame = 0; frame < 8; frame++)
    {
      g_autoptr (DewChamber) moved = dew_chamber_copy (chamber);
      DewThing *thing = handle (moved);
      const DewField *x
        = thing != NULL ? dew_field_find (dew_thing_fields (thing->kind), "x_m") : NULL;
      g_autoptr (GArray) problems = NULL;
      g_autoptr (DewForecast) seen = NULL;

      if (x == NULL)
        return NULL;
      dew_field_set_real (x, thing,
                          dew_field_get_real (x, thing) + offset_m * MIN (frame + 1, 8 - frame));
      problems = dew_chamber_check (moved, 0);
      if (problems->len > 0 && frame == 0 && offset_m > 0.0)
        {
          offset_m = -offset_m;
          frame--;
          continue;
        }
      if (problems->len == 0)
        seen = dew_forecaster_follow (forecaster, moved, 0, &options, 0.0, NULL, NULL);
    }
  return dew_forecaster_settle (forecaster, chamber, 0, &options, NULL, NULL);
}

/* --- many of them ----------------------------------------------------------------------- */

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

static void
print_distribution (const char *what, GArray *values, double unit, double wanted)
{
  guint above = 0;

  if (values->len == 0)
    return;
  g_array_sort (values, compare_doubles);
  for (guint i = 0; i < values->len; i++)
    above += g_array_index (values, double, i) > wanted;
  g_test_message ("%s: median %.3g, 84 %% below %.3g, 95 %% below %.3g, worst %.3g; %u of %u over "
                  "%.3g",
                  what, g_array_index (values, double, values->len / 2) / unit,
                  g_array_index (values, double, (guint) (0.84 * (values->len - 1))) / unit,
                  g_array_index (values, double, (guint) (0.95 * (values->len - 1))) / unit,
                  g_array_index (values, double, values->len - 1) / unit, above, values->len,
                  wanted / unit);
}

static void
hold_kin (DewForecast *(*kin_of) (const DewChamber *), double speed_wanted, double rh_wanted)
{
  const char *asked = g_getenv ("DEW_TEST_WIDE");
  guint first = FIRST, last = LAST, over = 0;
  g_autoptr (GArray) speed = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (GArray) rh = g_array_new (FALSE, FALSE, sizeof (double));

  if (asked != NULL)
    g_assert_cmpint (sscanf (asked, "%u-%u", &first, &last), ==, 2);
  g_log_set_always_fatal (G_LOG_FATAL_MASK);
  for (guint number = first; number <= last; number++)
    {
      g_autoptr (DewChamber) chamber = random_enclosure (number);
      g_autoptr (DewForecast) one = cold (chamber);
      g_autoptr (DewForecast) other = one != NULL ? kin_of (chamber) : NULL;
      Apart apart;

      if (one == NULL || other == NULL)
        {
          g_test_message ("%u: no pair", number);
          continue;
        }
      compare (one, other, &apart);
      g_array_append_val (speed, apart.speed);
      g_array_append_val (rh, apart.rh);
      over += apart.speed > speed_wanted || apart.rh > rh_wanted;
      g_test_message ("%u: speed %.2f %%, humidity %.2f points, %.3f K; %s, %s", number,
                      100.0 * apart.speed, 100.0 * apart.rh, apart.t_K,
                      one->state == DEW_FORECAST_SETTLED ? "settled" : "unsteady",
                      other->state == DEW_FORECAST_SETTLED ? "settled" : "unsteady");
    }
  print_distribution ("speed, %", speed, 0.01, speed_wanted);
  print_distribution ("humidity, points", rh, 0.01, rh_wanted);
  g_assert_cmpuint (over, ==, 0);
}

static void
test_mirror (void)
{
  hold_kin (in_a_mirror, 0.002, 0.001);
}

static void
test_path (void)
{
  hold_kin (after_a_drag, 0.001, 0.001);
}

static void
test_shift (void)
{
  hold_kin (a_centimetre_on, 0.03, 0.01);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/wide-kin/mirror", test_mirror);
  g_test_add_func ("/wide-kin/path", test_path);
  g_test_add_func ("/wide-kin/shift", test_shift);
  return g_test_run ();
}
