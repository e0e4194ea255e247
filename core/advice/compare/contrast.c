/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "advice/objective.h"

#include <glib/gi18n.h>
#include <math.h>

#define S_PER_H 3600.0
#define ML_PER_KG 1000.0
#define FLOOR_BAY 0
#define MOST_SAID 3 /* good, neutral and bad news of each */

/* What a grower would notice: common practice, no source. */
#define NOTICED_RH 0.02
#define NOTICED_EVEN_RH 0.015
#define NOTICED_K 0.3
#define NOTICED_STILL 0.10
#define NOTICED_DRIP_KG_S (0.05 / ML_PER_KG / S_PER_H) /* a drop an hour */
#define NOTICED_WATER_KG_DAY 0.05
#define NOTICED_DRAUGHT_M_S 0.02
#define NOTICED_DB 1.5

/* Units of those who measure in them. */
#define F_PER_K 1.8
#define QUARTS_PER_L 1.0567
#define FT_MIN_PER_M_S 196.85

/* --- bays ---------------------------------------------------------------- */

char *
dew_advice_bay_name (int shelf)
{
  static const char *const names[]
    = { N_ ("Floor"),       N_ ("Lowest shelf"),  N_ ("Second shelf"),
        N_ ("Third shelf"), N_ ("Fourth shelf"),  N_ ("Fifth shelf"),
        N_ ("Sixth shelf"), N_ ("Seventh shelf"), N_ ("Eighth shelf") };

  if (shelf >= 0 && shelf < (int) G_N_ELEMENTS (names))
    return g_strdup (_ (names[shelf]));
  return g_strdup_printf (_ ("Shelf %d"), shelf);
}

typedef struct
{
  double t_C, rh, speed_m_s, still_share, age_s, even_rh, drip_kg_s;
} BayState;

static void
add_bay (const DewForecast *f, int b, double share, BayState *out)
{
  const DewClimate *c = &f->bays[b].mean;
  double sum = 0.0, squares = 0.0, drip_kg_s = 0.0;
  int n = 0;

  for (int p = 0; p < f->n_places; p++)
    if (f->places[p].bay == b)
      {
        sum += f->places[p].mean.rh;
        squares += f->places[p].mean.rh * f->places[p].mean.rh;
        drip_kg_s += f->places[p].mean.drip_kg_s;
        n++;
      }
  out->t_C += share * c->t_C;
  out->rh += share * c->rh;
  out->speed_m_s += share * c->speed_m_s;
  out->still_share += share * c->still_share;
  out->age_s += share * c->age_s;
  out->drip_kg_s += share * drip_kg_s;
  if (n > 0)
    out->even_rh += share * 2.0 * sqrt (MAX (0.0, squares / n - pow (sum / n, 2.0)));
}

static BayState
bay_state (const DewForecast *day, const DewForecast *night, int b)
{
  BayState s = { 0.0 };

  if (day != NULL)
    add_bay (day, b, night != NULL ? 0.5 : 1.0, &s);
  if (night != NULL)
    add_bay (night, b, day != NULL ? 0.5 : 1.0, &s);
  return s;
}

