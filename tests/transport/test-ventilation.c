/* SPDX-License-Identifier: GPL-3.0-or-later */

/* How old the air is and how fast a tracer leaves, against what follows exactly for
 * mixed, piston and chained rooms. */

#include "flow/flow.h"
#include "published/box-flow.h"
#include "published/plain-box.h"
#include "transport/atmosphere.h"
#include "transport/scalar.h"

#include <math.h>
#include <string.h>

/* --- a room with a duct and a way out ------------------------------------------------ */

typedef struct
{
  DewChamber *chamber;
  DewZones *zones;
  DewLoads *loads;
  DewFlow *flow;
  double inflow_m3_s, volume_m3;
} Room;

/* Air is blown in low down; two holes let it out, or, so that a strong fan inside can
 * drive no more air through them, a second duct draws it out. */
static void
room_init (Room *room, double inflow_m3_s, gboolean drawn_out, double fan_m3_s, int steps)
{
  const double fan_at[3] = { 0.25, 0.25, 0.4 };
  DewLoadsOptions load_options
    = { test_formula_air.density_kg_m3, test_formula_air.latent_heat_J_kg, FALSE };
  DewFlowOptions options;
  guint duct, out = 0;

  room->chamber = test_plain_chamber (0.6, 0.5, 0.9);
  room->inflow_m3_s = inflow_m3_s;
  duct = test_add_duct (room->chamber, DEW_FACE_LEFT, 0.2, 0.3, 0.05, 0.15, inflow_m3_s);
  if (drawn_out)
    out = test_add_duct (room->chamber, DEW_FACE_RIGHT, 0.2, 0.3, 0.7, 0.8, -inflow_m3_s);
  else
    {
      test_add_hole (room->chamber, DEW_FACE_RIGHT, 0.2, 0.3, 0.7, 0.8, 0.61);
      test_add_hole (room->chamber, DEW_FACE_ROOF, 0.1, 0.2, 0.1, 0.2, 0.61);
    }
  if (fan_m3_s > 0.0)
    test_add_fan (room->chamber, fan_at, 0.6, 0.5, 0.14, fan_m3_s);
  room->zones = dew_zones_new (room->chamber, dew_chamber_shown (room->chamber), 0.07);
  room->loads
    = dew_loads_new (room->zones, room->chamber, dew_chamber_shown (room->chamber), &load_options);
  dew_flow_options_init (&options);
  room->flow = dew_flow_new (room->zones, &options, NULL);
  dew_flow_set_loads (room->flow, room->loads);
  dew_flow_set_fixed (room->flow, duct, inflow_m3_s);
  if (drawn_out)
    dew_flow_set_fixed (room->flow, out, -inflow_m3_s);
  for (int s = 0; s < steps; s++)
    g_assert_true (dew_flow_step (room->flow, 0.5));
  room->volume_m3 = 0.0;
  for (int at = 0; at < room->zones->size; at++)
    room->volume_m3 += room->zones->volume_m3[at];
}

static void
room_clear (Room *room)
{
  dew_flow_free (room->flow);
  dew_loads_free (room->loads);
  dew_zones_free (room->zones);
  dew_chamber_free (room->chamber);
}

/* Mean of a value over what flows out, by flow. */
static double
outflow_mean (const DewZones *z, const double *const flux[3], const double *value)
{
  double flow = 0.0, carried = 0.0;

  for (int p = 0; p < z->n_patches; p++)
    {
      const DewPatch *patch = &z->patches[p];
      double out = -patch->sign * flux[patch->axis][patch->face];

      if (out > 0.0)
        {
          flow += out;
          carried += out * value[patch->zone];
        }
    }
  return carried / flow;
}

static double
volume_mean (const DewZones *z, const double *value)
{
  double volume = 0.0, sum = 0.0;

  for (int at = 0; at < z->size; at++)
    {
      volume += z->volume_m3[at];
      if (z->volume_m3[at] > 0.0)
        sum += z->volume_m3[at] * value[at];
    }
  return sum / volume;
}

/* The age of what leaves is V/Q whatever the flow between: Sandberg, Building and
 * Environment 16, 1981; Etheridge & Sandberg, Building Ventilation, 1996. */
