/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the files of this folder share with the store: records handled through
 * their field tables. */

#include "chamber/chamber.h"

G_BEGIN_DECLS

#define DEW_THINGS_MAX 2000 /* of a variant */
#define DEW_VARIANTS_MAX 64
#define DEW_THINGS_ALL_MAX 20000 /* of all variants; their JSON then takes some 15 MB */
#define DEW_WISHES_MAX 500
#define DEW_KINDS_MAX 500

/* Sets every field of a record to its fallback. */
void dew_fields_init (const DewField *fields, gpointer record);
/* Exactly equal; two NANs count as equal so that a copy equals its original. */
gboolean dew_fields_equal (const DewField *fields, gconstpointer a, gconstpointer b);
/* Equal as dew_fields_equal() means it. */
gboolean dew_real_equal (double a, double b);
/* Sets a choice by its key; FALSE, with the record as it was, when there is none such or
 * `key` is NULL. */
gboolean dew_field_choose (const DewField *field, gpointer record, const char *key);
/* Copies as much of `text` as fits in `size` bytes without splitting a character. */
void dew_text_copy (char *to, gsize size, const char *text);
/* Whether a text whose size is that of a name, or more, may have lines. */
#define DEW_TEXT_LINES(size) ((size) > DEW_NAME_SIZE)
/* Whether valid UTF-8 holds control characters other than line feed and tabulator. */
gboolean dew_text_has_controls (const char *text);
/* Whether both have the same wishes (ids included) and own kinds in the same order. */
gboolean dew_wishes_equal (const DewChamber *a, const DewChamber *b);

G_END_DECLS
