/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/rows.h"

#include <math.h>
#include <string.h>

/* Room around the views, in px at text scale 1. */
#define MARGIN_LEFT 118.0 /* two chains of heights */
#define MARGIN_RIGHT 28.0
#define MARGIN_TOP 56.0       /* captions, what sits on the roof */
#define MARGIN_DIMENSION 50.0 /* under a view */
#define MARGIN_LEGEND 64.0
#define MARGIN_FOOT 8.0  /* where the legend is elsewhere */
#define LABEL_CLEAR 24.0 /* right of the bays' values: what lifts to the front */
#define VIEW_GAP 44.0
#define PLAN_CAPTION 30.0
#define PLAN_FOOT 22.0 /* under a plan at the foot: flaps that lift to the front */

void
dew_sheet_init (DewSheet *sheet, const DewChamber *chamber, const DewVariant *variant)
{
  g_return_if_fail (sheet != NULL && chamber != NULL && variant != NULL);

  memset (sheet, 0, sizeof *sheet);
  sheet->chamber = chamber;
  sheet->variant = variant;
  sheet->coloured = DEW_VALUE_RH;
  sheet->hover_bay = -1;
  sheet->highlighted_finding = -1;
  sheet->palette = dew_palette_get (FALSE, FALSE);
  sheet->text_scale = 1;
  sheet->zoom = 1;
}

gboolean
dew_sheet_selects (const DewSheet *sheet, guint id)
{
  if (id == 0)
    return FALSE;
  for (guint i = 0; i < sheet->n_selection; i++)
    if (sheet->selection[i] == id)
      return TRUE;
  return id == sheet->selected_id;
}

DewRange
dew_sheet_range (const DewSheet *sheet)
{
  DewRange range = sheet->range;

  if (sheet->fixed_scale)
    return dew_range_fixed (sheet->coloured, sheet->tongue);
  if (!(range.hi > range.lo))
    range = dew_range_choose (sheet->coloured, sheet->tongue, sheet->chamber);
  if (!(sheet->range.hi > sheet->range.lo) && sheet->forecast != NULL)
    dew_range_widen (&range, sheet->coloured, sheet->tongue, sheet->forecast);
  return range;
}

/* --- where the views go ----------------------------------------------------- */

typedef struct
{
  gboolean side, plan, plan_below;
} DewArrangement;

static const DewArrangement arrangements[] = {
  { FALSE, FALSE, FALSE }, { TRUE, FALSE, FALSE }, { FALSE, TRUE, TRUE },
  { TRUE, TRUE, FALSE },   { TRUE, TRUE, TRUE },   { FALSE, TRUE, FALSE },
};

/* Room that does not grow with the scale, px. */
typedef struct
{
  double unit;   /* text scale */
  double labels; /* the column of the bays' values, right of the front view */
} DewRoomPx;

/* Wide enough for any value in the user's font, so that the views stay where
 * they are when another one is coloured. */
static double
label_column (const DewSheet *sheet)
{
  static const char *const second_lines[] = { "± 0.00  20.0 °C", "± 9.9 min  20.0 °C" };
  double widest = 0, width, unit_width, height;
  DewTextMeter meter;

  dew_text_meter_init (&meter, sheet);
  for (guint i = 0; i < G_N_ELEMENTS (second_lines); i++)
    {
      dew_text_measure (&meter, DEW_TEXT_NUMBER, second_lines[i], &width, &height);
      widest = MAX (widest, width);
    }
  dew_text_measure (&meter, DEW_TEXT_VALUE, "000", &width, &height);
  dew_text_measure (&meter, DEW_TEXT_NUMBER, dew_value_unit (DEW_VALUE_PPFD, FALSE), &unit_width,
                    &height);
  widest = MAX (widest, width + unit_width + 5 * sheet->text_scale);
  dew_text_meter_clear (&meter);
  return ceil (widest + (DEW_LABEL_GAP + LABEL_CLEAR) * sheet->text_scale);
}

/* With a side view beside and a plan below, the corner between the two is free
 * for the legend. */
static gboolean
legend_in_corner (const DewArrangement *a)
{
  return a->side && a->plan_below;
}

