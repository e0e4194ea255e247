/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The questions of a grower, each as a pane: it asks by itself as soon as it is seen,
 * says how far it is, can be stopped, and asks again when the enclosure has changed. An
 * answer that is pointed at or has the keyboard is looked at on the sheet
 * (dew_document_peek()); a click or Enter takes it, as one step that can be undone.
 *
 * To add a question: a file here that fills a DewQuestion (question.h), and its place in
 * the table of ask.c. Menus, actions and panes follow. */

#include "document/document.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef struct _DewAsk DewAsk; /* a question that is asked in a pane */
typedef struct _DewQuestion DewQuestion;

/* In the order in which an enclosure is made. */
guint dew_n_questions (void);
/* Of its action: "win.ask-fan". */
const char *dew_question_action (guint question);
/* Translated. */
const char *dew_question_title (guint question);

/* The pane; it owns the DewAsk. */
GtkWidget *dew_ask_new (DewDocument *document, guint question);
DewAsk *dew_ask_of (GtkWidget *pane);

/* Asks about this thing from now on, where it is one that the question can be about. */
void dew_ask_about (DewAsk *ask, const DewThing *thing);
/* Whether it is being worked on. */
gboolean dew_ask_running (DewAsk *ask);
/* What was found at the end, or NULL. */
gpointer dew_ask_result (DewAsk *ask);
/* What is asked, above the progress, and what was found, below it. */
GtkWidget *dew_ask_head (DewAsk *ask);
GtkWidget *dew_ask_body (DewAsk *ask);

G_END_DECLS
