/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/assign/assign-private.h"
#include "forecast/probe.h"
#include "geometry/geometry.h"

#include <math.h>

/* Where plants can stand: bays, spots and the blocks that plants take. */

#define MINGLE \
  0.1                 /* of a crown's width may mingle with its neighbours' leaves: common \
                       * practice, no source */
#define TOUCH_M 0.005 /* things that overlap by less do not meet */
#define FINEST_M 0.02 /* the least side of a spot */
#define MOST_SPOTS 1400
#define WASTE 0.02    /* so much of the plants' width is not worth a finer grid */
#define STANDS_M 0.02 /* this near above a board something stands on it */
#define FLAT_M 0.01   /* a pot stands across such a step */
#define MAT_M 0.005   /* height of a heat mat */
#define POT_SHARE \
  0.6 /* of a crown's width, where the pot's size is not known: as in \
       * data/plants.csv */

static int
spots_per_bay (const DewAssignment *result)
{
  return result->spots_across * result->spots_deep;
}

/* --- obstacles ---------------------------------------------------------- */

/* A thing lowers the ceiling of the spots under it, raises the floor of those on it, or
 * blocks those it stands on. */
static void
obstruct (DewAssignSpot *spot, const DewThing *thing, const double lo[3], const double hi[3],
          double floor_m)
{
  gboolean stands = lo[2] <= floor_m + STANDS_M;

  if (thing->kind == DEW_THING_TRAY && stands)
    spot->base_m = MAX (spot->base_m, hi[2]);
  else if (thing->kind == DEW_THING_MAT && stands)
    spot->base_m = MAX (spot->base_m, lo[2] + MAT_M);
  else if (stands)
    {
      spot->blocked = TRUE;
      spot->blocked_by = thing->id;
    }
}

static void
look_at_things (const DewAssignJob *job, DewAssignSpot *spot, double floor_m, double *ceiling_m)
{
  for (guint i = 0; i < job->variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (job->variant->things, DewThing, i);
      double lo[3], hi[3];

      /* Leaves may touch an instrument; plants are dealt with apart. */
      if (thing->kind == DEW_THING_SHELF || thing->kind == DEW_THING_OPENING
          || thing->kind == DEW_THING_PLANT || thing->kind == DEW_THING_INSTRUMENT)
        continue;
      dew_thing_box (job->chamber, thing, lo, hi);
      if (dew_span_shared (lo[0], hi[0], spot->lo_m[0], spot->hi_m[0]) < TOUCH_M
          || dew_span_shared (lo[1], hi[1], spot->lo_m[1], spot->hi_m[1]) < TOUCH_M
          || dew_span_shared (lo[2], hi[2], floor_m, *ceiling_m) <= 0.0)
        continue;
      if (lo[2] <= floor_m + STANDS_M)
        obstruct (spot, thing, lo, hi, floor_m);
      else
        *ceiling_m = MIN (*ceiling_m, lo[2]);
    }
}

/* What stands on a board whatever the plants do (kg). */
static double
standing_load_kg (const DewVariant *variant, double top_m)
{
  const double tank_kg = 1.0; /* the empty device, as in the findings */
  double kg = 0.0;

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind == DEW_THING_POT && fabs (thing->pot.z_m - top_m) <= STANDS_M)
        kg += thing->pot.mass_kg;
      if (thing->kind == DEW_THING_TRAY && fabs (thing->tray.z_m - top_m) <= STANDS_M)
        kg += thing->tray.water_kg;
      if (thing->kind == DEW_THING_HUMIDIFIER && fabs (thing->humidifier.z_m - top_m) <= STANDS_M)
        kg += thing->humidifier.tank_kg + tank_kg;
    }
  return kg;
}

/* Index of the place of a bay at x, y; the nearest where they leave a margin. */
static int
place_under (const DewForecast *day, int bay, double x_m, double y_m)
{
  int best = 0;
  double best_m = INFINITY;

  for (int p = 0; p < day->n_places; p++)
    {
      const DewPlace *place = &day->places[p];
      double off_m;

      if (place->bay != bay)
        continue;
      off_m = MAX (MAX (place->lo_m[0] - x_m, x_m - place->hi_m[0]),
                   MAX (place->lo_m[1] - y_m, y_m - place->hi_m[1]));
      if (off_m < best_m)
        {
          best_m = off_m;
          best = p;
        }
    }
  return best;
}

