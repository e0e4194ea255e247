/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The answers of dewtier assign and dewtier compare, for people and for programs. */
#include "say/report-private.h"

#include "say/assign.h"
#include "say/changes.h"
#include "say/suits.h"
#include "store/json.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

static const char *const verdict_keys[] = {
  [DEW_ASSIGN_KEPT] = "kept",       [DEW_ASSIGN_PLACED] = "placed",
  [DEW_ASSIGN_SUFFERS] = "suffers", [DEW_ASSIGN_CROWDED] = "crowded",
  [DEW_ASSIGN_NOWHERE] = "nowhere",
};
static const char *const state_keys[] = {
  [DEW_PLANT_HEALTHY] = "healthy",
  [DEW_PLANT_WEAK] = "weak",
  [DEW_PLANT_ARRIVED] = "arrived",
};

/* --- pieces of JSON ------------------------------------------------------ */

/* The demands of a mask by their keys. */
static void
write_demands (DewJson *json, const char *key, guint32 mask)
{
  const char *keys[DEW_N_DEMANDS + 2] = { NULL };
  int n = 0;

  for (int d = 0; d < DEW_N_DEMANDS; d++)
    if (mask & DEW_DEMAND_BIT (d))
      keys[n++] = dew_demand_key (d);
  if (mask & DEW_ASSIGN_TAKEN)
    keys[n++] = "taken";
  dew_json_keys (json, key, keys);
}

static void
write_fit (DewJson *json, const DewFit *fit)
{
  dew_json_object (json, "fit");
  for (int d = 0; d < DEW_N_DEMANDS; d++)
    {
      const DewFitDemand *demand = &fit->demand[d];

      if (isnan (demand->margin))
        continue;
      dew_report_record (json, dew_demand_key (d), REAL (demand, value), REAL (demand, limit),
                         REAL (demand, margin), REAL (demand, band),
                         WORDS ("unit", dew_demand_unit (d)), REAL (demand, merit),
                         FLAG (demand, unsure), FLAG (demand, out));
    }
  dew_json_end (json);
}

/* --- the assignment in JSON ---------------------------------------------- */

static void
write_bays (DewJson *json, const DewAssignment *a)
{
  dew_json_list (json, "bays");
  for (int b = 0; b < a->n_bays; b++)
    {
      dew_report_record (json, NULL, INTEGER (&a->bays[b], shelf_id), REAL (&a->bays[b], floor_m),
                         REAL (&a->bays[b], load_left_kg), FLAG (&a->bays[b], quarantine));
    }
  dew_json_end (json);
}

static void
write_spots (DewJson *json, const DewAssignment *a)
{
  dew_json_integers (json, "spots_across_deep", (const int[]){ a->spots_across, a->spots_deep }, 2);
  dew_json_list (json, "spots");
  for (int s = 0; s < a->n_spots; s++)
    {
      const DewAssignSpot *spot = &a->spots[s];

      dew_json_object (json, NULL);
      dew_report_put (json, INTEGER (spot, bay), INTEGER (spot, column), INTEGER (spot, row),
                      INTEGER (spot, place));
      dew_json_reals (json, "lo_m", spot->lo_m, 2);
      dew_json_reals (json, "hi_m", spot->hi_m, 2);
      dew_report_put (json, REAL (spot, base_m), REAL (spot, clear_m), FLAG (spot, blocked),
                      INTEGER (spot, blocked_by));
      dew_json_end (json);
    }
  dew_json_end (json);
}

