/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "flow/pressure.h"

#include <string.h>

#include <suitesparse/cholmod.h>

struct _DewPressure
{
  gint ref_count;
  cholmod_common common;
  cholmod_factor *factor;
  cholmod_dense *b, *x, *y, *e; /* kept between solves: nothing is allocated while stepping */
  gboolean sealed;
  int n_zones;
};

/* Neighbour of the zone across its low face along an axis, as a matrix entry. */
static void
add_entry (cholmod_triplet *t, int row, int column, double value)
{
  int *ti = t->i, *tj = t->j;
  double *tx = t->x;

  ti[t->nnz] = row;
  tj[t->nnz] = column;
  tx[t->nnz] = value;
  t->nnz++;
}

static cholmod_sparse *
assemble (const DewZones *z, cholmod_common *common)
{
  int n = z->n_zones;
  cholmod_triplet *t = cholmod_allocate_triplet (n, n, 4 * (size_t) n + 1, 1, CHOLMOD_REAL, common);
  g_autofree double *diagonal = g_new0 (double, n);
  int step[3] = { 1, z->n[0], z->n[0] * z->n[1] };

  for (int k = 1; k <= z->n[2] + 1; k++)
    for (int j = 1; j <= z->n[1] + 1; j++)
      for (int i = 1; i <= z->n[0] + 1; i++)
        {
          int c[3] = { i, j, k };
          int at = dew_zones_at (z, i, j, k);
          int row = (i - 1) + step[1] * (j - 1) + step[2] * (k - 1);

          for (int a = 0; a < 3; a++)
            {
              double g = z->open_m2[a][at] / z->gap_m[a][c[a]];

              if (z->kind[a][at] == DEW_FACE_IS_INSIDE)
                {
                  diagonal[row] += g;
                  diagonal[row - step[a]] += g;
                  add_entry (t, row - step[a], row, -g); /* upper triangle */
                }
              else if (z->kind[a][at] == DEW_FACE_IS_ROOM)
                diagonal[c[a] == 1 ? row : row - step[a]] += g;
            }
        }
  if (z->sealed)
    diagonal[0] += 1e-6 * diagonal[0]; /* pins the level that nothing else fixes */
  for (int row = 0; row < n; row++)
    add_entry (t, row, row, diagonal[row]);

  cholmod_sparse *m = cholmod_triplet_to_sparse (t, t->nnz, common);
  cholmod_free_triplet (&t, common);
  return m;
}

DewPressure *
dew_pressure_new (const DewZones *z)
{
  DewPressure *p = g_new0 (DewPressure, 1);

  p->ref_count = 1;
  p->sealed = z->sealed;
  p->n_zones = z->n_zones;
  cholmod_start (&p->common);
  /* Simplicial LL' with minimum degree: without a tuned BLAS the supernodal
   * way is slower for matrices of this size. */
  p->common.supernodal = CHOLMOD_SIMPLICIAL;
  p->common.final_ll = 1;
  p->common.nmethods = 1;
  p->common.method[0].ordering = CHOLMOD_AMD;
  p->common.postorder = 1;
  p->common.print = 0;

  cholmod_sparse *m = assemble (z, &p->common);
  p->factor = cholmod_analyze (m, &p->common);
  cholmod_factorize (m, p->factor, &p->common);
  cholmod_free_sparse (&m, &p->common);
  if (p->common.status < CHOLMOD_OK || p->factor->minor < (size_t) z->n_zones)
    {
      dew_pressure_unref (p);
      return NULL;
    }
  p->b = cholmod_zeros (z->n_zones, 1, CHOLMOD_REAL, &p->common);
  return p;
}

DewPressure *
dew_pressure_ref (DewPressure *p)
{
  g_atomic_int_inc (&p->ref_count);
  return p;
}

void
dew_pressure_unref (DewPressure *p)
{
  if (p == NULL || !g_atomic_int_dec_and_test (&p->ref_count))
    return;
  cholmod_free_factor (&p->factor, &p->common);
  cholmod_free_dense (&p->b, &p->common);
  cholmod_free_dense (&p->x, &p->common);
  cholmod_free_dense (&p->y, &p->common);
  cholmod_free_dense (&p->e, &p->common);
  cholmod_finish (&p->common);
  g_free (p);
}

void
dew_pressure_solve (DewPressure *p, const DewZones *z, const double *source, double *phi)
{
  double *b = p->b->x;
  int row = 0;

  for (int k = 1; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++, row += z->n[0])
      memcpy (b + row, source + dew_zones_at (z, 1, j, k), sizeof (double) * z->n[0]);

  cholmod_solve2 (CHOLMOD_A, p->factor, p->b, NULL, &p->x, NULL, &p->y, &p->e, &p->common);

  const double *x = p->x->x;
  double mean = 0.0;

  if (p->sealed)
    {
      for (int r = 0; r < p->n_zones; r++)
        mean += x[r];
      mean /= p->n_zones;
    }
  row = 0;
  for (int k = 1; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++)
      for (int i = 1; i <= z->n[0]; i++)
        phi[dew_zones_at (z, i, j, k)] = x[row++] - mean;
}

void
dew_pressure_library (int compiled[3], int running[3])
{
  compiled[0] = CHOLMOD_MAIN_VERSION;
  compiled[1] = CHOLMOD_SUB_VERSION;
  compiled[2] = CHOLMOD_SUBSUB_VERSION;
  cholmod_version (running);
}
