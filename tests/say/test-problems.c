/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is wrong, in the tongue that is asked for. 1 in = 2.54 cm: NIST Special Publication
 * 811 (2008), appendix B.8. */
#include "geometry/geometry.h"
#include "say/problems.h"

#include <math.h>
#include <string.h>

static DewThing *
add (DewChamber *chamber, DewThingKind kind, const char *name)
{
  DewThing thing;

  dew_thing_init (&thing, kind);
  g_strlcpy (thing.name, name, sizeof thing.name);
  return dew_variant_add (chamber, dew_chamber_shown (chamber), &thing);
}

static DewProblem
first_problem (const DewChamber *chamber)
{
  g_autoptr (GArray) problems = dew_chamber_check (chamber, chamber->shown_variant);

  g_assert_cmpuint (problems->len, >, 0);
  return g_array_index (problems, DewProblem, 0);
}

static void
assert_said (const DewProblem *problem, DewTongue tongue, const char *wanted)
{
  g_autofree char *text = dew_problem_text (problem, tongue);

  g_assert_cmpstr (text, ==, wanted);
}

static void
test_lengths (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  double inner_m[3];
  DewThing *pot = add (chamber, DEW_THING_TRAY, "Tub");
  DewProblem problem;

  dew_chamber_inner_m (chamber, inner_m);
  pot->tray.x_m = inner_m[0] - pot->tray.width_m / 2.0 + 0.0508;
  problem = first_problem (chamber);
  g_assert_cmpint (problem.code, ==, DEW_PROBLEM_STICKS_OUT);
  g_assert_cmpint (problem.index, ==, DEW_FACE_RIGHT);
  g_assert_cmpfloat_with_epsilon (problem.value, 0.0508, 1e-9);
  assert_said (&problem, DEW_TONGUE_PLAIN,
               "The tray \"Tub\" sticks out of the enclosure by 0.0508 m on the right; move it "
               "inside");
  assert_said (&problem, DEW_TONGUE_METRIC,
               "The tray \"Tub\" sticks out of the enclosure by 5.08 cm on the right; move it "
               "inside");
  assert_said (&problem, DEW_TONGUE_IMPERIAL,
               "The tray \"Tub\" sticks out of the enclosure by 2 in on the right; move it inside");
}

static void
test_ranges (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  DewProblem problem;

  chamber->room.months[4].t_day_C = 60.0;
  problem = first_problem (chamber);
  g_assert_cmpint (problem.code, ==, DEW_PROBLEM_RANGE);
  g_assert_cmpint (problem.about, ==, DEW_ABOUT_MONTH);
  assert_said (&problem, DEW_TONGUE_METRIC,
               "The room in May: \"Temperature by day\" is 60 °C; give −30 to 50 °C");
  assert_said (&problem, DEW_TONGUE_IMPERIAL,
               "The room in May: \"Temperature by day\" is 140 °F; give −22 to 122 °F");
  chamber->room.months[4].t_day_C = NAN;
  problem = first_problem (chamber);
  assert_said (&problem, DEW_TONGUE_PLAIN,
               "The room in May: \"Temperature by day\" is not a number; give -30 to 50 °C");
}

/* Under the field of either of two shelves: what to leave to the other one. */
static void
test_here (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  guint low_id = add (chamber, DEW_THING_SHELF, "Low")->id;
  guint high_id = add (chamber, DEW_THING_SHELF, "High")->id;
  DewVariant *variant = dew_chamber_shown (chamber);
  DewShelf *low = &dew_variant_thing (variant, low_id)->shelf;
  DewShelf *high = &dew_variant_thing (variant, high_id)->shelf;
  g_autofree char *below = NULL, *above = NULL, *cross = NULL;
  DewProblem problem;

  low->z_m = 0.254;
  high->z_m = low->z_m + low->thickness_m + 0.01;
  problem = first_problem (chamber);
  g_assert_cmpint (problem.code, ==, DEW_PROBLEM_SHELVES_NEAR);
  above = dew_problem_text_here (&problem, high_id, DEW_TONGUE_METRIC);
  g_assert_cmpstr (above, ==, "Leave at least 3.0 cm above Low, which is at 25.4 cm.");
  high->z_m = 0.508;
  low->z_m = high->z_m - low->thickness_m - 0.01;
  problem = first_problem (chamber);
  below = dew_problem_text_here (&problem, low_id, DEW_TONGUE_IMPERIAL);
  g_assert_cmpstr (below, ==, "Leave at least 1.18 in below High, which is at 20.00 in.");
  low->z_m = high->z_m;
  problem = first_problem (chamber);
  cross = dew_problem_text_here (&problem, low_id, DEW_TONGUE_METRIC);
  g_assert_cmpstr (cross, ==, "This would lie in High, which is at 50.8 cm.");
}

/* Each code has a sentence of its own, whole and without what was left out. */
static void
test_every_code (void)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (int code = 0; code <= DEW_PROBLEM_SENSOR_GONE; code++)
    {
      const DewField *row = dew_thing_fields (DEW_THING_TRAY);
      DewProblem problem = { .code = (DewProblemCode) code,
                             .about = DEW_ABOUT_THING,
                             .kind = DEW_THING_TRAY,
                             .name = "Tub",
                             .other_kind = DEW_THING_SHELF,
                             .row = row,
                             .other_row = row };
      char *text = dew_problem_text (&problem, DEW_TONGUE_METRIC);

      g_test_message ("%s", text);
      g_assert_cmpuint (strlen (text), >, 20);
      g_assert_null (strstr (text, "(null)"));
      g_assert_true (g_hash_table_add (seen, text));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/problems/lengths", test_lengths);
  g_test_add_func ("/problems/ranges", test_ranges);
  g_test_add_func ("/problems/here", test_here);
  g_test_add_func ("/problems/every-code", test_every_code);
  return g_test_run ();
}
