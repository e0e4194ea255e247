/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each shelf from above, with what stands on it numbered, named and measured. */
#include "sheets/printout-private.h"

#include "geometry/geometry.h"
#include "say/cuts.h"
#include "say/where.h"

#include <glib/gi18n.h>
#include <math.h>

#define PX_M (1000.0 / DEW_PAPER_PX_MM)
#define PLAN_SHARE 0.5
#define PLAN_HIGH 260.0
#define PLAN_LOW 140.0
#define ROW 62.0 /* px of a shelf beside its plan: title, caption and gap */
#define COLUMN_GAP 24.0
#define NUMBER 30.0

/* What is in one bay, in reading order: from the back, left to right. */
static GArray *
things_in (const DewPrintout *printout, int bay)
{
  GArray *list = g_array_new (FALSE, FALSE, sizeof (const DewThing *));

  for (guint i = 0; i < printout->variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (printout->variant->things, DewThing, i);
      double lo[3], hi[3];

      if (thing->kind == DEW_THING_SHELF || dew_thing_in_face (thing, NULL))
        continue;
      dew_thing_box (printout->chamber, thing, lo, hi);
      if (dew_variant_bay_at (printout->chamber, printout->variant, (lo[2] + hi[2]) / 2) == bay)
        g_array_append_val (list, thing);
    }
  return list;
}

static void
outline (const DewPage *page, const DewThing *thing, double px_m, double depth_m, int number)
{
  g_autofree char *text = g_strdup_printf ("%d", number);
  double width = dew_page_words_width (page, DEW_PRINT_SMALL, text);
  double lo[3], hi[3], x, y;

  dew_thing_box (page->printout->chamber, thing, lo, hi);
  x = (lo[0] + hi[0]) / 2 * px_m;
  y = (depth_m - (lo[1] + hi[1]) / 2) * px_m;
  if (thing->kind == DEW_THING_PLANT || thing->kind == DEW_THING_POT)
    {
      cairo_save (page->cr);
      cairo_translate (page->cr, x, y);
      cairo_scale (page->cr, (hi[0] - lo[0]) / 2 * px_m, (hi[1] - lo[1]) / 2 * px_m);
      cairo_new_sub_path (page->cr);
      cairo_arc (page->cr, 0, 0, 1, 0, 2 * G_PI);
      cairo_restore (page->cr);
    }
  else
    cairo_rectangle (page->cr, lo[0] * px_m, (depth_m - hi[1]) * px_m, (hi[0] - lo[0]) * px_m,
                     (hi[1] - lo[1]) * px_m);
  cairo_set_source_rgb (page->cr, page->palette->ink.r, page->palette->ink.g, page->palette->ink.b);
  cairo_set_line_width (page->cr, DEW_LINE_DETAIL);
  cairo_stroke (page->cr);
  dew_page_words (page, DEW_PRINT_SMALL, &page->palette->ink, x - width / 2, y - 7, -1, 0, text);
}

static void
paint_plan (const DewPage *page, const GArray *things, double x, double y, double px_m,
            const double inner_m[3])
{
  if (page->cr == NULL)
    return;
  cairo_save (page->cr);
  cairo_translate (page->cr, x, y);
  cairo_rectangle (page->cr, 0, 0, inner_m[0] * px_m, inner_m[1] * px_m);
  cairo_set_source_rgb (page->cr, page->palette->ink.r, page->palette->ink.g, page->palette->ink.b);
  cairo_set_line_width (page->cr, DEW_LINE_OUTLINE);
  cairo_stroke (page->cr);
  for (guint i = 0; i < things->len; i++)
    outline (page, g_array_index (things, const DewThing *, i), px_m, inner_m[1], (int) i + 1);
  dew_page_words (page, DEW_PRINT_SMALL, &page->palette->ink_soft, 0, inner_m[1] * px_m + 3,
                  inner_m[0] * px_m, 0, _ ("Front"));
  cairo_restore (page->cr);
}

