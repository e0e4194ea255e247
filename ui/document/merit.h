/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A map of how good something is at each of many points, drawn over the sheet in
 * place of the field: a fan, blowing its best way. */

#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  double at_m[3];
  double merit;  /* 0 the worst of those tried .. 1 the best */
  double aim[3]; /* unit vector of its best way; 0, 0, 0: none */
  int number;    /* of the option that it is, 1 and up; 0: none */
} DewMeritSpot;

typedef struct
{
  guint n;
  DewMeritSpot *spots; /* [n] */
  char *legend;        /* what is shown, in words */
  int lit;             /* number of the option that is looked at; 0: none */
} DewMeritMap;

/* Copies both. Free with dew_merit_map_free(). */
DewMeritMap *dew_merit_map_new (const DewMeritSpot *spots, guint n, const char *legend);
void dew_merit_map_free (DewMeritMap *map);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewMeritMap, dew_merit_map_free)

G_END_DECLS
