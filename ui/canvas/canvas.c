/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "canvas/canvas-private.h"

#include "canvas/item.h"
#include "canvas/theme.h"

#include <math.h>
#include <string.h>

#define MIN_WIDTH_PX 360
#define MIN_HEIGHT_PX 320
#define NATURAL_WIDTH_PX 720
#define NATURAL_HEIGHT_PX 640
/* Things higher up come first in the tab order; what is this close in height
 * counts as one row. */
#define ROW_M 0.05
#define MIN_ITEM_PX 12.0

G_DEFINE_FINAL_TYPE (DewCanvas, dew_canvas, GTK_TYPE_WIDGET)

static void
dew_canvas_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  dew_canvas_draw (DEW_CANVAS (widget), snapshot);
  GTK_WIDGET_CLASS (dew_canvas_parent_class)->snapshot (widget, snapshot);
}

/* --- layout ------------------------------------------------------------ */

static void
dew_canvas_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                    int *natural, int *minimum_baseline, int *natural_baseline)
{
  gboolean across = orientation == GTK_ORIENTATION_HORIZONTAL;

  /* Children are placed by the drawing, yet GTK insists on being asked for
   * their sizes before they get one. */
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    gtk_widget_measure (child, orientation, -1, NULL, NULL, NULL, NULL);
  *minimum = across ? MIN_WIDTH_PX : MIN_HEIGHT_PX;
  *natural = across ? NATURAL_WIDTH_PX : NATURAL_HEIGHT_PX;
}

static void
place_child (GtkWidget *child, const DewRect *rect, int min_width, int min_height)
{
  int width = MAX ((int) ceil (rect->width), min_width);
  int height = MAX ((int) ceil (rect->height), min_height);
  GskTransform *transform = gsk_transform_translate (
    NULL, &GRAPHENE_POINT_INIT ((float) floor (rect->x + (rect->width - width) / 2.0),
                                (float) floor (rect->y + (rect->height - height) / 2.0)));

  gtk_widget_allocate (child, width, height, -1, transform);
}

gboolean
dew_canvas_thing_rect (DewCanvas *self, guint id, DewView view, DewRect *out)
{
  DewSheet sheet;

  if (!dew_canvas_has_picture (self))
    return FALSE;
  dew_canvas_describe (self, &sheet);
  return dew_sheet_thing_rect (&sheet, &self->layout, id, view, out);
}

static void
place_items (DewCanvas *self)
{
  DewSheet sheet;

  dew_canvas_describe (self, &sheet);
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      DewRect rect = { 0.0, 0.0, 0.0, 0.0 };

      if (child == self->entry)
        {
          int width, height;

          gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &width, NULL, NULL, NULL);
          gtk_widget_measure (child, GTK_ORIENTATION_VERTICAL, -1, &height, NULL, NULL, NULL);
          place_child (child, &self->entry_hit.rect, width, height);
          continue;
        }
      for (int view = 0; view < DEW_N_VIEWS; view++)
        {
          if (dew_sheet_thing_rect (&sheet, &self->layout, dew_item_thing_id (DEW_ITEM (child)),
                                    view, &rect))
            break;
        }
      place_child (child, &rect, MIN_ITEM_PX, MIN_ITEM_PX);
    }
}

/* For tests with a real pointer: where things are, in pixels of the surface. */
static void
log_items (DewCanvas *self)
{
  GtkNative *native = gtk_widget_get_native (GTK_WIDGET (self));
  double dx, dy;

  if (native == NULL || self->moving
      || g_log_writer_default_would_drop (G_LOG_LEVEL_DEBUG, G_LOG_DOMAIN))
    return;
  gtk_native_get_surface_transform (native, &dx, &dy);
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      graphene_rect_t bounds;

      if (DEW_IS_ITEM (child)
          && gtk_widget_compute_bounds (child, GTK_WIDGET (native), &bounds))
        g_debug ("at: %.0f %.0f %s",
                 dx + (double) (bounds.origin.x + bounds.size.width / 2.0f),
                 dy + (double) (bounds.origin.y + bounds.size.height / 2.0f),
                 dew_variant_thing (dew_document_variant (self->document),
                                    dew_item_thing_id (DEW_ITEM (child)))->name);
    }
}

