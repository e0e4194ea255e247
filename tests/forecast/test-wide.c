/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Nothing plausible is refused: enclosures drawn at random get an answer by day and by night, and
 * the answer keeps to what physics allows. A few are tried each time; more are asked for by the
 * numbers of the first and the last one:
 *
 *     DEW_TEST_WIDE=1-500 build/tests/test-wide
 *
 * With DEW_TEST_WIDE_FILES=FOLDER those that fail are written there, to be opened or run again.
 */

#include "random-enclosure.h"

#include "forecast/forecast.h"
#include "geometry/geometry.h"
#include "moist/constants.h"
#include "moist/moist.h"
#include "say/problems.h"
#include "store/store.h"

#include <fcntl.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

#define FIRST 1
#define LAST 12

#define OPEN_BALANCE 0.01 /* of the largest term */
/* What may be missing where next to nothing goes round: 4 mg of water an hour. */
#define TRIFLE_W 0.01
#define TRIFLE_KG_S 1e-9
#define SLACK_K 0.5
#define SLACK_M_S 0.05
#define OVER_SATURATION 1.02
/* Free convection inside and out at a still wall may let through less than half of what a
 * U-value with its standard films promises (ISO 6946: 8 and 8 W/m2K inside a room; still air
 * layers: 2 to 3). */
#define LEAST_OF_U 0.4
/* How much warmer over the room the warmest zone may be than the mean bound, where no plume and no
 * closed board is: heat gathers under the roof. */
#define GATHERED 3.0
/* Air that rises from a warm body of P watts, at z metres over its virtual origin two of its
 * widths below: 0.005 P^(1/3) z^(5/3) m3/s (Morton, Taylor & Turner 1956; as in REHVA Guidebook
 * 1, Displacement Ventilation, 2002, from memory); the middle of a plume is twice as warm as its
 * mean. At half a zone over it. */
#define PLUME 0.005
#define PLUME_START_M 0.03
/* Least friction of a turbulent boundary layer on a smooth wall (Schlichting, Boundary-Layer
 * Theory, plate at Re 1e6: 0.0045, from memory), and what share of a box's speed runs along it. */
#define FRICTION 0.003

/* --- what is possible ---------------------------------------------------------------- */

typedef struct
{
  double t_lo_C, t_hi_C, t_zone_hi_C;
  double jet_m_s;        /* of all that blows, one after the other */
  double mean_speed_m_s; /* that its power can keep up against the walls alone */
} Limits;

static double
heat_W (const DewThing *thing, gboolean night, double latent_J_kg)
{
  switch (thing->kind)
    {
    case DEW_THING_LAMP:
      return thing->lamp.power_W * (night ? thing->lamp.on_night : thing->lamp.on_day);
    case DEW_THING_MAT:
      return thing->mat.power_W * (night ? thing->mat.on_night : thing->mat.on_day);
    case DEW_THING_FAN:
      return thing->fan.power_W * (night ? thing->fan.speed_night : thing->fan.speed_day);
    case DEW_THING_SOURCE:
      return thing->source.heat_W;
    case DEW_THING_HUMIDIFIER:
      {
        double duty = thing->humidifier.set_rh > 0.0 ? 1.0
                      : night                        ? thing->humidifier.duty_night
                                                     : thing->humidifier.duty_day;

        return duty
               * (thing->humidifier.power_W
                  + (thing->humidifier.technology == DEW_MIST_STEAM
                       ? thing->humidifier.output_kg_s * latent_J_kg
                       : 0.0));
      }
    default:
      return 0.0;
    }
}

/* How much warmer than its surroundings the air in the plume of a thing may be, K. */
static double
plume_K (const DewChamber *chamber, const DewThing *thing, double heat, double density)
{
  double lo[3], hi[3], z_m;

  if (heat <= 0.0)
    return 0.0;
  dew_thing_box (chamber, thing, lo, hi);
  z_m = PLUME_START_M + 2.0 * sqrt ((hi[0] - lo[0]) * (hi[1] - lo[1]));
  return 2.0 * heat / (density * DEW_CP_DRY_AIR * PLUME * cbrt (heat) * pow (z_m, 5.0 / 3.0));
}

