/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "day/skins.h"

#include <math.h>
#include <string.h>

#include "catalogue/catalogue.h"
#include "geometry/geometry.h"
#include "moist/moist.h"

/* Heat that things hold. Incropera, Fundamentals of Heat and Mass Transfer, Tables A.3 and A.11
 * (from memory): glass 2500 kg/m3 and 750 J/kgK, plastics 950 to 1400 and 1000 to 2300, wood 500
 * to 700 and 1300 to 2800, clay brick 800 to 840 J/kgK. */
#define SHEET_J_KGK 1400.0
#define GLASS_J_KGK 750.0
#define SHEET_J_M3K 1.9e6
#define BOARD_J_M3K 1.3e6
#define CLAY_J_KGK 840.0
/* Wet medium is about two thirds water by weight; leaves are nearly all water, a third of a
 * millimetre of it; wire shelves weigh some 3 kg/m2: common practice, no source. */
#define MEDIUM_J_KGK 3000.0
#define LEAF_J_M2K 1200.0
#define WIRE_J_M2K 1400.0
/* Air and radiation together on a thing that is as warm as both: ISO 6946:2017, 7.7 W/m2K. */
#define MASS_W_M2K 7.7
/* Water that an upright or a hanging sheet holds before it runs or drips, and a level board: 60 to
 * 200 g/m2, common practice, no source. */
#define SHEET_HOLDS_KG_M2 0.1
#define BOARD_HOLDS_KG_M2 0.3

double
dew_skins_panel_J_m2K (const DewPanel *panel)
{
  const DewCatalogue *covers = dew_catalogue ("covers");
  int row = dew_catalogue_find (covers, panel->material);
  double mass = row >= 0 ? dew_catalogue_number (covers, (guint) row, "mass_kg_m2") : NAN;

  if (isfinite (mass))
    return mass
           * (strcmp (dew_catalogue_text (covers, (guint) row, "kind"), "glass") == 0
                ? GLASS_J_KGK
                : SHEET_J_KGK);
  return SHEET_J_M3K * panel->thickness_m;
}

/* --- faces ---------------------------------------------------------------------------- */

static DewSkin *
find (GArray *skins, DewSkinKind kind, guint thing_id, int panel, int bay)
{
  for (guint n = 0; n < skins->len; n++)
    {
      DewSkin *s = &g_array_index (skins, DewSkin, n);

      if (s->kind == kind && s->thing_id == thing_id && s->panel == panel && s->bay[0] == bay)
        return s;
    }
  return NULL;
}

static guint
deck_at (const DewZones *z, int zone)
{
  for (int d = 0; d < z->n_decks; d++)
    if (z->decks[d].k == zone / z->stride[2])
      return z->decks[d].thing_id;
  return 0;
}

/* Sums over area; divided by it at the end. */
static void
add_face (GArray *skins, const DewRunView *v, const DewSurfaceFace *f, const int *bay_of,
          const double *const *phi, const double *const mean[2])
{
  guint thing = f->panel < 0 ? deck_at (v->zones, f->zone) : 0;
  DewSkinKind kind = f->panel < 0 ? DEW_SKIN_BOARD : DEW_SKIN_PANEL;
  DewSkin *s = find (skins, kind, thing, f->panel, bay_of[f->zone]);
  const int zone[2] = { f->zone, f->below };

  if (s == NULL)
    {
      DewSkin skin = { .kind = kind,
                       .thing_id = thing,
                       .panel = f->panel,
                       .bay = { bay_of[f->zone], f->below >= 0 ? bay_of[f->below] : -1 },
                       .length_m = f->length_m,
                       .facing = f->facing };

      g_array_append_val (skins, skin);
      s = &g_array_index (skins, DewSkin, skins->len - 1);
    }
  s->area_m2 += f->area_m2;
  s->losing_W_m2K += f->area_m2 * f->losing_W_m2K;
  s->gaining_W_m2K += f->area_m2 * f->gaining_W_m2K;
  s->radiation_W_m2K += f->area_m2 * f->radiation_W_m2K;
  for (int side = 0; side < 2; side++)
    {
      if (s->bay[side] < 0)
        continue;
      s->speed_m_s[side] += f->area_m2 * v->speed_m_s[zone[side]];
      s->beside_K[side] += f->area_m2 * (phi[0][zone[side]] - mean[0][s->bay[side]]);
      s->beside_kg_kg[side] += f->area_m2 * (phi[1][zone[side]] - mean[1][s->bay[side]]);
    }
}

static void
finish_face (DewSkin *s, const DewChamber *chamber, const DewVariant *variant)
{
  double area = s->area_m2;

  s->losing_W_m2K /= area;
  s->gaining_W_m2K /= area;
  s->radiation_W_m2K /= area;
  for (int side = 0; side < 2; side++)
    {
      s->speed_m_s[side] /= area;
      s->beside_K[side] /= area;
      s->beside_kg_kg[side] /= area;
    }
  if (s->kind == DEW_SKIN_BOARD)
    {
      const DewThing *shelf = dew_variant_thing (variant, s->thing_id);

      s->capacity_J_K = area * BOARD_J_M3K * (shelf != NULL ? shelf->shelf.thickness_m : 0.01);
      s->holds_kg = area * BOARD_HOLDS_KG_M2;
      return;
    }
  s->capacity_J_K = MAX (1.0, area * dew_skins_panel_J_m2K (&chamber->panels[s->panel]));
  s->holds_kg = area * SHEET_HOLDS_KG_M2;
}

/* --- bodies ----------------------------------------------------------------------------- */

