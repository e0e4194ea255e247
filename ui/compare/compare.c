/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "compare/compare.h"

#include "document/edit.h"
#include "document/tongue.h"
#include "compare/glance.h"
#include "compare/words.h"
#include "compare/work.h"
#include "widgets/drop.h"
#include "widgets/names.h"
#include "widgets/parts.h"
#include "panes/viewbar.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define COLUMNS_MAX 3
#define CALM_MS 400
#define GLANCE_HEIGHT_PX 380
#define GLANCE_WIDTH_PX 300
#define LEGEND_WIDTH_PX 460

typedef struct _Page Page;

typedef struct
{
  Page *page;
  guint variant_id; /* 0: nothing in this column */
  GtkWidget *box, *drop, *button, *glance, *name, *mark;
} Side;

struct _Page
{
  DewDocument *document; /* lent: lives as long as the widgets */
  DewErrand *errand;
  DewChamber *base; /* what is compared or was */
  GArray *ids;      /* guint, of the variants in the drop-downs */
  Side sides[COLUMNS_MAX];
  DewRange range[DEW_N_VALUES];
  guint calm;
  gboolean filling;

  GtkWidget *page, *row, *empty, *legend, *gist, *words, *strip, *bar, *note, *third;
};

/* --- what is shown ------------------------------------------------------------------ */

static const DewCompareSide *
side_of (const DewComparison *comparison, guint variant_id)
{
  for (int i = 0; comparison != NULL && i < comparison->n_sides; i++)
    {
      if (comparison->sides[i].variant_id == variant_id)
        return &comparison->sides[i];
    }
  return NULL;
}

/* 0 is a column without a variant here, not the one that is shown. */
static const DewVariant *
variant_of (const DewChamber *chamber, guint variant_id)
{
  return variant_id != 0 ? dew_chamber_variant (chamber, variant_id) : NULL;
}

static void
show_glance (Page *self, GtkWidget *widget, guint variant_id, const DewComparison *comparison)
{
  const DewCompareSide *found = side_of (comparison, variant_id);
  DewGlance glance = { NULL };

  if (self->base != NULL && variant_of (self->base, variant_id) != NULL)
    {
      glance.chamber = dew_chamber_copy (self->base);
      glance.chamber->shown_variant = variant_id;
    }
  if (found != NULL)
    {
      glance.day = dew_forecast_ref (found->day);
      glance.night = found->night != NULL ? dew_forecast_ref (found->night) : NULL;
    }
  for (int value = 0; value < DEW_N_VALUES; value++)
    glance.range[value] = self->range[value];
  dew_glance_show (widget, &glance);
}

/* One scale for all of them, day and night, chosen as on the sheet. */
static void
find_ranges (Page *self, const DewComparison *comparison)
{
  DewTongue tongue = dew_tongue ();

  for (int value = 0; value < DEW_N_VALUES; value++)
    {
      DewRange *range = &self->range[value];

      *range = (DewRange){ 0.0, 0.0, 0.0 };
      if (self->base == NULL)
        continue;
      *range = dew_range_choose ((DewValue) value, tongue, self->base);
      for (int k = 0; comparison != NULL && k < 2 * comparison->n_sides; k++)
        {
          const DewCompareSide *side = &comparison->sides[k / 2];
          const DewForecast *forecast = k % 2 == 0 ? side->day : side->night;

          if (forecast != NULL)
            dew_range_widen (range, (DewValue) value, tongue, forecast);
        }
    }
}

static void
show (Page *self, const DewComparison *comparison)
{
  find_ranges (self, comparison);
  dew_empty (self->words);
  dew_empty (self->gist);
  for (int i = 0; i < COLUMNS_MAX; i++)
    show_glance (self, self->sides[i].glance, self->sides[i].variant_id, comparison);
  show_glance (self, self->legend, self->sides[0].variant_id, comparison);
  if (comparison == NULL)
    return;
  dew_compare_words_gist (GTK_BOX (self->gist), comparison);
  dew_compare_words_fill (GTK_BOX (self->words), comparison);
}