/* Power that a thing gives to the moving air (W), and the square of the speed of its jet. */
static void
add_drive (const DewThing *thing, gboolean night, double density, double *power_W, double *square)
{
  if (thing->kind == DEW_THING_FAN)
    {
      double speed = night ? thing->fan.speed_night : thing->fan.speed_day;
      double area = G_PI / 4.0 * thing->fan.diameter_m * thing->fan.diameter_m;
      double flow = speed * thing->fan.free_delivery_m3_s;
      double pressure = thing->fan.stall_pressure_Pa * speed * speed;

      /* A free disc with the thrust of its delivery: the pressure that it adds, over its area,
       * speeds up what comes to it from rest to 1.41 times that (actuator theory; Glauert 1935,
       * from memory). */
      *square += 2.0 * flow * flow / area / area;
      *power_W += M_SQRT2 * density * flow * flow * flow / area / area;
      if (thing->fan.mount == DEW_FAN_IN_WALL)
        { /* what its pressure drives through other openings */
          *square += 2.0 * pressure / density;
          *power_W += flow * pressure;
        }
    }
  else if (thing->kind == DEW_THING_OPENING && thing->opening.kind == DEW_OPENING_DUCT)
    {
      double area = (thing->opening.u1_m - thing->opening.u0_m)
                    * (thing->opening.v1_m - thing->opening.v0_m)
                    * MIN (1.0, thing->opening.free_ratio * thing->opening.open_fraction);
      double flow = fabs (thing->opening.duct_flow_m3_s);

      if (area > 0.0)
        {
          *square += flow * flow / area / area;
          *power_W += density * flow * flow * flow / area / area;
        }
    }
  else if (thing->kind == DEW_THING_HUMIDIFIER)
    {
      double area
        = G_PI / 4.0 * thing->humidifier.outlet_diameter_m * thing->humidifier.outlet_diameter_m;
      double speed = thing->humidifier.outlet_speed_m_s;

      *square += speed * speed;
      *power_W += density * area * speed * speed * speed;
    }
}

/* A duct's flow goes out again, through whatever is open: the pressure that this takes is not
 * known before. Its speed there: the flow through the leakage alone (4 Pa drive as much through
 * it as through a sharp edge of that area; ASTM E779, from memory). */
static double
leak_speed (const DewChamber *chamber, double flow_m3_s, double density)
{
  double at_4_Pa = chamber->leak_area_m2 * sqrt (2.0 * 4.0 / density);
  double pressure = 4.0 * pow (flow_m3_s / at_4_Pa, 1.0 / chamber->leak_exponent);

  return sqrt (2.0 * pressure / density);
}

/* Largest rise of a bay that keeps its heat to itself, as between closed boards, and loses it
 * through its own walls alone, K. */
static double
shut_in_K (const DewChamber *chamber, const DewForecast *f, double latent)
{
  const GArray *things = dew_chamber_shown (chamber)->things;
  double most = 0.0;

  for (int b = 0; b < f->n_bays; b++)
    {
      double height = f->bays[b].z1_m - f->bays[b].z0_m, ua_W_K = 0.0, warm_W = 0.0;

      for (int p = DEW_FACE_LEFT; p <= DEW_FACE_BACK; p++)
        ua_W_K += LEAST_OF_U * chamber->panels[p].u_value_W_m2K * height
                  * f->inner_m[dew_face_axis (p) == 0 ? 1 : 0];
      for (guint t = 0; t < things->len; t++)
        {
          const DewThing *thing = &g_array_index (things, DewThing, t);
          double lo[3], hi[3];

          if (thing->kind == DEW_THING_OPENING || thing->kind == DEW_THING_SHELF)
            continue;
          dew_thing_box (chamber, thing, lo, hi);
          if (0.5 * (lo[2] + hi[2]) >= f->bays[b].z0_m && 0.5 * (lo[2] + hi[2]) < f->bays[b].z1_m)
            warm_W += MAX (0.0, heat_W (thing, f->night, latent));
        }
      most = MAX (most, warm_W / ua_W_K);
    }
  return most;
}

