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
/* The same for one line of a list, without the place where a thing says it: "Too dry for Fern
 * and 2 more". others: more things than the named one. Transfer full. */
char *dew_finding_heading (const DewForecast *forecast, const DewFinding *finding, int others);
/* What makes it, by name where the layout tells, and what would help: whole sentences. The
 * first is transfer full. */
char *dew_finding_cause (const DewFinding *finding);
const char *dew_finding_remedy (const DewFinding *finding);
/* "86 %, wants at least 88 %": value and limit; NULL where there is none to tell. Transfer
 * full. */
char *dew_finding_number (const DewFinding *finding, DewTongue tongue);
/* The same from both in words. */
char *dew_finding_number_words (const DewFinding *finding, const char *value, const char *limit);
/* The whole forecast in one sentence: "2 shelves fine, the floor needs a look". Transfer
 * full. */
char *dew_forecast_verdict_text (const DewForecast *forecast);
/* Where the threshold comes from: a publication, or 'common practice, no source'. */
const char *dew_limit_source (DewLimit limit);

/* Value or threshold as people of a tongue read it: "0.03 m/s". Transfer full. */
char *dew_finding_measure (const DewFinding *finding, DewTongue tongue, double si);
/* Value or threshold in the unit of reports, whatever the user measures in, and that unit:
 * %, h, umol/m2s, mL/h, mL/m2h, kPa, m/s, °C, kg, degrees. */
double dew_finding_plain (const DewFinding *finding, double si);
const char *dew_finding_unit (const DewFinding *finding);

G_END_DECLS
