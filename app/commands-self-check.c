/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dewtier self-check: whether this build on this machine says what is known. */
#include "command-line.h"

#include "forecast/known.h"

#include <glib/gi18n.h>

static const struct
{
  const char *what, *unit, *source;
} rows[DEW_N_KNOWN] = {
  [DEW_KNOWN_SATURATION] = { N_ ("vapour pressure over water at 20 °C"), "Pa",
                             "ASHRAE Handbook, Fundamentals 2017, ch. 1" },
  [DEW_KNOWN_DILUTION] = { N_ ("water in a stirred box with a known source and a known flow"),
                           "kg/kg", "Etheridge & Sandberg 1996" },
  [DEW_KNOWN_EXTRACTOR] = { N_ ("flow of a fan that draws its air through leakage"), "m³/s",
                            "ASHRAE Handbook, Fundamentals 2017, ch. 16" },
  [DEW_KNOWN_BALANCES] = { N_ ("what air, heat and water of the demo leave over"), "", "" },
  [DEW_KNOWN_SAME] = { N_ ("numbers that differ when the demo is forecast twice"), "", "" },
};

int
dew_command_self_check (DewAsked *asked)
{
  int code = DEW_EXIT_FINE;

  for (int kind = 0; kind < DEW_N_KNOWN; kind++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *line = NULL;
      DewKnown known;

      if (!dew_known_ask ((DewKnownKind) kind, &known, &error))
        return dew_command_complain (DEW_EXIT_NO, "%s: %s", _ (rows[kind].what), error->message);
      /* Translators: holds or fails, what was checked, found, its unit, expected, how far they may
       * differ, where it is published */
      line = g_strdup_printf (_ ("%s  %s: %.6g %s; expected %.6g, within %.2g  %s\n"),
                              known.holds ? _ ("holds") : _ ("FAILS"), _ (rows[kind].what),
                              known.found, rows[kind].unit, known.expected, known.allowed,
                              rows[kind].source);
      if (!known.holds)
        code = DEW_EXIT_NO;
      if (dew_command_say (line) != DEW_EXIT_FINE)
        return DEW_EXIT_NO;
    }
  if (code != DEW_EXIT_FINE)
    dew_command_complain (code, "%s",
                          _ ("do not rely on forecasts of this build; install it anew, and tell "
                             "its makers what processor it runs on"));
  return code;
}
