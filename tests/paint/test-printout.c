/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheet on paper and in files. What a PDF holds is read by poppler's tools. */
#include "sheets/export.h"

#include "run-program.h"
#include "sheet-fixture.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

typedef struct
{
  DewChamber *chamber;
  DewForecast *forecast;
  DewPrintout printout;
  char *folder;
} Scene;

static void
scene_set_up (Scene *scene, gconstpointer data)
{
  DewVariant *variant;

  scene->chamber = fixture_chamber_new ();
  g_strlcpy (scene->chamber->name, "Cellar cabinet", sizeof scene->chamber->name);
  variant = dew_chamber_shown (scene->chamber);
  g_strlcpy (variant->name, "Fan up", sizeof variant->name);
  scene->forecast = fixture_forecast_new (scene->chamber);
  fixture_add_places (scene->forecast);
  fixture_add_finding (scene->forecast, 0.3, 0.2, 0.2, DEW_CAUSE_STILL_AIR);
  dew_printout_init (&scene->printout, scene->chamber, variant, scene->forecast);
  scene->folder = g_dir_make_tmp ("dewtier-printout-XXXXXX", NULL);
}

static void
scene_tear_down (Scene *scene, gconstpointer data)
{
  g_autoptr (GDir) dir = g_dir_open (scene->folder, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (scene->folder, name, NULL);

      g_remove (path);
    }
  g_rmdir (scene->folder);
  g_free (scene->folder);
  dew_printout_clear (&scene->printout);
  fixture_forecast_free (scene->forecast);
  dew_chamber_free (scene->chamber);
}

static char *
in_folder (const Scene *scene, const char *name)
{
  return g_build_filename (scene->folder, name, NULL);
}

/* What a tool says; it must be there and be content. */
static char *
ask (const char *const *words)
{
  g_autoptr (GError) error = NULL;
  char *out = NULL;
  int status;

  g_spawn_sync (NULL, (char **) words, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL, NULL,
                NULL, &out, NULL, &status, &error);
  g_assert_no_error (error);
  g_assert_true (g_spawn_check_wait_status (status, &error));
  return out;
}

#define ASK(...) ask ((const char *const[]){ __VA_ARGS__, NULL })

/* Several blanks and line ends count as one blank. */
static char *
flat (const char *text)
{
  g_autoptr (GRegex) blanks = g_regex_new ("\\s+", 0, 0, NULL);

  return g_regex_replace_literal (blanks, text, -1, 0, " ", 0, NULL);
}

/* --- PDF ---------------------------------------------------------------------------------- */

/* Sizes of paper: ISO 216 and ANSI Y14.1. The page lies when that makes the drawing
 * larger. */
static void
test_pages (Scene *scene, gconstpointer data)
{
  static const struct
  {
    DewPaper paper;
    double outer_m[3];
    const char *size;
  } rows[] = {
    { DEW_PAPER_A4, { 0.7, 0.5, 1.6 }, "595.276 x 841.89 pts (A4)" },
    { DEW_PAPER_A4, { 2.4, 0.5, 0.6 }, "841.89 x 595.276 pts (A4)" },
    { DEW_PAPER_LETTER, { 0.7, 0.5, 1.6 }, "612 x 792 pts (letter)" },
  };
  g_autofree char *path = in_folder (scene, "a.pdf");

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (DewChamber) plain = dew_chamber_new ();
      g_auto (DewPrintout) printout = { 0 };
      g_autoptr (GError) error = NULL;
      g_autofree char *info = NULL, *size = g_strdup_printf ("Page size: %s", rows[i].size);
      g_autofree char *line = NULL;

      memcpy (plain->outer_m, rows[i].outer_m, sizeof plain->outer_m);
      dew_printout_init (&printout, plain, dew_chamber_shown (plain), NULL);
      dew_printout_fit (&printout, rows[i].paper);
      g_assert_true (dew_export_file (&printout, DEW_EXPORT_PDF, 0, path, &error));
      g_assert_no_error (error);
      info = ASK ("pdfinfo", path);
      line = flat (info);
      g_assert_nonnull (strstr (line, size));
      g_assert_nonnull (strstr (line, "Pages: 1 "));
    }
}

