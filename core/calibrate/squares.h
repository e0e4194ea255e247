/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Nonlinear least squares with what is known beforehand: the parameters that make
 *
 *   sum ((measured - model) / sd)^2 + sum ((x - prior) / prior_sd)^2
 *
 * least, which is the most likely state of knowledge after the measurement where all errors are
 * normal (Tarantola, Inverse Problem Theory, SIAM 2005, ch. 3). The search is GSL's trust region
 * method of Levenberg and Marquardt (GNU Scientific Library manual, "Nonlinear Least-Squares
 * Fitting"). The covariance is the inverse of the matrix of second derivatives at the answer, in
 * the linear approximation; tests count how often it holds.
 */

#include <glib.h>

G_BEGIN_DECLS

#define DEW_LEAST_MOST 12 /* parameters */

/* out: [m] for the parameters x: [n]. FALSE gives up. */
typedef gboolean (*DewLeastModel) (const double *x, double *out, gpointer data);

typedef struct
{
  int n, m;
  const double *prior, *prior_sd; /* [n] */
  double reach;                   /* x stays within so many prior_sd of the prior */
  double step;                    /* of a derivative, in prior_sd */
  const double *measured, *sd;    /* [m] */
  DewLeastModel model;
  gpointer data;
} DewLeastSquares;

typedef struct
{
  int n;
  double x[DEW_LEAST_MOST], sd[DEW_LEAST_MOST];
  double correlation[DEW_LEAST_MOST][DEW_LEAST_MOST];
  double learned[DEW_LEAST_MOST]; /* 1 - sd / prior_sd: 0 nothing, 1 all */
  double chi2;                    /* of the measurements alone */
  int rounds;
  gboolean at_bound[DEW_LEAST_MOST];
} DewLeastFound;

/* FALSE when the model gave up, or nothing was found. */
gboolean dew_least_squares (const DewLeastSquares *fit, DewLeastFound *out);

G_END_DECLS
