/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "day/march.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "geometry/geometry.h"
#include "moist/constants.h"
#include "moist/moist.h"

#define LONGEST_S 600.0
#define SHORTEST_S 0.02
#define FIRST_S 5.0
#define AT_THE_DOOR_S 60.0
#define ROOM_S 600.0 /* the room goes straight from one such time to the next */
/* A bare capacitive sensor follows in 5 to 10 s, in its housing in some tens: common practice, no
 * source. */
#define SENSOR_LAG_S 15.0
#define FELT_WITHIN 2e-4 /* RH: how near to its limit a humidistat is found to switch */
#define LOOKS 12
/* Two-way flow through an upright opening: Q = (C / 3) A sqrt (g H dT / T), Brown & Solvason,
 * Int. J. Heat Mass Transfer 5, 859-868, 1962; C = 0.6. Air of a room in which somebody stands
 * is never at rest: 0.03 m/s along it, common practice, no source. */
#define DOOR_C 0.6
#define DOOR_AT_REST_M_S 0.03

/* --- what holds now ------------------------------------------------------------------- */

static gboolean
in_mishap (const DewMarch *m)
{
  return m->time_s >= m->plan->mishap_s;
}

static int
state_now (const DewMarch *m)
{
  return dew_routine_is_day (m->plan->chamber, m->plan->clock, m->time_s) + 2 * in_mishap (m);
}

const DewLump *
dew_march_lump (const DewMarch *m)
{
  int now = state_now (m);

  return now < 2 ? m->plan->lump[now] : m->plan->then[now - 2];
}

const GArray *
dew_march_skins (const DewMarch *m)
{
  return m->skins[state_now (m)];
}

gboolean
dew_march_is_open (const DewMarch *m)
{
  return dew_routine_is_open (m->plan->chamber, m->plan->clock, m->time_s)
         || (in_mishap (m) && m->plan->stands_open);
}

static void
room_at (const DewMarch *m, double time_s, double *t_C, double *w_kg_kg)
{
  /* A day after midnight is like this one. */
  double day = dew_routine_length_s (m->plan->clock);

  dew_routine_room (m->plan->chamber, m->plan->clock, fmod (time_s, day), t_C, w_kg_kg);
  /* Heat comes within a day. */
  if (time_s >= m->plan->mishap_s)
    *t_C += m->plan->room_warmer_K * MIN (1.0, (time_s - m->plan->mishap_s) / DEW_S_PER_DAY);
}

static void
find_door (DewMarch *m)
{
  DewNetState s = dew_net_state (m->net);
  double inner[3], room_v = dew_moist_t_virtual (s.room_t_C, s.room_w_kg_kg);
  gboolean open = dew_march_is_open (m);

  dew_chamber_inner_m (m->plan->chamber, inner);
  for (int b = 0; b < m->n_bays; b++)
    {
      double area = inner[0] * m->height_m[b];
      double over = fabs (dew_moist_t_virtual (s.t_C[b], MAX (0.0, s.w_kg_kg[b])) - room_v);

      m->door_m3_s[b]
        = open ? DOOR_C / 3.0 * area
                     * sqrt (DEW_GRAVITY_M_S2 * m->height_m[b] * over / (s.room_t_C + DEW_ZERO_C_K))
                   + 0.5 * DOOR_AT_REST_M_S * area
               : 0.0;
    }
}

/* Output now, kg/s. */
static double
output_of (const DewMarch *m, const DewMarchMister *state, const DewLumpMister *mister)
{
  const DewHumidifier *h = &mister->device;
  gboolean day = dew_routine_is_day (m->plan->chamber, m->plan->clock, m->time_s);

  if (in_mishap (m) && m->plan->no_mist)
    return 0.0;
  /* Nobody reaches in beside mains that run. */
  if (dew_routine_is_open (m->plan->chamber, m->plan->clock, m->time_s))
    return 0.0;
  if (h->tank_kg > 0.0 && state->used_kg >= h->tank_kg * (1.0 - 1e-9))
    return 0.0;
  if (h->set_rh > 0.0)
    return state->on ? h->output_kg_s : 0.0;
  return h->output_kg_s * (day ? h->duty_day : h->duty_night);
}