static void
test_words (Scene *scene, gconstpointer data)
{
  static const char *const words[] = {
    "Cellar cabinet",
    "Fan up",
    "Scale 1 : ",
    "Page 1 of 2",
    "Page 2 of 2",
    "Still air, floor middle",
    "Turn a fan so that it blows along a wall",
    "1 still",
    "A forecast is a prediction with error",
    "Floor",
    "Lowest shelf",
    "50 %",
    "± 4",
    "7.6 min",
    "no exchange",
    "70 cm",
    "Front",
    "Right side",
    "by day",
    "fitted scale",
  };
  g_autofree char *path = in_folder (scene, "a.pdf");
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL, *line = NULL;

  dew_printout_fit (&scene->printout, DEW_PAPER_A4);
  g_assert_cmpint (dew_printout_pages (&scene->printout), ==, 2);
  g_assert_true (dew_export_file (&scene->printout, DEW_EXPORT_PDF, 0, path, &error));
  g_assert_no_error (error);
  text = ASK ("pdftotext", "-layout", path, "-");
  line = flat (text);
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (strstr (line, words[i]) == NULL)
      g_error ("'%s' is not on the paper", words[i]);
}

/* Between what a page holds and its title block 5 mm stay free: 33 to 38 mm above the
 * lower edge (margin 12 mm, block 21 mm). */
