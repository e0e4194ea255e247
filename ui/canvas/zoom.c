/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looking closely: zoom at the pointer, shift, and back to all of it. */
#include "canvas/canvas-private.h"

#include <glib/gi18n.h>
#include <math.h>

#define STEP 1.25
#define WHEEL_STEP 1.15
#define TOUCHPAD_STEP 1.01 /* for each px of two fingers */
#define WHEEL_PX 48.0
/* A zoom this near to all of it is all of it. */
#define NEARLY 1.02

static void
update_actions (DewCanvas *self)
{
  GtkWidget *widget = GTK_WIDGET (self);

  gtk_widget_action_set_enabled (widget, "canvas.zoom-out", self->zoom > 1.0);
  gtk_widget_action_set_enabled (widget, "canvas.zoom-fit", self->zoom > 1.0);
}

static void
changed (DewCanvas *self, const DewSheet *sheet)
{
  double zoom = sheet->zoom < NEARLY ? 1.0 : sheet->zoom;

  if (zoom == self->zoom && sheet->pan_px[0] == self->pan_px[0]
      && sheet->pan_px[1] == self->pan_px[1])
    return;
  self->zoom = zoom;
  self->pan_px[0] = zoom > 1.0 ? sheet->pan_px[0] : 0.0;
  self->pan_px[1] = zoom > 1.0 ? sheet->pan_px[1] : 0.0;
  dew_canvas_end_probe (self);
  update_actions (self);
  dew_canvas_relayout (self);
  g_debug ("zoom: %.2f at %.0f %.0f", self->zoom, self->pan_px[0], self->pan_px[1]);
}

static void
zoom_to (DewCanvas *self, double zoom, double x, double y)
{
  DewSheet sheet;

  if (!dew_canvas_has_picture (self) || dew_canvas_holds (self))
    return;
  dew_canvas_end_entry (self, TRUE);
  dew_canvas_describe (self, &sheet);
  dew_sheet_zoom (&sheet, self->layout.width, self->layout.height, zoom, x, y);
  changed (self, &sheet);
}

void
dew_canvas_pan (DewCanvas *self, double dx_px, double dy_px)
{
  DewSheet sheet;

  if (!dew_canvas_has_picture (self))
    return;
  dew_canvas_describe (self, &sheet);
  dew_sheet_pan (&sheet, self->layout.width, self->layout.height, dx_px, dy_px);
  changed (self, &sheet);
}

/* Keys zoom at what is selected, else in the middle. */
static void
middle_of_interest (DewCanvas *self, double *x, double *y)
{
  guint id = dew_document_selected (self->document);
  DewRect rect;

  *x = self->layout.width / 2.0;
  *y = self->layout.height / 2.0;
  if (id != 0 && dew_canvas_thing_rect (self, id, DEW_VIEW_FRONT, &rect))
    {
      *x = rect.x + rect.width / 2.0;
      *y = rect.y + rect.height / 2.0;
    }
}

static void
zoom_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewCanvas *self = DEW_CANVAS (widget);
  double x, y;

  middle_of_interest (self, &x, &y);
  if (g_str_has_suffix (name, "in"))
    zoom_to (self, self->zoom * STEP, x, y);
  else if (g_str_has_suffix (name, "out"))
    zoom_to (self, self->zoom / STEP, x, y);
  else
    zoom_to (self, 1.0, x, y);
}

static gboolean
on_scroll (DewCanvas *self, double dx, double dy, GtkEventControllerScroll *scroll)
{
  GdkModifierType state
    = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (scroll));
  gboolean wheel = gtk_event_controller_scroll_get_unit (scroll) == GDK_SCROLL_UNIT_WHEEL;

  if ((state & GDK_CONTROL_MASK) != 0)
    {
      zoom_to (self, self->zoom * pow (wheel ? WHEEL_STEP : TOUCHPAD_STEP, -dy), self->pointer_x,
               self->pointer_y);
      return TRUE;
    }
  if (self->zoom <= 1.0)
    return FALSE;
  /* A wheel with Shift goes sideways. */
  if (wheel && (state & GDK_SHIFT_MASK) != 0 && dx == 0.0)
    {
      dx = dy;
      dy = 0.0;
    }
  dew_canvas_pan (self, -dx * (wheel ? WHEEL_PX : 1.0), -dy * (wheel ? WHEEL_PX : 1.0));
  return TRUE;
}

static void
on_pinch_begin (DewCanvas *self)
{
  self->zoom_began = self->zoom;
}

static void
on_pinch (DewCanvas *self, double scale, GtkGesture *pinch)
{
  double x = self->layout.width / 2.0, y = self->layout.height / 2.0;

  gtk_gesture_get_bounding_box_center (pinch, &x, &y);
  zoom_to (self, self->zoom_began * scale, x, y);
}

static void
on_middle_begin (DewCanvas *self)
{
  self->pan_from_px[0] = self->pan_px[0];
  self->pan_from_px[1] = self->pan_px[1];
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "grabbing");
}

