/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the model says of one variant in its room: fields over the zones, means
 * over bays and places, flows through openings, balances, findings.
 *
 * A DewForecast is made by dew_forecast_new() (cold) or by a DewForecaster,
 * which keeps its state between calls so that a small change of the enclosure
 * is followed at a small cost. A finished DewForecast never changes and may be
 * read from any thread; it is reference counted.
 */

#include <gio/gio.h>

#include "chamber/chamber.h"
#include "forecast/limits.h"
#include "geometry/geometry.h"
#include "moist/air.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_GRID_DRAFT,   /* while something is dragged */
  DEW_GRID_SETTLED, /* when it rests */
  DEW_GRID_FINE     /* on request */
} DewGrid;

typedef enum
{
  DEW_FORECAST_FOLLOWING, /* a step on the way: values lag a little */
  DEW_FORECAST_SETTLED,
  DEW_FORECAST_UNSTEADY /* does not settle: means over some hundred steps of the march */
} DewForecastState;

typedef enum
{
  DEW_VALUE_TEMPERATURE,    /* C */
  DEW_VALUE_RH,             /* fraction, 0..1 (suspended mist not counted) */
  DEW_VALUE_HUMIDITY_RATIO, /* kg/kg */
  DEW_VALUE_VPD,            /* Pa */
  DEW_VALUE_SPEED,          /* m/s */
  DEW_VALUE_AGE,            /* s, mean age of air; NAN everywhere without any air exchange */
  DEW_VALUE_MIST,           /* kg/kg, suspended droplets */
  DEW_VALUE_WETTING,        /* kg/m2s, fallen mist and drip on what lies below */
  DEW_VALUE_PPFD,           /* mol/m2s */
  DEW_N_VALUES
} DewValue;

/* What a plant wishes. NAN where nothing is known: then nothing is found amiss. */
typedef struct
{
  double t_day_min_C, t_day_max_C;
  double t_night_min_C, t_night_max_C;
  double rh_min, rh_max;             /* fraction */
  double speed_lo_m_s, speed_hi_m_s; /* of the air at its leaves */
  double ppfd_lo_mol_m2s, ppfd_hi_mol_m2s;
  DewCrownWater crown;
} DewPlantWish;

/* Fills `out` with the wishes of a species (never empty); FALSE if unknown. Called
 * in the thread that makes the findings. */
typedef gboolean (*DewPlantWishLookup) (const char *species, DewPlantWish *out, gpointer data);

typedef struct
{
  DewGrid grid;
  gboolean night;           /* night room and lamps; else day */
  gboolean checked;         /* the variant has passed dew_chamber_check(): not done again */
  const DewAir *air;        /* NULL: from room and altitude */
  double zone_m;            /* wanted zone size; 0: by `grid` */
  double prandtl_turbulent; /* 0: as the model has it */
  const double *cover_t_C;  /* inner faces of the cover held at this temperature, radiating to
                             * nothing, whatever its U-value: what simulations call a wall of
                             * fixed temperature. NULL: the cover finds its own */
  int members;              /* of the ensemble for the bands (see bands.h); 0: no bands */
  guint seed;               /* of that ensemble */
  DewPlantWishLookup wish;  /* for the findings; NULL: plants count as of no known kind */
  gpointer wish_data;
} DewForecastOptions;

/* A mean with its share over parts: what the table and the labels show. `band`
 * is the half width within which the value is expected; NAN while unknown. */
typedef struct
{
  double t_C, t_band_K;
  double rh, rh_band;
  double w_kg_kg, w_band_kg_kg;
  double vpd_Pa, vpd_band_Pa;
  double speed_m_s, speed_band_m_s;
  double still_share, still_band; /* share of the volume slower than 0.05 m/s */
  double age_s, age_band_s;
  double mist_kg_kg;
  double wetting_kg_m2s; /* mist that settles, on plan area */
  double drip_kg_s;      /* water that drips onto it */
  double ppfd_mol_m2s;
} DewClimate;

typedef struct
{
  double z0_m, z1_m;
  guint shelf_id;           /* the shelf it stands on; 0 = floor */
  char name[DEW_NAME_SIZE]; /* of that shelf, as the grower calls it; empty: it has none */
  DewClimate mean;
  /* How far it strays from the mean in time, nine times of ten; 0 when settled. */
  double swing_t_K, swing_w_kg_kg, swing_speed_m_s;
} DewBay;

