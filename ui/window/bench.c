/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/bench.h"

/* The least share of the width that is the sheet's before the tray loses its
 * names. */
#define SHEET_SHARE 0.55
/* The pane's share of the width, and its least and largest width in widths of
 * a digit. It does not depend on what the pane shows: the sheet would else jump
 * whenever something is selected. */
#define PANE_SHARE 0.27
#define PANE_LEAST_DIGITS 36
#define PANE_MOST_DIGITS 50
/* With large text on a small window it does not get its least: it can be
 * scrolled, the sheet cannot. */
#define PANE_LARGEST_SHARE 0.36

struct _DewBench
{
  GtkWidget parent_instance;

  GtkWidget *tray;
  GtkWidget *sheet;
  GtkWidget *pane;
};

G_DEFINE_FINAL_TYPE (DewBench, dew_bench, GTK_TYPE_WIDGET)

static void
dew_bench_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                   int *natural, int *minimum_baseline, int *natural_baseline)
{
  DewBench *self = DEW_BENCH (widget);
  GtkWidget *parts[3] = { self->tray, self->sheet, self->pane };

  *minimum = *natural = 0;
  for (int i = 0; i < 3; i++)
    {
      int min, nat;

      gtk_widget_measure (parts[i], orientation, -1, &min, &nat, NULL, NULL);
      if (orientation == GTK_ORIENTATION_HORIZONTAL)
        {
          *minimum += min;
          *natural += nat;
        }
      else
        {
          *minimum = MAX (*minimum, min);
          *natural = MAX (*natural, nat);
        }
    }
}

static int
pane_width (DewBench *self, int width)
{
  PangoContext *context = gtk_widget_get_pango_context (GTK_WIDGET (self));
  PangoFontMetrics *metrics = pango_context_get_metrics (context, NULL, NULL);
  int digit = PANGO_PIXELS_CEIL (pango_font_metrics_get_approximate_digit_width (metrics));
  int wanted
    = CLAMP ((int) (PANE_SHARE * width), PANE_LEAST_DIGITS * digit, PANE_MOST_DIGITS * digit);
  int least;

  pango_font_metrics_unref (metrics);
  gtk_widget_measure (self->pane, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  return MAX (MIN (wanted, (int) (PANE_LARGEST_SHARE * width)), least);
}

static void
place (GtkWidget *child, int x, int width, int height)
{
  gtk_widget_allocate (child, width, height, -1,
                       gsk_transform_translate (NULL, &GRAPHENE_POINT_INIT ((float) x, 0.0f)));
}

static void
dew_bench_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  DewBench *self = DEW_BENCH (widget);
  gboolean mirrored = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  int pane = pane_width (self, width);
  int tray, tray_named;

  /* The tray shows its names when it gets its natural width. */
  gtk_widget_measure (self->tray, GTK_ORIENTATION_HORIZONTAL, -1, &tray, &tray_named, NULL, NULL);
  if (width - pane - tray_named >= SHEET_SHARE * width)
    tray = tray_named;

  place (self->tray, mirrored ? width - tray : 0, tray, height);
  place (self->sheet, mirrored ? pane : tray, MAX (width - tray - pane, 1), height);
  place (self->pane, mirrored ? 0 : width - pane, pane, height);
}

static void
dew_bench_dispose (GObject *object)
{
  DewBench *self = DEW_BENCH (object);

  g_clear_pointer (&self->tray, gtk_widget_unparent);
  g_clear_pointer (&self->sheet, gtk_widget_unparent);
  g_clear_pointer (&self->pane, gtk_widget_unparent);

  G_OBJECT_CLASS (dew_bench_parent_class)->dispose (object);
}

static void
dew_bench_class_init (DewBenchClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dew_bench_dispose;
  widget_class->measure = dew_bench_measure;
  widget_class->size_allocate = dew_bench_size_allocate;
  gtk_widget_class_set_css_name (widget_class, "bench");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
dew_bench_init (DewBench *self)
{
  gtk_widget_set_vexpand (GTK_WIDGET (self), TRUE);
}

GtkWidget *
dew_bench_new (GtkWidget *tray, GtkWidget *sheet, GtkWidget *pane)
{
  DewBench *self = g_object_new (DEW_TYPE_BENCH, NULL);

  self->tray = tray;
  self->sheet = sheet;
  self->pane = pane;
  gtk_widget_set_parent (tray, GTK_WIDGET (self));
  gtk_widget_set_parent (sheet, GTK_WIDGET (self));
  gtk_widget_set_parent (pane, GTK_WIDGET (self));
  return GTK_WIDGET (self);
}
