/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The picture on the canvas: what is to be drawn, kept layers, and the moving
 * air between them. */
#include "canvas/canvas-private.h"

#include "canvas/theme.h"
#include "document/tongue.h"

#include <math.h>
#include <string.h>

#define N_STREAKS 180
#define STREAK_SEED 7
/* Streaks move by so much at a time: smooth enough, half the work of 60 Hz. */
#define FRAME_US 30000
/* The numbers before a change stay beside the new ones for so long. */
#define BEFORE_S 8

/* --- what is to be drawn ----------------------------------------------- */

/* The colours hold still: chosen once, and only ever widened, by what is looked at as by what
 * is there. */
static void
keep_range (DewCanvas *self, DewValue value, const DewForecast *forecast)
{
  DewRange *range = &self->range[value];

  if (!(range->hi > range->lo))
    {
      *range = dew_range_choose (value, dew_tongue (), dew_document_chamber (self->document));
      self->chosen[value] = *range;
      self->range_stale[value] = TRUE;
    }
  /* The steps of a drag may swing; the colours wait for what settles. */
  if (!self->range_stale[value] || forecast->state == DEW_FORECAST_FOLLOWING)
    return;
  if (dew_range_widen (range, value, dew_tongue (), forecast))
    g_debug ("colours: widened to %g .. %g", range->lo, range->hi);
  self->range_stale[value] = FALSE;
}

/* --- what changed since --------------------------------------------------- */

static gboolean
on_before_over (gpointer data)
{
  DewCanvas *self = data;

  self->before_source = 0;
  g_clear_pointer (&self->before, g_free);
  dew_canvas_redraw (self, FALSE);
  return G_SOURCE_REMOVE;
}

static gboolean
same_numbers (const DewClimate *a, const DewClimate *b, int n)
{
  for (int bay = 0; bay < n; bay++)
    if (fabs (a[bay].rh - b[bay].rh) > 1e-6 || fabs (a[bay].t_C - b[bay].t_C) > 1e-5
        || fabs (a[bay].speed_m_s - b[bay].speed_m_s) > 1e-6)
      return FALSE;
  return TRUE;
}

void
dew_canvas_remember_numbers (DewCanvas *self)
{
  const DewForecast *forecast = dew_document_forecast (self->document);
  DewClimate *now;

  if (forecast == NULL || dew_document_lags (self->document)
      || dew_document_peeking (self->document))
    return;
  now = g_new (DewClimate, MAX (forecast->n_bays, 1));
  for (int bay = 0; bay < forecast->n_bays; bay++)
    now[bay] = forecast->bays[bay].mean;
  if (self->settled != NULL && self->n_settled == forecast->n_bays
      && !same_numbers (self->settled, now, forecast->n_bays))
    {
      g_free (self->before);
      self->before = g_steal_pointer (&self->settled);
      g_clear_handle_id (&self->before_source, g_source_remove);
      self->before_source = g_timeout_add_seconds (BEFORE_S, on_before_over, self);
    }
  g_free (self->settled);
  self->settled = now;
  self->n_settled = forecast->n_bays;
}

void
dew_canvas_forget_ranges (DewCanvas *self)
{
  memset (self->range, 0, sizeof self->range);
  memset (self->chosen, 0, sizeof self->chosen);
}

void
dew_canvas_describe (DewCanvas *self, DewSheet *sheet)
{
  DewDocument *document = self->document;
  const DewForecast *forecast = dew_document_forecast (document);
  DewValue value = dew_document_coloured (document);

  dew_sheet_init (sheet, dew_document_chamber (document), dew_document_variant (document));
  sheet->tongue = dew_tongue ();
  sheet->forecast = forecast;
  if (forecast == NULL)
    sheet->cannot = dew_document_obstacle (document, NULL);
  sheet->coloured = value;
  if (forecast != NULL)
    {
      keep_range (self, value, forecast);
      sheet->range = self->range[value];
      sheet->chosen = self->chosen[value];
    }
  sheet->selected_id = dew_document_selected (document);
  sheet->selection = dew_document_selection (document, &sheet->n_selection);
  if (self->framed != NULL)
    {
      sheet->selected_id = 0;
      sheet->selection = (const guint *) (gpointer) self->framed->data;
      sheet->n_selection = self->framed->len;
    }
  sheet->zoom = self->zoom;
  sheet->pan_px[0] = self->pan_px[0];
  sheet->pan_px[1] = self->pan_px[1];
  sheet->fixed_scale = self->fixed_scale;
  sheet->probe = self->probing ? &self->probe : NULL;
  sheet->hover_id = self->hover_id;
  sheet->hover_bay = self->hover_bay;
  sheet->plan_bay = dew_document_plan_bay (document);
  sheet->plan_large = self->plan_large;
  sheet->side_instead = self->side_instead;
  sheet->highlighted_finding = dew_document_lit_finding (document);
  sheet->following = dew_document_lags (document);
  sheet->draft = sheet->following && forecast != NULL
                 && (dew_forecast_is_draft (forecast)
                     || dew_document_obstacle (document, &sheet->amiss_id) != NULL);
  sheet->before = sheet->following ? NULL : self->before;
  sheet->n_before = self->before != NULL ? self->n_settled : 0;
  sheet->merit = dew_document_merit (document);
  sheet->guides = self->moving ? &self->guides : NULL;
  sheet->palette = dew_theme_palette ();
  sheet->text_scale = dew_theme_text (GTK_WIDGET (self), &sheet->font_family);
}

