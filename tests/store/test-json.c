/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "chamber/random-chamber.h"
#include "store/json-scan.h"
#include "store/json.h"
#include "store/store.h"
#include "say/problems.h"

#include <json-glib/json-glib.h>
#include <string.h>

/* The outside measure of these tests is RFC 8259 (JSON), IEEE 754 (numbers come
 * back exactly) and the published form in data/chamber.schema.json. */

static char *
replaced (const char *text, const char *from, const char *to)
{
  g_autoptr (GString) result = g_string_new (text);

  g_assert_cmpuint (g_string_replace (result, from, to, 1), ==, 1);
  return g_strdup (result->str);
}

/* The smallest enclosure that can be written: what has a default left out. */
static const char small[]
  = "{\n"
    "  \"format\": \"dewtier enclosure\",\n"
    "  \"version\": 1,\n"
    "  \"name\": \"Box\",\n"
    "  \"outer_m\": [0.6, 0.4, 1.2],\n"
    "  \"variants\": [ { \"id\": 1, \"name\": \"A\", \"things\": [\n"
    "    { \"id\": 2, \"type\": \"fan\", \"name\": \"F\", \"x_m\": 0.2, \"y_m\": 0.2,\n"
    "      \"z_m\": 0.3, \"diameter_m\": 0.08 }\n"
    "  ] } ]\n"
    "}\n";

/* --- round trips ------------------------------------------------------- */

static void
test_round_trip (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (30);

  for (int i = 0; i < 300; i++)
    {
      g_autoptr (DewChamber) chamber = random_chamber (random);
      g_autofree char *text = dew_json_from_chamber (chamber);
      g_autoptr (GError) error = NULL;
      g_autoptr (DewChamber) back = dew_json_to_chamber (text, -1, &error);
      g_autofree char *again = NULL;

      g_assert_no_error (error);
      g_assert_true (dew_chamber_equal (chamber, back));
      again = dew_json_from_chamber (back);
      g_assert_cmpstr (text, ==, again);
    }
}

/* Shortest decimals that read back exactly: 0.1 stays 0.1, and what needs 17
 * digits gets them (IEEE 754-2019, 5.12.2). */
static void
test_numbers (void)
{
  static const struct
  {
    double value;
    const char *text;
  } rows[] = {
    { 0.1, "0.1" },
    { 0.7, "0.7" },
    { 1.0 / 3.0, "0.3333333333333333" },
    { 0.1 + 0.2, "0.30000000000000004" },
    { 5e-324, "5e-324" },
    { 25.0, "25" },
    { 1e22, "1e+22" },
    { 2.5e-06, "2.5e-06" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      DewJson *json = dew_json_new ();
      g_autofree char *expected = g_strdup_printf ("{\n  \"x\": %s\n}\n", rows[i].text);
      g_autofree char *out = NULL;

      dew_json_real (json, "x", rows[i].value);
      out = dew_json_finish (json);
      g_assert_cmpstr (out, ==, expected);
      g_assert_cmpfloat (g_ascii_strtod (rows[i].text, NULL), ==, rows[i].value);
    }
}

static void
test_defaults (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewChamber) chamber = dew_json_to_chamber (small, -1, &error);
  g_autoptr (DewChamber) plain = dew_chamber_new ();
  DewThing typical;
  const DewThing *fan;

  g_assert_no_error (error);
  dew_thing_init (&typical, DEW_THING_FAN);
  fan = &g_array_index (dew_chamber_shown (chamber)->things, DewThing, 0);
  g_assert_cmpfloat (fan->fan.diameter_m, ==, 0.08);
  g_assert_cmpfloat (fan->fan.free_delivery_m3_s, ==, typical.fan.free_delivery_m3_s);
  g_assert_cmpuint (chamber->next_id, ==, 3);
  g_assert_cmpint (chamber->month, ==, 0);
  g_assert_cmpfloat (chamber->room.months[6].t_day_C, ==, plain->room.months[6].t_day_C);
  g_assert_cmpstr (chamber->note, ==, "");
}

