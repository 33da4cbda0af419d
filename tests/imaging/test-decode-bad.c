/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-decode-bad.c — files that are no picture, half a picture, or too much
 * of one: each gives its own error, and the program goes on. */
#include "fixture.h"
#include "imaging/decode/decode-wire.h"
#include "imaging/img-decode.h"

#include <glib/gstdio.h>
#include <grp.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static void
assert_bytes_refused (GBytes *bytes, const char *name, ImgError expected)
{
  char *dir = fixture_dir ();
  g_autofree char *path = fixture_write (dir, name, bytes);
  g_autoptr (GError) error = NULL;

  g_assert_null (img_decode (path, NULL, NULL, &error));
  g_assert_error (error, IMG_ERROR, (int) expected);
  fixture_done (dir);
}

typedef struct
{
  const char *name;
  const char *file;
  const char *data;
  gsize size;
  ImgError expected;
} FileCase;

static const FileCase files[] = {
  { "text-named-jpg", "note.jpg", "Ate two flies today.\n", 21, IMG_ERROR_NOT_A_PICTURE },
  { "empty", "empty.jpg", "", 0, IMG_ERROR_EMPTY },
  { "one-byte", "one.jpg", "\xff", 1, IMG_ERROR_NOT_A_PICTURE },
  { "jpeg-magic-only", "m.jpg", "\xff\xd8\xff", 3, IMG_ERROR_DAMAGED },
  { "png-magic-only", "m.png", "\x89PNG\r\n\x1a\n", 8, IMG_ERROR_DAMAGED },
  { "tiff-magic-only", "m.tif", "II*\0", 4, IMG_ERROR_DAMAGED },
  /* Formats that the loaders on this machine may know, and this program does not ask for. */
  { "gif", "a.gif",
    "GIF89a\x01\0\x01\0\x80\0\0\0\0\0\xff\xff\xff,\0\0\0\0\x01\0\x01\0\0\x02\x02\x44\x01\0;", 35,
    IMG_ERROR_NOT_A_PICTURE },
  { "svg", "a.svg", "<svg xmlns='http://www.w3.org/2000/svg' width='1' height='1'/>", 62,
    IMG_ERROR_NOT_A_PICTURE },
  { "bmp", "a.bmp", "BM", 2, IMG_ERROR_NOT_A_PICTURE },
  { "riff-not-webp", "a.webp", "RIFF\x10\0\0\0WAVEfmt ", 16, IMG_ERROR_NOT_A_PICTURE },
};

static void
test_file (gconstpointer data)
{
  const FileCase *c = data;
  g_autoptr (GBytes) bytes = g_bytes_new_static (c->data, c->size);

  assert_bytes_refused (bytes, c->file, c->expected);
}

/* Cut anywhere after its magic bytes, a picture is damaged; never half a picture. */
static void
assert_cuts_refused (GBytes *whole, const char *name)
{
  gsize size = g_bytes_get_size (whole);

  for (int tenth = 1; tenth < 10; tenth++)
    {
      g_autoptr (GBytes) cut = g_bytes_new_from_bytes (whole, 0, size * (gsize) tenth / 10);

      assert_bytes_refused (cut, name, IMG_ERROR_DAMAGED);
    }
  {
    g_autoptr (GBytes) end_missing = g_bytes_new_from_bytes (whole, 0, size - 2);

    assert_bytes_refused (end_missing, name, IMG_ERROR_DAMAGED);
  }
}

