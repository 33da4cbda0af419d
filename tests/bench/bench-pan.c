/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-pan.c — moving a large picture: the work of each frame, from before-paint to after-paint,
 * and the most memory that the process took. Beside it what a window of that size costs that changes
 * its colour at every frame: that much goes into handing the pixels of any window to the display, and is
 * no work of the picture's; once as GTK does it, and once with the memory for it kept (app-frames.h).
 *
 * Asserts nothing about time: machines differ. Needs a display; without one it says so.
 *
 *   bench-pan [WIDTH HEIGHT [FRAMES]]
 */
#include <adwaita.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "app/app-canvas.h"
#include "app/app-frames.h"
#include "demo/demo-draw.h"
#include "demo/demo-jpeg.h"
#include "imaging/img-decode.h"

#define SKIPPED 77

/* ---- a window of one colour, another at every frame ---- */

#define PLAIN_TYPE_PAGE (plain_page_get_type ())
G_DECLARE_FINAL_TYPE (PlainPage, plain_page, PLAIN, PAGE, GtkWidget)

struct _PlainPage
{
  GtkWidget parent_instance;
  guint n;
};

G_DEFINE_FINAL_TYPE (PlainPage, plain_page, GTK_TYPE_WIDGET)

static void
plain_page_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  GdkRGBA colour = { (float) (PLAIN_PAGE (widget)->n++ % 8) / 8, .5f, .5f, 1 };

  gtk_snapshot_append_color (snapshot, &colour,
                             &GRAPHENE_RECT_INIT (0, 0, (float) gtk_widget_get_width (widget),
                                                  (float) gtk_widget_get_height (widget)));
}

static void
plain_page_class_init (PlainPageClass *klass)
{
  GTK_WIDGET_CLASS (klass)->snapshot = plain_page_snapshot;
}

static void
plain_page_init (PlainPage *self)
{
  gtk_widget_set_hexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (self), TRUE);
}

/* ---- frames ---- */

typedef struct
{
  GtkWindow *window;
  AppCanvas *canvas;
  GtkStack *stack; /* the canvas, and the window of one colour */
  GArray *work; /* double, ms by the clock */
  GArray *cpu;  /* double, ms of the main thread's processor time: what a busy machine leaves alone */
  gint64 begun;
  double cpu_begun;
  int left;
  double step;
} Bench;

static double
memory_mib (const char *key)
{
  g_autofree char *text = NULL;
  const char *at;

  if (!g_file_get_contents ("/proc/self/status", &text, NULL, NULL) || (at = strstr (text, key)) == NULL)
    return 0;
  return g_ascii_strtod (at + strlen (key), NULL) / 1024;
}

static int
compare (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

static double
quantile (GArray *sorted, double p)
{
  return g_array_index (sorted, double, (guint) (p * (sorted->len - 1) + .5));
}

static double
cpu_ms (void)
{
  struct timespec now;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &now);
  return (double) now.tv_sec * 1000 + (double) now.tv_nsec / 1e6;
}

static void
before_cb (GdkFrameClock *clock, Bench *bench)
{
  bench->begun = g_get_monotonic_time ();
  bench->cpu_begun = cpu_ms ();
}

static void
after_cb (GdkFrameClock *clock, Bench *bench)
{
  double ms = (double) (g_get_monotonic_time () - bench->begun) / 1000, cpu = cpu_ms () - bench->cpu_begun;

  if (bench->left <= 0)
    return;
  g_array_append_val (bench->work, ms);
  g_array_append_val (bench->cpu, cpu);
}

static gboolean
tick_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  Bench *bench = data;

  if (bench->left <= 0)
    return G_SOURCE_REMOVE;
  if (--bench->left % 60 == 0) /* to and fro */
    bench->step = -bench->step;
  if (APP_IS_CANVAS (widget))
    app_canvas_pan (bench->canvas, bench->step, bench->step / 2);
  gtk_widget_queue_draw (widget); /* also where there is no picture yet */
  return G_SOURCE_CONTINUE;
}

static void
wait_sharp (Bench *bench)
{
  gint64 until = g_get_monotonic_time () + 60 * G_USEC_PER_SEC;

  do
    g_main_context_iteration (NULL, FALSE);
  while (!app_canvas_sharp (bench->canvas) && g_get_monotonic_time () < until);
}

static void
run (Bench *bench, GtkWidget *widget, const char *name, int frames)
{
  g_array_set_size (bench->work, 0);
  g_array_set_size (bench->cpu, 0);
  bench->left = frames;
  bench->step = -37;
  gtk_widget_add_tick_callback (widget, tick_cb, bench, NULL);
  while (bench->left > 0)
    g_main_context_iteration (NULL, TRUE);
  g_array_sort (bench->work, compare);
  g_array_sort (bench->cpu, compare);
  g_print ("%-10s work of a frame: median %5.1f, p95 %5.1f, max %5.1f ms; processor %5.1f, %5.1f, %5.1f ms (%u frames); "
           "pieces %.0f MiB\n",
           name, quantile (bench->work, .5), quantile (bench->work, .95), quantile (bench->work, 1),
           quantile (bench->cpu, .5), quantile (bench->cpu, .95), quantile (bench->cpu, 1), bench->work->len,
           (double) app_canvas_tile_bytes (bench->canvas) / (1 << 20));
}

/* A window of one colour in the place of the canvas. */
static void
plain (Bench *bench, const char *name, int frames)
{
  gtk_stack_set_visible_child_name (bench->stack, "plain");
  run (bench, gtk_stack_get_visible_child (bench->stack), name, frames);
  gtk_stack_set_visible_child_name (bench->stack, "canvas");
}

