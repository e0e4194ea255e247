/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is typed, and where things go that nobody points a place out for. */
#include "fixture.h"

#include "document/edit.h"
#include "canvas/refusal.h"
#include "document/tongue.h"
#include "paint/chart.h"
#include "widgets/cells.h"
#include "panes/editor.h"
#include "panes/surroundings.h"
#include "widgets/number.h"
#include "widgets/reason.h"
#include "say/names.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

/* --- numbers ----------------------------------------------------------- */

static void
on_number (GtkWidget *number, double si, gpointer user_data)
{
  *(double *) user_data = si;
}

static void
test_number (void)
{
  double said = NAN;
  GtkWidget *number
    = g_object_ref_sink (dew_number_new (dew_unit (DEW_MEASURE_LENGTH, dew_tongue ()), 0.0, 4.0,
                                         "Width", on_number, &said));

  dew_number_set (number, 0.123456);
  g_assert_true (isnan (said));
  /* What nobody typed over stays exact, though fewer digits are shown. */
  gtk_spin_button_update (GTK_SPIN_BUTTON (number));
  g_assert_true (isnan (said));
  g_assert_cmpfloat (dew_number_get (number), ==, 0.123456);

  type_number (number, "7,5");
  g_assert_cmpfloat_with_epsilon (said, 0.075, 1e-12);
  type_number (number, "some");
  g_assert_cmpfloat_with_epsilon (dew_number_get (number), 0.075, 1e-12);
  /* 5 m is more than the number may be. */
  type_number (number, "500");
  g_assert_cmpfloat_with_epsilon (dew_number_get (number), 0.075, 1e-12);
  g_assert_cmpstr (dew_reason_said (number), ==, "This can be at most 400.0 cm.");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (number)), ==, "500");
  g_object_unref (number);
}

/* A number follows the system that is chosen, and loses nothing on the way. */
static void
test_number_follows_units (void)
{
  double said = NAN;
  GtkWidget *number
    = g_object_ref_sink (dew_number_new (dew_unit (DEW_MEASURE_TEMPERATURE, dew_tongue ()), -20.0,
                                         50.0, "Warmth", on_number, &said));

  dew_number_set (number, 15.123456);
  dew_tongue_choose (DEW_TONGUE_IMPERIAL);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (number)), ==, "59.2 °F");
  g_assert_cmpfloat (dew_number_get (number), ==, 15.123456);
  g_assert_true (isnan (said));
  type_number (number, "122");
  g_assert_cmpfloat_with_epsilon (said, 50.0, 1e-9);
  dew_tongue_choose (DEW_TONGUE_METRIC);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (number)), ==, "50.0 °C");
  g_object_unref (number);
}

/* --- refusals ------------------------------------------------------------ */

static gboolean
press (GtkWidget *widget, guint key)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);
      gboolean taken = FALSE;

      if (!GTK_IS_EVENT_CONTROLLER_KEY (controller)
          || gtk_event_controller_get_propagation_phase (controller) != GTK_PHASE_CAPTURE)
        continue;
      g_signal_emit_by_name (controller, "key-pressed", key, 0, 0, &taken);
      if (taken)
        return TRUE;
    }
  return FALSE;
}

/* What cannot be taken stays in the field with its reason; Tab and Return do not leave
 * it; Escape puts the value back. */
