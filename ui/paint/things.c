/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/sheet-private.h"

#include <math.h>

const DewColour *
dew_pen_ink_for (const DewPen *pen, const DewThing *thing, double width)
{
  gboolean selected = dew_sheet_selects (pen->sheet, thing->id);
  gboolean hovered = thing->id != 0 && thing->id == pen->sheet->hover_id;
  const DewColour *colour = selected ? &pen->palette->accent : &pen->palette->ink;

  dew_pen_colour (pen, colour, 1);
  cairo_set_line_width (pen->cr, width + (hovered || selected ? 0.6 : 0));
  return colour;
}

/* Fills the path with the body colour and strokes it. */
static void
fill_and_outline (const DewPen *pen, const DewThing *thing, double width)
{
  dew_pen_colour (pen, &pen->palette->body, 1);
  cairo_fill_preserve (pen->cr);
  dew_pen_ink_for (pen, thing, width);
  cairo_stroke (pen->cr);
}

static void
rounded (const DewPen *pen, const DewRect *r, double radius)
{
  radius = MAX (MIN (radius, MIN (r->width, r->height) / 2), 0);
  cairo_new_sub_path (pen->cr);
  cairo_arc (pen->cr, r->x + r->width - radius, r->y + radius, radius, -G_PI / 2, 0);
  cairo_arc (pen->cr, r->x + r->width - radius, r->y + r->height - radius, radius, 0, G_PI / 2);
  cairo_arc (pen->cr, r->x + radius, r->y + r->height - radius, radius, G_PI / 2, G_PI);
  cairo_arc (pen->cr, r->x + radius, r->y + radius, radius, G_PI, 1.5 * G_PI);
  cairo_close_path (pen->cr);
}

/* --- shelves ------------------------------------------------------------------------ */

static void
paint_shelf_plan (const DewPen *pen, const DewThing *thing, const DewRect *r)
{
  const double pitch_m = 0.025;
  double pitch = pitch_m * pen->scale;
  double alpha = pen->palette->high_contrast ? 0.5 : 0.22;

  dew_pen_ink_for (pen, thing, DEW_LINE_DETAIL);
  cairo_rectangle (pen->cr, dew_crisp (r->x), dew_crisp (r->y), round (r->width) - 1,
                   round (r->height) - 1);
  cairo_stroke (pen->cr);
  if (thing->shelf.board == DEW_SHELF_SOLID || pitch < 3)
    return;

  cairo_set_line_width (pen->cr, DEW_LINE_DETAIL);
  dew_pen_colour (pen, &pen->palette->ink, alpha);
  if (thing->shelf.board == DEW_SHELF_PERFORATED)
    {
      for (double y = r->y + pitch / 2; y < r->y + r->height; y += pitch)
        for (double x = r->x + pitch / 2; x < r->x + r->width; x += pitch)
          {
            cairo_new_sub_path (pen->cr);
            cairo_arc (pen->cr, x, y, 1, 0, 2 * G_PI);
          }
      cairo_fill (pen->cr);
      return;
    }
  if (thing->shelf.board == DEW_SHELF_SLATTED)
    cairo_set_line_width (pen->cr, pitch * (1 - CLAMP (thing->shelf.open_ratio, 0.1, 0.9)) * 0.5);
  for (double x = r->x + pitch; x < r->x + r->width - 1; x += pitch)
    dew_pen_line (pen, dew_crisp (x), r->y, dew_crisp (x), r->y + r->height);
}

/* A wire shelf lets the drawing through as it lets the air through: rail above,
 * dashes for the wires below. */
