/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-archive.c — a backup comes back to the byte; every other file is refused, and nothing is
 * ever written outside the folder that was given. */
#include <archive.h>
#include <archive_entry.h>
#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "archive-case.h"

static void
test_there_and_back (void)
{
  g_autoptr (Case) c = case_new (5);
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_build_filename (c->dir, "backup", NULL);
  char *into = case_dir_new ();
  char *database = case_dir_new ();
  g_autoptr (ExchManifest) all = NULL;
  g_autoptr (ExchManifest) alone = NULL;
  g_autoptr (ExchManifest) said = NULL;
  GStatBuf st;

  g_assert_true (case_write (c, path, &error));
  g_assert_no_error (error);
  g_assert_cmpint (g_stat (path, &st), ==, 0);
  g_assert_cmpint (st.st_mode & 0777, ==, 0600);
  all = exch_archive_read (path, EXCH_UNPACK_ALL, into, CASE_SCHEMA, NULL, &error);
  g_assert_no_error (error);
  case_assert_unpacked (c, into, TRUE);
  g_assert_cmpint (all->n_entries, ==, 12);
  g_assert_cmpint (all->n_subjects, ==, 3);
  g_assert_cmpint (all->made, ==, 20000);
  g_assert_true (all->positions);
  alone = exch_archive_read (path, EXCH_UNPACK_DATABASE, database, CASE_SCHEMA, NULL, &error);
  g_assert_no_error (error);
  case_assert_unpacked (c, database, FALSE);
  said = exch_archive_read (path, EXCH_UNPACK_MANIFEST, NULL, CASE_SCHEMA, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (said->photos->len, ==, 5);
  case_dir_remove (into);
  case_dir_remove (database);
}

static void
test_same_bytes (void)
{
  g_autoptr (Case) c = case_new (4);
  g_autofree char *a = g_build_filename (c->dir, "a", NULL);
  g_autofree char *b = g_build_filename (c->dir, "b", NULL);
  char hash[2][EXCH_HASH_LEN + 1];
  gint64 bytes;

  g_assert_true (case_write (c, a, NULL));
  g_usleep (1100000); /* a time of day in it would be another one */
  g_assert_true (case_write (c, b, NULL));
  g_assert_true (exch_file_hash (a, hash[0], &bytes, NULL));
  g_assert_true (exch_file_hash (b, hash[1], &bytes, NULL));
  g_assert_cmpstr (hash[0], ==, hash[1]);
}

static void
test_left_out (void)
{
  g_autoptr (Case) c = case_new (3);
  g_autoptr (GError) error = NULL;
  g_autoptr (ExchManifest) back = NULL;
  g_autofree char *path = g_build_filename (c->dir, "backup", NULL);
  ExchPhoto gone = g_array_index (c->manifest->photos, ExchPhoto, 1);
  const ExchPhoto *found;

  gone.why = EXCH_LEFT_KIND;
  g_array_remove_index (c->manifest->photos, 1);
  g_array_append_val (c->manifest->left_out, gone);
  c->manifest->positions = FALSE;
  g_assert_true (case_write (c, path, &error));
  back = exch_archive_read (path, EXCH_UNPACK_MANIFEST, NULL, CASE_SCHEMA, NULL, &error);
  g_assert_no_error (error);
  g_assert_false (back->positions);
  g_assert_cmpuint (back->photos->len, ==, 2);
  found = exch_manifest_find (back->left_out, gone.hash);
  g_assert_nonnull (found);
  g_assert_cmpint (found->why, ==, EXCH_LEFT_KIND);
  g_assert_null (exch_manifest_find (back->photos, gone.hash));
}

/* The photos stay in the folder beside. */
static void
test_beside (void)
{
  g_autoptr (Case) c = case_new (3);
  g_autoptr (GError) error = NULL;
  g_autoptr (ExchManifest) back = NULL;
  g_autofree char *path = g_build_filename (c->dir, "backup", NULL);
  char *into = case_dir_new ();

  c->manifest->inside = FALSE;
  g_assert_true (case_write (c, path, &error));
  back = exch_archive_read (path, EXCH_UNPACK_ALL, into, CASE_SCHEMA, NULL, &error);
  g_assert_no_error (error);
  g_assert_false (back->inside);
  g_assert_cmpuint (back->photos->len, ==, 3);
  case_assert_unpacked (c, into, FALSE);
  case_dir_remove (into);
}

/* A photo that is no longer what its row says ends the backup, and no file is left. */
static void
test_changed_photo (void)
{
  g_autoptr (Case) c = case_new (4);
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_build_filename (c->dir, "backup", NULL);
  const ExchPhoto *photo = &g_array_index (c->manifest->photos, ExchPhoto, 2);

  g_hash_table_replace (c->photos, g_strdup (photo->hash), g_bytes_new_static ("shorter", 7));
  g_assert_false (case_write (c, path, &error));
  g_assert_error (error, EXCH_ERROR, EXCH_ERROR_PHOTO);
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
}

/* ---- archives of others ---- */

typedef enum
{
  TRICK_NONE,
  TRICK_UP,        /* ../../evil */
  TRICK_UP_INSIDE, /* photos/../../evil */
  TRICK_ABSOLUTE,
  TRICK_SYMLINK,
  TRICK_HARDLINK,
  TRICK_DEVICE,
  TRICK_FIFO,
  TRICK_FOLDER,
  TRICK_TWICE, /* the database once more */
  TRICK_EXTRA, /* one file more */
  TRICK_MISSING,
  TRICK_ORDER,
  TRICK_LONGER,
  TRICK_SHORTER,
  TRICK_OTHER_BYTES,
  TRICK_NO_MANIFEST,
  TRICK_NEWER,
  TRICK_NEWER_SCHEMA,
  TRICK_BOMB,      /* a database of a hundred million zeros */
  TRICK_TOO_LARGE, /* says that it holds more than any disk */
  TRICK_MANIFEST_HUGE,
  TRICK_MANIFEST_NAME, /* a photo whose name leads out */
  TRICK_MANIFEST_CUT
} Trick;

static void
put (struct archive *archive, const char *name, mode_t type, const char *link, const void *bytes, gsize n)
{
  struct archive_entry *entry = archive_entry_new ();

  archive_entry_set_pathname (entry, name);
  archive_entry_set_filetype (entry, type);
  archive_entry_set_perm (entry, 0644);
  if (type == AE_IFLNK)
    archive_entry_set_symlink (entry, link);
  else if (link != NULL)
    archive_entry_set_hardlink (entry, link);
  archive_entry_set_size (entry, (gint64) n);
  g_assert_cmpint (archive_write_header (archive, entry), ==, ARCHIVE_OK);
  if (n > 0)
    g_assert_cmpint (archive_write_data (archive, bytes, n), ==, (la_ssize_t) n);
  archive_entry_free (entry);
}

static void
put_file (struct archive *archive, const char *name, const void *bytes, gsize n)
{
  put (archive, name, AE_IFREG, NULL, bytes, n);
}

static char *
replaced (const char *text, const char *what, const char *by)
{
  g_auto (GStrv) parts = g_strsplit (text, what, 2);

  g_assert_cmpuint (g_strv_length (parts), ==, 2);
  return g_strconcat (parts[0], by, parts[1], NULL);
}

static char *
tricky_manifest (Case *c, Trick trick)
{
  gsize n;
  g_autofree char *text = exch_manifest_to_text (c->manifest, &n);

  switch (trick)
    {
    case TRICK_NEWER:
      return replaced (text, "\"version\": 1", "\"version\": 2, \"more\": {\"a\": [1, null]}");
    case TRICK_NEWER_SCHEMA:
      return replaced (text, "\"schema\": 1", "\"schema\": 9");
    case TRICK_TOO_LARGE:
      return replaced (text, "\"bytes\": 9000", "\"bytes\": 9000000000000000000");
    case TRICK_BOMB:
      return replaced (text, "\"bytes\": 9000", "\"bytes\": 100000000");
    case TRICK_MANIFEST_NAME:
      return replaced (text, "\"photos/", "\"../photos/");
    case TRICK_MANIFEST_CUT:
      return g_strndup (text, n / 2);
    default:
      return g_steal_pointer (&text);
    }
}

static void
put_database (struct archive *archive, Case *c, Trick trick)
{
  g_autofree char *bytes = NULL;
  gsize n;

  g_assert_true (g_file_get_contents (c->database, &bytes, &n, NULL));
  if (trick == TRICK_OTHER_BYTES)
    bytes[77] ^= 1;
  if (trick == TRICK_BOMB)
    {
      g_autofree char *zeros = g_malloc0 (100000000);

      put_file (archive, EXCH_DATABASE_NAME, zeros, 100000000);
    }
  else if (trick == TRICK_SYMLINK)
    put (archive, EXCH_DATABASE_NAME, AE_IFLNK, "/etc/passwd", NULL, 0);
  else if (trick == TRICK_HARDLINK)
    put (archive, EXCH_DATABASE_NAME, AE_IFREG, EXCH_MANIFEST_NAME, NULL, 0);
  else if (trick == TRICK_DEVICE)
    put (archive, EXCH_DATABASE_NAME, AE_IFCHR, NULL, NULL, 0);
  else if (trick == TRICK_FIFO)
    put (archive, EXCH_DATABASE_NAME, AE_IFIFO, NULL, NULL, 0);
  else if (trick == TRICK_FOLDER)
    put (archive, EXCH_DATABASE_NAME, AE_IFDIR, NULL, NULL, 0);
  else
    put_file (archive, EXCH_DATABASE_NAME, bytes, trick == TRICK_SHORTER ? n - 1 : n);
  if (trick == TRICK_TWICE)
    put_file (archive, EXCH_DATABASE_NAME, bytes, n);
}

static void
put_photo (struct archive *archive, Case *c, guint i, Trick trick)
{
  const ExchPhoto *photo = &g_array_index (c->manifest->photos, ExchPhoto, i);
  GBytes *bytes = g_hash_table_lookup (c->photos, photo->hash);
  g_autofree char *own = exch_photo_name (photo);
  const char *name = own;

  if (trick == TRICK_MISSING && i == 1)
    return;
  if (trick == TRICK_UP && i == 1)
    name = "../../evil";
  if (trick == TRICK_UP_INSIDE && i == 1)
    name = "photos/../../evil";
  if (trick == TRICK_ABSOLUTE && i == 1)
    name = "/dev/shm/mantidary-evil";
  put_file (archive, name, g_bytes_get_data (bytes, NULL),
            g_bytes_get_size (bytes) - (trick == TRICK_LONGER && i == 1 ? 1 : 0));
}

static void
write_tricky (Case *c, Trick trick, const char *path)
{
  struct archive *archive = archive_write_new ();
  g_autofree char *manifest = tricky_manifest (c, trick);
  guint n = c->manifest->photos->len;

  g_assert_cmpint (archive_write_add_filter_zstd (archive), ==, ARCHIVE_OK);
  archive_write_set_format_pax_restricted (archive);
  g_assert_cmpint (archive_write_open_filename (archive, path), ==, ARCHIVE_OK);
  if (trick == TRICK_MANIFEST_HUGE)
    {
      g_autofree char *spaces = g_strnfill (EXCH_MANIFEST_MAX + 1, ' ');

      put_file (archive, EXCH_MANIFEST_NAME, spaces, EXCH_MANIFEST_MAX + 1);
    }
  else if (trick != TRICK_NO_MANIFEST)
    put_file (archive, EXCH_MANIFEST_NAME, manifest, strlen (manifest));
  put_database (archive, c, trick);
  for (guint i = 0; i < n; i++)
    put_photo (archive, c, trick == TRICK_ORDER ? n - 1 - i : i, trick);
  if (trick == TRICK_EXTRA)
    put_file (archive, "readme", "hello", 5);
  g_assert_cmpint (archive_write_close (archive), ==, ARCHIVE_OK);
  archive_write_free (archive);
}

typedef struct
{
  const char *name;
  Trick trick;
  ExchError wanted;
} TrickCase;

static const TrickCase trick_cases[] = {
  { "up", TRICK_UP, EXCH_ERROR_HOSTILE },
  { "up-inside", TRICK_UP_INSIDE, EXCH_ERROR_HOSTILE },
  { "absolute", TRICK_ABSOLUTE, EXCH_ERROR_HOSTILE },
  { "symlink", TRICK_SYMLINK, EXCH_ERROR_HOSTILE },
  { "hardlink", TRICK_HARDLINK, EXCH_ERROR_HOSTILE },
  { "device", TRICK_DEVICE, EXCH_ERROR_HOSTILE },
  { "fifo", TRICK_FIFO, EXCH_ERROR_HOSTILE },
  { "folder", TRICK_FOLDER, EXCH_ERROR_HOSTILE },
  { "twice", TRICK_TWICE, EXCH_ERROR_HOSTILE },
  { "extra", TRICK_EXTRA, EXCH_ERROR_HOSTILE },
  { "missing", TRICK_MISSING, EXCH_ERROR_HOSTILE },
  { "order", TRICK_ORDER, EXCH_ERROR_HOSTILE },
  { "longer", TRICK_LONGER, EXCH_ERROR_DAMAGED },
  { "shorter", TRICK_SHORTER, EXCH_ERROR_DAMAGED },
  { "other-bytes", TRICK_OTHER_BYTES, EXCH_ERROR_DAMAGED },
  { "no-manifest", TRICK_NO_MANIFEST, EXCH_ERROR_NO_BACKUP },
  { "newer", TRICK_NEWER, EXCH_ERROR_TOO_NEW },
  { "newer-schema", TRICK_NEWER_SCHEMA, EXCH_ERROR_TOO_NEW },
  { "bomb", TRICK_BOMB, EXCH_ERROR_HOSTILE },
  { "too-large", TRICK_TOO_LARGE, EXCH_ERROR_HOSTILE },
  { "manifest-huge", TRICK_MANIFEST_HUGE, EXCH_ERROR_HOSTILE },
  { "manifest-name", TRICK_MANIFEST_NAME, EXCH_ERROR_DAMAGED },
  { "manifest-cut", TRICK_MANIFEST_CUT, EXCH_ERROR_DAMAGED },
};

static void
test_trick (gconstpointer data)
{
  const TrickCase *t = data;
  g_autoptr (Case) c = case_new (3);
  g_autoptr (GError) error = NULL;
  g_autoptr (ExchManifest) back = NULL;
  g_autofree char *path = g_build_filename (c->dir, "backup", NULL);
  g_autofree char *inner = g_build_filename (c->dir, "a", NULL);
  g_autofree char *into = g_build_filename (c->dir, "a", "b", NULL);

  g_assert_cmpint (g_mkdir (inner, 0700), ==, 0);
  g_assert_cmpint (g_mkdir (into, 0700), ==, 0);
  write_tricky (c, t->trick, path);
  back = exch_archive_read (path, EXCH_UNPACK_ALL, into, CASE_SCHEMA, NULL, &error);
  g_assert_null (back);
  g_assert_error (error, EXCH_ERROR, (gint) t->wanted);
  /* Nothing beside the folder, nothing at the absolute path. */
  exch_file_remove_tree (into);
  g_assert_cmpuint (case_count_files (c->dir), ==, 2);
  g_assert_false (g_file_test ("/dev/shm/mantidary-evil", G_FILE_TEST_EXISTS));
}

/* The same writer without a trick: so what is refused is the trick. */
static void
test_no_trick (void)
{
  g_autoptr (Case) c = case_new (3);
  g_autoptr (GError) error = NULL;
  g_autoptr (ExchManifest) back = NULL;
  g_autofree char *path = g_build_filename (c->dir, "backup", NULL);
  char *into = case_dir_new ();

  write_tricky (c, TRICK_NONE, path);
  back = exch_archive_read (path, EXCH_UNPACK_ALL, into, CASE_SCHEMA, NULL, &error);
  g_assert_no_error (error);
  case_assert_unpacked (c, into, TRUE);
  case_dir_remove (into);
}

static void
test_no_archive (void)
{
  static const struct
  {
    const char *bytes;
    ExchError wanted;
  } cases[] = {
    { "", EXCH_ERROR_NO_BACKUP },
    { "hello", EXCH_ERROR_NO_BACKUP },
    { "\x28\xb5\x2f\xfd then nothing", EXCH_ERROR_DAMAGED },
    { "\x1f\x8b\x08 then nothing", EXCH_ERROR_DAMAGED },
  };
  char *dir = case_dir_new ();
  g_autofree char *path = g_build_filename (dir, "x", NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_true (g_file_set_contents (path, cases[i].bytes, -1, NULL));
      g_assert_null (exch_archive_read (path, EXCH_UNPACK_MANIFEST, NULL, CASE_SCHEMA, NULL, &error));
      g_assert_error (error, EXCH_ERROR, (gint) cases[i].wanted);
    }
  for (int i = 0; i < 2; i++)
    {
      g_autoptr (GError) error = NULL;

      g_unlink (path);
      g_assert_null (
        exch_archive_read (i == 0 ? path : dir, EXCH_UNPACK_MANIFEST, NULL, CASE_SCHEMA, NULL, &error));
      g_assert_error (error, EXCH_ERROR, (i == 0 ? (int) EXCH_ERROR_NOT_FOUND : (int) EXCH_ERROR_NO_BACKUP));
    }
  case_dir_remove (dir);
}

/* Every byte of a small archive turned over, and every length of it. */
static void
test_flips_and_cuts (void)
{
  g_autoptr (Case) c = case_new (2);
  g_autofree char *path = g_build_filename (c->dir, "backup", NULL);
  g_autofree char *hurt = g_build_filename (c->dir, "hurt", NULL);
  g_autofree char *bytes = NULL;
  guint same = 0;
  gsize n;

  g_assert_true (case_write (c, path, NULL));
  g_assert_true (g_file_get_contents (path, &bytes, &n, NULL));
  for (gsize i = 0; i < n; i += 7)
    for (int cut = 0; cut < 2; cut++)
      {
        char *into = case_dir_new ();
        g_autoptr (GError) error = NULL;
        g_autoptr (ExchManifest) back = NULL;

        bytes[i] ^= 0x20;
        g_assert_true (g_file_set_contents (hurt, bytes, (gssize) (cut ? i : n), NULL));
        bytes[i] ^= 0x20;
        back = exch_archive_read (hurt, EXCH_UNPACK_ALL, into, CASE_SCHEMA, NULL, &error);
        if (back != NULL)
          {
            case_assert_unpacked (c, into, TRUE); /* a byte that means nothing */
            same++;
          }
        else
          g_assert_true (error->domain == EXCH_ERROR);
        case_dir_remove (into);
      }
  g_test_message ("%u of %u came back whole", same, (guint) (2 * n / 7));
  g_assert_cmpuint (same, <, n / 7 / 10);
}

static void
test_stopped (void)
{
  g_autoptr (Case) c = case_new (3);
  g_autoptr (GError) error = NULL;
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  ExchWatch watch = { cancellable, NULL, NULL };
  g_autofree char *path = g_build_filename (c->dir, "backup", NULL);
  char *into = case_dir_new ();

  g_cancellable_cancel (cancellable);
  g_assert_false (
    exch_archive_write (path, c->manifest, c->database, case_open_photo, c, &watch, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
  g_clear_error (&error);
  g_assert_true (case_write (c, path, NULL));
  g_assert_null (exch_archive_read (path, EXCH_UNPACK_ALL, into, CASE_SCHEMA, &watch, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  case_dir_remove (into);
}

/* ---- the n-th thing fails ---- */

static struct
{
  ExchOp op;
  int number;
  int countdown;
  gboolean stays;
  int spent;
} fault;

static int
fault_cb (ExchOp op)
{
  if (op != fault.op || fault.countdown <= 0)
    return 0;
  if (fault.countdown > 1)
    {
      fault.countdown--;
      return 0;
    }
  if (!fault.stays)
    fault.countdown = 0;
  fault.spent++;
  return fault.number;
}

typedef struct
{
  const char *name;
  ExchOp op;
  int number;
  gboolean stays;
  ExchError wanted;
  int least_write, least_read; /* failures, so that the loop bites */
} FaultCase;

static const FaultCase fault_cases[] = {
  { "full", EXCH_OP_WRITE, ENOSPC, TRUE, EXCH_ERROR_FULL, 1, 4 },
  { "write", EXCH_OP_WRITE, EIO, FALSE, EXCH_ERROR_FAILED, 1, 4 },
  { "sync", EXCH_OP_SYNC, EIO, FALSE, EXCH_ERROR_FAILED, 1, 6 },
  { "create", EXCH_OP_CREATE, EACCES, FALSE, EXCH_ERROR_FORBIDDEN, 1, 4 },
  { "open", EXCH_OP_OPEN, EIO, FALSE, EXCH_ERROR_FAILED, 1, 1 },
  { "read", EXCH_OP_READ, EIO, FALSE, EXCH_ERROR_FAILED, 4, 1 },
  { "mkdir", EXCH_OP_MKDIR, EROFS, FALSE, EXCH_ERROR_FORBIDDEN, 0, 3 },
};

static gboolean
one_turn (Case *c, const FaultCase *f, gboolean write, int n, const char *path)
{
  g_autoptr (GError) error = NULL;
  char *into = case_dir_new ();
  gboolean ok;

  fault.op = f->op;
  fault.number = f->number;
  fault.stays = f->stays;
  fault.countdown = n;
  if (write)
    ok = case_write (c, path, &error);
  else
    {
      g_autoptr (ExchManifest) back =
        exch_archive_read (path, EXCH_UNPACK_ALL, into, CASE_SCHEMA, NULL, &error);

      ok = back != NULL;
    }
  fault.countdown = 0;
  if (!ok)
    g_assert_error (error, EXCH_ERROR, (gint) f->wanted);
  if (ok && !write)
    case_assert_unpacked (c, into, TRUE);
  if (write)
    g_assert_cmpint (g_file_test (path, G_FILE_TEST_EXISTS), ==, ok);
  case_dir_remove (into);
  return ok;
}

static void
test_faults (gconstpointer data)
{
  const FaultCase *f = data;
  g_autoptr (Case) c = case_new (3);
  g_autofree char *path = g_build_filename (c->dir, "backup", NULL);

  _exch_test_fault = fault_cb;
  for (int write = 1; write >= 0; write--)
    {
      int failures = 0;

      for (int n = 1;; n++)
        {
          int before = fault.spent;

          if (write)
            g_unlink (path);
          failures += !one_turn (c, f, write != 0, n, path);
          if (fault.spent == before)
            break;
          g_assert_cmpint (n, <, 2000);
        }
      g_test_message ("%s: %d failed", write ? "write" : "read", failures);
      g_assert_cmpint (failures, >=, write ? f->least_write : f->least_read);
    }
  _exch_test_fault = NULL;
}

/* ---- photos in a folder ---- */

static void
test_photos (void)
{
  g_autoptr (Case) c = case_new (2);
  g_autoptr (GError) error = NULL;
  const ExchPhoto *photo = &g_array_index (c->manifest->photos, ExchPhoto, 0);
  const ExchPhoto *other = &g_array_index (c->manifest->photos, ExchPhoto, 1);
  g_autofree char *name = exch_photo_name (photo);
  g_autofree char *path = g_build_filename (c->dir, name, NULL);
  g_autofree char *bytes = NULL;
  gboolean is_new;
  int fd = case_open_photo (photo, c, NULL);
  int wrong = case_open_photo (other, c, NULL);
  gsize n;

  g_assert_true (exch_photo_put (c->dir, photo, fd, FALSE, &is_new, &error));
  g_assert_true (is_new && exch_photo_is_there (c->dir, photo, TRUE));
  g_assert_true (exch_photo_put (c->dir, photo, fd, TRUE, &is_new, &error));
  g_assert_false (is_new);
  /* Turned over where it lies: the size does not tell, the hash does, and it is made whole. */
  g_assert_true (g_file_get_contents (path, &bytes, &n, NULL));
  bytes[5] ^= 1;
  g_assert_true (g_file_set_contents (path, bytes, (gssize) n, NULL));
  g_assert_true (exch_photo_is_there (c->dir, photo, FALSE));
  g_assert_false (exch_photo_is_there (c->dir, photo, TRUE));
  g_assert_true (exch_photo_put (c->dir, photo, fd, TRUE, &is_new, &error));
  g_assert_no_error (error);
  g_assert_true (is_new && exch_photo_is_there (c->dir, photo, TRUE));
  /* Bytes of another photo never come under this name. */
  g_unlink (path);
  g_assert_false (exch_photo_put (c->dir, photo, wrong, TRUE, &is_new, &error));
  g_assert_error (error, EXCH_ERROR, EXCH_ERROR_PHOTO);
  g_assert_cmpuint (case_count_files (c->dir), ==, 1);
  close (fd);
  close (wrong);
}

/* All or nothing under its final name, whatever fails. */
static void
test_photo_faults (void)
{
  static const ExchOp ops[] = { EXCH_OP_CREATE, EXCH_OP_WRITE, EXCH_OP_SYNC, EXCH_OP_READ, EXCH_OP_RENAME, EXCH_OP_MKDIR };

  _exch_test_fault = fault_cb;
  for (gsize i = 0; i < G_N_ELEMENTS (ops); i++)
    {
      int failures = 0;

      for (int n = 1;; n++)
        {
          g_autoptr (Case) c = case_new (3);
          const ExchPhoto *photo = &g_array_index (c->manifest->photos, ExchPhoto, 0);
          int fd = case_open_photo (photo, c, NULL);
          int before = fault.spent;
          gboolean ok;

          fault.op = ops[i];
          fault.number = ENOSPC;
          fault.stays = FALSE;
          fault.countdown = n;
          ok = exch_photo_put (c->dir, photo, fd, FALSE, NULL, NULL);
          fault.countdown = 0;
          close (fd);
          failures += !ok;
          if (ok)
            g_assert_true (exch_photo_is_there (c->dir, photo, TRUE));
          else /* it may be there and not be known to stay; but never in parts */
            g_assert_cmpuint (case_count_files (c->dir), ==,
                              1 + exch_photo_is_there (c->dir, photo, TRUE));
          if (fault.spent == before)
            break;
          g_assert_cmpint (n, <, 100);
        }
      g_assert_cmpint (failures, >=, 1);
    }
  _exch_test_fault = NULL;
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/exchange/archive/there-and-back", test_there_and_back);
  g_test_add_func ("/exchange/archive/same-bytes", test_same_bytes);
  g_test_add_func ("/exchange/archive/left-out", test_left_out);
  g_test_add_func ("/exchange/archive/beside", test_beside);
  g_test_add_func ("/exchange/archive/changed-photo", test_changed_photo);
  g_test_add_func ("/exchange/archive/no-trick", test_no_trick);
  for (gsize i = 0; i < G_N_ELEMENTS (trick_cases); i++)
    {
      g_autofree char *path = g_strdup_printf ("/exchange/archive/trick/%s", trick_cases[i].name);

      g_test_add_data_func (path, &trick_cases[i], test_trick);
    }
  g_test_add_func ("/exchange/archive/no-archive", test_no_archive);
  g_test_add_func ("/exchange/archive/flips-and-cuts", test_flips_and_cuts);
  g_test_add_func ("/exchange/archive/stopped", test_stopped);
  for (gsize i = 0; i < G_N_ELEMENTS (fault_cases); i++)
    {
      g_autofree char *path = g_strdup_printf ("/exchange/archive/faults/%s", fault_cases[i].name);

      g_test_add_data_func (path, &fault_cases[i], test_faults);
    }
  g_test_add_func ("/exchange/photos/put", test_photos);
  g_test_add_func ("/exchange/photos/faults", test_photo_faults);
  return g_test_run ();
}
