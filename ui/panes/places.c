/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/places.h"

#include "canvas/theme.h"
#include "document/tongue.h"
#include "forecast/probe.h"
#include "geometry/geometry.h"
#include "paint/sheet.h"
#include "say/findings.h"
#include "say/where.h"
#include "widgets/names.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>

#include <math.h>
#include <string.h>

#define CELL_HEIGHT_PX 34
#define MARK_PX 4.5
#define VERDICT_PX 14

typedef struct
{
  DewDocument *document; /* lent: lives as long as the widgets */
  int bay;
  int chosen; /* place whose numbers are shown, or -1: the worst */
  int columns, rows;
  DewRange range;
  DewValue ranged; /* what `range` is of */
  GtkWidget *worst;
  GtkWidget *grid;
  GtkWidget *where, *numbers, *stands;
  gboolean filling;
} Places;

#define PLACES_KEY "dew-places"
#define INDEX_KEY "dew-index"

/* --- a verdict ------------------------------------------------------------ */

static void
draw_verdict (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer user_data)
{
  DewVerdict verdict
    = (DewVerdict) GPOINTER_TO_INT (g_object_get_data (G_OBJECT (area), INDEX_KEY));

  dew_paint_verdict (cr, dew_theme_palette (), verdict, width / 2.0, height / 2.0, MARK_PX);
}

GtkWidget *
dew_verdict_new (void)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 2);
  GtkWidget *mark = gtk_drawing_area_new ();
  GtkWidget *word = gtk_label_new (NULL);

  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (mark), VERDICT_PX);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (mark), VERDICT_PX);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (mark), draw_verdict, NULL, NULL);
  gtk_widget_set_valign (mark, GTK_ALIGN_CENTER);
  dew_theme_connect (G_OBJECT (mark), G_CALLBACK (gtk_widget_queue_draw));
  gtk_label_set_xalign (GTK_LABEL (word), 0.0f);
  gtk_widget_add_css_class (word, "band");
  gtk_box_append (GTK_BOX (box), mark);
  gtk_box_append (GTK_BOX (box), word);
  return box;
}

void
dew_verdict_show (GtkWidget *verdict, DewVerdict value)
{
  GtkWidget *mark = gtk_widget_get_first_child (verdict);
  GtkWidget *word = gtk_widget_get_last_child (verdict);

  g_object_set_data (G_OBJECT (mark), INDEX_KEY, GINT_TO_POINTER ((int) value));
  gtk_widget_queue_draw (mark);
  gtk_label_set_text (GTK_LABEL (word), dew_verdict_word (value));
  if (value == DEW_VERDICT_ACT)
    gtk_widget_add_css_class (word, "act-word");
  else
    gtk_widget_remove_css_class (word, "act-word");
}

/* --- words ------------------------------------------------------------------ */

static char *
where_of (const DewForecast *forecast, const DewPlace *place)
{
  const double at_m[3] = { (place->lo_m[0] + place->hi_m[0]) / 2.0,
                           (place->lo_m[1] + place->hi_m[1]) / 2.0, place->lo_m[2] };

  return g_strdup (dew_forecast_spot (forecast, at_m));
}

/* Names of what has its middle over the place, or NULL. */
static char *
stands_there (Places *self, const DewForecast *forecast, const DewPlace *place)
{
  const DewVariant *variant = dew_document_variant (self->document);
  g_autoptr (GString) names = g_string_new (NULL);

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      double lo[3], hi[3], x_m, y_m;

      if (thing->kind == DEW_THING_SHELF || thing->kind == DEW_THING_OPENING)
        continue;
      dew_thing_box (dew_document_chamber (self->document), thing, lo, hi);
      x_m = (lo[0] + hi[0]) / 2.0;
      y_m = (lo[1] + hi[1]) / 2.0;
      if (dew_forecast_bay_at (forecast, lo[2]) != place->bay || x_m < place->lo_m[0]
          || x_m >= place->hi_m[0] || y_m < place->lo_m[1] || y_m >= place->hi_m[1])
        continue;
      g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", thing->name);
    }
  return names->len > 0 ? g_string_free (g_steal_pointer (&names), FALSE) : NULL;
}