static void
paint_shelf (const DewPen *pen, DewView view, const DewThing *thing, const DewRect *r)
{
  double height = MAX (r->height, 3);
  double top = round (r->y);
  const double wires[] = { 3, 3 }, slats[] = { 9, 4 }, holes[] = { 1.5, 3 };

  if (view == DEW_VIEW_PLAN)
    {
      paint_shelf_plan (pen, thing, r);
      return;
    }
  dew_pen_ink_for (pen, thing, DEW_LINE_OUTLINE);
  cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_BUTT);
  if (thing->shelf.board == DEW_SHELF_SOLID)
    {
      cairo_rectangle (pen->cr, r->x, top, r->width, height);
      cairo_fill (pen->cr);
      return;
    }
  dew_pen_line (pen, r->x, top, r->x + r->width, top);
  dew_pen_ink_for (pen, thing, 1);
  if (thing->shelf.board == DEW_SHELF_SLATTED)
    cairo_set_dash (pen->cr, slats, 2, 0);
  else if (thing->shelf.board == DEW_SHELF_PERFORATED)
    cairo_set_dash (pen->cr, holes, 2, 0);
  else
    cairo_set_dash (pen->cr, wires, 2, 0);
  dew_pen_line (pen, r->x, dew_crisp (top + height), r->x + r->width, dew_crisp (top + height));
  cairo_set_dash (pen->cr, NULL, 0, 0);
}

/* --- fans ----------------------------------------------------------------------------- */

static void
arrow (const DewPen *pen, double x0, double y0, double x1, double y1)
{
  double length = hypot (x1 - x0, y1 - y0), size = MIN (6, length / 2);
  double dx, dy;

  if (length < 3)
    return;
  dx = (x1 - x0) / length;
  dy = (y1 - y0) / length;
  dew_pen_line (pen, x0, y0, x1, y1);
  cairo_move_to (pen->cr, x1 - size * dx + 0.6 * size * dy, y1 - size * dy - 0.6 * size * dx);
  cairo_line_to (pen->cr, x1, y1);
  cairo_line_to (pen->cr, x1 - size * dx - 0.6 * size * dy, y1 - size * dy + 0.6 * size * dx);
  cairo_stroke (pen->cr);
}

/* Hub and blades on the disc's face, in a frame where the disc has radius 1. */
static void
paint_blades (const DewPen *pen, const DewThing *thing)
{
  const int n = 5;
  const double hub = 0.26;

  for (int i = 0; i < n; i++)
    {
      double a = 2 * G_PI * i / n;

      cairo_move_to (pen->cr, hub * cos (a), hub * sin (a));
      cairo_curve_to (pen->cr, 0.55 * cos (a + 0.15), 0.55 * sin (a + 0.15), 0.75 * cos (a + 0.4),
                      0.75 * sin (a + 0.4), 0.88 * cos (a + 0.75), 0.88 * sin (a + 0.75));
    }
  cairo_new_sub_path (pen->cr);
  cairo_arc (pen->cr, 0, 0, hub, 0, 2 * G_PI);
}

/* A disc in its frame, seen from where the view stands: an ellipse as deep as
 * its frame. Local x runs along the projected axis. */
static void
paint_fan_body (const DewPen *pen, const DewThing *thing, double along, double toward)
{
  double radius = thing->fan.diameter_m * pen->scale / 2 * 1.06;
  double narrow = radius * sqrt (MAX (1 - along * along, 0));
  double half = MAX (thing->fan.depth_m * along * pen->scale / 2, along > 0.5 ? 2.5 : 0);
  double face = toward >= 0 ? half : -half;
  cairo_matrix_t matrix;

  cairo_get_matrix (pen->cr, &matrix);
  cairo_save (pen->cr);
  cairo_translate (pen->cr, half, 0);
  cairo_scale (pen->cr, MAX (narrow, 1e-3), radius);
  cairo_arc (pen->cr, 0, 0, 1, -G_PI / 2, G_PI / 2);
  cairo_set_matrix (pen->cr, &matrix);
  cairo_translate (pen->cr, -half, 0);
  cairo_scale (pen->cr, MAX (narrow, 1e-3), radius);
  cairo_arc (pen->cr, 0, 0, 1, G_PI / 2, 1.5 * G_PI);
  cairo_close_path (pen->cr);
  cairo_restore (pen->cr);
  fill_and_outline (pen, thing, DEW_LINE_OUTLINE);

  if (narrow < 3)
    {
      dew_pen_ink_for (pen, thing, DEW_LINE_DETAIL);
      dew_pen_line (pen, half - 2.2, -radius, half - 2.2, radius);
      return;
    }
  cairo_save (pen->cr);
  cairo_translate (pen->cr, face, 0);
  cairo_scale (pen->cr, narrow * 0.9, radius * 0.9);
  cairo_new_sub_path (pen->cr);
  cairo_arc (pen->cr, 0, 0, 1, 0, 2 * G_PI);
  paint_blades (pen, thing);
  cairo_restore (pen->cr);
  dew_pen_ink_for (pen, thing, DEW_LINE_DETAIL);
  cairo_stroke (pen->cr);
}