static void
find_drive (DewMarch *m)
{
  const DewLump *l = dew_march_lump (m);
  gsize bytes = sizeof (double) * m->n_bays;

  memcpy (m->heat_W, l->heat_W, bytes);
  memcpy (m->vapour_kg_s, l->vapour_kg_s, bytes);
  memset (m->mist_kg_s, 0, bytes);
  for (guint n = 0; n < l->misters->len; n++)
    {
      const DewLumpMister *mister = &g_array_index (l->misters, DewLumpMister, n);
      double rate = output_of (m, &g_array_index (m->misters, DewMarchMister, n), mister);

      for (int b = 0; b < m->n_bays; b++)
        {
          m->vapour_kg_s[b] += rate * mister->vapour[b];
          m->mist_kg_s[b] += rate * mister->taken[b];
          m->heat_W[b]
            += rate * (mister->heat_J_kg[b] - l->air.latent_heat_J_kg * mister->vapour[b]);
        }
    }
  find_door (m);
  m->drive.n_bays = m->n_bays;
  m->drive.exchange_m3_s = l->exchange_m3_s;
  m->drive.carried[0] = l->carried[0];
  m->drive.carried[1] = l->carried[1];
  m->drive.door_m3_s = m->door_m3_s;
  m->drive.heat_W = m->heat_W;
  m->drive.vapour_kg_s = m->vapour_kg_s;
  m->drive.mist_kg_s = m->mist_kg_s;
  m->drive.fall_1_s = l->fall_1_s;
  m->drive.given_W = l->given_W;
  m->drive.leak_W_K = l->leak_W_K;
  m->drive.skins = (const DewSkin *) (gpointer) dew_march_skins (m)->data;
  dew_net_drive (m->net, &m->drive);
}

/* --- humidistats --------------------------------------------------------------------------- */

static double
rh_at (const DewMarch *m, const DewNetState *s, const DewLumpMister *mister)
{
  int b = mister->sensor_bay;

  return dew_moist_rh_from_w (s->t_C[b] + mister->sensor_K,
                              MAX (0.0, s->w_kg_kg[b] + mister->sensor_kg_kg),
                              dew_march_lump (m)->air.pressure_Pa);
}

/* What is felt after dt in which the air's RH went evenly from r0 to r1. */
static double
felt_after (double felt, double r0, double r1, double dt)
{
  double slope = (r1 - r0) / dt;

  return r1 - slope * SENSOR_LAG_S + (felt - r0 + slope * SENSOR_LAG_S) * exp (-dt / SENSOR_LAG_S);
}

/* How far past its limit the humidistat is that is farthest past it, after the step that was
 * tried; *which gets it. Negative: none has switched. */
static double
past_limit (DewMarch *m, double dt, guint *which)
{
  const DewLump *l = dew_march_lump (m);
  DewNetState s0 = dew_net_state (m->net), s1 = dew_net_tried (m->net);
  double worst = -INFINITY;

  for (guint n = 0; n < l->misters->len; n++)
    {
      const DewLumpMister *mister = &g_array_index (l->misters, DewLumpMister, n);
      const DewMarchMister *state = &g_array_index (m->misters, DewMarchMister, n);
      double half = 0.5 * mister->device.band_rh, set = mister->device.set_rh, past, felt;

      if (set <= 0.0)
        continue;
      felt = felt_after (state->felt, rh_at (m, &s0, mister), rh_at (m, &s1, mister), dt);
      past = state->on ? felt - (set + half) : set - half - felt;
      if (past > worst)
        {
          worst = past;
          *which = n;
        }
    }
  return worst;
}

/* Finds the step at whose end a humidistat switches, between 0 and dt where one has. */
static double
find_switch (DewMarch *m, double dt, double past)
{
  guint which;
  double lo = 0.0, hi = dt, at_lo = -1.0, at_hi = past, best = dt;

  for (int look = 0; look < LOOKS && at_hi > FELT_WITHIN && hi - lo > SHORTEST_S; look++)
    {
      double share = look % 3 == 0 || at_lo <= -1.0 ? 0.5 : at_lo / (at_lo - at_hi);
      double mid = lo + CLAMP (share, 0.05, 0.95) * (hi - lo), now;

      dew_net_try (m->net, mid, m->tolerance);
      now = past_limit (m, mid, &which);
      if (now > 0.0)
        {
          hi = best = mid;
          at_hi = now;
        }
      else
        {
          lo = mid;
          at_lo = now;
        }
    }
  dew_net_try (m->net, best, m->tolerance);
  return best;
}

/* --- steps ---------------------------------------------------------------------------------- */

/* The longest step before a tank is empty. */
static double
until_empty (const DewMarch *m)
{
  const DewLump *l = dew_march_lump (m);
  double least = INFINITY;

  for (guint n = 0; n < l->misters->len; n++)
    {
      const DewLumpMister *mister = &g_array_index (l->misters, DewLumpMister, n);
      const DewMarchMister *state = &g_array_index (m->misters, DewMarchMister, n);
      double rate = output_of (m, state, mister);

      if (rate > 0.0 && mister->device.tank_kg > 0.0)
        least = MIN (least, (mister->device.tank_kg - state->used_kg) / rate);
    }
  return MAX (SHORTEST_S, least);
}

