/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/surroundings.h"

#include "paint/palette.h"
#include "widgets/drop.h"
#include "panes/editor.h"
#include "widgets/names.h"
#include "widgets/parts.h"
#include "widgets/number.h"
#include "widgets/reason.h"
#include "say/names.h"

#include <glib/gi18n.h>

#include <string.h>

#define ALL_SIDES 0 /* first choice of the side; the faces follow */
#define N_CLIMATE_COLUMNS 4

/* --- enclosure --------------------------------------------------------- */

typedef struct
{
  DewDocument *document; /* lent: lives as long as the widgets */
  GtkWidget *form;
  GtkWidget *panel_form;
  guint side; /* ALL_SIDES, or face + 1 */
  gboolean filling;
} Enclosure;

static gconstpointer
find_chamber (const DewChamber *chamber, gpointer user_data)
{
  return chamber;
}

static gconstpointer
find_panel (const DewChamber *chamber, gpointer user_data)
{
  Enclosure *self = user_data;

  return &chamber->panels[self->side == ALL_SIDES ? 0 : self->side - 1];
}

/* With "all sides" the first panel is edited and the others follow it. */
static void
spread_panel (DewEdit *edit, const DewField *field, double was, gpointer user_data)
{
  Enclosure *self = user_data;
  DewChamber *chamber = dew_edit_chamber (edit);

  if (self->side != ALL_SIDES)
    return;
  for (int face = 1; face < DEW_N_FACES; face++)
    {
      if (field->type == DEW_FIELD_TEXT)
        dew_field_set_text (field, &chamber->panels[face],
                            dew_field_get_text (field, &chamber->panels[0]));
      else
        dew_field_set_real (field, &chamber->panels[face],
                            dew_field_get_real (field, &chamber->panels[0]));
    }
}

static void
on_side (GtkDropDown *drop, GParamSpec *pspec, gpointer user_data)
{
  Enclosure *self = user_data;

  self->side = gtk_drop_down_get_selected (drop);
  dew_form_refresh (self->panel_form);
}

static void
on_cover (GtkDropDown *drop, GParamSpec *pspec, gpointer user_data)
{
  Enclosure *self = user_data;
  guint selected = gtk_drop_down_get_selected (drop);
  g_autoptr (DewEdit) edit = NULL;
  g_autofree char *label = NULL;
  DewChamber *chamber;

  if (self->filling || selected == 0 || selected == GTK_INVALID_LIST_POSITION)
    return;
  edit = dew_document_edit_begin (self->document);
  chamber = dew_edit_chamber (edit);
  for (guint face = 0; face < DEW_N_FACES; face++)
    {
      if (self->side == ALL_SIDES || self->side == face + 1)
        dew_catalogue_apply_panel (selected - 1, &chamber->panels[face]);
    }
  label = g_strdup_printf (_ ("Cover with %s"),
                           dew_catalogue_text (dew_catalogue ("covers"), selected - 1, "name"));
  dew_edit_commit (edit, label, NULL);
}

static void
on_enclosure_changed (Enclosure *self)
{
  dew_form_refresh (self->form);
  dew_form_refresh (self->panel_form);
}

static void
on_enclosure_destroy (GtkWidget *widget, gpointer user_data)
{
  Enclosure *self = user_data;

  g_signal_handlers_disconnect_by_data (self->document, self);
}

/* --- small parts of both panes ----------------------------------------- */

static GtkWidget *
drop_new (GtkStringList *names, const char *spoken)
{
  GtkWidget *drop = dew_drop_new (names, spoken);

  gtk_widget_add_css_class (drop, "catalogue");
  return drop;
}

static GtkWidget *
side_chooser_new (Enclosure *self)
{
  GtkStringList *names = gtk_string_list_new (NULL);
  GtkWidget *drop;

  gtk_string_list_append (names, _ ("All sides"));
  for (int face = 0; face < DEW_N_FACES; face++)
    gtk_string_list_append (names, dew_choice_word (dew_face_key (face)));
  drop = drop_new (names, _ ("Side of the cover"));
  g_signal_connect (drop, "notify::selected", G_CALLBACK (on_side), self);
  return drop;
}

static GtkWidget *
cover_chooser_new (Enclosure *self)
{
  const DewCatalogue *catalogue = dew_catalogue ("covers");
  GtkStringList *names = gtk_string_list_new (NULL);
  GtkWidget *drop;

  gtk_string_list_append (names, _ ("Fill from the catalogue"));
  for (guint row = 0; row < dew_catalogue_rows (catalogue); row++)
    gtk_string_list_append (names,
                            dew_catalogue_word (dew_catalogue_text (catalogue, row, "name")));
  drop = drop_new (names, _ ("Cover from the catalogue"));
  g_signal_connect (drop, "notify::selected", G_CALLBACK (on_cover), self);
  return drop;
}

