/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/findings.h"
#include "moist/moist.h"

#include <math.h>
#include <string.h>

/* Forecasts made by hand: a floor and two shelves with two places each, left and
 * right; pleasant air everywhere unless a test spoils it. */

#define P0 101325.0

typedef struct
{
  DewChamber chamber;
  DewVariant variant;
  DewForecast forecast;
  DewBay bays[3];
  DewPlace places[6];
  guint next_id;
} Bench;

static DewClimate
pleasant (void)
{
  DewClimate air = { .t_C = 18.0,
                     .rh = 0.80,
                     .t_band_K = NAN,
                     .rh_band = NAN,
                     .speed_m_s = 0.25,
                     .age_s = 1200.0,
                     .ppfd_mol_m2s = 80e-6 };

  air.w_kg_kg = dew_moist_w_from_rh (air.t_C, air.rh, P0);
  air.vpd_Pa = dew_moist_vpd (air.t_C, air.w_kg_kg, P0);
  return air;
}

static void
set_rh (DewClimate *air, double t_C, double rh)
{
  air->t_C = t_C;
  air->rh = rh;
  air->w_kg_kg = dew_moist_w_from_rh (t_C, rh, P0);
  air->vpd_Pa = dew_moist_vpd (t_C, air->w_kg_kg, P0);
}

static void
bench_set_up (Bench *bench, gconstpointer data)
{
  memset (bench, 0, sizeof *bench);
  bench->chamber.outer_m[0] = 0.8;
  bench->chamber.outer_m[1] = 0.5;
  bench->chamber.outer_m[2] = 1.5;
  bench->variant.things = g_array_new (FALSE, TRUE, sizeof (DewThing));
  bench->next_id = 100;
  bench->forecast.pressure_Pa = P0;
  bench->forecast.inner_m[0] = 0.8;
  bench->forecast.inner_m[1] = 0.5;
  bench->forecast.inner_m[2] = 1.5;
  bench->forecast.all = pleasant ();
  bench->forecast.n_bays = 3;
  bench->forecast.bays = bench->bays;
  bench->forecast.n_places = 6;
  bench->forecast.places = bench->places;
  for (int b = 0; b < 3; b++)
    {
      bench->bays[b]
        = (DewBay){ .z0_m = 0.5 * b, .z1_m = 0.5 * (b + 1), .shelf_id = b, .mean = pleasant () };
      for (int side = 0; side < 2; side++)
        bench->places[2 * b + side] = (DewPlace){
          .bay = b,
          .column = side,
          .lo_m = { 0.4 * side, 0.0, 0.5 * b },
          .hi_m = { 0.4 * (side + 1), 0.5, 0.5 * b + 0.25 },
          .mean = pleasant (),
        };
    }
}

static void
bench_tear_down (Bench *bench, gconstpointer data)
{
  g_array_unref (bench->variant.things);
  g_free (bench->forecast.findings);
}

static DewThing *
put_thing (Bench *bench, DewThingKind kind, const char *name)
{
  DewThing thing = { .kind = kind, .id = bench->next_id++ };

  g_strlcpy (thing.name, name, sizeof thing.name);
  g_array_append_val (bench->variant.things, thing);
  return &g_array_index (bench->variant.things, DewThing, bench->variant.things->len - 1);
}

static DewThing *
put_plant (Bench *bench, int place, const char *species)
{
  DewThing *thing = put_thing (bench, DEW_THING_PLANT, species);

  thing->plant.x_m = 0.5 * (bench->places[place].lo_m[0] + bench->places[place].hi_m[0]);
  thing->plant.y_m = 0.25;
  thing->plant.z_m = bench->places[place].lo_m[2];
  thing->plant.mass_kg = 0.2;
  g_strlcpy (thing->plant.species, species, sizeof thing->plant.species);
  return thing;
}

/* Wishes in the manner of a cloud-forest orchid, a filmy fern and a thick leaf. */
static gboolean
wishes (const char *species, DewPlantWish *out, gpointer data)
{
  static const DewPlantWish cool = {
    .t_day_min_C = 12,
    .t_day_max_C = 25,
    .t_night_min_C = 6,
    .t_night_max_C = 16,
    .rh_min = 0.70,
    .rh_max = 0.95,
    .speed_lo_m_s = 0.08,
    .speed_hi_m_s = 0.3,
    .ppfd_lo_mol_m2s = 40e-6,
    .ppfd_hi_mol_m2s = 90e-6,
    .crown = DEW_CROWN_HARMFUL,
  };

  g_assert_cmpstr (data, ==, "asked");
  *out = cool;
  if (g_str_equal (species, "filmy"))
    {
      out->speed_lo_m_s = 0.02;
      out->speed_hi_m_s = 0.10;
      out->crown = DEW_CROWN_WELCOME;
      out->rh_max = 1.0;
      return TRUE;
    }
  if (g_str_equal (species, "tough"))
    {
      out->speed_lo_m_s = 0.2;
      out->speed_hi_m_s = 2.0;
      out->crown = DEW_CROWN_TOLERATED;
      return TRUE;
    }
  return g_str_equal (species, "cool");
}

