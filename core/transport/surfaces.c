/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "transport/surfaces.h"

#include <math.h>
#include <string.h>

#include "moist/moist.h"
#include "transport/films.h"
#include "transport/leaf.h"
#include "transport/light.h"
#include "transport/wet.h"

#define EMISSIVITY_COVER 0.90 /* plastics, glass: Incropera Table A.11, from memory */
#define EMISSIVITY_WET 0.95   /* water, wet clay, leaves: the same */
#define POT_TAPER 0.85        /* mean over rim diameter of a clay pot: common practice, no source */
#define TRAY_ABSORBS 0.8      /* of the light that falls on it */
/* Of light that no leaf or tray takes up, this share meets the cover rather than
 * shelves and pots: common practice, no source. */
#define STRAY_TO_COVER 0.5
/* Shelves, pots and ground that light has warmed give this share to the air and the
 * rest to the radiant node: convection of 2.5 (upright) to 5 W/m2K (warm and level)
 * beside radiation of 5.1, ISO 6946:2017 Annex C. */
#define WARMED_TO_AIR 0.4
/* Drops run down instead of falling from here up: a film maker's guide for wetting
 * films gives 15 degrees. */
#define RUN_OFF_RAD (15.0 * G_PI / 180.0)
#define DEW_STEPS 4
#define LEAF_MOLAR_HEAT 29.3 /* J/molK, Campbell & Norman 1998 */

/* One face of the cover or of a closed board. */
typedef struct
{
  int       zone;    /* that it faces; of a board the one above */
  int       below;   /* of a board the zone under it, else -1 */
  int       panel;   /* DewFace; -1 for a board */
  DewFacing facing;
  double    area_m2;
  double    length_m;
  double    out_W_m2K; /* sheet and outer film to the room */
  double    rad_W_m2K; /* to the radiant node, per side */
  double    t_K;       /* over the room */
  double    h[2];      /* films: own side, underside of a board */
  double    dew[2];    /* condensing, kg/m2s */
} Face;

typedef struct
{
  guint     thing_id;
  gboolean  is_leaf;
  GArray   *shares; /* DewShare */
  DewWetSurface wet;
  DewLeaf   leaf;
  double    area_m2;
  double    t_K; /* over the room */
  double    water_kg_m2s;
  double    radiant_W_m2; /* taken from the radiant node */
  double    leaf_vpd_Pa;
  /* Terms of the whole body, as DewExchangeTerms. */
  double    heat_sink, vapour_sink, vapour_source;
} Body;

struct _DewSurfaces
{
  const DewZones  *z;
  DewAir           air;
  DewRoomAir       room;
  DewFilmAir       film;
  DewExchangeTerms terms;
  double          *lamp_W;     /* zones: heat of lamps straight to the air */
  double          *cover_sink, *cover_source, *cover_vsink, *cover_vsource;
  GArray          *faces;      /* Face */
  GArray          *bodies;     /* Body */
  const DewDeck   *decks;
  int              n_decks;
  double          *deck_open;  /* open ratio per deck */
  double           roof_slope_rad;
  double           evaporation; /* factor on wet areas */
  double           given_W;    /* to the radiant node by lamps, light and sun */
  double           leak_W_K;   /* of the node through a cover that passes long waves */
  double           radiant_K;  /* the node, over the room */
  double           lamp_air_W;
};

/* --- set-up --------------------------------------------------------------------- */

static DewFacing
panel_facing (int panel)
{
  return panel == DEW_FACE_FLOOR ? DEW_FACING_UP : panel == DEW_FACE_ROOF ? DEW_FACING_DOWN
                                                                          : DEW_FACING_SIDE;
}

