/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/device.h"

#include "canvas/theme.h"
#include "document/tongue.h"
#include "forecast/working.h"
#include "paint/chart.h"
#include "paint/palette.h"
#include "widgets/names.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>

#include <math.h>

#define CHART_HEIGHT_PX 130
#define DAYS_FROM_H 60.0
#define SYSTEM_POINTS 25

typedef struct
{
  GtkWidget *title;
  GtkWidget *chart;
  GtkWidget *words;
  GtkWidget *rows; /* grid of what, how much */
  int n_rows;
  DewFan fan;
  DewWorking point;
  char *chart_mark, *chart_x, *chart_y;
} View;

#define VIEW_KEY "dew-device"

static void
view_free (gpointer data)
{
  View *self = data;

  g_free (self->chart_mark);
  g_free (self->chart_x);
  g_free (self->chart_y);
  g_free (self);
}

/* --- rows -------------------------------------------------------------- */

static GtkWidget *
row_label_new (View *self, int column, const char *css_class)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), column == 0 ? 0.0f : 1.0f);
  gtk_label_set_wrap (GTK_LABEL (label), column == 0);
  gtk_widget_set_hexpand (label, column == 0);
  gtk_widget_add_css_class (label, css_class);
  gtk_grid_attach (GTK_GRID (self->rows), label, column, self->n_rows, 1, 1);
  return label;
}

/* Rows are kept from forecast to forecast: while something is dragged they change
 * thirty times a second. Takes `figure`. */
static void
add_row (View *self, const char *what, char *figure)
{
  GtkWidget *name = gtk_grid_get_child_at (GTK_GRID (self->rows), 0, self->n_rows);
  GtkWidget *value = gtk_grid_get_child_at (GTK_GRID (self->rows), 1, self->n_rows);

  if (name == NULL)
    {
      name = row_label_new (self, 0, "field");
      value = row_label_new (self, 1, "figure");
    }
  gtk_label_set_text (GTK_LABEL (name), what);
  gtk_label_set_text (GTK_LABEL (value), figure);
  gtk_widget_set_visible (name, TRUE);
  gtk_widget_set_visible (value, TRUE);
  self->n_rows++;
  g_free (figure);
}

/* Hides what the last forecast had more. */
static void
end_rows (View *self)
{
  GtkWidget *label;

  for (int row = self->n_rows;
       (label = gtk_grid_get_child_at (GTK_GRID (self->rows), 0, row)) != NULL; row++)
    {
      gtk_widget_set_visible (label, FALSE);
      gtk_widget_set_visible (gtk_grid_get_child_at (GTK_GRID (self->rows), 1, row), FALSE);
    }
}

static char *
in_unit (DewMeasure measure, double si)
{
  return dew_measure_text (measure, dew_tongue (), si);
}

/* A small plant gives off less than a millilitre an hour. */
static char *
water_text (double kg_s)
{
  DewUnit unit = *dew_unit (DEW_MEASURE_WATER_RATE, dew_tongue ());

  if (fabs (dew_unit_shown (&unit, kg_s)) < 10.0)
    unit.decimals++;
  return dew_unit_format (&unit, kg_s);
}

static char *
hours_text (double hours)
{
  if (isinf (hours))
    /* Translators: how long water lasts where none is lost. */
    return g_strdup (_ ("does not end"));
  if (hours < DAYS_FROM_H)
    return g_strdup_printf (_ ("%.0f h"), hours);
  return g_strdup_printf (ngettext ("%.0f day", "%.0f days", (gulong) round (hours / 24.0)),
                          round (hours / 24.0));
}

/* --- fan --------------------------------------------------------------- */

static char *
fan_words (const DewFan *fan, const DewWorking *point)
{
  g_autofree char *flow = in_unit (DEW_MEASURE_AIR_FLOW, point->flow_m3_s);
  g_autofree char *rise = in_unit (DEW_MEASURE_PRESSURE, point->pressure_Pa);
  g_autofree char *stream = in_unit (DEW_MEASURE_SPEED, point->outlet_m_s);

  if (!(point->speed > 0.0))
    return point->night ? g_strdup (_ ("It stands still by night."))
                        : g_strdup (_ ("It stands still by day."));
  if (!point->in_wall)
    return g_strdup_printf (_ ("It moves %s and raises no pressure, as it stands free: the same "
                               "air is before and behind it. Its stream leaves at %s."),
                            flow, stream);
  if (point->pressure_Pa > 0.0)
    return g_strdup_printf (_ ("It moves %s against %s, %.0f %% of what it moves without "
                               "resistance."),
                            flow, rise, 100.0 * point->flow_m3_s / point->free_m3_s);
  return g_strdup_printf (_ ("It moves %s; other openings and fans help it along."), flow);
}

