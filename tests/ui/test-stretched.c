/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window in a language with long words, which stretch.py makes from the program's own:
 * nothing is cut off, nothing is without translation. With DEW_TEST_LOCALES and LANGUAGE
 * set it looks at a real language instead, without asking what is translated. */
#include "cut-off.h"
#include "fixture.h"

#include "canvas/canvas-private.h"
#include "canvas/theme.h"
#include "document/tongue.h"
#include "paint/sheet-private.h"
#include "widgets/fold.h"
#include "questions/ask.h"
#include "questions/wishes.h"

#include <cairo-pdf.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <locale.h>
#include <string.h>

typedef struct
{
  int width, height;
} Size;

static const Size small = { 1024, 640 }, large = { 1440, 900 };

typedef struct
{
  char *path;
  DewWindow *window;
  DewDocument *document;
  DewCutOff look;
} Stretched;

static char *home;
static gboolean pseudo;

/* --- windows ------------------------------------------------------------------- */

/* A case of 40 x 30 x 60 cm with a shelf, a fan, a pot, a plant, an open flap and a wish;
 * invented. Small, so that what is asked about it is answered soon. */
static DewChamber *
small_chamber (void)
{
  static const DewThingKind kinds[]
    = { DEW_THING_SHELF, DEW_THING_FAN, DEW_THING_POT, DEW_THING_PLANT, DEW_THING_OPENING };
  DewChamber *chamber = dew_chamber_new ();
  const char *species = dew_catalogue_text (dew_catalogue ("plants"), 0, "name");
  DewWish wish;

  chamber->outer_m[0] = 0.4;
  chamber->outer_m[1] = 0.3;
  chamber->outer_m[2] = 0.6;
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      DewThing thing;

      dew_thing_init (&thing, kinds[i]);
      if (kinds[i] == DEW_THING_SHELF)
        thing.shelf.z_m = 0.3;
      if (kinds[i] == DEW_THING_FAN)
        {
          thing.fan.x_m = 0.06;
          thing.fan.y_m = 0.15;
          thing.fan.z_m = 0.1;
          thing.fan.diameter_m = 0.06;
          thing.fan.free_delivery_m3_s = 0.003;
        }
      if (kinds[i] == DEW_THING_POT)
        {
          thing.pot.x_m = 0.3;
          thing.pot.y_m = 0.15;
        }
      if (kinds[i] == DEW_THING_PLANT)
        {
          thing.plant.x_m = 0.2;
          thing.plant.y_m = 0.15;
          thing.plant.z_m = 0.35;
          g_strlcpy (thing.plant.species, species, sizeof thing.plant.species);
        }
      if (kinds[i] == DEW_THING_OPENING)
        {
          thing.opening.face = DEW_FACE_FRONT;
          thing.opening.u0_m = 0.1;
          thing.opening.u1_m = 0.3;
          thing.opening.v0_m = 0.02;
          thing.opening.v1_m = 0.06;
          thing.opening.open_fraction = 1.0;
        }
      dew_variant_add (chamber, dew_chamber_shown (chamber), &thing);
    }
  dew_wish_init (&wish);
  g_strlcpy (wish.name, species, sizeof wish.name);
  g_strlcpy (wish.species, species, sizeof wish.species);
  dew_chamber_add_wish (chamber, &wish);
  return chamber;
}

static void
open_window (Stretched *fixture, const DewChamber *chamber, Size size)
{
  g_autoptr (GError) error = NULL;

  dew_cut_off_init (&fixture->look, pseudo);
  dew_cut_off_know (&fixture->look, chamber);
  fixture->path = g_build_filename (home, "shown" DEW_STORE_SUFFIX, NULL);
  dew_cut_off_keep (&fixture->look, fixture->path);
  dew_cut_off_keep (&fixture->look, "shown" DEW_STORE_SUFFIX);
  dew_cut_off_keep (&fixture->look, "shown");
  g_assert_true (dew_store_create (fixture->path, chamber, TRUE, &error));
  g_assert_no_error (error);
  fixture->window = DEW_WINDOW (dew_window_new (NULL));
  fixture->document = dew_window_document (fixture->window);
  gtk_window_set_default_size (GTK_WINDOW (fixture->window), size.width, size.height);
  g_assert_true (dew_window_open (fixture->window, fixture->path));
  dew_canvas_set_still (dew_window_canvas (fixture->window), TRUE);
  gtk_window_present (GTK_WINDOW (fixture->window));
  gtk_test_widget_wait_for_draw (GTK_WIDGET (fixture->window));
}

