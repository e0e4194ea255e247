/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "canvas/item.h"

#include "canvas/canvas-private.h"
#include "edit/place.h"
#include "canvas/spot.h"
#include "canvas/words.h"

#include <glib/gi18n.h>

#define STEP_M 0.01
#define FINE_M 0.001
#define COARSE_M 0.05
#define TURN_RAD (5.0 * G_PI / 180.0)
#define AMOUNT_STEP 0.1

struct _DewItem
{
  GtkWidget parent_instance;

  DewDocument *document; /* lent by the canvas that owns both */
  guint thing_id;
};

G_DEFINE_FINAL_TYPE (DewItem, dew_item, GTK_TYPE_WIDGET)

static const struct
{
  const char *action; /* without parameter: those with one are not offered to assistive tools */
  DewNudge way;
  guint key, keypad_key;
} nudges[] = {
  { "item.move-left", DEW_NUDGE_LEFT, GDK_KEY_Left, GDK_KEY_KP_Left },
  { "item.move-right", DEW_NUDGE_RIGHT, GDK_KEY_Right, GDK_KEY_KP_Right },
  { "item.move-down", DEW_NUDGE_DOWN, GDK_KEY_Down, GDK_KEY_KP_Down },
  { "item.move-up", DEW_NUDGE_UP, GDK_KEY_Up, GDK_KEY_KP_Up },
  { "item.move-forward", DEW_NUDGE_FORWARD, GDK_KEY_Page_Down, GDK_KEY_KP_Page_Down },
  { "item.move-back", DEW_NUDGE_BACK, GDK_KEY_Page_Up, GDK_KEY_KP_Page_Up },
};

static const struct
{
  const char *action;
  gboolean upward;
  double step_rad;
  guint key;
} turns[] = {
  { "item.turn-left", FALSE, TURN_RAD, GDK_KEY_Left },
  { "item.turn-right", FALSE, -TURN_RAD, GDK_KEY_Right },
  { "item.turn-up", TRUE, TURN_RAD, GDK_KEY_Up },
  { "item.turn-down", TRUE, -TURN_RAD, GDK_KEY_Down },
};

/* What an edit lends of it; NULL when it is gone. */
static DewThing *
thing_in (DewItem *self, DewEdit *edit)
{
  return edit != NULL ? dew_variant_thing (dew_edit_variant (edit), self->thing_id) : NULL;
}

static void
commit (DewItem *self, DewEdit *edit, const char *label, const char *merge_key)
{
  dew_edit_commit (edit, label, merge_key);
  dew_item_update (self);
}

/* One of several that are selected takes the others along. */
static void
nudge (DewItem *self, DewNudge way, double step_m)
{
  g_autoptr (DewEdit) edit = dew_document_edit_begin (self->document);
  const DewThing *thing = thing_in (self, edit);
  const guint *ids = &self->thing_id;
  g_autofree char *merge_key = NULL;
  g_autofree char *label = NULL;
  guint n = 1;

  if (thing == NULL)
    return;
  if (dew_document_is_selected (self->document, self->thing_id))
    ids = dew_document_selection (self->document, &n);
  if (!dew_variant_nudge (dew_edit_chamber (edit), dew_edit_variant (edit), self->thing_id, ids, n,
                          way, step_m))
    return;
  merge_key = g_strdup_printf ("nudge-%u-%u", self->thing_id, n);
  label = dew_canvas_label_move (thing, n);
  commit (self, edit, label, merge_key);
}

static gboolean
on_nudge_key (GtkWidget *widget, GVariant *args, gpointer user_data)
{
  int which;
  double step_m;

  g_variant_get (args, "(id)", &which, &step_m);
  nudge (DEW_ITEM (widget), which, step_m);
  /* At the edge of the enclosure the key stops too: it must not scroll a pane. */
  return TRUE;
}

static void
on_nudge_action (GtkWidget *widget, const char *action_name, GVariant *parameter)
{
  for (guint i = 0; i < G_N_ELEMENTS (nudges); i++)
    {
      if (g_strcmp0 (nudges[i].action, action_name) == 0)
        nudge (DEW_ITEM (widget), nudges[i].way, STEP_M);
    }
}

