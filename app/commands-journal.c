/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dewtier journal: notes, changes and readings on one time line, and what is due. */
#include "command-line.h"

#include "readings/csv.h"
#include "say/diary.h"

#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

static int
run_show (DewAsked *asked)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewSeries) series = NULL;
  g_autofree char *text = NULL;

  if (!dew_command_open (asked, asked->words[0]))
    return DEW_EXIT_NO;
  series = dew_series_open (asked->words[0], &error);
  if (series != NULL)
    text
      = dew_report_diary_text (&asked->about, series, g_get_real_time () / G_USEC_PER_SEC, &error);
  return dew_command_answer (asked, text, error);
}

static gboolean
choose_kind (const char *word, int *kind)
{
  const char *keys[DEW_N_NOTE_KINDS];

  for (int i = 0; i < DEW_N_NOTE_KINDS; i++)
    keys[i] = dew_note_kind_key (i);
  return dew_command_choose ("journal", word, keys, DEW_N_NOTE_KINDS, kind);
}

static int
add_note (DewAsked *asked, int kind)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewStore) store = NULL;
  DewNote note = { .time_s = g_get_real_time () / G_USEC_PER_SEC,
                   .kind = (DewNoteKind) kind,
                   .text = asked->words[2] };

  if (asked->from != NULL && !dew_csv_moment (asked->from, asked->zone, &note.time_s))
    return dew_command_complain (DEW_EXIT_USAGE,
                                 _ ("\"%s\" is no moment; give year, month, day and time, such as "
                                    "\"2026-01-31 08:00\""),
                                 asked->from);
  if (!g_utf8_validate (note.text, -1, NULL) || g_utf8_strlen (note.text, -1) > DEW_NOTE_TEXT_MOST)
    return dew_command_complain (DEW_EXIT_USAGE, _ ("the note is too long; give up to %d letters"),
                                 DEW_NOTE_TEXT_MOST);
  store = dew_store_open (asked->words[0], &error);
  if (store == NULL
      || !dew_series_note (store, &note, asked->n > 3 ? asked->words[3] : NULL, &error))
    return dew_command_complain (DEW_EXIT_NO, "%s", error->message);
  return DEW_EXIT_FINE;
}

/* "every 7": how many days until it is due again; 0 is never. */
static int
set_care (DewAsked *asked, int kind)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewStore) store = NULL;
  double days = g_ascii_strtod (asked->words[2] + strlen ("every "), NULL);

  if (kind < DEW_NOTE_WATER || days < 0.0 || days > 366.0 || (days > 0.0 && days < 0.05))
    return dew_command_complain (DEW_EXIT_USAGE, _ ("give water, refill or rinse, and \"every N\" "
                                                    "with 0 to 366 days"));
  store = dew_store_open (asked->words[0], &error);
  if (store == NULL
      || !dew_series_set_care (store, (DewNoteKind) kind, (gint64) (days * DEW_DAY_S), &error))
    return dew_command_complain (DEW_EXIT_NO, "%s", error->message);
  return DEW_EXIT_FINE;
}

int
dew_command_journal (DewAsked *asked)
{
  int kind = 0;

  if (asked->n == 1)
    return run_show (asked);
  if (asked->n == 2)
    return dew_command_complain (DEW_EXIT_USAGE, _ ("give what kind of note and its words"));
  if (!choose_kind (asked->words[1], &kind))
    return DEW_EXIT_USAGE;
  return g_str_has_prefix (asked->words[2], "every ") ? set_care (asked, kind)
                                                      : add_note (asked, kind);
}
