/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the plan of the chosen bay tells besides the things in it: its places with
 * their verdict, how far the fan's stream reaches, where the lamp's light falls. All
 * of it comes from the forecast. */
#include "paint/contour.h"

#include "forecast/limits.h"
#include "forecast/probe.h"
#include "say/findings.h"

#include <glib/gi18n.h>
#include <math.h>

#define MARK_PX 4.5 /* half the size of a mark, at text scale 1 */
#define SMALL_MARK_PX 3.5
#define MARK_IN 11.0  /* of a mark, from the place's front left corner */
#define CANOPY_M 0.10 /* light is told for the plants' lowest so much of the bay */
#define CELL_PX 5.0
#define LIGHT_SHARE 0.5

/* --- places -------------------------------------------------------------------------------- */

GArray *
dew_sheet_plan_places (const DewSheet *sheet, const DewSheetLayout *layout)
{
  GArray *places = g_array_new (FALSE, FALSE, sizeof (DewPlanPlace));
  const DewForecast *forecast = sheet->forecast;
  double middle_m = (layout->plan_lo_m + layout->plan_hi_m) / 2;
  DewPen pen = { .sheet = sheet, .layout = layout };

  if (forecast == NULL || sheet->cannot != NULL || !layout->shown[DEW_VIEW_PLAN])
    return places;
  for (int i = 0; i < forecast->n_places; i++)
    {
      const DewPlace *place = &forecast->places[i];
      const DewBay *bay = &forecast->bays[place->bay];
      DewPlanPlace one = { .place = i, .verdict = dew_place_verdict (forecast, i) };
      double x1, y1;

      if (middle_m < bay->z0_m || middle_m > bay->z1_m)
        continue;
      dew_pen_point (&pen, DEW_VIEW_PLAN, place->lo_m[0], place->hi_m[1], &one.rect.x, &one.rect.y);
      dew_pen_point (&pen, DEW_VIEW_PLAN, place->hi_m[0], place->lo_m[1], &x1, &y1);
      one.rect.width = x1 - one.rect.x;
      one.rect.height = y1 - one.rect.y;
      one.at_px[0] = one.rect.x + MIN (MARK_IN * sheet->text_scale, one.rect.width / 2);
      one.at_px[1] = y1 - MIN (MARK_IN * sheet->text_scale, one.rect.height / 2);
      g_array_append_val (places, one);
    }
  return places;
}

/* Told by shape and by weight: a small ring, a hollow triangle, a full square on its
 * corner. */
void
dew_paint_verdict (cairo_t *cr, const DewPalette *palette, DewVerdict verdict, double x, double y,
                   double half)
{
  const DewColour *ink = &palette->ink, *body = &palette->body;

  cairo_new_path (cr);
  switch (verdict)
    {
    case DEW_VERDICT_FINE:
      cairo_arc (cr, x, y, half * 0.55, 0, 2 * G_PI);
      break;
    case DEW_VERDICT_LOOK:
      cairo_move_to (cr, x, y - half);
      cairo_line_to (cr, x + half, y + half * 0.8);
      cairo_line_to (cr, x - half, y + half * 0.8);
      cairo_close_path (cr);
      break;
    case DEW_VERDICT_ACT:
      cairo_move_to (cr, x, y - half * 1.2);
      cairo_line_to (cr, x + half * 1.2, y);
      cairo_line_to (cr, x, y + half * 1.2);
      cairo_line_to (cr, x - half * 1.2, y);
      cairo_close_path (cr);
      break;
    }
  if (verdict == DEW_VERDICT_ACT)
    cairo_set_source_rgb (cr, ink->r, ink->g, ink->b);
  else
    cairo_set_source_rgb (cr, body->r, body->g, body->b);
  cairo_fill_preserve (cr);
  cairo_set_source_rgba (cr, ink->r, ink->g, ink->b,
                         verdict == DEW_VERDICT_FINE && !palette->high_contrast ? 0.6 : 1);
  cairo_set_line_width (cr, verdict == DEW_VERDICT_FINE ? 1 : 1.3);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_MITER);
  cairo_stroke (cr);
}

