/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "flow/apart.h"

#include "zones/twice.h"

#include <math.h>
#include <string.h>

/* A pivot that must be negative and is nearer to zero: what A is set apart by all but parts
 * it, and digits are lost. */
#define LEAST_PIVOT 1e-9

/* A row of cells along x in which values are read, those of points first .. first + n - 1. */
typedef struct
{
  int j, k;
  int first, n;
} Row;

/* root times one value, or times the difference of two. */
typedef struct
{
  int value[2]; /* the second may be -1 */
  double root;  /* of |D|, m^1/2 */
  double sign;
} Column;

struct _DewApart
{
  int n_points, n_values; /* values: of points, then the level mode in planes with pins */
  int n_rows, n_columns;
  Row *rows;
  int *point_i;    /* [n_points] */
  int *level_k;    /* [n_values - n_points] */
  Column *columns; /* positive ones first */
  double
    *factor; /* [n_columns][n_columns] L below the diagonal, its transpose above, 1 / D on it */
  double *values;  /* [n_values] */
  double *amounts; /* [n_columns] */
  double *row;     /* [row] */
};

/* --- which values ---------------------------------------------------------------- */

static int
point_key (const DewSeparable *s, const int cell[3])
{
  return cell[0] + s->n[0] * (cell[1] + s->n[1] * cell[2]);
}

static int
compare_ints (gconstpointer a, gconstpointer b)
{
  return *(const int *) a - *(const int *) b;
}

/* Cells that faces touch, each once, in the order of memory: their keys. */
static GArray *
find_points (const DewSeparable *s, const GArray *faces)
{
  GArray *keys = g_array_new (FALSE, FALSE, sizeof (int));
  guint n = 0;

  for (guint f = 0; f < faces->len; f++)
    {
      const DewApartFace *face = &g_array_index (faces, DewApartFace, f);

      for (int c = 0; c < face->n_cells; c++)
        {
          int key = point_key (s, face->cell[c]);

          g_array_append_val (keys, key);
        }
    }
  g_array_sort (keys, compare_ints);
  for (guint i = 0; i < keys->len; i++)
    if (i == 0 || g_array_index (keys, int, i) != g_array_index (keys, int, n - 1))
      g_array_index (keys, int, n++) = g_array_index (keys, int, i);
  g_array_set_size (keys, n);
  return keys;
}

static void
add_rows (DewApart *a, const DewSeparable *s, GArray *keys)
{
  a->n_points = keys->len;
  a->point_i = g_new (int, MAX (1, keys->len));
  a->rows = g_new0 (Row, MAX (1, keys->len));
  for (guint p = 0; p < keys->len; p++)
    {
      int key = g_array_index (keys, int, p);
      int j = key / s->n[0] % s->n[1], k = key / (s->n[0] * s->n[1]);
      Row *row = &a->rows[MAX (0, a->n_rows - 1)];

      a->point_i[p] = key % s->n[0];
      if (row->n == 0 || row->j != j || row->k != k)
        {
          row = &a->rows[a->n_rows++];
          *row = (Row){ j, k, p, 0 };
        }
      row->n++;
    }
}

static void
add_columns (DewApart *a, const DewSeparable *s, GArray *keys, const GArray *faces, double sign)
{
  for (guint f = 0; f < faces->len; f++)
    {
      const DewApartFace *face = &g_array_index (faces, DewApartFace, f);
      Column column = { { -1, -1 }, sqrt (fabs (face->more_m)), sign };

      if (sign * face->more_m <= 0.0)
        continue;
      for (int c = 0; c < face->n_cells; c++)
        {
          int key = point_key (s, face->cell[c]);
          guint at = 0;

          g_array_binary_search (keys, &key, compare_ints, &at);
          column.value[c] = at;
        }
      a->columns[a->n_columns++] = column;
    }
}

/* --- their matrix ------------------------------------------------------------------ */

DEW_PART double
product_of_rows (int n, const double *a, const double *b)
{
  DewLanes sum = { 0 };

  for (int m = 0; m < n; m += DEW_LANES)
    sum += *(const DewLanes *) (a + m) * *(const DewLanes *) (b + m);
  return (sum[0] + sum[1]) + (sum[2] + sum[3]);
}

