/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "air.h"

#include <math.h>
#include <string.h>

DewChamber *
two_shelves (void)
{
  DewChamber *chamber = dew_chamber_new ();
  const double clear_m[3] = { 0.60, 0.30, 1.00 }, height_m[2] = { 0.30, 0.65 };
  DewThing lamp;

  for (int axis = 0; axis < 3; axis++)
    chamber->outer_m[axis] = clear_m[axis] + chamber->panels[2 * axis].thickness_m
                             + chamber->panels[2 * axis + 1].thickness_m;
  for (int i = 0; i < 2; i++)
    {
      DewThing shelf;

      dew_thing_init (&shelf, DEW_THING_SHELF);
      shelf.shelf.z_m = height_m[i];
      shelf.shelf.thickness_m = 0.01;
      shelf.shelf.gap_left_m = shelf.shelf.gap_right_m = 0.0;
      shelf.shelf.gap_front_m = shelf.shelf.gap_back_m = 0.0;
      shelf.shelf.load_limit_kg = 0.0;
      dew_variant_add (chamber, dew_chamber_shown (chamber), &shelf);
    }
  dew_thing_init (&lamp, DEW_THING_LAMP);
  lamp.lamp.x_m = 0.30;
  lamp.lamp.y_m = 0.15;
  lamp.lamp.z_m = 0.95;
  lamp.lamp.length_m = 0.30;
  dew_variant_add (chamber, dew_chamber_shown (chamber), &lamp);
  return chamber;
}

static DewClimate
plain_climate (gboolean night)
{
  DewClimate air = { .t_C = night ? 13.0 : 18.0,
                     .rh = 0.85,
                     .w_kg_kg = night ? 0.0079 : 0.0109,
                     .vpd_Pa = night ? 225.0 : 310.0,
                     .speed_m_s = 0.15,
                     .age_s = 300.0,
                     .ppfd_mol_m2s = night ? 0.0 : 80e-6 };

  air.t_band_K = air.rh_band = air.w_band_kg_kg = air.vpd_band_Pa = NAN;
  air.speed_band_m_s = air.still_band = air.age_band_s = NAN;
  return air;
}

DewForecast *
plain_air (const DewChamber *chamber, gboolean night)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewForecast) real = NULL;
  DewForecastOptions options;
  DewForecast *forecast;

  dew_forecast_options_init (&options);
  options.grid = DEW_GRID_DRAFT;
  options.night = night;
  real = dew_forecast_new (chamber, 0, &options, NULL, &error);
  g_assert_no_error (error);
  forecast = dew_forecast_copy (real);
  for (int p = 0; p < forecast->n_places; p++)
    forecast->places[p].mean = plain_climate (night);
  for (int b = 0; b < forecast->n_bays; b++)
    forecast->bays[b].mean = plain_climate (night);
  forecast->all = plain_climate (night);
  return forecast;
}

DewPlantKind
plain_kind (const char *name)
{
  DewPlantKind kind;

  dew_plant_kind_init (&kind);
  g_strlcpy (kind.name, name, sizeof kind.name);
  kind.t_day_min_C = 12.0;
  kind.t_day_ideal_C = 18.0;
  kind.t_day_max_C = 24.0;
  kind.t_night_min_C = 8.0;
  kind.t_night_ideal_C = 13.0;
  kind.t_night_max_C = 18.0;
  kind.rh_min = 0.70;
  kind.rh_ideal = 0.85;
  kind.rh_max = 0.95;
  kind.speed_lo_m_s = 0.08;
  kind.speed_hi_m_s = 0.30;
  kind.ppfd_lo_mol_m2s = 40e-6;
  kind.ppfd_hi_mol_m2s = 120e-6;
  kind.width_m = kind.height_m = 0.10;
  kind.crown = DEW_CROWN_TOLERATED;
  return kind;
}

gboolean
kind_in_list (const char *species, DewPlantKind *out, gpointer data)
{
  GArray *kinds = data;

  for (guint i = 0; kinds != NULL && i < kinds->len; i++)
    if (strcmp (g_array_index (kinds, DewPlantKind, i).name, species) == 0)
      {
        *out = g_array_index (kinds, DewPlantKind, i);
        return TRUE;
      }
  return FALSE;
}

void
wish_for (DewChamber *chamber, const char *name, const char *species, int count, int state,
          double pot_diameter_m)
{
  DewWish wish;

  dew_wish_init (&wish);
  g_strlcpy (wish.name, name, sizeof wish.name);
  g_strlcpy (wish.species, species, sizeof wish.species);
  wish.count = count;
  wish.state = state;
  wish.pot_diameter_m = pot_diameter_m;
  wish.width_m = wish.height_m = 0.0;
  dew_chamber_add_wish (chamber, &wish);
}

guint
stand (DewChamber *chamber, const char *name, const char *species, double x_m, double y_m,
       double z_m)
{
  DewThing thing;

  dew_thing_init (&thing, DEW_THING_PLANT);
  g_strlcpy (thing.name, name, sizeof thing.name);
  g_strlcpy (thing.plant.species, species, sizeof thing.plant.species);
  thing.plant.x_m = x_m;
  thing.plant.y_m = y_m;
  thing.plant.z_m = z_m;
  thing.plant.width_m = thing.plant.depth_m = thing.plant.height_m = 0.10;
  thing.plant.mass_kg = 0.0;
  thing.plant.pot_diameter_m = 0.0;
  return dew_variant_add (chamber, dew_chamber_shown (chamber), &thing)->id;
}

