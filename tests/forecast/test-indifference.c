/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "enclosure.h"

#include <math.h>

/* What must not matter to a forecast: which way is left, or front; how a layout was entered; things
 * that are there but do nothing. */

#define G_H (1e-3 / 3600.0) /* kg/s */
#define M3_H (1.0 / 3600.0)

/* The largest difference of any bay, as a share of the value with a floor below it: speed (0.02
 * m/s), temperature (1 K), humidity ratio (0.5 g/kg); and of the air changes. */
static double
unlike (const DewForecast *a, const DewForecast *b)
{
  double worst = fabs (b->exchange_1_s - a->exchange_1_s) / MAX (a->exchange_1_s, 1e-4);

  g_assert_cmpint (a->n_bays, ==, b->n_bays);
  for (int i = 0; i < a->n_bays; i++)
    {
      const DewClimate *p = &a->bays[i].mean, *q = &b->bays[i].mean;

      g_test_message ("bay %d: %.4f %.4f m/s, %+.3f %+.3f K, %+.4f %+.4f g/kg", i, p->speed_m_s,
                      q->speed_m_s, p->t_C - a->room_t_C, q->t_C - b->room_t_C,
                      1e3 * (p->w_kg_kg - a->room_w_kg_kg), 1e3 * (q->w_kg_kg - b->room_w_kg_kg));
      worst = MAX (worst, fabs (q->speed_m_s - p->speed_m_s) / MAX (p->speed_m_s, 0.02));
      worst = MAX (worst, fabs (q->t_C - p->t_C) / MAX (fabs (p->t_C - a->room_t_C), 1.0));
      worst = MAX (worst, fabs (q->w_kg_kg - p->w_kg_kg)
                            / MAX (fabs (p->w_kg_kg - a->room_w_kg_kg), 5e-4));
    }
  return worst;
}

static void
check_like (const char *what, const DewForecast *a, const DewForecast *b, double share)
{
  double worst = unlike (a, b);

  g_test_message ("%s: %.3g %%", what, 100.0 * worst);
  if (!(worst <= share))
    g_test_fail_printf ("%s: %.3g %%, allowed %.3g %%", what, 100.0 * worst, 100.0 * share);
}

/* --- directions --------------------------------------------------------------------------- */

/* A layout as it is, or seen in a mirror that swaps left and right, front and back, or across and
 * deep. */
typedef enum
{
  AS_IT_IS,
  LEFT_FOR_RIGHT,
  FRONT_FOR_BACK,
  ACROSS_FOR_DEEP
} Mirror;

static const double plan_m[2] = { 0.7, 0.5 };

static void
place (Mirror mirror, double x, double y, double out[2])
{
  out[0] = mirror == LEFT_FOR_RIGHT ? plan_m[0] - x : mirror == ACROSS_FOR_DEEP ? y : x;
  out[1] = mirror == FRONT_FOR_BACK ? plan_m[1] - y : mirror == ACROSS_FOR_DEEP ? x : y;
}

static DewFace
face_of (Mirror mirror, DewFace face)
{
  static const DewFace deep[] = { DEW_FACE_FRONT, DEW_FACE_BACK, DEW_FACE_LEFT, DEW_FACE_RIGHT };

  if (face >= DEW_FACE_FLOOR)
    return face;
  if (mirror == ACROSS_FOR_DEEP)
    return deep[face];
  if ((mirror == LEFT_FOR_RIGHT && face <= DEW_FACE_RIGHT)
      || (mirror == FRONT_FOR_BACK && face >= DEW_FACE_FRONT))
    return face ^ 1;
  return face;
}

/* A hole in a wall; u along the wall as the layout has it. */
static void
hole (DewChamber *chamber, Mirror mirror, DewFace face, double u0, double u1, double v0, double v1)
{
  double length = face <= DEW_FACE_RIGHT ? plan_m[1] : plan_m[0];
  gboolean turned = (mirror == LEFT_FOR_RIGHT && face >= DEW_FACE_FRONT)
                    || (mirror == FRONT_FOR_BACK && face <= DEW_FACE_RIGHT);

  add_hole (chamber, face_of (mirror, face), turned ? length - u1 : u0, turned ? length - u0 : u1,
            v0, v1);
}

