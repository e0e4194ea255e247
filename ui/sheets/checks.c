/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What to see to, in the order of the work, with a box to tick. Common practice, no source;
 * local codes come first. */
#include "sheets/printout-private.h"

#include <glib/gi18n.h>

typedef struct
{
  const char *title;
  const char *const *checks; /* NULL-terminated */
} Stage;

static const char *const before[] = {
  N_ ("Does the place bear it? All of it wet, water and pots included, and level feet on a floor "
      "that carries them."),
  N_ ("Is there a hand’s width to an outside wall, so that the wall can dry behind it?"),
  N_ ("No sun on the cover, no radiator below it, a socket outside, above and to the side of the "
      "water."),
  N_ ("Each cut marked from two edges, measured again, and tried with a flap or tape before "
      "anything is cut for good."),
  NULL
};

static const char *const building[] = {
  N_ ("Fixed to the wall against tipping; the heaviest things lowest; each shelf within what its "
      "maker allows."),
  N_ ("Edges of glass and cut wire covered, gloves on while they are not. Tempered glass is "
      "neither cut nor drilled."),
  N_ ("Eyes and lungs covered when you cut or drill; look for pipes and cables before you drill "
      "into a wall."),
  N_ ("Nothing that drips above a plug, a supply or a crown that must stay dry."), NULL
};

static const char *const wiring[] = {
  N_ ("All of it behind residual-current protection of 30 mA, its test button pressed today."),
  N_ ("Supplies and plugs outside and dry, none on the floor below the tank; no multi-way sockets "
      "or timers in the wet."),
  N_ ("Each cable hangs in a loop below its plug, and is held where it goes through the cover, so "
      "that no pull reaches the device."),
  N_ ("5 to 24 V inside wherever that is possible; what takes mains voltage has a casing made for "
      "where it hangs: IPX4 at least for splashes, IP65 where mist settles."),
  N_ (
    "Lamps and heat mats clear of film, cloth and leaves by their maker’s distance; a smoke alarm "
    "in the room."),
  N_ ("Fans guarded, hair and fingers clear of them. Fixed wiring, and any doubt, belongs to a "
      "licensed electrician; local codes come first."),
  NULL
};

static const char *const evening[] = {
  N_ (
    "Only clean water low in minerals in the tank: no fertiliser, no scent, no oil, no pesticide. "
    "Wipe and rinse it often."),
  N_ ("Instruments side by side for an hour first, then one where the wettest and one where the "
      "driest plant stands, out of the mist and the light of lamps."),
  N_ ("Leave it for a day without plants. Compare each shelf with the forecast on these pages: "
      "within its band, most of the time?"),
  N_ ("At night, lamps and mist off, everything shut: note the humidity every quarter of an hour. "
      "How fast it falls tells how much the cover leaks."),
  N_ ("In the morning: does anything drip on a crown, stand in water, smell or feel warm that "
      "should not?"),
  N_ ("Plants last, the hardiest first; new ones apart for some weeks."),
  NULL
};

static const Stage stages[] = {
  { N_ ("Before you cut"), before },
  { N_ ("While you build"), building },
  { N_ ("Power"), wiring },
  { N_ ("The first evening"), evening },
};

static double
check (const DewPage *page, const DewWalk *walk, const char *text)
{
  double x = walk->left + dew_page_tick_box (page, walk->left, walk->y);

  return dew_page_words (page, DEW_PRINT_BODY, &page->palette->ink, x, walk->y, walk->right - x, 0,
                         text);
}

void
dew_walk_checks (DewWalk *walk)
{
  dew_walk_turn (walk);
  dew_walk_head (walk, _ ("What to see to"));
  for (guint i = 0; i < G_N_ELEMENTS (stages); i++)
    {
      dew_walk_need (walk, 80);
      dew_walk_words (walk, DEW_PRINT_STRONG, &walk->page->palette->ink, _ (stages[i].title));
      for (guint k = 0; stages[i].checks[k] != NULL; k++)
        {
          const char *text = _ (stages[i].checks[k]);

          dew_walk_need (walk, check (&walk->mute, walk, text));
          walk->y += check (dew_walk_pen (walk), walk, text) + DEW_WALK_ROW_GAP;
        }
      walk->y += DEW_WALK_BLOCK_GAP;
    }
}
