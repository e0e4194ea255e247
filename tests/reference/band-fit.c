/* SPDX-License-Identifier: GPL-3.0-or-later */

/* band-fit CASE.json...
 *
 * Finds the constants of the model's own error (forecast/bands.h, "how sure" in zones/fitted.h)
 * from the cases that roles.txt beside them has for training (all where there is none), and prints
 * what they hold: of each case by what the others alone would give (leave one out), and of the
 * cases with another role, which have no say in them. Exit status 1 when the constants as they
 * are do not hold about 90 % of each quantity of the cases for training: the model has changed
 * and they have to be found again; 2 when a case could not be run.
 *
 * Every row of a bay or quarter has a difference d between forecast and reference. What the
 * reference itself is unsure of is taken out of it, sqrt (d^2 - u^2). Of each floor that is
 * tried, the share is the one by which 90 % of the rows are held, hypot (share * scale, floor);
 * of these pairs the one is taken that holds alike in the thirds of the rows with the least, the
 * middle and the largest scale: so the band is as honest where little happens as in a jet. The
 * floor is part of the form, like the scale: left out in turn are the cases of the share.
 */

#include "compare.h"
#include "roles.h"

#include "forecast/bands.h"

#include <math.h>

#define HELD 0.90
#define HELD_NOW_LEAST 86.0 /* % */
#define HELD_NOW_MOST 94.0
#define MIN_SCALE 1e-9

typedef struct
{
  int of_case;
  DewBandGround ground;
  double scale, off, own_off; /* off: without what the reference is unsure of */
  double error;               /* half width by the constants as they are */
} Row;

/* Half widths that the reference is sure to (large-eddy cells of 6.7 against 10 mm and halves
 * of the averaging time, see README.md), and floors to try. */
static const struct
{
  const char *name;
  DewCaseQuantity in_case;
  double unsure, unsure_share;
  double floors[8];
} quantities[DEW_N_BANDS] = {
  [DEW_BAND_T] = { "temperature, K",
                   DEW_CASE_T_RISE,
                   0.08,
                   0.0,
                   { 0.03, 0.06, 0.1, 0.15, 0.18, 0.22, 0.26, 0.3 } },
  [DEW_BAND_W] = { "humidity ratio, kg/kg",
                   DEW_CASE_W_RISE,
                   0.0,
                   0.02,
                   { 2e-6, 5e-6, 1e-5, 2e-5, 3e-5, 5e-5, 7e-5, 1e-4 } },
  [DEW_BAND_SPEED] = { "speed, m/s",
                       DEW_CASE_SPEED,
                       0.006,
                       0.0,
                       { 0.002, 0.004, 0.006, 0.008, 0.01, 0.012, 0.015, 0.02 } },
  [DEW_BAND_STILL]
  = { "still share", DEW_CASE_STILL, 0.03, 0.0, { 0.01, 0.02, 0.03, 0.05, 0.07, 0.1, 0.13, 0.17 } },
  [DEW_BAND_AGE] = { "age, s", DEW_CASE_AGE, 1.0, 0.01, { 0.5, 1, 1.5, 2, 3, 4, 6, 8 } },
};

/* --- rows ------------------------------------------------------------------------------- */

/* Whether a case is there to judge, by the list beside it. */
static gboolean
has_no_say (const char *path, const DewCase *c)
{
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *list = g_build_filename (folder, "roles.txt", NULL);
  g_autoptr (DewRoles) roles = dew_roles_load (list, NULL);

  return roles != NULL && dew_roles_of (roles, c->name) != DEW_ROLE_TRAINING;
}

