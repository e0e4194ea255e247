/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Draws a case twice, with one painter and one scale of colours: what the program forecasts on
 * the left, the block averages of the reference simulation on the right. For looking at.
 *
 * usage: reference-picture [--value speed|temperature|age] [--grid GRID] [--dark] CASE.json OUT.png
 */
#include "case.h"

#include "document/tongue.h"
#include "paint/sheet.h"

#include <json-glib/json-glib.h>
#include <math.h>

#define WIDTH_PX 1000
#define HEIGHT_PX 900
#define HEAD_PX 34

/* What the blocks tell, as the file names it; temperature counts from the room. */
static const struct
{
  const char *word, *key;
  DewValue value;
} shown[] = {
  { "speed", "speed_m_s", DEW_VALUE_SPEED },
  { "temperature", "temperature_rise_over_room_K", DEW_VALUE_TEMPERATURE },
  { "age", "mean_age_of_air_s", DEW_VALUE_AGE },
};

/* Block averages of one quantity, x fastest; NULL: the file has none. */
static double *
read_blocks (const char *path, const char *key, const int n[3], GError **error)
{
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonObject *blocks;
  JsonArray *list;
  double *out;

  if (!json_parser_load_from_file (parser, path, error))
    return NULL;
  blocks = json_object_get_object_member (json_node_get_object (json_parser_get_root (parser)),
                                          "block_averages");
  if (blocks == NULL || !json_object_has_member (blocks, key))
    {
      g_set_error (error, DEW_CASE_ERROR, DEW_CASE_ERROR_INVALID, "%s: block_averages has no %s",
                   path, key);
      return NULL;
    }
  list = json_object_get_array_member (blocks, key);
  out = g_new0 (double, n[0] * n[1] * n[2]);
  for (int i = 0; i < n[0] * n[1] * n[2] && i < (int) json_array_get_length (list); i++)
    out[i] = json_array_get_double_element (list, i);
  return out;
}

static double
block_at (const double *blocks, const DewCase *c, const double at_m[3])
{
  int index[3];

  for (int a = 0; a < 3; a++)
    index[a] = CLAMP ((int) (at_m[a] / c->box_m[a] * c->n_blocks[a]), 0, c->n_blocks[a] - 1);
  return blocks[index[0] + c->n_blocks[0] * (index[1] + c->n_blocks[1] * index[2])];
}

/* Velocity of the blocks on the faces normal to an axis. */
static gboolean
fill_faces (DewForecast *f, const DewCase *c, const char *path, GError **error)
{
  static const char *const keys[3] = { "u_m_s", "v_m_s", "w_m_s" };

  for (int a = 0; a < 3; a++)
    {
      g_autofree double *blocks = read_blocks (path, keys[a], c->n_blocks, error);
      int n[3] = { f->n[0], f->n[1], f->n[2] };

      if (blocks == NULL)
        return FALSE;
      n[a]++;
      for (int i = 0; i < n[0] * n[1] * n[2]; i++)
        {
          int at[3] = { i % n[0], i / n[0] % n[1], i / (n[0] * n[1]) };
          double point_m[3];

          for (int d = 0; d < 3; d++)
            point_m[d] = d == a ? f->line_m[d][at[d]]
                                : 0.5 * (f->line_m[d][at[d]] + f->line_m[d][at[d] + 1]);
          f->face_m_s[a][i] = block_at (blocks, c, point_m);
        }
    }
  return TRUE;
}

/* The forecast with the reference's blocks and bays in place of its own values. */
static DewForecast *
reference_as_forecast (const DewForecast *forecast, const DewCase *c, const char *path, int which,
                       GError **error)
{
  g_autofree double *blocks = read_blocks (path, shown[which].key, c->n_blocks, error);
  g_autoptr (DewForecast) f = dew_forecast_copy (forecast);
  double above = shown[which].value == DEW_VALUE_TEMPERATURE ? f->room_t_C : 0.0;

  if (blocks == NULL || !fill_faces (f, c, path, error))
    return NULL;
  for (int i = 0; i < f->n_zones; i++)
    {
      int at[3] = { i % f->n[0], i / f->n[0] % f->n[1], i / (f->n[0] * f->n[1]) };
      double point_m[3];

      for (int a = 0; a < 3; a++)
        point_m[a] = 0.5 * (f->line_m[a][at[a]] + f->line_m[a][at[a] + 1]);
      f->value[shown[which].value][i] = above + block_at (blocks, c, point_m);
    }
  for (int b = 0; b < MIN (f->n_bays, c->n_bays); b++)
    {
      f->bays[b].mean.speed_m_s = c->bays[b].value[DEW_CASE_SPEED][DEW_CASE_BAY];
      f->bays[b].mean.still_share = c->bays[b].value[DEW_CASE_STILL][DEW_CASE_BAY];
      f->bays[b].mean.age_s = c->bays[b].value[DEW_CASE_AGE][DEW_CASE_BAY];
      f->bays[b].mean.t_C = f->room_t_C + c->bays[b].value[DEW_CASE_T_RISE][DEW_CASE_BAY];
    }
  return g_steal_pointer (&f);
}

