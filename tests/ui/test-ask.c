/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Asking for advice in the window, inside one process. The enclosures are small, so
 * that the searches are short; what they find is tested with the advice itself. */
#include "fixture.h"

#include "document/edit.h"
#include "panes/editor.h"
#include "questions/ask.h"
#include "questions/wishes.h"
#include "widgets/fold.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

static DewThing *
add (DewChamber *chamber, DewThingKind kind, double x_m, double y_m, double z_m)
{
  DewThing thing;

  dew_thing_init (&thing, kind);
  switch (kind)
    {
    case DEW_THING_SHELF:
      thing.shelf.z_m = z_m;
      break;
    case DEW_THING_OPENING:
      break;
    default:
      for (const DewField *field = dew_thing_fields (kind); field->key != NULL; field++)
        {
          if (strcmp (field->key, "x_m") == 0)
            dew_field_set_real (field, &thing, x_m);
          if (strcmp (field->key, "y_m") == 0)
            dew_field_set_real (field, &thing, y_m);
          if (strcmp (field->key, "z_m") == 0)
            dew_field_set_real (field, &thing, z_m);
        }
    }
  return dew_variant_add (chamber, dew_chamber_shown (chamber), &thing);
}

/* A case of 40 x 30 x 60 cm with one shelf, a small fan, a wet pot and an open
 * flap; invented. */
static DewChamber *
small_chamber (void)
{
  DewChamber *chamber = dew_chamber_new ();
  DewThing *thing;

  chamber->outer_m[0] = 0.4;
  chamber->outer_m[1] = 0.3;
  chamber->outer_m[2] = 0.6;
  add (chamber, DEW_THING_SHELF, 0.0, 0.0, 0.3);
  thing = add (chamber, DEW_THING_FAN, 0.06, 0.15, 0.1);
  thing->fan.diameter_m = 0.06;
  thing->fan.free_delivery_m3_s = 0.006;
  add (chamber, DEW_THING_POT, 0.3, 0.15, 0.0);
  thing = add (chamber, DEW_THING_OPENING, 0.0, 0.0, 0.0);
  thing->opening.face = DEW_FACE_FRONT;
  thing->opening.u0_m = 0.1;
  thing->opening.u1_m = 0.3;
  thing->opening.v0_m = 0.02;
  thing->opening.v1_m = 0.06;
  thing->opening.open_fraction = 1.0;
  return chamber;
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DewChamber) chamber = small_chamber ();

  fixture_open (fixture, chamber);
}

static DewAsk *
ask (Fixture *fixture, const char *action)
{
  gtk_widget_activate_action (GTK_WIDGET (fixture->window), action, NULL);
  return dew_ask_of (dew_pane_child (dew_window_pane (fixture->window)));
}

static void
wait_for_answer (DewAsk *asked)
{
  WAIT_UNTIL (!dew_ask_running (asked));
}

static GtkWidget *
first_row (DewAsk *asked)
{
  GtkWidget *row = find_type (dew_ask_body (asked), GTK_TYPE_LIST_BOX_ROW);

  g_assert_nonnull (row);
  return row;
}

static void
unfold (GtkWidget *widget)
{
  if (DEW_IS_FOLD (widget))
    dew_fold_set_open (DEW_FOLD (widget), TRUE);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    unfold (child);
}

static GtkWidget *
pane_of (Fixture *fixture)
{
  return dew_pane_child (dew_window_pane (fixture->window));
}

static void
wait_for_look (DewDocument *document, gboolean looking)
{
  WAIT_UNTIL (dew_document_peeking (document) == looking);
}

/* An answer that has the keyboard is on the sheet, and gone again without it; Enter
 * takes it as one step, and undo takes that back. */