static void
test_refused (void)
{
  static const struct
  {
    const char *typed;
    const char *reason;
  } cases[] = {
    { "abc", "Give a length, such as 35.0 cm." },
    { "", "Give a length, such as 35.0 cm." },
    { "nan", "Give a length, such as 35.0 cm." },
    { "12 kg", "Give a length, such as 35.0 cm." },
    { "1.2.3", "Give a length, such as 35.0 cm." },
    { "-3", "This must be at least 2.0 cm." },
    { "1 mm", "This must be at least 2.0 cm." },
    { "1e400", "This can be at most 400.0 cm." },
    { "99999999999999999999", "This can be at most 400.0 cm." },
    { "20 ft", "This can be at most 400.0 cm." },
  };
  double said = NAN;
  GtkWidget *box = g_object_ref_sink (gtk_box_new (GTK_ORIENTATION_VERTICAL, 0));
  GtkWidget *number = dew_number_new (dew_unit (DEW_MEASURE_LENGTH, dew_tongue ()), 0.02, 4.0,
                                      "Width", on_number, &said);
  GtkWidget *line = dew_reason_new (number);

  gtk_box_append (GTK_BOX (box), number);
  gtk_box_append (GTK_BOX (box), line);
  dew_number_set (number, 0.7);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_test_message ("'%s'", cases[i].typed);
      gtk_editable_set_text (GTK_EDITABLE (number), cases[i].typed);
      g_assert_true (press (number, i % 2 ? GDK_KEY_Tab : GDK_KEY_Return));
      g_assert_cmpstr (dew_reason_said (number), ==, cases[i].reason);
      g_assert_cmpstr (gtk_label_get_text (GTK_LABEL (line)), ==, cases[i].reason);
      g_assert_true (gtk_widget_get_visible (line));
      g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (number)), ==, cases[i].typed);
      g_assert_true (isnan (said));
      g_assert_cmpfloat (dew_number_get (number), ==, 0.7);
      gtk_test_accessible_assert_state (number, GTK_ACCESSIBLE_STATE_INVALID,
                                        GTK_ACCESSIBLE_INVALID_TRUE);

      g_assert_true (press (number, GDK_KEY_Escape));
      g_assert_null (dew_reason_said (number));
      g_assert_false (gtk_widget_get_visible (line));
      g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (number)), ==, "70.0 cm");
      /* Nothing is left to restore: the key is for others. */
      g_assert_false (press (number, GDK_KEY_Escape));
    }
  g_object_unref (box);
}

/* What can be understood is corrected to what was meant. */
static void
test_corrected (void)
{
  static const struct
  {
    const char *typed;
    double si;
    const char *shown;
  } cases[] = {
    { "1,5", 0.015, "1.5 cm" },  { "1.5 in", 0.0381, "3.8 cm" }, { "  7  ", 0.07, "7.0 cm" },
    { "0,3 m", 0.3, "30.0 cm" }, { "400.0", 4.0, "400.0 cm" },   { "12CM", 0.12, "12.0 cm" },
  };
  double said = NAN;
  GtkWidget *number
    = g_object_ref_sink (dew_number_new (dew_unit (DEW_MEASURE_LENGTH, dew_tongue ()), 0.0, 4.0,
                                         "Width", on_number, &said));

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_test_message ("'%s'", cases[i].typed);
      gtk_editable_set_text (GTK_EDITABLE (number), cases[i].typed);
      g_assert_false (press (number, GDK_KEY_Return));
      g_assert_cmpfloat_with_epsilon (said, cases[i].si, 1e-12);
      g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (number)), ==, cases[i].shown);
      g_assert_null (dew_reason_said (number));
    }
  g_object_unref (number);
}

static void
refuse_it (GtkWidget *number, double si, gpointer user_data)
{
  dew_number_refuse (number, "There is no room for this.");
}

/* The owner of a number may refuse it too. */
static void
test_refused_by_owner (void)
{
  GtkWidget *number
    = g_object_ref_sink (dew_number_new (dew_unit (DEW_MEASURE_LENGTH, dew_tongue ()), 0.0, 4.0,
                                         "Width", refuse_it, NULL));

  dew_number_set (number, 0.7);
  gtk_editable_set_text (GTK_EDITABLE (number), "1.5 in");
  g_assert_true (press (number, GDK_KEY_Return));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (number)), ==, "1.5 in");
  g_assert_cmpstr (dew_reason_said (number), ==, "There is no room for this.");
  g_assert_cmpfloat (dew_number_get (number), ==, 0.7);
  /* Showing the same value again, as a refresh does, leaves what is being mended. */
  dew_number_set (number, 0.7);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (number)), ==, "1.5 in");
  /* Another value, as after an undo, does not. */
  dew_number_set (number, 0.5);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (number)), ==, "50.0 cm");
  g_assert_null (dew_reason_said (number));
  g_object_unref (number);
}

