/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The document of a window, without a window: what an edit may change, what happens to one
 * that is in somebody's hand, how often the document is copied and checked meanwhile, and
 * that its bands are those of the command line. What is checked follows from the headers;
 * there is no published source. */
#include "document/edit.h"
#include "edit/gesture.h"
#include "forecast/bands.h"

#include <glib/gstdio.h>
#include <math.h>
#include <pthread.h>
#include <string.h>

#define PATIENCE_S 120.0

/* --- counting, by the linker's --wrap --------------------------------------------- */

/* Copies of a document and checks of one, by the main thread and by the one that forecasts;
 * the members of an ensemble have threads of their own. */
static struct
{
  int copies, checks;
} done[2];

static int
who (void)
{
  char name[16] = "";

  pthread_getname_np (pthread_self (), name, sizeof name);
  return strcmp (name, "forecast") == 0 ? 1 : g_str_has_prefix (name, "pool") ? -1 : 0;
}

gpointer __real_g_memdup2 (gconstpointer data, gsize size);
gpointer __wrap_g_memdup2 (gconstpointer data, gsize size);
GArray *__real_dew_chamber_check (const DewChamber *chamber, guint variant_id);
GArray *__wrap_dew_chamber_check (const DewChamber *chamber, guint variant_id);

/* Each copy of a document begins with one of its struct. */
gpointer
__wrap_g_memdup2 (gconstpointer data, gsize size)
{
  if (size == sizeof (DewChamber) && who () >= 0)
    g_atomic_int_inc (&done[who ()].copies);
  return __real_g_memdup2 (data, size);
}

GArray *
__wrap_dew_chamber_check (const DewChamber *chamber, guint variant_id)
{
  if (who () >= 0)
    g_atomic_int_inc (&done[who ()].checks);
  return __real_dew_chamber_check (chamber, variant_id);
}

/* --- fixture ------------------------------------------------------------------------ */

typedef struct
{
  char *folder, *path;
  DewDocument *document;
  guint fan;
  int changed; /* times that it was told */
  char *trouble;
} Desk;

static void
on_changed (Desk *desk)
{
  desk->changed++;
}

static void
on_trouble (DewDocument *document, const char *title, const char *detail, gpointer user_data)
{
  Desk *desk = user_data;

  g_free (desk->trouble);
  desk->trouble = g_strdup (title);
}

/* Small, so that its air is soon computed. */
static void
set_up (Desk *desk, gconstpointer data)
{
  g_autoptr (DewChamber) chamber = dew_chamber_new ();
  DewThing fan;

  for (int axis = 0; axis < 3; axis++)
    chamber->outer_m[axis] = 0.4;
  dew_thing_init (&fan, DEW_THING_FAN);
  fan.fan.x_m = fan.fan.y_m = fan.fan.z_m = 0.2;
  desk->fan = dew_variant_add (chamber, dew_chamber_shown (chamber), &fan)->id;
  desk->folder = g_dir_make_tmp ("dewtier-document-XXXXXX", NULL);
  desk->path = g_build_filename (desk->folder, "a" DEW_STORE_SUFFIX, NULL);
  g_assert_true (dew_store_create (desk->path, chamber, FALSE, NULL));
  desk->document = dew_document_new ();
  g_assert_true (dew_document_open (desk->document, desk->path, NULL));
  g_signal_connect_swapped (desk->document, "changed", G_CALLBACK (on_changed), desk);
  g_signal_connect (desk->document, "trouble", G_CALLBACK (on_trouble), desk);
}

static void
tear_down (Desk *desk, gconstpointer data)
{
  if (desk->document != NULL)
    g_assert_true (dew_document_flush (desk->document, NULL));
  g_clear_object (&desk->document);
  g_unlink (desk->path);
  g_rmdir (desk->folder);
  g_free (desk->trouble);
  g_free (desk->path);
  g_free (desk->folder);
}

static double
fan_x_m (Desk *desk)
{
  return dew_variant_thing (dew_document_variant (desk->document), desk->fan)->fan.x_m;
}

static DewFan *
fan_of (Desk *desk, DewEdit *edit)
{
  return &dew_variant_thing (dew_edit_variant (edit), desk->fan)->fan;
}

