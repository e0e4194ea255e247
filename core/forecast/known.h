/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Whether this build on this machine still says what is known: a few laws that others
 * published, the balances of the demo, and whether one layout gives one answer. Takes a few
 * seconds; holds nothing. */

#include <glib.h>

G_BEGIN_DECLS

typedef enum
{
  DEW_KNOWN_SATURATION, /* Pa */
  DEW_KNOWN_DILUTION,   /* kg/kg that a stirred, ventilated box has over its room */
  DEW_KNOWN_EXTRACTOR,  /* m3/s of a fan that draws its air through leakage */
  DEW_KNOWN_BALANCES,   /* the largest that air, heat and water of the demo leave over, relative */
  DEW_KNOWN_SAME,       /* zones of the demo that differ between two forecasts */
  DEW_N_KNOWN
} DewKnownKind;

typedef struct
{
  DewKnownKind kind;
  double found, expected;
  double allowed; /* that they may differ */
  gboolean holds;
} DewKnown;

/* Asks one of them. FALSE with error when no forecast could be made, which is as bad. */
gboolean dew_known_ask (DewKnownKind kind, DewKnown *known, GError **error);

G_END_DECLS