/* The table of plants and places: one row per group of plants that are alike. */
static void
write_groups (DewJson *json, const DewAssignment *a)
{
  g_autofree int *row = g_new (int, MAX (1, a->n_spots));

  write_demands (json, "demand_bits", DEW_DEMAND_BIT (DEW_N_DEMANDS) - 1);
  dew_json_list (json, "groups");
  for (int g = 0; g < a->n_groups; g++)
    {
      const DewAssignGroup *group = &a->groups[g];
      g_autofree char *safety = dew_kind_safety_words (group->species);

      dew_json_object (json, NULL);
      dew_report_put (json, WORDS ("name", group->name), WORDS ("species", group->species),
                      WORDS ("safety", safety), FLAG (&group->plant, known), FLAG (group, standing),
                      WORDS ("state", state_keys[group->plant.state]), INTEGER (group, count),
                      REAL (&group->plant, width_m),
                      REAL_OF ("height_m", group->plant.height_m + group->plant.rise_m),
                      REAL (&group->plant, mass_kg));
      dew_json_integers (json, "span", group->span, 2);
      dew_report_put (json, INTEGER (group, priority), INTEGER (group, weight));
      for (int s = 0; s < a->n_spots; s++)
        row[s] = group->score[s];
      dew_json_integers (json, "score", row, a->n_spots);
      for (int s = 0; s < a->n_spots; s++)
        row[s] = (int) (group->out[s] & ~DEW_ASSIGN_TAKEN);
      dew_json_integers (json, "out", row, a->n_spots);
      for (int s = 0; s < a->n_spots; s++)
        row[s] = (group->out[s] & DEW_ASSIGN_TAKEN) != 0;
      dew_json_integers (json, "taken", row, a->n_spots);
      for (int s = 0; s < a->n_spots; s++)
        row[s] = dew_assign_value (group, group->score[s], group->out[s]);
      dew_json_integers (json, "value", row, a->n_spots);
      dew_json_end (json);
    }
  dew_json_end (json);
  dew_json_list (json, "stays");
  for (int y = 0; y < a->n_stays; y++)
    {
      const DewAssignStay *stay = &a->stays[y];

      dew_json_object (json, NULL);
      dew_report_put (json, INTEGER (stay, plant), INTEGER (&a->plants[stay->plant], group),
                      INTEGER (stay, bay));
      dew_json_integers (json, "first", stay->first, 2);
      dew_json_integers (json, "span", stay->span, 2);
      dew_json_integer (json, "score", stay->score);
      write_demands (json, "out", stay->out);
      dew_json_integer (json, "value", stay->value);
      dew_json_end (json);
    }
  dew_json_end (json);
}

static void
write_plants (DewJson *json, const DewAssignment *a, DewTongue tongue)
{
  dew_json_list (json, "plants");
  for (int i = 0; i < a->n_plants; i++)
    {
      const DewAssignPlant *plant = &a->plants[i];
      g_autofree char *where = dew_assign_where (a, plant);
      g_autofree char *words = dew_assign_words (plant, tongue);
      g_autofree char *needs = dew_assign_needs (a, plant, tongue);

      dew_json_object (json, NULL);
      dew_report_put (json, WORDS ("name", plant->name), INTEGER (plant, thing_id),
                      INTEGER (plant, wish_id), INTEGER (plant, number), INTEGER (plant, group),
                      WORDS ("verdict", verdict_keys[plant->verdict]), FLAG (plant, stays),
                      INTEGER (plant, bay), INTEGER (plant, spot), WORDS ("where", where),
                      POINT (plant, at_m), INTEGER (plant, value), INTEGER (&plant->fit, score),
                      WORDS ("tightest", dew_demand_key (plant->fit.tightest)));
      write_demands (json, "out", plant->fit.out);
      dew_report_put (json, WORDS ("words", words), WORDS ("needs", needs != NULL ? needs : ""));
      write_fit (json, &plant->fit);
      dew_json_end (json);
    }
  dew_json_end (json);
}

char *
dew_report_assign_json (const DewReport *about, const DewAssignment *a)
{
  DewJson *json = dew_json_new ();
  g_auto (GStrv) notes = dew_assign_notes (a);
  g_auto (GStrv) lead = dew_assign_lead (a, about->tongue);

  dew_report_head (json, "dewtier assignment", about);
  dew_report_put (json, INTEGER_OF ("month", about->chamber->month + 1),
                  WORDS ("variant", about->variant->name),
                  INTEGER_OF ("variant_id", about->variant->id), FLAG (a, proven), REAL (a, value),
                  REAL (a, bound), REAL (a, gap), REAL (a, seconds), INTEGER (a, n_placed),
                  INTEGER (a, n_kept), INTEGER (a, n_suffer), INTEGER (a, n_without),
                  INTEGER (a, quarantine_bays), FLAG (a, at_their_best), REAL (a, ceiling),
                  REAL (a, stay_value), INTEGER (a, n_moves), INTEGER (a, n_new),
                  REAL (a, mean_now), REAL (a, mean_then));
  if (a->all_moves != NULL)
    dew_report_record (json, "all_moves", INTEGER (a->all_moves, n_moves),
                       INTEGER (a->all_moves, n_new), INTEGER (a->all_moves, n_without),
                       REAL (a->all_moves, mean_then), FLAG (a->all_moves, proven));
  dew_json_integers (json, "quarantine_range", a->quarantine_range, 2);
  dew_json_sentences (json, "lead", lead);
  dew_json_sentences (json, "notes", notes);
  write_plants (json, a, about->tongue);
  write_bays (json, a);
  write_groups (json, a);
  write_spots (json, a);
  return dew_json_finish (json);
}

