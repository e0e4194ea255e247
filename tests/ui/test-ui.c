/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window in this process: on a fresh copy of the demo, with a display of
 * its own and the accessibility layer that GTK has for tests. */
#include "fixture.h"

#include "canvas/item.h"
#include "document/edit.h"
#include "panes/editor.h"
#include "widgets/number.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

static guint
find_thing (DewDocument *document, DewThingKind kind)
{
  return first_thing (document, kind)->id;
}

static const DewThing *
thing (DewDocument *document, guint id)
{
  return dew_variant_thing (dew_document_variant (document), id);
}

/* --- window ------------------------------------------------------------ */

static void
test_edit (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  guint fan = find_thing (document, DEW_THING_FAN);
  double before_m = thing (document, fan)->fan.diameter_m;
  GtkWidget *editor, *number;

  wait_for_forecast (document);
  dew_document_select (document, fan);
  editor = dew_pane_editor (dew_window_pane (fixture->window));
  g_assert_nonnull (editor);
  number = dew_thing_editor_widget (editor, "diameter_m");
  g_assert_nonnull (number);
  g_assert_cmpfloat_with_epsilon (dew_number_get (number), before_m, 1e-12);

  type_number (number, "80 mm");
  g_assert_cmpfloat_with_epsilon (thing (document, fan)->fan.diameter_m, 0.08, 1e-12);
  wait_for_forecast (document);

  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.undo", NULL);
  g_assert_cmpfloat (thing (document, fan)->fan.diameter_m, ==, before_m);
  g_assert_cmpfloat_with_epsilon (dew_number_get (number), before_m, 1e-12);
  g_assert_null (dew_document_can_undo (document));

  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.redo", NULL);
  g_assert_cmpfloat_with_epsilon (thing (document, fan)->fan.diameter_m, 0.08, 1e-12);

  /* And what was done is in the file. */
  g_assert_true (dew_document_flush (document, NULL));
  {
    g_autoptr (GError) error = NULL;
    g_autoptr (DewChamber) stored = dew_store_load (fixture->path, &error);

    g_assert_no_error (error);
    g_assert_cmpfloat_with_epsilon (
      dew_variant_thing (dew_chamber_shown (stored), fan)->fan.diameter_m, 0.08, 1e-12);
  }
}

static void
test_tell_apart (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  DewPane *pane = dew_window_pane (fixture->window);
  guint pot = find_thing (document, DEW_THING_POT);

  g_assert_cmpint (dew_pane_content (pane), ==, DEW_PANE_BAYS);
  dew_document_select (document, pot);
  g_assert_cmpint (dew_pane_content (pane), ==, DEW_PANE_THING);
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.show-room", NULL);
  g_assert_cmpint (dew_pane_content (pane), ==, DEW_PANE_ROOM);
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), "win.show-enclosure", NULL);
  g_assert_cmpint (dew_pane_content (pane), ==, DEW_PANE_ENCLOSURE);
  dew_document_select (document, pot);
  dew_document_remove (document, pot);
  g_assert_cmpuint (dew_document_selected (document), ==, 0);
  g_assert_cmpint (dew_pane_content (pane), ==, DEW_PANE_BAYS);
  dew_document_undo (document);
  g_assert_nonnull (thing (document, pot));
}

static void
test_keys (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  guint fan = find_thing (document, DEW_THING_FAN);
  double x_m = thing (document, fan)->fan.x_m, z_m = thing (document, fan)->fan.z_m;
  GtkWidget *item = item_of (fixture, fan);

  g_assert_nonnull (item);
  dew_canvas_focus_thing (dew_window_canvas (fixture->window), fan);
  g_assert_true (gtk_widget_has_focus (item));
  g_assert_cmpuint (dew_document_selected (document), ==, fan);

  gtk_widget_activate_action (item, "item.move-right", NULL);
  gtk_widget_activate_action (item, "item.move-right", NULL);
  gtk_widget_activate_action (item, "item.move-up", NULL);
  g_assert_cmpfloat_with_epsilon (thing (document, fan)->fan.x_m, x_m + 0.02, 1e-9);
  g_assert_cmpfloat_with_epsilon (thing (document, fan)->fan.z_m, z_m + 0.01, 1e-9);
  /* Presses in a row are one step back. */
  dew_document_undo (document);
  g_assert_cmpfloat_with_epsilon (thing (document, fan)->fan.x_m, x_m, 1e-9);
  g_assert_cmpfloat_with_epsilon (thing (document, fan)->fan.z_m, z_m, 1e-9);

  gtk_widget_activate_action (item, "item.delete", NULL);
  g_assert_null (thing (document, fan));
  g_assert_null (item_of (fixture, fan));
}

