/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/calibrated.h"

#include "moist/constants.h"
#include "say/readings.h"
#include "store/json-writer.h"

#include <glib/gi18n.h>
#include <math.h>

/* --- measured against forecast ------------------------------------------------------ */

static char *
points (double share)
{
  return dew_number_text (100.0 * share, 0);
}

/* The worst of the two quantities, and whether anybody is wrong. */
static const char *
verdict_text (const DewAgainst *row)
{
  double rh = row->measured.rh - row->rh;

  if (!row->t_beyond && !row->rh_beyond)
    return _ ("both can be right");
  if (row->rh_beyond && row->measured.rh_error > row->rh_band)
    return rh > 0.0 ? _ ("more humid than both allow; first check the instrument, which is less "
                         "sure than the forecast")
                    : _ ("drier than both allow; first check the instrument, which is less sure "
                         "than the forecast");
  if (row->rh_beyond)
    return rh > 0.0
             ? _ ("more humid than both allow: the enclosure is tighter or wetter than drawn")
             : _ ("drier than both allow: the enclosure leaks more or gives off less than "
                  "drawn");
  return row->measured.t_C > row->t_C ? _ ("warmer than both allow") : _ ("colder than both allow");
}

char *
dew_against_sentence (const DewReport *about, const DewWitness *witnesses, const DewAgainst *row)
{
  const DewUnit *unit = dew_unit (DEW_MEASURE_TEMPERATURE, about->tongue);
  const DewUnit *differ = dew_unit (DEW_MEASURE_DIFFERENCE, about->tongue);
  g_autofree char *t = dew_unit_format (unit, row->measured.t_C);
  g_autofree char *t_own = dew_unit_format (differ, row->measured.t_error_K);
  g_autofree char *t_model = dew_unit_format (unit, row->t_C);
  g_autofree char *t_band = dew_unit_format (differ, row->t_band_K);
  g_autofree char *rh = points (row->measured.rh), *rh_own = points (row->measured.rh_error);
  g_autofree char *rh_model = points (row->rh), *rh_band = points (row->rh_band);

  /* Translators: instrument, day or night; measured humidity and its error, forecast humidity and
   * its band; the same of temperature; a verdict */
  return g_strdup_printf (_ ("%s, %s: measured %s %% \302\261 %s, forecast %s %% \302\261 %s; "
                             "measured %s \302\261 %s, forecast %s \302\261 %s: %s"),
                          witnesses[row->witness].name, row->night ? _ ("night") : _ ("day"), rh,
                          rh_own, rh_model, rh_band, t, t_own, t_model, t_band, verdict_text (row));
}

char *
dew_report_against_text (const DewReport *about, const DewWitness *witnesses,
                         const DewAgainstAll *all, GTimeZone *zone)
{
  GString *out = g_string_new (NULL);
  g_autofree char *from = dew_day_text (all->from_s, zone);
  g_autofree char *to = dew_day_text (all->to_s - 1, zone);

  g_string_append_printf (out,
                          _ ("From %s to %s, each day and night from three hours after the "
                             "lamps changed\n"),
                          from, to);
  g_string_append (out, all->room_measured
                          ? _ ("The forecast is for the room as it was measured\n")
                          : _ ("No instrument was in the room: the forecast is for the room of the "
                               "document, which may be most of the difference\n"));
  for (guint i = 0; i < all->rows->len; i++)
    {
      g_autofree char *line
        = dew_against_sentence (about, witnesses, &g_array_index (all->rows, DewAgainst, i));

      g_string_append_printf (out, "%s\n", line);
    }
  if (all->rows->len == 0)
    g_string_append (out, _ ("No instrument of the drawing has readings in that time\n"));
  return g_string_free (out, FALSE);
}

static void
write_head (DewJson *json, const DewReport *about, const char *format)
{
  dew_json_text (json, "format", format);
  dew_json_integer (json, "version", 1);
  dew_json_text (json, "file", about->file);
  dew_json_text (json, "enclosure", about->chamber->name);
  dew_json_text (json, "variant", about->variant->name);
}

