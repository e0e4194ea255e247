/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the parts of a question's pane share. */

#include "questions/question.h"

G_BEGIN_DECLS

#define DEW_ASK_KEY "dew-ask"

/* An answer that was taken, as the document was afterwards. */
typedef struct
{
  int answer;
  DewChamber *chamber;
} DewAskTaken;

struct _DewAsk
{
  DewDocument *document; /* lent: lives as long as the widgets */
  const DewQuestion *question;
  gpointer pane;
  DewWeights weights;

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

  GtkWidget *frame, *head, *strip, *bar, *doing, *note, *again, *body, *tail, *said;
  GPtrArray *rows; /* of the answers in the body; lent */
};

/* ask.c */
/* Whether the answers are about the document as it is, or as one of them made it. */
gboolean dew_ask_about_this (DewAsk *self);
/* The answer that the document is at: it was taken and not undone; or -1. */
int dew_ask_taken (DewAsk *self);
/* Asks now. */
void dew_ask_now (DewAsk *self);
/* As by the button. */
void dew_ask_stop (DewAsk *self);

/* frame.c */
void dew_ask_build (DewAsk *self);
/* Shows `result` in the place of what is shown; NULL: nothing any more. */
void dew_ask_show (DewAsk *self, gpointer result, gboolean final);
void dew_ask_note (DewAsk *self, const char *text);
void dew_ask_show_share (DewAsk *self, double share);
void dew_ask_update (DewAsk *self);

/* list.c */
/* Puts an answer on the sheet to be looked at; -1: none. */
void dew_ask_look (DewAsk *self, int answer);
/* The rows are about to be others: nothing of the old ones is looked at, now or soon. */
void dew_ask_leave (DewAsk *self);
/* The answer that the document is at says so. */
void dew_ask_mark_taken (DewAsk *self);

G_END_DECLS
