/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the panes say of a forecast of the demo: shelves with their places, plants,
 * devices. */
#include "fixture.h"

#include "advice/standing.h"
#include "document/tongue.h"
#include "say/findings.h"
#include "forecast/working.h"
#include "panes/editor.h"
#include "panes/wishes.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

static void
set_up (Fixture *fixture, gconstpointer data)
{
  fixture_set_up (fixture, data);
  wait_for_forecast (fixture->document);
}

/* What the pane shows while nothing is selected. */
static GtkWidget *
overview (Fixture *fixture)
{
  fixture_act (fixture, "win.show-bays");
  return dew_pane_child (dew_window_pane (fixture->window));
}

/* The n-th widget below `top` with a style class, in reading order. */
static GtkWidget *
find (GtkWidget *top, const char *css_class, int *n)
{
  if (gtk_widget_has_css_class (top, css_class) && (*n)-- == 0)
    return top;
  for (GtkWidget *child = gtk_widget_get_first_child (top); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find (child, css_class, n);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static GtkWidget *
nth (GtkWidget *top, const char *css_class, int n)
{
  return find (top, css_class, &n);
}

static int
count (GtkWidget *top, const char *css_class)
{
  int n = 0;

  while (nth (top, css_class, n) != NULL)
    n++;
  return n;
}

/* --- shelves ------------------------------------------------------------------ */

static GtkListBoxRow *
row_of_bay (Fixture *fixture, int bay)
{
  GtkWidget *list = nth (overview (fixture), "bays", 0);
  int n_bays = dew_document_forecast (fixture->document)->n_bays;

  /* The top one comes first. */
  return gtk_list_box_get_row_at_index (GTK_LIST_BOX (list), n_bays - 1 - bay);
}

static void
activate (GtkListBoxRow *row)
{
  g_signal_emit_by_name (gtk_widget_get_parent (GTK_WIDGET (row)), "row-activated", row);
}

static void
test_shelves (Fixture *fixture, gconstpointer data)
{
  const DewForecast *forecast = dew_document_forecast (fixture->document);
  int places = forecast->n_places / forecast->n_bays;

  g_assert_null (row_of_bay (fixture, -1));
  for (int bay = 0; bay < forecast->n_bays; bay++)
    {
      GtkListBoxRow *row = row_of_bay (fixture, bay);

      g_assert_true (says (GTK_WIDGET (row), dew_verdict_word (dew_bay_verdict (forecast, bay))));
      g_assert_cmpint (count (GTK_WIDGET (row), "place"), ==, 0);
    }

  /* Opening one shows its places there and nowhere else, and the plan follows. */
  for (int bay = 0; bay < forecast->n_bays; bay++)
    {
      activate (row_of_bay (fixture, bay));
      g_assert_cmpint (dew_document_plan_bay (fixture->document), ==, bay);
      g_assert_cmpint (count (GTK_WIDGET (row_of_bay (fixture, bay)), "place"), ==, places);
      g_assert_cmpint (count (overview (fixture), "place"), ==, places);
    }
  /* The open one follows the plan of the sheet; a second click closes it. */
  dew_document_set_plan_bay (fixture->document, 1);
  g_assert_cmpint (count (GTK_WIDGET (row_of_bay (fixture, 1)), "place"), ==, places);
  activate (row_of_bay (fixture, 1));
  g_assert_cmpint (count (overview (fixture), "place"), ==, 0);
}

static void
test_place (Fixture *fixture, gconstpointer data)
{
  const DewForecast *forecast = dew_document_forecast (fixture->document);
  const DewPlace *place = NULL;
  g_autofree char *rh = NULL;
  GtkWidget *cell;
  int columns = 0;

  activate (row_of_bay (fixture, 0));
  for (int i = 0; i < forecast->n_places; i++)
    columns = MAX (columns, forecast->places[i].column + 1);
  for (int i = 0; i < forecast->n_places; i++)
    {
      /* The first cell is the left back. */
      if (forecast->places[i].bay == 0 && forecast->places[i].column == 0
          && (place == NULL || forecast->places[i].row > place->row))
        place = &forecast->places[i];
    }
  cell = nth (overview (fixture), "place", 0);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (cell), TRUE);
  rh = g_strdup_printf ("%.0f\302\240%%", 100.0 * place->mean.rh);
  g_test_message ("%s", rh);
  g_assert_true (says (overview (fixture), "Left back"));
  g_assert_true (says (nth (overview (fixture), "places", 0), rh));
  /* One at a time. */
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (nth (overview (fixture), "place", 1)), TRUE);
  g_assert_false (gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (cell)));
}