static void
add_cover (DewSurfaces *s, const DewChamber *chamber)
{
  const DewZones *z = s->z;
  double level = z->inner_m[0] * z->inner_m[1] / (2.0 * (z->inner_m[0] + z->inner_m[1]));
  double hr = dew_film_radiation_h (1.0, s->room.t_C);

  for (int k = 1; k <= z->n[2]; k++)
    for (int j = 1; j <= z->n[1]; j++)
      for (int i = 1; i <= z->n[0]; i++)
        {
          int c[3] = { i, j, k };
          int at = dew_zones_at (z, i, j, k);

          for (int p = 0; p < DEW_N_FACES; p++)
            {
              int a = p / 2, face = at + (p & 1) * z->stride[a];
              const DewPanel *panel = &chamber->panels[p];
              double closed = z->gross_m2[a][face] - z->open_m2[a][face];
              double outer = dew_film_standard_resistance (DEW_HEAT_LEVEL);
              Face f = { .zone = at, .below = -1, .panel = p, .area_m2 = closed };

              if (c[a] != (p & 1 ? z->n[a] : 1) || closed <= 0.0 || panel->u_value_W_m2K <= 0.0)
                continue;
              f.facing = panel_facing (p);
              f.length_m = f.facing == DEW_FACING_SIDE ? z->inner_m[2] : level;
              f.out_W_m2K = 1.0 / (dew_sheet_resistance (panel->u_value_W_m2K, DEW_HEAT_LEVEL) + outer);
              f.rad_W_m2K = hr * EMISSIVITY_COVER * (1.0 - panel->longwave_transmission);
              s->leak_W_K += closed * hr * panel->longwave_transmission;
              g_array_append_val (s->faces, f);
            }
        }
}

static void
add_boards (DewSurfaces *s)
{
  const DewZones *z = s->z;
  double level = z->inner_m[0] * z->inner_m[1] / (2.0 * (z->inner_m[0] + z->inner_m[1]));

  for (int d = 0; d < z->n_decks; d++)
    for (int j = 1; j <= z->n[1]; j++)
      for (int i = 1; i <= z->n[0]; i++)
        {
          int at = dew_zones_at (z, i, j, z->decks[d].k);
          double closed = z->gross_m2[2][at] - z->open_m2[2][at];
          Face f = { .zone = at, .below = at - z->stride[2], .panel = -1, .facing = DEW_FACING_UP,
                     .area_m2 = closed, .length_m = level };

          if (closed <= 1e-9)
            continue;
          f.rad_W_m2K = dew_film_radiation_h (EMISSIVITY_COVER, s->room.t_C);
          g_array_append_val (s->faces, f);
        }
}

static double
mean_ppfd (const DewSurfaces *s, const DewVariant *variant, gboolean night, const double lo[3],
           const double hi[3])
{
  double sum = 0.0;

  for (int n = 0; n < 9; n++)
    sum += dew_light_ppfd_mol_m2s (variant, s->z->inner_m, night,
                                   lo[0] + (n % 3 + 0.5) / 3.0 * (hi[0] - lo[0]),
                                   lo[1] + (n / 3 + 0.5) / 3.0 * (hi[1] - lo[1]), hi[2]);
  return sum / 9.0;
}

/* Returns the light the body takes up, W. */
static double
add_wet (DewSurfaces *s, const DewVariant *variant, gboolean night, const DewThing *thing,
         const double lo[3], const double hi[3])
{
  Body b = { .thing_id = thing->id, .leaf_vpd_Pa = NAN };

  b.wet.emissivity = EMISSIVITY_WET;
  b.wet.p_Pa = s->air.pressure_Pa;
  b.wet.wetted_fraction = 1.0;
  if (thing->kind == DEW_THING_POT)
    {
      b.area_m2 = G_PI * POT_TAPER * thing->pot.rim_diameter_m * thing->pot.height_m;
      b.wet.facing = DEW_FACING_SIDE;
      b.wet.length_m = thing->pot.height_m;
      b.wet.wetted_fraction = thing->pot.wetted_fraction;
    }
  else
    {
      double w = thing->tray.width_m, d = thing->tray.depth_m;

      b.area_m2 = w * d;
      b.wet.facing = DEW_FACING_UP;
      b.wet.length_m = w * d / (2.0 * (w + d));
      b.wet.absorbed_W_m2 = TRAY_ABSORBS * mean_ppfd (s, variant, night, lo, hi) / DEW_LIGHT_MOL_J;
    }
  b.area_m2 *= s->evaporation;
  if (b.area_m2 <= 0.0)
    return 0.0;
  b.shares = dew_zones_shares (s->z, lo, hi);
  g_array_append_val (s->bodies, b);
  return b.wet.absorbed_W_m2 * b.area_m2;
}

