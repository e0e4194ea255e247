/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "forecast/findings.h"
#include "forecast/limits.h"
#include "forecast/probe.h"

G_BEGIN_DECLS

/* A finding on its way, and how far it is beyond its limit (1 = just at it). */
typedef struct
{
  DewFinding finding;
  double excess;
} DewCandidate;

typedef struct
{
  const DewChamber *chamber;
  const DewVariant *variant;
  const DewForecast *forecast;
  DewPlantWishLookup lookup;
  gpointer lookup_data;
  GArray *candidates; /* DewCandidate */
} DewJudge;

/* Starts a finding about `thing` (may be NULL) at a point; the bay follows from z. */
DewCandidate *dew_judge_add (DewJudge *judge, DewFindingCause cause, int severity,
                             const DewThing *thing, const double at_m[3]);
/* Value and threshold in SI, where the threshold comes from, and how bad it is. */
void dew_candidate_above (DewCandidate *candidate, double value, double threshold, DewLimit limit);
void dew_candidate_below (DewCandidate *candidate, double value, double threshold, DewLimit limit);

/* The air at a point: of the nearest place in its bay, else of the bay. */
const DewClimate *dew_judge_climate (const DewJudge *judge, const double at_m[3]);

/* The fan or opening that the air at a point comes from, going up its stream; NULL where it
 * comes from none in some metres. */
const DewThing *dew_judge_mover (const DewJudge *judge, const double at_m[3]);
/* Of a kind of thing the one that gives most to a point, by its strength over the square of
 * its distance; NULL: there is none. */
const DewThing *dew_judge_nearest (const DewJudge *judge, DewThingKind kind, const double at_m[3]);
/* Names who is behind a finding in this layout, where that can be told. */
void dew_judge_blame (const DewJudge *judge, DewFinding *finding);
/* What a forecast cannot tell from the limit: half its band, or the last digit that is shown. */
double dew_judge_trifle (double band, double shown);

void dew_judge_plants (DewJudge *judge);
void dew_judge_places (DewJudge *judge);
void dew_judge_devices (DewJudge *judge);
void dew_judge_loads (DewJudge *judge);

/* What plants and empty places share. */
gboolean dew_judge_old_air (const DewJudge *judge, const DewClimate *climate);
void dew_judge_still (DewJudge *judge, const DewThing *thing, const double at_m[3], int severity,
                      const DewClimate *climate, double limit_m_s);
void dew_judge_mist (DewJudge *judge, const DewThing *thing, const double at_m[3], int severity,
                     const DewClimate *climate);
void dew_judge_drip (DewJudge *judge, const DewThing *thing, const double at_m[3], int severity,
                     const DewClimate *climate);
/* What fallen mist a wet leaf can lose in this air (kg/m2s), not below the least that counts. */
double dew_judge_mist_limit (const DewJudge *judge, const DewClimate *climate);

G_END_DECLS
