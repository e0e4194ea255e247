/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "day/lump.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "day/skins.h"
#include "forecast/options.h"
#include "geometry/geometry.h"
#include "moist/constants.h"
#include "moist/moist.h"
#include "transport/droplet.h"

#define TOLERANCE 1e-7
/* A sink that lets an enclosure without any exchange have a response too: of a share of its air
 * in eleven days. It is taken out again. */
#define FAINT_1_S 1e-6
#define FOG_M 10e-6 /* droplets of fog that no humidifier made: Hinds 1999, ch. 13, from memory */
#define SENSOR_REACH_M 0.02 /* air that a humidistat feels; as in the steady forecast */

/* --- a settled state --------------------------------------------------------------- */

/* The room of the month is the one that is asked for. */
static DewChamber *
in_room (const DewChamber *chamber, const DewLumpOptions *o)
{
  DewChamber *copy = dew_chamber_copy (chamber);
  DewMonth *m = &copy->room.months[CLAMP (copy->month, 0, 11)];
  double rh = dew_moist_rh_from_w (o->room_t_C, o->room_w_kg_kg,
                                   dew_moist_pressure (copy->room.altitude_m));

  m->t_day_C = m->t_night_C = o->room_t_C;
  m->rh_day = m->rh_night = CLAMP (rh, 0.01, 1.0);
  return copy;
}

static DewRun *
settled (const DewChamber *chamber, guint variant_id, const DewForecastOptions *fo,
         GCancellable *cancellable, GError **error)
{
  DewForecastOptions draft = *fo;
  DewRunOptions ro;
  g_autoptr (DewRun) coarse = NULL, run = NULL;

  draft.grid = DEW_GRID_DRAFT;
  if (!dew_forecast_run_options (chamber, variant_id, &draft, &ro, error))
    return NULL;
  coarse = dew_run_new (chamber, variant_id, &ro, error);
  if (coarse == NULL || !dew_run_approach (coarse, FALSE, cancellable, error))
    return NULL;
  if (fo->grid == DEW_GRID_DRAFT)
    run = g_steal_pointer (&coarse);
  else
    {
      if (!dew_forecast_run_options (chamber, variant_id, fo, &ro, error))
        return NULL;
      run = dew_run_new (chamber, variant_id, &ro, error);
      if (run == NULL)
        return NULL;
      dew_run_start_from (run, coarse);
    }
  if (!dew_run_settle (run, cancellable, error))
    return NULL;
  return g_steal_pointer (&run);
}

/* --- bays ----------------------------------------------------------------------------- */

static int *
find_bays (DewLump *l, const DewZones *z, const DewChamber *chamber, const DewVariant *variant)
{
  g_autofree double *bounds = NULL;
  int *bay_of = g_new (int, z->size);

  l->n_bays = dew_variant_bays (chamber, variant, &bounds, NULL);
  l->volume_m3 = g_new0 (double, l->n_bays);
  for (int at = 0; at < z->size; at++)
    bay_of[at] = -1;
  DEW_EACH_ZONE (z, at)
    {
      bay_of[at] = dew_bay_at (bounds, l->n_bays, z->middle_m[2][at / z->stride[2]]);
      l->volume_m3[bay_of[at]] += z->volume_m3[at];
    }
  return bay_of;
}

static void
mean_of (const DewLump *l, const DewZones *z, const int *bay_of, const double *phi, double *mean)
{
  memset (mean, 0, sizeof (double) * l->n_bays);
  DEW_EACH_ZONE (z, at)
    mean[bay_of[at]] += phi[at] * z->volume_m3[at] / l->volume_m3[bay_of[at]];
}

static void
sum_into (const DewZones *z, const int *bay_of, const double *from, double times, double *sum)
{
  DEW_EACH_ZONE (z, at)
    sum[bay_of[at]] += times * from[at];
}

/* --- exchange ------------------------------------------------------------------------- */

