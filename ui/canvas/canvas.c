/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "canvas/canvas-private.h"

#include "canvas/item.h"
#include "canvas/spot.h"
#include "canvas/theme.h"
#include "document/tongue.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define MIN_WIDTH_PX 360
#define MIN_HEIGHT_PX 320
#define NATURAL_WIDTH_PX 720
#define NATURAL_HEIGHT_PX 640
#define MIN_ITEM_PX 12.0

enum
{
  PROP_FIXED_SCALE = 1,
  PROP_LARGE_PLAN,
  PROP_SIDE_VIEW
};

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
place_item (DewCanvas *self, const DewSheet *sheet, GtkWidget *item)
{
  guint id = dew_item_thing_id (DEW_ITEM (item));
  DewRect rect = { 0.0, 0.0, 0.0, 0.0 };

  for (int view = 0; view < DEW_N_VIEWS; view++)
    {
      if (dew_sheet_thing_rect (sheet, &self->layout, id, view, &rect))
        break;
    }
  place_child (item, &rect, MIN_ITEM_PX, MIN_ITEM_PX);
}

/* Where the labels and flags are takes a while to find out, and while something is
 * dragged nobody asks. */
static void
find_spots (DewCanvas *self, const DewSheet *sheet)
{
  g_autoptr (GArray) spots = NULL;

  if (self->moving)
    return;
  spots = dew_sheet_spots (sheet, &self->layout);
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      for (guint i = 0; DEW_IS_SPOT (child) && i < spots->len; i++)
        {
          const DewHit *hit = &g_array_index (spots, DewHit, i);

          if (hit->part == dew_spot_part (DEW_SPOT (child))
              && hit->index == dew_spot_index (DEW_SPOT (child)))
            dew_spot_set_rect (DEW_SPOT (child), &hit->rect);
        }
    }
}

static void
place_children (DewCanvas *self)
{
  DewSheet sheet;

  dew_canvas_describe (self, &sheet);
  find_spots (self, &sheet);
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      if (DEW_IS_ITEM (child))
        place_item (self, &sheet, child);
      else if (DEW_IS_SPOT (child))
        place_child (child, dew_spot_rect (DEW_SPOT (child)), MIN_ITEM_PX, MIN_ITEM_PX);
    }
  dew_canvas_place_entry (self);
  dew_canvas_place_scale (self);
  if (self->menu != NULL)
    gtk_popover_present (GTK_POPOVER (self->menu));
}

/* Where a selected flap is pulled open. */
static void
log_lift (DewCanvas *self, double dx, double dy)
{
  const DewThing *thing = dew_variant_thing (dew_document_variant (self->document),
                                             dew_document_selected (self->document));
  DewHandle handles[DEW_MAX_HANDLES];
  DewSheet sheet;
  guint n;

  if (thing == NULL)
    return;
  dew_canvas_describe (self, &sheet);
  n = dew_sheet_handles (&sheet, &self->layout, DEW_VIEW_FRONT, thing, handles);
  for (guint i = 0; i < n; i++)
    {
      if (handles[i].part == DEW_PART_LIFT)
        g_debug ("lift: %.0f %.0f", dx + handles[i].at_px[0], dy + handles[i].at_px[1]);
    }
}

static void
log_views (DewCanvas *self, GtkNative *native, double dx, double dy)
{
  static const char *const names[DEW_N_VIEWS] = { "front", "side", "plan" };
  double x, y;

  gtk_widget_translate_coordinates (GTK_WIDGET (self), GTK_WIDGET (native), 0.0, 0.0, &x, &y);
  for (int view = 0; view < DEW_N_VIEWS; view++)
    {
      const DewRect *rect = &self->layout.view[view];

      if (self->layout.shown[view])
        g_debug ("view %s: %.0f %.0f %.0f %.0f", names[view], dx + x + rect->x, dy + y + rect->y,
                 rect->width, rect->height);
    }
  log_lift (self, dx + x, dy + y);
  g_debug ("legend: %.0f %.0f", dx + x + self->layout.legend.x + 20.0,
           dy + y + self->layout.legend.y + 10.0);
}