static void
fill_details (Places *self, const DewForecast *forecast)
{
  static const DewValue values[] = { DEW_VALUE_RH,    DEW_VALUE_TEMPERATURE, DEW_VALUE_VPD,
                                     DEW_VALUE_SPEED, DEW_VALUE_AGE,         DEW_VALUE_PPFD };
  int shown = self->chosen >= 0 ? self->chosen : dew_bay_worst_place (forecast, self->bay);
  g_autoptr (GString) numbers = g_string_new (NULL);
  g_autofree char *where = NULL, *head = NULL, *names = NULL, *stands = NULL;
  const DewPlace *place;

  gtk_widget_set_visible (self->where, shown >= 0);
  gtk_widget_set_visible (self->numbers, shown >= 0);
  gtk_widget_set_visible (self->stands, shown >= 0);
  if (shown < 0)
    return;
  place = &forecast->places[shown];
  where = where_of (forecast, place);
  /* Translators: where a place is, and what was found there: "Left back, still". */
  head = place->severity > 0
           ? g_strdup_printf (_ ("%s, %s"), where, dew_finding_kind_word (place->worst))
           : g_steal_pointer (&where);
  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    {
      g_autofree char *words = dew_climate_text (&place->mean, values[i], dew_tongue ());

      g_string_append_printf (numbers, "%s%s", i > 0 ? "  ·  " : "", words);
    }
  names = stands_there (self, forecast, place);
  stands = names != NULL ? g_strdup_printf (_ ("Here: %s"), names) : g_strdup (_ ("Empty place"));
  gtk_label_set_text (GTK_LABEL (self->where), head);
  gtk_label_set_text (GTK_LABEL (self->numbers), numbers->str);
  gtk_label_set_text (GTK_LABEL (self->stands), stands);
}

/* --- the map ------------------------------------------------------------------ */

/* The place of a cell, or NULL while the forecast has another grid. */
static const DewPlace *
place_of (Places *self, GtkWidget *cell, int *index)
{
  const DewForecast *forecast = dew_document_forecast (self->document);
  int which = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (cell), INDEX_KEY));

  for (int i = 0; forecast != NULL && i < forecast->n_places; i++)
    {
      const DewPlace *place = &forecast->places[i];

      if (place->bay != self->bay || place->row * self->columns + place->column != which)
        continue;
      *index = i;
      return place;
    }
  return NULL;
}

static void
draw_cell (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer user_data)
{
  Places *self = user_data;
  GtkWidget *cell = gtk_widget_get_parent (GTK_WIDGET (area));
  const DewPalette *palette = dew_theme_palette ();
  DewValue value = dew_document_coloured (self->document);
  g_autoptr (PangoLayout) layout = NULL;
  g_autofree char *text = NULL;
  DewColour colour;
  const DewPlace *place;
  double x;
  int index, text_width, text_height;

  place = place_of (self, cell, &index);
  if (place == NULL)
    return;
  x = dew_climate_value (&place->mean, value, NULL);
  colour = dew_scale_colour (palette, value, dew_range_fraction (&self->range, x));
  cairo_set_source_rgb (cr, colour.r, colour.g, colour.b);
  cairo_paint (cr);
  /* The unit is in the head of the table; ages carry their own. */
  text = value == DEW_VALUE_AGE ? dew_value_text (value, x, dew_tongue ())
                                : g_strdup (dew_value_figure (value, x, dew_tongue ()).number);
  layout = gtk_widget_create_pango_layout (GTK_WIDGET (area), text);
  pango_layout_get_pixel_size (layout, &text_width, &text_height);
  cairo_set_source_rgb (cr, palette->ink.r, palette->ink.g, palette->ink.b);
  cairo_move_to (cr, round ((width - text_width) / 2.0), round ((height - text_height) / 2.0));
  pango_cairo_show_layout (cr, layout);
  if (dew_place_verdict (dew_document_forecast (self->document), index) != DEW_VERDICT_FINE)
    dew_paint_verdict (cr, palette,
                       dew_place_verdict (dew_document_forecast (self->document), index),
                       width - 9.0, 9.0, MARK_PX);
}

static void
on_toggled (GtkToggleButton *cell, gpointer user_data)
{
  Places *self = user_data;
  const DewForecast *forecast = dew_document_forecast (self->document);
  int index;

  if (self->filling || forecast == NULL || place_of (self, GTK_WIDGET (cell), &index) == NULL)
    return;
  self->chosen = gtk_toggle_button_get_active (cell) ? index : -1;
  self->filling = TRUE;
  for (GtkWidget *other = gtk_widget_get_first_child (self->grid); other != NULL;
       other = gtk_widget_get_next_sibling (other))
    {
      if (other != GTK_WIDGET (cell))
        gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (other), FALSE);
    }
  self->filling = FALSE;
  fill_details (self, forecast);
}

