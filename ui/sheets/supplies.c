/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The list of parts. */
#include "sheets/printout-private.h"

#include "say/supplies.h"

#include <glib/gi18n.h>

#define AMOUNT 90.0 /* px */

static double
row (const DewPage *page, const DewWalk *walk, const DewSupply *supply)
{
  double x = walk->left + dew_page_tick_box (page, walk->left, walk->y);

  dew_page_words (page, DEW_PRINT_BODY, &page->palette->ink, x, walk->y, AMOUNT - 12, 1,
                  supply->amount_text);
  return dew_page_words (page, DEW_PRINT_BODY, &page->palette->ink, x + AMOUNT, walk->y,
                         walk->right - x - AMOUNT, 0, supply->words);
}

void
dew_walk_supplies (DewWalk *walk)
{
  const DewPrintout *printout = walk->page->printout;
  g_autoptr (GPtrArray) list
    = dew_supplies (printout->chamber, printout->variant, printout->tongue);
  int group = -1;

  dew_walk_turn (walk);
  dew_walk_head (walk, _ ("Parts"));
  dew_walk_words (walk, DEW_PRINT_BODY, &walk->page->palette->ink_soft,
                  _ ("In generic words, with amounts that are meant as a start. Frame, fixings and "
                     "tape hang on how you build."));
  for (guint i = 0; i < list->len; i++)
    {
      const DewSupply *supply = list->pdata[i];

      if ((int) supply->group != group)
        {
          group = (int) supply->group;
          walk->y += DEW_WALK_ROW_GAP;
          dew_walk_need (walk, 60);
          dew_walk_words (walk, DEW_PRINT_STRONG, &walk->page->palette->ink,
                          dew_supply_group_title (supply->group));
        }
      dew_walk_need (walk, row (&walk->mute, walk, supply));
      walk->y += row (dew_walk_pen (walk), walk, supply) + 3;
    }
}
