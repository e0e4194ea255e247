/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/fan/fan-private.h"
#include "geometry/geometry.h"

#include <math.h>

#define CLEAR_M 0.01        /* between a fan and anything else */
#define MOST_ALONG 16       /* places along an axis */
#define BLOCKED_AT_MOST 6   /* of so many places all but one */
#define THROW_DIAMETERS 1.0 /* free air ahead of a fan, at least */
#define LEAVES_M \
  0.05 /* ahead of a fan, beside the throw: guard and leaves; common practice, no source */
#define LEAST_APART_M 0.20 /* fans nearer than this are one place */
#define APART_SHARE 0.4    /* of the smaller side of the enclosure, likewise */
#define ALIKE_COS 0.64     /* aims less than 50 degrees apart */
#define USUAL_CANDIDATES 500
#define FEW_CANDIDATES 200 /* with fewer, more places are worth more than more aims */

/* --- geometry ------------------------------------------------------------ */

int
dew_fan_shelf (const DewChamber *chamber, const DewVariant *variant, int bay)
{
  g_autofree double *z = NULL;
  g_autofree guint *shelf = NULL;
  int n = dew_variant_bays (chamber, variant, &z, &shelf), count = 0;

  for (int b = 0; b <= MIN (bay, n - 1); b++)
    count += shelf[b] != 0;
  return count;
}

static int
third_of (double at_m, double length_m)
{
  return CLAMP ((int) floor (3.0 * at_m / length_m), 0, 2);
}

gboolean
dew_fans_mirrored (const DewFan *a, int bay_a, const DewFan *b, int bay_b, const double inner_m[3])
{
  for (int axis = 0; axis < 2; axis++)
    {
      DewFan seen = *b;

      *(axis == 0 ? &seen.x_m : &seen.y_m) = inner_m[axis] - (axis == 0 ? b->x_m : b->y_m);
      seen.azimuth_rad = axis == 0 ? G_PI - b->azimuth_rad : -b->azimuth_rad;
      if (b->mount == DEW_FAN_IN_WALL && b->face / 2 == axis)
        seen.face = b->face ^ 1;
      if (dew_fans_alike (a, bay_a, &seen, bay_b, inner_m))
        return TRUE;
    }
  return FALSE;
}

gboolean
dew_fans_alike (const DewFan *a, int bay_a, const DewFan *b, int bay_b, const double inner_m[3])
{
  double apart_m = MAX (LEAST_APART_M, APART_SHARE * MIN (inner_m[0], inner_m[1]));
  double away_m
    = sqrt (pow (a->x_m - b->x_m, 2.0) + pow (a->y_m - b->y_m, 2.0) + pow (a->z_m - b->z_m, 2.0));
  double aim_a[3], aim_b[3];

  gboolean same_third = third_of (a->x_m, inner_m[0]) == third_of (b->x_m, inner_m[0])
                        && third_of (a->y_m, inner_m[1]) == third_of (b->y_m, inner_m[1]);

  if (a->mount != b->mount || bay_a != bay_b || (away_m > apart_m && !same_third))
    return FALSE;
  if (a->mount == DEW_FAN_IN_WALL)
    return a->face == b->face && a->sense == b->sense;
  dew_fan_aim (a, aim_a);
  dew_fan_aim (b, aim_b);
  return aim_a[0] * aim_b[0] + aim_a[1] * aim_b[1] + aim_a[2] * aim_b[2] > ALIKE_COS;
}

/* --- where it fits ------------------------------------------------------- */

typedef struct
{
  const DewChamber *chamber; /* without the fan */
  const DewVariant *variant;
  const DewFan *fan;
  double inner_m[3];
  int n_bays;
  double *z_m;            /* [n_bays + 1] */
  double *floor_m;        /* [n_bays] top of what the bay stands on */
  gboolean *closed_below; /* [n_bays] no air through it */
  GArray *boxes;          /* double[6] of what stands in the way */
  gboolean axes;          /* aims along the axes only */
} Room;

