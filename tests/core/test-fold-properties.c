/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-fold-properties.c — random journals: what must hold of every one of them. */
#include "journal.h"

#include <math.h>
#include <string.h>

#include "core/core-sex.h"

#define ROUNDS 150
#define LENGTH 60

#define HASH "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff"
#define OTHER_HASH "ff112233445566778899aabbccddeeff00112233445566778899aabbccddeeff"

static const char *const pool[] = {
  "hatched",
  "acquired|stage=L3|scheme=1",
  "acquired|stage=L4",
  "acquired|moults=2",
  "looked",
  "looked|bulk",
  "fed|prey=hydei|n=4|bulk",
  "fed|prey=house fly|outcome=taken",
  "fed|outcome=refused",
  "fed|outcome=none_in_view",
  "gone",
  "drank|eager=yes",
  "misted|bulk",
  "watered",
  "cleaned",
  "moulted",
  "moulted|seen=yes|outcome=good",
  "moulted|seen=found|outcome=limb",
  "moulted|to=subadult",
  "moulted|to=adult",
  "stage|seen=nymph",
  "stage|seen=subadult",
  "stage|seen=adult",
  "stage|seen=nymph|moults=3",
  "sign|sign=sluggish",
  "sign|sign=refuses",
  "sign|sign=hanging",
  "belly|score=2",
  "belly|score=4",
  "measured|what=body|mm=21.5|sd=.5",
  "photo|hash=" HASH,
  "sexed|sex=male|method=count",
  "sexed|sex=female|method=laid",
  "sexed|sex=male|method=joined",
  "housed|at=3|height_mm=120",
  "note|text=a note",
  "trouble|what=fell",
  "looks_dead",
  "died|cause=age",
  "escaped",
  "found",
  "left|how=lent",
  "back",
  "done|rule=clean",
  "put_off|rule=sex_check|until=2026-01-20",
  "doubtful",
  "doubtful|text=two cups fell over",
  "doubtful|over=yes",
  "exchanged",
  "set|key=name|value=Asra",
  "set|key=name|value=Bela",
  "set|key=species|value=Tenodera sinensis",
};

static void
add_void (Journal *journal, CoreDay day)
{
  CoreEntry *entry = journal_add (journal, day, "void");
  uint64_t first = 1000, span = journal->next - first;

  /* Sometimes itself, sometimes one that is not there. */
  entry->names = test_id (first + journal_draw ((unsigned) span + 2));
}

static void
add_marked (Journal *journal, CoreDay day)
{
  CoreEntry *entry = journal_add (journal, day, "photo|hash=" HASH);
  CoreEntry *marked = core_entry_new (CORE_KIND_MARKED);

  marked->id = test_id (journal->next++);
  marked->subject = journal->subject;
  marked->day = day + (CoreDay) journal_draw (5);
  g_assert_cmpint (core_entry_set_ref (marked, CORE_KEY_PHOTO, entry->id), ==, CORE_VALUE_OK);
  g_assert_cmpint (core_entry_set_num (marked, CORE_KEY_OF, journal_draw (2)), ==, CORE_VALUE_OK);
  g_assert_cmpint (core_entry_set_num (marked, CORE_KEY_COUNT, 5 + journal_draw (4)), ==, CORE_VALUE_OK);
  g_ptr_array_add (journal->entries, marked);
}

static Journal *
random_journal (unsigned seed)
{
  Journal *journal = journal_new ();

  journal_seed (seed + 1);
  for (int i = 0; i < LENGTH; i++)
    {
      CoreDay day = 20000 + (CoreDay) journal_draw (80);
      CoreEntry *entry;

      if (journal_draw (8) == 0)
        {
          add_void (journal, day);
          continue;
        }
      if (journal_draw (20) == 0)
        {
          add_marked (journal, day);
          continue;
        }
      entry = journal_add (journal, day, pool[journal_draw (G_N_ELEMENTS (pool))]);
      if (journal_draw (4) == 0)
        entry->minute = (int16_t) journal_draw (1440);
      if (journal_draw (6) == 0)
        entry->earliest = day - (CoreDay) journal_draw (6);
      if (journal_draw (10) == 0)
        entry->names = test_id (1000 + journal_draw (LENGTH));
    }
  return journal;
}

static void
shuffle (CoreEntry **entries, size_t n)
{
  for (size_t i = n; i > 1; i--)
    {
      size_t k = journal_draw ((unsigned) i);
      CoreEntry *kept = entries[i - 1];

      entries[i - 1] = entries[k];
      entries[k] = kept;
    }
}

