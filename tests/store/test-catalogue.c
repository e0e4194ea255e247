/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/store.h"
#include "say/problems.h"

#include <math.h>
#include <string.h>

/* The tables are the outside measure here. What stops the build is in tests/store/generate.py. */

static const char *
cell (const char *catalogue, guint row, const char *column)
{
  return dew_catalogue_text (dew_catalogue (catalogue), row, column);
}

static double
number (const char *catalogue, guint row, const char *column)
{
  return dew_catalogue_number (dew_catalogue (catalogue), row, column);
}

/* --- every table ------------------------------------------------------- */

/* What a column holds follows from its name: a unit at its end means numbers. */
static gboolean
is_numeric (const char *column)
{
  static const char *const ends[] = { "_mm",       "_cm",
                                      "_cm2",      "_C",
                                      "_pct",      "_W",
                                      "_Pa",       "_kg",
                                      "_m3_h",     "_mL_h",
                                      "_L",        "_um",
                                      "_dBA",      "_m_s",
                                      "_g_h",      "_m2K_W",
                                      "_W_m2K",    "_kg_m2",
                                      "_g_m3",     "_umol_J",
                                      "_umol_m2s", "_g_m2_day",
                                      "cd_lo",     "cd_typ",
                                      "cd_hi",     "loss_coefficient" };

  for (guint i = 0; i < G_N_ELEMENTS (ends); i++)
    if (g_str_has_suffix (column, ends[i]))
      return TRUE;
  return FALSE;
}

static gboolean
is_text (const char *column)
{
  static const char *const texts[] = { "name",
                                       "kind",
                                       "source",
                                       "standing",
                                       "note",
                                       "supply",
                                       "low_voltage",
                                       "technology",
                                       "self_limiting",
                                       "board",
                                       "drips_through",
                                       "cd_on",
                                       "applies_to",
                                       "surface",
                                       "group",
                                       "also",
                                       "air",
                                       "light",
                                       "leaf",
                                       "wet_crown",
                                       "growth",
                                       "watering",
                                       "safety",
                                       "room",
                                       "climate",
                                       "month",
                                       "quantity",
                                       "unit",
                                       "lo",
                                       "hi",
                                       "key",
                                       "reference",
                                       "subject",
                                       "cover",
                                       "sides",
                                       "shelf",
                                       "shelf_heights",
                                       "openings",
                                       NULL };

  return g_strv_contains (texts, column);
}

static void
test_rows_parse (void)
{
  const char *const *names = dew_catalogue_names ();

  for (guint i = 0; names[i] != NULL; i++)
    {
      const DewCatalogue *catalogue = dew_catalogue (names[i]);
      const char *const *columns = dew_catalogue_columns (catalogue);

      g_assert_cmpuint (dew_catalogue_rows (catalogue), >, 10);
      for (guint c = 0; columns[c] != NULL; c++)
        {
          g_assert_true (is_numeric (columns[c]) != is_text (columns[c]));
          for (guint row = 0; row < dew_catalogue_rows (catalogue); row++)
            {
              const char *text = dew_catalogue_text (catalogue, row, columns[c]);

              if (is_numeric (columns[c]) && text[0] != '\0')
                g_assert_true (isfinite (dew_catalogue_number (catalogue, row, columns[c])));
            }
        }
    }
  g_assert_null (dew_catalogue ("elephants"));
}

/* Names are keys of documents: unique, and short enough for a field. */
static void
test_names (void)
{
  const char *const *names = dew_catalogue_names ();

  for (guint i = 0; names[i] != NULL; i++)
    {
      const DewCatalogue *catalogue = dew_catalogue (names[i]);

      if (!g_strv_contains (dew_catalogue_columns (catalogue), "name"))
        continue;
      for (guint row = 0; row < dew_catalogue_rows (catalogue); row++)
        {
          const char *name = dew_catalogue_text (catalogue, row, "name");

          g_assert_cmpuint (strlen (name), >, 0);
          g_assert_cmpuint (strlen (name), <, DEW_NAME_SIZE);
          g_assert_cmpint (dew_catalogue_find (catalogue, name), ==, (int) row);
        }
      g_assert_cmpint (dew_catalogue_find (catalogue, "no such row"), ==, -1);
    }
}

