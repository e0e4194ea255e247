/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "questions/wishes.h"

#include "panes/editor.h"
#include "widgets/fold.h"
#include "widgets/names.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>
#include <string.h>

#define NAME_KEY "dew-species"
#define LIST_HEIGHT_PX 280

typedef struct
{
  DewDocument *document;                /* lent: lives as long as the widgets */
  GtkWidget *wishes, *kinds, *standing; /* boxes, filled anew when something comes or goes */
  GtkWidget *hint, *popover, *search, *found, *own;
  char *shape;      /* what there is, so that forms in use are left alone */
  GPtrArray *forms; /* GtkWidget, lent */
  GPtrArray *folds; /* DewFold of the wishes, lent */
  gboolean filling;
} Wishes;

/* --- one fold with a form ---------------------------------------------------- */

static gconstpointer
find_wish (const DewChamber *chamber, gpointer user_data)
{
  return dew_chamber_wish (chamber, GPOINTER_TO_UINT (user_data));
}

static gconstpointer
find_kind (const DewChamber *chamber, gpointer user_data)
{
  guint index = GPOINTER_TO_UINT (user_data);

  return index < chamber->kinds->len ? &g_array_index (chamber->kinds, DewPlantKind, index) : NULL;
}

static char *
wish_title (const DewWish *wish)
{
  switch (wish->state)
    {
    case DEW_PLANT_WEAK:
      /* Translators: how many, and the name of a plant. */
      return g_strdup_printf (_ ("%d × %s, weak"), wish->count, wish->name);
    case DEW_PLANT_ARRIVED:
      return g_strdup_printf (_ ("%d × %s, just arrived"), wish->count, wish->name);
    default:
      return g_strdup_printf (_ ("%d × %s"), wish->count, wish->name);
    }
}

static GtkWidget *
remove_new (const char *label, GCallback clicked, gpointer id, Wishes *self)
{
  GtkWidget *button = dew_way_new (label, "way", NULL);

  g_object_set_data (G_OBJECT (button), "dew-id", id);
  g_signal_connect (button, "clicked", clicked, self);
  return button;
}

static guint
button_id (GtkButton *button)
{
  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "dew-id"));
}

static GtkWidget *
fold_new (const char *title, GtkWidget *form, GtkWidget *away)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);

  gtk_box_append (GTK_BOX (box), form);
  gtk_box_append (GTK_BOX (box), away);
  gtk_widget_add_css_class (box, "folded");
  return dew_fold_new (title, box);
}

/* --- wishes ------------------------------------------------------------------- */

static void
on_wish_away (GtkButton *button, gpointer user_data)
{
  Wishes *self = user_data;
  g_autoptr (DewEdit) edit = dew_document_edit_begin (self->document);

  if (dew_chamber_remove_wish (dew_edit_chamber (edit), button_id (button)))
    dew_edit_commit (edit, _ ("Take a plant off the list"), NULL);
}

static void
add_wish_row (Wishes *self, const DewWish *wish)
{
  g_autofree char *title = wish_title (wish);
  g_autofree char *merge = g_strdup_printf ("wish-%u", wish->id);
  GtkWidget *form = dew_form_new (self->document, dew_wish_fields (), find_wish, NULL,
                                  GUINT_TO_POINTER (wish->id), merge, _ ("Wished-for plant"), NULL);
  GtkWidget *fold = fold_new (title, form,
                              remove_new (_ ("Take it off the list"), G_CALLBACK (on_wish_away),
                                          GUINT_TO_POINTER (wish->id), self));

  g_ptr_array_add (self->forms, form);
  g_ptr_array_add (self->folds, fold);
  gtk_box_append (GTK_BOX (self->wishes), fold);
}

guint
dew_ask_wish_for (DewDocument *document, const char *species)
{
  g_autoptr (DewEdit) edit = dew_document_edit_begin (document);
  g_autofree char *label = NULL;
  DewWish wish;
  guint id;

  g_return_val_if_fail (edit != NULL && species != NULL, 0);

  dew_wish_init (&wish);
  dew_name_set (wish.name, species);
  dew_name_set (wish.species, species);
  id = dew_chamber_add_wish (dew_edit_chamber (edit), &wish)->id;
  label = g_strdup_printf (_ ("Wish for %s"), species);
  dew_edit_commit (edit, label, NULL);
  return id;
}

/* --- the grower's own kinds ------------------------------------------------------ */

