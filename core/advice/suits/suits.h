/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Which plants would do here: every kind of plant against every place of a variant, by day and by
 * night, in one month or in several. Each kind is taken as large as its row has it, in a light pot,
 * and judged as fit.h judges a plant that is to be placed; in several months by the worst of them.
 * Nothing is said of room beside what stands there already: that is what the assignment is for. */

#include "advice/fit.h"

G_BEGIN_DECLS

#define DEW_SUITS_ERROR (dew_suits_error_quark ())
GQuark dew_suits_error_quark (void);
typedef enum
{
  DEW_SUITS_ERROR_FORECAST /* the forecasts are not of one layout, or there is no place */
} DewSuitsError;

/* The air of one month. Lent. */
typedef struct
{
  int month; /* 0..11 */
  const DewForecast *day, *night;
} DewSuitsAir;

/* A kind in one bay, at its best place there. */
typedef struct
{
  int place;        /* index in the forecasts' places; -1: none in that bay */
  DewFit fit;       /* of the worst month */
  int month;        /* which that is */
  guint months_out; /* bit of each month in which it is out of the question there */
  int n_places;     /* of the bay that it bears in every month */
} DewSuitsBay;

typedef struct
{
  int row; /* of the catalogue "plants"; -1: one of the grower's own */
  char name[DEW_NAME_SIZE], group[DEW_NAME_SIZE];
  DewFitPlant plant;
  int best;          /* index of the bay that suits it most; -1: no place at all */
  gboolean fits;     /* it bears that bay in every month */
  gboolean rests;    /* it wants a winter so cold that no other plants of a shelf bear it */
  DewSuitsBay *bays; /* [n_bays] */
} DewSuitsKind;

typedef struct
{
  int n_bays;
  int *shelf;        /* [n_bays] which shelf from below; 0: the floor */
  DewClimate *day;   /* [n_bays] mean of each bay in the first month */
  DewClimate *night; /* [n_bays] */
  int n_months;
  int months[12]; /* 0..11, as they were given */
  int n_kinds;
  DewSuitsKind *kinds; /* those that fit first, the best first of all */
} DewSuits;

/* airs: [n], of one layout. Own kinds of the document first, then the catalogue. NULL with
 * DEW_SUITS_ERROR. Quick (no forecast is made); may be called from any thread. */
DewSuits *dew_suits_new (const DewChamber *chamber, const DewVariant *variant,
                         const DewSuitsAir *airs, int n, GError **error);
void dew_suits_free (DewSuits *suits);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewSuits, dew_suits_free)

/* Lends the kind of that name, exactly; NULL: none. */
const DewSuitsKind *dew_suits_kind (const DewSuits *suits, const char *name);

G_END_DECLS
