/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window's manners: files that are dropped on it, the page for a new enclosure,
 * what it remembers, paper and pictures. Source of all: the platform's habits,
 * common practice. */
#include "fixture.h"

#include "document/tongue.h"
#include "document/habits.h"
#include "pages/recent.h"

#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

static const char *home;

/* --- dropped files -------------------------------------------------------- */

/* What the toolkit does when a person lets files go over the window. */
static gboolean
drop (Fixture *fixture, GSList *files)
{
  GtkWidget *ground = gtk_window_get_child (GTK_WINDOW (fixture->window));
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (ground);
  GValue value = G_VALUE_INIT;
  gboolean taken = FALSE, found = FALSE;

  g_value_init (&value, GDK_TYPE_FILE_LIST);
  g_value_set_boxed (&value, files);
  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (!GTK_IS_DROP_TARGET (controller))
        continue;
      found = TRUE;
      g_signal_emit_by_name (controller, "drop", &value, 10.0, 10.0, &taken);
    }
  g_assert_true (found);
  g_value_unset (&value);
  return taken;
}

static gboolean
drop_path (Fixture *fixture, const char *path)
{
  g_autoptr (GFile) file = g_file_new_for_path (path);
  GSList one = { file, NULL };

  return drop (fixture, &one);
}

static void
test_drop_wrong (Fixture *fixture, gconstpointer data)
{
  static const struct
  {
    const char *name;
    const char *content;
  } files[] = {
    { "note.txt", "Water on Sunday." },
    { "picture.png", "\x89PNG\r\n\x1a\n not a picture" },
    { "empty.dewtier", "" },
    { "other.json", "{ \"what\": \"else\" }" },
    { "broken.json", "{ \"what\": " },
    { "other.dewtier", "SQLite format 3, or so it says" },
  };
  g_autoptr (DewChamber) before = dew_chamber_copy (dew_document_chamber (fixture->document));

  for (guint i = 0; i < G_N_ELEMENTS (files); i++)
    {
      g_autofree char *path = g_build_filename (fixture->folder, files[i].name, NULL);
      g_autofree char *told = g_strdup_printf ("“%s” cannot be opened", files[i].name);
      g_autofree char *content = NULL;

      g_assert_true (g_file_set_contents (path, files[i].content, -1, NULL));
      g_assert_false (drop_path (fixture, path));
      g_assert_cmpstr (dew_window_told (fixture->window), ==, told);
      g_assert_true (g_file_get_contents (path, &content, NULL, NULL));
      g_assert_cmpstr (content, ==, files[i].content);
    }
  g_assert_false (drop_path (fixture, fixture->folder));
  g_assert_false (drop_path (fixture, "/nowhere/at/all.dewtier"));
  /* What was open is what is open. */
  g_assert_cmpstr (dew_document_path (fixture->document), ==, fixture->path);
  g_assert_true (dew_chamber_equal (before, dew_document_chamber (fixture->document)));
  g_assert_cmpuint (dew_document_add (fixture->document, DEW_THING_POT), !=, 0);
}

static void
test_drop_right (Fixture *fixture, gconstpointer data)
{
  g_autofree char *path = g_build_filename (fixture->folder, "second" DEW_STORE_SUFFIX, NULL);
  g_autoptr (DewChamber) second = dew_chamber_new ();

  g_strlcpy (second->name, "Second", sizeof second->name);
  g_assert_true (dew_store_create (path, second, FALSE, NULL));
  dew_window_tell (fixture->window, "Something", "went wrong before");
  fixture_act (fixture, "win.help");
  g_assert_true (drop_path (fixture, path));
  g_assert_cmpstr (dew_document_path (fixture->document), ==, path);
  g_assert_cmpstr (dew_window_page (fixture->window), ==, "sheet");
  g_assert_null (dew_window_told (fixture->window));
  g_assert_cmpstr (gtk_window_get_title (GTK_WINDOW (fixture->window)), ==, "Second – Dewtier");
}

/* A file that is open already brings its window forward instead of being opened a
 * second time, whatever way its path is written. */
static void
test_same_file (Fixture *fixture, gconstpointer data)
{
  g_autofree char *other_way = g_strconcat (fixture->folder, "/./demo" DEW_STORE_SUFFIX, NULL);
  g_autofree char *link = g_build_filename (fixture->folder, "link" DEW_STORE_SUFFIX, NULL);
  DewWindow *second = DEW_WINDOW (dew_window_new (NULL));

  g_assert_cmpint (symlink (fixture->path, link), ==, 0);
  g_assert_true (dew_window_with_file (fixture->path) == fixture->window);
  g_assert_true (dew_window_with_file (other_way) == fixture->window);
  g_assert_true (dew_window_with_file (link) == fixture->window);
  g_assert_null (dew_window_with_file ("/nowhere/at/all.dewtier"));
  g_assert_true (dew_window_open (second, link));
  g_assert_null (dew_document_path (dew_window_document (second)));
  gtk_window_destroy (GTK_WINDOW (second));
}