static void
on_kind_away (GtkButton *button, gpointer user_data)
{
  Wishes *self = user_data;
  g_autoptr (DewEdit) edit = dew_document_edit_begin (self->document);
  const DewPlantKind *kind
    = find_kind (dew_edit_before (edit), GUINT_TO_POINTER (button_id (button)));

  if (kind != NULL && dew_chamber_remove_kind (dew_edit_chamber (edit), kind->name))
    dew_edit_commit (edit, _ ("Remove a kind of plant"), NULL);
}

/* What the group makes likely goes with it; who knows better chooses after that. */
static void
on_group (DewEdit *edit, const DewField *field, double was, gpointer user_data)
{
  DewPlantKind *kind = (DewPlantKind *) find_kind (dew_edit_chamber (edit), user_data);

  if (kind != NULL && strcmp (field->key, "group") == 0)
    kind->leaf = (int) dew_catalogue_leaf_guess (kind->name, kind->group);
}

static void
add_kind_row (Wishes *self, const DewPlantKind *kind, guint index)
{
  g_autofree char *merge = g_strdup_printf ("kind-%u", index);
  GtkWidget *form = dew_form_new (self->document, dew_plant_kind_fields (), find_kind, on_group,
                                  GUINT_TO_POINTER (index), merge, _ ("Kind of plant"), NULL);

  g_ptr_array_add (self->forms, form);
  gtk_box_append (GTK_BOX (self->kinds),
                  fold_new (kind->name, form,
                            remove_new (_ ("Remove this kind"), G_CALLBACK (on_kind_away),
                                        GUINT_TO_POINTER (index), self)));
}

/* A kind that is named as was typed, and a wish for it. */
static void
on_own_kind (Wishes *self)
{
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->search));
  g_autoptr (DewEdit) edit = NULL;
  g_autofree char *stripped = g_strstrip (g_strdup (typed));
  const char *name = *stripped != '\0' ? stripped : _ ("My plant");
  DewPlantKind kind;
  DewWish wish;

  gtk_popover_popdown (GTK_POPOVER (self->popover));
  dew_plant_kind_init (&kind);
  dew_name_set (kind.name, name);
  kind.leaf = (int) dew_catalogue_leaf_guess (kind.name, kind.group);
  edit = dew_document_edit_begin (self->document);
  dew_chamber_add_kind (dew_edit_chamber (edit), &kind);
  dew_wish_init (&wish);
  dew_name_set (wish.name, kind.name);
  dew_name_set (wish.species, kind.name);
  dew_chamber_add_wish (dew_edit_chamber (edit), &wish);
  dew_edit_commit (edit, _ ("Add a kind of plant"), NULL);
}

/* --- adding -------------------------------------------------------------------- */

static const char *
typed_text (Wishes *self)
{
  return gtk_editable_get_text (GTK_EDITABLE (self->search));
}

/* Whether it is a list of plants that is typed or pasted, not one name. */
static gboolean
is_list (const char *typed)
{
  while (*typed == ' ')
    typed++;
  return g_ascii_isdigit (*typed) || strpbrk (typed, ",;\n") != NULL;
}

/* name: of the kind that a click takes; NULL: none. */
static void
add_row (Wishes *self, const char *title, const char *below, const char *name)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *row = dew_row_new (box, title);

  dew_add_words (GTK_BOX (box), title, NULL);
  dew_add_words (GTK_BOX (box), below, "heading-soft");
  g_object_set_data_full (G_OBJECT (row), NAME_KEY, g_strdup (name), g_free);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), name != NULL);
  gtk_list_box_append (GTK_LIST_BOX (self->found), row);
}

/* Kinds by any of their names, the likeliest first. */
static void
fill_found (Wishes *self)
{
  const DewCatalogue *plants = dew_catalogue ("plants");
  const DewChamber *chamber = dew_document_chamber (self->document);
  g_autoptr (GArray) found = dew_catalogue_search_plants (chamber, typed_text (self));

  for (guint i = 0; i < found->len; i++)
    {
      const DewPlantMatch *match = &g_array_index (found, DewPlantMatch, i);
      const char *group
        = match->row < 0
            ? _ ("your own kind")
            : dew_catalogue_word (dew_catalogue_text (plants, (guint) match->row, "group"));
      g_auto (GStrv) also
        = g_strsplit (match->row < 0 ? "" : dew_catalogue_text (plants, (guint) match->row, "also"),
                      ";", -1);
      g_autofree char *common = g_strjoinv (_ (", "), also);
      g_autofree char *below
        = common[0] != '\0' ? g_strdup_printf (_ ("%s: %s"), group, common) : g_strdup (group);

      add_row (self, match->name, below, match->name);
    }
}

