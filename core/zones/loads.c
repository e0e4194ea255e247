/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "zones/loads.h"

#include <math.h>

#include "geometry/geometry.h"
#include "zones/screen.h"

/* A fan's thrust is sampled at this many points along each side of its disc and
 * spread with linear weights, so that it follows the pointer smoothly whatever
 * the zones. */
#define FAN_POINTS 4
#define LEAST_EXTENT 0.1 /* of its size that a disc is sampled over, however coarse the zones */
/* Drag of pots, tanks and other bluff bodies on their frontal area: a cube or
 * short cylinder, 1.0 to 1.2 (Hoerner, Fluid-Dynamic Drag, 1965, from memory). */
#define BLUFF_DRAG 1.1
/* A shelf never closes entirely by what stands on it. */
#define LEAST_OPEN 0.03
#define STEAM_SENSIBLE_J_KG (1860.0 * 80.0) /* steam at 100 C cooling to about 20 C */

static DewLoads *
empty_loads (const DewZones *z)
{
  DewLoads *l = g_new0 (DewLoads, 1);

  l->drag_1_m = g_new0 (double, z->size);
  l->deck_loss = g_new0 (double, z->size);
  l->fall_share = g_new (double, z->size);
  for (int at = 0; at < z->size; at++)
    l->fall_share[at] = 1.0;
  for (int a = 0; a < 3; a++)
    l->force[a] = g_new0 (double, z->size);
  l->heat_W = g_new0 (double, z->size);
  l->vapour_kg_s = g_new0 (double, z->size);
  l->mist_kg_s = g_new0 (double, z->size);
  l->latent_W = g_new0 (double, z->size);
  l->misters = g_array_new (FALSE, FALSE, sizeof (DewMister));
  return l;
}

void
dew_loads_free (DewLoads *l)
{
  if (l == NULL)
    return;
  g_free (l->drag_1_m);
  g_free (l->deck_loss);
  g_free (l->fall_share);
  for (int a = 0; a < 3; a++)
    g_free (l->force[a]);
  g_free (l->heat_W);
  g_free (l->vapour_kg_s);
  g_free (l->mist_kg_s);
  g_free (l->latent_W);
  g_array_unref (l->misters);
  g_free (l);
}

/* --- forces -------------------------------------------------------------------- */

/* Lower neighbour among ascending points p[first .. last] and the weight of the
 * upper one; outside, all to the end point. */
static int
lower_point (const double *p, int first, int last, double x, double *weight)
{
  if (last <= first || x <= p[first])
    {
      *weight = 0.0;
      return first;
    }
  if (x >= p[last])
    {
      *weight = last > first ? 1.0 : 0.0;
      return last > first ? last - 1 : first;
    }
  int lo = first;

  while (p[lo + 1] < x)
    lo++;
  *weight = (x - p[lo]) / (p[lo + 1] - p[lo]);
  return lo;
}

/* Whether a closed board lies between two zones one above the other. */
static gboolean
board_between (const DewZones *z, int i, int j, int k_low, int k_high)
{
  for (int k = k_low + 1; k <= k_high; k++)
    if (z->open_m2[2][dew_zones_at (z, i, j, k)] < 0.1 * z->gross_m2[2][dew_zones_at (z, i, j, k)])
      return TRUE;
  return FALSE;
}

/* Gives a force (over density, m4/s2) at a point to the faces of one axis round
 * it, by linear weights over those that can move and are not behind a board. */
static void
spread_force (const DewZones *z, DewLoads *l, int axis, const double at[3], double force)
{
  int low[3];
  double w[3], sum = 0.0;
  int face[8];
  double weight[8];
  int home = dew_zones_find (z, 2, at[2]);

  for (int a = 0; a < 3; a++)
    if (a == axis)
      low[a] = lower_point (z->line_m[a] - 1, 2, z->n[a], at[a], &w[a]);
    else
      low[a] = lower_point (z->middle_m[a], 1, z->n[a], at[a], &w[a]);
  for (int c = 0; c < 8; c++)
    {
      int p[3];

      weight[c] = 1.0;
      for (int a = 0; a < 3; a++)
        {
          int up = (c >> a) & 1;

          weight[c] *= up ? w[a] : 1.0 - w[a];
          p[a] = MIN (low[a] + up, z->n[a]);
        }
      face[c] = dew_zones_at (z, p[0], p[1], p[2]);
      if (z->kind[axis][face[c]] != DEW_FACE_IS_INSIDE)
        weight[c] = 0.0;
      else if (axis != 2 && board_between (z, p[0], p[1], MIN (home, p[2]), MAX (home, p[2])))
        weight[c] = 0.0;
      sum += weight[c];
    }
  if (sum <= 0.0)
    return;
  for (int c = 0; c < 8; c++)
    if (weight[c] > 0.0)
      l->force[axis][face[c]] += force * weight[c] / sum;
}

