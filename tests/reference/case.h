/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A reference case: one enclosure, stated completely in SI units, with what a
 * fine flow simulation found in it. README.md in this folder describes the
 * form. Reading a case also builds the same enclosure as a DewChamber through
 * the public functions of core/chamber, so that it can be forecast.
 */

#include <glib.h>

#include "chamber/chamber.h"
#include "forecast/forecast.h"

G_BEGIN_DECLS

/* What is known of each bay, in the order of the output. */
typedef enum
{
  DEW_CASE_SPEED,  /* m/s */
  DEW_CASE_STILL,  /* share of the volume below 0.05 m/s */
  DEW_CASE_AGE,    /* s */
  DEW_CASE_T_RISE, /* K over the room */
  DEW_CASE_W_RISE, /* kg/kg over the room */
  DEW_CASE_N_QUANTITIES
} DewCaseQuantity;

/* A bay and its quarters: left and right by x, front and back by y. */
typedef enum
{
  DEW_CASE_BAY,
  DEW_CASE_LEFT_FRONT,
  DEW_CASE_LEFT_BACK,
  DEW_CASE_RIGHT_FRONT,
  DEW_CASE_RIGHT_BACK,
  DEW_CASE_N_PARTS
} DewCasePart;

typedef struct
{
  double z0_m, z1_m;
  gboolean jet; /* air from outside comes in through an opening of this bay */
  double value[DEW_CASE_N_QUANTITIES][DEW_CASE_N_PARTS]; /* NAN: not stated */
} DewCaseBay;

typedef struct
{
  char name[DEW_NAME_SIZE];
  guint thing_id;     /* of the opening in the chamber's shown variant */
  double inflow_m3_s; /* net, into the enclosure */
} DewCaseFlow;

typedef struct
{
  char *name;
  double box_m[3];
  DewAir air;
  double prandtl_turbulent; /* 0: not stated */
  double room_t_C;
  gboolean walls_held; /* at wall_t_C; else they pass no heat */
  double wall_t_C;
  double solver_seconds; /* of the reference, one core; NAN: not stated */
  DewChamber *chamber;
  int n_bays;
  DewCaseBay *bays;
  int n_flows;
  DewCaseFlow *flows;
  int n_blocks[3];
  double *block_speed_m_s; /* [n0 * n1 * n2], x fastest; NULL: not stated */
} DewCase;

#define DEW_CASE_ERROR (dew_case_error_quark ())
GQuark dew_case_error_quark (void);
typedef enum
{
  DEW_CASE_ERROR_INVALID
} DewCaseError;

/* The file's case, or NULL with an error that names the place in the file.
 * Members that hold numbers and are not known are told on stderr: they may
 * matter to the flow. */
DewCase *dew_case_load (const char *path, GError **error);
void dew_case_free (DewCase *c);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewCase, dew_case_free)

/* Options that make a forecast comparable with the case: its own air, its
 * turbulent Prandtl number, its walls, no bands. `options` points into `c`. */
void dew_case_options (const DewCase *c, DewGrid grid, DewForecastOptions *options);

const char *dew_case_quantity_key (DewCaseQuantity quantity); /* as in the file */
const char *dew_case_part_key (DewCasePart part);

G_END_DECLS
