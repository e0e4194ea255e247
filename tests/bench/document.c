/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench.h"

#include "edit/arrange.h"
#include "store/store.h"

#include <glib/gstdio.h>
#include <malloc.h>
#include <math.h>

#define N_STEPS 10000
#define N_SAVES 9

/* What somebody does who arranges things: moves mostly, now and then one more or one
 * less. */
static void
edit (GRand *random, DewHistory *history, int i)
{
  g_autoptr (DewChamber) next = dew_chamber_copy (dew_history_present (history));
  DewVariant *variant = dew_chamber_shown (next);
  guint n = variant->things->len;
  guint id = g_array_index (variant->things, DewThing, g_rand_int_range (random, 0, (int) n)).id;
  const double d[3]
    = { g_rand_double_range (random, -0.05, 0.05), g_rand_double_range (random, -0.05, 0.05),
        g_rand_double_range (random, -0.01, 0.01) };
  DewThing thing;

  if (i % 20 == 7 && n < 60)
    {
      dew_thing_init (&thing, DEW_THING_POT);
      dew_variant_add (next, variant, &thing);
    }
  else if (i % 20 == 13)
    dew_variant_remove (variant, id);
  else
    dew_variant_shift (next, variant, id, d);
  dew_history_push (history, next, "Move", NULL, NULL);
}

static double
memory_MB (void)
{
  malloc_trim (0);
  return mallinfo2 ().uordblks / 1e6;
}

static double
save_ms (GRand *random, DewStore *store, DewHistory *history)
{
  double times[N_SAVES];

  for (int i = 0; i < N_SAVES; i++)
    {
      double start;

      edit (random, history, 1);
      start = bench_now ();
      dew_store_save (store, history, NULL, NULL);
      dew_store_flush (store, NULL);
      times[i] = 1e3 * (bench_now () - start);
    }
  return bench_median (times, N_SAVES);
}

/* Ten thousand steps to take back: what they cost in memory, in the file and at each
 * save. */
void
bench_document (Bench *bench)
{
  g_autofree char *folder = g_dir_make_tmp ("dewtier-bench-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "x" DEW_STORE_SUFFIX, NULL);
  g_autoptr (DewChamber) demo = dew_chamber_demo ();
  g_autoptr (GRand) random = g_rand_new_with_seed (1);
  g_autoptr (GError) error = NULL;
  g_autoptr (DewStore) store = NULL;
  g_autoptr (DewHistory) history = NULL;
  double few_ms, many_ms, before_MB, steps_MB;
  GStatBuf info = { 0 };

  if (dew_store_create (path, demo, FALSE, &error))
    store = dew_store_open (path, &error);
  if (store == NULL)
    {
      bench_leave_out (bench, "documents: %s", error->message);
      return;
    }
  history = dew_store_history (store);
  few_ms = save_ms (random, store, history);
  before_MB = memory_MB ();
  for (int i = 0; i < N_STEPS; i++)
    edit (random, history, i);
  steps_MB = memory_MB () - before_MB;
  dew_store_save (store, history, NULL, NULL);
  dew_store_flush (store, NULL);
  many_ms = save_ms (random, store, history);
  g_stat (path, &info);

  bench_add (bench,
             &(Figure){ "undo_memory_MB", "Ten thousand steps to take back, in memory", "MB",
                        steps_MB, 50, NAN },
             "%u steps of the demo", dew_history_length (history) - 1);
  bench_add (bench,
             &(Figure){ "undo_file_MB", "A file with them", "MB", (double) info.st_size / 1e6, NAN,
                        NAN },
             "bytes on disk, all tables");
  bench_add (bench,
             &(Figure){ "save_ms", "A step saved, with ten thousand before it", "ms", many_ms, NAN,
                        NAN },
             "with the first steps it took %.0f ms", few_ms);
  g_clear_pointer (&store, dew_store_close);
  g_unlink (path);
  g_rmdir (folder);
}