/* Blowing straight at the reader or away: a dot or a cross on the hub, as for
 * a vector that stands on the paper. */
static void
paint_straight_aim (const DewPen *pen, const DewThing *thing, double x, double y, double toward)
{
  dew_pen_ink_for (pen, thing, 1.2);
  if (toward > 0)
    {
      cairo_arc (pen->cr, x, y, 2.5, 0, 2 * G_PI);
      cairo_fill (pen->cr);
      return;
    }
  dew_pen_line (pen, x - 3, y - 3, x + 3, y + 3);
  dew_pen_line (pen, x - 3, y + 3, x + 3, y - 3);
}

static void
paint_fan (const DewPen *pen, DewView view, const DewThing *thing)
{
  double lo[3], hi[3], centre_m[3], aim[3], tip_m[3], centre[2], tip[2];
  double along, toward, angle;

  dew_thing_box (pen->sheet->chamber, thing, lo, hi);
  for (int axis = 0; axis < 3; axis++)
    centre_m[axis] = (lo[axis] + hi[axis]) / 2;
  dew_aim_vector (thing, aim);
  dew_aim_tip (pen->sheet->chamber, thing, tip_m);
  dew_layout_to_screen (pen->layout, view, centre_m, centre);
  dew_layout_to_screen (pen->layout, view, tip_m, tip);
  along = hypot (aim[dew_view_across (view)], aim[dew_view_up (view)]);
  toward = aim[dew_view_depth (view)] * dew_view_nearer (view);
  angle = along > 1e-6 ? atan2 (-aim[dew_view_up (view)], aim[dew_view_across (view)]) : 0;

  cairo_save (pen->cr);
  cairo_translate (pen->cr, centre[0], centre[1]);
  cairo_rotate (pen->cr, angle);
  paint_fan_body (pen, thing, along, toward);
  cairo_restore (pen->cr);

  if (along < 0.2)
    {
      paint_straight_aim (pen, thing, centre[0], centre[1], toward);
      return;
    }
  {
    double start = thing->fan.depth_m * along * pen->scale / 2 + 4;

    dew_pen_ink_for (pen, thing, 1.2);
    arrow (pen, centre[0] + start * cos (angle), centre[1] + start * sin (angle), tip[0], tip[1]);
  }
}

/* --- what stands or hangs ------------------------------------------------------------------ */

static void
paint_humidifier (const DewPen *pen, DewView view, const DewThing *thing, const DewRect *r)
{
  double outlet = MAX (thing->humidifier.outlet_diameter_m * pen->scale, 5);
  double base_m[3] = { thing->humidifier.x_m, thing->humidifier.y_m,
                       thing->humidifier.z_m + thing->humidifier.height_m };
  double aim[3], tip_m[3], base[2], tip[2];
  double x = r->x + r->width / 2;

  if (view == DEW_VIEW_PLAN)
    {
      rounded (pen, r, 0.12 * r->width);
      fill_and_outline (pen, thing, DEW_LINE_OUTLINE);
      cairo_arc (pen->cr, x, r->y + r->height / 2, outlet / 2, 0, 2 * G_PI);
      dew_pen_ink_for (pen, thing, DEW_LINE_DETAIL);
      cairo_stroke (pen->cr);
    }
  else
    {
      double neck = MIN (0.08 * r->height, 8);

      cairo_move_to (pen->cr, x - outlet / 2, r->y + neck);
      cairo_line_to (pen->cr, x - outlet / 2 + 1, r->y);
      cairo_line_to (pen->cr, x + outlet / 2 - 1, r->y);
      cairo_line_to (pen->cr, x + outlet / 2, r->y + neck);
      fill_and_outline (pen, thing, 1.2);
      rounded (pen, &(DewRect){ r->x, r->y + neck, r->width, r->height - neck }, 0.16 * r->width);
      fill_and_outline (pen, thing, DEW_LINE_OUTLINE);
      /* Foot with the works below, tank with water above. */
      dew_pen_ink_for (pen, thing, DEW_LINE_DETAIL);
      dew_pen_line (pen, r->x, dew_crisp (r->y + 0.72 * r->height), r->x + r->width,
                    dew_crisp (r->y + 0.72 * r->height));
      dew_pen_line (pen, r->x + 0.16 * r->width, dew_crisp (r->y + 0.40 * r->height),
                    r->x + 0.84 * r->width, dew_crisp (r->y + 0.40 * r->height));
    }

  dew_aim_vector (thing, aim);
  dew_aim_tip (pen->sheet->chamber, thing, tip_m);
  dew_layout_to_screen (pen->layout, view, base_m, base);
  dew_layout_to_screen (pen->layout, view, tip_m, tip);
  if (hypot (tip[0] - base[0], tip[1] - base[1]) < 8)
    return;
  dew_pen_ink_for (pen, thing, 1.2);
  arrow (pen, base[0] + (tip[0] - base[0]) * 0.15, base[1] + (tip[1] - base[1]) * 0.15, tip[0],
         tip[1]);
}

