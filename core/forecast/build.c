/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/build.h"

#include <glib/gi18n.h>

#include <math.h>
#include <string.h>

#include "geometry/geometry.h"
#include "moist/moist.h"
#include "transport/light.h"
#include "moist/constants.h"

#define STILL_M_S 0.05
#define PLACE_M 0.15        /* side of a place */
#define PLACE_HEIGHT_M 0.25 /* of the air that a plant there would be in */
#define SUBPOINTS 2         /* per zone and axis, for mean speed and still share */

/* --- fields ------------------------------------------------------------------------ */

static void
copy_lines (DewForecast *f, const DewZones *z)
{
  for (int a = 0; a < 3; a++)
    {
      f->n[a] = z->n[a];
      f->inner_m[a] = z->inner_m[a];
      f->line_m[a] = g_memdup2 (z->line_m[a], sizeof (double) * (z->n[a] + 1));
    }
  f->n_zones = z->n_zones;
  for (int v = 0; v < DEW_N_VALUES; v++)
    f->value[v] = g_new0 (double, f->n_zones);
  f->still_share = g_new0 (double, f->n_zones);
}

static void
copy_velocity (DewForecast *f, const DewRunView *v)
{
  const DewZones *z = v->zones;
  int boards = f->n[0] * f->n[1] * (f->n[2] + 1);

  f->board = g_new0 (guint8, boards);
  for (int a = 0; a < 3; a++)
    {
      int size[3] = { f->n[0] + (a == 0), f->n[1] + (a == 1), f->n[2] + (a == 2) };
      int n = 0;

      f->velocity_m_s[a] = g_new0 (double, f->n_zones);
      f->face_m_s[a] = g_new0 (double, size[0] * size[1] * size[2]);
      for (int k = 1; k <= size[2]; k++)
        for (int j = 1; j <= size[1]; j++)
          for (int i = 1; i <= size[0]; i++, n++)
            {
              int at = dew_zones_at (z, i, j, k);

              /* A partly open face has the velocity that carries its flux over
               * the whole face: what streaks and means should see. */
              f->face_m_s[a][n]
                = z->gross_m2[a][at] > 0.0 ? v->flux_m3_s[a][at] / z->gross_m2[a][at] : 0.0;
              if (a == 2)
                f->board[n] = z->open_m2[2][at] < 0.1 * z->gross_m2[2][at];
            }
    }
}

static void
fill_velocity (DewForecast *f)
{
  for (int k = 0; k < f->n[2]; k++)
    for (int j = 0; j < f->n[1]; j++)
      for (int i = 0; i < f->n[0]; i++)
        {
          int at = i + f->n[0] * (j + f->n[1] * k), c[3] = { i, j, k };
          double sum = 0.0;
          int still = 0;

          for (int a = 0; a < 3; a++)
            {
              int low = i + (f->n[0] + (a == 0)) * (j + (f->n[1] + (a == 1)) * k);
              int high = low + (a == 0 ? 1 : a == 1 ? f->n[0] : f->n[0] * f->n[1]);

              f->velocity_m_s[a][at] = 0.5 * (f->face_m_s[a][low] + f->face_m_s[a][high]);
            }
          for (int p = 0; p < SUBPOINTS * SUBPOINTS * SUBPOINTS; p++)
            {
              int s[3] = { p % SUBPOINTS, p / SUBPOINTS % SUBPOINTS, p / (SUBPOINTS * SUBPOINTS) };
              double x[3], u[3], speed;

              for (int a = 0; a < 3; a++)
                x[a] = f->line_m[a][c[a]]
                       + (s[a] + 0.5) / SUBPOINTS * (f->line_m[a][c[a] + 1] - f->line_m[a][c[a]]);
              dew_forecast_velocity_in (f, c, x, u);
              speed = sqrt (u[0] * u[0] + u[1] * u[1] + u[2] * u[2]);
              sum += speed;
              still += speed < STILL_M_S;
            }
          f->value[DEW_VALUE_SPEED][at] = sum / (SUBPOINTS * SUBPOINTS * SUBPOINTS);
          f->still_share[at] = still / (double) (SUBPOINTS * SUBPOINTS * SUBPOINTS);
        }
}

