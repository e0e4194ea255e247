/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can be done with what is selected. Every action is here, so that keys, menus
 * and assistive tools share one way. */
#include "canvas/canvas-private.h"

#include "edit/arrange.h"

#include <glib/gi18n.h>

char *
dew_canvas_label_move (const DewThing *thing, guint n)
{
  if (n > 1)
    return g_strdup_printf (ngettext ("Move %u thing", "Move %u things", n), n);
  return g_strdup_printf (_ ("Move %s"), thing->name);
}

/* --- selecting ------------------------------------------------------------ */

static void
select_all (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewCanvas *self = DEW_CANVAS (widget);
  const DewVariant *variant = dew_document_variant (self->document);
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; variant != NULL && i < variant->things->len; i++)
    g_array_append_val (ids, g_array_index (variant->things, DewThing, i).id);
  dew_document_select_set (self->document, (const guint *) (gpointer) ids->data, ids->len);
}

static void
select_none (GtkWidget *widget, const char *name, GVariant *parameter)
{
  dew_document_select (DEW_CANVAS (widget)->document, 0);
}

/* --- removing --------------------------------------------------------------- */

typedef enum
{
  VERB_REMOVE,
  VERB_CUT
} Verb;

static char *
label_for (DewCanvas *self, Verb verb)
{
  const DewThing *thing;
  const guint *ids;
  guint n;

  ids = dew_document_selection (self->document, &n);
  if (n > 1)
    return g_strdup_printf (verb == VERB_CUT ? ngettext ("Cut %u thing", "Cut %u things", n)
                                             : ngettext ("Remove %u thing", "Remove %u things", n),
                            n);
  thing = dew_variant_thing (dew_document_variant (self->document), ids[0]);
  return g_strdup_printf (verb == VERB_CUT ? _ ("Cut %s") : _ ("Remove %s"), thing->name);
}

static void
remove_selected (DewCanvas *self, Verb verb)
{
  g_autoptr (DewEdit) edit = dew_document_edit_begin (self->document);
  g_autofree char *label = NULL;
  const guint *ids;
  guint n;

  ids = dew_document_selection (self->document, &n);
  if (edit == NULL || n == 0)
    return;
  label = label_for (self, verb);
  for (guint i = 0; i < n; i++)
    dew_variant_remove (dew_edit_variant (edit), ids[i]);
  dew_edit_commit (edit, label, NULL);
}

static void
delete_selected (GtkWidget *widget, const char *name, GVariant *parameter)
{
  remove_selected (DEW_CANVAS (widget), VERB_REMOVE);
}

/* --- the clipboard ------------------------------------------------------------ */

static void
clipboard_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewCanvas *self = DEW_CANVAS (widget);

  if (dew_canvas_holds (self))
    return;
  if (g_str_has_suffix (name, "copy"))
    dew_canvas_copy (self);
  else if (g_str_has_suffix (name, "paste"))
    dew_canvas_paste (self);
  else if (g_str_has_suffix (name, "duplicate"))
    dew_canvas_duplicate (self);
  else
    {
      dew_canvas_copy (self);
      remove_selected (self, VERB_CUT);
    }
}

/* --- lining up and spreading -------------------------------------------------------- */

static const struct
{
  const char *action;
  int axis;
  int edge; /* DewEdge; -1: equal gaps */
} arrangements[] = {
  { "canvas.align-left", 0, DEW_EDGE_LOW },
  { "canvas.align-middle-across", 0, DEW_EDGE_MIDDLE },
  { "canvas.align-right", 0, DEW_EDGE_HIGH },
  { "canvas.align-front", 1, DEW_EDGE_LOW },
  { "canvas.align-middle-deep", 1, DEW_EDGE_MIDDLE },
  { "canvas.align-back", 1, DEW_EDGE_HIGH },
  { "canvas.align-bottom", 2, DEW_EDGE_LOW },
  { "canvas.align-middle-high", 2, DEW_EDGE_MIDDLE },
  { "canvas.align-top", 2, DEW_EDGE_HIGH },
  { "canvas.distribute-across", 0, -1 },
  { "canvas.distribute-deep", 1, -1 },
  { "canvas.distribute-high", 2, -1 },
};

/* What was arranged is one step; what cannot be is said, and nothing has changed. */
static void
arrange (DewCanvas *self, int axis, int edge)
{
  g_autoptr (DewEdit) edit = dew_document_edit_begin (self->document);
  g_autoptr (GError) error = NULL;
  const guint *ids;
  gboolean done;
  guint n;

  ids = dew_document_selection (self->document, &n);
  if (edge < 0)
    done = dew_variant_distribute (dew_edit_chamber (edit), dew_edit_variant (edit), ids, n, axis,
                                   &error);
  else
    done = dew_variant_align (dew_edit_chamber (edit), dew_edit_variant (edit), ids, n, axis, edge,
                              &error);
  if (done)
    dew_edit_commit (edit, edge < 0 ? _ ("Make gaps equal") : _ ("Line up"), NULL);
  else
    g_signal_emit_by_name (self->document, "trouble::refused", _ ("Nothing was moved"),
                           error->message);
}

