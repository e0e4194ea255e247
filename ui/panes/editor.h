/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Forms that are made from the field tables of the document. */

#include "document/edit.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* What is edited: finds the record in a document each time, as it moves when things come
 * and go; NULL when it is gone. */
typedef gconstpointer (*DewRecordFinder) (const DewChamber *chamber, gpointer user_data);

typedef struct _DewForm DewForm;

/* A form for `fields` (ended by a NULL key) of a record. `merge` tells apart
 * what is edited, so that repeated changes of one number become one undo step;
 * `what` is for the words of that step ("Fan"). `work_title` stands above what
 * is neither place nor size, and may be NULL. The widget owns the form.
 * `also` (may be NULL) is called after each change with its edit, before that is committed; `was`
 * is the number that the field had (NAN for what is no number). A number that would make the layout
 * impossible is refused at its field. */
typedef void (*DewFormAlso) (DewEdit *edit, const DewField *field, double was, gpointer user_data);
GtkWidget *dew_form_new (DewDocument *document, const DewField *fields, DewRecordFinder find,
                         DewFormAlso also, gpointer user_data, const char *merge, const char *what,
                         const char *work_title);
/* Shows the record's present values again. */
void dew_form_refresh (GtkWidget *form);
/* Gives the keyboard to the first number. */
void dew_form_focus (GtkWidget *form);
/* The entry of one field, or NULL. */
GtkWidget *dew_form_widget (GtkWidget *form, const char *key);

/* The whole pane for one thing: name, catalogue, numbers, what the air is like
 * there, removal. */
GtkWidget *dew_thing_editor_new (DewDocument *document, guint thing_id);
void dew_thing_editor_focus (GtkWidget *editor);
GtkWidget *dew_thing_editor_widget (GtkWidget *editor, const char *key);

G_END_DECLS
