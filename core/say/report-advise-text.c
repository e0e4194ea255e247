/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The answers of dewtier advise for people. */
#include "say/report-private.h"

#include "moist/constants.h"
#include "say/changes.h"
#include "say/fan.h"
#include "say/moisture.h"
#include "say/openings.h"
#include "say/wants.h"
#include "say/where.h"
#include "moist/constants.h"

#include <glib/gi18n.h>
#include <math.h>

static void
append_wants (GString *out, const DewWants *wants, DewTongue tongue)
{
  g_auto (GStrv) contradictions = dew_wants_contradictions (wants, tongue);

  if (wants->usual)
    g_string_append_printf (
      out, "%s\n",
      _ ("No plant of a known kind stands here or is wished for; judged by what cool growers "
         "usually want."));
  for (int c = 0; contradictions[c] != NULL; c++)
    g_string_append_printf (out, "%s\n", contradictions[c]);
}

#define FEW_CHANGES 4 /* are told of an answer unless all figures are asked for */

static void
append_changes (GString *out, const GArray *changes, gboolean all, DewTongue tongue)
{
  g_auto (GStrv) words = dew_trade_offs_words (changes, tongue);

  for (int w = 0; words[w] != NULL && (all || w < FEW_CHANGES); w++)
    g_string_append_printf (out, "    %s\n", words[w]);
}

static void
append_parts (GString *out, const DewObjective *o)
{
  for (int p = 0; p < DEW_N_GOALS; p++)
    {
      const DewGoalInfo *info = dew_goal_info (p);

      g_string_append (out, "    ");
      dew_report_pad (out, _ (info->name), 23, FALSE);
      g_string_append_printf (out, "%8.*f ", info->digits, o->raw[p]);
      dew_report_pad (out, _ (info->unit), 8, FALSE);
      g_string_append_printf (out, "%4.2f\n", o->merit[p]);
    }
}

static void
append_more (GString *out)
{
  g_string_append_printf (out, "%s\n", _ ("More figures: --all"));
}

/* --- fan ----------------------------------------------------------------- */

static void
append_where (GString *out, const DewFanOption *o, DewTongue tongue)
{
  g_autofree char *across = dew_measure_text (DEW_MEASURE_LENGTH, tongue, o->fan.x_m);
  g_autofree char *deep = dew_measure_text (DEW_MEASURE_LENGTH, tongue, o->fan.y_m);
  g_autofree char *up = dew_measure_text (DEW_MEASURE_LENGTH, tongue, o->fan.z_m);

  g_string_append_printf (out,
                          _ ("    %s from the left, %s from the front, %s up; turned to %.0f°, "
                             "tilted up %.0f°"),
                          across, deep, up, o->fan.azimuth_rad * 180.0 / G_PI,
                          o->fan.elevation_rad * 180.0 / G_PI);
  if (fabs (o->speed_factor - 1.0) > 1e-6)
    g_string_append_printf (out, _ ("; %.0f %% of its speed"), 100.0 * o->speed_factor);
  if (o->opening_factor != 1.0)
    g_string_append_printf (out, _ ("; openings at %.0f %%"), 100.0 * o->opening_factor);
  g_string_append_c (out, '\n');
}

static void
append_score (GString *out, const DewFanOption *o, gboolean now)
{
  if (now)
    g_string_append_printf (out, _ ("    score %.1f of 100\n"), 100.0 * o->objective.value);
  else if (isnan (o->band))
    g_string_append_printf (out, _ ("    score %.1f, %+.1f against now\n"),
                            100.0 * o->objective.value, 100.0 * o->gain);
  else
    g_string_append_printf (out,
                            o->sure ? _ ("    score %.1f, %+.1f ± %.1f against now: better\n")
                                    : _ ("    score %.1f, %+.1f ± %.1f against now: not sure\n"),
                            100.0 * o->objective.value, 100.0 * o->gain, 100.0 * o->band);
}

/* The first in words, the others in a line or two; everything about each when all is asked. */
static void
append_option (GString *out, const DewFanAdvice *advice, const DewFanOption *o, int number,
               gboolean all, DewTongue tongue)
{
  g_autofree char *title = dew_fan_title (advice, o);

  if (number > 0)
    g_string_append_printf (out, "%d. %s\n", number, title);
  else
    g_string_append_printf (out, "%s: %s\n", _ ("Now"), title);
  if (o->candidate >= 0 && (all || number == 1))
    append_where (out, o, tongue);
  append_score (out, o, number == 0);
  if (all)
    append_parts (out, &o->objective);
  if (all || number == 1)
    append_changes (out, o->changes, all, tongue);
  if (all)
    g_string_append_c (out, '\n');
}

