/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Forecasts, advice, assignments and comparisons whole: as text for people and as JSON for
 * programs, whose form data/README.md describes. All texts are transfer full. */

#include "advice/assign/assign.h"
#include "advice/compare/compare.h"
#include "advice/fan/fan.h"
#include "advice/heights/heights.h"
#include "advice/light/light.h"
#include "advice/moisture/moisture.h"
#include "advice/openings/openings.h"
#include "advice/suits/suits.h"
#include "say/units.h"

G_BEGIN_DECLS

/* What a report is about. Everything is lent. */
typedef struct
{
  const char *file;
  const DewChamber *chamber; /* its month is the one that was asked for */
  const DewVariant *variant;
  DewTongue tongue; /* of sentences; tables and JSON have units of their own */
  gboolean all;     /* of advice in text: every figure, not only the decision and why */
} DewReport;

/* `balance`: with every term of the balances of air, heat and water. */
char *dew_report_forecast_text (const DewReport *about, const DewForecast *forecast,
                                gboolean balance);
char *dew_report_forecast_json (const DewReport *about, const DewForecast *forecast);

char *dew_report_fan_text (const DewReport *about, const DewFanAdvice *advice);
char *dew_report_fan_json (const DewReport *about, const DewFanAdvice *advice);
char *dew_report_moisture_text (const DewReport *about, const DewMoistureAdvice *advice);
char *dew_report_moisture_json (const DewReport *about, const DewMoistureAdvice *advice);
char *dew_report_light_text (const DewReport *about, const DewLightAdvice *advice);
char *dew_report_light_json (const DewReport *about, const DewLightAdvice *advice);
char *dew_report_openings_text (const DewReport *about, const DewOpeningAdvice *advice);
char *dew_report_openings_json (const DewReport *about, const DewOpeningAdvice *advice);

char *dew_report_assign_text (const DewReport *about, const DewAssignment *assignment);
char *dew_report_assign_json (const DewReport *about, const DewAssignment *assignment);
/* wanted: one kind that is asked for; NULL: all. */
char *dew_report_suits_text (const DewReport *about, const DewSuits *suits,
                             const DewSuitsKind *wanted);
char *dew_report_suits_json (const DewReport *about, const DewSuits *suits,
                             const DewSuitsKind *wanted);
char *dew_report_heights_text (const DewReport *about, const DewHeights *heights);
char *dew_report_heights_json (const DewReport *about, const DewHeights *heights);
char *dew_report_compare_text (const DewReport *about, const DewComparison *comparison);
char *dew_report_compare_json (const DewReport *about, const DewComparison *comparison);

G_END_DECLS
