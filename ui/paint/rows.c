/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every bay is a row: the front view as high as the sheet, level with each bay its values
 * and the plan of what stands there, all plans to one scale; the side view as one more
 * column where there is room. */
#include "paint/rows.h"

#include <math.h>

/* px at text scale 1 */
#define ROWS_LEFT 118.0 /* two chains of heights */
#define ROWS_RIGHT 28.0
#define ROWS_TOP 62.0  /* captions, what sits on the roof */
#define ROWS_FOOT 70.0 /* the width, and beside it the legend */
#define COLUMN_GAP 44.0
#define LEAST_PLAN 92.0 /* smaller plans say nothing: they fold away */
#define PLAN_APART 8.0  /* between a plan and the words over the next */
#define LEAST_LEGEND 300.0
#define LOW_LEGEND 44.0 /* more room at the foot, where it has none beside the width */
#define LARGE_MORE 1.35 /* an enlarged plan is so much larger at least */

/* The front view gives up to so much of its size for the plans beside it. */
#define LEAST_FRONT 0.8

/* --- how large ---------------------------------------------------------------------- */

/* Where the rows are as high as they can be, the plans are bound by the height of a row and
 * by the width that is left. */
static double
plan_scale (const DewRows *rows, const double inner_m[3], double scale, double across)
{
  double row = inner_m[2] * scale / rows->n_bays;
  double least = (row - (DEW_PLAN_CAPTION + PLAN_APART) * rows->unit) / inner_m[1];
  double left = (across - inner_m[0] * scale) / inner_m[0];

  /* One bay has the whole height, and its caption stands above the view. */
  if (rows->n_bays == 1)
    least = row / inner_m[1];
  return MIN (MIN (least, left), scale);
}

/* The front view as high as the sheet, and plans beside it if they are worth it. */
static void
fit_plans (DewRows *rows, const double inner_m[3], double across, double high)
{
  double alone = MIN (high, (across + ROWS_RIGHT * rows->unit) / inner_m[0]);

  rows->scale = alone;
  rows->plan_scale = 0;
  rows->has_plans = FALSE;
  for (double share = 1; share >= LEAST_FRONT - 1e-9 && !rows->has_plans; share -= 0.02)
    {
      double fits = plan_scale (rows, inner_m, share * alone, across);

      if (fits * inner_m[0] < LEAST_PLAN * rows->unit)
        continue;
      rows->has_plans = TRUE;
      rows->scale = share * alone;
      rows->plan_scale = fits;
    }
}

gboolean
dew_rows_fit (DewRows *rows, const DewSheet *sheet, const double inner_m[3], double width,
              double height)
{
  double unit = rows->unit;
  double across = width - ROWS_LEFT * unit - rows->labels - ROWS_RIGHT * unit;
  double high = (height - (ROWS_TOP + ROWS_FOOT) * unit) / inner_m[2];
  double plans, legend, low;

  rows->has_plans = rows->has_side = rows->low_legend = FALSE;
  if (rows->n_bays > DEW_MAX_PLANS)
    return FALSE;
  fit_plans (rows, inner_m, across, high);
  if (!rows->has_plans)
    return FALSE;
  plans = inner_m[0] * rows->plan_scale;
  legend = rows->labels - DEW_LABEL_GAP * unit + plans + (COLUMN_GAP - 30) * unit;
  rows->has_side
    = across - inner_m[0] * rows->scale - plans >= inner_m[1] * rows->scale + COLUMN_GAP * unit
      && legend >= LEAST_LEGEND * unit;
  if (rows->has_side || !sheet->side_instead)
    return TRUE;

  low = MIN (rows->scale, high - LOW_LEGEND * unit / inner_m[2]);
  if (across - inner_m[0] * low < inner_m[1] * low)
    return TRUE;
  rows->scale = low;
  rows->has_plans = FALSE;
  rows->has_side = rows->low_legend = TRUE;
  return TRUE;
}

/* --- where -------------------------------------------------------------------------- */

static double
level (const DewSheetLayout *layout, double z_m)
{
  const DewRect *front = &layout->view[DEW_VIEW_FRONT];

  return front->y + front->height * (1 - z_m / layout->inner_m[2]);
}

