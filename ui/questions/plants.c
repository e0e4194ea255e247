/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which plant stands where? */
#include "questions/question.h"

#include "advice/assign/assign.h"
#include "forecast/bands.h"
#include "questions/wishes.h"
#include "document/tongue.h"
#include "say/assign.h"
#include "widgets/fold.h"
#include "widgets/parts.h"

#include <glib/gi18n.h>
#include <string.h>

/* The answers: the arrangement that few moves lead to, and one that takes more. */
enum
{
  FEW_MOVES,
  ALL_MOVES
};

/* The air that plants are fitted to; forecasts are costly, and neither wishes nor
 * what keeps its place change them. */
typedef struct
{
  gint ref_count;
  DewChamber *chamber; /* as it was forecast */
  DewForecast *day, *night;
  gboolean bands;
} Air;

typedef struct
{
  DewChamber *chamber; /* what is looked up in for the assignment */
  Air *air;
  DewAssignment *assignment;
} Result;

typedef struct
{
  Air *air; /* of the newest answer */
} PlantsPane;

/* --- the air ------------------------------------------------------------------ */

static Air *
air_ref (Air *air)
{
  if (air != NULL)
    g_atomic_int_inc (&air->ref_count);
  return air;
}

static void
air_unref (gpointer data)
{
  Air *air = data;

  if (air == NULL || !g_atomic_int_dec_and_test (&air->ref_count))
    return;
  dew_chamber_free (air->chamber);
  dew_forecast_unref (air->day);
  dew_forecast_unref (air->night);
  g_free (air);
}

/* The document without what does not touch the air. */
static DewChamber *
bare_copy (const DewChamber *chamber)
{
  DewChamber *bare = dew_chamber_copy (chamber);
  DewVariant *variant = dew_chamber_shown (bare);

  g_array_set_size (bare->wishes, 0);
  bare->next_id = 0;
  for (guint i = 0; i < variant->things->len; i++)
    {
      DewThing *thing = &g_array_index (variant->things, DewThing, i);

      if (thing->kind == DEW_THING_PLANT)
        {
          thing->plant.keep_place = FALSE;
          thing->plant.state = DEW_PLANT_HEALTHY;
        }
    }
  return bare;
}

static gboolean
same_air (const Air *air, const DewChamber *chamber)
{
  g_autoptr (DewChamber) one = NULL, other = NULL;

  if (air == NULL)
    return FALSE;
  one = bare_copy (air->chamber);
  other = bare_copy (chamber);
  return dew_chamber_equal (one, other);
}

static DewForecast *
forecast (const DewChamber *chamber, gboolean night, int members, GCancellable *cancellable,
          GError **error)
{
  DewForecastOptions options;

  dew_forecast_options_init (&options);
  options.grid = DEW_GRID_SETTLED;
  options.night = night;
  options.members = members;
  options.wish = dew_catalogue_plant_wish;
  options.wish_data = (gpointer) chamber;
  return dew_forecast_new (chamber, 0, &options, cancellable, error);
}

static Air *
air_new (const DewChamber *chamber, int members, DewErrandRun *run, double from, double to,
         GCancellable *cancellable, GError **error)
{
  Air *air = g_new0 (Air, 1);

  air->ref_count = 1;
  air->chamber = dew_chamber_copy (chamber);
  air->bands = members > 0;
  air->day = forecast (air->chamber, FALSE, members, cancellable, error);
  dew_errand_report (run, (from + to) / 2.0, NULL);
  if (air->day != NULL)
    air->night = forecast (air->chamber, TRUE, members, cancellable, error);
  dew_errand_report (run, to, NULL);
  if (air->night != NULL)
    return air;
  dew_chamber_free (air->chamber);
  g_clear_pointer (&air->day, dew_forecast_unref);
  g_free (air);
  return NULL;
}

/* --- the work, in its thread ----------------------------------------------------- */

static void
result_free (gpointer data)
{
  Result *result = data;

  g_clear_pointer (&result->assignment, dew_assign_free);
  air_unref (result->air);
  dew_chamber_free (result->chamber);
  g_free (result);
}

