/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/bands.h"

#include <math.h>
#include <stdlib.h>

#include "forecast/build.h"
#include "forecast/options.h"
#include "forecast/run.h"
#include "geometry/geometry.h"
#include "moist/moist.h"
#include "zones/fitted.h"

#define MEMBER_STEPS 48
#define MEMBER_TOLERANCE 3e-4
#define MEMBER_ROUNDS 4
#define NEAR_DIAMETERS 2.0 /* of a fan: an opening so far from it feels a third of it */

/* clang-format off */
static const DewUnknownRange ranges[DEW_N_UNKNOWNS] = {
  [DEW_UNKNOWN_LEAKAGE] = { "leakage of the cover", 1.0 / 3.0, 3.0, TRUE,
                            "a factor of three; common practice, no source" },
  [DEW_UNKNOWN_DISCHARGE]
  = { "discharge coefficient of openings", 0.9, 1.1, TRUE,
      "0.60 to 0.65 for sharp edges, wider for flaps: BS 5925, from memory" },
  [DEW_UNKNOWN_FAN]
  = { "air that a fan moves", 0.7, 1.1, TRUE,
      "part of free delivery behind guards and among pots; common practice, no source" },
  [DEW_UNKNOWN_COVER] = { "U-value of the cover", 0.85, 1.2, TRUE,
                          "spread of handbook values; common practice, no source" },
  [DEW_UNKNOWN_EVAPORATION]
  = { "evaporating area", 0.75, 1.6, TRUE,
      "computed against the handbook pool relation and a measured clay vessel" },
  [DEW_UNKNOWN_LEAVES] = { "transpiration of leaves", 0.5, 2.0, TRUE,
                           "spread of stomatal conductances in the literature, from memory" },
  [DEW_UNKNOWN_HUMIDIFIER] = { "output of the humidifier", 0.7, 1.3, TRUE,
                               "makers' ranges; common practice, no source" },
  [DEW_UNKNOWN_LAMP] = { "power of lamps", 0.9, 1.1, TRUE, "common practice, no source" },
  [DEW_UNKNOWN_SHELF_LOSS]
  = { "resistance of shelves", 0.6, 1.6, TRUE, "spread of published screen relations" },
  [DEW_UNKNOWN_ROOM_T] = { "room temperature", -0.7, 0.7, FALSE,
                           "error of cheap instruments; common practice, no source" },
  [DEW_UNKNOWN_ROOM_RH] = { "room humidity", -0.04, 0.04, FALSE,
                            "3 to 5 points: error of cheap instruments in salt tests" },
};
/* clang-format on */

const DewUnknownRange *
dew_unknown_range (DewUnknown unknown)
{
  g_return_val_if_fail (unknown < DEW_N_UNKNOWNS, NULL);
  return &ranges[unknown];
}

/* --- the members ------------------------------------------------------------------ */

double
dew_unknown_value (DewUnknown unknown, double q)
{
  const DewUnknownRange *range = dew_unknown_range (unknown);

  if (!range->factor)
    return q < 0.0 ? -q * range->lo : q * range->hi;
  return q < 0.0 ? pow (range->lo, -q) : pow (range->hi, q);
}

double
dew_unknown_left (const DewChamber *chamber, DewUnknown unknown)
{
  switch (unknown)
    {
    case DEW_UNKNOWN_LEAKAGE:
      return 1.0 - chamber->learned.leakage_known;
    case DEW_UNKNOWN_FAN:
      return 1.0 - chamber->learned.fan_known;
    case DEW_UNKNOWN_HUMIDIFIER:
      return 1.0 - chamber->learned.humidifier_known;
    case DEW_UNKNOWN_COVER:
      return 1.0 - chamber->learned.cover_known;
    case DEW_UNKNOWN_EVAPORATION:
      return 1.0 - chamber->learned.evaporation_known;
    default:
      return 1.0;
    }
}

/* The value of an unknown at a probability: logistic, which is close to normal and
 * has a closed form, through the two percentiles of what is left of the range. */
static double
draw (const DewChamber *chamber, DewUnknown unknown, double p)
{
  double q = log (p / (1.0 - p)) / log (0.95 / 0.05); /* -1 at 5 %, +1 at 95 % */

  return dew_unknown_value (unknown, q * dew_unknown_left (chamber, unknown));
}

/* values: [members][DEW_N_UNKNOWNS]. Strata spread the members evenly over each
 * unknown (Latin hypercube: McKay, Beckman & Conover, Technometrics 21, 1979). */
