/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One picture for a message: the drawing, which shelf needs what, and the findings that
 * matter most. */
#include "sheets/printout-private.h"

#include "say/findings.h"
#include "say/where.h"

#include <glib/gi18n.h>

#define MARGIN 36.0
#define DRAWING_SHARE 0.62 /* of the height */
#define FINDINGS 5

/* "Floor: act. Second shelf: look." or that all is fine. */
static char *
verdict (const DewForecast *forecast)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (int grade = DEW_VERDICT_ACT; grade >= DEW_VERDICT_LOOK; grade--)
    for (int bay = forecast->n_bays - 1; bay >= 0; bay--)
      if ((int) dew_bay_verdict (forecast, bay) == grade)
        {
          g_autofree char *name = dew_bay_name (bay, forecast->n_bays);

          /* Translators: a shelf and 'look' or 'act' */
          g_string_append_printf (text, _ ("%s: %s"), name, dew_verdict_word ((DewVerdict) grade));
          g_string_append (text, "   ");
        }
  if (text->len == 0)
    return g_strdup (_ ("Every shelf is fine."));
  return g_strdup (g_strchomp (text->str));
}

/* The findings in their order, which is by weight, as many as have room. */
static void
findings (const DewPage *page, double y, double bottom)
{
  const DewForecast *forecast = page->printout->forecast;
  double width = page->width - 2 * MARGIN;
  DewPage mute = *page;

  mute.cr = NULL;
  for (int i = 0; i < forecast->n_findings && i < FINDINGS; i++)
    {
      const DewFinding *finding = &forecast->findings[i];
      g_autofree char *title = dew_finding_title (forecast, finding);
      /* Translators: the number of a flag, what is found, what helps */
      g_autofree char *text
        = g_strdup_printf (_ ("%d  %s. %s"), i + 1, title, dew_finding_remedy (finding));

      if (y + dew_page_words (&mute, DEW_PRINT_BODY, &page->palette->ink, MARGIN, y, width, 0, text)
          > bottom)
        return;
      y += dew_page_words (page, DEW_PRINT_BODY, &page->palette->ink, MARGIN, y, width, 0, text)
           + 4;
    }
}

void
dew_page_card (const DewPage *page)
{
  const DewPrintout *printout = page->printout;
  const DewColour *ink = &page->palette->ink, *soft = &page->palette->ink_soft;
  double width = page->width - 2 * MARGIN, high = DRAWING_SHARE * page->height;
  double y = MARGIN, foot = page->height - MARGIN - 14;
  g_autofree char *about = dew_page_when_and_room (page);

  y += dew_page_words (page, DEW_PRINT_HEAD, ink, MARGIN, y, width, 0, printout->chamber->name);
  y += dew_page_words (page, DEW_PRINT_BODY, soft, MARGIN, y, width, 0, about) + 8;
  dew_page_drawing (page, MARGIN, y, width, high);
  y += high + 10;
  if (printout->forecast != NULL)
    {
      g_autofree char *text = verdict (printout->forecast);

      y += dew_page_words (page, DEW_PRINT_HEAD, ink, MARGIN, y, width, 0, text) + 6;
      findings (page, y, foot - 6);
    }
  dew_page_words (page, DEW_PRINT_SMALL, soft, MARGIN, foot, width, 0,
                  _ ("A forecast is a prediction with error, not a measurement."));
}
