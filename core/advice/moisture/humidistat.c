/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What to set a humidistat to, and where its sensor hangs. */
#include "advice/moisture/moisture-private.h"

#include <math.h>

#include "forecast/probe.h"
#include "moist/moist.h"

#define PLUME_M 0.30      /* from the outlet to the sensor, at least: common practice, no source */
#define SENSOR_LAG_S 60.0 /* of a cheap sensor in slow air: common practice, no source */
#define LEAST_OVER 0.01   /* set points tried: so much over the lowest that still holds, and more */
#define MORE_OVER 0.03
#define USUAL_BAND 0.04
#define DRY_KG_M2S 1e-8 /* mist that a sensor bears, 0.04 mL/m2h */

/* --- where the sensor hangs ---------------------------------------------- */

static double
from_outlets_m (const DewVariant *variant, const double at_m[3])
{
  double least = G_MAXDOUBLE;

  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);
      const DewHumidifier *h = &thing->humidifier;

      if (thing->kind == DEW_THING_HUMIDIFIER)
        least = MIN (least, sqrt (pow (h->x_m - at_m[0], 2.0) + pow (h->y_m - at_m[1], 2.0)
                                  + pow (h->z_m + h->height_m - at_m[2], 2.0)));
    }
  return least;
}

/* Among the places of the bay that decides: dry, away from the outlet, and as humid as the bay is
 * in the mean. */
static gboolean
find_sensor (const DewLayout *layout, const DewVariant *variant, int bay, double at_m[3])
{
  const DewForecast *f = layout->day;
  double least = G_MAXDOUBLE;

  for (int p = 0; p < f->n_places; p++)
    {
      const DewPlace *place = &f->places[p];
      double middle[3], away, cost;

      if (place->bay != bay)
        continue;
      for (int a = 0; a < 3; a++)
        middle[a] = 0.5 * (place->lo_m[a] + place->hi_m[a]);
      away = from_outlets_m (variant, middle);
      cost = fabs (place->mean.rh - f->bays[bay].mean.rh) + MAX (0.0, PLUME_M - away)
             + (place->mean.wetting_kg_m2s > DRY_KG_M2S ? 1.0 : 0.0);
      if (cost >= least)
        continue;
      least = cost;
      for (int a = 0; a < 3; a++)
        at_m[a] = middle[a];
    }
  return least < G_MAXDOUBLE;
}

/* --- trying set points --------------------------------------------------- */

void
dew_sizing_set_humidistat (DewChamber *chamber, guint variant_id, const DewHumidistat *humidistat)
{
  DewVariant *variant = dew_chamber_variant (chamber, variant_id);
  DewThing sensor;
  guint id;

  dew_thing_init (&sensor, DEW_THING_INSTRUMENT);
  sensor.instrument
    = (DewInstrument){ humidistat->sensor_m[0], humidistat->sensor_m[1], humidistat->sensor_m[2] };
  id = dew_variant_add (chamber, variant, &sensor)->id;
  for (guint t = 0; t < variant->things->len; t++)
    {
      DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind != DEW_THING_HUMIDIFIER)
        continue;
      thing->humidifier.set_rh = humidistat->set_rh;
      thing->humidifier.band_rh = humidistat->band_rh;
      thing->humidifier.sensor_id = (int) id;
    }
}

static double
duty_of (const DewForecast *f, const DewVariant *variant)
{
  double duty = NAN;

  for (int d = 0; d < f->n_devices; d++)
    {
      const DewThing *thing = dew_variant_thing ((DewVariant *) variant, f->devices[d].thing_id);

      if (thing != NULL && thing->kind == DEW_THING_HUMIDIFIER)
        duty = fmax (duty, f->devices[d].duty);
    }
  return duty;
}

/* Half of what the humidity at the sensor goes up and down: half the switching band, and what the
 * device gives off or the air loses more while the sensor lags behind. A bound for air that is
 * well mixed. */
