/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chamber/chamber.h"

#include "edit/arrange.h"
#include "geometry/geometry.h"
#include "random-chamber.h"
#include "say/problems.h"

#include <math.h>
#include <string.h>

/* What is checked here is the program's own promise in core/chamber/chamber.h;
 * the figures are arithmetic on the drawing. */

static DewThing *
add (DewChamber *chamber, DewThingKind kind, const char *name)
{
  DewThing thing;

  dew_thing_init (&thing, kind);
  g_strlcpy (thing.name, name, sizeof thing.name);
  return dew_variant_add (chamber, dew_chamber_shown (chamber), &thing);
}

/* An enclosure of exactly 1 x 1 x 2 m inside. */
static DewChamber *
box_new (void)
{
  DewChamber *chamber = dew_chamber_new ();

  for (int face = 0; face < DEW_N_FACES; face++)
    chamber->panels[face].thickness_m = 0.0;
  chamber->outer_m[0] = 1.0;
  chamber->outer_m[1] = 1.0;
  chamber->outer_m[2] = 2.0;
  return chamber;
}

/* --- fields ------------------------------------------------------------ */

static void
check_table (const DewField *fields, gpointer record)
{
  for (const DewField *field = fields; field->key != NULL; field++)
    {
      g_assert_true (dew_field_find (fields, field->key) == field);
      g_assert_cmpstr (field->label, !=, "");
      if (field->type == DEW_FIELD_REAL)
        {
          double middle = (field->min + field->max) / 2;

          g_assert_cmpfloat (field->min, <, field->max);
          g_assert_cmpfloat (field->fallback, >=, field->min);
          g_assert_cmpfloat (field->fallback, <=, field->max);
          g_assert_cmpfloat (dew_field_get_real (field, record), ==, field->fallback);
          dew_field_set_real (field, record, middle);
          g_assert_cmpfloat (dew_field_get_real (field, record), ==, middle);
        }
      else if (field->type == DEW_FIELD_TEXT)
        {
          dew_field_set_text (field, record, "a name");
          g_assert_cmpstr (dew_field_get_text (field, record), ==, "a name");
        }
      else
        {
          if (field->type == DEW_FIELD_CHOICE)
            g_assert_cmpint (g_strv_length ((GStrv) field->choices), ==, (int) field->max + 1);
          dew_field_set_int (field, record, 1);
          g_assert_cmpint (dew_field_get_int (field, record), ==, 1);
        }
    }
  g_assert_null (dew_field_find (fields, "no_such_key"));
}

/* No two fields of a record may share memory: each is set to a value of its own
 * in check_table(), so an overlap would show as a changed neighbour. */
static void
check_apart (const DewField *fields)
{
  for (const DewField *a = fields; a->key != NULL; a++)
    for (const DewField *b = a + 1; b->key != NULL; b++)
      {
        gsize size_a = a->type == DEW_FIELD_REAL   ? sizeof (double)
                       : a->type == DEW_FIELD_TEXT ? a->size
                                                   : sizeof (int);

        g_assert_cmpstr (a->key, !=, b->key);
        g_assert_true (a->offset + size_a <= b->offset || b->offset + 1 <= a->offset);
      }
}

static void
test_fields (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  DewPlantKind kind_of_plant;
  DewWish wish;

  for (int kind = 0; kind < DEW_N_THING_KINDS; kind++)
    {
      DewThing thing;
      DewThingKind found;

      dew_thing_init (&thing, kind);
      g_assert_cmpint (thing.kind, ==, kind);
      g_assert_true (dew_thing_kind_from_key (dew_thing_kind_key (kind), &found));
      g_assert_cmpint (found, ==, kind);
      check_apart (dew_thing_fields (kind));
      check_table (dew_thing_fields (kind), &thing);
    }
  g_assert_false (dew_thing_kind_from_key ("nonsense", &(DewThingKind){ 0 }));
  check_apart (dew_enclosure_fields ());
  check_table (dew_enclosure_fields (), chamber);
  check_apart (dew_month_fields ());
  check_apart (dew_panel_fields ());
  check_apart (dew_room_fields ());
  check_apart (dew_wish_fields ());
  check_apart (dew_plant_kind_fields ());
  check_table (dew_panel_fields (), &chamber->panels[0]);
  dew_wish_init (&wish);
  check_table (dew_wish_fields (), &wish);
  dew_plant_kind_init (&kind_of_plant);
  check_table (dew_plant_kind_fields (), &kind_of_plant);
}

