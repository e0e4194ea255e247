/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Readings set against the forecast, and what was learned from them: in words and in JSON. All
 * texts are transfer full. */

#include "calibrate/calibrate.h"
#include "calibrate/hang.h"
#include "calibrate/night.h"
#include "say/report.h"

G_BEGIN_DECLS

/* One instrument by day or by night, in a sentence: who is right. */
char *dew_against_sentence (const DewReport *about, const DewWitness *witnesses,
                            const DewAgainst *row);
char *dew_report_against_text (const DewReport *about, const DewWitness *witnesses,
                               const DewAgainstAll *all, GTimeZone *zone);
char *dew_report_against_json (const DewReport *about, const DewWitness *witnesses,
                               const DewAgainstAll *all);

/* How the night test is done, and how instruments are matched before it. */
const char *dew_night_guide (void);
/* area_m2: of leakage; NAN: the drawing's openings let more through; negative: not looked for. */
char *dew_report_night_text (const DewReport *about, const DewNightAnswer *answer, double area_m2);
char *dew_report_night_json (const DewReport *about, const DewNightAnswer *answer, double area_m2);

char *dew_report_calibration_text (const DewReport *about, const DewCalibration *calibration);
char *dew_report_calibration_json (const DewReport *about, const DewCalibration *calibration);

char *dew_report_hang_text (const DewReport *about, const DewHang *hang);
char *dew_report_hang_json (const DewReport *about, const DewHang *hang);

G_END_DECLS
