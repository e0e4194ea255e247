/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/sheet-private.h"

#include <math.h>

/* How near the pointer must come, px. */
#define HANDLE_REACH 8.0
#define THING_REACH 3.0
#define LINE_REACH 6.0 /* shelves, walls, edge-on openings */

/* --- handles ------------------------------------------------------------------- */

static void
add_edge_handles (DewHandle *handles, guint *n, const DewThing *thing, int axis, gboolean level,
                  const DewRect *r)
{
  gboolean pulled[2];

  dew_thing_pulled_edges (thing, axis, &pulled[0], &pulled[1]);
  for (int i = 0; i < 2; i++)
    {
      DewHandle handle = { i == 0 ? DEW_PART_LO : DEW_PART_HI, axis, { 0, 0 } };

      if (!pulled[i] || *n >= DEW_MAX_HANDLES)
        continue;
      handle.at_px[0] = level ? r->x + i * r->width : r->x + r->width / 2;
      handle.at_px[1] = level ? r->y + r->height / 2 : r->y + (1 - i) * r->height;
      handles[(*n)++] = handle;
    }
}

/* A quarter along the free edge, away from the handle that resizes. */
static void
add_lift_handle (DewHandle *handles, guint *n, const DewSheetLayout *layout, DewView view,
                 const DewThing *thing)
{
  DewHandle handle = { DEW_PART_LIFT, 0, { 0, 0 } };
  DewFlapShape shape;

  if (thing->kind != DEW_THING_OPENING || thing->opening.kind != DEW_OPENING_FLAP)
    return;
  dew_flap_shape (layout, view, &thing->opening, &shape);
  for (int i = 0; i < 2; i++)
    handle.at_px[i] = 0.75 * shape.edge[0][i] + 0.25 * shape.edge[1][i];
  handles[(*n)++] = handle;
}

guint
dew_sheet_handles (const DewSheet *sheet, const DewSheetLayout *layout, DewView view,
                   const DewThing *thing, DewHandle handles[DEW_MAX_HANDLES])
{
  const double least_px = 14; /* a handle must not lie on the thing itself */
  guint n = 0;
  DewRect r;

  if (!dew_view_shows (sheet, layout, view, thing))
    return 0;

  dew_view_thing_rect (sheet, layout, view, thing, &r);
  add_lift_handle (handles, &n, layout, view, thing);
  add_edge_handles (handles, &n, thing, dew_view_across (view), TRUE, &r);
  add_edge_handles (handles, &n, thing, dew_view_up (view), FALSE, &r);
  if (dew_thing_has_aim (thing))
    {
      DewHandle handle = { DEW_PART_AIM, 0, { 0, 0 } };
      double tip_m[3], x = r.x + r.width / 2;
      double y = thing->kind == DEW_THING_FAN || view == DEW_VIEW_PLAN ? r.y + r.height / 2 : r.y;

      dew_aim_tip (sheet->chamber, thing, tip_m);
      dew_layout_to_screen (layout, view, tip_m, handle.at_px);
      if (hypot (handle.at_px[0] - x, handle.at_px[1] - y) >= least_px && n < DEW_MAX_HANDLES)
        handles[n++] = handle;
    }
  return n;
}

const DewThing *
dew_sheet_handled (const DewSheet *sheet)
{
  return sheet->n_selection > 1 ? NULL : dew_variant_thing (sheet->variant, sheet->selected_id);
}

static gboolean
hit_handles (const DewSheet *sheet, const DewSheetLayout *layout, double x, double y, DewHit *hit)
{
  const DewThing *thing = dew_sheet_handled (sheet);
  double nearest = HANDLE_REACH;
  gboolean found = FALSE;

  for (int view = 0; view < DEW_N_VIEWS && thing != NULL; view++)
    {
      DewHandle handles[DEW_MAX_HANDLES];
      guint n = dew_sheet_handles (sheet, layout, view, thing, handles);

      for (guint i = 0; i < n; i++)
        {
          double distance = hypot (x - handles[i].at_px[0], y - handles[i].at_px[1]);

          if (distance > nearest)
            continue;
          nearest = distance;
          found = TRUE;
          *hit = (DewHit){
            handles[i].part, view, thing->id,
            handles[i].axis, -1,   { handles[i].at_px[0] - 4, handles[i].at_px[1] - 4, 8, 8 }
          };
        }
    }
  return found;
}

/* --- marks ----------------------------------------------------------------------- */

static gboolean
mark_as_hit (const DewSheet *sheet, const DewMark *mark, DewHit *hit)
{
  *hit = (DewHit){ DEW_PART_NONE, mark->view, 0, mark->axis, mark->index, mark->rect };
  switch (mark->kind)
    {
    case DEW_MARK_FLAG:
      hit->part = DEW_PART_FLAG;
      hit->thing_id = sheet->forecast->findings[mark->index].thing_id;
      return TRUE;
    case DEW_MARK_DIMENSION:
      hit->part = DEW_PART_DIMENSION;
      return TRUE;
    case DEW_MARK_BAY:
      hit->part = DEW_PART_BAY;
      return TRUE;
    case DEW_MARK_SWITCH:
      hit->part = DEW_PART_SWITCH;
      return TRUE;
    default:
      return FALSE;
    }
}