DewAssignment *
assign (const DewChamber *chamber, const DewForecast *day, const DewForecast *night, GArray *kinds)
{
  g_autoptr (GError) error = NULL;
  DewAssignOptions options;
  DewAssignment *assignment;

  dew_assign_options_init (&options);
  options.lookup = kind_in_list;
  options.lookup_data = kinds;
  assignment = dew_assign_new (chamber, 0, day, night, &options, NULL, &error);
  g_assert_no_error (error);
  return assignment;
}

const DewAssignPlant *
plant_named (const DewAssignment *assignment, const char *name, int number)
{
  for (int i = 0; i < assignment->n_plants; i++)
    if (strcmp (assignment->plants[i].name, name) == 0 && assignment->plants[i].number == number)
      return &assignment->plants[i];
  g_assert_not_reached ();
}

/* --- the rules, counted from the answer alone ------------------------------- */

static double
gap_between (double a, double wa, double b, double wb)
{
  return fabs (a - b) - 0.5 * 0.9 * (wa + wb);
}

/* Crowns do not overlap but for the tenth that may mingle, unless both stand as they stood;
 * nothing stands in a device; loads and heights hold. fit: [n_plants], by the caller. */
void
check_layout (const DewChamber *chamber, const DewAssignment *a, const DewFitPlant *fit)
{
  const DewVariant *variant = dew_chamber_shown ((DewChamber *) chamber);
  g_autofree double *kg = g_new0 (double, a->n_bays);

  for (int i = 0; i < a->n_plants; i++)
    {
      const DewAssignPlant *p = &a->plants[i];

      if (p->bay < 0)
        continue;
      if (p->verdict != DEW_ASSIGN_KEPT)
        kg[p->bay] += fit[i].mass_kg;
      for (int j = 0; j < i; j++)
        {
          const DewAssignPlant *q = &a->plants[j];

          if (q->bay != p->bay || (p->stays && q->stays))
            continue;
          g_assert_cmpfloat (
            MAX (gap_between (p->at_m[0], fit[i].width_m, q->at_m[0], fit[j].width_m),
                 gap_between (p->at_m[1], fit[i].width_m, q->at_m[1], fit[j].width_m)),
            >, -0.011);
        }
      if (p->stays)
        continue;
      for (guint k = 0; k < variant->things->len; k++)
        {
          const DewThing *thing = &g_array_index (variant->things, DewThing, k);
          double lo[3], hi[3], half = 0.45 * fit[i].width_m;

          if (thing->kind != DEW_THING_POT && thing->kind != DEW_THING_HUMIDIFIER
              && thing->kind != DEW_THING_FAN && thing->kind != DEW_THING_LAMP)
            continue;
          dew_thing_box (chamber, thing, lo, hi);
          g_assert_false (p->at_m[0] - half < hi[0] - 0.011 && p->at_m[0] + half > lo[0] + 0.011
                          && p->at_m[1] - half < hi[1] - 0.011 && p->at_m[1] + half > lo[1] + 0.011
                          && p->at_m[2] < hi[2] - 1e-6
                          && p->at_m[2] + fit[i].height_m > lo[2] + 1e-6);
        }
    }
  for (int b = 0; b < a->n_bays; b++)
    g_assert_cmpfloat (kg[b], <=, a->bays[b].load_left_kg + 1e-9);
}

/* The value is the sum of the plants', and everything about places is consistent. */
void
check_sums (const DewAssignment *a)
{
  gint64 sum = 0;
  g_autofree guint8 *used = g_new0 (guint8, a->n_spots);

  for (int i = 0; i < a->n_plants; i++)
    {
      const DewAssignPlant *p = &a->plants[i];
      g_autofree char *words = NULL, *needs = NULL;

      sum += p->value;
      g_assert_true ((p->bay >= 0)
                     == (p->verdict == DEW_ASSIGN_PLACED || p->verdict == DEW_ASSIGN_SUFFERS
                         || (p->verdict == DEW_ASSIGN_KEPT && p->bay >= 0)));
      words = dew_assign_words (p, DEW_TONGUE_METRIC);
      needs = dew_assign_needs (a, p, DEW_TONGUE_METRIC);
      if (p->bay < 0 || p->verdict == DEW_ASSIGN_SUFFERS)
        g_assert_nonnull (needs);
      g_assert_cmpint (words[0], !=, '\0');
      if (p->spot >= 0)
        {
          const DewAssignGroup *group = &a->groups[p->group];
          const DewAssignSpot *corner = &a->spots[p->spot];

          g_assert_cmpint (p->fit.score, ==, group->score[p->spot]);
          g_assert_cmpuint (p->fit.out, ==, group->out[p->spot]);
          for (int r = 0; r < group->span[1]; r++)
            for (int c = 0; c < group->span[0]; c++)
              {
                int s = (corner->bay * a->spots_deep + corner->row + r) * a->spots_across
                        + corner->column + c;

                g_assert_false (used[s] || a->spots[s].blocked);
                used[s] = 1;
              }
        }
    }
  g_assert_cmpfloat (a->value, ==, (double) sum);
  g_assert_cmpfloat (a->bound, >=, a->value);
}