GArray *
dew_bay_changes (const DewForecast *day_new, const DewForecast *night_new,
                 const DewForecast *day_old, const DewForecast *night_old)
{
  GArray *changes = g_array_new (FALSE, TRUE, sizeof (DewBayChange));
  const DewForecast *any = day_new != NULL ? day_new : night_new;
  const DewForecast *old = day_old != NULL ? day_old : night_old;
  int n = MIN (any->n_bays, old->n_bays), shelf = 0;

  for (int b = 0; b < n; b++)
    {
      BayState is = bay_state (day_new, night_new, b), was = bay_state (day_old, night_old, b);
      DewBayChange c = { .bay = b,
                         .t_C = is.t_C,
                         .rh = is.rh,
                         .speed_m_s = is.speed_m_s,
                         .still_share = is.still_share,
                         .age_s = is.age_s,
                         .even_rh = is.even_rh,
                         .d_t_K = is.t_C - was.t_C,
                         .d_rh = is.rh - was.rh,
                         .d_speed_m_s = is.speed_m_s - was.speed_m_s,
                         .d_still_share = is.still_share - was.still_share,
                         .d_age_s = is.age_s - was.age_s,
                         .d_even_rh = is.even_rh - was.even_rh,
                         .drip_kg_s = is.drip_kg_s,
                         .d_drip_kg_s = is.drip_kg_s - was.drip_kg_s };
      g_autofree char *name = NULL;

      shelf += any->bays[b].shelf_id != 0;
      name = dew_advice_bay_name (any->bays[b].shelf_id != 0 ? shelf : FLOOR_BAY);
      g_strlcpy (c.name, name, sizeof c.name);
      g_array_append_val (changes, c);
    }
  return changes;
}

/* --- words --------------------------------------------------------------- */

typedef struct
{
  char *words;
  int good;  /* 1, 0, -1 */
  double by; /* times what is noticed */
} News;

static void
tell (GArray *news, int good, double by, char *words)
{
  News n = { words, good, fabs (by) };

  g_array_append_val (news, n);
}

static void
tell_humidity (GArray *news, const DewBayChange *c)
{
  int points = (int) floor (fabs (100.0 * c->d_rh) + 0.5);
  int even = (int) floor (fabs (100.0 * c->d_even_rh) + 0.5);

  if (fabs (c->d_even_rh) > NOTICED_EVEN_RH)
    tell (
      news, c->d_even_rh < 0.0 ? 1 : -1, c->d_even_rh / NOTICED_EVEN_RH,
      g_strdup_printf (c->d_even_rh < 0.0
                         /* Translators: a shelf, as in "Second shelf"; points are percentage
                          * points of humidity. */
                         ? ngettext ("%s: %d point more even.", "%s: %d points more even.", even)
                         : ngettext ("%s: %d point less even.", "%s: %d points less even.", even),
                       c->name, even));
  if (fabs (c->d_rh) > NOTICED_RH)
    tell (news, 0, c->d_rh / NOTICED_RH,
          g_strdup_printf (c->d_rh > 0.0
                             ? ngettext ("%s: %d point more humid.", "%s: %d points more humid.",
                                         points)
                             : ngettext ("%s: %d point drier.", "%s: %d points drier.", points),
                           c->name, points));
}

static void
tell_warmth (GArray *news, const DewBayChange *c, gboolean imperial)
{
  double by = fabs (c->d_t_K);

  if (by <= NOTICED_K)
    return;
  if (imperial)
    tell (news, 0, by / NOTICED_K,
          g_strdup_printf (c->d_t_K > 0.0 ? _ ("%s: %.1f °F warmer.") : _ ("%s: %.1f °F cooler."),
                           c->name, by * F_PER_K));
  else
    tell (news, 0, by / NOTICED_K,
          g_strdup_printf (c->d_t_K > 0.0 ? _ ("%s: %.1f K warmer.") : _ ("%s: %.1f K cooler."),
                           c->name, by));
}

static void
tell_air (GArray *news, const DewBayChange *c)
{
  double is = 100.0 * c->still_share, was = 100.0 * (c->still_share - c->d_still_share);

  if (fabs (c->d_still_share) > NOTICED_STILL)
    tell (news, c->d_still_share < 0.0 ? 1 : -1, c->d_still_share / NOTICED_STILL,
          /* Translators: a shelf, then two shares in per cent. */
          g_strdup_printf (c->d_still_share < 0.0
                             ? _ ("%s less still: %.0f %% of its air stands instead of %.0f %%.")
                             : _ ("%s more still: %.0f %% of its air stands instead of %.0f %%."),
                           c->name, is, was));
  if (fabs (c->d_drip_kg_s) > NOTICED_DRIP_KG_S)
    tell (news, c->d_drip_kg_s < 0.0 ? 1 : -1, 2.0 * fabs (c->d_drip_kg_s) / NOTICED_DRIP_KG_S,
          g_strdup_printf (c->d_drip_kg_s > 0.0 ? _ ("%s is dripped on more, by %.1f mL an hour.")
                                                : _ ("%s is dripped on less, by %.1f mL an hour."),
                           c->name, fabs (c->d_drip_kg_s) * ML_PER_KG * S_PER_H));
}

