/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "enclosure.h"
#include "moist/moist.h"

#include <math.h>

/* What anyone who knows physics may expect of whole forecasts, without a simulation to compare
 * with: laws of conservation, orifice and power laws, what is left alone by mirrors and scales,
 * and which way a change must go. Enclosures as a grower might draw them. */

#define G_H (1e-3 / 3600.0) /* kg/s */
#define M3_H (1.0 / 3600.0)

static double
relative (double value, double expected)
{
  return value / expected - 1.0;
}

static void
check_near (const char *what, double value, double expected, double share)
{
  g_test_message ("%s: %.4g, expected %.4g, off by %+.2f %%", what, value, expected,
                  100.0 * relative (value, expected));
  if (!(fabs (relative (value, expected)) <= share))
    g_test_fail_printf ("%s: %.4g instead of %.4g, off by %+.2f %%, allowed %.2f %%", what, value,
                        expected, 100.0 * relative (value, expected), 100.0 * share);
}

static void
check_less (const char *what, double smaller, double larger)
{
  g_test_message ("%s: %.4g < %.4g", what, smaller, larger);
  if (!(smaller < larger))
    g_test_fail_printf ("%s: %.4g is not less than %.4g", what, smaller, larger);
}

static double
density_of_room (const DewForecast *f)
{
  return dew_moist_density (f->room_t_C, f->room_w_kg_kg, f->pressure_Pa);
}

/* A free fan in the lower left that stirs the whole box. */
static DewThing *
add_stirrer (DewChamber *chamber, double free_m3_s)
{
  DewThing *fan = add_thing (chamber, DEW_THING_FAN, 0.12, 0.25, 0.15);

  fan->fan.diameter_m = 0.10;
  fan->fan.free_delivery_m3_s = free_m3_s;
  fan->fan.elevation_rad = 0.6;
  fan->fan.power_W = 0.0;
  return fan;
}

/* Adiabatic, tight, 0.6 x 0.5 x 0.9 m, in a room of 20 C. */
static DewChamber *
tight_box (double rh)
{
  DewChamber *chamber = film_enclosure (0.6, 0.5, 0.9, 20.0, rh);

  make_adiabatic (chamber, 0.0);
  return chamber;
}

/* --- dilution ----------------------------------------------------------------------------- */

/* Air at in_m3_s through a duct low at the left, out by a hole high at the right; a source of
 * vapour on the floor. */
static DewForecast *
ventilated (double in_m3_s, double vapour_kg_s, double heat_W, double stir_m3_s)
{
  g_autoptr (DewChamber) chamber = tight_box (0.5);
  DewThing *thing = add_hole (chamber, DEW_FACE_LEFT, 0.15, 0.35, 0.05, 0.15);

  thing->opening.kind = DEW_OPENING_DUCT;
  thing->opening.duct_flow_m3_s = in_m3_s;
  add_hole (chamber, DEW_FACE_RIGHT, 0.15, 0.35, 0.75, 0.85);
  thing = add_thing (chamber, DEW_THING_SOURCE, 0.3, 0.25, 0.0);
  thing->source.width_m = thing->source.depth_m = 0.2;
  thing->source.heat_W = heat_W;
  thing->source.vapour_kg_s = vapour_kg_s;
  thing->source.latent_from_air = FALSE;
  if (stir_m3_s > 0.0)
    add_stirrer (chamber, stir_m3_s);
  return forecast_by_day (chamber, DEW_GRID_DRAFT);
}

static double
excess_kg_kg (const DewForecast *f)
{
  return f->all.w_kg_kg - f->room_w_kg_kg;
}

/* Steady dilution: excess = source / flow, in kg of water per kg of air (any text on ventilation,
 * e.g. Etheridge & Sandberg, Building Ventilation, 1996). Of the outflow exactly; of the box as
 * far as it is mixed: 5 %. Twice the flow with twice the source is the same excess, 3 %. */
static void
test_dilution (void)
{
  g_autoptr (DewForecast) one = ventilated (10.0 * M3_H, 10.0 * G_H, 0.0, 80.0 * M3_H);
  g_autoptr (DewForecast) two = ventilated (20.0 * M3_H, 20.0 * G_H, 0.0, 160.0 * M3_H);
  g_autoptr (DewForecast) rich = ventilated (10.0 * M3_H, 20.0 * G_H, 0.0, 80.0 * M3_H);
  double flow_kg_s = 10.0 * M3_H * density_of_room (one);

  check_near ("water that leaves", -one->balance.water_openings_kg_s, 10.0 * G_H, 1e-3);
  check_near ("air that leaves", one->balance.air_out_m3_s, one->balance.air_in_m3_s, 1e-3);
  check_near ("excess of a stirred box", excess_kg_kg (one), 10.0 * G_H / flow_kg_s, 0.05);
  check_near ("twice flow and source", excess_kg_kg (two), excess_kg_kg (one), 0.03);
  check_near ("twice the source", excess_kg_kg (rich), 2.0 * excess_kg_kg (one), 0.05);
}