static void
fill_air (DewForecast *f, const DewRunView *v)
{
  const DewZones *z = v->zones;
  const double *t = dew_atmosphere_t (v->atmosphere), *w = dew_atmosphere_w (v->atmosphere);
  const double *m = dew_atmosphere_mist ((DewAtmosphere *) v->atmosphere);
  int n = 0;

  for (int k = 1; k <= f->n[2]; k++)
    for (int j = 1; j <= f->n[1]; j++)
      for (int i = 1; i <= f->n[0]; i++, n++)
        {
          int at = dew_zones_at (z, i, j, k);
          double t_C = f->room_t_C + t[at], w_kg = MAX (0.0, f->room_w_kg_kg + w[at]);

          f->value[DEW_VALUE_TEMPERATURE][n] = t_C;
          f->value[DEW_VALUE_HUMIDITY_RATIO][n] = f->room_w_kg_kg + w[at];
          f->value[DEW_VALUE_RH][n] = MIN (1.0, dew_moist_rh_from_w (t_C, w_kg, f->pressure_Pa));
          f->value[DEW_VALUE_VPD][n] = dew_moist_vpd (t_C, w_kg, f->pressure_Pa);
          f->value[DEW_VALUE_MIST][n] = m[at];
          f->value[DEW_VALUE_AGE][n] = v->age_s[at];
        }
}

/* Of lamps and of the day. */
static double
light_at (const DewForecast *f, const DewChamber *chamber, const DewVariant *variant, double x_m,
          double y_m, double z_m)
{
  return dew_light_ppfd_mol_m2s (variant, f->inner_m, f->night, x_m, y_m, z_m)
         + dew_light_daylight_mol_m2s (chamber, variant, f->inner_m, f->night, x_m, y_m, z_m);
}

static void
fill_light (DewForecast *f, const DewChamber *chamber, const DewVariant *variant)
{
  int n = 0;

  for (int k = 0; k < f->n[2]; k++)
    for (int j = 0; j < f->n[1]; j++)
      for (int i = 0; i < f->n[0]; i++, n++)
        f->value[DEW_VALUE_PPFD][n]
          = light_at (f, chamber, variant, 0.5 * (f->line_m[0][i] + f->line_m[0][i + 1]),
                      0.5 * (f->line_m[1][j] + f->line_m[1][j + 1]),
                      0.5 * (f->line_m[2][k] + f->line_m[2][k + 1]));
}

/* Mist that settles and water that drips, on a level spot anywhere. */
static void
fill_wetting (DewForecast *f, const DewRunView *v)
{
  const DewZones *z = v->zones;
  g_autofree double *drip = g_new0 (double, z->size);
  int n = 0;

  f->drip_kg_m2s = g_new0 (double, f->n_zones);
  dew_surfaces_drip (v->surfaces, drip);
  for (int k = 1; k <= f->n[2]; k++)
    for (int j = 1; j <= f->n[1]; j++)
      for (int i = 1; i <= f->n[0]; i++, n++)
        {
          int at = dew_zones_at (z, i, j, k);

          f->drip_kg_m2s[n] = drip[at];
          f->value[DEW_VALUE_WETTING][n]
            = drip[at] + dew_atmosphere_mist_settling (v->atmosphere, at);
        }
}

/* --- bays and places ---------------------------------------------------------------- */

