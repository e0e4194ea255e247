/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "calibrate/squares.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <math.h>

#define ROUNDS_MOST 30
#define TOLERANCE 1e-4

/* Held within reach: beyond, the model is asked at the bound, and the prior pulls back. */
static void
held (const DewLeastSquares *fit, const gsl_vector *at, double *x)
{
  for (int i = 0; i < fit->n; i++)
    x[i] = CLAMP (gsl_vector_get (at, (size_t) i), fit->prior[i] - fit->reach * fit->prior_sd[i],
                  fit->prior[i] + fit->reach * fit->prior_sd[i]);
}

static int
residuals (const gsl_vector *at, void *data, gsl_vector *out)
{
  const DewLeastSquares *fit = data;
  g_autofree double *y = g_new (double, fit->m);
  double x[DEW_LEAST_MOST];

  held (fit, at, x);
  if (!fit->model (x, y, fit->data))
    return GSL_EFAILED;
  for (int k = 0; k < fit->m; k++)
    gsl_vector_set (out, (size_t) k, (y[k] - fit->measured[k]) / fit->sd[k]);
  for (int i = 0; i < fit->n; i++)
    gsl_vector_set (out, (size_t) (fit->m + i),
                    (gsl_vector_get (at, (size_t) i) - fit->prior[i]) / fit->prior_sd[i]);
  return GSL_SUCCESS;
}

/* By differences whose step suits a model that is itself only solved to some tolerance. */
static int
derivatives (const gsl_vector *at, void *data, gsl_matrix *out)
{
  const DewLeastSquares *fit = data;
  size_t rows = (size_t) (fit->m + fit->n);
  gsl_vector *moved = gsl_vector_alloc ((size_t) fit->n);
  gsl_vector *here = gsl_vector_alloc (rows), *there = gsl_vector_alloc (rows);
  int status = residuals (at, data, here);

  for (int i = 0; i < fit->n && status == GSL_SUCCESS; i++)
    {
      double step = fit->step * fit->prior_sd[i];

      gsl_vector_memcpy (moved, at);
      /* Towards the prior, so that the bound is not in the way. */
      if (gsl_vector_get (at, (size_t) i) > fit->prior[i])
        step = -step;
      gsl_vector_set (moved, (size_t) i, gsl_vector_get (at, (size_t) i) + step);
      status = residuals (moved, data, there);
      for (size_t row = 0; row < rows && status == GSL_SUCCESS; row++)
        gsl_matrix_set (out, row, (size_t) i,
                        (gsl_vector_get (there, row) - gsl_vector_get (here, row)) / step);
    }
  gsl_vector_free (moved);
  gsl_vector_free (here);
  gsl_vector_free (there);
  return status;
}

static void
take_answer (const DewLeastSquares *fit, gsl_multifit_nlinear_workspace *work, DewLeastFound *out)
{
  gsl_matrix *covariance = gsl_matrix_alloc ((size_t) fit->n, (size_t) fit->n);
  gsl_vector *at = gsl_multifit_nlinear_position (work);
  gsl_vector *left = gsl_multifit_nlinear_residual (work);

  gsl_multifit_nlinear_covar (gsl_multifit_nlinear_jac (work), 0.0, covariance);
  held (fit, at, out->x);
  out->n = fit->n;
  out->rounds = (int) gsl_multifit_nlinear_niter (work);
  for (int k = 0; k < fit->m; k++)
    out->chi2 += pow (gsl_vector_get (left, (size_t) k), 2.0);
  for (int i = 0; i < fit->n; i++)
    {
      out->sd[i] = sqrt (gsl_matrix_get (covariance, (size_t) i, (size_t) i));
      out->learned[i] = CLAMP (1.0 - out->sd[i] / fit->prior_sd[i], 0.0, 1.0);
      out->at_bound[i] = fabs (out->x[i] - fit->prior[i]) > 0.999 * fit->reach * fit->prior_sd[i];
    }
  for (int i = 0; i < fit->n; i++)
    for (int k = 0; k < fit->n; k++)
      out->correlation[i][k]
        = gsl_matrix_get (covariance, (size_t) i, (size_t) k) / (out->sd[i] * out->sd[k]);
  gsl_matrix_free (covariance);
}

gboolean
dew_least_squares (const DewLeastSquares *fit, DewLeastFound *out)
{
  gsl_multifit_nlinear_parameters parameters = gsl_multifit_nlinear_default_parameters ();
  gsl_multifit_nlinear_fdf problem = { .f = residuals,
                                       .df = derivatives,
                                       .n = (size_t) (fit->m + fit->n),
                                       .p = (size_t) fit->n,
                                       .params = (void *) fit };
  gsl_error_handler_t *handler = gsl_set_error_handler_off ();
  gsl_multifit_nlinear_workspace *work
    = gsl_multifit_nlinear_alloc (gsl_multifit_nlinear_trust, &parameters, problem.n, problem.p);
  gsl_vector_const_view start = gsl_vector_const_view_array (fit->prior, (size_t) fit->n);
  int status, info = 0;

  *out = (DewLeastFound){ 0 };
  status = gsl_multifit_nlinear_init (&start.vector, &problem, work);
  if (status == GSL_SUCCESS)
    status = gsl_multifit_nlinear_driver (ROUNDS_MOST, TOLERANCE, TOLERANCE, 0.0, NULL, NULL, &info,
                                          work);
  /* No better step than none: the answer stands as near as the model is exact. */
  if (status == GSL_ENOPROG || status == GSL_EMAXITER)
    status = GSL_SUCCESS;
  if (status == GSL_SUCCESS)
    take_answer (fit, work, out);
  gsl_multifit_nlinear_free (work);
  gsl_set_error_handler (handler);
  return status == GSL_SUCCESS;
}