static void
paint (cairo_t *cr, const DewSheet *sheet, const char *title, double x)
{
  DewSheetLayout layout;

  dew_sheet_layout (sheet, WIDTH_PX, HEIGHT_PX, &layout);
  cairo_save (cr);
  cairo_translate (cr, x, HEAD_PX);
  dew_sheet_paint (cr, sheet, &layout);
  cairo_restore (cr);
  cairo_set_source_rgb (cr, sheet->palette->ink.r, sheet->palette->ink.g, sheet->palette->ink.b);
  cairo_set_font_size (cr, 16);
  cairo_move_to (cr, x + 24, HEAD_PX - 10);
  cairo_show_text (cr, title);
}

static gboolean
draw (const char *in, const char *out, int which, DewGrid grid, gboolean dark, GError **error)
{
  g_autoptr (DewCase) c = dew_case_load (in, error);
  g_autoptr (DewForecast) forecast = NULL;
  g_autoptr (DewForecast) reference = NULL;
  DewForecastOptions options;
  DewSheet sheet;
  cairo_surface_t *surface;
  cairo_t *cr;
  cairo_status_t status;

  if (c == NULL)
    return FALSE;
  dew_case_options (c, grid, &options);
  forecast = dew_forecast_new (c->chamber, 0, &options, NULL, error);
  if (forecast == NULL)
    return FALSE;
  /* What is found amiss is the program's own opinion, on either side. */
  forecast->n_findings = 0;
  reference = reference_as_forecast (forecast, c, in, which, error);
  if (reference == NULL)
    return FALSE;

  dew_sheet_init (&sheet, c->chamber, dew_chamber_shown (c->chamber));
  sheet.palette = dew_palette_get (dark, FALSE);
  sheet.coloured = shown[which].value;
  sheet.tongue = dew_tongue ();
  sheet.on_paper = TRUE;
  dew_range_follow_forecast (&sheet.range, sheet.coloured, sheet.tongue, reference);
  surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 2 * WIDTH_PX, HEIGHT_PX + HEAD_PX);
  cr = cairo_create (surface);
  cairo_set_source_rgb (cr, sheet.palette->paper.r, sheet.palette->paper.g, sheet.palette->paper.b);
  cairo_paint (cr);
  sheet.forecast = forecast;
  paint (cr, &sheet, "Forecast", 0.0);
  sheet.forecast = reference;
  paint (cr, &sheet, "Reference simulation, averaged over blocks", WIDTH_PX);
  cairo_destroy (cr);
  status = cairo_surface_write_to_png (surface, out);
  cairo_surface_destroy (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    return TRUE;
  g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_FAILED, "%s: %s", out,
               cairo_status_to_string (status));
  return FALSE;
}

int
main (int argc, char **argv)
{
  g_autofree char *value = NULL, *grid_name = NULL;
  g_auto (GStrv) paths = NULL;
  gboolean dark = FALSE;
  const GOptionEntry entries[]
    = { { "value", 0, 0, G_OPTION_ARG_STRING, &value, "speed, temperature or age", "VALUE" },
        { "grid", 0, 0, G_OPTION_ARG_STRING, &grid_name, "draft, settled or fine", "GRID" },
        { "dark", 0, 0, G_OPTION_ARG_NONE, &dark, "In dark colours", NULL },
        { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &paths, NULL,
          "CASE.json OUT.png" },
        { NULL } };
  static const char *const grids[] = { "draft", "settled", "fine", NULL };
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  g_autoptr (GError) error = NULL;
  int which = 0, grid = DEW_GRID_SETTLED;

  g_option_context_set_summary (context, "Draws a forecast beside its reference simulation.");
  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error))
    {
      g_printerr ("reference-picture: %s\n", error->message);
      return 2;
    }
  while (value != NULL && which < (int) G_N_ELEMENTS (shown)
         && g_strcmp0 (shown[which].word, value) != 0)
    which++;
  for (int g = 0; grid_name != NULL && grids[g] != NULL; g++)
    if (g_strcmp0 (grids[g], grid_name) == 0)
      grid = g;
  if (which == (int) G_N_ELEMENTS (shown) || paths == NULL || g_strv_length (paths) != 2)
    {
      g_printerr ("reference-picture: name a case file and a picture; a value is speed, "
                  "temperature or age\n");
      return 2;
    }
  if (draw (paths[0], paths[1], which, (DewGrid) grid, dark, &error))
    return 0;
  g_printerr ("reference-picture: %s\n", error->message);
  return 1;
}