static void
close_window (Stretched *fixture)
{
  g_assert_true (dew_document_flush (fixture->document, NULL));
  gtk_window_destroy (GTK_WINDOW (fixture->window));
  g_unlink (fixture->path);
  g_free (fixture->path);
  g_assert_cmpuint (fixture->look.n_labels, >, 0);
  /* Each of them was told; the other windows are looked at all the same. */
  if (fixture->look.n_bad > 0)
    g_test_fail ();
  dew_cut_off_clear (&fixture->look);
}

static void
activate (Stretched *fixture, const char *action)
{
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (fixture->window), action, NULL));
}

/* --- looking ------------------------------------------------------------------- */

static void
unfold (GtkWidget *widget)
{
  if (DEW_IS_FOLD (widget))
    dew_fold_set_open (DEW_FOLD (widget), TRUE);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    unfold (child);
}

static void
look_at_window (Stretched *fixture, const char *where)
{
  GtkWidget *window = GTK_WIDGET (fixture->window);
  int width, height;

  unfold (window);
  gtk_test_widget_wait_for_draw (window);
  gtk_test_widget_wait_for_draw (window);
  fixture->look.where = where;
  dew_cut_off_look (&fixture->look, window);
  gtk_window_get_default_size (GTK_WINDOW (window), &width, &height);
  if (gtk_widget_get_width (window) > width || gtk_widget_get_height (window) > height)
    {
      g_test_message ("%s: the window takes %d x %d of %d x %d", where,
                      gtk_widget_get_width (window), gtk_widget_get_height (window), width, height);
      fixture->look.n_bad++;
    }
}

/* Opens what can be opened in `widget`, one after the other. */
static void
look_at_popovers (Stretched *fixture, GtkWidget *widget, const char *where)
{
  if (!gtk_widget_get_mapped (widget))
    return;
  if (GTK_IS_MENU_BUTTON (widget) && gtk_widget_is_sensitive (widget))
    {
      gtk_menu_button_popup (GTK_MENU_BUTTON (widget));
      look_at_window (fixture, where);
      gtk_menu_button_popdown (GTK_MENU_BUTTON (widget));
      gtk_test_widget_wait_for_draw (GTK_WIDGET (fixture->window));
      return;
    }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    look_at_popovers (fixture, child, where);
}

/* --- panes --------------------------------------------------------------------- */

static guint
thing_of (DewDocument *document, DewThingKind kind)
{
  const DewVariant *variant = dew_document_variant (document);

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind == kind)
        return thing->id;
    }
  return dew_document_add (document, kind);
}

static void
test_panes (gconstpointer size)
{
  static const char *const shown[] = { "win.show-bays", "win.show-enclosure", "win.show-room" };
  g_autoptr (DewChamber) demo = dew_chamber_demo ();
  Stretched fixture;

  open_window (&fixture, demo, *(const Size *) size);
  wait_for_forecast (fixture.document);
  for (guint i = 0; i < G_N_ELEMENTS (shown); i++)
    {
      activate (&fixture, shown[i]);
      look_at_window (&fixture, shown[i]);
    }
  for (int kind = 0; kind < DEW_N_THING_KINDS; kind++)
    {
      guint id = thing_of (fixture.document, (DewThingKind) kind);

      dew_cut_off_know (&fixture.look, dew_document_chamber (fixture.document));
      dew_document_select (fixture.document, id);
      look_at_window (&fixture, dew_thing_kind_key ((DewThingKind) kind));
    }
  activate (&fixture, "win.select-all");
  look_at_window (&fixture, "several things");
  close_window (&fixture);
}

static void
test_choices (gconstpointer size)
{
  g_autoptr (DewChamber) demo = dew_chamber_demo ();
  Stretched fixture;

  open_window (&fixture, demo, *(const Size *) size);
  wait_for_forecast (fixture.document);
  dew_document_set_night (fixture.document, TRUE);
  dew_tongue_choose (DEW_TONGUE_IMPERIAL);
  wait_for_forecast (fixture.document);
  for (int value = 0; value < DEW_N_VALUES; value++)
    {
      dew_document_colour_by (fixture.document, (DewValue) value);
      look_at_window (&fixture, "colours");
    }
  dew_tongue_choose (DEW_TONGUE_METRIC);
  look_at_popovers (&fixture, GTK_WIDGET (fixture.window), "what opens");
  close_window (&fixture);
}

/* --- pages --------------------------------------------------------------------- */

