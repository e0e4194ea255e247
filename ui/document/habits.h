/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The person's habits: how the window was left, which units are read. They are
 * about the person, not about an enclosure, so no document holds them.
 *
 * They live in a key file, not in GSettings: a settings schema that is missing,
 * as it is when the program runs from its build folder, ends the program. A file
 * that is missing or damaged means the habits of a new user. */

#include <glib.h>

G_BEGIN_DECLS

typedef enum
{
  DEW_UNITS_OF_LOCALE, /* as the desktop's region has them */
  DEW_UNITS_METRIC,
  DEW_UNITS_IMPERIAL
} DewUnitsHabit;

typedef struct
{
  int width_px, height_px; /* of the window, not maximised; 0 = not known yet */
  gboolean maximised;
  DewUnitsHabit units;
  gboolean still; /* short lines instead of moving streaks */
  gboolean tour_seen;
  char *folder;   /* last one that a file was opened from or written to; or NULL */
  char *document; /* last one that was open; or NULL */
} DewHabits;

/* Fills `habits` from the key file at `path`, whatever is or is not in it. */
void dew_habits_read (DewHabits *habits, const char *path);
/* Writes them, all or nothing; makes the folder when it is missing. */
gboolean dew_habits_write (const DewHabits *habits, const char *path, GError **error);
void dew_habits_clear (DewHabits *habits);

/* The habits of who runs the program, read at the first call. Lends; change what
 * is in it at will, texts with dew_habits_set_text(). */
DewHabits *dew_habits (void);
/* Writes them. A folder that cannot be written is no trouble worth telling: the
 * program then just does not remember. */
void dew_habits_keep (void);
/* Replaces a text of a DewHabits; `text` may be NULL. */
void dew_habits_set_text (char **place, const char *text);

G_END_DECLS
