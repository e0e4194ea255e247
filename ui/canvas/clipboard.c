/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cut, copy, paste and duplicate: things travel through the system's clipboard as
 * text, also from one window to another. */
#include "canvas/canvas-private.h"

#include "edit/arrange.h"

#include <glib/gi18n.h>

static void
refuse (DewCanvas *self, const char *title, const char *detail)
{
  g_signal_emit_by_name (self->document, "trouble::refused", title, detail);
}

/* Commits what added `ids`, and selects them. */
static void
take_new (DewCanvas *self, DewEdit *edit, const GArray *ids, const char *one_label,
          const char *many_label)
{
  gboolean taken = dew_edit_commit (edit, ids->len == 1 ? one_label : many_label, NULL);

  dew_document_select_set (self->document, (const guint *) (gpointer) ids->data, ids->len);
  if (taken)
    dew_canvas_focus_thing (self, dew_document_selected (self->document));
}

void
dew_canvas_copy (DewCanvas *self)
{
  g_autofree char *text = NULL;
  const guint *ids;
  guint n;

  ids = dew_document_selection (self->document, &n);
  if (n == 0)
    return;
  text = dew_things_to_text (dew_document_chamber (self->document),
                             dew_document_variant (self->document), ids, n);
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (self)), text);
  g_debug ("copied: %u", n);
}

static void
paste (DewCanvas *self, const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) things = dew_things_from_text (text, -1, &error);
  g_autoptr (GArray) ids = NULL;
  g_autofree char *one_label = NULL, *many_label = NULL;
  g_autoptr (DewEdit) edit = dew_document_edit_begin (self->document);

  if (things != NULL)
    ids = dew_variant_insert (dew_edit_chamber (edit), dew_edit_variant (edit), things, &error);
  if (ids == NULL || ids->len == 0)
    {
      /* Text of another program is nothing to explain line by line. */
      if (things == NULL)
        refuse (self, _ ("Nothing was pasted"),
                _ ("What was copied is no part of a drawing. Copy something on the sheet first."));
      else if (error != NULL)
        refuse (self, _ ("Nothing was pasted"), error->message);
      return;
    }
  one_label = g_strdup_printf (_ ("Paste %s"), g_array_index (things, DewThing, 0).name);
  many_label = g_strdup_printf (ngettext ("Paste %u thing", "Paste %u things", ids->len), ids->len);
  take_new (self, edit, ids, one_label, many_label);
}

static void
on_text (GObject *clipboard, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (DewCanvas) self = user_data;
  g_autoptr (GError) error = NULL;
  g_autofree char *text
    = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (clipboard), result, &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  g_clear_object (&self->pasting);
  if (self->document == NULL || dew_document_chamber (self->document) == NULL
      || dew_canvas_holds (self))
    return;
  /* A picture or nothing at all: the clipboard says so in its own words. */
  paste (self, text != NULL ? text : "");
}

void
dew_canvas_paste (DewCanvas *self)
{
  if (dew_document_chamber (self->document) == NULL)
    return;
  g_cancellable_cancel (self->pasting);
  g_clear_object (&self->pasting);
  self->pasting = g_cancellable_new ();
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (GTK_WIDGET (self)), self->pasting,
                                 on_text, g_object_ref (self));
}

void
dew_canvas_duplicate (DewCanvas *self)
{
  g_autoptr (DewEdit) edit = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) copies = NULL;
  g_autofree char *one_label = NULL, *many_label = NULL;
  const guint *ids;
  guint n;

  ids = dew_document_selection (self->document, &n);
  if (n == 0)
    return;
  edit = dew_document_edit_begin (self->document);
  copies = dew_variant_duplicate (dew_edit_chamber (edit), dew_edit_variant (edit), ids, n, &error);
  if (copies == NULL || copies->len == 0)
    {
      if (error != NULL)
        refuse (self, _ ("Nothing was copied"), error->message);
      return;
    }
  one_label = g_strdup_printf (_ ("Duplicate %s"),
                               dew_variant_thing (dew_edit_variant (edit), ids[0])->name);
  many_label = g_strdup_printf (ngettext ("Duplicate %u thing", "Duplicate %u things", n), n);
  take_new (self, edit, copies, one_label, many_label);
}
