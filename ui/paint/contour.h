/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A forecast's values over a view as a grid, and where they cross a level. */

#include "paint/sheet-private.h"

G_BEGIN_DECLS

/* Row 0 lowest, with the heights at which values may jump (shelves). */
typedef struct
{
  int     columns, rows;
  double *value;  /* [rows * columns], unit of DewValue */
  double *z_m;    /* [n_bands + 1], ascending; only the ends in the plan */
  int     n_bands;
} DewGridPicture;

/* cell_px: about how large a cell is. Free with dew_grid_picture_clear(). */
void dew_grid_picture_init  (DewGridPicture *picture, const DewPen *pen, DewView view,
                             DewValue value, double cell_px);
void dew_grid_picture_clear (DewGridPicture *picture);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (DewGridPicture, dew_grid_picture_clear)

/* Rows whose middles lie in a band: first..last - 1. */
void dew_grid_picture_band  (const DewGridPicture *picture, const DewPen *pen, DewView view,
                             int band, int *first, int *last);

typedef struct
{
  double x0, y0, x1, y1; /* px */
} DewSegment;

/* The pieces of the lines at a level: DewSegment, free with g_array_unref(). */
GArray *dew_contour_segments (const DewPen *pen, DewView view, const DewGridPicture *picture,
                              double level);
/* Strokes them with what is set. */
void    dew_contour_stroke   (const DewPen *pen, const GArray *segments);

G_END_DECLS