GtkWidget *
dew_enclosure_editor_new (DewDocument *document)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  Enclosure *self = g_new0 (Enclosure, 1);

  self->document = document;
  g_object_set_data_full (G_OBJECT (column), "dew-enclosure", self, g_free);
  self->form = dew_form_new (document, dew_enclosure_fields (), find_chamber, NULL, self,
                             "enclosure", _ ("Enclosure"), _ ("Leaks"));
  self->panel_form = dew_form_new (document, dew_panel_fields (), find_panel, spread_panel, self,
                                   "panel", _ ("Cover"), _ ("Heat and light"));
  gtk_box_append (GTK_BOX (column), dew_way_new (_ ("‹ All shelves"), "back", "win.show-bays"));
  gtk_box_append (GTK_BOX (column), dew_words_new (_ ("Enclosure"), "pane-title"));
  gtk_box_append (GTK_BOX (column), self->form);
  gtk_box_append (GTK_BOX (column), dew_words_new (_ ("Cover"), "pane-title"));
  gtk_box_append (GTK_BOX (column), side_chooser_new (self));
  gtk_box_append (GTK_BOX (column), cover_chooser_new (self));
  gtk_box_append (GTK_BOX (column), self->panel_form);
  g_signal_connect_swapped (document, "changed", G_CALLBACK (on_enclosure_changed), self);
  g_signal_connect (column, "destroy", G_CALLBACK (on_enclosure_destroy), self);
  return column;
}

/* --- room -------------------------------------------------------------- */

typedef struct
{
  DewDocument *document; /* lent: lives as long as the widgets */
  GtkWidget *form;
  GtkWidget *number[12][N_CLIMATE_COLUMNS];
  GtkWidget *month[12];
  GtkWidget *reason; /* why a number of the table is not taken */
  GPtrArray *rooms;  /* char*: room and climate of each choice, in turn */
  gboolean filling;
} Room;

static const struct
{
  const char *heading;
  const char *key; /* of a field of DewMonth */
} climate_columns[N_CLIMATE_COLUMNS] = {
  { NC_ ("time", "day"), "t_day_C" },
  { "", "rh_day" },
  { NC_ ("time", "night"), "t_night_C" },
  { "", "rh_night" },
};

static const DewField *
climate_field (int column)
{
  return dew_field_find (dew_month_fields (), climate_columns[column].key);
}

static const char *
short_month_name (int month)
{
  static const char *const names[12] = {
    NC_ ("short month", "Jan"), NC_ ("short month", "Feb"), NC_ ("short month", "Mar"),
    NC_ ("short month", "Apr"), NC_ ("short month", "May"), NC_ ("short month", "Jun"),
    NC_ ("short month", "Jul"), NC_ ("short month", "Aug"), NC_ ("short month", "Sep"),
    NC_ ("short month", "Oct"), NC_ ("short month", "Nov"), NC_ ("short month", "Dec"),
  };

  return g_dpgettext2 (NULL, "short month", names[month]);
}

static gconstpointer
find_room (const DewChamber *chamber, gpointer user_data)
{
  return &chamber->room;
}

static void
on_climate (GtkWidget *number, double si, gpointer user_data)
{
  Room *self = user_data;
  int which = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (number), "dew-which"));
  int column = which % N_CLIMATE_COLUMNS, month = which / N_CLIMATE_COLUMNS;
  g_autofree char *merge_key = g_strdup_printf ("climate-%d", which);
  g_autoptr (DewEdit) edit = NULL;

  if (self->filling)
    return;
  edit = dew_document_edit_begin (self->document);
  dew_field_set_real (climate_field (column), &dew_edit_chamber (edit)->room.months[month], si);
  dew_edit_commit (edit, _ ("Room by month"), merge_key);
}

static void
fill_climate (Room *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);

  self->filling = TRUE;
  for (int month = 0; month < 12; month++)
    {
      for (int column = 0; column < N_CLIMATE_COLUMNS; column++)
        dew_number_set (self->number[month][column],
                        dew_field_get_real (climate_field (column), &chamber->room.months[month]));
      if (month == chamber->month)
        gtk_widget_add_css_class (self->month[month], "present");
      else
        gtk_widget_remove_css_class (self->month[month], "present");
    }
  self->filling = FALSE;
}

