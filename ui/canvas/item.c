/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "canvas/item.h"

#include "canvas/place.h"

#include <math.h>

#define STEP_M 0.01
#define FINE_M 0.001
#define COARSE_M 0.05
#define TURN_RAD (5.0 * G_PI / 180.0)
#define RING_GAP_PX 3.0

struct _DewItem
{
  GtkWidget parent_instance;

  DewDocument *document; /* lent by the canvas that owns both */
  guint        thing_id;
  DewColour    ring;
};

G_DEFINE_FINAL_TYPE (DewItem, dew_item, GTK_TYPE_WIDGET)

static const struct
{
  const char *action; /* without parameter: those with one are not offered to assistive tools */
  DewNudge    way;
  guint       key, keypad_key;
} nudges[] = {
  { "item.move-left", DEW_NUDGE_LEFT, GDK_KEY_Left, GDK_KEY_KP_Left },
  { "item.move-right", DEW_NUDGE_RIGHT, GDK_KEY_Right, GDK_KEY_KP_Right },
  { "item.move-down", DEW_NUDGE_DOWN, GDK_KEY_Down, GDK_KEY_KP_Down },
  { "item.move-up", DEW_NUDGE_UP, GDK_KEY_Up, GDK_KEY_KP_Up },
  { "item.move-forward", DEW_NUDGE_FORWARD, GDK_KEY_Page_Down, GDK_KEY_KP_Page_Down },
  { "item.move-back", DEW_NUDGE_BACK, GDK_KEY_Page_Up, GDK_KEY_KP_Page_Up },
};

static gboolean
nudge (DewItem *self, DewNudge way, double step_m)
{
  DewVariant *variant = dew_document_variant (self->document);
  g_autofree char *merge_key = NULL;
  g_autofree char *label = NULL;

  if (variant == NULL
      || !dew_place_nudge (dew_document_draft (self->document), variant, self->thing_id, way,
                           step_m))
    return FALSE;
  merge_key = g_strdup_printf ("nudge-%u", self->thing_id);
  label = g_strdup_printf ("Move %s", dew_variant_thing (variant, self->thing_id)->name);
  dew_document_commit (self->document, label, merge_key);
  dew_item_update (self);
  return TRUE;
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
on_turn_key (GtkWidget *widget, GVariant *args, gpointer user_data)
{
  DewItem *self = DEW_ITEM (widget);
  DewVariant *variant = dew_document_variant (self->document);
  g_autofree char *merge_key = g_strdup_printf ("turn-%u", self->thing_id);
  gboolean upward;
  double step_rad;

  g_variant_get (args, "(bd)", &upward, &step_rad);
  if (variant == NULL || !dew_place_turn (variant, self->thing_id, upward, step_rad))
    return FALSE;
  dew_document_commit (self->document, "Turn the aim", merge_key);
  return TRUE;
}

static void
on_delete (GtkWidget *widget, const char *action_name, GVariant *parameter)
{
  DewItem *self = DEW_ITEM (widget);

  dew_document_remove (self->document, self->thing_id);
}

static void
on_edit (GtkWidget *widget, const char *action_name, GVariant *parameter)
{
  dew_document_select (DEW_ITEM (widget)->document, DEW_ITEM (widget)->thing_id);
  gtk_widget_activate_action (widget, "win.edit-numbers", NULL);
}

static void
on_focus (DewItem *self)
{
  dew_document_select (self->document, self->thing_id);
}

static void
dew_item_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  DewItem *self = DEW_ITEM (widget);
  graphene_rect_t bounds;
  GskRoundedRect outline;
  GdkRGBA colour = { self->ring.r, self->ring.g, self->ring.b, 1.0f };
  const float width[4] = { 2.0f, 2.0f, 2.0f, 2.0f };
  const GdkRGBA colours[4] = { colour, colour, colour, colour };

  if (!gtk_widget_is_focus (widget)
      || (gtk_widget_get_state_flags (widget) & GTK_STATE_FLAG_FOCUS_VISIBLE) == 0)
    return;
  graphene_rect_init (&bounds, -RING_GAP_PX, -RING_GAP_PX,
                      gtk_widget_get_width (widget) + 2.0 * RING_GAP_PX,
                      gtk_widget_get_height (widget) + 2.0 * RING_GAP_PX);
  gsk_rounded_rect_init_from_rect (&outline, &bounds, 4.0f);
  gtk_snapshot_append_border (snapshot, &outline, width, colours);
}

