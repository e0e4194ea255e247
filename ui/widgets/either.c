/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "widgets/either.h"

struct _DewEither
{
  GtkWidget parent_instance;

  GtkWidget *wide;
  GtkWidget *compact;
};

G_DEFINE_FINAL_TYPE (DewEither, dew_either, GTK_TYPE_WIDGET)

static void
dew_either_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                    int *natural, int *minimum_baseline, int *natural_baseline)
{
  DewEither *self = DEW_EITHER (widget);
  int wide_min, wide_nat, compact_min, compact_nat;

  gtk_widget_measure (self->wide, orientation, -1, &wide_min, &wide_nat, NULL, NULL);
  gtk_widget_measure (self->compact, orientation, -1, &compact_min, &compact_nat, NULL, NULL);
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? compact_min : MAX (wide_min, compact_min);
  *natural = MAX (wide_nat, compact_nat);
}

static void
dew_either_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  DewEither *self = DEW_EITHER (widget);
  int needed;
  gboolean fits;

  gtk_widget_measure (self->wide, GTK_ORIENTATION_HORIZONTAL, -1, &needed, NULL, NULL, NULL);
  fits = width >= needed;
  gtk_widget_set_child_visible (self->wide, fits);
  gtk_widget_set_child_visible (self->compact, !fits);
  gtk_widget_allocate (fits ? self->wide : self->compact, width, height, baseline, NULL);
}

static void
dew_either_dispose (GObject *object)
{
  DewEither *self = DEW_EITHER (object);

  g_clear_pointer (&self->wide, gtk_widget_unparent);
  g_clear_pointer (&self->compact, gtk_widget_unparent);

  G_OBJECT_CLASS (dew_either_parent_class)->dispose (object);
}

static void
dew_either_class_init (DewEitherClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dew_either_dispose;
  widget_class->measure = dew_either_measure;
  widget_class->size_allocate = dew_either_size_allocate;
  gtk_widget_class_set_css_name (widget_class, "either");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
dew_either_init (DewEither *self)
{
}

GtkWidget *
dew_either_new (GtkWidget *wide, GtkWidget *compact)
{
  DewEither *self = g_object_new (DEW_TYPE_EITHER, NULL);

  self->wide = wide;
  self->compact = compact;
  gtk_widget_set_parent (wide, GTK_WIDGET (self));
  gtk_widget_set_parent (compact, GTK_WIDGET (self));
  return GTK_WIDGET (self);
}
