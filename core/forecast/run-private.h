/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What run.c (making and changing a run) and march.c (stepping and settling it)
 * share. */

#include "forecast/run.h"

G_BEGIN_DECLS

typedef struct
{
  double speed, t, w;
} BayMean;

struct _DewRun
{
  const DewChamber *chamber; /* kept */
  guint variant_id;
  DewRunOptions o;
  DewZones *z;
  DewLoads *loads;
  DewFlow *flow;
  DewAtmosphere *atmosphere;
  DewSurfaces *surfaces;
  GArray *humidistats; /* double: duty and humidity before, per mister */
  double room_rh;
  gboolean thermal; /* there is anything to warm, cool, wet or dry the air */

  int n_bays;
  int *bay_of; /* [size], -1 outside */
  double *bay_m3;

  /* Sums over the window that runs, and means over the last whole one. */
  int in_window;
  double *sum_u[3], *sum_speed, *sum_nu, *sum_h, *sum_q, *sum_m;
  double *mean_u[3], *mean_flux[3], *mean_speed, *mean_nu;
  double *last_miss[2];
  double jump;
  int jumps;
  BayMean *bays, *last_bays;
  gboolean has_last, has_mean;

  double *age;
  double jet_m_s; /* about the speed of the strongest jet that a force drives */
  double dt;
  int steps;
  gboolean settled;
  double swing;
};

/* Working points of the fans in the wall, for the pressure as it is. */
void dew_run_update_wall_fans (DewRun *run);

G_END_DECLS
