/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-decode-helper.c — a decoder that dies, hangs or lies, and the bounds
 * that the real one sets itself. */
#include "fixture.h"
#include "imaging/decode/decode-wire.h"
#include "imaging/img-decode.h"

#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

#if defined(__SANITIZE_ADDRESS__)
#define UNDER_ADDRESS_SANITIZER TRUE
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define UNDER_ADDRESS_SANITIZER TRUE
#endif
#endif
#ifndef UNDER_ADDRESS_SANITIZER
#define UNDER_ADDRESS_SANITIZER FALSE
#endif

/* Any small good picture; for the fake decoder only its existence counts. */
static char *
picture_in (const char *dir)
{
  g_autoptr (GdkPixbuf) pixbuf = fixture_quarters (32, 16);
  g_autoptr (GBytes) bytes = fixture_png (pixbuf, NULL, FALSE);

  return fixture_write (dir, "picture.png", bytes);
}

static ImgPicture *
decode_with (const char *helper,
             const char *mode,
             const ImgDecodeOptions *options,
             GCancellable *cancellable,
             GError **error)
{
  g_autofree char *real = g_strdup (g_getenv ("MANTIDARY_DECODE"));
  char *dir = fixture_dir ();
  g_autofree char *path = picture_in (dir);
  ImgPicture *picture;

  g_setenv ("MANTIDARY_DECODE", helper, TRUE);
  g_setenv ("MANTIDARY_FAKE", mode, TRUE);
  picture = img_decode (path, options, cancellable, error);
  g_setenv ("MANTIDARY_DECODE", real, TRUE);
  fixture_done (dir);
  return picture;
}

static const char *const wrong[] = {
  "killed",         "crashed",       "cpu",
  "exit-1",         "exit-255",      "silent",
  "short",          "long",          "header-only",
  "unsealed",       "may-shrink",    "may-write",
  "magic",          "version",       "format-none",
  "format-unknown", "width-0",       "width-huge",
  "width-more",     "height-0",      "height-huge",
  "height-less",    "full-smaller",  "full-huge",
  "orientation-0",  "orientation-9", "orientation-huge",
};

static void
test_wrong (gconstpointer mode)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (decode_with (FAKE_DECODE, mode, NULL, NULL, &error));
  g_assert_error (error, IMG_ERROR, IMG_ERROR_HELPER_DIED);
  g_assert_cmpuint (strlen (error->message), >, 20);
}

/* The same fake telling the truth is believed, so the refusals above are of the lies. */
static void
test_good (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (ImgPicture) picture = decode_with (FAKE_DECODE, "good", NULL, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpint (picture->pixels->width, ==, 4);
  g_assert_cmpint (img_pixels_row (picture->pixels, 2)[11], ==, 99);
  g_assert_true (picture->has_taken);
  g_assert_cmpint (picture->taken_day, ==, 20590);
}

/* A date that cannot be costs the date, not the picture. */
static void
test_bad_date (gconstpointer mode)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (ImgPicture) picture = decode_with (FAKE_DECODE, mode, NULL, NULL, &error);

  g_assert_no_error (error);
  g_assert_false (picture->has_taken);
}

static void
test_hangs (void)
{
  ImgDecodeOptions options = { .timeout_ms = 150 };
  g_autoptr (GError) error = NULL;
  gint64 start = g_get_monotonic_time ();

  g_assert_null (decode_with (FAKE_DECODE, "hangs", &options, NULL, &error));
  g_assert_error (error, IMG_ERROR, IMG_ERROR_HELPER_DIED);
  g_assert_cmpint (g_get_monotonic_time () - start, >=, 150 * 1000);
}

/* Who says nothing about the time waits twenty seconds, not minutes. */
static void
test_hangs_unasked (void)
{
  g_autoptr (GError) error = NULL;
  gint64 start = g_get_monotonic_time ();
  gint64 took;

  if (!g_test_slow ())
    {
      g_test_skip ("slow");
      return;
    }
  g_assert_null (decode_with (FAKE_DECODE, "hangs", NULL, NULL, &error));
  g_assert_error (error, IMG_ERROR, IMG_ERROR_HELPER_DIED);
  took = g_get_monotonic_time () - start;
  g_assert_cmpint (took, >=, 20 * G_USEC_PER_SEC);
  g_assert_cmpint (took, <, 60 * G_USEC_PER_SEC);
}

static gpointer
cancel_soon (gpointer cancellable)
{
  g_usleep (100 * 1000);
  g_cancellable_cancel (cancellable);
  return NULL;
}