static void
say_note (Page *self, const char *text)
{
  gtk_label_set_text (GTK_LABEL (self->note), text != NULL ? text : "");
  gtk_widget_set_visible (self->note, text != NULL);
}

static void
on_news (DewErrandNews *news, gpointer user_data)
{
  Page *self = user_data;

  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->bar), news->share);
  if (news->stage == DEW_ERRAND_FAILED)
    say_note (self, news->error->message);
  else if (news->result != NULL)
    show (self, news->result);
  if (news->stage == DEW_ERRAND_DONE)
    g_debug ("compared");
  gtk_widget_set_visible (self->strip, dew_errand_running (self->errand));
}

/* --- asking ------------------------------------------------------------------------- */

static int
n_sides (const Page *self)
{
  int n = 0;

  for (int i = 0; i < COLUMNS_MAX; i++)
    n += self->sides[i].variant_id != 0;
  return n;
}

/* Two at least, each a different one: the shown one first, then the others in
 * their order. */
static void
choose (Page *self, const DewChamber *chamber)
{
  gboolean third = self->sides[2].variant_id != 0;
  int n = chamber->variants->len >= 3 && third ? 3 : MIN ((int) chamber->variants->len, 2);

  for (int i = 0; i < COLUMNS_MAX; i++)
    {
      guint *id = &self->sides[i].variant_id;
      gboolean good = i < n && *id != 0 && dew_chamber_variant (chamber, *id) != NULL;

      for (int k = 0; k < i; k++)
        good = good && self->sides[k].variant_id != *id;
      if (!good)
        *id = 0;
    }
  for (int i = 0; i < n; i++)
    {
      if (self->sides[i].variant_id != 0)
        continue;
      for (guint v = 0; v <= chamber->variants->len && self->sides[i].variant_id == 0; v++)
        {
          guint id = v == 0 ? chamber->shown_variant
                            : g_array_index (chamber->variants, DewVariant, v - 1).id;
          gboolean there = FALSE;

          for (int k = 0; k < n; k++)
            there = there || self->sides[k].variant_id == id;
          if (!there)
            self->sides[i].variant_id = id;
        }
    }
}

static void
fill_drop (Page *self, Side *side, const DewChamber *chamber)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  const DewVariant *variant = variant_of (chamber, side->variant_id);
  guint chosen = 0;

  for (guint i = 0; i < self->ids->len; i++)
    {
      guint id = g_array_index (self->ids, guint, i);

      gtk_string_list_append (names, dew_chamber_variant (chamber, id)->name);
      if (id == side->variant_id)
        chosen = i;
    }
  gtk_drop_down_set_model (GTK_DROP_DOWN (side->drop), G_LIST_MODEL (names));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (side->drop), chosen);
  gtk_widget_set_visible (side->box, variant != NULL);
  if (variant == NULL)
    return;
  gtk_widget_set_visible (side->mark, side->variant_id == chamber->shown_variant);
  if (g_strcmp0 (gtk_editable_get_text (GTK_EDITABLE (side->name)), variant->name) != 0)
    gtk_editable_set_text (GTK_EDITABLE (side->name), variant->name);
  {
    g_autofree char *spoken = g_strdup_printf (_ ("Put %s on the sheet"), variant->name);

    dew_name_widget (side->button, spoken);
    gtk_widget_set_tooltip_text (side->button, spoken);
  }
}

static void
fill (Page *self, const DewChamber *chamber)
{
  gboolean several = chamber->variants->len > 1;

  self->filling = TRUE;
  choose (self, chamber);
  g_array_set_size (self->ids, 0);
  for (guint i = 0; i < chamber->variants->len; i++)
    g_array_append_val (self->ids, g_array_index (chamber->variants, DewVariant, i).id);
  for (int i = 0; i < COLUMNS_MAX; i++)
    fill_drop (self, &self->sides[i], chamber);
  gtk_widget_set_visible (self->empty, !several);
  gtk_widget_set_visible (self->row, several);
  gtk_widget_set_visible (self->legend, several);
  gtk_widget_set_visible (self->third, chamber->variants->len > 2);
  gtk_button_set_label (GTK_BUTTON (self->third), self->sides[2].variant_id != 0
                                                    ? _ ("Leave the third out")
                                                    : _ ("Compare a third"));
  self->filling = FALSE;
}