/* How far along a direction e a force is sampled so that, once it is spread, it is as wide as
 * the extent (m) it stands for. Linear weights between faces a distance h apart widen it by
 * a variance of h^2 / 6, the cell of each face by h^2 / 12; an even force has extent^2 / 12.
 * Left out, a fan of 12 cm on zones of 5 cm drove half as large a disc again, which draws
 * more air from a flap beside it and makes a wider, slower jet. */
static double
sampled_extent (const DewZones *z, const double at[3], const double e[3], double extent)
{
  double spread = 0.0;

  for (int a = 0; a < 3; a++)
    {
      double w;
      int low = lower_point (z->middle_m[a], 1, z->n[a], at[a], &w);
      double h = (1.0 - w) * z->width_m[a][low] + w * z->width_m[a][MIN (low + 1, z->n[a])];

      spread += 12.0 * (1.0 / 6.0 + 1.0 / 12.0) * e[a] * e[a] * h * h;
    }
  return sqrt (MAX (LEAST_EXTENT * LEAST_EXTENT * extent * extent, extent * extent - spread));
}

/* A jet's momentum flux, put into the air over a thin disc. */
static void
add_jet (const DewZones *z, DewLoads *l, const double at[3], double azimuth, double elevation,
         double diameter, double depth, double thrust)
{
  double d[3];
  double e1[3] = { -sin (azimuth), cos (azimuth), 0.0 };
  double e2[3]
    = { -sin (elevation) * cos (azimuth), -sin (elevation) * sin (azimuth), cos (elevation) };
  double side = diameter * sqrt (G_PI / 4.0); /* square of equal area */
  double l1, l2, l3;
  double part = thrust / (FAN_POINTS * FAN_POINTS * FAN_POINTS);

  dew_direction (azimuth, elevation, d);
  l1 = sampled_extent (z, at, e1, side);
  l2 = sampled_extent (z, at, e2, side);
  l3 = sampled_extent (z, at, d, depth);
  for (int n = 0; n < FAN_POINTS * FAN_POINTS * FAN_POINTS; n++)
    {
      double s1 = l1 * ((n % FAN_POINTS + 0.5) / FAN_POINTS - 0.5);
      double s2 = l2 * ((n / FAN_POINTS % FAN_POINTS + 0.5) / FAN_POINTS - 0.5);
      double s3 = l3 * ((n / (FAN_POINTS * FAN_POINTS) + 0.5) / FAN_POINTS - 0.5);
      double p[3];

      for (int a = 0; a < 3; a++)
        p[a] = CLAMP (at[a] + s1 * e1[a] + s2 * e2[a] + s3 * d[a], 1e-6, z->inner_m[a] - 1e-6);
      for (int a = 0; a < 3; a++)
        if (fabs (d[a]) > 1e-9)
          spread_force (z, l, a, p, part * d[a]);
    }
}

/* --- what stands in the way ------------------------------------------------------ */

static void
add_to_box (const DewZones *z, double *array, const double lo[3], const double hi[3], double total)
{
  g_autoptr (GArray) shares = dew_zones_shares (z, lo, hi);

  for (guint s = 0; s < shares->len; s++)
    {
      const DewShare *share = &g_array_index (shares, DewShare, s);

      array[share->zone] += total * share->share;
    }
}

/* Drag per volume that acts in a box, as a of a |u| u (1/m). */
static void
add_drag (const DewZones *z, DewLoads *l, const double lo[3], const double hi[3], double drag_1_m)
{
  g_autoptr (GArray) shares = dew_zones_shares (z, lo, hi);

  for (guint s = 0; s < shares->len; s++)
    {
      const DewShare *share = &g_array_index (shares, DewShare, s);

      l->drag_1_m[share->zone] += drag_1_m * share->volume_m3 / z->volume_m3[share->zone];
    }
}

