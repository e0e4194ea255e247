/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The answers of dewtier advise for programs: keys are the names of the members in core/advice,
 * in SI units. */
#include "say/report-advise.h"

#include "say/changes.h"
#include "say/fan.h"
#include "say/moisture.h"
#include "say/openings.h"
#include "say/report.h"
#include "say/wants.h"
#include "say/where.h"
#include "store/json.h"

static void
write_trade_offs (DewJson *json, const char *key, const GArray *changes, DewTongue tongue)
{
  g_auto (GStrv) words = dew_trade_offs_words (changes, tongue);

  dew_json_sentences (json, key, words);
}

/* --- what all have ------------------------------------------------------- */

static void
write_head (DewJson *json, const char *asks, const char *path, const DewChamber *chamber,
            const DewVariant *variant)
{
  g_autofree char *format = g_strconcat ("dewtier advice ", asks, NULL);

  dew_json_text (json, "format", format);
  dew_json_integer (json, "version", 1);
  dew_json_text (json, "file", path);
  dew_json_text (json, "enclosure", chamber->name);
  dew_json_text (json, "variant", variant->name);
  dew_json_integer (json, "variant_id", variant->id);
  dew_json_integer (json, "month", chamber->month + 1);
}

static void
write_band (DewJson *json, const char *key, const DewBandWish *band)
{
  dew_json_object (json, key);
  dew_json_real (json, "rh_lo", band->rh_lo);
  dew_json_real (json, "rh_hi", band->rh_hi);
  dew_json_real (json, "t_day_lo_C", band->t_day_lo_C);
  dew_json_real (json, "t_day_hi_C", band->t_day_hi_C);
  dew_json_real (json, "t_night_lo_C", band->t_night_lo_C);
  dew_json_real (json, "t_night_hi_C", band->t_night_hi_C);
  dew_json_end (json);
}

static void
write_wants (DewJson *json, const DewWants *wants, DewTongue tongue)
{
  g_auto (GStrv) contradictions = dew_wants_contradictions (wants, tongue);

  dew_json_object (json, "wants");
  dew_json_flag (json, "usual", wants->usual);
  write_band (json, "band", &wants->band);
  dew_json_sentences (json, "contradictions", contradictions);
  dew_json_list (json, "plants");
  for (guint p = 0; p < wants->plants->len; p++)
    {
      const DewWanted *plant = &g_array_index (wants->plants, DewWanted, p);

      dew_json_object (json, NULL);
      dew_json_text (json, "name", plant->name);
      dew_json_text (json, "species", plant->species);
      dew_json_integer (json, "thing_id", plant->thing_id);
      dew_json_integer (json, "count", plant->count);
      dew_json_flag (json, "known", plant->known);
      dew_json_flag (json, "given_up", plant->given_up);
      dew_json_end (json);
    }
  dew_json_end (json);
  dew_json_end (json);
}

static void
write_weights (DewJson *json, const DewWeights *weights)
{
  dew_json_object (json, "weights");
  for (int p = 0; p < DEW_N_GOALS; p++)
    dew_json_real (json, dew_goal_info (p)->key, weights->weight[p]);
  dew_json_real (json, "day_share", weights->day_share);
  dew_json_end (json);
}

static void
write_objective (DewJson *json, const DewObjective *objective)
{
  dew_json_object (json, "objective");
  dew_json_real (json, "value", objective->value);
  dew_json_object (json, "parts");
  for (int p = 0; p < DEW_N_GOALS; p++)
    {
      dew_json_object (json, dew_goal_info (p)->key);
      dew_json_real (json, "raw", objective->raw[p]);
      dew_json_text (json, "unit", dew_goal_info (p)->unit);
      dew_json_real (json, "day", objective->day[p]);
      dew_json_real (json, "night", objective->night[p]);
      dew_json_real (json, "merit", objective->merit[p]);
      dew_json_end (json);
    }
  dew_json_end (json);
  dew_json_end (json);
}

