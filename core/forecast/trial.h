/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Many layouts tried quickly: each starts from the state that one layout has settled in,
 * takes a fixed number of pseudo-steps on draft zones, and finds its heat, water and age on
 * the air of its last steps. What comes out depends on start, layout and steps alone, never
 * on what was tried before or by how many threads.
 */

#include "forecast/run.h"

G_BEGIN_DECLS

/* --- where trials start: made once, read by all threads ------------------ */

typedef struct _DewTrialStart DewTrialStart;

/* Settles the variant on draft zones (options->grid is not read; options->zone_m may ask for
 * coarser ones), by day or by night. NULL with error as dew_forecast_new(). */
DewTrialStart *dew_trial_start_new (const DewChamber *chamber, guint variant_id,
                                    const DewForecastOptions *options, GCancellable *cancellable,
                                    GError **error);
void dew_trial_start_free (DewTrialStart *start);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewTrialStart, dew_trial_start_free)

/* --- trials: one session for each thread --------------------------------- */

typedef struct _DewTrial DewTrial;

/* `start` must outlive it. */
DewTrial *dew_trial_new (const DewTrialStart *start);
void dew_trial_free (DewTrial *trial);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewTrial, dew_trial_free)

typedef struct
{
  int parts;        /* steady heat and water are found this often, the air marches between */
  int steps;        /* pseudo-steps in each part */
  double tolerance; /* of heat and water */
  int rounds;       /* between air and surfaces, 0: until they agree */
  /* One of a set of `members` forecasts with other values of what cannot be known (bands.h),
   * or members 0: as given. */
  int member, members;
  guint seed;
  const double *unknowns; /* [DEW_N_UNKNOWNS] instead: these values of them; or NULL */
} DewTrialPace;

/* A layout of the start's enclosure, tried. NULL with error when it cannot be forecast. The
 * document must not change meanwhile. */
DewForecast *dew_trial_forecast (DewTrial *trial, const DewChamber *chamber, guint variant_id,
                                 const DewTrialPace *pace, GError **error);

/* A layout to the end, on options->grid, by day or night as the start: to the bit what
 * dew_forecast_new() finds, so that what is then taken looks in the window as it did in the answer.
 */
DewForecast *dew_trial_settle (DewTrial *trial, const DewChamber *chamber, guint variant_id,
                               const DewForecastOptions *options, GCancellable *cancellable,
                               GError **error);

G_END_DECLS
