/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the pointer does on the canvas: select, drag, carry in, type over a
 * number, and tell what the air is like under it. */
#include "canvas/canvas-private.h"

#include "canvas/place.h"
#include "moist/moist.h"
#include "canvas/units.h"

#include <math.h>

#define THRESHOLD_PX 4.0
/* How far the pull of edges and shelves reaches. */
#define SNAP_PX 9.0

/* --- hover ------------------------------------------------------------- */

static gboolean
hit_at (DewCanvas *self, double x, double y, DewHit *hit)
{
  DewSheet sheet;

  if (dew_document_chamber (self->document) == NULL || self->layout.scale_px_m <= 0.0)
    return FALSE;
  dew_canvas_describe (self, &sheet);
  return dew_sheet_hit (&sheet, &self->layout, x, y, hit);
}

static const char *
resize_cursor (const DewHit *hit)
{
  gboolean across = hit->view == DEW_VIEW_SIDE ? hit->axis == 1 : hit->axis == 0;

  return across ? "ew-resize" : "ns-resize";
}

static const char *
cursor_for (const DewHit *hit)
{
  switch (hit->part)
    {
    case DEW_PART_BODY:
      return "grab";
    case DEW_PART_LO:
    case DEW_PART_HI:
    case DEW_PART_WALL:
      return resize_cursor (hit);
    case DEW_PART_AIM:
      return "crosshair";
    case DEW_PART_DIMENSION:
      return "text";
    case DEW_PART_FLAG:
      return "pointer";
    default:
      return NULL;
    }
}

static void
hover (DewCanvas *self, double x, double y)
{
  DewHit hit;
  gboolean any = hit_at (self, x, y, &hit);
  guint id = any && hit.part != DEW_PART_BAY ? hit.thing_id : 0;
  int bay = any && hit.part == DEW_PART_BAY ? hit.index : -1;
  int finding = any && hit.part == DEW_PART_FLAG ? hit.index : -1;

  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), any ? cursor_for (&hit) : NULL);
  if (id != self->hover_id || bay != self->hover_bay)
    {
      self->hover_id = id;
      self->hover_bay = bay;
      dew_canvas_redraw (self, FALSE);
    }
  dew_document_light_finding (self->document, finding);
}

static void
on_motion (DewCanvas *self, double x, double y)
{
  self->pointer_x = x;
  self->pointer_y = y;
  if (self->origin == NULL)
    hover (self, x, y);
}

static void
on_leave (DewCanvas *self)
{
  if (self->origin != NULL)
    return;
  self->hover_id = 0;
  self->hover_bay = -1;
  dew_document_light_finding (self->document, -1);
  dew_canvas_redraw (self, FALSE);
}

/* --- dragging ---------------------------------------------------------- */

static void
end_drag (DewCanvas *self)
{
  g_clear_pointer (&self->origin, dew_chamber_free);
  self->moving = FALSE;
  self->carrying = FALSE;
  self->carried_in = FALSE;
  self->guides.n = 0;
  gtk_widget_set_cursor (GTK_WIDGET (self), NULL);
  dew_canvas_redraw (self, FALSE);
}

static gboolean
can_drag (const DewHit *hit)
{
  switch (hit->part)
    {
    case DEW_PART_BODY:
    case DEW_PART_LO:
    case DEW_PART_HI:
    case DEW_PART_AIM:
    case DEW_PART_WALL:
      return TRUE;
    default:
      return FALSE;
    }
}

static void
on_drag_begin (DewCanvas *self, double x, double y)
{
  dew_canvas_end_entry (self, TRUE);
  if (self->carrying || !hit_at (self, x, y, &self->hit))
    {
      self->hit.part = DEW_PART_NONE;
      return;
    }
  if (self->hit.part == DEW_PART_BODY)
    {
      dew_document_select (self->document, self->hit.thing_id);
      dew_canvas_focus_thing (self, self->hit.thing_id);
    }
  if (!can_drag (&self->hit)
      || !dew_layout_to_world (&self->layout, self->hit.view, x, y, self->from_m))
    return;
  self->origin = dew_chamber_copy (dew_document_chamber (self->document));
  self->moving = FALSE;
}