/* Only the lines between places: the walls are drawn already. */
static void
paint_grid (const DewPen *pen, const GArray *places)
{
  const DewRect *plan = &pen->layout->view[DEW_VIEW_PLAN];
  const double dash[] = { 2, 4 };

  cairo_set_line_width (pen->cr, DEW_LINE_DETAIL);
  dew_pen_colour (pen, &pen->palette->ink, pen->palette->high_contrast ? 0.9 : 0.45);
  cairo_set_dash (pen->cr, dash, 2, 0);
  for (guint i = 0; i < places->len; i++)
    {
      const DewRect *r = &g_array_index (places, DewPlanPlace, i).rect;

      if (r->x > plan->x + 1)
        dew_pen_line (pen, dew_crisp (r->x), r->y, dew_crisp (r->x), r->y + r->height);
      if (r->y > plan->y + 1)
        dew_pen_line (pen, r->x, dew_crisp (r->y), r->x + r->width, dew_crisp (r->y));
    }
  cairo_set_dash (pen->cr, NULL, 0, 0);
}

/* --- lines of light and air ------------------------------------------------------------------ */

GArray *
dew_sheet_reach (const DewPen *pen, double *level_m_s)
{
  g_auto (DewGridPicture) picture = { 0 };

  *level_m_s = dew_limit (DEW_LIMIT_REACH);
  dew_grid_picture_init (&picture, pen, DEW_VIEW_PLAN, DEW_VALUE_SPEED, CELL_PX);
  return dew_contour_segments (pen, DEW_VIEW_PLAN, &picture, *level_m_s);
}

GArray *
dew_sheet_light (const DewPen *pen, double *level_mol_m2s)
{
  g_auto (DewGridPicture) picture = { 0 };
  double lo_m = pen->layout->plan_lo_m, most = 0;

  dew_grid_picture_init_between (&picture, pen, DEW_VIEW_PLAN, DEW_VALUE_PPFD, CELL_PX, lo_m,
                                 MIN (lo_m + CANOPY_M, pen->layout->plan_hi_m));
  for (int i = 0; i < picture.rows * picture.columns; i++)
    most = MAX (most, picture.value[i]);
  *level_mol_m2s = LIGHT_SHARE * most;
  if (!(most > 0))
    return g_array_new (FALSE, FALSE, sizeof (DewSegment));
  return dew_contour_segments (pen, DEW_VIEW_PLAN, &picture, *level_mol_m2s);
}

static void
paint_line (const DewPen *pen, const GArray *segments, const double *dash, int n_dash,
            const char *words, GArray *taken)
{
  if (segments->len == 0)
    return;
  cairo_set_line_width (pen->cr, 1.1);
  cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_dash (pen->cr, dash, n_dash, 0);
  dew_pen_colour (pen, &pen->palette->ink, pen->palette->high_contrast ? 1 : 0.75);
  dew_contour_stroke_joined (pen, segments);
  cairo_set_dash (pen->cr, NULL, 0, 0);
  dew_contour_number (pen, DEW_VIEW_PLAN, segments, words, taken);
}

void
dew_paint_plan_lines (const DewPen *pen, GArray *taken)
{
  const DewForecast *forecast = pen->sheet->forecast;
  const double long_dash[] = { 7, 3 }, dots[] = { 1.5, 3 };
  g_autoptr (GArray) places = dew_sheet_plan_places (pen->sheet, pen->layout);
  g_autoptr (GArray) reach = NULL, light = NULL;
  g_autofree char *speed = NULL;
  double level;

  if (dew_pen_small (pen))
    return;
  paint_grid (pen, places);
  if (forecast->value[DEW_VALUE_SPEED] == NULL || forecast->value[DEW_VALUE_PPFD] == NULL)
    return;
  light = dew_sheet_light (pen, &level);
  /* Translators: beside a line inside which a shelf gets more than half its strongest light */
  paint_line (pen, light, dots, 2, _ ("half the light"), taken);
  reach = dew_sheet_reach (pen, &level);
  speed = dew_value_text (DEW_VALUE_SPEED, level, pen->sheet->tongue);
  paint_line (pen, reach, long_dash, 2, speed, taken);
}

