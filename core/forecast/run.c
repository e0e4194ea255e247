/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/run.h"

#include <math.h>
#include <string.h>

#include "moist/moist.h"
#include "transport/droplet.h"

#define STEP_S 0.7          /* at zones of 8 cm; shorter on finer ones */
#define STEP_ZONE_M 0.08
#define SHORTEST_STEP_S 0.02
#define STEP_GROWTH 1.1
#define STEP_COURANT 16.0   /* zones that the fastest air may cross in one step */
#define SCALAR_STRETCH 4.0  /* heat and water may step this much longer than air */
#define WINDOW 60           /* steps */
#define MOST_WINDOWS 18
#define MOST_APPROACH 8
#define NEARLY_SETTLED 6.0 /* times what counts as settled */
#define SURFACE_EVERY 10    /* steps between updates of the surfaces */
#define STEADY_K 0.01       /* surfaces and air agree */
#define STEADY_DUTY 0.002
#define STEADY_ROUGH 1e-5 /* tolerance while surfaces still move */
#define STEADY_ITERATIONS 30
#define FIRST_JUMP 0.7
#define SHORTEST_JUMP 0.3
#define JUMP_ITERATIONS 3
#define JUMP_SHARE 0.03
#define JUMP_TOLERANCE 1e-3
#define FIRST_DUTY 0.02
#define SENSOR_REACH_M 0.02
#define SETTLED_SPEED 0.01
#define SETTLED_SPEED_FLOOR_M_S 0.02
#define SETTLED_SHARE 0.01
#define SETTLED_T_FLOOR_K 3.0
#define SETTLED_W_FLOOR 1.2e-3

typedef struct
{
  double speed, t, w;
} BayMean;

struct _DewRun
{
  DewChamber     *chamber;
  guint           variant_id;
  DewRunOptions   o;
  DewZones       *z;
  DewLoads       *loads;
  DewFlow        *flow;
  DewAtmosphere  *atmosphere;
  DewSurfaces    *surfaces;
  GArray         *humidistats; /* double: duty and humidity before, per mister */
  double          room_rh;
  gboolean        thermal; /* there is anything to warm, cool, wet or dry the air */

  int     n_bays;
  int    *bay_of; /* [size], -1 outside */
  double *bay_m3;

  /* Sums over the window that runs, and means over the last whole one. */
  int     in_window;
  double *sum_u[3], *sum_speed, *sum_nu, *sum_h, *sum_q, *sum_m;
  double *mean_u[3], *mean_flux[3], *mean_speed, *mean_nu;
  double *last_miss[2];
  double  jump;
  int     jumps;
  BayMean *bays, *last_bays;
  gboolean has_last, has_mean;

  double *age;
  double  jet_m_s; /* about the speed of the strongest jet that a force drives */
  double  dt;
  int     steps;
  gboolean settled;
  double  swing;
};

/* --- life ------------------------------------------------------------------------ */

/* Every [size] array of a run, so that they come and go together. */
static double ***
run_arrays (DewRun *r, guint *n)
{
  double **const all[] = { &r->sum_u[0],     &r->sum_u[1],     &r->sum_u[2],  &r->sum_speed,
                           &r->sum_nu,       &r->sum_h,        &r->sum_q,     &r->sum_m,
                           &r->mean_u[0],    &r->mean_u[1],    &r->mean_u[2], &r->mean_flux[0],
                           &r->mean_flux[1], &r->mean_flux[2], &r->mean_speed, &r->mean_nu,
                           &r->age,          &r->last_miss[0], &r->last_miss[1] };

  *n = G_N_ELEMENTS (all);
  return g_memdup2 (all, sizeof all);
}

static void
allocate (DewRun *r)
{
  guint n;
  g_autofree double ***all = run_arrays (r, &n);

  for (guint i = 0; i < n; i++)
    *all[i] = g_new0 (double, r->z->size);
}

