/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-archive-write.c — an archive that is the same for the same journal: fixed order, no times,
 * no owners. */
#include "exchange/exch-archive.h"

#include <archive.h>
#include <archive_entry.h>
#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#define BLOCK 65536

typedef struct archive Archive;
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Archive, archive_write_free)

typedef struct
{
  const char *path;
  const ExchWatch *watch;
  gint64 done, total;
  int fd;
  gboolean given_up; /* what still comes is dropped */
  GError *error;     /* of the sink; what libarchive says of it is of no use to a person */
} Sink;

/* Never fails: a writer of libarchive that is told of an error does not give back its block when it
 * is freed (seen in 3.6.2). The error waits in the sink, and what still comes is dropped. */
static la_ssize_t
write_cb (struct archive *archive G_GNUC_UNUSED, void *data, const void *bytes, size_t n)
{
  Sink *sink = data;

  if (!sink->given_up)
    sink->given_up = !exch_file_write (sink->fd, bytes, n, sink->path, &sink->error);
  return (la_ssize_t) n;
}

/* Takes the sink's own error first. */
static gboolean
fail (Sink *sink, struct archive *archive, GError **error)
{
  if (sink->error != NULL)
    g_propagate_error (error, g_steal_pointer (&sink->error));
  else if (archive_errno (archive) == ENOMEM)
    exch_set_errno (error, ENOMEM, sink->path);
  else
    exch_set_error (error, EXCH_ERROR_FAILED, sink->path);
  return FALSE;
}

static gboolean
is_stopped (Sink *sink, GError **error)
{
  const ExchWatch *watch = sink->watch;

  if (watch == NULL)
    return FALSE;
  if (watch->progress != NULL)
    watch->progress (MIN (sink->done, sink->total), sink->total, watch->data);
  return watch->cancellable != NULL &&
         g_cancellable_set_error_if_cancelled (watch->cancellable, error);
}

static gboolean
begin_entry (struct archive *archive, Sink *sink, const char *name, gint64 bytes, GError **error)
{
  struct archive_entry *entry = archive_entry_new ();
  int result;

  if (entry == NULL)
    {
      exch_set_errno (error, ENOMEM, sink->path);
      return FALSE;
    }
  archive_entry_set_pathname (entry, name);
  archive_entry_set_filetype (entry, AE_IFREG);
  archive_entry_set_perm (entry, 0600);
  archive_entry_set_size (entry, bytes);
  archive_entry_set_mtime (entry, 0, 0);
  archive_entry_set_uid (entry, 0);
  archive_entry_set_gid (entry, 0);
  result = archive_write_header (archive, entry);
  archive_entry_free (entry);
  return (result == ARCHIVE_OK && sink->error == NULL) || fail (sink, archive, error);
}

static gboolean
put_bytes (struct archive *archive, Sink *sink, const void *bytes, gsize n, GError **error)
{
  if (archive_write_data (archive, bytes, n) != (la_ssize_t) n || sink->error != NULL)
    return fail (sink, archive, error);
  sink->done += (gint64) n;
  return !is_stopped (sink, error);
}

static gboolean
put_text (struct archive *archive, Sink *sink, const char *name, const char *text, gsize n, GError **error)
{
  return begin_entry (archive, sink, name, (gint64) n, error) &&
         put_bytes (archive, sink, text, n, error);
}

/* The next block of a file, hashed; 0 at its end, -1 with an error. */
static gssize
next_block (int fd, gint64 at, guint8 *block, GChecksum *sum, const char *name, GError **error)
{
  gssize got;
  int fault = _exch_fault (EXCH_OP_READ);

  if (fault != 0)
    {
      exch_set_errno (error, fault, name);
      return -1;
    }
  do
    got = pread (fd, block, BLOCK, (off_t) at);
  while (got < 0 && errno == EINTR);
  if (got < 0)
    exch_set_errno (error, errno, name);
  else
    g_checksum_update (sum, block, got);
  return got;
}

