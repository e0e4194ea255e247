/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each side that is cut, as seen from outside, with its holes lettered, drawn to scale and
 * measured from two edges. */
#include "sheets/printout-private.h"

#include "say/cuts.h"

#include <glib/gi18n.h>
#include <math.h>

#define PX_M (1000.0 / DEW_PAPER_PX_MM)
#define DRAWING_SHARE 0.5  /* of the width; the words have the rest */
#define DRAWING_HIGH 620.0 /* where one side alone is cut; several share the page */
#define DRAWING_LOW 340.0
#define AROUND 90.0 /* px of a side for its title, its measures across and the gap */
#define CHAIN 22.0  /* px from one row of dimensions to the next */
#define TICK 4.0
#define COLUMN_GAP 24.0
#define LETTER 30.0 /* room for a cut's letter */
#define LETTER_HIGH 18.0

/* One side in the making. */
typedef struct
{
  const DewCut *cuts; /* [n], all of one face */
  guint n, first;     /* first: number of cuts[0] among all, for its letter */
  DewFace face;
  double side_m[2]; /* across, up */
  double scale;     /* 1 to that */
  double px_m;
  double width, height; /* px of the face */
} DewSide;

/* From behind and from the left the axis across runs from right to left. */
static gboolean
mirrored (DewFace face)
{
  return face == DEW_FACE_BACK || face == DEW_FACE_LEFT;
}

static double
across_px (const DewSide *side, double u_m)
{
  return (mirrored (side->face) ? side->side_m[0] - u_m : u_m) * side->px_m;
}

static double
up_px (const DewSide *side, double v_m)
{
  return side->height - v_m * side->px_m;
}

static void
fit_side (const DewWalk *walk, DewSide *side, guint n_sides)
{
  double high
    = CLAMP ((walk->bottom - walk->top - AROUND) / n_sides - AROUND, DRAWING_LOW, DRAWING_HIGH);
  double inner_m[3], width;
  int u, v;

  dew_chamber_inner_m (walk->page->printout->chamber, inner_m);
  dew_face_axes (side->face, &u, &v);
  side->side_m[0] = inner_m[u];
  side->side_m[1] = inner_m[v];
  width = DRAWING_SHARE * (walk->right - walk->left) - side->n * CHAIN;
  side->scale
    = dew_page_round_scale (MAX (side->side_m[0] * PX_M / width, side->side_m[1] * PX_M / high));
  side->px_m = PX_M / side->scale;
  side->width = side->side_m[0] * side->px_m;
  side->height = side->side_m[1] * side->px_m;
}

/* --- the drawing --------------------------------------------------------------- */

/* A line between two ticks with a number over its middle, where that fits. Along the page,
 * or upright and read from the right. */
static void
measure (const DewPage *page, double x0, double y0, double x1, double y1, const char *text)
{
  gboolean upright = fabs (y1 - y0) > fabs (x1 - x0);
  double length = upright ? fabs (y1 - y0) : fabs (x1 - x0);
  const DewColour *soft = &page->palette->ink_soft;
  double width = dew_page_words_width (page, DEW_PRINT_SMALL, text);

  cairo_set_source_rgb (page->cr, soft->r, soft->g, soft->b);
  cairo_set_line_width (page->cr, DEW_LINE_DETAIL);
  cairo_move_to (page->cr, x0, y0);
  cairo_line_to (page->cr, x1, y1);
  for (int end = 0; end < 2; end++)
    {
      double x = end == 0 ? x0 : x1, y = end == 0 ? y0 : y1;

      cairo_move_to (page->cr, x - (upright ? TICK : 0), y - (upright ? 0 : TICK));
      cairo_line_to (page->cr, x + (upright ? TICK : 0), y + (upright ? 0 : TICK));
    }
  cairo_stroke (page->cr);
  if (width + 2 * TICK > length)
    return;
  cairo_save (page->cr);
  cairo_translate (page->cr, (x0 + x1) / 2, (y0 + y1) / 2);
  if (upright)
    cairo_rotate (page->cr, -G_PI / 2);
  dew_page_words (page, DEW_PRINT_SMALL, soft, -width / 2, -15, -1, 0, text);
  cairo_restore (page->cr);
}

