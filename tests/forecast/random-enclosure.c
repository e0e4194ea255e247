/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "random-enclosure.h"

#include "catalogue/catalogue.h"
#include "geometry/geometry.h"
#include "moist/constants.h"

#include <math.h>

#define TRIES 12 /* places that are tried for a thing before it is left out */

typedef struct
{
  GRand *random;
  DewChamber *chamber;
  double inner_m[3];
  double volume_m3;
  double lamps_W, mist_kg_s; /* so far */
} Draw;

/* --- dice ------------------------------------------------------------------------- */

static double
between (Draw *d, double lo, double hi)
{
  return lo < hi ? g_rand_double_range (d->random, lo, hi) : lo;
}

/* Evenly over the orders of magnitude. */
static double
log_between (Draw *d, double lo, double hi)
{
  return exp (between (d, log (lo), log (hi)));
}

static gboolean
chance (Draw *d, double p)
{
  return g_rand_double (d->random) < p;
}

static int
any (Draw *d, int n)
{
  return g_rand_int_range (d->random, 0, MAX (1, n));
}

/* One of the rows whose `column` begins with `word`. */
static guint
any_row (Draw *d, const char *catalogue, const char *column, const char *word)
{
  const DewCatalogue *c = dew_catalogue (catalogue);
  guint found = 0, at = 0, wanted;

  for (guint r = 0; r < dew_catalogue_rows (c); r++)
    found += g_str_has_prefix (dew_catalogue_text (c, r, column), word);
  g_assert_cmpuint (found, >, 0);
  wanted = any (d, found);
  for (guint r = 0; r < dew_catalogue_rows (c); r++)
    if (g_str_has_prefix (dew_catalogue_text (c, r, column), word) && at++ == wanted)
      return r;
  g_assert_not_reached ();
}

/* --- adding ----------------------------------------------------------------------- */

/* What takes up room that nothing else of its kind can have. */
static gboolean
is_body (const DewThing *thing)
{
  return thing->kind != DEW_THING_SHELF && thing->kind != DEW_THING_PLANT
         && thing->kind != DEW_THING_INSTRUMENT;
}

static gboolean
has_room (const Draw *d, const DewThing *thing)
{
  const GArray *things = dew_chamber_shown (d->chamber)->things;
  double lo[3], hi[3];

  if (!is_body (thing))
    return TRUE;
  dew_thing_box (d->chamber, thing, lo, hi);
  for (guint t = 0; t < things->len; t++)
    {
      const DewThing *other = &g_array_index (things, DewThing, t);
      double other_lo[3], other_hi[3];

      if (!is_body (other))
        continue;
      dew_thing_box (d->chamber, other, other_lo, other_hi);
      if (dew_boxes_cross (lo, hi, other_lo, other_hi, 3, DEW_SLACK_M))
        return FALSE;
    }
  return TRUE;
}

/* Lends the thing as it was added, or NULL when it does not fit. */
static DewThing *
add_if_it_fits (Draw *d, const DewThing *thing)
{
  DewVariant *variant = dew_chamber_shown (d->chamber);
  g_autoptr (GArray) problems = NULL;
  DewThing *added;

  if (!has_room (d, thing))
    return NULL;
  added = dew_variant_add (d->chamber, variant, thing);
  problems = dew_chamber_check (d->chamber, 0);
  if (problems->len == 0)
    return added;
  dew_variant_remove (variant, added->id);
  return NULL;
}

/* Undersides and tops of what things stand on: 0 is the floor. */
static double
any_floor_m (Draw *d)
{
  const GArray *things = dew_chamber_shown (d->chamber)->things;
  double at_m = 0.0;
  int seen = 1;

  for (guint t = 0; t < things->len; t++)
    {
      const DewThing *shelf = &g_array_index (things, DewThing, t);

      if (shelf->kind == DEW_THING_SHELF && chance (d, 1.0 / ++seen))
        at_m = shelf->shelf.z_m + shelf->shelf.thickness_m;
    }
  return at_m;
}

static void
put (DewThing *thing, const char *key, double value)
{
  dew_field_set_real (dew_field_find (dew_thing_fields (thing->kind), key), thing, value);
}

