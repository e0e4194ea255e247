/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "zones/screen.h"

#include <math.h>

#define WIRE_REYNOLDS 40.0
#define SAMPLES 24       /* per direction of a rectangle */
#define STANDS_ON_M 0.02 /* a base this near the shelf's top stands on it */
/* Wet mass of a planted clay pot over the cube of its diameter: 0.9 kg at 12 cm, 2.0
 * kg at 16 cm. Common practice, no source. */
#define POT_KG_M3 500.0

typedef struct
{
  double at;
  double value;
} Row;

/* Straight line between rows; held beyond the ends. `n` rows, ascending. */
static double
between (const Row *rows, int n, double at)
{
  if (at <= rows[0].at)
    return rows[0].value;
  for (int i = 1; i < n; i++)
    if (at <= rows[i].at)
      {
        double share = (at - rows[i - 1].at) / (rows[i].at - rows[i - 1].at);
        return rows[i - 1].value + share * (rows[i].value - rows[i - 1].value);
      }
  return rows[n - 1].value;
}

double
dew_screen_loss_square_edged (double open_ratio)
{
  static const Row rows[] = {
    { 0.05, 1000.0 }, { 0.10, 250.0 }, { 0.15, 85.0 }, { 0.20, 52.0 }, { 0.25, 30.0 },
    { 0.30, 17.0 },   { 0.35, 11.0 },  { 0.40, 7.7 },  { 0.45, 5.5 },  { 0.50, 3.8 },
    { 0.55, 2.8 },    { 0.60, 2.0 },   { 0.65, 1.5 },  { 0.70, 1.1 },  { 0.75, 0.78 },
    { 0.80, 0.53 },   { 0.85, 0.35 },  { 0.90, 0.08 },
  };
  Row logarithms[G_N_ELEMENTS (rows)];

  if (open_ratio <= 0.0)
    return INFINITY;
  if (open_ratio >= 1.0)
    return 0.0;
  /* Below the table the jets alone count, K ~ 1/f^2; above it falls to nothing. */
  if (open_ratio < rows[0].at)
    return rows[0].value * (rows[0].at / open_ratio) * (rows[0].at / open_ratio);
  if (open_ratio > 0.90)
    return 0.08 * (1.0 - open_ratio) / 0.10;
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    logarithms[i] = (Row){ rows[i].at, log (rows[i].value) };
  return exp (between (logarithms, G_N_ELEMENTS (rows), open_ratio));
}

double
dew_screen_loss_sharp_plate (double open_ratio)
{
  double closed = 1.0 - open_ratio;
  double jet;

  if (open_ratio <= 0.0)
    return INFINITY;
  if (open_ratio >= 1.0)
    return 0.0;
  jet = (0.707 * sqrt (closed) + closed) / open_ratio;
  return jet * jet;
}

double
dew_screen_loss_thick_grille (double open_ratio)
{
  if (open_ratio <= 0.0)
    return INFINITY;
  if (open_ratio >= 1.0)
    return 0.0;
  return (0.5 * (1.0 - open_ratio) + 1.0 - open_ratio * open_ratio) / (open_ratio * open_ratio);
}

double
dew_screen_loss_gauze (double open_ratio)
{
  double jet;

  if (open_ratio <= 0.0)
    return INFINITY;
  if (open_ratio >= 1.0)
    return 0.0;
  jet = 1.0 / open_ratio - 1.0;
  return 1.3 * (1.0 - open_ratio) + jet * jet;
}

double
dew_screen_loss_round_wire (double open_ratio, double reynolds)
{
  static const Row beta[] = {
    { 20.0, 1.3 },  { 30.0, 1.1 },   { 40.0, 0.95 },  { 60.0, 0.83 },
    { 80.0, 0.75 }, { 100.0, 0.70 }, { 200.0, 0.60 }, { 400.0, 0.52 },
  };

  if (open_ratio <= 0.0)
    return INFINITY;
  if (open_ratio >= 1.0)
    return 0.0;
  return between (beta, G_N_ELEMENTS (beta), reynolds) * (1.0 - open_ratio * open_ratio)
         / (open_ratio * open_ratio);
}

double
dew_screen_board_loss (DewShelfBoard board, double open_ratio)
{
  switch (board)
    {
    case DEW_SHELF_WIRE:
      return dew_screen_loss_round_wire (open_ratio, WIRE_REYNOLDS);
    case DEW_SHELF_SLATTED:
      return dew_screen_loss_square_edged (open_ratio);
    case DEW_SHELF_PERFORATED:
    case DEW_SHELF_SOLID:
    default:
      return dew_screen_loss_sharp_plate (open_ratio);
    }
}

