/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/openings/openings.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "advice/layouts.h"
#include "advice/spread.h"
#include "catalogue/catalogue.h"
#include "geometry/geometry.h"
#include "moist/constants.h"

#define EDGE_M 0.04      /* from floor and roof */
#define SIDE_STEP_M 0.02 /* when another hole is in the way */
#define SLIT_ASPECT 4.0  /* width over height of a flap or a drawn zip */

/* Discharge coefficients: data/vents.csv. */
#define FLAP_CD 0.55
#define ZIP_CD 0.60
#define CUT_CD 0.61

#define DOUBLINGS 3 /* of the largest size, while it does best */

static const double usual_areas_m2[] = { 25e-4, 100e-4 };

void
dew_opening_question_init (DewOpeningQuestion *question)
{
  memset (question, 0, sizeof *question);
  dew_weights_init (&question->weights);
}

/* --- what may be opened -------------------------------------------------- */

static gboolean
fits (const DewChamber *chamber, guint variant_id, const GArray *more, const DewOpening *opening)
{
  g_autoptr (DewChamber) tried = dew_chamber_copy (chamber);
  g_autoptr (GArray) problems = NULL;
  DewVariant *variant = dew_chamber_variant (tried, variant_id);
  DewThing thing;

  dew_thing_init (&thing, DEW_THING_OPENING);
  for (guint o = 0; o < more->len; o++)
    {
      thing.opening = g_array_index (more, DewOpening, o);
      dew_variant_add (tried, variant, &thing);
    }
  thing.opening = *opening;
  dew_variant_add (tried, variant, &thing);
  problems = dew_chamber_check (tried, variant->id);
  return problems->len == 0;
}

/* Glass is not cut at home, and takes neither flap nor zip; a zip wants film. */
static gboolean
takes (const DewChamber *chamber, DewFace face, DewOpeningKind kind)
{
  const DewCatalogue *covers = dew_catalogue ("covers");
  int row = dew_catalogue_find (covers, chamber->panels[face].material);
  const char *is = row >= 0 ? dew_catalogue_text (covers, (guint) row, "kind") : "film";

  if (g_str_has_prefix (is, "glass"))
    return FALSE;
  return kind != DEW_OPENING_ZIP || g_str_has_prefix (is, "film");
}

/* An opening of that free area in the middle of a side, low or high; moved aside, or to another
 * side, when something else is there. FALSE when there is no room for it. */
static gboolean
place_opening (const DewChamber *chamber, guint variant_id, const GArray *more, DewOpeningKind kind,
               gboolean high, double area_m2, DewOpening *out, gboolean *rigid)
{
  static const DewFace sides[] = { DEW_FACE_FRONT, DEW_FACE_BACK, DEW_FACE_LEFT, DEW_FACE_RIGHT };
  double inner[3], aspect = kind == DEW_OPENING_HOLE ? 1.0 : SLIT_ASPECT;
  DewThing thing;

  dew_chamber_inner_m (chamber, inner);
  dew_thing_init (&thing, DEW_THING_OPENING);
  *out = thing.opening;
  out->kind = kind;
  out->free_ratio = 1.0; /* the area asked for is the free one */
  out->open_fraction = 1.0;
  out->discharge_coefficient = kind == DEW_OPENING_FLAP  ? FLAP_CD
                               : kind == DEW_OPENING_ZIP ? ZIP_CD
                                                         : CUT_CD;
  for (guint s = 0; s < G_N_ELEMENTS (sides); s++)
    {
      int u, v;

      dew_face_axes (sides[s], &u, &v);

      double across = inner[u];
      double width = MIN (sqrt (area_m2 * aspect), across - 2.0 * EDGE_M), height = area_m2 / width;

      if (width <= 0.0 || height > inner[2] / 2 - EDGE_M)
        continue;
      if (!takes (chamber, sides[s], kind))
        {
          *rigid = TRUE;
          continue;
        }
      out->face = sides[s];
      out->v0_m = high ? inner[2] - EDGE_M - height : EDGE_M;
      out->v1_m = out->v0_m + height;
      /* From the middle outwards, to both sides alike. */
      for (int n = 0; n <= 2 * (int) (0.5 * (across - width) / SIDE_STEP_M); n++)
        {
          double aside = (n % 2 == 0 ? 1 : -1) * SIDE_STEP_M * ((n + 1) / 2);

          out->u0_m = 0.5 * (across - width) + aside;
          out->u1_m = out->u0_m + width;
          if (fits (chamber, variant_id, more, out))
            return TRUE;
        }
    }
  return FALSE;
}