/* Tries places for it until it fits: on a board or the floor, or anywhere. */
static DewThing *
stand_somewhere (Draw *d, DewThing *thing, gboolean hangs)
{
  for (int i = 0; i < TRIES; i++)
    {
      DewThing *added;

      put (thing, "x_m", between (d, 0.02, d->inner_m[0] - 0.02));
      put (thing, "y_m", between (d, 0.02, d->inner_m[1] - 0.02));
      put (thing, "z_m", hangs ? between (d, 0.02, d->inner_m[2] - 0.02) : any_floor_m (d));
      added = add_if_it_fits (d, thing);
      if (added != NULL)
        return added;
    }
  return NULL;
}

/* --- the case --------------------------------------------------------------------- */

typedef struct
{
  const char *cover; /* how its rows begin */
  double lo_m[3], hi_m[3];
  double leak_lo_m2, leak_hi_m2;
} Kind;

static const Kind kinds[] = {
  { "film", { 0.4, 0.35, 0.8 }, { 1.6, 0.8, 2.1 }, 5e-4, 100e-4 },      /* tent on a rack */
  { "film", { 0.9, 0.9, 1.6 }, { 2.0, 1.6, 2.2 }, 10e-4, 100e-4 },      /* one to step into */
  { "glass", { 0.4, 0.3, 0.8 }, { 1.2, 0.6, 1.9 }, 1e-4, 100e-4 },      /* cabinet */
  { "glass", { 0.3, 0.25, 0.3 }, { 1.2, 0.6, 0.9 }, 1e-4, 30e-4 },      /* terrarium, tank */
  { "acrylic", { 0.25, 0.2, 0.2 }, { 0.9, 0.5, 1.2 }, 1e-4, 40e-4 },    /* case, propagator */
  { "twin-wall", { 0.6, 0.4, 1.0 }, { 1.4, 0.8, 1.9 }, 5e-4, 100e-4 },  /* small greenhouse */
  { "opaque", { 0.5, 0.45, 0.8 }, { 0.9, 0.65, 1.9 }, 1e-4, 20e-4 },    /* converted cabinet */
  { "film double", { 0.5, 0.4, 1.0 }, { 1.4, 0.8, 2.0 }, 2e-4, 60e-4 }, /* lined tent */
};

static void
draw_case (Draw *d)
{
  const Kind *kind = &kinds[any (d, G_N_ELEMENTS (kinds))];
  DewChamber *c = d->chamber;
  guint cover = any_row (d, "covers", "kind", kind->cover);

  for (int f = 0; f < DEW_N_FACES; f++)
    dew_catalogue_apply_panel (cover, &c->panels[f]);
  if (chance (d, 0.3))
    dew_catalogue_apply_panel (any_row (d, "covers", "kind", "opaque"), &c->panels[DEW_FACE_FLOOR]);
  if (chance (d, 0.2))
    dew_catalogue_apply_panel (any_row (d, "covers", "kind", "opaque"), &c->panels[DEW_FACE_BACK]);
  if (chance (d, 0.2) || g_str_equal (kind->cover, "opaque"))
    dew_catalogue_apply_panel (any_row (d, "covers", "kind", "glass"), &c->panels[DEW_FACE_FRONT]);
  if (chance (d, 0.2))
    c->panels[DEW_FACE_ROOF].slope_rad = between (d, 0.0, 0.5);
  for (int a = 0; a < 3; a++)
    c->outer_m[a] = between (d, kind->lo_m[a], kind->hi_m[a]) + c->panels[2 * a].thickness_m
                    + c->panels[2 * a + 1].thickness_m;
  c->leak_area_m2 = log_between (d, kind->leak_lo_m2, kind->leak_hi_m2);
  c->leak_exponent = between (d, 0.5, 0.75);
  dew_chamber_inner_m (c, d->inner_m);
  d->volume_m3 = d->inner_m[0] * d->inner_m[1] * d->inner_m[2];
}

static void
draw_room (Draw *d)
{
  DewRoom *room = &d->chamber->room;
  double t_C = between (d, 4.0, 32.0), rh = between (d, 0.25, 0.9);
  double night_fall_K = between (d, 0.0, 8.0), night_rise = between (d, -0.1, 0.2);

  for (int m = 0; m < 12; m++)
    {
      room->months[m].t_day_C = t_C;
      room->months[m].rh_day = rh;
      room->months[m].t_night_C = t_C - night_fall_K;
      room->months[m].rh_night = MIN (rh + night_rise, 0.97);
    }
  room->altitude_m = chance (d, 0.3) ? between (d, 500.0, 3000.0) : between (d, 0.0, 500.0);
  room->sun_face = any (d, DEW_N_FACES);
  room->sun_W_m2 = chance (d, 0.15) ? between (d, 30.0, 400.0) : 0.0;
}

