/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Where a fan should stand and which way it should blow.
 *
 * Every sensible position and direction is forecast by the real model: first a few
 * pseudo-steps on draft zones from the present layout's settled state, by day; the better
 * part again with more steps, by day and night; the best and really different ones to the
 * end on settled zones. From the two best of those it goes on in small steps of place, aim and
 * speed. Forecasts to the end are those of the drawing when one looks at it. All quick ones start
 * from one settled layout that does not depend on where the fan is drawn, but for a fan that is the
 * only candidate. Each forecast takes a fixed number of steps from the same start, so that the same
 * question gives the same answer bit for bit, whatever the number of threads.
 *
 * The band of a difference: the final layouts are forecast again with 16 other sets of
 * what a grower cannot know (bands.h), the same sets for each layout, on draft zones. What
 * is common to both layouts cancels; half the distance from the 5th to the 95th percentile
 * of the difference is the first part. The second is the root mean square by which the
 * difference between two of them changes from draft to settled zones, both to the end: it
 * speaks of the zones' own error. Both together, as a root of squares, are the band.
 */

#include "advice/compare/change.h"
#include "advice/objective.h"

G_BEGIN_DECLS

/* --- asking -------------------------------------------------------------- */

typedef enum
{
  DEW_ROUND_NONE,   /* could not be forecast */
  DEW_ROUND_COARSE, /* few steps, by day */
  DEW_ROUND_CLOSER, /* more steps, by day and night */
  DEW_ROUND_SETTLED /* to the end, on settled zones */
} DewRound;

typedef struct
{
  DewFan fan;            /* the fan as it would be: position, aim, speeds, mount */
  double speed_factor;   /* on the fan's own speeds; 1 unless speeds are tried */
  double opening_factor; /* on the open fraction of every opening; likewise */
  int bay;               /* that it stands in, or at whose height it sits in the wall */
  DewRound round;
  DewObjective objective; /* of that round; of no use with DEW_ROUND_NONE */
  double coarse;          /* objective.value of the coarse round, comparable between all */
} DewFanCandidate;

/* Called in the thread that asks, now and then: `done` of `total` parts of the work;
 * `candidates` [n] are lent for the call, those not reached yet have DEW_ROUND_NONE. */
typedef void (*DewFanProgress) (int done, int total, const DewFanCandidate *candidates, int n,
                                gpointer data);

typedef struct
{
  guint fan_id;          /* the fan to move; 0: the first of the variant */
  const DewFan *typical; /* for a variant without a fan; NULL: a new fan's fallbacks */
  gboolean stand;        /* free places inside: TRUE unless the fan sits in a wall */
  gboolean walls;        /* places in the walls, blowing in or out */
  gboolean by_mount;     /* TRUE: stand and walls follow from the fan itself */
  int candidates;        /* about how many at most; 0: 500 */
  const double *speeds;  /* factors to try; NULL: as it is */
  int n_speeds;
  const double *openings; /* factors on the open fraction to try; NULL: as they are */
  int n_openings;
  int refine;  /* settled forecasts; 0: 10 */
  int options; /* of the short list at most; 0: 4 */
  int members; /* for the band; 0: 16, -1: none */
  int threads; /* 0: as many as there are processors */
  DewWeights weights;
  DewPlantKindLookup lookup;
  gpointer lookup_data;
  DewFanProgress progress; /* may be NULL */
  gpointer progress_data;
} DewFanQuestion;

void dew_fan_question_init (DewFanQuestion *question); /* usual weights, by_mount TRUE */

/* --- the answer ---------------------------------------------------------- */

/* One of a few really different places: they differ in shelf, in side or in direction. */
typedef struct
{
  int candidate; /* index; -1: the fan as it is now */
  DewFan fan;
  double speed_factor, opening_factor;
  DewObjective objective;
  DewForecast *day, *night; /* settled; night NULL when only the day was asked */
  double gain;              /* objective.value less that of the present fan */
  double band;              /* half width of that difference; NAN without members */
  gboolean sure;            /* gain is positive and more than the band */
  double behind;            /* the best option's objective.value less this one's */
  double behind_band;
  gboolean as_good;         /* as the best: the difference is within the band */
  int shelf;                /* that the bay of the fan stands on, from below; 0: the floor */
  char name[DEW_NAME_SIZE]; /* of that shelf; empty: it has none */
  double wetting_kg_m2s;    /* mist and drip that fall on the fan, the worse of day and night */
  GArray *bays;             /* DewBayChange against the present */
  GArray *changes;          /* DewChange: trade-offs against the present */
  GArray *against_best;     /* DewChange: against options[0]; empty for that itself */
} DewFanOption;

typedef struct
{
  guint fan_id; /* that was moved; 0: there is none, `typical` was tried */
  int n_places; /* of the candidates: those that all were tried; the rest were found from them */
  gboolean present_fits; /* FALSE: the fan cannot be where it is drawn; `present` is
                          * the layout without it, as it is when there is none */
  int n_candidates;
  DewFanCandidate *candidates; /* in the order they were made, not of merit */
  DewFanOption present;        /* the layout as it is (without a fan if there is none) */
  int n_options;               /* 0: nothing fits */
  DewFanOption *options;       /* best first, by the settled forecasts */
  gboolean winner;             /* the best one is surely better than the present */
  gboolean has_second;         /* a second fan of the kind was tried beside options[0] */
  DewFan second;
  int second_bay;
  double second_value; /* objective with both, settled */
  gboolean off;        /* by day and by night: nothing was tried */
  DewWants *wants;
  DewWeights weights;
  double inner_m[3];
  double seconds;
  int draft_forecasts, settled_forecasts; /* made for it */
} DewFanAdvice;

/* Blocks until it is found: call it in a thread of your own. variant_id 0: the shown one.
 * NULL with DEW_FORECAST_ERROR when the present layout cannot be forecast (the message
 * says why), or G_IO_ERROR_CANCELLED. A fan that fits nowhere, or is off by day and night, is an
 * answer: n_options 0. */
DewFanAdvice *dew_fan_advise (const DewChamber *chamber, guint variant_id,
                              const DewFanQuestion *question, GCancellable *cancellable,
                              GError **error);
void dew_fan_advice_free (DewFanAdvice *advice);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewFanAdvice, dew_fan_advice_free)

#define DEW_FAN_NEW G_MAXUINT /* for dew_fan_apply(): one more fan */

/* Puts a candidate's or an option's fan into a document: sets the fan's fields (adds a fan
 * where fan_id is 0 or DEW_FAN_NEW), scales openings. The id of that fan, 0 when it is gone. */
guint dew_fan_apply (DewChamber *chamber, guint variant_id, guint fan_id, const DewFan *fan,
                     double opening_factor);

/* A position with the merit of a fan there that blows its best way. */
typedef struct
{
  double at_m[3];
  int bay;
  int best;      /* index of the candidate */
  double coarse; /* 0..1, its objective in the coarse round: comparable over the map */
} DewFanSpot;

/* [n] DewFanSpot (transfer full). Works on what a progress callback is given, too. */
GArray *dew_fan_spots (const DewFanCandidate *candidates, int n);

/* Map of those over the whole enclosure, as dew_forecast_picture(): out[row * columns +
 * column], row 0 lowest; the best over the depth lo..hi (m; lo >= hi: all of it), smoothly
 * between spots, NAN farther than `reach_m` (0: twice the spacing) from any. Views: front x, z;
 * side y, z; plan x, y. */
void dew_fan_map (const GArray *spots, const double inner_m[3], DewView view, double lo_m,
                  double hi_m, double reach_m, int columns, int rows, double *out);

G_END_DECLS
