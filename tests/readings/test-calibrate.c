/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was planted in made-up readings is found again, within what is said of it, as often as is
 * said. Rates are held against the binomial distribution: of 200 draws at 90 %, 180 hold, and fewer
 * than 167 or more than 192 come up in fewer than 1 of 250 trials. */
#include "calibrate/calibrate.h"
#include "calibrate/hang.h"
#include "calibrate/night.h"
#include "calibrate/squares.h"
#include "moist/moist.h"

#include <math.h>

#define DRAWS 200
#define LEAST_HELD 167
#define MOST_HELD 192
#define NORMAL 1.645

/* Box & Muller, Ann. Math. Stat. 29 (1958), p. 610. */
static double
normal (GRand *random)
{
  double u = g_rand_double_range (random, 1e-12, 1.0), v = g_rand_double (random);

  return sqrt (-2.0 * log (u)) * cos (2.0 * G_PI * v);
}

/* --- least squares ------------------------------------------------------------------- */

/* A room of two bays in a steady state, by hand: leakage and fan as logarithms. Two means of
 * vapour; the fan shares out between them. */
static gboolean
two_bays (const double *x, double *out, gpointer data)
{
  double leak = exp (x[0]), fan = exp (x[1]), given = exp (x[2]);
  double mean = given / (1.0 + leak);

  out[0] = mean * (1.0 + 0.5 / (0.3 + fan));
  out[1] = mean * (1.0 - 0.3 / (0.3 + fan));
  out[2] = 0.6 * mean + 0.3 * leak;
  return TRUE;
}

static void
test_coverage (void)
{
  GRand *random = g_rand_new_with_seed (1);
  double prior[3] = { 0.0 }, prior_sd[3] = { 0.6, 0.2, 0.2 };
  int held[3] = { 0 };

  for (int draw = 0; draw < DRAWS; draw++)
    {
      double truth[3], measured[3], sd[3] = { 0.05, 0.05, 0.05 };
      DewLeastSquares fit = { .n = 3,
                              .m = 3,
                              .prior = prior,
                              .prior_sd = prior_sd,
                              .reach = 4.0,
                              .step = 0.01,
                              .measured = measured,
                              .sd = sd,
                              .model = two_bays };
      DewLeastFound found;

      for (int i = 0; i < 3; i++)
        truth[i] = prior_sd[i] * normal (random);
      two_bays (truth, measured, NULL);
      for (int k = 0; k < 3; k++)
        measured[k] += sd[k] * normal (random);
      g_assert_true (dew_least_squares (&fit, &found));
      for (int i = 0; i < 3; i++)
        {
          held[i] += fabs (found.x[i] - truth[i]) <= NORMAL * found.sd[i];
          g_assert_cmpfloat (found.sd[i], <=, prior_sd[i] * 1.0001);
        }
    }
  for (int i = 0; i < 3; i++)
    {
      g_test_message ("parameter %d: %d of %d", i, held[i], DRAWS);
      g_assert_cmpint (held[i], >=, LEAST_HELD);
      g_assert_cmpint (held[i], <=, MOST_HELD + 6);
    }
  g_rand_free (random);
}

/* Two parameters of which only the sum is seen: neither is learned, and they are told to be
 * tangled. */
static gboolean
sum_alone (const double *x, double *out, gpointer data)
{
  out[0] = x[0] + x[1];
  return TRUE;
}

static void
test_tangled (void)
{
  double prior[2] = { 0.0 }, prior_sd[2] = { 1.0, 1.0 }, measured[1] = { 1.0 }, sd[1] = { 0.05 };
  DewLeastSquares fit = { .n = 2,
                          .m = 1,
                          .prior = prior,
                          .prior_sd = prior_sd,
                          .reach = 4.0,
                          .step = 0.01,
                          .measured = measured,
                          .sd = sd,
                          .model = sum_alone };
  DewLeastFound found;

  g_assert_true (dew_least_squares (&fit, &found));
  /* By hand: of variances 1, 1 and 0.0025, the sum has 2 * 0.0025 / 2.0025 left, each half. */
  g_assert_cmpfloat_with_epsilon (found.x[0], 0.499, 0.001);
  g_assert_cmpfloat_with_epsilon (found.sd[0], sqrt (1.0 - 1.0 / 2.0025), 1e-3);
  g_assert_cmpfloat (found.correlation[0][1], <, -0.99);
}

