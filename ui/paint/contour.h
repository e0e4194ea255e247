/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A forecast's values over a view as a grid, and where they cross a level. */

#include "paint/sheet-private.h"

G_BEGIN_DECLS

/* Row 0 lowest, with the heights at which values may jump (shelves). */
typedef struct
{
  int columns, rows;
  double *value; /* [rows * columns], unit of DewValue */
  double *z_m;   /* [n_bands + 1], ascending; only the ends in the plan */
  int n_bands;
} DewGridPicture;

/* cell_px: about how large a cell is. Free with dew_grid_picture_clear(). */
void dew_grid_picture_init (DewGridPicture *picture, const DewPen *pen, DewView view,
                            DewValue value, double cell_px);
/* The same between two heights or depths (m) instead of those of the view. */
void dew_grid_picture_init_between (DewGridPicture *picture, const DewPen *pen, DewView view,
                                    DewValue value, double cell_px, double lo_m, double hi_m);
void dew_grid_picture_clear (DewGridPicture *picture);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (DewGridPicture, dew_grid_picture_clear)

/* Rows whose middles lie in a band: first..last - 1. */
void dew_grid_picture_band (const DewGridPicture *picture, const DewPen *pen, DewView view,
                            int band, int *first, int *last);

typedef struct
{
  double x0, y0, x1, y1; /* px */
} DewSegment;

/* The pieces of the lines at a level: DewSegment, free with g_array_unref(). */
GArray *dew_contour_segments (const DewPen *pen, DewView view, const DewGridPicture *picture,
                              double level);
/* Strokes them with what is set. */
void dew_contour_stroke (const DewPen *pen, const GArray *segments);
/* The same as lines from end to end, for dashes; takes longer. */
void dew_contour_stroke_joined (const DewPen *pen, const GArray *segments);
/* Words on the line where they are clear of all that is taken (DewRect, the words are
 * added to it), or nowhere. */
void dew_contour_number (const DewPen *pen, DewView view, const GArray *segments, const char *text,
                         GArray *taken);

/* --- lines of the plan ------------------------------------------------------------------- */

/* Where the mean speed of the bay's air is the lower end of what moves leaves
 * (DEW_LIMIT_REACH), and where the light on the plants is half of the shelf's most.
 * DewSegment, free with g_array_unref(); the level in the unit of DewValue. */
GArray *dew_sheet_reach (const DewPen *pen, double *level_m_s);
GArray *dew_sheet_light (const DewPen *pen, double *level_mol_m2s);

G_END_DECLS