static void
bind_keys (GtkWidgetClass *widget_class)
{
  static const struct
  {
    GdkModifierType modifier;
    double          step_m;
  } steps[] = { { 0, STEP_M }, { GDK_SHIFT_MASK, FINE_M }, { GDK_CONTROL_MASK, COARSE_M } };
  static const struct
  {
    guint    key;
    gboolean upward;
    double   step_rad;
  } turns[] = { { GDK_KEY_Left, FALSE, TURN_RAD },
                { GDK_KEY_Right, FALSE, -TURN_RAD },
                { GDK_KEY_Up, TRUE, TURN_RAD },
                { GDK_KEY_Down, TRUE, -TURN_RAD } };

  for (guint i = 0; i < G_N_ELEMENTS (nudges); i++)
    {
      gtk_widget_class_install_action (widget_class, nudges[i].action, NULL, on_nudge_action);
      for (guint k = 0; k < G_N_ELEMENTS (steps); k++)
        {
          gtk_widget_class_add_binding (widget_class, nudges[i].key, steps[k].modifier,
                                        on_nudge_key, "(id)", (int) nudges[i].way,
                                        steps[k].step_m);
          gtk_widget_class_add_binding (widget_class, nudges[i].keypad_key, steps[k].modifier,
                                        on_nudge_key, "(id)", (int) nudges[i].way,
                                        steps[k].step_m);
        }
    }
  for (guint i = 0; i < G_N_ELEMENTS (turns); i++)
    gtk_widget_class_add_binding (widget_class, turns[i].key, GDK_ALT_MASK, on_turn_key, "(bd)",
                                  turns[i].upward, turns[i].step_rad);
}

static void
dew_item_class_init (DewItemClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  widget_class->snapshot = dew_item_snapshot;
  gtk_widget_class_set_css_name (widget_class, "thing");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_LIST_ITEM);

  bind_keys (widget_class);
  gtk_widget_class_install_action (widget_class, "item.delete", NULL, on_delete);
  gtk_widget_class_install_action (widget_class, "item.edit", NULL, on_edit);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Delete, 0, "item.delete", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_KP_Delete, 0, "item.delete", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_BackSpace, 0, "item.delete", NULL);
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

static char *
climate_words (const DewForecast *forecast, const double lo[3], const double hi[3])
{
  g_autofree char *rh = NULL, *t = NULL, *speed = NULL;
  DewClimate climate;

  dew_forecast_box (forecast, lo, hi, &climate);
  if (isnan (climate.t_C))
    return g_strdup ("");
  rh = dew_value_text (DEW_VALUE_RH, climate.rh, FALSE);
  t = dew_value_text (DEW_VALUE_TEMPERATURE, climate.t_C, FALSE);
  speed = dew_value_text (DEW_VALUE_SPEED, climate.speed_m_s, FALSE);
  return g_strdup_printf ("; air there: %s humid, %s, moving at %s", rh, t, speed);
}

void
dew_item_update (DewItem *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);
  DewVariant *variant = dew_document_variant (self->document);
  const DewThing *thing = dew_variant_thing (variant, self->thing_id);
  const DewForecast *forecast = dew_document_forecast (self->document);
  g_autofree char *where = NULL, *air = NULL, *words = NULL;
  double lo[3], hi[3];

  if (thing == NULL)
    return;
  where = dew_place_words (chamber, variant, thing);
  dew_thing_box (chamber, thing, lo, hi);
  if (forecast != NULL && thing->kind != DEW_THING_SHELF && thing->kind != DEW_THING_OPENING)
    air = climate_words (forecast, lo, hi);
  words = g_strconcat (dew_thing_kind_label (thing->kind), ", ", where, air, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  thing->name, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_SELECTED,
                               dew_document_selected (self->document) == self->thing_id, -1);
}

void
dew_item_set_colour (DewItem *self, const DewColour *ring)
{
  self->ring = *ring;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