static void
find_bays (DewRun *r)
{
  const DewZones *z = r->z;
  g_autofree double *bounds = NULL;

  r->n_bays = dew_variant_bays (r->chamber, dew_run_variant (r), &bounds, NULL);
  r->bay_of = g_new (int, z->size);
  r->bay_m3 = g_new0 (double, r->n_bays);
  r->bays = g_new0 (BayMean, r->n_bays);
  r->last_bays = g_new0 (BayMean, r->n_bays);
  for (int at = 0; at < z->size; at++)
    r->bay_of[at] = -1;
  for (int k = 1; k <= z->n[2]; k++)
    {
      int bay = 0;

      while (bay + 1 < r->n_bays && z->middle_m[2][k] > bounds[bay + 1])
        bay++;
      for (int j = 1; j <= z->n[1]; j++)
        for (int i = 1; i <= z->n[0]; i++)
          {
            int at = dew_zones_at (z, i, j, k);

            r->bay_of[at] = bay;
            r->bay_m3[bay] += z->volume_m3[at];
          }
    }
}

static void
clear_zones (DewRun *r)
{
  guint n;

  if (r->z == NULL)
    return;

  g_autofree double ***all = run_arrays (r, &n);

  for (guint i = 0; i < n; i++)
    g_clear_pointer (all[i], g_free);
  g_clear_pointer (&r->bay_of, g_free);
  g_clear_pointer (&r->bay_m3, g_free);
  g_clear_pointer (&r->bays, g_free);
  g_clear_pointer (&r->last_bays, g_free);
  g_clear_pointer (&r->surfaces, dew_surfaces_free);
  g_clear_pointer (&r->humidistats, g_array_unref);
  g_clear_pointer (&r->atmosphere, dew_atmosphere_free);
  g_clear_pointer (&r->flow, dew_flow_free);
  g_clear_pointer (&r->loads, dew_loads_free);
  g_clear_pointer (&r->z, dew_zones_free);
}

void
dew_run_free (DewRun *r)
{
  if (r == NULL)
    return;
  clear_zones (r);
  dew_chamber_free (r->chamber);
  g_free (r);
}

/* --- equipment -------------------------------------------------------------------- */

static double
wall_fan_free_flow (const DewRun *r, const DewFan *fan)
{
  return (r->o.night ? fan->speed_night : fan->speed_day) * fan->free_delivery_m3_s;
}

/* Fixed flows at the start: ducts as given, wall fans at free delivery. */
static void
set_fixed_flows (DewRun *r)
{
  const DewVariant *variant = dew_run_variant (r);

  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind == DEW_THING_OPENING && thing->opening.kind == DEW_OPENING_DUCT)
        dew_flow_set_fixed (r->flow, thing->id, thing->opening.duct_flow_m3_s);
      else if (thing->kind == DEW_THING_FAN && thing->fan.mount == DEW_FAN_IN_WALL)
        dew_flow_set_fixed (r->flow, thing->id,
                            (thing->fan.sense == DEW_BLOWS_IN ? 1.0 : -1.0)
                                * wall_fan_free_flow (r, &thing->fan));
    }
}

/* Working point of fans in the wall: a straight characteristic from stall
 * pressure to free delivery, scaled by the fan laws (Q ~ n, dp ~ n^2). */
static void
update_wall_fans (DewRun *r)
{
  const DewVariant *variant = dew_run_variant (r);

  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);
      double speed, sense, rise, flow;

      if (thing->kind != DEW_THING_FAN || thing->fan.mount != DEW_FAN_IN_WALL)
        continue;
      speed = r->o.night ? thing->fan.speed_night : thing->fan.speed_day;
      if (speed <= 0.0 || thing->fan.stall_pressure_Pa <= 0.0)
        continue;
      sense = thing->fan.sense == DEW_BLOWS_IN ? 1.0 : -1.0;
      rise = sense * r->o.air.density_kg_m3 * dew_flow_fixed_pressure (r->flow, thing->id);
      flow = wall_fan_free_flow (r, &thing->fan)
             * CLAMP (1.0 - rise / (thing->fan.stall_pressure_Pa * speed * speed), 0.0, 1.5);
      dew_flow_set_fixed (r->flow, thing->id, sense * flow);
    }
}

/* Mass-weighted droplet size of all that mists. */
static void
set_mist (DewRun *r)
{
  const DewVariant *variant = dew_run_variant (r);
  double rate = 0.0, size = 0.0;

  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind == DEW_THING_HUMIDIFIER && thing->humidifier.technology == DEW_MIST_ULTRASONIC)
        {
          rate += thing->humidifier.output_kg_s;
          size += thing->humidifier.output_kg_s * thing->humidifier.droplet_m;
        }
    }
  if (rate > 0.0)
    dew_atmosphere_set_mist (r->atmosphere, size / rate,
                             dew_droplet_settling_m_s (size / rate, r->o.room.t_C, r->o.air.pressure_Pa));
}

