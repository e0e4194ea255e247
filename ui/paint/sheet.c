/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "paint/rows.h"

#include <glib/gi18n.h>
#include <math.h>

/* --- handles and guides ----------------------------------------------------------- */

void
dew_paint_handles (const DewPen *pen, DewView view, const DewThing *thing)
{
  DewHandle handles[DEW_MAX_HANDLES];
  guint n = dew_sheet_handles (pen->sheet, pen->layout, view, thing, handles);

  for (guint i = 0; i < n; i++)
    {
      double x = handles[i].at_px[0], y = handles[i].at_px[1];

      cairo_new_path (pen->cr);
      if (handles[i].part == DEW_PART_AIM || handles[i].part == DEW_PART_LIFT)
        cairo_arc (pen->cr, x, y, 4.5, 0, 2 * G_PI);
      else
        cairo_rectangle (pen->cr, dew_crisp (x) - 3.5, dew_crisp (y) - 3.5, 7, 7);
      dew_pen_colour (pen, &pen->palette->body, 1);
      cairo_fill_preserve (pen->cr);
      dew_pen_colour (pen, &pen->palette->accent, 1);
      cairo_set_line_width (pen->cr, DEW_LINE_OUTLINE);
      cairo_stroke (pen->cr);
    }
}

/* Words on a guide, on a strip of paper. */
static void
paint_guide_words (const DewPen *pen, double x, double y, const char *words)
{
  double width, height;
  DewTextMeter meter;

  dew_text_meter_init (&meter, pen->sheet);
  dew_text_measure (&meter, DEW_TEXT_NUMBER, words, &width, &height);
  dew_text_meter_clear (&meter);
  dew_pen_colour (pen, &pen->palette->paper, 0.9);
  cairo_rectangle (pen->cr, x - width / 2 - 3, y - height / 2, width + 6, height);
  cairo_fill (pen->cr);
  dew_pen_text (pen, DEW_TEXT_NUMBER, &pen->palette->accent, 1, x, y, 0.5, 0.5, words);
}

static void
paint_measure (const DewPen *pen, const DewGuide *guide, const double a[2], const double b[2])
{
  double length_m = hypot (guide->b_m[0] - guide->a_m[0], guide->b_m[1] - guide->a_m[1]);
  g_autofree char *text = dew_length_text (length_m, pen->sheet->tongue);

  for (int i = 0; i < 2; i++)
    {
      const double *end = i ? b : a;

      dew_pen_line (pen, end[0] - 3.5, end[1] + 3.5, end[0] + 3.5, end[1] - 3.5);
    }
  paint_guide_words (pen, (a[0] + b[0]) / 2, (a[1] + b[1]) / 2, text);
}

void
dew_paint_guides (const DewPen *pen)
{
  const DewGuides *guides = pen->sheet->guides;
  const double dash[] = { 5, 4 };

  for (guint i = 0; guides != NULL && i < guides->n; i++)
    {
      const DewGuide *guide = &guides->guide[i];
      double a[2], b[2];

      if (!pen->layout->shown[guide->view])
        continue;
      dew_pen_point (pen, guide->view, guide->a_m[0], guide->a_m[1], &a[0], &a[1]);
      dew_pen_point (pen, guide->view, guide->b_m[0], guide->b_m[1], &b[0], &b[1]);
      if (guide->kind == DEW_GUIDE_OPEN)
        {
          /* Translators: how far a flap is lifted, shown beside it while it is pulled. */
          g_autofree char *words = g_strdup_printf (_ ("%.0f %% open"), guide->open_fraction * 100);

          paint_guide_words (pen, a[0], a[1] - 16 * pen->unit, words);
          continue;
        }
      if (a[0] == b[0])
        a[0] = b[0] = dew_crisp (a[0]);
      if (a[1] == b[1])
        a[1] = b[1] = dew_crisp (a[1]);
      dew_pen_colour (pen, &pen->palette->accent, 0.9);
      cairo_set_line_width (pen->cr, 1);
      if (guide->kind == DEW_GUIDE_LINE)
        cairo_set_dash (pen->cr, dash, 2, 0);
      dew_pen_line (pen, a[0], a[1], b[0], b[1]);
      cairo_set_dash (pen->cr, NULL, 0, 0);
      if (guide->kind == DEW_GUIDE_MEASURE)
        paint_measure (pen, guide, a, b);
    }
}

/* --- ink --------------------------------------------------------------------------- */

typedef struct
{
  const DewThing *thing;
  double nearness;
  guint order;
} DewDrawn;

static int
compare_drawn (gconstpointer a, gconstpointer b)
{
  const DewDrawn *one = a, *other = b;

  if (one->nearness != other->nearness)
    return one->nearness < other->nearness ? -1 : 1;
  return one->order < other->order ? -1 : one->order > other->order;
}

