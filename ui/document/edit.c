/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "document/edit.h"

#include "document/document-private.h"

struct _DewEdit
{
  DewDocument *document;  /* lent; NULL: over */
  const DewChamber *seen; /* kept: as it was found, or as it was followed last */
  DewChamber *draft;      /* `seen` with what was changed since; NULL: nothing was */
  gboolean followed;
};

/* --- for the document --------------------------------------------------- */

const DewChamber *
dew_edit_shown (const DewEdit *edit)
{
  return edit->draft != NULL ? edit->draft : edit->seen;
}

gboolean
dew_document_in_hand (DewDocument *self)
{
  return self->edit != NULL && self->edit->followed;
}

void
dew_document_let_go (DewDocument *self)
{
  if (self->edit != NULL)
    self->edit->document = NULL;
  self->edit = NULL;
}

gboolean
dew_document_put_back (DewDocument *self)
{
  gboolean followed = dew_document_in_hand (self);

  dew_document_let_go (self);
  if (followed)
    dew_document_show_present (self);
  return followed;
}

/* --- public -------------------------------------------------------------- */

DewEdit *
dew_document_edit_begin (DewDocument *document)
{
  DewEdit *edit;

  g_return_val_if_fail (DEW_IS_DOCUMENT (document), NULL);
  g_return_val_if_fail (document->edit == NULL || document->edit->followed, NULL);

  if (document->history == NULL)
    return NULL;
  dew_document_put_back (document);
  /* Else what is only looked at would become part of the step. */
  dew_document_peek_end (document);
  edit = g_new0 (DewEdit, 1);
  edit->document = document;
  edit->seen = dew_chamber_keep (dew_history_present (document->history));
  document->edit = edit;
  return edit;
}

gboolean
dew_edit_is_open (const DewEdit *edit)
{
  return edit != NULL && edit->document != NULL;
}

const DewChamber *
dew_edit_before (DewEdit *edit)
{
  g_return_val_if_fail (dew_edit_is_open (edit), NULL);
  return dew_history_present (edit->document->history);
}

DewChamber *
dew_edit_chamber (DewEdit *edit)
{
  g_return_val_if_fail (dew_edit_is_open (edit), NULL);

  if (edit->draft == NULL)
    edit->draft = dew_chamber_copy (edit->seen);
  return edit->draft;
}

DewVariant *
dew_edit_variant (DewEdit *edit)
{
  DewChamber *chamber = dew_edit_chamber (edit);

  return chamber != NULL ? dew_chamber_shown (chamber) : NULL;
}

static void
see (DewEdit *edit, const DewChamber *chamber)
{
  dew_chamber_free (edit->seen);
  edit->seen = chamber;
}

/* From here on others may hold what was changed. */
static void
seal (DewEdit *edit)
{
  if (edit->draft != NULL)
    see (edit, dew_chamber_seal (g_steal_pointer (&edit->draft)));
}

void
dew_edit_restart (DewEdit *edit)
{
  g_return_if_fail (dew_edit_is_open (edit));

  g_clear_pointer (&edit->draft, dew_chamber_free);
  see (edit, dew_chamber_keep (dew_edit_before (edit)));
}

void
dew_edit_follow (DewEdit *edit)
{
  DewDocument *document;

  g_return_if_fail (dew_edit_is_open (edit));

  document = edit->document;
  seal (edit);
  edit->followed = TRUE;
  dew_document_look_at_bay_of (document, dew_document_selected (document));
  dew_document_emit (document, DEW_DOCUMENT_CHANGED);
  dew_document_ask (document, DEW_WORK_FOLLOW);
}

gboolean
dew_edit_commit (DewEdit *edit, const char *label, const char *merge_key)
{
  DewDocument *document;

  g_return_val_if_fail (dew_edit_is_open (edit) && label != NULL, FALSE);

  document = edit->document;
  seal (edit);
  dew_document_let_go (document);
  return dew_document_push (document, edit->seen, label, merge_key, edit->followed);
}

void
dew_edit_end (DewEdit *edit)
{
  if (edit == NULL)
    return;
  if (edit->document != NULL)
    dew_document_put_back (edit->document);
  dew_chamber_free (edit->draft);
  dew_chamber_free (edit->seen);
  g_free (edit);
}
