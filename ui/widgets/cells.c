/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "widgets/cells.h"

#define SPACING_PX 6
#define MOST_CELLS 16

struct _DewCells
{
  GtkWidget parent_instance;

  int n;
  int rank[MOST_CELLS];
  gboolean expand[MOST_CELLS];
};

G_DEFINE_FINAL_TYPE (DewCells, dew_cells, GTK_TYPE_WIDGET)

/* Widths of the cells; returns how many there are. */
static int
measure_cells (DewCells *self, int minimum[MOST_CELLS], int natural[MOST_CELLS])
{
  int i = 0;

  for (GtkWidget *cell = gtk_widget_get_first_child (GTK_WIDGET (self)); cell != NULL;
       cell = gtk_widget_get_next_sibling (cell), i++)
    gtk_widget_measure (cell, GTK_ORIENTATION_HORIZONTAL, -1, &minimum[i], &natural[i], NULL, NULL);
  return i;
}

/* Of the cells up to that rank. */
static int
width_up_to (const DewCells *self, int rank, const int width[MOST_CELLS])
{
  int sum = -SPACING_PX;

  for (int i = 0; i < self->n; i++)
    {
      if (self->rank[i] <= rank)
        sum += width[i] + SPACING_PX;
    }
  return MAX (sum, 0);
}

static int
highest_rank (const DewCells *self)
{
  int rank = 0;

  for (int i = 0; i < self->n; i++)
    rank = MAX (rank, self->rank[i]);
  return rank;
}

static void
dew_cells_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                   int *natural, int *minimum_baseline, int *natural_baseline)
{
  DewCells *self = DEW_CELLS (widget);
  int least[MOST_CELLS], best[MOST_CELLS];

  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      measure_cells (self, least, best);
      *minimum = width_up_to (self, 0, least);
      *natural = width_up_to (self, highest_rank (self), best);
      return;
    }
  *minimum = *natural = 0;
  for (GtkWidget *cell = gtk_widget_get_first_child (widget); cell != NULL;
       cell = gtk_widget_get_next_sibling (cell))
    {
      int cell_least, cell_best;

      gtk_widget_measure (cell, orientation, -1, &cell_least, &cell_best, NULL, NULL);
      *minimum = MAX (*minimum, cell_least);
      *natural = MAX (*natural, cell_best);
    }
}

static void
dew_cells_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  DewCells *self = DEW_CELLS (widget);
  gboolean mirrored = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  int least[MOST_CELLS], best[MOST_CELLS];
  int rank = highest_rank (self), expanding = 0, spare, x = 0, i = 0;

  measure_cells (self, least, best);
  while (rank > 0 && width_up_to (self, rank, least) > width)
    rank--;
  for (int c = 0; c < self->n; c++)
    expanding += self->rank[c] <= rank && self->expand[c];
  spare = MAX (0, width - width_up_to (self, rank, least));
  for (GtkWidget *cell = gtk_widget_get_first_child (widget); cell != NULL;
       cell = gtk_widget_get_next_sibling (cell), i++)
    {
      gboolean shown = self->rank[i] <= rank;
      int cell_width = least[i];

      gtk_widget_set_child_visible (cell, shown);
      if (!shown)
        continue;
      if (self->expand[i])
        {
          int part = spare / expanding;

          cell_width += part;
          spare -= part;
          expanding--;
        }
      gtk_widget_size_allocate (
        cell, &(GtkAllocation){ mirrored ? width - x - cell_width : x, 0, cell_width, height }, -1);
      x += cell_width + SPACING_PX;
    }
}

static void
dew_cells_dispose (GObject *object)
{
  GtkWidget *cell;

  while ((cell = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (cell);

  G_OBJECT_CLASS (dew_cells_parent_class)->dispose (object);
}

static void
dew_cells_class_init (DewCellsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dew_cells_dispose;
  widget_class->measure = dew_cells_measure;
  widget_class->size_allocate = dew_cells_size_allocate;
  gtk_widget_class_set_css_name (widget_class, "cells");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
dew_cells_init (DewCells *self)
{
}

GtkWidget *
dew_cells_new (void)
{
  return g_object_new (DEW_TYPE_CELLS, NULL);
}

void
dew_cells_append (DewCells *self, GtkWidget *cell, int rank, gboolean expand)
{
  g_return_if_fail (DEW_IS_CELLS (self) && self->n < MOST_CELLS);

  self->rank[self->n] = rank;
  self->expand[self->n] = expand;
  self->n++;
  gtk_widget_set_parent (cell, GTK_WIDGET (self));
}
