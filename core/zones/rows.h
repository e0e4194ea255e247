/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Sweeps over zones in the order of their memory, or backward, in which each zone waits for
 * the one before it. Two things make them quick without changing what they compute:
 *
 * All but the waiting is done for a whole row at once: u[i] = t[i] + c[i] u[i - 1], where t and
 * c need nothing of this row that the sweep has still to find.
 *
 * Rows of equal j + k do not see each other in a sweep, only those of j + k - 1 and j + k + 1.
 * So DEW_ROWS of them wait side by side, in the time that one would take. */

#include "zones/twice.h"
#include "zones/zones.h"

G_BEGIN_DECLS

#define DEW_ROWS 4

/* Up to DEW_ROWS rows of equal j + k. */
typedef struct
{
  int n;
  int at;   /* padded index of i = 0 of the first */
  int skip; /* from one row to the next */
} DewRows;

/* All rows from j = first_j and k = first_k on, so that each comes after those that a sweep
 * in the order of memory has before it and sees. Backward: the other way round. */
typedef struct
{
  int n;
  DewRows *rows; /* [n] */
  int row;       /* numbers of one row in t and c: whole lanes, i from 0 */
  double *t, *c; /* [DEW_ROWS][row] work space of a sweep */
} DewRowOrder;

void dew_row_order_init (DewRowOrder *order, const DewZones *zones, int first_j, int first_k);
void dew_row_order_clear (DewRowOrder *order);

DEW_PART void
dew_rows_wait_n (int n_rows, int count, int step, const double *t, const double *c, int row,
                 double *u, int skip)
{
  double last[DEW_ROWS];

  for (int r = 0; r < n_rows; r++)
    last[r] = u[r * skip - step];
  for (int i = 0; i != count * step; i += step)
    for (int r = 0; r < n_rows; r++)
      u[r * skip + i] = last[r] = t[r * row + i] + c[r * row + i] * last[r];
}

/* From t and c of the order: u[i] = t[i] + c[i] u[i - 1] for i = first .. last, or, step -1,
 * u[i] = t[i] + c[i] u[i + 1] from the last down. */
DEW_PART void
dew_rows_wait (const DewRowOrder *order, const DewRows *rows, int first, int last, int step,
               double *u)
{
  int begin = step > 0 ? first : last, count = last - first + 1;
  const double *t = order->t + begin, *c = order->c + begin;

  u += rows->at + begin;
  switch (rows->n)
    {
    case 4:
      dew_rows_wait_n (4, count, step, t, c, order->row, u, rows->skip);
      break;
    case 3:
      dew_rows_wait_n (3, count, step, t, c, order->row, u, rows->skip);
      break;
    case 2:
      dew_rows_wait_n (2, count, step, t, c, order->row, u, rows->skip);
      break;
    default:
      dew_rows_wait_n (1, count, step, t, c, order->row, u, rows->skip);
    }
}

G_END_DECLS