/* Takes the air. NULL with error. */
static Result *
assign (const DewAskInput *input, Air *air, GCancellable *cancellable, GError **error)
{
  Result *result = g_new0 (Result, 1);
  DewAssignOptions options;

  result->chamber = dew_chamber_copy (input->chamber);
  result->air = air;
  dew_assign_options_init (&options);
  options.lookup = dew_catalogue_plant_kind;
  options.lookup_data = result->chamber;
  result->assignment
    = dew_assign_new (result->chamber, 0, air->day, air->night, &options, cancellable, error);
  if (result->assignment != NULL)
    return result;
  result_free (result);
  return NULL;
}

/* First on forecasts without bands, which are there soon; then again with them, so
 * that it can say where it is unsure. With an input that has the air (which may be of
 * another layout, or NULL) of the answer before. */
static gpointer
work (gpointer data, DewErrandRun *run, GCancellable *cancellable, GError **error)
{
  const DewAskInput *input = data;
  Result *result;
  Air *air = input->more;

  if (same_air (air, input->chamber) && air->bands)
    return assign (input, air_ref (air), cancellable, error);
  air = air_new (input->chamber, 0, run, 0.0, 0.25, cancellable, error);
  if (air == NULL)
    return NULL;
  result = assign (input, air, cancellable, error);
  if (result == NULL)
    return NULL;
  dew_errand_report (run, 0.3, result);
  air = air_new (input->chamber, DEW_BAND_MEMBERS, run, 0.3, 0.95, cancellable, error);
  return air != NULL ? assign (input, air, cancellable, error) : NULL;
}

static gboolean
has_plants (const DewChamber *chamber)
{
  const DewVariant *variant = dew_chamber_shown (chamber);

  for (guint i = 0; i < variant->things->len; i++)
    {
      if (g_array_index (variant->things, DewThing, i).kind == DEW_THING_PLANT)
        return TRUE;
    }
  return chamber->wishes->len > 0;
}

static gboolean
prepare (DewAsk *ask, DewAskInput *input, char **why)
{
  const PlantsPane *self = dew_ask_pane (ask);

  input->more = air_ref (self->air);
  input->free_more = air_unref;
  if (has_plants (input->chamber))
    return TRUE;
  *why = g_strdup (_ ("There is no plant to place yet. Add what you have or want above, or "
                      "drag a plant onto the sheet."));
  return FALSE;
}

/* --- the answer -------------------------------------------------------------------- */

/* Plants that are alike, from the first of them on. */
static void
add_plants (GtkBox *box, const DewAssignment *assignment, int first, gboolean *told)
{
  const DewAssignPlant *plant = &assignment->plants[first];
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 1);
  g_autofree char *words = dew_assign_words (plant, dew_tongue ());
  g_autofree char *needs = dew_assign_needs (assignment, plant, dew_tongue ());
  g_autoptr (GString) corners = g_string_new (NULL);
  g_autofree char *title = NULL;
  g_autofree char *line = NULL;
  int n = 0;

  for (int i = first; i < assignment->n_plants; i++)
    if (!told[i] && dew_assign_alike (&assignment->plants[i], plant))
      {
        g_autofree char *corner = dew_assign_corner (assignment, &assignment->plants[i]);

        told[i] = TRUE;
        n++;
        if (corner != NULL && strstr (corners->str, corner) == NULL)
          g_string_append_printf (corners, "%s%s", corners->len > 0 ? _ (", ") : "", corner);
      }
  title = n > 1 ? g_strdup_printf (_ ("%d × %s"), n, plant->name) : g_strdup (plant->name);
  /* Translators: what happens to a plant, and where it stands. */
  line = corners->len > 0
           ? g_strdup_printf (_ ("%s: %s"), dew_assign_verdict_word (plant), corners->str)
           : g_strdup (dew_assign_verdict_word (plant));
  dew_add_words (GTK_BOX (column), title, "finding-title");
  dew_add_words (GTK_BOX (column), line, "soft");
  dew_add_words (GTK_BOX (column), words, NULL);
  if (needs != NULL)
    {
      g_autofree char *remedy = g_strdup_printf (_ ("It would take: %s."), needs);

      dew_add_words (GTK_BOX (column), remedy, "remedy");
    }
  gtk_widget_add_css_class (column, "placement");
  gtk_box_append (box, column);
}

