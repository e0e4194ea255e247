/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench.h"

#include "paint/sheet.h"

#include <math.h>

#define WIDTH 1920
#define HEIGHT 1080
#define N_FRAMES 31
#define N_STREAKS 400
#define FRAME_S (1.0 / 60)

/* Everything anew, as when a drag changes field and ink with every frame. */
void
bench_sheet (Bench *bench)
{
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  g_autoptr (DewStreaks) streaks = dew_streaks_new (N_STREAKS, 1);
  g_autoptr (GError) error = NULL;
  g_autoptr (DewForecast) forecast = NULL;
  DewForecastOptions options;
  DewSheet sheet;
  DewSheetLayout layout;
  cairo_surface_t *surface;
  double frame_ms[N_FRAMES], median_ms;

  dew_forecast_options_init (&options);
  options.grid = DEW_GRID_DRAFT;
  forecast = dew_forecast_new (chamber, 0, &options, NULL, &error);
  if (!forecast)
    {
      bench_leave_out (bench, "painting: %s", error->message);
      return;
    }

  dew_sheet_init (&sheet, chamber, dew_chamber_shown (chamber));
  sheet.forecast = forecast;
  sheet.streaks = streaks;
  surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
  for (int i = 0; i < N_FRAMES; i++)
    {
      cairo_t *cr = cairo_create (surface);
      double start = bench_work ();

      dew_streaks_step (streaks, FRAME_S, forecast);
      dew_sheet_layout (&sheet, WIDTH, HEIGHT, &layout);
      dew_sheet_paint (cr, &sheet, &layout);
      cairo_surface_flush (surface);
      frame_ms[i] = 1e3 * (bench_work () - start);
      cairo_destroy (cr);
    }
  cairo_surface_destroy (surface);
  median_ms = bench_median (frame_ms, N_FRAMES);
  bench_add (bench,
             &(Figure){ "paint_frame_ms", "A frame painted, 1920 x 1080", "ms", median_ms, 33, 16 },
             "field, ink and %d streaks, in software, nothing kept", N_STREAKS);
}