/* The same for heat: excess = P / (rho cp Q). */
static void
test_heat_dilution (void)
{
  g_autoptr (DewForecast) f = ventilated (20.0 * M3_H, 0.0, 20.0, 160.0 * M3_H);
  double out_K
    = 20.0 / (20.0 * M3_H * density_of_room (f) * 1006.0 * (1.0 + 1.86 * f->room_w_kg_kg));

  check_near ("heat that leaves", -f->balance.heat_openings_W, 20.0, 2e-3);
  check_near ("rise of a stirred box", f->all.t_C - f->room_t_C, out_K, 0.05);
}

/* A wick in an airtight stream cools the air along its wet bulb: 1 g/kg into 20 C of 40 % ends at
 * 17.6 C with water fed at 20 C (enthalpy balance, ASHRAE Fundamentals ch. 1). */
static void
test_along_the_wet_bulb (void)
{
  g_autoptr (DewChamber) chamber = tight_box (0.4);
  g_autoptr (DewForecast) f = NULL;
  DewThing *thing = add_hole (chamber, DEW_FACE_LEFT, 0.15, 0.35, 0.05, 0.15);
  double flow_kg_s;

  thing->opening.kind = DEW_OPENING_DUCT;
  thing->opening.duct_flow_m3_s = 20.0 * M3_H;
  flow_kg_s = 20.0 * M3_H * 1.2;
  add_hole (chamber, DEW_FACE_RIGHT, 0.15, 0.35, 0.75, 0.85);
  thing = add_thing (chamber, DEW_THING_SOURCE, 0.3, 0.25, 0.0);
  thing->source.width_m = thing->source.depth_m = 0.2;
  thing->source.heat_W = 0.0;
  thing->source.vapour_kg_s = 1e-3 * flow_kg_s;
  thing->source.latent_from_air = TRUE;
  add_stirrer (chamber, 100.0 * M3_H);
  f = forecast_by_day (chamber, DEW_GRID_DRAFT);
  g_test_message ("%.2f C, %+.3f g/kg", f->all.t_C, 1e3 * excess_kg_kg (f));
  g_assert_cmpfloat (fabs (excess_kg_kg (f) - 1e-3), <, 1e-4);
  g_assert_cmpfloat (fabs (f->all.t_C - (20.0 - 2.4 * excess_kg_kg (f) / 1e-3)), <, 0.15);
}

/* --- stack -------------------------------------------------------------------------------- */

static DewForecast *
stack (double heat_W, double stir_m3_s, double high_m2)
{
  g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 1.2, 20.0, 0.5);
  double side = 0.10, high = sqrt (high_m2);
  DewThing *thing;

  make_adiabatic (chamber, 0.0);
  add_hole (chamber, DEW_FACE_LEFT, 0.25 - 0.5 * side, 0.25 + 0.5 * side, 0.10, 0.10 + side);
  add_hole (chamber, DEW_FACE_LEFT, 0.25 - 0.5 * high, 0.25 + 0.5 * high, 1.05 - 0.5 * high,
            1.05 + 0.5 * high);
  thing = add_thing (chamber, DEW_THING_SOURCE, 0.35, 0.25, heat_W > 0.0 ? 0.0 : 1.0);
  thing->source.width_m = thing->source.depth_m = 0.2;
  thing->source.heat_W = heat_W;
  if (stir_m3_s > 0.0)
    {
      thing = add_thing (chamber, DEW_THING_FAN, 0.45, 0.25, 0.60);
      thing->fan.diameter_m = 0.10;
      thing->fan.free_delivery_m3_s = stir_m3_s;
      thing->fan.elevation_rad = G_PI_2;
      thing->fan.power_W = 0.0;
    }
  return forecast_by_day (chamber, DEW_GRID_DRAFT);
}

static double
inflow_m3_s (const DewForecast *f, int nth)
{
  return f->exchanges[nth].inflow_m3_s - f->exchanges[nth].outflow_m3_s;
}

/* Mean rise between two heights. */
static double
rise_between (const DewForecast *f, double z0_m, double z1_m)
{
  double lo[3] = { 0.0, 0.0, z0_m }, hi[3] = { f->inner_m[0], f->inner_m[1], z1_m };
  DewClimate mean;

  dew_forecast_box (f, lo, hi, &mean);
  return mean.t_C - f->room_t_C;
}