static void
arrange_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  for (guint i = 0; i < G_N_ELEMENTS (arrangements); i++)
    {
      if (g_strcmp0 (arrangements[i].action, name) == 0)
        arrange (DEW_CANVAS (widget), arrangements[i].axis, arrangements[i].edge);
    }
}

/* --- what one item does --------------------------------------------------------- */

/* The menu and the window speak to the sheet, which passes it on to the item. */
static void
forward_to_item (GtkWidget *widget, const char *name, GVariant *parameter)
{
  DewCanvas *self = DEW_CANVAS (widget);
  GtkWidget *item = dew_canvas_item (self, dew_document_selected (self->document));
  g_autofree char *action = g_strconcat ("item.", strchr (name, '.') + 1, NULL);

  if (item != NULL)
    gtk_widget_activate_action (item, action, NULL);
}

/* --- set up ---------------------------------------------------------------------- */

static gboolean
has_amount (const DewThing *thing)
{
  const DewField *fields = dew_thing_fields (thing->kind);

  return dew_field_find (fields, "open_fraction") != NULL
         || dew_field_find (fields, "speed_day") != NULL
         || dew_field_find (fields, "duty_day") != NULL
         || dew_field_find (fields, "on_day") != NULL;
}

void
dew_canvas_update_actions (DewCanvas *self)
{
  static const char *const of_any[]
    = { "canvas.delete", "canvas.cut", "canvas.copy", "canvas.duplicate", "canvas.edit" };
  GtkWidget *widget = GTK_WIDGET (self);
  const DewVariant *variant = dew_document_variant (self->document);
  const DewThing *thing
    = variant != NULL ? dew_variant_thing (variant, dew_document_selected (self->document)) : NULL;
  guint n;

  dew_document_selection (self->document, &n);
  for (guint i = 0; i < G_N_ELEMENTS (of_any); i++)
    gtk_widget_action_set_enabled (widget, of_any[i], n > 0);
  for (guint i = 0; i < G_N_ELEMENTS (arrangements); i++)
    gtk_widget_action_set_enabled (widget, arrangements[i].action,
                                   n > (arrangements[i].edge < 0 ? 2 : 1));
  gtk_widget_action_set_enabled (widget, "canvas.more", thing != NULL && has_amount (thing));
  gtk_widget_action_set_enabled (widget, "canvas.less", thing != NULL && has_amount (thing));
  gtk_widget_action_set_enabled (widget, "canvas.select-all",
                                 variant != NULL && variant->things->len > 0);
}

void
dew_canvas_install_actions (GtkWidgetClass *widget_class)
{
  static const struct
  {
    const char *action;
    GtkWidgetActionActivateFunc activate;
  } actions[] = {
    { "canvas.select-all", select_all },  { "canvas.select-none", select_none },
    { "canvas.delete", delete_selected }, { "canvas.edit", forward_to_item },
    { "canvas.more", forward_to_item },   { "canvas.less", forward_to_item },
    { "canvas.cut", clipboard_action },   { "canvas.copy", clipboard_action },
    { "canvas.paste", clipboard_action }, { "canvas.duplicate", clipboard_action },
  };
  static const struct
  {
    guint key;
    GdkModifierType modifiers;
    const char *action;
  } keys[] = {
    { GDK_KEY_a, GDK_CONTROL_MASK, "canvas.select-all" },
    { GDK_KEY_a, GDK_CONTROL_MASK | GDK_SHIFT_MASK, "canvas.select-none" },
    { GDK_KEY_x, GDK_CONTROL_MASK, "canvas.cut" },
    { GDK_KEY_c, GDK_CONTROL_MASK, "canvas.copy" },
    { GDK_KEY_v, GDK_CONTROL_MASK, "canvas.paste" },
    { GDK_KEY_d, GDK_CONTROL_MASK, "canvas.duplicate" },
    { GDK_KEY_Delete, 0, "canvas.delete" },
    { GDK_KEY_KP_Delete, 0, "canvas.delete" },
    { GDK_KEY_BackSpace, 0, "canvas.delete" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    gtk_widget_class_install_action (widget_class, actions[i].action, NULL, actions[i].activate);
  for (guint i = 0; i < G_N_ELEMENTS (arrangements); i++)
    gtk_widget_class_install_action (widget_class, arrangements[i].action, NULL, arrange_action);
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    gtk_widget_class_add_binding_action (widget_class, keys[i].key, keys[i].modifiers,
                                         keys[i].action, NULL);
}
