/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/sheet-private.h"

#include <math.h>
#include <string.h>

/* Plants by habit, in a few strokes inside their crown. What varies from one
 * plant to the next follows from its id, so that it always looks the same. */

typedef enum
{
  HABIT_TUFT,            /* strap leaves */
  HABIT_ROSETTE,         /* flat leaves near the ground, a stalk */
  HABIT_CLIMBER_PITCHER, /* broad leaves, pitchers on tendrils */
  HABIT_TRUMPET,         /* standing tubes */
  HABIT_FROND,           /* ferns */
  HABIT_CUSHION,         /* mosses */
  HABIT_BROAD            /* stalked broad leaves */
} Habit;

/* Words of species and groups that tell a habit; the rest is a tuft. */
/* clang-format off */
static const struct
{
  const char *word;
  Habit habit;
} habit_words[] = {
  { "nepenthes", HABIT_CLIMBER_PITCHER }, { "pitcher", HABIT_CLIMBER_PITCHER },
  { "heliamphora", HABIT_TRUMPET },  { "darlingtonia", HABIT_TRUMPET },
  { "sarracenia", HABIT_TRUMPET },   { "cephalotus", HABIT_TRUMPET },
  { "drosera", HABIT_ROSETTE },      { "pinguicula", HABIT_ROSETTE },
  { "streptocarpus", HABIT_ROSETTE }, { "sinningia", HABIT_ROSETTE },
  { "primulina", HABIT_ROSETTE },    { "petrocosmea", HABIT_ROSETTE },
  { "episcia", HABIT_ROSETTE },      { "rosette", HABIT_ROSETTE },
  { "cryptanthus", HABIT_ROSETTE },  { "utricularia", HABIT_BROAD },
  { "hymenophyllum", HABIT_FROND },  { "trichomanes", HABIT_FROND },
  { "leptopteris", HABIT_FROND },    { "adiantum", HABIT_FROND },
  { "davallia", HABIT_FROND },       { "nephrolepis", HABIT_FROND },
  { "cyathea", HABIT_FROND },        { "selaginella", HABIT_FROND },
  { "microsorum", HABIT_FROND },     { "fern", HABIT_FROND },
  { "moss", HABIT_CUSHION },         { "sphagnum", HABIT_CUSHION },
  { "liverwort", HABIT_CUSHION },    { "begonia", HABIT_BROAD },
  { "anthurium", HABIT_BROAD },      { "philodendron", HABIT_BROAD },
  { "alocasia", HABIT_BROAD },       { "rhaphidophora", HABIT_BROAD },
  { "peperomia", HABIT_BROAD },      { "fittonia", HABIT_BROAD },
  { "sonerila", HABIT_BROAD },       { "kohleria", HABIT_BROAD },
  { "ludisia", HABIT_BROAD },        { "macodes", HABIT_BROAD },
};
/* clang-format on */

static Habit
habit_of (const DewThing *thing)
{
  const char *texts[] = { thing->plant.species, thing->name };

  for (guint t = 0; t < G_N_ELEMENTS (texts); t++)
    {
      g_autofree char *lower = g_ascii_strdown (texts[t], -1);

      for (guint i = 0; i < G_N_ELEMENTS (habit_words); i++)
        if (strstr (lower, habit_words[i].word) != NULL)
          return habit_words[i].habit;
    }
  return HABIT_TUFT;
}

/* -1..1, fixed by the plant and a counter. */
static double
whim (const DewThing *thing, guint n)
{
  guint x = thing->id * 0x9e3779b1u + n * 0x85ebca77u + 0x165667b1u;

  x ^= x >> 15;
  x *= 0x2c1b3ce5u;
  x ^= x >> 13;
  return x / 2147483648.0 - 1;
}

static void
leaf_ink (const DewPen *pen, const DewThing *thing, double width)
{
  gboolean selected = dew_sheet_selects (pen->sheet, thing->id);
  gboolean hovered = thing->id != 0 && thing->id == pen->sheet->hover_id;

  dew_pen_colour (pen, selected ? &pen->palette->accent : &pen->palette->leaf, 1);
  cairo_set_line_width (pen->cr, width + (hovered || selected ? 0.4 : 0));
}