/* What is near hides what is far. Shelves and openings come before everything
 * that stands between them; openings on the near face come last. */
static GArray *
drawing_order (const DewPen *pen, DewView view)
{
  const DewVariant *variant = pen->sheet->variant;
  GArray *drawn = g_array_new (FALSE, FALSE, sizeof (DewDrawn));
  const double behind = -1e6, before = 1e6;

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      double lo[3], hi[3];
      int depth = dew_view_depth (view), nearer = dew_view_nearer (view);
      DewDrawn entry = { thing, 0, i };

      if (!dew_view_shows (pen->sheet, pen->layout, view, thing))
        continue;
      dew_thing_box (pen->sheet->chamber, thing, lo, hi);
      entry.nearness = nearer > 0 ? lo[depth] : -hi[depth];
      if (view == DEW_VIEW_PLAN)
        entry.nearness = hi[depth];
      if (thing->kind == DEW_THING_SHELF)
        entry.nearness = behind;
      else if (thing->kind == DEW_THING_OPENING)
        entry.nearness = dew_face_edge_on (thing->opening.face, view)
                             || dew_face_is_high (thing->opening.face) != (nearer > 0)
                           ? behind + 1
                           : before;
      g_array_append_val (drawn, entry);
    }
  g_array_sort (drawn, compare_drawn);
  return drawn;
}

void
dew_paint_view_ink (const DewPen *pen, DewView view)
{
  g_autoptr (GArray) drawn = drawing_order (pen, view);

  dew_paint_cover (pen, view);
  for (guint i = 0; i < drawn->len; i++)
    dew_paint_thing (pen, view, g_array_index (drawn, DewDrawn, i).thing);
}

static void
paint_hint (const DewPen *pen)
{
  const DewRect *front = &pen->layout->view[DEW_VIEW_FRONT];
  double x = front->x + front->width / 2, y = front->y + front->height / 2;

  dew_pen_text (pen, DEW_TEXT_CAPTION, &pen->palette->ink_soft, 1, x, y, 0.5, 1.1,
                _ ("Nothing is in it yet."));
  dew_pen_text (pen, DEW_TEXT_CAPTION, &pen->palette->ink_soft, 1, x, y, 0.5, -0.1,
                _ ("Drag things here."));
}

/* What is looked at closely reaches under the legend. */
static void
paint_legend_ground (const DewPen *pen)
{
  const DewRect *r = &pen->layout->legend;
  double pad = 10 * pen->unit;

  dew_pen_colour (pen, &pen->palette->paper, 0.94);
  cairo_rectangle (pen->cr, r->x - pad, r->y - pad, r->width + 2 * pad, r->height + 2 * pad);
  cairo_fill (pen->cr);
}

/* Round the thing that keeps the layout from being forecast. */
static void
paint_amiss (const DewPen *pen)
{
  const DewThing *thing = dew_variant_thing (pen->sheet->variant, pen->sheet->amiss_id);
  const double dash[] = { 6, 3 };

  for (int view = 0; thing != NULL && view < DEW_N_VIEWS; view++)
    {
      DewRect r;

      if (!dew_view_shows (pen->sheet, pen->layout, view, thing))
        continue;
      dew_view_thing_rect (pen->sheet, pen->layout, view, thing, &r);
      cairo_rectangle (pen->cr, dew_crisp (r.x) - 5, dew_crisp (r.y) - 5, round (r.width) + 10,
                       round (r.height) + 10);
      cairo_set_line_width (pen->cr, 2);
      dew_pen_colour (pen, &pen->palette->accent, 1);
      cairo_set_dash (pen->cr, dash, 2, 0);
      cairo_stroke (pen->cr);
      cairo_set_dash (pen->cr, NULL, 0, 0);
    }
}

/* What is drawn within the views of a pen. */
static void
paint_part (const DewPen *pen, const GArray *marks)
{
  const DewThing *selected = dew_sheet_handled (pen->sheet);

  if (dew_pen_small (pen))
    {
      const DewRect *r = &pen->layout->view[DEW_VIEW_PLAN];
      const double beside = 9; /* px that a lifted flap may reach out of a small plan */

      cairo_rectangle (pen->cr, r->x - 2 * beside, r->y - beside, r->width + 4 * beside,
                       r->height + 2 * beside);
      cairo_clip (pen->cr);
    }
  if (pen->sheet->merit == NULL)
    dew_paint_isolines (pen, marks);
  for (int view = 0; view < DEW_N_VIEWS; view++)
    if (pen->layout->shown[view])
      dew_paint_view_ink (pen, view);
  if (pen->sheet->merit == NULL)
    dew_paint_plan_places (pen, marks);
  else
    dew_paint_merit (pen);
  for (int view = 0; view < DEW_N_VIEWS && selected != NULL; view++)
    if (dew_view_shows (pen->sheet, pen->layout, view, selected))
      dew_paint_handles (pen, view, selected);
  paint_amiss (pen);
}

