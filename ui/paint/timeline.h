/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What instruments read over time, in ink on paper: a strip of humidity, one of temperature, the
 * forecast with its band as a pale bar behind them, and under both a rail with notes and changes.
 * Pure Cairo; no widget. Values are drawn from quarters of an hour, gathered by pixels, so that a
 * year is drawn as quickly as a day. */

#include <cairo.h>

#include "paint/palette.h"
#include "readings/pack.h"

G_BEGIN_DECLS

#define DEW_TIMELINE_LINES 6

typedef struct
{
  const char *name;          /* lent */
  const DewQuarter *quarter; /* [n], lent */
  gint64 first_s;            /* when the first quarter begins */
  gint64 n;
  gboolean room; /* drawn in the softer ink */
} DewTimelineLine;

/* What is forecast for the chosen instrument, by day and by night. */
typedef struct
{
  gboolean known;
  double t_C[2], t_band_K[2], rh[2], rh_band[2];
} DewTimelineForecast;

typedef struct
{
  gint64 time_s;
  gboolean change;   /* of the document: a square, else a round mark */
  const char *words; /* lent */
} DewTimelineEvent;

typedef struct
{
  gint64 from_s, to_s; /* what is seen */
  DewTimelineLine line[DEW_TIMELINE_LINES];
  int n_lines;
  DewTimelineForecast forecast;
  const DewTimelineEvent *event; /* [n_events], lent, in order of time */
  int n_events;
  DewTongue tongue;
} DewTimeline;

/* Fills width x height px. font_px: height of the letters. */
void dew_timeline_paint (cairo_t *cr, const DewTimeline *timeline, const DewPalette *palette,
                         double width, double height, double font_px);

/* The time under a place from the left; the inverse of how it is drawn. */
gint64 dew_timeline_time_at (const DewTimeline *timeline, double width, double font_px, double x);

G_END_DECLS
