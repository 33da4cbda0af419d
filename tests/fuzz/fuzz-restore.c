/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fuzz-restore.c — backups from anywhere: whatever the file holds, nothing is written outside of the
 * folder that was given, nothing but what the manifest says, and what is taken as sound is so to
 * the byte.
 *
 * An input is the tar file as text: a byte 036 and two hex digits stand for any byte, a byte 037,
 * digits and ';' for so many zeros, all else for itself. It is packed here, since a changed byte of
 * a packed file would nearly always be stopped by its sum. Of the salt, bit 0 makes the sums of the
 * headers right, bit 1 the hashes in the manifest, bit 2 leaves the file as it is, not packed.
 */
#include <archive.h>
#include <archive_entry.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include "archive-case.h"
#include "fuzz-driver.h"

#define BLOCK 512
#define MAX_ZEROS 100000
#define MAX_TAR 1000000

static char *root; /* holds the packed file, a sentinel, and the folder that is written into */

static const char *const scraps[] = {
  "manifest.json", "journal.sqlite", "photos/", "../", "/", "\"bytes\": ", "\"sha256\": \"",
  "\"name\": \"", "\"version\": 2", "\"schema\": 99", "\"files\": [", "\"left_out\": [",
  "\"why\": \"kind\"", "{", "}", "]", ",", "99999999999999999999", "-1", "0", "null", "true",
  "\\u0000", "\\ud800", ".jpg", "mantidary backup", "\"inside\"", "\"beside\"", "ustar\03600" "00",
  "\037511;", "\037512;", "\0371024;", "\0373;", "\03680\0377;", "path=../x\n", "size=0\n",
  "linkpath=/etc/passwd\n", "GNU.sparse.major=1\n", "x", "g", "L", "K", "S", "1", "2", "3", "5",
  "00000000001", "77777777777", "\036ff", "\0361f\0368b", "\03628\036b5\0362f\036fd", NULL,
};

/* ---- from text to the file ---- */

static GByteArray *
decode (const uint8_t *data, size_t n)
{
  static const guint8 zeros[BLOCK];
  GByteArray *out = g_byte_array_new ();

  for (size_t i = 0; i < n && out->len < MAX_TAR; i++)
    if (data[i] == 036 && i + 2 < n)
      {
        guint8 byte = (guint8) ((g_ascii_xdigit_value ((char) data[i + 1]) & 15) << 4 |
                                (g_ascii_xdigit_value ((char) data[i + 2]) & 15));

        g_byte_array_append (out, &byte, 1);
        i += 2;
      }
    else if (data[i] == 037)
      {
        guint count = 0;

        while (i + 1 < n && g_ascii_isdigit (data[i + 1]) && count < MAX_ZEROS)
          count = count * 10 + (guint) (data[++i] - '0');
        i += i + 1 < n && data[i + 1] == ';';
        for (count = MIN (count, MAX_ZEROS); count > 0; count -= MIN (count, BLOCK))
          g_byte_array_append (out, zeros, MIN (count, BLOCK));
      }
    else
      g_byte_array_append (out, data + i, 1);
  return out;
}

static gboolean
is_header (const guint8 *block)
{
  return memcmp (block + 257, "ustar", 5) == 0;
}

/* The sum of a header's bytes, its own eight taken as spaces: POSIX.1, pax, "ustar Interchange
 * Format". */
static void
right_sums (GByteArray *tar)
{
  for (guint at = 0; at + BLOCK <= tar->len; at += BLOCK)
    {
      guint8 *block = tar->data + at;
      guint sum = 0;
      char text[9];

      if (!is_header (block))
        continue;
      memset (block + 148, ' ', 8);
      for (guint i = 0; i < BLOCK; i++)
        sum += block[i];
      g_snprintf (text, sizeof text, "%06o", sum);
      memcpy (block + 148, text, 7); /* with its end */
    }
}

/* Where `what` begins between two places; -1 = nowhere. */
static gssize
find (const GByteArray *in, gsize from, gsize to, const char *what)
{
  gsize n = strlen (what);

  for (gsize i = from; i + n <= to; i++)
    if (memcmp (in->data + i, what, n) == 0)
      return (gssize) i;
  return -1;
}

/* The hash of the database in the manifest becomes that of what follows, so that changed contents
 * get further. */
