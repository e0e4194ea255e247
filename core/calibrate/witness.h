/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Instruments as witnesses of the air: what they read over spells of day and night, and how far
 * that may be from the truth. */

#include "chamber/chamber.h"
#include "readings/readings.h"

G_BEGIN_DECLS

typedef struct
{
  char name[DEW_NAME_SIZE];
  gboolean room; /* in the room, not inside */
  guint thing_id;
  double at_m[3];             /* inside */
  double t_error_K, rh_error; /* half widths, nine times of ten */
  double lag_s;
  GArray *readings; /* lent: DewReading, in order of time, offsets added */
} DewWitness;

/* A stretch of one day or night when the air has come to rest after the lamps. */
typedef struct
{
  gint64 from_s, to_s;
  gboolean night;
} DewSpell;

/* How long after the lamps the air is left out. */
#define DEW_SPELL_SETTLE_S 10800

/* The spells of from_s <= time < to_s by the enclosure's hours of the day on the clock of `zone`;
 * DewSpell, transfer full. */
GArray *dew_spells (const DewRoutine *routine, GTimeZone *zone, gint64 from_s, gint64 to_s);

/* The mean of a witness over spells by day or by night. Every spell counts alike. */
typedef struct
{
  int n_spells;
  guint n; /* readings */
  double t_C, rh, w_kg_kg;
  double t_min_C, t_max_C, rh_min, rh_max;
  double t_error_K, rh_error, w_error_kg_kg; /* half widths: the instrument's, what it lags behind,
                                              * and how the spells differ */
} DewWitnessed;

/* spells: DewSpell; those in first <= index < last count. FALSE when there is nothing to
 * count. */
gboolean dew_witness (const DewWitness *witness, const GArray *spells, guint first, guint last,
                      gboolean night, double pressure_Pa, DewWitnessed *out);

G_END_DECLS
