/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Cut or not: the cover kept whole against one or more openings, before any cut. What can
 * be undone (a flap that is lifted, a zip that is drawn) comes first; a hole is advised
 * only when it is better than all of those by more than the band. All by settled
 * forecasts, bands as in fan.h.
 */

#include "advice/objective.h"

G_BEGIN_DECLS

typedef struct
{
  char *title;         /* "A low flap and a high zip, 50 cm² each" */
  gboolean drawn;      /* the layout as it is */
  gboolean whole;      /* every opening closed */
  gboolean reversible; /* nothing is cut that is not cut already */
  GArray *openings;    /* DewOpening: those to add; empty for drawn and whole */
  gboolean forecast;   /* FALSE: could not be, `trouble` says why */
  char *trouble;
  DewObjective objective;
  DewForecast *day, *night;
  double exchange_1_h; /* air changes an hour, mean of day and night */
  double water_kg_day;
  double gain; /* objective.value less that of the drawn layout */
  double band;
  gboolean sure; /* gain is more than the band */
  GArray *bays;  /* DewBayChange against the drawn layout */
  char **words;  /* what is gained and lost */
} DewOpeningOption;

typedef struct
{
  DewWeights weights;
  DewPlantKindLookup lookup;
  gpointer lookup_data;
  gboolean imperial;      /* words in degrees Fahrenheit, inches and quarts */
  const double *areas_m2; /* sizes to try; NULL: 25 and 100 cm2 */
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
  char *verdict;             /* shall I cut: one to three sentences */
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
