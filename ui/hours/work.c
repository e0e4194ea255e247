/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "hours/private.h"

static void
tell (double share, gpointer run)
{
  dew_errand_report (run, share, NULL);
}

gpointer
dew_hours_day_work (gpointer chamber, DewErrandRun *run, GCancellable *cancellable, GError **error)
{
  DewDayOptions options;

  dew_day_options_init (&options);
  tell (0.2, run);
  return dew_day_new (chamber, 0, &options, cancellable, error);
}

gpointer
dew_hours_year_work (gpointer chamber, DewErrandRun *run, GCancellable *cancellable, GError **error)
{
  DewDayOptions options;

  dew_day_options_init (&options);
  return dew_year_new (chamber, 0, &options, dew_catalogue_plant_wish, chamber, tell, run,
                       cancellable, error);
}

gpointer
dew_hours_mishaps_work (gpointer chamber, DewErrandRun *run, GCancellable *cancellable,
                        GError **error)
{
  DewDayOptions options;

  dew_day_options_init (&options);
  return dew_mishaps_new (chamber, 0, &options, dew_catalogue_plant_wish, chamber, tell, run,
                          cancellable, error);
}