static void
look_round (Room *room, const DewChamber *chamber, guint variant_id, const DewFan *fan)
{
  g_autofree guint *shelf = NULL;

  room->chamber = chamber;
  room->variant = dew_chamber_variant (chamber, variant_id);
  room->fan = fan;
  dew_chamber_inner_m (chamber, room->inner_m);
  room->n_bays = dew_variant_bays (chamber, room->variant, &room->z_m, &shelf);
  room->floor_m = g_new0 (double, room->n_bays);
  room->closed_below = g_new0 (gboolean, room->n_bays);
  for (int b = 0; b < room->n_bays; b++)
    {
      const DewThing *board = shelf[b] != 0 ? dew_variant_thing (room->variant, shelf[b]) : NULL;

      room->floor_m[b] = room->z_m[b] + (board != NULL ? board->shelf.thickness_m : 0.0);
      room->closed_below[b] = board == NULL || board->shelf.board == DEW_SHELF_SOLID;
    }
  room->boxes = g_array_new (FALSE, FALSE, 6 * sizeof (double));
  for (guint t = 0; t < room->variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (room->variant->things, DewThing, t);
      double box[6];

      if (thing->kind == DEW_THING_SHELF || thing->kind == DEW_THING_OPENING)
        continue;
      dew_thing_box (chamber, thing, box, box + 3);
      g_array_append_val (room->boxes, box);
    }
}

static void
leave (Room *room)
{
  g_free (room->z_m);
  g_free (room->floor_m);
  g_free (room->closed_below);
  g_array_unref (room->boxes);
}

static gboolean
is_clear (const Room *room, const double lo[3], const double hi[3])
{
  for (guint b = 0; b < room->boxes->len; b++)
    {
      const double *box = &g_array_index (room->boxes, double, 6 * b);

      if (dew_boxes_cross (lo, hi, box, box + 3, 3, -CLEAR_M))
        return FALSE;
    }
  return TRUE;
}

/* The way a fan's air has before it meets a wall or a closed board. */
static double
throw_m (const Room *room, int bay, const double at[3], const double aim[3])
{
  double way = G_MAXDOUBLE, low = room->floor_m[bay], high = room->z_m[bay + 1];

  for (int b = bay; b > 0 && !room->closed_below[b]; b--)
    low = room->floor_m[b - 1];
  for (int b = bay + 1; b < room->n_bays && !room->closed_below[b]; b++)
    high = room->z_m[b + 1];
  for (int a = 0; a < 3; a++)
    {
      double end = aim[a] > 0.0 ? (a == 2 ? high : room->inner_m[a]) : (a == 2 ? low : 0.0);

      if (fabs (aim[a]) > 1e-6)
        way = MIN (way, (end - at[a]) / aim[a]);
    }
  return way;
}

/* Even places between two ends, the same from either end: a mirrored enclosure has mirrored
 * places. None where there is no room, one where there is room for one. */
static int
places_along (double lo, double hi, int most)
{
  return hi < lo - 1e-9 ? 0 : hi < lo + 1e-3 ? 1 : most;
}

static double
place_along (double lo, double hi, int n, int i)
{
  return n == 1 ? 0.5 * (lo + hi) : lo + (hi - lo) * i / (n - 1);
}

/* Whether nothing stands right in front of a fan: along its aim for a diameter and a hand's
 * breadth, half as wide as its disc. */
static gboolean
is_clear_ahead (const Room *room, const double at[3], const double aim[3])
{
  double r = 0.5 * room->fan->diameter_m, way = room->fan->diameter_m + LEAVES_M;

  for (int part = 1; part <= 4; part++)
    {
      double lo[3], hi[3];

      for (int a = 0; a < 3; a++)
        {
          double middle = at[a] + 0.25 * part * way * aim[a];

          lo[a] = middle - 0.5 * r;
          hi[a] = middle + 0.5 * r;
        }
      if (!is_clear (room, lo, hi))
        return FALSE;
    }
  return TRUE;
}

