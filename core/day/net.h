/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The enclosure as a network that is marched through hours: the air of each bay, the surfaces in
 * it with what they hold of heat and water, one radiant node, and the room. Plain numerics: knows
 * no document.
 *
 * Unknown are, of each bay, enthalpy h = T + (L / cp) w and total water q = w + m, with w its
 * vapour and m its fog: there is fog only in air that is full, and then w = w_sat (T). Of each skin
 * (a side of the cover in a bay, a closed board, a wet thing, the leaves of a plant, a mass) its
 * temperature and the water it holds on each side; and the radiant node R. With rho, cp, L of one
 * air,
 *
 *     rho V cp dh/dt = -rho cp (sum_j K_j (h_j - h_room) + c_h) + sum h A (T_skin - T) + L sum e
 *                      + heat + L vapour
 *     rho V dq/dt    = -rho (sum_j K_j (q_j - q_room) + c_q) + sum e + vapour + mist
 *                      - (what falls of the fog)
 *     C dT_skin/dt   = sum h A (T - T_skin) + r A (T_R - T_skin) + U A (T_room - T_skin)
 *                      + light - L sum e
 *     dm/dt          = -e - (what runs off)
 *
 * e is what evaporates from a side (negative: condenses), by the relations of transport/wet.h and
 * leaf.h. What one node loses another gets in the same expression, so energy and water balance to
 * rounding at any length of step.
 *
 * A step is that of the two-stage Rosenbrock method ROS2 with gamma = 1 - 1/sqrt 2 (Verwer,
 * Spee, Blom & Hundsdorfer, SIAM J. Sci. Comput. 20, 1999), L-stable and of second order for any
 * matrix, so that films and slopes may be those of the start of the step. The whole coupled
 * system is implicit; skins are eliminated one by one, so that what is factored has two rows a
 * bay and three more.
 */

#include <glib.h>

#include "moist/air.h"
#include "transport/films.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_SKIN_PANEL, /* a side of the cover, as far as it bounds one bay */
  DEW_SKIN_BOARD, /* the closed part of a shelf; side 1 is its underside */
  DEW_SKIN_WET,   /* wet pot or tray */
  DEW_SKIN_LEAF,
  DEW_SKIN_MASS /* dry and slow: pots with their medium, wire */
} DewSkinKind;

typedef struct
{
  DewSkinKind kind;
  guint thing_id; /* 0: of the cover */
  int panel;      /* DewFace, else -1 */
  int bay[2];     /* that each side faces; -1: there is no such side */
  double area_m2; /* of a side; of leaves one side */
  double length_m;
  DewFacing facing;
  double speed_m_s[2]; /* of the air along it */
  /* The air beside it over that of its bay. */
  double beside_K[2], beside_kg_kg[2];
  double losing_W_m2K, gaining_W_m2K; /* to the room; 0: not at all */
  double radiation_W_m2K;             /* to the radiant node, per side; of wet things and leaves
                                       * found for their temperature */
  double film_W_m2K;                  /* of a mass, air and radiation in one */
  double light_W;                     /* taken up */
  double wetted;                      /* share of the area; 0: no water beside dew */
  double conductance_mol_m2s;         /* of leaves */
  double capacity_J_K;
  double holds_kg; /* water of each side of a panel or board at which it begins to run off; of a
                    * wet thing the reserve when full, 0: without end */
} DewSkin;

/* What the air does, from one steady state of it, and what is given to it. */
typedef struct
{
  int n_bays;
  double *exchange_m3_s; /* [n_bays * n_bays] K, row by row */
  double *carried[2];   /* [n_bays] c of T (K m3/s) and of w (kg/kg m3/s); that of h is their sum */
  double *door_m3_s;    /* [n_bays] more exchange with the room alone */
  double *heat_W;       /* [n_bays] into the air */
  double *vapour_kg_s;  /* [n_bays] */
  double *mist_kg_s;    /* [n_bays] as droplets, that the air takes up while it is not full */
  double *fall_1_s;     /* [n_bays] share of its fog that falls out */
  double given_W;       /* to the radiant node */
  double leak_W_K;      /* from that node through the cover */
  const DewSkin *skins; /* [n_skins]; lent */
  double room_K_s, room_kg_kg_s; /* how the room changes */
} DewNetDrive;