/* Top down, then left to right, as one reads. */
static void
test_reading_order (Fixture *fixture, gconstpointer data)
{
  GtkWidget *canvas = GTK_WIDGET (dew_window_canvas (fixture->window));
  guint n = 0;
  double row_m = INFINITY, column_m = -INFINITY;

  for (GtkWidget *child = gtk_widget_get_first_child (canvas); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      double lo[3], hi[3];

      /* Bays and flags are read too, but are no things. */
      if (!DEW_IS_ITEM (child))
        continue;
      g_assert_true (gtk_widget_get_focusable (child));
      dew_thing_box (dew_document_chamber (fixture->document),
                     thing (fixture->document, dew_item_thing_id (DEW_ITEM (child))), lo, hi);
      g_assert_cmpfloat (lo[2], <, row_m + 0.05);
      if (fabs (lo[2] - row_m) < 1e-9)
        g_assert_cmpfloat (lo[0], >=, column_m);
      row_m = lo[2];
      column_m = lo[0];
      n++;
    }
  g_assert_cmpuint (n, ==, dew_document_variant (fixture->document)->things->len);
}

static void
test_add (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  guint id = dew_document_add (document, DEW_THING_POT);

  g_assert_cmpuint (id, !=, 0);
  g_assert_cmpint (thing (document, id)->kind, ==, DEW_THING_POT);
  g_assert_cmpuint (dew_document_selected (document), ==, id);
  g_assert_nonnull (item_of (fixture, id));
  g_assert_null (dew_document_obstacle (document, NULL));
  dew_document_undo (document);
  g_assert_null (thing (document, id));
  g_assert_cmpuint (dew_document_selected (document), ==, 0);
}

/* Carried in from the tray and dropped; and carried in and out again. */
static void
test_carry (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  DewCanvas *canvas = dew_window_canvas (fixture->window);
  guint fan = find_thing (document, DEW_THING_FAN);
  guint n = dew_document_variant (document)->things->len;
  DewRect rect;

  g_assert_true (dew_canvas_thing_rect (canvas, fan, DEW_VIEW_FRONT, &rect));
  dew_canvas_carry (canvas, DEW_THING_INSTRUMENT, rect.x + 60.0, rect.y - 40.0);
  g_assert_cmpuint (dew_document_variant (document)->things->len, ==, n + 1);
  dew_canvas_carry (canvas, DEW_THING_INSTRUMENT, -50.0, 100.0);
  g_assert_cmpuint (dew_document_variant (document)->things->len, ==, n);
  dew_canvas_carry (canvas, DEW_THING_INSTRUMENT, rect.x + 60.0, rect.y - 40.0);
  dew_canvas_carry_end (canvas);
  g_assert_cmpuint (dew_document_variant (document)->things->len, ==, n + 1);
  g_assert_nonnull (dew_document_can_undo (document));

  dew_canvas_carry (canvas, DEW_THING_INSTRUMENT, rect.x + 60.0, rect.y - 60.0);
  g_assert_true (dew_canvas_cancel (canvas));
  g_assert_false (dew_canvas_cancel (canvas));
  g_assert_cmpuint (dew_document_variant (document)->things->len, ==, n + 1);
  dew_document_undo (document);
  g_assert_cmpuint (dew_document_variant (document)->things->len, ==, n);
}

static void
test_variants (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  guint n = dew_document_chamber (document)->variants->len;
  guint first = dew_document_chamber (document)->shown_variant;

  dew_document_copy_variant (document);
  g_assert_cmpuint (dew_document_chamber (document)->variants->len, ==, n + 1);
  g_assert_cmpuint (dew_document_chamber (document)->shown_variant, !=, first);
  dew_document_rename_variant (document, "C fan gone");
  g_assert_cmpstr (dew_document_variant (document)->name, ==, "C fan gone");
  dew_document_remove_variant (document);
  g_assert_cmpuint (dew_document_chamber (document)->variants->len, ==, n);
  dew_document_undo (document);
  g_assert_cmpstr (dew_document_variant (document)->name, ==, "C fan gone");
  dew_document_show_variant (document, first);
  g_assert_cmpuint (dew_document_chamber (document)->shown_variant, ==, first);
}

