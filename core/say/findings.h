/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Findings and verdicts in words, in the language of the user. What is said here of the
 * facts of forecast/findings.h is said nowhere else. */

#include "forecast/findings.h"
#include "forecast/verdict.h"
#include "say/units.h"

G_BEGIN_DECLS

/* 'fine', 'look', 'act'. */
const char *dew_verdict_word (DewVerdict verdict);
/* What was found, in a word or two: 'still', 'mist settles'. */
const char *dew_finding_kind_word (DewFindingKind kind);

/* 'still', 'drip', 'lasts 6 h' ...: the flag on the sheet. Transfer full. */
char *dew_finding_flag (const DewFinding *finding);
/* "Still air, third shelf right". The finding is one of the forecast's. Transfer full. */
char *dew_finding_title (const DewForecast *forecast, const DewFinding *finding);
/* What makes it and what would help: whole sentences. */
const char *dew_finding_cause (const DewFinding *finding);
const char *dew_finding_remedy (const DewFinding *finding);
/* Where the threshold comes from: a publication, or 'common practice, no source'. */
const char *dew_limit_source (DewLimit limit);

/* Value or threshold as people of a tongue read it: "0.03 m/s". Transfer full. */
char *dew_finding_measure (const DewFinding *finding, DewTongue tongue, double si);
/* Value or threshold in the unit of reports, whatever the user measures in, and that unit:
 * %, h, umol/m2s, mL/h, mL/m2h, kPa, m/s, °C, kg, degrees. */
double dew_finding_plain (const DewFinding *finding, double si);
const char *dew_finding_unit (const DewFinding *finding);

G_END_DECLS
