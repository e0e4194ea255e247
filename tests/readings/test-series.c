/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings as bytes, and in a document. */
#include "say/diary.h"
#include "store/notes.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#define MORNING_S (20484 * G_GINT64_CONSTANT (86400) + 8 * 3600)

static GArray *
random_readings (GRand *random, guint n, gint64 from_s)
{
  GArray *out = g_array_new (FALSE, FALSE, sizeof (DewReading));
  gint64 at_s = from_s;

  for (guint i = 0; i < n; i++)
    {
      DewReading r = { .time_s = at_s };

      r.t_C = g_rand_int (random) % 50 == 0
                ? NAN
                : (float) g_rand_int_range (random, -900, 5000) / 100.0f;
      r.rh = g_rand_int (random) % 50 == 0 ? NAN
                                           : (float) g_rand_int_range (random, 0, 10000) / 10000.0f;
      r.source = (guint16) (i / 100);
      r.marks = g_rand_int (random) % 30 == 0 ? DEW_MARK_DOUBTED : 0;
      g_array_append_val (out, r);
      at_s += g_rand_int_range (random, 1, 700);
    }
  return out;
}

static gboolean
same (float a, float b, float slack)
{
  return (isnan (a) && isnan (b)) || fabsf (a - b) <= slack;
}

static void
assert_same (const GArray *is, const GArray *wanted)
{
  g_assert_cmpuint (is->len, ==, wanted->len);
  for (guint i = 0; i < is->len; i++)
    {
      const DewReading *a = &g_array_index (is, DewReading, i);
      const DewReading *b = &g_array_index (wanted, DewReading, i);

      g_assert_cmpint (a->time_s, ==, b->time_s);
      g_assert_true (same (a->t_C, b->t_C, 0.0051f) && same (a->rh, b->rh, 0.000051f));
    }
}

static void
test_pack (void)
{
  GRand *random = g_rand_new_with_seed (4);
  g_autoptr (GArray) readings = random_readings (random, 200, 20484 * DEW_DAY_S);
  g_autoptr (GArray) back = g_array_new (FALSE, FALSE, sizeof (DewReading));
  g_autoptr (GByteArray) bytes = NULL;
  guint n = 0;

  while (n < readings->len && g_array_index (readings, DewReading, n).time_s < 20485 * DEW_DAY_S)
    n++;
  g_array_set_size (readings, n);
  bytes = dew_day_pack ((const DewReading *) readings->data, n, 20484);
  g_assert_true (dew_day_unpack (bytes->data, bytes->len, 20484, back));
  assert_same (back, readings);
  for (guint i = 0; i < n; i++)
    {
      g_assert_cmphex (g_array_index (back, DewReading, i).marks, ==,
                       g_array_index (readings, DewReading, i).marks);
      g_assert_cmpuint (g_array_index (back, DewReading, i).source, ==,
                        g_array_index (readings, DewReading, i).source);
    }
  /* Damaged bytes are refused or give readings of that day. */
  for (int round = 0; round < 20000; round++)
    {
      guint at = (guint) g_rand_int_range (random, 0, (int) bytes->len);
      guint8 was = bytes->data[at];
      g_autoptr (GArray) odd = g_array_new (FALSE, FALSE, sizeof (DewReading));

      bytes->data[at] = (guint8) g_rand_int (random);
      if (dew_day_unpack (bytes->data, (gsize) g_rand_int_range (random, 0, (int) bytes->len + 1),
                          20484, odd))
        for (guint i = 0; i < odd->len; i++)
          g_assert_cmpint (dew_reading_day (g_array_index (odd, DewReading, i).time_s), ==, 20484);
      bytes->data[at] = was;
    }
  g_rand_free (random);
}

static void
test_quarters (void)
{
  DewReading r[] = { { 20484 * DEW_DAY_S, 10.0f, 0.5f, 0, 0 },
                     { 20484 * DEW_DAY_S + 60, 14.0f, NAN, 0, 0 },
                     { 20484 * DEW_DAY_S + 120, 99.0f, 0.9f, 0, DEW_MARK_DOUBTED },
                     { 20484 * DEW_DAY_S + 900, 11.0f, 0.7f, 0, 0 } };
  DewQuarter quarters[DEW_QUARTERS], back[DEW_QUARTERS];
  g_autoptr (GByteArray) bytes = NULL;

  dew_day_quarters (r, G_N_ELEMENTS (r), 20484, quarters);
  bytes = dew_quarters_pack (quarters);
  g_assert_true (dew_quarters_unpack (bytes->data, bytes->len, back));
  g_assert_cmpfloat (back[0].t_C[0], ==, 10.0f);
  g_assert_cmpfloat (back[0].t_C[1], ==, 12.0f);
  g_assert_cmpfloat (back[0].t_C[2], ==, 14.0f);
  g_assert_cmpfloat (back[1].rh[1], ==, 0.7f);
  g_assert_true (isnan (back[2].t_C[1]));
}

