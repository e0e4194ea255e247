/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "calibrate/calibrate.h"

#include "calibrate/model.h"
#include "forecast/probe.h"
#include "moist/moist.h"

#include <glib/gi18n.h>
#include <math.h>

#define NORMAL 1.645 /* standard deviations to the 95th percentile */
#define REACH 3.0
#define STEP 0.4 /* of a derivative: trials are settled to some tolerance only */
#define TANGLED 0.7
#define HOLD_LEAST 4 /* spells, two days, before a third of them is held back */

static const DewUnknown learnable[DEW_LEARNABLE]
  = { DEW_UNKNOWN_LEAKAGE, DEW_UNKNOWN_FAN, DEW_UNKNOWN_HUMIDIFIER, DEW_UNKNOWN_COVER,
      DEW_UNKNOWN_EVAPORATION };

/* --- what is measured ---------------------------------------------------------------- */

typedef struct
{
  int witness;
  gboolean night;
  DewWitnessed seen;
} Mean;

/* The fit's problem: forecasts at the instruments. */
typedef struct
{
  const DewWitness *witnesses;
  GArray *means; /* Mean */
  DewModel *model;
  double *shift; /* [2 means] settled less trial, where nothing is varied */
  GError *error;
} Problem;

static void
problem_clear (Problem *p)
{
  g_clear_pointer (&p->means, g_array_unref);
  g_clear_pointer (&p->model, dew_model_free);
  g_clear_pointer (&p->shift, g_free);
  g_clear_error (&p->error);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Problem, problem_clear)

static GArray *
take_means (const DewChamber *chamber, const DewWitness *witnesses, int n, const GArray *spells,
            guint first, guint last)
{
  GArray *means = g_array_new (FALSE, FALSE, sizeof (Mean));
  double pressure_Pa = dew_moist_pressure (chamber->room.altitude_m);

  for (int i = 0; i < n; i++)
    for (int night = 0; night < 2; night++)
      {
        Mean mean = { .witness = i, .night = night };

        if (!witnesses[i].room && witnesses[i].thing_id != 0
            && dew_witness (&witnesses[i], spells, first, last, night, pressure_Pa, &mean.seen))
          g_array_append_val (means, mean);
      }
  return means;
}

/* Temperature and logarithm of vapour at the instruments. */
static void
look_at (const Problem *p, DewForecast *const forecast[2], double *out)
{
  for (guint i = 0; i < p->means->len; i++)
    {
      const Mean *mean = &g_array_index (p->means, Mean, i);
      const double *at = p->witnesses[mean->witness].at_m;
      const DewForecast *f = forecast[mean->night];

      out[2 * i] = dew_forecast_sample (f, DEW_VALUE_TEMPERATURE, at[0], at[1], at[2]);
      out[2 * i + 1]
        = log (MAX (1e-6, dew_forecast_sample (f, DEW_VALUE_HUMIDITY_RATIO, at[0], at[1], at[2])));
    }
}

static gboolean
ask_model (const double *q, double *out, gpointer data)
{
  Problem *p = data;
  DewForecast *forecast[2];

  g_clear_error (&p->error);
  if (!dew_model_at (p->model, q, forecast, &p->error))
    return FALSE;
  look_at (p, forecast, out);
  for (guint i = 0; i < 2 * p->means->len && p->shift != NULL; i++)
    out[i] += p->shift[i];
  dew_forecast_unref (forecast[0]);
  dew_forecast_unref (forecast[1]);
  for (guint i = 0; i < 2 * p->means->len; i++)
    if (!isfinite (out[i]))
      return FALSE;
  return TRUE;
}