static double
add_plant (DewSurfaces *s, const DewVariant *variant, gboolean night, const DewThing *thing,
           const double lo[3], const double hi[3])
{
  Body b = { .thing_id = thing->id, .is_leaf = TRUE };
  double ppfd = mean_ppfd (s, variant, night, lo, hi);

  b.area_m2 = thing->plant.leaf_area_m2;
  if (b.area_m2 <= 0.0 || thing->plant.species[0] == '\0')
    return 0.0;
  b.leaf.p_Pa = s->air.pressure_Pa;
  b.leaf.length_m = 0.5 * MIN (thing->plant.width_m, thing->plant.height_m);
  b.leaf.conductance_mol_m2s = dew_leaf_conductance (dew_leaf_kind (NULL, thing->plant.species), night);
  /* Leaves shade each other: no more light than falls on the crown's ground. */
  b.leaf.absorbed_W_m2 = dew_leaf_absorbed_W_m2 (ppfd)
                         * MIN (1.0, thing->plant.width_m * thing->plant.depth_m / b.area_m2);
  b.shares = dew_zones_shares (s->z, lo, hi);
  g_array_append_val (s->bodies, b);
  return b.leaf.absorbed_W_m2 * b.area_m2;
}

/* Heat straight to the air of a box. */
static void
give_to_box (DewSurfaces *s, const double lo[3], const double hi[3], double heat_W)
{
  g_autoptr (GArray) shares = dew_zones_shares (s->z, lo, hi);

  s->lamp_air_W += heat_W;
  for (guint n = 0; n < shares->len; n++)
    {
      const DewShare *share = &g_array_index (shares, DewShare, n);

      s->lamp_W[share->zone] += heat_W * share->share;
    }
}

/* Share of loose light that stays inside: the rest leaves through the clear cover. */
static double
kept_share (const DewSurfaces *s, const DewChamber *chamber)
{
  double wall = 0.0, clear = 0.0;

  for (int p = 0; p < DEW_N_FACES; p++)
    {
      int a = p / 2;
      double area = s->z->inner_m[(a + 1) % 3] * s->z->inner_m[(a + 2) % 3];

      wall += area;
      clear += area * chamber->panels[p].light_transmission;
    }
  return 1.0 - STRAY_TO_COVER * clear / wall;
}

/* Light (W) that shelves, pots and ground between lo and hi take up. */
static void
warm_contents (DewSurfaces *s, const double lo[3], const double hi[3], double light_W)
{
  give_to_box (s, lo, hi, WARMED_TO_AIR * light_W);
  s->given_W += (1.0 - WARMED_TO_AIR) * light_W;
}

static void
add_lamp (DewSurfaces *s, const DewChamber *chamber, const DewVariant *variant, gboolean night,
          const DewThing *thing, double caught)
{
  DewLampHeat heat = dew_light_lamp_heat (&thing->lamp, night);
  double lo[3], hi[3];

  dew_thing_box (chamber, thing, lo, hi);
  give_to_box (s, lo, hi, heat.convective_W);
  s->given_W += heat.radiant_W;
  /* Its light lands across the shelf below. */
  hi[2] = lo[2];
  lo[2] = MIN (dew_variant_rest_height (variant, lo[2]), hi[2]);
  for (int a = 0; a < 2; a++)
    {
      lo[a] = 0.0;
      hi[a] = s->z->inner_m[a];
    }
  warm_contents (s, lo, hi, caught * heat.light_W);
}

static void
add_sun (DewSurfaces *s, const DewChamber *chamber, double kept)
{
  static const double lo[3] = { 0.0, 0.0, 0.0 };
  int p = CLAMP (chamber->room.sun_face, 0, DEW_N_FACES - 1), a = p / 2;
  double area = s->z->inner_m[(a + 1) % 3] * s->z->inner_m[(a + 2) % 3];

  warm_contents (s, lo, s->z->inner_m,
                 kept * chamber->room.sun_W_m2 * area * chamber->panels[p].light_transmission);
}

