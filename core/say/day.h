/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Days, years and mishaps in words, and whole as text for people and as JSON for programs, whose
 * form data/README.md describes. All texts are transfer full but for those that are const. */

#include "day/budget.h"
#include "day/mishap.h"
#include "day/year.h"
#include "say/report.h"

G_BEGIN_DECLS

/* "too warm by night", "too dry" */
const char *dew_out_word (DewOut out);
/* "2.1 °C too warm by night", "8 points too dry" */
char *dew_out_words (DewOut out, double beyond, DewTongue tongue);
/* "7:30" of hours from midnight. */
char *dew_clock_words (double clock_h);
/* "40 min", "5 h", "2 days" */
char *dew_span_words (double s);

/* "Power cut", what it is in a sentence, and what helps against it. */
const char *dew_mishap_title (DewMishapKind kind);
const char *dew_mishap_words (DewMishapKind kind);
const char *dew_mishap_help (DewMishapKind kind, gboolean cold_room);
#define DEW_COLD_ROOM_C 14.0 /* by night: then it is rather cold than heat that one fears */
/* "The filmy fern is too dry after 5 h." */
char *dew_mishap_first (const DewMishap *mishap);
/* "3 July" of the first day of a week. */
char *dew_week_words (int week);
/* "Week of 3 July: the filmy fern, 2.1 °C too warm by night", or that there is none. */
char *dew_year_worst_words (const DewYear *year, DewTongue tongue);
/* Pairs of a name and what it comes to, [2 n + 1] and NULL: water, power, noise, the room. */
char **dew_budget_lines (const DewDay *day, const DewRoomBudget *budget, const DewChamber *chamber,
                         DewTongue tongue);

char *dew_report_day_text (const DewReport *about, const DewDay *day, DewPlantWishLookup lookup,
                           gpointer data);
char *dew_report_day_json (const DewReport *about, const DewDay *day, DewPlantWishLookup lookup,
                           gpointer data);
char *dew_report_year_text (const DewReport *about, const DewYear *year);
char *dew_report_year_json (const DewReport *about, const DewYear *year);
char *dew_report_mishaps_text (const DewReport *about, const DewMishaps *mishaps);
char *dew_report_mishaps_json (const DewReport *about, const DewMishaps *mishaps);

G_END_DECLS