/* Humidistats go on from the duty they had in other loads. */
static void
take_duties (DewRun *r, const DewLoads *from)
{
  GArray *misters = r->loads->misters;

  for (guint m = 0; m < misters->len; m++)
    for (guint o = 0; o < from->misters->len; o++)
      {
        const DewMister *old = &g_array_index (from->misters, DewMister, o);

        if (old->thing_id == g_array_index (misters, DewMister, m).thing_id
            && g_array_index (misters, DewMister, m).device.set_rh > 0.0)
          dew_loads_set_duty (r->loads, r->z, m, old->duty);
      }
}

static void
start_duties (DewRun *r, const DewLoads *before)
{
  GArray *misters = r->loads->misters;

  g_clear_pointer (&r->humidistats, g_array_unref);
  r->humidistats = g_array_new (FALSE, FALSE, sizeof (double));
  for (guint m = 0; m < misters->len; m++)
    {
      double none[2] = { NAN, NAN };

      g_array_append_vals (r->humidistats, none, 2);
      /* From the dry side: a box full of fog takes long to forget. */
      if (g_array_index (misters, DewMister, m).device.set_rh > 0.0)
        dew_loads_set_duty (r->loads, r->z, m, FIRST_DUTY);
    }
  if (before != NULL)
    take_duties (r, before);
}

/* A force F (over density) through an open area A drives a jet of sqrt (F / A). */
static double
jet_speed (const DewZones *z, const DewLoads *loads)
{
  double most = 0.0;

  for (int a = 0; a < 3; a++)
    for (int at = 0; at < z->size; at++)
      if (loads->force[a][at] != 0.0 && z->open_m2[a][at] > 0.0)
        most = MAX (most, fabs (loads->force[a][at]) / z->open_m2[a][at]);
  return sqrt (most);
}

static void
equip (DewRun *r)
{
  DewLoadsOptions lo = { r->o.air.density_kg_m3, r->o.air.latent_heat_J_kg, r->o.night };
  const DewVariant *variant = dew_run_variant (r);
  g_autoptr (DewLoads) before = g_steal_pointer (&r->loads);

  g_clear_pointer (&r->surfaces, dew_surfaces_free);
  r->loads = dew_loads_new (r->z, r->chamber, variant, &lo);
  r->jet_m_s = jet_speed (r->z, r->loads);
  start_duties (r, before);
  r->room_rh = dew_moist_rh_from_w (r->o.room.t_C, r->o.room.w_kg_kg, r->o.air.pressure_Pa);
  r->surfaces = dew_surfaces_new (r->z, r->chamber, variant, &r->o.air, &r->o.room, r->o.night,
                                  r->o.evaporation);
  r->thermal = dew_surfaces_active (r->surfaces);
  for (int at = 0; at < r->z->size && !r->thermal; at++)
    r->thermal = r->loads->heat_W[at] != 0.0 || r->loads->vapour_kg_s[at] != 0.0
                 || r->loads->mist_kg_s[at] != 0.0;
  dew_flow_set_loads (r->flow, r->loads);
  dew_flow_set_buoyancy (r->flow, dew_atmosphere_buoyancy (r->atmosphere));
  dew_atmosphere_set_room (r->atmosphere, &r->o.room);
  dew_atmosphere_set_loads (r->atmosphere, r->loads);
  dew_atmosphere_set_terms (r->atmosphere, dew_surfaces_terms (r->surfaces));
  set_mist (r);
  set_fixed_flows (r);
}

/* A flow that is pushed in must come out somewhere; water that is given off must
 * leave somehow. */
