/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "zones/rows.h"

void
dew_row_order_init (DewRowOrder *o, const DewZones *z, int first_j, int first_k)
{
  int most = (z->n[1] + 1) * (z->n[2] + 1);

  o->n = 0;
  o->rows = g_new (DewRows, most);
  for (int d = first_j + first_k; d <= z->n[1] + z->n[2]; d++)
    {
      int last = MIN (z->n[2], d - first_j);

      for (int k = MAX (first_k, d - z->n[1]); k <= last; k += DEW_ROWS)
        o->rows[o->n++] = (DewRows){ MIN (DEW_ROWS, last - k + 1), dew_zones_at (z, 0, d - k, k),
                                     z->stride[2] - z->stride[1] };
    }
  /* Whole lanes may begin at i = 1 or 2 and run on past the end. */
  o->row = DEW_WHOLE_LANES (z->n[0] + 1) + DEW_LANES;
  o->t = g_new0 (double, DEW_ROWS * o->row);
  o->c = g_new0 (double, DEW_ROWS * o->row);
}

void
dew_row_order_clear (DewRowOrder *o)
{
  g_free (o->rows);
  g_free (o->t);
  g_free (o->c);
}
