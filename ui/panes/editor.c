/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/editor.h"

#include "canvas/refusal.h"
#include "edit/arrange.h"
#include "paint/palette.h"
#include "panes/device.h"
#include "widgets/drop.h"
#include "widgets/names.h"
#include "widgets/parts.h"
#include "widgets/reason.h"
#include "panes/wishes.h"

#include <glib/gi18n.h>

#include <math.h>
#include <string.h>

typedef struct
{
  DewDocument *document; /* lent: lives as long as the widgets */
  guint thing_id;
  GtkWidget *name;
  GtkWidget *chooser; /* of the catalogue, or NULL */
  GArray *rows;       /* guint: catalogue row behind each choice */
  GtkWidget *form;
  GtkWidget *air;    /* what the forecast says of the air there */
  GtkWidget *wishes; /* of a plant, or NULL */
  GtkWidget *device; /* what it does now */
  gboolean filling;
} Editor;

#define EDITOR_KEY "dew-editor"

static const char *const catalogue_of[DEW_N_THING_KINDS] = {
  [DEW_THING_SHELF] = "shelves", [DEW_THING_OPENING] = "vents",
  [DEW_THING_FAN] = "fans",      [DEW_THING_HUMIDIFIER] = "humidifiers",
  [DEW_THING_POT] = "pots",      [DEW_THING_TRAY] = "pots",
  [DEW_THING_LAMP] = "lamps",    [DEW_THING_PLANT] = "plants",
};

static gconstpointer
find_thing (const DewChamber *chamber, gpointer user_data)
{
  return dew_variant_thing (dew_chamber_shown (chamber), ((Editor *) user_data)->thing_id);
}

static const DewThing *
thing_of (Editor *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);

  return chamber != NULL ? find_thing (chamber, self) : NULL;
}

static DewThing *
thing_in (Editor *self, DewEdit *edit)
{
  return edit != NULL ? dew_variant_thing (dew_edit_variant (edit), self->thing_id) : NULL;
}

/* --- name -------------------------------------------------------------- */

static void
on_name (GtkEditable *editable, gpointer user_data)
{
  Editor *self = user_data;
  g_autofree char *text = g_strdup (gtk_editable_get_text (editable));
  g_autofree char *merge_key = NULL, *refusal = NULL;
  g_autoptr (DewEdit) edit = NULL;
  DewThing *thing;

  if (self->filling || thing_of (self) == NULL)
    return;
  /* An empty name is a step on the way to another one; only who stays there is told. */
  refusal = *text != '\0' ? dew_refusal_name (text, DEW_NAME_SIZE) : NULL;
  dew_reason_say (self->name, refusal);
  if (refusal != NULL || *text == '\0')
    return;
  edit = dew_document_edit_begin (self->document);
  thing = thing_in (self, edit);
  if (thing == NULL)
    return;
  dew_name_set (thing->name, text);
  merge_key = g_strdup_printf ("name-%u", self->thing_id);
  dew_edit_commit (edit, _ ("Rename"), merge_key);
}

static void
restore_name (Editor *self)
{
  const DewThing *thing = thing_of (self);

  dew_reason_say (self->name, NULL);
  if (thing == NULL || strcmp (gtk_editable_get_text (GTK_EDITABLE (self->name)), thing->name) == 0)
    return;
  self->filling = TRUE;
  gtk_editable_set_text (GTK_EDITABLE (self->name), thing->name);
  self->filling = FALSE;
}

static gboolean
on_name_key (GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state,
             gpointer user_data)
{
  Editor *self = user_data;
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->name));
  g_autofree char *refusal = dew_refusal_name (text, DEW_NAME_SIZE);

  if (refusal == NULL)
    return FALSE;
  if (key == GDK_KEY_Escape)
    {
      restore_name (self);
      return TRUE;
    }
  if (key != GDK_KEY_Return && key != GDK_KEY_KP_Enter && key != GDK_KEY_Tab
      && key != GDK_KEY_ISO_Left_Tab)
    return FALSE;
  dew_reason_say (self->name, refusal);
  return TRUE;
}

static void
watch_name (Editor *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  g_signal_connect (self->name, "changed", G_CALLBACK (on_name), self);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_name_key), self);
  gtk_widget_add_controller (self->name, keys);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (restore_name), self);
  gtk_widget_add_controller (self->name, focus);
}

