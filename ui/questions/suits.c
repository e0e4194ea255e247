/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What else would grow here? */
#include "questions/question.h"

#include "advice/suits/suits.h"
#include "document/tongue.h"
#include "say/suits.h"
#include "say/where.h"
#include "store/store.h"
#include "widgets/fold.h"
#include "widgets/names.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>

/* So many kinds of a shelf are shown before the rest is folded away. */
#define MOST_SHOWN 5

typedef struct
{
  GtkWidget *search, *told;
} SuitsPane;

/* --- the work, in its thread ----------------------------------------------- */

static DewForecast *
forecast (const DewChamber *chamber, gboolean night, GCancellable *cancellable, GError **error)
{
  DewForecastOptions options;

  dew_forecast_options_init (&options);
  options.grid = DEW_GRID_SETTLED;
  options.night = night;
  options.wish = dew_catalogue_plant_wish;
  options.wish_data = (gpointer) chamber;
  return dew_forecast_new (chamber, 0, &options, cancellable, error);
}

static gpointer
work (gpointer data, DewErrandRun *run, GCancellable *cancellable, GError **error)
{
  const DewAskInput *input = data;
  g_autoptr (DewForecast) day = forecast (input->chamber, FALSE, cancellable, error);
  g_autoptr (DewForecast) night = NULL;

  if (day == NULL)
    return NULL;
  dew_errand_report (run, 0.5, NULL);
  night = forecast (input->chamber, TRUE, cancellable, error);
  if (night == NULL)
    return NULL;
  return dew_suits_new (input->chamber, dew_chamber_shown (input->chamber),
                        &(DewSuitsAir){ input->chamber->month, day, night }, 1, error);
}

static void
free_result (gpointer suits)
{
  dew_suits_free (suits);
}

/* --- one kind that is wanted ----------------------------------------------- */

/* What was typed, against the newest answer. */
static void
tell_wanted (DewAsk *ask)
{
  SuitsPane *self = dew_ask_pane (ask);
  const DewSuits *suits = dew_ask_result (ask);
  const DewChamber *chamber = dew_document_chamber (dew_ask_document (ask));
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->search));
  g_autoptr (GArray) found = NULL;
  const DewSuitsKind *kind = NULL;

  dew_empty (self->told);
  if (*typed == '\0' || suits == NULL || chamber == NULL)
    return;
  found = dew_catalogue_search_plants (chamber, typed);
  if (found->len > 0)
    kind = dew_suits_kind (suits, g_array_index (found, DewPlantMatch, 0).name);
  if (kind == NULL)
    dew_add_words (GTK_BOX (self->told), _ ("The catalogue knows no plant of that name."), "soft");
  else
    {
      g_auto (GStrv) words = dew_suits_kind_words (suits, kind, dew_tongue ());

      for (guint i = 0; words[i] != NULL; i++)
        dew_add_words (GTK_BOX (self->told), words[i], i == 0 ? "finding-title" : NULL);
      for (int b = suits->n_bays - 1; b >= 0; b--)
        {
          g_autofree char *shelf = dew_shelf_title (suits->shelf[b]);
          g_autofree char *here = dew_suits_bay_words (suits, kind, b, dew_tongue ());
          /* Translators: a shelf, and what a kind of plant gets or lacks there. */
          g_autofree char *line
            = here != NULL && b != kind->best ? g_strdup_printf (_ ("%s: %s"), shelf, here) : NULL;

          if (line != NULL)
            dew_add_words (GTK_BOX (self->told), line, "soft");
        }
    }
}

static void
build (DewAsk *ask)
{
  SuitsPane *self = dew_ask_pane (ask);
  GtkBox *head = GTK_BOX (dew_ask_head (ask));

  self->search = gtk_search_entry_new ();
  g_object_set (self->search, "placeholder-text", _ ("Plant"), NULL);
  dew_name_widget (self->search, _ ("A kind of plant that is wanted"));
  self->told = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  gtk_box_append (head, self->search);
  gtk_box_append (head, self->told);
  g_signal_connect_swapped (self->search, "search-changed", G_CALLBACK (tell_wanted), ask);
}

