/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The legend: what is coloured, the scale with its numbers, and whether the scale
 * is fitted to this picture or fixed. Values beyond an end are shown by a pointed
 * end. */
#include "paint/sheet-private.h"

#include <glib/gi18n.h>
#include <math.h>

#define NUMBERS_GAP 5.0 /* from the bar to its numbers, at text scale 1 */

/* --- beyond the ends ------------------------------------------------------------------- */

/* A fitted scale leaves out the last hundredths of the zones (a jet, an outlet); a
 * fixed one must own up to everything that the picture shows. */
void
dew_sheet_beyond (const DewSheet *sheet, const DewRange *range, gboolean *below, gboolean *above)
{
  const double slack = (sheet->fixed_scale ? 1e-6 : 0.02) * (range->hi - range->lo);
  const DewForecast *forecast = sheet->forecast;
  const double *value = forecast->value[sheet->coloured];

  *below = *above = FALSE;
  for (int i = 0; i < forecast->n_zones; i++)
    {
      *below = *below || value[i] < range->lo - slack;
      *above = *above || value[i] > range->hi + slack;
    }
}

/* --- the bar ------------------------------------------------------------------------------ */

/* A bar, pointed where values lie beyond its end. */
static void
bar_path (cairo_t *cr, const DewRect *bar, gboolean below, gboolean above)
{
  double point = bar->height * 0.8, middle = bar->y + bar->height / 2;

  cairo_move_to (cr, bar->x, bar->y);
  cairo_line_to (cr, bar->x + bar->width, bar->y);
  if (above)
    cairo_line_to (cr, bar->x + bar->width + point, middle);
  cairo_line_to (cr, bar->x + bar->width, bar->y + bar->height);
  cairo_line_to (cr, bar->x, bar->y + bar->height);
  if (below)
    cairo_line_to (cr, bar->x - point, middle);
  cairo_close_path (cr);
}

static void
paint_bar (const DewPen *pen, const DewRange *range, const DewRect *bar)
{
  cairo_pattern_t *scale = cairo_pattern_create_linear (bar->x, 0, bar->x + bar->width, 0);
  gboolean below, above;

  for (int i = 0; i <= 48; i++)
    {
      DewColour c = dew_scale_colour (pen->palette, pen->sheet->coloured, i / 48.0);

      cairo_pattern_add_color_stop_rgb (scale, i / 48.0, c.r, c.g, c.b);
    }
  dew_sheet_beyond (pen->sheet, range, &below, &above);
  bar_path (pen->cr, bar, below, above);
  cairo_set_source (pen->cr, scale);
  cairo_fill (pen->cr);
  cairo_pattern_destroy (scale);

  /* The points are of the end's own colour, so an edge sets them off. */
  if (!below && !above)
    return;
  bar_path (pen->cr, bar, below, above);
  cairo_set_line_width (pen->cr, DEW_LINE_DETAIL);
  dew_pen_colour (pen, &pen->palette->ink_soft, 0.8);
  cairo_stroke (pen->cr);
}

/* The number stands under its tick; the unit follows the last one. Where numbers
 * would touch, every second one is left out. */
