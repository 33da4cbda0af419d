/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-faulty.c — see store-faulty.h.
 *
 * GLib ends the program when memory runs out, so the hook goes where running
 * out can be survived: SQLite's allocator. The file faults come from a VFS that
 * wraps the real one. */
#include "store-faulty.h"

#include <string.h>

/* --- memory ------------------------------------------------------------ */

static sqlite3_mem_methods real_mem;
int faulty_mem_countdown;
int faulty_mem_spent;

static gboolean
mem_fails (void)
{
  if (faulty_mem_countdown > 0 && --faulty_mem_countdown == 0)
    {
      faulty_mem_spent++;
      return TRUE;
    }
  return FALSE;
}

static void *
faulty_malloc (int n)
{
  return mem_fails () ? NULL : real_mem.xMalloc (n);
}

static void *
faulty_realloc (void *p, int n)
{
  return mem_fails () ? NULL : real_mem.xRealloc (p, n);
}

static void
install_memory (void)
{
  sqlite3_mem_methods mem;

  sqlite3_config (SQLITE_CONFIG_LOOKASIDE, 0, 0); /* else most requests bypass the hook */
  sqlite3_config (SQLITE_CONFIG_GETMALLOC, &real_mem);
  mem = real_mem;
  mem.xMalloc = faulty_malloc;
  mem.xRealloc = faulty_realloc;
  g_assert_cmpint (sqlite3_config (SQLITE_CONFIG_MALLOC, &mem), ==, SQLITE_OK);
}

/* --- files -------------------------------------------------------------- */

FaultyFiles faulty_files;

typedef struct
{
  sqlite3_file base;
  sqlite3_file *real; /* behind this struct */
} FaultyFile;

static sqlite3_vfs faulty_vfs;
static sqlite3_vfs *real_vfs;

static gboolean
file_fails (Fault fault)
{
  if (faulty_files.fault != fault || faulty_files.countdown <= 0)
    return FALSE;
  if (faulty_files.countdown > 1)
    {
      faulty_files.countdown--;
      return FALSE;
    }
  if (!faulty_files.stays)
    faulty_files.countdown = 0;
  faulty_files.spent++;
  return TRUE;
}

#define REAL(f) (((FaultyFile *) (f))->real)

static int
faulty_close (sqlite3_file *f)
{
  return REAL (f)->pMethods->xClose (REAL (f));
}

static int
faulty_read (sqlite3_file *f, void *data, int n, sqlite3_int64 at)
{
  if (file_fails (FAULT_READ))
    return SQLITE_IOERR_READ;
  return REAL (f)->pMethods->xRead (REAL (f), data, n, at);
}

static int
faulty_write (sqlite3_file *f, const void *data, int n, sqlite3_int64 at)
{
  if (file_fails (FAULT_FULL))
    return SQLITE_FULL;
  if (file_fails (FAULT_SHORT_WRITE))
    {
      REAL (f)->pMethods->xWrite (REAL (f), data, n / 2, at);
      return SQLITE_IOERR_WRITE;
    }
  return REAL (f)->pMethods->xWrite (REAL (f), data, n, at);
}

static int
faulty_truncate (sqlite3_file *f, sqlite3_int64 size)
{
  if (file_fails (FAULT_TRUNCATE))
    return SQLITE_IOERR_TRUNCATE;
  return REAL (f)->pMethods->xTruncate (REAL (f), size);
}

/* Not in earnest: no plug is pulled here, and thousands of syncs take minutes on a slow disk. */
static int
faulty_sync (sqlite3_file *f, int flags)
{
  return file_fails (FAULT_SYNC) ? SQLITE_IOERR_FSYNC : SQLITE_OK;
}

static int
faulty_size (sqlite3_file *f, sqlite3_int64 *size)
{
  return REAL (f)->pMethods->xFileSize (REAL (f), size);
}

static int
faulty_lock (sqlite3_file *f, int level)
{
  return REAL (f)->pMethods->xLock (REAL (f), level);
}

