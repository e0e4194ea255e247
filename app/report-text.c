/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report.h"

#include "paint/palette.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define TITLE_WIDTH 26
#define CELL_WIDTH 12

/* Columns of the tables of bays and places, in what a grower reads. */
typedef struct
{
  const char *title;
  gsize value, band; /* offsets into DewClimate; band 0: none */
  double factor;     /* from the unit of DewClimate */
  int decimals;
} Column;

#define AT(member) G_STRUCT_OFFSET (DewClimate, member)

static const Column columns[] = {
  { N_ ("temp C"), AT (t_C), AT (t_band_K), 1.0, 1 },
  { N_ ("RH %"), AT (rh), AT (rh_band), 100.0, 0 },
  { N_ ("water g/kg"), AT (w_kg_kg), AT (w_band_kg_kg), 1000.0, 2 },
  { N_ ("VPD kPa"), AT (vpd_Pa), AT (vpd_band_Pa), 1e-3, 2 },
  { N_ ("speed m/s"), AT (speed_m_s), AT (speed_band_m_s), 1.0, 2 },
  { N_ ("still %"), AT (still_share), AT (still_band), 100.0, 0 },
  { N_ ("age min"), AT (age_s), AT (age_band_s), 1.0 / 60.0, 1 },
};

const char *
dew_report_grid_word (DewGrid grid)
{
  static const char *const words[]
    = { [DEW_GRID_DRAFT] = "draft", [DEW_GRID_SETTLED] = "settled", [DEW_GRID_FINE] = "fine" };

  return words[grid];
}

/* A number with a point in every locale; "-" for what has no value. */
static void
append_number (GString *out, double value, int decimals)
{
  char format[8];
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  if (!isfinite (value))
    {
      g_string_append_c (out, '-');
      return;
    }
  g_snprintf (format, sizeof format, "%%.%df", decimals);
  /* No "-0.0". */
  if (fabs (value) < 0.5 * pow (10.0, -decimals))
    value = 0.0;
  g_string_append (out, g_ascii_formatd (text, sizeof text, format, value));
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

static void
append_titles (GString *out, const char *first)
{
  dew_report_pad (out, first, TITLE_WIDTH, FALSE);
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    dew_report_pad (out, _ (columns[i].title), CELL_WIDTH, TRUE);
  g_string_append_c (out, '\n');
}

static void
append_climate (GString *out, const char *title, const DewClimate *climate)
{
  dew_report_pad (out, title, TITLE_WIDTH, FALSE);
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    {
      const Column *column = &columns[i];
      g_autoptr (GString) cell = g_string_new (NULL);
      double value = G_STRUCT_MEMBER (double, climate, column->value);
      double band = column->band != 0 ? G_STRUCT_MEMBER (double, climate, column->band) : NAN;

      if (column->value == AT (age_s) && isnan (value))
        g_string_append (cell, _ ("no exchange"));
      else
        append_number (cell, value * column->factor, column->decimals);
      if (isfinite (value) && isfinite (band))
        {
          g_string_append (cell, "\302\261");
          append_number (cell, band * column->factor, column->decimals);
        }
      dew_report_pad (out, cell->str, CELL_WIDTH, TRUE);
    }
  g_string_append_c (out, '\n');
}

static const char *
bay_name (const DewReport *report, int bay)
{
  const DewThing *shelf = dew_variant_thing (report->variant, report->forecast->bays[bay].shelf_id);

  return shelf != NULL && shelf->name[0] != '\0' ? shelf->name
         : shelf != NULL                         ? _ ("Shelf")
                                                 : _ ("Floor");
}

/* The same as text of its own, for a sentence to take up. Newly allocated. */
static char *
number (double value, int decimals)
{
  GString *text = g_string_new (NULL);

  append_number (text, value, decimals);
  return g_string_free (text, FALSE);
}

static void
append_head (GString *out, const DewReport *report)
{
  const DewForecast *forecast = report->forecast;
  g_autofree char *t = number (forecast->room_t_C, 1), *rh = number (forecast->room_rh * 100.0, 0);
  g_autofree char *w = number (forecast->room_w_kg_kg * 1000.0, 2);
  g_autofree char *swing = number (forecast->swing * 100.0, 2);
  g_autofree char *seconds = number (forecast->seconds, 2);

  g_string_append_printf (out,
                          forecast->night
                            /* Translators: enclosure, variant, month */
                            ? _ ("%s, variant \"%s\", %s by night\n")
                            : _ ("%s, variant \"%s\", %s by day\n"),
                          report->chamber->name, report->variant->name,
                          dew_month_name (report->chamber->month));
  g_string_append_printf (out, _ ("Room: %s C, %s %% RH, %s g/kg\n"), t, rh, w);
  g_string_append_printf (out, _ ("Grid: %s, %d zones (%d across, %d deep, %d high)\n"),
                          dew_report_grid_word (forecast->grid), forecast->n_zones, forecast->n[0],
                          forecast->n[1], forecast->n[2]);
  /* Translators: the state ('settled'), how many steps it took, how much it still
   * changed, how long it took */
  g_string_append_printf (out, _ ("State: %s after %d steps, swing %s %%, %s s\n"),
                          dew_forecast_state_text (forecast), forecast->steps, swing, seconds);
}

/* As one sees them: the highest first. */
static void
append_bays (GString *out, const DewReport *report)
{
  const DewForecast *forecast = report->forecast;

  g_string_append_c (out, '\n');
  append_titles (out, _ ("Bay"));
  for (int i = forecast->n_bays - 1; i >= 0; i--)
    append_climate (out, bay_name (report, i), &forecast->bays[i].mean);
  append_climate (out, _ ("Whole enclosure"), &forecast->all);
}

static void
append_places (GString *out, const DewReport *report)
{
  const DewForecast *forecast = report->forecast;

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
        where = g_utf8_substring (bay_name (report, bay), 0,
                                  MIN (18, g_utf8_strlen (bay_name (report, bay), -1)));
        title = g_strdup_printf ("%s %d, %d", where, place->column + 1, place->row + 1);
        append_climate (out, title, &place->mean);
      }
}

