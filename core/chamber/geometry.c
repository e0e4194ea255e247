/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chamber/chamber.h"

#include "chamber/chamber-private.h"

#include <math.h>

/* Boxes, moves and bays. */

#define MAT_THICKNESS_M 0.005
#define INSTRUMENT_SIZE_M 0.04

static void
box_on_base (double x, double y, double z, double width, double depth, double height, double lo[3],
             double hi[3])
{
  lo[0] = x - width / 2;
  hi[0] = x + width / 2;
  lo[1] = y - depth / 2;
  hi[1] = y + depth / 2;
  lo[2] = z;
  hi[2] = z + height;
}

/* Spreads (u, v) of a face over the three axes and puts the box at that face,
 * `into` metres deep. */
static void
box_on_face (const double inner[3], int face, double u0, double u1, double v0, double v1,
             double into, double lo[3], double hi[3])
{
  int normal = face / 2;
  int across = normal == 0 ? 1 : 0;
  int up = normal == 2 ? 1 : 2;
  double wall = face % 2 == 0 ? 0.0 : inner[normal];

  lo[across] = u0;
  hi[across] = u1;
  lo[up] = v0;
  hi[up] = v1;
  lo[normal] = face % 2 == 0 ? wall : wall - into;
  hi[normal] = face % 2 == 0 ? wall + into : wall;
}

static void
fan_box (const double inner[3], const DewFan *fan, double lo[3], double hi[3])
{
  const double centre[3] = { fan->x_m, fan->y_m, fan->z_m };
  double r = fan->diameter_m / 2;

  if (fan->mount == DEW_FAN_IN_WALL)
    {
      int normal = fan->face / 2;
      double u = centre[normal == 0 ? 1 : 0];
      double v = centre[normal == 2 ? 1 : 2];

      box_on_face (inner, fan->face, u - r, u + r, v - r, v + r, fan->depth_m, lo, hi);
      return;
    }
  for (int axis = 0; axis < 3; axis++)
    {
      lo[axis] = centre[axis] - r;
      hi[axis] = centre[axis] + r;
    }
}

/**
 * dew_thing_box:
 *
 * A fan in the wall gives a box at its face, as deep as its frame; an
 * instrument a small cube.
 */
void
dew_thing_box (const DewChamber *chamber, const DewThing *thing, double lo[3], double hi[3])
{
  double inner[3];

  g_return_if_fail (chamber != NULL && thing != NULL);

  dew_chamber_inner_m (chamber, inner);
  switch (thing->kind)
    {
    case DEW_THING_SHELF:
      lo[0] = thing->shelf.gap_left_m;
      hi[0] = inner[0] - thing->shelf.gap_right_m;
      lo[1] = thing->shelf.gap_front_m;
      hi[1] = inner[1] - thing->shelf.gap_back_m;
      lo[2] = thing->shelf.z_m;
      hi[2] = thing->shelf.z_m + thing->shelf.thickness_m;
      break;
    case DEW_THING_OPENING:
      box_on_face (inner, thing->opening.face, thing->opening.u0_m, thing->opening.u1_m,
                   thing->opening.v0_m, thing->opening.v1_m, 0.0, lo, hi);
      break;
    case DEW_THING_FAN:
      fan_box (inner, &thing->fan, lo, hi);
      break;
    case DEW_THING_HUMIDIFIER:
      box_on_base (thing->humidifier.x_m, thing->humidifier.y_m, thing->humidifier.z_m,
                   thing->humidifier.width_m, thing->humidifier.depth_m, thing->humidifier.height_m,
                   lo, hi);
      break;
    case DEW_THING_POT:
      box_on_base (thing->pot.x_m, thing->pot.y_m, thing->pot.z_m, thing->pot.rim_diameter_m,
                   thing->pot.rim_diameter_m, thing->pot.height_m, lo, hi);
      break;
    case DEW_THING_TRAY:
      box_on_base (thing->tray.x_m, thing->tray.y_m, thing->tray.z_m, thing->tray.width_m,
                   thing->tray.depth_m, thing->tray.height_m, lo, hi);
      break;
    case DEW_THING_LAMP:
      box_on_base (thing->lamp.x_m, thing->lamp.y_m, thing->lamp.z_m, thing->lamp.length_m,
                   thing->lamp.width_m, thing->lamp.height_m, lo, hi);
      break;
    case DEW_THING_MAT:
      box_on_base (thing->mat.x_m, thing->mat.y_m, thing->mat.z_m, thing->mat.width_m,
                   thing->mat.depth_m, MAT_THICKNESS_M, lo, hi);
      break;
    case DEW_THING_SOURCE:
      box_on_base (thing->source.x_m, thing->source.y_m, thing->source.z_m, thing->source.width_m,
                   thing->source.depth_m, thing->source.height_m, lo, hi);
      break;
    case DEW_THING_PLANT:
      box_on_base (thing->plant.x_m, thing->plant.y_m, thing->plant.z_m, thing->plant.width_m,
                   thing->plant.depth_m, thing->plant.height_m, lo, hi);
      break;
    case DEW_THING_INSTRUMENT:
      box_on_base (thing->instrument.x_m, thing->instrument.y_m,
                   thing->instrument.z_m - INSTRUMENT_SIZE_M / 2, INSTRUMENT_SIZE_M,
                   INSTRUMENT_SIZE_M, INSTRUMENT_SIZE_M, lo, hi);
      break;
    case DEW_N_THING_KINDS:
    default:
      g_return_if_reached ();
    }
}

