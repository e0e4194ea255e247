/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/report-private.h"

#include "moist/constants.h"
#include "say/findings.h"
#include "say/names.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define TITLE_WIDTH 26
#define CELL_WIDTH 12

/* A number with a point in every locale; "-" for what has no value. Newly allocated. */
static char *
number (double value, int decimals)
{
  char format[8];
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  if (!isfinite (value))
    return g_strdup ("-");
  g_snprintf (format, sizeof format, "%%.%df", decimals);
  /* No "-0.0". */
  if (fabs (value) < 0.5 * pow (10.0, -decimals))
    value = 0.0;
  return g_strdup (g_ascii_formatd (text, sizeof text, format, value));
}

void
dew_report_pad (GString *out, const char *text, int width, gboolean right)
{
  int room = width - (int) g_utf8_strlen (text, -1);

  if (right)
    g_string_append_printf (out, "%*s", MAX (room, 1), "");
  g_string_append (out, text);
  if (!right)
    g_string_append_printf (out, "%*s", MAX (room, 1), "");
}

/* The members of a climate that are shown as columns. */
static void
append_titles (GString *out, const char *first)
{
  dew_report_pad (out, first, TITLE_WIDTH, FALSE);
  for (const DewMember *m = dew_climate_members; m->key != NULL; m++)
    if (m->label != NULL)
      dew_report_pad (out, _ (m->label), CELL_WIDTH, TRUE);
  g_string_append_c (out, '\n');
}

static void
append_climate (GString *out, const char *title, const DewClimate *climate)
{
  dew_report_pad (out, title, TITLE_WIDTH, FALSE);
  for (const DewMember *m = dew_climate_members; m->key != NULL; m++)
    {
      double value = dew_member_real (m, climate), band = dew_member_band (m, climate);
      g_autofree char *x = number (value * m->factor, m->decimals);
      g_autofree char *width = number (band * m->factor, m->decimals);
      gboolean known = isfinite (value) && isfinite (band);
      g_autofree char *cell = g_strconcat (x, known ? "\302\261" : NULL, width, NULL);

      if (m->label != NULL)
        dew_report_pad (out, m->of == DEW_VALUE_AGE && isnan (value) ? _ ("no exchange") : cell,
                        CELL_WIDTH, TRUE);
    }
  g_string_append_c (out, '\n');
}

static const char *
bay_name (const DewReport *about, const DewForecast *forecast, int bay)
{
  const DewThing *shelf = dew_variant_thing (about->variant, forecast->bays[bay].shelf_id);

  return shelf != NULL && shelf->name[0] != '\0' ? shelf->name
         : shelf != NULL                         ? _ ("Shelf")
                                                 : _ ("Floor");
}

static void
append_head (GString *out, const DewReport *about, const DewForecast *forecast)
{
  g_autofree char *t = number (forecast->room_t_C, 1), *rh = number (forecast->room_rh * 100.0, 0);
  g_autofree char *w = number (forecast->room_w_kg_kg * 1000.0, 2);
  g_autofree char *swing = number (forecast->swing * 100.0, 2);
  g_autofree char *seconds = number (forecast->seconds, 2);

  g_string_append_printf (out,
                          forecast->night
                            /* Translators: enclosure, variant, month */
                            ? _ ("%s, variant \"%s\", %s by night\n")
                            : _ ("%s, variant \"%s\", %s by day\n"),
                          about->chamber->name, about->variant->name,
                          dew_month_name (about->chamber->month));
  g_string_append_printf (out, _ ("Room: %s C, %s %% RH, %s g/kg\n"), t, rh, w);
  g_string_append_printf (out, _ ("Grid: %s, %d zones (%d across, %d deep, %d high)\n"),
                          dew_grid_keys[forecast->grid], forecast->n_zones, forecast->n[0],
                          forecast->n[1], forecast->n[2]);
  /* Translators: the state ('settled'), how many steps it took, how much it still
   * changed, how long it took */
  g_string_append_printf (out, _ ("State: %s after %d steps, swing %s %%, %s s\n"),
                          dew_forecast_state_text (forecast), forecast->steps, swing, seconds);
}