/* A text is cut between characters: 63 bytes hold 31 of two bytes. */
static void
test_long_text (void)
{
  const DewField *field = dew_field_find (dew_panel_fields (), "material");
  g_autoptr (GString) text = g_string_new (NULL);
  DewPanel panel;

  memset (&panel, 0x7f, sizeof panel);
  for (int i = 0; i < 100; i++)
    g_string_append (text, "\303\251");
  dew_field_set_text (field, &panel, text->str);
  g_assert_cmpuint (strlen (panel.material), ==, 62);
  g_assert_true (g_utf8_validate (panel.material, -1, NULL));
}

/* --- life -------------------------------------------------------------- */

static void
test_copy (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (20);

  for (int i = 0; i < 200; i++)
    {
      g_autoptr (DewChamber) one = random_chamber (random);
      g_autoptr (DewChamber) other = dew_chamber_copy (one);
      g_autoptr (GError) error = NULL;

      g_assert_true (dew_chamber_equal (one, other));
      dew_chamber_validate (one, &error);
      g_assert_no_error (error);
      other->room.months[7].rh_night = other->room.months[7].rh_night > 0.5 ? 0.25 : 0.75;
      g_assert_false (dew_chamber_equal (one, other));
    }
}

static void
change_field (const DewField *field, gpointer record)
{
  if (field->type == DEW_FIELD_REAL)
    dew_field_set_real (field, record, dew_field_get_real (field, record) + 0.125);
  else if (field->type == DEW_FIELD_TEXT)
    dew_field_set_text (field, record, "other");
  else
    dew_field_set_int (field, record, dew_field_get_int (field, record) == 0);
}

/* A document with one wish and one kind of one's own. */
static DewChamber *
wishing_new (void)
{
  DewChamber *chamber = dew_chamber_new ();
  DewPlantKind kind;
  DewWish wish;

  dew_wish_init (&wish);
  g_strlcpy (wish.name, "Seedling", sizeof wish.name);
  dew_chamber_add_wish (chamber, &wish);
  dew_plant_kind_init (&kind);
  g_strlcpy (kind.name, "Kind", sizeof kind.name);
  g_assert_nonnull (dew_chamber_add_kind (chamber, &kind));
  return chamber;
}

/* What lies at `offset` in a document has all these fields. */
static void
assert_equal_sees (const DewField *fields, gsize offset)
{
  for (const DewField *field = fields; field->key != NULL; field++)
    {
      g_autoptr (DewChamber) one = dew_chamber_new ();
      g_autoptr (DewChamber) other = dew_chamber_copy (one);

      change_field (field, (char *) other + offset);
      g_assert_false (dew_chamber_equal (one, other));
    }
}

static void
test_equal_sees_fields (void)
{
  assert_equal_sees (dew_enclosure_fields (), 0);
  assert_equal_sees (dew_panel_fields (), G_STRUCT_OFFSET (DewChamber, panels[DEW_FACE_ROOF]));
  assert_equal_sees (dew_room_fields (), G_STRUCT_OFFSET (DewChamber, room));
  assert_equal_sees (dew_month_fields (), G_STRUCT_OFFSET (DewChamber, room.months[11]));
}

