/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page with the drawing, and what stands at the foot of every page. */
#include "sheets/printout-private.h"
#include "say/names.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define PX_M (1000.0 / DEW_PAPER_PX_MM) /* px that a metre takes at 1 : 1 */
#define RULE_HEAVY 1.5
#define RULE_LIGHT 0.75

/* --- the printout -------------------------------------------------------------------------- */

static const double papers_mm[][2] = {
  [DEW_PAPER_A4] = { 210, 297 },         /* ISO 216 */
  [DEW_PAPER_LETTER] = { 215.9, 279.4 }, /* ANSI/ASME Y14.1, size A */
};

/* Four to five, as messages show pictures without cutting them; a word on it is as large as one
 * in a message on a screen in the hand. */
static const double card_mm[] = { 180, 225 };

static const double thumbnail_mm[] = { 100, 100 };

/* Only the day counts: what is printed twice on one day is the same. */
static GDateTime *
today (void)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();

  return g_date_time_new_utc (g_date_time_get_year (now), g_date_time_get_month (now),
                              g_date_time_get_day_of_month (now), 0, 0, 0);
}

void
dew_printout_init (DewPrintout *printout, const DewChamber *chamber, const DewVariant *variant,
                   const DewForecast *forecast)
{
  g_return_if_fail (printout != NULL && chamber != NULL && variant != NULL);

  *printout = (DewPrintout){
    .chamber = chamber,
    .variant = variant,
    .forecast = forecast,
    .coloured = DEW_VALUE_RH,
    .date = today (),
  };
  memcpy (printout->page_mm, papers_mm[DEW_PAPER_A4], sizeof printout->page_mm);
}

void
dew_printout_clear (DewPrintout *printout)
{
  g_clear_pointer (&printout->date, g_date_time_unref);
}

/* --- the drawing ------------------------------------------------------------------------------ */

static void
describe (const DewPrintout *printout, DewSheet *sheet)
{
  dew_sheet_init (sheet, printout->chamber, printout->variant);
  sheet->forecast = printout->forecast;
  sheet->cannot = printout->cannot;
  sheet->coloured = printout->coloured;
  sheet->fixed_scale = printout->fixed_scale;
  sheet->tongue = printout->tongue;
  sheet->plan_bay = printout->plan_bay;
  sheet->on_paper = TRUE;
}

/* The scales that rulers and drawing boards have. */
static const double scales[] = { 1, 2, 2.5, 5, 7.5, 10, 12.5, 15, 20, 25, 30, 40, 50, 75, 100 };

double
dew_page_round_scale (double least)
{
  for (guint i = 0; i < G_N_ELEMENTS (scales); i++)
    if (scales[i] >= least - 1e-9)
      return scales[i];
  return ceil (least / 50) * 50;
}

/* px of the area that the drawing may take. */
static void
drawing_area (const double page_mm[2], double area[2])
{
  area[0] = page_mm[0] / DEW_PAPER_PX_MM - 2 * DEW_PAGE_MARGIN;
  area[1] = page_mm[1] / DEW_PAPER_PX_MM - 2 * DEW_PAGE_MARGIN - DEW_PAGE_FOOT - DEW_PAGE_GAP;
}

static double
scale_on (const DewPrintout *printout, const double page_mm[2])
{
  DewSheetLayout layout;
  double area[2];
  DewSheet sheet;

  describe (printout, &sheet);
  drawing_area (page_mm, area);
  dew_sheet_layout (&sheet, area[0], area[1], &layout);
  return dew_page_round_scale (PX_M / layout.scale_px_m);
}

double
dew_printout_scale (const DewPrintout *printout)
{
  g_return_val_if_fail (printout != NULL, 1);

  return scale_on (printout, printout->page_mm);
}

