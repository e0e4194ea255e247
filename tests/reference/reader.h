/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Strict reading of a JSON file of numbers: every member has its type and its
 * range, and an error names its place in the file. */

#include <glib.h>
#include <json-glib/json-glib.h>

G_BEGIN_DECLS

/* The first error stays; after it every read gives a harmless value, so the
 * callers need no test after each member. */
typedef struct
{
  const char *path;
  GError *error; /* DEW_CASE_ERROR */
} Reader;

/* One object of the file with the words for where it stands. */
typedef struct
{
  JsonObject *object; /* NULL after an error */
  char where[96];
} Place;

void reader_fail (Reader *reader, const Place *place, const char *format, ...) G_GNUC_PRINTF (3, 4);

/* Tells on stderr of something that is not computed as the file has it. */
void reader_warn (const Reader *reader, const Place *place, const char *format, ...)
  G_GNUC_PRINTF (3, 4);

/* Whether the member is there and not null. */
gboolean place_has (const Place *place, const char *key);

double read_number (Reader *reader, const Place *place, const char *key, double min, double max);
double read_number_or (Reader *reader, const Place *place, const char *key, double min, double max,
                       double fallback);
gboolean read_flag_or (Reader *reader, const Place *place, const char *key, gboolean fallback);
/* Lent by the file; "" on error. */
const char *read_text (Reader *reader, const Place *place, const char *key);
/* out: [n]. */
void read_numbers (Reader *reader, const Place *place, const char *key, guint n, double *out);
/* The member 'box_m', x0,x1,y0,y1,z0,z1 inside an enclosure of that size. */
void read_box (Reader *reader, const Place *place, const double size_m[3], double lo[3],
               double hi[3]);

Place read_object (Reader *reader, const Place *place, const char *key);
/* Number of items in a list; one that is missing is empty unless needed. */
guint list_length (Reader *reader, const Place *place, const char *key, gboolean needed);
Place list_item (Reader *reader, const Place *place, const char *key, guint index);

/* Tells on stderr of members that are not in the NULL-terminated list. Texts are
 * notes; a number, list or object that is not known may be part of the
 * enclosure, so who reads the output should hear of it. */
void warn_unknown (const Reader *reader, const Place *place, const char *const *known);

G_END_DECLS
