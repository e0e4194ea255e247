/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What goes wrong, and how long there is until a plant's limits are crossed: the day as it always
 * is, then from an hour on something else, marched on for two days. */

#include "day/hours.h"

G_BEGIN_DECLS

typedef enum
{
  DEW_MISHAP_POWER, /* nothing runs */
  DEW_MISHAP_TANK,  /* humidifiers give nothing */
  DEW_MISHAP_FAN,   /* fans stand still */
  DEW_MISHAP_DOOR,  /* the front stands open */
  DEW_MISHAP_HEAT,  /* the room gets eight degrees warmer within a day, with its water as it was */
  DEW_MISHAP_LAMP,  /* lamps stay on */
  DEW_N_MISHAPS
} DewMishapKind;

#define DEW_MISHAP_HEAT_K 8.0
#define DEW_MISHAP_HOURS 48.0

typedef struct
{
  guint thing_id;
  char name[DEW_NAME_SIZE];
  gboolean known; /* what it wishes */
  gboolean crossed;
  double after_s; /* until then; INFINITY: not within two days */
  DewOut why;
  double reaches; /* the farthest that it comes to on that side in two days, C or fraction */
} DewMishapPlant;

typedef struct
{
  DewMishapKind kind;
  gboolean possible; /* there is what can fail */
  double from_h;     /* clock time at which it begins: of morning and evening the worse */
  GArray *plants;    /* DewMishapPlant, in the order of the variant */
  int first;         /* of them whose limit is crossed first; -1: none is */
  int n;             /* [n] of the series, every ten minutes from when it begins */
  int n_bays;
  double *t_C, *rh; /* [n_bays * n] */
} DewMishap;

typedef struct
{
  DewMishap mishaps[DEW_N_MISHAPS];
  double seconds;
} DewMishaps;

typedef void (*DewMishapTell) (double share, gpointer data);

DewMishaps *dew_mishaps_new (const DewChamber *chamber, guint variant_id,
                             const DewDayOptions *options, DewPlantWishLookup lookup,
                             gpointer lookup_data, DewMishapTell tell, gpointer tell_data,
                             GCancellable *cancellable, GError **error);
void dew_mishaps_free (DewMishaps *mishaps);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewMishaps, dew_mishaps_free)

G_END_DECLS
