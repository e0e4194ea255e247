/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The answer to the light question, for people and for programs. */
#include "say/report-private.h"

#include "say/light.h"
#include "say/wants.h"
#include "store/json.h"

/* --- for people ---------------------------------------------------------- */

char *
dew_report_light_text (const DewReport *about, const DewLightAdvice *advice)
{
  GString *out = g_string_new (NULL);
  g_autofree char *verdict = dew_light_verdict (advice, about->tongue);
  g_autofree char *warmth = dew_light_warmth_words (advice, about->tongue);
  g_autofree char *power = dew_light_power_words (advice);
  g_auto (GStrv) cautions = dew_light_cautions (advice);

  g_string_append_printf (out, "%s: %s\n", about->variant->name, verdict);
  for (int n = advice->n_bays - 1; n >= 0; n--)
    {
      g_autofree char *shelf = dew_light_shelf (&advice->bays[n]);
      g_autofree char *words = dew_light_bay_words (&advice->bays[n], about->tongue);
      g_auto (GStrv) figures = dew_light_bay_figures (advice, n, about->tongue);

      g_string_append_printf (out, "\n%s: %s\n", shelf, words);
      for (int f = 0; figures[f] != NULL; f++)
        g_string_append_printf (out, "    %s\n", figures[f]);
    }
  g_string_append_printf (out, "\n%s\n%s\n", warmth, power);
  for (int c = 0; cautions[c] != NULL; c++)
    g_string_append_printf (out, "%s\n", cautions[c]);
  return g_string_free (out, FALSE);
}

/* --- for programs -------------------------------------------------------- */

static void
write_light (DewJson *json, const char *key, const DewLightOn *on)
{
  dew_report_record (json, key, REAL (on, lo_mol_m2s), REAL (on, mean_mol_m2s),
                     REAL (on, hi_mol_m2s), REAL (on, day_mol_m2), INTEGER (on, dark),
                     INTEGER (on, bright));
}

static void
write_warmth (DewJson *json, const char *key, const DewLightWarmth *w)
{
  dew_report_record (json, key, REAL (w, t_day_C), REAL (w, t_night_C), REAL (w, over_K));
}

static void
write_bay (DewJson *json, const DewLightAdvice *advice, int n)
{
  const DewLightBay *bay = &advice->bays[n];

  dew_json_object (json, NULL);
  dew_report_put (json, INTEGER (bay, bay), INTEGER (bay, shelf), WORDS ("name", bay->name),
                  INTEGER (bay, n_plants), REAL (bay, want_lo_mol_m2), REAL (bay, want_hi_mol_m2),
                  FLAG (bay, apart), FLAG (bay, too_low), INTEGER (bay, n_lamps), FLAG (bay, burns),
                  REAL (bay, share));
  write_light (json, "now", &bay->now);
  write_light (json, "then", &bay->then);
  if (bay->n_lamps > 0)
    dew_report_record (json, "lamp", WORDS ("name", bay->lamp), REAL_OF ("x_m", bay->set.x_m),
                       REAL_OF ("y_m", bay->set.y_m), REAL_OF ("z_m", bay->set.z_m),
                       REAL (bay, second_y_m), REAL (bay, above_m),
                       REAL_OF ("power_W", bay->set.power_W),
                       REAL_OF ("efficacy_mol_J", bay->set.efficacy_mol_J),
                       FLAG_OF ("low_voltage", bay->set.low_voltage));
  write_warmth (json, "warmth_now", &advice->now[n]);
  write_warmth (json, "warmth_by_day", &advice->by_day[n]);
  write_warmth (json, "warmth_by_night", &advice->by_night[n]);
  dew_json_end (json);
}

char *
dew_report_light_json (const DewReport *about, const DewLightAdvice *advice)
{
  DewJson *json = dew_json_new ();
  g_autofree char *verdict = dew_light_verdict (advice, about->tongue);

  dew_report_head (json, "dewtier advice light", about);
  dew_report_put (json, WORDS ("variant", about->variant->name),
                  INTEGER_OF ("variant_id", about->variant->id),
                  INTEGER_OF ("month", about->chamber->month + 1), WORDS ("verdict", verdict),
                  FLAG (advice, change), FLAG (advice, night_better), INTEGER (advice, hours_now),
                  INTEGER (advice, hours), REAL (advice, power_now_W), REAL (advice, power_W),
                  REAL (advice, energy_now_kWh_day), REAL (advice, energy_kWh_day),
                  REAL (advice, daylight_mol_m2s), REAL (advice, seconds));
  dew_json_list (json, "bays");
  for (int n = 0; n < advice->n_bays; n++)
    write_bay (json, advice, n);
  dew_json_end (json);
  return dew_json_finish (json);
}
