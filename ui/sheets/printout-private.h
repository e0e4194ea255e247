/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the pages share. Lengths are px of DEW_PAPER_PX_MM. */

#include "paint/sheet-private.h"
#include "sheets/printout.h"

G_BEGIN_DECLS

#define DEW_PAGE_MARGIN 48.0
#define DEW_PAGE_FOOT 84.0 /* of the title block */
#define DEW_PAGE_GAP 20.0

/* One page in the making; cr NULL: only measured. */
typedef struct
{
  cairo_t *cr;
  const DewPrintout *printout;
  const DewPalette *palette;
  PangoContext *context;
  double width, height;
} DewPage;

void dew_page_init (DewPage *page, const DewPrintout *printout, cairo_t *cr);
void dew_page_clear (DewPage *page);

typedef enum
{
  DEW_PRINT_TITLE,
  DEW_PRINT_HEAD,
  DEW_PRINT_STRONG,
  DEW_PRINT_BODY,
  DEW_PRINT_SMALL
} DewPrintStyle;

/* Words in a box that wide (< 0: in one line), with its upper left corner at x, y;
 * align 0 left, 1 right. Returns the height they take. */
double dew_page_words (const DewPage *page, DewPrintStyle style, const DewColour *colour, double x,
                       double y, double width, int align, const char *text);
void dew_page_rule (const DewPage *page, double x0, double x1, double y, gboolean heavy);

/* The pages of bays and findings. Paints the one that is number `wanted` (from 0) when
 * page->cr is set; returns how many there are. */
int dew_page_lists (const DewPage *page, int wanted);

G_END_DECLS
