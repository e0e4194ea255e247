/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The coupled march of one variant on one set of zones: air, heat, water. Inner
 * part of the forecast module; others use forecast.h. */

#include <gio/gio.h>

#include "flow/flow.h"
#include "forecast/forecast.h"
#include "transport/atmosphere.h"
#include "transport/surfaces.h"

G_BEGIN_DECLS

typedef struct _DewRun DewRun;

/* What a run is told apart by. */
typedef struct
{
  double zone_m;
  gboolean night;
  DewAir air;
  DewRoomAir room;
  double prandtl_turbulent;
  double evaporation; /* factor on the evaporating area of pots and trays */
  gboolean cover_held;
  double cover_t_C; /* of the inner faces of a cover that is held */
} DewRunOptions;

/* Made at rest. The variant must have passed dew_chamber_check(); chamber is
 * kept (see dew_chamber_keep()). NULL with DEW_FORECAST_ERROR when there is no steady state to
 * find. */
DewRun *dew_run_new (const DewChamber *chamber, guint variant_id, const DewRunOptions *options,
                     GError **error);
/* The same; where walls, shelves and openings are those of `like` (or NULL), the
 * factorisation is shared with it: not for two threads at once. */
DewRun *dew_run_new_like (const DewChamber *chamber, guint variant_id, const DewRunOptions *options,
                          const DewRun *like, GError **error);
void dew_run_free (DewRun *run);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewRun, dew_run_free)

/* Takes a changed document: keeps state, and the factorisation where walls,
 * shelves and openings are the same, else carries the state over to new zones. */
gboolean dew_run_change (DewRun *run, const DewChamber *chamber, guint variant_id,
                         const DewRunOptions *options, GError **error);
/* Starts from the state of another run, on whatever zones. */
void dew_run_start_from (DewRun *run, const DewRun *other);

/* Pseudo-time steps. FALSE with error when the solver gave up. */
gboolean dew_run_steps (DewRun *run, int n, GError **error);
/* The same beside a hand that moves things, n at least 2: heat and water of whole bays go where the
 * steps foresee them, as between the windows of a settling. What is read, as after
 * dew_run_finish(), is a mean over these steps and those before, of more of them the longer nothing
 * changed. */
gboolean dew_run_follow (DewRun *run, int n, GCancellable *cancellable, GError **error);
/* Until it is near where it will settle: enough to start a finer run from. air_first: heat and
 * water act only once the air without them is near. */
gboolean dew_run_approach (DewRun *run, gboolean air_first, GCancellable *cancellable,
                           GError **error);
/* Until it settles or clearly does not; from rest by an approach. */
gboolean dew_run_settle (DewRun *run, GCancellable *cancellable, GError **error);
/* The steady heat, water and age on the mean flow of the last window. most: rounds
 * between air and surfaces, 0: until they agree. */
void dew_run_finish (DewRun *run, double tolerance, int most);
/* The same without the age, for a run that marches on. */
void dew_run_balance (DewRun *run, double tolerance, int most);

/* What comes in through one face to the room. */
typedef struct
{
  double heat_W; /* enthalpy */
  double water_kg_s, mist_kg_s;
} DewPassed;

/* How far a bay strays from its mean in time, nine times of ten. */
typedef struct
{
  double speed_m_s, t_K, w_kg_kg;
} DewSwing;

typedef struct
{
  const DewZones *zones;
  const DewLoads *loads;
  const DewFlow *flow;
  const DewAtmosphere *atmosphere;
  const DewSurfaces *surfaces;
  const double *flux_m3_s[3]; /* means of the last window */
  const double *velocity_m_s[3];
  const double *speed_m_s; /* zones; mean of the speed */
  const double *viscosity_m2_s;
  const double *age_s; /* zones; NAN without exchange */
  gboolean settled;
  int steps;
  double swing; /* largest relative change of a bay between the last two windows; of a mean in
                 time, how far it strays */
  const DewSwing *swings;  /* bays; 0 where it settles */
  const DewPassed *passed; /* [n_patches] means, of a mean in time; else NULL */
} DewRunView;

void dew_run_view (const DewRun *run, DewRunView *out);
const DewChamber *dew_run_chamber (const DewRun *run);
const DewVariant *dew_run_variant (const DewRun *run);
const DewRunOptions *dew_run_options (const DewRun *run);

G_END_DECLS
