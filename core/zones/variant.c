/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "zones/zones-private.h"
#include "geometry/geometry.h"
#include "zones/fitted.h"

#include <math.h>

/* --- grid lines ---------------------------------------------------------- */

static void
add_line (GArray *lines, double x, double length, double distance)
{
  if (x < distance || x > length - distance)
    return;
  for (guint i = 0; i < lines->len; i++)
    if (fabs (g_array_index (lines, double, i) - x) < distance)
      return;
  g_array_append_val (lines, x);
}

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* Fills the gaps between the lines that must be, to the wanted spacing, then
 * splits what is too wide beside something narrow. */
static GArray *
fill_lines (GArray *fixed, double length, double zone_m)
{
  GArray *out = g_array_new (FALSE, FALSE, sizeof (double));
  double zero = 0.0;

  g_array_append_val (fixed, zero);
  g_array_append_val (fixed, length);
  g_array_sort (fixed, compare_doubles);

  guint gaps = fixed->len - 1;
  g_autofree int *parts = g_new (int, gaps);
  const double *at = (const double *) fixed->data;

  for (guint g = 0; g < gaps; g++)
    parts[g] = MAX (1, (int) floor ((at[g + 1] - at[g]) / zone_m + 0.5));

  for (gboolean changed = TRUE; changed;)
    {
      changed = FALSE;
      for (guint g = 0; g < gaps; g++)
        {
          double own = (at[g + 1] - at[g]) / parts[g];

          for (int side = -1; side <= 1; side += 2)
            {
              if ((side < 0 && g == 0) || (side > 0 && g + 1 == gaps))
                continue;
              guint o = g + side;
              double other = (at[o + 1] - at[o]) / parts[o];

              if (own > DEW_FITTED_GRADING * other && own > 0.5 * zone_m)
                {
                  parts[g]++;
                  own = (at[g + 1] - at[g]) / parts[g];
                  changed = TRUE;
                }
            }
        }
    }

  for (guint g = 0; g < gaps; g++)
    for (int p = 0; p < parts[g]; p++)
      {
        double x = at[g] + (at[g + 1] - at[g]) * p / parts[g];
        g_array_append_val (out, x);
      }
  g_array_append_val (out, length);
  return out;
}

/* --- shelves and openings -------------------------------------------------- */

/* Share of the cell (i, j) in plan that a shelf covers. */
static double
shelf_cover (const DewZones *z, const DewShelf *shelf, int i, int j)
{
  double x = dew_span_shared (z->line_m[0][i - 1], z->line_m[0][i], shelf->gap_left_m,
                              z->inner_m[0] - shelf->gap_right_m);
  double y = dew_span_shared (z->line_m[1][j - 1], z->line_m[1][j], shelf->gap_front_m,
                              z->inner_m[1] - shelf->gap_back_m);

  return x * y / (z->width_m[0][i] * z->width_m[1][j]);
}

static gboolean
shelf_is_closed (const DewShelf *shelf)
{
  return shelf->board == DEW_SHELF_SOLID || shelf->open_ratio < 0.02;
}

static double
shelf_level (const DewShelf *shelf)
{
  return shelf->z_m + 0.5 * shelf->thickness_m;
}

static void
add_shelves (DewZones *z, const DewVariant *variant)
{
  GArray *decks = g_array_new (FALSE, TRUE, sizeof (DewDeck));

  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind != DEW_THING_SHELF)
        continue;

      double level = shelf_level (&thing->shelf);
      int k = 2;

      for (int f = 2; f <= z->n[2]; f++)
        if (fabs (z->line_m[2][f - 1] - level) < fabs (z->line_m[2][k - 1] - level))
          k = f;

      DewDeck deck = { thing->id, k, level };
      g_array_append_val (decks, deck);

      if (!shelf_is_closed (&thing->shelf))
        continue;
      for (int j = 1; j <= z->n[1]; j++)
        for (int i = 1; i <= z->n[0]; i++)
          {
            int at = dew_zones_at (z, i, j, k);
            double open = 1.0 - shelf_cover (z, &thing->shelf, i, j);

            /* A hair's breadth of gap from rounding is closed. */
            z->open_m2[2][at]
              = MIN (z->open_m2[2][at], open < 0.01 ? 0.0 : open * z->gross_m2[2][at]);
            if (z->open_m2[2][at] == 0.0)
              z->kind[2][at] = DEW_FACE_IS_CLOSED;
          }
    }
  z->n_decks = decks->len;
  z->decks = (DewDeck *) g_array_free (decks, FALSE);
}