void
dew_canvas_log_place (GtkWidget *widget, const char *what, const char *name)
{
  GtkNative *native = gtk_widget_get_native (widget);
  graphene_rect_t bounds;
  double dx, dy;

  if (native == NULL || g_log_writer_default_would_drop (G_LOG_LEVEL_DEBUG, G_LOG_DOMAIN)
      || !gtk_widget_compute_bounds (widget, GTK_WIDGET (native), &bounds))
    return;
  gtk_native_get_surface_transform (native, &dx, &dy);
  g_debug ("%s: %.0f %.0f %s", what, dx + (double) (bounds.origin.x + bounds.size.width / 2.0f),
           dy + (double) (bounds.origin.y + bounds.size.height / 2.0f), name);
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
  log_views (self, native, dx, dy);
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      const DewThing *thing = DEW_IS_ITEM (child)
                                ? dew_variant_thing (dew_document_variant (self->document),
                                                     dew_item_thing_id (DEW_ITEM (child)))
                                : NULL;

      if (thing != NULL)
        dew_canvas_log_place (child, "at", thing->name);
    }
}

static void
dew_canvas_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  DewCanvas *self = DEW_CANVAS (widget);
  DewSheetLayout before = self->layout;
  DewSheet sheet;

  /* Nothing has a place before there is a document. */
  gtk_widget_set_child_visible (self->scale, dew_canvas_has_picture (self));
  if (!dew_canvas_has_picture (self))
    return;
  dew_canvas_describe (self, &sheet);
  dew_sheet_layout (&sheet, width, height, &self->layout);
  place_children (self);
  log_items (self);
  /* The colours depend on where the views are, not on what is drawn in them. */
  dew_canvas_redraw (self, memcmp (&before, &self->layout, sizeof before) != 0);
}

void
dew_canvas_relayout (DewCanvas *self)
{
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

/* Fonts come from the style. */
static void
dew_canvas_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (dew_canvas_parent_class)->css_changed (widget, change);
  gtk_widget_queue_allocate (widget);
}

/* --- document ---------------------------------------------------------- */

static void
on_changed (DewCanvas *self)
{
  /* Undo, another file or another edit have taken it out of the hand. */
  if (self->edit != NULL && !dew_edit_is_open (self->edit))
    dew_canvas_cancel (self);
  if (g_strcmp0 (self->coloured_path, dew_document_path (self->document)) != 0)
    {
      g_free (self->coloured_path);
      self->coloured_path = g_strdup (dew_document_path (self->document));
      dew_canvas_forget_ranges (self);
      /* The numbers of another enclosure are no 'before'. */
      g_clear_pointer (&self->settled, g_free);
      g_clear_pointer (&self->before, g_free);
    }
  dew_canvas_sync_children (self);
  dew_canvas_update_words (self);
  dew_canvas_update_actions (self);
  /* New colours come with a new forecast. */
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  dew_canvas_redraw (self, FALSE);
}

static void
on_forecast (DewCanvas *self)
{
  for (int value = 0; value < DEW_N_VALUES; value++)
    self->range_stale[value] = TRUE;
  /* Findings come and go with what has settled; while something moves they would
   * only flicker. */
  if (!dew_document_lags (self->document))
    {
      dew_canvas_sync_children (self);
      gtk_widget_queue_allocate (GTK_WIDGET (self));
    }
  dew_canvas_remember_numbers (self);
  dew_canvas_update_words (self);
  dew_canvas_update_streaks (self);
  dew_canvas_redraw (self, TRUE);
}

static void
on_selected (DewCanvas *self)
{
  dew_canvas_update_words (self);
  dew_canvas_update_actions (self);
  log_items (self);
  dew_canvas_redraw (self, FALSE);
}

