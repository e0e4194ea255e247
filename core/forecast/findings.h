/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Findings: what a grower should look at in a forecast, each with its place, the
 * number and the limit it passes, where the limit comes from and the cause. Facts;
 * say/findings.h puts them in words. */

#include "forecast/forecast.h"

G_BEGIN_DECLS

/* Fills forecast->findings, the worst first: those to act on before those to watch. Of
 * each kind there is at most one per bay, about the worst of what stands there, and one
 * per tank and shelf. lookup may be NULL: then plants count as of no known kind. Findings made
 * before are freed. */
void dew_findings_make (const DewChamber *chamber, const DewVariant *variant,
                        DewPlantWishLookup lookup, gpointer data, DewForecast *forecast);

/* Seconds until a film of 0.1 mm of water on a leaf is dry, without sun or lamp; INFINITY
 * in saturated air. Energy balance of a wet leaf (see transport/wet.h). */
double dew_findings_drying_s (const DewClimate *climate, double pressure_Pa);

/* Key of a kind in files and on the command line: "still", "roof_drip" ... */
const char *dew_finding_kind_key (DewFindingKind kind);

G_END_DECLS
