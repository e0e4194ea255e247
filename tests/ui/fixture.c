/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fixture.h"

#include "canvas/item.h"
#include "canvas/theme.h"

#include <glib/gstdio.h>
#include <string.h>

#define TICK_MS 10

/* --- waiting --------------------------------------------------------------------- */

static gboolean
on_tick (gpointer data)
{
  return G_SOURCE_CONTINUE;
}

guint
fixture_tick (void)
{
  return g_timeout_add (TICK_MS, on_tick, NULL);
}

void
wait_for_forecast (DewDocument *document)
{
  WAIT_UNTIL (dew_document_forecast (document) != NULL && !dew_document_lags (document));
}

/* --- the window ------------------------------------------------------------------ */

const char *
fixture_begin (int *argc, char ***argv)
{
  static char *home;
  g_autofree char *folders = NULL;

  home = g_dir_make_tmp ("dewtier-home-XXXXXX", NULL);
  folders = g_build_filename (home, "user-dirs.dirs", NULL);
  g_assert_true (g_file_set_contents (folders, "XDG_DOCUMENTS_DIR=\"$HOME/Papers\"\n", -1, NULL));
  g_setenv ("HOME", home, TRUE);
  g_setenv ("XDG_CONFIG_HOME", home, TRUE);
  g_setenv ("XDG_DATA_HOME", home, TRUE);
  gtk_test_init (argc, argv, NULL);
  dew_theme_follow (gdk_display_get_default ());
  return home;
}

static void
on_trouble (Fixture *fixture, const char *title, const char *detail)
{
  g_free (fixture->trouble);
  fixture->trouble = g_strdup (detail);
}

void
fixture_open (Fixture *fixture, const DewChamber *chamber)
{
  g_autoptr (GError) error = NULL;

  fixture->folder = g_dir_make_tmp ("dewtier-test-XXXXXX", &error);
  g_assert_no_error (error);
  fixture->path = g_build_filename (fixture->folder, "demo" DEW_STORE_SUFFIX, NULL);
  dew_store_create (fixture->path, chamber, FALSE, &error);
  g_assert_no_error (error);
  fixture->window = DEW_WINDOW (dew_window_new (NULL));
  fixture->document = dew_window_document (fixture->window);
  fixture->canvas = GTK_WIDGET (dew_window_canvas (fixture->window));
  g_assert_true (dew_window_open (fixture->window, fixture->path));
  g_signal_connect_swapped (fixture->document, "trouble", G_CALLBACK (on_trouble), fixture);
  gtk_window_present (GTK_WINDOW (fixture->window));
  gtk_test_widget_wait_for_draw (GTK_WIDGET (fixture->window));
}

void
fixture_set_up (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DewChamber) demo = dew_chamber_demo ();

  fixture_open (fixture, demo);
}

static void
remove_folder (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      g_unlink (path);
    }
  g_rmdir (folder);
}

void
fixture_tear_down (Fixture *fixture, gconstpointer data)
{
  g_assert_true (dew_document_flush (fixture->document, NULL));
  g_signal_handlers_disconnect_by_data (fixture->document, fixture);
  gtk_window_destroy (GTK_WINDOW (fixture->window));
  remove_folder (fixture->folder);
  g_free (fixture->trouble);
  g_free (fixture->path);
  g_free (fixture->folder);
}

void
fixture_act (Fixture *fixture, const char *action)
{
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (fixture->window), action, NULL));
}

/* --- looking round ---------------------------------------------------------------- */

const DewThing *
first_thing (DewDocument *document, DewThingKind kind)
{
  const DewVariant *variant = dew_document_variant (document);

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind == kind)
        return thing;
    }
  return NULL;
}

guint
count_things (DewDocument *document, DewThingKind kind)
{
  const DewVariant *variant = dew_document_variant (document);
  guint n = 0;

  for (guint i = 0; i < variant->things->len; i++)
    n += g_array_index (variant->things, DewThing, i).kind == kind;
  return n;
}

GtkWidget *
item_of (Fixture *fixture, guint thing_id)
{
  for (GtkWidget *child = gtk_widget_get_first_child (fixture->canvas); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (DEW_IS_ITEM (child) && dew_item_thing_id (DEW_ITEM (child)) == thing_id)
      return child;
  return NULL;
}

void
type_number (GtkWidget *number, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (number), text);
  gtk_spin_button_update (GTK_SPIN_BUTTON (number));
}

/* The first widget that fits at or under `widget`, depth first; what is hidden is passed. */
static GtkWidget *
find (GtkWidget *widget, gboolean (*fits) (GtkWidget *widget, gconstpointer what),
      gconstpointer what)
{
  GtkWidget *found = NULL;

  if (!gtk_widget_get_visible (widget))
    return NULL;
  if (fits (widget, what))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = find (child, fits, what);
  return found;
}

static gboolean
is_of_type (GtkWidget *widget, gconstpointer what)
{
  return g_type_is_a (G_OBJECT_TYPE (widget), *(const GType *) what);
}

GtkWidget *
find_type (GtkWidget *widget, GType type)
{
  return find (widget, is_of_type, &type);
}

static gboolean
is_button (GtkWidget *widget, gconstpointer label)
{
  return GTK_IS_BUTTON (widget)
         && g_strcmp0 (gtk_button_get_label (GTK_BUTTON (widget)), label) == 0;
}

GtkWidget *
find_button (GtkWidget *widget, const char *label)
{
  return find (widget, is_button, label);
}

static gboolean
holds_words (GtkWidget *widget, gconstpointer words)
{
  return GTK_IS_LABEL (widget) && strstr (gtk_label_get_text (GTK_LABEL (widget)), words) != NULL;
}

gboolean
says (GtkWidget *widget, const char *words)
{
  return find (widget, holds_words, words) != NULL;
}

/* What stands for a widget to somebody who does not see it: a label of its own, or another
 * widget that labels it. */
static gboolean
is_named (GtkWidget *widget)
{
  GtkAccessible *accessible = GTK_ACCESSIBLE (widget);

  return gtk_test_accessible_has_property (accessible, GTK_ACCESSIBLE_PROPERTY_LABEL)
         || gtk_test_accessible_has_relation (accessible, GTK_ACCESSIBLE_RELATION_LABELLED_BY);
}

guint
count_unnamed (GtkWidget *widget, guint *n_focusable)
{
  guint unnamed = 0;

  if (!gtk_widget_get_mapped (widget))
    return 0;
  /* The text inside an entry is named by the entry. */
  if (gtk_widget_get_focusable (widget) && !GTK_IS_TEXT (widget))
    {
      (*n_focusable)++;
      if (!is_named (widget))
        {
          g_test_message ("without a name: %s in %s", G_OBJECT_TYPE_NAME (widget),
                          G_OBJECT_TYPE_NAME (gtk_widget_get_parent (widget)));
          unnamed++;
        }
    }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    unnamed += count_unnamed (child, n_focusable);
  return unnamed;
}
