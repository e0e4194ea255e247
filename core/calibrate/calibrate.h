/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* From readings to this enclosure: how leaky it is, what the fan really moves, what the humidifier
 * gives, how the cover insulates, how much the wet surfaces give off. All that a band varies is
 * unknown here too (bands.h), with the same ranges, so that what readings cannot tell stays as
 * wide as it was; these five are what the document can learn.
 *
 * Measured are the means of each instrument by day and by night, of temperature and of vapour. An
 * instrument that is wrong is wrong on every day, so more days do not make it better: what one
 * day leaves open stays open, and only what the days differ by shrinks.
 */

#include "calibrate/against.h"
#include "calibrate/squares.h"
#include "forecast/bands.h"

G_BEGIN_DECLS

#define DEW_LEARNABLE 5 /* of the unknowns */

typedef struct
{
  DewUnknown unknown;
  double factor, lo, hi; /* times what the document says; nine times of ten */
  double learned;        /* 0 nothing, 1 all */
  gboolean present;      /* there is something in the enclosure that it is about */
  int with;              /* index of one that it cannot be told apart from, or -1 */
  gboolean at_bound;
} DewLearning;

/* How far forecasts are from readings that the fit did not see (or, without such, saw): root mean
 * squares. */
typedef struct
{
  int n;
  double t_K, rh;
} DewMiss;

typedef struct
{
  DewLearning learning[DEW_LEARNABLE];
  int n_measured; /* means that went in */
  guint n_spells, n_held;
  gboolean held; /* the misses are of spells that the fit did not see */
  DewMiss before, after;
  gboolean better; /* on the whole nearer after than before */
  double chi2;
  int rounds;
  DewChamber *chamber; /* the document with what was learned */
} DewCalibration;

/* NULL with DEW_FORECAST_ERROR where nothing can be forecast, or where nothing was read inside
 * (DEW_FORECAST_ERROR_INVALID). */
DewCalibration *dew_calibrate (const DewChamber *chamber, guint variant_id,
                               const DewWitness *witnesses, int n, GTimeZone *zone, gint64 from_s,
                               gint64 to_s, GCancellable *cancellable, GError **error);
/* Takes what was learned into a document of that enclosure, in all its variants. */
void dew_calibration_apply (const DewCalibration *calibration, DewChamber *chamber);
void dew_calibration_free (DewCalibration *calibration);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewCalibration, dew_calibration_free)

G_END_DECLS