void
dew_thing_move (DewThing *thing, const double d[3])
{
  static const char *const keys[3] = { "x_m", "y_m", "z_m" };

  if (thing->kind == DEW_THING_OPENING)
    {
      DewOpening *opening = &thing->opening;
      int normal = opening->face / 2;
      double du = d[normal == 0 ? 1 : 0];
      double dv = d[normal == 2 ? 1 : 2];

      opening->u0_m += du;
      opening->u1_m += du;
      opening->v0_m += dv;
      opening->v1_m += dv;
      return;
    }

  for (int axis = 0; axis < 3; axis++)
    {
      const DewField *field = dew_field_find (dew_thing_fields (thing->kind), keys[axis]);

      if (field != NULL)
        dew_field_set_real (field, thing, dew_field_get_real (field, thing) + d[axis]);
    }
}

/* The underside of the next board above a shelf. */
static double
ceiling_of (const DewVariant *variant, const DewThing *shelf)
{
  double ceiling = INFINITY;

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (variant->things, DewThing, i);

      if (other->kind == DEW_THING_SHELF && other->shelf.z_m > shelf->shelf.z_m)
        ceiling = MIN (ceiling, other->shelf.z_m);
    }
  return ceiling;
}

gboolean
dew_variant_rides_on (const DewChamber *chamber, const DewVariant *variant, const DewThing *thing,
                      const DewThing *shelf)
{
  double top = shelf->shelf.z_m + shelf->shelf.thickness_m;
  double lo[3], hi[3];

  if (thing->kind == DEW_THING_SHELF || thing->kind == DEW_THING_OPENING
      || (thing->kind == DEW_THING_FAN && thing->fan.mount == DEW_FAN_IN_WALL))
    return FALSE;

  dew_thing_box (chamber, thing, lo, hi);
  if (thing->kind == DEW_THING_PLANT || thing->kind == DEW_THING_INSTRUMENT)
    return lo[2] > top - DEW_STANDING_M && lo[2] < ceiling_of (variant, shelf) - DEW_STANDING_M;
  return fabs (lo[2] - top) <= DEW_STANDING_M;
}

void
dew_variant_shift (const DewChamber *chamber, DewVariant *variant, guint id, const double d[3])
{
  DewThing *thing = dew_variant_thing (variant, id);

  g_return_if_fail (thing != NULL);

  if (thing->kind == DEW_THING_SHELF)
    {
      const double up[3] = { 0.0, 0.0, d[2] };

      for (guint i = 0; i < variant->things->len; i++)
        {
          DewThing *rider = &g_array_index (variant->things, DewThing, i);

          if (dew_variant_rides_on (chamber, variant, rider, thing))
            dew_thing_move (rider, up);
        }
    }
  dew_thing_move (thing, d);
}

typedef struct
{
  double z_m;
  guint id;
} Board;

static int
board_compare (gconstpointer a, gconstpointer b)
{
  const Board *p = a, *q = b;

  if (p->z_m != q->z_m)
    return p->z_m < q->z_m ? -1 : 1;
  return p->id < q->id ? -1 : p->id > q->id;
}

int
dew_variant_bays (const DewChamber *chamber, const DewVariant *variant, double **z_m,
                  guint **shelf_id)
{
  g_autoptr (GArray) boards = g_array_new (FALSE, FALSE, sizeof (Board));
  double inner[3];
  int n;

  g_return_val_if_fail (chamber != NULL && variant != NULL && z_m != NULL, 0);

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind == DEW_THING_SHELF)
        {
          Board board = { thing->shelf.z_m, thing->id };

          g_array_append_val (boards, board);
        }
    }
  g_array_sort (boards, board_compare);

  n = (int) boards->len + 1;
  dew_chamber_inner_m (chamber, inner);
  *z_m = g_new0 (double, n + 1);
  if (shelf_id != NULL)
    *shelf_id = g_new0 (guint, n);
  for (int i = 1; i < n; i++)
    {
      const Board *board = &g_array_index (boards, Board, i - 1);

      (*z_m)[i] = board->z_m;
      if (shelf_id != NULL)
        (*shelf_id)[i] = board->id;
    }
  (*z_m)[n] = inner[2];
  return n;
}

double
dew_variant_rest_height (const DewVariant *variant, double z_m)
{
  double rest = 0.0;

  g_return_val_if_fail (variant != NULL, 0.0);

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind == DEW_THING_SHELF)
        {
          double top = thing->shelf.z_m + thing->shelf.thickness_m;

          if (top <= z_m + 1e-6)
            rest = MAX (rest, top);
        }
    }
  return rest;
}
