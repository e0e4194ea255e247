/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What run.c (making and changing a run), march.c (stepping and settling it), mean.c and jump.c
 * share. */

#include "forecast/run.h"

G_BEGIN_DECLS

#define DEW_RUN_LAYERS 3 /* of each bay, that must settle too */
#define DEW_RUN_MEANS 8  /* fields of a mean: velocity, speed, viscosity, enthalpy, water, mist */
#define WATCHED_WINDOWS 12

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
  GArray *humidistats; /* double, per mister: duty and humidity of the last steady state,
                        * duty and excess of water (kg/kg) foreseen by the last march */
  double room_rh;
  gboolean thermal; /* there is anything to warm, cool, wet or dry the air */

  int n_bays;
  int *bay_of; /* [size], -1 outside */
  double *bay_m3;

  /* Sums over the window that runs, and means over the last whole one. */
  int in_window;
  double *sum_u[3], *sum_speed, *sum_nu, *sum_h, *sum_q, *sum_m;
  double *mean_u[3], *mean_flux[3], *mean_speed, *mean_nu;
  double *half_h, *half_q; /* the sums at the middle of the window */
  double window_s;         /* time that heat and water have gone in it */
  int window_steps;        /* of the last whole one */
  double *last_miss[2];
  double *bay_miss[2], *last_bay_miss[2]; /* where the bays would end, K and kg/kg */
  gboolean walked;                        /* not at rest any more */
  int *layer_of;                          /* [size] of DEW_RUN_LAYERS in each bay, -1 outside */
  double *layer_m3;

  /* What must settle, of the last windows: [WATCHED_WINDOWS][n_watched]. */
  int windows, n_watched;
  double *watch;

  /* The mean over a long time, where the air does not settle. */
  gboolean is_mean;                 /* the state that is read is one */
  double *long_mean[DEW_RUN_MEANS]; /* [size] */
  BayMean *bay_sums, *bay_squares;
  DewSwing *swings; /* [n_bays] */
  gboolean counts_passed;
  DewPassed *passed; /* [n_patches] */
  double jump;       /* share of the way */
  gboolean jumped;   /* before this window */
  gboolean follows;  /* it was a hand that it followed last */
  int held;          /* so often without a change */
  double *put_by[3]; /* [size] what marches of enthalpy, water and mist, while a mean is shown */
  BayMean *bays;
  gboolean has_mean;

  double *age;
  double jet_m_s; /* about the speed of the strongest jet that a force drives */
  double dt;
  int steps;
  gboolean settled;
  double swing;
};

/* Surfaces, duties, heat and water brought to agree on the mean flow. */
void dew_run_solve_steady (DewRun *run, double tolerance, int most);
/* What the air lacks of the set point (kg/kg) where the humidistat of a mister listens, and the
 * bays where it mists and where it listens (-1: nowhere). */
double dew_run_humidistat_lacking (const DewRun *run, guint mister, int *mists, int *listens);

/* march.c: a window of steps and its means, FALSE with error as dew_run_steps(). */
gboolean dew_run_window (DewRun *run, GCancellable *cancellable, GError **error);
/* The largest rise over the room of temperature and of water, with a floor. */
void dew_run_scales (const DewRun *run, double *t_K, double *w_kg_kg);

/* mean.c: marches on without jumps and makes the means over all of it the state that is read: air,
 * heat, water, mist, and what openings pass of them. */
gboolean dew_run_take_mean (DewRun *run, GCancellable *cancellable, GError **error);

/* jump.c */
void dew_run_jump_far (DewRun *run);
double dew_run_jump_near (DewRun *run);

/* Working points of the fans in the wall, for the pressure as it is. */
void dew_run_update_wall_fans (DewRun *run);

G_END_DECLS