static void
fill_bays (DewForecast *f, const DewChamber *chamber, const DewVariant *variant)
{
  g_autofree double *z = NULL;
  g_autofree guint *shelf = NULL;
  GArray *places = g_array_new (FALSE, TRUE, sizeof (DewPlace));
  double lo[3] = { 0.0, 0.0, 0.0 };
  int columns = MAX (1, (int) floor (f->inner_m[0] / PLACE_M + 0.5));
  int rows = MAX (1, (int) floor (f->inner_m[1] / PLACE_M + 0.5));

  f->n_bays = dew_variant_bays (chamber, variant, &z, &shelf);
  f->bays = g_new0 (DewBay, f->n_bays);
  for (int b = 0; b < f->n_bays; b++)
    {
      const DewThing *board = shelf[b] != 0 ? dew_variant_thing (variant, shelf[b]) : NULL;
      double floor_m = z[b] + (board != NULL ? board->shelf.thickness_m : 0.0);
      double hi[3] = { f->inner_m[0], f->inner_m[1], z[b + 1] };

      f->bays[b].z0_m = z[b];
      f->bays[b].z1_m = z[b + 1];
      f->bays[b].shelf_id = shelf[b];
      if (board != NULL)
        g_strlcpy (f->bays[b].name, board->name, sizeof f->bays[b].name);
      lo[2] = z[b];
      dew_forecast_box (f, lo, hi, &f->bays[b].mean);
      f->bays[b].mean.ppfd_mol_m2s = 0.0; /* at the places, where plants are */
      for (int r = 0; r < rows; r++)
        for (int c = 0; c < columns; c++)
          {
            DewPlace place = { .bay = b, .column = c, .row = r };

            place.lo_m[0] = f->inner_m[0] * c / columns;
            place.hi_m[0] = f->inner_m[0] * (c + 1) / columns;
            place.lo_m[1] = f->inner_m[1] * r / rows;
            place.hi_m[1] = f->inner_m[1] * (r + 1) / rows;
            place.lo_m[2] = floor_m;
            place.hi_m[2] = MIN (floor_m + PLACE_HEIGHT_M, z[b + 1]);
            dew_forecast_box (f, place.lo_m, place.hi_m, &place.mean);
            place.mean.ppfd_mol_m2s
              = light_at (f, chamber, variant, 0.5 * (place.lo_m[0] + place.hi_m[0]),
                          0.5 * (place.lo_m[1] + place.hi_m[1]),
                          0.5 * (place.lo_m[2] + place.hi_m[2]));
            f->bays[b].mean.ppfd_mol_m2s += place.mean.ppfd_mol_m2s / (rows * columns);
            g_array_append_val (places, place);
          }
    }
  f->n_places = places->len;
  f->places = (DewPlace *) g_array_free (places, FALSE);
  lo[2] = 0.0;
  dew_forecast_box (f, lo, f->inner_m, &f->all);
}

/* --- exchange and balances ------------------------------------------------------------ */

static DewExchange *
exchange_of (GArray *list, guint thing_id, const DewVariant *variant)
{
  for (guint e = 0; e < list->len; e++)
    if (g_array_index (list, DewExchange, e).thing_id == thing_id)
      return &g_array_index (list, DewExchange, e);

  DewExchange new = { .thing_id = thing_id };
  const DewThing *thing = thing_id != 0 ? dew_variant_thing (variant, thing_id) : NULL;

  g_strlcpy (new.name, thing != NULL ? thing->name : N_ ("Leakage of the cover"), sizeof new.name);
  g_array_append_val (list, new);
  return &g_array_index (list, DewExchange, list->len - 1);
}

