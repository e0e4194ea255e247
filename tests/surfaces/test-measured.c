/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Wet surfaces, leaves, drops and meshes against what was measured on them. A value that the
 * model misses is written down with its size; the bands are those of the measurements. */

#include "catalogue/catalogue.h"
#include "moist/moist.h"
#include "transport/droplet.h"
#include "transport/films.h"
#include "transport/leaf.h"
#include "transport/wet.h"

#include "read-table.h"

#include <math.h>
#include <string.h>

#define P0 101325.0

static void
check_between (const char *what, double value, double low, double high)
{
  if (!(value >= low && value <= high))
    g_test_fail_printf ("%s: %.4g is not between %.4g and %.4g", what, value, low, high);
}

/* --- an artificial leaf of wet paper -------------------------------------------------- */

#define LEAF_M 0.03
#define LEAF_M2 (LEAF_M * LEAF_M)
#define DRY_AIR_KG_M3 1.2929 /* at 0 C and one atmosphere, to which the inflow was reduced */

typedef struct
{
  const char *series;
  double wind_m_s, air_C, wall_C;
  double w_kg_kg; /* of the air in the tunnel */
  double absorbed_W_m2;
  double leaf_C;      /* measured */
  double flux_kg_m2s; /* measured, and its scatter */
  double scatter_kg_m2s;
} WetLeaf;

/* The tunnel's humidity follows from its water: what the incoming air brought and what the
 * leaf gave. The dew point that the humidifier showed was biased; its authors take 1.06 times
 * it less 2.45 K. */
static void
read_leaf (const TestTable *table, guint row, WetLeaf *leaf)
{
  double dew_C = 1.06 * test_table_number (table, row, "dew_C") - 2.45;
  double dry_kg_s = 1e-3 / 60.0 * test_table_number (table, row, "inflow_l_min") * DRY_AIR_KG_M3;
  double given_kg_s = 1e-6 / 60.0 * test_table_number (table, row, "evaporation_mg_min");
  double net_W_m2 = test_table_number (table, row, "net_W_m2");

  leaf->series = test_table_text (table, row, "series");
  leaf->wind_m_s = test_table_number (table, row, "wind_m_s");
  leaf->air_C = test_table_number (table, row, "air_C");
  leaf->wall_C = test_table_number (table, row, "wall_C");
  leaf->leaf_C = test_table_number (table, row, "leaf_C");
  leaf->w_kg_kg = dew_moist_w_from_p_w (dew_moist_p_sat (dew_C), P0) + given_kg_s / dry_kg_s;
  leaf->flux_kg_m2s = given_kg_s / LEAF_M2;
  leaf->scatter_kg_m2s = 1e-6 / 60.0 * test_table_number (table, row, "scatter_mg_min") / LEAF_M2;
  /* The radiometers saw light and long wave together; the model adds the long wave itself. */
  leaf->absorbed_W_m2 = 0.0;
  if (leaf->series[0] == 'l')
    leaf->absorbed_W_m2
      = net_W_m2 - 2.0 * dew_film_radiation_h (0.97, leaf->air_C) * (leaf->wall_C - leaf->leaf_C);
}

/* The model's leaf, whose stomata hold nothing back. */
static DewLeafState
as_leaf (const WetLeaf *wet)
{
  DewLeaf leaf = {
    .t_air_C = wet->air_C,
    .w_air_kg_kg = wet->w_kg_kg,
    .p_Pa = P0,
    .speed_m_s = wet->wind_m_s,
    .t_radiant_C = wet->wall_C,
    .absorbed_W_m2 = wet->absorbed_W_m2,
    .length_m = LEAF_M,
    .conductance_mol_m2s = 999.0,
  };

  return dew_leaf_state (&leaf);
}

/* The same as a wet face with a dry back, which takes heat from the air as the face does. */
static DewWetState
as_face (const WetLeaf *wet)
{
  DewFilmAir film = dew_film_air (wet->air_C, P0);
  DewWetSurface face = {
    .facing = DEW_FACING_DOWN,
    .length_m = LEAF_M,
    .emissivity = 0.95,
    .wetted_fraction = 1.0,
    .t_air_C = wet->air_C,
    .w_air_kg_kg = wet->w_kg_kg,
    .p_Pa = P0,
    .speed_m_s = wet->wind_m_s,
    .t_radiant_C = wet->wall_C,
    .absorbed_W_m2 = wet->absorbed_W_m2,
  };
  DewWetState state = dew_wet_surface (&face, &film);

  for (int round = 0; round < 60; round++)
    {
      double back_W_m2
        = (state.h_W_m2K + dew_film_radiation_h (0.95, wet->air_C)) * (wet->air_C - state.t_C);

      face.absorbed_W_m2 += 0.3 * (wet->absorbed_W_m2 + back_W_m2 - face.absorbed_W_m2);
      state = dew_wet_surface (&face, &film);
    }
  return state;
}