void
dew_printout_fit (DewPrintout *printout, DewPaper paper)
{
  const double upright[2] = { papers_mm[paper][0], papers_mm[paper][1] };
  const double lying[2] = { upright[1], upright[0] };

  g_return_if_fail (printout != NULL && paper <= DEW_PAPER_LETTER);

  if (printout->pages >= DEW_PAGES_CARD)
    {
      memcpy (printout->page_mm,
              printout->pages == DEW_PAGES_CARD        ? card_mm
              : printout->pages == DEW_PAGES_THUMBNAIL ? thumbnail_mm
                                                       : upright,
              sizeof printout->page_mm);
      return;
    }
  memcpy (printout->page_mm,
          scale_on (printout, lying) < scale_on (printout, upright) ? lying : upright,
          sizeof printout->page_mm);
}

/* On the screen views take whole px; to scale they must not. */
static void
make_exact (DewSheetLayout *layout)
{
  for (int view = 0; view < DEW_N_VIEWS; view++)
    {
      layout->view[view].width = layout->inner_m[dew_view_across (view)] * layout->scale_px_m;
      layout->view[view].height = layout->inner_m[dew_view_up (view)] * layout->scale_px_m;
    }
}

void
dew_page_drawing (const DewPage *page, double x, double y, double width, double height)
{
  gboolean to_scale = page->printout->pages < DEW_PAGES_CARD;
  DewSheetLayout layout;
  DewSheet sheet;

  if (page->cr == NULL)
    return;
  describe (page->printout, &sheet);
  if (to_scale)
    sheet.exact_px_m = PX_M / dew_printout_scale (page->printout);
  dew_sheet_layout (&sheet, width, height, &layout);
  if (to_scale)
    make_exact (&layout);
  cairo_save (page->cr);
  cairo_translate (page->cr, x, y);
  dew_sheet_paint_layers (page->cr, &sheet, &layout,
                          DEW_LAYER_FIELD | DEW_LAYER_AIR | DEW_LAYER_INK);
  cairo_restore (page->cr);
}

/* The front alone, without what stands around it, as large as fits. */
static void
paint_front (const DewPage *page)
{
  const double around = 6; /* px of the drawing: outlines and what sticks out */
  const double laid_out[2] = { 900, 900 };
  const DewRect *front;
  DewSheetLayout layout;
  DewSheet sheet;
  double scale;

  describe (page->printout, &sheet);
  dew_sheet_layout (&sheet, laid_out[0], laid_out[1], &layout);
  front = &layout.view[DEW_VIEW_FRONT];
  scale
    = MIN (page->width / (front->width + 2 * around), page->height / (front->height + 2 * around));
  cairo_save (page->cr);
  cairo_translate (page->cr, page->width / 2, page->height / 2);
  cairo_scale (page->cr, scale, scale);
  cairo_translate (page->cr, -front->x - front->width / 2, -front->y - front->height / 2);
  cairo_rectangle (page->cr, front->x - around, front->y - around, front->width + 2 * around,
                   front->height + 2 * around);
  cairo_clip (page->cr);
  dew_sheet_paint_layers (page->cr, &sheet, &layout, DEW_LAYER_FIELD | DEW_LAYER_INK);
  cairo_restore (page->cr);
}

static void
paint_drawing (const DewPage *page)
{
  double area[2];

  drawing_area (page->printout->page_mm, area);
  dew_page_drawing (page, DEW_PAGE_MARGIN, DEW_PAGE_MARGIN, area[0], area[1]);
}

/* --- words -------------------------------------------------------------------------------------
 */

static const struct
{
  double size_px;
  PangoWeight weight;
} print_looks[] = {
  [DEW_PRINT_TITLE] = { 18, PANGO_WEIGHT_SEMIBOLD },
  [DEW_PRINT_HEAD] = { 16, PANGO_WEIGHT_SEMIBOLD },
  [DEW_PRINT_STRONG] = { 13, PANGO_WEIGHT_SEMIBOLD },
  [DEW_PRINT_BODY] = { 13, PANGO_WEIGHT_NORMAL },
  [DEW_PRINT_SMALL] = { 11, PANGO_WEIGHT_NORMAL },
};

