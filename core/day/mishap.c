/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "day/mishap.h"

#include <math.h>

#include "day/day-private.h"
#include "moist/constants.h"
#include "moist/moist.h"

#define EVERY_S 600.0
#define AIRED_S 3600.0
#define MOST_DAYS 6
#define TOLERANCE 3.0 /* of steps */
/* A limit that the usual day crosses already, for an hour at least, is not crossed by a mishap
 * until it is worse than that by so much. */
#define MORE_K 0.3
#define MORE_RH 0.02

typedef struct
{
  double lo[2], hi[2], rh_lo, rh_hi; /* of a plant: by night and by day */
  gboolean known;
} Limits;

typedef struct
{
  const DewChamber *chamber;
  guint variant_id;
  const DewDayOptions *options;
  DewPlantWishLookup lookup;
  gpointer lookup_data;
  DewMarchPlan usual;
  const DewMarch *midnight; /* of it, settled */
  DewDay *day;              /* the usual one */
  Limits *limits;
} Ask;

/* --- what fails ------------------------------------------------------------------------ */

static gboolean
fails (DewMishapKind kind, DewThing *thing)
{
  gboolean power = kind == DEW_MISHAP_POWER;

  switch (thing->kind)
    {
    case DEW_THING_FAN:
      if (!power && kind != DEW_MISHAP_FAN)
        return FALSE;
      thing->fan.speed_day = thing->fan.speed_night = 0.0;
      return TRUE;
    case DEW_THING_HUMIDIFIER:
      if (!power && kind != DEW_MISHAP_TANK)
        return FALSE;
      thing->humidifier.duty_day = thing->humidifier.duty_night = thing->humidifier.set_rh = 0.0;
      return TRUE;
    case DEW_THING_LAMP:
      if (kind == DEW_MISHAP_LAMP && thing->lamp.on_night < thing->lamp.on_day)
        {
          thing->lamp.on_night = thing->lamp.on_day;
          return TRUE;
        }
      if (power)
        thing->lamp.on_day = thing->lamp.on_night = 0.0;
      return power;
    case DEW_THING_MAT:
      if (power)
        thing->mat.on_day = thing->mat.on_night = 0.0;
      return power;
    default:
      return FALSE;
    }
}

/* The document with what fails; *possible gets whether anything does. */
static DewChamber *
after (const Ask *ask, DewMishapKind kind, gboolean *possible)
{
  DewChamber *copy = dew_chamber_copy (ask->chamber);
  DewVariant *variant = dew_chamber_variant (copy, ask->variant_id);

  *possible = kind == DEW_MISHAP_DOOR || kind == DEW_MISHAP_HEAT;
  for (guint t = 0; t < variant->things->len; t++)
    *possible |= fails (kind, &g_array_index (variant->things, DewThing, t));
  if (kind == DEW_MISHAP_HEAT)
    {
      DewMonth *m = &copy->room.months[CLAMP (copy->month, 0, 11)];
      double p = dew_moist_pressure (copy->room.altitude_m);
      double day = dew_moist_w_from_rh (m->t_day_C, m->rh_day, p);
      double night = dew_moist_w_from_rh (m->t_night_C, m->rh_night, p);

      m->t_day_C += DEW_MISHAP_HEAT_K;
      m->t_night_C += DEW_MISHAP_HEAT_K;
      m->rh_day = dew_moist_rh_from_w (m->t_day_C, day, p);
      m->rh_night = dew_moist_rh_from_w (m->t_night_C, night, p);
    }
  return copy;
}

/* --- limits ------------------------------------------------------------------------------- */

/* How much farther a limit has to be passed than the usual day passes it for an hour. */
static double
slack (const DewOutHours *usual, DewOut out)
{
  return usual->beyond[out] > 0.0
           ? usual->beyond[out] + (dew_out_is_warmth (out) ? MORE_K : MORE_RH)
           : 0.0;
}