static void
build_grid (Places *self, int columns, int rows)
{
  dew_empty (self->grid);
  self->columns = columns;
  self->rows = rows;
  self->chosen = -1;
  for (int row = rows - 1; row >= 0; row--)
    {
      for (int column = 0; column < columns; column++)
        {
          GtkWidget *cell = gtk_toggle_button_new ();
          GtkWidget *area = dew_picture_new (NULL, 0, CELL_HEIGHT_PX, draw_cell, self, NULL);

          gtk_button_set_child (GTK_BUTTON (cell), area);
          gtk_button_set_has_frame (GTK_BUTTON (cell), FALSE);
          gtk_widget_add_css_class (cell, "place");
          gtk_widget_set_hexpand (cell, TRUE);
          g_object_set_data (G_OBJECT (cell), INDEX_KEY, GINT_TO_POINTER (row * columns + column));
          g_signal_connect (cell, "toggled", G_CALLBACK (on_toggled), self);
          /* As the plan: the back is up. */
          gtk_grid_attach (GTK_GRID (self->grid), cell, column, rows - 1 - row, 1, 1);
        }
    }
}

static void
name_cells (Places *self, const DewForecast *forecast)
{
  DewValue value = dew_document_coloured (self->document);

  for (GtkWidget *cell = gtk_widget_get_first_child (self->grid); cell != NULL;
       cell = gtk_widget_get_next_sibling (cell))
    {
      int index;
      const DewPlace *place = place_of (self, cell, &index);
      g_autofree char *where = NULL, *words = NULL, *spoken = NULL;

      if (place == NULL)
        continue;
      where = where_of (forecast, place);
      words = dew_climate_text (&place->mean, value, dew_tongue ());
      /* Translators: a place for ears: where it is, its value, its verdict. */
      spoken = g_strdup_printf (_ ("%s: %s, %s"), where, words,
                                dew_verdict_word (dew_place_verdict (forecast, index)));
      dew_name_widget (cell, spoken);
      gtk_widget_queue_draw (gtk_button_get_child (GTK_BUTTON (cell)));
    }
}

/* --- whole ---------------------------------------------------------------------- */

void
dew_places_fill (GtkWidget *widget, int bay)
{
  Places *self = g_object_get_data (G_OBJECT (widget), PLACES_KEY);
  const DewForecast *forecast = dew_document_forecast (self->document);
  DewValue value = dew_document_coloured (self->document);
  int columns = 0, rows = 0, worst;
  g_autofree char *text = NULL;

  if (forecast == NULL || bay < 0 || bay >= forecast->n_bays)
    return;
  for (int i = 0; i < forecast->n_places; i++)
    {
      columns = MAX (columns, forecast->places[i].column + 1);
      rows = MAX (rows, forecast->places[i].row + 1);
    }
  self->filling = TRUE;
  if (bay != self->bay || columns != self->columns || rows != self->rows)
    {
      self->bay = bay;
      build_grid (self, columns, rows);
    }
  self->filling = FALSE;
  if (value != self->ranged)
    self->range = (DewRange){ 0 };
  self->ranged = value;
  dew_range_follow_forecast (&self->range, value, dew_tongue (), forecast);
  worst = dew_bay_worst_place (forecast, bay);
  text = worst >= 0 ? g_strdup (_ ("From above, the back is up. The worst place:"))
                    : g_strdup (_ ("From above, the back is up. Every place is fine."));
  gtk_label_set_text (GTK_LABEL (self->worst),
                      self->chosen >= 0 ? _ ("From above, the back is up.") : text);
  name_cells (self, forecast);
  fill_details (self, forecast);
}

GtkWidget *
dew_places_new (DewDocument *document)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  Places *self = g_new0 (Places, 1);

  self->document = document;
  self->bay = -1;
  self->chosen = -1;
  g_object_set_data_full (G_OBJECT (column), PLACES_KEY, self, g_free);
  gtk_widget_add_css_class (column, "places");
  self->grid = gtk_grid_new ();
  gtk_grid_set_column_homogeneous (GTK_GRID (self->grid), TRUE);
  gtk_grid_set_column_spacing (GTK_GRID (self->grid), 1);
  gtk_grid_set_row_spacing (GTK_GRID (self->grid), 1);
  self->worst = dew_words_new (NULL, "soft");
  self->where = dew_words_new (NULL, "finding-title");
  self->numbers = dew_words_new (NULL, "figure");
  self->stands = dew_words_new (NULL, "soft");
  gtk_box_append (GTK_BOX (column), self->grid);
  gtk_box_append (GTK_BOX (column), self->worst);
  gtk_box_append (GTK_BOX (column), self->where);
  gtk_box_append (GTK_BOX (column), self->numbers);
  gtk_box_append (GTK_BOX (column), self->stands);
  return column;
}
