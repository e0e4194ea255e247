/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/merit.h"

#include "paint/sheet-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define HUE_DEGREES 245.0 /* of the ink */
/* Points nearer than this in a view are one: they lie behind each other. */
#define SAME_M 0.01
/* Only the good ones tell their way; the others would be noise. */
#define TELLS_WAY 0.6
#define SMALLEST_PX 2.0
#define LARGEST_PX 11.0

DewColour
dew_merit_colour (const DewPalette *palette, double merit)
{
  double poor = palette->dark ? 0.36 : 0.86, good = palette->dark ? 0.93 : 0.34;
  double lightness, chroma;

  g_return_val_if_fail (palette != NULL, (DewColour){ 0 });

  merit = isnan (merit) ? 0.0 : CLAMP (merit, 0.0, 1.0);
  lightness = poor + (good - poor) * merit;
  chroma = 0.015 + 0.055 * merit;
  return dew_colour_from_oklab (lightness, chroma * cos (HUE_DEGREES * G_PI / 180.0),
                                chroma * sin (HUE_DEGREES * G_PI / 180.0));
}

/* --- what a view shows --------------------------------------------------- */

static gboolean
view_holds (const DewPen *pen, DewView view, const DewMeritSpot *spot)
{
  return view != DEW_VIEW_PLAN
         || (spot->at_m[2] >= pen->layout->plan_lo_m - 1e-6
             && spot->at_m[2] <= pen->layout->plan_hi_m + 1e-6);
}

/* Of points that lie behind each other the best one counts: the fan may be put
 * at any depth. Pointers to spots, in the order of the map. */
static GPtrArray *
spots_of_view (const DewPen *pen, DewView view)
{
  const DewMeritMap *map = pen->sheet->merit;
  int across = dew_view_across (view), up = dew_view_up (view);
  g_autoptr (GHashTable) at = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  GPtrArray *spots = g_ptr_array_new ();

  for (guint i = 0; i < map->n; i++)
    {
      DewMeritSpot *spot = &map->spots[i];
      g_autofree char *key = NULL;
      gpointer found;

      if (!view_holds (pen, view, spot))
        continue;
      key = g_strdup_printf ("%.0f %.0f", spot->at_m[across] / SAME_M, spot->at_m[up] / SAME_M);
      if (!g_hash_table_lookup_extended (at, key, NULL, &found))
        {
          g_hash_table_insert (at, g_steal_pointer (&key), GUINT_TO_POINTER (spots->len));
          g_ptr_array_add (spots, spot);
        }
      else
        {
          DewMeritSpot *other = g_ptr_array_index (spots, GPOINTER_TO_UINT (found));

          /* An option keeps its number even where it does not lead. */
          if (spot->number > 0 ? other->number == 0 || spot->merit > other->merit
                               : other->number == 0 && spot->merit > other->merit)
            g_ptr_array_index (spots, GPOINTER_TO_UINT (found)) = spot;
        }
    }
  return spots;
}

/* The smallest distance of neighbours, so that dots never touch; metres. */
static double
spacing (const GPtrArray *spots, int across, int up)
{
  double least = INFINITY;

  for (guint i = 0; i < spots->len; i++)
    {
      const DewMeritSpot *one = g_ptr_array_index (spots, i);

      for (guint j = i + 1; j < spots->len; j++)
        {
          const DewMeritSpot *other = g_ptr_array_index (spots, j);
          double d
            = hypot (one->at_m[across] - other->at_m[across], one->at_m[up] - other->at_m[up]);

          if (d > SAME_M && d < least)
            least = d;
        }
    }
  return isfinite (least) ? least : 0.1;
}

/* --- painting ------------------------------------------------------------ */

static void
paint_way (const DewPen *pen, DewView view, const DewMeritSpot *spot, double x, double y,
           double radius)
{
  double across = spot->aim[dew_view_across (view)], up = spot->aim[dew_view_up (view)];
  double length = hypot (across, up), reach = 2.1 * radius + 3.0 * pen->unit;
  double tip[2], wing = 3.2 * pen->unit;

  if (length < 0.3)
    return; /* it blows toward the reader or away */
  across /= length;
  up /= length;
  tip[0] = x + across * reach;
  tip[1] = y - up * reach;
  dew_pen_colour (pen, &pen->palette->ink, 1);
  cairo_set_line_width (pen->cr, 1.0);
  dew_pen_line (pen, x + across * radius, y - up * radius, tip[0], tip[1]);
  cairo_move_to (pen->cr, tip[0] - wing * (across + 0.5 * up), tip[1] + wing * (up - 0.5 * across));
  cairo_line_to (pen->cr, tip[0], tip[1]);
  cairo_line_to (pen->cr, tip[0] - wing * (across - 0.5 * up), tip[1] + wing * (up + 0.5 * across));
  cairo_stroke (pen->cr);
}