static void
test_stack (void)
{
  static const double heat_W[] = { 10.0, 40.0, -10.0 };

  for (guint n = 0; n < G_N_ELEMENTS (heat_W); n++)
    {
      g_autoptr (DewForecast) f = stack (heat_W[n], 0.0, 0.01);
      double rise_K = rise_between (f, 0.15, 1.05), area = 0.01 / sqrt (2.0);
      double law = 0.61 * area * sqrt (2.0 * 9.81 * 0.90 * fabs (rise_K) / (f->room_t_C + 273.15));

      g_test_message ("%.0f W: low hole %+.3g m3/s, high %+.3g, state %d", heat_W[n],
                      inflow_m3_s (f, 0), inflow_m3_s (f, 1), f->state);
      check_near ("through the low hole", inflow_m3_s (f, 0), copysign (law, heat_W[n]), 0.08);
      check_near ("through the high hole", inflow_m3_s (f, 1), -copysign (law, heat_W[n]), 0.08);
      check_near ("heat that leaves", -f->balance.heat_openings_W, heat_W[n], 0.01);
    }
}

/* Flow goes as the cube root of the heat, rise as its two thirds (Linden et al. 1990, for any
 * stack with losses of orifices). */
static void
test_stack_scales (void)
{
  g_autoptr (DewForecast) weak = stack (5.0, 0.0, 0.01), strong = NULL, wide = NULL;

  strong = stack (40.0, 0.0, 0.01);
  wide = stack (5.0, 0.0, 0.04);
  check_near ("eight times the heat, flow", inflow_m3_s (strong, 0) / inflow_m3_s (weak, 0), 2.0,
              0.03);
  check_near ("eight times the heat, rise",
              (strong->all.t_C - strong->room_t_C) / (weak->all.t_C - weak->room_t_C), 4.0, 0.04);
  check_less ("a wider hole, flow", 1.15 * inflow_m3_s (weak, 0), inflow_m3_s (wide, 0));
}

/* --- U-values ----------------------------------------------------------------------------- */

static DewForecast *
heated_box (double heat_W, double u_W_m2K, double longwave, double stir_m3_s)
{
  g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 0.9, 20.0, 0.5);
  DewThing *thing;

  chamber->leak_area_m2 = 0.0;
  for (int face = 0; face < DEW_N_FACES; face++)
    {
      chamber->panels[face].u_value_W_m2K = u_W_m2K;
      chamber->panels[face].longwave_transmission = longwave;
    }
  thing = add_thing (chamber, DEW_THING_SOURCE, 0.3, 0.25, 0.0);
  thing->source.width_m = thing->source.depth_m = 0.2;
  thing->source.heat_W = heat_W;
  if (stir_m3_s > 0.0)
    add_stirrer (chamber, stir_m3_s);
  return forecast_by_day (chamber, DEW_GRID_DRAFT);
}

/* All heat goes through the cover. A U-value counts on films of 0.13 m2K/W on either side, of which
 * more than half is radiation (ISO 6946:2017 Annex C: h_r 5.7, h_c 2.5 W/m2K). Heat that is given
 * to the air alone reaches a cover that is as warm all round by convection only, h_c of 2 to 5
 * W/m2K, so that the box is warmer than P/UA, by 1/h_c - 0.13 whatever the sheet: 0.07 to 0.37
 * m2K/W. */
static void
test_u_value (void)
{
  static const double u[] = { 3.84, 2.0, 1.0 };
  const double area = 2.0 * (0.6 * 0.5 + 0.6 * 0.9 + 0.5 * 0.9);
  double extra[2][3];

  for (guint n = 0; n < G_N_ELEMENTS (u); n++)
    for (int stirred = 0; stirred < 2; stirred++)
      {
        g_autoptr (DewForecast) f = heated_box (20.0, u[n], 0.0, stirred ? 80.0 * M3_H : 0.0);
        double through_W = 0.0;

        for (int face = 0; face < DEW_N_FACES; face++)
          through_W += f->cover[face].heat_W;
        check_near ("heat through the cover", through_W, 20.0, 0.005);
        extra[stirred][n] = (f->all.t_C - f->room_t_C) * area / 20.0 - 1.0 / u[n];
        g_test_message ("U %.2f, %s: +%.2f K, P/UA %.2f K, extra film %.3f m2K/W", u[n],
                        stirred ? "stirred" : "still", f->all.t_C - f->room_t_C,
                        20.0 / (u[n] * area), extra[stirred][n]);
        g_assert_cmpfloat (extra[stirred][n], >, 0.07);
        g_assert_cmpfloat (extra[stirred][n], <, 0.37);
      }
  for (guint n = 0; n < G_N_ELEMENTS (u); n++)
    {
      check_near ("the same film behind another sheet", extra[0][n], extra[0][0], 0.15);
      check_less ("stirred air passes heat better", extra[1][n], extra[0][n]);
    }
}

