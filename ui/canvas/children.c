/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The children of the sheet: a widget for each thing, bay and finding, in reading
 * order, and how the keyboard walks them. */
#include "canvas/canvas-private.h"

#include "canvas/item.h"
#include "canvas/spot.h"
#include "canvas/words.h"
#include "geometry/geometry.h"

#include <math.h>

/* What is this close in height counts as one row. */
#define ROW_M 0.05

/* --- children ---------------------------------------------------------- */

/* A child of the sheet and where it comes in reading order: bays from the top, in
 * each first the bay itself, then what is in it row by row, then its findings. */
typedef struct
{
  DewPart part; /* BODY: a thing */
  guint id;     /* of a thing; index of a bay or finding */
  int bay;
  int turn; /* 0 the bay, 1 things, 2 findings */
  double x_m, z_m;
} Order;

static int
compare_numbers (double one, double other)
{
  return one < other ? -1 : one > other;
}

static int
compare_order (gconstpointer a, gconstpointer b)
{
  const Order *one = a, *other = b;
  int by;

  if (one->bay != other->bay)
    return one->bay > other->bay ? -1 : 1;
  if (one->turn != other->turn)
    return one->turn < other->turn ? -1 : 1;
  by = compare_numbers (floor (other->z_m / ROW_M), floor (one->z_m / ROW_M));
  if (by == 0)
    by = compare_numbers (one->x_m, other->x_m);
  return by != 0 ? by : compare_numbers (one->id, other->id);
}

static void
add_things_in_order (DewCanvas *self, GArray *order, const double *z_m, int n_bays)
{
  const DewChamber *chamber = dew_document_chamber (self->document);
  const DewVariant *variant = dew_document_variant (self->document);

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      double lo[3], hi[3];
      Order one = { .part = DEW_PART_BODY, .id = thing->id, .turn = 1 };

      dew_thing_box (chamber, thing, lo, hi);
      one.x_m = lo[0];
      one.z_m = lo[2];
      one.bay = dew_bay_at (z_m, n_bays, (lo[2] + hi[2]) / 2.0);
      g_array_append_val (order, one);
    }
}

static GArray *
reading_order (DewCanvas *self)
{
  const DewForecast *forecast = dew_document_forecast (self->document);
  GArray *order = g_array_new (FALSE, FALSE, sizeof (Order));
  g_autofree double *z_m = NULL;
  int n_bays = dew_variant_bays (dew_document_chamber (self->document),
                                 dew_document_variant (self->document), &z_m, NULL);

  for (int bay = 0; bay < n_bays; bay++)
    {
      Order one = { .part = DEW_PART_BAY, .id = (guint) bay, .bay = bay };

      g_array_append_val (order, one);
    }
  add_things_in_order (self, order, z_m, n_bays);
  for (int i = 0; forecast != NULL && i < forecast->n_findings; i++)
    {
      Order one = { .part = DEW_PART_FLAG,
                    .id = (guint) i,
                    .turn = 2,
                    .bay = CLAMP (forecast->findings[i].bay, 0, n_bays - 1) };

      g_array_append_val (order, one);
    }
  g_array_sort (order, compare_order);
  return order;
}

static gboolean
child_is (GtkWidget *child, DewPart part, guint id)
{
  if (part == DEW_PART_BODY)
    return DEW_IS_ITEM (child) && dew_item_thing_id (DEW_ITEM (child)) == id;
  return DEW_IS_SPOT (child) && dew_spot_part (DEW_SPOT (child)) == part
         && dew_spot_index (DEW_SPOT (child)) == (int) id;
}

static GtkWidget *
find_child (DewCanvas *self, DewPart part, guint id)
{
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      if (child_is (child, part, id))
        return child;
    }
  return NULL;
}

GtkWidget *
dew_canvas_item (DewCanvas *self, guint id)
{
  return find_child (self, DEW_PART_BODY, id);
}

static gboolean
is_in (const GArray *order, GtkWidget *child)
{
  for (guint i = 0; i < order->len; i++)
    {
      if (child_is (child, g_array_index (order, Order, i).part,
                    g_array_index (order, Order, i).id))
        return TRUE;
    }
  return FALSE;
}

/* The keyboard goes on with a neighbour instead of being lost. */
static void
drop_child (DewCanvas *self, GtkWidget *child)
{
  GtkWidget *heir = NULL;

  if (gtk_widget_has_focus (child))
    {
      heir = gtk_widget_get_next_sibling (child);
      if (heir == NULL || (!DEW_IS_ITEM (heir) && !DEW_IS_SPOT (heir)))
        heir = gtk_widget_get_prev_sibling (child);
      if (heir == NULL || (!DEW_IS_ITEM (heir) && !DEW_IS_SPOT (heir)))
        heir = GTK_WIDGET (self);
      self->walking = self->moving;
      gtk_widget_grab_focus (heir);
      self->walking = FALSE;
    }
  gtk_widget_unparent (child);
}