static void
test_equal_sees_wishes (void)
{
  for (const DewField *field = dew_wish_fields (); field->key != NULL; field++)
    {
      g_autoptr (DewChamber) one = wishing_new ();
      g_autoptr (DewChamber) other = dew_chamber_copy (one);

      g_assert_true (dew_chamber_equal (one, other));
      change_field (field, &g_array_index (other->wishes, DewWish, 0));
      g_assert_false (dew_chamber_equal (one, other));
    }
  for (const DewField *field = dew_plant_kind_fields (); field->key != NULL; field++)
    {
      g_autoptr (DewChamber) one = wishing_new ();
      g_autoptr (DewChamber) other = dew_chamber_copy (one);

      change_field (field, &g_array_index (other->kinds, DewPlantKind, 0));
      g_assert_false (dew_chamber_equal (one, other));
    }
}

static void
test_wishes (void)
{
  g_autoptr (DewChamber) chamber = wishing_new ();
  DewPlantKind kind = g_array_index (chamber->kinds, DewPlantKind, 0);
  DewWish wish = g_array_index (chamber->wishes, DewWish, 0);
  guint first = wish.id, next = chamber->next_id;
  guint second = dew_chamber_add_wish (chamber, &wish)->id;

  g_assert_cmpuint (second, ==, next);
  g_assert_cmpuint (chamber->next_id, ==, next + 1);
  g_assert_cmpstr (dew_chamber_wish (chamber, second)->name, ==, "Seedling");
  g_assert_true (dew_chamber_remove_wish (chamber, first));
  g_assert_false (dew_chamber_remove_wish (chamber, first));
  g_assert_null (dew_chamber_wish (chamber, first));
  g_assert_nonnull (dew_chamber_wish (chamber, second));

  g_assert_null (dew_chamber_add_kind (chamber, &kind));
  kind.name[0] = '\0';
  g_assert_null (dew_chamber_add_kind (chamber, &kind));
  g_assert_nonnull (dew_chamber_kind (chamber, "Kind"));
  g_assert_null (dew_chamber_kind (chamber, "kind"));
  g_assert_true (dew_chamber_remove_kind (chamber, "Kind"));
  g_assert_false (dew_chamber_remove_kind (chamber, "Kind"));
}

static void
assert_invalid (const DewChamber *chamber, const char *part)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (dew_chamber_validate (chamber, &error));
  g_assert_error (error, DEW_CHAMBER_ERROR, DEW_CHAMBER_ERROR_INVALID);
  if (strstr (error->message, part) == NULL)
    g_error ("'%s' is not in '%s'", part, error->message);
}

/* Every value of a wish and of a kind has its range, and bands do not contradict
 * themselves. */
static void
test_validate_wishes (void)
{
  static const char *const bands[][2] = {
    { "t_day_min_C", "t_day_max_C" },
    { "t_night_ideal_C", "t_night_max_C" },
    { "rh_min", "rh_ideal" },
    { "speed_lo_m_s", "speed_hi_m_s" },
    { "ppfd_lo_mol_m2s", "ppfd_hi_mol_m2s" },
  };
  static const int counts[] = { 0, -1, 501, 1000000, G_MAXINT, G_MININT };

  for (guint i = 0; i < G_N_ELEMENTS (counts); i++)
    {
      g_autoptr (DewChamber) chamber = wishing_new ();

      g_array_index (chamber->wishes, DewWish, 0).count = counts[i];
      assert_invalid (chamber, "give 1 to 500");
    }
  for (const DewField *field = dew_wish_fields (); field->key != NULL; field++)
    {
      const double values[] = { NAN, INFINITY, field->min - 1.0, field->max + 1.0 };

      for (guint i = 0; i < G_N_ELEMENTS (values) && field->type == DEW_FIELD_REAL; i++)
        {
          g_autoptr (DewChamber) chamber = wishing_new ();

          dew_field_set_real (field, &g_array_index (chamber->wishes, DewWish, 0), values[i]);
          assert_invalid (chamber, field->label);
        }
    }
  for (guint i = 0; i < G_N_ELEMENTS (bands); i++)
    {
      g_autoptr (DewChamber) chamber = wishing_new ();
      DewPlantKind *kind = &g_array_index (chamber->kinds, DewPlantKind, 0);
      const DewField *low = dew_field_find (dew_plant_kind_fields (), bands[i][0]);
      const DewField *high = dew_field_find (dew_plant_kind_fields (), bands[i][1]);
      double swap = dew_field_get_real (low, kind);

      dew_field_set_real (low, kind, dew_field_get_real (high, kind));
      dew_field_set_real (high, kind, swap);
      assert_invalid (chamber, "make the first smaller or the second larger");
    }
  {
    g_autoptr (DewChamber) chamber = wishing_new ();

    g_array_index (chamber->wishes, DewWish, 0).id = chamber->next_id;
    assert_invalid (chamber, "of this document go from 1 to 2");
    g_array_index (chamber->wishes, DewWish, 0).id = 1; /* that of the variant */
    assert_invalid (chamber, "used twice");
  }
  {
    g_autoptr (DewChamber) chamber = wishing_new ();
    DewWish wish = g_array_index (chamber->wishes, DewWish, 0);

    for (int i = 0; i < 500; i++)
      dew_chamber_add_wish (chamber, &wish);
    assert_invalid (chamber, "give 500 and 500 at most");
  }
}

