/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small holes at full size, to lay on the cover and cut along, and a bar to see whether
 * the printer kept the size. */
#include "sheets/printout-private.h"

#include "say/cuts.h"

#include <glib/gi18n.h>
#include <math.h>

#define PX_M (1000.0 / DEW_PAPER_PX_MM)
#define GAP 40.0     /* px between templates */
#define CAPTION 42.0 /* px under each for its words */
#define CROSS 8.0    /* px that the cross lines reach beyond a hole */
#define BAR_CM 10.0  /* of the bar that is measured */
#define BAR_IN 4.0
#define BAR_HIGH 6.0

/* Cuts of the same form and size share a template. */
typedef struct
{
  gboolean round;
  double width, height; /* px */
  GString *letters;
  double x, y; /* px */
  int page;
} DewTemplate;

static void
template_clear (gpointer data)
{
  g_string_free (((DewTemplate *) data)->letters, TRUE);
}

static gboolean
fits (const DewWalk *walk, double width, double height)
{
  return width + 2 * CROSS <= walk->right - walk->left
         && height + CAPTION + 2 * CROSS + 100 <= walk->bottom - walk->top;
}

/* The templates of a variant, and the letters of the cuts that are too large for one. */
static GArray *
templates_of (const DewWalk *walk, GString *too_large)
{
  g_autoptr (GArray) cuts = dew_variant_cuts (walk->page->printout->variant);
  GArray *list = g_array_new (FALSE, FALSE, sizeof (DewTemplate));

  g_array_set_clear_func (list, template_clear);
  for (guint i = 0; i < cuts->len; i++)
    {
      const DewCut *cut = &g_array_index (cuts, DewCut, i);
      DewTemplate template = { .round = cut->round,
                               .width = (cut->hi_m[0] - cut->lo_m[0]) * PX_M,
                               .height = (cut->hi_m[1] - cut->lo_m[1]) * PX_M };
      g_autofree char *letter = dew_cut_letter (i);
      gboolean known = FALSE;

      if (!fits (walk, template.width, template.height))
        {
          g_string_append_printf (too_large, "%s%s", too_large->len > 0 ? ", " : "", letter);
          continue;
        }
      for (guint k = 0; k < list->len && !known; k++)
        {
          DewTemplate *other = &g_array_index (list, DewTemplate, k);

          known = other->round == cut->round && fabs (other->width - template.width) < 1
                  && fabs (other->height - template.height) < 1;
          if (known)
            g_string_append_printf (other->letters, ", %s", letter);
        }
      if (known)
        continue;
      template.letters = g_string_new (letter);
      g_array_append_val (list, template);
    }
  return list;
}

static void
paint_bar (const DewPage *page, double x, double y)
{
  gboolean inches = page->printout->tongue == DEW_TONGUE_IMPERIAL;
  double length = inches ? BAR_IN * 25.4 / DEW_PAPER_PX_MM : BAR_CM * 10 / DEW_PAPER_PX_MM;
  g_autofree char *text = inches ? g_strdup_printf (_ ("Print at full size (100 %%): this bar is "
                                                       "%.0f in long"),
                                                    BAR_IN)
                                 : g_strdup_printf (_ ("Print at full size (100 %%): this bar is "
                                                       "%.0f cm long"),
                                                    BAR_CM);

  if (page->cr != NULL)
    {
      cairo_set_source_rgb (page->cr, page->palette->ink.r, page->palette->ink.g,
                            page->palette->ink.b);
      cairo_rectangle (page->cr, x, y, length, BAR_HIGH);
      cairo_fill (page->cr);
    }
  dew_page_words (page, DEW_PRINT_BODY, &page->palette->ink, x + length + 12, y - 6, -1, 0, text);
}

static void
paint_template (const DewPage *page, const DewTemplate *template)
{
  double x = template->x, y = template->y;
  g_autofree char *words = NULL, *width = NULL, *height = NULL;
  DewTongue tongue = page->printout->tongue;

  if (page->cr == NULL)
    return;
  cairo_set_source_rgb (page->cr, page->palette->ink.r, page->palette->ink.g, page->palette->ink.b);
  cairo_set_line_width (page->cr, DEW_LINE_DETAIL);
  if (template->round)
    cairo_arc (page->cr, x + template->width / 2, y + template->height / 2, template->width / 2, 0,
               2 * G_PI);
  else
    cairo_rectangle (page->cr, x, y, template->width, template->height);
  cairo_stroke (page->cr);
  cairo_set_source_rgb (page->cr, page->palette->ink_soft.r, page->palette->ink_soft.g,
                        page->palette->ink_soft.b);
  cairo_move_to (page->cr, x - CROSS, y + template->height / 2);
  cairo_line_to (page->cr, x + template->width + CROSS, y + template->height / 2);
  cairo_move_to (page->cr, x + template->width / 2, y - CROSS);
  cairo_line_to (page->cr, x + template->width / 2, y + template->height + CROSS);
  cairo_stroke (page->cr);
  width = dew_ruler_text (template->width / PX_M, tongue);
  height = dew_ruler_text (template->height / PX_M, tongue);
  words = template->round
            /* Translators: letters of cuts and a diameter, as in 'A, C: 12 cm across' */
            ? g_strdup_printf (_ ("%s: %s across"), template->letters->str, width)
            /* Translators: letters of cuts and a size, as in 'A, C: 12 cm × 4 cm' */
            : g_strdup_printf (_ ("%s: %s × %s"), template->letters->str, width, height);
  dew_page_words (page, DEW_PRINT_STRONG, &page->palette->ink, x, y + template->height + CROSS + 4,
                  -1, 0, words);
}

/* Side by side while there is room, then in the next row, then on the next page. */
static void
place_and_paint (DewWalk *walk, GArray *list)
{
  double x = walk->left + CROSS, high = 0;

  for (guint i = 0; i < list->len; i++)
    {
      DewTemplate *template = &g_array_index (list, DewTemplate, i);
      double need = template->height + CAPTION + CROSS;
      double wide = MAX (template->width, 150);

      if (x > walk->left + CROSS && x + wide + CROSS > walk->right)
        {
          x = walk->left + CROSS;
          walk->y += high + GAP;
          high = 0;
        }
      if (walk->y + need > walk->bottom)
        {
          dew_walk_turn (walk);
          x = walk->left + CROSS;
          high = 0;
          paint_bar (dew_walk_pen (walk), walk->left, walk->y);
          walk->y += GAP + CROSS;
        }
      template->x = x;
      template->y = walk->y;
      paint_template (dew_walk_pen (walk), template);
      x += wide + GAP;
      high = MAX (high, need);
    }
  walk->y += high + DEW_WALK_BLOCK_GAP;
}

void
dew_walk_templates (DewWalk *walk)
{
  g_autoptr (GString) too_large = g_string_new (NULL);
  g_autoptr (GArray) list = templates_of (walk, too_large);

  if (list->len == 0)
    return;
  dew_walk_turn (walk);
  dew_walk_head (walk, _ ("Templates at full size"));
  if (too_large->len > 0)
    {
      g_autofree char *words
        /* Translators: letters of cuts, as in 'A, D' */
        = g_strdup_printf (_ ("Too large for a template, to be marked by their measures: %s."),
                           too_large->str);

      dew_walk_words (walk, DEW_PRINT_BODY, &walk->page->palette->ink_soft, words);
    }
  walk->y += DEW_WALK_BLOCK_GAP;
  paint_bar (dew_walk_pen (walk), walk->left, walk->y);
  walk->y += GAP + CROSS;
  place_and_paint (walk, list);
}
