/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Cut or not: the cover kept whole against one or more openings, before any cut. What can
 * be undone (a flap that is lifted, a zip that is drawn) comes first; a hole is advised
 * only when it is better than all of those by more than the band. All by settled
 * forecasts, bands as in fan.h.
 */

#include "advice/compare/change.h"
#include "advice/objective.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_PLAN_AS_DRAWN,
  DEW_PLAN_WHOLE, /* every opening closed */
  DEW_PLAN_FLAP_LOW,
  DEW_PLAN_ZIP_HIGH,
  DEW_PLAN_FLAP_AND_ZIP,
  DEW_PLAN_CUT_LOW,
  DEW_PLAN_CUTS, /* a low and a high hole */
  DEW_N_PLANS
} DewOpeningPlan;

/* Air changes an hour below which the air of a closed enclosure is stale: common practice, no
 * source (half to one is enough for plants). */
#define DEW_OPENING_FRESH_1_H 0.5

typedef struct
{
  DewOpeningPlan plan;
  double area_m2;      /* of each opening that is added */
  gboolean reversible; /* nothing is cut that is not cut already */
  GArray *openings;    /* DewOpening: those to add; empty for drawn and whole */
  gboolean forecast;   /* FALSE: could not be */
  gboolean no_room;    /* on any side: therefore */
  gboolean rigid;      /* of the sides that have room none can be cut or opened like that: glass */
  gboolean stale;      /* the air is changed less often than DEW_OPENING_FRESH_1_H */
  char *trouble;       /* or therefore */
  DewObjective objective;
  DewForecast *day, *night;
  double exchange_1_h; /* air changes an hour, mean of day and night */
  double water_kg_day;
  double gain; /* objective.value less that of the drawn layout */
  double band;
  gboolean sure;   /* gain is more than the band */
  GArray *bays;    /* DewBayChange against the drawn layout */
  GArray *changes; /* DewChange: what is gained and lost */
} DewOpeningOption;

typedef struct
{
  DewWeights weights;
  DewPlantKindLookup lookup;
  gpointer lookup_data;
  const double *areas_m2; /* sizes to try; NULL: 25 and 100 cm2. Where the largest does best, twice
                           * that is tried, and so on */
  int n_areas;
  int members; /* for the band; 0: 16, -1: none */
  int threads;
  void (*progress) (int done, int total, gpointer data);
  gpointer progress_data;
} DewOpeningQuestion;

void dew_opening_question_init (DewOpeningQuestion *question);

typedef struct
{
  int n_options;
  DewOpeningOption *options; /* drawn, whole, then those with openings; see `best` */
  int best;                  /* the one that is advised: drawn unless something is surely better */
  int *order;                /* [n_options] indices by objective, best first */
  DewWants *wants;
  double seconds;
} DewOpeningAdvice;

/* Blocks: call it in a thread. Errors as dew_fan_advise(). */
DewOpeningAdvice *dew_opening_advise (const DewChamber *chamber, guint variant_id,
                                      const DewOpeningQuestion *question, GCancellable *cancellable,
                                      GError **error);
void dew_opening_advice_free (DewOpeningAdvice *advice);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewOpeningAdvice, dew_opening_advice_free)

/* Puts an option into a document: closes all openings for `whole`, adds those of the others. */
void dew_opening_apply (DewChamber *chamber, guint variant_id, const DewOpeningOption *option);

G_END_DECLS