GArray *
dew_sheet_spots (const DewSheet *sheet, const DewSheetLayout *layout)
{
  g_autoptr (GArray) marks = NULL;
  g_autofree double *z_m = NULL;
  GArray *spots = g_array_new (FALSE, FALSE, sizeof (DewHit));
  int n_bays, labelled = 0;

  g_return_val_if_fail (sheet != NULL && layout != NULL, spots);

  marks = dew_sheet_marks (sheet, layout);
  for (guint i = 0; i < marks->len; i++)
    {
      DewHit hit;

      if (!mark_as_hit (sheet, &g_array_index (marks, DewMark, i), &hit))
        continue;
      labelled += hit.part == DEW_PART_BAY;
      g_array_append_val (spots, hit);
    }
  n_bays = dew_variant_bays (sheet->chamber, sheet->variant, &z_m, NULL);
  for (int bay = 0; bay < n_bays && labelled == 0; bay++)
    {
      const DewRect *front = &layout->view[DEW_VIEW_FRONT];
      double px_m = front->height / layout->inner_m[2];
      DewHit hit = { DEW_PART_BAY,
                     DEW_VIEW_FRONT,
                     0,
                     2,
                     bay,
                     { front->x, front->y + front->height - z_m[bay + 1] * px_m, front->width,
                       (z_m[bay + 1] - z_m[bay]) * px_m } };

      g_array_append_val (spots, hit);
    }
  return spots;
}

static gboolean
hit_marks (const DewSheet *sheet, const DewSheetLayout *layout, double x, double y, DewHit *hit)
{
  g_autoptr (GArray) marks = dew_sheet_marks (sheet, layout);

  for (guint i = marks->len; i > 0; i--)
    {
      const DewMark *mark = &g_array_index (marks, DewMark, i - 1);

      if (!dew_rect_holds (&mark->rect, x, y, 3))
        continue;
      if (mark_as_hit (sheet, mark, hit))
        return TRUE;
    }
  return FALSE;
}

/* --- things ------------------------------------------------------------------------ */

/* A zip that is shut is a seam: the film beside it is the wall, and what stands behind is
 * seen and grabbed through it. */
static gboolean
off_the_seam (DewView view, const DewThing *thing, const DewRect *r, double x, double y)
{
  if (thing->kind != DEW_THING_OPENING || thing->opening.kind != DEW_OPENING_ZIP
      || dew_face_edge_on (thing->opening.face, view))
    return FALSE;
  return r->height > r->width ? fabs (x - r->x - r->width / 2) > LINE_REACH
                              : fabs (y - r->y - r->height / 2) > LINE_REACH;
}

/* The pot or the slab under a crown belongs to the plant: it is what one takes hold of. */
static gboolean
on_foot (const DewSheet *sheet, const DewSheetLayout *layout, DewView view, const DewThing *thing,
         const DewRect *crown, double x, double y)
{
  double rest_m, height_px;
  DewRect foot;

  if (thing->kind != DEW_THING_PLANT || view == DEW_VIEW_PLAN)
    return FALSE;
  rest_m = dew_variant_rest_height (sheet->variant, thing->plant.z_m);
  height_px = (thing->plant.z_m - rest_m) * layout->scale_px_m;
  foot.width = MIN (0.66 * crown->width, 1.15 * height_px);
  foot.height = height_px;
  foot.x = crown->x + (crown->width - foot.width) / 2;
  foot.y = crown->y + crown->height;
  return height_px > 0 && dew_rect_holds (&foot, x, y, 0);
}

static gboolean
on_thing (const DewSheet *sheet, const DewSheetLayout *layout, DewView view, const DewThing *thing,
          double x, double y, DewRect *r)
{
  double reach = THING_REACH;

  dew_view_thing_rect (sheet, layout, view, thing, r);
  if (thing->kind == DEW_THING_SHELF
      || (thing->kind == DEW_THING_OPENING && dew_face_edge_on (thing->opening.face, view)))
    reach = LINE_REACH;
  if (thing->kind == DEW_THING_INSTRUMENT || thing->kind == DEW_THING_MAT)
    reach = LINE_REACH;
  if (on_foot (sheet, layout, view, thing, r, x, y))
    return TRUE;
  if (!dew_rect_holds (r, x, y, reach) || off_the_seam (view, thing, r, x, y))
    return FALSE;
  /* In the plan a lamp hangs over everything and a shelf lies under it: only
   * their outlines can be grabbed. */
  if (view == DEW_VIEW_PLAN && (thing->kind == DEW_THING_LAMP || thing->kind == DEW_THING_SHELF))
    return !dew_rect_holds (r, x, y, -LINE_REACH);
  return TRUE;
}

/* The smallest thing under the pointer: so what stands behind a large plant can
 * still be reached. Shelves and the lines of the cover come after that. */
