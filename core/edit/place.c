/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "edit/place.h"

#include "edit/arrange.h"
#include "edit/edit-private.h"
#include "chamber/chamber-private.h"

#include <math.h>
#include <string.h>

#define TRIAL_STEP_M 0.02

/* --- names ------------------------------------------------------------- */

static gboolean
name_taken (const DewVariant *variant, const char *name)
{
  for (guint i = 0; i < variant->things->len; i++)
    if (strcmp (g_array_index (variant->things, DewThing, i).name, name) == 0)
      return TRUE;
  return FALSE;
}

void
dew_variant_free_name (const DewVariant *variant, char name[DEW_NAME_SIZE])
{
  g_autofree char *stem = g_strdup (name);
  gsize length = strlen (stem);
  guint64 number = 2;

  if (name[0] == '\0' || !name_taken (variant, name))
    return;
  while (length > 0 && g_ascii_isdigit (stem[length - 1]))
    length--;
  /* Nobody counts beyond nine digits: those are part of the name. */
  if (length > 0 && stem[length] != '\0' && stem[length - 1] == ' ' && strlen (stem + length) < 10)
    {
      number = g_ascii_strtoull (stem + length, NULL, 10) + 1;
      stem[length - 1] = '\0';
    }
  for (; name_taken (variant, name); number++)
    {
      g_autofree char *end = g_strdup_printf (" %" G_GUINT64_FORMAT, number);
      char start[DEW_NAME_SIZE];

      dew_text_copy (start, DEW_NAME_SIZE - strlen (end), stem);
      g_snprintf (name, DEW_NAME_SIZE, "%s%s", start, end);
    }
}

/* --- a free place ------------------------------------------------------ */

static gboolean
is_free (const DewChamber *chamber, const DewVariant *variant, const DewThing *thing)
{
  double lo[3], hi[3];

  dew_thing_box (chamber, thing, lo, hi);
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (variant->things, DewThing, i);
      double other_lo[3], other_hi[3];

      dew_thing_box (chamber, other, other_lo, other_hi);
      if (dew_boxes_cross (lo, hi, other_lo, other_hi, 3, DEW_SLACK_M)
          || dew_holes_cross (thing, other))
        return FALSE;
    }
  return TRUE;
}

/* At the same height in another wall, when the front is taken, as it is by a zip. */
static gboolean
try_other_walls (const DewChamber *chamber, const DewVariant *variant, DewThing *thing)
{
  static const DewFace walls[] = { DEW_FACE_RIGHT, DEW_FACE_LEFT, DEW_FACE_BACK };
  double inner_m[3];

  dew_chamber_inner_m (chamber, inner_m);
  for (guint i = 0; i < G_N_ELEMENTS (walls); i++)
    {
      DewThing trial = *thing;
      double across_m = inner_m[walls[i] == DEW_FACE_BACK ? 0 : 1];
      double width_m = MIN (thing->opening.u1_m - thing->opening.u0_m, across_m);

      trial.opening.face = walls[i];
      trial.opening.u0_m = (across_m - width_m) / 2.0;
      trial.opening.u1_m = trial.opening.u0_m + width_m;
      if (is_free (chamber, variant, &trial))
        {
          *thing = trial;
          return TRUE;
        }
    }
  return FALSE;
}

/* The middle of the tallest bay is where another shelf helps most. */
static double
shelf_height (const double *z_m, int n_bays)
{
  int tallest = 0;

  for (int i = 1; i < n_bays; i++)
    {
      if (z_m[i + 1] - z_m[i] > z_m[tallest + 1] - z_m[tallest] + 1e-9)
        tallest = i;
    }
  return (z_m[tallest] + z_m[tallest + 1]) / 2.0;
}

/* At the first free place of one bay: in the middle, then outward, left and right in
 * turn. FALSE when there is none; the thing is then in the middle. */