/* --- in a document ----------------------------------------------------------------- */

typedef struct
{
  char *folder, *path;
} Desk;

static Desk
desk_new (void)
{
  Desk desk = { .folder = g_dir_make_tmp ("dewtier-series-XXXXXX", NULL) };
  g_autoptr (DewChamber) demo = dew_chamber_demo ();
  g_autoptr (GError) error = NULL;

  desk.path = g_build_filename (desk.folder, "a" DEW_STORE_SUFFIX, NULL);
  dew_store_create (desk.path, demo, FALSE, &error);
  g_assert_no_error (error);
  return desk;
}

static void
desk_clear (Desk *desk)
{
  g_autofree char *other = g_build_filename (desk->folder, "b" DEW_STORE_SUFFIX, NULL);

  g_unlink (other);
  g_unlink (desk->path);
  g_rmdir (desk->folder);
  g_free (desk->path);
  g_free (desk->folder);
}

static GArray *
all_of (const char *path, const char *name)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewSeries) series = dew_series_open (path, &error);
  DewLogger logger;
  GArray *out;

  g_assert_no_error (error);
  g_assert_true (dew_series_logger (series, name, &logger, &error));
  out = dew_series_readings (series, &logger, logger.first_day * DEW_DAY_S,
                             (logger.last_day + 1) * DEW_DAY_S, FALSE, &error);
  g_assert_no_error (error);
  return out;
}

/* Two imports that overlap, between saves of the document that do not touch them; then a copy
 * under another name has them too. */
static void
test_document (void)
{
  Desk desk = desk_new ();
  g_autofree char *other = g_build_filename (desk.folder, "b" DEW_STORE_SUFFIX, NULL);
  GRand *random = g_rand_new_with_seed (9);
  g_autoptr (GArray) readings = random_readings (random, 3000, MORNING_S);
  g_autoptr (GArray) first = g_array_copy (readings), second = g_array_copy (readings);
  g_autoptr (GArray) there = NULL, copied = NULL;
  g_autoptr (GError) error = NULL;
  DewStore *store = dew_store_open (desk.path, &error);
  g_autoptr (DewHistory) history = dew_store_history (store);
  g_autoptr (DewChamber) wider = dew_chamber_copy (dew_history_present (history));
  DewMerge merge;
  DewLogger logger;
  gint64 before_s = g_get_real_time () / G_USEC_PER_SEC;

  for (guint i = 0; i < readings->len; i++)
    g_array_index (readings, DewReading, i).marks = 0;
  g_array_set_size (first, 2000);
  g_array_remove_range (second, 0, 1000);
  dew_logger_init (&logger, "Upper hygrometer");
  g_assert_true (dew_series_add (store, &logger, second, "late.csv", "", &merge, &error));
  g_assert_cmpuint (merge.added, ==, 2000);

  wider->outer_m[0] = 0.95;
  g_assert_true (dew_history_push (history, wider, "Widen", NULL, &error));
  dew_store_save (store, history, NULL, NULL);
  g_assert_true (dew_series_add (store, &logger, first, "early.csv", "", &merge, &error));
  g_assert_cmpuint (merge.added, ==, 1000);
  g_assert_cmpuint (merge.same, ==, 1000);
  dew_store_save (store, history, NULL, NULL);
  g_assert_true (dew_store_flush (store, &error));
  g_assert_no_error (error);
  dew_store_close (store);

  there = all_of (desk.path, "Upper hygrometer");
  assert_same (there, readings);
  store = dew_store_open (desk.path, &error);
  g_clear_pointer (&history, dew_history_free);
  history = dew_store_history (store);
  g_assert_cmpfloat (dew_history_present (history)->outer_m[0], ==, 0.95);
  g_assert_cmpint (dew_history_made_s (history, 1), >=, before_s);
  g_assert_true (dew_store_create_copy (other, history, desk.path, FALSE, &error));
  dew_store_close (store);
  copied = all_of (other, "Upper hygrometer");
  assert_same (copied, readings);
  g_rand_free (random);
  desk_clear (&desk);
}

