/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "edit/arrange.h"

#include "edit/arrange-private.h"
#include "geometry/geometry.h"

#include <glib/gi18n.h>
#include <math.h>

/* --- one thing --------------------------------------------------------- */

void
dew_thing_move (DewThing *thing, const double d[3])
{
  static const char *const keys[3] = { "x_m", "y_m", "z_m" };

  if (thing->kind == DEW_THING_OPENING)
    {
      DewOpening *opening = &thing->opening;
      int u, v;

      dew_face_axes (opening->face, &u, &v);
      opening->u0_m += d[u];
      opening->u1_m += d[u];
      opening->v0_m += d[v];
      opening->v1_m += d[v];
      return;
    }

  for (int axis = 0; axis < 3; axis++)
    {
      const DewField *field = dew_field_find (dew_thing_fields (thing->kind), keys[axis]);

      if (field != NULL)
        dew_field_set_real (field, thing, dew_field_get_real (field, thing) + d[axis]);
    }
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

          if (dew_rides_on (chamber, variant, rider, thing))
            dew_thing_move (rider, up);
        }
    }
  dew_thing_move (thing, d);
}

/* --- sets -------------------------------------------------------------- */

static gboolean
holds (const guint *ids, guint n, guint id)
{
  for (guint i = 0; i < n; i++)
    if (ids[i] == id)
      return TRUE;
  return FALSE;
}

static gboolean
set_holds (const GArray *ids, guint id)
{
  return holds ((const guint *) (gconstpointer) ids->data, ids->len, id);
}

GArray *
dew_set_ids (const DewVariant *variant, const guint *ids, guint n)
{
  GArray *set = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < variant->things->len; i++)
    {
      guint id = g_array_index (variant->things, DewThing, i).id;

      if (holds (ids, n, id))
        g_array_append_val (set, id);
    }
  return set;
}

gboolean
dew_thing_moves (const DewThing *thing, int axis)
{
  DewFace face;

  if (thing->kind == DEW_THING_SHELF)
    return axis == 2;
  if (dew_thing_in_face (thing, &face))
    return dew_face_axis (face) != axis;
  return TRUE;
}

/* d without what the thing cannot do. */
static void
thing_shift (DewThing *thing, const double d[3])
{
  double possible[3];

  for (int axis = 0; axis < 3; axis++)
    possible[axis] = dew_thing_moves (thing, axis) ? d[axis] : 0.0;
  dew_thing_move (thing, possible);
}

/* What stands on the shelves of the set goes up and down with them, but only once. */
void
dew_set_shift (const DewChamber *chamber, DewVariant *variant, const GArray *ids, const double d[3])
{
  const double up[3] = { 0.0, 0.0, d[2] };
  g_autoptr (GArray) riders = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < ids->len; i++)
    {
      const DewThing *shelf = dew_variant_thing (variant, g_array_index (ids, guint, i));

      if (shelf->kind != DEW_THING_SHELF)
        continue;
      for (guint k = 0; k < variant->things->len; k++)
        {
          const DewThing *thing = &g_array_index (variant->things, DewThing, k);

          if (!set_holds (ids, thing->id) && !set_holds (riders, thing->id)
              && dew_rides_on (chamber, variant, thing, shelf))
            g_array_append_val (riders, thing->id);
        }
    }
  for (guint i = 0; i < riders->len; i++)
    thing_shift (dew_variant_thing (variant, g_array_index (riders, guint, i)), up);
  for (guint i = 0; i < ids->len; i++)
    thing_shift (dew_variant_thing (variant, g_array_index (ids, guint, i)), d);
}

/* Something that is outside already may stay there, but not go further. */
void
dew_set_clamp (const DewChamber *chamber, const DewVariant *variant, const GArray *ids, double d[3])
{
  double inner[3];

  dew_chamber_inner_m (chamber, inner);
  for (guint i = 0; i < ids->len; i++)
    {
      const DewThing *thing = dew_variant_thing (variant, g_array_index (ids, guint, i));
      double margin = thing->kind == DEW_THING_SHELF ? DEW_BAY_MIN_M : 0.0;
      double lo[3], hi[3];

      dew_thing_body (chamber, thing, lo, hi);
      for (int axis = 0; axis < 3; axis++)
        if (dew_thing_moves (thing, axis))
          d[axis] = CLAMP (d[axis], MIN (0.0, margin - lo[axis]),
                           MAX (0.0, inner[axis] - margin - hi[axis]));
    }
}

void
dew_variant_shift_set (const DewChamber *chamber, DewVariant *variant, const guint *ids, guint n,
                       const double d[3], double done[3])
{
  g_autoptr (GArray) set = NULL;
  double shift[3] = { 0.0, 0.0, 0.0 };

  g_return_if_fail (chamber != NULL && variant != NULL && (ids != NULL || n == 0));

  set = dew_set_ids (variant, ids, n);
  if (set->len > 0)
    {
      for (int axis = 0; axis < 3; axis++)
        shift[axis] = isfinite (d[axis]) ? d[axis] : 0.0;
      dew_set_clamp (chamber, variant, set, shift);
      dew_set_shift (chamber, variant, set, shift);
    }
  for (int axis = 0; axis < 3 && done != NULL; axis++)
    done[axis] = shift[axis];
}

