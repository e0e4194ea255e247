/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tour of the first run: one page, four things to know, each with a drawing
 * by the same hand as the sheet. */
#include "pages/start.h"

#include "canvas/theme.h"
#include "paint/sheet.h"
#include "pages/pages.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>
#include <math.h>

#define PICTURE_PX 132
#define WORDS_CHARS 34

typedef void (*DrawStep) (cairo_t *cr, const DewPalette *palette, double side);

/* --- the drawings ----------------------------------------------------------- */

static void
set_colour (cairo_t *cr, const DewColour *colour)
{
  cairo_set_source_rgb (cr, colour->r, colour->g, colour->b);
}

static void
kind_at (cairo_t *cr, DewThingKind kind, const DewPalette *palette, double x, double y, double side)
{
  cairo_save (cr);
  cairo_translate (cr, x, y);
  dew_paint_kind (cr, kind, palette, side, side);
  cairo_restore (cr);
}

/* A bay that is more humid below than above, as the sheet colours it. */
static void
colour_bay (cairo_t *cr, const DewPalette *palette, double side)
{
  cairo_pattern_t *pattern = cairo_pattern_create_linear (0, 0, 0, side);

  for (int i = 0; i <= 6; i++)
    {
      DewColour colour = dew_scale_colour (palette, DEW_VALUE_RH, 0.15 + 0.7 * i / 6.0);

      cairo_pattern_add_color_stop_rgb (pattern, i / 6.0, colour.r, colour.g, colour.b);
    }
  cairo_rectangle (cr, 6, 6, side - 12, side - 12);
  cairo_set_source (cr, pattern);
  cairo_fill (cr);
  cairo_pattern_destroy (pattern);
}

static void
outline (cairo_t *cr, const DewPalette *palette, double side)
{
  set_colour (cr, &palette->ink);
  cairo_set_line_width (cr, 1.5);
  cairo_rectangle (cr, 6, 6, side - 12, side - 12);
  cairo_stroke (cr);
}

static void
draw_things (cairo_t *cr, const DewPalette *palette, double side)
{
  outline (cr, palette, side);
  kind_at (cr, DEW_THING_FAN, palette, 10, 8, 0.36 * side);
  kind_at (cr, DEW_THING_HUMIDIFIER, palette, 0.52 * side, 0.5 * side, 0.38 * side);
  kind_at (cr, DEW_THING_POT, palette, 0.1 * side, 0.54 * side, 0.36 * side);
}

static void
draw_colours (cairo_t *cr, const DewPalette *palette, double side)
{
  colour_bay (cr, palette, side);
  outline (cr, palette, side);
  kind_at (cr, DEW_THING_FAN, palette, 0.3 * side, 0.3 * side, 0.4 * side);
}

/* A flag as the sheet has them: its tip is the place that is meant. */
static void
draw_flag (cairo_t *cr, const DewPalette *palette, double side)
{
  double left = 0.34 * side, right = side - 10, top = 0.22 * side, bottom = top + 0.26 * side;

  colour_bay (cr, palette, side);
  outline (cr, palette, side);
  cairo_move_to (cr, 0.2 * side, (top + bottom) / 2);
  cairo_line_to (cr, left, top);
  cairo_line_to (cr, right, top);
  cairo_line_to (cr, right, bottom);
  cairo_line_to (cr, left, bottom);
  cairo_close_path (cr);
  set_colour (cr, &palette->body);
  cairo_fill_preserve (cr);
  set_colour (cr, &palette->ink);
  cairo_set_line_width (cr, 1.0);
  cairo_stroke (cr);
  /* Two lines that stand for its word. */
  cairo_set_line_width (cr, 2.0);
  cairo_move_to (cr, left + 8, (top + bottom) / 2);
  cairo_line_to (cr, left + 14, (top + bottom) / 2);
  cairo_move_to (cr, left + 19, (top + bottom) / 2);
  cairo_line_to (cr, right - 8, (top + bottom) / 2);
  cairo_stroke (cr);
  kind_at (cr, DEW_THING_PLANT, palette, 0.24 * side, 0.52 * side, 0.42 * side);
}

