/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/wishes.h"

#include "canvas/theme.h"
#include "document/tongue.h"
#include "paint/chart.h"
#include "paint/palette.h"
#include "widgets/names.h"
#include "widgets/parts.h"
#include "say/fit.h"
#include "say/suits.h"

#include <glib/gi18n.h>

#include <math.h>
#include <string.h>

#define STRIP_HEIGHT_PX 16

/* The demands that have a band and a value that can be drawn on a line. */
static const struct
{
  DewDemand demand;
  const char *title;
  DewValue value;
  double least_span; /* of a strip, unit of the value */
} strips[] = {
  { DEW_DEMAND_RH_DAY, N_ ("Humidity by day"), DEW_VALUE_RH, 0.2 },
  { DEW_DEMAND_RH_NIGHT, N_ ("Humidity by night"), DEW_VALUE_RH, 0.2 },
  { DEW_DEMAND_T_DAY, N_ ("Warmth by day"), DEW_VALUE_TEMPERATURE, 8.0 },
  { DEW_DEMAND_T_NIGHT, N_ ("Warmth by night"), DEW_VALUE_TEMPERATURE, 8.0 },
  { DEW_DEMAND_AIR, N_ ("Moving air"), DEW_VALUE_SPEED, 0.2 },
  { DEW_DEMAND_LIGHT, N_ ("Light"), DEW_VALUE_PPFD, 60e-6 },
};

/* Kept from forecast to forecast: a plant that is dragged is judged thirty times a
 * second. */
typedef struct
{
  GtkWidget *row;
  GtkWidget *gets, *line, *wants; /* NULL where words alone do */
  GtkWidget *words;
  DewStrip strip;
} Row;

typedef struct
{
  GtkWidget *rows;
  GtkWidget *unknown;
  GtkWidget *safety;
  Row row[DEW_N_DEMANDS];
} Wishes;

#define WISHES_KEY "dew-wishes"

gboolean
dew_standing_of (DewDocument *document, const DewThing *plant, DewStanding *out)
{
  const DewForecast *forecast = dew_document_forecast (document);
  const DewChamber *chamber = dew_document_chamber (document);

  return forecast != NULL && chamber != NULL
         && dew_standing_judge (forecast, chamber, plant, dew_catalogue_plant_kind,
                                (gpointer) chamber, out);
}

/* --- one demand ----------------------------------------------------------- */

static void
ends_of (const DewPlantKind *kind, DewDemand demand, double *lo, double *hi)
{
  switch (demand)
    {
    case DEW_DEMAND_T_DAY:
      *lo = kind->t_day_min_C, *hi = kind->t_day_max_C;
      break;
    case DEW_DEMAND_T_NIGHT:
      *lo = kind->t_night_min_C, *hi = kind->t_night_max_C;
      break;
    case DEW_DEMAND_RH_DAY:
    case DEW_DEMAND_RH_NIGHT:
      *lo = kind->rh_min, *hi = kind->rh_max;
      break;
    case DEW_DEMAND_AIR:
      *lo = kind->speed_lo_m_s, *hi = kind->speed_hi_m_s;
      break;
    case DEW_DEMAND_LIGHT:
      *lo = kind->ppfd_lo_mol_m2s, *hi = kind->ppfd_hi_mol_m2s;
      break;
    default:
      *lo = *hi = NAN;
    }
}

static void
draw_strip (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer user_data)
{
  dew_strip_paint (cr, user_data, dew_theme_palette (), width, height);
}

static GtkWidget *
label_new (const char *text, const char *css_class, float xalign)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), xalign);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

/* "wants 12 to 22 °C", or with one end open. */
static char *
wants_text (DewValue value, double lo, double hi)
{
  DewTongue tongue = dew_tongue ();
  g_autofree char *low = dew_value_text (value, lo, tongue);
  g_autofree char *high = dew_value_text (value, hi, tongue);

  if (isnan (lo) && isnan (hi))
    return g_strdup ("");
  if (isnan (hi))
    return g_strdup_printf (_ ("wants at least %s"), low);
  if (isnan (lo))
    return g_strdup_printf (_ ("wants at most %s"), high);
  /* One unit will do for both. */
  return g_strdup_printf (_ ("wants %s to %s"), dew_value_figure (value, lo, tongue).number, high);
}

/* What a forecast says may be off is not called off its wish without saying so. */
static gboolean
is_off (const DewFitDemand *asked)
{
  return asked->margin < 0.0;
}

/* Which of `strips` a demand is drawn as, or -1: mist, drip and drying have one limit
 * only, and are spoken of only where they matter. */
static int
strip_of (DewDemand demand)
{
  for (guint i = 0; i < G_N_ELEMENTS (strips); i++)
    {
      if (strips[i].demand == demand)
        return (int) i;
    }
  return -1;
}

static void
fill_words (Row *row, const DewStanding *standing, DewDemand demand)
{
  const DewFitDemand *asked = &standing->fit.demand[demand];
  gboolean off = is_off (asked);
  g_autofree char *words = NULL;

  gtk_widget_set_visible (row->words, off || (row->line != NULL && asked->unsure));
  if (!gtk_widget_get_visible (row->words))
    return;
  words = dew_fit_demand_words (&standing->fit, demand, dew_tongue ());
  gtk_label_set_text (GTK_LABEL (row->words), words);
  if (off)
    gtk_widget_add_css_class (row->words, "off-wish");
  else
    gtk_widget_remove_css_class (row->words, "off-wish");
}

