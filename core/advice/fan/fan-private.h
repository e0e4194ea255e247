/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What fan.c (the search), answer.c (the short list) and places.c (where a fan may be) share. */

#include "advice/fan/fan.h"
#include "forecast/trial.h"
#include "geometry/geometry.h"

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
  DewChamber *bare;          /* without the fan: where others may be */
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
  int settle_from;         /* chosen ones before it are settled already */
  int n_first;             /* candidates of the first round */
  int done_before, total;
} DewFanSearch;

typedef struct
{
  int candidate;
  double value;
} DewFanRanked;

/* For qsort(): the better value first, of equal ones the first made. */
int dew_fan_better_first (gconstpointer a, gconstpointer b);

/* A quick forecast of one candidate, judged. FALSE: it could not be forecast. */
gboolean dew_fan_try (const DewFanSearch *search, int thread, int candidate,
                      const DewTrialPace *pace, const gboolean asks[2], DewObjective *out);
/* Forecasts n more candidates to the end and adds them to the chosen. FALSE with error when
 * cancelled. */
gboolean dew_fan_settle_more (DewFanSearch *search, const int *candidates, int n, GError **error);
/* How far the work is: `done` beyond what was done before. */
void dew_fan_tell (DewFanSearch *search, int done);
/* What refining and the second fan take, in coarse forecasts. */
int dew_fan_refine_work (int closer_work, int settled_work);
/* Walks on from the best settled ones. Likewise. */
gboolean dew_fan_refine (DewFanSearch *search, GError **error);
/* A second fan beside the chosen one of that index. Likewise. */
gboolean dew_fan_find_second (DewFanSearch *search, int best, GError **error);

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

/* Whether a fan may be there: clear of all, air before it, and passed by the checks of the
 * document; in which bay. without: the document without it. */
gboolean dew_fan_fits (const DewChamber *without, guint variant_id, const DewFan *fan, int *bay);

/* Whether two fans do nearly the same: same shelf or wall, near each other, aims not far apart. */
gboolean dew_fans_alike (const DewFan *a, int bay_a, const DewFan *b, int bay_b,
                         const double inner_m[3]);

/* Whether they do when one is seen in a mirror, left for right or front for back. */
gboolean dew_fans_mirrored (const DewFan *a, int bay_a, const DewFan *b, int bay_b,
                            const double inner_m[3]);

/* The shelf that a bay stands on, from below; 0: the floor. */
int dew_fan_shelf (const DewChamber *chamber, const DewVariant *variant, int bay);

G_END_DECLS
