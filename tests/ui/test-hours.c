/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page on living with it, as a grower meets it: from the menu's action to what is said. */
#include "fixture.h"

#include "day/day.h"
#include "paint/hours.h"

static GtkWidget *
page_of (Fixture *fixture)
{
  GtkWidget *stack = gtk_widget_get_ancestor (fixture->canvas, GTK_TYPE_STACK);

  return gtk_stack_get_child_by_name (GTK_STACK (stack), "hours");
}

/* Reached from the menu; a day, its plants and its water are told. */
static void
test_day (Fixture *fixture, gconstpointer data)
{
  guint focusable = 0;

  wait_for_forecast (fixture->document);
  fixture_act (fixture, "win.hours");
  g_assert_nonnull (page_of (fixture));
  WAIT_UNTIL (says (page_of (fixture), "Water from the humidifier"));
  g_assert_true (says (page_of (fixture), "At 12:00"));
  g_assert_true (says (page_of (fixture), "Outside their wishes"));
  g_assert_cmpuint (count_unnamed (page_of (fixture), &focusable), ==, 0);
  g_assert_cmpuint (focusable, >, 5);
}

/* The day is played to its end, and stops there. */
static void
test_play (Fixture *fixture, gconstpointer data)
{
  GtkWidget *play;

  wait_for_forecast (fixture->document);
  fixture_act (fixture, "win.hours");
  WAIT_UNTIL (says (page_of (fixture), "At 12:00"));
  play = find_button (page_of (fixture), "Play the day");
  g_assert_nonnull (play);
  g_signal_emit_by_name (play, "clicked");
  WAIT_UNTIL (says (page_of (fixture), "At 0:00"));
  WAIT_UNTIL (find_button (page_of (fixture), "Play the day") != NULL);
}

/* Across is time, from end to end. */
static void
test_pointer (void)
{
  double times[] = { 0.0, 43200.0, 86400.0 };
  DewDay day = { .n = 3, .time_s = times, .n_bays = 2 };
  DewHours hours = { .day = &day, .font_px = 13.0 };
  double left = 0.0, right = 0.0;

  for (double x = 0.0; x < 800.0; x += 1.0)
    {
      double t = dew_hours_time_at (&hours, 800.0, x);

      if (t <= 0.0)
        left = x;
      if (t < 86400.0)
        right = x;
    }
  g_assert_cmpfloat_with_epsilon (dew_hours_time_at (&hours, 800.0, 0.5 * (left + right)), 43200.0,
                                  200.0);
}

int
main (int argc, char **argv)
{
  fixture_begin (&argc, &argv);
  FIXTURE_ADD ("/hours/day", test_day);
  FIXTURE_ADD ("/hours/play", test_play);
  g_test_add_func ("/hours/pointer", test_pointer);
  return g_test_run ();
}