/* Plans keep to the middle of their bay and give way to each other upward, then downward. */
static void
place_plans (DewSheetLayout *layout, const DewRows *rows, double x, double scale)
{
  const DewRect *front = &layout->view[DEW_VIEW_FRONT];
  double apart = round ((DEW_PLAN_CAPTION + PLAN_APART) * rows->unit);
  double limit = front->y + front->height;

  layout->n_plans = rows->n_bays;
  layout->plan_scale_px_m = scale;
  for (int bay = 0; bay < rows->n_bays; bay++)
    {
      DewRect *plan = &layout->plan[bay];

      plan->width = round (layout->inner_m[0] * scale);
      plan->height = round (layout->inner_m[1] * scale);
      plan->x = x;
      plan->y = (level (layout, rows->z_m[bay]) + level (layout, rows->z_m[bay + 1]) - plan->height
                 + DEW_PLAN_CAPTION * rows->unit)
                / 2;
      plan->y = round (MIN (plan->y, limit - plan->height));
      limit = plan->y - apart;
    }
  limit = rows->n_bays == 1 ? front->y : front->y + round (DEW_PLAN_CAPTION * rows->unit);
  for (int bay = rows->n_bays - 1; bay >= 0; bay--)
    {
      layout->plan[bay].y = round (MAX (layout->plan[bay].y, limit));
      limit = layout->plan[bay].y + layout->plan[bay].height + apart;
    }
}

/* Over its row, as large as the columns right of the front view allow. */
static void
enlarge (const DewSheet *sheet, DewSheetLayout *layout, const DewRows *rows)
{
  const DewRect *front = &layout->view[DEW_VIEW_FRONT];
  double unit = rows->unit, right = layout->width - ROWS_RIGHT * unit;
  double top = (ROWS_TOP + DEW_PLAN_CAPTION) * unit, bottom = layout->height - ROWS_FOOT * unit;
  int bay = CLAMP (sheet->plan_bay, 0, layout->n_plans - 1);
  const DewRect *small = &layout->plan[bay];
  double chain = DEW_PLAN_CHAIN * unit, x = small->x + chain, scale = 0;
  DewRect *large = &layout->view[DEW_VIEW_PLAN];

  for (int tried = 0; tried < 2; tried++)
    {
      if (tried == 1)
        x = MAX (front->x + front->width, 0) + chain + 12 * unit;
      scale
        = MIN ((right - x) / layout->inner_m[0], (bottom - top - 34 * unit) / layout->inner_m[1]);
      if (scale >= LARGE_MORE * layout->plan_scale_px_m)
        break;
    }
  if (!(scale > layout->plan_scale_px_m))
    return;
  layout->plan_large = TRUE;
  /* It may reach over the side view, which comes back with the plans. */
  layout->shown[DEW_VIEW_SIDE] = FALSE;
  large->width = round (layout->inner_m[0] * scale);
  large->height = round (layout->inner_m[1] * scale);
  large->x = round (x);
  large->y = round (CLAMP (small->y + (small->height - large->height) / 2, top,
                           MAX (top, bottom - 34 * unit - large->height)));
}

void
dew_rows_place (const DewSheet *sheet, DewSheetLayout *layout, const DewRows *rows, double zoom,
                const double pan_px[2])
{
  DewRect *front = &layout->view[DEW_VIEW_FRONT], *side = &layout->view[DEW_VIEW_SIDE];
  double scale = rows->scale * zoom, unit = rows->unit, x, across;
  double foot = ROWS_FOOT + (rows->low_legend ? LOW_LEGEND : 0);
  double plans = rows->has_plans ? round (layout->inner_m[0] * rows->plan_scale * zoom) : 0;

  layout->scale_px_m = scale;
  layout->shown[DEW_VIEW_FRONT] = TRUE;
  layout->shown[DEW_VIEW_SIDE] = rows->has_side;
  layout->shown[DEW_VIEW_PLAN] = rows->has_plans;
  front->width = round (layout->inner_m[0] * scale);
  side->width = round (layout->inner_m[1] * scale);
  front->height = side->height = round (layout->inner_m[2] * scale);

  across = (ROWS_LEFT + ROWS_RIGHT) * unit + front->width + rows->labels + plans
           + (rows->has_side ? side->width : 0)
           + (rows->has_side && rows->has_plans ? COLUMN_GAP * unit : 0);
  front->x = round (ROWS_LEFT * unit + MAX (layout->width - across, 0) / 2 + pan_px[0]);
  front->y = round (ROWS_TOP * unit
                    + MAX (layout->height - (ROWS_TOP + foot) * unit - front->height, 0) * 0.45
                    + pan_px[1]);
  x = front->x + front->width + rows->labels;
  if (rows->has_plans)
    {
      place_plans (layout, rows, x, rows->plan_scale * zoom);
      dew_layout_choose_plan (layout, sheet->plan_bay);
      x += plans + COLUMN_GAP * unit;
    }
  side->x = round (x);
  side->y = front->y;
  if (sheet->plan_large && rows->has_plans)
    enlarge (sheet, layout, rows);
}

