/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-calendar.c — what it takes until the next 90 days of a collection stand in the calendar.
 *
 *   bench-calendar [ANIMALS]
 *
 * A synthetic collection of about so many living animals (300) is opened and its outlooks are
 * there, as in a window that shows the shelves. Then, each the best of several: the agenda of the
 * first four weeks, the weeks made of it, those in sight drawn into render nodes, and the rows of
 * the list that are made at once, which is what one frame takes; then the agenda of all 90 days,
 * which the page makes in slices behind it. Printed beside a frame of a sixtieth of a second, and
 * beside the time of ANIMALS × 180 calls of exp() in the same run, which says how fast the machine
 * is just now. Prints figures, asserts none. Without a display drawing is left out. */
#include "bench-goal.h"

#include <glib/gstdio.h>
#include <gtk/gtk.h>
#include <math.h>
#include <stdlib.h>
#include <time.h>

#include "app/app-calendar-list.h"
#include "app/app-view.h"
#include "app/app-weeks.h"
#include "core/core-date.h"
#include "demo/demo.h"

#define ROUNDS 15
#define FRAME_MS (1000.0 / 60)
#define AHEAD 89
#define FIRST 27   /* days that the page shows at once */
#define LIVING .59 /* of a synthetic collection on its last day, about */

static void
fail (const GError *error)
{
  g_printerr ("bench-calendar: %s\n", error != NULL ? error->message : "failed");
  exit (1);
}

/* Of the processor: what a machine that does other work disturbs least. */
static double
now_ms (void)
{
  struct timespec cpu;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &cpu);
  return (double) cpu.tv_sec * 1000 + (double) cpu.tv_nsec / 1e6;
}

static double
exp_ms (guint animals)
{
  double began = now_ms ();
  volatile double sum = 0;

  for (guint i = 0; i < animals * 180; i++)
    sum += exp (-(double) (i % 977) / 977);
  return now_ms () - began;
}

static void
remove_tree (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *child = g_build_filename (path, name, NULL);

      if (g_file_test (child, G_FILE_TEST_IS_DIR))
        remove_tree (child);
      else
        (void) g_remove (child);
    }
  (void) g_rmdir (path);
}

/* The weeks in a window of the usual size, drawn as often as asked; the best. NAN without a
 * display. */
static double
drawn_ms (Desk *desk, const DeskAgenda *agenda, const DeskFilter *filter)
{
  WordsView view = app_view (desk);
  GtkWidget *window, *scroller, *weeks;
  double best = INFINITY;

  if (!gtk_init_check ())
    return NAN;
  window = gtk_window_new ();
  scroller = gtk_scrolled_window_new ();
  weeks = g_object_new (APP_TYPE_WEEKS, NULL);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), weeks);
  gtk_window_set_child (GTK_WINDOW (window), scroller);
  gtk_window_set_default_size (GTK_WINDOW (window), 880, 600);
  app_weeks_set (
    APP_WEEKS (weeks),
    desk_weeks_new (desk, agenda, (CoreId){ { 0 } }, filter, desk_today (desk) + AHEAD), &view);
  gtk_window_present (GTK_WINDOW (window));
  gtk_test_widget_wait_for_draw (window);
  for (int i = 0; i < ROUNDS; i++)
    {
      GtkSnapshot *snapshot = gtk_snapshot_new ();
      double began = now_ms ();
      GskRenderNode *node;

      GTK_WIDGET_GET_CLASS (weeks)->snapshot (weeks, snapshot);
      node = gtk_snapshot_free_to_node (snapshot);
      best = MIN (best, now_ms () - began);
      g_clear_pointer (&node, gsk_render_node_unref);
    }
  gtk_window_destroy (GTK_WINDOW (window));
  return best;
}

