/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What instruments have measured: lists of readings in the order of time. A year at one a minute
 * is half a million of one instrument, so they are kept by days (pack.h) and never in the
 * document that undo copies.
 *
 * Nothing is ever deleted because it looks wrong. It is marked, and what is marked is drawn
 * but not counted.
 */

#include <glib.h>

G_BEGIN_DECLS

#define DEW_DAY_S 86400

typedef enum
{
  DEW_MARK_SPIKE = 1 << 0,      /* one or two readings far from their neighbours on both sides */
  DEW_MARK_STUCK = 1 << 1,      /* a sensor that stands at the top of its scale, or does not move */
  DEW_MARK_IMPOSSIBLE = 1 << 2, /* humidity above 103 % or no temperature of a room */
  DEW_MARK_CLOCK = 1 << 3,      /* its stamp is earlier than that of the line before */
  DEW_MARK_DOUBTED = 1 << 4,    /* by hand */
  DEW_MARK_TRUSTED = 1 << 5     /* by hand, whatever else is marked */
} DewMark;

typedef struct
{
  gint64 time_s; /* since 1970, UTC */
  float t_C;     /* NAN: not read */
  float rh;      /* fraction; NAN: not read */
  guint16 source;
  guint16 marks; /* of DewMark */
} DewReading;

/* Whether it counts: nothing of it is in doubt, or a person has said that it is right. */
gboolean dew_reading_counts (const DewReading *reading);

/* The day that a time is in (since 1970, UTC), also of times before. */
gint64 dew_reading_day (gint64 time_s);

/* Sorts by time; of equal times the earlier in the list comes first. */
void dew_readings_sort (GArray *readings);

/* How two lists went together. */
typedef struct
{
  guint added;
  guint same;     /* of a time that was there already, with the same values: left out */
  guint conflict; /* with other values: the first stays, as none is known to be better */
} DewMerge;

/* Merges `more` into `into` (both in order of time). */
void dew_readings_merge (GArray *into, const GArray *more, DewMerge *merge);

/* Sets and clears the marks that follow from the readings themselves: SPIKE, STUCK and
 * IMPOSSIBLE. Those by hand and CLOCK stay. */
void dew_readings_mark (GArray *readings);

/* What a list holds. */
typedef struct
{
  guint n, doubtful, spikes, stuck, impossible, clock;
  gint64 first_s, last_s;
  double interval_s; /* median; NAN below two readings */
  guint gaps;        /* longer than five intervals and a quarter of an hour */
  double longest_gap_s;
} DewTally;

void dew_readings_tally (const GArray *readings, DewTally *out);

/* Of the readings that count in from_s <= time < to_s. Moments when nothing was read are not
 * made up. */
typedef struct
{
  guint n;
  double t_mean_C, t_min_C, t_max_C, t_sd_K;
  double rh_mean, rh_min, rh_max, rh_sd;
  double slope_t_K_s, slope_rh_1_s; /* mean size of the change, over a quarter of an hour */
} DewReadingMeans;

void dew_readings_means (const GArray *readings, gint64 from_s, gint64 to_s, DewReadingMeans *out);

G_END_DECLS
