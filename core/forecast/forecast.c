/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/forecast.h"

#include <glib/gi18n.h>

#include <math.h>
#include <string.h>

#include "forecast/bands.h"
#include "forecast/build.h"
#include "forecast/findings.h"
#include "forecast/options.h"
#include "forecast/possible.h"
#include "forecast/run.h"
#include "geometry/geometry.h"
#include "moist/moist.h"
#include "zones/fitted.h"
#include "moist/constants.h"
#include "say/problems.h"

/* Zones wanted and largest zone, by DewGrid. */
static const struct
{
  int zones;
  double largest_m;
} fineness[] = { DEW_FITTED_ZONES };

G_DEFINE_QUARK (dew - forecast - error - quark, dew_forecast_error)

void
dew_forecast_options_init (DewForecastOptions *options)
{
  memset (options, 0, sizeof *options);
  options->grid = DEW_GRID_SETTLED;
}

DewForecast *
dew_forecast_ref (DewForecast *f)
{
  g_atomic_int_inc (&f->ref_count);
  return f;
}

void
dew_forecast_unref (DewForecast *f)
{
  if (f == NULL || !g_atomic_int_dec_and_test (&f->ref_count))
    return;
  for (int a = 0; a < 3; a++)
    {
      g_free (f->line_m[a]);
      g_free (f->velocity_m_s[a]);
      g_free (f->face_m_s[a]);
    }
  for (int v = 0; v < DEW_N_VALUES; v++)
    g_free (f->value[v]);
  g_free (f->still_share);
  g_free (f->board);
  g_free (f->bays);
  g_free (f->places);
  g_free (f->exchanges);
  g_free (f->findings);
  g_free (f->devices);
  g_free (f->drip_kg_m2s);
  g_free (f->other);
  g_free (f);
}

DewForecast *
dew_forecast_copy (const DewForecast *f)
{
  DewForecast *c = g_memdup2 (f, sizeof *f);
  gsize zones = sizeof (double) * f->n_zones;

  c->ref_count = 1;
  for (int a = 0; a < 3; a++)
    {
      int faces = (f->n[0] + (a == 0)) * (f->n[1] + (a == 1)) * (f->n[2] + (a == 2));

      c->line_m[a] = g_memdup2 (f->line_m[a], sizeof (double) * (f->n[a] + 1));
      c->velocity_m_s[a] = g_memdup2 (f->velocity_m_s[a], zones);
      c->face_m_s[a] = g_memdup2 (f->face_m_s[a], sizeof (double) * faces);
    }
  for (int v = 0; v < DEW_N_VALUES; v++)
    c->value[v] = g_memdup2 (f->value[v], zones);
  c->still_share = g_memdup2 (f->still_share, zones);
  c->drip_kg_m2s = g_memdup2 (f->drip_kg_m2s, zones);
  c->board = g_memdup2 (f->board, (gsize) f->n[0] * f->n[1] * (f->n[2] + 1));
  c->bays = g_memdup2 (f->bays, sizeof *f->bays * f->n_bays);
  c->places = g_memdup2 (f->places, sizeof *f->places * f->n_places);
  c->exchanges = g_memdup2 (f->exchanges, sizeof *f->exchanges * f->n_exchanges);
  c->devices = g_memdup2 (f->devices, sizeof *f->devices * f->n_devices);
  c->other = f->other != NULL ? g_memdup2 (f->other, sizeof *f->other * f->n_bays) : NULL;
  c->findings = g_memdup2 (f->findings, sizeof *f->findings * f->n_findings);
  return c;
}

const char *
dew_forecast_state_text (const DewForecast *f)
{
  switch (f->state)
    {
    case DEW_FORECAST_FOLLOWING:
      return dew_forecast_is_draft (f) ? _ ("following, as a draft") : _ ("following");
    case DEW_FORECAST_SETTLED:
      return f->two_answers ? _ ("settled, but another flow is possible") : _ ("settled");
    case DEW_FORECAST_UNSTEADY:
      return _ ("unsteady, shown as a mean");
    }
  g_return_val_if_reached ("");
}

