/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/store.h"

#include "store/task.h"

#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <limits.h>
#include <string.h>
#include <unistd.h>

G_DEFINE_QUARK (dew - store - error - quark, dew_store_error)

/* Tells deliveries on their way that nobody waits for them any more. */
typedef struct
{
  gatomicrefcount references;
  int closed; /* atomic */
} Token;

/* Whom to tell about a save. */
typedef struct
{
  DewStoreSaved done;
  gpointer user_data;
  GMainContext *context;
  Token *token;
  GError *error; /* set when it is delivered */
} Waiter;

struct _DewStore
{
  char *path;     /* as given, for messages */
  char *absolute; /* stays right when the program changes its folder */
  char *copy;     /* of the file in its older form, or NULL */
  gboolean read_only;
  dev_t device; /* of the file that was opened */
  ino_t inode;
  DewHistory *opened; /* what was read */
  Token *token;

  /* The worker's own, once it runs. */
  sqlite3 *db;
  DewFileSteps steps;

  GThread *worker;
  GMutex lock;
  GCond changed;
  /* Under the lock. */
  DewHistory *pending; /* the mailbox: at most one, the newest */
  GPtrArray *waiters;  /* Waiter, for what is pending */
  gboolean writing;
  gboolean quit;
  GError *first_error;    /* since the last flush */
  struct StoreTask *task; /* one at a time; its caller waits */
};

struct StoreTask
{
  DewStoreTask run;
  gpointer data;
  GError *error;
  gboolean ok, done;
};

/* --- telling ----------------------------------------------------------- */

static Token *
token_new (void)
{
  Token *token = g_new0 (Token, 1);

  g_atomic_ref_count_init (&token->references);
  return token;
}

static Token *
token_ref (Token *token)
{
  g_atomic_ref_count_inc (&token->references);
  return token;
}

static void
token_unref (Token *token)
{
  if (g_atomic_ref_count_dec (&token->references))
    g_free (token);
}

static void
waiter_free (gpointer data)
{
  Waiter *waiter = data;

  g_clear_error (&waiter->error);
  g_main_context_unref (waiter->context);
  token_unref (waiter->token);
  g_free (waiter);
}

static gboolean
deliver (gpointer data)
{
  Waiter *waiter = data;

  if (!g_atomic_int_get (&waiter->token->closed))
    waiter->done (waiter->error, waiter->user_data);
  return G_SOURCE_REMOVE;
}

/* Takes the waiter. */
static void
waiter_tell (Waiter *waiter, const GError *error)
{
  GSource *source = g_idle_source_new ();

  waiter->error = error != NULL ? g_error_copy (error) : NULL;
  g_source_set_priority (source, G_PRIORITY_DEFAULT);
  g_source_set_callback (source, deliver, waiter, waiter_free);
  g_source_attach (source, waiter->context);
  g_source_unref (source);
}

/* --- the worker -------------------------------------------------------- */

/* A file that was deleted or replaced would take our writes and lose them. */
static gboolean
check_same_file (DewStore *store, GError **error)
{
  GStatBuf info;

  if (g_stat (store->absolute, &info) == 0 && info.st_dev == store->device
      && info.st_ino == store->inode)
    return TRUE;
  g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_MISSING,
               _ ("%s: the file was moved, replaced or deleted meanwhile; save under another name"),
               store->path);
  return FALSE;
}

static gboolean
write_history (DewStore *store, const DewHistory *history, GError **error)
{
  if (store->read_only)
    {
      g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_READ_ONLY,
                   _ ("%s: may only be read; save under another name"), store->path);
      return FALSE;
    }
  return check_same_file (store, error)
         && dew_file_write (store->db, store->path, history, &store->steps, error);
}

static gboolean
run_task (DewStore *store, struct StoreTask *task)
{
  DewConnection connection = { store->db, store->path, &task->error };
  g_autoptr (DewHistory) history = NULL;

  if (store->read_only)
    {
      g_set_error (&task->error, DEW_STORE_ERROR, DEW_STORE_ERROR_READ_ONLY,
                   _ ("%s: may only be read; save under another name"), store->path);
      return FALSE;
    }
  if (!check_same_file (store, &task->error)
      || !dew_connection_execute (&connection, "BEGIN IMMEDIATE", _ ("could not be written")))
    return FALSE;
  history = store->steps.history != NULL ? dew_history_copy (store->steps.history) : NULL;
  if (!dew_connection_check_unchanged (&connection, &store->steps)
      || !dew_connection_touch (&connection) || !task->run (&connection, task->data)
      || !dew_connection_finish (&connection, &store->steps))
    {
      sqlite3_exec (store->db, "ROLLBACK", NULL, NULL, NULL);
      return FALSE;
    }
  store->steps.history = g_steal_pointer (&history);
  return TRUE;
}