static void
fill_exchanges (DewForecast *f, const DewRunView *v, const DewVariant *variant)
{
  const DewZones *z = v->zones;
  GArray *list = g_array_new (FALSE, TRUE, sizeof (DewExchange));

  for (int p = 0; p < z->n_patches; p++)
    {
      const DewPatch *patch = &z->patches[p];
      DewExchange *e = exchange_of (list, patch->thing_id, variant);
      double flow = patch->sign * v->flux_m3_s[patch->axis][patch->face] * patch->area_m2
                    / z->open_m2[patch->axis][patch->face];

      e->inflow_m3_s += MAX (flow, 0.0);
      e->outflow_m3_s += MAX (-flow, 0.0);
    }
  for (guint e = 0; e < list->len; e++)
    f->balance.air_in_m3_s += g_array_index (list, DewExchange, e).inflow_m3_s;
  for (guint e = 0; e < list->len; e++)
    f->balance.air_out_m3_s += g_array_index (list, DewExchange, e).outflow_m3_s;
  f->exchange_1_s = f->balance.air_in_m3_s / (f->inner_m[0] * f->inner_m[1] * f->inner_m[2]);
  f->n_exchanges = list->len;
  f->exchanges = (DewExchange *) g_array_free (list, FALSE);
}

/* |sum| of terms over the largest of them. */
static double
relative (const double *terms, guint n)
{
  double largest = 0.0, sum = 0.0;

  for (guint i = 0; i < n; i++)
    {
      largest = MAX (largest, fabs (terms[i]));
      sum += terms[i];
    }
  return largest > 0.0 ? fabs (sum) / largest : 0.0;
}

/* One in the wall works against the pressure between room and inside; one that stands
 * free has the same air before and behind it. */
static void
fill_fan (const DewForecast *f, const DewFan *fan, guint thing_id, const DewRunOptions *o,
          const DewRunView *v, DewDevice *d)
{
  double speed = f->night ? fan->speed_night : fan->speed_day;
  double sense = fan->sense == DEW_BLOWS_IN ? 1.0 : -1.0;

  if (fan->mount == DEW_FAN_FREE)
    {
      d->flow_m3_s = speed * fan->free_delivery_m3_s;
      d->pressure_Pa = 0.0;
      return;
    }
  for (int e = 0; e < f->n_exchanges; e++)
    if (f->exchanges[e].thing_id == thing_id)
      d->flow_m3_s = f->exchanges[e].inflow_m3_s + f->exchanges[e].outflow_m3_s;
  d->pressure_Pa = sense * o->air.density_kg_m3 * dew_flow_fixed_pressure (v->flow, thing_id);
}

/* As the loads on the air have it. */
static double
drawn_W (const DewThing *thing, gboolean night, double duty)
{
  switch (thing->kind)
    {
    case DEW_THING_FAN:
      return thing->fan.power_W * (night ? thing->fan.speed_night : thing->fan.speed_day);
    case DEW_THING_HUMIDIFIER:
      return thing->humidifier.power_W * duty;
    case DEW_THING_LAMP:
      return thing->lamp.power_W * (night ? thing->lamp.on_night : thing->lamp.on_day);
    case DEW_THING_MAT:
      return thing->mat.power_W * (night ? thing->mat.on_night : thing->mat.on_day);
    default:
      return NAN;
    }
}

