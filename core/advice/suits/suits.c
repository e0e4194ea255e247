/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/suits/suits.h"

#include "catalogue/catalogue.h"
#include "geometry/geometry.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define POT_SHARE 0.6    /* of a crown's width: as in data/plants.csv */
#define LEAST_POT_M 0.05 /* likewise */
#define MOST_POT_M 0.16
#define REST_C 3.0 /* nights that are allowed to be so cold speak of a winter's rest */

G_DEFINE_QUARK (dew - suits - error - quark, dew_suits_error)

typedef struct
{
  const DewVariant *variant;
  const DewSuitsAir *airs;
  int n_airs, n_places;
  DewFitPlace *air; /* [n_airs * n_places] */
} Job;

/* --- kinds --------------------------------------------------------------- */

static void
add_kind (GArray *kinds, const DewPlantKind *kind, int row)
{
  DewSuitsKind one = { .row = row, .best = -1 };
  double width_m = kind->width_m > 0.0 ? kind->width_m : 0.10;
  double height_m = kind->height_m > 0.0 ? kind->height_m : width_m;

  g_strlcpy (one.name, kind->name, sizeof one.name);
  g_strlcpy (one.group, kind->group, sizeof one.group);
  one.rests = kind->t_night_min_C < REST_C;
  one.plant
    = (DewFitPlant){ .kind = *kind,
                     .known = TRUE,
                     .state = DEW_PLANT_HEALTHY,
                     .width_m = width_m,
                     .height_m = height_m,
                     .pot_diameter_m = CLAMP (POT_SHARE * width_m, LEAST_POT_M, MOST_POT_M) };
  one.plant.rise_m = dew_fit_pot_height_m (one.plant.pot_diameter_m);
  one.plant.mass_kg = dew_fit_mass_kg (one.plant.pot_diameter_m);
  g_array_append_val (kinds, one);
}

static GArray *
all_kinds (const DewChamber *chamber)
{
  const DewCatalogue *plants = dew_catalogue ("plants");
  GArray *kinds = g_array_new (FALSE, TRUE, sizeof (DewSuitsKind));

  for (guint k = 0; k < chamber->kinds->len; k++)
    add_kind (kinds, &g_array_index (chamber->kinds, DewPlantKind, k), -1);
  for (guint row = 0; row < dew_catalogue_rows (plants); row++)
    {
      const char *name = dew_catalogue_text (plants, row, "name");
      DewPlantKind kind;

      if (dew_chamber_kind (chamber, name) == NULL && dew_catalogue_plant_kind (name, &kind, NULL))
        add_kind (kinds, &kind, (int) row);
    }
  return kinds;
}

/* --- places -------------------------------------------------------------- */

/* Height from the board to what hangs or lies above a place. */
static double
clear_over (const DewChamber *chamber, const DewVariant *variant, const DewForecast *day, int p)
{
  const DewPlace *place = &day->places[p];
  const DewBay *bay = &day->bays[place->bay];
  const DewThing *shelf = bay->shelf_id ? dew_variant_thing (variant, bay->shelf_id) : NULL;
  double floor_m = bay->z0_m + (shelf ? shelf->shelf.thickness_m : 0.0), ceiling_m = bay->z1_m;

  for (guint i = 0; i < variant->things->len; i++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, i);
      double lo[3], hi[3];

      if (thing->kind != DEW_THING_LAMP && thing->kind != DEW_THING_FAN)
        continue;
      dew_thing_box (chamber, thing, lo, hi);
      if (dew_span_shared (lo[0], hi[0], place->lo_m[0], place->hi_m[0]) > 0.0
          && dew_span_shared (lo[1], hi[1], place->lo_m[1], place->hi_m[1]) > 0.0 && lo[2] > floor_m
          && lo[2] < ceiling_m)
        ceiling_m = lo[2];
    }
  return MAX (0.0, ceiling_m - floor_m);
}

static void
read_air (const DewChamber *chamber, Job *job)
{
  job->air = g_new (DewFitPlace, job->n_airs * job->n_places);
  for (int p = 0; p < job->n_places; p++)
    {
      double clear_m = clear_over (chamber, job->variant, job->airs[0].day, p);

      for (int a = 0; a < job->n_airs; a++)
        {
          DewFitPlace *air = &job->air[a * job->n_places + p];

          dew_fit_place_air (job->variant, job->airs[a].day, job->airs[a].night, p, air);
          air->clear_m = clear_m;
          air->from_front_m
            = 0.5 * (job->airs[0].day->places[p].lo_m[1] + job->airs[0].day->places[p].hi_m[1]);
        }
    }
}

/* The worst month of a kind on a place. */
static void
worst_month (const Job *job, const DewFitPlant *plant, int p, DewSuitsBay *out)
{
  *out = (DewSuitsBay){ .place = p };
  for (int a = 0; a < job->n_airs; a++)
    {
      DewFit fit;

      dew_fit_judge (plant, &job->air[a * job->n_places + p], &fit);
      if (fit.out != 0)
        out->months_out |= 1u << job->airs[a].month;
      if (a == 0 || (fit.out != 0) > (out->fit.out != 0)
          || ((fit.out != 0) == (out->fit.out != 0) && fit.score < out->fit.score))
        {
          out->fit = fit;
          out->month = job->airs[a].month;
        }
    }
}