static gboolean
check_ways_out (const DewRun *r, GError **error)
{
  const DewZones *z = r->z;
  double fixed = 0.0, largest = 0.0, water = 0.0;

  for (int p = 0; p < z->n_patches; p++)
    if (z->kind[z->patches[p].axis][z->patches[p].face] == DEW_FACE_IS_FIXED)
      {
        double flow = dew_flow_velocity (r->flow, z->patches[p].axis)[z->patches[p].face]
                      * z->patches[p].sign * z->patches[p].area_m2;

        fixed += flow;
        largest = MAX (largest, fabs (flow));
      }
  if (z->sealed && fabs (fixed) > 1e-9)
    {
      g_set_error (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_INVALID,
                   "Air is blown %s the enclosure, but nothing lets it %s; open something or give "
                   "the cover a leakage",
                   fixed > 0.0 ? "into" : "out of", fixed > 0.0 ? "out" : "in");
      return FALSE;
    }
  for (int at = 0; at < z->size; at++)
    water += r->loads->vapour_kg_s[at] + r->loads->mist_kg_s[at];
  if (z->sealed && largest == 0.0 && water != 0.0)
    {
      g_set_error (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_INVALID,
                   "Water is given off in an enclosure that nothing leaves, so it never settles; open "
                   "something or give the cover a leakage");
      return FALSE;
    }
  return TRUE;
}

static gboolean
build (DewRun *r, GError **error)
{
  DewFlowOptions fo;
  DewPressure *keep = NULL;
  DewZones *z = dew_zones_new (r->chamber, dew_run_variant (r), r->o.zone_m);

  if (r->z != NULL && dew_zones_same (z, r->z))
    keep = dew_pressure_ref (dew_flow_matrix (r->flow));
  clear_zones (r);
  r->z = z;
  dew_flow_options_init (&fo);
  fo.viscosity_m2_s = r->o.air.viscosity_m2_s;
  fo.density_kg_m3 = r->o.air.density_kg_m3;
  r->flow = dew_flow_new (z, &fo, keep);
  g_clear_pointer (&keep, dew_pressure_unref);
  if (r->flow == NULL)
    {
      g_set_error (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_DIVERGED,
                   "The pressure matrix of this enclosure could not be factored");
      return FALSE;
    }
  r->atmosphere = dew_atmosphere_new (z, &r->o.air, &r->o.room, r->o.prandtl_turbulent);
  allocate (r);
  find_bays (r);
  equip (r);
  r->dt = 0.0;
  r->steps = 0;
  r->in_window = 0;
  r->has_last = r->has_mean = r->settled = FALSE;
  return check_ways_out (r, error);
}

DewRun *
dew_run_new (const DewChamber *chamber, guint variant_id, const DewRunOptions *options,
             GError **error)
{
  g_autoptr (DewRun) r = g_new0 (DewRun, 1);

  r->chamber = dew_chamber_copy (chamber);
  r->variant_id = variant_id;
  r->o = *options;
  if (!build (r, error))
    return NULL;
  return g_steal_pointer (&r);
}

/* --- state from elsewhere ----------------------------------------------------------- */

void
dew_run_start_from (DewRun *r, const DewRun *other)
{
  double *u[3], *p = g_new0 (double, r->z->size);
  double *(*state[3]) (DewAtmosphere *) = { dew_atmosphere_enthalpy, dew_atmosphere_water,
                                            dew_atmosphere_mist };

  for (int a = 0; a < 3; a++)
    {
      u[a] = g_new0 (double, r->z->size);
      dew_zones_remap (other->z, dew_flow_velocity (other->flow, a), r->z, u[a], a);
    }
  dew_zones_remap (other->z, dew_flow_pressure (other->flow), r->z, p, -1);
  dew_flow_set_state (r->flow, (const double *const *) u, p);
  for (int s = 0; s < 3; s++)
    dew_zones_remap (other->z, state[s] (other->atmosphere), r->z, state[s] (r->atmosphere), -1);
  dew_atmosphere_refresh (r->atmosphere);
  take_duties (r, other->loads);
  dew_zones_remap (other->z, other->age, r->z, r->age, -1);
  for (int a = 0; a < 3; a++)
    g_free (u[a]);
  g_free (p);
}

