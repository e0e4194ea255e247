/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the reports share. */

#include "forecast/members.h"
#include "say/report.h"
#include "store/json-writer.h"

G_BEGIN_DECLS

/* --- JSON ---------------------------------------------------------------- */

/* The members of a record, all of it as the member `key`, and a list of [n] records. What is
 * not known is null. */
void dew_report_members (DewJson *json, const DewMember *members, gconstpointer record);
void dew_report_object (DewJson *json, const char *key, const DewMember *members,
                        gconstpointer record);
void dew_report_list (DewJson *json, const char *key, const DewMember *members,
                      gconstpointer records, int n, gsize size);

/* Members of what has no table: dew_report_put (json, REAL (option, gain), FLAG (option, sure)).
 * Their keys are the names of the members; those of figures and words made on the spot are
 * given. */
typedef struct
{
  const char *key;
  DewMemberType type;
  gconstpointer at;
} DewItem;

/* clang-format off */
#define DEW_ITEM(kind, record, member) { #member, DEW_MEMBER_##kind, &(record)->member }
#define REAL(record, member) DEW_ITEM (REAL, record, member)
#define INTEGER(record, member) DEW_ITEM (INTEGER, record, member)
#define FLAG(record, member) DEW_ITEM (FLAG, record, member)
#define POINT(record, member) DEW_ITEM (POINT, record, member)
#define REAL_OF(key, value) { key, DEW_MEMBER_REAL, &(double){ value } }
#define INTEGER_OF(key, value) { key, DEW_MEMBER_INTEGER, &(int){ value } }
#define FLAG_OF(key, value) { key, DEW_MEMBER_FLAG, &(gboolean){ value } }
#define WORDS(key, text) { key, DEW_MEMBER_NAME, text }
/* clang-format on */

#define dew_report_put(json, ...) \
  dew_report_items (json, (const DewItem[]){ __VA_ARGS__, { NULL, 0, NULL } })
void dew_report_items (DewJson *json, const DewItem *items);
/* The same as an object of their own. */
#define dew_report_record(json, key, ...) \
  (dew_json_object (json, key), dew_report_put (json, __VA_ARGS__), dew_json_end (json))

/* `format`, `version`, `file` and `enclosure`, with which all begin. */
void dew_report_head (DewJson *json, const char *format, const DewReport *about);

/* --- text ---------------------------------------------------------------- */

/* Appends a text and spaces after it, or before it for `right`, up to `width` letters
 * (not bytes); one space at the least. */
void dew_report_pad (GString *out, const char *text, int width, gboolean right);

G_END_DECLS