/* Standard deviations of the measured: the instrument and the model's own error. */
static void
take_errors (const Problem *p, DewForecast *const forecast[2], const DewChamber *chamber,
             guint variant_id, double *measured, double *sd)
{
  for (guint i = 0; i < p->means->len; i++)
    {
      const Mean *mean = &g_array_index (p->means, Mean, i);
      const DewForecast *f = forecast[mean->night];
      DewBandGround ground = dew_bands_ground (chamber, variant_id, mean->night);
      int place = dew_forecast_place_at (f, p->witnesses[mean->witness].at_m);
      const DewClimate *c = place >= 0 ? &f->places[place].mean : &f->all;
      double w = MAX (1e-5, mean->seen.w_kg_kg);

      ground.only_part = TRUE;
      measured[2 * i] = mean->seen.t_C;
      measured[2 * i + 1] = log (w);
      sd[2 * i]
        = hypot (mean->seen.t_error_K, dew_bands_error (f, c, &ground, DEW_BAND_T)) / NORMAL;
      sd[2 * i + 1] = hypot (mean->seen.w_error_kg_kg, dew_bands_error (f, c, &ground, DEW_BAND_W))
                      / w / NORMAL;
    }
}

/* --- what is learned -------------------------------------------------------------------- */

static gboolean
is_present (const DewChamber *chamber, guint variant_id, DewUnknown unknown)
{
  const GArray *things = dew_chamber_variant (chamber, variant_id)->things;

  if (unknown == DEW_UNKNOWN_LEAKAGE || unknown == DEW_UNKNOWN_COVER)
    return TRUE;
  for (guint i = 0; i < things->len; i++)
    {
      DewThingKind kind = g_array_index (things, DewThing, i).kind;

      if ((unknown == DEW_UNKNOWN_FAN && kind == DEW_THING_FAN)
          || (unknown == DEW_UNKNOWN_HUMIDIFIER && kind == DEW_THING_HUMIDIFIER)
          || (unknown == DEW_UNKNOWN_EVAPORATION
              && (kind == DEW_THING_POT || kind == DEW_THING_TRAY)))
        return TRUE;
    }
  return FALSE;
}

static void
take_learning (const DewChamber *chamber, guint variant_id, const DewLeastFound *fitted,
               DewCalibration *out)
{
  for (int i = 0; i < DEW_LEARNABLE; i++)
    {
      DewUnknown u = learnable[i];
      DewLearning *l = &out->learning[i];

      *l = (DewLearning){ .unknown = u,
                          .factor = dew_unknown_value (u, fitted->x[u]),
                          .lo = dew_unknown_value (u, fitted->x[u] - NORMAL * fitted->sd[u]),
                          .hi = dew_unknown_value (u, fitted->x[u] + NORMAL * fitted->sd[u]),
                          .learned = fitted->learned[u],
                          .present = is_present (chamber, variant_id, u),
                          .with = -1,
                          .at_bound = fitted->at_bound[u] };
      for (int k = 0; k < DEW_LEARNABLE; k++)
        if (k != i && fabs (fitted->correlation[u][learnable[k]]) > TANGLED
            && is_present (chamber, variant_id, learnable[k]))
          l->with = k;
    }
}

static void
learn_things (DewChamber *chamber, double fan, double humidifier)
{
  for (guint v = 0; v < chamber->variants->len; v++)
    {
      GArray *things = g_array_index (chamber->variants, DewVariant, v).things;

      for (guint i = 0; i < things->len; i++)
        {
          DewThing *thing = &g_array_index (things, DewThing, i);

          if (thing->kind == DEW_THING_FAN)
            thing->fan.free_delivery_m3_s = MIN (0.6, thing->fan.free_delivery_m3_s * fan);
          if (thing->kind == DEW_THING_HUMIDIFIER)
            thing->humidifier.output_kg_s = MIN (0.01, thing->humidifier.output_kg_s * humidifier);
        }
    }
}

/* What was told of the devices is the same in all layouts: they are the same devices. */
void
dew_calibration_apply (const DewCalibration *calibration, DewChamber *out)
{
  DewLearned *learned = &out->learned;
  double *known[DEW_LEARNABLE]
    = { &learned->leakage_known, &learned->fan_known, &learned->humidifier_known,
        &learned->cover_known, &learned->evaporation_known };
  double factor[DEW_LEARNABLE];

  for (int i = 0; i < DEW_LEARNABLE; i++)
    {
      const DewLearning *l = &calibration->learning[i];

      factor[i] = l->present ? l->factor : 1.0;
      if (l->present)
        *known[i] = CLAMP (1.0 - (1.0 - *known[i]) * (1.0 - l->learned), 0.0, 0.95);
    }
  out->leak_area_m2 = MIN (0.2, out->leak_area_m2 * factor[0]);
  learn_things (out, factor[1], factor[2]);
  for (int face = 0; face < DEW_N_FACES; face++)
    out->panels[face].u_value_W_m2K = MIN (20.0, out->panels[face].u_value_W_m2K * factor[3]);
  learned->evaporation_factor = CLAMP (learned->evaporation_factor * factor[4], 0.1, 10.0);
}

