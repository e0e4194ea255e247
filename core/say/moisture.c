/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/moisture.h"

#include "say/where.h"

#include <glib/gi18n.h>
#include <math.h>

#define RESERVE \
  1.5 /* a device this much stronger than needed has time to rest: common practice, no source */

typedef struct
{
  const DewMoistureAdvice *advice;
  DewTongue tongue;
} Told;

const char *
dew_sizing_name (DewSizing sizing)
{
  static const char *const names[DEW_N_SIZINGS]
    = { N_ ("Wet pots"), N_ ("Humidifier"), N_ ("Openings") };

  g_return_val_if_fail (sizing < DEW_N_SIZINGS, "");
  return _ (names[sizing]);
}

/* "2.1 L a day" */
static char *
water_in_words (const Told *t, double kg_day)
{
  g_autofree char *water = dew_measure_text (DEW_MEASURE_DAY_WATER, t->tongue, kg_day);

  /* Translators: an amount of water with its unit. */
  return g_strdup_printf (_ ("%s a day"), water);
}

/* "35 mL/h" */
static char *
rate_in_words (const Told *t, double kg_s)
{
  return dew_measure_text (DEW_MEASURE_WATER_RATE, t->tongue, kg_s);
}

/* The bay that is worst off and what is wrong there: "Third shelf is 6 points too dry." */
static char *
worst_in_words (const Told *t, const DewSizingPoint *point, gboolean warmth_counts)
{
  g_autofree char *warmth = NULL;
  double most = 0.0, by;
  int worst = -1;
  const DewSizingBay *bay;
  g_autofree char *name = NULL;

  for (int b = 0; b < point->n_bays; b++)
    {
      bay = &point->bays[b];
      by = MAX (bay->short_rh, bay->over_rh);
      if (warmth_counts)
        by = MAX (by, 0.05 * MAX (bay->short_K, bay->over_K));
      if (by > most)
        {
          most = by;
          worst = b;
        }
    }
  if (worst < 0)
    return g_strdup ("");
  bay = &point->bays[worst];
  name = dew_shelf_called (t->advice->bay_names[worst], t->advice->bay_shelves[worst]);
  if (most == bay->short_rh)
    return g_strdup_printf (ngettext ("%s is %d point too dry.", "%s is %d points too dry.",
                                      (int) ceil (100.0 * most)),
                            name, (int) ceil (100.0 * most));
  if (most == bay->over_rh)
    return g_strdup_printf (ngettext ("%s is %d point too humid.", "%s is %d points too humid.",
                                      (int) ceil (100.0 * most)),
                            name, (int) ceil (100.0 * most));
  warmth = dew_measure_text (DEW_MEASURE_DIFFERENCE, t->tongue, most / 0.05);
  /* Translators: a bay, and how much. */
  return g_strdup_printf (bay->over_K >= bay->short_K ? _ ("%s is %s too warm.")
                                                      : _ ("%s is %s too cool."),
                          name, warmth);
}

static char *
join (char *first, char *second)
{
  char *both;

  if (second == NULL || second[0] == '\0')
    {
      g_free (second);
      return first;
    }
  /* Translators: two whole sentences, one after the other. */
  both = g_strdup_printf (_ ("%s %s"), first, second);
  g_free (first);
  g_free (second);
  return both;
}

static char *
sure_in_words (const DewSizingCurve *curve)
{
  if (curve->least < 0 || isnan (curve->band_rh))
    return NULL;
  if (curve->sure)
    return g_strdup_printf (ngettext ("That is sure: the forecast may be off by %d point.",
                                      "That is sure: the forecast may be off by %d points.",
                                      (int) ceil (100.0 * curve->band_rh)),
                            (int) ceil (100.0 * curve->band_rh));
  return g_strdup_printf (
    ngettext ("It is not sure: the forecast may be off by %d point. Check with a hygrometer.",
              "It is not sure: the forecast may be off by %d points. Check with a hygrometer.",
              (int) ceil (100.0 * curve->band_rh)),
    (int) ceil (100.0 * curve->band_rh));
}