/* Air of 16 to 82 %, wind of up to 1.5 m/s, in the dark and in strong light; beyond, its authors
 * find the boundary layer turbulent (Re 3000), which no air in an enclosure makes. The correction
 * of the dew point (1.06 or 1.09 times it) and half a millimetre at the edge of the leaf leave 7 %
 * open, reckoned here: 10 %, and twice the scatter of the flow meter. The sensor inside the leaf
 * is held warm by its wires and by the light on them: 1.5 K. */
static void
test_wet_leaf (void)
{
  g_autoptr (TestTable) table = test_table_read ("surfaces/wet_leaf.csv");
  int rows = 0;

  for (guint row = 0; row < table->rows->len; row++)
    {
      WetLeaf wet;
      DewLeafState leaf;
      DewWetState face;
      double band;

      read_leaf (table, row, &wet);
      if (wet.wind_m_s > 1.5)
        continue;
      leaf = as_leaf (&wet);
      face = as_face (&wet);
      band = 0.10 + 2.0 * wet.scatter_kg_m2s / wet.flux_kg_m2s;
      g_test_message ("%s, %.2f m/s: leaf %+.1f %%, %+.2f K; face %+.1f %%, %+.2f K; band %.0f %%",
                      wet.series, wet.wind_m_s,
                      100.0 * (leaf.transpiration_kg_m2s / wet.flux_kg_m2s - 1.0),
                      leaf.t_C - wet.leaf_C,
                      100.0 * (face.evaporation_kg_m2s / wet.flux_kg_m2s - 1.0),
                      face.t_C - wet.leaf_C, 100.0 * band);
      check_between ("leaf gives", leaf.transpiration_kg_m2s / wet.flux_kg_m2s, 1.0 - band,
                     1.0 + band);
      check_between ("face gives", face.evaporation_kg_m2s / wet.flux_kg_m2s, 1.0 - band,
                     1.0 + band);
      check_between ("leaf warmth", leaf.t_C - wet.leaf_C, -1.5, 1.5);
      check_between ("face warmth", face.t_C - wet.leaf_C, -1.5, 1.5);
      rows++;
    }
  g_assert_cmpint (rows, >=, 12);
}

/* More wind, more water: between the calmest air and 3 m/s, in the dark and in strong light, as
 * much more as measured, within 15 %. */
static void
test_wind_on_wet_leaf (void)
{
  g_autoptr (TestTable) table = test_table_read ("surfaces/wet_leaf.csv");
  static const struct
  {
    const char *series;
    double dew_C;
  } winds[] = { { "dark", 10.2 }, { "lit", -10.1 } };

  for (guint s = 0; s < G_N_ELEMENTS (winds); s++)
    {
      WetLeaf slow = { .wind_m_s = 1e3 }, fast = { .wind_m_s = 0.0 };
      double measured, modelled;

      for (guint row = 0; row < table->rows->len; row++)
        {
          WetLeaf wet;

          read_leaf (table, row, &wet);
          if (strcmp (wet.series, winds[s].series) != 0
              || fabs (test_table_number (table, row, "dew_C") - winds[s].dew_C) > 0.1)
            continue;
          if (wet.wind_m_s < slow.wind_m_s)
            slow = wet;
          if (wet.wind_m_s > fast.wind_m_s && wet.wind_m_s < 3.0)
            fast = wet;
        }
      measured = fast.flux_kg_m2s / slow.flux_kg_m2s;
      modelled = as_leaf (&fast).transpiration_kg_m2s / as_leaf (&slow).transpiration_kg_m2s;
      g_test_message ("%s, %.1f over %.1f m/s: %.2f measured, %.2f", winds[s].series, fast.wind_m_s,
                      slow.wind_m_s, measured, modelled);
      check_between ("wind", modelled / measured, 0.85, 1.15);
    }
}

/* --- water and drops ------------------------------------------------------------------ */

/* kg/m2s that undisturbed water gives: 74 % of what the handbook's relation says, (0.089 +
 * 0.0782 v)(p_w - p_a)/Y in kPa and kJ/kg (Carrier 1918; ASHRAE Applications). Smith, Lof &
 * Jones, ASHRAE Trans. 104(1A), 1998. */
static double
undisturbed_kg_m2s (double water_C, double p_w_Pa, double speed_m_s)
{
  return 0.74 * (0.089 + 0.0782 * speed_m_s) * 1e-3 * (dew_moist_p_sat (water_C) - p_w_Pa)
         / (1e-3 * dew_moist_latent_heat (water_C));
}