static void
draw_shelves (Draw *d)
{
  guint row = any_row (d, "shelves", "name", "");
  int n = any (d, 1 + (int) (d->inner_m[2] / 0.22));
  double gaps_m = chance (d, 0.5) ? 0.0 : between (d, 0.005, 0.15);

  for (int s = 1; s <= MIN (n, 6); s++)
    {
      DewThing shelf;

      dew_thing_init (&shelf, DEW_THING_SHELF);
      if (chance (d, 0.25)) /* not all of a kind */
        row = any_row (d, "shelves", "name", "");
      dew_catalogue_apply_thing (dew_catalogue ("shelves"), row, &shelf);
      shelf.shelf.z_m = d->inner_m[2] * (s + between (d, -0.3, 0.3)) / (n + 1);
      if (chance (d, 0.5))
        shelf.shelf.gap_front_m = gaps_m;
      if (chance (d, 0.5))
        shelf.shelf.gap_back_m = gaps_m;
      if (chance (d, 0.3))
        shelf.shelf.gap_left_m = gaps_m;
      if (chance (d, 0.3))
        shelf.shelf.gap_right_m = chance (d, 0.2) ? between (d, 0.1, 0.4) : gaps_m;
      add_if_it_fits (d, &shelf);
    }
}

/* --- ways to the room ------------------------------------------------------------- */

/* Sizes of an opening's rectangle, of the catalogue's kinds. */
static void
hole_size (Draw *d, int kind, const double face_m[2], double size_m[2])
{
  switch (kind)
    {
    case DEW_OPENING_ZIP:
      size_m[0] = between (d, 0.02, 0.6 * face_m[0]);
      size_m[1] = between (d, 0.2, 0.9) * face_m[1];
      break;
    case DEW_OPENING_SLOT:
      size_m[0] = between (d, 0.2, 0.95) * face_m[0];
      size_m[1] = between (d, 0.003, 0.05);
      if (chance (d, 0.25)) /* upright */
        {
          size_m[1] = between (d, 0.2, 0.95) * face_m[1];
          size_m[0] = between (d, 0.003, 0.05);
        }
      break;
    case DEW_OPENING_HOLE:
      size_m[0] = size_m[1] = between (d, 0.02, 0.10);
      break;
    case DEW_OPENING_DUCT:
      size_m[0] = size_m[1] = between (d, 0.04, 0.15);
      break;
    default:
      size_m[0] = between (d, 0.08, 0.6);
      size_m[1] = between (d, 0.04, 0.35);
    }
}

static void
draw_opening (Draw *d)
{
  /* Mostly in the front, as doors and flaps are. */
  int face = chance (d, 0.4) ? DEW_FACE_FRONT : any (d, DEW_N_FACES), u, v;
  gboolean duct = chance (d, 0.08);
  double face_m[2], size_m[2];
  DewThing thing;

  dew_thing_init (&thing, DEW_THING_OPENING);
  dew_catalogue_apply_thing (dew_catalogue ("vents"), any_row (d, "vents", "name", ""), &thing);
  if (duct)
    {
      thing.opening.kind = DEW_OPENING_DUCT;
      thing.opening.free_ratio = between (d, 0.5, 1.0);
      thing.opening.duct_flow_m3_s
        = (chance (d, 0.5) ? 1.0 : -1.0) * log_between (d, 0.5, 60.0) * d->volume_m3 / DEW_S_PER_H;
    }
  thing.opening.face = face;
  thing.opening.open_fraction = duct || chance (d, 0.6) ? 1.0 : between (d, 0.0, 1.0);
  dew_face_axes (face, &u, &v);
  face_m[0] = d->inner_m[u];
  face_m[1] = d->inner_m[v];
  for (int i = 0; i < TRIES; i++)
    {
      hole_size (d, thing.opening.kind, face_m, size_m);
      if (duct) /* a bought fan blows through it, at 10 m/s and less */
        thing.opening.duct_flow_m3_s
          = CLAMP (thing.opening.duct_flow_m3_s, -5.0 * size_m[0] * size_m[1],
                   5.0 * size_m[0] * size_m[1]);
      thing.opening.u0_m = between (d, 0.0, face_m[0] - size_m[0]);
      /* Low and high more often than half way up. */
      thing.opening.v0_m = chance (d, 0.3)   ? 0.0
                           : chance (d, 0.4) ? MAX (0.0, face_m[1] - size_m[1])
                                             : between (d, 0.0, face_m[1] - size_m[1]);
      thing.opening.u1_m = thing.opening.u0_m + size_m[0];
      thing.opening.v1_m = thing.opening.v0_m + size_m[1];
      if (add_if_it_fits (d, &thing) != NULL)
        return;
    }
}