typedef struct
{
  int bay;                 /* index */
  int column, row;         /* on the shelf's grid of places, from left, from front */
  double lo_m[3], hi_m[3]; /* the air a plant standing there would be in */
  DewClimate mean;
  int severity;  /* worst of what is found there: 0 nothing, 1 watch, 2 act */
  int worst;     /* which that is (DewFindingKind), -1 for nothing */
  double excess; /* how far it is beyond its limit, 1 = just at it; NAN for nothing */
} DewPlace;

typedef struct
{
  guint thing_id;           /* opening, duct or wall fan; 0 = leakage of the cover */
  char name[DEW_NAME_SIZE]; /* that of leakage is English: _() it where it is shown */
  double inflow_m3_s;       /* gross, from the room */
  double outflow_m3_s;      /* gross, to the room */
} DewExchange;

/* What the forecast says of one device, wet thing or plant. NAN where it has no
 * meaning. */
typedef struct
{
  guint thing_id;
  double duty;           /* share of the time a humidifier runs, 0..1 */
  double water_kg_s;     /* given off; negative = gathers dew */
  double hours_of_water; /* until tank or reserve is empty; INFINITY when it is not used up */
  double t_C;            /* of a wet surface or of leaves */
  double leaf_vpd_Pa;
  double flow_m3_s;      /* of a fan at its working point; see working.h */
  double wetting_kg_m2s; /* mist and drip that fall on it */
  double pressure_Pa;    /* rise over a fan at its working point; 0 for one that stands free */
  double power_W;        /* drawn now: fan, humidifier, lamp, mat */
  int severity;          /* worst of what is found about it: 0 nothing, 1 watch, 2 act */
  int worst;             /* which that is (DewFindingKind), -1 for nothing */
} DewDevice;

/* What the forecast says of one side of the cover. */
typedef struct
{
  double t_C; /* mean of the inner surface; NAN for a cover that lets nothing through */
  double coldest_C;
  double dew_kg_s; /* water that condenses on it */
  double heat_W;   /* that it passes to the room */
} DewCover;

/* What goes in must come out. Gains positive into the enclosure's air. An unsteady forecast shows
 * means over a time, of what openings pass too; the whole of it is raised by as much of heat and
 * water as closes the balances. Where there is fog, its heat, water and mist are instead the
 * steady ones on the mean flow. */
typedef struct
{
  double air_in_m3_s, air_out_m3_s;
  double heat_source_W;  /* devices, sensible */
  double heat_latent_W;  /* taken by evaporation in the air (negative) or given by condensation */
  double heat_surface_W; /* from pots, trays, leaves */
  double heat_openings_W;
  double heat_cover_W;
  double water_device_kg_s;  /* vapour and mist given off by devices */
  double water_surface_kg_s; /* by pots, trays, leaves */
  double water_openings_kg_s;
  double water_cover_kg_s;   /* condensed on cover and shelves (negative) */
  double water_fallout_kg_s; /* mist that settled (negative) */
  double air_residual;       /* |sum| over the largest term, relative */
  double heat_residual;
  double water_residual;
} DewBalance;

typedef enum
{
  DEW_FINDING_STILL,
  DEW_FINDING_DRAUGHTY,
  DEW_FINDING_SLOW_TO_DRY,
  DEW_FINDING_MIST_WETS,
  DEW_FINDING_ROOF_DRIP,
  DEW_FINDING_SHELF_DRIP,
  DEW_FINDING_DRY,
  DEW_FINDING_MOIST,
  DEW_FINDING_WARM,
  DEW_FINDING_COOL,
  DEW_FINDING_DISEASE,
  DEW_FINDING_TANK,
  DEW_FINDING_LOAD,
  DEW_FINDING_ELECTRIC,
  DEW_FINDING_DARK,
  DEW_FINDING_BRIGHT,
  DEW_FINDING_POT_DRY,
  DEW_N_FINDINGS
} DewFindingKind;

