/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "widgets/number.h"

#include "canvas/refusal.h"
#include "widgets/names.h"
#include "widgets/reason.h"

#include <math.h>

typedef struct
{
  const DewUnit *unit;
  double min_si, max_si;
  DewNumberChanged changed;
  gpointer user_data;
  double si;        /* what is shown, not rounded to what is shown */
  double held;      /* the spin button's value for it */
  double before;    /* while a change is told: the value before it */
  char *typed;      /* text that is being read, or was refused */
  gboolean refused; /* `typed` stands in the field, `si` holds */
  gboolean setting; /* the program is changing it, not a person */
} Number;

#define NUMBER_KEY "dew-number"

static Number *
number_of (GtkWidget *widget)
{
  return g_object_get_data (G_OBJECT (widget), NUMBER_KEY);
}

static void
number_free (gpointer data)
{
  Number *number = data;

  g_free (number->typed);
  g_free (number);
}

static void
show_text (GtkWidget *spin, Number *number, const char *text)
{
  gboolean was = number->setting;

  number->setting = TRUE;
  if (g_strcmp0 (text, gtk_editable_get_text (GTK_EDITABLE (spin))) != 0)
    gtk_editable_set_text (GTK_EDITABLE (spin), text);
  number->setting = was;
}

/* Value and text without telling anybody. */
static void
show (GtkWidget *spin, Number *number)
{
  g_autofree char *text = dew_unit_format (number->unit, number->si);

  number->setting = TRUE;
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (spin), dew_unit_shown (number->unit, number->si));
  number->setting = FALSE;
  number->held = gtk_spin_button_get_value (GTK_SPIN_BUTTON (spin));
  show_text (spin, number, text);
}

/* --- refusing ------------------------------------------------------------ */

static void
refuse (GtkWidget *spin, Number *number, const char *reason)
{
  number->refused = TRUE;
  dew_reason_say (spin, reason);
}

static void
accept (GtkWidget *spin, Number *number)
{
  number->refused = FALSE;
  g_clear_pointer (&number->typed, g_free);
  dew_reason_say (spin, NULL);
}

void
dew_number_refuse (GtkWidget *widget, const char *reason)
{
  Number *number = number_of (widget);
  g_autofree char *typed = NULL;

  g_return_if_fail (number != NULL && reason != NULL);

  typed
    = number->typed != NULL ? g_strdup (number->typed) : dew_unit_format (number->unit, number->si);
  number->si = number->before;
  show (widget, number);
  g_free (number->typed);
  number->typed = g_steal_pointer (&typed);
  refuse (widget, number, reason);
  show_text (widget, number, number->typed);
  gtk_editable_set_position (GTK_EDITABLE (widget), -1);
}

/* --- the spin button's own way -------------------------------------------- */

/* Text -> number. The spin button asks again when it loses the focus; text
 * that nobody touched must then give the exact value, else each visit would
 * round it. */
static int
on_input (GtkSpinButton *spin, double *shown, gpointer user_data)
{
  Number *number = user_data;
  const char *text = gtk_editable_get_text (GTK_EDITABLE (spin));
  g_autofree char *present = dew_unit_format (number->unit, number->si);
  g_autofree char *reason = NULL;
  double si = number->si;

  if (g_strcmp0 (text, present) == 0)
    {
      *shown = gtk_spin_button_get_value (spin);
      if (number->refused)
        accept (GTK_WIDGET (spin), number);
      return TRUE;
    }
  /* Asked again about what is refused already. */
  if (number->refused && g_strcmp0 (text, number->typed) == 0)
    return GTK_INPUT_ERROR;
  g_free (number->typed);
  number->typed = g_strdup (text);
  reason = dew_refusal_number (number->unit, text, number->min_si, number->max_si, &si);
  if (reason != NULL)
    {
      refuse (GTK_WIDGET (spin), number, reason);
      return GTK_INPUT_ERROR;
    }
  accept (GTK_WIDGET (spin), number);
  number->typed = g_strdup (text);
  *shown = dew_unit_shown (number->unit, si);
  return TRUE;
}

static gboolean
on_output (GtkSpinButton *spin, gpointer user_data)
{
  Number *number = user_data;
  double shown = gtk_adjustment_get_value (gtk_spin_button_get_adjustment (spin));
  g_autofree char *text = NULL;

  if (number->refused)
    return TRUE;
  text = dew_unit_format (number->unit, dew_unit_si (number->unit, shown));
  show_text (GTK_WIDGET (spin), number, text);
  return TRUE;
}

static void
on_value_changed (GtkSpinButton *spin, gpointer user_data)
{
  Number *number = user_data;
  double shown = gtk_spin_button_get_value (spin);

  /* The spin button also says this when it has put back what it had. */
  if (number->setting || shown == number->held)
    return;
  if (number->refused)
    accept (GTK_WIDGET (spin), number);
  number->before = number->si;
  number->held = shown;
  number->si = CLAMP (dew_unit_si (number->unit, shown), number->min_si, number->max_si);
  number->changed (GTK_WIDGET (spin), number->si, number->user_data);
  if (!number->refused)
    g_clear_pointer (&number->typed, g_free);
}