static void
fill_strip (Row *row, const DewStanding *standing, int which, const DewClimate *air)
{
  DewDemand demand = strips[which].demand;
  DewValue value = strips[which].value;
  DewStrip *strip = &row->strip;
  g_autofree char *wants = NULL, *gets = NULL, *spoken = NULL;

  strip->outside = is_off (&standing->fit.demand[demand]);
  ends_of (&standing->kind, demand, &strip->want_lo, &strip->want_hi);
  strip->got = dew_climate_value (air, value, &strip->band);
  dew_strip_fit (strip, strips[which].least_span);
  wants = wants_text (value, strip->want_lo, strip->want_hi);
  gets = dew_climate_text (air, value, dew_tongue ());
  gtk_label_set_text (GTK_LABEL (row->gets), gets);
  gtk_label_set_text (GTK_LABEL (row->wants), wants);
  /* Translators: for ears: what, what it gets, "wants 12 to 22 °C". */
  spoken = g_strdup_printf (_ ("%s: %s, %s"), _ (strips[which].title), gets, wants);
  dew_name_widget (row->line, spoken);
  gtk_widget_queue_draw (row->line);
}

/* --- whole ------------------------------------------------------------------ */

static void
fill_rows (Wishes *self, const DewStanding *standing, const DewClimate *air, gboolean sort)
{
  gboolean asked[DEW_N_DEMANDS] = { FALSE };
  GtkWidget *last = NULL;

  for (int i = 0; standing->known && i < standing->n; i++)
    {
      DewDemand demand = standing->order[i];
      Row *row = &self->row[demand];

      asked[demand] = TRUE;
      if (row->line != NULL)
        fill_strip (row, standing, strip_of (demand), air);
      fill_words (row, standing, demand);
      if (sort)
        gtk_box_reorder_child_after (GTK_BOX (self->rows), row->row, last);
      last = row->row;
    }
  for (DewDemand demand = 0; demand < DEW_N_DEMANDS; demand++)
    {
      Row *row = &self->row[demand];

      gtk_widget_set_visible (row->row,
                              asked[demand]
                                && (row->line != NULL || gtk_widget_get_visible (row->words)));
    }
}

/* Whether it is poisonous, or that nobody has looked. */
static void
fill_safety (Wishes *self, const DewThing *plant)
{
  g_autofree char *words = NULL;

  gtk_widget_set_visible (self->safety, plant->plant.species[0] != '\0');
  if (plant->plant.species[0] == '\0')
    return;
  words = dew_kind_safety_words (plant->plant.species);
  if (g_strcmp0 (gtk_label_get_text (GTK_LABEL (self->safety)), words) != 0)
    gtk_label_set_text (GTK_LABEL (self->safety), words);
}

void
dew_wishes_fill (GtkWidget *widget, DewDocument *document, const DewThing *plant)
{
  Wishes *self = g_object_get_data (G_OBJECT (widget), WISHES_KEY);
  const DewForecast *forecast = dew_document_forecast (document);
  DewStanding standing;

  g_return_if_fail (self != NULL && plant->kind == DEW_THING_PLANT);

  if (!dew_standing_of (document, plant, &standing))
    {
      gtk_widget_set_visible (widget, FALSE);
      return;
    }
  /* Rows that change places under the eye cannot be read. */
  fill_rows (self, &standing, &forecast->places[standing.place].mean,
             !dew_document_lags (document));
  gtk_widget_set_visible (self->unknown, !standing.known);
  fill_safety (self, plant);
  gtk_widget_set_visible (widget, TRUE);
}

static void
make_row (Wishes *self, DewDemand demand)
{
  Row *row = &self->row[demand];
  int which = strip_of (demand);

  row->row = gtk_box_new (GTK_ORIENTATION_VERTICAL, 1);
  if (which >= 0)
    {
      GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
      GtkWidget *title = label_new (_ (strips[which].title), "field", 0.0f);

      row->gets = label_new ("", "figure", 1.0f);
      row->wants = label_new ("", "band", 0.0f);
      row->line = dew_picture_new (NULL, 0, STRIP_HEIGHT_PX, draw_strip, &row->strip, NULL);
      gtk_widget_set_hexpand (title, TRUE);
      gtk_box_append (GTK_BOX (head), title);
      gtk_box_append (GTK_BOX (head), row->gets);
      gtk_box_append (GTK_BOX (row->row), head);
      gtk_box_append (GTK_BOX (row->row), row->line);
      gtk_box_append (GTK_BOX (row->row), row->wants);
    }
  row->words = label_new ("", "wish-words", 0.0f);
  gtk_label_set_max_width_chars (GTK_LABEL (row->words), 32);
  gtk_box_append (GTK_BOX (row->row), row->words);
  gtk_widget_set_visible (row->row, FALSE);
  gtk_box_append (GTK_BOX (self->rows), row->row);
}

GtkWidget *
dew_wishes_new (void)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  Wishes *self = g_new0 (Wishes, 1);

  g_object_set_data_full (G_OBJECT (column), WISHES_KEY, self, g_free);
  gtk_widget_add_css_class (column, "wishes");
  self->unknown = label_new (_ ("Choose a species, and this shows what it wants against what it "
                                "gets here."),
                             "soft", 0.0f);
  gtk_label_set_max_width_chars (GTK_LABEL (self->unknown), 32);
  self->rows = gtk_box_new (GTK_ORIENTATION_VERTICAL, 1);
  for (DewDemand demand = 0; demand < DEW_N_DEMANDS; demand++)
    make_row (self, demand);
  gtk_box_append (GTK_BOX (column), label_new (_ ("Wants and gets"), "group-title", 0.0f));
  gtk_box_append (GTK_BOX (column), self->unknown);
  gtk_box_append (GTK_BOX (column), self->rows);
  self->safety = label_new ("", "soft", 0.0f);
  gtk_label_set_max_width_chars (GTK_LABEL (self->safety), 32);
  gtk_box_append (GTK_BOX (column), self->safety);
  return column;
}
