/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The readings in a document. They lie beside what undo copies: a save of the document does not
 * touch them, and they are read by days, as many as are looked at.
 *
 * A DewSeries holds the file as it was when it was opened, and only reads; it may be used by one
 * thread while another saves. What is written goes
 * through the store of the document (dew_store_run()), one transaction each.
 */

#include "readings/pack.h"
#include "store/store.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_LOGGER_INSIDE,
  DEW_LOGGER_ROOM
} DewLoggerPlace;

/* An instrument that logs. One inside hangs where the instrument of its name is in the drawing. */
typedef struct
{
  guint id; /* 0: not in the document yet */
  char name[DEW_NAME_SIZE];
  DewLoggerPlace place;
  double t_error_K, rh_error;   /* half widths, nine times of ten; after the offsets */
  double lag_s;                 /* it follows 63 % of a jump in this time */
  double t_offset_K, rh_offset; /* added to what was read */
  guint n;                      /* readings; read only */
  gint64 first_day, last_day;   /* since 1970; read only, where n > 0 */
} DewLogger;

/* A usual cheap thermometer and hygrometer of that name, inside. */
void dew_logger_init (DewLogger *logger, const char *name);

typedef struct _DewSeries DewSeries;

DewSeries *dew_series_open (const char *path, GError **error);
void dew_series_close (DewSeries *series);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewSeries, dew_series_close)
/* The document beside which they lie, as it was read. Lends. */
const DewHistory *dew_series_history (const DewSeries *series);

/* All loggers (DewLogger), in the order in which they came; transfer full. */
GArray *dew_series_loggers (DewSeries *series, GError **error);
/* That of a name. FALSE with an error that lists those there are. */
gboolean dew_series_logger (DewSeries *series, const char *name, DewLogger *out, GError **error);

/* Readings of from_s <= time < to_s, as they were read or with the logger's offsets added;
 * DewReading, transfer full. */
GArray *dew_series_readings (DewSeries *series, const DewLogger *logger, gint64 from_s, gint64 to_s,
                             gboolean corrected, GError **error);
/* Quarters of an hour of days first <= day <= last, without offsets: [DEW_QUARTERS] for each of
 * these days, NAN where nothing was read; DewQuarter, transfer full. */
GArray *dew_series_quarters (DewSeries *series, const DewLogger *logger, gint64 first_day,
                             gint64 last_day, GError **error);

/* --- writing: each is one transaction ---------------------------------------- */

/* Writes the logger; a new one gets its id, one of the same name is replaced. */
gboolean dew_series_set_logger (DewStore *store, DewLogger *logger, GError **error);

/* Adds readings (DewReading, in order of time) to a logger, which is made when it is not there
 * yet. `source` is the name of the file they came from, `settings` how it was understood. Days that
 * change are marked anew. */
gboolean dew_series_add (DewStore *store, DewLogger *logger, const GArray *readings,
                         const char *source, const char *settings, DewMerge *merge, GError **error);

/* Keeps what was found from readings, as JSON, beside what was found before; kind: "night" or
 * "fit". */
gboolean dew_series_keep (DewStore *store, const char *kind, const char *report, GError **error);

/* Sets or clears a mark by hand on readings of from_s <= time < to_s: DEW_MARK_DOUBTED,
 * DEW_MARK_TRUSTED, or 0 for neither. *n counts them. */
gboolean dew_series_mark (DewStore *store, const DewLogger *logger, gint64 from_s, gint64 to_s,
                          DewMark mark, guint *n, GError **error);

G_END_DECLS
