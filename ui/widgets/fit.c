/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "widgets/fit.h"

struct _DewFit
{
  GtkWidget parent_instance;

  GtkOrientation orientation;
  GtkWidget *wide;
  GtkWidget *compact;
};

G_DEFINE_FINAL_TYPE (DewFit, dew_fit, GTK_TYPE_WIDGET)

static void
dew_fit_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                 int *natural, int *minimum_baseline, int *natural_baseline)
{
  DewFit *self = DEW_FIT (widget);
  int wide_min, wide_nat, compact_min, compact_nat;

  gtk_widget_measure (self->wide, orientation, -1, &wide_min, &wide_nat, NULL, NULL);
  gtk_widget_measure (self->compact, orientation, -1, &compact_min, &compact_nat, NULL, NULL);
  if (orientation == self->orientation)
    {
      *minimum = compact_min;
      *natural = MAX (wide_nat, compact_nat);
    }
  else
    {
      *minimum = MAX (wide_min, compact_min);
      *natural = MAX (wide_nat, compact_nat);
    }
}

static void
dew_fit_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  DewFit *self = DEW_FIT (widget);
  int room = self->orientation == GTK_ORIENTATION_HORIZONTAL ? width : height;
  int needed;
  gboolean fits;

  gtk_widget_measure (self->wide, self->orientation, -1, &needed, NULL, NULL, NULL);
  fits = room >= needed;
  gtk_widget_set_child_visible (self->wide, fits);
  gtk_widget_set_child_visible (self->compact, !fits);
  gtk_widget_allocate (fits ? self->wide : self->compact, width, height, baseline, NULL);
}

static void
dew_fit_dispose (GObject *object)
{
  DewFit *self = DEW_FIT (object);

  g_clear_pointer (&self->wide, gtk_widget_unparent);
  g_clear_pointer (&self->compact, gtk_widget_unparent);

  G_OBJECT_CLASS (dew_fit_parent_class)->dispose (object);
}

static void
dew_fit_class_init (DewFitClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dew_fit_dispose;
  widget_class->measure = dew_fit_measure;
  widget_class->size_allocate = dew_fit_size_allocate;
  gtk_widget_class_set_css_name (widget_class, "fit");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
dew_fit_init (DewFit *self)
{
}

GtkWidget *
dew_fit_new (GtkOrientation orientation, GtkWidget *wide, GtkWidget *compact)
{
  DewFit *self = g_object_new (DEW_TYPE_FIT, NULL);

  self->orientation = orientation;
  self->wide = wide;
  self->compact = compact;
  gtk_widget_set_parent (wide, GTK_WIDGET (self));
  gtk_widget_set_parent (compact, GTK_WIDGET (self));
  return GTK_WIDGET (self);
}
