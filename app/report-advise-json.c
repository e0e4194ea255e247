/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The answers of dewtier advise for programs: keys are the names of the members in core/advice,
 * in SI units. */
#include "report-advise.h"

#include "report.h"
#include "store/json.h"

static void
write_words (GString *out, int indent, const char *key, char *const *words)
{
  dew_report_begin (out, indent, key, '[');
  for (int w = 0; words != NULL && words[w] != NULL; w++)
    dew_json_member_text (out, indent + 1, NULL, words[w]);
  dew_json_close (out, indent, ']');
}

/* --- what all have ------------------------------------------------------- */

static void
write_head (GString *out, const char *asks, const char *path, const DewChamber *chamber,
            const DewVariant *variant)
{
  g_autofree char *format = g_strconcat ("dewtier advice ", asks, NULL);

  dew_json_member_text (out, 1, "format", format);
  dew_report_integer (out, 1, "version", 1);
  dew_json_member_text (out, 1, "file", path);
  dew_json_member_text (out, 1, "enclosure", chamber->name);
  dew_json_member_text (out, 1, "variant", variant->name);
  dew_json_member_count (out, 1, "variant_id", variant->id);
  dew_report_integer (out, 1, "month", chamber->month + 1);
}

static void
write_band (GString *out, int indent, const char *key, const DewBandWish *band)
{
  dew_report_begin (out, indent, key, '{');
  dew_json_member_real (out, indent + 1, "rh_lo", band->rh_lo);
  dew_json_member_real (out, indent + 1, "rh_hi", band->rh_hi);
  dew_json_member_real (out, indent + 1, "t_day_lo_C", band->t_day_lo_C);
  dew_json_member_real (out, indent + 1, "t_day_hi_C", band->t_day_hi_C);
  dew_json_member_real (out, indent + 1, "t_night_lo_C", band->t_night_lo_C);
  dew_json_member_real (out, indent + 1, "t_night_hi_C", band->t_night_hi_C);
  dew_json_close (out, indent, '}');
}

static void
write_wants (GString *out, int indent, const DewWants *wants)
{
  dew_report_begin (out, indent, "wants", '{');
  dew_report_flag (out, indent + 1, "usual", wants->usual);
  write_band (out, indent + 1, "band", &wants->band);
  write_words (out, indent + 1, "contradictions", wants->contradictions);
  dew_report_begin (out, indent + 1, "plants", '[');
  for (guint p = 0; p < wants->plants->len; p++)
    {
      const DewWanted *plant = &g_array_index (wants->plants, DewWanted, p);

      dew_report_begin (out, indent + 2, NULL, '{');
      dew_json_member_text (out, indent + 3, "name", plant->name);
      dew_json_member_text (out, indent + 3, "species", plant->species);
      dew_json_member_count (out, indent + 3, "thing_id", plant->thing_id);
      dew_report_integer (out, indent + 3, "count", plant->count);
      dew_report_flag (out, indent + 3, "known", plant->known);
      dew_report_flag (out, indent + 3, "given_up", plant->given_up);
      dew_json_close (out, indent + 2, '}');
    }
  dew_json_close (out, indent + 1, ']');
  dew_json_close (out, indent, '}');
}

static void
write_weights (GString *out, int indent, const DewWeights *weights)
{
  dew_report_begin (out, indent, "weights", '{');
  for (int p = 0; p < DEW_N_PARTS; p++)
    dew_json_member_real (out, indent + 1, dew_part_info (p)->key, weights->weight[p]);
  dew_json_member_real (out, indent + 1, "day_share", weights->day_share);
  dew_json_close (out, indent, '}');
}

static void
write_objective (GString *out, int indent, const DewObjective *objective)
{
  dew_report_begin (out, indent, "objective", '{');
  dew_json_member_real (out, indent + 1, "value", objective->value);
  dew_report_begin (out, indent + 1, "parts", '{');
  for (int p = 0; p < DEW_N_PARTS; p++)
    {
      dew_report_begin (out, indent + 2, dew_part_info (p)->key, '{');
      dew_json_member_real (out, indent + 3, "raw", objective->raw[p]);
      dew_json_member_text (out, indent + 3, "unit", dew_part_info (p)->unit);
      dew_json_member_real (out, indent + 3, "day", objective->day[p]);
      dew_json_member_real (out, indent + 3, "night", objective->night[p]);
      dew_json_member_real (out, indent + 3, "merit", objective->merit[p]);
      dew_json_close (out, indent + 2, '}');
    }
  dew_json_close (out, indent + 1, '}');
  dew_json_close (out, indent, '}');
}

