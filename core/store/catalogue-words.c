/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The names in the catalogues that are words, so that they can be translated. Files
 * and look-ups keep the English name, only what is shown goes through here. */
#include "store/store.h"

#include <glib/gi18n.h>

static const char *const words[] = {
  /* Kinds of enclosure. */
  NC_ ("catalogue", "film greenhouse, four shelves"),
  NC_ ("catalogue", "film greenhouse, three shelves"),
  NC_ ("catalogue", "film greenhouse, wide, four shelves"),
  NC_ ("catalogue", "wardrobe frame with film"),
  NC_ ("catalogue", "glass cabinet, narrow"),
  NC_ ("catalogue", "glass cabinet, wide"),
  NC_ ("catalogue", "glass cabinet with seals"),
  NC_ ("catalogue", "glass terrarium, low"),
  NC_ ("catalogue", "glass terrarium, tall"),
  NC_ ("catalogue", "acrylic case, small"),
  NC_ ("catalogue", "acrylic case, two shelves"),
  NC_ ("catalogue", "small twin-wall greenhouse, moved indoors"),
  NC_ ("catalogue", "cold cabinet, converted"),
  NC_ ("catalogue", "fish tank on its base, covered"),
  /* Covers. */
  NC_ ("catalogue", "PE film 100 um"),
  NC_ ("catalogue", "PE film 200 um"),
  NC_ ("catalogue", "EVA/PEVA film 150 um"),
  NC_ ("catalogue", "soft PVC film 150 um"),
  NC_ ("catalogue", "soft PVC sheet 500 um"),
  NC_ ("catalogue", "mesh-reinforced PE 140 g/m2"),
  NC_ ("catalogue", "two PE films with 20 mm air gap"),
  NC_ ("catalogue", "PET sheet 300 um"),
  NC_ ("catalogue", "glass 3 mm"),
  NC_ ("catalogue", "glass 4 mm"),
  NC_ ("catalogue", "glass 4 mm, doors with seals"),
  NC_ ("catalogue", "double glass 4-12-4"),
  NC_ ("catalogue", "acrylic 3 mm"),
  NC_ ("catalogue", "acrylic 5 mm"),
  NC_ ("catalogue", "acrylic multiwall 16 mm"),
  NC_ ("catalogue", "solid polycarbonate 3 mm"),
  NC_ ("catalogue", "twin-wall polycarbonate 4 mm"),
  NC_ ("catalogue", "twin-wall polycarbonate 6 mm"),
  NC_ ("catalogue", "twin-wall polycarbonate 8 mm"),
  NC_ ("catalogue", "twin-wall polycarbonate 10 mm"),
  NC_ ("catalogue", "three-wall polycarbonate 16 mm"),
  NC_ ("catalogue", "bubble film added inside"),
  NC_ ("catalogue", "foam board 20 mm (floor, back)"),
  /* Rooms. */
  NC_ ("catalogue", "heated living room"),
  NC_ ("catalogue", "heated bedroom"),
  NC_ ("catalogue", "unheated bedroom"),
  NC_ ("catalogue", "unheated hallway"),
  NC_ ("catalogue", "basement, unheated"),
  NC_ ("catalogue", "conservatory, unheated"),
  NC_ ("catalogue", "glazed balcony or porch"),
  NC_ ("catalogue", "open balcony, shaded"),
  NC_ ("catalogue", "any room, heat wave"),
  NC_ ("catalogue", "any room, heat wave, humid"),
  NC_ ("catalogue", "heated room, deep frost outside"),
  NC_ ("catalogue", "heated room, heating failed 24 h"),
  NC_ ("catalogue", "air-conditioned room"),
  /* Climates of rooms. */
  NC_ ("catalogue", "mild temperate lowland, about 50 N"),
  NC_ ("catalogue", "cold continental, about 52 N"),
  NC_ ("catalogue", "scenario"),
  /* Groups of plants. */
  NC_ ("catalogue", "aroid"),
  NC_ ("catalogue", "aroid cool"),
  NC_ ("catalogue", "aroid warm"),
  NC_ ("catalogue", "begonia"),
  NC_ ("catalogue", "bromeliad"),
  NC_ ("catalogue", "carnivorous"),
  NC_ ("catalogue", "carnivorous cool roots"),
  NC_ ("catalogue", "carnivorous highland"),
  NC_ ("catalogue", "carnivorous intermediate"),
  NC_ ("catalogue", "ericad cool"),
  NC_ ("catalogue", "fern"),
  NC_ ("catalogue", "fern ally"),
  NC_ ("catalogue", "filmy fern"),
  NC_ ("catalogue", "foliage"),
  NC_ ("catalogue", "gesneriad"),
  NC_ ("catalogue", "gesneriad cool"),
  NC_ ("catalogue", "gesneriad warm"),
  NC_ ("catalogue", "moss"),
  NC_ ("catalogue", "moss ally"),
  NC_ ("catalogue", "orchid cool"),
  NC_ ("catalogue", "orchid cool terrestrial"),
  NC_ ("catalogue", "orchid cool to intermediate"),
  NC_ ("catalogue", "orchid cool with dry rest"),
  NC_ ("catalogue", "orchid intermediate"),
  NC_ ("catalogue", "orchid intermediate terrestrial"),
  NC_ ("catalogue", "orchid intermediate to warm"),
  NC_ ("catalogue", "orchid warm"),
  NC_ ("catalogue", "orchid warm terrestrial"),
  NULL,
};

/**
 * dew_catalogue_word:
 * @name: a name of an enclosure, a cover, a room or a climate, or a group of plants,
 *   as it stands in a catalogue; or anything else
 *
 * Returns: the name in the user's language; @name itself where it is none of the
 *   catalogue's. Lent, as long as @name.
 */
const char *
dew_catalogue_word (const char *name)
{
  return g_dpgettext2 (NULL, "catalogue", name);
}

/**
 * dew_catalogue_words:
 *
 * Returns: all names that can be translated, NULL-terminated. Lent.
 */
const char *const *
dew_catalogue_words (void)
{
  return words;
}