/* A leaf as a lens from (x0, y0) to (x1, y1); `fullness` is its half width over
 * its length. */
static void
lens (const DewPen *pen, double x0, double y0, double x1, double y1, double fullness)
{
  double nx = -(y1 - y0) * fullness, ny = (x1 - x0) * fullness;
  double ax = x0 + (x1 - x0) * 0.35, ay = y0 + (y1 - y0) * 0.35;
  double bx = x0 + (x1 - x0) * 0.75, by = y0 + (y1 - y0) * 0.75;

  cairo_move_to (pen->cr, x0, y0);
  cairo_curve_to (pen->cr, ax + nx, ay + ny, bx + nx, by + ny, x1, y1);
  cairo_curve_to (pen->cr, bx - nx, by - ny, ax - nx, ay - ny, x0, y0);
  cairo_close_path (pen->cr);
}

static void
fill_leaf (const DewPen *pen, const DewThing *thing, double width)
{
  dew_pen_colour (pen, &pen->palette->body, 0.85);
  cairo_fill_preserve (pen->cr);
  leaf_ink (pen, thing, width);
  cairo_stroke (pen->cr);
}

/* --- seen from the front or the side ----------------------------------------------- */

/* r: the crown; its foot is the middle of the lower edge. */

static void
stand_tuft (const DewPen *pen, const DewThing *thing, const DewRect *r)
{
  const int n = 7;
  double x0 = r->x + r->width / 2, y0 = r->y + r->height;

  for (int i = 0; i < n; i++)
    {
      double side = (2.0 * i / (n - 1) - 1) * 0.96;
      double top = r->y + r->height * (0.06 + 0.06 * whim (thing, i) + 0.18 * side * side);
      double x1 = x0 + side * r->width / 2;
      double droop = y0 - r->height * (0.78 - 0.42 * fabs (side) + 0.06 * whim (thing, 9 + i));

      leaf_ink (pen, thing, 1.3);
      cairo_move_to (pen->cr, x0 + 2 * side, y0);
      cairo_curve_to (pen->cr, x0 + 0.10 * side * r->width, y0 - 0.55 * r->height,
                      x0 + 0.62 * side * r->width / 2, top - 0.02 * r->height, x1, droop);
      cairo_stroke (pen->cr);
    }
}

static void
stand_rosette (const DewPen *pen, const DewThing *thing, const DewRect *r)
{
  static const double leaves[] = { 0.97, -0.97, 0.72, -0.72, 0.34, -0.34 };
  static const double rises[] = { 0.16, 0.16, 0.30, 0.30, 0.40, 0.40 };
  double x0 = r->x + r->width / 2, y0 = r->y + r->height;

  leaf_ink (pen, thing, 1);
  cairo_move_to (pen->cr, x0, y0 - 0.2 * r->height);
  cairo_curve_to (pen->cr, x0 + 2, y0 - 0.5 * r->height, x0 - 3, r->y + 0.3 * r->height,
                  x0 + 4 * whim (thing, 1), r->y + 4);
  cairo_stroke (pen->cr);
  cairo_arc (pen->cr, x0 + 4 * whim (thing, 1), r->y + 3, 2.4, 0, 2 * G_PI);
  fill_leaf (pen, thing, 1);
  for (int i = 5; i >= 0; i--)
    {
      lens (pen, x0, y0 - 1, x0 + leaves[i] * r->width / 2,
            y0 - (rises[i] + 0.03 * whim (thing, i)) * r->height, 0.17);
      fill_leaf (pen, thing, 1.1);
    }
}