static void
check_sound (const CoreState *state)
{
  double sum = 0;

  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    {
      g_assert_cmpfloat (state->moults_p[m], >=, 0);
      sum += state->moults_p[m];
    }
  if (state->basis == CORE_BASIS_UNKNOWN)
    g_assert_cmpfloat (sum, ==, 0);
  else
    g_assert_cmpfloat_with_epsilon (sum, 1, 1e-9);
  g_assert_cmpint (state->moults >= 0, ==, state->basis != CORE_BASIS_UNKNOWN);
  for (size_t i = 0; i < state->stages.n; i++)
    {
      g_assert_true (state->stages.v[i].lo < state->stages.v[i].hi);
      g_assert_true (i == 0 || state->stages.v[i].start == CORE_START_MOULTED);
    }
  for (size_t i = 1; i < state->looks.n; i++)
    {
      g_assert_true (state->looks.v[i - 1].t < state->looks.v[i].t);
      g_assert_cmpint (state->looks.v[i - 1].day, <, state->looks.v[i].day);
    }
}

static void
test_shuffle_split_merge (void)
{
  for (unsigned seed = 0; seed < ROUNDS; seed++)
    {
      g_autoptr (Journal) journal = random_journal (seed);
      size_t n = journal->entries->len;
      g_autofree CoreEntry **mixed = g_memdup2 (journal->entries->pdata, n * sizeof *mixed);
      CoreState whole, other;

      core_state_init (&whole);
      core_state_init (&other);
      journal_fold (journal, CORE_SUBJECT_ANIMAL, &whole);
      check_sound (&whole);
      for (int i = 0; i < 3; i++)
        {
          shuffle (mixed, n);
          fold_live (mixed, n, journal->subject, CORE_SUBJECT_ANIMAL, &other);
          g_assert_true (core_state_equal (&whole, &other));
        }
      core_state_clear (&whole);
      core_state_clear (&other);
    }
}

/* Two copies with a common past, merged as a union of sets, whoever is first. */
static void
test_merge_copies (void)
{
  for (unsigned seed = 0; seed < ROUNDS; seed++)
    {
      g_autoptr (Journal) journal = random_journal (seed);
      size_t n = journal->entries->len, n_merged = 0;
      g_autofree CoreEntry **merged = g_new0 (CoreEntry *, n);
      CoreState whole, other;

      core_state_init (&whole);
      core_state_init (&other);
      journal_fold (journal, CORE_SUBJECT_ANIMAL, &whole);
      for (int copy = 0; copy < 2; copy++)
        for (size_t i = 0; i < n; i++)
          if ((int) (i % 3 == 0) == copy)
            merged[n_merged++] = g_ptr_array_index (journal->entries, i);
      g_assert_cmpuint (n_merged, ==, n);
      fold_live (merged, n, journal->subject, CORE_SUBJECT_ANIMAL, &other);
      g_assert_true (core_state_equal (&whole, &other));
      core_state_clear (&whole);
      core_state_clear (&other);
    }
}

/* The same entry from two copies counts once. */
static void
test_same_entry_twice (void)
{
  for (unsigned seed = 0; seed < ROUNDS; seed++)
    {
      g_autoptr (Journal) journal = random_journal (seed);
      size_t n = journal->entries->len;
      g_autofree CoreEntry **twice = g_new0 (CoreEntry *, 2 * n);
      CoreState whole, other;

      core_state_init (&whole);
      core_state_init (&other);
      memcpy (twice, journal->entries->pdata, n * sizeof *twice);
      memcpy (twice + n, journal->entries->pdata, n * sizeof *twice);
      shuffle (twice, 2 * n);
      journal_fold (journal, CORE_SUBJECT_ANIMAL, &whole);
      fold_live (twice, 2 * n, journal->subject, CORE_SUBJECT_ANIMAL, &other);
      g_assert_true (core_state_equal (&whole, &other));
      core_state_clear (&whole);
      core_state_clear (&other);
    }
}

static void
test_prefixes (void)
{
  for (unsigned seed = 0; seed < ROUNDS / 3; seed++)
    {
      g_autoptr (Journal) journal = random_journal (seed);
      CoreState state;

      core_state_init (&state);
      for (size_t n = 0; n <= journal->entries->len; n++)
        {
          fold_live ((CoreEntry *const *) journal->entries->pdata, n, journal->subject,
                     CORE_SUBJECT_ANIMAL, &state);
          check_sound (&state);
          g_assert_cmpint (state.exists, ==, state.first_day != CORE_DAY_NONE);
        }
      core_state_clear (&state);
    }
}

static void
add_naming (Journal *journal, uint64_t number)
{
  g_autofree char *text = g_strdup_printf ("void|names=%" G_GUINT64_FORMAT, number);

  journal_add (journal, 20100, text);
}