static void
make (Bench *bench)
{
  dew_findings_make (&bench->chamber, &bench->variant, wishes, "asked", &bench->forecast);
}

/* The only finding of a kind, or NULL; never two of a kind in a bay. */
static const DewFinding *
only (const Bench *bench, DewFindingKind kind)
{
  const DewFinding *found = NULL;

  for (int i = 0; i < bench->forecast.n_findings; i++)
    if (bench->forecast.findings[i].kind == kind)
      {
        g_assert_null (found);
        found = &bench->forecast.findings[i];
      }
  return found;
}

static const DewFinding *
the (const Bench *bench, DewFindingKind kind)
{
  const DewFinding *found = only (bench, kind);

  g_assert_nonnull (found);
  return found;
}

/* In %, h, mL/h ... */
static double
plain_value (const DewFinding *finding)
{
  return dew_finding_plain (finding, finding->value);
}

static double
plain_threshold (const DewFinding *finding)
{
  return dew_finding_plain (finding, finding->threshold);
}

static void
expect_title (const Bench *bench, const DewFinding *finding, const char *title)
{
  g_autofree char *told = dew_finding_title (&bench->forecast, finding);

  g_assert_cmpstr (told, ==, title);
}

static void
expect_flag (const DewFinding *finding, const char *flag)
{
  g_autofree char *told = dew_finding_flag (finding);

  g_assert_cmpstr (told, ==, flag);
}

static void
test_nothing_amiss (Bench *bench, gconstpointer data)
{
  make (bench);
  g_assert_cmpint (bench->forecast.n_findings, ==, 0);
  put_plant (bench, 0, "tough");
  put_plant (bench, 2, "unheard of");
  put_plant (bench, 3, "");
  make (bench);
  g_assert_cmpint (bench->forecast.n_findings, ==, 0);
  /* Without a lookup the plants count as of no kind. */
  dew_findings_make (&bench->chamber, &bench->variant, NULL, NULL, &bench->forecast);
  g_assert_cmpint (bench->forecast.n_findings, ==, 0);
}

/* Slow and old at once; slow alone or old alone is no dead zone (common practice, no
 * source). */
static void
test_still (Bench *bench, gconstpointer data)
{
  const DewFinding *finding;

  bench->places[3].mean.speed_m_s = 0.02;
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_STILL));
  bench->places[3].mean.speed_m_s = 0.25;
  bench->places[3].mean.age_s = 3000.0;
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_STILL));

  bench->places[3].mean.speed_m_s = 0.02;
  make (bench);
  finding = the (bench, DEW_FINDING_STILL);
  g_assert_cmpint (finding->bay, ==, 1);
  g_assert_cmpint (finding->severity, ==, 1);
  g_assert_cmpuint (finding->thing_id, ==, 0);
  expect_title (bench, finding, "Still air, lowest shelf right");
  expect_flag (finding, "still");
  g_assert_cmpfloat (finding->value, ==, 0.02);
  g_assert_cmpfloat (finding->threshold, ==, 0.05);
  g_assert_cmpstr (dew_finding_unit (finding), ==, "m/s");
  g_assert_cmpfloat_with_epsilon (finding->at_m[0], 0.6, 1e-9);

  /* An orchid there must be seen to. */
  put_plant (bench, 3, "cool");
  make (bench);
  finding = the (bench, DEW_FINDING_STILL);
  g_assert_cmpint (finding->severity, ==, 2);
  g_assert_cmpuint (finding->thing_id, ==, 100);
  expect_title (bench, finding, "Still air at cool, lowest shelf right");
  g_assert_nonnull (strstr (dew_limit_source (finding->limit), "common practice, no source"));

  /* Stagnant as a whole: no place is older than the rest, but all is older than 2 h. */
  bench->places[3].mean.age_s = bench->forecast.all.age_s = 8000.0;
  make (bench);
  g_assert_nonnull (only (bench, DEW_FINDING_STILL));
  /* Without any exchange there is no age. */
  bench->places[3].mean.age_s = bench->forecast.all.age_s = NAN;
  make (bench);
  g_assert_nonnull (only (bench, DEW_FINDING_STILL));
}

