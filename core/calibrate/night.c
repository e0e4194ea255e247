/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "calibrate/night.h"

#include "calibrate/squares.h"
#include "moist/moist.h"

#include <math.h>

#define FEWEST 20
#define SHORTEST_S 3600
#define STEP_S 300               /* readings are brought to such steps: a cheap one shows no more */
#define USUAL_1_S (1.0 / 3600.0) /* where the search begins: once an hour, give or take much */
#define LEAST_AREA_M2 1e-7
#define MOST_AREA_M2 0.19
#define TANGLED 0.95

typedef struct
{
  int n;
  double *w, *w_room, *w_wet; /* [n], in steps; w is NAN where nothing was read */
  gboolean dry;
  double offset_sd; /* g/kg: by which inside and room may be read apart, standard deviation */
} Curve;

static void
curve_clear (Curve *c)
{
  g_free (c->w);
  g_free (c->w_room);
  g_free (c->w_wet);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Curve, curve_clear)

/* Mean vapour and temperature of the witnesses inside (or in the room) in one step, with their
 * humidities shifted. NAN where nothing was read. */
static void
mean_step (const DewNightTest *test, gboolean room, gint64 at_s, double shift_rh,
           double pressure_Pa, double *w, double *t_C)
{
  double sum_w = 0.0, sum_t = 0.0;
  int count = 0;

  for (int i = 0; i < test->n; i++)
    {
      DewReadingMeans m;

      if (test->witnesses[i].room != room)
        continue;
      dew_readings_means (test->witnesses[i].readings, at_s, at_s + STEP_S, &m);
      if (m.n == 0 || isnan (m.t_mean_C) || isnan (m.rh_mean))
        continue;
      sum_t += m.t_mean_C;
      sum_w
        += dew_moist_w_from_rh (m.t_mean_C, CLAMP (m.rh_mean + shift_rh, 0.0, 1.0), pressure_Pa);
      count++;
    }
  *w = count > 0 ? sum_w / count : NAN;
  *t_C = count > 0 ? sum_t / count : NAN;
}

/* Gaps between what is known are bridged; before and after, the nearest holds. */
static void
bridge (double *x, int n, double otherwise)
{
  int last = -1;

  for (int i = 0; i < n; i++)
    {
      if (isnan (x[i]))
        continue;
      for (int k = last + 1; k < i; k++)
        x[k] = last < 0 ? x[i] : x[last] + (x[i] - x[last]) * (k - last) / (i - last);
      last = i;
    }
  for (int k = last + 1; k < n; k++)
    x[k] = last < 0 ? otherwise : x[last];
}

/* Half width of the humidity of a place: of several instruments, that of their mean. */
static double
error_of (const DewNightTest *test, gboolean room, double otherwise)
{
  double squares = 0.0;
  int count = 0;

  for (int i = 0; i < test->n; i++)
    if (test->witnesses[i].room == room)
      {
        squares += test->witnesses[i].rh_error * test->witnesses[i].rh_error;
        count++;
      }
  return count > 0 ? sqrt (squares) / count : otherwise;
}

static void
curve_make (const DewChamber *chamber, const DewNightTest *test, double inside_rh, double room_rh,
            Curve *c)
{
  double pressure_Pa = dew_moist_pressure (chamber->room.altitude_m);
  const DewMonth *month = &chamber->room.months[CLAMP (chamber->month, 0, 11)];
  double t_C, usual = dew_moist_w_from_rh (month->t_night_C, month->rh_night, pressure_Pa);

  *c = (Curve){ .n = (int) ((test->to_s - test->from_s) / STEP_S), .dry = test->dry };
  c->n = CLAMP (c->n, 0, 2000);
  c->w = g_new (double, c->n + 1);
  c->w_room = g_new (double, c->n + 1);
  c->w_wet = g_new (double, c->n + 1);
  for (int i = 0; i < c->n; i++)
    {
      gint64 at_s = test->from_s + (gint64) i * STEP_S;

      mean_step (test, TRUE, at_s, room_rh, pressure_Pa, &c->w_room[i], &t_C);
      mean_step (test, FALSE, at_s, inside_rh, pressure_Pa, &c->w[i], &t_C);
      c->w_wet[i] = isnan (t_C) ? NAN : dew_moist_w_sat (t_C, pressure_Pa);
    }
  bridge (c->w_room, c->n, usual);
  bridge (c->w_wet, c->n, usual);
  c->offset_sd = 1e3 * (c->n > 0 ? c->w_wet[0] : usual) / 1.645
                 * hypot (error_of (test, FALSE, 0.0), error_of (test, TRUE, 0.05));
}