static int
count_bits (guint mask)
{
  int n = 0;

  for (; mask != 0; mask &= mask - 1)
    n++;
  return n;
}

/* Fewer months out of the question first, then the higher score in the worst month. */
static gboolean
better (const DewSuitsBay *a, const DewSuitsBay *b)
{
  int out_a = count_bits (a->months_out), out_b = count_bits (b->months_out);

  if (a->place < 0 || b->place < 0)
    return b->place < 0 && a->place >= 0;
  return out_a != out_b ? out_a < out_b : a->fit.score > b->fit.score;
}

static void
judge_kind (const Job *job, int n_bays, DewSuitsKind *kind)
{
  kind->bays = g_new0 (DewSuitsBay, n_bays);
  for (int b = 0; b < n_bays; b++)
    kind->bays[b].place = -1;
  for (int p = 0; p < job->n_places; p++)
    {
      DewSuitsBay *bay = &kind->bays[job->airs[0].day->places[p].bay];
      int n_places = bay->n_places;
      DewSuitsBay here;

      worst_month (job, &kind->plant, p, &here);
      if (better (&here, bay))
        *bay = here;
      bay->n_places = n_places + (here.months_out == 0);
    }
  for (int b = 0; b < n_bays; b++)
    if (kind->bays[b].place >= 0
        && (kind->best < 0 || better (&kind->bays[b], &kind->bays[kind->best])))
      kind->best = b;
  kind->fits = kind->best >= 0 && kind->bays[kind->best].months_out == 0;
}

static int
best_first (gconstpointer pa, gconstpointer pb)
{
  const DewSuitsKind *a = pa, *b = pb;

  if (a->fits != b->fits)
    return a->fits ? -1 : 1;
  if (a->rests != b->rests)
    return a->rests ? 1 : -1;
  if (a->best >= 0 && b->best >= 0)
    {
      const DewSuitsBay *x = &a->bays[a->best], *y = &b->bays[b->best];

      if (better (x, y) || better (y, x))
        return better (x, y) ? -1 : 1;
    }
  return strcmp (a->name, b->name);
}

/* --- the whole ----------------------------------------------------------- */

static gboolean
one_layout (const DewSuitsAir *airs, int n)
{
  if (n < 1 || airs[0].day == NULL || airs[0].day->n_places == 0)
    return FALSE;
  for (int a = 0; a < n; a++)
    if (airs[a].day == NULL || airs[a].day->n_places != airs[0].day->n_places
        || airs[a].day->n_bays != airs[0].day->n_bays
        || (airs[a].night != NULL && airs[a].night->n_places != airs[0].day->n_places))
      return FALSE;
  return TRUE;
}

DewSuits *
dew_suits_new (const DewChamber *chamber, const DewVariant *variant, const DewSuitsAir *airs, int n,
               GError **error)
{
  Job job = { .variant = variant, .airs = airs, .n_airs = n };
  DewSuits *suits;
  GArray *kinds;

  g_return_val_if_fail (chamber != NULL && variant != NULL && airs != NULL, NULL);

  if (!one_layout (airs, n) || n > 12)
    {
      g_set_error_literal (error, DEW_SUITS_ERROR, DEW_SUITS_ERROR_FORECAST,
                           _ (
                             "There is no place on which a plant could stand. Make room on a shelf "
                             "or on the floor."));
      return NULL;
    }
  suits = g_new0 (DewSuits, 1);
  job.n_places = airs[0].day->n_places;
  read_air (chamber, &job);
  suits->n_bays = airs[0].day->n_bays;
  suits->shelf = g_new0 (int, suits->n_bays);
  suits->day = g_new0 (DewClimate, suits->n_bays);
  suits->night = g_new0 (DewClimate, suits->n_bays);
  for (int b = 0, shelf = 0; b < suits->n_bays; b++)
    {
      shelf += airs[0].day->bays[b].shelf_id != 0;
      suits->shelf[b] = airs[0].day->bays[b].shelf_id != 0 ? shelf : 0;
      suits->day[b] = airs[0].day->bays[b].mean;
      suits->night[b] = airs[0].night != NULL ? airs[0].night->bays[b].mean : suits->day[b];
    }
  suits->n_months = n;
  for (int a = 0; a < n; a++)
    suits->months[a] = airs[a].month;
  kinds = all_kinds (chamber);
  for (guint k = 0; k < kinds->len; k++)
    judge_kind (&job, suits->n_bays, &g_array_index (kinds, DewSuitsKind, k));
  g_array_sort (kinds, best_first);
  suits->n_kinds = (int) kinds->len;
  suits->kinds = (DewSuitsKind *) g_array_free (kinds, FALSE);
  g_free (job.air);
  return suits;
}

void
dew_suits_free (DewSuits *suits)
{
  if (suits == NULL)
    return;
  for (int k = 0; k < suits->n_kinds; k++)
    g_free (suits->kinds[k].bays);
  g_free (suits->kinds);
  g_free (suits->shelf);
  g_free (suits->day);
  g_free (suits->night);
  g_free (suits);
}

const DewSuitsKind *
dew_suits_kind (const DewSuits *suits, const char *name)
{
  g_return_val_if_fail (suits != NULL && name != NULL, NULL);

  for (int k = 0; k < suits->n_kinds; k++)
    if (strcmp (suits->kinds[k].name, name) == 0)
      return &suits->kinds[k];
  return NULL;
}