static void
draw_fan (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer user_data)
{
  View *self = user_data;
  const DewUnit *flow = dew_unit (DEW_MEASURE_AIR_FLOW, dew_tongue ());
  const DewUnit *rise = dew_unit (DEW_MEASURE_PRESSURE, dew_tongue ());
  const DewFan *fan = &self->fan;
  const DewWorking *point = &self->point;
  double full_x[2] = { 0.0, dew_unit_shown (flow, fan->free_delivery_m3_s) };
  double full_y[2] = { dew_unit_shown (rise, fan->stall_pressure_Pa), 0.0 };
  double now_x[2] = { 0.0, dew_unit_shown (flow, point->free_m3_s) };
  double now_y[2] = { dew_unit_shown (rise, point->stall_Pa), 0.0 };
  double system_x[SYSTEM_POINTS], system_y[SYSTEM_POINTS];
  PangoContext *context = gtk_widget_get_pango_context (GTK_WIDGET (area));
  const PangoFontDescription *font = pango_context_get_font_description (context);
  double font_px = 0.85 * pango_font_description_get_size (font) / PANGO_SCALE;
  DewChart chart = { .x_hi = 1.04 * full_x[1],
                     .y_hi = 1.04 * full_y[0],
                     .x_text = self->chart_x,
                     .y_text = self->chart_y };

  if (!pango_font_description_get_size_is_absolute (font))
    font_px *= pango_cairo_context_get_resolution (context) > 0.0
                 ? pango_cairo_context_get_resolution (context) / 72.0
                 : 96.0 / 72.0;
  if (point->speed < 0.995)
    chart.line[chart.n_lines++] = (DewChartLine){ full_x, full_y, 2, TRUE };
  chart.line[chart.n_lines++] = (DewChartLine){ now_x, now_y, 2, FALSE };
  /* What the enclosure asks for, through the point: pressure as the square of flow. */
  if (point->in_wall && point->pressure_Pa > 0.0)
    {
      for (int i = 0; i < SYSTEM_POINTS; i++)
        {
          double share = 1.5 * i / (SYSTEM_POINTS - 1);

          system_x[i] = dew_unit_shown (flow, share * point->flow_m3_s);
          system_y[i] = dew_unit_shown (rise, share * share * point->pressure_Pa);
        }
      chart.line[chart.n_lines++] = (DewChartLine){ system_x, system_y, SYSTEM_POINTS, TRUE };
    }
  if (point->speed > 0.0)
    chart.mark[chart.n_marks++]
      = (DewChartMark){ dew_unit_shown (flow, point->flow_m3_s),
                        dew_unit_shown (rise, MAX (0.0, point->pressure_Pa)), self->chart_mark };
  dew_chart_paint (cr, &chart, dew_theme_palette (), width, height, font_px);
}

static void
fill_fan (View *self, const DewFan *fan, const DewWorking *point)
{
  g_autofree char *words = fan_words (fan, point);
  g_autofree char *flow = in_unit (DEW_MEASURE_AIR_FLOW, point->flow_m3_s);
  g_autofree char *rise = in_unit (DEW_MEASURE_PRESSURE, point->pressure_Pa);
  g_autofree char *most = in_unit (DEW_MEASURE_AIR_FLOW, fan->free_delivery_m3_s);
  g_autofree char *stall = in_unit (DEW_MEASURE_PRESSURE, fan->stall_pressure_Pa);
  g_autofree char *spoken = NULL;

  self->fan = *fan;
  self->point = *point;
  g_free (self->chart_mark);
  g_free (self->chart_x);
  g_free (self->chart_y);
  self->chart_mark = g_strdup_printf (_ ("%s at %s"), flow, rise);
  self->chart_x = g_steal_pointer (&most);
  self->chart_y = g_steal_pointer (&stall);
  gtk_label_set_text (GTK_LABEL (self->words), words);
  spoken = g_strdup_printf (_ ("Curve of the fan. %s"), words);
  dew_name_widget (self->chart, spoken);
  gtk_widget_queue_draw (self->chart);
  if (point->speed > 0.0 && point->speed < 0.995)
    add_row (self, _ ("Runs at, of full speed"), in_unit (DEW_MEASURE_SHARE, point->speed));
  if (!isnan (point->power_W))
    add_row (self, _ ("Draws"), in_unit (DEW_MEASURE_POWER, point->power_W));
}

/* --- others ------------------------------------------------------------- */

static void
fill_humidifier (View *self, const DewWorking *point)
{
  if (!isnan (point->duty))
    add_row (self, _ ("Runs, of the time"), in_unit (DEW_MEASURE_SHARE, point->duty));
  if (!isnan (point->water_kg_s))
    add_row (self, _ ("Gives off"), water_text (point->water_kg_s));
  if (!isnan (point->hours_of_water))
    add_row (self, _ ("A full tank lasts"), hours_text (point->hours_of_water));
  if (!isnan (point->power_W))
    add_row (self, _ ("Draws, on the mean"), in_unit (DEW_MEASURE_POWER, point->power_W));
}