/* Warm air under a roof, heated close below it, without radiation: nothing warms the air further
 * down, which stays as the room's; through the roof goes what its films let, (T_air - T_room) =
 * q (1/h + R + R_o), h = 0.54 Ra^(1/4) k/L of a cold plate facing down (McAdams 1954), 15 %. */
static void
test_layer_under_the_roof (void)
{
  g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 1.2, 20.0, 0.5);
  g_autoptr (DewForecast) f = NULL;
  DewThing *thing;
  double top_K, through_W = 0.0, q_W_m2, film_K;

  chamber->leak_area_m2 = 1e-4;
  for (int face = 0; face < DEW_N_FACES; face++)
    {
      chamber->panels[face].longwave_transmission = 1.0;
      chamber->panels[face].u_value_W_m2K = 3.84;
    }
  thing = add_thing (chamber, DEW_THING_SOURCE, 0.3, 0.25, 1.05);
  thing->source.width_m = 0.4;
  thing->source.depth_m = 0.3;
  thing->source.height_m = 0.05;
  thing->source.heat_W = 20.0;
  f = forecast_by_day (chamber, DEW_GRID_DRAFT);
  g_assert_cmpint (f->state, ==, DEW_FORECAST_SETTLED);
  for (int face = 0; face < DEW_N_FACES; face++)
    through_W += f->cover[face].heat_W;
  check_near ("heat that leaves", through_W - f->balance.heat_openings_W, 20.0, 0.01);
  top_K = rise_between (f, 1.1, 1.2);
  q_W_m2 = f->cover[DEW_FACE_ROOF].heat_W / (0.6 * 0.5);
  film_K = top_K - (f->cover[DEW_FACE_ROOF].t_C - f->room_t_C);
  g_test_message ("under the roof +%.2f K, roof +%.2f K, %.1f W/m2; +%.3f K in the lower half",
                  top_K, f->cover[DEW_FACE_ROOF].t_C - f->room_t_C, q_W_m2,
                  rise_between (f, 0.0, 0.6));
  check_less ("the lower half stays cool", rise_between (f, 0.0, 0.6), 0.05 * top_K);
  {
    double t_C = 20.0 + top_K - 0.5 * film_K, length_m = 0.6 * 0.5 / 2.2;
    double viscosity = dew_moist_viscosity (t_C, f->pressure_Pa);
    double rayleigh = 9.81 / (t_C + 273.15) * film_K * length_m * length_m * length_m
                      / (viscosity * dew_moist_thermal_diffusivity (t_C, f->pressure_Pa));
    double h = 0.54 * pow (rayleigh, 0.25) * dew_moist_conductivity (t_C) / length_m;

    check_near ("heat through the roof's film", q_W_m2, h * film_K, 0.15);
  }
}

/* On the room's side of a roof that loses heat upward lie 0.10 m2K/W, of a floor 0.17, of a wall
 * 0.13 (ISO 6946:2017 Table 7), of which 0.9 times 5.7 W/m2K are long waves (Annex C) that a sheet
 * which lets them through does not give off. The sheet's own share follows from its upright U-value
 * with 0.13 on either side. 2 %. */
static void
test_outer_films (void)
{
  static const struct
  {
    DewFace face;
    double area_m2, outer_m2K_W;
  } faces[] = { { DEW_FACE_ROOF, 0.6 * 0.5, 0.10 },
                { DEW_FACE_FLOOR, 0.6 * 0.5, 0.17 },
                { DEW_FACE_BACK, 0.6 * 0.9, 0.13 } };

  for (int cold = 0; cold < 2; cold++)
    for (int clear = 0; clear < 2; clear++)
      {
        double longwave = clear ? 0.8 : 0.0;
        g_autoptr (DewForecast) f = heated_box (cold ? -20.0 : 20.0, 2.0, longwave, 80.0 * M3_H);

        for (guint n = 0; n < G_N_ELEMENTS (faces); n++)
          {
            /* Where the box is cooled, heat goes down through the roof and up through the floor. */
            const DewCover *cover = &f->cover[faces[n].face];
            double outer = faces[cold && n < 2 ? 1 - n : n].outer_m2K_W;

            outer = 1.0 / (1.0 / outer - longwave * 0.9 * 5.7);
            check_near ("sheet and outer film",
                        (cover->t_C - f->room_t_C) * faces[n].area_m2 / cover->heat_W,
                        1.0 / 2.0 - 2.0 * 0.13 + outer, 0.02);
          }
      }
}