static void
add_things (DewSurfaces *s, const DewChamber *chamber, const DewVariant *variant, gboolean night)
{
  double light = 0.0, taken = 0.0, kept = kept_share (s, chamber);

  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);
      double lo[3], hi[3];

      dew_thing_box (chamber, thing, lo, hi);
      if (thing->kind == DEW_THING_POT || thing->kind == DEW_THING_TRAY)
        taken += add_wet (s, variant, night, thing, lo, hi);
      else if (thing->kind == DEW_THING_PLANT)
        taken += add_plant (s, variant, night, thing, lo, hi);
      else if (thing->kind == DEW_THING_LAMP)
        light += dew_light_lamp_heat (&thing->lamp, night).light_W;
    }

  double caught = light > 0.0 ? kept * MAX (0.0, 1.0 - taken / light) : 0.0;

  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind == DEW_THING_LAMP)
        add_lamp (s, chamber, variant, night, thing, caught);
    }
  if (!night && chamber->room.sun_W_m2 > 0.0)
    add_sun (s, chamber, kept);
}

static void
note_decks (DewSurfaces *s, const DewVariant *variant)
{
  s->decks = s->z->decks;
  s->n_decks = s->z->n_decks;
  s->deck_open = g_new0 (double, MAX (1, s->n_decks));
  for (int d = 0; d < s->n_decks; d++)
    {
      const DewShelf *shelf = &dew_variant_thing (variant, s->decks[d].thing_id)->shelf;

      s->deck_open[d] = shelf->board == DEW_SHELF_SOLID ? 0.0 : shelf->open_ratio;
    }
}

/* Where no surface takes up radiation, it warms the air evenly. */
static void
give_to_air (DewSurfaces *s)
{
  double volume = s->z->inner_m[0] * s->z->inner_m[1] * s->z->inner_m[2];

  for (int at = 0; at < s->z->size; at++)
    s->lamp_W[at] += s->given_W * s->z->volume_m3[at] / volume;
  s->lamp_air_W += s->given_W;
  s->given_W = 0.0;
}

DewSurfaces *
dew_surfaces_new (const DewZones *z, const DewChamber *chamber, const DewVariant *variant,
                  const DewAir *air, const DewRoomAir *room, gboolean night, double evaporation)
{
  DewSurfaces *s = g_new0 (DewSurfaces, 1);
  double **all[] = { &s->terms.heat_sink_m3_s, &s->terms.heat_source_K_m3_s,
                     &s->terms.vapour_sink_m3_s, &s->terms.vapour_source_m3_s, &s->lamp_W,
                     &s->cover_sink, &s->cover_source, &s->cover_vsink, &s->cover_vsource };

  s->z = z;
  s->air = *air;
  s->evaporation = evaporation;
  s->room = *room;
  s->film = dew_film_air (room->t_C, air->pressure_Pa);
  s->faces = g_array_new (FALSE, FALSE, sizeof (Face));
  s->bodies = g_array_new (FALSE, FALSE, sizeof (Body));
  s->roof_slope_rad = chamber->panels[DEW_FACE_ROOF].slope_rad;
  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    *all[i] = g_new0 (double, z->size);
  add_cover (s, chamber);
  add_things (s, chamber, variant, night);
  note_decks (s, variant);
  /* Boards part warm from cold air only where anything is warm or cold. */
  if (s->faces->len > 0 || s->bodies->len > 0 || s->given_W > 0.0)
    add_boards (s);
  if (s->faces->len == 0 && s->bodies->len == 0)
    give_to_air (s);
  return s;
}

void
dew_surfaces_free (DewSurfaces *s)
{
  if (s == NULL)
    return;
  double *all[] = { s->terms.heat_sink_m3_s, s->terms.heat_source_K_m3_s, s->terms.vapour_sink_m3_s,
                    s->terms.vapour_source_m3_s, s->lamp_W, s->cover_sink, s->cover_source,
                    s->cover_vsink, s->cover_vsource };

  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    g_free (all[i]);
  for (guint b = 0; b < s->bodies->len; b++)
    g_array_unref (g_array_index (s->bodies, Body, b).shares);
  g_array_unref (s->faces);
  g_array_unref (s->bodies);
  g_free (s->deck_open);
  g_free (s);
}

/* --- one surface ------------------------------------------------------------------ */