static DewThing *
thing (DewChamber *chamber, Mirror mirror, DewThingKind kind, double x, double y, double z)
{
  double at[2];

  place (mirror, x, y, at);
  return add_thing (chamber, kind, at[0], at[1], z);
}

static double
turn (Mirror mirror, double azimuth_rad)
{
  switch (mirror)
    {
    case LEFT_FOR_RIGHT:
      return G_PI - azimuth_rad;
    case FRONT_FOR_BACK:
      return -azimuth_rad;
    case ACROSS_FOR_DEEP:
      return G_PI_2 - azimuth_rad;
    case AS_IT_IS:
    default:
      return azimuth_rad;
    }
}

static DewForecast *
mirrored (Mirror mirror)
{
  gboolean across = mirror == ACROSS_FOR_DEEP;
  g_autoptr (DewChamber) chamber = film_enclosure (plan_m[across], plan_m[!across], 1.0, 20.0, 0.5);
  DewThing *t;

  chamber->leak_area_m2 = 5e-4;
  t = add_shelf (chamber, 0.5, DEW_SHELF_SOLID, 0.0);
  t->shelf.gap_left_m = mirror == LEFT_FOR_RIGHT || across ? 0.0 : 0.08;
  t->shelf.gap_right_m = mirror == LEFT_FOR_RIGHT ? 0.08 : 0.0;
  t->shelf.gap_front_m = across ? 0.08 : 0.0;
  hole (chamber, mirror, DEW_FACE_LEFT, 0.05, 0.20, 0.05, 0.15);
  hole (chamber, mirror, DEW_FACE_FRONT, 0.40, 0.60, 0.80, 0.90);
  t = thing (chamber, mirror, DEW_THING_FAN, 0.15, 0.12, 0.20);
  t->fan.free_delivery_m3_s = 30.0 * M3_H;
  t->fan.azimuth_rad = turn (mirror, 0.5);
  t->fan.elevation_rad = 0.2;
  t->fan.power_W = 0.0;
  t = thing (chamber, mirror, DEW_THING_SOURCE, 0.45, 0.30, 0.0);
  t->source.width_m = t->source.depth_m = 0.15;
  t->source.heat_W = 10.0;
  t->source.vapour_kg_s = 5.0 * G_H;
  return forecast_by_day (chamber, DEW_GRID_DRAFT);
}

/* Nothing in physics knows across from deep. */
static void
test_directions (void)
{
  g_autoptr (DewForecast) plain = mirrored (AS_IT_IS), other = mirrored (ACROSS_FOR_DEEP);

  g_assert_cmpint (plain->state, ==, DEW_FORECAST_SETTLED);
  check_like ("across for deep", plain, other, 0.001);
}

/* --- how a layout was entered ------------------------------------------------------------- */

typedef enum
{
  PLAIN,
  SOURCE_IN_TWO, /* two of half the heat in one place */
  OTHER_ORDER,   /* last things first */
  IDLE_THINGS,   /* a fan at rest, a shut flap, an empty source, an instrument */
  OTHER_MONTH,
  AT_NIGHT,
  RENAMED
} Entry;