/* x: log of n (over USUAL_1_S); w at the beginning (g/kg); where something is wet log of k, else
 * by how much the instruments inside read more than that in the room, without which a fall that
 * ends beside the room's vapour would be bent. out: g/kg where read. */
static gboolean
decay (const double *x, double *out, gpointer data)
{
  const Curve *c = data;
  double n = USUAL_1_S * exp (x[0]), k = c->dry ? 0.0 : USUAL_1_S * exp (x[2]);
  double w = 1e-3 * x[1], rate = n + k, left = exp (-rate * STEP_S);
  double offset = c->dry ? 1e-3 * x[2] : 0.0;
  int m = 0;

  for (int i = 0; i < c->n; i++)
    {
      double level = (n * (c->w_room[i] + offset) + k * c->w_wet[i]) / rate;

      if (!isnan (c->w[i]))
        out[m++] = 1e3 * w;
      w = level + (w - level) * left;
    }
  return TRUE;
}

typedef struct
{
  DewLeastFound fitted;
  double rest, together; /* root mean square left over; its correlation from step to step */
  int m;
} Fitted;

static void
take_rest (const Curve *c, const double *y, const double *x, Fitted *out)
{
  g_autofree double *model = g_new (double, c->n + 1);
  double squares = 0.0, products = 0.0;

  decay (x, model, (gpointer) c);
  for (int i = 0; i < out->m; i++)
    {
      squares += (model[i] - y[i]) * (model[i] - y[i]);
      if (i > 0)
        products += (model[i] - y[i]) * (model[i - 1] - y[i - 1]);
    }
  out->rest = sqrt (squares / MAX (1, out->m - 3));
  out->together = squares > 0.0 ? CLAMP (products / squares, 0.0, 0.98) : 0.0;
}

/* Two passes: the second knows how far readings lie from such a curve, and that neighbours tell
 * the same (n readings of correlation r count as n (1 - r) / (1 + r): Bayley & Hammersley, J. R.
 * Stat. Soc. Suppl. 8, 1946). */
static gboolean
fit_curve (const Curve *c, Fitted *out)
{
  g_autofree double *y = g_new (double, c->n + 1), *sd = g_new (double, c->n + 1);
  double prior[3] = { 0.0, 0.0, c->dry ? 0.0 : -1.0 };
  double prior_sd[3] = { 2.0, 10.0, c->dry ? c->offset_sd : 2.0 };
  DewLeastSquares fit = { .n = 3,
                          .prior = prior,
                          .prior_sd = prior_sd,
                          .reach = 3.0,
                          .step = 1e-4,
                          .measured = y,
                          .sd = sd,
                          .model = decay,
                          .data = (gpointer) c };

  out->m = 0;
  for (int i = 0; i < c->n; i++)
    if (!isnan (c->w[i]))
      y[out->m++] = 1e3 * c->w[i];
  fit.m = out->m;
  prior[1] = y[0];
  for (int pass = 0; pass < 2; pass++)
    {
      double each
        = pass == 0 ? 0.05
                    : MAX (0.003, out->rest) * sqrt ((1.0 + out->together) / (1.0 - out->together));

      for (int i = 0; i < out->m; i++)
        sd[i] = each;
      if (!dew_least_squares (&fit, &out->fitted))
        return FALSE;
      take_rest (c, y, out->fitted.x, out);
    }
  return TRUE;
}

/* Change of log n when humidities are off by what the instruments may be. */
static double
shifted (const DewChamber *chamber, const DewNightTest *test, double inside, double room,
         double log_n)
{
  g_auto (Curve) c = { 0 };
  Fitted fitted = { 0 };

  curve_make (chamber, test, inside, room, &c);
  return fit_curve (&c, &fitted) ? fitted.fitted.x[0] - log_n : 1.0;
}

static void
take_ends (const Curve *c, DewNightAnswer *out)
{
  for (int i = 0; i < c->n; i++)
    if (!isnan (c->w[i]))
      {
        if (out->n++ == 0)
          out->w_first_kg_kg = c->w[i];
        out->w_last_kg_kg = c->w[i];
        out->w_room_kg_kg += (c->w_room[i] - out->w_room_kg_kg) / out->n;
      }
}