char *
dew_report_against_json (const DewReport *about, const DewWitness *witnesses,
                         const DewAgainstAll *all)
{
  DewJson *json = dew_json_new ();

  write_head (json, about, "dewtier readings against forecast");
  dew_json_integer (json, "from_s", all->from_s);
  dew_json_integer (json, "to_s", all->to_s);
  dew_json_flag (json, "room_measured", all->room_measured);
  dew_json_list (json, "rows");
  for (guint i = 0; i < all->rows->len; i++)
    {
      const DewAgainst *row = &g_array_index (all->rows, DewAgainst, i);
      const struct
      {
        const char *key;
        double value;
      } values[] = {
        { "measured_t_C", row->measured.t_C },
        { "measured_t_error_K", row->measured.t_error_K },
        { "measured_rh", row->measured.rh },
        { "measured_rh_error", row->measured.rh_error },
        { "measured_rh_min", row->measured.rh_min },
        { "measured_rh_max", row->measured.rh_max },
        { "measured_w_kg_kg", row->measured.w_kg_kg },
        { "t_C", row->t_C },
        { "t_band_K", row->t_band_K },
        { "rh", row->rh },
        { "rh_band", row->rh_band },
        { "w_kg_kg", row->w_kg_kg },
        { "w_band_kg_kg", row->w_band_kg_kg },
        { "t_allowed_K", row->t_allowed_K },
        { "rh_allowed", row->rh_allowed },
      };

      dew_json_object (json, NULL);
      dew_json_text (json, "instrument", witnesses[row->witness].name);
      dew_json_integer (json, "thing_id", witnesses[row->witness].thing_id);
      dew_json_flag (json, "night", row->night);
      dew_json_integer (json, "bay", row->bay);
      dew_json_integer (json, "spells", row->measured.n_spells);
      dew_json_integer (json, "readings", row->measured.n);
      for (guint k = 0; k < G_N_ELEMENTS (values); k++)
        dew_json_real (json, values[k].key, values[k].value);
      dew_json_flag (json, "t_beyond", row->t_beyond);
      dew_json_flag (json, "rh_beyond", row->rh_beyond);
      dew_json_end (json);
    }
  dew_json_end (json);
  return dew_json_finish (json);
}

/* --- the night test ------------------------------------------------------------------- */

const char *
dew_night_guide (void)
{
  return _ (
    "The night test finds how leaky the enclosure is.\n"
    "Before: lay all instruments side by side in still air for an hour; what they differ by is "
    "their "
    "offset. Twice a year, seal each for a day with a cap of table salt made into a wet paste (no "
    "puddle): the air over it is at 75 %, and what the instrument shows less is its offset. Three "
    "to "
    "five points are usual.\n"
    "1. In the evening hang one instrument in the room and the others inside, not under a lamp, in "
    "the mist or on something wet.\n"
    "2. Mist until it is humid, then put off mist and lamps, leave the fan as it is at night, and "
    "shut the front. Pull plugs with dry hands.\n"
    "3. Leave it shut for three hours or more, and open it again in the morning.\n"
    "The fall of the vapour tells the air changes. Wet pots, moss and leaves hold the fall up: the "
    "test tells them from leakage by where the vapour comes to rest, which takes a long night; "
    "without anything wet inside it is surer.\n");
}

static void
append_troubles (GString *out, guint troubles)
{
  static const char *const words[] = {
    [DEW_NIGHT_FEW]
    = N_ ("There are too few readings: at least an hour and 20 readings inside are needed.\n"),
    [DEW_NIGHT_NO_FALL]
    = N_ ("The vapour did not fall: mist was on, something wet keeps it up, or the room was as "
          "humid.\n"),
    [DEW_NIGHT_NO_ROOM]
    = N_ ("No instrument was in the room: its humidity of the document was taken.\n"),
    [DEW_NIGHT_TANGLED]
    = N_ ("Leakage and wet surfaces cannot be told apart from this fall: measure longer, or take "
          "what is wet out.\n"),
    [DEW_NIGHT_FAILED] = N_ ("No such fall fits the readings: the front or the fan was changed "
                             "meanwhile, or an instrument is wet.\n"),
  };

  for (guint i = 1; i < G_N_ELEMENTS (words); i++)
    if ((troubles & (1u << i)) != 0)
      g_string_append (out, _ (words[i]));
}

