/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What of a document is looked at: the selection, what is coloured, day or
 * night, the bay of the plan, the lit finding. None of it is saved or undone. */
#include "document/document-private.h"
#include "geometry/geometry.h"

#include <string.h>

/* --- the selection ----------------------------------------------------- */

guint
dew_document_selected (DewDocument *self)
{
  g_return_val_if_fail (DEW_IS_DOCUMENT (self), 0);
  return self->selection->len > 0 ? g_array_index (self->selection, guint, self->selection->len - 1)
                                  : 0;
}

const guint *
dew_document_selection (DewDocument *self, guint *n)
{
  g_return_val_if_fail (DEW_IS_DOCUMENT (self) && n != NULL, NULL);
  *n = self->selection->len;
  return (const guint *) (gpointer) self->selection->data;
}

static gboolean
find (DewDocument *self, guint id, guint *at)
{
  for (guint i = 0; i < self->selection->len; i++)
    {
      if (g_array_index (self->selection, guint, i) == id)
        {
          *at = i;
          return TRUE;
        }
    }
  return FALSE;
}

gboolean
dew_document_is_selected (DewDocument *self, guint id)
{
  guint at;

  g_return_val_if_fail (DEW_IS_DOCUMENT (self), FALSE);
  return find (self, id, &at);
}

static void
selection_changed (DewDocument *self)
{
  guint last = dew_document_selected (self);

  g_debug ("selected: thing %u", last);
  if (self->selection->len > 1)
    g_debug ("selected: %u things", self->selection->len);
  dew_document_look_at_bay_of (self, last);
  dew_document_emit (self, DEW_DOCUMENT_SELECTED);
}

void
dew_document_select (DewDocument *self, guint id)
{
  dew_document_select_set (self, &id, id != 0 ? 1 : 0);
}

void
dew_document_select_add (DewDocument *self, guint id)
{
  guint at;

  g_return_if_fail (DEW_IS_DOCUMENT (self) && id != 0);
  if (find (self, id, &at))
    {
      if (at == self->selection->len - 1)
        return;
      g_array_remove_index (self->selection, at);
    }
  g_array_append_val (self->selection, id);
  selection_changed (self);
}

void
dew_document_select_toggle (DewDocument *self, guint id)
{
  guint at;

  g_return_if_fail (DEW_IS_DOCUMENT (self) && id != 0);
  if (!find (self, id, &at))
    {
      dew_document_select_add (self, id);
      return;
    }
  g_array_remove_index (self->selection, at);
  selection_changed (self);
}

void
dew_document_select_set (DewDocument *self, const guint *ids, guint n)
{
  g_return_if_fail (DEW_IS_DOCUMENT (self) && (ids != NULL || n == 0));
  if (n == self->selection->len
      && (n == 0 || memcmp (ids, self->selection->data, n * sizeof *ids) == 0))
    return;
  g_array_set_size (self->selection, 0);
  if (n > 0)
    g_array_append_vals (self->selection, ids, n);
  selection_changed (self);
}

static void
drop_gone (DewDocument *self)
{
  const DewVariant *variant = dew_document_variant (self);
  guint before = self->selection->len;

  for (guint i = self->selection->len; i > 0; i--)
    {
      if (dew_variant_thing (variant, g_array_index (self->selection, guint, i - 1)) == NULL)
        g_array_remove_index (self->selection, i - 1);
    }
  if (self->selection->len != before)
    dew_document_emit (self, DEW_DOCUMENT_SELECTED);
}

void
dew_document_keep_in_range (DewDocument *self)
{
  g_autofree double *z_m = NULL;
  int n_bays
    = dew_variant_bays (dew_document_chamber (self), dew_document_variant (self), &z_m, NULL);

  self->plan_bay = CLAMP (self->plan_bay, 0, n_bays - 1);
  drop_gone (self);
}

/* --- looking ----------------------------------------------------------- */

void
dew_document_look_at_bay_of (DewDocument *self, guint id)
{
  const DewVariant *variant = dew_document_variant (self);
  const DewThing *thing = variant != NULL ? dew_variant_thing (variant, id) : NULL;
  const DewChamber *chamber = dew_document_chamber (self);
  double lo[3], hi[3];

  if (thing == NULL)
    return;
  dew_thing_box (chamber, thing, lo, hi);
  dew_document_set_plan_bay (self, dew_variant_bay_at (chamber, variant, (lo[2] + hi[2]) / 2.0));
}

DewValue
dew_document_coloured (DewDocument *self)
{
  return self->coloured;
}

void
dew_document_colour_by (DewDocument *self, DewValue value)
{
  if (self->coloured == value)
    return;
  self->coloured = value;
  dew_document_emit (self, DEW_DOCUMENT_VIEW);
}

gboolean
dew_document_night (DewDocument *self)
{
  return self->night;
}

void
dew_document_set_night (DewDocument *self, gboolean night)
{
  if (self->night == !!night)
    return;
  self->night = !!night;
  dew_document_emit (self, DEW_DOCUMENT_VIEW);
  dew_document_ask (self, DEW_WORK_SETTLE);
}

int
dew_document_plan_bay (DewDocument *self)
{
  return self->plan_bay;
}

void
dew_document_set_plan_bay (DewDocument *self, int bay)
{
  if (self->plan_bay == bay || bay < 0)
    return;
  self->plan_bay = bay;
  dew_document_emit (self, DEW_DOCUMENT_VIEW);
}

int
dew_document_lit_finding (DewDocument *self)
{
  return self->lit_finding;
}

const DewMeritMap *
dew_document_merit (DewDocument *self)
{
  return self->merit;
}

void
dew_document_show_merit (DewDocument *self, const DewMeritMap *merit)
{
  g_return_if_fail (DEW_IS_DOCUMENT (self));

  if (self->merit == NULL && merit == NULL)
    return;
  self->merit = merit;
  dew_document_emit (self, DEW_DOCUMENT_VIEW);
}

void
dew_document_light_finding (DewDocument *self, int finding)
{
  if (self->lit_finding == finding)
    return;
  self->lit_finding = finding;
  dew_document_emit (self, DEW_DOCUMENT_VIEW);
}
