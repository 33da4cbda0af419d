/* SPDX-License-Identifier: GPL-3.0-or-later */
/* make-restore-corpus.c — not a test: prints the first inputs of fuzz-restore, one a line. */
#include <archive.h>
#include <archive_entry.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>

#include "archive-case.h"

/* The tar file inside of a packed one. */
static GByteArray *
unpack (const char *path)
{
  struct archive *archive = archive_read_new ();
  struct archive_entry *entry;
  GByteArray *out = g_byte_array_new ();
  guint8 block[4096];
  la_ssize_t n;

  archive_read_support_filter_all (archive);
  archive_read_support_format_raw (archive);
  g_assert_cmpint (archive_read_open_filename (archive, path, 4096), ==, ARCHIVE_OK);
  g_assert_cmpint (archive_read_next_header (archive, &entry), ==, ARCHIVE_OK);
  while ((n = archive_read_data (archive, block, sizeof block)) > 0)
    g_byte_array_append (out, block, (guint) n);
  archive_read_free (archive);
  return out;
}

/* As fuzz-restore reads it. */
static char *
encode (const guint8 *data, gsize n)
{
  GString *out = g_string_new (NULL);

  for (gsize i = 0; i < n; i++)
    {
      gsize zeros = 0;

      while (i + zeros < n && data[i + zeros] == 0)
        zeros++;
      if (zeros > 0)
        {
          g_string_append_printf (out, "\037%u;", (guint) zeros);
          i += zeros - 1;
        }
      else if ((data[i] >= ' ' && data[i] < 127) || data[i] == '\n')
        g_string_append_c (out, (char) data[i]);
      else
        g_string_append_printf (out, "\036%02x", data[i]);
    }
  return g_string_free (out, FALSE);
}

/* The salts: the sums and the hash are right anyway; they are made right again after changes. */
static void
print_one (guint n_photos, gboolean inside, gboolean packed, guint salt)
{
  g_autoptr (Case) c = case_new_small (n_photos);
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_build_filename (c->dir, "x", NULL);
  g_autofree char *text = NULL;
  g_autofree char *line = NULL;

  c->manifest->inside = inside;
  g_assert_true (case_write (c, path, &error));
  if (packed)
    {
      char *bytes;
      gsize n;

      g_assert_true (g_file_get_contents (path, &bytes, &n, NULL));
      text = encode ((const guint8 *) bytes, n);
      g_free (bytes);
    }
  else
    {
      g_autoptr (GByteArray) tar = unpack (path);

      text = encode (tar->data, tar->len);
    }
  line = g_strescape (text, NULL);
  printf ("%u\t%s\n", salt, line);
}

int
main (void)
{
  printf ("# SPDX-License-Identifier: GPL-3.0-or-later\n"
          "# One archive a line: what is made right in it, a tab, the tar file as fuzz-restore.c "
          "says.\n");
  print_one (0, TRUE, FALSE, 0);
  print_one (2, TRUE, FALSE, 0);
  print_one (2, TRUE, FALSE, 1);
  print_one (2, TRUE, FALSE, 3);
  print_one (2, FALSE, FALSE, 3);
  print_one (1, TRUE, TRUE, 4);
  return 0;
}
