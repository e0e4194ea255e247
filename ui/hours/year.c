/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The year: which weeks fall out of which plant's wishes. */
#include "hours/private.h"

#include "canvas/theme.h"
#include "document/tongue.h"
#include "paint/hours.h"
#include "say/day.h"
#include "widgets/names.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>

#define KEY "dew-hours-year"
#define LETTER_PX 13.0
#define WIDTH_PX 860
#define SIGN_PX 15

typedef struct
{
  DewYear *year;
  DewWeeks weeks;
  GtkWidget *worst, *picture, *pointed, *signs;
} Part;

static void
show_pointed (Part *self)
{
  const DewYearPlant *plant;
  g_autofree char *week = NULL, *words = NULL;

  gtk_widget_queue_draw (self->picture);
  if (self->year == NULL || self->weeks.week < 0)
    {
      gtk_label_set_text (GTK_LABEL (self->pointed), _ ("Point at a week to see why."));
      return;
    }
  plant = &g_array_index (self->year->plants, DewYearPlant, self->weeks.plant);
  week = dew_week_words (self->weeks.week);
  if (plant->why[self->weeks.week] < 0)
    words = g_strdup_printf (plant->known ? _ ("Week of %s: %s is within its wishes")
                                          : _ ("Week of %s: nothing is known of what %s wishes"),
                             week, plant->name);
  else
    {
      g_autofree char *by = dew_out_words ((DewOut) plant->why[self->weeks.week],
                                           plant->beyond[self->weeks.week], dew_tongue ());

      words = g_strdup_printf (_ ("Week of %s. %s: %s"), week, plant->name, by);
    }
  gtk_label_set_text (GTK_LABEL (self->pointed), words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->picture),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
}

static void
on_draw (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  Part *self = data;

  if (self->year == NULL)
    return;
  self->weeks.year = self->year;
  self->weeks.palette = dew_theme_palette ();
  self->weeks.font_px = LETTER_PX;
  dew_weeks_paint (cr, &self->weeks, width, height);
}

static void
on_sign (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  dew_weeks_sign (cr, dew_theme_palette (), GPOINTER_TO_INT (data), width / 2.0, height / 2.0,
                  SIGN_PX);
}

static void
on_motion (GtkEventControllerMotion *motion, double x, double y, gpointer data)
{
  Part *self = data;
  int week, plant;

  if (self->year == NULL
      || !dew_weeks_at (&self->weeks, gtk_widget_get_width (self->picture), x, y, &week, &plant))
    return;
  self->weeks.week = week;
  self->weeks.plant = plant;
  show_pointed (self);
}

static gboolean
on_key (GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state, gpointer data)
{
  Part *self = data;
  int n = self->year != NULL ? (int) self->year->plants->len : 0;

  if (n == 0)
    return FALSE;
  switch (key)
    {
    case GDK_KEY_Left:
      self->weeks.week = MAX (0, self->weeks.week - 1);
      break;
    case GDK_KEY_Right:
      self->weeks.week = MIN (DEW_WEEKS - 1, self->weeks.week + 1);
      break;
    case GDK_KEY_Up:
      self->weeks.plant = MAX (0, self->weeks.plant - 1);
      break;
    case GDK_KEY_Down:
      self->weeks.plant = MIN (n - 1, self->weeks.plant + 1);
      break;
    default:
      return FALSE;
    }
  self->weeks.week = MAX (0, self->weeks.week);
  self->weeks.plant = MAX (0, self->weeks.plant);
  show_pointed (self);
  return TRUE;
}

void
dew_hours_year_show (GtkWidget *part, const DewChamber *chamber, DewYear *year)
{
  Part *self = g_object_get_data (G_OBJECT (part), KEY);
  g_autofree char *worst = NULL;

  g_clear_pointer (&self->year, dew_year_free);
  self->year = year;
  gtk_widget_set_visible (part, year != NULL);
  if (year == NULL)
    return;
  worst = dew_year_worst_words (year, dew_tongue ());
  gtk_label_set_text (GTK_LABEL (self->worst), worst);
  gtk_widget_set_size_request (self->picture, WIDTH_PX, (int) dew_weeks_height (year, LETTER_PX));
  self->weeks.week = year->worst_week;
  self->weeks.plant = year->worst_plant;
  show_pointed (self);
}

static void
part_free (gpointer data)
{
  Part *self = data;

  g_clear_pointer (&self->year, dew_year_free);
  g_free (self);
}

static GtkWidget *
signs_new (void)
{
  GtkWidget *signs = gtk_flow_box_new ();

  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (signs), GTK_SELECTION_NONE);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (signs), DEW_N_OUTS);
  gtk_widget_set_can_focus (signs, FALSE);
  for (int o = 0; o < DEW_N_OUTS; o++)
    {
      GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4);
      GtkWidget *label = gtk_label_new (dew_out_word ((DewOut) o));

      gtk_widget_add_css_class (label, "soft");
      gtk_box_append (GTK_BOX (box),
                      dew_picture_new (NULL, SIGN_PX, SIGN_PX, on_sign, GINT_TO_POINTER (o), NULL));
      gtk_box_append (GTK_BOX (box), label);
      gtk_flow_box_insert (GTK_FLOW_BOX (signs), box, -1);
    }
  return signs;
}

GtkWidget *
dew_hours_year_new (DewDocument *document)
{
  Part *self = g_new0 (Part, 1);
  GtkWidget *part = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  GtkEventController *motion = gtk_event_controller_motion_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->weeks.week = self->weeks.plant = -1;
  g_object_set_data_full (G_OBJECT (part), KEY, self, part_free);
  self->worst = dew_words_new ("", "chief");
  self->pointed = dew_words_new ("", NULL);
  self->picture = dew_picture_new (_ ("The weeks of the year"), 0, 0, on_draw, self, NULL);
  gtk_widget_set_focusable (self->picture, TRUE);
  g_signal_connect (motion, "motion", G_CALLBACK (on_motion), self);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (self->picture, motion);
  gtk_widget_add_controller (self->picture, keys);
  gtk_box_append (GTK_BOX (part), self->worst);
  gtk_box_append (GTK_BOX (part), self->picture);
  gtk_box_append (GTK_BOX (part), self->pointed);
  gtk_box_append (GTK_BOX (part), signs_new ());
  gtk_box_append (
    GTK_BOX (part),
    dew_words_new (_ ("A typical day of each month, by the room’s months; weeks "
                      "between them lie between. A plant counts as outside where it "
                      "is so for an hour of the day at least; the larger the sign, the "
                      "farther."),
                   "foot"));
  return part;
}
