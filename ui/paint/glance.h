/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The coloured front view by itself, with its bays' values and flags but without
 * dimensions and legend: to stand beside others of the same enclosure on one
 * scale of colours. */

#include "paint/sheet.h"

G_BEGIN_DECLS

/* Fills width x height px, which should be the same for all that stand together. */
void dew_glance_paint (cairo_t *cr, const DewSheet *sheet, double width, double height);
/* The legend of all of them: the range is that of the sheet. */
void dew_glance_legend (cairo_t *cr, const DewSheet *sheet, double width, double height);

G_END_DECLS
