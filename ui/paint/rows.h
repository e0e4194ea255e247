/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The arrangement of the sheet in which every bay is a row. */

#include "paint/sheet-private.h"

G_BEGIN_DECLS

#define DEW_PLAN_CAPTION 20.0 /* over a plan, at text scale 1 */
#define DEW_PLAN_CHAIN 52.0   /* left of an enlarged one: how deep its places are */

/* How large the rows are and what of them is shown. The first three are given. */
typedef struct
{
  double unit;   /* text scale */
  double labels; /* px of the column of the bays' values */
  int n_bays;    /* and their heights, m: [n_bays + 1], lent */
  const double *z_m;
  double scale, plan_scale; /* px per metre */
  gboolean has_plans, has_side;
  gboolean low_legend; /* under the widths, not beside that of the front view */
} DewRows;

/* Finds how large the rows may be; FALSE where there is no room for the plans (then scale is
 * that of the front view alone). */
gboolean dew_rows_fit (DewRows *rows, const DewSheet *sheet, const double inner_m[3], double width,
                       double height);
/* Puts the views where they go; layout->plan_z_m is filled already. */
void dew_rows_place (const DewSheet *sheet, DewSheetLayout *layout, const DewRows *rows,
                     double zoom, const double pan_px[2]);
void dew_rows_place_legend (DewSheetLayout *layout, const DewRows *rows);

G_END_DECLS
