/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/editor.h"

#include "canvas/refusal.h"
#include "widgets/drop.h"
#include "widgets/fold.h"
#include "widgets/names.h"
#include "widgets/number.h"
#include "widgets/reason.h"
#include "say/names.h"

#include <glib/gi18n.h>

#include <math.h>
#include <string.h>

typedef struct
{
  DewForm *form;
  const DewField *field;
  GtkWidget *label;
  GtkWidget *entry;
  GtkWidget *reason; /* line under it, or NULL */
  GArray *links;     /* of a link: the ids behind the choices */
} Row;

struct _DewForm
{
  DewDocument *document; /* lent: lives as long as the widgets */
  const DewField *fields;
  DewRecordFinder find;
  DewFormAlso also;
  gpointer user_data;
  char *merge;
  char *what;
  GPtrArray *rows; /* Row */
  gboolean filling;
};

#define LABEL_CHARS 16
#define FORM_KEY "dew-form"

/* --- which fields go where --------------------------------------------- */

typedef enum
{
  GROUP_NAME,
  GROUP_PLACE,
  GROUP_SIZE,
  GROUP_WORK,
  GROUP_EXPERT, /* folded away */
  N_GROUPS
} Group;

static const char *const group_titles[N_GROUPS]
  = { NULL, N_ ("Place"), N_ ("Size"), NULL, N_ ("For experts") };

/* Beginnings of keys; what is not listed belongs to what the thing does. */
/* clang-format off */
static const struct
{
  const char *prefix;
  Group group;
} groups[] = {
  { "name", GROUP_NAME },       { "note", GROUP_NAME },      { "outer_", GROUP_SIZE },
  { "x_m", GROUP_PLACE },       { "y_m", GROUP_PLACE },      { "z_m", GROUP_PLACE },
  { "u0_m", GROUP_PLACE },      { "u1_m", GROUP_PLACE },     { "v0_m", GROUP_PLACE },
  { "v1_m", GROUP_PLACE },      { "face", GROUP_PLACE },     { "azimuth", GROUP_PLACE },
  { "elevation", GROUP_PLACE }, { "mount", GROUP_PLACE },    { "sense", GROUP_PLACE },
  { "gap_", GROUP_PLACE },      { "width", GROUP_SIZE },     { "depth", GROUP_SIZE },
  { "height", GROUP_SIZE },     { "length", GROUP_SIZE },    { "diameter", GROUP_SIZE },
  { "thickness", GROUP_SIZE },  { "rim_", GROUP_SIZE },      { "discharge_", GROUP_EXPERT },
  { "loss_", GROUP_EXPERT },    { "drag_", GROUP_EXPERT },   { "leak_exponent", GROUP_EXPERT },
};
/* clang-format on */

/* A field that only means something while a choice has a certain value. */
/* clang-format off */
static const struct
{
  const char *key;
  const char *depends_on;
  const char *value;
} conditions[] = {
  { "face", "mount", "in_wall" },
  { "sense", "mount", "in_wall" },
  { "duct_flow_m3_s", "kind", "duct" },
  { "free_ratio", "kind", "!duct" },
  { "open_fraction", "kind", "!duct" },
  { "discharge_coefficient", "kind", "!duct" },
};
/* clang-format on */

static Group
group_of (const DewField *field)
{
  for (guint i = 0; i < G_N_ELEMENTS (groups); i++)
    {
      if (g_str_has_prefix (field->key, groups[i].prefix))
        return groups[i].group;
    }
  return GROUP_WORK;
}

static gboolean
applies (const DewField *fields, const DewField *field, gconstpointer record)
{
  for (guint i = 0; i < G_N_ELEMENTS (conditions); i++)
    {
      const DewField *decider;
      const char *wanted = conditions[i].value;
      gboolean not = wanted[0] == '!', same;

      if (strcmp (conditions[i].key, field->key) != 0)
        continue;
      decider = dew_field_find (fields, conditions[i].depends_on);
      if (decider == NULL || decider->choices == NULL)
        continue;
      same = strcmp (decider->choices[dew_field_get_int (decider, record)], wanted + not ) == 0;
      if (same == not )
        return FALSE;
    }
  return TRUE;
}