static void
lay_out_bay (DewAssignJob *job, int b, double rated)
{
  DewAssignment *result = job->result;
  const DewBay *bay = &job->day->bays[b];
  const DewThing *shelf = bay->shelf_id ? dew_variant_thing (job->variant, bay->shelf_id) : NULL;
  DewAssignBay *out = &result->bays[b];

  out->shelf_id = bay->shelf_id;
  out->floor_m = bay->z0_m + (shelf ? shelf->shelf.thickness_m : 0.0);
  out->load_left_kg = INFINITY;
  if (shelf != NULL && shelf->shelf.load_limit_kg > 0.0)
    out->load_left_kg = MAX (0.0, rated * shelf->shelf.load_limit_kg
                                    - standing_load_kg (job->variant, out->floor_m));
  for (int r = 0; r < result->spots_deep; r++)
    for (int c = 0; c < result->spots_across; c++)
      {
        DewAssignSpot *spot
          = &result->spots[b * spots_per_bay (result) + r * result->spots_across + c];
        double ceiling_m = bay->z1_m;

        *spot = (DewAssignSpot){ .bay = b, .column = c, .row = r, .base_m = out->floor_m };
        spot->lo_m[0] = job->day->inner_m[0] * c / result->spots_across;
        spot->hi_m[0] = job->day->inner_m[0] * (c + 1) / result->spots_across;
        spot->lo_m[1] = job->day->inner_m[1] * r / result->spots_deep;
        spot->hi_m[1] = job->day->inner_m[1] * (r + 1) / result->spots_deep;
        spot->place = place_under (job->day, b, 0.5 * (spot->lo_m[0] + spot->hi_m[0]),
                                   0.5 * (spot->lo_m[1] + spot->hi_m[1]));
        look_at_things (job, spot, out->floor_m, &ceiling_m);
        spot->clear_m = MAX (0.0, ceiling_m - spot->base_m);
      }
}

/* How much of the plants' width a grid of n spots along an axis would round away, as a share. */
static double
rounding (const DewAssignJob *job, int axis, int n)
{
  double spot_m = job->day->inner_m[axis] / n, lost = 0.0;

  for (guint i = 0; i < job->plants->len; i++)
    {
      double core_m = MAX (dew_assign_core_m (&job->fit[i]), 1e-3);

      lost += MIN (ceil (core_m / spot_m - 1e-6) * spot_m, job->day->inner_m[axis]) / core_m - 1.0;
    }
  return MAX (0.0, lost) / job->plants->len;
}

/* The coarsest grid that rounds nearly as little as the best of those that are not too fine. */
static int
cells_along (const DewAssignJob *job, int axis)
{
  const double *inner_m = job->day->inner_m;
  double per_bay = (double) MOST_SPOTS / MAX (1, job->day->n_bays);
  int most
    = (int) MIN (inner_m[axis] / FINEST_M, sqrt (per_bay * inner_m[axis] / inner_m[1 - axis]));
  double least = INFINITY;
  int n;

  for (n = 1; n <= most; n++)
    least = MIN (least, rounding (job, axis, n));
  for (n = 1; n < most && rounding (job, axis, n) > least + WASTE; n++)
    ;
  return MAX (1, n);
}

void
dew_assign_lay_out (DewAssignJob *job)
{
  DewAssignment *result = job->result;
  const double rated = 0.6; /* of an even-load rating: see DEW_LIMIT_LOAD */
  int columns = 0, rows = 0;

  for (int p = 0; p < job->day->n_places; p++)
    {
      columns = MAX (columns, job->day->places[p].column + 1);
      rows = MAX (rows, job->day->places[p].row + 1);
    }
  result->spots_across = job->cells > 0 ? job->cells * columns : cells_along (job, 0);
  result->spots_deep = job->cells > 0 ? job->cells * rows : cells_along (job, 1);
  result->n_bays = job->day->n_bays;
  result->bays = g_new0 (DewAssignBay, result->n_bays);
  result->n_spots = result->n_bays * spots_per_bay (result);
  result->spots = g_new0 (DewAssignSpot, result->n_spots);
  for (int b = 0; b < result->n_bays; b++)
    lay_out_bay (job, b, rated);
}

/* --- blocks ------------------------------------------------------------- */

static double
spot_m (const DewAssignJob *job, int axis)
{
  return job->day->inner_m[axis]
         / (axis == 0 ? job->result->spots_across : job->result->spots_deep);
}

double
dew_assign_core_m (const DewFitPlant *plant)
{
  return (1.0 - MINGLE) * plant->width_m;
}