static void
test_truncated (void)
{
  FixtureExif exif = { .orientation = 6, .taken = "2026:05:17 21:04:33" };
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (320, 240);
  g_autoptr (GBytes) jpeg = fixture_jpeg (pixbuf, &exif);
  g_autoptr (GBytes) png = fixture_png (pixbuf, &exif, FALSE);
  g_autoptr (GBytes) tiff = fixture_tiff (pixbuf, 1);
  g_autoptr (GBytes) webp = fixture_has_loader ("webp") ? fixture_webp (pixbuf, &exif) : NULL;
  g_autoptr (GBytes) progressive = fixture_progressive_jpeg (pixbuf);
  char *dir = fixture_dir ();
  g_autoptr (GBytes) heic = fixture_has_loader ("heif/avif") ? fixture_heic (dir, jpeg) : NULL;

  assert_cuts_refused (jpeg, "cut.jpg");
  assert_cuts_refused (progressive, "cut.jpg");
  assert_cuts_refused (png, "cut.png");
  assert_cuts_refused (tiff, "cut.tif");
  if (webp != NULL)
    assert_cuts_refused (webp, "cut.webp");
  if (heic != NULL)
    assert_cuts_refused (heic, "cut.heic");
  fixture_done (dir);
}

static void
assert_good_with_more (const char *dir, GBytes *picture_bytes)
{
  g_autoptr (GByteArray) longer = g_byte_array_new ();
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (ImgPicture) picture = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;

  g_byte_array_append (longer, g_bytes_get_data (picture_bytes, NULL),
                       (guint) g_bytes_get_size (picture_bytes));
  g_byte_array_append (longer, (const guint8 *) "camera's own notes", 18);
  bytes = g_bytes_new (longer->data, longer->len);
  path = fixture_write (dir, "longer", bytes);
  picture = img_decode (path, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (picture->pixels->width, ==, 96);
}

/* What follows the end of a picture (cameras append previews) does no harm. */
static void
test_appended (void)
{
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (96, 64);
  g_autoptr (GBytes) jpeg = fixture_jpeg (pixbuf, NULL);
  g_autoptr (GBytes) progressive = fixture_progressive_jpeg (pixbuf);
  g_autoptr (GBytes) png = fixture_png (pixbuf, NULL, FALSE);
  g_autoptr (GBytes) heic = fixture_has_loader ("heif/avif") ? fixture_heic (dir, jpeg) : NULL;

  assert_good_with_more (dir, jpeg);
  assert_good_with_more (dir, progressive);
  assert_good_with_more (dir, png);
  if (heic != NULL)
    assert_good_with_more (dir, heic);
  fixture_done (dir);
}

/* The header alone announces 30 GB; it is refused from the header alone. */
static void
test_huge (void)
{
  static const guint32 sizes[][2] = {
    { 100000, 100000 }, { 20001, 10000 }, { 10000, 20001 }, { 900000, 900000 }
  };

  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      g_autoptr (GBytes) bytes = fixture_png_header (sizes[i][0], sizes[i][1]);
      struct rusage usage;

      g_assert_cmpuint (g_bytes_get_size (bytes), <, 200);
      assert_bytes_refused (bytes, "huge.png", IMG_ERROR_TOO_LARGE);
      /* In KiB, the largest child so far: far less than one such picture. */
      g_assert_cmpint (getrusage (RUSAGE_CHILDREN, &usage), ==, 0);
      g_assert_cmpint (usage.ru_maxrss, <, 400 * 1024);
    }
}

/* Overwrites two big-endian numbers behind a field of that name. */
static GBytes *
with_size (GBytes *good, const char *before, gsize skip, guint32 side, int n_bytes)
{
  gsize size;
  const guint8 *from = g_bytes_get_data (good, &size);
  guint8 *data = g_memdup2 (from, size);
  guint8 *at = memmem (data, size, before, strlen (before));

  g_assert_nonnull (at);
  at += strlen (before) + skip;
  for (int v = 0; v < 2; v++)
    for (int i = 0; i < n_bytes; i++)
      *at++ = (guint8) (side >> 8 * (n_bytes - 1 - i));
  return g_bytes_new_take (data, size);
}

/* The other formats: a header that lies about the size is refused by it, or as damaged, and never
 * costs the memory that it announces. */