/* The ways to advice, in the order that is promised. */
static void
test_questions (Fixture *fixture, gconstpointer data)
{
  static const char *const actions[]
    = { "win.ask-fan",   "win.ask-moisture", "win.ask-plants", "win.ask-cut",
        "win.ask-suits", "win.ask-heights",  "win.ask-light",  "win.compare" };

  g_assert_cmpint (count (overview (fixture), "question"), ==, G_N_ELEMENTS (actions));
  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    g_assert_cmpstr (gtk_actionable_get_action_name (
                       GTK_ACTIONABLE (nth (overview (fixture), "question", (int) i))),
                     ==, actions[i]);
}

/* --- plants ---------------------------------------------------------------------- */

/* Every plant is in the list, the worst first, and a click selects it. */
static void
test_plants (Fixture *fixture, gconstpointer data)
{
  const DewForecast *forecast = dew_document_forecast (fixture->document);
  const DewVariant *variant = dew_document_variant (fixture->document);
  GtkListBox *list = GTK_LIST_BOX (nth (overview (fixture), "plants", 0));
  DewVerdict last = DEW_VERDICT_ACT;
  int plants = 0;

  for (guint i = 0; i < variant->things->len; i++)
    plants += g_array_index (variant->things, DewThing, i).kind == DEW_THING_PLANT;
  g_assert_null (gtk_list_box_get_row_at_index (list, plants));
  for (int i = 0; i < plants; i++)
    {
      GtkListBoxRow *row = gtk_list_box_get_row_at_index (list, i);
      DewVerdict verdict;
      const DewThing *plant;
      DewStanding standing;

      activate (row);
      plant = dew_variant_thing (variant, dew_document_selected (fixture->document));
      g_assert_cmpint (plant->kind, ==, DEW_THING_PLANT);
      g_assert_true (says (GTK_WIDGET (row), plant->name));
      g_assert_true (dew_standing_of (fixture->document, plant, &standing));
      verdict = dew_standing_verdict (forecast, plant->id, &standing);
      g_assert_cmpint (verdict, >=, dew_thing_verdict (forecast, plant->id));
      /* What it misses by more than the forecast may be off is not called fine. */
      for (int k = 0; k < standing.n; k++)
        {
          const DewFitDemand *asked = &standing.fit.demand[standing.order[k]];

          if (asked->margin < 0.0 && !asked->unsure)
            g_assert_cmpint (verdict, !=, DEW_VERDICT_FINE);
        }
      g_assert_true (says (GTK_WIDGET (row), dew_verdict_word (verdict)));
      g_assert_cmpint (verdict, <=, last);
      last = verdict;
    }
}