static void
find_limits (const DewChamber *chamber, const DewForecast *f, Limits *out)
{
  const GArray *things = dew_chamber_shown (chamber)->things;
  double density = dew_moist_density (f->room_t_C, f->room_w_kg_kg, f->pressure_Pa);
  double latent = dew_moist_latent_heat (f->room_t_C);
  double warm_W = 0.0, cold_W = 0.0, ua_W_K = 0.0, wall_m2 = 0.0, power_W = 0.0, square = 0.0;
  double duct_m3_s = 0.0, rise_K, lift_m2_s2, most_plume_K = 0.0, most_sink_K = 0.0;

  for (int p = 0; p < DEW_N_FACES; p++)
    {
      int u, v;
      double area;

      dew_face_axes (p, &u, &v);
      area = f->inner_m[u] * f->inner_m[v];
      wall_m2 += area;
      ua_W_K += LEAST_OF_U * chamber->panels[p].u_value_W_m2K * area;
      if (!f->night && (int) p == chamber->room.sun_face)
        warm_W += chamber->room.sun_W_m2 * area;
    }
  for (guint t = 0; t < things->len; t++)
    {
      const DewThing *thing = &g_array_index (things, DewThing, t);
      double heat = heat_W (thing, f->night, latent);

      if (heat > 0.0)
        warm_W += heat;
      else
        cold_W -= heat;
      most_plume_K = MAX (most_plume_K, plume_K (chamber, thing, heat, density));
      most_sink_K = MAX (most_sink_K, plume_K (chamber, thing, -heat, density));
      add_drive (thing, f->night, density, &power_W, &square);
      if (thing->kind == DEW_THING_OPENING && thing->opening.kind == DEW_OPENING_DUCT)
        duct_m3_s += fabs (thing->opening.duct_flow_m3_s);
    }
  rise_K = warm_W / ua_W_K;
  /* Nothing evaporates below the wet bulb (of the room: inside it is as warm and wetter). */
  out->t_lo_C = dew_moist_wet_bulb (f->room_t_C, f->room_w_kg_kg, f->pressure_Pa)
                - GATHERED * cold_W / ua_W_K - most_sink_K - SLACK_K;
  out->t_hi_C = f->room_t_C + rise_K + SLACK_K;
  out->t_zone_hi_C = f->room_t_C + MAX (GATHERED * rise_K, shut_in_K (chamber, f, latent))
                     + most_plume_K + SLACK_K;
  if (duct_m3_s > 0.0)
    {
      double speed = leak_speed (chamber, duct_m3_s, density);

      square += speed * speed;
      power_W += 0.5 * density * duct_m3_s * speed * speed;
    }
  /* Air of the warmest zone let go at the floor, 1 % a kelvin and more counted for its vapour. */
  lift_m2_s2 = DEW_GRAVITY_M_S2 * f->inner_m[2]
               * (MAX (fabs (f->all.t_C - f->room_t_C), 0.5 * rise_K) + 5.0)
               / (f->room_t_C + DEW_ZERO_C_K);
  out->jet_m_s = sqrt (square + 2.0 * lift_m2_s2) + SLACK_M_S;
  /* What heat and vapour give to air that rises the whole height (about 3 W of buoyancy of
   * vapour count as 100 W of its latent heat do at most). */
  power_W += DEW_GRAVITY_M_S2 * f->inner_m[2] / DEW_CP_DRY_AIR / (f->room_t_C + DEW_ZERO_C_K)
             * (warm_W + cold_W + fabs (f->balance.heat_surface_W) + fabs (f->balance.heat_latent_W)
                + fabs (f->balance.heat_cover_W));
  out->mean_speed_m_s = cbrt (power_W / (0.5 * density * FRICTION * wall_m2)) + SLACK_M_S;
}

/* --- what is wrong -------------------------------------------------------------------- */

