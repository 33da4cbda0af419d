/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-snapshot.c — a kept collection is the one that the entries give, or it is not used. */
#include "desk/desk-sealed.h"

#include <glib/gstdio.h>
#include <sqlite3.h>
#include <string.h>

#include "demo/demo.h"
#include "desk-fixture.h"
#include "exchange/exch-file.h"

#define ANIMALS 60
#define DAYS 90

static char *data_home; /* where the key lies */

typedef struct
{
  Fixture base;
  char *file;  /* the snapshot */
  sqlite3 *db; /* beside the desk, for damage */
} Kept;

static void
sql (Kept *kept, const char *text)
{
  char *message = NULL;

  if (sqlite3_exec (kept->db, text, NULL, NULL, &message) != SQLITE_OK)
    g_error ("%s: %s", text, message);
}

static Desk *
open_at (Kept *kept, CoreDay today, DeskOpenFlags flags)
{
  g_autoptr (GError) error = NULL;
  Desk *desk = desk_open (kept->base.dir, today, flags, &error);

  g_assert_no_error (error);
  return desk;
}

static Desk *
open_kept (Kept *kept)
{
  return open_at (kept, kept->base.today, DESK_OPEN_DEFAULT);
}

/* As if there never had been a snapshot, and leaving none. */
static Desk *
open_rebuilt (Kept *kept)
{
  g_autofree char *aside = g_strconcat (kept->file, ".aside", NULL);
  Desk *desk;

  g_assert_cmpint (g_rename (kept->file, aside), ==, 0);
  desk = open_kept (kept);
  g_assert_cmpint (g_rename (aside, kept->file), ==, 0);
  g_assert_cmpuint (desk->all.kept.count, ==, 0);
  return desk;
}

static gboolean
was_used (Desk *desk)
{
  return desk->all.kept.count > 0;
}

static void
close_without_keeping (Desk *desk)
{
  guint from = desk_snapshot_from;

  desk_snapshot_from = G_MAXUINT;
  fixture_close (desk);
  desk_snapshot_from = from;
}

static void
set_up (Kept *kept, gconstpointer data)
{
  DemoSynth what = { ANIMALS, DAYS, 5 };
  g_autofree char *file = NULL;
  g_autoptr (GError) error = NULL;
  Desk *desk;

  desk_snapshot_from = 1;
  kept->base.dir = g_dir_make_tmp ("mantidary-kept-XXXXXX", NULL);
  kept->file = g_build_filename (kept->base.dir, DESK_SEALED_NAME, NULL);
  kept->base.today = fixture_day (0);
  g_assert_true (demo_synth_make (kept->base.dir, fixture_day (0), &what, NULL, NULL, &error));
  g_assert_no_error (error);
  desk = open_kept (kept);
  g_assert_false (was_used (desk));
  fixture_close (desk); /* leaves a snapshot */
  file = g_build_filename (kept->base.dir, "journal.sqlite", NULL);
  g_assert_cmpint (sqlite3_open_v2 (file, &kept->db, SQLITE_OPEN_READWRITE, NULL), ==, SQLITE_OK);
  sqlite3_busy_timeout (kept->db, 5000);
  g_assert_true (g_file_test (kept->file, G_FILE_TEST_IS_REGULAR));
}

static void
tear_down (Kept *kept, gconstpointer data)
{
  sqlite3_close (kept->db);
  g_free (kept->file);
  fixture_tear_down (&kept->base, data);
}

/* ---- equal ---- */

static void
assert_same_state (const CoreState *a, const CoreState *b)
{
  CoreState flat[2] = { *a, *b };

  for (size_t i = 0; i < core_state_n_arrays; i++)
    {
      CoreAnyArray *x = core_state_array (&flat[0], i), *y = core_state_array (&flat[1], i);

      g_assert_cmpuint (x->n, ==, y->n);
      memset (x, 0, sizeof *x);
      memset (y, 0, sizeof *y);
    }
  g_assert_cmpmem (&flat[0], sizeof flat[0], &flat[1], sizeof flat[1]);
  for (size_t i = 0; i < a->looks.n; i++)
    g_assert_true (core_id_equal (a->looks.v[i].entry, b->looks.v[i].entry));
  for (size_t i = 0; i < a->meals.n; i++)
    g_assert_true (core_id_equal (a->meals.v[i].entry, b->meals.v[i].entry));
  for (size_t i = 0; i < a->settings.n; i++)
    g_assert_cmpstr (a->settings.v[i].value, ==, b->settings.v[i].value);
  for (size_t i = 0; i < a->conflicts.n; i++)
    g_assert_cmpmem (&a->conflicts.v[i], sizeof a->conflicts.v[i], &b->conflicts.v[i],
                     sizeof b->conflicts.v[i]);
}