static void
write_changes (GString *out, int indent, const GArray *bays)
{
  dew_report_begin (out, indent, "bays", '[');
  for (guint b = 0; bays != NULL && b < bays->len; b++)
    {
      const DewBayChange *c = &g_array_index (bays, DewBayChange, b);
      const struct
      {
        const char *key;
        double value;
      } reals[] = { { "t_C", c->t_C },
                    { "rh", c->rh },
                    { "speed_m_s", c->speed_m_s },
                    { "still_share", c->still_share },
                    { "age_s", c->age_s },
                    { "even_rh", c->even_rh },
                    { "drip_kg_s", c->drip_kg_s },
                    { "d_t_K", c->d_t_K },
                    { "d_rh", c->d_rh },
                    { "d_speed_m_s", c->d_speed_m_s },
                    { "d_still_share", c->d_still_share },
                    { "d_age_s", c->d_age_s },
                    { "d_even_rh", c->d_even_rh },
                    { "d_drip_kg_s", c->d_drip_kg_s } };

      dew_report_begin (out, indent + 1, NULL, '{');
      dew_report_integer (out, indent + 2, "bay", c->bay);
      dew_json_member_text (out, indent + 2, "name", c->name);
      for (guint r = 0; r < G_N_ELEMENTS (reals); r++)
        dew_json_member_real (out, indent + 2, reals[r].key, reals[r].value);
      dew_json_close (out, indent + 1, '}');
    }
  dew_json_close (out, indent, ']');
}

static char *
finish (GString *out)
{
  dew_json_close (out, 0, '}');
  g_string_append_c (out, '\n');
  return g_string_free (out, FALSE);
}

/* --- fan ----------------------------------------------------------------- */

static void
write_fan (GString *out, int indent, const DewFan *fan)
{
  DewThing thing = { .kind = DEW_THING_FAN };

  thing.fan = *fan;
  dew_report_begin (out, indent, "fan", '{');
  for (const DewField *f = dew_thing_fields (DEW_THING_FAN); f->key != NULL; f++)
    if (f->type == DEW_FIELD_REAL)
      dew_json_member_real (out, indent + 1, f->key, dew_field_get_real (f, &thing));
    else if (f->type == DEW_FIELD_CHOICE)
      dew_json_member_text (out, indent + 1, f->key, f->choices[dew_field_get_int (f, &thing)]);
  dew_json_close (out, indent, '}');
}

static void
write_option (GString *out, int indent, const char *key, const DewFanOption *o, gboolean fan)
{
  dew_report_begin (out, indent, key, '{');
  dew_json_member_text (out, indent + 1, "title", o->title);
  dew_report_integer (out, indent + 1, "candidate", o->candidate);
  if (fan)
    write_fan (out, indent + 1, &o->fan);
  dew_json_member_real (out, indent + 1, "speed_factor", o->speed_factor);
  dew_json_member_real (out, indent + 1, "opening_factor", o->opening_factor);
  write_objective (out, indent + 1, &o->objective);
  dew_json_member_real (out, indent + 1, "gain", o->gain);
  dew_json_member_real (out, indent + 1, "band", o->band);
  dew_report_flag (out, indent + 1, "sure", o->sure);
  dew_json_member_real (out, indent + 1, "behind", o->behind);
  dew_json_member_real (out, indent + 1, "behind_band", o->behind_band);
  dew_report_flag (out, indent + 1, "as_good", o->as_good);
  write_words (out, indent + 1, "words", o->words);
  write_words (out, indent + 1, "against_best", o->against_best);
  write_changes (out, indent + 1, o->bays);
  dew_json_close (out, indent, '}');
}

static void
write_candidates (GString *out, const DewFanAdvice *advice)
{
  static const char *const rounds[] = { "none", "coarse", "closer", "settled" };

  dew_report_begin (out, 1, "candidates", '[');
  for (int i = 0; i < advice->n_candidates; i++)
    {
      const DewFanCandidate *c = &advice->candidates[i];

      dew_report_begin (out, 2, NULL, '{');
      dew_json_member_real (out, 3, "x_m", c->fan.x_m);
      dew_json_member_real (out, 3, "y_m", c->fan.y_m);
      dew_json_member_real (out, 3, "z_m", c->fan.z_m);
      if (c->fan.mount == DEW_FAN_FREE)
        {
          dew_json_member_real (out, 3, "azimuth_rad", c->fan.azimuth_rad);
          dew_json_member_real (out, 3, "elevation_rad", c->fan.elevation_rad);
        }
      else
        {
          dew_json_member_text (out, 3, "face", dew_face_key (c->fan.face));
          dew_json_member_text (out, 3, "sense", c->fan.sense == DEW_BLOWS_IN ? "in" : "out");
        }
      dew_json_member_real (out, 3, "speed_factor", c->speed_factor);
      dew_json_member_real (out, 3, "opening_factor", c->opening_factor);
      dew_report_integer (out, 3, "bay", c->bay);
      dew_json_member_text (out, 3, "round", rounds[c->round]);
      if (c->round != DEW_ROUND_NONE)
        {
          dew_json_member_real (out, 3, "coarse", c->coarse);
          dew_json_member_real (out, 3, "value", c->objective.value);
          dew_json_member_reals (out, 3, "raw", c->objective.raw, DEW_N_PARTS);
        }
      dew_json_close (out, 2, '}');
    }
  dew_json_close (out, 1, ']');
}