/* The axes, and halfway between each two of them unless only the axes are asked for. */
static gboolean
aim_of (int n, gboolean axes, double *azimuth, double *elevation, double aim[3])
{
  int d[3] = { n % 3 - 1, n / 3 % 3 - 1, n / 9 - 1 };
  int parts = abs (d[0]) + abs (d[1]) + abs (d[2]);

  if (parts == 0 || parts > (axes ? 1 : 2))
    return FALSE;
  *azimuth = d[0] == 0 && d[1] == 0 ? 0.0 : atan2 (d[1], d[0]);
  *elevation = atan2 (d[2], hypot (d[0], d[1]));
  for (int a = 0; a < 3; a++)
    aim[a] = d[a] / sqrt (parts);
  return TRUE;
}

static void
add_free (const Room *room, const int along[3], GArray *out)
{
  double r = 0.5 * room->fan->diameter_m, lo[3], hi[3], at[3], aim[3];
  int n[3];

  for (int b = 0; b < room->n_bays; b++)
    {
      for (int a = 0; a < 3; a++)
        {
          lo[a] = (a == 2 ? room->floor_m[b] : 0.0) + r + CLEAR_M;
          hi[a] = (a == 2 ? room->z_m[b + 1] : room->inner_m[a]) - r - CLEAR_M;
          n[a] = places_along (lo[a], hi[a], along[a]);
        }
      for (int p = 0; p < n[0] * n[1] * n[2]; p++)
        {
          DewFanCandidate c
            = { .fan = *room->fan, .speed_factor = 1.0, .opening_factor = 1.0, .bay = b };
          double box_lo[3], box_hi[3];

          at[0] = place_along (lo[0], hi[0], n[0], p % n[0]);
          at[1] = place_along (lo[1], hi[1], n[1], p / n[0] % n[1]);
          at[2] = place_along (lo[2], hi[2], n[2], p / (n[0] * n[1]));
          for (int a = 0; a < 3; a++)
            {
              box_lo[a] = at[a] - r;
              box_hi[a] = at[a] + r;
            }
          if (!is_clear (room, box_lo, box_hi))
            continue;
          c.fan.mount = DEW_FAN_FREE;
          c.fan.x_m = at[0];
          c.fan.y_m = at[1];
          c.fan.z_m = at[2];
          for (int d = 0; d < 27; d++)
            if (aim_of (d, room->axes, &c.fan.azimuth_rad, &c.fan.elevation_rad, aim)
                && throw_m (room, b, at, aim) >= THROW_DIAMETERS * room->fan->diameter_m
                && is_clear_ahead (room, at, aim))
              g_array_append_val (out, c);
        }
    }
}

static void
add_in_walls (const Room *room, const int along[3], GArray *out)
{
  double r = 0.5 * room->fan->diameter_m;

  for (int face = 0; face < DEW_N_FACES; face++)
    for (int b = 0; b < room->n_bays; b++)
      {
        double lo[3], hi[3];
        int nu, nv, u, v;

        dew_face_axes (face, &u, &v);
        /* Through the roof only from the top bay; a floor stands on something. */
        if (face == DEW_FACE_FLOOR || (face == DEW_FACE_ROOF && b + 1 < room->n_bays))
          continue;
        for (int a = 0; a < 3; a++)
          {
            lo[a] = (a == 2 ? room->floor_m[b] : 0.0) + r + CLEAR_M;
            hi[a] = (a == 2 ? room->z_m[b + 1] : room->inner_m[a]) - r - CLEAR_M;
          }
        nu = places_along (lo[u], hi[u], along[u]);
        nv = places_along (lo[v], hi[v], along[v]);
        for (int p = 0; p < nu * nv; p++)
          {
            DewFanCandidate c
              = { .fan = *room->fan, .speed_factor = 1.0, .opening_factor = 1.0, .bay = b };
            double at[3], box_lo[3], box_hi[3];
            DewThing thing = { .kind = DEW_THING_FAN };

            at[dew_face_axis (face)] = dew_face_at_m (face, room->inner_m);
            at[u] = place_along (lo[u], hi[u], nu, p % nu);
            at[v] = place_along (lo[v], hi[v], nv, p / nu);
            c.fan.mount = DEW_FAN_IN_WALL;
            c.fan.face = face;
            c.fan.x_m = at[0];
            c.fan.y_m = at[1];
            c.fan.z_m = at[2];
            c.fan.azimuth_rad = c.fan.elevation_rad
              = 0.0; /* of no use there: one fan, one record */
            thing.fan = c.fan;
            dew_thing_box (room->chamber, &thing, box_lo, box_hi);
            if (!is_clear (room, box_lo, box_hi))
              continue;
            for (c.fan.sense = DEW_BLOWS_IN; c.fan.sense <= DEW_BLOWS_OUT; c.fan.sense++)
              g_array_append_val (out, c);
          }
      }
}