static void
fill_devices (DewForecast *f, const DewRun *run, const DewRunView *v)
{
  const DewVariant *variant = dew_run_variant (run);
  GArray *list = g_array_new (FALSE, TRUE, sizeof (DewDevice));

  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);
      DewDevice d = { .thing_id = thing->id,
                      .duty = NAN,
                      .water_kg_s = NAN,
                      .hours_of_water = NAN,
                      .t_C = NAN,
                      .leaf_vpd_Pa = NAN,
                      .flow_m3_s = NAN,
                      .pressure_Pa = NAN,
                      .power_W = NAN };
      double lo[3], hi[3], reserve = NAN;
      DewClimate there;

      for (guint m = 0; m < v->loads->misters->len; m++)
        {
          const DewMister *mister = &g_array_index (v->loads->misters, DewMister, m);

          if (mister->thing_id != thing->id)
            continue;
          d.duty = mister->duty;
          d.water_kg_s = mister->duty * mister->device.output_kg_s;
          reserve = mister->device.tank_kg;
        }
      for (int b = 0; b < dew_surfaces_n_bodies (v->surfaces); b++)
        {
          DewBodyState body = dew_surfaces_body (v->surfaces, b);

          if (body.thing_id != thing->id)
            continue;
          d.t_C = body.t_C;
          d.water_kg_s = body.water_kg_s;
          d.leaf_vpd_Pa = body.leaf_vpd_Pa;
          if (thing->kind == DEW_THING_POT)
            reserve = thing->pot.water_kg;
          else if (thing->kind == DEW_THING_TRAY)
            reserve = thing->tray.water_kg;
        }
      if (thing->kind == DEW_THING_FAN)
        fill_fan (f, &thing->fan, thing->id, dew_run_options (run), v, &d);
      d.power_W = drawn_W (thing, f->night, d.duty);
      if (thing->kind == DEW_THING_SHELF || thing->kind == DEW_THING_OPENING)
        continue;
      if (!isnan (reserve) && !isnan (d.water_kg_s))
        d.hours_of_water = d.water_kg_s > 0.0 ? reserve / d.water_kg_s / DEW_S_PER_H : INFINITY;
      /* What falls on it comes through the air just above its top. */
      dew_thing_box (dew_run_chamber (run), thing, lo, hi);
      lo[2] = MIN (hi[2], f->inner_m[2] - 0.01);
      hi[2] = lo[2] + 0.01;
      for (int a = 0; a < 2; a++)
        {
          lo[a] = CLAMP (lo[a], 0.0, f->inner_m[a] - 0.01);
          hi[a] = CLAMP (hi[a], lo[a] + 0.001, f->inner_m[a]);
        }
      dew_forecast_box (f, lo, hi, &there);
      d.wetting_kg_m2s = there.wetting_kg_m2s;
      g_array_append_val (list, d);
    }
  f->n_devices = list->len;
  f->devices = (DewDevice *) g_array_free (list, FALSE);
  for (int p = 0; p < DEW_N_FACES; p++)
    {
      DewPanelState state = dew_surfaces_panel (v->surfaces, p);

      f->cover[p].t_C = state.t_C;
      f->cover[p].coldest_C = state.coldest_C;
      f->cover[p].dew_kg_s = state.dew_kg_s;
      f->cover[p].heat_W = state.heat_W;
    }
  f->radiant_C = dew_surfaces_radiant_C (v->surfaces);
}

static void
fill_balance (DewForecast *f, const DewRunView *v, const DewAir *air)
{
  const DewZones *z = v->zones;
  DewBalance *b = &f->balance;
  double latent = air->latent_heat_J_kg;
  double brought = 0.0, enthalpy = 0.0, mist_in = 0.0, mist = 0.0;
  DewSurfaceSums sums;

  dew_surfaces_sums (v->surfaces, dew_atmosphere_t (v->atmosphere),
                     dew_atmosphere_w (v->atmosphere), &sums);
  for (int at = 0; at < z->size; at++)
    {
      if (z->volume_m3[at] <= 0.0)
        continue;
      b->heat_source_W += v->loads->heat_W[at];
      brought += v->loads->latent_W[at];
      b->water_device_kg_s += v->loads->vapour_kg_s[at] + v->loads->mist_kg_s[at];
      mist += v->loads->mist_kg_s[at];
      b->water_fallout_kg_s -= dew_atmosphere_fallout (v->atmosphere, at);
    }
  for (int p = 0; p < z->n_patches; p++)
    {
      /* A mean of products is not the product of the means. */
      DewPassed in = v->passed != NULL
                       ? v->passed[p]
                       : (DewPassed){ dew_atmosphere_heat_inflow (v->atmosphere, &z->patches[p]),
                                      dew_atmosphere_water_inflow (v->atmosphere, &z->patches[p]),
                                      dew_atmosphere_mist_inflow (v->atmosphere, &z->patches[p]) };

      enthalpy += in.heat_W;
      b->water_openings_kg_s += in.water_kg_s;
      mist_in += in.mist_kg_s;
    }
  b->heat_source_W += sums.lamp_air_W;
  b->heat_cover_W = sums.cover_W;
  b->heat_surface_W = sums.body_W;
  b->water_cover_kg_s = sums.cover_kg_s;
  b->water_surface_kg_s = sums.body_kg_s;
  b->heat_openings_W = enthalpy - latent * (b->water_openings_kg_s - mist_in);
  /* In the air itself: what leaves as vapour and did not come as vapour. */
  b->heat_latent_W
    = brought + latent * (b->water_openings_kg_s - mist_in + sums.body_kg_s + sums.cover_kg_s);
  f->evaporated_share = mist > 0.0 ? 1.0 + (b->water_fallout_kg_s + mist_in) / mist : NAN;

  double air_terms[] = { b->air_in_m3_s, -b->air_out_m3_s };
  double water_terms[] = { b->water_device_kg_s, b->water_surface_kg_s, b->water_openings_kg_s,
                           b->water_cover_kg_s, b->water_fallout_kg_s };
  double heat_terms[] = { b->heat_source_W, b->heat_latent_W, b->heat_surface_W, b->heat_openings_W,
                          b->heat_cover_W };

  b->air_residual = relative (air_terms, G_N_ELEMENTS (air_terms));
  b->water_residual = relative (water_terms, G_N_ELEMENTS (water_terms));
  b->heat_residual = relative (heat_terms, G_N_ELEMENTS (heat_terms));
}

