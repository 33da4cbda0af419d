/* SPDX-License-Identifier: GPL-3.0-or-later */
/* report.c — do the ranges hold what they say? Prints the table by what was known, as Markdown, and
 * last every goal beside its figure.
 *
 *   calibration-report [ROOMS [SEED [HOSTILE ROOMS]]]    160 rooms, seed 1; hostile ones: a third
 *   calibration-report ROOMS SEED HOSTILE --rows         every moment, comma-separated, instead
 *   calibration-report ROOMS SEED HOSTILE --to FILE      into this file; 1 when a goal is missed
 *
 * Rooms are drawn and asked on all processors; the answer does not depend on their number. */
#include <locale.h>
#include <malloc.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "exchange/exch-profile.h"
#include "sim-table.h"

typedef struct
{
  GArray *moments, *lots;
} Asked;

typedef struct
{
  const CoreProfile *profiles[EXCH_PROFILES_MAX], *general;
  int n_profiles;
  guint64 seed;
  gboolean hostile;
  Asked *asked; /* by room */
} Run;

/* A room, in a thread of its own; `data`: its number, from 1. */
static void
ask_room (gpointer data, gpointer user_data)
{
  const Run *run = user_data;
  int number = GPOINTER_TO_INT (data);
  const SimHostile *worse = run->hostile ? &hostile_rooms[(number - 1) % N_HOSTILE] : NULL;
  g_autoptr (SimRoom) room =
    sim_room_new (run->profiles, run->n_profiles, worse, run->seed, number);
  Asked *asked = &run->asked[number - 1];

  asked->moments = g_array_new (FALSE, TRUE, sizeof (Moment));
  asked->lots = g_array_new (FALSE, TRUE, sizeof (LotMoment));
  sim_moments (room, run->general, asked->moments, asked->lots);
}

static void
ask_rooms (ExchProfiles *set, int rooms, guint64 seed, gboolean hostile, GArray *moments, GArray *lots)
{
  Run run = { .general = exch_profiles_general (set), .seed = seed, .hostile = hostile };
  g_autofree Asked *asked = g_new0 (Asked, rooms);
  GThreadPool *pool;

  for (gsize i = 0; i < exch_profiles_count (set); i++)
    if (!exch_profiles_nth (set, i)->general)
      run.profiles[run.n_profiles++] = exch_profiles_nth (set, i);
  run.asked = asked;
  pool = g_thread_pool_new (ask_room, &run, (int) g_get_num_processors (), TRUE, NULL);
  for (int r = 1; r <= rooms; r++)
    g_thread_pool_push (pool, GINT_TO_POINTER (r), NULL);
  g_thread_pool_free (pool, FALSE, TRUE);
  for (int r = 0; r < rooms; r++)
    {
      g_array_append_vals (moments, asked[r].moments->data, asked[r].moments->len);
      g_array_append_vals (lots, asked[r].lots->data, asked[r].lots->len);
      g_array_unref (asked[r].moments);
      g_array_unref (asked[r].lots);
    }
}

static int
print (const TableData *data, guint64 seed)
{
  printf ("Seed %" G_GUINT64_FORMAT ", %d rooms and %d hostile ones.\n\n", seed, data->rooms,
          data->hostile_rooms);
  table_usual (data->usual, data->rooms);
  table_lots (data->lots, data->rooms);
  table_hostile (data->hostile, data->hostile_rooms);
  printf ("\n");
  return table_goals (data);
}

int
main (int argc, char **argv)
{
  int rooms = argc > 1 ? atoi (argv[1]) : 160;
  guint64 seed = argc > 2 ? g_ascii_strtoull (argv[2], NULL, 10) : 1;
  int hostile = argc > 3 ? atoi (argv[3]) : (rooms + 2) / 3;
  const char *to = argc > 5 && strcmp (argv[4], "--to") == 0 ? argv[5] : NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) usual = g_array_new (FALSE, TRUE, sizeof (Moment));
  g_autoptr (GArray) worst = g_array_new (FALSE, TRUE, sizeof (Moment));
  g_autoptr (GArray) lots = g_array_new (FALSE, TRUE, sizeof (LotMoment));
  g_autoptr (GArray) worst_lots = g_array_new (FALSE, TRUE, sizeof (LotMoment));
  TableData data = { rooms, hostile, usual, lots, worst };
  ExchProfiles *set;
  int missed;

  setlocale (LC_ALL, "C");
  /* The forecast's tables come and go by the million: keep their pages. */
  mallopt (M_MMAP_THRESHOLD, 32 << 20);
  mallopt (M_TRIM_THRESHOLD, 256 << 20);
  set = exch_profiles_load (&error);
  if (set == NULL || rooms < 1 || hostile < 1 || (to && !freopen (to, "w", stdout)))
    {
      fprintf (stderr, "%s\n",
               error ? error->message : "calibration-report [ROOMS [SEED [HOSTILE]]]");
      return 2;
    }
  ask_rooms (set, rooms, seed, FALSE, usual, lots);
  ask_rooms (set, hostile, seed + 1000, TRUE, worst, worst_lots);
  if (argc > 4 && strcmp (argv[4], "--rows") == 0)
    {
      g_array_append_vals (usual, worst->data, worst->len);
      sim_moments_print (usual);
      missed = 0;
    }
  else
    missed = print (&data, seed);
  exch_profiles_free (set);
  if (fflush (stdout) != 0)
    return 2;
  return to && missed > 0 ? 1 : 0;
}