/* What is followed to x = 0.1 m and not committed yet. */
static DewEdit *
in_hand (Desk *desk)
{
  DewEdit *edit = dew_document_edit_begin (desk->document);

  fan_of (desk, edit)->x_m = 0.1;
  dew_edit_follow (edit);
  g_assert_cmpfloat (fan_x_m (desk), ==, 0.1);
  g_assert_true (dew_document_lags (desk->document));
  return edit;
}

/* Nothing of it is left, and it was said. */
static void
assert_put_back (Desk *desk, DewEdit *edit)
{
  g_assert_false (dew_edit_is_open (edit));
  g_assert_cmpfloat (fan_x_m (desk), ==, 0.2);
  g_assert_cmpint (desk->changed, >, 0);
  dew_edit_end (edit);
  desk->changed = 0;
}

/* Until it has settled and has its bands. */
static void
wait_for_bands (DewDocument *document)
{
  g_autoptr (GTimer) timer = g_timer_new ();

  while ((dew_document_lags (document) || dew_document_forecast (document) == NULL
          || isnan (dew_document_forecast (document)->all.t_band_K)
          || dew_document_forecast (document)->all.t_band_K <= 0.0)
         && g_timer_elapsed (timer, NULL) < PATIENCE_S)
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpfloat (g_timer_elapsed (timer, NULL), <, PATIENCE_S);
}

/* Whether what is shown has settled while a hand still holds it. */
static gboolean
is_settled (Desk *desk)
{
  const DewForecast *f = dew_document_forecast (desk->document);

  return f != NULL && f->state == DEW_FORECAST_SETTLED && !dew_document_lags (desk->document);
}

/* --- one edit ------------------------------------------------------------------------- */

static void
test_commit (Desk *desk, gconstpointer data)
{
  g_autoptr (DewEdit) edit = dew_document_edit_begin (desk->document);
  g_autoptr (DewChamber) stored = NULL;

  g_assert_true (dew_edit_is_open (edit));
  fan_of (desk, edit)->x_m = 0.1;
  g_assert_cmpint (desk->changed, ==, 0);
  g_assert_true (dew_edit_commit (edit, "Move fan", NULL));
  g_assert_false (dew_edit_is_open (edit));
  g_assert_cmpint (desk->changed, ==, 1);
  g_assert_cmpfloat (fan_x_m (desk), ==, 0.1);
  g_assert_cmpstr (dew_document_can_undo (desk->document), ==, "Move fan");
  g_assert_true (dew_document_flush (desk->document, NULL));
  stored = dew_store_load (desk->path, NULL);
  g_assert_true (dew_chamber_equal (stored, dew_document_chamber (desk->document)));
}

static void
test_end (Desk *desk, gconstpointer data)
{
  DewEdit *edit = dew_document_edit_begin (desk->document);

  fan_of (desk, edit)->x_m = 0.1;
  dew_edit_end (edit);
  g_assert_cmpfloat (fan_x_m (desk), ==, 0.2);
  g_assert_cmpint (desk->changed, ==, 0);
  /* What was followed was seen, so that its end is told. */
  dew_edit_end (in_hand (desk));
  g_assert_cmpfloat (fan_x_m (desk), ==, 0.2);
  g_assert_cmpint (desk->changed, ==, 2);
  g_assert_null (dew_document_can_undo (desk->document));

  /* A step that changes nothing is none. */
  edit = dew_document_edit_begin (desk->document);
  g_assert_false (dew_edit_commit (edit, "Move fan", NULL));
  dew_edit_end (edit);
  g_assert_null (dew_document_can_undo (desk->document));
}

static void
test_restart (Desk *desk, gconstpointer data)
{
  g_autoptr (DewEdit) edit = in_hand (desk);

  g_assert_cmpfloat (fan_of (desk, edit)->x_m, ==, 0.1);
  fan_of (desk, edit)->y_m = 0.3;
  dew_edit_restart (edit);
  g_assert_cmpfloat (fan_of (desk, edit)->x_m, ==, 0.2);
  g_assert_cmpfloat (fan_of (desk, edit)->y_m, ==, 0.2);
  g_assert_true (dew_chamber_equal (dew_edit_before (edit), dew_edit_chamber (edit)));
  fan_of (desk, edit)->x_m = 0.15;
  dew_edit_follow (edit);
  g_assert_cmpfloat (fan_x_m (desk), ==, 0.15);
  g_assert_true (dew_edit_commit (edit, "Move fan", NULL));
  dew_document_undo (desk->document);
  g_assert_cmpfloat (fan_x_m (desk), ==, 0.2);
}

