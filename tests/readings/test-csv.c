/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tables of readings of many shapes, and such as are none. Zones and their summer time are those
 * of the IANA time zone database; times of change in Germany (Directive 2000/84/EC): the last
 * Sundays of March and October at 01:00 UTC. */
#include "readings/csv.h"

#include <locale.h>
#include <math.h>
#include <string.h>

typedef struct
{
  char *text;
  gsize length;
  DewCsvShape shape;
  DewCsvLook look;
  DewCsvTable table;
} Case;

static void
case_clear (Case *c)
{
  g_free (c->text);
  dew_csv_look_clear (&c->look);
  dew_csv_table_clear (&c->table);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Case, case_clear)

static gboolean
look (Case *c, const char *bytes, gsize n)
{
  DewCsvProblem problem;

  c->text = dew_csv_text (bytes, n, &c->length, &problem);
  return c->text != NULL && dew_csv_look (c->text, c->length, &c->shape, &c->look);
}

static void
look_and_read (Case *c, const char *text)
{
  g_assert_true (look (c, text, strlen (text)));
  g_assert_cmphex (c->look.ask, ==, 0);
  g_assert_true (dew_csv_read (c->text, c->length, &c->shape, NULL, NULL, &c->table));
}

static const DewReading *
reading (const Case *c, guint i)
{
  g_assert_cmpuint (i, <, c->table.readings->len);
  return &g_array_index (c->table.readings, DewReading, i);
}

/* 2026-01-31 08:00 UTC: 20484 days (365.2425 of them a year) and eight hours. */
#define MORNING_S (20484 * G_GINT64_CONSTANT (86400) + 8 * 3600)

/* The same two readings in many shapes: 18.5 C, 71.2 %, then five minutes later 18.4 C, 71.3 %. */
static void
test_shapes (void)
{
  static const struct
  {
    const char *text;
    DewCsvShape told;
  } cases[] = {
    { "2026-01-31 08:00,18.5 C,71.2 %\n2026-01-31 08:05,18.4 C,71.3 %\n",
      { .zone = "UTC", .date_column = 1, .t_column = 2, .rh_column = 3 } },
    { "time,temperature (C),humidity (%)\r\n2026-01-31T08:00:00Z,18.5,71.2\r\n"
      "2026-01-31T08:05:00Z,18.4,71.3\r\n",
      { 0 } },
    { "\357\273\277time;temp \302\260C;rh\n31.01.2026 09:00;18,5;71,2\n31.01.2026 09:05;18,4;71,3",
      { .zone = "Europe/Berlin" } },
    { "Date\tTime\tTemp(F)\tHumidity(%)\n01/31/2026\t8:00 AM\t65.3\t71.2\n01/31/2026\t8:05 "
      "AM\t65.12\t71.3\n",
      { .zone = "UTC" } },
    { "made by an invented logger\nserial;7\n\n\"Zeit\";\"Temperatur [C]\";\"Feuchte [%]\"\n"
      "\"31.01.26 08:00:00\";\"18,5\";\"71,2\"\n\"31.01.26 08:05:00\";\"18,4\";\"71,3\"\n",
      { .zone = "UTC" } },
    { "stamp,t_C,rh\n1769846400,18.5,0.712\n1769846700,18.4,0.713\n",
      { .humidity = DEW_HUMIDITY_SHARE } },
    { "stamp,t_C,rh %\n1769846400000,18.5,71.2\n1769846700000,18.4,71.3\n", { 0 } },
    { "t,Temp (C),Hum %\n31-Jan-2026 08:00,18.5,71.2\n31-Jan-2026 08:05,18.4,71.3\n",
      { .zone = "UTC" } },
    { "t,Temp (C),Hum %\n\"Jan 31, 2026 8:00:00 PM\",18.5,71.2\n\"Jan 31, 2026 8:05:00 "
      "PM\",18.4,71.3\n",
      { .zone = "+12:00" } },
    { "t|Temp (C)|Hum %\n20260131T080000+00:00|18.5|71.2\n20260131T080500+00:00|18.4|71.3\n",
      { 0 } },
    { "t;Temp (C);Hum %\n2026-01-31 08:05:00.000+0000;18.4;71.3\n2026-01-31 08:00:00.000+0000;18.5;"
      "71.2\n2026-01-31 07:55:00.000+0000;;\n",
      { 0 } },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (Case) c = { .shape = cases[i].told };

      g_test_message ("shape %u", i);
      look_and_read (&c, cases[i].text);
      g_assert_cmpuint (c.table.n_problems, ==, 0);
      g_assert_cmpuint (c.table.readings->len, ==, 2);
      g_assert_cmpint (reading (&c, 0)->time_s, ==, MORNING_S);
      g_assert_cmpint (reading (&c, 1)->time_s, ==, MORNING_S + 300);
      g_assert_cmpfloat_with_epsilon (reading (&c, 0)->t_C, 18.5f, 1e-4f);
      g_assert_cmpfloat_with_epsilon (reading (&c, 1)->rh, 0.713f, 1e-5f);
    }
}