typedef struct
{
  const DewChamber *chamber;
  guint variant_id;
  const DewOpeningQuestion *q;
  GArray *options; /* DewOpeningOption */
} Asked;

static void
add_plan (Asked *asked, DewOpeningPlan plan, double area_m2)
{
  static const struct
  {
    int low, high; /* DewOpeningKind, or -1 */
  } kinds[DEW_N_PLANS] = {
    [DEW_PLAN_FLAP_LOW] = { DEW_OPENING_FLAP, -1 },
    [DEW_PLAN_ZIP_HIGH] = { -1, DEW_OPENING_ZIP },
    [DEW_PLAN_FLAP_AND_ZIP] = { DEW_OPENING_FLAP, DEW_OPENING_ZIP },
    [DEW_PLAN_CUT_LOW] = { DEW_OPENING_HOLE, -1 },
    [DEW_PLAN_CUTS] = { DEW_OPENING_HOLE, DEW_OPENING_HOLE },
  };
  DewOpeningOption option
    = { .plan = plan, .area_m2 = area_m2, .reversible = plan < DEW_PLAN_CUT_LOW };
  const int wanted[2] = { kinds[plan].low, kinds[plan].high };

  option.openings = g_array_new (FALSE, FALSE, sizeof (DewOpening));
  for (int high = 0; high < 2; high++)
    {
      DewOpening opening;

      if (wanted[high] < 0)
        continue;
      if (place_opening (asked->chamber, asked->variant_id, option.openings, wanted[high], high,
                         area_m2, &opening, &option.rigid))
        g_array_append_val (option.openings, opening);
      else
        option.no_room = TRUE;
    }
  g_array_append_val (asked->options, option);
}

static gboolean
anything_open (const DewVariant *variant)
{
  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind == DEW_THING_OPENING && thing->opening.kind != DEW_OPENING_DUCT
          && thing->opening.open_fraction > 0.0 && thing->opening.free_ratio > 0.0)
        return TRUE;
    }
  return FALSE;
}

static void
add_plain (Asked *asked, DewOpeningPlan plan)
{
  DewOpeningOption option = { .plan = plan, .reversible = TRUE };

  option.openings = g_array_new (FALSE, FALSE, sizeof (DewOpening));
  g_array_append_val (asked->options, option);
}

static void
make_options (Asked *asked)
{
  const double *areas = asked->q->n_areas > 0 ? asked->q->areas_m2 : usual_areas_m2;
  int n = asked->q->n_areas > 0 ? asked->q->n_areas : (int) G_N_ELEMENTS (usual_areas_m2);

  add_plain (asked, DEW_PLAN_AS_DRAWN);
  if (anything_open (dew_chamber_variant (asked->chamber, asked->variant_id)))
    add_plain (asked, DEW_PLAN_WHOLE);
  for (int a = 0; a < n; a++)
    for (int plan = DEW_PLAN_FLAP_LOW; plan < DEW_N_PLANS; plan++)
      add_plan (asked, plan, areas[a]);
}