static void
write_changes (DewJson *json, const GArray *bays)
{
  dew_json_list (json, "bays");
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

      g_autofree char *name = dew_shelf_title (c->shelf);

      dew_json_object (json, NULL);
      dew_json_integer (json, "bay", c->bay);
      dew_json_text (json, "name", name);
      for (guint r = 0; r < G_N_ELEMENTS (reals); r++)
        dew_json_real (json, reals[r].key, reals[r].value);
      dew_json_end (json);
    }
  dew_json_end (json);
}

/* --- fan ----------------------------------------------------------------- */

static void
write_fan (DewJson *json, const DewFan *fan)
{
  DewThing thing = { .kind = DEW_THING_FAN };

  thing.fan = *fan;
  dew_json_object (json, "fan");
  for (const DewField *f = dew_thing_fields (DEW_THING_FAN); f->key != NULL; f++)
    if (f->type == DEW_FIELD_REAL)
      dew_json_real (json, f->key, dew_field_get_real (f, &thing));
    else if (f->type == DEW_FIELD_CHOICE)
      dew_json_text (json, f->key, f->choices[dew_field_get_int (f, &thing)]);
  dew_json_end (json);
}

static void
write_option (DewJson *json, const char *key, const DewFanAdvice *advice, const DewFanOption *o,
              gboolean fan, DewTongue tongue)
{
  g_autofree char *title = dew_fan_title (advice, o);

  dew_json_object (json, key);
  dew_json_text (json, "title", title);
  dew_json_integer (json, "candidate", o->candidate);
  if (fan)
    write_fan (json, &o->fan);
  dew_json_real (json, "speed_factor", o->speed_factor);
  dew_json_real (json, "opening_factor", o->opening_factor);
  write_objective (json, &o->objective);
  dew_json_real (json, "gain", o->gain);
  dew_json_real (json, "band", o->band);
  dew_json_flag (json, "sure", o->sure);
  dew_json_real (json, "behind", o->behind);
  dew_json_real (json, "behind_band", o->behind_band);
  dew_json_flag (json, "as_good", o->as_good);
  write_trade_offs (json, "words", o->changes, tongue);
  write_trade_offs (json, "against_best", o->against_best, tongue);
  write_changes (json, o->bays);
  dew_json_end (json);
}

static void
write_candidates (DewJson *json, const DewFanAdvice *advice)
{
  static const char *const rounds[] = { "none", "coarse", "closer", "settled" };

  dew_json_list (json, "candidates");
  for (int i = 0; i < advice->n_candidates; i++)
    {
      const DewFanCandidate *c = &advice->candidates[i];

      dew_json_object (json, NULL);
      dew_json_real (json, "x_m", c->fan.x_m);
      dew_json_real (json, "y_m", c->fan.y_m);
      dew_json_real (json, "z_m", c->fan.z_m);
      if (c->fan.mount == DEW_FAN_FREE)
        {
          dew_json_real (json, "azimuth_rad", c->fan.azimuth_rad);
          dew_json_real (json, "elevation_rad", c->fan.elevation_rad);
        }
      else
        {
          dew_json_text (json, "face", dew_face_key (c->fan.face));
          dew_json_text (json, "sense", c->fan.sense == DEW_BLOWS_IN ? "in" : "out");
        }
      dew_json_real (json, "speed_factor", c->speed_factor);
      dew_json_real (json, "opening_factor", c->opening_factor);
      dew_json_integer (json, "bay", c->bay);
      dew_json_text (json, "round", rounds[c->round]);
      if (c->round != DEW_ROUND_NONE)
        {
          dew_json_real (json, "coarse", c->coarse);
          dew_json_real (json, "value", c->objective.value);
          dew_json_reals (json, "raw", c->objective.raw, DEW_N_GOALS);
        }
      dew_json_end (json);
    }
  dew_json_end (json);
}

