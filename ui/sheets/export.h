/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Writes printouts into files. A file is written beside the target and then takes its
 * name, so that a full disk leaves the old one as it was. The same printout gives the
 * same bytes (an SVG only in a program that has made none before: Cairo counts its
 * inner names on). Errors name the file and what to do, in G_FILE_ERROR or G_IO_ERROR. */

#include "sheets/printout.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_EXPORT_PDF, /* all pages */
  DEW_EXPORT_PNG, /* the page with the drawing */
  DEW_EXPORT_SVG  /* the same */
} DewExportForm;

/* By the ending of a name; FALSE for any other. */
gboolean dew_export_form_of (const char *path, DewExportForm *form);

/* The bytes of a file of that form. width_px: of a PNG, DEW_EXPORT_LEAST_PX to
 * DEW_EXPORT_MOST_PX. NULL with error. */
#define DEW_EXPORT_LEAST_PX 200
#define DEW_EXPORT_MOST_PX 16000
#define DEW_EXPORT_THUMBNAIL_LEAST_PX 16 /* of a thumbnail */
#define DEW_EXPORT_THUMBNAIL_MOST_PX 2048
GBytes *dew_export_bytes (const DewPrintout *printout, DewExportForm form, int width_px,
                          GError **error);
gboolean dew_export_file (const DewPrintout *printout, DewExportForm form, int width_px,
                          const char *path, GError **error);

/* The Cairo that this was compiled with, and the one it runs with: major, minor, patch. */
void dew_export_library (int compiled[3], int running[3]);

G_END_DECLS