static void
draw_question (cairo_t *cr, const DewPalette *palette, double side)
{
  outline (cr, palette, side);
  set_colour (cr, &palette->ink_soft);
  /* Places for a fan, the better the larger. */
  for (int row = 0; row < 3; row++)
    for (int column = 0; column < 3; column++)
      {
        double goodness = 1.0 - 0.3 * hypot (row - 0.6, column - 1.8);

        cairo_arc (cr, side * (0.24 + 0.26 * column), side * (0.24 + 0.26 * row),
                   MAX (side * 0.05 * goodness, 1.2), 0, 2 * G_PI);
        cairo_fill (cr);
      }
  set_colour (cr, &palette->accent);
  cairo_set_line_width (cr, 2.0);
  cairo_arc (cr, side * 0.76, side * 0.5, side * 0.09, 0, 2 * G_PI);
  cairo_stroke (cr);
}

/* --- the page ----------------------------------------------------------------- */

/* clang-format off */
static const struct
{
  DrawStep draw;
  const char *title;
  const char *words;
} steps[] = {
  { draw_things, N_("Draw what you have"),
    N_("Take shelves, flaps, fan, humidifier, pots and plants from the left. Drag them, or type "
       "their sizes on the right.") },
  { draw_colours, N_("See what the air does"),
    N_("Colours, numbers and moving streaks are the forecast. They follow while you drag. Above "
       "the drawing you choose humidity, warmth, moving air, day or night.") },
  { draw_flag, N_("Read the flags"),
    N_("Each says what is amiss in that place, why, and what would help: still air, drip, too "
       "warm by night.") },
  { draw_question, N_("Ask"),
    N_("Where should the fan blow, how much water does it take, which plant stands where, cut or "
       "not? Try the answer before you take it. Everything can be undone.") },
};
/* clang-format on */

static void
draw (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer user_data)
{
  guint step = GPOINTER_TO_UINT (user_data);

  steps[step].draw (cr, dew_theme_palette (), MIN (width, height));
}

static GtkWidget *
step_new (guint step)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 18);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *picture
    = dew_picture_new (NULL, PICTURE_PX, PICTURE_PX, draw, GUINT_TO_POINTER (step), NULL);
  GtkWidget *text = dew_paragraph_new (_ (steps[step].words), NULL);

  gtk_widget_set_valign (picture, GTK_ALIGN_START);
  gtk_label_set_width_chars (GTK_LABEL (text), WORDS_CHARS);
  gtk_label_set_max_width_chars (GTK_LABEL (text), WORDS_CHARS);
  gtk_box_append (GTK_BOX (words), dew_paragraph_new (_ (steps[step].title), "finding-title"));
  gtk_box_append (GTK_BOX (words), text);
  gtk_widget_set_valign (words, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (row), picture);
  gtk_box_append (GTK_BOX (row), words);
  return row;
}

GtkWidget *
dew_tour_page_new (void)
{
  GtkBox *column;
  GtkWidget *page = dew_page_new (_ ("What the air does among your plants"), &column);
  GtkWidget *spread = dew_side_by_side_new (G_N_ELEMENTS (steps), step_new);
  GtkWidget *ways = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *look = dew_way_new (_ ("Look at it"), "way", "win.back");

  gtk_flow_box_set_homogeneous (GTK_FLOW_BOX (spread), TRUE);
  gtk_box_append (column, spread);
  gtk_widget_add_css_class (look, "chief");
  gtk_box_append (GTK_BOX (ways), look);
  gtk_box_append (GTK_BOX (ways), dew_way_new (_ ("Draw a new one"), "way", "win.new"));
  gtk_box_append (column, ways);
  gtk_box_append (column, dew_paragraph_new (_ ("A forecast is a prediction with error: the band "
                                                "beside each number says how much."),
                                             "soft"));
  return page;
}