static gboolean
turn (DewItem *self, gboolean upward, double step_rad)
{
  g_autoptr (DewEdit) edit = dew_document_edit_begin (self->document);
  g_autofree char *merge_key = g_strdup_printf ("turn-%u", self->thing_id);
  DewThing *thing = thing_in (self, edit);

  if (thing == NULL || !dew_thing_turn (thing, upward, step_rad))
    return FALSE;
  commit (self, edit, _ ("Turn the aim"), merge_key);
  return TRUE;
}

static gboolean
on_turn_key (GtkWidget *widget, GVariant *args, gpointer user_data)
{
  gboolean upward;
  double step_rad;

  g_variant_get (args, "(bd)", &upward, &step_rad);
  return turn (DEW_ITEM (widget), upward, step_rad);
}

static void
on_turn_action (GtkWidget *widget, const char *action_name, GVariant *parameter)
{
  for (guint i = 0; i < G_N_ELEMENTS (turns); i++)
    {
      if (g_strcmp0 (turns[i].action, action_name) == 0)
        turn (DEW_ITEM (widget), turns[i].upward, turns[i].step_rad);
    }
}

/* More or less of what a thing does: how far a flap is lifted, how fast a fan
 * runs, by the day or night that is looked at. */
static void
on_more_or_less (GtkWidget *widget, const char *action_name, GVariant *parameter)
{
  DewItem *self = DEW_ITEM (widget);
  g_autoptr (DewEdit) edit = dew_document_edit_begin (self->document);
  gboolean more = g_str_has_suffix (action_name, "more");
  g_autofree char *merge_key = g_strdup_printf ("amount-%u", self->thing_id);
  g_autofree char *label = NULL;
  DewThing *thing = thing_in (self, edit);

  if (thing == NULL
      || !dew_thing_change_amount (thing, dew_document_night (self->document),
                                   more ? AMOUNT_STEP : -AMOUNT_STEP))
    return;
  label = g_strdup_printf (thing->kind == DEW_THING_OPENING ? _ ("Open or close %s")
                                                            : _ ("Run %s more or less"),
                           thing->name);
  commit (self, edit, label, merge_key);
}

static void
on_toggle (GtkWidget *widget, const char *action_name, GVariant *parameter)
{
  dew_document_select_toggle (DEW_ITEM (widget)->document, DEW_ITEM (widget)->thing_id);
}

static void
on_delete (GtkWidget *widget, const char *action_name, GVariant *parameter)
{
  DewItem *self = DEW_ITEM (widget);

  if (!dew_document_is_selected (self->document, self->thing_id))
    dew_document_select (self->document, self->thing_id);
  gtk_widget_activate_action (widget, "canvas.delete", NULL);
}

static void
on_edit (GtkWidget *widget, const char *action_name, GVariant *parameter)
{
  dew_document_select (DEW_ITEM (widget)->document, DEW_ITEM (widget)->thing_id);
  gtk_widget_activate_action (widget, "win.edit-numbers", NULL);
}

/* The keyboard selects where it comes to, unless it only walks on or comes to one
 * of several. */
static void
on_focus (DewItem *self)
{
  GtkWidget *canvas = gtk_widget_get_parent (GTK_WIDGET (self));

  if (DEW_IS_CANVAS (canvas) && DEW_CANVAS (canvas)->walking)
    return;
  if (dew_document_is_selected (self->document, self->thing_id))
    dew_document_select_add (self->document, self->thing_id);
  else
    dew_document_select (self->document, self->thing_id);
}

static gboolean
on_walk (GtkWidget *widget, GVariant *args, gpointer user_data)
{
  GtkWidget *canvas = gtk_widget_get_parent (widget);
  gboolean forward;

  g_variant_get (args, "(b)", &forward);
  DEW_CANVAS (canvas)->walking = TRUE;
  gtk_widget_child_focus (canvas, forward ? GTK_DIR_TAB_FORWARD : GTK_DIR_TAB_BACKWARD);
  DEW_CANVAS (canvas)->walking = FALSE;
  return TRUE;
}

static void
dew_item_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  dew_focus_ring_snapshot (widget, snapshot);
}

