/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/rows.h"

#include "say/findings.h"
#include "say/where.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define DIMENSION_GAP 36.0  /* from a wall to its first dimension line: flaps lift into it */
#define DIMENSION_NEXT 60.0 /* from there to the chain of the overall height */
#define DIMENSION_BELOW 26.0
#define CAPTION_ABOVE 34.0

/* --- captions ---------------------------------------------------------------- */

static void
add_caption (GArray *marks, const DewTextMeter *meter, const DewSheetLayout *layout, DewView view,
             double above, const char *text)
{
  const DewRect *rect = &layout->view[view];
  DewMark mark = { .kind = DEW_MARK_CAPTION, .view = view, .index = -1, .verdict = -1 };
  double width, height;

  g_strlcpy (mark.text, text, sizeof mark.text);
  dew_text_measure (meter, DEW_TEXT_CAPTION, text, &width, &height);
  mark.rect
    = (DewRect){ rect->x, round (rect->y - above * meter->unit - height / 2), width, height };
  g_array_append_val (marks, mark);
}

/* At the right end of a view: takes the side view for the plans, or back. */
static void
add_switch (GArray *marks, const DewTextMeter *meter, const DewSheet *sheet,
            const DewSheetLayout *layout)
{
  DewView view = layout->shown[DEW_VIEW_SIDE]   ? DEW_VIEW_SIDE
                 : layout->shown[DEW_VIEW_PLAN] ? DEW_VIEW_PLAN
                                                : DEW_VIEW_FRONT;
  const DewRect *rect
    = layout->n_plans > 0 ? &layout->plan[layout->n_plans - 1] : &layout->view[view];
  /* Translators: captions of the drawing that take one view for another when clicked */
  const char *text = sheet->side_instead ? _ ("Plans ›") : _ ("Side ›");
  DewMark mark = { .kind = DEW_MARK_SWITCH, .view = view, .index = -1, .verdict = -1 };
  double width, height;

  if (!layout->can_switch || layout->plan_large || sheet->on_paper)
    return;
  g_strlcpy (mark.text, text, sizeof mark.text);
  dew_text_measure (meter, DEW_TEXT_CAPTION, text, &width, &height);
  mark.rect
    = (DewRect){ rect->x + rect->width - width,
                 round (layout->view[DEW_VIEW_FRONT].y - CAPTION_ABOVE * meter->unit - height / 2),
                 width, height };
  /* A narrow front view leaves its caption no room beside it: over the values, then. */
  for (guint i = 0; i < marks->len; i++)
    if (dew_rects_meet (&mark.rect, &g_array_index (marks, DewMark, i).rect, 6 * meter->unit))
      mark.rect.x = layout->view[DEW_VIEW_FRONT].x + layout->view[DEW_VIEW_FRONT].width
                    + DEW_LABEL_GAP * meter->unit;
  if (mark.rect.x + width <= layout->width)
    g_array_append_val (marks, mark);
}

/* What stands out in a bay, in one word each, as many as fit. */
static void
bay_words (const DewSheet *sheet, const DewTextMeter *meter, int bay, double room, char *out,
           gsize size)
{
  const DewForecast *forecast = sheet->forecast;
  DewVerdict verdict = dew_bay_verdict (forecast, bay);
  g_autoptr (GString) text = g_string_new (dew_verdict_word (verdict));
  gboolean first = TRUE;

  for (int i = 0; i < forecast->n_findings && verdict != DEW_VERDICT_FINE; i++)
    {
      g_autofree char *flag = NULL, *longer = NULL;
      double width, height;

      if (forecast->findings[i].bay != bay)
        continue;
      flag = dew_finding_flag (&forecast->findings[i]);
      if (strstr (text->str, flag) != NULL)
        continue;
      longer = g_strdup_printf (first ? "%s: %s" : "%s, %s", text->str, flag);
      dew_text_measure (meter, DEW_TEXT_NUMBER, longer, &width, &height);
      if (width > room)
        break;
      g_string_assign (text, longer);
      first = FALSE;
    }
  g_strlcpy (out, text->str, size);
}