static void
test_equal_sees_each_field (void)
{
  for (int kind = 0; kind < DEW_N_THING_KINDS; kind++)
    for (const DewField *field = dew_thing_fields (kind); field->key != NULL; field++)
      {
        g_autoptr (DewChamber) one = dew_chamber_new ();
        g_autoptr (DewChamber) other = NULL;
        DewThing *thing;

        add (one, kind, "it");
        other = dew_chamber_copy (one);
        thing = &g_array_index (dew_chamber_shown (other)->things, DewThing, 0);
        change_field (field, thing);
        g_assert_false (dew_chamber_equal (one, other));
      }
}

static void
test_variants (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  DewVariant *copy = dew_chamber_add_variant (chamber, "C", dew_chamber_shown (chamber));
  const DewVariant *original = dew_chamber_shown (chamber);
  guint copy_id = copy->id;
  g_autoptr (GHashTable) ids = g_hash_table_new (NULL, NULL);

  g_assert_cmpuint (copy->things->len, ==, original->things->len);
  for (guint i = 0; i < chamber->variants->len; i++)
    {
      const DewVariant *variant = &g_array_index (chamber->variants, DewVariant, i);

      g_assert_true (g_hash_table_add (ids, GUINT_TO_POINTER (variant->id)));
      for (guint k = 0; k < variant->things->len; k++)
        {
          const DewThing *thing = &g_array_index (variant->things, DewThing, k);

          g_assert_true (g_hash_table_add (ids, GUINT_TO_POINTER (thing->id)));
          if (thing->kind != DEW_THING_HUMIDIFIER)
            continue;
          /* The humidistat of a copy listens to an instrument of the copy. */
          g_assert_nonnull (dew_variant_thing (variant, (guint) thing->humidifier.sensor_id));
        }
    }

  chamber->shown_variant = copy_id;
  g_assert_true (dew_chamber_remove_variant (chamber, copy_id));
  g_assert_null (dew_chamber_variant (chamber, copy_id));
  g_assert_nonnull (dew_chamber_shown (chamber));
  g_assert_true (dew_chamber_remove_variant (chamber, chamber->shown_variant));
  g_assert_false (dew_chamber_remove_variant (chamber, chamber->shown_variant));
}

static void
test_names (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();

  g_assert_cmpstr (add (chamber, DEW_THING_FAN, "")->name, ==, "Fan 1");
  g_assert_cmpstr (add (chamber, DEW_THING_FAN, "")->name, ==, "Fan 2");
  g_assert_cmpstr (add (chamber, DEW_THING_FAN, "Fan 2")->name, ==, "Fan 2");
}

/* --- geometry ---------------------------------------------------------- */

