/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drawing as a file or on paper. */
#include "window/window-private.h"

#include "document/tongue.h"
#include "sheets/export.h"

#include <glib/gi18n.h>
#include <string.h>

#define PICTURE_WIDTH_PX 2400
#define DEFAULT_SUFFIX ".pdf"

/* What is put on paper: a copy, so that one can go on drawing meanwhile. */
typedef struct
{
  DewChamber *chamber;
  DewForecast *forecast;
  char *cannot;
  DewPrintout printout;
  char *path;
  DewExportForm form;
} Paper;

static void
paper_free (gpointer data)
{
  Paper *paper = data;

  dew_printout_clear (&paper->printout);
  g_clear_pointer (&paper->forecast, dew_forecast_unref);
  g_clear_pointer (&paper->chamber, dew_chamber_free);
  g_free (paper->cannot);
  g_free (paper->path);
  g_free (paper);
}

/* A4 but where letters are sold. */
static DewPaper
usual_paper (void)
{
  return strcmp (gtk_paper_size_get_default (), GTK_PAPER_NAME_LETTER) == 0 ? DEW_PAPER_LETTER
                                                                            : DEW_PAPER_A4;
}

static Paper *
paper_new (DewWindow *self)
{
  Paper *paper = g_new0 (Paper, 1);
  DewForecast *forecast;

  /* What is only looked at does not go on paper. */
  dew_document_peek_end (self->document);
  forecast = dew_document_forecast (self->document);
  paper->chamber = dew_chamber_copy (dew_document_chamber (self->document));
  if (forecast != NULL)
    paper->forecast = dew_forecast_ref (forecast);
  paper->cannot = g_strdup (dew_document_obstacle (self->document, NULL));
  dew_printout_init (&paper->printout, paper->chamber, dew_chamber_shown (paper->chamber),
                     paper->forecast);
  paper->printout.cannot = paper->cannot;
  paper->printout.coloured = dew_document_coloured (self->document);
  paper->printout.plan_bay = dew_document_plan_bay (self->document);
  paper->printout.tongue = dew_tongue ();
  dew_printout_fit (&paper->printout, usual_paper ());
  return paper;
}

/* --- a file -------------------------------------------------------------- */

