/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What all panes that ask for advice share: they ask by themselves as soon as
 * they are seen, say how far they are, can be stopped, ask again when the
 * enclosure has changed, and show a list of answers. An answer that is pointed at
 * or has the keyboard is looked at on the sheet (dew_document_peek()); a click or
 * Enter takes it, as one step that can be undone. */

#include "document/document.h"
#include "document/errand.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef struct _DewAsk DewAsk;

/* One question. The strings are marked for translation. */
typedef struct
{
  const char *title;
  const char *purpose; /* a sentence under it; may be NULL */
  const char *busy;    /* "Trying places" */
  const char *step;    /* name of the undo step when an answer is taken */

  /* What the errand works on (transfer full), from dew_ask_base(). NULL when there
   * is nothing to ask yet: then *why (transfer full) tells what to do. */
  gpointer (*prepare) (DewAsk *ask, gpointer pane, char **why);
  DewErrandWork work;
  GDestroyNotify free_input, free_result;
  /* Shows what there is: `result` (lent; until the next call) on the way or at the
   * end. NULL: nothing any more. */
  void (*show) (DewAsk *ask, gpointer result, gboolean final, gpointer pane);
  /* The layout of an answer (transfer full): dew_ask_base() with it applied; its
   * forecast for day or night, lent, may be NULL. NULL: it cannot be looked at. */
  DewChamber *(*layout) (DewAsk *ask, int answer, gboolean night, DewForecast **forecast,
                         gpointer pane);
  /* An answer is looked at, or none (-1). May be NULL. */
  void (*looked) (DewAsk *ask, int answer, gpointer pane);
} DewAskKind;

/* The frame is the widget; `pane` is freed with it by `free_pane`. */
GtkWidget *dew_ask_new (DewDocument *document, const DewAskKind *kind, gpointer pane,
                        GDestroyNotify free_pane);
DewAsk *dew_ask_of (GtkWidget *frame);

DewDocument *dew_ask_document (DewAsk *ask);
/* The document as it was when the question was asked. Lent; NULL before. */
const DewChamber *dew_ask_base (DewAsk *ask);
/* What was found at the end, or NULL. */
gpointer dew_ask_result (DewAsk *ask);
/* Whether it is being worked on. */
gboolean dew_ask_running (DewAsk *ask);
/* Boxes for what a pane shows: above the progress (what is asked) and below it. */
GtkBox *dew_ask_head (DewAsk *ask);
GtkBox *dew_ask_body (DewAsk *ask);
/* Asks again, soon: what it depends on has changed. */
void dew_ask_again (DewAsk *ask);
/* The line under the progress: "Tried 480 places in 6 s." */
void dew_ask_say (DewAsk *ask, const char *text);
/* An answer becomes part of the document: one undo step. FALSE when nothing changes, as
 * for an answer to an earlier question that is still in sight. */
gboolean dew_ask_take (DewAsk *ask, int answer);

/* --- answers ------------------------------------------------------------- */

/* A list of answers; `name` for screen readers. */
GtkWidget *dew_ask_list_new (DewAsk *ask, const char *name);
void dew_ask_list_clear (GtkWidget *list);
/* number: 0 for none, else in a disc as on the sheet. `words` (floating, may be NULL)
 * stands under the title. */
void dew_ask_list_add (GtkWidget *list, int answer, int number, const char *title,
                       GtkWidget *words);

/* --- words --------------------------------------------------------------- */

GtkWidget *dew_ask_label_new (const char *text, const char *css_class); /* wraps */
/* "+0.4", "−1.2", with the minus sign of typography; newly allocated. */
char *dew_ask_signed (double value, int digits);
/* What a difference of the objective (0..1, with its band) means against now, in
 * points of 100; newly allocated. */
char *dew_ask_gain_text (double gain, double band);
/* A paragraph each, of a NULL-terminated array; `box` may be empty afterwards. */
void dew_ask_add_lines (GtkBox *box, char *const *lines, const char *css_class);
void dew_ask_empty_box (GtkBox *box);

G_END_DECLS