static char *
name_of (const DewThing *thing)
{
  const char *species = thing->kind == DEW_THING_PLANT ? thing->plant.species : "";

  if (species[0] != '\0' && thing->name[0] != '\0' && !g_str_equal (species, thing->name))
    /* Translators: a plant's own name and its kind */
    return g_strdup_printf (_ ("%s (%s)"), thing->name, species);
  return g_strdup (species[0] != '\0'       ? species
                   : thing->name[0] != '\0' ? thing->name
                                            : dew_thing_kind_label (thing->kind));
}

/* One line for each: its number, its name, and how far its middle is from left and front. */
static double
list_words (const DewPage *page, const DewWalk *walk, const GArray *things, double x)
{
  const DewColour *ink = &page->palette->ink, *soft = &page->palette->ink_soft;
  DewTongue tongue = page->printout->tongue;
  double y = walk->y, width = walk->right - x - NUMBER;

  for (guint i = 0; i < things->len; i++)
    {
      const DewThing *thing = g_array_index (things, const DewThing *, i);
      double lo[3], hi[3];
      g_autofree char *number = g_strdup_printf ("%u", i + 1);
      g_autofree char *name = name_of (thing);
      g_autofree char *left = NULL, *front = NULL, *place = NULL;

      dew_thing_box (page->printout->chamber, thing, lo, hi);
      left = dew_ruler_text ((lo[0] + hi[0]) / 2, tongue);
      front = dew_ruler_text ((lo[1] + hi[1]) / 2, tongue);
      /* Translators: where the middle of a thing is, as in 'middle 12 cm from left, 8 cm from
       * front' */
      place = g_strdup_printf (_ ("middle %s from left, %s from front"), left, front);
      dew_page_words (page, DEW_PRINT_SMALL, ink, x, y + 2, NUMBER, 0, number);
      y += dew_page_words (page, DEW_PRINT_BODY, ink, x + NUMBER, y, width, 0, name);
      y += dew_page_words (page, DEW_PRINT_SMALL, soft, x + NUMBER, y, width, 0, place) + 3;
    }
  if (things->len == 0)
    y += dew_page_words (page, DEW_PRINT_BODY, soft, x, y, walk->right - x, 0,
                         _ ("Nothing stands here."));
  return y - walk->y;
}

void
dew_walk_shelves (DewWalk *walk)
{
  const DewPrintout *printout = walk->page->printout;
  g_autofree double *z_m = NULL;
  double inner_m[3], width, high, scale, px_m;
  double x = walk->left + PLAN_SHARE * (walk->right - walk->left) + COLUMN_GAP;
  int n = dew_variant_bays (printout->chamber, printout->variant, &z_m, NULL);
  g_autofree char *head = NULL;

  dew_chamber_inner_m (printout->chamber, inner_m);
  width = PLAN_SHARE * (walk->right - walk->left);
  /* All on one page, as long as one can read them. */
  high = CLAMP ((walk->bottom - walk->top - ROW) / n - ROW, PLAN_LOW, PLAN_HIGH);
  scale = dew_page_round_scale (MAX (inner_m[0] * PX_M / width, inner_m[1] * PX_M / high));
  px_m = PX_M / scale;
  dew_walk_turn (walk);
  head = g_strdup_printf (_ ("Shelves from above, 1 : %g"), scale);
  dew_walk_head (walk, head);
  for (int bay = n - 1; bay >= 0; bay--)
    {
      g_autoptr (GArray) things = things_in (printout, bay);
      g_autofree char *name = dew_bay_name (bay, n);
      g_autofree char *at = dew_ruler_text (z_m[bay], printout->tongue);
      /* Translators: a shelf and its height, as in 'Second shelf, underside at 70 cm' */
      g_autofree char *title
        = bay > 0 ? g_strdup_printf (_ ("%s, underside at %s"), name, at) : g_strdup (name);
      double height = MAX (inner_m[1] * px_m + 22, list_words (&walk->mute, walk, things, x));

      dew_walk_need (walk, height + 24);
      walk->y += dew_page_words (dew_walk_pen (walk), DEW_PRINT_STRONG, &walk->page->palette->ink,
                                 walk->left, walk->y, walk->right - walk->left, 0, title)
                 + 4;
      paint_plan (dew_walk_pen (walk), things, walk->left, walk->y, px_m, inner_m);
      list_words (dew_walk_pen (walk), walk, things, x);
      walk->y += height + DEW_WALK_BLOCK_GAP;
    }
}
