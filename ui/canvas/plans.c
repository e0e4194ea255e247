/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plans beside the front view: enlarging one, and taking the side view for them. */
#include "canvas/canvas-private.h"

void
dew_canvas_layout_of (DewCanvas *self, int bay, DewSheetLayout *layout)
{
  *layout = self->layout;
  if (bay >= 0 && bay < layout->n_plans)
    dew_layout_choose_plan (layout, bay);
}

void
dew_canvas_enlarge_plan (DewCanvas *self, gboolean large)
{
  if (self->plan_large == large || (large && self->layout.n_plans == 0))
    return;
  self->plan_large = large;
  g_debug ("plan: %s", large ? "large" : "in its row");
  dew_canvas_end_probe (self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  g_object_notify (G_OBJECT (self), "large-plan");
}

gboolean
dew_canvas_put_back_plan (DewCanvas *self)
{
  gboolean large;

  g_return_val_if_fail (DEW_IS_CANVAS (self), FALSE);
  large = self->plan_large;
  dew_canvas_enlarge_plan (self, FALSE);
  return large;
}

void
dew_canvas_switch_side (DewCanvas *self, gboolean side)
{
  if (self->side_instead == side)
    return;
  self->side_instead = side;
  g_debug ("beside the front view: %s", side ? "side" : "plans");
  dew_canvas_enlarge_plan (self, FALSE);
  dew_canvas_end_probe (self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  g_object_notify (G_OBJECT (self), "side-view");
}

void
dew_canvas_install_plans (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_property_action (widget_class, "canvas.large-plan", "large-plan");
  gtk_widget_class_install_property_action (widget_class, "canvas.side-view", "side-view");
}