char *
dew_report_night_text (const DewReport *about, const DewNightAnswer *a, double area_m2)
{
  GString *out = g_string_new (NULL);

  if (a->found)
    {
      g_string_append_printf (
        out,
        _ ("Air changes: %.2f an hour, nine times of ten between %.2f and %.2f\n"
           "Vapour fell from %.1f to %.1f g/kg, that of the room was %.1f g/kg; wet surfaces give "
           "as much as %.2f changes an hour; the curve misses the readings by %.2f g/kg\n"),
        a->exchange_1_s * DEW_S_PER_H, a->exchange_lo_1_s * DEW_S_PER_H,
        a->exchange_hi_1_s * DEW_S_PER_H, 1e3 * a->w_first_kg_kg, 1e3 * a->w_last_kg_kg,
        1e3 * a->w_room_kg_kg, a->wet_1_s * DEW_S_PER_H, 1e3 * a->rest_kg_kg);
      if (isnan (area_m2))
        g_string_append (out, _ ("The openings of the drawing alone let more air through than the "
                                 "readings show: look whether they are drawn as they were.\n"));
      else if (area_m2 > 0.0)
        g_string_append_printf (out,
                                _ ("That is a leakage area of %.1f cm\302\262; the document says "
                                   "%.1f cm\302\262\n"),
                                1e4 * area_m2, 1e4 * about->chamber->leak_area_m2);
    }
  append_troubles (out, a->troubles);
  return g_string_free (out, FALSE);
}

char *
dew_report_night_json (const DewReport *about, const DewNightAnswer *a, double area_m2)
{
  static const char *const words[] = { NULL, "few", "no_fall", "no_room", "tangled", "failed" };
  DewJson *json = dew_json_new ();
  const char *troubles[G_N_ELEMENTS (words) + 1] = { NULL };
  int n = 0;

  for (guint i = 1; i < G_N_ELEMENTS (words); i++)
    if ((a->troubles & (1u << i)) != 0)
      troubles[n++] = words[i];
  write_head (json, about, "dewtier night test");
  dew_json_flag (json, "found", a->found);
  dew_json_keys (json, "troubles", troubles);
  dew_json_integer (json, "steps", a->n);
  dew_json_real (json, "exchange_1_s", a->found ? a->exchange_1_s : NAN);
  dew_json_real (json, "exchange_lo_1_s", a->found ? a->exchange_lo_1_s : NAN);
  dew_json_real (json, "exchange_hi_1_s", a->found ? a->exchange_hi_1_s : NAN);
  dew_json_real (json, "wet_1_s", a->found ? a->wet_1_s : NAN);
  dew_json_real (json, "correlation", a->correlation);
  dew_json_real (json, "w_first_kg_kg", a->w_first_kg_kg);
  dew_json_real (json, "w_last_kg_kg", a->w_last_kg_kg);
  dew_json_real (json, "w_room_kg_kg", a->w_room_kg_kg);
  dew_json_real (json, "rest_kg_kg", a->rest_kg_kg);
  dew_json_real (json, "leak_area_m2", area_m2 < 0.0 ? NAN : area_m2);
  return dew_json_finish (json);
}

/* --- calibration ------------------------------------------------------------------------ */

static const char *
learned_name (DewUnknown unknown)
{
  switch (unknown)
    {
    case DEW_UNKNOWN_LEAKAGE:
      return _ ("leakage");
    case DEW_UNKNOWN_FAN:
      return _ ("flow of the fan");
    case DEW_UNKNOWN_HUMIDIFIER:
      return _ ("output of the humidifier");
    case DEW_UNKNOWN_COVER:
      return _ ("heat through the cover");
    case DEW_UNKNOWN_EVAPORATION:
    default:
      return _ ("evaporating area");
    }
}

static void
append_learning (GString *out, const DewCalibration *c, const DewLearning *l)
{
  if (!l->present)
    return;
  if (l->learned < 0.1)
    g_string_append_printf (out, _ ("%s: the readings tell nothing about it"),
                            learned_name (l->unknown));
  else
    g_string_append_printf (out,
                            _ ("%s: %.2f times what the document says, nine times of ten between "
                               "%.2f and %.2f"),
                            learned_name (l->unknown), l->factor, l->lo, l->hi);
  if (l->with >= 0)
    g_string_append_printf (out, _ ("; cannot be told from: %s"),
                            learned_name (c->learning[l->with].unknown));
  if (l->at_bound)
    g_string_append (out, _ ("; at the edge of what is possible: look for another cause"));
  g_string_append_c (out, '\n');
}

char *
dew_report_calibration_text (const DewReport *about, const DewCalibration *c)
{
  GString *out = g_string_new (NULL);

  for (int i = 0; i < DEW_LEARNABLE; i++)
    append_learning (out, c, &c->learning[i]);
  g_string_append (out, c->held ? _ ("Readings that the fit did not see are missed by ")
                                : _ ("There were too few days to hold some back; the readings are "
                                     "missed by "));
  g_string_append_printf (out, _ ("%.1f K and %.1f points before, %.1f K and %.1f points after\n"),
                          c->before.t_K, 100.0 * c->before.rh, c->after.t_K, 100.0 * c->after.rh);
  if (!c->better)
    g_string_append (out, _ ("It is not nearer than before: better keep the document as it is\n"));
  return g_string_free (out, FALSE);
}