static void
check_answer (Fixture *fixture, DewAsk *asked, const char *step)
{
  DewDocument *document = fixture->document;
  g_autoptr (DewChamber) before = dew_chamber_copy (dew_document_chamber (document));
  GtkWidget *row = first_row (asked);

  g_assert_true (gtk_widget_grab_focus (row));
  wait_for_look (document, TRUE);
  g_assert_false (dew_chamber_equal (dew_document_chamber (document), before));
  g_assert_true (gtk_widget_grab_focus (find_type (pane_of (fixture), GTK_TYPE_BUTTON)));
  wait_for_look (document, FALSE);
  g_assert_true (dew_chamber_equal (dew_document_chamber (document), before));
  wait_for_forecast (document);
  g_assert_null (dew_document_can_undo (document));

  g_assert_true (gtk_widget_grab_focus (row));
  wait_for_look (document, TRUE);
  gtk_widget_activate (row);
  g_assert_false (dew_document_peeking (document));
  g_assert_false (dew_chamber_equal (dew_document_chamber (document), before));
  g_assert_cmpstr (dew_document_can_undo (document), ==, step);
  /* It is the answer to what was asked: nothing is asked anew. */
  g_assert_false (dew_ask_running (asked));
  g_assert_true (says (pane_of (fixture), "Taken."));

  dew_document_undo (document);
  g_assert_true (dew_chamber_equal (dew_document_chamber (document), before));
  g_assert_null (dew_document_can_undo (document));
  g_assert_false (dew_ask_running (asked));
  g_assert_false (says (pane_of (fixture), "Taken."));
}

/* --- looking at another layout -------------------------------------------------- */

static void
test_peek (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  g_autoptr (DewChamber) before = dew_chamber_copy (dew_document_chamber (document));
  g_autoptr (DewForecast) other_forecast = NULL;
  DewForecastOptions options;
  DewChamber *other;
  DewForecast *own;

  wait_for_forecast (document);
  own = dew_document_forecast (document);
  other = dew_chamber_copy (before);
  for (guint i = 0; i < dew_chamber_shown (other)->things->len; i++)
    {
      DewThing *thing = &g_array_index (dew_chamber_shown (other)->things, DewThing, i);

      if (thing->kind == DEW_THING_FAN)
        thing->fan.x_m = 0.3;
    }
  dew_forecast_options_init (&options);
  other_forecast = dew_forecast_new (other, 0, &options, NULL, NULL);
  g_assert_nonnull (other_forecast);

  dew_document_peek (document, dew_chamber_copy (other), other_forecast);
  g_assert_true (dew_document_peeking (document));
  g_assert_true (dew_chamber_equal (dew_document_chamber (document), other));
  g_assert_true (dew_document_forecast (document) == other_forecast);
  g_assert_null (dew_document_can_undo (document));
  dew_document_peek_end (document);
  g_assert_true (dew_chamber_equal (dew_document_chamber (document), before));
  g_assert_true (dew_document_forecast (document) == own);

  /* The bands of the document's own forecast may arrive meanwhile. */
  dew_document_set_night (document, TRUE);
  dew_document_peek (document, dew_chamber_copy (other), other_forecast);
  /* Takes as long as the document's own. */
  options.night = TRUE;
  dew_forecast_unref (dew_forecast_new (before, 0, &options, NULL, NULL));
  while (g_main_context_iteration (NULL, FALSE))
    ;
  g_assert_true (dew_document_forecast (document) == other_forecast);
  dew_document_peek_end (document);
  wait_for_forecast (document);
  g_assert_true (dew_document_forecast (document) != other_forecast);
  g_assert_true (dew_document_forecast (document)->night);

  /* Undo, night and commit in the middle of a look. */
  dew_document_peek (document, dew_chamber_copy (other), other_forecast);
  dew_document_set_night (document, FALSE);
  g_assert_false (dew_document_peeking (document));
  g_assert_true (dew_chamber_equal (dew_document_chamber (document), before));
  dew_document_peek (document, dew_chamber_copy (other), other_forecast);
  g_assert_true (dew_document_peek_take (document, "Take it"));
  g_assert_false (dew_document_peeking (document));
  g_assert_true (dew_chamber_equal (dew_document_chamber (document), other));
  dew_document_peek (document, dew_chamber_copy (before), NULL);
  dew_document_undo (document);
  g_assert_false (dew_document_peeking (document));
  g_assert_true (dew_chamber_equal (dew_document_chamber (document), before));
  wait_for_forecast (document);
  dew_chamber_free (other);
}