/* Taking an entry back gives the journal without it; taking that back restores it. */
static void
test_void_and_restore (void)
{
  unsigned restored = 0;

  for (unsigned seed = 0; seed < ROUNDS; seed++)
    {
      g_autoptr (Journal) journal = random_journal (seed);
      uint64_t fresh = journal->next;
      CoreState without, with, state;

      core_state_init (&without);
      core_state_init (&with);
      core_state_init (&state);
      journal_fold (journal, CORE_SUBJECT_ANIMAL, &without);
      journal_add (journal, 20090, "fed|prey=moth|n=1|outcome=taken");
      journal_fold (journal, CORE_SUBJECT_ANIMAL, &with);
      for (uint64_t i = 0; i < 4; i++)
        {
          add_naming (journal, fresh + i);
          journal_fold (journal, CORE_SUBJECT_ANIMAL, &state);
          g_assert_true (core_state_equal (&state, i % 2 == 0 ? &without : &with));
        }
      restored += !core_state_equal (&without, &with);
      core_state_clear (&without);
      core_state_clear (&with);
      core_state_clear (&state);
    }
  g_assert_cmpuint (restored, ==, ROUNDS);
}

/* The order is total: antisymmetric and transitive on drawn entries. */
static void
test_order (void)
{
  g_autoptr (Journal) journal = random_journal (7);
  const CoreEntry *const *v = (const CoreEntry *const *) journal->entries->pdata;
  size_t n = journal->entries->len;

  for (size_t i = 0; i < n; i++)
    for (size_t k = 0; k < n; k++)
      {
        g_assert_cmpint (core_entry_compare (v[i], v[k]), ==, -core_entry_compare (v[k], v[i]));
        g_assert_cmpint (core_entry_compare (v[i], v[k]) == 0, ==, i == k);
        for (size_t m = 0; m < n; m++)
          if (core_entry_compare (v[i], v[k]) < 0 && core_entry_compare (v[k], v[m]) < 0)
            g_assert_cmpint (core_entry_compare (v[i], v[m]), ==, -1);
      }
}

/* Kinds that follow on what was said before: there the order of writing counts. */
static gboolean
follows_on (const CoreEntry *entry)
{
  return entry->kind == CORE_KIND_SET || entry->kind == CORE_KIND_HOUSED || entry->kind == CORE_KIND_FED ||
         entry->kind == CORE_KIND_DOUBTFUL || entry->kind == CORE_KIND_EXCHANGED;
}

/* Many entries on each day, none that names another. */
static Journal *
crowded_journal (unsigned seed)
{
  Journal *journal = random_journal (seed);

  for (guint i = 0; i < journal->entries->len;)
    {
      CoreEntry *entry = g_ptr_array_index (journal->entries, i);

      entry->day = 20000 + (entry->day - 20000) / 8;
      if (follows_on (entry) || entry->kind == CORE_KIND_VOID || entry->kind == CORE_KIND_MARKED ||
          !core_id_is_none (entry->names))
        g_ptr_array_remove_index (journal->entries, i);
      else
        i++;
    }
  return journal;
}

static void
write_in_another_order (Journal *journal)
{
  for (guint i = journal->entries->len; i > 1; i--)
    {
      CoreEntry *one = g_ptr_array_index (journal->entries, i - 1);
      CoreEntry *two = g_ptr_array_index (journal->entries, journal_draw (i));
      CoreId kept = one->id;

      one->id = two->id;
      two->id = kept;
    }
}

/* What was seen on one day is the same state in whatever order it was written. */
static void
test_order_of_writing (void)
{
  unsigned scored = 0;

  for (unsigned seed = 0; seed < ROUNDS; seed++)
    {
      g_autoptr (Journal) journal = crowded_journal (seed);
      CoreState whole, other;

      core_state_init (&whole);
      core_state_init (&other);
      journal_fold (journal, CORE_SUBJECT_ANIMAL, &whole);
      write_in_another_order (journal);
      journal_fold (journal, CORE_SUBJECT_ANIMAL, &other);
      g_assert_cmpint (whole.belly, ==, other.belly);
      g_assert_cmpint (whole.belly_day, ==, other.belly_day);
      g_assert_cmpint (whole.moults, ==, other.moults);
      g_assert_cmpint (whole.adult, ==, other.adult);
      g_assert_cmpint (whole.adult_seen, ==, other.adult_seen);
      g_assert_cmpint (whole.subadult, ==, other.subadult);
      g_assert_cmpint (whole.end, ==, other.end);
      g_assert_cmpuint (whole.stages.n, ==, other.stages.n);
      g_assert_cmpuint (whole.looks.n, ==, other.looks.n);
      g_assert_cmpuint (whole.conflicts.n, ==, other.conflicts.n);
      scored += whole.belly != 0;
      core_state_clear (&whole);
      core_state_clear (&other);
    }
  g_assert_cmpuint (scored, >, ROUNDS / 4);
}

