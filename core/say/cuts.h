/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Holes in the cover, in words for who cuts them: the size, and how far they are from two
 * edges. Transfer full. */

#include "geometry/geometry.h"
#include "say/units.h"

G_BEGIN_DECLS

/* A length as a ruler shows it, for who cuts: millimetres ('12.3 cm') or sixteenths of an
 * inch ('4 13/16 in'). */
char *dew_ruler_text (double length_m, DewTongue tongue);
/* 'A' ... 'Z', 'A2' ...: what the n-th cut (from 0) is called on every page. */
char *dew_cut_letter (guint n);
/* "Flap, 30 × 4 cm"; "Fan in the wall, round, 12 cm across". */
char *dew_cut_size_words (const DewCut *cut, DewTongue tongue);
/* "12 cm from the left edge, 3 cm from the floor"; of a round one to its middle. Measured
 * inside, always from left, front and floor, as one sees the enclosure from in front. */
char *dew_cut_place_words (const DewCut *cut, DewTongue tongue);
/* "Left side", "Roof". Lent. */
const char *dew_face_title (DewFace face);

G_END_DECLS