static void
ask (Page *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);
  DewCompareInput *input;

  g_clear_handle_id (&self->calm, g_source_remove);
  dew_errand_cancel (self->errand);
  g_clear_pointer (&self->base, dew_chamber_free);
  say_note (self, NULL);
  if (chamber == NULL)
    return;
  self->base = dew_chamber_copy (chamber);
  fill (self, chamber);
  show (self, NULL);
  if (n_sides (self) < 2)
    {
      gtk_widget_set_visible (self->strip, FALSE);
      return;
    }
  input = g_new0 (DewCompareInput, 1);
  input->chamber = dew_chamber_copy (chamber);
  for (int i = 0; i < COLUMNS_MAX; i++)
    {
      if (self->sides[i].variant_id != 0)
        input->ids[input->n++] = self->sides[i].variant_id;
    }
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->bar), 0.0);
  dew_errand_start (self->errand, dew_compare_work, input, dew_compare_input_free,
                    dew_compare_result_free);
  gtk_widget_set_visible (self->strip, TRUE);
}

static gboolean
on_calm (gpointer data)
{
  Page *self = data;

  self->calm = 0;
  ask (self);
  return G_SOURCE_REMOVE;
}

/* Which variant is on the sheet and what they are called changes no forecast. */
static gboolean
same_layouts (const DewChamber *one, const DewChamber *other)
{
  g_autoptr (DewChamber) a = dew_chamber_copy (one), b = dew_chamber_copy (other);

  a->shown_variant = b->shown_variant = 0;
  if (a->variants->len != b->variants->len)
    return FALSE;
  for (guint i = 0; i < a->variants->len; i++)
    {
      g_array_index (a->variants, DewVariant, i).name[0] = '\0';
      g_array_index (b->variants, DewVariant, i).name[0] = '\0';
    }
  return dew_chamber_equal (a, b);
}

static void
on_changed (Page *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);

  if (chamber == NULL || !gtk_widget_get_mapped (self->page))
    return;
  if (self->base != NULL && same_layouts (self->base, chamber))
    {
      fill (self, chamber);
      return;
    }
  g_clear_handle_id (&self->calm, g_source_remove);
  self->calm = g_timeout_add (CALM_MS, on_calm, self);
}

static void
on_map (Page *self)
{
  const DewChamber *chamber = dew_document_chamber (self->document);

  if (self->base != NULL && chamber != NULL && same_layouts (self->base, chamber))
    fill (self, chamber);
  else
    ask (self);
}

static void
on_unmap (Page *self)
{
  g_clear_handle_id (&self->calm, g_source_remove);
  if (!dew_errand_running (self->errand))
    return;
  dew_errand_cancel (self->errand);
  g_clear_pointer (&self->base, dew_chamber_free);
}

/* --- what one can do ---------------------------------------------------------------- */

static void
on_chosen (GtkDropDown *drop, GParamSpec *pspec, gpointer user_data)
{
  Side *side = user_data;
  Page *self = side->page;
  guint selected = gtk_drop_down_get_selected (drop), id;

  if (self->filling || selected >= self->ids->len)
    return;
  id = g_array_index (self->ids, guint, selected);
  if (id == side->variant_id)
    return;
  /* One that stands in another column changes places with this one. */
  for (int i = 0; i < COLUMNS_MAX; i++)
    {
      if (self->sides[i].variant_id == id)
        self->sides[i].variant_id = side->variant_id;
    }
  side->variant_id = id;
  ask (self);
}

static void
on_take (Side *side)
{
  dew_document_show_variant (side->page->document, side->variant_id);
  gtk_widget_activate_action (side->page->page, "win.back", NULL);
}

static void
on_copy (Side *side)
{
  Page *self = side->page;
  g_autoptr (DewEdit) edit = dew_document_edit_begin (self->document);
  const DewVariant *variant = dew_chamber_variant (dew_edit_chamber (edit), side->variant_id);
  g_autofree char *name = NULL;

  if (variant == NULL)
    return;
  name = g_strdup_printf (_ ("Copy of %s"), variant->name);
  dew_chamber_add_variant (dew_edit_chamber (edit), name, variant);
  dew_edit_commit (edit, _ ("Copy variant"), NULL);
}

