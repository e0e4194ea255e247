/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The members of what a forecast says, as tables: reports in text and in JSON, tables in the
 * window and tests walk them, so that a member is written down once beside its struct. A new
 * member is a row here and a line in data/README.md.
 *
 * A key is the member's own name with its unit at the end. Tables end with key NULL and live
 * as long as the program.
 */

#include "forecast/forecast.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_MEMBER_REAL,    /* double */
  DEW_MEMBER_INTEGER, /* int or guint */
  DEW_MEMBER_FLAG,    /* gboolean */
  DEW_MEMBER_NAME,    /* char[] */
  DEW_MEMBER_POINT,   /* double[3] */
  DEW_MEMBER_CLIMATE, /* DewClimate */
  DEW_MEMBER_FINDING  /* int, a DewFindingKind; -1: none */
} DewMemberType;

typedef struct
{
  const char *key;
  DewMemberType type;
  gsize offset;

  const char *band_key; /* of its half width, a double; NULL: it has none */
  gsize band;

  /* As a figure in plain text; label NULL: it is none. */
  const char *label; /* in a climate the head of a column, with its unit; _() it */
  double factor;     /* to that unit */
  int decimals;
  const char *unit; /* in a balance; NULL there: what is left over, of the largest term */

  int of; /* in a climate the DewValue it is a mean of or measured as, DEW_N_VALUES for none; in
           * a balance the DewSum it belongs to */
} DewMember;

/* The rows of a climate, for tables that choose their columns. */
typedef enum
{
  DEW_CLIMATE_T,
  DEW_CLIMATE_RH,
  DEW_CLIMATE_W,
  DEW_CLIMATE_VPD,
  DEW_CLIMATE_SPEED,
  DEW_CLIMATE_STILL,
  DEW_CLIMATE_AGE,
  DEW_CLIMATE_MIST,
  DEW_CLIMATE_WETTING,
  DEW_CLIMATE_DRIP,
  DEW_CLIMATE_PPFD
} DewClimateRow;

/* The sums of a balance. */
typedef enum
{
  DEW_SUM_AIR,
  DEW_SUM_HEAT,
  DEW_SUM_WATER,
  DEW_N_SUMS
} DewSum;

extern const DewMember dew_climate_members[];
extern const DewMember dew_place_members[];
extern const DewMember dew_exchange_members[];
extern const DewMember dew_device_members[]; /* but for thing_id */
extern const DewMember dew_cover_members[];
extern const DewMember dew_balance_members[];

/* Of DewGrid and DewForecastState, in files and on the command line. */
extern const char *const dew_grid_keys[DEW_GRID_FINE + 1];
extern const char *const dew_state_keys[DEW_FORECAST_UNSTEADY + 1];

/* The row of the mean of a value. */
const DewMember *dew_climate_member (DewValue value);

/* A row of a table without words. */
#define DEW_MEMBER(kind, record, member) \
  { \
    .key = #member, .type = DEW_MEMBER_##kind, .offset = G_STRUCT_OFFSET (record, member) \
  }

/* A real member of `record`, and its half width: NAN where it has none. */
double dew_member_real (const DewMember *member, gconstpointer record);
double dew_member_band (const DewMember *member, gconstpointer record);

G_END_DECLS