/* What each entry of a list is taken for. Returns how many are clear, by number of plants. */
static int
fill_list (Wishes *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);
  g_autoptr (GArray) list = dew_catalogue_read_list (chamber, typed_text (self));
  int clear = 0;

  for (guint i = 0; i < list->len; i++)
    {
      const DewListedPlant *plant = &g_array_index (list, DewListedPlant, i);
      g_autofree char *title = g_strdup_printf (_ ("%d × %s"), plant->count, plant->typed);
      g_autoptr (GArray) like = NULL;
      g_autofree char *below = NULL;

      clear += plant->known ? plant->count : 0;
      if (!plant->known)
        like = dew_catalogue_search_plants (chamber, plant->looked_for);
      if (plant->known)
        below = g_strdup (plant->species);
      else if (like->len == 0)
        below = g_strdup (_ ("The catalogue knows no plant of that name."));
      else
        /* Translators: names of kinds of plant. */
        below
          = g_strdup_printf (_ ("Which one? %s%s%s"), g_array_index (like, DewPlantMatch, 0).name,
                             like->len > 1 ? _ (", ") : "",
                             like->len > 1 ? g_array_index (like, DewPlantMatch, 1).name : "");
      add_row (self, title, below, NULL);
    }
  return clear;
}

static void
on_search (Wishes *self)
{
  const char *typed = typed_text (self);
  g_autofree char *label = NULL;
  int clear = 0;

  dew_empty (self->found);
  if (is_list (typed))
    clear = fill_list (self);
  else
    fill_found (self);
  if (is_list (typed))
    label = g_strdup_printf (ngettext ("Add %d plant", "Add %d plants", clear), clear);
  else if (*typed != '\0')
    label = g_strdup_printf (_ ("Make “%s” a kind of my own"), typed);
  else
    label = g_strdup (_ ("Make a kind of my own"));
  gtk_button_set_label (GTK_BUTTON (self->own), label);
  gtk_widget_set_sensitive (self->own, !is_list (typed) || clear > 0);
}

/* Those that are clear; the others stay to be typed anew. */
static void
add_list (Wishes *self)
{
  g_autoptr (DewEdit) edit = dew_document_edit_begin (self->document);
  g_autoptr (GArray) list = NULL;
  g_autoptr (GString) rest = g_string_new (NULL);

  list = dew_catalogue_read_list (dew_edit_before (edit), typed_text (self));
  for (guint i = 0; i < list->len; i++)
    {
      const DewListedPlant *plant = &g_array_index (list, DewListedPlant, i);

      if (plant->known)
        dew_catalogue_wish_for (dew_edit_chamber (edit), plant);
      else
        g_string_append_printf (rest, "%s%d %s", rest->len > 0 ? ", " : "", plant->count,
                                plant->typed);
    }
  dew_edit_commit (edit, _ ("Wish for plants"), NULL);
  if (rest->len == 0)
    gtk_popover_popdown (GTK_POPOVER (self->popover));
  gtk_editable_set_text (GTK_EDITABLE (self->search), rest->str);
}

static void
on_own (Wishes *self)
{
  if (is_list (typed_text (self)))
    add_list (self);
  else
    on_own_kind (self);
}

static void
on_found (GtkListBox *list, GtkListBoxRow *row, gpointer user_data)
{
  Wishes *self = user_data;
  const char *name = g_object_get_data (G_OBJECT (row), NAME_KEY);

  if (name == NULL)
    return;
  gtk_popover_popdown (GTK_POPOVER (self->popover));
  dew_ask_wish_for (self->document, name);
}

/* Enter in the search takes the first that is found, or the list. */
static void
on_search_enter (Wishes *self)
{
  GtkListBoxRow *first;

  /* What was typed last is not searched for yet. */
  on_search (self);
  first = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->found), 0);
  if (is_list (typed_text (self)))
    add_list (self);
  else if (first != NULL)
    on_found (GTK_LIST_BOX (self->found), first, self);
}