static void
move_to (DewCanvas *self, double x, double y, gboolean snap)
{
  g_autoptr (DewChamber) draft = NULL;
  double to_m[2];

  if (!dew_layout_to_world (&self->layout, self->hit.view, x, y, to_m))
    return;
  draft = dew_chamber_copy (self->origin);
  self->guides.n = 0;
  dew_sheet_drag (draft, dew_chamber_shown (draft), &self->hit, self->from_m, to_m,
                  snap ? SNAP_PX / self->layout.scale_px_m : 0.0, &self->guides);
  dew_document_take_draft (self->document, g_steal_pointer (&draft));
  dew_document_follow (self->document);
}

static void
on_drag_update (DewCanvas *self, double dx, double dy, GtkGestureDrag *gesture)
{
  GdkModifierType modifiers;
  double x, y;

  if (self->origin == NULL || self->carrying)
    return;
  if (!self->moving)
    {
      if (hypot (dx, dy) < THRESHOLD_PX)
        return;
      self->moving = TRUE;
      gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
      if (self->hit.part == DEW_PART_BODY)
        gtk_widget_set_cursor_from_name (GTK_WIDGET (self), "grabbing");
    }
  gtk_gesture_drag_get_start_point (gesture, &x, &y);
  modifiers = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));
  /* Alt lets things go where no edge or shelf pulls them. */
  move_to (self, x + dx, y + dy, (modifiers & GDK_ALT_MASK) == 0);
}

static void
commit_drag (DewCanvas *self)
{
  const DewThing *thing
    = dew_variant_thing (dew_document_variant (self->document), self->hit.thing_id);
  g_autofree char *label = NULL;

  if (thing == NULL)
    label = g_strdup ("Resize the enclosure");
  else if (self->hit.part == DEW_PART_BODY)
    label = g_strdup_printf ("Move %s", thing->name);
  else if (self->hit.part == DEW_PART_AIM)
    label = g_strdup_printf ("Aim %s", thing->name);
  else
    label = g_strdup_printf ("Resize %s", thing->name);
  dew_document_commit (self->document, label, NULL);
}

static void begin_entry (DewCanvas *self, const DewHit *hit);

static void
click (DewCanvas *self)
{
  const DewForecast *forecast = dew_document_forecast (self->document);

  switch (self->hit.part)
    {
    case DEW_PART_NONE:
      dew_document_select (self->document, 0);
      break;
    case DEW_PART_BAY:
      dew_document_select (self->document, 0);
      dew_document_set_plan_bay (self->document, self->hit.index);
      break;
    case DEW_PART_DIMENSION:
      begin_entry (self, &self->hit);
      break;
    case DEW_PART_FLAG:
      if (forecast != NULL && self->hit.index < forecast->n_findings)
        {
          const DewFinding *finding = &forecast->findings[self->hit.index];

          if (finding->bay >= 0)
            dew_document_set_plan_bay (self->document, finding->bay);
          dew_document_select (self->document, finding->thing_id);
        }
      break;
    default:
      break;
    }
}

static void
on_drag_end (DewCanvas *self, double dx, double dy, GtkGestureDrag *gesture)
{
  gboolean moved = self->origin != NULL && self->moving;

  if (self->carrying)
    return;
  /* After Escape there is no origin left, and nothing more to do. */
  if (moved)
    commit_drag (self);
  else if (hypot (dx, dy) < THRESHOLD_PX)
    click (self);
  end_drag (self);
  self->hit.part = DEW_PART_NONE;
}

static void
on_drag_cancel (DewCanvas *self)
{
  if (self->origin == NULL || self->carrying)
    return;
  dew_document_revert (self->document);
  end_drag (self);
}

gboolean
dew_canvas_cancel (DewCanvas *self)
{
  gboolean changed;

  g_return_val_if_fail (DEW_IS_CANVAS (self), FALSE);

  if (self->entry != NULL)
    {
      dew_canvas_end_entry (self, FALSE);
      return TRUE;
    }
  if (self->origin == NULL && !self->carrying)
    return FALSE;
  changed = self->moving || self->carried_in;
  end_drag (self);
  if (changed)
    dew_document_revert (self->document);
  /* Tells the gesture that the rest of the press means nothing. */
  self->hit.part = DEW_PART_BODY;
  gtk_event_controller_reset (GTK_EVENT_CONTROLLER (self->drag));
  return TRUE;
}

/* --- carrying in from the tray ----------------------------------------- */

static void
carry_out (DewCanvas *self)
{
  if (!self->carried_in)
    return;
  self->carried_in = FALSE;
  self->moving = FALSE;
  dew_document_select (self->document, 0);
  dew_document_revert (self->document);
}