/* UTF-16 with its mark, as some programs export. */
static void
test_utf16 (void)
{
  static const char text[] = "time,t \302\260C,rh %\n2026-01-31 08:00,18.5,71.2\n";
  g_auto (Case) c = { .shape = { .zone = "UTC" } };
  g_autofree char *wide = NULL;
  gsize n;

  wide = g_convert (text, -1, "UTF-16", "UTF-8", NULL, &n, NULL);
  g_assert_true (look (&c, wide, n));
  g_assert_cmphex (c.look.ask, ==, 0);
  g_assert_cmpstr (c.look.head[1], ==, "t \302\260C");
}

/* Nothing is guessed. */
static void
test_asked (void)
{
  static const struct
  {
    const char *text;
    guint ask;
  } cases[] = {
    { "t,temp (C),hum %\n01/02/2026 08:00,18.5,71\n02/02/2026 08:00,18.5,71\n",
      DEW_ASK_DATES | DEW_ASK_ZONE },
    { "t,temp (C),hum %\n01/02/2026 08:00,18.5,71\n13/02/2026 08:00,18.5,71\n", DEW_ASK_ZONE },
    { "t,temp (C),hum %\n01/02/2026 08:00,18.5,71\n02/13/2026 08:00,18.5,71\n", DEW_ASK_ZONE },
    { "t,temp (C),hum %\n13/02/2026 08:00,18.5,71\n02/13/2026 08:00,18.5,71\n",
      DEW_ASK_DATES | DEW_ASK_ZONE },
    { "t,temp,hum %\n2026-01-31T08:00Z,18.5,71\n", DEW_ASK_DEGREES },
    { "t,temp (C),hum\n2026-01-31T08:00Z,18.5,0.71\n", DEW_ASK_HUMIDITY },
    { "2026-01-31T08:00Z,18.5,71\n", DEW_ASK_COLUMNS },
    { "t,temp 1 (C),temp 2 (C),hum %\n2026-01-31T08:00Z,18.5,17.5,71\n", DEW_ASK_COLUMNS },
    { "t;temp (C);hum %\n2026-01-31T08:00Z;18.5;71,2\n", DEW_ASK_DECIMAL },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (Case) c = { 0 };

      g_test_message ("case %u", i);
      g_assert_true (look (&c, cases[i].text, strlen (cases[i].text)));
      g_assert_cmphex (c.look.ask, ==, cases[i].ask);
      g_assert_cmpint (c.look.is_mixed, ==, i == 3);
    }
}

/* With the day first three days, with the month first some two months: what helps to answer. */
static void
test_evidence (void)
{
  static const char text[]
    = "t,temp (C),rh %\n01/02/2026,18,71\n02/02/2026,18,71\n03/02/2026,18,71\n";
  g_auto (Case) c = { 0 };

  g_assert_true (look (&c, text, strlen (text)));
  g_assert_cmpfloat (c.look.days_if_day_first, ==, 2.0);
  g_assert_cmpfloat (c.look.days_if_month_first, ==, 59.0);
}

static void
test_no_table (void)
{
  static const char *const texts[]
    = { "", "\n\n", "hello", "a,b,c\n1,2,3\n", "2026-01-31 08:00\n", "{\"t\": 3}", "18,5;71\n" };

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_auto (Case) c = { 0 };

      g_assert_false (look (&c, texts[i], strlen (texts[i])));
    }
}