static void
right_hash (GByteArray *tar)
{
  for (gsize at = BLOCK; at + 2 * BLOCK <= tar->len; at += BLOCK)
    {
      const guint8 *block = tar->data + at;
      gboolean wanted = is_header (block) && memcmp (block, EXCH_DATABASE_NAME, 14) == 0;
      g_autofree char *digits = g_strndup ((const char *) block + 124, 11);
      guint64 size = g_ascii_strtoull (digits, NULL, 8);
      gssize key = wanted ? find (tar, 0, at, "\"database\"") : -1;
      gssize value = key >= 0 ? find (tar, (gsize) key, at, "\"sha256\": \"") : -1;
      g_autofree char *hash = NULL;

      if (!is_header (block) || memcmp (block, EXCH_DATABASE_NAME, 14) != 0 || value < 0 ||
          size > tar->len - at - BLOCK || (gsize) value + 11 + EXCH_HASH_LEN > at)
        continue;
      hash = g_compute_checksum_for_data (G_CHECKSUM_SHA256, block + BLOCK, size);
      memcpy (tar->data + value + 11, hash, EXCH_HASH_LEN);
      return;
    }
}

static gboolean
pack (const char *path, const guint8 *data, gsize size)
{
  struct archive *archive = archive_write_new ();
  struct archive_entry *entry = archive_entry_new ();
  gboolean ok;

  archive_write_set_format_raw (archive);
  archive_write_add_filter_gzip (archive);
  archive_write_set_filter_option (archive, "gzip", "compression-level", "1");
  archive_entry_set_filetype (entry, AE_IFREG);
  archive_entry_set_pathname (entry, "data");
  ok = archive_write_open_filename (archive, path) == ARCHIVE_OK &&
       archive_write_header (archive, entry) == ARCHIVE_OK &&
       archive_write_data (archive, data, size) == (la_ssize_t) size &&
       archive_write_close (archive) == ARCHIVE_OK;
  archive_entry_free (entry);
  archive_write_free (archive);
  return ok;
}

/* ---- one input ---- */

/* What was taken as sound is there, to the byte, and nothing else is. */
static void
check_taken (const ExchManifest *manifest, const char *into)
{
  g_autofree char *database = g_build_filename (into, EXCH_DATABASE_NAME, NULL);
  char hash[EXCH_HASH_LEN + 1];
  gint64 bytes;

  g_assert_true (exch_file_hash (database, hash, &bytes, NULL));
  g_assert_cmpstr (hash, ==, manifest->database_hash);
  g_assert_cmpint (bytes, ==, manifest->database_bytes);
  g_assert_cmpuint (case_count_files (into), ==,
                    1 + (manifest->inside ? manifest->photos->len : 0));
  for (guint i = 0; manifest->inside && i < manifest->photos->len; i++)
    g_assert_true (
      exch_photo_is_there (into, &g_array_index (manifest->photos, ExchPhoto, i), TRUE));
}

static void
run (const uint8_t *data, size_t length, uint32_t salt)
{
  g_autofree char *path = g_build_filename (root, "packed", NULL);
  g_autofree char *into = g_build_filename (root, "a", "into", NULL);
  g_autoptr (GByteArray) tar = decode (data, length);
  g_autoptr (GError) error = NULL;
  g_autoptr (ExchManifest) manifest = NULL;

  if ((salt & 2) != 0)
    right_hash (tar);
  if ((salt & 1) != 0)
    right_sums (tar);
  g_assert_cmpint (g_mkdir (into, 0700), ==, 0);
  if ((salt & 4) != 0)
    g_assert_true (g_file_set_contents (path, (const char *) tar->data, tar->len, NULL));
  else
    g_assert_true (pack (path, tar->data, tar->len));
  manifest = exch_archive_read (path, EXCH_UNPACK_ALL, into, CASE_SCHEMA, NULL, &error);
  g_assert_true ((manifest != NULL) == (error == NULL));
  if (manifest != NULL)
    check_taken (manifest, into);
  else
    {
      g_assert_true (error->domain == EXCH_ERROR);
      g_assert_true (g_utf8_validate (error->message, -1, NULL));
    }
  exch_file_remove_tree (into);
  g_unlink (path);
  /* The sentinel beside, and nothing else, in the two folders above. */
  g_assert_cmpuint (case_count_files (root), ==, 1);
}

int
main (int argc, char *argv[])
{
  static const FuzzTarget target = { .max_bytes = 20000, .scraps = scraps, .run = run };
  g_autofree char *sentinel = NULL;
  g_autofree char *inner = NULL;
  int failed;

  root = case_dir_new ();
  sentinel = g_build_filename (root, "sentinel", NULL);
  inner = g_build_filename (root, "a", NULL);
  g_assert_true (g_file_set_contents (sentinel, "x", 1, NULL));
  g_assert_cmpint (g_mkdir (inner, 0700), ==, 0);
  failed = fuzz_main (argc, argv, &target);
  case_dir_remove (root);
  return failed;
}
