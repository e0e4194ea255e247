/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "day/day-private.h"

#include <math.h>
#include <string.h>

#include "geometry/geometry.h"
#include "moist/constants.h"
#include "moist/moist.h"

#define EVERY_S 600.0
#define MOST_DAYS 8
#define SAME_K 0.02 /* a day ends as it began within this */
#define SAME_W 3e-5
#define ROOM_LOOKS 96 /* a day, for the room's means */

void
dew_day_options_init (DewDayOptions *o)
{
  *o = (DewDayOptions){ .grid = DEW_GRID_DRAFT };
}

/* --- the two states of the air ----------------------------------------------------------- */

static void
mean_room (const DewChamber *chamber, DewClock clock, gboolean day, double *t_C, double *w_kg_kg)
{
  double length = dew_routine_length_s (clock), t, w;
  int n = 0;

  *t_C = *w_kg_kg = 0.0;
  for (int pass = 0; pass < 2 && n == 0; pass++)
    for (int k = 0; k < ROOM_LOOKS; k++)
      {
        double at = length * (k + 0.5) / ROOM_LOOKS;

        /* Of what never is, day or night, the mean of all hours. */
        if (pass == 0 && dew_routine_is_day (chamber, clock, at) != day)
          continue;
        dew_routine_room (chamber, clock, at, &t, &w);
        *t_C += t;
        *w_kg_kg += w;
        n++;
      }
  *t_C /= n;
  *w_kg_kg /= n;
}

gboolean
dew_day_lumps (const DewChamber *chamber, guint variant_id, DewGrid grid, DewClock clock,
               DewLump *lumps[2], GCancellable *cancellable, GError **error)
{
  for (int day = 0; day < 2; day++)
    {
      DewLumpOptions o = { .grid = grid, .night = !day };

      mean_room (chamber, clock, day, &o.room_t_C, &o.room_w_kg_kg);
      lumps[day] = dew_lump_new (chamber, variant_id, &o, cancellable, error);
      if (lumps[day] == NULL)
        {
          g_clear_pointer (&lumps[0], dew_lump_free);
          return FALSE;
        }
    }
  return TRUE;
}

/* --- until it begins anew ------------------------------------------------------------------ */

static gboolean
is_same (const DewMarch *m, const double *before)
{
  const double *now = dew_net_unknowns (m->net);
  int nb = m->n_bays, n = dew_net_size (m->net);

  for (int i = 0; i < n; i++)
    {
      gboolean warmth = i < nb || i == 2 * nb || (i >= 2 * nb + 3 && (i - 2 * nb - 3) % 3 == 0);

      if (warmth && fabs (now[i] - before[i]) > SAME_K)
        return FALSE;
      if (i >= nb && i < 2 * nb && fabs (now[i] - before[i]) > SAME_W)
        return FALSE;
    }
  return TRUE;
}

DewMarch *
dew_day_settled_march (const DewMarchPlan *plan, double tolerance, int most, int *days,
                       gboolean *anew, GCancellable *cancellable, GError **error)
{
  g_autoptr (DewMarch) m = dew_march_new (plan, 0.0, tolerance);
  g_autofree double *before = NULL;

  *anew = FALSE;
  for (*days = 0; *days < most && !*anew; (*days)++)
    {
      g_free (before);
      before = g_memdup2 (dew_net_unknowns (m->net), sizeof (double) * dew_net_size (m->net));
      if (!dew_march_to (m, dew_routine_length_s (plan->clock), cancellable, error))
        return NULL;
      dew_march_call (m, 0.0);
      *anew = is_same (m, before);
    }
  return g_steal_pointer (&m);
}

/* --- what is told ---------------------------------------------------------------------------- */

static double
dew_on (const DewMarch *m, int bay)
{
  const GArray *skins = dew_march_skins (m);
  DewNetState s = dew_net_state (m->net);
  double sum = 0.0;

  for (guint n = 0; n < skins->len; n++)
    {
      const DewSkin *skin = &g_array_index (skins, DewSkin, n);

      if (skin->kind != DEW_SKIN_PANEL && skin->kind != DEW_SKIN_BOARD)
        continue;
      for (int side = 0; side < 2; side++)
        if (skin->bay[side] == bay)
          sum += s.skin[3 * n + 1 + side];
    }
  return sum;
}

