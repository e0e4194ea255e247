/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "day/net.h"

#include <math.h>
#include <string.h>

#include "moist/constants.h"
#include "moist/moist.h"
#include "transport/leaf.h"
#include "transport/wet.h"

#define GAMMA (1.0 - G_SQRT2 / 2.0)
#define N_LOCAL 3            /* of a skin: T, water of side 0, of side 1 */
#define N_SLOTS 6            /* of the core that a skin meets: T, w of two bays, R, T of the room */
#define LEAF_MOLAR_HEAT 29.3 /* J/molK, Campbell & Norman 1998 */
#define VAPOUR_TO_HEAT (0.147 / 0.135)
#define WATER_KG_MOL 0.018015
#define EMISSIVITY_WET 0.95
/* The radiant node has no matter; as an unknown it needs some: far below any surface's. */
#define RADIANT_J_K 20.0
/* Below this much water drops cover less and less of a sheet, the last of a reserve less and less
 * of a wall: common practice, no source. */
#define THIN_FILM_KG_M2 0.02
#define LAST_SHARE 0.03
#define RUN_OFF_S 600.0 /* within which what a sheet cannot hold runs off */
#define FULL_STEPS 20   /* of Newton's method, at most */
#define SCALE_K 0.02
#define SCALE_W 3e-5
#define SCALE_KG 2e-4

/* A skin's part of one evaluation: what it gives to itself (f) and to the core (g), and how each
 * answers to its own unknowns and to the core's. */
typedef struct
{
  int slot[N_SLOTS]; /* index into the core, -1: none */
  double f[N_LOCAL], d[N_LOCAL][N_LOCAL], e[N_LOCAL][N_SLOTS];
  double g[N_SLOTS], by[N_SLOTS][N_LOCAL], core[N_SLOTS][N_SLOTS];
  /* Flows that are booked. */
  double vapour[2], vapour_by_t[2], vapour_by_m[2], vapour_by_w[2];
  double out, out_by_t; /* W to the room; by the room's T minus that */
  double off[2], off_by_m[2];
  double inverse[N_LOCAL][N_LOCAL]; /* of capacity - gamma dt d */
} Part;

/* Films of a skin, kept through a step. */
typedef struct
{
  double h_W_K[2];    /* with its area */
  double c_kg_sPa[2]; /* vapour conductance with its area; 0: no vapour */
  double out_W_K, radiation_W_K;
} Films;

/* The air of the bays that h and q stand for, and how it answers to them. */
typedef struct
{
  double *t, *w, *fog; /* [n_bays] */
  double *t_by_h, *t_by_q, *w_by_h, *w_by_q;
} Airs;

struct _DewNet
{
  int nb, ns, nc, n;
  DewAir air;
  double *volume_m3;
  const DewNetDrive *drive;
  double *y, *next, *k1, *k2; /* [n] */
  Airs airs, next_airs;
  double *change_t, *change_w; /* [n_bays] of one k */
  double *mass;                /* [n] */
  double *core, *rhs;          /* [nc * nc], [nc] */
  double *fc;                  /* [nc] */
  int *pivot;
  Part *parts, *start; /* as they are found now, and at the start of the step */
  double *right;       /* [n] */
  Films *films;
  DewFilmAir film;
  double book[DEW_N_BOOKS], book_next[DEW_N_BOOKS];
};

/* --- life ------------------------------------------------------------------------ */

static void
airs_new (Airs *a, int n)
{
  double **all[] = { &a->t, &a->w, &a->fog, &a->t_by_h, &a->t_by_q, &a->w_by_h, &a->w_by_q };

  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    *all[i] = g_new0 (double, n);
}

static void
airs_clear (Airs *a)
{
  double *all[] = { a->t, a->w, a->fog, a->t_by_h, a->t_by_q, a->w_by_h, a->w_by_q };

  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    g_free (all[i]);
}

DewNet *
dew_net_new (int n_bays, int n_skins, const double *volume_m3, const DewAir *air)
{
  DewNet *net = g_new0 (DewNet, 1);

  net->nb = n_bays;
  net->ns = n_skins;
  net->nc = 2 * n_bays + 3;
  net->n = net->nc + N_LOCAL * n_skins;
  net->air = *air;
  net->volume_m3 = g_memdup2 (volume_m3, sizeof (double) * n_bays);
  net->y = g_new0 (double, net->n);
  net->next = g_new0 (double, net->n);
  net->k1 = g_new0 (double, net->n);
  net->k2 = g_new0 (double, net->n);
  net->mass = g_new0 (double, net->n);
  net->change_t = g_new0 (double, n_bays);
  net->change_w = g_new0 (double, n_bays);
  airs_new (&net->airs, n_bays);
  airs_new (&net->next_airs, n_bays);
  net->core = g_new0 (double, net->nc * net->nc);
  net->rhs = g_new0 (double, net->nc);
  net->fc = g_new0 (double, net->nc);
  net->pivot = g_new0 (int, net->nc);
  net->parts = g_new0 (Part, MAX (1, n_skins));
  net->start = g_new0 (Part, MAX (1, n_skins));
  net->right = g_new0 (double, net->n);
  net->films = g_new0 (Films, MAX (1, n_skins));
  return net;
}

