/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a press on the canvas does: select, drag, and draw a frame round several
 * things. */
#include "canvas/canvas-private.h"

#include <glib/gi18n.h>
#include <math.h>

#define THRESHOLD_PX 4.0

/* --- a frame round several things --------------------------------------- */

static gboolean
in_frame (const DewRect *frame, const DewRect *rect)
{
  return rect->x >= frame->x && rect->y >= frame->y
         && rect->x + rect->width <= frame->x + frame->width
         && rect->y + rect->height <= frame->y + frame->height;
}

/* Everything that some view shows wholly inside the frame. */
static void
find_framed (DewCanvas *self)
{
  const DewVariant *variant = dew_document_variant (self->document);
  DewSheet sheet;

  dew_canvas_describe (self, &sheet);
  g_array_set_size (self->framed, 0);
  for (guint i = 0; i < variant->things->len; i++)
    {
      guint id = g_array_index (variant->things, DewThing, i).id;
      DewRect rect;

      for (int view = 0; view < DEW_N_VIEWS; view++)
        {
          if (!dew_sheet_thing_rect (&sheet, &self->layout, id, view, &rect)
              || !in_frame (&self->frame, &rect))
            continue;
          g_array_append_val (self->framed, id);
          break;
        }
    }
}

static void
draw_frame (DewCanvas *self, double x, double y, double dx, double dy)
{
  guint before;

  if (self->framed == NULL)
    self->framed = g_array_new (FALSE, FALSE, sizeof (guint));
  self->frame = (DewRect){ MIN (x, x + dx), MIN (y, y + dy), fabs (dx), fabs (dy) };
  before = self->framed->len;
  find_framed (self);
  if (self->framed->len != before)
    dew_canvas_redraw (self, FALSE);
  else
    gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
take_frame (DewCanvas *self)
{
  g_autoptr (GArray) framed = g_steal_pointer (&self->framed);

  if (self->adding)
    {
      for (guint i = 0; i < framed->len; i++)
        dew_document_select_add (self->document, g_array_index (framed, guint, i));
    }
  else
    dew_document_select_set (self->document, (const guint *) (gpointer) framed->data, framed->len);
  if (framed->len > 0)
    dew_canvas_focus_thing (self, dew_document_selected (self->document));
  dew_canvas_redraw (self, FALSE);
}

/* --- dragging ---------------------------------------------------------- */

gboolean
dew_canvas_holds (DewCanvas *self)
{
  return self->press == DEW_PRESS_THING || self->carrying;
}

void
dew_canvas_end_drag (DewCanvas *self)
{
  g_autoptr (DewEdit) edit = g_steal_pointer (&self->edit);

  g_clear_pointer (&self->framed, g_array_unref);
  self->press = DEW_PRESS_NONE;
  self->moving = FALSE;
  self->carrying = FALSE;
  self->guides.n = 0;
  gtk_widget_set_cursor (GTK_WIDGET (self), NULL);
  dew_canvas_redraw (self, FALSE);
}

static void
press_thing (DewCanvas *self, double x, double y)
{
  guint id = self->hit.thing_id;
  DewSheetLayout layout;

  if (self->hit.part == DEW_PART_BODY && !self->adding)
    {
      if (dew_document_is_selected (self->document, id))
        dew_document_select_add (self->document, id);
      else
        dew_document_select (self->document, id);
      dew_canvas_focus_thing (self, id);
    }
  dew_canvas_layout_of (self, self->plan, &layout);
  if (!dew_layout_to_world (&layout, self->hit.view, x, y, self->from_m))
    return;
  self->press = DEW_PRESS_THING;
}

static gboolean
on_shelf (DewCanvas *self)
{
  const DewThing *thing
    = dew_variant_thing (dew_document_variant (self->document), self->hit.thing_id);

  return self->hit.part == DEW_PART_BODY && thing != NULL && thing->kind == DEW_THING_SHELF;
}

static void
on_drag_begin (DewCanvas *self, double x, double y, GtkGestureDrag *gesture)
{
  GdkModifierType modifiers
    = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));

  dew_canvas_end_entry (self, TRUE);
  dew_canvas_end_probe (self);
  /* What is pressed on is the document, not an answer that is only looked at. */
  dew_document_peek_end (self->document);
  self->hit.part = DEW_PART_NONE;
  self->press = DEW_PRESS_NONE;
  self->moving = FALSE;
  self->adding = (modifiers & (GDK_SHIFT_MASK | GDK_CONTROL_MASK)) != 0;
  if (self->carrying || !dew_canvas_has_picture (self))
    return;
  if (self->space_down)
    {
      self->space_used = TRUE;
      self->press = DEW_PRESS_PAN;
      self->pan_from_px[0] = self->pan_px[0];
      self->pan_from_px[1] = self->pan_px[1];
      return;
    }
  if (!dew_canvas_hit_at (self, x, y, &self->hit))
    self->hit.part = DEW_PART_NONE;
  self->plan = dew_layout_plan_at (&self->layout, x, y);
  /* A frame may begin on a shelf: with Shift it is not the shelf that is meant. */
  if (self->adding && on_shelf (self))
    {
      gtk_widget_grab_focus (GTK_WIDGET (self));
      self->press = DEW_PRESS_AIR;
    }
  else if (dew_hit_grip (&self->hit, &self->grip))
    press_thing (self, x, y);
  else
    {
      /* A click alone would leave the keyboard in the field that was typed in last. */
      gtk_widget_grab_focus (GTK_WIDGET (self));
      if (self->hit.part == DEW_PART_NONE || self->hit.part == DEW_PART_BAY)
        self->press = DEW_PRESS_AIR;
    }
}