static void
fixed_room (const DewArrangement *a, const DewRoomPx *room, double *across, double *down)
{
  gboolean beside = a->plan && !a->plan_below;

  *across = MARGIN_LEFT * room->unit + room->labels;
  if (a->side || beside)
    *across += MARGIN_RIGHT * room->unit;
  if (a->side && beside)
    *across += VIEW_GAP * room->unit;

  *down = MARGIN_TOP + MARGIN_DIMENSION + (legend_in_corner (a) ? MARGIN_FOOT : MARGIN_LEGEND);
  if (a->plan && a->plan_below)
    *down += PLAN_CAPTION + PLAN_FOOT;
  *down *= room->unit;
}

static double
fitting_scale (const DewArrangement *a, const double inner_m[3], double width, double height,
               const DewRoomPx *room)
{
  double across, down, metres_across, metres_down;

  fixed_room (a, room, &across, &down);
  metres_across
    = inner_m[0] + (a->side ? inner_m[1] : 0) + (a->plan && !a->plan_below ? inner_m[0] : 0);
  metres_down = inner_m[2];
  if (a->plan && a->plan_below)
    metres_down += inner_m[1];
  else if (a->plan)
    metres_down = MAX (metres_down, inner_m[1]);

  return MIN ((width - across) / metres_across, (height - down) / metres_down);
}

/* All three views belong together: whoever moves something sees at once what it
 * means in the others. But the front view is what one edits in, and where the
 * others would take more than half its size they fold away, the plan last. */
#define LEAST_SHARE 0.50
#define WORTH_SIDE 0.30
#define WORTH_PLAN 0.40

static const DewArrangement *
choose_arrangement (const double inner_m[3], double width, double height, const DewRoomPx *room,
                    double *scale)
{
  const DewArrangement *best = &arrangements[0];
  double alone = fitting_scale (best, inner_m, width, height, room);
  double best_score = alone;

  *scale = alone;
  for (guint i = 1; i < G_N_ELEMENTS (arrangements); i++)
    {
      const DewArrangement *a = &arrangements[i];
      double fits = fitting_scale (a, inner_m, width, height, room);
      double score = fits * (1 + (a->side ? WORTH_SIDE : 0) + (a->plan ? WORTH_PLAN : 0));

      if (fits < LEAST_SHARE * alone)
        continue;
      /* Among those with all views only size counts, and they come first. */
      if (a->side && a->plan)
        score += alone * 10;
      if (score <= best_score)
        continue;
      best = a;
      best_score = score;
      *scale = fits;
    }
  return best;
}

static void
bay_heights (const DewSheet *sheet, const double *z_m, const guint *shelf_id, int bay, double *lo_m,
             double *hi_m)
{
  const DewThing *shelf = dew_variant_thing (sheet->variant, shelf_id[bay]);

  *lo_m = z_m[bay] + (shelf != NULL ? shelf->shelf.thickness_m : 0);
  *hi_m = z_m[bay + 1];
}

static void
place_plan_beside (DewSheetLayout *layout, double x)
{
  const DewRect *front = &layout->view[DEW_VIEW_FRONT];
  DewRect *plan = &layout->view[DEW_VIEW_PLAN];
  double middle_m = (layout->plan_lo_m + layout->plan_hi_m) / 2;
  double y = front->y + front->height - middle_m * layout->scale_px_m - plan->height / 2;

  plan->x = x;
  plan->y = round (CLAMP (y, front->y, MAX (front->y, front->y + front->height - plan->height)));
}

/* Puts the views where they go at that scale, the drawing in the middle of the
 * sheet and then shifted. */
