/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-words-identity.c — which animal it is, and the groups of a timeline, in words. */
#include "words-test.h"

#include <locale.h>

#include "words/words-told.h"

/* Which animal it is: on the card, in its sentence, in the entries. */
static void
test_identity (void)
{
  WordsView view = { WORDS_ENGLISH, wt_today (), 1 };
  CoreEntry *doubtful = wt_entry (CORE_KIND_DOUBTFUL, "text=two cups fell over", NULL);
  CoreEntry *over = wt_entry (CORE_KIND_DOUBTFUL, "over=yes", NULL);
  CoreEntry *exchanged = wt_entry (CORE_KIND_EXCHANGED, NULL);
  WordsEntry what = { .entry = doubtful };
  CoreReason reason = wt_reason ("forecast.identity", CORE_UNIT_NONE, 0, 0);
  CoreState s;

  core_state_init (&s);
  g_assert_null (words_identity (&view, &s));
  s.moults = 4;
  s.basis = CORE_BASIS_ESTIMATED;
  s.doubtful_since = wt_day ("2026-11-20");
  wt_says (words_animal (&view, &s, NULL, NULL, NULL),
           "About the fifth stage, identity doubtful since 20 Nov, no meal entered.");
  reason.day = s.doubtful_since;
  wt_says (words_reason (&view, &reason), "Which animal this is has been doubtful since 20 Nov: it "
                                          "may be a stage behind or ahead.");
  doubtful->day = wt_day ("2026-11-24");
  doubtful->earliest = wt_day ("2026-11-20");
  wt_says (words_entry (&view, &what),
           "which animal this is: doubtful since 20 Nov; two cups fell over");
  what.entry = over;
  wt_says (words_entry (&view, &what), "decided: it is this animal after all");
  exchanged->day = wt_day ("2026-11-20");
  what = (WordsEntry){ .entry = exchanged, .place = "15" };
  wt_says (words_entry (&view, &what), "had been mixed up with 15 since 20 Nov; what was seen since "
                                       "then has changed sides");
  what = (WordsEntry){ .entry = over, .corrected = TRUE, .was_of = "15" };
  wt_says (words_entry (&view, &what), "decided: it is this animal after all; entered with 15");
  what = (WordsEntry){ .entry = over, .taken_back = TRUE, .now_of = "15" };
  wt_says (words_entry (&view, &what), "decided: it is this animal after all; belongs to 15");
  core_entry_free (doubtful);
  core_entry_free (over);
  core_entry_free (exchanged);
  core_state_clear (&s);
}

static void
told_says (WordsTold told, const char *head, const char *text)
{
  g_assert_cmpstr (told.head, ==, head);
  g_assert_cmpstr (told.text, ==, text);
  words_told_clear (&told);
}

/* In the giver's words and by the giver's count, whatever the keeper's is. */
static void
test_told (void)
{
  WordsView view = { WORDS_ENGLISH, wt_today (), 2 };
  CoreSexReading male = { .from = CORE_KIND_SEXED, .method = CORE_METHOD_CLAIM, .sex = CORE_SEX_MALE };
  CoreSexReading read = { .from = CORE_KIND_SEXED, .method = CORE_METHOD_WINGS, .sex = CORE_SEX_FEMALE };
  CoreSexReading both[] = { male, read };
  WordsKin kin = { .mother = "14", .lot = "H7" };
  CoreState s;

  core_state_init (&s);
  told_says (words_told (&view, &s, NULL), NULL, NULL);
  told_says (words_told (&view, &s, ""), NULL, NULL);
  told_says (words_told (&view, &s, "Ada"), "Came from:", "Ada");
  g_strlcpy (s.claim_stage, "L4", sizeof s.claim_stage);
  told_says (words_told (&view, &s, NULL), "As told:", "L4, scheme not known");
  s.claim_scheme = 1;
  s.sex.v = both;
  s.sex.n = 2;
  told_says (words_told (&view, &s, "Ada"), "Told by Ada:", "L4 (hatchling = L1), male");
  g_strlcpy (s.claim_stage, "adult", sizeof s.claim_stage);
  both[0].of_other = true; /* of another animal, while nobody knew which */
  told_says (words_told (&view, &s, "Ada"), "Told by Ada:", "adult");
  told_says (words_kin (&view, &kin), "Descent:", "mother 14, out of lot H7");
  told_says (words_kin (&view, &(WordsKin){ NULL }), NULL, NULL);
  told_says (words_name_told (&view, &s), NULL, NULL);
  s.sex.v = NULL;
  s.sex.n = 0;
  core_state_clear (&s);
}

/* Every kind has one group, and no kind is a correction by itself. */
static void
test_groups (void)
{
  guint n[WORDS_N_GROUPS] = { 0 };

  for (int kind = CORE_KIND_NONE + 1; kind < CORE_N_KINDS; kind++)
    n[words_entry_group_of ((CoreKind) kind)]++;
  for (int group = 0; group < WORDS_N_GROUPS; group++)
    g_assert_cmpint (n[group] > 0, ==, group != WORDS_GROUP_CORRECTIONS);
  g_assert_cmpint (words_entry_group_of (CORE_KIND_FED), ==, WORDS_GROUP_MEALS);
  g_assert_cmpint (words_entry_group_of (CORE_KIND_MOULTED), ==, WORDS_GROUP_GROWTH);
  g_assert_cmpint (words_entry_group_of (CORE_KIND_MARKED), ==, WORDS_GROUP_SEX);
  g_assert_cmpstr (words_entry_group (WORDS_ENGLISH, WORDS_GROUP_CARE), ==, "Care");
  wt_says (words_entries_shown (WORDS_ENGLISH, 1, 1), "1 entry");
  wt_says (words_entries_shown (WORDS_ENGLISH, 57, 57), "57 entries");
  wt_says (words_entries_shown (WORDS_ENGLISH, 6, 57), "6 of 57 entries");
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/words/identity", test_identity);
  g_test_add_func ("/words/groups", test_groups);
  g_test_add_func ("/words/told", test_told);
  return g_test_run ();
}