static void
test_shift (void)
{
  g_autoptr (DewChamber) chamber = box_new ();
  DewVariant *variant;
  const double up[3] = { 0.3, 0.3, 0.25 };
  guint shelf, pot, plant, below, beside, opening;

  shelf = add (chamber, DEW_THING_SHELF, "shelf")->id;
  pot = add (chamber, DEW_THING_POT, "pot")->id;
  plant = add (chamber, DEW_THING_PLANT, "plant")->id;
  below = add (chamber, DEW_THING_POT, "below")->id;
  beside = add (chamber, DEW_THING_LAMP, "hangs free")->id;
  opening = add (chamber, DEW_THING_OPENING, "flap")->id;
  variant = dew_chamber_shown (chamber);
  dew_variant_thing (variant, shelf)->shelf.z_m = 0.5;
  dew_variant_thing (variant, pot)->pot.z_m = 0.506;
  dew_variant_thing (variant, plant)->plant.z_m = 0.6;
  dew_variant_thing (variant, below)->pot.z_m = 0.0;
  dew_variant_thing (variant, beside)->lamp.z_m = 1.5;

  dew_variant_shift (chamber, variant, shelf, up);
  g_assert_cmpfloat (dew_variant_thing (variant, shelf)->shelf.z_m, ==, 0.75);
  g_assert_cmpfloat_with_epsilon (dew_variant_thing (variant, pot)->pot.z_m, 0.756, 1e-12);
  g_assert_cmpfloat (dew_variant_thing (variant, pot)->pot.x_m, ==, 0.2);
  g_assert_cmpfloat_with_epsilon (dew_variant_thing (variant, plant)->plant.z_m, 0.85, 1e-12);
  g_assert_cmpfloat (dew_variant_thing (variant, below)->pot.z_m, ==, 0.0);
  g_assert_cmpfloat (dew_variant_thing (variant, beside)->lamp.z_m, ==, 1.5);

  /* On the front face across is x and up is z. */
  dew_variant_shift (chamber, variant, opening, up);
  g_assert_cmpfloat_with_epsilon (dew_variant_thing (variant, opening)->opening.u0_m, 0.4, 1e-12);
  g_assert_cmpfloat_with_epsilon (dew_variant_thing (variant, opening)->opening.v1_m, 0.4, 1e-12);
}

/* --- checks ------------------------------------------------------------ */

/* Exactly one problem, about `id`, in whose words `part` occurs. */
static void
assert_problem (const DewChamber *chamber, guint id, const char *field, const char *part)
{
  g_autoptr (GArray) problems = dew_chamber_check (chamber, chamber->shown_variant);
  g_autofree char *text = NULL;
  const DewProblem *first;

  g_assert_cmpuint (problems->len, ==, 1);
  first = &g_array_index (problems, DewProblem, 0);
  g_assert_cmpuint (first->thing_id, ==, id);
  g_assert_cmpstr (first->field, ==, field);
  text = dew_problem_text (first, DEW_TONGUE_PLAIN);
  if (strstr (text, part) == NULL)
    g_error ("'%s' is not in '%s'", part, text);
}

static void
assert_no_problem (const DewChamber *chamber)
{
  g_autoptr (GArray) problems = dew_chamber_check (chamber, chamber->shown_variant);

  if (problems->len > 0)
    g_error ("%s", dew_problem_text (&g_array_index (problems, DewProblem, 0), DEW_TONGUE_PLAIN));
}

static void
test_check_fallbacks (void)
{
  for (int kind = 0; kind < DEW_N_THING_KINDS; kind++)
    {
      g_autoptr (DewChamber) chamber = dew_chamber_new ();

      add (chamber, kind, "it");
      assert_no_problem (chamber);
    }
}