/* --- how far a fan's stream reaches ----------------------------------------------------------- */

/* A dimension line beside the stream, on the side that has more room. */
static void
place_reach (const DewPen *pen, const DewTextMeter *meter, const DewThing *thing, double reach_m,
             DewReach *out)
{
  const DewRect *plan = &pen->layout->view[DEW_VIEW_PLAN];
  g_autofree char *text = dew_length_text (reach_m, pen->sheet->tongue);
  double beside = (thing->fan.diameter_m / 2 + 0.03) * pen->scale;
  double dx = cos (thing->fan.azimuth_rad), dy = -sin (thing->fan.azimuth_rad);
  double x, y, width, height;

  dew_pen_point (pen, DEW_VIEW_PLAN, thing->fan.x_m, thing->fan.y_m, &x, &y);
  if ((plan->x + plan->width / 2 - x) * -dy + (plan->y + plan->height / 2 - y) * dx < 0)
    beside = -beside;
  out->from[0] = x - dy * beside;
  out->from[1] = y + dx * beside;
  out->to[0] = out->from[0] + dx * reach_m * pen->scale;
  out->to[1] = out->from[1] + dy * reach_m * pen->scale;

  dew_text_measure (meter, DEW_TEXT_MARK, text, &width, &height);
  width += 6 * pen->unit;
  out->words = (DewRect){ (out->from[0] + out->to[0] - width) / 2,
                          (out->from[1] + out->to[1] - height) / 2, width, height };
  /* A number that is longer than its line would hide it. */
  if (reach_m * pen->scale > width)
    g_strlcpy (out->text, text, sizeof out->text);
}

GArray *
dew_sheet_reaches (const DewPen *pen)
{
  const double level = 0.5; /* of the aim's length: what blows up or down has no reach here */
  const DewSheet *sheet = pen->sheet;
  GArray *reaches = g_array_new (FALSE, TRUE, sizeof (DewReach));
  DewTextMeter meter;

  if (sheet->forecast == NULL || sheet->cannot != NULL || !pen->layout->shown[DEW_VIEW_PLAN])
    return reaches;
  dew_text_meter_init (&meter, sheet);
  for (guint i = 0; i < sheet->variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (sheet->variant->things, DewThing, i);
      DewReach reach = { .thing_id = thing->id };
      double from_m[2];

      if (thing->kind != DEW_THING_FAN || thing->fan.mount != DEW_FAN_FREE
          || cos (thing->fan.elevation_rad) < level
          || !dew_view_shows (sheet, pen->layout, DEW_VIEW_PLAN, thing))
        continue;
      from_m[0] = thing->fan.x_m;
      from_m[1] = thing->fan.y_m;
      reach.reach_m = dew_forecast_reach (sheet->forecast, from_m, thing->fan.azimuth_rad,
                                          pen->layout->plan_lo_m, pen->layout->plan_hi_m,
                                          dew_limit (DEW_LIMIT_REACH));
      if (!(reach.reach_m > thing->fan.diameter_m))
        continue;
      place_reach (pen, &meter, thing, reach.reach_m, &reach);
      g_array_append_val (reaches, reach);
    }
  dew_text_meter_clear (&meter);
  return reaches;
}