/* --- how good it is ------------------------------------------------------------------------ */

/* The room of the held-back spells goes with the forecast that is judged. */
static gboolean
miss (const DewChamber *chamber, guint variant_id, const DewWitness *witnesses, int n,
      const GArray *spells, guint first, guint last, GCancellable *cancellable, DewMiss *out,
      GError **error)
{
  gboolean measured;
  g_autoptr (DewChamber) own
    = dew_against_room (chamber, witnesses, n, spells, first, last, &measured);
  g_autoptr (GArray) means = take_means (own, witnesses, n, spells, first, last);
  DewForecastOptions options;

  *out = (DewMiss){ 0 };
  dew_forecast_options_init (&options);
  options.members = 0;
  for (int night = 0; night < 2; night++)
    {
      g_autoptr (DewForecast) f = NULL;

      options.night = night;
      f = dew_forecast_new (own, variant_id, &options, cancellable, error);
      if (f == NULL)
        return FALSE;
      for (guint i = 0; i < means->len; i++)
        {
          const Mean *mean = &g_array_index (means, Mean, i);
          const double *at = witnesses[mean->witness].at_m;

          if (mean->night != night)
            continue;
          out->n++;
          out->t_K += pow (mean->seen.t_C
                             - dew_forecast_sample (f, DEW_VALUE_TEMPERATURE, at[0], at[1], at[2]),
                           2.0);
          out->rh
            += pow (mean->seen.rh - dew_forecast_sample (f, DEW_VALUE_RH, at[0], at[1], at[2]),
                    2.0);
        }
    }
  out->t_K = sqrt (out->t_K / MAX (1, out->n));
  out->rh = sqrt (out->rh / MAX (1, out->n));
  return TRUE;
}

static gboolean
judge (const DewChamber *chamber, guint variant_id, const DewWitness *witnesses, int n,
       const GArray *spells, DewCalibration *c, GCancellable *cancellable, GError **error)
{
  guint first = c->held ? spells->len - c->n_held : 0;

  if (!miss (chamber, variant_id, witnesses, n, spells, first, spells->len, cancellable, &c->before,
             error)
      || !miss (c->chamber, variant_id, witnesses, n, spells, first, spells->len, cancellable,
                &c->after, error))
    return FALSE;
  /* A kelvin weighs like five points, as in the advice. */
  c->better
    = hypot (0.05 * c->after.t_K, c->after.rh) <= hypot (0.05 * c->before.t_K, c->before.rh);
  return TRUE;
}

/* --- all of it -----------------------------------------------------------------------------------
 */

static gboolean
settle_both (const DewChamber *chamber, guint variant_id, GCancellable *cancellable,
             DewForecast *out[2], GError **error)
{
  DewForecastOptions options;

  dew_forecast_options_init (&options);
  options.members = 0;
  out[0] = out[1] = NULL;
  for (int night = 0; night < 2; night++)
    {
      options.night = night;
      out[night] = dew_forecast_new (chamber, variant_id, &options, cancellable, error);
      if (out[night] == NULL)
        {
          g_clear_pointer (&out[0], dew_forecast_unref);
          return FALSE;
        }
    }
  return TRUE;
}

/* Trials are quicker than forecasts at rest and a little elsewhere: by that much they are
 * shifted. */
