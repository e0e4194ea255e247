/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The answers of dewtier suits, shelves and plants, for people and for programs. */
#include "say/report-private.h"

#include "say/fit.h"
#include "say/suits.h"
#include "say/where.h"
#include "store/json.h"

#include <glib/gi18n.h>
#include <math.h>

/* So many kinds of a shelf are told before the rest is counted. */
#define MOST_TOLD 20

/* --- what would do ------------------------------------------------------- */

static void
tell_bay (GString *out, const DewSuits *suits, int b, DewTongue tongue)
{
  g_autofree char *shelf = dew_shelf_title (suits->shelf[b]);
  g_autofree char *air = dew_suits_air_words (suits, b, tongue);
  int n = 0;

  g_string_append_printf (out, "\n%s\n  %s\n", shelf, air);
  for (int k = 0; k < suits->n_kinds; k++)
    {
      const DewSuitsKind *kind = &suits->kinds[k];
      g_autofree char *words = NULL;

      if (kind->bays[b].place < 0 || kind->bays[b].months_out != 0 || n++ >= MOST_TOLD)
        continue;
      words = dew_suits_bay_words (suits, kind, b, tongue);
      g_string_append (out, "  ");
      dew_report_pad (out, kind->name, 40, FALSE);
      g_string_append_printf (out, "%s%s\n", words, kind->rests ? _ (" Summer only.") : "");
    }
  if (n == 0)
    g_string_append_printf (out, "  %s\n", _ ("No kind of the catalogue would do here."));
  else if (n > MOST_TOLD)
    g_string_append_printf (out,
                            ngettext ("  and %d more; --json has all\n",
                                      "  and %d more; --json has all\n", n - MOST_TOLD),
                            n - MOST_TOLD);
}

char *
dew_report_suits_text (const DewReport *about, const DewSuits *suits, const DewSuitsKind *wanted)
{
  GString *out = g_string_new (NULL);
  g_autofree char *words = dew_suits_words (suits);

  g_string_append_printf (out, "%s, %s\n\n", about->chamber->name, about->variant->name);
  if (wanted != NULL)
    {
      g_auto (GStrv) told = dew_suits_kind_words (suits, wanted, about->tongue);
      g_autofree char *wants = dew_kind_wants_words (&wanted->plant.kind, about->tongue);

      for (int i = 0; told[i] != NULL; i++)
        g_string_append_printf (out, "%s\n", told[i]);
      /* Translators: ranges of temperature, humidity and light. */
      g_string_append_printf (out, _ ("It wants %s.\n"), wants);
      for (int b = suits->n_bays - 1; b >= 0; b--)
        {
          g_autofree char *shelf = dew_shelf_title (suits->shelf[b]);
          g_autofree char *here = dew_suits_bay_words (suits, wanted, b, about->tongue);

          if (here != NULL)
            g_string_append_printf (out, "  %s: %s\n", shelf, here);
        }
      return g_string_free (out, FALSE);
    }
  g_string_append_printf (out, "%s\n", words);
  for (int b = suits->n_bays - 1; b >= 0; b--)
    tell_bay (out, suits, b, about->tongue);
  g_string_append_printf (out, "\n%s\n",
                          _ ("Of air, light and height; whether there is room beside what stands "
                             "here already, dewtier assign tells."));
  return g_string_free (out, FALSE);
}

static void
write_fit (DewJson *json, const DewSuitsBay *bay)
{
  const char *keys[DEW_N_DEMANDS + 1] = { NULL };
  int n = 0;

  for (int d = 0; d < DEW_N_DEMANDS; d++)
    if (bay->fit.out & DEW_DEMAND_BIT (d))
      keys[n++] = dew_demand_key (d);
  dew_json_keys (json, "out", keys);
  dew_json_object (json, "fit");
  for (int d = 0; d < DEW_N_DEMANDS; d++)
    {
      const DewFitDemand *demand = &bay->fit.demand[d];

      if (!isnan (demand->margin))
        dew_report_record (json, dew_demand_key (d), REAL (demand, value), REAL (demand, limit),
                           REAL (demand, margin), WORDS ("unit", dew_demand_unit (d)),
                           REAL (demand, merit), FLAG (demand, out));
    }
  dew_json_end (json);
}

