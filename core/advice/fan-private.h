/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What fan.c (the search), fan-places.c (where a fan may be) and fan-words.c share. */

#include "advice/fan.h"

G_BEGIN_DECLS

/* Unit vector in which a free fan blows. */
void dew_fan_aim (const DewFan *fan, double out[3]);

/* Every sensible place for `fan`, about `most` of them with the factors on speed and opening
 * counted (DewFanCandidate, transfer full; empty when it fits nowhere): in free air or in the
 * walls, clear of what stands there. `without` is the document without that fan. */
GArray *dew_fan_places (const DewChamber *without, guint variant_id, const DewFan *fan,
                        const DewFanQuestion *question, gboolean stand, gboolean walls, int most);

/* Whether two fans do nearly the same: same shelf or wall, near each other, aims not far apart. */
gboolean dew_fans_alike (const DewFan *a, int bay_a, const DewFan *b, int bay_b,
                         const double inner_m[3]);

/* "Second shelf, left at the back, blowing right and up", transfer full. */
char *dew_fan_title (const DewChamber *chamber, const DewVariant *variant, const DewFan *fan, int bay);

/* What to do and how sure it is, transfer full. */
char *dew_fan_verdict (const DewFanAdvice *advice, const DewFan *fan);

/* Index of the bay at a height. */
int dew_fan_bay (const DewChamber *chamber, const DewVariant *variant, double z_m);

G_END_DECLS