static void
add_patch (DewZones *z, GArray *patches, guint id, DewFaceKind kind, DewFace face, int cu, int cv,
           double area, double loss)
{
  int normal = dew_face_axis (face), u, v, c[3];
  gboolean high = dew_face_is_high (face);
  DewPatch patch = { 0 };

  dew_face_axes (face, &u, &v);
  c[u] = cu;
  c[v] = cv;
  c[normal] = high ? z->n[normal] + 1 : 1;
  patch.thing_id = id;
  patch.axis = normal;
  patch.face = dew_zones_at (z, c[0], c[1], c[2]);
  patch.zone = high ? patch.face - z->stride[normal] : patch.face;
  patch.sign = high ? -1 : 1;
  patch.area_m2 = area;
  patch.loss = loss;

  guint8 *was = &z->kind[normal][patch.face];

  /* A fan or duct has its face for itself; leakage only takes closed ones. */
  if (*was == DEW_FACE_IS_FIXED || (id == 0 && *was != DEW_FACE_IS_CLOSED))
    return;
  if (kind == DEW_FACE_IS_FIXED)
    {
      for (guint p = patches->len; p-- > 0;)
        {
          const DewPatch *other = &g_array_index (patches, DewPatch, p);

          if (other->axis == normal && other->face == patch.face)
            g_array_remove_index (patches, p);
        }
      z->open_m2[normal][patch.face] = 0.0;
    }
  *was = kind;
  z->open_m2[normal][patch.face] += area;
  g_array_append_val (patches, patch);
}

static void
add_rectangle (DewZones *z, GArray *patches, guint id, DewFaceKind kind, DewFace face, double u0,
               double u1, double v0, double v1, double open, double loss)
{
  int u, v;

  dew_face_axes (face, &u, &v);
  for (int cv = 1; cv <= z->n[v]; cv++)
    for (int cu = 1; cu <= z->n[u]; cu++)
      {
        double area = open * dew_span_shared (u0, u1, z->line_m[u][cu - 1], z->line_m[u][cu])
                      * dew_span_shared (v0, v1, z->line_m[v][cv - 1], z->line_m[v][cv]);

        if (area > 1e-9)
          add_patch (z, patches, id, kind, face, cu, cv, area, loss);
      }
}

/* A fan in the wall takes the square of equal area. */
static void
wall_fan_rectangle (const DewFan *fan, double *u0, double *u1, double *v0, double *v1)
{
  int u, v;
  double half = 0.5 * sqrt (G_PI / 4.0) * fan->diameter_m;
  double at[3] = { fan->x_m, fan->y_m, fan->z_m };

  dew_face_axes (fan->face, &u, &v);
  *u0 = at[u] - half;
  *u1 = at[u] + half;
  *v0 = at[v] - half;
  *v1 = at[v] + half;
}

static double
opening_share (const DewOpening *o)
{
  return o->kind == DEW_OPENING_DUCT ? o->free_ratio : o->free_ratio * o->open_fraction;
}

static void
add_openings (DewZones *z, const DewVariant *variant, GArray *patches)
{
  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind == DEW_THING_OPENING)
        {
          const DewOpening *o = &thing->opening;
          gboolean duct = o->kind == DEW_OPENING_DUCT;

          if (opening_share (o) > 1e-6)
            add_rectangle (z, patches, thing->id, duct ? DEW_FACE_IS_FIXED : DEW_FACE_IS_ROOM,
                           o->face, o->u0_m, o->u1_m, o->v0_m, o->v1_m, opening_share (o),
                           duct ? 0.0
                                : 1.0 / (o->discharge_coefficient * o->discharge_coefficient));
        }
      else if (thing->kind == DEW_THING_FAN && thing->fan.mount == DEW_FAN_IN_WALL)
        {
          double u0, u1, v0, v1;

          wall_fan_rectangle (&thing->fan, &u0, &u1, &v0, &v1);
          add_rectangle (z, patches, thing->id, DEW_FACE_IS_FIXED, thing->fan.face, u0, u1, v0, v1,
                         1.0, 0.0);
        }
    }
}

/* The cover leaks along its seams: the twelve edges of the box, each shared by
 * the two faces that meet there. */