/* In place, by Gauss-Jordan with pivots. FALSE when singular. */
static gboolean
invert (double *a, int n)
{
  g_autofree double *b = g_new0 (double, n *n);

  for (int i = 0; i < n; i++)
    b[i * n + i] = 1.0;
  for (int k = 0; k < n; k++)
    {
      int best = k;
      double one;

      for (int r = k + 1; r < n; r++)
        if (fabs (a[r * n + k]) > fabs (a[best * n + k]))
          best = r;
      if (!(fabs (a[best * n + k]) > 0.0))
        return FALSE;
      for (int c = 0; c < n && best != k; c++)
        {
          double t = a[k * n + c], u = b[k * n + c];

          a[k * n + c] = a[best * n + c];
          b[k * n + c] = b[best * n + c];
          a[best * n + c] = t;
          b[best * n + c] = u;
        }
      one = 1.0 / a[k * n + k];
      for (int c = 0; c < n; c++)
        {
          a[k * n + c] *= one;
          b[k * n + c] *= one;
        }
      for (int r = 0; r < n; r++)
        {
          double by = a[r * n + k];

          for (int c = 0; r != k && by != 0.0 && c < n; c++)
            {
              a[r * n + c] -= by * a[k * n + c];
              b[r * n + c] -= by * b[k * n + c];
            }
        }
    }
  memcpy (a, b, sizeof (double) * n * n);
  return TRUE;
}

static gboolean
find_exchange (DewLump *l, const DewRun *run, const DewRunView *v, const int *bay_of,
               GCancellable *cancellable, GError **error)
{
  const DewZones *z = v->zones;
  const DewAir *air = &dew_run_options (run)->air;
  DewScalarFlow flow = {
    .flux_m3_s = { v->flux_m3_s[0], v->flux_m3_s[1], v->flux_m3_s[2] },
    .viscosity_m2_s = v->viscosity_m2_s,
    .laminar_m2_s = air->viscosity_m2_s,
    .molecular_m2_s = air->thermal_diffusivity_m2_s > 0.0 ? air->thermal_diffusivity_m2_s
                                                          : air->viscosity_m2_s / 0.71,
    .prandtl_turbulent = dew_run_options (run)->prandtl_turbulent,
  };
  int n = l->n_bays;
  g_autoptr (DewScalar) scalar = dew_scalar_new (z);
  g_autofree double *source = g_new0 (double, z->size), *sink = g_new0 (double, z->size);
  g_autofree double *phi = g_new0 (double, z->size), *mean = g_new0 (double, n);

  dew_scalar_assemble (scalar, &flow);
  l->exchange_m3_s = g_new0 (double, n *n);
  DEW_EACH_ZONE (z, at)
    sink[at] = FAINT_1_S * z->volume_m3[at];
  for (int j = 0; j < n; j++)
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      memset (phi, 0, sizeof (double) * z->size);
      DEW_EACH_ZONE (z, at)
        source[at] = bay_of[at] == j ? z->volume_m3[at] / l->volume_m3[j] : 0.0;
      dew_scalar_solve (scalar, phi, 0.0, sink, source, TOLERANCE);
      mean_of (l, z, bay_of, phi, mean);
      for (int i = 0; i < n; i++)
        l->exchange_m3_s[i * n + j] = mean[i];
    }
  if (!invert (l->exchange_m3_s, n))
    {
      g_set_error_literal (
        error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_DIVERGED,
        _ ("The bays of this enclosure exchange no air at all; open a shelf or its gaps"));
      return FALSE;
    }
  for (int i = 0; i < n; i++)
    l->exchange_m3_s[i * n + i] -= FAINT_1_S * l->volume_m3[i];
  return TRUE;
}

