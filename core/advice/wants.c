/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/fit.h"
#include "advice/objective.h"

#include <math.h>
#include <string.h>

/* Plants that bear less count more: common practice, no source. */
#define WEAK_COUNTS 2.0
#define ARRIVED_COUNTS 1.5

/* Cool growers, where nobody says what stands there. Humidity 70 to 95 % as growers of small
 * cool orchids keep it; days to 27 C and nights to 18 C as in data/thresholds.csv ('hot day',
 * 'warm night'); the lower ends are common practice, no source. */
static const DewBandWish usual = { 0.70, 0.95, 12.0, 27.0, 6.0, 18.0 };

/* --- what plants share --------------------------------------------------- */

static void
limits_of (const DewPlantKind *kind, DewWantLimit limit, double *lo, double *hi)
{
  *lo = limit == DEW_WANT_RH      ? kind->rh_min
        : limit == DEW_WANT_T_DAY ? kind->t_day_min_C
                                  : kind->t_night_min_C;
  *hi = limit == DEW_WANT_RH      ? kind->rh_max
        : limit == DEW_WANT_T_DAY ? kind->t_day_max_C
                                  : kind->t_night_max_C;
  if (isnan (*lo))
    *lo = -INFINITY;
  if (isnan (*hi))
    *hi = INFINITY;
}

typedef gboolean (*Counts) (const DewWanted *plant, const double *z_m);

static gboolean
counts_all (const DewWanted *plant, const double *z_m)
{
  return TRUE;
}

static gboolean
counts_in_bay (const DewWanted *plant, const double *z_m)
{
  return plant->wish < 0 && plant->at_m[2] >= z_m[0] - 1e-9 && plant->at_m[2] < z_m[1];
}

/* The band that most plants share: of all lower limits the one that lies within most bands;
 * of several such the one that leaves the widest band. FALSE without any plant. */
static gboolean
shared_band (const GArray *plants, Counts counts, const double *z_m, DewWantLimit limit, double *lo,
             double *hi)
{
  int most = 0;
  double widest = -1.0;

  *lo = *hi = NAN;
  for (guint c = 0; c < plants->len; c++)
    {
      const DewWanted *from = &g_array_index (plants, DewWanted, c);
      double at, unused, top = INFINITY, bottom = -INFINITY;
      int n = 0;

      if (!from->known || !counts (from, z_m))
        continue;
      limits_of (&from->kind, limit, &at, &unused);
      for (guint p = 0; p < plants->len; p++)
        {
          const DewWanted *plant = &g_array_index (plants, DewWanted, p);
          double low, high;

          if (!plant->known || !counts (plant, z_m))
            continue;
          limits_of (&plant->kind, limit, &low, &high);
          if (low > at || high < at)
            continue;
          n += plant->count;
          bottom = MAX (bottom, low);
          top = MIN (top, high);
        }
      if (n < most || (n == most && !(top - bottom > widest)))
        continue;
      most = n;
      widest = top - bottom;
      *lo = bottom;
      *hi = top;
    }
  if (*lo == -INFINITY)
    *lo = NAN;
  if (*hi == INFINITY)
    *hi = NAN;
  return most > 0;
}

static void
band_of (const GArray *plants, Counts counts, const double *z_m, DewBandWish *out)
{
  double *const lo[DEW_N_WANTS] = { &out->rh_lo, &out->t_day_lo_C, &out->t_night_lo_C };
  double *const hi[DEW_N_WANTS] = { &out->rh_hi, &out->t_day_hi_C, &out->t_night_hi_C };

  for (int l = 0; l < DEW_N_WANTS; l++)
    shared_band (plants, counts, z_m, l, lo[l], hi[l]);
}

/* --- contradictions ------------------------------------------------------ */

/* Whether the band of a plant lies off the shared one, and on which side. */
static int
side_of (const DewWanted *plant, DewWantLimit limit, double lo, double hi)
{
  double low, high;

  limits_of (&plant->kind, limit, &low, &high);
  if (!isnan (lo) && high < lo)
    return -1;
  if (!isnan (hi) && low > hi)
    return 1;
  return 0;
}

static void
add_contradiction (DewWants *wants, DewWantLimit limit, const DewWanted *worst, int side,
                   int others, double theirs)
{
  DewContradiction one
    = { .limit = limit, .wants_more = side > 0, .theirs = theirs, .others = others };
  double low, high;

  limits_of (&worst->kind, limit, &low, &high);
  one.its = side < 0 ? high : low;
  g_strlcpy (one.name, worst->name, sizeof one.name);
  g_array_append_val (wants->contradictions, one);
}

static void
find_contradictions (DewWants *wants)
{
  const DewBandWish *b = &wants->band;
  const double lo[DEW_N_WANTS] = { b->rh_lo, b->t_day_lo_C, b->t_night_lo_C };
  const double hi[DEW_N_WANTS] = { b->rh_hi, b->t_day_hi_C, b->t_night_hi_C };

  for (int l = 0; l < DEW_N_WANTS; l++)
    for (int side = -1; side <= 1; side += 2)
      {
        DewWanted *worst = NULL;
        double farthest = -1.0;
        int n = 0;

        for (guint p = 0; p < wants->plants->len; p++)
          {
            DewWanted *plant = &g_array_index (wants->plants, DewWanted, p);
            double low, high, by;

            if (!plant->known || side_of (plant, l, lo[l], hi[l]) != side)
              continue;
            plant->given_up = TRUE;
            n += plant->count;
            limits_of (&plant->kind, l, &low, &high);
            by = side < 0 ? lo[l] - high : low - hi[l];
            if (by <= farthest)
              continue;
            farthest = by;
            worst = plant;
          }
        if (worst != NULL)
          add_contradiction (wants, l, worst, side, n - worst->count, side < 0 ? lo[l] : hi[l]);
      }
}

