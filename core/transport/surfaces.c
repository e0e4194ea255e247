/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "transport/surfaces-private.h"

#include <math.h>
#include <string.h>

#include "catalogue/catalogue.h"
#include "geometry/geometry.h"
#include "moist/moist.h"
#include "transport/light.h"

#define EMISSIVITY_COVER 0.90 /* plastics, glass: Incropera Table A.11, from memory */
#define POT_TAPER 0.85        /* mean over rim diameter of a clay pot: common practice, no source */
#define TRAY_ABSORBS 0.8      /* of the light that falls on it */
/* Of light that no leaf or tray takes up, this share meets the cover rather than
 * shelves and pots: common practice, no source. */
#define STRAY_TO_COVER 0.5
/* Shelves, pots and ground that light has warmed give this share to the air and the
 * rest to the radiant node: convection of 2.5 (upright) to 5 W/m2K (warm and level)
 * beside radiation of 5.1, ISO 6946:2017 Annex C. */
#define WARMED_TO_AIR 0.4
#define HELD_W_m2K 1e6 /* films are 2 to 10 W/m2K: a face that is held follows within 1e-5 K */
/* Drops run down instead of falling from here up: a film maker's guide for wetting
 * films gives 15 degrees. */
#define RUN_OFF_RAD (15.0 * G_PI / 180.0)

/* --- set-up --------------------------------------------------------------------- */

static DewFacing
panel_facing (int panel)
{
  return panel == DEW_FACE_FLOOR  ? DEW_FACING_UP
         : panel == DEW_FACE_ROOF ? DEW_FACING_DOWN
                                  : DEW_FACING_SIDE;
}

/* Which way heat crosses a side of the cover that loses it to the room, or gains it. */
static DewHeatWay
heat_way (DewFace face, gboolean losing)
{
  switch (face)
    {
    case DEW_FACE_ROOF:
      return losing ? DEW_HEAT_UP : DEW_HEAT_DOWN;
    case DEW_FACE_FLOOR:
      return losing ? DEW_HEAT_DOWN : DEW_HEAT_UP;
    default:
      return DEW_HEAT_LEVEL;
    }
}

/* From the inner surface to the room. The sheet's own resistance follows from its U-value, which
 * is given upright; the film on the room's side is that of the way the heat goes (ISO 6946:2017
 * Table 7), of which 0.9 times 5.7 W/m2K are long waves that the sheet gives off (Annex C). Of
 * those it gives off no more than it stops: what it lets through is counted apart. */
static double
outward_W_m2K (const DewPanel *panel, DewHeatWay way)
{
  double film = 1.0 / dew_film_standard_resistance (way)
                - panel->longwave_transmission * dew_film_radiation_h (0.9, 20.0);

  return 1.0 / (dew_sheet_resistance (panel->u_value_W_m2K, DEW_HEAT_LEVEL) + 1.0 / film);
}

