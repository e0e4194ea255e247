/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/limits.h"

#include <math.h>

/* Every limit a finding is measured by; change it here and nowhere else. The source of each is
 * what say/findings.c tells of it: where there is none it says 'common practice, no source'. */
/* clang-format off */
static const double limits[DEW_N_LIMITS] = {
  [DEW_LIMIT_STILL] = 0.05,
  [DEW_LIMIT_OLD] = 2.0,
  [DEW_LIMIT_UNCHANGED] = 2.0,
  [DEW_LIMIT_DRAUGHT] = 1.0,
  [DEW_LIMIT_MOUNT_DRAUGHT] = 0.6,
  [DEW_LIMIT_DRYING_AIR] = 700.0,
  [DEW_LIMIT_DRY_HARMFUL] = 4.0,
  [DEW_LIMIT_DRY_BRIEF] = 12.0,
  [DEW_LIMIT_MIST] = 1.0,
  [DEW_LIMIT_DRIP] = 0.05,
  [DEW_LIMIT_DAMP] = 200.0,
  [DEW_LIMIT_TANK_NIGHT] = 12.0,
  [DEW_LIMIT_TANK_DAY] = 24.0,
  [DEW_LIMIT_POT] = 24.0,
  [DEW_LIMIT_LOAD] = 0.6,
  [DEW_LIMIT_TIP] = 10.0,
  [DEW_LIMIT_MAINS] = 0.90,
  [DEW_LIMIT_WET_HOURS] = 8.0,
  [DEW_LIMIT_REACH] = 0.25,
  [DEW_LIMIT_WISH] = NAN,
  [DEW_LIMIT_RATING] = NAN,
};
/* clang-format on */

double
dew_limit (DewLimit limit)
{
  g_return_val_if_fail (limit < DEW_N_LIMITS, 0.0);
  return limits[limit];
}

double
dew_limit_wet_h (double t_C)
{
  /* Sirjusingh & Sutton 1996: petals of geranium, earliest hour of their ranges, 15 C 8,
   * 21 and 25 C 4, 30 C 4; none within 24 h at 10 C or cooler. */
  static const double rows[][2] = { { 10.0, 24.0 }, { 15.0, 8.0 }, { 21.0, 4.0 }, { 30.0, 4.0 } };

  if (t_C <= rows[0][0])
    return G_MAXDOUBLE;
  for (guint i = 1; i < G_N_ELEMENTS (rows); i++)
    if (t_C <= rows[i][0])
      {
        double share = (t_C - rows[i - 1][0]) / (rows[i][0] - rows[i - 1][0]);
        return rows[i - 1][1] + share * (rows[i][1] - rows[i - 1][1]);
      }
  return rows[G_N_ELEMENTS (rows) - 1][1];
}