static GArray *
places_at (const Room *room, gboolean stand, gboolean walls, const int along[3])
{
  GArray *out = g_array_new (FALSE, TRUE, sizeof (DewFanCandidate));

  if (stand)
    add_free (room, along, out);
  if (walls)
    add_in_walls (room, along, out);
  return out;
}

/* Leaves those that the checks of the document let pass: no hole over another one. */
static GArray *
checked (const DewChamber *without, guint variant_id, GArray *places)
{
  GArray *out = g_array_new (FALSE, TRUE, sizeof (DewFanCandidate));
  g_autoptr (DewChamber) chamber = dew_chamber_copy (without);
  guint id = 0;

  for (guint p = 0; p < places->len; p++)
    {
      const DewFanCandidate *c = &g_array_index (places, DewFanCandidate, p);
      g_autoptr (GArray) problems = NULL;

      id = dew_fan_apply (chamber, variant_id, id, &c->fan, 1.0);
      problems = dew_chamber_check (chamber, variant_id);
      if (problems->len == 0)
        g_array_append_val (out, *c);
    }
  g_array_unref (places);
  return out;
}

/* Each place with each factor on speed and opening. */
static GArray *
multiply (GArray *places, const DewFanQuestion *q)
{
  GArray *out = g_array_new (FALSE, TRUE, sizeof (DewFanCandidate));

  for (guint p = 0; p < places->len; p++)
    for (int s = 0; s < MAX (1, q->n_speeds); s++)
      for (int o = 0; o < MAX (1, q->n_openings); o++)
        {
          DewFanCandidate c = g_array_index (places, DewFanCandidate, p);

          c.speed_factor = q->n_speeds > 0 ? q->speeds[s] : 1.0;
          c.opening_factor = q->n_openings > 0 ? q->openings[o] : 1.0;
          c.fan.speed_day = CLAMP (c.speed_factor * c.fan.speed_day, 0.0, 1.0);
          c.fan.speed_night = CLAMP (c.speed_factor * c.fan.speed_night, 0.0, 1.0);
          g_array_append_val (out, c);
        }
  g_array_unref (places);
  return out;
}

/* About `most` places of one kind, as close together as so many allow, along all axes alike. */
static GArray *
places_of_kind (const Room *room, gboolean stand, int most)
{
  GArray *best = NULL;
  double least_apart = G_MAXDOUBLE;
  gboolean fits = FALSE;
  int aims = !stand ? 2 : room->axes ? 6 : 18;

  for (int n = 0; n < MOST_ALONG * MOST_ALONG * MOST_ALONG; n++)
    {
      const int along[3] = { n % MOST_ALONG + 1, n / MOST_ALONG % MOST_ALONG + 1,
                             n / (MOST_ALONG * MOST_ALONG) + 1 };
      double apart = 0.0;
      GArray *places;

      for (int a = 0; a < 3; a++)
        apart
          += pow ((a == 2 ? room->inner_m[2] / room->n_bays : room->inner_m[a]) / along[a], 2.0);
      if (fits && apart > least_apart - 1e-12)
        continue;
      /* Many more than asked for even if most are blocked: not worth counting. */
      if (n > 0 && along[0] * along[1] * along[2] * room->n_bays * aims > BLOCKED_AT_MOST * most)
        continue;
      places = places_at (room, stand, !stand, along);
      if (places->len > 0
          && (places->len <= (guint) most || best == NULL || (!fits && places->len < best->len)))
        {
          g_clear_pointer (&best, g_array_unref);
          best = places;
          least_apart = apart;
          fits = places->len <= (guint) most;
        }
      else
        g_array_unref (places);
    }
  return best != NULL ? best : g_array_new (FALSE, TRUE, sizeof (DewFanCandidate));
}

