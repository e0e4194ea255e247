/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A new enclosure: the kind that is nearest, or a few sizes. */
#include "geometry/geometry.h"
#include "pages/start.h"

#include "widgets/card.h"
#include "document/document.h"
#include "paint/palette.h"
#include "widgets/drop.h"
#include "widgets/names.h"
#include "widgets/number.h"
#include "widgets/parts.h"
#include "pages/pages.h"
#include "widgets/reason.h"
#include "panes/surroundings.h"
#include "say/names.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define MOST_SHELVES 20
#define FIRST_SHELVES 3
#define FIRST_COVER "PE film 200 um"
#define FORM_PX 340
#define NUMBER_CHARS 7
#define MIN_PER_LINE 2
#define MAX_PER_LINE 8

typedef struct
{
  DewNewMade made;
  gpointer user_data;

  GtkWidget *cards;
  GtkWidget *back;
  GtkWidget *own;     /* the card of one's own sizes */
  GtkWidget *sizes;   /* what is asked for those */
  GtkWidget *size[3]; /* numbers, m */
  GtkWidget *shelves;
  GtkWidget *cover;
  GtkWidget *name;
  GtkWidget *room;
  GtkWidget *month;
  GtkWidget *create;
  GPtrArray *rooms; /* catalogue: room, climate, room, climate ... (lent) */
  gboolean named;   /* by the person, not by the kind */
  gboolean filling;
} New;

/* --- what would be made ------------------------------------------------------ */

/* Row of the table of kinds, or -1 for one's own sizes. */
static int
chosen_kind (New *self)
{
  g_autoptr (GList) chosen = gtk_flow_box_get_selected_children (GTK_FLOW_BOX (self->cards));

  if (chosen == NULL || chosen->data == self->own)
    return -1;
  return gtk_flow_box_child_get_index (chosen->data) - 1;
}

static DewChamber *
from_sizes (New *self, GError **error)
{
  guint cover = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->cover));

  return dew_chamber_from_sizes (dew_number_get (self->size[0]), dew_number_get (self->size[1]),
                                 dew_number_get (self->size[2]),
                                 gtk_spin_button_get_value_as_int (GTK_SPIN_BUTTON (self->shelves)),
                                 cover, error);
}

static DewChamber *
make (New *self, GError **error)
{
  int kind = chosen_kind (self);
  guint room = 2 * gtk_drop_down_get_selected (GTK_DROP_DOWN (self->room));
  g_autofree char *name = g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->name)));
  DewChamber *chamber = kind >= 0 ? dew_chamber_from_kind ((guint) kind) : from_sizes (self, error);

  if (chamber == NULL)
    return NULL;
  g_strstrip (name);
  if (*name != '\0')
    dew_name_set (chamber->name, name);
  if (room + 1 < self->rooms->len)
    dew_catalogue_apply_room (g_ptr_array_index (self->rooms, room),
                              g_ptr_array_index (self->rooms, room + 1), &chamber->room);
  chamber->month = (int) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->month));
  return chamber;
}

/* --- keeping the page in step -------------------------------------------------- */

/* The card of one's own sizes shows what they make. Of numbers that are taken one by
 * one only the shelves can still be too many. */
static void
update (New *self)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (DewChamber) own = NULL;
  gboolean is_own = chosen_kind (self) < 0;

  if (self->filling)
    return;
  own = from_sizes (self, &error);
  dew_card_set_chamber (self->own, own);
  dew_cards_fit (GTK_FLOW_BOX (self->cards));
  gtk_widget_set_visible (self->sizes, is_own);
  dew_reason_say (self->shelves, own == NULL ? error->message : NULL);
  gtk_widget_set_sensitive (self->create, !is_own || own != NULL);
}

/* One's own sizes begin as those of the kind that was looked at last. */
static void
take_sizes (New *self, const DewChamber *chamber)
{
  g_autofree double *z_m = NULL;
  int bays = dew_variant_bays (chamber, dew_chamber_shown (chamber), &z_m, NULL);

  self->filling = TRUE;
  for (int axis = 0; axis < 3; axis++)
    dew_number_set (self->size[axis], chamber->outer_m[axis]);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (self->shelves), bays - 1);
  self->filling = FALSE;
}

static void
set_name (New *self, const char *name)
{
  if (self->named)
    return;
  self->filling = TRUE;
  gtk_editable_set_text (GTK_EDITABLE (self->name), name);
  self->filling = FALSE;
}