static void
draw_fan (Draw *d, int mount)
{
  gboolean strong = mount == DEW_FAN_IN_WALL && chance (d, 0.2);
  DewThing thing;

  dew_thing_init (&thing, DEW_THING_FAN);
  dew_catalogue_apply_thing (dew_catalogue ("fans"),
                             any_row (d, "fans", "kind",
                                      strong            ? "duct"
                                      : chance (d, 0.7) ? "axial"
                                                        : ""),
                             &thing);
  thing.fan.free_delivery_m3_s *= between (d, 0.5, 1.3);
  thing.fan.stall_pressure_Pa *= log_between (d, 0.4, 2.0);
  thing.fan.speed_day = chance (d, 0.5) ? 1.0 : between (d, 0.1, 1.0);
  thing.fan.speed_night = chance (d, 0.2) ? 0.0 : between (d, 0.1, 1.0);
  thing.fan.mount = mount;
  thing.fan.sense = chance (d, 0.65) ? DEW_BLOWS_OUT : DEW_BLOWS_IN;
  for (int i = 0; i < TRIES; i++)
    {
      thing.fan.face = any (d, DEW_N_FACES);
      if (thing.fan.face == DEW_FACE_FLOOR)
        thing.fan.face = DEW_FACE_BACK;
      if (chance (d, 0.3)) /* along an axis, as most are put up */
        {
          thing.fan.azimuth_rad = any (d, 4) * G_PI_2;
          thing.fan.elevation_rad = (any (d, 3) - 1) * G_PI_2;
        }
      else
        {
          thing.fan.azimuth_rad = between (d, -G_PI, G_PI);
          thing.fan.elevation_rad = between (d, -G_PI_2, G_PI_2);
        }
      if (stand_somewhere (d, &thing, TRUE) != NULL)
        return;
    }
}

/* --- what is wet ------------------------------------------------------------------ */

static void
draw_humidifier (Draw *d)
{
  DewThing thing, instrument;

  dew_thing_init (&thing, DEW_THING_HUMIDIFIER);
  dew_catalogue_apply_thing (dew_catalogue ("humidifiers"), any_row (d, "humidifiers", "name", ""),
                             &thing);
  thing.humidifier.output_kg_s *= log_between (d, 0.3, 1.5);
  if (thing.humidifier.technology == DEW_MIST_ULTRASONIC)
    thing.humidifier.droplet_m = log_between (d, 2e-6, 60e-6);
  thing.humidifier.azimuth_rad = between (d, -G_PI, G_PI);
  thing.humidifier.elevation_rad = chance (d, 0.6) ? G_PI_2 : between (d, -0.3, G_PI_2);
  thing.humidifier.outlet_speed_m_s = between (d, 0.0, 2.0);
  thing.humidifier.duty_day = log_between (d, 0.01, 1.0);
  thing.humidifier.duty_night = chance (d, 0.3) ? 0.0 : log_between (d, 0.01, 1.0);
  if (chance (d, 0.55))
    {
      thing.humidifier.set_rh = between (d, 0.5, 0.97);
      dew_thing_init (&instrument, DEW_THING_INSTRUMENT);
      if (chance (d, 0.8))
        {
          DewThing *sensor = stand_somewhere (d, &instrument, TRUE);

          thing.humidifier.sensor_id = sensor != NULL ? (int) sensor->id : 0;
        }
    }
  else
    {
      /* Nobody lets more than a litre an hour and m3 run on and on. */
      double most = 1.0 / DEW_S_PER_H * d->volume_m3 / thing.humidifier.output_kg_s;

      thing.humidifier.duty_day = MIN (thing.humidifier.duty_day, most);
      thing.humidifier.duty_night = MIN (thing.humidifier.duty_night, most);
    }
  stand_somewhere (d, &thing, FALSE);
}