static void
test_huge_others (void)
{
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (96, 64);
  g_autoptr (GBytes) jpeg = fixture_jpeg (pixbuf, NULL), tiff = fixture_tiff (pixbuf, 1);
  g_autoptr (GBytes) heic = fixture_has_loader ("heif/avif") ? fixture_heic (dir, jpeg) : NULL;
  /* SOF0: length, bits, height, width; two bytes each. */
  GBytes *lying[] = { with_size (jpeg, "\xff\xc0", 3, 65000, 2), NULL, NULL };
  struct rusage usage;

  /* ImageWidth, LONG, 1: the value follows, and that of ImageLength after eight bytes more. */
  {
    gsize size;
    guint8 *data = g_memdup2 (g_bytes_get_data (tiff, &size), g_bytes_get_size (tiff));
    guint32 directory = data[4] | (guint32) data[5] << 8 | (guint32) data[6] << 16;

    for (int field = 0; field < 2; field++)
      memcpy (data + directory + 2 + 12 * field + 8, "\xff\xff\x0f\x00", 4);
    lying[1] = g_bytes_new_take (data, size);
  }
  if (heic != NULL) /* ispe: version, then width and height */
    lying[2] = with_size (heic, "ispe", 4, 100000, 4);
  for (gsize i = 0; i < G_N_ELEMENTS (lying); i++)
    {
      g_autofree char *path = NULL;
      g_autoptr (GError) error = NULL;

      if (lying[i] == NULL)
        continue;
      path = fixture_write (dir, "huge", lying[i]);
      g_assert_null (img_decode (path, NULL, NULL, &error));
      g_test_message ("%zu: %s", i, error->message);
      g_assert_true (g_error_matches (error, IMG_ERROR, IMG_ERROR_TOO_LARGE) ||
                     g_error_matches (error, IMG_ERROR, IMG_ERROR_DAMAGED));
      g_bytes_unref (lying[i]);
    }
  g_assert_cmpint (getrusage (RUSAGE_CHILDREN, &usage), ==, 0);
  g_assert_cmpint (usage.ru_maxrss, <, 400 * 1024);
  fixture_done (dir);
}

static void
assert_path_unreadable (const char *path)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (img_decode (path, NULL, NULL, &error));
  g_assert_error (error, IMG_ERROR, IMG_ERROR_UNREADABLE);
}

static void
test_not_a_file (void)
{
  char *dir = fixture_dir ();
  g_autofree char *pipe = g_build_filename (dir, "pipe.jpg", NULL);
  g_autofree char *gone = g_build_filename (dir, "gone.jpg", NULL);
  g_autofree char *dangling = g_build_filename (dir, "dangling.jpg", NULL);
  g_autoptr (GFile) elsewhere = g_file_new_for_uri ("sftp://example.org/a.jpg");
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (mkfifo (pipe, 0600), ==, 0);
  g_assert_cmpint (symlink (gone, dangling), ==, 0);
  assert_path_unreadable (pipe);
  assert_path_unreadable (gone);
  assert_path_unreadable (dangling);
  assert_path_unreadable (dir);
  assert_path_unreadable ("/dev/zero");
  g_assert_null (img_decode_file (elsewhere, NULL, NULL, &error));
  g_assert_error (error, IMG_ERROR, IMG_ERROR_UNREADABLE);
  fixture_done (dir);
}

/* In the child: 0 when the file is refused as unreadable. */
static int
try_as_nobody (const char *path)
{
  g_autoptr (GError) error = NULL;

  if (geteuid () == 0 && (setgroups (0, NULL) != 0 || setgid (65534) != 0 || setuid (65534) != 0))
    return 2;
  if (img_decode (path, NULL, NULL, &error) != NULL)
    return 3;
  return g_error_matches (error, IMG_ERROR, IMG_ERROR_UNREADABLE) ? 0 : 4;
}