char *
dew_report_fan_json (const char *path, const DewChamber *chamber, const DewVariant *variant,
                     const DewFanAdvice *advice)
{
  GString *out = g_string_new ("{");

  write_head (out, "fan", path, chamber, variant);
  dew_json_member_text (out, 1, "verdict", advice->verdict);
  dew_report_flag (out, 1, "winner", advice->winner);
  dew_json_member_count (out, 1, "fan_id", advice->fan_id);
  dew_report_flag (out, 1, "present_fits", advice->present_fits);
  dew_report_integer (out, 1, "n_candidates", advice->n_candidates);
  dew_report_integer (out, 1, "draft_forecasts", advice->draft_forecasts);
  dew_report_integer (out, 1, "settled_forecasts", advice->settled_forecasts);
  dew_json_member_real (out, 1, "seconds", advice->seconds);
  write_weights (out, 1, &advice->weights);
  write_wants (out, 1, advice->wants);
  write_option (out, 1, "present", &advice->present, advice->fan_id != 0 && advice->present_fits);
  dew_report_begin (out, 1, "options", '[');
  for (int o = 0; o < advice->n_options; o++)
    write_option (out, 2, NULL, &advice->options[o], TRUE);
  dew_json_close (out, 1, ']');
  write_candidates (out, advice);
  return finish (out);
}

/* --- moisture ------------------------------------------------------------ */

static void
write_point (GString *out, int indent, const char *key, const DewSizingPoint *p)
{
  dew_report_begin (out, indent, key, '{');
  dew_json_member_real (out, indent + 1, "x", p->x);
  dew_report_flag (out, indent + 1, "holds", p->holds);
  dew_json_member_real (out, indent + 1, "miss", p->miss);
  dew_json_member_real (out, indent + 1, "water_kg_day", p->water_kg_day);
  dew_report_flag (out, indent + 1, "settled", p->settled);
  dew_report_begin (out, indent + 1, "bays", '[');
  for (int b = 0; b < p->n_bays; b++)
    {
      dew_report_begin (out, indent + 2, NULL, '{');
      dew_json_member_real (out, indent + 3, "t_C", p->bays[b].t_C);
      dew_json_member_real (out, indent + 3, "rh", p->bays[b].rh);
      dew_json_member_real (out, indent + 3, "t_night_C", p->bays[b].t_night_C);
      dew_json_member_real (out, indent + 3, "rh_night", p->bays[b].rh_night);
      dew_json_member_real (out, indent + 3, "short_rh", p->bays[b].short_rh);
      dew_json_member_real (out, indent + 3, "over_rh", p->bays[b].over_rh);
      dew_json_member_real (out, indent + 3, "short_K", p->bays[b].short_K);
      dew_json_member_real (out, indent + 3, "over_K", p->bays[b].over_K);
      if (p->pots != NULL)
        dew_report_integer (out, indent + 3, "pots", p->pots[b]);
      dew_json_close (out, indent + 2, '}');
    }
  dew_json_close (out, indent + 1, ']');
  if (p->layout != NULL)
    {
      dew_report_begin (out, indent + 1, "pots", '[');
      for (guint i = 0; i < p->layout->len; i++)
        {
          const DewPot *pot = &g_array_index (p->layout, DewPot, i);
          const double at[3] = { pot->x_m, pot->y_m, pot->z_m };

          dew_json_member_reals (out, indent + 2, NULL, at, 3);
        }
      dew_json_close (out, indent + 1, ']');
    }
  dew_json_close (out, indent, '}');
}