char *
dew_report_suits_json (const DewReport *about, const DewSuits *suits, const DewSuitsKind *wanted)
{
  DewJson *json = dew_json_new ();

  dew_report_head (json, "dewtier suits", about);
  dew_report_put (json, WORDS ("variant", about->variant->name),
                  INTEGER_OF ("variant_id", about->variant->id));
  dew_json_list (json, "months");
  for (int m = 0; m < suits->n_months; m++)
    dew_json_integer (json, NULL, suits->months[m] + 1);
  dew_json_end (json);
  dew_json_list (json, "kinds");
  for (int k = 0; k < suits->n_kinds; k++)
    {
      const DewSuitsKind *kind = &suits->kinds[k];
      g_autofree char *safety = dew_kind_safety_words (kind->name);

      if (wanted != NULL && kind != wanted)
        continue;
      dew_json_object (json, NULL);
      dew_report_put (json, WORDS ("name", kind->name), WORDS ("group", kind->group),
                      FLAG_OF ("own", kind->row < 0), FLAG (kind, fits), FLAG (kind, rests),
                      INTEGER (kind, best), WORDS ("safety", safety));
      dew_json_list (json, "bays");
      for (int b = 0; b < suits->n_bays; b++)
        {
          const DewSuitsBay *bay = &kind->bays[b];
          g_autofree char *words = dew_suits_bay_words (suits, kind, b, about->tongue);

          dew_json_object (json, NULL);
          dew_report_put (json, INTEGER (bay, place), INTEGER (bay, n_places),
                          INTEGER (&bay->fit, score), INTEGER_OF ("worst_month", bay->month + 1),
                          WORDS ("words", words != NULL ? words : ""));
          dew_json_list (json, "months_out");
          for (int m = 0; m < 12; m++)
            if (bay->months_out & (1u << m))
              dew_json_integer (json, NULL, m + 1);
          dew_json_end (json);
          write_fit (json, bay);
          dew_json_end (json);
        }
      dew_json_end (json);
      dew_json_end (json);
    }
  dew_json_end (json);
  return dew_json_finish (json);
}

/* --- how high the shelves ------------------------------------------------ */

char *
dew_report_heights_text (const DewReport *about, const DewHeights *heights)
{
  GString *out = g_string_new (NULL);
  g_auto (GStrv) words = dew_heights_words (heights, about->tongue);

  g_string_append_printf (out, "%s, %s\n\n", about->chamber->name, about->variant->name);
  for (int i = 0; words[i] != NULL; i++)
    g_string_append_printf (out, "%s\n", words[i]);
  for (int s = heights->n_shelves - 1; heights->fits && s >= 0; s--)
    {
      g_autofree char *shelf = dew_heights_shelf_words (heights, s, about->tongue);

      g_string_append_printf (out, "  %s\n", shelf);
    }
  g_string_append_c (out, '\n');
  for (int b = heights->n_bays - 1; b >= 0; b--)
    {
      g_autofree char *bay = dew_heights_bay_words (heights, b, about->tongue);

      g_string_append_printf (out, "%s\n", bay);
    }
  return g_string_free (out, FALSE);
}

char *
dew_report_heights_json (const DewReport *about, const DewHeights *heights)
{
  DewJson *json = dew_json_new ();

  dew_report_head (json, "dewtier shelves", about);
  dew_report_put (json, WORDS ("variant", about->variant->name),
                  INTEGER_OF ("variant_id", about->variant->id), FLAG (heights, fits),
                  REAL (heights, short_m), INTEGER (heights, n_moves),
                  INTEGER (heights, n_unplaced));
  dew_json_list (json, "shelves");
  for (int s = 0; s < heights->n_shelves; s++)
    dew_report_record (json, NULL, INTEGER (&heights->shelves[s], id),
                       WORDS ("name", heights->shelves[s].name), REAL (&heights->shelves[s], now_m),
                       REAL (&heights->shelves[s], then_m));
  dew_json_end (json);
  dew_json_list (json, "bays");
  for (int b = 0; b < heights->n_bays; b++)
    dew_report_record (json, NULL, INTEGER (&heights->bays[b], shelf_id),
                       REAL (&heights->bays[b], clear_m), REAL (&heights->bays[b], need_m),
                       REAL (&heights->bays[b], then_m), REAL (&heights->bays[b], lamp_m),
                       WORDS ("tallest", heights->bays[b].tallest),
                       INTEGER (&heights->bays[b], n_standing),
                       INTEGER (&heights->bays[b], n_wished));
  dew_json_end (json);
  return dew_json_finish (json);
}
