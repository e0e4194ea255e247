/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What was measured against what is forecast: for each instrument, by day and by night, at its
 * own place, with the room as it was measured where an instrument hangs there. */

#include "calibrate/witness.h"
#include "forecast/forecast.h"

G_BEGIN_DECLS

typedef struct
{
  int witness; /* index */
  gboolean night;
  DewWitnessed measured;
  int bay;
  double t_C, t_band_K; /* forecast at the instrument; the band is that of its place */
  double rh, rh_band;
  double w_kg_kg, w_band_kg_kg;
  double t_allowed_K, rh_allowed; /* half width of a difference that both together allow */
  gboolean t_beyond, rh_beyond;
} DewAgainst;

typedef struct
{
  gint64 from_s, to_s;
  gboolean room_measured;         /* else as the document has it */
  double room_t_C[2], room_rh[2]; /* by day, by night */
  DewForecast *forecast[2];       /* by day, by night; with bands */
  GArray *rows;                   /* DewAgainst */
} DewAgainstAll;

/* Copies the document with the room as the witnesses in it read over those spells; *measured tells
 * whether one did. Transfer full. */
DewChamber *dew_against_room (const DewChamber *chamber, const DewWitness *witnesses, int n,
                              const GArray *spells, guint first, guint last, gboolean *measured);

/* from_s <= time < to_s. members: of the bands, 0: the usual number. NULL with error as
 * dew_forecast_new(). */
DewAgainstAll *dew_against (const DewChamber *chamber, guint variant_id,
                            const DewWitness *witnesses, int n, GTimeZone *zone, gint64 from_s,
                            gint64 to_s, const DewForecastOptions *options,
                            GCancellable *cancellable, GError **error);
void dew_against_free (DewAgainstAll *all);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewAgainstAll, dew_against_free)

G_END_DECLS