/* Sums over time of what passes the bounds of the network, J and kg. */
typedef enum
{
  DEW_BOOK_HEAT_AIR,   /* to the room with the air, enthalpy */
  DEW_BOOK_WATER_AIR,  /* to the room with the air */
  DEW_BOOK_HEAT_COVER, /* to the room through the cover */
  DEW_BOOK_HEAT_WAVES, /* to the room through a cover that passes long waves */
  DEW_BOOK_RUN_OFF,    /* water that ran off cover and boards */
  DEW_BOOK_FOG,        /* fog that fell */
  DEW_BOOK_LEAVES,     /* water that leaves gave off: it comes from outside */
  DEW_BOOK_HEAT_IN,    /* given to air, radiant node, skins, that of vapour with it */
  DEW_BOOK_WATER_IN,   /* vapour and mist given to the air */
  DEW_BOOK_MIST,       /* of the water in, what came as droplets */
  DEW_BOOK_CONDENSED,  /* on cover and boards, in all */
  DEW_BOOK_DRIED,      /* from there back into the air, in all */
  DEW_BOOK_WET,        /* given off by wet pots and trays */
  DEW_N_BOOKS
} DewBook;

typedef struct _DewNet DewNet;

/* volume_m3: [n_bays], copied. air: of the whole march. */
DewNet *dew_net_new (int n_bays, int n_skins, const double *volume_m3, const DewAir *air);
void dew_net_free (DewNet *net);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewNet, dew_net_free)

/* Everything at the room's state and dry, reserves full. */
void dew_net_rest (DewNet *net, const DewSkin *skins, double room_t_C, double room_w_kg_kg);
/* Lent; must outlive its use. Takes effect with the next step. */
void dew_net_drive (DewNet *net, const DewNetDrive *drive);

/* One step of dt_s from the state as it is, kept apart until it is taken: so that an event in it
 * can be looked for. Returns the estimate of its error over the tolerances of state (below 1: as
 * good as asked for), NAN when it came to nothing. `tolerance` scales 0.02 K, 3e-5 kg/kg and
 * 0.2 g. */
double dew_net_try (DewNet *net, double dt_s, double tolerance);
void dew_net_take (DewNet *net);

/* State as it is; tried: after the step that is kept apart. Lent, until the next step. */
typedef struct
{
  const double *t_C, *w_kg_kg; /* [n_bays] w: vapour alone */
  const double *fog_kg_kg;     /* [n_bays] */
  double radiant_C, room_t_C, room_w_kg_kg;
  const double *skin; /* [3 * n_skins] temperature C, water of side 0, of side 1, kg */
  const double *book; /* [DEW_N_BOOKS] */
} DewNetState;

DewNetState dew_net_state (const DewNet *net);
DewNetState dew_net_tried (const DewNet *net);
/* To fill what is wet again, and to set the room. */
void dew_net_set_water (DewNet *net, int skin, int side, double kg);
void dew_net_set_room (DewNet *net, double t_C, double w_kg_kg);
void dew_net_set_bay (DewNet *net, int bay, double t_C, double w_kg_kg);

/* What is in it now: J over 0 C with the heat of its vapour, and kg. With the books
 *     change of energy = HEAT_IN - HEAT_AIR - HEAT_COVER - HEAT_WAVES
 *     change of water = WATER_IN + LEAVES - WATER_AIR - RUN_OFF - FOG. */
double dew_net_energy_J (const DewNet *net);
double dew_net_water_kg (const DewNet *net);
void dew_net_clear_books (DewNet *net);
/* The state of another of the same make. */
void dew_net_copy (DewNet *net, const DewNet *from);

/* Rates of change of everything that is unknown, for another integrator: n values, of h, q (bays),
 * R, the room's T and w, then T, m0, m1 of each skin; films as `y` itself makes them. */
int dew_net_size (const DewNet *net);
const double *dew_net_unknowns (const DewNet *net);
void dew_net_rates (DewNet *net, const double *y, double *rates);

G_END_DECLS
