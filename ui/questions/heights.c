/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How high the shelves? */
#include "questions/question.h"

#include "advice/heights/heights.h"
#include "document/tongue.h"
#include "say/suits.h"
#include "store/store.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>

#define AS_ADVISED 0

static gpointer
work (gpointer data, DewErrandRun *run, GCancellable *cancellable, GError **error)
{
  const DewAskInput *input = data;

  return dew_heights_new (input->chamber, dew_chamber_shown (input->chamber),
                          dew_catalogue_plant_kind, input->chamber);
}

static void
free_result (gpointer heights)
{
  dew_heights_free (heights);
}

static void
show (DewAsk *ask, gpointer result, gboolean final)
{
  const DewHeights *heights = result;
  GtkBox *body = GTK_BOX (dew_ask_body (ask)), *words;
  g_auto (GStrv) told = dew_heights_words (heights, dew_tongue ());
  GtkWidget *list;

  for (guint i = 0; told[i] != NULL; i++)
    dew_ask_tell (ask, told[i], i == 0 ? "verdict" : NULL);
  if (heights->fits && heights->n_moves > 0)
    {
      list = dew_ask_list_new (ask, _ ("The advised heights"));
      gtk_box_append (body, list);
      words = dew_ask_list_add (list, AS_ADVISED, 0, _ ("Hang the shelves like this"));
      for (int s = heights->n_shelves - 1; s >= 0; s--)
        {
          g_autofree char *shelf = dew_heights_shelf_words (heights, s, dew_tongue ());

          dew_add_words (words, shelf, "soft");
        }
      dew_ask_tell (ask, _ ("Point at it to see it on the sheet. A click takes it."), "foot");
    }
  dew_ask_tell (ask, _ ("What each shelf needs"), "group-title");
  for (int b = heights->n_bays - 1; b >= 0; b--)
    {
      g_autofree char *bay = dew_heights_bay_words (heights, b, dew_tongue ());

      dew_ask_tell (ask, bay, NULL);
    }
  dew_ask_tell (ask, _ ("With the pot, 3 cm over each crown, and 15 cm from leaves to a lamp."),
                "soft");
}

static gboolean
apply (DewAsk *ask, int answer, DewChamber *chamber, gboolean night, DewForecast **forecast)
{
  const DewHeights *heights = dew_ask_result (ask);

  dew_heights_apply (heights, chamber, chamber->shown_variant);
  return TRUE;
}

const DewQuestion dew_question_heights = {
  .action = "win.ask-heights",
  .title = N_ ("How high the shelves?"),
  .purpose = N_ ("The clear height that each shelf needs for what stands there and what you wish "
                 "for."),
  .busy = N_ ("Measuring"),
  .step = N_ ("Hang shelves as advised"),
  .work = work,
  .free_result = free_result,
  .show = show,
  .apply = apply,
};
