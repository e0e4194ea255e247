/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* DEW_TWICE in front of a function makes the compiler build it twice: for every x86-64
 * processor and for those with AVX2 (x86-64-v3); the machine picks one when the program
 * starts. Both give the same bits: no products and sums are fused (-ffp-contract=off for the
 * whole program), and no sum is taken in another order than the source says, so what is
 * summed in lanes says so itself (DewLanes). */

#include <glib.h>

#if defined DEW_HAVE_CLONES && !defined __SANITIZE_ADDRESS__
#define DEW_TWICE __attribute__ ((target_clones ("arch=x86-64-v3", "default")))
#else
#define DEW_TWICE
#endif

/* For what functions made twice are built from: it must become part of each of them. */
#define DEW_PART static inline __attribute__ ((always_inline))

/* Four numbers side by side; two registers where the machine has no wider ones. */
typedef double DewLanes __attribute__ ((vector_size (32), aligned (8), may_alias));
#define DEW_LANES 4

/* Rounds up to whole DewLanes. */
#define DEW_WHOLE_LANES(n) (((n) + DEW_LANES - 1) / DEW_LANES * DEW_LANES)

/* The DewLanes at an address. */
#define DEW_LANES_AT(address) (*(DewLanes *) (address))

/* Of some lanes those where a comparison of lanes holds, else 0. */
typedef long long DewLanesTest __attribute__ ((vector_size (32)));
#define DEW_LANES_WHERE(holds, lanes) ((DewLanes) ((holds) & (DewLanesTest) (lanes)))

/* One of some lanes, in all of them. */
#define DEW_LANES_OF_ONE(lanes, l) __builtin_shuffle (lanes, (DewLanesTest){ l, l, l, l })

/* The larger of each two lanes; b where either is no number. */
#define DEW_LANES_LARGER(a, b) (DEW_LANES_WHERE ((a) > (b), a) + DEW_LANES_WHERE (~((a) > (b)), b))