static void
assert_same_history (Desk *a, Desk *b, CoreId subject)
{
  g_autoptr (GPtrArray) x = desk_history (a, subject, NULL);
  g_autoptr (GPtrArray) y = desk_history (b, subject, NULL);

  g_assert_cmpuint (x->len, ==, y->len);
  for (guint i = 0; i < x->len; i++)
    {
      const CoreEntry *one = x->pdata[i], *other = y->pdata[i];

      g_assert_true (core_id_equal (one->id, other->id));
      g_assert_true (core_id_equal (one->round, other->round));
      g_assert_cmpint (desk_entry_is_live (a, one->id), ==, desk_entry_is_live (b, one->id));
    }
}

static void
assert_same_outlook (const CoreForecast *a, const CoreForecast *b)
{
  g_assert_cmpint (a->why, ==, b->why);
  if (a->why != CORE_NO_FORECAST_NONE)
    return;
  for (int q = 0; q < CORE_N_Q; q++)
    g_assert_cmpfloat (a->days[q], ==, b->days[q]);
  g_assert_cmpint (a->adult_p50, ==, b->adult_p50);
  g_assert_cmpfloat (a->not_normal, ==, b->not_normal);
}

static void
assert_same_agenda (Desk *a, Desk *b)
{
  g_autoptr (DeskAgenda) x = desk_agenda (a, desk_today (a), desk_today (a) + 89, (CoreId){ 0 });
  g_autoptr (DeskAgenda) y = desk_agenda (b, desk_today (b), desk_today (b) + 89, (CoreId){ 0 });

  g_assert_cmpuint (x->rows->len, >, 0);
  g_assert_cmpuint (x->rows->len, ==, y->rows->len);
  g_assert_cmpuint (x->held->len, ==, y->held->len);
  for (guint i = 0; i < x->rows->len; i++)
    {
      const DeskAgendaRow *one = &g_array_index (x->rows, DeskAgendaRow, i);
      const DeskAgendaRow *other = &g_array_index (y->rows, DeskAgendaRow, i);

      g_assert_true (core_id_equal (desk_subject_id (x->subjects->pdata[one->subject]),
                                    desk_subject_id (y->subjects->pdata[other->subject])));
      g_assert_cmpint (one->day, ==, other->day);
      g_assert_cmpint (one->kind, ==, other->kind);
      g_assert_cmpfloat (one->weight, ==, other->weight);
    }
}

static void
assert_same_books (Desk *a, Desk *b)
{
  const GArray *x = a->all.rounds.rounds, *y = b->all.rounds.rounds;

  g_assert_cmpmem (&a->all.totals, sizeof a->all.totals, &b->all.totals, sizeof b->all.totals);
  g_assert_cmpuint (x->len, ==, y->len);
  for (guint i = 0; i < x->len; i++)
    {
      const DeskRound *one = &g_array_index (x, DeskRound, i);
      const DeskRound *other = &g_array_index (y, DeskRound, i);

      g_assert_cmpint (one->first_seq, ==, other->first_seq);
      g_assert_cmpuint (one->n, ==, other->n);
      g_assert_cmpuint (one->dead, ==, other->dead);
      g_assert_cmpint (one->bulk_void, ==, other->bulk_void);
    }
  g_assert_cmpuint (a->all.top_number, ==, b->all.top_number);
  g_assert_cmpuint (g_hash_table_size (a->all.numbers), ==, g_hash_table_size (b->all.numbers));
  g_assert_true (core_id_equal (a->all.last_id, b->all.last_id));
  g_assert_cmpuint (g_hash_table_size (a->all.naming.nodes), ==,
                    g_hash_table_size (b->all.naming.nodes));
  g_assert_cmpint (desk_can_undo (a), ==, desk_can_undo (b));
  g_assert_cmpint (desk_can_redo (a), ==, desk_can_redo (b));
}