/* A species that nobody knows is kept; it may be known tomorrow. */
static void
test_unknown_species (void)
{
  g_autofree char *text
    = replaced (small, "\"name\": \"Box\"",
                "\"name\": \"Box\", \"wishes\": [ { \"id\": 9, \"species\": \"Moon lily\" } ]");
  g_autoptr (GError) error = NULL;
  g_autoptr (DewChamber) chamber = dew_json_to_chamber (text, -1, &error);
  const DewWish *wish;
  DewPlantKind kind;

  g_assert_no_error (error);
  g_assert_cmpuint (chamber->wishes->len, ==, 1);
  g_assert_cmpuint (chamber->next_id, ==, 10);
  wish = dew_chamber_wish (chamber, 9);
  g_assert_cmpstr (wish->species, ==, "Moon lily");
  g_assert_cmpint (wish->count, ==, 1);
  g_assert_false (dew_catalogue_plant_kind (wish->species, &kind, chamber));
}

/* What a document of version 1 could not say has its fallback. */
static void
test_version_1 (void)
{
  g_autofree char *plant = replaced (small, "\"type\": \"fan\", \"name\": \"F\",",
                                     "\"type\": \"plant\", \"name\": \"P\",");
  g_autofree char *text = replaced (plant, "\"diameter_m\": 0.08", "\"width_m\": 0.08");
  g_autoptr (GError) error = NULL;
  g_autoptr (DewChamber) chamber = dew_json_to_chamber (text, -1, &error);
  const DewThing *thing;

  g_assert_no_error (error);
  g_assert_cmpuint (chamber->wishes->len, ==, 0);
  g_assert_cmpuint (chamber->kinds->len, ==, 0);
  thing = &g_array_index (dew_chamber_shown (chamber)->things, DewThing, 0);
  g_assert_cmpint (thing->plant.state, ==, DEW_PLANT_HEALTHY);
  g_assert_false (thing->plant.keep_place);
  g_assert_cmpfloat (thing->plant.pot_diameter_m, ==, 0.08);
}

/* Before version 3 the kind of leaf followed from name and group. */
static void
test_version_2 (void)
{
  g_autofree char *kinds
    = replaced (small, "\"variants\":",
                "\"plant_kinds\": [{ \"name\": \"Moon lily\", \"group\": \"orchid cool\" }],"
                "\"variants\":");
  g_autofree char *old = replaced (kinds, "\"version\": 1", "\"version\": 2");
  g_autofree char *new = replaced (kinds, "\"version\": 1", "\"version\": 3");
  g_autoptr (DewChamber) from_old = dew_json_to_chamber (old, -1, NULL);
  g_autoptr (DewChamber) from_new = dew_json_to_chamber (new, -1, NULL);

  g_assert_cmpint (dew_chamber_kind (from_old, "Moon lily")->leaf, ==, DEW_LEAF_THIN_ORCHID);
  g_assert_cmpint (dew_chamber_kind (from_new, "Moon lily")->leaf, ==, DEW_LEAF_HERB);
}

/* --- things on their way ----------------------------------------------- */

static void
test_things (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (31);

  for (int i = 0; i < 100; i++)
    {
      g_autoptr (DewChamber) chamber = random_chamber (random);
      const DewVariant *variant = dew_chamber_shown (chamber);
      guint n = variant->things->len;
      g_autofree guint *ids = g_new0 (guint, n + 1);
      g_autofree char *text = NULL;
      g_autoptr (GArray) things = NULL;
      g_autoptr (GError) error = NULL;

      for (guint k = 0; k < n; k++)
        ids[k] = g_array_index (variant->things, DewThing, k).id;
      text = dew_things_to_text (chamber, variant, ids, n);
      things = dew_things_from_text (text, -1, &error);
      if (n == 0)
        {
          g_assert_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT);
          continue;
        }
      g_assert_no_error (error);
      g_assert_cmpuint (things->len, ==, n);
      g_array_set_size (dew_chamber_shown (chamber)->things, 0);
      g_array_append_vals (dew_chamber_shown (chamber)->things, things->data, things->len);
      {
        g_autofree char *again = dew_things_to_text (chamber, variant, ids, n);

        g_assert_cmpstr (text, ==, again);
      }
    }
}