/* "2 on the lowest shelf": shelves with pots, from below. */
static char *
pots_in_words (const Told *t, const DewSizingPoint *point)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);

  for (int b = 0; b < point->n_bays; b++)
    if (point->pots != NULL && point->pots[b] > 0)
      {
        g_autofree char *shelf
          = dew_shelf_called (t->advice->bay_names[b], t->advice->bay_shelves[b]);

        /* Translators: a shelf and a number of pots: "Second shelf: 3". */
        g_ptr_array_add (parts, g_strdup_printf (_ ("%s: %d"), shelf, point->pots[b]));
      }
  g_ptr_array_add (parts, NULL);
  /* Translators: what parts of a list are joined by. */
  return g_strjoinv (_ (", "), (char **) parts->pdata);
}

static char *
say_pots (const Told *t, const DewSizingCurve *curve)
{
  const DewSizingPoint *p = (const DewSizingPoint *) curve->points->data;
  int least = curve->least, last = (int) curve->points->len - 1;
  g_autofree char *water = least >= 0 ? water_in_words (t, p[least].water_kg_day) : NULL;
  g_autofree char *where = least >= 0 ? pots_in_words (t, &p[least]) : NULL;
  int n = least >= 0 ? (int) p[least].x : 0;

  if (least == 0)
    return g_strdup (
      _ ("Without a humidifier every shelf holds what its plants want, even without a wet pot."));
  if (least > 0)
    return g_strdup_printf (
      ngettext ("%d wet pot holds every shelf without a humidifier (%s); it takes %s.",
                "%d wet pots hold every shelf without a humidifier (%s); they take %s.", n),
      n, where, water);
  if (curve->knee > 0)
    return join (
      g_strdup_printf (
        ngettext ("Even %d wet pot is not enough without a humidifier; more than %d bring "
                  "little more.",
                  "Even %d wet pots are not enough without a humidifier; more than %d bring "
                  "little more.",
                  (int) p[last].x),
        (int) p[last].x, (int) p[curve->knee].x),
      worst_in_words (t, &p[last], FALSE));
  return join (g_strdup_printf (ngettext ("Even %d wet pot is not enough without a humidifier.",
                                          "Even %d wet pots are not enough without a humidifier.",
                                          (int) p[last].x),
                                (int) p[last].x),
               worst_in_words (t, &p[last], FALSE));
}

/* Which device is meant where none is drawn. NULL: it is drawn. */
static char *
meant_in_words (const Told *t)
{
  g_autofree char *shelf = NULL;
  int bay = 0;

  if (!t->advice->added)
    return NULL;
  while (bay + 1 < t->advice->n_bays
         && t->advice->humidifier.humidifier.z_m >= t->advice->bay_z_m[bay + 1] - 1e-6)
    bay++;
  shelf = dew_shelf_called (t->advice->bay_names[bay], t->advice->bay_shelves[bay]);
  /* Translators: a row of the catalogue of humidifiers, and a shelf. */
  return g_strdup_printf (_ ("None is drawn; this one is meant: %s, on: %s."), t->advice->model,
                          shelf);
}

static char *
say_humidifier (const Told *t, const DewSizingCurve *curve)
{
  const DewSizingPoint *p = (const DewSizingPoint *) curve->points->data;
  int least = curve->least, last = (int) curve->points->len - 1;

  if (least == 0)
    return g_strdup (
      _ ("No humidifier is needed: every shelf holds what its plants want without it."));
  if (least > 0)
    {
      g_autofree char *rate = rate_in_words (t, p[least].x);
      g_autofree char *device = rate_in_words (t, RESERVE * p[least].x);

      return g_strdup_printf (
        _ ("%s on average, day and night, hold every shelf. One rated %s need not run all the "
           "time."),
        rate, device);
    }
  if (curve->knee > 0)
    {
      g_autofree char *rate = rate_in_words (t, p[curve->knee].x);

      return join (
        g_strdup_printf (
          _ ("No output suits every shelf; about %s comes closest for the water it uses."), rate),
        worst_in_words (t, &p[curve->knee], FALSE));
    }
  if (p[0].miss <= p[last].miss)
    return join (g_strdup (_ ("No output suits every shelf: more mist makes it worse.")),
                 worst_in_words (t, &p[0], FALSE));
  return join (g_strdup (_ ("No output suits every shelf.")), worst_in_words (t, &p[last], FALSE));
}

