/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/compare/change.h"

#include "moist/constants.h"

#include <math.h>

#define ML_PER_KG 1000.0
#define MOST_SAID 3 /* good, neutral and bad news of each */
#define DRIP_MATTERS 2.0

/* What a grower would notice: common practice, no source. */
/* clang-format off */
static const struct
{
  const char *key;
  double noticed;
} changes_of[DEW_N_CHANGES] = {
  [DEW_CHANGE_RH] = { "rh", 0.02 },
  [DEW_CHANGE_EVEN] = { "even", 0.015 },
  [DEW_CHANGE_T] = { "t", 0.3 },
  [DEW_CHANGE_STILL] = { "still", 0.10 },
  [DEW_CHANGE_DRIP] = { "drip", 0.05 / ML_PER_KG / DEW_S_PER_H }, /* a drop an hour */
  [DEW_CHANGE_SPEED] = { "speed", NAN }, /* of plants: those are asked how it suits them */
  [DEW_CHANGE_PPFD] = { "ppfd", NAN },
  [DEW_CHANGE_MIST] = { "mist", NAN },
  [DEW_CHANGE_DRYING] = { "drying", NAN },
  [DEW_CHANGE_WATER] = { "water", 0.05 },
  [DEW_CHANGE_DRAUGHT] = { "draught", 0.02 },
  [DEW_CHANGE_NOISE] = { "noise", 1.5 },
  [DEW_CHANGE_EXCHANGE] = { "exchange", 0.2 / DEW_S_PER_H },
  [DEW_CHANGE_STANDS] = { "stands", NAN },
  [DEW_CHANGE_FINDING] = { "finding", NAN },
};
/* clang-format on */

const char *
dew_change_key (DewChangeOf of)
{
  g_return_val_if_fail (of < DEW_N_CHANGES, "");
  return changes_of[of].key;
}

double
dew_change_noticed (DewChangeOf of)
{
  g_return_val_if_fail (of < DEW_N_CHANGES, NAN);
  return changes_of[of].noticed;
}

/* --- bays ---------------------------------------------------------------- */

typedef struct
{
  double t_C, rh, speed_m_s, still_share, age_s, even_rh, drip_kg_s;
} BayState;

static void
add_bay (const DewForecast *f, int b, double share, BayState *out)
{
  const DewClimate *c = &f->bays[b].mean;
  double sum = 0.0, squares = 0.0, drip_kg_s = 0.0;
  int n = 0;

  for (int p = 0; p < f->n_places; p++)
    if (f->places[p].bay == b)
      {
        sum += f->places[p].mean.rh;
        squares += f->places[p].mean.rh * f->places[p].mean.rh;
        drip_kg_s += f->places[p].mean.drip_kg_s;
        n++;
      }
  out->t_C += share * c->t_C;
  out->rh += share * c->rh;
  out->speed_m_s += share * c->speed_m_s;
  out->still_share += share * c->still_share;
  out->age_s += share * c->age_s;
  out->drip_kg_s += share * drip_kg_s;
  if (n > 0)
    out->even_rh += share * 2.0 * sqrt (MAX (0.0, squares / n - pow (sum / n, 2.0)));
}

static BayState
bay_state (const DewForecast *day, const DewForecast *night, int b)
{
  BayState s = { 0.0 };

  if (day != NULL)
    add_bay (day, b, night != NULL ? 0.5 : 1.0, &s);
  if (night != NULL)
    add_bay (night, b, day != NULL ? 0.5 : 1.0, &s);
  return s;
}