static void
write_paper (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  const Paper *paper = task_data;
  GError *error = NULL;

  if (dew_export_file (&paper->printout, paper->form, PICTURE_WIDTH_PX, paper->path, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
on_written (GObject *source, GAsyncResult *result, gpointer user_data)
{
  DewWindow *self = DEW_WINDOW (source);
  const Paper *paper = g_task_get_task_data (G_TASK (result));
  g_autofree char *name = g_filename_display_basename (paper->path);
  g_autoptr (GError) error = NULL;
  g_autofree char *words = NULL;

  /* The window may be gone by now. */
  if (self->document == NULL)
    return;
  if (!g_task_propagate_boolean (G_TASK (result), &error))
    {
      dew_window_tell_with (self, _ ("The picture could not be written"), error->message,
                            _ ("Try another place…"), "win.export");
      return;
    }
  /* Translators: %s is the name of a file. */
  words = g_strdup_printf (_ ("Saved as %s."), name);
  dew_window_hint (self, words);
}

void
dew_window_export (DewWindow *self, const char *path)
{
  g_autofree char *whole = g_strdup (path);
  g_autoptr (GTask) task = NULL;
  DewExportForm form;
  Paper *paper;

  g_return_if_fail (DEW_IS_WINDOW (self) && dew_document_chamber (self->document) != NULL);

  if (!dew_export_form_of (whole, &form))
    {
      g_free (whole);
      whole = g_strconcat (path, DEFAULT_SUFFIX, NULL);
      form = DEW_EXPORT_PDF;
    }
  paper = paper_new (self);
  paper->path = g_steal_pointer (&whole);
  paper->form = form;
  task = g_task_new (self, NULL, on_written, NULL);
  g_task_set_task_data (task, paper, paper_free);
  g_task_run_in_thread (task, write_paper);
}

static void
on_export_response (GtkNativeDialog *dialog, int response, gpointer user_data)
{
  DewWindow *self = user_data;
  g_autofree char *path = dew_window_chosen_path (self, response);

  if (path != NULL)
    dew_window_export (self, path);
}

static void
export_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  static const char *const suffixes[] = { "pdf", "png", "svg", NULL };
  DewWindow *self = DEW_WINDOW (widget);
  GtkFileChooserNative *chooser = dew_window_chooser_new (self, _ ("Save as a picture"),
                                                          GTK_FILE_CHOOSER_ACTION_SAVE, _ ("Save"));

  dew_window_add_filter (chooser, _ ("PDF, PNG and SVG"), suffixes);
  dew_window_suggest (chooser, dew_document_chamber (self->document)->name, DEFAULT_SUFFIX);
  g_signal_connect_object (chooser, "response", G_CALLBACK (on_export_response), self, 0);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

/* --- a printer ------------------------------------------------------------- */

static void
on_begin_print (GtkPrintOperation *operation, GtkPrintContext *context, gpointer user_data)
{
  Paper *paper = user_data;
  GtkPageSetup *setup = gtk_print_context_get_page_setup (context);

  paper->printout.page_mm[0] = gtk_page_setup_get_paper_width (setup, GTK_UNIT_MM);
  paper->printout.page_mm[1] = gtk_page_setup_get_paper_height (setup, GTK_UNIT_MM);
  gtk_print_operation_set_n_pages (operation, dew_printout_pages (&paper->printout));
}

static void
on_draw_page (GtkPrintOperation *operation, GtkPrintContext *context, int page, gpointer user_data)
{
  const Paper *paper = user_data;

  dew_printout_paint (&paper->printout, page, gtk_print_context_get_cairo_context (context));
}

GtkPrintOperation *
dew_window_print_operation (DewWindow *self)
{
  GtkPrintOperation *operation = gtk_print_operation_new ();
  g_autoptr (GtkPageSetup) setup = gtk_page_setup_new ();
  Paper *paper = paper_new (self);

  gtk_page_setup_set_orientation (setup, paper->printout.page_mm[0] > paper->printout.page_mm[1]
                                           ? GTK_PAGE_ORIENTATION_LANDSCAPE
                                           : GTK_PAGE_ORIENTATION_PORTRAIT);
  gtk_print_operation_set_default_page_setup (operation, setup);
  gtk_print_operation_set_use_full_page (operation, TRUE);
  gtk_print_operation_set_unit (operation, GTK_UNIT_MM);
  gtk_print_operation_set_job_name (operation, paper->chamber->name);
  gtk_print_operation_set_embed_page_setup (operation, TRUE);
  g_object_set_data_full (G_OBJECT (operation), "dew-paper", paper, paper_free);
  g_signal_connect (operation, "begin-print", G_CALLBACK (on_begin_print), paper);
  g_signal_connect (operation, "draw-page", G_CALLBACK (on_draw_page), paper);
  return operation;
}

static void
on_printed (GtkPrintOperation *operation, GtkPrintOperationResult result, gpointer user_data)
{
  DewWindow *self = user_data;
  g_autoptr (GError) error = NULL;

  if (result != GTK_PRINT_OPERATION_RESULT_ERROR)
    return;
  gtk_print_operation_get_error (operation, &error);
  dew_window_tell_with (self, _ ("It could not be printed"), error->message,
                        _ ("Save as a picture…"), "win.export");
}

static void
print_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewWindow *self = DEW_WINDOW (widget);
  g_autoptr (GtkPrintOperation) operation = dew_window_print_operation (self);

  gtk_print_operation_set_allow_async (operation, TRUE);
  g_signal_connect_object (operation, "done", G_CALLBACK (on_printed), self, 0);
  /* What goes wrong is told by on_printed(). */
  gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, GTK_WINDOW (self),
                           NULL);
}

void
dew_window_install_paper_actions (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action (widget_class, "win.export", NULL, export_action);
  gtk_widget_class_install_action (widget_class, "win.print", NULL, print_action);
}
