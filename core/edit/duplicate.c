/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "edit/arrange.h"

#include "edit/edit-private.h"
#include "edit/place.h"
#include "chamber/chamber-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* Copies of things, and where they go. */

#define STEP_M 0.01   /* between the spots that are tried */
#define CLEAR_M 0.005 /* between a copy and what is there */
#define ASIDE_M 0.02  /* where there is no free spot */

/* --- free spots -------------------------------------------------------- */

typedef struct
{
  double lo[3], hi[3]; /* m */
} Box;

/* Whether two things in the way of each other are a fault. Holes only mind holes of
 * their own face; leaves grow over the board above them. */
static gboolean
mind (const DewThing *a, const DewThing *b)
{
  DewFace face_a = DEW_N_FACES, face_b = DEW_N_FACES;
  gboolean hole_a = dew_thing_in_face (a, &face_a), hole_b = dew_thing_in_face (b, &face_b);

  if (hole_a || hole_b)
    return hole_a && hole_b && face_a == face_b;
  if (a->kind == DEW_THING_PLANT || b->kind == DEW_THING_PLANT)
    return a->kind != DEW_THING_SHELF && b->kind != DEW_THING_SHELF;
  return TRUE;
}

static gboolean
overlap (const Box *a, const Box *b, const double d[3], double clear_m)
{
  for (int axis = 0; axis < 3; axis++)
    {
      /* What stands on a board touches it, and holes are flat. */
      double clear = axis == 2 ? -DEW_SLACK_M : clear_m;

      if (a->lo[axis] + d[axis] >= b->hi[axis] + clear
          || a->hi[axis] + d[axis] <= b->lo[axis] - clear)
        return FALSE;
    }
  return TRUE;
}

static Box
box_of (const DewChamber *chamber, const DewThing *thing)
{
  Box box;
  DewFace face;

  dew_thing_body (chamber, thing, box.lo, box.hi);
  /* A flat box overlaps nothing; the face says where it is anyway. */
  if (dew_thing_in_face (thing, &face))
    {
      box.lo[dew_face_axis (face)] = -1.0;
      box.hi[dew_face_axis (face)] = 1.0;
    }
  return box;
}

/* A spot for things that are not in the variant yet. */
typedef struct
{
  const DewChamber *chamber;
  const DewVariant *variant;
  const GArray *things; /* DewThing, to be placed */
  GArray *boxes;        /* Box, of those */
  GArray *taken;        /* Box, of what is there */
  double inner[3];
} Spot;

static void
spot_begin (Spot *spot, const DewChamber *chamber, const DewVariant *variant, const GArray *things)
{
  spot->chamber = chamber;
  spot->variant = variant;
  spot->things = things;
  spot->boxes = g_array_new (FALSE, FALSE, sizeof (Box));
  spot->taken = g_array_new (FALSE, FALSE, sizeof (Box));
  dew_chamber_inner_m (chamber, spot->inner);
  for (guint i = 0; i < things->len; i++)
    {
      Box box = box_of (chamber, &g_array_index (things, DewThing, i));

      g_array_append_val (spot->boxes, box);
    }
  for (guint i = 0; i < variant->things->len; i++)
    {
      Box box = box_of (chamber, &g_array_index (variant->things, DewThing, i));

      g_array_append_val (spot->taken, box);
    }
}

static void
spot_end (Spot *spot)
{
  g_array_unref (spot->boxes);
  g_array_unref (spot->taken);
}

static gboolean
spot_inside (const Spot *spot, guint i, const double d[3])
{
  const DewThing *thing = &g_array_index (spot->things, DewThing, i);
  const Box *box = &g_array_index (spot->boxes, Box, i);
  double margin = thing->kind == DEW_THING_SHELF ? DEW_BAY_MIN_M : 0.0;

  for (int axis = 0; axis < 3; axis++)
    if (dew_thing_moves (thing, axis)
        && (box->lo[axis] + d[axis] < margin - DEW_SLACK_M
            || box->hi[axis] + d[axis] > spot->inner[axis] - margin + DEW_SLACK_M))
      return FALSE;
  return TRUE;
}