void
dew_net_free (DewNet *net)
{
  if (net == NULL)
    return;
  airs_clear (&net->airs);
  airs_clear (&net->next_airs);
  g_free (net->change_t);
  g_free (net->change_w);
  g_free (net->volume_m3);
  g_free (net->y);
  g_free (net->next);
  g_free (net->k1);
  g_free (net->k2);
  g_free (net->mass);
  g_free (net->core);
  g_free (net->rhs);
  g_free (net->fc);
  g_free (net->pivot);
  g_free (net->parts);
  g_free (net->start);
  g_free (net->right);
  g_free (net->films);
  g_free (net);
}

static int
at_skin (const DewNet *net, int skin)
{
  return net->nc + N_LOCAL * skin;
}

void
dew_net_rest (DewNet *net, const DewSkin *skins, double t_C, double w_kg_kg)
{
  for (int b = 0; b < net->nb; b++)
    dew_net_set_bay (net, b, t_C, w_kg_kg);
  net->y[2 * net->nb] = t_C;
  for (int s = 0; s < net->ns; s++)
    {
      double *y = net->y + at_skin (net, s);

      y[0] = t_C;
      y[1] = skins[s].kind == DEW_SKIN_WET ? skins[s].holds_kg : 0.0;
      y[2] = 0.0;
    }
  dew_net_set_room (net, t_C, w_kg_kg);
  dew_net_clear_books (net);
}

void
dew_net_drive (DewNet *net, const DewNetDrive *drive)
{
  net->drive = drive;
  net->film = dew_film_air (net->y[2 * net->nb + 1], net->air.pressure_Pa);
  for (int b = 0; b < net->nb; b++)
    {
      net->mass[b] = net->air.density_kg_m3 * net->air.specific_heat_J_kgK * net->volume_m3[b];
      net->mass[net->nb + b] = net->air.density_kg_m3 * net->volume_m3[b];
    }
  net->mass[2 * net->nb] = RADIANT_J_K;
  net->mass[2 * net->nb + 1] = net->mass[2 * net->nb + 2] = 1.0;
  for (int s = 0; s < net->ns; s++)
    {
      double *mass = net->mass + at_skin (net, s);

      mass[0] = drive->skins[s].capacity_J_K;
      mass[1] = mass[2] = 1.0;
    }
}

/* --- air ------------------------------------------------------------------------------ */

static double
latent_K (const DewNet *net)
{
  return net->air.latent_heat_J_kg / net->air.specific_heat_J_kgK;
}

static double
w_full (const DewNet *net, double t_C, double *slope)
{
  double p = net->air.pressure_Pa, p_sat = dew_moist_p_sat (t_C);

  *slope = 0.62198 * p / ((p - p_sat) * (p - p_sat)) * dew_moist_p_sat_slope (t_C);
  return dew_moist_w_from_p_w (p_sat, p);
}

/* T and w of h and q: dry, or full and with fog. */
static void
find_air (const DewNet *net, Airs *a, int b, double h, double q)
{
  double lambda = latent_K (net), t = h - lambda * q, slope, full = w_full (net, t, &slope);

  if (!(q > full))
    {
      a->t[b] = t;
      a->w[b] = q;
      a->fog[b] = 0.0;
      a->t_by_h[b] = a->w_by_q[b] = 1.0;
      a->t_by_q[b] = -lambda;
      a->w_by_h[b] = 0.0;
      return;
    }
  for (int it = 0; it < FULL_STEPS; it++)
    {
      double miss = t + lambda * full - h;

      t -= miss / (1.0 + lambda * slope);
      full = w_full (net, t, &slope);
      if (fabs (miss) < 1e-11)
        break;
    }
  a->w[b] = (h - t) / lambda;
  a->t[b] = t;
  a->fog[b] = q - a->w[b];
  a->t_by_h[b] = 1.0 / (1.0 + lambda * slope);
  a->w_by_h[b] = slope * a->t_by_h[b];
  a->t_by_q[b] = a->w_by_q[b] = 0.0;
}

static void
find_airs (const DewNet *net, Airs *a, const double *y)
{
  for (int b = 0; b < net->nb; b++)
    find_air (net, a, b, y[b], y[net->nb + b]);
}

/* --- films ------------------------------------------------------------------------- */

static double
p_w (const DewNet *net, double w)
{
  return dew_moist_p_w_from_w (MAX (0.0, w), net->air.pressure_Pa);
}

/* Over its air in virtual temperature, of which a wet wall has a share at saturation. */
static double
virtual_excess (const DewNet *net, const DewSkin *skin, double t, double t_air, double w_air)
{
  double there = (1.0 - skin->wetted) * p_w (net, w_air) + skin->wetted * dew_moist_p_sat (t);

  return dew_moist_t_virtual (t, dew_moist_w_from_p_w (there, net->air.pressure_Pa))
         - dew_moist_t_virtual (t_air, MAX (0.0, w_air));
}

