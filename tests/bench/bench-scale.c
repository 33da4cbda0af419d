/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-scale.c — what a large journal costs, as ratios to plain SQLite in the same run.
 *
 *   bench-scale [--animals N] [--days D] [--keep DIR] [PART …]
 *
 * Makes a synthetic journal (DIR is used again when it is there), binds itself to one core,
 * reads the file once so that the page cache is warm, and prints:
 *
 *   a   a round of 300 cups, durable     ÷ the same rows by one prepared transaction
 *   b1  open with the kept snapshot      ÷ one statement that reads every column of every entry
 *   b2  open with the snapshot gone      ÷ the same
 *   c   one subject after one entry      ÷ b2
 *   d   exponent of b2 over 10³ … 10⁶ entries (with --animals below 5000: up to what that gives)
 *   e   peak memory of b2
 *   s   a search as it is typed, per keystroke
 *
 * Opening is measured to the end of the plan of 90 days over everything. Each opening runs in
 * a process of its own. At full size (10000 animals, 400 days) each figure is held against its
 * limit, and a missed one is the exit status: by the processor where the clock is disturbed by
 * whatever else the machine does. */
#define _GNU_SOURCE /* sched_setaffinity */
#include "bench-goal.h"
#include "bench-scale.h"

#include <glib/gstdio.h>
#include <sched.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "core/core-date.h"
#include "demo/demo.h"

static CoreDay
last_day (void)
{
  return core_day_from_ymd (2026, 6, 14);
}

static void
one_core (void)
{
  cpu_set_t set;

  CPU_ZERO (&set);
  CPU_SET (sched_getcpu (), &set);
  if (sched_setaffinity (0, sizeof set, &set) != 0)
    g_printerr ("not bound to one core: figures may be better than on one\n");
}

void
bench_fail (const GError *error)
{
  g_printerr ("bench-scale: %s\n", error != NULL ? error->message : "failed");
  exit (1);
}

BenchTime
bench_now (void)
{
  struct timespec cpu;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &cpu);
  return (BenchTime){ (double) g_get_monotonic_time () / G_USEC_PER_SEC,
                      (double) cpu.tv_sec + (double) cpu.tv_nsec / 1e9 };
}

BenchTime
bench_since (BenchTime began)
{
  BenchTime now = bench_now ();

  return (BenchTime){ now.wall - began.wall, now.cpu - began.cpu };
}

BenchTime
bench_sum (BenchTime a, BenchTime b)
{
  return (BenchTime){ a.wall + b.wall, a.cpu + b.cpu };
}

static guint64
make (const char *dir, guint animals, guint days)
{
  DemoSynth what = { animals, days, 7 };
  DemoSynthMade made = { 0 };
  GError *error = NULL;

  if (!demo_synth_make (dir, last_day (), &what, &made, NULL, &error))
    bench_fail (error);
  g_print ("made %" G_GUINT64_FORMAT " entries of %u animals, %u living, %u shelves\n",
           made.entries, made.animals, made.living, made.shelves);
  return made.entries;
}

void
bench_remove_tree (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *child = g_build_filename (path, name, NULL);

      if (g_file_test (child, G_FILE_TEST_IS_DIR))
        bench_remove_tree (child);
      else
        (void) g_remove (child);
    }
  (void) g_rmdir (path);
}

/* ---- openings, each in a process of its own ---- */

static void
child (const char *self, const char *part, const char *dir, BenchOpened *out)
{
  const char *argv[] = { self, "--child", part, dir, NULL };
  g_autofree char *said = NULL;
  GError *error = NULL;
  int status = 0;

  memset (out, 0, sizeof *out);
  if (!g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_CHILD_INHERITS_STDIN, NULL, NULL, &said,
                     NULL, &status, &error) ||
      !g_spawn_check_wait_status (status, &error) ||
      sscanf (said, "%lf %lf %lf %lf %lf %lf %lu %u %u", &out->select.wall, &out->select.cpu,
              &out->open.wall, &out->open.cpu, &out->plan.wall, &out->plan.cpu, &out->peak_kb,
              &out->living, &out->tasks) != 9)
    bench_fail (error);
}