static gboolean
add_rows (const char *path, int of_case, GArray *lists[2][DEW_N_BANDS])
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewCase) c = dew_case_load (path, &error);
  GArray **rows;
  g_autoptr (DewForecast) f = NULL;
  g_autoptr (GArray) compared = NULL;
  DewForecastOptions options;
  DewBandGround ground;

  if (c != NULL)
    {
      dew_case_options (c, DEW_GRID_SETTLED, &options);
      f = dew_forecast_new (c->chamber, 0, &options, NULL, &error);
    }
  if (f == NULL)
    {
      g_printerr ("band-fit: %s: %s\n", path, error->message);
      return FALSE;
    }
  rows = lists[has_no_say (path, c)];
  compared = dew_case_compare (c, f);
  ground = dew_bands_ground (c->chamber, 0, FALSE);
  for (guint r = 0; r < compared->len; r++)
    {
      const DewCaseRow *from = &g_array_index (compared, DewCaseRow, r);

      ground.only_part = !g_str_equal (from->where, dew_case_part_key (DEW_CASE_BAY));
      for (int q = 0; q < DEW_N_BANDS; q++)
        if (from->of == (int) quantities[q].in_case)
          {
            double off = from->predicted - from->reference;
            double unsure
              = quantities[q].unsure + quantities[q].unsure_share * fabs (from->reference);
            Row row = { .of_case = of_case,
                        .ground = ground,
                        .scale = MAX (MIN_SCALE, dew_bands_scale (f, &from->climate, &ground, q)),
                        .off = sqrt (MAX (0.0, off * off - unsure * unsure)),
                        .own_off = fabs (off),
                        .error = dew_bands_error (f, &from->climate, &ground, q) };

            g_array_append_val (rows[q], row);
          }
    }
  return TRUE;
}

/* --- one pair of constants ----------------------------------------------------------------- */

/* The share that a row needs to be held, with a floor. */
static double
needs (const Row *row, double floor)
{
  return sqrt (MAX (0.0, row->off * row->off - floor * floor)) / row->scale;
}

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* By which HELD of the rows are held; those of one case (-1: none) have no say. The next of n
 * values is below the k-th smallest with probability k / (n + 1). */
static double
find_share (const GArray *rows, double floor, int without)
{
  g_autoptr (GArray) needed = g_array_new (FALSE, FALSE, sizeof (double));
  guint k;

  for (guint r = 0; r < rows->len; r++)
    {
      const Row *row = &g_array_index (rows, Row, r);
      double share = needs (row, floor);

      if (row->of_case != without)
        g_array_append_val (needed, share);
    }
  if (needed->len == 0)
    return NAN;
  g_array_sort (needed, compare_doubles);
  k = (guint) ceil (HELD * (needed->len + 1));
  return g_array_index (needed, double, MIN (k, needed->len) - 1);
}

static int
compare_scales (gconstpointer a, gconstpointer b)
{
  return compare_doubles (&((const Row *) a)->scale, &((const Row *) b)->scale);
}

/* Sum over the thirds, by scale, of how far each is from HELD, squared. `rows` in order of scale.
 */
static double
unevenness (const GArray *rows, double share, double floor)
{
  double sum = 0.0;

  for (int third = 0; third < 3; third++)
    {
      guint from = rows->len * third / 3, to = rows->len * (third + 1) / 3;
      int held = 0;

      for (guint r = from; r < to; r++)
        held += needs (&g_array_index (rows, Row, r), floor) <= share;
      if (to > from)
        sum += pow ((double) held / (to - from) - HELD, 2.0);
    }
  return sum;
}

/* --- the table -------------------------------------------------------------------------------- */

typedef enum
{
  ALL,
  BAYS,
  PARTS,
  FANS /* at openings */
} Which;

static gboolean
is_of (const Row *row, Which which)
{
  switch (which)
    {
    case BAYS:
      return !row->ground.only_part;
    case PARTS:
      return row->ground.only_part;
    case FANS:
      return row->ground.fan_at_opening > 0.3;
    default:
      return TRUE;
    }
}

/* Percentage of rows whose difference is within the error; by the constants as they are when
 * share is NAN. own: with what the reference is unsure of left in. */
static double
held (const GArray *rows, Which which, double share, double floor, gboolean own)
{
  int n = 0, inside = 0;

  for (guint r = 0; r < rows->len; r++)
    {
      const Row *row = &g_array_index (rows, Row, r);
      double error = isnan (share) ? row->error : hypot (share * row->scale, floor);

      if (!is_of (row, which))
        continue;
      n++;
      inside += (own ? row->own_off : row->off) <= error;
    }
  return n > 0 ? 100.0 * inside / n : NAN;
}

