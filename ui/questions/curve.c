/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "questions/curve.h"

#include "canvas/theme.h"
#include "document/tongue.h"
#include "paint/curve.h"
#include "say/where.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>
#include <math.h>

#define HEIGHT_PX 150

/* The curve and what it lends. */
typedef struct
{
  DewCurve curve;
  double *x;
  double *y[DEW_CURVE_LINES_MAX];
  char *names[DEW_CURVE_LINES_MAX];
  char *x_title;
} Chart;

static void
chart_free (gpointer data)
{
  Chart *chart = data;

  g_free (chart->x);
  for (int k = 0; k < DEW_CURVE_LINES_MAX; k++)
    {
      g_free (chart->y[k]);
      g_free (chart->names[k]);
    }
  g_free (chart->x_title);
  g_free (chart);
}

/* A point of a sizing in the reader's units: 6 pots, 45 mL/h, 40 %, 12 h. */
static double
sizing_to_user (DewSizing sizing, double x)
{
  switch (sizing)
    {
    case DEW_SIZING_HUMIDIFIER:
      return dew_unit_shown (dew_unit (DEW_MEASURE_WATER_RATE, dew_tongue ()), x);
    case DEW_SIZING_VENT:
      return 100.0 * x;
    case DEW_SIZING_POTS:
    case DEW_N_SIZINGS:
      break;
    }
  return x;
}

char *
dew_ask_sizing_title (DewSizing sizing, double x)
{
  int n = (int) lround (sizing_to_user (sizing, x));
  g_autofree char *rate = NULL;

  switch (sizing)
    {
    case DEW_SIZING_POTS:
      if (n == 0)
        return g_strdup (_ ("No wet pot"));
      return g_strdup_printf (ngettext ("%d wet pot", "%d wet pots", (gulong) n), n);
    case DEW_SIZING_HUMIDIFIER:
      rate = dew_measure_text (DEW_MEASURE_WATER_RATE, dew_tongue (), x);
      /* Translators: of a humidifier, "45 mL/h at most". */
      return g_strdup_printf (_ ("A humidifier of %s"), rate);
    case DEW_SIZING_VENT:
      if (n == 0)
        return g_strdup (_ ("Openings closed"));
      return g_strdup_printf (_ ("Openings %d %% open"), n);
    case DEW_N_SIZINGS:
      break;
    }
  g_return_val_if_reached (NULL);
}

static char *
axis_title (DewSizing sizing)
{
  switch (sizing)
    {
    case DEW_SIZING_POTS:
      return g_strdup (_ ("wet pots, no humidifier"));
    case DEW_SIZING_HUMIDIFIER:
      /* Translators: an axis; %s is a unit such as mL/h. */
      return g_strdup_printf (_ ("output of the humidifier,%s"),
                              dew_unit (DEW_MEASURE_WATER_RATE, dew_tongue ())->symbol);
    case DEW_SIZING_VENT:
      /* xgettext:no-c-format */
      return g_strdup (_ ("openings, % open"));
    case DEW_N_SIZINGS:
      break;
    }
  g_return_val_if_reached (NULL);
}

static void
add_mark (Chart *chart, const DewSizingCurve *sizing, int index, const char *name, gboolean strong)
{
  DewCurve *curve = &chart->curve;

  if (index < 0 || curve->n_marks >= DEW_CURVE_MARKS_MAX)
    return;
  for (int i = 0; i < curve->n_marks; i++)
    {
      if (curve->marks[i].x == chart->x[index])
        return;
    }
  curve->marks[curve->n_marks++] = (DewCurveMark){ chart->x[index], name, strong };
}

static int
compare_marks (gconstpointer a, gconstpointer b)
{
  const DewCurveMark *one = a, *other = b;

  return (one->x > other->x) - (one->x < other->x);
}

/* The band that all bays want, if there is one. */
static void
find_band (DewCurve *curve, const DewMoistureAdvice *advice)
{
  curve->want_lo = curve->want_hi = NAN;
  for (int bay = 0; bay < advice->n_bays; bay++)
    {
      const DewBandWish *wish = &advice->bay_bands[bay];

      if (isfinite (wish->rh_lo) && !(curve->want_lo >= 100.0 * wish->rh_lo))
        curve->want_lo = 100.0 * wish->rh_lo;
      if (isfinite (wish->rh_hi) && !(curve->want_hi <= 100.0 * wish->rh_hi))
        curve->want_hi = 100.0 * wish->rh_hi;
    }
  if (curve->want_hi < curve->want_lo)
    curve->want_lo = curve->want_hi = NAN;
}

static Chart *
chart_new (const DewMoistureAdvice *advice, DewSizing which)
{
  const DewSizingCurve *sizing = &advice->curves[which];
  Chart *chart = g_new0 (Chart, 1);
  DewCurve *curve = &chart->curve;
  guint n = sizing->points->len;

  chart->x = g_new (double, n);
  for (guint i = 0; i < n; i++)
    chart->x[i] = sizing_to_user (which, g_array_index (sizing->points, DewSizingPoint, i).x);
  chart->x_title = axis_title (which);
  curve->n = (int) n;
  curve->x = chart->x;
  curve->x_title = chart->x_title;
  curve->y_unit = "%";
  curve->y_most = 100.0;
  curve->n_lines = MIN (advice->n_bays, DEW_CURVE_LINES_MAX);
  for (int bay = 0; bay < curve->n_lines; bay++)
    {
      chart->y[bay] = g_new (double, n);
      /* The drier of day and night: what has to be lifted. */
      for (guint i = 0; i < n; i++)
        {
          const DewSizingPoint *point = &g_array_index (sizing->points, DewSizingPoint, i);

          chart->y[bay][i] = bay < point->n_bays
                               ? 100.0 * fmin (point->bays[bay].rh, point->bays[bay].rh_night)
                               : NAN;
        }
      chart->names[bay] = dew_shelf_called (advice->bay_names[bay], advice->bay_shelves[bay]);
      curve->lines[bay] = (DewCurveLine){ chart->y[bay], chart->names[bay] };
    }
  find_band (curve, advice);
  add_mark (chart, sizing, sizing->least, _ ("enough"), TRUE);
  add_mark (chart, sizing, sizing->knee, _ ("knee"), sizing->least < 0);
  add_mark (chart, sizing, sizing->present, _ ("now"), FALSE);
  qsort (curve->marks, (size_t) curve->n_marks, sizeof *curve->marks, compare_marks);
  return chart;
}

static void
on_draw (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  Chart *chart = data;
  const char *family;
  double scale = dew_theme_text (GTK_WIDGET (area), &family);

  dew_curve_paint (cr, &chart->curve, dew_theme_palette (), width, height, scale, family);
}

GtkWidget *
dew_ask_curve_new (const DewMoistureAdvice *advice, DewSizing sizing)
{
  Chart *chart = chart_new (advice, sizing);
  g_autofree char *spoken
    = g_strdup_printf (_ ("Chart: humidity of each bay against %s"), chart->x_title);
  GtkWidget *area = dew_picture_new (spoken, 0, 0, on_draw, chart, chart_free);
  const char *family;

  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area),
                                       (int) (HEIGHT_PX * dew_theme_text (area, &family)));
  gtk_widget_add_css_class (area, "curve");
  return area;
}