static void
write_curve (GString *out, int indent, const DewSizingCurve *curve)
{
  static const char *const units[DEW_N_SIZINGS] = { "pots", "kg/s", "share", "h/day" };

  dew_report_begin (out, indent, dew_sizing_key (curve->sizing), '{');
  dew_report_flag (out, indent + 1, "possible", curve->possible);
  dew_json_member_text (out, indent + 1, "words", curve->words != NULL ? curve->words : "");
  dew_json_member_text (out, indent + 1, "unit_of_x", units[curve->sizing]);
  dew_report_integer (out, indent + 1, "present", curve->present);
  dew_report_integer (out, indent + 1, "least", curve->least);
  dew_report_integer (out, indent + 1, "knee", curve->knee);
  dew_json_member_real (out, indent + 1, "band_rh", curve->band_rh);
  dew_report_flag (out, indent + 1, "sure", curve->sure);
  dew_report_begin (out, indent + 1, "points", '[');
  for (guint p = 0; p < curve->points->len; p++)
    write_point (out, indent + 2, NULL, &g_array_index (curve->points, DewSizingPoint, p));
  dew_json_close (out, indent + 1, ']');
  dew_json_close (out, indent, '}');
}

char *
dew_report_moisture_json (const char *path, const DewChamber *chamber, const DewVariant *variant,
                          const DewMoistureAdvice *advice)
{
  GString *out = g_string_new ("{");

  write_head (out, "moisture", path, chamber, variant);
  dew_json_member_real (out, 1, "seconds", advice->seconds);
  write_wants (out, 1, advice->wants);
  dew_report_begin (out, 1, "bays", '[');
  for (int b = 0; b < advice->n_bays; b++)
    {
      dew_report_begin (out, 2, NULL, '{');
      dew_json_member_text (out, 3, "name", advice->bay_names[b]);
      write_band (out, 3, "wants", &advice->bay_bands[b]);
      dew_json_close (out, 2, '}');
    }
  dew_json_close (out, 1, ']');
  write_point (out, 1, "present", &advice->present);
  if (advice->without.n_bays > 0)
    {
      write_point (out, 1, "without_humidifier", &advice->without);
      dew_json_member_text (out, 1, "without_words", advice->without_words);
    }
  dew_report_begin (out, 1, "curves", '{');
  for (int sizing = 0; sizing < DEW_N_SIZINGS; sizing++)
    write_curve (out, 2, &advice->curves[sizing]);
  dew_json_close (out, 1, '}');
  return finish (out);
}

/* --- openings ------------------------------------------------------------ */

static void
write_openings (GString *out, int indent, const GArray *openings)
{
  DewThing thing;

  dew_report_begin (out, indent, "openings", '[');
  dew_thing_init (&thing, DEW_THING_OPENING);
  for (guint o = 0; o < openings->len; o++)
    {
      thing.opening = g_array_index (openings, DewOpening, o);
      dew_json_member_thing (out, indent + 1, &thing);
    }
  dew_json_close (out, indent, ']');
}

char *
dew_report_openings_json (const char *path, const DewChamber *chamber, const DewVariant *variant,
                          const DewOpeningAdvice *advice)
{
  GString *out = g_string_new ("{");

  write_head (out, "cut", path, chamber, variant);
  dew_json_member_text (out, 1, "verdict", advice->verdict);
  dew_report_integer (out, 1, "best", advice->best);
  dew_json_member_real (out, 1, "seconds", advice->seconds);
  write_wants (out, 1, advice->wants);
  dew_report_begin (out, 1, "options", '[');
  for (int i = 0; i < advice->n_options; i++)
    {
      const DewOpeningOption *o = &advice->options[i];

      dew_report_begin (out, 2, NULL, '{');
      dew_json_member_text (out, 3, "title", o->title);
      dew_report_flag (out, 3, "drawn", o->drawn);
      dew_report_flag (out, 3, "whole", o->whole);
      dew_report_flag (out, 3, "reversible", o->reversible);
      write_openings (out, 3, o->openings);
      dew_report_flag (out, 3, "forecast", o->forecast);
      if (o->forecast)
        {
          write_objective (out, 3, &o->objective);
          dew_json_member_real (out, 3, "gain", o->gain);
          dew_json_member_real (out, 3, "band", o->band);
          dew_report_flag (out, 3, "sure", o->sure);
          dew_json_member_real (out, 3, "exchange_1_h", o->exchange_1_h);
          dew_json_member_real (out, 3, "water_kg_day", o->water_kg_day);
          write_words (out, 3, "words", o->words);
          write_changes (out, 3, o->bays);
        }
      else
        dew_json_member_text (out, 3, "trouble", o->trouble);
      dew_json_close (out, 2, '}');
    }
  dew_json_close (out, 1, ']');
  return finish (out);
}