/* Names in the catalogue begin as the trade writes them, in small letters. */
static char *
own_name (const char *name)
{
  const char *rest = g_utf8_next_char (name);
  g_autofree char *first = g_utf8_strup (name, rest - name);

  return *name != '\0' ? g_strconcat (first, rest, NULL) : g_strdup (name);
}

static void
on_chosen (New *self)
{
  int kind = chosen_kind (self);
  g_autoptr (DewChamber) chamber = kind >= 0 ? dew_chamber_from_kind ((guint) kind) : NULL;

  if (chamber != NULL)
    {
      g_autofree char *name = own_name (dew_catalogue_word (chamber->name));

      take_sizes (self, chamber);
      set_name (self, name);
    }
  else
    set_name (self, _ ("My enclosure"));
  update (self);
}

/* A size that makes no enclosure is refused at its field. */
static void
on_number (GtkWidget *number, double si, gpointer user_data)
{
  New *self = user_data;
  g_autoptr (GError) error = NULL;
  g_autoptr (DewChamber) own = from_sizes (self, &error);

  if (own == NULL)
    dew_number_refuse (number, error->message);
  update (self);
}

static void
on_name (New *self)
{
  if (!self->filling)
    self->named = *gtk_editable_get_text (GTK_EDITABLE (self->name)) != '\0';
}

static void
on_create (New *self)
{
  g_autoptr (DewChamber) chamber = NULL;

  if (!gtk_widget_get_sensitive (self->create))
    return;
  chamber = make (self, NULL);
  if (chamber != NULL)
    self->made (chamber, self->user_data);
}

/* Double click or Enter on a card draws it, but one's own has numbers to give. */
static void
on_card_activated (New *self, GtkFlowBoxChild *child)
{
  gtk_flow_box_select_child (GTK_FLOW_BOX (self->cards), child);
  if (GTK_WIDGET (child) == self->own)
    gtk_widget_child_focus (self->sizes, GTK_DIR_TAB_FORWARD);
  else
    on_create (self);
}

/* Arrows choose among the cards. Tab would choose too, and walk through all of them,
 * so it leaves them instead: to the form, or back. */
static gboolean
on_card_key (New *self, guint key, guint code, GdkModifierType modifiers)
{
  GtkWidget *page = gtk_widget_get_ancestor (self->cards, GTK_TYPE_SCROLLED_WINDOW);

  if ((modifiers & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
    return FALSE;
  if (key == GDK_KEY_Tab)
    return gtk_widget_child_focus (gtk_widget_get_next_sibling (page), GTK_DIR_TAB_FORWARD);
  if (key == GDK_KEY_ISO_Left_Tab)
    return gtk_widget_grab_focus (self->back);
  return FALSE;
}

/* --- its parts ------------------------------------------------------------------- */

static char *
words_about (const DewChamber *chamber)
{
  const DewUnit *unit = dew_unit (DEW_MEASURE_LENGTH, dew_tongue ());

  /* Translators: outer width, depth and height of an enclosure, and their unit. */
  return g_strdup_printf (_ ("%.4g × %.4g × %.4g%s"), dew_unit_shown (unit, chamber->outer_m[0]),
                          dew_unit_shown (unit, chamber->outer_m[1]),
                          dew_unit_shown (unit, chamber->outer_m[2]), unit->symbol);
}

static GtkWidget *
cards_new (New *self)
{
  GtkFlowBox *cards = GTK_FLOW_BOX (gtk_flow_box_new ());
  GtkEventController *keys = gtk_event_controller_key_new ();
  guint n = dew_catalogue_rows (dew_catalogue ("enclosures"));

  self->cards = GTK_WIDGET (cards);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_card_key), self);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  gtk_widget_add_controller (self->cards, keys);
  gtk_flow_box_set_selection_mode (cards, GTK_SELECTION_BROWSE);
  gtk_flow_box_set_activate_on_single_click (cards, FALSE);
  gtk_flow_box_set_homogeneous (cards, TRUE);
  gtk_flow_box_set_min_children_per_line (cards, MIN_PER_LINE);
  gtk_flow_box_set_max_children_per_line (cards, MAX_PER_LINE);
  gtk_flow_box_set_row_spacing (cards, 4);
  gtk_widget_set_valign (self->cards, GTK_ALIGN_START);
  gtk_widget_add_css_class (self->cards, "cards");
  dew_name_widget (self->cards, _ ("Kinds of enclosure"));
  self->own = dew_card_new (_ ("My own sizes"));
  dew_card_set_words (self->own, _ ("typed beside"));
  gtk_flow_box_insert (cards, self->own, -1);
  for (guint row = 0; row < n; row++)
    {
      g_autoptr (DewChamber) chamber = dew_chamber_from_kind (row);
      g_autofree char *words = chamber != NULL ? words_about (chamber) : NULL;
      g_autofree char *name = NULL;
      GtkWidget *card;

      /* A row that makes nothing would be a card that does nothing. Tests look
       * for such rows. */
      g_return_val_if_fail (chamber != NULL, self->cards);
      name = own_name (dew_catalogue_word (chamber->name));
      card = dew_card_new (name);
      dew_card_set_chamber (card, chamber);
      dew_card_set_words (card, words);
      gtk_flow_box_insert (cards, card, -1);
    }
  return self->cards;
}

