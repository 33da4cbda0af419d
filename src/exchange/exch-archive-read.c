/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-archive-read.c — an archive from anywhere: measured against its manifest, member by member.
 *
 * The members must be those of the manifest, in its order, plain files of exactly their sizes:
 * so no path, link, device, second copy or surplus ever reaches the disk, and what is unpacked is
 * bounded before the first byte of it is written.
 */
#include "exchange/exch-archive.h"

#include <archive.h>
#include <archive_entry.h>
#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define BLOCK 65536
/* More than this many times its size no journal and no photo is packed: a database of zeros
 * alone would be. Small archives may. */
#define MAX_RATIO 100
#define SMALL (64 * 1024 * 1024)

typedef struct archive Archive;
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Archive, archive_read_free)

typedef struct
{
  const char *path;
  const char *into; /* NULL: nothing is written */
  const ExchWatch *watch;
  struct archive *archive;
  int fd;
  gint64 size, at; /* of the packed file */
  guint8 block[BLOCK];
  GError *error; /* of reading the file itself */
  gboolean begun; /* a first member was there */
  guint8 head[4];
} Source;

static la_ssize_t
read_cb (struct archive *archive, void *data, const void **bytes)
{
  Source *source = data;
  int fault = _exch_fault (EXCH_OP_READ);
  gssize got = -1;

  if (fault == 0)
    {
      do
        got = pread (source->fd, source->block, BLOCK, (off_t) source->at);
      while (got < 0 && errno == EINTR);
      fault = errno;
    }
  if (got < 0)
    {
      g_clear_error (&source->error);
      exch_set_errno (&source->error, fault, source->path);
      archive_set_error (archive, EIO, "the file cannot be read");
      return -1;
    }
  if (source->at == 0)
    memcpy (source->head, source->block, MIN ((gsize) got, sizeof source->head));
  source->at += got;
  *bytes = source->block;
  return got;
}

static gboolean
is_packed (const Source *source)
{
  return memcmp (source->head, "\x28\xb5\x2f\xfd", 4) == 0 ||
         memcmp (source->head, "\x1f\x8b", 2) == 0;
}

static gboolean
fail (Source *source, ExchError code, GError **error)
{
  if (source->error != NULL)
    g_propagate_error (error, g_steal_pointer (&source->error));
  else
    exch_set_error (error, code, source->path);
  return FALSE;
}

/* libarchive stopped: of a file that is not even packed it is no backup at all. */
static gboolean
fail_reading (Source *source, GError **error)
{
  return fail (source, source->begun || is_packed (source) ? EXCH_ERROR_DAMAGED : EXCH_ERROR_NO_BACKUP,
               error);
}

static gboolean
is_stopped (Source *source, GError **error)
{
  const ExchWatch *watch = source->watch;

  if (watch == NULL)
    return FALSE;
  if (watch->progress != NULL)
    watch->progress (MIN (source->at, source->size), source->size, watch->data);
  return watch->cancellable != NULL &&
         g_cancellable_set_error_if_cancelled (watch->cancellable, error);
}

/* A name that no backup of ours has, whatever the manifest says. */
static gboolean
leads_out (const char *name)
{
  g_auto (GStrv) parts = g_strsplit (name, "/", -1);

  if (name[0] == '/' || name[0] == '\0' || strchr (name, '\\') != NULL)
    return TRUE;
  for (char **part = parts; *part != NULL; part++)
    if (strcmp (*part, "..") == 0 || strcmp (*part, ".") == 0 || **part == '\0')
      return TRUE;
  return FALSE;
}

static gboolean
is_plain_file (struct archive_entry *entry)
{
  const char *name = archive_entry_pathname (entry);

  return name != NULL && !leads_out (name) && archive_entry_filetype (entry) == AE_IFREG &&
         archive_entry_hardlink (entry) == NULL && archive_entry_symlink (entry) == NULL &&
         archive_entry_sparse_reset (entry) == 0 && archive_entry_size_is_set (entry) &&
         archive_entry_size (entry) >= 0;
}

