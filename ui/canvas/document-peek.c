/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A look at another layout: it is on the sheet with its own forecast, but not in
 * the document, and nothing is forecast for it. */
#include "canvas/document-private.h"

void
dew_document_peek (DewDocument *self, DewChamber *other, DewForecast *forecast)
{
  g_return_if_fail (DEW_IS_DOCUMENT (self) && other != NULL);

  /* Who drags something does not want it to vanish from the hand. */
  if (self->history == NULL || self->dragging)
    {
      dew_chamber_free (other);
      return;
    }
  if (!self->peeking)
    self->kept = g_steal_pointer (&self->forecast);
  self->peeking = TRUE;
  g_clear_pointer (&self->forecast, dew_forecast_unref);
  if (forecast == NULL)
    forecast = self->kept;
  if (forecast != NULL)
    self->forecast = dew_forecast_ref (forecast);
  self->lit_finding = -1;
  dew_document_take_draft (self, other);
  dew_document_emit (self, DEW_DOCUMENT_CHANGED);
  dew_document_settled_or_not (self);
}

gboolean
dew_document_peeking (DewDocument *self)
{
  g_return_val_if_fail (DEW_IS_DOCUMENT (self), FALSE);
  return self->peeking;
}

void
dew_document_peek_end (DewDocument *self)
{
  g_return_if_fail (DEW_IS_DOCUMENT (self));

  if (!self->peeking)
    return;
  dew_document_peek_drop (self);
  dew_document_take_draft (self, dew_chamber_copy (dew_history_present (self->history)));
  dew_document_keep_in_range (self);
  dew_document_emit (self, DEW_DOCUMENT_CHANGED);
  dew_document_settled_or_not (self);
}

void
dew_document_peek_drop (DewDocument *self)
{
  if (!self->peeking)
    return;
  self->peeking = FALSE;
  g_clear_pointer (&self->forecast, dew_forecast_unref);
  self->forecast = g_steal_pointer (&self->kept);
  self->lit_finding = -1;
}

void
dew_document_peek_keep (DewDocument *self)
{
  self->peeking = FALSE;
  g_clear_pointer (&self->kept, dew_forecast_unref);
}

void
dew_document_peek_swap (DewDocument *self)
{
  DewForecast *seen = self->forecast;

  if (!self->peeking)
    return;
  self->forecast = self->kept;
  self->kept = seen;
}
