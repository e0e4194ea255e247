/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The answers of dewtier assign and dewtier compare, for people and for programs. */
#include "report-assign.h"

#include "report.h"
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

static void
write_integers (GString *out, int indent, const char *key, const int *values, int n)
{
  dew_report_begin (out, indent, key, '[');
  for (int i = 0; i < n; i++)
    g_string_append_printf (out, "%s%d", i > 0 ? ", " : "", values[i]);
  g_string_append_c (out, ']');
}

/* The demands of a mask by their keys. */
static void
write_demands (GString *out, int indent, const char *key, guint32 mask)
{
  const char *comma = "";

  dew_report_begin (out, indent, key, '[');
  for (int d = 0; d < DEW_N_DEMANDS; d++)
    if (mask & DEW_DEMAND_BIT (d))
      {
        g_string_append_printf (out, "%s\"%s\"", comma, dew_demand_key (d));
        comma = ", ";
      }
  if (mask & DEW_ASSIGN_TAKEN)
    g_string_append_printf (out, "%s\"taken\"", comma);
  g_string_append_c (out, ']');
}

static void
write_fit (GString *out, int indent, const DewFit *fit)
{
  dew_report_begin (out, indent, "fit", '{');
  for (int d = 0; d < DEW_N_DEMANDS; d++)
    {
      const DewFitDemand *demand = &fit->demand[d];

      if (isnan (demand->margin))
        continue;
      dew_report_begin (out, indent + 1, dew_demand_key (d), '{');
      dew_json_member_real (out, indent + 2, "value", demand->value);
      dew_json_member_real (out, indent + 2, "limit", demand->limit);
      dew_json_member_real (out, indent + 2, "margin", demand->margin);
      dew_json_member_real (out, indent + 2, "band", demand->band);
      dew_json_member_text (out, indent + 2, "unit", dew_demand_unit (d));
      dew_json_member_real (out, indent + 2, "merit", demand->merit);
      dew_report_flag (out, indent + 2, "unsure", demand->unsure);
      dew_report_flag (out, indent + 2, "out", demand->out);
      dew_json_close (out, indent + 1, '}');
    }
  dew_json_close (out, indent, '}');
}

/* --- the assignment in JSON ---------------------------------------------- */

static void
write_bays (GString *out, const DewAssignment *a)
{
  dew_report_begin (out, 1, "bays", '[');
  for (int b = 0; b < a->n_bays; b++)
    {
      dew_report_begin (out, 2, NULL, '{');
      dew_json_member_count (out, 3, "shelf_id", a->bays[b].shelf_id);
      dew_json_member_real (out, 3, "floor_m", a->bays[b].floor_m);
      dew_json_member_real (out, 3, "load_left_kg", a->bays[b].load_left_kg);
      dew_report_flag (out, 3, "quarantine", a->bays[b].quarantine);
      dew_json_close (out, 2, '}');
    }
  dew_json_close (out, 1, ']');
}

static void
write_spots (GString *out, const DewAssignment *a)
{
  write_integers (out, 1, "spots_across_deep", (const int[]){ a->spots_across, a->spots_deep }, 2);
  dew_report_begin (out, 1, "spots", '[');
  for (int s = 0; s < a->n_spots; s++)
    {
      const DewAssignSpot *spot = &a->spots[s];

      dew_report_begin (out, 2, NULL, '{');
      dew_report_integer (out, 3, "bay", spot->bay);
      dew_report_integer (out, 3, "column", spot->column);
      dew_report_integer (out, 3, "row", spot->row);
      dew_report_integer (out, 3, "place", spot->place);
      dew_json_member_reals (out, 3, "lo_m", spot->lo_m, 2);
      dew_json_member_reals (out, 3, "hi_m", spot->hi_m, 2);
      dew_json_member_real (out, 3, "base_m", spot->base_m);
      dew_json_member_real (out, 3, "clear_m", spot->clear_m);
      dew_report_flag (out, 3, "blocked", spot->blocked);
      dew_json_member_count (out, 3, "blocked_by", spot->blocked_by);
      dew_json_close (out, 2, '}');
    }
  dew_json_close (out, 1, ']');
}