/* Over each plan of the row its bay, and what is amiss there. */
static void
add_plan_captions (GArray *marks, const DewTextMeter *meter, const DewSheet *sheet,
                   const DewSheetLayout *layout)
{
  for (int bay = 0; bay < layout->n_plans; bay++)
    {
      gboolean large = layout->plan_large && bay == sheet->plan_bay;
      const DewRect *rect = large ? &layout->view[DEW_VIEW_PLAN] : &layout->plan[bay];
      g_autofree char *name = dew_bay_name (bay, layout->n_plans);
      DewMark mark = { .kind = DEW_MARK_PLAN, .view = DEW_VIEW_PLAN, .index = bay, .verdict = -1 };
      double width, height;

      if (!large && !dew_layout_shows_plan (layout, bay))
        continue;
      g_strlcpy (mark.text, name, sizeof mark.text);
      dew_text_measure (meter, DEW_TEXT_NUMBER, name, &width, &height);
      mark.rect
        = (DewRect){ rect->x, round (rect->y - height - 2 * meter->unit), rect->width, height };
      if (sheet->forecast != NULL && sheet->cannot == NULL && bay < sheet->forecast->n_bays)
        {
          double room = rect->width - width - 10 * meter->unit;

          bay_words (sheet, meter, bay, room, mark.below, sizeof mark.below);
          dew_text_measure (meter, DEW_TEXT_NUMBER, mark.below, &width, &height);
          if (width > room)
            mark.below[0] = '\0';
        }
      g_array_append_val (marks, mark);
    }
}

static void
add_captions (GArray *marks, const DewTextMeter *meter, const DewSheet *sheet,
              const DewSheetLayout *layout, int n_bays)
{
  g_autofree char *bay = dew_bay_name (CLAMP (sheet->plan_bay, 0, n_bays - 1), n_bays);
  /* Translators: the plan; %s is a bay, as in 'Lowest shelf' */
  g_autofree char *plan
    = n_bays > 1 ? g_strdup_printf (_ ("%s from above"), bay) : g_strdup (_ ("Inside from above"));

  add_caption (marks, meter, layout, DEW_VIEW_FRONT, CAPTION_ABOVE, _ ("Front"));
  if (layout->shown[DEW_VIEW_SIDE] && !layout->plan_large)
    add_caption (marks, meter, layout, DEW_VIEW_SIDE, CAPTION_ABOVE, _ ("Right side"));
  if (layout->n_plans > 1)
    add_plan_captions (marks, meter, sheet, layout);
  else if (layout->shown[DEW_VIEW_PLAN])
    {
      gboolean level = layout->view[DEW_VIEW_PLAN].y == layout->view[DEW_VIEW_FRONT].y;

      add_caption (marks, meter, layout, DEW_VIEW_PLAN, level ? CAPTION_ABOVE : 15, plan);
    }
  add_switch (marks, meter, sheet, layout);
}

/* --- dimensions ---------------------------------------------------------------- */

/* A level dimension line under a view. */
static void
add_width (GArray *marks, const DewTextMeter *meter, const DewSheet *sheet,
           const DewSheetLayout *layout, DewView view)
{
  const DewRect *rect = &layout->view[view];
  int axis = dew_view_across (view);
  double y = dew_crisp (rect->y + rect->height + DIMENSION_BELOW * meter->unit);
  DewMark mark = { .kind = DEW_MARK_DIMENSION,
                   .view = view,
                   .axis = axis,
                   .index = -1,
                   .from = { rect->x, y },
                   .to = { rect->x + rect->width, y } };
  g_autofree char *text = dew_length_text (sheet->chamber->outer_m[axis], sheet->tongue);
  double width, height;

  g_strlcpy (mark.text, text, sizeof mark.text);
  dew_text_measure (meter, DEW_TEXT_NUMBER, text, &width, &height);
  mark.rect = (DewRect){ rect->x + (rect->width - width) / 2, y + 4 * meter->unit, width, height };
  g_array_append_val (marks, mark);
}

/* A standing dimension line left of a view, its number beside it. */
static void
add_height (GArray *marks, const DewTextMeter *meter, DewView view, double x, double y0, double y1,
            int axis, int index, gboolean upright, const char *text)
{
  DewMark mark = { .kind = DEW_MARK_DIMENSION,
                   .view = view,
                   .axis = axis,
                   .index = index,
                   .from = { x, y0 },
                   .to = { x, y1 },
                   .upright = upright };
  double width, height, gap = 8 * meter->unit;

  dew_text_measure (meter, DEW_TEXT_NUMBER, text, &width, &height);
  g_strlcpy (mark.text, text, sizeof mark.text);
  /* Between the two chains there is room for '40.5 cm'; a longer number leaves its
   * unit to its neighbours. */
  if (!upright && width > DIMENSION_NEXT * meter->unit - 1.5 * gap)
    {
      char *unit = strrchr (mark.text, ' ');

      if (unit != NULL)
        *unit = '\0';
      dew_text_measure (meter, DEW_TEXT_NUMBER, mark.text, &width, &height);
    }
  if (upright)
    mark.rect = (DewRect){ x - gap / 2 - height, (y0 + y1 - width) / 2, height, width };
  else
    mark.rect = (DewRect){ x - gap - width, (y0 + y1 - height) / 2, width, height };
  /* A number that is taller than what it measures would sit on its neighbour. */
  if (!upright && fabs (y1 - y0) < height)
    return;
  g_array_append_val (marks, mark);
}

