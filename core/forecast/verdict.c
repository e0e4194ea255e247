/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/verdict.h"

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
