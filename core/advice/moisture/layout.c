/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/moisture/moisture-private.h"
#include "geometry/geometry.h"

#include <math.h>
#include <stdlib.h>

#define CLEAR_M 0.01
#define STEP_M 0.05 /* between spots that are looked at */

/* --- a value in a document ----------------------------------------------- */

gboolean
dew_sizing_dry (DewChamber *chamber, guint variant_id)
{
  DewVariant *variant = dew_chamber_variant (chamber, variant_id);
  gboolean any = FALSE;

  for (guint t = 0; t < variant->things->len; t++)
    {
      DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind != DEW_THING_HUMIDIFIER)
        continue;
      any = TRUE;
      thing->humidifier.set_rh = 0.0;
      thing->humidifier.duty_day = thing->humidifier.duty_night = 0.0;
    }
  return any;
}

double
dew_sizing_output_kg_s (const DewVariant *variant, int *n)
{
  double output = 0.0;

  *n = 0;
  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind != DEW_THING_HUMIDIFIER)
        continue;
      output += thing->humidifier.output_kg_s;
      (*n)++;
    }
  return output;
}

static gboolean
is_vent (const DewThing *thing)
{
  return thing->kind == DEW_THING_OPENING && thing->opening.kind != DEW_OPENING_DUCT;
}

int
dew_sizing_vents (const DewVariant *variant, double *mean_open)
{
  double area = 0.0, open = 0.0;
  int n = 0;

  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);
      double this_area;

      if (!is_vent (thing))
        continue;
      this_area = (thing->opening.u1_m - thing->opening.u0_m)
                  * (thing->opening.v1_m - thing->opening.v0_m) * thing->opening.free_ratio;
      area += this_area;
      open += this_area * thing->opening.open_fraction;
      n++;
    }
  *mean_open = area > 0.0 ? open / area : 0.0;
  return n;
}

static void
set_pots (DewChamber *chamber, DewVariant *variant, const GArray *layout)
{
  DewThing thing;

  for (guint t = variant->things->len; t > 0; t--)
    {
      const DewThing *old = &g_array_index (variant->things, DewThing, t - 1);

      if (old->kind == DEW_THING_POT)
        dew_variant_remove (variant, old->id);
    }
  dew_thing_init (&thing, DEW_THING_POT);
  for (guint p = 0; p < layout->len; p++)
    {
      thing.pot = g_array_index (layout, DewPot, p);
      dew_variant_add (chamber, variant, &thing);
    }
}

void
dew_sizing_set (DewChamber *chamber, guint variant_id, DewSizing sizing, double x,
                const GArray *layout)
{
  DewVariant *variant = dew_chamber_variant (chamber, variant_id);
  int n;
  double output = dew_sizing_output_kg_s (variant, &n);

  if (sizing == DEW_SIZING_POTS)
    {
      dew_sizing_dry (chamber, variant_id);
      set_pots (chamber, variant, layout);
      return;
    }
  for (guint t = 0; t < variant->things->len; t++)
    {
      DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (sizing == DEW_SIZING_HUMIDIFIER && thing->kind == DEW_THING_HUMIDIFIER)
        {
          /* Its own output for a share of the time: it draws power likewise. */
          thing->humidifier.set_rh = 0.0;
          thing->humidifier.duty_day = thing->humidifier.duty_night
            = output > 0.0 ? CLAMP (x / output, 0.0, 1.0) : 0.0;
        }
      else if (sizing == DEW_SIZING_VENT && is_vent (thing))
        thing->opening.open_fraction = x;
    }
}

/* --- where pots may stand ------------------------------------------------ */

typedef struct
{
  DewPot pot;
  double away_m; /* from the nearest thing or pot; now is best */
} Spot;

static double
gap_m (const double lo_a[3], const double hi_a[3], const double lo_b[3], const double hi_b[3])
{
  double sum = 0.0;

  for (int a = 0; a < 3; a++)
    sum += pow (MAX (0.0, MAX (lo_a[a] - hi_b[a], lo_b[a] - hi_a[a])), 2.0);
  return sqrt (sum);
}

static void
pot_box (const DewPot *pot, double lo[3], double hi[3])
{
  double r = 0.5 * pot->rim_diameter_m;

  lo[0] = pot->x_m - r;
  hi[0] = pot->x_m + r;
  lo[1] = pot->y_m - r;
  hi[1] = pot->y_m + r;
  lo[2] = pot->z_m;
  hi[2] = pot->z_m + pot->height_m;
}

static double
away_from_all (const DewChamber *chamber, const DewVariant *variant, const DewPot *pot)
{
  double lo[3], hi[3], away = G_MAXDOUBLE;

  pot_box (pot, lo, hi);
  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);
      double thing_lo[3], thing_hi[3];

      if (thing->kind == DEW_THING_SHELF || thing->kind == DEW_THING_OPENING
          || thing->kind == DEW_THING_POT)
        continue;
      dew_thing_box (chamber, thing, thing_lo, thing_hi);
      away = MIN (away, gap_m (lo, hi, thing_lo, thing_hi));
    }
  return away;
}

static gboolean
overlaps_any (const GArray *pots, const DewPot *pot)
{
  for (guint p = 0; p < pots->len; p++)
    {
      const DewPot *other = &g_array_index (pots, DewPot, p);

      if (hypot (other->x_m - pot->x_m, other->y_m - pot->y_m)
          < 0.5 * (other->rim_diameter_m + pot->rim_diameter_m) + CLEAR_M)
        return TRUE;
    }
  return FALSE;
}