static void
test_age_of_outflow (void)
{
  static const double fans_m3_s[] = { 0.0, 0.01 };

  for (guint i = 0; i < G_N_ELEMENTS (fans_m3_s); i++)
    {
      Room room;
      DewRoomAir air = { 20.0, 0.007 };

      room_init (&room, 0.002, FALSE, fans_m3_s[i], 300);

      g_autoptr (DewAtmosphere) atmosphere
        = dew_atmosphere_new (room.zones, &test_formula_air, &air, 0.85);
      g_autofree double *age = g_new0 (double, room.zones->size);
      const double *flux[3];
      double nominal = room.volume_m3 / room.inflow_m3_s, leaving;

      for (int a = 0; a < 3; a++)
        flux[a] = dew_flow_flux (room.flow, a);
      g_assert_true (
        dew_atmosphere_age (atmosphere, flux, dew_flow_viscosity (room.flow), 1e-8, age));
      leaving = outflow_mean (room.zones, flux, age);
      g_test_message ("age of outflow %.8g s, V/Q %.8g s, mean age %.4g s", leaving, nominal,
                      volume_mean (room.zones, age));
      g_assert_cmpfloat (fabs (leaving / nominal - 1.0), <, 1e-6);
      room_clear (&room);
    }
}

/* The age of air in every zone when the flow is `factor` times as strong and the
 * diffusivity is molecular_m2_s. */
static void
solve_age (const Room *room, double factor, double molecular_m2_s, double *age_s)
{
  const DewZones *z = room->zones;
  g_autoptr (DewScalar) scalar = dew_scalar_new (z);
  double *scaled[3];
  DewScalarFlow flow = {
    .viscosity_m2_s = dew_flow_viscosity (room->flow),
    .molecular_m2_s = molecular_m2_s,
    /* Eddies left out: only the diffusivity that is given. */
    .laminar_m2_s = 0.0,
    .prandtl_turbulent = 1e30,
  };

  for (int a = 0; a < 3; a++)
    {
      scaled[a] = g_memdup2 (dew_flow_flux (room->flow, a), sizeof (double) * z->size);
      for (int at = 0; at < z->size; at++)
        scaled[a][at] *= factor;
      flow.flux_m3_s[a] = scaled[a];
    }
  dew_scalar_assemble (scalar, &flow);
  memset (age_s, 0, sizeof (double) * z->size);
  g_assert_cmpfloat (dew_scalar_solve (scalar, age_s, 0.0, NULL, z->volume_m3, 1e-10), <, 1e-8);
  for (int a = 0; a < 3; a++)
    g_free (scaled[a]);
}

/* The age that is shown is that of each zone, against a strict solution of the same equation.
 * The age of the outflow cannot tell: the enclosure as a whole is balanced whatever its zones
 * say, so that V/Q comes out of a field that is not solved at all. */
static void
test_age_of_each_zone (void)
{
  Room room;
  DewRoomAir air = { 20.0, 0.007 };
  double nominal, worst = 0.0;
  const double *flux[3];

  room_init (&room, 0.002, FALSE, 0.01, 300);
  nominal = room.volume_m3 / room.inflow_m3_s;
  for (int a = 0; a < 3; a++)
    flux[a] = dew_flow_flux (room.flow, a);

  g_autoptr (DewAtmosphere) atmosphere
    = dew_atmosphere_new (room.zones, &test_formula_air, &air, 0.85);
  g_autofree double *age = g_new0 (double, room.zones->size);
  g_autofree double *strict = g_new0 (double, room.zones->size);

  g_assert_true (dew_atmosphere_age (atmosphere, flux, dew_flow_viscosity (room.flow), 1e-8, age));

  g_autoptr (DewScalar) scalar = dew_scalar_new (room.zones);
  DewScalarFlow same = {
    .flux_m3_s = { flux[0], flux[1], flux[2] },
    .viscosity_m2_s = dew_flow_viscosity (room.flow),
    .laminar_m2_s = test_formula_air.viscosity_m2_s,
    .molecular_m2_s = test_formula_air.thermal_diffusivity_m2_s > 0.0
                        ? test_formula_air.thermal_diffusivity_m2_s
                        : test_formula_air.viscosity_m2_s / 0.71,
    .prandtl_turbulent = 0.85,
  };

  dew_scalar_assemble (scalar, &same);
  dew_scalar_solve (scalar, strict, 0.0, NULL, room.zones->volume_m3, 1e-12);
  for (int at = 0; at < room.zones->size; at++)
    if (room.zones->volume_m3[at] > 0.0)
      worst = MAX (worst, fabs (age[at] - strict[at]) / nominal);
  g_test_message ("worst zone off by %.2g of V/Q", worst);
  g_assert_cmpfloat (worst, <, 1e-3);
  room_clear (&room);
}

