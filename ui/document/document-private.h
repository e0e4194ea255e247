/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the parts of the document share: its state, and what only they call. */

#include "document/document.h"
#include "document/edit.h"
#include "document/worker.h"

G_BEGIN_DECLS

struct _DewDocument
{
  GObject parent_instance;

  DewStore *store;
  DewHistory *history;
  DewEdit *edit;            /* lent by who makes it; NULL: none is open */
  const DewChamber *looked; /* kept: another layout that is looked at; NULL: none is */
  DewWorker *worker;

  DewForecast *forecast;
  DewForecast *kept; /* of the document, while another layout is looked at */
  char *obstacle;    /* why there is none */
  guint obstacle_id;
  char *state;
  guint asked;    /* serial of the newest request */
  guint answered; /* serial the forecast belongs to */
  guint busy_source;

  GArray *selection; /* guint, ids; the last is the one whose numbers are shown */
  DewValue coloured;
  int plan_bay;
  int lit_finding;
  const DewMeritMap *merit; /* lent */

  guint night : 1;
  guint peek_follows : 1; /* what is looked at is being followed by the worker */
  guint peek_strayed : 1; /* the worker has left the document for a look */
  guint busy : 1;         /* long enough to say so */
  guint blocked : 1;      /* what is seen cannot be forecast: answers are about an older one */
};

/* Signals, in the order of their names. */
typedef enum
{
  DEW_DOCUMENT_CHANGED,
  DEW_DOCUMENT_SELECTED,
  DEW_DOCUMENT_FORECAST,
  DEW_DOCUMENT_VIEW,
  DEW_DOCUMENT_HISTORY,
  DEW_DOCUMENT_TROUBLE,
  DEW_DOCUMENT_N_SIGNALS
} DewDocumentSignal;

/* document.c */
void dew_document_emit (DewDocument *self, DewDocumentSignal which);
/* Asks for a forecast of what is to be seen, or says at once why there can be none. */
void dew_document_ask (DewDocument *self, DewWork work);

/* Tells everyone of the forecast and of the words for its state. */
void dew_document_settled_or_not (DewDocument *self);
/* Shows the present of the undo list, and asks for its forecast. */
void dew_document_show_present (DewDocument *self);
/* `next` becomes the present, as one step, and is saved; FALSE when it changes nothing or
 * cannot be taken. `followed`: it was shown before, so that all is told in any case. */
gboolean dew_document_push (DewDocument *self, const DewChamber *next, const char *label,
                            const char *merge_key, gboolean followed);

/* edit.c */
/* What is to be seen of an edit (lent). */
const DewChamber *dew_edit_shown (const DewEdit *edit);
/* Whether an edit has been followed. */
gboolean dew_document_in_hand (DewDocument *self);
/* The open edit is over, without a word. */
void dew_document_let_go (DewDocument *self);
/* It is over, and what was followed is shown as it was; whether there was any. */
gboolean dew_document_put_back (DewDocument *self);

/* peek.c */
/* Back to the document's own forecast, without a word. */
void dew_document_peek_drop (DewDocument *self);
/* What is looked at becomes the document's own. */
void dew_document_peek_keep (DewDocument *self);
/* Exchanges the forecast that is seen and the one that waits, if one is looked at. */
void dew_document_peek_swap (DewDocument *self);

/* view.c */
/* Nothing that is gone stays selected or looked at. */
void dew_document_keep_in_range (DewDocument *self);
/* The plan shows the bay in which the selected thing is. */
void dew_document_look_at_bay_of (DewDocument *self, guint id);

G_END_DECLS