static void
check_ordered (const char *catalogue, const char *low, const char *middle, const char *high)
{
  for (guint row = 0; row < dew_catalogue_rows (dew_catalogue (catalogue)); row++)
    {
      double lo = number (catalogue, row, low);
      double typ = number (catalogue, row, middle);
      double hi = number (catalogue, row, high);

      if (isnan (lo) && isnan (typ) && isnan (hi))
        continue;
      if (!(lo <= typ && typ <= hi))
        g_error ("%s row %u: %s %g, %s %g, %s %g", catalogue, row, low, lo, middle, typ, high, hi);
    }
}

static void
test_ranges (void)
{
  check_ordered ("covers", "leak_lo_cm2", "leak_typ_cm2", "leak_hi_cm2");
  check_ordered ("fans", "flow_lo_m3_h", "flow_typ_m3_h", "flow_hi_m3_h");
  check_ordered ("humidifiers", "output_lo_mL_h", "output_typ_mL_h", "output_hi_mL_h");
  check_ordered ("humidifiers", "droplet_lo_um", "droplet_typ_um", "droplet_hi_um");
  check_ordered ("shelves", "open_lo_pct", "open_typ_pct", "open_hi_pct");
  check_ordered ("vents", "cd_lo", "cd_typ", "cd_hi");
  check_ordered ("vents", "free_lo_pct", "free_typ_pct", "free_hi_pct");
  check_ordered ("lamps", "efficacy_lo_umol_J", "efficacy_typ_umol_J", "efficacy_hi_umol_J");
  check_ordered ("plants", "t_day_min_C", "t_day_ideal_C", "t_day_max_C");
  check_ordered ("plants", "t_night_min_C", "t_night_ideal_C", "t_night_max_C");
  check_ordered ("plants", "rh_min_pct", "rh_ideal_pct", "rh_max_pct");
  check_ordered ("plants", "speed_lo_m_s", "speed_hi_m_s", "speed_hi_m_s");
  check_ordered ("plants", "ppfd_lo_umol_m2s", "ppfd_hi_umol_m2s", "ppfd_hi_umol_m2s");
}

static void
test_plants (void)
{
  for (guint row = 0; row < dew_catalogue_rows (dew_catalogue ("plants")); row++)
    {
      /* Cool growers want nights no warmer than days. */
      g_assert_cmpfloat (number ("plants", row, "t_night_ideal_C"), <=,
                         number ("plants", row, "t_day_ideal_C"));
      g_assert_cmpfloat (number ("plants", row, "rh_max_pct"), <=, 100.0);
      g_assert_cmpfloat (number ("plants", row, "height_cm"), >, 0.0);
      g_assert_cmpfloat (number ("plants", row, "spread_cm"), >, 0.0);
    }
}

static void
test_rooms (void)
{
  const DewCatalogue *rooms = dew_catalogue ("rooms");

  for (guint row = 0; row < dew_catalogue_rows (rooms); row++)
    {
      double t = number ("rooms", row, "t_day_C");
      double rh = number ("rooms", row, "rh_day_pct") / 100.0;
      double vapour = number ("rooms", row, "vapour_g_m3");
      /* Vapour density by the Magnus form, WMO-No. 8 (2018) annex 4.B. */
      double p_w = rh * 611.2 * exp (17.62 * t / (243.12 + t));
      double expected = 1000.0 * p_w / (461.5 * (t + 273.15));

      g_assert_cmpfloat (number ("rooms", row, "t_night_C"), <=, t);
      /* The table gives whole percents and half degrees. */
      if (fabs (vapour - expected) > 0.03 * expected + 0.1)
        g_error ("rooms row %u: %g g/m3, expected %g", row, vapour, expected);
    }
}

/* --- applying ---------------------------------------------------------- */

static void
assert_fits (const char *catalogue, DewThingKind kind, guint row)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  g_autoptr (GArray) problems = NULL;
  DewVariant *variant = dew_chamber_shown (chamber);
  DewThing thing;

  /* Large enough for the largest, with the thing in the middle of it. */
  chamber->outer_m[0] = chamber->outer_m[1] = chamber->outer_m[2] = 3.0;
  dew_thing_init (&thing, kind);
  dew_catalogue_apply_thing (dew_catalogue (catalogue), row, &thing);
  for (const DewField *field = dew_thing_fields (kind); field->key != NULL; field++)
    if (strcmp (field->key, "x_m") == 0 || strcmp (field->key, "y_m") == 0
        || strcmp (field->key, "z_m") == 0)
      dew_field_set_real (field, &thing, 1.5);
  dew_variant_add (chamber, variant, &thing);
  problems = dew_chamber_check (chamber, variant->id);
  if (problems->len > 0)
    g_error ("%s row %u: %s", catalogue, row,
             dew_problem_text (&g_array_index (problems, DewProblem, 0), DEW_TONGUE_PLAIN));
}

