/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What moisture.c (asking), layout.c, curves.c (walking the curves) and pots.c share. */

#include "advice/layouts.h"
#include "advice/moisture/moisture.h"

G_BEGIN_DECLS

typedef struct
{
  const DewChamber *chamber;
  DewChamber *with_one; /* with the humidifier that is meant, where none is drawn */
  guint variant_id;
  const DewMoistureQuestion *q;
  DewMoistureAdvice *advice;
  DewLayoutBench bench;
  double *z_m; /* [n_bays + 1] */
  GError **error;
} DewSizer;

/* --- layouts ------------------------------------------------------------- */

/* Sets a document to a value of a curve. layout: DewPot, of DEW_SIZING_POTS. */
void dew_sizing_set (DewChamber *chamber, guint variant_id, DewSizing sizing, double x,
                     const GArray *layout);
/* Humidifiers off. FALSE when there is none. */
gboolean dew_sizing_dry (DewChamber *chamber, guint variant_id);
/* What all humidifiers give off together when they run (kg/s), and how many vents there are. */
double dew_sizing_output_kg_s (const DewVariant *variant, int *n);
int dew_sizing_vents (const DewVariant *variant, double *mean_open);

/* Free spots for a pot, best first, bay after bay: [n_bays] arrays of DewPot, where pots stand
 * now and then as far from all else as can be. Free with g_ptr_array_unref(). */
/* A spot for a humidifier that wide and high, on the lowest shelf that has one. FALSE: none. */
gboolean dew_sizing_humidifier_spot (const DewChamber *chamber, guint variant_id,
                                     DewHumidifier *humidifier);
GPtrArray *dew_sizing_pot_spots (const DewChamber *chamber, guint variant_id, const DewPot *pot);

/* --- curves -------------------------------------------------------------- */

/* Fills a point from forecasts. */
void dew_sizing_judge (const DewSizer *sizer, const DewLayout *layout, gboolean settled,
                       gboolean warmth_counts, DewSizingPoint *out);
void dew_sizing_point_clear (DewSizingPoint *point);

/* Walks a curve. FALSE with error when cancelled. */
gboolean dew_sizing_walk (DewSizer *sizer, DewSizing sizing, DewSizingCurve *out);

/* Forecasts n values of a curve and adds their points. layouts: [n] arrays of DewPot, or NULL. */
gboolean dew_sizing_add_points (DewSizer *sizer, DewSizingCurve *curve, const double *x,
                                GArray *const *layouts, int n, DewGrid grid);
/* The smallest value that holds (of a vent the largest), of those on settled zones or of all, and
 * the nearest to x; -1: none. */
int dew_sizing_find_least (const DewSizingCurve *curve, gboolean settled);
int dew_sizing_nearest (const DewSizingCurve *curve, double x);
/* Forecasts one value on settled zones; *holds tells whether it does. */
gboolean dew_sizing_settle (DewSizer *sizer, DewSizingCurve *curve, double x, GArray *layout,
                            gboolean *holds);
/* Finds what is advised among the settled points; where none holds, settles what comes nearest.
 * present_x: of the layout as it is, or -1. */
gboolean dew_sizing_end_walk (DewSizer *sizer, DewSizingCurve *curve, double present_x);
gboolean dew_sizing_walk_pots (DewSizer *sizer, DewSizingCurve *curve, const DewVariant *variant);

/* --- humidistat ---------------------------------------------------------- */

/* Finds set point and sensor; constant: the point that is advised for a constant output. FALSE
 * with error when cancelled. */
gboolean dew_sizing_find_humidistat (DewSizer *sizer, const DewSizingPoint *constant);
/* Sets all humidifiers to it and adds the sensor. */
void dew_sizing_set_humidistat (DewChamber *chamber, guint variant_id,
                                const DewHumidistat *humidistat);

/* Bay with the least room within its band, and that room (fraction; negative: outside). */
double dew_sizing_margin (const DewSizer *sizer, const DewSizingPoint *point, int *bay);

G_END_DECLS