static void
place_views (DewSheetLayout *layout, const DewArrangement *arrangement, const DewRoomPx *room,
             double scale, const double pan_px[2])
{
  DewRect *front = &layout->view[DEW_VIEW_FRONT], *side = &layout->view[DEW_VIEW_SIDE];
  DewRect *plan = &layout->view[DEW_VIEW_PLAN];
  double across, down;

  layout->scale_px_m = scale;
  front->width = plan->width = round (layout->inner_m[0] * scale);
  side->width = round (layout->inner_m[1] * scale);
  front->height = side->height = round (layout->inner_m[2] * scale);
  plan->height = round (layout->inner_m[1] * scale);

  fixed_room (arrangement, room, &across, &down);
  across += front->width + (arrangement->side ? side->width : 0)
            + (arrangement->plan && !arrangement->plan_below ? plan->width : 0);
  down += front->height + (layout->plan_below ? plan->height : 0);

  front->x = round (MARGIN_LEFT * room->unit + MAX (layout->width - across, 0) / 2 + pan_px[0]);
  front->y = round (MARGIN_TOP * room->unit + MAX (layout->height - down, 0) * 0.45 + pan_px[1]);
  side->x = front->x + front->width + room->labels;
  side->y = front->y;
  if (layout->plan_below)
    {
      plan->x = front->x;
      plan->y = front->y + front->height + round ((MARGIN_DIMENSION + PLAN_CAPTION) * room->unit);
    }
  else if (arrangement->side)
    place_plan_beside (layout, side->x + side->width + round (VIEW_GAP * room->unit));
  else
    place_plan_beside (layout, side->x);
}

static void
place_legend (DewSheetLayout *layout, const DewArrangement *arrangement, double unit)
{
  const double widest = 440 * unit, narrowest = 300 * unit;
  const DewRect *front = &layout->view[DEW_VIEW_FRONT], *side = &layout->view[DEW_VIEW_SIDE];
  const DewRect *plan = &layout->view[DEW_VIEW_PLAN];
  double right = layout->width - MARGIN_RIGHT * unit;

  layout->legend.height = round (40 * unit);
  layout->legend.x = front->x;
  layout->legend.y = round (layout->height - layout->legend.height - 12 * unit);
  if (legend_in_corner (arrangement))
    {
      layout->legend.x = MAX (MIN (side->x, right - narrowest), plan->x + plan->width + 24 * unit);
      layout->legend.y = plan->y + plan->height - layout->legend.height;
    }
  layout->legend.width = MAX (MIN (widest, right - layout->legend.x), 1);
}

/* The views that stand beside or below the front view at its own scale: on paper, where a
 * drawing has one scale, and where the enclosure lies rather than stands. */
static void
lay_out_views (const DewSheet *sheet, DewSheetLayout *layout, const DewRoomPx *room)
{
  const double least_scale = 20; /* px per metre: a sheet too small still shows something */
  const double still[2] = { 0, 0 };
  gboolean to_scale = sheet->on_paper || sheet->exact_px_m > 0;
  const DewArrangement *arrangement;
  double scale;

  /* What stands high and has no room for its plans keeps its front view as large as can be. */
  if (!to_scale && layout->inner_m[2] >= layout->inner_m[0])
    {
      double alone
        = fitting_scale (&arrangements[0], layout->inner_m, layout->width, layout->height, room);
      double both
        = fitting_scale (&arrangements[1], layout->inner_m, layout->width, layout->height, room);

      layout->can_switch = both >= LEAST_SHARE * alone && alone > 0;
      arrangement = &arrangements[sheet->side_instead && layout->can_switch ? 1 : 0];
      scale = fitting_scale (arrangement, layout->inner_m, layout->width, layout->height, room);
    }
  else
    arrangement = choose_arrangement (layout->inner_m, layout->width, layout->height, room, &scale);

  scale = sheet->exact_px_m > 0 ? sheet->exact_px_m : MAX (scale, least_scale);
  layout->shown[DEW_VIEW_FRONT] = TRUE;
  layout->shown[DEW_VIEW_SIDE] = arrangement->side;
  layout->shown[DEW_VIEW_PLAN] = arrangement->plan;
  layout->plan_below = arrangement->plan && arrangement->plan_below;

  /* The legend stays where it is at rest, whatever is looked at closely. */
  place_views (layout, arrangement, room, scale, still);
  place_legend (layout, arrangement, sheet->text_scale);
  layout->fit_scale_px_m = scale;
  if (sheet->zoom > 1)
    place_views (layout, arrangement, room, scale * sheet->zoom, sheet->pan_px);
}

/* Where an enclosure lies, plans beside it must be worth more than one below. */
#define LEAST_PLAN_SHARE 0.5