/* Air beside a surface. */
typedef struct
{
  double t_K, w, speed; /* rises over the room */
  double t_C, p_w;
} Beside;

static Beside
beside_zone (const DewSurfaces *s, int zone, const double *t, const double *w, const double *speed)
{
  Beside b = { t[zone], w[zone], speed[zone], s->room.t_C + t[zone], 0.0 };

  b.p_w = dew_moist_p_w_from_w (MAX (0.0, s->room.w_kg_kg + w[zone]), s->air.pressure_Pa);
  return b;
}

static Beside
beside_body (const DewSurfaces *s, const Body *body, const double *t, const double *w,
             const double *speed)
{
  Beside b = { 0 };

  for (guint n = 0; n < body->shares->len; n++)
    {
      const DewShare *share = &g_array_index (body->shares, DewShare, n);

      b.t_K += share->share * t[share->zone];
      b.w += share->share * w[share->zone];
      b.speed += share->share * speed[share->zone];
    }
  b.t_C = s->room.t_C + b.t_K;
  b.p_w = dew_moist_p_w_from_w (MAX (0.0, s->room.w_kg_kg + b.w), s->air.pressure_Pa);
  return b;
}

/* Temperature of a face whose balance without dew is k (t - dry) = 0: dew warms
 * it. Newton on k (dry - t) + L dew (t) = 0, which has one root. */
static double
dewed_temperature (const DewSurfaces *s, double k, double dry_K, const Beside *air, double h,
                   double *dew)
{
  double t = dry_K;
  double latent = s->air.latent_heat_J_kg;

  *dew = dew_condensation_kg_m2s (&s->film, h, s->room.t_C + t, air->t_C, air->p_w);
  for (int n = 0; n < DEW_STEPS && *dew > 0.0; n++)
    {
      double step = 1e-3;
      double next = dew_condensation_kg_m2s (&s->film, h, s->room.t_C + t + step, air->t_C, air->p_w);
      double slope = k - latent * (next - *dew) / step;

      t += (k * (dry_K - t) + latent * *dew) / slope;
      *dew = dew_condensation_kg_m2s (&s->film, h, s->room.t_C + t, air->t_C, air->p_w);
    }
  return t;
}

static void
update_face (DewSurfaces *s, Face *f, const double *t, const double *w, const double *speed)
{
  Beside own = beside_zone (s, f->zone, t, w, speed);
  double k, dry;

  f->h[0] = dew_film_h (&s->film, f->facing, f->length_m, f->t_K - own.t_K, own.speed);
  if (f->below < 0)
    {
      k = f->h[0] + f->rad_W_m2K + f->out_W_m2K;
      dry = (f->h[0] * own.t_K + f->rad_W_m2K * s->radiant_K) / k;
      f->t_K = dewed_temperature (s, k, dry, &own, f->h[0], &f->dew[0]);
      return;
    }

  /* A board: both sides at one temperature. */
  Beside under = beside_zone (s, f->below, t, w, speed);
  double dew_top, dew_under;

  f->h[1] = dew_film_h (&s->film, DEW_FACING_DOWN, f->length_m, f->t_K - under.t_K, under.speed);
  k = f->h[0] + f->h[1] + 2.0 * f->rad_W_m2K;
  dry = (f->h[0] * own.t_K + f->h[1] * under.t_K + 2.0 * f->rad_W_m2K * s->radiant_K) / k;
  f->t_K = dewed_temperature (s, k, dry, &own, f->h[0], &dew_top);
  f->t_K = MAX (f->t_K, dewed_temperature (s, k, dry, &under, f->h[1], &dew_under));
  f->dew[0] = dew_condensation_kg_m2s (&s->film, f->h[0], s->room.t_C + f->t_K, own.t_C, own.p_w);
  f->dew[1] = dew_condensation_kg_m2s (&s->film, f->h[1], s->room.t_C + f->t_K, under.t_C, under.p_w);
}