/* --- the assignment in words --------------------------------------------- */

static void
tell_plants (GString *out, const DewAssignment *a, int first, gboolean *told, DewTongue tongue)
{
  const DewAssignPlant *plant = &a->plants[first];
  g_autofree char *words = dew_assign_words (plant, tongue);
  g_autofree char *needs = dew_assign_needs (a, plant, tongue);
  g_autoptr (GString) where = g_string_new (NULL);
  int n = 0;

  for (int i = first; i < a->n_plants; i++)
    if (!told[i] && dew_assign_alike (&a->plants[i], plant))
      {
        g_autofree char *one = dew_assign_corner (a, &a->plants[i]);

        told[i] = TRUE;
        n++;
        if (one != NULL && strstr (where->str, one) == NULL)
          g_string_append_printf (where, "%s%s", where->len > 0 ? _ (", ") : "", one);
      }
  if (n > 1)
    g_string_append_printf (out, _ ("  %d × %s\n"), n, plant->name);
  else
    g_string_append_printf (out, "  %s\n", plant->name);
  g_string_append_printf (out, "      %s%s%s\n", dew_assign_verdict_word (plant),
                          where->len > 0 ? ": " : "", where->str);
  g_string_append_printf (out, "      %s\n", words);
  if (needs != NULL)
    g_string_append_printf (out, _ ("      Needs %s.\n"), needs);
}

char *
dew_report_assign_text (const DewReport *about, const DewAssignment *a)
{
  GString *out = g_string_new (NULL);
  g_auto (GStrv) lead = dew_assign_lead (a, about->tongue);
  g_auto (GStrv) notes = dew_assign_notes (a);
  g_autofree char *proof = dew_assign_proof_words (a);
  g_autofree char *more = dew_assign_more_words (a);
  g_autofree gboolean *told = g_new0 (gboolean, MAX (1, a->n_plants));

  g_string_append_printf (out, "%s, %s\n\n", about->chamber->name, about->variant->name);
  for (int i = 0; lead[i] != NULL; i++)
    g_string_append_printf (out, "%s\n", lead[i]);
  if (more != NULL)
    g_string_append_printf (out, "%s\n", more);
  g_string_append_printf (out, "%s\n", proof);
  for (int i = 0; notes[i] != NULL; i++)
    g_string_append_printf (out, "%s\n", notes[i]);
  /* From the top, as on the sheet; at the end who has no place. */
  for (int bay = a->n_bays - 1; bay >= -1; bay--)
    {
      gboolean any = FALSE;

      for (int i = 0; i < a->n_plants; i++)
        {
          g_autofree char *level = NULL;

          if (told[i] || a->plants[i].bay != bay)
            continue;
          level = dew_assign_level (a, bay);
          if (!any)
            g_string_append_printf (out, "\n%s\n", level);
          any = TRUE;
          tell_plants (out, a, i, told, about->tongue);
        }
    }
  return g_string_free (out, FALSE);
}

/* --- comparisons --------------------------------------------------------- */

/* clang-format off */
static const char *const subject_keys[] = {
  [DEW_COMPARE_WHOLE] = "whole",     [DEW_COMPARE_BAY] = "bay",
  [DEW_COMPARE_PLANT] = "plant",     [DEW_COMPARE_FINDING] = "finding",
};
/* clang-format on */