static gboolean
place_in_bay (const DewChamber *chamber, const DewVariant *variant, int bay, double height_m,
              DewThing *thing)
{
  double inner_m[3], at_m[2];

  dew_chamber_inner_m (chamber, inner_m);
  at_m[0] = inner_m[0] / 2.0;
  at_m[1] = height_m;
  dew_thing_drop (chamber, variant, thing, DEW_VIEW_FRONT, at_m, bay);
  if (thing->kind == DEW_THING_SHELF || is_free (chamber, variant, thing))
    return TRUE;

  for (double off_m = TRIAL_STEP_M; off_m < inner_m[0] / 2.0; off_m += TRIAL_STEP_M)
    {
      for (int side = -1; side <= 1; side += 2)
        {
          DewThing trial = *thing;
          double there_m[2] = { at_m[0] + side * off_m, at_m[1] };

          dew_thing_drop (chamber, variant, &trial, DEW_VIEW_FRONT, there_m, bay);
          if (is_free (chamber, variant, &trial))
            {
              *thing = trial;
              return TRUE;
            }
        }
    }
  return FALSE;
}

void
dew_thing_place (const DewChamber *chamber, const DewVariant *variant, DewThingKind kind, int bay,
                 DewThing *thing)
{
  g_autofree double *z_m = NULL;
  DewThing first;
  int n_bays;

  dew_thing_init (thing, kind);
  g_strlcpy (thing->name, dew_thing_kind_label (kind), DEW_NAME_SIZE);
  dew_variant_free_name (variant, thing->name);
  n_bays = dew_variant_bays (chamber, variant, &z_m, NULL);
  bay = CLAMP (bay, 0, n_bays - 1);

  /* In the bay that is looked at, else in the nearest one with room for it: a
   * humidifier may be too tall for the lowest. */
  for (int away = 0; away < n_bays; away++)
    {
      for (int side = 1; side >= -1; side -= 2)
        {
          int there = bay + side * away;
          DewThing trial = *thing;
          double height_m;

          if (there < 0 || there >= n_bays || (away == 0 && side < 0))
            continue;
          height_m = kind == DEW_THING_SHELF  ? shelf_height (z_m, n_bays)
                     : kind == DEW_THING_LAMP ? z_m[there + 1]
                                              : (z_m[there] + z_m[there + 1]) / 2.0;
          if (place_in_bay (chamber, variant, there, height_m, &trial))
            {
              *thing = trial;
              return;
            }
          if (away == 0)
            first = trial;
          /* The other walls at that height come before the front of another bay. */
          if (kind == DEW_THING_OPENING && try_other_walls (chamber, variant, &trial))
            {
              *thing = trial;
              return;
            }
        }
    }
  *thing = first;
}

/* --- keys -------------------------------------------------------------- */

/* To the next board, with what it has above its own: a crown keeps its pot. */
static double
next_shelf_way (const DewChamber *chamber, const DewVariant *variant, double z_m, gboolean up)
{
  g_autofree double *bound_m = NULL;
  int n_bays = dew_variant_bays (chamber, variant, &bound_m, NULL);
  int bay = CLAMP (dew_bay_at (bound_m, n_bays, z_m) + (up ? 1 : -1), 0, n_bays - 1);

  return dew_variant_rest_height (variant, (bound_m[bay] + bound_m[bay + 1]) / 2.0)
         - dew_variant_rest_height (variant, z_m);
}

static gboolean
all_inside (const DewChamber *chamber, const DewVariant *variant)
{
  double inner_m[3];

  dew_chamber_inner_m (chamber, inner_m);
  for (guint i = 0; i < variant->things->len; i++)
    {
      double lo[3], hi[3];

      dew_thing_box (chamber, &g_array_index (variant->things, DewThing, i), lo, hi);
      for (int axis = 0; axis < 3; axis++)
        {
          if (lo[axis] < -DEW_SLACK_M || hi[axis] > inner_m[axis] + DEW_SLACK_M)
            return FALSE;
        }
    }
  return TRUE;
}

/* The way that a key wants one thing to go, d_m; FALSE where it cannot. */
static gboolean
nudge_way (const DewChamber *chamber, const DewVariant *variant, const DewThing *thing,
           DewNudge way, double step_m, double d_m[3])
{
  static const int axis_of[] = { 0, 0, 2, 2, 1, 1 };
  static const int sign_of[] = { -1, 1, -1, 1, -1, 1 };
  double lo[3], hi[3], inner_m[3];
  int axis = axis_of[way];

  if (axis == 0 && !dew_thing_moves (thing, axis))
    axis = 1;
  if (!dew_thing_moves (thing, axis))
    return FALSE;

  dew_thing_box (chamber, thing, lo, hi);
  dew_chamber_inner_m (chamber, inner_m);
  d_m[0] = d_m[1] = d_m[2] = 0;
  if (axis == 2 && dew_stands (thing->kind))
    d_m[2] = next_shelf_way (chamber, variant, lo[2], way == DEW_NUDGE_UP);
  else
    d_m[axis] = dew_shift_inside (lo[axis], hi[axis], sign_of[way] * step_m, 0, inner_m[axis]);
  return fabs (d_m[axis]) >= 1e-9;
}