/* The label over its field, the reason for a refusal under it: so long words have
 * room too. */
static void
attach (GtkWidget *grid, int column, int row, int columns, const char *label, GtkWidget *widget)
{
  GtkWidget *words = dew_words_new (label, "field");
  GtkWidget *cell = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  gtk_label_set_use_underline (GTK_LABEL (words), TRUE);
  gtk_label_set_mnemonic_widget (GTK_LABEL (words), widget);
  gtk_box_append (GTK_BOX (cell), words);
  gtk_box_append (GTK_BOX (cell), widget);
  gtk_box_append (GTK_BOX (cell), dew_reason_new (widget));
  gtk_grid_attach (GTK_GRID (grid), cell, column, row, columns, 1);
}

static GtkWidget *
grid_new (void)
{
  GtkWidget *grid = gtk_grid_new ();

  gtk_grid_set_column_homogeneous (GTK_GRID (grid), TRUE);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 10);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 8);
  gtk_widget_add_css_class (grid, "form");
  return grid;
}

static GtkWidget *
cover_new (void)
{
  const DewCatalogue *covers = dew_catalogue ("covers");
  GtkStringList *names = gtk_string_list_new (NULL);
  int first = dew_catalogue_find (covers, FIRST_COVER);
  GtkWidget *drop;

  for (guint row = 0; row < dew_catalogue_rows (covers); row++)
    gtk_string_list_append (names, dew_catalogue_word (dew_catalogue_text (covers, row, "name")));
  drop = dew_drop_new (names, _ ("Cover"));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (drop), first > 0 ? (guint) first : 0);
  return drop;
}

static GtkWidget *
sizes_new (New *self)
{
  static const char *const labels[3] = { N_ ("_Width"), N_ ("_Depth"), N_ ("Hei_ght") };
  GtkWidget *grid = grid_new ();

  gtk_grid_attach (GTK_GRID (grid), dew_paragraph_new (_ ("Outer sizes"), "group-title"), 0, 0, 3,
                   1);
  for (int axis = 0; axis < 3; axis++)
    {
      const DewField *side = &dew_enclosure_fields ()[axis];

      self->size[axis] = dew_number_new (dew_unit_for_field (side, dew_tongue ()), side->min,
                                         side->max, dew_field_label (side), on_number, self);
      gtk_editable_set_width_chars (GTK_EDITABLE (self->size[axis]), NUMBER_CHARS);
      attach (grid, axis, 1, 1, _ (labels[axis]), self->size[axis]);
    }
  self->shelves = gtk_spin_button_new_with_range (0, MOST_SHELVES, 1);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (self->shelves), FIRST_SHELVES);
  gtk_editable_set_alignment (GTK_EDITABLE (self->shelves), 1.0f);
  gtk_widget_add_css_class (self->shelves, "number");
  dew_name_widget (self->shelves, _ ("Shelves"));
  gtk_editable_set_width_chars (GTK_EDITABLE (self->shelves), NUMBER_CHARS);
  attach (grid, 0, 2, 1, _ ("_Shelves"), self->shelves);
  self->cover = cover_new ();
  attach (grid, 1, 2, 2, _ ("_Cover"), self->cover);
  g_signal_connect_swapped (self->shelves, "value-changed", G_CALLBACK (update), self);
  g_signal_connect_swapped (self->cover, "notify::selected", G_CALLBACK (update), self);
  return grid;
}

/* Rows of the table are months; a room is named by its January. */
static GtkWidget *
room_new (New *self)
{
  const DewCatalogue *rooms = dew_catalogue ("rooms");
  GtkStringList *names = gtk_string_list_new (NULL);

  for (guint row = 0; row < dew_catalogue_rows (rooms); row++)
    {
      const char *room = dew_catalogue_text (rooms, row, "room");
      const char *climate = dew_catalogue_text (rooms, row, "climate");
      g_autofree char *name
        = g_strdup_printf ("%s: %s", dew_catalogue_word (room), dew_catalogue_word (climate));

      if (strcmp (dew_catalogue_text (rooms, row, "month"), "Jan") != 0)
        continue;
      gtk_string_list_append (names, name);
      g_ptr_array_add (self->rooms, (gpointer) room);
      g_ptr_array_add (self->rooms, (gpointer) climate);
    }
  return dew_drop_new (names, _ ("Room it stands in"));
}