/* --- the night test ---------------------------------------------------------------------- */

#define EVENING_S (20484 * G_GINT64_CONSTANT (86400) + 20 * 3600)

static void
add (GArray *readings, gint64 time_s, double t_C, double rh)
{
  DewReading r = { time_s, (float) t_C, (float) rh, 0, 0 };

  g_array_append_val (readings, r);
}

/* An evening of eight hours, a reading each two minutes, by a fine integration of the balance in
 * night.h: steps of a second. Instruments are off by what is said of them and read whole tenths. */
static void
make_evening (GRand *random, double n_1_h, double k_1_h, GArray *inside, GArray *room)
{
  double w_room = dew_moist_w_from_rh (15.0, 0.55, 101325.0);
  double w_wet = dew_moist_w_sat (14.5, 101325.0), w = 0.95 * w_wet;
  double off_inside = 0.03 / NORMAL * normal (random), off_room = 0.03 / NORMAL * normal (random);

  for (int s = 0; s < 8 * 3600; s++)
    {
      if (s % 120 == 0)
        {
          double rh
            = dew_moist_rh_from_w (14.5, w, 101325.0) + off_inside + 0.002 * normal (random);

          add (inside, EVENING_S + s, 14.5, round (1000.0 * rh) / 1000.0);
          add (room, EVENING_S + s, 15.0, 0.55 + off_room);
        }
      w += (-n_1_h * (w - w_room) - k_1_h * (w - w_wet)) / 3600.0;
    }
}

static void
count_nights (gboolean dry, double k_1_h, int least, int most)
{
  GRand *random = g_rand_new_with_seed (7);
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  int held = 0;
  double wide = 0.0;

  chamber->room.altitude_m = 0.0;
  for (int draw = 0; draw < DRAWS; draw++)
    {
      g_autoptr (GArray) inside = g_array_new (FALSE, FALSE, sizeof (DewReading));
      g_autoptr (GArray) room = g_array_new (FALSE, FALSE, sizeof (DewReading));
      DewWitness witnesses[2] = { { .rh_error = 0.03, .readings = inside },
                                  { .rh_error = 0.03, .readings = room, .room = TRUE } };
      double n_1_h = exp (g_rand_double_range (random, log (0.3), log (2.0)));
      DewNightAnswer answer;

      make_evening (random, n_1_h, k_1_h, inside, room);
      dew_night_test (chamber,
                      &(DewNightTest){ witnesses, 2, EVENING_S, EVENING_S + 8 * 3600, dry },
                      &answer);
      if (!answer.found)
        continue;
      held += n_1_h >= 3600.0 * answer.exchange_lo_1_s && n_1_h <= 3600.0 * answer.exchange_hi_1_s;
      wide += log (answer.exchange_hi_1_s / answer.exchange_lo_1_s) / 2.0 / DRAWS;
    }
  g_test_message ("%s: %d of %d held, half width %.0f %%", dry ? "dry" : "wet", held, DRAWS,
                  100.0 * (exp (wide) - 1.0));
  g_assert_cmpint (held, >=, least);
  g_assert_cmpint (held, <=, most);
  g_assert_cmpfloat (wide, <, log (2.0));
  g_rand_free (random);
}

static void
test_night_dry (void)
{
  count_nights (TRUE, 0.0, LEAST_HELD, DRAWS);
}

static void
test_night_wet (void)
{
  count_nights (FALSE, 0.4, LEAST_HELD, DRAWS);
}

/* Nothing falls: nothing is said. */
static void
test_night_flat (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  g_autoptr (GArray) inside = g_array_new (FALSE, FALSE, sizeof (DewReading));
  DewWitness witness = { .rh_error = 0.03, .readings = inside };
  DewNightAnswer answer;

  for (int i = 0; i < 200; i++)
    add (inside, EVENING_S + 120 * i, 14.0, 0.9);
  dew_night_test (chamber, &(DewNightTest){ &witness, 1, EVENING_S, EVENING_S + 24000, FALSE },
                  &answer);
  g_assert_false (answer.found);
  g_assert_cmphex (answer.troubles & (1u << DEW_NIGHT_NO_FALL), !=, 0);
  g_assert_cmphex (answer.troubles & (1u << DEW_NIGHT_NO_ROOM), !=, 0);
}