static void
paint_reaches (const DewPen *pen)
{
  const double tick = 3.5;
  g_autoptr (GArray) reaches = dew_sheet_reaches (pen);

  for (guint i = 0; i < reaches->len; i++)
    {
      const DewReach *reach = &g_array_index (reaches, DewReach, i);
      const DewRect *words = &reach->words;

      cairo_set_line_width (pen->cr, DEW_LINE_DETAIL);
      dew_pen_colour (pen, &pen->palette->ink, 0.8);
      dew_pen_line (pen, reach->from[0], reach->from[1], reach->to[0], reach->to[1]);
      for (int end = 0; end < 2; end++)
        {
          const double *at = end ? reach->to : reach->from;

          dew_pen_line (pen, at[0] - tick, at[1] + tick, at[0] + tick, at[1] - tick);
        }
      if (reach->text[0] == '\0')
        continue;
      dew_pen_colour (pen, &pen->palette->paper, 0.92);
      cairo_rectangle (pen->cr, words->x, words->y + 1, words->width, words->height - 2);
      cairo_fill (pen->cr);
      dew_pen_text (pen, DEW_TEXT_MARK, &pen->palette->ink, 1, words->x + words->width / 2,
                    words->y + words->height / 2, 0.5, 0.5, reach->text);
    }
}

/* --- the key ------------------------------------------------------------------------------- */

/* What the marks say, after the plan's caption, where the sheet has room for it. */
static void
paint_key (const DewPen *pen, const GArray *marks)
{
  double x = 0, y = 0, half = MARK_PX * pen->unit, height, all = 0, right = pen->layout->width - 8;
  double width[DEW_VERDICT_ACT + 1];
  DewTextMeter meter;

  dew_text_meter_init (&meter, pen->sheet);
  for (guint i = 0; i < marks->len; i++)
    {
      const DewMark *mark = &g_array_index (marks, DewMark, i);
      double below;

      if (mark->view != DEW_VIEW_PLAN)
        continue;
      if (mark->kind == DEW_MARK_CAPTION)
        x = mark->rect.x + mark->rect.width;
      else if (mark->kind == DEW_MARK_PLAN && mark->index == pen->sheet->plan_bay)
        {
          dew_text_measure (&meter, DEW_TEXT_FLAG, mark->text, &x, &height);
          dew_text_measure (&meter, DEW_TEXT_NUMBER, mark->below, &below, &height);
          x += mark->rect.x;
          right = mark->rect.x + mark->rect.width - below - 12 * pen->unit;
        }
      else
        continue;
      y = mark->rect.y + mark->rect.height / 2;
    }
  for (int verdict = 0; verdict <= DEW_VERDICT_ACT; verdict++)
    {
      dew_text_measure (&meter, DEW_TEXT_MARK, dew_verdict_word (verdict), &width[verdict],
                        &height);
      all += width[verdict] + 2 * half + 16 * pen->unit;
    }
  dew_text_meter_clear (&meter);
  if (x + all > right)
    return;
  for (int verdict = 0; verdict <= DEW_VERDICT_ACT; verdict++)
    {
      x += half + 12 * pen->unit;
      dew_paint_verdict (pen->cr, pen->palette, verdict, x, y, half);
      x += half + 4 * pen->unit;
      dew_pen_text (pen, DEW_TEXT_MARK, &pen->palette->ink_soft, 1, x, y, 0, 0.5,
                    dew_verdict_word (verdict));
      x += width[verdict];
    }
}

void
dew_paint_plan_places (const DewPen *pen, const GArray *marks)
{
  g_autoptr (GArray) places = dew_sheet_plan_places (pen->sheet, pen->layout);
  double half = MARK_PX;

  if (places->len == 0)
    return;
  if (dew_pen_small (pen))
    half = SMALL_MARK_PX;
  else
    {
      paint_reaches (pen);
      paint_key (pen, marks);
    }
  for (guint i = 0; i < places->len; i++)
    {
      const DewPlanPlace *place = &g_array_index (places, DewPlanPlace, i);

      /* In a row of small plans only what is amiss is marked. */
      if (dew_pen_small (pen) && place->verdict == DEW_VERDICT_FINE)
        continue;
      dew_paint_verdict (pen->cr, pen->palette, place->verdict, place->at_px[0], place->at_px[1],
                         half * pen->unit);
    }
}