/* One closed jug with its lid, hanging from (x, y). */
static void
hanging_pitcher (const DewPen *pen, const DewThing *thing, double x, double y, double size)
{
  double w = 0.34 * size;

  cairo_move_to (pen->cr, x - 0.75 * w, y);
  cairo_curve_to (pen->cr, x - 0.85 * w, y + 0.30 * size, x - 1.25 * w, y + 0.62 * size,
                  x - 0.1 * w, y + size);
  cairo_curve_to (pen->cr, x + 1.35 * w, y + 0.80 * size, x + 0.85 * w, y + 0.30 * size,
                  x + 0.75 * w, y);
  cairo_close_path (pen->cr);
  fill_leaf (pen, thing, 1.1);
  leaf_ink (pen, thing, 1.1);
  cairo_move_to (pen->cr, x - 0.8 * w, y);
  cairo_curve_to (pen->cr, x - 0.3 * w, y - 0.34 * size, x + 0.9 * w, y - 0.30 * size, x + 1.0 * w,
                  y - 0.10 * size);
  cairo_stroke (pen->cr);
}

static void
stand_climber (const DewPen *pen, const DewThing *thing, const DewRect *r)
{
  static const double sides[] = { 0.92, -0.92, 0.62, -0.62, 0.22 };
  static const double rises[] = { 0.50, 0.58, 0.80, 0.74, 0.98 };
  double x0 = r->x + r->width / 2, y0 = r->y + r->height;
  double jug = 0.24 * MIN (r->height, r->width);

  for (int i = 4; i >= 0; i--)
    {
      double side = sides[i], rise = rises[i] + 0.03 * whim (thing, i);
      double x1 = x0 + 0.72 * side * r->width / 2, y1 = y0 - rise * r->height;
      double px = x0 + side * (r->width / 2 - 0.4 * jug);
      double py = y1 + (0.16 + 0.05 * whim (thing, 20 + i)) * r->height;

      if (i < 3)
        {
          leaf_ink (pen, thing, 0.8);
          cairo_move_to (pen->cr, x1, y1);
          cairo_curve_to (pen->cr, x1 + side * 0.2 * r->width, y1 - 4, px + side * 4,
                          py - 0.3 * jug, px, py);
          cairo_stroke (pen->cr);
        }
      lens (pen, x0, y0 - 0.12 * i * r->height / 4, x1, y1, 0.13);
      fill_leaf (pen, thing, 1.1);
      leaf_ink (pen, thing, 0.6);
      dew_pen_line (pen, x0, y0 - 0.12 * i * r->height / 4, x1, y1);
      if (i < 3)
        hanging_pitcher (pen, thing, px, MIN (py, y0 - jug), jug);
    }
}

static void
stand_trumpet (const DewPen *pen, const DewThing *thing, const DewRect *r)
{
  static const double sides[] = { 0.62, -0.66, 0.28, -0.24, 0.02 };
  double x0 = r->x + r->width / 2, y0 = r->y + r->height;

  for (int i = 0; i < 5; i++)
    {
      double lean = sides[i] * r->width / 2;
      double height = r->height * (0.70 + 0.055 * i + 0.04 * whim (thing, i));
      double foot = 0.035 * r->width, mouth = 0.10 * r->width;
      double x1 = x0 + lean, y1 = y0 - height;
      double fx = x0 + 0.22 * lean;

      cairo_move_to (pen->cr, fx - foot, y0);
      cairo_curve_to (pen->cr, fx - foot, y0 - 0.4 * height, x1 - 1.1 * mouth, y0 - 0.62 * height,
                      x1 - mouth, y1 + 0.08 * height);
      cairo_line_to (pen->cr, x1 + mouth, y1 + 0.14 * height);
      cairo_curve_to (pen->cr, x1 + 0.7 * mouth, y0 - 0.6 * height, fx + foot, y0 - 0.4 * height,
                      fx + foot, y0);
      fill_leaf (pen, thing, 1.1);
      /* The hood over the mouth. */
      leaf_ink (pen, thing, 1.1);
      cairo_move_to (pen->cr, x1 - mouth, y1 + 0.08 * height);
      cairo_curve_to (pen->cr, x1 - 1.1 * mouth, y1 - 0.03 * height, x1 + 0.2 * mouth,
                      y1 - 0.05 * height, x1 + 0.6 * mouth, y1 + 0.03 * height);
      cairo_stroke (pen->cr);
    }
}