/* The table of plants and places: one row per group of plants that are alike. */
static void
write_groups (GString *out, const DewAssignment *a)
{
  g_autofree int *row = g_new (int, MAX (1, a->n_spots));

  dew_report_begin (out, 1, "demand_bits", '[');
  for (int d = 0; d < DEW_N_DEMANDS; d++)
    g_string_append_printf (out, "%s\"%s\"", d > 0 ? ", " : "", dew_demand_key (d));
  g_string_append_c (out, ']');
  dew_report_begin (out, 1, "groups", '[');
  for (int g = 0; g < a->n_groups; g++)
    {
      const DewAssignGroup *group = &a->groups[g];

      dew_report_begin (out, 2, NULL, '{');
      dew_json_member_text (out, 3, "name", group->name);
      dew_json_member_text (out, 3, "species", group->species);
      dew_report_flag (out, 3, "known", group->plant.known);
      dew_report_flag (out, 3, "standing", group->standing);
      dew_json_member_text (out, 3, "state", state_keys[group->plant.state]);
      dew_report_integer (out, 3, "count", group->count);
      dew_json_member_real (out, 3, "width_m", group->plant.width_m);
      dew_json_member_real (out, 3, "height_m", group->plant.height_m + group->plant.rise_m);
      dew_json_member_real (out, 3, "mass_kg", group->plant.mass_kg);
      write_integers (out, 3, "span", group->span, 2);
      dew_report_integer (out, 3, "priority", group->priority);
      dew_report_integer (out, 3, "weight", group->weight);
      for (int s = 0; s < a->n_spots; s++)
        row[s] = group->score[s];
      write_integers (out, 3, "score", row, a->n_spots);
      for (int s = 0; s < a->n_spots; s++)
        row[s] = (int) (group->out[s] & ~DEW_ASSIGN_TAKEN);
      write_integers (out, 3, "out", row, a->n_spots);
      for (int s = 0; s < a->n_spots; s++)
        row[s] = (group->out[s] & DEW_ASSIGN_TAKEN) != 0;
      write_integers (out, 3, "taken", row, a->n_spots);
      for (int s = 0; s < a->n_spots; s++)
        row[s] = dew_assign_value (group, group->score[s], group->out[s], FALSE);
      write_integers (out, 3, "value", row, a->n_spots);
      dew_json_close (out, 2, '}');
    }
  dew_json_close (out, 1, ']');
  dew_report_begin (out, 1, "stays", '[');
  for (int y = 0; y < a->n_stays; y++)
    {
      const DewAssignStay *stay = &a->stays[y];

      dew_report_begin (out, 2, NULL, '{');
      dew_report_integer (out, 3, "plant", stay->plant);
      dew_report_integer (out, 3, "group", a->plants[stay->plant].group);
      dew_report_integer (out, 3, "bay", stay->bay);
      write_integers (out, 3, "first", stay->first, 2);
      write_integers (out, 3, "span", stay->span, 2);
      dew_report_integer (out, 3, "score", stay->score);
      write_demands (out, 3, "out", stay->out);
      dew_report_integer (out, 3, "value", stay->value);
      dew_json_close (out, 2, '}');
    }
  dew_json_close (out, 1, ']');
}

static void
write_plants (GString *out, const DewAssignment *a)
{
  dew_report_begin (out, 1, "plants", '[');
  for (int i = 0; i < a->n_plants; i++)
    {
      const DewAssignPlant *plant = &a->plants[i];
      g_autofree char *where = dew_assign_where (a, plant);

      dew_report_begin (out, 2, NULL, '{');
      dew_json_member_text (out, 3, "name", plant->name);
      dew_json_member_count (out, 3, "thing_id", plant->thing_id);
      dew_json_member_count (out, 3, "wish_id", plant->wish_id);
      dew_report_integer (out, 3, "number", plant->number);
      dew_report_integer (out, 3, "group", plant->group);
      dew_json_member_text (out, 3, "verdict", verdict_keys[plant->verdict]);
      dew_report_flag (out, 3, "stays", plant->stays);
      dew_report_integer (out, 3, "bay", plant->bay);
      dew_report_integer (out, 3, "spot", plant->spot);
      dew_json_member_text (out, 3, "where", where);
      dew_json_member_reals (out, 3, "at_m", plant->at_m, 3);
      dew_report_integer (out, 3, "value", plant->value);
      dew_report_integer (out, 3, "score", plant->fit.score);
      dew_json_member_text (out, 3, "tightest", dew_demand_key (plant->fit.tightest));
      write_demands (out, 3, "out", plant->fit.out);
      dew_json_member_text (out, 3, "words", plant->words);
      dew_json_member_text (out, 3, "needs", plant->needs);
      write_fit (out, 3, &plant->fit);
      dew_json_close (out, 2, '}');
    }
  dew_json_close (out, 1, ']');
}

static void
write_head (GString *out, const char *format, const char *file, const DewChamber *chamber)
{
  dew_json_member_text (out, 1, "format", format);
  dew_json_member_count (out, 1, "version", 1);
  dew_json_member_text (out, 1, "file", file);
  dew_json_member_text (out, 1, "enclosure", chamber->name);
  dew_json_member_count (out, 1, "month", (guint) chamber->month + 1);
}

