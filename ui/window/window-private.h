/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/window.h"

G_BEGIN_DECLS

struct _DewWindow
{
  GtkApplicationWindow parent_instance;

  DewDocument *document;
  GtkWidget *stack; /* the sheet with its panes, or a page of words */
  GtkWidget *tray;
  GtkWidget *canvas;
  GtkWidget *pane;
  GtkWidget *name; /* in the head: what the document is called */
  GtkWidget *variants;
  GtkWidget *state;
  GtkWidget *undo;
  GtkWidget *redo;
  GtkWidget *trouble; /* info bar */
  GtkWidget *trouble_title;
  GtkWidget *trouble_detail;
  GtkWidget *trouble_button; /* what can be done about it */
  GtkWidget *hint;           /* a line that goes by itself */
  guint hint_source;
  GMenu *recent;

  GtkWidget *left; /* had the keyboard before a page was shown; weak */

  gboolean told_unsaved; /* at an attempt to close */

  GtkNativeDialog *chooser; /* a chooser vanishes without a reference to it */
};

/* window.c */
/* Says in a bar what went wrong, with a button that does something about it;
 * label and action may be NULL. */
void dew_window_tell_with (DewWindow *self, const char *title, const char *detail,
                           const char *label, const char *action);
/* A quiet line over the sheet that goes after some seconds. */
void dew_window_hint (DewWindow *self, const char *words);
/* "sheet", "start", "new", "tour", "help", "keys" or "cautions"; what is not there yet is
 * made. */
void dew_window_show_page (DewWindow *self, const char *page);
gboolean dew_window_on_sheet (DewWindow *self);

/* window-actions.c */
void dew_window_install_actions (GtkWidgetClass *widget_class);
void dew_window_update_actions (DewWindow *self);
/* The actions that have a state: still, full-screen, night, colour, fixed-scale,
 * units. */
void dew_window_add_states (DewWindow *self);
void dew_window_update_states (DewWindow *self);

/* window-files.c */
void dew_window_install_file_actions (GtkWidgetClass *widget_class);
/* Writes a new document with `chamber` under a free name into the folder of
 * documents and opens it. */
gboolean dew_window_create (DewWindow *self, const DewChamber *chamber);
/* Lets files be dropped onto `widget`. */
void dew_window_accept_files (DewWindow *self, GtkWidget *widget);

/* A chooser that begins in the folder used last; self->chooser keeps it. */
GtkFileChooserNative *dew_window_chooser_new (DewWindow *self, const char *title,
                                              GtkFileChooserAction action, const char *accept);
void dew_window_add_filter (GtkFileChooserNative *chooser, const char *name,
                            const char *const *suffixes);
/* Offers a name for the file: `name` without what no file may be called. */
void dew_window_suggest (GtkFileChooserNative *chooser, const char *name, const char *suffix);
/* The chosen path, or NULL for anything but "accept". Ends the chooser. */
char *dew_window_chosen_path (DewWindow *self, int response);

/* window-paper.c */
void dew_window_install_paper_actions (GtkWidgetClass *widget_class);

/* window-edit.c: what the drawing can do, for menus that are outside it. */
void dew_window_install_edit_actions (GtkWidgetClass *widget_class);
void dew_window_update_edit_actions (DewWindow *self);

/* window-menu.c */
GtkWidget *dew_window_document_button (DewWindow *self);
/* Edit, View, Ask and Help beside each other, or one menu with all of them where
 * there is less room. */
GtkWidget *dew_window_menus (void);
void dew_window_fill_recent (DewWindow *self);

/* window-ask.c */
void dew_window_install_ask_actions (GtkWidgetClass *widget_class);

/* menu.c: what can be coloured, in the order of what a grower asks first; Alt and 1 to 8. */
#define DEW_WINDOW_COLOURS 8
extern const DewValue dew_window_colours[DEW_WINDOW_COLOURS];

G_END_DECLS