/* How deep the places of the plan are: a chain beside it. FALSE where there is only
 * one row, or none. */
static gboolean
add_rows (GArray *marks, const DewTextMeter *meter, const DewSheet *sheet,
          const DewSheetLayout *layout, double x)
{
  g_autoptr (GArray) places = dew_sheet_plan_places (sheet, layout);
  guint before = marks->len, n = 0;

  for (guint i = 0; i < places->len; i++)
    {
      const DewPlanPlace *one = &g_array_index (places, DewPlanPlace, i);
      const DewPlace *place = &sheet->forecast->places[one->place];
      g_autofree char *text = dew_length_text (place->hi_m[1] - place->lo_m[1], sheet->tongue);

      if (place->column != 0)
        continue;
      n++;
      add_height (marks, meter, DEW_VIEW_PLAN, x, one->rect.y + one->rect.height, one->rect.y, 1,
                  (int) n - 1, FALSE, text);
    }
  for (guint i = before; i < marks->len; i++)
    g_array_index (marks, DewMark, i).kind = DEW_MARK_MEASURE;
  if (n < 2)
    g_array_set_size (marks, before);
  return n >= 2;
}

/* How wide the places of a plan beside the side view are: a chain under it. The width of
 * the whole stands under the front view. */
static void
add_columns (GArray *marks, const DewTextMeter *meter, const DewSheet *sheet,
             const DewSheetLayout *layout)
{
  const DewRect *plan = &layout->view[DEW_VIEW_PLAN];
  double y = dew_crisp (plan->y + plan->height + DIMENSION_BELOW * meter->unit);
  g_autoptr (GArray) places = dew_sheet_plan_places (sheet, layout);
  guint before = marks->len;
  gboolean fits = TRUE;

  for (guint i = 0; i < places->len; i++)
    {
      const DewPlanPlace *one = &g_array_index (places, DewPlanPlace, i);
      const DewPlace *place = &sheet->forecast->places[one->place];
      DewMark mark = { .kind = DEW_MARK_MEASURE,
                       .view = DEW_VIEW_PLAN,
                       .axis = 0,
                       .index = place->column,
                       .from = { one->rect.x, y },
                       .to = { one->rect.x + one->rect.width, y } };
      g_autofree char *text = dew_length_text (place->hi_m[0] - place->lo_m[0], sheet->tongue);
      double width, height;

      if (place->row != 0)
        continue;
      g_strlcpy (mark.text, text, sizeof mark.text);
      dew_text_measure (meter, DEW_TEXT_NUMBER, text, &width, &height);
      fits = fits && width + 8 * meter->unit < one->rect.width;
      mark.rect = (DewRect){ one->rect.x + (one->rect.width - width) / 2, y + 4 * meter->unit,
                             width, height };
      g_array_append_val (marks, mark);
    }
  if (!fits || marks->len < before + 2)
    g_array_set_size (marks, before);
}