static void
note_step (DewMarch *m, double dt)
{
  const DewLump *l = dew_march_lump (m);
  DewNetState s0 = dew_net_state (m->net), s1 = dew_net_tried (m->net);

  for (guint n = 0; n < l->misters->len; n++)
    {
      const DewLumpMister *mister = &g_array_index (l->misters, DewLumpMister, n);
      DewMarchMister *state = &g_array_index (m->misters, DewMarchMister, n);
      double rate = output_of (m, state, mister), full = mister->device.output_kg_s;

      state->used_kg += rate * dt;
      state->given_kg += rate * dt;
      state->ran_s += full > 0.0 ? rate / full * dt : 0.0;
      m->power_J += full > 0.0 ? mister->device.power_W * rate / full * dt : 0.0;
      state->felt = felt_after (state->felt, rh_at (m, &s0, mister), rh_at (m, &s1, mister), dt);
    }
  m->power_J += l->power_W * dt;
  m->steps++;
}

static void
switch_over (DewMarch *m)
{
  const DewLump *l = dew_march_lump (m);

  for (guint n = 0; n < l->misters->len; n++)
    {
      const DewHumidifier *h = &g_array_index (l->misters, DewLumpMister, n).device;
      DewMarchMister *state = &g_array_index (m->misters, DewMarchMister, n);
      double half = 0.5 * h->band_rh;
      gboolean on = state->on;

      if (h->set_rh <= 0.0)
        continue;
      if (state->felt >= h->set_rh + half - FELT_WITHIN)
        on = FALSE;
      else if (state->felt <= h->set_rh - half + FELT_WITHIN)
        on = TRUE;
      if (on && !state->on)
        state->starts++;
      m->switches += on != state->on;
      state->on = on;
    }
}

static void
watch (DewMarch *m, double dt)
{
  const GArray *skins = dew_march_skins (m);
  const DewLump *l = dew_march_lump (m);
  DewNetState s = dew_net_state (m->net);

  for (int b = 0; b < m->n_bays; b++)
    {
      double rh = dew_march_rh (m, b);
      double rise = s.t_C[b] - s.room_t_C;

      m->sum_t[b] += dt * s.t_C[b];
      m->sum_rh[b] += dt * rh;
      m->rh_lo[b] = fmin (m->rh_lo[b], rh);
      m->rh_hi[b] = fmax (m->rh_hi[b], rh);
      m->off_K
        = MAX (m->off_K, fabs (rise - (l->forecast->bays[b].mean.t_C - l->forecast->room_t_C)));
    }
  for (guint n = 0; n < skins->len; n++)
    if (g_array_index (skins, DewSkin, n).kind == DEW_SKIN_LEAF)
      {
        double t, rh;

        dew_march_beside (m, (int) n, &t, &rh);
        m->sum_leaf_t[n] += dt * t;
        m->sum_leaf_rh[n] += dt * rh;
      }
  m->watched_s += dt;
}

/* One step of at most `most`. FALSE when it came to nothing. */
static gboolean
step (DewMarch *m, double most)
{
  double dt, error, past;
  guint which;

  find_drive (m);
  dt = MIN (MIN (m->step_s, most), until_empty (m));
  for (;;)
    {
      error = dew_net_try (m->net, dt, m->tolerance);
      if (error <= 1.0 || (dt <= SHORTEST_S && isfinite (error)))
        break;
      if (dt <= SHORTEST_S)
        return FALSE;
      dt = MAX (SHORTEST_S, dt * (isfinite (error) ? CLAMP (0.9 / sqrt (error), 0.1, 0.7) : 0.1));
    }
  /* Of a step cut short by a switch nothing is learned about the length of the next. */
  if (dt < most || error > 0.8)
    m->step_s = MIN (LONGEST_S, dt * CLAMP (0.9 / sqrt (MAX (error, 1e-3)), 0.3, 3.0));
  past = past_limit (m, dt, &which);
  if (past > FELT_WITHIN)
    {
      dt = find_switch (m, dt, past);
      m->step_s = MAX (FIRST_S, 0.5 * dt);
    }
  note_step (m, dt);
  dew_net_take (m->net);
  m->time_s += dt;
  switch_over (m);
  watch (m, dt);
  return TRUE;
}

