/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/light/light-private.h"

#include <math.h>
#include <string.h>

#include "catalogue/catalogue.h"
#include "geometry/geometry.h"
#include "moist/constants.h"
#include "transport/light.h"

/* Common practice, no source, all of these. */
#define LEAVES_M 0.15    /* from a lamp to leaves, at least */
#define COVER_M 0.05     /* to the roof */
#define HOT_COVER_M 0.10 /* likewise, of a lamp above HOT_W */
#define HOT_W 20.0
#define SIDE_M 0.02     /* from its ends to the walls */
#define STEP_M 0.05     /* between heights */
#define MAINS_COSTS 1.5 /* watts of a mains lamp count so much more: wet air is no place for it */
#define PAIR_COSTS 1.1
#define DIMMER_COSTS 1.05
#define DAY_H 24.0
#define WORTH_IT 0.7 /* of what misses may be left, else nothing is changed for it */

/* Shares of its power that a lamp with a dimmer may be set to. */
static const double dimmed[] = { 1.0, 0.75, 0.5, 0.35, 0.25 };

/* --- what plants get ----------------------------------------------------- */

double
dew_light_day_mol_m2 (double lamps_mol_m2s, double hours, double daylight_mol_m2s)
{
  return DEW_S_PER_H * (hours * lamps_mol_m2s + DEW_LIGHT_USUAL_H * daylight_mol_m2s);
}

typedef struct
{
  double dark, bright; /* how many times too little, too much; 1: just enough */
} Missed;

static Missed
missed (const DewLightSpot *spot, double lit_mol_m2s, double day_mol_m2)
{
  double usual_s = DEW_LIGHT_USUAL_H * DEW_S_PER_H;
  Missed m = { 1.0, 1.0 };

  if (spot->lo_mol_m2s > 0.0)
    m.dark = spot->lo_mol_m2s * usual_s / MAX (day_mol_m2, 1e-3);
  if (spot->hi_mol_m2s > 0.0)
    m.bright = MAX (lit_mol_m2s / spot->hi_mol_m2s, day_mol_m2 / (spot->hi_mol_m2s * usual_s));
  return m;
}

/* A number of one per cent is no miss: lamps differ by more. */
#define ENOUGH 1.01

/* A day's light of all lamps, and what falls in at once. */
static void
light_of (const DewLighting *l, const double at_m[3], double *lit_mol_m2s, double *day_mol_m2)
{
  double daylight = dew_light_daylight_mol_m2s (l->chamber, l->variant, l->inner_m, FALSE, at_m[0],
                                                at_m[1], at_m[2]);

  double day_h = dew_routine_day_h (&l->chamber->routine);

  *lit_mol_m2s = daylight;
  *day_mol_m2 = dew_light_day_mol_m2 (0.0, 0.0, daylight);
  for (guint t = 0; t < l->variant->things->len; t++)
    {
      const DewThing *lamp = &g_array_index (l->variant->things, DewThing, t);
      double by_day, by_night;

      if (lamp->kind != DEW_THING_LAMP)
        continue;
      by_day = dew_light_of_lamp_mol_m2s (l->variant, l->inner_m, &lamp->lamp, FALSE, at_m);
      by_night = dew_light_of_lamp_mol_m2s (l->variant, l->inner_m, &lamp->lamp, TRUE, at_m);
      *lit_mol_m2s += MAX (by_day, by_night);
      *day_mol_m2 += dew_light_day_mol_m2 (by_day, day_h, 0.0)
                     + dew_light_day_mol_m2 (by_night, DAY_H - day_h, 0.0);
    }
}

void
dew_lighting_judge (const DewLighting *l, int bay, DewLightOn *out)
{
  double weight = 0.0;

  *out = (DewLightOn){ .lo_mol_m2s = INFINITY };
  for (guint s = 0; s < l->spots->len; s++)
    {
      const DewLightSpot *spot = &g_array_index (l->spots, DewLightSpot, s);
      double lit, day;
      Missed m;

      if (spot->bay != bay)
        continue;
      light_of (l, spot->at_m, &lit, &day);
      m = missed (spot, lit, day);
      out->dark += m.dark > ENOUGH ? spot->count : 0;
      out->bright += m.bright > ENOUGH ? spot->count : 0;
      out->lo_mol_m2s = MIN (out->lo_mol_m2s, lit);
      out->hi_mol_m2s = MAX (out->hi_mol_m2s, lit);
      out->mean_mol_m2s += spot->count * lit;
      out->day_mol_m2 += spot->count * day;
      weight += spot->count;
    }
  if (weight > 0.0)
    {
      out->mean_mol_m2s /= weight;
      out->day_mol_m2 /= weight;
    }
  else
    out->lo_mol_m2s = 0.0;
}

