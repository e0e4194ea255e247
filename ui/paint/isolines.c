/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/contour.h"

#include <math.h>

static void
paint_view_isolines (const DewPen *pen, DewView view, const DewRange *range, GArray *taken)
{
  g_auto (DewGridPicture) picture = { 0 };
  int levels = (int) lround ((range->hi - range->lo) / range->step);
  int decimals = dew_range_decimals (range, pen->sheet->coloured, pen->sheet->tongue);

  dew_grid_picture_init (&picture, pen, view, pen->sheet->coloured, 7);
  for (int i = 1; i < levels; i++)
    {
      double level = range->lo + i * range->step;
      g_autoptr (GArray) segments = dew_contour_segments (pen, view, &picture, level);
      g_autofree char *text
        = g_strdup_printf ("%.*f", decimals,
                           dew_value_to_user (pen->sheet->coloured, level, pen->sheet->tongue));

      cairo_set_line_width (pen->cr, DEW_LINE_DETAIL);
      cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_ROUND);
      dew_pen_colour (pen, &pen->palette->ink, pen->palette->high_contrast ? 0.9 : 0.38);
      dew_contour_stroke (pen, segments);
      if (!dew_pen_small (pen))
        dew_contour_number (pen, view, segments, text, taken);
    }
}

static void
take_place_marks (const DewPen *pen, GArray *taken)
{
  const double half = 5 * pen->unit;
  g_autoptr (GArray) places = dew_sheet_plan_places (pen->sheet, pen->layout);
  g_autoptr (GArray) reaches = dew_sheet_reaches (pen);

  for (guint i = 0; i < places->len; i++)
    {
      const double *at = g_array_index (places, DewPlanPlace, i).at_px;
      DewRect rect = { at[0] - half, at[1] - half, 2 * half, 2 * half };

      g_array_append_val (taken, rect);
    }
  for (guint i = 0; i < reaches->len; i++)
    g_array_append_val (taken, g_array_index (reaches, DewReach, i).words);
}

/* Marks and things, which the numbers on lines must not cover. */
static GArray *
taken_places (const DewPen *pen, DewView view, const GArray *avoid)
{
  GArray *taken = g_array_new (FALSE, FALSE, sizeof (DewRect));
  const DewVariant *variant = pen->sheet->variant;

  for (guint i = 0; i < avoid->len; i++)
    g_array_append_val (taken, g_array_index (avoid, DewMark, i).rect);
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      DewRect rect;

      if (!dew_view_shows (pen->sheet, pen->layout, view, thing)
          || (view == DEW_VIEW_PLAN && thing->kind == DEW_THING_SHELF))
        continue;
      dew_view_thing_rect (pen->sheet, pen->layout, view, thing, &rect);
      if (thing->kind == DEW_THING_PLANT && view != DEW_VIEW_PLAN)
        rect.height += 0.08 * pen->scale; /* the pot below the crown */
      g_array_append_val (taken, rect);
    }
  if (view == DEW_VIEW_PLAN)
    take_place_marks (pen, taken);
  return taken;
}

void
dew_paint_isolines (const DewPen *pen, const GArray *avoid)
{
  const DewForecast *forecast = pen->sheet->forecast;
  DewRange range;
  gboolean levels;

  if (forecast == NULL || pen->sheet->cannot != NULL)
    return;

  range = dew_sheet_range (pen->sheet);
  levels = range.hi > range.lo && range.step > 0 && forecast->value[pen->sheet->coloured] != NULL;
  for (int view = 0; view < DEW_N_VIEWS; view++)
    {
      g_autoptr (GArray) taken = NULL;

      if (!pen->layout->shown[view])
        continue;
      taken = taken_places (pen, view, avoid);
      if (view == DEW_VIEW_PLAN)
        dew_paint_plan_lines (pen, taken);
      if (levels)
        paint_view_isolines (pen, view, &range, taken);
    }
}
