/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The day: strips over a line of time, and the drawing as it is then. */
#include "hours/private.h"

#include "canvas/theme.h"
#include "compare/glance.h"
#include "document/tongue.h"
#include "paint/hours.h"
#include "say/day.h"
#include "widgets/names.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>
#include <math.h>

#define KEY "dew-hours-day"
#define LETTER_PX 13.0
#define GLANCE_WIDTH_PX 300
#define STRIPS_WIDTH_PX 560
#define START_H 12.0
#define PLAY_MS 60
#define PLAY_S 900.0 /* of the day, in each such moment */
#define NUDGE_S 600.0

typedef struct
{
  DewDocument *document;
  const DewChamber *chamber;
  DewDay *day;
  DewHours hours;
  guint playing;
  GtkWidget *strips, *glance, *when, *plants, *budget, *foot, *play, *humid, *warm;
} Part;

/* --- showing ----------------------------------------------------------------------------- */

static void
show_glance (Part *self)
{
  DewGlance glance = { NULL };
  DewTongue tongue = dew_tongue ();

  if (self->day != NULL)
    {
      glance.chamber = dew_chamber_copy (self->chamber);
      glance.day = dew_day_picture (self->day, self->hours.time_s);
      glance.night = dew_forecast_ref (glance.day);
      for (int v = 0; v < DEW_N_VALUES; v++)
        glance.range[v] = dew_range_choose ((DewValue) v, tongue, self->chamber);
    }
  dew_glance_show (self->glance, &glance);
}

static void
show_time (Part *self)
{
  g_autofree char *clock = NULL, *t = NULL, *rh = NULL, *words = NULL;
  DewTongue tongue = dew_tongue ();

  if (self->day == NULL)
    return;
  clock = dew_clock_words (dew_routine_clock_h (self->day->clock, self->hours.time_s));
  t = dew_measure_text (DEW_MEASURE_TEMPERATURE, tongue,
                        dew_day_at (self->day, self->day->room_t_C, self->hours.time_s));
  rh = dew_measure_text (DEW_MEASURE_SHARE, tongue,
                         dew_day_at (self->day, self->day->room_rh, self->hours.time_s));
  /* Translators: a clock time, then temperature and humidity of the room */
  words = g_strdup_printf (_ ("At %s; room %s, %s"), clock, t, rh);
  gtk_label_set_text (GTK_LABEL (self->when), words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->strips),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
  gtk_widget_queue_draw (self->strips);
  show_glance (self);
}

static void
go_to (Part *self, double time_s)
{
  double end = self->day != NULL ? self->day->time_s[self->day->n - 1] : 0.0;

  self->hours.time_s = CLAMP (time_s, 0.0, end);
  show_time (self);
}

static void
show_plants (Part *self)
{
  dew_empty (self->plants);
  for (guint n = 0; n < self->day->plants->len; n++)
    {
      const DewDayPlant *plant = &g_array_index (self->day->plants, DewDayPlant, n);
      g_autofree char *by = NULL, *words = NULL;
      DewPlantWish wish;
      DewOutHours out;
      int worst;

      if (!dew_catalogue_plant_wish (plant->species, &wish, (gpointer) self->chamber))
        continue;
      dew_day_judge (self->day, plant, &wish, &out);
      worst = dew_out_worst (&out);
      if (worst < 0)
        continue;
      by = dew_out_words ((DewOut) worst, out.beyond[worst], dew_tongue ());
      /* Translators: a plant, "2.1 °C too warm by night", for how many hours */
      words
        = g_strdup_printf (_ ("%s: %s for %.0f h"), plant->name, by, MAX (1.0, out.hours[worst]));
      dew_add_words (GTK_BOX (self->plants), words, NULL);
    }
  if (gtk_widget_get_first_child (self->plants) == NULL)
    dew_add_words (GTK_BOX (self->plants), _ ("All plants are within their wishes all day."), NULL);
}