static void
write_sides (DewJson *json, const DewComparison *c)
{
  dew_json_list (json, "variants");
  for (int s = 0; s < c->n_sides; s++)
    {
      const DewCompareSide *side = &c->sides[s];

      dew_json_object (json, NULL);
      dew_report_put (json, INTEGER (side, variant_id), WORDS ("name", side->name),
                      REAL (side, water_kg_day), INTEGER_OF ("plants", side->n_plants),
                      INTEGER_OF ("plants_fitting", side->n_fitting), INTEGER (side, mean_score));
      if (s > 0)
        {
          g_autofree char *summary = dew_compare_summary (c, s);

          dew_json_text (json, "summary", summary);
        }
      for (int night = 0; night < (side->night ? 2 : 1); night++)
        {
          const DewForecast *forecast = night ? side->night : side->day;

          dew_json_object (json, night ? "night" : "day");
          dew_json_text (json, "state",
                         forecast->state == DEW_FORECAST_SETTLED ? "settled" : "unsteady");
          dew_json_list (json, "bays");
          for (int b = 0; b < forecast->n_bays; b++)
            {
              dew_json_object (json, NULL);
              dew_json_integer (json, "shelf_id", forecast->bays[b].shelf_id);
              dew_report_object (json, "mean", dew_climate_members, &forecast->bays[b].mean);
              dew_json_end (json);
            }
          dew_json_end (json);
          dew_json_end (json);
        }
      dew_json_end (json);
    }
  dew_json_end (json);
}

static void
write_changes (DewJson *json, const DewComparison *c, DewTongue tongue)
{
  dew_json_list (json, "changes");
  for (guint i = 0; i < c->changes->len; i++)
    {
      const DewChange *change = &g_array_index (c->changes, DewChange, i);
      g_autofree char *words = dew_change_words (c, change, tongue);

      dew_report_record (json, NULL, INTEGER (&c->sides[change->side], variant_id),
                         WORDS ("subject", subject_keys[change->subject]), INTEGER (change, bay),
                         INTEGER (change, thing_id),
                         FLAG_OF ("night", change->when == DEW_CHANGE_BY_NIGHT),
                         WORDS ("quantity", dew_change_key (change->of)), REAL (change, from),
                         REAL (change, to), REAL (change, band),
                         FLAG_OF ("beyond_band", change->beyond), INTEGER (change, good),
                         WORDS ("words", words));
    }
  dew_json_end (json);
}

char *
dew_report_compare_json (const DewReport *about, const DewComparison *c)
{
  DewJson *json = dew_json_new ();

  dew_report_head (json, "dewtier comparison", about);
  dew_json_integer (json, "month", about->chamber->month + 1);
  write_sides (json, c);
  dew_json_object (json, "ranges");
  for (int v = 0; v < DEW_N_VALUES; v++)
    dew_json_reals (json, dew_climate_member (v)->key, (const double[]){ c->lo[v], c->hi[v] }, 2);
  dew_json_end (json);
  write_changes (json, c, about->tongue);
  return dew_json_finish (json);
}

static void
tell_changes (GString *out, const DewComparison *c, int side, int good, const char *title,
              DewTongue tongue)
{
  int within = 0;
  gboolean any = FALSE;

  for (guint i = 0; i < c->changes->len; i++)
    {
      const DewChange *change = &g_array_index (c->changes, DewChange, i);
      g_autofree char *words = NULL;

      if (change->side != side || change->good != good)
        continue;
      if (!any)
        g_string_append_printf (out, "  %s\n", title);
      any = TRUE;
      if (!change->beyond)
        {
          within++;
          continue;
        }
      words = dew_change_words (c, change, tongue);
      g_string_append_printf (out, "    %s\n", words);
    }
  if (within > 0)
    g_string_append_printf (out,
                            ngettext ("    and %d change within its band: not sure\n",
                                      "    and %d changes within their bands: not sure\n", within),
                            within);
}

char *
dew_report_compare_text (const DewReport *about, const DewComparison *c)
{
  GString *out = g_string_new (NULL);

  g_string_append_printf (out, "%s\n\n", about->chamber->name);
  for (int s = 0; s < c->n_sides; s++)
    {
      const DewCompareSide *side = &c->sides[s];

      g_string_append_printf (out,
                              _ ("%s: %.1f L of water a day; %d of %d plants within what they "
                                 "bear\n"),
                              side->name, side->water_kg_day, side->n_fitting, side->n_plants);
    }
  for (int s = 1; s < c->n_sides; s++)
    {
      g_autofree char *summary = dew_compare_summary (c, s);

      g_string_append_printf (out, _ ("\n“%s” against “%s”. %s\n"), c->sides[s].name,
                              c->sides[0].name, summary);
      tell_changes (out, c, s, 1, _ ("Better"), about->tongue);
      tell_changes (out, c, s, -1, _ ("Worse"), about->tongue);
      tell_changes (out, c, s, 0, _ ("Different"), about->tongue);
    }
  return g_string_free (out, FALSE);
}