void
dew_canvas_carry (DewCanvas *self, DewThingKind kind, double x, double y)
{
  DewVariant *variant;
  DewThing thing, *added;
  g_autoptr (DewChamber) draft = NULL;
  DewView view;
  double at_m[2];
  guint id;

  g_return_if_fail (DEW_IS_CANVAS (self));

  if (dew_document_chamber (self->document) == NULL)
    return;
  if (!self->carrying)
    {
      dew_canvas_end_entry (self, TRUE);
      self->carrying = TRUE;
      self->origin = dew_chamber_copy (dew_document_chamber (self->document));
    }
  if (x < 0.0 || y < 0.0 || x > self->layout.width || y > self->layout.height
      || !dew_layout_view_at (&self->layout, x, y, &view)
      || !dew_layout_to_world (&self->layout, view, x, y, at_m))
    {
      carry_out (self);
      return;
    }
  draft = dew_chamber_copy (self->origin);
  variant = dew_chamber_shown (draft);
  dew_thing_init (&thing, kind);
  dew_place_name (variant, kind, thing.name);
  dew_sheet_drop (draft, variant, &thing, view, at_m, dew_document_plan_bay (self->document));
  added = dew_variant_add (draft, variant, &thing);
  id = added->id;
  dew_document_take_draft (self->document, g_steal_pointer (&draft));
  self->carried_in = TRUE;
  self->hit.thing_id = id;
  dew_document_select (self->document, id);
  dew_document_follow (self->document);
}

void
dew_canvas_carry_end (DewCanvas *self)
{
  const DewThing *thing;
  gboolean put_down;
  guint id;

  g_return_if_fail (DEW_IS_CANVAS (self));

  if (!self->carrying)
    return;
  put_down = self->carried_in;
  id = self->hit.thing_id;
  end_drag (self);
  if (!put_down)
    return;
  thing = dew_variant_thing (dew_document_variant (self->document), id);
  if (thing != NULL)
    {
      g_autofree char *label = g_strdup_printf ("Add %s", thing->name);

      dew_document_commit (self->document, label, NULL);
      dew_document_select (self->document, id);
      dew_canvas_focus_thing (self, id);
    }
}

/* --- typing over a dimension ------------------------------------------- */

void
dew_canvas_end_entry (DewCanvas *self, gboolean keep)
{
  GtkWidget *entry = g_steal_pointer (&self->entry);
  double length_m;

  if (entry == NULL)
    return;
  if (keep
      && dew_unit_parse (dew_unit_for_quantity (DEW_QUANTITY_LENGTH),
                         gtk_editable_get_text (GTK_EDITABLE (entry)), &length_m)
      && dew_sheet_set_dimension (dew_document_draft (self->document),
                                  dew_document_variant (self->document), &self->entry_hit,
                                  length_m))
    dew_document_commit (self->document, "Set a dimension", NULL);
  /* GTK would give the keyboard to the next thing, and that would select it. */
  gtk_root_set_focus (gtk_widget_get_root (entry), NULL);
  gtk_widget_unparent (entry);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
on_entry_activate (DewCanvas *self)
{
  dew_canvas_end_entry (self, TRUE);
}

static gboolean
on_entry_key (DewCanvas *self, guint key)
{
  if (key != GDK_KEY_Escape)
    return FALSE;
  dew_canvas_end_entry (self, FALSE);
  return TRUE;
}

static void
begin_entry (DewCanvas *self, const DewHit *hit)
{
  const DewUnit *unit = dew_unit_for_quantity (DEW_QUANTITY_LENGTH);
  GtkEventController *keys = gtk_event_controller_key_new ();
  g_autofree char *text
    = dew_unit_format (unit, dew_sheet_dimension (dew_document_chamber (self->document),
                                                  dew_document_variant (self->document), hit));

  self->entry_hit = *hit;
  self->entry = gtk_entry_new ();
  gtk_widget_add_css_class (self->entry, "dimension");
  gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), 8);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->entry), 8);
  gtk_entry_set_alignment (GTK_ENTRY (self->entry), 0.5f);
  gtk_editable_set_text (GTK_EDITABLE (self->entry), text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  "Length in centimetres", -1);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_entry_key), self);
  gtk_widget_add_controller (self->entry, keys);
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (on_entry_activate), self);
  gtk_widget_set_parent (self->entry, GTK_WIDGET (self));
  gtk_widget_grab_focus (self->entry);
}

/* --- the air under the pointer ----------------------------------------- */

