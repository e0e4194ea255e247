/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/limits.h"

#include <glib/gi18n.h>

/* Every limit a finding is measured by. A value without a published source says so;
 * change it here and nowhere else. */
/* clang-format off */
static const struct
{
  double value;
  const char *source;
} limits[DEW_N_LIMITS] = {
  [DEW_LIMIT_STILL] = { 0.05, N_ ("Slower than 0.05 m/s is dead air: common practice, no source") },
  [DEW_LIMIT_OLD] = { 2.0, N_ ("Twice the mean age of the air: common practice, no source") },
  [DEW_LIMIT_UNCHANGED] = { 2.0, N_ ("Half an air change an hour: common practice, no source") },
  [DEW_LIMIT_DRAUGHT] = { 1.0, N_ ("1 m/s moves leaves; as a limit common practice, no source") },
  [DEW_LIMIT_MOUNT_DRAUGHT] = { 0.6, N_ ("0.6 m/s for mounts in drying air: common practice, "
                                         "no source") },
  [DEW_LIMIT_DRYING_AIR] = { 700.0, N_ ("A deficit of 0.7 kPa: common practice, no source") },
  [DEW_LIMIT_DRY_HARMFUL] = { 4.0, N_ ("Crowns dry within 4 h of wetting: common practice, "
                                       "no source") },
  [DEW_LIMIT_DRY_BRIEF] = { 12.0, N_ ("Crowns dry before night: common practice, no source") },
  [DEW_LIMIT_MIST] = { 1.0, N_ ("What a wet leaf loses, from its energy balance (Campbell & Norman "
                                "1998 ch. 14)") },
  [DEW_LIMIT_DRIP] = { 0.05, N_ ("A drop (0.05 mL) an hour: common practice, no source") },
  [DEW_LIMIT_DAMP] = { 200.0, N_ ("0.2 kPa: Prenger & Ling, Ohio State University AEX-804, 2001 "
                                  "(from memory)") },
  [DEW_LIMIT_TANK_NIGHT]
  = { 12.0, N_ ("A tank should last the night: common practice, no source") },
  [DEW_LIMIT_TANK_DAY] = { 24.0, N_ ("Daily refill: US EPA, Use and Care of Home Humidifiers, "
                                     "1991") },
  [DEW_LIMIT_POT] = { 24.0, N_ ("Watering once a day: common practice, no source") },
  [DEW_LIMIT_LOAD]
  = { 0.6, /* xgettext:no-c-format */
      N_ ("60 % of an even-load rating for pots: common practice, no source") },
  [DEW_LIMIT_TIP] = { 10.0, N_ ("10 degrees of tilt: UL 1678 as quoted for television stands") },
  [DEW_LIMIT_MAINS] = { 0.90, N_ ("Extra-low voltage (SELV) in wet zones: IEC 60364-4-41 cl. 414 "
                                  "(from memory)") },
  [DEW_LIMIT_WET_HOURS] = { 8.0, N_ ("Grey mould on petals: Sirjusingh & Sutton, Plant Disease 80, "
                                     "160-165, 1996") },
  [DEW_LIMIT_REACH]
  = { 0.25, N_ ("0.25 to 0.5 m/s at the leaf: University of Connecticut extension, horizontal air "
                "flow systems") },
};
/* clang-format on */

double
dew_limit (DewLimit limit)
{
  g_return_val_if_fail (limit < DEW_N_LIMITS, 0.0);
  return limits[limit].value;
}

const char *
dew_limit_source (DewLimit limit)
{
  g_return_val_if_fail (limit < DEW_N_LIMITS, "");
  return _ (limits[limit].source);
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
