/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* One case on one grid: its fields where the kernels run, and the steps. */

#include "device.h"
#include "layout.h"
#include "momentum.h"
#include "scalars.h"
#include "statistics.h"

#include <chrono>

static const int steps_a_sample = 10; /* also between choices of the step */
static const int steps_a_batch = 20;  /* launched as one graph */
static const int max_batches = 10;    /* between looks at the clock */

inline double
now_s ()
{
  using namespace std::chrono;

  return duration<double> (steady_clock::now ().time_since_epoch ()).count ();
}

/* Fields of one moment, brought back to start another grid from. */
struct Snapshot
{
  int n[3], sy, sz;
  double h[3];
  std::vector<float> u[3], scalar[3], p;
};

/* Time means. */
struct Means
{
  std::vector<float> field[N_MEANS];
  double opening[8 * max_openings];
  long long samples = 0;
  double averaged_s = 0;
};

#ifdef __CUDACC__
/* One block of 128 threads an opening. */
__global__ void
sum_openings (Grid g)
{
  const int o = blockIdx.x, t = threadIdx.x;
  double sums[SUM_SQUARE] = { 0, 0, 0, 0, 0 };
  __shared__ double shared[SUM_SQUARE][128];

  if (!g.control->averaging)
    return;
  for (int i = t; i < g.opening[o].n; i += blockDim.x)
    add_opening_face (g, g.opening[o], i, sums);
  for (int k = 0; k < SUM_SQUARE; k++)
    shared[k][t] = sums[k];
  __syncthreads ();
  for (int w = 64; w > 0; w >>= 1)
    {
      for (int k = 0; k < SUM_SQUARE && t < w; k++)
        shared[k][t] += shared[k][t + w];
      __syncthreads ();
    }
  if (t > 0)
    return;
  for (int k = 0; k < SUM_SQUARE; k++)
    sums[k] = shared[k][0];
  add_opening (g, o, sums);
}

__global__ void
next_step (Grid g)
{
  Control c = *g.control;

  c.rate_1_s = __int_as_float (c.rate_bits);
  choose_step (c, g.substeps, steps_a_sample);
  c.rate_bits = 0;
  *g.control = c;
}
#endif

class Simulation
{
public:
  const Case c;
  const Scalars scalars;
  const Layout layout;
  Grid g = {};
  Control control = {}; /* as last looked at */

  Simulation (const Case &wanted, double cell_m)
      : c (wanted), scalars (wanted), layout (wanted, scalars, cell_m)
  {
    set_constants ();
    make_fields ();
    set_first_step ();
  }

  ~Simulation ()
  {
#ifdef __CUDACC__
    if (graph_run)
      cudaGraphExecDestroy (graph_run);
    if (graph)
      cudaGraphDestroy (graph);
#endif
  }

  /* --- start ------------------------------------------------------------------ */

  /* From rest with a little noise, so that nothing stays symmetric by chance; or from a
   * Taylor-Green vortex, to test decay. */
  void
  start ()
  {
    std::vector<float> v[3];
    unsigned random = 12345;

    for (int a = 0; a < 3; a++)
      v[a] = fetch (g.u[0][a]);
    layout.for_cells ([&] (int i, int j, int k) {
      const int q = layout.id (i, j, k);

      for (int a = 0; a < 3; a++)
        {
          if (low_face (layout.flags[q], a) != FACE_FLUID)
            continue;
          random = random * 1664525u + 1013904223u;

          const float noise = c.noise_m_s * ((random >> 8) * (2. / 16777216) - 1);

          v[a][q] += c.init == "rest" ? noise : vortex (a, i, j, k);
        }
    });
    for (int a = 0; a < 3; a++)
      set_velocity (a, v[a]);
    if (c.held && scalars.heat >= 0)
      set_scalar (scalars.heat, std::vector<float> (layout.size, mean_wall_K ()));
  }

  /* From the state on another grid, linear in velocity, nearest cell in the rest. */
  void
  start_from (const Snapshot &s)
  {
    for (int a = 0; a < 3; a++)
      {
        std::vector<float> v = fetch (g.u[0][a]);

        layout.for_cells ([&] (int i, int j, int k) {
          const int q = layout.id (i, j, k);

          if (low_face (layout.flags[q], a) == FACE_FLUID)
            v[q] = velocity_between (s, a, i, j, k);
        });
        set_velocity (a, v);
      }
    for (int q = 0; q < scalars.n; q++)
      set_scalar (q, nearest (s, s.scalar[q]));

    const std::vector<float> p = nearest (s, s.p);

    device.put (g.p, p.data (), layout.size);
    for (int b = 0; b < 2; b++)
      device.put (g.pe[b], p.data (), layout.size);
  }