/* --- the answer -------------------------------------------------------------- */

static void
add_kind (GtkWidget *list, const DewSuits *suits, int k, int bay)
{
  const DewSuitsKind *kind = &suits->kinds[k];
  GtkBox *words = dew_ask_list_add (list, k, 0, kind->name);
  g_autofree char *here = dew_suits_bay_words (suits, kind, bay, dew_tongue ());

  dew_add_words (words, here, "soft");
  if (kind->rests)
    dew_add_words (words, _ ("For the summer only: it wants a cold winter."), "soft");
}

/* The kinds that like this shelf most, and how many bear it besides. */
static void
add_bay (DewAsk *ask, const DewSuits *suits, int bay)
{
  GtkBox *body = GTK_BOX (dew_ask_body (ask));
  g_autofree char *shelf = dew_shelf_title (suits->shelf[bay]);
  g_autofree char *air = dew_suits_air_words (suits, bay, dew_tongue ());
  GtkWidget *list = dew_ask_list_new (ask, shelf), *more = NULL;
  int n = 0, bear = 0;

  for (int k = 0; k < suits->n_kinds; k++)
    {
      const DewSuitsKind *kind = &suits->kinds[k];

      bear += kind->bays[bay].place >= 0 && kind->bays[bay].months_out == 0;
      if (!kind->fits || kind->best != bay)
        continue;
      if (n++ == MOST_SHOWN)
        more = dew_ask_list_new (ask, shelf);
      add_kind (more != NULL ? more : list, suits, k, bay);
    }
  dew_ask_tell (ask, shelf, "group-title");
  dew_ask_tell (ask, air, "soft");
  if (n > 0)
    gtk_box_append (body, list);
  if (more != NULL)
    {
      g_autofree char *title
        = g_strdup_printf (ngettext ("%d more likes it best here", "%d more like it best here",
                                     n - MOST_SHOWN),
                           n - MOST_SHOWN);

      gtk_box_append (body, dew_fold_new (title, more));
    }
  if (bear > n)
    {
      g_autofree char *others
        = g_strdup_printf (ngettext ("%d other kind bears this shelf and likes another more.",
                                     "%d other kinds bear this shelf and like another more.",
                                     bear - n),
                           bear - n);

      dew_ask_tell (ask, others, "soft");
    }
  else if (n == 0)
    dew_ask_tell (ask, _ ("No kind of the catalogue would do here."), "soft");
}

static void
show (DewAsk *ask, gpointer result, gboolean final)
{
  const DewSuits *suits = result;
  g_autofree char *words = dew_suits_words (suits);

  dew_ask_tell (ask, words, "verdict");
  dew_ask_tell (ask,
                _ ("Of air, light and height; whether there is room beside what stands here, "
                   "“Which plant stands where?” tells. A click puts a kind on the list of "
                   "wishes."),
                "foot");
  for (int b = suits->n_bays - 1; b >= 0; b--)
    add_bay (ask, suits, b);
  if (final)
    tell_wanted (ask);
}

static gboolean
apply (DewAsk *ask, int answer, DewChamber *chamber, gboolean night, DewForecast **forecast_of)
{
  const DewSuits *suits = dew_ask_result (ask);
  DewWish wish;

  dew_wish_init (&wish);
  dew_name_set (wish.name, suits->kinds[answer].name);
  dew_name_set (wish.species, suits->kinds[answer].name);
  dew_chamber_add_wish (chamber, &wish);
  return TRUE;
}

const DewQuestion dew_question_suits = {
  .action = "win.ask-suits",
  .title = N_ ("What else would grow here?"),
  .purpose = N_ ("Every kind of the catalogue against each shelf, by day and by night."),
  .busy = N_ ("Forecasting day and night"),
  .step = N_ ("Wish for a plant"),
  .pane_size = sizeof (SuitsPane),
  .build = build,
  .work = work,
  .free_result = free_result,
  .show = show,
  .apply = apply,
};