/* A frond along a curve, with leaflets on both sides. */
static void
frond (const DewPen *pen, const DewThing *thing, double x0, double y0, double cx, double cy,
       double x1, double y1, double leaflet)
{
  double length = hypot (x1 - x0, y1 - y0);
  int n = CLAMP ((int) (length / 4.2), 5, 16);

  leaf_ink (pen, thing, 1);
  cairo_move_to (pen->cr, x0, y0);
  cairo_curve_to (pen->cr, x0 + (cx - x0) * 2 / 3, y0 + (cy - y0) * 2 / 3, x1 + (cx - x1) * 2 / 3,
                  y1 + (cy - y1) * 2 / 3, x1, y1);
  cairo_stroke (pen->cr);
  /* Leaflets as slim triangles: filled together they cost a tenth of as many
   * strokes. */
  for (int i = 1; i < n; i++)
    {
      double t = 0.22 + 0.78 * i / n, s = 1 - t;
      double x = s * s * x0 + 2 * s * t * cx + t * t * x1;
      double y = s * s * y0 + 2 * s * t * cy + t * t * y1;
      double dx = 2 * s * (cx - x0) + 2 * t * (x1 - cx), dy = 2 * s * (cy - y0) + 2 * t * (y1 - cy);
      double norm = MAX (hypot (dx, dy), 1e-9), size = leaflet * (1.08 - t), half = 0.7;

      dx /= norm;
      dy /= norm;
      for (int side = -1; side <= 1; side += 2)
        {
          cairo_move_to (pen->cr, x - half * dx, y - half * dy);
          cairo_line_to (pen->cr, x - side * dy * size + dx * size * 0.5,
                         y + side * dx * size + dy * size * 0.5);
          cairo_line_to (pen->cr, x + half * dx, y + half * dy);
          cairo_close_path (pen->cr);
        }
    }
  cairo_fill (pen->cr);
}

static void
stand_frond (const DewPen *pen, const DewThing *thing, const DewRect *r)
{
  static const double sides[] = { -0.98, -0.62, -0.22, 0.20, 0.60, 0.98 };
  double x0 = r->x + r->width / 2, y0 = r->y + r->height;
  double leaflet = 0.13 * MIN (r->width, r->height);

  for (int i = 0; i < 6; i++)
    {
      double x1 = x0 + sides[i] * r->width / 2;
      double y1 = y0 - r->height * (0.95 - 0.55 * sides[i] * sides[i] + 0.05 * whim (thing, i));

      frond (pen, thing, x0, y0, x0 + 0.45 * (x1 - x0), y0 - 0.95 * r->height, x1, MAX (y1, r->y),
             leaflet);
    }
}

static void
stand_cushion (const DewPen *pen, const DewThing *thing, const DewRect *r)
{
  double x0 = r->x + r->width / 2, y0 = r->y + r->height;
  const int bumps = 7;

  cairo_move_to (pen->cr, r->x, y0);
  for (int i = 0; i < bumps; i++)
    {
      double a0 = G_PI * (1 - (double) i / bumps), a1 = G_PI * (1 - (i + 1.0) / bumps);
      double am = (a0 + a1) / 2;

      cairo_curve_to (pen->cr, x0 + 0.53 * r->width * cos (a0) + 0.02 * r->width * cos (am),
                      y0 - 1.02 * r->height * sin (a0) - 0.12 * r->height * sin (am),
                      x0 + 0.53 * r->width * cos (a1) + 0.02 * r->width * cos (am),
                      y0 - 1.02 * r->height * sin (a1) - 0.12 * r->height * sin (am),
                      x0 + 0.5 * r->width * cos (a1), y0 - 0.9 * r->height * sin (a1));
    }
  fill_leaf (pen, thing, 1.1);
  leaf_ink (pen, thing, 0.8);
  for (int i = 0; i < 14; i++)
    {
      double a = G_PI * (0.5 + 0.42 * whim (thing, i)), d = 0.45 + 0.3 * whim (thing, 40 + i);
      double x = x0 + 0.5 * d * r->width * cos (a), y = y0 - 0.85 * d * r->height * sin (a);

      dew_pen_line (pen, x, y, x + 2.5 * cos (a), y - 3 * sin (a));
    }
}