static void
test_apply_all (void)
{
  static const struct
  {
    const char *catalogue;
    DewThingKind kind;
  } pairs[] = {
    { "shelves", DEW_THING_SHELF }, { "vents", DEW_THING_OPENING },
    { "fans", DEW_THING_FAN },      { "humidifiers", DEW_THING_HUMIDIFIER },
    { "pots", DEW_THING_POT },      { "pots", DEW_THING_TRAY },
    { "lamps", DEW_THING_LAMP },    { "plants", DEW_THING_PLANT },
  };

  for (guint i = 0; i < G_N_ELEMENTS (pairs); i++)
    for (guint row = 0; row < dew_catalogue_rows (dew_catalogue (pairs[i].catalogue)); row++)
      assert_fits (pairs[i].catalogue, pairs[i].kind, row);

  for (guint row = 0; row < dew_catalogue_rows (dew_catalogue ("covers")); row++)
    {
      g_autoptr (DewChamber) chamber = dew_chamber_new ();
      g_autoptr (GArray) problems = NULL;

      for (int face = 0; face < DEW_N_FACES; face++)
        dew_catalogue_apply_panel (row, &chamber->panels[face]);
      problems = dew_chamber_check (chamber, chamber->shown_variant);
      g_assert_cmpuint (problems->len, ==, 0);
      g_assert_cmpstr (chamber->panels[0].material, ==, cell ("covers", row, "name"));
    }
}

static guint
row_of (const char *catalogue, const char *name)
{
  int row = dew_catalogue_find (dew_catalogue (catalogue), name);

  g_assert_cmpint (row, >=, 0);
  return (guint) row;
}

