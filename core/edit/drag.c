/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A drag: what is held decides. Aims and flaps are turned here. */
#include "edit/edit-private.h"

#include "edit/snap.h"

#include <math.h>

/* --- aiming ------------------------------------------------------------ */

static void
set_aim (DewThing *thing, const double aim[3])
{
  const double upright = 1e-3; /* azimuth means nothing then: keep it */
  gboolean fan = thing->kind == DEW_THING_FAN;

  *(fan ? &thing->fan.elevation_rad : &thing->humidifier.elevation_rad)
    = asin (CLAMP (aim[2], -1, 1));
  if (hypot (aim[0], aim[1]) > upright)
    *(fan ? &thing->fan.azimuth_rad : &thing->humidifier.azimuth_rad) = atan2 (aim[1], aim[0]);
}

/* The tip follows the pointer in the plane of the view; how much the jet leans
 * toward the reader stays, unless it did hardly anything else. */
static void
turn_aim (DewHold *hold)
{
  const double lean_most = 0.95;
  int across = hold->axes[0], up = hold->axes[1], depth = dew_view_depth (hold->drag->grip.view);
  double lo[3], hi[3], aim[3], base[2], dx, dy, angle, lean, plane;

  if (!dew_thing_has_aim (hold->thing))
    return;
  dew_thing_box (hold->chamber, hold->thing, lo, hi);
  base[0] = (lo[across] + hi[across]) / 2;
  base[1] = (lo[up] + hi[up]) / 2;
  if (hold->thing->kind == DEW_THING_HUMIDIFIER && up == 2)
    base[1] = hi[2];
  dx = hold->drag->to_m[0] - base[0];
  dy = hold->drag->to_m[1] - base[1];
  if (hypot (dx, dy) < 1e-6)
    return;

  angle = dew_snap_angle (atan2 (dy, dx), hold->drag->snap_m > 0);
  dew_aim_vector (hold->thing, aim);
  lean = fabs (aim[depth]) > lean_most ? 0 : aim[depth];
  plane = sqrt (1 - lean * lean);
  aim[depth] = lean;
  aim[across] = plane * cos (angle);
  aim[up] = plane * sin (angle);
  set_aim (hold->thing, aim);
}

/* --- lifting a flap ---------------------------------------------------- */

#define LEAST_TRAVEL_M 0.12 /* a hand's movement from shut to open, however small the flap */

/* How far open a flap is after its free edge was pulled: as seen from the side where it
 * stands off its wall, else by as much as it looks shorter. */
static double
lifted (const DewOpening *opening, DewView view, const double way_m[2])
{
  double height_m = opening->v1_m - opening->v0_m, out[2] = { 0, 1 };
  double travel_m = 0.45 * height_m;

  if (dew_face_edge_on (opening->face, view))
    {
      dew_face_outward (opening->face, view, out);
      travel_m = height_m * sin (DEW_FLAP_WIDEST_RAD);
    }
  return CLAMP (opening->open_fraction
                  + (way_m[0] * out[0] + way_m[1] * out[1]) / MAX (travel_m, LEAST_TRAVEL_M),
                0, 1);
}

static void
lift_flap (DewHold *hold)
{
  const double step = hold->drag->snap_m > 0 ? 0.05 : 0.01; /* of fully open */
  DewOpening *opening = &hold->thing->opening;
  DewGuide guide = { .kind = DEW_GUIDE_OPEN, .view = hold->drag->grip.view };
  double lo[3], hi[3];

  if (hold->thing->kind != DEW_THING_OPENING || opening->kind != DEW_OPENING_FLAP)
    return;
  opening->open_fraction
    = CLAMP (round (lifted (opening, guide.view, hold->way_m) / step) * step, 0, 1);

  dew_thing_box (hold->chamber, hold->thing, lo, hi);
  guide.a_m[0] = (lo[hold->axes[0]] + hi[hold->axes[0]]) / 2;
  guide.a_m[1] = hi[hold->axes[1]];
  guide.open_fraction = opening->open_fraction;
  hold->guides->guide[hold->guides->n++] = guide;
}

/* --- all of them ------------------------------------------------------- */

static void
pull (DewHold *hold)
{
  if ((hold->thing == NULL) != (hold->drag->grip.part == DEW_GRIP_WALL))
    return;
  switch (hold->drag->grip.part)
    {
    case DEW_GRIP_BODY:
      dew_hold_move (hold);
      break;
    case DEW_GRIP_LOW_EDGE:
    case DEW_GRIP_HIGH_EDGE:
      dew_hold_pull_edge (hold);
      break;
    case DEW_GRIP_AIM:
      turn_aim (hold);
      break;
    case DEW_GRIP_FLAP:
      lift_flap (hold);
      break;
    case DEW_GRIP_WALL:
      dew_hold_pull_wall (hold);
      break;
    }
}

void
dew_chamber_drag (DewChamber *copy, const DewDrag *drag, DewGuides *guides)
{
  DewGuides unseen;
  DewHold hold = { .chamber = copy, .drag = drag, .guides = guides != NULL ? guides : &unseen };

  g_return_if_fail (copy != NULL && drag != NULL);

  hold.guides->n = 0;
  hold.variant = dew_chamber_shown (copy);
  hold.thing = dew_variant_thing (hold.variant, drag->grip.thing_id);
  dew_chamber_inner_m (copy, hold.inner_m);
  hold.axes[0] = dew_view_across (drag->grip.view);
  hold.axes[1] = dew_view_up (drag->grip.view);
  for (int i = 0; i < 2; i++)
    hold.way_m[i] = drag->to_m[i] - drag->from_m[i];
  pull (&hold);
}
