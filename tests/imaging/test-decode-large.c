/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-decode-large.c — the largest picture that is let in passes under the
 * decoder's own bound on memory; and its bound on processor time ends it. */
#include "fixture.h"
#include "imaging/decode/decode-wire.h"
#include "imaging/img-decode.h"

#include <fcntl.h>
#include <signal.h>
#include <sys/mman.h>

/* 14,142 × 14,142 = 199,996,164 */
#define SIDE 14142

static void
test_largest (void)
{
  char *dir = fixture_dir ();
  g_autoptr (GBytes) bytes = fixture_png_plain (SIDE, SIDE);
  g_autofree char *path = fixture_write (dir, "large.png", bytes);
  g_autoptr (GError) error = NULL;
  g_autoptr (ImgPicture) picture = img_decode (path, NULL, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpint (picture->pixels->width, ==, SIDE);
  g_assert_cmpint (picture->pixels->height, ==, SIDE);
  g_assert_cmpint (img_pixels_row (picture->pixels, SIDE - 1)[SIDE * 3 - 1], ==, 0);
  fixture_done (dir);
}

static void
test_processor_time (void)
{
  char *dir = fixture_dir ();
  g_autoptr (GBytes) bytes = fixture_png_plain (SIDE, SIDE);
  g_autofree char *path = fixture_write (dir, "large.png", bytes);
  g_autoptr (GSubprocessLauncher) launcher = g_subprocess_launcher_new (0);
  g_autoptr (GSubprocess) process = NULL;
  g_autoptr (GError) error = NULL;
  const char *argv[] = { g_getenv ("MANTIDARY_DECODE"), "--cpu-seconds=1", NULL };

  g_subprocess_launcher_take_fd (launcher, img_decode_open (path, &error), DECODE_FD_IN);
  g_subprocess_launcher_take_fd (launcher, memfd_create ("test", MFD_CLOEXEC | MFD_ALLOW_SEALING),
                                 DECODE_FD_OUT);
  process = g_subprocess_launcher_spawnv (launcher, argv, &error);
  g_assert_no_error (error);
  g_subprocess_wait (process, NULL, &error);
  g_assert_no_error (error);
  if (g_subprocess_get_if_exited (process) && g_subprocess_get_exit_status (process) == 0)
    g_test_skip ("this machine unpacks 200 megapixels within one second");
  else
    {
      g_assert_true (g_subprocess_get_if_signaled (process));
      g_assert_cmpint (g_subprocess_get_term_sig (process), ==, SIGXCPU);
    }
  fixture_done (dir);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/imaging/large/largest", test_largest);
  g_test_add_func ("/imaging/large/processor-time", test_processor_time);
  return g_test_run ();
}