static int
be_child (const char *part, const char *dir)
{
  BenchOpened out = { 0 };

  one_core ();
  if (strcmp (part, "open") == 0)
    bench_open (dir, last_day (), &out);
  else
    out.select = bench_select (dir);
  g_print ("%.6f %.6f %.6f %.6f %.6f %.6f %lu %u %u\n", out.select.wall, out.select.cpu,
           out.open.wall, out.open.cpu, out.plan.wall, out.plan.cpu, out.peak_kb, out.living,
           out.tasks);
  return 0;
}

typedef struct
{
  const char *self;
  const char *dir;
  guint animals, days;
  BenchTime select; /* 0 = not yet measured */
  BenchTime rebuilt;
  gboolean judged; /* of full size: its figures are held against their limits */
} Run;

static void
goal (const Run *run, const char *name, double value, double limit)
{
  if (run->judged)
    bench_goal (name, value, limit);
}

static void
need_select (Run *run)
{
  BenchOpened out;

  if (run->select.wall > 0)
    return;
  child (run->self, "select", run->dir, &out); /* warms the cache */
  run->select.wall = run->select.cpu = G_MAXDOUBLE;
  for (int k = 0; k < 3; k++)
    {
      child (run->self, "select", run->dir, &out);
      run->select.wall = MIN (run->select.wall, out.select.wall);
      run->select.cpu = MIN (run->select.cpu, out.select.cpu);
    }
  g_print ("one SELECT of everything, best of 3: %.3f s by the clock, %.3f s of processor\n",
           run->select.wall, run->select.cpu);
}

static BenchTime
print_opened (const char *name,
              const char *what,
              const Run *run,
              const BenchOpened *out,
              double limit)
{
  BenchTime all = bench_sum (out->open, out->plan);

  g_print ("%-3s %.3f s by the clock (open %.3f, 90-day plan %.3f), %.3f s of processor (%.3f, "
           "%.3f); %u living, %u tasks; peak %.0f MiB\n",
           name, all.wall, out->open.wall, out->plan.wall, all.cpu, out->open.cpu, out->plan.cpu,
           out->living, out->tasks, (double) out->peak_kb / 1024);
  g_print ("%-3s ratio %.2f by the clock, %.2f by processor, limit %.1f\n", name,
           all.wall / run->select.wall, all.cpu / run->select.cpu, limit);
  goal (run, what, all.cpu / run->select.cpu, limit);
  return all;
}

static void
part_b2 (Run *run)
{
  BenchOpened out;

  need_select (run);
  bench_drop_snapshot (run->dir);
  child (run->self, "open", run->dir, &out);
  run->rebuilt = print_opened ("b2", "b2: open without a snapshot ÷ one SELECT", run, &out, 8);
  g_print ("e   %.0f MiB at the peak of b2, limit 300\n", (double) out.peak_kb / 1024);
  goal (run, "e: peak memory of b2, MiB", (double) out.peak_kb / 1024, 300);
}

static void
part_b1 (Run *run)
{
  BenchOpened out;

  need_select (run);
  child (run->self, "open", run->dir, &out); /* leaves a snapshot */
  child (run->self, "open", run->dir, &out);
  print_opened ("b1", "b1: open with the kept snapshot ÷ one SELECT", run, &out, .5);
}

