/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "say/fan.h"

#include "geometry/geometry.h"
#include "say/where.h"

#include <glib/gi18n.h>
#include <math.h>

#define AIMED 0.35 /* part of an aim along an axis that is worth a word: 20 degrees and more */

/* Where on a shelf, by thirds from left to right and from front to back. */
static const char *const places[3][3] = {
  { N_ ("left at the front"), N_ ("left"), N_ ("left at the back") },
  { N_ ("in the middle at the front"), N_ ("in the middle"), N_ ("in the middle at the back") },
  { N_ ("right at the front"), N_ ("right"), N_ ("right at the back") },
};

/* Which way, by left or right, front or back, down or up. */
static const char *const ways[3][3][3] = {
  { { N_ ("to the left, the front and down"), N_ ("to the left and the front"),
      N_ ("to the left, the front and up") },
    { N_ ("to the left and down"), N_ ("to the left"), N_ ("to the left and up") },
    { N_ ("to the left, the back and down"), N_ ("to the left and the back"),
      N_ ("to the left, the back and up") } },
  { { N_ ("to the front and down"), N_ ("to the front"), N_ ("to the front and up") },
    { N_ ("down"), N_ ("nowhere"), N_ ("up") },
    { N_ ("to the back and down"), N_ ("to the back"), N_ ("to the back and up") } },
  { { N_ ("to the right, the front and down"), N_ ("to the right and the front"),
      N_ ("to the right, the front and up") },
    { N_ ("to the right and down"), N_ ("to the right"), N_ ("to the right and up") },
    { N_ ("to the right, the back and down"), N_ ("to the right and the back"),
      N_ ("to the right, the back and up") } },
};

static int
third (double at, double length)
{
  return CLAMP ((int) floor (3.0 * at / length), 0, 2);
}

static int
sign_of (double part)
{
  return part > AIMED ? 2 : part < -AIMED ? 0 : 1;
}

static char *
title_in_wall (const DewFan *fan, const char *bay)
{
  static const char *const in[DEW_N_FACES] = {
    /* Translators: %s is a shelf, as in "Second shelf". */
    N_ ("%s, in the left side, blowing in"), N_ ("%s, in the right side, blowing in"),
    N_ ("%s, in the front, blowing in"),     N_ ("%s, in the back, blowing in"),
    N_ ("%s, in the floor, blowing in"),     N_ ("%s, in the roof, blowing in"),
  };
  static const char *const out[DEW_N_FACES] = {
    N_ ("%s, in the left side, blowing out"), N_ ("%s, in the right side, blowing out"),
    N_ ("%s, in the front, blowing out"),     N_ ("%s, in the back, blowing out"),
    N_ ("%s, in the floor, blowing out"),     N_ ("%s, in the roof, blowing out"),
  };
  g_auto (GStrv) parts = g_strsplit (
    _ ((fan->sense == DEW_BLOWS_IN ? in : out)[CLAMP (fan->face, 0, DEW_N_FACES - 1)]), "%s", 2);

  return g_strjoinv (bay, parts);
}

char *
dew_fan_title (const DewFanAdvice *advice, const DewFanOption *option)
{
  g_autofree char *where = dew_shelf_called (option->name, option->shelf);
  const DewFan *fan = &option->fan;
  double aim[3];

  if (option->candidate < 0 && (advice->fan_id == 0 || !advice->present_fits))
    return g_strdup (_ ("Without this fan"));
  if (fan->mount == DEW_FAN_IN_WALL)
    return title_in_wall (fan, where);
  dew_fan_aim (fan, aim);
  /* Translators: a shelf, where on it, which way: "Second shelf, left at the back, blowing up". */
  return g_strdup_printf (
    _ ("%s, %s, blowing %s"), where,
    _ (places[third (fan->x_m, advice->inner_m[0])][third (fan->y_m, advice->inner_m[1])]),
    _ (ways[sign_of (aim[0])][sign_of (aim[1])][sign_of (aim[2])]));
}

