/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-decode.c — how long a 12-megapixel JPEG takes from file to pixels.
 *
 * Asserts nothing about time: machines differ. It prints the yardstick that
 * the segment finder's share is read against.
 *
 *   bench-decode [RUNS]
 */
#include "imaging/img-decode.h"
#include "imaging/img-scale.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <glib/gstdio.h>
#include <stdlib.h>

#define WIDTH 4000
#define HEIGHT 3000

/* Smooth shading with grain on every pixel, so that the file is as large as a camera's. */
static GdkPixbuf *
grainy (void)
{
  GdkPixbuf *pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, WIDTH, HEIGHT);
  guint8 *pixels = gdk_pixbuf_get_pixels (pixbuf);
  int stride = gdk_pixbuf_get_rowstride (pixbuf);
  guint32 state = 20260517;

  for (int y = 0; y < HEIGHT; y++)
    for (int x = 0; x < WIDTH; x++)
      {
        int grain;

        state = state * 1664525u + 1013904223u;
        grain = (int) (state >> 28) - 8;
        for (int c = 0; c < 3; c++)
          pixels[y * stride + x * 3 + c] =
            (guint8) (90 + grain + (x * (c + 1) / 60 + y * (3 - c) / 50) % 140);
      }
  return pixbuf;
}

static int
compare (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* The median of `runs`, in ms. */
static double
time_of (const char *path, int max_side, int runs)
{
  g_autofree double *ms = g_new (double, runs);
  ImgDecodeOptions options = { .max_side = max_side };

  for (int i = 0; i < runs; i++)
    {
      gint64 start = g_get_monotonic_time ();
      g_autoptr (GError) error = NULL;
      g_autoptr (ImgPicture) picture = img_decode (path, &options, NULL, &error);

      if (picture == NULL)
        {
          g_printerr ("%s\n", error->message);
          exit (1);
        }
      ms[i] = (double) (g_get_monotonic_time () - start) / 1000;
    }
  qsort (ms, (gsize) runs, sizeof *ms, compare);
  return ms[runs / 2];
}

int
main (int argc, char **argv)
{
  static const int sides[] = { 0, 2000, 1024, 320 };
  int runs = argc > 1 ? CLAMP (atoi (argv[1]), 1, 100) : 5;
  g_autofree char *path = g_build_filename (g_get_tmp_dir (), "mantidary-bench-XXXXXX", NULL);
  g_autoptr (GdkPixbuf) pixbuf = grainy ();
  g_autoptr (GError) error = NULL;
  g_autofree char *jpeg = NULL;
  gsize size;
  int fd = g_mkstemp (path);

  if (fd < 0 || !g_close (fd, NULL) ||
      !gdk_pixbuf_save_to_buffer (pixbuf, &jpeg, &size, "jpeg", &error, "quality", "92", NULL) ||
      !g_file_set_contents (path, jpeg, (gssize) size, &error))
    {
      g_printerr ("cannot write the test picture: %s\n", error != NULL ? error->message : path);
      return 1;
    }
  g_print ("%d x %d JPEG, %.1f MB, median of %d\n", WIDTH, HEIGHT, (double) size / 1e6, runs);
  for (gsize i = 0; i < G_N_ELEMENTS (sides); i++)
    g_print ("longer side %4d: %7.1f ms\n", sides[i] > 0 ? sides[i] : WIDTH,
             time_of (path, sides[i], runs));
  g_unlink (path);
  return 0;
}
