/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which lamp, how high, how long: what must hold for any answer. */
#include "ask.h"

#include "../forecast/enclosure.h"
#include "forecast/findings.h"
#include "say/light.h"
#include "transport/light.h"

#include <math.h>
#include <string.h>

#define LO_MOL_M2S 60e-6
#define HI_MOL_M2S 120e-6

/* A kind that wants 60 to 120 umol/m2s for twelve hours. */
static gboolean
kind_of_light (const char *species, DewPlantKind *out, gpointer data)
{
  dew_plant_kind_init (out);
  g_strlcpy (out->name, species, sizeof out->name);
  out->rh_min = 0.2;
  out->rh_max = 1.0;
  out->t_day_min_C = out->t_night_min_C = 5.0;
  out->t_day_max_C = 24.0;
  out->t_night_max_C = 24.0;
  out->ppfd_lo_mol_m2s = LO_MOL_M2S;
  out->ppfd_hi_mol_m2s = HI_MOL_M2S;
  return strcmp (species, "Wood") == 0;
}

static DewLightAdvice *
advise (const DewChamber *chamber)
{
  g_autoptr (GError) error = NULL;
  DewLightAdvice *advice;
  DewLightQuestion q;

  dew_light_question_init (&q);
  q.lookup = kind_of_light;
  advice = dew_light_advise (chamber, 0, &q, NULL, &error);
  g_assert_no_error (error);
  return advice;
}

static DewChamber *
enclosure (void)
{
  DewChamber *chamber = film_enclosure (0.7, 0.4, 1.0, 20.0, 0.6);

  add_shelf (chamber, 0.5, DEW_SHELF_SOLID, 0.0);
  add_plant (chamber, "Wood", 0.25, 0.2, 0.02);
  add_plant (chamber, "Wood", 0.45, 0.2, 0.52);
  return chamber;
}

/* Without a lamp a plant is too dark, and is said to be; a lamp is advised for each shelf, and once
 * hung the plants get their twelve hours' light: asked again, nothing is to change. */
static void
test_dark (void)
{
  g_autoptr (DewChamber) chamber = enclosure ();
  g_autoptr (DewLightAdvice) advice = advise (chamber), again = NULL;
  g_autofree char *verdict = dew_light_verdict (advice, DEW_TONGUE_METRIC);

  g_test_message ("%s", verdict);
  g_assert_cmpint (advice->n_bays, ==, 2);
  g_assert_true (advice->change);
  g_assert_cmpint (advice->hours, >=, DEW_LIGHT_LEAST_H);
  g_assert_cmpint (advice->hours, <=, DEW_LIGHT_MOST_H);
  for (int n = 0; n < 2; n++)
    {
      const DewLightBay *bay = &advice->bays[n];

      g_assert_cmpint (bay->now.dark, ==, 1);
      g_assert_cmpfloat (bay->now.hi_mol_m2s, ==, 0.0);
      g_assert_cmpint (bay->then.dark + bay->then.bright, ==, 0);
      g_assert_cmpint (bay->n_lamps, >, 0);
      /* Room to the leaves: common practice, no source. */
      g_assert_cmpfloat (bay->above_m, >=, 0.15 - 1e-9);
      /* A day's light by hand: PPFD x 3600 s x hours. */
      g_assert_cmpfloat_with_epsilon (bay->then.day_mol_m2,
                                      bay->then.mean_mol_m2s * 3600.0 * advice->hours, 1e-6);
      g_assert_cmpfloat (bay->then.day_mol_m2, >=, 0.98 * LO_MOL_M2S * 43200.0);
      g_assert_cmpfloat (bay->then.day_mol_m2, <=, 1.02 * HI_MOL_M2S * 43200.0);
      g_assert_cmpfloat (bay->then.hi_mol_m2s, <=, 1.02 * HI_MOL_M2S);
    }
  dew_light_apply (chamber, chamber->shown_variant, advice, FALSE);
  g_assert_cmpuint (dew_chamber_check (chamber, chamber->shown_variant)->len, ==, 0);
  again = advise (chamber);
  g_assert_false (again->change);
  g_assert_cmpfloat_with_epsilon (again->bays[0].now.day_mol_m2, advice->bays[0].then.day_mol_m2,
                                  1e-9);
}