static void
add_dimensions (GArray *marks, const DewTextMeter *meter, const DewSheet *sheet,
                const DewSheetLayout *layout, const double *z_m, int n_bays)
{
  const DewRect *front = &layout->view[DEW_VIEW_FRONT];
  const DewRect *plan = &layout->view[DEW_VIEW_PLAN];
  double x = dew_crisp (front->x - DIMENSION_GAP * meter->unit);
  g_autofree char *overall = dew_length_text (sheet->chamber->outer_m[2], sheet->tongue);
  g_autofree char *deep = dew_length_text (sheet->chamber->outer_m[1], sheet->tongue);

  for (int bay = 0; bay < n_bays && n_bays > 1; bay++)
    {
      g_autofree char *text = dew_length_text (z_m[bay + 1] - z_m[bay], sheet->tongue);
      double y0 = front->y + front->height - z_m[bay] / layout->inner_m[2] * front->height;
      double y1 = front->y + front->height - z_m[bay + 1] / layout->inner_m[2] * front->height;

      add_height (marks, meter, DEW_VIEW_FRONT, x, y0, y1, 2, bay, FALSE, text);
    }
  if (n_bays > 1)
    x = dew_crisp (x - DIMENSION_NEXT * meter->unit);
  add_height (marks, meter, DEW_VIEW_FRONT, x, front->y + front->height, front->y, 2, -1, TRUE,
              overall);

  add_width (marks, meter, sheet, layout, DEW_VIEW_FRONT);
  if (layout->shown[DEW_VIEW_SIDE] && !layout->plan_large)
    add_width (marks, meter, sheet, layout, DEW_VIEW_SIDE);
  if (layout->n_plans > 0 && !layout->plan_large)
    return;
  if (layout->plan_large)
    {
      add_rows (marks, meter, sheet, layout, dew_crisp (plan->x - 8 * meter->unit));
      add_columns (marks, meter, sheet, layout);
    }
  else if (layout->shown[DEW_VIEW_PLAN] && layout->plan_below)
    {
      double chain = dew_crisp (plan->x - DIMENSION_GAP * meter->unit);
      gboolean rows = add_rows (marks, meter, sheet, layout, chain);

      add_height (marks, meter, DEW_VIEW_PLAN,
                  rows ? dew_crisp (chain - DIMENSION_NEXT * meter->unit) : chain,
                  plan->y + plan->height, plan->y, 1, -1, TRUE, deep);
    }
  else if (layout->shown[DEW_VIEW_PLAN])
    add_columns (marks, meter, sheet, layout);
}

/* --- values of the bays ----------------------------------------------------------- */

/* The number before the last change, where it reads differently. */
static void
fill_before (DewMark *mark, const DewSheet *sheet, int bay)
{
  DewFigure was;

  if (sheet->before == NULL || bay >= sheet->n_before || sheet->n_before != sheet->forecast->n_bays
      || mark->text[0] == '\0')
    return;
  was = dew_value_figure (sheet->coloured,
                          dew_climate_value (&sheet->before[bay], sheet->coloured, NULL),
                          sheet->tongue);
  if (was.unit[0] != '\0' && !g_str_equal (was.number, mark->text))
    g_strlcpy (mark->was, was.number, sizeof mark->was);
}

static void
fill_bay_label (DewMark *mark, const DewSheet *sheet, const DewClimate *climate)
{
  DewValue other = sheet->coloured == DEW_VALUE_TEMPERATURE ? DEW_VALUE_RH : DEW_VALUE_TEMPERATURE;
  double band, value = dew_climate_value (climate, sheet->coloured, &band);
  DewFigure figure = dew_value_figure (sheet->coloured, value, sheet->tongue);
  gboolean measured = figure.unit[0] != '\0';
  g_autofree char *band_text = dew_band_text (sheet->coloured, band, sheet->tongue);
  g_autofree char *other_text
    = dew_value_text (other, dew_climate_value (climate, other, NULL), sheet->tongue);

  /* Words without a figure are as small as a unit. */
  g_strlcpy (mark->text, measured ? figure.number : "", sizeof mark->text);
  g_strlcpy (mark->unit, measured ? figure.unit : figure.number, sizeof mark->unit);
  if (band_text != NULL)
    g_snprintf (mark->below, sizeof mark->below, "%s  %s", band_text, other_text);
  else
    g_strlcpy (mark->below, other_text, sizeof mark->below);
}

/* Labels keep to the middle of their bay and give way to each other upward,
 * then downward when the roof is reached. */
static void
spread_labels (GArray *marks, guint first, double top, double bottom, double gap)
{
  double limit = bottom;

  for (guint i = first; i < marks->len; i++)
    {
      DewMark *mark = &g_array_index (marks, DewMark, i);

      mark->rect.y = MIN (mark->rect.y, limit - mark->rect.height);
      limit = mark->rect.y - gap;
    }
  limit = top;
  for (guint i = marks->len; i > first; i--)
    {
      DewMark *mark = &g_array_index (marks, DewMark, i - 1);

      mark->rect.y = MAX (mark->rect.y, limit);
      limit = mark->rect.y + mark->rect.height + gap;
    }
}