static void
drop_gone_children (DewCanvas *self, const GArray *order)
{
  GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self));

  while (child != NULL)
    {
      GtkWidget *next = gtk_widget_get_next_sibling (child);

      if ((DEW_IS_ITEM (child) || DEW_IS_SPOT (child)) && !is_in (order, child))
        drop_child (self, child);
      child = next;
    }
}

void
dew_canvas_sync_children (DewCanvas *self)
{
  g_autoptr (GArray) order = NULL;
  GtkWidget *before = NULL;

  if (dew_document_chamber (self->document) == NULL)
    return;
  order = reading_order (self);
  drop_gone_children (self, order);
  for (guint i = 0; i < order->len; i++)
    {
      const Order *one = &g_array_index (order, Order, i);
      GtkWidget *child = find_child (self, one->part, one->id);

      if (child == NULL)
        child = one->part == DEW_PART_BODY
                  ? dew_item_new (self->document, one->id)
                  : dew_spot_new (self->document, one->part, (int) one->id);
      if (gtk_widget_get_parent (child) == NULL || gtk_widget_get_prev_sibling (child) != before)
        gtk_widget_insert_after (child, GTK_WIDGET (self), before);
      before = child;
    }
}

/* While the forecast lags only the selected thing's words follow: nobody hears
 * the others, and they would cost more than the picture. */
void
dew_canvas_update_words (DewCanvas *self)
{
  gboolean all = !dew_document_lags (self->document);
  g_autofree char *words = dew_words_sheet (self->document);
  guint selected = dew_document_selected (self->document);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words,
                                  -1);
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      if (DEW_IS_ITEM (child) && (all || dew_item_thing_id (DEW_ITEM (child)) == selected))
        dew_item_update (DEW_ITEM (child));
      else if (DEW_IS_ITEM (child))
        dew_item_update_selected (DEW_ITEM (child));
      else if (DEW_IS_SPOT (child) && all)
        dew_spot_update (DEW_SPOT (child));
    }
}

void
dew_canvas_update_spots (DewCanvas *self)
{
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      if (DEW_IS_SPOT (child))
        dew_spot_update (DEW_SPOT (child));
    }
}

/* The next child that takes the keyboard, on from `child` (NULL: from the end). */
static gboolean
focus_from (DewCanvas *self, GtkWidget *child, gboolean forward)
{
  if (child == NULL)
    child = forward ? gtk_widget_get_first_child (GTK_WIDGET (self))
                    : gtk_widget_get_last_child (GTK_WIDGET (self));
  else
    child = forward ? gtk_widget_get_next_sibling (child) : gtk_widget_get_prev_sibling (child);
  while (child != NULL)
    {
      if (!GTK_IS_POPOVER (child)
          && gtk_widget_child_focus (child, forward ? GTK_DIR_TAB_FORWARD : GTK_DIR_TAB_BACKWARD))
        return TRUE;
      child = forward ? gtk_widget_get_next_sibling (child) : gtk_widget_get_prev_sibling (child);
    }
  return FALSE;
}

/* Tab walks in reading order. Who comes back to the sheet comes to what is
 * selected; an empty sheet takes the keyboard itself. */
gboolean
dew_canvas_focus (GtkWidget *widget, GtkDirectionType direction)
{
  DewCanvas *self = DEW_CANVAS (widget);
  GtkWidget *within = gtk_widget_get_focus_child (widget);
  GtkWidget *item = dew_canvas_item (self, dew_document_selected (self->document));
  gboolean forward = direction == GTK_DIR_TAB_FORWARD;

  if (!forward && direction != GTK_DIR_TAB_BACKWARD)
    return FALSE;
  if (within != NULL)
    return gtk_widget_child_focus (within, direction) || focus_from (self, within, forward);
  if (gtk_widget_is_focus (widget))
    return forward && focus_from (self, NULL, TRUE);
  if (item != NULL)
    return gtk_widget_grab_focus (item);
  return focus_from (self, NULL, forward) || gtk_widget_grab_focus (widget);
}

void
dew_canvas_focus_thing (DewCanvas *self, guint id)
{
  GtkWidget *item = dew_canvas_item (self, id);

  if (item != NULL)
    gtk_widget_grab_focus (item);
}