/* The bay that holds most of a body, and how its air differs from the mean of that. */
static void
stand_in_air (DewSkin *s, const DewRunView *v, const GArray *shares, const int *bay_of,
              const double *const *phi, const double *const mean[2])
{
  double most = 0.0, value[2] = { 0.0 };

  for (guint n = 0; n < shares->len; n++)
    {
      const DewShare *share = &g_array_index (shares, DewShare, n);
      double in_bay = 0.0;

      for (int what = 0; what < 2; what++)
        value[what] += share->share * phi[what][share->zone];
      s->speed_m_s[0] += share->share * v->speed_m_s[share->zone];
      for (guint m = 0; m < shares->len; m++)
        {
          const DewShare *other = &g_array_index (shares, DewShare, m);

          if (bay_of[other->zone] == bay_of[share->zone])
            in_bay += other->share;
        }
      if (in_bay > most)
        {
          most = in_bay;
          s->bay[0] = bay_of[share->zone];
        }
    }
  s->beside_K[0] = value[0] - mean[0][s->bay[0]];
  s->beside_kg_kg[0] = value[1] - mean[1][s->bay[0]];
}

static double
reserve_of (const DewThing *thing)
{
  return thing->kind == DEW_THING_POT ? thing->pot.water_kg : thing->tray.water_kg;
}

/* Of a wet thing, full. */
static double
wet_capacity_J_K (const DewThing *thing)
{
  double water = reserve_of (thing);

  if (thing->kind == DEW_THING_POT)
    return MAX (50.0, DEW_CP_WATER * water + CLAY_J_KGK * MAX (0.0, thing->pot.mass_kg - water));
  return MAX (50.0, DEW_CP_WATER * water);
}

static void
add_body (GArray *skins, const DewVariant *variant, const DewRunView *v, const DewSurfaceBody *b,
          const int *bay_of, const double *const *phi, const double *const mean[2])
{
  const DewThing *thing = dew_variant_thing (variant, b->thing_id);
  DewSkin s = { .kind = b->leaf != NULL ? DEW_SKIN_LEAF : DEW_SKIN_WET,
                .thing_id = b->thing_id,
                .panel = -1,
                .bay = { 0, -1 },
                .area_m2 = b->area_m2 };

  stand_in_air (&s, v, b->shares, bay_of, phi, mean);
  if (b->leaf != NULL)
    {
      s.length_m = b->leaf->length_m;
      s.light_W = b->leaf->absorbed_W_m2 * b->area_m2;
      s.conductance_mol_m2s = b->leaf->conductance_mol_m2s;
      s.capacity_J_K = LEAF_J_M2K * b->area_m2;
    }
  else
    {
      s.length_m = b->wet->length_m;
      s.facing = b->wet->facing;
      s.light_W = b->wet->absorbed_W_m2 * b->area_m2;
      s.wetted = b->wet->wetted_fraction;
      s.capacity_J_K = wet_capacity_J_K (thing);
      s.holds_kg = reserve_of (thing);
    }
  g_array_append_val (skins, s);
}

/* What only holds heat: the pots and the medium of plants, and wire. */
static void
add_mass (GArray *skins, const DewChamber *chamber, const DewVariant *variant,
          const DewThing *thing)
{
  double capacity = 0.0, area = 0.0, at_m = 0.0;
  DewSkin s = { .kind = DEW_SKIN_MASS,
                .thing_id = thing->id,
                .panel = -1,
                .bay = { 0, -1 },
                .film_W_m2K = MASS_W_M2K };

  if (thing->kind == DEW_THING_PLANT)
    {
      /* As tall as wide, sides and top. */
      double d = thing->plant.pot_diameter_m > 0.0 ? thing->plant.pot_diameter_m : 0.06;

      capacity = MEDIUM_J_KGK * thing->plant.mass_kg;
      area = 1.25 * G_PI * d * d;
      at_m = thing->plant.z_m;
    }
  else if (thing->kind == DEW_THING_SHELF && thing->shelf.board != DEW_SHELF_SOLID)
    {
      double inner[3];

      dew_chamber_inner_m (chamber, inner);
      area = inner[0] * inner[1] * (1.0 - thing->shelf.open_ratio);
      capacity = inner[0] * inner[1] * WIRE_J_M2K;
      at_m = thing->shelf.z_m + DEW_BAY_MIN_M;
    }
  if (capacity <= 0.0 || area <= 0.0)
    return;
  s.bay[0] = dew_variant_bay_at (chamber, variant, at_m);
  s.area_m2 = area;
  s.capacity_J_K = capacity;
  g_array_append_val (skins, s);
}

void
dew_skins_gather (const DewRun *run, const DewRunView *v, const int *bay_of,
                  const double *const mean[2], GArray *skins)
{
  const DewChamber *chamber = dew_run_chamber (run);
  const DewVariant *variant = dew_run_variant (run);
  const double *const phi[2]
    = { dew_atmosphere_t (v->atmosphere), dew_atmosphere_w (v->atmosphere) };

  for (int n = 0; n < dew_surfaces_n_faces (v->surfaces); n++)
    {
      DewSurfaceFace f = dew_surfaces_face (v->surfaces, n);

      add_face (skins, v, &f, bay_of, phi, mean);
    }
  for (guint n = 0; n < skins->len; n++)
    finish_face (&g_array_index (skins, DewSkin, n), chamber, variant);
  for (int n = 0; n < dew_surfaces_n_bodies (v->surfaces); n++)
    {
      DewSurfaceBody b = dew_surfaces_body_of (v->surfaces, n);

      add_body (skins, variant, v, &b, bay_of, phi, mean);
    }
  for (guint t = 0; t < variant->things->len; t++)
    add_mass (skins, chamber, variant, &g_array_index (variant->things, DewThing, t));
}
