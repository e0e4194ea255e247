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
/* How wide words in one line are, px. */
double dew_page_words_width (const DewPage *page, DewPrintStyle style, const char *text);
/* A box to tick beside a line that begins at y; returns how much room it takes. */
double dew_page_tick_box (const DewPage *page, double x, double y);
/* The next scale that a ruler knows: 1 to that or to a little more. */
double dew_page_round_scale (double least);
void dew_page_rule (const DewPage *page, double x0, double x1, double y, gboolean heavy);

/* The drawing, as large as fits into a box, or to the scale of the printout. */
void dew_page_drawing (const DewPage *page, double x, double y, double width, double height);
/* "Fan at the top. May, by day. Room 18.5 °C, 61 %". Transfer full. */
char *dew_page_when_and_room (const DewPage *page);

/* The picture for a message. */
void dew_page_card (const DewPage *page);
/* The sheet of labels that is number `wanted` (from 0), when page->cr is set; returns how
 * many there are, at least 1. */
int dew_page_labels (const DewPage *page, int wanted);

/* --- pages of lists --------------------------------------------------------- */

#define DEW_WALK_ROW_GAP 7.0
#define DEW_WALK_BLOCK_GAP 14.0

/* Where the next line goes; one walk measures and paints. */
typedef struct
{
  const DewPage *page; /* as given; cr NULL in the copies that only measure */
  DewPage mute;
  int wanted, number; /* pages, from 0 */
  double y, left, right, top, bottom;
} DewWalk;

/* Where to write now: paints on the page that is wanted alone. */
const DewPage *dew_walk_pen (const DewWalk *walk);
/* Goes to the next page when so much does not fit on this one. */
void dew_walk_need (DewWalk *walk, double height);
/* Goes to the next page unless this one is empty. */
void dew_walk_turn (DewWalk *walk);
/* A heading; and words over the whole width, each with the gap below it. */
void dew_walk_head (DewWalk *walk, const char *text);
void dew_walk_words (DewWalk *walk, DewPrintStyle style, const DewColour *colour, const char *text);

/* The pages after the drawing. Paints the one that is number `wanted` (from 0) when
 * page->cr is set; returns how many there are. */
int dew_page_lists (const DewPage *page, int wanted);

/* Its parts. */
void dew_walk_cuts (DewWalk *walk);      /* each side with its holes */
void dew_walk_templates (DewWalk *walk); /* small holes at full size */
void dew_walk_shelves (DewWalk *walk);   /* each from above, with what stands there */
void dew_walk_supplies (DewWalk *walk);
void dew_walk_checks (DewWalk *walk); /* what to see to while building */
void dew_walk_forecast (DewWalk *walk);

G_END_DECLS
