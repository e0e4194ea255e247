/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What fan.c (the search), answer.c (the short list) and places.c (where a fan may be) share. */

#include "advice/fan/fan.h"
#include "forecast/trial.h"

G_BEGIN_DECLS

/* --- a search --------------------------------------------------------------- */

/* What one thread works with. */
typedef struct
{
  DewTrial *trial[2]; /* day, night */
  DewChamber *chamber;
} DewFanHand;

typedef struct
{
  const DewChamber *chamber; /* as it is, or `without` */
  DewChamber *without;       /* without the fan, when it cannot be where it is drawn */
  guint variant_id;
  const DewFanQuestion *q;
  DewFanAdvice *advice;
  DewTrialStart *start[2];
  DewForecastOptions options;
  gboolean asks[2]; /* by day, by night */
  DewFanHand *hands;
  int n_hands;
  GCancellable *cancellable;

  int *chosen; /* [n_chosen] candidates of the round that runs; -1: as it is */
  int n_chosen;
  DewForecast *(*kept)[2]; /* [n_chosen] settled, day and night */
  DewObjective *settled;   /* [n_chosen] */
  int done_before, total;
} DewFanSearch;

typedef struct
{
  int candidate;
  double value;
} DewFanRanked;

/* For qsort(): the better value first, of equal ones the first made. */
int dew_fan_better_first (gconstpointer a, gconstpointer b);

/* The document with one candidate in it (-1: as it is), lent until the hand's next one. */
const DewChamber *dew_fan_document (const DewFanSearch *search, DewFanHand *hand, int candidate);
/* Short list and bands from the settled forecasts. FALSE with error when cancelled. */
gboolean dew_fan_answer (DewFanSearch *search, GError **error);

/* --- places ----------------------------------------------------------------- */

/* Every sensible place for `fan`, about `most` of them with the factors on speed and opening
 * counted (DewFanCandidate, transfer full; empty when it fits nowhere): in free air or in the
 * walls, clear of what stands there. `without` is the document without that fan. */
GArray *dew_fan_places (const DewChamber *without, guint variant_id, const DewFan *fan,
                        const DewFanQuestion *question, gboolean stand, gboolean walls, int most);

/* Whether two fans do nearly the same: same shelf or wall, near each other, aims not far apart. */
gboolean dew_fans_alike (const DewFan *a, int bay_a, const DewFan *b, int bay_b,
                         const double inner_m[3]);

/* The shelf that a bay stands on, from below; 0: the floor. */
int dew_fan_shelf (const DewChamber *chamber, const DewVariant *variant, int bay);

G_END_DECLS
