/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/tray.h"

#include "canvas/theme.h"
#include "widgets/either.h"
#include "widgets/names.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>

#include <math.h>

#define PICTURE_PX 40
/* Without names, on a small window. */
#define SMALL_PICTURE_PX 34
#define THRESHOLD_PX 6.0

/* In the order in which an enclosure is furnished. */
/* clang-format off */
static const DewThingKind kinds[] = {
  DEW_THING_SHELF, DEW_THING_OPENING, DEW_THING_FAN,        DEW_THING_HUMIDIFIER,
  DEW_THING_POT,   DEW_THING_TRAY,    DEW_THING_LAMP,       DEW_THING_MAT,
  DEW_THING_PLANT, DEW_THING_INSTRUMENT, DEW_THING_SOURCE,
};
/* clang-format on */

typedef struct
{
  DewDocument *document;
  DewCanvas *canvas;
  DewThingKind kind;
  gboolean carried;
} Row;

static void
draw_kind (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer user_data)
{
  DewThingKind kind = (DewThingKind) GPOINTER_TO_INT (user_data);

  dew_paint_kind (cr, kind, dew_theme_palette (), width, height);
  dew_canvas_log_place (GTK_WIDGET (area), "tray", dew_thing_kind_label (kind));
}

static void
on_clicked (GtkButton *button, gpointer user_data)
{
  Row *row = user_data;
  guint id = dew_document_add (row->document, row->kind);

  dew_canvas_focus_thing (row->canvas, id);
}

static void
on_drag_update (GtkGestureDrag *gesture, double dx, double dy, gpointer user_data)
{
  Row *row = user_data;
  GtkWidget *button = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (gesture));
  graphene_point_t here, there;
  double x, y;

  if (!row->carried && hypot (dx, dy) < THRESHOLD_PX)
    return;
  if (!row->carried)
    gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  row->carried = TRUE;
  gtk_gesture_drag_get_start_point (gesture, &x, &y);
  graphene_point_init (&here, (float) (x + dx), (float) (y + dy));
  if (gtk_widget_compute_point (button, GTK_WIDGET (row->canvas), &here, &there))
    dew_canvas_carry (row->canvas, row->kind, there.x, there.y);
}

static void
on_drag_end (GtkGestureDrag *gesture, double dx, double dy, gpointer user_data)
{
  Row *row = user_data;

  if (row->carried)
    dew_canvas_carry_end (row->canvas);
  row->carried = FALSE;
}

static void
on_drag_cancel (GtkGesture *gesture, GdkEventSequence *sequence, gpointer user_data)
{
  Row *row = user_data;

  if (row->carried)
    dew_canvas_cancel (row->canvas);
  row->carried = FALSE;
}

static GtkWidget *
row_new (DewDocument *document, DewCanvas *canvas, DewThingKind kind, gboolean named)
{
  const char *label = dew_thing_kind_label (kind);
  g_autofree char *tip
    = g_strdup_printf (_ ("%s: drag it onto the sheet, or press to add one"), label);
  GtkWidget *button = gtk_button_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  int size = named ? PICTURE_PX : SMALL_PICTURE_PX;
  GtkWidget *picture = dew_picture_new (NULL, size, size, draw_kind, GINT_TO_POINTER (kind), NULL);
  GtkGesture *drag = gtk_gesture_drag_new ();
  Row *row = g_new0 (Row, 1);

  row->document = document;
  row->canvas = canvas;
  row->kind = kind;
  g_object_set_data_full (G_OBJECT (button), "dew-row", row, g_free);

  gtk_widget_set_valign (picture, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (box), picture);
  if (named)
    {
      GtkWidget *name = gtk_label_new (label);

      gtk_label_set_xalign (GTK_LABEL (name), 0.0f);
      gtk_box_append (GTK_BOX (box), name);
    }
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_add_css_class (button, "tray-row");
  gtk_widget_set_cursor_from_name (button, "grab");
  gtk_widget_set_tooltip_text (button, tip);
  dew_name_widget (button, label);
  g_signal_connect (button, "clicked", G_CALLBACK (on_clicked), row);

  /* Before the button's own click, so that a drag is not taken for one. */
  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (drag), GTK_PHASE_CAPTURE);
  g_signal_connect (drag, "drag-update", G_CALLBACK (on_drag_update), row);
  g_signal_connect (drag, "drag-end", G_CALLBACK (on_drag_end), row);
  g_signal_connect (drag, "cancel", G_CALLBACK (on_drag_cancel), row);
  gtk_widget_add_controller (button, GTK_EVENT_CONTROLLER (drag));
  return button;
}

static GtkWidget *
column_new (DewDocument *document, DewCanvas *canvas, gboolean named)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  gtk_widget_add_css_class (column, "tray");
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    gtk_box_append (GTK_BOX (column), row_new (document, canvas, kinds[i], named));
  if (named)
    dew_add_words (GTK_BOX (column), _ ("Drag onto the sheet"), "hint");
  return dew_scroll_new (column, _ ("Things to place"));
}

GtkWidget *
dew_tray_new (DewDocument *document, DewCanvas *canvas)
{
  return dew_either_new (column_new (document, canvas, TRUE), column_new (document, canvas, FALSE));
}