/* Units: 65 m3/h is 0.01806 m3/s, 180 mL/h of water 50 mg/s, 3 um 3e-6 m. */
static void
test_apply_units (void)
{
  DewThing thing;
  DewPanel panel = { .slope_rad = 0.3 };

  dew_thing_init (&thing, DEW_THING_FAN);
  thing.fan.low_voltage = FALSE;
  dew_catalogue_apply_thing (dew_catalogue ("fans"), row_of ("fans", "axial 120 mm slow"), &thing);
  g_assert_cmpfloat_with_epsilon (thing.fan.free_delivery_m3_s, 65.0 / 3600.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (thing.fan.diameter_m, 0.12, 1e-12);
  g_assert_true (thing.fan.low_voltage);
  dew_catalogue_apply_thing (dew_catalogue ("fans"), row_of ("fans", "mains clip fan 15 cm"),
                             &thing);
  g_assert_false (thing.fan.low_voltage);

  dew_thing_init (&thing, DEW_THING_HUMIDIFIER);
  dew_catalogue_apply_thing (dew_catalogue ("humidifiers"),
                             row_of ("humidifiers", "room ultrasonic, small"), &thing);
  g_assert_cmpfloat_with_epsilon (thing.humidifier.output_kg_s, 5e-5, 1e-12);
  g_assert_cmpfloat_with_epsilon (thing.humidifier.droplet_m, 3e-6, 1e-15);
  dew_catalogue_apply_thing (dew_catalogue ("humidifiers"), row_of ("humidifiers", "steam, large"),
                             &thing);
  g_assert_cmpint (thing.humidifier.technology, ==, DEW_MIST_STEAM);

  dew_thing_init (&thing, DEW_THING_LAMP);
  dew_catalogue_apply_thing (dew_catalogue ("lamps"),
                             row_of ("lamps", "LED horticulture bar or board 40 W"), &thing);
  g_assert_cmpfloat_with_epsilon (thing.lamp.efficacy_mol_J, 2.5e-6, 1e-15);
  g_assert_cmpfloat_with_epsilon (thing.lamp.length_m, 0.9, 1e-12);

  dew_thing_init (&thing, DEW_THING_OPENING);
  dew_catalogue_apply_thing (dew_catalogue ("vents"),
                             row_of ("vents", "insect mesh, fine (porosity 0.35)"), &thing);
  g_assert_cmpint (thing.opening.kind, ==, DEW_OPENING_MESH);
  g_assert_cmpfloat (thing.opening.free_ratio, ==, 1.0);
  g_assert_cmpfloat (thing.opening.discharge_coefficient, ==, 0.21);

  dew_catalogue_apply_panel (row_of ("covers", "glass 4 mm"), &panel);
  g_assert_cmpfloat_with_epsilon (panel.thickness_m, 0.004, 1e-12);
  g_assert_cmpfloat_with_epsilon (panel.light_transmission, 0.89, 1e-12);
  g_assert_cmpfloat (panel.slope_rad, ==, 0.3);
}

/* A row about something else, or no row at all, leaves things as they are. */
static void
test_apply_not (void)
{
  DewThing thing, before;
  DewRoom room = { .name = "mine" };

  dew_thing_init (&thing, DEW_THING_POT);
  before = thing;
  dew_catalogue_apply_thing (dew_catalogue ("pots"),
                             row_of ("pots", "living moss carpet 60 x 40 cm"), &thing);
  g_assert_cmpmem (&thing, sizeof thing, &before, sizeof before);
  dew_catalogue_apply_thing (dew_catalogue ("fans"), 0, &thing);
  g_assert_cmpmem (&thing, sizeof thing, &before, sizeof before);
  dew_catalogue_apply_room ("a cave", "none", &room);
  g_assert_cmpstr (room.name, ==, "mine");
}

static void
test_apply_room (void)
{
  const DewCatalogue *rooms = dew_catalogue ("rooms");

  for (guint row = 0; row < dew_catalogue_rows (rooms); row++)
    {
      g_autoptr (DewChamber) chamber = dew_chamber_new ();
      g_autoptr (GError) error = NULL;

      dew_catalogue_apply_room (cell ("rooms", row, "room"), cell ("rooms", row, "climate"),
                                &chamber->room);
      dew_chamber_validate (chamber, &error);
      g_assert_no_error (error);
      if (strcmp (cell ("rooms", row, "month"), "Jul") == 0
          || strcmp (cell ("rooms", row, "month"), "all") == 0)
        g_assert_cmpfloat (chamber->room.months[6].t_day_C, ==, number ("rooms", row, "t_day_C"));
    }
}

/* The rooms that stand in the code, below the catalogue, are those of its rows. */
static void
test_rooms_in_code (void)
{
  DewChamber *made[] = { dew_chamber_new (), dew_chamber_demo () };

  for (guint i = 0; i < G_N_ELEMENTS (made); i++)
    {
      DewRoom room = made[i]->room;

      memset (room.months, 0, sizeof room.months);
      dew_catalogue_apply_room (room.name, "mild temperate lowland, about 50 N", &room);
      for (int month = 0; month < 12; month++)
        for (const DewField *field = dew_month_fields (); field->key != NULL; field++)
          g_assert_cmpfloat_with_epsilon (dew_field_get_real (field, &room.months[month]),
                                          dew_field_get_real (field, &made[i]->room.months[month]),
                                          1e-12);
      dew_chamber_free (made[i]);
    }
}

/* --- new enclosures ---------------------------------------------------- */

/* Every kind can be forecast as it comes, and holds what its row says. */
static void
test_kinds_of_enclosure (void)
{
  const DewCatalogue *kinds = dew_catalogue ("enclosures");

  for (guint row = 0; row < dew_catalogue_rows (kinds); row++)
    {
      g_autoptr (DewChamber) chamber = dew_chamber_from_kind (row);
      g_autoptr (GArray) problems = dew_chamber_check (chamber, chamber->shown_variant);
      g_auto (GStrv) heights = g_strsplit (cell ("enclosures", row, "shelf_heights"), ";", -1);
      g_auto (GStrv) openings = g_strsplit (cell ("enclosures", row, "openings"), ";", -1);
      g_autofree double *z_m = NULL;
      DewVariant *variant = dew_chamber_shown (chamber);

      g_assert_true (dew_chamber_validate (chamber, NULL));
      if (problems->len > 0)
        g_error ("%s: %s", chamber->name,
                 dew_problem_text (&g_array_index (problems, DewProblem, 0), DEW_TONGUE_PLAIN));
      g_assert_cmpstr (chamber->name, ==, cell ("enclosures", row, "name"));
      g_assert_cmpfloat_with_epsilon (chamber->outer_m[0],
                                      number ("enclosures", row, "width_cm") / 100.0, 1e-12);
      g_assert_cmpfloat_with_epsilon (chamber->leak_area_m2,
                                      number ("enclosures", row, "leak_cm2") * 1e-4, 1e-12);
      g_assert_cmpstr (chamber->panels[DEW_FACE_LEFT].material, ==,
                       cell ("enclosures", row, "cover"));
      g_assert_cmpint (dew_variant_bays (chamber, variant, &z_m, NULL), ==,
                       (int) g_strv_length (heights) + 1);
      g_assert_cmpuint (variant->things->len, ==,
                        g_strv_length (heights) + g_strv_length (openings));
      for (guint i = 0; heights[i] != NULL; i++)
        g_assert_cmpfloat_with_epsilon (z_m[i + 1], g_ascii_strtod (heights[i], NULL) / 100.0,
                                        1e-12);
    }
}

static void
test_from_sizes (void)
{
  for (guint cover = 0; cover < dew_catalogue_rows (dew_catalogue ("covers")); cover++)
    for (int n = 0; n <= 8; n += 4)
      {
        g_autoptr (GError) error = NULL;
        g_autoptr (DewChamber) chamber = dew_chamber_from_sizes (0.7, 0.5, 1.6, n, cover, &error);
        g_autoptr (GArray) problems = NULL;
        g_autofree double *z_m = NULL;
        double thickness_m = 0.0;

        g_assert_no_error (error);
        problems = dew_chamber_check (chamber, chamber->shown_variant);
        g_assert_cmpuint (problems->len, ==, 0);
        g_assert_cmpint (dew_variant_bays (chamber, dew_chamber_shown (chamber), &z_m, NULL), ==,
                         n + 1);
        if (n > 0)
          thickness_m
            = g_array_index (dew_chamber_shown (chamber)->things, DewThing, 0).shelf.thickness_m;
        /* All bays are as high in the clear. */
        for (int i = 1; i <= n; i++)
          g_assert_cmpfloat_with_epsilon (z_m[i + 1] - z_m[i] - thickness_m, z_m[1], 1e-9);
      }
}

static void
test_from_sizes_refused (void)
{
  static const struct
  {
    double width_m, depth_m, height_m;
    int n_shelves;
    const char *message;
  } rows[] = {
    { 0.0, 0.5, 1.6, 4, "wide" },
    { -0.7, 0.5, 1.6, 4, "wide" },
    { NAN, 0.5, 1.6, 4, "width" },
    { INFINITY, 0.5, 1.6, 4, "width" },
    { 0.7, 9.0, 1.6, 4, "deep" },
    { 0.7, 0.5, 0.01, 0, "high" },
    { 0.7, 0.5, 4.2, 4, "high" },
    { 0.7, 0.5, 1.6, 50, "50 shelves do not fit" },
    { 0.7, 0.5, 1.6, -1, "-1 shelves" },
    { 0.7, 0.5, 0.104, 3, "give 2 at most" },
    { 0.7, 0.5, 1.6, G_MAXINT, "do not fit" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (DewChamber) chamber
        = dew_chamber_from_sizes (rows[i].width_m, rows[i].depth_m, rows[i].height_m,
                                  rows[i].n_shelves, 0, &error);

      g_assert_null (chamber);
      g_assert_nonnull (error);
      if (strstr (error->message, rows[i].message) == NULL)
        g_error ("'%s' is not in '%s'", rows[i].message, error->message);
    }
}

/* As many shelves as the message says fit, and no more. */
static void
test_from_sizes_most (void)
{
  for (double height_m = 0.11; height_m < 3.9; height_m += 0.173)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (DewChamber) most = NULL;
      g_autoptr (DewChamber) more = NULL;
      g_autoptr (GArray) problems = NULL;
      int n;

      g_assert_null (dew_chamber_from_sizes (0.7, 0.5, height_m, 1000, 0, &error));
      n = (int) g_ascii_strtoll (strstr (error->message, "give ") + strlen ("give "), NULL, 10);
      g_clear_error (&error);
      most = dew_chamber_from_sizes (0.7, 0.5, height_m, n, 0, &error);
      g_assert_no_error (error);
      problems = dew_chamber_check (most, most->shown_variant);
      g_assert_cmpuint (problems->len, ==, 0);
      more = dew_chamber_from_sizes (0.7, 0.5, height_m, n + 1, 0, &error);
      g_assert_null (more);
    }
}

/* --- kinds of plant ---------------------------------------------------- */

static void
test_plant_kind (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  DewPlantKind own, found;
  DewPlantWish wish;
  guint row = row_of ("plants", "Dracula");

  g_assert_true (dew_catalogue_plant_kind ("Dracula", &found, NULL));
  g_assert_cmpstr (found.name, ==, "Dracula");
  g_assert_cmpstr (found.group, ==, cell ("plants", row, "group"));
  g_assert_cmpfloat (found.t_night_max_C, ==, number ("plants", row, "t_night_max_C"));
  g_assert_cmpfloat_with_epsilon (found.rh_ideal, number ("plants", row, "rh_ideal_pct") / 100.0,
                                  1e-12);
  g_assert_cmpfloat_with_epsilon (found.width_m, number ("plants", row, "spread_cm") / 100.0,
                                  1e-12);
  g_assert_cmpint (found.crown, ==, DEW_CROWN_HARMFUL);

  /* One's own goes before the table's of the same name, and only in its document. */
  own = found;
  own.t_night_max_C = 14.5;
  own.crown = DEW_CROWN_WELCOME;
  own.leaf = DEW_LEAF_FILMY;
  g_assert_nonnull (dew_chamber_add_kind (chamber, &own));
  g_assert_null (dew_chamber_add_kind (chamber, &own));
  g_assert_true (dew_catalogue_plant_kind ("Dracula", &found, chamber));
  g_assert_cmpfloat (found.t_night_max_C, ==, 14.5);
  g_assert_cmpint (dew_catalogue_leaf (chamber, "Dracula"), ==, DEW_LEAF_FILMY);
  g_assert_cmpint (dew_catalogue_leaf (NULL, "Dracula"), ==, DEW_LEAF_THIN_ORCHID);
  g_assert_true (dew_catalogue_plant_wish ("Dracula", &wish, chamber));
  g_assert_cmpfloat (wish.t_night_max_C, ==, 14.5);
  g_assert_cmpint (wish.crown, ==, DEW_CROWN_WELCOME);
  g_assert_true (dew_catalogue_plant_wish ("Dracula", &wish, NULL));
  g_assert_cmpfloat (wish.t_night_max_C, ==, number ("plants", row, "t_night_max_C"));
  g_assert_true (dew_chamber_remove_kind (chamber, "Dracula"));
  g_assert_false (dew_chamber_remove_kind (chamber, "Dracula"));
  g_assert_true (dew_catalogue_plant_kind ("Dracula", &found, chamber));
  g_assert_cmpint (found.crown, ==, DEW_CROWN_HARMFUL);

  g_assert_false (dew_catalogue_plant_kind ("Moon lily", &found, chamber));
  g_assert_false (dew_catalogue_plant_kind ("", &found, NULL));
  g_assert_false (dew_catalogue_plant_wish ("Moon lily", &wish, chamber));
}

/* The genera as growers sort them (from memory). A name or a group of one's own counts
 * where no row has the species. */
static void
test_leaves (void)
{
  static const struct
  {
    const char *species, *group;
    DewLeafKind leaf;
  } rows[] = {
    { "Phalaenopsis (small)", NULL, DEW_LEAF_CAM_ORCHID },
    { "Haraella and small vandoids", NULL, DEW_LEAF_CAM_ORCHID },
    { "Dracula", NULL, DEW_LEAF_THIN_ORCHID },
    { "Macodes Anoectochilus Goodyera", NULL, DEW_LEAF_THIN_ORCHID },
    { "Phragmipedium besseae group", NULL, DEW_LEAF_SLIPPER_ORCHID },
    { "Adiantum", NULL, DEW_LEAF_SHADE_FERN },
    { "Davallia and Humata", NULL, DEW_LEAF_EPIPHYTIC_FERN },
    { "Leptopteris and Todea superba", NULL, DEW_LEAF_FILMY },
    { "Leafy liverworts", NULL, DEW_LEAF_FILMY },
    { "Nepenthes (highland)", NULL, DEW_LEAF_HERB },
    { "Hoya (small, montane)", NULL, DEW_LEAF_HERB },
    { "Cattleya of a friend", NULL, DEW_LEAF_CAM_ORCHID },
    { "Moon lily", NULL, DEW_LEAF_HERB },
    { "Cattleya of a friend", "foliage", DEW_LEAF_CAM_ORCHID },
    { "Moon lily", "orchid cool", DEW_LEAF_THIN_ORCHID },
    { "Moon lily", "Succulents", DEW_LEAF_CAM_ORCHID },
    { "Moon lily", "filmy fern", DEW_LEAF_FILMY },
    { "Moon lily", "fern ally", DEW_LEAF_SHADE_FERN },
    { "Moon lily", "foliage", DEW_LEAF_HERB },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_test_message ("%s, %s", rows[i].species, rows[i].group);
      if (rows[i].group == NULL)
        g_assert_cmpint (dew_catalogue_leaf (NULL, rows[i].species), ==, rows[i].leaf);
      else
        g_assert_cmpint (dew_catalogue_leaf_guess (rows[i].species, rows[i].group), ==,
                         rows[i].leaf);
    }
}

/* Unknown ones are kept and told, each once; an own kind makes them known. */
static void
test_check_species (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  g_autoptr (GArray) none = dew_catalogue_check_species (chamber);
  g_autoptr (GArray) one = NULL;
  g_autoptr (GArray) again = NULL;
  g_autoptr (GArray) like = NULL;
  DewPlantKind kind;
  DewWish wish;
  guint id;

  g_assert_cmpuint (none->len, ==, 0);
  dew_wish_init (&wish);
  g_strlcpy (wish.species, "Moon lily", sizeof wish.species);
  id = dew_chamber_add_wish (chamber, &wish)->id;
  dew_chamber_add_wish (chamber, &wish);
  one = dew_catalogue_check_species (chamber);
  g_assert_cmpuint (one->len, ==, 1);
  g_assert_cmpuint (g_array_index (one, DewProblem, 0).thing_id, ==, id);
  g_assert_cmpint (g_array_index (one, DewProblem, 0).code, ==, DEW_PROBLEM_UNKNOWN);
  g_assert_cmpstr (g_array_index (one, DewProblem, 0).name, ==, "Moon lily");

  dew_plant_kind_init (&kind);
  g_strlcpy (kind.name, "Moon lily", sizeof kind.name);
  dew_chamber_add_kind (chamber, &kind);
  again = dew_catalogue_check_species (chamber);
  g_assert_cmpuint (again->len, ==, 0);

  /* One that is taken for another is told, and one that may be meant is asked for. */
  g_strlcpy (wish.species, "Dracula vampira", sizeof wish.species);
  dew_chamber_add_wish (chamber, &wish);
  g_strlcpy (wish.species, "Drakula", sizeof wish.species);
  dew_chamber_add_wish (chamber, &wish);
  like = dew_catalogue_check_species (chamber);
  g_assert_cmpuint (like->len, ==, 2);
  g_assert_cmpint (g_array_index (like, DewProblem, 0).code, ==, DEW_PROBLEM_TAKEN_AS);
  g_assert_cmpint (g_array_index (like, DewProblem, 1).code, ==, DEW_PROBLEM_UNKNOWN);
  g_assert_cmpstr (g_array_index (like, DewProblem, 1).other_name, ==, "Dracula");
}

/* What growers type, and the row that is meant; NULL: one cannot know, or there is none. */
static void
test_match (void)
{
  static const struct
  {
    const char *typed, *first, *sure;
  } rows[] = {
    { "dracula", "Dracula", "Dracula" },
    { "DRACULA", "Dracula", "Dracula" },
    { "drac", "Dracula", NULL },
    { "Dracula vampira", NULL, "Dracula" },
    { "Drakula", "Dracula", NULL },
    { "Darlingotnia", "Darlingtonia", NULL },
    { "masdevallia", "Masdevallia (cool species)", NULL },
    { "venus flytrap", "Dionaea muscipula", "Dionaea muscipula" },
    { "Venusfliegenfalle", "Dionaea muscipula", "Dionaea muscipula" },
    { "african violet", "Streptocarpus sect. Saintpaulia", "Streptocarpus sect. Saintpaulia" },
    { "saintpaulia", "Streptocarpus sect. Saintpaulia", "Streptocarpus sect. Saintpaulia" },
    { "planta de la oración", "Maranta", "Maranta" },
    { "highland nepenthes", "Nepenthes (highland)", NULL },
    { "Isabelia", "Leptotes and Isabelia", "Leptotes and Isabelia" },
    { "Moon lily", NULL, NULL },
    { "", "Achimenes and Smithiantha", NULL },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GArray) found = dew_catalogue_search_plants (NULL, rows[i].typed);
      int sure = dew_catalogue_plant_row (rows[i].typed);

      g_test_message ("%s", rows[i].typed);
      if (rows[i].first != NULL)
        g_assert_cmpstr (g_array_index (found, DewPlantMatch, 0).name, ==, rows[i].first);
      if (rows[i].sure != NULL)
        g_assert_cmpstr (cell ("plants", (guint) sure, "name"), ==, rows[i].sure);
      else
        g_assert_cmpint (sure, ==, -1);
    }
}