static void
on_view (DewCanvas *self)
{
  dew_canvas_update_spots (self);
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
on_units (DewCanvas *self)
{
  dew_canvas_forget_ranges (self);
  dew_canvas_update_words (self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  dew_canvas_redraw (self, TRUE);
}

static void
on_theme (DewCanvas *self)
{
  gtk_widget_queue_allocate (GTK_WIDGET (self));
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
  g_clear_handle_id (&self->probe_source, g_source_remove);
  g_clear_handle_id (&self->before_source, g_source_remove);
  g_clear_pointer (&self->before, g_free);
  g_clear_pointer (&self->settled, g_free);
  g_clear_handle_id (&self->scale_source, g_source_remove);
  g_cancellable_cancel (self->pasting);
  g_clear_object (&self->pasting);
  self->entry = NULL;
  self->entry_reason = NULL;
  self->menu = NULL;
  self->scale = NULL;
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
  g_clear_pointer (&self->streaks, dew_streaks_free);
  g_clear_pointer (&self->coloured_path, g_free);
  g_clear_pointer (&self->framed, g_array_unref);
  g_clear_pointer (&self->edit, dew_edit_end);
  g_clear_pointer (&self->ground, gsk_render_node_unref);
  g_clear_pointer (&self->ink, gsk_render_node_unref);
  g_clear_object (&self->document);

  G_OBJECT_CLASS (dew_canvas_parent_class)->dispose (object);
}

static void
dew_canvas_get_property (GObject *object, guint id, GValue *value, GParamSpec *spec)
{
  DewCanvas *self = DEW_CANVAS (object);

  switch (id)
    {
    case PROP_FIXED_SCALE:
      g_value_set_boolean (value, self->fixed_scale);
      break;
    case PROP_LARGE_PLAN:
      g_value_set_boolean (value, self->plan_large);
      break;
    case PROP_SIDE_VIEW:
      g_value_set_boolean (value, self->side_instead);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
    }
}

static void
set_fixed_scale (DewCanvas *self, gboolean fixed)
{
  if (self->fixed_scale == fixed)
    return;
  self->fixed_scale = fixed;
  g_debug ("scale of colours: %s", self->fixed_scale ? "fixed" : "fitted");
  dew_canvas_redraw (self, TRUE);
  g_object_notify (G_OBJECT (self), "fixed-scale");
}

static void
dew_canvas_set_property (GObject *object, guint id, const GValue *value, GParamSpec *spec)
{
  DewCanvas *self = DEW_CANVAS (object);

  switch (id)
    {
    case PROP_FIXED_SCALE:
      set_fixed_scale (self, g_value_get_boolean (value));
      break;
    case PROP_LARGE_PLAN:
      dew_canvas_enlarge_plan (self, g_value_get_boolean (value));
      break;
    case PROP_SIDE_VIEW:
      dew_canvas_switch_side (self, g_value_get_boolean (value));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, spec);
    }
}

static void
install_switch (DewCanvasClass *klass, guint id, const char *name)
{
  g_object_class_install_property (G_OBJECT_CLASS (klass), id,
                                   g_param_spec_boolean (name, NULL, NULL, FALSE,
                                                         G_PARAM_READWRITE | G_PARAM_EXPLICIT_NOTIFY
                                                           | G_PARAM_STATIC_STRINGS));
}

static void
dew_canvas_class_init (DewCanvasClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dew_canvas_dispose;
  G_OBJECT_CLASS (klass)->get_property = dew_canvas_get_property;
  G_OBJECT_CLASS (klass)->set_property = dew_canvas_set_property;
  widget_class->measure = dew_canvas_measure;
  widget_class->size_allocate = dew_canvas_size_allocate;
  widget_class->snapshot = dew_canvas_snapshot;
  widget_class->css_changed = dew_canvas_css_changed;
  widget_class->focus = dew_canvas_focus;
  gtk_widget_class_set_css_name (widget_class, "sheet");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_LIST);

  /**
   * DewCanvas:fixed-scale:
   *
   * Whether the colours span the whole useful range of the value instead of what
   * this picture needs.
   */
  g_object_class_install_property (G_OBJECT_CLASS (klass), PROP_FIXED_SCALE,
                                   g_param_spec_boolean ("fixed-scale", NULL, NULL, FALSE,
                                                         G_PARAM_READWRITE | G_PARAM_EXPLICIT_NOTIFY
                                                           | G_PARAM_STATIC_STRINGS));
  gtk_widget_class_install_property_action (widget_class, "canvas.fixed-scale", "fixed-scale");
  install_switch (klass, PROP_LARGE_PLAN, "large-plan");
  install_switch (klass, PROP_SIDE_VIEW, "side-view");
  dew_canvas_install_plans (widget_class);
  dew_canvas_install_zoom (widget_class);
  dew_canvas_install_actions (widget_class);
  dew_canvas_install_menu (widget_class);
}

static void
dew_canvas_init (DewCanvas *self)
{
  self->hover_bay = -1;
  gtk_widget_set_hexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Drawing of the enclosure"), -1);
  g_signal_connect_swapped (self, "notify::scale-factor", G_CALLBACK (on_theme), self);
  dew_theme_connect (G_OBJECT (self), G_CALLBACK (on_theme));
  g_signal_connect_object (gtk_settings_get_default (), "notify::gtk-enable-animations",
                           G_CALLBACK (on_animations), self, G_CONNECT_SWAPPED);
  dew_tongue_connect (G_OBJECT (self), G_CALLBACK (on_units));
  dew_canvas_init_hover (self);
  dew_canvas_init_pointer (self);
  dew_canvas_init_zoom (self);
  dew_canvas_init_menu (self);
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