static void
test_still_by_wish (Bench *bench, gconstpointer data)
{
  bench->places[0].mean.speed_m_s = bench->places[1].mean.speed_m_s = 0.02;
  bench->places[0].mean.age_s = bench->places[1].mean.age_s = 9000.0;
  make (bench);
  g_assert_nonnull (only (bench, DEW_FINDING_STILL));
  put_plant (bench, 0, "filmy");
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_STILL));
}

/* Half of the least a plant likes, in air that is old, is worth watching. */
static void
test_less_than_wished (Bench *bench, gconstpointer data)
{
  put_plant (bench, 0, "tough"); /* 0.2 m/s at least */
  bench->places[0].mean.age_s = 9000.0;
  bench->places[0].mean.speed_m_s = 0.12;
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_STILL));
  bench->places[0].mean.speed_m_s = 0.08;
  make (bench);
  g_assert_cmpint (the (bench, DEW_FINDING_STILL)->severity, ==, 1);
  g_assert_cmpfloat_with_epsilon (the (bench, DEW_FINDING_STILL)->threshold, 0.1, 1e-9);
}

static void
test_draught (Bench *bench, gconstpointer data)
{
  const DewFinding *finding;

  put_plant (bench, 4, "cool");
  bench->places[4].mean.speed_m_s = 0.35;
  make (bench);
  finding = the (bench, DEW_FINDING_DRAUGHTY);
  g_assert_cmpint (finding->severity, ==, 1);
  g_assert_cmpint (finding->bay, ==, 2);
  g_assert_cmpstr (dew_limit_source (finding->limit), ==, "Plant catalogue");
  bench->places[4].mean.speed_m_s = 0.6;
  make (bench);
  g_assert_cmpint (the (bench, DEW_FINDING_DRAUGHTY)->severity, ==, 2);

  /* A mount of no known kind: 1 m/s, in drying air 0.6 m/s. */
  g_array_set_size (bench->variant.things, 0);
  put_plant (bench, 4, "")->plant.mass_kg = 0.0;
  bench->places[4].mean.speed_m_s = 0.8;
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_DRAUGHTY));
  set_rh (&bench->places[4].mean, 22.0, 0.60);
  make (bench);
  g_assert_cmpfloat (the (bench, DEW_FINDING_DRAUGHTY)->threshold, ==, 0.6);
}

/* Drying of a 0.1 mm film at 20 C in 0.3 m/s, growers' reckoning: 1.6 h at 60 %, 3 at 78,
 * 4.4 at 85, 6.7 at 90, 13 at 95 %; evaporation of pots and trays is known to -25/+60 %. */
static void
test_drying_time (Bench *bench, gconstpointer data)
{
  static const double rows[][2]
    = { { 0.60, 1.6 }, { 0.78, 3.0 }, { 0.85, 4.4 }, { 0.90, 6.7 }, { 0.95, 13.0 } };
  DewClimate air = pleasant ();

  air.speed_m_s = 0.3;
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      double hours;
      set_rh (&air, 20.0, rows[i][0]);
      hours = dew_findings_drying_s (&air, P0) / 3600.0;
      if (!(hours > rows[i][1] / 1.6 && hours < rows[i][1] / 0.75))
        g_test_fail_printf ("%.2f: %.2f h instead of %.1f", rows[i][0], hours, rows[i][1]);
    }
  set_rh (&air, 20.0, 1.0);
  g_assert_true (dew_findings_drying_s (&air, P0) > 3600.0 * 1e6);
}

static void
test_slow_to_dry (Bench *bench, gconstpointer data)
{
  const DewFinding *finding;
  g_autofree char *flag = NULL;

  put_plant (bench, 2, "cool");
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_SLOW_TO_DRY));
  set_rh (&bench->places[2].mean, 18.0, 0.93);
  make (bench);
  finding = the (bench, DEW_FINDING_SLOW_TO_DRY);
  g_assert_cmpint (finding->severity, ==, 1);
  g_assert_cmpfloat (finding->value, >, 4.0 * 3600.0);
  g_assert_cmpfloat (finding->threshold, ==, 4.0 * 3600.0);
  flag = dew_finding_flag (finding);
  g_assert_true (g_str_has_prefix (flag, "wet for "));
  /* Where it drips it matters now. */
  bench->places[2].mean.drip_kg_s = 1e-3 / 3600.0;
  make (bench);
  g_assert_cmpint (the (bench, DEW_FINDING_SLOW_TO_DRY)->severity, ==, 2);
  /* Plants that do not mind are left in peace. */
  g_array_set_size (bench->variant.things, 0);
  put_plant (bench, 2, "tough");
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_SLOW_TO_DRY));
}