gboolean
dew_variant_nudge (const DewChamber *chamber, DewVariant *variant, guint id, const guint *ids,
                   guint n, DewNudge way, double step_m)
{
  const DewThing *thing = dew_variant_thing (variant, id);
  g_autoptr (GArray) before = NULL;
  gboolean was_inside;
  double d_m[3];

  if (thing == NULL || !nudge_way (chamber, variant, thing, way, step_m, d_m))
    return FALSE;
  before = g_array_copy (variant->things);
  was_inside = all_inside (chamber, variant);
  dew_variant_shift (chamber, variant, id, d_m);
  /* A shelf takes along what stands on it, and that may be too tall. */
  if (was_inside && !all_inside (chamber, variant))
    {
      memcpy (variant->things->data, before->data, before->len * sizeof (DewThing));
      return FALSE;
    }
  if (n > 1)
    {
      g_autoptr (GArray) set = dew_set_ids (variant, ids, n);

      memcpy (variant->things->data, before->data, before->len * sizeof (DewThing));
      return dew_set_shift (chamber, variant, set, thing, d_m);
    }
  return TRUE;
}

gboolean
dew_thing_change_amount (DewThing *thing, gboolean night, double step)
{
  static const char *const by_day[] = { "speed_day", "duty_day", "on_day" };
  static const char *const by_night[] = { "speed_night", "duty_night", "on_night" };
  const DewField *field = NULL;
  double before, after;

  if (thing->kind == DEW_THING_OPENING)
    field = dew_field_find (dew_thing_fields (thing->kind), "open_fraction");
  for (guint i = 0; i < G_N_ELEMENTS (by_day) && field == NULL; i++)
    field = dew_field_find (dew_thing_fields (thing->kind), night ? by_night[i] : by_day[i]);
  if (field == NULL)
    return FALSE;
  before = dew_field_get_real (field, thing);
  after = CLAMP (round ((before + step) * 100.0) / 100.0, field->min, field->max);
  dew_field_set_real (field, thing, after);
  return after < before || after > before;
}

gboolean
dew_thing_turn (DewThing *thing, gboolean upward, double step_rad)
{
  const DewField *field
    = dew_field_find (dew_thing_fields (thing->kind), upward ? "elevation_rad" : "azimuth_rad");
  double angle_rad;

  if (field == NULL)
    return FALSE;
  angle_rad = dew_field_get_real (field, thing) + step_rad;
  if (upward)
    angle_rad = CLAMP (angle_rad, -G_PI / 2.0, G_PI / 2.0);
  else if (angle_rad > field->max + 1e-9)
    angle_rad -= 2.0 * G_PI;
  else if (angle_rad < field->min - 1e-9)
    angle_rad += 2.0 * G_PI;
  dew_field_set_real (field, thing, CLAMP (angle_rad, field->min, field->max));
  return TRUE;
}

gboolean
dew_variant_move_in (const DewChamber *chamber, DewVariant *variant, guint id)
{
  DewThing *thing = dew_variant_thing (variant, id);
  double lo[3], hi[3], inner_m[3];

  if (thing == NULL || thing->kind == DEW_THING_SHELF || dew_thing_in_face (thing, NULL))
    return FALSE;
  dew_chamber_inner_m (chamber, inner_m);
  for (int axis = 0; axis < 3; axis++)
    {
      dew_thing_body (chamber, thing, lo, hi);
      if (hi[axis] - lo[axis] > inner_m[axis])
        return FALSE;
      if (lo[axis] < 0)
        dew_thing_shift (thing, axis, -lo[axis]);
      else if (hi[axis] > inner_m[axis])
        dew_thing_shift (thing, axis, inner_m[axis] - hi[axis]);
    }
  dew_thing_settle (chamber, variant, thing);
  return TRUE;
}