char *
dew_report_fan_json (const char *path, const DewChamber *chamber, const DewVariant *variant,
                     const DewFanAdvice *advice, DewTongue tongue)
{
  DewJson *json = dew_json_new ();
  g_autofree char *verdict = dew_fan_verdict (advice);

  write_head (json, "fan", path, chamber, variant);
  dew_json_text (json, "verdict", verdict);
  dew_json_flag (json, "winner", advice->winner);
  dew_json_integer (json, "fan_id", advice->fan_id);
  dew_json_flag (json, "present_fits", advice->present_fits);
  dew_json_integer (json, "n_candidates", advice->n_candidates);
  dew_json_integer (json, "draft_forecasts", advice->draft_forecasts);
  dew_json_integer (json, "settled_forecasts", advice->settled_forecasts);
  dew_json_real (json, "seconds", advice->seconds);
  write_weights (json, &advice->weights);
  write_wants (json, advice->wants, tongue);
  write_option (json, "present", advice, &advice->present,
                advice->fan_id != 0 && advice->present_fits, tongue);
  dew_json_list (json, "options");
  for (int o = 0; o < advice->n_options; o++)
    write_option (json, NULL, advice, &advice->options[o], TRUE, tongue);
  dew_json_end (json);
  write_candidates (json, advice);
  return dew_json_finish (json);
}

/* --- moisture ------------------------------------------------------------ */

static void
write_point (DewJson *json, const char *key, const DewSizingPoint *p)
{
  dew_json_object (json, key);
  dew_json_real (json, "x", p->x);
  dew_json_flag (json, "holds", p->holds);
  dew_json_real (json, "miss", p->miss);
  dew_json_real (json, "water_kg_day", p->water_kg_day);
  dew_json_flag (json, "settled", p->settled);
  dew_json_list (json, "bays");
  for (int b = 0; b < p->n_bays; b++)
    {
      dew_json_object (json, NULL);
      dew_json_real (json, "t_C", p->bays[b].t_C);
      dew_json_real (json, "rh", p->bays[b].rh);
      dew_json_real (json, "t_night_C", p->bays[b].t_night_C);
      dew_json_real (json, "rh_night", p->bays[b].rh_night);
      dew_json_real (json, "short_rh", p->bays[b].short_rh);
      dew_json_real (json, "over_rh", p->bays[b].over_rh);
      dew_json_real (json, "short_K", p->bays[b].short_K);
      dew_json_real (json, "over_K", p->bays[b].over_K);
      if (p->pots != NULL)
        dew_json_integer (json, "pots", p->pots[b]);
      dew_json_end (json);
    }
  dew_json_end (json);
  if (p->layout != NULL)
    {
      dew_json_list (json, "pots");
      for (guint i = 0; i < p->layout->len; i++)
        {
          const DewPot *pot = &g_array_index (p->layout, DewPot, i);
          const double at[3] = { pot->x_m, pot->y_m, pot->z_m };

          dew_json_reals (json, NULL, at, 3);
        }
      dew_json_end (json);
    }
  dew_json_end (json);
}

static void
write_curve (DewJson *json, const DewMoistureAdvice *advice, DewSizing sizing, DewTongue tongue)
{
  static const char *const units[DEW_N_SIZINGS] = { "pots", "kg/s", "share", "h/day" };
  const DewSizingCurve *curve = &advice->curves[sizing];
  g_autofree char *words = dew_sizing_words (advice, sizing, tongue);

  dew_json_object (json, dew_sizing_key (curve->sizing));
  dew_json_flag (json, "possible", curve->possible);
  dew_json_text (json, "words", words != NULL ? words : "");
  dew_json_text (json, "unit_of_x", units[curve->sizing]);
  dew_json_integer (json, "present", curve->present);
  dew_json_integer (json, "least", curve->least);
  dew_json_integer (json, "knee", curve->knee);
  dew_json_real (json, "band_rh", curve->band_rh);
  dew_json_flag (json, "sure", curve->sure);
  dew_json_list (json, "points");
  for (guint p = 0; p < curve->points->len; p++)
    write_point (json, NULL, &g_array_index (curve->points, DewSizingPoint, p));
  dew_json_end (json);
  dew_json_end (json);
}

