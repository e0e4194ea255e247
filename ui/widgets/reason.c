/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "widgets/reason.h"

#include "widgets/parts.h"

#define LINE_KEY "dew-reason-line"
#define SAID_KEY "dew-reason-said"

static void
on_line_gone (gpointer field, GObject *line)
{
  g_object_set_data (G_OBJECT (field), LINE_KEY, NULL);
}

static void
on_field_gone (gpointer line, GObject *field)
{
  g_object_weak_unref (G_OBJECT (line), on_line_gone, field);
}

GtkWidget *
dew_reason_new (GtkWidget *field)
{
  GtkWidget *line = dew_words_new (NULL, "reason");

  gtk_widget_set_visible (line, FALSE);
  dew_reason_share (field, line);
  return line;
}

void
dew_reason_share (GtkWidget *field, GtkWidget *line)
{
  g_object_set_data (G_OBJECT (field), LINE_KEY, line);
  g_object_weak_ref (G_OBJECT (line), on_line_gone, field);
  g_object_weak_ref (G_OBJECT (field), on_field_gone, line);
}

void
dew_reason_say (GtkWidget *field, const char *reason)
{
  GtkWidget *line = g_object_get_data (G_OBJECT (field), LINE_KEY);

  if (g_strcmp0 (reason, dew_reason_said (field)) == 0)
    return;
  g_object_set_data_full (G_OBJECT (field), SAID_KEY, g_strdup (reason), g_free);
  if (line != NULL)
    {
      gtk_label_set_text (GTK_LABEL (line), reason != NULL ? reason : "");
      gtk_widget_set_visible (line, reason != NULL);
    }
  else
    gtk_widget_set_tooltip_text (field, reason);
  if (reason != NULL)
    {
      gtk_widget_add_css_class (field, "refused");
      gtk_accessible_update_state (GTK_ACCESSIBLE (field), GTK_ACCESSIBLE_STATE_INVALID,
                                   GTK_ACCESSIBLE_INVALID_TRUE, -1);
      gtk_accessible_update_property (GTK_ACCESSIBLE (field), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                      reason, -1);
      g_debug ("refused: %s", reason);
    }
  else
    {
      gtk_widget_remove_css_class (field, "refused");
      gtk_accessible_reset_state (GTK_ACCESSIBLE (field), GTK_ACCESSIBLE_STATE_INVALID);
      gtk_accessible_reset_property (GTK_ACCESSIBLE (field), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION);
    }
}

const char *
dew_reason_said (GtkWidget *field)
{
  return g_object_get_data (G_OBJECT (field), SAID_KEY);
}
