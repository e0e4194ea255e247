/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What every command of the command line shares. A command is a function with a row in the
 * table of commands.c; its options are rows of the one table of options in command-line.c. */

#include "commands.h"

#include "say/report.h"

G_BEGIN_DECLS

/* --- what is asked ------------------------------------------------------- */

typedef enum
{
  DEW_OPTION_JSON = 1 << 0,
  DEW_OPTION_GRID = 1 << 1,
  DEW_OPTION_NIGHT = 1 << 2,
  DEW_OPTION_COLOUR = 1 << 3,
  DEW_OPTION_FIXED = 1 << 4,
  DEW_OPTION_VARIANT = 1 << 5,
  DEW_OPTION_MONTH = 1 << 6,
  DEW_OPTION_FAN = 1 << 7,
  DEW_OPTION_WALLS = 1 << 8,
  DEW_OPTION_CANDIDATES = 1 << 9,
  DEW_OPTION_WEIGHTS = 1 << 10,
  DEW_OPTION_DRAFT = 1 << 11,
  DEW_OPTION_MEMBERS = 1 << 12, /* of the bands of a forecast */
  DEW_OPTION_TRIALS = 1 << 13,  /* the same word for the bands of advice */
  DEW_OPTION_SECONDS = 1 << 14,
  DEW_OPTION_BALANCE = 1 << 15,
  DEW_OPTION_THREADS = 1 << 16,
  DEW_OPTION_IMPERIAL = 1 << 17,
  DEW_OPTION_PLAN = 1 << 18,
  DEW_OPTION_WIDTH = 1 << 19,
  DEW_OPTION_PAPER = 1 << 20,
  DEW_OPTION_UNITS = 1 << 21,
  DEW_OPTION_BARE = 1 << 22,
  DEW_OPTION_REPLACE = 1 << 23,
  DEW_OPTION_CLOCK = 1 << 24,
  DEW_OPTION_YEAR = 1 << 25,
  DEW_OPTION_SPAN = 1 << 26, /* from when to when, and in which zone */
  DEW_OPTION_BUILD = 1 << 27,
  DEW_OPTION_CARD = 1 << 28,
  DEW_OPTION_TABLE = 1 << 29, /* how a table of readings is to be understood */
  DEW_OPTION_APPLY = 1 << 30,
  DEW_OPTION_ALL = 1ll << 31, /* every figure of an answer */
  DEW_OPTION_DRY = 1ll << 32
} DewOption;

typedef struct
{
  char **words; /* lent: [n] that are no options, the file first where there is one */
  int n;

  gboolean year;
  gboolean room, leave_out, dry, apply;
  char *zone, *dates, *degrees, *humidity, *decimal, *columns, *from, *to;
  gboolean json, night, fixed, walls, draft, balance, imperial, bare, replace, build, card, all;
  char *grid, *clock, *colour, *variant, *fan, *weights, *paper, *units;
  int month, candidates, members, threads, plan, width;
  double seconds;

  /* Set by dew_command_open(). */
  DewChamber *chamber;
  DewReport about; /* of that, and of the variant that is asked for */
} DewAsked;

typedef struct
{
  const char *name;
  int (*run) (DewAsked *asked); /* returns the exit code */
  guint64 options;              /* of DewOption */
  int least, most;              /* words that it takes, beside options */
  const char *takes;            /* those words; NULL: none */
  const char *tells;            /* what one gets; for the help of all */
  const char *summary;          /* a sentence; for its own help */
} DewCommand;

/* Reads what stands behind the command's name, argv[0], and runs it. */
int dew_command_run (const DewCommand *command, int argc, char **argv);

/* --- for commands -------------------------------------------------------- */

/* The commands that have files of their own. */
int dew_command_forecast (DewAsked *asked);
int dew_command_rescue (DewAsked *asked);
int dew_command_sheet (DewAsked *asked);
int dew_command_labels (DewAsked *asked);
int dew_command_thumbnail (DewAsked *asked);
int dew_command_self_check (DewAsked *asked);
int dew_command_advise (DewAsked *asked);
int dew_command_assign (DewAsked *asked);
int dew_command_compare (DewAsked *asked);
int dew_command_plants (DewAsked *asked);
int dew_command_wish (DewAsked *asked);
int dew_command_kind (DewAsked *asked);
int dew_command_suits (DewAsked *asked);
int dew_command_shelves (DewAsked *asked);
int dew_command_readings (DewAsked *asked);
int dew_command_day (DewAsked *asked);
int dew_command_year (DewAsked *asked);
int dew_command_mishap (DewAsked *asked);
int dew_command_readings_compare (DewAsked *asked);
int dew_command_readings_night (DewAsked *asked);
int dew_command_readings_where (DewAsked *asked);
int dew_command_calibrate (DewAsked *asked);
int dew_command_journal (DewAsked *asked);

/* Loads the document `path`, sets the month and finds the variant that is asked for. FALSE
 * when something is wrong and has been said; the exit code is then DEW_EXIT_NO. */
/* Whether an answer may go into a file of that name; FALSE when it has been said why not. */
gboolean dew_command_may_write (const char *path, gboolean replace);
gboolean dew_command_open (DewAsked *asked, const char *path);
/* Lends the variant of that name; NULL when there is none and it has been said. */
const DewVariant *dew_command_variant (const DewAsked *asked, const char *name);
/* Grid, members and wishes as they are asked for. */
void dew_command_options (const DewAsked *asked, DewForecastOptions *options);

/* Where `word` (NULL: leaves *chosen) stands among `words`, [n]. FALSE when it is unknown
 * and that has been said. */
gboolean dew_command_choose (const char *option, const char *word, const char *const *words, int n,
                             int *chosen);
/* FALSE when a number is outside and that has been said. */
gboolean dew_command_within (const char *option, int value, int least, int most);

/* Writes an answer to standard output as it is: names are UTF-8 whatever the locale. With
 * text NULL what went wrong about the file. Returns the exit code. */
int dew_command_answer (const DewAsked *asked, const char *text, const GError *error);
int dew_command_say (const char *text);
/* One line to standard error; returns `code`. */
int dew_command_complain (int code, const char *format, ...) G_GNUC_PRINTF (2, 3);

G_END_DECLS
