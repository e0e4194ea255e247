/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What light.c (asking, warmth) and lamps.c (choosing) share. */

#include "advice/light/light.h"

G_BEGIN_DECLS

/* A plant to be lit, or a place where none stands. */
typedef struct
{
  int bay;
  int count;
  double at_m[3];                /* where its light is reckoned */
  double lo_mol_m2s, hi_mol_m2s; /* what it wants for twelve hours */
  double top_m;                  /* of its leaves */
} DewLightSpot;

typedef struct
{
  DewChamber *chamber; /* a copy that is changed */
  DewVariant *variant;
  double inner_m[3];
  GArray *spots; /* DewLightSpot */
  DewLightAdvice *advice;
} DewLighting;

/* How good a choice is. */
typedef struct
{
  int out;     /* plants outside what they want */
  double miss; /* sum of the logarithms of how many times too little or too much */
  double cost; /* W, with what else counts */
} DewLightWorth;

gboolean dew_light_is_better (const DewLightWorth *a, const DewLightWorth *b);

/* Light of one bay as the copy is now. */
void dew_lighting_judge (const DewLighting *lighting, int bay, DewLightOn *out);
/* Chooses for one bay, by so many hours of light, and hangs it into the copy; adds its worth to
 * the sum. z0..z1: of the bay, m. */
void dew_lighting_choose (DewLighting *lighting, DewLightBay *bay, int hours, double z0_m,
                          double z1_m, DewLightWorth *sum);

G_END_DECLS
