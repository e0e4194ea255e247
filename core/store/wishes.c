/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/store.h"

gboolean
dew_catalogue_plant_wish (const char *species, DewPlantWish *out, gpointer data)
{
  DewPlantKind kind;

  if (!dew_catalogue_plant_kind (species, &kind, data))
    return FALSE;
  out->t_day_min_C = kind.t_day_min_C;
  out->t_day_max_C = kind.t_day_max_C;
  out->t_night_min_C = kind.t_night_min_C;
  out->t_night_max_C = kind.t_night_max_C;
  out->rh_min = kind.rh_min;
  out->rh_max = kind.rh_max;
  out->speed_lo_m_s = kind.speed_lo_m_s;
  out->speed_hi_m_s = kind.speed_hi_m_s;
  out->ppfd_lo_mol_m2s = kind.ppfd_lo_mol_m2s;
  out->ppfd_hi_mol_m2s = kind.ppfd_hi_mol_m2s;
  out->crown = kind.crown;
  return TRUE;
}