static void
leaf_films (const DewNet *net, const DewSkin *skin, double t, double t_air, Films *films)
{
  double heat = dew_leaf_boundary_mol_m2s (skin->speed_m_s[0], skin->length_m, t - t_air);
  double vapour = 1.0 / (1.0 / skin->conductance_mol_m2s + 1.0 / (VAPOUR_TO_HEAT * heat));

  films->h_W_K[0] = 2.0 * LEAF_MOLAR_HEAT * heat * skin->area_m2;
  films->c_kg_sPa[0] = vapour * WATER_KG_MOL / net->air.pressure_Pa * skin->area_m2;
  films->radiation_W_K = 2.0 * dew_film_radiation_h (EMISSIVITY_WET, t) * skin->area_m2;
}

static void
find_films (DewNet *net, const DewSkin *skin, const Airs *a, double room_t, const double *own,
            Films *films)
{
  *films = (Films){ { 0.0 } };
  for (int s = 0; s < 2; s++)
    {
      double t_air, w_air, excess, h, t_film_K;
      DewFacing facing = s == 0 ? skin->facing : DEW_FACING_DOWN;

      if (skin->bay[s] < 0)
        continue;
      t_air = a->t[skin->bay[s]] + skin->beside_K[s];
      w_air = a->w[skin->bay[s]] + skin->beside_kg_kg[s];
      if (skin->kind == DEW_SKIN_MASS)
        films->h_W_K[s] = skin->film_W_m2K * skin->area_m2;
      if (skin->kind == DEW_SKIN_LEAF)
        leaf_films (net, skin, own[0], t_air, films);
      if (skin->kind == DEW_SKIN_MASS || skin->kind == DEW_SKIN_LEAF)
        continue;
      excess = skin->kind == DEW_SKIN_WET ? virtual_excess (net, skin, own[0], t_air, w_air)
                                          : own[0] - t_air;
      h = dew_film_h (&net->film, facing, skin->length_m, excess, skin->speed_m_s[s]);
      t_film_K = 0.5 * (own[0] + t_air) + DEW_ZERO_C_K;
      films->h_W_K[s] = h * skin->area_m2;
      films->c_kg_sPa[s] = dew_film_mass_velocity (&net->film, h) / (DEW_R_VAPOUR_J_KGK * t_film_K)
                           * skin->area_m2 * (skin->kind == DEW_SKIN_WET ? skin->wetted : 1.0);
      films->radiation_W_K
        += (skin->kind == DEW_SKIN_WET ? dew_film_radiation_h (EMISSIVITY_WET, own[0])
                                       : skin->radiation_W_m2K)
           * skin->area_m2;
    }
  films->out_W_K = (own[0] >= room_t ? skin->losing_W_m2K : skin->gaining_W_m2K) * skin->area_m2;
}

static void
find_all_films (DewNet *net, const double *y, const Airs *a)
{
  for (int s = 0; s < net->ns; s++)
    find_films (net, &net->drive->skins[s], a, y[2 * net->nb + 1], y + at_skin (net, s),
                &net->films[s]);
}

/* --- rates and slopes ---------------------------------------------------------------- */

/* Water that a side has left to give: 1 for plenty, falling to nothing with the last of it. */
static double
supply (const DewSkin *skin, double kg, double *slope)
{
  double thin
    = skin->kind == DEW_SKIN_WET ? LAST_SHARE * skin->holds_kg : THIN_FILM_KG_M2 * skin->area_m2;

  *slope = 0.0;
  if (skin->kind == DEW_SKIN_LEAF || (skin->kind == DEW_SKIN_WET && skin->holds_kg <= 0.0)
      || kg >= thin)
    return 1.0;
  *slope = 1.0 / thin;
  return kg / thin;
}

static double
p_w_slope (const DewNet *net, double w)
{
  double step = 1e-7;

  return (p_w (net, MAX (0.0, w) + step) - p_w (net, w)) / step;
}

static void
side_vapour (const DewNet *net, const DewSkin *skin, const Films *films, int s, const Airs *a,
             const double *own, Part *p)
{
  double latent = net->air.latent_heat_J_kg, c = films->c_kg_sPa[s];
  double w = a->w[skin->bay[s]] + skin->beside_kg_kg[s], wet, thins;
  double lack = dew_moist_p_sat (own[0]) - p_w (net, w), share = 1.0, by_m = 0.0;
  double by_t, by_w;

  wet = supply (skin, own[1 + s], &thins);
  if (lack > 0.0)
    {
      share = wet;
      by_m = c * lack * thins;
    }
  by_t = c * share * dew_moist_p_sat_slope (own[0]);
  by_w = -c * share * p_w_slope (net, w);
  p->vapour[s] = c * lack * share;
  p->vapour_by_t[s] = by_t;
  p->vapour_by_m[s] = by_m;
  p->vapour_by_w[s] = by_w;
  p->f[0] -= latent * p->vapour[s];
  p->d[0][0] -= latent * by_t;
  p->d[0][1 + s] -= latent * by_m;
  p->e[0][2 * s + 1] -= latent * by_w;
  p->g[2 * s + 1] += p->vapour[s];
  p->by[2 * s + 1][0] += by_t;
  p->by[2 * s + 1][1 + s] += by_m;
  p->core[2 * s + 1][2 * s + 1] += by_w;
  if (skin->kind == DEW_SKIN_LEAF)
    return;
  p->f[1 + s] -= p->vapour[s];
  p->d[1 + s][0] -= by_t;
  p->d[1 + s][1 + s] -= by_m;
  p->e[1 + s][2 * s + 1] -= by_w;
}

