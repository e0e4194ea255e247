/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "flow/flow-private.h"

#include <math.h>

#define LEAK_REFERENCE_PA \
  4.0            /* effective leakage area is stated at 4 Pa: ASHRAE Fundamentals ch. 16 */
#define SWEEPS 3 /* one leaves limit cycles, two give up on strong heat */
#define FASTEST_M_S 50.0

/* Drag of leaves and wires is of the air as it comes and goes: the mean of |u| u is
 * sqrt (U^2 + 2.67 k) U where the mean U is fast and sqrt (3.0 k) U where it is slow, for
 * fluctuations that are normal and alike in all directions. */
#define GUST 2.8

/* --- one step ---------------------------------------------------------------- */

DEW_TWICE static void
update_speed (DewFlow *f)
{
  const DewZones *z = f->z;
  const double *u = f->u[0], *v = f->u[1], *w = f->u[2];
  const double *wu = f->weight[0], *wv = f->weight[1], *ww = f->weight[2];
  int s1 = z->stride[1], s2 = z->stride[2];

  DEW_EACH_ZONE (z, at)
    {
      double a = u[at] * wu[at] + u[at + 1] * wu[at + 1];
      double b = v[at] * wv[at] + v[at + s1] * wv[at + s1];
      double c = w[at] * ww[at] + w[at + s2] * ww[at + s2];
      double square = a * a + b * b + c * c;
      double speed = sqrt (square);
      double root = sqrt (speed);

      f->speed[at] = speed;
      f->speed34[at] = root * sqrt (root);
      f->gust[at] = sqrt (square + GUST * f->k[at]);
    }
}

DEW_TWICE static void
update_flux (DewFlow *f)
{
  for (int a = 0; a < 3; a++)
    {
      const double *restrict u = f->u[a], *restrict open = f->z->open_m2[a];
      double *restrict q = f->q[a];

      for (int at = 0; at < f->z->size; at++)
        q[at] = u[at] * open[at];
    }
}

#define AT(array, at) DEW_LANES_AT ((array) + (at))

/* Coefficients across the low sides in direction d of the momentum cells of
 * axis a, those of padded indices first .. last - 1. */
DEW_PART void
assemble_side (DewFlow *f, int a, int d, int first, int last)
{
  int sa = f->z->stride[a], sd = f->z->stride[d];
  const double *u = f->u[a], *q = f->q[d], *nu = f->nu;
  double half_weight = 0.5 * f->o.central_weight;

  for (int at = first; at < last; at += DEW_LANES)
    {
      DewLanes flux = 0.5 * (AT (q, at) + AT (q, at - sa));
      DewLanes in = DEW_LANES_WHERE (flux > 0.0, flux), out = in - flux;
      DewLanes across = AT (u, at) - AT (u, at - sd), mean_nu, more;

      if (a == d)
        {
          mean_nu = AT (nu, at - sa);
          across *= half_weight;
          more = in + out;
        }
      else
        {
          mean_nu
            = 0.25 * (AT (nu, at) + AT (nu, at - sa) + AT (nu, at - sd) + AT (nu, at - sa - sd));
          more = in * AT (f->blend_in[d], at) + out * AT (f->blend_out[d], at);
        }
      mean_nu *= AT (f->side[a][d].open_1, at);
      AT (f->low[d], at) = mean_nu + in;
      AT (f->high[d], at) = mean_nu + out;
      AT (f->deferred[d], at) = across * more;
    }
}

/* Adds the shear of the walls across direction d beside the momentum cells from i on. */
DEW_PART void
add_wall_shear (const DewFlow *f, int a, int d, const int cell[3], int at, const DewLanes *s34,
                DewLanes *sum)
{
  DewLanes smooth, turbulent;

  if (d == 0)
    {
      smooth = AT (f->wall_nu[0], cell[0]);
      turbulent = *s34 * AT (f->wall_turb[0], cell[0]);
    }
  else
    {
      smooth = (DewLanes){ 0 } + f->wall_nu[d][cell[d]];
      turbulent = *s34 * f->wall_turb[d][cell[d]];
    }
  *sum += DEW_LANES_LARGER (smooth, turbulent) * AT (f->side[a][d].wall_m2, at);
}

