/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "widgets/drop.h"

#include "widgets/names.h"

/* Longer lists can be searched by typing. */
#define SEARCH_FROM 12

/* What had to be cut off on the button, as the list has it. */
static gboolean
on_query_tooltip (GtkWidget *label, int x, int y, gboolean by_keyboard, GtkTooltip *tooltip,
                  gpointer user_data)
{
  gtk_tooltip_set_text (tooltip, gtk_label_get_text (GTK_LABEL (label)));
  return pango_layout_is_ellipsized (gtk_label_get_layout (GTK_LABEL (label)));
}

static void
on_setup (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer user_data)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  if (GPOINTER_TO_INT (user_data))
    {
      gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
      gtk_label_set_width_chars (GTK_LABEL (label), 4);
      gtk_widget_set_has_tooltip (label, TRUE);
      g_signal_connect (label, "query-tooltip", G_CALLBACK (on_query_tooltip), NULL);
    }
  gtk_list_item_set_child (item, label);
}

static void
on_bind (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer user_data)
{
  GtkStringObject *string = gtk_list_item_get_item (item);

  gtk_label_set_text (GTK_LABEL (gtk_list_item_get_child (item)),
                      gtk_string_object_get_string (string));
}

static GtkListItemFactory *
factory_new (gboolean cut)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();

  g_signal_connect (factory, "setup", G_CALLBACK (on_setup), GINT_TO_POINTER (cut));
  g_signal_connect (factory, "bind", G_CALLBACK (on_bind), NULL);
  return factory;
}

GtkWidget *
dew_drop_new (GtkStringList *names, const char *spoken)
{
  GtkWidget *drop
    = gtk_drop_down_new (names != NULL ? G_LIST_MODEL (names) : NULL,
                         gtk_property_expression_new (GTK_TYPE_STRING_OBJECT, NULL, "string"));
  g_autoptr (GtkListItemFactory) button = factory_new (TRUE);
  g_autoptr (GtkListItemFactory) list = factory_new (FALSE);

  gtk_drop_down_set_factory (GTK_DROP_DOWN (drop), button);
  gtk_drop_down_set_list_factory (GTK_DROP_DOWN (drop), list);
  gtk_drop_down_set_enable_search (GTK_DROP_DOWN (drop),
                                   names != NULL
                                     && g_list_model_get_n_items (G_LIST_MODEL (names))
                                          > SEARCH_FROM);
  dew_name_widget (drop, spoken);
  return drop;
}