static void
dew_canvas_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  DewCanvas *self = DEW_CANVAS (widget);
  DewSheetLayout before = self->layout;
  DewSheet sheet;

  if (!dew_canvas_has_picture (self))
    return;
  dew_canvas_describe (self, &sheet);
  dew_sheet_layout (&sheet, width, height, &self->layout);
  place_items (self);
  log_items (self);
  /* The colours depend on where the views are, not on what is drawn in them. */
  dew_canvas_redraw (self, memcmp (&before, &self->layout, sizeof before) != 0);
}

/* Fonts come from the style. */
static void
dew_canvas_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (dew_canvas_parent_class)->css_changed (widget, change);
  gtk_widget_queue_allocate (widget);
}

/* --- children ---------------------------------------------------------- */

typedef struct
{
  guint  id;
  double x_m, z_m;
} Order;

static int
compare_order (gconstpointer a, gconstpointer b)
{
  const Order *one = a, *other = b;
  double row_one = -floor (one->z_m / ROW_M), row_other = -floor (other->z_m / ROW_M);

  if (row_one < row_other || row_one > row_other)
    return row_one < row_other ? -1 : 1;
  if (one->x_m < other->x_m || one->x_m > other->x_m)
    return one->x_m < other->x_m ? -1 : 1;
  return one->id < other->id ? -1 : one->id > other->id;
}

static GArray *
reading_order (DewCanvas *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);
  const DewVariant *variant = dew_document_variant (self->document);
  GArray *order = g_array_new (FALSE, FALSE, sizeof (Order));

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      double lo[3], hi[3];
      Order one;

      dew_thing_box (chamber, thing, lo, hi);
      one.id = thing->id;
      one.x_m = lo[0];
      one.z_m = lo[2];
      g_array_append_val (order, one);
    }
  g_array_sort (order, compare_order);
  return order;
}

static GtkWidget *
find_item (DewCanvas *self, guint id)
{
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      if (DEW_IS_ITEM (child) && dew_item_thing_id (DEW_ITEM (child)) == id)
        return child;
    }
  return NULL;
}

static void
drop_gone_items (DewCanvas *self)
{
  DewVariant *variant = dew_document_variant (self->document);
  GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self));

  while (child != NULL)
    {
      GtkWidget *next = gtk_widget_get_next_sibling (child);

      if (DEW_IS_ITEM (child)
          && dew_variant_thing (variant, dew_item_thing_id (DEW_ITEM (child))) == NULL)
        {
          /* The keyboard goes on with a neighbour instead of being lost. */
          if (gtk_widget_has_focus (child))
            {
              GtkWidget *heir = next != NULL ? next : gtk_widget_get_prev_sibling (child);

              if (heir != NULL)
                gtk_widget_grab_focus (heir);
            }
          gtk_widget_unparent (child);
        }
      child = next;
    }
}

static void
sync_items (DewCanvas *self)
{
  g_autoptr (GArray) order = NULL;
  GtkWidget *before = NULL;

  if (dew_document_chamber (self->document) == NULL)
    return;
  drop_gone_items (self);
  order = reading_order (self);
  for (guint i = 0; i < order->len; i++)
    {
      guint id = g_array_index (order, Order, i).id;
      GtkWidget *item = find_item (self, id);

      if (item == NULL)
        item = dew_item_new (self->document, id);
      dew_item_set_colour (DEW_ITEM (item), &dew_theme_palette ()->accent);
      if (gtk_widget_get_parent (item) == NULL
          || gtk_widget_get_prev_sibling (item) != before)
        gtk_widget_insert_after (item, GTK_WIDGET (self), before);
      before = item;
    }
}

/* While the forecast lags only the selected thing's words follow: nobody hears
 * the others, and they would cost more than the picture. */