static void
side_run_off (const DewSkin *skin, int s, const double *own, Part *p)
{
  double over = own[1 + s] - skin->holds_kg;

  if (skin->kind == DEW_SKIN_WET || over <= 0.0)
    return;
  p->off[s] = over / RUN_OFF_S;
  p->off_by_m[s] = 1.0 / RUN_OFF_S;
  p->f[1 + s] -= p->off[s];
  p->d[1 + s][1 + s] -= p->off_by_m[s];
}

/* Heat between the skin and a node of the core that is `over` warmer. */
static void
heat_from (Part *p, int slot, double W_K, double over)
{
  p->f[0] += W_K * over;
  p->d[0][0] -= W_K;
  p->e[0][slot] += W_K;
  if (slot == 5)
    return; /* the room stays as it is */
  p->g[slot] -= W_K * over;
  p->by[slot][0] += W_K;
  p->core[slot][slot] -= W_K;
}

/* From T and w of a bay, as whatever meets its air knows them, to h and q: what they get is
 * h = T + (L / cp) w in heat and q = w in water, and what answers to T and w answers to those. */
static void
turn (const DewNet *net, const Airs *a, int b, int slot, Part *p)
{
  double latent = net->air.latent_heat_J_kg;

  p->g[slot] += latent * p->g[slot + 1];
  for (int l = 0; l < N_LOCAL; l++)
    {
      double by_t = p->e[l][slot], by_w = p->e[l][slot + 1];

      p->by[slot][l] += latent * p->by[slot + 1][l];
      p->e[l][slot] = by_t * a->t_by_h[b] + by_w * a->w_by_h[b];
      p->e[l][slot + 1] = by_t * a->t_by_q[b] + by_w * a->w_by_q[b];
    }
  for (int c = 0; c < N_SLOTS; c++)
    p->core[slot][c] += latent * p->core[slot + 1][c];
  for (int r = 0; r < N_SLOTS; r++)
    {
      double by_t = p->core[r][slot], by_w = p->core[r][slot + 1];

      p->core[r][slot] = by_t * a->t_by_h[b] + by_w * a->w_by_h[b];
      p->core[r][slot + 1] = by_t * a->t_by_q[b] + by_w * a->w_by_q[b];
    }
}

static void
find_part (const DewNet *net, const DewSkin *skin, const Films *films, const Airs *a,
           const double *y, const double *own, Part *p)
{
  int nb = net->nb;

  memset (p, 0, sizeof *p);
  for (int s = 0; s < 2; s++)
    {
      p->slot[2 * s] = skin->bay[s];
      p->slot[2 * s + 1] = skin->bay[s] >= 0 ? nb + skin->bay[s] : -1;
      if (skin->bay[s] < 0)
        continue;
      heat_from (p, 2 * s, films->h_W_K[s], a->t[skin->bay[s]] + skin->beside_K[s] - own[0]);
      if (films->c_kg_sPa[s] > 0.0)
        side_vapour (net, skin, films, s, a, own, p);
      if (skin->kind == DEW_SKIN_PANEL || skin->kind == DEW_SKIN_BOARD)
        side_run_off (skin, s, own, p);
    }
  p->slot[4] = 2 * nb;
  p->slot[5] = 2 * nb + 1;
  heat_from (p, 4, films->radiation_W_K, y[2 * nb] - own[0]);
  heat_from (p, 5, films->out_W_K, y[2 * nb + 1] - own[0]);
  p->out = films->out_W_K * (own[0] - y[2 * nb + 1]);
  p->out_by_t = films->out_W_K;
  p->f[0] += skin->light_W;
  for (int s = 0; s < 2; s++)
    if (skin->bay[s] >= 0)
      turn (net, a, skin->bay[s], 2 * s, p);
}

/* Fog that falls out of a bay, kg/s, over how much there is. */
static double
falling (const DewNet *net, int bay)
{
  return net->air.density_kg_m3 * net->volume_m3[bay] * net->drive->fall_1_s[bay];
}

/* The room's h and q. */
static double
room_of (const DewNet *net, int what, const double *y)
{
  const double *room = y + 2 * net->nb + 1;

  return what == 0 ? room[0] + latent_K (net) * room[1] : room[1];
}

