/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/export.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <gio/gio.h>
#include <glib/gi18n.h>
#include <math.h>

#define PT_MM (72.0 / 25.4)

gboolean
dew_export_form_of (const char *path, DewExportForm *form)
{
  static const char *const endings[] = { ".pdf", ".png", ".svg" };
  g_autofree char *lower = NULL;

  g_return_val_if_fail (path != NULL && form != NULL, FALSE);

  lower = g_ascii_strdown (path, -1);
  for (guint i = 0; i < G_N_ELEMENTS (endings); i++)
    if (g_str_has_suffix (lower, endings[i]))
      {
        *form = i;
        return TRUE;
      }
  return FALSE;
}

/* --- bytes ------------------------------------------------------------------------------------ */

static cairo_status_t
append (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

/* Takes the surface; FALSE with error when something went wrong on it. */
static gboolean
finish (cairo_surface_t *surface, cairo_t *cr, GError **error)
{
  cairo_status_t status = cairo_status (cr);

  cairo_destroy (cr);
  cairo_surface_finish (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    return TRUE;
  g_set_error (error, G_IO_ERROR, G_IO_ERROR_FAILED, _ ("The drawing could not be made: %s"),
               cairo_status_to_string (status));
  return FALSE;
}

static gboolean
write_pdf (const DewPrintout *printout, GByteArray *out, GError **error)
{
  cairo_surface_t *surface
    = cairo_pdf_surface_create_for_stream (append, out, printout->page_mm[0] * PT_MM,
                                           printout->page_mm[1] * PT_MM);
  g_autofree char *date = g_date_time_format (printout->date, "%Y-%m-%dT%H:%M:%SZ");
  g_autofree char *title
    = g_strdup_printf ("%s – %s", printout->chamber->name, printout->variant->name);
  int n = dew_printout_pages (printout);
  cairo_t *cr;

  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, title);
  /* Else it were the moment, and no two files the same. */
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, date);
  cr = cairo_create (surface);
  cairo_scale (cr, PT_MM, PT_MM);
  for (int page = 0; page < n; page++)
    {
      dew_printout_paint (printout, page, cr);
      cairo_show_page (cr);
    }
  return finish (surface, cr, error);
}

static void
paint_picture (const DewPrintout *printout, cairo_t *cr)
{
  const DewColour *paper = &dew_palette_get (FALSE, FALSE)->paper;
  DewPrintout alone = *printout; /* lends what that owns */

  if (alone.pages != DEW_PAGES_CARD && alone.pages != DEW_PAGES_THUMBNAIL)
    alone.pages = DEW_PAGES_DRAWING;
  cairo_set_source_rgb (cr, paper->r, paper->g, paper->b);
  cairo_paint (cr);
  dew_printout_paint (&alone, 0, cr);
}

static gboolean
write_svg (const DewPrintout *printout, GByteArray *out, GError **error)
{
  cairo_surface_t *surface
    = cairo_svg_surface_create_for_stream (append, out, printout->page_mm[0], printout->page_mm[1]);
  cairo_t *cr;

  cairo_svg_surface_set_document_unit (surface, CAIRO_SVG_UNIT_MM);
  cr = cairo_create (surface);
  paint_picture (printout, cr);
  return finish (surface, cr, error);
}

static gboolean
write_png (const DewPrintout *printout, int width_px, GByteArray *out, GError **error)
{
  double scale = width_px / printout->page_mm[0];
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width_px,
                                                         (int) ceil (printout->page_mm[1] * scale));
  cairo_t *cr = cairo_create (surface);

  cairo_scale (cr, scale, scale);
  paint_picture (printout, cr);
  cairo_surface_flush (surface);
  if (cairo_status (cr) == CAIRO_STATUS_SUCCESS)
    cairo_surface_write_to_png_stream (surface, append, out);
  return finish (surface, cr, error);
}

