/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/moisture/moisture-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "catalogue/catalogue.h"
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
  static const char *const keys[DEW_N_SIZINGS] = { "pots", "humidifier", "vent" };

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
  advice->bay_z_m = g_new0 (double, advice->n_bays + 1);
  advice->bay_names = g_malloc0_n (advice->n_bays + 1, sizeof *advice->bay_names);
  for (int b = 0; b < advice->n_bays; b++)
    {
      count += shelf[b] != 0;
      advice->bay_shelves[b] = shelf[b] != 0 ? count : 0;
      advice->bay_z_m[b] = s->z_m[b];
      if (shelf[b] != 0)
        g_strlcpy (advice->bay_names[b], dew_variant_thing (variant, shelf[b])->name,
                   sizeof advice->bay_names[b]);
      advice->bay_bands[b] = dew_wants_of_bay (advice->wants, s->z_m[b], s->z_m[b + 1]);
    }
}

/* Where none is drawn, one of the catalogue that fits is meant: the largest of these first, for
 * the smallest output that holds is looked for downward. */
static void
add_humidifier (DewSizer *s)
{
  static const char *const usual[]
    = { "room ultrasonic, small", "small mist cup, 5 V", "plate atomiser 20 mm mesh" };
  const DewCatalogue *catalogue = dew_catalogue ("humidifiers");
  DewMoistureAdvice *advice = s->advice;
  int drawn;

  dew_sizing_output_kg_s (dew_chamber_variant (s->chamber, s->variant_id), &drawn);
  for (guint u = 0; drawn == 0 && !advice->added && u < G_N_ELEMENTS (usual); u++)
    {
      int row = dew_catalogue_find (catalogue, usual[u]);

      if (row < 0)
        continue;
      dew_thing_init (&advice->humidifier, DEW_THING_HUMIDIFIER);
      dew_catalogue_apply_thing (catalogue, (guint) row, &advice->humidifier);
      advice->humidifier.humidifier.duty_day = advice->humidifier.humidifier.duty_night = 0.0;
      advice->added
        = dew_sizing_humidifier_spot (s->chamber, s->variant_id, &advice->humidifier.humidifier);
      g_strlcpy (advice->model, usual[u], sizeof advice->model);
    }
  if (!advice->added)
    return;
  s->with_one = dew_chamber_copy (s->chamber);
  dew_variant_add (s->with_one, dew_chamber_variant (s->with_one, s->variant_id),
                   &advice->humidifier);
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
walk_and_band (DewSizer *s, DewSizing sizing, DewSizingCurve *curve)
{
  int at;

  if (!dew_sizing_walk (s, sizing, curve))
    return FALSE;
  if (!curve->possible)
    return TRUE;
  if (!find_band (s, sizing, curve))
    return FALSE;
  at = curve->least >= 0 ? curve->least : curve->knee;
  /* Where none is needed there is nothing to set. */
  if (sizing != DEW_SIZING_HUMIDIFIER || at <= 0)
    return TRUE;
  return dew_sizing_find_humidistat (s, &g_array_index (curve->points, DewSizingPoint, at));
}

static gboolean
advise (DewSizer *s)
{
  const DewChamber *drawn = s->chamber;
  gboolean fine;

  if (!find_ends (s))
    return FALSE;
  if (!s->q->skip[DEW_SIZING_HUMIDIFIER])
    add_humidifier (s);
  for (int sizing = 0; sizing < DEW_N_SIZINGS; sizing++)
    {
      DewSizingCurve *curve = &s->advice->curves[sizing];

      if (s->q->skip[sizing])
        continue;
      if (sizing == DEW_SIZING_HUMIDIFIER && s->with_one != NULL)
        s->chamber = s->with_one;
      fine = walk_and_band (s, sizing, curve);
      s->chamber = drawn;
      if (!fine)
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
  dew_chamber_free (s.with_one);
  if (!fine)
    return NULL;
  advice->seconds = (g_get_monotonic_time () - began) / 1e6;
  return g_steal_pointer (&advice);
}

static void
add_meant (DewChamber *chamber, guint variant_id, const DewMoistureAdvice *advice)
{
  if (advice->added)
    dew_variant_add (chamber, dew_chamber_variant (chamber, variant_id), &advice->humidifier);
}

void
dew_moisture_apply (DewChamber *chamber, guint variant_id, const DewMoistureAdvice *advice,
                    DewSizing sizing, int point)
{
  const GArray *points = advice->curves[sizing].points;
  const DewSizingPoint *p;

  g_return_if_fail (point >= 0 && point < (int) points->len);

  p = &g_array_index (points, DewSizingPoint, point);
  if (sizing == DEW_SIZING_HUMIDIFIER)
    add_meant (chamber, variant_id, advice);
  dew_sizing_set (chamber, variant_id, sizing, p->x, p->layout);
}

gboolean
dew_moisture_apply_humidistat (DewChamber *chamber, guint variant_id,
                               const DewMoistureAdvice *advice)
{
  if (!advice->humidistat.possible)
    return FALSE;
  add_meant (chamber, variant_id, advice);
  dew_sizing_set_humidistat (chamber, variant_id, &advice->humidistat);
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
  g_free (advice->bay_names);
  g_free (advice->bay_z_m);
  dew_sizing_point_clear (&advice->humidistat.point);
  dew_sizing_point_clear (&advice->present);
  dew_sizing_point_clear (&advice->without);
  for (int sizing = 0; sizing < DEW_N_SIZINGS; sizing++)
    g_clear_pointer (&advice->curves[sizing].points, g_array_unref);
  g_free (advice);
}