gboolean
dew_forecast_is_draft (const DewForecast *f)
{
  return f->state == DEW_FORECAST_FOLLOWING && f->grid == DEW_GRID_DRAFT;
}

/* --- from a document to a run -------------------------------------------------------- */

/* Air of the room, as a Boussinesq fluid. */
static void
air_of_room (DewAir *air, const DewRoomAir *room, double pressure)
{
  air->pressure_Pa = pressure;
  air->density_kg_m3 = dew_moist_density (room->t_C, room->w_kg_kg, pressure);
  air->specific_heat_J_kgK = DEW_CP_DRY_AIR + DEW_CP_VAPOUR * room->w_kg_kg;
  air->viscosity_m2_s = dew_moist_viscosity (room->t_C, pressure);
  air->thermal_diffusivity_m2_s = dew_moist_thermal_diffusivity (room->t_C, pressure);
  air->expansion_1_K = 1.0 / (room->t_C + DEW_ZERO_C_K);
  air->gravity_m_s2 = DEW_GRAVITY_M_S2;
  air->latent_heat_J_kg = dew_moist_latent_heat (room->t_C);
  /* Slope of the relative density of an ideal mixture, (1 + w) / (1 + 1.608 w), at the
   * room's own humidity: 0.608 for dry air (virtual temperature, any meteorology text). */
  air->vapour_lift = 0.608 / ((1.0 + room->w_kg_kg) * (1.0 + 1.608 * room->w_kg_kg));
}

gboolean
dew_forecast_run_options (const DewChamber *chamber, guint variant_id,
                          const DewForecastOptions *options, DewRunOptions *out, GError **error)
{
  const DewRoom *room = &chamber->room;
  g_autoptr (GArray) problems = NULL;
  double inner[3], rh, pressure = dew_moist_pressure (room->altitude_m);
  int m = CLAMP (chamber->month, 0, 11);

  if (dew_chamber_variant (chamber, variant_id) == NULL)
    {
      g_set_error_literal (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_INVALID,
                           _ ("There is no such variant in this document"));
      return FALSE;
    }
  if (!options->checked)
    problems = dew_chamber_check (chamber, variant_id);
  if (problems != NULL && problems->len > 0)
    {
      g_autofree char *text
        = dew_problem_text (&g_array_index (problems, DewProblem, 0), DEW_TONGUE_PLAIN);

      g_set_error_literal (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_INVALID, text);
      return FALSE;
    }

  memset (out, 0, sizeof *out);
  dew_chamber_inner_m (chamber, inner);
  out->night = options->night;
  out->prandtl_turbulent
    = options->prandtl_turbulent > 0.0 ? options->prandtl_turbulent : DEW_FITTED_PRANDTL_TURBULENT;
  out->evaporation = chamber->learned.evaporation_factor;
  out->cover_held = options->cover_t_C != NULL;
  out->cover_t_C = out->cover_held ? *options->cover_t_C : 0.0;
  out->zone_m = options->zone_m > 0.0 ? options->zone_m
                                      : dew_zones_size_for (inner, fineness[options->grid].zones,
                                                            fineness[options->grid].largest_m);
  out->room.t_C = options->night ? room->months[m].t_night_C : room->months[m].t_day_C;
  rh = options->night ? room->months[m].rh_night : room->months[m].rh_day;
  if (options->air != NULL && options->air->pressure_Pa > 0.0)
    pressure = options->air->pressure_Pa;
  out->room.w_kg_kg = dew_moist_w_from_rh (out->room.t_C, rh, pressure);
  air_of_room (&out->air, &out->room, pressure);
  if (options->air != NULL)
    {
      out->air = *options->air;
      out->air.pressure_Pa = pressure;
    }
  return TRUE;
}

/* What a run has come to. No number that is none is ever shown: NULL with error when there is
 * one. */
