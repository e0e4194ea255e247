/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The menus in the head. Everything that can be done is in one of them. */
#include "window/window-private.h"

#include "paint/palette.h"
#include "widgets/either.h"
#include "widgets/names.h"
#include "pages/recent.h"
#include "questions/ask.h"

#include <glib/gi18n.h>

#define NAME_CHARS 26
#define LEAST_NAME_CHARS 6
#define RECENT_SHOWN 8

typedef struct
{
  const char *label;  /* NULL: a new section begins */
  const char *action; /* with its target, as g_menu_append() takes it */
  const char *accel;  /* shown only: the key belongs to another widget; or NULL */
} Entry;

/* clang-format off */
static const Entry edit_entries[] = {
  { N_("Undo"), "win.undo", "<Control>z" },
  { N_("Redo"), "win.redo", "<Control><Shift>z" },
  { NULL, NULL, NULL },
  { N_("Cut"), "win.cut", "<Control>x" },
  { N_("Copy"), "win.copy", "<Control>c" },
  { N_("Paste"), "win.paste", "<Control>v" },
  { N_("Duplicate"), "win.duplicate", "<Control>d" },
  { N_("Remove"), "win.delete", "Delete" },
  { NULL, NULL, NULL },
  { N_("Select all"), "win.select-all", "<Control>a" },
  { N_("Select nothing"), "win.select-none", NULL },
};

static const Entry align_entries[] = {
  { N_("Left edges"), "win.align-left", NULL },
  { N_("Middles, left to right"), "win.align-middle-across", NULL },
  { N_("Right edges"), "win.align-right", NULL },
  { NULL, NULL, NULL },
  { N_("Front edges"), "win.align-front", NULL },
  { N_("Middles, front to back"), "win.align-middle-deep", NULL },
  { N_("Back edges"), "win.align-back", NULL },
  { NULL, NULL, NULL },
  { N_("Tops"), "win.align-top", NULL },
  { N_("Middles, up and down"), "win.align-middle-high", NULL },
  { N_("Bottoms"), "win.align-bottom", NULL },
};

static const Entry gap_entries[] = {
  { N_("From left to right"), "win.distribute-across", NULL },
  { N_("From front to back"), "win.distribute-deep", NULL },
  { N_("Up and down"), "win.distribute-high", NULL },
};

static const Entry view_entries[] = {
  { N_("Zoom in"), "win.zoom-in", "<Control>plus" },
  { N_("Zoom out"), "win.zoom-out", "<Control>minus" },
  { N_("Whole drawing"), "win.zoom-fit", "<Control>0" },
  { N_("Full screen"), "win.full-screen", NULL },
  { NULL, NULL, NULL },
  { N_("Plan of the shelf, large"), "win.large-plan", NULL },
  { N_("Side view in place of the plans"), "win.side-view", NULL },
  { NULL, NULL, NULL },
  { N_("Shelves and what to look at"), "win.show-bays", NULL },
  { N_("Enclosure and cover"), "win.show-enclosure", NULL },
  { N_("Room it stands in"), "win.show-room", NULL },
  { NULL, NULL, NULL },
  { N_("Night"), "win.night", NULL },
  { N_("Still picture"), "win.still", NULL },
  { N_("Whole useful scale of colours"), "win.fixed-scale", NULL },
};

static const Entry units_entries[] = {
  { N_("As the desktop’s region has them"), "win.units::locale", NULL },
  { N_("Centimetres and °C"), "win.units::metric", NULL },
  { N_("Inches and °F"), "win.units::imperial", NULL },
};

static const Entry help_entries[] = {
  { N_("How to use this"), "win.help", NULL },
  { N_("A short tour"), "win.tour", NULL },
  { N_("Keys"), "win.keys", NULL },
  { NULL, NULL, NULL },
  { N_("Cautions"), "win.cautions", NULL },
};

static const Entry document_entries[] = {
  { N_("New enclosure…"), "win.new", NULL },
  { N_("Open…"), "win.open", NULL },
  { N_("All enclosures"), "win.start", NULL },
};

static const Entry paper_entries[] = {
  { N_("Name and note"), "win.name", NULL },
  { N_("Save a copy…"), "win.save-copy", NULL },
  { N_("Open its folder"), "win.open-folder", NULL },
  { NULL, NULL, NULL },
  { N_("Save as a picture…"), "win.export", NULL },
  { N_("Save a picture for a message…"), "win.export-card", NULL },
  { N_("Save the build sheet…"), "win.export-build", NULL },
  { N_("Save labels for pots…"), "win.export-labels", NULL },
  { NULL, NULL, NULL },
  { N_("Print…"), "win.print", NULL },
  { N_("Print the build sheet…"), "win.print-build", NULL },
  { N_("Print labels for pots…"), "win.print-labels", NULL },
  { NULL, NULL, NULL },
  { N_("New window"), "app.new-window", NULL },
  { N_("Close"), "window.close", NULL },
  { N_("Quit"), "app.quit", NULL },
};
/* clang-format on */

