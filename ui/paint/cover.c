/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/sheet-private.h"

#include <math.h>

/* Longest way that something drawn outside a wall may stick out, px: dimension
 * lines begin behind it. */
#define REACH_PX 26.0

/* --- walls --------------------------------------------------------------------- */

static void
paint_panel_thickness (const DewPen *pen, DewView view)
{
  const DewRect *r = &pen->layout->view[view];
  const DewPanel *panels = pen->sheet->chamber->panels;
  DewFace low = view == DEW_VIEW_SIDE ? DEW_FACE_FRONT : DEW_FACE_LEFT;
  DewFace high = view == DEW_VIEW_SIDE ? DEW_FACE_BACK : DEW_FACE_RIGHT;
  DewFace bottom = view == DEW_VIEW_PLAN ? DEW_FACE_FRONT : DEW_FACE_FLOOR;
  DewFace top = view == DEW_VIEW_PLAN ? DEW_FACE_BACK : DEW_FACE_ROOF;
  double thin = 2.5; /* px: below that the outline itself is the cover */
  double left = panels[low].thickness_m * pen->scale, right = panels[high].thickness_m * pen->scale;
  double below = panels[bottom].thickness_m * pen->scale;
  double above = panels[top].thickness_m * pen->scale;

  if (MAX (MAX (left, right), MAX (below, above)) < thin)
    return;
  cairo_set_line_width (pen->cr, DEW_LINE_DETAIL);
  dew_pen_colour (pen, &pen->palette->ink, 0.8);
  cairo_rectangle (pen->cr, dew_crisp (r->x - left), dew_crisp (r->y - above),
                   round (r->width + left + right), round (r->height + above + below));
  cairo_stroke (pen->cr);
}

static void
paint_roof_slope (const DewPen *pen)
{
  const DewRect *r = &pen->layout->view[DEW_VIEW_SIDE];
  double rise = r->width * tan (pen->sheet->chamber->panels[DEW_FACE_ROOF].slope_rad);

  if (!pen->layout->shown[DEW_VIEW_SIDE] || !(rise > 1))
    return;
  rise = MIN (rise, REACH_PX);
  cairo_set_line_width (pen->cr, DEW_LINE_DETAIL);
  dew_pen_colour (pen, &pen->palette->ink, 0.8);
  cairo_move_to (pen->cr, r->x, r->y);
  cairo_line_to (pen->cr, r->x, r->y - rise);
  cairo_line_to (pen->cr, r->x + r->width, r->y);
  cairo_stroke (pen->cr);
}

void
dew_paint_cover (const DewPen *pen, DewView view)
{
  const DewRect *r = &pen->layout->view[view];

  paint_panel_thickness (pen, view);
  if (view == DEW_VIEW_SIDE)
    paint_roof_slope (pen);
  cairo_set_line_width (pen->cr, DEW_LINE_OUTLINE);
  cairo_set_line_join (pen->cr, CAIRO_LINE_JOIN_MITER);
  dew_pen_colour (pen, &pen->palette->ink, 1);
  cairo_rectangle (pen->cr, r->x, r->y, r->width, r->height);
  cairo_stroke (pen->cr);
}

/* --- openings -------------------------------------------------------------------- */

/* An edge-on opening on the sheet: from one end to the other along the wall,
 * and which way is out. */
typedef struct
{
  double x0, y0, x1, y1;
  double out_x, out_y;
  double length;
  gboolean along_u;
} DewGap;

static void
find_gap (const DewPen *pen, DewView view, const DewOpening *opening, DewGap *gap)
{
  int u, v, axis = dew_face_axis (opening->face);
  int across = dew_view_across (view);
  double wall_m = dew_face_is_high (opening->face) ? pen->layout->inner_m[axis] : 0;
  double sign = dew_face_is_high (opening->face) ? 1 : -1;
  double lo_m, hi_m;

  dew_face_axes (opening->face, &u, &v);
  gap->along_u = u != dew_view_depth (view);
  lo_m = gap->along_u ? opening->u0_m : opening->v0_m;
  hi_m = gap->along_u ? opening->u1_m : opening->v1_m;
  if (axis == across)
    {
      dew_pen_point (pen, view, wall_m, lo_m, &gap->x0, &gap->y0);
      dew_pen_point (pen, view, wall_m, hi_m, &gap->x1, &gap->y1);
      gap->out_x = sign;
      gap->out_y = 0;
    }
  else
    {
      dew_pen_point (pen, view, lo_m, wall_m, &gap->x0, &gap->y0);
      dew_pen_point (pen, view, hi_m, wall_m, &gap->x1, &gap->y1);
      gap->out_x = 0;
      gap->out_y = -sign;
    }
  gap->length = hypot (gap->x1 - gap->x0, gap->y1 - gap->y0);
}

