/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-table.c — coverage with its standard error by room, the PIT, scores against baselines. */
#include "sim-table.h"

#include <stdio.h>

#include "sim-tally.h"

const char *const table_kinds[2] = { "evening found", "drawn day" };

static guint32
bit (Was was)
{
  return 1u << was;
}

const char *const table_of_lot[3] = { "first", "middle", "last" };
static const guint32 apart = TABLE_APART;

static void
print_row (const char *name, const Tally *t)
{
  printf ("| %-30s | %6d | %5.1f ± %3.1f | %5.1f ± %3.1f | %4.1f | %4.1f |\n", name, t->n,
          100 * t->in80, 100 * t->se80, 100 * t->in50, 100 * t->se50, 100 * t->below,
          100 * t->above);
}

static void
print_head (const char *what)
{
  printf ("| %-30s |      n | 80 %% holds | 50 %% holds | below p10 | above p90 |\n", what);
  printf ("|---|---|---|---|---|---|\n");
}

static void
print_pit (const Tally *t)
{
  printf ("\nPIT in tenths, %%:");
  for (int i = 0; i < 10; i++)
    printf (" %.1f", 100 * t->pit[i]);
  printf ("\n\n");
}

static void
print_classes (const GArray *moments, int rooms, gboolean drawn)
{
  Tally all = tally (moments, rooms, (Choice){ .drawn = drawn, .none_of = apart });

  print_head (table_kinds[drawn]);
  print_row ("**all, start entered**", &all);
  for (int w = 0; w < N_WAS; w++)
    {
      guint32 others = w == WAS_ARRIVED || w == WAS_HIDDEN ? 0 : apart;
      Tally t = tally (moments, rooms,
                       (Choice){ .drawn = drawn, .all_of = bit ((Was) w), .none_of = others });
      if (t.n > 0)
        print_row (was_names[w], &t);
    }
  {
    Tally t = tally (moments, rooms, (Choice){ .drawn = drawn });
    print_row ("all of these", &t);
    t = tally (moments, rooms, (Choice){ .drawn = drawn, .none_of = apart, .true_moult = TRUE });
    print_row ("all, held against true moults", &t);
  }
  print_pit (&all);
}

/* ---- scores ---- */

static void
print_versus (const char *name, Versus v)
{
  printf ("| %-40s | %6d | %.3f | %.3f (log-sd %.2f) | %.1f |\n", name, v.n, v.ours, v.theirs, v.sd,
          100 * (1 - v.ours / v.theirs));
}

static void
print_scores (const GArray *moments, gboolean drawn)
{
  Choice later = { .drawn = drawn, .none_of = apart, .waits_from = 2 };
  Choice first = { .drawn = drawn, .all_of = bit (WAS_FIRST_STAGE), .none_of = apart };

  printf ("| CRPS in days, %-26s |      n | forecast | baseline | less by %% |\n", table_kinds[drawn]);
  printf ("|---|---|---|---|---|\n");
  print_versus ("from the 2nd moult on: profile's median", versus (moments, later, BASE_PROFILE));
  print_versus ("— the same at the shelf's warmth", versus (moments, later, BASE_WARMTH));
  print_versus ("from the 2nd moult on: own last × 1.2", versus (moments, later, BASE_LAST));
  print_versus ("no moult yet: profile's median", versus (moments, first, BASE_PROFILE));
  print_versus ("— the same at the shelf's warmth", versus (moments, first, BASE_WARMTH));
  printf ("\n");
}

void
table_usual (const GArray *moments, int rooms)
{
  printf ("%u moments.\n\n", moments->len);
  for (int drawn = 0; drawn < 2; drawn++)
    print_classes (moments, rooms, drawn);
  for (int drawn = 0; drawn < 2; drawn++)
    print_scores (moments, drawn);
}

void
table_longer (const GArray *moments, int *past, int *said)
{
  *past = *said = 0;
  for (guint i = 0; i < moments->len; i++)
    {
      const Moment *m = &g_array_index (moments, Moment, i);
      *past += m->drawn && m->past_range;
      *said += m->drawn && m->past_range && m->said_longer;
    }
}

/* A keeper who looks once in ten days; meals refused without a moult; signs three times as
 * often wrong, their leads twice as long; one animal in eight sick, so that it moults much later
 * or never. */
const SimHostile hostile_rooms[N_HOSTILE] = {
  { .room = 1.4, .false_signs = 1, .leads = 1 },
  { .room = 1.4, .false_signs = 1, .leads = 1, .refuses = .3 },
  { .room = 1.4, .false_signs = 1, .leads = 1, .look = .1 },
  { .room = 1.4, .false_signs = 3, .leads = 2 },
  { .room = 1.4, .false_signs = 1, .leads = 1, .sick = .12 },
  { .room = 1.4, .false_signs = 3, .leads = 2, .refuses = .3, .look = .1, .sick = .12 },
};

static const char *const hostile_names[N_HOSTILE] = {
  "slower",          "and meals refused", "and a look in ten days",
  "and wrong signs", "and sick animals",  "and all of this at once",
};

static void
hostile_kind (const GArray *moments, int rooms, gboolean drawn)
{
  Choice choice = { .drawn = drawn, .none_of = apart };
  Tally t = tally (moments, rooms, choice);

  print_head (table_kinds[drawn]);
  print_row ("all, start entered", &t);
  choice.all_of = bit (WAS_THIRD);
  t = tally (moments, rooms, choice);
  print_row ("**three moults of its kind known**", &t);
  for (int h = 0; h < N_HOSTILE; h++)
    {
      choice.every = N_HOSTILE;
      choice.of = h;
      t = tally (moments, rooms, choice);
      print_row (hostile_names[h], &t);
    }
  choice =
    (Choice){ .drawn = drawn, .none_of = apart, .all_of = bit (WAS_THIRD), .true_moult = TRUE };
  t = tally (moments, rooms, choice);
  print_row ("these, held against true moults", &t);
  choice = (Choice){ .drawn = drawn, .none_of = apart, .all_of = bit (WAS_SICK) };
  t = tally (moments, rooms, choice);
  print_row ("sick and late", &t);
  printf ("\n");
}

void
table_hostile (const GArray *moments, int rooms)
{
  int past, said;

  printf ("Hostile rooms, %u moments.\n\n", moments->len);
  for (int drawn = 0; drawn < 2; drawn++)
    hostile_kind (moments, rooms, drawn);
  table_longer (moments, &past, &said);
  printf (
    "Past the p90 given when the stage began: %d of %d drawn days say \"longer than usual\".\n",
    said, past);
}

void
table_lots (const GArray *lots, int rooms)
{
  printf ("| lots kept together, next moult |    n | 80 %% holds | before p10 | after p90 |\n");
  printf ("|---|---|---|---|---|\n");
  for (int drawn = 0; drawn < 2; drawn++)
    for (int w = 0; w < 3; w++)
      {
        Tally t = tally_lots (lots, rooms, drawn, w);
        if (t.n > 0)
          printf ("| %-15s %-14s | %4d | %5.1f ± %3.1f | %4.1f | %4.1f |\n", table_kinds[drawn],
                  table_of_lot[w], t.n, 100 * t.in80, 100 * t.se80, 100 * t.below, 100 * t.above);
      }
  printf ("\n");
}