static Limits
limits_of (const Ask *ask, const DewDayPlant *plant)
{
  Limits l = { { -INFINITY, -INFINITY }, { INFINITY, INFINITY }, -INFINITY, INFINITY, FALSE };
  DewOutHours usual;
  DewPlantWish w;

  l.known = ask->lookup != NULL && ask->lookup (plant->species, &w, ask->lookup_data);
  if (!l.known)
    return l;
  dew_day_judge (ask->day, plant, &w, &usual);
  /* fmin and fmax pass over what is not known. */
  l.lo[0] = fmax (-INFINITY, w.t_night_min_C - slack (&usual, DEW_OUT_COLD_NIGHT));
  l.lo[1] = fmax (-INFINITY, w.t_day_min_C - slack (&usual, DEW_OUT_COLD_DAY));
  l.hi[0] = fmin (INFINITY, w.t_night_max_C + slack (&usual, DEW_OUT_WARM_NIGHT));
  l.hi[1] = fmin (INFINITY, w.t_day_max_C + slack (&usual, DEW_OUT_WARM_DAY));
  l.rh_lo = fmax (-INFINITY, w.rh_min - slack (&usual, DEW_OUT_DRY));
  l.rh_hi = fmin (INFINITY, w.rh_max + slack (&usual, DEW_OUT_HUMID));
  return l;
}

static void
look_at (const Limits *l, gboolean day, double since_s, double t, double rh, DewMishapPlant *p)
{
  int d = day != 0;
  const struct
  {
    DewOut why;
    double value, beyond;
  } all[] = { { day ? DEW_OUT_COLD_DAY : DEW_OUT_COLD_NIGHT, t, l->lo[d] - t },
              { day ? DEW_OUT_WARM_DAY : DEW_OUT_WARM_NIGHT, t, t - l->hi[d] },
              { DEW_OUT_DRY, rh, l->rh_lo - rh },
              { DEW_OUT_HUMID, rh, rh - l->rh_hi } };
  double most = 0.0;
  int worst = -1;

  if (!l->known)
    return;
  for (guint k = 0; k < G_N_ELEMENTS (all) && !p->crossed; k++)
    if (all[k].beyond > 0.0 && dew_out_weight (all[k].why, all[k].beyond) > most)
      {
        most = dew_out_weight (all[k].why, all[k].beyond);
        worst = (int) k;
      }
  if (worst >= 0)
    {
      p->crossed = TRUE;
      p->after_s = since_s;
      p->why = all[worst].why;
      p->reaches = all[worst].value;
    }
  if (!p->crossed)
    return;
  if (p->why == DEW_OUT_COLD_DAY || p->why == DEW_OUT_COLD_NIGHT)
    p->reaches = fmin (p->reaches, t);
  else if (p->why == DEW_OUT_WARM_DAY || p->why == DEW_OUT_WARM_NIGHT)
    p->reaches = fmax (p->reaches, t);
  else
    p->reaches = p->why == DEW_OUT_DRY ? fmin (p->reaches, rh) : fmax (p->reaches, rh);
}

/* --- one mishap ----------------------------------------------------------------------------- */

static void
mishap_clear (DewMishap *m)
{
  g_clear_pointer (&m->plants, g_array_unref);
  g_clear_pointer (&m->t_C, g_free);
  g_clear_pointer (&m->rh, g_free);
}

static GArray *
plants_new (const Ask *ask)
{
  GArray *plants = g_array_new (FALSE, FALSE, sizeof (DewMishapPlant));

  for (guint n = 0; n < ask->day->plants->len; n++)
    {
      DewMishapPlant plant = { .after_s = INFINITY, .reaches = NAN };

      plant.thing_id = g_array_index (ask->day->plants, DewDayPlant, n).thing_id;
      plant.known = ask->limits[n].known;
      g_strlcpy (plant.name, g_array_index (ask->day->plants, DewDayPlant, n).name,
                 sizeof plant.name);
      g_array_append_val (plants, plant);
    }
  return plants;
}

static int
leaf_of (const GArray *skins, guint thing_id)
{
  for (guint n = 0; n < skins->len; n++)
    if (g_array_index (skins, DewSkin, n).kind == DEW_SKIN_LEAF
        && g_array_index (skins, DewSkin, n).thing_id == thing_id)
      return (int) n;
  return -1;
}