static void
find_range (const double *value, int n, double *lo, double *hi)
{
  *lo = INFINITY;
  *hi = -INFINITY;
  for (int i = 0; i < n; i++)
    {
      /* One that is no number makes both none, and every comparison with it fails. */
      *lo = isnan (value[i]) || isnan (*lo) ? NAN : MIN (*lo, value[i]);
      *hi = isnan (value[i]) || isnan (*hi) ? NAN : MAX (*hi, value[i]);
    }
}

/* Notes it when value is not between lo and hi. */
static void
hold (GString *wrong, const char *what, double value, double lo, double hi)
{
  if (!(value >= lo && value <= hi))
    g_string_append_printf (wrong, "; %s %.6g not in %.6g .. %.6g", what, value, lo, hi);
}

static void
hold_climate (GString *wrong, const DewClimate *c, const Limits *l)
{
  hold (wrong, "mean temperature", c->t_C, l->t_lo_C, l->t_zone_hi_C);
  hold (wrong, "mean humidity", c->rh, 0.0, 1.0);
  hold (wrong, "mean deficit", c->vpd_Pa, 0.0, 2e4);
  hold (wrong, "still share", c->still_share, 0.0, 1.0 + 1e-9);
  hold (wrong, "mean speed", c->speed_m_s, 0.0, l->jet_m_s);
  hold (wrong, "wetting", c->wetting_kg_m2s, -1e-12, 1.0);
}

static double
missing_W (const DewBalance *b)
{
  return fabs (b->heat_source_W + b->heat_latent_W + b->heat_surface_W + b->heat_openings_W
               + b->heat_cover_W);
}

static double
missing_kg_s (const DewBalance *b)
{
  return fabs (b->water_device_kg_s + b->water_surface_kg_s + b->water_openings_kg_s
               + b->water_cover_kg_s + b->water_fallout_kg_s);
}

static double
warmest_body (const DewForecast *f)
{
  double warmest = -INFINITY;

  for (int d = 0; d < f->n_devices; d++)
    if (isfinite (f->devices[d].t_C))
      warmest = MAX (warmest, f->devices[d].t_C);
  return warmest;
}

static void
check_answer (const DewChamber *chamber, const DewForecast *f, GString *wrong)
{
  Limits l;
  double lo, hi, over = 0.0, w_most;

  find_limits (chamber, f, &l);
  if (f->state != DEW_FORECAST_SETTLED && f->state != DEW_FORECAST_UNSTEADY)
    g_string_append (wrong, "; neither settled nor unsteady");

  find_range (f->value[DEW_VALUE_TEMPERATURE], f->n_zones, &lo, &hi);
  hold (wrong, "coldest zone", lo, l.t_lo_C, l.t_zone_hi_C);
  hold (wrong, "warmest zone", hi, l.t_lo_C, l.t_zone_hi_C);
  hold (wrong, "temperature of all", f->all.t_C, l.t_lo_C, l.t_hi_C);

  w_most = OVER_SATURATION * dew_moist_w_sat (MAX (hi, warmest_body (f)), f->pressure_Pa);
  for (int z = 0; z < f->n_zones; z++)
    {
      double w_sat = dew_moist_w_sat (f->value[DEW_VALUE_TEMPERATURE][z], f->pressure_Pa);

      over = MAX (over, f->value[DEW_VALUE_HUMIDITY_RATIO][z] / w_sat);
    }
  find_range (f->value[DEW_VALUE_HUMIDITY_RATIO], f->n_zones, &lo, &hi);
  hold (wrong, "driest zone", lo, -1e-9, w_most);
  hold (wrong, "wettest zone", hi, -1e-9, w_most);
  hold (wrong, "vapour over saturation in a zone", over, 0.0, OVER_SATURATION);
  find_range (f->value[DEW_VALUE_MIST], f->n_zones, &lo, &hi);
  hold (wrong, "least mist", lo, -1e-9, 1.0);
  hold (wrong, "most mist", hi, -1e-9, 1.0);

  find_range (f->value[DEW_VALUE_SPEED], f->n_zones, &lo, &hi);
  hold (wrong, "slowest zone", lo, 0.0, l.jet_m_s);
  hold (wrong, "fastest zone", hi, 0.0, l.jet_m_s);
  hold (wrong, "speed of all", f->all.speed_m_s, 0.0, l.mean_speed_m_s);
  /* Where nothing is exchanged (a litre in ten days), air has no age. */
  if (f->balance.air_in_m3_s > 1e-9)
    {
      find_range (f->value[DEW_VALUE_AGE], f->n_zones, &lo, &hi);
      hold (wrong, "youngest air", lo, 0.0, 1e9);
      hold (wrong, "oldest air", hi, 0.0, 1e9);
    }

  hold (wrong, "air balance", f->balance.air_residual, 0.0, OPEN_BALANCE);
  if (missing_W (&f->balance) > TRIFLE_W)
    hold (wrong, "heat balance", f->balance.heat_residual, 0.0, OPEN_BALANCE);
  if (missing_kg_s (&f->balance) > TRIFLE_KG_S)
    hold (wrong, "water balance", f->balance.water_residual, 0.0, OPEN_BALANCE);
  hold_climate (wrong, &f->all, &l);
  for (int b = 0; b < f->n_bays; b++)
    hold_climate (wrong, &f->bays[b].mean, &l);
  for (int p = 0; p < f->n_places; p++)
    hold_climate (wrong, &f->places[p].mean, &l);
}