static void
paint_number (const DewPen *pen, const DewMeritSpot *spot, double x, double y)
{
  gboolean lit = spot->number == pen->sheet->merit->lit;
  const DewColour *ink = lit ? &pen->palette->accent : &pen->palette->ink;
  double radius = 9.0 * pen->unit;
  g_autofree char *text = g_strdup_printf ("%d", spot->number);

  cairo_new_path (pen->cr);
  cairo_arc (pen->cr, x, y, radius, 0, 2 * G_PI);
  dew_pen_colour (pen, &pen->palette->body, 1);
  cairo_fill_preserve (pen->cr);
  dew_pen_colour (pen, ink, 1);
  cairo_set_line_width (pen->cr, lit ? 2.0 : DEW_LINE_OUTLINE);
  cairo_stroke (pen->cr);
  dew_pen_text (pen, DEW_TEXT_FLAG, ink, 1, x, y, 0.5, 0.5, text);
}

static double
dot_radius (double merit, double largest)
{
  return SMALLEST_PX + (largest - SMALLEST_PX) * sqrt (CLAMP (merit, 0.0, 1.0));
}

static int
worse_first (gconstpointer a, gconstpointer b)
{
  const DewMeritSpot *one = *(const DewMeritSpot *const *) a;
  const DewMeritSpot *other = *(const DewMeritSpot *const *) b;

  if ((one->number > 0) != (other->number > 0))
    return one->number > 0 ? 1 : -1;
  return (one->merit > other->merit) - (one->merit < other->merit);
}

static void
paint_view (const DewPen *pen, DewView view)
{
  int across = dew_view_across (view), up = dew_view_up (view);
  g_autoptr (GPtrArray) spots = spots_of_view (pen, view);
  double largest = CLAMP (0.46 * spacing (spots, across, up) * pen->scale, SMALLEST_PX + 1.0,
                          LARGEST_PX * pen->unit);

  g_ptr_array_sort (spots, worse_first);
  for (guint i = 0; i < spots->len; i++)
    {
      const DewMeritSpot *spot = g_ptr_array_index (spots, i);
      double radius = dot_radius (spot->merit, largest), x, y;
      DewColour colour = dew_merit_colour (pen->palette, spot->merit);

      dew_pen_point (pen, view, spot->at_m[across], spot->at_m[up], &x, &y);
      if (spot->number > 0)
        {
          paint_way (pen, view, spot, x, y, 9.0 * pen->unit);
          paint_number (pen, spot, x, y);
          continue;
        }
      cairo_new_path (pen->cr);
      cairo_arc (pen->cr, x, y, radius, 0, 2 * G_PI);
      dew_pen_colour (pen, &colour, 1);
      cairo_fill (pen->cr);
      if (spot->merit >= TELLS_WAY)
        paint_way (pen, view, spot, x, y, radius);
    }
}

void
dew_paint_merit (const DewPen *pen)
{
  for (int view = 0; view < DEW_N_VIEWS; view++)
    {
      const DewRect *rect = &pen->layout->view[view];

      if (!pen->layout->shown[view])
        continue;
      cairo_save (pen->cr);
      cairo_rectangle (pen->cr, rect->x, rect->y, rect->width, rect->height);
      cairo_clip (pen->cr);
      paint_view (pen, view);
      cairo_restore (pen->cr);
    }
}

/* Words, and under them the scale: dots from poor to good. */
void
dew_paint_merit_legend (const DewPen *pen)
{
  const DewRect *legend = &pen->layout->legend;
  const int n_dots = 6;
  double y = legend->y + 5 * pen->unit, x = legend->x, width, height;
  DewTextMeter meter;

  dew_pen_text (pen, DEW_TEXT_CAPTION, &pen->palette->ink, 1, x, y, 0, 0.5,
                pen->sheet->merit->legend);
  y += 25 * pen->unit;
  dew_text_meter_init (&meter, pen->sheet);
  /* Translators: the ends of a scale of dots: how good a fan is at a place. */
  dew_text_measure (&meter, DEW_TEXT_NUMBER, _ ("poor"), &width, &height);
  dew_text_meter_clear (&meter);
  dew_pen_text (pen, DEW_TEXT_NUMBER, &pen->palette->ink_soft, 1, x, y, 0, 0.5, _ ("poor"));
  x += width + 16 * pen->unit;
  for (int i = 0; i < n_dots; i++)
    {
      double merit = (double) i / (n_dots - 1);
      DewColour colour = dew_merit_colour (pen->palette, merit);

      cairo_new_path (pen->cr);
      cairo_arc (pen->cr, x, y, dot_radius (merit, 9.0 * pen->unit), 0, 2 * G_PI);
      dew_pen_colour (pen, &colour, 1);
      cairo_fill (pen->cr);
      x += 26 * pen->unit;
    }
  dew_pen_text (pen, DEW_TEXT_NUMBER, &pen->palette->ink_soft, 1, x - 6 * pen->unit, y, 0, 0.5,
                _ ("good"));
}
