/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/moisture/moisture-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "forecast/bands.h"
#include "geometry/geometry.h"

#define USUAL_MEMBERS 16

void
dew_moisture_question_init (DewMoistureQuestion *question)
{
  memset (question, 0, sizeof *question);
}

const char *
dew_sizing_key (DewSizing sizing)
{
  static const char *const keys[DEW_N_SIZINGS] = { "pots", "humidifier", "vent", "lamp" };

  g_return_val_if_fail (sizing < DEW_N_SIZINGS, "");
  return keys[sizing];
}

/* --- the frame ----------------------------------------------------------- */

static void
find_bays (DewSizer *s, const DewVariant *variant)
{
  DewMoistureAdvice *advice = s->advice;
  g_autofree guint *shelf = NULL;
  int count = 0;

  advice->n_bays = dew_variant_bays (s->chamber, variant, &s->z_m, &shelf);
  advice->bay_shelves = g_new0 (int, advice->n_bays + 1);
  advice->bay_bands = g_new0 (DewBandWish, advice->n_bays);
  for (int b = 0; b < advice->n_bays; b++)
    {
      count += shelf[b] != 0;
      advice->bay_shelves[b] = shelf[b] != 0 ? count : 0;
      advice->bay_bands[b] = dew_wants_of_bay (advice->wants, s->z_m[b], s->z_m[b + 1]);
    }
}

/* As it is, and without humidifiers. */
static gboolean
find_ends (DewSizer *s)
{
  DewLayout *ends[2] = { dew_layout_new (s->chamber), dew_layout_new (s->chamber) };
  gboolean has_humidifier = dew_sizing_dry (ends[1]->chamber, s->variant_id);
  gboolean fine
    = dew_layout_bench_run (&s->bench, ends, has_humidifier ? 2 : 1, DEW_GRID_SETTLED, s->error);

  if (fine && ends[0]->trouble != NULL)
    {
      g_set_error_literal (s->error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_DIVERGED,
                           ends[0]->trouble);
      fine = FALSE;
    }
  if (fine)
    dew_sizing_judge (s, ends[0], TRUE, FALSE, &s->advice->present);
  if (fine && has_humidifier && ends[1]->trouble == NULL)
    dew_sizing_judge (s, ends[1], TRUE, FALSE, &s->advice->without);
  dew_layout_free (ends[0]);
  dew_layout_free (ends[1]);
  return fine;
}

/* --- how sure ------------------------------------------------------------ */

/* Half width of the humidity of the bay that decides, at the advised point. */
static gboolean
find_band (DewSizer *s, DewSizing sizing, DewSizingCurve *curve)
{
  int at = curve->least >= 0 ? curve->least : curve->knee, bay;
  const DewSizingPoint *point;
  g_autoptr (DewLayout) layout = NULL;
  g_autoptr (DewForecast) banded = NULL;
  DewForecastOptions options = s->bench.options;
  double margin;

  curve->band_rh = NAN;
  if (at < 0 || s->q->members < 0)
    return TRUE;
  point = &g_array_index (curve->points, DewSizingPoint, at);
  margin = dew_sizing_margin (s, point, &bay);
  layout = dew_layout_new (s->chamber);
  dew_sizing_set (layout->chamber, s->variant_id, sizing, point->x, point->layout);
  options.members = s->q->members > 0 ? s->q->members : USUAL_MEMBERS;
  options.grid = DEW_GRID_DRAFT;
  options.night = point->bays[bay].rh_night < point->bays[bay].rh;
  banded
    = dew_forecast_new (layout->chamber, s->variant_id, &options, s->bench.cancellable, s->error);
  if (banded == NULL)
    return FALSE;
  curve->band_rh = banded->bays[bay].mean.rh_band;
  curve->sure = curve->least >= 0 && margin > curve->band_rh;
  return TRUE;
}

/* --- asking -------------------------------------------------------------- */

static gboolean
advise (DewSizer *s)
{
  if (!find_ends (s))
    return FALSE;
  for (int sizing = 0; sizing < DEW_N_SIZINGS; sizing++)
    {
      DewSizingCurve *curve = &s->advice->curves[sizing];

      if (s->q->skip[sizing])
        continue;
      if (!dew_sizing_walk (s, sizing, curve))
        return FALSE;
      if (!curve->possible)
        continue;
      /* Hours of the lamp are no part of a document. */
      if (sizing != DEW_SIZING_LAMP && !find_band (s, sizing, curve))
        return FALSE;
    }
  return TRUE;
}

DewMoistureAdvice *
dew_moisture_advise (const DewChamber *chamber, guint variant_id,
                     const DewMoistureQuestion *question, GCancellable *cancellable, GError **error)
{
  g_autoptr (DewMoistureAdvice) advice = g_new0 (DewMoistureAdvice, 1);
  DewSizer s = {
    .chamber = chamber, .variant_id = variant_id, .q = question, .advice = advice, .error = error
  };
  const DewVariant *variant = dew_chamber_variant (chamber, variant_id);
  gint64 began = g_get_monotonic_time ();
  gboolean fine;

  if (variant == NULL)
    {
      g_set_error (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_INVALID,
                   _ ("There is no such variant in this document"));
      return NULL;
    }
  for (int sizing = 0; sizing < DEW_N_SIZINGS; sizing++)
    {
      advice->curves[sizing].sizing = sizing;
      advice->curves[sizing].points = g_array_new (FALSE, TRUE, sizeof (DewSizingPoint));
      g_array_set_clear_func (advice->curves[sizing].points,
                              (GDestroyNotify) dew_sizing_point_clear);
      advice->curves[sizing].present = advice->curves[sizing].least = advice->curves[sizing].knee
        = -1;
      advice->curves[sizing].band_rh = NAN;
    }
  advice->wants = dew_wants_new (chamber, variant, question->lookup, question->lookup_data);
  find_bays (&s, variant);
  fine = dew_layout_bench_open (&s.bench, chamber, variant_id, dew_wants_lookup, advice->wants,
                                question->threads, cancellable, error);
  if (fine)
    {
      s.bench.progress = question->progress;
      s.bench.progress_data = question->progress_data;
      s.bench.total = 2 * 48; /* forecasts of a usual answer */
      fine = advise (&s);
    }
  dew_layout_bench_close (&s.bench);
  g_free (s.z_m);
  if (!fine)
    return NULL;
  advice->seconds = (g_get_monotonic_time () - began) / 1e6;
  return g_steal_pointer (&advice);
}

gboolean
dew_moisture_apply (DewChamber *chamber, guint variant_id, const DewMoistureAdvice *advice,
                    DewSizing sizing, int point)
{
  const GArray *points = advice->curves[sizing].points;
  const DewSizingPoint *p;

  g_return_val_if_fail (point >= 0 && point < (int) points->len, FALSE);

  if (sizing == DEW_SIZING_LAMP)
    return FALSE;
  p = &g_array_index (points, DewSizingPoint, point);
  dew_sizing_set (chamber, variant_id, sizing, p->x, p->layout);
  return TRUE;
}

void
dew_moisture_advice_free (DewMoistureAdvice *advice)
{
  if (advice == NULL)
    return;
  dew_wants_free (advice->wants);
  g_free (advice->bay_shelves);
  g_free (advice->bay_bands);
  dew_sizing_point_clear (&advice->present);
  dew_sizing_point_clear (&advice->without);
  for (int sizing = 0; sizing < DEW_N_SIZINGS; sizing++)
    g_clear_pointer (&advice->curves[sizing].points, g_array_unref);
  g_free (advice);
}
