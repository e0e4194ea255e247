/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "transport/light.h"

#include <math.h>

#define PATCHES_X 12 /* of a lamp, where shelves shade it */
#define PATCHES_Y 4
#define MOST_BOARDS 32 /* between a lamp and a spot */
/* A lamp housing some 20 K above the air gives about as much by radiation (0.9 of 6
 * W/m2K) as by convection (4 to 6 W/m2K). Common practice, no source. */
#define RADIANT_SHARE 0.5

double
dew_light_corner_factor (double a_m, double b_m, double c_m)
{
  double x = a_m / c_m;
  double y = b_m / c_m;
  double root_x = sqrt (1.0 + x * x);
  double root_y = sqrt (1.0 + y * y);

  return (x / root_x * atan (y / root_x) + y / root_y * atan (x / root_y)) / (2.0 * M_PI);
}

double
dew_light_view_factor (double x0_m, double x1_m, double y0_m, double y1_m, double c_m)
{
  /* The corner factor is odd in a and in b, which makes the four corners add up
   * wherever the rectangle lies. */
  return dew_light_corner_factor (x1_m, y1_m, c_m) - dew_light_corner_factor (x0_m, y1_m, c_m)
         - dew_light_corner_factor (x1_m, y0_m, c_m) + dew_light_corner_factor (x0_m, y0_m, c_m);
}

/* A board between lamp and spot, as seen from the spot. */
typedef struct
{
  double share;                  /* of the way up to the lamp */
  double x0_m, x1_m, y0_m, y1_m; /* of the board, from the spot */
  double passes;                 /* through the board itself */
  gboolean gaps;
} Board;

static int
boards_between (const DewVariant *variant, const double inner_m[3], const DewLamp *lamp,
                const double spot_m[3], Board boards[MOST_BOARDS])
{
  int n = 0;

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      const DewShelf *shelf = &thing->shelf;

      if (thing->kind != DEW_THING_SHELF || shelf->z_m <= spot_m[2] || shelf->z_m >= lamp->z_m)
        continue;
      if (n == MOST_BOARDS)
        {
          /* So far down little is left to lose: as if without gaps. */
          boards[n - 1].passes *= shelf->open_ratio;
          continue;
        }
      boards[n++] = (Board){
        .share = (shelf->z_m - spot_m[2]) / (lamp->z_m - spot_m[2]),
        .x0_m = shelf->gap_left_m - spot_m[0],
        .x1_m = inner_m[0] - shelf->gap_right_m - spot_m[0],
        .y0_m = shelf->gap_front_m - spot_m[1],
        .y1_m = inner_m[1] - shelf->gap_back_m - spot_m[1],
        .passes = shelf->open_ratio,
        .gaps = shelf->gap_left_m > 0.0 || shelf->gap_right_m > 0.0 || shelf->gap_front_m > 0.0
                || shelf->gap_back_m > 0.0,
      };
    }
  return n;
}

/* Share of the lamp's light towards the spot that the shelves between let through. */
static double
passed_share (const DewVariant *variant, const double inner_m[3], const DewLamp *lamp,
              const double spot_m[3])
{
  Board boards[MOST_BOARDS];
  int n = boards_between (variant, inner_m, lamp, spot_m, boards);
  double c_m = lamp->z_m - spot_m[2];
  double all = 0.0, passed = 0.0, even = 1.0;
  gboolean gaps = FALSE;

  for (int b = 0; b < n; b++)
    {
      even *= boards[b].passes;
      gaps |= boards[b].gaps;
    }
  if (!gaps)
    return even;

  /* Past gaps and edges patch by patch of the lamp. */
  for (int j = 0; j < PATCHES_Y; j++)
    for (int i = 0; i < PATCHES_X; i++)
      {
        double dx = lamp->x_m + ((i + 0.5) / PATCHES_X - 0.5) * lamp->length_m - spot_m[0];
        double dy = lamp->y_m + ((j + 0.5) / PATCHES_Y - 0.5) * lamp->width_m - spot_m[1];
        double square = dx * dx + dy * dy + c_m * c_m;
        double weight = 1.0 / (square * square); /* two cosines over the distance squared */
        double passes = 1.0;

        for (int b = 0; b < n; b++)
          {
            const Board *board = &boards[b];
            double x_m = board->share * dx, y_m = board->share * dy;

            if (x_m >= board->x0_m && x_m <= board->x1_m && y_m >= board->y0_m
                && y_m <= board->y1_m)
              passes *= board->passes;
          }
        all += weight;
        passed += weight * passes;
      }
  return passed / all;
}