/* --- changes ----------------------------------------------------------- */

static void
commit (Row *row, DewEdit *edit)
{
  DewForm *form = row->form;
  g_autofree char *merge_key = g_strdup_printf ("%s-%s", form->merge, row->field->key);
  /* Translators: an undo step: what was changed, and which number of it. */
  g_autofree char *label = g_strdup_printf (_ ("%s: %s"), form->what, dew_field_label (row->field));

  dew_edit_commit (edit, label, merge_key);
}

static void
changed (Row *row, DewEdit *edit)
{
  DewForm *form = row->form;

  if (form->also != NULL)
    form->also (edit, row->field, NAN, form->user_data);
  commit (row, edit);
}

static gconstpointer
record_of (DewForm *form)
{
  const DewChamber *chamber = dew_document_chamber (form->document);

  return chamber != NULL ? form->find (chamber, form->user_data) : NULL;
}

/* The record to be changed, found in what an edit lends for that. */
static gpointer
record_in (DewForm *form, DewEdit *edit)
{
  return edit != NULL ? (gpointer) form->find (dew_edit_chamber (edit), form->user_data) : NULL;
}

static double
get_number (const DewField *field, gconstpointer record)
{
  return field->type == DEW_FIELD_COUNT ? dew_field_get_int (field, record)
                                        : dew_field_get_real (field, record);
}

static void
on_number (GtkWidget *widget, double si, gpointer user_data)
{
  Row *row = user_data;
  DewForm *form = row->form;
  g_autoptr (DewEdit) edit = NULL;
  g_autofree char *refusal = NULL;
  gpointer record;
  double was;

  if (form->filling)
    return;
  edit = dew_document_edit_begin (form->document);
  record = record_in (form, edit);
  if (record == NULL)
    return;
  was = get_number (row->field, record);
  si = CLAMP (si, row->field->min, row->field->max);
  if (row->field->type == DEW_FIELD_COUNT)
    dew_field_set_int (row->field, record, (int) lround (si));
  else
    dew_field_set_real (row->field, record, si);
  if (form->also != NULL)
    form->also (edit, row->field, was, form->user_data);
  refusal = dew_refusal_layout (dew_edit_before (edit), dew_edit_chamber (edit),
                                dew_document_selected (form->document));
  if (refusal == NULL)
    commit (row, edit);
  else
    dew_number_refuse (widget, refusal);
}

/* A choice, or a flag as 0 or 1. */
static void
set_int (Row *row, int value)
{
  g_autoptr (DewEdit) edit = dew_document_edit_begin (row->form->document);
  gpointer record = record_in (row->form, edit);

  if (record == NULL)
    return;
  dew_field_set_int (row->field, record, value);
  changed (row, edit);
}

static void
on_choice (GtkDropDown *drop, GParamSpec *pspec, gpointer user_data)
{
  Row *row = user_data;
  guint selected = gtk_drop_down_get_selected (drop);

  if (row->form->filling || selected == GTK_INVALID_LIST_POSITION)
    return;
  set_int (row,
           row->links != NULL ? (int) g_array_index (row->links, guint, selected) : (int) selected);
}

static void
on_flag (GtkCheckButton *check, gpointer user_data)
{
  Row *row = user_data;

  if (!row->form->filling)
    set_int (row, gtk_check_button_get_active (check));
}

static gboolean
is_name (const DewField *field)
{
  return strcmp (field->key, "name") == 0;
}

