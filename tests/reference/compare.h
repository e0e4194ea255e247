/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A forecast held against the reference of its case, row by row.
 *
 * A row asks for at most `must` of absolute difference, and `goal` is the same
 * for what is hoped for; the row of the correlation asks for at least that
 * much. Bands, the larger of two where two stand (fine simulations of this
 * kind are themselves sure to about 10 % in strong flow and to 0.03 m/s in
 * slow air, see README.md):
 *
 *   quantity                       must                     goal
 *   mean air speed                 30 % or 0.04 m/s         15 % or 0.02 m/s
 *   share of volume < 0.05 m/s     0.30                     0.12
 *   mean age of air                20 %, 35 % fed by a jet  10 %
 *   temperature rise               20 % or 0.6 K            8 % or 0.25 K
 *   humidity ratio rise            20 % of the largest bay  8 % of the largest bay
 *   net flow of an opening         20 %                     8 %
 *   quarters of a bay              1.5 times a bay's        a bay's
 *   correlation of block speeds    0.75                     0.90
 */

#include "case.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_VERDICT_GOAL,
  DEW_VERDICT_MUST,
  DEW_VERDICT_OUT,
  DEW_N_VERDICTS
} DewVerdict;

typedef struct
{
  int bay; /* -1: the whole enclosure */
  char where[DEW_NAME_SIZE + 16];
  const char *quantity; /* static */
  int of;               /* DewCaseQuantity; -1: of an opening or the field */
  DewClimate climate;   /* of the bay or quarter; not of an opening or the field */
  double reference, predicted;
  double scale; /* what a share of this row is of: the reference, or the largest bay's */
  double must, goal;
  double band; /* half width that the forecast gives the model's own error, as the case leaves
                * nothing else unknown; NAN: none */
  gboolean correlation; /* must and goal are lower limits of `predicted` */
  DewVerdict verdict;
} DewCaseRow;

/* Every row that the case states, in the order bays, openings, field.
 * GArray of DewCaseRow (transfer full). */
GArray *dew_case_compare (const DewCase *c, const DewForecast *forecast);

const char *dew_verdict_key (DewVerdict verdict);

G_END_DECLS
