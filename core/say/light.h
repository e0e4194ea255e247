/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The light question in words. All texts are transfer full. */

#include "advice/light/light.h"
#include "say/units.h"

G_BEGIN_DECLS

/* The decision, and why. */
char *dew_light_verdict (const DewLightAdvice *advice, DewTongue tongue);
/* The shelf: "Upper shelf". */
char *dew_light_shelf (const DewLightBay *bay);
/* What to hang there and how long to light it. */
char *dew_light_bay_words (const DewLightBay *bay, DewTongue tongue);
/* What its plants get now and then get, of what they want: NULL-terminated. */
char **dew_light_bay_figures (const DewLightAdvice *advice, int bay, DewTongue tongue);
/* What the lamps do to the warmth. */
char *dew_light_warmth_words (const DewLightAdvice *advice, DewTongue tongue);
/* Power and energy. */
char *dew_light_power_words (const DewLightAdvice *advice);
/* What to mind when it is built, and what is not known: NULL-terminated. */
char **dew_light_cautions (const DewLightAdvice *advice);

G_END_DECLS
