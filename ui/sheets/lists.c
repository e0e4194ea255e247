/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pages after the drawing: a table of the bays and what to look at. */
#include "say/findings.h"
#include "sheets/printout-private.h"

#include "forecast/members.h"
#include "say/where.h"

#include <glib/gi18n.h>
#include <math.h>

#define NUMBER 34.0     /* room for a finding's number */
#define NAME_SHARE 0.19 /* of the table's width */

/* --- bays ---------------------------------------------------------------------------------------
 */

static const DewClimateRow columns[] = { DEW_CLIMATE_RH,    DEW_CLIMATE_T,     DEW_CLIMATE_VPD,
                                         DEW_CLIMATE_SPEED, DEW_CLIMATE_STILL, DEW_CLIMATE_AGE };

static void
bay_row (DewWalk *walk, const char *name, const DewClimate *climate)
{
  const DewPage *page = dew_walk_pen (walk);
  double width = walk->right - walk->left, name_width = NAME_SHARE * width;
  double step = (width - name_width) / G_N_ELEMENTS (columns), height;

  height = dew_page_words (page, DEW_PRINT_BODY, &page->palette->ink, walk->left, walk->y,
                           name_width, 0, name);
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    {
      const DewMember *m = &dew_climate_members[columns[i]];
      DewTongue tongue = page->printout->tongue;
      g_autofree char *text = dew_value_text (m->of, dew_member_real (m, climate), tongue);
      g_autofree char *band = dew_band_text (m->of, dew_member_band (m, climate), tongue);
      double x = walk->left + name_width + i * step, used;

      used = dew_page_words (page, DEW_PRINT_BODY, &page->palette->ink, x, walk->y, step, 1, text);
      if (band != NULL)
        used += dew_page_words (page, DEW_PRINT_SMALL, &page->palette->ink_soft, x, walk->y + used,
                                step, 1, band);
      height = MAX (height, used);
    }
  walk->y += height + DEW_WALK_ROW_GAP / 2;
  dew_page_rule (page, walk->left, walk->right, walk->y, FALSE);
  walk->y += DEW_WALK_ROW_GAP / 2;
}

static void
bay_heads (DewWalk *walk)
{
  const DewPage *page = dew_walk_pen (walk);
  double width = walk->right - walk->left, name_width = NAME_SHARE * width;
  double step = (width - name_width) / G_N_ELEMENTS (columns), height = 0;

  dew_walk_head (walk, _ ("Shelves"));
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    {
      const char *head = columns[i] == DEW_CLIMATE_STILL
                           ? _ ("Still air")
                           : dew_value_label (dew_climate_members[columns[i]].of);

      height
        = MAX (height, dew_page_words (page, DEW_PRINT_SMALL, &page->palette->ink_soft,
                                       walk->left + name_width + i * step, walk->y, step, 1, head));
    }
  walk->y += height + DEW_WALK_ROW_GAP / 2;
  dew_page_rule (page, walk->left, walk->right, walk->y, TRUE);
  walk->y += DEW_WALK_ROW_GAP;
}

static void
walk_bays (DewWalk *walk)
{
  const DewForecast *forecast = walk->page->printout->forecast;
  const double row = 46; /* px, at least one row stays with its heading */

  dew_walk_need (walk, 3 * row);
  bay_heads (walk);
  for (int bay = forecast->n_bays - 1; bay >= 0; bay--)
    {
      g_autofree char *name = dew_bay_name (bay, forecast->n_bays);

      dew_walk_need (walk, row);
      bay_row (walk, name, &forecast->bays[bay].mean);
    }
  if (forecast->n_bays > 1)
    {
      dew_walk_need (walk, row);
      bay_row (walk, _ ("Whole enclosure"), &forecast->all);
    }
  walk->y += 2 * DEW_WALK_BLOCK_GAP;
}

/* --- findings ------------------------------------------------------------------------------------
 */

static double
finding_block (const DewPage *page, const DewWalk *walk, const DewFinding *finding, int number)
{
  const DewColour *ink = &page->palette->ink, *soft = &page->palette->ink_soft;
  g_autofree char *figure = g_strdup_printf ("%d", number);
  g_autofree char *title = dew_finding_title (page->printout->forecast, finding);
  g_autofree char *cause = dew_finding_cause (finding);
  g_autofree char *number_text = dew_finding_number (finding, page->printout->tongue);
  double x = walk->left + NUMBER, width = walk->right - x, y = walk->y;

  dew_page_words (page, DEW_PRINT_STRONG, ink, walk->left, y, NUMBER, 0, figure);
  y += dew_page_words (page, DEW_PRINT_STRONG, ink, x, y, width, 0, title);
  y += dew_page_words (page, DEW_PRINT_BODY, soft, x, y, width, 0, cause);
  y += dew_page_words (page, DEW_PRINT_BODY, ink, x, y, width, 0, dew_finding_remedy (finding));
  if (number_text != NULL)
    {
      /* Translators: a measure with its limit, and where the limit comes from, as in
       * '0.03 m/s, at least 0.05 m/s; common practice' */
      g_autofree char *measure
        = g_strdup_printf (_ ("%s; %s"), number_text, dew_limit_source (finding->limit));

      y += dew_page_words (page, DEW_PRINT_SMALL, soft, x, y + 2, width, 0, measure) + 2;
    }
  return y - walk->y;
}

static void
walk_findings (DewWalk *walk)
{
  const DewForecast *forecast = walk->page->printout->forecast;
  const double first = 120; /* px, the heading stays with the first finding */
  double width = walk->right - walk->left;

  dew_walk_need (walk, first);
  dew_walk_head (walk, _ ("What to look at"));
  if (forecast->n_findings == 0)
    walk->y += dew_page_words (dew_walk_pen (walk), DEW_PRINT_BODY, &walk->page->palette->ink_soft,
                               walk->left, walk->y, width, 0, _ ("Nothing stands out."));
  for (int i = 0; i < forecast->n_findings; i++)
    {
      double height = finding_block (&walk->mute, walk, &forecast->findings[i], i + 1);

      dew_walk_need (walk, height);
      finding_block (dew_walk_pen (walk), walk, &forecast->findings[i], i + 1);
      walk->y += height + DEW_WALK_BLOCK_GAP;
    }
}

void
dew_walk_forecast (DewWalk *walk)
{
  if (walk->page->printout->forecast == NULL)
    return;
  walk_bays (walk);
  walk_findings (walk);
}