/* Groups and words of the middle are found too, and one's own kinds go before. */
static void
test_search (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  g_autoptr (GArray) gesneriads = dew_catalogue_search_plants (NULL, "gesneriad");
  g_autoptr (GArray) sundews = dew_catalogue_search_plants (NULL, "sundew");
  g_autoptr (GArray) own = NULL;
  DewPlantKind kind;

  g_assert_cmpuint (gesneriads->len, >=, 15);
  g_assert_cmpuint (sundews->len, >=, 5);
  dew_plant_kind_init (&kind);
  g_strlcpy (kind.name, "Dracula from a friend", sizeof kind.name);
  dew_chamber_add_kind (chamber, &kind);
  own = dew_catalogue_search_plants (chamber, "dracula friend");
  g_assert_cmpint (g_array_index (own, DewPlantMatch, 0).row, ==, -1);
  g_assert_cmpstr (g_array_index (own, DewPlantMatch, 0).name, ==, "Dracula from a friend");
}

/* All rows are kinds that a document may hold as its own. */
static void
test_plant_kinds_valid (void)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  g_autoptr (GError) error = NULL;

  for (guint row = 0; row < dew_catalogue_rows (dew_catalogue ("plants")); row++)
    {
      DewPlantKind kind;

      g_assert_true (dew_catalogue_plant_kind (cell ("plants", row, "name"), &kind, NULL));
      g_assert_nonnull (dew_chamber_add_kind (chamber, &kind));
    }
  dew_chamber_validate (chamber, &error);
  g_assert_no_error (error);
}