static double
carried (const DewNet *net, int bay, int what)
{
  const DewNetDrive *d = net->drive;

  return what == 0 ? d->carried[0][bay] + latent_K (net) * d->carried[1][bay] : d->carried[1][bay];
}

/* What the air takes out of a bay, of h (what = 0) or q (1), m3/s times, without what it always
 * carries: also of a change of the state. */
static double
moved (const DewNet *net, int bay, int what, const double *y)
{
  const DewNetDrive *d = net->drive;
  const double *phi = y + what * net->nb;
  double room = room_of (net, what, y), sum = d->door_m3_s[bay] * (phi[bay] - room);

  for (int j = 0; j < net->nb; j++)
    sum += d->exchange_m3_s[bay * net->nb + j] * (phi[j] - room);
  return sum;
}

/* Rates of the core into fc, with those of skins; parts are filled. */
static void
find_rates (DewNet *net, const double *y, Airs *a)
{
  const DewNetDrive *d = net->drive;
  double rho = net->air.density_kg_m3, cp = net->air.specific_heat_J_kgK;
  double latent = net->air.latent_heat_J_kg;
  int nb = net->nb;

  for (int b = 0; b < nb; b++)
    {
      net->fc[b] = d->heat_W[b] + latent * d->vapour_kg_s[b]
                   - rho * cp * (moved (net, b, 0, y) + carried (net, b, 0));
      net->fc[nb + b] = d->vapour_kg_s[b] + d->mist_kg_s[b] - falling (net, b) * a->fog[b]
                        - rho * (moved (net, b, 1, y) + carried (net, b, 1));
    }
  net->fc[2 * nb] = d->given_W - d->leak_W_K * (y[2 * nb] - y[2 * nb + 1]);
  net->fc[2 * nb + 1] = d->room_K_s;
  net->fc[2 * nb + 2] = d->room_kg_kg_s;
  for (int s = 0; s < net->ns; s++)
    {
      Part *p = &net->parts[s];

      find_part (net, &d->skins[s], &net->films[s], a, y, y + at_skin (net, s), p);
      for (int c = 0; c < N_SLOTS; c++)
        if (p->slot[c] >= 0)
          net->fc[p->slot[c]] += p->g[c];
    }
}

/* --- linear equations ------------------------------------------------------------------ */

/* The inverse of (mass - gamma dt d) of a skin. Its water rows hang on T and their own alone. */
static void
invert (Part *p, const double *mass, double gdt)
{
  double a[N_LOCAL][N_LOCAL];

  for (int r = 0; r < N_LOCAL; r++)
    for (int c = 0; c < N_LOCAL; c++)
      {
        a[r][c] = (r == c ? mass[r] : 0.0) - gdt * p->d[r][c];
        p->inverse[r][c] = r == c ? 1.0 : 0.0;
      }
  /* Gauss-Jordan; the diagonal dominates. */
  for (int k = 0; k < N_LOCAL; k++)
    {
      double one = 1.0 / a[k][k];

      for (int c = 0; c < N_LOCAL; c++)
        {
          a[k][c] *= one;
          p->inverse[k][c] *= one;
        }
      for (int r = 0; r < N_LOCAL; r++)
        {
          double by = a[r][k];

          if (r == k || by == 0.0)
            continue;
          for (int c = 0; c < N_LOCAL; c++)
            {
              a[r][c] -= by * a[k][c];
              p->inverse[r][c] -= by * p->inverse[k][c];
            }
        }
    }
}

static void
add_air (DewNet *net, const Airs *a, double gdt)
{
  const DewNetDrive *d = net->drive;
  int nb = net->nb, nc = net->nc, room = 2 * nb + 1;

  for (int b = 0; b < nb; b++)
    {
      double *row_q = net->core + (nb + b) * nc;

      for (int what = 0; what < 2; what++)
        {
          double times
            = gdt * net->air.density_kg_m3 * (what == 0 ? net->air.specific_heat_J_kgK : 1.0);
          double *row = net->core + (what * nb + b) * nc;

          for (int j = 0; j < nb; j++)
            {
              double k = d->exchange_m3_s[b * nb + j] + (j == b ? d->door_m3_s[b] : 0.0);

              row[what * nb + j] += times * k;
              if (what == 0)
                row[room] -= times * k;
              row[room + 1] -= times * k * (what == 0 ? latent_K (net) : 1.0);
            }
        }
      if (a->fog[b] <= 0.0)
        continue;
      row_q[nb + b] += gdt * falling (net, b);
      row_q[b] -= gdt * falling (net, b) * a->w_by_h[b];
    }
  net->core[2 * nb * nc + 2 * nb] += gdt * d->leak_W_K;
  net->core[2 * nb * nc + room] -= gdt * d->leak_W_K;
}

