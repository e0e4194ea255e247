/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drawing as a file or on paper, the pages for who builds it, a picture for a message,
 * labels for pots. */
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
paper_new (DewWindow *self, DewPages pages)
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
  paper->printout.pages = pages;
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

/* Several pages are a PDF and nothing else. */
static gboolean
in_pages (DewPages pages)
{
  return pages == DEW_PAGES_BUILD || pages == DEW_PAGES_LABELS;
}

void
dew_window_export (DewWindow *self, DewPages pages, const char *path)
{
  g_autofree char *whole = g_strdup (path);
  g_autoptr (GTask) task = NULL;
  DewExportForm form;
  Paper *paper;

  g_return_if_fail (DEW_IS_WINDOW (self) && dew_document_chamber (self->document) != NULL);

  if (!dew_export_form_of (whole, &form) || (in_pages (pages) && form != DEW_EXPORT_PDF))
    {
      const char *suffix = pages == DEW_PAGES_CARD ? ".png" : DEFAULT_SUFFIX;

      g_free (whole);
      whole = g_strconcat (path, suffix, NULL);
      dew_export_form_of (whole, &form);
    }
  paper = paper_new (self, pages);
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
    dew_window_export (self, GPOINTER_TO_INT (g_object_get_data (G_OBJECT (dialog), "dew-pages")),
                       path);
}

/* What can be saved: its action, the words over the dialog, the end of the name suggested. */
static const struct
{
  const char *action;
  DewPages pages;
  const char *title;
  const char *suffix;
} exports[] = {
  { "win.export", DEW_PAGES_FORECAST, N_ ("Save as a picture"), ".pdf" },
  { "win.export-build", DEW_PAGES_BUILD, N_ ("Save the build sheet"), ".pdf" },
  { "win.export-card", DEW_PAGES_CARD, N_ ("Save a picture for a message"), ".png" },
  { "win.export-labels", DEW_PAGES_LABELS, N_ ("Save labels for pots"), ".pdf" },
};

static void
export_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  static const char *const any[] = { "pdf", "png", "svg", NULL }, *const pages[] = { "pdf", NULL };
  DewWindow *self = DEW_WINDOW (widget);
  GtkFileChooserNative *chooser;
  guint i = 0;

  while (i + 1 < G_N_ELEMENTS (exports) && strcmp (exports[i].action, name) != 0)
    i++;
  chooser
    = dew_window_chooser_new (self, _ (exports[i].title), GTK_FILE_CHOOSER_ACTION_SAVE, _ ("Save"));
  g_object_set_data (G_OBJECT (chooser), "dew-pages", GINT_TO_POINTER (exports[i].pages));
  if (in_pages (exports[i].pages))
    dew_window_add_filter (chooser, _ ("PDF"), pages);
  else
    dew_window_add_filter (chooser, _ ("PDF, PNG and SVG"), any);
  dew_window_suggest (chooser, dew_document_chamber (self->document)->name, exports[i].suffix);
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
dew_window_print_operation (DewWindow *self, DewPages pages)
{
  GtkPrintOperation *operation = gtk_print_operation_new ();
  g_autoptr (GtkPageSetup) setup = gtk_page_setup_new ();
  Paper *paper = paper_new (self, pages);

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
  DewPages pages = strcmp (name, "win.print-build") == 0    ? DEW_PAGES_BUILD
                   : strcmp (name, "win.print-labels") == 0 ? DEW_PAGES_LABELS
                                                            : DEW_PAGES_FORECAST;
  g_autoptr (GtkPrintOperation) operation = dew_window_print_operation (self, pages);

  gtk_print_operation_set_allow_async (operation, TRUE);
  g_signal_connect_object (operation, "done", G_CALLBACK (on_printed), self, 0);
  /* What goes wrong is told by on_printed(). */
  gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, GTK_WINDOW (self),
                           NULL);
}

void
dew_window_install_paper_actions (GtkWidgetClass *widget_class)
{
  for (guint i = 0; i < G_N_ELEMENTS (exports); i++)
    gtk_widget_class_install_action (widget_class, exports[i].action, NULL, export_action);
  gtk_widget_class_install_action (widget_class, "win.print", NULL, print_action);
  gtk_widget_class_install_action (widget_class, "win.print-build", NULL, print_action);
  gtk_widget_class_install_action (widget_class, "win.print-labels", NULL, print_action);
}