/* An enlarged plan may lie over the values; they would shine through. */
static void
drop_covered (GArray *marks, guint first, const DewRect *large)
{
  for (guint i = marks->len; i > first; i--)
    if (dew_rects_meet (&g_array_index (marks, DewMark, i - 1).rect, large, DEW_PLAN_CHAIN))
      g_array_remove_index (marks, i - 1);
}

/* px where something begins right of the values. */
static double
next_column (const DewSheetLayout *layout)
{
  double x = layout->width;

  if (layout->shown[DEW_VIEW_SIDE])
    x = MIN (x, layout->view[DEW_VIEW_SIDE].x);
  if (layout->n_plans > 0)
    x = MIN (x, layout->plan[0].x);
  else if (layout->shown[DEW_VIEW_PLAN] && !layout->plan_below)
    x = MIN (x, layout->view[DEW_VIEW_PLAN].x);
  return x - 8;
}

static void
add_bay_labels (GArray *marks, const DewTextMeter *meter, const DewSheet *sheet,
                const DewSheetLayout *layout)
{
  const DewForecast *forecast = sheet->forecast;
  const DewRect *front = &layout->view[DEW_VIEW_FRONT];
  guint first = marks->len;
  double full = 0, line, width, room;
  gboolean compact, tells;

  if (forecast == NULL || sheet->cannot != NULL || forecast->n_bays == 0)
    return;

  dew_text_measure (meter, DEW_TEXT_VALUE, "0", &width, &full);
  dew_text_measure (meter, DEW_TEXT_NUMBER, "0", &width, &line);
  room = (front->height + line) / forecast->n_bays;
  compact = room < full + line + 4 * meter->unit;
  tells = !sheet->on_paper && room > full + 2 * line + 6 * meter->unit;

  for (int bay = 0; bay < forecast->n_bays; bay++)
    {
      double middle_m = (forecast->bays[bay].z0_m + forecast->bays[bay].z1_m) / 2;
      double y = front->y + front->height - middle_m / layout->inner_m[2] * front->height;
      DewMark mark
        = { .kind = DEW_MARK_BAY, .view = DEW_VIEW_FRONT, .index = bay, .compact = compact };
      double unit_width, below_width;

      mark.verdict = tells ? (int) dew_bay_verdict (forecast, bay) : -1;
      fill_bay_label (&mark, sheet, &forecast->bays[bay].mean);
      fill_before (&mark, sheet, bay);
      dew_text_measure (meter, compact ? DEW_TEXT_NUMBER : DEW_TEXT_VALUE, mark.text, &width,
                        &line);
      dew_text_measure (meter, DEW_TEXT_NUMBER, mark.unit, &unit_width, &line);
      dew_text_measure (meter, DEW_TEXT_NUMBER, mark.below, &below_width, &line);
      width += unit_width + 5 * meter->unit;
      if (mark.was[0] != '\0' && !compact)
        {
          double was_width, was_height;

          dew_text_measure (meter, DEW_TEXT_NUMBER, mark.was, &was_width, &was_height);
          was_width += 12 * meter->unit;
          if (layout->n_plans > 0
              && front->x + front->width + DEW_LABEL_GAP * meter->unit + width + was_width + 8
                   > layout->plan[0].x)
            mark.was[0] = '\0';
          else
            width += was_width;
        }
      /* In one line the second number goes where it would reach into the next column. */
      if (compact
          && front->x + front->width + DEW_LABEL_GAP * meter->unit + width + 10 * meter->unit
                 + below_width
               > next_column (layout))
        {
          mark.below[0] = '\0';
          below_width = -10 * meter->unit;
        }
      mark.rect.width = compact ? width + 10 * meter->unit + below_width : MAX (width, below_width);
      mark.rect.height = compact ? line : full + (tells ? 2 : 1) * line - 3 * meter->unit;
      mark.rect.x = front->x + front->width + DEW_LABEL_GAP * meter->unit;
      mark.rect.y = y - mark.rect.height / 2;
      mark.from[0] = front->x + front->width;
      mark.from[1] = y;
      g_array_append_val (marks, mark);
    }
  if (layout->plan_large)
    drop_covered (marks, first, &layout->view[DEW_VIEW_PLAN]);
  spread_labels (marks, first, front->y - line / 2, front->y + front->height + line / 2,
                 MIN (6 * meter->unit, 2));
  /* More bays than lines: what would lie on its neighbour goes, from the top. */
  for (guint i = marks->len; i > first + 1; i--)
    if (dew_rects_meet (&g_array_index (marks, DewMark, i - 1).rect,
                        &g_array_index (marks, DewMark, i - 2).rect, -0.5))
      g_array_remove_index (marks, i - 1);
}

