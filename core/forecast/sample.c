/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "forecast/build.h"

#include <math.h>
#include <string.h>

/* --- where a point lies ------------------------------------------------------------ */

static double
middle (const DewForecast *f, int axis, int i)
{
  return 0.5 * (f->line_m[axis][i] + f->line_m[axis][i + 1]);
}

/* Zone (0 .. n - 1) along an axis that holds x; clamped. */
static int
zone_along (const DewForecast *f, int axis, double x)
{
  int lo = 0, hi = f->n[axis];

  while (hi - lo > 1)
    {
      int mid = (lo + hi) / 2;

      if (f->line_m[axis][mid] <= x)
        lo = mid;
      else
        hi = mid;
    }
  return lo;
}

static gboolean
is_inside (const DewForecast *f, double x, double y, double z)
{
  return x >= 0.0 && y >= 0.0 && z >= 0.0 && x <= f->inner_m[0] && y <= f->inner_m[1]
         && z <= f->inner_m[2];
}

/* Two zones whose middles x lies between, and the weight of the upper; x is in
 * zone i. */
static void
between_middles (const DewForecast *f, int axis, int i, double x, int *low, int *high,
                 double *weight)
{
  if (x >= middle (f, axis, i))
    {
      *low = i;
      *high = MIN (i + 1, f->n[axis] - 1);
    }
  else
    {
      *low = MAX (i - 1, 0);
      *high = i;
    }
  *weight = *low == *high
              ? 0.0
              : (x - middle (f, axis, *low)) / (middle (f, axis, *high) - middle (f, axis, *low));
}

static gboolean
has_board (const DewForecast *f, int i, int j, int k_face)
{
  return f->board[i + f->n[0] * (j + f->n[1] * k_face)] != 0;
}

/* --- samples ------------------------------------------------------------------------ */

double
dew_forecast_sample (const DewForecast *f, DewValue value, double x, double y, double z)
{
  const double *v = f->value[value];
  int low[3], high[3];
  double w[3], sum = 0.0;
  double at[3] = { x, y, z };

  g_return_val_if_fail (value < DEW_N_VALUES, NAN);

  if (!is_inside (f, x, y, z) || v == NULL)
    return NAN;
  for (int a = 0; a < 3; a++)
    between_middles (f, a, zone_along (f, a, at[a]), at[a], &low[a], &high[a], &w[a]);

  int home = zone_along (f, 2, z);

  for (int c = 0; c < 4; c++)
    {
      int i = c & 1 ? high[0] : low[0], j = c & 2 ? high[1] : low[1];
      double wc = (c & 1 ? w[0] : 1.0 - w[0]) * (c & 2 ? w[1] : 1.0 - w[1]);
      double wz = w[2];

      if (wc == 0.0)
        continue;
      /* A closed board parts the air above from the air below. */
      if (high[2] != low[2] && has_board (f, i, j, high[2]))
        wz = home == high[2] ? 1.0 : 0.0;
      sum += wc
             * ((1.0 - wz) * v[i + f->n[0] * (j + f->n[1] * low[2])]
                + wz * v[i + f->n[0] * (j + f->n[1] * high[2])]);
    }
  return sum;
}

gboolean
dew_forecast_velocity (const DewForecast *f, double x, double y, double z, double out[3])
{
  double at[3] = { x, y, z };

  if (!is_inside (f, x, y, z))
    return FALSE;

  int home[3] = { zone_along (f, 0, x), zone_along (f, 1, y), zone_along (f, 2, z) };

  dew_forecast_velocity_in (f, home, at, out);
  return TRUE;
}

void
dew_forecast_velocity_in (const DewForecast *f, const int home[3], const double at[3],
                          double out[3])
{
  int between[3][2];
  double along[3];

  for (int d = 0; d < 3; d++)
    between_middles (f, d, home[d], at[d], &between[d][0], &between[d][1], &along[d]);
  for (int a = 0; a < 3; a++)
    {
      const double *line = f->line_m[a] + home[a], *face = f->face_m_s[a];
      int row = f->n[0] + (a == 0), plane = row * (f->n[1] + (a == 1));
      int end[3][2];
      double w[3], share[3][2], sum = 0.0;

      memcpy (end, between, sizeof end);
      memcpy (w, along, sizeof w);
      end[a][0] = home[a];
      end[a][1] = home[a] + 1;
      w[a] = (at[a] - line[0]) / (line[1] - line[0]);
      if (a != 2 && end[2][0] != end[2][1] && has_board (f, home[0], home[1], end[2][1]))
        w[2] = home[2] == end[2][1] ? 1.0 : 0.0;
      for (int d = 0; d < 3; d++)
        {
          share[d][0] = 1.0 - w[d];
          share[d][1] = w[d];
        }
      for (int c = 0; c < 8; c++)
        {
          int x = c & 1, y = c >> 1 & 1, z = c >> 2;
          double wc = share[0][x] * share[1][y] * share[2][z];

          if (wc != 0.0)
            sum += wc * face[end[0][x] + row * end[1][y] + plane * end[2][z]];
        }
      out[a] = sum;
    }
}

/* --- pictures ------------------------------------------------------------------------ */

/* Mean over the depth of a view: flat[column + columns * row] over zones, and
 * whether a board parts a cell from the one below it (front and side views). */
