/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-find.c — the finder against the full decode of the same JPEG, and what it takes of memory.
 *
 * Asserts nothing about time: machines differ. What is aimed at: at most .3 of the decode at 12 and
 * .1 at 48 megapixels. Times are of the processor, the decoder's process included, as a clock on
 * the wall says more of what else runs.
 *
 *   bench-find [RUNS]
 */
#include "bench-goal.h"

#include "demo/demo-draw.h"
#include "demo/demo-jpeg.h"
#include "imaging/img-decode.h"
#include "imaging/img-find.h"

#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>

static const struct
{
  int width, height;
  double aim;
} sizes[] = { { 4000, 3000, .3 }, { 8000, 6000, .1 } };

static int
compare (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* Processor time of this process and of those that it waited for, ms. */
static double
spent (void)
{
  double ms = 0;

  for (int who = RUSAGE_CHILDREN; who <= RUSAGE_SELF; who++)
    {
      struct rusage r;

      getrusage (who, &r);
      ms += (double) (r.ru_utime.tv_sec + r.ru_stime.tv_sec) * 1e3 +
            (double) (r.ru_utime.tv_usec + r.ru_stime.tv_usec) / 1e3;
    }
  return ms;
}

static double
median (double *ms, int n)
{
  qsort (ms, (gsize) n, sizeof *ms, compare);
  return ms[n / 2];
}

/* kB of memory of this process that no file holds. */
static long
anonymous (void)
{
  g_autofree char *status = NULL;
  const char *at;

  if (!g_file_get_contents ("/proc/self/status", &status, NULL, NULL))
    return 0;
  at = strstr (status, "RssAnon:");
  return at != NULL ? strtol (at + 8, NULL, 10) : 0;
}

static ImgPicture *
decoded (const char *path)
{
  g_autoptr (GError) error = NULL;
  ImgPicture *picture = img_decode (path, NULL, NULL, &error);

  if (picture == NULL)
    g_error ("%s", error->message);
  return picture;
}

static gboolean
note_peak (gpointer data)
{
  long *most = data;

  *most = MAX (*most, anonymous ());
  return FALSE;
}

static void
bench (const char *path, const double axis[6], int width, int height, double aim, int runs)
{
  g_autofree double *decode = g_new (double, runs), *find = g_new (double, runs);
  g_autoptr (ImgPicture) picture = decoded (path);
  g_autofree ImgFindResult *found = g_new (ImgFindResult, 1);
  long before = anonymous (), most = before;
  ImgFindOptions watched = { .should_stop = note_peak, .stop_data = &most };
  struct rusage child;

  for (int i = 0; i < runs; i++)
    {
      double start = spent ();
      g_autoptr (ImgPicture) again = decoded (path);

      decode[i] = spent () - start;
      start = spent ();
      img_find_segments (again->pixels, axis, 3, NULL, found, NULL);
      find[i] = spent () - start;
    }
  img_find_segments (picture->pixels, axis, 3, &watched, found, NULL);
  getrusage (RUSAGE_CHILDREN, &child);
  g_print ("%d x %d, axis %.0f px, %d plates found: decode %.1f ms, find %.1f ms, ratio %.3f (aim: "
           "at most %.1f)\n",
           width, height, found->length_px, found->segments.best, median (decode, runs),
           median (find, runs), median (find, runs) / median (decode, runs), aim);
  g_print ("  memory: the pixels %.1f MB in the decoder's file, the decoder at most %.1f MB so "
           "far, the finder "
           "%.1f MB of its own\n",
           (double) width * height * 3 / 1e6, (double) child.ru_maxrss * 1024 / 1e6,
           (double) (most - before) * 1024 / 1e6);
  g_autofree char *name =
    g_strdup_printf ("find ÷ decode at %.0f megapixels", (double) width * height / 1e6);

  bench_goal (name, median (find, runs) / median (decode, runs), aim);
}

int
main (int argc, char **argv)
{
  int runs = argc > 1 ? CLAMP (atoi (argv[1]), 1, 100) : 5;

  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      DemoDrawOptions options = { .width = sizes[i].width,
                                  .height = sizes[i].height,
                                  .seed = 7,
                                  .level = 2,
                                  .count = 8,
                                  .subject = DEMO_SUBJECT_UNDERSIDE };
      g_autofree char *path = g_build_filename (g_get_tmp_dir (), "mantidary-find-XXXXXX", NULL);
      g_autoptr (DemoDrawing) drawing = demo_draw (&options);
      const DemoTruth *t = &drawing->truth;
      const double axis[6] = { t->base.x, t->base.y, t->mid.x, t->mid.y, t->tip.x, t->tip.y };
      g_autoptr (GError) error = NULL;
      int fd = g_mkstemp (path);

      if (fd < 0 || !g_close (fd, NULL) ||
          !demo_jpeg_write (path, drawing->rgb, drawing->width, drawing->height, 92, 1,
                            "2026-05-20 18:30:00", &error))
        g_error ("cannot write the test picture: %s", error != NULL ? error->message : path);
      bench (path, axis, options.width, options.height, sizes[i].aim, runs);
      g_unlink (path);
    }
  return bench_goals_end ();
}
