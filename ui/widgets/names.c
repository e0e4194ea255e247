/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "widgets/names.h"

#include <string.h>

static void
set_label (GtkWidget *widget, const char *name)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

/* The row that a drop-down shows in its button counts as focusable, so that Tab
 * would stop twice, the second time at something without a name. */
static void
skip_shown_row (GtkWidget *widget)
{
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      if (strcmp (G_OBJECT_TYPE_NAME (child), "GtkListItemWidget") == 0)
        gtk_widget_set_focusable (child, FALSE);
      skip_shown_row (child);
    }
}

void
dew_name_widget (GtkWidget *widget, const char *name)
{
  set_label (widget, name);
  if (GTK_IS_DROP_DOWN (widget))
    {
      GtkWidget *button = gtk_widget_get_first_child (widget);

      set_label (button, name);
      skip_shown_row (button);
    }
}
