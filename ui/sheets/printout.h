/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The enclosure on paper: a page with the drawing to scale and its title block, for who
 * builds it pages with every cut and its place, templates of small holes at full size, the
 * shelves from above, a list of parts and what to see to; then the bays and the findings. Painted
 * by the painter of the screen, always in light colours. Knows no widget and needs no display.
 *
 * One px of the painter is DEW_PAPER_PX_MM on paper: outlines are 0.38 mm wide, details
 * 0.19 mm, the words of the drawing 3 mm high.
 */

#include "paint/sheet.h"

G_BEGIN_DECLS

#define DEW_PAPER_PX_MM 0.25

typedef enum
{
  DEW_PAPER_A4,
  DEW_PAPER_LETTER
} DewPaper;

/* Which pages. */
typedef enum
{
  DEW_PAGES_FORECAST, /* the drawing, the bays and the findings */
  DEW_PAGES_BUILD,    /* those for who builds it, too */
  DEW_PAGES_DRAWING,  /* the drawing alone */
  DEW_PAGES_CARD,     /* one picture for a message: the drawing and the verdict in words */
  DEW_PAGES_LABELS,   /* labels for pots, on sheets of labels */
  DEW_PAGES_THUMBNAIL /* a small square picture of the front */
} DewPages;

/* Everything is lent. */
typedef struct
{
  const DewChamber *chamber; /* its month is the one of the forecast */
  const DewVariant *variant;
  const DewForecast *forecast; /* NULL: the drawing alone */
  const char *cannot;          /* why there is no forecast, or NULL */
  DewValue coloured;
  gboolean fixed_scale;
  DewTongue tongue;
  int plan_bay;
  DewPages pages;
  GDateTime *date;   /* of the title block and of the file, by the day */
  double page_mm[2]; /* across, down; dew_printout_fit() */
} DewPrintout;

/* Humidity, the plan of the lowest bay, today's date (dew_printout_clear() lets go of
 * it), A4. */
void dew_printout_init (DewPrintout *printout, const DewChamber *chamber, const DewVariant *variant,
                        const DewForecast *forecast);
void dew_printout_clear (DewPrintout *printout);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (DewPrintout, dew_printout_clear)

/* Sets page_mm: that paper, upright or lying, whichever takes the larger drawing; upright
 * for labels; for a card the same on every paper. */
void dew_printout_fit (DewPrintout *printout, DewPaper paper);

/* The drawing is 1 to that number. */
double dew_printout_scale (const DewPrintout *printout);

/* How many pages it takes, at least 1. */
int dew_printout_pages (const DewPrintout *printout);
/* Paints page 0, 1 ... on a surface whose unit is the millimetre, origin at the upper
 * left corner of the page. The paper itself is left white. */
void dew_printout_paint (const DewPrintout *printout, int page, cairo_t *cr);

G_END_DECLS