/* --- what is remembered ------------------------------------------------------ */

static void
test_recent (Fixture *fixture, gconstpointer data)
{
  g_auto (GStrv) paths = dew_recent_paths (5);

  g_assert_nonnull (paths[0]);
  g_assert_cmpstr (paths[0], ==, fixture->path);
  g_assert_cmpstr (dew_habits ()->document, ==, fixture->path);
  for (guint i = 0; paths[i] != NULL; i++)
    {
      g_assert_cmpuint (i, <, 5);
      g_assert_true (g_file_test (paths[i], G_FILE_TEST_EXISTS));
    }
}

static void
test_window_size (Fixture *fixture, gconstpointer data)
{
  GtkWidget *second = dew_window_new (NULL);
  int width, height;

  gtk_window_set_default_size (GTK_WINDOW (second), 1100, 700);
  gtk_window_present (GTK_WINDOW (second));
  gtk_test_widget_wait_for_draw (second);
  gtk_window_close (GTK_WINDOW (second));
  while (g_main_context_iteration (NULL, FALSE))
    ;
  g_assert_cmpint (dew_habits ()->width_px, ==, 1100);
  g_assert_cmpint (dew_habits ()->height_px, ==, 700);
  second = dew_window_new (NULL);
  gtk_window_get_default_size (GTK_WINDOW (second), &width, &height);
  g_assert_cmpint (width, ==, 1100);
  g_assert_cmpint (height, ==, 700);
  /* A screen that is smaller than the one of the last time. */
  dew_habits ()->width_px = dew_habits ()->height_px = 9000;
  gtk_window_destroy (GTK_WINDOW (second));
  second = dew_window_new (NULL);
  gtk_window_get_default_size (GTK_WINDOW (second), &width, &height);
  g_assert_cmpint (width, ==, 1440);
  g_assert_cmpint (height, ==, 900);
  gtk_window_destroy (GTK_WINDOW (second));
  dew_habits ()->width_px = dew_habits ()->height_px = 0;
}

static void
test_units (Fixture *fixture, gconstpointer data)
{
  GActionGroup *actions = G_ACTION_GROUP (fixture->window);
  DewHabits kept;
  g_autofree char *path = g_build_filename (g_get_user_config_dir (), "dewtier", "habits", NULL);

  g_action_group_change_action_state (actions, "units", g_variant_new_string ("imperial"));
  g_assert_cmpint (dew_tongue (), ==, DEW_TONGUE_IMPERIAL);
  dew_habits_read (&kept, path);
  g_assert_cmpint (kept.units, ==, DEW_UNITS_IMPERIAL);
  dew_habits_clear (&kept);
  g_action_group_change_action_state (actions, "units", g_variant_new_string ("metric"));
  g_assert_cmpint (dew_tongue (), ==, DEW_TONGUE_METRIC);
  g_action_group_change_action_state (actions, "still", g_variant_new_boolean (TRUE));
  g_assert_true (dew_canvas_still (dew_window_canvas (fixture->window)));
  dew_habits_read (&kept, path);
  g_assert_cmpint (kept.units, ==, DEW_UNITS_METRIC);
  g_assert_true (kept.still);
  dew_habits_clear (&kept);
  g_action_group_change_action_state (actions, "still", g_variant_new_boolean (FALSE));
}

/* --- pages and menus --------------------------------------------------------- */

static void
test_pages (Fixture *fixture, gconstpointer data)
{
  static const char *const pages[] = { "start", "new", "tour", "help", "keys", "cautions" };

  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      g_autofree char *action = g_strconcat ("win.", pages[i], NULL);

      fixture_act (fixture, action);
      g_assert_cmpstr (dew_window_page (fixture->window), ==, pages[i]);
      gtk_test_widget_wait_for_draw (GTK_WIDGET (fixture->window));
      fixture_act (fixture, "win.leave");
      g_assert_cmpstr (dew_window_page (fixture->window), ==, "sheet");
    }
}