static void
stand_broad (const DewPen *pen, const DewThing *thing, const DewRect *r)
{
  static const double sides[] = { 0.78, -0.80, 0.40, -0.36, 0.04 };
  static const double rises[] = { 0.46, 0.52, 0.72, 0.78, 0.84 };
  double x0 = r->x + r->width / 2, y0 = r->y + r->height;

  for (int i = 4; i >= 0; i--)
    {
      double x = x0 + 0.78 * sides[i] * r->width / 2;
      double y = y0 - (rises[i] - 0.10 + 0.04 * whim (thing, i)) * r->height;
      double out_x = 0.20 * r->width * (sides[i] > 0 ? 1 : -1) * (0.4 + fabs (sides[i]) * 0.6);
      double out_y = -0.17 * r->height;

      leaf_ink (pen, thing, 0.9);
      cairo_move_to (pen->cr, x0, y0);
      cairo_curve_to (pen->cr, x0, y0 - 0.3 * r->height, x, y + 0.25 * r->height, x, y);
      cairo_stroke (pen->cr);
      lens (pen, x - 0.3 * out_x, y - 0.3 * out_y, x + out_x, y + out_y, 0.36);
      fill_leaf (pen, thing, 1.1);
    }
}

/* --- seen from above -------------------------------------------------------------------- */

static void
plan_leaves (const DewPen *pen, const DewThing *thing, double x, double y, double rx, double ry,
             Habit habit)
{
  int n = habit == HABIT_TUFT ? 11 : habit == HABIT_FROND ? 8 : habit == HABIT_ROSETTE ? 9 : 7;

  for (int i = 0; i < n; i++)
    {
      double a = 2 * G_PI * i / n + 0.5 * whim (thing, 0) + 0.12 * whim (thing, i + 1);
      double reach = 0.92 + 0.08 * whim (thing, 30 + i);
      double x1 = x + rx * reach * cos (a), y1 = y + ry * reach * sin (a);
      double mx = x + 0.55 * rx * cos (a + 0.22), my = y + 0.55 * ry * sin (a + 0.22);

      switch (habit)
        {
        case HABIT_FROND:
          frond (pen, thing, x, y, mx, my, x1, y1, 0.15 * MIN (rx, ry));
          break;
        case HABIT_ROSETTE:
          lens (pen, x, y, x1, y1, 0.2);
          fill_leaf (pen, thing, 1);
          break;
        case HABIT_CLIMBER_PITCHER:
          lens (pen, x, y, x + 0.8 * (x1 - x), y + 0.8 * (y1 - y), 0.13);
          fill_leaf (pen, thing, 1);
          if (i % 2 == 0)
            {
              double size = 0.10 * MIN (rx, ry);

              cairo_arc (pen->cr, x1 - size * cos (a), y1 - size * sin (a), size, 0, 2 * G_PI);
              fill_leaf (pen, thing, 1);
            }
          break;
        case HABIT_BROAD:
          lens (pen, x + 0.35 * (x1 - x), y + 0.35 * (y1 - y), x1, y1, 0.4);
          fill_leaf (pen, thing, 1);
          break;
        default:
          leaf_ink (pen, thing, 1.2);
          cairo_move_to (pen->cr, x, y);
          cairo_curve_to (pen->cr, x + 0.3 * (mx - x), y + 0.3 * (my - y), mx, my, x1, y1);
          cairo_stroke (pen->cr);
          break;
        }
    }
}

static void
plan_blobs (const DewPen *pen, const DewThing *thing, double x, double y, double rx, double ry,
            Habit habit)
{
  int n = habit == HABIT_TRUMPET ? 6 : 9;
  double size = (habit == HABIT_TRUMPET ? 0.22 : 0.34) * MIN (rx, ry);

  for (int i = 0; i < n; i++)
    {
      double a = 2 * G_PI * i / n + whim (thing, 0);
      double d = i == n - 1 ? 0 : 0.62 + 0.06 * whim (thing, i);

      cairo_arc (pen->cr, x + d * rx * cos (a), y + d * ry * sin (a), size, 0, 2 * G_PI);
      fill_leaf (pen, thing, 1);
    }
}