static gboolean
probe_point (DewCanvas *self, double x, double y, double at_m[3])
{
  DewView view;
  double across_m[2];

  if (!dew_layout_view_at (&self->layout, x, y, &view)
      || !dew_layout_to_world (&self->layout, view, x, y, across_m))
    return FALSE;
  for (int axis = 0; axis < 3; axis++)
    at_m[axis] = self->layout.inner_m[axis] / 2.0;
  switch (view)
    {
    case DEW_VIEW_FRONT:
      at_m[0] = across_m[0];
      at_m[2] = across_m[1];
      break;
    case DEW_VIEW_SIDE:
      at_m[1] = across_m[0];
      at_m[2] = across_m[1];
      break;
    case DEW_VIEW_PLAN:
      at_m[0] = across_m[0];
      at_m[1] = across_m[1];
      at_m[2] = (self->layout.plan_lo_m + self->layout.plan_hi_m) / 2.0;
      break;
    }
  return TRUE;
}

static char *
probe_text (const DewForecast *forecast, const double at_m[3])
{
  static const DewValue values[] = { DEW_VALUE_RH,    DEW_VALUE_TEMPERATURE, DEW_VALUE_VPD,
                                     DEW_VALUE_SPEED, DEW_VALUE_AGE,         DEW_VALUE_PPFD };
  GString *text = g_string_new (NULL);
  double w_kg_kg;

  if (isnan (dew_forecast_sample (forecast, DEW_VALUE_TEMPERATURE, at_m[0], at_m[1], at_m[2])))
    return g_string_free (text, TRUE);
  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    {
      g_autofree char *number
        = dew_value_text (values[i],
                          dew_forecast_sample (forecast, values[i], at_m[0], at_m[1], at_m[2]),
                          FALSE);

      g_string_append_printf (text, "%s%s  %s", i > 0 ? "\n" : "", dew_value_label (values[i]),
                              number);
    }
  w_kg_kg = dew_forecast_sample (forecast, DEW_VALUE_HUMIDITY_RATIO, at_m[0], at_m[1], at_m[2]);
  {
    g_autofree char *dew_point
      = dew_value_text (DEW_VALUE_TEMPERATURE,
                        dew_moist_dew_point (w_kg_kg, forecast->pressure_Pa), FALSE);

    g_string_append_printf (text, "\nDew point  %s", dew_point);
  }
  return g_string_free (text, FALSE);
}

static char *
tooltip_text (DewCanvas *self, double x, double y)
{
  const DewForecast *forecast = dew_document_forecast (self->document);
  double at_m[3];
  DewHit hit;

  if (forecast == NULL || self->origin != NULL)
    return NULL;
  if (hit_at (self, x, y, &hit))
    {
      if (hit.part == DEW_PART_FLAG && hit.index < forecast->n_findings)
        return g_strdup (forecast->findings[hit.index].title);
      if (hit.part == DEW_PART_DIMENSION)
        return g_strdup ("Click to type another length");
    }
  return probe_point (self, x, y, at_m) ? probe_text (forecast, at_m) : NULL;
}

static gboolean
on_query_tooltip (DewCanvas *self, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  g_autofree char *text = keyboard ? NULL : tooltip_text (self, x, y);

  if (text == NULL || *text == '\0')
    return FALSE;
  gtk_tooltip_set_text (tooltip, text);
  return TRUE;
}

void
dew_canvas_init_pointer (DewCanvas *self)
{
  GtkEventController *motion = gtk_event_controller_motion_new ();

  self->drag = gtk_gesture_drag_new ();
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (self->drag), GDK_BUTTON_PRIMARY);
  g_signal_connect_swapped (self->drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect_swapped (self->drag, "drag-update", G_CALLBACK (on_drag_update), self);
  g_signal_connect_swapped (self->drag, "drag-end", G_CALLBACK (on_drag_end), self);
  g_signal_connect_swapped (self->drag, "cancel", G_CALLBACK (on_drag_cancel), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (self->drag));

  g_signal_connect_swapped (motion, "enter", G_CALLBACK (on_motion), self);
  g_signal_connect_swapped (motion, "motion", G_CALLBACK (on_motion), self);
  g_signal_connect_swapped (motion, "leave", G_CALLBACK (on_leave), self);
  gtk_widget_add_controller (GTK_WIDGET (self), motion);

  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  g_signal_connect (self, "query-tooltip", G_CALLBACK (on_query_tooltip), NULL);
}
