/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The flags of the findings: each at its place, none on another. */
#include "paint/sheet-private.h"
#include "say/findings.h"

#include <math.h>

#define FLAG_PAD 7.0

/* Where a flag may sit relative to its anchor, best first: right, left, above,
 * below, then farther out. */
/* clang-format off */
static const double flag_offsets[][2] = {
  { 12, -0.5 }, { -12, -0.5 }, { 12, -1.5 }, { -12, -1.5 }, { 12, 0.5 }, { -12, 0.5 },
  { 40, -0.5 }, { -40, -0.5 }, { 40, -2.0 }, { -40, -2.0 }, { 40, 1.0 }, { -40, 1.0 },
  { 12, -3.0 }, { -12, -3.0 }, { 12, 2.0 },  { -12, 2.0 },  { 40, -3.5 }, { -40, -3.5 },
  { 40, 2.5 },  { -40, 2.5 },
};
/* clang-format on */

static double
overlap (const DewRect *a, const DewRect *b)
{
  double w = MIN (a->x + a->width, b->x + b->width) - MAX (a->x, b->x);
  double h = MIN (a->y + a->height, b->y + b->height) - MAX (a->y, b->y);

  return w > 0 && h > 0 ? w * h : 0;
}

/* px that the pointed end of a flag takes on the side of its anchor. */
static double
flag_point (const DewRect *rect, double unit)
{
  return MIN (7 * unit, rect->height / 2);
}

static double
flag_cost (const DewRect *rect, double point, const GArray *marks, const GArray *things,
           const DewRect *view)
{
  const double beside = 3; /* px kept free between marks */
  double area = rect->width * rect->height;
  double cost = 0;
  DewRect wide = { rect->x - beside - point, rect->y - beside, rect->width + 2 * (beside + point),
                   rect->height + 2 * beside };

  for (guint i = 0; i < marks->len; i++)
    {
      const DewMark *mark = &g_array_index (marks, DewMark, i);
      DewRect line
        = { MIN (mark->from[0], mark->to[0]) - 4, MIN (mark->from[1], mark->to[1]) - 4,
            fabs (mark->to[0] - mark->from[0]) + 8, fabs (mark->to[1] - mark->from[1]) + 8 };

      if (mark->kind == DEW_MARK_BAY)
        {
          /* Room for the bar that marks the bay of the plan. */
          DewRect label = mark->rect;

          label.x -= 12;
          label.width += 12;
          cost += 1000 * overlap (&wide, &label) / area;
        }
      else
        cost += 1000 * overlap (&wide, &mark->rect) / area;
      if (mark->kind == DEW_MARK_DIMENSION || mark->kind == DEW_MARK_MEASURE)
        cost += 300 * overlap (&wide, &line) / area;
    }
  for (guint i = 0; i < things->len; i++)
    cost += 2.5 * overlap (rect, &g_array_index (things, DewRect, i)) / area;
  cost += 4 * (1 - overlap (rect, view) / area);
  return cost;
}

/* Whether a flag would lie on another mark. */
static gboolean
on_a_mark (const DewRect *rect, double point, const GArray *marks)
{
  const DewRect whole = { rect->x - point, rect->y, rect->width + 2 * point, rect->height };

  for (guint i = 0; i < marks->len; i++)
    if (dew_rects_meet (&whole, &g_array_index (marks, DewMark, i).rect, 0))
      return TRUE;
  return FALSE;
}

/* The tag itself; its pointed end is drawn toward the anchor. FALSE where there is no place
 * for it that is free of other marks. */
static gboolean
place_flag (DewMark *mark, const GArray *marks, const GArray *things, const DewSheetLayout *layout,
            double unit)
{
  double best_cost = INFINITY;
  DewRect best = mark->rect;

  for (guint i = 0; i < G_N_ELEMENTS (flag_offsets); i++)
    {
      double dx = flag_offsets[i][0] * unit;
      DewRect rect = mark->rect;
      double cost;

      rect.x = dx > 0 ? mark->from[0] + dx : mark->from[0] + dx - rect.width;
      rect.y = mark->from[1] + flag_offsets[i][1] * rect.height;
      if (rect.x < 2 || rect.y < 2 || rect.x + rect.width > layout->width - 2
          || rect.y + rect.height > layout->height - 2)
        continue;
      cost = flag_cost (&rect, flag_point (&rect, unit), marks, things, &layout->view[mark->view])
             + 0.25 * i;
      if (cost < best_cost)
        {
          best_cost = cost;
          best = rect;
        }
    }
  best.x = round (best.x);
  best.y = round (best.y);
  mark->rect = best;
  return isfinite (best_cost) && !on_a_mark (&best, flag_point (&best, unit), marks);
}

/* As large as its text. */
static void
size_flag (DewMark *mark, const DewTextMeter *meter)
{
  double width, height;

  dew_text_measure (meter, DEW_TEXT_FLAG, mark->text, &width, &height);
  mark->rect = (DewRect){ mark->from[0], mark->from[1], round (width + 2 * FLAG_PAD * meter->unit),
                          round (height + 5 * meter->unit) };
}

static GArray *
thing_rects (const DewSheet *sheet, const DewSheetLayout *layout, DewView view)
{
  GArray *rects = g_array_new (FALSE, FALSE, sizeof (DewRect));

  for (guint i = 0; i < sheet->variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (sheet->variant->things, DewThing, i);
      DewRect rect;

      if (!dew_view_shows (sheet, layout, view, thing))
        continue;
      dew_view_thing_rect (sheet, layout, view, thing, &rect);
      g_array_append_val (rects, rect);
    }
  return rects;
}

