/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chamber/random-chamber.h"
#include "say/problems.h"
#include "store/folder.h"
#include "store/store.h"

#include <float.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

/* What can be saved can be opened again and is equal; what cannot be opened is not saved. Each
 * document is spoilt or driven to an end of what it may be in one or more places, whatever
 * that makes of it. IEEE 754 for the numbers, The Unicode Standard, 3.9 for the texts. */

/* The ends of a range and what lies just beyond them. */
static double
awkward (GRand *random, double min, double max)
{
  const double values[] = { min,
                            max,
                            nextafter (min, -INFINITY),
                            nextafter (max, INFINITY),
                            nextafter (min, INFINITY),
                            0.0,
                            -0.0,
                            DBL_MIN / 4.0,
                            DBL_MAX,
                            1.0 / 3.0,
                            NAN,
                            INFINITY,
                            -1.0,
                            min - 1.0,
                            max + 1.0,
                            -DBL_EPSILON };

  return values[g_rand_int_range (random, 0, G_N_ELEMENTS (values))];
}

/* As long as it may be or one longer, of characters of one to four bytes; or none. */
static void
spoil_text (GRand *random, char *to, gsize size)
{
  static const char *const parts[]
    = { "n",    "ü",    "湿",   "🌿",       "\n", "\xe2\x80\xae", "\xef\xbf\xbe",
        "\xc3", "\x1b", "\x7f", "\xc2\x85" };
  gboolean plain = g_rand_int_range (random, 0, 3) > 0;
  const char *part = parts[g_rand_int_range (random, 0, plain ? 4 : (int) G_N_ELEMENTS (parts))];
  gsize n = g_rand_boolean (random) ? size - 1 : (gsize) g_rand_int_range (random, 0, (int) size);
  gsize length = 0;

  memset (to, 0, size);
  for (; length + strlen (part) <= n; length += strlen (part))
    memcpy (to + length, part, strlen (part));
  if (g_rand_int_range (random, 0, 30) == 0)
    memset (to, 'n', size); /* without an end */
}

static void
spoil_field (GRand *random, const DewField *field, gpointer record)
{
  if (field->type == DEW_FIELD_REAL)
    dew_field_set_real (field, record, awkward (random, field->min, field->max));
  else if (field->type == DEW_FIELD_TEXT)
    spoil_text (random, (char *) record + field->offset, field->size);
  else
    dew_field_set_int (field, record,
                       (int) (g_rand_boolean (random) ? field->max : field->min)
                         + g_rand_int_range (random, -1, 2));
}

static void
spoil_one_of (GRand *random, const DewField *fields, gpointer record)
{
  int n = 0;

  while (fields[n].key != NULL)
    n++;
  if (n > 0)
    spoil_field (random, &fields[g_rand_int_range (random, 0, n)], record);
}

static void
add_fan (DewChamber *chamber, DewVariant *variant)
{
  DewThing fan;

  dew_thing_init (&fan, DEW_THING_FAN);
  dew_variant_add (chamber, variant, &fan);
}

static void
spoil_numbers (GRand *random, DewChamber *chamber)
{
  static const guint ids[]
    = { 0, 1, G_MAXINT - 1, G_MAXINT, (guint) G_MAXINT + 1, G_MAXUINT - 1, G_MAXUINT };
  guint id = ids[g_rand_int_range (random, 0, G_N_ELEMENTS (ids))];
  DewVariant *variant = &g_array_index (chamber->variants, DewVariant, 0);

  switch (g_rand_int_range (random, 0, 5))
    {
    case 0:
      chamber->next_id = id;
      break;
    case 1:
      chamber->shown_variant = id;
      break;
    case 2:
      chamber->month = g_rand_int_range (random, -1, 13);
      break;
    case 3: /* as large as ids may be, and one more made */
      chamber->next_id = g_rand_boolean (random) ? G_MAXINT : (guint) G_MAXINT - 1;
      if (variant->things->len > 0)
        add_fan (chamber, variant);
      break;
    default:
      if (variant->things->len > 0)
        g_array_index (variant->things, DewThing, 0).id = id;
      break;
    }
}

static void
spoil (GRand *random, DewChamber *chamber)
{
  DewVariant *variant = &g_array_index (chamber->variants, DewVariant, 0);
  DewThing *thing = NULL;

  if (variant->things->len > 0)
    thing = &g_array_index (variant->things, DewThing,
                            g_rand_int_range (random, 0, (int) variant->things->len));
  switch (g_rand_int_range (random, 0, 9))
    {
    case 0:
      spoil_one_of (random, dew_enclosure_fields (), chamber);
      break;
    case 1:
      spoil_one_of (random, dew_panel_fields (),
                    &chamber->panels[g_rand_int_range (random, 0, DEW_N_FACES)]);
      break;
    case 2:
      spoil_one_of (random, dew_room_fields (), &chamber->room);
      spoil_one_of (random, dew_month_fields (),
                    &chamber->room.months[g_rand_int_range (random, 0, 12)]);
      break;
    case 3:
      spoil_text (random, variant->name, sizeof variant->name);
      break;
    case 4:
      if (chamber->wishes->len > 0)
        spoil_one_of (random, dew_wish_fields (), &g_array_index (chamber->wishes, DewWish, 0));
      break;
    case 5:
      if (chamber->kinds->len > 0)
        spoil_one_of (random, dew_plant_kind_fields (),
                      &g_array_index (chamber->kinds, DewPlantKind, 0));
      break;
    case 6:
      spoil_numbers (random, chamber);
      break;
    case 7:
      if (thing != NULL)
        spoil_text (random, thing->name, sizeof thing->name);
      break;
    default:
      if (thing != NULL)
        spoil_one_of (random, dew_thing_fields (thing->kind), thing);
      break;
    }
}