static void
on_name (Side *side)
{
  Page *self = side->page;
  g_autofree char *text = g_strdup (gtk_editable_get_text (GTK_EDITABLE (side->name)));
  g_autofree char *merge = g_strdup_printf ("name-variant-%u", side->variant_id);
  g_autoptr (DewEdit) edit = NULL;
  DewVariant *variant;

  if (self->filling || *text == '\0')
    return;
  edit = dew_document_edit_begin (self->document);
  variant = edit != NULL ? dew_chamber_variant (dew_edit_chamber (edit), side->variant_id) : NULL;
  if (variant == NULL)
    return;
  dew_name_set (variant->name, text);
  dew_edit_commit (edit, _ ("Rename variant"), merge);
}

static void
on_third (Page *self)
{
  /* Any id that is not there makes room; choose() finds a real one. */
  self->sides[2].variant_id = self->sides[2].variant_id != 0 ? 0 : G_MAXUINT;
  ask (self);
}

/* The first copy, for who has only one variant. */
static void
on_first_copy (Page *self)
{
  dew_document_copy_variant (self->document);
}

/* --- the page ------------------------------------------------------------------------- */

static GtkWidget *
quiet_button_new (const char *label, GCallback clicked, gpointer data)
{
  GtkWidget *button = dew_way_new (label, "way", NULL);

  g_signal_connect_swapped (button, "clicked", clicked, data);
  return button;
}

/* A name to type over, behind a word. */
static GtkWidget *
renamer_new (Side *side)
{
  GtkWidget *button = gtk_menu_button_new (), *popover = gtk_popover_new ();

  side->name = gtk_entry_new ();
  gtk_entry_set_max_length (GTK_ENTRY (side->name), DEW_NAME_SIZE - 1);
  dew_name_widget (side->name, _ ("Name of this variant"));
  gtk_popover_set_child (GTK_POPOVER (popover), side->name);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (button), popover);
  gtk_menu_button_set_label (GTK_MENU_BUTTON (button), _ ("Rename"));
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (button), FALSE);
  gtk_widget_add_css_class (button, "adder");
  g_signal_connect_swapped (side->name, "changed", G_CALLBACK (on_name), side);
  g_signal_connect_swapped (side->name, "activate", G_CALLBACK (gtk_popover_popdown), popover);
  return button;
}

static void
build_side (Page *self, int index)
{
  Side *side = &self->sides[index];
  GtkWidget *foot = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 14);

  side->page = self;
  side->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  side->drop = dew_drop_new (NULL, _ ("Which variant"));
  gtk_widget_add_css_class (side->drop, "quiet");
  gtk_widget_set_halign (side->drop, GTK_ALIGN_CENTER);
  side->glance = dew_glance_new (self->document, FALSE);
  gtk_widget_set_size_request (side->glance, GLANCE_WIDTH_PX, GLANCE_HEIGHT_PX);
  side->button = gtk_button_new ();
  gtk_button_set_child (GTK_BUTTON (side->button), side->glance);
  gtk_button_set_has_frame (GTK_BUTTON (side->button), FALSE);
  gtk_widget_add_css_class (side->button, "glance");
  side->mark = gtk_label_new (_ ("on the sheet"));
  gtk_widget_add_css_class (side->mark, "soft");
  gtk_box_append (GTK_BOX (foot), renamer_new (side));
  gtk_box_append (GTK_BOX (foot), quiet_button_new (_ ("Add a copy"), G_CALLBACK (on_copy), side));
  gtk_box_append (GTK_BOX (foot), side->mark);
  gtk_widget_set_halign (foot, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (side->box), side->drop);
  gtk_box_append (GTK_BOX (side->box), side->button);
  gtk_box_append (GTK_BOX (side->box), foot);
  gtk_box_append (GTK_BOX (self->row), side->box);
  g_signal_connect (side->drop, "notify::selected", G_CALLBACK (on_chosen), side);
  g_signal_connect_swapped (side->button, "clicked", G_CALLBACK (on_take), side);
}

