/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Tables of readings and what became of them, in words and in JSON. All texts are transfer
 * full. */

#include "calibrate/witness.h"
#include "readings/csv.h"
#include "say/report.h"
#include "store/series.h"

G_BEGIN_DECLS

/* "2026-01-31 08:00" on the clock of `zone` (NULL: of this computer). */
char *dew_moment_text (gint64 time_s, GTimeZone *zone);
char *dew_day_text (gint64 time_s, GTimeZone *zone);

/* Where, what, and what to give: "line 14, column 3: ..." */
char *dew_csv_problem_text (const DewCsvProblem *problem);
/* What has to be answered before a table can be read, one sentence for each thing (transfer full,
 * NULL-terminated): with the option of the command line that answers it, or without. */
char **dew_csv_questions (const DewCsvShape *shape, const DewCsvLook *look, gboolean options);
/* How a table is understood, in short lines: "times: day first (31.01.2026), Europe/Berlin". */
char **dew_csv_understood (const DewCsvShape *shape, const DewCsvLook *look);
/* The same in one line, to be kept with the readings; not translated. */
char *dew_csv_settings (const DewCsvShape *shape);

char *dew_report_look_text (const char *file, const DewCsvShape *shape, const DewCsvLook *look);
char *dew_report_look_json (const char *file, const DewCsvShape *shape, const DewCsvLook *look);

/* An import that is done, or (merge NULL) only tried. */
char *dew_report_import_text (const char *file, const DewLogger *logger, const DewCsvTable *table,
                              const DewMerge *merge);
char *dew_report_import_json (const char *file, const DewLogger *logger, const DewCsvTable *table,
                              const DewMerge *merge);

/* What readings a document has; loggers: DewLogger; tallies: [loggers->len]. */
char *dew_report_loggers_text (const DewReport *about, const GArray *loggers,
                               const DewTally *tallies);
char *dew_report_loggers_json (const DewReport *about, const GArray *loggers,
                               const DewTally *tallies);

/* The instrument of the variant that a logger is; NULL when it hangs nowhere. */
const DewThing *dew_logger_thing (const DewVariant *variant, const DewLogger *logger);
/* The logger as a witness of the air of that variant, with its readings of from_s <= time < to_s;
 * returns these, which the witness lends (transfer full). NULL with an error. */
GArray *dew_logger_witness (DewSeries *series, const DewLogger *logger, const DewVariant *variant,
                            gint64 from_s, gint64 to_s, DewWitness *out, GError **error);

G_END_DECLS
