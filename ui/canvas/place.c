/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "canvas/place.h"

#include "document/tongue.h"
#include "edit/arrange.h"
#include "geometry/geometry.h"
#include "paint/sheet.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define TRIAL_STEP_M 0.02

gboolean
dew_place_stands (DewThingKind kind)
{
  switch (kind)
    {
    case DEW_THING_HUMIDIFIER:
    case DEW_THING_POT:
    case DEW_THING_TRAY:
    case DEW_THING_MAT:
    case DEW_THING_SOURCE:
    case DEW_THING_PLANT:
      return TRUE;
    default:
      return FALSE;
    }
}

void
dew_place_name (const DewVariant *variant, DewThingKind kind, char name[DEW_NAME_SIZE])
{
  const char *label = dew_thing_kind_label (kind);

  for (guint number = 1;; number++)
    {
      gboolean taken = FALSE;

      if (number == 1)
        g_strlcpy (name, label, DEW_NAME_SIZE);
      else
        g_snprintf (name, DEW_NAME_SIZE, "%s %u", label, number);
      for (guint i = 0; i < variant->things->len && !taken; i++)
        taken = strcmp (g_array_index (variant->things, DewThing, i).name, name) == 0;
      if (!taken)
        return;
    }
}

static gboolean
boxes_overlap (const double a_lo[3], const double a_hi[3], const double b_lo[3],
               const double b_hi[3])
{
  for (int axis = 0; axis < 3; axis++)
    {
      if (a_hi[axis] <= b_lo[axis] + 1e-6 || b_hi[axis] <= a_lo[axis] + 1e-6)
        return FALSE;
    }
  return TRUE;
}

