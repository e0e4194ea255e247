/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The pane on the right: what it shows follows what is selected. */

#include "document/document.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef enum
{
  DEW_PANE_BAYS,
  DEW_PANE_THING,
  DEW_PANE_ENCLOSURE,
  DEW_PANE_ROOM,
  DEW_PANE_ASK /* and the number of the question */
} DewPaneContent;

#define DEW_TYPE_PANE (dew_pane_get_type ())
G_DECLARE_FINAL_TYPE (DewPane, dew_pane, DEW, PANE, GtkWidget)

GtkWidget *dew_pane_new (DewDocument *document);
/* Not for DEW_PANE_THING: select one instead. */
void dew_pane_show (DewPane *self, DewPaneContent content);
/* Another enclosure is open: forgets what was asked about the one before. */
void dew_pane_start_over (DewPane *self);
DewPaneContent dew_pane_content (DewPane *self);
/* What is shown there now: an editor, the overview, a pane that asks. Lent. */
GtkWidget *dew_pane_child (DewPane *self);
/* Gives the keyboard to the first number of what is shown. */
void dew_pane_focus_numbers (DewPane *self);
/* The editor of the selected thing, or NULL. */
GtkWidget *dew_pane_editor (DewPane *self);

G_END_DECLS