static void
update_wet (DewSurfaces *s, Body *b, const Beside *air)
{
  DewWetState state;
  double w_air = MAX (0.0, s->room.w_kg_kg + air->w), w_surface;

  b->wet.t_air_C = air->t_C;
  b->wet.w_air_kg_kg = w_air;
  b->wet.speed_m_s = air->speed;
  b->wet.t_radiant_C = s->room.t_C + s->radiant_K;
  state = dew_wet_surface (&b->wet, &s->film);
  b->t_K = state.t_C - s->room.t_C;
  b->water_kg_m2s = state.evaporation_kg_m2s;
  b->radiant_W_m2 = state.radiant_W_m2;
  w_surface = dew_moist_w_sat (state.t_C, s->air.pressure_Pa);
  b->heat_sink = state.h_W_m2K * b->area_m2 / (s->air.density_kg_m3 * s->air.specific_heat_J_kgK);
  b->vapour_sink = fabs (w_surface - w_air) > 1e-6
                       ? MAX (0.0, state.evaporation_kg_m2s / (w_surface - w_air)) * b->area_m2
                             / s->air.density_kg_m3
                       : 0.0;
  b->vapour_source = b->vapour_sink * (w_surface - s->room.w_kg_kg);
}

static void
update_leaf (DewSurfaces *s, Body *b, const Beside *air)
{
  DewLeafState state;
  double w_air = MAX (0.0, s->room.w_kg_kg + air->w), w_leaf;

  b->leaf.t_air_C = air->t_C;
  b->leaf.w_air_kg_kg = w_air;
  b->leaf.speed_m_s = air->speed;
  b->leaf.t_radiant_C = s->room.t_C + s->radiant_K;
  state = dew_leaf_state (&b->leaf);
  b->t_K = state.t_C - s->room.t_C;
  b->water_kg_m2s = state.transpiration_kg_m2s;
  b->radiant_W_m2 = state.sensible_W_m2 + state.latent_W_m2 - b->leaf.absorbed_W_m2;
  b->leaf_vpd_Pa = state.vpd_Pa;
  w_leaf = dew_moist_w_sat (state.t_C, s->air.pressure_Pa);
  b->heat_sink = 2.0 * LEAF_MOLAR_HEAT
                 * dew_leaf_boundary_mol_m2s (air->speed, b->leaf.length_m, state.t_C - air->t_C)
                 * b->area_m2 / (s->air.density_kg_m3 * s->air.specific_heat_J_kgK);
  b->vapour_sink = fabs (w_leaf - w_air) > 1e-6
                       ? MAX (0.0, state.transpiration_kg_m2s / (w_leaf - w_air)) * b->area_m2
                             / s->air.density_kg_m3
                       : 0.0;
  b->vapour_source = b->vapour_sink * (w_leaf - s->room.w_kg_kg);
}

/* --- all together ------------------------------------------------------------------- */

/* The node's balance, with each face's temperature a known function of it. */
static void
update_radiant (DewSurfaces *s, const double *t)
{
  double take = s->leak_W_K, give = s->given_W;
  double hr = dew_film_radiation_h (EMISSIVITY_WET, s->room.t_C);

  for (guint n = 0; n < s->faces->len; n++)
    {
      const Face *f = &g_array_index (s->faces, Face, n);
      int sides = f->below < 0 ? 1 : 2;
      double r = sides * f->rad_W_m2K;
      double k = f->h[0] + f->h[1] + r + f->out_W_m2K;
      double warm = f->h[0] * t[f->zone] + s->air.latent_heat_J_kg * (f->dew[0] + f->dew[1]);

      if (f->below >= 0)
        warm += f->h[1] * t[f->below];
      take += f->area_m2 * r * (1.0 - r / k);
      give += f->area_m2 * r * warm / k;
    }
  for (guint n = 0; n < s->bodies->len; n++)
    {
      const Body *b = &g_array_index (s->bodies, Body, n);
      double both = (b->is_leaf ? 2.0 : 1.0) * hr * b->area_m2;

      take += both;
      give += both * s->radiant_K - b->radiant_W_m2 * b->area_m2;
    }
  s->radiant_K = take > 0.0 ? give / take : 0.0;
}

/* What a side of a face gives to its zone. The face follows the air beside it, so
 * only the part of the film's conductance that is passed on acts as a sink. */