/* Cancelling ends a decoder that would never end by itself. */
static void
test_cancel (void)
{
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  GThread *thread = g_thread_new ("cancel", cancel_soon, cancellable);

  g_assert_null (decode_with (FAKE_DECODE, "hangs", NULL, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_thread_join (thread);
}

static void
test_missing (void)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (decode_with ("/nonexistent/mantidary-decode", "", NULL, NULL, &error));
  g_assert_error (error, IMG_ERROR, IMG_ERROR_NO_HELPER);
  g_clear_error (&error);
  /* There, but no program. */
  g_assert_null (decode_with ("/dev/null", "", NULL, NULL, &error));
  g_assert_error (error, IMG_ERROR, IMG_ERROR_NO_HELPER);
}

/* Without the loader of a format the error says so; what gdk-pixbuf has built in still opens. */
static void
test_no_loader (void)
{
  g_autofree char *saved = g_strdup (g_getenv ("GDK_PIXBUF_MODULE_FILE"));
  g_autoptr (GBytes) webp = g_bytes_new_static ("RIFF\x0c\0\0\0WEBPVP8 \0\0\0\0", 20);
  g_autoptr (GBytes) heic = g_bytes_new_static ("\0\0\0\x18"
                                                "ftypheic\0\0\0\0mif1heic",
                                                24);
  g_autoptr (GBytes) none = g_bytes_new_static ("", 0);
  char *dir = fixture_dir ();
  g_autofree char *modules = fixture_write (dir, "loaders.cache", none);
  g_autofree char *a = fixture_write (dir, "a.webp", webp),
                  *b = fixture_write (dir, "b.heic", heic);
  g_autofree char *c = picture_in (dir);
  g_autoptr (ImgPicture) good = NULL;
  g_autoptr (GError) error = NULL;

  g_setenv ("GDK_PIXBUF_MODULE_FILE", modules, TRUE);
  g_assert_null (img_decode (a, NULL, NULL, &error));
  g_assert_error (error, IMG_ERROR, IMG_ERROR_UNSUPPORTED);
  g_assert_nonnull (strstr (error->message, "webp-pixbuf-loader"));
  g_clear_error (&error);
  g_assert_null (img_decode (b, NULL, NULL, &error));
  g_assert_error (error, IMG_ERROR, IMG_ERROR_UNSUPPORTED);
  g_assert_nonnull (strstr (error->message, "heif-gdk-pixbuf"));
  g_clear_error (&error);
  good = img_decode (c, NULL, NULL, &error);
  g_assert_no_error (error);
  if (saved != NULL)
    g_setenv ("GDK_PIXBUF_MODULE_FILE", saved, TRUE);
  else
    g_unsetenv ("GDK_PIXBUF_MODULE_FILE");
  fixture_done (dir);
}

/* Twenty failures leave no descriptor behind. */
static void
test_no_leaked_descriptors (void)
{
  int before = dup (0), after;

  g_assert_cmpint (before, >=, 0);
  close (before);
  for (int i = 0; i < 20; i++)
    g_assert_null (decode_with (FAKE_DECODE, i % 2 ? "killed" : "unsealed", NULL, NULL, NULL));
  after = dup (0);
  close (after);
  g_assert_cmpint (after, ==, before);
}

static char *
limits_line (const char *option)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GSubprocess) process =
    g_subprocess_new (G_SUBPROCESS_FLAGS_STDOUT_PIPE, &error, g_getenv ("MANTIDARY_DECODE"),
                      "--print-limits", option, NULL);
  char *text = NULL;

  g_assert_no_error (error);
  g_subprocess_communicate_utf8 (process, NULL, NULL, &text, NULL, &error);
  g_assert_no_error (error);
  return text;
}

/* What the process finds when it tries, after closing its doors. */
static void
test_doors (void)
{
  g_autofree char *usual = limits_line ("--max-side=0");
  g_autofree char *lower = limits_line ("--cpu-seconds=7");
  g_autofree char *higher = limits_line ("--cpu-seconds=100000");

  g_assert_nonnull (strstr (usual, "cpu=60 "));
  g_assert_nonnull (strstr (usual, "network=no "));
  g_assert_nonnull (strstr (usual, "privileges=fixed"));
  g_assert_nonnull (strstr (lower, "cpu=7 "));
  g_assert_nonnull (strstr (higher, "cpu=60 "));
}

/* 40 megapixels want 120 million bytes: under a bound of 120 MiB for everything the decoder gives
 * up and the caller hears it; a small picture passes under the same bound, the large one under the
 * usual. */