/* Without a document there is no sheet to go back to. */
static void
test_no_document (Fixture *fixture, gconstpointer data)
{
  DewWindow *empty = DEW_WINDOW (dew_window_new (NULL));

  g_assert_false (dew_window_open (empty, "/nowhere/at/all.dewtier"));
  g_assert_cmpstr (dew_window_page (empty), ==, "start");
  gtk_widget_activate_action (GTK_WIDGET (empty), "win.help", NULL);
  gtk_widget_activate_action (GTK_WIDGET (empty), "win.leave", NULL);
  g_assert_cmpstr (dew_window_page (empty), ==, "start");
  gtk_window_destroy (GTK_WINDOW (empty));
}

/* The keyboard is where it was when one comes back from a page. */
static void
test_focus_returns (Fixture *fixture, gconstpointer data)
{
  const DewVariant *variant = dew_document_variant (fixture->document);
  guint id = g_array_index (variant->things, DewThing, 0).id;
  GtkWidget *before;

  dew_canvas_focus_thing (dew_window_canvas (fixture->window), id);
  before = gtk_window_get_focus (GTK_WINDOW (fixture->window));
  fixture_act (fixture, "win.help");
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (fixture->window)) != before);
  fixture_act (fixture, "win.leave");
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (fixture->window)) == before);
}

static void
test_view_states (Fixture *fixture, gconstpointer data)
{
  GActionGroup *actions = G_ACTION_GROUP (fixture->window);
  g_autoptr (GVariant) night = NULL, colour = NULL;

  g_action_group_activate_action (actions, "colour", g_variant_new_int32 (DEW_VALUE_SPEED));
  g_assert_cmpint (dew_document_coloured (fixture->document), ==, DEW_VALUE_SPEED);
  g_action_group_activate_action (actions, "night", NULL);
  g_assert_true (dew_document_night (fixture->document));
  /* And the menu follows what is chosen elsewhere. */
  dew_document_set_night (fixture->document, FALSE);
  dew_document_colour_by (fixture->document, DEW_VALUE_AGE);
  night = g_action_group_get_action_state (actions, "night");
  colour = g_action_group_get_action_state (actions, "colour");
  g_assert_false (g_variant_get_boolean (night));
  g_assert_cmpint (g_variant_get_int32 (colour), ==, DEW_VALUE_AGE);
}

static gboolean
has_action (GType type, const char *name)
{
  GtkWidgetClass *klass = g_type_class_peek (type);
  const GVariantType *parameter;
  const char *found, *property;
  GType owner;

  for (guint i = 0; gtk_widget_class_query_action (klass, i, &owner, &found, &parameter, &property);
       i++)
    if (strcmp (found, name) == 0)
      return TRUE;
  return FALSE;
}

/* Counts the entries of a menu that do something, and looks that it can be done. */
static guint
count_entries (Fixture *fixture, GMenuModel *menu)
{
  guint n = 0;

  for (int i = 0; i < g_menu_model_get_n_items (menu); i++)
    {
      static const char *const links[] = { G_MENU_LINK_SECTION, G_MENU_LINK_SUBMENU };
      g_autofree char *action = NULL;

      for (guint j = 0; j < G_N_ELEMENTS (links); j++)
        {
          g_autoptr (GMenuModel) inner = g_menu_model_get_item_link (menu, i, links[j]);

          if (inner != NULL)
            n += count_entries (fixture, inner);
        }
      if (!g_menu_model_get_item_attribute (menu, i, G_MENU_ATTRIBUTE_ACTION, "s", &action)
          || !g_str_has_prefix (action, "win."))
        continue;
      n++;
      g_test_message ("%s", action);
      g_assert_true (
        has_action (DEW_TYPE_WINDOW, action)
        || g_action_group_has_action (G_ACTION_GROUP (fixture->window), action + strlen ("win.")));
    }
  return n;
}

static guint
count_in_menus (Fixture *fixture, GtkWidget *widget)
{
  guint n = 0;

  if (GTK_IS_MENU_BUTTON (widget)
      && gtk_menu_button_get_menu_model (GTK_MENU_BUTTON (widget)) != NULL)
    n += count_entries (fixture, gtk_menu_button_get_menu_model (GTK_MENU_BUTTON (widget)));
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    n += count_in_menus (fixture, child);
  return n;
}