char *
dew_report_moisture_json (const char *path, const DewChamber *chamber, const DewVariant *variant,
                          const DewMoistureAdvice *advice, DewTongue tongue)
{
  DewJson *json = dew_json_new ();
  g_autofree char *words = dew_sizing_without_words (advice, tongue);

  write_head (json, "moisture", path, chamber, variant);
  dew_json_real (json, "seconds", advice->seconds);
  write_wants (json, advice->wants, tongue);
  dew_json_list (json, "bays");
  for (int b = 0; b < advice->n_bays; b++)
    {
      g_autofree char *name = dew_shelf_title (advice->bay_shelves[b]);

      dew_json_object (json, NULL);
      dew_json_text (json, "name", name);
      write_band (json, "wants", &advice->bay_bands[b]);
      dew_json_end (json);
    }
  dew_json_end (json);
  write_point (json, "present", &advice->present);
  if (advice->without.n_bays > 0)
    {
      write_point (json, "without_humidifier", &advice->without);
      dew_json_text (json, "without_words", words);
    }
  dew_json_object (json, "curves");
  for (int sizing = 0; sizing < DEW_N_SIZINGS; sizing++)
    write_curve (json, advice, sizing, tongue);
  dew_json_end (json);
  return dew_json_finish (json);
}

/* --- openings ------------------------------------------------------------ */

static void
write_openings (DewJson *json, const GArray *openings)
{
  DewThing thing;

  dew_json_list (json, "openings");
  dew_thing_init (&thing, DEW_THING_OPENING);
  for (guint o = 0; o < openings->len; o++)
    {
      thing.opening = g_array_index (openings, DewOpening, o);
      dew_json_thing (json, &thing);
    }
  dew_json_end (json);
}

char *
dew_report_openings_json (const char *path, const DewChamber *chamber, const DewVariant *variant,
                          const DewOpeningAdvice *advice, DewTongue tongue)
{
  DewJson *json = dew_json_new ();
  g_autofree char *verdict = dew_opening_verdict (advice, tongue);

  write_head (json, "cut", path, chamber, variant);
  dew_json_text (json, "verdict", verdict);
  dew_json_integer (json, "best", advice->best);
  dew_json_real (json, "seconds", advice->seconds);
  write_wants (json, advice->wants, tongue);
  dew_json_list (json, "options");
  for (int i = 0; i < advice->n_options; i++)
    {
      const DewOpeningOption *o = &advice->options[i];

      g_autofree char *title = dew_opening_title (o, tongue);

      dew_json_object (json, NULL);
      dew_json_text (json, "title", title);
      dew_json_flag (json, "drawn", o->plan == DEW_PLAN_AS_DRAWN);
      dew_json_flag (json, "whole", o->plan == DEW_PLAN_WHOLE);
      dew_json_flag (json, "reversible", o->reversible);
      write_openings (json, o->openings);
      dew_json_flag (json, "forecast", o->forecast);
      if (o->forecast)
        {
          write_objective (json, &o->objective);
          dew_json_real (json, "gain", o->gain);
          dew_json_real (json, "band", o->band);
          dew_json_flag (json, "sure", o->sure);
          dew_json_real (json, "exchange_1_h", o->exchange_1_h);
          dew_json_real (json, "water_kg_day", o->water_kg_day);
          write_trade_offs (json, "words", o->changes, tongue);
          write_changes (json, o->bays);
        }
      else
        dew_json_text (json, "trouble", dew_opening_trouble (o));
      dew_json_end (json);
    }
  dew_json_end (json);
  return dew_json_finish (json);
}