static gboolean
lay_out_rows (const DewSheet *sheet, DewSheetLayout *layout, DewRows *rows)
{
  const double still[2] = { 0, 0 };
  DewSheet turned = *sheet;
  DewRows turns = *rows;

  if (sheet->on_paper || sheet->exact_px_m > 0
      || !dew_rows_fit (rows, sheet, layout->inner_m, layout->width, layout->height)
      || (layout->inner_m[2] < layout->inner_m[0]
          && rows->plan_scale < LEAST_PLAN_SHARE * rows->scale))
    return FALSE;
  turned.side_instead = !sheet->side_instead;
  dew_rows_fit (&turns, &turned, layout->inner_m, layout->width, layout->height);
  layout->can_switch = turns.has_plans != rows->has_plans;
  dew_rows_place (sheet, layout, rows, 1, still);
  dew_rows_place_legend (layout, rows);
  layout->fit_scale_px_m = rows->scale;
  if (sheet->zoom > 1)
    dew_rows_place (sheet, layout, rows, sheet->zoom, sheet->pan_px);
  return TRUE;
}

void
dew_sheet_layout (const DewSheet *sheet, double width, double height, DewSheetLayout *layout)
{
  g_autofree double *z_m = NULL;
  g_autofree guint *shelf_id = NULL;
  DewRoomPx room;
  DewRows rows;
  int n;

  g_return_if_fail (sheet != NULL && layout != NULL);

  memset (layout, 0, sizeof *layout);
  layout->width = width;
  layout->height = height;
  dew_chamber_inner_m (sheet->chamber, layout->inner_m);
  for (int axis = 0; axis < 3; axis++)
    layout->inner_m[axis] = MAX (layout->inner_m[axis], 1e-3);
  n = dew_variant_bays (sheet->chamber, sheet->variant, &z_m, &shelf_id);
  bay_heights (sheet, z_m, shelf_id, CLAMP (sheet->plan_bay, 0, n - 1), &layout->plan_lo_m,
               &layout->plan_hi_m);
  for (int bay = 0; bay < MIN (n, DEW_MAX_PLANS); bay++)
    bay_heights (sheet, z_m, shelf_id, bay, &layout->plan_z_m[bay][0], &layout->plan_z_m[bay][1]);

  room = (DewRoomPx){ sheet->text_scale, label_column (sheet) };
  rows = (DewRows){ .unit = room.unit, .labels = room.labels, .n_bays = n, .z_m = z_m };
  if (!lay_out_rows (sheet, layout, &rows))
    lay_out_views (sheet, layout, &room);
}

/* --- between px and metres --------------------------------------------------- */

double
dew_layout_view_scale (const DewSheetLayout *layout, DewView view)
{
  g_return_val_if_fail (layout != NULL && view < DEW_N_VIEWS, 1);

  if (view == DEW_VIEW_PLAN && layout->n_plans > 0)
    return MAX (layout->view[view].width / layout->inner_m[0], 1);
  return MAX (layout->scale_px_m, 1);
}

gboolean
dew_layout_view_at (const DewSheetLayout *layout, double x, double y, DewView *view)
{
  const double near_px = 20; /* what is drawn outside the walls belongs to them */

  g_return_val_if_fail (layout != NULL && view != NULL, FALSE);

  /* What is enlarged lies over the others. */
  if (layout->plan_large && dew_rect_holds (&layout->view[DEW_VIEW_PLAN], x, y, near_px))
    {
      *view = DEW_VIEW_PLAN;
      return TRUE;
    }
  for (int i = 0; i < DEW_N_VIEWS; i++)
    if (layout->shown[i] && dew_rect_holds (&layout->view[i], x, y, 0))
      {
        *view = i;
        return TRUE;
      }
  if (dew_layout_plan_at (layout, x, y) >= 0)
    {
      *view = DEW_VIEW_PLAN;
      return TRUE;
    }
  for (int i = 0; i < DEW_N_VIEWS; i++)
    if (layout->shown[i] && dew_rect_holds (&layout->view[i], x, y, near_px))
      {
        *view = i;
        return TRUE;
      }
  return FALSE;
}

/* Both ways use the px size of the rectangle, not the scale: rectangles are
 * rounded to whole px. */
