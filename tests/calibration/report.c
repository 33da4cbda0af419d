/* SPDX-License-Identifier: GPL-3.0-or-later */
/* report.c — do the ranges hold what they say? Prints the table by what was known, as Markdown.
 *
 *   calibration-report [ROOMS [SEED [HOSTILE ROOMS]]]    default 120 rooms, seed 1
 *   calibration-report ROOMS SEED HOSTILE --rows          every moment, comma-separated, instead
 *   calibration-report --check                           a few rooms, coarse limits; exit 1
 */
#include <locale.h>
#include <malloc.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "exchange/exch-profile.h"
#include "sim-table.h"

static const int check_rooms = 20, check_hostile = 12;

static GArray *
run (ExchProfiles *set, int rooms, guint64 seed, const SimHostile *hostile, GArray *lots)
{
  GArray *moments = g_array_new (FALSE, TRUE, sizeof (Moment));
  const CoreProfile *profiles[EXCH_PROFILES_MAX];
  int n = 0;

  for (gsize i = 0; i < exch_profiles_count (set); i++)
    if (!exch_profiles_nth (set, i)->general)
      profiles[n++] = exch_profiles_nth (set, i);
  for (int r = 0; r < rooms; r++)
    {
      const SimHostile *worse = hostile ? &hostile[r % N_HOSTILE] : NULL;
      g_autoptr (SimRoom) room = sim_room_new (profiles, n, worse, seed, r + 1);
      sim_moments (room, exch_profiles_general (set), moments, lots);
    }
  return moments;
}

int
main (int argc, char **argv)
{
  gboolean check = argc > 1 && strcmp (argv[1], "--check") == 0;
  int rooms = argc > 1 && !check ? atoi (argv[1]) : check ? check_rooms : 120;
  guint64 seed = argc > 2 && !check ? g_ascii_strtoull (argv[2], NULL, 10) : 1;
  int hostile = argc > 3 && !check ? atoi (argv[3]) : check ? check_hostile : rooms / 3;
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) lots = g_array_new (FALSE, TRUE, sizeof (LotMoment));
  g_autoptr (GArray) usual = NULL, worst = NULL,
                     worst_lots = g_array_new (FALSE, TRUE, sizeof (LotMoment));
  ExchProfiles *set;
  gboolean good = TRUE;

  setlocale (LC_ALL, "C");
  /* The forecast's tables come and go by the million: keep their pages. */
  mallopt (M_MMAP_THRESHOLD, 32 << 20);
  mallopt (M_TRIM_THRESHOLD, 256 << 20);
  set = exch_profiles_load (&error);
  if (set == NULL || rooms < 1 || hostile < 1)
    {
      fprintf (stderr, "%s\n",
               error ? error->message : "calibration-report [ROOMS [SEED [HOSTILE]]]");
      return 2;
    }
  usual = run (set, rooms, seed, NULL, lots);
  worst = run (set, hostile, seed + 1000, hostile_rooms, worst_lots);
  if (argc > 4 && strcmp (argv[4], "--rows") == 0)
    {
      g_array_append_vals (usual, worst->data, worst->len);
      sim_moments_print (usual);
      return 0;
    }
  printf ("Seed %" G_GUINT64_FORMAT ", %d rooms and %d hostile ones.\n\n", seed, rooms, hostile);
  table_usual (usual, rooms);
  table_lots (lots);
  table_hostile (worst, hostile);
  if (check)
    good = table_check (usual, worst);
  exch_profiles_free (set);
  return good ? 0 : 1;
}