char *
dew_report_assign_json (const char *file, const DewChamber *chamber, const DewVariant *variant,
                        const DewAssignment *a)
{
  GString *out = g_string_new ("{");

  write_head (out, "dewtier assignment", file, chamber);
  dew_json_member_text (out, 1, "variant", variant->name);
  dew_json_member_count (out, 1, "variant_id", variant->id);
  dew_report_flag (out, 1, "proven", a->proven);
  dew_json_member_real (out, 1, "value", a->value);
  dew_json_member_real (out, 1, "bound", a->bound);
  dew_json_member_real (out, 1, "gap", a->gap);
  dew_json_member_real (out, 1, "seconds", a->seconds);
  dew_report_integer (out, 1, "n_placed", a->n_placed);
  dew_report_integer (out, 1, "n_kept", a->n_kept);
  dew_report_integer (out, 1, "n_suffer", a->n_suffer);
  dew_report_integer (out, 1, "n_without", a->n_without);
  dew_report_integer (out, 1, "quarantine_bays", a->quarantine_bays);
  dew_report_begin (out, 1, "notes", '[');
  for (guint i = 0; i < a->notes->len; i++)
    {
      dew_json_member (out, 2, NULL);
      dew_json_append_text (out, g_ptr_array_index (a->notes, i));
    }
  dew_json_close (out, 1, ']');
  write_plants (out, a);
  write_bays (out, a);
  write_groups (out, a);
  write_spots (out, a);
  g_string_append (out, "\n}\n");
  return g_string_free (out, FALSE);
}

/* --- the assignment in words --------------------------------------------- */

static void
tell_plant (GString *out, const DewAssignment *a, const DewAssignPlant *plant)
{
  g_autofree char *where = dew_assign_where (a, plant);

  g_string_append_printf (out, "  %s\n", plant->name);
  g_string_append_printf (out, "      %s%s%s\n", where, plant->stays ? ", " : "",
                          !plant->stays                       ? ""
                          : plant->verdict == DEW_ASSIGN_KEPT ? _ ("keeps its place")
                                                              : _ ("stays where it is"));
  if (plant->words[0] != '\0')
    g_string_append_printf (out, "      %s\n", plant->words);
  if (plant->needs[0] != '\0')
    g_string_append_printf (out, _ ("      Needs %s.\n"), plant->needs);
}

char *
dew_report_assign_text (const DewChamber *chamber, const DewVariant *variant,
                        const DewAssignment *a)
{
  GString *out = g_string_new (NULL);
  g_autofree char *proof = dew_assign_proof_words (a);

  g_string_append_printf (out, "%s, %s\n%s\n", chamber->name, variant->name, proof);
  for (int b = a->n_bays - 1; b >= -1; b--)
    {
      gboolean any = FALSE;

      for (int i = 0; i < a->n_plants; i++)
        {
          const DewThing *shelf;

          if (a->plants[i].bay != b)
            continue;
          shelf = b >= 0 ? dew_variant_thing (variant, a->bays[b].shelf_id) : NULL;
          if (!any)
            g_string_append_printf (out, "\n%s\n",
                                    b < 0   ? _ ("Without a place")
                                    : shelf ? shelf->name
                                            : _ ("Floor"));
          any = TRUE;
          tell_plant (out, a, &a->plants[i]);
        }
    }
  if (a->notes->len > 0)
    g_string_append_c (out, '\n');
  for (guint i = 0; i < a->notes->len; i++)
    g_string_append_printf (out, "%s\n", (const char *) g_ptr_array_index (a->notes, i));
  return g_string_free (out, FALSE);
}

/* --- comparisons --------------------------------------------------------- */

/* clang-format off */
static const char *const subject_keys[] = {
  [DEW_COMPARE_WHOLE] = "whole",     [DEW_COMPARE_BAY] = "bay",
  [DEW_COMPARE_PLANT] = "plant",     [DEW_COMPARE_FINDING] = "finding",
};
static const char *const value_keys[DEW_N_VALUES] = {
  [DEW_VALUE_TEMPERATURE] = "t_C",         [DEW_VALUE_RH] = "rh",
  [DEW_VALUE_HUMIDITY_RATIO] = "w_kg_kg",  [DEW_VALUE_VPD] = "vpd_Pa",
  [DEW_VALUE_SPEED] = "speed_m_s",         [DEW_VALUE_AGE] = "age_s",
  [DEW_VALUE_MIST] = "mist_kg_kg",         [DEW_VALUE_WETTING] = "wetting_kg_m2s",
  [DEW_VALUE_PPFD] = "ppfd_mol_m2s",
};
/* clang-format on */

