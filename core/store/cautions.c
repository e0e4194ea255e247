/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The safety page. Its words are here and not in a file of data, so that they are
 * translated with all others. */
#include "store/store.h"

#include <glib/gi18n.h>

/* Translators: in each paragraph the words before the first full stop become its
 * title; keep them short. */
/* clang-format off */
static const char *const paragraphs[] = {
  N_("Cautions"),
  N_("A forecast is a prediction with error. It helps to choose; it does not vouch for plants, "
     "people or things. Measure before you rely on it, and look at your plants."),
  N_("Mains electricity and water. A humid enclosure is a wet place. Power everything in and "
     "near it through residual-current protection that trips at 30 mA (called GFCI in North "
     "America), and press its test button now and then. Keep sockets, plugs and power supplies "
     "outside, above and to the side of the wet zone, never below it; no multi-way sockets or "
     "plug timers in it. Let every cable hang in a drip loop, lower than its plug, so that drops "
     "fall off before they reach it. Prefer devices for 5 to 24 V whose supply, one with safety "
     "isolation (SELV), stays outside and in the open so that it stays cool; fuse strips of "
     "lamps. A device for mains voltage inside needs a casing made for its place: IPX4 at least "
     "for splashes, IP65 where mist settles. Unplug before you reach in."),
  N_("Batteries. Never charge them inside, and keep lithium cells and power banks out of wet and "
     "warm places. A battery that has been wet is not used again."),
  N_("Tipping and load. A tall cabinet tips when a child pulls or a shelf is overfilled. Fix "
     "it to a wall, look for cables and pipes before you drill, put the heaviest things lowest, "
     "and keep each shelf within what its maker allows. Lift with two. Water is heavy: a tray of "
     "60 by 40 cm with 3 cm of it weighs about 8 kg."),
  N_("Glass. Use safety glass for shelves and where children reach; tempered glass is neither "
     "cut nor drilled. Cover cut edges, wear gloves until they are, and keep panes off edges "
     "where people pass."),
  N_("Mist, hygiene and mould. What grows in a dirty tank comes out with the mist, germs that "
     "cause lung disease (Legionella) too. Only water goes in, low in minerals: no fertiliser, "
     "pesticide, oil, scent or cleaner. Change it daily, leave no warm water standing, wipe the "
     "tank often and let tank and hoses dry when they rest. Mist can be breathed in by anyone in "
     "the room, even when you hardly see it: keep it inside the cover, most of all where "
     "somebody has asthma, a lung disease or a weak immune system. White dust is mineral from "
     "the water. Where walls or the back of the cabinet stay damp, mould follows; leave a gap to "
     "the wall, look behind, and wear a mask when you clean mould off. Air the enclosure after "
     "spraying anything."),
  N_("Steam. A steam humidifier scalds: keep it and its hose out of reach, and never in a cool "
     "case with film."),
  N_("Heat. Lamps and heat mats can melt film and set dry moss on fire. Keep them clear of film, "
     "cloth and leaves by the distance their maker gives, put nothing on top of them, and do not "
     "run mats under dry pots without a thermostat, which can fail: one under glass can crack it. "
     "A smoke alarm belongs in the room. Sunlight on a closed cover heats it within minutes."),
  N_("Children, pets and plants. Some plants are poisonous to people and animals when chewed, "
     "and the sap of some irritates skin; that the lists here say nothing of a plant means that "
     "nobody checked. Keep the number of a poison centre at hand. Film can suffocate, tanks can "
     "drown, strong lamps hurt eyes: nobody climbs in, plays with bags or looks into lamps. Keep "
     "fertiliser and sprays out of reach."),
  N_("Water on the floor. A tray under all of it should hold what the tank holds. Wet floors are "
     "slippery, and standing damp harms floors and walls: in a rented home ask before you drill, "
     "wet or heat anything for long."),
  N_("Who decides. Local codes and standards and the makers’ instructions come before anything "
     "said here. Fixed wiring, and any doubt about it, belongs to a licensed electrician; the "
     "strength of floors and walls to a builder; questions of health to a doctor."),
};
/* clang-format on */

/**
 * dew_cautions_text:
 *
 * The safety page, as it is shown in the window and on the command line, in the
 * language of the program.
 *
 * Returns: (transfer none): UTF-8, paragraphs parted by blank lines.
 */
const char *
dew_cautions_text (void)
{
  static char *text = NULL;

  if (g_once_init_enter (&text))
    {
      GString *page = g_string_new (NULL);

      for (guint i = 0; i < G_N_ELEMENTS (paragraphs); i++)
        g_string_append_printf (page, "%s%s", i > 0 ? "\n\n" : "", _ (paragraphs[i]));
      g_string_append_c (page, '\n');
      g_once_init_leave (&text, g_string_free (page, FALSE));
    }
  return text;
}