/* --- trying lamps -------------------------------------------------------- */

typedef DewLightWorth Worth;

gboolean
dew_light_is_better (const DewLightWorth *a, const DewLightWorth *b)
{
  if (a->out != b->out)
    return a->out < b->out;
  if (fabs (a->miss - b->miss) > 1e-3)
    return a->miss < b->miss;
  return a->cost < b->cost;
}

typedef struct
{
  int hours; /* of light a day */
  int n;     /* of the bay's spots */
  const DewLightSpot **spot;
  double *other_lit, *other_day; /* [n] light from elsewhere */
  double *own;                   /* [n] of the lamps that are tried */
} Trial;

static Worth
worth_of (const Trial *trial, double share, double cost_W)
{
  Worth worth = { 0, 0.0, share != 1.0 ? DIMMER_COSTS * cost_W : cost_W };

  for (int s = 0; s < trial->n; s++)
    {
      double own = share * trial->own[s];
      double lit = trial->other_lit[s] + own;
      double day = trial->other_day[s] + dew_light_day_mol_m2 (own, trial->hours, 0.0);
      Missed m = missed (trial->spot[s], lit, day);

      worth.out += m.dark > ENOUGH || m.bright > ENOUGH ? trial->spot[s]->count : 0;
      worth.miss += trial->spot[s]->count
                    * (MAX (0.0, log (m.dark / ENOUGH)) + MAX (0.0, log (m.bright / ENOUGH)));
    }
  return worth;
}

/* Best share of their power for the lamps whose light is in trial->own. */
static double
best_share (const Trial *trial, double cost_W, Worth *best)
{
  double chosen = 1.0;

  *best = worth_of (trial, chosen, cost_W);
  for (guint d = 0; d < G_N_ELEMENTS (dimmed); d++)
    {
      Worth worth = worth_of (trial, dimmed[d], cost_W);

      if (!dew_light_is_better (&worth, best))
        continue;
      *best = worth;
      chosen = dimmed[d];
    }
  return chosen;
}

static gboolean
hangs_in (const DewThing *thing, double z0_m, double z1_m)
{
  return thing->kind == DEW_THING_LAMP && thing->lamp.z_m >= z0_m - 1e-9 && thing->lamp.z_m < z1_m;
}

static void
light_alone (const DewLighting *l, const Trial *trial, const DewLamp *lamp)
{
  for (int s = 0; s < trial->n; s++)
    trial->own[s]
      += dew_light_of_lamp_mol_m2s (l->variant, l->inner_m, lamp, FALSE, trial->spot[s]->at_m);
}

static void
clear_own (const Trial *trial)
{
  memset (trial->own, 0, sizeof *trial->own * trial->n);
}

/* Middle of the bay's plants in depth, clear of the walls. */
static double
middle_of (const Trial *trial, double depth_m, double half_m)
{
  double sum = 0.0, n = 0.0;

  for (int s = 0; s < trial->n; s++)
    {
      sum += trial->spot[s]->count * trial->spot[s]->at_m[1];
      n += trial->spot[s]->count;
    }
  return CLAMP (n > 0.0 ? sum / n : 0.5 * depth_m, half_m, MAX (half_m, depth_m - half_m));
}

static gboolean
has_room (const DewLighting *l, const DewLamp *lamp)
{
  DewThing thing = { .kind = DEW_THING_LAMP, .lamp = *lamp };
  double lo[3], hi[3];

  dew_thing_box (l->chamber, &thing, lo, hi);
  for (guint t = 0; t < l->variant->things->len; t++)
    {
      const DewThing *other = &g_array_index (l->variant->things, DewThing, t);
      double other_lo[3], other_hi[3];

      if (other->kind == DEW_THING_OPENING || other->kind == DEW_THING_LAMP)
        continue;
      dew_thing_box (l->chamber, other, other_lo, other_hi);
      if (dew_boxes_cross (lo, hi, other_lo, other_hi, 3, 0.0))
        return FALSE;
    }
  return TRUE;
}

typedef struct
{
  const DewLighting *l;
  const Trial *trial;
  DewLightBay *bay;
  double top_m, ceiling_m; /* of the leaves, and of the bay */
  gboolean roof;
  Worth best;
  gboolean any;
} Search;

