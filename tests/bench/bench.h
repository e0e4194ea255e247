/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Figures of speed and memory, each beside its target. They are printed, never
 * a test: they belong to the machine as much as to the program. */

#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  const char *key;  /* for programs; static */
  const char *what; /* for people; static */
  const char *unit; /* static */
  double value;
  double must, goal; /* targets; NAN: none */
  gboolean more_is_better;
  double processor; /* of a time: that of this program on all cores, same unit; 0: not told */
  char *detail;     /* what was measured, or NULL */
} Figure;

/* One run. */
typedef struct
{
  GArray *figures;     /* Figure */
  GPtrArray *left_out; /* char *: what could not be measured, and why */
} Bench;

/* Takes a copy of `figure`, with its detail as formatted. */
void bench_add (Bench *bench, const Figure *figure, const char *format, ...) G_GNUC_PRINTF (3, 4);
void bench_leave_out (Bench *bench, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* Median of n values; sorts them. */
double bench_median (double *values, guint n);
/* Wall clock, and processor time of this program on all cores, s. Work that
 * has to fit into a frame is measured by the latter. */
double bench_now (void);
double bench_work (void);

/* Times of the same thing done several times, s. */
typedef struct
{
  double wall[64], work[64];
  guint n;
  double wall_now, work_now;
} BenchTimes;

void bench_start (BenchTimes *times);
void bench_stop (BenchTimes *times); /* one more; past 64 none are kept */
/* Value and processor of a figure: medians, times `per_second`. Sorts them: the last of
 * `wall` is then the longest. */
void bench_take (Figure *figure, BenchTimes *times, double per_second);

/* The families. */
void bench_phases (Bench *bench);   /* where the time of a forecast goes, by sampling */
void bench_drags (Bench *bench);    /* how true the picture of a drag is, on unlike enclosures */
void bench_model (Bench *bench);    /* forecasts of the demo and of the reference cases */
void bench_advice (Bench *bench);   /* searches and sizings of the demo: some minutes */
void bench_assign (Bench *bench);   /* which plant stands where: a minute */
void bench_document (Bench *bench); /* files and steps to take back */
void bench_sheet (Bench *bench);    /* painting */
void bench_window (Bench *bench);   /* the running program on a display in memory */

G_END_DECLS