static void
fill_up (DewMarch *m)
{
  const GArray *skins = dew_march_skins (m);
  DewNetState s = dew_net_state (m->net);

  if (in_mishap (m) && m->plan->no_filling)
    return;
  for (guint n = 0; n < skins->len; n++)
    {
      const DewSkin *skin = &g_array_index (skins, DewSkin, n);

      if (skin->kind != DEW_SKIN_WET || skin->holds_kg <= 0.0)
        continue;
      m->filled_kg += skin->holds_kg - s.skin[3 * n + 1];
      m->filled_each_kg[n] += skin->holds_kg - s.skin[3 * n + 1];
      dew_net_set_water (m->net, (int) n, 0, skin->holds_kg);
    }
  for (guint n = 0; n < m->misters->len; n++)
    g_array_index (m->misters, DewMarchMister, n).used_kg = 0.0;
}

static double
next_stop (const DewMarch *m, double until_s)
{
  double day = dew_routine_length_s (m->plan->clock);
  double whole = day * floor (m->time_s / day);
  double next = MIN (until_s, ROOM_S * (floor (m->time_s / ROOM_S * (1.0 + 1e-12)) + 1.0));
  double routine = whole + dew_routine_next_s (m->plan->chamber, m->plan->clock, m->time_s - whole);

  next = MIN (next, routine);
  if (m->time_s < m->plan->mishap_s)
    next = MIN (next, m->plan->mishap_s);
  return next;
}

gboolean
dew_march_to (DewMarch *m, double until_s, GCancellable *cancellable, GError **error)
{
  while (m->time_s < until_s - 1e-6)
    {
      double stop = next_stop (m, until_s), t, w, t0 = m->time_s;
      DewNetState s = dew_net_state (m->net);
      gboolean was_open = dew_march_is_open (m);
      int was = state_now (m);

      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      room_at (m, stop - 1e-6, &t, &w);
      m->drive.room_K_s = (t - s.room_t_C) / (stop - t0);
      m->drive.room_kg_kg_s = (w - s.room_w_kg_kg) / (stop - t0);
      while (m->time_s < stop - 1e-6)
        if (!step (m, MIN (stop - m->time_s, was_open ? AT_THE_DOOR_S : LONGEST_S)))
          {
            g_set_error_literal (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_DIVERGED,
                                 _ ("The hours of this enclosure could not be followed: heat and "
                                    "water found no balance"));
            return FALSE;
          }
      m->time_s = stop;
      if (state_now (m) != was || dew_march_is_open (m) != was_open)
        m->step_s = FIRST_S;
      if (dew_march_is_open (m) && !was_open)
        fill_up (m);
    }
  return TRUE;
}

void
dew_march_call (DewMarch *m, double time_s)
{
  m->time_s = time_s;
  /* Nobody waters it: it is filled at midnight, as a day has to begin like any other. */
  if (m->plan->chamber->routine.door_open_min <= 0.0)
    fill_up (m);
}

/* --- life ------------------------------------------------------------------------------------ */

static void
take_skins (DewMarch *m)
{
  const DewLump *lumps[4]
    = { m->plan->lump[0], m->plan->lump[1], m->plan->then[0], m->plan->then[1] };

  for (int n = 0; n < 4; n++)
    {
      g_clear_pointer (&m->skins[n], g_array_unref);
      if (lumps[n] != NULL)
        m->skins[n] = dew_lump_skins_like (lumps[n], m->plan->lump[1]->skins);
    }
}

void
dew_march_follow (DewMarch *m, const DewMarchPlan *plan)
{
  m->plan = plan;
  take_skins (m);
  m->step_s = FIRST_S;
}

static void
start_bays (DewMarch *m)
{
  const DewForecast *f = dew_march_lump (m)->forecast;
  double t, w;

  room_at (m, m->time_s, &t, &w);
  dew_net_rest (m->net, (const DewSkin *) (gpointer) dew_march_skins (m)->data, t, w);
  for (int b = 0; b < m->n_bays; b++)
    dew_net_set_bay (m->net, b, t + f->bays[b].mean.t_C - f->room_t_C,
                     MAX (0.0, w + f->bays[b].mean.w_kg_kg - f->room_w_kg_kg));
}