/* What no document may hold is told, and nothing has changed. */
static void
test_trouble (Desk *desk, gconstpointer data)
{
  g_autoptr (DewEdit) edit = dew_document_edit_begin (desk->document);

  fan_of (desk, edit)->x_m = NAN;
  g_assert_false (dew_edit_commit (edit, "Move fan", NULL));
  g_assert_cmpstr (desk->trouble, ==, "This step was not taken");
  g_assert_cmpfloat (fan_x_m (desk), ==, 0.2);
  g_assert_false (dew_edit_is_open (edit));
}

/* A step that could not be saved is told before another document takes the place of this one,
 * and is still there to be copied; who asks again leaves it behind. */
static void
test_unsaved_and_another (Desk *desk, gconstpointer data)
{
  g_autofree char *other = g_build_filename (desk->folder, "b" DEW_STORE_SUFFIX, NULL);
  g_autoptr (DewEdit) edit = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_true (dew_store_create (other, dew_document_chamber (desk->document), FALSE, NULL));
  g_unlink (desk->path);
  edit = dew_document_edit_begin (desk->document);
  fan_of (desk, edit)->x_m = 0.1;
  g_assert_true (dew_edit_commit (edit, "Move fan", NULL));
  g_assert_false (dew_document_open (desk->document, other, &error));
  g_assert_nonnull (strstr (error->message, "could not be saved"));
  g_assert_cmpstr (dew_document_path (desk->document), ==, desk->path);
  g_assert_cmpfloat (fan_x_m (desk), ==, 0.1);
  g_assert_true (dew_document_open (desk->document, other, NULL));
  g_assert_cmpfloat (fan_x_m (desk), ==, 0.2);
  g_clear_object (&desk->document);
  g_unlink (other);
}

/* --- the world goes on ------------------------------------------------------------------ */

static void
test_put_back (Desk *desk, gconstpointer data)
{
  g_autofree char *other = g_build_filename (desk->folder, "b" DEW_STORE_SUFFIX, NULL);
  DewEdit *edit;

  dew_document_set_month (desk->document, 6);
  desk->changed = 0;

  /* Undo takes back what is in the hand, and only that. */
  edit = in_hand (desk);
  dew_document_undo (desk->document);
  assert_put_back (desk, edit);
  g_assert_cmpint (dew_document_chamber (desk->document)->month, ==, 6);
  g_assert_nonnull (dew_document_can_undo (desk->document));

  dew_document_undo (desk->document);
  edit = in_hand (desk);
  dew_document_redo (desk->document);
  assert_put_back (desk, edit);
  g_assert_cmpint (dew_document_chamber (desk->document)->month, ==, 6);

  edit = in_hand (desk);
  dew_document_rename_variant (desk->document, "Another");
  assert_put_back (desk, edit);
  g_assert_cmpstr (dew_document_variant (desk->document)->name, ==, "Another");

  edit = in_hand (desk);
  g_assert_false (dew_document_open (desk->document, other, NULL));
  g_assert_true (dew_edit_is_open (edit));
  g_assert_true (dew_document_save_copy (desk->document, other, NULL));
  assert_put_back (desk, edit);

  edit = in_hand (desk);
  g_assert_true (dew_document_open (desk->document, desk->path, NULL));
  assert_put_back (desk, edit);
  g_unlink (other);

  /* Closing: what was not let go of is not saved. */
  edit = in_hand (desk);
  g_assert_true (dew_document_flush (desk->document, NULL));
  assert_put_back (desk, edit);
  edit = in_hand (desk);
  g_clear_object (&desk->document);
  g_assert_false (dew_edit_is_open (edit));
  dew_edit_end (edit);
}