/* Under the lock, which is let go meanwhile. */
static void
do_task (DewStore *store)
{
  struct StoreTask *task = store->task;

  g_mutex_unlock (&store->lock);
  task->ok = run_task (store, task);
  g_mutex_lock (&store->lock);
  task->done = TRUE;
  store->task = NULL;
  g_cond_broadcast (&store->changed);
}

gboolean
dew_store_run (DewStore *store, DewStoreTask run, gpointer data, GError **error)
{
  struct StoreTask task = { .run = run, .data = data };

  g_return_val_if_fail (store != NULL && run != NULL, FALSE);

  g_mutex_lock (&store->lock);
  while (store->task != NULL)
    g_cond_wait (&store->changed, &store->lock);
  store->task = &task;
  g_cond_broadcast (&store->changed);
  while (!task.done)
    g_cond_wait (&store->changed, &store->lock);
  g_mutex_unlock (&store->lock);
  if (task.error != NULL)
    g_propagate_error (error, task.error);
  return task.ok;
}

static gpointer
worker_run (gpointer data)
{
  DewStore *store = data;

  g_mutex_lock (&store->lock);
  for (;;)
    {
      g_autoptr (DewHistory) history = NULL;
      g_autoptr (GPtrArray) waiters = NULL;
      g_autoptr (GError) error = NULL;

      while (store->pending == NULL && store->task == NULL && !store->quit)
        g_cond_wait (&store->changed, &store->lock);
      if (store->task != NULL)
        {
          do_task (store);
          continue;
        }
      if (store->pending == NULL)
        break;

      history = g_steal_pointer (&store->pending);
      waiters = g_steal_pointer (&store->waiters);
      store->waiters = g_ptr_array_new ();
      store->writing = TRUE;
      g_mutex_unlock (&store->lock);

      write_history (store, history, &error);

      g_mutex_lock (&store->lock);
      for (guint i = 0; i < waiters->len; i++)
        waiter_tell (g_ptr_array_index (waiters, i), error);
      store->writing = FALSE;
      if (error != NULL && store->first_error == NULL)
        store->first_error = g_steal_pointer (&error);
      g_cond_broadcast (&store->changed);
    }
  g_mutex_unlock (&store->lock);
  return NULL;
}

/* --- opening and closing ----------------------------------------------- */

static void
store_free (DewStore *store)
{
  g_clear_pointer (&store->db, sqlite3_close);
  dew_file_steps_clear (&store->steps);
  g_clear_pointer (&store->opened, dew_history_free);
  g_clear_pointer (&store->waiters, g_ptr_array_unref);
  g_clear_error (&store->first_error);
  g_clear_pointer (&store->token, token_unref);
  g_mutex_clear (&store->lock);
  g_cond_clear (&store->changed);
  g_free (store->path);
  g_free (store->absolute);
  g_free (store->copy);
  g_free (store);
}

/* The journal is a file beside the document, so its folder counts too, and whether its name
 * still fits there. */
static gboolean
may_write (const char *path)
{
  g_autofree char *journal = dew_snapshot_journal (path);
  g_autofree char *folder = g_path_get_dirname (journal);
  g_autofree char *name = g_path_get_basename (journal);

  return g_access (path, W_OK) == 0 && g_access (folder, W_OK | X_OK) == 0
         && strlen (name) <= NAME_MAX;
}

/* Reads all of it in memory first: what is wrong is found there. */
static gboolean
find_and_hold (DewStore *store, GError **error)
{
  g_auto (DewSnapshot) snapshot = { NULL };
  g_auto (DewFileFound) found = { NULL };

  if (!dew_snapshot_take (store->path, &snapshot, error)
      || !dew_file_find (store->path, &snapshot, &found, error))
    return FALSE;
  store->read_only = !may_write (store->absolute);
  if (!store->read_only)
    {
      store->db = dew_file_open_to_write (store->path, &snapshot, &found, &store->steps,
                                          &store->copy, error);
      if (store->db == NULL)
        return FALSE;
    }
  store->opened = g_steal_pointer (&found.history);
  return TRUE;
}