/* --- lining up and spreading ------------------------------------------- */

/* One thing of a set along one axis. */
typedef struct
{
  guint id;
  double lo, hi; /* m */
} Span;

static Span
span_of (const DewChamber *chamber, const DewThing *thing, int axis)
{
  double lo[3], hi[3];

  dew_thing_body (chamber, thing, lo, hi);
  return (Span){ thing->id, lo[axis], hi[axis] };
}

/* Those that can move along the axis; the shelves first, since others ride on them. */
static GArray *
spans_new (const DewChamber *chamber, const DewVariant *variant, const guint *ids, guint n,
           int axis)
{
  g_autoptr (GArray) set = dew_set_ids (variant, ids, n);
  GArray *spans = g_array_new (FALSE, FALSE, sizeof (Span));

  for (int shelves = 1; shelves >= 0; shelves--)
    for (guint i = 0; i < set->len; i++)
      {
        const DewThing *thing = dew_variant_thing (variant, g_array_index (set, guint, i));

        if ((thing->kind == DEW_THING_SHELF) == shelves && dew_thing_moves (thing, axis))
          {
            Span span = span_of (chamber, thing, axis);

            g_array_append_val (spans, span);
          }
      }
  return spans;
}

/* Brings the low edge of a thing to `lo`, from where it is by now. */
static void
bring (const DewChamber *chamber, DewVariant *variant, guint id, int axis, double lo)
{
  double d[3] = { 0.0, 0.0, 0.0 };

  d[axis] = lo - span_of (chamber, dew_variant_thing (variant, id), axis).lo;
  dew_variant_shift (chamber, variant, id, d);
}

static gboolean
refuse (GError **error, const char *reason)
{
  g_set_error_literal (error, DEW_CHAMBER_ERROR, DEW_CHAMBER_ERROR_REFUSED, reason);
  return FALSE;
}

gboolean
dew_variant_align (const DewChamber *chamber, DewVariant *variant, const guint *ids, guint n,
                   int axis, DewEdge edge, GError **error)
{
  g_autoptr (GArray) spans = NULL;
  double low = INFINITY, high = -INFINITY;

  g_return_val_if_fail (chamber != NULL && variant != NULL && axis >= 0 && axis < 3, FALSE);

  spans = spans_new (chamber, variant, ids, n, axis);
  if (spans->len < 2)
    return refuse (error,
                   _ ("Choose two or more things that can be moved that way to line them up"));
  for (guint i = 0; i < spans->len; i++)
    {
      low = MIN (low, g_array_index (spans, Span, i).lo);
      high = MAX (high, g_array_index (spans, Span, i).hi);
    }
  for (guint i = 0; i < spans->len; i++)
    {
      const Span *span = &g_array_index (spans, Span, i);
      double size = span->hi - span->lo;
      double lo = edge == DEW_EDGE_LOW    ? low
                  : edge == DEW_EDGE_HIGH ? high - size
                                          : (low + high - size) / 2.0;

      bring (chamber, variant, span->id, axis, lo);
    }
  return TRUE;
}

/* By their middles; ids decide between equals, so that the order is always the same. */
static int
span_compare (gconstpointer a, gconstpointer b)
{
  const Span *p = a, *q = b;
  double middle_p = p->lo + p->hi, middle_q = q->lo + q->hi;

  if (middle_p != middle_q)
    return middle_p < middle_q ? -1 : 1;
  return p->id < q->id ? -1 : p->id > q->id;
}

gboolean
dew_variant_distribute (const DewChamber *chamber, DewVariant *variant, const guint *ids, guint n,
                        int axis, GError **error)
{
  g_autoptr (GArray) spans = NULL;
  double sum = 0.0, gap, next;
  const Span *first, *last;

  g_return_val_if_fail (chamber != NULL && variant != NULL && axis >= 0 && axis < 3, FALSE);

  spans = spans_new (chamber, variant, ids, n, axis);
  if (spans->len < 3)
    return refuse (error,
                   _ ("Choose three or more things that can be moved that way to spread them"));
  g_array_sort (spans, span_compare);
  first = &g_array_index (spans, Span, 0);
  last = &g_array_index (spans, Span, spans->len - 1);
  for (guint i = 0; i < spans->len; i++)
    sum += g_array_index (spans, Span, i).hi - g_array_index (spans, Span, i).lo;
  gap = (last->hi - first->lo - sum) / (spans->len - 1);
  if (gap < -DEW_SLACK_M)
    return refuse (error, _ ("There is not room enough between the outermost two; move those "
                             "apart first"));

  next = first->lo;
  for (guint i = 0; i < spans->len; i++)
    {
      const Span *span = &g_array_index (spans, Span, i);

      /* The outermost stay to the last bit, whatever rounding adds up to. */
      if (i > 0 && i + 1 < spans->len)
        bring (chamber, variant, span->id, axis, next);
      next += span->hi - span->lo + gap;
    }
  return TRUE;
}