double
dew_light_of_lamp_mol_m2s (const DewVariant *variant, const double inner_m[3], const DewLamp *lamp,
                           gboolean night, const double at_m[3])
{
  double photons_mol_s, passed, x0_m, y0_m, factor;

  g_return_val_if_fail (variant != NULL && lamp != NULL, NAN);
  photons_mol_s = lamp->power_W * lamp->efficacy_mol_J * (night ? lamp->on_night : lamp->on_day);
  if (lamp->z_m <= at_m[2] || !(photons_mol_s > 0.0))
    return 0.0;
  passed = passed_share (variant, inner_m, lamp, at_m);
  if (passed <= 0.0)
    return 0.0;
  x0_m = lamp->x_m - 0.5 * lamp->length_m - at_m[0];
  y0_m = lamp->y_m - 0.5 * lamp->width_m - at_m[1];
  factor = dew_light_view_factor (x0_m, x0_m + lamp->length_m, y0_m, y0_m + lamp->width_m,
                                  lamp->z_m - at_m[2]);
  return photons_mol_s / (lamp->length_m * lamp->width_m) * factor * passed;
}

double
dew_light_ppfd_mol_m2s (const DewVariant *variant, const double inner_m[3], gboolean night,
                        double x_m, double y_m, double z_m)
{
  const double at_m[3] = { x_m, y_m, z_m };
  double sum = 0.0;

  g_return_val_if_fail (variant != NULL, NAN);
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind == DEW_THING_LAMP)
        sum += dew_light_of_lamp_mol_m2s (variant, inner_m, &thing->lamp, night, at_m);
    }
  return sum;
}

/* Next shelf whose underside is above z_m, NULL: none. */
static const DewShelf *
shelf_above (const DewVariant *variant, double z_m)
{
  const DewShelf *next = NULL;

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind == DEW_THING_SHELF && thing->shelf.z_m > z_m
          && (next == NULL || thing->shelf.z_m < next->z_m))
        next = &thing->shelf;
    }
  return next;
}

double
dew_light_daylight_mol_m2s (const DewChamber *chamber, const DewVariant *variant,
                            const double inner_m[3], gboolean night, double x_m, double y_m,
                            double z_m)
{
  double sides = 0.0, sum = 0.0, passes = 1.0, seen = 1.0;
  const DewShelf *shelf;

  g_return_val_if_fail (chamber != NULL && variant != NULL, NAN);

  if (night || !(chamber->room.daylight_mol_m2s > 0.0))
    return 0.0;
  for (int face = DEW_FACE_LEFT; face <= DEW_FACE_BACK; face++)
    sides += 0.25 * chamber->panels[face].light_transmission;
  /* What is seen of the plane of each shelf comes from above it, the rest from the walls below. */
  for (shelf = shelf_above (variant, z_m); shelf != NULL; shelf = shelf_above (variant, shelf->z_m))
    {
      double above
        = dew_light_view_factor (-x_m, inner_m[0] - x_m, -y_m, inner_m[1] - y_m, shelf->z_m - z_m);

      sum += passes * sides * (seen - above);
      seen = above;
      passes *= shelf->open_ratio;
    }
  {
    double roof = inner_m[2] > z_m ? dew_light_view_factor (-x_m, inner_m[0] - x_m, -y_m,
                                                            inner_m[1] - y_m, inner_m[2] - z_m)
                                   : seen;

    sum += passes
           * (sides * (seen - roof) + chamber->panels[DEW_FACE_ROOF].light_transmission * roof);
  }
  return chamber->room.daylight_mol_m2s * sum;
}

DewLampHeat
dew_light_lamp_heat (const DewLamp *lamp, gboolean night)
{
  DewLampHeat heat = { NAN, NAN, NAN };
  double drawn_W, lost_W;

  g_return_val_if_fail (lamp != NULL, heat);
  drawn_W = lamp->power_W * (night ? lamp->on_night : lamp->on_day);
  heat.light_W = drawn_W * fmin (1.0, lamp->efficacy_mol_J / DEW_LIGHT_MOL_J);
  lost_W = drawn_W - heat.light_W;
  heat.radiant_W = RADIANT_SHARE * lost_W;
  heat.convective_W = lost_W - heat.radiant_W;
  return heat;
}