static void
show_budget (Part *self)
{
  DewRoomBudget budget;
  g_auto (GStrv) lines = NULL;

  dew_empty (self->budget);
  dew_budget_find (self->chamber, 0, self->day, &budget);
  lines = dew_budget_lines (self->day, &budget, self->chamber, dew_tongue ());
  for (int n = 0; lines[n] != NULL; n += 2)
    {
      GtkWidget *name = dew_words_new (lines[n], "soft"),
                *value = dew_words_new (lines[n + 1], NULL);

      gtk_widget_add_css_class (value, "figure");
      gtk_widget_set_hexpand (value, TRUE);
      gtk_grid_attach (GTK_GRID (self->budget), name, 0, n / 2, 1, 1);
      gtk_grid_attach (GTK_GRID (self->budget), value, 1, n / 2, 1, 1);
    }
}

void
dew_hours_day_show (GtkWidget *part, const DewChamber *chamber, DewDay *day)
{
  Part *self = g_object_get_data (G_OBJECT (part), KEY);
  g_autofree char *foot = NULL;

  g_clear_pointer (&self->day, dew_day_unref);
  self->day = day;
  self->chamber = chamber;
  gtk_widget_set_visible (part, day != NULL);
  if (day == NULL)
    return;
  gtk_widget_set_size_request (self->strips, STRIPS_WIDTH_PX,
                               (int) dew_hours_height (day->n_bays, LETTER_PX));
  gtk_widget_set_size_request (self->glance, GLANCE_WIDTH_PX,
                               (int) dew_hours_height (day->n_bays, LETTER_PX));
  show_plants (self);
  show_budget (self);
  foot = g_strdup_printf (
    /* Translators: how far, in K */
    _ ("The air is that of the steady day and the steady night; the bays’ warmth strays from them "
       "by up to %.1f K. What runs off the cover and mist that falls are gone."),
    day->off_K);
  gtk_label_set_text (GTK_LABEL (self->foot), foot);
  go_to (self, self->hours.time_s);
}

static void
on_draw (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  Part *self = data;

  if (self->day == NULL)
    return;
  self->hours.day = self->day;
  self->hours.chamber = self->chamber;
  self->hours.tongue = dew_tongue ();
  self->hours.palette = dew_theme_palette ();
  self->hours.font_px = LETTER_PX;
  self->hours.sure = dew_document_forecast (self->document);
  dew_hours_paint (cr, &self->hours, width, height);
}

/* --- moving in time -------------------------------------------------------------------------- */

static void
stop (Part *self)
{
  g_clear_handle_id (&self->playing, g_source_remove);
  gtk_button_set_label (GTK_BUTTON (self->play), _ ("Play the day"));
}

static gboolean
on_moment (gpointer data)
{
  Part *self = data;

  if (self->day == NULL || self->hours.time_s >= self->day->time_s[self->day->n - 1])
    {
      self->playing = 0;
      stop (self);
      return G_SOURCE_REMOVE;
    }
  go_to (self, self->hours.time_s + PLAY_S);
  return G_SOURCE_CONTINUE;
}

static void
on_play (Part *self)
{
  if (self->playing != 0)
    {
      stop (self);
      return;
    }
  if (self->day != NULL && self->hours.time_s >= self->day->time_s[self->day->n - 1] - 1.0)
    go_to (self, 0.0);
  self->playing = g_timeout_add (PLAY_MS, on_moment, self);
  gtk_button_set_label (GTK_BUTTON (self->play), _ ("Stop"));
}

static void
point_at (Part *self, double x)
{
  if (self->day == NULL)
    return;
  stop (self);
  go_to (self, dew_hours_time_at (&self->hours, gtk_widget_get_width (self->strips), x));
}

static void
on_begin (GtkGestureDrag *gesture, double x, double y, gpointer data)
{
  Part *self = data;

  gtk_widget_grab_focus (self->strips);
  point_at (self, x);
}

static void
on_drag (GtkGestureDrag *gesture, double dx, double dy, gpointer data)
{
  double x, y;

  if (gtk_gesture_drag_get_start_point (gesture, &x, &y))
    point_at (data, x + dx);
}

static gboolean
on_key (GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state, gpointer data)
{
  Part *self = data;
  double by = (state & GDK_SHIFT_MASK) != 0 ? 6.0 * NUDGE_S : NUDGE_S;

  if (self->day == NULL || (key != GDK_KEY_Left && key != GDK_KEY_Right))
    return FALSE;
  stop (self);
  go_to (self, self->hours.time_s + (key == GDK_KEY_Left ? -by : by));
  return TRUE;
}

