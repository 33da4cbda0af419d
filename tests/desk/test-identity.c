/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-identity.c — animals that were mixed up, through the desk: the same states as if it had been
 * written right at once, after opening again, with another program writing, and after undo. */
#include "desk-fixture.h"

#include <string.h>

#include "desk/desk-identity.h"

static guint
mix (Desk *desk, DeskSubject *a, DeskSubject *b, CoreDay since)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  guint moved = 0;

  desk_mixed_async (desk, desk_subject_id (a), desk_subject_id (b), since, NULL, 0, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  g_assert_true (desk_mixed_finish (desk, result, &moved, &error));
  g_assert_no_error (error);
  return moved;
}

static gboolean
swap (Desk *desk, DeskSubject *a, DeskSubject *b)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  desk_swap_async (desk, desk_subject_id (a), desk_subject_id (b), desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  return desk_swap_finish (desk, result, &error);
}

/* What can be told apart of an animal, its meals, looks and stages by day. */
static char *
said (Desk *desk, DeskSubject *subject)
{
  g_autoptr (DeskSubject) now = fixture_now (desk, subject);
  const CoreState *s = desk_subject_state (now);
  GString *out = g_string_new (NULL);

  g_string_append_printf (out, "m%d basis%d belly%d end%d@%d refused%d sex%d", s->moults, (int) s->basis,
                          s->belly, (int) s->end, s->end_day, s->refusals_since_taken,
                          (int) desk_subject_verdict (now)->verdict);
  for (gsize i = 0; i < s->looks.n; i++)
    g_string_append_printf (out, " l%d", s->looks.v[i].day);
  for (gsize i = 0; i < s->meals.n; i++)
    g_string_append_printf (out, " f%d:%d:%d", s->meals.v[i].day, s->meals.v[i].prey, s->meals.v[i].outcome);
  for (gsize i = 0; i < s->stages.n; i++)
    g_string_append_printf (out, " s%g:%g", s->stages.v[i].lo, s->stages.v[i].hi);
  for (gsize i = 0; i < s->conflicts.n; i++)
    g_string_append_printf (out, " c%d", (int) s->conflicts.v[i].kind);
  return g_string_free (out, FALSE);
}

static const struct
{
  const char *kind, *pairs;
} seen[] = {
  { "looked", "" },
  { "fed", "prey=moth outcome=taken" },
  { "fed", "prey=hydei outcome=refused" },
  { "fed", "prey=cricket n=1" },
  { "gone", "" },
  { "belly", "score=3" },
  { "drank", "" },
  { "note", "text=seen" },
  { "trouble", "what=foot" },
  { "measured", "what=body mm=30" },
};

#define SINCE (-12)
#define PAIRS 40

static DeskSubject *
add (Desk *desk)
{
  return fixture_add (desk, CORE_SUBJECT_ANIMAL, "species=hierodula hatched=2026-02-01 moults=4 "
                                                 "acquired=2026-04-20");
}

/* The same life twice: of the first pair written for the wrong one since that day, of the second
 * for the right one. */
static void
live (Desk *desk, DeskSubject *pair[2], DeskSubject *right[2], guint seed)
{
  fixture_seed (G_GUINT64_CONSTANT (0x9e3779b97f4a7c15) * (seed + 1));
  for (int i = 0; i < PAIRS; i++)
    {
      int day = -(int) fixture_draw (24);
      guint k = fixture_draw (2), what = fixture_draw (G_N_ELEMENTS (seen));

      fixture_record (desk, pair[day >= SINCE ? 1 - k : k], seen[what].kind, seen[what].pairs, day);
      fixture_record (desk, right[k], seen[what].kind, seen[what].pairs, day);
    }
  fixture_record (desk, pair[0], "moulted", "outcome=good", -5);
  fixture_record (desk, right[1], "moulted", "outcome=good", -5);
}

static void
assert_same (Desk *desk, DeskSubject *pair[2], DeskSubject *right[2])
{
  for (int k = 0; k < 2; k++)
    {
      g_autofree char *got = said (desk, pair[k]);
      g_autofree char *wanted = said (desk, right[k]);

      g_assert_cmpstr (got, ==, wanted);
    }
}

