/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the parts of the frame share. */

#include "questions/frame.h"

G_BEGIN_DECLS

#define DEW_ASK_KEY "dew-ask"
#define DEW_ASK_ANSWER "dew-answer" /* of a row: which answer it is */
#define DEW_ASK_MARK "dew-taken"    /* of a row: what shows when the document is at it */

/* An answer that was taken, as the document was afterwards. */
typedef struct
{
  int answer;
  DewChamber *chamber;
} DewAskTaken;

struct _DewAsk
{
  DewDocument *document; /* lent: lives as long as the widgets */
  const DewAskKind *kind;
  gpointer pane;
  GDestroyNotify free_pane;

  DewErrand *errand;
  DewChamber *base;
  GArray *taken;   /* DewAskTaken */
  gpointer result; /* final */
  gboolean fits;   /* the result is about the base; an older one is only to be seen */
  int looking;     /* answer that is looked at; -1: none */
  int hovered;
  guint calm, linger; /* sources */
  gboolean stopped;   /* by hand: not asked again by itself */
  gboolean failed;
  gboolean ours; /* the document changes by our own hand */

  GtkWidget *frame, *head, *strip, *bar, *doing, *note, *again, *said, *body;
  GPtrArray *lists; /* lent */
};

/* ask-frame.c */
/* Whether the answers are about the document as it is, or as one of them made it. */
gboolean dew_ask_about_this (DewAsk *self);
/* The answer that the document is at says so. */
void dew_ask_mark_taken (DewAsk *self);

/* ask-list.c */
/* Puts an answer on the sheet to be looked at; -1: none. */
void dew_ask_look (DewAsk *self, int answer);

G_END_DECLS