/* --- all of them ---------------------------------------------------------------- */

static void
add_plan_flags (GArray *marks, const DewTextMeter *meter, const DewSheet *sheet,
                const DewSheetLayout *layout)
{
  const DewPen pen = { .sheet = sheet, .layout = layout };

  if (layout->n_plans == 0 || layout->plan_large)
    dew_marks_add_flags (marks, meter, sheet, layout, DEW_VIEW_PLAN);
  for (int bay = 0; bay < layout->n_plans; bay++)
    {
      DewSheetLayout one_layout;
      DewSheet one;
      DewPen part;

      if (!dew_layout_shows_plan (layout, bay))
        continue;
      dew_pen_plan (&pen, bay, &one, &one_layout, &part);
      dew_marks_add_flags (marks, meter, &one, &one_layout, DEW_VIEW_PLAN);
    }
}

/* Who stays where two would lie on each other: the first. */
static int
importance (const DewMark *mark)
{
  switch (mark->kind)
    {
    case DEW_MARK_BAY:
      return 0;
    case DEW_MARK_PLAN:
    case DEW_MARK_DIMENSION:
      return 1;
    case DEW_MARK_CAPTION:
    case DEW_MARK_SWITCH:
      return 2;
    default:
      return 3;
    }
}

static gboolean
has_room (const DewMark *mark, const DewSheetLayout *layout)
{
  const DewRect *r = &mark->rect;

  if (r->x < 0 || r->y < 0 || r->x + r->width > layout->width + 0.5
      || r->y + r->height > layout->height + 0.5 || dew_rects_meet (r, &layout->legend, -0.5))
    return FALSE;
  for (int view = 0; view < DEW_N_VIEWS; view++)
    if (layout->shown[view] && dew_rects_meet (r, &layout->view[view], 0))
      return FALSE;
  return TRUE;
}

/* Labels keep out of each other's way, always: what has no room on a small sheet goes, the
 * less important first. */
static void
tidy (GArray *marks, const DewSheetLayout *layout)
{
  g_autoptr (GArray) kept = g_array_new (FALSE, FALSE, sizeof (DewMark));

  for (int rank = 0; rank <= 3; rank++)
    for (guint i = 0; i < marks->len; i++)
      {
        const DewMark *mark = &g_array_index (marks, DewMark, i);
        gboolean free_place = importance (mark) == rank && has_room (mark, layout);

        for (guint k = 0; k < kept->len && free_place; k++)
          free_place = !dew_rects_meet (&mark->rect, &g_array_index (kept, DewMark, k).rect, -0.5);
        if (free_place)
          g_array_append_val (kept, *mark);
      }
  g_array_set_size (marks, 0);
  g_array_append_vals (marks, kept->data, kept->len);
}

GArray *
dew_sheet_marks (const DewSheet *sheet, const DewSheetLayout *layout)
{
  GArray *marks = g_array_new (FALSE, FALSE, sizeof (DewMark));
  g_autofree double *z_m = NULL;
  int n_bays = dew_variant_bays (sheet->chamber, sheet->variant, &z_m, NULL);
  DewTextMeter meter;

  dew_text_meter_init (&meter, sheet);
  add_captions (marks, &meter, sheet, layout, n_bays);
  add_dimensions (marks, &meter, sheet, layout, z_m, n_bays);
  add_bay_labels (marks, &meter, sheet, layout);
  if (!(sheet->zoom > 1) && !sheet->on_paper)
    tidy (marks, layout);
  dew_marks_add_flags (marks, &meter, sheet, layout, DEW_VIEW_FRONT);
  add_plan_flags (marks, &meter, sheet, layout);
  dew_text_meter_clear (&meter);
  return marks;
}

/* --- painting them ----------------------------------------------------------------- */

static void
paint_tick (const DewPen *pen, double x, double y)
{
  double half = 4.5;

  dew_pen_line (pen, x - half, y + half, x + half, y - half);
}