gboolean
dew_run_change (DewRun *r, const DewChamber *chamber, guint variant_id,
                const DewRunOptions *options, GError **error)
{
  DewChamber *copy = dew_chamber_copy (chamber);
  g_autoptr (DewZones) z = dew_zones_new (copy, variant_id != 0 ? dew_chamber_variant (copy, variant_id)
                                                                : dew_chamber_shown (copy),
                                          options->zone_m);

  if (dew_zones_same (z, r->z) && r->o.air.pressure_Pa == options->air.pressure_Pa)
    {
      dew_chamber_free (r->chamber);
      r->chamber = copy;
      r->variant_id = variant_id;
      r->o = *options;
      /* Ids of openings and shelves may differ though the zones do not. */
      {
        DewZones *old = r->z;
        DewZones swap = *old;

        *old = *z;
        *z = swap;
      }
      equip (r);
      r->in_window = 0;
      r->has_last = r->settled = FALSE;
      r->steps = 0;
      return check_ways_out (r, error);
    }

  g_autoptr (DewRun) fresh = g_new0 (DewRun, 1);

  fresh->chamber = copy;
  fresh->variant_id = variant_id;
  fresh->o = *options;
  if (!build (fresh, error))
    return FALSE;
  dew_run_start_from (fresh, r);
  {
    DewRun swap = *r;

    *r = *fresh;
    *fresh = swap;
  }
  return TRUE;
}

/* --- marching ------------------------------------------------------------------------ */

/* The longest step that layers of warm over cool air allow: N dt sqrt(f) <= 1 for
 * buoyancy that lags by one step. First the stretch of heat and water gives way. */
static double
choose_step (DewRun *r, double *stretch)
{
  double mean = cbrt (r->z->inner_m[0] * r->z->inner_m[1] * r->z->inner_m[2] / r->z->n_zones);
  double dt = STEP_S * MIN (1.0, mean / STEP_ZONE_M);
  double n = r->thermal ? dew_atmosphere_frequency (r->atmosphere) : 0.0;
  const double *speed = dew_flow_speed (r->flow);
  double fastest = r->jet_m_s;

  for (int at = 0; at < r->z->size; at++)
    fastest = MAX (fastest, speed[at]);
  if (fastest > 0.0)
    dt = MIN (dt, STEP_COURANT * mean / fastest);
  if (r->dt > 0.0)
    dt = MIN (dt, r->dt * STEP_GROWTH);
  *stretch = SCALAR_STRETCH;
  if (n * dt * sqrt (*stretch) > 1.0)
    {
      double f = 1.0 / (n * dt * n * dt);

      *stretch = MAX (1.0, f);
      if (n * dt > 1.0)
        dt = MAX (SHORTEST_STEP_S, 1.0 / n);
    }
  r->dt = dt;
  return dt;
}

static void
add_to_sums (DewRun *r)
{
  const double *from[] = { dew_flow_velocity (r->flow, 0), dew_flow_velocity (r->flow, 1),
                           dew_flow_velocity (r->flow, 2), dew_flow_speed (r->flow),
                           dew_flow_viscosity (r->flow), dew_atmosphere_enthalpy (r->atmosphere),
                           dew_atmosphere_water (r->atmosphere), dew_atmosphere_mist (r->atmosphere) };
  double *to[] = { r->sum_u[0], r->sum_u[1], r->sum_u[2], r->sum_speed, r->sum_nu,
                   r->sum_h, r->sum_q, r->sum_m };
  guint n = r->thermal ? 8 : 5;

  for (guint a = 0; a < n; a++)
    {
      const double *restrict f = from[a];
      double *restrict t = to[a];

      if (r->in_window == 0)
        memcpy (t, f, sizeof (double) * r->z->size);
      else
        for (int at = 0; at < r->z->size; at++)
          t[at] += f[at];
    }
  r->in_window++;
}

/* Means over the window, per zone and per bay. */
static void
close_window (DewRun *r)
{
  const DewZones *z = r->z;
  double share = 1.0 / r->in_window;
  const double *t = dew_atmosphere_t (r->atmosphere), *w = dew_atmosphere_w (r->atmosphere);

  for (int a = 0; a < 3; a++)
    for (int at = 0; at < z->size; at++)
      {
        r->mean_u[a][at] = share * r->sum_u[a][at];
        r->mean_flux[a][at] = r->mean_u[a][at] * z->open_m2[a][at];
      }
  memcpy (r->last_bays, r->bays, sizeof (BayMean) * r->n_bays);
  memset (r->bays, 0, sizeof (BayMean) * r->n_bays);
  for (int at = 0; at < z->size; at++)
    {
      int b = r->bay_of[at];

      r->mean_speed[at] = share * r->sum_speed[at];
      r->mean_nu[at] = share * r->sum_nu[at];
      if (b < 0)
        continue;

      double part = z->volume_m3[at] / r->bay_m3[b];

      r->bays[b].speed += part * r->mean_speed[at];
      r->bays[b].t += part * t[at];
      r->bays[b].w += part * w[at];
    }
  r->in_window = 0;
  r->has_mean = TRUE;
}

