/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report.h"

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
  { "temp C", AT (t_C), AT (t_band_K), 1.0, 1 },
  { "RH %", AT (rh), AT (rh_band), 100.0, 0 },
  { "water g/kg", AT (w_kg_kg), AT (w_band_kg_kg), 1000.0, 2 },
  { "VPD kPa", AT (vpd_Pa), AT (vpd_band_Pa), 1e-3, 2 },
  { "speed m/s", AT (speed_m_s), AT (speed_band_m_s), 1.0, 2 },
  { "still %", AT (still_share), AT (still_band), 100.0, 0 },
  { "age min", AT (age_s), AT (age_band_s), 1.0 / 60.0, 1 },
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

static void
append_padded (GString *out, const char *text, int width, gboolean right)
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
  append_padded (out, first, TITLE_WIDTH, FALSE);
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    append_padded (out, columns[i].title, CELL_WIDTH, TRUE);
  g_string_append_c (out, '\n');
}

static void
append_climate (GString *out, const char *title, const DewClimate *climate)
{
  append_padded (out, title, TITLE_WIDTH, FALSE);
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    {
      const Column *column = &columns[i];
      g_autoptr (GString) cell = g_string_new (NULL);
      double value = G_STRUCT_MEMBER (double, climate, column->value);
      double band = column->band != 0 ? G_STRUCT_MEMBER (double, climate, column->band) : NAN;

      if (column->value == AT (age_s) && isnan (value))
        g_string_append (cell, "no exchange");
      else
        append_number (cell, value * column->factor, column->decimals);
      if (isfinite (value) && isfinite (band))
        {
          g_string_append (cell, "\302\261");
          append_number (cell, band * column->factor, column->decimals);
        }
      append_padded (out, cell->str, CELL_WIDTH, TRUE);
    }
  g_string_append_c (out, '\n');
}

static const char *
bay_name (const DewReport *report, int bay)
{
  const DewThing *shelf = dew_variant_thing (report->variant, report->forecast->bays[bay].shelf_id);

  return shelf != NULL && shelf->name[0] != '\0' ? shelf->name : shelf != NULL ? "Shelf" : "Floor";
}

static void
append_head (GString *out, const DewReport *report)
{
  static const char *const months[12]
    = { "January", "February", "March",     "April",   "May",      "June",
        "July",    "August",   "September", "October", "November", "December" };
  const DewForecast *forecast = report->forecast;

  g_string_append_printf (out, "%s, variant \"%s\", %s by %s\n", report->chamber->name,
                          report->variant->name, months[report->chamber->month],
                          forecast->night ? "night" : "day");
  g_string_append (out, "Room: ");
  append_number (out, forecast->room_t_C, 1);
  g_string_append (out, " C, ");
  append_number (out, forecast->room_rh * 100.0, 0);
  g_string_append (out, " % RH, ");
  append_number (out, forecast->room_w_kg_kg * 1000.0, 2);
  g_string_append (out, " g/kg\n");
  g_string_append_printf (out, "Grid: %s, %d zones (%d across, %d deep, %d high)\n",
                          dew_report_grid_word (forecast->grid), forecast->n_zones, forecast->n[0],
                          forecast->n[1], forecast->n[2]);
  g_string_append_printf (out, "State: %s after %d steps, swing ",
                          dew_forecast_state_text (forecast), forecast->steps);
  append_number (out, forecast->swing * 100.0, 2);
  g_string_append (out, " %, ");
  append_number (out, forecast->seconds, 2);
  g_string_append (out, " s\n");
}

/* As one sees them: the highest first. */
static void
append_bays (GString *out, const DewReport *report)
{
  const DewForecast *forecast = report->forecast;

  g_string_append_c (out, '\n');
  append_titles (out, "Bay");
  for (int i = forecast->n_bays - 1; i >= 0; i--)
    append_climate (out, bay_name (report, i), &forecast->bays[i].mean);
  append_climate (out, "Whole enclosure", &forecast->all);
}

static void
append_places (GString *out, const DewReport *report)
{
  const DewForecast *forecast = report->forecast;

  g_string_append (out, "\nPlaces are counted from the left and from the front.\n");
  append_titles (out, "Place");
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
  append_padded (out, "Air through", TITLE_WIDTH, FALSE);
  append_padded (out, "in m3/h", CELL_WIDTH, TRUE);
  append_padded (out, "out m3/h", CELL_WIDTH, TRUE);
  g_string_append_c (out, '\n');
  for (int i = 0; i < forecast->n_exchanges; i++)
    {
      const DewExchange *exchange = &forecast->exchanges[i];
      const double flows[2] = { exchange->inflow_m3_s, exchange->outflow_m3_s };

      append_padded (out, exchange->name, TITLE_WIDTH, FALSE);
      for (int k = 0; k < 2; k++)
        {
          g_autoptr (GString) cell = g_string_new (NULL);

          append_number (cell, flows[k] * 3600.0, 2);
          append_padded (out, cell->str, CELL_WIDTH, TRUE);
        }
      g_string_append_c (out, '\n');
    }
  g_string_append (out, "Air changes per hour: ");
  append_number (out, forecast->exchange_1_s * 3600.0, 2);
  g_string_append_c (out, '\n');
}