static void
test_check_enclosure (void)
{
  g_autoptr (DewChamber) chamber = box_new ();

  chamber->outer_m[0] = 0.001;
  assert_problem (chamber, 0, "outer_m[0]", "is 0.001 m wide inside; give 0.1 to 4 m");
  chamber->outer_m[0] = 100.0;
  assert_problem (chamber, 0, "outer_m[0]", "is 100 m wide inside; give 0.1 to 4 m");
  chamber->outer_m[0] = NAN;
  assert_problem (chamber, 0, "outer_m[0]", "width of the enclosure is not a number");
  chamber->outer_m[0] = 1.0;
  chamber->outer_m[2] = INFINITY;
  assert_problem (chamber, 0, "outer_m[2]", "height of the enclosure is infinite");
  chamber->outer_m[2] = 4.0;
  assert_no_problem (chamber);
  chamber->leak_exponent = 0.4;
  assert_problem (chamber, 0, "leak_exponent", "0.5 to 1");
  chamber->leak_exponent = 0.5;
  chamber->room.months[1].rh_day = 1.5;
  assert_problem (chamber, 0, "rh_day", "February");
  chamber->room.months[1].rh_day = 0.5;
  chamber->room.months[11].t_night_C = NAN;
  assert_problem (chamber, 0, "t_night_C", "December");
  chamber->room.months[11].t_night_C = 10.0;
  chamber->panels[DEW_FACE_ROOF].u_value_W_m2K = -1.0;
  assert_problem (chamber, 0, "u_value_W_m2K", "roof");
  chamber->panels[DEW_FACE_ROOF].u_value_W_m2K = 1.0;
  chamber->month = 12;
  assert_problem (chamber, 0, "month", "13");
}

static void
test_check_every_range (void)
{
  for (int kind = 0; kind < DEW_N_THING_KINDS; kind++)
    for (const DewField *field = dew_thing_fields (kind); field->key != NULL; field++)
      {
        const double bad[] = { NAN, INFINITY, -INFINITY, field->min - 1.0, field->max * 2 + 1.0 };
        g_autoptr (DewChamber) chamber = dew_chamber_new ();
        guint id = add (chamber, kind, "it")->id;
        DewThing *thing = dew_variant_thing (dew_chamber_shown (chamber), id);

        if (field->type == DEW_FIELD_REAL)
          for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
            {
              dew_field_set_real (field, thing, bad[i]);
              assert_problem (chamber, id, field->key, field->label);
              g_assert_false (dew_chamber_validate (chamber, NULL));
            }
        if (field->type == DEW_FIELD_CHOICE || field->type == DEW_FIELD_FLAG)
          {
            dew_field_set_int (field, thing, (int) field->max + 1);
            assert_problem (chamber, id, field->key, "no choice");
            dew_field_set_int (field, thing, -1);
            assert_problem (chamber, id, field->key, "no choice");
          }
      }
}

static void
test_check_outside (void)
{
  g_autoptr (DewChamber) chamber = box_new ();
  guint id = add (chamber, DEW_THING_FAN, "stray")->id;
  DewFan *fan = &dew_variant_thing (dew_chamber_shown (chamber), id)->fan;

  fan->x_m = 1.2;
  assert_problem (chamber, id, "x_m", "sticks out of the enclosure by 0.2 m on the right");
  fan->x_m = 0.5;
  fan->z_m = -0.3;
  assert_problem (chamber, id, "z_m", "through the floor");
  /* A fan that blows along x is thin along x: its back may touch the cover. */
  fan->z_m = 0.2;
  fan->x_m = 0.0;
  assert_no_problem (chamber);
}

static void
test_check_shelves (void)
{
  g_autoptr (DewChamber) chamber = box_new ();
  guint one = add (chamber, DEW_THING_SHELF, "one")->id;
  guint other = add (chamber, DEW_THING_SHELF, "other")->id;
  DewShelf *shelf, *second;

  shelf = &dew_variant_thing (dew_chamber_shown (chamber), one)->shelf;
  second = &dew_variant_thing (dew_chamber_shown (chamber), other)->shelf;
  assert_problem (chamber, one, "z_m", "cross");
  second->z_m = shelf->z_m + shelf->thickness_m + 0.01;
  assert_problem (chamber, one, "z_m", "only 0.01 m");
  second->z_m = 1.998;
  assert_problem (chamber, other, "z_m", "roof");
  second->z_m = 1.0;
  assert_no_problem (chamber);
  shelf->z_m = 0.0;
  assert_problem (chamber, one, "z_m", "floor");
  shelf->z_m = 0.5;
  shelf->gap_left_m = 0.6;
  shelf->gap_right_m = 0.4;
  assert_problem (chamber, one, "gap_left_m", "leave nothing");
}

