/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The grid on which the air is computed, as the kernels see it, and what makes the same
 * source build for a GPU (CUDA) and for a processor (C++).
 *
 * Uniform cells on a staggered grid (Harlow & Welch 1965): pressure and what the air carries
 * stand in the middle of a cell, each component of velocity on the cell's lower face along
 * its axis. Around the cells lies one layer of ghosts. All arrays are in one order, x
 * fastest; a cell's neighbours are 1, `sy` and `sz` away. Units are SI; pressure is
 * kinematic (m2/s2), over the room's hydrostatic one. */

#include <cstdint>

#ifdef __CUDACC__
#define DEVICE __host__ __device__ __forceinline__
#else
#define DEVICE inline
#endif

/* What a face of a cell is. Low and high face of each axis take two bits each of the cell's
 * flags. */
enum FaceKind : unsigned
{
  FACE_FLUID,
  FACE_WALL,
  FACE_OPEN, /* to the room: the pressure is known */
  FACE_FIXED /* to a duct: the velocity is known */
};

enum CellFlag : unsigned
{
  CELL_ACTIVE = 0x1000, /* inside the enclosure */
  CELL_FORCED = 0x2000, /* a force, drag or porous loss acts on one of its lower faces */
  CELL_SOURCE = 0x4000, /* heat, vapour or age is put in */
  CELL_INNER = 0x8000   /* all faces of it and of its six neighbours are plain fluid */
};

DEVICE unsigned
low_face (unsigned flags, int axis)
{
  return (flags >> (4 * axis)) & 3u;
}

DEVICE unsigned
high_face (unsigned flags, int axis)
{
  return (flags >> (4 * axis + 2)) & 3u;
}

/* What changes from step to step; lives where the kernels run. */
struct Control
{
  float dt_s, dtau_s; /* step, and acoustic substep */
  float c2;           /* pseudo sound speed squared, m2/s2 */
  float rate_1_s;     /* largest sum over the axes of |u| / h */
  double t_s;
  int averaging; /* whether sums are taken */
  int bad;       /* the run blew up */
  float dt_max_s, courant;
  float acoustic_m; /* pseudo sound speed times substep: what is stable on this grid */
  int rate_bits;    /* rate_1_s as the GPU's atomic maximum sees it */
  long long samples;
  double averaged_s;
};

/* Openings and ducts: sums over their faces go to Grid.opening_sum, 8 numbers each. */
static const int max_openings = 6;

enum OpeningSum
{
  SUM_NET,       /* inflow less outflow, m3/s */
  SUM_IN,        /* inflow */
  SUM_SCALAR,    /* three: what the outflow carries of each scalar, m3/s times its unit */
  SUM_SQUARE = 5 /* of the net flow */
};

struct OpeningFaces
{
  int *at; /* [n] cell whose lower face it is */
  int n;
  float face_m2;
  int axis, high;
};

/* Time sums, one array each. */
enum MeanOf
{
  MEAN_U, /* three */
  MEAN_SPEED = 3,
  MEAN_SCALAR, /* three */
  MEAN_SQUARE = 7,
  N_MEANS
};

struct Grid
{
  int nx, ny, nz, sy, sz, size;
  int *list; /* [n_listed] cells the kernels run over, inner ones first */
  int n_listed;

  float h[3], h_1[3];                      /* cell size, and one over it */
  float nu, buoyancy;                      /* viscosity, g times expansion */
  float vreman;                            /* constant of the subgrid viscosity */
  float upwind;                            /* share of upwinding in the advection of velocity: 0 */
  float damping;                           /* of divergence in the acoustic substeps */
  float lid_m_s;                           /* speed of the roof, for the lid-driven cavity */
  int slip;                                /* bit per axis: walls across it let the air slip */
  int substeps;                            /* acoustic, even */
  float wall_a[3], wall_b[3], wall_m_s[3]; /* of the wall law, per wall axis */

  int n_scalars, heat; /* and which of them is the temperature, or -1 */
  float diffusivity[3], subgrid_prandtl;
  int held; /* bit per face of the box: wall of known temperature */
  float wall_K[6];

  uint16_t *flags;
  float *u[2][3];    /* velocity, m/s; two buffers */
  float *p, *pe[2];  /* pressure, and the one extrapolated by the damping */
  float *nut;        /* subgrid viscosity */
  float *rate[2][3]; /* slow terms of the two steps before */
  float *slow[3];    /* slow terms for this step */
  float *scalar[2][3];
  float *force[3]; /* of fans, m/s2 */
  float *drag;     /* of leaves, 1/m */
  float *porous;   /* of wire shelves, on lower z faces, 1/m */
  float *source[3];
  float *sum[N_MEANS];

  int n_openings;
  OpeningFaces opening[max_openings];
  double *opening_sum; /* [max_openings][8] */
  Control *control;
};

/* Distance to the neighbour along an axis known at compile time. */
template <int axis>
DEVICE int
stride (const Grid &g)
{
  return axis == 0 ? 1 : axis == 1 ? g.sy : g.sz;
}
