/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "readings/import.h"

#include "say/readings.h"
#include "widgets/drop.h"
#include "widgets/names.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>
#include <string.h>

typedef struct
{
  DewDocument *document; /* lent */
  void (*done) (gpointer data);
  gpointer data;
  char *path, *text;
  gsize length;
  DewCsvShape shape;
  guint ask;

  GtkWidget *box, *shown, *questions, *name, *dates, *zone, *degrees, *humidity, *room, *take,
    *note;
} Import;

static void
import_free (gpointer data)
{
  Import *self = data;

  g_free (self->path);
  g_free (self->text);
  g_free (self);
}

static void
say_note (Import *self, const char *text)
{
  gtk_label_set_text (GTK_LABEL (self->note), text);
  gtk_widget_set_visible (self->note, text[0] != '\0');
}

static void
add_lines (GtkWidget *box, char **lines, const char *css_class)
{
  dew_empty (box);
  for (guint i = 0; lines[i] != NULL; i++)
    dew_add_words (GTK_BOX (box), lines[i], css_class);
}

/* What has been answered goes over what was found. */
static void
take_answers (Import *self)
{
  guint dates = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->dates));
  guint degrees = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->degrees));
  guint humidity = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->humidity));

  self->shape = (DewCsvShape){ .dates = dates > 0 ? DEW_DATES_YEAR_FIRST + dates - 1 : 0,
                               .degrees = degrees,
                               .humidity = humidity };
  g_strlcpy (self->shape.zone, gtk_editable_get_text (GTK_EDITABLE (self->zone)),
             sizeof self->shape.zone);
}

/* Looks again with the answers there are. */
static void
look (Import *self)
{
  g_auto (DewCsvLook) seen = { 0 };
  g_auto (GStrv) understood = NULL, questions = NULL;

  if (self->text == NULL)
    return;
  take_answers (self);
  self->ask = DEW_ASK_COLUMNS;
  if (!dew_csv_look (self->text, self->length, &self->shape, &seen))
    {
      say_note (self, _ ("There is no table of dates and numbers in this file. Export it as CSV."));
      return;
    }
  self->ask = seen.ask;
  understood = dew_csv_understood (&self->shape, &seen);
  questions = dew_csv_questions (&self->shape, &seen, FALSE);
  add_lines (self->shown, understood, "soft");
  add_lines (self->questions, questions, NULL);
  gtk_widget_set_visible (self->dates,
                          (seen.ask & DEW_ASK_DATES) != 0
                            || gtk_drop_down_get_selected (GTK_DROP_DOWN (self->dates)) > 0);
  gtk_widget_set_visible (self->degrees,
                          (seen.ask & DEW_ASK_DEGREES) != 0
                            || gtk_drop_down_get_selected (GTK_DROP_DOWN (self->degrees)) > 0);
  gtk_widget_set_visible (self->humidity,
                          (seen.ask & DEW_ASK_HUMIDITY) != 0
                            || gtk_drop_down_get_selected (GTK_DROP_DOWN (self->humidity)) > 0);
  gtk_widget_set_sensitive (self->take,
                            seen.ask == 0
                              && (self->shape.zone[0] == '\0'
                                  || dew_csv_zone_known (self->shape.zone))
                              && gtk_editable_get_text (GTK_EDITABLE (self->name))[0] != '\0');
}

static gboolean
store_readings (Import *self, const DewCsvTable *table, DewLogger *logger, DewMerge *merge,
                GError **error)
{
  DewStore *store = dew_document_store (self->document);
  g_autofree char *base = g_path_get_basename (self->path);
  g_autofree char *settings = dew_csv_settings (&self->shape);
  g_autoptr (DewSeries) series = NULL;
  DewLogger there;

  if (store == NULL)
    {
      g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_READ_ONLY,
                   _ ("Save the enclosure first: readings are kept in its file"));
      return FALSE;
    }
  series = dew_series_open (dew_store_path (store), error);
  if (series == NULL)
    return FALSE;
  if (dew_series_logger (series, logger->name, &there, NULL))
    *logger = there;
  return dew_series_add (store, logger, table->readings, base, settings, merge, error);
}

static void
on_take (Import *self)
{
  g_auto (DewCsvTable) table = { 0 };
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL, *first = NULL;
  DewMerge merge;
  DewLogger logger;

  dew_csv_read (self->text, self->length, &self->shape, NULL, NULL, &table);
  if (table.n_problems > 0 || table.readings->len == 0)
    {
      first = table.n_problems > 0
                ? dew_csv_problem_text (&g_array_index (table.problems, DewCsvProblem, 0))
                : g_strdup (_ ("It holds no readings."));
      text = g_strdup_printf (_ ("Nothing was taken in. %s"), first);
      say_note (self, text);
      return;
    }
  dew_logger_init (&logger, gtk_editable_get_text (GTK_EDITABLE (self->name)));
  if (gtk_check_button_get_active (GTK_CHECK_BUTTON (self->room)))
    logger.place = DEW_LOGGER_ROOM;
  if (!store_readings (self, &table, &logger, &merge, &error))
    {
      say_note (self, error->message);
      return;
    }
  first = g_path_get_basename (self->path);
  text = dew_report_import_text (first, &logger, &table, &merge);
  say_note (self, g_strchomp (text));
  self->done (self->data);
}

