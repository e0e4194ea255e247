/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Many compared cases in a few lines: for each role and each quantity how many rows lie
 * inside the bands, which way the forecast errs and how far. */

#include "compare.h"
#include "roles.h"

G_BEGIN_DECLS

/* How the error of a quantity is told. */
typedef enum
{
  DEW_SUMMARY_RATIO,      /* bias: predicted / reference; error: share of the reference */
  DEW_SUMMARY_DIFFERENCE, /* bias and error: predicted - reference, in the row's unit */
  DEW_SUMMARY_SHARE,      /* bias and error: difference as a share of the row's scale */
  DEW_SUMMARY_SPEED,      /* bias: ratio; error: difference in m/s */
  DEW_SUMMARY_VALUE       /* a correlation. bias: predicted; error: shortfall from 1 */
} DewSummaryKind;

/* One line: a quantity, or all of them. */
typedef struct
{
  const char *quantity; /* as in the rows; NULL: all together */
  DewSummaryKind kind;
  int rows, goal, out; /* of the rows, inside the goal and outside 'must' */
  double bias;         /* the median; NAN where it has no meaning */
  double error90;      /* that nine rows of ten do not exceed; NAN likewise */
  int banded, held;    /* rows with a band, and of these those whose reference is inside */
} DewSummaryLine;

typedef struct
{
  int cases[DEW_N_ROLES];
  GArray *rows[DEW_N_ROLES];  /* DewCaseRow, all that were added */
  GArray *lines[DEW_N_ROLES]; /* DewSummaryLine, quantities in fixed order, then all;
                               * empty for a role without a case */
} DewSummary;

DewSummary *dew_summary_new (void);
void dew_summary_free (DewSummary *summary);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewSummary, dew_summary_free)

/* Takes up the rows (DewCaseRow) of one case. */
void dew_summary_add (DewSummary *summary, DewRole role, const GArray *rows);
/* Makes the lines; nothing is added afterwards. */
void dew_summary_close (DewSummary *summary);

/* The line of all quantities of a role; NULL when it has no case. */
const DewSummaryLine *dew_summary_all (const DewSummary *summary, DewRole role);
double dew_summary_percent (int part, int whole); /* 0 of nothing */

/* A table for people (transfer full): plain text, or Markdown. */
char *dew_summary_text (const DewSummary *summary, gboolean markdown);

G_END_DECLS