/* Openings are flat: only two in the same face can be in each other's way. */
static gboolean
openings_meet (const DewOpening *a, const DewOpening *b)
{
  return a->face == b->face && a->u0_m < b->u1_m && b->u0_m < a->u1_m && a->v0_m < b->v1_m
         && b->v0_m < a->v1_m;
}

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
      if (boxes_overlap (lo, hi, other_lo, other_hi))
        return FALSE;
      if (thing->kind == DEW_THING_OPENING && other->kind == DEW_THING_OPENING
          && openings_meet (&thing->opening, &other->opening))
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
      double across_m = walls[i] == DEW_FACE_BACK ? inner_m[0] : inner_m[1];
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
  dew_sheet_drop (chamber, variant, thing, DEW_VIEW_FRONT, at_m, bay);
  if (thing->kind == DEW_THING_SHELF || is_free (chamber, variant, thing))
    return TRUE;

  for (double off_m = TRIAL_STEP_M; off_m < inner_m[0] / 2.0; off_m += TRIAL_STEP_M)
    {
      for (int side = -1; side <= 1; side += 2)
        {
          DewThing trial = *thing;
          double there_m[2] = { at_m[0] + side * off_m, at_m[1] };

          dew_sheet_drop (chamber, variant, &trial, DEW_VIEW_FRONT, there_m, bay);
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
dew_place_new_thing (const DewChamber *chamber, const DewVariant *variant, DewThingKind kind,
                     int bay, DewThing *thing)
{
  g_autofree double *z_m = NULL;
  DewThing first;
  int n_bays;

  dew_thing_init (thing, kind);
  dew_place_name (variant, kind, thing->name);
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

/* The shift that keeps the box lo..hi inside the enclosure. */
static double
clamp_shift (double shift, double lo, double hi, double inner)
{
  if (lo + shift < 0.0)
    shift = -lo;
  if (hi + shift > inner)
    shift = inner - hi;
  return shift;
}

/* To the next board, with what it has above its own: a crown keeps its pot. */
static double
next_shelf_shift (const DewChamber *chamber, const DewVariant *variant, double z_m, gboolean up)
{
  g_autofree double *bound_m = NULL;
  int n_bays = dew_variant_bays (chamber, variant, &bound_m, NULL);
  int bay = 0;

  for (int i = 0; i < n_bays; i++)
    {
      if (z_m >= bound_m[i] - 1e-6)
        bay = i;
    }
  bay = CLAMP (bay + (up ? 1 : -1), 0, n_bays - 1);
  return dew_variant_rest_height (variant, (bound_m[bay] + bound_m[bay + 1]) / 2.0)
         - dew_variant_rest_height (variant, z_m);
}

static gboolean
all_inside (const DewChamber *chamber, const DewVariant *variant, const double inner_m[3])
{
  for (guint i = 0; i < variant->things->len; i++)
    {
      double lo[3], hi[3];

      dew_thing_box (chamber, &g_array_index (variant->things, DewThing, i), lo, hi);
      for (int axis = 0; axis < 3; axis++)
        {
          if (lo[axis] < -1e-6 || hi[axis] > inner_m[axis] + 1e-6)
            return FALSE;
        }
    }
  return TRUE;
}

gboolean
dew_place_nudge (DewChamber *chamber, DewVariant *variant, guint id, DewNudge way, double step_m)
{
  static const int axis_of[] = { 0, 0, 2, 2, 1, 1 };
  static const int sign_of[] = { -1, 1, -1, 1, -1, 1 };
  DewThing *thing = dew_variant_thing (variant, id);
  double lo[3], hi[3], inner_m[3], d_m[3] = { 0.0, 0.0, 0.0 };
  g_autoptr (GArray) before = NULL;
  gboolean was_inside;
  int axis = axis_of[way];

  if (thing == NULL)
    return FALSE;
  if (thing->kind == DEW_THING_OPENING && axis == 0
      && (thing->opening.face == DEW_FACE_LEFT || thing->opening.face == DEW_FACE_RIGHT))
    axis = 1;
  if (thing->kind == DEW_THING_SHELF && axis != 2)
    return FALSE;

  dew_thing_box (chamber, thing, lo, hi);
  dew_chamber_inner_m (chamber, inner_m);
  if (axis == 2 && dew_place_stands (thing->kind))
    d_m[2] = next_shelf_shift (chamber, variant, lo[2], way == DEW_NUDGE_UP);
  else
    d_m[axis] = clamp_shift (sign_of[way] * step_m, lo[axis], hi[axis], inner_m[axis]);
  if (fabs (d_m[axis]) < 1e-9)
    return FALSE;
  before = g_array_copy (variant->things);
  was_inside = all_inside (chamber, variant, inner_m);
  dew_variant_shift (chamber, variant, id, d_m);
  if (!was_inside || all_inside (chamber, variant, inner_m))
    return TRUE;
  /* A shelf takes along what stands on it, and that may be too tall. */
  memcpy (variant->things->data, before->data, before->len * sizeof (DewThing));
  return FALSE;
}

gboolean
dew_place_nudge_several (DewChamber *chamber, DewVariant *variant, guint id, const guint *ids,
                         guint n, DewNudge way, double step_m)
{
  g_autoptr (DewChamber) trial = NULL;
  DewVariant *tried;
  double before[3], after[3], hi[3], d_m[3];

  if (n <= 1)
    return dew_place_nudge (chamber, variant, id, way, step_m);
  trial = dew_chamber_copy (chamber);
  tried = dew_chamber_variant (trial, variant->id);
  dew_thing_box (trial, dew_variant_thing (tried, id), before, hi);
  if (!dew_place_nudge (trial, tried, id, way, step_m))
    return FALSE;
  dew_thing_box (trial, dew_variant_thing (tried, id), after, hi);
  for (int axis = 0; axis < 3; axis++)
    d_m[axis] = after[axis] - before[axis];
  return dew_sheet_shift_several (chamber, variant, id, ids, n, d_m);
}

gboolean
dew_place_change_amount (DewVariant *variant, guint id, gboolean night, double step)
{
  static const char *const by_day[] = { "speed_day", "duty_day", "on_day" };
  static const char *const by_night[] = { "speed_night", "duty_night", "on_night" };
  DewThing *thing = dew_variant_thing (variant, id);
  const DewField *field = NULL;
  double before, after;

  if (thing == NULL)
    return FALSE;
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
dew_place_turn (DewVariant *variant, guint id, gboolean upward, double step_rad)
{
  DewThing *thing = dew_variant_thing (variant, id);
  const DewField *fields, *field;
  double angle_rad;

  if (thing == NULL)
    return FALSE;
  fields = dew_thing_fields (thing->kind);
  field = dew_field_find (fields, upward ? "elevation_rad" : "azimuth_rad");
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

char *
dew_place_words (const DewChamber *chamber, const DewVariant *variant, const DewThing *thing)
{
  g_autofree double *bound_m = NULL;
  g_autofree char *bay_name = NULL, *left = NULL, *front = NULL, *up = NULL;
  double lo[3], hi[3], middle_m;
  int n_bays, bay = 0;

  dew_thing_box (chamber, thing, lo, hi);
  if (thing->kind == DEW_THING_SHELF)
    {
      up = dew_length_text (lo[2], dew_tongue ());
      /* Translators: %s is a length. */
      return g_strdup_printf (_ ("%s above the floor"), up);
    }
  n_bays = dew_variant_bays (chamber, variant, &bound_m, NULL);
  middle_m = (lo[2] + hi[2]) / 2.0;
  for (int i = 0; i < n_bays; i++)
    {
      if (middle_m >= bound_m[i])
        bay = i;
    }
  bay_name = dew_bay_name (bay, n_bays);
  left = dew_length_text ((lo[0] + hi[0]) / 2.0, dew_tongue ());
  front = dew_length_text ((lo[1] + hi[1]) / 2.0, dew_tongue ());
  /* Translators: a bay ("Second bay") and two lengths. */
  return g_strdup_printf (_ ("%s, %s from the left, %s from the front"), bay_name, left, front);
}
