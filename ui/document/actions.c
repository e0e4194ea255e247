/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whole actions on a document, each one undo step. */
#include "document/edit.h"

#include "edit/place.h"

#include <glib/gi18n.h>

guint
dew_document_add (DewDocument *self, DewThingKind kind)
{
  g_autoptr (DewEdit) edit = dew_document_edit_begin (self);
  g_autofree char *label = NULL;
  DewChamber *chamber;
  DewVariant *variant;
  DewThing thing, *added;
  guint id;

  g_return_val_if_fail (edit != NULL, 0);

  chamber = dew_edit_chamber (edit);
  variant = dew_edit_variant (edit);
  dew_thing_place (chamber, variant, kind, dew_document_plan_bay (self), &thing);
  added = dew_variant_add (chamber, variant, &thing);
  id = added->id;
  label = g_strdup_printf (_ ("Add %s"), added->name);
  dew_edit_commit (edit, label, NULL);
  dew_document_select (self, id);
  return id;
}

void
dew_document_remove (DewDocument *self, guint id)
{
  g_autoptr (DewEdit) edit = dew_document_edit_begin (self);
  const DewThing *thing = edit != NULL ? dew_variant_thing (dew_document_variant (self), id) : NULL;
  g_autofree char *label = NULL;

  if (thing == NULL)
    return;
  label = g_strdup_printf (_ ("Remove %s"), thing->name);
  dew_variant_remove (dew_edit_variant (edit), id);
  dew_edit_commit (edit, label, NULL);
}

void
dew_document_show_variant (DewDocument *self, guint variant_id)
{
  g_autoptr (DewEdit) edit = dew_document_edit_begin (self);

  if (edit == NULL || variant_id == 0 || dew_edit_before (edit)->shown_variant == variant_id
      || dew_chamber_variant (dew_edit_before (edit), variant_id) == NULL)
    return;
  dew_edit_chamber (edit)->shown_variant = variant_id;
  dew_edit_commit (edit, _ ("Look at another variant"), "look");
}

void
dew_document_copy_variant (DewDocument *self)
{
  g_autoptr (DewEdit) edit = dew_document_edit_begin (self);
  g_autofree char *name = NULL;
  DewChamber *chamber;

  if (edit == NULL)
    return;
  chamber = dew_edit_chamber (edit);
  name = g_strdup_printf (_ ("Copy of %s"), dew_edit_variant (edit)->name);
  chamber->shown_variant = dew_chamber_add_variant (chamber, name, dew_edit_variant (edit))->id;
  dew_edit_commit (edit, _ ("Copy variant"), NULL);
}

void
dew_document_rename_variant (DewDocument *self, const char *name)
{
  g_autoptr (DewEdit) edit = dew_document_edit_begin (self);

  if (edit == NULL || *name == '\0')
    return;
  dew_name_set (dew_edit_variant (edit)->name, name);
  dew_edit_commit (edit, _ ("Rename variant"), "rename-variant");
}

void
dew_document_remove_variant (DewDocument *self)
{
  g_autoptr (DewEdit) edit = dew_document_edit_begin (self);
  const DewVariant *heir;
  DewChamber *chamber;
  guint gone;

  if (edit == NULL || dew_edit_before (edit)->variants->len < 2)
    return;
  chamber = dew_edit_chamber (edit);
  gone = chamber->shown_variant;
  heir = &g_array_index (chamber->variants, DewVariant, 0);
  if (heir->id == gone)
    heir = &g_array_index (chamber->variants, DewVariant, 1);
  chamber->shown_variant = heir->id;
  dew_chamber_remove_variant (chamber, gone);
  dew_edit_commit (edit, _ ("Remove variant"), NULL);
}

void
dew_document_set_month (DewDocument *self, int month)
{
  g_autoptr (DewEdit) edit = NULL;

  g_return_if_fail (month >= 0 && month < 12);

  edit = dew_document_edit_begin (self);
  if (edit == NULL || dew_edit_before (edit)->month == month)
    return;
  dew_edit_chamber (edit)->month = month;
  dew_edit_commit (edit, _ ("Look at another month"), "month");
}