static void
test_names (void)
{
  g_autofree char *longest = g_strnfill (DEW_NAME_SIZE - 1, 'a');
  g_autofree char *too_long = g_strnfill (DEW_NAME_SIZE, 'a');
  g_autofree char *empty = dew_refusal_name ("", DEW_NAME_SIZE);
  g_autofree char *blank = dew_refusal_name ("  ", DEW_NAME_SIZE);
  g_autofree char *longer = dew_refusal_name (too_long, DEW_NAME_SIZE);

  g_assert_nonnull (empty);
  g_assert_nonnull (blank);
  g_assert_nonnull (longer);
  g_assert_null (dew_refusal_name ("Fern", DEW_NAME_SIZE));
  g_assert_null (dew_refusal_name (longest, DEW_NAME_SIZE));
}

/* --- refusals in a document -------------------------------------------------- */

typedef struct
{
  char *folder;
  char *path;
  DewDocument *document;
} Desk;

static void
desk_set_up (Desk *desk, gconstpointer data)
{
  g_autoptr (DewChamber) demo = dew_chamber_demo ();
  g_autoptr (GError) error = NULL;

  desk->folder = g_dir_make_tmp ("dewtier-entry-XXXXXX", &error);
  g_assert_no_error (error);
  desk->path = g_build_filename (desk->folder, "demo" DEW_STORE_SUFFIX, NULL);
  g_assert_true (dew_store_create (desk->path, demo, FALSE, &error));
  g_assert_no_error (error);
  desk->document = dew_document_new ();
  g_assert_true (dew_document_open (desk->document, desk->path, &error));
  g_assert_no_error (error);
}

static void
desk_tear_down (Desk *desk, gconstpointer data)
{
  g_assert_true (dew_document_flush (desk->document, NULL));
  g_object_unref (desk->document);
  g_unlink (desk->path);
  g_rmdir (desk->folder);
  g_free (desk->path);
  g_free (desk->folder);
}

/* The n-th of a kind, lowest first for shelves (the demo is drawn so). */
static const DewThing *
nth (Desk *desk, DewThingKind kind, int n)
{
  const DewVariant *variant = dew_document_variant (desk->document);

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind == kind && n-- == 0)
        return thing;
    }
  g_assert_not_reached ();
}

/* A shelf typed into another one is refused in place, and nothing has changed. */
static void
test_shelf_refused (Desk *desk, gconstpointer data)
{
  guint id = nth (desk, DEW_THING_SHELF, 0)->id;
  const DewThing *other = nth (desk, DEW_THING_SHELF, 1);
  g_autofree char *other_name = g_strdup (other->name);
  g_autofree char *height = NULL, *expected = NULL;
  g_autoptr (DewChamber) before = dew_chamber_copy (dew_document_chamber (desk->document));
  GtkWidget *editor, *number;

  height = dew_measure_text (DEW_MEASURE_LENGTH, dew_tongue (), other->shelf.z_m);
  expected = g_strdup_printf ("This would lie in %s, which is at %s.", other_name, height);
  dew_document_select (desk->document, id);
  editor = g_object_ref_sink (dew_thing_editor_new (desk->document, id));
  number = dew_thing_editor_widget (editor, "z_m");
  gtk_editable_set_text (GTK_EDITABLE (number), height);
  g_assert_true (press (number, GDK_KEY_Return));
  g_assert_cmpstr (dew_reason_said (number), ==, expected);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (number)), ==, height);
  g_assert_true (dew_chamber_equal (before, dew_document_chamber (desk->document)));
  g_assert_null (dew_document_can_undo (desk->document));

  /* Under the floor, too near the roof. */
  gtk_editable_set_text (GTK_EDITABLE (number), "0");
  g_assert_true (press (number, GDK_KEY_Return));
  g_assert_cmpstr (dew_reason_said (number), ==, "Leave at least 3.0 cm above the floor.");
  g_assert_true (press (number, GDK_KEY_Escape));
  g_assert_true (dew_chamber_equal (before, dew_document_chamber (desk->document)));
  g_object_unref (editor);
}