static gboolean
find_shift (Problem *p, DewForecast *const settled[2])
{
  double none[DEW_N_UNKNOWNS] = { 0.0 };
  g_autofree double *trial = g_new (double, 2 * p->means->len);
  double *shift = g_new (double, 2 * p->means->len);

  if (!ask_model (none, trial, p))
    {
      g_free (shift);
      return FALSE;
    }
  look_at (p, settled, shift);
  for (guint i = 0; i < 2 * p->means->len; i++)
    shift[i] -= trial[i];
  p->shift = shift;
  return TRUE;
}

static gboolean
fit_means (Problem *p, const DewChamber *chamber, guint variant_id, GCancellable *cancellable,
           DewLeastFound *fitted, GError **error)
{
  guint m = 2 * p->means->len;
  g_autofree double *measured = g_new (double, m), *sd = g_new (double, m);
  double prior[DEW_N_UNKNOWNS] = { 0.0 }, prior_sd[DEW_N_UNKNOWNS];
  DewLeastSquares fit = { .n = DEW_N_UNKNOWNS,
                          .m = (int) m,
                          .prior = prior,
                          .prior_sd = prior_sd,
                          .reach = REACH,
                          .step = STEP,
                          .measured = measured,
                          .sd = sd,
                          .model = ask_model,
                          .data = p };
  DewForecast *settled[2];
  gboolean ok;

  for (int u = 0; u < DEW_N_UNKNOWNS; u++)
    prior_sd[u] = dew_unknown_left (chamber, u) / NORMAL;
  if (!settle_both (chamber, variant_id, cancellable, settled, error))
    return FALSE;
  p->model = dew_model_new (chamber, variant_id, cancellable, error);
  ok = p->model != NULL && find_shift (p, settled);
  if (ok)
    {
      take_errors (p, settled, chamber, variant_id, measured, sd);
      ok = dew_least_squares (&fit, fitted);
    }
  dew_forecast_unref (settled[0]);
  dew_forecast_unref (settled[1]);
  if (!ok && p->error != NULL)
    g_propagate_error (error, g_steal_pointer (&p->error));
  else if (!ok && (error == NULL || *error == NULL))
    g_set_error (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_DIVERGED,
                 _ ("No enclosure of this kind fits the readings; look for an instrument that is "
                    "wet, in the mist or named for another place"));
  return ok;
}

DewCalibration *
dew_calibrate (const DewChamber *chamber, guint variant_id, const DewWitness *witnesses, int n,
               GTimeZone *zone, gint64 from_s, gint64 to_s, GCancellable *cancellable,
               GError **error)
{
  g_autoptr (GArray) spells = dew_spells (&chamber->routine, zone, from_s, to_s);
  g_autoptr (DewCalibration) c = g_new0 (DewCalibration, 1);
  g_autoptr (DewChamber) own = NULL;
  g_auto (Problem) p = { .witnesses = witnesses };
  gboolean measured;
  DewLeastFound fitted;
  guint seen;

  c->n_spells = spells->len;
  c->held = spells->len >= HOLD_LEAST;
  c->n_held = c->held ? spells->len / 3 : 0;
  seen = spells->len - c->n_held;
  own = dew_against_room (chamber, witnesses, n, spells, 0, seen, &measured);
  p.means = take_means (own, witnesses, n, spells, 0, seen);
  c->n_measured = (int) p.means->len;
  if (p.means->len == 0)
    {
      g_set_error (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_INVALID,
                   _ ("Nothing was read inside in that time by an instrument of the drawing; look "
                      "at the names of instruments and at the dates"));
      return NULL;
    }
  if (!fit_means (&p, own, variant_id, cancellable, &fitted, error))
    return NULL;
  c->chi2 = fitted.chi2;
  c->rounds = fitted.rounds;
  take_learning (chamber, variant_id, &fitted, c);
  c->chamber = dew_chamber_copy (chamber);
  dew_calibration_apply (c, c->chamber);
  if (!judge (chamber, variant_id, witnesses, n, spells, c, cancellable, error))
    return NULL;
  return g_steal_pointer (&c);
}

void
dew_calibration_free (DewCalibration *calibration)
{
  if (calibration == NULL)
    return;
  if (calibration->chamber != NULL)
    dew_chamber_free (calibration->chamber);
  g_free (calibration);
}
