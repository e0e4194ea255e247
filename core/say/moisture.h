/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* How much water it takes, in words. */

#include "advice/moisture/moisture.h"
#include "say/units.h"

G_BEGIN_DECLS

/* "Wet pots". */
const char *dew_sizing_name (DewSizing sizing);
/* What to do, in one to three sentences; NULL where it was not asked. Transfer full. */
char *dew_sizing_words (const DewMoistureAdvice *advice, DewSizing sizing, DewTongue tongue);
/* "Without the humidifier ..."; NULL when there is none. Transfer full. */
char *dew_sizing_without_words (const DewMoistureAdvice *advice, DewTongue tongue);

/* What to set a humidistat to, how it runs, and how it compares with a constant output:
 * NULL-terminated, empty when there is none. */
char **dew_humidistat_words (const DewMoistureAdvice *advice, DewTongue tongue);
/* What keeps people safe; NULL: nothing to say. */
char *dew_moisture_caution (const DewMoistureAdvice *advice, const DewVariant *variant);

G_END_DECLS