/* What makes a finding, and with it what would help. */
typedef enum
{
  DEW_CAUSE_STILL_AIR,
  DEW_CAUSE_STREAM,       /* of air that meets the leaves */
  DEW_CAUSE_WET_CROWN,    /* dries slowly */
  DEW_CAUSE_FALLING_MIST, /* more than the air takes up again */
  DEW_CAUSE_COLD_ROOF,    /* drips */
  DEW_CAUSE_SHELF_ABOVE,  /* drips */
  DEW_CAUSE_DRY_AIR,
  DEW_CAUSE_FULL_AIR, /* too humid */
  DEW_CAUSE_WARM_DAY,
  DEW_CAUSE_WARM_NIGHT,
  DEW_CAUSE_COLD,
  DEW_CAUSE_WETTED_LEAVES, /* longer than grey mould needs */
  DEW_CAUSE_DAMP_STILLNESS,
  DEW_CAUSE_SMALL_TANK,
  DEW_CAUSE_OVERLOAD,    /* over what the shelf is rated for */
  DEW_CAUSE_UNEVEN_LOAD, /* over what a rating means for pots */
  DEW_CAUSE_TOP_HEAVY,   /* the whole enclosure tips */
  DEW_CAUSE_MAINS_WET,   /* mains voltage where it is wet */
  DEW_CAUSE_MAINS_INSIDE,
  DEW_CAUSE_SHADE,
  DEW_CAUSE_STRONG_LIGHT,
  DEW_CAUSE_SMALL_RESERVE, /* of a pot or tray */
  DEW_N_CAUSES
} DewFindingCause;

/* The facts; say/findings.h tells them. */
typedef struct
{
  DewFindingKind kind; /* follows from the cause */
  DewFindingCause cause;
  guint thing_id;           /* what it is about; 0 = a place or bay */
  char name[DEW_NAME_SIZE]; /* of that thing, or empty */
  int others;               /* things of its bay of which the same is found */
  int bay;                  /* -1 = the whole enclosure */
  double at_m[3];           /* where the flag points */
  double value, threshold;  /* SI, of the quantity of the cause: m/s, s, fraction, C, Pa,
                             * mol/m2s, kg, rad, mist in kg/m2s, drip in kg/s */
  DewLimit limit;           /* where the threshold comes from */
  int severity;             /* 1 look, 2 act */
  guint by_id;              /* the thing of this layout that is behind it; 0: none can be named */
  DewThingKind by_kind;
  char by[DEW_NAME_SIZE]; /* its name, or empty */
} DewFinding;

/* What the answer took, and how well its equations hold; of the grid it is on. */
typedef struct
{
  int rounds;            /* of mist, water and heat in turn, see transport/atmosphere.h */
  double change;         /* that the last of them made */
  int scalar_solves;     /* linear steady states */
  int scalar_iterations; /* in all of them */
  double residual;       /* left of the last one, over its largest term; 0 of a mean in time */
  double divergence;     /* largest net outflow of a zone over its largest flow */
} DewEffort;

typedef struct _DewForecast
{
  gint ref_count; /* private */

  DewForecastState state;
  DewGrid grid;
  gboolean night;
  double inner_m[3];
  double room_t_C, room_w_kg_kg, room_rh, pressure_Pa;

  /* Zones: n[0] x n[1] x n[2], x fastest. line_m[a]: [n[a] + 1] grid lines. */
  int n[3];
  int n_zones;
  double *line_m[3];
  double *value[DEW_N_VALUES]; /* [n_zones] means of the zones, units as in DewValue */
  double *velocity_m_s[3];     /* [n_zones] at the middle of each zone */
  double
    *face_m_s[3]; /* velocity on the faces normal to a, one more than zones along a, x fastest */
  guint8 *board;  /* 1 where the face under a zone is a closed board; as the faces normal to z */
  double *still_share; /* [n_zones] share of the zone slower than 0.05 m/s */

  int n_bays;
  DewBay *bays;
  int n_places;
  DewPlace *places;
  int n_exchanges;
  DewExchange *exchanges;
  int n_devices;
  DewDevice *devices;
  DewCover cover[DEW_N_FACES];
  double radiant_C;        /* what surfaces see of each other, mean */
  double *drip_kg_m2s;     /* [n_zones] part of DEW_VALUE_WETTING that drips */
  double evaporated_share; /* of the mist given off, that the air took up; NAN without mist */
  DewClimate all;
  double exchange_1_s; /* air changes per second, inflow over volume */
  DewBalance balance;
  int n_findings;
  DewFinding *findings;

  int steps;
  DewEffort effort;
  double swing;         /* largest relative change of a bay between the last windows; of an unsteady
                         * one how far any bay strays from its mean, nine times of ten */
  gboolean two_answers; /* started with the air before heat and water it ends elsewhere */
  DewClimate *other;    /* [n_bays] means of the bays in that other flow; NULL: none was found, or
                         * none looked for */
  double seconds;
} DewForecast;