/* In the order of what a grower asks first. */
static const DewValue colours[] = {
  DEW_VALUE_RH,  DEW_VALUE_TEMPERATURE, DEW_VALUE_SPEED,   DEW_VALUE_AGE,
  DEW_VALUE_VPD, DEW_VALUE_MIST,        DEW_VALUE_WETTING, DEW_VALUE_PPFD,
};

/* --- menus from tables -------------------------------------------------- */

static void
fill (GMenu *menu, const Entry *entries, guint n)
{
  g_autoptr (GMenu) section = g_menu_new ();

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (GMenuItem) item = NULL;

      if (entries[i].label == NULL)
        {
          g_menu_append_section (menu, NULL, G_MENU_MODEL (section));
          g_object_unref (section);
          section = g_menu_new ();
          continue;
        }
      item = g_menu_item_new (_ (entries[i].label), entries[i].action);
      if (entries[i].accel != NULL)
        g_menu_item_set_attribute (item, "accel", "s", entries[i].accel);
      g_menu_append_item (section, item);
    }
  g_menu_append_section (menu, NULL, G_MENU_MODEL (section));
}

static GMenu *
menu_new (const Entry *entries, guint n)
{
  GMenu *menu = g_menu_new ();

  fill (menu, entries, n);
  return menu;
}

#define MENU(entries) menu_new (entries, G_N_ELEMENTS (entries))

static void
append_submenu (GMenu *menu, const char *label, GMenu *submenu /* taken */)
{
  g_menu_append_submenu (menu, label, G_MENU_MODEL (submenu));
  g_object_unref (submenu);
}

static GMenu *
colour_menu_new (void)
{
  GMenu *menu = g_menu_new ();

  for (guint i = 0; i < G_N_ELEMENTS (colours); i++)
    {
      g_autoptr (GMenuItem) item = g_menu_item_new (dew_value_label (colours[i]), NULL);

      g_menu_item_set_action_and_target (item, "win.colour", "i", (int) colours[i]);
      g_menu_append_item (menu, item);
    }
  return menu;
}

static GMenu *
add_menu_new (void)
{
  GMenu *menu = g_menu_new ();

  for (int kind = 0; kind < DEW_N_THING_KINDS; kind++)
    {
      g_autoptr (GMenuItem) item
        = g_menu_item_new (dew_thing_kind_label ((DewThingKind) kind), NULL);

      g_menu_item_set_action_and_target (item, "win.add", "i", kind);
      g_menu_append_item (menu, item);
    }
  return menu;
}

static GMenu *
edit_menu_new (void)
{
  GMenu *menu = g_menu_new ();
  g_autoptr (GMenu) first = g_menu_new ();
  g_autoptr (GMenu) several = g_menu_new ();

  append_submenu (first, _ ("Add"), add_menu_new ());
  g_menu_append_section (menu, NULL, G_MENU_MODEL (first));
  fill (menu, edit_entries, G_N_ELEMENTS (edit_entries));
  append_submenu (several, _ ("Line up"), MENU (align_entries));
  append_submenu (several, _ ("Make gaps equal"), MENU (gap_entries));
  g_menu_append_section (menu, NULL, G_MENU_MODEL (several));
  return menu;
}

static GMenu *
view_menu_new (void)
{
  GMenu *menu = MENU (view_entries);
  g_autoptr (GMenu) choices = g_menu_new ();

  append_submenu (choices, _ ("What is coloured"), colour_menu_new ());
  append_submenu (choices, _ ("Units"), MENU (units_entries));
  g_menu_append_section (menu, NULL, G_MENU_MODEL (choices));
  return menu;
}

static GMenu *
ask_menu_new (void)
{
  GMenu *menu = g_menu_new ();
  g_autoptr (GMenu) questions = g_menu_new (), compare = g_menu_new ();

  for (guint i = 0; i < dew_n_questions (); i++)
    g_menu_append (questions, dew_question_title (i), dew_question_action (i));
  g_menu_append (compare, _ ("Compare variants"), "win.compare");
  g_menu_append (compare, _ ("Day, year and mishaps"), "win.hours");
  g_menu_append (compare, _ ("Readings and journal"), "win.readings");
  g_menu_append_section (menu, NULL, G_MENU_MODEL (questions));
  g_menu_append_section (menu, NULL, G_MENU_MODEL (compare));
  return menu;
}

/* --- buttons ------------------------------------------------------------ */

/* The toolkit leaves the keyboard in the folded page of a menu that has closed, where
 * every key is lost. It goes back to the button, from where Tab and all keys work. */