static DewForecast *
conclude (DewRun *run, const DewForecastOptions *options, DewForecastState state, gint64 start,
          GError **error)
{
  g_autoptr (DewForecast) f = dew_forecast_build (run);

  f->grid = options->grid;
  f->state = state;
  /* First what asks for the impossible: its numbers may be none for that alone. */
  if (!dew_forecast_check_possible (f, dew_run_variant (run), error))
    return NULL;
  if (!dew_forecast_is_finite (f))
    {
      g_set_error_literal (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_DIVERGED,
                           _ ("The climate in this enclosure could not be computed: heat and "
                              "water found no balance"));
      return NULL;
    }
  dew_findings_make (dew_run_chamber (run), dew_run_variant (run), options->wish,
                     options->wish_data, f);
  f->seconds = (g_get_monotonic_time () - start) / 1e6;
  return g_steal_pointer (&f);
}

static DewForecast *
finish (DewRun *run, const DewForecastOptions *options, double tolerance, gint64 start,
        GError **error)
{
  DewRunView v;

  dew_run_finish (run, tolerance, 0);
  dew_run_view (run, &v);
  return conclude (run, options, v.settled ? DEW_FORECAST_SETTLED : DEW_FORECAST_UNSTEADY, start,
                   error);
}

DewForecast *
dew_forecast_finish (DewRun *run, const DewForecastOptions *options, double tolerance,
                     GError **error)
{
  return finish (run, options, tolerance, g_get_monotonic_time (), error);
}

DewForecast *
dew_forecast_on_the_way (DewRun *run, const DewForecastOptions *options, GError **error)
{
  return conclude (run, options, DEW_FORECAST_FOLLOWING, g_get_monotonic_time (), error);
}

/* The way from rest is walked on draft zones, where it costs a quarter. */
static gboolean
start_coarse (DewRun *run, const DewChamber *chamber, guint variant_id,
              const DewForecastOptions *options, gboolean air_first, GCancellable *cancellable,
              GError **error)
{
  DewForecastOptions draft = *options;
  DewRunOptions ro;
  g_autoptr (DewRun) coarse = NULL;

  if (options->grid == DEW_GRID_DRAFT || options->zone_m > 0.0)
    return dew_run_approach (run, air_first, cancellable, error);
  draft.grid = DEW_GRID_DRAFT;
  if (!dew_forecast_run_options (chamber, variant_id, &draft, &ro, error))
    return FALSE;
  coarse = dew_run_new (chamber, variant_id, &ro, error);
  if (coarse == NULL || !dew_run_approach (coarse, air_first, cancellable, error))
    return FALSE;
  dew_run_start_from (run, coarse);
  return TRUE;
}

DewRun *
dew_forecast_settled_run (const DewChamber *chamber, guint variant_id,
                          const DewForecastOptions *options, gboolean air_first, const DewRun *like,
                          GCancellable *cancellable, GError **error)
{
  DewRunOptions ro;
  g_autoptr (DewRun) run = NULL;

  if (!dew_forecast_run_options (chamber, variant_id, options, &ro, error))
    return NULL;
  run = dew_run_new_like (chamber, variant_id, &ro, like, error);
  if (run == NULL
      || !start_coarse (run, chamber, variant_id, options, air_first, cancellable, error)
      || !dew_run_settle (run, cancellable, error))
    return NULL;
  return g_steal_pointer (&run);
}

DewForecast *
dew_forecast_new (const DewChamber *chamber, guint variant_id, const DewForecastOptions *options,
                  GCancellable *cancellable, GError **error)
{
  g_autoptr (DewRun) run = NULL;
  g_autoptr (DewForecast) f = NULL;
  g_autoptr (DewForecast) sure = NULL;
  gint64 start = g_get_monotonic_time ();

  g_return_val_if_fail (chamber != NULL && options != NULL, NULL);

  run = dew_forecast_settled_run (chamber, variant_id, options, FALSE, NULL, cancellable, error);
  if (run == NULL)
    return NULL;
  f = finish (run, options, DEW_FORECAST_SETTLED_TOLERANCE, start, error);
  if (f == NULL || options->members == 0)
    return g_steal_pointer (&f);
  sure = dew_forecast_with_bands (f, chamber, variant_id, options, cancellable, error);
  if (sure == NULL
      || !dew_forecast_find_other (sure, chamber, variant_id, options, run, cancellable, error))
    return NULL;
  return g_steal_pointer (&sure);
}
