/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/where.h"

#include <glib/gi18n.h>

#include <math.h>

char *
dew_shelf_words (int shelf)
{
  static const char *const names[]
    = { N_ ("floor"),       N_ ("lowest shelf"),  N_ ("second shelf"),
        N_ ("third shelf"), N_ ("fourth shelf"),  N_ ("fifth shelf"),
        N_ ("sixth shelf"), N_ ("seventh shelf"), N_ ("eighth shelf") };

  if (shelf >= 0 && shelf < (int) G_N_ELEMENTS (names))
    return g_strdup (_ (names[shelf]));
  return g_strdup_printf (_ ("shelf %d"), shelf);
}

static char *
level_in_words (const DewForecast *forecast, int bay)
{
  int shelf = 0;

  if (forecast->bays[bay].name[0] != '\0')
    return g_strdup (forecast->bays[bay].name);
  for (int b = 0; forecast->bays[bay].shelf_id != 0 && b <= bay; b++)
    shelf += forecast->bays[b].shelf_id != 0;
  return dew_shelf_words (shelf);
}

/* 0..8: left to right, then front to back. */
static int
ninth (const DewForecast *forecast, const double at_m[3])
{
  int x = CLAMP ((int) floor (3.0 * at_m[0] / forecast->inner_m[0]), 0, 2);
  int y = CLAMP ((int) floor (3.0 * at_m[1] / forecast->inner_m[1]), 0, 2);

  return 3 * y + x;
}

const char *
dew_forecast_spot (const DewForecast *forecast, const double at_m[3])
{
  static const char *const spots[] = {
    N_ ("Left front"), N_ ("Middle front"), N_ ("Right front"), N_ ("Left"),       N_ ("Middle"),
    N_ ("Right"),      N_ ("Left back"),    N_ ("Middle back"), N_ ("Right back"),
  };

  g_return_val_if_fail (forecast != NULL, "");
  return _ (spots[ninth (forecast, at_m)]);
}

char *
dew_forecast_where (const DewForecast *forecast, int bay, const double at_m[3])
{
  g_autofree char *level = NULL;

  g_return_val_if_fail (forecast != NULL && bay < forecast->n_bays, NULL);

  if (bay < 0)
    return g_strdup (_ ("outside the shelves"));
  level = level_in_words (forecast, bay);
  /* Translators: %s in these nine is "second shelf" or "floor". */
  switch (ninth (forecast, at_m))
    {
    case 0:
      return g_strdup_printf (_ ("%s left front"), level);
    case 1:
      return g_strdup_printf (_ ("%s middle front"), level);
    case 2:
      return g_strdup_printf (_ ("%s right front"), level);
    case 3:
      return g_strdup_printf (_ ("%s left"), level);
    case 4:
      return g_strdup_printf (_ ("%s middle"), level);
    case 5:
      return g_strdup_printf (_ ("%s right"), level);
    case 6:
      return g_strdup_printf (_ ("%s left back"), level);
    case 7:
      return g_strdup_printf (_ ("%s middle back"), level);
    default:
      return g_strdup_printf (_ ("%s right back"), level);
    }
}

char *
dew_shelf_title (int shelf)
{
  static const char *const names[]
    = { N_ ("Floor"),       N_ ("Lowest shelf"),  N_ ("Second shelf"),
        N_ ("Third shelf"), N_ ("Fourth shelf"),  N_ ("Fifth shelf"),
        N_ ("Sixth shelf"), N_ ("Seventh shelf"), N_ ("Eighth shelf") };

  if (shelf >= 0 && shelf < (int) G_N_ELEMENTS (names))
    return g_strdup (_ (names[shelf]));
  return g_strdup_printf (_ ("Shelf %d"), shelf);
}

char *
dew_shelf_called (const char *name, int shelf)
{
  return name != NULL && name[0] != '\0' ? g_strdup (name) : dew_shelf_title (shelf);
}

char *
dew_bay_name (int bay, int n_bays)
{
  return n_bays <= 1 ? g_strdup (_ ("Inside")) : dew_shelf_title (bay);
}