/* As one sees them: the highest first. */
static void
append_bays (GString *out, const DewReport *about, const DewForecast *forecast)
{
  g_string_append_c (out, '\n');
  append_titles (out, _ ("Bay"));
  for (int i = forecast->n_bays - 1; i >= 0; i--)
    append_climate (out, bay_name (about, forecast, i), &forecast->bays[i].mean);
  append_climate (out, _ ("Whole enclosure"), &forecast->all);
}

/* The same bays in the second flow that the air has. */
static void
append_other (GString *out, const DewReport *about, const DewForecast *forecast)
{
  if (forecast->other == NULL)
    return;
  g_string_append_printf (out, "\n%s\n",
                          _ ("The air here has two flows and keeps to the one it is in. After a "
                             "draught, an open door or a "
                             "fan switched on late it may be in the other, which is:"));
  append_titles (out, _ ("Bay"));
  for (int i = forecast->n_bays - 1; i >= 0; i--)
    append_climate (out, bay_name (about, forecast, i), &forecast->other[i]);
}

static void
append_places (GString *out, const DewReport *about, const DewForecast *forecast)
{
  g_string_append_printf (out, "\n%s\n",
                          _ ("Places are counted from the left and from the front."));
  append_titles (out, _ ("Place"));
  for (int bay = forecast->n_bays - 1; bay >= 0; bay--)
    for (int i = 0; i < forecast->n_places; i++)
      {
        const DewPlace *place = &forecast->places[i];
        g_autofree char *where = NULL;
        g_autofree char *title = NULL;

        if (place->bay != bay)
          continue;
        where = g_utf8_substring (bay_name (about, forecast, bay), 0,
                                  MIN (18, g_utf8_strlen (bay_name (about, forecast, bay), -1)));
        title = g_strdup_printf ("%s %d, %d", where, place->column + 1, place->row + 1);
        append_climate (out, title, &place->mean);
      }
}

static void
append_exchanges (GString *out, const DewForecast *forecast)
{
  g_autofree char *changes = number (forecast->exchange_1_s * DEW_S_PER_H, 2);

  g_string_append_c (out, '\n');
  dew_report_pad (out, _ ("Air through"), TITLE_WIDTH, FALSE);
  dew_report_pad (out, _ ("in m³/h"), CELL_WIDTH, TRUE);
  dew_report_pad (out, _ ("out m³/h"), CELL_WIDTH, TRUE);
  g_string_append_c (out, '\n');
  for (int i = 0; i < forecast->n_exchanges; i++)
    {
      const DewExchange *exchange = &forecast->exchanges[i];
      const double flows[2] = { exchange->inflow_m3_s, exchange->outflow_m3_s };

      dew_report_pad (out, exchange->thing_id == 0 ? _ (exchange->name) : exchange->name,
                      TITLE_WIDTH, FALSE);
      for (int k = 0; k < 2; k++)
        {
          g_autofree char *cell = number (flows[k] * DEW_S_PER_H, 2);

          dew_report_pad (out, cell, CELL_WIDTH, TRUE);
        }
      g_string_append_c (out, '\n');
    }
  g_string_append_printf (out, _ ("Air changes per hour: %s\n"), changes);
}

static void
append_devices (GString *out, const DewReport *about, const DewForecast *forecast)
{
  for (int i = 0; i < forecast->n_devices; i++)
    {
      const DewDevice *device = &forecast->devices[i];
      const DewThing *thing = dew_variant_thing (about->variant, device->thing_id);
      g_autofree char *duty = NULL, *water = NULL;

      if (thing == NULL || !isfinite (device->duty))
        continue;
      duty = number (device->duty * 100.0, 1);
      water = number (device->water_kg_s * 3.6e6, 1);
      if (isfinite (device->hours_of_water))
        {
          g_autofree char *hours = number (device->hours_of_water, 1);

          g_string_append_printf (out,
                                  _ (
                                    "%s runs %s %% of the time, gives %s mL/h, empty after %s h\n"),
                                  thing->name, duty, water, hours);
        }
      else
        g_string_append_printf (out, _ ("%s runs %s %% of the time, gives %s mL/h\n"), thing->name,
                                duty, water);
    }
}