static void
on_text (GtkEditable *editable, gpointer user_data)
{
  Row *row = user_data;
  g_autofree char *text = g_strdup (gtk_editable_get_text (editable));
  g_autofree char *refusal = NULL;
  g_autoptr (DewEdit) edit = NULL;
  gpointer record;

  if (row->form->filling || record_of (row->form) == NULL)
    return;
  if (is_name (row->field))
    refusal = dew_refusal_name (text, row->field->size);
  else if (strlen (text) >= row->field->size)
    refusal = g_strdup (_ ("This text is too long; shorten it a little."));
  dew_reason_say (row->entry, refusal);
  if (refusal != NULL)
    return;
  edit = dew_document_edit_begin (row->form->document);
  record = record_in (row->form, edit);
  if (record == NULL)
    return;
  dew_field_set_text (row->field, record, text);
  changed (row, edit);
}

/* What was refused goes with the keyboard. */
static void
on_text_leave (GtkEventControllerFocus *focus, gpointer user_data)
{
  Row *row = user_data;
  gconstpointer record = record_of (row->form);

  if (dew_reason_said (row->entry) == NULL || record == NULL)
    return;
  row->form->filling = TRUE;
  gtk_editable_set_text (GTK_EDITABLE (row->entry), dew_field_get_text (row->field, record));
  row->form->filling = FALSE;
  dew_reason_say (row->entry, NULL);
}

static gboolean
on_text_key (GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state,
             gpointer user_data)
{
  Row *row = user_data;

  if (dew_reason_said (row->entry) == NULL)
    return FALSE;
  if (key == GDK_KEY_Escape)
    {
      on_text_leave (NULL, row);
      return TRUE;
    }
  return key == GDK_KEY_Return || key == GDK_KEY_KP_Enter || key == GDK_KEY_Tab
         || key == GDK_KEY_ISO_Left_Tab;
}

/* --- widgets ----------------------------------------------------------- */

static GtkWidget *
choice_new (Row *row)
{
  GtkStringList *names = gtk_string_list_new (NULL);
  GtkWidget *drop;

  for (const char *const *key = row->field->choices; *key != NULL; key++)
    gtk_string_list_append (names, dew_choice_word (*key));
  drop = dew_drop_new (names, dew_field_label (row->field));
  g_signal_connect (drop, "notify::selected", G_CALLBACK (on_choice), row);
  return drop;
}

/* The instruments of the variant, and none. */
static void
fill_links (Row *row, int present)
{
  const DewVariant *variant = dew_document_variant (row->form->document);
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  guint none = 0, selected = 0;

  g_array_set_size (row->links, 0);
  g_array_append_val (row->links, none);
  /* Translators: what a humidistat listens to: the air where the mist comes out. */
  gtk_string_list_append (names, _ ("its own outlet"));
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind != DEW_THING_INSTRUMENT)
        continue;
      if (thing->id == (guint) present)
        selected = row->links->len;
      g_array_append_val (row->links, thing->id);
      gtk_string_list_append (names, thing->name);
    }
  gtk_drop_down_set_model (GTK_DROP_DOWN (row->entry), G_LIST_MODEL (names));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (row->entry), selected);
}

static void
watch_text (GtkWidget *entry, Row *row)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_text_key), row);
  gtk_widget_add_controller (entry, keys);
  g_signal_connect (focus, "leave", G_CALLBACK (on_text_leave), row);
  gtk_widget_add_controller (entry, focus);
}

static GtkWidget *
entry_new (Row *row)
{
  const DewField *field = row->field;
  GtkWidget *entry;

  switch (field->type)
    {
    case DEW_FIELD_REAL:
    case DEW_FIELD_COUNT:
      return dew_number_new (dew_unit_for_field (field, dew_tongue ()), field->min, field->max,
                             dew_field_label (field), on_number, row);
    case DEW_FIELD_CHOICE:
      return choice_new (row);
    case DEW_FIELD_LINK:
      row->links = g_array_new (FALSE, FALSE, sizeof (guint));
      entry = dew_drop_new (NULL, dew_field_label (field));
      g_signal_connect (entry, "notify::selected", G_CALLBACK (on_choice), row);
      return entry;
    case DEW_FIELD_FLAG:
      entry = gtk_check_button_new ();
      gtk_widget_set_halign (entry, GTK_ALIGN_END);
      g_signal_connect (entry, "toggled", G_CALLBACK (on_flag), row);
      return entry;
    case DEW_FIELD_TEXT:
      entry = gtk_entry_new ();
      gtk_editable_set_width_chars (GTK_EDITABLE (entry), 12);
      g_signal_connect (entry, "changed", G_CALLBACK (on_text), row);
      watch_text (entry, row);
      return entry;
    }
  g_return_val_if_reached (NULL);
}