/* Without a forecast of its own the sheet follows to it, and back. */
static void
test_peek_follows (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  g_autoptr (DewChamber) before = dew_chamber_copy (dew_document_chamber (document));
  DewChamber *other = dew_chamber_copy (before);
  double was_m_s, now_m_s;

  wait_for_forecast (document);
  was_m_s = dew_document_forecast (document)->all.speed_m_s;
  for (guint i = 0; i < dew_chamber_shown (other)->things->len; i++)
    {
      DewThing *thing = &g_array_index (dew_chamber_shown (other)->things, DewThing, i);

      if (thing->kind == DEW_THING_FAN)
        thing->fan.speed_day = 0.1;
    }
  dew_document_peek (document, other, NULL);
  WAIT_UNTIL (dew_document_forecast (document)->all.speed_m_s < 0.7 * was_m_s);
  dew_document_peek_end (document);
  g_assert_true (dew_chamber_equal (dew_document_chamber (document), before));
  wait_for_forecast (document);
  now_m_s = dew_document_forecast (document)->all.speed_m_s;
  g_assert_cmpfloat (fabs (now_m_s - was_m_s), <, 0.05 * was_m_s);
}

/* --- the questions ------------------------------------------------------------------ */

static void
test_fan (Fixture *fixture, gconstpointer data)
{
  DewAsk *asked;

  wait_for_forecast (fixture->document);
  asked = ask (fixture, "win.ask-fan");
  g_assert_true (dew_ask_running (asked));
  wait_for_answer (asked);
  g_assert_nonnull (dew_ask_result (asked));
  g_assert_nonnull (dew_document_merit (fixture->document));
  check_answer (fixture, asked, "Move fan as advised");

  /* Away and back: the answer is still there, the map comes and goes with it. */
  fixture_act (fixture, "win.show-bays");
  g_assert_null (dew_document_merit (fixture->document));
  g_assert_true (ask (fixture, "win.ask-fan") == asked);
  g_assert_false (dew_ask_running (asked));
  g_assert_nonnull (dew_ask_result (asked));

  /* Another layout is another question. */
  dew_document_add (fixture->document, DEW_THING_POT);
  dew_document_select (fixture->document, 0);
  g_assert_true (ask (fixture, "win.ask-fan") == asked);
  g_assert_true (dew_ask_running (asked));
}

static void
test_no_fan (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  DewAsk *asked;

  dew_document_remove (document, first_thing (document, DEW_THING_FAN)->id);
  wait_for_forecast (document);
  asked = ask (fixture, "win.ask-fan");
  wait_for_answer (asked);
  gtk_widget_activate (first_row (asked));
  g_assert_cmpuint (count_things (document, DEW_THING_FAN), ==, 1);
  dew_document_undo (document);
  g_assert_cmpuint (count_things (document, DEW_THING_FAN), ==, 0);
}

static void
press_stop (Fixture *fixture)
{
  GtkWidget *stop = find_button (pane_of (fixture), "Stop");

  g_assert_nonnull (stop);
  g_signal_emit_by_name (stop, "clicked");
}

/* The search for what is asked now is under way. */
static gboolean
has_begun (Fixture *fixture)
{
  GtkWidget *bar = find_type (pane_of (fixture), GTK_TYPE_PROGRESS_BAR);

  return bar != NULL && gtk_progress_bar_get_fraction (GTK_PROGRESS_BAR (bar)) > 0.0;
}

static void
test_stop (Fixture *fixture, gconstpointer data)
{
  DewAsk *asked;

  wait_for_forecast (fixture->document);
  asked = ask (fixture, "win.ask-fan");
  g_assert_true (dew_ask_running (asked));
  press_stop (fixture);
  g_assert_false (dew_ask_running (asked));
  g_assert_null (dew_ask_result (asked));
  g_assert_true (says (pane_of (fixture), "Stopped"));
  g_assert_true (says (pane_of (fixture), "Ask again"));
  /* Nor does it begin again by itself, where nothing is changed. */
  g_signal_emit_by_name (fixture->document, "changed");
  g_assert_false (dew_ask_running (asked));
}

