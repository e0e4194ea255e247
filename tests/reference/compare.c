/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "compare.h"

#include "forecast/bands.h"

#include <math.h>

/* Half widths of the bands: a share of the reference and an absolute floor. */
typedef struct
{
  double share;
  double floor;
} Band;

typedef struct
{
  Band must, goal;
} Bands;

static const Bands bay_bands[DEW_CASE_N_QUANTITIES] = {
  [DEW_CASE_SPEED] = { { 0.30, 0.04 }, { 0.15, 0.02 } },
  [DEW_CASE_STILL] = { { 0, 0.30 }, { 0, 0.12 } },
  [DEW_CASE_AGE] = { { 0.20, 0 }, { 0.10, 0 } },
  [DEW_CASE_T_RISE] = { { 0.20, 0.6 }, { 0.08, 0.25 } },
  [DEW_CASE_W_RISE] = { { 0.20, 0 }, { 0.08, 0 } }, /* of the largest bay */
};
static const DewBandQuantity own_bands[DEW_CASE_N_QUANTITIES] = {
  [DEW_CASE_SPEED] = DEW_BAND_SPEED, [DEW_CASE_STILL] = DEW_BAND_STILL,
  [DEW_CASE_AGE] = DEW_BAND_AGE,     [DEW_CASE_T_RISE] = DEW_BAND_T,
  [DEW_CASE_W_RISE] = DEW_BAND_W,
};

static const Bands flow_bands = { { 0.20, 0 }, { 0.08, 0 } };

static const double age_must_in_jet = 0.35;
static const double quarter_factor = 1.5; /* on the must band */
static const double correlation_must = 0.75;
static const double correlation_goal = 0.90;

const char *
dew_verdict_key (DewVerdict verdict)
{
  static const char *const keys[DEW_N_VERDICTS] = { "goal", "must", "out" };

  return keys[verdict];
}

static double
width (Band band, double scale)
{
  return MAX (band.share * fabs (scale), band.floor);
}

static void
judge (DewCaseRow *row)
{
  double off = fabs (row->predicted - row->reference);
  gboolean goal = row->correlation ? row->predicted >= row->goal : off <= row->goal;
  gboolean must = row->correlation ? row->predicted >= row->must : off <= row->must;

  /* NAN is inside no band. */
  row->verdict = goal ? DEW_VERDICT_GOAL : must ? DEW_VERDICT_MUST : DEW_VERDICT_OUT;
}

static double
climate_value (const DewForecast *forecast, const DewClimate *climate, DewCaseQuantity quantity)
{
  switch (quantity)
    {
    case DEW_CASE_SPEED:
      return climate->speed_m_s;
    case DEW_CASE_STILL:
      return climate->still_share;
    case DEW_CASE_AGE:
      return climate->age_s;
    case DEW_CASE_T_RISE:
      return climate->t_C - forecast->room_t_C;
    case DEW_CASE_W_RISE:
      return climate->w_kg_kg - forecast->room_w_kg_kg;
    default:
      g_return_val_if_reached (NAN);
    }
}

static void
part_climate (const DewCase *c, const DewForecast *forecast, int bay, DewCasePart part,
              DewClimate *out)
{
  const DewCaseBay *b = &c->bays[bay];
  double lo_m[3] = { 0, 0, b->z0_m };
  double hi_m[3] = { c->box_m[0], c->box_m[1], b->z1_m };
  const double edge_m = 1e-3;

  switch (part)
    {
    case DEW_CASE_BAY:
      if (bay < forecast->n_bays && fabs (forecast->bays[bay].z0_m - b->z0_m) < edge_m
          && fabs (forecast->bays[bay].z1_m - b->z1_m) < edge_m)
        {
          *out = forecast->bays[bay].mean;
          return;
        }
      break;
    case DEW_CASE_LEFT_FRONT:
    case DEW_CASE_LEFT_BACK:
      hi_m[0] = 0.5 * c->box_m[0];
      break;
    default:
      lo_m[0] = 0.5 * c->box_m[0];
    }
  if (part == DEW_CASE_LEFT_FRONT || part == DEW_CASE_RIGHT_FRONT)
    hi_m[1] = 0.5 * c->box_m[1];
  if (part == DEW_CASE_LEFT_BACK || part == DEW_CASE_RIGHT_BACK)
    lo_m[1] = 0.5 * c->box_m[1];
  dew_forecast_box (forecast, lo_m, hi_m, out);
}

static double
largest_w_rise (const DewCase *c)
{
  double largest = 0;

  for (int b = 0; b < c->n_bays; b++)
    if (isfinite (c->bays[b].value[DEW_CASE_W_RISE][DEW_CASE_BAY]))
      largest = MAX (largest, fabs (c->bays[b].value[DEW_CASE_W_RISE][DEW_CASE_BAY]));
  return largest;
}