/* What the sources of each bay, as they lie in it, carry off beside what its mean does. */
static void
find_carried (DewLump *l, const DewRun *run, const DewRunView *v, const int *bay_of)
{
  const DewZones *z = v->zones;
  const DewAir *air = &dew_run_options (run)->air;
  const DewExchangeTerms *terms = dew_surfaces_terms (v->surfaces);
  const double *phi[2] = { dew_atmosphere_t (v->atmosphere), dew_atmosphere_w (v->atmosphere) };
  double rho_1 = 1.0 / air->density_kg_m3, heat_1 = rho_1 / air->specific_heat_J_kgK;
  double latent_K = air->latent_heat_J_kg / air->specific_heat_J_kgK;
  int n = l->n_bays;
  g_autofree double *mean = g_new0 (double, n);

  l->carried[0] = g_new0 (double, n);
  l->carried[1] = g_new0 (double, n);
  DEW_EACH_ZONE (z, at)
    {
      double vapour = rho_1 * v->loads->vapour_kg_s[at];
      double mist = rho_1 * dew_atmosphere_evaporating (v->atmosphere, at);

      l->carried[0][bay_of[at]] += heat_1 * (v->loads->heat_W[at] + v->loads->latent_W[at])
                                   - latent_K * (vapour + mist)
                                   + dew_exchange_heat (terms, at, phi[0][at], phi[1][at]);
      l->carried[1][bay_of[at]]
        += vapour + mist + dew_exchange_vapour (terms, at, phi[0][at], phi[1][at]);
    }
  for (int what = 0; what < 2; what++)
    {
      mean_of (l, z, bay_of, phi[what], mean);
      for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++)
          l->carried[what][i] -= l->exchange_m3_s[i * n + j] * mean[j];
    }
}

/* --- devices --------------------------------------------------------------------------- */

static void
at_sensor (DewLumpMister *m, const DewLump *l, const DewRunView *v, const DewVariant *variant,
           const int *bay_of, const double *const mean[2])
{
  const DewHumidifier *h = &m->device;
  const DewThing *sensor = h->sensor_id > 0 ? dew_variant_thing (variant, h->sensor_id) : NULL;
  double at[3] = { h->x_m, h->y_m, h->z_m + h->height_m }, lo[3], hi[3];
  double value[2] = { 0.0 };
  const double *phi[2] = { dew_atmosphere_t (v->atmosphere), dew_atmosphere_w (v->atmosphere) };
  g_autoptr (GArray) shares = NULL;

  if (sensor != NULL && sensor->kind == DEW_THING_INSTRUMENT)
    memcpy (at,
            (double[]){ sensor->instrument.x_m, sensor->instrument.y_m, sensor->instrument.z_m },
            sizeof at);
  for (int a = 0; a < 3; a++)
    {
      lo[a] = at[a] - SENSOR_REACH_M;
      hi[a] = at[a] + SENSOR_REACH_M;
    }
  shares = dew_zones_shares (v->zones, lo, hi);
  for (guint s = 0; s < shares->len; s++)
    {
      const DewShare *share = &g_array_index (shares, DewShare, s);

      for (int what = 0; what < 2; what++)
        value[what] += share->share * phi[what][share->zone];
      m->sensor_bay = bay_of[share->zone];
    }
  m->sensor_K = value[0] - mean[0][m->sensor_bay];
  m->sensor_kg_kg = value[1] - mean[1][m->sensor_bay];
}

/* What humidifiers give at full output, by bay, over that output; the rest is what the loads
 * hold without them. The mist of all is taken up alike. */