GBytes *
dew_export_bytes (const DewPrintout *printout, DewExportForm form, int width_px, GError **error)
{
  g_autoptr (GByteArray) out = g_byte_array_new ();
  gboolean fine = FALSE;
  int least_px;

  g_return_val_if_fail (printout != NULL, NULL);

  least_px
    = printout->pages == DEW_PAGES_THUMBNAIL ? DEW_EXPORT_THUMBNAIL_LEAST_PX : DEW_EXPORT_LEAST_PX;

  switch (form)
    {
    case DEW_EXPORT_PDF:
      fine = write_pdf (printout, out, error);
      break;
    case DEW_EXPORT_SVG:
      fine = write_svg (printout, out, error);
      break;
    case DEW_EXPORT_PNG:
      if (width_px >= least_px && width_px <= DEW_EXPORT_MOST_PX)
        fine = write_png (printout, width_px, out, error);
      else
        g_set_error (error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT,
                     _ ("A picture may be %d to %d pixels wide, not %d"), least_px,
                     DEW_EXPORT_MOST_PX, width_px);
      break;
    }
  return fine ? g_byte_array_free_to_bytes (g_steal_pointer (&out)) : NULL;
}

/* --- files -------------------------------------------------------------------------------------
 */

/* What went wrong in words, and what to do. */
static void
explain (const char *path, const GError *cause, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *shown = g_filename_display_name (path);
  g_autofree char *shown_folder = g_filename_display_name (folder);

  if (g_error_matches (cause, G_FILE_ERROR, G_FILE_ERROR_NOENT)
      || g_error_matches (cause, G_FILE_ERROR, G_FILE_ERROR_NOTDIR))
    g_set_error (error, cause->domain, cause->code,
                 _ ("%s: there is no folder %s; make it or choose another one"), shown,
                 shown_folder);
  else if (g_error_matches (cause, G_FILE_ERROR, G_FILE_ERROR_ACCES)
           || g_error_matches (cause, G_FILE_ERROR, G_FILE_ERROR_PERM)
           || g_error_matches (cause, G_FILE_ERROR, G_FILE_ERROR_ROFS))
    g_set_error (error, cause->domain, cause->code,
                 _ ("%s: the folder %s may not be written; choose another one or change its "
                    "permissions"),
                 shown, shown_folder);
  else if (g_error_matches (cause, G_FILE_ERROR, G_FILE_ERROR_NOSPC))
    g_set_error (error, cause->domain, cause->code,
                 _ ("%s: the disk is full; make room or choose another one"), shown);
  else if (g_error_matches (cause, G_FILE_ERROR, G_FILE_ERROR_ISDIR))
    g_set_error (error, cause->domain, cause->code, _ ("%s: this is a folder; choose another name"),
                 shown);
  else
    g_set_error (error, cause->domain, cause->code, _ ("%s: it could not be written: %s"), shown,
                 cause->message);
}

gboolean
dew_export_file (const DewPrintout *printout, DewExportForm form, int width_px, const char *path,
                 GError **error)
{
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (GError) cause = NULL;

  g_return_val_if_fail (printout != NULL && path != NULL, FALSE);

  bytes = dew_export_bytes (printout, form, width_px, error);
  if (bytes == NULL)
    return FALSE;
  if (g_file_set_contents_full (path, g_bytes_get_data (bytes, NULL),
                                (gssize) g_bytes_get_size (bytes),
                                G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE, 0666,
                                &cause))
    return TRUE;
  explain (path, cause, error);
  return FALSE;
}

void
dew_export_library (int compiled[3], int running[3])
{
  int version = cairo_version ();

  compiled[0] = CAIRO_VERSION_MAJOR;
  compiled[1] = CAIRO_VERSION_MINOR;
  compiled[2] = CAIRO_VERSION_MICRO;
  running[0] = version / 10000;
  running[1] = version / 100 % 100;
  running[2] = version % 100;
}
