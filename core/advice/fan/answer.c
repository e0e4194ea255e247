/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From settled forecasts to the short list, with bands. */
#include "advice/fan/fan-private.h"

#include <math.h>
#include <stdlib.h>

#include "advice/spread.h"

#define USUAL_OPTIONS 4

/* Indices into `chosen` of the layouts on the short list: as it is, then the best ones. */
static GArray *
short_list (const DewFanSearch *s)
{
  GArray *list = g_array_new (FALSE, FALSE, sizeof (int));
  g_autofree DewFanRanked *ranked = g_new (DewFanRanked, s->n_chosen);
  int most = s->q->options > 0 ? s->q->options : USUAL_OPTIONS, present = 0;

  g_array_append_val (list, present);
  for (int n = 0; n < s->n_chosen; n++)
    ranked[n] = (DewFanRanked){ n, s->settled[n].value };
  qsort (ranked, s->n_chosen, sizeof *ranked, dew_fan_better_first);
  for (int r = 0; r < s->n_chosen && list->len <= (guint) most; r++)
    {
      int n = ranked[r].candidate;
      gboolean alike = FALSE;

      if (n == 0 || s->settled[n].value < 0.0)
        continue;
      /* What is worse than the layout as it is is only told when it is the best there is. */
      if (list->len > 1 && s->settled[n].value < s->settled[0].value)
        break;
      for (guint l = 1; l < list->len && !alike; l++)
        {
          const DewFanCandidate *a = &s->advice->candidates[s->chosen[n]];
          const DewFanCandidate *b
            = &s->advice->candidates[s->chosen[g_array_index (list, int, l)]];

          alike = dew_fans_alike (&a->fan, a->bay, &b->fan, b->bay, s->advice->inner_m)
                  || dew_fans_mirrored (&a->fan, a->bay, &b->fan, b->bay, s->advice->inner_m);
        }
      if (!alike)
        g_array_append_val (list, n);
    }
  return list;
}

static gboolean
find_bands (DewFanSearch *s, const GArray *list, GError **error)
{
  g_autoptr (GPtrArray) documents
    = g_ptr_array_new_with_free_func ((GDestroyNotify) dew_chamber_free);
  g_autoptr (DewSpread) spread = NULL;
  DewFanAdvice *advice = s->advice;
  g_autofree double *settled = g_new (double, list->len);
  double zones;

  if (s->q->members < 0)
    return TRUE;
  for (guint l = 0; l < list->len; l++)
    g_ptr_array_add (documents,
                     dew_chamber_copy (dew_fan_document (s, &s->hands[0],
                                                         s->chosen[g_array_index (list, int, l)])));
  spread = dew_spread_new ((DewChamber *const *) documents->pdata, documents->len, s->variant_id,
                           s->start, s->advice->wants, &s->q->weights, s->q->members, s->n_hands,
                           s->cancellable, error);
  if (spread == NULL)
    return FALSE;
  for (guint l = 0; l < list->len; l++)
    settled[l] = s->settled[g_array_index (list, int, l)].value;
  zones = dew_spread_of_zones (spread, settled);
  for (int o = 0; o < advice->n_options; o++)
    {
      advice->options[o].band = hypot (dew_spread_difference (spread, o + 1, 0), zones);
      advice->options[o].behind_band
        = o == 0 ? 0.0 : hypot (dew_spread_difference (spread, o + 1, 1), zones);
    }
  return TRUE;
}

static void
fill_option (DewFanSearch *s, int n, DewFanOption *out)
{
  int candidate = s->chosen[n];
  const DewThing *thing
    = s->advice->fan_id != 0
        ? dew_variant_thing (dew_chamber_variant (s->chamber, s->variant_id), s->advice->fan_id)
        : NULL;

  out->candidate = candidate;
  out->speed_factor = out->opening_factor = 1.0;
  out->band = out->behind_band = NAN;
  if (candidate >= 0)
    {
      out->fan = s->advice->candidates[candidate].fan;
      out->speed_factor = s->advice->candidates[candidate].speed_factor;
      out->opening_factor = s->advice->candidates[candidate].opening_factor;
    }
  else if (thing != NULL)
    out->fan = thing->fan;
  out->objective = s->settled[n];
  out->day = g_steal_pointer (&s->kept[n][0]);
  out->night = g_steal_pointer (&s->kept[n][1]);
}

static void
describe (DewFanSearch *s, DewFanOption *option)
{
  DewFanAdvice *advice = s->advice;
  const DewFanOption *best = advice->n_options > 0 ? &advice->options[0] : option;
  const DewVariant *variant = dew_chamber_variant (s->chamber, s->variant_id);
  int bay = option->candidate >= 0 ? advice->candidates[option->candidate].bay
                                   : dew_variant_bay_at (s->chamber, variant, option->fan.z_m);
  g_autoptr (GArray) to_best = dew_bay_changes (option->day, option->night, best->day, best->night);

  option->bays
    = dew_bay_changes (option->day, option->night, advice->present.day, advice->present.night);
  option->changes = dew_trade_offs (&option->objective, &advice->present.objective, option->bays);
  option->against_best = dew_trade_offs (&option->objective, &best->objective, to_best);
  for (int night = 0; night < 2; night++)
    {
      const DewForecast *f = night ? option->night : option->day;

      for (int d = 0; f != NULL && d < f->n_devices; d++)
        {
          const DewThing *thing
            = dew_variant_thing ((DewVariant *) variant, f->devices[d].thing_id);
          gboolean it
            = advice->fan_id != 0 ? f->devices[d].thing_id == advice->fan_id : thing == NULL;

          if (it && f->devices[d].wetting_kg_m2s > option->wetting_kg_m2s)
            option->wetting_kg_m2s = f->devices[d].wetting_kg_m2s;
        }
    }
  for (guint b = 0; b < option->bays->len; b++)
    if (g_array_index (option->bays, DewBayChange, b).bay == bay)
      g_strlcpy (option->name, g_array_index (option->bays, DewBayChange, b).name,
                 sizeof option->name);
  option->shelf = dew_fan_shelf (s->chamber, variant, bay);
}

gboolean
dew_fan_answer (DewFanSearch *s, GError **error)
{
  DewFanAdvice *advice = s->advice;
  g_autoptr (GArray) list = NULL;

  list = short_list (s);
  if (list->len > 1 && !dew_fan_find_second (s, g_array_index (list, int, 1), error))
    return FALSE;
  advice->n_options = list->len - 1;
  advice->options = g_new0 (DewFanOption, MAX (1, advice->n_options));
  fill_option (s, 0, &advice->present);
  for (int o = 0; o < advice->n_options; o++)
    fill_option (s, g_array_index (list, int, o + 1), &advice->options[o]);
  if (!find_bands (s, list, error))
    return FALSE;
  describe (s, &advice->present);
  for (int o = 0; o < advice->n_options; o++)
    {
      DewFanOption *option = &advice->options[o];

      option->gain = option->objective.value - advice->present.objective.value;
      option->behind = advice->options[0].objective.value - option->objective.value;
      option->sure = option->gain > option->band; /* FALSE for an unknown band */
      option->as_good = !(option->behind > option->behind_band);
      describe (s, option);
    }
  advice->winner = advice->n_options > 0 && advice->options[0].sure;
  return TRUE;
}
