/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/run-private.h"

#include <glib/gi18n.h>

#include <math.h>
#include <string.h>

#include "geometry/geometry.h"
#include "moist/moist.h"
#include "transport/droplet.h"

#define FAN_SHARE 0.5 /* of the way to where fan and enclosure agree, per step */
#define FIRST_DUTY 0.02
#define WAKING_ROUNDS 4
#define STRONGER 1.5 /* times the jet that was */
/* What no fan in a home sends through an opening: it would take 1 kPa. */
#define FASTEST_SET_M_S 40.0

/* --- life ------------------------------------------------------------------------ */

/* Every [size] array of a run, so that they come and go together. */
static double ***
run_arrays (DewRun *r, guint *n)
{
  double **const all[]
    = { &r->sum_u[0],     &r->sum_u[1],     &r->sum_u[2],     &r->sum_speed,    &r->sum_nu,
        &r->sum_h,        &r->sum_q,        &r->sum_m,        &r->mean_u[0],    &r->mean_u[1],
        &r->mean_u[2],    &r->mean_flux[0], &r->mean_flux[1], &r->mean_flux[2], &r->mean_speed,
        &r->mean_nu,      &r->age,          &r->last_miss[0], &r->last_miss[1], &r->half_h,
        &r->half_q,       &r->long_mean[0], &r->long_mean[1], &r->long_mean[2], &r->long_mean[3],
        &r->long_mean[4], &r->long_mean[5], &r->long_mean[6], &r->long_mean[7], &r->put_by[0],
        &r->put_by[1],    &r->put_by[2] };

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
  r->layer_of = g_new (int, z->size);
  r->layer_m3 = g_new0 (double, r->n_bays *DEW_RUN_LAYERS);
  r->n_watched = r->n_bays * (1 + 2 * DEW_RUN_LAYERS);
  r->watch = g_new0 (double, WATCHED_WINDOWS * r->n_watched);
  r->bay_sums = g_new0 (BayMean, r->n_bays);
  r->bay_squares = g_new0 (BayMean, r->n_bays);
  r->swings = g_new0 (DewSwing, r->n_bays);
  r->passed = g_new0 (DewPassed, z->n_patches);
  for (int n = 0; n < 2; n++)
    {
      r->bay_miss[n] = g_new0 (double, r->n_bays);
      r->last_bay_miss[n] = g_new0 (double, r->n_bays);
    }
  for (int at = 0; at < z->size; at++)
    r->bay_of[at] = r->layer_of[at] = -1;
  for (int k = 1; k <= z->n[2]; k++)
    {
      int bay = dew_bay_at (bounds, r->n_bays, z->middle_m[2][k]);
      double up = (z->middle_m[2][k] - bounds[bay]) / (bounds[bay + 1] - bounds[bay]);
      int layer = bay * DEW_RUN_LAYERS + CLAMP ((int) (DEW_RUN_LAYERS * up), 0, DEW_RUN_LAYERS - 1);

      for (int j = 1; j <= z->n[1]; j++)
        for (int i = 1; i <= z->n[0]; i++)
          {
            int at = dew_zones_at (z, i, j, k);

            r->bay_of[at] = bay;
            r->bay_m3[bay] += z->volume_m3[at];
            r->layer_of[at] = layer;
            r->layer_m3[layer] += z->volume_m3[at];
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
  g_clear_pointer (&r->layer_of, g_free);
  g_clear_pointer (&r->layer_m3, g_free);
  g_clear_pointer (&r->watch, g_free);
  g_clear_pointer (&r->bay_sums, g_free);
  g_clear_pointer (&r->bay_squares, g_free);
  g_clear_pointer (&r->swings, g_free);
  g_clear_pointer (&r->passed, g_free);
  for (int a = 0; a < 2; a++)
    {
      g_clear_pointer (&r->bay_miss[a], g_free);
      g_clear_pointer (&r->last_bay_miss[a], g_free);
    }
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

/* Net flow into the enclosure through the faces of a thing. */
static double
inflow_of (const DewRun *r, guint thing_id)
{
  double sum = 0.0;

  for (int p = 0; p < r->z->n_patches; p++)
    {
      const DewPatch *patch = &r->z->patches[p];

      if (patch->thing_id == thing_id)
        sum += patch->sign * dew_flow_velocity (r->flow, patch->axis)[patch->face] * patch->area_m2;
    }
  return sum;
}

/* Working point of fans in the wall: a straight characteristic from stall
 * pressure to free delivery, scaled by the fan laws (Q ~ n, dp ~ n^2). A tight enclosure
 * answers a little more flow by much more pressure, about as its square: Newton's method
 * on that, half of the way, for the answer of others is steeper or comes later. */
void
dew_run_update_wall_fans (DewRun *r)
{
  const DewVariant *variant = dew_run_variant (r);

  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);
      double speed, sense, rise, flow, free, stall, answer;

      if (thing->kind != DEW_THING_FAN || thing->fan.mount != DEW_FAN_IN_WALL)
        continue;
      speed = r->o.night ? thing->fan.speed_night : thing->fan.speed_day;
      if (speed <= 0.0 || thing->fan.stall_pressure_Pa <= 0.0)
        continue;
      sense = thing->fan.sense == DEW_BLOWS_IN ? 1.0 : -1.0;
      free = wall_fan_free_flow (r, &thing->fan);
      stall = thing->fan.stall_pressure_Pa * speed * speed;
      rise = sense * r->o.air.density_kg_m3 * dew_flow_fixed_pressure (r->flow, thing->id);
      flow = sense * inflow_of (r, thing->id);
      answer = 2.0 * fabs (rise) / stall * free / MAX (flow, 1e-3 * free);
      flow += FAN_SHARE * (free * (1.0 - rise / stall) - flow) / (1.0 + answer);
      dew_flow_set_fixed (r->flow, thing->id, sense * CLAMP (flow, 0.0, 1.5 * free));
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

      if (thing->kind == DEW_THING_HUMIDIFIER
          && thing->humidifier.technology == DEW_MIST_ULTRASONIC)
        {
          rate += thing->humidifier.output_kg_s;
          size += thing->humidifier.output_kg_s * thing->humidifier.droplet_m;
        }
    }
  if (rate > 0.0)
    dew_atmosphere_set_mist (r->atmosphere, size / rate,
                             dew_droplet_settling_m_s (size / rate, r->o.room.t_C,
                                                       r->o.air.pressure_Pa));
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
      double none[4] = { NAN, NAN, NAN, NAN };

      g_array_append_vals (r->humidistats, none, 4);
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

/* New surfaces know nothing yet: they find their state for the air as it is before
 * they act on it. */
static void
wake_surfaces (DewRun *r)
{
  for (int round = 0; r->thermal && round < WAKING_ROUNDS; round++)
    dew_surfaces_update (r->surfaces, dew_atmosphere_t (r->atmosphere),
                         dew_atmosphere_w (r->atmosphere), dew_flow_speed (r->flow));
}

static void
equip (DewRun *r)
{
  DewLoadsOptions lo = { r->o.air.density_kg_m3, r->o.air.latent_heat_J_kg, r->o.night };
  const DewVariant *variant = dew_run_variant (r);
  g_autoptr (DewLoads) before = g_steal_pointer (&r->loads);
  double jet_m_s;

  g_clear_pointer (&r->surfaces, dew_surfaces_free);
  r->loads = dew_loads_new (r->z, r->chamber, variant, &lo);
  jet_m_s = jet_speed (r->z, r->loads);
  /* Air that a weaker fan has driven is as good as at rest: see choose_step(). */
  if (jet_m_s > STRONGER * r->jet_m_s)
    r->dt = 0.0;
  r->jet_m_s = jet_m_s;
  start_duties (r, before);
  r->room_rh = dew_moist_rh_from_w (r->o.room.t_C, r->o.room.w_kg_kg, r->o.air.pressure_Pa);
  r->surfaces = dew_surfaces_new (r->z, r->chamber, variant, &r->o.air, &r->o.room, r->o.night,
                                  r->o.evaporation, r->o.cover_held ? &r->o.cover_t_C : NULL);
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
  wake_surfaces (r);
}

/* A flow that is set must have room to pass. */
static gboolean
check_fixed_flows (const DewRun *r, GError **error)
{
  const DewZones *z = r->z;

  for (int p = 0; p < z->n_patches; p++)
    {
      const DewPatch *patch = &z->patches[p];
      const DewThing *thing;

      if (z->kind[patch->axis][patch->face] != DEW_FACE_IS_FIXED
          || fabs (dew_flow_velocity (r->flow, patch->axis)[patch->face]) <= FASTEST_SET_M_S)
        continue;
      thing = dew_variant_thing (dew_run_variant (r), patch->thing_id);
      g_set_error (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_INVALID,
                   _ ("More air is set to go through %s than can pass an opening of its size; open "
                      "it wider or set less"),
                   thing != NULL ? thing->name : "");
      return FALSE;
    }
  return TRUE;
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
      g_set_error_literal (
        error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_INVALID,
        fixed > 0.0 ? _ ("Air is blown into the enclosure, but nothing lets it out; open something "
                         "or give the cover a leakage")
                    : _ ("Air is blown out of the enclosure, but nothing lets it in; open "
                         "something or give the cover a leakage"));
      return FALSE;
    }
  for (int at = 0; at < z->size; at++)
    water += r->loads->vapour_kg_s[at] + r->loads->mist_kg_s[at];
  if (z->sealed && largest == 0.0 && water != 0.0)
    {
      g_set_error_literal (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_INVALID,
                           _ ("Water is given off in an enclosure that nothing leaves, so it never "
                              "settles; open something or give the cover a leakage"));
      return FALSE;
    }
  return TRUE;
}

/* like: NULL, or a run whose factorisation serves where the zones are the same. */
static gboolean
build (DewRun *r, const DewRun *like, GError **error)
{
  DewFlowOptions fo;
  DewPressure *keep = NULL;
  DewZones *z = dew_zones_new (r->chamber, dew_run_variant (r), r->o.zone_m);

  if (like != NULL && dew_zones_same (z, like->z))
    keep = dew_pressure_ref (dew_flow_matrix (like->flow));
  r->z = z;
  dew_flow_options_init (&fo);
  fo.viscosity_m2_s = r->o.air.viscosity_m2_s;
  fo.density_kg_m3 = r->o.air.density_kg_m3;
  r->flow = dew_flow_new (z, &fo, keep);
  g_clear_pointer (&keep, dew_pressure_unref);
  if (r->flow == NULL)
    {
      g_set_error_literal (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_DIVERGED,
                           _ ("The pressure matrix of this enclosure could not be factored"));
      return FALSE;
    }
  r->atmosphere = dew_atmosphere_new (z, &r->o.air, &r->o.room, r->o.prandtl_turbulent);
  allocate (r);
  find_bays (r);
  equip (r);
  r->dt = 0.0;
  r->steps = 0;
  r->in_window = 0;
  r->has_mean = r->is_mean = r->settled = FALSE;
  return check_fixed_flows (r, error) && check_ways_out (r, error);
}

DewRun *
dew_run_new (const DewChamber *chamber, guint variant_id, const DewRunOptions *options,
             GError **error)
{
  return dew_run_new_like (chamber, variant_id, options, NULL, error);
}

DewRun *
dew_run_new_like (const DewChamber *chamber, guint variant_id, const DewRunOptions *options,
                  const DewRun *like, GError **error)
{
  g_autoptr (DewRun) r = g_new0 (DewRun, 1);

  r->chamber = dew_chamber_keep (chamber);
  r->variant_id = variant_id;
  r->o = *options;
  if (!build (r, like, error))
    return NULL;
  return g_steal_pointer (&r);
}

/* --- state from elsewhere ----------------------------------------------------------- */

void
dew_run_start_from (DewRun *r, const DewRun *other)
{
  double *u[3], *p = g_new0 (double, r->z->size);

  r->walked = TRUE;
  double *(*state[3]) (DewAtmosphere *)
    = { dew_atmosphere_enthalpy, dew_atmosphere_water, dew_atmosphere_mist };

  for (int a = 0; a < 3; a++)
    {
      u[a] = g_new0 (double, r->z->size);
      dew_zones_remap (other->z, dew_flow_velocity (other->flow, a), r->z, u[a], a);
    }
  dew_zones_remap (other->z, dew_flow_pressure (other->flow), r->z, p, -1);
  dew_flow_set_state (r->flow, (const double *const *) u, p);
  dew_zones_remap (other->z, dew_flow_turbulence (other->flow), r->z, p, -1);
  dew_flow_set_turbulence (r->flow, p);
  for (int s = 0; s < 3; s++)
    dew_zones_remap (other->z, state[s](other->atmosphere), r->z, state[s](r->atmosphere), -1);
  dew_atmosphere_refresh (r->atmosphere);
  take_duties (r, other->loads);
  wake_surfaces (r);
  dew_zones_remap (other->z, other->age, r->z, r->age, -1);
  /* Where nothing is exchanged age has no end; as a first guess it would stay so for ever. */
  for (int at = 0; at < r->z->size; at++)
    if (!isfinite (r->age[at]))
      r->age[at] = 0.0;
  for (int a = 0; a < 3; a++)
    g_free (u[a]);
  g_free (p);
}

gboolean
dew_run_change (DewRun *r, const DewChamber *chamber, guint variant_id,
                const DewRunOptions *options, GError **error)
{
  const DewChamber *kept;

  if (r->follows && variant_id == r->variant_id && memcmp (options, &r->o, sizeof *options) == 0
      && dew_chamber_equal (chamber, r->chamber))
    {
      r->held++;
      return TRUE;
    }
  kept = dew_chamber_keep (chamber);

  g_autoptr (DewZones) z
    = dew_zones_new (kept, dew_chamber_variant (kept, variant_id), options->zone_m);

  if (dew_zones_same (z, r->z) && r->o.air.pressure_Pa == options->air.pressure_Pa)
    {
      dew_chamber_free (r->chamber);
      r->chamber = kept;
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
      r->held = 0;
      r->is_mean = r->settled = FALSE;
      r->steps = 0;
      return check_fixed_flows (r, error) && check_ways_out (r, error);
    }

  g_autoptr (DewRun) fresh = g_new0 (DewRun, 1);

  fresh->chamber = kept;
  fresh->variant_id = variant_id;
  fresh->o = *options;
  if (!build (fresh, NULL, error))
    return FALSE;
  dew_run_start_from (fresh, r);
  {
    DewRun swap = *r;

    *r = *fresh;
    *fresh = swap;
  }
  return TRUE;
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
  out->swings = r->swings;
  out->passed = r->is_mean && r->thermal ? r->passed : NULL;
}

const DewChamber *
dew_run_chamber (const DewRun *r)
{
  return r->chamber;
}

const DewVariant *
dew_run_variant (const DewRun *r)
{
  return dew_chamber_variant (r->chamber, r->variant_id);
}

const DewRunOptions *
dew_run_options (const DewRun *r)
{
  return &r->o;
}