void
dew_opening_apply (DewChamber *chamber, guint variant_id, const DewOpeningOption *option)
{
  DewVariant *variant = dew_chamber_variant (chamber, variant_id);
  DewThing thing;

  for (guint t = 0; t < variant->things->len && option->plan == DEW_PLAN_WHOLE; t++)
    {
      DewThing *opening = &g_array_index (variant->things, DewThing, t);

      if (opening->kind == DEW_THING_OPENING && opening->opening.kind != DEW_OPENING_DUCT)
        opening->opening.open_fraction = 0.0;
    }
  dew_thing_init (&thing, DEW_THING_OPENING);
  for (guint o = 0; o < option->openings->len; o++)
    {
      thing.opening = g_array_index (option->openings, DewOpening, o);
      dew_variant_add (chamber, variant, &thing);
    }
}

/* --- judging ------------------------------------------------------------- */

static gboolean
find_bands (DewLayoutBench *bench, const DewOpeningQuestion *q, DewOpeningAdvice *advice,
            DewLayout *const *layouts, GError **error)
{
  g_autofree double *settled = g_new (double, advice->n_options);
  g_autofree DewChamber **chambers = g_new (DewChamber *, advice->n_options);
  g_autoptr (DewSpread) spread = NULL;
  double zones;

  if (q->members < 0)
    return TRUE;
  for (int o = 0; o < advice->n_options; o++)
    {
      chambers[o] = layouts[o]->chamber;
      settled[o] = advice->options[o].forecast ? advice->options[o].objective.value : NAN;
    }
  spread
    = dew_spread_new (chambers, advice->n_options, bench->variant_id, bench->start, advice->wants,
                      &q->weights, q->members, q->threads, bench->cancellable, error);
  if (spread == NULL)
    return FALSE;
  zones = dew_spread_of_zones (spread, settled);
  for (int o = 0; o < advice->n_options; o++)
    advice->options[o].band = advice->options[o].plan == DEW_PLAN_AS_DRAWN
                                ? 0.0
                                : hypot (dew_spread_difference (spread, o, 0), zones);
  return TRUE;
}

static void
describe (DewOpeningOption *option, const DewOpeningOption *drawn)
{
  DewChange exchange = { .subject = DEW_COMPARE_WHOLE,
                         .of = DEW_CHANGE_EXCHANGE,
                         .when = DEW_CHANGE_ALWAYS,
                         .bay = -1,
                         .from = drawn->exchange_1_h / DEW_S_PER_H,
                         .to = option->exchange_1_h / DEW_S_PER_H,
                         .band = NAN,
                         .beyond = TRUE };

  option->bays = dew_bay_changes (option->day, option->night, drawn->day, drawn->night);
  option->changes = dew_trade_offs (&option->objective, &drawn->objective, option->bays);
  if (fabs (exchange.to - exchange.from) > dew_change_noticed (DEW_CHANGE_EXCHANGE))
    g_array_prepend_val (option->changes, exchange);
}

/* The best option that can be undone, and the best of all: of those that are surely better than
 * what is drawn. -1: none. */
static void
find_best (const DewOpeningAdvice *advice, int *undoable, int *any)
{
  *undoable = *any = -1;
  for (int o = 0; o < advice->n_options; o++)
    {
      const DewOpeningOption *option = &advice->options[o];

      if (!option->forecast || !option->sure)
        continue;
      if (*any < 0 || option->gain > advice->options[*any].gain)
        *any = o;
      if (option->reversible && (*undoable < 0 || option->gain > advice->options[*undoable].gain))
        *undoable = o;
    }
}

static void
decide (DewOpeningAdvice *advice)
{
  int undoable, any;

  find_best (advice, &undoable, &any);
  if (any < 0)
    advice->best = 0;
  else if (undoable < 0
           || (!advice->options[any].reversible
               && advice->options[any].gain - advice->options[undoable].gain
                    > advice->options[any].band))
    advice->best = any;
  else
    advice->best = undoable;
}

typedef struct
{
  int option;
  double value;
} Ranked;

static int
better_first (gconstpointer pa, gconstpointer pb)
{
  const Ranked *a = pa, *b = pb;

  if (a->value != b->value)
    return a->value < b->value ? 1 : -1;
  return a->option - b->option;
}

