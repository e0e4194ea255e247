/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/several.h"

#include "panes/editor.h"
#include "say/names.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>
#include <string.h>

#define NAMES_SHOWN 8
#define SEVERAL_KEY "dew-several"

typedef struct
{
  DewDocument *document; /* lent: lives as long as the widgets */
  guint lead_id;         /* the one whose numbers are shown */
  GArray *fields;        /* DewField, ended by one without a key; lives as long as the form */
} Several;

static gconstpointer
find_lead (const DewChamber *chamber, gpointer user_data)
{
  return dew_variant_thing (dew_chamber_shown (chamber), ((Several *) user_data)->lead_id);
}

static void
copy_value (const DewField *field, gconstpointer from, gpointer to)
{
  switch (field->type)
    {
    case DEW_FIELD_REAL:
      dew_field_set_real (field, to, dew_field_get_real (field, from));
      break;
    case DEW_FIELD_TEXT:
      dew_field_set_text (field, to, dew_field_get_text (field, from));
      break;
    default:
      dew_field_set_int (field, to, dew_field_get_int (field, from));
    }
}

/* One edit for all: what was changed of one is changed of the others of its kind. */
static void
change_all (DewEdit *edit, const DewField *field, double was, gpointer user_data)
{
  Several *self = user_data;
  DewVariant *variant = dew_edit_variant (edit);
  const DewThing *lead = dew_variant_thing ((const DewVariant *) variant, self->lead_id);
  const guint *ids;
  guint n;

  ids = dew_document_selection (self->document, &n);
  for (guint i = 0; lead != NULL && i < n; i++)
    {
      DewThing *thing = dew_variant_thing (variant, ids[i]);

      if (thing != NULL && thing->id != lead->id && thing->kind == lead->kind)
        copy_value (field, lead, thing);
    }
}

/* Where something is and what it is called is its own; the rest can be shared. */
static gboolean
is_shared (const DewField *field)
{
  static const char *const own[] = { "name", "x_m",  "y_m",  "z_m",     "u0_m",     "u1_m",
                                     "v0_m", "v1_m", "face", "species", "sensor_id" };

  for (guint i = 0; i < G_N_ELEMENTS (own); i++)
    if (strcmp (field->key, own[i]) == 0)
      return FALSE;
  return TRUE;
}

static void
several_free (gpointer data)
{
  Several *self = data;

  g_array_unref (self->fields);
  g_free (self);
}

/* "Clay pot 1, Clay pot 2 and 3 more". */
static char *
names_of (const DewVariant *variant, const guint *ids, guint n)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < MIN (n, NAMES_SHOWN); i++)
    {
      const DewThing *thing = dew_variant_thing (variant, ids[i]);

      g_string_append_printf (text, "%s%s", i > 0 ? ", " : "", thing != NULL ? thing->name : "");
    }
  if (n > NAMES_SHOWN)
    g_string_append_printf (text, " … +%u", n - NAMES_SHOWN);
  return g_string_free (text, FALSE);
}

GtkWidget *
dew_several_new (DewDocument *document)
{
  GtkBox *column = GTK_BOX (gtk_box_new (GTK_ORIENTATION_VERTICAL, 0));
  const DewVariant *variant = dew_document_variant (document);
  Several *self = g_new0 (Several, 1);
  const DewField end = { 0 };
  const DewThing *lead;
  gboolean alike = TRUE;
  const guint *ids;
  guint n;

  self->document = document;
  self->lead_id = dew_document_selected (document);
  self->fields = g_array_new (FALSE, FALSE, sizeof (DewField));
  g_object_set_data_full (G_OBJECT (column), SEVERAL_KEY, self, several_free);
  ids = dew_document_selection (document, &n);
  lead = dew_variant_thing (variant, self->lead_id);
  g_return_val_if_fail (lead != NULL, GTK_WIDGET (column));
  for (guint i = 0; i < n; i++)
    {
      const DewThing *thing = dew_variant_thing (variant, ids[i]);

      alike = alike && thing != NULL && thing->kind == lead->kind;
    }
  {
    g_autofree char *title
      = g_strdup_printf (ngettext ("%u thing selected", "%u things selected", n), n);
    g_autofree char *names = names_of (variant, ids, n);

    dew_add_words (column, title, "pane-title");
    dew_add_words (column, names, "soft");
  }
  if (!alike)
    dew_add_words (column,
                   _ ("They are of different kinds: they can be moved, lined up and removed "
                      "together. Things of one kind share their numbers here."),
                   "soft");
  for (const DewField *field = dew_thing_fields (lead->kind); alike && field->key != NULL; field++)
    if (is_shared (field))
      g_array_append_val (self->fields, *field);
  g_array_append_val (self->fields, end);
  if (self->fields->len > 1)
    {
      g_autofree char *merge = g_strdup_printf ("several-%u-%u", n, self->lead_id);
      /* Translators: the words of an undo step that changes several things of a kind at once;
       * %s is the kind, as "Wet pot". */
      g_autofree char *what
        = g_strdup_printf (_ ("%s, several"), dew_thing_kind_label (lead->kind));

      gtk_box_append (column,
                      dew_form_new (document, (const DewField *) (gpointer) self->fields->data,
                                    find_lead, change_all, self, merge, what,
                                    _ ("For all of them")));
    }
  gtk_box_append (column, dew_way_new (_ ("Remove them from the sheet"), "remove", "win.delete"));
  return GTK_WIDGET (column);
}
