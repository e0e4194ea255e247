/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/viewbar.h"

#include "canvas/refusal.h"
#include "paint/palette.h"
#include "widgets/either.h"
#include "widgets/names.h"
#include "widgets/parts.h"
#include "widgets/reason.h"
#include "panes/surroundings.h"
#include "say/names.h"

#include <glib/gi18n.h>

/* In the order of what a grower asks first. */
static const DewValue values[] = {
  DEW_VALUE_RH,  DEW_VALUE_TEMPERATURE, DEW_VALUE_SPEED,   DEW_VALUE_AGE,
  DEW_VALUE_VPD, DEW_VALUE_MIST,        DEW_VALUE_WETTING, DEW_VALUE_PPFD,
};

typedef struct
{
  DewDocument *document; /* lent: lives as long as the widgets */
  GtkWidget *toggles[G_N_ELEMENTS (values)];
  GtkWidget *drop; /* the same choice where there is less room */
  GtkWidget *day, *night;
  GtkWidget *month;
  gboolean filling;
} Viewbar;

static void
on_toggled (GtkToggleButton *toggle, gpointer user_data)
{
  Viewbar *self = user_data;

  if (self->filling || !gtk_toggle_button_get_active (toggle))
    return;
  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    {
      if (self->toggles[i] == GTK_WIDGET (toggle))
        dew_document_colour_by (self->document, values[i]);
    }
}

static void
on_dropped (GtkDropDown *drop, GParamSpec *pspec, gpointer user_data)
{
  Viewbar *self = user_data;
  guint selected = gtk_drop_down_get_selected (drop);

  if (!self->filling && selected < G_N_ELEMENTS (values))
    dew_document_colour_by (self->document, values[selected]);
}

static void
on_night (GtkToggleButton *toggle, gpointer user_data)
{
  Viewbar *self = user_data;

  if (!self->filling)
    dew_document_set_night (self->document, gtk_toggle_button_get_active (toggle));
}

static void
on_month (GtkDropDown *drop, GParamSpec *pspec, gpointer user_data)
{
  Viewbar *self = user_data;
  guint selected = gtk_drop_down_get_selected (drop);

  if (!self->filling && selected < 12)
    dew_document_set_month (self->document, (int) selected);
}

static void
fill (Viewbar *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);

  self->filling = TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    {
      if (values[i] != dew_document_coloured (self->document))
        continue;
      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->toggles[i]), TRUE);
      gtk_drop_down_set_selected (GTK_DROP_DOWN (self->drop), i);
    }
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (dew_document_night (self->document) ? self->night
                                                                                       : self->day),
                                TRUE);
  if (chamber != NULL)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->month), (guint) chamber->month);
  self->filling = FALSE;
}

static GtkWidget *
toggle_new (const char *label, GtkWidget *group)
{
  GtkWidget *toggle = gtk_toggle_button_new_with_label (label);

  gtk_button_set_has_frame (GTK_BUTTON (toggle), FALSE);
  gtk_widget_add_css_class (toggle, "choice");
  if (group != NULL)
    gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (toggle), GTK_TOGGLE_BUTTON (group));
  return toggle;
}

static GtkWidget *
values_new (Viewbar *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 2);
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    {
      const char *label = dew_value_label (values[i]);

      self->toggles[i] = toggle_new (label, i > 0 ? self->toggles[0] : NULL);
      gtk_box_append (GTK_BOX (row), self->toggles[i]);
      gtk_string_list_append (names, label);
      g_signal_connect (self->toggles[i], "toggled", G_CALLBACK (on_toggled), self);
    }
  self->drop = gtk_drop_down_new (G_LIST_MODEL (g_steal_pointer (&names)), NULL);
  gtk_widget_set_halign (self->drop, GTK_ALIGN_START);
  gtk_widget_add_css_class (self->drop, "quiet");
  dew_name_widget (self->drop, _ ("What is coloured"));
  g_signal_connect (self->drop, "notify::selected", G_CALLBACK (on_dropped), self);
  return dew_either_new (row, self->drop);
}

static GtkWidget *
month_new (Viewbar *self)
{
  const char *names[13];

  for (int month = 0; month < 12; month++)
    names[month] = dew_month_name (month);
  names[12] = NULL;
  self->month = gtk_drop_down_new_from_strings (names);
  gtk_widget_add_css_class (self->month, "quiet");
  dew_name_widget (self->month, _ ("Month"));
  g_signal_connect (self->month, "notify::selected", G_CALLBACK (on_month), self);
  return self->month;
}

GtkWidget *
dew_viewbar_new (DewDocument *document)
{
  GtkWidget *bar = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4);
  GtkWidget *choice;
  Viewbar *self = g_new0 (Viewbar, 1);

  self->document = document;
  g_object_set_data_full (G_OBJECT (bar), "dew-viewbar", self, g_free);
  gtk_widget_add_css_class (bar, "viewbar");

  self->filling = TRUE;
  choice = values_new (self);
  gtk_widget_set_hexpand (choice, TRUE);
  gtk_box_append (GTK_BOX (bar), choice);
  self->day = toggle_new (_ ("Day"), NULL);
  self->night = toggle_new (_ ("Night"), self->day);
  gtk_widget_add_css_class (self->day, "apart");
  g_signal_connect (self->night, "toggled", G_CALLBACK (on_night), self);
  gtk_box_append (GTK_BOX (bar), self->day);
  gtk_box_append (GTK_BOX (bar), self->night);
  gtk_box_append (GTK_BOX (bar), month_new (self));
  self->filling = FALSE;

  dew_follow (document, "view", G_CALLBACK (fill), self, bar);
  dew_follow (document, "changed", G_CALLBACK (fill), self, bar);
  fill (self);
  return bar;
}