/* Wall that tapers to the foot, and the thicker rim. */
static void
pot_outline (const DewPen *pen, const DewRect *r)
{
  double rim = MIN (MAX (0.16 * r->height, 3), 0.4 * r->height);
  double taper = 0.16 * r->width, set_in = 0.05 * r->width;

  cairo_move_to (pen->cr, r->x + set_in, r->y + rim);
  cairo_line_to (pen->cr, r->x + taper, r->y + r->height);
  cairo_line_to (pen->cr, r->x + r->width - taper, r->y + r->height);
  cairo_line_to (pen->cr, r->x + r->width - set_in, r->y + rim);
  cairo_close_path (pen->cr);
  cairo_rectangle (pen->cr, r->x, r->y, r->width, rim);
}

static void
paint_pot (const DewPen *pen, DewView view, const DewThing *thing, const DewRect *r)
{
  double wet = CLAMP (thing->pot.wetted_fraction, 0, 1);
  int lines;

  if (view == DEW_VIEW_PLAN)
    {
      double radius = r->width / 2, x = r->x + radius, y = r->y + r->height / 2;

      cairo_arc (pen->cr, x, y, radius, 0, 2 * G_PI);
      fill_and_outline (pen, thing, DEW_LINE_OUTLINE);
      cairo_arc (pen->cr, x, y, radius * 0.84, 0, 2 * G_PI);
      dew_pen_ink_for (pen, thing, DEW_LINE_DETAIL);
      cairo_stroke (pen->cr);
      return;
    }

  pot_outline (pen, r);
  fill_and_outline (pen, thing, DEW_LINE_OUTLINE);
  /* How far up the wall is wet. */
  dew_pen_ink_for (pen, thing, DEW_LINE_DETAIL);
  lines = (int) (wet * 0.7 * r->height / 4);
  for (int i = 0; i < lines; i++)
    {
      double y = dew_crisp (r->y + r->height - 3 - 4 * i);
      double side = 0.24 * r->width + (i % 2) * 0.10 * r->width;

      dew_pen_line (pen, r->x + side, y, r->x + side + 0.22 * r->width, y);
      dew_pen_line (pen, r->x + r->width - side - 0.14 * r->width, y, r->x + r->width - side, y);
    }
}