/* --- what goes along with a number ------------------------------------ */

/* The other side of an opening, when this one was moved past it: it keeps its size. */
static void
keep_size (const DewField *fields, const DewField *field, double was, DewThing *thing)
{
  static const char *const sides[][2] = { { "u0_m", "u1_m" }, { "v0_m", "v1_m" } };

  for (guint i = 0; i < G_N_ELEMENTS (sides); i++)
    {
      const DewField *lo = dew_field_find (fields, sides[i][0]);
      const DewField *hi = dew_field_find (fields, sides[i][1]);
      double lo_m = dew_field_get_real (lo, thing), hi_m = dew_field_get_real (hi, thing);

      if ((field != lo && field != hi) || lo_m < hi_m)
        continue;
      if (field == lo)
        dew_field_set_real (hi, thing, lo_m + (hi_m - was));
      else
        dew_field_set_real (lo, thing, hi_m - (was - lo_m));
    }
}

static void
on_also (DewEdit *edit, const DewField *field, double was, gpointer user_data)
{
  Editor *self = user_data;
  DewThing *thing = thing_in (self, edit);

  if (thing == NULL || isnan (was))
    return;
  if (thing->kind == DEW_THING_OPENING)
    keep_size (dew_thing_fields (thing->kind), field, was, thing);
  else if (thing->kind == DEW_THING_SHELF && strcmp (field->key, "z_m") == 0)
    {
      /* With what stands on it, as when it is dragged. */
      const double up_m[3] = { 0.0, 0.0, thing->shelf.z_m - was };

      thing->shelf.z_m = was;
      dew_variant_shift (dew_edit_chamber (edit), dew_edit_variant (edit), self->thing_id, up_m);
    }
}

/* --- catalogue --------------------------------------------------------- */

static gboolean
row_applies (const DewCatalogue *catalogue, guint row, DewThingKind kind)
{
  if (kind != DEW_THING_POT && kind != DEW_THING_TRAY)
    return TRUE;
  return strcmp (dew_catalogue_text (catalogue, row, "applies_to"), dew_thing_kind_key (kind)) == 0;
}

/* A plant that was never named takes the name of its kind: "Too dry for Plant 2" tells
 * nobody which. A name of the grower's own stays, whatever is chosen. */
static void
name_after (const DewVariant *variant, DewThing *plant, const char *before)
{
  const char *label = dew_thing_kind_label (DEW_THING_PLANT);
  g_autofree char *stem = NULL;
  gsize n = strlen (plant->name);

  while (n > 0 && g_ascii_isdigit (plant->name[n - 1]))
    n--;
  stem = g_strchomp (g_strndup (plant->name, n));
  if (strcmp (stem, label) != 0 && (*before == '\0' || strcmp (stem, before) != 0))
    return;
  for (guint number = 1;; number++)
    {
      g_autofree char *name = number == 1 ? g_strdup (plant->plant.species)
                                          : g_strdup_printf ("%s %u", plant->plant.species, number);
      gboolean taken = FALSE;

      for (guint i = 0; i < variant->things->len && !taken; i++)
        {
          const DewThing *other = &g_array_index (variant->things, DewThing, i);

          taken = other->id != plant->id && strcmp (other->name, name) == 0;
        }
      if (taken)
        continue;
      dew_name_set (plant->name, name);
      return;
    }
}

static void
on_chosen (GtkDropDown *drop, GParamSpec *pspec, gpointer user_data)
{
  Editor *self = user_data;
  guint selected = gtk_drop_down_get_selected (drop);
  const DewCatalogue *catalogue;
  g_autofree char *label = NULL, *before = NULL;
  g_autoptr (DewEdit) edit = NULL;
  DewThing *thing;
  guint row;

  /* The first choice stands for numbers of one's own. */
  if (self->filling || selected == 0 || selected == GTK_INVALID_LIST_POSITION)
    return;
  edit = dew_document_edit_begin (self->document);
  thing = thing_in (self, edit);
  if (thing == NULL)
    return;
  catalogue = dew_catalogue (catalogue_of[thing->kind]);
  row = g_array_index (self->rows, guint, selected - 1);
  before = thing->kind == DEW_THING_PLANT ? g_strdup (thing->plant.species) : NULL;
  dew_catalogue_apply_thing (catalogue, row, thing);
  if (before != NULL)
    name_after (dew_edit_variant (edit), thing, before);
  label = g_strdup_printf (_ ("Take %s"), dew_catalogue_text (catalogue, row, "name"));
  dew_edit_commit (edit, label, NULL);
}