static void
append_exchanges (GString *out, const DewForecast *forecast)
{
  g_string_append_c (out, '\n');
  dew_report_pad (out, _ ("Air through"), TITLE_WIDTH, FALSE);
  dew_report_pad (out, _ ("in m3/h"), CELL_WIDTH, TRUE);
  dew_report_pad (out, _ ("out m3/h"), CELL_WIDTH, TRUE);
  g_string_append_c (out, '\n');
  for (int i = 0; i < forecast->n_exchanges; i++)
    {
      const DewExchange *exchange = &forecast->exchanges[i];
      const double flows[2] = { exchange->inflow_m3_s, exchange->outflow_m3_s };

      dew_report_pad (out, exchange->thing_id == 0 ? _ (exchange->name) : exchange->name,
                      TITLE_WIDTH, FALSE);
      for (int k = 0; k < 2; k++)
        {
          g_autoptr (GString) cell = g_string_new (NULL);

          append_number (cell, flows[k] * 3600.0, 2);
          dew_report_pad (out, cell->str, CELL_WIDTH, TRUE);
        }
      g_string_append_c (out, '\n');
    }
  {
    g_autofree char *changes = number (forecast->exchange_1_s * 3600.0, 2);

    g_string_append_printf (out, _ ("Air changes per hour: %s\n"), changes);
  }
}