static void
test_as_if_written_right (Fixture *f, gconstpointer data)
{
  for (guint seed = 0; seed < 3; seed++)
    {
      DeskSubject *pair[2] = { add (f->desk), add (f->desk) };
      DeskSubject *right[2] = { add (f->desk), add (f->desk) };
      g_autoptr (DeskChange) undone = NULL;
      g_autofree char *before = NULL;
      g_autofree char *after = NULL;
      g_autofree char *again = NULL;

      live (f->desk, pair, right, seed);
      before = said (f->desk, pair[0]);
      g_assert_cmpuint (mix (f->desk, pair[0], pair[1], fixture_day (SINCE)), >, 0);
      assert_same (f->desk, pair, right);
      fixture_reopen (f, DESK_OPEN_LAZY);
      assert_same (f->desk, pair, right);
      after = said (f->desk, pair[0]);
      g_assert_cmpstr (after, !=, before);
      undone = fixture_undo (f->desk);
      g_assert_cmpint (undone->said->kind, ==, CORE_KIND_EXCHANGED);
      again = said (f->desk, pair[0]);
      g_assert_cmpstr (again, ==, before);
      fixture_reopen (f, DESK_OPEN_LAZY);
      desk_change_free (fixture_redo (f->desk));
      assert_same (f->desk, pair, right);
      for (int k = 0; k < 2; k++)
        {
          desk_subject_unref (pair[k]);
          desk_subject_unref (right[k]);
        }
    }
}

/* What another program wrote of the two meanwhile is given to the right one too. */
static void
test_written_meanwhile (Fixture *f, gconstpointer data)
{
  DeskSubject *pair[2] = { add (f->desk), add (f->desk) };
  Desk *other = fixture_open (f, DESK_OPEN_LAZY);
  g_autofree char *got = NULL;

  fixture_record (f->desk, pair[0], "belly", "score=4", -3);
  fixture_record (other, pair[0], "fed", "prey=moth outcome=taken", -2);
  g_assert_cmpuint (mix (f->desk, pair[0], pair[1], fixture_day (-4)), ==, 2);
  got = said (f->desk, pair[1]);
  g_assert_nonnull (strstr (got, "belly4"));
  g_assert_nonnull (strstr (got, " f"));
  fixture_close (other);
  desk_subject_unref (pair[0]);
  desk_subject_unref (pair[1]);
}

/* Who has an entry now, and for whom it was written, along a row of replacements. */
static void
test_owners (Fixture *f, gconstpointer data)
{
  DeskSubject *pair[2] = { add (f->desk), add (f->desk) };
  CoreId belly = fixture_record (f->desk, pair[0], "belly", "score=4", -3), moved, corrected;
  g_autofree char *now = NULL;
  g_autofree char *was = NULL;

  g_assert_null (desk_entry_now_of (f->desk, desk_entry (f->desk, belly)));
  g_assert_null (desk_entry_was_of (f->desk, desk_entry (f->desk, belly)));
  mix (f->desk, pair[0], pair[1], fixture_day (-4));
  moved = desk_entry_heir (f->desk, belly)->id;
  corrected = fixture_correct (f->desk, moved, "score=2");
  g_assert_true (core_id_equal (desk_entry_heir (f->desk, belly)->id, corrected));
  now = desk_entry_now_of (f->desk, desk_entry (f->desk, belly));
  g_assert_cmpstr (now, ==, desk_subject_label (pair[1]));
  was = desk_entry_was_of (f->desk, desk_entry (f->desk, corrected));
  g_assert_cmpstr (was, ==, desk_subject_label (pair[0]));
  fixture_void (f->desk, corrected);
  fixture_void (f->desk, moved);
  g_assert_null (desk_entry_heir (f->desk, belly));
  desk_subject_unref (pair[0]);
  desk_subject_unref (pair[1]);
}

/* The order shown is kept, whoever had a position before. */
static void
test_places (Fixture *f, gconstpointer data)
{
  DeskSubject *shelf = fixture_add (f->desk, CORE_SUBJECT_PLACE, "code=A");
  DeskSubject *cups[5];
  static const int wanted[] = { 3, 1, 2, 0, 4 };
  g_autoptr (GPtrArray) shown = NULL;

  for (int i = 0; i < 5; i++)
    cups[i] = fixture_add (f->desk, CORE_SUBJECT_ANIMAL,
                           i == 1 ? "species=hierodula place=A at=1" : "species=hierodula place=A");
  fixture_move (f->desk, cups[0], shelf, cups[1]);
  g_assert_true (swap (f->desk, cups[0], cups[3]));
  shown = desk_animals_on (f->desk, desk_subject_id (shelf));
  for (guint i = 0; i < shown->len; i++)
    g_assert_true (core_id_equal (desk_subject_id (shown->pdata[i]), desk_subject_id (cups[wanted[i]])));
  g_assert_false (swap (f->desk, cups[0], cups[0]));
  g_assert_false (swap (f->desk, cups[0], shelf));
  for (int i = 0; i < 5; i++)
    desk_subject_unref (cups[i]);
  desk_subject_unref (shelf);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
#define ADD(path, test) g_test_add (path, Fixture, NULL, fixture_set_up, test, fixture_tear_down)
  ADD ("/desk/identity/as-if-written-right", test_as_if_written_right);
  ADD ("/desk/identity/written-meanwhile", test_written_meanwhile);
  ADD ("/desk/identity/owners", test_owners);
  ADD ("/desk/identity/places", test_places);
  return g_test_run ();
}
