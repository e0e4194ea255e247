/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whole actions on a document, each one undo step, made of the public steps of
 * an edit. */
#include "document/document.h"

#include "canvas/place.h"

#include <glib/gi18n.h>

guint
dew_document_add (DewDocument *self, DewThingKind kind)
{
  DewChamber *draft = dew_document_draft (self);
  DewVariant *variant = dew_document_variant (self);
  g_autofree char *label = NULL;
  DewThing thing, *added;
  guint id;

  g_return_val_if_fail (variant != NULL, 0);

  dew_place_new_thing (draft, variant, kind, dew_document_plan_bay (self), &thing);
  added = dew_variant_add (draft, variant, &thing);
  id = added->id;
  label = g_strdup_printf (_ ("Add %s"), added->name);
  dew_document_commit (self, label, NULL);
  dew_document_select (self, id);
  return id;
}

void
dew_document_remove (DewDocument *self, guint id)
{
  DewVariant *variant = dew_document_variant (self);
  DewThing *thing = variant != NULL ? dew_variant_thing (variant, id) : NULL;
  g_autofree char *label = NULL;

  if (thing == NULL)
    return;
  label = g_strdup_printf (_ ("Remove %s"), thing->name);
  dew_variant_remove (variant, id);
  dew_document_commit (self, label, NULL);
}

void
dew_document_show_variant (DewDocument *self, guint variant_id)
{
  DewChamber *draft = dew_document_draft (self);

  if (draft == NULL || draft->shown_variant == variant_id
      || dew_chamber_variant (draft, variant_id) == NULL)
    return;
  draft->shown_variant = variant_id;
  dew_document_commit (self, _ ("Look at another variant"), "look");
}

void
dew_document_copy_variant (DewDocument *self)
{
  DewChamber *draft = dew_document_draft (self);
  DewVariant *shown = dew_document_variant (self);
  g_autofree char *name = NULL;
  DewVariant *copy;

  if (shown == NULL)
    return;
  name = g_strdup_printf (_ ("Copy of %s"), shown->name);
  copy = dew_chamber_add_variant (draft, name, shown);
  draft->shown_variant = copy->id;
  dew_document_commit (self, _ ("Copy variant"), NULL);
}

void
dew_document_rename_variant (DewDocument *self, const char *name)
{
  DewChamber *draft = dew_document_draft (self);
  DewVariant *shown = draft != NULL ? dew_chamber_shown (draft) : NULL;

  if (shown == NULL || *name == '\0')
    return;
  dew_name_set (shown->name, name);
  dew_document_commit (self, _ ("Rename variant"), "rename-variant");
}

void
dew_document_remove_variant (DewDocument *self)
{
  DewChamber *draft = dew_document_draft (self);
  const DewVariant *heir;
  guint gone;

  if (draft == NULL || draft->variants->len < 2)
    return;
  gone = draft->shown_variant;
  heir = &g_array_index (draft->variants, DewVariant, 0);
  if (heir->id == gone)
    heir = &g_array_index (draft->variants, DewVariant, 1);
  draft->shown_variant = heir->id;
  dew_chamber_remove_variant (draft, gone);
  dew_document_commit (self, _ ("Remove variant"), NULL);
}

void
dew_document_set_month (DewDocument *self, int month)
{
  DewChamber *draft = dew_document_draft (self);

  g_return_if_fail (month >= 0 && month < 12);

  if (draft == NULL || draft->month == month)
    return;
  draft->month = month;
  dew_document_commit (self, _ ("Look at another month"), "month");
}