char *
dew_fan_verdict (const DewFanAdvice *advice)
{
  const DewFanOption *best = advice->n_options > 0 ? &advice->options[0] : NULL;
  int as_good = 0;
  gboolean better;
  g_autofree char *title = NULL, *first = NULL, *second = NULL;

  if (advice->off)
    return g_strdup (
      _ ("This fan is off by day and by night, so it does not matter where it stands. Give it "
         "a speed first."));
  if (best == NULL)
    return g_strdup (
      _ ("This fan fits nowhere. Take a smaller one, or make room between what stands there."));
  /* Without bands the better one is named, and that it is not known how sure that is. */
  better = best->sure || (isnan (best->band) && best->gain > 0.0);
  title = dew_fan_title (advice, best);
  for (int o = 1; o < advice->n_options; o++)
    as_good += advice->options[o].as_good;
  if (advice->fan_id == 0)
    first
      = better
          ? g_strdup_printf (_ ("A fan would help: %s."), title)
          : g_strdup_printf (_ ("There is no fan, and what one would bring (%s) is less than the "
                                "forecast is sure of."),
                             title);
  else if (better)
    first = g_strdup_printf (_ ("Better than where it is now: %s."), title);
  else if (best->gain > 0.0)
    first = g_strdup_printf (
      _ ("Leave it where it is: the best place found (%s) is better by less than the "
         "forecast is sure of."),
      title);
  else
    first = g_strdup_printf (ngettext ("Leave it where it is: the %d place tried is no better.",
                                       "Leave it where it is: none of %d places tried is better.",
                                       advice->n_candidates),
                             advice->n_candidates);
  if (better && as_good > 0 && !isnan (best->band))
    second = g_strdup_printf (
      ngettext ("%d other place is as good within the band: choose by what suits you.",
                "%d other places are as good within the band: choose by what suits you.", as_good),
      as_good);
  else if (better && isnan (best->band))
    second = g_strdup (_ ("How sure that is was not asked."));
  /* Translators: two whole sentences, one after the other. */
  return second != NULL ? g_strdup_printf (_ ("%s %s"), first, second) : g_steal_pointer (&first);
}

/* --- practice ------------------------------------------------------------ */

#define WET_KG_M2S (0.5e-3 / 3600.0) /* half a millilitre on a square metre an hour */

char **
dew_fan_cautions (const DewFanAdvice *advice, const DewFanOption *option, DewTongue tongue)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new ();
  gboolean wet = option->wetting_kg_m2s > WET_KG_M2S;
  g_autofree char *much = dew_measure_text (DEW_MEASURE_WETTING, tongue, option->wetting_kg_m2s);

  if (wet && !option->fan.low_voltage)
    g_ptr_array_add (lines,
                     g_strdup_printf (_ ("Mist or drip reaches this place (%s) and the fan runs on "
                                         "mains voltage: do not put it there. Take a fan of 5 to "
                                         "24 V, or one made for wet places."),
                                      much));
  else if (wet)
    g_ptr_array_add (lines, g_strdup_printf (_ ("Mist or drip reaches this place (%s): take a fan "
                                                "made for wet places."),
                                             much));
  else if (!option->fan.low_voltage)
    g_ptr_array_add (lines,
                     g_strdup (_ ("It runs on mains voltage: in humid air only one made for wet "
                                  "places, on a circuit with a residual-current device, fitted as "
                                  "local rules ask.")));
  g_ptr_array_add (lines, g_strdup (
                            option->fan.mount == DEW_FAN_IN_WALL
                              ? _ ("Screw it through the cover with a guard on both sides and a "
                                   "seal; cut glass only at a glazier's. The supply stays outside, "
                                   "above any water, with a drip loop in the cable.")
                              : _ ("Fix it at two points so that it cannot turn or fall, with a "
                                   "guard and a hand's breadth to leaves. The supply stays "
                                   "outside, above any water, with a drip loop in the cable.")));
  g_ptr_array_add (lines, NULL);
  return (char **) g_ptr_array_free (g_steal_pointer (&lines), FALSE);
}

char *
dew_fan_second_words (const DewFanAdvice *advice)
{
  DewFanOption like;
  g_autofree char *title = NULL;
  double more;

  if (!advice->has_second || advice->n_options == 0)
    return NULL;
  like = advice->options[0];
  like.fan = advice->second;
  like.shelf = advice->second_bay;
  like.name[0] = '\0';
  for (guint b = 0; b < advice->options[0].bays->len; b++)
    {
      const DewBayChange *bay = &g_array_index (advice->options[0].bays, DewBayChange, b);

      if (bay->bay != advice->second_bay)
        continue;
      like.shelf = bay->shelf;
      g_strlcpy (like.name, bay->name, sizeof like.name);
    }
  title = dew_fan_title (advice, &like);
  more = advice->second_value - advice->options[0].objective.value;
  if (more > MAX (0.01, isnan (advice->options[0].band) ? 0.0 : advice->options[0].band))
    return g_strdup_printf (_ (
                              "A second fan of the kind would help beside the first (score %+.0f): "
                              "%s."),
                            100.0 * more, title);
  return g_strdup_printf (
    _ ("One fan is enough: a second one (best: %s) changes the score by %+.0f, "
       "less than the forecast is sure of."),
    title, 100.0 * more);
}