gboolean
dew_forecast_is_finite (const DewForecast *f)
{
  static const DewValue values[] = { DEW_VALUE_TEMPERATURE, DEW_VALUE_HUMIDITY_RATIO, DEW_VALUE_RH,
                                     DEW_VALUE_SPEED, DEW_VALUE_MIST };

  for (guint v = 0; v < G_N_ELEMENTS (values); v++)
    for (int at = 0; at < f->n_zones; at++)
      if (!isfinite (f->value[values[v]][at]))
        return FALSE;
  return isfinite (f->balance.air_residual + f->balance.heat_residual + f->balance.water_residual);
}

DewForecast *
dew_forecast_build (const DewRun *run)
{
  DewForecast *f = g_new0 (DewForecast, 1);
  const DewRunOptions *o = dew_run_options (run);
  DewAtmosphereStatistics work;
  DewRunView v;

  dew_run_view (run, &v);
  work = dew_atmosphere_statistics (v.atmosphere);
  f->ref_count = 1;
  f->night = o->night;
  f->room_t_C = o->room.t_C;
  f->room_w_kg_kg = o->room.w_kg_kg;
  f->pressure_Pa = o->air.pressure_Pa;
  f->room_rh = dew_moist_rh_from_w (o->room.t_C, o->room.w_kg_kg, o->air.pressure_Pa);
  f->steps = v.steps;
  f->effort = (DewEffort){ .rounds = work.rounds,
                           .change = work.change,
                           .scalar_solves = work.scalar_solves,
                           .scalar_iterations = work.scalar_iterations,
                           .residual = v.passed != NULL ? 0.0 : work.residual,
                           .divergence = dew_flow_divergence (v.flow) };
  f->swing = v.swing;
  copy_lines (f, v.zones);
  copy_velocity (f, &v);
  fill_velocity (f);
  fill_air (f, &v);
  fill_light (f, dew_run_chamber (run), dew_run_variant (run));
  fill_wetting (f, &v);
  fill_bays (f, dew_run_chamber (run), dew_run_variant (run));
  for (int b = 0; b < f->n_bays; b++)
    {
      f->bays[b].swing_speed_m_s = v.swings[b].speed_m_s;
      f->bays[b].swing_t_K = v.swings[b].t_K;
      f->bays[b].swing_w_kg_kg = v.swings[b].w_kg_kg;
    }
  fill_exchanges (f, &v, dew_run_variant (run));
  fill_devices (f, run, &v);
  fill_balance (f, &v, &o->air);
  return f;
}
