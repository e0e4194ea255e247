/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A look at another layout: it is on the sheet with its own forecast, but not in
 * the document. */
#include "document/document-private.h"
#include "geometry/geometry.h"

static void
follow (DewDocument *self)
{
  g_autoptr (GArray) problems = dew_chamber_check (self->draft, self->draft->shown_variant);

  if (problems->len > 0)
    return;
  self->peek_strayed = TRUE;
  self->asked = dew_worker_ask (self->worker, DEW_WORK_FOLLOW, self->draft, self->night, FALSE);
}

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
  self->peek_follows = forecast == NULL;
  g_clear_pointer (&self->forecast, dew_forecast_unref);
  if (forecast == NULL)
    forecast = self->kept;
  if (forecast != NULL)
    self->forecast = dew_forecast_ref (forecast);
  self->lit_finding = -1;
  dew_document_take_draft (self, other);
  if (self->peek_follows)
    follow (self);
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
  gboolean strayed;

  g_return_if_fail (DEW_IS_DOCUMENT (self));

  if (!self->peeking)
    return;
  strayed = self->peek_strayed;
  dew_document_peek_drop (self);
  dew_document_take_draft (self, dew_chamber_copy (dew_history_present (self->history)));
  dew_document_keep_in_range (self);
  dew_document_emit (self, DEW_DOCUMENT_CHANGED);
  if (strayed)
    dew_document_ask (self, DEW_WORK_SETTLE);
  dew_document_settled_or_not (self);
}

void
dew_document_peek_drop (DewDocument *self)
{
  if (!self->peeking)
    return;
  self->peeking = self->peek_follows = self->peek_strayed = FALSE;
  g_clear_pointer (&self->forecast, dew_forecast_unref);
  self->forecast = g_steal_pointer (&self->kept);
  self->lit_finding = -1;
}

void
dew_document_peek_keep (DewDocument *self)
{
  self->peeking = self->peek_follows = self->peek_strayed = FALSE;
  g_clear_pointer (&self->kept, dew_forecast_unref);
}

void
dew_document_peek_swap (DewDocument *self)
{
  DewForecast *seen = self->forecast;

  if (!self->peeking || self->peek_follows)
    return;
  self->forecast = self->kept;
  self->kept = seen;
}