static void
test_memory_bound (void)
{
  ImgDecodeOptions tight = { .memory_mb = 120 };
  g_autofree char *line = NULL;
  g_autoptr (GdkPixbuf) large = NULL, small = fixture_quarters (64, 48);
  g_autoptr (GBytes) large_png = NULL, small_png = fixture_png (small, NULL, FALSE);
  g_autoptr (ImgPicture) fits = NULL, free_of_it = NULL;
  g_autofree char *large_path = NULL, *small_path = NULL;
  g_autoptr (GError) error = NULL;
  char *dir;

  if (UNDER_ADDRESS_SANITIZER)
    {
      g_test_skip ("a sanitizer's shadow memory leaves no room for a bound on address space");
      return;
    }
  line = limits_line ("--memory-mb=120");
  g_assert_true (g_str_has_prefix (line, "address-space=125829120 "));
  dir = fixture_dir ();
  large = fixture_quarters (8000, 5000);
  large_png = fixture_png (large, NULL, FALSE);
  large_path = fixture_write (dir, "large.png", large_png);
  small_path = fixture_write (dir, "small.png", small_png);

  g_assert_null (img_decode (large_path, &tight, NULL, &error));
  g_assert_error (error, IMG_ERROR, IMG_ERROR_TOO_LARGE);
  g_clear_error (&error);
  fits = img_decode (small_path, &tight, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (fits->pixels->width, ==, 64);
  free_of_it = img_decode (large_path, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (free_of_it->pixels->width, ==, 8000);
  fixture_done (dir);
}

/* The real decoder's answer: all four seals, and exactly as long as header and pixels. */
static void
test_sealed (void)
{
  char *dir = fixture_dir ();
  g_autofree char *path = picture_in (dir);
  g_autoptr (GSubprocessLauncher) launcher = g_subprocess_launcher_new (0);
  g_autoptr (GSubprocess) process = NULL;
  g_autoptr (GError) error = NULL;
  const char *argv[] = { g_getenv ("MANTIDARY_DECODE"), NULL };
  int memory = memfd_create ("test", MFD_CLOEXEC | MFD_ALLOW_SEALING);
  DecodeHeader header;

  g_assert_cmpint (memory, >=, 0);
  g_subprocess_launcher_take_fd (launcher, img_decode_open (path, &error), DECODE_FD_IN);
  g_subprocess_launcher_take_fd (launcher, fcntl (memory, F_DUPFD_CLOEXEC, 10), DECODE_FD_OUT);
  process = g_subprocess_launcher_spawnv (launcher, argv, &error);
  g_assert_no_error (error);
  g_subprocess_wait_check (process, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (fcntl (memory, F_GET_SEALS), ==,
                   F_SEAL_SHRINK | F_SEAL_GROW | F_SEAL_WRITE | F_SEAL_SEAL);
  g_assert_cmpint (lseek (memory, 0, SEEK_END), ==, 4096 + 32 * 16 * 3);
  g_assert_cmpint (pread (memory, &header, sizeof header, 0), ==, (int) sizeof header);
  g_assert_cmpuint (header.version, ==, 1);
  g_assert_cmpuint (header.width, ==, 32);
  g_assert_cmpint (pwrite (memory, "x", 1, 5000), ==, -1);
  g_assert_cmpint (ftruncate (memory, 10), ==, -1);
  close (memory);
  fixture_done (dir);
}

int
main (int argc, char **argv)
{
  static const char *const bad_dates[] = { "date-month-13", "date-year-huge", "date-negative" };

  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autofree char *path = g_strdup_printf ("/imaging/helper/wrong/%s", wrong[i]);

      g_test_add_data_func (path, wrong[i], test_wrong);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (bad_dates); i++)
    {
      g_autofree char *path = g_strdup_printf ("/imaging/helper/%s", bad_dates[i]);

      g_test_add_data_func (path, bad_dates[i], test_bad_date);
    }
  g_test_add_func ("/imaging/helper/good", test_good);
  g_test_add_func ("/imaging/helper/hangs", test_hangs);
  g_test_add_func ("/imaging/helper/hangs-unasked", test_hangs_unasked);
  g_test_add_func ("/imaging/helper/cancel", test_cancel);
  g_test_add_func ("/imaging/helper/missing", test_missing);
  g_test_add_func ("/imaging/helper/no-loader", test_no_loader);
  g_test_add_func ("/imaging/helper/no-leaked-descriptors", test_no_leaked_descriptors);
  g_test_add_func ("/imaging/helper/doors", test_doors);
  g_test_add_func ("/imaging/helper/memory-bound", test_memory_bound);
  g_test_add_func ("/imaging/helper/sealed", test_sealed);
  return g_test_run ();
}