/* A shelf whose height is typed takes along what stands on it, as a dragged one does. */
static void
test_shelf_takes_along (Desk *desk, gconstpointer data)
{
  const DewThing *shelf = nth (desk, DEW_THING_SHELF, 0);
  const DewVariant *variant = dew_document_variant (desk->document);
  double top_m = shelf->shelf.z_m + shelf->shelf.thickness_m, z_m = shelf->shelf.z_m;
  guint id = shelf->id, carried = 0;
  GtkWidget *editor, *number;

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind == DEW_THING_TRAY && fabs (thing->tray.z_m - top_m) < 0.01)
        carried = thing->id;
    }
  g_assert_cmpuint (carried, !=, 0);
  dew_document_select (desk->document, id);
  editor = g_object_ref_sink (dew_thing_editor_new (desk->document, id));
  number = dew_thing_editor_widget (editor, "z_m");
  gtk_editable_set_text (GTK_EDITABLE (number), "37 cm");
  g_assert_false (press (number, GDK_KEY_Return));
  g_assert_null (dew_reason_said (number));
  variant = dew_document_variant (desk->document);
  g_assert_cmpfloat_with_epsilon (dew_variant_thing (variant, id)->shelf.z_m, 0.37, 1e-9);
  g_assert_cmpfloat_with_epsilon (dew_variant_thing (variant, carried)->tray.z_m,
                                  top_m + 0.37 - z_m, 1e-9);
  g_object_unref (editor);
}

/* The lower edge of an opening typed past the upper one takes it along. */
static void
test_opening_keeps_size (Desk *desk, gconstpointer data)
{
  const DewThing *opening = nth (desk, DEW_THING_OPENING, 0);
  double width_m = opening->opening.u1_m - opening->opening.u0_m;
  guint id = opening->id;
  DewEdit *edit = dew_document_edit_begin (desk->document);
  DewThing *moved = dew_variant_thing (dew_edit_variant (edit), id);
  GtkWidget *editor, *number;

  moved->opening.u0_m = 0.05;
  moved->opening.u1_m = 0.05 + width_m;
  dew_edit_commit (edit, "Move", NULL);
  dew_edit_end (edit);
  dew_document_select (desk->document, id);
  editor = g_object_ref_sink (dew_thing_editor_new (desk->document, id));
  number = dew_thing_editor_widget (editor, "u0_m");
  g_assert_cmpfloat (width_m, <, 0.35);
  gtk_editable_set_text (GTK_EDITABLE (number), "30 cm");
  g_assert_false (press (number, GDK_KEY_Return));
  opening = dew_variant_thing (dew_document_variant (desk->document), id);
  g_assert_cmpfloat_with_epsilon (opening->opening.u0_m, 0.30, 1e-9);
  g_assert_cmpfloat (opening->opening.u1_m, >, 0.30);
  g_object_unref (editor);
}

/* A thing typed out of the enclosure is refused with the check's own sentence. */
static void
test_outside_refused (Desk *desk, gconstpointer data)
{
  guint id = nth (desk, DEW_THING_HUMIDIFIER, 0)->id;
  GtkWidget *editor, *number;

  dew_document_select (desk->document, id);
  editor = g_object_ref_sink (dew_thing_editor_new (desk->document, id));
  number = dew_thing_editor_widget (editor, "x_m");
  gtk_editable_set_text (GTK_EDITABLE (number), "3 m");
  g_assert_true (press (number, GDK_KEY_Return));
  g_assert_nonnull (dew_reason_said (number));
  g_assert_nonnull (strstr (dew_reason_said (number), "enclosure"));
  g_assert_nonnull (strstr (dew_reason_said (number), " cm on the right"));
  dew_tongue_choose (DEW_TONGUE_IMPERIAL);
  gtk_editable_set_text (GTK_EDITABLE (number), "9 ft");
  g_assert_true (press (number, GDK_KEY_Return));
  g_assert_nonnull (strstr (dew_reason_said (number), " in on the right"));
  dew_tongue_choose (DEW_TONGUE_METRIC);
  g_assert_null (dew_document_can_undo (desk->document));
  g_object_unref (editor);
}