static void
assert_things_refused (const char *text, gssize length, const char *part)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) things = dew_things_from_text (text, length, &error);

  g_assert_null (things);
  g_assert_nonnull (error);
  g_assert_true (error->domain == DEW_STORE_ERROR);
  g_assert_null (strchr (error->message, '\n'));
  if (strstr (error->message, part) == NULL)
    g_error ("'%s' is not in '%s'", part, error->message);
}

static void
test_things_refused (void)
{
  static const char whole[]
    = "{ \"format\": \"dewtier things\", \"version\": 1, \"things\": [\n"
      "  { \"id\": 4, \"type\": \"fan\", \"name\": \"F\", \"x_m\": 0.2, \"y_m\": 0.2, \"z_m\": 0.3 "
      "},\n"
      "  { \"id\": 5, \"type\": \"wet_pot\", \"name\": \"P\", \"x_m\": 0.2, \"y_m\": 0.2,\n"
      "    \"z_m\": 0 } ] }";
  static const struct
  {
    const char *from, *to, *message;
  } rows[] = {
    { "\"id\": 5", "\"id\": 4", "used twice" },
    { "\"id\": 5", "\"id\": 0", "things[1].id: is 0; give 1 to" },
    { "\"x_m\": 0.2", "\"x_m\": 1e9", "things[0].x_m: is 1000000000; give -10 to 10" },
    { "\"x_m\": 0.2", "\"x_m\": 1e999", "things[0].x_m: the number is too large" },
    { "\"x_m\": 0.2", "\"x_m\": \"left\"", "things[0].x_m: is a text; give a number" },
    { "\"type\": \"fan\"", "\"type\": \"window\"", "\"window\" is unknown" },
    { "\"type\": \"fan\"", "\"type\": \"shelf\"", "x_m: the key is unknown" },
    { "\"name\": \"F\"", "\"name\": \"\\u001b]0;\"", "control character" },
    { "dewtier things", "dewtier enclosure", "this is some other JSON" },
    { "\"version\": 1", "\"version\": 2", "a later version" },
    { "\"version\": 1, ", "", "version: is missing" },
    { "\"version\": 1", "\"version\": 1, \"script\": \"rm\"", "script: the key is unknown" },
  };
  static const char *const texts[][2] = {
    { "", "ends too early" },
    { "a shopping list", "neither" },
    { "[1, 2, 3]", "holds a list" },
    { "null", "holds null" },
    { "{}", "format: is missing" },
    { "{\"format\":\"dewtier things\",\"version\":1,\"things\":[]}", "nothing to paste" },
    { "{\"format\":\"dewtier things\",\"version\":1,\"things\":7}", "things: is a number" },
    { "{\"format\":\"dewtier things\",\"version\":1,\"things\":[null]}", "things[0]: is null" },
    { "\xff\xfe{}", "UTF-8" },
    { "[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[", "nested" },
  };
  g_autoptr (GArray) good = dew_things_from_text (whole, -1, NULL);
  g_autoptr (GString) many = g_string_new ("{\"format\":\"dewtier things\",\"version\":1,"
                                           "\"things\":[");
  g_autofree char *large = NULL;

  g_assert_nonnull (good);
  g_assert_cmpuint (good->len, ==, 2);
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *text = replaced (whole, rows[i].from, rows[i].to);

      assert_things_refused (text, -1, rows[i].message);
    }
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    assert_things_refused (texts[i][0], -1, texts[i][1]);
  /* Cut off anywhere. */
  for (gsize length = 0; length + 1 < sizeof whole - 1; length++)
    assert_things_refused (whole, (gssize) length, "");

  for (int i = 1; i <= 2001; i++)
    g_string_append_printf (many,
                            "%s{\"id\":%d,\"type\":\"instrument\",\"name\":\"\",\"x_m\":0,"
                            "\"y_m\":0,\"z_m\":0}",
                            i > 1 ? "," : "", i);
  g_string_append (many, "]}");
  assert_things_refused (many->str, -1, "give 2000 at most");
  large = g_malloc (5 * 1024 * 1024);
  memset (large, ' ', 5 * 1024 * 1024);
  assert_things_refused (large, 5 * 1024 * 1024, "larger than 4 MB");
}