static void
assert_same (Desk *a, Desk *b)
{
  assert_same_books (a, b);
  g_assert_cmpuint (a->all.order->len, ==, b->all.order->len);
  for (guint i = 0; i < a->all.order->len; i++)
    {
      const DeskRecord *x = a->all.order->pdata[i], *y = b->all.order->pdata[i];

      g_assert_true (core_id_equal (x->id, y->id));
      g_assert_cmpstr (desk_subject_label (x->now), ==, desk_subject_label (y->now));
      assert_same_state (desk_subject_state (x->now), desk_subject_state (y->now));
      assert_same_history (a, b, x->id);
      assert_same_outlook (desk_subject_outlook (x->now), desk_subject_outlook (y->now));
    }
  assert_same_agenda (a, b);
}

static void
test_same (Kept *kept, gconstpointer data)
{
  Desk *rebuilt = open_rebuilt (kept);
  Desk *thawed = open_kept (kept);

  g_assert_true (was_used (thawed));
  g_assert_cmpint (thawed->all.kept_today, ==, kept->base.today);
  assert_same (thawed, rebuilt);
  close_without_keeping (rebuilt);
  close_without_keeping (thawed);
}

/* ---- what came after it ---- */

static void
write_more (Desk *desk)
{
  g_autoptr (GPtrArray) animals = desk_animals (desk);
  g_autoptr (DeskSubject) added =
    fixture_add (desk, CORE_SUBJECT_ANIMAL, "species=hierodula hatched=2026-05-20");
  CoreId fed = fixture_record (desk, animals->pdata[0], "fed", "outcome=taken", 0);
  CoreId looked = fixture_record (desk, animals->pdata[1], "looked", "", 0);

  fixture_correct (desk, fed, "outcome=refused");
  fixture_void (desk, looked);
  fixture_record (desk, added, "looked", "", 0);
  desk_change_free (fixture_undo (desk));
}

static void
test_newer (Kept *kept, gconstpointer data)
{
  Desk *desk = open_kept (kept);
  Desk *rebuilt;

  write_more (desk);
  close_without_keeping (desk);
  desk = open_kept (kept);
  g_assert_true (was_used (desk));
  g_assert_cmpuint (desk->all.kept.count, <, desk->all.totals.count);
  rebuilt = open_rebuilt (kept);
  assert_same (desk, rebuilt);
  desk_change_free (fixture_redo (desk));
  close_without_keeping (rebuilt);
  close_without_keeping (desk);
}

/* What stands on a place that has changed is forecast anew; so is everything on another day. */
static void
test_outlooks (Kept *kept, gconstpointer data)
{
  Desk *desk = open_kept (kept);
  g_autoptr (GPtrArray) places = desk_places (desk);
  Desk *rebuilt;

  fixture_record (desk, places->pdata[0], "reading", "t=19 rh=50", 0);
  close_without_keeping (desk);
  desk = open_kept (kept);
  g_assert_true (was_used (desk));
  g_assert_cmpint (desk->all.kept_today, ==, CORE_DAY_NONE);
  rebuilt = open_rebuilt (kept);
  assert_same (desk, rebuilt);
  close_without_keeping (rebuilt);
  close_without_keeping (desk);
  kept->base.today++;
  desk = open_kept (kept);
  g_assert_true (was_used (desk));
  rebuilt = open_rebuilt (kept);
  assert_same (desk, rebuilt);
  close_without_keeping (rebuilt);
  close_without_keeping (desk);
}

/* ---- after a merge ---- */

static void
assert_as_rebuilt (Kept *kept, Desk *desk)
{
  Desk *rebuilt = open_rebuilt (kept);

  assert_same (desk, rebuilt);
  close_without_keeping (rebuilt);
}

static Desk *
reopen_kept (Kept *kept, Desk *desk)
{
  close_without_keeping (desk);
  desk = open_kept (kept);
  g_assert_true (was_used (desk));
  return desk;
}

/* Adds an animal, and says otherwise what that entry says: so does the other side. */
static CoreId
write_apart (Desk *desk, CoreId meal, const char *prey)
{
  DeskSubject *added = fixture_add (desk, CORE_SUBJECT_ANIMAL, "species=hierodula hatched=2026-05-20");
  CoreId id = desk_subject_id (added);

  desk_subject_unref (added);
  fixture_correct (desk, meal, prey);
  return id;
}