/* No line of a menu is dead, and what it hands on to the drawing arrives there. */
static void
test_menus (Fixture *fixture, gconstpointer data)
{
  static const char *const handed_on[] = { "cut",
                                           "copy",
                                           "paste",
                                           "duplicate",
                                           "delete",
                                           "select-all",
                                           "select-none",
                                           "zoom-in",
                                           "zoom-out",
                                           "zoom-fit",
                                           "align-left",
                                           "align-middle-across",
                                           "align-right",
                                           "align-front",
                                           "align-middle-deep",
                                           "align-back",
                                           "align-top",
                                           "align-middle-high",
                                           "align-bottom",
                                           "distribute-across",
                                           "distribute-deep",
                                           "distribute-high" };
  GtkWidget *head = gtk_window_get_titlebar (GTK_WINDOW (fixture->window));
  guint n_things = 0;

  g_assert_cmpuint (count_in_menus (fixture, head), >, 80);
  for (guint i = 0; i < G_N_ELEMENTS (handed_on); i++)
    {
      g_autofree char *of_window = g_strconcat ("win.", handed_on[i], NULL);
      g_autofree char *of_canvas = g_strconcat ("canvas.", handed_on[i], NULL);

      g_assert_true (has_action (DEW_TYPE_WINDOW, of_window));
      g_assert_true (has_action (DEW_TYPE_CANVAS, of_canvas));
    }
  n_things = dew_document_variant (fixture->document)->things->len;
  fixture_act (fixture, "win.select-all");
  fixture_act (fixture, "win.delete");
  g_assert_cmpuint (dew_document_variant (fixture->document)->things->len, ==, 0);
  fixture_act (fixture, "win.undo");
  g_assert_cmpuint (dew_document_variant (fixture->document)->things->len, ==, n_things);
}

/* --- new --------------------------------------------------------------------- */

/* The page's own answer, without changing anything: a document on disk that can be
 * forecast. A second one gets a name that is free. */
static void
test_new (Fixture *fixture, gconstpointer data)
{
  g_autofree char *first = NULL;

  for (int i = 0; i < 2; i++)
    {
      GtkWidget *create;
      g_autoptr (DewChamber) stored = NULL;
      g_autoptr (GArray) problems = NULL;

      fixture_act (fixture, "win.new");
      gtk_test_widget_wait_for_draw (GTK_WIDGET (fixture->window));
      create = find_button (GTK_WIDGET (fixture->window), "Draw _it");
      g_assert_nonnull (create);
      g_signal_emit_by_name (create, "clicked");
      g_assert_cmpstr (dew_window_page (fixture->window), ==, "sheet");
      g_assert_null (dew_window_told (fixture->window));
      g_assert_true (g_str_has_prefix (dew_document_path (fixture->document), home));
      g_assert_cmpstr (dew_document_path (fixture->document), !=, first);
      g_assert_true (dew_document_flush (fixture->document, NULL));
      stored = dew_store_load (dew_document_path (fixture->document), NULL);
      g_assert_nonnull (stored);
      problems = dew_chamber_check (stored, stored->shown_variant);
      g_assert_cmpuint (problems->len, ==, 0);
      g_assert_cmpuint (count_things (fixture->document, DEW_THING_SHELF), >, 0);
      g_assert_cmpstr (stored->room.name, !=, "");
      g_free (first);
      first = g_strdup (dew_document_path (fixture->document));
    }
}

/* --- paper --------------------------------------------------------------------- */

static void
assert_begins (const char *path, const char *magic)
{
  g_autofree char *content = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &content, &length, NULL));
  g_assert_cmpuint (length, >, 1000);
  g_assert_cmpint (memcmp (content, magic, strlen (magic)), ==, 0);
}