static void
test_pages (gconstpointer size)
{
  static const char *const pages[]
    = { "win.start", "win.new", "win.tour", "win.help", "win.keys", "win.cautions" };
  g_autoptr (DewChamber) demo = dew_chamber_demo ();
  g_autofree char *wrong = NULL;
  Stretched fixture;

  open_window (&fixture, demo, *(const Size *) size);
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      activate (&fixture, pages[i]);
      /* The first sentence of their paragraphs stands out as a title. */
      fixture.look.in_pieces
        = strcmp (pages[i], "win.help") == 0 || strcmp (pages[i], "win.cautions") == 0;
      look_at_window (&fixture, pages[i]);
      fixture.look.in_pieces = FALSE;
      activate (&fixture, "win.leave");
    }
  wait_for_forecast (fixture.document);
  dew_document_copy_variant (fixture.document);
  dew_document_remove (fixture.document, thing_of (fixture.document, DEW_THING_FAN));
  dew_cut_off_know (&fixture.look, dew_document_chamber (fixture.document));
  activate (&fixture, "win.compare");
  wait_for_forecast (fixture.document);
  look_at_window (&fixture, "win.compare");
  look_at_popovers (&fixture, GTK_WIDGET (fixture.window), "compare, what opens");
  activate (&fixture, "win.leave");
  wrong = g_build_filename (home, "wrong" DEW_STORE_SUFFIX, NULL);
  dew_cut_off_keep (&fixture.look, wrong);
  dew_cut_off_keep (&fixture.look, "wrong" DEW_STORE_SUFFIX);
  g_assert_true (g_file_set_contents (wrong, "no database at all", -1, NULL));
  g_assert_false (dew_window_open (fixture.window, wrong));
  look_at_window (&fixture, "trouble");
  g_unlink (wrong);
  close_window (&fixture);
}

/* --- asking -------------------------------------------------------------------- */

static void
test_asking (gconstpointer size)
{
  g_autoptr (DewChamber) chamber = small_chamber ();
  Stretched fixture;

  open_window (&fixture, chamber, *(const Size *) size);
  wait_for_forecast (fixture.document);
  for (guint i = 0; i < dew_n_questions (); i++)
    {
      const char *action = dew_question_action (i);
      DewAsk *asked;

      activate (&fixture, action);
      asked = dew_ask_of (dew_pane_child (dew_window_pane (fixture.window)));
      look_at_window (&fixture, action);
      WAIT_UNTIL (!dew_ask_running (asked));
      look_at_window (&fixture, action);
      look_at_popovers (&fixture, dew_pane_child (dew_window_pane (fixture.window)), action);
    }
  close_window (&fixture);
}

/* --- the sheet ----------------------------------------------------------------- */

typedef struct
{
  double lo[2], hi[2];
  char *word;
} Word;

static void
word_clear (gpointer word)
{
  g_free (((Word *) word)->word);
}

/* The words of a page, as another program finds them. */
static GArray *
words_of (const char *pdf)
{
  const char *command[] = { "pdftotext", "-bbox", pdf, "-", NULL };
  GArray *words = g_array_new (FALSE, FALSE, sizeof (Word));
  g_autoptr (GError) error = NULL;
  g_autoptr (GRegex) line = NULL;
  g_autoptr (GMatchInfo) match = NULL;
  g_autofree char *out = NULL;
  int status;

  g_array_set_clear_func (words, word_clear);
  g_spawn_sync (NULL, (char **) command, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, NULL, &status,
                &error);
  g_assert_no_error (error);
  line = g_regex_new ("<word xMin=\"(.*?)\" yMin=\"(.*?)\" xMax=\"(.*?)\" yMax=\"(.*?)\">"
                      "(.*?)</word>",
                      0, 0, NULL);
  g_regex_match (line, out, 0, &match);
  for (; g_match_info_matches (match); g_match_info_next (match, NULL))
    {
      double at[4];
      Word word;

      for (int i = 0; i < 4; i++)
        {
          g_autofree char *number = g_match_info_fetch (match, i + 1);

          at[i] = g_ascii_strtod (number, NULL);
        }
      word = (Word){ { at[0], at[1] }, { at[2], at[3] }, g_match_info_fetch (match, 5) };
      g_array_append_val (words, word);
    }
  return words;
}