/* Largest change of a bay between two windows, in units of what counts as
 * settled. */
static double
window_change (const DewRun *r)
{
  double change = 0.0, t_scale = SETTLED_T_FLOOR_K, w_scale = SETTLED_W_FLOOR;

  for (int b = 0; b < r->n_bays; b++)
    {
      t_scale = MAX (t_scale, fabs (r->bays[b].t));
      w_scale = MAX (w_scale, fabs (r->bays[b].w));
    }
  for (int b = 0; b < r->n_bays; b++)
    {
      change = MAX (change, fabs (r->bays[b].speed - r->last_bays[b].speed)
                                / (r->bays[b].speed + SETTLED_SPEED_FLOOR_M_S) / SETTLED_SPEED);
      change = MAX (change, fabs (r->bays[b].t - r->last_bays[b].t) / t_scale / SETTLED_SHARE);
      change = MAX (change, fabs (r->bays[b].w - r->last_bays[b].w) / w_scale / SETTLED_SHARE);
    }
  return change;
}

gboolean
dew_run_steps (DewRun *r, int n, GError **error)
{
  for (int s = 0; s < n; s++)
    {
      double stretch, dt = choose_step (r, &stretch);

      if (!dew_flow_step (r->flow, dt))
        {
          g_set_error (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_DIVERGED,
                       "The air in this enclosure could not be computed: it became faster than "
                       "anything in it can drive");
          return FALSE;
        }
      if (r->thermal)
        {
          if (r->steps % SURFACE_EVERY == 0)
            dew_surfaces_update (r->surfaces, dew_atmosphere_t (r->atmosphere),
                                 dew_atmosphere_w (r->atmosphere), dew_flow_speed (r->flow));
          dew_atmosphere_step (r->atmosphere, r->flow, dt * stretch);
        }
      add_to_sums (r);
      /* After the sums: what was projected is what they must hold. */
      update_wall_fans (r);
      r->steps++;
    }
  return TRUE;
}

static void solve_steady (DewRun *r, double tolerance, int most);

/* Whether any bay is off by more than what marching sorts out by itself. A jump
 * shakes layered air, so it has to be worth it. */
static gboolean
worth_a_jump (const DewRun *r, double *const before[3])
{
  const double *state[2] = { dew_atmosphere_enthalpy (r->atmosphere), dew_atmosphere_water (r->atmosphere) };
  double floor[2] = { SETTLED_T_FLOOR_K, SETTLED_W_FLOOR };

  for (int n = 0; n < 2; n++)
    {
      g_autofree double *miss = g_new0 (double, r->n_bays);
      g_autofree double *mean = g_new0 (double, r->n_bays);
      double scale = floor[n];

      for (int at = 0; at < r->z->size; at++)
        if (r->bay_of[at] >= 0)
          {
            double part = r->z->volume_m3[at] / r->bay_m3[r->bay_of[at]];

            mean[r->bay_of[at]] += part * state[n][at];
            miss[r->bay_of[at]] += part * (state[n][at] - before[n][at]);
          }
      for (int b = 0; b < r->n_bays; b++)
        scale = MAX (scale, fabs (mean[b]));
      for (int b = 0; b < r->n_bays; b++)
        if (fabs (miss[b]) > JUMP_SHARE * scale)
          return TRUE;
    }
  return FALSE;
}

/* Heat and water fill a tight enclosure over hours, its air turns over in a
 * minute: between windows they jump part of the way to where this flow would
 * take them in the end. How far is found from how the last jump turned out
 * (Irons, B. & Tuck, R., Int. J. Numer. Methods Eng. 1, 1969, from memory): all
 * the way where the flow does not mind, half where it answers back. */