  Snapshot
  snapshot ()
  {
    Snapshot s;

    for (int a = 0; a < 3; a++)
      {
        s.n[a] = layout.n[a];
        s.h[a] = g.h[a];
        s.u[a] = fetch (g.u[0][a]);
      }
    s.sy = layout.sy;
    s.sz = layout.sz;
    for (int q = 0; q < scalars.n; q++)
      s.scalar[q] = fetch (g.scalar[0][q]);
    s.p = fetch (g.p);
    return s;
  }

  /* --- steps ------------------------------------------------------------------- */

  /* Until the time t_s of the simulation or the moment stop_s of the clock, whichever comes
   * first; FALSE when the run blew up. */
  bool
  run_until (double t_s, double stop_s)
  {
    for (;;)
      {
        look ();
        if (control.bad)
          return false;
        if (control.t_s >= t_s || now_s () > stop_s)
          return true;

        const int wanted = (int) ceil ((t_s - control.t_s) / (steps_a_batch * control.dt_s));

        run_batches (std::max (1, std::min (wanted, max_batches)));
      }
  }

  void
  begin_average ()
  {
    const double none[8 * max_openings] = { 0 };

    look ();
    control.averaging = 1;
    control.samples = 0;
    control.averaged_s = 0;
    device.put (g.control, &control, 1);
    for (int i = 0; i < N_MEANS; i++)
      device.clear (g.sum[i], layout.size);
    device.put (g.opening_sum, none, 8 * max_openings);
  }

  /* Since begin_average(). */
  Means
  means ()
  {
    Means m;

    look ();
    m.samples = control.samples;
    m.averaged_s = control.averaged_s;
    for (int i = 0; i < N_MEANS; i++)
      {
        m.field[i] = fetch (g.sum[i]);
        for (float &x : m.field[i])
          x /= std::max (1LL, m.samples);
      }
    device.get (m.opening, g.opening_sum, 8 * max_openings);
    for (double &x : m.opening)
      x /= std::max (1LL, m.samples);
    return m;
  }

private:
  Device device;
#ifdef __CUDACC__
  cudaGraph_t graph = nullptr;
  cudaGraphExec_t graph_run = nullptr;
#endif

  void
  set_constants ()
  {
    const double law_a = 8.3, law_b = 1. / 7; /* u+ = A y+^B, Werner & Wengle 1991 */

    g.nx = layout.n[0];
    g.ny = layout.n[1];
    g.nz = layout.n[2];
    g.sy = layout.sy;
    g.sz = layout.sz;
    g.size = layout.size;
    for (int a = 0; a < 3; a++)
      {
        g.h[a] = layout.h[a];
        g.h_1[a] = 1 / g.h[a];
        g.wall_a[a] = (1 - law_b) / 2 * pow (law_a, (1 + law_b) / (1 - law_b))
                      * pow (c.nu / g.h[a], 1 + law_b);
        g.wall_b[a] = (1 + law_b) / law_a * pow (c.nu / g.h[a], law_b);
        g.wall_m_s[a] = c.nu / (2 * (double) g.h[a]) * pow (law_a, 2 / (1 - law_b));
      }
    g.nu = c.nu;
    g.buoyancy = c.gravity * c.expansion;
    g.vreman = c.vreman;
    g.upwind = c.upwind;
    g.damping = c.damping;
    g.lid_m_s = c.lid_m_s;
    g.slip = c.slip;
    g.substeps = c.substeps;
    g.subgrid_prandtl = c.subgrid_prandtl;
    g.held = c.held;
    for (int f = 0; f < 6; f++)
      g.wall_K[f] = c.wall_K[f];
    g.n_scalars = scalars.n;
    g.heat = scalars.heat;
    /* Prandtl number of air, Schmidt number of water vapour in air. */
    if (scalars.heat >= 0)
      g.diffusivity[scalars.heat] = c.nu / 0.71;
    if (scalars.vapour >= 0)
      g.diffusivity[scalars.vapour] = c.nu / 0.6;
    if (scalars.age >= 0)
      g.diffusivity[scalars.age] = c.nu / 0.71;
  }