/* Painted words stay on the sheet and off each other. */
static void
look_at_sheet (Stretched *fixture, const char *where)
{
  DewCanvas *canvas = dew_window_canvas (fixture->window);
  double size[2]
    = { gtk_widget_get_width (GTK_WIDGET (canvas)), gtk_widget_get_height (GTK_WIDGET (canvas)) };
  g_autofree char *pdf = g_build_filename (home, "sheet.pdf", NULL);
  cairo_surface_t *surface = cairo_pdf_surface_create (pdf, size[0], size[1]);
  cairo_t *cr = cairo_create (surface);
  g_autoptr (GArray) marks = NULL, words = NULL;
  DewSheetLayout layout;
  DewSheet sheet;

  dew_canvas_describe (canvas, &sheet);
  dew_sheet_layout (&sheet, size[0], size[1], &layout);
  marks = dew_sheet_marks (&sheet, &layout);
  for (guint i = 0; i < marks->len; i++)
    {
      const DewMark *mark = &g_array_index (marks, DewMark, i);

      dew_cut_off_read (&fixture->look, "mark", mark->text);
      dew_cut_off_read (&fixture->look, "mark, unit", mark->unit);
      dew_cut_off_read (&fixture->look, "mark, below", mark->below);
    }
  dew_sheet_paint_layers (cr, &sheet, &layout, DEW_LAYER_INK);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  cairo_surface_destroy (surface);

  words = words_of (pdf);
  g_assert_cmpuint (words->len, >, 10);
  for (guint i = 0; i < words->len; i++)
    {
      const Word *one = &g_array_index (words, Word, i);

      if (one->lo[0] < -0.5 || one->lo[1] < -0.5 || one->hi[0] > size[0] + 0.5
          || one->hi[1] > size[1] + 0.5)
        {
          g_test_message ("%s: '%s' leaves the sheet", where, one->word);
          fixture->look.n_bad++;
        }
      for (guint j = i + 1; j < words->len; j++)
        {
          const Word *other = &g_array_index (words, Word, j);
          double across = MIN (one->hi[0], other->hi[0]) - MAX (one->lo[0], other->lo[0]);
          double down = MIN (one->hi[1], other->hi[1]) - MAX (one->lo[1], other->lo[1]);

          /* The boxes hold the room for accents too, which lines of one text share. */
          if (across > 1.0 && down > 5.0)
            {
              g_test_message ("%s: '%s' lies on '%s' by %.0f x %.0f at %.0f, %.0f", where,
                              one->word, other->word, across, down, one->lo[0], one->lo[1]);
              fixture->look.n_bad++;
            }
        }
    }
  g_unlink (pdf);
}

static void
test_sheet (gconstpointer size)
{
  g_autoptr (DewChamber) demo = dew_chamber_demo ();
  Stretched fixture;

  open_window (&fixture, demo, *(const Size *) size);
  wait_for_forecast (fixture.document);
  fixture.look.where = "sheet";
  fixture.look.n_labels = 1;
  for (int value = 0; value < DEW_N_VALUES; value++)
    {
      dew_document_colour_by (fixture.document, (DewValue) value);
      dew_document_set_plan_bay (fixture.document, value % 4);
      gtk_test_widget_wait_for_draw (GTK_WIDGET (fixture.window));
      look_at_sheet (&fixture, dew_value_label ((DewValue) value));
    }
  close_window (&fixture);
}

/* --- the language -------------------------------------------------------------- */

static void
make_language (void)
{
  g_autofree char *root = g_path_get_dirname (DEW_TESTS_DIR);
  const char *command[]
    = { "python3", DEW_TESTS_DIR "/ui/stretch.py", root, DEW_BUILD_DIR, home, NULL };
  g_autoptr (GError) error = NULL;
  g_autofree char *complaint = NULL;
  int status;

  g_spawn_sync (NULL, (char **) command, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, &complaint,
                &status, &error);
  g_assert_no_error (error);
  if (!g_spawn_check_wait_status (status, NULL))
    g_error ("%s", complaint);
  g_setenv ("LANGUAGE", "qps", TRUE);
}

static void
test_language (void)
{
  if (pseudo)
    g_assert_cmpstr (_ ("Undo"), ==, "[Úúndóó]");
  else
    g_assert_cmpstr (_ ("Undo"), !=, "Undo");
}

#define ADD(path, test, size) g_test_add_data_func (path, &size, test)

int
main (int argc, char **argv)
{
  const char *locales = g_getenv ("DEW_TEST_LOCALES");
  int status;

  home = g_dir_make_tmp ("dewtier-words-XXXXXX", NULL);
  pseudo = locales == NULL;
  if (pseudo)
    make_language ();
  g_setenv ("LC_ALL", "C.UTF-8", TRUE);
  g_setenv ("HOME", home, TRUE);
  g_setenv ("XDG_CONFIG_HOME", home, TRUE);
  g_setenv ("XDG_DATA_HOME", home, TRUE);
  gtk_test_init (&argc, &argv, NULL);
  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, pseudo ? home : locales);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  /* Else a bar is looked at while it slides in. */
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
  dew_theme_follow (gdk_display_get_default ());

  g_test_add_func ("/stretched/language", test_language);
  ADD ("/stretched/panes/small", test_panes, small);
  ADD ("/stretched/panes/large", test_panes, large);
  ADD ("/stretched/choices/small", test_choices, small);
  ADD ("/stretched/choices/large", test_choices, large);
  ADD ("/stretched/pages/small", test_pages, small);
  ADD ("/stretched/pages/large", test_pages, large);
  ADD ("/stretched/asking", test_asking, small);
  ADD ("/stretched/sheet/small", test_sheet, small);
  ADD ("/stretched/sheet/large", test_sheet, large);
  status = g_test_run ();
  g_free (home);
  return status;
}