static void
find_misters (DewLump *l, const DewRun *run, const DewRunView *v, const int *bay_of,
              const double *const mean[2])
{
  const DewZones *z = v->zones;
  const DewVariant *variant = dew_run_variant (run);
  DewLoadsOptions lo
    = { l->air.density_kg_m3, l->air.latent_heat_J_kg, dew_run_options (run)->night };
  g_autoptr (DewLoads) loads = dew_loads_new (z, dew_run_chamber (run), variant, &lo);
  g_autofree double *taken = g_new0 (double, l->n_bays), *base = NULL;
  double given = 0.0, most = 0.0;
  int n = l->n_bays;

  DEW_EACH_ZONE (z, at)
    {
      given += v->loads->mist_kg_s[at];
      taken[bay_of[at]] += MAX (0.0, dew_atmosphere_evaporating (v->atmosphere, at));
    }
  for (int b = 0; b < n; b++)
    most += taken[b];
  for (guint m = 0; m < loads->misters->len; m++)
    dew_loads_set_duty (loads, z, m, 0.0);
  sum_into (z, bay_of, loads->heat_W, 1.0, l->heat_W);
  sum_into (z, bay_of, loads->latent_W, 1.0, l->heat_W);
  sum_into (z, bay_of, dew_surfaces_lamp_W (v->surfaces), 1.0, l->heat_W);
  sum_into (z, bay_of, loads->vapour_kg_s, 1.0, l->vapour_kg_s);
  sum_into (z, bay_of, loads->vapour_kg_s, -l->air.latent_heat_J_kg, l->heat_W);
  base = g_memdup2 (l->heat_W, sizeof (double) * n);

  for (guint m = 0; m < loads->misters->len; m++)
    {
      const DewMister *from = &g_array_index (loads->misters, DewMister, m);
      DewLumpMister to = { from->thing_id,
                           from->device,
                           g_new0 (double, n),
                           g_new0 (double, n),
                           g_new0 (double, n),
                           0,
                           0.0,
                           0.0,
                           g_array_index (v->loads->misters, DewMister, m).duty };
      double output = from->device.output_kg_s, mist = 0.0;

      at_sensor (&to, l, v, variant, bay_of, mean);
      dew_loads_set_duty (loads, z, m, 1.0);
      if (output > 0.0)
        {
          sum_into (z, bay_of, loads->vapour_kg_s, 1.0 / output, to.vapour);
          sum_into (z, bay_of, loads->mist_kg_s, 1.0 / output, to.taken);
          sum_into (z, bay_of, loads->heat_W, 1.0 / output, to.heat_J_kg);
          sum_into (z, bay_of, loads->latent_W, 1.0 / output, to.heat_J_kg);
          sum_into (z, bay_of, dew_surfaces_lamp_W (v->surfaces), 1.0 / output, to.heat_J_kg);
          for (int b = 0; b < n; b++)
            {
              to.vapour[b] -= l->vapour_kg_s[b] / output;
              to.heat_J_kg[b] -= (base[b] + l->air.latent_heat_J_kg * l->vapour_kg_s[b]) / output;
              mist += to.taken[b];
            }
          for (int b = 0; b < n && given > 1e-12; b++)
            to.taken[b] = mist * taken[b] / MAX (given, most);
        }
      dew_loads_set_duty (loads, z, m, 0.0);
      g_array_append_val (l->misters, to);
    }
}

/* How fast fog falls: with the droplets of the humidifiers by their output. */
static void
find_fall (DewLump *l, const double inner_m[3])
{
  double output = 0.0, size = 0.0, speed;

  l->fall_1_s = g_new0 (double, l->n_bays);
  for (guint m = 0; m < l->misters->len; m++)
    {
      const DewHumidifier *h = &g_array_index (l->misters, DewLumpMister, m).device;

      if (h->technology != DEW_MIST_ULTRASONIC)
        continue;
      output += h->output_kg_s;
      size += h->output_kg_s * h->droplet_m;
    }
  speed = dew_droplet_settling_m_s (output > 0.0 ? size / output : FOG_M, l->room.t_C,
                                    l->air.pressure_Pa);
  for (int b = 0; b < l->n_bays; b++)
    l->fall_1_s[b] = speed * inner_m[0] * inner_m[1] / l->volume_m3[b];
}

static double
power_of (const DewVariant *variant, gboolean night)
{
  double sum = 0.0;

  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind == DEW_THING_LAMP)
        sum += thing->lamp.power_W * (night ? thing->lamp.on_night : thing->lamp.on_day);
      else if (thing->kind == DEW_THING_MAT)
        sum += thing->mat.power_W * (night ? thing->mat.on_night : thing->mat.on_day);
      else if (thing->kind == DEW_THING_FAN)
        {
          /* Fan laws: power goes with the cube of the speed (ASHRAE Handbook, from memory). */
          double speed = night ? thing->fan.speed_night : thing->fan.speed_day;

          sum += thing->fan.power_W * speed * speed * speed;
        }
    }
  return sum;
}

