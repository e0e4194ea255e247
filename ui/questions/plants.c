/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which plant stands where? */
#include "questions/ask.h"

#include "advice/assign/assign.h"
#include "advice/objective.h"
#include "document/tongue.h"
#include "forecast/bands.h"
#include "questions/frame.h"
#include "questions/wishes.h"
#include "widgets/names.h"

#include <glib/gi18n.h>

/* The whole assignment is one answer. */
#define ALL 0

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
  DewChamber *chamber;
  Air *air; /* may be of another layout; may be NULL */
  gboolean imperial;
} Input;

typedef struct
{
  DewChamber *chamber; /* what is looked up in for the assignment */
  Air *air;
  DewAssignment *assignment;
} Result;

typedef struct
{
  DewAsk *ask;
  Air *air; /* of the newest answer */
  GtkWidget *summary, *list, *hint, *places, *notes;
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
air_unref (Air *air)
{
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
assign (const Input *input, Air *air, GCancellable *cancellable, GError **error)
{
  Result *result = g_new0 (Result, 1);
  DewAssignOptions options;

  result->chamber = dew_chamber_copy (input->chamber);
  result->air = air;
  dew_assign_options_init (&options);
  options.imperial = input->imperial;
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
 * that it can say where it is unsure. */
static gpointer
work (gpointer data, DewErrandRun *run, GCancellable *cancellable, GError **error)
{
  Input *input = data;
  Result *result;
  Air *air;

  if (same_air (input->air, input->chamber) && input->air->bands)
    return assign (input, air_ref (input->air), cancellable, error);
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

static void
input_free (gpointer data)
{
  Input *input = data;

  air_unref (input->air);
  dew_chamber_free (input->chamber);
  g_free (input);
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

static gpointer
prepare (DewAsk *ask, gpointer pane, char **why)
{
  PlantsPane *self = pane;
  Input *input;

  if (!has_plants (dew_ask_base (ask)))
    {
      *why = g_strdup (_ ("There is no plant to place yet. Add what you have or want above, or "
                          "drag a plant onto the sheet."));
      return NULL;
    }
  input = g_new0 (Input, 1);
  input->chamber = dew_chamber_copy (dew_ask_base (ask));
  input->air = air_ref (self->air);
  input->imperial = dew_tongue ();
  return input;
}

/* --- the answer -------------------------------------------------------------------- */

static char *
change_words (const DewAssignment *assignment)
{
  int moved = 0, new = 0;

  for (int i = 0; i < assignment->n_plants; i++)
    {
      const DewAssignPlant *plant = &assignment->plants[i];

      if (plant->thing_id != 0 && !plant->stays && plant->bay >= 0)
        moved++;
      else if (plant->thing_id == 0 && plant->bay >= 0)
        new ++;
    }
  if (moved == 0 && new == 0)
    return g_strdup (_ ("All stay where they are."));
  if (moved == 0)
    return g_strdup_printf (ngettext ("%d plant comes in.", "%d plants come in.", (gulong) new),
                            new);
  if (new == 0)
    return g_strdup_printf (ngettext ("%d plant moves.", "%d plants move.", (gulong) moved), moved);
  /* Translators: first how many plants move, then how many come in from the list. */
  return g_strdup_printf (_ ("Moving: %d. Coming in: %d."), moved, new);
}

/* Whether some plant is outside what it wants by however little. */
static gboolean
any_short (const DewAssignment *assignment)
{
  for (int i = 0; i < assignment->n_plants; i++)
    for (int k = 0; k < DEW_N_DEMANDS; k++)
      {
        const DewFitDemand *demand = &assignment->plants[i].fit.demand[k];

        if (demand->margin < 0.0) /* never of NAN, where nothing is asked */
          return TRUE;
      }
  return FALSE;
}

static void
add_summary (PlantsPane *self, const DewAssignment *assignment)
{
  int n = assignment->n_plants, well = n - assignment->n_suffer - assignment->n_without;
  g_autofree char *text = NULL;

  if (well == n && !any_short (assignment))
    text = g_strdup (_ ("Every plant has a place that suits it."));
  else if (well == n)
    text
      = g_strdup (_ ("Every plant has a place that it bears, though not all get all they want."));
  else
    /* Translators: how many are well placed, and how many there are. */
    text = g_strdup_printf (_ ("%d of %d plants have a place that they bear."), well, n);
  gtk_label_set_text (GTK_LABEL (self->summary), text);
}

static const char *
verdict_word (const DewAssignPlant *plant)
{
  switch (plant->verdict)
    {
    case DEW_ASSIGN_KEPT:
      return _ ("keeps its place");
    case DEW_ASSIGN_PLACED:
      return plant->stays ? _ ("stays") : plant->thing_id != 0 ? _ ("moves") : _ ("comes in");
    case DEW_ASSIGN_SUFFERS:
      return _ ("suffers, but nothing better is free");
    case DEW_ASSIGN_CROWDED:
      return _ ("others need its places more");
    case DEW_ASSIGN_NOWHERE:
      return _ ("fits nowhere");
    }
  return "";
}

static void
add_plant (GtkBox *box, const DewAssignment *assignment, const DewAssignPlant *plant)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 1);
  g_autofree char *where = plant->bay >= 0 ? dew_assign_where (assignment, plant) : NULL;
  /* Translators: what happens to a plant, and where it stands. */
  g_autofree char *line = where != NULL
                            ? g_strdup_printf (_ ("%s: %s"), verdict_word (plant), where)
                            : g_strdup (verdict_word (plant));

  gtk_box_append (GTK_BOX (column), dew_ask_label_new (plant->name, "finding-title"));
  gtk_box_append (GTK_BOX (column), dew_ask_label_new (line, "soft"));
  if (plant->words[0] != '\0')
    gtk_box_append (GTK_BOX (column), dew_ask_label_new (plant->words, NULL));
  if (plant->needs[0] != '\0')
    {
      g_autofree char *needs = g_strdup_printf (_ ("It would take: %s."), plant->needs);

      gtk_box_append (GTK_BOX (column), dew_ask_label_new (needs, "remedy"));
    }
  gtk_widget_add_css_class (column, "placement");
  gtk_box_append (box, column);
}

/* By shelf, the top first, as on the sheet; at the end who has no place. */
static void
add_places (PlantsPane *self, const DewAssignment *assignment)
{
  GtkBox *box = GTK_BOX (self->places);

  for (int bay = assignment->n_bays - 1; bay >= -1; bay--)
    {
      gboolean titled = FALSE;

      for (int i = 0; i < assignment->n_plants; i++)
        {
          const DewAssignPlant *plant = &assignment->plants[i];

          if (plant->bay != bay)
            continue;
          if (!titled)
            {
              g_autofree char *name
                = bay >= 0 ? dew_advice_bay_name (bay) : g_strdup (_ ("Without a place"));

              gtk_box_append (box, dew_ask_label_new (name, "group-title"));
              titled = TRUE;
            }
          add_plant (box, assignment, plant);
        }
    }
}

static void
show_answer (PlantsPane *self, const Result *result, gboolean final)
{
  const DewAssignment *assignment = result->assignment;
  g_autofree char *proof = dew_assign_proof_words (assignment);
  g_autofree char *changes = change_words (assignment);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);

  add_summary (self, assignment);
  gtk_box_append (GTK_BOX (words), dew_ask_label_new (changes, "figure"));
  gtk_box_append (GTK_BOX (words), dew_ask_label_new (proof, "soft"));
  dew_ask_list_add (self->list, ALL, 0, _ ("Stand them like this"), words);
  for (guint i = 0; i < assignment->notes->len; i++)
    gtk_box_append (GTK_BOX (self->notes),
                    dew_ask_label_new (g_ptr_array_index (assignment->notes, i), NULL));
  add_places (self, assignment);
  if (final)
    {
      g_autofree char *said
        = g_strdup_printf (ngettext ("%d plant assigned to %d quarters of places in %.2f s.",
                                     "%d plants assigned to %d quarters of places in %.2f s.",
                                     (gulong) assignment->n_plants),
                           assignment->n_plants, assignment->n_spots, assignment->seconds);

      dew_ask_say (self->ask, said);
    }
}

static void
show (DewAsk *ask, gpointer data, gboolean final, gpointer pane)
{
  PlantsPane *self = pane;
  const Result *result = data;

  dew_ask_list_clear (self->list);
  dew_ask_empty_box (GTK_BOX (self->places));
  dew_ask_empty_box (GTK_BOX (self->notes));
  gtk_widget_set_visible (self->summary, result != NULL);
  /* A state half-way cannot be taken, so nothing says that it could be. */
  gtk_widget_set_visible (self->hint, result != NULL && final);
  gtk_widget_set_sensitive (self->list, final);
  if (result == NULL)
    return;
  if (final && self->air != result->air)
    {
      air_unref (self->air);
      self->air = air_ref (result->air);
    }
  show_answer (self, result, final);
}

static DewChamber *
layout (DewAsk *ask, int answer, gboolean night, DewForecast **of, gpointer pane)
{
  const Result *result = dew_ask_result (ask);
  DewChamber *chamber;
  g_autoptr (GError) error = NULL;

  if (result == NULL)
    return NULL;
  chamber = dew_chamber_copy (dew_ask_base (ask));
  if (dew_assign_apply (result->assignment, chamber, chamber->shown_variant, &error))
    return chamber;
  g_debug ("assignment: %s", error->message);
  dew_chamber_free (chamber);
  return NULL;
}

static const DewAskKind kind = {
  .title = N_ ("Which plant stands where?"),
  .purpose = N_ ("Those that stand here and those you wish for, each where it does best."),
  .busy = N_ ("Fitting plants to places"),
  .step = N_ ("Stand plants as advised"),
  .prepare = prepare,
  .work = work,
  .free_input = input_free,
  .free_result = result_free,
  .show = show,
  .layout = layout,
};

static void
pane_free (gpointer data)
{
  PlantsPane *self = data;

  air_unref (self->air);
  g_free (self);
}

GtkWidget *
dew_ask_plants_new (DewDocument *document)
{
  PlantsPane *self = g_new0 (PlantsPane, 1);
  GtkWidget *frame = dew_ask_new (document, &kind, self, pane_free);
  GtkBox *body;

  self->ask = dew_ask_of (frame);
  body = dew_ask_body (self->ask);
  gtk_box_append (dew_ask_head (self->ask), dew_ask_wishes_new (document));
  self->summary = dew_ask_label_new ("", "verdict");
  self->notes = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  self->list = dew_ask_list_new (self->ask, _ ("The advised arrangement"));
  self->hint
    = dew_ask_label_new (_ ("Point at it to see it on the sheet. A click takes it."), "foot");
  self->places = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (body, self->summary);
  gtk_box_append (body, self->notes);
  gtk_box_append (body, self->list);
  gtk_box_append (body, self->hint);
  gtk_box_append (body, self->places);
  show (self->ask, NULL, FALSE, self);
  return frame;
}
