/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheet-fixture.h"

#include "paint/sheet-private.h"

#include <math.h>

#define COLUMNS 10
#define DEEP 6
#define ROWS 20

/* --- the forecast ---------------------------------------------------------------------- */

static double
middle (const DewForecast *forecast, int axis, int i)
{
  return (forecast->line_m[axis][i] + forecast->line_m[axis][i + 1]) / 2;
}

DewForecast *
fixture_forecast_new (const DewChamber *chamber)
{
  static const int n[3] = { COLUMNS, DEEP, ROWS };
  DewForecast *f = g_new0 (DewForecast, 1);

  f->ref_count = 1;
  f->state = DEW_FORECAST_SETTLED;
  dew_chamber_inner_m (chamber, f->inner_m);
  f->n_zones = COLUMNS * DEEP * ROWS;
  for (int axis = 0; axis < 3; axis++)
    {
      int faces = (n[0] + (axis == 0)) * (n[1] + (axis == 1)) * (n[2] + (axis == 2));

      f->n[axis] = n[axis];
      f->line_m[axis] = g_new (double, n[axis] + 1);
      for (int i = 0; i <= n[axis]; i++)
        f->line_m[axis][i] = f->inner_m[axis] * i / n[axis];
      f->velocity_m_s[axis] = g_new0 (double, f->n_zones);
      f->face_m_s[axis] = g_new0 (double, faces);
      for (int i = 0; i < faces && axis == 0; i++)
        f->face_m_s[axis][i] = 0.2;
    }
  for (int value = 0; value < DEW_N_VALUES; value++)
    f->value[value] = g_new0 (double, f->n_zones);
  f->still_share = g_new0 (double, f->n_zones);
  f->board = g_new0 (guint8, COLUMNS * DEEP * (ROWS + 1));

  for (int k = 0; k < ROWS; k++)
    for (int j = 0; j < DEEP; j++)
      for (int i = 0; i < COLUMNS; i++)
        {
          int zone = i + COLUMNS * (j + DEEP * k);

          f->value[DEW_VALUE_TEMPERATURE][zone]
            = 18 + 4 * middle (f, 0, i) / f->inner_m[0] + 6 * middle (f, 2, k) / f->inner_m[2];
          f->value[DEW_VALUE_RH][zone] = k < ROWS / 2 ? 0.5 : 0.9;
          f->value[DEW_VALUE_SPEED][zone] = 0.2;
          f->velocity_m_s[0][zone] = 0.2;
          if (k == ROWS / 2)
            f->board[zone] = 1;
        }

  f->n_bays = 2;
  f->bays = g_new0 (DewBay, 2);
  for (int bay = 0; bay < 2; bay++)
    {
      f->bays[bay].z0_m = f->inner_m[2] * bay / 2;
      f->bays[bay].z1_m = f->inner_m[2] * (bay + 1) / 2;
      f->bays[bay].mean.rh = bay == 0 ? 0.5 : 0.9;
      f->bays[bay].mean.rh_band = 0.04;
      f->bays[bay].mean.t_C = bay == 0 ? 21.5 : 24.5;
      f->bays[bay].mean.t_band_K = 0.5;
      f->bays[bay].mean.age_s = bay == 0 ? NAN : 7.6 * 60;
      f->bays[bay].mean.age_band_s = 73;
      f->bays[bay].mean.speed_band_m_s = 0.02;
      f->bays[bay].mean.ppfd_mol_m2s = 124e-6;
    }
  return f;
}

void
fixture_forecast_free (DewForecast *f)
{
  for (int axis = 0; axis < 3; axis++)
    {
      g_free (f->line_m[axis]);
      g_free (f->velocity_m_s[axis]);
      g_free (f->face_m_s[axis]);
    }
  for (int value = 0; value < DEW_N_VALUES; value++)
    g_free (f->value[value]);
  g_free (f->still_share);
  g_free (f->board);
  g_free (f->bays);
  g_free (f->places);
  g_free (f->findings);
  g_free (f);
}

void
fixture_add_finding (DewForecast *f, double x_m, double y_m, double z_m, DewFindingCause cause)
{
  DewFinding *finding;

  f->findings = g_renew (DewFinding, f->findings, f->n_findings + 1);
  finding = &f->findings[f->n_findings++];
  *finding = (DewFinding){ .cause = cause,
                           .at_m = { x_m, y_m, z_m },
                           .value = 12 * 3600.0, /* of what is told in hours */
                           .severity = 1 };
}

void
fixture_add_places (DewForecast *f)
{
  f->n_places = 12;
  f->places = g_new0 (DewPlace, f->n_places);
  for (int i = 0; i < f->n_places; i++)
    {
      DewPlace *place = &f->places[i];

      place->bay = i / 6;
      place->column = i % 3;
      place->row = i / 3 % 2;
      place->mean = f->bays[place->bay].mean;
      place->severity = i % 3;
      place->lo_m[0] = f->inner_m[0] * place->column / 3;
      place->hi_m[0] = f->inner_m[0] * (place->column + 1) / 3;
      place->lo_m[1] = f->inner_m[1] * place->row / 2;
      place->hi_m[1] = f->inner_m[1] * (place->row + 1) / 2;
      place->lo_m[2] = f->bays[place->bay].z0_m;
      place->hi_m[2] = f->bays[place->bay].z1_m;
    }
}

gboolean
fixture_inside_sheet (const DewRect *r, const DewSheetLayout *layout)
{
  return r->x >= 0 && r->y >= 0 && r->x + r->width <= layout->width + 0.5
         && r->y + r->height <= layout->height + 0.5;
}

void
fixture_check_marks (const DewSheet *sheet, const DewSheetLayout *layout)
{
  g_autoptr (GArray) marks = dew_sheet_marks (sheet, layout);

  for (guint i = 0; i < marks->len; i++)
    {
      const DewMark *one = &g_array_index (marks, DewMark, i);

      if (!fixture_inside_sheet (&one->rect, layout))
        g_error ("'%s' is not on the sheet at %g x %g, text %g", one->text, layout->width,
                 layout->height, sheet->text_scale);
      for (guint j = i + 1; j < marks->len; j++)
        {
          const DewMark *other = &g_array_index (marks, DewMark, j);

          if (dew_rects_meet (&one->rect, &other->rect, -0.5))
            g_error ("'%s' lies on '%s' at %g x %g, text %g", one->text, other->text, layout->width,
                     layout->height, sheet->text_scale);
        }
      if (dew_rects_meet (&one->rect, &layout->legend, -0.5))
        g_error ("'%s' lies on the legend at %g x %g, text %g", one->text, layout->width,
                 layout->height, sheet->text_scale);
      for (int view = 0; view < DEW_N_VIEWS; view++)
        if (layout->shown[view] && one->kind != DEW_MARK_FLAG
            && dew_rects_meet (&one->rect, &layout->view[view], 0))
          g_error ("'%s' lies on view %d at %g x %g, text %g", one->text, view, layout->width,
                   layout->height, sheet->text_scale);
    }
}