/* Dimensions on the sheet: the same sentences. */
static void
test_dimension (Desk *desk, gconstpointer data)
{
  const DewChamber *chamber = dew_document_chamber (desk->document);
  const DewDimension width = { .axis = 0, .bay = -1 };
  g_autoptr (DewChamber) copy = dew_chamber_copy (chamber);
  g_autofree char *nonsense = dew_refusal_dimension (chamber, copy, &width, "wide");
  g_autofree char *negative = dew_refusal_dimension (chamber, copy, &width, "-3");
  g_autofree char *small = NULL;

  g_assert_cmpstr (nonsense, ==, "Give a length, such as 35.0 cm.");
  g_assert_cmpstr (negative, ==, "This must be at least 1.0 cm.");
  g_assert_true (dew_chamber_equal (copy, chamber));
  g_assert_null (dew_refusal_dimension (chamber, copy, &width, "28 in"));
  g_assert_cmpfloat_with_epsilon (dew_chamber_dimension (copy, &width), 0.7112, 1e-9);
  small = dew_refusal_dimension (chamber, copy, &width, "1 cm");
  g_assert_nonnull (small);
}

/* The widget inside `widget` that bears this name for ears, or NULL. */
static GtkWidget *
named (GtkWidget *widget, const char *name)
{
  GtkWidget *found = NULL;

  if (GTK_IS_SPIN_BUTTON (widget)
      && gtk_test_accessible_has_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL)
      && gtk_test_accessible_check_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                             name)
           == NULL)
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = named (child, name);
  return found;
}

/* The number of that name takes what the field takes, and no more. */
static void
assert_limits (GtkWidget *editor, const char *name, const DewField *field)
{
  const DewUnit *unit = dew_unit_for_field (field, dew_tongue ());
  GtkWidget *number = named (editor, name);
  double low, high;

  g_test_message ("%s", name);
  g_assert_nonnull (number);
  gtk_spin_button_get_range (GTK_SPIN_BUTTON (number), &low, &high);
  g_assert_cmpfloat_with_epsilon (low, dew_unit_shown (unit, field->min), 1e-9);
  g_assert_cmpfloat_with_epsilon (high, dew_unit_shown (unit, field->max), 1e-9);
}

/* Enclosure and room: the form and the document allow the same. */
static void
test_surroundings (Desk *desk, gconstpointer data)
{
  GtkWidget *enclosure = g_object_ref_sink (dew_enclosure_editor_new (desk->document));
  GtkWidget *room = g_object_ref_sink (dew_room_editor_new (desk->document));
  const struct
  {
    const DewField *fields;
    GtkWidget *editor;
    const char *before;
  } tables[] = {
    { dew_enclosure_fields (), enclosure, "" },
    { dew_panel_fields (), enclosure, "" },
    { dew_room_fields (), room, "" },
    { dew_month_fields (), room, "December, " },
  };

  for (guint i = 0; i < G_N_ELEMENTS (tables); i++)
    for (const DewField *field = tables[i].fields; field->key != NULL; field++)
      {
        g_autofree char *name = g_strconcat (tables[i].before, dew_field_label (field), NULL);

        if (field->type == DEW_FIELD_REAL)
          assert_limits (tables[i].editor, name, field);
      }
  g_object_unref (enclosure);
  g_object_unref (room);
}

/* Every choice of every field has a word of its own. */
static void
test_choices (void)
{
  for (DewThingKind kind = 0; kind < DEW_N_THING_KINDS + 2; kind++)
    {
      const DewField *fields = kind < DEW_N_THING_KINDS    ? dew_thing_fields (kind)
                               : kind == DEW_N_THING_KINDS ? dew_wish_fields ()
                                                           : dew_plant_kind_fields ();

      for (; fields->key != NULL; fields++)
        {
          if (fields->type != DEW_FIELD_CHOICE)
            continue;
          for (const char *const *key = fields->choices; *key != NULL; key++)
            {
              g_test_message ("%s: %s", fields->key, *key);
              g_assert_cmpstr (dew_choice_word (*key), !=, *key);
            }
        }
    }
}

/* --- tables and strips ---------------------------------------------------------- */