static void
test_cautions (void)
{
  const char *text = dew_cautions_text ();

  g_assert_true (g_utf8_validate (text, -1, NULL));
  g_assert_nonnull (strstr (text, "30 mA"));
  g_assert_nonnull (strstr (text, "prediction with error"));
  g_assert_nonnull (strstr (text, "licensed"));
  g_assert_true (dew_cautions_text () == text);
}

/* Every name that is shown is marked for translation in what is generated. */
static void
test_words (void)
{
  static const char *const shown[][2] = { { "enclosures", "name" },
                                          { "covers", "name" },
                                          { "rooms", "room" },
                                          { "rooms", "climate" },
                                          { "plants", "group" } };
  g_autofree char *tables = NULL;

  g_assert_true (
    g_file_get_contents (DEW_BUILD_DIR "/core/catalogue/tables.c", &tables, NULL, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (shown); i++)
    for (guint row = 0; row < dew_catalogue_rows (dew_catalogue (shown[i][0])); row++)
      {
        const char *name = cell (shown[i][0], row, shown[i][1]);
        g_autofree char *marked = g_strdup_printf ("NC_ (\"catalogue\", \"%s\")", name);

        if (strstr (tables, marked) == NULL)
          g_error ("%s of %s is not marked: %s", shown[i][1], shown[i][0], name);
      }
  g_assert_cmpstr (dew_catalogue_word ("no such name"), ==, "no such name");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/catalogue/rows-parse", test_rows_parse);
  g_test_add_func ("/catalogue/names", test_names);
  g_test_add_func ("/catalogue/ranges", test_ranges);
  g_test_add_func ("/catalogue/match", test_match);
  g_test_add_func ("/catalogue/search", test_search);
  g_test_add_func ("/catalogue/plants", test_plants);
  g_test_add_func ("/catalogue/rooms", test_rooms);
  g_test_add_func ("/catalogue/apply-all", test_apply_all);
  g_test_add_func ("/catalogue/apply-units", test_apply_units);
  g_test_add_func ("/catalogue/apply-not", test_apply_not);
  g_test_add_func ("/catalogue/apply-room", test_apply_room);
  g_test_add_func ("/catalogue/rooms-in-code", test_rooms_in_code);
  g_test_add_func ("/catalogue/kinds-of-enclosure", test_kinds_of_enclosure);
  g_test_add_func ("/catalogue/from-sizes", test_from_sizes);
  g_test_add_func ("/catalogue/from-sizes-refused", test_from_sizes_refused);
  g_test_add_func ("/catalogue/from-sizes-most", test_from_sizes_most);
  g_test_add_func ("/catalogue/plant-kind", test_plant_kind);
  g_test_add_func ("/catalogue/leaves", test_leaves);
  g_test_add_func ("/catalogue/check-species", test_check_species);
  g_test_add_func ("/catalogue/plant-kinds-valid", test_plant_kinds_valid);
  g_test_add_func ("/catalogue/words", test_words);
  g_test_add_func ("/catalogue/cautions", test_cautions);
  return g_test_run ();
}
