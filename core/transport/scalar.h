/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Transport of a scalar (temperature, humidity, mist, age) by a given flow:
 * finite volumes, conservative, upwind with a deferred correction by van Leer's
 * limiter. Two ways on: a pseudo-time step of a few sweeps, or the steady state
 * by BiCGSTAB preconditioned with DILU. Arrays are padded like the zones.
 *
 *     div (q phi - D grad phi) + sink phi = source
 *
 * q in m3/s through faces, D = nu / Pr + nu_t / Pr_t, sink and source per zone in
 * m3/s and phi m3/s. The room has one value of phi.
 */

#include "zones/zones.h"

G_BEGIN_DECLS

typedef struct _DewScalar DewScalar;

/* `zones` must outlive it. */
DewScalar *dew_scalar_new (const DewZones *zones);
void dew_scalar_free (DewScalar *scalar);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewScalar, dew_scalar_free)

/* Takes up a flow. flux_m3_s: per axis [size]; viscosity_m2_s: [size], eddy part
 * included. diffusivity = molecular + (viscosity - laminar) / prandtl_turbulent.
 * fall_m_s: downward velocity of the scalar through the air (mist), else 0; it
 * acts on inner faces normal to z beside the air's own flow, and as a sink where the
 * scalar lands. */
typedef struct
{
  const double *flux_m3_s[3];
  const double *viscosity_m2_s;
  double laminar_m2_s;
  double molecular_m2_s;
  double prandtl_turbulent;
  double fall_m_s;
  const double
    *fall_share; /* [size] faces normal to z: share of the face that what falls passes; NULL: 1 */
} DewScalarFlow;

void dew_scalar_assemble (DewScalar *scalar, const DewScalarFlow *flow);

/* One step of dt_s from phi to phi. sink, source: [size] or NULL. sharp: with the
 * deferred correction, else plain upwind. */
void dew_scalar_step (DewScalar *scalar, double *phi, double room, const double *sink,
                      const double *source, gboolean sharp, double dt_s);

/* Steady state, from phi as a first guess, until the residual is below
 * `tolerance` of the largest term. Returns the residual reached. */
double dew_scalar_solve (DewScalar *scalar, double *phi, double room, const double *sink,
                         const double *source, double tolerance);

/* What the steady states have cost since the scalar was made. */
typedef struct
{
  int solves;
  int iterations;  /* of the Krylov method, in all of them */
  double residual; /* that the last one reached, over its largest term */
} DewScalarStatistics;

DewScalarStatistics dew_scalar_statistics (const DewScalar *scalar);

/* What the deferred correction of phi brings into each zone (phi m3/s): bent [size] goes
 * the given share of the way there. Any mean of such corrections conserves. */
void dew_scalar_bend (DewScalar *scalar, double *phi, double room, double share, double *bent);

/* Flow of the scalar into the enclosure through one boundary face (phi m3/s),
 * as the equations above see it. */
double dew_scalar_inflow (const DewScalar *scalar, const DewPatch *patch, const double *phi,
                          double room);

/* What lands on the low face of a zone by falling: m3/s to multiply with phi. */
double dew_scalar_landing (const DewScalar *scalar, int zone);

G_END_DECLS