static void
give (GtkWidget *cells, int width)
{
  int minimum;

  /* GTK asks before it gives. */
  gtk_widget_measure (cells, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
  g_assert_cmpint (minimum, <=, width);
  gtk_widget_measure (cells, GTK_ORIENTATION_VERTICAL, width, &minimum, NULL, NULL, NULL);
  gtk_widget_size_allocate (cells, &(GtkAllocation){ 0, 0, width, minimum }, -1);
}

/* Columns go one after the other, the least needed first; none is ever cut. */
static void
test_cells (void)
{
  static const int ranks[] = { 0, 0, 2, 1 };
  GtkWidget *window = gtk_window_new ();
  GtkWidget *cells = dew_cells_new ();
  GtkWidget *cell[4];

  for (int i = 0; i < 4; i++)
    {
      cell[i] = gtk_label_new ("x");
      gtk_widget_set_size_request (cell[i], 40, 10);
      dew_cells_append (DEW_CELLS (cells), cell[i], ranks[i], i > 0);
    }
  gtk_window_set_child (GTK_WINDOW (window), cells);
  give (cells, 400);
  for (int i = 0; i < 4; i++)
    g_assert_true (gtk_widget_get_child_visible (cell[i]));
  /* Four of 40 with three gaps of 6 are 178. */
  give (cells, 177);
  g_assert_false (gtk_widget_get_child_visible (cell[2]));
  g_assert_true (gtk_widget_get_child_visible (cell[3]));
  give (cells, 131);
  g_assert_false (gtk_widget_get_child_visible (cell[3]));
  g_assert_true (gtk_widget_get_child_visible (cell[1]));
  for (int i = 0; i < 2; i++)
    {
      graphene_rect_t rect;

      g_assert_true (gtk_widget_compute_bounds (cell[i], cells, &rect));
      g_assert_cmpfloat (rect.origin.x + rect.size.width, <=, 131.0f);
      g_assert_cmpfloat (rect.size.width, >=, 40.0f);
    }
  gtk_window_destroy (GTK_WINDOW (window));
}

/* A strip holds what is wanted and what is got with its band, whatever is unknown. */
static void
test_strip (void)
{
  static const DewStrip cases[] = {
    { .want_lo = 12, .want_hi = 22, .got = 25, .band = 0.7 },
    { .want_lo = 12, .want_hi = 22, .got = 18, .band = NAN },
    { .want_lo = NAN, .want_hi = 22, .got = 5, .band = 1 },
    { .want_lo = 12, .want_hi = 22, .got = NAN, .band = NAN },
    { .want_lo = 18, .want_hi = 18, .got = 18, .band = 0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      DewStrip strip = cases[i];

      dew_strip_fit (&strip, 4.0);
      g_assert_cmpfloat (strip.hi - strip.lo, >=, 4.0);
      if (!isnan (strip.got))
        {
          double band = isnan (strip.band) ? 0.0 : strip.band;

          g_assert_cmpfloat (strip.lo, <=, strip.got - band);
          g_assert_cmpfloat (strip.hi, >=, strip.got + band);
        }
      if (!isnan (strip.want_hi))
        g_assert_cmpfloat (strip.hi, >=, strip.want_hi);
    }
}

#define ADD(name, function) g_test_add (name, Desk, NULL, desk_set_up, function, desk_tear_down)

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  /* Whatever the locale of who runs this. */
  dew_tongue_choose (DEW_TONGUE_METRIC);

  g_test_add_func ("/entry/number", test_number);
  g_test_add_func ("/entry/number-follows-units", test_number_follows_units);
  g_test_add_func ("/entry/refused", test_refused);
  g_test_add_func ("/entry/corrected", test_corrected);
  g_test_add_func ("/entry/refused-by-owner", test_refused_by_owner);
  g_test_add_func ("/entry/names", test_names);
  ADD ("/entry/surroundings", test_surroundings);
  ADD ("/entry/shelf-refused", test_shelf_refused);
  ADD ("/entry/shelf-takes-along", test_shelf_takes_along);
  ADD ("/entry/opening-keeps-size", test_opening_keeps_size);
  ADD ("/entry/outside-refused", test_outside_refused);
  ADD ("/entry/dimension", test_dimension);
  g_test_add_func ("/entry/choices", test_choices);
  g_test_add_func ("/entry/cells", test_cells);
  g_test_add_func ("/entry/strip", test_strip);
  return g_test_run ();
}