GArray *
dew_fan_places (const DewChamber *without, guint variant_id, const DewFan *fan,
                const DewFanQuestion *question, gboolean stand, gboolean walls, int most)
{
  Room room = { 0 };
  GArray *all = g_array_new (FALSE, TRUE, sizeof (DewFanCandidate));
  int factors = MAX (1, question->n_speeds) * MAX (1, question->n_openings);

  most = MAX (1, (most > 0 ? most : USUAL_CANDIDATES) / factors);
  look_round (&room, without, variant_id, fan);
  room.axes = most < FEW_CANDIDATES;
  /* Where both are asked for, walls and free air share: each is searched as densely. */
  for (int kind = 0; kind < 2; kind++)
    if (kind == 0 ? stand : walls)
      {
        g_autoptr (GArray) some
          = places_of_kind (&room, kind == 0, MAX (1, stand && walls ? most / 2 : most));

        g_array_append_vals (all, some->data, some->len);
      }
  leave (&room);
  return multiply (checked (without, variant_id, all), question);
}

gboolean
dew_fan_fits (const DewChamber *without, guint variant_id, const DewFan *fan, int *bay)
{
  Room room = { 0 };
  const double at[3] = { fan->x_m, fan->y_m, fan->z_m };
  DewThing thing = { .kind = DEW_THING_FAN, .fan = *fan };
  double lo[3], hi[3], aim[3];
  gboolean fits;

  look_round (&room, without, variant_id, fan);
  *bay = dew_bay_at (room.z_m, room.n_bays, fan->z_m);
  dew_thing_box (without, &thing, lo, hi);
  fits = is_clear (&room, lo, hi);
  if (fan->mount == DEW_FAN_FREE)
    {
      double r = 0.5 * fan->diameter_m + CLEAR_M - 1e-9;

      dew_fan_aim (fan, aim);
      for (int a = 0; a < 3; a++)
        fits = fits && at[a] - r >= (a == 2 ? room.floor_m[*bay] : 0.0)
               && at[a] + r <= (a == 2 ? room.z_m[*bay + 1] : room.inner_m[a]);
      fits = fits && throw_m (&room, *bay, at, aim) >= THROW_DIAMETERS * fan->diameter_m
             && is_clear_ahead (&room, at, aim);
    }
  leave (&room);
  if (fits)
    {
      g_autoptr (DewChamber) tried = dew_chamber_copy (without);
      g_autoptr (GArray) problems = NULL;

      dew_fan_apply (tried, variant_id, 0, fan, 1.0);
      problems = dew_chamber_check (tried, variant_id);
      fits = problems->len == 0;
    }
  return fits;
}

/* --- the map ------------------------------------------------------------- */

GArray *
dew_fan_spots (const DewFanCandidate *candidates, int n)
{
  GArray *spots = g_array_new (FALSE, TRUE, sizeof (DewFanSpot));

  for (int i = 0; i < n; i++)
    {
      const DewFanCandidate *c = &candidates[i];
      DewFanSpot *last = spots->len > 0 ? &g_array_index (spots, DewFanSpot, spots->len - 1) : NULL;

      if (c->round == DEW_ROUND_NONE)
        continue;
      /* Candidates at one place follow each other. */
      if (last != NULL && last->at_m[0] == c->fan.x_m && last->at_m[1] == c->fan.y_m
          && last->at_m[2] == c->fan.z_m)
        {
          if (c->coarse > last->coarse)
            {
              last->coarse = c->coarse;
              last->best = i;
            }
          continue;
        }

      DewFanSpot spot = { { c->fan.x_m, c->fan.y_m, c->fan.z_m }, c->bay, i, c->coarse };

      g_array_append_val (spots, spot);
    }
  return spots;
}