/* A demand that is not met is a finding too: the two judge alike. */
static void
test_standing (Fixture *fixture, gconstpointer data)
{
  const DewForecast *forecast = dew_document_forecast (fixture->document);
  const DewVariant *variant = dew_document_variant (fixture->document);

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *plant = &g_array_index (variant->things, DewThing, i);
      DewStanding standing;
      double last = -1.0;

      if (plant->kind != DEW_THING_PLANT)
        continue;
      g_assert_true (dew_standing_of (fixture->document, plant, &standing));
      g_assert_true (standing.known);
      g_assert_cmpint (standing.n, >, 0);
      for (int k = 0; k < standing.n; k++)
        {
          DewDemand demand = standing.order[k];
          const DewFitDemand *asked = &standing.fit.demand[demand];

          g_test_message ("%s: %s margin %g, merit %g", plant->name, dew_demand_key (demand),
                          asked->margin, asked->merit);
          /* The forecast is of a day: nothing is said of nights. */
          g_assert_cmpint (demand, !=, DEW_DEMAND_T_NIGHT);
          g_assert_cmpint (demand, !=, DEW_DEMAND_RH_NIGHT);
          g_assert_cmpfloat (asked->merit, >=, last);
          last = asked->merit;
          if ((demand == DEW_DEMAND_T_DAY || demand == DEW_DEMAND_RH_DAY
               || demand == DEW_DEMAND_LIGHT)
              && asked->margin < 0.0)
            g_assert_cmpint (dew_thing_verdict (forecast, plant->id), !=, DEW_VERDICT_FINE);
        }
    }
}

/* --- devices ----------------------------------------------------------------------- */

static guint
first_of (Fixture *fixture, DewThingKind kind)
{
  const DewVariant *variant = dew_document_variant (fixture->document);

  for (guint i = 0; i < variant->things->len; i++)
    {
      if (g_array_index (variant->things, DewThing, i).kind == kind)
        return g_array_index (variant->things, DewThing, i).id;
    }
  g_assert_not_reached ();
}

static gboolean
editor_says (Fixture *fixture, guint id, const char *text)
{
  GtkWidget *editor = g_object_ref_sink (dew_thing_editor_new (fixture->document, id));
  gboolean said = says (editor, text);

  g_object_run_dispose (G_OBJECT (editor));
  g_object_unref (editor);
  return said;
}

static void
test_devices (Fixture *fixture, gconstpointer data)
{
  const DewForecast *forecast = dew_document_forecast (fixture->document);
  const DewChamber *chamber = dew_document_chamber (fixture->document);
  guint fan = first_of (fixture, DEW_THING_FAN), pot = first_of (fixture, DEW_THING_POT);
  DewWorking point;
  g_autofree char *flow = NULL, *imperial = NULL, *warmth = NULL;

  g_assert_true (
    dew_working_point (forecast, chamber,
                       dew_variant_thing (dew_document_variant (fixture->document), fan), &point));
  flow = dew_measure_text (DEW_MEASURE_AIR_FLOW, dew_tongue (), point.flow_m3_s);
  g_assert_true (editor_says (fixture, fan, flow));
  g_assert_true (editor_says (fixture, fan, "raises no pressure"));
  dew_tongue_choose (DEW_TONGUE_IMPERIAL);
  imperial = dew_measure_text (DEW_MEASURE_AIR_FLOW, dew_tongue (), point.flow_m3_s);
  g_assert_true (g_str_has_suffix (imperial, " cfm"));
  g_assert_true (editor_says (fixture, fan, imperial));
  dew_tongue_choose (DEW_TONGUE_METRIC);

  g_assert_true (
    dew_working_point (forecast, chamber,
                       dew_variant_thing (dew_document_variant (fixture->document), pot), &point));
  warmth = dew_measure_text (DEW_MEASURE_TEMPERATURE, dew_tongue (), point.t_C);
  g_assert_true (editor_says (fixture, pot, warmth));
  g_assert_true (editor_says (fixture, pot, "Cooler than the air by"));
}

/* --- findings ---------------------------------------------------------------------- */

/* The verdict comes first, in one sentence; a click on a finding opens its cause and remedy and
 * selects nothing. */