/* A file that has become another one since its size and hash were taken ends the archive. */
static gboolean
put_file (struct archive *archive,
          Sink *sink,
          const char *name,
          int fd,
          gint64 bytes,
          const char *hash,
          GError **error)
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);
  g_autofree guint8 *block = g_malloc (BLOCK);
  gint64 at = 0;
  gssize got;

  if (!begin_entry (archive, sink, name, bytes, error))
    return FALSE;
  while ((got = next_block (fd, at, block, sum, name, error)) > 0)
    {
      if (got > bytes - at)
        break;
      if (!put_bytes (archive, sink, block, (gsize) got, error))
        return FALSE;
      at += got;
    }
  if (got < 0)
    return FALSE;
  if (got == 0 && at == bytes && strcmp (g_checksum_get_string (sum), hash) == 0)
    return TRUE;
  exch_set_error (error, EXCH_ERROR_PHOTO, name);
  return FALSE;
}

static gboolean
put_database (struct archive *archive,
              Sink *sink,
              const ExchManifest *manifest,
              const char *database,
              GError **error)
{
  int fd = exch_file_open (database, error);
  gboolean ok;

  if (fd < 0)
    return FALSE;
  ok = put_file (archive, sink, EXCH_DATABASE_NAME, fd, manifest->database_bytes,
                 manifest->database_hash, error);
  close (fd);
  return ok;
}

static gboolean
put_photos (struct archive *archive,
            Sink *sink,
            const ExchManifest *manifest,
            ExchOpenPhoto open,
            gpointer data,
            GError **error)
{
  for (guint i = 0; i < manifest->photos->len; i++)
    {
      const ExchPhoto *photo = &g_array_index (manifest->photos, ExchPhoto, i);
      g_autofree char *name = exch_photo_name (photo);
      int fd = open (photo, data, error);
      gboolean ok;

      if (fd < 0)
        return FALSE;
      ok = put_file (archive, sink, name, fd, photo->bytes, photo->hash, error);
      close (fd);
      if (!ok)
        return FALSE;
    }
  return TRUE;
}

/* zstd is there in every library of Debian; a build without it would run a program instead. */
static gboolean
set_up (struct archive *archive, Sink *sink, GError **error)
{
  gboolean ok = archive_write_add_filter_zstd (archive) == ARCHIVE_OK ||
                (archive_write_add_filter_gzip (archive) == ARCHIVE_OK &&
                 archive_write_set_filter_option (archive, "gzip", "timestamp", NULL) == ARCHIVE_OK);

  ok = ok && archive_write_set_format_pax_restricted (archive) == ARCHIVE_OK &&
       archive_write_set_bytes_per_block (archive, BLOCK) == ARCHIVE_OK &&
       archive_write_set_bytes_in_last_block (archive, 1) == ARCHIVE_OK &&
       archive_write_open (archive, sink, NULL, write_cb, NULL) == ARCHIVE_OK;
  return ok || fail (sink, archive, error);
}

static gboolean
write_all (Sink *sink,
           const ExchManifest *manifest,
           const char *database,
           ExchOpenPhoto open,
           gpointer data,
           GError **error)
{
  g_autoptr (Archive) archive = archive_write_new ();
  g_autofree char *text = NULL;
  gsize n;

  if (archive == NULL)
    {
      exch_set_errno (error, ENOMEM, sink->path);
      return FALSE;
    }
  text = exch_manifest_to_text (manifest, &n);
  if (!set_up (archive, sink, error) ||
      !put_text (archive, sink, EXCH_MANIFEST_NAME, text, n, error) ||
      !put_database (archive, sink, manifest, database, error) ||
      (manifest->inside && !put_photos (archive, sink, manifest, open, data, error)))
    {
      sink->given_up = TRUE; /* nothing more is written when it is freed */
      return FALSE;
    }
  return (archive_write_close (archive) == ARCHIVE_OK && sink->error == NULL) ||
         fail (sink, archive, error);
}

gboolean
exch_archive_write (const char *path,
                    const ExchManifest *manifest,
                    const char *database,
                    ExchOpenPhoto open,
                    gpointer data,
                    const ExchWatch *watch,
                    GError **error)
{
  Sink sink = { .path = path, .watch = watch };
  gboolean ok;

  sink.total = manifest->inside ? exch_manifest_total (manifest) : manifest->database_bytes;
  sink.fd = exch_file_create (path, error);
  if (sink.fd < 0)
    return FALSE;
  ok = write_all (&sink, manifest, database, open, data, error) &&
       exch_file_sync (sink.fd, path, error);
  if (ok) /* so that what is read back comes from the disk */
    posix_fadvise (sink.fd, 0, 0, POSIX_FADV_DONTNEED);
  g_clear_error (&sink.error);
  close (sink.fd);
  if (!ok)
    g_unlink (path);
  return ok;
}
