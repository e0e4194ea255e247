/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "summary.h"

#include <math.h>
#include <string.h>

/* The quantities in the order of the table, with how their error is told and what the
 * table calls and multiplies it. */
typedef struct
{
  const char *quantity;
  DewSummaryKind kind;
  const char *label;
  const char *error_unit;
  double error_factor;
} Told;

/* clang-format off */
static const Told told[] = {
  { "mean_speed_m_s",                      DEW_SUMMARY_SPEED,      "air speed",         "m/s",                   1 },
  { "share_below_0.05_m_s",                DEW_SUMMARY_DIFFERENCE, "share of still air", "",                     1 },
  { "mean_age_of_air_s",                   DEW_SUMMARY_RATIO,      "age of air",        "%",                   100 },
  { "temperature_rise_over_room_K",        DEW_SUMMARY_DIFFERENCE, "temperature",       "K",                     1 },
  { "humidity_ratio_rise_over_room_kg_kg", DEW_SUMMARY_SHARE,      "humidity ratio",    "% of the largest bay", 100 },
  { "net_inflow_m3_s",                     DEW_SUMMARY_RATIO,      "flow of openings",  "%",                   100 },
  { "block_speed_correlation",             DEW_SUMMARY_VALUE,      "pattern of speed",  "",                      1 },
};
/* clang-format on */
#define N_TOLD ((int) G_N_ELEMENTS (told))

DewSummary *
dew_summary_new (void)
{
  DewSummary *summary = g_new0 (DewSummary, 1);

  for (int r = 0; r < DEW_N_ROLES; r++)
    {
      summary->rows[r] = g_array_new (FALSE, FALSE, sizeof (DewCaseRow));
      summary->lines[r] = g_array_new (FALSE, FALSE, sizeof (DewSummaryLine));
    }
  return summary;
}

void
dew_summary_free (DewSummary *summary)
{
  if (!summary)
    return;
  for (int r = 0; r < DEW_N_ROLES; r++)
    {
      g_array_unref (summary->rows[r]);
      g_array_unref (summary->lines[r]);
    }
  g_free (summary);
}

void
dew_summary_add (DewSummary *summary, DewRole role, const GArray *rows)
{
  summary->cases[role]++;
  g_array_append_vals (summary->rows[role], rows->data, rows->len);
}

/* --- statistics ------------------------------------------------------------ */

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* The value that a share of the sorted values does not exceed, linear between two; NAN
 * of none. */
static double
quantile (GArray *values, double share)
{
  const double *v = (const double *) values->data;
  double at = share * (values->len - 1.0);
  guint low;

  if (values->len == 0)
    return NAN;
  g_array_sort (values, compare_doubles);
  low = (guint) at;
  return low + 1 < values->len ? v[low] + (at - low) * (v[low + 1] - v[low]) : v[low];
}

/* Which way a row errs, and how far; NAN where the reference is too near to nothing to
 * divide by. */
static void
row_error (const DewCaseRow *row, DewSummaryKind kind, double *bias, double *error)
{
  double off = row->predicted - row->reference;

  switch (kind)
    {
    case DEW_SUMMARY_RATIO:
      *bias = row->reference != 0 ? row->predicted / row->reference : NAN;
      *error = row->reference != 0 ? fabs (off / row->reference) : NAN;
      break;
    case DEW_SUMMARY_SPEED:
      *bias = row->reference != 0 ? row->predicted / row->reference : NAN;
      *error = fabs (off);
      break;
    case DEW_SUMMARY_SHARE:
      *bias = row->scale > 0 ? off / row->scale : NAN;
      *error = fabs (*bias);
      break;
    case DEW_SUMMARY_VALUE:
      *bias = row->predicted;
      *error = fabs (off);
      break;
    case DEW_SUMMARY_DIFFERENCE:
    default:
      *bias = off;
      *error = fabs (off);
    }
}

static void
count_row (DewSummaryLine *line, const DewCaseRow *row)
{
  line->rows++;
  line->goal += row->verdict == DEW_VERDICT_GOAL;
  line->out += row->verdict == DEW_VERDICT_OUT;
  if (isfinite (row->band))
    {
      line->banded++;
      line->held += fabs (row->predicted - row->reference) <= row->band;
    }
}

static DewSummaryLine
make_line (const GArray *rows, const Told *of)
{
  DewSummaryLine line = { .quantity = of->quantity, .kind = of->kind };
  g_autoptr (GArray) biases = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (GArray) errors = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint i = 0; i < rows->len; i++)
    {
      const DewCaseRow *row = &g_array_index (rows, DewCaseRow, i);
      double bias, error;

      if (strcmp (row->quantity, of->quantity) != 0)
        continue;
      count_row (&line, row);
      row_error (row, of->kind, &bias, &error);
      if (isfinite (bias))
        g_array_append_val (biases, bias);
      if (isfinite (error))
        g_array_append_val (errors, error);
    }
  line.bias = quantile (biases, 0.5);
  line.error90 = quantile (errors, 0.9);
  return line;
}