/* The equations of the momentum cells of axis a from (i, j, k) on along the row. */
DEW_PART void
assemble_cells (DewFlow *f, int a, const int cell[3], double dt_1)
{
  const DewZones *z = f->z;
  int b = (a + 1) % 3, c = (a + 2) % 3, at = dew_zones_at (z, cell[0], cell[1], cell[2]);
  int sa = z->stride[a], sb = z->stride[b], sc = z->stride[c];
  const double *p = f->p, *lift = f->buoyancy, *upper = f->upper;
  DewLanes v = AT (f->cell_m3[a], at), gap_1 = AT (f->gap_1_m[a], at);
  DewLanes s = 0.5 * (AT (f->gust, at) + AT (f->gust, at - sa));
  DewLanes s34 = 0.5 * (AT (f->speed34, at) + AT (f->speed34, at - sa));
  DewLanes brake = (DewLanes){ 0 } + dt_1;
  DewLanes push = AT (f->u[a], at) * dt_1 - (AT (p, at) - AT (p, at - sa)) * gap_1;
  DewLanes walls = { 0 };
  DewLanes diagonal, rhs;

  add_wall_shear (f, a, b, cell, at, &s34, &walls);
  add_wall_shear (f, a, c, cell, at, &s34, &walls);
  if (f->loads != NULL)
    brake += 0.5 * (AT (f->loads->drag_1_m, at) + AT (f->loads->drag_1_m, at - sa)) * s;
  if (f->loads != NULL && a == 2)
    brake += 0.5 * AT (f->loads->deck_loss, at) * s * gap_1;
  if (lift != NULL && a == 2)
    push += AT (lift, at) * (1.0 - AT (upper, at)) + AT (lift, at - sa) * AT (upper, at);
  diagonal = AT (f->low[a], at) + AT (f->high[a], at + sa) + AT (f->low[b], at)
             + AT (f->high[b], at + sb) + AT (f->low[c], at) + AT (f->high[c], at + sc) + v * brake
             + walls;
  rhs = v * push + AT (f->deferred[a], at) - AT (f->deferred[a], at + sa) + AT (f->deferred[b], at)
        - AT (f->deferred[b], at + sb) + AT (f->deferred[c], at) - AT (f->deferred[c], at + sc);
  if (f->loads != NULL)
    rhs += AT (f->loads->force[a], at);
  AT (f->rhs, at) = rhs;
  AT (f->inverse, at) = DEW_LANES_WHERE (AT (f->active[a], at) > 0.0, 1.0 / diagonal);
}

/* Plane by plane, so that what the sides leave is still near when the equations take it. Whole
 * lanes run on past the end of a row, into what comes next or is never read. */
DEW_PART void
assemble_axis (DewFlow *f, int a, double dt)
{
  const DewZones *z = f->z;
  int plane = z->stride[2], from = plane + z->stride[1] + 1;

  for (int k = 1; k <= z->n[2]; k++)
    {
      int until = (k + 2) * plane;

      for (int d = 0; d < 3; d++)
        assemble_side (f, a, d, from, until);
      from = until;
      if (a == 2 && k == 1)
        continue;
      for (int j = a == 1 ? 2 : 1; j <= z->n[1]; j++)
        for (int i = a == 0 ? 2 : 1; i <= z->n[0]; i += DEW_LANES)
          assemble_cells (f, a, (int[]){ i, j, k }, 1.0 / dt);
    }
}

DEW_TWICE static void
assemble (DewFlow *f, int a, double dt)
{
  /* Three kinds of loop, each with its axis known. */
  if (a == 0)
    assemble_axis (f, 0, dt);
  else if (a == 1)
    assemble_axis (f, 1, dt);
  else
    assemble_axis (f, 2, dt);
}