static void
put_in_order (DewOpeningAdvice *advice)
{
  g_autofree Ranked *ranked = g_new (Ranked, advice->n_options);

  for (int o = 0; o < advice->n_options; o++)
    ranked[o]
      = (Ranked){ o, advice->options[o].forecast ? advice->options[o].objective.value : -1.0 };
  qsort (ranked, advice->n_options, sizeof *ranked, better_first);
  advice->order = g_new (int, advice->n_options);
  for (int o = 0; o < advice->n_options; o++)
    advice->order[o] = ranked[o].option;
}

static gboolean
judge (DewLayoutBench *bench, const DewOpeningQuestion *q, DewOpeningAdvice *advice,
       DewLayout *const *layouts, GError **error)
{
  for (int o = 0; o < advice->n_options; o++)
    {
      DewOpeningOption *option = &advice->options[o];
      DewLayout *layout = layouts[o];

      option->band = NAN;
      option->forecast = layout->trouble == NULL && !option->no_room;
      if (!option->forecast)
        {
          option->trouble = g_strdup (layout->trouble);
          continue;
        }
      option->day = dew_forecast_ref (layout->day);
      option->night = dew_forecast_ref (layout->night);
      option->exchange_1_h
        = 0.5 * DEW_S_PER_H * (option->day->exchange_1_s + option->night->exchange_1_s);
      option->stale = option->exchange_1_h < DEW_OPENING_FRESH_1_H;
      option->water_kg_day = dew_layout_water_kg_day (layout);
      dew_objective_of (advice->wants, &q->weights, dew_layout_variant (bench, layout), option->day,
                        option->night, &option->objective);
    }
  if (!advice->options[0].forecast)
    {
      g_set_error_literal (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_DIVERGED,
                           advice->options[0].trouble);
      return FALSE;
    }
  if (!find_bands (bench, q, advice, layouts, error))
    return FALSE;
  for (int o = 0; o < advice->n_options; o++)
    if (advice->options[o].forecast)
      {
        advice->options[o].gain
          = advice->options[o].objective.value - advice->options[0].objective.value;
        advice->options[o].sure = advice->options[o].gain > advice->options[o].band;
        describe (&advice->options[o], &advice->options[0]);
      }
  return TRUE;
}

/* --- sizes --------------------------------------------------------------- */

/* Forecasts the options that have no layout yet and can be made. */
static gboolean
run_options (Asked *asked, DewLayoutBench *bench, GPtrArray *layouts, GError **error)
{
  g_autoptr (GPtrArray) made = g_ptr_array_new ();

  for (guint o = layouts->len; o < asked->options->len; o++)
    {
      const DewOpeningOption *option = &g_array_index (asked->options, DewOpeningOption, o);
      DewLayout *layout = dew_layout_new (asked->chamber);

      dew_opening_apply (layout->chamber, asked->variant_id, option);
      g_ptr_array_add (layouts, layout);
      if (!option->no_room)
        g_ptr_array_add (made, layout);
    }
  return dew_layout_bench_run (bench, (DewLayout *const *) made->pdata, (int) made->len,
                               DEW_GRID_SETTLED, error);
}

/* The best so far by its merit alone; -1: none. */
static int
best_so_far (const Asked *asked, const DewLayoutBench *bench, const DewWants *wants,
             const GPtrArray *layouts)
{
  double most = -1.0;
  int best = -1;

  for (guint o = 0; o < layouts->len; o++)
    {
      const DewLayout *layout = g_ptr_array_index (layouts, o);
      DewObjective objective;

      if (layout->trouble != NULL || layout->day == NULL || layout->night == NULL
          || g_array_index (asked->options, DewOpeningOption, o).no_room)
        continue;
      dew_objective_of (wants, &asked->q->weights, dew_layout_variant (bench, layout), layout->day,
                        layout->night, &objective);
      if (objective.value <= most)
        continue;
      most = objective.value;
      best = (int) o;
    }
  return best;
}