static void
test_mist_and_drip (Bench *bench, gconstpointer data)
{
  const DewFinding *finding;

  /* 20 mL/m2h dries up in this air, 60 does not: at 80 % a wet leaf loses some 35. */
  put_plant (bench, 5, "cool");
  bench->places[5].mean.wetting_kg_m2s = 10e-3 / 3600.0;
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_MIST_WETS));
  bench->places[5].mean.wetting_kg_m2s = 80e-3 / 3600.0;
  make (bench);
  finding = the (bench, DEW_FINDING_MIST_WETS);
  g_assert_cmpint (finding->severity, ==, 2);
  g_assert_cmpfloat_with_epsilon (plain_value (finding), 80.0, 1e-9);
  g_assert_cmpfloat (plain_threshold (finding), >, 15.0);
  g_assert_cmpfloat (plain_threshold (finding), <, 60.0);
  g_assert_cmpstr (dew_finding_unit (finding), ==, "mL/m²h");
  bench->places[5].mean.wetting_kg_m2s = 0.0;

  /* The top bay has the roof over it, the others a shelf. */
  bench->places[5].mean.drip_kg_s = 2e-3 / 3600.0;
  make (bench);
  finding = the (bench, DEW_FINDING_ROOF_DRIP);
  g_assert_null (only (bench, DEW_FINDING_SHELF_DRIP));
  g_assert_cmpint (finding->severity, ==, 2);
  g_assert_cmpfloat_with_epsilon (plain_value (finding), 2.0, 1e-9);
  expect_title (bench, finding, "The roof drips on cool, second shelf right");

  bench->places[5].mean.drip_kg_s = 0.0;
  bench->places[0].mean.drip_kg_s = 2e-3 / 3600.0;
  make (bench);
  finding = the (bench, DEW_FINDING_SHELF_DRIP);
  g_assert_cmpint (finding->severity, ==, 1);
  g_assert_cmpint (finding->bay, ==, 0);
  expect_title (bench, finding, "The shelf above drips, floor left");
  /* Beside a plant it does no harm. */
  put_plant (bench, 1, "cool");
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_SHELF_DRIP));
  put_plant (bench, 0, "filmy");
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_SHELF_DRIP));
}

static void
test_bands (Bench *bench, gconstpointer data)
{
  const DewFinding *finding;

  put_plant (bench, 2, "cool");
  set_rh (&bench->places[2].mean, 18.0, 0.67);
  make (bench);
  finding = the (bench, DEW_FINDING_DRY);
  g_assert_cmpint (finding->severity, ==, 1);
  g_assert_cmpfloat_with_epsilon (plain_value (finding), 67.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (plain_threshold (finding), 70.0, 1e-9);
  set_rh (&bench->places[2].mean, 18.0, 0.55);
  make (bench);
  g_assert_cmpint (the (bench, DEW_FINDING_DRY)->severity, ==, 2);
  /* A forecast that is itself no better than 20 points only warns. */
  bench->places[2].mean.rh_band = 0.20;
  make (bench);
  g_assert_cmpint (the (bench, DEW_FINDING_DRY)->severity, ==, 1);
  bench->places[2].mean.rh_band = NAN;

  set_rh (&bench->places[2].mean, 18.0, 0.98);
  make (bench);
  g_assert_nonnull (only (bench, DEW_FINDING_MOIST));
  set_rh (&bench->places[2].mean, 28.0, 0.80);
  make (bench);
  finding = the (bench, DEW_FINDING_WARM);
  g_assert_cmpint (finding->severity, ==, 2);
  g_assert_cmpfloat (finding->threshold, ==, 25.0);
  set_rh (&bench->places[2].mean, 11.0, 0.80);
  make (bench);
  g_assert_cmpfloat (the (bench, DEW_FINDING_COOL)->threshold, ==, 12.0);
  /* The night has limits of its own. */
  bench->forecast.night = TRUE;
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_COOL));
  set_rh (&bench->places[2].mean, 18.0, 0.80);
  make (bench);
  g_assert_cmpfloat (the (bench, DEW_FINDING_WARM)->threshold, ==, 16.0);
}

/* What reads as the limit itself, or lies within half the forecast's own band of it, is not
 * told as beyond it: '70 %, wants at least 70 %' helps nobody. */