static void
bind_keys (GtkWidgetClass *widget_class)
{
  static const struct
  {
    GdkModifierType modifier;
    double step_m;
  } steps[] = { { 0, STEP_M }, { GDK_SHIFT_MASK, FINE_M }, { GDK_CONTROL_MASK, COARSE_M } };
  for (guint i = 0; i < G_N_ELEMENTS (nudges); i++)
    {
      gtk_widget_class_install_action (widget_class, nudges[i].action, NULL, on_nudge_action);
      for (guint k = 0; k < G_N_ELEMENTS (steps); k++)
        {
          gtk_widget_class_add_binding (widget_class, nudges[i].key, steps[k].modifier,
                                        on_nudge_key, "(id)", (int) nudges[i].way, steps[k].step_m);
          gtk_widget_class_add_binding (widget_class, nudges[i].keypad_key, steps[k].modifier,
                                        on_nudge_key, "(id)", (int) nudges[i].way, steps[k].step_m);
        }
    }
  for (guint i = 0; i < G_N_ELEMENTS (turns); i++)
    {
      gtk_widget_class_install_action (widget_class, turns[i].action, NULL, on_turn_action);
      gtk_widget_class_add_binding (widget_class, turns[i].key, GDK_ALT_MASK, on_turn_key, "(bd)",
                                    turns[i].upward, turns[i].step_rad);
    }
}

static void
dew_item_state_flags_changed (GtkWidget *widget, GtkStateFlags before)
{
  GTK_WIDGET_CLASS (dew_item_parent_class)->state_flags_changed (widget, before);
  /* The ring is no style of GTK's, which would draw it anew by itself. */
  gtk_widget_queue_draw (widget);
}

static void
dew_item_class_init (DewItemClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  widget_class->snapshot = dew_item_snapshot;
  widget_class->state_flags_changed = dew_item_state_flags_changed;
  gtk_widget_class_set_css_name (widget_class, "thing");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_LIST_ITEM);

  bind_keys (widget_class);
  gtk_widget_class_install_action (widget_class, "item.delete", NULL, on_delete);
  gtk_widget_class_install_action (widget_class, "item.edit", NULL, on_edit);
  gtk_widget_class_install_action (widget_class, "item.toggle", NULL, on_toggle);
  gtk_widget_class_install_action (widget_class, "item.more", NULL, on_more_or_less);
  gtk_widget_class_install_action (widget_class, "item.less", NULL, on_more_or_less);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Delete, 0, "item.delete", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_KP_Delete, 0, "item.delete", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_BackSpace, 0, "item.delete", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_plus, 0, "item.more", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_plus, GDK_SHIFT_MASK, "item.more",
                                       NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_KP_Add, 0, "item.more", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_minus, 0, "item.less", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_KP_Subtract, 0, "item.less", NULL);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Tab, GDK_CONTROL_MASK, on_walk, "(b)", TRUE);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_ISO_Left_Tab,
                                GDK_CONTROL_MASK | GDK_SHIFT_MASK, on_walk, "(b)", FALSE);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Tab, GDK_CONTROL_MASK | GDK_SHIFT_MASK,
                                on_walk, "(b)", FALSE);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Return, 0, "item.edit", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_KP_Enter, 0, "item.edit", NULL);
}

static void
dew_item_init (DewItem *self)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();

  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  /* The pointer belongs to the canvas below, which knows the true outlines. */
  gtk_widget_set_can_target (GTK_WIDGET (self), FALSE);
  g_signal_connect_swapped (focus, "enter", G_CALLBACK (on_focus), self);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
}

GtkWidget *
dew_item_new (DewDocument *document, guint thing_id)
{
  DewItem *self = g_object_new (DEW_TYPE_ITEM, NULL);

  self->document = document;
  self->thing_id = thing_id;
  dew_item_update (self);
  return GTK_WIDGET (self);
}

guint
dew_item_thing_id (DewItem *self)
{
  return self->thing_id;
}

void
dew_item_update (DewItem *self)
{
  const DewVariant *variant = dew_document_variant (self->document);
  const DewThing *thing = dew_variant_thing (variant, self->thing_id);
  g_autofree char *words = NULL;

  if (thing == NULL)
    return;
  words = dew_words_thing (self->document, self->thing_id);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, thing->name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
  dew_item_update_selected (self);
}

void
dew_item_update_selected (DewItem *self)
{
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_SELECTED,
                               dew_document_is_selected (self->document, self->thing_id), -1);
}
