/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What a day costs, and what it does to the room: power by the grower's tariff, noise, the water
 * that goes into the room and what that does to its walls, minerals that mist leaves behind. */

#include "day/day.h"

G_BEGIN_DECLS

/* NAN where the document does not say enough. */
typedef struct
{
  double power_kWh;                      /* a day */
  double cost, cost_year;                /* in the grower's money */
  double noise_day_dBA, noise_night_dBA; /* of all fans, a metre away */
  double room_L;                         /* water a day into the room */
  double room_rise_kg_m3;                /* vapour that the room then has more */
  double room_rise;                      /* points of RH of it, 0..1, at its mean warmth */
  double wall_rh; /* RH at the wall behind, with that; above 0.8 for long it moulds */
  double wall_rh_without;
  double minerals_g_month; /* that mist leaves on what it meets */
} DewRoomBudget;

void dew_budget_find (const DewChamber *chamber, guint variant_id, const DewDay *day,
                      DewRoomBudget *out);

/* Mould begins on most walls from about here on, if it lasts: ISO 13788 (from memory). */
#define DEW_BUDGET_WALL_RH 0.8

G_END_DECLS