/* Down goes from the search to the first that is found. */
static gboolean
on_search_key (Wishes *self, guint key)
{
  GtkListBoxRow *first = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->found), 0);

  if (key != GDK_KEY_Down && key != GDK_KEY_KP_Down)
    return FALSE;
  return first != NULL && gtk_widget_grab_focus (GTK_WIDGET (first));
}

static void
on_popover_shown (Wishes *self)
{
  gtk_editable_set_text (GTK_EDITABLE (self->search), "");
  on_search (self);
  gtk_widget_grab_focus (self->search);
}

static GtkWidget *
adder_new (Wishes *self)
{
  GtkWidget *button = gtk_menu_button_new ();
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *scroll;
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkWidget *none = dew_words_new (_ ("The catalogue knows no plant of that name."), "soft");

  self->search = gtk_search_entry_new ();
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_search_key), self);
  gtk_widget_add_controller (self->search, keys);
  g_object_set (self->search, "placeholder-text", _ ("Name, group, or 3 Dracula, 2 Restrepia"),
                NULL);
  dew_name_widget (self->search, _ ("Search the catalogue of plants"));
  self->found = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->found), GTK_SELECTION_NONE);
  gtk_list_box_set_placeholder (GTK_LIST_BOX (self->found), none);
  dew_name_widget (self->found, _ ("Plants of the catalogue"));
  self->own = gtk_button_new_with_label (_ ("Make a kind of my own"));
  gtk_button_set_has_frame (GTK_BUTTON (self->own), FALSE);
  scroll = dew_scroll_new (self->found, _ ("Plants of the catalogue"));
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (scroll), LIST_HEIGHT_PX);
  gtk_box_append (GTK_BOX (column), self->search);
  gtk_box_append (GTK_BOX (column), scroll);
  gtk_box_append (GTK_BOX (column), self->own);
  self->popover = gtk_popover_new ();
  gtk_popover_set_child (GTK_POPOVER (self->popover), column);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (button), self->popover);
  gtk_menu_button_set_label (GTK_MENU_BUTTON (button), _ ("Add a plant"));
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (button), FALSE);
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_widget_add_css_class (button, "adder");
  g_signal_connect_swapped (self->search, "search-changed", G_CALLBACK (on_search), self);
  g_signal_connect_swapped (self->search, "activate", G_CALLBACK (on_search_enter), self);
  g_signal_connect (self->found, "row-activated", G_CALLBACK (on_found), self);
  g_signal_connect_swapped (self->own, "clicked", G_CALLBACK (on_own), self);
  g_signal_connect_swapped (self->popover, "show", G_CALLBACK (on_popover_shown), self);
  return button;
}

/* --- what stands ------------------------------------------------------------------ */

static void
on_keep (GtkCheckButton *check, gpointer user_data)
{
  Wishes *self = user_data;
  guint id = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (check), "dew-id"));
  gboolean keep = gtk_check_button_get_active (check);
  g_autoptr (DewEdit) edit = NULL;
  g_autofree char *label = NULL;
  DewThing *plant;

  if (self->filling)
    return;
  edit = dew_document_edit_begin (self->document);
  plant = dew_variant_thing (dew_edit_variant (edit), id);
  if (plant == NULL)
    return;
  plant->plant.keep_place = keep;
  label = g_strdup_printf (plant->plant.keep_place ? _ ("Keep %s where it is") : _ ("Let %s move"),
                           plant->name);
  dew_edit_commit (edit, label, NULL);
}

static guint
fill_standing (Wishes *self, const DewVariant *variant)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *fold;
  g_autofree char *title = NULL;
  guint n = 0;

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      GtkWidget *check;

      if (thing->kind != DEW_THING_PLANT)
        continue;
      check = gtk_check_button_new_with_label (thing->name);
      gtk_check_button_set_active (GTK_CHECK_BUTTON (check), thing->plant.keep_place);
      g_object_set_data (G_OBJECT (check), "dew-id", GUINT_TO_POINTER (thing->id));
      g_signal_connect (check, "toggled", G_CALLBACK (on_keep), self);
      gtk_box_append (GTK_BOX (box), check);
      n++;
    }
  if (n == 0)
    {
      g_object_ref_sink (box);
      g_object_unref (box);
      return 0;
    }
  title = g_strdup_printf (ngettext ("%d plant stands here; tick it to keep its place",
                                     "%d plants stand here; tick those that keep their place", n),
                           (int) n);
  gtk_box_prepend (GTK_BOX (box), dew_words_new (title, "heading-soft"));
  fold = dew_fold_new (_ ("Plants that stand here"), box);
  gtk_box_append (GTK_BOX (self->standing), fold);
  return n;
}