static void
append_bays (GString *out, const DewFanAdvice *advice)
{
  g_string_append_printf (out, "\n%-16s %s\n", "",
                          _ ("humidity %, its spread, warmth °C, still air % (now, then 1, "
                             "2 ...)"));
  for (guint b = advice->present.bays->len; b > 0; b--)
    {
      g_autofree char *name
        = dew_shelf_called (g_array_index (advice->present.bays, DewBayChange, b - 1).name,
                            g_array_index (advice->present.bays, DewBayChange, b - 1).shelf);

      dew_report_pad (out, name, 16, FALSE);
      for (int o = -1; o < advice->n_options; o++)
        {
          const DewFanOption *option = o < 0 ? &advice->present : &advice->options[o];
          const DewBayChange *c = &g_array_index (option->bays, DewBayChange, b - 1);

          g_string_append_printf (out, "  %3.0f %4.1f %5.1f %3.0f ", 100.0 * c->rh,
                                  100.0 * c->even_rh, c->t_C, 100.0 * c->still_share);
        }
      g_string_append_c (out, '\n');
    }
}

char *
dew_report_fan_text (const DewReport *about, const DewFanAdvice *advice)
{
  DewTongue tongue = about->tongue;
  GString *out = g_string_new (NULL);
  g_autofree char *verdict = dew_fan_verdict (advice);
  g_autofree char *second = dew_fan_second_words (advice);

  g_string_append_printf (out, "%s: %s\n", about->variant->name, verdict);
  append_wants (out, advice->wants, tongue);
  if (advice->fan_id == 0)
    g_string_append_printf (out, "%s\n",
                            _ ("There is no fan in this variant; a usual one of 12 cm was tried."));
  append_option (out, advice, &advice->present, 0, about->all, tongue);
  for (int o = 0; o < advice->n_options; o++)
    append_option (out, advice, &advice->options[o], o + 1, about->all, tongue);
  if (second != NULL)
    g_string_append_printf (out, "%s\n", second);
  if (advice->n_options > 0)
    {
      g_auto (GStrv) cautions = dew_fan_cautions (advice, &advice->options[0], tongue);

      for (int c = 0; cautions[c] != NULL; c++)
        g_string_append_printf (out, "%s\n", cautions[c]);
    }
  if (!about->all)
    {
      append_more (out);
      return g_string_free (out, FALSE);
    }
  append_bays (out, advice);
  g_string_append_printf (
    out,
    /* Translators: the second number is of forecasts that were made to the end. */
    ngettext ("Tried %d place and direction; forecast in full: %d; in %.1f s.\n",
              "Tried %d places and directions; forecast in full: %d; in %.1f s.\n",
              advice->n_candidates),
    advice->n_candidates, advice->settled_forecasts, advice->seconds);
  return g_string_free (out, FALSE);
}

/* --- moisture ------------------------------------------------------------ */

static char *
x_in_words (DewSizing sizing, double x, DewTongue tongue)
{
  switch (sizing)
    {
    case DEW_SIZING_POTS:
      return g_strdup_printf ("%.0f", x);
    case DEW_SIZING_HUMIDIFIER:
      return dew_measure_text (DEW_MEASURE_WATER_RATE, tongue, x);
    default:
      return g_strdup_printf (_ ("%.0f %%"), 100.0 * x);
    }
}

static void
append_point (GString *out, const char *x, const DewSizingPoint *p, DewTongue tongue)
{
  g_autofree char *water = dew_measure_text (DEW_MEASURE_DAY_WATER, tongue, p->water_kg_day);

  g_string_append (out, "    ");
  dew_report_pad (out, x, 12, FALSE);
  for (int b = 0; b < p->n_bays; b++)
    g_string_append_printf (out, " %3.0f/%-3.0f", 100.0 * p->bays[b].rh,
                            100.0 * p->bays[b].rh_night);
  g_string_append_printf (out, _ ("  %5.1f points off, %s a day"), p->miss, water);
  g_string_append (out, p->holds ? _ (", holds") : "");
  /* Translators: of a row of figures: worked out on coarse zones only. */
  g_string_append_printf (out, "%s\n", p->settled ? "" : _ (" (draft)"));
}

static void
append_curve (GString *out, const DewMoistureAdvice *advice, DewSizing sizing, DewTongue tongue)
{
  const DewSizingCurve *curve = &advice->curves[sizing];

  if (!curve->possible)
    return;
  g_string_append_printf (out, "  %s\n", dew_sizing_name (sizing));
  /* Pots and mist cannot make it cooler; opening can. */
  if (curve->sizing == DEW_SIZING_VENT)
    g_string_append_printf (out, "  %s\n",
                            _ ("Here warmth counts too: each degree (K) as five points."));
  for (guint p = 0; p < curve->points->len; p++)
    {
      const DewSizingPoint *point = &g_array_index (curve->points, DewSizingPoint, p);
      g_autofree char *x = x_in_words (curve->sizing, point->x, tongue);

      append_point (out, x, point, tongue);
    }
}