/* A solid body: its frontal areas over its own volume. */
static void
add_body (const DewZones *z, DewLoads *l, const double lo[3], const double hi[3])
{
  double size[3] = { hi[0] - lo[0], hi[1] - lo[1], hi[2] - lo[2] };
  double frontal = (size[0] * size[1] + size[1] * size[2] + size[0] * size[2]) / 3.0;
  double volume = size[0] * size[1] * size[2];

  if (volume > 0.0)
    add_drag (z, l, lo, hi, BLUFF_DRAG * frontal / volume);
}

static void
add_deck (const DewZones *z, DewLoads *l, const DewVariant *variant, const DewDeck *deck)
{
  const DewShelf *shelf = &dew_variant_thing (variant, deck->thing_id)->shelf;
  double empty = dew_screen_shelf_loss (shelf);

  for (int j = 1; j <= z->n[1]; j++)
    for (int i = 1; i <= z->n[0]; i++)
      {
        int at = dew_zones_at (z, i, j, deck->k);
        double x0 = MAX (z->line_m[0][i - 1], shelf->gap_left_m);
        double x1 = MIN (z->line_m[0][i], z->inner_m[0] - shelf->gap_right_m);
        double y0 = MAX (z->line_m[1][j - 1], shelf->gap_front_m);
        double y1 = MIN (z->line_m[1][j], z->inner_m[1] - shelf->gap_back_m);

        if (z->kind[2][at] != DEW_FACE_IS_INSIDE || x1 <= x0 || y1 <= y0 || empty == INFINITY)
          continue;

        double board = (x1 - x0) * (y1 - y0) / (z->width_m[0][i] * z->width_m[1][j]);
        double uncovered = dew_screen_uncovered_share (variant, shelf, x0, x1, y0, y1);
        double loss = empty;

        /* What stands on it leaves less open: the loss grows by as much as
         * the board's relation says from the empty to the loaded open ratio. */
        if (uncovered < 1.0)
          loss
            += dew_screen_board_loss (shelf->board, MAX (LEAST_OPEN, shelf->open_ratio * uncovered))
               - dew_screen_board_loss (shelf->board, shelf->open_ratio);
        l->deck_loss[at] += MAX (0.0, loss) * board;
        l->fall_share[at]
          = MAX (0.0, l->fall_share[at] - board * (1.0 - shelf->open_ratio * uncovered));
      }
}

/* --- things ---------------------------------------------------------------------- */

static void
add_fan (const DewZones *z, DewLoads *l, const DewFan *fan, const DewLoadsOptions *o)
{
  double speed = o->night ? fan->speed_night : fan->speed_day;
  double flow = speed * fan->free_delivery_m3_s;
  double area = G_PI / 4.0 * fan->diameter_m * fan->diameter_m;
  double at[3] = { fan->x_m, fan->y_m, fan->z_m };
  double r = 0.5 * fan->diameter_m;
  double lo[3] = { at[0] - r, at[1] - r, at[2] - r }, hi[3] = { at[0] + r, at[1] + r, at[2] + r };

  if (speed <= 0.0)
    return;
  if (fan->mount == DEW_FAN_FREE)
    {
      /* Thrust of air taken from rest to free delivery: rho Q^2 / A (momentum). */
      add_jet (z, l, at, fan->azimuth_rad, fan->elevation_rad, fan->diameter_m,
               MAX (0.02, fan->depth_m), flow * flow / area);
      add_to_box (z, l->heat_W, lo, hi, fan->power_W * speed);
    }
  else if (fan->sense == DEW_BLOWS_IN)
    add_to_box (z, l->heat_W, lo, hi, fan->power_W * speed);
}

/* What a humidifier gives off for a share of the time (which may be negative, to
 * take some back): water, heat and the momentum of its outlet. */
