/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Labels for pots: what stands in it, what it wants, where it belongs and since when. */
#include "sheets/printout-private.h"

#include "catalogue/catalogue.h"
#include "geometry/geometry.h"
#include "say/values.h"
#include "say/where.h"

#include <glib/gi18n.h>
#include <math.h>

#define PX_MM (1 / DEW_PAPER_PX_MM)
#define INSET 10.0 /* px between the edge of a label and its words */

/* How a sheet of labels is cut, mm. Common sheets for office printers; sizes from memory. */
typedef struct
{
  int across, down;
  double width, height;
  double left, top; /* of the first label */
  double step_x, step_y;
} DewLabelSheet;

/* 24 of 70 x 37 mm without gaps on A4; 30 of 2 5/8 x 1 in on Letter. */
static const DewLabelSheet a4 = { 3, 8, 70, 37, 0, 0.5, 70, 37 };
static const DewLabelSheet letter = { 3, 10, 66.7, 25.4, 4.8, 12.7, 69.9, 25.4 };

static const DewLabelSheet *
sheet_of (const DewPage *page)
{
  return page->printout->page_mm[0] > 212 ? &letter : &a4;
}

/* "day 16 to 24 °C, night 8 to 14 °C, 70 to 95 %", or NULL when nobody knows. */
static char *
wants (const DewPage *page, const DewPlant *plant)
{
  DewTongue tongue = page->printout->tongue;
  const DewUnit *unit = dew_unit (DEW_MEASURE_TEMPERATURE, tongue);
  DewPlantKind kind;

  if (!dew_catalogue_plant_kind (plant->species, &kind, (gpointer) page->printout->chamber)
      || !isfinite (kind.t_day_min_C + kind.t_day_max_C + kind.t_night_min_C + kind.t_night_max_C
                    + kind.rh_min + kind.rh_max))
    return NULL;
  /* Translators: what a plant wants: from and to by day, by night, their unit, from and to of
   * humidity; short, for a label */
  return g_strdup_printf (_ ("day %.0f–%.0f, night %.0f–%.0f%s; %.0f–%.0f %%"),
                          dew_unit_shown (unit, kind.t_day_min_C),
                          dew_unit_shown (unit, kind.t_day_max_C),
                          dew_unit_shown (unit, kind.t_night_min_C),
                          dew_unit_shown (unit, kind.t_night_max_C), unit->symbol,
                          100 * kind.rh_min, 100 * kind.rh_max);
}

static gboolean
keep_crown_dry (const DewPage *page, const DewPlant *plant)
{
  DewPlantKind kind;

  return dew_catalogue_plant_kind (plant->species, &kind, (gpointer) page->printout->chamber)
         && kind.crown == DEW_CROWN_HARMFUL;
}

/* "Second shelf, 12 cm from left, 8 cm from front; 1 December 2026" */
static char *
place (const DewPage *page, const DewThing *thing)
{
  const DewPrintout *printout = page->printout;
  g_autofree double *z_m = NULL;
  int n = dew_variant_bays (printout->chamber, printout->variant, &z_m, NULL);
  g_autofree char *bay = NULL, *left = NULL, *front = NULL, *date = NULL;

  bay = dew_bay_name (dew_bay_at (z_m, n, thing->plant.z_m), n);
  left = dew_length_text (thing->plant.x_m, printout->tongue);
  front = dew_length_text (thing->plant.y_m, printout->tongue);
  date = g_date_time_format (printout->date, _ ("%-d %B %Y"));
  /* Translators: a shelf, two lengths and a date, short, for a label */
  return g_strdup_printf (_ ("%s, %s from left, %s from front; %s"), bay, left, front, date);
}

static double
words (const DewPage *page, DewPrintStyle style, const DewColour *colour, double x, double y,
       double width, const char *text)
{
  return text != NULL ? dew_page_words (page, style, colour, x, y, width, 0, text) : 0;
}

/* From the top: name, kind, wants; what is at the foot of the label is what one moves it by. */
static void
paint_label (const DewPage *page, const DewLabelSheet *sheet, const DewThing *thing, int index)
{
  const DewColour *ink = &page->palette->ink, *soft = &page->palette->ink_soft;
  const DewPlant *plant = &thing->plant;
  double x = (sheet->left + index % sheet->across * sheet->step_x) * PX_MM + INSET;
  double y = (sheet->top + index / sheet->across * sheet->step_y) * PX_MM + INSET;
  double width = sheet->width * PX_MM - 2 * INSET;
  g_autofree char *kind = NULL, *want = wants (page, plant), *where = place (page, thing);

  if (plant->species[0] != '\0' && !g_str_equal (plant->species, thing->name))
    kind = g_strdup (plant->species);
  cairo_save (page->cr);
  cairo_rectangle (page->cr, x - INSET / 2, y - INSET / 2, width + INSET,
                   sheet->height * PX_MM - INSET);
  cairo_clip (page->cr);
  y += words (page, DEW_PRINT_STRONG, ink, x, y, width, thing->name);
  y += words (page, DEW_PRINT_SMALL, soft, x, y, width, kind);
  y += words (page, DEW_PRINT_SMALL, ink, x, y, width, want);
  if (keep_crown_dry (page, plant))
    y += words (page, DEW_PRINT_SMALL, ink, x, y, width, _ ("Keep its crown dry"));
  words (page, DEW_PRINT_SMALL, soft, x, y, width, where);
  cairo_restore (page->cr);
}

int
dew_page_labels (const DewPage *page, int wanted)
{
  const DewVariant *variant = page->printout->variant;
  const DewLabelSheet *sheet = sheet_of (page);
  int per_page = sheet->across * sheet->down, n = 0;

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind != DEW_THING_PLANT)
        continue;
      if (page->cr != NULL && n / per_page == wanted)
        paint_label (page, sheet, thing, n % per_page);
      n++;
    }
  return MAX (1, (n + per_page - 1) / per_page);
}