static void
paint_numbers (const DewPen *pen, const DewTextMeter *meter, const DewRange *range,
               const DewRect *bar)
{
  DewValue value = pen->sheet->coloured;
  DewTongue tongue = pen->sheet->tongue;
  int decimals = dew_range_decimals (range, value, tongue);
  int numbers = (int) lround ((range->hi - range->lo) / range->step), stride = 1;
  double widest = 0, foot = bar->y + bar->height;

  for (int i = 0; i <= numbers; i++)
    {
      g_autofree char *text
        = g_strdup_printf ("%.*f", decimals,
                           dew_value_to_user (value, range->lo + i * range->step, tongue));
      double width, height;

      dew_text_measure (meter, DEW_TEXT_NUMBER, text, &width, &height);
      widest = MAX (widest, width);
    }
  while (stride < numbers && bar->width / numbers * stride < widest + 6 * pen->unit)
    stride++;

  cairo_set_line_width (pen->cr, DEW_LINE_DETAIL);
  for (int i = 0; i <= numbers; i++)
    {
      double at = MIN (range->lo + i * range->step, range->hi);
      double tick
        = dew_crisp (bar->x + bar->width * (at - range->lo) / (range->hi - range->lo) - 0.5);
      g_autofree char *text
        = g_strdup_printf ("%.*f", decimals, dew_value_to_user (value, at, tongue));
      double width, height;

      dew_pen_colour (pen, &pen->palette->ink_soft, 0.8);
      dew_pen_line (pen, tick, foot, tick, foot + 4 * pen->unit);
      if ((numbers - i) % stride != 0)
        continue;
      dew_text_measure (meter, DEW_TEXT_NUMBER, text, &width, &height);
      dew_pen_text (pen, DEW_TEXT_NUMBER, &pen->palette->ink_soft, 1, tick - width / 2,
                    foot + NUMBERS_GAP * pen->unit, 0, 0, text);
      if (i == numbers)
        dew_pen_text (pen, DEW_TEXT_NUMBER, &pen->palette->ink_soft, 1,
                      tick + width / 2 + 5 * pen->unit, foot + NUMBERS_GAP * pen->unit, 0, 0,
                      dew_value_unit (value, tongue));
    }
}

/* --- the legend ------------------------------------------------------------------------- */

static const char *
scale_word (const DewSheet *sheet)
{
  /* Translators: the colours of the legend run over the same values for every picture */
  const char *fixed = _ ("fixed scale");
  /* Translators: the colours of the legend run over the values of this picture */
  const char *fitted = _ ("fitted scale");

  return sheet->fixed_scale ? fixed : fitted;
}

/* What is coloured, under it how; a dotted line says that the word can be changed. */
static double
paint_words (const DewPen *pen, const DewTextMeter *meter)
{
  const DewRect *legend = &pen->layout->legend;
  const char *label = dew_value_label (pen->sheet->coloured), *word = scale_word (pen->sheet);
  const double dots[] = { 1, 2 };
  double label_width, word_width, height, y = legend->y + 5 * pen->unit;

  dew_text_measure (meter, DEW_TEXT_CAPTION, label, &label_width, &height);
  dew_pen_text (pen, DEW_TEXT_CAPTION, &pen->palette->ink, 1, legend->x, y, 0, 0.5, label);
  y += height / 2;
  dew_text_measure (meter, DEW_TEXT_NUMBER, word, &word_width, &height);
  dew_pen_text (pen, DEW_TEXT_NUMBER, &pen->palette->ink_soft, 1, legend->x, y, 0, 0, word);
  if (!pen->sheet->on_paper)
    {
      cairo_set_line_width (pen->cr, 1);
      cairo_set_dash (pen->cr, dots, 2, 0);
      dew_pen_colour (pen, &pen->palette->ink_soft, 0.8);
      dew_pen_line (pen, legend->x, dew_crisp (y + height), legend->x + word_width,
                    dew_crisp (y + height));
      cairo_set_dash (pen->cr, NULL, 0, 0);
    }
  return MAX (label_width, word_width);
}

/* --- what is marked on it ----------------------------------------------------------------- */

/* Where the scale ended before values left it: a notch through the bar. */
static void
paint_widened (const DewPen *pen, const DewRange *range, const DewRect *bar)
{
  const DewRange *chosen = &pen->sheet->chosen;
  const double ends[] = { chosen->lo, chosen->hi };

  if (pen->sheet->fixed_scale || !(chosen->hi > chosen->lo))
    return;
  cairo_set_line_width (pen->cr, DEW_LINE_OUTLINE);
  dew_pen_colour (pen, &pen->palette->ink, 1);
  for (int i = 0; i < 2; i++)
    {
      double x = bar->x + bar->width * dew_range_fraction (range, ends[i]);

      if (i == 0 ? chosen->lo > range->lo + 1e-9 * range->step
                 : chosen->hi < range->hi - 1e-9 * range->step)
        dew_pen_line (pen, dew_crisp (x), bar->y - 3, dew_crisp (x), bar->y + bar->height);
    }
}

