/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* How sure a forecast is. What a grower cannot know (how much the cover leaks, what
 * the fan really moves, how wet the clay is ...) is varied within documented
 * ranges; the enclosure is forecast anew for each set of values on the draft grid,
 * all at once on the processors there are; the spread, together with the model's
 * own error against the reference cases and the swing of a flow that does not settle,
 * is the band.
 *
 * The model's own error is known from cases that fine simulations were made of, of which
 * nothing is unknown. It is a half width, 5th to 95th percentile,
 *
 *     hypot (share * scale, floor)
 *
 * with a scale that comes with the answer: of temperature, water and speed the geometric
 * mean of the part's own (rise) and that of the bay which has most of it, as a bay that is
 * left out by heat or air may well be reached by a little of it; of still air how near the
 * speed is to the limit of what counts as still; of age the age. Shares and floors stand in
 * zones/fitted.h, tests/reference/band-fit finds them and says how many values of cases
 * that were left out they hold.
 *
 * The same chamber, options and seed give the same bands bit for bit, whatever the
 * number of processors.
 */

#include "forecast/forecast.h"
#include "forecast/run.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_UNKNOWN_LEAKAGE,
  DEW_UNKNOWN_DISCHARGE,
  DEW_UNKNOWN_FAN,
  DEW_UNKNOWN_COVER,
  DEW_UNKNOWN_EVAPORATION,
  DEW_UNKNOWN_LEAVES,
  DEW_UNKNOWN_HUMIDIFIER,
  DEW_UNKNOWN_LAMP,
  DEW_UNKNOWN_SHELF_LOSS,
  DEW_UNKNOWN_ROOM_T,
  DEW_UNKNOWN_ROOM_RH,
  DEW_N_UNKNOWNS
} DewUnknown;

typedef struct
{
  const char *name;   /* for who reads the code or a table of them; shown nowhere yet */
  double lo, hi;      /* 5th and 95th percentile */
  gboolean factor;    /* times the given value (log-normal), else added to it (normal) */
  const char *source; /* of the range, and its standing */
} DewUnknownRange;

const DewUnknownRange *dew_unknown_range (DewUnknown unknown);
/* The value of an unknown so far out in its range: 0 as given, -1 and 1 its 5th and 95th
 * percentile. */
double dew_unknown_value (DewUnknown unknown, double q);
/* How much of the range is left after what readings of this enclosure have told: 1 all of it. */
double dew_unknown_left (const DewChamber *chamber, DewUnknown unknown);

#define DEW_BAND_MEMBERS 64

typedef enum
{
  DEW_BAND_T,     /* K */
  DEW_BAND_W,     /* kg/kg */
  DEW_BAND_SPEED, /* m/s */
  DEW_BAND_STILL, /* share of the volume */
  DEW_BAND_AGE,   /* s */
  DEW_N_BANDS
} DewBandQuantity;

/* What the model's own error hangs on beside the answer. */
typedef struct
{
  /* How near a free fan that runs stands to an opening to the room, 1: in it, 0: far from all.
   * What such a fan and warm air together drive through the opening is what the model knows
   * least. */
  double fan_at_opening;
  /* A mean over a part of a bay (a place, a quarter), of whose speed the model misses more than
   * of the whole bay's. */
  gboolean only_part;
} DewBandGround;

/* The ground of a variant (0: the shown one) by day or night, for whole bays. */
DewBandGround dew_bands_ground (const DewChamber *chamber, guint variant_id, gboolean night);

/* Of a mean over a bay or part of it: what the model's own error goes with, and that error (half
 * width). */
double dew_bands_scale (const DewForecast *forecast, const DewClimate *mean,
                        const DewBandGround *ground, DewBandQuantity quantity);
double dew_bands_error (const DewForecast *forecast, const DewClimate *mean,
                        const DewBandGround *ground, DewBandQuantity quantity);

/* Document (transfer full) and options with these values of the unknowns, [DEW_N_UNKNOWNS]. */
DewChamber *dew_bands_vary (const DewChamber *chamber, guint variant_id,
                            const DewRunOptions *nominal, const double *value, DewRunOptions *out);

/* Document (transfer full) and options of one member of an ensemble of `members`: nominal
 * with other values of all unknowns. The same members, seed and member give the same values
 * for any document, so that two layouts can be compared member by member. */
DewChamber *dew_bands_member (const DewChamber *chamber, guint variant_id,
                              const DewRunOptions *nominal, int members, guint seed, int member,
                              DewRunOptions *out);

/* A copy of `forecast` (of that chamber, variant and options) whose bays, places
 * and whole have their bands: half the distance from the 5th to the 95th percentile.
 * options->members (0: DEW_BAND_MEMBERS) and options->seed are used. NULL with error
 * when cancelled or when the draft cannot be forecast; a member that fails is left
 * out. */
DewForecast *dew_forecast_with_bands (const DewForecast *forecast, const DewChamber *chamber,
                                      guint variant_id, const DewForecastOptions *options,
                                      GCancellable *cancellable, GError **error);

G_END_DECLS