/* --- pot and crown ------------------------------------------------------------------------- */

/* What the plant stands on: its shelf, the floor, or a tray below it. */
static double
support_m (const DewSheet *sheet, const DewPlant *plant)
{
  double rest = dew_variant_rest_height (sheet->variant, plant->z_m);
  double support = rest;

  for (guint i = 0; i < sheet->variant->things->len; i++)
    {
      const DewThing *other = &g_array_index (sheet->variant->things, DewThing, i);
      double lo[3], hi[3];

      if (other->kind != DEW_THING_TRAY)
        continue;
      dew_thing_box (sheet->chamber, other, lo, hi);
      if (plant->x_m > lo[0] && plant->x_m < hi[0] && plant->y_m > lo[1] && plant->y_m < hi[1]
          && hi[2] <= plant->z_m + 0.01 && lo[2] >= rest - 0.01)
        support = MAX (support, hi[2]);
    }
  return support;
}

/* Everything between the crown and what carries it: a pot, or for a mount
 * (without a mass) a slab behind. */
static void
paint_foot (const DewPen *pen, const DewThing *thing, const DewRect *crown)
{
  const double least_m = 0.015;
  double gap_m = thing->plant.z_m - support_m (pen->sheet, &thing->plant);
  double height = gap_m * pen->scale, width, x = crown->x + crown->width / 2;
  double y = crown->y + crown->height;

  if (gap_m < least_m)
    return;
  if (thing->plant.mass_kg <= 0)
    {
      width = MAX (0.16 * crown->width, 4);
      cairo_rectangle (pen->cr, x - width / 2, y - 0.3 * crown->height, width,
                       height + 0.3 * crown->height);
    }
  else
    {
      double rim = MIN (MAX (0.16 * height, 2.5), 0.4 * height);

      width = MIN (0.66 * crown->width, 1.15 * height);
      cairo_move_to (pen->cr, x - 0.46 * width, y + rim);
      cairo_line_to (pen->cr, x - 0.36 * width, y + height);
      cairo_line_to (pen->cr, x + 0.36 * width, y + height);
      cairo_line_to (pen->cr, x + 0.46 * width, y + rim);
      cairo_close_path (pen->cr);
      cairo_rectangle (pen->cr, x - width / 2, y, width, rim);
    }
  dew_pen_colour (pen, &pen->palette->body, 1);
  cairo_fill_preserve (pen->cr);
  dew_pen_ink_for (pen, thing, 1.2);
  cairo_stroke (pen->cr);
}

void
dew_paint_plant (const DewPen *pen, DewView view, const DewThing *thing)
{
  Habit habit = habit_of (thing);
  DewRect r;

  dew_view_thing_rect (pen->sheet, pen->layout, view, thing, &r);
  cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_join (pen->cr, CAIRO_LINE_JOIN_BEVEL);
  if (view == DEW_VIEW_PLAN)
    {
      double x = r.x + r.width / 2, y = r.y + r.height / 2;

      if (habit == HABIT_TRUMPET || habit == HABIT_CUSHION)
        plan_blobs (pen, thing, x, y, r.width / 2, r.height / 2, habit);
      else
        plan_leaves (pen, thing, x, y, r.width / 2, r.height / 2, habit);
    }
  else
    {
      static void (*const painters[]) (const DewPen *, const DewThing *, const DewRect *) = {
        [HABIT_TUFT] = stand_tuft,
        [HABIT_ROSETTE] = stand_rosette,
        [HABIT_CLIMBER_PITCHER] = stand_climber,
        [HABIT_TRUMPET] = stand_trumpet,
        [HABIT_FROND] = stand_frond,
        [HABIT_CUSHION] = stand_cushion,
        [HABIT_BROAD] = stand_broad,
      };

      paint_foot (pen, thing, &r);
      painters[habit](pen, thing, &r);
    }
  cairo_set_line_join (pen->cr, CAIRO_LINE_JOIN_MITER);
}