char *
dew_report_calibration_json (const DewReport *about, const DewCalibration *c)
{
  static const char *const keys[] = { "leakage", "fan", "humidifier", "cover", "evaporation" };
  DewJson *json = dew_json_new ();

  write_head (json, about, "dewtier calibration");
  dew_json_list (json, "learned");
  for (int i = 0; i < DEW_LEARNABLE; i++)
    {
      const DewLearning *l = &c->learning[i];

      dew_json_object (json, NULL);
      dew_json_text (json, "of", keys[i]);
      dew_json_flag (json, "present", l->present);
      dew_json_real (json, "factor", l->factor);
      dew_json_real (json, "lo", l->lo);
      dew_json_real (json, "hi", l->hi);
      dew_json_real (json, "learned", l->learned);
      dew_json_text (json, "tangled_with", l->with >= 0 ? keys[l->with] : NULL);
      dew_json_flag (json, "at_bound", l->at_bound);
      dew_json_end (json);
    }
  dew_json_end (json);
  dew_json_integer (json, "spells", c->n_spells);
  dew_json_integer (json, "held_back", c->n_held);
  dew_json_integer (json, "means", c->n_measured);
  dew_json_real (json, "before_t_K", c->before.t_K);
  dew_json_real (json, "before_rh", c->before.rh);
  dew_json_real (json, "after_t_K", c->after.t_K);
  dew_json_real (json, "after_rh", c->after.rh);
  dew_json_flag (json, "better", c->better);
  dew_json_real (json, "chi2", c->chi2);
  dew_json_integer (json, "rounds", c->rounds);
  return dew_json_finish (json);
}

/* --- where instruments hang ------------------------------------------------------------------ */

char *
dew_report_hang_text (const DewReport *about, const DewHang *hang)
{
  GString *out = g_string_new (NULL);

  g_string_append_printf (out,
                          _ ("Without readings the bays are known to %.1f K and %.1f points\n"),
                          hang->t_band_K, 100.0 * hang->rh_band);
  for (int i = 0; i < hang->n; i++)
    {
      const DewHanging *h = &hang->hanging[i];

      g_string_append_printf (out,
                              ngettext ("%d instrument: to %.1f K and %.1f points, at",
                                        "%d instruments: to %.1f K and %.1f points, at", h->n),
                              h->n, h->t_band_K, 100.0 * h->rh_band);
      for (int k = 0; k < h->n; k++)
        {
          const DewUnit *unit = dew_unit (DEW_MEASURE_LENGTH, about->tongue);
          g_autofree char *x = dew_unit_format (unit, h->at_m[k][0]);
          g_autofree char *y = dew_unit_format (unit, h->at_m[k][1]);
          g_autofree char *z = dew_unit_format (unit, h->at_m[k][2]);

          g_string_append_printf (out, _ ("%s %s from the left, %s from the front, %s up"),
                                  k > 0 ? ";" : "", x, y, z);
        }
      g_string_append_c (out, '\n');
    }
  return g_string_free (out, FALSE);
}

char *
dew_report_hang_json (const DewReport *about, const DewHang *hang)
{
  DewJson *json = dew_json_new ();

  write_head (json, about, "dewtier instruments");
  dew_json_real (json, "t_band_K", hang->t_band_K);
  dew_json_real (json, "rh_band", hang->rh_band);
  dew_json_list (json, "hangings");
  for (int i = 0; i < hang->n; i++)
    {
      const DewHanging *h = &hang->hanging[i];

      dew_json_object (json, NULL);
      dew_json_integer (json, "n", h->n);
      dew_json_real (json, "left", h->left);
      dew_json_real (json, "t_band_K", h->t_band_K);
      dew_json_real (json, "rh_band", h->rh_band);
      dew_json_list (json, "at");
      for (int k = 0; k < h->n; k++)
        {
          dew_json_object (json, NULL);
          dew_json_integer (json, "bay", hang->forecast->places[h->place[k]].bay);
          dew_json_reals (json, "at_m", h->at_m[k], 3);
          dew_json_end (json);
        }
      dew_json_end (json);
      dew_json_end (json);
    }
  dew_json_end (json);
  return dew_json_finish (json);
}