static void
fill_row (Row *row, gconstpointer record)
{
  const DewField *field = row->field;

  switch (field->type)
    {
    case DEW_FIELD_REAL:
      dew_number_set (row->entry, dew_field_get_real (field, record));
      break;
    case DEW_FIELD_COUNT:
      dew_number_set (row->entry, dew_field_get_int (field, record));
      break;
    case DEW_FIELD_CHOICE:
      gtk_drop_down_set_selected (GTK_DROP_DOWN (row->entry),
                                  (guint) dew_field_get_int (field, record));
      break;
    case DEW_FIELD_LINK:
      fill_links (row, dew_field_get_int (field, record));
      break;
    case DEW_FIELD_FLAG:
      gtk_check_button_set_active (GTK_CHECK_BUTTON (row->entry),
                                   dew_field_get_int (field, record) != 0);
      break;
    case DEW_FIELD_TEXT:
      if (dew_reason_said (row->entry) == NULL
          && strcmp (gtk_editable_get_text (GTK_EDITABLE (row->entry)),
                     dew_field_get_text (field, record))
               != 0)
        gtk_editable_set_text (GTK_EDITABLE (row->entry), dew_field_get_text (field, record));
      break;
    }
}

static void
row_free (gpointer data)
{
  Row *row = data;

  g_clear_pointer (&row->links, g_array_unref);
  g_free (row);
}

static void
form_free (gpointer data)
{
  DewForm *form = data;

  g_ptr_array_unref (form->rows);
  g_free (form->merge);
  g_free (form->what);
  g_free (form);
}

/* Takes two rows of the grid: the second for what may have to be said. */
static void
add_row (DewForm *form, GtkGrid *grid, int at, const DewField *field)
{
  Row *row = g_new0 (Row, 1);

  row->form = form;
  row->field = field;
  row->label = gtk_label_new (dew_field_label (field));
  gtk_label_set_xalign (GTK_LABEL (row->label), 0.0f);
  gtk_label_set_wrap (GTK_LABEL (row->label), TRUE);
  /* A long name takes two lines rather than the room of what is chosen beside it. */
  gtk_label_set_max_width_chars (GTK_LABEL (row->label), LABEL_CHARS);
  gtk_widget_set_hexpand (row->label, TRUE);
  gtk_widget_add_css_class (row->label, "field");
  row->entry = entry_new (row);
  if (field->type != DEW_FIELD_FLAG)
    gtk_widget_set_halign (row->entry, GTK_ALIGN_FILL);
  gtk_label_set_mnemonic_widget (GTK_LABEL (row->label), row->entry);
  dew_name_widget (row->entry, dew_field_label (field));
  gtk_grid_attach (grid, row->label, 0, at, 1, 1);
  gtk_grid_attach (grid, row->entry, 1, at, 1, 1);
  if (field->type == DEW_FIELD_REAL || field->type == DEW_FIELD_COUNT
      || field->type == DEW_FIELD_TEXT)
    {
      row->reason = dew_reason_new (row->entry);
      gtk_grid_attach (grid, row->reason, 0, at + 1, 2, 1);
    }
  g_ptr_array_add (form->rows, row);
}

static void
add_title (GtkGrid *grid, int at, const char *text)
{
  GtkWidget *title = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (title), 0.0f);
  gtk_widget_add_css_class (title, "group-title");
  gtk_grid_attach (grid, title, 0, at, 2, 1);
}

static GtkWidget *
grid_new (void)
{
  GtkWidget *grid = gtk_grid_new ();

  gtk_widget_add_css_class (grid, "form");
  gtk_grid_set_row_spacing (GTK_GRID (grid), 4);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  return grid;
}