/* What stood on a board, or now would, has to be over it. */
static gboolean
spot_on_board (const Spot *spot, const Box *box, const double d[3])
{
  double x = (box->lo[0] + box->hi[0]) / 2.0 + d[0];
  double y = (box->lo[1] + box->hi[1]) / 2.0 + d[1];

  for (guint i = 0; i < spot->variant->things->len; i++)
    {
      const Box *board = &g_array_index (spot->taken, Box, i);

      if (g_array_index (spot->variant->things, DewThing, i).kind == DEW_THING_SHELF
          && fabs (box->lo[2] + d[2] - board->hi[2]) <= DEW_STANDING_M
          && (x < board->lo[0] || x > board->hi[0] || y < board->lo[1] || y > board->hi[1]))
        return FALSE;
    }
  return TRUE;
}

static gboolean
spot_free (const Spot *spot, const double d[3])
{
  for (guint i = 0; i < spot->things->len; i++)
    {
      const DewThing *thing = &g_array_index (spot->things, DewThing, i);
      const Box *box = &g_array_index (spot->boxes, Box, i);
      double own[3];

      for (int axis = 0; axis < 3; axis++)
        own[axis] = dew_thing_moves (thing, axis) ? d[axis] : 0.0;
      if (!spot_inside (spot, i, own)
          || (thing->kind != DEW_THING_SHELF && !spot_on_board (spot, box, own)))
        return FALSE;
      for (guint k = 0; k < spot->variant->things->len; k++)
        {
          const DewThing *other = &g_array_index (spot->variant->things, DewThing, k);
          double clear = thing->kind == DEW_THING_SHELF ? 0.0 : CLEAR_M;

          if (mind (thing, other)
              && overlap (box, &g_array_index (spot->taken, Box, k), own, clear))
            return FALSE;
        }
    }
  return TRUE;
}

/* The nearest free spot for a shift by `up` and anything across and deep. */
static gboolean
spot_nearest (const Spot *spot, double up, double d[3])
{
  int nx = (int) (spot->inner[0] / STEP_M) + 1, ny = (int) (spot->inner[1] / STEP_M) + 1;
  double best = INFINITY;

  for (int i = -nx; i <= nx; i++)
    for (int k = -ny; k <= ny; k++)
      {
        double next[3] = { i * STEP_M, k * STEP_M, up };
        /* To the side rather than to the back, right rather than left. */
        double far = hypot (next[0], 1.5 * next[1]) + (i < 0 ? 1e-4 : 0.0) + (k < 0 ? 2e-5 : 0.0);

        if (far >= best || (i == 0 && k == 0 && up == 0.0) || !spot_free (spot, next))
          continue;
        best = far;
        memcpy (d, next, sizeof next);
      }
  return isfinite (best);
}

static int
nearer (gconstpointer a, gconstpointer b)
{
  double p = fabs (*(const double *) a), q = fabs (*(const double *) b);

  return p < q ? -1 : p > q;
}

/* Ways up and down that may lead to a free spot: from board to board, and for shelves
 * by steps. */
static GArray *
ways_up (const Spot *spot)
{
  GArray *ways = g_array_new (FALSE, FALSE, sizeof (double));
  double lowest = INFINITY;
  gboolean shelf = FALSE;
  double way = 0.0;

  g_array_append_val (ways, way);
  for (guint i = 0; i < spot->things->len; i++)
    {
      lowest = MIN (lowest, g_array_index (spot->boxes, Box, i).lo[2]);
      shelf |= g_array_index (spot->things, DewThing, i).kind == DEW_THING_SHELF;
    }
  if (shelf)
    for (int i = 1; i * STEP_M < spot->inner[2]; i++)
      for (int sign = -1; sign <= 1; sign += 2)
        {
          way = sign * i * STEP_M;
          g_array_append_val (ways, way);
        }
  else
    {
      double rest = dew_variant_rest_height (spot->variant, lowest + DEW_SLACK_M);

      way = -rest;
      g_array_append_val (ways, way);
      for (guint i = 0; i < spot->variant->things->len; i++)
        if (g_array_index (spot->variant->things, DewThing, i).kind == DEW_THING_SHELF)
          {
            way = g_array_index (spot->taken, Box, i).hi[2] - rest;
            g_array_append_val (ways, way);
          }
    }
  g_array_sort (ways, nearer);
  return ways;
}

/* Shelves span the whole plan: only the way up or down counts for a set with one. */
static gboolean
spot_find (const Spot *spot, double d[3])
{
  g_autoptr (GArray) ways = ways_up (spot);
  gboolean shelf = FALSE;

  for (guint i = 0; i < spot->things->len; i++)
    shelf |= g_array_index (spot->things, DewThing, i).kind == DEW_THING_SHELF;
  for (guint i = 0; i < ways->len; i++)
    {
      double up = g_array_index (ways, double, i);

      if (!shelf && spot_nearest (spot, up, d))
        return TRUE;
      d[0] = d[1] = 0.0;
      d[2] = up;
      if (shelf && up != 0.0 && spot_free (spot, d))
        return TRUE;
    }
  return FALSE;
}