static void
write_sides (GString *out, const DewComparison *c)
{
  dew_report_begin (out, 1, "variants", '[');
  for (int s = 0; s < c->n_sides; s++)
    {
      const DewCompareSide *side = &c->sides[s];

      dew_report_begin (out, 2, NULL, '{');
      dew_json_member_count (out, 3, "variant_id", side->variant_id);
      dew_json_member_text (out, 3, "name", side->name);
      dew_json_member_real (out, 3, "water_kg_day", side->water_kg_day);
      dew_report_integer (out, 3, "plants", side->n_plants);
      dew_report_integer (out, 3, "plants_fitting", side->n_fitting);
      dew_report_integer (out, 3, "mean_score", side->mean_score);
      if (s > 0)
        {
          g_autofree char *summary = dew_compare_summary (c, s);

          dew_json_member_text (out, 3, "summary", summary);
        }
      for (int night = 0; night < (side->night ? 2 : 1); night++)
        {
          const DewForecast *forecast = night ? side->night : side->day;

          dew_report_begin (out, 3, night ? "night" : "day", '{');
          dew_json_member_text (out, 4, "state",
                                forecast->state == DEW_FORECAST_SETTLED ? "settled" : "unsteady");
          dew_report_begin (out, 4, "bays", '[');
          for (int b = 0; b < forecast->n_bays; b++)
            {
              dew_report_begin (out, 5, NULL, '{');
              dew_json_member_count (out, 6, "shelf_id", forecast->bays[b].shelf_id);
              dew_report_climate_json (out, 6, "mean", &forecast->bays[b].mean);
              dew_json_close (out, 5, '}');
            }
          dew_json_close (out, 4, ']');
          dew_json_close (out, 3, '}');
        }
      dew_json_close (out, 2, '}');
    }
  dew_json_close (out, 1, ']');
}

static void
write_changes (GString *out, const DewComparison *c)
{
  dew_report_begin (out, 1, "changes", '[');
  for (guint i = 0; i < c->changes->len; i++)
    {
      const DewChange *change = &g_array_index (c->changes, DewChange, i);

      dew_report_begin (out, 2, NULL, '{');
      dew_json_member_count (out, 3, "variant_id", c->sides[change->side].variant_id);
      dew_json_member_text (out, 3, "subject", subject_keys[change->subject]);
      dew_report_integer (out, 3, "bay", change->bay);
      dew_json_member_count (out, 3, "thing_id", change->thing_id);
      dew_report_flag (out, 3, "night", change->night);
      dew_json_member_text (out, 3, "quantity", change->quantity);
      dew_json_member_real (out, 3, "from", change->from);
      dew_json_member_real (out, 3, "to", change->to);
      dew_json_member_real (out, 3, "band", change->band);
      dew_report_flag (out, 3, "beyond_band", change->beyond);
      dew_report_integer (out, 3, "good", change->good);
      dew_json_member_text (out, 3, "words", change->words);
      dew_json_close (out, 2, '}');
    }
  dew_json_close (out, 1, ']');
}

char *
dew_report_compare_json (const char *file, const DewChamber *chamber, const DewComparison *c)
{
  GString *out = g_string_new ("{");

  write_head (out, "dewtier comparison", file, chamber);
  write_sides (out, c);
  dew_report_begin (out, 1, "ranges", '{');
  for (int v = 0; v < DEW_N_VALUES; v++)
    dew_json_member_reals (out, 2, value_keys[v], (const double[]){ c->lo[v], c->hi[v] }, 2);
  dew_json_close (out, 1, '}');
  write_changes (out, c);
  g_string_append (out, "\n}\n");
  return g_string_free (out, FALSE);
}

static void
tell_changes (GString *out, const DewComparison *c, int side, int good, const char *title)
{
  int within = 0;
  gboolean any = FALSE;

  for (guint i = 0; i < c->changes->len; i++)
    {
      const DewChange *change = &g_array_index (c->changes, DewChange, i);

      if (change->side != side || change->good != good)
        continue;
      if (!any)
        g_string_append_printf (out, "  %s\n", title);
      any = TRUE;
      if (change->beyond)
        g_string_append_printf (out, "    %s\n", change->words);
      else
        within++;
    }
  if (within > 0)
    g_string_append_printf (out,
                            ngettext ("    and %d change within its band: not sure\n",
                                      "    and %d changes within their bands: not sure\n", within),
                            within);
}

char *
dew_report_compare_text (const DewChamber *chamber, const DewComparison *c)
{
  GString *out = g_string_new (NULL);

  g_string_append_printf (out, "%s\n\n", chamber->name);
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
      tell_changes (out, c, s, 1, _ ("Better"));
      tell_changes (out, c, s, -1, _ ("Worse"));
      tell_changes (out, c, s, 0, _ ("Different"));
    }
  return g_string_free (out, FALSE);
}