static double
seen_apart (const DewFanSpot *a, double across_m, double up_m, int u, int v)
{
  return hypot (a->at_m[u] - across_m, a->at_m[v] - up_m);
}

/* Twice the mean distance of a spot to the nearest that is seen apart from it. */
static double
usual_reach (const GArray *spots, int u, int v)
{
  double sum = 0.0;
  int n = 0;

  for (guint i = 0; i < spots->len; i++)
    {
      const DewFanSpot *a = &g_array_index (spots, DewFanSpot, i);
      double nearest = G_MAXDOUBLE;

      for (guint j = 0; j < spots->len; j++)
        {
          double d
            = seen_apart (&g_array_index (spots, DewFanSpot, j), a->at_m[u], a->at_m[v], u, v);

          if (d > 1e-6)
            nearest = MIN (nearest, d);
        }
      if (nearest == G_MAXDOUBLE)
        continue;
      sum += nearest;
      n++;
    }
  return n > 0 ? 2.0 * sum / n : LEAST_APART_M;
}

/* Of spots that are seen as one the best counts. */
static GArray *
seen_spots (const GArray *spots, int depth, double lo_m, double hi_m, int u, int v)
{
  GArray *seen = g_array_new (FALSE, FALSE, sizeof (DewFanSpot));

  for (guint i = 0; i < spots->len; i++)
    {
      const DewFanSpot *spot = &g_array_index (spots, DewFanSpot, i);
      guint s = 0;

      if (lo_m < hi_m && (spot->at_m[depth] < lo_m || spot->at_m[depth] > hi_m))
        continue;
      while (
        s < seen->len
        && seen_apart (&g_array_index (seen, DewFanSpot, s), spot->at_m[u], spot->at_m[v], u, v)
             > 1e-6)
        s++;
      if (s == seen->len)
        g_array_append_val (seen, *spot);
      else if (spot->coarse > g_array_index (seen, DewFanSpot, s).coarse)
        g_array_index (seen, DewFanSpot, s) = *spot;
    }
  return seen;
}

void
dew_fan_map (const GArray *spots, const double inner_m[3], DewView view, double lo_m, double hi_m,
             double reach_m, int columns, int rows, double *out)
{
  int u = view == DEW_VIEW_SIDE ? 1 : 0, v = view == DEW_VIEW_PLAN ? 1 : 2, depth = 3 - u - v;
  g_autoptr (GArray) seen = seen_spots (spots, depth, lo_m, hi_m, u, v);
  double reach = reach_m > 0.0 ? reach_m : usual_reach (seen, u, v);

  for (int row = 0; row < rows; row++)
    for (int column = 0; column < columns; column++)
      {
        double across = (column + 0.5) / columns * inner_m[u], up = (row + 0.5) / rows * inner_m[v];
        double sum = 0.0, weight = 0.0;

        for (guint s = 0; s < seen->len; s++)
          {
            const DewFanSpot *spot = &g_array_index (seen, DewFanSpot, s);
            double d = seen_apart (spot, across, up, u, v);
            double w;

            /* Weights that end at the reach (Franke & Nielson, Int. J. Numer. Methods Eng. 15,
             * 1980, from memory): at a spot its own merit, smooth between. */
            if (d >= reach)
              continue;
            w = pow ((reach - d) / (reach * MAX (d, 1e-4)), 2.0);
            sum += w * spot->coarse;
            weight += w;
          }
        out[row * columns + column] = weight > 0.0 ? sum / weight : NAN;
      }
}