/* Two copies of the journal in one account: a number twice, two corrections of one meal. */
static Desk *
merge_copy (Kept *kept, CoreId *keeper, CoreId *other)
{
  g_autofree char *dir = g_dir_make_tmp ("mantidary-kept-XXXXXX", NULL);
  Desk *desk = open_kept (kept);
  g_autoptr (GPtrArray) animals = desk_animals (desk);
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskMerge) merged = NULL;
  CoreId meal = fixture_record (desk, animals->pdata[0], "fed", "outcome=taken", 0);

  close_without_keeping (desk);
  fixture_copy (kept->base.dir, dir);
  desk = desk_open (dir, kept->base.today, DESK_OPEN_DEFAULT, &error);
  g_assert_no_error (error);
  *keeper = write_apart (desk, meal, "outcome=refused");
  close_without_keeping (desk);
  g_usleep (2000); /* ids tell milliseconds apart */
  desk = open_kept (kept);
  *other = write_apart (desk, meal, "outcome=none_in_view");
  merged = fixture_merge (desk, dir, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (merged->clashes->len, ==, 2);
  exch_file_remove_tree (dir);
  return desk;
}

static void
assert_conflicts (Desk *desk, CoreId subject, gsize n)
{
  g_autoptr (DeskSubject) now = desk_get (desk, subject);

  g_assert_cmpuint (desk_subject_state (now)->conflicts.n, ==, n);
}

static CoreId
undone (Desk *desk)
{
  g_autoptr (DeskChange) change = fixture_undo (desk);
  g_autoptr (DeskChange) again = fixture_redo (desk);

  return ((CoreEntry *) change->entries->pdata[0])->id;
}

static void
test_merged (Kept *kept, gconstpointer data)
{
  CoreId keeper, other, last;
  Desk *desk = merge_copy (kept, &keeper, &other);
  g_autoptr (DeskSubject) first = NULL;

  assert_conflicts (desk, other, 1);
  assert_as_rebuilt (kept, desk);
  desk = reopen_kept (kept, desk); /* what came lies behind the snapshot */
  assert_as_rebuilt (kept, desk);
  last = undone (desk);
  desk_snapshot_write (desk);
  desk = reopen_kept (kept, desk); /* and in it: closing waits for it */
  g_assert_cmpuint (desk->all.kept.count, ==, desk->all.totals.count);
  assert_conflicts (desk, other, 1);
  assert_as_rebuilt (kept, desk);
  g_assert_true (core_id_equal (undone (desk), last));
  first = desk_get (desk, keeper);
  fixture_record (desk, first, "set", "key=number value=9000", 0);
  assert_conflicts (desk, other, 0);
  desk = reopen_kept (kept, desk); /* nothing was written on who has it alone now */
  assert_conflicts (desk, other, 0);
  assert_as_rebuilt (kept, desk);
  close_without_keeping (desk);
}

/* ---- never a wrong one ---- */

static void
assert_not_used (Kept *kept, const char *why)
{
  Desk *desk = open_at (kept, kept->base.today, DESK_OPEN_LAZY);

  if (was_used (desk))
    g_error ("a snapshot was used though %s", why);
  close_without_keeping (desk);
}

/* Bytes of the file as it was left. */
static guint8 *
file_bytes (Kept *kept, gsize *size)
{
  g_autoptr (GError) error = NULL;
  char *bytes = NULL;

  g_assert_true (g_file_get_contents (kept->file, &bytes, size, &error));
  g_assert_no_error (error);
  return (guint8 *) bytes;
}

static void
put_bytes (Kept *kept, const guint8 *bytes, gsize size)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (g_file_set_contents_full (kept->file, (const char *) bytes, (gssize) size,
                                           G_FILE_SET_CONTENTS_CONSISTENT, 0600, &error));
  g_assert_no_error (error);
}

static gboolean
is_read (Kept *kept, const char *profiles)
{
  g_autoptr (DeskSnapshot) found = desk_snapshot_find (kept->base.dir, profiles);
  DeskCollection all;
  gboolean read;

  desk_collection_init (&all);
  read = found != NULL && desk_snapshot_read (found, kept->base.today, &all);
  desk_collection_clear (&all);
  return read;
}

static char *
profiles_of (Kept *kept)
{
  Desk *desk = open_at (kept, kept->base.today, DESK_OPEN_LAZY);
  char *profiles = desk_profiles_key (desk->profiles);

  close_without_keeping (desk);
  return profiles;
}