static void
on_menu_closed (GtkWidget *button)
{
  GtkRoot *root = gtk_widget_get_root (button);
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;
  GtkWidget *menu = GTK_WIDGET (gtk_menu_button_get_popover (GTK_MENU_BUTTON (button)));

  if (focus != NULL && gtk_widget_is_ancestor (focus, menu))
    gtk_widget_grab_focus (button);
}

static GtkWidget *
menu_button_new (const char *label, GMenu *menu /* taken */)
{
  GtkWidget *button = gtk_menu_button_new ();

  gtk_menu_button_set_label (GTK_MENU_BUTTON (button), label);
  gtk_menu_button_set_use_underline (GTK_MENU_BUTTON (button), TRUE);
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (button), G_MENU_MODEL (menu));
  g_signal_connect_swapped (gtk_menu_button_get_popover (GTK_MENU_BUTTON (button)), "closed",
                            G_CALLBACK (on_menu_closed), button);
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (button), FALSE);
  gtk_widget_add_css_class (button, "word-menu");
  g_object_unref (menu);
  return button;
}

GtkWidget *
dew_window_menus (void)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GMenu *all = g_menu_new ();
  GtkWidget *folded;

  append_submenu (all, _ ("_Edit"), edit_menu_new ());
  append_submenu (all, _ ("_View"), view_menu_new ());
  append_submenu (all, _ ("_Ask"), ask_menu_new ());
  append_submenu (all, _ ("_Help"), MENU (help_entries));

  gtk_box_append (GTK_BOX (row), menu_button_new (_ ("_Edit"), edit_menu_new ()));
  gtk_box_append (GTK_BOX (row), menu_button_new (_ ("_View"), view_menu_new ()));
  gtk_box_append (GTK_BOX (row), menu_button_new (_ ("_Ask"), ask_menu_new ()));
  gtk_box_append (GTK_BOX (row), menu_button_new (_ ("_Help"), MENU (help_entries)));
  folded = menu_button_new (_ ("M_ore"), all);
  gtk_widget_set_halign (folded, GTK_ALIGN_END);
  return dew_either_new (row, folded);
}

GtkWidget *
dew_window_document_button (DewWindow *self)
{
  GtkWidget *button = gtk_menu_button_new ();
  g_autoptr (GMenu) menu = MENU (document_entries);
  g_autoptr (GMenu) recent = g_menu_new ();

  self->recent = g_menu_new ();
  g_menu_append_submenu (recent, _ ("Recent"), G_MENU_MODEL (self->recent));
  g_menu_append_section (menu, NULL, G_MENU_MODEL (recent));
  fill (menu, paper_entries, G_N_ELEMENTS (paper_entries));
  dew_window_fill_recent (self);

  self->name = gtk_label_new ("Dewtier");
  gtk_label_set_ellipsize (GTK_LABEL (self->name), PANGO_ELLIPSIZE_END);
  gtk_label_set_width_chars (GTK_LABEL (self->name), LEAST_NAME_CHARS);
  gtk_label_set_max_width_chars (GTK_LABEL (self->name), NAME_CHARS);
  gtk_menu_button_set_child (GTK_MENU_BUTTON (button), self->name);
  gtk_menu_button_set_always_show_arrow (GTK_MENU_BUTTON (button), TRUE);
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (button), G_MENU_MODEL (menu));
  g_signal_connect_swapped (gtk_menu_button_get_popover (GTK_MENU_BUTTON (button)), "closed",
                            G_CALLBACK (on_menu_closed), button);
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (button), FALSE);
  /* F10 opens it. */
  gtk_menu_button_set_primary (GTK_MENU_BUTTON (button), TRUE);
  gtk_widget_add_css_class (button, "document");
  dew_name_widget (button, _ ("Enclosure"));
  dew_name_widget (gtk_widget_get_first_child (button), _ ("Enclosure"));
  return button;
}

/* An underscore would be taken for the mark of a key. */
static char *
menu_label (const char *path)
{
  g_autofree char *name = g_filename_display_basename (path);
  g_autoptr (GString) label = g_string_new (name);

  g_string_replace (label, "_", "__", 0);
  return g_string_free (g_steal_pointer (&label), FALSE);
}

void
dew_window_fill_recent (DewWindow *self)
{
  g_auto (GStrv) paths = dew_recent_paths (RECENT_SHOWN);

  g_menu_remove_all (self->recent);
  for (guint i = 0; paths[i] != NULL; i++)
    {
      g_autofree char *label = menu_label (paths[i]);
      g_autoptr (GMenuItem) item = g_menu_item_new (label, NULL);

      g_menu_item_set_action_and_target (item, "win.open-file", "s", paths[i]);
      g_menu_append_item (self->recent, item);
    }
  /* There is no such action, so the line is grey. */
  if (paths[0] == NULL)
    g_menu_append (self->recent, _ ("Nothing yet"), "win.no-recent");
}