static double *
draw_all (const DewChamber *chamber, int members, guint seed)
{
  double *values = g_new (double, members *DEW_N_UNKNOWNS);
  g_autofree int *order = g_new (int, members);
  GRand *random = g_rand_new_with_seed (seed);

  for (int u = 0; u < DEW_N_UNKNOWNS; u++)
    {
      for (int m = 0; m < members; m++)
        order[m] = m;
      for (int m = members - 1; m > 0; m--)
        {
          int other = g_rand_int_range (random, 0, m + 1), keep = order[m];

          order[m] = order[other];
          order[other] = keep;
        }
      for (int m = 0; m < members; m++)
        values[m * DEW_N_UNKNOWNS + u]
          = draw (chamber, u, (order[m] + g_rand_double_range (random, 0.05, 0.95)) / members);
    }
  g_rand_free (random);
  return values;
}

static void
vary_thing (DewThing *thing, const double *value)
{
  switch (thing->kind)
    {
    case DEW_THING_SHELF:
      if (thing->shelf.loss_coefficient > 0.0)
        thing->shelf.loss_coefficient *= value[DEW_UNKNOWN_SHELF_LOSS];
      break;
    case DEW_THING_OPENING:
      thing->opening.discharge_coefficient
        = MIN (1.0, thing->opening.discharge_coefficient * value[DEW_UNKNOWN_DISCHARGE]);
      break;
    case DEW_THING_FAN:
      thing->fan.free_delivery_m3_s *= value[DEW_UNKNOWN_FAN];
      break;
    case DEW_THING_HUMIDIFIER:
      thing->humidifier.output_kg_s *= value[DEW_UNKNOWN_HUMIDIFIER];
      break;
    case DEW_THING_LAMP:
      thing->lamp.power_W *= value[DEW_UNKNOWN_LAMP];
      break;
    case DEW_THING_PLANT:
      thing->plant.leaf_area_m2 *= value[DEW_UNKNOWN_LEAVES];
      break;
    default:
      break;
    }
}

DewChamber *
dew_bands_vary (const DewChamber *chamber, guint variant_id, const DewRunOptions *nominal,
                const double *value, DewRunOptions *out)
{
  DewChamber *c = dew_chamber_copy (chamber);
  DewVariant *variant = dew_chamber_variant (c, variant_id);
  double rh
    = dew_moist_rh_from_w (nominal->room.t_C, nominal->room.w_kg_kg, nominal->air.pressure_Pa);

  *out = *nominal;
  out->room.t_C += value[DEW_UNKNOWN_ROOM_T];
  rh = CLAMP (rh + value[DEW_UNKNOWN_ROOM_RH], 0.01, 1.0);
  out->room.w_kg_kg = dew_moist_w_from_rh (out->room.t_C, rh, nominal->air.pressure_Pa);
  out->evaporation = nominal->evaporation * value[DEW_UNKNOWN_EVAPORATION];
  c->leak_area_m2 *= value[DEW_UNKNOWN_LEAKAGE];
  for (int p = 0; p < DEW_N_FACES; p++)
    c->panels[p].u_value_W_m2K *= value[DEW_UNKNOWN_COVER];
  for (guint t = 0; t < variant->things->len; t++)
    vary_thing (&g_array_index (variant->things, DewThing, t), value);
  return c;
}

DewChamber *
dew_bands_member (const DewChamber *chamber, guint variant_id, const DewRunOptions *nominal,
                  int members, guint seed, int member, DewRunOptions *out)
{
  g_autofree double *values = NULL;

  g_return_val_if_fail (member >= 0 && member < members, NULL);

  values = draw_all (chamber, members, seed);
  return dew_bands_vary (chamber, variant_id, nominal, values + member * DEW_N_UNKNOWNS, out);
}

/* What is kept of a member: its means alone, as its fields would be a thousand times as much.
 * First the whole, then the bays, then the places; climate NULL: the member has no answer. */
typedef struct
{
  int n;
  DewClimate *climate;
} Member;

typedef struct
{
  const DewChamber *chamber;
  guint variant_id;
  const DewRunOptions *nominal;
  const DewRun *start;
  const double *values;
  GCancellable *cancellable;
  Member *out; /* [members] */
} Ensemble;