static int
farthest_first (gconstpointer pa, gconstpointer pb)
{
  const Spot *a = pa, *b = pb;

  if (a->away_m != b->away_m)
    return a->away_m < b->away_m ? 1 : -1;
  if (a->pot.y_m != b->pot.y_m)
    return a->pot.y_m < b->pot.y_m ? 1 : -1; /* the back first */
  return a->pot.x_m < b->pot.x_m ? -1 : a->pot.x_m > b->pot.x_m;
}

/* Spots of one bay: those where pots stand now, then the free ones. */
static GArray *
spots_of_bay (const DewChamber *chamber, const DewVariant *variant, const DewPot *pot,
              double floor_m, double ceiling_m, const double lo[2], const double hi[2])
{
  GArray *chosen = g_array_new (FALSE, FALSE, sizeof (DewPot));
  g_autoptr (GArray) spots = g_array_new (FALSE, FALSE, sizeof (Spot));
  int n[2];

  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind == DEW_THING_POT && thing->pot.z_m >= floor_m - 0.02
          && thing->pot.z_m < ceiling_m - 0.02)
        g_array_append_val (chosen, thing->pot);
    }
  if (pot->height_m + CLEAR_M > ceiling_m - floor_m)
    return chosen;
  for (int a = 0; a < 2; a++)
    n[a] = hi[a] - lo[a] < pot->rim_diameter_m
             ? 0
             : 1 + (int) floor ((hi[a] - lo[a] - pot->rim_diameter_m) / STEP_M + 1e-9);
  for (int s = 0; s < n[0] * n[1]; s++)
    {
      Spot spot = { *pot, 0.0 };
      int i[2] = { s % n[0], s / n[0] };
      double *const at[2] = { &spot.pot.x_m, &spot.pot.y_m };

      for (int a = 0; a < 2; a++)
        {
          double room = hi[a] - lo[a] - pot->rim_diameter_m;

          *at[a] = lo[a] + 0.5 * pot->rim_diameter_m
                   + (n[a] > 1 ? room * i[a] / (n[a] - 1) : 0.5 * room);
        }
      spot.pot.z_m = floor_m;
      spot.away_m = away_from_all (chamber, variant, &spot.pot);
      if (spot.away_m >= CLEAR_M)
        g_array_append_val (spots, spot);
    }
  qsort (spots->data, spots->len, sizeof (Spot), farthest_first);
  for (guint s = 0; s < spots->len; s++)
    if (!overlaps_any (chosen, &g_array_index (spots, Spot, s).pot))
      g_array_append_val (chosen, g_array_index (spots, Spot, s).pot);
  return chosen;
}

GPtrArray *
dew_sizing_pot_spots (const DewChamber *chamber, guint variant_id, const DewPot *pot)
{
  const DewVariant *variant = dew_chamber_variant (chamber, variant_id);
  GPtrArray *bays = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
  g_autofree double *z = NULL;
  g_autofree guint *shelf = NULL;
  double inner[3];
  int n = dew_variant_bays (chamber, variant, &z, &shelf);

  dew_chamber_inner_m (chamber, inner);
  for (int b = 0; b < n; b++)
    {
      const DewThing *board = shelf[b] != 0 ? dew_variant_thing (variant, shelf[b]) : NULL;
      double lo[3] = { 0.0, 0.0, 0.0 }, hi[3] = { inner[0], inner[1], 0.0 };

      if (board != NULL)
        dew_thing_box (chamber, board, lo, hi);
      g_ptr_array_add (bays,
                       spots_of_bay (chamber, variant, pot, MAX (z[b], hi[2]), z[b + 1], lo, hi));
    }
  return bays;
}

gboolean
dew_sizing_humidifier_spot (const DewChamber *chamber, guint variant_id, DewHumidifier *humidifier)
{
  DewThing like;
  g_autoptr (GPtrArray) bays = NULL;

  dew_thing_init (&like, DEW_THING_POT);
  like.pot.rim_diameter_m = MAX (humidifier->width_m, humidifier->depth_m);
  like.pot.height_m = humidifier->height_m;
  bays = dew_sizing_pot_spots (chamber, variant_id, &like.pot);
  /* The tank low: its weight, and where it drips if it leaks. */
  for (guint b = 0; b < bays->len; b++)
    {
      const GArray *spots = g_ptr_array_index (bays, b);

      for (guint p = 0; p < spots->len; p++)
        {
          const DewPot *spot = &g_array_index (spots, DewPot, p);
          g_autoptr (DewChamber) tried = dew_chamber_copy (chamber);
          g_autoptr (GArray) problems = NULL;
          DewThing thing;

          dew_thing_init (&thing, DEW_THING_HUMIDIFIER);
          thing.humidifier = *humidifier;
          thing.humidifier.x_m = spot->x_m;
          thing.humidifier.y_m = spot->y_m;
          thing.humidifier.z_m = spot->z_m;
          dew_variant_add (tried, dew_chamber_variant (tried, variant_id), &thing);
          problems = dew_chamber_check (tried, variant_id);
          if (problems->len > 0)
            continue;
          *humidifier = thing.humidifier;
          return TRUE;
        }
    }
  return FALSE;
}