  void
  make_fields ()
  {
    const std::vector<int> list = layout.list ();

    g.flags = device.make (layout.flags);
    g.list = device.make (list);
    g.n_listed = list.size ();
    for (int b = 0; b < 2; b++)
      {
        g.pe[b] = device.make<float> (layout.size);
        for (int a = 0; a < 3; a++)
          {
            g.u[b][a] = device.make (layout.velocity[a]);
            g.rate[b][a] = device.make<float> (layout.size);
          }
        for (int q = 0; q < scalars.n; q++)
          g.scalar[b][q] = device.make<float> (layout.size);
      }
    g.p = device.make<float> (layout.size);
    g.nut = device.make<float> (layout.size);
    g.drag = device.make (layout.drag);
    g.porous = device.make (layout.porous);
    for (int a = 0; a < 3; a++)
      {
        g.slow[a] = device.make<float> (layout.size);
        g.force[a] = device.make (layout.force[a]);
      }
    for (int q = 0; q < scalars.n; q++)
      g.source[q] = device.make (layout.source[q]);
    for (int i = 0; i < N_MEANS; i++)
      g.sum[i] = device.make<float> (layout.size);
    for (const Layout::Faces &o : layout.openings)
      {
        if (g.n_openings == max_openings)
          {
            fprintf (stderr, "%s: more than %d openings\n", c.name.c_str (), max_openings);
            exit (2);
          }
        g.opening[g.n_openings++]
          = { device.make (o.at), (int) o.at.size (), (float) o.face_m2, o.axis, o.high };
      }
    g.opening_sum = device.make<double> (8 * max_openings);
    g.control = device.make<Control> (1);
  }

  /* Diffusion bounds the step (with four times the molecular viscosity as a reserve for the
   * subgrid's), sound the substep: 0.88 of what forward-backward steps with this damping
   * bear. */
  void
  set_first_step ()
  {
    double sum = 0;

    for (int a = 0; a < 3; a++)
      if (layout.n[a] > 1)
        sum += g.h_1[a] * g.h_1[a];
    control.courant = c.courant;
    control.dt_max_s = std::min (c.dt_max_s, 0.12 / (c.nu * sum * 4));
    control.acoustic_m = 0.88 / sqrt (1 + 2 * c.damping) / sqrt (sum);
    control.dt_s = std::min ((double) control.dt_max_s, 0.2 * g.h[0] / 2.0) * 0.3;
    control.dtau_s = control.dt_s / g.substeps;
    control.c2 = (control.acoustic_m / control.dtau_s) * (control.acoustic_m / control.dtau_s);
    device.put (g.control, &control, 1);
  }

  void
  look ()
  {
    device.get (&control, g.control, 1);
  }

  std::vector<float>
  fetch (const float *field)
  {
    std::vector<float> here (layout.size);

    device.get (here.data (), field, layout.size);
    return here;
  }

  void
  set_velocity (int a, const std::vector<float> &v)
  {
    for (int b = 0; b < 2; b++)
      device.put (g.u[b][a], v.data (), layout.size);
  }

  void
  set_scalar (int q, const std::vector<float> &v)
  {
    for (int b = 0; b < 2; b++)
      device.put (g.scalar[b][q], v.data (), layout.size);
  }

  double
  mean_wall_K () const
  {
    double sum = 0;
    int n = 0;

    for (int f = 0; f < 6; f++)
      if ((c.held >> f) & 1)
        {
          sum += c.wall_K[f];
          n++;
        }
    return sum / n;
  }

  /* Velocity a of the Taylor-Green vortex on the lower face of a cell, in two dimensions
   * (x, z) or in three. */
  double
  vortex (int a, int i, int j, int k) const
  {
    const double x = i * g.h[0], y = j * g.h[1], z = k * g.h[2];
    const double hx = g.h[0] / 2, hy = g.h[1] / 2, hz = g.h[2] / 2;

    if (c.init == "tgv2")
      return a == 0 ? sin (x) * cos (z + hz) : a == 2 ? -cos (x + hx) * sin (z) : 0;
    return a == 0   ? sin (x) * cos (y + hy) * cos (z + hz)
           : a == 1 ? -cos (x + hx) * sin (y) * cos (z + hz)
                    : 0;
  }