void
dew_night_test (const DewChamber *chamber, const DewNightTest *test, DewNightAnswer *out)
{
  g_auto (Curve) c = { 0 };
  Fitted fitted = { 0 };
  double own, inside, room, width;
  gboolean in_room = FALSE;

  *out = (DewNightAnswer){ .correlation = 0.0 };
  for (int i = 0; i < test->n; i++)
    in_room = in_room || (test->witnesses[i].room && test->witnesses[i].readings->len > 0);
  if (!in_room)
    out->troubles |= 1u << DEW_NIGHT_NO_ROOM;
  curve_make (chamber, test, 0.0, 0.0, &c);
  take_ends (&c, out);
  if (out->n < FEWEST || test->to_s - test->from_s < SHORTEST_S)
    out->troubles |= 1u << DEW_NIGHT_FEW;
  else if (out->w_first_kg_kg - out->w_last_kg_kg < 2e-4)
    out->troubles |= 1u << DEW_NIGHT_NO_FALL;
  else if (!fit_curve (&c, &fitted))
    out->troubles |= 1u << DEW_NIGHT_FAILED;
  else
    {
      const DewLeastFound *f = &fitted.fitted;

      inside = c.dry ? 0.0 : shifted (chamber, test, error_of (test, FALSE, 0.0), 0.0, f->x[0]);
      room = c.dry ? 0.0 : shifted (chamber, test, 0.0, error_of (test, TRUE, 0.05), f->x[0]);
      own = 1.645 * f->sd[0];
      width = sqrt (own * own + inside * inside + room * room);
      out->found = TRUE;
      out->exchange_1_s = USUAL_1_S * exp (f->x[0]);
      out->exchange_lo_1_s = out->exchange_1_s * exp (-width);
      out->exchange_hi_1_s = out->exchange_1_s * exp (width);
      out->wet_1_s = c.dry ? 0.0 : USUAL_1_S * exp (f->x[2]);
      out->correlation = c.dry ? 0.0 : f->correlation[0][2];
      out->rest_kg_kg = 1e-3 * fitted.rest;
      if (fabs (out->correlation) > TANGLED && own > 0.5)
        out->troubles |= 1u << DEW_NIGHT_TANGLED;
    }
}

/* --- leakage ------------------------------------------------------------------------ */

/* Air changes of the night's forecast with mist and lamps off at a leakage area; negative on
 * error. */
static double
changes_at (DewChamber *chamber, guint variant_id, double area_m2, GCancellable *cancellable,
            GError **error)
{
  DewForecastOptions options;
  g_autoptr (DewForecast) forecast = NULL;

  dew_forecast_options_init (&options);
  options.night = TRUE;
  options.members = 0;
  options.grid = DEW_GRID_DRAFT;
  chamber->leak_area_m2 = area_m2;
  forecast = dew_forecast_new (chamber, variant_id, &options, cancellable, error);
  return forecast != NULL ? forecast->exchange_1_s : -1.0;
}

static void
put_off (DewChamber *chamber, guint variant_id)
{
  GArray *things = dew_chamber_variant (chamber, variant_id)->things;

  for (guint i = 0; i < things->len; i++)
    {
      DewThing *thing = &g_array_index (things, DewThing, i);

      if (thing->kind == DEW_THING_HUMIDIFIER)
        {
          thing->humidifier.duty_night = 0.0;
          thing->humidifier.set_rh = 0.0;
        }
      if (thing->kind == DEW_THING_LAMP)
        thing->lamp.on_night = 0.0;
    }
}

gboolean
dew_night_leakage (const DewChamber *chamber, guint variant_id, double exchange_1_s,
                   double *area_m2, GCancellable *cancellable, GError **error)
{
  g_autoptr (DewChamber) own = dew_chamber_copy (chamber);
  double lo = log (LEAST_AREA_M2), hi = log (MOST_AREA_M2);
  double at = log (CLAMP (chamber->leak_area_m2, 10.0 * LEAST_AREA_M2, 0.5 * MOST_AREA_M2));
  double tight;

  put_off (own, variant_id);
  tight = changes_at (own, variant_id, LEAST_AREA_M2, cancellable, error);
  if (tight < 0.0)
    return FALSE;
  *area_m2 = NAN;
  if (tight >= exchange_1_s)
    return TRUE;
  /* Air changes grow with leakage, nearly in proportion: a few corrections between bounds. */
  for (int round = 0; round < 6; round++)
    {
      double changes = changes_at (own, variant_id, exp (at), cancellable, error);
      double miss;

      if (changes < 0.0)
        return FALSE;
      miss = log (exchange_1_s / MAX (1e-9, changes));
      *area_m2 = exp (at);
      if (fabs (miss) < 0.02)
        break;
      if (miss > 0.0)
        lo = at;
      else
        hi = at;
      at = CLAMP (at + miss, lo + 0.1 * (hi - lo), hi - 0.1 * (hi - lo));
    }
  return TRUE;
}
