/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catalogue/catalogue-private.h"

#include "chamber/chamber-private.h"
#include "geometry/geometry.h"
#include "say/problems.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* New enclosures: from a row of the table of kinds, or from a few sizes. */

#define CM 1e-2
#define PCT 1e-2

/* The shelf that sizes alone give, a row of the table of shelves. */
#define PLAIN_SHELF "coated wire rack of a light film greenhouse"

static guint
row_of (const char *catalogue, const char *name)
{
  int row = dew_catalogue_find (dew_catalogue (catalogue), name);

  g_return_val_if_fail (row >= 0, 0); /* tests look up every name of the tables */
  return (guint) row;
}

static void
add_shelf (DewChamber *chamber, const char *kind, double z_m)
{
  DewThing shelf;

  dew_thing_init (&shelf, DEW_THING_SHELF);
  dew_catalogue_apply_thing (dew_catalogue ("shelves"), row_of ("shelves", kind), &shelf);
  shelf.shelf.z_m = z_m;
  dew_variant_add (chamber, dew_chamber_shown (chamber), &shelf);
}

/* All six sides, and the leakage that goes with such a cover. */
static void
set_cover (DewChamber *chamber, guint cover)
{
  for (int face = 0; face < DEW_N_FACES; face++)
    dew_catalogue_apply_panel (cover, &chamber->panels[face]);
  dew_catalogue_apply_enclosure (dew_catalogue ("covers"), cover, chamber);
}

/* --- from the table ---------------------------------------------------- */

static int
face_from_key (const char *key)
{
  for (int face = 0; face < DEW_N_FACES; face++)
    if (strcmp (dew_face_key (face), key) == 0)
      return face;
  return -1;
}

/* "front: double glass 4-12-4;roof: acrylic 3 mm" */
static void
set_sides (DewChamber *chamber, const char *text)
{
  g_auto (GStrv) sides = g_strsplit (text, ";", -1);

  for (guint i = 0; sides[i] != NULL; i++)
    {
      g_auto (GStrv) parts = g_strsplit (sides[i], ": ", 2);
      int face = face_from_key (parts[0]);

      g_return_if_fail (face >= 0 && parts[1] != NULL);
      dew_catalogue_apply_panel (row_of ("covers", parts[1]), &chamber->panels[face]);
    }
}

/* "ROW OF VENTS: FACE u0 u1 v0 v1 OPEN", in centimetres and per cent. */
static void
add_opening (DewChamber *chamber, const char *text)
{
  g_auto (GStrv) parts = g_strsplit (text, ": ", 2);
  g_auto (GStrv) words = NULL;
  DewThing opening;
  int face;

  g_return_if_fail (parts[0] != NULL && parts[1] != NULL);
  words = g_strsplit (parts[1], " ", -1);
  g_return_if_fail (g_strv_length (words) == 6);
  face = face_from_key (words[0]);
  g_return_if_fail (face >= 0);

  dew_thing_init (&opening, DEW_THING_OPENING);
  dew_catalogue_apply_thing (dew_catalogue ("vents"), row_of ("vents", parts[0]), &opening);
  opening.opening.face = face;
  opening.opening.u0_m = g_ascii_strtod (words[1], NULL) * CM;
  opening.opening.u1_m = g_ascii_strtod (words[2], NULL) * CM;
  opening.opening.v0_m = g_ascii_strtod (words[3], NULL) * CM;
  opening.opening.v1_m = g_ascii_strtod (words[4], NULL) * CM;
  opening.opening.open_fraction = g_ascii_strtod (words[5], NULL) * PCT;
  dew_variant_add (chamber, dew_chamber_shown (chamber), &opening);
}

/**
 * dew_chamber_from_kind:
 * @row: of the table "enclosures"
 *
 * Returns: (transfer full): an enclosure of that kind with its shelves and
 *   openings and nothing else in it, in the room of dew_chamber_new().
 */