static void
show_species (Editor *self)
{
  const DewThing *thing = thing_of (self);
  const DewCatalogue *catalogue;
  guint shown = 0; /* none, as before a choice that was undone */

  if (self->chooser == NULL || thing == NULL || thing->kind != DEW_THING_PLANT)
    return;
  catalogue = dew_catalogue ("plants");
  for (guint i = 0; i < self->rows->len; i++)
    {
      guint row = g_array_index (self->rows, guint, i);

      if (strcmp (dew_catalogue_text (catalogue, row, "name"), thing->plant.species) == 0)
        shown = i + 1;
    }
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->chooser), shown);
}

static GtkWidget *
chooser_new (Editor *self, DewThingKind kind)
{
  const DewCatalogue *catalogue;
  GtkStringList *names;
  GtkWidget *drop;

  if (catalogue_of[kind] == NULL)
    return NULL;
  catalogue = dew_catalogue (catalogue_of[kind]);
  names = gtk_string_list_new (NULL);
  self->rows = g_array_new (FALSE, FALSE, sizeof (guint));
  gtk_string_list_append (names, kind == DEW_THING_PLANT ? _ ("Choose a species")
                                                         : _ ("Fill from the catalogue"));
  for (guint row = 0; row < dew_catalogue_rows (catalogue); row++)
    {
      if (!row_applies (catalogue, row, kind))
        continue;
      gtk_string_list_append (names, dew_catalogue_text (catalogue, row, "name"));
      g_array_append_val (self->rows, row);
    }
  drop = dew_drop_new (names, _ ("Fill the numbers from the catalogue"));
  gtk_widget_add_css_class (drop, "catalogue");
  g_signal_connect (drop, "notify::selected", G_CALLBACK (on_chosen), self);
  return drop;
}

/* --- what the air is like there ---------------------------------------- */

static void
fill_air (Editor *self)
{
  static const DewValue values[]
    = { DEW_VALUE_RH, DEW_VALUE_TEMPERATURE, DEW_VALUE_SPEED, DEW_VALUE_AGE };
  const DewForecast *forecast = dew_document_forecast (self->document);
  const DewThing *thing = thing_of (self);
  g_autoptr (GString) text = g_string_new (NULL);
  double lo[3], hi[3];
  DewClimate climate;

  if (forecast == NULL || thing == NULL || thing->kind == DEW_THING_SHELF
      || thing->kind == DEW_THING_OPENING)
    {
      gtk_widget_set_visible (self->air, FALSE);
      return;
    }
  dew_thing_box (dew_document_chamber (self->document), thing, lo, hi);
  dew_forecast_box (forecast, lo, hi, &climate);
  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    {
      g_autofree char *number = dew_climate_text (&climate, values[i], dew_tongue ());

      g_string_append_printf (text, "%s%s", i > 0 ? "  ·  " : "", number);
    }
  gtk_label_set_text (GTK_LABEL (self->air), text->str);
  gtk_widget_set_visible (self->air, !isnan (climate.t_C));
}

static void
on_forecast (Editor *self)
{
  fill_air (self);
  if (thing_of (self) == NULL)
    return;
  dew_device_view_fill (self->device, self->document, thing_of (self));
  if (self->wishes != NULL)
    dew_wishes_fill (self->wishes, self->document, thing_of (self));
}

static void
on_units (GtkWidget *column)
{
  on_forecast (g_object_get_data (G_OBJECT (column), EDITOR_KEY));
}

static void
on_changed (Editor *self)
{
  const DewThing *thing = thing_of (self);

  if (thing == NULL)
    return;
  self->filling = TRUE;
  if (strcmp (gtk_editable_get_text (GTK_EDITABLE (self->name)), thing->name) != 0
      && !gtk_widget_has_focus (GTK_WIDGET (gtk_editable_get_delegate (GTK_EDITABLE (self->name)))))
    gtk_editable_set_text (GTK_EDITABLE (self->name), thing->name);
  show_species (self);
  self->filling = FALSE;
  dew_form_refresh (self->form);
  on_forecast (self);
}