static void
jump_ahead (DewRun *r)
{
  double *state[3] = { dew_atmosphere_enthalpy (r->atmosphere), dew_atmosphere_water (r->atmosphere),
                       dew_atmosphere_mist (r->atmosphere) };
  double *before[3] = { r->sum_h, r->sum_q, r->sum_m }; /* free between windows */
  double scale[2] = { 1.0, 1.0 / 4e-4 }; /* 1 K and 0.4 g/kg weigh alike: latent heat over cp */
  double along = 0.0, length = 0.0;

  if (!r->thermal)
    return;
  for (int n = 0; n < 3; n++)
    memcpy (before[n], state[n], sizeof (double) * r->z->size);
  solve_steady (r, JUMP_TOLERANCE, JUMP_ITERATIONS);
  if (!worth_a_jump (r, before))
    {
      for (int n = 0; n < 3; n++)
        memcpy (state[n], before[n], sizeof (double) * r->z->size);
      dew_atmosphere_refresh (r->atmosphere);
      return;
    }
  for (int n = 0; n < 2; n++)
    for (int at = 0; at < r->z->size; at++)
      {
        double miss = scale[n] * (state[n][at] - before[n][at]), last = r->last_miss[n][at];

        along += last * (miss - last);
        length += (miss - last) * (miss - last);
        r->last_miss[n][at] = miss;
      }
  if (r->jumps > 0 && length > 0.0)
    r->jump = CLAMP (-r->jump * along / length, SHORTEST_JUMP, 1.0);
  r->jumps++;
  for (int n = 0; n < 3; n++)
    for (int at = 0; at < r->z->size; at++)
      state[n][at] = before[n][at] + r->jump * (state[n][at] - before[n][at]);
  dew_atmosphere_refresh (r->atmosphere);
}

static gboolean
run_window (DewRun *r, int length, GCancellable *cancellable, GError **error)
{
  r->in_window = 0;
  for (int part = 0; part < length / 10; part++)
    if (g_cancellable_set_error_if_cancelled (cancellable, error) || !dew_run_steps (r, 10, error))
      return FALSE;
  close_window (r);
  return TRUE;
}

static void
begin_settling (DewRun *r)
{
  r->settled = FALSE;
  r->has_last = FALSE;
  r->jump = FIRST_JUMP;
  r->jumps = 0;
}

gboolean
dew_run_approach (DewRun *r, GCancellable *cancellable, GError **error)
{
  begin_settling (r);
  for (int window = 0; window < MOST_APPROACH; window++)
    {
      if (!run_window (r, WINDOW / 2, cancellable, error))
        return FALSE;
      if (r->has_last && window_change (r) < NEARLY_SETTLED)
        return TRUE;
      r->has_last = TRUE;
      jump_ahead (r);
    }
  return TRUE;
}

gboolean
dew_run_settle (DewRun *r, GCancellable *cancellable, GError **error)
{
  begin_settling (r);
  for (int window = 0; window < MOST_WINDOWS; window++)
    {
      /* Short windows while far from settled: their means need not be good. */
      int length = r->has_last && window_change (r) < NEARLY_SETTLED ? WINDOW : WINDOW / 2;

      if (!run_window (r, length, cancellable, error))
        return FALSE;
      if (r->has_last)
        {
          r->swing = window_change (r) * SETTLED_SPEED;
          if (r->swing < SETTLED_SPEED && length == WINDOW)
            {
              r->settled = TRUE;
              return TRUE;
            }
        }
      r->has_last = TRUE;
      jump_ahead (r);
    }
  return TRUE;
}

/* --- steady heat and water ---------------------------------------------------------------- */

/* Relative humidity where a humidistat listens. */
static double
humidistat_rh (const DewRun *r, const DewHumidifier *h)
{
  const DewVariant *variant = dew_run_variant (r);
  const DewThing *sensor = h->sensor_id > 0 ? dew_variant_thing (variant, h->sensor_id) : NULL;
  double at[3] = { h->x_m, h->y_m, h->z_m + h->height_m };
  double lo[3], hi[3], t = 0.0, w = 0.0;
  g_autoptr (GArray) shares = NULL;

  if (sensor != NULL && sensor->kind == DEW_THING_INSTRUMENT)
    {
      at[0] = sensor->instrument.x_m;
      at[1] = sensor->instrument.y_m;
      at[2] = sensor->instrument.z_m;
    }
  for (int a = 0; a < 3; a++)
    {
      lo[a] = at[a] - SENSOR_REACH_M;
      hi[a] = at[a] + SENSOR_REACH_M;
    }
  shares = dew_zones_shares (r->z, lo, hi);
  for (guint n = 0; n < shares->len; n++)
    {
      const DewShare *share = &g_array_index (shares, DewShare, n);

      t += share->share * dew_atmosphere_t (r->atmosphere)[share->zone];
      w += share->share * dew_atmosphere_w (r->atmosphere)[share->zone];
    }
  return dew_moist_rh_from_w (r->o.room.t_C + t, MAX (0.0, r->o.room.w_kg_kg + w), r->o.air.pressure_Pa);
}