static void
test_obstacle (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  g_autoptr (DewEdit) edit = NULL;
  DewAsk *asked;

  wait_for_forecast (document);
  edit = dew_document_edit_begin (document);
  dew_variant_thing (dew_edit_variant (edit), first_thing (document, DEW_THING_FAN)->id)->fan.x_m
    = 3.0;
  dew_edit_commit (edit, "Move the fan out", NULL);
  asked = ask (fixture, "win.ask-cut");
  g_assert_false (dew_ask_running (asked));
  g_assert_true (says (pane_of (fixture), "no forecast"));
  dew_document_undo (document);
  WAIT_UNTIL (has_begun (fixture));
  g_assert_true (dew_ask_running (asked));
  fixture_act (fixture, "win.show-bays");
  g_assert_false (dew_ask_running (asked));
}

static void
test_moisture (Fixture *fixture, gconstpointer data)
{
  DewAsk *asked;

  wait_for_forecast (fixture->document);
  asked = ask (fixture, "win.ask-moisture");
  wait_for_answer (asked);
  g_assert_nonnull (dew_ask_result (asked));
  check_answer (fixture, asked, "Set pots and humidifier as advised");
}

static void
test_cut (Fixture *fixture, gconstpointer data)
{
  DewAsk *asked;
  GtkWidget *row;

  wait_for_forecast (fixture->document);
  asked = ask (fixture, "win.ask-cut");
  wait_for_answer (asked);
  g_assert_nonnull (dew_ask_result (asked));
  row = first_row (asked);
  /* As it is drawn is one of the ways, and taking that changes nothing. */
  g_assert_true (says (pane_of (fixture), "As it is drawn"));
  while (row != NULL && says (row, "As it is drawn"))
    row = gtk_widget_get_next_sibling (row);
  g_assert_nonnull (row);
  gtk_widget_activate (row);
  g_assert_cmpstr (dew_document_can_undo (fixture->document), ==, "Open as advised");
  dew_document_undo (fixture->document);
}

/* No plant, no wish: it says what to do. One wish: it is placed. */
static void
test_plants (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  const DewCatalogue *plants = dew_catalogue ("plants");
  DewAsk *asked;
  guint wish;

  wait_for_forecast (document);
  asked = ask (fixture, "win.ask-plants");
  g_assert_false (dew_ask_running (asked));
  g_assert_true (says (pane_of (fixture), "There is no plant to place yet."));

  wish = dew_ask_wish_for (document, dew_catalogue_text (plants, 0, "name"));
  g_assert_cmpuint (wish, !=, 0);
  g_assert_cmpuint (dew_document_chamber (document)->wishes->len, ==, 1);
  g_assert_true (dew_ask_running (asked));
  wait_for_answer (asked);
  g_assert_nonnull (dew_ask_result (asked));
  g_assert_true (says (pane_of (fixture), dew_catalogue_text (plants, 0, "name")));
  dew_document_undo (document);
  g_assert_cmpuint (dew_document_chamber (document)->wishes->len, ==, 0);
  wait_for_answer (asked);
  g_assert_true (says (pane_of (fixture), "There is no plant to place yet."));
}

static GtkWidget *
find_popover (GtkWidget *widget)
{
  GtkWidget *button = find_type (widget, GTK_TYPE_MENU_BUTTON);

  g_assert_nonnull (button);
  return GTK_WIDGET (gtk_menu_button_get_popover (GTK_MENU_BUTTON (button)));
}

/* A name that the catalogue does not know is told, as often as one looks for one. */
static void
test_unknown_plant (Fixture *fixture, gconstpointer data)
{
  DewAsk *asked = ask (fixture, "win.ask-plants");
  GtkWidget *popover = find_popover (dew_ask_head (asked));

  for (int time = 0; time < 2; time++)
    {
      gtk_popover_popup (GTK_POPOVER (popover));
      gtk_editable_set_text (GTK_EDITABLE (find_type (popover, GTK_TYPE_SEARCH_ENTRY)), "qqq");
      g_signal_emit_by_name (find_type (popover, GTK_TYPE_SEARCH_ENTRY), "search-changed");
      g_assert_true (says (popover, "The catalogue knows no plant of that name."));
      gtk_popover_popdown (GTK_POPOVER (popover));
    }
}

