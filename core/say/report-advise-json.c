/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The answers of dewtier advise for programs: keys are the names of the members in core/advice,
 * in SI units. */
#include "say/report-private.h"

#include "say/changes.h"
#include "say/fan.h"
#include "say/moisture.h"
#include "say/openings.h"
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

static DewJson *
begin (const char *format, const DewReport *about)
{
  DewJson *json = dew_json_new ();

  dew_report_head (json, format, about);
  dew_report_put (json, WORDS ("variant", about->variant->name),
                  INTEGER_OF ("variant_id", about->variant->id),
                  INTEGER_OF ("month", about->chamber->month + 1));
  return json;
}

static void
write_band (DewJson *json, const char *key, const DewBandWish *band)
{
  dew_report_record (json, key, REAL (band, rh_lo), REAL (band, rh_hi), REAL (band, t_day_lo_C),
                     REAL (band, t_day_hi_C), REAL (band, t_night_lo_C), REAL (band, t_night_hi_C));
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

      dew_report_record (json, NULL, WORDS ("name", plant->name), WORDS ("species", plant->species),
                         INTEGER (plant, thing_id), INTEGER (plant, count), FLAG (plant, known),
                         FLAG (plant, given_up));
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
      dew_report_record (json, dew_goal_info (p)->key, REAL_OF ("raw", objective->raw[p]),
                         WORDS ("unit", dew_goal_info (p)->unit),
                         REAL_OF ("day", objective->day[p]), REAL_OF ("night", objective->night[p]),
                         REAL_OF ("merit", objective->merit[p]));
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
      g_autofree char *name = dew_shelf_called (c->name, c->shelf);

      dew_report_record (json, NULL, INTEGER (c, bay), WORDS ("name", name), REAL (c, t_C),
                         REAL (c, rh), REAL (c, speed_m_s), REAL (c, still_share), REAL (c, age_s),
                         REAL (c, even_rh), REAL (c, drip_kg_s), REAL (c, d_t_K), REAL (c, d_rh),
                         REAL (c, d_speed_m_s), REAL (c, d_still_share), REAL (c, d_age_s),
                         REAL (c, d_even_rh), REAL (c, d_drip_kg_s));
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
  dew_report_put (json, WORDS ("title", title), INTEGER (o, candidate));
  if (fan)
    write_fan (json, &o->fan);
  dew_report_put (json, REAL (o, speed_factor), REAL (o, opening_factor));
  write_objective (json, &o->objective);
  dew_report_put (json, REAL (o, gain), REAL (o, band), FLAG (o, sure), REAL (o, behind),
                  REAL (o, behind_band), FLAG (o, as_good));
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
      dew_report_put (json, REAL (&c->fan, x_m), REAL (&c->fan, y_m), REAL (&c->fan, z_m));
      if (c->fan.mount == DEW_FAN_FREE)
        {
          dew_report_put (json, REAL (&c->fan, azimuth_rad), REAL (&c->fan, elevation_rad));
        }
      else
        {
          dew_report_put (json, WORDS ("face", dew_face_key (c->fan.face)),
                          WORDS ("sense", c->fan.sense == DEW_BLOWS_IN ? "in" : "out"));
        }
      dew_report_put (json, REAL (c, speed_factor), REAL (c, opening_factor), INTEGER (c, bay),
                      WORDS ("round", rounds[c->round]));
      if (c->round != DEW_ROUND_NONE)
        {
          dew_report_put (json, REAL (c, coarse), REAL (&c->objective, value));
          dew_json_reals (json, "raw", c->objective.raw, DEW_N_GOALS);
        }
      dew_json_end (json);
    }
  dew_json_end (json);
}

char *
dew_report_fan_json (const DewReport *about, const DewFanAdvice *advice)
{
  DewJson *json = begin ("dewtier advice fan", about);
  DewTongue tongue = about->tongue;
  g_autofree char *verdict = dew_fan_verdict (advice);

  dew_report_put (json, WORDS ("verdict", verdict), FLAG (advice, winner), INTEGER (advice, fan_id),
                  FLAG (advice, present_fits), INTEGER (advice, n_candidates),
                  INTEGER (advice, n_places), INTEGER (advice, draft_forecasts),
                  INTEGER (advice, settled_forecasts), REAL (advice, seconds));
  write_weights (json, &advice->weights);
  write_wants (json, advice->wants, tongue);
  write_option (json, "present", advice, &advice->present,
                advice->fan_id != 0 && advice->present_fits, tongue);
  dew_json_list (json, "options");
  for (int o = 0; o < advice->n_options; o++)
    write_option (json, NULL, advice, &advice->options[o], TRUE, tongue);
  dew_json_end (json);
  write_candidates (json, advice);
  if (advice->has_second)
    dew_report_record (json, "second", REAL_OF ("x_m", advice->second.x_m),
                       REAL_OF ("y_m", advice->second.y_m), REAL_OF ("z_m", advice->second.z_m),
                       REAL_OF ("azimuth_rad", advice->second.azimuth_rad),
                       REAL_OF ("elevation_rad", advice->second.elevation_rad),
                       REAL_OF ("value", advice->second_value));
  return dew_json_finish (json);
}