static void
test_unreadable (void)
{
  char *dir = fixture_dir ();
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (64, 48);
  g_autoptr (GBytes) bytes = fixture_jpeg (pixbuf, NULL);
  g_autofree char *path = fixture_write (dir, "locked.jpg", bytes);
  int status;
  pid_t child;

  g_assert_cmpint (g_chmod (dir, 0755), ==, 0);
  g_assert_cmpint (g_chmod (path, 0000), ==, 0);
  child = fork ();
  g_assert_cmpint (child, >=, 0);
  if (child == 0)
    _exit (try_as_nobody (path));
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_true (WIFEXITED (status));
  g_assert_cmpint (WEXITSTATUS (status), ==, 0);
  fixture_done (dir);
}

/* Bent bytes anywhere: a picture or an error, and the next good picture still opens. */
static void
assert_survives_bending (GBytes *good, GRand *rand, int times)
{
  char *dir = fixture_dir ();
  gsize size;
  const guint8 *data = g_bytes_get_data (good, &size);
  g_autofree char *last = NULL;
  g_autoptr (ImgPicture) whole = NULL;
  g_autoptr (GError) error = NULL;

  for (int i = 0; i < times; i++)
    {
      guint8 *bent = g_memdup2 (data, size);
      g_autoptr (GBytes) bytes = g_bytes_new_take (bent, size);
      g_autofree char *path = NULL;
      g_autoptr (ImgPicture) picture = NULL;
      g_autoptr (GError) why = NULL;

      for (int k = 0; k < 4; k++)
        bent[g_rand_int_range (rand, 0, (gint32) MIN (size, 2000))] =
          (guint8) g_rand_int_range (rand, 0, 256);
      path = fixture_write (dir, "bent", bytes);
      picture = img_decode (path, NULL, NULL, &why);
      g_assert_true ((picture == NULL) == (why != NULL));
      if (why != NULL)
        g_assert_true (why->domain == IMG_ERROR);
#ifdef __SANITIZE_ADDRESS__
      /* Here a death is a finding in this program's own code, which alone is instrumented. */
      g_assert_false (g_error_matches (why, IMG_ERROR, IMG_ERROR_HELPER_DIED));
#endif
    }
  last = fixture_write (dir, "good", good);
  whole = img_decode (last, NULL, NULL, &error);
  g_assert_no_error (error);
  fixture_done (dir);
}

static void
test_bent (void)
{
  FixtureExif exif = { .orientation = 6, .taken = "2026:05:17 21:04:33", .offset = "+02:00" };
  g_autoptr (GRand) rand = g_rand_new_with_seed (20260517);
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (96, 64);
  g_autoptr (GBytes) jpeg = fixture_jpeg (pixbuf, &exif);
  g_autoptr (GBytes) png = fixture_png (pixbuf, &exif, FALSE);
  g_autoptr (GBytes) tiff = fixture_tiff (pixbuf, 6);
  g_autoptr (GBytes) webp = fixture_has_loader ("webp") ? fixture_webp (pixbuf, &exif) : NULL;
  char *dir = fixture_dir ();
  g_autoptr (GBytes) heic = fixture_has_loader ("heif/avif") ? fixture_heic (dir, jpeg) : NULL;

  assert_survives_bending (jpeg, rand, 25);
  assert_survives_bending (png, rand, 25);
  assert_survives_bending (tiff, rand, 25);
  if (webp != NULL)
    assert_survives_bending (webp, rand, 25);
  if (heic != NULL)
    assert_survives_bending (heic, rand, 25);
  fixture_done (dir);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (files); i++)
    {
      g_autofree char *path = g_strdup_printf ("/imaging/bad/%s", files[i].name);

      g_test_add_data_func (path, &files[i], test_file);
    }
  g_test_add_func ("/imaging/bad/truncated", test_truncated);
  g_test_add_func ("/imaging/bad/appended", test_appended);
  g_test_add_func ("/imaging/bad/huge", test_huge);
  g_test_add_func ("/imaging/bad/huge-others", test_huge_others);
  g_test_add_func ("/imaging/bad/not-a-file", test_not_a_file);
  g_test_add_func ("/imaging/bad/unreadable", test_unreadable);
  g_test_add_func ("/imaging/bad/bent", test_bent);
  return g_test_run ();
}