/* One row of the catalogue at all heights, alone or as a pair side by side. */
static void
try_row (Search *search, guint row, int pair)
{
  const DewCatalogue *lamps = dew_catalogue ("lamps");
  const DewLighting *l = search->l;
  DewThing thing;
  double highest, apart;

  dew_thing_init (&thing, DEW_THING_LAMP);
  dew_catalogue_apply_thing (lamps, row, &thing);
  if (thing.lamp.length_m > l->inner_m[0] - 2.0 * SIDE_M
      || (pair + 1) * thing.lamp.width_m > l->inner_m[1] - 2.0 * SIDE_M)
    return;
  thing.lamp.on_day = 1.0;
  thing.lamp.on_night = 0.0;
  thing.lamp.x_m = 0.5 * l->inner_m[0];
  apart = pair ? 0.5 * l->inner_m[1] : 0.0;
  thing.lamp.y_m = pair
                     ? 0.25 * l->inner_m[1]
                     : middle_of (search->trial, l->inner_m[1], 0.5 * thing.lamp.width_m + SIDE_M);
  highest = search->ceiling_m - thing.lamp.height_m
            - (!search->roof                ? 0.0
               : thing.lamp.power_W > HOT_W ? HOT_COVER_M
                                            : COVER_M);
  for (double z = highest; z >= search->top_m + LEAVES_M - 1e-9; z -= STEP_M)
    {
      DewLamp second;
      Worth worth;
      double cost = thing.lamp.power_W * (pair ? 2.0 * PAIR_COSTS : 1.0)
                    * (thing.lamp.low_voltage ? 1.0 : MAINS_COSTS);
      double share;

      thing.lamp.z_m = z;
      second = thing.lamp;
      second.y_m += apart;
      if (!has_room (l, &thing.lamp) || (pair && !has_room (l, &second)))
        continue;
      clear_own (search->trial);
      light_alone (l, search->trial, &thing.lamp);
      if (pair)
        light_alone (l, search->trial, &second);
      share = best_share (search->trial, cost, &worth);
      if (search->any && !dew_light_is_better (&worth, &search->best))
        continue;
      search->any = TRUE;
      search->best = worth;
      search->bay->n_lamps = 1 + pair;
      search->bay->set = thing.lamp;
      search->bay->set.on_day = share;
      search->bay->second_y_m = second.y_m;
      search->bay->above_m = z - search->top_m;
      search->bay->share = share;
      search->bay->burns = TRUE;
      g_strlcpy (search->bay->lamp, dew_catalogue_text (lamps, row, "name"),
                 sizeof search->bay->lamp);
    }
}

/* --- choosing ------------------------------------------------------------ */

static void
begin_trial (const DewLighting *l, int bay, double z0_m, double z1_m, Trial *trial)
{
  g_autoptr (GPtrArray) spots = g_ptr_array_new ();
  /* Lights of this bay out for a moment. */
  g_autoptr (GArray) was = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint s = 0; s < l->spots->len; s++)
    if (g_array_index (l->spots, DewLightSpot, s).bay == bay)
      g_ptr_array_add (spots, &g_array_index (l->spots, DewLightSpot, s));
  trial->n = (int) spots->len;
  trial->other_lit = g_new0 (double, trial->n + 1);
  trial->other_day = g_new0 (double, trial->n + 1);
  trial->own = g_new0 (double, trial->n + 1);
  for (guint t = 0; t < l->variant->things->len; t++)
    {
      DewThing *thing = &g_array_index (l->variant->things, DewThing, t);

      if (!hangs_in (thing, z0_m, z1_m))
        continue;
      g_array_append_val (was, thing->lamp.power_W);
      thing->lamp.power_W = 0.0;
    }
  trial->spot = (const DewLightSpot **) g_ptr_array_free (g_steal_pointer (&spots), FALSE);
  for (int s = 0; s < trial->n; s++)
    light_of (l, trial->spot[s]->at_m, &trial->other_lit[s], &trial->other_day[s]);
  for (guint t = 0, n = 0; t < l->variant->things->len; t++)
    {
      DewThing *thing = &g_array_index (l->variant->things, DewThing, t);

      if (hangs_in (thing, z0_m, z1_m))
        thing->lamp.power_W = g_array_index (was, double, n++);
    }
}

static void
end_trial (Trial *trial)
{
  g_free (trial->spot);
  g_free (trial->other_lit);
  g_free (trial->other_day);
  g_free (trial->own);
}