static void
add_cover (DewSurfaces *s, const DewChamber *chamber, const double *held_C)
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
              int a = dew_face_axis (p), face = at + dew_face_is_high (p) * z->stride[a];
              const DewPanel *panel = &chamber->panels[p];
              double closed = z->gross_m2[a][face] - z->open_m2[a][face];
              Face f = { .zone = at, .below = -1, .panel = p, .area_m2 = closed };

              if (c[a] != (dew_face_is_high (p) ? z->n[a] : 1) || closed <= 0.0
                  || (held_C == NULL && panel->u_value_W_m2K <= 0.0))
                continue;
              f.facing = panel_facing (p);
              f.length_m = f.facing == DEW_FACING_SIDE ? z->inner_m[2] : level;
              if (held_C != NULL)
                {
                  f.out_W_m2K = f.losing_W_m2K = f.gaining_W_m2K = HELD_W_m2K;
                  f.out_K = f.t_K = *held_C - s->room.t_C;
                  g_array_append_val (s->faces, f);
                  continue;
                }
              f.losing_W_m2K = outward_W_m2K (panel, heat_way (p, TRUE));
              f.gaining_W_m2K = outward_W_m2K (panel, heat_way (p, FALSE));
              f.out_W_m2K = f.losing_W_m2K;
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
          Face f = { .zone = at,
                     .below = at - z->stride[2],
                     .panel = -1,
                     .facing = DEW_FACING_UP,
                     .area_m2 = closed,
                     .length_m = level };

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
add_plant (DewSurfaces *s, const DewChamber *chamber, const DewVariant *variant, gboolean night,
           const DewThing *thing, const double lo[3], const double hi[3])
{
  Body b = { .thing_id = thing->id, .is_leaf = TRUE };
  double ppfd = mean_ppfd (s, variant, night, lo, hi);

  b.area_m2 = thing->plant.leaf_area_m2;
  if (b.area_m2 <= 0.0 || thing->plant.species[0] == '\0')
    return 0.0;
  b.leaf.p_Pa = s->air.pressure_Pa;
  b.leaf.length_m = 0.5 * MIN (thing->plant.width_m, thing->plant.height_m);
  b.leaf.conductance_mol_m2s
    = dew_leaf_conductance (dew_catalogue_leaf (chamber, thing->plant.species), night);
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
      int a = dew_face_axis (p);
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
  int p = CLAMP (chamber->room.sun_face, 0, DEW_N_FACES - 1), a = dew_face_axis (p);
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
        taken += add_plant (s, chamber, variant, night, thing, lo, hi);
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
                  const DewAir *air, const DewRoomAir *room, gboolean night, double evaporation,
                  const double *cover_t_C)
{
  DewSurfaces *s = g_new0 (DewSurfaces, 1);
  double **all[] = { &s->terms.heat_sink_m3_s,
                     &s->terms.heat_source_K_m3_s,
                     &s->terms.vapour_sink_m3_s,
                     &s->terms.vapour_source_m3_s,
                     &s->terms.heat_by_w_m3_s,
                     &s->terms.vapour_by_t_m3_s,
                     &s->lamp_W,
                     &s->cover_sink,
                     &s->cover_source,
                     &s->cover_by_w,
                     &s->cover_vsink,
                     &s->cover_vsource,
                     &s->cover_by_t,
                     &s->before[0],
                     &s->before[1],
                     &s->before[2] };

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
  add_cover (s, chamber, cover_t_C);
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
  double *all[] = { s->terms.heat_sink_m3_s,
                    s->terms.heat_source_K_m3_s,
                    s->terms.vapour_sink_m3_s,
                    s->terms.vapour_source_m3_s,
                    s->terms.heat_by_w_m3_s,
                    s->terms.vapour_by_t_m3_s,
                    s->lamp_W,
                    s->cover_sink,
                    s->cover_source,
                    s->cover_by_w,
                    s->cover_vsink,
                    s->cover_vsource,
                    s->cover_by_t,
                    s->before[0],
                    s->before[1],
                    s->before[2] };

  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    g_free (all[i]);
  for (guint b = 0; b < s->bodies->len; b++)
    g_array_unref (g_array_index (s->bodies, Body, b).shares);
  g_array_unref (s->faces);
  g_array_unref (s->bodies);
  g_free (s->deck_open);
  g_free (s);
}

/* --- reading -------------------------------------------------------------------------- */

const DewExchangeTerms *
dew_surfaces_terms (const DewSurfaces *s)
{
  return &s->terms;
}

double
dew_surfaces_miss (const DewSurfaces *s)
{
  return s->miss;
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
  DewBodyState state
    = { b->thing_id, s->room.t_C + b->t_K, b->water_kg_m2s * b->area_m2, b->leaf_vpd_Pa };

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
      p.heat_W += f->area_m2 * f->out_W_m2K * (f->t_K - f->out_K);
      p.coldest_C
        = isnan (p.coldest_C) ? s->room.t_C + f->t_K : MIN (p.coldest_C, s->room.t_C + f->t_K);
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
      heat = rho * cp * dew_exchange_heat (&s->terms, at, t[at], w[at]);
      vapour = rho * dew_exchange_vapour (&s->terms, at, t[at], w[at]);
      cover
        = rho * cp * (s->cover_source[at] - s->cover_sink[at] * t[at] + s->cover_by_w[at] * w[at]);
      dew = rho * (s->cover_vsource[at] - s->cover_vsink[at] * w[at] + s->cover_by_t[at] * t[at]);
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

/* --- what they are -------------------------------------------------------------------- */

int
dew_surfaces_n_faces (const DewSurfaces *s)
{
  return s->faces->len;
}

DewSurfaceFace
dew_surfaces_face (const DewSurfaces *s, int face)
{
  const Face *f = &g_array_index (s->faces, Face, face);

  return (DewSurfaceFace){
    f->zone,     f->below,        f->panel,         f->facing,    f->area_m2,
    f->length_m, f->losing_W_m2K, f->gaining_W_m2K, f->rad_W_m2K, s->room.t_C + f->t_K
  };
}

DewSurfaceBody
dew_surfaces_body_of (const DewSurfaces *s, int body)
{
  const Body *b = &g_array_index (s->bodies, Body, body);

  return (DewSurfaceBody){ b->thing_id,
                           b->shares,
                           b->area_m2,
                           b->is_leaf ? NULL : &b->wet,
                           b->is_leaf ? &b->leaf : NULL,
                           s->room.t_C + b->t_K };
}

const double *
dew_surfaces_lamp_W (const DewSurfaces *s)
{
  return s->lamp_W;
}

double
dew_surfaces_given_W (const DewSurfaces *s)
{
  return s->given_W;
}

double
dew_surfaces_leak_W_K (const DewSurfaces *s)
{
  return s->leak_W_K;
}
