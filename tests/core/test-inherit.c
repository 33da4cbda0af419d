/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-inherit.c — what one of a lot has from it where two lots of neighbouring stages became one. */
#include <math.h>

#include "core/core-inherit.h"
#include "journal.h"

#define LOT 1
#define HEIR 2

/* The round in which it was said that they became one. */
static void
join (Journal *journal, CoreDay day, const char *stage, const char *joined)
{
  CoreEntry *told = journal_add (journal, day, stage);
  CoreEntry *entry = journal_add (journal, day, joined);

  told->round = entry->round = test_id (900);
}

static void
fold_heir (Journal *journal, const CoreHeir *heir, CoreState *out)
{
  CoreEntry **facts;
  size_t n;

  g_assert_cmpint (core_inherit (heir, (const CoreEntry *const *) journal->entries->pdata, journal->entries->len,
                                 &facts, &n),
                   ==, CORE_OK);
  for (size_t i = 0; i < n; i++)
    facts[i]->subject = test_id (HEIR);
  core_state_init (out);
  fold_live (facts, n, test_id (HEIR), heir->kind, out);
  while (n > 0)
    core_entry_free (facts[--n]);
  free (facts);
}

typedef struct
{
  const char *name;
  const char *hatch; /* of the lot */
  const char *moult; /* of the lot before they became one, or NULL */
  const char *joined;
  const char *later; /* of the lot since then, or NULL */
  double p[4];
} Row;

static const Row rows[] = {
  { "the others are further", "hatched", NULL, "joined|n=10", NULL, { 25 / 35., 10 / 35. } },
  { "the others are behind", "hatched", "moulted", "joined|n=10", NULL, { 10 / 35., 25 / 35. } },
  { "all of it moulted since", "hatched", NULL, "joined|n=10", "moulted", { 0, 25 / 35., 10 / 35. } },
  { "a recount changes no stage", "hatched", NULL, "joined|n=10", "recounted|n=14", { 25 / 35., 10 / 35. } },
  { "so many of it died", "hatched", NULL, "joined|n=75", "died|n=50", { 25 / 100., 75 / 100. } },
  { "nobody counted the others", "hatched", NULL, "joined", NULL, { 1 / 2., 1 / 2. } },
};

static void
assert_p (const CoreState *state, const double p[4])
{
  int best = 0;

  for (int m = 0; m < 4; m++)
    {
      g_assert_cmpfloat_with_epsilon (state->moults_p[m], p[m], 1e-5);
      best = p[m] > p[best] ? m : best;
    }
  if (p[best] < 1)
    g_assert_cmpint (state->basis, ==, CORE_BASIS_ESTIMATED);
  g_assert_cmpint (p[state->moults] >= p[best], ==, 1);
}

static void
test_joined (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      const Row *row = &rows[i];
      g_autoptr (Journal) journal = journal_new ();
      CoreHeir single = { CORE_SUBJECT_ANIMAL, NULL, CORE_AHEAD_UNSAID };
      CoreHeir part = { CORE_SUBJECT_LOT, NULL, CORE_AHEAD_UNSAID };
      CoreState state;

      g_test_message ("%s", row->name);
      journal->subject = test_id (LOT);
      journal_add (journal, 100, row->hatch);
      journal_add (journal, 100, "recounted|n=25");
      if (row->moult != NULL)
        journal_add (journal, 110, row->moult);
      join (journal, 115, "stage|seen=nymph|moults=0", row->joined);
      if (row->later != NULL)
        journal_add (journal, 120, row->later);
      single.split = part.split = journal_add (journal, 125, "split|n=3");
      core_state_init (&state);
      journal_fold (journal, CORE_SUBJECT_LOT, &state);
      assert_p (&state, row->p);
      core_state_clear (&state);
      fold_heir (journal, &single, &state);
      assert_p (&state, row->p);
      g_assert_cmpuint (state.conflicts.n, ==, 0);
      core_state_clear (&state);
      /* A part of it is mixed as it is, and is not larger for it. */
      fold_heir (journal, &part, &state);
      assert_p (&state, row->p);
      g_assert_false (state.tally.known);
      g_assert_cmpint (state.tally.joined_in, ==, 0);
      core_state_clear (&state);
    }
}

/* What came out before they became one knows its stage, and so does what came out where both were in
 * one stage. */
static void
test_not_joined (void)
{
  static const double sure[4] = { 1 };
  g_autoptr (Journal) journal = journal_new ();
  CoreHeir heir = { CORE_SUBJECT_ANIMAL, NULL, CORE_AHEAD_UNSAID };
  CoreState state;

  journal->subject = test_id (LOT);
  journal_add (journal, 100, "hatched");
  journal_add (journal, 100, "recounted|n=25");
  heir.split = journal_add (journal, 110, "split|n=3");
  journal_add (journal, 112, "joined|n=4"); /* of one stage: none was told with it */
  fold_heir (journal, &heir, &state);
  assert_p (&state, sure);
  core_state_clear (&state);
  heir.split = journal_add (journal, 113, "split|n=3");
  fold_heir (journal, &heir, &state);
  assert_p (&state, sure);
  core_state_clear (&state);
  join (journal, 115, "stage|seen=nymph|moults=0", "joined|n=10");
  fold_heir (journal, &heir, &state);
  assert_p (&state, sure);
  core_state_clear (&state);
}

/* A part of the lot, and one that came out of the part. */
static void
test_of_a_part (void)
{
  static const double p[4] = { 25 / 35., 10 / 35. };
  g_autoptr (Journal) journal = journal_new ();
  g_autoptr (Journal) second = journal_new ();
  CoreHeir part = { CORE_SUBJECT_LOT, NULL, CORE_AHEAD_UNSAID };
  CoreHeir single = { CORE_SUBJECT_ANIMAL, NULL, CORE_AHEAD_UNSAID };
  CoreEntry **facts;
  size_t n;
  CoreState state;

  journal->subject = test_id (LOT);
  journal_add (journal, 100, "hatched");
  journal_add (journal, 100, "recounted|n=25");
  join (journal, 115, "stage|seen=nymph|moults=0", "joined|n=10");
  part.split = journal_add (journal, 120, "split|n=12");
  g_assert_cmpint (core_inherit (&part, (const CoreEntry *const *) journal->entries->pdata, journal->entries->len,
                                 &facts, &n),
                   ==, CORE_OK);
  second->subject = test_id (HEIR);
  second->next = 500;
  for (size_t i = 0; i < n; i++)
    {
      facts[i]->subject = test_id (HEIR);
      g_ptr_array_add (second->entries, facts[i]);
    }
  free (facts);
  journal_add (second, 120, "recounted|n=12");
  single.split = journal_add (second, 122, "split|n=1");
  fold_heir (second, &single, &state);
  assert_p (&state, p);
  core_state_clear (&state);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/core/inherit/joined", test_joined);
  g_test_add_func ("/core/inherit/not-joined", test_not_joined);
  g_test_add_func ("/core/inherit/of-a-part", test_of_a_part);
  return g_test_run ();
}