/* While the largest that was tried of its plan is the best of all: twice that. */
static gboolean
try_larger (Asked *asked, DewLayoutBench *bench, const DewOpeningAdvice *advice, GPtrArray *layouts,
            GError **error)
{
  for (int doubling = 0; doubling < DOUBLINGS; doubling++)
    {
      int best = best_so_far (asked, bench, advice->wants, layouts);
      const DewOpeningOption *option;
      double largest = 0.0;

      if (best < 0)
        return TRUE;
      option = &g_array_index (asked->options, DewOpeningOption, best);
      for (guint o = 0; o < asked->options->len; o++)
        if (g_array_index (asked->options, DewOpeningOption, o).plan == option->plan)
          largest = MAX (largest, g_array_index (asked->options, DewOpeningOption, o).area_m2);
      if (!(option->area_m2 > 0.0) || option->area_m2 < largest)
        return TRUE;
      add_plan (asked, option->plan, 2.0 * option->area_m2);
      if (g_array_index (asked->options, DewOpeningOption, asked->options->len - 1).no_room)
        {
          DewOpeningOption *last
            = &g_array_index (asked->options, DewOpeningOption, asked->options->len - 1);

          g_array_unref (last->openings);
          g_array_set_size (asked->options, asked->options->len - 1);
          return TRUE;
        }
      if (!run_options (asked, bench, layouts, error))
        return FALSE;
    }
  return TRUE;
}

/* --- asking -------------------------------------------------------------- */

DewOpeningAdvice *
dew_opening_advise (const DewChamber *chamber, guint variant_id, const DewOpeningQuestion *question,
                    GCancellable *cancellable, GError **error)
{
  g_autoptr (DewOpeningAdvice) advice = g_new0 (DewOpeningAdvice, 1);
  g_autoptr (GPtrArray) layouts = g_ptr_array_new_with_free_func ((GDestroyNotify) dew_layout_free);
  Asked asked = { chamber, variant_id, question, NULL };
  const DewVariant *variant = dew_chamber_variant (chamber, variant_id);
  DewLayoutBench bench = { 0 };
  gint64 began = g_get_monotonic_time ();
  gboolean fine;

  if (variant == NULL)
    {
      g_set_error (error, DEW_FORECAST_ERROR, DEW_FORECAST_ERROR_INVALID,
                   _ ("There is no such variant in this document"));
      return NULL;
    }
  advice->wants = dew_wants_new (chamber, variant, question->lookup, question->lookup_data);
  asked.options = g_array_new (FALSE, TRUE, sizeof (DewOpeningOption));
  fine = dew_layout_bench_open (&bench, chamber, variant_id, dew_wants_lookup, advice->wants,
                                question->threads, cancellable, error);
  if (fine)
    make_options (&asked);
  bench.progress = question->progress;
  bench.progress_data = question->progress_data;
  bench.total = 2 * (asked.options->len + DOUBLINGS);
  fine = fine && run_options (&asked, &bench, layouts, error)
         && try_larger (&asked, &bench, advice, layouts, error);
  advice->n_options = asked.options->len;
  advice->options = (DewOpeningOption *) g_array_free (asked.options, FALSE);
  fine = fine && judge (&bench, question, advice, (DewLayout *const *) layouts->pdata, error);
  dew_layout_bench_close (&bench);
  if (!fine)
    return NULL;
  put_in_order (advice);
  decide (advice);
  advice->seconds = (g_get_monotonic_time () - began) / 1e6;
  return g_steal_pointer (&advice);
}

void
dew_opening_advice_free (DewOpeningAdvice *advice)
{
  if (advice == NULL)
    return;
  for (int o = 0; o < advice->n_options; o++)
    {
      DewOpeningOption *option = &advice->options[o];

      g_free (option->trouble);
      g_array_unref (option->openings);
      dew_forecast_unref (option->day);
      dew_forecast_unref (option->night);
      g_clear_pointer (&option->bays, g_array_unref);
      g_clear_pointer (&option->changes, g_array_unref);
    }
  g_free (advice->options);
  g_free (advice->order);
  dew_wants_free (advice->wants);
  g_free (advice);
}