static void
paint_lifted (const DewPen *pen, DewView view, const DewOpening *opening)
{
  DewFlapShape shape;

  dew_flap_shape (pen->layout, view, opening, &shape);
  cairo_move_to (pen->cr, shape.hinge[0][0], shape.hinge[0][1]);
  cairo_line_to (pen->cr, shape.edge[0][0], shape.edge[0][1]);
  cairo_line_to (pen->cr, shape.edge[1][0], shape.edge[1][1]);
  cairo_line_to (pen->cr, shape.hinge[1][0], shape.hinge[1][1]);
  cairo_stroke (pen->cr);
}

static void
paint_arrow_head (const DewPen *pen, double x, double y, double dx, double dy)
{
  double size = 5;

  cairo_move_to (pen->cr, x - size * dx + 0.7 * size * dy, y - size * dy - 0.7 * size * dx);
  cairo_line_to (pen->cr, x, y);
  cairo_line_to (pen->cr, x - size * dx - 0.7 * size * dy, y - size * dy + 0.7 * size * dx);
  cairo_stroke (pen->cr);
}

static void
paint_duct (const DewPen *pen, const DewGap *gap, double flow)
{
  double reach = 15, x = (gap->x0 + gap->x1) / 2, y = (gap->y0 + gap->y1) / 2;
  double sign = flow >= 0 ? -1 : 1; /* out is positive */

  dew_pen_line (pen, gap->x0, gap->y0, gap->x0 + reach * gap->out_x, gap->y0 + reach * gap->out_y);
  dew_pen_line (pen, gap->x1, gap->y1, gap->x1 + reach * gap->out_x, gap->y1 + reach * gap->out_y);
  dew_pen_line (pen, x + 2 * gap->out_x, y + 2 * gap->out_y, x + 22 * gap->out_x,
                y + 22 * gap->out_y);
  if (sign > 0)
    paint_arrow_head (pen, x + 22 * gap->out_x, y + 22 * gap->out_y, gap->out_x, gap->out_y);
  else
    paint_arrow_head (pen, x + 2 * gap->out_x, y + 2 * gap->out_y, -gap->out_x, -gap->out_y);
}

static void
paint_edge_on (const DewPen *pen, DewView view, const DewThing *thing)
{
  const DewOpening *opening = &thing->opening;
  double tick = 5;
  DewGap gap;

  find_gap (pen, view, opening, &gap);
  /* The wall is not there where the opening is. */
  cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_BUTT);
  if (opening->open_fraction > 0 || opening->kind == DEW_OPENING_DUCT)
    {
      cairo_set_line_width (pen->cr, 3.5);
      dew_pen_colour (pen, &pen->palette->paper, 1);
      dew_pen_line (pen, gap.x0, gap.y0, gap.x1, gap.y1);
    }

  dew_pen_ink_for (pen, thing, DEW_LINE_OUTLINE);
  dew_pen_line (pen, gap.x0 - tick * gap.out_x / 2, gap.y0 - tick * gap.out_y / 2,
                gap.x0 + tick * gap.out_x / 2, gap.y0 + tick * gap.out_y / 2);
  dew_pen_line (pen, gap.x1 - tick * gap.out_x / 2, gap.y1 - tick * gap.out_y / 2,
                gap.x1 + tick * gap.out_x / 2, gap.y1 + tick * gap.out_y / 2);
  switch (opening->kind)
    {
    case DEW_OPENING_FLAP:
      paint_lifted (pen, view, opening);
      break;
    case DEW_OPENING_DUCT:
      paint_duct (pen, &gap, opening->duct_flow_m3_s);
      break;
    case DEW_OPENING_MESH:
    case DEW_OPENING_ZIP:
      {
        const double dash[] = { 1.5, opening->kind == DEW_OPENING_MESH ? 2.5 : 5 };

        cairo_set_dash (pen->cr, dash, 2, 0);
        dew_pen_line (pen, gap.x0, gap.y0, gap.x1, gap.y1);
        cairo_set_dash (pen->cr, NULL, 0, 0);
      }
      break;
    default:
      break;
    }
}

