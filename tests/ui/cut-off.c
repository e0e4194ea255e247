/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cut-off.h"

#include "store/store.h"

#include <string.h>

/* Words that no language changes, and why. */
static const char *const kept[] = {
  "Dewtier", /* a name */
  "dewtier", /* what files end in */
  "in",      /* a unit */
  "µmol",    /* a unit */
  "min",     /* a unit */
  "kPa",     /* a unit */
  "Shift",   /* a key, as the toolkit has it */
  "Delete",  /* a key, as the toolkit has it */
};

/* Text that may end in an ellipsis, by CSS class of the widget or one above it: the name
 * that someone gave a document may be as long as they like. */
static const char *const may_ellipsize[] = { "document" };

void
dew_cut_off_init (DewCutOff *look, gboolean translated)
{
  *look = (DewCutOff){ .told = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL),
                       .names = g_ptr_array_new_with_free_func (g_free),
                       .translated = translated };
}

void
dew_cut_off_clear (DewCutOff *look)
{
  g_hash_table_unref (look->told);
  g_ptr_array_unref (look->names);
}

/* --- names ------------------------------------------------------------------- */

static int
longer_first (gconstpointer a, gconstpointer b)
{
  return (int) strlen (*(char *const *) b) - (int) strlen (*(char *const *) a);
}

static void
know (DewCutOff *look, const char *name)
{
  if (name != NULL && strlen (name) > 2)
    g_ptr_array_add (look->names, g_strdup (name));
}

void
dew_cut_off_keep (DewCutOff *look, const char *name)
{
  know (look, name);
  g_ptr_array_sort (look->names, longer_first);
}

/* Common names are found by what people of any language call a plant, and stay as they are. */
static void
know_common_names (DewCutOff *look)
{
  const DewCatalogue *plants = dew_catalogue ("plants");

  for (guint row = 0; row < dew_catalogue_rows (plants); row++)
    {
      g_auto (GStrv) names = g_strsplit (dew_catalogue_text (plants, row, "also"), ";", -1);

      for (guint i = 0; names[i] != NULL; i++)
        know (look, g_strstrip (names[i]));
    }
}

static void
know_catalogues (DewCutOff *look)
{
  static const char *const columns[] = { "name", "group", "room", "climate" };

  for (const char *const *name = dew_catalogue_names (); *name != NULL; name++)
    {
      const DewCatalogue *catalogue = dew_catalogue (*name);
      const char *const *has = dew_catalogue_columns (catalogue);

      for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
        for (guint row = 0;
             g_strv_contains (has, columns[i]) && row < dew_catalogue_rows (catalogue); row++)
          know (look, dew_catalogue_text (catalogue, row, columns[i]));
    }
  know_common_names (look);
}

void
dew_cut_off_know (DewCutOff *look, const DewChamber *chamber)
{
  if (look->names->len == 0)
    know_catalogues (look);
  know (look, chamber->name);
  know (look, chamber->note);
  know (look, chamber->room.name);
  for (guint i = 0; i < chamber->variants->len; i++)
    {
      const DewVariant *variant = &g_array_index (chamber->variants, DewVariant, i);

      know (look, variant->name);
      for (guint j = 0; j < variant->things->len; j++)
        know (look, g_array_index (variant->things, DewThing, j).name);
    }
  for (guint i = 0; i < chamber->wishes->len; i++)
    know (look, g_array_index (chamber->wishes, DewWish, i).name);
  for (guint i = 0; i < chamber->kinds->len; i++)
    know (look, g_array_index (chamber->kinds, DewPlantKind, i).name);
  g_ptr_array_sort (look->names, longer_first);
}

/* --- what is told ------------------------------------------------------------ */

static char *
path_of (GtkWidget *widget)
{
  GString *path = g_string_new (NULL);

  for (int depth = 0; widget != NULL && depth < 5; widget = gtk_widget_get_parent (widget))
    {
      if (!GTK_IS_BOX (widget) || depth == 0)
        {
          g_string_prepend (path, G_OBJECT_TYPE_NAME (widget));
          g_string_prepend_c (path, '/');
          depth++;
        }
    }
  return g_string_free (path, FALSE);
}