#define DEW_FORECAST_ERROR (dew_forecast_error_quark ())
GQuark dew_forecast_error_quark (void);
typedef enum
{
  DEW_FORECAST_ERROR_INVALID,   /* the variant cannot be forecast; the message says why */
  DEW_FORECAST_ERROR_DIVERGED,  /* the solver gave up */
  DEW_FORECAST_ERROR_IMPOSSIBLE /* what came out cannot be; the message says what asks for it */
} DewForecastError;

void dew_forecast_options_init (DewForecastOptions *options);

/* Cold and to the end; with bands it is also found out whether the air has a second answer. NULL
 * with error; cancelled gives G_IO_ERROR_CANCELLED. variant_id 0: the shown one. */
DewForecast *dew_forecast_new (const DewChamber *chamber, guint variant_id,
                               const DewForecastOptions *options, GCancellable *cancellable,
                               GError **error);
DewForecast *dew_forecast_ref (DewForecast *forecast);
/* A forecast of its own (transfer full) that may still be changed. */
DewForecast *dew_forecast_copy (const DewForecast *forecast);
void dew_forecast_unref (DewForecast *forecast);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewForecast, dew_forecast_unref)

/* One worker's memory between forecasts. Not for two threads at once. */
typedef struct _DewForecaster DewForecaster;
DewForecaster *dew_forecaster_new (void);
void dew_forecaster_free (DewForecaster *forecaster);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewForecaster, dew_forecaster_free)

/* While something is dragged: a fixed number of steps on from the last state, and where they lead,
 * state FOLLOWING. On options->grid; once a call has taken more than budget_s of processor time (0:
 * as long as it takes), on the draft grid until something is settled again: see
 * dew_forecast_is_draft(). A machine that is only busy gets the same pictures, later. */
DewForecast *dew_forecaster_follow (DewForecaster *forecaster, const DewChamber *chamber,
                                    guint variant_id, const DewForecastOptions *options,
                                    double budget_s, GCancellable *cancellable, GError **error);
/* At rest: to the end on options->grid. Always from the same start, air at rest and as the room's,
 * so that a layout has one answer whatever was shown before. */
DewForecast *dew_forecaster_settle (DewForecaster *forecaster, const DewChamber *chamber,
                                    guint variant_id, const DewForecastOptions *options,
                                    GCancellable *cancellable, GError **error);

/* What may come a moment later: the same forecast with its bands (transfer full), and whether
 * the air has a second answer: the same start, but fans and draughts before heat and water.
 * options->members, 0: the usual number. */
DewForecast *dew_forecaster_assure (DewForecaster *forecaster, DewForecast *forecast,
                                    const DewChamber *chamber, guint variant_id,
                                    const DewForecastOptions *options, GCancellable *cancellable,
                                    GError **error);

/* --- reading a forecast ------------------------------------------------ */

/* Value of the zone that holds (x, y, z), continued linearly between zone
 * middles but never across a shelf. NAN outside. */
double dew_forecast_sample (const DewForecast *forecast, DewValue value, double x_m, double y_m,
                            double z_m);
/* Velocity at a point, from the faces (linear along each axis). FALSE outside. */
gboolean dew_forecast_velocity (const DewForecast *forecast, double x_m, double y_m, double z_m,
                                double out_m_s[3]);

/* Picture of a value: out[row * columns + column], row 0 lowest, sampled at
 * the middles of columns x rows equal cells over the whole enclosure and
 * averaged over the depth lo..hi (m) of the view (lo >= hi: all of it). */
void dew_forecast_picture (const DewForecast *forecast, DewValue value, DewView view, double lo_m,
                           double hi_m, int columns, int rows, double *out);

/* Volume means over a box (m). */
void dew_forecast_box (const DewForecast *forecast, const double lo_m[3], const double hi_m[3],
                       DewClimate *out);

const char *dew_forecast_state_text (const DewForecast *forecast); /* 'settled' ... */

/* Whether it is but a draft on its way, on coarse zones: speeds may be a third off, humidities ten
 * points, and a picture of it should not look like more. */
gboolean dew_forecast_is_draft (const DewForecast *forecast);

G_END_DECLS