/* Values of the points of rows first .. n_rows - 1. */
DEW_TWICE static void
read_points (DewApart *a, const DewSeparable *s, int first, const double *modes, double *values)
{
  for (int r = first; r < a->n_rows; r++)
    {
      const Row *row = &a->rows[r];

      dew_separable_row (s, modes, row->j, row->k, a->row);
      for (int p = row->first; p < row->first + row->n; p++)
        values[p] = product_of_rows (s->row, a->row, s->x_modes + a->point_i[p] * s->row);
    }
}

/* What a unit source in each point or level mode does to the value of each: symmetric, so only
 * [p][q] with p <= q is set. */
static double *
respond (DewApart *a, const DewSeparable *s)
{
  int n = a->n_values, first = 0;
  double *g = g_new0 (double, (gsize) n *n);
  g_autofree double *source = g_new (double, s->plane);
  g_autofree double *modes = g_new0 (double, s->size);

  for (int r = 0; r < a->n_rows; r++)
    {
      const Row *row = &a->rows[r];

      /* Rows below follow from symmetry. */
      while (a->rows[first].k < row->k)
        first++;
      for (int p = row->first; p < row->first + row->n; p++)
        {
          memset (source, 0, sizeof (double) * s->plane);
          dew_separable_add_row (s, source, row->j, 0, s->x_modes + a->point_i[p] * s->row);
          dew_separable_solve_plane (s, row->k, source, modes);
          read_points (a, s, first, modes, a->values);
          memcpy (g + (gsize) p * n + p, a->values + p, sizeof (double) * (a->n_points - p));
        }
    }
  for (int v = a->n_points; v < n; v++)
    {
      int k = a->level_k[v - a->n_points];

      /* The pin is in the lowest plane of its slab, so all of it lies above. */
      memset (source, 0, sizeof (double) * s->plane);
      source[0] = 1.0;
      memset (modes, 0, sizeof (double) * s->size);
      dew_separable_solve_plane (s, k, source, modes);
      read_points (a, s, 0, modes, a->values);
      for (int q = 0; q < a->n_points; q++)
        g[(gsize) q * n + v] = a->values[q];
      for (int w = v; w < n; w++)
        g[(gsize) v * n + w] = modes[a->level_k[w - a->n_points] * s->plane];
    }
  return g;
}

/* Response of a value to that which a column is about. */
DEW_PART double
to_column (const double *g, int n, int value, const Column *column)
{
  double sum = 0.0;

  for (int c = 0; c < 2; c++)
    {
      int other = column->value[c];

      if (other >= 0)
        sum += (c == 0 ? 1.0 : -1.0) * g[(gsize) MIN (value, other) * n + MAX (value, other)];
    }
  return sum;
}

/* The lower half of C. */
static void
combine (DewApart *a, const double *g)
{
  int n = a->n_columns;

  a->factor = g_new (double, (gsize) n *n);
  for (int c = 0; c < n; c++)
    for (int d = 0; d <= c; d++)
      {
        const Column *left = &a->columns[c], *right = &a->columns[d];
        double sum = to_column (g, a->n_values, right->value[0], left);

        if (right->value[1] >= 0)
          sum -= to_column (g, a->n_values, right->value[1], left);
        a->factor[(gsize) c * n + d] = left->root * right->root * sum + (c == d ? left->sign : 0.0);
      }
}

/* L D L' of the lower half in place, row by row from the left. */
DEW_TWICE static gboolean
factor (DewApart *a)
{
  int n = a->n_columns;

  for (int j = 0; j < n; j++)
    {
      double *pivot_row = a->factor + (gsize) j * n;
      double pivot = pivot_row[j], inverse;

      if (a->columns[j].sign * pivot < (a->columns[j].sign > 0.0 ? 0.5 : LEAST_PIVOT))
        return FALSE;
      inverse = 1.0 / pivot;
      /* The upper half of the row holds the column below the pivot, not divided yet. */
      for (int i = j + 1; i < n; i++)
        pivot_row[i] = a->factor[(gsize) i * n + j];
      for (int i = j + 1; i < n; i++)
        {
          double *restrict row = a->factor + (gsize) i * n;
          const double *restrict column = pivot_row;
          double share = column[i] * inverse;

          for (int c = j + 1; c <= i; c++)
            row[c] -= share * column[c];
          row[j] = share;
        }
      for (int i = j + 1; i < n; i++)
        pivot_row[i] = a->factor[(gsize) i * n + j];
      pivot_row[j] = inverse;
    }
  return TRUE;
}