/* By shelf, the top first, as on the sheet; at the end who has no place. */
static GtkWidget *
places_new (const DewAssignment *assignment)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  g_autofree gboolean *told = g_new0 (gboolean, assignment->n_plants + 1);

  for (int bay = assignment->n_bays - 1; bay >= -1; bay--)
    {
      gboolean titled = FALSE;

      for (int i = 0; i < assignment->n_plants; i++)
        {
          if (told[i] || assignment->plants[i].bay != bay)
            continue;
          if (!titled)
            {
              g_autofree char *name = dew_assign_level (assignment, bay);

              dew_add_words (GTK_BOX (box), name, "group-title");
              titled = TRUE;
            }
          add_plants (GTK_BOX (box), assignment, i, told);
        }
    }
  return box;
}

/* What fits a pane at a glance is shown, more is one click away. */
#define MOST_SHOWN 6

static void
add_places (GtkBox *body, const DewAssignment *assignment)
{
  GtkWidget *places = places_new (assignment);

  if (assignment->n_plants <= MOST_SHOWN)
    gtk_box_append (body, places);
  else
    gtk_box_append (body, dew_fold_new (_ ("Each plant and its place"), places));
}

static void
show_assignment (DewAsk *ask, const DewAssignment *assignment)
{
  g_auto (GStrv) lead = dew_assign_lead (assignment, dew_tongue ());
  g_autofree char *proof = dew_assign_proof_words (assignment);
  g_autofree char *more = dew_assign_more_words (assignment);
  g_auto (GStrv) notes = dew_assign_notes (assignment);
  GtkBox *body = GTK_BOX (dew_ask_body (ask)), *words;
  GtkWidget *list = dew_ask_list_new (ask, _ ("The advised arrangement"));
  gboolean changes = assignment->n_moves + assignment->n_new + assignment->n_without > 0;

  for (guint i = 0; lead[i] != NULL; i++)
    dew_ask_tell (ask, lead[i], i == 0 ? "verdict" : NULL);
  for (guint i = 0; notes[i] != NULL; i++)
    dew_ask_tell (ask, notes[i], NULL);
  gtk_box_append (body, list);
  words = dew_ask_list_add (list, FEW_MOVES, 0,
                            changes ? _ ("Stand them like this") : _ ("Leave them as they are"));
  dew_add_words (words, proof, "soft");
  if (more != NULL)
    {
      words = dew_ask_list_add (list, ALL_MOVES, 0, _ ("Move more of them"));
      dew_add_words (words, more, "soft");
    }
  if (dew_ask_result (ask) != NULL)
    dew_ask_tell (ask, _ ("Point at it to see it on the sheet. A click takes it."), "foot");
  add_places (body, assignment);
}

static void
show (DewAsk *ask, gpointer data, gboolean final)
{
  PlantsPane *self = dew_ask_pane (ask);
  const Result *result = data;
  const DewAssignment *assignment = result->assignment;

  show_assignment (ask, assignment);
  if (final && self->air != result->air)
    {
      air_unref (self->air);
      self->air = air_ref (result->air);
    }
  if (final)
    {
      g_autofree char *said
        = g_strdup_printf (ngettext ("%d plant tried on %d spots in %.2f s.",
                                     "%d plants tried on %d spots in %.2f s.",
                                     (gulong) assignment->n_plants),
                           assignment->n_plants, assignment->n_spots, assignment->seconds);

      dew_ask_say (ask, said);
    }
}

static gboolean
apply (DewAsk *ask, int answer, DewChamber *chamber, gboolean night, DewForecast **forecast)
{
  const Result *result = dew_ask_result (ask);
  g_autoptr (GError) error = NULL;

  if (dew_assign_apply (answer == ALL_MOVES && result->assignment->all_moves != NULL
                          ? result->assignment->all_moves
                          : result->assignment,
                        chamber, chamber->shown_variant, &error))
    return TRUE;
  g_debug ("assignment: %s", error->message);
  return FALSE;
}

static void
build (DewAsk *ask)
{
  gtk_box_append (GTK_BOX (dew_ask_head (ask)), dew_ask_wishes_new (dew_ask_document (ask)));
}

static void
clear (gpointer pane)
{
  air_unref (((PlantsPane *) pane)->air);
}

const DewQuestion dew_question_plants = {
  .action = "win.ask-plants",
  .title = N_ ("Which plant stands where?"),
  .purpose = N_ ("Those that stand here and those you wish for, each where it does best."),
  .busy = N_ ("Fitting plants to places"),
  .step = N_ ("Stand plants as advised"),
  .pane_size = sizeof (PlantsPane),
  .build = build,
  .clear = clear,
  .prepare = prepare,
  .work = work,
  .free_result = result_free,
  .show = show,
  .apply = apply,
};