/* A task that fails in the middle leaves nothing. */
static void
test_whole (void)
{
  Desk desk = desk_new ();
  GRand *random = g_rand_new_with_seed (9);
  g_autoptr (GArray) readings = random_readings (random, 500, MORNING_S);
  g_autoptr (GError) error = NULL;
  DewStore *store = dew_store_open (desk.path, NULL);
  DewSeries *series;
  DewLogger logger;
  DewMerge merge;

  dew_logger_init (&logger, "Upper hygrometer");
  logger.rh_error = 3.0; /* beyond what the file takes */
  g_assert_false (dew_series_add (store, &logger, readings, "a.csv", "", &merge, &error));
  g_assert_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT);
  dew_store_close (store);
  series = dew_series_open (desk.path, NULL);
  g_assert_false (dew_series_logger (series, "Upper hygrometer", &logger, NULL));
  dew_series_close (series);
  g_rand_free (random);
  desk_clear (&desk);
}

/* A mark by hand survives more readings of that day. */
static void
test_marked (void)
{
  Desk desk = desk_new ();
  g_autoptr (GArray) readings = g_array_new (FALSE, FALSE, sizeof (DewReading));
  g_autoptr (GArray) more = g_array_new (FALSE, FALSE, sizeof (DewReading));
  g_autoptr (GArray) there = NULL;
  g_autoptr (GError) error = NULL;
  DewStore *store = dew_store_open (desk.path, NULL);
  DewLogger logger;
  DewMerge merge;
  guint n;

  for (int i = 0; i < 10; i++)
    {
      DewReading r = { MORNING_S + 600 * i, 15.0f, 0.8f, 0, 0 };

      g_array_append_val (readings, r);
      r.time_s += 60;
      g_array_append_val (more, r);
    }
  dew_logger_init (&logger, "Upper hygrometer");
  g_assert_true (dew_series_add (store, &logger, readings, "a.csv", "", &merge, &error));
  g_assert_true (
    dew_series_mark (store, &logger, MORNING_S, MORNING_S + 1200, DEW_MARK_DOUBTED, &n, &error));
  g_assert_cmpuint (n, ==, 2);
  g_assert_true (dew_series_add (store, &logger, more, "b.csv", "", &merge, &error));
  dew_store_close (store);
  there = all_of (desk.path, "Upper hygrometer");
  g_assert_cmpuint (there->len, ==, 20);
  g_assert_false (dew_reading_counts (&g_array_index (there, DewReading, 0)));
  g_assert_true (dew_reading_counts (&g_array_index (there, DewReading, 1)));
  g_assert_false (dew_reading_counts (&g_array_index (there, DewReading, 2)));
  g_assert_true (dew_reading_counts (&g_array_index (there, DewReading, 4)));
  desk_clear (&desk);
}

/* --- the journal -------------------------------------------------------------------- */

/* Ten weeks at ten minutes: 84 % until a vent is opened wide in the sixth, 70 % from then on; a
 * note of another change a month before, and one that the front was left open. */