/* --- making ------------------------------------------------------------------------ */

DewApart *
dew_apart_new (const DewSeparable *s, const GArray *faces, const gboolean *loose, const double *pin)
{
  g_autoptr (DewApart) a = g_new0 (DewApart, 1);
  g_autoptr (GArray) keys = find_points (s, faces);
  g_autofree double *g = NULL;

  add_rows (a, s, keys);
  a->n_values = a->n_points;
  a->level_k = g_new (int, s->n_slabs);
  a->columns = g_new (Column, faces->len + s->n_slabs);
  add_columns (a, s, keys, faces, 1.0);
  add_columns (a, s, keys, faces, -1.0);
  for (int l = 0; l < s->n_slabs; l++)
    if (loose[l])
      {
        a->columns[a->n_columns++] = (Column){ { a->n_values, -1 }, sqrt (pin[l]), -1.0 };
        a->level_k[a->n_values++ - a->n_points] = s->pin_plane[l];
      }
  a->values = g_new0 (double, MAX (1, a->n_values));
  a->amounts = g_new0 (double, MAX (1, a->n_columns));
  a->row = g_new0 (double, s->row);
  g = respond (a, s);
  combine (a, g);
  return factor (a) ? g_steal_pointer (&a) : NULL;
}

void
dew_apart_free (DewApart *a)
{
  if (a == NULL)
    return;
  g_free (a->rows);
  g_free (a->point_i);
  g_free (a->level_k);
  g_free (a->columns);
  g_free (a->factor);
  g_free (a->values);
  g_free (a->amounts);
  g_free (a->row);
  g_free (a);
}

/* --- solving ----------------------------------------------------------------------- */

/* amounts = C^-1 amounts. */
DEW_TWICE static void
solve (DewApart *a)
{
  int n = a->n_columns;
  double *restrict x = a->amounts;

  for (int j = 0; j < n; j++)
    {
      const double *restrict column = a->factor + (gsize) j * n;
      double from = x[j];

      for (int i = j + 1; i < n; i++)
        x[i] -= from * column[i];
    }
  for (int j = 0; j < n; j++)
    x[j] *= a->factor[(gsize) j * (n + 1)];
  for (int j = n - 1; j >= 0; j--)
    {
      const double *restrict row = a->factor + (gsize) j * n;
      double from = x[j];

      for (int i = 0; i < j; i++)
        x[i] -= from * row[i];
    }
}

static void
take_off (DewApart *a, const DewSeparable *s, double *source)
{
  for (int r = 0; r < a->n_rows; r++)
    {
      const Row *row = &a->rows[r];

      memset (a->row, 0, sizeof (double) * s->row);
      for (int p = row->first; p < row->first + row->n; p++)
        for (int m = 0; m < s->row; m++)
          a->row[m] -= a->values[p] * s->x_modes[a->point_i[p] * s->row + m];
      dew_separable_add_row (s, source, row->j, row->k, a->row);
    }
  for (int v = a->n_points; v < a->n_values; v++)
    source[a->level_k[v - a->n_points] * s->plane] -= a->values[v];
}

gboolean
dew_apart_correct (DewApart *a, const DewSeparable *s, const double *x, double *source)
{
  if (a->n_columns == 0)
    return FALSE;
  read_points (a, s, 0, x, a->values);
  for (int v = a->n_points; v < a->n_values; v++)
    a->values[v] = x[a->level_k[v - a->n_points] * s->plane];
  for (int c = 0; c < a->n_columns; c++)
    {
      const Column *column = &a->columns[c];

      a->amounts[c] = column->root
                      * (a->values[column->value[0]]
                         - (column->value[1] < 0 ? 0.0 : a->values[column->value[1]]));
    }
  solve (a);
  memset (a->values, 0, sizeof (double) * a->n_values);
  for (int c = 0; c < a->n_columns; c++)
    {
      const Column *column = &a->columns[c];

      a->values[column->value[0]] += column->root * a->amounts[c];
      if (column->value[1] >= 0)
        a->values[column->value[1]] -= column->root * a->amounts[c];
    }
  take_off (a, s, source);
  return TRUE;
}