GArray *
dew_bay_changes (const DewForecast *day_new, const DewForecast *night_new,
                 const DewForecast *day_old, const DewForecast *night_old)
{
  GArray *changes = g_array_new (FALSE, TRUE, sizeof (DewBayChange));
  const DewForecast *any = day_new != NULL ? day_new : night_new;
  const DewForecast *old = day_old != NULL ? day_old : night_old;
  int n = MIN (any->n_bays, old->n_bays), shelf = 0;

  for (int b = 0; b < n; b++)
    {
      BayState is = bay_state (day_new, night_new, b), was = bay_state (day_old, night_old, b);
      DewBayChange c = { .bay = b,
                         .t_C = is.t_C,
                         .rh = is.rh,
                         .speed_m_s = is.speed_m_s,
                         .still_share = is.still_share,
                         .age_s = is.age_s,
                         .even_rh = is.even_rh,
                         .d_t_K = is.t_C - was.t_C,
                         .d_rh = is.rh - was.rh,
                         .d_speed_m_s = is.speed_m_s - was.speed_m_s,
                         .d_still_share = is.still_share - was.still_share,
                         .d_age_s = is.age_s - was.age_s,
                         .d_even_rh = is.even_rh - was.even_rh,
                         .drip_kg_s = is.drip_kg_s,
                         .d_drip_kg_s = is.drip_kg_s - was.drip_kg_s };

      shelf += any->bays[b].shelf_id != 0;
      c.shelf = any->bays[b].shelf_id != 0 ? shelf : 0;
      g_strlcpy (c.name, any->bays[b].name, sizeof c.name);
      g_array_append_val (changes, c);
    }
  return changes;
}

/* --- trade-offs ---------------------------------------------------------- */

/* more_is: good for 1, bad for -1, neither for 0. */
static void
add (GArray *news, const DewBayChange *bay, DewChangeOf of, double to, double by, int more_is)
{
  DewChange change = { .subject = bay != NULL ? DEW_COMPARE_BAY : DEW_COMPARE_WHOLE,
                       .of = of,
                       .when = DEW_CHANGE_ALWAYS,
                       .bay = bay != NULL ? bay->bay : -1,
                       .shelf = bay != NULL ? bay->shelf : 0,
                       .from = to - by,
                       .to = to,
                       .band = NAN,
                       .beyond = TRUE,
                       .good = by > 0.0 ? more_is : -more_is,
                       .matters = fabs (by) / dew_change_noticed (of) };

  if (bay != NULL)
    g_strlcpy (change.name, bay->name, sizeof change.name);
  if (of == DEW_CHANGE_DRIP)
    change.matters *= DRIP_MATTERS;
  if (fabs (by) > dew_change_noticed (of))
    g_array_append_val (news, change);
}

static int
best_first (gconstpointer pa, gconstpointer pb)
{
  const DewChange *a = pa, *b = pb;

  if (a->good != b->good)
    return b->good - a->good;
  return a->matters < b->matters ? 1 : a->matters > b->matters ? -1 : 0;
}

GArray *
dew_trade_offs (const DewObjective *is, const DewObjective *was, const GArray *bay_changes)
{
  static const struct
  {
    DewGoal part;
    DewChangeOf of;
  } parts[] = {
    { DEW_GOAL_WATER, DEW_CHANGE_WATER },
    { DEW_GOAL_GENTLE, DEW_CHANGE_DRAUGHT },
    { DEW_GOAL_QUIET, DEW_CHANGE_NOISE },
  };
  GArray *news = g_array_new (FALSE, FALSE, sizeof (DewChange));
  int told[3] = { 0 };
  guint n = 0;

  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    add (news, NULL, parts[i].of, is->raw[parts[i].part],
         is->raw[parts[i].part] - was->raw[parts[i].part], -1);
  for (guint b = 0; b < bay_changes->len; b++)
    {
      const DewBayChange *c = &g_array_index (bay_changes, DewBayChange, b);

      add (news, c, DEW_CHANGE_EVEN, c->even_rh, c->d_even_rh, -1);
      add (news, c, DEW_CHANGE_RH, c->rh, c->d_rh, 0);
      add (news, c, DEW_CHANGE_T, c->t_C, c->d_t_K, 0);
      add (news, c, DEW_CHANGE_STILL, c->still_share, c->d_still_share, -1);
      add (news, c, DEW_CHANGE_DRIP, c->drip_kg_s, c->d_drip_kg_s, -1);
    }
  g_array_sort (news, best_first); /* stable: equal news stay in order */
  for (guint i = 0; i < news->len; i++)
    {
      DewChange one = g_array_index (news, DewChange, i);

      if (told[one.good + 1]++ < MOST_SAID)
        g_array_index (news, DewChange, n++) = one;
    }
  g_array_set_size (news, n);
  return news;
}