/* Takes a skin out of the equations: what is left of it in those of the core. */
static void
eliminate (DewNet *net, const Part *p, double gdt)
{
  double left[N_LOCAL][N_SLOTS];

  for (int l = 0; l < N_LOCAL; l++)
    for (int c = 0; c < N_SLOTS; c++)
      {
        left[l][c] = 0.0;
        for (int m = 0; m < N_LOCAL; m++)
          left[l][c] += p->inverse[l][m] * gdt * p->e[m][c];
      }
  for (int r = 0; r < N_SLOTS; r++)
    for (int c = 0; c < N_SLOTS && p->slot[r] >= 0; c++)
      {
        double sum = gdt * p->core[r][c];

        for (int l = 0; l < N_LOCAL; l++)
          sum += gdt * p->by[r][l] * left[l][c];
        if (p->slot[c] >= 0)
          net->core[p->slot[r] * net->nc + p->slot[c]] -= sum;
      }
}

/* LU with partial pivots, in place. FALSE when singular. */
static gboolean
factor (DewNet *net)
{
  int n = net->nc;
  double *a = net->core;

  for (int k = 0; k < n; k++)
    {
      int best = k;

      for (int r = k + 1; r < n; r++)
        if (fabs (a[r * n + k]) > fabs (a[best * n + k]))
          best = r;
      net->pivot[k] = best;
      if (!(fabs (a[best * n + k]) > 0.0))
        return FALSE;
      for (int c = 0; c < n && best != k; c++)
        {
          double t = a[k * n + c];

          a[k * n + c] = a[best * n + c];
          a[best * n + c] = t;
        }
      for (int r = k + 1; r < n; r++)
        {
          double by = a[r * n + k] /= a[k * n + k];

          for (int c = k + 1; c < n && by != 0.0; c++)
            a[r * n + c] -= by * a[k * n + c];
        }
    }
  return TRUE;
}

static void
back_solve (DewNet *net, double *b)
{
  int n = net->nc;
  const double *a = net->core;

  for (int k = 0; k < n; k++)
    {
      double t = b[k];

      b[k] = b[net->pivot[k]];
      b[net->pivot[k]] = t;
    }
  for (int r = 1; r < n; r++)
    for (int c = 0; c < r; c++)
      b[r] -= a[r * n + c] * b[c];
  for (int r = n - 1; r >= 0; r--)
    {
      for (int c = r + 1; c < n; c++)
        b[r] -= a[r * n + c] * b[c];
      b[r] /= a[r * n + r];
    }
}

static gboolean
make_matrix (DewNet *net, double gdt)
{
  int nc = net->nc;

  memset (net->core, 0, sizeof (double) * nc * nc);
  for (int c = 0; c < nc; c++)
    net->core[c * nc + c] = net->mass[c];
  add_air (net, &net->airs, gdt);
  for (int s = 0; s < net->ns; s++)
    {
      invert (&net->parts[s], net->mass + at_skin (net, s), gdt);
      eliminate (net, &net->parts[s], gdt);
    }
  return factor (net);
}

/* Solves (mass - gamma dt J) k = right for the whole; right: core, then skins. */
static void
solve (DewNet *net, const double *right, double gdt, double *k, const Part *parts)
{
  int nc = net->nc;

  memcpy (net->rhs, right, sizeof (double) * nc);
  for (int s = 0; s < net->ns; s++)
    {
      const Part *p = &parts[s];
      const double *own = right + at_skin (net, s);

      for (int r = 0; r < N_SLOTS; r++)
        for (int l = 0; l < N_LOCAL && p->slot[r] >= 0; l++)
          for (int m = 0; m < N_LOCAL; m++)
            net->rhs[p->slot[r]] += gdt * p->by[r][l] * p->inverse[l][m] * own[m];
    }
  back_solve (net, net->rhs);
  memcpy (k, net->rhs, sizeof (double) * nc);
  for (int s = 0; s < net->ns; s++)
    {
      const Part *p = &parts[s];
      double local[N_LOCAL];

      for (int m = 0; m < N_LOCAL; m++)
        {
          local[m] = right[at_skin (net, s) + m];
          for (int c = 0; c < N_SLOTS; c++)
            if (p->slot[c] >= 0)
              local[m] += gdt * p->e[m][c] * k[p->slot[c]];
        }
      for (int l = 0; l < N_LOCAL; l++)
        {
          double sum = 0.0;

          for (int m = 0; m < N_LOCAL; m++)
            sum += p->inverse[l][m] * local[m];
          k[at_skin (net, s) + l] = sum;
        }
    }
}

/* --- books --------------------------------------------------------------------------- */

static DewBook
book_of (const DewSkin *skin, const Part *p, int side)
{
  return skin->kind == DEW_SKIN_LEAF  ? DEW_BOOK_LEAVES
         : skin->kind == DEW_SKIN_WET ? DEW_BOOK_WET
         : p->vapour[side] < 0.0      ? DEW_BOOK_CONDENSED
                                      : DEW_BOOK_DRIED;
}