/* ---- detaching a photo ---- */

static CoreEntry *
sure_marks (Journal *journal, CoreDay day, CoreId photo, int count)
{
  CoreEntry *marked = core_entry_new (CORE_KIND_MARKED);

  marked->id = test_id (journal->next++);
  marked->subject = journal->subject;
  marked->day = day;
  g_assert_cmpint (core_entry_set_ref (marked, CORE_KEY_PHOTO, photo), ==, CORE_VALUE_OK);
  g_assert_cmpint (core_entry_set_num (marked, CORE_KEY_COUNT, count), ==, CORE_VALUE_OK);
  g_assert_cmpint (core_entry_set_word (marked, CORE_KEY_SMALL_PLATE, "not"), ==, CORE_VALUE_OK);
  g_ptr_array_add (journal->entries, marked);
  return marked;
}

static double
male_of (const Journal *journal, CoreState *state)
{
  CoreProfile profile = { .male_prior = .5, .readable_from = 3 };
  CoreSexVerdict verdict;
  double male;

  journal_fold (journal, CORE_SUBJECT_ANIMAL, state);
  g_assert_cmpint (core_sex_of_state (&profile, state, &verdict), ==, CORE_OK);
  male = verdict.male;
  core_sex_verdict_clear (&verdict);
  return male;
}

/* A shed skin of an early stage, marked when it is long past: taken back, its marks say
 * nothing, also not of the day on which they were placed. */
static void
test_detach (void)
{
  for (int moults = 0; moults < 7; moults++)
    for (int count = 6; count <= 8; count += 2)
      {
        g_autoptr (Journal) journal = journal_new ();
        CoreState state;
        CoreEntry *photo, *taken_back;
        double with;

        core_state_init (&state);
        journal_add (journal, 100, "hatched");
        for (int i = 0; i < 6; i++)
          journal_add (journal, 110 + 10 * i, "moulted");
        photo = journal_add (journal, 102 + 10 * moults, "photo|hash=" HASH);
        sure_marks (journal, 180, photo->id, count);
        with = male_of (journal, &state);
        g_assert_true (moults < 3 ? fabs (with - .5) < 1e-9 : fabs (with - .5) > .3);
        g_assert_cmpuint (state.sex.n, ==, 1);
        taken_back = journal_add (journal, 190, "void");
        taken_back->names = photo->id;
        g_assert_cmpfloat_with_epsilon (male_of (journal, &state), .5, 1e-9);
        g_assert_cmpuint (state.sex.n, ==, 0);
        g_assert_cmpint (core_state_last_look (&state), ==, 160);
        core_state_clear (&state);
      }
}

/* Of two photos one taken back: as if only the other had ever been marked. A photo that was
 * corrected keeps its marks. */
static void
test_detach_one_of_two (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreState state;
  CoreEntry *first, *second, *other;
  double alone, both;

  core_state_init (&state);
  journal_add (journal, 100, "hatched");
  for (int i = 0; i < 5; i++)
    journal_add (journal, 110 + 10 * i, "moulted");
  first = journal_add (journal, 141, "photo|hash=" HASH);
  sure_marks (journal, 142, first->id, 6);
  alone = male_of (journal, &state);
  second = journal_add (journal, 151, "photo|hash=" OTHER_HASH);
  sure_marks (journal, 152, second->id, 6);
  both = male_of (journal, &state);
  g_assert_cmpfloat (both, <, alone);
  other = journal_add (journal, 150, "photo|hash=" OTHER_HASH);
  other->names = second->id;
  g_assert_cmpfloat_with_epsilon (male_of (journal, &state), both, 1e-9);
  g_assert_cmpint (state.sex.v[1].day, ==, 150);
  journal_add (journal, 160, "void")->names = other->id;
  journal_add (journal, 160, "void")->names = second->id;
  g_assert_cmpfloat_with_epsilon (male_of (journal, &state), alone, 1e-9);
  core_state_clear (&state);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/core/fold/order", test_order);
  g_test_add_func ("/core/fold/shuffle", test_shuffle_split_merge);
  g_test_add_func ("/core/fold/merge", test_merge_copies);
  g_test_add_func ("/core/fold/twice", test_same_entry_twice);
  g_test_add_func ("/core/fold/prefixes", test_prefixes);
  g_test_add_func ("/core/fold/void-and-restore", test_void_and_restore);
  g_test_add_func ("/core/fold/order-of-writing", test_order_of_writing);
  g_test_add_func ("/core/fold/detach", test_detach);
  g_test_add_func ("/core/fold/detach-one-of-two", test_detach_one_of_two);
  return g_test_run ();
}