/* --- life -------------------------------------------------------------------------------- */

DewLump *
dew_lump_new (const DewChamber *chamber, guint variant_id, const DewLumpOptions *o,
              GCancellable *cancellable, GError **error)
{
  g_autoptr (DewChamber) here = in_room (chamber, o);
  g_autoptr (DewLump) l = g_new0 (DewLump, 1);
  g_autoptr (DewRun) run = NULL;
  g_autofree int *bay_of = NULL;
  g_autofree double *t = NULL, *w = NULL;
  DewForecastOptions fo;
  DewRunView v;

  l->misters = g_array_new (FALSE, FALSE, sizeof (DewLumpMister));
  l->skins = g_array_new (FALSE, FALSE, sizeof (DewSkin));
  dew_forecast_options_init (&fo);
  fo.grid = o->grid;
  fo.night = o->night;
  run = settled (here, variant_id, &fo, cancellable, error);
  if (run == NULL)
    return NULL;
  l->forecast = dew_forecast_finish (run, &fo, TOLERANCE, error);
  if (l->forecast == NULL)
    return NULL;
  dew_run_view (run, &v);
  l->air = dew_run_options (run)->air;
  l->room = dew_run_options (run)->room;
  bay_of = find_bays (l, v.zones, here, dew_run_variant (run));
  t = g_new0 (double, l->n_bays);
  w = g_new0 (double, l->n_bays);
  l->heat_W = g_new0 (double, l->n_bays);
  l->vapour_kg_s = g_new0 (double, l->n_bays);
  mean_of (l, v.zones, bay_of, dew_atmosphere_t (v.atmosphere), t);
  mean_of (l, v.zones, bay_of, dew_atmosphere_w (v.atmosphere), w);
  if (!find_exchange (l, run, &v, bay_of, cancellable, error))
    return NULL;
  find_carried (l, run, &v, bay_of);
  find_misters (l, run, &v, bay_of, (const double *const[]){ t, w });
  find_fall (l, v.zones->inner_m);
  dew_skins_gather (run, &v, bay_of, (const double *const[]){ t, w }, l->skins);
  l->given_W = dew_surfaces_given_W (v.surfaces);
  l->leak_W_K = dew_surfaces_leak_W_K (v.surfaces);
  l->power_W = power_of (dew_run_variant (run), o->night);
  return g_steal_pointer (&l);
}

void
dew_lump_free (DewLump *l)
{
  if (l == NULL)
    return;
  for (guint m = 0; m < l->misters->len; m++)
    {
      DewLumpMister *mister = &g_array_index (l->misters, DewLumpMister, m);

      g_free (mister->vapour);
      g_free (mister->taken);
      g_free (mister->heat_J_kg);
    }
  g_array_unref (l->misters);
  g_array_unref (l->skins);
  g_clear_pointer (&l->forecast, dew_forecast_unref);
  g_free (l->volume_m3);
  g_free (l->exchange_m3_s);
  g_free (l->carried[0]);
  g_free (l->carried[1]);
  g_free (l->fall_1_s);
  g_free (l->heat_W);
  g_free (l->vapour_kg_s);
  g_free (l);
}

GArray *
dew_lump_skins_like (const DewLump *lump, const GArray *like)
{
  GArray *skins = g_array_new (FALSE, FALSE, sizeof (DewSkin));

  for (guint n = 0; n < like->len; n++)
    {
      DewSkin skin = g_array_index (like, DewSkin, n);
      gboolean found = FALSE;

      for (guint m = 0; m < lump->skins->len && !found; m++)
        {
          const DewSkin *own = &g_array_index (lump->skins, DewSkin, m);

          found = own->kind == skin.kind && own->thing_id == skin.thing_id
                  && own->panel == skin.panel && own->bay[0] == skin.bay[0];
          if (found)
            skin = *own;
        }
      if (!found)
        skin.area_m2 = skin.light_W = 0.0;
      g_array_append_val (skins, skin);
    }
  return skins;
}