/* --- mirrors, shifts and symmetry --------------------------------------------------------- */

/* A grower's layout: a fan, a pot, a mat, a flap low and one high, a wire shelf; `mirrored` left
 * for right. */
static DewForecast *
lopsided (gboolean mirrored)
{
  const double width = 0.7;
  g_autoptr (DewChamber) chamber = film_enclosure (width, 0.5, 1.0, 20.0, 0.5);
  DewThing *thing;

#define ACROSS(x_) (mirrored ? width - (x_) : (x_))
  chamber->leak_area_m2 = 5e-4;
  add_shelf (chamber, 0.5, DEW_SHELF_WIRE, 0.8);
  add_hole (chamber, mirrored ? DEW_FACE_RIGHT : DEW_FACE_LEFT, 0.15, 0.35, 0.05, 0.15);
  add_hole (chamber, mirrored ? DEW_FACE_LEFT : DEW_FACE_RIGHT, 0.15, 0.35, 0.80, 0.90);
  thing = add_thing (chamber, DEW_THING_FAN, ACROSS (0.12), 0.22, 0.20);
  thing->fan.free_delivery_m3_s = 30.0 * M3_H;
  thing->fan.azimuth_rad = mirrored ? G_PI - 0.4 : 0.4;
  thing->fan.elevation_rad = 0.2;
  thing->fan.power_W = 0.0;
  thing = add_thing (chamber, DEW_THING_MAT, ACROSS (0.45), 0.25, 0.0);
  thing->mat.power_W = 10.0;
  add_pot (chamber, ACROSS (0.25), 0.25, 0.506, 0.12);
  return forecast_by_day (chamber, DEW_GRID_DRAFT);
#undef ACROSS
}

/* A mirrored layout is the mirrored answer: nothing in physics knows left from right. 0.2 %. */
static void
test_mirror (void)
{
  g_autoptr (DewForecast) one = lopsided (FALSE), other = lopsided (TRUE);
  double rise = one->all.t_C - one->room_t_C, moist = one->all.w_kg_kg - one->room_w_kg_kg;

  for (int b = 0; b < one->n_bays; b++)
    {
      const DewClimate *p = &one->bays[b].mean, *q = &other->bays[b].mean;

      check_near ("speed of a bay", q->speed_m_s, p->speed_m_s, 0.002);
      check_near ("rise of a bay", q->t_C - other->room_t_C + rise, p->t_C - one->room_t_C + rise,
                  0.002);
      check_near ("water of a bay", q->w_kg_kg - other->room_w_kg_kg + moist,
                  p->w_kg_kg - one->room_w_kg_kg + moist, 0.002);
      check_near ("age of a bay", q->age_s, p->age_s, 0.005);
    }
  check_near ("air changes", other->exchange_1_s, one->exchange_1_s, 0.002);
}

/* A layout that is its own mirror image has an answer that is, in its means: heat in the middle of
 * the floor, two holes on either side. 2 % of the largest. */
static void
test_symmetry (void)
{
  g_autoptr (DewChamber) chamber = film_enclosure (0.7, 0.5, 1.0, 20.0, 0.5);
  g_autoptr (DewForecast) f = NULL;
  DewThing *thing;
  DewClimate half[2];

  chamber->leak_area_m2 = 0.0;
  for (int side = 0; side < 2; side++)
    {
      add_hole (chamber, DEW_FACE_LEFT + side, 0.15, 0.35, 0.05, 0.15);
      add_hole (chamber, DEW_FACE_LEFT + side, 0.15, 0.35, 0.80, 0.90);
    }
  thing = add_thing (chamber, DEW_THING_MAT, 0.35, 0.25, 0.0);
  thing->mat.width_m = 0.2;
  thing->mat.power_W = 20.0;
  f = forecast_by_day (chamber, DEW_GRID_DRAFT);
  for (int side = 0; side < 2; side++)
    {
      double lo[3] = { 0.35 * side, 0.0, 0.0 }, hi[3] = { 0.35 * (side + 1), 0.5, 1.0 };

      dew_forecast_box (f, lo, hi, &half[side]);
    }
  check_near ("right and left, speed", half[1].speed_m_s, half[0].speed_m_s, 0.02);
  check_near ("right and left, rise", half[1].t_C - f->room_t_C, half[0].t_C - f->room_t_C, 0.02);
  for (int hole = 0; hole < 4; hole++)
    g_test_message ("hole %d: %+.4g m3/s", hole, inflow_m3_s (f, hole));
  check_near ("low holes", inflow_m3_s (f, 2), inflow_m3_s (f, 0), 0.02);
  check_near ("high holes", inflow_m3_s (f, 3), inflow_m3_s (f, 1), 0.02);
}