/* --- copies ------------------------------------------------------------ */

/* Lets links of the new things, which had the ids `old`, follow. */
static void
relink (DewVariant *variant, const GArray *old, const GArray *ids)
{
  for (guint i = 0; i < ids->len; i++)
    {
      DewThing *thing = dew_variant_thing (variant, g_array_index (ids, guint, i));

      for (const DewField *field = dew_thing_fields (thing->kind); field->key != NULL; field++)
        {
          const DewThing *instrument;
          int link;

          if (field->type != DEW_FIELD_LINK)
            continue;
          link = dew_field_get_int (field, thing);
          for (guint k = 0; k < old->len && link > 0; k++)
            if (g_array_index (old, DewThing, k).id == (guint) link)
              {
                link = (int) g_array_index (ids, guint, k);
                break;
              }
          instrument = link > 0 ? dew_variant_thing (variant, (guint) link) : NULL;
          dew_field_set_int (field, thing,
                             instrument != NULL && instrument->kind == DEW_THING_INSTRUMENT ? link
                                                                                            : 0);
        }
    }
}

static GArray *
add_copies (DewChamber *chamber, DewVariant *variant, const GArray *things)
{
  GArray *ids = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < things->len; i++)
    {
      DewThing copy = g_array_index (things, DewThing, i);
      guint id;

      dew_variant_free_name (variant, copy.name);
      id = dew_variant_add (chamber, variant, &copy)->id;
      g_array_append_val (ids, id);
    }
  relink (variant, things, ids);
  return ids;
}

/* `stay`: they may remain where they are, when that is free. */
static GArray *
place_copies (DewChamber *chamber, DewVariant *variant, const GArray *things, gboolean stay,
              GError **error)
{
  const double none[3] = { 0.0, 0.0, 0.0 };
  double d[3] = { 0.0, 0.0, 0.0 };
  gboolean found;
  GArray *ids;
  Spot spot;

  if (things->len == 0)
    {
      g_set_error_literal (error, DEW_CHAMBER_ERROR, DEW_CHAMBER_ERROR_REFUSED,
                           _ ("Choose something to copy first"));
      return NULL;
    }
  if (variant->things->len + things->len > DEW_THINGS_MAX)
    {
      g_set_error (error, DEW_CHAMBER_ERROR, DEW_CHAMBER_ERROR_REFUSED,
                   _ ("A layout holds %d things at most; take something out first"),
                   DEW_THINGS_MAX);
      return NULL;
    }
  spot_begin (&spot, chamber, variant, things);
  found = (stay && spot_free (&spot, none)) || spot_find (&spot, d);
  spot_end (&spot);

  ids = add_copies (chamber, variant, things);
  /* The copies alone: what stands on the shelf that was copied is not moved. */
  for (int axis = 0; axis < 3; axis++)
    {
      if (!found)
        d[axis] = dew_set_clamp (chamber, variant, ids, axis, axis < 2 ? ASIDE_M : 0.0);
      for (guint i = 0; i < ids->len; i++)
        dew_thing_shift (dew_set_thing (variant, ids, i), axis, d[axis]);
    }
  return ids;
}

GArray *
dew_variant_duplicate (DewChamber *chamber, DewVariant *variant, const guint *ids, guint n,
                       GError **error)
{
  g_autoptr (GArray) set = NULL;
  g_autoptr (GArray) things = NULL;

  g_return_val_if_fail (chamber != NULL && variant != NULL && (ids != NULL || n == 0), NULL);

  set = dew_set_ids (variant, ids, n);
  things = g_array_new (FALSE, FALSE, sizeof (DewThing));
  for (guint i = 0; i < set->len; i++)
    g_array_append_val (things, *dew_set_thing (variant, set, i));
  return place_copies (chamber, variant, things, FALSE, error);
}

GArray *
dew_variant_insert (DewChamber *chamber, DewVariant *variant, const GArray *things, GError **error)
{
  g_return_val_if_fail (chamber != NULL && variant != NULL && things != NULL, NULL);
  return place_copies (chamber, variant, things, TRUE, error);
}