static void
keep_means (Member *member, const DewForecast *f)
{
  member->n = 1 + f->n_bays + f->n_places;
  member->climate = g_new (DewClimate, member->n);
  member->climate[0] = f->all;
  for (int b = 0; b < f->n_bays; b++)
    member->climate[1 + b] = f->bays[b].mean;
  for (int p = 0; p < f->n_places; p++)
    member->climate[1 + f->n_bays + p] = f->places[p].mean;
}

static void
run_member (gpointer data, gpointer user_data)
{
  Ensemble *e = user_data;
  int m = GPOINTER_TO_INT (data) - 1;
  DewRunOptions options;
  g_autoptr (DewChamber) c = NULL;
  g_autoptr (DewRun) run = NULL;
  g_autoptr (DewForecast) f = NULL;

  if (g_cancellable_is_cancelled (e->cancellable))
    return;
  c = dew_bands_vary (e->chamber, e->variant_id, e->nominal, e->values + m * DEW_N_UNKNOWNS,
                      &options);
  run = dew_run_new (c, e->variant_id, &options, NULL);
  if (run == NULL)
    return;
  dew_run_start_from (run, e->start);
  if (!dew_run_steps (run, MEMBER_STEPS / 3, NULL))
    return;
  dew_run_finish (run, MEMBER_TOLERANCE,
                  MEMBER_ROUNDS); /* heat and water of the varied enclosure */
  if (!dew_run_steps (run, 2 * MEMBER_STEPS / 3, NULL))
    return;
  dew_run_finish (run, MEMBER_TOLERANCE, MEMBER_ROUNDS);
  f = dew_forecast_build (run);
  if (dew_forecast_is_finite (f))
    keep_means (&e->out[m], f);
}

/* --- the model's own error -------------------------------------------------------------- */

static double
amount (const DewForecast *f, const DewClimate *c, DewBandQuantity quantity)
{
  switch (quantity)
    {
    case DEW_BAND_T:
      return fabs (c->t_C - f->room_t_C);
    case DEW_BAND_W:
      return fabs (c->w_kg_kg - f->room_w_kg_kg);
    case DEW_BAND_SPEED:
      return c->speed_m_s;
    case DEW_BAND_STILL:
      return c->still_share;
    case DEW_BAND_AGE:
      return c->age_s;
    case DEW_N_BANDS:
    default:
      g_return_val_if_reached (NAN);
    }
}

/* Of the bay that has most of it. */
static double
most (const DewForecast *f, DewBandQuantity quantity)
{
  double largest = 0.0;

  for (int b = 0; b < f->n_bays; b++)
    largest = MAX (largest, amount (f, &f->bays[b].mean, quantity));
  return largest;
}

/* Metres from the middle of a fan to the nearest point of an opening. */
static double
distance_m (const DewChamber *chamber, const DewThing *fan, const DewThing *opening)
{
  const double at_m[3] = { fan->fan.x_m, fan->fan.y_m, fan->fan.z_m };
  double lo[3], hi[3], square = 0.0;

  dew_thing_box (chamber, opening, lo, hi);
  for (int a = 0; a < 3; a++)
    square += pow (at_m[a] - CLAMP (at_m[a], lo[a], hi[a]), 2.0);
  return sqrt (square);
}

DewBandGround
dew_bands_ground (const DewChamber *chamber, guint variant_id, gboolean night)
{
  const GArray *things = dew_chamber_variant (chamber, variant_id)->things;
  DewBandGround ground = { 0.0, FALSE };

  for (guint t = 0; t < things->len; t++)
    {
      const DewThing *fan = &g_array_index (things, DewThing, t);

      if (fan->kind != DEW_THING_FAN || fan->fan.mount != DEW_FAN_FREE
          || (night ? fan->fan.speed_night : fan->fan.speed_day) <= 0.0)
        continue;
      for (guint o = 0; o < things->len; o++)
        {
          const DewThing *opening = &g_array_index (things, DewThing, o);
          double reaches;

          if (opening->kind != DEW_THING_OPENING || opening->opening.kind == DEW_OPENING_DUCT
              || opening->opening.open_fraction * opening->opening.free_ratio <= 0.0)
            continue;
          reaches = distance_m (chamber, fan, opening) / (NEAR_DIAMETERS * fan->fan.diameter_m);
          ground.fan_at_opening = MAX (ground.fan_at_opening, exp (-reaches * reaches));
        }
    }
  return ground;
}