DewStore *
dew_store_open (const char *path, GError **error)
{
  DewStore *store;
  GStatBuf info;

  g_return_val_if_fail (path != NULL, NULL);

  store = g_new0 (DewStore, 1);
  g_mutex_init (&store->lock);
  g_cond_init (&store->changed);
  store->path = g_strdup (path);
  store->absolute = g_canonicalize_filename (path, NULL);
  store->token = token_new ();
  store->waiters = g_ptr_array_new ();
  if (!find_and_hold (store, error))
    {
      store_free (store);
      return NULL;
    }
  if (g_stat (store->absolute, &info) == 0)
    {
      store->device = info.st_dev;
      store->inode = info.st_ino;
    }
  store->worker = g_thread_new ("dew-store", worker_run, store);
  return store;
}

/**
 * dew_store_close:
 *
 * Waits until what was queued is written. Callbacks that have not run by then
 * do not run any more.
 */
void
dew_store_close (DewStore *store)
{
  if (store == NULL)
    return;

  g_mutex_lock (&store->lock);
  store->quit = TRUE;
  g_cond_broadcast (&store->changed);
  g_mutex_unlock (&store->lock);
  g_thread_join (store->worker);
  g_atomic_int_set (&store->token->closed, TRUE);
  store_free (store);
}

const char *
dew_store_path (const DewStore *store)
{
  g_return_val_if_fail (store != NULL, NULL);
  return store->path;
}

gboolean
dew_store_read_only (const DewStore *store)
{
  g_return_val_if_fail (store != NULL, TRUE);
  return store->read_only;
}

const char *
dew_store_copy (const DewStore *store)
{
  g_return_val_if_fail (store != NULL, NULL);
  return store->copy;
}

DewHistory *
dew_store_history (DewStore *store)
{
  g_return_val_if_fail (store != NULL, NULL);
  return dew_history_copy (store->opened);
}

/* --- saving ------------------------------------------------------------ */

void
dew_store_save (DewStore *store, const DewHistory *history, DewStoreSaved done, gpointer user_data)
{
  g_autoptr (DewHistory) copy = NULL;

  g_return_if_fail (store != NULL && history != NULL);

  copy = dew_history_copy (history);
  g_mutex_lock (&store->lock);
  g_clear_pointer (&store->pending, dew_history_free);
  store->pending = g_steal_pointer (&copy);
  if (done != NULL)
    {
      Waiter *waiter = g_new0 (Waiter, 1);

      waiter->done = done;
      waiter->user_data = user_data;
      waiter->context = g_main_context_ref_thread_default ();
      waiter->token = token_ref (store->token);
      g_ptr_array_add (store->waiters, waiter);
    }
  g_cond_broadcast (&store->changed);
  g_mutex_unlock (&store->lock);
}

gboolean
dew_store_flush (DewStore *store, GError **error)
{
  g_autoptr (GError) first = NULL;

  g_return_val_if_fail (store != NULL, FALSE);

  g_mutex_lock (&store->lock);
  while (store->pending != NULL || store->writing)
    g_cond_wait (&store->changed, &store->lock);
  first = g_steal_pointer (&store->first_error);
  g_mutex_unlock (&store->lock);

  if (first == NULL)
    return TRUE;
  g_propagate_error (error, g_steal_pointer (&first));
  return FALSE;
}

/* --- reading only ------------------------------------------------------ */

/* Whether bytes start like JSON: white space, then a brace or a bracket. */
static gboolean
starts_like_json (const GByteArray *bytes)
{
  for (guint i = 0; i < bytes->len; i++)
    if (!g_ascii_isspace ((char) bytes->data[i]))
      return bytes->data[i] == '{' || bytes->data[i] == '[';
  return FALSE;
}

DewChamber *
dew_store_load (const char *path, GError **error)
{
  g_auto (DewSnapshot) snapshot = { NULL };
  g_auto (DewFileFound) found = { NULL };
  g_autoptr (GError) inner = NULL;
  DewChamber *chamber;

  g_return_val_if_fail (path != NULL, NULL);

  if (!dew_snapshot_take (path, &snapshot, error))
    return NULL;
  if (!starts_like_json (snapshot.bytes))
    return dew_file_find (path, &snapshot, &found, error)
             ? dew_chamber_copy (dew_history_present (found.history))
             : NULL;
  chamber = dew_json_to_chamber ((const char *) snapshot.bytes->data, snapshot.bytes->len, &inner);
  if (chamber == NULL)
    g_set_error (error, DEW_STORE_ERROR, inner->code, "%s: %s", path, inner->message);
  return chamber;
}