/* --- asking ---------------------------------------------------------------------------- */

/* What a forecast says on stderr goes into a file for as long. */
typedef struct
{
  FILE *file;
  int kept;
} Quiet;

static void
listen (Quiet *q)
{
  fflush (stderr);
  q->file = tmpfile ();
  g_assert_nonnull (q->file);
  q->kept = dup (STDERR_FILENO);
  dup2 (fileno (q->file), STDERR_FILENO);
}

static void
end_listening (Quiet *q, GString *wrong)
{
  char text[200];
  gsize n;

  fflush (stderr);
  dup2 (q->kept, STDERR_FILENO);
  close (q->kept);
  rewind (q->file);
  n = fread (text, 1, sizeof text - 1, q->file);
  text[n] = '\0';
  if (n > 0)
    g_string_append_printf (wrong, "; said on stderr: %s", g_strchomp (text));
  fclose (q->file);
}

static void
keep_file (const DewChamber *chamber, guint number)
{
  const char *folder = g_getenv ("DEW_TEST_WIDE_FILES");
  g_autofree char *path = NULL;
  g_autoptr (GError) error = NULL;

  if (folder == NULL)
    return;
  path = g_strdup_printf ("%s/wide-%03u.dewtier", folder, number);
  dew_store_create (path, chamber, TRUE, &error);
  g_assert_no_error (error);
}