static void G_GNUC_PRINTF (4, 5)
  tell (DewCutOff *look, const char *path, const char *words, const char *format, ...)
{
  g_autofree char *key = g_strdup_printf ("%.12s %s", format, words);
  g_autofree char *what = NULL;
  va_list args;

  if (!g_hash_table_add (look->told, g_steal_pointer (&key)))
    return;
  va_start (args, format);
  what = g_strdup_vprintf (format, args);
  va_end (args);
  look->n_bad++;
  g_test_message ("%s: %s: %s: '%s'", look->where, path, what, words);
}

/* --- words ------------------------------------------------------------------- */

static gboolean
is_kept (const char *word)
{
  for (guint i = 0; i < G_N_ELEMENTS (kept); i++)
    {
      if (strcmp (word, kept[i]) == 0)
        return TRUE;
    }
  return FALSE;
}

/* A word with a vowel that has no accent; the accented ones are not ASCII. Newly
 * allocated, or NULL. */
static char *
plain_word (const DewCutOff *look, const char *words)
{
  g_autoptr (GString) rest = g_string_new (words);
  g_auto (GStrv) tokens = NULL;

  for (guint i = 0; i < look->names->len; i++)
    g_string_replace (rest, g_ptr_array_index (look->names, i), " ", 0);
  tokens = g_regex_split_simple ("[^\\pL]+", rest->str, 0, 0);
  for (guint i = 0; tokens[i] != NULL; i++)
    {
      if (g_utf8_strlen (tokens[i], -1) > 1 && strpbrk (tokens[i], "aeiouAEIOU") != NULL
          && !is_kept (tokens[i]))
        return g_strdup (tokens[i]);
    }
  return NULL;
}

void
dew_cut_off_read (DewCutOff *look, const char *path, const char *words)
{
  g_autofree char *plain = NULL;
  int open = 0;

  if (!look->translated || words == NULL || *words == '\0')
    return;
  if (!g_utf8_validate (words, -1, NULL))
    tell (look, path, words, "broken UTF-8");
  for (const char *letter = words; *letter != '\0'; letter++)
    open += (*letter == '[') - (*letter == ']');
  /* A name that is too long for a sentence is shortened in it. */
  if (open != 0 && !look->in_pieces && strstr (words, "…") == NULL)
    tell (look, path, words, "cut short in memory");
  plain = plain_word (look, words);
  if (plain != NULL)
    tell (look, path, words, "not translated: %s", plain);
}

/* --- room -------------------------------------------------------------------- */

static gboolean
has_class_above (GtkWidget *widget, const char *const *classes, guint n)
{
  for (; widget != NULL; widget = gtk_widget_get_parent (widget))
    {
      for (guint i = 0; i < n; i++)
        {
          if (gtk_widget_has_css_class (widget, classes[i]))
            return TRUE;
        }
    }
  return FALSE;
}

/* Pages and panes scroll down only; a wide table has a scrolled window of its own. */
static gboolean
scrolls_across (GtkWidget *widget)
{
  GtkWidget *above = gtk_widget_get_parent (widget);
  GtkPolicyType policy = GTK_POLICY_NEVER;

  if (GTK_IS_VIEWPORT (widget) && GTK_IS_SCROLLED_WINDOW (above))
    gtk_scrolled_window_get_policy (GTK_SCROLLED_WINDOW (above), &policy, NULL);
  return policy != GTK_POLICY_NEVER;
}

/* Whether everything above has the room; what scrolls may hide what is below. */
static void
look_outside (DewCutOff *look, GtkWidget *widget, const char *path, const char *words)
{
  gboolean across = TRUE, down = TRUE;

  for (GtkWidget *parent = gtk_widget_get_parent (widget); parent != NULL;
       parent = gtk_widget_get_parent (parent))
    {
      graphene_rect_t box;

      if (GTK_IS_SCROLLABLE (parent) || GTK_IS_SCROLLED_WINDOW (parent))
        down = FALSE;
      if (scrolls_across (parent))
        across = FALSE;
      if (!gtk_widget_compute_bounds (widget, parent, &box))
        return;
      if ((across
           && (box.origin.x < -1.0
               || box.origin.x + box.size.width > gtk_widget_get_width (parent) + 1.0))
          || (down
              && (box.origin.y < -1.0
                  || box.origin.y + box.size.height > gtk_widget_get_height (parent) + 1.0)))
        {
          tell (look, path, words, "outside %s by %.0f, %.0f", G_OBJECT_TYPE_NAME (parent),
                box.origin.x + box.size.width - gtk_widget_get_width (parent),
                box.origin.y + box.size.height - gtk_widget_get_height (parent));
          return;
        }
      if (GTK_IS_NATIVE (parent))
        return;
    }
}