static void
test_at_the_limit (Bench *bench, gconstpointer data)
{
  put_plant (bench, 2, "cool");
  set_rh (&bench->places[2].mean, 18.0, 0.697);
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_DRY));
  set_rh (&bench->places[2].mean, 18.0, 0.694);
  make (bench);
  g_assert_nonnull (only (bench, DEW_FINDING_DRY));
  bench->places[2].mean.rh_band = 0.04;
  set_rh (&bench->places[2].mean, 18.0, 0.685);
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_DRY));
  set_rh (&bench->places[2].mean, 18.0, 0.67);
  make (bench);
  g_assert_nonnull (only (bench, DEW_FINDING_DRY));
  bench->places[2].mean.rh_band = NAN;

  set_rh (&bench->places[2].mean, 18.0, 0.80);
  bench->places[2].mean.speed_band_m_s = NAN;
  bench->places[2].mean.speed_m_s = 0.304;
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_DRAUGHTY));
  bench->places[2].mean.speed_m_s = 0.306;
  make (bench);
  g_assert_nonnull (only (bench, DEW_FINDING_DRAUGHTY));
}

/* The lamp that is behind it is named, the nearer of two that are alike, and the whole is
 * said in one sentence. */
static void
test_who_is_behind_it (Bench *bench, gconstpointer data)
{
  const DewFinding *finding;
  g_autofree char *cause = NULL, *number = NULL, *heading = NULL, *verdict = NULL;
  DewThing *lamp;

  verdict = dew_forecast_verdict_text (&bench->forecast);
  g_assert_cmpstr (verdict, ==, "All shelves fine");
  g_clear_pointer (&verdict, g_free);
  put_plant (bench, 2, "cool");
  for (int i = 0; i < 2; i++)
    {
      lamp = put_thing (bench, DEW_THING_LAMP, i == 0 ? "Far lamp" : "Near lamp");
      lamp->lamp.low_voltage = TRUE;
      lamp->lamp.power_W = 10.0;
      lamp->lamp.x_m = 0.2;
      lamp->lamp.y_m = 0.25;
      lamp->lamp.z_m = i == 0 ? 1.4 : 0.9;
    }
  bench->places[2].mean.ppfd_mol_m2s = 100e-6;
  make (bench);
  finding = the (bench, DEW_FINDING_BRIGHT);
  g_assert_cmpstr (finding->by, ==, "Near lamp");
  g_assert_cmpuint (finding->by_id, ==, lamp->id);
  cause = dew_finding_cause (finding);
  g_assert_cmpstr (cause, ==, "“Near lamp” is near and strong.");
  number = dew_finding_number (finding, DEW_TONGUE_METRIC);
  g_assert_cmpstr (number, ==, "100 µmol/m²s, wants at most 90 µmol/m²s");
  heading = dew_finding_heading (&bench->forecast, finding, 22);
  g_assert_cmpstr (heading, ==, "Too bright for cool and 22 more");
  verdict = dew_forecast_verdict_text (&bench->forecast);
  g_assert_cmpstr (verdict, ==, "2 shelves fine, lowest shelf needs a look");
}

static void
test_light (Bench *bench, gconstpointer data)
{
  put_plant (bench, 2, "cool");
  bench->places[2].mean.ppfd_mol_m2s = 0.0;
  make (bench); /* no lamp, and no daylight at the room: too dark, not silent */
  g_assert_cmpint (the (bench, DEW_FINDING_DARK)->severity, ==, 2);
  put_thing (bench, DEW_THING_LAMP, "Strip")->lamp.low_voltage = TRUE;
  make (bench);
  g_assert_cmpint (the (bench, DEW_FINDING_DARK)->severity, ==, 2);
  g_assert_cmpfloat_with_epsilon (plain_threshold (the (bench, DEW_FINDING_DARK)), 40.0, 1e-9);
  bench->forecast.night = TRUE;
  bench->places[2].mean.t_C = 15.0;
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_DARK));
  bench->forecast.night = FALSE;
  bench->places[2].mean.ppfd_mol_m2s = 100e-6;
  make (bench);
  g_assert_cmpint (the (bench, DEW_FINDING_BRIGHT)->severity, ==, 1);
}

/* Sirjusingh & Sutton, Plant Disease 80, 160-165, 1996: on petals 8 h of wetness at 15 C,
 * 4 h at 21 C, none in 24 h at 10 C. */