gboolean
dew_layout_to_world (const DewSheetLayout *layout, DewView view, double x, double y,
                     double out_m[2])
{
  const DewRect *rect;

  g_return_val_if_fail (layout != NULL && view < DEW_N_VIEWS, FALSE);

  if (!layout->shown[view])
    return FALSE;
  rect = &layout->view[view];
  out_m[0] = (x - rect->x) / rect->width * layout->inner_m[dew_view_across (view)];
  out_m[1] = (rect->y + rect->height - y) / rect->height * layout->inner_m[dew_view_up (view)];
  return TRUE;
}

static void
to_px (const DewSheetLayout *layout, DewView view, double across_m, double up_m, double *x,
       double *y)
{
  const DewRect *rect = &layout->view[view];

  *x = rect->x + across_m / layout->inner_m[dew_view_across (view)] * rect->width;
  *y = rect->y + rect->height - up_m / layout->inner_m[dew_view_up (view)] * rect->height;
}

gboolean
dew_layout_to_screen (const DewSheetLayout *layout, DewView view, const double at_m[3],
                      double out_px[2])
{
  g_return_val_if_fail (layout != NULL && view < DEW_N_VIEWS, FALSE);

  if (!layout->shown[view])
    return FALSE;
  to_px (layout, view, at_m[dew_view_across (view)], at_m[dew_view_up (view)], &out_px[0],
         &out_px[1]);
  return TRUE;
}

void
dew_pen_point (const DewPen *pen, DewView view, double across_m, double up_m, double *x, double *y)
{
  to_px (pen->layout, view, across_m, up_m, x, y);
}

/* --- things in views ---------------------------------------------------------- */

gboolean
dew_view_shows (const DewSheet *sheet, const DewSheetLayout *layout, DewView view,
                const DewThing *thing)
{
  const double touch_m = 1e-4;
  double lo[3], hi[3];

  if (!layout->shown[view])
    return FALSE;
  if (view != DEW_VIEW_PLAN)
    return TRUE;
  if (thing->kind == DEW_THING_SHELF)
    return fabs (thing->shelf.z_m + thing->shelf.thickness_m - layout->plan_lo_m) < touch_m;

  dew_thing_box (sheet->chamber, thing, lo, hi);
  return hi[2] > layout->plan_lo_m - touch_m && lo[2] < layout->plan_hi_m - touch_m;
}

void
dew_view_thing_rect (const DewSheet *sheet, const DewSheetLayout *layout, DewView view,
                     const DewThing *thing, DewRect *out)
{
  int across = dew_view_across (view), up = dew_view_up (view);
  double lo[3], hi[3], x0, y0, x1, y1;

  dew_thing_box (sheet->chamber, thing, lo, hi);
  to_px (layout, view, lo[across], hi[up], &x0, &y0);
  to_px (layout, view, hi[across], lo[up], &x1, &y1);
  *out = (DewRect){ x0, y0, x1 - x0, y1 - y0 };
}

gboolean
dew_sheet_thing_rect (const DewSheet *sheet, const DewSheetLayout *layout, guint thing_id,
                      DewView view, DewRect *out)
{
  const DewThing *thing;

  g_return_val_if_fail (sheet != NULL && layout != NULL && view < DEW_N_VIEWS, FALSE);

  thing = dew_variant_thing (sheet->variant, thing_id);
  if (thing == NULL || !dew_view_shows (sheet, layout, view, thing))
    return FALSE;
  dew_view_thing_rect (sheet, layout, view, thing, out);
  return TRUE;
}

void
dew_aim_tip (const DewChamber *chamber, const DewThing *thing, double out[3])
{
  double aim[3], lo[3], hi[3], length;

  dew_aim_vector (thing, aim);
  dew_thing_box (chamber, thing, lo, hi);
  if (thing->kind == DEW_THING_FAN)
    length = MAX (1.1 * thing->fan.diameter_m, 0.06);
  else
    length = MAX (0.5 * (hi[2] - lo[2]), 0.06);
  for (int i = 0; i < 3; i++)
    out[i] = (lo[i] + hi[i]) / 2 + length * aim[i];
  if (thing->kind == DEW_THING_HUMIDIFIER)
    out[2] = hi[2] + length * aim[2];
}