static void
add_mister (const DewZones *z, DewLoads *l, const DewHumidifier *h, double latent_heat, double duty)
{
  double rate = duty * h->output_kg_s;
  double r = MAX (0.5 * h->outlet_diameter_m, 0.02);
  double at[3] = { h->x_m, h->y_m, h->z_m + h->height_m };
  double lo[3] = { at[0] - r, at[1] - r, at[2] }, hi[3] = { at[0] + r, at[1] + r, at[2] + 2.0 * r };
  double area = G_PI / 4.0 * h->outlet_diameter_m * h->outlet_diameter_m;

  if (duty == 0.0)
    return;
  if (h->technology == DEW_MIST_WICK)
    {
      /* Air leaves the wick through a grille about as wide as the unit, never more than
       * saturated; given to one spot, as much vapour would make a fog there. */
      lo[0] = MAX (0.0, at[0] - 0.5 * h->width_m);
      hi[0] = MIN (z->inner_m[0], at[0] + 0.5 * h->width_m);
      lo[1] = MAX (0.0, at[1] - 0.5 * h->depth_m);
      hi[1] = MIN (z->inner_m[1], at[1] + 0.5 * h->depth_m);
    }
  add_to_box (z, h->technology == DEW_MIST_ULTRASONIC ? l->mist_kg_s : l->vapour_kg_s, lo, hi,
              rate);
  if (h->technology == DEW_MIST_STEAM)
    {
      add_to_box (z, l->latent_W, lo, hi, rate * latent_heat);
      add_to_box (z, l->heat_W, lo, hi, rate * STEAM_SENSIBLE_J_KG);
    }
  else
    add_to_box (z, l->heat_W, lo, hi, duty * h->power_W);
  if (area > 0.0)
    add_jet (z, l, at, h->azimuth_rad, h->elevation_rad, h->outlet_diameter_m, 0.02,
             duty * area * h->outlet_speed_m_s * h->outlet_speed_m_s);
}

void
dew_loads_set_duty (DewLoads *l, const DewZones *z, guint mister, double duty)
{
  DewMister *m = &g_array_index (l->misters, DewMister, mister);

  add_mister (z, l, &m->device, l->latent_heat_J_kg, duty - m->duty);
  m->duty = duty;
}

static void
add_humidifier (const DewZones *z, DewLoads *l, const DewThing *thing, const double lo[3],
                const double hi[3], const DewLoadsOptions *o)
{
  DewMister m = { .device = thing->humidifier, .thing_id = thing->id };

  m.duty = m.device.set_rh > 0.0 ? 1.0 : o->night ? m.device.duty_night : m.device.duty_day;
  add_body (z, l, lo, hi);
  add_mister (z, l, &m.device, o->latent_heat_J_kg, m.duty);
  g_array_append_val (l->misters, m);
}

static void
add_thing (const DewZones *z, DewLoads *l, const DewChamber *chamber, const DewThing *thing,
           const DewLoadsOptions *o)
{
  double lo[3], hi[3];

  dew_thing_box (chamber, thing, lo, hi);
  switch (thing->kind)
    {
    case DEW_THING_FAN:
      add_fan (z, l, &thing->fan, o);
      break;
    case DEW_THING_HUMIDIFIER:
      add_humidifier (z, l, thing, lo, hi, o);
      break;
    case DEW_THING_POT:
    case DEW_THING_TRAY:
      add_body (z, l, lo, hi);
      break;
    case DEW_THING_LAMP:
      add_body (z, l, lo, hi);
      break;
    case DEW_THING_MAT:
      add_to_box (z, l->heat_W, lo, hi,
                  thing->mat.power_W * (o->night ? thing->mat.on_night : thing->mat.on_day));
      break;
    case DEW_THING_SOURCE:
      add_to_box (z, l->heat_W, lo, hi, thing->source.heat_W);
      add_to_box (z, l->vapour_kg_s, lo, hi, thing->source.vapour_kg_s);
      if (!thing->source.latent_from_air)
        add_to_box (z, l->latent_W, lo, hi, thing->source.vapour_kg_s * o->latent_heat_J_kg);
      break;
    case DEW_THING_PLANT:
      {
        double volume = (hi[0] - lo[0]) * (hi[1] - lo[1]) * (hi[2] - lo[2]);

        /* Leaf drag c_d a |u| u on leaf area density a: Massman 1997. */
        if (volume > 0.0)
          add_drag (z, l, lo, hi,
                    thing->plant.drag_coefficient * thing->plant.leaf_area_m2 / volume);
      }
      break;
    case DEW_THING_SHELF:
    case DEW_THING_OPENING:
    case DEW_THING_INSTRUMENT:
    case DEW_N_THING_KINDS:
      break;
    }
}

DewLoads *
dew_loads_new (const DewZones *z, const DewChamber *chamber, const DewVariant *variant,
               const DewLoadsOptions *o)
{
  DewLoads *l = empty_loads (z);

  l->latent_heat_J_kg = o->latent_heat_J_kg;
  for (guint t = 0; t < variant->things->len; t++)
    add_thing (z, l, chamber, &g_array_index (variant->things, DewThing, t), o);
  for (int d = 0; d < z->n_decks; d++)
    add_deck (z, l, variant, &z->decks[d]);
  return l;
}