static GtkWidget *
climate_table_new (Room *self)
{
  GtkWidget *grid = gtk_grid_new ();

  gtk_grid_set_row_spacing (GTK_GRID (grid), 2);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 2);
  gtk_widget_add_css_class (grid, "climate");
  self->filling = TRUE;
  for (int column = 0; column < N_CLIMATE_COLUMNS; column += 2)
    {
      GtkWidget *heading
        = dew_words_new (g_dpgettext2 (NULL, "time", climate_columns[column].heading),
                         "heading-soft");

      gtk_label_set_xalign (GTK_LABEL (heading), 0.5f);
      gtk_grid_attach (GTK_GRID (grid), heading, 1 + column, 0, 2, 1);
    }
  for (int month = 0; month < 12; month++)
    {
      self->month[month] = dew_words_new (short_month_name (month), "field");
      gtk_grid_attach (GTK_GRID (grid), self->month[month], 0, month + 1, 1, 1);
      for (int column = 0; column < N_CLIMATE_COLUMNS; column++)
        {
          const DewField *field = climate_field (column);
          /* Translators: for ears: a month, and what its number is. */
          g_autofree char *name
            = g_strdup_printf (_ ("%s, %s"), dew_month_name (month), dew_field_label (field));
          GtkWidget *number = dew_number_new (dew_unit_for_field (field, dew_tongue ()), field->min,
                                              field->max, name, on_climate, self);

          /* '13.0 °C' and '100 %': four of them beside each other in a narrow pane. */
          gtk_editable_set_width_chars (GTK_EDITABLE (number),
                                        field->quantity == DEW_QUANTITY_TEMPERATURE ? 6 : 5);
          gtk_editable_set_max_width_chars (GTK_EDITABLE (number), 7);
          gtk_widget_set_hexpand (number, TRUE);
          g_object_set_data (G_OBJECT (number), "dew-which",
                             GINT_TO_POINTER (month * N_CLIMATE_COLUMNS + column));
          self->number[month][column] = number;
          if (self->reason == NULL)
            self->reason = dew_reason_new (number);
          else
            dew_reason_share (number, self->reason);
          gtk_grid_attach (GTK_GRID (grid), number, 1 + column, month + 1, 1, 1);
        }
    }
  self->filling = FALSE;
  return grid;
}

static void
on_room_chosen (GtkDropDown *drop, GParamSpec *pspec, gpointer user_data)
{
  Room *self = user_data;
  guint selected = gtk_drop_down_get_selected (drop);
  g_autoptr (DewEdit) edit = NULL;
  const char *room, *climate;

  if (self->filling || selected == 0 || selected == GTK_INVALID_LIST_POSITION)
    return;
  room = g_ptr_array_index (self->rooms, 2 * (selected - 1));
  climate = g_ptr_array_index (self->rooms, 2 * (selected - 1) + 1);
  edit = dew_document_edit_begin (self->document);
  dew_catalogue_apply_room (room, climate, &dew_edit_chamber (edit)->room);
  dew_edit_commit (edit, _ ("Take another room"), NULL);
}

/* Rows of the table are months; a room is named by its January. */
static GtkWidget *
room_chooser_new (Room *self)
{
  const DewCatalogue *catalogue = dew_catalogue ("rooms");
  GtkStringList *names = gtk_string_list_new (NULL);
  GtkWidget *drop;

  self->rooms = g_ptr_array_new ();
  gtk_string_list_append (names, _ ("Fill from the catalogue"));
  for (guint row = 0; row < dew_catalogue_rows (catalogue); row++)
    {
      const char *room = dew_catalogue_text (catalogue, row, "room");
      const char *climate = dew_catalogue_text (catalogue, row, "climate");
      g_autofree char *name = NULL;

      if (strcmp (dew_catalogue_text (catalogue, row, "month"), "Jan") != 0)
        continue;
      name = g_strdup_printf ("%s: %s", dew_catalogue_word (room), dew_catalogue_word (climate));
      gtk_string_list_append (names, name);
      g_ptr_array_add (self->rooms, (gpointer) room);
      g_ptr_array_add (self->rooms, (gpointer) climate);
    }
  drop = drop_new (names, _ ("Room from the catalogue"));
  g_signal_connect (drop, "notify::selected", G_CALLBACK (on_room_chosen), self);
  return drop;
}

static void
on_room_changed (Room *self)
{
  dew_form_refresh (self->form);
  fill_climate (self);
}

static void
room_free (gpointer data)
{
  Room *self = data;

  g_ptr_array_unref (self->rooms);
  g_free (self);
}

static void
on_room_destroy (GtkWidget *widget, gpointer user_data)
{
  Room *self = user_data;

  g_signal_handlers_disconnect_by_data (self->document, self);
}

GtkWidget *
dew_room_editor_new (DewDocument *document)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  Room *self = g_new0 (Room, 1);

  self->document = document;
  g_object_set_data_full (G_OBJECT (column), "dew-room", self, room_free);
  self->form
    = dew_form_new (document, dew_room_fields (), find_room, NULL, self, "room", _ ("Room"), NULL);
  gtk_box_append (GTK_BOX (column), dew_way_new (_ ("‹ All shelves"), "back", "win.show-bays"));
  gtk_box_append (GTK_BOX (column), dew_words_new (_ ("Room"), "pane-title"));
  gtk_box_append (GTK_BOX (column), room_chooser_new (self));
  gtk_box_append (GTK_BOX (column), self->form);
  gtk_box_append (GTK_BOX (column), dew_words_new (_ ("Month by month"), "group-title"));
  gtk_box_append (GTK_BOX (column), dew_wide_new (climate_table_new (self), _ ("Table of months")));
  gtk_box_append (GTK_BOX (column), self->reason);
  on_room_changed (self);
  g_signal_connect_swapped (document, "changed", G_CALLBACK (on_room_changed), self);
  g_signal_connect (column, "destroy", G_CALLBACK (on_room_destroy), self);
  return column;
}
