/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/names.h"

#include <glib/gi18n.h>

const char *
dew_month_name (int month)
{
  static const char *const names[12]
    = { N_ ("January"),   N_ ("February"), N_ ("March"),    N_ ("April"),
        N_ ("May"),       N_ ("June"),     N_ ("July"),     N_ ("August"),
        N_ ("September"), N_ ("October"),  N_ ("November"), N_ ("December") };

  g_return_val_if_fail (month >= 0 && month < 12, "");

  return _ (names[month]);
}