/* Whether the front has been open for watering within the hour: what that does is no mishap. */
static gboolean
was_watered (const DewMarch *march)
{
  for (double ago = 0.0; ago <= AIRED_S; ago += EVERY_S)
    if (dew_routine_is_open (march->plan->chamber, march->plan->clock,
                             fmod (march->time_s - ago, DEW_S_PER_DAY)))
      return TRUE;
  return FALSE;
}

static void
look (const Ask *ask, DewMarch *march, int k, DewMishap *m)
{
  double since = march->time_s - march->plan->mishap_s;
  gboolean day = dew_routine_is_day (march->plan->chamber, march->plan->clock,
                                     fmod (march->time_s, DEW_S_PER_DAY));

  for (int b = 0; b < m->n_bays; b++)
    dew_march_mean (march, b, &m->t_C[b * m->n + k], &m->rh[b * m->n + k]);
  for (guint n = 0; n < m->plants->len && (m->kind == DEW_MISHAP_DOOR || !was_watered (march)); n++)
    {
      DewMishapPlant *plant = &g_array_index (m->plants, DewMishapPlant, n);
      int skin = leaf_of (dew_march_skins (march), plant->thing_id);
      double t, rh;

      if (skin >= 0)
        dew_march_mean_beside (march, skin, &t, &rh);
      else
        dew_march_mean (march, g_array_index (ask->day->plants, DewDayPlant, n).bay, &t, &rh);
      look_at (&ask->limits[n], day, since, t, rh, plant);
    }
  dew_march_watch (march);
}

static gboolean
march_on (const Ask *ask, const DewMarchPlan *plan, double from_h, DewMishap *m,
          GCancellable *cancellable, GError **error)
{
  g_autoptr (DewMarch) march = dew_march_copy (ask->midnight);

  m->from_h = from_h;
  m->first = -1;
  m->n = (int) (DEW_MISHAP_HOURS * DEW_S_PER_H / EVERY_S);
  m->n_bays = ask->day->n_bays;
  m->plants = plants_new (ask);
  m->t_C = g_new0 (double, m->n * m->n_bays);
  m->rh = g_new0 (double, m->n * m->n_bays);
  dew_march_follow (march, plan);
  if (!dew_march_to (march, plan->mishap_s, cancellable, error))
    return FALSE;
  dew_march_watch (march);
  for (int k = 0; k < m->n; k++)
    {
      if (!dew_march_to (march, plan->mishap_s + (k + 1) * EVERY_S, cancellable, error))
        return FALSE;
      look (ask, march, k, m);
    }
  for (guint n = 0; n < m->plants->len; n++)
    {
      const DewMishapPlant *plant = &g_array_index (m->plants, DewMishapPlant, n);

      if (plant->crossed
          && (m->first < 0
              || plant->after_s < g_array_index (m->plants, DewMishapPlant, m->first).after_s))
        m->first = (int) n;
    }
  return TRUE;
}

static double
first_s (const DewMishap *m)
{
  return m->first < 0 ? INFINITY : g_array_index (m->plants, DewMishapPlant, m->first).after_s;
}