static int
faulty_unlock (sqlite3_file *f, int level)
{
  return REAL (f)->pMethods->xUnlock (REAL (f), level);
}

static int
faulty_check_reserved (sqlite3_file *f, int *out)
{
  return REAL (f)->pMethods->xCheckReservedLock (REAL (f), out);
}

static int
faulty_control (sqlite3_file *f, int op, void *arg)
{
  return REAL (f)->pMethods->xFileControl (REAL (f), op, arg);
}

static int
faulty_sector (sqlite3_file *f)
{
  return REAL (f)->pMethods->xSectorSize (REAL (f));
}

static int
faulty_traits (sqlite3_file *f)
{
  return REAL (f)->pMethods->xDeviceCharacteristics (REAL (f));
}

static int
faulty_shm_map (sqlite3_file *f, int page, int size, int extend, void volatile **out)
{
  return REAL (f)->pMethods->xShmMap (REAL (f), page, size, extend, out);
}

static int
faulty_shm_lock (sqlite3_file *f, int offset, int n, int flags)
{
  return REAL (f)->pMethods->xShmLock (REAL (f), offset, n, flags);
}

static void
faulty_shm_barrier (sqlite3_file *f)
{
  REAL (f)->pMethods->xShmBarrier (REAL (f));
}

static int
faulty_shm_unmap (sqlite3_file *f, int remove)
{
  return REAL (f)->pMethods->xShmUnmap (REAL (f), remove);
}

static const sqlite3_io_methods faulty_methods = {
  .iVersion = 2,
  .xClose = faulty_close,
  .xRead = faulty_read,
  .xWrite = faulty_write,
  .xTruncate = faulty_truncate,
  .xSync = faulty_sync,
  .xFileSize = faulty_size,
  .xLock = faulty_lock,
  .xUnlock = faulty_unlock,
  .xCheckReservedLock = faulty_check_reserved,
  .xFileControl = faulty_control,
  .xSectorSize = faulty_sector,
  .xDeviceCharacteristics = faulty_traits,
  .xShmMap = faulty_shm_map,
  .xShmLock = faulty_shm_lock,
  .xShmBarrier = faulty_shm_barrier,
  .xShmUnmap = faulty_shm_unmap,
};

static int
faulty_open (sqlite3_vfs *vfs, const char *name, sqlite3_file *f, int flags, int *out_flags)
{
  FaultyFile *self = (FaultyFile *) f;
  int rc;

  memset (self, 0, sizeof *self);
  if (file_fails (FAULT_OPEN))
    return SQLITE_CANTOPEN;
  self->real = (sqlite3_file *) (self + 1);
  rc = real_vfs->xOpen (real_vfs, name, self->real, flags, out_flags);
  if (self->real->pMethods != NULL)
    self->base.pMethods = &faulty_methods;
  return rc;
}

static void
install_vfs (void)
{
  real_vfs = sqlite3_vfs_find (NULL);
  faulty_vfs = *real_vfs;
  faulty_vfs.zName = "faulty";
  faulty_vfs.szOsFile = (int) sizeof (FaultyFile) + real_vfs->szOsFile;
  faulty_vfs.xOpen = faulty_open;
  g_assert_cmpint (sqlite3_vfs_register (&faulty_vfs, 1), ==, SQLITE_OK);
}

void
faulty_install (void)
{
  install_memory ();
  g_assert_cmpint (sqlite3_initialize (), ==, SQLITE_OK);
  install_vfs ();
}

void
faulty_off (void)
{
  faulty_mem_countdown = 0;
  faulty_files.fault = FAULT_NONE;
  faulty_files.countdown = 0;
}

/* --- how many ------------------------------------------------------------ */

static gboolean every;

void
faulty_take_args (int argc, char **argv)
{
  for (int i = 1; i < argc; i++)
    every = every || strcmp (argv[i], "--every") == 0;
}

int
faulty_next (int n, int step)
{
  return every || n < 60 ? n + 1 : n + step;
}