/* A tray of 30 cm in the drift of a quiet room. The best of many formulas deviates 18 % from the
 * data of eleven sources (Shah, HVAC&R Research 8, 2002), and the tray is no pool: 30 %. */
static void
test_still_water (void)
{
  static const double rh[] = { 0.3, 0.5, 0.7 }, speed_m_s[] = { 0.05, 0.10 };

  for (guint r = 0; r < G_N_ELEMENTS (rh); r++)
    for (guint v = 0; v < G_N_ELEMENTS (speed_m_s); v++)
      {
        DewFilmAir film = dew_film_air (22.0, P0);
        DewWetSurface tray = {
          .facing = DEW_FACING_UP,
          .length_m = 0.30 / 4.0,
          .emissivity = 0.95,
          .wetted_fraction = 1.0,
          .t_air_C = 22.0,
          .w_air_kg_kg = dew_moist_w_from_rh (22.0, rh[r], P0),
          .p_Pa = P0,
          .speed_m_s = speed_m_s[v],
          .t_radiant_C = 22.0,
        };
        DewWetState state = dew_wet_surface (&tray, &film);
        double expected
          = undisturbed_kg_m2s (state.t_C, rh[r] * dew_moist_p_sat (22.0), speed_m_s[v]);

        g_test_message ("RH %.0f %%, %.2f m/s: %.2f of the measured relation", 100.0 * rh[r],
                        speed_m_s[v], state.evaporation_kg_m2s / expected);
        check_between ("tray", state.evaporation_kg_m2s / expected, 0.70, 1.30);
      }
}

/* Water as warm as a pool's, whose moist air rises: E = 35 rho_w (rho_a - rho_w)^(1/3) (W_w - W_a)
 * in kg/m2h, rho of the dry air and W at the water and in the room. Shah, ASHRAE Trans. 98(1),
 * 1992, and HVAC&R Research 8, 2002, from memory; within his 18 %. */
static void
test_warm_water (void)
{
  static const double rows[][3]
    = { { 28.0, 27.0, 0.55 }, { 26.0, 22.0, 0.5 }, { 30.0, 20.0, 0.6 } };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      double water_C = rows[i][0], air_C = rows[i][1], p_w = rows[i][2] * dew_moist_p_sat (air_C);
      double w_water = dew_moist_w_sat (water_C, P0), w_air = dew_moist_w_from_p_w (p_w, P0);
      double dry_water = dew_moist_density (water_C, w_water, P0) / (1.0 + w_water);
      double dry_air = dew_moist_density (air_C, w_air, P0) / (1.0 + w_air);
      double shah = 35.0 / 3600.0 * dry_water * cbrt (dry_air - dry_water) * (w_water - w_air);
      DewFilmAir film = dew_film_air (0.5 * (water_C + air_C), P0);
      double excess_K = dew_moist_t_virtual (water_C, w_water) - dew_moist_t_virtual (air_C, w_air);
      double h = dew_film_h (&film, DEW_FACING_UP, 2.0, excess_K, 0.0);
      double gives = dew_vapour_flux_kg_m2s (&film, h, water_C, air_C, p_w);

      g_test_message ("water %.0f C in %.0f C: %.2f of the formula", water_C, air_C, gives / shah);
      check_between ("pool", gives / shah, 0.82, 1.18);
    }
}

/* Drops at rest and in a stream of dry air: the rate at rest times 1 + 0.3 Re^(1/2) Sc^(1/3)
 * (Ranz & Marshall, Chem. Eng. Prog. 48, 1952). 8 %, of which the hot air of the last rows takes
 * most. */
static void
test_drops_in_a_stream (void)
{
  g_autoptr (TestTable) table = test_table_read ("surfaces/ranz_marshall.csv");

  for (guint row = 0; row < table->rows->len; row++)
    {
      double d_m = 1e-6 * test_table_number (table, row, "diameter_um");
      double air_C = test_table_number (table, row, "air_C");
      double p_Pa = test_table_number (table, row, "p_Pa");
      double drop_C, still = dew_droplet_shrink_m2_s (air_C, 0.0, p_Pa, &drop_C);
      double film_C = 0.5 * (air_C + drop_C), viscosity = dew_moist_viscosity (film_C, p_Pa);
      double re = test_table_number (table, row, "speed_m_s") * d_m / viscosity;
      double faster
        = 1.0 + 0.3 * sqrt (re) * cbrt (viscosity / dew_moist_vapour_diffusivity (film_C, p_Pa));
      double measured = test_table_number (table, row, "shrink_m2_s");

      g_test_message ("%.0f C, Re %.1f: %.3g m2/s measured, %+.1f %%", air_C, re, measured,
                      100.0 * (still * faster / measured - 1.0));
      check_between ("drop", still * faster / measured, 0.92, 1.08);
      /* Its thermocouple warmed the drop, most where no stream cooled the wires. */
      if (re > 15.0 && air_C < 40.0)
        check_between ("warmth of the drop", drop_C - test_table_number (table, row, "drop_C"),
                       -1.2, 0.0);
    }
}