static void
append_devices (GString *out, const DewReport *report)
{
  for (int i = 0; i < report->forecast->n_devices; i++)
    {
      const DewDevice *device = &report->forecast->devices[i];
      const DewThing *thing = dew_variant_thing (report->variant, device->thing_id);
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
append_term (GString *out, const char *title, double value, int decimals, const char *unit)
{
  g_autoptr (GString) cell = g_string_new (NULL);

  dew_report_pad (out, title, TITLE_WIDTH + 10, FALSE);
  append_number (cell, value, decimals);
  dew_report_pad (out, cell->str, CELL_WIDTH, TRUE);
  g_string_append_printf (out, " %s\n", unit);
}

static void
append_residual (GString *out, double residual)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  dew_report_pad (out, _ ("  left over"), TITLE_WIDTH + 10, FALSE);
  dew_report_pad (out, g_ascii_formatd (text, sizeof text, "%.1e", residual), CELL_WIDTH, TRUE);
  /* Translators: follows a number, as in '1.2e-05 of the largest term' */
  g_string_append_printf (out, " %s\n", _ ("of the largest term"));
}

static void
append_balance (GString *out, const DewBalance *balance)
{
  g_string_append_printf (out, "\n%s\n", _ ("Air"));
  append_term (out, _ ("  in from the room"), balance->air_in_m3_s * 3600.0, 3, "m3/h");
  append_term (out, _ ("  out to the room"), balance->air_out_m3_s * 3600.0, 3, "m3/h");
  append_residual (out, balance->air_residual);
  g_string_append_printf (out, "%s\n", _ ("Heat into the air"));
  append_term (out, _ ("  devices"), balance->heat_source_W, 2, "W");
  append_term (out, _ ("  evaporation and dew"), balance->heat_latent_W, 2, "W");
  append_term (out, _ ("  pots, trays, leaves"), balance->heat_surface_W, 2, "W");
  append_term (out, _ ("  openings"), balance->heat_openings_W, 2, "W");
  append_term (out, _ ("  cover"), balance->heat_cover_W, 2, "W");
  append_residual (out, balance->heat_residual);
  g_string_append_printf (out, "%s\n", _ ("Water into the air"));
  append_term (out, _ ("  devices"), balance->water_device_kg_s * 3.6e6, 2, "g/h");
  append_term (out, _ ("  pots, trays, leaves"), balance->water_surface_kg_s * 3.6e6, 2, "g/h");
  append_term (out, _ ("  openings"), balance->water_openings_kg_s * 3.6e6, 2, "g/h");
  append_term (out, _ ("  dew on cover and shelves"), balance->water_cover_kg_s * 3.6e6, 2, "g/h");
  append_term (out, _ ("  mist that fell"), balance->water_fallout_kg_s * 3.6e6, 2, "g/h");
  append_residual (out, balance->water_residual);
}

static void
append_finding (GString *out, const DewFinding *finding)
{
  char value[G_ASCII_DTOSTR_BUF_SIZE], threshold[G_ASCII_DTOSTR_BUF_SIZE];

  g_string_append_printf (out,
                          /* Translators: title, cause and remedy, each whole sentences */
                          finding->severity > 1 ? _ ("Act:   %s: %s %s") : _ ("Watch: %s: %s %s"),
                          finding->title, finding->cause, finding->remedy);
  if (isfinite (finding->value) && isfinite (finding->threshold))
    {
      g_string_append_c (out, ' ');
      /* Translators: a measure, its unit, the limit and where the limit comes from */
      g_string_append_printf (
        out, _ ("(%s %s, limit %s; %s)"),
        g_ascii_formatd (value, sizeof value, "%.3g", finding->value), finding->unit,
        g_ascii_formatd (threshold, sizeof threshold, "%.3g", finding->threshold), finding->source);
    }
  g_string_append_c (out, '\n');
}

static void
append_findings (GString *out, const DewForecast *forecast)
{
  if (forecast->n_findings == 0)
    return;
  g_string_append_printf (out, "\n%s\n", _ ("Findings"));
  for (int i = 0; i < forecast->n_findings; i++)
    append_finding (out, &forecast->findings[i]);
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
dew_report_text (const DewReport *report, gboolean balance)
{
  GString *out = g_string_new (NULL);

  append_head (out, report);
  append_bays (out, report);
  append_places (out, report);
  append_exchanges (out, report->forecast);
  append_devices (out, report);
  if (balance)
    append_balance (out, &report->forecast->balance);
  else
    append_residuals (out, &report->forecast->balance);
  append_findings (out, report->forecast);
  g_string_append_printf (out, "\n%s\n", _ ("This is a prediction with error, not a measurement."));
  return g_string_free (out, FALSE);
}