static void
test_ten_weeks (void)
{
  Desk desk = desk_new ();
  g_autoptr (GArray) readings = g_array_new (FALSE, FALSE, sizeof (DewReading));
  g_autoptr (GError) error = NULL;
  DewStore *store = dew_store_open (desk.path, NULL);
  g_autoptr (DewHistory) history = dew_store_history (store);
  g_autoptr (DewChamber) moved = dew_chamber_copy (dew_history_present (history));
  g_autoptr (DewSeries) series = NULL;
  g_autofree char *text = NULL;
  gint64 fell_s = MORNING_S + 42 * (gint64) DEW_DAY_S;
  const struct
  {
    gint64 after_s;
    DewNoteKind kind;
    const char *text;
  } notes[] = { { -28 * (gint64) DEW_DAY_S, DEW_NOTE_CHANGE, "Fan turned to the wall" },
                { 0, DEW_NOTE_CHANGE, "Opened the top vent" },
                { 20 * (gint64) DEW_DAY_S, DEW_NOTE_REFILL, "Tank filled" } };
  DewReport about = { .file = desk.path, .chamber = moved, .variant = dew_chamber_shown (moved) };
  DewLogger logger;
  DewMerge merge;

  for (gint64 s = MORNING_S; s < MORNING_S + 70 * (gint64) DEW_DAY_S; s += 600)
    {
      DewReading r = { s, 16.0f, s < fell_s ? 0.84f : 0.70f, 0, 0 };

      r.rh += (float) (s / 600 % 3) * 0.001f;
      g_array_append_val (readings, r);
    }
  dew_logger_init (&logger, "Upper hygrometer");
  g_assert_true (dew_series_add (store, &logger, readings, "ten-weeks.csv", "", &merge, &error));
  for (guint i = 0; i < G_N_ELEMENTS (notes); i++)
    {
      DewNote note = { .time_s = fell_s + notes[i].after_s,
                       .kind = notes[i].kind,
                       .text = (char *) notes[i].text };

      g_assert_true (dew_series_note (store, &note, NULL, &error));
    }
  g_assert_true (dew_series_set_care (store, DEW_NOTE_RINSE, 7 * DEW_DAY_S, &error));
  moved->outer_m[0] = 0.95;
  g_assert_true (dew_history_push (history, moved, "Widen", NULL, &error));
  dew_history_set_made_s (history, 1, fell_s + 3600);
  dew_store_save (store, history, NULL, NULL);
  g_assert_true (dew_store_flush (store, &error));
  dew_store_close (store);

  series = dew_series_open (desk.path, &error);
  text = dew_report_diary_text (&about, series, fell_s + 29 * (gint64) DEW_DAY_S, &error);
  g_assert_no_error (error);
  g_assert_nonnull (strstr (text, "Opened the top vent  (inside 84 % the three days before, 70 % "
                                  "after)"));
  g_assert_nonnull (strstr (text, "Fan turned to the wall  (inside 84 % the three days before, "
                                  "84 % after)"));
  g_assert_nonnull (strstr (text, "In the document: Widen"));
  g_assert_nonnull (strstr (text, "Rinse the humidifier: never noted"));
  g_assert_true (strstr (text, "Opened the top vent") < strstr (text, "Tank filled"));
  desk_clear (&desk);
}

/* A photograph comes back byte by byte; what is none is refused. */
static void
test_photo (void)
{
  Desk desk = desk_new ();
  g_autofree char *path = g_build_filename (desk.folder, "leaf.png", NULL);
  static const char picture[] = "\x89PNG\r\n\x1a\n and more";
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) notes = NULL;
  g_autoptr (GBytes) back = NULL;
  DewStore *store = dew_store_open (desk.path, NULL);
  DewSeries *series;
  DewNote note = { .time_s = MORNING_S, .kind = DEW_NOTE_PLANT, .text = (char *) "A spot" };

  g_assert_true (g_file_set_contents (path, picture, sizeof picture, NULL));
  g_strlcpy (note.about, "Masdevallia", sizeof note.about);
  g_assert_true (dew_series_note (store, &note, path, &error));
  g_assert_true (g_file_set_contents (path, "GIF89a", 6, NULL));
  g_assert_false (dew_series_note (store, &note, path, &error));
  g_assert_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT);
  g_clear_error (&error);
  dew_store_close (store);
  series = dew_series_open (desk.path, &error);
  notes = dew_series_notes (series, &error);
  g_assert_cmpuint (notes->len, ==, 1);
  g_assert_cmpuint (g_array_index (notes, DewNote, 0).n_photos, ==, 1);
  g_assert_cmpstr (g_array_index (notes, DewNote, 0).about, ==, "Masdevallia");
  back = dew_series_photo (series, g_array_index (notes, DewNote, 0).id, &error);
  g_assert_cmpmem (g_bytes_get_data (back, NULL), g_bytes_get_size (back), picture, sizeof picture);
  dew_series_close (series);
  g_unlink (path);
  desk_clear (&desk);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/series/pack", test_pack);
  g_test_add_func ("/series/quarters", test_quarters);
  g_test_add_func ("/series/document", test_document);
  g_test_add_func ("/series/whole", test_whole);
  g_test_add_func ("/series/marked", test_marked);
  g_test_add_func ("/series/ten-weeks", test_ten_weeks);
  g_test_add_func ("/series/photo", test_photo);
  return g_test_run ();
}
