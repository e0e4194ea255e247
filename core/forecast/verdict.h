/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* One word on how a place, a bay or a thing fares: the worst of what the findings
 * say there. Places and things know also what is not in the list of findings, where
 * of each kind only the worst of a bay stands. */

#include "forecast/forecast.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_VERDICT_FINE, /* nothing found */
  DEW_VERDICT_LOOK, /* something to watch */
  DEW_VERDICT_ACT   /* something to act on */
} DewVerdict;

/* Of place `place` (index into forecast->places): air, light and water there; not the
 * tank, load or wiring of what stands there. DEW_VERDICT_FINE before findings are made. */
DewVerdict dew_place_verdict (const DewForecast *forecast, int place);
/* Of bay `bay` (index into forecast->bays): all that is found in it. */
DewVerdict dew_bay_verdict (const DewForecast *forecast, int bay);
/* Of a device, wet thing or plant; DEW_VERDICT_FINE for an id that has no row in
 * forecast->devices. */
DewVerdict dew_thing_verdict (const DewForecast *forecast, guint thing_id);

/* The worst place of a bay: the highest verdict, then the one farthest beyond its
 * limit. -1 when every place is fine. */
int dew_bay_worst_place (const DewForecast *forecast, int bay);

/* The row of a thing in forecast->devices, or NULL. */
const DewDevice *dew_forecast_device (const DewForecast *forecast, guint thing_id);

G_END_DECLS
