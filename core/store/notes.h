/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The journal of a document: dated notes with photographs, beside what undo copies. */

#include "store/series.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_NOTE_PLAIN,
  DEW_NOTE_PLANT,
  DEW_NOTE_CHANGE,
  DEW_NOTE_WATER,  /* plants were watered */
  DEW_NOTE_REFILL, /* a tank was filled */
  DEW_NOTE_RINSE,  /* the humidifier was rinsed */
  DEW_N_NOTE_KINDS
} DewNoteKind;

#define DEW_NOTE_TEXT_MOST 4000
#define DEW_PHOTO_BYTES_MOST (16 * 1024 * 1024)

typedef struct
{
  guint id;
  gint64 time_s; /* since 1970, UTC */
  DewNoteKind kind;
  char about[DEW_NAME_SIZE]; /* name of a plant or thing, or empty */
  char *text;                /* owned by the list */
  guint n_photos;
} DewNote;

const char *dew_note_kind_key (DewNoteKind kind); /* "refill" */

/* All notes (DewNote), in order of time; transfer full. */
GArray *dew_series_notes (DewSeries *series, GError **error);
/* The first photograph of a note as it was kept, JPEG or PNG; NULL when there is none. */
GBytes *dew_series_photo (DewSeries *series, guint note_id, GError **error);

/* Adds a note, with the photograph of a file (JPEG or PNG, told by its first bytes) or NULL. */
gboolean dew_series_note (DewStore *store, const DewNote *note, const char *photo, GError **error);

/* How often water, refill or rinse is due, in s; 0 where that was not told. */
gboolean dew_series_care (DewSeries *series, gint64 every_s[DEW_N_NOTE_KINDS], GError **error);
/* 0 for no longer. */
gboolean dew_series_set_care (DewStore *store, DewNoteKind kind, gint64 every_s, GError **error);

G_END_DECLS