static double
swing_of (const DewSizer *s, const DewForecast *f, double output_kg_s, double duty)
{
  double volume_m3 = f->inner_m[0] * f->inner_m[1] * f->inner_m[2];
  double full_kg_kg = dew_moist_w_from_rh (f->all.t_C, 1.0, f->pressure_Pa);
  double air_kg = volume_m3 * dew_moist_density (f->all.t_C, f->all.w_kg_kg, f->pressure_Pa);
  double rises_kg_s = MAX (duty, 1.0 - duty) * output_kg_s;

  return 0.5 * s->advice->humidistat.band_rh
         + 0.5 * SENSOR_LAG_S * rises_kg_s / (air_kg * full_kg_kg);
}

static void
fill (DewSizer *s, const DewLayout *layout, const DewHumidistat *tried)
{
  DewHumidistat *out = &s->advice->humidistat;
  const DewVariant *variant = dew_layout_variant (&s->bench, layout);
  double output;
  int n;

  output = dew_sizing_output_kg_s (variant, &n);
  *out = *tried;
  out->possible = TRUE;
  dew_sizing_judge (s, layout, TRUE, FALSE, &out->point);
  out->duty_day = duty_of (layout->day, variant);
  out->duty_night = duty_of (layout->night, variant);
  out->swing_rh = swing_of (s, layout->day, output, fmax (out->duty_day, out->duty_night));
  out->point.x = 0.5 * (out->duty_day + out->duty_night) * output;
}

static gboolean
is_better (const DewSizingPoint *a, const DewSizingPoint *b)
{
  if (a->holds != b->holds)
    return a->holds;
  if (fabs (a->miss - b->miss) > 0.5)
    return a->miss < b->miss;
  return a->water_kg_day < b->water_kg_day;
}

gboolean
dew_sizing_find_humidistat (DewSizer *s, const DewSizingPoint *constant)
{
  DewHumidistat tried = { .band_rh = USUAL_BAND };
  g_autoptr (GPtrArray) layouts = g_ptr_array_new_with_free_func ((GDestroyNotify) dew_layout_free);
  DewLayout *steady = dew_layout_new (s->chamber), *one[1] = { steady };
  const DewBandWish *wish;
  double set[3], lo, hi;

  g_ptr_array_add (layouts, steady);
  dew_sizing_set (steady->chamber, s->variant_id, DEW_SIZING_HUMIDIFIER, constant->x, NULL);
  if (!dew_layout_bench_run (&s->bench, one, 1, DEW_GRID_SETTLED, s->error))
    return FALSE;
  if (steady->trouble != NULL)
    return TRUE;
  dew_sizing_margin (s, constant, &tried.bay);
  wish = &s->advice->bay_bands[tried.bay];
  if (isnan (wish->rh_lo)
      || !find_sensor (steady, dew_layout_variant (&s->bench, steady), tried.bay, tried.sensor_m))
    return TRUE;
  lo = wish->rh_lo + 0.5 * tried.band_rh;
  hi = isnan (wish->rh_hi) ? 1.0 : wish->rh_hi - 0.5 * tried.band_rh;
  set[0] = lo + LEAST_OVER;
  set[1] = lo + MORE_OVER;
  set[2] = 0.5 * (lo + MAX (lo, MIN (hi, lo + 4.0 * MORE_OVER)));
  for (int n = 0; n < 3; n++)
    {
      DewLayout *layout = dew_layout_new (s->chamber);

      tried.set_rh = MIN (0.99, set[n]);
      dew_sizing_set_humidistat (layout->chamber, s->variant_id, &tried);
      g_ptr_array_add (layouts, layout);
    }
  if (!dew_layout_bench_run (&s->bench, (DewLayout *const *) layouts->pdata + 1, 3,
                             DEW_GRID_SETTLED, s->error))
    return FALSE;
  for (int n = 0; n < 3; n++)
    {
      const DewLayout *layout = g_ptr_array_index (layouts, n + 1);
      DewSizingPoint point = { 0 };
      gboolean better;

      if (layout->trouble != NULL)
        continue;
      dew_sizing_judge (s, layout, TRUE, FALSE, &point);
      better = !s->advice->humidistat.possible || is_better (&point, &s->advice->humidistat.point);
      dew_sizing_point_clear (&point);
      if (!better)
        continue;
      dew_sizing_point_clear (&s->advice->humidistat.point);
      tried.set_rh = MIN (0.99, set[n]);
      fill (s, layout, &tried);
    }
  return TRUE;
}