/* Fully mixed: every zone has the age V/Q, air exchange efficiency V/Q over twice the
 * mean age = 0.5 (Sandberg 1981). 1 %. */
static void
test_age_mixed (void)
{
  Room room;

  room_init (&room, 0.002, FALSE, 0.0, 50);

  g_autofree double *age = g_new0 (double, room.zones->size);
  double nominal = room.volume_m3 / room.inflow_m3_s, efficiency;

  solve_age (&room, 1.0, 10.0, age);
  efficiency = 0.5 * nominal / volume_mean (room.zones, age);
  g_test_message ("air exchange efficiency %.4f", efficiency);
  g_assert_cmpfloat (fabs (efficiency / 0.5 - 1.0), <, 0.01);
  for (int at = 0; at < room.zones->size; at++)
    if (room.zones->volume_m3[at] > 0.0)
      g_assert_cmpfloat (fabs (age[at] / nominal - 1.0), <, 0.01);
  room_clear (&room);
}

/* k times the flow with k times the diffusivity: every age falls to 1/k (the equation
 * of age, Sandberg 1981, is linear in both). */
static void
test_age_scales (void)
{
  const double k = 3.7;
  Room room;

  room_init (&room, 0.002, FALSE, 0.0, 100);

  g_autofree double *slow = g_new0 (double, room.zones->size);
  g_autofree double *fast = g_new0 (double, room.zones->size);

  solve_age (&room, 1.0, 1e-4, slow);
  solve_age (&room, k, k * 1e-4, fast);
  for (int at = 0; at < room.zones->size; at++)
    if (room.zones->volume_m3[at] > 0.0)
      g_assert_cmpfloat (fabs (k * fast[at] / slow[at] - 1.0), <, 1e-6);
  room_clear (&room);
}

/* --- piston and chain ---------------------------------------------------------------- */

/* Air pushed in over the whole of one wall and let out over the whole of the other,
 * along walls without friction: the solver's own flow is a piston, whose mean age is
 * half of V/Q, efficiency 1 (Sandberg 1981). 1 %. */
static void
test_age_piston (void)
{
  const double length = 1.2, side = 0.3, inflow = 0.003;
  g_autoptr (DewChamber) chamber = test_plain_chamber (length, side, side);
  guint duct = test_add_duct (chamber, DEW_FACE_LEFT, 0.0, side, 0.0, side, inflow);
  DewFlowOptions options;
  Room room = { .inflow_m3_s = inflow, .volume_m3 = length * side * side };

  test_add_hole (chamber, DEW_FACE_RIGHT, 0.0, side, 0.0, side, 0.61);
  dew_flow_options_init (&options);
  options.slip[DEW_FACE_FRONT] = options.slip[DEW_FACE_BACK] = TRUE;
  options.slip[DEW_FACE_FLOOR] = options.slip[DEW_FACE_ROOF] = TRUE;
  room.zones = dew_zones_new (chamber, dew_chamber_shown (chamber), 0.03);
  room.flow = dew_flow_new (room.zones, &options, NULL);
  dew_flow_set_fixed (room.flow, duct, inflow);
  for (int s = 0; s < 200; s++)
    g_assert_true (dew_flow_step (room.flow, 0.5));

  g_autofree double *age = g_new0 (double, room.zones->size);
  double efficiency;

  solve_age (&room, 1.0, 0.0, age);
  efficiency = 0.5 * room.volume_m3 / inflow / volume_mean (room.zones, age);
  g_test_message ("air exchange efficiency %.4f", efficiency);
  g_assert_cmpfloat (fabs (efficiency - 1.0), <, 0.01);
  dew_flow_free (room.flow);
  dew_zones_free (room.zones);
}