static gboolean
hit_things (const DewSheet *sheet, const DewSheetLayout *layout, DewView view, double x, double y,
            DewHit *hit)
{
  const DewVariant *variant = sheet->variant;
  double smallest = INFINITY;
  gboolean found = FALSE;

  for (int shelves = 0; shelves <= 1 && !found; shelves++)
    for (guint i = 0; i < variant->things->len; i++)
      {
        const DewThing *thing = &g_array_index (variant->things, DewThing, i);
        double area;
        DewRect r;

        if ((thing->kind == DEW_THING_SHELF) != (shelves == 1)
            || !dew_view_shows (sheet, layout, view, thing)
            || !on_thing (sheet, layout, view, thing, x, y, &r))
          continue;
        area = MAX (r.width, 1) * MAX (r.height, 1);
        if (area >= smallest)
          continue;
        smallest = area;
        found = TRUE;
        *hit = (DewHit){ DEW_PART_BODY, view, thing->id, 0, -1, r };
      }
  return found;
}

static gboolean
hit_legend (const DewSheetLayout *layout, double x, double y, DewHit *hit)
{
  if (!dew_rect_holds (&layout->legend, x, y, 0))
    return FALSE;
  *hit = (DewHit){ DEW_PART_LEGEND, DEW_VIEW_FRONT, 0, 0, -1, layout->legend };
  return TRUE;
}

static gboolean
hit_walls (const DewSheetLayout *layout, DewView view, double x, double y, DewHit *hit)
{
  const DewRect *r = &layout->view[view];
  double right = r->x + r->width;

  /* The walls of a small plan are too near to its air to be pulled. */
  if (view == DEW_VIEW_PLAN && layout->n_plans > 0 && !layout->plan_large)
    return FALSE;
  if (fabs (x - right) <= LINE_REACH && y >= r->y && y <= r->y + r->height)
    *hit = (DewHit){ DEW_PART_WALL,          view, 0,
                     dew_view_across (view), -1,   { right - 1, r->y, 2, r->height } };
  else if (fabs (y - r->y) <= LINE_REACH && x >= r->x && x <= right)
    *hit
      = (DewHit){ DEW_PART_WALL, view, 0, dew_view_up (view), -1, { r->x, r->y - 1, r->width, 2 } };
  else
    return FALSE;
  return TRUE;
}

static gboolean
hit_air (const DewSheet *sheet, const DewSheetLayout *layout, DewView view, double x, double y,
         DewHit *hit)
{
  g_autofree double *z_m = NULL;
  int n = dew_variant_bays (sheet->chamber, sheet->variant, &z_m, NULL), bay;
  double at_m[2];

  if (!dew_rect_holds (&layout->view[view], x, y, 0)
      || !dew_layout_to_world (layout, view, x, y, at_m))
    return FALSE;
  bay = view == DEW_VIEW_PLAN ? CLAMP (sheet->plan_bay, 0, n - 1) : dew_bay_at (z_m, n, at_m[1]);
  *hit = (DewHit){ DEW_PART_BAY, view, 0, 2, bay, layout->view[view] };
  return TRUE;
}

gboolean
dew_sheet_hit (const DewSheet *sheet, const DewSheetLayout *layout, double x, double y, DewHit *hit)
{
  DewSheetLayout there;
  DewSheet seen;
  DewView view;
  int bay;

  g_return_val_if_fail (sheet != NULL && layout != NULL && hit != NULL, FALSE);

  /* Of a row of plans the one under the pointer counts. */
  there = *layout;
  seen = *sheet;
  bay = dew_layout_plan_at (layout, x, y);
  if (bay >= 0)
    {
      dew_layout_choose_plan (&there, bay);
      seen.plan_bay = bay;
    }
  *hit = (DewHit){ .part = DEW_PART_NONE, .index = -1 };
  if (hit_legend (layout, x, y, hit) || hit_handles (&seen, &there, x, y, hit)
      || hit_marks (sheet, layout, x, y, hit))
    return TRUE;
  *hit = (DewHit){ .part = DEW_PART_NONE, .index = -1 };
  if (!dew_layout_view_at (&there, x, y, &view))
    return FALSE;
  return hit_things (&seen, &there, view, x, y, hit) || hit_walls (&there, view, x, y, hit)
         || hit_air (&seen, &there, view, x, y, hit);
}

gboolean
dew_hit_grip (const DewHit *hit, DewGrip *grip)
{
  static const struct
  {
    DewPart part;
    DewGripPart grip;
  } held[] = {
    { DEW_PART_BODY, DEW_GRIP_BODY },    { DEW_PART_LO, DEW_GRIP_LOW_EDGE },
    { DEW_PART_HI, DEW_GRIP_HIGH_EDGE }, { DEW_PART_AIM, DEW_GRIP_AIM },
    { DEW_PART_LIFT, DEW_GRIP_FLAP },    { DEW_PART_WALL, DEW_GRIP_WALL },
  };

  g_return_val_if_fail (hit != NULL && grip != NULL, FALSE);

  for (guint i = 0; i < G_N_ELEMENTS (held); i++)
    if (held[i].part == hit->part)
      {
        *grip = (DewGrip){ held[i].grip, hit->view, hit->thing_id, hit->axis };
        return TRUE;
      }
  return FALSE;
}