gboolean
dew_canvas_has_picture (DewCanvas *self)
{
  return self->document != NULL && dew_document_chamber (self->document) != NULL
         && gtk_widget_get_width (GTK_WIDGET (self)) > 0;
}

/* --- streaks ----------------------------------------------------------- */

static gboolean
streaks_wanted (DewCanvas *self)
{
  gboolean animations = TRUE;

  g_object_get (gtk_widget_get_settings (GTK_WIDGET (self)), "gtk-enable-animations", &animations,
                NULL);
  return animations && !self->still && self->document != NULL
         && dew_document_forecast (self->document) != NULL;
}

static gboolean
on_tick (GtkWidget *widget, GdkFrameClock *clock, gpointer user_data)
{
  DewCanvas *self = DEW_CANVAS (widget);
  gint64 now_us = gdk_frame_clock_get_frame_time (clock);

  if (!streaks_wanted (self))
    {
      self->tick = 0;
      g_clear_pointer (&self->streaks, dew_streaks_free);
      dew_canvas_redraw (self, TRUE);
      return G_SOURCE_REMOVE;
    }
  if (now_us - self->frame_us < FRAME_US)
    return G_SOURCE_CONTINUE;
  dew_streaks_step (self->streaks, self->frame_us > 0 ? (now_us - self->frame_us) * 1e-6 : 0.0,
                    dew_document_forecast (self->document));
  self->frame_us = now_us;
  gtk_widget_queue_draw (widget);
  return G_SOURCE_CONTINUE;
}

/* The tick callback itself ends when streaks are no longer wanted; GTK stops it
 * while the window is hidden. */
void
dew_canvas_update_streaks (DewCanvas *self)
{
  if (self->tick != 0 || !streaks_wanted (self))
    return;
  self->streaks = dew_streaks_new (N_STREAKS, STREAK_SEED);
  self->frame_us = 0;
  self->tick = gtk_widget_add_tick_callback (GTK_WIDGET (self), on_tick, NULL, NULL);
}

void
dew_canvas_set_still (DewCanvas *self, gboolean still)
{
  g_return_if_fail (DEW_IS_CANVAS (self));
  if (self->still == still)
    return;
  self->still = still;
  dew_canvas_update_streaks (self);
  dew_canvas_redraw (self, TRUE);
}

gboolean
dew_canvas_still (DewCanvas *self)
{
  return self->still;
}

/* --- painting ---------------------------------------------------------- */

static cairo_surface_t *
paint_surface (DewCanvas *self, const DewSheet *sheet, DewLayers layers)
{
  GtkWidget *widget = GTK_WIDGET (self);
  int factor = gtk_widget_get_scale_factor (widget);
  cairo_surface_t *surface
    = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, gtk_widget_get_width (widget) * factor,
                                  gtk_widget_get_height (widget) * factor);
  cairo_t *cr;

  cairo_surface_set_device_scale (surface, factor, factor);
  cr = cairo_create (surface);
  dew_sheet_paint_layers (cr, sheet, &self->layout, layers);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

/* Takes the surface. */
static GdkTexture *
texture_new (cairo_surface_t *surface)
{
  int width = cairo_image_surface_get_width (surface);
  int height = cairo_image_surface_get_height (surface);
  gsize stride = (gsize) cairo_image_surface_get_stride (surface);
  g_autoptr (GBytes) bytes
    = g_bytes_new_with_free_func (cairo_image_surface_get_data (surface), stride * (gsize) height,
                                  (GDestroyNotify) cairo_surface_destroy, surface);

  return gdk_memory_texture_new (width, height, GDK_MEMORY_DEFAULT, bytes, stride);
}

/* Paints layers once, as a node to be used for many frames. A renderer on the
 * graphics card wants a texture, which it uploads once; the one that draws with
 * Cairo converts a texture anew for every frame, and copies a surface. */
static GskRenderNode *
paint_layers (DewCanvas *self, const DewSheet *sheet, DewLayers layers)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GskRenderer *renderer = gtk_native_get_renderer (gtk_widget_get_native (widget));
  cairo_surface_t *surface = paint_surface (self, sheet, layers);
  graphene_rect_t all;
  GskRenderNode *node;

  graphene_rect_init (&all, 0.0f, 0.0f, (float) gtk_widget_get_width (widget),
                      (float) gtk_widget_get_height (widget));
  if (GSK_IS_CAIRO_RENDERER (renderer))
    {
      cairo_t *cr;

      node = gsk_cairo_node_new (&all);
      cr = gsk_cairo_node_get_draw_context (node);
      cairo_set_source_surface (cr, surface, 0.0, 0.0);
      cairo_paint (cr);
      cairo_destroy (cr);
      cairo_surface_destroy (surface);
    }
  else
    {
      g_autoptr (GdkTexture) texture = texture_new (surface);

      node = gsk_texture_node_new (texture, &all);
    }
  return node;
}