void
dew_assign_span (const DewAssignment *result, const DewFitPlant *plant, int span[2])
{
  const DewAssignSpot *spot = &result->spots[0];
  double width_m = dew_assign_core_m (plant);

  for (int a = 0; a < 2; a++)
    span[a] = MAX (1, (int) ceil (width_m / (spot->hi_m[a] - spot->lo_m[a]) - 1e-6));
}

gboolean
dew_assign_covers (const DewAssignJob *job, const DewFitPlant *plant, const double at_m[3],
                   int *bay, int first[2], int span[2])
{
  const DewForecast *day = job->day;
  const int most[2] = { job->result->spots_across, job->result->spots_deep };
  double half_m = 0.5 * dew_assign_core_m (plant);

  *bay = dew_forecast_bay_at (day, at_m[2]);
  if (*bay < 0)
    return FALSE;
  for (int a = 0; a < 2; a++)
    {
      double side_m = spot_m (job, a);
      int last;

      if (at_m[a] < 0.0 || at_m[a] > day->inner_m[a])
        return FALSE;
      first[a] = (int) floor ((at_m[a] - half_m + TOUCH_M) / side_m);
      last = (int) ceil ((at_m[a] + half_m - TOUCH_M) / side_m) - 1;
      first[a] = CLAMP (first[a], 0, most[a] - 1);
      last = CLAMP (last, first[a], most[a] - 1);
      span[a] = last - first[a] + 1;
    }
  return TRUE;
}

void
dew_assign_keep (DewAssignJob *job, int index)
{
  DewAssignment *result = job->result;
  const DewAssignPlant *plant = &g_array_index (job->plants, DewAssignPlant, index);
  int bay, first[2], span[2];

  if (!dew_assign_covers (job, &job->fit[index], plant->at_m, &bay, first, span))
    return;
  result->bays[bay].load_left_kg
    = MAX (0.0, result->bays[bay].load_left_kg - job->fit[index].mass_kg);
  for (int r = first[1]; r < first[1] + span[1]; r++)
    for (int c = first[0]; c < first[0] + span[0]; c++)
      {
        DewAssignSpot *spot
          = &result->spots[bay * spots_per_bay (result) + r * result->spots_across + c];

        if (!spot->blocked)
          spot->blocked_by = plant->thing_id;
        spot->blocked = TRUE;
      }
}

/* --- the fit of a block ------------------------------------------------- */

static const DewAssignSpot *
spot_at (const DewAssignment *result, int bay, int column, int row)
{
  return &result->spots[bay * spots_per_bay (result) + row * result->spots_across + column];
}

/* Mean air of the places that a crown reaches over, by their shares of it. */
static void
air_of_crown (const DewAssignJob *job, const DewFitPlant *plant, int bay, const double at_m[2],
              DewFitPlace *out)
{
  const DewForecast *day = job->day;
  double half_m = MAX (TOUCH_M, 0.5 * dew_assign_core_m (plant)), sum = 0.0;
  g_autofree int *places = g_new (int, day->n_places);
  g_autofree double *weights = g_new (double, day->n_places);
  int n = 0;

  for (int p = 0; p < day->n_places; p++)
    {
      const DewPlace *place = &day->places[p];
      double x_m
        = dew_span_shared (at_m[0] - half_m, at_m[0] + half_m, place->lo_m[0], place->hi_m[0]);
      double y_m
        = dew_span_shared (at_m[1] - half_m, at_m[1] + half_m, place->lo_m[1], place->hi_m[1]);

      if (place->bay != bay || x_m < TOUCH_M || y_m < TOUCH_M)
        continue;
      places[n] = p;
      weights[n++] = x_m * y_m;
      sum += x_m * y_m;
    }
  if (n == 0)
    {
      places[n] = place_under (day, bay, at_m[0], at_m[1]);
      weights[n++] = sum = 1.0;
    }
  for (int i = 0; i < n; i++)
    weights[i] /= sum;
  dew_fit_place_mix (job->air, places, weights, n, out);
}

static double
pot_m (const DewFitPlant *plant)
{
  if (plant->mass_kg <= 0.0 && plant->pot_diameter_m <= 0.0)
    return 0.0; /* mounted */
  return plant->pot_diameter_m > 0.0 ? plant->pot_diameter_m : POT_SHARE * plant->width_m;
}

/* How far a pot in the middle of a block stands over the board's edge when its crown is
 * shifted within the block as well as can be; that middle. */