static void
test_bad_file (Fixture *fixture, gconstpointer data)
{
  g_autofree char *bad = g_build_filename (fixture->folder, "bad" DEW_STORE_SUFFIX, NULL);
  g_autofree char *content = NULL;

  g_assert_true (g_file_set_contents (bad, "no database at all", -1, NULL));
  g_assert_false (dew_window_open (fixture->window, bad));
  g_assert_cmpstr (dew_window_told (fixture->window), ==,
                   "“bad" DEW_STORE_SUFFIX "” cannot be opened");
  g_assert_cmpstr (dew_document_path (fixture->document), ==, fixture->path);
  g_assert_true (g_file_get_contents (bad, &content, NULL, NULL));
  g_assert_cmpstr (content, ==, "no database at all");
  g_unlink (bad);

  g_assert_false (dew_window_open (fixture->window, "/nowhere/at/all.dewtier"));
  g_assert_cmpstr (dew_window_told (fixture->window), ==, "“all.dewtier” cannot be opened");
  g_assert_cmpstr (dew_window_page (fixture->window), ==, "sheet");

  /* What was open can still be edited. */
  g_assert_cmpuint (dew_document_add (fixture->document, DEW_THING_POT), !=, 0);
}

/* The exchange form opens as a document of its own beside it. */
static void
test_json (Fixture *fixture, gconstpointer data)
{
  g_autofree char *json = g_build_filename (fixture->folder, "other.json", NULL);
  g_autofree char *taken_over = g_build_filename (fixture->folder, "other" DEW_STORE_SUFFIX, NULL);
  g_autoptr (DewChamber) demo = dew_chamber_demo ();
  g_autofree char *text = NULL;

  g_strlcpy (demo->name, "Other cabinet", sizeof demo->name);
  text = dew_json_from_chamber (demo);
  g_assert_true (g_file_set_contents (json, text, -1, NULL));
  g_assert_true (dew_window_open (fixture->window, json));
  g_assert_cmpstr (dew_document_path (fixture->document), ==, taken_over);
  g_assert_true (dew_chamber_equal (dew_document_chamber (fixture->document), demo));

  /* A second time the document is there already, and stays as it is. */
  g_assert_null (dew_window_told (fixture->window));
  g_assert_false (dew_window_open (fixture->window, json));
  g_assert_cmpstr (dew_window_told (fixture->window), ==, "“other.json” cannot be opened");
  g_assert_true (dew_document_flush (fixture->document, NULL));
  g_unlink (json);
  g_unlink (taken_over);
}

static void
move_out (DewDocument *document, guint fan)
{
  g_autoptr (DewEdit) edit = dew_document_edit_begin (document);

  dew_variant_thing (dew_edit_variant (edit), fan)->fan.x_m = 3.0;
  g_assert_true (dew_edit_commit (edit, "Move the fan out", NULL));
}

/* What cannot be forecast is said in words, and mends by itself. */
static void
test_obstacle (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  guint fan = find_thing (document, DEW_THING_FAN);
  guint where = 0;

  wait_for_forecast (document);
  move_out (document, fan);
  g_assert_nonnull (dew_document_obstacle (document, &where));
  g_assert_cmpuint (where, ==, fan);
  g_assert_true (g_str_has_prefix (dew_document_state (document), "cannot: "));
  /* The last forecast stays, and lags. */
  g_assert_nonnull (dew_document_forecast (document));
  g_assert_true (dew_document_lags (document));
  /* Nor may the answer to an older question come in afterwards. */
  dew_document_undo (document);
  move_out (document, fan);
  {
    g_autoptr (DewChamber) demo = dew_chamber_demo ();
    DewForecastOptions options;

    /* Takes as long as that answer. */
    dew_forecast_options_init (&options);
    options.grid = DEW_GRID_SETTLED;
    dew_forecast_unref (dew_forecast_new (demo, 0, &options, NULL, NULL));
    while (g_main_context_iteration (NULL, FALSE))
      ;
  }
  g_assert_true (dew_document_lags (document));
  g_assert_nonnull (dew_document_obstacle (document, NULL));
  gtk_test_widget_wait_for_draw (GTK_WIDGET (fixture->window));
  dew_document_undo (document);
  g_assert_null (dew_document_obstacle (document, NULL));
  wait_for_forecast (document);
}

