/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Typing over a number of the drawing. */
#include "canvas/canvas-private.h"

#include "canvas/refusal.h"
#include "document/tongue.h"

#include <glib/gi18n.h>
#include <math.h>

#define REASON_CHARS 30
#define GAP_PX 4.0

static DewDimension
typed_over (const DewHit *hit)
{
  return (DewDimension){ hit->axis, hit->index };
}

static const DewUnit *
length_unit (void)
{
  return dew_unit (DEW_MEASURE_LENGTH, dew_tongue ());
}

/* Sets the length that was typed, or returns the reason why it cannot be (newly
 * allocated). */
static char *
set_length (DewCanvas *self)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->entry));
  g_autoptr (DewEdit) edit = dew_document_edit_begin (self->document);
  DewDimension dimension = typed_over (&self->entry_hit);
  char *reason
    = dew_refusal_dimension (dew_edit_before (edit), dew_edit_chamber (edit), &dimension, text);

  if (reason == NULL)
    dew_edit_commit (edit, _ ("Set a dimension"), NULL);
  return reason;
}

static void
say_reason (DewCanvas *self, const char *reason)
{
  gtk_label_set_text (GTK_LABEL (self->entry_reason), reason);
  gtk_widget_set_visible (self->entry_reason, TRUE);
  gtk_widget_add_css_class (self->entry, "error");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  reason, -1);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_STATE_INVALID,
                               GTK_ACCESSIBLE_INVALID_TRUE, -1);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  g_debug ("dimension: %s", reason);
}

void
dew_canvas_end_entry (DewCanvas *self, gboolean keep)
{
  g_autofree char *reason = NULL;
  GtkWidget *entry = self->entry;

  if (entry == NULL)
    return;
  if (keep)
    reason = set_length (self);
  self->entry = NULL;
  /* GTK would give the keyboard to the next thing, and that would select it. */
  gtk_widget_grab_focus (GTK_WIDGET (self));
  gtk_widget_unparent (entry);
  g_clear_pointer (&self->entry_reason, gtk_widget_unparent);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
on_entry_activate (DewCanvas *self)
{
  g_autofree char *reason = set_length (self);

  if (reason == NULL)
    {
      dew_canvas_end_entry (self, FALSE);
      return;
    }
  say_reason (self, reason);
  gtk_editable_select_region (GTK_EDITABLE (self->entry), 0, -1);
}

static gboolean
on_entry_key (DewCanvas *self, guint key)
{
  if (key != GDK_KEY_Escape)
    return FALSE;
  dew_canvas_end_entry (self, FALSE);
  return TRUE;
}

static GtkWidget *
reason_new (void)
{
  GtkWidget *reason = gtk_label_new (NULL);

  gtk_label_set_wrap (GTK_LABEL (reason), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (reason), REASON_CHARS);
  gtk_label_set_xalign (GTK_LABEL (reason), 0.0f);
  gtk_widget_add_css_class (reason, "reason");
  gtk_widget_set_can_target (reason, FALSE);
  gtk_widget_set_visible (reason, FALSE);
  return reason;
}

void
dew_canvas_begin_entry (DewCanvas *self, const DewHit *hit)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  DewDimension dimension = typed_over (hit);
  g_autofree char *text
    = dew_unit_format (length_unit (),
                       dew_chamber_dimension (dew_document_chamber (self->document), &dimension));

  self->entry_hit = *hit;
  self->entry = gtk_entry_new ();
  gtk_widget_add_css_class (self->entry, "dimension");
  gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), 8);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->entry), 8);
  gtk_entry_set_alignment (GTK_ENTRY (self->entry), 0.5f);
  gtk_editable_set_text (GTK_EDITABLE (self->entry), text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Length, with or without its unit"), -1);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_entry_key), self);
  gtk_widget_add_controller (self->entry, keys);
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (on_entry_activate), self);
  gtk_widget_set_parent (self->entry, GTK_WIDGET (self));
  self->entry_reason = reason_new ();
  gtk_widget_set_parent (self->entry_reason, GTK_WIDGET (self));
  gtk_widget_grab_focus (self->entry);
}

/* --- where they are ------------------------------------------------------- */

static void
allocate_at (GtkWidget *child, double x, double y, int width, int height)
{
  GskTransform *transform
    = gsk_transform_translate (NULL, &GRAPHENE_POINT_INIT ((float) floor (x), (float) floor (y)));

  gtk_widget_allocate (child, width, height, -1, transform);
}

void
dew_canvas_place_entry (DewCanvas *self)
{
  const DewRect *rect = &self->entry_hit.rect;
  int width, height, reason_width, reason_height;
  double x, y;

  if (self->entry == NULL)
    return;
  gtk_widget_measure (self->entry, GTK_ORIENTATION_HORIZONTAL, -1, &width, NULL, NULL, NULL);
  gtk_widget_measure (self->entry, GTK_ORIENTATION_VERTICAL, -1, &height, NULL, NULL, NULL);
  width = MAX (width, (int) ceil (rect->width));
  height = MAX (height, (int) ceil (rect->height));
  x = rect->x + (rect->width - width) / 2.0;
  y = rect->y + (rect->height - height) / 2.0;
  x = CLAMP (x, 0.0, MAX (self->layout.width - width, 0.0));
  y = CLAMP (y, 0.0, MAX (self->layout.height - height, 0.0));
  allocate_at (self->entry, x, y, width, height);

  if (!gtk_widget_get_visible (self->entry_reason))
    return;
  gtk_widget_measure (self->entry_reason, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &reason_width, NULL,
                      NULL);
  gtk_widget_measure (self->entry_reason, GTK_ORIENTATION_VERTICAL, reason_width, NULL,
                      &reason_height, NULL, NULL);
  x = CLAMP (x, GAP_PX, MAX (self->layout.width - reason_width - GAP_PX, GAP_PX));
  y += height + GAP_PX;
  if (y + reason_height > self->layout.height)
    y -= height + reason_height + 2.0 * GAP_PX;
  allocate_at (self->entry_reason, x, y, reason_width, reason_height);
}