static GtkWidget *
empty_new (Page *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  gtk_box_append (GTK_BOX (box),
                  dew_words_new (_ ("There is one layout of this enclosure so far. Add a copy, "
                                    "change it, and see here what gets better and what "
                                    "worse."),
                                 NULL));
  gtk_box_append (GTK_BOX (box),
                  quiet_button_new (_ ("Add a copy"), G_CALLBACK (on_first_copy), self));
  return box;
}

static GtkWidget *
strip_new (Page *self)
{
  GtkWidget *strip = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  self->bar = gtk_progress_bar_new ();
  gtk_widget_add_css_class (self->bar, "errand");
  dew_name_widget (self->bar, _ ("Forecasting the variants"));
  gtk_box_append (GTK_BOX (strip), dew_words_new (_ ("Forecasting the variants"), "soft"));
  gtk_box_append (GTK_BOX (strip), self->bar);
  return strip;
}

static void
on_destroy (GtkWidget *page, gpointer data)
{
  Page *self = data;

  g_clear_handle_id (&self->calm, g_source_remove);
  dew_errand_cancel (self->errand);
}

static void
page_free (gpointer data)
{
  Page *self = data;

  dew_errand_free (self->errand);
  g_clear_pointer (&self->base, dew_chamber_free);
  g_array_unref (self->ids);
  g_free (self);
}

GtkWidget *
dew_compare_page_new (DewDocument *document)
{
  Page *self = g_new0 (Page, 1);
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  GtkWidget *back = dew_way_new (_ ("‹ Back to the sheet"), "back", "win.back");
  GtkWidget *title = dew_words_new (_ ("Side by side"), "page-title");

  self->document = document;
  self->ids = g_array_new (FALSE, FALSE, sizeof (guint));
  self->errand = dew_errand_new (on_news, self);
  self->page = gtk_scrolled_window_new ();
  g_object_set_data_full (G_OBJECT (self->page), "dew-compare", self, page_free);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->page), GTK_POLICY_AUTOMATIC,
                                  GTK_POLICY_AUTOMATIC);
  dew_name_widget (self->page, _ ("Variants side by side"));
  self->row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 16);
  gtk_widget_set_halign (self->row, GTK_ALIGN_CENTER);
  gtk_box_set_homogeneous (GTK_BOX (self->row), TRUE);
  for (int i = 0; i < COLUMNS_MAX; i++)
    build_side (self, i);
  self->empty = empty_new (self);
  self->legend = dew_glance_new (document, TRUE);
  gtk_widget_set_size_request (self->legend, LEGEND_WIDTH_PX, -1);
  gtk_widget_set_halign (self->legend, GTK_ALIGN_CENTER);
  gtk_widget_set_hexpand (self->legend, FALSE);
  self->gist = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  self->words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->note = dew_words_new ("", NULL);
  self->strip = strip_new (self);
  self->third = quiet_button_new ("", G_CALLBACK (on_third), self);
  gtk_widget_set_visible (self->note, FALSE);
  gtk_widget_add_css_class (column, "compare");

  gtk_box_append (GTK_BOX (column), back);
  gtk_box_append (GTK_BOX (column), title);
  gtk_box_append (GTK_BOX (column), self->strip);
  gtk_box_append (GTK_BOX (column), self->note);
  gtk_box_append (GTK_BOX (column), self->gist);
  gtk_box_append (GTK_BOX (column), self->empty);
  gtk_box_append (GTK_BOX (column), dew_viewbar_new (document));
  gtk_box_append (GTK_BOX (column), self->row);
  gtk_box_append (GTK_BOX (column), self->legend);
  gtk_box_append (GTK_BOX (column), self->third);
  gtk_box_append (GTK_BOX (column), self->words);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->page), column);
  g_signal_connect_swapped (self->page, "map", G_CALLBACK (on_map), self);
  g_signal_connect_swapped (self->page, "unmap", G_CALLBACK (on_unmap), self);
  g_signal_connect (self->page, "destroy", G_CALLBACK (on_destroy), self);
  dew_follow (document, "changed", G_CALLBACK (on_changed), self, self->page);
  return self->page;
}
