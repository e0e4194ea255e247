/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dewtier assign: which plant stands where. dewtier compare: variants side by side. */
#include "command-line.h"

#include "store/store.h"

#include <glib/gi18n.h>

/* --- assign -------------------------------------------------------------- */

static DewAssignment *
assign (const DewAsked *asked, GError **error)
{
  g_autoptr (DewForecast) day = NULL;
  g_autoptr (DewForecast) night = NULL;
  DewForecastOptions options;
  DewAssignOptions how;

  if (!dew_assign_check_plants (asked->chamber, asked->about.variant, error))
    return NULL;
  dew_command_options (asked, &options);
  day = dew_forecast_new (asked->chamber, asked->about.variant->id, &options, NULL, error);
  if (day == NULL)
    return NULL;
  options.night = TRUE;
  night = dew_forecast_new (asked->chamber, asked->about.variant->id, &options, NULL, error);
  if (night == NULL)
    return NULL;
  dew_assign_options_init (&how);
  how.seconds = asked->seconds;
  how.lookup = dew_catalogue_plant_kind;
  how.lookup_data = asked->chamber;
  return dew_assign_new (asked->chamber, asked->about.variant->id, day, night, &how, NULL, error);
}

int
dew_command_assign (DewAsked *asked)
{
  g_autoptr (DewAssignment) a = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;

  if (!dew_command_open (asked, asked->words[0]))
    return DEW_EXIT_NO;
  a = assign (asked, &error);
  if (a != NULL)
    text = asked->json ? dew_report_assign_json (&asked->about, a)
                       : dew_report_assign_text (&asked->about, a);
  return dew_command_answer (asked, text, error);
}

/* --- compare ------------------------------------------------------------- */

/* The shown variant first, or those that are named, in that order. Their number; 0 when
 * something was wrong and has been said. */
static int
choose_sides (const DewAsked *asked, guint ids[DEW_COMPARE_SIDES_MAX])
{
  const GArray *variants = asked->chamber->variants;
  int n = 0;

  if (asked->n == 1)
    ids[n++] = asked->about.variant->id;
  for (int i = 1; i < asked->n; i++)
    {
      const DewVariant *variant = dew_command_variant (asked, asked->words[i]);

      if (variant == NULL)
        return 0;
      ids[n++] = variant->id;
    }
  for (guint i = 0; asked->n == 1 && i < variants->len && n < DEW_COMPARE_SIDES_MAX; i++)
    {
      guint id = g_array_index (variants, DewVariant, i).id;

      if (id != asked->about.variant->id)
        ids[n++] = id;
    }
  if (n >= 2)
    return n;
  dew_command_complain (DEW_EXIT_NO,
                        _ ("%s: there is only one variant; duplicate it and change something "
                           "to have two to compare"),
                        asked->about.file);
  return 0;
}

int
dew_command_compare (DewAsked *asked)
{
  g_autoptr (DewComparison) c = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  guint ids[DEW_COMPARE_SIDES_MAX];
  DewForecastOptions options;
  int n;

  if (!dew_command_open (asked, asked->words[0]))
    return DEW_EXIT_NO;
  n = choose_sides (asked, ids);
  if (n == 0)
    return DEW_EXIT_NO;
  dew_command_options (asked, &options);
  c = dew_compare_run (asked->chamber, ids, n, &options, dew_catalogue_plant_kind, asked->chamber,
                       NULL, &error);
  if (c != NULL)
    text = asked->json ? dew_report_compare_json (&asked->about, c)
                       : dew_report_compare_text (&asked->about, c);
  return dew_command_answer (asked, text, error);
}