void
dew_summary_close (DewSummary *summary)
{
  for (int r = 0; r < DEW_N_ROLES; r++)
    {
      const GArray *rows = summary->rows[r];
      DewSummaryLine all = { .quantity = NULL, .bias = NAN, .error90 = NAN };

      for (int t = 0; t < N_TOLD && rows->len > 0; t++)
        {
          DewSummaryLine line = make_line (rows, &told[t]);

          if (line.rows > 0)
            g_array_append_val (summary->lines[r], line);
        }
      for (guint i = 0; i < rows->len; i++)
        count_row (&all, &g_array_index (rows, DewCaseRow, i));
      if (rows->len > 0)
        g_array_append_val (summary->lines[r], all);
    }
}

const DewSummaryLine *
dew_summary_all (const DewSummary *summary, DewRole role)
{
  const GArray *lines = summary->lines[role];

  return lines->len > 0 ? &g_array_index (lines, DewSummaryLine, lines->len - 1) : NULL;
}

double
dew_summary_percent (int part, int whole)
{
  return whole > 0 ? 100.0 * part / whole : 0.0;
}

/* --- words ------------------------------------------------------------------- */

static const Told *
told_of (const DewSummaryLine *line)
{
  for (int t = 0; t < N_TOLD && line->quantity; t++)
    if (strcmp (told[t].quantity, line->quantity) == 0)
      return &told[t];
  return NULL;
}

/* "0.94 times", "+0.03", "-2.1 %". */
static char *
bias_text (const DewSummaryLine *line)
{
  const Told *of = told_of (line);

  if (!of || !isfinite (line->bias))
    return g_strdup ("");
  if (of->kind == DEW_SUMMARY_VALUE)
    return g_strdup_printf ("%.2f", line->bias);
  if (of->kind == DEW_SUMMARY_RATIO || of->kind == DEW_SUMMARY_SPEED)
    return g_strdup_printf ("%.2f times", line->bias);
  if (of->kind == DEW_SUMMARY_SHARE)
    return g_strdup_printf ("%+.1f %%", 100 * line->bias);
  return g_strdup_printf ("%+.2f%s%s", line->bias, *of->error_unit ? " " : "", of->error_unit);
}

static char *
error_text (const DewSummaryLine *line)
{
  const Told *of = told_of (line);

  if (!of || !isfinite (line->error90))
    return g_strdup ("");
  if (of->kind == DEW_SUMMARY_VALUE)
    return g_strdup_printf ("over %.2f", 1 - line->error90);
  return g_strdup_printf ("%.*f%s%s",
                          of->error_factor > 1            ? 0
                          : of->kind == DEW_SUMMARY_SPEED ? 3
                                                          : 2,
                          of->error_factor * line->error90, *of->error_unit ? " " : "",
                          of->error_unit);
}

static char *
held_text (const DewSummaryLine *line)
{
  return line->banded > 0
           ? g_strdup_printf ("%.0f %%", dew_summary_percent (line->held, line->banded))
           : g_strdup ("");
}

static gboolean
has_bands (const DewSummary *summary)
{
  for (int r = 0; r < DEW_N_ROLES; r++)
    if (dew_summary_all (summary, r) && dew_summary_all (summary, r)->banded > 0)
      return TRUE;
  return FALSE;
}

static void
append_line (GString *text, const DewSummaryLine *line, gboolean bands, gboolean markdown)
{
  const Told *of = told_of (line);
  const char *label = of ? of->label : "all";
  g_autofree char *bias = bias_text (line), *error = error_text (line), *held = held_text (line);

  g_string_append_printf (text,
                          markdown ? "| %s | %d | %.0f %% | %.1f %% | %s | %s |"
                                   : "  %-19s %6d %7.1f %% %7.1f %%   %-11s %-25s",
                          label, line->rows, dew_summary_percent (line->goal, line->rows),
                          dew_summary_percent (line->out, line->rows), bias, error);
  if (bands)
    g_string_append_printf (text, markdown ? " %s |" : " %6s", held);
  g_string_append_c (text, '\n');
}

static void
append_role (GString *text, const DewSummary *summary, DewRole role, gboolean bands,
             gboolean markdown)
{
  const GArray *lines = summary->lines[role];
  int n = summary->cases[role];

  if (markdown)
    g_string_append_printf (
      text,
      "\n%s, %d %s:\n\n"
      "| quantity | rows | inside goal | outside must | median | 90 %% within |%s\n"
      "|---|---|---|---|---|---|%s\n",
      dew_role_key (role), n, n == 1 ? "case" : "cases", bands ? " inside band |" : "",
      bands ? "---|" : "");
  else
    g_string_append_printf (text, "%s, %d %s\n  %-19s %6s %9s %9s   %-11s %-25s%s\n",
                            dew_role_key (role), n, n == 1 ? "case" : "cases", "quantity", "rows",
                            "goal", "must out", "median", "90 % within", bands ? "in band" : "");
  for (guint i = 0; i < lines->len; i++)
    append_line (text, &g_array_index (lines, DewSummaryLine, i), bands, markdown);
}

char *
dew_summary_text (const DewSummary *summary, gboolean markdown)
{
  GString *text = g_string_new (NULL);
  gboolean bands = has_bands (summary);

  for (int r = 0; r < DEW_N_ROLES; r++)
    if (summary->cases[r] > 0)
      append_role (text, summary, r, bands, markdown);
  return g_string_free (text, FALSE);
}