static double
over_edge (const DewAssignJob *job, const DewFitPlant *plant, int bay, const int first[2],
           const int span[2], double at_m[2])
{
  guint shelf_id = job->result->bays[bay].shelf_id;
  const DewThing *shelf = shelf_id ? dew_variant_thing (job->variant, shelf_id) : NULL;
  double half_m = 0.5 * pot_m (plant), worst = 0.0;

  for (int a = 0; a < 2; a++)
    {
      double lo = first[a] * spot_m (job, a), hi = lo + span[a] * spot_m (job, a);
      double slack = 0.5 * MAX (0.0, hi - lo - plant->width_m);
      double board_lo = 0.0, board_hi = job->day->inner_m[a], shift;

      if (shelf != NULL)
        {
          board_lo = a == 0 ? shelf->shelf.gap_left_m : shelf->shelf.gap_front_m;
          board_hi -= a == 0 ? shelf->shelf.gap_right_m : shelf->shelf.gap_back_m;
        }
      at_m[a] = 0.5 * (lo + hi);
      /* Leaves mingle with leaves, not with the cover. */
      if (plant->width_m <= job->day->inner_m[a])
        at_m[a]
          = CLAMP (at_m[a], 0.5 * plant->width_m, job->day->inner_m[a] - 0.5 * plant->width_m);
      if (half_m <= 0.0)
        continue;
      shift = CLAMP (board_lo + half_m - at_m[a], 0.0, slack);
      if (shift == 0.0)
        shift = -CLAMP (at_m[a] + half_m - board_hi, 0.0, slack);
      at_m[a] += shift;
      worst = MAX (worst, MAX (board_lo - (at_m[a] - half_m), at_m[a] + half_m - board_hi));
    }
  return worst;
}

/* Whether a pot at that middle stands level, and at which height. */
static gboolean
stands_level (const DewAssignJob *job, const DewFitPlant *plant, int bay, const int first[2],
              const int span[2], const double at_m[2], double *base_m)
{
  double half_m = MAX (TOUCH_M, 0.5 * pot_m (plant)), least = INFINITY, most = -INFINITY;

  for (int r = first[1]; r < first[1] + span[1]; r++)
    for (int c = first[0]; c < first[0] + span[0]; c++)
      {
        const DewAssignSpot *spot = spot_at (job->result, bay, c, r);

        if (dew_span_shared (at_m[0] - half_m, at_m[0] + half_m, spot->lo_m[0], spot->hi_m[0])
              < TOUCH_M
            || dew_span_shared (at_m[1] - half_m, at_m[1] + half_m, spot->lo_m[1], spot->hi_m[1])
                 < TOUCH_M)
          continue;
        least = MIN (least, spot->base_m);
        most = MAX (most, spot->base_m);
      }
  *base_m = most;
  return most - least <= FLAT_M;
}

gboolean
dew_assign_fit_at (const DewAssignJob *job, const DewFitPlant *plant, const int span[2], int index,
                   DewFit *fit, double at_m[3], gboolean *taken)
{
  const DewAssignment *result = job->result;
  const DewAssignSpot *corner = &result->spots[index];
  const int first[2] = { corner->column, corner->row };
  DewFitPlace place;
  double base_m, over_m, ceiling_m = INFINITY;

  if (first[0] + span[0] > result->spots_across || first[1] + span[1] > result->spots_deep)
    return FALSE;

  over_m = over_edge (job, plant, corner->bay, first, span, at_m);
  air_of_crown (job, plant, corner->bay, at_m, &place);
  place.over_edge_m = over_m;
  *taken = !stands_level (job, plant, corner->bay, first, span, at_m, &base_m);
  for (int r = first[1]; r < first[1] + span[1]; r++)
    for (int c = first[0]; c < first[0] + span[0]; c++)
      {
        const DewAssignSpot *spot = spot_at (result, corner->bay, c, r);

        *taken |= spot->blocked;
        ceiling_m = MIN (ceiling_m, spot->base_m + spot->clear_m);
      }
  at_m[2] = base_m + plant->rise_m;
  place.clear_m = MAX (0.0, ceiling_m - base_m);
  place.from_front_m = at_m[1];
  place.load_left_kg = result->bays[corner->bay].load_left_kg;
  dew_fit_judge (plant, &place, fit);
  return TRUE;
}

void
dew_assign_fit_here (const DewAssignJob *job, const DewFitPlant *plant, const double at_m[3],
                     int bay, DewFit *fit)
{
  DewFitPlace place;

  /* It stands as it stands: height, foothold and weight are not asked again. */
  air_of_crown (job, plant, bay, at_m, &place);
  place.clear_m = INFINITY;
  place.over_edge_m = 0.0;
  place.from_front_m = at_m[1];
  place.load_left_kg = INFINITY;
  dew_fit_judge (plant, &place, fit);
}
