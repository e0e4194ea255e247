/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The answers of dewtier advise, for people and for programs. All texts are transfer full. */

#include "advice/fan/fan.h"
#include "advice/moisture/moisture.h"
#include "advice/openings/openings.h"
#include "say/units.h"

G_BEGIN_DECLS

char *dew_report_fan_text (const DewVariant *variant, const DewFanAdvice *advice, DewTongue tongue);
char *dew_report_fan_json (const char *path, const DewChamber *chamber, const DewVariant *variant,
                           const DewFanAdvice *advice, DewTongue tongue);
char *dew_report_moisture_text (const DewVariant *variant, const DewMoistureAdvice *advice,
                                DewTongue tongue);
char *dew_report_moisture_json (const char *path, const DewChamber *chamber,
                                const DewVariant *variant, const DewMoistureAdvice *advice,
                                DewTongue tongue);
char *dew_report_openings_text (const DewVariant *variant, const DewOpeningAdvice *advice,
                                DewTongue tongue);
char *dew_report_openings_json (const char *path, const DewChamber *chamber,
                                const DewVariant *variant, const DewOpeningAdvice *advice,
                                DewTongue tongue);

G_END_DECLS
