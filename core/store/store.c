/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/store.h"

#include "store/file-rows.h"
#include "say/problems.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#define JSON_FILE_BYTES_MAX (32 * 1024 * 1024)

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
  GError *first_error; /* since the last flush */
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

      while (store->pending == NULL && !store->quit)
        g_cond_wait (&store->changed, &store->lock);
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
  store->db = dew_file_open (path, TRUE, &store->read_only, error);
  if (store->db != NULL
      && dew_file_update (&store->db, path, !store->read_only, &store->copy, error))
    store->opened = dew_file_read (store->db, path, &store->steps, error);
  if (store->opened == NULL)
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

/* --- new files --------------------------------------------------------- */

static gboolean
io_fail (const char *path, const char *what, GError **error)
{
  int saved = errno;

  g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_IO,
               _ ("%s: %s (%s); look at the folder and its permissions"), path, what,
               g_strerror (saved));
  return FALSE;
}

static gboolean
exists_fail (const char *path, GError **error)
{
  g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_IO,
               _ ("%s: there is such a file already; choose another name or replace it"), path);
  return FALSE;
}

static gboolean
fill_database (const char *temporary, const char *path, const DewHistory *history, GError **error)
{
  DewFileSteps steps = { NULL };
  sqlite3 *db = NULL;
  gboolean ok;

  if (sqlite3_open_v2 (temporary, &db, SQLITE_OPEN_READWRITE, NULL) != SQLITE_OK)
    ok = dew_file_fail (db, path, _ ("could not be made"), error);
  else
    {
      /* Nobody knows this file yet, so its journal need not reach the disk. */
      sqlite3_exec (db, "PRAGMA journal_mode = MEMORY", NULL, NULL, NULL);
      ok = dew_file_set_up (db, path, error) && dew_file_make_tables (db, path, error)
           && dew_file_write (db, path, history, &steps, error);
    }
  dew_file_steps_clear (&steps);
  if (sqlite3_close (db) != SQLITE_OK && ok)
    ok = dew_file_fail (db, path, _ ("could not be closed"), error);
  return ok;
}

static gboolean
sync_file (const char *name, int flags)
{
  int fd = g_open (name, O_RDONLY | O_CLOEXEC | flags, 0);
  gboolean ok;

  if (fd < 0)
    return FALSE;
  ok = fsync (fd) == 0;
  return g_close (fd, NULL) && ok;
}

/* A file that takes another's place keeps its permissions. */
static void
keep_mode (const char *temporary, const char *target)
{
  GStatBuf info;

  if (g_stat (target, &info) == 0 && g_chmod (temporary, (int) (info.st_mode & 0777)) != 0)
    g_debug ("%s: gets new permissions", target);
}

static gboolean
move_into_place (const char *temporary, const char *target, const char *folder, const char *path,
                 gboolean replace, GError **error)
{
  if (!sync_file (temporary, 0))
    return io_fail (path, _ ("could not be written to disk"), error);
  if (replace)
    {
      if (g_rename (temporary, target) != 0)
        return io_fail (path, _ ("could not be put in its place"), error);
    }
  else
    {
      /* A link fails where a file has turned up meanwhile; a rename would not. */
      if (link (temporary, target) != 0)
        return errno == EEXIST ? exists_fail (path, error)
                               : io_fail (path, _ ("could not be put in its place"), error);
      g_unlink (temporary);
    }
  if (!sync_file (folder, O_DIRECTORY))
    g_debug ("%s: this file system does not sync folders", folder);
  return TRUE;
}