/* The inside may be 4 m and the slack of a comparison; the outside has its own end. */
static void
spoil_size (GRand *random, DewChamber *chamber)
{
  int axis = g_rand_int_range (random, 0, 3);
  const DewField *size = dew_enclosure_fields () + axis;

  for (int face = 0; face < DEW_N_FACES; face++)
    chamber->panels[face].thickness_m = g_rand_boolean (random) ? 0.3 : 0.0;
  chamber->outer_m[axis] = awkward (random, size->min, size->max);
  if (g_rand_boolean (random))
    chamber->outer_m[axis] += 5e-10;
}

static void
assert_saved_is_opened (const char *folder, const DewChamber *chamber, guint *saved)
{
  g_autofree char *path = g_build_filename (folder, "a.dewtier", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (DewChamber) loaded = NULL;
  g_autoptr (DewStore) store = NULL;
  g_autoptr (DewHistory) history = NULL;
  gboolean valid = dew_chamber_validate (chamber, &error);

  g_assert_true (valid == (error == NULL));
  if (!dew_store_create (path, chamber, TRUE, valid ? &error : NULL))
    {
      /* Refused before it is written, not by the file's own checks. */
      if (valid)
        g_error ("valid, but not written: %s", error->message);
      g_assert_cmpuint (test_folder_files (folder), ==, 0);
      return;
    }
  g_assert_true (valid);
  (*saved)++;
  loaded = dew_store_load (path, &error);
  g_assert_no_error (error);
  g_assert_true (dew_chamber_equal (loaded, chamber));
  store = dew_store_open (path, &error);
  g_assert_no_error (error);
  history = dew_store_history (store);
  g_assert_true (dew_chamber_equal (dew_history_present (history), chamber));
  g_unlink (path);
}

static void
assert_written_is_read (const DewChamber *chamber)
{
  g_autofree char *text = NULL;
  g_autoptr (DewChamber) back = NULL;
  g_autoptr (GError) error = NULL;

  if (!dew_chamber_validate (chamber, NULL))
    return;
  text = dew_json_from_chamber (chamber);
  back = dew_json_to_chamber (text, -1, &error);
  g_assert_no_error (error);
  g_assert_true (dew_chamber_equal (back, chamber));
}

static void
test_saved_is_opened (void)
{
  g_autoptr (TestFolder) folder = test_folder_new ();
  g_autoptr (GRand) random = g_rand_new_with_seed (1404);
  guint saved = 0;
  const guint n = 400;

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (DewChamber) chamber = random_chamber (random);

      for (int k = g_rand_int_range (random, 1, 3); k > 0; k--)
        if (g_rand_int_range (random, 0, 8) == 0)
          spoil_size (random, chamber);
        else
          spoil (random, chamber);
      assert_written_is_read (chamber);
      assert_saved_is_opened (folder, chamber, &saved);
    }
  g_test_message ("%u of %u could be saved", saved, n);
  g_assert_cmpuint (saved, >, n / 5);
  g_assert_cmpuint (saved, <, n * 4 / 5);
}

/* As long as there are numbers for things there is no step that makes a document unreadable. */
static void
test_last_number (void)
{
  g_autoptr (TestFolder) folder = test_folder_new ();
  g_autofree char *path = g_build_filename (folder, "a.dewtier", NULL);
  g_autoptr (DewChamber) demo = dew_chamber_demo ();
  g_autoptr (GError) error = NULL;
  g_autoptr (DewHistory) history = NULL;
  g_autoptr (DewChamber) loaded = NULL;
  int taken = 0;

  demo->next_id = G_MAXINT - 2;
  g_assert_true (dew_store_create (path, demo, FALSE, &error));
  for (int i = 0; i < 6; i++)
    {
      g_autoptr (DewStore) store = dew_store_open (path, &error);
      g_autoptr (DewChamber) next = NULL;

      g_assert_no_error (error);
      g_clear_pointer (&history, dew_history_free);
      history = dew_store_history (store);
      next = dew_chamber_copy (dew_history_present (history));
      add_fan (next, dew_chamber_shown (next));
      taken += dew_history_push (history, next, "Add", NULL, NULL);
      dew_store_save (store, history, NULL, NULL);
      g_assert_true (dew_store_flush (store, &error));
    }
  g_assert_cmpint (taken, ==, 2);
  loaded = dew_store_load (path, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (loaded->next_id, ==, G_MAXINT);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/both-ways/saved-is-opened", test_saved_is_opened);
  g_test_add_func ("/both-ways/last-number", test_last_number);
  return g_test_run ();
}