/* The line, a tick at each end, and a hair toward what is measured. */
static void
paint_dimension (const DewPen *pen, const DewMark *mark)
{
  const DewRect *view = &pen->layout->view[mark->view];
  gboolean standing = mark->from[0] == mark->to[0];
  double y0 = standing ? dew_crisp (mark->from[1]) : mark->from[1];
  double y1 = standing ? dew_crisp (mark->to[1]) : mark->to[1];

  cairo_set_line_width (pen->cr, DEW_LINE_DETAIL);
  dew_pen_colour (pen, &pen->palette->ink_soft, 0.8);
  dew_pen_line (pen, mark->from[0], y0, mark->to[0], y1);
  paint_tick (pen, mark->from[0], y0);
  paint_tick (pen, mark->to[0], y1);

  dew_pen_colour (pen, &pen->palette->ink_soft, 0.35);
  if (standing)
    {
      dew_pen_line (pen, mark->from[0] - 6, y0, view->x - 4, y0);
      dew_pen_line (pen, mark->from[0] - 6, y1, view->x - 4, y1);
    }
  else
    {
      double foot = view->y + view->height + 4;

      dew_pen_line (pen, dew_crisp (mark->from[0]), foot, dew_crisp (mark->from[0]), y0 + 6);
      dew_pen_line (pen, dew_crisp (mark->to[0]), foot, dew_crisp (mark->to[0]), y0 + 6);
    }

  if (mark->upright)
    dew_pen_text_upright (pen, DEW_TEXT_NUMBER, &pen->palette->ink_soft, 1,
                          mark->rect.x + mark->rect.width / 2, mark->rect.y + mark->rect.height / 2,
                          mark->text);
  else
    dew_pen_text (pen, DEW_TEXT_NUMBER, &pen->palette->ink_soft, 1, mark->rect.x, mark->rect.y, 0,
                  0, mark->text);
}

static void
paint_verdict_line (const DewPen *pen, const DewMark *mark, double x, double y, double alpha)
{
  double half = 4.5 * pen->unit, width, height;
  const char *word = dew_verdict_word (mark->verdict);
  DewTextMeter meter;

  dew_text_meter_init (&meter, pen->sheet);
  dew_text_measure (&meter, DEW_TEXT_FLAG, word, &width, &height);
  dew_text_meter_clear (&meter);
  dew_paint_verdict (pen->cr, pen->palette, mark->verdict, x + half, y + height / 2, half);
  dew_pen_text (pen, DEW_TEXT_FLAG, &pen->palette->ink, alpha, x + 2 * half + 5 * pen->unit, y, 0,
                0, word);
}

/* The old number struck through, beside the new one. */
static void
paint_before (const DewPen *pen, const DewMark *mark, double x, double y, double height)
{
  double width, own;
  DewTextMeter meter;

  dew_text_meter_init (&meter, pen->sheet);
  dew_text_measure (&meter, DEW_TEXT_NUMBER, mark->was, &width, &own);
  dew_text_meter_clear (&meter);
  dew_pen_text (pen, DEW_TEXT_NUMBER, &pen->palette->ink_soft, 1, x, y, 0, 0, mark->was);
  dew_pen_colour (pen, &pen->palette->ink_soft, 1);
  cairo_set_line_width (pen->cr, 1);
  dew_pen_line (pen, x - 1, dew_crisp (y + 0.55 * height), x + width + 1,
                dew_crisp (y + 0.55 * height));
}

static void
paint_plan_caption (const DewPen *pen, const DewMark *mark)
{
  gboolean chosen = mark->index == pen->sheet->plan_bay;
  const DewColour *ink = mark->index == pen->sheet->hover_bay ? &pen->palette->accent
                         : chosen                             ? &pen->palette->ink
                                                              : &pen->palette->ink_soft;

  dew_pen_text (pen, chosen ? DEW_TEXT_FLAG : DEW_TEXT_NUMBER, ink, 1, mark->rect.x, mark->rect.y,
                0, 0, mark->text);
  dew_pen_text (pen, DEW_TEXT_NUMBER, &pen->palette->ink_soft, 1, mark->rect.x + mark->rect.width,
                mark->rect.y, 1, 0, mark->below);
}