double
dew_bands_scale (const DewForecast *f, const DewClimate *c, const DewBandGround *ground,
                 DewBandQuantity quantity)
{
  double own = amount (f, c, quantity), pace;
  double driven = 1.0 + (DEW_FITTED_ERROR_FAN_AT_OPENING - 1.0) * ground->fan_at_opening;
  double warmed = 1.0 + (DEW_FITTED_ERROR_T_FAN_AT_OPENING - 1.0) * ground->fan_at_opening;

  switch (quantity)
    {
    case DEW_BAND_T:
      return warmed * sqrt (own * MAX (own, most (f, quantity)));
    case DEW_BAND_W:
      return driven * sqrt (own * MAX (own, most (f, quantity)));
    case DEW_BAND_SPEED:
      return (ground->only_part ? DEW_FITTED_ERROR_SPEED_PART : 1.0)
             * sqrt (own * MAX (own, most (f, quantity)));
    case DEW_BAND_STILL:
      /* 1 where the mean speed is at the limit, less the more it is on either side. */
      pace = c->speed_m_s / DEW_FITTED_DOUBTFUL_SPEED_M_S;
      return (ground->only_part ? DEW_FITTED_ERROR_STILL_PART : 1.0) * pace * exp (1.0 - pace);
    case DEW_BAND_AGE:
      return driven * own;
    case DEW_N_BANDS:
    default:
      g_return_val_if_reached (NAN);
    }
}

double
dew_bands_error (const DewForecast *f, const DewClimate *c, const DewBandGround *ground,
                 DewBandQuantity quantity)
{
  static const struct
  {
    double share, floor;
  } errors[DEW_N_BANDS] = {
    [DEW_BAND_T] = { DEW_FITTED_ERROR_T_SHARE, DEW_FITTED_ERROR_T_K },
    [DEW_BAND_W] = { DEW_FITTED_ERROR_W_SHARE, DEW_FITTED_ERROR_W },
    [DEW_BAND_SPEED] = { DEW_FITTED_ERROR_SPEED_SHARE, DEW_FITTED_ERROR_SPEED_M_S },
    [DEW_BAND_STILL] = { DEW_FITTED_ERROR_STILL_SHARE, DEW_FITTED_ERROR_STILL },
    [DEW_BAND_AGE] = { DEW_FITTED_ERROR_AGE_SHARE, DEW_FITTED_ERROR_AGE_S },
  };

  g_return_val_if_fail (quantity < DEW_N_BANDS, NAN);

  return hypot (errors[quantity].share * dew_bands_scale (f, c, ground, quantity),
                errors[quantity].floor);
}

/* How far a mean over a bay, or a part of it (NULL: over all), strays in time from what is shown of
 * a flow that does not settle: known is that of the bays. Age and still air go with the speed. */
static double
swing (const DewForecast *f, const DewClimate *c, const DewBay *bay, DewBandQuantity quantity)
{
  double t_K = 0.0, w_kg_kg = 0.0, share = 0.0;

  for (int b = 0; b < f->n_bays; b++)
    if (bay == NULL || bay == &f->bays[b])
      {
        t_K = MAX (t_K, f->bays[b].swing_t_K);
        w_kg_kg = MAX (w_kg_kg, f->bays[b].swing_w_kg_kg);
        share = MAX (share, f->bays[b].swing_speed_m_s
                              / (f->bays[b].mean.speed_m_s + DEW_FITTED_SETTLED_SPEED_M_S));
      }
  switch (quantity)
    {
    case DEW_BAND_T:
      return t_K;
    case DEW_BAND_W:
      return w_kg_kg;
    case DEW_BAND_SPEED:
      return share * (c->speed_m_s + DEW_FITTED_SETTLED_SPEED_M_S);
    default:
      return share * amount (f, c, quantity);
    }
}

/* --- from members to bands ---------------------------------------------------------- */

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* Half the distance from the 5th to the 95th percentile of one number, at `offset`
 * in the climate that each member has at `index`. */
static double
half_spread (const Member *members, int n, int index, gsize offset)
{
  g_autofree double *x = g_new (double, MAX (1, n));
  int count = 0;

  for (int m = 0; m < n; m++)
    {
      const DewClimate *c = index < members[m].n ? &members[m].climate[index] : NULL;
      double value = c != NULL ? *(const double *) ((const char *) c + offset) : NAN;

      if (isfinite (value))
        x[count++] = value;
    }
  if (count < 4)
    return NAN;
  qsort (x, count, sizeof *x, compare_doubles);
  return 0.5
         * (x[(int) floor (0.95 * (count - 1) + 0.5)] - x[(int) floor (0.05 * (count - 1) + 0.5)]);
}