/* --- which way a change must go ------------------------------------------------------------ */

/* Film with two flaps, a wet tray, a fan and a humidifier. */
typedef struct
{
  double flap_open, leak_m2, mist_kg_s, fan_m3_s, heat_W, u_W_m2K, room_rh, room_t_C, wetted;
} Grower;

static const Grower usual = { 0.3, 5e-4, 20.0 * G_H, 30.0 * M3_H, 10.0, 3.84, 0.45, 20.0, 1.0 };

static DewForecast *
forecast_of_grower (const Grower *g)
{
  g_autoptr (DewChamber) chamber = film_enclosure (0.7, 0.5, 1.0, g->room_t_C, g->room_rh);
  DewThing *thing;

  chamber->leak_area_m2 = g->leak_m2;
  for (int face = 0; face < DEW_N_FACES; face++)
    chamber->panels[face].u_value_W_m2K = g->u_W_m2K;
  add_shelf (chamber, 0.5, DEW_SHELF_WIRE, 0.8);
  thing = add_hole (chamber, DEW_FACE_FRONT, 0.2, 0.5, 0.05, 0.12);
  thing->opening.open_fraction = g->flap_open;
  thing = add_hole (chamber, DEW_FACE_FRONT, 0.2, 0.5, 0.88, 0.95);
  thing->opening.open_fraction = g->flap_open;
  thing = add_thing (chamber, DEW_THING_FAN, 0.15, 0.25, 0.25);
  thing->fan.free_delivery_m3_s = g->fan_m3_s;
  thing->fan.power_W = 0.0;
  thing = add_thing (chamber, DEW_THING_MAT, 0.45, 0.25, 0.0);
  thing->mat.power_W = g->heat_W;
  thing = add_pot (chamber, 0.25, 0.25, 0.506, 0.14);
  thing->pot.wetted_fraction = g->wetted;
  thing = add_thing (chamber, DEW_THING_HUMIDIFIER, 0.55, 0.40, 0.506);
  thing->humidifier.technology = DEW_MIST_WICK;
  thing->humidifier.output_kg_s = g->mist_kg_s;
  thing->humidifier.duty_day = 1.0;
  thing->humidifier.set_rh = 0.0;
  return forecast_by_day (chamber, DEW_GRID_DRAFT);
}

static void
test_signs (void)
{
  Grower g = usual;
  g_autoptr (DewForecast) base = forecast_of_grower (&usual);
  g_autoptr (DewForecast) open = NULL, leaky = NULL, misty = NULL, windy = NULL, warm = NULL;
  g_autoptr (DewForecast) thick = NULL, damp_room = NULL, warm_room = NULL, dry_pot = NULL;

  g_test_message ("usual: %.1f C, %.1f %%, %.3g 1/s, state %d", base->all.t_C, 100.0 * base->all.rh,
                  base->exchange_1_s, base->state);
  g.flap_open = 1.0;
  open = forecast_of_grower (&g);
  check_less ("wider flaps are drier", open->all.w_kg_kg, base->all.w_kg_kg);
  check_less ("wider flaps are cooler", open->all.t_C, base->all.t_C);
  check_less ("wider flaps change the air faster", base->exchange_1_s, open->exchange_1_s);
  g = usual;
  g.leak_m2 = 50e-4;
  leaky = forecast_of_grower (&g);
  check_less ("leakier is drier", leaky->all.w_kg_kg, base->all.w_kg_kg);
  check_less ("leakier is less humid", leaky->all.rh, base->all.rh);
  g = usual;
  g.mist_kg_s *= 1.5;
  misty = forecast_of_grower (&g);
  check_less ("more water is damper", base->all.rh, misty->all.rh);
  check_less ("more evaporation is cooler", misty->all.t_C, base->all.t_C);
  g = usual;
  g.fan_m3_s *= 2.0;
  windy = forecast_of_grower (&g);
  check_less ("a stronger fan is faster", 1.3 * base->all.speed_m_s, windy->all.speed_m_s);
  check_less ("a stronger fan leaves less still air", windy->all.still_share,
              base->all.still_share);
  g = usual;
  g.heat_W *= 2.0;
  warm = forecast_of_grower (&g);
  check_less ("more heat is warmer", base->all.t_C, warm->all.t_C);
  check_less ("more heat is less humid", warm->all.rh, base->all.rh);
  check_less ("more heat draws more air", base->exchange_1_s, warm->exchange_1_s);
  g = usual;
  g.u_W_m2K = 1.2;
  thick = forecast_of_grower (&g);
  check_less ("a thicker cover is warmer", base->all.t_C, thick->all.t_C);
  g = usual;
  g.room_rh = 0.60;
  damp_room = forecast_of_grower (&g);
  check_less ("a damper room is damper inside", base->all.w_kg_kg, damp_room->all.w_kg_kg);
  g = usual;
  g.room_t_C = 24.0;
  g.room_rh = usual.room_rh * dew_moist_p_sat (20.0) / dew_moist_p_sat (24.0);
  warm_room = forecast_of_grower (&g);
  check_less ("a warmer room of the same water is less humid inside", warm_room->all.rh,
              base->all.rh);
  check_near ("and as much warmer", warm_room->all.t_C - base->all.t_C, 4.0, 0.05);
  g = usual;
  g.wetted = 0.0;
  dry_pot = forecast_of_grower (&g);
  check_less ("a dry pot gives nothing", dry_pot->all.w_kg_kg, base->all.w_kg_kg);
}

