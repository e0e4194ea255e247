/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which thing of this layout is behind what is found: where the air of a spot comes from, and
 * what shines, heats or mists most on it. */
#include "forecast/findings-private.h"

#include "geometry/geometry.h"

#include <math.h>

#define STEP_M 0.01
#define LONGEST_M 3.0    /* of a way upstream: what goes on longer has mixed */
#define NEAR_HOLE_M 0.03 /* from the plane of an opening */
#define AT_FAN 0.75      /* of its diameter: inside its stream just after it */
#define STILL_M_S 1e-4

/* --- where air comes from ---------------------------------------------------------------- */

static gboolean
at_fan (const DewThing *thing, const double at_m[3])
{
  double dx = at_m[0] - thing->fan.x_m, dy = at_m[1] - thing->fan.y_m;
  double dz = at_m[2] - thing->fan.z_m;

  return sqrt (dx * dx + dy * dy + dz * dz) < AT_FAN * thing->fan.diameter_m;
}

static gboolean
at_hole (const DewForecast *f, const DewThing *thing, const double at_m[3])
{
  DewFace face = thing->opening.face;
  double lo[2], hi[2], plane_m;
  int u, v, depth;

  dew_thing_hole (thing, lo, hi);
  dew_face_axes (face, &u, &v);
  depth = 3 - u - v;
  plane_m = dew_face_is_high (face) ? f->inner_m[depth] : 0.0;
  return fabs (at_m[depth] - plane_m) < NEAR_HOLE_M && at_m[u] > lo[0] - NEAR_HOLE_M
         && at_m[u] < hi[0] + NEAR_HOLE_M && at_m[v] > lo[1] - NEAR_HOLE_M
         && at_m[v] < hi[1] + NEAR_HOLE_M;
}

static const DewThing *
mover_at (const DewJudge *judge, const double at_m[3])
{
  for (guint i = 0; i < judge->variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (judge->variant->things, DewThing, i);

      if (thing->kind == DEW_THING_FAN && at_fan (thing, at_m))
        return thing;
      if (thing->kind == DEW_THING_OPENING && at_hole (judge->forecast, thing, at_m))
        return thing;
    }
  return NULL;
}

const DewThing *
dew_judge_mover (const DewJudge *judge, const double at_m[3])
{
  const DewForecast *f = judge->forecast;
  double here[3] = { at_m[0], at_m[1], at_m[2] };

  if (f->face_m_s[0] == NULL)
    return NULL;
  for (double way_m = 0.0; way_m < LONGEST_M; way_m += STEP_M)
    {
      const DewThing *mover = mover_at (judge, here);
      double v[3], speed;

      if (mover != NULL)
        return mover;
      if (!dew_forecast_velocity (f, here[0], here[1], here[2], v))
        return NULL;
      speed = sqrt (v[0] * v[0] + v[1] * v[1] + v[2] * v[2]);
      if (!(speed > STILL_M_S))
        return NULL;
      for (int axis = 0; axis < 3; axis++)
        here[axis] -= STEP_M * v[axis] / speed;
    }
  return NULL;
}

/* --- what gives most --------------------------------------------------------------------- */

static double
gives (const DewThing *thing)
{
  switch (thing->kind)
    {
    case DEW_THING_LAMP:
      return thing->lamp.power_W;
    case DEW_THING_HUMIDIFIER:
      return thing->humidifier.output_kg_s;
    case DEW_THING_MAT:
      return thing->mat.power_W;
    default:
      return 1.0;
    }
}

const DewThing *
dew_judge_nearest (const DewJudge *judge, DewThingKind kind, const double at_m[3])
{
  const double least_m = 0.05; /* no thing is at a point */
  const DewThing *best = NULL;
  double most = 0.0;

  for (guint i = 0; i < judge->variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (judge->variant->things, DewThing, i);
      double lo[3], hi[3], squares = least_m * least_m, worth;

      if (thing->kind != kind)
        continue;
      dew_thing_box (judge->chamber, thing, lo, hi);
      for (int axis = 0; axis < 3; axis++)
        {
          double off = MAX (MAX (lo[axis] - at_m[axis], at_m[axis] - hi[axis]), 0.0);

          squares += off * off;
        }
      worth = gives (thing) / squares;
      if (!(worth > most))
        continue;
      most = worth;
      best = thing;
    }
  return best;
}

/* --- who is to be named ------------------------------------------------------------------- */

static const DewThing *
culprit (const DewJudge *judge, const DewFinding *finding)
{
  const double *at_m = finding->at_m;
  const DewThing *warm;

  switch (finding->cause)
    {
    case DEW_CAUSE_STREAM:
    case DEW_CAUSE_DRY_AIR:
      return dew_judge_mover (judge, at_m);
    case DEW_CAUSE_FALLING_MIST:
      return dew_judge_nearest (judge, DEW_THING_HUMIDIFIER, at_m);
    case DEW_CAUSE_STRONG_LIGHT:
    case DEW_CAUSE_SHADE:
      return dew_judge_nearest (judge, DEW_THING_LAMP, at_m);
    case DEW_CAUSE_WARM_DAY:
      warm = dew_judge_nearest (judge, DEW_THING_LAMP, at_m);
      return warm != NULL ? warm : dew_judge_nearest (judge, DEW_THING_MAT, at_m);
    default:
      return NULL;
    }
}

void
dew_judge_blame (const DewJudge *judge, DewFinding *finding)
{
  const DewThing *by = culprit (judge, finding);

  if (by == NULL || by->id == finding->thing_id)
    return;
  finding->by_id = by->id;
  finding->by_kind = by->kind;
  g_strlcpy (finding->by, by->name, sizeof finding->by);
}