/* --- what is refused --------------------------------------------------- */

static void
assert_refused (const char *text, gssize length, const char *part)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewChamber) chamber = dew_json_to_chamber (text, length, &error);

  g_assert_null (chamber);
  g_assert_nonnull (error);
  g_assert_true (error->domain == DEW_STORE_ERROR);
  if (strstr (error->message, part) == NULL)
    g_error ("'%s' is not in '%s'", part, error->message);
}

static void
test_refused (void)
{
  static const struct
  {
    const char *from, *to, *message;
  } rows[] = {
    { "\"diameter_m\": 0.08", "\"diameter_m\": \"0.08\"",
      "variants[0].things[0].diameter_m: is a text; give a number" },
    { "\"diameter_m\": 0.08", "\"diameter_m\": null",
      "variants[0].things[0].diameter_m: is null; give a number" },
    { "\"diameter_m\": 0.08", "\"diameter_m\": [0.08]", "diameter_m: is a list" },
    { "\"diameter_m\": 0.08", "\"diameter_m\": true", "diameter_m: is true or false" },
    { "\"diameter_m\": 0.08", "\"diameter_m\": 80",
      "variants[0].things[0].diameter_m: is 80; give 0.01 to 0.6" },
    { "\"diameter_m\": 0.08", "\"diameter_m\": 1e400", "diameter_m: the number is too large" },
    { "\"diameter_m\": 0.08", "\"diameter_m\": -1e400", "diameter_m: the number is too large" },
    { "\"diameter_m\": 0.08", "\"diameter_m\": NaN", "line 8: neither" },
    { "\"diameter_m\": 0.08", "\"diameter_m\": 0x1", "line 8: a comma" },
    { "\"diameter_m\": 0.08", "\"diameter_m\": .08", "line 8: neither" },
    { "\"diameter_m\": 0.08", "\"diameter_m\": 00.08", "starts with a zero" },
    { "\"diameter_m\": 0.08", "\"diameter_mm\": 80",
      "variants[0].things[0].diameter_mm: the key is unknown" },
    { "\"diameter_m\": 0.08", "\"x_m\": 0.2", "line 8: a key is there twice" },
    { "\"diameter_m\": 0.08", "\"mount\": \"wall\"",
      "mount: \"wall\" is unknown; give one of: free, in_wall" },
    { "\"diameter_m\": 0.08", "\"mount\": 1", "mount: is a number" },
    { "\"diameter_m\": 0.08", "\"low_voltage\": 1", "low_voltage: is a number; give true" },
    { "\"x_m\": 0.2, ", "", "variants[0].things[0].x_m: is missing" },
    { "\"type\": \"fan\"", "\"type\": \"rocket\"",
      "variants[0].things[0].type: \"rocket\" is unknown" },
    { "\"type\": \"fan\", ", "", "variants[0].things[0].type: is missing" },
    { "\"id\": 2", "\"id\": 1", "used twice" },
    { "\"id\": 2", "\"id\": 0", "variants[0].things[0].id: is 0; give 1 to" },
    { "\"id\": 2", "\"id\": 2.5", "id: is not a whole number" },
    { "\"id\": 2", "\"id\": 18446744073709551618", "variants[0].things[0].id: " },
    { "\"id\": 2", "\"id\": 1e300", "variants[0].things[0].id: " },
    { "[0.6, 0.4, 1.2]", "[0.001, 0.4, 1.2]", "outer_m[0]: is 0.001; give 0.1 to 4.6" },
    { "[0.6, 0.4, 1.2]", "[100, 0.4, 1.2]", "outer_m[0]: is 100; give 0.1 to 4.6" },
    { "[0.6, 0.4, 1.2]", "[0.1, 0.4, 1.2]", "wide inside; give 0.1 to 4 m" },
    { "[0.6, 0.4, 1.2]", "[0.6, 0.4]", "outer_m: has 2 numbers; give 3" },
    { "[0.6, 0.4, 1.2]", "[0.6, \"0.4\", 1.2]", "outer_m[1]: is a text" },
    { "[0.6, 0.4, 1.2]", "0.6", "outer_m: is a number; give a list" },
    { "\"name\": \"Box\"", "\"name\": 3", "name: is a number; give a text" },
    { "\"name\": \"Box\"", "\"name\": \"\\u001b[2J\"", "control character" },
    { "\"name\": \"Box\"", "\"name\": \"a\\u0000b\"", "zero character" },
    { "\"name\": \"Box\"", "\"name\": \"Box\", \"colour\": 1", "colour: the key is unknown" },
    { "\"name\": \"Box\"", "\"name\": \"Box\", \"month\": 13", "month: is 13; give 1 to 12" },
    { "\"name\": \"Box\"", "\"name\": \"Box\", \"month\": 1.5", "month: is not a whole number" },
    { "\"name\": \"Box\"", "\"name\": \"Box\", \"next_id\": 2", "next_id: is 2; give 3 to" },
    { "\"name\": \"Box\"", "\"name\": \"Box\", \"shown_variant\": 7", "number 7" },
    { "\"name\": \"Box\"", "\"name\": \"Box\", \"panels\": { \"lid\": {} }",
      "panels.lid: the key is unknown" },
    { "\"name\": \"Box\"", "\"name\": \"Box\", \"panels\": { \"roof\": { \"slope_rad\": 2 } }",
      "panels.roof.slope_rad: is 2; give 0 to 1.4" },
    { "\"name\": \"Box\"", "\"name\": \"Box\", \"room\": {}", "room.t_day_C: is missing" },
    { "\"version\": 1", "\"version\": 5", "written by a later version" },
    { "\"version\": 1", "\"version\": \"1\"", "version: is a text" },
    { "dewtier enclosure", "other", "format: is not" },
    { "\"name\": \"Box\"", "\"name\": \"Box\", \"wishes\": {}",
      "wishes: is an object; give a list" },
    { "\"name\": \"Box\"", "\"name\": \"Box\", \"wishes\": [ {} ]", "wishes[0].id: is missing" },
    { "\"name\": \"Box\"", "\"name\": \"Box\", \"wishes\": [ { \"id\": 2 } ]", "used twice" },
    { "\"name\": \"Box\"", "\"name\": \"Box\", \"wishes\": [ { \"id\": 3, \"count\": 0 } ]",
      "wishes[0].count: is 0; give 1 to 500" },
    { "\"name\": \"Box\"", "\"name\": \"Box\", \"wishes\": [ { \"id\": 3, \"count\": 1000000 } ]",
      "wishes[0].count: is 1000000; give 1 to 500" },
    { "\"name\": \"Box\"", "\"name\": \"Box\", \"wishes\": [ { \"id\": 3, \"count\": 1.5 } ]",
      "wishes[0].count: is not a whole number" },
    { "\"name\": \"Box\"", "\"name\": \"Box\", \"wishes\": [ { \"id\": 3, \"state\": \"dead\" } ]",
      "wishes[0].state: \"dead\" is unknown; give one of: healthy, weak, arrived" },
    { "\"name\": \"Box\"",
      "\"name\": \"Box\", \"wishes\": [ { \"id\": 3, \"pot_diameter_m\": 7 } ]",
      "wishes[0].pot_diameter_m: is 7; give 0 to 1" },
    { "\"name\": \"Box\"", "\"name\": \"Box\", \"plant_kinds\": [ {} ]",
      "plant_kinds[0].name: is missing" },
    { "\"name\": \"Box\"", "\"name\": \"Box\", \"plant_kinds\": [ { \"name\": \"\" } ]",
      "has no name" },
    { "\"name\": \"Box\"",
      "\"name\": \"Box\", \"plant_kinds\": [ { \"name\": \"K\" }, { \"name\": \"K\" } ]",
      "\"K\" is there twice" },
    { "\"name\": \"Box\"",
      "\"name\": \"Box\", \"plant_kinds\": [ { \"name\": \"K\", \"t_night_min_C\": 19 } ]",
      "\"By night at least\" is 19 \302\260C, but \"By night best\" only 13 \302\260C" },
    { "\"name\": \"Box\"",
      "\"name\": \"Box\", \"plant_kinds\": [ { \"name\": \"K\", \"ppfd_lo_mol_m2s\": 0.001 } ]",
      "\"Light at least\"" },
    { "\"name\": \"Box\"",
      "\"name\": \"Box\", \"plant_kinds\": [ { \"name\": \"K\", \"colour\": 1 } ]",
      "plant_kinds[0].colour: the key is unknown" },
    { "\"variants\": [", "\"variants\": [ 5, ", "variants[0]: is a number; give an object" },
    { "] } ]\n}", "] } ]\n", "ends too early" },
    { "] } ]\n}", "] } ]\n} x", "more text after the end" },
    { "\"version\": 1,", "\"version\": 1, // one\n", "a key in quotes is missing" },
    { "\"name\": \"Box\",", "\"name\": \"Box\" ", "a comma" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *text = replaced (small, rows[i].from, rows[i].to);

      assert_refused (text, -1, rows[i].message);
    }
}

static void
test_refused_whole (void)
{
  g_autoptr (GString) deep = g_string_new (NULL);
  g_autofree char *no_variants = NULL;
  g_autofree char *long_name = NULL;
  g_autofree char *name = g_strnfill (64, 'x');

  assert_refused ("", -1, "ends too early");
  assert_refused ("[]", -1, "give an object");
  assert_refused ("{}", -1, "format: is missing");
  assert_refused ("\377\376{}", -1, "not UTF-8");
  assert_refused ("{\0}", 3, "not UTF-8");
  for (int i = 0; i < 200000; i++)
    g_string_append_c (deep, '[');
  assert_refused (deep->str, -1, "nested too deep");

  no_variants = g_strdup (small);
  strcpy (strstr (no_variants, "[ { \"id\": 1"), "[] }");
  assert_refused (no_variants, -1, "There are 0 variants");
  long_name = replaced (small, "Box", name);
  assert_refused (long_name, -1, "name: is longer than 63 bytes");
}

/* A file may be cut anywhere, or have a byte changed: it is refused or read,
 * never a crash. */
static void
test_broken_text (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (31);
  g_autoptr (DewChamber) demo = dew_chamber_demo ();
  g_autofree char *text = dew_json_from_chamber (demo);
  gsize length = strlen (text);

  for (gsize cut = 0; cut + 2 < length; cut += 97)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (dew_json_to_chamber (text, (gssize) cut, &error));
      g_assert_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT);
    }
  for (int i = 0; i < 2000; i++)
    {
      g_autofree char *bad = g_memdup2 (text, length + 1);
      g_autoptr (GError) error = NULL;
      g_autoptr (DewChamber) chamber = NULL;

      bad[g_rand_int_range (random, 0, (int) length)] = (char) g_rand_int_range (random, 0, 256);
      chamber = dew_json_to_chamber (bad, (gssize) length, &error);
      g_assert_true ((chamber != NULL) != (error != NULL));
      if (chamber != NULL)
        g_assert_true (dew_chamber_validate (chamber, NULL));
    }
}