static void
test_nested (Desk *desk, gconstpointer data)
{
  g_autoptr (DewEdit) edit = dew_document_edit_begin (desk->document);

  fan_of (desk, edit)->x_m = 0.1;
  g_test_expect_message ("dewtier", G_LOG_LEVEL_CRITICAL, "*assertion*");
  g_assert_null (dew_document_edit_begin (desk->document));
  g_test_assert_expected_messages ();
  g_assert_true (dew_edit_is_open (edit));
  g_assert_cmpfloat (fan_of (desk, edit)->x_m, ==, 0.1);
  g_assert_true (dew_edit_commit (edit, "Move fan", NULL));

  /* Nor is anything lent by one that is over. */
  g_test_expect_message ("dewtier", G_LOG_LEVEL_CRITICAL, "*assertion*");
  g_assert_null (dew_edit_chamber (edit));
  g_test_assert_expected_messages ();
}

/* An edit begins with the document, not with what was only looked at. */
static void
test_peek (Desk *desk, gconstpointer data)
{
  DewChamber *other = dew_chamber_copy (dew_document_chamber (desk->document));
  DewEdit *edit;

  dew_variant_thing (dew_chamber_shown (other), desk->fan)->fan.x_m = 0.3;
  dew_document_peek (desk->document, dew_chamber_copy (other), NULL);
  g_assert_cmpfloat (fan_x_m (desk), ==, 0.3);
  edit = dew_document_edit_begin (desk->document);
  g_assert_false (dew_document_peeking (desk->document));
  g_assert_cmpfloat (fan_of (desk, edit)->x_m, ==, 0.2);
  /* And while one is open nothing else is shown. */
  dew_document_peek (desk->document, dew_chamber_copy (other), NULL);
  g_assert_false (dew_document_peeking (desk->document));
  dew_edit_end (edit);

  g_assert_false (dew_document_peek_take (desk->document, "Take it"));
  dew_document_peek (desk->document, other, NULL);
  g_assert_true (dew_document_peek_take (desk->document, "Take it"));
  g_assert_cmpfloat (fan_x_m (desk), ==, 0.3);
  g_assert_cmpstr (dew_document_can_undo (desk->document), ==, "Take it");
}

static void
test_closed (void)
{
  g_autoptr (DewDocument) document = dew_document_new ();

  g_assert_null (dew_document_chamber (document));
  g_assert_null (dew_document_variant (document));
  g_assert_null (dew_document_edit_begin (document));
  dew_document_undo (document);
  dew_document_redo (document);
  dew_edit_end (NULL);
}

/* --- what it costs ------------------------------------------------------------------------ */

/* From what a hand does to the thread that forecasts, and to the file. */
static void
test_one_copy (Desk *desk, gconstpointer data)
{
  const int events = 20;
  g_autoptr (DewEdit) edit = NULL;

  wait_for_bands (desk->document);
  memset (done, 0, sizeof done);
  edit = dew_document_edit_begin (desk->document);
  for (int i = 0; i < events; i++)
    {
      const DewDrag drag = { .grip = { DEW_GRIP_BODY, DEW_VIEW_FRONT, desk->fan },
                             .from_m = { 0.2, 0.2 },
                             .to_m = { 0.2 - 0.005 * i, 0.2 } };
      DewForecast *before = dew_document_forecast (desk->document);
      g_autoptr (GTimer) timer = g_timer_new ();

      dew_edit_restart (edit);
      dew_chamber_drag (dew_edit_chamber (edit), &drag, NULL);
      dew_edit_follow (edit);
      g_assert_cmpfloat_with_epsilon (fan_x_m (desk), drag.to_m[0], 1e-9);
      /* Every fifth is followed for some steps before the next. */
      while (i % 5 == 0 && dew_document_forecast (desk->document) == before
             && g_timer_elapsed (timer, NULL) < PATIENCE_S)
        g_main_context_iteration (NULL, TRUE);
    }
  g_assert_cmpint (done[0].copies, ==, events);
  g_assert_cmpint (done[0].checks, ==, events);
  g_assert_true (dew_edit_commit (edit, "Move fan", NULL));
  g_assert_true (dew_document_flush (desk->document, NULL));
  g_assert_cmpint (done[0].copies, ==, events);
  g_assert_cmpint (done[0].checks, ==, events + 1);
  g_assert_cmpint (done[1].copies, ==, 0);
  g_assert_cmpint (done[1].checks, ==, 0);
}