/* --- whole ------------------------------------------------------------- */

static void
on_remove (GtkButton *button, gpointer user_data)
{
  Editor *self = user_data;

  dew_document_remove (self->document, self->thing_id);
}

static void
on_close (GtkButton *button, gpointer user_data)
{
  Editor *self = user_data;

  dew_document_select (self->document, 0);
}

static void
editor_free (gpointer data)
{
  Editor *self = data;

  g_clear_pointer (&self->rows, g_array_unref);
  g_free (self);
}

static GtkWidget *
flat_button_new (const char *label, const char *css_class, GCallback clicked, Editor *self)
{
  GtkWidget *button = dew_way_new (label, css_class, NULL);

  g_signal_connect (button, "clicked", clicked, self);
  return button;
}

static void
add_head (Editor *self, GtkBox *column, const DewThing *thing)
{
  gtk_box_append (column,
                  flat_button_new (_ ("‹ All shelves"), "back", G_CALLBACK (on_close), self));
  self->name = gtk_entry_new ();
  gtk_widget_add_css_class (self->name, "title-entry");
  gtk_entry_set_has_frame (GTK_ENTRY (self->name), FALSE);
  gtk_editable_set_text (GTK_EDITABLE (self->name), thing->name);
  dew_name_widget (self->name, _ ("Name"));
  watch_name (self);
  gtk_box_append (column, self->name);
  gtk_box_append (column, dew_reason_new (self->name));
  dew_add_words (column, dew_thing_kind_label (thing->kind), "soft");
  self->air = dew_words_new (NULL, "air");
  gtk_box_append (column, self->air);
}

GtkWidget *
dew_thing_editor_new (DewDocument *document, guint thing_id)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  g_autofree char *merge = g_strdup_printf ("edit-%u", thing_id);
  Editor *self = g_new0 (Editor, 1);
  const DewThing *thing;

  self->document = document;
  self->thing_id = thing_id;
  g_object_set_data_full (G_OBJECT (column), EDITOR_KEY, self, editor_free);
  thing = thing_of (self);
  g_return_val_if_fail (thing != NULL, column);

  self->filling = TRUE;
  add_head (self, GTK_BOX (column), thing);
  self->chooser = chooser_new (self, thing->kind);
  if (self->chooser != NULL)
    gtk_box_append (GTK_BOX (column), self->chooser);
  if (thing->kind == DEW_THING_PLANT)
    {
      self->wishes = dew_wishes_new ();
      gtk_box_append (GTK_BOX (column), self->wishes);
    }
  self->device = dew_device_view_new ();
  gtk_box_append (GTK_BOX (column), self->device);
  self->form = dew_form_new (document, dew_thing_fields (thing->kind), find_thing, on_also, self,
                             merge, thing->name, _ ("What it does"));
  gtk_box_append (GTK_BOX (column), self->form);
  gtk_box_append (GTK_BOX (column), flat_button_new (_ ("Remove from the sheet"), "remove",
                                                     G_CALLBACK (on_remove), self));
  self->filling = FALSE;

  dew_follow (document, "changed", G_CALLBACK (on_changed), self, column);
  dew_follow (document, "forecast", G_CALLBACK (on_forecast), self, column);
  dew_follow (document, "view", G_CALLBACK (on_forecast), self, column);
  dew_tongue_connect (G_OBJECT (column), G_CALLBACK (on_units));
  on_changed (self);
  return column;
}

void
dew_thing_editor_focus (GtkWidget *editor)
{
  Editor *self = g_object_get_data (G_OBJECT (editor), EDITOR_KEY);

  g_return_if_fail (self != NULL);
  dew_form_focus (self->form);
}

GtkWidget *
dew_thing_editor_widget (GtkWidget *editor, const char *key)
{
  Editor *self = g_object_get_data (G_OBJECT (editor), EDITOR_KEY);

  g_return_val_if_fail (self != NULL, NULL);
  return dew_form_widget (self->form, key);
}