static void
tell_whole (GArray *news, const DewObjective *is, const DewObjective *was, gboolean imperial)
{
  double water = is->raw[DEW_PART_WATER] - was->raw[DEW_PART_WATER];
  double draught = is->raw[DEW_PART_GENTLE] - was->raw[DEW_PART_GENTLE];
  double noise = is->raw[DEW_PART_QUIET] - was->raw[DEW_PART_QUIET];

  if (fabs (water) > NOTICED_WATER_KG_DAY)
    tell (news, water < 0.0 ? 1 : -1, water / NOTICED_WATER_KG_DAY,
          imperial ? g_strdup_printf (water > 0.0 ? _ ("%.1f quarts a day more water.")
                                                  : _ ("%.1f quarts a day less water."),
                                      fabs (water) * QUARTS_PER_L)
                   : g_strdup_printf (water > 0.0 ? _ ("%.1f L a day more water.")
                                                  : _ ("%.1f L a day less water."),
                                      fabs (water)));
  if (fabs (draught) > NOTICED_DRAUGHT_M_S)
    tell (news, draught < 0.0 ? 1 : -1, draught / NOTICED_DRAUGHT_M_S,
          imperial
            ? g_strdup_printf (draught > 0.0 ? _ ("More draught on the leaves, by %.0f ft/min.")
                                             : _ ("Less draught on the leaves, by %.0f ft/min."),
                               fabs (draught) * FT_MIN_PER_M_S)
            : g_strdup_printf (draught > 0.0 ? _ ("More draught on the leaves, by %.2f m/s.")
                                             : _ ("Less draught on the leaves, by %.2f m/s."),
                               fabs (draught)));
  if (fabs (noise) > NOTICED_DB)
    tell (news, noise < 0.0 ? 1 : -1, noise / NOTICED_DB,
          g_strdup_printf (noise > 0.0 ? _ ("Louder by %.0f dB.") : _ ("Quieter by %.0f dB."),
                           fabs (noise)));
}

static int
best_first (gconstpointer pa, gconstpointer pb)
{
  const News *a = pa, *b = pb;

  if (a->good != b->good)
    return b->good - a->good;
  return a->by < b->by ? 1 : a->by > b->by ? -1 : 0;
}

char **
dew_trade_offs (const DewObjective *is, const DewObjective *was, const GArray *bay_changes,
                gboolean imperial)
{
  g_autoptr (GArray) news = g_array_new (FALSE, FALSE, sizeof (News));
  GPtrArray *said = g_ptr_array_new ();
  int told[3] = { 0 };

  tell_whole (news, is, was, imperial);
  for (guint b = 0; b < bay_changes->len; b++)
    {
      const DewBayChange *c = &g_array_index (bay_changes, DewBayChange, b);

      tell_humidity (news, c);
      tell_warmth (news, c, imperial);
      tell_air (news, c);
    }
  g_array_sort (news, best_first); /* stable: equal news stay in order */
  for (guint n = 0; n < news->len; n++)
    {
      News *one = &g_array_index (news, News, n);

      if (told[one->good + 1]++ < MOST_SAID)
        g_ptr_array_add (said, one->words);
      else
        g_free (one->words);
    }
  g_ptr_array_add (said, NULL);
  return (char **) g_ptr_array_free (said, FALSE);
}
