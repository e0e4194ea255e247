/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A year of twelve typical days, and which of its weeks fall out of which plant's wishes.
 * Between the middles of two months a week lies between their days. */

#include "day/hours.h"

G_BEGIN_DECLS

#define DEW_WEEKS \
  52 /* of seven days from the first of January on; the last has one or two more \
      */

typedef struct
{
  guint thing_id;
  char name[DEW_NAME_SIZE];
  gboolean known; /* what it wishes */
  DewOutHours month[12];
  double beyond[DEW_WEEKS]; /* of the worst of the week, K or fraction; 0: within its wishes */
  int why[DEW_WEEKS];       /* DewOut; -1: within its wishes */
  int weeks_out;
} DewYearPlant;

typedef struct
{
  DewDay *days[12];
  GArray *plants; /* DewYearPlant */
  int worst_week; /* of the plant and the reason that weigh most; -1: there is none */
  int worst_plant;
  double seconds;
} DewYear;

/* Told after each month how far it is. */
typedef void (*DewYearTell) (double share, gpointer data);

DewYear *dew_year_new (const DewChamber *chamber, guint variant_id, const DewDayOptions *options,
                       DewPlantWishLookup lookup, gpointer lookup_data, DewYearTell tell,
                       gpointer tell_data, GCancellable *cancellable, GError **error);
void dew_year_free (DewYear *year);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewYear, dew_year_free)

/* First day of a week: month 0..11, day 1..31 of a year without a leap day. */
void dew_year_week_begins (int week, int *month, int *day);

G_END_DECLS
