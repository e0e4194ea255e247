/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pointer over the canvas, not pressed: what lights up under it, what the air is
 * like there, and words beside it. */
#include "canvas/canvas-private.h"
#include "say/findings.h"

#include <glib/gi18n.h>

/* The probe comes when the pointer rests for a moment and then goes along. */
#define PROBE_AFTER_MS 350

gboolean
dew_canvas_hit_at (DewCanvas *self, double x, double y, DewHit *hit)
{
  DewSheet sheet;

  if (dew_document_chamber (self->document) == NULL || self->layout.scale_px_m <= 0.0)
    return FALSE;
  dew_canvas_describe (self, &sheet);
  return dew_sheet_hit (&sheet, &self->layout, x, y, hit);
}

/* --- the air under the pointer ----------------------------------------- */

void
dew_canvas_end_probe (DewCanvas *self)
{
  g_clear_handle_id (&self->probe_source, g_source_remove);
  if (!self->probing)
    return;
  self->probing = FALSE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static gboolean
on_rest (gpointer data)
{
  DewCanvas *self = data;

  self->probe_source = 0;
  self->probing = TRUE;
  g_debug ("probe");
  gtk_widget_queue_draw (GTK_WIDGET (self));
  return G_SOURCE_REMOVE;
}

/* Only air and what stands in it are asked about: marks speak for themselves. */
static void
move_probe (DewCanvas *self, const DewHit *hit, double x, double y)
{
  DewSheetLayout layout;

  self->probe.bay = dew_layout_plan_at (&self->layout, x, y);
  dew_canvas_layout_of (self, self->probe.bay, &layout);
  if (hit == NULL || (hit->part != DEW_PART_BAY && hit->part != DEW_PART_BODY)
      || dew_document_forecast (self->document) == NULL
      || !dew_layout_view_at (&layout, x, y, &self->probe.view)
      || !dew_layout_to_world (&layout, self->probe.view, x, y, self->probe.at_m))
    {
      dew_canvas_end_probe (self);
      return;
    }
  if (self->probing)
    {
      gtk_widget_queue_draw (GTK_WIDGET (self));
      return;
    }
  g_clear_handle_id (&self->probe_source, g_source_remove);
  self->probe_source = g_timeout_add (PROBE_AFTER_MS, on_rest, self);
}

/* --- hover ------------------------------------------------------------- */

static const char *
resize_cursor (const DewHit *hit)
{
  gboolean across = hit->view == DEW_VIEW_SIDE ? hit->axis == 1 : hit->axis == 0;

  return across ? "ew-resize" : "ns-resize";
}

static const char *
cursor_for (DewCanvas *self, const DewHit *hit)
{
  if (hit->part == DEW_PART_BAY && hit->view == DEW_VIEW_PLAN && self->layout.n_plans > 0)
    return self->plan_large ? "zoom-out" : "zoom-in";
  switch (hit->part)
    {
    case DEW_PART_BODY:
    case DEW_PART_LIFT:
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
    case DEW_PART_LEGEND:
    case DEW_PART_SWITCH:
      return "pointer";
    default:
      return NULL;
    }
}

static void
hover (DewCanvas *self, double x, double y)
{
  DewHit hit;
  gboolean any = dew_canvas_hit_at (self, x, y, &hit);
  guint id = any && hit.part != DEW_PART_BAY ? hit.thing_id : 0;
  int bay = any && hit.part == DEW_PART_BAY ? hit.index : -1;
  int finding = any && hit.part == DEW_PART_FLAG ? hit.index : -1;

  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), self->space_down ? "grab"
                                                      : any            ? cursor_for (self, &hit)
                                                                       : NULL);
  if (id != self->hover_id || bay != self->hover_bay)
    {
      self->hover_id = id;
      self->hover_bay = bay;
      dew_canvas_redraw (self, FALSE);
    }
  dew_document_light_finding (self->document, finding);
  move_probe (self, any ? &hit : NULL, x, y);
}

static void
on_motion (DewCanvas *self, double x, double y)
{
  /* GTK also tells of the pointer when it has not moved. */
  if (x == self->pointer_x && y == self->pointer_y)
    return;
  self->pointer_x = x;
  self->pointer_y = y;
  if (self->press == DEW_PRESS_NONE && !self->carrying)
    hover (self, x, y);
}

static void
on_leave (DewCanvas *self)
{
  dew_canvas_end_probe (self);
  if (self->press != DEW_PRESS_NONE || self->carrying)
    return;
  self->hover_id = 0;
  self->hover_bay = -1;
  dew_document_light_finding (self->document, -1);
  dew_canvas_redraw (self, FALSE);
}

/* --- words beside the pointer ------------------------------------------- */

static char *
tooltip_text (DewCanvas *self, double x, double y)
{
  const DewForecast *forecast = dew_document_forecast (self->document);
  DewHit hit;

  if (self->press != DEW_PRESS_NONE || self->carrying || !dew_canvas_hit_at (self, x, y, &hit))
    return NULL;
  switch (hit.part)
    {
    case DEW_PART_FLAG:
      return forecast != NULL && hit.index < forecast->n_findings
               ? dew_finding_title (forecast, &forecast->findings[hit.index])
               : NULL;
    case DEW_PART_DIMENSION:
      return g_strdup (_ ("Click to type another length"));
    case DEW_PART_LIFT:
      return g_strdup (_ ("Pull to open or close the flap"));
    case DEW_PART_LEGEND:
      return g_strdup (self->fixed_scale ? _ ("Click to fit the colours to this picture")
                                         : _ ("Click to show the whole useful range"));
    default:
      return NULL;
    }
}

static gboolean
on_query_tooltip (DewCanvas *self, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  g_autofree char *text = keyboard ? NULL : tooltip_text (self, x, y);

  if (text == NULL)
    return FALSE;
  gtk_tooltip_set_text (tooltip, text);
  return TRUE;
}

void
dew_canvas_init_hover (DewCanvas *self)
{
  GtkEventController *motion = gtk_event_controller_motion_new ();

  g_signal_connect_swapped (motion, "enter", G_CALLBACK (on_motion), self);
  g_signal_connect_swapped (motion, "motion", G_CALLBACK (on_motion), self);
  g_signal_connect_swapped (motion, "leave", G_CALLBACK (on_leave), self);
  gtk_widget_add_controller (GTK_WIDGET (self), motion);

  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  g_signal_connect (self, "query-tooltip", G_CALLBACK (on_query_tooltip), NULL);
}
