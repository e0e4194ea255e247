/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A look at another layout: it is on the sheet with its own forecast, but not in
 * the document. */
#include "document/document-private.h"
#include "geometry/geometry.h"

static void
follow (DewDocument *self)
{
  g_autoptr (GArray) problems = dew_chamber_check (self->looked, self->looked->shown_variant);

  if (problems->len > 0)
    return;
  self->peek_strayed = TRUE;
  self->asked = dew_worker_ask (self->worker, DEW_WORK_FOLLOW, self->looked, self->night, FALSE);
}

void
dew_document_peek (DewDocument *self, DewChamber *other, DewForecast *forecast)
{
  g_return_if_fail (DEW_IS_DOCUMENT (self) && other != NULL);

  /* Who drags something does not want it to vanish from the hand. */
  if (self->history == NULL || self->edit != NULL)
    {
      dew_chamber_free (other);
      return;
    }
  if (self->looked == NULL)
    self->kept = g_steal_pointer (&self->forecast);
  dew_chamber_free (self->looked);
  self->looked = dew_chamber_seal (other);
  self->peek_follows = forecast == NULL;
  g_clear_pointer (&self->forecast, dew_forecast_unref);
  if (forecast == NULL)
    forecast = self->kept;
  if (forecast != NULL)
    self->forecast = dew_forecast_ref (forecast);
  self->lit_finding = -1;
  if (self->peek_follows)
    follow (self);
  dew_document_emit (self, DEW_DOCUMENT_CHANGED);
  dew_document_settled_or_not (self);
}

gboolean
dew_document_peeking (DewDocument *self)
{
  g_return_val_if_fail (DEW_IS_DOCUMENT (self), FALSE);
  return self->looked != NULL;
}

void
dew_document_peek_end (DewDocument *self)
{
  gboolean strayed;

  g_return_if_fail (DEW_IS_DOCUMENT (self));

  if (self->looked == NULL)
    return;
  strayed = self->peek_strayed;
  dew_document_peek_drop (self);
  dew_document_keep_in_range (self);
  dew_document_emit (self, DEW_DOCUMENT_CHANGED);
  if (strayed)
    dew_document_ask (self, DEW_WORK_SETTLE);
  dew_document_settled_or_not (self);
}

void
dew_document_peek_drop (DewDocument *self)
{
  if (self->looked == NULL)
    return;
  g_clear_pointer (&self->looked, dew_chamber_free);
  self->peek_follows = self->peek_strayed = FALSE;
  g_clear_pointer (&self->forecast, dew_forecast_unref);
  self->forecast = g_steal_pointer (&self->kept);
  self->lit_finding = -1;
}

gboolean
dew_document_peek_take (DewDocument *self, const char *label)
{
  const DewChamber *looked;
  gboolean taken;

  g_return_val_if_fail (DEW_IS_DOCUMENT (self) && label != NULL, FALSE);

  if (self->looked == NULL)
    return FALSE;
  looked = dew_chamber_keep (self->looked);
  dew_document_peek_keep (self);
  taken = dew_document_push (self, looked, label, NULL, FALSE);
  dew_chamber_free (looked);
  return taken;
}

void
dew_document_peek_keep (DewDocument *self)
{
  g_clear_pointer (&self->looked, dew_chamber_free);
  self->peek_follows = self->peek_strayed = FALSE;
  g_clear_pointer (&self->kept, dew_forecast_unref);
}

void
dew_document_peek_swap (DewDocument *self)
{
  DewForecast *seen = self->forecast;

  if (self->looked == NULL || self->peek_follows)
    return;
  self->forecast = self->kept;
  self->kept = seen;
}
