/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The enclosure by bays, in one state of its air: what a steady forecast of a document by day or
 * by night says of the exchange between bays and with the room, and of the air beside each
 * surface. What a march through hours (net.h) goes by as long as lamps, fans and openings stay.
 *
 * The exchange is exact for air that is frozen as it flows: a scalar given off evenly in one bay
 * comes to certain means in all of them, found by a steady transport each; the inverse of that
 * matrix is what each bay passes to each. What a bay's own sources, which are nowhere even, add
 * to that is kept as it is in the steady state (`carried`), as is how the air beside a surface
 * differs from the mean of its bay. So a march with nothing changing ends where the steady
 * forecast is.
 */

#include <gio/gio.h>

#include "day/net.h"
#include "forecast/forecast.h"
#include "transport/atmosphere.h"

G_BEGIN_DECLS

/* A humidifier, per kg/s of its output. */
typedef struct
{
  guint thing_id;
  DewHumidifier device;
  double *vapour;                /* [n_bays] shares that come as vapour */
  double *taken;                 /* [n_bays] shares of its mist that the air of the bay takes up */
  double *heat_J_kg;             /* [n_bays] heat of the machine and of steam */
  int sensor_bay;                /* where its humidistat listens */
  double sensor_K, sensor_kg_kg; /* over the mean of that bay */
  double duty;                   /* in the steady state */
} DewLumpMister;

typedef struct
{
  DewForecast *forecast; /* of this state */
  DewAir air;
  DewRoomAir room;
  int n_bays;
  double *volume_m3; /* [n_bays] */
  double *exchange_m3_s;
  double *carried[2];
  double *heat_W;      /* [n_bays] of all but humidifiers */
  double *vapour_kg_s; /* [n_bays] the same */
  double *fall_1_s;    /* [n_bays] share of its fog that falls out of a bay */
  double given_W, leak_W_K;
  GArray *misters; /* DewLumpMister */
  GArray *skins;   /* DewSkin */
  double power_W;  /* drawn by lamps, fans and mats */
} DewLump;

typedef struct
{
  DewGrid grid;
  gboolean night;
  double room_t_C, room_w_kg_kg; /* of the time it stands for */
} DewLumpOptions;

/* Settles the air of the variant (0: the shown one) and takes it apart. NULL with error as
 * dew_forecast_new(). */
DewLump *dew_lump_new (const DewChamber *chamber, guint variant_id, const DewLumpOptions *options,
                       GCancellable *cancellable, GError **error);
void dew_lump_free (DewLump *lump);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewLump, dew_lump_free)

/* The skins of `lump` in the order of `like`, which has the same bays: what lump lacks passes
 * nothing. Transfer full. */
GArray *dew_lump_skins_like (const DewLump *lump, const GArray *like);

G_END_DECLS
