/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Air movement: incompressible Boussinesq flow on the staggered zones, marched
 * in pseudo-time with a semi-implicit momentum step and an incremental
 * projection. An opaque session: create from zones, set what drives the air,
 * step, read. Nothing is allocated while stepping; no globals.
 *
 * Scheme. Convection: upwind implicit with a deferred correction toward central
 * differences. Walls: smooth-wall power law (Werner, H. & Wengle, H., 8th Symp.
 * Turbulent Shear Flows, 1991: tau from u+ = 8.3 y+^(1/7), from memory). Pressure:
 * kinematic (Pa m3/kg), relative to the hydrostatic pressure of the room.
 *
 * Turbulence: one equation, for the kinetic energy k of what swirls and sways about
 * the mean (half the sum of the variances of the velocity),
 *
 *   dk/dt + u . grad k = div ((nu + nu_t) grad k) + nu_t |S|^2 - nu_t N^2 / Pr_t
 *                        - C_D k^(3/2) / L - what leaves and wires take,
 *   nu_t = min (c sqrt(k) L (1 - exp (-0.03 sqrt(k) y / nu)), 0.31 k / |S|),
 *
 * carried along upwind and implicit in the zones, decay as a sink in proportion to k,
 * so that it stays above zero. |S|^2 = 2 S_ij S_ij is the strain of the mean flow, N^2
 * the gradient of buoyancy: warm air under cool stirs, warm air over cool calms
 * (Prandtl 1945 and Kolmogorov 1942 after Launder, B. & Spalding, D., Mathematical
 * Models of Turbulence, 1972, ch. 3, from memory). Where growth and decay balance this is
 * the mixing length L, if c^3 = C_D. L is the lesser of two: that of walls, after
 * Nikuradse for the narrowest way between walls and boards, half as wide as R,
 * L / R = 0.14 - 0.08 (1 - y/R)^2 - 0.06 (1 - y/R)^4 at the distance y from the wall
 * (Schlichting, H., Boundary-Layer Theory, 7th ed., ch. XX; from memory), which grows
 * with the enclosure and is not bounded by porous shelves; and that of jets and plumes,
 * which are narrower than their box: a share of |V| / |S|, their width where they shear
 * most. Constants stand in fitted.h. The second viscosity is Bradshaw's limit of
 * the stress: without it a young jet, or a bend that a fan drives round the box,
 * is held by twice the stress it can bear. Leaves and porous shelves brake the air as
 * it is at an instant: their drag on the mean flow goes by sqrt (U^2 + 2.8 k) and
 * takes k as well (algebra at the constants). Neither fans nor inlets bring k of their own,
 * as in the reference simulations: what a real fan stirs is not known here.
 *
 * Velocities live on faces, [size] padded like the zones, positive along the
 * axis. On a face that is only partly open it is the velocity in the open part.
 */

#include "flow/pressure.h"
#include "zones/loads.h"
#include "zones/zones.h"

G_BEGIN_DECLS

typedef struct _DewFlow DewFlow;

typedef struct
{
  double viscosity_m2_s;
  double density_kg_m3;           /* for the leakage law, which is in pascals */
  double central_weight;          /* 0 upwind .. 1 central */
  gboolean laminar;               /* constant viscosity: for benchmarks */
  double lid_m_s[DEW_N_FACES][3]; /* velocity of a sliding wall: for benchmarks */
  gboolean slip[DEW_N_FACES];     /* a wall without friction: a symmetry plane */
} DewFlowOptions;

void dew_flow_options_init (DewFlowOptions *options);

/* At rest. `pressure` may be NULL (then factored here) or one of the same zones.
 * `zones` must outlive the flow. NULL when the factorisation fails. */
DewFlow *dew_flow_new (const DewZones *zones, const DewFlowOptions *options, DewPressure *pressure);
void dew_flow_free (DewFlow *flow);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewFlow, dew_flow_free)

/* Lends what drives and brakes the air; must outlive its use. */
void dew_flow_set_loads (DewFlow *flow, const DewLoads *loads);
/* Upward acceleration of each zone's air (m/s2), [size], lent. NULL: none. */
void dew_flow_set_buoyancy (DewFlow *flow, const double *buoyancy_m_s2);
/* Flow into the enclosure (m3/s, negative: out of it) through the fixed faces of
 * a thing. */
void dew_flow_set_fixed (DewFlow *flow, guint thing_id, double inflow_m3_s);
/* Mean kinematic pressure (m2/s2) just inside the fixed faces of a thing: static where they
 * blow in, total where they draw out, as the pressure of fans is stated (ISO 5801: outlet static
 * against inlet stagnation pressure; from memory). */
double dew_flow_fixed_pressure (const DewFlow *flow, guint thing_id);

/* One pseudo-time step of dt_s. FALSE when the air has become faster than
 * anything here can drive it (or is not a number): the session is then spent. */
gboolean dew_flow_step (DewFlow *flow, double dt_s);

/* [size] arrays, lent. */
const double *dew_flow_velocity (const DewFlow *flow, int axis); /* m/s, faces */
const double *dew_flow_flux (const DewFlow *flow, int axis);     /* m3/s, faces */
const double *dew_flow_speed (const DewFlow *flow);              /* m/s, zones */
const double *dew_flow_viscosity (const DewFlow *flow);  /* m2/s, zones, eddy part included */
const double *dew_flow_turbulence (const DewFlow *flow); /* k, m2/s2, zones */
const double *dew_flow_pressure (const DewFlow *flow);   /* m2/s2, zones */
DewPressure *dew_flow_matrix (DewFlow *flow);            /* lent */

/* Takes over velocities (three [size] arrays) and pressure (may be NULL); makes
 * them free of divergence. */
void dew_flow_set_state (DewFlow *flow, const double *const velocity_m_s[3],
                         const double *pressure_m2_s2);

/* Takes over k ([size], m2/s2), after the velocities. */
void dew_flow_set_turbulence (DewFlow *flow, const double *k_m2_s2);

/* Largest |net outflow| of a zone over its largest single flow. */
double dew_flow_divergence (const DewFlow *flow);

G_END_DECLS