static void
look_at_label (DewCutOff *look, GtkLabel *label, const char *path)
{
  PangoLayout *layout = gtk_label_get_layout (label);
  const char *words = gtk_label_get_text (label);
  int width, height;

  if (*words == '\0')
    return;
  look->n_labels++;
  dew_cut_off_read (look, path, words);
  pango_layout_get_pixel_size (layout, &width, &height);
  if (pango_layout_is_ellipsized (layout))
    {
      /* A choice beside its label has what room there is, and says the whole of it in a
       * tooltip and in its list. */
      if (!has_class_above (GTK_WIDGET (label), may_ellipsize, G_N_ELEMENTS (may_ellipsize))
          && !gtk_widget_get_has_tooltip (GTK_WIDGET (label)))
        tell (look, path, words, "ends in an ellipsis");
    }
  else if (width > gtk_widget_get_width (GTK_WIDGET (label)) + 1
           || height > gtk_widget_get_height (GTK_WIDGET (label)) + 1)
    tell (look, path, words, "needs %d x %d, has %d x %d", width, height,
          gtk_widget_get_width (GTK_WIDGET (label)), gtk_widget_get_height (GTK_WIDGET (label)));
  look_outside (look, GTK_WIDGET (label), path, words);
}

/* What stands in a field must be read whole, as numbers with their unit are. */
static void
look_at_text (DewCutOff *look, GtkWidget *text, const char *path)
{
  const char *words = gtk_editable_get_text (GTK_EDITABLE (text));
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (text, words);
  int width, height;

  look->n_labels++;
  pango_layout_get_pixel_size (layout, &width, &height);
  if (gtk_widget_get_ancestor (text, GTK_TYPE_SPIN_BUTTON) != NULL
      && width > gtk_widget_get_width (text) + 1)
    tell (look, path, words, "needs %d, has %d", width, gtk_widget_get_width (text));
}

static void
read_menu (DewCutOff *look, const char *path, GMenuModel *menu)
{
  static const char *const links[] = { G_MENU_LINK_SECTION, G_MENU_LINK_SUBMENU };

  for (int i = 0; i < g_menu_model_get_n_items (menu); i++)
    {
      g_autofree char *label = NULL;

      if (g_menu_model_get_item_attribute (menu, i, G_MENU_ATTRIBUTE_LABEL, "s", &label))
        dew_cut_off_read (look, path, label);
      for (guint j = 0; j < G_N_ELEMENTS (links); j++)
        {
          g_autoptr (GMenuModel) inner = g_menu_model_get_item_link (menu, i, links[j]);

          if (inner != NULL)
            read_menu (look, path, inner);
        }
    }
}

static void
read_choices (DewCutOff *look, const char *path, GListModel *model)
{
  for (guint i = 0; model != NULL && i < g_list_model_get_n_items (model); i++)
    {
      g_autoptr (GObject) item = g_list_model_get_item (model, i);

      if (GTK_IS_STRING_OBJECT (item))
        dew_cut_off_read (look, path, gtk_string_object_get_string (GTK_STRING_OBJECT (item)));
    }
}

void
dew_cut_off_look (DewCutOff *look, GtkWidget *widget)
{
  g_autofree char *path = NULL;

  if (!gtk_widget_get_mapped (widget))
    return;
  path = path_of (widget);
  dew_cut_off_read (look, path, gtk_widget_get_tooltip_text (widget));
  if (GTK_IS_LABEL (widget))
    look_at_label (look, GTK_LABEL (widget), path);
  if (GTK_IS_TEXT (widget))
    look_at_text (look, widget, path);
  if (GTK_IS_MENU_BUTTON (widget)
      && gtk_menu_button_get_menu_model (GTK_MENU_BUTTON (widget)) != NULL)
    read_menu (look, path, gtk_menu_button_get_menu_model (GTK_MENU_BUTTON (widget)));
  if (GTK_IS_DROP_DOWN (widget))
    read_choices (look, path, gtk_drop_down_get_model (GTK_DROP_DOWN (widget)));
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    dew_cut_off_look (look, child);
}
