/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pages that fill from top to bottom, and the order of what is on them. */
#include "sheets/printout-private.h"

const DewPage *
dew_walk_pen (const DewWalk *walk)
{
  return walk->number == walk->wanted ? walk->page : &walk->mute;
}

void
dew_walk_need (DewWalk *walk, double height)
{
  if (walk->y + height > walk->bottom)
    dew_walk_turn (walk);
}

void
dew_walk_turn (DewWalk *walk)
{
  if (walk->y <= walk->top)
    return;
  walk->number++;
  walk->y = walk->top;
}

void
dew_walk_words (DewWalk *walk, DewPrintStyle style, const DewColour *colour, const char *text)
{
  double width = walk->right - walk->left;

  dew_walk_need (walk, dew_page_words (&walk->mute, style, colour, 0, 0, width, 0, text));
  walk->y
    += dew_page_words (dew_walk_pen (walk), style, colour, walk->left, walk->y, width, 0, text)
       + DEW_WALK_ROW_GAP;
}

void
dew_walk_head (DewWalk *walk, const char *text)
{
  dew_walk_words (walk, DEW_PRINT_HEAD, &walk->page->palette->ink, text);
}

int
dew_page_lists (const DewPage *page, int wanted)
{
  DewWalk walk = { .page = page, .mute = *page, .wanted = page->cr != NULL ? wanted : -1 };

  walk.mute.cr = NULL;
  walk.left = DEW_PAGE_MARGIN;
  walk.right = page->width - DEW_PAGE_MARGIN;
  walk.top = walk.y = DEW_PAGE_MARGIN;
  walk.bottom = page->height - DEW_PAGE_MARGIN - DEW_PAGE_FOOT - DEW_PAGE_GAP;
  if (page->printout->pages == DEW_PAGES_BUILD)
    {
      dew_walk_cuts (&walk);
      dew_walk_templates (&walk);
      dew_walk_shelves (&walk);
      dew_walk_supplies (&walk);
      dew_walk_checks (&walk);
      dew_walk_turn (&walk);
    }
  dew_walk_forecast (&walk);
  /* A page that was only turned to holds nothing. */
  return walk.number + (walk.y > walk.top ? 1 : 0);
}
