/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "canvas/spot.h"

#include "canvas/canvas-private.h"
#include "canvas/theme.h"
#include "canvas/words.h"

#define RING_GAP_PX 3.0f
#define RING_PX 2.0f

struct _DewSpot
{
  GtkWidget parent_instance;

  DewDocument *document; /* lent by the canvas that owns both */
  DewPart part;
  int index;
  DewRect rect;
};

G_DEFINE_FINAL_TYPE (DewSpot, dew_spot, GTK_TYPE_WIDGET)

void
dew_focus_ring_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  const DewColour *accent = &dew_theme_palette ()->accent;
  const GdkRGBA colour = { (float) accent->r, (float) accent->g, (float) accent->b, 1.0f };
  const float width[4] = { RING_PX, RING_PX, RING_PX, RING_PX };
  const GdkRGBA colours[4] = { colour, colour, colour, colour };
  graphene_rect_t bounds;
  GskRoundedRect outline;

  if (!gtk_widget_is_focus (widget)
      || (gtk_widget_get_state_flags (widget) & GTK_STATE_FLAG_FOCUS_VISIBLE) == 0)
    return;
  graphene_rect_init (&bounds, -RING_GAP_PX, -RING_GAP_PX,
                      (float) gtk_widget_get_width (widget) + 2.0f * RING_GAP_PX,
                      (float) gtk_widget_get_height (widget) + 2.0f * RING_GAP_PX);
  gsk_rounded_rect_init_from_rect (&outline, &bounds, 4.0f);
  gtk_snapshot_append_border (snapshot, &outline, width, colours);
}

/* Who comes to a bay with the keyboard sees its plan, who comes to a finding sees
 * its flag light up; what is selected stays. */
static void
on_focus (DewSpot *self)
{
  if (self->part == DEW_PART_BAY)
    dew_document_set_plan_bay (self->document, self->index);
  else
    dew_document_light_finding (self->document, self->index);
}

static void
on_blur (DewSpot *self)
{
  if (self->part == DEW_PART_FLAG)
    dew_document_light_finding (self->document, -1);
}

static void
on_open (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewSpot *self = DEW_SPOT (widget);
  /* In no view: a bay that is chosen already is enlarged. */
  DewHit hit = { .part = self->part, .view = DEW_N_VIEWS, .index = self->index };

  dew_canvas_click (DEW_CANVAS (gtk_widget_get_parent (widget)), &hit);
}

static void
dew_spot_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  dew_focus_ring_snapshot (widget, snapshot);
}

static void
dew_spot_state_flags_changed (GtkWidget *widget, GtkStateFlags before)
{
  GTK_WIDGET_CLASS (dew_spot_parent_class)->state_flags_changed (widget, before);
  /* The ring is no style of GTK's, which would draw it anew by itself. */
  gtk_widget_queue_draw (widget);
}

static void
dew_spot_class_init (DewSpotClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  static const guint keys[] = { GDK_KEY_Return, GDK_KEY_KP_Enter };

  widget_class->snapshot = dew_spot_snapshot;
  widget_class->state_flags_changed = dew_spot_state_flags_changed;
  gtk_widget_class_set_css_name (widget_class, "spot");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_LIST_ITEM);
  gtk_widget_class_install_action (widget_class, "spot.open", NULL, on_open);
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    gtk_widget_class_add_binding_action (widget_class, keys[i], 0, "spot.open", NULL);
}

static void
dew_spot_init (DewSpot *self)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();

  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  /* The pointer belongs to the canvas below. */
  gtk_widget_set_can_target (GTK_WIDGET (self), FALSE);
  g_signal_connect_swapped (focus, "enter", G_CALLBACK (on_focus), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (on_blur), self);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
}

GtkWidget *
dew_spot_new (DewDocument *document, DewPart part, int index)
{
  DewSpot *self = g_object_new (DEW_TYPE_SPOT, NULL);

  self->document = document;
  self->part = part;
  self->index = index;
  dew_spot_update (self);
  return GTK_WIDGET (self);
}

DewPart
dew_spot_part (DewSpot *self)
{
  return self->part;
}

int
dew_spot_index (DewSpot *self)
{
  return self->index;
}

void
dew_spot_update (DewSpot *self)
{
  gboolean bay = self->part == DEW_PART_BAY;
  g_autofree char *name = bay ? dew_words_bay_name (self->document, self->index)
                              : dew_words_finding_name (self->document, self->index);
  g_autofree char *words = bay ? dew_words_bay (self->document, self->index)
                               : dew_words_finding (self->document, self->index);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_SELECTED,
                               bay ? dew_document_plan_bay (self->document) == self->index
                                   : dew_document_lit_finding (self->document) == self->index,
                               -1);
}

void
dew_spot_set_rect (DewSpot *self, const DewRect *rect)
{
  self->rect = *rect;
}

const DewRect *
dew_spot_rect (DewSpot *self)
{
  return &self->rect;
}