static void
draw_wet_things (Draw *d)
{
  int pots = chance (d, 0.5) ? any (d, 9) : 0, trays = chance (d, 0.5) ? any (d, 4) : 0;
  DewThing thing;

  for (int p = 0; p < pots; p++)
    {
      dew_thing_init (&thing, DEW_THING_POT);
      dew_catalogue_apply_thing (dew_catalogue ("pots"),
                                 any_row (d, "pots", "applies_to", "wet_pot"), &thing);
      thing.pot.wetted_fraction = between (d, 0.1, 1.0);
      stand_somewhere (d, &thing, FALSE);
    }
  for (int t = 0; t < trays; t++)
    {
      dew_thing_init (&thing, DEW_THING_TRAY);
      dew_catalogue_apply_thing (dew_catalogue ("pots"), any_row (d, "pots", "applies_to", "tray"),
                                 &thing);
      thing.tray.width_m = between (d, 0.1, MIN (0.6, d->inner_m[0]));
      thing.tray.depth_m = between (d, 0.1, MIN (0.4, d->inner_m[1]));
      stand_somewhere (d, &thing, FALSE);
    }
}

/* --- what is warm, and what grows -------------------------------------------------- */

static void
draw_warm_things (Draw *d)
{
  int lamps = chance (d, 0.65) ? 1 + any (d, 4) : 0, mats = chance (d, 0.25) ? 1 + any (d, 2) : 0;
  /* More is too bright for plants and too hot for a shelf. */
  double most_W = 500.0 * d->inner_m[0] * d->inner_m[1];
  DewThing thing;

  for (int l = 0; l < lamps; l++)
    {
      dew_thing_init (&thing, DEW_THING_LAMP);
      dew_catalogue_apply_thing (dew_catalogue ("lamps"), any_row (d, "lamps", "name", ""), &thing);
      thing.lamp.length_m = MIN (thing.lamp.length_m, 0.9 * d->inner_m[0]);
      thing.lamp.on_day = chance (d, 0.7) ? 1.0 : between (d, 0.2, 1.0);
      thing.lamp.on_night = chance (d, 0.1) ? 1.0 : 0.0;
      if (d->lamps_W + thing.lamp.power_W <= most_W && stand_somewhere (d, &thing, TRUE) != NULL)
        d->lamps_W += thing.lamp.power_W;
    }
  for (int m = 0; m < mats; m++)
    {
      dew_thing_init (&thing, DEW_THING_MAT);
      thing.mat.width_m = between (d, 0.1, MIN (0.5, d->inner_m[0]));
      thing.mat.depth_m = between (d, 0.1, MIN (0.4, d->inner_m[1]));
      thing.mat.power_W = between (d, 50.0, 300.0) * thing.mat.width_m * thing.mat.depth_m;
      thing.mat.on_day = chance (d, 0.6) ? 1.0 : between (d, 0.0, 1.0);
      thing.mat.on_night = between (d, 0.0, 1.0);
      stand_somewhere (d, &thing, FALSE);
    }
  if (chance (d, 0.15)) /* a pump, a ballast, a bottle from the fridge */
    {
      dew_thing_init (&thing, DEW_THING_SOURCE);
      thing.source.heat_W = chance (d, 0.9) ? log_between (d, 1.0, 30.0) : -between (d, 1.0, 8.0);
      stand_somewhere (d, &thing, FALSE);
    }
}

static void
draw_plants (Draw *d)
{
  const DewCatalogue *plants = dew_catalogue ("plants");
  int n = chance (d, 0.8) ? any (d, 25) : 0;
  DewThing thing;

  for (int p = 0; p < n; p++)
    {
      double crowded = log_between (d, 0.5, 4.0); /* leaf area over plan area of the crown */

      dew_thing_init (&thing, DEW_THING_PLANT);
      g_strlcpy (thing.plant.species,
                 dew_catalogue_text (plants, any (d, dew_catalogue_rows (plants)), "name"),
                 sizeof thing.plant.species);
      thing.plant.width_m = log_between (d, 0.04, 0.4);
      thing.plant.depth_m = thing.plant.width_m * between (d, 0.7, 1.3);
      thing.plant.height_m = thing.plant.width_m * between (d, 0.4, 2.0);
      thing.plant.leaf_area_m2 = crowded * thing.plant.width_m * thing.plant.depth_m;
      thing.plant.pot_diameter_m = chance (d, 0.2) ? 0.0 : 0.6 * thing.plant.width_m;
      stand_somewhere (d, &thing, chance (d, 0.15));
    }
}