DewChamber *
dew_chamber_from_kind (guint row)
{
  const DewCatalogue *kinds = dew_catalogue ("enclosures");
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  g_auto (GStrv) heights = NULL;
  g_auto (GStrv) openings = NULL;

  g_return_val_if_fail (row < dew_catalogue_rows (kinds), NULL);

  set_cover (chamber, row_of ("covers", dew_catalogue_text (kinds, row, "cover")));
  set_sides (chamber, dew_catalogue_text (kinds, row, "sides"));
  dew_catalogue_apply_enclosure (kinds, row, chamber);

  heights = g_strsplit (dew_catalogue_text (kinds, row, "shelf_heights"), ";", -1);
  for (guint i = 0; heights[i] != NULL; i++)
    add_shelf (chamber, dew_catalogue_text (kinds, row, "shelf"),
               g_ascii_strtod (heights[i], NULL) * CM);
  openings = g_strsplit (dew_catalogue_text (kinds, row, "openings"), ";", -1);
  for (guint i = 0; openings[i] != NULL; i++)
    add_opening (chamber, openings[i]);
  return g_steal_pointer (&chamber);
}

/* --- from sizes -------------------------------------------------------- */

/* How many shelves leave bays that take something. */
static int
shelves_at_most (double inner_height_m, double thickness_m)
{
  return (int) floor ((inner_height_m - DEW_BAY_MIN_M + 1e-9) / (DEW_BAY_MIN_M + thickness_m));
}

static gboolean
check_shelves (const DewChamber *chamber, int n_shelves, double thickness_m, GError **error)
{
  double inner_m[3];
  int most;

  dew_chamber_inner_m (chamber, inner_m);
  most = MAX (0, shelves_at_most (inner_m[2], thickness_m));
  if (n_shelves >= 0 && n_shelves <= most)
    return TRUE;
  if (n_shelves < 0)
    g_set_error (error, DEW_CHAMBER_ERROR, DEW_CHAMBER_ERROR_INVALID,
                 _ ("There cannot be %d shelves; give 0 to %d"), n_shelves, most);
  else
    g_set_error (error, DEW_CHAMBER_ERROR, DEW_CHAMBER_ERROR_INVALID,
                 ngettext ("%d shelf does not fit into this height; give %d at most",
                           "%d shelves do not fit into this height; give %d at most",
                           (gulong) n_shelves),
                 n_shelves, most);
  return FALSE;
}

/**
 * dew_chamber_from_sizes:
 * @width_m: outer, along x
 * @depth_m: outer, along y
 * @height_m: outer
 * @n_shelves: how many, at equal distances
 * @cover: row of the table "covers", for all sides
 *
 * Returns: (transfer full) (nullable): NULL with an error in words
 *   (%DEW_CHAMBER_ERROR) for sizes that make no enclosure.
 */
DewChamber *
dew_chamber_from_sizes (double width_m, double depth_m, double height_m, int n_shelves, guint cover,
                        GError **error)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  double inner_m[3], thickness_m;
  DewThing shelf;

  g_return_val_if_fail (cover < dew_catalogue_rows (dew_catalogue ("covers")), NULL);

  chamber->outer_m[0] = width_m;
  chamber->outer_m[1] = depth_m;
  chamber->outer_m[2] = height_m;
  set_cover (chamber, cover);
  if (!dew_chamber_validate (chamber, error))
    return NULL;

  dew_thing_init (&shelf, DEW_THING_SHELF);
  dew_catalogue_apply_thing (dew_catalogue ("shelves"), row_of ("shelves", PLAIN_SHELF), &shelf);
  thickness_m = shelf.shelf.thickness_m;
  if (!check_shelves (chamber, n_shelves, thickness_m, error))
    return NULL;

  dew_chamber_inner_m (chamber, inner_m);
  for (int i = 1; i <= n_shelves; i++)
    {
      /* All bays alike in the clear. */
      double bay_m = (inner_m[2] - n_shelves * thickness_m) / (n_shelves + 1);

      add_shelf (chamber, PLAIN_SHELF, i * bay_m + (i - 1) * thickness_m);
    }
  return g_steal_pointer (&chamber);
}
