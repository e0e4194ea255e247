/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "flow/pressure.h"

#include "flow/apart.h"
#include "flow/parts.h"

#include <math.h>
#include <string.h>

#include <suitesparse/cholmod.h>

/* Where more faces than this share of the zones are apart, or than can be factored densely in
 * reasonable time, the sparse factorisation is quicker. */
#define ZONES_PER_FACE_APART 5
#define MOST_FACES_APART 1200

/* Conductances that differ by less than this share are the same. */
#define SAME 1e-12

struct _DewPressure
{
  gint ref_count;
  DewParts *parts;
  double *part_sum; /* [parts->n] */

  /* Either this ... */
  DewSeparable *separable;
  DewApart *apart;
  double *source, *modes; /* [separable->size] */

  /* ... or that. */
  cholmod_common common;
  cholmod_factor *factor;
  cholmod_dense *b, *x, *y, *e; /* kept between solves: nothing is allocated while stepping */
};

/* --- fast diagonalisation ------------------------------------------------------------- */

static int
compare_doubles (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* The share that most faces of a plane are open by; n values, which are sorted. */
static double
usual_share (double *shares, int n)
{
  int most = 0;
  double usual = 0.0;

  qsort (shares, n, sizeof *shares, compare_doubles);
  for (int first = 0, end; first < n; first = end)
    {
      for (end = first + 1; end < n && shares[end] - shares[first] <= SAME; end++)
        ;
      if (end - first > most)
        {
          most = end - first;
          usual = shares[first];
        }
    }
  return usual;
}

static double *
usual_shares (const DewZones *z)
{
  double *share = g_new0 (double, z->n[2] + 1);
  g_autofree double *plane = g_new (double, z->n[0] * z->n[1]);

  for (int k = 1; k < z->n[2]; k++)
    {
      int n = 0;

      for (int j = 1; j <= z->n[1]; j++)
        for (int i = 1; i <= z->n[0]; i++)
          {
            int at = dew_zones_at (z, i, j, k + 1);

            plane[n++]
              = z->kind[2][at] == DEW_FACE_IS_INSIDE ? z->open_m2[2][at] / z->gross_m2[2][at] : 0.0;
          }
      share[k] = usual_share (plane, n);
    }
  return share;
}

/* Conductances of the faces inside that differ from the separable ones, and of those to the
 * room, a zone's together. DewApartFace (transfer full). */
static GArray *
find_faces_apart (const DewZones *z, const double *share)
{
  GArray *faces = g_array_new (FALSE, FALSE, sizeof (DewApartFace));
  g_autofree double *room = g_new0 (double, z->size);

  for (int k = 1; k <= z->n[2] + 1; k++)
    for (int j = 1; j <= z->n[1] + 1; j++)
      for (int i = 1; i <= z->n[0] + 1; i++)
        for (int a = 0; a < 3; a++)
          {
            int c[3] = { i, j, k }, at = dew_zones_at (z, i, j, k);
            double has = dew_parts_conductance (z, a, c);

            if (z->gross_m2[a][at] == 0.0)
              continue;
            if (c[a] == 1 || c[a] == z->n[a] + 1)
              {
                room[c[a] == 1 ? at : at - z->stride[a]] += has;
                continue;
              }

            double whole = z->gross_m2[a][at] / z->gap_m[a][c[a]];
            double more = has - (a == 2 ? whole * share[k - 1] : whole);
            DewApartFace face = { { { i - 1, j - 1, k - 1 }, { i - 1, j - 1, k - 1 } }, 2, more };

            face.cell[0][a]--;
            if (fabs (more) > SAME * whole)
              g_array_append_val (faces, face);
          }
  DEW_EACH_ZONE (z, at)
    if (room[at] > 0.0)
      {
        DewApartFace face
          = { { { at - dew_zones_at (z, 0, j_, k_) - 1, j_ - 1, k_ - 1 } }, 1, room[at] };

        g_array_append_val (faces, face);
      }
  return faces;
}

/* Whether each slab lies within one part, so that a pin each holds all levels. */
static gboolean
slabs_hold (const DewPressure *p, const DewZones *z)
{
  const int *part = p->parts->part;
  int plane = z->n[0] * z->n[1];

  for (int zone = 0; zone < z->n_zones; zone++)
    {
      int first = p->separable->pin_plane[p->separable->slab[zone / plane]];

      if (part[zone] != part[first * plane])
        return FALSE;
    }
  return TRUE;
}

/* A pin as strong as all that joins its slab to elsewhere, so that taking it out again costs
 * no digits. */
static void
choose_pins (const DewPressure *p, const DewZones *z, const GArray *faces, double *pin,
             gboolean *loose)
{
  const DewSeparable *s = p->separable;
  int plane = z->n[0] * z->n[1];
  g_autofree gboolean *held = g_new0 (gboolean, p->parts->n);

  for (guint f = 0; f < faces->len; f++)
    {
      const DewApartFace *face = &g_array_index (faces, DewApartFace, f);

      for (int c = 0; c < face->n_cells && face->more_m > 0.0; c++)
        pin[s->slab[face->cell[c][2]]] += face->more_m / (z->inner_m[0] * z->inner_m[1]);
    }
  for (int l = 0; l < s->n_slabs; l++)
    {
      int part = p->parts->part[s->pin_plane[l] * plane];

      /* A closed part keeps one. */
      loose[l] = !p->parts->closed[part] || held[part];
      held[part] = TRUE;
      if (pin[l] == 0.0)
        pin[l] = 1.0 / z->inner_m[2];
    }
}

/* FALSE when it does not fit. */
static gboolean
diagonalise (DewPressure *p, const DewZones *z)
{
  g_autofree double *share = usual_shares (z);
  g_autoptr (GArray) faces = find_faces_apart (z, share);
  g_autofree double *pin = g_new0 (double, z->n[2]);
  g_autofree gboolean *loose = g_new0 (gboolean, z->n[2]);

  if ((int) faces->len > MIN (MOST_FACES_APART, z->n_zones / ZONES_PER_FACE_APART))
    return FALSE;
  p->separable = dew_separable_new (z, share);
  if (!slabs_hold (p, z))
    return FALSE;
  choose_pins (p, z, faces, pin, loose);
  dew_separable_factor (p->separable, z, pin);
  p->apart = dew_apart_new (p->separable, faces, loose, pin);
  p->source = g_new0 (double, p->separable->size);
  p->modes = g_new0 (double, p->separable->size);
  return p->apart != NULL;
}

/* Takes the mean over the volume out of the level modes of closed parts: of sources, which
 * are integrals over zones, or of values. */
static void
level_modes (DewPressure *p, const DewZones *z, double *modes, gboolean integrals)
{
  const DewSeparable *s = p->separable;
  const double *height = z->width_m[2] + 1;
  int plane = z->n[0] * z->n[1];

  memset (p->part_sum, 0, sizeof (double) * p->parts->n);
  for (int k = 0; k < s->n[2]; k++)
    p->part_sum[p->parts->part[k * plane]] += modes[k * s->plane] * (integrals ? 1.0 : height[k]);
  for (int k = 0; k < s->n[2]; k++)
    {
      int part = p->parts->part[k * plane];

      if (p->parts->closed[part])
        modes[k * s->plane] -= p->part_sum[part] * (integrals ? height[k] : 1.0) * z->inner_m[0]
                               * z->inner_m[1] / p->parts->volume_m3[part];
    }
}

static void
solve_fast (DewPressure *p, const DewZones *z, const double *source, double *phi)
{
  dew_separable_to_modes (p->separable, z, source, p->source);
  level_modes (p, z, p->source, TRUE);
  dew_separable_solve (p->separable, p->source, p->modes);
  if (dew_apart_correct (p->apart, p->separable, p->modes, p->source))
    dew_separable_solve (p->separable, p->source, p->modes);
  level_modes (p, z, p->modes, FALSE);
  dew_separable_from_modes (p->separable, z, p->modes, phi);
}

/* --- sparse factorisation --------------------------------------------------------------- */

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
assemble (const DewZones *z, const DewParts *parts, cholmod_common *common)
{
  int n = z->n_zones;
  cholmod_triplet *t = cholmod_allocate_triplet (n, n, 4 * (size_t) n + 1, 1, CHOLMOD_REAL, common);
  g_autofree double *diagonal = g_new0 (double, n);
  int step[3] = { 1, z->n[0], z->n[0] * z->n[1] };
  int part = 0;

  for (int k = 1; k <= z->n[2] + 1; k++)
    for (int j = 1; j <= z->n[1] + 1; j++)
      for (int i = 1; i <= z->n[0] + 1; i++)
        {
          int c[3] = { i, j, k };
          int at = dew_zones_at (z, i, j, k);
          int row = (i - 1) + step[1] * (j - 1) + step[2] * (k - 1);

          for (int a = 0; a < 3; a++)
            {
              double g = dew_parts_conductance (z, a, c);

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
  for (int row = 0; row < n; row++)
    {
      /* Pins the level that nothing else fixes, in the first zone of each closed part. */
      if (parts->part[row] == part && parts->closed[part++])
        diagonal[row] += 1e-6 * diagonal[row];
      add_entry (t, row, row, diagonal[row]);
    }

  cholmod_sparse *m = cholmod_triplet_to_sparse (t, t->nnz, common);
  cholmod_free_triplet (&t, common);
  return m;
}

static gboolean
factorise (DewPressure *p, const DewZones *z)
{
  cholmod_start (&p->common);
  /* Simplicial LL' with minimum degree: without a tuned BLAS the supernodal
   * way is slower for matrices of this size. */
  p->common.supernodal = CHOLMOD_SIMPLICIAL;
  p->common.final_ll = 1;
  p->common.nmethods = 1;
  p->common.method[0].ordering = CHOLMOD_AMD;
  p->common.postorder = 1;
  p->common.print = 0;

  cholmod_sparse *m = assemble (z, p->parts, &p->common);
  p->factor = cholmod_analyze (m, &p->common);
  cholmod_factorize (m, p->factor, &p->common);
  cholmod_free_sparse (&m, &p->common);
  if (p->common.status < CHOLMOD_OK || p->factor->minor < (size_t) z->n_zones)
    return FALSE;
  p->b = cholmod_zeros (z->n_zones, 1, CHOLMOD_REAL, &p->common);
  return TRUE;
}

/* As level_modes(), of zones. */
static void
level_zones (DewPressure *p, const DewZones *z, double *x, gboolean integrals)
{
  const DewParts *parts = p->parts;
  int zone = 0;

  memset (p->part_sum, 0, sizeof (double) * parts->n);
  DEW_EACH_ZONE (z, at)
    {
      p->part_sum[parts->part[zone]] += x[zone] * (integrals ? 1.0 : z->volume_m3[at]);
      zone++;
    }
  zone = 0;
  DEW_EACH_ZONE (z, at)
    {
      int part = parts->part[zone];

      if (parts->closed[part])
        x[zone]
          -= p->part_sum[part] * (integrals ? z->volume_m3[at] : 1.0) / parts->volume_m3[part];
      zone++;
    }
}

static void
solve_factored (DewPressure *p, const DewZones *z, const double *source, double *phi)
{
  double *b = p->b->x;
  int row = 0;

  for (int k = 1; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++, row += z->n[0])
      memcpy (b + row, source + dew_zones_at (z, 1, j, k), sizeof (double) * z->n[0]);
  level_zones (p, z, b, TRUE);
  cholmod_solve2 (CHOLMOD_A, p->factor, p->b, NULL, &p->x, NULL, &p->y, &p->e, &p->common);
  level_zones (p, z, p->x->x, FALSE);

  const double *x = p->x->x;

  row = 0;
  for (int k = 1; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++, row += z->n[0])
      memcpy (phi + dew_zones_at (z, 1, j, k), x + row, sizeof (double) * z->n[0]);
}

/* --- either ------------------------------------------------------------------------------ */

static DewPressure *
make (const DewZones *z, gboolean try_fast)
{
  g_autoptr (DewPressure) p = g_new0 (DewPressure, 1);

  p->ref_count = 1;
  p->parts = dew_parts_new (z);
  p->part_sum = g_new0 (double, p->parts->n);
  if (try_fast && diagonalise (p, z))
    return g_steal_pointer (&p);
  g_clear_pointer (&p->separable, dew_separable_free);
  return factorise (p, z) ? g_steal_pointer (&p) : NULL;
}

DewPressure *
dew_pressure_new (const DewZones *zones)
{
  return make (zones, TRUE);
}

DewPressure *
dew_pressure_new_factored (const DewZones *zones)
{
  return make (zones, FALSE);
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
  dew_parts_free (p->parts);
  g_free (p->part_sum);
  if (p->separable == NULL)
    {
      cholmod_free_factor (&p->factor, &p->common);
      cholmod_free_dense (&p->b, &p->common);
      cholmod_free_dense (&p->x, &p->common);
      cholmod_free_dense (&p->y, &p->common);
      cholmod_free_dense (&p->e, &p->common);
      cholmod_finish (&p->common);
    }
  dew_separable_free (p->separable);
  dew_apart_free (p->apart);
  g_free (p->source);
  g_free (p->modes);
  g_free (p);
}

gboolean
dew_pressure_is_fast (const DewPressure *p)
{
  return p->separable != NULL;
}

void
dew_pressure_solve (DewPressure *p, const DewZones *z, const double *source, double *phi)
{
  if (p->separable != NULL)
    solve_fast (p, z, source, phi);
  else
    solve_factored (p, z, source, phi);
}

void
dew_pressure_library (int compiled[3], int running[3])
{
  compiled[0] = CHOLMOD_MAIN_VERSION;
  compiled[1] = CHOLMOD_SUB_VERSION;
  compiled[2] = CHOLMOD_SUBSUB_VERSION;
  cholmod_version (running);
}