/* What passes the bounds at y. */
static void
find_books (const DewNet *net, const double *y, const Airs *a, double *out)
{
  const DewNetDrive *d = net->drive;
  double rho = net->air.density_kg_m3, cp = net->air.specific_heat_J_kgK;
  int nb = net->nb;

  memset (out, 0, sizeof (double) * DEW_N_BOOKS);
  for (int b = 0; b < nb; b++)
    {
      out[DEW_BOOK_HEAT_AIR] += rho * cp * (moved (net, b, 0, y) + carried (net, b, 0));
      out[DEW_BOOK_WATER_AIR] += rho * (moved (net, b, 1, y) + carried (net, b, 1));
      out[DEW_BOOK_FOG] += falling (net, b) * a->fog[b];
      out[DEW_BOOK_HEAT_IN] += d->heat_W[b] + net->air.latent_heat_J_kg * d->vapour_kg_s[b];
      out[DEW_BOOK_WATER_IN] += d->vapour_kg_s[b] + d->mist_kg_s[b];
      out[DEW_BOOK_MIST] += d->mist_kg_s[b];
    }
  out[DEW_BOOK_HEAT_WAVES] = d->leak_W_K * (y[2 * nb] - y[2 * nb + 1]);
  out[DEW_BOOK_HEAT_IN] += d->given_W;
  for (int s = 0; s < net->ns; s++)
    {
      const Part *p = &net->parts[s];

      out[DEW_BOOK_HEAT_COVER] += p->out;
      out[DEW_BOOK_HEAT_IN] += d->skins[s].light_W;
      for (int side = 0; side < 2; side++)
        {
          out[book_of (&d->skins[s], p, side)]
            += p->vapour[side] * (book_of (&d->skins[s], p, side) == DEW_BOOK_CONDENSED ? -1 : 1);
          out[DEW_BOOK_RUN_OFF] += p->off[side];
        }
    }
}

/* How that answers to a change k, by the slopes at the start of the step. */
static void
find_book_slopes (DewNet *net, const Part *parts, const double *k, double *out)
{
  const Airs *a = &net->airs;
  double rho = net->air.density_kg_m3, cp = net->air.specific_heat_J_kgK;
  int nb = net->nb;

  memset (out, 0, sizeof (double) * DEW_N_BOOKS);
  for (int b = 0; b < nb; b++)
    {
      net->change_t[b] = a->t_by_h[b] * k[b] + a->t_by_q[b] * k[nb + b];
      net->change_w[b] = a->w_by_h[b] * k[b] + a->w_by_q[b] * k[nb + b];
      out[DEW_BOOK_HEAT_AIR] += rho * cp * moved (net, b, 0, k);
      out[DEW_BOOK_WATER_AIR] += rho * moved (net, b, 1, k);
      if (a->fog[b] > 0.0)
        out[DEW_BOOK_FOG] += falling (net, b) * (k[nb + b] - net->change_w[b]);
    }
  out[DEW_BOOK_HEAT_WAVES] = net->drive->leak_W_K * (k[2 * nb] - k[2 * nb + 1]);
  for (int s = 0; s < net->ns; s++)
    {
      const DewSkin *skin = &net->drive->skins[s];
      const Part *p = &parts[s];
      const double *own = k + at_skin (net, s);

      out[DEW_BOOK_HEAT_COVER] += p->out_by_t * (own[0] - k[2 * nb + 1]);
      for (int side = 0; side < 2; side++)
        {
          DewBook book = book_of (skin, p, side);

          if (skin->bay[side] < 0)
            continue;
          out[book] += (book == DEW_BOOK_CONDENSED ? -1.0 : 1.0)
                       * (p->vapour_by_t[side] * own[0] + p->vapour_by_m[side] * own[1 + side]
                          + p->vapour_by_w[side] * net->change_w[skin->bay[side]]);
          out[DEW_BOOK_RUN_OFF] += p->off_by_m[side] * own[1 + side];
        }
    }
}

/* --- a step ------------------------------------------------------------------------------ */

static void
gather_rates (const DewNet *net, double *right)
{
  memcpy (right, net->fc, sizeof (double) * net->nc);
  for (int s = 0; s < net->ns; s++)
    memcpy (right + at_skin (net, s), net->parts[s].f, sizeof (double) * N_LOCAL);
}

static double
error_of (const DewNet *net, double dt)
{
  double worst = 0.0;

  for (int i = 0; i < net->n; i++)
    {
      double scale = i < net->nb                    ? SCALE_K
                     : i < 2 * net->nb              ? SCALE_W
                     : i < net->nc                  ? INFINITY
                     : (i - net->nc) % N_LOCAL == 0 ? SCALE_K
                                                    : SCALE_KG;

      worst = MAX (worst, fabs (0.5 * dt * (net->k1[i] + net->k2[i])) / scale);
      if (!isfinite (net->next[i]))
        return NAN;
    }
  return worst;
}