/* An enlarged plan lies on paper of its own, over what it hides. */
static void
paint_large_ground (const DewPen *pen)
{
  const DewRect *r = &pen->layout->view[DEW_VIEW_PLAN];
  double left = DEW_PLAN_CHAIN * pen->unit, above = DEW_PLAN_CAPTION * pen->unit + 14;
  double below = 46 * pen->unit, right = 22;

  dew_pen_colour (pen, &pen->palette->paper, 1);
  cairo_rectangle (pen->cr, r->x - left, r->y - above, r->width + left + right,
                   r->height + above + below);
  cairo_fill (pen->cr);
}

static void
paint_field_part (const DewPen *pen, const GArray *marks)
{
  if (pen->layout->plan_large && !pen->layout->shown[DEW_VIEW_FRONT])
    paint_large_ground (pen);
  dew_paint_field (pen);
}

static void
paint_air_part (const DewPen *pen, const GArray *marks)
{
  dew_paint_air (pen);
}

typedef void (*DewPaintPart) (const DewPen *pen, const GArray *marks);

/* Each part starts from the same state, as each layer does. */
static void
paint_one (const DewPen *pen, DewPaintPart paint, const GArray *marks)
{
  cairo_save (pen->cr);
  cairo_new_path (pen->cr);
  paint (pen, marks);
  cairo_restore (pen->cr);
}

/* Front and side view, and each plan with its own pen. */
static void
paint_parts (const DewPen *pen, DewPaintPart paint, const GArray *marks)
{
  DewSheetLayout layout;
  DewSheet sheet;
  DewPen part;

  if (pen->layout->n_plans == 0)
    {
      paint_one (pen, paint, marks);
      return;
    }
  dew_pen_fronts (pen, &layout, &part);
  paint_one (&part, paint, marks);
  for (int bay = 0; bay < pen->layout->n_plans; bay++)
    {
      if (!dew_layout_shows_plan (pen->layout, bay))
        continue;
      dew_pen_plan (pen, bay, &sheet, &layout, &part);
      paint_one (&part, paint, marks);
    }
  if (!pen->layout->plan_large)
    return;
  dew_pen_plan (pen, -1, &sheet, &layout, &part);
  paint_one (&part, paint, marks);
}

static void
paint_ink (const DewPen *pen)
{
  g_autoptr (GArray) marks = dew_sheet_marks (pen->sheet, pen->layout);

  paint_parts (pen, paint_part, marks);
  if (pen->sheet->variant->things->len == 0)
    paint_hint (pen);
  dew_paint_marks (pen, marks);
  dew_paint_guides (pen);
  if (pen->sheet->zoom > 1)
    paint_legend_ground (pen);
  if (pen->sheet->merit != NULL)
    dew_paint_merit_legend (pen);
  else
    dew_paint_legend (pen);
}

void
dew_sheet_paint_layers (cairo_t *cr, const DewSheet *sheet, const DewSheetLayout *layout,
                        DewLayers layers)
{
  DewPen pen;

  g_return_if_fail (cr != NULL && sheet != NULL && layout != NULL && sheet->palette != NULL);

  pen = (DewPen){ cr, sheet, layout, sheet->palette, layout->scale_px_m, sheet->text_scale };
  /* Each layer starts from the same state, so that layers kept apart are the
   * same as all at once. */
  if (layers & DEW_LAYER_GROUND)
    {
      cairo_save (cr);
      dew_pen_colour (&pen, &pen.palette->paper, 1);
      cairo_rectangle (cr, 0, 0, layout->width, layout->height);
      cairo_fill (cr);
      cairo_restore (cr);
    }
  if (layers & DEW_LAYER_FIELD)
    {
      cairo_save (cr);
      paint_parts (&pen, paint_field_part, NULL);
      cairo_restore (cr);
    }
  if ((layers & DEW_LAYER_AIR) && sheet->merit == NULL)
    {
      cairo_save (cr);
      paint_parts (&pen, paint_air_part, NULL);
      cairo_restore (cr);
    }
  if (layers & DEW_LAYER_INK)
    {
      cairo_save (cr);
      paint_ink (&pen);
      cairo_restore (cr);
    }
  if (layers & DEW_LAYER_PROBE)
    {
      cairo_save (cr);
      dew_paint_probe (&pen);
      cairo_restore (cr);
    }
}

void
dew_sheet_paint (cairo_t *cr, const DewSheet *sheet, const DewSheetLayout *layout)
{
  dew_sheet_paint_layers (cr, sheet, layout, DEW_LAYER_ALL);
}