static int
skin_of (const GArray *skins, guint thing_id, DewSkinKind kind)
{
  for (guint n = 0; n < skins->len; n++)
    if (g_array_index (skins, DewSkin, n).thing_id == thing_id
        && g_array_index (skins, DewSkin, n).kind == kind)
      return (int) n;
  return -1;
}

static void
note (DewDay *day, DewMarch *m, int k, const double *ran_before)
{
  DewNetState s = dew_net_state (m->net);
  double p = m->plan->lump[1]->air.pressure_Pa;

  day->time_s[k] = m->time_s;
  day->room_t_C[k] = s.room_t_C;
  day->room_rh[k] = dew_moist_rh_from_w (s.room_t_C, s.room_w_kg_kg, p);
  day->is_day[k] = dew_routine_is_day (m->plan->chamber, m->plan->clock, m->time_s);
  day->is_open[k] = dew_march_is_open (m);
  for (int b = 0; b < day->n_bays; b++)
    {
      DewDayBay *bay = &day->bays[b];

      dew_march_mean (m, b, &bay->t_C[k], &bay->rh[k]);
      bay->rh_lo[k] = m->rh_lo[b];
      bay->rh_hi[k] = m->rh_hi[b];
      bay->dew_kg[k] = dew_on (m, b);
    }
  for (guint n = 0; n < day->plants->len; n++)
    {
      DewDayPlant *plant = &g_array_index (day->plants, DewDayPlant, n);
      int skin = skin_of (dew_march_skins (m), plant->thing_id, DEW_SKIN_LEAF);

      if (skin >= 0)
        dew_march_mean_beside (m, skin, &plant->t_C[k], &plant->rh[k]);
      else
        dew_march_mean (m, plant->bay, &plant->t_C[k], &plant->rh[k]);
    }
  for (guint n = 0; n < day->misters->len; n++)
    {
      double dt = k > 0 ? day->time_s[k] - day->time_s[k - 1] : 0.0;

      g_array_index (day->misters, DewDayMister, n).duty[k]
        = dt > 0.0 ? (g_array_index (m->misters, DewMarchMister, n).ran_s - ran_before[n]) / dt
                   : 0.0;
    }
  dew_march_watch (m);
}

static void
add_plants (DewDay *day, const DewChamber *chamber, const DewVariant *variant, int n)
{
  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);
      DewDayPlant plant = { .thing_id = thing->id };

      if (thing->kind != DEW_THING_PLANT)
        continue;
      g_strlcpy (plant.name, thing->name, sizeof plant.name);
      g_strlcpy (plant.species, thing->plant.species, sizeof plant.species);
      plant.bay
        = dew_variant_bay_at (chamber, variant, thing->plant.z_m + 0.5 * thing->plant.height_m);
      plant.t_C = g_new0 (double, n);
      plant.rh = g_new0 (double, n);
      g_array_append_val (day->plants, plant);
    }
}

static void
add_misters (DewDay *day, const DewVariant *variant, const DewLump *lump, int n)
{
  for (guint k = 0; k < lump->misters->len; k++)
    {
      const DewLumpMister *from = &g_array_index (lump->misters, DewLumpMister, k);
      const DewThing *thing = dew_variant_thing (variant, from->thing_id);
      DewDayMister mister = { .thing_id = from->thing_id,
                              .duty = g_new0 (double, n),
                              .tank_kg = from->device.tank_kg };

      g_strlcpy (mister.name, thing != NULL ? thing->name : "", sizeof mister.name);
      g_array_append_val (day->misters, mister);
    }
}

