/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "panes/wishes.h"

#include "canvas/theme.h"
#include "canvas/units.h"
#include "paint/chart.h"
#include "paint/palette.h"
#include "panes/names.h"
#include "panes/words.h"

#include <glib/gi18n.h>

#include <math.h>
#include <string.h>

#define STRIP_HEIGHT_PX 16

/* The demands that have a band and a value that can be drawn on a line. */
static const struct
{
  DewDemand   demand;
  const char *title;
  DewValue    value;
  double      least_span; /* of a strip, unit of the value */
} strips[] = {
  { DEW_DEMAND_RH_DAY, N_ ("Humidity by day"), DEW_VALUE_RH, 0.2 },
  { DEW_DEMAND_RH_NIGHT, N_ ("Humidity by night"), DEW_VALUE_RH, 0.2 },
  { DEW_DEMAND_T_DAY, N_ ("Warmth by day"), DEW_VALUE_TEMPERATURE, 8.0 },
  { DEW_DEMAND_T_NIGHT, N_ ("Warmth by night"), DEW_VALUE_TEMPERATURE, 8.0 },
  { DEW_DEMAND_AIR, N_ ("Moving air"), DEW_VALUE_SPEED, 0.2 },
  { DEW_DEMAND_LIGHT, N_ ("Light"), DEW_VALUE_PPFD, 60e-6 },
};

typedef struct
{
  GtkWidget *rows;
  GtkWidget *unknown;
} Wishes;

#define WISHES_KEY "dew-wishes"

static gboolean
look_up (const char *species, DewPlantKind *out, gpointer data)
{
  return dew_catalogue_plant_kind (data, species, out);
}

gboolean
dew_standing_of (DewDocument *document, const DewThing *plant, DewStanding *out)
{
  const DewForecast *forecast = dew_document_forecast (document);
  const DewChamber *chamber = dew_document_chamber (document);

  return forecast != NULL && chamber != NULL
         && dew_standing_judge (forecast, chamber, plant, look_up, (gpointer) chamber, out);
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
strip_new (const DewStrip *strip)
{
  GtkWidget *area = gtk_drawing_area_new ();

  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), STRIP_HEIGHT_PX);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), draw_strip,
                                  g_memdup2 (strip, sizeof *strip), g_free);
  dew_theme_connect (G_OBJECT (area), G_CALLBACK (gtk_widget_queue_draw));
  return area;
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
  gboolean imperial = dew_units_imperial ();
  g_autofree char *low = dew_value_text (value, lo, imperial);
  g_autofree char *high = dew_value_text (value, hi, imperial);
  const char *unit = dew_value_unit (value, imperial);

  if (isnan (lo) && isnan (hi))
    return g_strdup ("");
  if (isnan (hi))
    return g_strdup_printf (_ ("wants at least %s"), low);
  if (isnan (lo))
    return g_strdup_printf (_ ("wants at most %s"), high);
  /* One unit will do for both. */
  if (g_str_has_suffix (low, unit))
    {
      low[strlen (low) - strlen (unit)] = '\0';
      g_strchomp (low);
    }
  return g_strdup_printf (_ ("wants %s to %s"), low, high);
}

/* What a forecast says may be off is not called off its wish without saying so. */
static gboolean
is_off (const DewFitDemand *asked)
{
  return asked->margin < 0.0;
}

static void
add_words (Wishes *self, const DewStanding *standing, DewDemand demand)
{
  g_autofree char *words = dew_fit_demand_words (&standing->fit, demand, dew_units_imperial ());
  GtkWidget *label = label_new (words, is_off (&standing->fit.demand[demand]) ? "off-wish" : "soft",
                                0.0f);

  gtk_label_set_max_width_chars (GTK_LABEL (label), 32);
  gtk_widget_add_css_class (label, "wish-words");
  gtk_box_append (GTK_BOX (self->rows), label);
}

static void
add_strip (Wishes *self, const DewStanding *standing, guint which, const DewClimate *air)
{
  DewDemand demand = strips[which].demand;
  DewValue value = strips[which].value;
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  g_autofree char *wants = NULL, *gets = NULL, *spoken = NULL;
  DewStrip strip = { .outside = is_off (&standing->fit.demand[demand]) };
  GtkWidget *line, *title;

  ends_of (&standing->kind, demand, &strip.want_lo, &strip.want_hi);
  strip.got = dew_climate_value (air, value, &strip.band);
  dew_strip_fit (&strip, strips[which].least_span);
  wants = wants_text (value, strip.want_lo, strip.want_hi);
  gets = dew_climate_words (air, value);
  title = label_new (_ (strips[which].title), "field", 0.0f);
  gtk_widget_set_hexpand (title, TRUE);
  gtk_box_append (GTK_BOX (head), title);
  gtk_box_append (GTK_BOX (head), label_new (gets, "figure", 1.0f));
  gtk_box_append (GTK_BOX (self->rows), head);
  line = strip_new (&strip);
  /* Translators: for ears: what, what it gets, "wants 12 to 22 °C". */
  spoken = g_strdup_printf (_ ("%s: %s, %s"), _ (strips[which].title), gets, wants);
  dew_name_widget (line, spoken);
  gtk_box_append (GTK_BOX (self->rows), line);
  gtk_box_append (GTK_BOX (self->rows), label_new (wants, "band", 0.0f));
  if (is_off (&standing->fit.demand[demand]) || standing->fit.demand[demand].unsure)
    add_words (self, standing, demand);
}

static void
add_demand (Wishes *self, const DewStanding *standing, DewDemand demand, const DewClimate *air)
{
  for (guint i = 0; i < G_N_ELEMENTS (strips); i++)
    {
      if (strips[i].demand == demand)
        {
          add_strip (self, standing, i, air);
          return;
        }
    }
  /* Mist, drip and drying have one limit only: words do, and only where they matter. */
  if (is_off (&standing->fit.demand[demand]))
    add_words (self, standing, demand);
}

/* --- whole ------------------------------------------------------------------ */

void
dew_wishes_fill (GtkWidget *widget, DewDocument *document, const DewThing *plant)
{
  Wishes *self = g_object_get_data (G_OBJECT (widget), WISHES_KEY);
  const DewForecast *forecast = dew_document_forecast (document);
  DewStanding standing;
  GtkWidget *child;
  gboolean known;

  g_return_if_fail (self != NULL && plant->kind == DEW_THING_PLANT);

  while ((child = gtk_widget_get_first_child (self->rows)) != NULL)
    gtk_box_remove (GTK_BOX (self->rows), child);
  if (!dew_standing_of (document, plant, &standing))
    {
      gtk_widget_set_visible (widget, FALSE);
      return;
    }
  known = standing.known;
  for (int i = 0; known && i < standing.n; i++)
    add_demand (self, &standing, standing.order[i], &forecast->places[standing.place].mean);
  gtk_widget_set_visible (self->unknown, !known);
  gtk_widget_set_visible (widget, TRUE);
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
  gtk_box_append (GTK_BOX (column), label_new (_ ("Wants and gets"), "group-title", 0.0f));
  gtk_box_append (GTK_BOX (column), self->unknown);
  gtk_box_append (GTK_BOX (column), self->rows);
  return column;
}