static void
paint_hatch (const DewPen *pen, const DewRect *r)
{
  double pitch = 4;

  cairo_save (pen->cr);
  cairo_rectangle (pen->cr, r->x, r->y, r->width, r->height);
  cairo_clip (pen->cr);
  for (double t = -r->height; t < r->width; t += pitch)
    {
      dew_pen_line (pen, r->x + t, r->y, r->x + t + r->height, r->y + r->height);
      dew_pen_line (pen, r->x + t + r->height, r->y, r->x + t, r->y + r->height);
    }
  cairo_restore (pen->cr);
}

static void
paint_zip (const DewPen *pen, const DewRect *r)
{
  gboolean standing = r->height > r->width;
  double length = standing ? r->height : r->width, pitch = 5, tooth = 3;
  double x = r->x + r->width / 2, y = r->y + r->height / 2;
  int n = (int) (length / pitch);

  if (standing)
    dew_pen_line (pen, x, r->y, x, r->y + r->height);
  else
    dew_pen_line (pen, r->x, y, r->x + r->width, y);
  for (int i = 0; i < n; i++)
    {
      double at = (i + 0.5) * length / n, side = i % 2 ? tooth : -tooth;

      if (standing)
        dew_pen_line (pen, x, r->y + at, x + side, r->y + at);
      else
        dew_pen_line (pen, r->x + at, y, r->x + at, y + side);
    }
}

static void
paint_ellipse (const DewPen *pen, const DewRect *r, double inset)
{
  if (r->width <= 2 * inset || r->height <= 2 * inset)
    return;
  cairo_save (pen->cr);
  cairo_translate (pen->cr, r->x + r->width / 2, r->y + r->height / 2);
  cairo_scale (pen->cr, r->width / 2 - inset, r->height / 2 - inset);
  cairo_new_sub_path (pen->cr);
  cairo_arc (pen->cr, 0, 0, 1, 0, 2 * G_PI);
  cairo_restore (pen->cr);
}

static void
paint_face_on (const DewPen *pen, DewView view, const DewThing *thing)
{
  const DewOpening *opening = &thing->opening;
  gboolean far_side = dew_face_is_high (opening->face) != (dew_view_nearer (view) > 0);
  const double dash[] = { 3, 2.5 };
  DewRect r;

  dew_view_thing_rect (pen->sheet, pen->layout, view, thing, &r);
  dew_pen_ink_for (pen, thing, far_side ? DEW_LINE_DETAIL : 1.2);
  if (far_side)
    cairo_set_dash (pen->cr, dash, 2, 0);

  switch (opening->kind)
    {
    case DEW_OPENING_HOLE:
    case DEW_OPENING_DUCT:
      paint_ellipse (pen, &r, 0);
      cairo_stroke (pen->cr);
      if (opening->kind == DEW_OPENING_DUCT)
        {
          paint_ellipse (pen, &r, 3);
          cairo_stroke (pen->cr);
        }
      break;
    case DEW_OPENING_ZIP:
      paint_zip (pen, &r);
      break;
    default:
      cairo_rectangle (pen->cr, r.x, r.y, r.width, r.height);
      cairo_stroke (pen->cr);
      break;
    }
  cairo_set_dash (pen->cr, NULL, 0, 0);

  if (opening->kind == DEW_OPENING_MESH)
    {
      dew_pen_ink_for (pen, thing, 0.5);
      paint_hatch (pen, &r);
    }
  else if (opening->kind == DEW_OPENING_FLAP && opening->open_fraction > 0)
    paint_lifted (pen, view, opening);
  else if (opening->kind == DEW_OPENING_SLOT)
    {
      dew_pen_ink_for (pen, thing, DEW_LINE_DETAIL);
      if (r.width > r.height)
        dew_pen_line (pen, r.x + 3, r.y + r.height / 2, r.x + r.width - 3, r.y + r.height / 2);
      else
        dew_pen_line (pen, r.x + r.width / 2, r.y + 3, r.x + r.width / 2, r.y + r.height - 3);
    }
}

void
dew_paint_opening (const DewPen *pen, DewView view, const DewThing *thing)
{
  if (dew_face_edge_on (thing->opening.face, view))
    paint_edge_on (pen, view, thing);
  else
    paint_face_on (pen, view, thing);
}