static void
move_to (DewCanvas *self, double x, double y, gboolean snap)
{
  DewDrag drag = { .grip = self->grip, .from_m = { self->from_m[0], self->from_m[1] } };
  DewSheetLayout layout;

  dew_canvas_layout_of (self, self->plan, &layout);
  drag.snap_m = snap ? DEW_SNAP_PX / dew_layout_view_scale (&layout, drag.grip.view) : 0.0;
  if (!dew_layout_to_world (&layout, drag.grip.view, x, y, drag.to_m))
    return;
  if (self->edit == NULL)
    self->edit = dew_document_edit_begin (self->document);
  dew_edit_restart (self->edit);
  drag.ids = dew_document_selection (self->document, &drag.n_ids);
  dew_chamber_drag (dew_edit_chamber (self->edit), &drag, &self->guides);
  dew_edit_follow (self->edit);
}

static void
begin_moving (DewCanvas *self, GtkGesture *gesture)
{
  self->moving = TRUE;
  gtk_gesture_set_state (gesture, GTK_EVENT_SEQUENCE_CLAIMED);
  if (self->press != DEW_PRESS_THING || self->hit.part != DEW_PART_BODY)
    return;
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "grabbing");
  if (self->adding)
    dew_document_select_add (self->document, self->hit.thing_id);
}

static void
on_drag_update (DewCanvas *self, double dx, double dy, GtkGestureDrag *gesture)
{
  GdkModifierType modifiers;
  double x, y;

  if (self->press == DEW_PRESS_NONE || self->carrying)
    return;
  if (!self->moving)
    {
      if (hypot (dx, dy) < THRESHOLD_PX)
        return;
      begin_moving (self, GTK_GESTURE (gesture));
    }
  gtk_gesture_drag_get_start_point (gesture, &x, &y);
  modifiers = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));
  switch (self->press)
    {
    case DEW_PRESS_PAN:
      dew_canvas_pan (self, self->pan_from_px[0] + dx - self->pan_px[0],
                      self->pan_from_px[1] + dy - self->pan_px[1]);
      break;
    case DEW_PRESS_AIR:
      draw_frame (self, x, y, dx, dy);
      break;
    case DEW_PRESS_THING:
      /* Alt lets things go where no edge or shelf pulls them. */
      move_to (self, x + dx, y + dy, (modifiers & GDK_ALT_MASK) == 0);
      break;
    case DEW_PRESS_NONE:
      break;
    }
}

static char *
drag_label (DewCanvas *self)
{
  const DewThing *thing
    = dew_variant_thing (dew_document_variant (self->document), self->hit.thing_id);
  guint n;

  dew_document_selection (self->document, &n);
  if (thing == NULL)
    return g_strdup (_ ("Resize the enclosure"));
  switch (self->hit.part)
    {
    case DEW_PART_BODY:
      return dew_canvas_label_move (thing, n);
    case DEW_PART_AIM:
      return g_strdup_printf (_ ("Aim %s"), thing->name);
    case DEW_PART_LIFT:
      return g_strdup_printf (_ ("Lift %s"), thing->name);
    default:
      return g_strdup_printf (_ ("Resize %s"), thing->name);
    }
}

/* --- clicks ------------------------------------------------------------ */

static void
click_flag (DewCanvas *self, int index)
{
  const DewForecast *forecast = dew_document_forecast (self->document);
  const DewFinding *finding;

  if (forecast == NULL || index >= forecast->n_findings)
    return;
  finding = &forecast->findings[index];
  if (finding->bay >= 0)
    dew_document_set_plan_bay (self->document, finding->bay);
  dew_document_select (self->document, finding->thing_id);
}

/* Its plan is chosen; the air of a small plan, or a bay that is chosen already, enlarges it,
 * and once more puts it back. */
static void
click_bay (DewCanvas *self, const DewHit *hit)
{
  gboolean chosen = dew_document_plan_bay (self->document) == hit->index;
  gboolean asked = hit->view == DEW_VIEW_PLAN || (hit->view == DEW_N_VIEWS && chosen);

  dew_document_select (self->document, 0);
  dew_document_set_plan_bay (self->document, hit->index);
  if (asked)
    dew_canvas_enlarge_plan (self, !(self->plan_large && chosen));
}

