/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the plants want of a value: from it the colours' range is chosen, and it is marked
 * on their scale. */
#include "paint/palette.h"

#include "moist/moist.h"
#include "store/store.h"

#include <math.h>

/* How far beyond the wishes the colours reach, so that what is amiss can be told from what
 * is just at its limit. */
#define BEYOND_T_K 2.0
#define BEYOND_RH 0.05
#define BEYOND_SHARE 1.25
#define SEA_LEVEL_PA 101325.0

/* NAN where a kind has no such wish; the end that it does not care for is NAN as well. */
static void
wish_ends (DewValue value, const DewPlantWish *wish, gboolean night, double *lo, double *hi)
{
  *lo = *hi = NAN;
  switch (value)
    {
    case DEW_VALUE_TEMPERATURE:
      *lo = night ? wish->t_night_min_C : wish->t_day_min_C;
      *hi = night ? wish->t_night_max_C : wish->t_day_max_C;
      break;
    case DEW_VALUE_RH:
      *lo = wish->rh_min;
      *hi = wish->rh_max;
      break;
    case DEW_VALUE_SPEED:
      *lo = wish->speed_lo_m_s;
      *hi = wish->speed_hi_m_s;
      break;
    case DEW_VALUE_PPFD:
      *lo = night ? NAN : wish->ppfd_lo_mol_m2s;
      *hi = night ? NAN : wish->ppfd_hi_mol_m2s;
      break;
    default:
      break;
    }
}

/* --- the range of the colours ---------------------------------------------------------- */

typedef struct
{
  double lo, hi;
} Reach;

static void
reach (Reach *range, double x)
{
  if (!isfinite (x))
    return;
  range->lo = MIN (range->lo, x);
  range->hi = MAX (range->hi, x);
}

static void
reach_plants (Reach *range, DewValue value, const DewChamber *chamber)
{
  double beyond = value == DEW_VALUE_TEMPERATURE ? BEYOND_T_K
                  : value == DEW_VALUE_RH        ? BEYOND_RH
                                                 : 0;

  for (guint v = 0; v < chamber->variants->len; v++)
    {
      const DewVariant *variant = &g_array_index (chamber->variants, DewVariant, v);

      for (guint i = 0; i < variant->things->len; i++)
        {
          const DewThing *thing = &g_array_index (variant->things, DewThing, i);
          DewPlantWish wish;

          if (thing->kind != DEW_THING_PLANT
              || !dew_catalogue_plant_wish (thing->plant.species, &wish, (gpointer) chamber))
            continue;
          for (int night = 0; night < 2; night++)
            {
              double lo, hi;

              wish_ends (value, &wish, night, &lo, &hi);
              reach (range, lo - beyond);
              reach (range, beyond > 0 ? hi + beyond : BEYOND_SHARE * hi);
            }
        }
    }
}

/* What the room has in the month that is shown; where plants stand, it is a bit moister. */
static void
reach_room (Reach *range, DewValue value, const DewChamber *chamber)
{
  const DewMonth *month = &chamber->room.months[CLAMP (chamber->month, 0, 11)];

  for (int night = 0; night < 2; night++)
    {
      double t_C = night ? month->t_night_C : month->t_day_C;
      double rh = night ? month->rh_night : month->rh_day;

      if (value == DEW_VALUE_TEMPERATURE)
        reach (range, t_C);
      else if (value == DEW_VALUE_RH)
        reach (range, rh);
      else if (value == DEW_VALUE_VPD)
        reach (range, dew_moist_p_sat (t_C) * (1 - rh));
      else if (value == DEW_VALUE_HUMIDITY_RATIO)
        {
          reach (range, rh * dew_moist_w_sat (t_C, SEA_LEVEL_PA));
          reach (range, dew_moist_w_sat (t_C, SEA_LEVEL_PA));
        }
    }
}

DewRange
dew_range_choose (DewValue value, DewTongue tongue, const DewChamber *chamber)
{
  /* Where neither plants nor room say anything: what is usual. Common practice, no source. */
  static const double usual[DEW_N_VALUES] = {
    [DEW_VALUE_SPEED] = 0.5,      [DEW_VALUE_AGE] = 600,     [DEW_VALUE_MIST] = 0.2e-3,
    [DEW_VALUE_WETTING] = 5.6e-6, [DEW_VALUE_PPFD] = 150e-6,
  };
  Reach ends = { INFINITY, -INFINITY };
  DewRange range = { 0 };

  g_return_val_if_fail (chamber != NULL && value < DEW_N_VALUES, range);

  reach_plants (&ends, value, chamber);
  reach_room (&ends, value, chamber);
  reach (&ends, usual[value] > 0 ? usual[value] : NAN);
  if (value == DEW_VALUE_RH)
    reach (&ends, 1);
  dew_range_follow (&range, value, tongue, ends.lo, ends.hi);
  return range;
}

/* --- the band that is wanted ----------------------------------------------------------- */

static gboolean
counts (const DewThing *thing, const guint *selection, guint n_selection, const double z_m[2])
{
  if (thing->kind != DEW_THING_PLANT)
    return FALSE;
  for (guint i = 0; i < n_selection; i++)
    if (selection[i] == thing->id)
      return TRUE;
  return z_m != NULL && thing->plant.z_m >= z_m[0] && thing->plant.z_m < z_m[1];
}

gboolean
dew_wanted_band (DewValue value, const DewChamber *chamber, const DewVariant *variant,
                 const guint *selection, guint n_selection, const double z_m[2], gboolean night,
                 DewRange *band)
{
  gboolean any = FALSE, plants = FALSE;

  g_return_val_if_fail (chamber != NULL && variant != NULL && band != NULL, FALSE);

  for (guint i = 0; i < variant->things->len; i++)
    plants |= counts (&g_array_index (variant->things, DewThing, i), selection, n_selection, NULL);
  *band = (DewRange){ -INFINITY, INFINITY, 0 };
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      DewPlantWish wish;
      double lo, hi;

      if (!counts (thing, selection, n_selection, plants ? NULL : z_m)
          || !dew_catalogue_plant_wish (thing->plant.species, &wish, (gpointer) chamber))
        continue;
      wish_ends (value, &wish, night, &lo, &hi);
      any |= isfinite (lo) || isfinite (hi);
      band->lo = isfinite (lo) ? MAX (band->lo, lo) : band->lo;
      band->hi = isfinite (hi) ? MIN (band->hi, hi) : band->hi;
    }
  return any && band->hi > band->lo;
}