/* The header of the next member, which must have this name; of `bytes`, unless that is -1. */
static gboolean
next_member (Source *source, const char *wanted, gint64 bytes, gint64 *size, GError **error)
{
  struct archive_entry *entry;

  if (archive_read_next_header (source->archive, &entry) != ARCHIVE_OK)
    return fail_reading (source, error);
  if (!is_plain_file (entry))
    return fail (source, EXCH_ERROR_HOSTILE, error);
  if (strcmp (archive_entry_pathname (entry), wanted) != 0)
    return fail (source, source->begun ? EXCH_ERROR_HOSTILE : EXCH_ERROR_NO_BACKUP, error);
  source->begun = TRUE;
  *size = archive_entry_size (entry);
  return bytes < 0 || *size == bytes || fail (source, EXCH_ERROR_DAMAGED, error);
}

static ExchManifest *
read_manifest (Source *source, int max_schema, GError **error)
{
  g_autofree char *text = NULL;
  gint64 size;

  if (!next_member (source, EXCH_MANIFEST_NAME, -1, &size, error))
    return NULL;
  if (size > EXCH_MANIFEST_MAX)
    {
      fail (source, EXCH_ERROR_HOSTILE, error);
      return NULL;
    }
  text = g_try_malloc ((gsize) size + 1);
  if (text == NULL)
    {
      exch_set_errno (error, ENOMEM, source->path);
      return NULL;
    }
  if (archive_read_data (source->archive, text, (size_t) size) != (la_ssize_t) size)
    {
      fail_reading (source, error);
      return NULL;
    }
  return exch_manifest_parse (text, (gsize) size, max_schema, source->path, error);
}

/* Reads the member to its end; writes it to `to` unless that is -1. */
static gboolean
pump (Source *source, int to, const char *to_path, gint64 bytes, const char *hash, GError **error)
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);
  g_autofree guint8 *block = g_malloc (BLOCK);
  gint64 done = 0;

  for (;;)
    {
      la_ssize_t got = archive_read_data (source->archive, block, BLOCK);

      if (got < 0)
        return fail_reading (source, error);
      if (got == 0)
        break;
      if (got > bytes - done)
        return fail (source, EXCH_ERROR_DAMAGED, error);
      done += got;
      g_checksum_update (sum, block, got);
      if (to >= 0 && !exch_file_write (to, block, (gsize) got, to_path, error))
        return FALSE;
      if (is_stopped (source, error))
        return FALSE;
    }
  if (done == bytes && strcmp (g_checksum_get_string (sum), hash) == 0)
    return TRUE;
  return fail (source, EXCH_ERROR_DAMAGED, error);
}

static gboolean
take_member (Source *source,
             const char *name,
             gboolean keep,
             gint64 bytes,
             const char *hash,
             GError **error)
{
  g_autofree char *path = keep ? g_build_filename (source->into, name, NULL) : NULL;
  gint64 size;
  int fd = -1;
  gboolean ok;

  if (!next_member (source, name, bytes, &size, error))
    return FALSE;
  if (!keep)
    return pump (source, -1, NULL, bytes, hash, error);
  fd = exch_file_create (path, error);
  if (fd < 0)
    return FALSE;
  ok = pump (source, fd, path, bytes, hash, error);
  if (ok)
    return exch_file_sync_close (fd, path, error);
  close (fd);
  return FALSE;
}

/* The folder of a photo, made when it is not there; the one left is synced. */
static gboolean
enter_folder (const char *photos, const ExchPhoto *photo, char **folder, GError **error)
{
  char two[3] = { photo->hash[0], photo->hash[1], '\0' };
  g_autofree char *next = g_build_filename (photos, two, NULL);

  if (g_strcmp0 (next, *folder) == 0)
    return TRUE;
  if ((*folder != NULL && !exch_file_sync_dir (*folder, error)) ||
      !exch_file_make_dir (photos, error) || !exch_file_make_dir (next, error))
    return FALSE;
  g_free (*folder);
  *folder = g_steal_pointer (&next);
  return TRUE;
}