/* The list of today as far as it is made at once; the best. NAN without a display. */
static double
listed_ms (Desk *desk, DeskAgenda *agenda, const DeskFilter *filter)
{
  CoreDay today = desk_today (desk);
  DeskWeeks *weeks = desk_weeks_new (desk, agenda, (CoreId){ { 0 } }, filter, today + AHEAD);
  GtkWidget *list;
  double best = INFINITY;

  if (!gtk_init_check ())
    {
      desk_weeks_free (weeks);
      return NAN;
    }
  list = g_object_ref_sink (g_object_new (APP_TYPE_CALENDAR_LIST, NULL));
  for (int i = 0; i < ROUNDS; i++)
    {
      double began = now_ms ();

      app_calendar_list_set (APP_CALENDAR_LIST (list), desk, agenda, filter, weeks, today, today);
      best = MIN (best, now_ms () - began);
    }
  g_object_unref (list);
  desk_weeks_free (weeks);
  return best;
}

static void
measure (Desk *desk)
{
  DeskFilter filter = { NULL, -1, FALSE };
  CoreId everywhere = { { 0 } };
  g_autoptr (GPtrArray) animals = desk_animals (desk);
  g_autoptr (DeskAgenda) agenda =
    desk_agenda (desk, desk_today (desk), desk_today (desk) + AHEAD, everywhere);
  g_autoptr (DeskAgenda) first =
    desk_agenda (desk, desk_today (desk), desk_today (desk) + FIRST, everywhere);
  double planned = INFINITY, laid = INFINITY, whole = INFINITY, beside = INFINITY, drawn, listed,
         all;
  guint bands = 0;

  for (int i = 0; i < ROUNDS; i++)
    {
      double began = now_ms (), between;
      DeskAgenda *again =
        desk_agenda (desk, desk_today (desk), desk_today (desk) + FIRST, everywhere);
      DeskWeeks *weeks;

      between = now_ms ();
      weeks = desk_weeks_new (desk, again, everywhere, &filter, desk_today (desk) + AHEAD);
      laid = MIN (laid, now_ms () - between);
      planned = MIN (planned, between - began);
      bands = weeks->bands->len;
      desk_weeks_free (weeks);
      desk_agenda_free (again);
      began = now_ms ();
      desk_agenda_free (
        desk_agenda (desk, desk_today (desk), desk_today (desk) + AHEAD, everywhere));
      whole = MIN (whole, now_ms () - began);
      beside = MIN (beside, exp_ms (animals->len));
    }
  drawn = drawn_ms (desk, agenda, &filter);
  listed = listed_ms (desk, first, &filter);
  all = planned + laid + (isnan (drawn) ? 0 : drawn + listed);
  g_print ("%u living animals, 90 days: %u tasks, %u moult ranges\n", animals->len,
           agenda->rows->len, bands);
  g_print ("agenda of all days %.2f ms, in slices\n", whole);
  g_print ("first four weeks: agenda %.2f ms, weeks %.2f ms, drawing %.2f ms, first rows of the "
           "list %.2f ms%s: %.2f ms\n",
           planned, laid, drawn, listed, isnan (drawn) ? " (no display)" : "", all);
  g_print ("ratio to a frame of 1/60 s: %.2f; to %u × 180 calls of exp() (%.2f ms): %.2f\n",
           all / FRAME_MS, animals->len, beside, all / beside);
  bench_goal ("calendar of 90 days ÷ a frame of 1/60 s, by the processor", all / FRAME_MS, 1);
}

int
main (int argc, char **argv)
{
  guint living = argc > 1 ? (guint) strtoul (argv[1], NULL, 10) : 300;
  DemoSynth what = { (guint) (CLAMP (living, 1, 5000) / LIVING), 120, 7 };
  DemoSynthMade made = { 0 };
  CoreDay today = core_day_from_ymd (2026, 6, 14);
  GError *error = NULL;
  g_autofree char *tmp = g_dir_make_tmp ("mantidary-bench-XXXXXX", &error);
  g_autofree char *dir = tmp != NULL ? g_build_filename (tmp, "journal", NULL) : NULL;
  Desk *desk;

  if (tmp == NULL || !demo_synth_make (dir, today, &what, &made, NULL, &error))
    fail (error);
  desk = desk_open (dir, today, DESK_OPEN_LAZY, &error);
  if (desk == NULL)
    fail (error);
  measure (desk);
  g_object_unref (desk);
  remove_tree (tmp);
  return bench_goals_end ();
}
