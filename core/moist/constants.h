/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Numbers that physics and the calendar give, once for the whole program. */

/* Between 9.78 and 9.83 from place to place; this value is the one that the reference
 * simulations were made with. */
#define DEW_GRAVITY_M_S2 9.81
#define DEW_ZERO_C_K 273.15       /* by definition: SI Brochure, 9th edition, 2.3.1 */
#define DEW_R_VAPOUR_J_KGK 461.52 /* 8.31446 J/molK over 18.0153 g/mol: CODATA 2018 */
#define DEW_S_PER_H 3600.0
#define DEW_S_PER_DAY 86400.0