/* --- what window and command line tell -------------------------------------------------- */

/* Within `share` of each other; 0: the same bit for bit. */
static void
assert_same_bands (const DewClimate *a, const DewClimate *b, double share)
{
  const double of_a[] = { a->t_band_K,       a->w_band_kg_kg, a->rh_band,   a->vpd_band_Pa,
                          a->speed_band_m_s, a->still_band,   a->age_band_s };
  const double of_b[] = { b->t_band_K,       b->w_band_kg_kg, b->rh_band,   b->vpd_band_Pa,
                          b->speed_band_m_s, b->still_band,   b->age_band_s };

  for (guint i = 0; i < G_N_ELEMENTS (of_a); i++)
    g_assert_cmpfloat (fabs (of_a[i] - of_b[i]), <=, share * of_b[i]);
}

static void
assert_same (const DewForecast *shown, const DewForecast *told, double share)
{
  assert_same_bands (&shown->all, &told->all, share);
  g_assert_cmpint (shown->n_bays, ==, told->n_bays);
  for (int i = 0; i < told->n_bays; i++)
    assert_same_bands (&shown->bays[i].mean, &told->bays[i].mean, share);
  g_assert_cmpint (shown->n_places, ==, told->n_places);
  for (int i = 0; i < told->n_places; i++)
    assert_same_bands (&shown->places[i].mean, &told->places[i].mean, share);
}

/* `dewtier forecast FILE` and the window on that file. They come to rest from different
 * starts, and the model's own error is a share of what they find; the spread of the members,
 * which is the rest of a band, is the very same. */
static void
test_bands (Desk *desk, gconstpointer data)
{
  const DewChamber *chamber = dew_document_chamber (desk->document);
  DewForecastOptions options;
  g_autoptr (DewForecast) assured = NULL, told = NULL;
  const DewForecast *shown;

  wait_for_bands (desk->document);
  shown = dew_document_forecast (desk->document);
  dew_forecast_options_init (&options);
  options.members = DEW_BAND_MEMBERS;
  assured = dew_forecast_with_bands (shown, chamber, 0, &options, NULL, NULL);
  g_assert_nonnull (assured);
  assert_same (shown, assured, 0.0);
  told = dew_forecast_new (chamber, 0, &options, NULL, NULL);
  g_assert_nonnull (told);
  assert_same (shown, told, 1e-4);
}

/* Held still, it comes to the very answer that is shown after letting go. */
static void
test_held_still (Desk *desk, gconstpointer data)
{
  g_autoptr (DewForecast) held = NULL;
  g_autoptr (GTimer) timer = g_timer_new ();
  DewEdit *edit = NULL;

  wait_for_bands (desk->document);
  edit = in_hand (desk);
  while (!is_settled (desk) && g_timer_elapsed (timer, NULL) < PATIENCE_S)
    g_main_context_iteration (NULL, TRUE);
  g_assert_true (is_settled (desk));
  g_assert_cmpstr (dew_document_state (desk->document), ==, "settled");
  held = dew_forecast_ref (dew_document_forecast (desk->document));
  g_assert_true (dew_edit_commit (edit, "Move fan", NULL));
  dew_edit_end (edit);
  wait_for_bands (desk->document);
  for (int b = 0; b < held->n_bays; b++)
    g_assert_true (held->bays[b].mean.speed_m_s
                   == dew_document_forecast (desk->document)->bays[b].mean.speed_m_s);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
#define ADD(path, test) g_test_add (path, Desk, NULL, set_up, test, tear_down)
  ADD ("/document/commit", test_commit);
  ADD ("/document/end", test_end);
  ADD ("/document/restart", test_restart);
  ADD ("/document/trouble", test_trouble);
  ADD ("/document/unsaved-and-another", test_unsaved_and_another);
  ADD ("/document/put-back", test_put_back);
  ADD ("/document/nested", test_nested);
  ADD ("/document/peek", test_peek);
  g_test_add_func ("/document/closed", test_closed);
  ADD ("/document/one-copy", test_one_copy);
  ADD ("/document/bands", test_bands);
  ADD ("/document/held-still", test_held_still);
  return g_test_run ();
}