/* Each bad line says where it is bad, and the others are read. */
static void
test_problems (void)
{
  static const char head[] = "time,temp (C),hum %\n2026-01-31 08:00,18.5,71\n";
  static const struct
  {
    const char *line;
    DewCsvProblemCode code;
    guint column, letter;
  } cases[] = {
    { "2026-01-31 08:05,18.5", DEW_CSV_NO_CELL, 3, 1 },
    { "2026-01-31 08:05,abc,71", DEW_CSV_NO_NUMBER, 2, 18 },
    { "2026-01-31 08:05,18.5,7 1", DEW_CSV_NO_NUMBER, 3, 23 },
    { "yesterday,18.5,71", DEW_CSV_NO_DATE, 1, 1 },
    { "2026-02-30 08:05,18.5,71", DEW_CSV_NO_DAY, 1, 1 },
    { "2026-01-31 25:05,18.5,71", DEW_CSV_NO_DAY, 1, 1 },
    { "2026-01-31 08:05,-127,71", DEW_CSV_FAR, 2, 18 },
    { "2026-01-31 08:05,18.5,998", DEW_CSV_FAR, 3, 23 },
    { "\"2026-01-31 08:05,18.5,71", DEW_CSV_NO_END, 1, 1 },
    { "\303\274\303\274,18.5,x", DEW_CSV_NO_DATE, 1, 1 },
    { "2026-01-31 08:05:00,1\302\2608,71", DEW_CSV_NO_NUMBER, 2, 21 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_auto (Case) c = { .shape = { .zone = "UTC" } };
      g_autofree char *text
        = g_strdup_printf ("%s%s\n2026-01-31 08:10,18.4,72\n", head, cases[i].line);
      const DewCsvProblem *problem;

      g_test_message ("%s", cases[i].line);
      look_and_read (&c, text);
      g_assert_cmpuint (c.table.readings->len, ==, 2);
      g_assert_cmpuint (c.table.n_problems, ==, 1);
      problem = &g_array_index (c.table.problems, DewCsvProblem, 0);
      g_assert_cmpint (problem->code, ==, cases[i].code);
      g_assert_cmpuint (problem->line, ==, 3);
      g_assert_cmpuint (problem->column, ==, cases[i].column);
      g_assert_cmpuint (problem->letter, ==, cases[i].letter);
    }
}

/* --- clocks -------------------------------------------------------------------------- */

/* Half hours of wall clock over the night in which summer time ends: 25 October 2026. */
static void
test_summer_ends (void)
{
  g_auto (Case) c = { .shape = { .zone = "Europe/Berlin" } };

  look_and_read (&c, "t;temp (C);rh %\n"
                     "2026-10-25 01:30;15;80\n2026-10-25 02:00;15;80\n2026-10-25 02:30;15;80\n"
                     "2026-10-25 02:00;15;81\n2026-10-25 02:30;15;81\n2026-10-25 03:00;15;80\n");
  g_assert_cmpuint (c.table.readings->len, ==, 6);
  g_assert_cmpuint (c.table.twice_hour, ==, 4);
  g_assert_cmpuint (c.table.backwards, ==, 0);
  for (guint i = 1; i < 6; i++)
    g_assert_cmpint (reading (&c, i)->time_s - reading (&c, i - 1)->time_s, ==, 1800);
}

/* The night in which it begins: 29 March 2026. */
static void
test_summer_begins (void)
{
  g_auto (Case) c = { .shape = { .zone = "Europe/Berlin" } };
  g_auto (Case) stubborn = { .shape = { .zone = "Europe/Berlin" } };

  look_and_read (&c, "t;temp (C);rh %\n2026-03-29 01:30;15;80\n2026-03-29 03:00;15;80\n");
  g_assert_cmpint (reading (&c, 1)->time_s - reading (&c, 0)->time_s, ==, 1800);
  g_assert_cmpuint (c.table.no_hour, ==, 0);
  look_and_read (&stubborn, "t;temp (C);rh %\n2026-03-29 01:30;15;80\n2026-03-29 02:15;15;80\n");
  g_assert_cmpuint (stubborn.table.no_hour, ==, 1);
}

static void
test_clock_backwards (void)
{
  g_auto (Case) c = { .shape = { .zone = "UTC" } };

  look_and_read (&c, "t;temp (C);rh %\n2026-01-31 08:00;15;80\n2026-01-31 08:10;15;80\n"
                     "2026-01-31 08:05;15;80\n2026-01-31 08:20;15;80\n2026-01-31 08:20;15;80\n"
                     "2026-01-31 08:20;16;80\n2026-01-31 08:30;15;80\n");
  g_assert_cmpuint (c.table.backwards, ==, 1);
  g_assert_cmpuint (c.table.same, ==, 1);
  g_assert_cmpuint (c.table.conflict, ==, 1);
  g_assert_cmpuint (c.table.readings->len, ==, 5);
  g_assert_cmphex (reading (&c, 1)->marks, ==, DEW_MARK_CLOCK);
  g_assert_true (dew_reading_counts (reading (&c, 1)));
}

/* --- marks ---------------------------------------------------------------------------- */

static void
add_line (GString *text, int minute, double t_C, double rh)
{
  char a[G_ASCII_DTOSTR_BUF_SIZE], b[G_ASCII_DTOSTR_BUF_SIZE];

  g_string_append_printf (text, "%" G_GINT64_FORMAT ",%s,%s\n", MORNING_S + 60 * minute,
                          g_ascii_formatd (a, sizeof a, "%.2f", t_C),
                          g_ascii_formatd (b, sizeof b, "%.1f", rh));
}

/* One wild reading is marked, a door opened for ten minutes is not, a sensor that stands at 99.9 %
 * all night is, and nothing is deleted. */
static void
test_marks (void)
{
  g_auto (Case) c = { 0 };
  g_autoptr (GString) text = g_string_new ("time,temp C_C,rh %\n");
  DewTally tally;

  for (int i = 0; i < 300; i++)
    add_line (text, 5 * i, 15.0 + 0.01 * (i % 7),
              i == 40               ? 22.0
              : i >= 60 && i < 63   ? 60.0 - i % 3
              : i >= 100 && i < 200 ? 99.9
                                    : 80.0 + 0.1 * (i % 5));
  look_and_read (&c, text->str);
  dew_readings_tally (c.table.readings, &tally);
  g_assert_cmpuint (tally.n, ==, 300);
  g_assert_cmpuint (tally.spikes, ==, 1);
  g_assert_cmphex (reading (&c, 40)->marks, ==, DEW_MARK_SPIKE);
  g_assert_cmpuint (tally.stuck, ==, 100);
  g_assert_cmpuint (tally.doubtful, ==, 101);
  g_assert_cmpfloat (tally.interval_s, ==, 300.0);
}

/* --- anything ---------------------------------------------------------------------------- */

/* Random damage to good tables: whatever comes out is sound, and nothing is read out of bounds
 * (which the sanitizers watch). */
static void
test_fuzz (void)
{
  static const char *const seeds[] = {
    "time,temp (C),hum %\n2026-01-31 08:00,18.5,71\n2026-01-31 08:05,18.5,71\n",
    "a\n\"x;y\";\"t [F]\";rh\n31.1.26 8:00 pm;\"65,1\";\"71,0 %\"\n1.2.26 8:05 am;65,0;-\n",
    "s\tt_C\trh\n1769846400\t18.5\t0.7\n1769846700\t18.4\t0.7\n",
  };
  static const char odd[] = "\",;\t|\n\r.:-+/ TZ0123456789%CFapm\302\260\377";
  GRand *random = g_rand_new_with_seed (15);

  for (int round = 0; round < 20000; round++)
    {
      g_auto (Case) c = { .shape = { .zone = "Europe/Berlin" } };
      g_autofree char *text = g_strdup (seeds[round % 3]);
      gsize n = strlen (text);

      for (int k = g_rand_int_range (random, 1, 8); k > 0; k--)
        text[g_rand_int_range (random, 0, (int) n)]
          = g_rand_boolean (random) ? odd[g_rand_int_range (random, 0, sizeof odd - 1)]
                                    : (char) g_rand_int_range (random, 0, 256);
      if (g_rand_boolean (random))
        n = (gsize) g_rand_int_range (random, 0, (int) n);
      if (!look (&c, text, n) || (c.look.ask & DEW_ASK_COLUMNS) != 0)
        continue;
      g_assert_true (dew_csv_read (c.text, c.length, &c.shape, NULL, NULL, &c.table));
      for (guint i = 0; i < c.table.readings->len; i++)
        {
          const DewReading *r = reading (&c, i);

          g_assert_true (i == 0 || r->time_s > reading (&c, i - 1)->time_s);
          g_assert_true (isnan (r->t_C) || (r->t_C >= -40.0f && r->t_C <= 85.0f));
          g_assert_true (isnan (r->rh) || (r->rh >= -0.06f && r->rh <= 1.21f));
        }
      for (guint i = 0; i < c.table.problems->len; i++)
        g_assert_true (
          g_utf8_validate (g_array_index (c.table.problems, DewCsvProblem, i).found, -1, NULL));
    }
  g_rand_free (random);
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/csv/shapes", test_shapes);
  g_test_add_func ("/csv/utf16", test_utf16);
  g_test_add_func ("/csv/asked", test_asked);
  g_test_add_func ("/csv/evidence", test_evidence);
  g_test_add_func ("/csv/no-table", test_no_table);
  g_test_add_func ("/csv/problems", test_problems);
  g_test_add_func ("/csv/summer-ends", test_summer_ends);
  g_test_add_func ("/csv/summer-begins", test_summer_begins);
  g_test_add_func ("/csv/clock-backwards", test_clock_backwards);
  g_test_add_func ("/csv/marks", test_marks);
  g_test_add_func ("/csv/fuzz", test_fuzz);
  return g_test_run ();
}