static void
add_leakage (DewZones *z, const DewChamber *chamber, GArray *patches)
{
  double seam = 8.0 * (z->inner_m[0] + z->inner_m[1] + z->inner_m[2]); /* 12 edges, both faces */

  if (chamber->leak_area_m2 <= 0.0)
    return;
  for (int face = 0; face < DEW_N_FACES; face++)
    {
      int u, v;

      dew_face_axes (face, &u, &v);
      for (int cv = 1; cv <= z->n[v]; cv++)
        for (int cu = 1; cu <= z->n[u]; cu++)
          {
            double length = 0.0;

            if (cu == 1)
              length += z->width_m[v][cv];
            if (cu == z->n[u])
              length += z->width_m[v][cv];
            if (cv == 1)
              length += z->width_m[u][cu];
            if (cv == z->n[v])
              length += z->width_m[u][cu];
            if (length > 0.0)
              add_patch (z, patches, 0, DEW_FACE_IS_ROOM, face, cu, cv,
                         chamber->leak_area_m2 * length / seam, 0.0);
          }
    }
}

static GArray *
collect_lines (const DewVariant *variant, int axis, double length, double zone_m)
{
  GArray *lines = g_array_new (FALSE, FALSE, sizeof (double));
  double nearest = MIN (DEW_FITTED_LINE_SHARE * zone_m, length / 12.0);

  /* In order of weight: a later line gives way to an earlier one. */
  for (int pass = 0; pass < 3; pass++)
    for (guint t = 0; t < variant->things->len; t++)
      {
        const DewThing *thing = &g_array_index (variant->things, DewThing, t);

        if (pass == 0 && axis == 2 && thing->kind == DEW_THING_SHELF)
          add_line (lines, shelf_level (&thing->shelf), length, DEW_FITTED_SHELF_DISTANCE_M);
        else if (pass > 0)
          {
            double e[2] = { -1.0, -1.0 };

            if (pass == 1 && thing->kind == DEW_THING_OPENING
                && opening_share (&thing->opening) > 1e-6)
              {
                const DewOpening *o = &thing->opening;
                int u, v;

                dew_face_axes (o->face, &u, &v);
                if (u == axis)
                  e[0] = o->u0_m, e[1] = o->u1_m;
                else if (v == axis)
                  e[0] = o->v0_m, e[1] = o->v1_m;
              }
            else if (pass == 1 && thing->kind == DEW_THING_FAN
                     && thing->fan.mount == DEW_FAN_IN_WALL)
              {
                double r[4];
                int u, v;

                wall_fan_rectangle (&thing->fan, &r[0], &r[1], &r[2], &r[3]);
                dew_face_axes (thing->fan.face, &u, &v);
                if (u == axis)
                  e[0] = r[0], e[1] = r[1];
                else if (v == axis)
                  e[0] = r[2], e[1] = r[3];
              }
            else if (pass == 2 && thing->kind == DEW_THING_SHELF && shelf_is_closed (&thing->shelf)
                     && axis < 2)
              {
                e[0] = axis == 0 ? thing->shelf.gap_left_m : thing->shelf.gap_front_m;
                e[1] = length - (axis == 0 ? thing->shelf.gap_right_m : thing->shelf.gap_back_m);
              }
            add_line (lines, e[0], length, nearest);
            add_line (lines, e[1], length, nearest);
          }
      }
  return lines;
}

DewZones *
dew_zones_new (const DewChamber *chamber, const DewVariant *variant, double zone_m)
{
  double inner[3];
  int n[3];
  const double *line[3];
  GArray *all[3];
  GArray *patches = g_array_new (FALSE, TRUE, sizeof (DewPatch));

  g_return_val_if_fail (zone_m > 0.0, NULL);

  dew_chamber_inner_m (chamber, inner);
  for (int a = 0; a < 3; a++)
    {
      g_autoptr (GArray) fixed = collect_lines (variant, a, inner[a], zone_m);

      /* At least three zones each way, or there is no circulation to find. */
      all[a] = fill_lines (fixed, inner[a], MIN (zone_m, inner[a] / 3.0));
      n[a] = all[a]->len - 1;
      line[a] = (const double *) all[a]->data;
    }

  DewZones *z = dew_zones_from_lines (n, line);

  for (int a = 0; a < 3; a++)
    g_array_unref (all[a]);
  z->leak_exponent = chamber->leak_exponent;
  add_shelves (z, variant);
  add_openings (z, variant, patches);
  add_leakage (z, chamber, patches);
  for (guint p = 0; p < patches->len; p++)
    if (z->kind[g_array_index (patches, DewPatch, p).axis]
               [g_array_index (patches, DewPatch, p).face]
        == DEW_FACE_IS_ROOM)
      z->sealed = FALSE;
  z->n_patches = patches->len;
  z->patches = (DewPatch *) g_array_free (patches, FALSE);
  dew_zones_find_walls (z);
  return z;
}
