/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "calibrate/witness.h"

#include "moist/moist.h"

#include <math.h>

static gint64
moment_of (GTimeZone *zone, gint64 day_s, double hour)
{
  /* The offset of noon will do: the hours of settling cover the night of a change. */
  int interval = g_time_zone_find_interval (zone, G_TIME_TYPE_UNIVERSAL, day_s + DEW_DAY_S / 2);

  return day_s - g_time_zone_get_offset (zone, interval) + (gint64) (hour * 3600.0);
}

static void
add_spell (GArray *out, gint64 from_s, gint64 to_s, gboolean night, gint64 least_s, gint64 most_s)
{
  DewSpell spell = { MAX (from_s + DEW_SPELL_SETTLE_S, least_s), MIN (to_s, most_s), night };

  if (spell.to_s > spell.from_s)
    g_array_append_val (out, spell);
}

GArray *
dew_spells (const DewRoutine *routine, GTimeZone *zone, gint64 from_s, gint64 to_s)
{
  GArray *out = g_array_new (FALSE, FALSE, sizeof (DewSpell));
  double begin = routine->day_from_h, end = routine->day_until_h;

  if (end <= begin)
    end += 24.0;
  for (gint64 day = dew_reading_day (from_s) - 2; day <= dew_reading_day (to_s) + 1; day++)
    {
      gint64 dawn = moment_of (zone, day * DEW_DAY_S, begin);
      gint64 dusk = moment_of (zone, day * DEW_DAY_S, end);
      gint64 next = moment_of (zone, (day + 1) * DEW_DAY_S, begin);

      add_spell (out, dawn, dusk, FALSE, from_s, to_s);
      add_spell (out, dusk, next, TRUE, from_s, to_s);
    }
  return out;
}

/* Two half widths that know nothing of each other, and more. */
static double
together (double a, double b, double c)
{
  return sqrt (a * a + b * b + c * c);
}

static double
spread (double squares, double sum, int n)
{
  return n > 1 ? 1.645 * sqrt (MAX (0.0, (squares - sum * sum / n) / (n - 1)) / n) : 0.0;
}

gboolean
dew_witness (const DewWitness *witness, const GArray *spells, guint first, guint last,
             gboolean night, double pressure_Pa, DewWitnessed *out)
{
  double t = 0.0, tt = 0.0, rh = 0.0, hh = 0.0, slope_t = 0.0, slope_rh = 0.0;

  *out = (DewWitnessed){
    .t_min_C = INFINITY, .t_max_C = -INFINITY, .rh_min = INFINITY, .rh_max = -INFINITY
  };
  for (guint i = first; i < last && i < spells->len; i++)
    {
      const DewSpell *spell = &g_array_index (spells, DewSpell, i);
      DewReadingMeans means;

      if (spell->night != night)
        continue;
      dew_readings_means (witness->readings, spell->from_s, spell->to_s, &means);
      if (means.n == 0 || isnan (means.t_mean_C) || isnan (means.rh_mean))
        continue;
      out->n_spells++;
      out->n += means.n;
      t += means.t_mean_C;
      tt += means.t_mean_C * means.t_mean_C;
      rh += means.rh_mean;
      hh += means.rh_mean * means.rh_mean;
      slope_t += means.slope_t_K_s;
      slope_rh += means.slope_rh_1_s;
      out->t_min_C = MIN (out->t_min_C, means.t_min_C);
      out->t_max_C = MAX (out->t_max_C, means.t_max_C);
      out->rh_min = MIN (out->rh_min, means.rh_min);
      out->rh_max = MAX (out->rh_max, means.rh_max);
    }
  if (out->n_spells == 0)
    return FALSE;
  out->t_C = t / out->n_spells;
  out->rh = CLAMP (rh / out->n_spells, 0.0, 1.0);
  out->w_kg_kg = dew_moist_w_from_rh (out->t_C, out->rh, pressure_Pa);
  out->t_error_K = together (witness->t_error_K, witness->lag_s * slope_t / out->n_spells,
                             spread (tt, t, out->n_spells));
  out->rh_error = together (witness->rh_error, witness->lag_s * slope_rh / out->n_spells,
                            spread (hh, rh, out->n_spells));
  /* Vapour is found from both: its errors are those of either. */
  out->w_error_kg_kg
    = out->w_kg_kg
      * together (out->rh_error / MAX (0.05, out->rh),
                  out->t_error_K * dew_moist_p_sat_slope (out->t_C) / dew_moist_p_sat (out->t_C),
                  0.0);
  return TRUE;
}
