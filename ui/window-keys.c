/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window-private.h"

#define KEYS_RESOURCE "/garden/dewtier/Dewtier/keys.ui"

void
dew_window_show_keys (DewWindow *self)
{
  g_autoptr (GtkBuilder) builder = gtk_builder_new_from_resource (KEYS_RESOURCE);
  GtkWidget *keys = GTK_WIDGET (gtk_builder_get_object (builder, "keys"));

  gtk_window_set_transient_for (GTK_WINDOW (keys), GTK_WINDOW (self));
  gtk_window_set_destroy_with_parent (GTK_WINDOW (keys), TRUE);
  gtk_window_present (GTK_WINDOW (keys));
}