static void
append_devices (GString *out, const DewReport *report)
{
  for (int i = 0; i < report->forecast->n_devices; i++)
    {
      const DewDevice *device = &report->forecast->devices[i];
      const DewThing *thing = dew_variant_thing (report->variant, device->thing_id);

      if (thing == NULL || !isfinite (device->duty))
        continue;
      g_string_append_printf (out, "%s runs ", thing->name);
      append_number (out, device->duty * 100.0, 1);
      g_string_append (out, " % of the time, gives ");
      append_number (out, device->water_kg_s * 3.6e6, 1);
      g_string_append (out, " mL/h");
      if (isfinite (device->hours_of_water))
        {
          g_string_append (out, ", empty after ");
          append_number (out, device->hours_of_water, 1);
          g_string_append (out, " h");
        }
      g_string_append_c (out, '\n');
    }
}

static void
append_term (GString *out, const char *title, double value, int decimals, const char *unit)
{
  g_autoptr (GString) cell = g_string_new (NULL);

  append_padded (out, title, TITLE_WIDTH + 10, FALSE);
  append_number (cell, value, decimals);
  append_padded (out, cell->str, CELL_WIDTH, TRUE);
  g_string_append_printf (out, " %s\n", unit);
}

static void
append_residual (GString *out, double residual)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  append_padded (out, "  left over", TITLE_WIDTH + 10, FALSE);
  append_padded (out, g_ascii_formatd (text, sizeof text, "%.1e", residual), CELL_WIDTH, TRUE);
  g_string_append (out, " of the largest term\n");
}

static void
append_balance (GString *out, const DewBalance *balance)
{
  g_string_append (out, "\nAir\n");
  append_term (out, "  in from the room", balance->air_in_m3_s * 3600.0, 3, "m3/h");
  append_term (out, "  out to the room", balance->air_out_m3_s * 3600.0, 3, "m3/h");
  append_residual (out, balance->air_residual);
  g_string_append (out, "Heat into the air\n");
  append_term (out, "  devices", balance->heat_source_W, 2, "W");
  append_term (out, "  evaporation and dew", balance->heat_latent_W, 2, "W");
  append_term (out, "  pots, trays, leaves", balance->heat_surface_W, 2, "W");
  append_term (out, "  openings", balance->heat_openings_W, 2, "W");
  append_term (out, "  cover", balance->heat_cover_W, 2, "W");
  append_residual (out, balance->heat_residual);
  g_string_append (out, "Water into the air\n");
  append_term (out, "  devices", balance->water_device_kg_s * 3.6e6, 2, "g/h");
  append_term (out, "  pots, trays, leaves", balance->water_surface_kg_s * 3.6e6, 2, "g/h");
  append_term (out, "  openings", balance->water_openings_kg_s * 3.6e6, 2, "g/h");
  append_term (out, "  dew on cover and shelves", balance->water_cover_kg_s * 3.6e6, 2, "g/h");
  append_term (out, "  mist that fell", balance->water_fallout_kg_s * 3.6e6, 2, "g/h");
  append_residual (out, balance->water_residual);
}

static void
append_findings (GString *out, const DewForecast *forecast)
{
  if (forecast->n_findings == 0)
    return;
  g_string_append (out, "\nFindings\n");
  for (int i = 0; i < forecast->n_findings; i++)
    {
      const DewFinding *finding = &forecast->findings[i];

      g_string_append_printf (out, "%s %s: %s %s",
                              finding->severity > 1 ? "Act:  " : "Watch:", finding->title,
                              finding->cause, finding->remedy);
      if (isfinite (finding->value) && isfinite (finding->threshold))
        {
          char value[G_ASCII_DTOSTR_BUF_SIZE], threshold[G_ASCII_DTOSTR_BUF_SIZE];

          g_string_append_printf (out, " (%s %s, limit %s; %s)",
                                  g_ascii_formatd (value, sizeof value, "%.3g", finding->value),
                                  finding->unit,
                                  g_ascii_formatd (threshold, sizeof threshold, "%.3g",
                                                   finding->threshold),
                                  finding->source);
        }
      g_string_append_c (out, '\n');
    }
}

/* The balances in one line. */
static void
append_residuals (GString *out, const DewBalance *balance)
{
  const char *names[] = { " air ", ", heat ", ", water " };
  double residuals[] = { balance->air_residual, balance->heat_residual, balance->water_residual };
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  g_string_append (out, "Balances leave over, of the largest term:");
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_string_append (out, names[i]);
      g_string_append (out, g_ascii_formatd (text, sizeof text, "%.1e", residuals[i]));
    }
  g_string_append_c (out, '\n');
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
  g_string_append (out, "\nThis is a prediction with error, not a measurement.\n");
  return g_string_free (out, FALSE);
}