static void
add_face_terms (DewSurfaces *s, const Face *f, int side, int zone, const double *t, const double *w)
{
  double rho_1 = 1.0 / s->air.density_kg_m3;
  double heat_1 = rho_1 / s->air.specific_heat_J_kgK;
  double h = f->h[side];
  double k = f->h[0] + f->h[1] + (f->below < 0 ? 1.0 : 2.0) * f->rad_W_m2K + f->out_W_m2K;

  s->cover_sink[zone] += f->area_m2 * heat_1 * h * (1.0 - h / k);
  s->cover_source[zone] += f->area_m2 * heat_1 * h * (f->t_K - h / k * t[zone]);
  if (f->dew[side] > 0.0)
    {
      double w_face = dew_moist_w_sat (s->room.t_C + f->t_K, s->air.pressure_Pa) - s->room.w_kg_kg;
      double g = w[zone] - w_face > 1e-7 ? f->area_m2 * rho_1 * f->dew[side] / (w[zone] - w_face) : 0.0;

      s->cover_vsink[zone] += g;
      s->cover_vsource[zone] += g * w_face;
    }
}

static void
add_body_terms (DewSurfaces *s, const Body *b)
{
  for (guint n = 0; n < b->shares->len; n++)
    {
      const DewShare *share = &g_array_index (b->shares, DewShare, n);

      s->terms.heat_sink_m3_s[share->zone] += share->share * b->heat_sink;
      s->terms.heat_source_K_m3_s[share->zone] += share->share * b->heat_sink * b->t_K;
      s->terms.vapour_sink_m3_s[share->zone] += share->share * b->vapour_sink;
      s->terms.vapour_source_m3_s[share->zone] += share->share * b->vapour_source;
    }
}

static void
sum_terms (DewSurfaces *s, const double *t, const double *w)
{
  gsize bytes = sizeof (double) * s->z->size;
  double heat_1 = 1.0 / (s->air.density_kg_m3 * s->air.specific_heat_J_kgK);

  memset (s->cover_sink, 0, bytes);
  memset (s->cover_source, 0, bytes);
  memset (s->cover_vsink, 0, bytes);
  memset (s->cover_vsource, 0, bytes);
  for (guint n = 0; n < s->faces->len; n++)
    {
      const Face *f = &g_array_index (s->faces, Face, n);

      add_face_terms (s, f, 0, f->zone, t, w);
      if (f->below >= 0)
        add_face_terms (s, f, 1, f->below, t, w);
    }
  for (int at = 0; at < s->z->size; at++)
    {
      s->terms.heat_sink_m3_s[at] = s->cover_sink[at];
      s->terms.heat_source_K_m3_s[at] = s->cover_source[at] + heat_1 * s->lamp_W[at];
      s->terms.vapour_sink_m3_s[at] = s->cover_vsink[at];
      s->terms.vapour_source_m3_s[at] = s->cover_vsource[at];
    }
  for (guint n = 0; n < s->bodies->len; n++)
    add_body_terms (s, &g_array_index (s->bodies, Body, n));
}

double
dew_surfaces_update (DewSurfaces *s, const double *t, const double *w, const double *speed)
{
  double change = 0.0, radiant = s->radiant_K;

  update_radiant (s, t);
  change = fabs (s->radiant_K - radiant);
  for (guint n = 0; n < s->faces->len; n++)
    {
      Face *f = &g_array_index (s->faces, Face, n);
      double before = f->t_K;

      update_face (s, f, t, w, speed);
      change = MAX (change, fabs (f->t_K - before));
    }
  for (guint n = 0; n < s->bodies->len; n++)
    {
      Body *b = &g_array_index (s->bodies, Body, n);
      Beside air = beside_body (s, b, t, w, speed);
      double before = b->t_K;

      if (b->is_leaf)
        update_leaf (s, b, &air);
      else
        update_wet (s, b, &air);
      change = MAX (change, fabs (b->t_K - before));
    }
  sum_terms (s, t, w);
  return change;
}

/* --- reading -------------------------------------------------------------------------- */

const DewExchangeTerms *
dew_surfaces_terms (const DewSurfaces *s)
{
  return &s->terms;
}

gboolean
dew_surfaces_active (const DewSurfaces *s)
{
  return s->faces->len > 0 || s->bodies->len > 0 || s->given_W > 0.0 || s->lamp_air_W > 0.0;
}