/* A plant that fits is put on the sheet, and comes off the list. */
static void
test_plants_take (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  g_autoptr (DewEdit) edit = NULL;
  DewPlantKind kind;
  DewWish wish;
  DewAsk *asked;

  /* One of the grower's own that takes whatever it is given. */
  dew_plant_kind_init (&kind);
  dew_name_set (kind.name, "Easy one");
  kind.t_day_min_C = kind.t_night_min_C = 0.0;
  kind.t_day_max_C = kind.t_night_max_C = 45.0;
  kind.rh_min = 0.1;
  kind.rh_max = 1.0;
  kind.speed_lo_m_s = 0.0;
  kind.speed_hi_m_s = 5.0;
  kind.ppfd_lo_mol_m2s = 0.0;
  kind.width_m = kind.height_m = 0.06;
  kind.crown = DEW_CROWN_WELCOME;
  edit = dew_document_edit_begin (document);
  dew_chamber_add_kind (dew_edit_chamber (edit), &kind);
  dew_wish_init (&wish);
  dew_name_set (wish.name, "Easy one");
  dew_name_set (wish.species, "Easy one");
  wish.pot_diameter_m = 0.06;
  dew_chamber_add_wish (dew_edit_chamber (edit), &wish);
  dew_edit_commit (edit, "Wish", NULL);

  wait_for_forecast (document);
  asked = ask (fixture, "win.ask-plants");
  wait_for_answer (asked);
  gtk_widget_activate (first_row (asked));
  g_assert_cmpstr (dew_document_can_undo (document), ==, "Stand plants as advised");
  g_assert_cmpuint (count_things (document, DEW_THING_PLANT), ==, 1);
  g_assert_cmpuint (dew_document_chamber (document)->wishes->len, ==, 0);
  dew_document_undo (document);
  g_assert_cmpuint (count_things (document, DEW_THING_PLANT), ==, 0);
  g_assert_cmpuint (dew_document_chamber (document)->wishes->len, ==, 1);
}

/* The entry of the first form inside `widget` that has this field. */
static GtkWidget *
entry_of (GtkWidget *widget, const char *key)
{
  GtkWidget *found
    = gtk_widget_has_css_class (widget, "form") ? dew_form_widget (widget, key) : NULL;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = entry_of (child, key);
  return found;
}

/* The leaf of an own kind goes with the group that is typed, until one is chosen. */
static void
test_leaf_of_group (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DewEdit) edit = dew_document_edit_begin (fixture->document);
  DewPlantKind kind;
  GtkWidget *pane;

  dew_plant_kind_init (&kind);
  dew_name_set (kind.name, "Moon lily");
  dew_chamber_add_kind (dew_edit_chamber (edit), &kind);
  dew_edit_commit (edit, "Add", NULL);
  ask (fixture, "win.ask-plants");
  pane = pane_of (fixture);
  gtk_editable_set_text (GTK_EDITABLE (entry_of (pane, "group")), "orchid cool");
  g_assert_cmpint (dew_chamber_kind (dew_document_chamber (fixture->document), "Moon lily")->leaf,
                   ==, DEW_LEAF_THIN_ORCHID);
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (entry_of (pane, "leaf"))), ==,
                    DEW_LEAF_THIN_ORCHID);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (entry_of (pane, "leaf")), DEW_LEAF_CAM_ORCHID);
  g_assert_cmpint (dew_chamber_kind (dew_document_chamber (fixture->document), "Moon lily")->leaf,
                   ==, DEW_LEAF_CAM_ORCHID);
}

/* --- what is only looked at, and what is about something else ------------------- */