/* Levitated droplets of 44 and 57 um: what their square has lost at the end, within 15 %. */
static void
test_levitated_drops (void)
{
  g_autoptr (TestTable) table = test_table_read ("surfaces/taflin.csv");
  double first_um = NAN;

  for (guint row = 0; row < table->rows->len; row++)
    {
      double now_um = test_table_number (table, row, "diameter_um");
      double time_s = test_table_number (table, row, "time_s");
      double air_C = test_table_number (table, row, "air_C");
      double lost_m2, model_m2;

      if (time_s == 0.0)
        first_um = now_um;
      if (row + 1 < table->rows->len && test_table_number (table, row + 1, "time_s") > 0.0)
        continue;
      lost_m2 = 1e-12 * (first_um * first_um - now_um * now_um);
      model_m2 = time_s * dew_droplet_shrink_m2_s (air_C, 0.0, P0, NULL);
      g_test_message ("%.0f C: %.3g m2 in %.3f s, %+.1f %%", air_C, lost_m2, time_s,
                      100.0 * (model_m2 / lost_m2 - 1.0));
      check_between ("levitated drop", model_m2 / lost_m2, 0.85, 1.15);
    }
}

/* Particles of fluorescein (1.35 g/cm3, from memory) on the floor of a duct of 15 cm at 2.2 m/s:
 * 2.8, 5.2 and 16 um landed at 0.32, 1.32 and 8.8 mm/s; the walls took 0.0074, 0.019 and 0.24.
 * Sippola, Particle Deposition in Ventilation Ducts, thesis, Berkeley 2002. So floors take what
 * settles and walls next to nothing, which is how mist is lost here. The turbulence at a floor adds
 * to it and the density is remembered: a quarter. */
static void
test_deposition (void)
{
  static const double rows[][3]
    = { { 2.8e-6, 0.32e-3, 0.0074e-3 }, { 5.2e-6, 1.32e-3, 0.019e-3 }, { 16e-6, 8.8e-3, 0.24e-3 } };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      double settling
        = dew_droplet_fall_speed_m_s (rows[i][0], 1350.0, dew_moist_density (20.0, 0.005, P0),
                                      dew_moist_viscosity (20.0, P0));

      g_test_message ("%.1f um: settling %.2f of what the floor took", 1e6 * rows[i][0],
                      settling / rows[i][1]);
      check_between ("floor", settling / rows[i][1], 0.75, 1.25);
      g_assert_cmpfloat (rows[i][2], <, 0.03 * settling);
    }
}

/* --- meshes --------------------------------------------------------------------------- */

/* Insect screens in a wind tunnel at 0.25 m/s, coefficient on the whole area: 0.207 for open
 * shares of 35.0 %, 0.151 for 26.3 %. Sensors 16, 690, 2016. What the catalogue puts into an
 * opening resists as much, within 5 % of the coefficient. A third screen of 36.0 %, with thinner
 * threads, had 0.325: the open share does not tell all. */
static void
test_insect_screens (void)
{
  static const struct
  {
    const char *name;
    double coefficient;
  } screens[] = { { "insect mesh, fine (porosity 0.35)", 0.207 },
                  { "insect mesh, very fine (porosity 0.26)", 0.151 } };
  const DewCatalogue *vents = dew_catalogue ("vents");

  for (guint i = 0; i < G_N_ELEMENTS (screens); i++)
    {
      int row = dew_catalogue_find (vents, screens[i].name);
      DewThing thing;

      g_assert_cmpint (row, >=, 0);
      dew_thing_init (&thing, DEW_THING_OPENING);
      dew_catalogue_apply_thing (vents, row, &thing);
      check_between (screens[i].name,
                     thing.opening.discharge_coefficient * thing.opening.free_ratio
                       / screens[i].coefficient,
                     0.95, 1.05);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measured/wet-leaf", test_wet_leaf);
  g_test_add_func ("/measured/wind-on-wet-leaf", test_wind_on_wet_leaf);
  g_test_add_func ("/measured/still-water", test_still_water);
  g_test_add_func ("/measured/warm-water", test_warm_water);
  g_test_add_func ("/measured/drops-in-a-stream", test_drops_in_a_stream);
  g_test_add_func ("/measured/levitated-drops", test_levitated_drops);
  g_test_add_func ("/measured/deposition", test_deposition);
  g_test_add_func ("/measured/insect-screens", test_insect_screens);
  return g_test_run ();
}
