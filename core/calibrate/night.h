/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The night test: mist and lamps off, front shut, and the vapour inside falls towards that of the
 * room. How fast tells how much air goes to and fro, the least known and most decisive number.
 *
 * With the room's w_r and wet surfaces whose air is saturated at the inside temperature, w_s,
 *
 *   dw/dt = -n (w - w_r) - k (w - w_s)
 *
 * (mass balance of well mixed air with a source in proportion to the deficit; the first term alone
 * is the tracer decay of ASTM E741, from memory). n is air changes, k what wet pots, trays and
 * leaves exchange. Over a step in which the room does not change this is solved exactly. Both are
 * found together: where the vapour settles tells k from n, and where it does not settle before the
 * test ends they cannot be told apart, which is said. Moss, pots and boards that give water off
 * for hours look like k.
 */

#include "calibrate/witness.h"
#include "forecast/forecast.h"

G_BEGIN_DECLS

typedef struct
{
  const DewWitness *witnesses;
  int n;
  gint64 from_s, to_s;
  gboolean dry; /* nothing wet is inside: k is nil */
} DewNightTest;

typedef enum
{
  DEW_NIGHT_FINE,
  DEW_NIGHT_FEW,     /* fewer than 20 readings inside, or less than an hour */
  DEW_NIGHT_NO_FALL, /* the vapour did not fall by more than its error */
  DEW_NIGHT_NO_ROOM, /* nothing was read in the room: that of the document was taken */
  DEW_NIGHT_TANGLED, /* leakage and wet surfaces cannot be told apart */
  DEW_NIGHT_FAILED   /* no curve of this kind fits */
} DewNightTrouble;

typedef struct
{
  gboolean found;
  guint troubles; /* bits 1 << DewNightTrouble */
  guint n;
  double w_first_kg_kg, w_last_kg_kg, w_room_kg_kg;
  double exchange_1_s, exchange_lo_1_s, exchange_hi_1_s; /* nine times of ten */
  double wet_1_s;
  double correlation; /* of n and k */
  double rest_kg_kg;  /* root mean square of what the curve leaves */
} DewNightAnswer;

void dew_night_test (const DewChamber *chamber, const DewNightTest *test, DewNightAnswer *out);

/* The leakage area at which the night's forecast with humidifiers and lamps off has that many air
 * changes. FALSE with error; NAN in area_m2 when the drawing's openings alone let through more. */
gboolean dew_night_leakage (const DewChamber *chamber, guint variant_id, double exchange_1_s,
                            double *area_m2, GCancellable *cancellable, GError **error);

G_END_DECLS