static void
on_value (Part *self)
{
  gboolean warm = gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->warm));

  self->hours.value = warm ? DEW_VALUE_TEMPERATURE : DEW_VALUE_RH;
  dew_document_colour_by (self->document, self->hours.value);
  gtk_widget_queue_draw (self->strips);
}

/* --- building -------------------------------------------------------------------------------- */

static void
part_free (gpointer data)
{
  Part *self = data;

  g_clear_handle_id (&self->playing, g_source_remove);
  g_clear_pointer (&self->day, dew_day_unref);
  g_free (self);
}

static GtkWidget *
choice_new (Part *self, const char *label, GtkWidget *group)
{
  GtkWidget *button = gtk_toggle_button_new_with_label (label);

  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_add_css_class (button, "choice");
  if (group != NULL)
    gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (button), GTK_TOGGLE_BUTTON (group));
  return button;
}

static GtkWidget *
bar_new (Part *self)
{
  GtkWidget *bar = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4);

  self->humid = choice_new (self, _ ("Humidity"), NULL);
  self->warm = choice_new (self, _ ("Warmth"), self->humid);
  self->play = dew_way_new (_ ("Play the day"), "way", NULL);
  gtk_widget_set_margin_start (self->play, 18);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->humid), TRUE);
  g_signal_connect_swapped (self->warm, "toggled", G_CALLBACK (on_value), self);
  g_signal_connect_swapped (self->play, "clicked", G_CALLBACK (on_play), self);
  gtk_box_append (GTK_BOX (bar), self->humid);
  gtk_box_append (GTK_BOX (bar), self->warm);
  gtk_box_append (GTK_BOX (bar), self->play);
  return bar;
}

static GtkWidget *
strips_new (Part *self)
{
  GtkWidget *strips = dew_picture_new (_ ("The day by the hour"), 0, 0, on_draw, self, NULL);
  GtkGesture *drag = gtk_gesture_drag_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_widget_set_focusable (strips, TRUE);
  gtk_widget_set_hexpand (strips, TRUE);
  g_signal_connect (drag, "drag-begin", G_CALLBACK (on_begin), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (on_drag), self);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (strips, GTK_EVENT_CONTROLLER (drag));
  gtk_widget_add_controller (strips, keys);
  return strips;
}

GtkWidget *
dew_hours_day_new (DewDocument *document)
{
  Part *self = g_new0 (Part, 1);
  GtkWidget *part = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 24);

  self->document = document;
  self->hours.value = DEW_VALUE_RH;
  self->hours.time_s = START_H * 3600.0;
  g_object_set_data_full (G_OBJECT (part), KEY, self, part_free);
  self->glance = dew_glance_new (document, FALSE);
  gtk_widget_set_hexpand (self->glance, FALSE);
  self->strips = strips_new (self);
  self->when = dew_words_new ("", "chief");
  self->plants = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  self->budget = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (self->budget), 24);
  gtk_grid_set_row_spacing (GTK_GRID (self->budget), 2);
  self->foot = dew_words_new ("", "foot");
  gtk_box_append (GTK_BOX (row), self->glance);
  gtk_box_append (GTK_BOX (row), self->strips);
  gtk_box_append (GTK_BOX (part), bar_new (self));
  gtk_box_append (GTK_BOX (part), self->when);
  gtk_box_append (GTK_BOX (part), row);
  gtk_box_append (GTK_BOX (part),
                  dew_words_new (_ ("Line: mean of ten minutes; about it, how far the humidistat "
                                    "lets it sway. Dotted: the room. Grey: what the plants there "
                                    "want. The line of time is thick by day."),
                                 "heading-soft"));
  gtk_box_append (GTK_BOX (part), dew_words_new (_ ("Outside their wishes"), "group-title"));
  gtk_box_append (GTK_BOX (part), self->plants);
  gtk_box_append (GTK_BOX (part), dew_words_new (_ ("Water, power and the room"), "group-title"));
  gtk_box_append (GTK_BOX (part), self->budget);
  gtk_box_append (GTK_BOX (part), self->foot);
  return part;
}
