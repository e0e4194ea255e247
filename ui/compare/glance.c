/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "compare/glance.h"

#include "canvas/theme.h"
#include "document/tongue.h"
#include "paint/glance.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>

#define GLANCE_KEY "dew-glance"
#define LEGEND_HEIGHT_PX 44
#define TEXT_SHARE 0.9 /* of the sheet's */

typedef struct
{
  DewDocument *document; /* lent: lives as long as the widgets */
  gboolean legend;
  DewGlance glance;
} Glance;

static void
glance_clear (DewGlance *glance)
{
  g_clear_pointer (&glance->chamber, dew_chamber_free);
  g_clear_pointer (&glance->day, dew_forecast_unref);
  g_clear_pointer (&glance->night, dew_forecast_unref);
}

static void
on_draw (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  Glance *self = data;
  gboolean night = dew_document_night (self->document);
  DewSheet sheet;

  if (self->glance.chamber == NULL)
    return;
  dew_sheet_init (&sheet, self->glance.chamber, dew_chamber_shown (self->glance.chamber));
  sheet.forecast = night ? self->glance.night : self->glance.day;
  sheet.coloured = dew_document_coloured (self->document);
  sheet.tongue = dew_tongue ();
  sheet.range = self->glance.range[sheet.coloured];
  sheet.palette = dew_theme_palette ();
  sheet.text_scale = TEXT_SHARE * dew_theme_text (GTK_WIDGET (area), &sheet.font_family);
  sheet.on_paper = TRUE; /* nothing in it can be clicked by itself */
  if (self->legend)
    dew_glance_legend (cr, &sheet, width, height);
  else
    dew_glance_paint (cr, &sheet, width, height);
}

static void
glance_free (gpointer data)
{
  Glance *self = data;

  glance_clear (&self->glance);
  g_free (self);
}

GtkWidget *
dew_glance_new (DewDocument *document, gboolean legend)
{
  Glance *self = g_new0 (Glance, 1);
  /* A front view is the face of a button that has the name. */
  GtkWidget *area = dew_picture_new (legend ? _ ("Scale of the colours") : NULL, 0,
                                     legend ? LEGEND_HEIGHT_PX : 0, on_draw, self, NULL);

  self->document = document;
  self->legend = legend;
  g_object_set_data_full (G_OBJECT (area), GLANCE_KEY, self, glance_free);
  gtk_widget_set_hexpand (area, TRUE);
  g_signal_connect_object (document, "view", G_CALLBACK (gtk_widget_queue_draw), area,
                           G_CONNECT_SWAPPED);
  dew_tongue_connect (G_OBJECT (area), G_CALLBACK (gtk_widget_queue_draw));
  return area;
}

void
dew_glance_show (GtkWidget *widget, DewGlance *glance)
{
  Glance *self = g_object_get_data (G_OBJECT (widget), GLANCE_KEY);

  g_return_if_fail (self != NULL && glance != NULL);

  glance_clear (&self->glance);
  self->glance = *glance;
  gtk_widget_queue_draw (widget);
}
