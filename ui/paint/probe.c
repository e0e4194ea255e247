/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the air is where the pointer asks: a quiet table beside the pointer. */
#include "paint/sheet-private.h"

#include "forecast/probe.h"
#include "say/where.h"

#include <glib/gi18n.h>
#include <math.h>

#define AWAY 16.0 /* from the point to the words, px at text scale 1 */
#define PAD 10.0
#define COLUMN 18.0 /* between what it is and how much */
#define CROSS 5.0   /* px */
#define MOST_ROWS 9

typedef struct
{
  const char *label;
  char text[40], band[24];
} DewProbeRow;

typedef struct
{
  char title[96];
  guint n;
  DewProbeRow row[MOST_ROWS];
  double label_width, text_width, band_width, line;
  double x, y; /* of the point, px */
  DewRect box;
} DewProbeTable;

/* --- what is told ------------------------------------------------------------------------ */

static void
add_row (DewProbeTable *table, const DewSheet *sheet, const char *label, DewValue value, double x,
         double band)
{
  DewProbeRow *row = &table->row[table->n++];
  g_autofree char *text = dew_value_text (value, x, sheet->tongue);
  g_autofree char *band_text = dew_band_text (value, band, sheet->tongue);

  row->label = label;
  g_strlcpy (row->text, text, sizeof row->text);
  g_strlcpy (row->band, band_text != NULL ? band_text : "", sizeof row->band);
}

static void
fill_rows (DewProbeTable *table, const DewSheet *sheet, const DewProbed *probed)
{
  static const DewValue always[]
    = { DEW_VALUE_RH, DEW_VALUE_TEMPERATURE, DEW_VALUE_VPD, DEW_VALUE_SPEED, DEW_VALUE_AGE };
  /* Told only where there is some. */
  static const DewValue sometimes[] = { DEW_VALUE_PPFD, DEW_VALUE_MIST, DEW_VALUE_WETTING };
  const DewClimate *climate = &probed->climate;

  for (guint i = 0; i < G_N_ELEMENTS (always); i++)
    {
      double band, x = dew_climate_value (climate, always[i], &band);

      add_row (table, sheet, dew_value_label (always[i]), always[i], x, band);
      if (always[i] == DEW_VALUE_TEMPERATURE)
        add_row (table, sheet, _ ("Dew point"), DEW_VALUE_TEMPERATURE, probed->dew_point_C, NAN);
    }
  for (guint i = 0; i < G_N_ELEMENTS (sometimes); i++)
    {
      double x = dew_climate_value (climate, sometimes[i], NULL);
      g_autofree char *text = dew_value_text (sometimes[i], x, sheet->tongue);
      g_autofree char *nothing = dew_value_text (sometimes[i], 0, sheet->tongue);

      if (isfinite (x) && !g_str_equal (text, nothing))
        add_row (table, sheet, dew_value_label (sometimes[i]), sometimes[i], x, NAN);
    }
}

/* --- where it goes ------------------------------------------------------------------------- */

static void
measure_rows (DewProbeTable *table, const DewTextMeter *meter)
{
  double title_width, width, height, inner;

  dew_text_measure (meter, DEW_TEXT_FLAG, table->title, &title_width, &table->line);
  for (guint i = 0; i < table->n; i++)
    {
      dew_text_measure (meter, DEW_TEXT_NUMBER, table->row[i].label, &width, &height);
      table->label_width = MAX (table->label_width, width);
      table->line = MAX (table->line, height);
      dew_text_measure (meter, DEW_TEXT_NUMBER, table->row[i].text, &width, &height);
      table->text_width = MAX (table->text_width, width);
      if (table->row[i].band[0] == '\0')
        continue;
      dew_text_measure (meter, DEW_TEXT_NUMBER, table->row[i].band, &width, &height);
      table->band_width = MAX (table->band_width, width + 6 * meter->unit);
    }
  table->line = ceil (table->line);
  inner = MAX (title_width,
               table->label_width + COLUMN * meter->unit + table->text_width + table->band_width);
  table->box.width = ceil (inner + 2 * PAD * meter->unit);
  table->box.height = ceil ((table->n + 1.35) * table->line + 2 * PAD * meter->unit * 0.8);
}

/* Right of the point and below it, or the other way where the sheet ends: on the
 * sheet, and with the point outside. */
static void
place_box (DewProbeTable *table, const DewSheetLayout *layout, double unit)
{
  double away = AWAY * unit;
  DewRect *box = &table->box;
  gboolean beside = TRUE;

  box->x = table->x + away;
  if (box->x + box->width > layout->width)
    box->x = table->x - away - box->width;
  if (box->x < 0)
    {
      box->x = MAX (layout->width - box->width, 0);
      beside = table->x < box->x;
    }
  box->y = table->y + away;
  if (box->y + box->height > layout->height)
    box->y = table->y - away - box->height;
  if (box->y < 0)
    box->y = beside ? MAX (layout->height - box->height, 0) : MAX (box->y, 0);
  box->x = round (box->x);
  box->y = round (box->y);
}