static DewForecast *
entered (Entry how)
{
  g_autoptr (DewChamber) chamber = film_enclosure (0.7, 0.5, 1.0, 20.0, 0.5);
  DewThing *t;

  chamber->leak_area_m2 = 5e-4;
  for (int step = 0; step < 5; step++)
    switch (how == OTHER_ORDER ? 4 - step : step)
      {
      case 0:
        add_hole (chamber, DEW_FACE_LEFT, 0.15, 0.35, 0.05, 0.15);
        break;
      case 1:
        add_hole (chamber, DEW_FACE_RIGHT, 0.15, 0.35, 0.80, 0.90);
        break;
      case 2:
        t = add_thing (chamber, DEW_THING_FAN, 0.15, 0.25, 0.20);
        t->fan.free_delivery_m3_s = 30.0 * M3_H;
        t->fan.elevation_rad = 0.3;
        t->fan.power_W = 0.0;
        t->fan.speed_night = t->fan.speed_day;
        break;
      case 3:
        for (int part = 0; part < (how == SOURCE_IN_TWO ? 2 : 1); part++)
          {
            t = add_thing (chamber, DEW_THING_SOURCE, 0.45, 0.30, 0.0);
            t->source.width_m = t->source.depth_m = 0.15;
            t->source.heat_W = how == SOURCE_IN_TWO ? 5.0 : 10.0;
            t->source.vapour_kg_s = (how == SOURCE_IN_TWO ? 2.5 : 5.0) * G_H;
          }
        break;
      default:
        add_shelf (chamber, 0.5, DEW_SHELF_WIRE, 0.8);
      }
  if (how == IDLE_THINGS)
    {
      t = add_thing (chamber, DEW_THING_FAN, 0.5, 0.2, 0.7);
      t->fan.speed_day = 0.0;
      t = add_hole (chamber, DEW_FACE_FRONT, 0.2, 0.5, 0.2, 0.3);
      t->opening.open_fraction = 0.0;
      t = add_thing (chamber, DEW_THING_SOURCE, 0.2, 0.1, 0.8);
      t->source.heat_W = t->source.vapour_kg_s = 0.0;
      t->source.width_m = t->source.depth_m = t->source.height_m = 0.001;
      add_thing (chamber, DEW_THING_INSTRUMENT, 0.4, 0.4, 0.3);
    }
  if (how == OTHER_MONTH)
    chamber->month = (chamber->month + 6) % 12;
  if (how == RENAMED)
    g_strlcpy (chamber->name, "Another", sizeof chamber->name);
  return how == AT_NIGHT ? forecast_by_night (chamber, DEW_GRID_DRAFT)
                         : forecast_by_day (chamber, DEW_GRID_DRAFT);
}

/* The same enclosure, told otherwise: the same answer, but for the order of sums. */
static void
test_entries (void)
{
  static const struct
  {
    Entry how;
    const char *what;
    double share;
  } rows[] = {
    { SOURCE_IN_TWO, "a source in two", 1e-3 },
    { OTHER_ORDER, "another order", 1e-3 },
    { IDLE_THINGS, "idle things", 2e-3 },
    { OTHER_MONTH, "another month of the same climate", 0.0 },
    { AT_NIGHT, "a night like the day", 0.0 },
    { RENAMED, "another name", 0.0 },
  };
  g_autoptr (DewForecast) plain = entered (PLAIN);

  for (guint n = 0; n < G_N_ELEMENTS (rows); n++)
    {
      g_autoptr (DewForecast) other = entered (rows[n].how);

      check_like (rows[n].what, plain, other, rows[n].share);
    }
}

/* --- boards that are none ----------------------------------------------------------------- */

/* A shelf that is all open is no shelf to the air of the whole enclosure, where its level is a grid
 * line of the empty one as well: 2 %, twice what 'settled' leaves open. */
static void
test_open_shelf (void)
{
  DewClimate mean[2];
  double changes_1_s[2];

  for (int shelf = 0; shelf < 2; shelf++)
    {
      g_autoptr (DewChamber) chamber = film_enclosure (0.6, 0.5, 1.0, 20.0, 0.5);
      g_autoptr (DewForecast) f = NULL;
      DewThing *t;

      if (shelf)
        add_shelf (chamber, 0.15 + 0.65 * 8.0 / 15.0 - 0.003, DEW_SHELF_WIRE, 1.0)
          ->shelf.thickness_m
          = 0.006;
      add_hole (chamber, DEW_FACE_LEFT, 0.15, 0.35, 0.05, 0.15);
      add_hole (chamber, DEW_FACE_RIGHT, 0.15, 0.35, 0.80, 0.90);
      t = add_thing (chamber, DEW_THING_SOURCE, 0.3, 0.25, 0.0);
      t->source.width_m = t->source.depth_m = 0.3;
      t->source.heat_W = 20.0;
      f = forecast_by_day (chamber, DEW_GRID_SETTLED);
      mean[shelf] = f->all;
      changes_1_s[shelf] = f->exchange_1_s;
    }
  g_test_message ("speed %.4f and %.4f m/s, %.4g and %.4g 1/s", mean[0].speed_m_s,
                  mean[1].speed_m_s, changes_1_s[0], changes_1_s[1]);
  g_assert_cmpfloat (fabs (mean[1].speed_m_s / mean[0].speed_m_s - 1.0), <, 0.02);
  g_assert_cmpfloat (fabs (changes_1_s[1] / changes_1_s[0] - 1.0), <, 0.02);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/indifference/directions", test_directions);
  g_test_add_func ("/indifference/entries", test_entries);
  g_test_add_func ("/indifference/open-shelf", test_open_shelf);
  return g_test_run ();
}