static void
test_check_openings (void)
{
  g_autoptr (DewChamber) chamber = box_new ();
  guint id = add (chamber, DEW_THING_OPENING, "flap")->id;
  guint fan_id = add (chamber, DEW_THING_FAN, "wall fan")->id;
  DewOpening *opening = &dew_variant_thing (dew_chamber_shown (chamber), id)->opening;
  DewFan *fan = &dew_variant_thing (dew_chamber_shown (chamber), fan_id)->fan;

  opening->u1_m = opening->u0_m;
  assert_problem (chamber, id, "u1_m", "no size");
  opening->u1_m = opening->u0_m - 0.1;
  assert_problem (chamber, id, "u1_m", "no size");
  opening->u1_m = 1.1;
  assert_problem (chamber, id, "u0_m", "past the edge of the front face");
  opening->u1_m = 0.3;
  fan->mount = DEW_FAN_IN_WALL;
  fan->face = DEW_FACE_FRONT;
  fan->x_m = 0.2;
  fan->z_m = 0.1;
  assert_problem (chamber, id, "", "lie over each other");
  fan->face = DEW_FACE_BACK;
  assert_no_problem (chamber);
  fan->z_m = 0.05;
  assert_problem (chamber, fan_id, "x_m", "past the edge of the back face");
}

static void
test_check_standing (void)
{
  g_autoptr (DewChamber) chamber = box_new ();
  guint shelf_id = add (chamber, DEW_THING_SHELF, "shelf")->id;
  guint id = add (chamber, DEW_THING_POT, "pot")->id;
  DewShelf *shelf = &dew_variant_thing (dew_chamber_shown (chamber), shelf_id)->shelf;
  DewPot *pot = &dew_variant_thing (dew_chamber_shown (chamber), id)->pot;

  shelf->z_m = 0.5;
  shelf->gap_left_m = 0.4;
  shelf->gap_right_m = 0.4;
  pot->z_m = 0.506;
  pot->x_m = 0.5;
  pot->rim_diameter_m = 0.3;
  assert_problem (chamber, id, "rim_diameter_m", "more than the shelf");
  pot->rim_diameter_m = 0.2;
  assert_no_problem (chamber);
  pot->x_m = 0.2;
  assert_problem (chamber, id, "x_m", "over the edge");
  pot->x_m = 0.5;
  pot->z_m = 0.45;
  assert_problem (chamber, id, "z_m", "goes through the shelf");
  pot->x_m = 0.2; /* beside the shelf, through its gap */
  assert_no_problem (chamber);
}

static void
test_check_humidistat (void)
{
  g_autoptr (DewChamber) chamber = box_new ();
  guint sensor = add (chamber, DEW_THING_INSTRUMENT, "sensor")->id;
  guint id = add (chamber, DEW_THING_HUMIDIFIER, "mister")->id;
  DewHumidifier *humidifier = &dew_variant_thing (dew_chamber_shown (chamber), id)->humidifier;
  g_autoptr (GError) error = NULL;

  humidifier->set_rh = 0.8;
  humidifier->sensor_id = (int) sensor;
  assert_no_problem (chamber);
  humidifier->sensor_id = (int) id;
  assert_problem (chamber, id, "sensor_id", "is gone");
  humidifier->sensor_id = (int) sensor;
  dew_variant_remove (dew_chamber_shown (chamber), sensor);
  /* The removal moves the array: look the humidifier up again. */
  humidifier = &dew_variant_thing (dew_chamber_shown (chamber), id)->humidifier;
  assert_problem (chamber, id, "sensor_id", "is gone");
  dew_chamber_validate (chamber, &error);
  g_assert_no_error (error);
  humidifier->set_rh = 0.0;
  assert_no_problem (chamber);
}