/* A sliding wall drags what is beside it (benchmarks only). */
static void
add_lids (DewFlow *f, int a)
{
  const DewZones *z = f->z;
  int first[3] = { 1, 1, 1 };

  first[a] = 2;
  for (int k = first[2]; k <= z->n[2]; k++)
    for (int j = first[1]; j <= z->n[1]; j++)
      for (int i = first[0]; i <= z->n[0]; i++)
        {
          int c[3] = { i, j, k };
          int at = dew_zones_at (z, i, j, k);

          for (int d = 0; d < 3; d++)
            for (int end = 0; end < 2 && d != a; end++)
              if (c[d] == (end == 0 ? 1 : z->n[d]))
                {
                  int face = at + (end == 0 ? 0 : z->stride[d]);
                  double area = 0.5 * (z->gross_m2[d][face] + z->gross_m2[d][face - z->stride[a]]);

                  f->rhs[at] += f->wall_nu[d][c[d]] * area * f->o.lid_m_s[2 * d + end][a];
                }
        }
}

/* All that rows take from others and from the side that the sweep has not come to. Faces that
 * are not solved for (openings, fixed flows) keep their velocity. */
DEW_PART void
gather_rows (const DewFlow *f, const DewRowOrder *o, int first, const double *u,
             const DewRows *rows, gboolean back)
{
  const double *low = f->low[0], *high = f->high[0];
  int s1 = f->z->stride[1], s2 = f->z->stride[2];

  for (int r = 0; r < rows->n; r++)
    for (int i = first; i <= f->z->n[0]; i += DEW_LANES)
      {
        int at = rows->at + r * rows->skip + i;
        DewLanes inverse = DEW_LANES_AT (f->inverse + at), before = DEW_LANES_AT (low + at);
        DewLanes after = DEW_LANES_AT (high + at + 1);
        DewLanes sum = DEW_LANES_AT (f->rhs + at)
                       + DEW_LANES_AT (f->low[1] + at) * DEW_LANES_AT (u + at - s1)
                       + DEW_LANES_AT (f->high[1] + at + s1) * DEW_LANES_AT (u + at + s1)
                       + DEW_LANES_AT (f->low[2] + at) * DEW_LANES_AT (u + at - s2)
                       + DEW_LANES_AT (f->high[2] + at + s2) * DEW_LANES_AT (u + at + s2);

        sum += back ? before * DEW_LANES_AT (u + at - 1) : after * DEW_LANES_AT (u + at + 1);
        DEW_LANES_AT (o->t + r * o->row + i)
          = DEW_LANES_WHERE (inverse == 0.0, DEW_LANES_AT (u + at)) + inverse * sum;
        DEW_LANES_AT (o->c + r * o->row + i) = inverse * (back ? after : before);
      }
}

DEW_TWICE void
dew_flow_sweep (DewFlow *f, const DewRowOrder *o, int first, double *u, int sweeps)
{
  int last = f->z->n[0];

  for (int s = 0; s < sweeps; s++)
    for (int g = 0; g < o->n; g++)
      if (s & 1)
        {
          const DewRows *rows = &o->rows[o->n - 1 - g];

          gather_rows (f, o, first, u, rows, TRUE);
          dew_rows_wait (o, rows, first, last, -1, u);
        }
      else
        {
          gather_rows (f, o, first, u, &o->rows[g], FALSE);
          dew_rows_wait (o, &o->rows[g], first, last, 1, u);
        }
}

/* While the momentum of one axis is solved, its faces to the room hold the velocity with
 * which their air reaches the middle of the zone. The jet of a crack is gone by there: it
 * counts by its flow over the whole face. With its own speed of some metres a second all
 * that passes there would take that up, and a crack would stir the box. */