DewChamber *
random_enclosure (guint number)
{
  Draw d = { .random = g_rand_new_with_seed (number), .chamber = dew_chamber_new () };
  int openings, wall_fans, free_fans, humidifiers;

  g_snprintf (d.chamber->name, sizeof d.chamber->name, "random enclosure %u", number);
  draw_case (&d);
  draw_room (&d);
  draw_shelves (&d);
  openings = any (&d, 5);
  wall_fans = chance (&d, 0.35) ? 1 + any (&d, 2) : 0;
  free_fans = chance (&d, 0.6) ? 1 + any (&d, 3) : 0;
  humidifiers = chance (&d, 0.55) ? 1 + chance (&d, 0.15) : 0;
  for (int i = 0; i < wall_fans; i++)
    draw_fan (&d, DEW_FAN_IN_WALL);
  for (int i = 0; i < openings; i++)
    draw_opening (&d);
  for (int i = 0; i < humidifiers; i++)
    draw_humidifier (&d);
  draw_warm_things (&d);
  for (int i = 0; i < free_fans; i++)
    draw_fan (&d, DEW_FAN_FREE);
  draw_wet_things (&d);
  draw_plants (&d);
  g_rand_free (d.random);
  return d.chamber;
}

/* --- kin of an enclosure ------------------------------------------------------------ */

static void
swap (double *a, double *b)
{
  double keep = *a;

  *a = *b;
  *b = keep;
}

static int
mirrored_face (int face)
{
  return face == DEW_FACE_LEFT ? DEW_FACE_RIGHT : face == DEW_FACE_RIGHT ? DEW_FACE_LEFT : face;
}

static void
mirror_thing (DewThing *thing, double width_m)
{
  const DewField *fields = dew_thing_fields (thing->kind);
  const DewField *x = dew_field_find (fields, "x_m");
  const DewField *azimuth = dew_field_find (fields, "azimuth_rad");

  if (x != NULL)
    dew_field_set_real (x, thing, width_m - dew_field_get_real (x, thing));
  if (azimuth != NULL)
    dew_field_set_real (azimuth, thing,
                        remainder (G_PI - dew_field_get_real (azimuth, thing), 2.0 * G_PI));
  if (thing->kind == DEW_THING_SHELF)
    swap (&thing->shelf.gap_left_m, &thing->shelf.gap_right_m);
  else if (thing->kind == DEW_THING_FAN)
    thing->fan.face = mirrored_face (thing->fan.face);
  else if (thing->kind == DEW_THING_OPENING)
    {
      thing->opening.face = mirrored_face (thing->opening.face);
      if (thing->opening.face != DEW_FACE_LEFT && thing->opening.face != DEW_FACE_RIGHT)
        {
          thing->opening.u0_m = width_m - thing->opening.u0_m;
          thing->opening.u1_m = width_m - thing->opening.u1_m;
          swap (&thing->opening.u0_m, &thing->opening.u1_m);
        }
    }
}

DewChamber *
mirrored_enclosure (const DewChamber *chamber)
{
  DewChamber *c = dew_chamber_copy (chamber);
  GArray *things = dew_chamber_shown (c)->things;
  DewPanel left = c->panels[DEW_FACE_LEFT];
  double inner_m[3];

  c->panels[DEW_FACE_LEFT] = c->panels[DEW_FACE_RIGHT];
  c->panels[DEW_FACE_RIGHT] = left;
  c->room.sun_face = mirrored_face (c->room.sun_face);
  dew_chamber_inner_m (c, inner_m);
  for (guint t = 0; t < things->len; t++)
    mirror_thing (&g_array_index (things, DewThing, t), inner_m[0]);
  return c;
}

DewChamber *
shifted_enclosure (const DewChamber *chamber, double by_m)
{
  g_autoptr (DewChamber) c = dew_chamber_copy (chamber);
  GArray *things = dew_chamber_shown (c)->things;
  g_autoptr (GArray) problems = NULL;

  for (guint t = 0; t < things->len; t++)
    {
      DewThing *thing = &g_array_index (things, DewThing, t);
      const DewField *x = dew_field_find (dew_thing_fields (thing->kind), "x_m");

      if (x != NULL
          && !(thing->kind == DEW_THING_FAN && thing->fan.mount == DEW_FAN_IN_WALL
               && (thing->fan.face == DEW_FACE_LEFT || thing->fan.face == DEW_FACE_RIGHT)))
        dew_field_set_real (x, thing, dew_field_get_real (x, thing) + by_m);
      else if (thing->kind == DEW_THING_OPENING && thing->opening.face != DEW_FACE_LEFT
               && thing->opening.face != DEW_FACE_RIGHT)
        {
          thing->opening.u0_m += by_m;
          thing->opening.u1_m += by_m;
        }
    }
  problems = dew_chamber_check (c, 0);
  return problems->len == 0 ? g_steal_pointer (&c) : NULL;
}