/* --- the schema -------------------------------------------------------- */

static JsonObject *
definition (JsonNode *root, const char *name)
{
  JsonObject *all = json_object_get_object_member (json_node_get_object (root), "$defs");

  g_assert_true (json_object_has_member (all, name));
  return json_object_get_object_member (all, name);
}

/* The properties are the fields and `more` others. */
static void
check_properties (JsonObject *definition, const DewField *fields, guint more)
{
  JsonObject *properties = json_object_get_object_member (definition, "properties");
  guint n = 0;

  for (const DewField *field = fields; field->key != NULL; field++, n++)
    {
      JsonObject *property;

      g_assert_true (json_object_has_member (properties, field->key));
      property = json_object_get_object_member (properties, field->key);
      if (field->type == DEW_FIELD_REAL || field->type == DEW_FIELD_COUNT)
        {
          g_assert_cmpfloat (json_object_get_double_member (property, "minimum"), ==, field->min);
          g_assert_cmpfloat (json_object_get_double_member (property, "maximum"), ==, field->max);
          g_assert_true (json_object_has_member (property, "default")
                         != dew_json_field_required (field));
          if (!dew_json_field_required (field))
            g_assert_cmpfloat (json_object_get_double_member (property, "default"), ==,
                               field->fallback);
        }
      else if (field->type == DEW_FIELD_CHOICE)
        {
          JsonArray *choices = json_object_get_array_member (property, "enum");

          g_assert_cmpuint (json_array_get_length (choices), ==, (guint) field->max + 1);
          for (guint i = 0; i < json_array_get_length (choices); i++)
            g_assert_cmpstr (json_array_get_string_element (choices, i), ==, field->choices[i]);
          g_assert_cmpstr (json_object_get_string_member (property, "default"), ==,
                           field->choices[(int) field->fallback]);
        }
      else if (field->type == DEW_FIELD_FLAG)
        g_assert_cmpint (json_object_get_boolean_member (property, "default"), ==,
                         field->fallback != 0.0);
    }
  g_assert_cmpuint (json_object_get_size (properties), ==, n + more);
}