static void
add_bay (GArray *rows, const DewCase *c, const DewForecast *forecast, int bay)
{
  DewBandGround ground = dew_bands_ground (c->chamber, 0, FALSE);
  DewClimate climate[DEW_CASE_N_PARTS];

  for (int p = 0; p < DEW_CASE_N_PARTS; p++)
    part_climate (c, forecast, bay, p, &climate[p]);

  for (int q = 0; q < DEW_CASE_N_QUANTITIES; q++)
    for (int p = 0; p < DEW_CASE_N_PARTS; p++)
      {
        DewCaseRow row
          = { .bay = bay, .quantity = dew_case_quantity_key (q), .of = q, .climate = climate[p] };
        Bands bands = bay_bands[q];

        row.reference = c->bays[bay].value[q][p];
        if (isnan (row.reference))
          continue;
        if (q == DEW_CASE_AGE && c->bays[bay].jet)
          bands.must.share = age_must_in_jet;
        row.scale = q == DEW_CASE_W_RISE ? largest_w_rise (c) : row.reference;
        row.predicted = climate_value (forecast, &climate[p], q);
        ground.only_part = p != DEW_CASE_BAY;
        row.band = dew_bands_error (forecast, &climate[p], &ground, own_bands[q]);
        row.goal = width (bands.goal, row.scale);
        row.must = width (bands.must, row.scale) * (p == DEW_CASE_BAY ? 1 : quarter_factor);
        g_strlcpy (row.where, dew_case_part_key (p), sizeof row.where);
        judge (&row);
        g_array_append_val (rows, row);
      }
}

static void
add_flow (GArray *rows, const DewForecast *forecast, const DewCaseFlow *flow)
{
  DewCaseRow row
    = { .bay = -1, .quantity = "net_inflow_m3_s", .of = -1, .predicted = NAN, .band = NAN };

  for (int e = 0; e < forecast->n_exchanges; e++)
    if (forecast->exchanges[e].thing_id == flow->thing_id)
      row.predicted = forecast->exchanges[e].inflow_m3_s - forecast->exchanges[e].outflow_m3_s;
  g_snprintf (row.where, sizeof row.where, "opening %s", flow->name);
  row.reference = row.scale = flow->inflow_m3_s;
  row.goal = width (flow_bands.goal, row.reference);
  row.must = width (flow_bands.must, row.reference);
  judge (&row);
  g_array_append_val (rows, row);
}

/* Pearson's correlation of two lists of n numbers. */
static double
correlation (const double *a, const double *b, int n)
{
  double mean_a = 0, mean_b = 0, aa = 0, bb = 0, ab = 0;

  for (int i = 0; i < n; i++)
    {
      mean_a += a[i] / n;
      mean_b += b[i] / n;
    }
  for (int i = 0; i < n; i++)
    {
      aa += (a[i] - mean_a) * (a[i] - mean_a);
      bb += (b[i] - mean_b) * (b[i] - mean_b);
      ab += (a[i] - mean_a) * (b[i] - mean_b);
    }
  return ab / sqrt (aa * bb);
}

static void
add_field (GArray *rows, const DewCase *c, const DewForecast *forecast)
{
  const int *n = c->n_blocks;
  int total = n[0] * n[1] * n[2];
  g_autofree double *speed_m_s = g_new (double, total);
  DewCaseRow row = { .bay = -1,
                     .where = "field",
                     .quantity = "block_speed_correlation",
                     .of = -1,
                     .reference = 1,
                     .scale = 1,
                     .band = NAN,
                     .must = correlation_must,
                     .goal = correlation_goal,
                     .correlation = TRUE };

  for (int i = 0; i < total; i++)
    {
      int index[3] = { i % n[0], i / n[0] % n[1], i / (n[0] * n[1]) };
      double lo_m[3], hi_m[3];
      DewClimate climate;

      for (int a = 0; a < 3; a++)
        {
          lo_m[a] = c->box_m[a] * index[a] / n[a];
          hi_m[a] = c->box_m[a] * (index[a] + 1) / n[a];
        }
      dew_forecast_box (forecast, lo_m, hi_m, &climate);
      speed_m_s[i] = climate.speed_m_s;
    }
  row.predicted = correlation (speed_m_s, c->block_speed_m_s, total);
  judge (&row);
  g_array_append_val (rows, row);
}

GArray *
dew_case_compare (const DewCase *c, const DewForecast *forecast)
{
  GArray *rows = g_array_new (FALSE, FALSE, sizeof (DewCaseRow));

  for (int b = 0; b < c->n_bays; b++)
    add_bay (rows, c, forecast, b);
  for (int f = 0; f < c->n_flows; f++)
    add_flow (rows, forecast, &c->flows[f]);
  if (c->block_speed_m_s)
    add_field (rows, c, forecast);
  return rows;
}
