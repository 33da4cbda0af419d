/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-goals.c — what the forecast has promised, beside what it does. */
#include <stdio.h>

#include "sim-table.h"
#include "sim-tally.h"

typedef struct
{
  int missed;
} Goals;

/* `se` < 0: none is known. `by`: so near to it counts as within the error, and not as missed. */
static void
goal_within (Goals *self, const char *what, double value, double se, double by, double lo, double hi)
{
  gboolean met = value >= lo && value <= hi, near = value >= lo - by && value <= hi + by;
  g_autofree char *wanted = hi >= 1e6   ? g_strdup_printf ("at least %g", lo)
                            : lo <= -1e6 ? g_strdup_printf ("at most %g", hi)
                                         : g_strdup_printf ("%g–%g", lo, hi);
  g_autofree char *error = se >= 0 ? g_strdup_printf (" ± %.1f", se) : g_strdup ("");

  printf ("| %-52s | %.1f%s | %s | %s |\n", what, value, error, wanted,
          met    ? "met"
          : near ? "**below, within ±**"
                 : "**missed**");
  self->missed += !met && !near;
}

static void
goal (Goals *self, const char *what, double value, double se, double lo, double hi)
{
  goal_within (self, what, value, se, 0, lo, hi);
}

static void
coverage (Goals *self, const char *kind, const char *what, Tally t, double lo, double hi)
{
  g_autofree char *name = g_strdup_printf ("%s, %s: 80 %% range holds", kind, what);

  goal (self, name, 100 * t.in80, 100 * t.se80, lo, hi);
}

static void
better (Goals *self, const char *kind, const char *than, Versus v, double by)
{
  g_autofree char *name = g_strdup_printf ("%s, CRPS below that of %s, %%", kind, than);

  goal_within (self, name, 100 * (1 - v.ours / v.theirs), 100 * v.se, 100 * v.se, by, 1e9);
}

/* Of both kinds of moment. */
static void
usual_goals (Goals *self, const TableData *data, gboolean drawn)
{
  static const Was classes[] = { WAS_FIRST_STAGE, WAS_SUBADULT, WAS_WITH_SIGNS, WAS_BOUGHT };
  const char *kind = table_kinds[drawn];
  Choice all = { .drawn = drawn, .none_of = TABLE_APART };
  Tally t = tally (data->usual, data->rooms, all);
  g_autofree char *half = g_strdup_printf ("%s, all: 50 %% range holds", kind);
  g_autofree char *pit = g_strdup_printf ("%s, all: worst tenth of the PIT off by", kind);

  coverage (self, kind, "all", t, 78, 82);
  goal (self, half, 100 * t.in50, 100 * t.se50, 47, 53);
  goal (self, pit, 100 * tally_pit_off (&t), -1, -1e6, 2);
  for (gsize c = 0; c < G_N_ELEMENTS (classes); c++)
    {
      Choice choice = all;

      choice.all_of = 1u << classes[c];
      t = tally (data->usual, data->rooms, choice);
      if (t.n > 0) /* on the evening found no sign is known yet */
        coverage (self, kind, was_names[classes[c]], t, 74, 86);
    }
  for (int w = 0; w < 3; w++)
    {
      g_autofree char *name = g_strdup_printf ("%s of a lot", table_of_lot[w]);

      coverage (self, kind, name, tally_lots (data->lots, data->rooms, drawn, w), 74, 86);
    }
}

static void
score_goals (Goals *self, const TableData *data, gboolean drawn)
{
  const char *kind = table_kinds[drawn];
  Choice later = { .drawn = drawn, .none_of = TABLE_APART, .waits_from = 2 };
  Choice first = { .drawn = drawn, .all_of = 1u << WAS_FIRST_STAGE, .none_of = TABLE_APART };

  better (self, kind, "the profile's median", versus (data->usual, later, BASE_PROFILE),
          drawn ? 20 : 27);
  better (self, kind, "the own last × 1.2", versus (data->usual, later, BASE_LAST), drawn ? 24 : 28);
  better (self, kind, "the profile's median, no moult yet", versus (data->usual, first, BASE_PROFILE),
          0);
}

static void
hostile_goals (Goals *self, const TableData *data)
{
  int past, said;

  for (int drawn = 0; drawn < 2; drawn++)
    {
      Choice choice = { .drawn = drawn, .none_of = TABLE_APART, .all_of = 1u << WAS_THIRD };

      coverage (self, table_kinds[drawn], "hostile, three moults known",
                tally (data->hostile, data->hostile_rooms, choice), 75, 1e9);
    }
  table_longer (data->hostile, &past, &said);
  /* Ours: the others are of rooms that were found to be slower since, so that the range moved on. */
  goal (self, "hostile, past the p90 first given: said to last longer, %", 100. * said / MAX (past, 1),
        -1, 80, 1e9);
}

int
table_goals (const TableData *data)
{
  Goals self = { 0 };

  printf ("| goal | figure | wanted | |\n|---|---|---|---|\n");
  goal (&self, "rooms", data->rooms, -1, 70, 1e9);
  goal (&self, "moments", data->usual->len, -1, 20000, 1e9);
  for (int drawn = 0; drawn < 2; drawn++)
    usual_goals (&self, data, drawn);
  for (int drawn = 0; drawn < 2; drawn++)
    score_goals (&self, data, drawn);
  hostile_goals (&self, data);
  printf ("\n%d goals missed.\n", self.missed);
  return self.missed;
}
