/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/verdict.h"

#include <glib/gi18n.h>

#include <math.h>

static DewVerdict
from_severity (int severity)
{
  return severity >= 2 ? DEW_VERDICT_ACT : severity == 1 ? DEW_VERDICT_LOOK : DEW_VERDICT_FINE;
}

DewVerdict
dew_place_verdict (const DewForecast *forecast, int place)
{
  g_return_val_if_fail (forecast != NULL && place >= 0 && place < forecast->n_places,
                        DEW_VERDICT_FINE);
  return from_severity (forecast->places[place].severity);
}

DewVerdict
dew_bay_verdict (const DewForecast *forecast, int bay)
{
  int severity = 0;

  g_return_val_if_fail (forecast != NULL && bay >= 0 && bay < forecast->n_bays, DEW_VERDICT_FINE);

  for (int i = 0; i < forecast->n_findings; i++)
    if (forecast->findings[i].bay == bay)
      severity = MAX (severity, forecast->findings[i].severity);
  return from_severity (severity);
}

const DewDevice *
dew_forecast_device (const DewForecast *forecast, guint thing_id)
{
  g_return_val_if_fail (forecast != NULL, NULL);

  for (int i = 0; i < forecast->n_devices; i++)
    if (forecast->devices[i].thing_id == thing_id)
      return &forecast->devices[i];
  return NULL;
}

DewVerdict
dew_thing_verdict (const DewForecast *forecast, guint thing_id)
{
  const DewDevice *device = dew_forecast_device (forecast, thing_id);

  return device != NULL ? from_severity (device->severity) : DEW_VERDICT_FINE;
}

int
dew_bay_worst_place (const DewForecast *forecast, int bay)
{
  int worst = -1;

  g_return_val_if_fail (forecast != NULL, -1);

  for (int i = 0; i < forecast->n_places; i++)
    {
      const DewPlace *place = &forecast->places[i];
      const DewPlace *last = worst >= 0 ? &forecast->places[worst] : NULL;

      if (place->bay != bay || place->severity == 0)
        continue;
      if (last == NULL || place->severity > last->severity
          || (place->severity == last->severity && place->excess > last->excess))
        worst = i;
    }
  return worst;
}

const char *
dew_verdict_word (DewVerdict verdict)
{
  switch (verdict)
    {
    case DEW_VERDICT_FINE:
      /* Translators: how a shelf or place fares: nothing is amiss. */
      return C_ ("verdict", "fine");
    case DEW_VERDICT_LOOK:
      /* Translators: how a shelf or place fares: something to keep an eye on. */
      return C_ ("verdict", "look");
    case DEW_VERDICT_ACT:
      /* Translators: how a shelf or place fares: something should be done. */
      return C_ ("verdict", "act");
    }
  g_return_val_if_reached ("");
}

const char *
dew_finding_kind_word (DewFindingKind kind)
{
  static const char *const words[DEW_N_FINDINGS] = {
    [DEW_FINDING_STILL] = NC_ ("found", "still"),
    [DEW_FINDING_DRAUGHTY] = NC_ ("found", "draughty"),
    [DEW_FINDING_SLOW_TO_DRY] = NC_ ("found", "slow to dry"),
    [DEW_FINDING_MIST_WETS] = NC_ ("found", "mist settles"),
    [DEW_FINDING_ROOF_DRIP] = NC_ ("found", "the roof drips"),
    [DEW_FINDING_SHELF_DRIP] = NC_ ("found", "dripped on"),
    [DEW_FINDING_DRY] = NC_ ("found", "too dry"),
    [DEW_FINDING_MOIST] = NC_ ("found", "too humid"),
    [DEW_FINDING_WARM] = NC_ ("found", "too warm"),
    [DEW_FINDING_COOL] = NC_ ("found", "too cool"),
    [DEW_FINDING_DISEASE] = NC_ ("found", "rot may start"),
    [DEW_FINDING_TANK] = NC_ ("found", "runs empty soon"),
    [DEW_FINDING_LOAD] = NC_ ("found", "heavily loaded"),
    [DEW_FINDING_ELECTRIC] = NC_ ("found", "mains inside"),
    [DEW_FINDING_DARK] = NC_ ("found", "too dark"),
    [DEW_FINDING_BRIGHT] = NC_ ("found", "too bright"),
    [DEW_FINDING_POT_DRY] = NC_ ("found", "dries out soon"),
  };

  g_return_val_if_fail (kind >= 0 && kind < DEW_N_FINDINGS, "");
  return g_dpgettext2 (NULL, "found", words[kind]);
}

/* --- where -------------------------------------------------------------- */

static char *
level_in_words (const DewForecast *forecast, int bay)
{
  static const char *const ordinals[] = {
    N_ ("lowest shelf"), N_ ("second shelf"), N_ ("third shelf"),   N_ ("fourth shelf"),
    N_ ("fifth shelf"),  N_ ("sixth shelf"),  N_ ("seventh shelf"), N_ ("eighth shelf"),
  };
  int shelf = 0;

  for (int b = 0; b <= bay; b++)
    shelf += forecast->bays[b].shelf_id != 0;
  if (forecast->bays[bay].shelf_id == 0)
    return g_strdup (_ ("floor"));
  if (shelf <= (int) G_N_ELEMENTS (ordinals))
    return g_strdup (_ (ordinals[shelf - 1]));
  return g_strdup_printf (_ ("shelf %d"), shelf);
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
