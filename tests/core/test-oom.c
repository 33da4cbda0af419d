/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-oom.c — every allocation of the room fails once; nothing is lost or half done.
 *
 * The linker sends malloc, calloc and realloc of the core through the wrappers
 * below (--wrap); GLib keeps its own.
 */
#include "journal.h"

#include "core/core-round.h"

void *__real_malloc (size_t size);
void *__real_calloc (size_t n, size_t size);
void *__real_realloc (void *old, size_t size);
void *__wrap_malloc (size_t size);
void *__wrap_calloc (size_t n, size_t size);
void *__wrap_realloc (void *old, size_t size);

static long until_failure = -1; /* -1 = never */
static gboolean failed;

static gboolean
fails (void)
{
  if (until_failure < 0)
    return FALSE;
  if (until_failure-- > 0)
    return FALSE;
  until_failure = -1;
  failed = TRUE;
  return TRUE;
}

void *
__wrap_malloc (size_t size)
{
  return fails () ? NULL : __real_malloc (size);
}

void *
__wrap_calloc (size_t n, size_t size)
{
  return fails () ? NULL : __real_calloc (n, size);
}

void *
__wrap_realloc (void *old, size_t size)
{
  return fails () ? NULL : __real_realloc (old, size);
}

static Journal *
sample (void)
{
  static const char *const lines[] = {
    "hatched",
    "set|key=name|value=Asra",
    "set|key=name|value=Bela",
    "set|key=lot|value=x",
    "looked",
    "fed|outcome=refused",
    "sign|sign=dull",
    "moulted",
    "measured|what=head|mm=3",
    "sexed|sex=male|method=laid",
    "sexed|sex=female|method=joined",
    "housed|at=1",
    "trouble|what=fell",
    "done|rule=clean",
    "put_off|rule=home|until=2026-01-01",
    "gone",
    "photo|hash=00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff",
    "acquired|stage=L4|scheme=1",
    "reading|t=20",
    "void|names=1004",
    "void|names=5"
  };
  Journal *journal = journal_new ();

  for (gsize i = 0; i < G_N_ELEMENTS (lines); i++)
    journal_add (journal, 20000 + (CoreDay) i, lines[i]);
  return journal;
}

static void
test_fold (void)
{
  g_autoptr (Journal) journal = sample ();
  const CoreEntry *const *entries = (const CoreEntry *const *) journal->entries->pdata;
  size_t n = journal->entries->len;
  long tried = 0;

  do
    {
      CoreState state;
      CoreStatus status;

      core_state_init (&state);
      failed = FALSE;
      until_failure = tried++;
      status = core_fold (journal->subject, CORE_SUBJECT_ANIMAL, entries, n, &state);
      until_failure = -1;
      g_assert_cmpint (status, ==, failed ? CORE_NO_MEMORY : CORE_OK);
      g_assert_cmpint (state.exists, ==, !failed);
      core_state_clear (&state);
    }
  while (failed);
  g_assert_cmpint (tried, >, 15);
}

static void
test_live (void)
{
  g_autoptr (Journal) journal = sample ();
  const CoreEntry *const *entries = (const CoreEntry *const *) journal->entries->pdata;
  size_t n = journal->entries->len;
  g_autofree uint8_t *live = g_new0 (uint8_t, n);
  long tried = 0;

  do
    {
      CoreConflict *conflicts = NULL;
      size_t n_conflicts = 0;

      failed = FALSE;
      until_failure = tried++;
      g_assert_cmpint (core_live (entries, n, live, &conflicts, &n_conflicts), ==,
                       failed ? CORE_NO_MEMORY : CORE_OK);
      until_failure = -1;
      g_assert_cmpuint (n_conflicts, ==, failed ? 0 : 1);
      free (conflicts);
    }
  while (failed);
  g_assert_cmpint (tried, >, 2);
}

static void
test_entry (void)
{
  long tried = 0;

  do
    {
      CoreEntry *entry, *copy = NULL;
      CoreValueStatus status = CORE_VALUE_NO_MEMORY;

      failed = FALSE;
      until_failure = tried++;
      entry = core_entry_new (CORE_KIND_FED);
      if (entry != NULL)
        status = core_entry_set_text (entry, "prey", "house fly");
      if (status == CORE_VALUE_OK)
        copy = core_entry_copy (entry);
      until_failure = -1;
      g_assert_cmpint (copy == NULL, ==, failed);
      g_assert_true (status == CORE_VALUE_OK || status == CORE_VALUE_NO_MEMORY);
      core_entry_free (entry);
      core_entry_free (copy);
    }
  while (failed);
  g_assert_cmpint (tried, ==, 7);
}

static void
test_round (void)
{
  static const CoreRoundTerm terms[] = { { "looked", CORE_WORD_LOOKED, 0 },
                                         { "drank", CORE_WORD_DRANK, 0 } };
  CoreRoundCup cup = { .number = "7", .living_single = true };
  CoreRoundShelf shelf = { &cup, 1, 1, 0 };
  long tried = 0;

  do
    {
      CoreRoundLine line;
      CoreRoundPlan plan = { 0 };
      CoreStatus status;

      failed = FALSE;
      until_failure = tried++;
      status = core_round_parse ("looked; 7 drank", terms, 2, &shelf, &line);
      if (status == CORE_OK)
        status = core_round_resolve (&line, &shelf, &plan);
      until_failure = -1;
      g_assert_cmpint (status, ==, failed ? CORE_NO_MEMORY : CORE_OK);
      g_assert_cmpuint (plan.n_writes, ==, failed ? 0 : 2);
      core_round_plan_clear (&plan);
      core_round_line_clear (&line);
    }
  while (failed);
  g_assert_cmpint (tried, ==, 6);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/core/oom/entry", test_entry);
  g_test_add_func ("/core/oom/fold", test_fold);
  g_test_add_func ("/core/oom/live", test_live);
  g_test_add_func ("/core/oom/round", test_round);
  return g_test_run ();
}