static double
held_when_left_out (const GArray *rows, double floor)
{
  double share = NAN;
  int last = -1, n = 0;

  for (guint r = 0; r < rows->len; r++)
    {
      const Row *row = &g_array_index (rows, Row, r);

      if (row->of_case != last)
        share = find_share (rows, floor, row->of_case);
      last = row->of_case;
      n += needs (row, floor) <= share;
    }
  return rows->len > 0 ? 100.0 * n / rows->len : NAN;
}

static double
mean_width (const GArray *rows, double share, double floor)
{
  double sum = 0.0;

  for (guint r = 0; r < rows->len; r++)
    sum += hypot (share * g_array_index (rows, Row, r).scale, floor) / rows->len;
  return sum;
}

/* Whether the constants as they are hold about as many as they should. */
static gboolean
print_quantity (int q, const GArray *fit, const GArray *judge)
{
  g_autoptr (GArray) by_scale = g_array_copy ((GArray *) fit);
  double best = INFINITY, share = NAN, floor = NAN, now = held (fit, ALL, NAN, NAN, FALSE);

  g_array_sort (by_scale, compare_scales);
  for (guint i = 0; i < G_N_ELEMENTS (quantities[q].floors); i++)
    {
      double try_floor = quantities[q].floors[i], try_share = find_share (fit, try_floor, -1);
      double uneven = unevenness (by_scale, try_share, try_floor);

      if (uneven < best)
        {
          best = uneven;
          share = try_share;
          floor = try_floor;
        }
    }
  g_print ("%-22s %5u %6.3f %7.2g %9.3g %6.1f %6.1f %6.1f %6.1f %6.1f %6.1f | %5u %6.1f %6.1f "
           "%6.1f %6.1f\n",
           quantities[q].name, fit->len, share, floor, mean_width (fit, share, floor),
           held_when_left_out (fit, floor), held (fit, ALL, share, floor, TRUE), now,
           held (fit, BAYS, NAN, NAN, FALSE), held (fit, PARTS, NAN, NAN, FALSE),
           held (fit, FANS, NAN, NAN, FALSE), judge->len, held (judge, ALL, share, floor, FALSE),
           held (judge, ALL, share, floor, TRUE), held (judge, BAYS, NAN, NAN, FALSE),
           held (judge, PARTS, NAN, NAN, FALSE));
  return fit->len == 0 || (now >= HELD_NOW_LEAST && now <= HELD_NOW_MOST);
}

int
main (int argc, char **argv)
{
  GArray *rows[2][DEW_N_BANDS];
  gboolean good = TRUE;
  int status = argc > 1 ? 0 : 2;

  for (int l = 0; l < 2; l++)
    for (int q = 0; q < DEW_N_BANDS; q++)
      rows[l][q] = g_array_new (FALSE, FALSE, sizeof (Row));
  for (int i = 1; i < argc; i++)
    if (!add_rows (argv[i], i, rows))
      status = 2;
  g_print (
    "Values held, %%: 'out' each case by the others, 'plain' with the reference taken as sure,\n"
    "'now' by the constants as they are, of all, of bays, of parts of them, and where\n"
    "a fan stands at an opening.\n\n"
    "%-22s %5s %6s %7s %9s %6s %6s %6s %6s %6s %6s | %5s %6s %6s %6s %6s\n",
    "", "rows", "share", "floor", "mean", "out", "plain", "now", "bays", "parts", "fans", "judge",
    "held", "plain", "bays", "parts");
  for (int q = 0; q < DEW_N_BANDS; q++)
    good = print_quantity (q, rows[0][q], rows[1][q]) && good;
  for (int l = 0; l < 2; l++)
    for (int q = 0; q < DEW_N_BANDS; q++)
      g_array_unref (rows[l][q]);
  return status == 0 && !good ? 1 : status;
}