static void
check_definition (JsonNode *root, const char *name, const DewField *fields, guint more)
{
  check_properties (definition (root, name), fields, more);
}

static void
check_list (JsonObject *definition, const char *key, const DewField *field, int n)
{
  JsonObject *properties = json_object_get_object_member (definition, "properties");
  JsonObject *list = json_object_get_object_member (properties, key);
  JsonObject *items = json_object_get_object_member (list, "items");

  g_assert_cmpfloat (json_object_get_double_member (items, "minimum"), ==, field->min);
  g_assert_cmpfloat (json_object_get_double_member (items, "maximum"), ==, field->max);
  g_assert_cmpint (json_object_get_int_member (list, "minItems"), ==, n);
  g_assert_cmpint (json_object_get_int_member (list, "maxItems"), ==, n);
}

static void
test_schema (void)
{
  g_autofree char *path
    = g_build_filename (DEW_TESTS_DIR, "..", "data", "chamber.schema.json", NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GError) error = NULL;
  JsonNode *root;

  json_parser_load_from_file (parser, path, &error);
  g_assert_no_error (error);
  root = json_parser_get_root (parser);
  for (int kind = 0; kind < DEW_N_THING_KINDS; kind++)
    check_definition (root, dew_thing_kind_key (kind), dew_thing_fields (kind), 3);
  check_properties (json_node_get_object (root), dew_enclosure_fields () + DEW_N_OUTER_FIELDS, 11);
  check_list (json_node_get_object (root), "outer_m", dew_enclosure_fields (), DEW_N_OUTER_FIELDS);
  for (const DewField *field = dew_month_fields (); field->key != NULL; field++)
    check_list (definition (root, "room"), field->key, field, 12);
  check_definition (root, "panel", dew_panel_fields (), 0);
  check_definition (root, "room", dew_room_fields (), 4);
  check_definition (root, "wish", dew_wish_fields (), 1);
  check_definition (root, "plant_kind", dew_plant_kind_fields (), 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/json/round-trip", test_round_trip);
  g_test_add_func ("/json/numbers", test_numbers);
  g_test_add_func ("/json/defaults", test_defaults);
  g_test_add_func ("/json/refused", test_refused);
  g_test_add_func ("/json/refused-whole", test_refused_whole);
  g_test_add_func ("/json/broken-text", test_broken_text);
  g_test_add_func ("/json/schema", test_schema);
  g_test_add_func ("/json/unknown-species", test_unknown_species);
  g_test_add_func ("/json/version-1", test_version_1);
  g_test_add_func ("/json/version-2", test_version_2);
  g_test_add_func ("/json/things", test_things);
  g_test_add_func ("/json/things-refused", test_things_refused);
  return g_test_run ();
}