static void
append_balance (GString *out, const DewBalance *balance)
{
  static const char *const sums[DEW_N_SUMS] = {
    [DEW_SUM_AIR] = N_ ("Air"),
    [DEW_SUM_HEAT] = N_ ("Heat into the air"),
    [DEW_SUM_WATER] = N_ ("Water into the air"),
  };

  g_string_append_c (out, '\n');
  for (int sum = 0; sum < DEW_N_SUMS; sum++)
    {
      g_string_append_printf (out, "%s\n", _ (sums[sum]));
      for (const DewMember *m = dew_balance_members; m->key != NULL; m++)
        {
          double value = dew_member_real (m, balance);
          char left[G_ASCII_DTOSTR_BUF_SIZE];
          g_autofree char *term = number (value * m->factor, m->decimals);

          if (m->of != sum)
            continue;
          g_ascii_formatd (left, sizeof left, "%.1e", value);
          dew_report_pad (out, _ (m->label), TITLE_WIDTH + 10, FALSE);
          dew_report_pad (out, m->unit != NULL ? term : left, CELL_WIDTH, TRUE);
          /* Translators: follows a number, as in '1.2e-05 of the largest term' */
          g_string_append_printf (out, " %s\n",
                                  m->unit != NULL ? m->unit : _ ("of the largest term"));
        }
    }
}

/* In the units of the report, whatever the user measures in. */
static char *
plain_measure (const DewFinding *finding, double si)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];

  return g_strdup_printf ("%s %s",
                          g_ascii_formatd (digits, sizeof digits, "%.3g",
                                           dew_finding_plain (finding, si)),
                          dew_finding_unit (finding));
}

static void
append_finding (GString *out, const DewForecast *forecast, const DewFinding *finding)
{
  g_autofree char *title = dew_finding_title (forecast, finding);
  g_autofree char *cause = dew_finding_cause (finding);
  g_autofree char *value = plain_measure (finding, finding->value);
  g_autofree char *limit = plain_measure (finding, finding->threshold);
  g_autofree char *number = dew_finding_number_words (finding, value, limit);

  g_string_append_printf (out,
                          /* Translators: title, cause and remedy, each whole sentences */
                          finding->severity > 1 ? _ ("Act:  %s: %s %s") : _ ("Look: %s: %s %s"),
                          title, cause, dew_finding_remedy (finding));
  if (number != NULL)
    /* Translators: "86 %, wants at least 88 %", and where the limit comes from */
    g_string_append_printf (out, _ (" (%s; %s)"), number, dew_limit_source (finding->limit));
  g_string_append_c (out, '\n');
}

static void
append_findings (GString *out, const DewForecast *forecast)
{
  if (forecast->n_findings == 0)
    return;
  g_string_append_printf (out, "\n%s\n", _ ("Findings"));
  for (int i = 0; i < forecast->n_findings; i++)
    append_finding (out, forecast, &forecast->findings[i]);
}

/* The balances in one line. */
static void
append_residuals (GString *out, const DewBalance *balance)
{
  char air[G_ASCII_DTOSTR_BUF_SIZE], heat[G_ASCII_DTOSTR_BUF_SIZE];
  char water[G_ASCII_DTOSTR_BUF_SIZE];

  g_string_append_printf (
    out, _ ("Balances leave over, of the largest term: air %s, heat %s, water %s\n"),
    g_ascii_formatd (air, sizeof air, "%.1e", balance->air_residual),
    g_ascii_formatd (heat, sizeof heat, "%.1e", balance->heat_residual),
    g_ascii_formatd (water, sizeof water, "%.1e", balance->water_residual));
}

char *
dew_report_forecast_text (const DewReport *about, const DewForecast *forecast, gboolean balance)
{
  GString *out = g_string_new (NULL);

  append_head (out, about, forecast);
  append_bays (out, about, forecast);
  append_other (out, about, forecast);
  append_places (out, about, forecast);
  append_exchanges (out, forecast);
  append_devices (out, about, forecast);
  if (balance)
    append_balance (out, &forecast->balance);
  else
    append_residuals (out, &forecast->balance);
  append_findings (out, forecast);
  g_string_append_printf (out, "\n%s\n", _ ("This is a prediction with error, not a measurement."));
  return g_string_free (out, FALSE);
}