/* Flags make way for the marks of the places as for things. */
static void
add_place_rects (GArray *rects, const DewTextMeter *meter, const DewSheet *sheet,
                 const DewSheetLayout *layout)
{
  g_autoptr (GArray) places = dew_sheet_plan_places (sheet, layout);
  double half = 6 * meter->unit;

  for (guint i = 0; i < places->len; i++)
    {
      const double *at = g_array_index (places, DewPlanPlace, i).at_px;
      DewRect rect = { at[0] - half, at[1] - half, 2 * half, 2 * half };

      g_array_append_val (rects, rect);
    }
}

void
dew_marks_add_flags (GArray *marks, const DewTextMeter *meter, const DewSheet *sheet,
                     const DewSheetLayout *layout, DewView view)
{
  const DewForecast *forecast = sheet->forecast;
  const double roomy = 200; /* px of width from which flags carry their word */
  g_autoptr (GArray) things = NULL;
  const DewRect *rect = &layout->view[view];
  gboolean words = view == DEW_VIEW_FRONT && rect->width > roomy * meter->unit;

  if (forecast == NULL || sheet->cannot != NULL || !layout->shown[view])
    return;

  things = thing_rects (sheet, layout, view);
  if (view == DEW_VIEW_PLAN)
    add_place_rects (things, meter, sheet, layout);
  for (int i = 0; i < forecast->n_findings; i++)
    {
      const DewFinding *finding = &forecast->findings[i];
      DewMark mark = { .kind = DEW_MARK_FLAG, .view = view, .index = i, .verdict = -1 };

      /* The plan repeats the numbers of its own bay, without the word. */
      if (view == DEW_VIEW_PLAN
          && (finding->at_m[2] < layout->plan_lo_m - 1e-3
              || finding->at_m[2] > layout->plan_hi_m + 1e-3))
        continue;
      if (words)
        {
          g_autofree char *flag = dew_finding_flag (finding);

          g_snprintf (mark.text, sizeof mark.text, "%d  %s", i + 1, flag);
        }
      else
        g_snprintf (mark.text, sizeof mark.text, "%d", i + 1);
      dew_layout_to_screen (layout, view, finding->at_m, mark.from);
      mark.from[0] = CLAMP (mark.from[0], rect->x, rect->x + rect->width);
      mark.from[1] = CLAMP (mark.from[1], rect->y, rect->y + rect->height);
      mark.to[0] = mark.from[0];
      mark.to[1] = mark.from[1];

      /* The worse come first. Who finds no place gives up its word, then goes: its line in the
       * list remains. */
      size_flag (&mark, meter);
      if (!place_flag (&mark, marks, things, layout, meter->unit))
        {
          g_snprintf (mark.text, sizeof mark.text, "%d", i + 1);
          size_flag (&mark, meter);
          if (!place_flag (&mark, marks, things, layout, meter->unit))
            continue;
        }
      g_array_append_val (marks, mark);
    }
}

/* --- painting ---------------------------------------------------------------------- */

/* A tag with one pointed end on the side of its anchor, a hair to the anchor. */
void
dew_paint_flag (const DewPen *pen, const DewMark *mark)
{
  const DewRect *r = &mark->rect;
  gboolean lit = mark->index == pen->sheet->highlighted_finding;
  gboolean points_left = r->x + r->width / 2 >= mark->from[0];
  double point = flag_point (r, pen->unit), middle = r->y + r->height / 2;
  double tip = points_left ? r->x - point : r->x + r->width + point;
  const DewColour *ink = lit ? &pen->palette->accent : &pen->palette->ink;
  const double dash[] = { 3, 2.5 };

  cairo_set_line_width (pen->cr, lit ? DEW_LINE_OUTLINE : 1);
  dew_pen_colour (pen, ink, 1);
  dew_pen_line (pen, tip, middle, mark->from[0], mark->from[1]);
  cairo_arc (pen->cr, mark->from[0], mark->from[1], 2, 0, 2 * G_PI);
  cairo_fill (pen->cr);

  cairo_new_path (pen->cr);
  cairo_move_to (pen->cr, tip, middle);
  if (points_left)
    {
      cairo_line_to (pen->cr, r->x, r->y + 0.5);
      cairo_line_to (pen->cr, r->x + r->width - 0.5, r->y + 0.5);
      cairo_line_to (pen->cr, r->x + r->width - 0.5, r->y + r->height - 0.5);
      cairo_line_to (pen->cr, r->x, r->y + r->height - 0.5);
    }
  else
    {
      cairo_line_to (pen->cr, r->x + r->width, r->y + 0.5);
      cairo_line_to (pen->cr, r->x + 0.5, r->y + 0.5);
      cairo_line_to (pen->cr, r->x + 0.5, r->y + r->height - 0.5);
      cairo_line_to (pen->cr, r->x + r->width, r->y + r->height - 0.5);
    }
  cairo_close_path (pen->cr);
  dew_pen_colour (pen, &pen->palette->body, pen->sheet->following ? 0.45 : 1);
  cairo_fill_preserve (pen->cr);
  dew_pen_colour (pen, ink, 1);
  if (pen->sheet->following)
    cairo_set_dash (pen->cr, dash, 2, 0);
  cairo_stroke (pen->cr);
  cairo_set_dash (pen->cr, NULL, 0, 0);
  dew_pen_text (pen, DEW_TEXT_FLAG, ink, 1, r->x + r->width / 2, middle, 0.5, 0.5, mark->text);
}