/* N mixed cells one after the other: age of the i-th i V / (N Q), mean (N + 1) V /
 * (2 N Q) (follows from the balance of each cell). The cells are four zones long,
 * stirred inside, with a tight screen between them. 1 %. */
static void
test_age_chain (void)
{
  static const int chains[] = { 1, 2, 3, 4, 10 };
  const double inflow = 1e-3, tight = 1e-9;
  const int per_cell = 4;

  for (guint c = 0; c < G_N_ELEMENTS (chains); c++)
    {
      const int cells = chains[c], n[3] = { per_cell * cells, 1, 1 };
      const double size_m[3] = { 0.2 * cells, 0.2, 0.2 }, even[3] = { 0.0, 0.0, 0.0 };
      g_autoptr (DewZones) z = test_box (n, size_m, even);
      g_autoptr (DewScalar) scalar = NULL;
      g_autofree double *age = g_new0 (double, z->size);
      g_autofree double *flux = g_new0 (double, z->size);
      g_autofree double *none = g_new0 (double, z->size);
      g_autofree double *sink = g_new0 (double, z->size);
      double nominal = size_m[0] * size_m[1] * size_m[2] / inflow;
      DewScalarFlow flow = { .flux_m3_s = { flux, none, none },
                             .viscosity_m2_s = none,
                             .molecular_m2_s = 10.0,
                             .prandtl_turbulent = 1.0 };

      for (int i = 2; i <= n[0]; i++)
        {
          flux[dew_zones_at (z, i, 1, 1)] = inflow;
          if ((i - 1) % per_cell == 0)
            z->open_m2[0][dew_zones_at (z, i, 1, 1)] *= tight;
        }
      /* Out of the last zone; what enters the first has no age. */
      sink[dew_zones_at (z, n[0], 1, 1)] = inflow;
      scalar = dew_scalar_new (z);
      dew_scalar_assemble (scalar, &flow);
      dew_scalar_solve (scalar, age, 0.0, sink, z->volume_m3, 1e-12);
      for (int i = 1; i <= n[0]; i++)
        {
          double cell = (i - 1) / per_cell + 1;

          g_assert_cmpfloat (fabs (age[dew_zones_at (z, i, 1, 1)] / (cell * nominal / cells) - 1.0),
                             <, 0.01);
        }
      g_assert_cmpfloat (fabs (volume_mean (z, age) / (nominal * (cells + 1) / (2.0 * cells))
                               - 1.0),
                         <, 0.01);
    }
}

/* --- tracer -------------------------------------------------------------------------- */

/* Concentration decay: the air change rate is the slope of ln C over time, by
 * regression (ASTM E741-11). A fan stirs, so C is nearly the same everywhere, as the
 * method asks for; real time steps shorter than the air needs through a zone. 1 %. */
static void
test_tracer_decay (void)
{
  Room room;

  room_init (&room, 0.001, TRUE, 0.03, 300);

  const DewZones *z = room.zones;
  g_autoptr (DewScalar) scalar = dew_scalar_new (z);
  g_autofree double *tracer = g_new0 (double, z->size);
  double nominal = room.volume_m3 / room.inflow_m3_s, dt = 0.015;
  double n = 0.0, st = 0.0, sy = 0.0, stt = 0.0, sty = 0.0, rate;
  DewScalarFlow flow = {
    .viscosity_m2_s = dew_flow_viscosity (room.flow),
    .laminar_m2_s = test_formula_air.viscosity_m2_s,
    .molecular_m2_s = 1.5e-5,
    .prandtl_turbulent = 0.85,
  };

  for (int a = 0; a < 3; a++)
    flow.flux_m3_s[a] = dew_flow_flux (room.flow, a);
  dew_scalar_assemble (scalar, &flow);
  for (int at = 0; at < z->size; at++)
    tracer[at] = 1.0;
  for (int step = 1; step <= 10000; step++)
    {
      dew_scalar_step (scalar, tracer, 0.0, NULL, NULL, TRUE, dt);
      if (step % 50 != 0 || step < 2000)
        continue;

      double t = step * dt, y = log (volume_mean (z, tracer));

      n += 1.0;
      st += t;
      sy += y;
      stt += t * t;
      sty += t * y;
    }
  rate = -(n * sty - st * sy) / (n * stt - st * st);
  g_test_message ("decay %.5g per hour, nominal %.5g", 3600.0 * rate, 3600.0 / nominal);
  g_assert_cmpfloat (fabs (rate * nominal - 1.0), <, 0.01);
  room_clear (&room);
}