/* While something is dragged the forecast follows; it settles afterwards. */
static void
test_follow (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  guint fan = find_thing (document, DEW_THING_FAN);
  g_autoptr (DewEdit) edit = NULL;
  DewForecast *before;

  wait_for_forecast (document);
  before = dew_forecast_ref (dew_document_forecast (document));
  edit = dew_document_edit_begin (document);
  for (int step = 0; step < 20; step++)
    {
      dew_variant_thing (dew_edit_variant (edit), fan)->fan.x_m += 0.01;
      dew_edit_follow (edit);
      g_assert_cmpstr (dew_document_state (document), ==, "following");
      for (int i = 0; i < 10; i++)
        g_main_context_iteration (NULL, FALSE);
    }
  g_assert_true (dew_edit_commit (edit, "Move fan", NULL));
  wait_for_forecast (document);
  g_assert_true (dew_document_forecast (document) != before);
  g_assert_cmpint (dew_document_forecast (document)->state, !=, DEW_FORECAST_FOLLOWING);
  dew_forecast_unref (before);
}

/* --- accessibility ----------------------------------------------------- */

static void
test_names (Fixture *fixture, gconstpointer data)
{
  static const char *const views[]
    = { "win.help", "win.keys", "win.cautions",       "win.tour",      "win.start",
        "win.new",  "win.back", "win.show-enclosure", "win.show-room", "win.show-bays" };
  guint n = 0;

  wait_for_forecast (fixture->document);
  for (guint i = 0; i < G_N_ELEMENTS (views); i++)
    {
      gtk_widget_activate_action (GTK_WIDGET (fixture->window), views[i], NULL);
      gtk_test_widget_wait_for_draw (GTK_WIDGET (fixture->window));
      g_assert_cmpuint (count_unnamed (GTK_WIDGET (fixture->window), &n), ==, 0);
    }
  for (DewThingKind kind = 0; kind < DEW_N_THING_KINDS; kind++)
    {
      if (kind == DEW_THING_MAT || kind == DEW_THING_SOURCE)
        dew_document_add (fixture->document, kind);
      dew_document_select (fixture->document, find_thing (fixture->document, kind));
      gtk_test_widget_wait_for_draw (GTK_WIDGET (fixture->window));
      g_assert_cmpuint (count_unnamed (GTK_WIDGET (fixture->window), &n), ==, 0);
    }
  g_assert_cmpuint (n, >, 400);
}

static void
test_item_says (Fixture *fixture, gconstpointer data)
{
  guint fan = find_thing (fixture->document, DEW_THING_FAN);
  GtkAccessible *item = GTK_ACCESSIBLE (item_of (fixture, fan));
  g_autofree char *before = NULL, *after = NULL;

  gtk_test_accessible_assert_role (item, GTK_ACCESSIBLE_ROLE_LIST_ITEM);
  gtk_test_accessible_assert_property (item, GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       thing (fixture->document, fan)->name);
  /* The description is what changes under the fingers. */
  before = gtk_test_accessible_check_property (item, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, "");
  gtk_widget_activate_action (GTK_WIDGET (item), "item.move-right", NULL);
  after = gtk_test_accessible_check_property (item, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, "");
  g_assert_nonnull (before);
  g_assert_cmpstr (before, !=, after);
}

int
main (int argc, char **argv)
{
  fixture_begin (&argc, &argv);
  FIXTURE_ADD ("/ui/edit", test_edit);
  FIXTURE_ADD ("/ui/pane-follows", test_tell_apart);
  FIXTURE_ADD ("/ui/keys", test_keys);
  FIXTURE_ADD ("/ui/reading-order", test_reading_order);
  FIXTURE_ADD ("/ui/add", test_add);
  FIXTURE_ADD ("/ui/carry", test_carry);
  FIXTURE_ADD ("/ui/variants", test_variants);
  FIXTURE_ADD ("/ui/bad-file", test_bad_file);
  FIXTURE_ADD ("/ui/json", test_json);
  FIXTURE_ADD ("/ui/obstacle", test_obstacle);
  FIXTURE_ADD ("/ui/follow", test_follow);
  FIXTURE_ADD ("/ui/names", test_names);
  FIXTURE_ADD ("/ui/item-says", test_item_says);
  return g_test_run ();
}