static DewDay *
day_new (const DewMarchPlan *plan, const DewVariant *variant, double every_s)
{
  DewDay *day = g_new0 (DewDay, 1);
  double length = dew_routine_length_s (plan->clock);
  int n = day->n = (int) ceil (length / every_s - 1e-9) + 1;

  day->ref_count = 1;
  day->clock = plan->clock;
  day->time_s = g_new0 (double, n);
  day->room_t_C = g_new0 (double, n);
  day->room_rh = g_new0 (double, n);
  day->is_day = g_new0 (guint8, n);
  day->is_open = g_new0 (guint8, n);
  day->n_bays = plan->lump[1]->n_bays;
  day->bays = g_new0 (DewDayBay, day->n_bays);
  for (int b = 0; b < day->n_bays; b++)
    {
      double **series[] = { &day->bays[b].t_C, &day->bays[b].rh, &day->bays[b].rh_lo,
                            &day->bays[b].rh_hi, &day->bays[b].dew_kg };

      day->bays[b].shelf_id = plan->lump[1]->forecast->bays[b].shelf_id;
      for (guint k = 0; k < G_N_ELEMENTS (series); k++)
        *series[k] = g_new0 (double, n);
    }
  day->plants = g_array_new (FALSE, FALSE, sizeof (DewDayPlant));
  day->misters = g_array_new (FALSE, FALSE, sizeof (DewDayMister));
  day->wets = g_array_new (FALSE, FALSE, sizeof (DewDayWet));
  add_plants (day, plan->chamber, variant, n);
  add_misters (day, variant, plan->lump[1], n);
  for (int k = 0; k < 2; k++)
    day->steady[k] = dew_forecast_ref (plan->lump[k]->forecast);
  return day;
}

/* --- sums ----------------------------------------------------------------------------------------
 */

typedef struct
{
  double energy_J, water_kg, filled_kg, power_J;
  GArray *misters;     /* DewMarchMister */
  double *skin;        /* [3 * n_skins] */
  double *filled_each; /* [n_skins] */
} Before;

/* What humidifiers gave: *as_vapour (wicks, steam) of *given in all, kg, and the energy they drew.
 */
static double
of_misters (const DewMarch *m, const Before *before, double *given, double *as_vapour)
{
  double drawn_J = 0.0;

  *given = *as_vapour = 0.0;
  for (guint n = 0; n < m->misters->len; n++)
    {
      const DewLumpMister *l = &g_array_index (m->plan->lump[1]->misters, DewLumpMister, n);
      const DewMarchMister *now = &g_array_index (m->misters, DewMarchMister, n);
      const DewMarchMister *was = &g_array_index (before->misters, DewMarchMister, n);

      *given += now->given_kg - was->given_kg;
      drawn_J += l->device.power_W * (now->ran_s - was->ran_s);
      for (int b = 0; b < m->n_bays; b++)
        *as_vapour += (now->given_kg - was->given_kg) * l->vapour[b];
    }
  return drawn_J;
}

/* What the balances leave over, of what was turned over. */
static void
find_misses (const DewMarch *m, const Before *before, DewDayBudget *b)
{
  const double *k = dew_net_state (m->net).book;
  double latent = m->plan->lump[1]->air.latent_heat_J_kg;
  double filled = m->filled_kg - before->filled_kg, left, turned;

  left = dew_net_energy_J (m->net) - before->energy_J
         - (k[DEW_BOOK_HEAT_IN] - k[DEW_BOOK_HEAT_AIR] - k[DEW_BOOK_HEAT_COVER]
            - k[DEW_BOOK_HEAT_WAVES]);
  turned = MAX (fabs (k[DEW_BOOK_HEAT_COVER]) + fabs (k[DEW_BOOK_HEAT_AIR])
                  + latent * fabs (k[DEW_BOOK_WATER_AIR]),
                1.0);
  b->energy_miss = fabs (left) / turned;
  left = dew_net_water_kg (m->net) - before->water_kg - filled
         - (k[DEW_BOOK_WATER_IN] + k[DEW_BOOK_LEAVES] - k[DEW_BOOK_WATER_AIR] - k[DEW_BOOK_RUN_OFF]
            - k[DEW_BOOK_FOG]);
  turned = MAX (fabs (k[DEW_BOOK_WATER_AIR]) + fabs (k[DEW_BOOK_CONDENSED]), 1e-6);
  b->water_miss = fabs (left) / turned;
}