DewMarch *
dew_march_new (const DewMarchPlan *plan, double time_s, double tolerance)
{
  DewMarch *m = g_new0 (DewMarch, 1);
  const DewLump *l = plan->lump[1];
  int n = m->n_bays = l->n_bays;
  double inner[3];

  m->plan = plan;
  m->time_s = time_s;
  m->tolerance = tolerance;
  m->step_s = FIRST_S;
  m->net = dew_net_new (n, (int) l->skins->len, l->volume_m3, &l->air);
  m->misters = g_array_new (FALSE, FALSE, sizeof (DewMarchMister));
  m->filled_each_kg = g_new0 (double, MAX (1, l->skins->len));
  m->sum_t = g_new0 (double, n);
  m->sum_rh = g_new0 (double, n);
  m->sum_leaf_t = g_new0 (double, MAX (1, l->skins->len));
  m->sum_leaf_rh = g_new0 (double, MAX (1, l->skins->len));
  m->rh_lo = g_new0 (double, n);
  m->rh_hi = g_new0 (double, n);
  m->heat_W = g_new0 (double, n);
  m->vapour_kg_s = g_new0 (double, n);
  m->mist_kg_s = g_new0 (double, n);
  m->door_m3_s = g_new0 (double, n);
  m->height_m = g_new0 (double, n);
  dew_chamber_inner_m (plan->chamber, inner);
  for (int b = 0; b < n; b++)
    m->height_m[b] = l->volume_m3[b] / (inner[0] * inner[1]);
  take_skins (m);
  start_bays (m);
  for (guint k = 0; k < l->misters->len; k++)
    {
      const DewLumpMister *mister = &g_array_index (l->misters, DewLumpMister, k);
      DewMarchMister state = { .thing_id = mister->thing_id };
      DewNetState s = dew_net_state (m->net);

      state.felt = rh_at (m, &s, mister);
      g_array_append_val (m->misters, state);
    }
  find_drive (m);
  dew_march_watch (m);
  return m;
}

DewMarch *
dew_march_copy (const DewMarch *from)
{
  DewMarch *m = dew_march_new (from->plan, from->time_s, from->tolerance);

  dew_net_copy (m->net, from->net);
  g_array_set_size (m->misters, 0);
  g_array_append_vals (m->misters, from->misters->data, from->misters->len);
  dew_march_watch (m);
  return m;
}

void
dew_march_free (DewMarch *m)
{
  if (m == NULL)
    return;
  for (int n = 0; n < 4; n++)
    g_clear_pointer (&m->skins[n], g_array_unref);
  g_array_unref (m->misters);
  dew_net_free (m->net);
  g_free (m->filled_each_kg);
  g_free (m->sum_t);
  g_free (m->sum_rh);
  g_free (m->sum_leaf_t);
  g_free (m->sum_leaf_rh);
  g_free (m->rh_lo);
  g_free (m->rh_hi);
  g_free (m->heat_W);
  g_free (m->vapour_kg_s);
  g_free (m->mist_kg_s);
  g_free (m->door_m3_s);
  g_free (m->height_m);
  g_free (m);
}

/* --- reading --------------------------------------------------------------------------------- */

void
dew_march_watch (DewMarch *m)
{
  for (int b = 0; b < m->n_bays; b++)
    {
      m->rh_lo[b] = m->rh_hi[b] = dew_march_rh (m, b);
      m->sum_t[b] = m->sum_rh[b] = 0.0;
    }
  memset (m->sum_leaf_t, 0, sizeof (double) * m->skins[1]->len);
  memset (m->sum_leaf_rh, 0, sizeof (double) * m->skins[1]->len);
  m->watched_s = 0.0;
}

void
dew_march_mean (const DewMarch *m, int bay, double *t_C, double *rh)
{
  *t_C = m->watched_s > 0.0 ? m->sum_t[bay] / m->watched_s : dew_net_state (m->net).t_C[bay];
  *rh = m->watched_s > 0.0 ? m->sum_rh[bay] / m->watched_s : dew_march_rh (m, bay);
}

void
dew_march_mean_beside (const DewMarch *m, int skin, double *t_C, double *rh)
{
  dew_march_beside (m, skin, t_C, rh);
  if (m->watched_s <= 0.0)
    return;
  *t_C = m->sum_leaf_t[skin] / m->watched_s;
  *rh = m->sum_leaf_rh[skin] / m->watched_s;
}

double
dew_march_rh (const DewMarch *m, int bay)
{
  DewNetState s = dew_net_state (m->net);

  return dew_moist_rh_from_w (s.t_C[bay], MAX (0.0, s.w_kg_kg[bay]),
                              m->plan->lump[1]->air.pressure_Pa);
}

void
dew_march_beside (const DewMarch *m, int skin, double *t_C, double *rh)
{
  const DewSkin *k = &g_array_index (dew_march_skins (m), DewSkin, skin);
  DewNetState s = dew_net_state (m->net);

  *t_C = s.t_C[k->bay[0]] + k->beside_K[0];
  *rh = dew_moist_rh_from_w (*t_C, MAX (0.0, s.w_kg_kg[k->bay[0]] + k->beside_kg_kg[0]),
                             m->plan->lump[1]->air.pressure_Pa);
}