/* All figures: what the answer rests on. */
static void
append_figures (GString *out, const DewMoistureAdvice *advice, DewTongue tongue)
{
  g_string_append_printf (
    out, "\n%s\n",
    _ ("Humidity of each shelf by day/by night in %, from the floor up; then how many points miss "
       "what is wanted, summed over the shelves. Rows marked as draft are of coarse zones and only "
       "led the search:"));
  append_point (out, _ ("now"), &advice->present, tongue);
  if (advice->without.n_bays > 0)
    /* Translators: without the humidifier; the head of a line of a table. */
    append_point (out, _ ("without it"), &advice->without, tongue);
  if (advice->humidistat.possible)
    append_point (out, _ ("humidistat"), &advice->humidistat.point, tongue);
  for (int sizing = 0; sizing < DEW_N_SIZINGS; sizing++)
    append_curve (out, advice, sizing, tongue);
}

char *
dew_report_moisture_text (const DewReport *about, const DewMoistureAdvice *advice)
{
  DewTongue tongue = about->tongue;
  GString *out = g_string_new (NULL);
  g_autofree char *without = dew_sizing_without_words (advice, tongue);
  g_auto (GStrv) humidistat = dew_humidistat_words (advice, tongue);
  g_autofree char *caution = dew_moisture_caution (advice, about->variant);

  g_string_append_printf (out, "%s\n", about->variant->name);
  append_wants (out, advice->wants, tongue);
  for (int sizing = 0; sizing < DEW_N_SIZINGS; sizing++)
    {
      g_autofree char *words = dew_sizing_words (advice, sizing, tongue);

      if (words != NULL)
        g_string_append_printf (out, "%s: %s\n", dew_sizing_name (sizing), words);
      for (int h = 0; sizing == DEW_SIZING_HUMIDIFIER && humidistat[h] != NULL; h++)
        g_string_append_printf (out, "    %s\n", humidistat[h]);
    }
  if (without != NULL)
    g_string_append_printf (out, "%s\n", without);
  if (caution != NULL)
    g_string_append_printf (out, "%s\n", caution);
  if (about->all)
    append_figures (out, advice, tongue);
  else
    append_more (out);
  return g_string_free (out, FALSE);
}

/* --- openings ------------------------------------------------------------ */

#define FEW_OPTIONS 5 /* are told unless all are asked for */

static void
append_opening (GString *out, const DewOpeningOption *o, gboolean best, gboolean all,
                DewTongue tongue)
{
  g_autofree char *title = dew_opening_title (o, tongue);
  g_autofree char *stale = dew_opening_stale_words (o);
  g_autofree char *water = dew_measure_text (DEW_MEASURE_DAY_WATER, tongue, o->water_kg_day);

  g_string_append_printf (out, "%s\n", title);
  if (!o->forecast)
    {
      g_string_append_printf (out, "    %s\n", dew_opening_trouble (o));
      return;
    }
  if (o->plan == DEW_PLAN_AS_DRAWN || isnan (o->band))
    g_string_append_printf (out, _ ("    score %.1f of 100"), 100.0 * o->objective.value);
  else
    g_string_append_printf (out, _ ("    score %.1f, %+.1f ± %.1f"), 100.0 * o->objective.value,
                            100.0 * o->gain, 100.0 * o->band);
  g_string_append_printf (out, _ ("; air changed %.1f times an hour, %s of water a day\n"),
                          o->exchange_1_h, water);
  if (stale != NULL && (best || all))
    g_string_append_printf (out, "    %s\n", stale);
  if (best || all)
    append_changes (out, o->changes, all, tongue);
}

char *
dew_report_openings_text (const DewReport *about, const DewOpeningAdvice *advice)
{
  DewTongue tongue = about->tongue;
  GString *out = g_string_new (NULL);
  g_autofree char *verdict = dew_opening_verdict (advice, tongue);

  g_string_append_printf (out, "%s: %s\n", about->variant->name, verdict);
  append_wants (out, advice->wants, tongue);
  for (int i = 0; i < (about->all ? advice->n_options : MIN (FEW_OPTIONS, advice->n_options)); i++)
    append_opening (out, &advice->options[advice->order[i]], advice->order[i] == advice->best,
                    about->all, tongue);
  if (!about->all)
    append_more (out);
  return g_string_free (out, FALSE);
}