static void
flatten (const DewForecast *f, DewValue value, const int axis[3], double lo, double hi,
         double *flat, guint8 *board)
{
  const double *v = f->value[value];
  int columns = f->n[axis[0]], rows = f->n[axis[1]];
  int stride[3] = { 1, f->n[0], f->n[0] * f->n[1] };

  for (int r = 0; r < rows; r++)
    for (int c = 0; c < columns; c++)
      {
        double sum = 0.0, weight = 0.0, closed = 0.0;

        for (int d = 0; d < f->n[axis[2]]; d++)
          {
            double w = dew_span_shared (lo, hi, f->line_m[axis[2]][d], f->line_m[axis[2]][d + 1]);
            int at = c * stride[axis[0]] + r * stride[axis[1]] + d * stride[axis[2]];

            if (w <= 0.0)
              continue;
            sum += w * v[at];
            weight += w;
            if (axis[1] == 2 && f->board[at] != 0)
              closed += w;
          }
        flat[c + columns * r] = weight > 0.0 ? sum / weight : NAN;
        board[c + columns * r] = weight > 0.0 && closed > 0.5 * weight;
      }
}

void
dew_forecast_picture (const DewForecast *f, DewValue value, DewView view, double lo, double hi,
                      int columns, int rows, double *out)
{
  const int axis[3] = { dew_view_across (view), dew_view_up (view), dew_view_depth (view) };

  g_return_if_fail (value < DEW_N_VALUES && view <= DEW_VIEW_PLAN && columns > 0 && rows > 0);

  int nc = f->n[axis[0]], nr = f->n[axis[1]];
  g_autofree double *flat = g_new (double, nc *nr);
  g_autofree guint8 *board = g_new (guint8, nc * nr);

  if (lo >= hi)
    {
      lo = 0.0;
      hi = f->inner_m[axis[2]];
    }
  flatten (f, value, axis, lo, hi, flat, board);
  for (int r = 0; r < rows; r++)
    {
      double y = (r + 0.5) / rows * f->inner_m[axis[1]];
      int home = zone_along (f, axis[1], y), low_r, high_r;
      double wy;

      between_middles (f, axis[1], home, y, &low_r, &high_r, &wy);
      for (int c = 0; c < columns; c++)
        {
          double x = (c + 0.5) / columns * f->inner_m[axis[0]], wx, w = wy;
          int low_c, high_c;

          int column = zone_along (f, axis[0], x);

          between_middles (f, axis[0], column, x, &low_c, &high_c, &wx);
          if (low_r != high_r && board[column + nc * high_r])
            w = home == high_r ? 1.0 : 0.0;
          out[r * columns + c]
            = (1.0 - w) * ((1.0 - wx) * flat[low_c + nc * low_r] + wx * flat[high_c + nc * low_r])
              + w * ((1.0 - wx) * flat[low_c + nc * high_r] + wx * flat[high_c + nc * high_r]);
        }
    }
}

/* --- boxes --------------------------------------------------------------------------- */

void
dew_forecast_box (const DewForecast *f, const double lo[3], const double hi[3], DewClimate *out)
{
  double sum[DEW_N_VALUES] = { 0.0 }, still = 0.0, drip = 0.0, volume = 0.0;
  int first[3], last[3];

  memset (out, 0, sizeof *out);
  for (int a = 0; a < 3; a++)
    {
      first[a] = zone_along (f, a, lo[a]);
      last[a] = zone_along (f, a, hi[a] - 1e-9);
    }
  for (int k = first[2]; k <= last[2]; k++)
    for (int j = first[1]; j <= last[1]; j++)
      for (int i = first[0]; i <= last[0]; i++)
        {
          int c[3] = { i, j, k }, at = i + f->n[0] * (j + f->n[1] * k);
          double v = 1.0;

          for (int a = 0; a < 3; a++)
            v *= dew_span_shared (lo[a], hi[a], f->line_m[a][c[a]], f->line_m[a][c[a] + 1]);
          volume += v;
          still += v * f->still_share[at];
          drip += v * f->drip_kg_m2s[at];
          for (int n = 0; n < DEW_N_VALUES; n++)
            sum[n] += v * f->value[n][at];
        }

  double share = volume > 0.0 ? 1.0 / volume : NAN;

  out->t_C = share * sum[DEW_VALUE_TEMPERATURE];
  out->rh = share * sum[DEW_VALUE_RH];
  out->w_kg_kg = share * sum[DEW_VALUE_HUMIDITY_RATIO];
  out->vpd_Pa = share * sum[DEW_VALUE_VPD];
  out->speed_m_s = share * sum[DEW_VALUE_SPEED];
  out->age_s = share * sum[DEW_VALUE_AGE];
  out->mist_kg_kg = share * sum[DEW_VALUE_MIST];
  out->still_share = share * still;
  out->ppfd_mol_m2s = share * sum[DEW_VALUE_PPFD];
  out->wetting_kg_m2s = share * sum[DEW_VALUE_WETTING];
  out->drip_kg_s = share * drip * (hi[0] - lo[0]) * (hi[1] - lo[1]);
  out->t_band_K = out->rh_band = out->w_band_kg_kg = NAN;
  out->vpd_band_Pa = out->speed_band_m_s = out->age_band_s = out->still_band = NAN;
}
