/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-scale-desk.c — opening through the desk, and one entry. */
#include "bench-scale.h"

#include <string.h>
#include <sys/resource.h>

#include "desk/desk-search.h"

static Desk *
open_desk (const char *dir, CoreDay today)
{
  GError *error = NULL;
  Desk *desk = desk_open (dir, today, DESK_OPEN_DEFAULT, &error);

  if (desk == NULL)
    bench_fail (error);
  return desk;
}

static void
close_desk (Desk *desk)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  GError *error = NULL;

  desk_close_async (desk, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  if (!desk_close_finish (desk, result, &error))
    bench_fail (error);
}

void
bench_open (const char *dir, CoreDay today, BenchOpened *out)
{
  BenchTime began = bench_now ();
  g_autoptr (Desk) desk = open_desk (dir, today);
  g_autoptr (DeskAgenda) plan = NULL;
  struct rusage used;

  out->open = bench_since (began);
  began = bench_now ();
  plan = desk_agenda (desk, today, today + 89, (CoreId){ 0 });
  out->plan = bench_since (began);
  out->tasks = plan->rows->len;
  {
    g_autoptr (GPtrArray) living = desk_animals (desk);

    out->living = living->len;
  }
  getrusage (RUSAGE_SELF, &used);
  out->peak_kb = (unsigned long) used.ru_maxrss;
  close_desk (desk);
}

/* Copies the journal to a folder that lives in memory, so that the write costs as good as
 * nothing: from the verb to the new plan, the append to SQLite and all checks included. */
static char *
copy_to_memory (const char *dir)
{
  g_autofree char *copy = g_strdup ("/dev/shm/mantidary-bench-XXXXXX");
  g_autofree char *from = g_build_filename (dir, "journal.sqlite", NULL);
  g_autofree char *to = NULL;
  g_autoptr (GFile) source = g_file_new_for_path (from);
  g_autoptr (GFile) target = NULL;
  GError *error = NULL;

  if (g_mkdtemp (copy) == NULL)
    bench_fail (NULL);
  to = g_build_filename (copy, "journal.sqlite", NULL);
  target = g_file_new_for_path (to);
  if (!g_file_copy (source, target, G_FILE_COPY_NONE, NULL, NULL, NULL, &error))
    bench_fail (error);
  return g_steal_pointer (&copy);
}

static BenchTime
record_one (Desk *desk, CoreId animal, CoreDay today)
{
  static const char *const none[] = { NULL };
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (DeskSubject) now = NULL;
  GError *error = NULL;
  BenchTime began = bench_now ();

  desk_record_async (desk, animal, "looked", none, today, CORE_DAY_NONE, -1, NULL, desk_sync_cb,
                     &sync);
  result = desk_sync_wait (&sync);
  if (!desk_record_finish (desk, result, NULL, &error))
    bench_fail (error);
  now = desk_get (desk, animal);
  (void) desk_subject_plan (now);
  return bench_since (began);
}

BenchTime
bench_one_entry (const char *dir, CoreDay today)
{
  g_autofree char *copy = copy_to_memory (dir);
  g_autoptr (Desk) desk = open_desk (copy, today);
  g_autoptr (GPtrArray) animals = desk_animals (desk);
  BenchTime total = { 0, 0 }, worst = { 0, 0 };
  guint n = 0;

  for (guint i = 0; i < animals->len && n < 100; i += MAX (1, animals->len / 100), n++)
    {
      BenchTime one = record_one (desk, desk_subject_id (animals->pdata[i]), today);

      total = bench_sum (total, one);
      worst = (BenchTime){ MAX (worst.wall, one.wall), MAX (worst.cpu, one.cpu) };
    }
  close_desk (desk);
  g_print ("c   %u entries: mean %.3f ms, worst %.3f ms by the clock; mean %.3f ms, worst %.3f ms "
           "of processor\n",
           n, total.wall / n * 1000, worst.wall * 1000, total.cpu / n * 1000, worst.cpu * 1000);
  bench_remove_tree (copy);
  return (BenchTime){ total.wall / n, total.cpu / n };
}

/* ---- search ---- */

static BenchTime
search_one (Desk *desk, const char *text, guint *hits)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GPtrArray) found = NULL;
  GError *error = NULL;
  BenchTime began = bench_now ();

  desk_search_async (desk, text, 50, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  found = desk_search_finish (desk, result, &error);
  if (found == NULL)
    bench_fail (error);
  *hits = found->len;
  return bench_since (began);
}

/* What the window does at each keystroke: notes, names, kinds, shelves and prey together. */
double
bench_search (const char *dir, CoreDay today)
{
  static const char *const typed[] = { "blue bottle",   "took the fly", "heating off",
                                       "ghost shelf 3", "melanogaster", "zzz",
                                       "pale this",     "1204",         "a" };
  BenchTime opened = bench_now ();
  g_autoptr (Desk) desk = open_desk (dir, today);
  BenchTime total = { 0, 0 }, worst = { 0, 0 };
  const char *worst_at = "";
  guint n = 0;

  while (!desk_search_is_ready (desk)) /* the window is there before one types */
    g_main_context_iteration (NULL, TRUE);
  g_print ("s   ready %.0f ms after the opening\n", bench_since (opened).wall * 1000);
  for (gsize i = 0; i < G_N_ELEMENTS (typed); i++)
    for (gsize length = 1; length <= strlen (typed[i]); length++, n++)
      {
        g_autofree char *text = g_strndup (typed[i], length);
        guint hits;
        BenchTime one = search_one (desk, text, &hits);

        total = bench_sum (total, one);
        if (one.cpu > worst.cpu)
          worst_at = typed[i];
        worst = (BenchTime){ MAX (worst.wall, one.wall), MAX (worst.cpu, one.cpu) };
      }
  close_desk (desk);
  g_print ("s   %u keystrokes: mean %.1f ms, worst %.1f ms by the clock; mean %.1f ms, worst %.1f "
           "ms (in '%s') of processor; limit 30\n",
           n, total.wall / n * 1000, worst.wall * 1000, total.cpu / n * 1000, worst.cpu * 1000,
           worst_at);
  return worst.cpu;
}