/* Every byte of the head and of the seals, and some thousand of what lies between. */
static void
test_flipped (Kept *kept, gconstpointer data)
{
  gsize size;
  g_autofree guint8 *bytes = file_bytes (kept, &size);
  g_autofree char *profiles = profiles_of (kept);
  gsize step = size / 2000;

  g_assert_cmpuint (size, >, 100000);
  for (gsize at = 0; at < size; at += at < 64 || at + 32 > size ? 1 : step)
    {
      bytes[at] ^= (guint8) (1u << at % 8);
      put_bytes (kept, bytes, size);
      if (is_read (kept, profiles))
        g_error ("a snapshot was read though byte %" G_GSIZE_FORMAT " was flipped", at);
      if (at % 64 == 0)
        assert_not_used (kept, "a byte was flipped");
      bytes[at] ^= (guint8) (1u << at % 8);
    }
  put_bytes (kept, bytes, size);
  g_assert_true (is_read (kept, profiles));
}

static void
test_cut_file (Kept *kept, gconstpointer data)
{
  gsize size;
  g_autofree guint8 *bytes = file_bytes (kept, &size);
  g_autofree char *profiles = profiles_of (kept);
  const gsize lengths[] = { 0, 1, 40, 56, 57, size / 2, size - 8, size - 1 };
  g_autofree guint8 *longer = g_malloc0 (size + 8);

  for (gsize i = 0; i < G_N_ELEMENTS (lengths); i++)
    {
      put_bytes (kept, bytes, lengths[i]);
      g_assert_false (is_read (kept, profiles));
    }
  memcpy (longer, bytes, size);
  put_bytes (kept, longer, size + 8);
  g_assert_false (is_read (kept, profiles));
  g_assert_cmpint (g_unlink (kept->file), ==, 0);
  g_assert_cmpint (g_mkdir (kept->file, 0700), ==, 0);
  assert_not_used (kept, "a folder lies in its place");
  g_assert_cmpint (g_rmdir (kept->file), ==, 0);
  put_bytes (kept, bytes, size);
  g_assert_true (is_read (kept, profiles));
}

static gboolean
no_more (GByteArray *out, gpointer data)
{
  desk_freeze_raw (out, "short", 5);
  return FALSE;
}

static void
test_wrong (Kept *kept, gconstpointer data)
{
  g_autofree char *profiles = profiles_of (kept);
  g_autofree char *other = g_strconcat (profiles, "0", NULL);
  g_autoptr (GError) error = NULL;
  guint8 key[DESK_SEAL_KEY];
  StoreTotals totals = { 1, 1, { { 0 } } };
  Desk *desk;

  g_assert_true (is_read (kept, profiles));
  g_assert_false (is_read (kept, other));
  sql (kept, "UPDATE snapshot SET count = count - 1");
  assert_not_used (kept, "its count is another");
  sql (kept, "UPDATE snapshot SET count = count + 1, xor_ids = zeroblob(16)");
  assert_not_used (kept, "the ids are others");
  sql (kept, "DELETE FROM snapshot");
  desk = open_kept (kept);
  g_assert_true (was_used (desk)); /* summed up anew */
  close_without_keeping (desk);
  g_assert_true (desk_seal_key (key, FALSE));
  g_assert_true (desk_sealed_write (kept->base.dir, "another program", key, &totals, no_more, NULL,
                                    &error));
  g_assert_no_error (error);
  assert_not_used (kept, "another program made it");
}

/* Nobody who writes an entry or reads waits for it; nothing is left beside it. */
static void
test_beside (Kept *kept, gconstpointer data)
{
  g_autofree char *beside = g_strconcat (kept->file, ".new", NULL);
  Desk *desk = open_kept (kept);
  g_autoptr (GPtrArray) animals = desk_animals (desk);

  g_assert_cmpint (g_unlink (kept->file), ==, 0);
  desk_snapshot_write (desk);
  g_assert_true (desk->keeping);
  fixture_record (desk, animals->pdata[0], "looked", "", 0);
  close_without_keeping (desk);
  g_assert_true (g_file_test (kept->file, G_FILE_TEST_IS_REGULAR));
  g_assert_false (g_file_test (beside, G_FILE_TEST_EXISTS));
  desk = open_kept (kept);
  g_assert_true (was_used (desk));
  g_assert_cmpuint (desk->all.kept.count + 1, ==, desk->all.totals.count);
  assert_as_rebuilt (kept, desk);
  close_without_keeping (desk);
}

/* An entry that is another one than at the time, though as many are there. */
static void
test_other_entries (Kept *kept, gconstpointer data)
{
  sql (kept, "DROP TRIGGER entry_keep");
  sql (kept, "UPDATE entry SET id = CAST (substr (id, 1, 15) || x'00' AS BLOB) WHERE kind = 'note'"
             " AND seq = (SELECT min (seq) FROM entry WHERE kind = 'note' AND substr (id, 16) <>"
             " x'00')");
  assert_not_used (kept, "the id of an entry is another one");
}