static void
find_budget (DewDay *day, const DewMarch *m, const Before *before)
{
  const double *k = dew_net_state (m->net).book;
  DewDayBudget *b = &day->budget;
  double given, as_vapour;

  b->misters_J = of_misters (m, before, &given, &as_vapour);
  b->lamps_J = m->power_J - before->power_J - b->misters_J;
  b->mist_kg = given;
  b->wet_kg = k[DEW_BOOK_WET];
  b->leaves_kg = k[DEW_BOOK_LEAVES];
  /* What came as vapour and is not theirs is from sources. */
  b->vapour_kg = k[DEW_BOOK_WATER_IN] - k[DEW_BOOK_MIST] - as_vapour;
  b->room_kg = k[DEW_BOOK_WATER_AIR];
  b->condensed_kg = k[DEW_BOOK_CONDENSED];
  b->dried_kg = k[DEW_BOOK_DRIED];
  b->run_off_kg = k[DEW_BOOK_RUN_OFF];
  b->fallen_kg = MAX (0.0, given - as_vapour - k[DEW_BOOK_MIST]) + k[DEW_BOOK_FOG];
  b->cover_J = k[DEW_BOOK_HEAT_COVER];
  b->air_J = k[DEW_BOOK_HEAT_AIR] - m->plan->lump[1]->air.latent_heat_J_kg * k[DEW_BOOK_WATER_AIR];
  b->waves_J = k[DEW_BOOK_HEAT_WAVES];
  find_misses (m, before, b);
}

static void
find_supplies (DewDay *day, const DewMarch *m, const DewVariant *variant, const Before *before)
{
  const GArray *skins = dew_march_skins (m);
  DewNetState s = dew_net_state (m->net);
  double hours = dew_routine_length_s (day->clock) / DEW_S_PER_H;

  for (guint n = 0; n < day->misters->len; n++)
    {
      DewDayMister *mister = &g_array_index (day->misters, DewDayMister, n);
      const DewMarchMister *now = &g_array_index (m->misters, DewMarchMister, n);
      const DewMarchMister *was = &g_array_index (before->misters, DewMarchMister, n);

      mister->water_kg = now->given_kg - was->given_kg;
      mister->starts = now->starts - was->starts;
      mister->tank_hours = mister->tank_kg <= 0.0    ? NAN
                           : mister->water_kg <= 0.0 ? INFINITY
                                                     : hours * mister->tank_kg / mister->water_kg;
    }
  for (guint n = 0; n < skins->len; n++)
    {
      const DewSkin *skin = &g_array_index (skins, DewSkin, n);
      const DewThing *thing;
      DewDayWet wet = { .thing_id = skin->thing_id, .full_kg = skin->holds_kg };

      if (skin->kind != DEW_SKIN_WET)
        continue;
      thing = dew_variant_thing (variant, skin->thing_id);
      g_strlcpy (wet.name, thing != NULL ? thing->name : "", sizeof wet.name);
      wet.water_kg = before->skin[3 * n + 1] + m->filled_each_kg[n] - before->filled_each[n]
                     - s.skin[3 * n + 1];
      wet.hours
        = wet.full_kg <= 0.0 || wet.water_kg <= 0.0 ? INFINITY : hours * wet.full_kg / wet.water_kg;
      g_array_append_val (day->wets, wet);
    }
}

/* --- the day
 * ---------------------------------------------------------------------------------------- */

static gboolean
tell_day (DewDay *day, DewMarch *m, const DewVariant *variant, double every_s,
          GCancellable *cancellable, GError **error)
{
  double length = dew_routine_length_s (day->clock);
  guint n_misters = m->misters->len, n_skins = dew_march_skins (m)->len;
  g_autofree double *ran = g_new0 (double, MAX (1, n_misters)), *skin = NULL, *filled = NULL;
  g_autoptr (GArray) misters = g_array_copy (m->misters);
  Before before;

  dew_march_watch (m);
  dew_net_clear_books (m->net);
  skin = g_memdup2 (dew_net_state (m->net).skin, sizeof (double) * 3 * n_skins);
  filled = g_memdup2 (m->filled_each_kg, sizeof (double) * n_skins);
  before = (Before){ dew_net_energy_J (m->net),
                     dew_net_water_kg (m->net),
                     m->filled_kg,
                     m->power_J,
                     misters,
                     skin,
                     filled };
  m->off_K = 0.0;
  m->steps = m->switches = 0;
  note (day, m, 0, ran);
  for (int k = 1; k < day->n; k++)
    {
      for (guint n = 0; n < n_misters; n++)
        ran[n] = g_array_index (m->misters, DewMarchMister, n).ran_s;
      if (!dew_march_to (m, MIN (length, k * every_s), cancellable, error))
        return FALSE;
      note (day, m, k, ran);
    }
  find_budget (day, m, &before);
  find_supplies (day, m, variant, &before);
  day->off_K = m->off_K;
  day->steps = m->steps;
  day->switches = m->switches;
  return TRUE;
}