/* Larger half width of two that know nothing of each other. */
static double
wider (double one, double other)
{
  return sqrt (one * one + other * other);
}

static void
set_bands (DewClimate *c, const DewForecast *f, const DewBandGround *ground, const DewBay *bay,
           const Member *members, int n, int index)
{
  double known[DEW_N_BANDS], slope = dew_moist_p_sat_slope (c->t_C) / dew_moist_p_sat (c->t_C);
  double rh_error;

  for (int q = 0; q < DEW_N_BANDS; q++)
    known[q] = wider (dew_bands_error (f, c, ground, q), swing (f, c, bay, q));
  rh_error = c->rh * wider (known[DEW_BAND_W] / MAX (1e-6, c->w_kg_kg), slope * known[DEW_BAND_T]);
  c->t_band_K
    = wider (half_spread (members, n, index, G_STRUCT_OFFSET (DewClimate, t_C)), known[DEW_BAND_T]);
  c->w_band_kg_kg = wider (half_spread (members, n, index, G_STRUCT_OFFSET (DewClimate, w_kg_kg)),
                           known[DEW_BAND_W]);
  c->rh_band = wider (half_spread (members, n, index, G_STRUCT_OFFSET (DewClimate, rh)), rh_error);
  c->vpd_band_Pa = wider (half_spread (members, n, index, G_STRUCT_OFFSET (DewClimate, vpd_Pa)),
                          dew_moist_p_sat (c->t_C) * rh_error);
  c->speed_band_m_s
    = wider (half_spread (members, n, index, G_STRUCT_OFFSET (DewClimate, speed_m_s)),
             known[DEW_BAND_SPEED]);
  c->still_band = wider (half_spread (members, n, index, G_STRUCT_OFFSET (DewClimate, still_share)),
                         known[DEW_BAND_STILL]);
  c->age_band_s = wider (half_spread (members, n, index, G_STRUCT_OFFSET (DewClimate, age_s)),
                         known[DEW_BAND_AGE]);
}

DewForecast *
dew_forecast_with_bands (const DewForecast *forecast, const DewChamber *chamber, guint variant_id,
                         const DewForecastOptions *options, GCancellable *cancellable,
                         GError **error)
{
  int members = options->members > 0 ? options->members : DEW_BAND_MEMBERS;
  DewForecastOptions draft = *options;
  DewRunOptions nominal;
  g_autoptr (DewRun) start = NULL;
  g_autofree double *values = draw_all (chamber, members, options->seed);
  g_autofree Member *out = g_new0 (Member, members);
  Ensemble e = { chamber, variant_id, &nominal, NULL, values, cancellable, out };
  GThreadPool *pool;
  DewForecast *f = NULL;

  draft.grid = DEW_GRID_DRAFT;
  if (!dew_forecast_run_options (chamber, variant_id, &draft, &nominal, error))
    return NULL;
  start = dew_run_new (chamber, variant_id, &nominal, error);
  if (start == NULL || !dew_run_settle (start, cancellable, error))
    return NULL;
  dew_run_finish (start, MEMBER_TOLERANCE, 0);
  e.start = start;
  pool = g_thread_pool_new (run_member, &e, g_get_num_processors (), TRUE, NULL);
  for (int m = 0; m < members; m++)
    g_thread_pool_push (pool, GINT_TO_POINTER (m + 1), NULL);
  g_thread_pool_free (pool, FALSE, TRUE);

  if (!g_cancellable_set_error_if_cancelled (cancellable, error))
    {
      DewBandGround bay = dew_bands_ground (chamber, variant_id, options->night), place = bay;

      place.only_part = TRUE;
      f = dew_forecast_copy (forecast);
      set_bands (&f->all, f, &bay, NULL, out, members, 0);
      for (int b = 0; b < f->n_bays; b++)
        set_bands (&f->bays[b].mean, f, &bay, &f->bays[b], out, members, 1 + b);
      for (int p = 0; p < f->n_places; p++)
        set_bands (&f->places[p].mean, f, &place, &f->bays[f->places[p].bay], out, members,
                   1 + f->n_bays + p);
    }
  for (int m = 0; m < members; m++)
    g_free (out[m].climate);
  return f;
}