static void
update_items (DewCanvas *self)
{
  gboolean all = !dew_document_lags (self->document);
  guint selected = dew_document_selected (self->document);

  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      if (DEW_IS_ITEM (child) && (all || dew_item_thing_id (DEW_ITEM (child)) == selected))
        dew_item_update (DEW_ITEM (child));
    }
}

void
dew_canvas_focus_thing (DewCanvas *self, guint id)
{
  GtkWidget *item = find_item (self, id);

  if (item != NULL)
    gtk_widget_grab_focus (item);
}

/* --- document ---------------------------------------------------------- */

static void
on_changed (DewCanvas *self)
{
  sync_items (self);
  update_items (self);
  /* New colours come with a new forecast. */
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  dew_canvas_redraw (self, FALSE);
}

static void
on_forecast (DewCanvas *self)
{
  for (int value = 0; value < DEW_N_VALUES; value++)
    self->range_stale[value] = TRUE;
  update_items (self);
  dew_canvas_update_streaks (self);
  dew_canvas_redraw (self, TRUE);
}

static void
on_selected (DewCanvas *self)
{
  update_items (self);
  dew_canvas_redraw (self, FALSE);
}

static void
on_view (DewCanvas *self)
{
  /* The plan may look at another bay, where other things stand. */
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  dew_canvas_redraw (self, TRUE);
}

static void
on_animations (DewCanvas *self)
{
  dew_canvas_update_streaks (self);
  dew_canvas_redraw (self, TRUE);
}

static void
on_theme (DewCanvas *self)
{
  sync_items (self);
  dew_canvas_redraw (self, TRUE);
}

/* --- object ------------------------------------------------------------ */

static void
dew_canvas_dispose (GObject *object)
{
  DewCanvas *self = DEW_CANVAS (object);
  GtkWidget *child;

  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  if (self->tick != 0)
    gtk_widget_remove_tick_callback (GTK_WIDGET (self), self->tick);
  self->tick = 0;
  self->entry = NULL;
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
  g_clear_pointer (&self->streaks, dew_streaks_free);
  g_clear_pointer (&self->origin, dew_chamber_free);
  g_clear_pointer (&self->ground, gsk_render_node_unref);
  g_clear_pointer (&self->ink, gsk_render_node_unref);
  g_clear_object (&self->document);

  G_OBJECT_CLASS (dew_canvas_parent_class)->dispose (object);
}

static void
dew_canvas_class_init (DewCanvasClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dew_canvas_dispose;
  widget_class->measure = dew_canvas_measure;
  widget_class->size_allocate = dew_canvas_size_allocate;
  widget_class->snapshot = dew_canvas_snapshot;
  widget_class->css_changed = dew_canvas_css_changed;
  gtk_widget_class_set_css_name (widget_class, "sheet");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_LIST);
}

static void
dew_canvas_init (DewCanvas *self)
{
  self->hover_bay = -1;
  gtk_widget_set_hexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  "Drawing of the enclosure", -1);
  g_signal_connect_swapped (self, "notify::scale-factor", G_CALLBACK (on_theme), self);
  dew_theme_connect (G_OBJECT (self), G_CALLBACK (on_theme));
  g_signal_connect_object (gtk_settings_get_default (), "notify::gtk-enable-animations",
                           G_CALLBACK (on_animations), self, G_CONNECT_SWAPPED);
  dew_canvas_init_pointer (self);
}

GtkWidget *
dew_canvas_new (DewDocument *document)
{
  DewCanvas *self = g_object_new (DEW_TYPE_CANVAS, NULL);

  self->document = g_object_ref (document);
  g_signal_connect_swapped (document, "changed", G_CALLBACK (on_changed), self);
  g_signal_connect_swapped (document, "forecast", G_CALLBACK (on_forecast), self);
  g_signal_connect_swapped (document, "selected", G_CALLBACK (on_selected), self);
  g_signal_connect_swapped (document, "view", G_CALLBACK (on_view), self);
  on_changed (self);
  on_forecast (self);
  return GTK_WIDGET (self);
}
