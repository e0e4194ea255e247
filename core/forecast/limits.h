/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The limits that findings and advice measure by, each with its source. */

#include <glib.h>

G_BEGIN_DECLS

/* The limits, their values in one table in findings-limits.c; where each comes from says
 * say/findings.h. */
typedef enum
{
  DEW_LIMIT_STILL,         /* m/s */
  DEW_LIMIT_OLD,           /* of the enclosure's mean age */
  DEW_LIMIT_UNCHANGED,     /* h */
  DEW_LIMIT_DRAUGHT,       /* m/s */
  DEW_LIMIT_MOUNT_DRAUGHT, /* m/s, in drying air */
  DEW_LIMIT_DRYING_AIR,    /* Pa */
  DEW_LIMIT_DRY_HARMFUL,   /* h */
  DEW_LIMIT_DRY_BRIEF,     /* h */
  DEW_LIMIT_MIST,          /* mL/m2h, the least that counts */
  DEW_LIMIT_DRIP,          /* mL/h */
  DEW_LIMIT_DAMP,          /* Pa */
  DEW_LIMIT_TANK_NIGHT,    /* h */
  DEW_LIMIT_TANK_DAY,      /* h */
  DEW_LIMIT_POT,           /* h */
  DEW_LIMIT_LOAD,          /* of the rating */
  DEW_LIMIT_TIP,           /* degrees */
  DEW_LIMIT_MAINS,         /* relative humidity */
  DEW_LIMIT_WET_HOURS,     /* by temperature: dew_limit_wet_h() */
  DEW_LIMIT_REACH,         /* m/s, as far as a fan's stream counts */
  DEW_LIMIT_WISH,          /* no one value: what the plant's kind bears */
  DEW_LIMIT_RATING,        /* no one value: what the shelf is rated for */
  DEW_N_LIMITS
} DewLimit;

double dew_limit (DewLimit limit);
/* Hours of wetness after which grey mould fruits on petals at t_C. */
double dew_limit_wet_h (double t_C);

G_END_DECLS