/* What hardly anybody changes. */
static void
add_expert (DewForm *form, GtkGrid *grid, int at, const char *title)
{
  GtkWidget *inner = grid_new ();
  int row = 0;

  for (const DewField *field = form->fields; field->key != NULL; field++)
    if (group_of (field) == GROUP_EXPERT)
      {
        add_row (form, GTK_GRID (inner), row, field);
        row += 2;
      }
  if (row > 0)
    gtk_grid_attach (grid, dew_fold_new (title, inner), 0, at, 2, 1);
  else
    g_object_unref (g_object_ref_sink (inner));
}

GtkWidget *
dew_form_new (DewDocument *document, const DewField *fields, DewRecordFinder find, DewFormAlso also,
              gpointer user_data, const char *merge, const char *what, const char *work_title)
{
  GtkWidget *grid = grid_new ();
  DewForm *form = g_new0 (DewForm, 1);
  int at = 0;

  form->document = document;
  form->fields = fields;
  form->find = find;
  form->also = also;
  form->user_data = user_data;
  form->merge = g_strdup (merge);
  form->what = g_strdup (what);
  form->rows = g_ptr_array_new_with_free_func (row_free);
  g_object_set_data_full (G_OBJECT (grid), FORM_KEY, form, form_free);

  form->filling = TRUE;
  for (Group group = 0; group < N_GROUPS; group++)
    {
      const char *title = group == GROUP_WORK           ? work_title
                          : group_titles[group] != NULL ? _ (group_titles[group])
                                                        : NULL;
      gboolean titled = FALSE;

      if (group == GROUP_EXPERT)
        {
          add_expert (form, GTK_GRID (grid), at++, title);
          continue;
        }
      for (const DewField *field = fields; field->key != NULL; field++)
        {
          /* A species is chosen from the catalogue, not typed. */
          if (group_of (field) != group || strcmp (field->key, "species") == 0)
            continue;
          if (!titled && title != NULL)
            add_title (GTK_GRID (grid), at++, title);
          titled = TRUE;
          add_row (form, GTK_GRID (grid), at, field);
          at += 2;
        }
    }
  form->filling = FALSE;
  dew_form_refresh (grid);
  return grid;
}

static DewForm *
form_of (GtkWidget *widget)
{
  return g_object_get_data (G_OBJECT (widget), FORM_KEY);
}

void
dew_form_refresh (GtkWidget *widget)
{
  DewForm *form = form_of (widget);
  gconstpointer record;

  g_return_if_fail (form != NULL);

  record = record_of (form);
  if (record == NULL)
    return;
  form->filling = TRUE;
  for (guint i = 0; i < form->rows->len; i++)
    {
      Row *row = g_ptr_array_index (form->rows, i);
      gboolean shown = applies (form->fields, row->field, record);

      fill_row (row, record);
      gtk_widget_set_visible (row->label, shown);
      gtk_widget_set_visible (row->entry, shown);
      if (row->reason != NULL && !shown)
        dew_reason_say (row->entry, NULL);
    }
  form->filling = FALSE;
}

void
dew_form_focus (GtkWidget *widget)
{
  DewForm *form = form_of (widget);

  g_return_if_fail (form != NULL);
  for (guint i = 0; i < form->rows->len; i++)
    {
      Row *row = g_ptr_array_index (form->rows, i);

      if (row->field->type == DEW_FIELD_REAL && gtk_widget_get_visible (row->entry))
        {
          gtk_widget_grab_focus (row->entry);
          return;
        }
    }
}

GtkWidget *
dew_form_widget (GtkWidget *widget, const char *key)
{
  DewForm *form = form_of (widget);

  g_return_val_if_fail (form != NULL, NULL);
  for (guint i = 0; i < form->rows->len; i++)
    {
      Row *row = g_ptr_array_index (form->rows, i);

      if (strcmp (row->field->key, key) == 0)
        return row->entry;
    }
  return NULL;
}
