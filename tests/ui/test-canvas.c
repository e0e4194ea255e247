/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Editing on the sheet in this process: several things at once, the clipboard, lining
 * up, every kind of thing by keys, and a closer look. What is right follows from the
 * document's own coordinates. */
#include "fixture.h"

#include "canvas/item.h"
#include "canvas/spot.h"
#include "canvas/words.h"
#include "say/findings.h"

#include <math.h>
#include <string.h>

static const DewThing *
named (Fixture *fixture, const char *name)
{
  const DewVariant *variant = dew_document_variant (fixture->document);

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (strcmp (thing->name, name) == 0)
        return thing;
    }
  g_error ("no %s", name);
}

static guint
count (Fixture *fixture)
{
  return dew_document_variant (fixture->document)->things->len;
}

static void
act (Fixture *fixture, const char *action)
{
  g_assert_true (gtk_widget_activate_action (fixture->canvas, action, NULL));
}

static void
box_of (Fixture *fixture, const char *name, double lo[3], double hi[3])
{
  dew_thing_box (dew_document_chamber (fixture->document), named (fixture, name), lo, hi);
}

/* --- the selection --------------------------------------------------------- */

static void
test_selection (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  guint one = named (fixture, "Clay pot 1")->id, two = named (fixture, "Clay pot 2")->id;
  const guint *ids;
  guint n;

  dew_document_select (document, one);
  dew_document_select_add (document, two);
  ids = dew_document_selection (document, &n);
  g_assert_cmpuint (n, ==, 2);
  g_assert_cmpuint (ids[0], ==, one);
  /* The numbers shown are those of the last. */
  g_assert_cmpuint (dew_document_selected (document), ==, two);
  g_assert_true (dew_document_is_selected (document, one));
  gtk_test_accessible_assert_state (item_of (fixture, one), GTK_ACCESSIBLE_STATE_SELECTED, TRUE);
  gtk_test_accessible_assert_state (item_of (fixture, two), GTK_ACCESSIBLE_STATE_SELECTED, TRUE);
  dew_document_select_add (document, one);
  g_assert_cmpuint (dew_document_selected (document), ==, one);
  dew_document_select_toggle (document, one);
  g_assert_cmpuint (dew_document_selected (document), ==, two);
  gtk_test_accessible_assert_state (item_of (fixture, one), GTK_ACCESSIBLE_STATE_SELECTED, FALSE);

  act (fixture, "canvas.select-all");
  dew_document_selection (document, &n);
  g_assert_cmpuint (n, ==, count (fixture));
  act (fixture, "canvas.select-none");
  g_assert_cmpuint (dew_document_selected (document), ==, 0);

  /* What is gone is no longer selected, the rest is. */
  dew_document_select (document, one);
  dew_document_select_add (document, two);
  dew_document_remove (document, two);
  ids = dew_document_selection (document, &n);
  g_assert_cmpuint (n, ==, 1);
  g_assert_cmpuint (ids[0], ==, one);
}