/* --- keys and focus -------------------------------------------------------- */

static void
restore (GtkWidget *spin, Number *number)
{
  accept (spin, number);
  show (spin, number);
}

static gboolean
differs (GtkWidget *spin, const Number *number)
{
  g_autofree char *present = dew_unit_format (number->unit, number->si);

  return g_strcmp0 (present, gtk_editable_get_text (GTK_EDITABLE (spin))) != 0;
}

/* Keys that would leave the field with what it cannot take in it. */
static gboolean
on_key (GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state,
        gpointer user_data)
{
  Number *number = user_data;
  GtkWidget *spin = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (keys));

  switch (key)
    {
    case GDK_KEY_Escape:
      if (!number->refused && !differs (spin, number))
        return FALSE;
      restore (spin, number);
      gtk_editable_select_region (GTK_EDITABLE (spin), 0, -1);
      return TRUE;
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
    case GDK_KEY_ISO_Enter:
    case GDK_KEY_Tab:
    case GDK_KEY_KP_Tab:
    case GDK_KEY_ISO_Left_Tab:
      gtk_spin_button_update (GTK_SPIN_BUTTON (spin));
      return number->refused;
    default:
      return FALSE;
    }
}

/* The reason of what was given up stays until something else is typed. */
static void
on_leave (GtkEventControllerFocus *focus, gpointer user_data)
{
  Number *number = user_data;
  GtkWidget *spin = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (focus));

  gtk_spin_button_update (GTK_SPIN_BUTTON (spin));
  if (!number->refused)
    return;
  number->refused = FALSE;
  g_clear_pointer (&number->typed, g_free);
  show (spin, number);
}

static void
on_typed (GtkEditable *editable, gpointer user_data)
{
  Number *number = user_data;
  GtkWidget *spin = GTK_WIDGET (editable);

  if (number->setting)
    return;
  if (number->refused && g_strcmp0 (gtk_editable_get_text (editable), number->typed) != 0)
    accept (spin, number);
  else if (!number->refused && dew_reason_said (spin) != NULL && differs (spin, number))
    dew_reason_say (spin, NULL);
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

/* --- the present system of units -------------------------------------------- */

static void
set_limits (GtkWidget *spin, Number *number)
{
  const DewUnit *unit = number->unit;

  number->setting = TRUE;
  gtk_adjustment_configure (gtk_spin_button_get_adjustment (GTK_SPIN_BUTTON (spin)),
                            dew_unit_shown (unit, number->si),
                            dew_unit_shown (unit, number->min_si),
                            dew_unit_shown (unit, number->max_si), unit->step, 10.0 * unit->step,
                            0.0);
  gtk_spin_button_set_digits (GTK_SPIN_BUTTON (spin), (guint) unit->decimals);
  number->setting = FALSE;
  number->held = gtk_spin_button_get_value (GTK_SPIN_BUTTON (spin));
}

static void
on_units (GtkWidget *spin)
{
  Number *number = number_of (spin);

  accept (spin, number);
  number->unit = dew_unit_in (number->unit, dew_tongue ());
  set_limits (spin, number);
  show (spin, number);
}

/* --- whole ------------------------------------------------------------------- */

GtkWidget *
dew_number_new (const DewUnit *unit, double min_si, double max_si, const char *name,
                DewNumberChanged changed, gpointer user_data)
{
  GtkWidget *spin = gtk_spin_button_new (NULL, 0.0, 0);
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();
  Number *number = g_new0 (Number, 1);

  number->unit = dew_unit_in (unit, dew_tongue ());
  number->min_si = min_si;
  number->max_si = max_si;
  number->changed = changed;
  number->user_data = user_data;
  number->si = number->before = min_si;
  g_object_set_data_full (G_OBJECT (spin), NUMBER_KEY, number, number_free);

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
  g_signal_connect (spin, "changed", G_CALLBACK (on_typed), number);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key), number);
  gtk_widget_add_controller (spin, keys);
  g_signal_connect (focus, "leave", G_CALLBACK (on_leave), number);
  gtk_widget_add_controller (spin, focus);
  drop_wheel (spin);
  set_limits (spin, number);
  show (spin, number);
  dew_tongue_connect (G_OBJECT (spin), G_CALLBACK (on_units));
  return spin;
}

void
dew_number_set (GtkWidget *widget, double si)
{
  Number *number = number_of (widget);

  g_return_if_fail (number != NULL);

  /* What is refused stays to be mended while the value it would change does. */
  if (number->refused && si == number->si)
    return;
  if (number->refused)
    accept (widget, number);
  number->si = si;
  show (widget, number);
}

double
dew_number_get (GtkWidget *widget)
{
  Number *number = number_of (widget);

  g_return_val_if_fail (number != NULL, NAN);
  return number->si;
}