static void
test_export (Fixture *fixture, gconstpointer data)
{
  static const struct
  {
    DewPages pages;
    const char *asked, *made, *magic;
  } files[] = {
    { DEW_PAGES_FORECAST, "a.pdf", "a.pdf", "%PDF-" },
    { DEW_PAGES_FORECAST, "a.png", "a.png", "\x89PNG" },
    { DEW_PAGES_FORECAST, "a.svg", "a.svg", "<?xml" },
    { DEW_PAGES_FORECAST, "no ending", "no ending.pdf", "%PDF-" },
    { DEW_PAGES_BUILD, "build.png", "build.png.pdf", "%PDF-" },
    { DEW_PAGES_CARD, "card", "card.png", "\x89PNG" },
    { DEW_PAGES_LABELS, "labels", "labels.pdf", "%PDF-" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (files); i++)
    {
      g_autofree char *asked = g_build_filename (fixture->folder, files[i].asked, NULL);
      g_autofree char *made = g_build_filename (fixture->folder, files[i].made, NULL);

      dew_window_export (fixture->window, files[i].pages, asked);
      WAIT_UNTIL (g_file_test (made, G_FILE_TEST_EXISTS));
      assert_begins (made, files[i].magic);
    }
  g_assert_null (dew_window_told (fixture->window));
  dew_window_export (fixture->window, DEW_PAGES_FORECAST, "/nowhere/at/all.pdf");
  WAIT_UNTIL (dew_window_told (fixture->window) != NULL);
  g_assert_cmpstr (dew_window_told (fixture->window), ==, "The picture could not be written");
}

/* The operations of the Print actions, with a file in the place of the printer. */
static void
test_print (Fixture *fixture, gconstpointer data)
{
  static const struct
  {
    DewPages pages;
    const char *name;
    int least;
  } rows[] = { { DEW_PAGES_FORECAST, "print.pdf", 1 },
               { DEW_PAGES_BUILD, "build.pdf", 5 },
               { DEW_PAGES_LABELS, "labels.pdf", 1 } };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GtkPrintOperation) operation
        = dew_window_print_operation (fixture->window, rows[i].pages);
      g_autofree char *path = g_build_filename (fixture->folder, rows[i].name, NULL);
      g_autoptr (GError) error = NULL;
      int pages;

      gtk_print_operation_set_export_filename (operation, path);
      g_assert_cmpint (gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_EXPORT, NULL,
                                                &error),
                       ==, GTK_PRINT_OPERATION_RESULT_APPLY);
      g_assert_no_error (error);
      g_object_get (operation, "n-pages", &pages, NULL);
      g_assert_cmpint (pages, >=, rows[i].least);
      assert_begins (path, "%PDF-");
    }
}

/* --- closing ------------------------------------------------------------- */

/* A window that was shown and used, and then is closed as people do, takes drawing, document and
 * everything else with it. */
static void
test_closed_after_use (Fixture *fixture, gconstpointer data)
{
  static const char *const uses[]
    = { "win.tour",        "win.help", "win.compare", "win.hours",    "win.start",
        "win.full-screen", "win.new",  "win.open",    "win.save-copy" };

  for (guint use = 0; use < G_N_ELEMENTS (uses); use++)
    {
      DewWindow *window = DEW_WINDOW (dew_window_new (NULL));
      gpointer document = dew_window_document (window), canvas = dew_window_canvas (window);
      g_autofree char *path = g_build_filename (fixture->folder, "other" DEW_STORE_SUFFIX, NULL);
      g_autoptr (DewChamber) demo = dew_chamber_demo ();

      g_test_message ("%s", uses[use]);
      g_object_add_weak_pointer (document, &document);
      g_object_add_weak_pointer (canvas, &canvas);
      g_assert_true (dew_store_create (path, demo, TRUE, NULL));
      g_assert_true (dew_window_open (window, path));
      gtk_window_present (GTK_WINDOW (window));
      gtk_test_widget_wait_for_draw (GTK_WIDGET (window));
      for (int kind = 0; kind < DEW_N_THING_KINDS; kind++)
        {
          const DewThing *thing = first_thing (document, kind);

          if (thing == NULL)
            continue;
          dew_document_select (document, thing->id);
          dew_canvas_focus_thing (canvas, thing->id);
          gtk_test_widget_wait_for_draw (GTK_WIDGET (window));
        }
      gtk_widget_activate_action (GTK_WIDGET (window), uses[use], NULL);
      gtk_test_widget_wait_for_draw (GTK_WIDGET (window));
      gtk_window_close (GTK_WINDOW (window));
      WAIT_UNTIL (document == NULL && canvas == NULL);
    }
}

int
main (int argc, char **argv)
{
  home = fixture_begin (&argc, &argv);
  FIXTURE_ADD ("/window/closed-after-use", test_closed_after_use);
  FIXTURE_ADD ("/window/drop-wrong", test_drop_wrong);
  FIXTURE_ADD ("/window/drop-right", test_drop_right);
  FIXTURE_ADD ("/window/same-file", test_same_file);
  FIXTURE_ADD ("/window/recent", test_recent);
  FIXTURE_ADD ("/window/size", test_window_size);
  FIXTURE_ADD ("/window/units", test_units);
  FIXTURE_ADD ("/window/pages", test_pages);
  FIXTURE_ADD ("/window/no-document", test_no_document);
  FIXTURE_ADD ("/window/focus-returns", test_focus_returns);
  FIXTURE_ADD ("/window/view-states", test_view_states);
  FIXTURE_ADD ("/window/menus", test_menus);
  FIXTURE_ADD ("/window/new", test_new);
  FIXTURE_ADD ("/window/export", test_export);
  FIXTURE_ADD ("/window/print", test_print);
  return g_test_run ();
}
