/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Moving air made visible: particles carried by the forecast's velocity, each
 * with a short fading trail. More of them start where air is faster. The same
 * seed, forecasts and steps give the same streaks. */

#include "forecast/forecast.h"

G_BEGIN_DECLS

#define DEW_STREAK_POINTS 12

typedef struct _DewStreaks DewStreaks;

/* `count` particles, all unborn. */
DewStreaks *dew_streaks_new (guint count, guint seed);
void dew_streaks_free (DewStreaks *streaks);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewStreaks, dew_streaks_free)

/* Moves on by dt_s seconds (clamped to 0.1 s). After a change of size, what is
 * outside starts anew. */
void dew_streaks_step (DewStreaks *streaks, double dt_s, const DewForecast *forecast);

guint dew_streaks_count (const DewStreaks *streaks);
/* Trail of one particle, newest first, m; returns the number of points (0 while
 * unborn). strength: 0..1, fades in after birth and out before the end. */
guint dew_streaks_trail (const DewStreaks *streaks, guint index,
                         double points_m[DEW_STREAK_POINTS][3], double *strength);

G_END_DECLS