static void
test_disease (Bench *bench, gconstpointer data)
{
  DewClimate *air = &bench->places[2].mean;
  const DewFinding *finding;

  put_plant (bench, 2, "cool");
  air->drip_kg_s = 1e-3 / 3600.0;
  set_rh (air, 15.0, 0.95);
  make (bench);
  finding = the (bench, DEW_FINDING_DISEASE);
  g_assert_cmpfloat_with_epsilon (plain_threshold (finding), 8.0, 1e-9);
  g_assert_cmpint (finding->severity, ==, 2);
  g_assert_nonnull (strstr (dew_limit_source (finding->limit), "Sirjusingh"));
  set_rh (air, 21.0, 0.95);
  make (bench);
  g_assert_cmpfloat_with_epsilon (plain_threshold (the (bench, DEW_FINDING_DISEASE)), 4.0, 1e-9);
  set_rh (air, 10.0, 0.95);
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_DISEASE));
  /* Dries in time. */
  set_rh (air, 21.0, 0.70);
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_DISEASE));
  /* Never dries while more mist falls than it loses. */
  air->wetting_kg_m2s = 1e-4;
  make (bench);
  g_assert_cmpfloat (plain_value (the (bench, DEW_FINDING_DISEASE)), ==, 24.0);
  air->wetting_kg_m2s = 0.0;
  /* Never wetted, but damp and still: Prenger & Ling 2001, 0.2 kPa, from memory. */
  air->drip_kg_s = 0.0;
  set_rh (air, 18.0, 0.95);
  air->speed_m_s = 0.02;
  make (bench);
  finding = the (bench, DEW_FINDING_DISEASE);
  g_assert_cmpint (finding->severity, ==, 1);
  g_assert_cmpstr (dew_finding_unit (finding), ==, "kPa");
  g_assert_cmpfloat_with_epsilon (plain_threshold (finding), 0.2, 1e-9);
  set_rh (air, 18.0, 0.88); /* 0.25 kPa */
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_DISEASE));
  set_rh (air, 18.0, 0.95);
  air->speed_m_s = 0.1;
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_DISEASE));
}

/* 0.3 kg at 50 mL/h last 6 h; the arithmetic of the label. */
static void
test_tank (Bench *bench, gconstpointer data)
{
  DewThing *thing = put_thing (bench, DEW_THING_HUMIDIFIER, "Cup");
  const DewFinding *finding;

  thing->humidifier = (DewHumidifier){ .x_m = 0.2,
                                       .y_m = 0.2,
                                       .output_kg_s = 50e-3 / 3600.0,
                                       .tank_kg = 0.3,
                                       .duty_day = 1.0,
                                       .duty_night = 0.2,
                                       .low_voltage = TRUE };
  make (bench);
  finding = the (bench, DEW_FINDING_TANK);
  g_assert_cmpint (finding->severity, ==, 2);
  g_assert_cmpfloat_with_epsilon (plain_value (finding), 6.0, 1e-6);
  expect_flag (finding, "lasts 6 h");
  bench->forecast.night = TRUE;
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_TANK));

  /* With a humidistat the forecast's own balance says how much it runs. */
  thing->humidifier.set_rh = 0.85;
  bench->forecast.balance.water_device_kg_s = 20e-3 / 3600.0;
  make (bench);
  finding = the (bench, DEW_FINDING_TANK);
  g_assert_cmpfloat_with_epsilon (plain_value (finding), 15.0, 1e-6);
  g_assert_cmpint (finding->severity, ==, 1);
  bench->forecast.balance.water_device_kg_s = 10e-3 / 3600.0;
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_TANK));
}

/* A wet 12 cm pot gives 0.5 to 0.7 g/h at 85 % and 1.4 to 1.8 g/h at 60 % (growers'
 * reckoning, -25/+60 %): 20 g last some 12 to 14 h at 60 %, more than a day at 85 %. */
static void
test_pot (Bench *bench, gconstpointer data)
{
  DewThing *thing = put_thing (bench, DEW_THING_POT, "Clay 12");
  const DewFinding *finding;

  thing->pot = (DewPot){ .x_m = 0.2,
                         .y_m = 0.2,
                         .z_m = 0.5,
                         .rim_diameter_m = 0.12,
                         .height_m = 0.11,
                         .wetted_fraction = 0.85,
                         .water_kg = 0.02 };
  bench->places[2].mean.speed_m_s = 0.15;
  set_rh (&bench->places[2].mean, 20.0, 0.60);
  make (bench);
  finding = the (bench, DEW_FINDING_POT_DRY);
  g_assert_cmpfloat (plain_value (finding), >, 20.0 / 1.8 / 1.6);
  g_assert_cmpfloat (plain_value (finding), <, 20.0 / 1.4 / 0.75);
  set_rh (&bench->places[2].mean, 20.0, 0.88);
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_POT_DRY));
}