static void
paint_tray_content (const DewPen *pen, const DewThing *thing, const DewRect *r, double y)
{
  double pitch = 7;
  int n = MAX ((int) ((r->width - 8) / pitch), 1);

  dew_pen_ink_for (pen, thing, DEW_LINE_DETAIL);
  if (thing->tray.surface == DEW_TRAY_WATER)
    {
      dew_pen_line (pen, r->x + 4, dew_crisp (y), r->x + r->width - 4, dew_crisp (y));
      dew_pen_line (pen, r->x + 0.35 * r->width, dew_crisp (y + 3), r->x + 0.65 * r->width,
                    dew_crisp (y + 3));
      return;
    }
  for (int i = 0; i < n; i++)
    {
      double x = r->x + (r->width - n * pitch) / 2 + (i + 0.5) * pitch;

      cairo_new_sub_path (pen->cr);
      if (thing->tray.surface == DEW_TRAY_MOSS)
        cairo_arc (pen->cr, x, y, pitch / 2, G_PI, 2 * G_PI);
      else
        cairo_arc (pen->cr, x, y + (i % 2), 1.8, 0, 2 * G_PI);
    }
  cairo_stroke (pen->cr);
}

static void
paint_tray (const DewPen *pen, DewView view, const DewThing *thing, const DewRect *r)
{
  double slant = MIN (0.12 * r->height + 2, 6);

  if (view == DEW_VIEW_PLAN)
    {
      double inset = 4;

      rounded (pen, r, 5);
      fill_and_outline (pen, thing, DEW_LINE_OUTLINE);
      dew_pen_ink_for (pen, thing, DEW_LINE_DETAIL);
      rounded (pen,
               &(DewRect){ r->x + inset, r->y + inset, r->width - 2 * inset,
                           r->height - 2 * inset },
               3);
      cairo_stroke (pen->cr);
      for (double y = r->y + 14; y < r->y + r->height - 6; y += 14)
        paint_tray_content (pen, thing, &(DewRect){ r->x + 6, r->y, r->width - 12, r->height }, y);
      return;
    }
  cairo_move_to (pen->cr, r->x, r->y);
  cairo_line_to (pen->cr, r->x + slant, r->y + r->height);
  cairo_line_to (pen->cr, r->x + r->width - slant, r->y + r->height);
  cairo_line_to (pen->cr, r->x + r->width, r->y);
  dew_pen_colour (pen, &pen->palette->body, 1);
  cairo_fill_preserve (pen->cr);
  dew_pen_ink_for (pen, thing, DEW_LINE_OUTLINE);
  cairo_stroke (pen->cr);
  paint_tray_content (pen, thing, r, r->y + (thing->tray.surface == DEW_TRAY_WATER ? 4 : 1));
}

static void
paint_lamp (const DewPen *pen, DewView view, const DewThing *thing, const DewRect *r)
{
  const double dash[] = { 4, 3 };
  double ray = MIN (0.07 * pen->scale, 34), spread = 0.55;
  int rays = MAX ((int) (r->width / 26), 1);

  if (view == DEW_VIEW_PLAN)
    {
      /* Above what the plan looks at: a hidden outline. */
      dew_pen_ink_for (pen, thing, 1);
      cairo_set_dash (pen->cr, dash, 2, 0);
      rounded (pen, r, 3);
      cairo_stroke (pen->cr);
      cairo_set_dash (pen->cr, NULL, 0, 0);
      return;
    }
  if (thing->lamp.on_day > 0 || thing->lamp.on_night > 0)
    {
      dew_pen_ink_for (pen, thing, DEW_LINE_DETAIL);
      for (int i = 0; i <= rays; i++)
        {
          double at = (double) i / rays, lean = (2 * at - 1) * spread;
          double x = r->x + 2 + at * (r->width - 4), y = r->y + r->height + 3;
          double length = i == 0 || i == rays ? ray : 0.55 * ray;

          dew_pen_line (pen, x, y, x + length * lean, y + length * sqrt (1 - lean * lean));
        }
    }
  rounded (pen, r, 3);
  fill_and_outline (pen, thing, DEW_LINE_OUTLINE);
  if (r->height > 8)
    {
      dew_pen_ink_for (pen, thing, DEW_LINE_DETAIL);
      dew_pen_line (pen, r->x + 3, dew_crisp (r->y + 0.7 * r->height), r->x + r->width - 3,
                    dew_crisp (r->y + 0.7 * r->height));
    }
}