/* --- calibration --------------------------------------------------------------------------- */

static DewForecast *
forecast_of (const DewChamber *chamber, gboolean night, int members)
{
  DewForecastOptions options;
  DewForecast *forecast;
  g_autoptr (GError) error = NULL;

  dew_forecast_options_init (&options);
  options.night = night;
  options.members = members;
  forecast = dew_forecast_new (chamber, 0, &options, NULL, &error);
  g_assert_no_error (error);
  return forecast;
}

/* Three days of a reading every ten minutes at a place of the truth, by an instrument that is off
 * by as much as is usual. */
static GArray *
watch (GRand *random, const DewChamber *truth, DewForecast *const air[2], const double *at,
       gboolean room)
{
  GArray *out = g_array_new (FALSE, FALSE, sizeof (DewReading));
  double off_t = 0.3 / NORMAL * normal (random), off_rh = 0.02 / NORMAL * normal (random);

  for (int i = 0; i < 3 * 144; i++)
    {
      gint64 time_s = 20484 * (gint64) DEW_DAY_S + 600 * i;
      double hour = fmod (i / 6.0, 24.0);
      gboolean night = hour < truth->routine.day_from_h || hour >= truth->routine.day_until_h;
      const DewForecast *f = air[night];

      add (out, time_s,
           (room ? f->room_t_C
                 : dew_forecast_sample (f, DEW_VALUE_TEMPERATURE, at[0], at[1], at[2]))
             + off_t + 0.1 * normal (random),
           MIN (1.0,
                (room ? f->room_rh : dew_forecast_sample (f, DEW_VALUE_RH, at[0], at[1], at[2]))
                  + off_rh + 0.005 * normal (random)));
    }
  return out;
}

/* The demo with its vents shut and the humidifier on a timer instead of a humidistat: then leakage
 * decides how humid it is. */
static void
shut (DewChamber *chamber)
{
  GArray *things = dew_chamber_shown (chamber)->things;

  for (guint i = 0; i < things->len; i++)
    {
      DewThing *thing = &g_array_index (things, DewThing, i);

      if (thing->kind == DEW_THING_OPENING)
        thing->opening.open_fraction = 0.0;
      if (thing->kind == DEW_THING_HUMIDIFIER)
        {
          thing->humidifier.set_rh = 0.0;
          thing->humidifier.output_kg_s = 3e-6;
          thing->humidifier.duty_day = 0.5;
          thing->humidifier.duty_night = 0.3;
        }
    }
}

/* A truth that the fit does not know: twice the leakage, a fan that moves 30 % less. Two
 * instruments for three days, and one in the room. */