static void
calm_cracks (DewFlow *f, int a)
{
  const DewZones *z = f->z;

  for (int i = 0; i < z->n_patches; i++)
    {
      const DewPatch *patch = &z->patches[i];

      if (patch->axis != a || !f->leads[i] || patch->thing_id != 0)
        continue;
      f->crack_m_s[i] = f->u[a][patch->face];
      f->u[a][patch->face] *= z->open_m2[a][patch->face] / z->gross_m2[a][patch->face];
    }
}

static void
restore_cracks (DewFlow *f, int a)
{
  for (int i = 0; i < f->z->n_patches; i++)
    {
      const DewPatch *patch = &f->z->patches[i];

      if (patch->axis == a && f->leads[i] && patch->thing_id == 0)
        f->u[a][patch->face] = f->crack_m_s[i];
    }
}

/* What acts on the air of one face to the room: acceleration along the axis, and the brake
 * (1/s) of loss or crack, both of the tangent to the law at the present speed: with the
 * secant a tight enclosure swings to and fro between two speeds. */
static void
room_face (const DewFlow *f, int i, double *push, double *brake)
{
  const DewZones *z = f->z;
  const DewPatch *patch = &z->patches[i];
  int a = patch->axis, at = patch->face;
  int inner = patch->sign > 0 ? at + z->stride[a] : at - z->stride[a];
  double gap_1 = f->gap_1_m[a][at], u = f->u[a][at], speed = fabs (u);
  /* Speed at the middle of the zone, along the normal: a jet that runs along the wall does
   * not push out. By the flows at the start of the step: what the sweeps left is not
   * projected yet. */
  double along = 0.5 * (f->q[a][at] + f->q[a][inner]) / z->gross_m2[a][at];
  double head = 0.0, secant, power = 2.0;

  if (patch->thing_id != 0)
    secant = 0.5 * f->room_loss[i] * speed * gap_1;
  else
    {
      /* dp = 4 Pa (u / u_4Pa)^(1/n): ASHRAE Fundamentals ch. 16, power law. */
      double leak_speed = sqrt (2.0 * LEAK_REFERENCE_PA / f->o.density_kg_m3);

      power = 1.0 / z->leak_exponent;
      secant = LEAK_REFERENCE_PA / f->o.density_kg_m3
               * pow (MAX (speed, 1e-6) / leak_speed, power - 1.0) / leak_speed * gap_1;
    }
  *brake = power * secant;
  *push = (power - 1.0) * secant * u - patch->sign * f->p[patch->zone] * gap_1;
  if (a == 2 && f->buoyancy != NULL)
    *push += f->buoyancy[patch->zone];
  /* The law of an opening is on total pressure: air on its way out has its speed already. Air
   * that comes in is a jet, whose pressure is that of the air round it, unless something
   * (a fan, a narrow bay) makes it faster on the way to the middle of the zone: that
   * costs pressure as it does anywhere (Bernoulli). */
  if (u * patch->sign < 0.0)
    head = along * along;
  else if (patch->thing_id != 0 && along * patch->sign > speed)
    head = along * along - u * u;
  *push -= patch->sign * 0.5 * head * gap_1;
}

/* Faces to the room: half a momentum cell between the opening and the middle of the zone, loss
 * implicit. The projection knows nothing of the losses, and where cracks are all there is, it
 * would take a hundred steps to bring the pressure to what they ask for. So first the
 * whole enclosure is lifted to the pressure at which as much comes in as goes out. */