void
dew_page_init (DewPage *page, const DewPrintout *printout, cairo_t *cr)
{
  cairo_font_options_t *options = cairo_font_options_create ();

  page->cr = cr;
  page->printout = printout;
  page->palette = dew_palette_get (FALSE, FALSE);
  page->width = printout->page_mm[0] / DEW_PAPER_PX_MM;
  page->height = printout->page_mm[1] / DEW_PAPER_PX_MM;
  /* Lines must break in the same place on every kind of surface. */
  page->context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  pango_cairo_context_set_font_options (page->context, options);
  pango_context_set_round_glyph_positions (page->context, FALSE);
  cairo_font_options_destroy (options);
}

void
dew_page_clear (DewPage *page)
{
  g_clear_object (&page->context);
}

static PangoLayout *
words_layout (const DewPage *page, DewPrintStyle style, double width, int align, const char *text)
{
  PangoLayout *layout = pango_layout_new (page->context);
  PangoFontDescription *font = pango_font_description_new ();
  PangoAttrList *attributes = pango_attr_list_new ();

  pango_font_description_set_family (font, "Sans");
  pango_font_description_set_weight (font, print_looks[style].weight);
  pango_font_description_set_absolute_size (font, print_looks[style].size_px * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1"));
  pango_layout_set_attributes (layout, attributes);
  pango_attr_list_unref (attributes);
  if (width >= 0)
    pango_layout_set_width (layout, (int) (width * PANGO_SCALE));
  pango_layout_set_alignment (layout, align > 0 ? PANGO_ALIGN_RIGHT : PANGO_ALIGN_LEFT);
  pango_layout_set_text (layout, text, -1);
  return layout;
}

static void
show_words (const DewPage *page, PangoLayout *layout, const DewColour *colour, double x, double y)
{
  if (page->cr == NULL)
    return;
  cairo_set_source_rgb (page->cr, colour->r, colour->g, colour->b);
  cairo_move_to (page->cr, x, y);
  pango_cairo_show_layout (page->cr, layout);
}

double
dew_page_words (const DewPage *page, DewPrintStyle style, const DewColour *colour, double x,
                double y, double width, int align, const char *text)
{
  g_autoptr (PangoLayout) layout = words_layout (page, style, width, align, text);
  PangoRectangle extents;

  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_get_extents (layout, NULL, &extents);
  show_words (page, layout, colour, x, y);
  return (double) extents.height / PANGO_SCALE;
}

double
dew_page_words_width (const DewPage *page, DewPrintStyle style, const char *text)
{
  g_autoptr (PangoLayout) layout = words_layout (page, style, -1, 0, text);
  PangoRectangle extents;

  pango_layout_get_extents (layout, NULL, &extents);
  return (double) extents.width / PANGO_SCALE;
}

double
dew_page_tick_box (const DewPage *page, double x, double y)
{
  const DewColour *soft = &page->palette->ink_soft;
  const double side = 11, below = 3, gap = 12;

  if (page->cr != NULL)
    {
      cairo_set_source_rgb (page->cr, soft->r, soft->g, soft->b);
      cairo_set_line_width (page->cr, RULE_LIGHT);
      cairo_rectangle (page->cr, x, y + below, side, side);
      cairo_stroke (page->cr);
    }
  return side + gap;
}

/* The same in one line; what does not fit ends in dots. */
static void
line_of_words (const DewPage *page, DewPrintStyle style, const DewColour *colour, double x,
               double y, double width, int align, const char *text)
{
  g_autoptr (PangoLayout) layout = words_layout (page, style, width, align, text);

  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_single_paragraph_mode (layout, TRUE);
  show_words (page, layout, colour, x, y);
}

void
dew_page_rule (const DewPage *page, double x0, double x1, double y, gboolean heavy)
{
  const DewColour *ink = heavy ? &page->palette->ink : &page->palette->ink_soft;

  if (page->cr == NULL)
    return;
  cairo_set_source_rgba (page->cr, ink->r, ink->g, ink->b, heavy ? 1 : 0.5);
  cairo_set_line_width (page->cr, heavy ? RULE_HEAVY : RULE_LIGHT);
  cairo_move_to (page->cr, x0, y);
  cairo_line_to (page->cr, x1, y);
  cairo_stroke (page->cr);
}

/* --- the foot ----------------------------------------------------------------------------------
 */

/* A bar of round lengths that is 25 to 60 mm long, in four pieces. */
static void
paint_scale_bar (const DewPage *page, double x, double y, double scale)
{
  static const double lengths_cm[] = { 2, 4, 10, 20, 40, 100, 200, 400 };
  static const double lengths_in[] = { 1, 2, 4, 8, 12, 24, 48, 96, 192 };
  DewTongue tongue = page->printout->tongue;
  const double *lengths = tongue == DEW_TONGUE_IMPERIAL ? lengths_in : lengths_cm;
  guint n = tongue == DEW_TONGUE_IMPERIAL ? G_N_ELEMENTS (lengths_in) : G_N_ELEMENTS (lengths_cm);
  const double least_mm = 25, high = 5;
  double unit_m = dew_unit_si (dew_unit (DEW_MEASURE_LENGTH, tongue), 1.0);
  double length_m = lengths[n - 1] * unit_m, piece;
  g_autofree char *text = NULL;

  for (guint i = 0; i < n; i++)
    if (lengths[i] * unit_m * 1000 / scale >= least_mm)
      {
        length_m = lengths[i] * unit_m;
        break;
      }
  piece = length_m * PX_M / scale / 4;
  cairo_set_line_width (page->cr, RULE_LIGHT);
  cairo_set_source_rgb (page->cr, page->palette->ink.r, page->palette->ink.g, page->palette->ink.b);
  for (int i = 0; i < 4; i++)
    {
      cairo_rectangle (page->cr, x + i * piece, y, piece, high);
      if (i % 2 == 0)
        cairo_fill_preserve (page->cr);
      cairo_stroke (page->cr);
    }
  text = dew_length_text (length_m, tongue);
  dew_page_words (page, DEW_PRINT_SMALL, &page->palette->ink_soft, x + 4 * piece + 6, y - 5, -1, 0,
                  text);
}

static char *
scale_text (double scale)
{
  /* Translators: the scale of the drawing, as in 'Scale 1 : 12' */
  return floor (scale) < scale ? g_strdup_printf (_ ("Scale 1 : %.1f"), scale)
                               : g_strdup_printf (_ ("Scale 1 : %.0f"), scale);
}

static char *
when_text (const DewPrintout *printout)
{
  const char *month = dew_month_name (printout->chamber->month);

  if (printout->forecast == NULL)
    return g_strdup (month);
  return printout->forecast->night
           /* Translators: a month, as in 'July, by night' */
           ? g_strdup_printf (_ ("%s, by night"), month)
           : g_strdup_printf (_ ("%s, by day"), month);
}

static char *
room_text (const DewPrintout *printout)
{
  g_autofree char *t = NULL, *rh = NULL;

  if (printout->forecast == NULL)
    return g_strdup (printout->cannot != NULL ? printout->cannot : _ ("No forecast yet."));
  t = dew_value_text (DEW_VALUE_TEMPERATURE, printout->forecast->room_t_C, printout->tongue);
  rh = dew_value_text (DEW_VALUE_RH, printout->forecast->room_rh, printout->tongue);
  /* Translators: warmth and humidity of the room, as in 'Room 18.0 °C, 60 %' */
  return g_strdup_printf (_ ("Room %s, %s"), t, rh);
}

char *
dew_page_when_and_room (const DewPage *page)
{
  g_autofree char *when = when_text (page->printout), *room = room_text (page->printout);

  /* Translators: a variant, a month, the climate of the room */
  return g_strdup_printf (_ ("%s. %s. %s"), page->printout->variant->name, when, room);
}

/* Four columns between two rules, the caution under them. */
static void
paint_foot (const DewPage *page, int number, int n_pages)
{
  const DewPrintout *printout = page->printout;
  const DewColour *ink = &page->palette->ink, *soft = &page->palette->ink_soft;
  double left = DEW_PAGE_MARGIN, right = page->width - DEW_PAGE_MARGIN, width = right - left;
  double top = page->height - DEW_PAGE_MARGIN - DEW_PAGE_FOOT, line = 20;
  double x[4] = { left, left + 0.36 * width, left + 0.58 * width, left + 0.78 * width };
  double scale = dew_printout_scale (printout);
  g_autofree char *when = when_text (printout), *room = room_text (printout);
  g_autofree char *scale_words = scale_text (scale);
  /* Translators: a date as g_date_time_format() writes it, as in '26 November 2026' */
  g_autofree char *date = g_date_time_format (printout->date, _ ("%-d %B %Y"));
  /* Translators: at the foot of a printed page, as in 'Page 1 of 2' */
  g_autofree char *pages = g_strdup_printf (_ ("Page %d of %d"), number + 1, n_pages);

  dew_page_rule (page, left, right, top, TRUE);
  top += 8;
  line_of_words (page, DEW_PRINT_STRONG, ink, x[0], top, x[1] - x[0] - 12, 0,
                 printout->chamber->name);
  line_of_words (page, DEW_PRINT_BODY, soft, x[0], top + line, x[1] - x[0] - 12, 0,
                 printout->variant->name);
  line_of_words (page, DEW_PRINT_BODY, ink, x[1], top, x[2] - x[1] - 12, 0, when);
  line_of_words (page, DEW_PRINT_BODY, soft, x[1], top + line, x[2] - x[1] - 12, 0, room);
  if (number == 0)
    {
      line_of_words (page, DEW_PRINT_BODY, ink, x[2], top, -1, 0, scale_words);
      paint_scale_bar (page, x[2], top + line + 7, scale);
    }
  line_of_words (page, DEW_PRINT_BODY, ink, x[3], top, right - x[3], 1, date);
  line_of_words (page, DEW_PRINT_BODY, soft, x[3], top + line, right - x[3], 1, pages);
  dew_page_words (page, DEW_PRINT_SMALL, soft, left, page->height - DEW_PAGE_MARGIN - 14, width, 0,
                  _ ("A forecast is a prediction with error, not a measurement. Check with a "
                     "hygrometer where it matters."));
}

/* --- pages --------------------------------------------------------------------------------------
 */

int
dew_printout_pages (const DewPrintout *printout)
{
  DewPage page;
  int n;

  g_return_val_if_fail (printout != NULL, 1);

  if (printout->pages == DEW_PAGES_DRAWING || printout->pages == DEW_PAGES_CARD
      || printout->pages == DEW_PAGES_THUMBNAIL)
    return 1;
  dew_page_init (&page, printout, NULL);
  n = printout->pages == DEW_PAGES_LABELS ? dew_page_labels (&page, -1)
                                          : 1 + dew_page_lists (&page, -1);
  dew_page_clear (&page);
  return n;
}

void
dew_printout_paint (const DewPrintout *printout, int number, cairo_t *cr)
{
  DewPage page;

  g_return_if_fail (printout != NULL && cr != NULL && number >= 0);

  cairo_save (cr);
  cairo_scale (cr, DEW_PAPER_PX_MM, DEW_PAPER_PX_MM);
  dew_page_init (&page, printout, cr);
  if (printout->pages == DEW_PAGES_LABELS)
    dew_page_labels (&page, number);
  else if (printout->pages == DEW_PAGES_CARD)
    dew_page_card (&page);
  else if (printout->pages == DEW_PAGES_THUMBNAIL)
    paint_front (&page);
  else
    {
      if (number == 0)
        paint_drawing (&page);
      else
        dew_page_lists (&page, number - 1);
      paint_foot (&page, number, dew_printout_pages (printout));
    }
  dew_page_clear (&page);
  cairo_restore (cr);
}