DewDay *
dew_day_new (const DewChamber *chamber, guint variant_id, const DewDayOptions *o,
             GCancellable *cancellable, GError **error)
{
  gint64 start = g_get_monotonic_time ();
  double every_s = o->every_s > 0.0 ? o->every_s : EVERY_S;
  DewLump *lumps[2] = { NULL };
  g_autoptr (DewMarch) m = NULL;
  g_autoptr (DewDay) day = NULL;
  DewMarchPlan plan;
  int days;
  gboolean anew;

  g_return_val_if_fail (chamber != NULL && o != NULL, NULL);

  if (!dew_day_lumps (chamber, variant_id, o->grid, o->clock, lumps, cancellable, error))
    return NULL;
  plan = (DewMarchPlan){
    .chamber = chamber, .clock = o->clock, .lump = { lumps[0], lumps[1] }, .mishap_s = INFINITY
  };
  m = dew_day_settled_march (&plan, o->tolerance > 0.0 ? o->tolerance : 1.0,
                             o->most_days > 0 ? o->most_days : MOST_DAYS, &days, &anew, cancellable,
                             error);
  if (m != NULL)
    {
      const DewVariant *variant = dew_chamber_variant (chamber, variant_id);

      day = day_new (&plan, variant, every_s);
      day->days = days;
      day->anew = anew;
      if (!tell_day (day, m, variant, every_s, cancellable, error))
        g_clear_pointer (&day, dew_day_unref);
    }
  for (int k = 0; k < 2; k++)
    dew_lump_free (lumps[k]);
  if (day != NULL)
    day->seconds = (g_get_monotonic_time () - start) / 1e6;
  return g_steal_pointer (&day);
}

DewDay *
dew_day_ref (DewDay *day)
{
  g_atomic_int_inc (&day->ref_count);
  return day;
}

void
dew_day_unref (DewDay *day)
{
  if (day == NULL || !g_atomic_int_dec_and_test (&day->ref_count))
    return;
  g_free (day->time_s);
  g_free (day->room_t_C);
  g_free (day->room_rh);
  g_free (day->is_day);
  g_free (day->is_open);
  for (int b = 0; b < day->n_bays; b++)
    {
      g_free (day->bays[b].t_C);
      g_free (day->bays[b].rh);
      g_free (day->bays[b].rh_lo);
      g_free (day->bays[b].rh_hi);
      g_free (day->bays[b].dew_kg);
    }
  g_free (day->bays);
  for (guint n = 0; n < day->plants->len; n++)
    {
      g_free (g_array_index (day->plants, DewDayPlant, n).t_C);
      g_free (g_array_index (day->plants, DewDayPlant, n).rh);
    }
  g_array_unref (day->plants);
  for (guint n = 0; n < day->misters->len; n++)
    g_free (g_array_index (day->misters, DewDayMister, n).duty);
  g_array_unref (day->misters);
  g_array_unref (day->wets);
  for (int k = 0; k < 2; k++)
    g_clear_pointer (&day->steady[k], dew_forecast_unref);
  g_free (day);
}

double
dew_day_at (const DewDay *day, const double *series, double time_s)
{
  int k = 1;
  double share;

  while (k < day->n - 1 && day->time_s[k] < time_s)
    k++;
  share = (time_s - day->time_s[k - 1]) / (day->time_s[k] - day->time_s[k - 1]);
  return series[k - 1] + CLAMP (share, 0.0, 1.0) * (series[k] - series[k - 1]);
}