/* Photos come by their hash, so those of one folder follow each other. */
static gboolean
take_photos (Source *source, const ExchManifest *manifest, gboolean keep, GError **error)
{
  g_autofree char *photos = g_build_filename (source->into, EXCH_PHOTO_DIR, NULL);
  g_autofree char *folder = NULL;

  for (guint i = 0; i < manifest->photos->len; i++)
    {
      const ExchPhoto *photo = &g_array_index (manifest->photos, ExchPhoto, i);
      g_autofree char *name = exch_photo_name (photo);

      if ((keep && !enter_folder (photos, photo, &folder, error)) ||
          !take_member (source, name, keep, photo->bytes, photo->hash, error))
        return FALSE;
    }
  return folder == NULL || exch_file_sync_dir (folder, error);
}

/* Before anything is written: is it possible, and is there room? */
static gboolean
check_sizes (Source *source, const ExchManifest *manifest, ExchUnpack what, GError **error)
{
  gint64 total = manifest->inside ? exch_manifest_total (manifest) : manifest->database_bytes;
  g_autofree char *inside = NULL;

  if (total < 0 || (total > SMALL && total / MAX_RATIO > source->size))
    return fail (source, EXCH_ERROR_HOSTILE, error);
  if (source->into == NULL)
    return TRUE;
  inside = g_build_filename (source->into, "x", NULL);
  return exch_file_has_room (inside, what == EXCH_UNPACK_ALL ? total : manifest->database_bytes,
                             error);
}

static gboolean
take_all (Source *source, const ExchManifest *manifest, ExchUnpack what, GError **error)
{
  struct archive_entry *entry;
  int end;

  if (!check_sizes (source, manifest, what, error) ||
      !take_member (source, EXCH_DATABASE_NAME, TRUE, manifest->database_bytes,
                    manifest->database_hash, error) ||
      (manifest->inside && !take_photos (source, manifest, what == EXCH_UNPACK_ALL, error)))
    return FALSE;
  end = archive_read_next_header (source->archive, &entry);
  if (end == ARCHIVE_EOF)
    return exch_file_sync_dir (source->into, error);
  return end == ARCHIVE_OK ? fail (source, EXCH_ERROR_HOSTILE, error) : fail_reading (source, error);
}

static gboolean
open_source (Source *source, GError **error)
{
  struct stat st;

  source->fd = exch_file_open (source->path, error);
  if (source->fd < 0)
    return FALSE;
  if (fstat (source->fd, &st) != 0)
    {
      exch_set_errno (error, errno, source->path);
      return FALSE;
    }
  source->size = st.st_size;
  if (source->size == 0)
    return fail (source, EXCH_ERROR_NO_BACKUP, error);
  if (archive_read_support_filter_zstd (source->archive) != ARCHIVE_OK ||
      archive_read_support_filter_gzip (source->archive) != ARCHIVE_OK ||
      archive_read_support_format_tar (source->archive) != ARCHIVE_OK)
    return fail (source, EXCH_ERROR_FAILED, error);
  return archive_read_open (source->archive, source, NULL, read_cb, NULL) == ARCHIVE_OK ||
         fail_reading (source, error);
}

ExchManifest *
exch_archive_read (const char *path,
                   ExchUnpack what,
                   const char *into,
                   int max_schema,
                   const ExchWatch *watch,
                   GError **error)
{
  g_autoptr (Archive) archive = archive_read_new ();
  g_autofree Source *source = g_new0 (Source, 1);
  g_autoptr (ExchManifest) manifest = NULL;

  *source = (Source){ .path = path, .into = into, .watch = watch, .archive = archive, .fd = -1 };
  if (archive == NULL)
    exch_set_errno (error, ENOMEM, path);
  else if (open_source (source, error))
    manifest = read_manifest (source, max_schema, error);
  if (manifest != NULL && what != EXCH_UNPACK_MANIFEST && !take_all (source, manifest, what, error))
    g_clear_pointer (&manifest, exch_manifest_free);
  g_clear_pointer (&archive, archive_read_free); /* it may still ask for the file */
  if (source->fd >= 0)
    close (source->fd);
  g_clear_error (&source->error);
  return g_steal_pointer (&manifest);
}