static void
on_middle_update (DewCanvas *self, double dx, double dy)
{
  dew_canvas_pan (self, self->pan_from_px[0] + dx - self->pan_px[0],
                  self->pan_from_px[1] + dy - self->pan_px[1]);
}

static void
on_middle_end (DewCanvas *self)
{
  gtk_widget_set_cursor (GTK_WIDGET (self), NULL);
}

/* --- the word for the scale --------------------------------------------- */

/* A word that changes asks for room, and that must not happen while room is given. */
static gboolean
on_write_scale (gpointer data)
{
  DewCanvas *self = data;
  double ratio = DEW_LIFE_SIZE_PX_M / MAX (self->layout.scale_px_m, 1.0);
  g_autofree char *text = NULL;

  self->scale_source = 0;
  /* Translators: the scale of a drawing; "1 : 8" means eight times smaller. */
  text = g_strdup_printf (ratio < 9.95 ? _ ("1 : %.1f") : _ ("1 : %.0f"), ratio);
  if (g_strcmp0 (gtk_button_get_label (GTK_BUTTON (self->scale)), text) != 0)
    gtk_button_set_label (GTK_BUTTON (self->scale), text);
  return G_SOURCE_REMOVE;
}

void
dew_canvas_place_scale (DewCanvas *self)
{
  const double margin_px = 12.0;
  GskTransform *transform;
  int width, height;

  if (self->scale_source == 0)
    /* Before the next picture: where pictures follow each other without a pause, an
     * idle moment may never come. */
    self->scale_source = g_idle_add_full (G_PRIORITY_HIGH_IDLE, on_write_scale, self, NULL);
  gtk_widget_measure (self->scale, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &width, NULL, NULL);
  gtk_widget_measure (self->scale, GTK_ORIENTATION_VERTICAL, -1, NULL, &height, NULL, NULL);
  transform
    = gsk_transform_translate (NULL, &GRAPHENE_POINT_INIT ((float) margin_px,
                                                           (float) (self->layout.height - height
                                                                    - margin_px / 2.0)));
  gtk_widget_allocate (self->scale, width, height, -1, transform);
}

static GtkWidget *
scale_new (void)
{
  GtkWidget *scale = gtk_button_new_with_label ("");

  gtk_button_set_has_frame (GTK_BUTTON (scale), FALSE);
  gtk_widget_add_css_class (scale, "scale");
  gtk_widget_set_tooltip_text (scale, _ ("Scale of the drawing. Press to see all of it."));
  gtk_accessible_update_property (GTK_ACCESSIBLE (scale), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  _ ("Scale of the drawing; press to see all of it"), -1);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (scale), "canvas.zoom-fit");
  return scale;
}

/* --- set up ---------------------------------------------------------------- */

void
dew_canvas_install_zoom (GtkWidgetClass *widget_class)
{
  static const struct
  {
    guint key;
    const char *action;
  } keys[] = {
    { GDK_KEY_plus, "canvas.zoom-in" },         { GDK_KEY_equal, "canvas.zoom-in" },
    { GDK_KEY_KP_Add, "canvas.zoom-in" },       { GDK_KEY_minus, "canvas.zoom-out" },
    { GDK_KEY_KP_Subtract, "canvas.zoom-out" }, { GDK_KEY_0, "canvas.zoom-fit" },
    { GDK_KEY_KP_0, "canvas.zoom-fit" },
  };

  gtk_widget_class_install_action (widget_class, "canvas.zoom-in", NULL, zoom_action);
  gtk_widget_class_install_action (widget_class, "canvas.zoom-out", NULL, zoom_action);
  gtk_widget_class_install_action (widget_class, "canvas.zoom-fit", NULL, zoom_action);
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      gtk_widget_class_add_binding_action (widget_class, keys[i].key, GDK_CONTROL_MASK,
                                           keys[i].action, NULL);
      gtk_widget_class_add_binding_action (widget_class, keys[i].key,
                                           GDK_CONTROL_MASK | GDK_SHIFT_MASK, keys[i].action, NULL);
    }
}

void
dew_canvas_init_zoom (DewCanvas *self)
{
  GtkEventController *scroll
    = gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);
  GtkGesture *pinch = gtk_gesture_zoom_new ();
  GtkGesture *middle = gtk_gesture_drag_new ();

  self->zoom = 1.0;
  g_signal_connect_swapped (scroll, "scroll", G_CALLBACK (on_scroll), self);
  gtk_widget_add_controller (GTK_WIDGET (self), scroll);

  g_signal_connect_swapped (pinch, "begin", G_CALLBACK (on_pinch_begin), self);
  g_signal_connect_swapped (pinch, "scale-changed", G_CALLBACK (on_pinch), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (pinch));

  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (middle), GDK_BUTTON_MIDDLE);
  g_signal_connect_swapped (middle, "drag-begin", G_CALLBACK (on_middle_begin), self);
  g_signal_connect_swapped (middle, "drag-update", G_CALLBACK (on_middle_update), self);
  g_signal_connect_swapped (middle, "drag-end", G_CALLBACK (on_middle_end), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (middle));

  self->scale = scale_new ();
  gtk_widget_set_parent (self->scale, GTK_WIDGET (self));
  update_actions (self);
}
