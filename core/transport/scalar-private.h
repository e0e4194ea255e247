/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What scalar.c (one quantity) and trio.c (three that are tied together within a zone)
 * share: the coefficients of a flow. */

#include "transport/scalar.h"
#include "zones/rows.h"

G_BEGIN_DECLS

struct _DewScalar
{
  const DewZones *z;
  DewRowOrder order;
  double *low[3], *high[3]; /* across the low face: low * phi(below) - high * phi(own) flows in */
  double *deferred[3];
  double *in[3], *out[3]; /* flow across inner low faces, upward and downward parts */
  double *through[3];     /* 1 on faces that are open, else 0 */
  double *inner[3];       /* 1 on open faces between two zones, else 0 */
  double *lead[3];        /* open area over distance of inner faces, m */
  double *fall;           /* zones: what lands below, m3/s */
  double *diagonal;       /* without sink and time term */
  double *d, *rhs;
  double scale; /* largest single term of the last residual */
  DewScalarStatistics statistics;
  /* BiCGSTAB */
  double *dilu, *r, *r0, *p, *v, *t, *ph, *sh;
};

/* Values of the ghosts: the room's. */
void dew_scalar_set_rim (const DewZones *zones, double *phi, double room);

static inline double
dew_scalar_deferred_into (const DewScalar *s, int at, int s1, int s2)
{
  return s->deferred[0][at] - s->deferred[0][at + 1] + s->deferred[1][at] - s->deferred[1][at + s1]
         + s->deferred[2][at] - s->deferred[2][at + s2];
}

/* What the six neighbours send into a zone. */
static inline double
dew_scalar_neighbours (const DewScalar *s, const double *phi, int at, int s1, int s2)
{
  return s->low[0][at] * phi[at - 1] + s->high[0][at + 1] * phi[at + 1]
         + s->low[1][at] * phi[at - s1] + s->high[1][at + s1] * phi[at + s1]
         + s->low[2][at] * phi[at - s2] + s->high[2][at + s2] * phi[at + s2];
}

G_END_DECLS