/* From the morning and from the evening; the worse is kept. */
static gboolean
try_mishap (const Ask *ask, DewMishapKind kind, DewMishap *out, GCancellable *cancellable,
            GError **error)
{
  const DewRoutine *r = &ask->chamber->routine;
  const double from_h[2] = { fmod (r->day_from_h + 1.0, 24.0), fmod (r->day_until_h + 1.0, 24.0) };
  DewLump *then[2] = { NULL };
  DewMarchPlan plan = ask->usual;
  g_autoptr (DewChamber) copy = after (ask, kind, &out->possible);
  gboolean ok = TRUE;

  out->kind = kind;
  out->first = -1;
  if (!out->possible)
    return TRUE;
  if (kind == DEW_MISHAP_DOOR)
    {
      plan.then[0] = plan.lump[0];
      plan.then[1] = plan.lump[1];
    }
  else if (!dew_day_lumps (copy, ask->variant_id, ask->options->grid, DEW_CLOCK_STEADY, then,
                           cancellable, error))
    return FALSE;
  else
    {
      plan.then[0] = then[0];
      plan.then[1] = then[1];
    }
  plan.stands_open = kind == DEW_MISHAP_DOOR;
  plan.no_mist = kind == DEW_MISHAP_TANK || kind == DEW_MISHAP_POWER;
  plan.no_filling = TRUE;
  plan.room_warmer_K = kind == DEW_MISHAP_HEAT ? DEW_MISHAP_HEAT_K : 0.0;
  for (int k = 0; k < 2 && ok; k++)
    {
      DewMishap one = { .kind = kind, .possible = TRUE };

      plan.mishap_s = from_h[k] * DEW_S_PER_H;
      ok = march_on (ask, &plan, from_h[k], &one, cancellable, error);
      if (ok && (k == 0 || first_s (&one) < first_s (out)))
        {
          mishap_clear (out);
          *out = one;
        }
      else
        mishap_clear (&one);
    }
  for (int k = 0; k < 2; k++)
    g_clear_pointer (&then[k], dew_lump_free);
  return ok;
}

/* --- all -------------------------------------------------------------------------------------- */

static gboolean
try_all (Ask *ask, DewMishaps *out, DewMishapTell tell, gpointer data, GCancellable *cancellable,
         GError **error)
{
  DewDayOptions o = *ask->options;

  o.clock = DEW_CLOCK_STEADY;
  o.every_s = EVERY_S;
  ask->day = dew_day_new (ask->chamber, ask->variant_id, &o, cancellable, error);
  if (ask->day == NULL)
    return FALSE;
  ask->limits = g_new0 (Limits, MAX (1, ask->day->plants->len));
  for (guint n = 0; n < ask->day->plants->len; n++)
    ask->limits[n] = limits_of (ask, &g_array_index (ask->day->plants, DewDayPlant, n));
  for (int kind = 0; kind < DEW_N_MISHAPS; kind++)
    {
      if (tell != NULL)
        tell ((kind + 1.0) / (DEW_N_MISHAPS + 1.0), data);
      if (!try_mishap (ask, (DewMishapKind) kind, &out->mishaps[kind], cancellable, error))
        return FALSE;
    }
  return TRUE;
}

DewMishaps *
dew_mishaps_new (const DewChamber *chamber, guint variant_id, const DewDayOptions *options,
                 DewPlantWishLookup lookup, gpointer lookup_data, DewMishapTell tell,
                 gpointer tell_data, GCancellable *cancellable, GError **error)
{
  gint64 start = g_get_monotonic_time ();
  g_autoptr (DewMishaps) out = g_new0 (DewMishaps, 1);
  DewLump *lumps[2] = { NULL };
  Ask ask = { .chamber = chamber,
              .variant_id = variant_id,
              .options = options,
              .lookup = lookup,
              .lookup_data = lookup_data };
  g_autoptr (DewMarch) midnight = NULL;
  gboolean ok, anew;
  int days;

  if (!dew_day_lumps (chamber, variant_id, options->grid, DEW_CLOCK_STEADY, lumps, cancellable,
                      error))
    return NULL;
  ask.usual
    = (DewMarchPlan){ .chamber = chamber, .lump = { lumps[0], lumps[1] }, .mishap_s = INFINITY };
  ask.midnight = midnight
    = dew_day_settled_march (&ask.usual, TOLERANCE, MOST_DAYS, &days, &anew, cancellable, error);
  ok = midnight != NULL && try_all (&ask, out, tell, tell_data, cancellable, error);
  g_clear_pointer (&ask.day, dew_day_unref);
  g_free (ask.limits);
  for (int k = 0; k < 2; k++)
    dew_lump_free (lumps[k]);
  out->seconds = (g_get_monotonic_time () - start) / 1e6;
  return ok ? g_steal_pointer (&out) : NULL;
}

void
dew_mishaps_free (DewMishaps *mishaps)
{
  if (mishaps == NULL)
    return;
  for (int k = 0; k < DEW_N_MISHAPS; k++)
    mishap_clear (&mishaps->mishaps[k]);
  g_free (mishaps);
}