/* Several keep their places to each other, and stop together at the wall. */
static void
test_move_several (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  double x1_m = named (fixture, "Clay pot 1")->pot.x_m;
  double x2_m = named (fixture, "Clay pot 2")->pot.x_m;
  GtkWidget *item = item_of (fixture, named (fixture, "Clay pot 1")->id);

  dew_document_select (document, named (fixture, "Clay pot 2")->id);
  dew_document_select_add (document, named (fixture, "Clay pot 1")->id);
  gtk_widget_activate_action (item, "item.move-right", NULL);
  gtk_widget_activate_action (item, "item.move-right", NULL);
  g_assert_cmpfloat_with_epsilon (named (fixture, "Clay pot 1")->pot.x_m, x1_m + 0.02, 1e-9);
  g_assert_cmpfloat_with_epsilon (named (fixture, "Clay pot 2")->pot.x_m, x2_m + 0.02, 1e-9);
  g_assert_cmpstr (dew_document_can_undo (document), ==, "Move 2 things");
  dew_document_undo (document);
  g_assert_cmpfloat_with_epsilon (named (fixture, "Clay pot 2")->pot.x_m, x2_m, 1e-9);
  g_assert_null (dew_document_can_undo (document));

  for (int i = 0; i < 60; i++)
    gtk_widget_activate_action (item, "item.move-left", NULL);
  g_assert_cmpfloat_with_epsilon (named (fixture, "Clay pot 1")->pot.x_m,
                                  named (fixture, "Clay pot 1")->pot.rim_diameter_m / 2.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (named (fixture, "Clay pot 2")->pot.x_m
                                    - named (fixture, "Clay pot 1")->pot.x_m,
                                  x2_m - x1_m, 1e-9);
}

/* --- the clipboard ------------------------------------------------------------ */

static void
test_clipboard (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  GdkClipboard *clipboard = gtk_widget_get_clipboard (fixture->canvas);
  guint n = count (fixture), n_selected;

  dew_document_select (document, named (fixture, "Clay pot 1")->id);
  dew_document_select_add (document, named (fixture, "Slow fan")->id);
  act (fixture, "canvas.copy");
  g_assert_cmpuint (count (fixture), ==, n);
  act (fixture, "canvas.paste");
  WAIT_UNTIL (count (fixture) == n + 2);
  g_assert_cmpstr (dew_document_can_undo (document), ==, "Paste 2 things");
  dew_document_selection (document, &n_selected);
  g_assert_cmpuint (n_selected, ==, 2);
  /* Everything still fits, so there is a forecast. */
  g_assert_null (dew_document_obstacle (document, NULL));

  act (fixture, "canvas.cut");
  g_assert_cmpuint (count (fixture), ==, n);
  dew_document_undo (document);
  dew_document_undo (document);
  g_assert_cmpuint (count (fixture), ==, n);
  g_assert_null (dew_document_can_undo (document));

  /* Nonsense is refused with its reason, and nothing is lost. */
  gdk_clipboard_set_text (clipboard, "milk, eggs, sphagnum");
  act (fixture, "canvas.paste");
  WAIT_UNTIL (fixture->trouble != NULL);
  g_assert_cmpuint (count (fixture), ==, n);
  g_assert_null (dew_document_can_undo (document));

  /* With nothing selected there is nothing to copy, and what was copied stays. */
  dew_document_select (document, 0);
  gtk_widget_activate_action (fixture->canvas, "canvas.copy", NULL);
  gtk_widget_activate_action (fixture->canvas, "canvas.cut", NULL);
  g_assert_cmpuint (count (fixture), ==, n);
  g_clear_pointer (&fixture->trouble, g_free);
  act (fixture, "canvas.paste");
  WAIT_UNTIL (fixture->trouble != NULL);
}

static void
test_duplicate (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  guint n = count (fixture), pot = named (fixture, "Clay pot 3")->id;

  dew_document_select (document, pot);
  act (fixture, "canvas.duplicate");
  g_assert_cmpuint (count (fixture), ==, n + 1);
  g_assert_cmpuint (dew_document_selected (document), !=, pot);
  g_assert_null (dew_document_obstacle (document, NULL));
  act (fixture, "canvas.delete");
  g_assert_cmpuint (count (fixture), ==, n);
}

/* --- lining up ------------------------------------------------------------------- */

static void
test_arrange (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  double lo1[3], hi1[3], lo2[3], hi2[3], lo3[3], hi3[3];

  dew_document_select (document, named (fixture, "Clay pot 1")->id);
  gtk_widget_activate_action (fixture->canvas, "canvas.align-front", NULL);
  g_assert_null (dew_document_can_undo (document)); /* one alone cannot be lined up */
  dew_document_select_add (document, named (fixture, "Clay pot 2")->id);
  dew_document_select_add (document, named (fixture, "Clay pot 3")->id);
  act (fixture, "canvas.align-front");
  box_of (fixture, "Clay pot 1", lo1, hi1);
  box_of (fixture, "Clay pot 2", lo2, hi2);
  box_of (fixture, "Clay pot 3", lo3, hi3);
  g_assert_cmpfloat_with_epsilon (lo1[1], lo2[1], 1e-9);
  g_assert_cmpfloat_with_epsilon (lo1[1], lo3[1], 1e-9);
  g_assert_cmpstr (dew_document_can_undo (document), ==, "Line up");
  act (fixture, "canvas.distribute-across");
  box_of (fixture, "Clay pot 1", lo1, hi1);
  box_of (fixture, "Clay pot 2", lo2, hi2);
  box_of (fixture, "Clay pot 3", lo3, hi3);
  g_assert_cmpfloat_with_epsilon (lo2[0] - hi1[0], lo3[0] - hi2[0], 1e-9);
}

/* --- every kind -------------------------------------------------------------------- */

static gboolean
all_inside (Fixture *fixture)
{
  const DewChamber *chamber = dew_document_chamber (fixture->document);
  const DewVariant *variant = dew_document_variant (fixture->document);
  double inner_m[3];

  dew_chamber_inner_m (chamber, inner_m);
  for (guint i = 0; i < variant->things->len; i++)
    {
      double lo[3], hi[3];

      dew_thing_box (chamber, &g_array_index (variant->things, DewThing, i), lo, hi);
      for (int axis = 0; axis < 3; axis++)
        {
          if (lo[axis] < -1e-6 || hi[axis] > inner_m[axis] + 1e-6)
            return FALSE;
        }
    }
  return TRUE;
}

/* Each kind is added, copied, moved every way until it stops, and removed again, by
 * the actions that keys and assistive tools use. Nothing leaves the enclosure. */
static void
test_every_kind (Fixture *fixture, gconstpointer data)
{
  static const char *const ways[] = { "item.move-left", "item.move-right", "item.move-forward",
                                      "item.move-back", "item.move-up",    "item.move-down" };
  DewDocument *document = fixture->document;
  guint n = count (fixture);

  for (int kind = 0; kind < DEW_N_THING_KINDS; kind++)
    {
      guint id = dew_document_add (document, kind);

      g_assert_cmpuint (count (fixture), ==, n + 1);
      g_assert_true (all_inside (fixture));
      for (guint way = 0; way < G_N_ELEMENTS (ways); way++)
        {
          for (int i = 0; i < 80; i++)
            gtk_widget_activate_action (item_of (fixture, id), ways[way], NULL);
          g_assert_true (all_inside (fixture));
        }
      act (fixture, "canvas.duplicate");
      /* A shelf may find no second place; that is said. */
      if (count (fixture) == n + 1)
        g_assert_nonnull (fixture->trouble);
      else
        act (fixture, "canvas.delete");
      dew_document_select (document, id);
      act (fixture, "canvas.delete");
      g_assert_cmpuint (count (fixture), ==, n);
    }
}

/* A thing that is being carried in goes when something else is done meanwhile, and the
 * pointer holds nothing any more. */
static void
test_carried_away (Fixture *fixture, gconstpointer data)
{
  DewCanvas *canvas = DEW_CANVAS (fixture->canvas);
  guint n = count (fixture);
  DewRect rect;

  g_assert_true (
    dew_canvas_thing_rect (canvas, named (fixture, "Slow fan")->id, DEW_VIEW_FRONT, &rect));
  for (int way = 0; way < 2; way++)
    {
      dew_canvas_carry (canvas, DEW_THING_POT, rect.x, rect.y);
      g_assert_cmpuint (count (fixture), ==, n + 1);
      if (way == 0)
        dew_document_undo (fixture->document);
      else
        dew_document_set_month (fixture->document, 6);
      g_assert_cmpuint (count (fixture), ==, n);
      g_assert_false (dew_canvas_cancel (canvas));
      dew_canvas_carry_end (canvas);
      g_assert_cmpuint (count (fixture), ==, n);
    }
  dew_document_undo (fixture->document);
  g_assert_null (dew_document_can_undo (fixture->document));
}

/* A window that is closed takes drawing and document with it. */
static void
test_closed (Fixture *fixture, gconstpointer data)
{
  DewWindow *window = DEW_WINDOW (dew_window_new (NULL));
  gpointer document = dew_window_document (window), canvas = dew_window_canvas (window);
  g_autofree char *path = g_build_filename (fixture->folder, "other" DEW_STORE_SUFFIX, NULL);
  g_autoptr (DewChamber) demo = dew_chamber_demo ();

  g_object_add_weak_pointer (document, &document);
  g_object_add_weak_pointer (canvas, &canvas);
  g_assert_true (dew_store_create (path, demo, FALSE, NULL));
  g_assert_true (dew_window_open (window, path));
  g_assert_nonnull (dew_document_chamber (document));
  gtk_window_present (GTK_WINDOW (window));
  gtk_test_widget_wait_for_draw (GTK_WIDGET (window));
  dew_document_select (document, named (fixture, "Slow fan")->id);
  dew_canvas_focus_thing (canvas, dew_document_selected (document));
  gtk_test_widget_wait_for_draw (GTK_WIDGET (window));
  gtk_window_destroy (GTK_WINDOW (window));
  WAIT_UNTIL (document == NULL && canvas == NULL);
}

/* How far open or how fast, by day and by night, between none and all. */
static void
test_amounts (Fixture *fixture, gconstpointer data)
{
  GtkWidget *flap = item_of (fixture, named (fixture, "Low flap")->id);
  GtkWidget *fan = item_of (fixture, named (fixture, "Slow fan")->id);
  double by_night = named (fixture, "Slow fan")->fan.speed_night;

  for (int i = 0; i < 20; i++)
    gtk_widget_activate_action (flap, "item.less", NULL);
  g_assert_cmpfloat (named (fixture, "Low flap")->opening.open_fraction, ==, 0.0);
  gtk_widget_activate_action (flap, "item.more", NULL);
  g_assert_cmpfloat_with_epsilon (named (fixture, "Low flap")->opening.open_fraction, 0.1, 1e-9);
  for (int i = 0; i < 20; i++)
    gtk_widget_activate_action (fan, "item.more", NULL);
  g_assert_cmpfloat_with_epsilon (named (fixture, "Slow fan")->fan.speed_day, 1.0, 1e-9);
  g_assert_cmpfloat (named (fixture, "Slow fan")->fan.speed_night, ==, by_night);
}

/* --- words and a closer look ------------------------------------------------------------ */

/* Bays and findings can be reached and say what they say on the sheet. */
static void
test_spots (Fixture *fixture, gconstpointer data)
{
  const DewForecast *forecast;
  int bays = 0, findings = 0;

  wait_for_forecast (fixture->document);
  forecast = dew_document_forecast (fixture->document);
  for (GtkWidget *child = gtk_widget_get_first_child (fixture->canvas); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      if (!DEW_IS_SPOT (child))
        continue;
      g_assert_true (gtk_widget_get_focusable (child));
      if (dew_spot_part (DEW_SPOT (child)) == DEW_PART_BAY)
        {
          g_autofree char *words
            = dew_words_bay (fixture->document, dew_spot_index (DEW_SPOT (child)));
          g_autofree char *rh
            = dew_climate_text (&forecast->bays[dew_spot_index (DEW_SPOT (child))].mean,
                                DEW_VALUE_RH, DEW_TONGUE_METRIC);

          g_assert_nonnull (strstr (words, rh));
          bays++;
        }
      else
        {
          g_autofree char *name
            = dew_words_finding_name (fixture->document, dew_spot_index (DEW_SPOT (child)));

          g_autofree char *title
            = dew_finding_title (forecast, &forecast->findings[dew_spot_index (DEW_SPOT (child))]);

          g_assert_nonnull (strstr (name, title));
          findings++;
        }
    }
  g_assert_cmpint (bays, ==, forecast->n_bays);
  g_assert_cmpint (findings, ==, forecast->n_findings);
}

static void
test_zoom (Fixture *fixture, gconstpointer data)
{
  guint fan = named (fixture, "Slow fan")->id;
  DewCanvas *canvas = DEW_CANVAS (fixture->canvas);
  DewRect before, after;

  g_assert_true (dew_canvas_thing_rect (canvas, fan, DEW_VIEW_FRONT, &before));
  act (fixture, "canvas.zoom-in");
  gtk_test_widget_wait_for_draw (fixture->canvas);
  g_assert_true (dew_canvas_thing_rect (canvas, fan, DEW_VIEW_FRONT, &after));
  g_assert_cmpfloat_with_epsilon (after.width / before.width, 1.25, 0.01);
  /* Never larger than life: 96 px to the inch. */
  for (int i = 0; i < 40; i++)
    act (fixture, "canvas.zoom-in");
  gtk_test_widget_wait_for_draw (fixture->canvas);
  g_assert_true (dew_canvas_thing_rect (canvas, fan, DEW_VIEW_FRONT, &after));
  g_assert_cmpfloat_with_epsilon (after.width,
                                  named (fixture, "Slow fan")->fan.diameter_m * 96.0 / 0.0254, 2.0);
  act (fixture, "canvas.zoom-fit");
  gtk_test_widget_wait_for_draw (fixture->canvas);
  g_assert_true (dew_canvas_thing_rect (canvas, fan, DEW_VIEW_FRONT, &after));
  g_assert_cmpfloat_with_epsilon (after.x, before.x, 1e-9);
  g_assert_cmpfloat_with_epsilon (after.width, before.width, 1e-9);
}

int
main (int argc, char **argv)
{
  fixture_begin (&argc, &argv);

  FIXTURE_ADD ("/canvas/selection", test_selection);
  FIXTURE_ADD ("/canvas/move-several", test_move_several);
  FIXTURE_ADD ("/canvas/clipboard", test_clipboard);
  FIXTURE_ADD ("/canvas/duplicate", test_duplicate);
  FIXTURE_ADD ("/canvas/arrange", test_arrange);
  FIXTURE_ADD ("/canvas/every-kind", test_every_kind);
  FIXTURE_ADD ("/canvas/carried-away", test_carried_away);
  FIXTURE_ADD ("/canvas/closed", test_closed);
  FIXTURE_ADD ("/canvas/amounts", test_amounts);
  FIXTURE_ADD ("/canvas/spots", test_spots);
  FIXTURE_ADD ("/canvas/zoom", test_zoom);
  return g_test_run ();
}