/* zoom 0: as it fits; below 0: there is no picture yet. */
static void
pan (Bench *bench, const char *name, double zoom, int frames)
{
  double x = gtk_widget_get_width (GTK_WIDGET (bench->canvas)) / 2.0;
  double y = gtk_widget_get_height (GTK_WIDGET (bench->canvas)) / 2.0;

  app_canvas_fit (bench->canvas);
  if (zoom > 0)
    app_canvas_zoom_at (bench->canvas, zoom / app_canvas_zoom (bench->canvas), x, y);
  if (zoom >= 0)
    wait_sharp (bench);
  run (bench, GTK_WIDGET (bench->canvas), name, frames);
}

/* A drawn picture of that size as a camera's file. */
static char *
write_picture (int width, int height)
{
  DemoDrawOptions options = { .seed = 4, .width = width, .height = height, .level = 2 };
  g_autoptr (DemoDrawing) drawing = demo_draw (&options);
  g_autoptr (GError) error = NULL;
  char *path = g_build_filename (g_get_tmp_dir (), "mantidary-pan.jpg", NULL);

  if (!demo_jpeg_write (path, drawing->rgb, width, height, 88, 1, NULL, &error))
    {
      g_printerr ("%s\n", error->message);
      exit (1);
    }
  return path;
}

static ImgPicture *
read_picture (const char *path, int side, double *ms)
{
  g_autoptr (GError) error = NULL;
  ImgDecodeOptions options = { .max_side = side };
  gint64 begun = g_get_monotonic_time ();
  ImgPicture *picture = img_decode (path, &options, NULL, &error);

  if (picture == NULL)
    {
      g_printerr ("%s\n", error->message);
      exit (1);
    }
  *ms = (double) (g_get_monotonic_time () - begun) / 1000;
  return picture;
}

static void
show (Bench *bench)
{
  GdkFrameClock *clock;

  bench->window = GTK_WINDOW (gtk_window_new ());
  bench->canvas = APP_CANVAS (app_canvas_new ());
  gtk_window_set_default_size (bench->window, 1366, 768);
  bench->stack = GTK_STACK (gtk_stack_new ());
  gtk_stack_add_named (bench->stack, GTK_WIDGET (bench->canvas), "canvas");
  gtk_stack_add_named (bench->stack, g_object_new (PLAIN_TYPE_PAGE, NULL), "plain");
  gtk_window_set_child (bench->window, GTK_WIDGET (bench->stack));
  gtk_window_present (bench->window);
  while (gtk_widget_get_width (GTK_WIDGET (bench->canvas)) == 0)
    g_main_context_iteration (NULL, TRUE);
  clock = gtk_widget_get_frame_clock (GTK_WIDGET (bench->canvas));
  g_signal_connect (clock, "before-paint", G_CALLBACK (before_cb), bench);
  g_signal_connect (clock, "after-paint", G_CALLBACK (after_cb), bench);
}

/* Drawn in another process: its memory is not the viewer's. */
static int
draw_apart (char **argv, int width, int height)
{
  g_autofree char *w = g_strdup_printf ("%d", width), *h = g_strdup_printf ("%d", height);
  char *child[] = { argv[0], (char *) "--draw", w, h, NULL };
  int status = 1;

  if (!g_spawn_sync (NULL, child, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, NULL, &status, NULL))
    return 1;
  return status;
}

int
main (int argc, char **argv)
{
  Bench bench = { .work = g_array_new (FALSE, FALSE, sizeof (double)),
                  .cpu = g_array_new (FALSE, FALSE, sizeof (double)) };
  gboolean drawing = argc == 4 && g_str_equal (argv[1], "--draw");
  int width = argc > 2 ? atoi (argv[drawing ? 2 : 1]) : 8000, height = argc > 2 ? atoi (argv[drawing ? 3 : 2]) : 6000;
  int frames = argc > 3 && !drawing ? atoi (argv[3]) : 240;
  g_autofree char *path = NULL;
  g_autoptr (ImgPicture) small = NULL, whole = NULL;
  double first_ms, whole_ms;

  if (width < 64 || height < 64 || width > 20000 || height > 20000 || frames < 1)
    return 2;
  if (drawing)
    {
      path = write_picture (width, height);
      return 0;
    }
  if (!gtk_init_check ())
    {
      g_print ("no display: nothing measured\n");
      return SKIPPED;
    }
  if (draw_apart (argv, width, height) != 0)
    return 1;
  path = g_build_filename (g_get_tmp_dir (), "mantidary-pan.jpg", NULL);
  adw_init ();
  show (&bench);
  g_print ("before: %.0f MiB\n", memory_mib ("VmRSS:"));
  pan (&bench, "no picture", -1, frames);
  plain (&bench, "as GTK is", frames);
  app_frames_keep (GTK_WIDGET (bench.window));
  plain (&bench, "one colour", frames);
  small = read_picture (path, 1280, &first_ms);
  app_canvas_set_preview (bench.canvas, small->pixels, small->original_width, small->original_height);
  whole = read_picture (path, 0, &whole_ms);
  app_canvas_set_pixels (bench.canvas, whole->pixels);
  g_clear_pointer (&whole, img_picture_free);
  wait_sharp (&bench);
  g_print ("%d × %d: small copy after %.0f ms, all pixels after %.0f ms more\n", width, height, first_ms, whole_ms);
  pan (&bench, "whole", 0, frames);
  pan (&bench, "one half", .5, frames);
  pan (&bench, "0.7", .7, frames);
  pan (&bench, "1 to 1", 1, frames);
  pan (&bench, "4 to 1", 4, frames);
  g_print ("most memory: %.0f MiB\n", memory_mib ("VmHWM:"));
  gtk_window_destroy (bench.window);
  remove (path);
  g_array_unref (bench.work);
  g_array_unref (bench.cpu);
  return 0;
}