/* The rectangle round all shown views, as far as it is in sight: streaks live
 * nowhere else, and what is looked at closely must not ask for a larger picture. */
static void
views_bounds (const DewSheetLayout *layout, graphene_rect_t *bounds)
{
  graphene_rect_t sight;
  gboolean first = TRUE;

  graphene_rect_init (bounds, 0.0f, 0.0f, 0.0f, 0.0f);
  for (int view = 0; view < DEW_N_VIEWS; view++)
    {
      const DewRect *rect = &layout->view[view];
      graphene_rect_t one;

      if (!layout->shown[view])
        continue;
      graphene_rect_init (&one, (float) rect->x, (float) rect->y, (float) rect->width,
                          (float) rect->height);
      if (first)
        *bounds = one;
      else
        graphene_rect_union (bounds, &one, bounds);
      first = FALSE;
    }
  for (int bay = 0; bay < layout->n_plans; bay++)
    {
      const DewRect *rect = &layout->plan[bay];
      graphene_rect_t one;

      graphene_rect_init (&one, (float) rect->x, (float) rect->y, (float) rect->width,
                          (float) rect->height);
      graphene_rect_union (bounds, &one, bounds);
    }
  graphene_rect_init (&sight, 0.0f, 0.0f, (float) layout->width, (float) layout->height);
  if (!graphene_rect_intersection (bounds, &sight, bounds))
    graphene_rect_init (bounds, 0.0f, 0.0f, 0.0f, 0.0f);
}

/* What the air is like where the pointer rests. */
static void
draw_probe (DewCanvas *self, GtkSnapshot *snapshot, const DewSheet *sheet)
{
  graphene_rect_t bounds;
  DewRect rect;
  cairo_t *cr;

  if (!self->probing || !dew_sheet_probe_rect (sheet, &self->layout, &rect))
    return;
  graphene_rect_init (&bounds, (float) rect.x, (float) rect.y, (float) rect.width,
                      (float) rect.height);
  cr = gtk_snapshot_append_cairo (snapshot, &bounds);
  dew_sheet_paint_layers (cr, sheet, &self->layout, DEW_LAYER_PROBE);
  cairo_destroy (cr);
}

/* The frame that is drawn round several things. */
static void
draw_frame (DewCanvas *self, GtkSnapshot *snapshot)
{
  const float line[4] = { 1.0f, 1.0f, 1.0f, 1.0f };
  const DewColour *accent = &dew_theme_palette ()->accent;
  const GdkRGBA edge = { (float) accent->r, (float) accent->g, (float) accent->b, 1.0f };
  const GdkRGBA edges[4] = { edge, edge, edge, edge };
  GdkRGBA fill = edge;
  graphene_rect_t bounds;
  GskRoundedRect outline;

  if (self->framed == NULL)
    return;
  fill.alpha = 0.08f;
  graphene_rect_init (&bounds, (float) floor (self->frame.x), (float) floor (self->frame.y),
                      (float) ceil (self->frame.width), (float) ceil (self->frame.height));
  gsk_rounded_rect_init_from_rect (&outline, &bounds, 0.0f);
  gtk_snapshot_append_color (snapshot, &fill, &bounds);
  gtk_snapshot_append_border (snapshot, &outline, line, edges);
}

void
dew_canvas_draw (DewCanvas *self, GtkSnapshot *snapshot)
{
  graphene_rect_t views;
  DewSheet sheet;

  if (!dew_canvas_has_picture (self))
    return;
  dew_canvas_describe (self, &sheet);
  if (self->ground == NULL)
    self->ground = paint_layers (self, &sheet,
                                 DEW_LAYER_GROUND | DEW_LAYER_FIELD
                                   | (self->streaks == NULL ? DEW_LAYER_AIR : 0));
  if (self->ink == NULL)
    self->ink = paint_layers (self, &sheet, DEW_LAYER_INK);

  gtk_snapshot_append_node (snapshot, self->ground);
  views_bounds (&self->layout, &views);
  if (self->streaks != NULL && views.size.width > 0.0f)
    {
      cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &views);

      sheet.streaks = self->streaks;
      dew_sheet_paint_layers (cr, &sheet, &self->layout, DEW_LAYER_AIR);
      cairo_destroy (cr);
    }
  gtk_snapshot_append_node (snapshot, self->ink);
  draw_probe (self, snapshot, &sheet);
  draw_frame (self, snapshot);
}

void
dew_canvas_redraw (DewCanvas *self, gboolean field_too)
{
  if (field_too)
    g_clear_pointer (&self->ground, gsk_render_node_unref);
  g_clear_pointer (&self->ink, gsk_render_node_unref);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