/* Whether all is well with one enclosure at one time of day. */
static gboolean
try_one (const DewChamber *chamber, guint number, gboolean night)
{
  g_autoptr (GString) wrong = g_string_new (NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (DewForecast) f = NULL;
  DewForecastOptions options;
  clock_t start = clock ();
  Quiet quiet;

  dew_forecast_options_init (&options);
  options.night = night;
  listen (&quiet);
  f = dew_forecast_new (chamber, 0, &options, NULL, &error);
  end_listening (&quiet, wrong);
  if (f == NULL)
    g_string_append_printf (wrong, "; refused: %s", error->message);
  else
    check_answer (chamber, f, wrong);
  g_test_message ("%u %s: %s, %.2f s of processor, swing %.3f, %.2f m/s, %+.1f K, %.0f %%%s",
                  number, night ? "night" : "day",
                  f != NULL ? dew_forecast_state_text (f) : "no answer",
                  (double) (clock () - start) / CLOCKS_PER_SEC, f != NULL ? f->swing : NAN,
                  f != NULL ? f->all.speed_m_s : NAN, f != NULL ? f->all.t_C - f->room_t_C : NAN,
                  f != NULL ? 100.0 * f->all.rh : NAN, wrong->len > 0 ? " WRONG" : "");
  if (wrong->len > 0)
    g_test_message ("%u %s is wrong%s", number, night ? "night" : "day", wrong->str);
  return wrong->len == 0;
}

static void
test_every_one_gets_an_answer (void)
{
  const char *asked = g_getenv ("DEW_TEST_WIDE");
  guint first = FIRST, last = LAST, failed = 0;

  if (asked != NULL)
    g_assert_cmpint (sscanf (asked, "%u-%u", &first, &last), ==, 2);
  /* A warning is something that is wrong, not the end of the test. */
  g_log_set_always_fatal (G_LOG_FATAL_MASK);
  for (guint number = first; number <= last; number++)
    {
      g_autoptr (DewChamber) chamber = random_enclosure (number);
      gboolean day = try_one (chamber, number, FALSE), night = try_one (chamber, number, TRUE);

      failed += !day || !night;
      if (!day || !night)
        keep_file (chamber, number);
    }
  g_test_message ("%u of %u enclosures failed", failed, last - first + 1);
  g_assert_cmpuint (failed, ==, 0);
}

/* The draw is wide: each kind of thing, opening, board and humidifier comes up, and each
 * enclosure is one that the program takes. Guards the test above against a generator that has
 * dried up. */
static void
test_draw_is_wide (void)
{
  guint kinds[DEW_N_THING_KINDS] = { 0 }, boards[4] = { 0 }, openings[6] = { 0 };
  guint faces[DEW_N_FACES] = { 0 }, technologies[3] = { 0 }, blown[2] = { 0 };
  double least_m2 = INFINITY, most_m2 = 0.0;

  for (guint number = 1; number <= 60; number++)
    {
      g_autoptr (DewChamber) chamber = random_enclosure (number);
      g_autoptr (DewChamber) again = random_enclosure (number);
      g_autoptr (GArray) problems = dew_chamber_check (chamber, 0);
      const GArray *things = dew_chamber_shown (chamber)->things;

      if (problems->len > 0)
        {
          g_autofree char *text
            = dew_problem_text (&g_array_index (problems, DewProblem, 0), DEW_TONGUE_PLAIN);

          g_test_message ("%u: %s", number, text);
        }
      g_assert_cmpuint (problems->len, ==, 0);
      g_assert_true (dew_chamber_equal (chamber, again));
      least_m2 = MIN (least_m2, chamber->leak_area_m2);
      most_m2 = MAX (most_m2, chamber->leak_area_m2);
      for (guint t = 0; t < things->len; t++)
        {
          const DewThing *thing = &g_array_index (things, DewThing, t);

          kinds[thing->kind]++;
          if (thing->kind == DEW_THING_SHELF)
            boards[thing->shelf.board]++;
          else if (thing->kind == DEW_THING_OPENING)
            {
              openings[thing->opening.kind]++;
              faces[thing->opening.face]++;
            }
          else if (thing->kind == DEW_THING_HUMIDIFIER)
            technologies[thing->humidifier.technology]++;
          else if (thing->kind == DEW_THING_FAN && thing->fan.mount == DEW_FAN_IN_WALL)
            blown[thing->fan.sense]++;
        }
    }
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    g_assert_cmpuint (kinds[i], >=, 2);
  for (guint i = 0; i < G_N_ELEMENTS (boards); i++)
    g_assert_cmpuint (boards[i], >=, 2);
  for (guint i = 0; i < G_N_ELEMENTS (openings); i++)
    g_assert_cmpuint (openings[i], >=, 2);
  for (guint i = 0; i < G_N_ELEMENTS (faces); i++)
    g_assert_cmpuint (faces[i], >=, 2);
  for (guint i = 0; i < G_N_ELEMENTS (technologies); i++)
    g_assert_cmpuint (technologies[i], >=, 2);
  for (guint i = 0; i < G_N_ELEMENTS (blown); i++)
    g_assert_cmpuint (blown[i], >=, 2);
  g_assert_cmpfloat (least_m2, <, 3e-4);
  g_assert_cmpfloat (most_m2, >, 60e-4);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/wide/draw-is-wide", test_draw_is_wide);
  g_test_add_func ("/wide/every-one-gets-an-answer", test_every_one_gets_an_answer);
  return g_test_run ();
}