double
dew_net_try (DewNet *net, double dt, double tolerance)
{
  double gdt = GAMMA * dt, now[DEW_N_BOOKS], slope[DEW_N_BOOKS], first[DEW_N_BOOKS];

  find_airs (net, &net->airs, net->y);
  find_all_films (net, net->y, &net->airs);
  find_rates (net, net->y, &net->airs);
  if (!make_matrix (net, gdt))
    return NAN;
  gather_rates (net, net->right);
  solve (net, net->right, gdt, net->k1, net->parts);
  find_books (net, net->y, &net->airs, now);
  find_book_slopes (net, net->parts, net->k1, slope);
  for (int b = 0; b < DEW_N_BOOKS; b++)
    first[b] = now[b] + gdt * slope[b];

  /* Second stage, with the matrix of the first. */
  for (int i = 0; i < net->n; i++)
    net->next[i] = net->y[i] + dt * net->k1[i];
  memcpy (net->start, net->parts, sizeof (Part) * net->ns);
  find_airs (net, &net->next_airs, net->next);
  find_rates (net, net->next, &net->next_airs);
  gather_rates (net, net->right);
  for (int i = 0; i < net->n; i++)
    net->right[i] -= 2.0 * net->mass[i] * net->k1[i];
  solve (net, net->right, gdt, net->k2, net->start);
  find_books (net, net->next, &net->next_airs, now);
  find_book_slopes (net, net->start, net->k2, slope);
  for (int b = 0; b < DEW_N_BOOKS; b++)
    net->book_next[b]
      = net->book[b] + dt * (1.5 * first[b] + 0.5 * (now[b] - 2.0 * first[b] + gdt * slope[b]));
  for (int i = 0; i < net->n; i++)
    net->next[i] = net->y[i] + dt * (1.5 * net->k1[i] + 0.5 * net->k2[i]);
  find_airs (net, &net->next_airs, net->next);
  return error_of (net, dt) / tolerance;
}

void
dew_net_take (DewNet *net)
{
  double *y = net->y;
  Airs airs = net->airs;

  net->y = net->next;
  net->next = y;
  net->airs = net->next_airs;
  net->next_airs = airs;
  memcpy (net->book, net->book_next, sizeof net->book);
}

/* --- reading and setting --------------------------------------------------------------- */

static DewNetState
state_of (const DewNet *net, const double *y, const Airs *a, const double *book)
{
  int nb = net->nb;

  return (DewNetState){ a->t,          a->w,          a->fog,      y[2 * nb],
                        y[2 * nb + 1], y[2 * nb + 2], y + net->nc, book };
}

DewNetState
dew_net_state (const DewNet *net)
{
  return state_of (net, net->y, &net->airs, net->book);
}

DewNetState
dew_net_tried (const DewNet *net)
{
  return state_of (net, net->next, &net->next_airs, net->book_next);
}

void
dew_net_set_water (DewNet *net, int skin, int side, double kg)
{
  net->y[at_skin (net, skin) + 1 + side] = kg;
}

void
dew_net_set_room (DewNet *net, double t_C, double w_kg_kg)
{
  net->y[2 * net->nb + 1] = t_C;
  net->y[2 * net->nb + 2] = w_kg_kg;
}

void
dew_net_set_bay (DewNet *net, int bay, double t_C, double w_kg_kg)
{
  net->y[bay] = t_C + latent_K (net) * w_kg_kg;
  net->y[net->nb + bay] = w_kg_kg;
  find_air (net, &net->airs, bay, net->y[bay], net->y[net->nb + bay]);
}

double
dew_net_energy_J (const DewNet *net)
{
  double sum = net->mass[2 * net->nb] * net->y[2 * net->nb];

  for (int b = 0; b < net->nb; b++)
    sum += net->mass[b] * net->y[b];
  for (int s = 0; s < net->ns; s++)
    sum += net->mass[at_skin (net, s)] * net->y[at_skin (net, s)];
  return sum;
}

double
dew_net_water_kg (const DewNet *net)
{
  double sum = 0.0;

  for (int b = 0; b < net->nb; b++)
    sum += net->mass[net->nb + b] * net->y[net->nb + b];
  for (int s = 0; s < net->ns; s++)
    sum += net->y[at_skin (net, s) + 1] + net->y[at_skin (net, s) + 2];
  return sum;
}

void
dew_net_clear_books (DewNet *net)
{
  memset (net->book, 0, sizeof net->book);
}

void
dew_net_copy (DewNet *net, const DewNet *from)
{
  memcpy (net->y, from->y, sizeof (double) * net->n);
  memcpy (net->book, from->book, sizeof net->book);
  find_airs (net, &net->airs, net->y);
}

int
dew_net_size (const DewNet *net)
{
  return net->n;
}

const double *
dew_net_unknowns (const DewNet *net)
{
  return net->y;
}

void
dew_net_rates (DewNet *net, const double *y, double *rates)
{
  find_airs (net, &net->next_airs, y);
  find_all_films (net, y, &net->next_airs);
  find_rates (net, y, &net->next_airs);
  gather_rates (net, rates);
  for (int i = 0; i < net->n; i++)
    rates[i] /= net->mass[i];
}