static void
paint_bay_label (const DewPen *pen, const DewTextMeter *meter, const DewMark *mark)
{
  const double alpha = 1;
  const DewColour *ink
    = mark->index == pen->sheet->hover_bay ? &pen->palette->accent : &pen->palette->ink;
  DewTextStyle style = mark->compact ? DEW_TEXT_NUMBER : DEW_TEXT_VALUE;
  double width, height, small_height, unit_width, x = mark->rect.x;

  dew_text_measure (meter, style, mark->text, &width, &height);
  dew_text_measure (meter, DEW_TEXT_NUMBER, mark->unit, &unit_width, &small_height);
  if (mark->text[0] == '\0')
    width = -5 * pen->unit;
  else
    /* On its way a number is open. */
    (pen->sheet->following ? dew_pen_text_open : dew_pen_text_at) (pen, style, ink, x, mark->rect.y,
                                                                   mark->text);

  /* Unit on the baseline of the number: both faces put it at about 0.78. */
  dew_pen_text (pen, DEW_TEXT_NUMBER, ink, alpha, x + width + 5 * pen->unit,
                mark->rect.y + 0.78 * (height - small_height), 0, 0, mark->unit);
  if (mark->was[0] != '\0' && !mark->compact)
    paint_before (pen, mark, x + width + unit_width + 12 * pen->unit,
                  mark->rect.y + 0.78 * (height - small_height), small_height);
  if (mark->compact)
    dew_pen_text (pen, DEW_TEXT_NUMBER, &pen->palette->ink_soft, alpha,
                  x + width + unit_width + 15 * pen->unit, mark->rect.y, 0, 0, mark->below);
  else
    dew_pen_text (pen, DEW_TEXT_NUMBER, &pen->palette->ink_soft, alpha, x,
                  mark->rect.y + height - 3 * pen->unit, 0, 0, mark->below);

  if (mark->verdict >= 0)
    paint_verdict_line (pen, mark, x, mark->rect.y + height + small_height - 3 * pen->unit, alpha);

  /* The bay whose plan is shown carries a bar on its side of the wall. */
  if (mark->index == pen->sheet->plan_bay && pen->layout->shown[DEW_VIEW_PLAN])
    {
      dew_pen_colour (pen, ink, alpha);
      cairo_set_line_width (pen->cr, 2);
      dew_pen_line (pen, x - 8 * pen->unit, mark->rect.y + 3, x - 8 * pen->unit,
                    mark->rect.y + mark->rect.height - 1);
    }
}

/* From the bay, seen from the side, to its plan: two hairs that open or close
 * like a projection. */
static void
paint_projection (const DewPen *pen)
{
  const DewSheetLayout *layout = pen->layout;
  const DewRect *side = &layout->view[DEW_VIEW_SIDE], *plan = &layout->view[DEW_VIEW_PLAN];
  const double gap = 8;
  double heights_m[2] = { layout->plan_hi_m, layout->plan_lo_m };

  if (!layout->shown[DEW_VIEW_SIDE] || !layout->shown[DEW_VIEW_PLAN] || layout->plan_below
      || layout->n_plans > 0)
    return;
  cairo_set_line_width (pen->cr, DEW_LINE_DETAIL);
  dew_pen_colour (pen, &pen->palette->ink_soft, 0.45);
  for (int i = 0; i < 2; i++)
    {
      double x, y;

      dew_pen_point (pen, DEW_VIEW_SIDE, layout->inner_m[1], heights_m[i], &x, &y);
      dew_pen_line (pen, side->x + side->width + gap, dew_crisp (y), plan->x - gap,
                    dew_crisp (plan->y + i * plan->height));
    }
}

void
dew_paint_marks (const DewPen *pen, const GArray *marks)
{
  DewTextMeter meter;

  paint_projection (pen);
  dew_text_meter_init (&meter, pen->sheet);
  for (guint i = 0; i < marks->len; i++)
    {
      const DewMark *mark = &g_array_index (marks, DewMark, i);

      switch (mark->kind)
        {
        case DEW_MARK_CAPTION:
          dew_pen_text (pen, DEW_TEXT_CAPTION, &pen->palette->ink_soft, 1, mark->rect.x,
                        mark->rect.y, 0, 0, mark->text);
          break;
        case DEW_MARK_DIMENSION:
        case DEW_MARK_MEASURE:
          paint_dimension (pen, mark);
          break;
        case DEW_MARK_PLAN:
          paint_plan_caption (pen, mark);
          break;
        case DEW_MARK_SWITCH:
          dew_pen_text (pen, DEW_TEXT_CAPTION, &pen->palette->accent, 1, mark->rect.x, mark->rect.y,
                        0, 0, mark->text);
          break;
        case DEW_MARK_BAY:
          paint_bay_label (pen, &meter, mark);
          break;
        case DEW_MARK_FLAG:
          dew_paint_flag (pen, mark);
          break;
        }
    }
  dew_text_meter_clear (&meter);
}