static void
check_gap (const char *path)
{
  const double lo_pt = (297 - 38 + 0.5) / 25.4 * 72, hi_pt = (297 - 33 - 0.5) / 25.4 * 72;
  g_autofree char *boxes = ASK ("pdftotext", "-bbox", path, "-");
  g_autoptr (GRegex) word = g_regex_new ("<word xMin=\"[0-9.]+\" yMin=\"([0-9.]+)\" "
                                         "xMax=\"[0-9.]+\" yMax=\"([0-9.]+)\">([^<]*)",
                                         0, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;
  guint n = 0;

  for (g_regex_match (word, boxes, 0, &match); g_match_info_matches (match);
       g_match_info_next (match, NULL))
    {
      g_autofree char *top = g_match_info_fetch (match, 1), *end = g_match_info_fetch (match, 2);
      g_autofree char *text = g_match_info_fetch (match, 3);

      n++;
      if (g_ascii_strtod (end, NULL) > lo_pt && g_ascii_strtod (top, NULL) < hi_pt)
        g_error ("'%s' runs into the title block", text);
    }
  g_assert_cmpuint (n, >, 100);
}

/* More findings than a page holds go on, none is lost and none is printed twice. */
static void
test_many_findings (Scene *scene, gconstpointer data)
{
  g_autofree char *path = in_folder (scene, "a.pdf");
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  int pages;

  for (int i = 1; i < 40; i++)
    {
      DewFinding *finding;

      fixture_add_finding (scene->forecast, 0.3, 0.2, 0.2, DEW_CAUSE_DRY_AIR);
      finding = &scene->forecast->findings[i];
      finding->kind = DEW_FINDING_DRY;
      g_snprintf (finding->name, sizeof finding->name, "finding number %d here", i + 1);
    }
  pages = dew_printout_pages (&scene->printout);
  g_assert_cmpint (pages, >, 3);
  g_assert_true (dew_export_file (&scene->printout, DEW_EXPORT_PDF, 0, path, &error));
  g_assert_no_error (error);
  check_gap (path);
  text = ASK ("pdftotext", path, "-");
  for (int i = 1; i < 40; i++)
    {
      g_autofree char *title = g_strdup_printf ("finding number %d here", i + 1);
      const char *first = strstr (text, title);

      g_assert_nonnull (first);
      g_assert_null (strstr (first + 1, title));
    }
}

static void
test_same_bytes (Scene *scene, gconstpointer data)
{
  for (int form = DEW_EXPORT_PDF; form <= DEW_EXPORT_PNG; form++)
    {
      g_autoptr (GBytes) one = dew_export_bytes (&scene->printout, form, 900, NULL);
      g_autoptr (GBytes) two = dew_export_bytes (&scene->printout, form, 900, NULL);

      g_assert_nonnull (one);
      g_assert_true (g_bytes_equal (one, two));
    }
}

/* --- to scale --------------------------------------------------------------------------------- */

static cairo_status_t
read_some (void *closure, unsigned char *data, unsigned int length)
{
  GBytes **rest = closure;
  GBytes *after;

  if (g_bytes_get_size (*rest) < length)
    return CAIRO_STATUS_READ_ERROR;
  memcpy (data, g_bytes_get_data (*rest, NULL), length);
  after = g_bytes_new_from_bytes (*rest, length, g_bytes_get_size (*rest) - length);
  g_bytes_unref (*rest);
  *rest = after;
  return CAIRO_STATUS_SUCCESS;
}

/* An empty enclosure in a picture of 20 px a millimetre: across the middle, only walls
 * are of full ink. They must stand as far apart as the scale says. */
static void
test_true_to_scale (Scene *scene, gconstpointer data)
{
  const double px_mm = 20;
  g_autoptr (DewChamber) plain = dew_chamber_new ();
  g_auto (DewPrintout) printout = { 0 };
  g_autoptr (GArray) walls = g_array_new (FALSE, FALSE, sizeof (double));
  GBytes *bytes;
  cairo_surface_t *surface;
  double inner_m[3], scale, first = -1, last = -1;
  int row;

  plain->outer_m[0] = 0.731;
  plain->outer_m[1] = 0.467;
  plain->outer_m[2] = 1.503;
  dew_chamber_inner_m (plain, inner_m);
  dew_printout_init (&printout, plain, dew_chamber_shown (plain), NULL);
  dew_printout_fit (&printout, DEW_PAPER_A4);
  scale = dew_printout_scale (&printout);
  bytes = dew_export_bytes (&printout, DEW_EXPORT_PNG, (int) (printout.page_mm[0] * px_mm), NULL);
  g_assert_nonnull (bytes);
  surface = cairo_image_surface_create_from_png_stream (read_some, &bytes);
  g_bytes_unref (bytes);
  g_assert_cmpint (cairo_surface_status (surface), ==, CAIRO_STATUS_SUCCESS);

  /* Not through the number of the height, nor the hint in the middle. */
  row = (int) (0.28 * cairo_image_surface_get_height (surface));
  for (int x = 0; x < cairo_image_surface_get_width (surface); x++)
    {
      const guchar *px = cairo_image_surface_get_data (surface)
                         + row * cairo_image_surface_get_stride (surface) + x * 4;
      gboolean ink = px[0] < 80 && px[1] < 80 && px[2] < 80;

      if (ink && first < 0)
        first = x;
      if (ink)
        last = x;
      if (!ink && first >= 0)
        {
          double middle = (first + last) / 2;

          g_array_append_val (walls, middle);
          first = -1;
        }
    }
  g_assert_cmpuint (walls->len, ==, 4); /* front and side view */
  g_assert_cmpfloat_with_epsilon (g_array_index (walls, double, 1)
                                    - g_array_index (walls, double, 0),
                                  inner_m[0] * 1000 / scale * px_mm, 1.5);
  g_assert_cmpfloat_with_epsilon (g_array_index (walls, double, 3)
                                    - g_array_index (walls, double, 2),
                                  inner_m[1] * 1000 / scale * px_mm, 1.5);
  cairo_surface_destroy (surface);
}

/* --- pictures -----------------------------------------------------------------------------------
 */

static void
test_pictures (Scene *scene, gconstpointer data)
{
  g_autofree char *png = in_folder (scene, "a.png"), *svg = in_folder (scene, "a.SVG");
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  const GMarkupParser parser = { 0 };
  g_autoptr (GMarkupParseContext) context
    = g_markup_parse_context_new (&parser, G_MARKUP_IGNORE_QUALIFIED, NULL, NULL);
  cairo_surface_t *surface;
  DewExportForm form;
  gsize length;

  g_assert_true (dew_export_form_of (svg, &form));
  g_assert_cmpint (form, ==, DEW_EXPORT_SVG);
  g_assert_false (dew_export_form_of ("a.jpeg", &form));
  g_assert_true (dew_export_file (&scene->printout, DEW_EXPORT_PNG, 1234, png, &error));
  g_assert_no_error (error);
  surface = cairo_image_surface_create_from_png (png);
  g_assert_cmpint (cairo_image_surface_get_width (surface), ==, 1234);
  g_assert_cmpint (cairo_image_surface_get_height (surface), ==, (int) ceil (1234 * 297 / 210.0));
  cairo_surface_destroy (surface);
  g_assert_true (dew_export_file (&scene->printout, DEW_EXPORT_SVG, 0, svg, &error));
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (svg, &text, &length, NULL));
  g_assert_true (g_markup_parse_context_parse (context, text, (gssize) length, &error));
  g_assert_true (g_markup_parse_context_end_parse (context, &error));
  g_assert_nonnull (strstr (text, "width=\"210mm\" height=\"297mm\""));

  g_assert_false (dew_export_file (&scene->printout, DEW_EXPORT_PNG, 5, png, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_INVALID_ARGUMENT);
}

/* --- what can go wrong
 * ---------------------------------------------------------------------------- */

static guint
count_files (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static void
test_errors (Scene *scene, gconstpointer data)
{
  g_autofree char *missing = in_folder (scene, "none/a.svg"), *taken = in_folder (scene, "dir.svg");
  g_autofree char *file = in_folder (scene, "file"), *below = in_folder (scene, "file/a.svg");
  g_autoptr (GError) error = NULL;

  g_assert_false (dew_export_file (&scene->printout, DEW_EXPORT_SVG, 0, missing, &error));
  g_assert_error (error, G_FILE_ERROR, G_FILE_ERROR_NOENT);
  g_assert_nonnull (strstr (error->message, "there is no folder"));
  g_clear_error (&error);

  g_assert_true (g_file_set_contents (file, "x", 1, NULL));
  g_assert_false (dew_export_file (&scene->printout, DEW_EXPORT_SVG, 0, below, &error));
  g_assert_nonnull (strstr (error->message, "there is no folder"));
  g_clear_error (&error);

  g_assert_cmpint (g_mkdir (taken, 0700), ==, 0);
  g_assert_false (dew_export_file (&scene->printout, DEW_EXPORT_SVG, 0, taken, &error));
  g_assert_nonnull (strstr (error->message, "folder"));
  /* Nothing half-written stays behind. */
  g_assert_cmpuint (count_files (scene->folder), ==, 2);
}

/* --- the command
 * ------------------------------------------------------------------------------------ */

#define RUN(power, err, ...) \
  test_program_run (power, NULL, err, (const char *const[]){ __VA_ARGS__, NULL })

/* Without a display; the colour, the paper and the unit reach the page. */
static void
test_command (Scene *scene, gconstpointer data)
{
  g_autofree char *demo = in_folder (scene, "demo.dewtier"), *pdf = in_folder (scene, "o.pdf");
  g_autofree char *again = in_folder (scene, "p.pdf"), *locked = in_folder (scene, "locked");
  g_autofree char *blocked = in_folder (scene, "locked/o.pdf");
  g_autofree char *err = NULL, *text = NULL, *line = NULL, *one = NULL, *two = NULL;
  gsize size_one, size_two;

  g_assert_cmpint (RUN (TEST_AS_WE_ARE, NULL, "demo", demo), ==, 0);
  g_assert_cmpint (RUN (TEST_AS_WE_ARE, &err, "sheet", demo, pdf, "--night", "--colour", "warmth",
                        "--paper", "letter", "--units", "imperial", "--fixed"),
                   ==, 0);
  g_assert_cmpstr (err, ==, "");
  g_assert_cmpint (RUN (TEST_AS_WE_ARE, NULL, "sheet", demo, again, "--night", "--colour", "warmth",
                        "--paper", "letter", "--units", "imperial", "--fixed"),
                   ==, 0);
  g_assert_true (g_file_get_contents (pdf, &one, &size_one, NULL));
  g_assert_true (g_file_get_contents (again, &two, &size_two, NULL));
  g_assert_cmpmem (one, size_one, two, size_two);
  {
    g_autofree char *svg = in_folder (scene, "o.svg"), *first = NULL, *second = NULL;

    g_assert_cmpint (RUN (TEST_AS_WE_ARE, NULL, "sheet", demo, svg, "--bare"), ==, 0);
    g_assert_true (g_file_get_contents (svg, &first, NULL, NULL));
    g_assert_cmpint (RUN (TEST_AS_WE_ARE, NULL, "sheet", demo, svg, "--bare"), ==, 1);
    g_assert_cmpint (RUN (TEST_AS_WE_ARE, NULL, "sheet", demo, svg, "--bare", "--replace"), ==, 0);
    g_assert_true (g_file_get_contents (svg, &second, NULL, NULL));
    g_assert_cmpstr (first, ==, second);
  }
  text = ASK ("pdftotext", "-layout", pdf, "-");
  line = flat (text);
  g_assert_nonnull (strstr (line, "by night"));
  g_assert_nonnull (strstr (line, "fixed scale"));
  g_assert_nonnull (strstr (line, "°F"));
  g_assert_null (strstr (line, " cm"));

  g_free (g_steal_pointer (&err));
  g_assert_cmpint (RUN (TEST_AS_WE_ARE, &err, "sheet", demo, "o.gif"), ==, 2);
  g_assert_nonnull (strstr (err, "o.gif"));
  g_free (g_steal_pointer (&err));
  g_assert_cmpint (RUN (TEST_AS_WE_ARE, &err, "sheet", "--replace", demo, pdf, "--colour", "blue"),
                   ==, 2);
  g_assert_nonnull (strstr (err, "humidity"));
  g_free (g_steal_pointer (&err));
  g_assert_cmpint (RUN (TEST_AS_WE_ARE, &err, "sheet", "--replace", demo, pdf, "--plan", "99"), ==,
                   1);
  g_free (g_steal_pointer (&err));
  g_assert_cmpint (RUN (TEST_AS_WE_ARE, &err, "sheet", "--replace", demo, pdf, "--width", "1"), ==,
                   2);

  g_assert_cmpint (g_mkdir (locked, 0555), ==, 0);
  g_free (g_steal_pointer (&err));
  g_assert_cmpint (RUN (TEST_BOUND_BY_MODES, &err, "sheet", demo, blocked, "--bare"), ==, 1);
  g_assert_nonnull (strstr (err, "may not be written"));
  g_assert_cmpuint (count_files (locked), ==, 0);
}

int
main (int argc, char **argv)
{
  static const struct
  {
    const char *name;
    void (*run) (Scene *scene, gconstpointer data);
  } tests[] = {
    { "/paint/printout/pages", test_pages },
    { "/paint/printout/words", test_words },
    { "/paint/printout/many-findings", test_many_findings },
    { "/paint/printout/same-bytes", test_same_bytes },
    { "/paint/printout/true-to-scale", test_true_to_scale },
    { "/paint/printout/pictures", test_pictures },
    { "/paint/printout/errors", test_errors },
    { "/paint/printout/command", test_command },
  };

  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (tests); i++)
    g_test_add (tests[i].name, Scene, NULL, scene_set_up, tests[i].run, scene_tear_down);
  return g_test_run ();
}