static GtkWidget *
month_new (void)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  GtkStringList *names = gtk_string_list_new (NULL);
  GtkWidget *drop;

  for (int month = 0; month < 12; month++)
    gtk_string_list_append (names, dew_month_name (month));
  drop = dew_drop_new (names, _ ("Month"));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (drop), (guint) g_date_time_get_month (now) - 1);
  return drop;
}

static GtkWidget *
rest_new (New *self)
{
  GtkWidget *grid = grid_new ();

  self->name = gtk_entry_new ();
  gtk_entry_set_max_length (GTK_ENTRY (self->name), DEW_NAME_SIZE - 1);
  gtk_entry_set_activates_default (GTK_ENTRY (self->name), FALSE);
  dew_name_widget (self->name, _ ("Name"));
  self->room = room_new (self);
  self->month = month_new ();
  attach (grid, 0, 0, 1, _ ("_Name"), self->name);
  attach (grid, 0, 1, 1, _ ("_Room it stands in"), self->room);
  attach (grid, 0, 2, 1, _ ("_Month"), self->month);
  g_signal_connect_swapped (self->name, "changed", G_CALLBACK (on_name), self);
  g_signal_connect_swapped (self->name, "activate", G_CALLBACK (on_create), self);
  return grid;
}

static void
new_free (gpointer data)
{
  New *self = data;

  g_ptr_array_unref (self->rooms);
  g_free (self);
}

static GtkWidget *
form_new (New *self)
{
  GtkWidget *form = gtk_box_new (GTK_ORIENTATION_VERTICAL, 14);

  self->sizes = sizes_new (self);
  self->create = gtk_button_new_with_mnemonic (_ ("Draw _it"));
  gtk_widget_set_halign (self->create, GTK_ALIGN_START);
  gtk_widget_add_css_class (self->create, "chief");
  g_signal_connect_swapped (self->create, "clicked", G_CALLBACK (on_create), self);
  gtk_box_append (GTK_BOX (form), self->sizes);
  gtk_box_append (GTK_BOX (form), rest_new (self));
  gtk_box_append (GTK_BOX (form), self->create);
  gtk_widget_add_css_class (form, "new-form");
  gtk_widget_set_valign (form, GTK_ALIGN_START);
  gtk_widget_set_size_request (form, FORM_PX, -1);
  return form;
}

/* The kinds are scrolled, what is asked for beside them is not: the way on is always
 * in sight. */
GtkWidget *
dew_new_page_new (DewNewMade made, gpointer user_data)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 28);
  New *self = g_new0 (New, 1);
  GtkWidget *scroll;

  self->made = made;
  self->user_data = user_data;
  self->rooms = g_ptr_array_new ();
  g_object_set_data_full (G_OBJECT (column), "dew-new", self, new_free);

  dew_page_begin (GTK_BOX (column), _ ("New enclosure"));
  self->back = gtk_widget_get_first_child (column);
  gtk_widget_add_css_class (column, "whole");
  gtk_box_append (GTK_BOX (column),
                  dew_paragraph_new (_ ("Take the kind that is nearest to yours, or your own "
                                        "sizes. All of it can be changed later."),
                                     "soft"));
  scroll = dew_scroll_new (cards_new (self), _ ("Kinds of enclosure"));
  /* As wide as its row of cards, so that the form stays near them on a wide screen. */
  gtk_scrolled_window_set_propagate_natural_width (GTK_SCROLLED_WINDOW (scroll), TRUE);
  gtk_widget_set_vexpand (row, TRUE);
  gtk_box_append (GTK_BOX (row), scroll);
  gtk_box_append (GTK_BOX (row), dew_scroll_new (form_new (self), _ ("Sizes, name and room")));
  gtk_box_append (GTK_BOX (column), row);

  g_signal_connect_swapped (self->cards, "selected-children-changed", G_CALLBACK (on_chosen), self);
  g_signal_connect_swapped (self->cards, "child-activated", G_CALLBACK (on_card_activated), self);
  gtk_flow_box_select_child (GTK_FLOW_BOX (self->cards),
                             gtk_flow_box_get_child_at_index (GTK_FLOW_BOX (self->cards), 1));
  return column;
}