static GtkWidget *
looked_at (Fixture *fixture, DewAsk *asked)
{
  GtkWidget *row = first_row (asked);

  g_assert_true (gtk_widget_grab_focus (row));
  wait_for_look (fixture->document, TRUE);
  return row;
}

/* A step that is taken in the middle of a look is that step alone. */
static void
test_edit_in_look (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  double fan_x_m = first_thing (document, DEW_THING_FAN)->fan.x_m;
  DewChamber *other;

  wait_for_forecast (document);
  for (int edit = 0; edit < 3; edit++)
    {
      other = dew_chamber_copy (dew_document_chamber (document));
      for (guint i = 0; i < dew_chamber_shown (other)->things->len; i++)
        {
          DewThing *thing = &g_array_index (dew_chamber_shown (other)->things, DewThing, i);

          if (thing->kind == DEW_THING_FAN)
            thing->fan.x_m = 0.3;
        }
      dew_document_peek (document, other, dew_document_forecast (document));
      g_assert_true (dew_document_peeking (document));
      if (edit == 0)
        dew_document_add (document, DEW_THING_POT);
      else if (edit == 1)
        dew_document_rename_variant (document, "Another name");
      else
        dew_document_copy_variant (document);
      g_assert_false (dew_document_peeking (document));
      g_assert_cmpfloat_with_epsilon (first_thing (document, DEW_THING_FAN)->fan.x_m, fan_x_m,
                                      1e-9);
    }
  g_assert_cmpuint (count_things (document, DEW_THING_POT), ==, 2);
  g_assert_cmpuint (dew_document_chamber (document)->variants->len, ==, 2);
}

/* An answer to an earlier question stays in sight while the new one is worked on, but is
 * neither looked at nor taken; and it goes when the new one is stopped. */
static void
test_old_answer (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  g_autoptr (DewEdit) edit = NULL;
  DewAsk *asked;

  wait_for_forecast (document);
  asked = ask (fixture, "win.ask-fan");
  wait_for_answer (asked);
  edit = dew_document_edit_begin (document);
  dew_variant_thing (dew_edit_variant (edit), first_thing (document, DEW_THING_POT)->id)->pot.x_m
    = 0.2;
  dew_edit_commit (edit, "Move the pot", NULL);
  g_assert_true (dew_ask_running (asked));
  g_assert_true (gtk_widget_grab_focus (first_row (asked)));
  WAIT_UNTIL (has_begun (fixture));
  g_assert_true (dew_ask_running (asked));
  g_assert_false (dew_document_peeking (document));
  gtk_widget_activate (first_row (asked));
  g_assert_cmpstr (dew_document_can_undo (document), ==, "Move the pot");
  press_stop (fixture);
  g_assert_null (dew_ask_result (asked));
  g_assert_null (find_type (dew_ask_body (asked), GTK_TYPE_LIST_BOX_ROW));
  g_assert_true (says (pane_of (fixture), "Stopped"));
}

/* Other weights are asked for although a look ends at the same time. */
static void
test_weights_in_look (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  GtkWidget *scale;
  DewAsk *asked;

  wait_for_forecast (document);
  asked = ask (fixture, "win.ask-fan");
  wait_for_answer (asked);
  unfold (pane_of (fixture));
  gtk_test_widget_wait_for_draw (GTK_WIDGET (fixture->window));
  looked_at (fixture, asked);
  scale = find_type (dew_ask_head (asked), GTK_TYPE_SCALE);
  g_assert_nonnull (scale);
  gtk_range_set_value (GTK_RANGE (scale), 2.0);
  g_assert_true (gtk_widget_grab_focus (scale));
  g_assert_false (dew_document_peeking (document));
  WAIT_UNTIL (has_begun (fixture));
  g_assert_true (dew_ask_running (asked));
}

