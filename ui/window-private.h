/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window.h"

G_BEGIN_DECLS

struct _DewWindow
{
  GtkApplicationWindow parent_instance;

  DewDocument *document;
  GtkWidget   *stack; /* the sheet with its panes, or a page of words */
  GtkWidget   *canvas;
  GtkWidget   *pane;
  GtkWidget   *name;  /* menu button: the document */
  GtkWidget   *state;
  GtkWidget   *undo;
  GtkWidget   *redo;
  GtkWidget   *trouble; /* info bar */
  GtkWidget   *trouble_title;
  GtkWidget   *trouble_detail;

  gboolean     told_unsaved; /* at an attempt to close */

  GtkNativeDialog *chooser; /* a chooser vanishes without a reference to it */
};

/* window-actions.c */
void dew_window_install_actions (GtkWidgetClass *widget_class);
void dew_window_update_actions  (DewWindow *self);
void dew_window_add_still       (DewWindow *self);

G_END_DECLS