/* --- mist in an insulated box --------------------------------------------------------------- */

/* Two holes, a fan and 60 g/h; no heat comes in but with the air. */
static DewForecast *
misted (double room_rh, double droplet_m)
{
  g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 1.2, 20.0, room_rh);
  DewThing *thing;

  make_adiabatic (chamber, 5e-4);
  add_hole (chamber, DEW_FACE_LEFT, 0.1, 0.4, 0.05, 0.10);
  add_hole (chamber, DEW_FACE_RIGHT, 0.1, 0.4, 1.00, 1.05);
  thing = add_thing (chamber, DEW_THING_HUMIDIFIER, 0.3, 0.25, 0.0);
  thing->humidifier.technology = DEW_MIST_ULTRASONIC;
  thing->humidifier.output_kg_s = 60.0 * G_H;
  thing->humidifier.droplet_m = droplet_m;
  thing->humidifier.duty_day = 1.0;
  thing->humidifier.set_rh = 0.0;
  thing->humidifier.power_W = 0.0;
  thing = add_thing (chamber, DEW_THING_FAN, 0.15, 0.25, 0.25);
  thing->fan.free_delivery_m3_s = 40.0 * M3_H;
  thing->fan.elevation_rad = 0.6;
  thing->fan.power_W = 0.0;
  return forecast_by_day (chamber, DEW_GRID_DRAFT);
}

/* The second law: water that evaporates into air of the room's own state can only moisten and cool
 * it, along its wet bulb; no drop, however large, dries or warms the air (0.02 g/kg, 0.05 K). What
 * the air took up is between nothing and all of it, less the coarser the drop. */
static void
test_mist (void)
{
  static const double rh[] = { 0.40, 0.80, 0.97 };
  static const double droplet_m[] = { 3e-6, 10e-6, 20e-6, 40e-6, 60e-6, 120e-6 };

  for (guint r = 0; r < G_N_ELEMENTS (rh); r++)
    {
      double last = 1.0;

      for (guint d = 0; d < G_N_ELEMENTS (droplet_m); d++)
        {
          g_autoptr (DewForecast) f = misted (rh[r], droplet_m[d]);
          double driest = 1.0, warmest = -100.0, wet_bulb_K;

          for (int z = 0; z < f->n_zones; z++)
            {
              driest = MIN (driest, f->value[DEW_VALUE_HUMIDITY_RATIO][z]);
              warmest = MAX (warmest, f->value[DEW_VALUE_TEMPERATURE][z]);
            }
          wet_bulb_K
            = f->all.t_C - f->room_t_C + dew_moist_latent_heat (20.0) / 1016.0 * excess_kg_kg (f);
          g_test_message (
            "RH %.0f %%, %.0f um: %.2f C, warmest %.2f, %+.3f g/kg, driest %+.3f, off "
            "the wet bulb %+.3f K, %.2f taken up, state %d",
            100.0 * rh[r], 1e6 * droplet_m[d], f->all.t_C, warmest, 1e3 * excess_kg_kg (f),
            1e3 * (driest - f->room_w_kg_kg), wet_bulb_K, f->evaporated_share, f->state);
          check_less ("no drier than the room", f->room_w_kg_kg - 0.02e-3, driest);
          check_less ("no warmer than the room", warmest, f->room_t_C + 0.05);
          check_less ("along the wet bulb", fabs (wet_bulb_K), 0.10);
          check_less ("takes up no less than nothing", -1e-3, f->evaporated_share);
          check_less ("coarser drops evaporate less", f->evaporated_share, last + 1e-3);
          last = f->evaporated_share;
        }
    }
}

/* Fine mist in a stream of dry, stirred air ends as the vapour of a wick does: what is given over
 * what flows, and cool by the heat that it took. Of the box as far as it is mixed: 5 %. */