/* --- whole ---------------------------------------------------------------------- */

/* What there is to show, without the numbers in it. */
static char *
shape_of (const DewChamber *chamber)
{
  const DewVariant *variant = dew_chamber_shown (chamber);
  GString *shape = g_string_new (NULL);

  for (guint i = 0; i < chamber->wishes->len; i++)
    g_string_append_printf (shape, "w%u", g_array_index (chamber->wishes, DewWish, i).id);
  g_string_append_printf (shape, "k%u", chamber->kinds->len);
  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind == DEW_THING_PLANT)
        g_string_append_printf (shape, "p%u%s%d", thing->id, thing->name, thing->plant.keep_place);
    }
  return g_string_free (shape, FALSE);
}

static void
rebuild (Wishes *self, const DewChamber *chamber)
{
  g_ptr_array_set_size (self->forms, 0);
  g_ptr_array_set_size (self->folds, 0);
  dew_empty (self->wishes);
  dew_empty (self->kinds);
  for (guint i = 0; i < chamber->wishes->len; i++)
    add_wish_row (self, &g_array_index (chamber->wishes, DewWish, i));
  if (chamber->kinds->len > 0)
    gtk_box_append (GTK_BOX (self->kinds), dew_words_new (_ ("Your own kinds"), "group-title"));
  for (guint i = 0; i < chamber->kinds->len; i++)
    add_kind_row (self, &g_array_index (chamber->kinds, DewPlantKind, i), i);
}

static void
refresh (Wishes *self, const DewChamber *chamber)
{
  for (guint i = 0; i < self->forms->len; i++)
    dew_form_refresh (g_ptr_array_index (self->forms, i));
  for (guint i = 0; i < self->folds->len && i < chamber->wishes->len; i++)
    {
      g_autofree char *title = wish_title (&g_array_index (chamber->wishes, DewWish, i));

      dew_fold_set_title (g_ptr_array_index (self->folds, i), title);
    }
}

static void
on_changed (Wishes *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);
  g_autofree char *shape = NULL;
  gboolean open = FALSE;
  GtkWidget *fold;

  if (chamber == NULL || dew_document_peeking (self->document))
    return;
  shape = shape_of (chamber);
  if (g_strcmp0 (shape, self->shape) == 0)
    {
      refresh (self, chamber);
      return;
    }
  g_free (self->shape);
  self->shape = g_steal_pointer (&shape);
  self->filling = TRUE;
  rebuild (self, chamber);
  fold = gtk_widget_get_first_child (self->standing);
  if (fold != NULL)
    open = dew_fold_is_open (DEW_FOLD (fold));
  dew_empty (self->standing);
  fill_standing (self, dew_chamber_shown (chamber));
  fold = gtk_widget_get_first_child (self->standing);
  if (fold != NULL)
    dew_fold_set_open (DEW_FOLD (fold), open);
  gtk_widget_set_visible (self->hint, chamber->wishes->len == 0);
  self->filling = FALSE;
}

static void
wishes_free (gpointer data)
{
  Wishes *self = data;

  g_free (self->shape);
  g_ptr_array_unref (self->forms);
  g_ptr_array_unref (self->folds);
  g_free (self);
}

GtkWidget *
dew_ask_wishes_new (DewDocument *document)
{
  Wishes *self = g_new0 (Wishes, 1);
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  self->document = document;
  self->forms = g_ptr_array_new ();
  self->folds = g_ptr_array_new ();
  g_object_set_data_full (G_OBJECT (column), "dew-wishes", self, wishes_free);
  self->wishes = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  self->kinds = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  self->standing = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  self->hint = dew_words_new (_ ("Nothing is wished for. Add what you have or want."), "soft");
  gtk_box_append (GTK_BOX (column), dew_words_new (_ ("To be placed"), "group-title"));
  gtk_box_append (GTK_BOX (column), self->hint);
  gtk_box_append (GTK_BOX (column), self->wishes);
  gtk_box_append (GTK_BOX (column), adder_new (self));
  gtk_box_append (GTK_BOX (column), self->standing);
  gtk_box_append (GTK_BOX (column), self->kinds);
  dew_follow (document, "changed", G_CALLBACK (on_changed), self, column);
  on_changed (self);
  return column;
}