static void
fill_wet (View *self, const DewWorking *point, gboolean leaves)
{
  if (!isnan (point->water_kg_s))
    add_row (self, point->water_kg_s < 0.0 ? _ ("Gathers dew") : _ ("Gives off"),
             water_text (fabs (point->water_kg_s)));
  if (!isnan (point->t_C))
    add_row (self, leaves ? _ ("Warmth of the leaves") : _ ("Warmth of the wet side"),
             in_unit (DEW_MEASURE_TEMPERATURE, point->t_C));
  if (!isnan (point->below_air_K))
    add_row (self,
             point->below_air_K < 0.0 ? _ ("Warmer than the air by") : _ ("Cooler than the air by"),
             in_unit (DEW_MEASURE_DIFFERENCE, fabs (point->below_air_K)));
  if (!isnan (point->hours_of_water) && !leaves)
    add_row (self, _ ("Its water lasts"), hours_text (point->hours_of_water));
}

static void
fill_lamp (View *self, const DewWorking *point)
{
  if (!(point->power_W > 0.0))
    {
      gtk_label_set_text (GTK_LABEL (self->words),
                          point->night ? _ ("It is off by night.") : _ ("It is off by day."));
      return;
    }
  add_row (self, _ ("Draws"), in_unit (DEW_MEASURE_POWER, point->power_W));
  add_row (self, _ ("of it light"), in_unit (DEW_MEASURE_POWER, point->light_W));
  add_row (self, _ ("of it heat"), in_unit (DEW_MEASURE_POWER, point->heat_W));
  if (isnan (point->ppfd_mean_mol_m2s))
    return;
  /* All lamps count there, not this one alone. */
  add_row (self, _ ("Light on the shelf below, mean"),
           in_unit (DEW_MEASURE_LIGHT, point->ppfd_mean_mol_m2s));
  add_row (self, _ ("at its darkest place"),
           in_unit (DEW_MEASURE_LIGHT, point->ppfd_least_mol_m2s));
  add_row (self, _ ("at its brightest place"),
           in_unit (DEW_MEASURE_LIGHT, point->ppfd_most_mol_m2s));
}

/* --- whole ---------------------------------------------------------------- */

void
dew_device_view_fill (GtkWidget *widget, DewDocument *document, const DewThing *thing)
{
  View *self = g_object_get_data (G_OBJECT (widget), VIEW_KEY);
  const DewForecast *forecast = dew_document_forecast (document);
  DewWorking point;

  g_return_if_fail (self != NULL);

  self->n_rows = 0;
  gtk_widget_set_visible (self->chart, thing->kind == DEW_THING_FAN);
  if (forecast == NULL
      || !dew_working_point (forecast, dew_document_chamber (document), thing, &point))
    {
      gtk_widget_set_visible (widget, FALSE);
      return;
    }
  gtk_label_set_text (GTK_LABEL (self->words), "");
  switch (thing->kind)
    {
    case DEW_THING_FAN:
      fill_fan (self, &thing->fan, &point);
      break;
    case DEW_THING_HUMIDIFIER:
      fill_humidifier (self, &point);
      break;
    case DEW_THING_POT:
    case DEW_THING_TRAY:
      fill_wet (self, &point, FALSE);
      break;
    case DEW_THING_PLANT:
      fill_wet (self, &point, TRUE);
      break;
    case DEW_THING_LAMP:
      fill_lamp (self, &point);
      break;
    case DEW_THING_MAT:
      if (!isnan (point.power_W))
        add_row (self, _ ("Draws"), in_unit (DEW_MEASURE_POWER, point.power_W));
      break;
    default:
      break;
    }
  end_rows (self);
  gtk_label_set_text (GTK_LABEL (self->title),
                      point.night ? _ ("Now, by night") : _ ("Now, by day"));
  gtk_widget_set_visible (self->words, *gtk_label_get_text (GTK_LABEL (self->words)) != '\0');
  gtk_widget_set_visible (widget, self->n_rows > 0 || gtk_widget_get_visible (self->words));
}

GtkWidget *
dew_device_view_new (void)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  View *self = g_new0 (View, 1);

  g_object_set_data_full (G_OBJECT (column), VIEW_KEY, self, view_free);
  self->title = dew_words_new (NULL, "group-title");
  self->chart = dew_picture_new (NULL, 0, CHART_HEIGHT_PX, draw_fan, self, NULL);
  self->words = dew_words_new (NULL, NULL);
  self->rows = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (self->rows), 12);
  gtk_grid_set_row_spacing (GTK_GRID (self->rows), 3);
  gtk_box_append (GTK_BOX (column), self->title);
  gtk_box_append (GTK_BOX (column), self->chart);
  gtk_box_append (GTK_BOX (column), self->words);
  gtk_box_append (GTK_BOX (column), self->rows);
  return column;
}