int
dew_surfaces_n_bodies (const DewSurfaces *s)
{
  return s->bodies->len;
}

DewBodyState
dew_surfaces_body (const DewSurfaces *s, int body)
{
  const Body *b = &g_array_index (s->bodies, Body, body);
  DewBodyState state = { b->thing_id, s->room.t_C + b->t_K, b->water_kg_m2s * b->area_m2,
                         b->leaf_vpd_Pa };

  return state;
}

DewPanelState
dew_surfaces_panel (const DewSurfaces *s, DewFace face)
{
  DewPanelState p = { NAN, NAN, 0.0, 0.0 };
  double area = 0.0, sum = 0.0;

  for (guint n = 0; n < s->faces->len; n++)
    {
      const Face *f = &g_array_index (s->faces, Face, n);

      if (f->panel != (int) face)
        continue;
      area += f->area_m2;
      sum += f->area_m2 * f->t_K;
      p.dew_kg_s += f->area_m2 * f->dew[0];
      p.heat_W += f->area_m2 * f->out_W_m2K * f->t_K;
      p.coldest_C = isnan (p.coldest_C) ? s->room.t_C + f->t_K : MIN (p.coldest_C, s->room.t_C + f->t_K);
    }
  if (area > 0.0)
    p.t_C = s->room.t_C + sum / area;
  return p;
}

double
dew_surfaces_radiant_C (const DewSurfaces *s)
{
  return s->room.t_C + s->radiant_K;
}

void
dew_surfaces_sums (const DewSurfaces *s, const double *t, const double *w, DewSurfaceSums *out)
{
  double rho = s->air.density_kg_m3, cp = s->air.specific_heat_J_kgK;

  memset (out, 0, sizeof *out);
  out->lamp_air_W = s->lamp_air_W;
  for (int at = 0; at < s->z->size; at++)
    {
      double heat, vapour, cover, dew;

      if (s->z->volume_m3[at] <= 0.0)
        continue;
      heat = rho * cp * (s->terms.heat_source_K_m3_s[at] - s->terms.heat_sink_m3_s[at] * t[at]);
      vapour = rho * (s->terms.vapour_source_m3_s[at] - s->terms.vapour_sink_m3_s[at] * w[at]);
      cover = rho * cp * (s->cover_source[at] - s->cover_sink[at] * t[at]);
      dew = rho * (s->cover_vsource[at] - s->cover_vsink[at] * w[at]);
      out->cover_W += cover;
      out->cover_kg_s += dew;
      out->body_W += heat - cover - s->lamp_W[at];
      out->body_kg_s += vapour - dew;
    }
}

/* Follows drops down a column of zones: what a shelf does not hold back falls on. */
static void
drip_down (const DewSurfaces *s, int zone, double rate_kg_m2s, double *drip)
{
  const DewZones *z = s->z;

  for (int k = zone / z->stride[2]; k >= 1 && rate_kg_m2s > 0.0; k--, zone -= z->stride[2])
    {
      drip[zone] += rate_kg_m2s;
      if (z->kind[2][zone] == DEW_FACE_IS_CLOSED)
        return;
      rate_kg_m2s *= z->gross_m2[2][zone] > 0.0 ? z->open_m2[2][zone] / z->gross_m2[2][zone] : 0.0;
      for (int d = 0; d < s->n_decks; d++)
        if (s->decks[d].k == k && s->deck_open[d] > 0.0)
          rate_kg_m2s *= s->deck_open[d];
    }
}

void
dew_surfaces_drip (const DewSurfaces *s, double *drip)
{
  memset (drip, 0, sizeof (double) * s->z->size);
  for (guint n = 0; n < s->faces->len; n++)
    {
      const Face *f = &g_array_index (s->faces, Face, n);
      double plan = s->z->gross_m2[2][f->zone];

      if (f->panel == DEW_FACE_ROOF && s->roof_slope_rad < RUN_OFF_RAD)
        drip_down (s, f->zone, f->dew[0] * f->area_m2 / plan, drip);
      else if (f->below >= 0)
        drip_down (s, f->below, f->dew[1] * f->area_m2 / plan, drip);
    }
}
