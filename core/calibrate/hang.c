/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "calibrate/hang.h"

#include "calibrate/model.h"
#include "moist/moist.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <math.h>

#define NORMAL 1.645
#define STEP 0.5
#define VALUES 4 /* of a place: temperature and humidity, by day and by night */
#define UNDER_LAMP_M 0.12
#define U DEW_N_UNKNOWNS

/* How the values of a place or bay move with the unknowns, for one standard deviation of each;
 * and the model's own error of them (standard deviation). */
typedef struct
{
  double by[VALUES][U];
  double own[VALUES];
} Moves;

typedef struct
{
  int n_bays, n_places;
  Moves *bay, *place;
} Field;

static void
set_moves (Moves *m, int night, int u, double scale, const DewClimate *here,
           const DewClimate *there)
{
  m->by[2 * night][u] = scale * (there->t_C - here->t_C);
  m->by[2 * night + 1][u] = scale * (there->rh - here->rh);
}

static void
set_own (Moves *m, int night, const DewForecast *f, const DewClimate *c,
         const DewBandGround *ground)
{
  double t = dew_bands_error (f, c, ground, DEW_BAND_T);
  double w = dew_bands_error (f, c, ground, DEW_BAND_W);

  m->own[2 * night] = t / NORMAL;
  m->own[2 * night + 1] = c->rh
                          * hypot (w / MAX (1e-6, c->w_kg_kg),
                                   t * dew_moist_p_sat_slope (c->t_C) / dew_moist_p_sat (c->t_C))
                          / NORMAL;
}

/* Trials with each unknown moved. */
static gboolean
take_field (const DewChamber *chamber, guint variant_id, DewModel *model,
            DewForecast *const here[2], Field *field, GCancellable *cancellable, GError **error)
{
  for (int u = 0; u < U; u++)
    {
      double q[U] = { 0.0 }, scale = dew_unknown_left (chamber, u) / NORMAL / STEP;
      DewForecast *there[2];

      q[u] = STEP;
      if (g_cancellable_set_error_if_cancelled (cancellable, error)
          || !dew_model_at (model, q, there, error))
        return FALSE;
      for (int night = 0; night < 2; night++)
        {
          for (int b = 0; b < field->n_bays; b++)
            set_moves (&field->bay[b], night, u, scale, &here[night]->bays[b].mean,
                       &there[night]->bays[b].mean);
          for (int p = 0; p < field->n_places; p++)
            set_moves (&field->place[p], night, u, scale, &here[night]->places[p].mean,
                       &there[night]->places[p].mean);
          dew_forecast_unref (there[night]);
        }
    }
  for (int night = 0; night < 2; night++)
    {
      DewBandGround whole = dew_bands_ground (chamber, variant_id, night), part = whole;

      part.only_part = TRUE;
      for (int b = 0; b < field->n_bays; b++)
        set_own (&field->bay[b], night, here[night], &here[night]->bays[b].mean, &whole);
      for (int p = 0; p < field->n_places; p++)
        set_own (&field->place[p], night, here[night], &here[night]->places[p].mean, &part);
    }
  return TRUE;
}

/* --- what a choice leaves ------------------------------------------------------------------ */

/* What an instrument adds to the certainty of the unknowns (inverse covariance): by day and by
 * night it is wrong by the same, so the two share that error. */
static void
add_witness (gsl_matrix *certainty, const Moves *m, double t_sd_K, double rh_sd)
{
  for (int kind = 0; kind < 2; kind++)
    {
      double shared = pow (kind == 0 ? t_sd_K : rh_sd, 2.0);
      double a = pow (m->own[kind], 2.0) + shared, b = pow (m->own[2 + kind], 2.0) + shared;
      double det = a * b - shared * shared;

      for (int u = 0; u < U; u++)
        for (int v = 0; v < U; v++)
          {
            double day_u = m->by[kind][u], night_u = m->by[2 + kind][u];
            double day_v = m->by[kind][v], night_v = m->by[2 + kind][v];
            double *at = gsl_matrix_ptr (certainty, (size_t) u, (size_t) v);

            *at += (b * day_u * day_v + a * night_u * night_v
                    - shared * (day_u * night_v + night_u * day_v))
                   / det;
          }
    }
}

/* Mean bands of the bays when the unknowns are as certain as that. */
static void
bands_of (const Field *field, const gsl_matrix *certainty, double *t_K, double *rh)
{
  gsl_matrix *covariance = gsl_matrix_alloc (U, U);

  gsl_matrix_memcpy (covariance, certainty);
  gsl_linalg_cholesky_decomp1 (covariance);
  gsl_linalg_cholesky_invert (covariance);
  *t_K = *rh = 0.0;
  for (int b = 0; b < field->n_bays; b++)
    for (int i = 0; i < VALUES; i++)
      {
        const double *by = field->bay[b].by[i];
        double square = pow (field->bay[b].own[i], 2.0);

        for (int u = 0; u < U; u++)
          for (int v = 0; v < U; v++)
            square += by[u] * gsl_matrix_get (covariance, (size_t) u, (size_t) v) * by[v];
        *(i % 2 == 0 ? t_K : rh) += NORMAL * sqrt (MAX (0.0, square)) / (2.0 * field->n_bays);
      }
  gsl_matrix_free (covariance);
}

