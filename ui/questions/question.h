/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What one question adds to the frame that all of them share: what it searches, and how
 * it shows what was found. */

#include "advice/objective.h"
#include "document/errand.h"
#include "questions/ask.h"

G_BEGIN_DECLS

/* What a search works on, in its thread. */
typedef struct
{
  DewChamber *chamber; /* a copy; its shown variant is meant */
  DewWeights weights;
  guint thing_id;           /* of what is asked about; 0: nothing in particular */
  gpointer more;            /* what else prepare() gives it */
  GDestroyNotify free_more; /* may be NULL */
} DewAskInput;

/* The strings are marked for translation. Members that may be NULL say so. */
struct _DewQuestion
{
  const char *action;
  const char *title;
  const char *purpose; /* a sentence under it */
  const char *busy;    /* "Trying places" */
  const char *step;    /* name of the undo step when an answer is taken */
  gboolean weighed;    /* a grower may say what matters */

  gsize pane_size;               /* of what the pane keeps (dew_ask_pane()), zeroed at first */
  void (*build) (DewAsk *ask);   /* adds to head and tail; NULL: nothing to add */
  void (*clear) (gpointer pane); /* frees what the pane keeps; NULL: nothing to free */
  void (*about) (DewAsk *ask, const DewThing *thing); /* see dew_ask_about(); may be NULL */

  /* Completes the input. FALSE when there is nothing to ask yet: then *why (transfer
   * full) tells what to do. NULL: there always is. */
  gboolean (*prepare) (DewAsk *ask, DewAskInput *input, char **why);
  DewErrandWork work; /* on a DewAskInput */
  GDestroyNotify free_result;
  /* Fills the empty body: with what there is so far, or at the end with what
   * dew_ask_result() gives from then on. */
  void (*show) (DewAsk *ask, gpointer result, gboolean final);
  /* What was shown is no answer any more. May be NULL. */
  void (*forget) (DewAsk *ask);
  /* The layout of an answer: applies it to `chamber`, a copy of what was asked about; its
   * forecast for day or night, lent, may be left NULL. FALSE: it cannot be looked at. */
  gboolean (*apply) (DewAsk *ask, int answer, DewChamber *chamber, gboolean night,
                     DewForecast **forecast);
  /* An answer is looked at, or none (-1). May be NULL. */
  void (*looked) (DewAsk *ask, int answer);
};

extern const DewQuestion dew_question_fan, dew_question_moisture, dew_question_plants,
  dew_question_cut, dew_question_suits, dew_question_heights, dew_question_light;

gpointer dew_ask_pane (DewAsk *ask);
DewDocument *dew_ask_document (DewAsk *ask);
/* Asks again, soon: what it depends on has changed. */
void dew_ask_again (DewAsk *ask);

/* --- what is shown ------------------------------------------------------- */

/* Below what was found, and kept while that comes and goes. */
GtkWidget *dew_ask_tail (DewAsk *ask);
/* Adds words to the body. */
void dew_ask_tell (DewAsk *ask, const char *text, const char *css_class);
/* The line under everything: "Tried 480 places in 6 s." */
void dew_ask_say (DewAsk *ask, const char *text);

/* A list of answers, which the caller puts into the body. */
GtkWidget *dew_ask_list_new (DewAsk *ask, const char *name);
/* number: 0 for none, else in a disc as on the sheet. Returns the box for words under the
 * title. */
GtkBox *dew_ask_list_add (GtkWidget *list, int answer, int number, const char *title);

/* --- words --------------------------------------------------------------- */

/* "+0.4", "−1.2", with the minus sign of typography; newly allocated. */
char *dew_ask_signed (double value, int digits);
/* What a difference of the objective (0..1, with its band) means against now, in
 * points of 100; newly allocated. */
char *dew_ask_gain_text (double gain, double band);

G_END_DECLS
