/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What would grow here, how high the shelves, and what is to be known of a kind of plant, for
 * people. All transfer full. */

#include "advice/heights/heights.h"
#include "advice/suits/suits.h"
#include "say/units.h"

G_BEGIN_DECLS

/* "12 to 26 °C by day, 8 to 18 °C by night, 65 to 95 % humidity, ..." */
char *dew_kind_wants_words (const DewPlantKind *kind, DewTongue tongue);
/* Whether a kind is poisonous, by what its row says: one sentence, also that nobody has checked. */
char *dew_kind_safety_words (const char *species);

/* "62 of 174 kinds would do somewhere here in June." */
char *dew_suits_words (const DewSuits *suits);
/* A kind in one bay: what it gets there at its best place, or what it lacks; NULL where the bay has
 * no place. */
char *dew_suits_bay_words (const DewSuits *suits, const DewSuitsKind *kind, int bay,
                           DewTongue tongue);
/* A kind as one asks for it: where, and what is missing; sentences, NULL-terminated. */
char **dew_suits_kind_words (const DewSuits *suits, const DewSuitsKind *kind, DewTongue tongue);
/* Air of a bay: "18.2 °C by day, 13.1 °C by night, 84 %". */
char *dew_suits_air_words (const DewSuits *suits, int bay, DewTongue tongue);

/* The decision, then why; NULL-terminated. */
char **dew_heights_words (const DewHeights *heights, DewTongue tongue);
/* One shelf: "Third shelf: from 72 up to 78 cm". */
char *dew_heights_shelf_words (const DewHeights *heights, int shelf, DewTongue tongue);
/* One bay: "Second shelf: 31 cm clear, 34 needed for Tall pitcher". */
char *dew_heights_bay_words (const DewHeights *heights, int bay, DewTongue tongue);

G_END_DECLS