static void
test_load (Bench *bench, gconstpointer data)
{
  DewThing *shelf = put_thing (bench, DEW_THING_SHELF, "Upper");
  const DewFinding *finding;

  shelf->shelf = (DewShelf){ .z_m = 0.98, .thickness_m = 0.02, .load_limit_kg = 10.0 };
  for (int i = 0; i < 3; i++)
    {
      DewThing *tray = put_thing (bench, DEW_THING_TRAY, "Tray");
      tray->tray = (DewTray){ .x_m = 0.2,
                              .y_m = 0.2,
                              .z_m = i < 2 ? 1.0 : 0.0,
                              .width_m = 0.3,
                              .depth_m = 0.3,
                              .height_m = 0.03,
                              .water_kg = 3.5 };
    }
  make (bench);
  finding = the (bench, DEW_FINDING_LOAD);
  g_assert_cmpint (finding->severity, ==, 1);
  g_assert_cmpfloat_with_epsilon (finding->value, 7.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (finding->threshold, 6.0, 1e-9);
  g_array_index (bench->variant.things, DewThing, 1).tray.water_kg = 8.0;
  make (bench);
  finding = the (bench, DEW_FINDING_LOAD);
  g_assert_cmpint (finding->severity, ==, 2);
  g_assert_cmpfloat_with_epsilon (finding->threshold, 10.0, 1e-9);
}

/* Tip angle = atan(half depth over height of the centre of mass): 0.30 m deep, centre at
 * 0.9 m: 9.5 degrees. */
static void
test_tipping (Bench *bench, gconstpointer data)
{
  DewThing *tray = put_thing (bench, DEW_THING_TRAY, "Tray");
  const DewFinding *finding;

  bench->chamber.outer_m[1] = 0.30;
  bench->chamber.outer_m[2] = 1.8; /* the frame's own middle is at 0.9 */
  tray->tray = (DewTray){ .x_m = 0.2,
                          .y_m = 0.2,
                          .z_m = 0.885,
                          .width_m = 0.3,
                          .depth_m = 0.3,
                          .height_m = 0.03,
                          .water_kg = 8.0 };
  make (bench);
  finding = the (bench, DEW_FINDING_LOAD);
  g_assert_cmpfloat_with_epsilon (plain_value (finding), 9.46, 0.02);
  g_assert_cmpint (finding->bay, ==, -1);
  expect_title (bench, finding, "Tips over easily");
  g_array_index (bench->variant.things, DewThing, 0).tray.z_m = 0.0;
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_LOAD));
}

static void
test_mains (Bench *bench, gconstpointer data)
{
  DewThing *fan = put_thing (bench, DEW_THING_FAN, "Desk fan");
  DewThing *lamp;

  fan->fan.x_m = 0.1, fan->fan.y_m = 0.2, fan->fan.z_m = 0.3;
  make (bench);
  g_assert_cmpint (the (bench, DEW_FINDING_ELECTRIC)->severity, ==, 1);
  set_rh (&bench->places[0].mean, 18.0, 0.95);
  make (bench);
  g_assert_cmpint (the (bench, DEW_FINDING_ELECTRIC)->severity, ==, 2);
  g_array_index (bench->variant.things, DewThing, 0).fan.low_voltage = TRUE;
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_ELECTRIC));
  /* A lamp on top of the enclosure stands in the room. */
  lamp = put_thing (bench, DEW_THING_LAMP, "Bar");
  lamp->lamp.z_m = 1.6;
  make (bench);
  g_assert_null (only (bench, DEW_FINDING_ELECTRIC));
}

