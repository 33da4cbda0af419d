/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-files.c — folders, copies, hashes: what is done to files beside SQLite.
 *
 * Invariant: a function that returns TRUE after writing has also synced; one
 * that returns FALSE leaves no file of its own behind.
 */
#include "store/store-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/vfs.h>
#include <unistd.h>

#define BLOCK 65536

int _store_test_network = -1;

/* f_type of statfs(2), from linux/magic.h and the file systems' own sources.
 * FUSE is taken for a network: most of what is mounted by it is one. */
gboolean
_store_fs_is_network (guint64 magic)
{
  static const guint32 known[] = {
    0x6969,     /* NFS */
    0xff534d42, /* CIFS */
    0xfe534d42, /* SMB 2 */
    0x517b,     /* SMB */
    0x65735546, /* FUSE */
    0x01021997, /* 9P */
    0x00c36400, /* Ceph */
    0x5346414f, /* AFS (OpenAFS) */
    0x6b414653, /* AFS (kAFS) */
    0x73757245, /* Coda */
    0x564c,     /* NCP */
    0x7461636f, /* OCFS2 */
    0x01161970, /* GFS2 */
    0x0bd00bd0, /* Lustre */
    0x786f4256  /* vboxsf */
  };

  for (gsize i = 0; i < G_N_ELEMENTS (known); i++)
    if (known[i] == (guint32) magic)
      return TRUE;
  return FALSE;
}

gboolean
_store_dir_on_network (const char *dir)
{
  struct statfs fs;

  if (_store_test_network >= 0)
    return _store_test_network > 0;
  return statfs (dir, &fs) == 0 && _store_fs_is_network ((guint64) fs.f_type);
}

gboolean
_store_sync_dir (const char *path, GError **error)
{
  int fd = g_open (path, O_RDONLY | O_DIRECTORY | O_CLOEXEC, 0);
  int saved = 0;

  if (fd < 0 || (fsync (fd) != 0 && errno != EINVAL)) /* EINVAL: cannot be synced there */
    saved = errno;
  if (fd >= 0)
    close (fd);
  if (saved == 0)
    return TRUE;
  _store_set_errno (error, saved, path);
  return FALSE;
}

gboolean
_store_make_dir (const char *path, GError **error)
{
  g_autofree char *parent = g_path_get_dirname (path);

  if (g_mkdir (path, 0700) == 0)
    return _store_sync_dir (parent, error);
  if (errno == EEXIST && g_file_test (path, G_FILE_TEST_IS_DIR))
    return TRUE;
  _store_set_errno (error, errno, path);
  return FALSE;
}

static gboolean
write_all (int fd, const guint8 *data, gsize n)
{
  while (n > 0)
    {
      gssize written = write (fd, data, n);

      if (written < 0 && errno == EINTR)
        continue;
      if (written <= 0)
        {
          errno = written == 0 ? ENOSPC : errno;
          return FALSE;
        }
      data += written;
      n -= (gsize) written;
    }
  return TRUE;
}

/* Reads `from` from its start with pread, so that its offset stays; writes to
 * `to` unless that is -1. Returns an errno, 0 = done. */
static int
pump (int from, int to, GChecksum *sum, gint64 *bytes)
{
  g_autofree guint8 *block = g_malloc (BLOCK);

  *bytes = 0;
  for (;;)
    {
      gssize got = pread (from, block, BLOCK, (off_t) *bytes);

      if (got < 0 && errno == EINTR)
        continue;
      if (got < 0)
        return errno;
      if (got == 0)
        return 0;
      g_checksum_update (sum, block, got);
      if (to >= 0 && !write_all (to, block, (gsize) got))
        return errno;
      *bytes += got;
    }
}

gboolean
_store_hash_fd (int fd, char *hex, gint64 *bytes, GError **error)
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);
  int failed = pump (fd, -1, sum, bytes);

  if (failed != 0)
    {
      g_set_error (error, STORE_ERROR, STORE_ERROR_FAILED, "The file could not be read (%s).",
                   g_strerror (failed));
      return FALSE;
    }
  g_strlcpy (hex, g_checksum_get_string (sum), STORE_HASH_LEN + 1);
  return TRUE;
}

gboolean
_store_hash_path (const char *path, char *hex, gint64 *bytes, GError **error)
{
  int fd = g_open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK, 0);
  gboolean ok;

  if (fd < 0)
    {
      _store_set_errno (error, errno, path);
      return FALSE;
    }
  ok = _store_hash_fd (fd, hex, bytes, error);
  close (fd);
  return ok;
}

gboolean
_store_copy_fd (int from, const char *to, char *hex, gint64 *bytes, GError **error)
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);
  int fd = g_open (to, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC | O_NOFOLLOW, 0600);
  int failed;

  if (fd < 0)
    {
      _store_set_errno (error, errno, to);
      return FALSE;
    }
  failed = pump (from, fd, sum, bytes);
  if (failed == 0 && fsync (fd) != 0)
    failed = errno;
  if (close (fd) != 0 && failed == 0)
    failed = errno;
  if (failed != 0)
    {
      g_unlink (to);
      _store_set_errno (error, failed, to);
      return FALSE;
    }
  if (hex != NULL)
    g_strlcpy (hex, g_checksum_get_string (sum), STORE_HASH_LEN + 1);
  return TRUE;
}

gboolean
_store_copy_path (const char *from, const char *to, GError **error)
{
  int fd = g_open (from, O_RDONLY | O_CLOEXEC | O_NONBLOCK, 0);
  gint64 bytes;
  gboolean ok;

  if (fd < 0)
    {
      _store_set_errno (error, errno, from);
      return FALSE;
    }
  ok = _store_copy_fd (fd, to, NULL, &bytes, error);
  close (fd);
  return ok;
}

/* The same machine and account always give the same id, also after a journal
 * has been copied to a second machine: undo takes back what was done here. */
CoreId
_store_machine_device (void)
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);
  g_autofree char *machine = NULL;
  g_autofree char *account = g_strdup_printf ("%u", (unsigned) getuid ());
  guint8 digest[32];
  gsize length = sizeof digest;
  CoreId id;

  if (!g_file_get_contents ("/etc/machine-id", &machine, NULL, NULL) || machine[0] == '\0')
    {
      g_free (machine);
      machine = g_strdup (g_get_host_name ());
    }
  g_checksum_update (sum, (const guchar *) "mantidary device\n", -1);
  g_checksum_update (sum, (const guchar *) machine, -1);
  g_checksum_update (sum, (const guchar *) account, -1);
  g_checksum_get_digest (sum, digest, &length);
  memcpy (id.b, digest, sizeof id.b);
  return id;
}