/* Lamps at 6 umol/m2s never may simply 'burn 16 hours': the answer asks for more light. */
static void
test_weak_lamp (void)
{
  g_autoptr (DewChamber) chamber = enclosure ();
  g_autoptr (DewLightAdvice) advice = NULL;
  DewThing *lamp = add_thing (chamber, DEW_THING_LAMP, 0.35, 0.2, 0.9);

  lamp->lamp.power_W = 1.0;
  lamp->lamp.efficacy_mol_J = 2.0e-6;
  advice = advise (chamber);
  g_assert_cmpfloat (advice->bays[1].now.mean_mol_m2s, <, 15e-6);
  g_assert_cmpint (advice->bays[1].now.dark, ==, 1);
  g_assert_cmpint (advice->bays[1].n_lamps, >, 0);
  g_assert_cmpint (advice->bays[1].then.dark, ==, 0);
}

/* Enough daylight: no lamp is asked for. Without it the plant is found too dark by the forecast,
 * too, also where there is no lamp. */
static void
test_daylight (void)
{
  g_autoptr (DewChamber) chamber = enclosure ();
  g_autoptr (DewLightAdvice) advice = NULL;

  chamber->room.daylight_mol_m2s = 110e-6;
  for (int face = 0; face < DEW_N_FACES; face++)
    chamber->panels[face].light_transmission = 0.9;
  advice = advise (chamber);
  g_assert_false (advice->change);
  for (int n = 0; n < 2; n++)
    {
      g_assert_cmpint (advice->bays[n].now.dark, ==, 0);
      g_assert_cmpfloat_with_epsilon (advice->bays[n].now.day_mol_m2,
                                      advice->bays[n].now.mean_mol_m2s * 43200.0, 1e-6);
    }
}

/* Day and night each against their own limits: where the room by day leaves no warmth to spare and
 * its night does, the lamps are lit in the night. */
static void
test_warm (void)
{
  g_autoptr (DewChamber) chamber = enclosure ();
  g_autoptr (DewLightAdvice) advice = NULL;
  g_autofree char *words = NULL;

  for (int month = 0; month < 12; month++)
    {
      chamber->room.months[month].t_day_C = 23.5;
      chamber->room.months[month].t_night_C = 17.0;
    }
  advice = advise (chamber);
  words = dew_light_warmth_words (advice, DEW_TONGUE_METRIC);
  g_test_message ("%s", words);
  g_assert_cmpfloat (advice->by_day[1].t_day_C, >, 24.0);
  g_assert_cmpfloat_with_epsilon (advice->by_day[1].over_K, advice->by_day[1].t_day_C - 24.0, 1e-9);
  g_assert_true (advice->night_better);
  g_assert_cmpfloat (advice->by_night[1].t_day_C, <, 24.0);
  dew_light_apply (chamber, chamber->shown_variant, advice, TRUE);
  for (guint t = 0; t < dew_chamber_shown (chamber)->things->len; t++)
    {
      const DewThing *thing = &g_array_index (dew_chamber_shown (chamber)->things, DewThing, t);

      if (thing->kind != DEW_THING_LAMP)
        continue;
      g_assert_cmpfloat (thing->lamp.on_day, ==, 0.0);
      g_assert_cmpfloat (thing->lamp.on_night, >, 0.0);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/lamps/dark", test_dark);
  g_test_add_func ("/lamps/weak-lamp", test_weak_lamp);
  g_test_add_func ("/lamps/daylight", test_daylight);
  g_test_add_func ("/lamps/warm", test_warm);
  return g_test_run ();
}
