/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/number.h"

#include "panes/names.h"

#include <math.h>

typedef struct
{
  const DewUnit   *unit;
  DewNumberChanged changed;
  gpointer         user_data;
  double           si;      /* what is shown, not rounded to what is shown */
  gboolean         setting; /* the program is changing it, not a person */
} Number;

#define NUMBER_KEY "dew-number"

static Number *
number_of (GtkWidget *widget)
{
  return g_object_get_data (G_OBJECT (widget), NUMBER_KEY);
}

/* Text -> number. The spin button asks again when it loses the focus; text
 * that nobody touched must then give the exact value, else each visit would
 * round it. */
static int
on_input (GtkSpinButton *spin, double *shown, gpointer user_data)
{
  Number *number = user_data;
  const char *text = gtk_editable_get_text (GTK_EDITABLE (spin));
  g_autofree char *present = dew_unit_format (number->unit, number->si);
  double si;

  if (g_strcmp0 (text, present) == 0)
    {
      *shown = gtk_spin_button_get_value (spin);
      return TRUE;
    }
  if (!dew_unit_parse (number->unit, text, &si))
    return GTK_INPUT_ERROR;
  *shown = dew_unit_shown (number->unit, si);
  return TRUE;
}

static gboolean
on_output (GtkSpinButton *spin, gpointer user_data)
{
  Number *number = user_data;
  double shown = gtk_adjustment_get_value (gtk_spin_button_get_adjustment (spin));
  g_autofree char *text = dew_unit_format (number->unit, dew_unit_si (number->unit, shown));

  if (g_strcmp0 (text, gtk_editable_get_text (GTK_EDITABLE (spin))) != 0)
    gtk_editable_set_text (GTK_EDITABLE (spin), text);
  return TRUE;
}

static void
on_value_changed (GtkSpinButton *spin, gpointer user_data)
{
  Number *number = user_data;

  if (number->setting)
    return;
  number->si = dew_unit_si (number->unit, gtk_spin_button_get_value (spin));
  number->changed (GTK_WIDGET (spin), number->si, number->user_data);
}

/* Without this the wheel would change numbers while one scrolls the pane. */
static void
drop_wheel (GtkWidget *spin)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (spin);

  for (guint i = g_list_model_get_n_items (controllers); i > 0; i--)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i - 1);

      if (GTK_IS_EVENT_CONTROLLER_SCROLL (controller))
        gtk_widget_remove_controller (spin, controller);
    }
}

GtkWidget *
dew_number_new (const DewUnit *unit, double min_si, double max_si, const char *name,
                DewNumberChanged changed, gpointer user_data)
{
  GtkAdjustment *adjustment
    = gtk_adjustment_new (dew_unit_shown (unit, min_si), dew_unit_shown (unit, min_si),
                          dew_unit_shown (unit, max_si),
                          unit->step, 10.0 * unit->step, 0.0);
  GtkWidget *spin = gtk_spin_button_new (adjustment, 0.0, (guint) unit->decimals);
  Number *number = g_new0 (Number, 1);

  number->unit = unit;
  number->changed = changed;
  number->user_data = user_data;
  number->si = min_si;
  g_object_set_data_full (G_OBJECT (spin), NUMBER_KEY, number, g_free);

  gtk_widget_add_css_class (spin, "number");
  gtk_editable_set_width_chars (GTK_EDITABLE (spin), 9);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (spin), 9);
  gtk_editable_set_alignment (GTK_EDITABLE (spin), 1.0f);
  /* Nonsense puts the old value back instead of a zero. */
  gtk_spin_button_set_update_policy (GTK_SPIN_BUTTON (spin), GTK_UPDATE_IF_VALID);
  dew_name_widget (spin, name);
  g_signal_connect (spin, "input", G_CALLBACK (on_input), number);
  g_signal_connect (spin, "output", G_CALLBACK (on_output), number);
  g_signal_connect (spin, "value-changed", G_CALLBACK (on_value_changed), number);
  drop_wheel (spin);
  dew_number_set (spin, min_si);
  return spin;
}

void
dew_number_set (GtkWidget *widget, double si)
{
  Number *number = number_of (widget);
  g_autofree char *text = NULL;

  g_return_if_fail (number != NULL);

  number->setting = TRUE;
  number->si = si;
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (widget), dew_unit_shown (number->unit, si));
  text = dew_unit_format (number->unit, si);
  if (g_strcmp0 (text, gtk_editable_get_text (GTK_EDITABLE (widget))) != 0)
    gtk_editable_set_text (GTK_EDITABLE (widget), text);
  number->setting = FALSE;
}

double
dew_number_get (GtkWidget *widget)
{
  Number *number = number_of (widget);

  g_return_val_if_fail (number != NULL, NAN);
  return number->si;
}