/* Slope of log time over log entries by least squares. */
static void
part_d (Run *run)
{
  double n = 0, sx = 0, sy = 0, sxx = 0, sxy = 0;

  for (guint animals = 5; animals <= MIN (run->animals, 5000); animals *= 10)
    {
      g_autofree char *dir = g_strdup_printf ("%s-%u", run->dir, animals);
      guint64 entries = make (dir, animals, run->days);
      double best = G_MAXDOUBLE, x = log ((double) entries), y;

      for (int k = 0; k < (animals < 1000 ? 5 : 1); k++)
        {
          BenchOpened out;

          bench_drop_snapshot (dir);
          child (run->self, "open", dir, &out);
          best = MIN (best, out.open.cpu + out.plan.cpu);
        }
      g_print ("d   %8" G_GUINT64_FORMAT " entries: %.4f s of processor\n", entries, best);
      y = log (best);
      n++;
      sx += x;
      sy += y;
      sxx += x * x;
      sxy += x * y;
      bench_remove_tree (dir);
    }
  if (n > 1)
    {
      double exponent = (n * sxy - sx * sy) / (n * sxx - sx * sx);

      g_print ("d   exponent %.3f, limit 1.05\n", exponent);
      goal (run, "d: growth of b2, exponent", exponent, 1.05);
    }
}

static void
part_a (Run *run)
{
  g_autofree char *dir = g_strdup_printf ("%s-round", run->dir);

  make (dir, 2400, 100);
  goal (run, "a: 300 cups durably ÷ one prepared transaction", bench_round (dir, last_day ()), 3);
  bench_remove_tree (dir);
}

static void
part_c (Run *run)
{
  BenchTime one;

  if (run->rebuilt.wall <= 0)
    part_b2 (run);
  one = bench_one_entry (run->dir, last_day ());
  g_print ("c   ratio 1/%.0f by the clock, 1/%.0f by processor, limit 1/2000\n",
           run->rebuilt.wall / one.wall, run->rebuilt.cpu / one.cpu);
  goal (run, "c: one entry and its subject's plan ÷ b2, in 2000ths",
        2000 * one.cpu / run->rebuilt.cpu, 1);
}

static void
part_s (Run *run)
{
  goal (run, "s: slowest keystroke of a search, ms of processor",
        1000 * bench_search (run->dir, last_day ()), 30);
}

static const struct
{
  const char *name;
  void (*run) (Run *run);
} parts[] = { { "a", part_a }, { "b2", part_b2 }, { "b1", part_b1 },
              { "c", part_c }, { "d", part_d },   { "s", part_s } };

int
main (int argc, char **argv)
{
  int animals = 10000, days = 400;
  g_autofree char *keep = NULL;
  g_auto (GStrv) wanted = NULL;
  g_autofree char *tmp = NULL;
  GOptionEntry options[] = {
    { "animals", 0, 0, G_OPTION_ARG_INT, &animals, "animals of the journal", "N" },
    { "days", 0, 0, G_OPTION_ARG_INT, &days, "days of the journal", "D" },
    { "keep", 0, 0, G_OPTION_ARG_FILENAME, &keep, "use this journal, make it when missing", "DIR" },
    { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_STRING_ARRAY, &wanted, NULL, "PART …" },
    { NULL }
  };
  g_autoptr (GOptionContext) context = NULL;
  GError *error = NULL;
  Run run = { .self = argv[0] };
  g_autofree char *dir = NULL;

  if (argc == 4 && strcmp (argv[1], "--child") == 0)
    return be_child (argv[2], argv[3]);
  context = g_option_context_new (NULL);
  g_option_context_add_main_entries (context, options, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error))
    bench_fail (error);
  one_core ();
  tmp = keep == NULL ? g_dir_make_tmp ("mantidary-bench-XXXXXX", &error) : NULL;
  if (keep == NULL && tmp == NULL)
    bench_fail (error);
  dir = keep != NULL ? g_strdup (keep) : g_build_filename (tmp, "journal", NULL);
  run.dir = dir;
  run.animals = (guint) CLAMP (animals, 1, DEMO_SYNTH_ANIMALS);
  run.days = (guint) CLAMP (days, 1, DEMO_SYNTH_DAYS);
  run.judged = run.animals >= 10000 && run.days >= 400;
  if (!g_file_test (dir, G_FILE_TEST_IS_DIR))
    make (dir, run.animals, run.days);
  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    if (wanted == NULL || g_strv_contains ((const char *const *) wanted, parts[i].name))
      parts[i].run (&run);
  if (tmp != NULL)
    bench_remove_tree (tmp);
  return bench_goals_end ();
}