static char *
say_vent (const Told *t, const DewSizingCurve *curve)
{
  const DewSizingPoint *p = (const DewSizingPoint *) curve->points->data;
  int first = -1, last = (int) curve->points->len - 1, best = 0;

  for (int i = 0; i <= last; i++)
    {
      if (p[i].holds && first < 0)
        first = i;
      if (p[i].miss < p[best].miss)
        best = i;
    }
  if (first < 0)
    return join (
      g_strdup_printf (_ ("No setting of the openings holds every shelf; %.0f %% comes nearest."),
                       100.0 * p[best].x),
      worst_in_words (t, &p[best], TRUE));
  if (first == 0 && curve->least == last)
    return g_strdup (
      _ ("The openings may be open or closed: every shelf holds what its plants want."));
  if (first == curve->least)
    return g_strdup_printf (
      _ ("Set the openings to %.0f %%: then every shelf holds what its plants want."),
      100.0 * p[first].x);
  return g_strdup_printf (
    _ ("Set the openings to between %.0f and %.0f %%: then every shelf holds what its plants "
       "want."),
    100.0 * p[first].x, 100.0 * p[curve->least].x);
}

static char *
trouble_in_words (DewSizingTrouble trouble)
{
  switch (trouble)
    {
    case DEW_SIZING_NO_SPOT:
      return g_strdup (_ ("There is no free spot for a wet pot on any shelf."));
    case DEW_SIZING_NO_HUMIDIFIER:
      return g_strdup (_ ("There is no humidifier in this layout, and no free spot for one."));
    case DEW_SIZING_NO_OUTPUT:
      return g_strdup (_ ("The humidifier gives off nothing; say how much it can."));
    case DEW_SIZING_NO_OPENING:
      return g_strdup (_ ("There is no opening in this layout to open or close."));
    case DEW_SIZING_NO_TROUBLE:
      break;
    }
  return NULL;
}

char *
dew_sizing_words (const DewMoistureAdvice *advice, DewSizing sizing, DewTongue tongue)
{
  const Told told = { advice, tongue };
  const DewSizingCurve *curve = &advice->curves[sizing];
  char *words;

  if (!curve->possible)
    return trouble_in_words (curve->trouble);
  switch (sizing)
    {
    case DEW_SIZING_POTS:
      words = say_pots (&told, curve);
      break;
    case DEW_SIZING_HUMIDIFIER:
      words = say_humidifier (&told, curve);
      if (curve->least != 0)
        words = join (words, meant_in_words (&told));
      break;
    default:
      words = say_vent (&told, curve);
      break;
    }
  return join (words, sure_in_words (curve));
}

char *
dew_sizing_without_words (const DewMoistureAdvice *advice, DewTongue tongue)
{
  const Told told = { advice, tongue }, *t = &told;
  const DewSizingPoint *without = &t->advice->without, *present = &t->advice->present;
  g_autofree char *saved = NULL;

  if (without->n_bays == 0)
    return NULL;
  saved = water_in_words (t, MAX (0.0, present->water_kg_day - without->water_kg_day));

  if (without->holds)
    return g_strdup_printf (
      _ ("Without the humidifier every shelf still holds what its plants want, with %s less "
         "water."),
      saved);
  if (!present->holds && without->miss <= present->miss)
    return join (g_strdup_printf (
                   _ ("Without the humidifier it is no worse than with it, with %s less water."),
                   saved),
                 worst_in_words (t, without, FALSE));
  return join (g_strdup (_ ("Without the humidifier it does not hold.")),
               worst_in_words (t, without, FALSE));
}

