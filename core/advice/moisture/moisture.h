/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* How much water it takes: fewest wet pots and on which shelves, smallest humidifier and what to
 * set it to, how far to open the vents, so that every bay holds the band its plants want.
 *
 * Curves are walked on draft zones to the end. From what they say, settled zones are asked upward
 * until a value holds and then downward until one does not: the smallest value is that of the
 * settled zones alone (to a seventh of it for a humidifier, to the pot for pots). Points say on
 * which zones they were forecast.
 */

#include "advice/objective.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_SIZING_POTS,       /* number of wet pots in all, humidifiers off */
  DEW_SIZING_HUMIDIFIER, /* kg/s given off by all together, mean over time, pots as drawn */
  DEW_SIZING_VENT,       /* share of the openings' full area, 0..1 */
  DEW_N_SIZINGS
} DewSizing;

const char *dew_sizing_key (DewSizing sizing); /* "pots" */

typedef struct
{
  double t_C, rh; /* means of the bay by day or by night */
  double t_night_C, rh_night;
  double short_rh; /* fraction that is missing below the wanted band, by day or night */
  double over_rh;  /* fraction above it */
  double short_K, over_K;
} DewSizingBay;

typedef struct
{
  double x; /* of the curve, unit as in DewSizing */
  int n_bays;
  DewSizingBay *bays;
  gboolean holds;      /* every bay within the humidity and temperature it wants */
  double miss;         /* points of RH, summed over bays (1 K counts as 5 points) */
  double water_kg_day; /* given off in all */
  int *pots;           /* [n_bays] wet pots standing in each bay; only DEW_SIZING_POTS */
  GArray *layout;      /* DewPot: all of them, where they would stand; likewise */
  gboolean settled;    /* forecast on settled zones, else on draft zones */
} DewSizingPoint;

/* Why there is no curve. */
typedef enum
{
  DEW_SIZING_NO_TROUBLE,    /* there is one, or it was not asked for */
  DEW_SIZING_NO_SPOT,       /* for a pot */
  DEW_SIZING_NO_HUMIDIFIER, /* none is drawn, and there is no spot for one */
  DEW_SIZING_NO_OUTPUT,     /* of the humidifier */
  DEW_SIZING_NO_OPENING
} DewSizingTrouble;

typedef struct
{
  DewSizing sizing;
  gboolean possible; /* there is a curve; else see trouble */
  DewSizingTrouble trouble;
  GArray *points; /* DewSizingPoint, x ascending */
  int present;    /* index of the point nearest to the layout as it is, or -1 */
  int least;      /* index of the smallest that holds (vent: of the largest), or -1 */
  int knee;       /* index where more brings little more, or -1 */
  double band_rh; /* half width of the worst bay's humidity at `least` or the knee */
  gboolean sure;  /* it holds by more than that band */
} DewSizingCurve;

/* A humidistat in place of a constant output. */
typedef struct
{
  gboolean possible; /* else there is nothing to hold, or no place for the sensor */
  double set_rh, band_rh;
  double sensor_m[3];
  int bay; /* that the sensor hangs in: the one that decides */
  double duty_day, duty_night;
  double swing_rh;      /* half of what the humidity at the sensor goes up and down */
  DewSizingPoint point; /* settled, on the same scale as those of the curves; x: mean kg/s */
} DewHumidistat;

typedef struct
{
  DewPlantKindLookup lookup;
  gpointer lookup_data;
  const DewPot *pot; /* the kind of pot to add; NULL: as the first one drawn, else usual */
  int most_pots;     /* 0: 24 */
  int members;       /* for the bands; 0: 16, -1: none */
  int threads;       /* 0: as many as there are processors */
  gboolean skip[DEW_N_SIZINGS];                          /* what not to ask */
  void (*progress) (int done, int total, gpointer data); /* in the asking thread */
  gpointer progress_data;
} DewMoistureQuestion;

void dew_moisture_question_init (DewMoistureQuestion *question);

typedef struct
{
  DewWants *wants;
  int n_bays;
  int *bay_shelves;                 /* [n_bays] the shelf it stands on, from below; 0: the floor */
  double *bay_z_m;                  /* [n_bays] its floor */
  char (*bay_names)[DEW_NAME_SIZE]; /* [n_bays] of that shelf; empty: it has none */
  DewBandWish *bay_bands;           /* [n_bays] what each bay should hold */
  DewSizingPoint present;           /* settled, as drawn */
  DewSizingPoint without;           /* settled, humidifiers off; n_bays 0 when there is none */
  gboolean added; /* no humidifier is drawn: this one is meant, which apply adds */
  DewThing humidifier;
  char model[DEW_NAME_SIZE]; /* its row of the humidifiers catalogue */
  DewHumidistat humidistat;
  DewSizingCurve curves[DEW_N_SIZINGS];
  double seconds;
} DewMoistureAdvice;

/* Blocks: call it in a thread. Errors as dew_fan_advise(). */
DewMoistureAdvice *dew_moisture_advise (const DewChamber *chamber, guint variant_id,
                                        const DewMoistureQuestion *question,
                                        GCancellable *cancellable, GError **error);
void dew_moisture_advice_free (DewMoistureAdvice *advice);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewMoistureAdvice, dew_moisture_advice_free)

/* Sets a document to one point of a curve: takes out and adds pots and switches the
 * humidifiers off, or sets how much of the time the humidifiers run (without their
 * humidistats; adds the one that is meant where none is drawn), or opens the vents. */
void dew_moisture_apply (DewChamber *chamber, guint variant_id, const DewMoistureAdvice *advice,
                         DewSizing sizing, int point);
/* The humidistat of the answer, with its sensor. FALSE: there is none. */
gboolean dew_moisture_apply_humidistat (DewChamber *chamber, guint variant_id,
                                        const DewMoistureAdvice *advice);

G_END_DECLS