/* Sets the duty of every humidistat toward its set point: over a cycle of on and
 * off the mean is what counts. Secant on the humidity that the last duties gave.
 * Returns the largest change of a duty. */
static double
update_duties (DewRun *r)
{
  double change = 0.0;

  for (guint m = 0; m < r->loads->misters->len; m++)
    {
      const DewMister *mister = &g_array_index (r->loads->misters, DewMister, m);
      double *last = &g_array_index (r->humidistats, double, 2 * m); /* duty, rh */
      double rh, slope, duty;

      if (mister->device.set_rh <= 0.0)
        continue;
      rh = humidistat_rh (r, &mister->device);
      slope = isfinite (last[1]) && fabs (mister->duty - last[0]) > 1e-5
                  ? (rh - last[1]) / (mister->duty - last[0]) : NAN;
      /* Without a useful slope, by proportion to what is missing of the rise. */
      if (!(slope > 1e-3))
        slope = MAX (0.05, (rh - r->room_rh) / MAX (0.05, mister->duty));
      duty = CLAMP (mister->duty + (mister->device.set_rh - rh) / slope, 0.0,
                    MIN (1.0, MAX (2.0 * mister->duty, mister->duty + 0.1)));
      last[0] = mister->duty;
      last[1] = rh;
      change = MAX (change, fabs (duty - mister->duty));
      dew_loads_set_duty (r->loads, r->z, m, duty);
    }
  return change;
}

/* Surfaces, duties, heat and water brought to agree on the mean flow. */
static void
solve_steady (DewRun *r, double tolerance, int most)
{
  const double *flux[3] = { r->mean_flux[0], r->mean_flux[1], r->mean_flux[2] };

  for (int it = 0; it < most; it++)
    {
      double moved = dew_surfaces_update (r->surfaces, dew_atmosphere_t (r->atmosphere),
                                          dew_atmosphere_w (r->atmosphere), r->mean_speed);
      double duty;

      dew_atmosphere_solve (r->atmosphere, flux, r->mean_nu, it + 1 < most ? MAX (tolerance, STEADY_ROUGH) : tolerance);
      duty = it + 1 < most ? update_duties (r) : 0.0;
      if (moved < STEADY_K && duty < STEADY_DUTY)
        {
          if (tolerance < STEADY_ROUGH)
            dew_atmosphere_solve (r->atmosphere, flux, r->mean_nu, tolerance);
          return;
        }
    }
}

void
dew_run_finish (DewRun *r, double tolerance, int most)
{
  const double *flux[3] = { r->mean_flux[0], r->mean_flux[1], r->mean_flux[2] };

  if (r->in_window > 0 || !r->has_mean)
    close_window (r);
  if (r->thermal)
    solve_steady (r, tolerance, most > 0 ? most : STEADY_ITERATIONS);
  dew_atmosphere_age (r->atmosphere, flux, r->mean_nu, r->age);
}

/* --- reading --------------------------------------------------------------------------- */

void
dew_run_view (const DewRun *r, DewRunView *out)
{
  memset (out, 0, sizeof *out);
  out->zones = r->z;
  out->loads = r->loads;
  out->flow = r->flow;
  out->atmosphere = r->atmosphere;
  out->surfaces = r->surfaces;
  for (int a = 0; a < 3; a++)
    {
      out->flux_m3_s[a] = r->mean_flux[a];
      out->velocity_m_s[a] = r->mean_u[a];
    }
  out->speed_m_s = r->mean_speed;
  out->viscosity_m2_s = r->mean_nu;
  out->age_s = r->age;
  out->settled = r->settled;
  out->steps = r->steps;
  out->swing = r->swing;
}

const DewChamber *
dew_run_chamber (const DewRun *r)
{
  return r->chamber;
}

const DewVariant *
dew_run_variant (const DewRun *r)
{
  return r->variant_id != 0 ? dew_chamber_variant (r->chamber, r->variant_id)
                            : dew_chamber_shown (r->chamber);
}

const DewRunOptions *
dew_run_options (const DewRun *r)
{
  return &r->o;
}