/* --- moisture ------------------------------------------------------------ */

static void
write_point (DewJson *json, const char *key, const DewSizingPoint *p)
{
  dew_json_object (json, key);
  dew_report_put (json, REAL (p, x), FLAG (p, holds), REAL (p, miss), REAL (p, water_kg_day),
                  FLAG (p, settled));
  dew_json_list (json, "bays");
  for (int b = 0; b < p->n_bays; b++)
    {
      dew_json_object (json, NULL);
      dew_report_put (json, REAL (&p->bays[b], t_C), REAL (&p->bays[b], rh),
                      REAL (&p->bays[b], t_night_C), REAL (&p->bays[b], rh_night),
                      REAL (&p->bays[b], short_rh), REAL (&p->bays[b], over_rh),
                      REAL (&p->bays[b], short_K), REAL (&p->bays[b], over_K));
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
  static const char *const units[DEW_N_SIZINGS] = { "pots", "kg/s", "share" };
  const DewSizingCurve *curve = &advice->curves[sizing];
  g_autofree char *words = dew_sizing_words (advice, sizing, tongue);

  dew_json_object (json, dew_sizing_key (curve->sizing));
  dew_report_put (json, FLAG (curve, possible), WORDS ("words", words != NULL ? words : ""),
                  WORDS ("unit_of_x", units[curve->sizing]), INTEGER (curve, present),
                  INTEGER (curve, least), INTEGER (curve, knee), REAL (curve, band_rh),
                  FLAG (curve, sure));
  dew_json_list (json, "points");
  for (guint p = 0; p < curve->points->len; p++)
    write_point (json, NULL, &g_array_index (curve->points, DewSizingPoint, p));
  dew_json_end (json);
  dew_json_end (json);
}

static void
write_humidistat (DewJson *json, const DewHumidistat *h)
{
  if (!h->possible)
    return;
  dew_json_object (json, "humidistat");
  dew_report_put (json, REAL (h, set_rh), REAL (h, band_rh), INTEGER (h, bay), REAL (h, duty_day),
                  REAL (h, duty_night), REAL (h, swing_rh));
  dew_json_reals (json, "sensor_m", h->sensor_m, 3);
  write_point (json, "point", &h->point);
  dew_json_end (json);
}

char *
dew_report_moisture_json (const DewReport *about, const DewMoistureAdvice *advice)
{
  DewJson *json = begin ("dewtier advice moisture", about);
  DewTongue tongue = about->tongue;
  g_autofree char *words = dew_sizing_without_words (advice, tongue);

  dew_json_real (json, "seconds", advice->seconds);
  write_wants (json, advice->wants, tongue);
  dew_json_list (json, "bays");
  for (int b = 0; b < advice->n_bays; b++)
    {
      g_autofree char *name = dew_shelf_called (advice->bay_names[b], advice->bay_shelves[b]);

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
  if (advice->added)
    dew_report_record (json, "meant", WORDS ("name", advice->model),
                       REAL_OF ("x_m", advice->humidifier.humidifier.x_m),
                       REAL_OF ("y_m", advice->humidifier.humidifier.y_m),
                       REAL_OF ("z_m", advice->humidifier.humidifier.z_m),
                       REAL_OF ("output_kg_s", advice->humidifier.humidifier.output_kg_s));
  write_humidistat (json, &advice->humidistat);
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
dew_report_openings_json (const DewReport *about, const DewOpeningAdvice *advice)
{
  DewJson *json = begin ("dewtier advice cut", about);
  DewTongue tongue = about->tongue;
  g_autofree char *verdict = dew_opening_verdict (advice, tongue);

  dew_report_put (json, WORDS ("verdict", verdict), INTEGER (advice, best), REAL (advice, seconds));
  write_wants (json, advice->wants, tongue);
  dew_json_list (json, "options");
  for (int i = 0; i < advice->n_options; i++)
    {
      const DewOpeningOption *o = &advice->options[i];
      g_autofree char *title = dew_opening_title (o, tongue);

      dew_json_object (json, NULL);
      dew_report_put (json, WORDS ("title", title), FLAG_OF ("drawn", o->plan == DEW_PLAN_AS_DRAWN),
                      FLAG_OF ("whole", o->plan == DEW_PLAN_WHOLE), FLAG (o, reversible));
      write_openings (json, o->openings);
      dew_json_flag (json, "forecast", o->forecast);
      if (o->forecast)
        {
          write_objective (json, &o->objective);
          dew_report_put (json, REAL (o, gain), REAL (o, band), FLAG (o, sure),
                          REAL (o, exchange_1_h), REAL (o, water_kg_day));
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