/* One of a kind per bay, the worst of them; those to act on first; texts that fit. */
static void
test_order_and_texts (Bench *bench, gconstpointer data)
{
  const DewFinding *finding;

  for (int i = 0; i < 4; i++)
    put_plant (bench, 2 + i % 2, "cool");
  put_plant (bench, 4, "cool");
  set_rh (&bench->places[2].mean, 18.0, 0.60);
  set_rh (&bench->places[3].mean, 18.0, 0.50);
  set_rh (&bench->places[4].mean, 29.0, 0.99);
  bench->places[4].mean.speed_m_s = 0.01;
  bench->places[4].mean.age_s = 9000.0;
  bench->places[4].mean.wetting_kg_m2s = 1e-4;
  bench->places[4].mean.drip_kg_s = 1e-6;
  bench->places[0].mean.speed_m_s = 0.01;
  bench->places[0].mean.age_s = 9000.0;
  put_thing (bench, DEW_THING_FAN, "A fän with a näme far längér than any title of a list holds")
    ->fan.z_m
    = 1.2;
  make (bench);
  finding = the (bench, DEW_FINDING_DRY);
  expect_title (bench, finding, "Too dry for cool and 3 more, lowest shelf right");
  g_assert_cmpfloat_with_epsilon (plain_value (finding), 50.0, 1e-9);
  g_assert_cmpint (bench->forecast.n_findings, >=, 8);
  for (int i = 0; i < bench->forecast.n_findings; i++)
    {
      const DewFinding *f = &bench->forecast.findings[i];
      g_autofree char *title = NULL;

      if (i > 0)
        g_assert_cmpint (f->severity, <=, bench->forecast.findings[i - 1].severity);
      for (int j = 0; j < i; j++)
        g_assert_false (f->kind == bench->forecast.findings[j].kind
                        && f->bay == bench->forecast.findings[j].bay);
      title = dew_finding_title (&bench->forecast, f);
      g_assert_true (g_utf8_validate (title, -1, NULL));
      /* The place is there however long the name. */
      g_assert_nonnull (strstr (title, f->bay == 0 ? ", floor" : " shelf "));
    }
}

/* One spelling in all that programs read: lower case, words joined by '_', each once. */
static void
test_keys (void)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);

  for (int kind = 0; kind < DEW_N_FINDINGS; kind++)
    {
      const char *key = dew_finding_kind_key ((DewFindingKind) kind);

      g_assert_nonnull (key);
      g_test_message ("%s", key);
      g_assert_true (*key != '\0' && strspn (key, "abcdefghijklmnopqrstuvwxyz_") == strlen (key));
      g_assert_true (g_hash_table_add (seen, (gpointer) key));
    }
}

/* Whatever may be found is told whole, in every tongue. */
static void
test_all_told (void)
{
  for (int cause = 0; cause < DEW_N_CAUSES; cause++)
    {
      DewFinding finding = { .cause = (DewFindingCause) cause, .value = 0.5, .threshold = 0.25 };
      g_autofree char *flag = dew_finding_flag (&finding);
      g_autofree char *told = dew_finding_cause (&finding);

      g_test_message ("cause %d: %s", cause, flag);
      g_assert_cmpint (*flag, !=, '\0');
      g_assert_true (g_str_has_suffix (told, "."));
      g_assert_true (g_str_has_suffix (dew_finding_remedy (&finding), "."));
      g_assert_cmpint (*dew_finding_unit (&finding), !=, '\0');
      for (int tongue = 0; tongue < DEW_N_TONGUES; tongue++)
        {
          g_autofree char *value = dew_finding_measure (&finding, (DewTongue) tongue, 0.5);

          g_assert_true (g_ascii_isdigit (*value) || g_str_has_prefix (value, "−"));
        }
    }
  for (int limit = 0; limit < DEW_N_LIMITS; limit++)
    g_assert_cmpuint (strlen (dew_limit_source ((DewLimit) limit)), >, 0);
}

int
main (int argc, char **argv)
{
  static const struct
  {
    const char *path;
    void (*test) (Bench *, gconstpointer);
  } tests[] = {
    { "/findings/nothing-amiss", test_nothing_amiss },
    { "/findings/still", test_still },
    { "/findings/still-by-wish", test_still_by_wish },
    { "/findings/less-than-wished", test_less_than_wished },
    { "/findings/draught", test_draught },
    { "/findings/drying-time", test_drying_time },
    { "/findings/slow-to-dry", test_slow_to_dry },
    { "/findings/mist-and-drip", test_mist_and_drip },
    { "/findings/bands", test_bands },
    { "/findings/at-the-limit", test_at_the_limit },
    { "/findings/who-is-behind-it", test_who_is_behind_it },
    { "/findings/light", test_light },
    { "/findings/disease", test_disease },
    { "/findings/tank", test_tank },
    { "/findings/pot", test_pot },
    { "/findings/load", test_load },
    { "/findings/tipping", test_tipping },
    { "/findings/mains", test_mains },
    { "/findings/order-and-texts", test_order_and_texts },
  };

  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/findings/keys", test_keys);
  g_test_add_func ("/findings/all-told", test_all_told);
  for (guint i = 0; i < G_N_ELEMENTS (tests); i++)
    g_test_add (tests[i].path, Bench, NULL, bench_set_up, tests[i].test, bench_tear_down);
  return g_test_run ();
}
