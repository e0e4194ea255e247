/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "questions/weights.h"

#include "questions/private.h"
#include "widgets/fold.h"
#include "widgets/names.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>

#define MOST 3.0 /* times the usual weight */
#define STEP 0.5
#define PARTS_MAX 3
#define NO_PART DEW_N_GOALS

/* Each slider stands for parts of the objective that a grower takes as one. */
/* clang-format off */
static const struct
{
  const char *label;
  DewGoal parts[PARTS_MAX];
} wishes[] = {
  { N_("Even humidity"), { DEW_GOAL_EVEN, NO_PART, NO_PART } },
  { N_("What the plants want"), { DEW_GOAL_HUMID, DEW_GOAL_WARMTH, DEW_GOAL_GENTLE } },
  { N_("No still corners"), { DEW_GOAL_FRESH, NO_PART, NO_PART } },
  { N_("Dry crowns"), { DEW_GOAL_DRY, NO_PART, NO_PART } },
  { N_("Little water"), { DEW_GOAL_WATER, NO_PART, NO_PART } },
  { N_("Quiet"), { DEW_GOAL_QUIET, NO_PART, NO_PART } },
};
/* clang-format on */

typedef struct
{
  DewAsk *ask;
  DewWeights usual;
  GtkWidget *scales[G_N_ELEMENTS (wishes)];
  GtkWidget *fold;
  gboolean filling;
} Weights;

static gboolean
all_usual (Weights *self)
{
  for (guint i = 0; i < G_N_ELEMENTS (wishes); i++)
    {
      if (gtk_range_get_value (GTK_RANGE (self->scales[i])) != 1.0)
        return FALSE;
    }
  return TRUE;
}

static void
say (Weights *self)
{
  dew_fold_set_title (DEW_FOLD (self->fold), all_usual (self) ? _ ("What matters: all as usual")
                                                              : _ ("What matters: as you set it"));
}

static void
on_value (Weights *self)
{
  if (self->filling)
    return;
  for (guint i = 0; i < G_N_ELEMENTS (wishes); i++)
    for (int k = 0; k < PARTS_MAX; k++)
      {
        DewGoal part = wishes[i].parts[k];

        if (part != NO_PART)
          self->ask->weights.weight[part]
            = self->usual.weight[part] * gtk_range_get_value (GTK_RANGE (self->scales[i]));
      }
  say (self);
  dew_ask_again (self->ask);
}

static void
on_reset (Weights *self)
{
  if (all_usual (self))
    return;
  self->filling = TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (wishes); i++)
    gtk_range_set_value (GTK_RANGE (self->scales[i]), 1.0);
  self->filling = FALSE;
  on_value (self);
}

static GtkWidget *
scale_new (Weights *self, guint i)
{
  GtkWidget *scale = gtk_scale_new_with_range (GTK_ORIENTATION_HORIZONTAL, 0.0, MOST, STEP);

  gtk_range_set_value (GTK_RANGE (scale), 1.0);
  gtk_scale_add_mark (GTK_SCALE (scale), 1.0, GTK_POS_BOTTOM, NULL);
  gtk_scale_set_draw_value (GTK_SCALE (scale), FALSE);
  gtk_widget_set_hexpand (scale, TRUE);
  gtk_widget_set_size_request (scale, 90, -1);
  dew_name_widget (scale, _ (wishes[i].label));
  g_signal_connect_swapped (scale, "value-changed", G_CALLBACK (on_value), self);
  return scale;
}

static GtkWidget *
ends_new (void)
{
  GtkWidget *ends = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  /* Translators: the ends of sliders that say how much something matters. */
  dew_add_words (GTK_BOX (ends), _ ("not at all"), "heading-soft");
  dew_add_words (GTK_BOX (ends), _ ("much"), "heading-soft");
  gtk_widget_set_hexpand (gtk_widget_get_first_child (ends), TRUE);
  return ends;
}

GtkWidget *
dew_ask_weights_new (DewAsk *ask)
{
  Weights *self = g_new0 (Weights, 1);
  GtkWidget *grid = gtk_grid_new (), *reset = dew_way_new (_ ("All as usual"), "way", NULL);

  self->ask = ask;
  self->usual = ask->weights;
  self->fold = dew_fold_new ("", grid);
  g_object_set_data_full (G_OBJECT (self->fold), "dew-weights", self, g_free);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 10);
  for (guint i = 0; i < G_N_ELEMENTS (wishes); i++)
    {
      self->scales[i] = scale_new (self, i);
      gtk_grid_attach (GTK_GRID (grid), dew_words_new (_ (wishes[i].label), "field"), 0, (int) i, 1,
                       1);
      gtk_grid_attach (GTK_GRID (grid), self->scales[i], 1, (int) i, 1, 1);
    }
  gtk_grid_attach (GTK_GRID (grid), ends_new (), 1, G_N_ELEMENTS (wishes), 1, 1);
  g_signal_connect_swapped (reset, "clicked", G_CALLBACK (on_reset), self);
  gtk_grid_attach (GTK_GRID (grid), reset, 0, G_N_ELEMENTS (wishes), 1, 1);
  gtk_widget_add_css_class (grid, "form");
  say (self);
  return self->fold;
}