static void
paint_mat (const DewPen *pen, DewView view, const DewThing *thing, const DewRect *r)
{
  if (view == DEW_VIEW_PLAN)
    {
      double inset = MIN (6, 0.14 * r->height), pitch = MIN (10, (r->height - 2 * inset) / 4);
      int n = MAX ((int) ((r->height - 2 * inset) / pitch), 1);

      rounded (pen, r, 4);
      fill_and_outline (pen, thing, DEW_LINE_OUTLINE);
      dew_pen_ink_for (pen, thing, DEW_LINE_DETAIL);
      cairo_move_to (pen->cr, r->x + inset, r->y + inset);
      for (int i = 0; i <= n; i++)
        {
          double y = r->y + inset + i * (r->height - 2 * inset) / n;

          cairo_line_to (pen->cr, i % 2 ? r->x + r->width - inset : r->x + inset, y);
          cairo_line_to (pen->cr, i % 2 ? r->x + inset : r->x + r->width - inset, y);
        }
      cairo_stroke (pen->cr);
      return;
    }
  {
    double height = MAX (r->height, 4);
    double y = r->y + r->height - height;

    rounded (pen, &(DewRect){ r->x, y, r->width, height }, 2);
    fill_and_outline (pen, thing, 1.2);
  }
}

static void
paint_source (const DewPen *pen, DewView view, const DewThing *thing, const DewRect *r)
{
  cairo_rectangle (pen->cr, r->x, r->y, r->width, r->height);
  fill_and_outline (pen, thing, DEW_LINE_OUTLINE);
  dew_pen_ink_for (pen, thing, DEW_LINE_DETAIL);
  /* Three rising waves: it gives something off. */
  for (int i = 0; i < 3; i++)
    {
      double x = r->x + r->width * (0.28 + 0.22 * i), step = r->height / 6;

      cairo_move_to (pen->cr, x, r->y + 5 * step);
      cairo_curve_to (pen->cr, x + step, r->y + 4 * step, x - step, r->y + 3 * step, x,
                      r->y + step);
    }
  cairo_stroke (pen->cr);
}

static void
paint_instrument (const DewPen *pen, DewView view, const DewThing *thing, const DewRect *r)
{
  double x = r->x + r->width / 2, y = r->y + r->height / 2;
  double radius = MAX (r->width / 2, 6);

  cairo_arc (pen->cr, x, y, radius, 0, 2 * G_PI);
  fill_and_outline (pen, thing, 1.2);
  dew_pen_ink_for (pen, thing, DEW_LINE_DETAIL);
  dew_pen_line (pen, x, y, x + 0.6 * radius, y - 0.6 * radius);
  for (int i = 0; i < 5; i++)
    {
      double a = G_PI * (0.85 + i * 0.325);

      dew_pen_line (pen, x + 0.72 * radius * cos (a), y + 0.72 * radius * sin (a),
                    x + 0.9 * radius * cos (a), y + 0.9 * radius * sin (a));
    }
}

void
dew_paint_thing (const DewPen *pen, DewView view, const DewThing *thing)
{
  DewRect r;

  dew_view_thing_rect (pen->sheet, pen->layout, view, thing, &r);
  cairo_new_path (pen->cr);
  switch (thing->kind)
    {
    case DEW_THING_SHELF:
      paint_shelf (pen, view, thing, &r);
      break;
    case DEW_THING_OPENING:
      dew_paint_opening (pen, view, thing);
      break;
    case DEW_THING_FAN:
      paint_fan (pen, view, thing);
      break;
    case DEW_THING_HUMIDIFIER:
      paint_humidifier (pen, view, thing, &r);
      break;
    case DEW_THING_POT:
      paint_pot (pen, view, thing, &r);
      break;
    case DEW_THING_TRAY:
      paint_tray (pen, view, thing, &r);
      break;
    case DEW_THING_LAMP:
      paint_lamp (pen, view, thing, &r);
      break;
    case DEW_THING_MAT:
      paint_mat (pen, view, thing, &r);
      break;
    case DEW_THING_SOURCE:
      paint_source (pen, view, thing, &r);
      break;
    case DEW_THING_PLANT:
      dew_paint_plant (pen, view, thing);
      break;
    case DEW_THING_INSTRUMENT:
      paint_instrument (pen, view, thing, &r);
      break;
    case DEW_N_THING_KINDS:
      break;
    }
}
