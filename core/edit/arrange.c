/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "edit/arrange.h"

#include "edit/edit-private.h"

#include <glib/gi18n.h>
#include <math.h>

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
        const DewThing *thing = dew_set_thing (variant, set, i);

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