static gboolean
make_table (const DewSheet *sheet, const DewSheetLayout *whole, DewProbeTable *table)
{
  const DewProbe *probe = sheet->probe;
  DewSheetLayout there = *whole;
  const DewSheetLayout *layout = &there;
  gboolean plan = probe != NULL && probe->view == DEW_VIEW_PLAN;
  g_autofree char *bay = NULL;
  DewTextMeter meter;
  DewProbed probed;
  DewPen pen = { .sheet = sheet, .layout = layout };

  if (plan && probe->bay >= 0)
    dew_layout_choose_plan (&there, probe->bay);
  if (probe == NULL || sheet->forecast == NULL || sheet->cannot != NULL
      || probe->view >= DEW_N_VIEWS || !layout->shown[probe->view]
      || !dew_forecast_probe (sheet->forecast, probe->view, probe->at_m,
                              plan ? layout->plan_lo_m : 0, plan ? layout->plan_hi_m : 0, &probed))
    return FALSE;
  *table = (DewProbeTable){ .n = 0 };
  bay = dew_bay_name (probed.bay, sheet->forecast->n_bays);
  g_strlcpy (table->title, bay, sizeof table->title);
  fill_rows (table, sheet, &probed);
  dew_pen_point (&pen, probe->view, probe->at_m[0], probe->at_m[1], &table->x, &table->y);
  dew_text_meter_init (&meter, sheet);
  measure_rows (table, &meter);
  dew_text_meter_clear (&meter);
  place_box (table, layout, sheet->text_scale);
  return TRUE;
}

gboolean
dew_sheet_probe_rect (const DewSheet *sheet, const DewSheetLayout *layout, DewRect *out)
{
  const double edge = 1, reach = CROSS + 1;
  DewProbeTable table;
  double right, bottom;

  g_return_val_if_fail (sheet != NULL && layout != NULL && out != NULL, FALSE);

  if (!make_table (sheet, layout, &table))
    return FALSE;
  right = MAX (table.box.x + table.box.width + edge, table.x + reach);
  bottom = MAX (table.box.y + table.box.height + edge, table.y + reach);
  out->x = MIN (table.box.x - edge, table.x - reach);
  out->y = MIN (table.box.y - edge, table.y - reach);
  out->width = right - out->x;
  out->height = bottom - out->y;
  return TRUE;
}

char *
dew_sheet_probe_text (const DewSheet *sheet, const DewSheetLayout *layout)
{
  DewProbeTable table;
  GString *text;

  g_return_val_if_fail (sheet != NULL && layout != NULL, NULL);

  if (!make_table (sheet, layout, &table))
    return NULL;
  text = g_string_new (table.title);
  for (guint i = 0; i < table.n; i++)
    g_string_append_printf (text, "\n%s  %s%s%s", table.row[i].label, table.row[i].text,
                            table.row[i].band[0] != '\0' ? "  " : "", table.row[i].band);
  return g_string_free (text, FALSE);
}

/* --- painting --------------------------------------------------------------------------------- */

void
dew_paint_probe (const DewPen *pen)
{
  const DewPalette *palette = pen->palette;
  DewProbeTable table;
  double left, right, y, pad = PAD * pen->unit;

  if (!make_table (pen->sheet, pen->layout, &table))
    return;
  dew_pen_colour (pen, &palette->ink, 1);
  cairo_set_line_width (pen->cr, 1);
  dew_pen_line (pen, dew_crisp (table.x) - CROSS, dew_crisp (table.y), dew_crisp (table.x) + CROSS,
                dew_crisp (table.y));
  dew_pen_line (pen, dew_crisp (table.x), dew_crisp (table.y) - CROSS, dew_crisp (table.x),
                dew_crisp (table.y) + CROSS);

  cairo_rectangle (pen->cr, table.box.x + 0.5, table.box.y + 0.5, table.box.width - 1,
                   table.box.height - 1);
  dew_pen_colour (pen, &palette->paper, 1);
  cairo_fill_preserve (pen->cr);
  dew_pen_colour (pen, &palette->ink_soft, palette->high_contrast ? 1 : 0.3);
  cairo_stroke (pen->cr);

  left = table.box.x + pad;
  right = table.box.x + table.box.width - pad - table.band_width;
  y = table.box.y + 0.8 * pad;
  dew_pen_text (pen, DEW_TEXT_FLAG, &palette->ink, 1, left, y, 0, 0, table.title);
  y += 1.35 * table.line;
  for (guint i = 0; i < table.n; i++, y += table.line)
    {
      const DewProbeRow *row = &table.row[i];

      dew_pen_text (pen, DEW_TEXT_NUMBER, &palette->ink_soft, 1, left, y, 0, 0, row->label);
      dew_pen_text (pen, DEW_TEXT_NUMBER, &palette->ink, 1, right, y, 1, 0, row->text);
      if (row->band[0] != '\0')
        dew_pen_text (pen, DEW_TEXT_NUMBER, &palette->ink_soft, 1, right + 6 * pen->unit, y, 0, 0,
                      row->band);
    }
}
