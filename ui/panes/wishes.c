/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/wishes.h"

#include "paint/palette.h"

#include <math.h>
#include <string.h>

#define N_WISHES 4
#define LABELS_KEY "dew-labels"

/* Columns of the plant catalogue; its numbers times `to_si` are in the unit of
 * the value. */
static const struct
{
  const char *title;
  DewValue    value;
  const char *day[2];
  const char *night[2];
  double      to_si;
} wishes[N_WISHES] = {
  { "Humidity", DEW_VALUE_RH, { "rh_min_pct", "rh_max_pct" }, { "rh_min_pct", "rh_max_pct" },
    0.01 },
  { "Warmth", DEW_VALUE_TEMPERATURE, { "t_day_min_C", "t_day_max_C" },
    { "t_night_min_C", "t_night_max_C" }, 1.0 },
  { "Moving air", DEW_VALUE_SPEED, { "speed_lo_m_s", "speed_hi_m_s" },
    { "speed_lo_m_s", "speed_hi_m_s" }, 1.0 },
  { "Light", DEW_VALUE_PPFD, { "ppfd_lo_umol_m2s", "ppfd_hi_umol_m2s" }, { NULL, NULL }, 1e-6 },
};

typedef struct
{
  GtkWidget *title[N_WISHES];
  GtkWidget *wants[N_WISHES];
  GtkWidget *gets[N_WISHES];
} Labels;

static GtkWidget *
put (GtkGrid *grid, int column, int row, const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), column == 0 ? 0.0f : 1.0f);
  gtk_widget_set_hexpand (label, column == 0);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  gtk_grid_attach (grid, label, column, row, 1, 1);
  return label;
}

GtkWidget *
dew_wishes_new (void)
{
  GtkWidget *grid = gtk_grid_new ();
  Labels *labels = g_new0 (Labels, 1);

  g_object_set_data_full (G_OBJECT (grid), LABELS_KEY, labels, g_free);
  gtk_widget_add_css_class (grid, "wishes");
  gtk_grid_set_column_spacing (GTK_GRID (grid), 16);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 4);
  put (GTK_GRID (grid), 1, 0, "wants", "heading-soft");
  put (GTK_GRID (grid), 2, 0, "gets", "heading-soft");
  for (int i = 0; i < N_WISHES; i++)
    {
      g_autofree char *title
        = g_strdup_printf ("%s, %s", wishes[i].title, dew_value_unit (wishes[i].value, FALSE));

      labels->title[i] = put (GTK_GRID (grid), 0, i + 1, title, "field");
      labels->wants[i] = put (GTK_GRID (grid), 1, i + 1, "", "figure");
      labels->gets[i] = put (GTK_GRID (grid), 2, i + 1, "", "figure");
    }
  return grid;
}

/* The part of the enclosure's air that the plant is in. */
static gboolean
air_at (DewDocument *document, const DewThing *plant, DewClimate *climate)
{
  const DewForecast *forecast = dew_document_forecast (document);
  double lo[3], hi[3];

  if (forecast == NULL)
    return FALSE;
  dew_thing_box (dew_document_chamber (document), plant, lo, hi);
  dew_forecast_box (forecast, lo, hi, climate);
  /* Light is what reaches the top of the crown, not a mean of its air. */
  climate->ppfd_mol_m2s
    = dew_forecast_sample (forecast, DEW_VALUE_PPFD, (lo[0] + hi[0]) / 2.0,
                           (lo[1] + hi[1]) / 2.0, hi[2]);
  return !isnan (climate->t_C);
}

/* The unit stands beside the title. */
static char *
without_unit (char *text)
{
  char *space = strrchr (text, ' ');

  if (space != NULL)
    *space = '\0';
  return text;
}

/* What it gets, and by a word whether that is off its wish, as colour alone does
 * not reach everybody. What reads the same as the limit is not called off. */
static void
fill_gets (GtkWidget *label, DewValue value, double got, double lo, double hi)
{
  g_autofree char *got_text = dew_value_text (value, got, FALSE);
  g_autofree char *lo_text = dew_value_text (value, lo, FALSE);
  g_autofree char *hi_text = dew_value_text (value, hi, FALSE);
  gboolean little = got < lo && strcmp (got_text, lo_text) != 0;
  gboolean much = got > hi && strcmp (got_text, hi_text) != 0;
  const char *word = little ? "too little  " : much ? "too much  " : "";
  g_autofree char *text = g_strconcat (word, without_unit (got_text), NULL);

  gtk_label_set_text (GTK_LABEL (label), text);
  if (little || much)
    gtk_widget_add_css_class (label, "off-wish");
}

static void
fill_wish (Labels *labels, int i, guint row, gboolean night, const DewClimate *climate)
{
  const DewCatalogue *catalogue = dew_catalogue ("plants");
  const char *const *ends = night ? wishes[i].night : wishes[i].day;
  g_autofree char *wants = NULL;
  double lo, hi;
  gboolean shown = ends[0] != NULL;

  gtk_widget_set_visible (labels->title[i], shown);
  gtk_widget_set_visible (labels->wants[i], shown);
  gtk_widget_set_visible (labels->gets[i], shown);
  if (!shown)
    return;
  lo = dew_catalogue_number (catalogue, row, ends[0]) * wishes[i].to_si;
  hi = dew_catalogue_number (catalogue, row, ends[1]) * wishes[i].to_si;
  wants = g_strdup_printf ("%g – %g", dew_value_to_user (wishes[i].value, lo, FALSE),
                           dew_value_to_user (wishes[i].value, hi, FALSE));
  gtk_label_set_text (GTK_LABEL (labels->wants[i]), wants);
  gtk_widget_remove_css_class (labels->gets[i], "off-wish");
  if (climate == NULL)
    gtk_label_set_text (GTK_LABEL (labels->gets[i]), "–");
  else
    fill_gets (labels->gets[i], wishes[i].value,
               dew_climate_value (climate, wishes[i].value, NULL), lo, hi);
}

void
dew_wishes_fill (GtkWidget *widget, DewDocument *document, const DewThing *plant)
{
  Labels *labels = g_object_get_data (G_OBJECT (widget), LABELS_KEY);
  int row = dew_catalogue_find (dew_catalogue ("plants"), plant->plant.species);
  DewClimate climate;
  gboolean known;

  g_return_if_fail (labels != NULL && plant->kind == DEW_THING_PLANT);

  gtk_widget_set_visible (widget, row >= 0);
  if (row < 0)
    return;
  known = air_at (document, plant, &climate);
  for (int i = 0; i < N_WISHES; i++)
    fill_wish (labels, i, (guint) row, dew_document_night (document), known ? &climate : NULL);
}