/* --- vapour -------------------------------------------------------------------------- */

/* Damp air is light: an ideal mixture weighs as p - 0.378 p_w (virtual temperature,
 * any meteorology text, e.g. WMO No. 8), so that air of 20 C going from 50 to 85 % RH
 * loses 0.307 % of its density at 101325 Pa, as 0.90 K of warmth would do; at 24 C
 * from 45 to 90 %, 0.504 % and 1.50 K. 3 %: the model's lift is a straight line, with
 * the slope at the room's own humidity ratio. */
static void
test_vapour_lift (void)
{
  static const struct
  {
    double t_C, w_room, w_inside, density_share, like_K;
  } rows[] = {
    /* Humidity ratios by 0.621945 p_w / (p - p_w), p_sat 2338.8 and 2985.1 Pa. */
    { 20.0, 0.0072617, 0.0124467, 0.00307, 0.90 },
    { 24.0, 0.0083562, 0.0169399, 0.00504, 1.50 },
  };
  const int n[3] = { 3, 3, 3 };
  const double size_m[3] = { 0.3, 0.3, 0.3 }, even[3] = { 0.0, 0.0, 0.0 };

  for (guint r = 0; r < G_N_ELEMENTS (rows); r++)
    {
      g_autoptr (DewZones) z = test_box (n, size_m, even);
      DewAir air = test_formula_air;
      DewRoomAir room = { rows[r].t_C, rows[r].w_room };
      g_autoptr (DewAtmosphere) atmosphere = NULL;
      int at = dew_zones_at (z, 2, 2, 2);
      double w = rows[r].w_inside - rows[r].w_room, lift, warm;

      air.expansion_1_K = 1.0 / (rows[r].t_C + 273.15);
      air.vapour_lift = 0.608 / ((1.0 + room.w_kg_kg) * (1.0 + 1.608 * room.w_kg_kg));
      atmosphere = dew_atmosphere_new (z, &air, &room, 0.85);
      /* As warm as the room: all of the enthalpy is vapour. */
      for (int i = 0; i < z->size; i++)
        {
          dew_atmosphere_water (atmosphere)[i] = w;
          dew_atmosphere_enthalpy (atmosphere)[i]
            = air.latent_heat_J_kg / air.specific_heat_J_kgK * w;
        }
      dew_atmosphere_refresh (atmosphere);
      g_assert_cmpfloat (fabs (dew_atmosphere_t (atmosphere)[at]), <, 1e-9);
      lift = dew_atmosphere_buoyancy (atmosphere)[at];

      /* The same box, dry and warmer. */
      for (int i = 0; i < z->size; i++)
        {
          dew_atmosphere_water (atmosphere)[i] = 0.0;
          dew_atmosphere_enthalpy (atmosphere)[i] = rows[r].like_K;
        }
      dew_atmosphere_refresh (atmosphere);
      warm = dew_atmosphere_buoyancy (atmosphere)[at];
      g_test_message ("%.0f C: lift %.5f of g, mixture %.5f; warmth %.5f", rows[r].t_C,
                      lift / air.gravity_m_s2, rows[r].density_share, warm / air.gravity_m_s2);
      g_assert_cmpfloat (fabs (lift / air.gravity_m_s2 / rows[r].density_share - 1.0), <, 0.03);
      g_assert_cmpfloat (fabs (lift / warm - 1.0), <, 0.03);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/ventilation/age/outflow", test_age_of_outflow);
  g_test_add_func ("/ventilation/age/each-zone", test_age_of_each_zone);
  g_test_add_func ("/ventilation/age/mixed", test_age_mixed);
  g_test_add_func ("/ventilation/age/scales", test_age_scales);
  g_test_add_func ("/ventilation/age/piston", test_age_piston);
  g_test_add_func ("/ventilation/age/chain", test_age_chain);
  g_test_add_func ("/ventilation/tracer", test_tracer_decay);
  g_test_add_func ("/ventilation/vapour", test_vapour_lift);
  return g_test_run ();
}