/* A line over the bar, from the least to the most that all of them bear. */
static void
paint_wanted (const DewPen *pen, const DewTextMeter *meter, const DewRange *range,
              const DewRect *bar)
{
  const DewSheet *sheet = pen->sheet;
  const double z_m[2] = { pen->layout->plan_lo_m - 0.01, pen->layout->plan_hi_m };
  double x0, x1, width, height, x, y = bar->y - 4.5 * pen->unit;
  const char *words;
  DewRange band;

  if (!dew_wanted_band (sheet->coloured, sheet->chamber, sheet->variant, sheet->selection,
                        sheet->n_selection, z_m, sheet->forecast->night, &band)
      || band.hi <= range->lo || band.lo >= range->hi)
    return;
  x0 = bar->x + bar->width * dew_range_fraction (range, band.lo);
  x1 = bar->x + bar->width * dew_range_fraction (range, band.hi);
  cairo_set_line_width (pen->cr, 2);
  dew_pen_colour (pen, &pen->palette->ink, 1);
  dew_pen_line (pen, x0, dew_crisp (y), x1, dew_crisp (y));
  cairo_set_line_width (pen->cr, 1);
  if (band.lo > range->lo)
    dew_pen_line (pen, dew_crisp (x0), y, dew_crisp (x0), bar->y);
  if (band.hi < range->hi)
    dew_pen_line (pen, dew_crisp (x1), y, dew_crisp (x1), bar->y);

  /* Translators: over the part of a scale of colours that all plants of a shelf bear */
  words = _ ("wanted here");
  dew_text_measure (meter, DEW_TEXT_NUMBER, words, &width, &height);
  x = CLAMP ((x0 + x1 - width) / 2, bar->x, MAX (bar->x, bar->x + bar->width - width));
  dew_pen_text (pen, DEW_TEXT_NUMBER, &pen->palette->ink_soft, 1, x, y - 1, 0, 1, words);
}

static void
paint_scale (const DewPen *pen, const DewTextMeter *meter)
{
  const DewRect *legend = &pen->layout->legend;
  double words = paint_words (pen, meter);
  double x = round (legend->x + words + 24 * pen->unit);
  DewRange range = dew_sheet_range (pen->sheet);
  DewRect bar = { x, legend->y, MAX (legend->x + legend->width - x - 60 * pen->unit, 80),
                  round (10 * pen->unit) };

  if (!(range.hi > range.lo) || pen->sheet->forecast->value[pen->sheet->coloured] == NULL)
    {
      dew_pen_text (pen, DEW_TEXT_CAPTION, &pen->palette->ink_soft, 1, x, legend->y + 5 * pen->unit,
                    0, 0.5,
                    pen->sheet->coloured == DEW_VALUE_AGE ? _ ("no exchange of air with the room")
                                                          : _ ("not known"));
      return;
    }
  paint_bar (pen, &range, &bar);
  paint_widened (pen, &range, &bar);
  if (!pen->sheet->on_paper)
    paint_wanted (pen, meter, &range, &bar);
  paint_numbers (pen, meter, &range, &bar);
}

void
dew_paint_legend (const DewPen *pen)
{
  const DewRect *legend = &pen->layout->legend;
  DewTextMeter meter;

  if (pen->sheet->cannot != NULL)
    {
      /* Translators: followed by why there is no forecast, a sentence of its own */
      g_autofree char *text = g_strdup_printf (_ ("No forecast: %s"), pen->sheet->cannot);
      DewRect box = *legend;

      /* Nothing stands under it then, and the reason must be read to its end. */
      box.height += 16 * pen->unit;
      dew_pen_paragraph (pen, DEW_TEXT_CAPTION, &pen->palette->accent, &box, text);
      return;
    }
  if (pen->sheet->forecast == NULL)
    {
      dew_pen_text (pen, DEW_TEXT_CAPTION, &pen->palette->ink_soft, 1, legend->x, legend->y, 0, 0,
                    _ ("The first forecast is being made; colours follow."));
      return;
    }
  dew_text_meter_init (&meter, pen->sheet);
  paint_scale (pen, &meter);
  dew_text_meter_clear (&meter);
}
