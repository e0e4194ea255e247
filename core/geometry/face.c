/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "geometry/geometry.h"

#include <math.h>

/* Faces, aims and views. */

int
dew_face_axis (DewFace face)
{
  switch (face)
    {
    case DEW_FACE_LEFT:
    case DEW_FACE_RIGHT:
      return 0;
    case DEW_FACE_FRONT:
    case DEW_FACE_BACK:
      return 1;
    case DEW_FACE_FLOOR:
    case DEW_FACE_ROOF:
    case DEW_N_FACES:
      break;
    }
  return 2;
}

gboolean
dew_face_is_high (DewFace face)
{
  return face == DEW_FACE_RIGHT || face == DEW_FACE_BACK || face == DEW_FACE_ROOF;
}

DewFace
dew_face_of (int axis, gboolean high)
{
  static const DewFace faces[3][2] = { { DEW_FACE_LEFT, DEW_FACE_RIGHT },
                                       { DEW_FACE_FRONT, DEW_FACE_BACK },
                                       { DEW_FACE_FLOOR, DEW_FACE_ROOF } };

  return faces[axis][high ? 1 : 0];
}

double
dew_face_at_m (DewFace face, const double inner_m[3])
{
  return dew_face_is_high (face) ? inner_m[dew_face_axis (face)] : 0.0;
}

void
dew_face_axes (DewFace face, int *u, int *v)
{
  int axis = dew_face_axis (face);

  *u = axis == 0 ? 1 : 0;
  *v = axis == 2 ? 1 : 2;
}

/* --- aims -------------------------------------------------------------- */

void
dew_direction (double azimuth_rad, double elevation_rad, double out[3])
{
  out[0] = cos (elevation_rad) * cos (azimuth_rad);
  out[1] = cos (elevation_rad) * sin (azimuth_rad);
  out[2] = sin (elevation_rad);
}

void
dew_fan_aim (const DewFan *fan, double out[3])
{
  gboolean in = fan->sense == DEW_BLOWS_IN;

  if (fan->mount != DEW_FAN_IN_WALL)
    {
      dew_direction (fan->azimuth_rad, fan->elevation_rad, out);
      return;
    }
  out[0] = out[1] = out[2] = 0.0;
  out[dew_face_axis (fan->face)] = in != dew_face_is_high (fan->face) ? 1.0 : -1.0;
}

void
dew_aim_vector (const DewThing *thing, double out[3])
{
  if (thing->kind == DEW_THING_FAN)
    dew_fan_aim (&thing->fan, out);
  else if (thing->kind == DEW_THING_HUMIDIFIER)
    dew_direction (thing->humidifier.azimuth_rad, thing->humidifier.elevation_rad, out);
  else
    dew_direction (0.0, 0.0, out);
}

gboolean
dew_thing_has_aim (const DewThing *thing)
{
  return (thing->kind == DEW_THING_FAN && thing->fan.mount == DEW_FAN_FREE)
         || thing->kind == DEW_THING_HUMIDIFIER;
}

/* --- views ------------------------------------------------------------- */

int
dew_view_across (DewView view)
{
  return view == DEW_VIEW_SIDE ? 1 : 0;
}

int
dew_view_up (DewView view)
{
  return view == DEW_VIEW_PLAN ? 1 : 2;
}

int
dew_view_depth (DewView view)
{
  return view == DEW_VIEW_FRONT ? 1 : view == DEW_VIEW_SIDE ? 0 : 2;
}

int
dew_view_nearer (DewView view)
{
  return view == DEW_VIEW_FRONT ? -1 : 1;
}

gboolean
dew_face_edge_on (DewFace face, DewView view)
{
  return dew_face_axis (face) != dew_view_depth (view);
}

void
dew_face_outward (DewFace face, DewView view, double out[2])
{
  double sign = dew_face_is_high (face) ? 1 : -1;
  gboolean across = dew_face_axis (face) == dew_view_across (view);

  out[0] = across ? sign : 0;
  out[1] = across ? 0 : sign;
}