gboolean
dew_store_create_with (const char *path, const DewHistory *history, gboolean replace,
                       GError **error)
{
  g_autofree char *absolute = NULL;
  g_autofree char *target = NULL;
  g_autofree char *folder = NULL;
  g_autofree char *temporary = NULL;
  int fd;
  gboolean ok;

  g_return_val_if_fail (path != NULL && history != NULL, FALSE);

  absolute = g_canonicalize_filename (path, NULL);
  if (g_file_test (absolute, G_FILE_TEST_EXISTS) && !replace)
    return exists_fail (path, error);
  if (g_file_test (absolute, G_FILE_TEST_IS_DIR))
    {
      errno = EISDIR;
      return io_fail (path, _ ("could not be made"), error);
    }

  /* Through a symbolic link, so that the link stays one. */
  target = realpath (absolute, NULL);
  if (target == NULL)
    target = g_strdup (absolute);
  folder = g_path_get_dirname (target);
  temporary = g_strdup_printf ("%s/.dewtier-XXXXXX", folder);
  fd = g_mkstemp_full (temporary, O_RDWR | O_CLOEXEC, 0666);
  if (fd < 0)
    return io_fail (path, _ ("could not be made"), error);
  g_close (fd, NULL);

  keep_mode (temporary, target);
  ok = fill_database (temporary, path, history, error)
       && move_into_place (temporary, target, folder, path, replace, error);
  if (!ok)
    g_unlink (temporary);
  return ok;
}

gboolean
dew_store_create (const char *path, const DewChamber *chamber, gboolean replace, GError **error)
{
  g_autoptr (DewHistory) history = NULL;
  g_autoptr (GError) inner = NULL;

  g_return_val_if_fail (path != NULL && chamber != NULL, FALSE);

  if (!dew_chamber_validate (chamber, &inner))
    {
      g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT, _ ("%s: not written: %s"), path,
                   inner->message);
      return FALSE;
    }
  history = dew_history_new (chamber);
  return dew_store_create_with (path, history, replace, error);
}

/* --- reading only ------------------------------------------------------ */

static DewChamber *
load_json (const char *path, GError **error)
{
  g_autoptr (GError) inner = NULL;
  g_autofree char *text = NULL;
  GStatBuf info;
  gsize length;
  DewChamber *chamber;

  if (g_stat (path, &info) == 0 && info.st_size > JSON_FILE_BYTES_MAX)
    {
      g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_CONTENT,
                   _ ("%s: is larger than %d MB; choose another file"), path,
                   JSON_FILE_BYTES_MAX / 1024 / 1024);
      return NULL;
    }
  if (!g_file_get_contents (path, &text, &length, &inner))
    {
      g_set_error (error, DEW_STORE_ERROR, DEW_STORE_ERROR_IO, _ ("%s: cannot be read (%s)"), path,
                   inner->message);
      return NULL;
    }
  chamber = dew_json_to_chamber (text, (gssize) length, &inner);
  if (chamber == NULL)
    g_set_error (error, DEW_STORE_ERROR, inner->code, "%s: %s", path, inner->message);
  return chamber;
}

/* Whether a file starts like JSON: white space, then a brace or a bracket. */
static gboolean
starts_like_json (const char *path)
{
  char head[256];
  FILE *file;
  gsize n;

  if (!g_file_test (path, G_FILE_TEST_IS_REGULAR) || (file = g_fopen (path, "rbe")) == NULL)
    return FALSE;
  n = fread (head, 1, sizeof head, file);
  fclose (file);
  for (gsize i = 0; i < n; i++)
    if (!g_ascii_isspace (head[i]))
      return head[i] == '{' || head[i] == '[';
  return FALSE;
}

DewChamber *
dew_store_load (const char *path, GError **error)
{
  g_autoptr (DewHistory) history = NULL;
  g_autofree char *copy = NULL;
  sqlite3 *db;

  g_return_val_if_fail (path != NULL, NULL);

  if (starts_like_json (path))
    return load_json (path, error);

  /* Writable, so that a journal which a crash has left can be rolled back. */
  db = dew_file_open (path, TRUE, NULL, error);
  if (db == NULL)
    return NULL;
  if (dew_file_update (&db, path, FALSE, &copy, error))
    history = dew_file_read (db, path, NULL, error);
  sqlite3_close (db);
  return history != NULL ? dew_chamber_copy (dew_history_present (history)) : NULL;
}