static void
step_room_faces (DewFlow *f, double dt)
{
  const DewZones *z = f->z;
  double net = 0.0, yield = 0.0, lift;

  for (int i = 0; i < z->n_patches; i++)
    {
      const DewPatch *patch = &z->patches[i];
      int a = patch->axis, at = patch->face;
      double push, brake;

      if (z->kind[a][at] == DEW_FACE_IS_FIXED)
        net += patch->sign * f->u[a][at] * patch->area_m2;
      if (!f->leads[i])
        continue;
      room_face (f, i, &push, &brake);
      f->u[a][at] = (f->u[a][at] / dt + push) / (1.0 / dt + brake);
      f->yield[i] = f->gap_1_m[a][at] / (1.0 / dt + brake);
      net += patch->sign * f->u[a][at] * z->open_m2[a][at];
      yield += f->yield[i] * z->open_m2[a][at];
    }
  if (yield <= 0.0)
    return;
  lift = net / yield;
  for (int i = 0; i < z->n_patches; i++)
    if (f->leads[i])
      f->u[z->patches[i].axis][z->patches[i].face] -= z->patches[i].sign * lift * f->yield[i];
  DEW_EACH_ZONE (z, at)
    f->p[at] += lift;
}

DEW_TWICE static void
project (DewFlow *f, double dt, gboolean keep_pressure)
{
  const DewZones *z = f->z;
  int s1 = z->stride[1], s2 = z->stride[2];
  const double *qx = f->q[0], *qy = f->q[1], *qz = f->q[2];
  double dt_1 = 1.0 / dt;

  update_flux (f);
  DEW_EACH_ZONE (z, at)
    f->source[at] = dt_1 * (qx[at] - qx[at + 1] + qy[at] - qy[at + s1] + qz[at] - qz[at + s2]);
  dew_pressure_solve (f->matrix, z, f->source, f->phi);

  /* phi of the rim is zero: the room. */
  for (int a = 0; a < 3; a++)
    {
      const double *restrict phi = f->phi, *restrict gap_1 = f->gap_1_m[a];
      const double *restrict active = f->active[a];
      double *restrict u = f->u[a];
      int sa = z->stride[a];

      for (int at = sa; at < z->size; at++)
        u[at] -= active[at] * dt * (phi[at] - phi[at - sa]) * gap_1[at];
    }
  for (int i = 0; i < z->n_patches; i++)
    {
      const DewPatch *patch = &z->patches[i];
      int a = patch->axis, at = patch->face;

      if (!f->leads[i])
        continue;
      f->u[a][at] -= patch->sign * dt * f->phi[patch->zone] * f->gap_1_m[a][at];
    }
  if (keep_pressure)
    for (int at = 0; at < z->size; at++)
      f->p[at] += f->phi[at];
  update_flux (f);
}

DEW_TWICE static gboolean
is_sane (const DewFlow *f)
{
  int mad = 0;

  /* Also of a speed that is no number. */
  for (int at = 0; at < f->z->size; at++)
    mad |= !(f->speed[at] <= FASTEST_M_S);
  return mad == 0;
}

gboolean
dew_flow_step (DewFlow *f, double dt)
{
  update_flux (f);
  for (int a = 0; a < 3; a++)
    {
      calm_cracks (f, a);
      assemble (f, a, dt);
      if (f->has_lid)
        add_lids (f, a);
      dew_flow_sweep (f, &f->order[a], a == 0 ? 2 : 1, f->u[a], SWEEPS);
      restore_cracks (f, a);
    }
  step_room_faces (f, dt);
  project (f, dt, TRUE);
  update_speed (f);
  if (!f->o.laminar)
    dew_flow_step_turbulence (f, dt);
  return is_sane (f);
}

void
dew_flow_set_state (DewFlow *f, const double *const velocity[3], const double *pressure)
{
  const DewZones *z = f->z;

  for (int a = 0; a < 3; a++)
    for (int at = 0; at < z->size; at++)
      if (z->kind[a][at] == DEW_FACE_IS_INSIDE || z->kind[a][at] == DEW_FACE_IS_ROOM)
        f->u[a][at] = velocity[a][at];
  if (pressure != NULL)
    for (int at = 0; at < z->size; at++)
      f->p[at] = z->volume_m3[at] > 0.0 ? pressure[at] : 0.0;
  project (f, 1.0, FALSE);
  update_speed (f);
}