/* --- humidistat ---------------------------------------------------------- */

static char *
held_in_words (const Told *t, const DewSizingPoint *point)
{
  g_autofree char *water = water_in_words (t, point->water_kg_day);

  if (point->holds)
    return g_strdup_printf (_ ("holds every shelf, %s"), water);
  return g_strdup_printf (ngettext ("%d point off, %s", "%d points off, %s",
                                    (gulong) lround (point->miss)),
                          (int) lround (point->miss), water);
}

char **
dew_humidistat_words (const DewMoistureAdvice *advice, DewTongue tongue)
{
  const Told told = { advice, tongue };
  const DewHumidistat *h = &advice->humidistat;
  const DewSizingCurve *curve = &advice->curves[DEW_SIZING_HUMIDIFIER];
  g_autoptr (GPtrArray) lines = g_ptr_array_new ();
  int at = curve->least >= 0 ? curve->least : curve->knee;

  if (h->possible && at >= 0)
    {
      const DewSizingPoint *steady = &g_array_index (curve->points, DewSizingPoint, at);
      g_autofree char *shelf
        = dew_shelf_called (advice->bay_names[h->bay], advice->bay_shelves[h->bay]);
      g_autofree char *across = dew_measure_text (DEW_MEASURE_LENGTH, tongue, h->sensor_m[0]);
      g_autofree char *deep = dew_measure_text (DEW_MEASURE_LENGTH, tongue, h->sensor_m[1]);
      g_autofree char *up
        = dew_measure_text (DEW_MEASURE_LENGTH, tongue, h->sensor_m[2] - advice->bay_z_m[h->bay]);
      g_autofree char *by_stat = held_in_words (&told, &h->point);
      g_autofree char *constant = held_in_words (&told, steady);
      g_autofree char *rate = rate_in_words (&told, steady->x);

      g_ptr_array_add (
        lines,
        g_strdup_printf (_ ("Set a humidistat to %.0f %%, switching over %.0f points. Its sensor "
                            "hangs at: %s, %s from the left, %s from the front, %s above the "
                            "shelf, out of the mist."),
                         100.0 * h->set_rh, 100.0 * h->band_rh, shelf, across, deep, up));
      g_ptr_array_add (
        lines, g_strdup_printf (_ ("It runs %.1f %% of the time by day and %.1f %% by night; the "
                                   "humidity at the sensor goes up and down by ± %.0f points."),
                                100.0 * h->duty_day, 100.0 * h->duty_night, 100.0 * h->swing_rh));
      g_ptr_array_add (lines, g_strdup_printf (_ ("Humidistat: %s. Constant %s: %s."), by_stat,
                                               rate, constant));
    }
  g_ptr_array_add (lines, NULL);
  return (char **) g_ptr_array_free (g_steal_pointer (&lines), FALSE);
}

/* What keeps people safe with a humidifier. */
char *
dew_moisture_caution (const DewMoistureAdvice *advice, const DewVariant *variant)
{
  gboolean any = advice->added, mains = advice->added && !advice->humidifier.humidifier.low_voltage;

  for (guint t = 0; t < variant->things->len; t++)
    {
      const DewThing *thing = &g_array_index (variant->things, DewThing, t);

      if (thing->kind != DEW_THING_HUMIDIFIER)
        continue;
      any = TRUE;
      mains |= !thing->humidifier.low_voltage;
    }
  if (!any)
    return NULL;
  return g_strconcat (
    _ ("Only water low in minerals goes into the tank, changed daily, and the tank is kept clean: "
       "mist carries what grows in it, and people with weak lungs should not breathe it. The "
       "supply and its plug stay outside, above any water, with a drip loop in the cable."),
    mains ? " " : "",
    mains ? _ ("A mains device never stands where mist or drip reaches it: only one made for wet "
               "places, on a circuit with a residual-current device, fitted as local rules ask.")
          : "",
    NULL);
}