  double
  velocity_between (const Snapshot &s, int a, int i, int j, int k) const
  {
    const int x[3] = { i, j, k };
    int low[3];
    double weight[3], sum = 0;

    for (int d = 0; d < 3; d++)
      {
        const double middle = d == a ? 0 : .5;
        const double at = (x[d] + middle) * g.h[d] / s.h[d] - middle;
        double cell = std::min (std::max (floor (at), 0.), (double) s.n[d] - (d == a ? 1 : 2));

        cell = std::max (cell, 0.);
        low[d] = s.n[d] == 1 ? 0 : cell;
        weight[d] = s.n[d] == 1 ? 0 : std::min (std::max (at - cell, 0.), 1.);
      }
    for (int corner = 0; corner < 8; corner++)
      {
        double w = 1;
        int y[3];

        for (int d = 0; d < 3; d++)
          {
            const int up = (corner >> d) & 1;

            w *= up ? weight[d] : 1 - weight[d];
            y[d] = low[d] + up;
          }
        if (w > 0)
          sum += w * s.u[a][y[0] + 1 + s.sy * (y[1] + 1) + s.sz * (y[2] + 1)];
      }
    return sum;
  }

  std::vector<float>
  nearest (const Snapshot &s, const std::vector<float> &from) const
  {
    std::vector<float> to (layout.size, 0);

    layout.for_cells ([&] (int i, int j, int k) {
      const int x[3] = { i, j, k };
      int y[3];

      for (int d = 0; d < 3; d++)
        y[d] = std::min (s.n[d] - 1, (int) ((x[d] + .5) * g.h[d] / s.h[d]));
      to[layout.id (i, j, k)] = from[y[0] + 1 + s.sy * (y[1] + 1) + s.sz * (y[2] + 1)];
    });
    return to;
  }

  void
  step (int number)
  {
    if (g.vreman > 0 && number % 2 == 0)
      device.run (SubgridViscosity{ g });
    device.run (SlowTerms{ g, number & 1, number & 1 });
    for (int m = 0; m < g.substeps; m++)
      device.run (AcousticStep{ g, m & 1, 1 - (m & 1) });
    if (g.n_scalars == 1)
      device.run (CarryScalars<1>{ g, number & 1 });
    if (g.n_scalars == 2)
      device.run (CarryScalars<2>{ g, number & 1 });
    if (g.n_scalars == 3)
      device.run (CarryScalars<3>{ g, number & 1 });
    if ((number + 1) % steps_a_sample == 0)
      sample ();
  }

#ifdef __CUDACC__
  void
  sample ()
  {
    device.run (Sample{ g });
    /* clang-format off */
    if (g.n_openings)
      sum_openings<<<g.n_openings, 128, 0, device.stream>>> (g);
    next_step<<<1, 1, 0, device.stream>>> (g);
    /* clang-format on */
  }

  void
  run_batches (int n)
  {
    if (!graph_run)
      {
        CUDA (cudaStreamBeginCapture (device.stream, cudaStreamCaptureModeThreadLocal));
        for (int s = 0; s < steps_a_batch; s++)
          step (s);
        CUDA (cudaStreamEndCapture (device.stream, &graph));
        CUDA (cudaGraphInstantiate (&graph_run, graph, 0));
      }
    for (int i = 0; i < n; i++)
      CUDA (cudaGraphLaunch (graph_run, device.stream));
  }
#else
  /* One after the other: the largest rate is found without an atomic maximum. */
  void
  sample ()
  {
    const Sample take{ g };

    g.control->rate_1_s = 0;
    for (int i = 0; i < g.n_listed; i++)
      take (g.list[i]);
    for (int o = 0; o < g.n_openings && g.control->averaging; o++)
      {
        double sums[SUM_SQUARE] = { 0, 0, 0, 0, 0 };

        for (int i = 0; i < g.opening[o].n; i++)
          add_opening_face (g, g.opening[o], i, sums);
        add_opening (g, o, sums);
      }
    choose_step (*g.control, g.substeps, steps_a_sample);
  }

  void
  run_batches (int n)
  {
    for (int i = 0; i < n; i++)
      for (int s = 0; s < steps_a_batch; s++)
        step (s);
  }
#endif
};
