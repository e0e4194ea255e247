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
  N_("Mains electricity and water. A humid enclosure is a wet place. Feed everything in and "
     "near it through residual-current protection that trips at 30 mA, and press its test "
     "button now and then. Keep sockets, plugs and power supplies outside, above and to the "
     "side of the wet zone, never below it. Let every cable hang in a loop lower than its "
     "plug, so that drops fall off before they reach it. Prefer devices for 5 to 24 V whose "
     "supply stays outside; a device for mains voltage inside needs a casing made for wet "
     "places. Unplug before you reach in."),
  N_("Tipping and load. A tall cabinet tips when a child pulls or a shelf is overfilled. Fix "
     "it to a wall, put the heaviest things lowest, and keep each shelf within what its maker "
     "allows. Water is heavy: a tray of 60 by 40 cm with 3 cm of it weighs about 8 kg. Glass "
     "breaks: keep it off edges where people pass."),
  N_("Mist, hygiene and mould. A dirty tank breathes out what grows in it. Empty, wipe and "
     "refill it often, use water low in minerals, and let tank and hoses dry when they rest. "
     "Mist that is thick enough to see can be breathed in by anyone in the room: keep it "
     "inside the cover, most of all where somebody has asthma, weak lungs or a weak immune "
     "system. White dust is mineral from the water. Where walls or the back of the cabinet "
     "stay damp, mould follows; leave a gap to the wall and look behind."),
  N_("Heat. Lamps and heat mats can melt film, dry moss and start fires. Keep them clear of "
     "film, cloth and leaves by the distance their maker gives, do not cover them, and do not "
     "run mats under dry pots without a thermostat. Sunlight on a closed cover heats it within "
     "minutes."),
  N_("Plants and others. Some plants are poisonous to people and animals when chewed. Keep "
     "enclosures, fertiliser and sprays out of the reach of children and pets."),
  N_("Who decides. Local codes and standards come before anything said here. Fixed wiring, and "
     "any doubt about it, belongs to a licensed electrician; the strength of floors and walls "
     "to a builder; questions of health to a doctor."),
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