typedef struct
{
  const Field *field;
  const guint8 *fit; /* [n_places] an instrument may hang there */
  double t_sd_K, rh_sd;
  double t_before_K, rh_before;
} Search;

static void
search (const Search *s, const gsl_matrix *certainty, int first, int depth, DewHanging *now,
        DewHanging *best)
{
  gsl_matrix *more;

  if (depth == best->n || depth == DEW_HANG_MOST)
    {
      bands_of (s->field, certainty, &now->t_band_K, &now->rh_band);
      now->left = 0.5 * (now->t_band_K / s->t_before_K + now->rh_band / s->rh_before);
      if (now->left < best->left)
        *best = *now;
      return;
    }
  more = gsl_matrix_alloc (U, U);
  for (int p = first; p < s->field->n_places; p++)
    {
      if (!s->fit[p])
        continue;
      gsl_matrix_memcpy (more, certainty);
      add_witness (more, &s->field->place[p], s->t_sd_K, s->rh_sd);
      now->place[depth] = p;
      search (s, more, p + 1, depth + 1, now, best);
    }
  gsl_matrix_free (more);
}

/* No instrument under a lamp's beam or in the mist: it would read those. */
static guint8 *
fit_places (const DewChamber *chamber, guint variant_id, const DewForecast *f)
{
  const GArray *things = dew_chamber_variant (chamber, variant_id)->things;
  guint8 *fit = g_new (guint8, MAX (1, f->n_places));

  for (int p = 0; p < f->n_places; p++)
    {
      const DewPlace *place = &f->places[p];

      fit[p] = place->mean.mist_kg_kg < 1e-4;
      for (guint i = 0; i < things->len; i++)
        {
          const DewThing *thing = &g_array_index (things, DewThing, i);

          if (thing->kind == DEW_THING_LAMP && thing->lamp.z_m >= place->lo_m[2]
              && thing->lamp.z_m - place->hi_m[2] < UNDER_LAMP_M
              && fabs (thing->lamp.x_m - 0.5 * (place->lo_m[0] + place->hi_m[0]))
                   < 0.5 * thing->lamp.length_m
              && fabs (thing->lamp.y_m - 0.5 * (place->lo_m[1] + place->hi_m[1]))
                   < 0.5 * thing->lamp.width_m)
            fit[p] = FALSE;
        }
    }
  return fit;
}

static void
find_all (const Search *s, int most, DewHang *hang)
{
  gsl_matrix *prior = gsl_matrix_alloc (U, U);

  gsl_matrix_set_identity (prior); /* moves are for one standard deviation */
  for (int n = 1; n <= most; n++)
    {
      DewHanging now = { .n = n }, *best = &hang->hanging[hang->n];

      *best = (DewHanging){ .n = n, .left = INFINITY };
      search (s, prior, 0, 0, &now, best);
      if (!isfinite (best->left))
        break;
      for (int i = 0; i < n; i++)
        for (int a = 0; a < 3; a++)
          best->at_m[i][a] = 0.5
                             * (hang->forecast->places[best->place[i]].lo_m[a]
                                + hang->forecast->places[best->place[i]].hi_m[a]);
      hang->n++;
    }
  gsl_matrix_free (prior);
}

DewHang *
dew_hang (const DewChamber *chamber, guint variant_id, int most, double t_error_K, double rh_error,
          GCancellable *cancellable, GError **error)
{
  g_autoptr (DewModel) model = dew_model_new (chamber, variant_id, cancellable, error);
  g_autoptr (DewHang) hang = g_new0 (DewHang, 1);
  g_autofree guint8 *fit = NULL;
  gsl_matrix *none;
  double still[U] = { 0.0 };
  DewForecast *here[2];
  Field field = { 0 };
  Search s;
  gboolean ok;

  g_return_val_if_fail (most >= 1 && most <= DEW_HANG_MOST, NULL);

  if (model == NULL || !dew_model_at (model, still, here, error))
    return NULL;
  hang->forecast = here[0];
  field.n_bays = here[0]->n_bays;
  field.n_places = MIN (here[0]->n_places, here[1]->n_places);
  field.bay = g_new0 (Moves, MAX (1, field.n_bays));
  field.place = g_new0 (Moves, MAX (1, field.n_places));
  ok = take_field (chamber, variant_id, model, here, &field, cancellable, error);
  if (ok)
    {
      fit = fit_places (chamber, variant_id, here[0]);
      none = gsl_matrix_alloc (U, U);
      gsl_matrix_set_identity (none);
      bands_of (&field, none, &hang->t_band_K, &hang->rh_band);
      gsl_matrix_free (none);
      s = (Search){ &field,         fit,          t_error_K / NORMAL, rh_error / NORMAL,
                    hang->t_band_K, hang->rh_band };
      find_all (&s, most, hang);
    }
  dew_forecast_unref (here[1]);
  g_free (field.bay);
  g_free (field.place);
  return ok ? g_steal_pointer (&hang) : NULL;
}

void
dew_hang_free (DewHang *hang)
{
  if (hang == NULL)
    return;
  g_clear_pointer (&hang->forecast, dew_forecast_unref);
  g_free (hang);
}