void
dew_rows_place_legend (DewSheetLayout *layout, const DewRows *rows)
{
  const DewRect *front = &layout->view[DEW_VIEW_FRONT], *side = &layout->view[DEW_VIEW_SIDE];
  double unit = rows->unit, right = layout->width - ROWS_RIGHT * unit;
  DewRect *legend = &layout->legend;

  legend->height = round (40 * unit);
  legend->x = round (rows->low_legend ? front->x : front->x + front->width + DEW_LABEL_GAP * unit);
  legend->y = round (
    MIN (front->y + front->height + 24 * unit, layout->height - legend->height - 4 * unit));
  if (rows->low_legend)
    legend->y = round (layout->height - legend->height - 4 * unit);
  /* The side view has its width under it. */
  else if (rows->has_side)
    right = side->x - 30 * unit;
  legend->width = MAX (MIN (right - legend->x, 470 * unit), 1);
}

/* --- which plan --------------------------------------------------------------------- */

void
dew_layout_choose_plan (DewSheetLayout *layout, int bay)
{
  if (layout->n_plans == 0)
    return;
  bay = CLAMP (bay, 0, layout->n_plans - 1);
  layout->view[DEW_VIEW_PLAN] = layout->plan[bay];
  layout->plan_lo_m = layout->plan_z_m[bay][0];
  layout->plan_hi_m = layout->plan_z_m[bay][1];
}

gboolean
dew_layout_shows_plan (const DewSheetLayout *layout, int bay)
{
  const DewRect *large = &layout->view[DEW_VIEW_PLAN];
  const DewRect *plan;

  g_return_val_if_fail (layout != NULL, FALSE);

  if (bay < 0 || bay >= layout->n_plans)
    return FALSE;
  plan = &layout->plan[bay];
  return !layout->plan_large || !dew_rects_meet (plan, large, 30);
}

int
dew_layout_plan_at (const DewSheetLayout *layout, double x, double y)
{
  g_return_val_if_fail (layout != NULL, -1);

  /* What is enlarged lies over the others, and is the chosen one. */
  if (layout->plan_large && dew_rect_holds (&layout->view[DEW_VIEW_PLAN], x, y, 20))
    return -1;
  for (int bay = 0; bay < layout->n_plans; bay++)
    if (dew_layout_shows_plan (layout, bay)
        && dew_rect_holds (&layout->plan[bay], x, y, PLAN_APART / 2))
      return bay;
  return -1;
}

void
dew_pen_fronts (const DewPen *pen, DewSheetLayout *layout, DewPen *out)
{
  *layout = *pen->layout;
  layout->shown[DEW_VIEW_PLAN] = FALSE;
  *out = *pen;
  out->layout = layout;
}

void
dew_pen_plan (const DewPen *pen, int bay, DewSheet *sheet, DewSheetLayout *layout, DewPen *out)
{
  *sheet = *pen->sheet;
  *layout = *pen->layout;
  *out = *pen;
  out->sheet = sheet;
  out->layout = layout;
  layout->shown[DEW_VIEW_FRONT] = layout->shown[DEW_VIEW_SIDE] = FALSE;
  if (bay >= 0)
    {
      sheet->plan_bay = bay;
      dew_layout_choose_plan (layout, bay);
      layout->plan_large = FALSE;
    }
  out->scale = layout->view[DEW_VIEW_PLAN].width / layout->inner_m[0];
}

gboolean
dew_pen_small (const DewPen *pen)
{
  return pen->layout->n_plans > 0 && !pen->layout->plan_large
         && !pen->layout->shown[DEW_VIEW_FRONT];
}
