/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/store.h"

#include <math.h>
#include <string.h>

static DewCrownWater
crown_water (const char *text)
{
  if (g_strcmp0 (text, "harmful") == 0)
    return DEW_CROWN_HARMFUL;
  if (g_strcmp0 (text, "tolerated") == 0)
    return DEW_CROWN_TOLERATED;
  if (g_strcmp0 (text, "welcome") == 0)
    return DEW_CROWN_WELCOME;
  return DEW_CROWN_BRIEF;
}

gboolean
dew_catalogue_plant_wish (const char *species, DewPlantWish *out, gpointer data)
{
  const DewCatalogue *plants = dew_catalogue ("plants");
  int row = dew_catalogue_find (plants, species);

  if (row < 0)
    return FALSE;
  out->t_day_min_C = dew_catalogue_number (plants, row, "t_day_min_C");
  out->t_day_max_C = dew_catalogue_number (plants, row, "t_day_max_C");
  out->t_night_min_C = dew_catalogue_number (plants, row, "t_night_min_C");
  out->t_night_max_C = dew_catalogue_number (plants, row, "t_night_max_C");
  out->rh_min = 0.01 * dew_catalogue_number (plants, row, "rh_min_pct");
  out->rh_max = 0.01 * dew_catalogue_number (plants, row, "rh_max_pct");
  out->speed_lo_m_s = dew_catalogue_number (plants, row, "speed_lo_m_s");
  out->speed_hi_m_s = dew_catalogue_number (plants, row, "speed_hi_m_s");
  out->ppfd_lo_mol_m2s = 1e-6 * dew_catalogue_number (plants, row, "ppfd_lo_umol_m2s");
  out->ppfd_hi_mol_m2s = 1e-6 * dew_catalogue_number (plants, row, "ppfd_hi_umol_m2s");
  out->crown = crown_water (dew_catalogue_text (plants, row, "wet_crown"));
  return TRUE;
}
