/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The readings of one instrument on one day as bytes, for a file: about four bytes a reading.
 * Temperatures are kept to 0.01 K and humidities to 0.01 %, finer than any instrument that a
 * grower hangs.
 *
 * The form: a byte 1, then for each reading numbers of variable length, seven bits a byte with the
 * lowest first and the eighth bit set on all but the last:
 *   seconds since the reading before (of the first: since the day began), times two, plus one when
 *   marks or source are not those of the reading before (0 and 0 of the first),
 *   in that case marks, then source,
 *   the change of 100 t_C, then that of 10000 rh, each zigzag (0, -1, 1, -2 ... are 0, 1, 2, 3 ...)
 *   from 0 at first; what was not read counts as -30000.
 */

#include "readings/readings.h"

G_BEGIN_DECLS

/* Quarters of an hour of a day, for charts. */
#define DEW_QUARTERS 96
#define DEW_QUARTER_S 900

/* Least, mean and greatest of what counts in a quarter; NAN where nothing was read. */
typedef struct
{
  float t_C[3];
  float rh[3];
} DewQuarter;

/* The n readings are of `day` and in order of time; transfer full. */
GByteArray *dew_day_pack (const DewReading *readings, guint n, gint64 day);
/* Appends them to `out`. FALSE, with `out` as it was, when the bytes are no such day. */
gboolean dew_day_unpack (const guint8 *bytes, gsize length, gint64 day, GArray *out);

/* quarters: [DEW_QUARTERS] */
void dew_day_quarters (const DewReading *readings, guint n, gint64 day, DewQuarter *quarters);
/* The same as bytes: 16 bit numbers, lowest byte first, 100 t_C and 10000 rh, -32768 for none. */
GByteArray *dew_quarters_pack (const DewQuarter *quarters);
gboolean dew_quarters_unpack (const guint8 *bytes, gsize length, DewQuarter *quarters);

G_END_DECLS
