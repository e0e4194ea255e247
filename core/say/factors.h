/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What a unit of the United States is in SI, for units.c and typed.c. Exact by definition
 * or to the digits given: NIST Special Publication 811 (2008), appendix B.8. A kilogram of
 * water counts as a litre. */

#define M_PER_IN 0.0254
#define M_PER_FT 0.3048
#define KG_PER_LB 0.45359237
#define KG_PER_OZ (KG_PER_LB / 16.0)
#define L_PER_GAL 3.785411784
#define L_PER_QT (L_PER_GAL / 4.0)
#define L_PER_FL_OZ (L_PER_GAL / 128.0)
#define M3_S_PER_CFM (M_PER_FT * M_PER_FT * M_PER_FT / 60.0)
#define M_S_PER_FT_MIN (M_PER_FT / 60.0)
#define PA_PER_IN_WATER 249.0889
#define W_M2K_PER_BTU 5.678263
#define K_PER_F (5.0 / 9.0)