/* The lamps that hang there at the best share of their power. FALSE: there is none. */
static gboolean
try_present (const DewLighting *l, const Trial *trial, double z0_m, double z1_m, double *share,
             Worth *worth)
{
  gboolean any = FALSE;

  clear_own (trial);
  for (guint t = 0; t < l->variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (l->variant->things, DewThing, t);

      if (!hangs_in (thing, z0_m, z1_m)
          || !(thing->lamp.power_W * MAX (thing->lamp.on_day, thing->lamp.on_night) > 0.0))
        continue;
      for (int s = 0; s < trial->n; s++)
        trial->own[s]
          += dew_light_of_lamp_mol_m2s (l->variant, l->inner_m, &thing->lamp,
                                        !(thing->lamp.on_day > 0.0), trial->spot[s]->at_m);
      any = TRUE;
    }
  /* What hangs there already costs nothing more. */
  *share = best_share (trial, 1e-6, worth);
  return any;
}

static double
top_of (const Trial *trial)
{
  double top = 0.0;

  for (int s = 0; s < trial->n; s++)
    top = MAX (top, trial->spot[s]->top_m);
  return top;
}

/* Into the copy: takes down what hangs in the bay, hangs what is advised. */
static void
hang (DewLighting *l, const DewLightBay *bay, double z0_m, double z1_m)
{
  for (guint t = l->variant->things->len; t > 0; t--)
    {
      const DewThing *thing = &g_array_index (l->variant->things, DewThing, t - 1);

      if (hangs_in (thing, z0_m, z1_m))
        dew_variant_remove (l->variant, thing->id);
    }
  for (int n = 0; n < bay->n_lamps; n++)
    {
      DewThing lamp;

      dew_thing_init (&lamp, DEW_THING_LAMP);
      lamp.lamp = bay->set;
      if (n == 1)
        lamp.lamp.y_m = bay->second_y_m;
      dew_variant_add (l->chamber, l->variant, &lamp);
    }
}

static void
dim_present (DewVariant *variant, double share, double z0_m, double z1_m)
{
  for (guint t = 0; t < variant->things->len; t++)
    {
      DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (!hangs_in (thing, z0_m, z1_m))
        continue;
      thing->lamp.on_day *= share;
      thing->lamp.on_night *= share;
    }
}

static void
add_worth (DewLightWorth *sum, const DewLightWorth *worth)
{
  sum->out += worth->out;
  sum->miss += worth->miss;
  sum->cost += worth->cost;
}

/* Every lamp of the catalogue. */
static void
try_all (Search *search)
{
  const DewCatalogue *lamps = dew_catalogue ("lamps");

  for (guint row = 0; row < dew_catalogue_rows (lamps); row++)
    {
      if (strcmp (dew_catalogue_text (lamps, row, "kind"), "discharge") == 0)
        continue; /* too hot for an enclosure at home, as its row says */
      try_row (search, row, 0);
      try_row (search, row, 1);
    }
}

void
dew_lighting_choose (DewLighting *l, DewLightBay *bay, int hours, double z0_m, double z1_m,
                     DewLightWorth *sum)
{
  Trial trial = { .hours = hours };
  Search search = { l, &trial, bay, 0.0, z1_m, z1_m > l->inner_m[2] - 1e-6, { 0 }, FALSE };
  DewLightBay stays;
  Worth present;
  double share = 1.0;
  gboolean has;

  begin_trial (l, bay->bay, z0_m, z1_m, &trial);
  has = try_present (l, &trial, z0_m, z1_m, &share, &present);
  if (!has)
    {
      clear_own (&trial);
      present = worth_of (&trial, 1.0, 0.0);
    }
  stays = *bay;
  stays.burns = has;
  stays.share = share;
  search.top_m = MAX (top_of (&trial), z0_m);
  /* Enough light from elsewhere, or from what hangs there: nothing new. */
  if (present.out > 0)
    try_all (&search);
  if (search.any
      && (search.best.out < present.out || search.best.miss < WORTH_IT * present.miss - 1e-3))
    {
      hang (l, bay, z0_m, z1_m);
      add_worth (sum, &search.best);
    }
  else
    {
      stays.too_low = !search.any && present.out > 0;
      *bay = stays;
      if (has)
        dim_present (l->variant, share, z0_m, z1_m);
      add_worth (sum, &present);
    }
  end_trial (&trial);
}
