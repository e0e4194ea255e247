/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Where one, two or three instruments tell most. What cannot be known moves the air of all places
 * together: an instrument where it moves much narrows the bands of all bays. Linear in the
 * unknowns, with errors normal, the bands after a measurement do not hang on what will be read
 * (Tarantola, Inverse Problem Theory, SIAM 2005, ch. 3), so all choices can be compared before
 * anything is bought. All pairs and triples are tried. */

#include "forecast/forecast.h"

G_BEGIN_DECLS

#define DEW_HANG_MOST 3

typedef struct
{
  int n;
  int place[DEW_HANG_MOST]; /* of the forecast by day */
  double at_m[DEW_HANG_MOST][3];
  double left; /* mean width of the bays' bands after, over before: temperature and humidity */
  double t_band_K, rh_band; /* mean half widths after */
} DewHanging;

typedef struct
{
  DewForecast *forecast;    /* by day */
  double t_band_K, rh_band; /* mean half widths of the bays before */
  int n;                    /* of hangings: one, two ... instruments */
  DewHanging hanging[DEW_HANG_MOST];
} DewHang;

/* most: instruments, 1 to DEW_HANG_MOST, of the errors given (half widths). NULL with error as
 * dew_forecast_new(). */
DewHang *dew_hang (const DewChamber *chamber, guint variant_id, int most, double t_error_K,
                   double rh_error, GCancellable *cancellable, GError **error);
void dew_hang_free (DewHang *hang);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewHang, dew_hang_free)

G_END_DECLS