static void
test_fine_mist (void)
{
  for (int wick = 0; wick < 2; wick++)
    {
      g_autoptr (DewChamber) chamber = tight_box (0.4);
      g_autoptr (DewForecast) f = NULL;
      DewThing *thing = add_hole (chamber, DEW_FACE_LEFT, 0.15, 0.35, 0.05, 0.15);
      double expected_kg_kg;

      thing->opening.kind = DEW_OPENING_DUCT;
      thing->opening.duct_flow_m3_s = 20.0 * M3_H;
      add_hole (chamber, DEW_FACE_RIGHT, 0.15, 0.35, 0.75, 0.85);
      thing = add_thing (chamber, DEW_THING_HUMIDIFIER, 0.4, 0.25, 0.0);
      thing->humidifier.technology = wick ? DEW_MIST_WICK : DEW_MIST_ULTRASONIC;
      thing->humidifier.output_kg_s = 40.0 * G_H;
      thing->humidifier.droplet_m = 3e-6;
      thing->humidifier.duty_day = 1.0;
      thing->humidifier.set_rh = 0.0;
      thing->humidifier.power_W = 0.0;
      add_stirrer (chamber, 160.0 * M3_H);
      f = forecast_by_day (chamber, DEW_GRID_DRAFT);
      expected_kg_kg = 40.0 * G_H / (20.0 * M3_H * density_of_room (f));
      check_near (wick ? "vapour of a wick" : "vapour of mist", excess_kg_kg (f), expected_kg_kg,
                  0.05);
      check_near (wick ? "cooling by a wick" : "cooling by mist", f->all.t_C - f->room_t_C,
                  -dew_moist_latent_heat (20.0) / 1016.0 * expected_kg_kg, 0.05);
    }
}

/* --- a cold wall -------------------------------------------------------------------------- */

/* What is given to an all but tight box ends on its cold roof and the rest leaves by the leakage;
 * nothing on a cover that is as warm as the air: conservation. */
static void
test_dew_takes_all (void)
{
  for (int cold = 1; cold >= 0; cold--)
    {
      g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 0.6, 10.0, 0.6);
      g_autoptr (DewForecast) f = NULL;
      DewThing *thing;
      double dew_kg_s;

      make_adiabatic (chamber, cold ? 1e-5 : 50e-4);
      if (cold)
        chamber->panels[DEW_FACE_ROOF].u_value_W_m2K = 3.84;
      thing = add_thing (chamber, DEW_THING_SOURCE, 0.3, 0.25, 0.0);
      thing->source.width_m = thing->source.depth_m = 0.4;
      thing->source.heat_W = 10.0;
      thing->source.vapour_kg_s = 5.0 * G_H;
      add_stirrer (chamber, 60.0 * M3_H);
      f = forecast_by_day (chamber, DEW_GRID_DRAFT);
      dew_kg_s = f->cover[DEW_FACE_ROOF].dew_kg_s;
      g_test_message ("roof %.1f C, air %.1f C, %.1f %%", f->cover[DEW_FACE_ROOF].t_C, f->all.t_C,
                      100.0 * f->all.rh);
      if (cold)
        {
          check_near ("dew and leakage", dew_kg_s - f->balance.water_openings_kg_s, 5.0 * G_H,
                      0.01);
          check_less ("most of it is dew", 0.9 * 5.0 * G_H, dew_kg_s);
          g_assert_cmpfloat (f->all.rh, <, 1.0);
        }
      else
        {
          check_near ("leakage", -f->balance.water_openings_kg_s, 5.0 * G_H, 0.01);
          g_assert_true (isnan (f->cover[DEW_FACE_ROOF].t_C));
          g_assert_cmpfloat (f->all.rh, <, 0.9);
        }
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/expectations/dilution", test_dilution);
  g_test_add_func ("/expectations/heat-dilution", test_heat_dilution);
  g_test_add_func ("/expectations/along-the-wet-bulb", test_along_the_wet_bulb);
  g_test_add_func ("/expectations/stack", test_stack);
  g_test_add_func ("/expectations/stack-scales", test_stack_scales);
  g_test_add_func ("/expectations/u-value", test_u_value);
  g_test_add_func ("/expectations/outer-films", test_outer_films);
  g_test_add_func ("/expectations/layer-under-the-roof", test_layer_under_the_roof);
  g_test_add_func ("/expectations/mirror", test_mirror);
  g_test_add_func ("/expectations/symmetry", test_symmetry);
  g_test_add_func ("/expectations/signs", test_signs);
  g_test_add_func ("/expectations/mist", test_mist);
  g_test_add_func ("/expectations/fine-mist", test_fine_mist);
  g_test_add_func ("/expectations/dew-takes-all", test_dew_takes_all);
  return g_test_run ();
}
