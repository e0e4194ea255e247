/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a fuzzer feeds: the first byte says to whom the rest goes. Built with clang's libFuzzer
 * (CC=clang meson setup -Dc_args=-fsanitize=fuzzer-no-link), and without it as a program that
 * replays files. What must hold is asserted here: no crash, a reason with every no, and what was
 * taken is taken again. */
#include "forecast/forecast.h"
#include "geometry/geometry.h"
#include "say/problems.h"
#include "store/file.h"
#include "store/journal.h"
#include "store/store.h"

#include <string.h>

int LLVMFuzzerTestOneInput (const guint8 *data, gsize size);

/* It has to be a document that can be saved, and read back as it was. */
static void
check_taken (const DewChamber *chamber)
{
  g_autofree char *text = dew_json_from_chamber (chamber);
  g_autoptr (DewChamber) back = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_true (dew_chamber_validate (chamber, NULL));
  back = dew_json_to_chamber (text, -1, &error);
  g_assert_no_error (error);
  g_assert_true (dew_chamber_equal (back, chamber));
}

static void
feed_json (const char *text, gsize n)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewChamber) chamber = dew_json_to_chamber (text, (gssize) n, &error);

  g_assert_true ((chamber != NULL) == (error == NULL));
  if (chamber != NULL)
    check_taken (chamber);
  else
    g_assert_true (dew_text_is_plain (error->message, FALSE));
}

static void
feed_document (const guint8 *bytes, gsize n)
{
  g_auto (DewSnapshot) snapshot = { g_byte_array_new (), FALSE };
  g_auto (DewFileFound) found = { NULL };
  g_autoptr (GError) error = NULL;
  gboolean ok;

  g_byte_array_append (snapshot.bytes, bytes, (guint) n);
  ok = dew_file_find ("fed", &snapshot, &found, &error);
  g_assert_true (ok == (error == NULL));
  if (ok)
    check_taken (dew_history_present (found.history));
}

static void
feed_clipboard (const char *text, gsize n)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) things = dew_things_from_text (text, (gssize) n, &error);

  g_assert_true ((things != NULL) == (error == NULL));
}

/* The first two bytes part the rest into document and journal. */
static void
feed_journal (const guint8 *bytes, gsize n)
{
  g_autoptr (GByteArray) document = g_byte_array_new ();
  gsize first = n >= 2 ? MIN (((gsize) bytes[0] << 8 | bytes[1]), n - 2) : 0;

  if (n < 2)
    return;
  g_byte_array_append (document, bytes + 2, (guint) first);
  dew_journal_roll_back (document, bytes + 2 + first, n - 2 - first);
}

/* A layout that passes gets a forecast, or a reason; never a number that is none. */
static void
feed_forecast (const char *text, gsize n)
{
  g_autoptr (DewChamber) chamber = dew_json_to_chamber (text, (gssize) n, NULL);
  g_autoptr (DewForecast) forecast = NULL;
  g_autoptr (GArray) problems = NULL;
  g_autoptr (GError) error = NULL;
  DewForecastOptions options;

  if (chamber == NULL || dew_chamber_shown (chamber)->things->len > 12)
    return;
  problems = dew_chamber_check (chamber, chamber->shown_variant);
  if (problems->len > 0)
    return;
  dew_forecast_options_init (&options);
  options.grid = DEW_GRID_DRAFT;
  options.members = 0;
  forecast = dew_forecast_new (chamber, chamber->shown_variant, &options, NULL, &error);
  g_assert_true ((forecast != NULL) == (error == NULL));
  if (forecast == NULL)
    return;
  g_assert_true (forecast->all.t_C > -60.0 && forecast->all.t_C < 120.0);
  g_assert_true (forecast->all.w_kg_kg >= 0.0 && forecast->all.w_kg_kg < 0.7);
}

int
LLVMFuzzerTestOneInput (const guint8 *data, gsize size)
{
  g_autofree char *text = NULL;

  if (size < 1)
    return 0;
  text = g_strndup ((const char *) data + 1, size - 1);
  switch (data[0])
    {
    case 'J':
      feed_json (text, size - 1);
      break;
    case 'D':
      feed_document (data + 1, size - 1);
      break;
    case 'C':
      feed_clipboard (text, size - 1);
      break;
    case 'R':
      feed_journal (data + 1, size - 1);
      break;
    case 'F':
      feed_forecast (text, size - 1);
      break;
    default:
      break;
    }
  return 0;
}