/* The lengths from the edge to a hole and through it, one after the other. */
static void
chain (const DewPage *page, const DewSide *side, const DewCut *cut, int axis, double at)
{
  double stops_m[3] = { 0, cut->lo_m[axis], cut->hi_m[axis] };
  int n = 3;

  if (cut->round)
    {
      stops_m[1] = (cut->lo_m[axis] + cut->hi_m[axis]) / 2;
      n = 2;
    }
  for (int i = 1; i < n; i++)
    {
      g_autofree char *text = dew_ruler_text (stops_m[i] - stops_m[i - 1], page->printout->tongue);

      if (stops_m[i] - stops_m[i - 1] < DEW_SLACK_M)
        continue;
      if (axis == 0)
        measure (page, across_px (side, stops_m[i - 1]), at, across_px (side, stops_m[i]), at,
                 text);
      else
        measure (page, at, up_px (side, stops_m[i - 1]), at, up_px (side, stops_m[i]), text);
    }
}

static void
hole (const DewPage *page, const DewSide *side, const DewCut *cut, const char *letter)
{
  double x0 = across_px (side, cut->lo_m[0]), x1 = across_px (side, cut->hi_m[0]);
  double y0 = up_px (side, cut->hi_m[1]), y1 = up_px (side, cut->lo_m[1]);
  double width = dew_page_words_width (page, DEW_PRINT_STRONG, letter);

  if (cut->round)
    cairo_arc (page->cr, (x0 + x1) / 2, (y0 + y1) / 2, fabs (x1 - x0) / 2, 0, 2 * G_PI);
  else
    cairo_rectangle (page->cr, MIN (x0, x1), y0, fabs (x1 - x0), y1 - y0);
  cairo_set_source_rgb (page->cr, page->palette->body.r, page->palette->body.g,
                        page->palette->body.b);
  cairo_fill_preserve (page->cr);
  cairo_set_source_rgb (page->cr, page->palette->ink.r, page->palette->ink.g, page->palette->ink.b);
  cairo_set_line_width (page->cr, DEW_LINE_OUTLINE);
  cairo_stroke (page->cr);
  /* In the hole; over a low one, and under one that is at the upper edge. */
  dew_page_words (page, DEW_PRINT_STRONG, &page->palette->ink, (x0 + x1 - width) / 2,
                  y1 - y0 > LETTER_HIGH  ? (y0 + y1 - LETTER_HIGH) / 2
                  : y0 > LETTER_HIGH + 2 ? y0 - LETTER_HIGH - 2
                                         : y1 + 2,
                  -1, 0, letter);
}

static void
paint_side (const DewPage *page, const DewSide *side, double x, double y)
{
  if (page->cr == NULL)
    return;
  cairo_save (page->cr);
  /* Dimensions up and down stand on the side from which one measures across. */
  cairo_translate (page->cr, mirrored (side->face) ? x : x + side->n * CHAIN, y);
  cairo_rectangle (page->cr, 0, 0, side->width, side->height);
  cairo_set_source_rgb (page->cr, page->palette->ink.r, page->palette->ink.g, page->palette->ink.b);
  cairo_set_line_width (page->cr, DEW_LINE_OUTLINE);
  cairo_stroke (page->cr);
  for (guint i = 0; i < side->n; i++)
    {
      g_autofree char *letter = dew_cut_letter (side->first + i);
      double off = (i + 0.8) * CHAIN;

      hole (page, side, &side->cuts[i], letter);
      chain (page, side, &side->cuts[i], 0, side->height + off);
      chain (page, side, &side->cuts[i], 1,
             mirrored (side->face) ? side->width + off + 4 : -off + 6);
    }
  cairo_restore (page->cr);
}

/* --- words ------------------------------------------------------------------------ */