/* --- variants ---------------------------------------------------------- */

typedef struct
{
  DewDocument *document; /* lent: lives as long as the widgets */
  GtkWidget *button;
  GtkWidget *popover;
  GtkWidget *list;
  GtkWidget *name;
  GtkWidget *remove;
  gboolean filling;
} Variants;

static void
on_variant_activated (GtkListBox *list, GtkListBoxRow *row, gpointer user_data)
{
  Variants *self = user_data;

  gtk_popover_popdown (GTK_POPOVER (self->popover));
  dew_document_show_variant (self->document,
                             GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (row), "dew-id")));
}

static void
on_variant_name (GtkEditable *editable, gpointer user_data)
{
  Variants *self = user_data;
  const char *text = gtk_editable_get_text (editable);
  g_autofree char *refusal = NULL;

  if (self->filling)
    return;
  refusal = dew_refusal_name (text, DEW_NAME_SIZE);
  dew_reason_say (self->name, refusal);
  if (refusal == NULL)
    dew_document_rename_variant (self->document, text);
}

static void
on_copy (GtkButton *button, gpointer user_data)
{
  Variants *self = user_data;

  dew_document_copy_variant (self->document);
}

static void
on_remove (GtkButton *button, gpointer user_data)
{
  Variants *self = user_data;

  dew_document_remove_variant (self->document);
}

static void
fill_variants (Variants *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);

  if (chamber == NULL)
    return;
  self->filling = TRUE;
  dew_empty (self->list);
  for (guint i = 0; i < chamber->variants->len; i++)
    {
      const DewVariant *variant = &g_array_index (chamber->variants, DewVariant, i);
      GtkWidget *row = dew_row_new (dew_words_new (variant->name, NULL), variant->name);

      g_object_set_data (G_OBJECT (row), "dew-id", GUINT_TO_POINTER (variant->id));
      gtk_list_box_append (GTK_LIST_BOX (self->list), row);
      if (variant->id != chamber->shown_variant)
        continue;
      gtk_list_box_select_row (GTK_LIST_BOX (self->list), GTK_LIST_BOX_ROW (row));
      gtk_menu_button_set_label (GTK_MENU_BUTTON (self->button), variant->name);
      if (g_strcmp0 (gtk_editable_get_text (GTK_EDITABLE (self->name)), variant->name) != 0)
        gtk_editable_set_text (GTK_EDITABLE (self->name), variant->name);
    }
  gtk_widget_set_sensitive (self->remove, chamber->variants->len > 1);
  self->filling = FALSE;
}

/* A name that was refused goes with the list. */
static void
on_closed (Variants *self)
{
  dew_reason_say (self->name, NULL);
  fill_variants (self);
}

static GtkWidget *
plain_button_new (const char *label, GCallback clicked, Variants *self)
{
  GtkWidget *button = dew_way_new (label, NULL, NULL);

  gtk_widget_set_halign (button, GTK_ALIGN_FILL);
  g_signal_connect (button, "clicked", clicked, self);
  return button;
}

GtkWidget *
dew_variant_chooser_new (DewDocument *document)
{
  Variants *self = g_new0 (Variants, 1);
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);

  self->document = document;
  self->button = gtk_menu_button_new ();
  g_object_set_data_full (G_OBJECT (self->button), "dew-variants", self, g_free);
  self->list = gtk_list_box_new ();
  dew_name_widget (self->list, _ ("Variants"));
  g_signal_connect (self->list, "row-activated", G_CALLBACK (on_variant_activated), self);
  self->name = gtk_entry_new ();
  dew_name_widget (self->name, _ ("Name of the variant shown"));
  g_signal_connect (self->name, "changed", G_CALLBACK (on_variant_name), self);
  gtk_box_append (GTK_BOX (column), self->list);
  gtk_box_append (GTK_BOX (column), self->name);
  gtk_box_append (GTK_BOX (column), dew_reason_new (self->name));
  gtk_box_append (GTK_BOX (column),
                  plain_button_new (_ ("Add a copy of this one"), G_CALLBACK (on_copy), self));
  self->remove = plain_button_new (_ ("Remove this one"), G_CALLBACK (on_remove), self);
  gtk_box_append (GTK_BOX (column), self->remove);

  self->popover = gtk_popover_new ();
  gtk_popover_set_child (GTK_POPOVER (self->popover), column);
  g_signal_connect_swapped (self->popover, "closed", G_CALLBACK (on_closed), self);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (self->button), self->popover);
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (self->button), FALSE);
  gtk_widget_add_css_class (self->button, "variant");
  gtk_widget_set_tooltip_text (self->button, _ ("Variants of this enclosure"));

  dew_follow (document, "changed", G_CALLBACK (fill_variants), self, self->button);
  fill_variants (self);
  return self->button;
}
