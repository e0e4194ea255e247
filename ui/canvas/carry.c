/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Carrying a new thing in from the tray. */
#include "canvas/canvas-private.h"

#include "canvas/place.h"

#include <glib/gi18n.h>

static void
carry_out (DewCanvas *self)
{
  if (!self->carried_in)
    return;
  self->carried_in = FALSE;
  self->moving = FALSE;
  dew_document_select (self->document, 0);
  dew_document_revert (self->document);
}

void
dew_canvas_carry (DewCanvas *self, DewThingKind kind, double x, double y)
{
  DewVariant *variant;
  DewThing thing, *added;
  g_autoptr (DewChamber) draft = NULL;
  DewView view;
  double at_m[2];
  guint id;

  g_return_if_fail (DEW_IS_CANVAS (self));

  if (dew_document_chamber (self->document) == NULL)
    return;
  if (!self->carrying)
    {
      dew_canvas_end_entry (self, TRUE);
      self->carrying = TRUE;
      self->origin = dew_chamber_copy (dew_document_draft (self->document));
    }
  if (x < 0.0 || y < 0.0 || x > self->layout.width || y > self->layout.height
      || !dew_layout_view_at (&self->layout, x, y, &view)
      || !dew_layout_to_world (&self->layout, view, x, y, at_m))
    {
      carry_out (self);
      return;
    }
  draft = dew_chamber_copy (self->origin);
  variant = dew_chamber_shown (draft);
  dew_thing_init (&thing, kind);
  dew_place_name (variant, kind, thing.name);
  dew_sheet_drop (draft, variant, &thing, view, at_m, dew_document_plan_bay (self->document));
  added = dew_variant_add (draft, variant, &thing);
  id = added->id;
  self->guides.n = 0;
  {
    /* It is pulled to edges, middles and gaps like anything else that moves. */
    const DewHit held = { .part = DEW_PART_BODY, .view = view, .thing_id = id, .index = -1 };

    dew_sheet_drag (draft, variant, &held, at_m, at_m, DEW_SNAP_PX / self->layout.scale_px_m,
                    &self->guides);
  }
  self->moving = TRUE;
  dew_document_take_draft (self->document, g_steal_pointer (&draft));
  self->carried_in = TRUE;
  self->hit.thing_id = id;
  dew_document_select (self->document, id);
  dew_document_follow (self->document);
}

void
dew_canvas_carry_end (DewCanvas *self)
{
  const DewThing *thing;
  gboolean put_down;
  guint id;

  g_return_if_fail (DEW_IS_CANVAS (self));

  if (!self->carrying)
    return;
  put_down = self->carried_in;
  id = self->hit.thing_id;
  dew_canvas_end_drag (self);
  if (!put_down)
    return;
  thing = dew_variant_thing (dew_document_variant (self->document), id);
  if (thing != NULL)
    {
      g_autofree char *label = g_strdup_printf (_ ("Add %s"), thing->name);

      dew_document_commit (self->document, label, NULL);
      dew_document_select (self->document, id);
      dew_canvas_focus_thing (self, id);
    }
}