/* Who copies a journal to another account has no use of its snapshot. */
static void
test_other_key (Kept *kept, gconstpointer data)
{
  g_autofree char *path = g_build_filename (data_home, "mantidary", "snapshot.key", NULL);
  g_autofree char *aside = g_strconcat (path, ".aside", NULL);
  guint8 key[DESK_SEAL_KEY], other[DESK_SEAL_KEY];

  g_assert_true (desk_seal_key (key, FALSE));
  g_assert_cmpint (g_rename (path, aside), ==, 0);
  g_assert_false (desk_seal_key (other, FALSE));
  assert_not_used (kept, "there is no key");
  g_assert_true (desk_seal_key (other, TRUE));
  g_assert_cmpint (memcmp (key, other, sizeof key), !=, 0);
  assert_not_used (kept, "the key is another one");
  g_assert_cmpint (g_rename (aside, path), ==, 0);
}

/* ---- bytes ---- */

static void
test_bytes (void)
{
  g_autoptr (GByteArray) out = g_byte_array_new ();
  DeskThaw in;
  g_autofree char *text = NULL;

  desk_freeze_number (out, 0);
  desk_freeze_number (out, 300);
  desk_freeze_number (out, G_MAXUINT64);
  desk_freeze_text (out, "ä");
  desk_freeze_align (out);
  desk_freeze_raw (out, "eight by", 8);
  g_assert_cmpuint (out->len % 8, ==, 0);
  in = (DeskThaw){ .at = out->data, .end = out->data + out->len };
  g_assert_cmpuint (desk_thaw_number (&in), ==, 0);
  g_assert_cmpuint (desk_thaw_number (&in), ==, 300);
  g_assert_cmpuint (desk_thaw_number (&in), ==, G_MAXUINT64);
  text = desk_thaw_text (&in);
  g_assert_cmpstr (text, ==, "ä");
  desk_thaw_align (&in);
  g_assert_cmpmem (desk_thaw_place (&in, 8), 8, "eight by", 8);
  g_assert_false (in.bad);
  g_assert_true (in.at == in.end);
  g_assert_cmpuint (desk_thaw_number (&in), ==, 0);
  g_assert_true (in.bad);
}

/* Cut anywhere: told, and never read beyond its end (the sanitizer watches). */
static void
test_cut (Kept *kept, gconstpointer data)
{
  Desk *desk = open_kept (kept);
  g_autoptr (GByteArray) out = g_byte_array_new ();
  const DeskRecord *record = desk->all.order->pdata[desk->all.order->len / 2];

  desk_freeze_fold (out, desk_subject_fold (record->now));
  for (guint length = 0; length < out->len; length += 1 + length / 64)
    {
      g_autofree guint8 *bytes = g_memdup2 (out->data, length);
      DeskThaw in = { .at = bytes, .end = bytes + length };

      g_assert_null (desk_thaw_fold (&in));
      g_assert_true (in.bad);
    }
  {
    DeskThaw in = { .at = out->data, .end = out->data + out->len };
    DeskFold *fold = desk_thaw_fold (&in);

    g_assert_nonnull (fold);
    assert_same_state (&fold->state, desk_subject_state (record->now));
    desk_fold_unref (fold);
  }
  close_without_keeping (desk);
}

static void
add (const char *path, void (*test) (Kept *, gconstpointer))
{
  g_test_add (path, Kept, NULL, set_up, test, tear_down);
}

int
main (int argc, char **argv)
{
  int result;

  data_home = g_dir_make_tmp ("mantidary-home-XXXXXX", NULL);
  g_setenv ("XDG_DATA_HOME", data_home, TRUE);
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/desk/snapshot/bytes", test_bytes);
  add ("/desk/snapshot/cut", test_cut);
  add ("/desk/snapshot/same", test_same);
  add ("/desk/snapshot/newer", test_newer);
  add ("/desk/snapshot/outlooks", test_outlooks);
  add ("/desk/snapshot/merged", test_merged);
  add ("/desk/snapshot/flipped", test_flipped);
  add ("/desk/snapshot/cut-file", test_cut_file);
  add ("/desk/snapshot/wrong", test_wrong);
  add ("/desk/snapshot/beside", test_beside);
  add ("/desk/snapshot/other-entries", test_other_entries);
  add ("/desk/snapshot/other-key", test_other_key);
  result = g_test_run ();
  g_free (data_home);
  return result;
}