void
dew_canvas_click (DewCanvas *self, const DewHit *hit)
{
  switch (hit->part)
    {
    case DEW_PART_NONE:
      dew_document_select (self->document, 0);
      break;
    case DEW_PART_BAY:
      click_bay (self, hit);
      break;
    case DEW_PART_SWITCH:
      dew_canvas_switch_side (self, !self->side_instead);
      break;
    case DEW_PART_DIMENSION:
      dew_canvas_begin_entry (self, hit);
      break;
    case DEW_PART_FLAG:
      click_flag (self, hit->index);
      break;
    case DEW_PART_LEGEND:
      gtk_widget_activate_action (GTK_WIDGET (self), "canvas.fixed-scale", NULL);
      break;
    default:
      break;
    }
}

/* A press on one of several that was no drag means that one alone. */
static void
click (DewCanvas *self)
{
  if (self->hit.part == DEW_PART_BODY)
    {
      if (self->adding)
        {
          dew_document_select_toggle (self->document, self->hit.thing_id);
          self->walking = TRUE;
          dew_canvas_focus_thing (self, self->hit.thing_id);
          self->walking = FALSE;
        }
      else
        dew_document_select (self->document, self->hit.thing_id);
    }
  else if (!self->adding || self->press != DEW_PRESS_AIR)
    dew_canvas_click (self, &self->hit);
}

static void
on_drag_end (DewCanvas *self, double dx, double dy)
{
  if (self->carrying)
    return;
  /* After Escape nothing is pressed any more, and there is nothing to do. */
  if (self->moving && self->framed != NULL)
    take_frame (self);
  else if (self->edit != NULL)
    {
      g_autoptr (DewEdit) edit = g_steal_pointer (&self->edit);
      g_autofree char *label = drag_label (self);

      dew_edit_commit (edit, label, NULL);
    }
  else if (!self->moving && hypot (dx, dy) < THRESHOLD_PX && self->press != DEW_PRESS_PAN)
    click (self);
  dew_canvas_end_drag (self);
  self->hit.part = DEW_PART_NONE;
}

static void
on_drag_cancel (DewCanvas *self)
{
  if (!self->carrying)
    dew_canvas_end_drag (self);
}

gboolean
dew_canvas_cancel (DewCanvas *self)
{
  g_return_val_if_fail (DEW_IS_CANVAS (self), FALSE);

  if (self->entry != NULL)
    {
      dew_canvas_end_entry (self, FALSE);
      return TRUE;
    }
  if (self->press == DEW_PRESS_NONE && !self->carrying)
    return FALSE;
  dew_canvas_end_drag (self);
  /* Tells the gesture that the rest of the press means nothing. */
  self->hit.part = DEW_PART_BODY;
  self->moving = TRUE;
  gtk_event_controller_reset (GTK_EVENT_CONTROLLER (self->drag));
  self->moving = FALSE;
  return TRUE;
}

/* --- the space bar ------------------------------------------------------- */

/* Held down it lets the pointer shift the drawing; alone it takes the thing with
 * the keyboard in or out of the selection. */
static gboolean
on_key (DewCanvas *self, guint key, guint code, GdkModifierType state)
{
  GtkWidget *focus = gtk_root_get_focus (gtk_widget_get_root (GTK_WIDGET (self)));

  if (key != GDK_KEY_space || focus == NULL || GTK_IS_TEXT (focus) || GTK_IS_BUTTON (focus)
      || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
    return FALSE;
  if (!self->space_down)
    {
      self->space_down = TRUE;
      self->space_used = FALSE;
      dew_canvas_end_probe (self);
      if (self->zoom > 1.0)
        gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "grab");
    }
  return TRUE;
}

static void
on_key_released (DewCanvas *self, guint key)
{
  GtkWidget *focus;

  if (key != GDK_KEY_space || !self->space_down)
    return;
  self->space_down = FALSE;
  gtk_widget_set_cursor (GTK_WIDGET (self), NULL);
  focus = gtk_root_get_focus (gtk_widget_get_root (GTK_WIDGET (self)));
  if (!self->space_used && focus != NULL)
    gtk_widget_activate_action (focus, "item.toggle", NULL);
}

void
dew_canvas_init_pointer (DewCanvas *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->drag = gtk_gesture_drag_new ();
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (self->drag), GDK_BUTTON_PRIMARY);
  g_signal_connect_swapped (self->drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect_swapped (self->drag, "drag-update", G_CALLBACK (on_drag_update), self);
  g_signal_connect_swapped (self->drag, "drag-end", G_CALLBACK (on_drag_end), self);
  g_signal_connect_swapped (self->drag, "cancel", G_CALLBACK (on_drag_cancel), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (self->drag));

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_key), self);
  g_signal_connect_swapped (keys, "key-released", G_CALLBACK (on_key_released), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}
