/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mishaps: how long there is, and what helps. */
#include "hours/private.h"

#include "canvas/theme.h"
#include "paint/hours.h"
#include "say/day.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>

#define KEY "dew-hours-mishaps"
#define LETTER_PX 13.0
#define WIDTH_PX 820

typedef struct
{
  DewMishaps *mishaps;
  GtkWidget *list;
} Part;

/* The same for who cannot see the picture. */
static char *
all_words (const DewMishap *m)
{
  GString *words = g_string_new (NULL);

  for (guint n = 0; n < m->plants->len; n++)
    {
      const DewMishapPlant *plant = &g_array_index (m->plants, DewMishapPlant, n);
      g_autofree char *after = dew_span_words (plant->after_s);

      if (plant->crossed)
        g_string_append_printf (words,
                                /* Translators: a plant, "too dry", how long it takes */
                                _ ("%s%s %s after %s"), words->len > 0 ? "; " : "", plant->name,
                                dew_out_word (plant->why), after);
    }
  return g_string_free (words, FALSE);
}

static void
on_draw (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  DewTimeLeft left = { data, dew_theme_palette (), LETTER_PX };

  dew_time_left_paint (cr, &left, width, height);
}

static void
add_picture (GtkBox *box, const DewMishap *m)
{
  g_autofree char *words = all_words (m);
  GtkWidget *picture = dew_picture_new (words, WIDTH_PX, (int) dew_time_left_height (m, LETTER_PX),
                                        on_draw, (gpointer) m, NULL);

  gtk_widget_set_halign (picture, GTK_ALIGN_START);
  gtk_box_append (box, picture);
}

static void
add_mishap (Part *self, const DewMishap *m, gboolean cold)
{
  GtkBox *box = GTK_BOX (gtk_box_new (GTK_ORIENTATION_VERTICAL, 2));
  g_autofree char *first = dew_mishap_first (m), *clock = dew_clock_words (m->from_h);

  dew_add_words (box, dew_mishap_title (m->kind), "group-title");
  dew_add_words (box, dew_mishap_words (m->kind), "soft");
  if (m->possible)
    {
      g_autofree char *from
        /* Translators: what happens first, a clock time */
        = m->first >= 0 ? g_strdup_printf (_ ("%s, if it begins at %s"), first, clock)
                        : g_strdup (first);

      dew_add_words (box, from, "finding-title");
      if (m->first >= 0)
        add_picture (box, m);
      dew_add_words (box, dew_mishap_help (m->kind, cold), "remedy");
    }
  else
    dew_add_words (box, first, NULL);
  gtk_box_append (GTK_BOX (self->list), GTK_WIDGET (box));
}

void
dew_hours_mishaps_show (GtkWidget *part, const DewChamber *chamber, DewMishaps *mishaps)
{
  Part *self = g_object_get_data (G_OBJECT (part), KEY);

  dew_empty (self->list);
  g_clear_pointer (&self->mishaps, dew_mishaps_free);
  self->mishaps = mishaps;
  gtk_widget_set_visible (part, mishaps != NULL);
  for (int k = 0; mishaps != NULL && k < DEW_N_MISHAPS; k++)
    add_mishap (self, &mishaps->mishaps[k],
                chamber->room.months[CLAMP (chamber->month, 0, 11)].t_night_C < DEW_COLD_ROOM_C);
}

static void
part_free (gpointer data)
{
  Part *self = data;

  g_clear_pointer (&self->mishaps, dew_mishaps_free);
  g_free (self);
}

/* What to have tried before it is needed. */
static GtkWidget *
drill_new (void)
{
  static const char *const drill[] = {
    N_ ("Pull the humidifier’s plug, put it in again: does it run by itself, or does it sleep?"),
    N_ ("The same with the lamps’ timer: does it keep its time?"),
    N_ ("Know which flap you open against heat, and which you close against drought."),
    N_ ("A full jug, a spare fan and two frozen bottles stand where whoever waters for you finds "
        "them, with this page."),
    N_ ("Test the residual current device by its button. Nothing here stands for life safety: "
        "mains beside water is for those licensed to do it."),
  };
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  gtk_box_append (GTK_BOX (box), dew_words_new (_ ("Try before you need it"), "group-title"));
  for (guint n = 0; n < G_N_ELEMENTS (drill); n++)
    dew_add_words (GTK_BOX (box), _ (drill[n]), NULL);
  return box;
}

GtkWidget *
dew_hours_mishaps_new (DewDocument *document)
{
  Part *self = g_new0 (Part, 1);
  GtkWidget *part = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  g_object_set_data_full (G_OBJECT (part), KEY, self, part_free);
  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (part), self->list);
  gtk_box_append (GTK_BOX (part), drill_new ());
  gtk_box_append (GTK_BOX (part),
                  dew_words_new (_ (
                                   "Of morning and evening the worse is told, in the month that is "
                                   "chosen. What the usual day crosses already counts only when it "
                                   "gets worse."),
                                 "foot"));
  return part;
}