static void
test_synthetic_truth (void)
{
  GRand *random = g_rand_new_with_seed (3);
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  g_autoptr (DewChamber) truth = dew_chamber_copy (chamber);
  const GArray *things = dew_chamber_shown (chamber)->things;
  g_autoptr (GTimeZone) zone = g_time_zone_new_utc ();
  g_autoptr (GError) error = NULL;
  g_autoptr (DewCalibration) c = NULL;
  DewWitness witnesses[3] = { 0 };
  DewForecast *air[2];
  int n = 0, inside = 0, all = 0;

  shut (chamber);
  dew_chamber_free (truth);
  truth = dew_chamber_copy (chamber);
  truth->leak_area_m2 *= 2.0;
  for (guint i = 0; i < dew_chamber_shown (truth)->things->len; i++)
    {
      DewThing *thing = &g_array_index (dew_chamber_shown (truth)->things, DewThing, i);

      if (thing->kind == DEW_THING_FAN)
        thing->fan.free_delivery_m3_s *= 0.7;
    }
  for (int night = 0; night < 2; night++)
    air[night] = forecast_of (truth, night, 0);
  for (guint i = 0; i < things->len && n < 2; i++)
    {
      const DewThing *thing = &g_array_index (things, DewThing, i);

      if (thing->kind != DEW_THING_INSTRUMENT)
        continue;
      witnesses[n] = (DewWitness){ .thing_id = thing->id, .t_error_K = 0.3, .rh_error = 0.02 };
      witnesses[n].at_m[0] = thing->instrument.x_m;
      witnesses[n].at_m[1] = thing->instrument.y_m;
      witnesses[n].at_m[2] = thing->instrument.z_m;
      witnesses[n].readings = watch (random, truth, air, witnesses[n].at_m, FALSE);
      n++;
    }
  g_assert_cmpint (n, ==, 2);
  witnesses[2] = (DewWitness){ .room = TRUE, .t_error_K = 0.3, .rh_error = 0.02 };
  witnesses[2].readings = watch (random, truth, air, NULL, TRUE);

  c = dew_calibrate (chamber, 0, witnesses, 3, zone, 20484 * (gint64) DEW_DAY_S,
                     20487 * (gint64) DEW_DAY_S, NULL, &error);
  g_assert_no_error (error);
  for (int i = 0; i < DEW_LEARNABLE; i++)
    g_test_message ("unknown %d: %.2f (%.2f to %.2f), learned %.2f, with %d", i,
                    c->learning[i].factor, c->learning[i].lo, c->learning[i].hi,
                    c->learning[i].learned, c->learning[i].with);
  g_test_message ("before %.2f K %.1f points, after %.2f K %.1f points, %d rounds, chi2 %.1f",
                  c->before.t_K, 100 * c->before.rh, c->after.t_K, 100 * c->after.rh, c->rounds,
                  c->chi2);
  for (int night = 0; night < 2; night++)
    {
      g_autoptr (DewForecast) before = forecast_of (chamber, night, 32);
      g_autoptr (DewForecast) after = forecast_of (c->chamber, night, 32);

      for (int b = 0; b < after->n_bays; b++)
        {
          const DewClimate *was = &before->bays[b].mean, *is = &after->bays[b].mean;
          const DewClimate *wanted = &air[night]->bays[b].mean;

          g_test_message ("bay %d %s: truth %.2f C %.1f %%, before %.2f +- %.2f C %.1f +- %.1f %%, "
                          "after %.2f +- %.2f C %.1f +- %.1f %%",
                          b, night ? "night" : "day", wanted->t_C, 100 * wanted->rh, was->t_C,
                          was->t_band_K, 100 * was->rh, 100 * was->rh_band, is->t_C, is->t_band_K,
                          100 * is->rh, 100 * is->rh_band);
          all += 2;
          inside += (fabs (is->t_C - wanted->t_C) <= is->t_band_K)
                    + (fabs (is->rh - wanted->rh) <= is->rh_band);
          g_assert_cmpfloat (is->rh_band, <, was->rh_band * 1.02);
        }
    }
  g_test_message ("%d of %d bay values inside the band after", inside, all);
  g_assert_cmpint (inside, ==, all);
  g_assert_true (c->better);
  g_assert_cmpfloat (c->learning[0].lo, <, 2.0);
  g_assert_cmpfloat (c->learning[0].hi, >, 2.0);
  for (int i = 0; i < 3; i++)
    g_array_unref (witnesses[i].readings);
  for (int night = 0; night < 2; night++)
    dew_forecast_unref (air[night]);
  g_rand_free (random);
}

/* More instruments never tell less, and what is told is less than nothing known. */
static void
test_hang (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  g_autoptr (GError) error = NULL;
  g_autoptr (DewHang) hang = dew_hang (chamber, 0, 3, 0.5, 0.04, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpint (hang->n, ==, 3);
  for (int i = 0; i < hang->n; i++)
    {
      const DewHanging *h = &hang->hanging[i];

      g_test_message ("%d: left %.3f, %.2f K, %.1f points (before %.2f K, %.1f points)", h->n,
                      h->left, h->t_band_K, 100 * h->rh_band, hang->t_band_K, 100 * hang->rh_band);
      g_assert_cmpfloat (h->left, <, i == 0 ? 1.0 : hang->hanging[i - 1].left);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/calibrate/coverage", test_coverage);
  g_test_add_func ("/calibrate/tangled", test_tangled);
  g_test_add_func ("/calibrate/night-dry", test_night_dry);
  g_test_add_func ("/calibrate/night-wet", test_night_wet);
  g_test_add_func ("/calibrate/night-flat", test_night_flat);
  g_test_add_func ("/calibrate/synthetic-truth", test_synthetic_truth);
  g_test_add_func ("/calibrate/hang", test_hang);
  return g_test_run ();
}