double
dew_screen_shelf_loss (const DewShelf *shelf)
{
  g_return_val_if_fail (shelf != NULL, NAN);
  if (shelf->loss_coefficient > 0.0)
    return shelf->loss_coefficient;
  return dew_screen_board_loss (shelf->board, shelf->open_ratio);
}

/* --- what stands on it -------------------------------------------------- */

typedef struct
{
  double x_m, y_m; /* middle */
  double half_x_m, half_y_m;
  gboolean round;
} Base;

static gboolean
base_of (const DewThing *thing, double *z_m, Base *base)
{
  double across_m;

  switch (thing->kind)
    {
    case DEW_THING_POT:
      *z_m = thing->pot.z_m;
      across_m = thing->pot.rim_diameter_m;
      *base = (Base){ thing->pot.x_m, thing->pot.y_m, 0.5 * across_m, 0.5 * across_m, TRUE };
      return TRUE;
    case DEW_THING_PLANT:
      *z_m = thing->plant.z_m;
      across_m = cbrt (thing->plant.mass_kg / POT_KG_M3);
      *base = (Base){ thing->plant.x_m, thing->plant.y_m, 0.5 * across_m, 0.5 * across_m, TRUE };
      return thing->plant.mass_kg > 0.0;
    case DEW_THING_TRAY:
      *z_m = thing->tray.z_m;
      *base = (Base){ thing->tray.x_m, thing->tray.y_m, 0.5 * thing->tray.width_m,
                      0.5 * thing->tray.depth_m, FALSE };
      return TRUE;
    case DEW_THING_HUMIDIFIER:
      *z_m = thing->humidifier.z_m;
      *base = (Base){ thing->humidifier.x_m, thing->humidifier.y_m, 0.5 * thing->humidifier.width_m,
                      0.5 * thing->humidifier.depth_m, FALSE };
      return TRUE;
    case DEW_THING_MAT:
      *z_m = thing->mat.z_m;
      *base = (Base){ thing->mat.x_m, thing->mat.y_m, 0.5 * thing->mat.width_m,
                      0.5 * thing->mat.depth_m, FALSE };
      return TRUE;
    case DEW_THING_SOURCE:
      *z_m = thing->source.z_m;
      *base = (Base){ thing->source.x_m, thing->source.y_m, 0.5 * thing->source.width_m,
                      0.5 * thing->source.depth_m, FALSE };
      return TRUE;
    default:
      return FALSE;
    }
}

static gboolean
covers (const Base *base, double x_m, double y_m)
{
  double dx = (x_m - base->x_m) / base->half_x_m;
  double dy = (y_m - base->y_m) / base->half_y_m;

  if (base->round)
    return dx * dx + dy * dy < 1.0;
  return fabs (dx) < 1.0 && fabs (dy) < 1.0;
}

double
dew_screen_uncovered_share (const DewVariant *variant, const DewShelf *shelf, double x0_m,
                            double x1_m, double y0_m, double y1_m)
{
  g_autoptr (GArray) bases = g_array_new (FALSE, FALSE, sizeof (Base));
  double top_m;
  int free_samples = 0;

  g_return_val_if_fail (variant != NULL && shelf != NULL, NAN);
  top_m = shelf->z_m + shelf->thickness_m;
  for (guint i = 0; i < variant->things->len; i++)
    {
      Base base;
      double z_m;

      if (base_of (&g_array_index (variant->things, DewThing, i), &z_m, &base)
          && fabs (z_m - top_m) <= STANDS_ON_M && base.x_m + base.half_x_m > x0_m
          && base.x_m - base.half_x_m < x1_m && base.y_m + base.half_y_m > y0_m
          && base.y_m - base.half_y_m < y1_m)
        g_array_append_val (bases, base);
    }
  if (bases->len == 0)
    return 1.0;

  /* Counting points takes overlaps and round bases in its stride. */
  for (int j = 0; j < SAMPLES; j++)
    for (int i = 0; i < SAMPLES; i++)
      {
        double x_m = x0_m + (i + 0.5) / SAMPLES * (x1_m - x0_m);
        double y_m = y0_m + (j + 0.5) / SAMPLES * (y1_m - y0_m);
        gboolean covered = FALSE;

        for (guint b = 0; b < bases->len && !covered; b++)
          covered = covers (&g_array_index (bases, Base, b), x_m, y_m);
        free_samples += !covered;
      }
  return (double) free_samples / (SAMPLES * SAMPLES);
}
