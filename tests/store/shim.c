/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/shim.h"

#include <sqlite3.h>
#include <string.h>

typedef struct
{
  sqlite3_file base;
  gboolean journal;
  sqlite3_file *real; /* behind it */
} ShimFile;

static sqlite3_vfs shim;
static sqlite3_vfs *usual;
static sqlite3_io_methods methods;

/* The worker of a store calls too. */
static GMutex lock;
static gboolean counting;
static guint calls, fails_at;
static int fails_with;
static GPtrArray *record;

static void
shim_call_free (gpointer data)
{
  ShimCall *call = data;

  g_clear_pointer (&call->bytes, g_bytes_unref);
  g_free (call);
}

/* Whether this call is to fail. */
static gboolean
fails (void)
{
  gboolean it_is;

  g_mutex_lock (&lock);
  it_is = counting && ++calls == fails_at;
  g_mutex_unlock (&lock);
  return it_is;
}

static void
remember (ShimKind kind, gboolean journal, gint64 at, const void *bytes, gsize n)
{
  g_mutex_lock (&lock);
  if (counting)
    {
      ShimCall *call = g_new0 (ShimCall, 1);

      call->kind = kind;
      call->journal = journal;
      call->at = at;
      call->bytes = bytes != NULL ? g_bytes_new (bytes, n) : NULL;
      g_ptr_array_add (record, call);
    }
  g_mutex_unlock (&lock);
}

#define REAL(file) (((ShimFile *) (file))->real)

static int
shim_close (sqlite3_file *file)
{
  return REAL (file)->pMethods->xClose (REAL (file));
}

static int
shim_read (sqlite3_file *file, void *to, int n, sqlite3_int64 at)
{
  return fails () ? SQLITE_IOERR_READ : REAL (file)->pMethods->xRead (REAL (file), to, n, at);
}

static int
shim_write (sqlite3_file *file, const void *from, int n, sqlite3_int64 at)
{
  if (fails ())
    return fails_with;
  remember (SHIM_WRITE, ((ShimFile *) file)->journal, at, from, (gsize) n);
  return REAL (file)->pMethods->xWrite (REAL (file), from, n, at);
}

static int
shim_truncate (sqlite3_file *file, sqlite3_int64 size)
{
  if (fails ())
    return SQLITE_IOERR_TRUNCATE;
  remember (SHIM_TRUNCATE, ((ShimFile *) file)->journal, size, NULL, 0);
  return REAL (file)->pMethods->xTruncate (REAL (file), size);
}

static int
shim_sync (sqlite3_file *file, int flags)
{
  if (fails ())
    return SQLITE_IOERR_FSYNC;
  remember (SHIM_SYNC, ((ShimFile *) file)->journal, 0, NULL, 0);
  return REAL (file)->pMethods->xSync (REAL (file), flags);
}

static int
shim_file_size (sqlite3_file *file, sqlite3_int64 *size)
{
  return fails () ? SQLITE_IOERR_FSTAT : REAL (file)->pMethods->xFileSize (REAL (file), size);
}

static int
shim_lock (sqlite3_file *file, int kind)
{
  return fails () ? SQLITE_IOERR_LOCK : REAL (file)->pMethods->xLock (REAL (file), kind);
}

static int
shim_unlock (sqlite3_file *file, int kind)
{
  return REAL (file)->pMethods->xUnlock (REAL (file), kind);
}

static int
shim_check_reserved (sqlite3_file *file, int *is)
{
  return REAL (file)->pMethods->xCheckReservedLock (REAL (file), is);
}

static int
shim_file_control (sqlite3_file *file, int what, void *data)
{
  return REAL (file)->pMethods->xFileControl (REAL (file), what, data);
}

static int
shim_sector_size (sqlite3_file *file)
{
  return REAL (file)->pMethods->xSectorSize (REAL (file));
}

static int
shim_characteristics (sqlite3_file *file)
{
  return REAL (file)->pMethods->xDeviceCharacteristics (REAL (file));
}

static int
shim_open (sqlite3_vfs *vfs, const char *name, sqlite3_file *file, int flags, int *out)
{
  ShimFile *ours = (ShimFile *) file;
  int code;

  ours->base.pMethods = NULL;
  if (fails ())
    return SQLITE_CANTOPEN;
  ours->real = (sqlite3_file *) (ours + 1);
  ours->journal = (flags & SQLITE_OPEN_MAIN_JOURNAL) != 0;
  code = usual->xOpen (usual, name, ours->real, flags, out);
  if (ours->real->pMethods != NULL)
    ours->base.pMethods = &methods;
  return code;
}

static int
shim_delete (sqlite3_vfs *vfs, const char *name, int sync)
{
  if (fails ())
    return SQLITE_IOERR_DELETE;
  remember (SHIM_DELETE, g_str_has_suffix (name, "-journal"), 0, NULL, 0);
  return usual->xDelete (usual, name, sync);
}

void
shim_install (void)
{
  usual = sqlite3_vfs_find (NULL);
  shim = *usual;
  shim.zName = "shim";
  shim.szOsFile = (int) sizeof (ShimFile) + usual->szOsFile;
  shim.xOpen = shim_open;
  shim.xDelete = shim_delete;
  methods = (sqlite3_io_methods){ .iVersion = 1,
                                  .xClose = shim_close,
                                  .xRead = shim_read,
                                  .xWrite = shim_write,
                                  .xTruncate = shim_truncate,
                                  .xSync = shim_sync,
                                  .xFileSize = shim_file_size,
                                  .xLock = shim_lock,
                                  .xUnlock = shim_unlock,
                                  .xCheckReservedLock = shim_check_reserved,
                                  .xFileControl = shim_file_control,
                                  .xSectorSize = shim_sector_size,
                                  .xDeviceCharacteristics = shim_characteristics };
  sqlite3_vfs_register (&shim, 1);
}

void
shim_begin (guint failing, int code)
{
  g_mutex_lock (&lock);
  g_clear_pointer (&record, g_ptr_array_unref);
  record = g_ptr_array_new_with_free_func (shim_call_free);
  calls = 0;
  fails_at = failing;
  fails_with = code;
  counting = TRUE;
  g_mutex_unlock (&lock);
}

guint
shim_calls (void)
{
  return calls;
}

GPtrArray *
shim_end (void)
{
  GPtrArray *all;

  g_mutex_lock (&lock);
  counting = FALSE;
  all = g_steal_pointer (&record);
  g_mutex_unlock (&lock);
  return all;
}