static GtkWidget *
drop_new (Import *self, const char *const *words, const char *spoken)
{
  GtkWidget *drop = dew_drop_new (gtk_string_list_new (words), spoken);

  gtk_widget_set_halign (drop, GTK_ALIGN_START);
  g_signal_connect_swapped (drop, "notify::selected", G_CALLBACK (look), self);
  gtk_widget_set_visible (drop, FALSE);
  return drop;
}

static GtkWidget *
labelled (const char *label, GtkWidget *child)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *words = gtk_label_new (label);

  gtk_widget_add_css_class (words, "soft");
  gtk_box_append (GTK_BOX (row), words);
  gtk_box_append (GTK_BOX (row), child);
  dew_name_widget (child, label);
  return row;
}

/* Names of instruments of the drawing, one suggested. */
static const char *
first_instrument (DewDocument *document)
{
  const DewVariant *variant = dew_document_variant (document);

  for (guint i = 0; variant != NULL && i < variant->things->len; i++)
    if (g_array_index (variant->things, DewThing, i).kind == DEW_THING_INSTRUMENT)
      return g_array_index (variant->things, DewThing, i).name;
  return "";
}

GtkWidget *
dew_import_new (DewDocument *document, GCallback done, gpointer data)
{
  const char *dates[] = { _ ("Dates: as the table proves"), _ ("Year first"), _ ("Day first"),
                          _ ("Month first"), NULL };
  const char *degrees[]
    = { _ ("Degrees: as the table says"), _ ("Degrees Celsius"), _ ("Degrees Fahrenheit"), NULL };
  const char *humidity[]
    = { _ ("Humidity: as the table says"), _ ("Per cent"), _ ("From 0 to 1"), NULL };
  Import *self = g_new0 (Import, 1);

  self->document = document;
  self->done = (void (*) (gpointer)) done;
  self->data = data;
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  g_object_set_data_full (G_OBJECT (self->box), "dew-import", self, import_free);
  self->shown = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  self->questions = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  self->name = gtk_entry_new ();
  gtk_entry_set_max_length (GTK_ENTRY (self->name), DEW_NAME_SIZE / 4);
  self->zone = gtk_entry_new ();
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->zone), "Europe/Berlin");
  self->dates = drop_new (self, dates, _ ("What its dates begin with"));
  self->degrees = drop_new (self, degrees, _ ("Degrees of its temperatures"));
  self->humidity = drop_new (self, humidity, _ ("Unit of its humidities"));
  self->room = gtk_check_button_new_with_label (_ ("It was in the room, not inside"));
  self->take = gtk_button_new_with_label (_ ("Take the readings in"));
  gtk_widget_set_halign (self->take, GTK_ALIGN_START);
  self->note = dew_words_new ("", NULL);
  gtk_box_append (GTK_BOX (self->box), self->shown);
  gtk_box_append (GTK_BOX (self->box), self->questions);
  gtk_box_append (GTK_BOX (self->box), self->dates);
  gtk_box_append (GTK_BOX (self->box), self->degrees);
  gtk_box_append (GTK_BOX (self->box), self->humidity);
  gtk_box_append (GTK_BOX (self->box), labelled (_ ("Zone of its clock"), self->zone));
  gtk_box_append (GTK_BOX (self->box), labelled (_ ("Instrument"), self->name));
  gtk_box_append (GTK_BOX (self->box), self->room);
  gtk_box_append (GTK_BOX (self->box), self->take);
  gtk_box_append (GTK_BOX (self->box), self->note);
  g_signal_connect_swapped (self->zone, "changed", G_CALLBACK (look), self);
  g_signal_connect_swapped (self->name, "changed", G_CALLBACK (look), self);
  g_signal_connect_swapped (self->take, "clicked", G_CALLBACK (on_take), self);
  return self->box;
}

void
dew_import_look (GtkWidget *import, const char *path)
{
  Import *self = g_object_get_data (G_OBJECT (import), "dew-import");
  g_autoptr (GMappedFile) file = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *words = NULL;
  DewCsvProblem problem;

  g_clear_pointer (&self->path, g_free);
  g_clear_pointer (&self->text, g_free);
  dew_empty (self->shown);
  dew_empty (self->questions);
  say_note (self, "");
  file = g_mapped_file_new (path, FALSE, &error);
  if (file == NULL)
    {
      say_note (self, error->message);
      return;
    }
  self->path = g_strdup (path);
  self->text = dew_csv_text (g_mapped_file_get_contents (file), g_mapped_file_get_length (file),
                             &self->length, &problem);
  if (self->text == NULL)
    {
      words = dew_csv_problem_text (&problem);
      say_note (self, words);
      return;
    }
  if (gtk_editable_get_text (GTK_EDITABLE (self->name))[0] == '\0')
    gtk_editable_set_text (GTK_EDITABLE (self->name), first_instrument (self->document));
  look (self);
}