static void
test_validate_ids (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  g_autoptr (DewChamber) copy = dew_chamber_copy (chamber);
  g_autoptr (GError) error = NULL;

  g_array_index (dew_chamber_shown (copy)->things, DewThing, 3).id
    = g_array_index (dew_chamber_shown (copy)->things, DewThing, 2).id;
  g_assert_false (dew_chamber_validate (copy, &error));
  g_assert_error (error, DEW_CHAMBER_ERROR, DEW_CHAMBER_ERROR_INVALID);
  g_assert_nonnull (strstr (error->message, "used twice"));

  g_clear_pointer (&copy, dew_chamber_free);
  copy = dew_chamber_copy (chamber);
  copy->next_id = 5;
  g_assert_false (dew_chamber_validate (copy, NULL));

  g_clear_pointer (&copy, dew_chamber_free);
  copy = dew_chamber_copy (chamber);
  copy->shown_variant = 999;
  g_assert_false (dew_chamber_validate (copy, NULL));

  g_clear_pointer (&copy, dew_chamber_free);
  copy = dew_chamber_copy (chamber);
  copy->name[0] = '\033';
  g_assert_false (dew_chamber_validate (copy, NULL));
}

/* Whatever is in it, the check ends and every message is a whole sentence. */
static void
test_check_anything (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (21);

  for (int i = 0; i < 300; i++)
    {
      g_autoptr (DewChamber) chamber = random_chamber (random);
      g_autoptr (GArray) problems = dew_chamber_check (chamber, chamber->shown_variant);

      for (guint k = 0; k < problems->len; k++)
        {
          g_autofree char *message
            = dew_problem_text (&g_array_index (problems, DewProblem, k), DEW_TONGUE_PLAIN);

          g_assert_cmpuint (strlen (message), >, 20);
          g_assert_true (g_utf8_validate (message, -1, NULL));
        }
    }
}

static void
test_demo (void)
{
  g_autoptr (DewChamber) demo = dew_chamber_demo ();
  g_autoptr (GError) error = NULL;

  dew_chamber_validate (demo, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (demo->variants->len, ==, 2);
  g_assert_nonnull (strstr (demo->note, "invented"));
  for (guint i = 0; i < demo->variants->len; i++)
    {
      g_autofree double *z_m = NULL;

      demo->shown_variant = g_array_index (demo->variants, DewVariant, i).id;
      assert_no_problem (demo);
      g_assert_cmpint (dew_variant_bays (demo, dew_chamber_shown (demo), &z_m, NULL), ==, 4);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chamber/fields", test_fields);
  g_test_add_func ("/chamber/long-text", test_long_text);
  g_test_add_func ("/chamber/copy", test_copy);
  g_test_add_func ("/chamber/equal-sees-each-field", test_equal_sees_each_field);
  g_test_add_func ("/chamber/equal-sees-fields", test_equal_sees_fields);
  g_test_add_func ("/chamber/equal-sees-wishes", test_equal_sees_wishes);
  g_test_add_func ("/chamber/wishes", test_wishes);
  g_test_add_func ("/chamber/validate-wishes", test_validate_wishes);
  g_test_add_func ("/chamber/variants", test_variants);
  g_test_add_func ("/chamber/names", test_names);
  g_test_add_func ("/chamber/shift", test_shift);
  g_test_add_func ("/chamber/check/fallbacks", test_check_fallbacks);
  g_test_add_func ("/chamber/check/enclosure", test_check_enclosure);
  g_test_add_func ("/chamber/check/every-range", test_check_every_range);
  g_test_add_func ("/chamber/check/outside", test_check_outside);
  g_test_add_func ("/chamber/check/shelves", test_check_shelves);
  g_test_add_func ("/chamber/check/openings", test_check_openings);
  g_test_add_func ("/chamber/check/standing", test_check_standing);
  g_test_add_func ("/chamber/check/humidistat", test_check_humidistat);
  g_test_add_func ("/chamber/check/anything", test_check_anything);
  g_test_add_func ("/chamber/validate-ids", test_validate_ids);
  g_test_add_func ("/chamber/demo", test_demo);
  return g_test_run ();
}
