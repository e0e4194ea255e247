/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Carrying a new thing in from the tray. */
#include "canvas/canvas-private.h"

#include "edit/place.h"

#include <glib/gi18n.h>

static void
carry_out (DewCanvas *self)
{
  if (self->edit == NULL)
    return;
  self->moving = FALSE;
  dew_document_select (self->document, 0);
  g_clear_pointer (&self->edit, dew_edit_end);
}

void
dew_canvas_carry (DewCanvas *self, DewThingKind kind, double x, double y)
{
  DewChamber *chamber;
  DewVariant *variant;
  DewThing thing, *added;
  DewView view;
  double at_m[2];
  DewSheetLayout layout;
  int bay;
  guint id;

  g_return_if_fail (DEW_IS_CANVAS (self));

  if (dew_document_chamber (self->document) == NULL)
    return;
  if (!self->carrying)
    {
      dew_canvas_end_entry (self, TRUE);
      dew_document_peek_end (self->document);
      self->carrying = TRUE;
    }
  bay = dew_layout_plan_at (&self->layout, x, y);
  dew_canvas_layout_of (self, bay, &layout);
  if (x < 0.0 || y < 0.0 || x > self->layout.width || y > self->layout.height
      || !dew_layout_view_at (&layout, x, y, &view)
      || !dew_layout_to_world (&layout, view, x, y, at_m))
    {
      carry_out (self);
      return;
    }
  if (self->edit == NULL)
    self->edit = dew_document_edit_begin (self->document);
  dew_edit_restart (self->edit);
  chamber = dew_edit_chamber (self->edit);
  variant = dew_edit_variant (self->edit);
  dew_thing_init (&thing, kind);
  g_strlcpy (thing.name, dew_thing_kind_label (kind), sizeof thing.name);
  dew_variant_free_name (variant, thing.name);
  dew_thing_drop (chamber, variant, &thing, view, at_m,
                  bay >= 0 ? bay : dew_document_plan_bay (self->document));
  added = dew_variant_add (chamber, variant, &thing);
  id = added->id;
  {
    /* It is pulled to edges, middles and gaps like anything else that moves. */
    const DewDrag drag = { .grip = { DEW_GRIP_BODY, view, id },
                           .from_m = { at_m[0], at_m[1] },
                           .to_m = { at_m[0], at_m[1] },
                           .snap_m = DEW_SNAP_PX / dew_layout_view_scale (&layout, view) };

    dew_chamber_drag (chamber, &drag, &self->guides);
  }
  self->moving = TRUE;
  self->hit.thing_id = id;
  dew_edit_follow (self->edit);
  dew_document_select (self->document, id);
}

void
dew_canvas_carry_end (DewCanvas *self)
{
  g_autoptr (DewEdit) edit = NULL;
  const DewThing *thing;
  guint id;

  g_return_if_fail (DEW_IS_CANVAS (self));

  if (!self->carrying)
    return;
  edit = g_steal_pointer (&self->edit);
  id = self->hit.thing_id;
  dew_canvas_end_drag (self);
  if (edit == NULL)
    return;
  thing = dew_variant_thing (dew_document_variant (self->document), id);
  if (thing != NULL)
    {
      g_autofree char *label = g_strdup_printf (_ ("Add %s"), thing->name);

      dew_edit_commit (edit, label, NULL);
      dew_document_select (self->document, id);
      dew_canvas_focus_thing (self, id);
    }
}