/* Another file is another enclosure: nothing of what was asked is left. */
static void
test_other_file (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DewChamber) chamber = small_chamber ();
  g_autofree char *path = g_build_filename (fixture->folder, "other" DEW_STORE_SUFFIX, NULL);
  DewPane *pane = dew_window_pane (fixture->window);
  DewAsk *asked;

  chamber->outer_m[2] = 0.7;
  g_assert_true (dew_store_create (path, chamber, FALSE, NULL));
  wait_for_forecast (fixture->document);
  asked = ask (fixture, "win.ask-fan");
  wait_for_answer (asked);
  looked_at (fixture, asked);
  g_assert_true (dew_window_open (fixture->window, path));
  g_assert_cmpint (dew_pane_content (pane), ==, DEW_PANE_BAYS);
  g_assert_false (dew_document_peeking (fixture->document));
  g_assert_null (dew_document_merit (fixture->document));
  g_assert_null (dew_ask_result (ask (fixture, "win.ask-fan")));
  g_assert_true (dew_document_flush (fixture->document, NULL));
  g_unlink (path);
}

/* --- side by side --------------------------------------------------------------------- */

static void
test_compare (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  GtkWidget *window = GTK_WIDGET (fixture->window);
  guint first = dew_document_chamber (document)->shown_variant, second;
  g_autoptr (DewEdit) edit = NULL;

  wait_for_forecast (document);
  gtk_widget_activate_action (window, "win.compare", NULL);
  g_assert_true (says (window, "There is one layout of this enclosure so far."));
  dew_document_copy_variant (document);
  second = dew_document_chamber (document)->shown_variant;
  g_assert_cmpuint (second, !=, first);
  dew_document_rename_variant (document, "Fan off");
  edit = dew_document_edit_begin (document);
  dew_variant_thing (dew_edit_variant (edit), first_thing (document, DEW_THING_FAN)->id)
    ->fan.speed_day
    = 0.0;
  dew_edit_commit (edit, "Switch the fan off", NULL);
  WAIT_UNTIL (says (window, "against"));
  g_assert_true (says (window, "Better"));
  g_assert_true (says (window, "on the sheet"));
  gtk_widget_activate_action (window, "win.back", NULL);
}

/* --- names ------------------------------------------------------------------------------ */

static void
test_names (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  GtkWidget *window = GTK_WIDGET (fixture->window);
  guint n = 0;

  dew_document_add (document, DEW_THING_PLANT);
  dew_ask_wish_for (document, dew_catalogue_text (dew_catalogue ("plants"), 0, "name"));
  dew_document_select (document, 0);
  wait_for_forecast (document);
  for (guint i = 0; i < dew_n_questions (); i++)
    {
      wait_for_answer (ask (fixture, dew_question_action (i)));
      unfold (pane_of (fixture));
      gtk_test_widget_wait_for_draw (window);
      g_assert_cmpuint (count_unnamed (window, &n), ==, 0);
    }
  dew_document_copy_variant (document);
  gtk_widget_activate_action (window, "win.compare", NULL);
  WAIT_UNTIL (says (window, "against"));
  g_assert_cmpuint (count_unnamed (window, &n), ==, 0);
  g_assert_cmpuint (n, >, 100);
}

#define ADD(path, test) g_test_add (path, Fixture, NULL, set_up, test, fixture_tear_down)

int
main (int argc, char **argv)
{
  fixture_begin (&argc, &argv);
  ADD ("/ask/peek", test_peek);
  ADD ("/ask/peek-follows", test_peek_follows);
  ADD ("/ask/fan", test_fan);
  ADD ("/ask/no-fan", test_no_fan);
  ADD ("/ask/stop", test_stop);
  ADD ("/ask/obstacle", test_obstacle);
  ADD ("/ask/moisture", test_moisture);
  ADD ("/ask/cut", test_cut);
  ADD ("/ask/plants", test_plants);
  ADD ("/ask/unknown-plant", test_unknown_plant);
  ADD ("/ask/plants-take", test_plants_take);
  ADD ("/ask/leaf-of-group", test_leaf_of_group);
  ADD ("/ask/edit-in-look", test_edit_in_look);
  ADD ("/ask/old-answer", test_old_answer);
  ADD ("/ask/weights-in-look", test_weights_in_look);
  ADD ("/ask/other-file", test_other_file);
  ADD ("/ask/compare", test_compare);
  ADD ("/ask/names", test_names);
  return g_test_run ();
}
