/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/geometry.h"

#include <math.h>

/* The boxes of things, and what they share. */

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

/* Spreads the rectangle of a hole over the three axes, `into` metres deep. */
static void
hole_box (const double inner_m[3], const DewThing *thing, double into_m, double lo[3], double hi[3])
{
  double from[2], to[2], wall_m;
  DewFace face;
  int normal, u, v;

  if (!dew_thing_in_face (thing, &face))
    return;
  dew_thing_hole (thing, from, to);
  dew_face_axes (face, &u, &v);
  normal = dew_face_axis (face);
  wall_m = dew_face_at_m (face, inner_m);
  lo[u] = from[0];
  hi[u] = to[0];
  lo[v] = from[1];
  hi[v] = to[1];
  lo[normal] = dew_face_is_high (face) ? wall_m - into_m : wall_m;
  hi[normal] = dew_face_is_high (face) ? wall_m : wall_m + into_m;
}

static void
fan_box (const double inner_m[3], const DewThing *thing, double lo[3], double hi[3])
{
  const DewFan *fan = &thing->fan;
  const double centre[3] = { fan->x_m, fan->y_m, fan->z_m };
  double r = fan->diameter_m / 2;

  if (fan->mount == DEW_FAN_IN_WALL)
    {
      hole_box (inner_m, thing, fan->depth_m, lo, hi);
      return;
    }
  for (int axis = 0; axis < 3; axis++)
    {
      lo[axis] = centre[axis] - r;
      hi[axis] = centre[axis] + r;
    }
}

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
      hole_box (inner, thing, 0.0, lo, hi);
      break;
    case DEW_THING_FAN:
      fan_box (inner, thing, lo, hi);
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
dew_thing_body (const DewChamber *chamber, const DewThing *thing, double lo[3], double hi[3])
{
  if (thing->kind == DEW_THING_FAN && thing->fan.mount == DEW_FAN_FREE)
    {
      const DewFan *fan = &thing->fan;
      const double centre[3] = { fan->x_m, fan->y_m, fan->z_m };
      double aim[3];

      dew_fan_aim (fan, aim);
      for (int axis = 0; axis < 3; axis++)
        {
          double side = sqrt (MAX (0.0, 1.0 - aim[axis] * aim[axis]));

          lo[axis] = centre[axis] - fan->diameter_m / 2 * side;
          hi[axis] = centre[axis] + fan->diameter_m / 2 * side;
        }
    }
  else if (thing->kind == DEW_THING_INSTRUMENT)
    {
      lo[0] = hi[0] = thing->instrument.x_m;
      lo[1] = hi[1] = thing->instrument.y_m;
      lo[2] = hi[2] = thing->instrument.z_m;
    }
  else
    dew_thing_box (chamber, thing, lo, hi);
}

/* --- holes ------------------------------------------------------------- */

gboolean
dew_thing_in_face (const DewThing *thing, DewFace *face)
{
  DewFace its;

  if (thing->kind == DEW_THING_OPENING)
    its = thing->opening.face;
  else if (thing->kind == DEW_THING_FAN && thing->fan.mount == DEW_FAN_IN_WALL)
    its = thing->fan.face;
  else
    return FALSE;
  if (face != NULL)
    *face = its;
  return TRUE;
}

void
dew_thing_hole (const DewThing *thing, double lo[2], double hi[2])
{
  g_return_if_fail (dew_thing_in_face (thing, NULL));

  if (thing->kind == DEW_THING_OPENING)
    {
      lo[0] = thing->opening.u0_m;
      hi[0] = thing->opening.u1_m;
      lo[1] = thing->opening.v0_m;
      hi[1] = thing->opening.v1_m;
    }
  else
    {
      const double centre[3] = { thing->fan.x_m, thing->fan.y_m, thing->fan.z_m };
      double r = thing->fan.diameter_m / 2;
      int u, v;

      dew_face_axes (thing->fan.face, &u, &v);
      lo[0] = centre[u] - r;
      hi[0] = centre[u] + r;
      lo[1] = centre[v] - r;
      hi[1] = centre[v] + r;
    }
}

gboolean
dew_holes_cross (const DewThing *a, const DewThing *b)
{
  double a_lo[2], a_hi[2], b_lo[2], b_hi[2];
  DewFace face_a, face_b;

  if (!dew_thing_in_face (a, &face_a) || !dew_thing_in_face (b, &face_b) || face_a != face_b)
    return FALSE;
  dew_thing_hole (a, a_lo, a_hi);
  dew_thing_hole (b, b_lo, b_hi);
  return dew_boxes_cross (a_lo, a_hi, b_lo, b_hi, 2, DEW_SLACK_M);
}

/* --- what boxes share -------------------------------------------------- */

double
dew_span_shared (double a_lo, double a_hi, double b_lo, double b_hi)
{
  return MAX (0.0, MIN (a_hi, b_hi) - MAX (a_lo, b_lo));
}

gboolean
dew_boxes_cross (const double *a_lo, const double *a_hi, const double *b_lo, const double *b_hi,
                 int n, double by_m)
{
  for (int axis = 0; axis < n; axis++)
    if (a_lo[axis] >= b_hi[axis] - by_m || a_hi[axis] <= b_lo[axis] + by_m)
      return FALSE;
  return TRUE;
}
