/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "widgets/card.h"

#include "canvas/theme.h"
#include "paint/sheet.h"
#include "widgets/names.h"
#include "widgets/parts.h"

/* Of the drawing, in px. */
#define WIDTH_PX 150
#define HEIGHT_PX 168
/* Round the enclosure: flaps lift into it, and what stands on the roof. */
#define AIR_PX 16
#define FLOOR_PX 8 /* under the ground line */
#define MOST_SCALE_PX_M 220.0
#define WORDS_CHARS 18

typedef struct
{
  DewChamber *chamber;
  double scale_px_m;
  GtkWidget *picture;
  GtkWidget *words;
} Card;

#define CARD_KEY "dew-card"

static void
card_free (gpointer data)
{
  Card *self = data;

  g_clear_pointer (&self->chamber, dew_chamber_free);
  g_free (self);
}

static Card *
card_of (GtkWidget *widget)
{
  return g_object_get_data (G_OBJECT (widget), CARD_KEY);
}

/* The ground runs through from card to card, so that the row is one drawing. */
static void
draw (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer user_data)
{
  Card *self = user_data;
  const DewPalette *palette = dew_theme_palette ();
  double floor = height - FLOOR_PX;

  if (self->chamber != NULL)
    dew_paint_front (cr, self->chamber, palette, self->scale_px_m, width / 2.0, floor);
  cairo_set_source_rgb (cr, palette->ink.r, palette->ink.g, palette->ink.b);
  cairo_set_line_width (cr, 0.75);
  cairo_move_to (cr, 0, floor + 1.5);
  cairo_line_to (cr, width, floor + 1.5);
  cairo_stroke (cr);
}

static GtkWidget *
line_new (const char *text, const char *css_class)
{
  GtkWidget *label = dew_words_new (text, css_class);

  gtk_label_set_xalign (GTK_LABEL (label), 0.5f);
  gtk_label_set_justify (GTK_LABEL (label), GTK_JUSTIFY_CENTER);
  gtk_label_set_max_width_chars (GTK_LABEL (label), WORDS_CHARS);
  return label;
}

GtkWidget *
dew_card_new (const char *name)
{
  GtkWidget *child = gtk_flow_box_child_new ();
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  Card *self = g_new0 (Card, 1);

  self->scale_px_m = MOST_SCALE_PX_M;
  self->picture = dew_picture_new (NULL, WIDTH_PX, HEIGHT_PX, draw, self, NULL);
  self->words = line_new ("", "soft");
  gtk_box_append (GTK_BOX (column), self->picture);
  gtk_box_append (GTK_BOX (column), line_new (name, "card-name"));
  gtk_box_append (GTK_BOX (column), self->words);
  gtk_flow_box_child_set_child (GTK_FLOW_BOX_CHILD (child), column);
  gtk_widget_add_css_class (child, "card-place");
  gtk_widget_set_valign (child, GTK_ALIGN_START);
  dew_name_widget (child, name);
  g_object_set_data_full (G_OBJECT (child), CARD_KEY, self, card_free);
  return child;
}

void
dew_card_set_chamber (GtkWidget *card, const DewChamber *chamber)
{
  Card *self = card_of (card);

  g_return_if_fail (self != NULL);

  g_clear_pointer (&self->chamber, dew_chamber_free);
  if (chamber != NULL)
    self->chamber = dew_chamber_copy (chamber);
  gtk_widget_queue_draw (self->picture);
}

void
dew_card_set_words (GtkWidget *card, const char *words)
{
  Card *self = card_of (card);

  g_return_if_fail (self != NULL);

  gtk_label_set_text (GTK_LABEL (self->words), words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (card), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words,
                                  -1);
}

void
dew_cards_fit (GtkFlowBox *cards)
{
  double scale_px_m = MOST_SCALE_PX_M;
  GtkFlowBoxChild *child;

  for (int i = 0; (child = gtk_flow_box_get_child_at_index (cards, i)) != NULL; i++)
    {
      const Card *self = card_of (GTK_WIDGET (child));

      if (self == NULL || self->chamber == NULL)
        continue;
      scale_px_m = MIN (scale_px_m, (WIDTH_PX - 2 * AIR_PX) / self->chamber->outer_m[0]);
      scale_px_m = MIN (scale_px_m, (HEIGHT_PX - AIR_PX - FLOOR_PX) / self->chamber->outer_m[2]);
    }
  for (int i = 0; (child = gtk_flow_box_get_child_at_index (cards, i)) != NULL; i++)
    {
      Card *self = card_of (GTK_WIDGET (child));

      if (self == NULL)
        continue;
      self->scale_px_m = scale_px_m;
      gtk_widget_queue_draw (self->picture);
    }
}