/* --- life ---------------------------------------------------------------- */

static void
add_plant (DewWants *wants, const char *species, const char *name, DewPlantKindLookup lookup,
           gpointer data, DewWanted *plant)
{
  /* Of a species that nobody knows nothing is asked but what troubles nearly every plant. */
  static const DewPlantKind anything = {
    .t_day_min_C = NAN,
    .t_day_ideal_C = NAN,
    .t_day_max_C = NAN,
    .t_night_min_C = NAN,
    .t_night_ideal_C = NAN,
    .t_night_max_C = NAN,
    .rh_min = NAN,
    .rh_ideal = NAN,
    .rh_max = NAN,
    .speed_lo_m_s = NAN,
    .speed_hi_m_s = NAN,
    .ppfd_lo_mol_m2s = NAN,
    .ppfd_hi_mol_m2s = NAN,
    .height_m = NAN,
    .width_m = NAN,
    .leaf_length_m = NAN,
    .crown = DEW_CROWN_BRIEF,
  };

  plant->kind = anything;
  plant->known = species[0] != '\0' && lookup != NULL && lookup (species, &plant->kind, data);
  if (!plant->known)
    plant->kind = anything;
  dew_fit_kind_in_state (&plant->kind, plant->state, &plant->asks);
  plant->weight = plant->state == DEW_PLANT_WEAK      ? WEAK_COUNTS
                  : plant->state == DEW_PLANT_ARRIVED ? ARRIVED_COUNTS
                                                      : 1.0;
  g_strlcpy (plant->species, species, sizeof plant->species);
  g_strlcpy (plant->name, name[0] != '\0' ? name : species, sizeof plant->name);
  g_array_append_val (wants->plants, *plant);
}

DewWants *
dew_wants_new (const DewChamber *chamber, const DewVariant *variant, DewPlantKindLookup lookup,
               gpointer data)
{
  DewWants *wants = g_new0 (DewWants, 1);
  gboolean any = FALSE;

  wants->plants = g_array_new (FALSE, FALSE, sizeof (DewWanted));
  wants->contradictions = g_array_new (FALSE, FALSE, sizeof (DewContradiction));
  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);
      const DewPlant *plant = &thing->plant;

      if (thing->kind == DEW_THING_PLANT)
        add_plant (wants, plant->species, thing->name, lookup, data,
                   &(DewWanted){ .wish = -1,
                                 .thing_id = thing->id,
                                 .count = 1,
                                 .state = plant->state,
                                 .at_m = { plant->x_m, plant->y_m, plant->z_m },
                                 .footprint_m2 = plant->width_m * plant->depth_m });
    }
  for (guint w = 0; w < chamber->wishes->len; w++)
    {
      const DewWish *wish = &g_array_index (chamber->wishes, DewWish, w);
      double width_m = wish->width_m > 0.0 ? wish->width_m : 0.15;

      add_plant (wants, wish->species, wish->name, lookup, data,
                 &(DewWanted){ .wish = (int) w,
                               .count = MAX (1, wish->count),
                               .state = wish->state,
                               .at_m = { NAN, NAN, NAN },
                               .footprint_m2 = width_m * width_m });
    }
  for (guint p = 0; p < wants->plants->len; p++)
    any |= g_array_index (wants->plants, DewWanted, p).known;
  wants->usual = !any;
  if (any)
    band_of (wants->plants, counts_all, NULL, &wants->band);
  else
    wants->band = usual;
  find_contradictions (wants);
  return wants;
}

void
dew_wants_free (DewWants *wants)
{
  if (wants == NULL)
    return;
  g_array_unref (wants->plants);
  g_array_unref (wants->contradictions);
  g_free (wants);
}

gboolean
dew_wants_lookup (const char *species, DewPlantWish *out, gpointer data)
{
  const DewWants *wants = data;

  for (guint p = 0; p < wants->plants->len; p++)
    {
      const DewWanted *plant = &g_array_index (wants->plants, DewWanted, p);
      const DewPlantKind *k = &plant->kind;

      if (!plant->known || strcmp (plant->species, species) != 0)
        continue;
      *out = (DewPlantWish){ k->t_day_min_C,     k->t_day_max_C,  k->t_night_min_C,
                             k->t_night_max_C,   k->rh_min,       k->rh_max,
                             k->speed_lo_m_s,    k->speed_hi_m_s, k->ppfd_lo_mol_m2s,
                             k->ppfd_hi_mol_m2s, k->crown };
      return TRUE;
    }
  return FALSE;
}

DewBandWish
dew_wants_of_bay (const DewWants *wants, double z0_m, double z1_m)
{
  static const DewBandWish nothing = { NAN, NAN, NAN, NAN, NAN, NAN };
  const double z_m[2] = { z0_m, z1_m };
  gboolean stands = FALSE;

  for (guint p = 0; p < wants->plants->len; p++)
    {
      const DewWanted *plant = &g_array_index (wants->plants, DewWanted, p);
      DewBandWish band;

      if (!plant->known)
        continue;
      stands |= plant->wish < 0;
      if (!counts_in_bay (plant, z_m))
        continue;
      band_of (wants->plants, counts_in_bay, z_m, &band);
      return band;
    }
  return stands ? nothing : wants->band;
}