static void
test_verdict_first (Fixture *fixture, gconstpointer data)
{
  const DewForecast *forecast = dew_document_forecast (fixture->document);
  g_autofree char *verdict = dew_forecast_verdict_text (forecast);
  GtkWidget *pane = overview (fixture);
  GtkWidget *list = nth (pane, "findings", 0);
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (list), 0);
  g_autofree char *cause = dew_finding_cause (&forecast->findings[0]);

  g_assert_cmpint (forecast->n_findings, >, 0);
  g_assert_cmpstr (gtk_label_get_text (GTK_LABEL (nth (pane, "pane-title", 0))), ==, verdict);
  g_assert_false (says (GTK_WIDGET (row), cause));
  activate (row);
  g_assert_true (says (GTK_WIDGET (row), cause));
  g_assert_true (says (GTK_WIDGET (row), dew_finding_remedy (&forecast->findings[0])));
  g_assert_cmpuint (dew_document_selected (fixture->document), ==, 0);
  activate (row);
  g_assert_false (says (GTK_WIDGET (row), cause));
}

/* --- what cannot be forecast --------------------------------------------------------- */

/* The last forecast stays on the sheet; the reason is told, and one click moves the thing in. */
static void
test_move_in (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  guint fan = first_of (fixture, DEW_THING_FAN);
  GtkWidget *pane, *button;
  g_autoptr (DewEdit) edit = dew_document_edit_begin (document);

  dew_variant_thing (dew_edit_variant (edit), fan)->fan.x_m = 3.0;
  dew_edit_commit (edit, "Move the fan out", NULL);
  g_assert_nonnull (dew_document_obstacle (document, NULL));
  g_assert_nonnull (dew_document_forecast (document));
  pane = overview (fixture);
  g_assert_true (says (pane, "sticks out of the enclosure"));
  button = find_button (pane, "Move it in");
  g_assert_nonnull (button);
  g_signal_emit_by_name (button, "clicked");
  g_assert_null (dew_document_obstacle (document, NULL));
  wait_for_forecast (document);
  g_assert_false (says (overview (fixture), "sticks out of the enclosure"));
}

/* --- several ------------------------------------------------------------------------ */

/* Several of one kind share their numbers: one change is one step for all of them. */
static void
test_several (Fixture *fixture, gconstpointer data)
{
  DewDocument *document = fixture->document;
  const DewVariant *variant = dew_document_variant (document);
  guint ids[2], n = 0;
  GtkWidget *form;

  for (guint i = 0; i < variant->things->len && n < 2; i++)
    if (g_array_index (variant->things, DewThing, i).kind == DEW_THING_POT)
      ids[n++] = g_array_index (variant->things, DewThing, i).id;
  g_assert_cmpuint (n, ==, 2);
  dew_document_select_set (document, ids, 2);
  form = nth (dew_pane_child (dew_window_pane (fixture->window)), "form", 0);
  g_assert_true (says (dew_pane_child (dew_window_pane (fixture->window)), "2 things selected"));
  g_assert_nonnull (form);
  g_assert_null (dew_form_widget (form, "x_m"));
  type_number (dew_form_widget (form, "water_kg"), "0.123");
  for (int i = 0; i < 2; i++)
    g_assert_cmpfloat_with_epsilon (
      dew_variant_thing (dew_document_variant (document), ids[i])->pot.water_kg, 0.123, 2e-3);
  dew_document_undo (document);
  for (int i = 0; i < 2; i++)
    g_assert_cmpfloat (
      fabs (dew_variant_thing (dew_document_variant (document), ids[i])->pot.water_kg - 0.123), >,
      0.01);
}

#define ADD(path, test) g_test_add (path, Fixture, NULL, set_up, test, fixture_tear_down)

int
main (int argc, char **argv)
{
  fixture_begin (&argc, &argv);
  /* Whatever the locale of who runs this. */
  dew_tongue_choose (DEW_TONGUE_METRIC);

  ADD ("/panes/shelves", test_shelves);
  ADD ("/panes/place", test_place);
  ADD ("/panes/questions", test_questions);
  ADD ("/panes/plants", test_plants);
  ADD ("/panes/standing", test_standing);
  ADD ("/panes/devices", test_devices);
  ADD ("/panes/verdict-first", test_verdict_first);
  ADD ("/panes/move-in", test_move_in);
  ADD ("/panes/several", test_several);
  return g_test_run ();
}