static double
cut_words (const DewPage *page, const DewCut *cut, guint number, double x, double y, double width)
{
  DewTongue tongue = page->printout->tongue;
  const DewColour *ink = &page->palette->ink, *soft = &page->palette->ink_soft;
  g_autofree char *letter = dew_cut_letter (number);
  g_autofree char *size = dew_cut_size_words (cut, tongue);
  g_autofree char *place = dew_cut_place_words (cut, tongue);
  double start = y;

  dew_page_words (page, DEW_PRINT_STRONG, ink, x, y, LETTER, 0, letter);
  x += LETTER;
  width -= LETTER;
  if (cut->thing->name[0] != '\0')
    y += dew_page_words (page, DEW_PRINT_STRONG, ink, x, y, width, 0, cut->thing->name);
  y += dew_page_words (page, DEW_PRINT_BODY, ink, x, y, width, 0, size);
  y += dew_page_words (page, DEW_PRINT_BODY, soft, x, y, width, 0, place);
  return y - start + DEW_WALK_ROW_GAP;
}

static char *
side_title (const DewSide *side)
{
  const char *title = dew_face_title (side->face);

  if (side->face == DEW_FACE_ROOF || side->face == DEW_FACE_FLOOR)
    /* Translators: 'Roof, seen from above, 1 : 10' */
    return g_strdup_printf (_ ("%s, seen from above, 1 : %g"), title, side->scale);
  /* Translators: 'Left side, seen from outside, 1 : 10' */
  return g_strdup_printf (_ ("%s, seen from outside, 1 : %g"), title, side->scale);
}

static double
side_words (const DewPage *page, const DewWalk *walk, const DewSide *side)
{
  double x = walk->left + DRAWING_SHARE * (walk->right - walk->left) + COLUMN_GAP;
  double y = walk->y;

  for (guint i = 0; i < side->n; i++)
    y += cut_words (page, &side->cuts[i], side->first + i, x, y, walk->right - x);
  return y - walk->y;
}

static void
walk_side (DewWalk *walk, DewSide *side, guint n_sides)
{
  g_autofree char *title = NULL;
  double height;

  fit_side (walk, side, n_sides);
  title = side_title (side);
  height = MAX (side->height + (side->n + 1) * CHAIN, side_words (&walk->mute, walk, side));
  dew_walk_need (walk, height + 30);
  walk->y += dew_page_words (dew_walk_pen (walk), DEW_PRINT_STRONG, &walk->page->palette->ink,
                             walk->left, walk->y, walk->right - walk->left, 0, title)
             + DEW_WALK_BLOCK_GAP;
  paint_side (dew_walk_pen (walk), side, walk->left, walk->y);
  side_words (dew_walk_pen (walk), walk, side);
  walk->y += height + DEW_WALK_BLOCK_GAP;
}

void
dew_walk_cuts (DewWalk *walk)
{
  g_autoptr (GArray) cuts = dew_variant_cuts (walk->page->printout->variant);
  const DewCut *all = (const DewCut *) cuts->data;
  guint n_sides = 0;

  dew_walk_head (walk, _ ("Cuts in the cover"));
  if (cuts->len == 0)
    {
      dew_walk_words (walk, DEW_PRINT_BODY, &walk->page->palette->ink_soft,
                      _ ("Nothing is to be cut."));
      return;
    }
  dew_walk_words (walk, DEW_PRINT_BODY, &walk->page->palette->ink_soft,
                  _ ("Measured inside, from the inner edges. Left and right are as one sees the "
                     "enclosure from in front. Mark, measure once more, then cut; cut a flap on "
                     "three sides. Glass is not cut at home: tempered glass shatters."));
  for (guint i = 0; i < cuts->len; i++)
    n_sides += i == 0 || all[i].face != all[i - 1].face;
  for (guint i = 0; i < cuts->len;)
    {
      DewSide side = { .cuts = &all[i], .first = i, .face = all[i].face };

      while (i < cuts->len && all[i].face == side.face)
        {
          side.n++;
          i++;
        }
      walk_side (walk, &side, n_sides);
    }
}
