/* SPDX-License-Identifier: GPL-3.0-or-later */
/* make-fixture.c — writes the journal of which tests/fixtures keeps one for each
 * version of the schema. Run once when a version is released, never again:
 *
 *   ninja -C build tests/store/make-journal-fixture
 *   build/tests/store/make-journal-fixture DIR
 *   cp DIR/journal.sqlite tests/fixtures/journal-vN.sqlite
 *
 * In it: a subject of each kind, one entry of each entry kind with all its keys,
 * a photo row without its file, a draft; since version 3 also an animal and the
 * lot that it came from, with what came to be said since version 2. All of it
 * invented. */
#include "store-testing.h"

#include <glib/gstdio.h>
#include <string.h>

static void
write_photo (Store *store)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *outside = testing_dir_new ();
  g_autofree char *path = NULL;
  int fd = testing_file (outside, "a.jpg", "abc", 3);
  StorePhoto photo = {
    .width = 2048, .height = 1536, .orientation = 6, .taken = 20210, .taken_minute = 1110
  };
  StoreBatch batch = { .photos = &photo, .n_photos = 1, .expect_seq = -1 };
  StoreStamp stamp = testing_stamp (1750000000500, 4);

  if (!store_photo_put (store, fd, "jpg", &photo, NULL, &error) ||
      !store_append (store, &batch, &stamp, NULL, &error))
    g_error ("%s", error->message);
  path = store_photo_path (store, &photo);
  g_unlink (path);
}

static CoreId
write_one (Store *store, CoreKind kind, CoreId subject, CoreDay day, const char *const *pairs)
{
  static guint turn = 0;
  StoreStamp stamp = testing_stamp (1750000003000 + turn, turn);
  g_autoptr (GError) error = NULL;
  CoreEntry *entry = core_entry_new (kind);
  CoreId id;

  turn++;
  entry->subject = subject;
  entry->day = day;
  for (gsize i = 0; pairs[i] != NULL; i += 2)
    if (core_entry_set_text (entry, pairs[i], pairs[i + 1]) != CORE_VALUE_OK)
      g_error ("%s=%s", pairs[i], pairs[i + 1]);
  if (!testing_append (store, &entry, 1, &stamp, &error))
    g_error ("%s", error->message);
  id = entry->id;
  core_entry_free (entry);
  return id;
}

#define PAIRS(...) ((const char *const[]){ __VA_ARGS__, NULL })

/* What came to be said since version 2, in a life of its own. */
static void
write_since_2 (Store *store)
{
  CoreId lot = testing_add_subject (store, CORE_SUBJECT_LOT, 20);
  CoreId animal = testing_add_subject (store, CORE_SUBJECT_ANIMAL, 21);
  char photo[37];

  write_one (store, CORE_KIND_HATCHED, lot, 20100, PAIRS (NULL));
  write_one (store, CORE_KIND_RECOUNTED, lot, 20100, PAIRS ("n", "10"));
  write_one (store, CORE_KIND_MOULTED, lot, 20112, PAIRS ("n", "4"));
  write_one (store, CORE_KIND_SPLIT, lot, 20113, PAIRS ("n", "1", "moulted", "1"));
  write_one (store, CORE_KIND_HATCHED, animal, 20100, PAIRS (NULL));
  write_one (store, CORE_KIND_SET, animal, 20113, PAIRS ("key", "ahead", "value", "yes"));
  write_one (store, CORE_KIND_MOULTED, animal, 20126, PAIRS (NULL));
  write_one (store, CORE_KIND_MOULTED, animal, 20128, PAIRS ("sure", "yes"));
  core_id_to_text (write_one (store, CORE_KIND_PHOTO, animal, 20130,
                              PAIRS ("hash", "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef")),
                   photo);
  write_one (store, CORE_KIND_MARKED, animal, 20130,
             PAIRS ("photo", photo, "side", "underside", "count", "8", "by", "program", "axis_by", "program",
                    "axis", "10,20,300,20", "likelihood", "6:.1,8:.9"));
  write_one (store, CORE_KIND_MEASURED, animal, 20130,
             PAIRS ("what", "body", "mm", "17.5", "photo", photo, "axis", "10,20,300,20"));
  write_one (store, CORE_KIND_TROUBLE, animal, 20131, PAIRS ("what", "flooded"));
}

int
main (int argc, char **argv)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  g_autoptr (Store) store = NULL;
  CoreId subjects[CORE_N_SUBJECTS];

  if (argc != 2)
    g_error ("which folder?");
  store = testing_journal (argv[1]);
  for (int kind = CORE_SUBJECT_NONE + 1; kind < CORE_N_SUBJECTS; kind++)
    subjects[kind] = testing_add_subject (store, (CoreSubjectKind) kind, (guint) kind);
  for (int kind = CORE_KIND_NONE + 1; kind < CORE_N_KINDS; kind++)
    {
      StoreStamp stamp = testing_stamp (1750000001000 + kind, (guint) kind);
      g_autoptr (GError) error = NULL;
      CoreEntry *entry = testing_entry ((CoreKind) kind, subjects[CORE_SUBJECT_ANIMAL], rand, TRUE);

      entry->day = 20000 + kind;
      entry->earliest = entry->day - 2;
      entry->minute = 615;
      if (!testing_append (store, &entry, 1, &stamp, &error))
        g_error ("%s", error->message);
      core_entry_free (entry);
    }
  write_since_2 (store);
  write_photo (store);
  store_draft_put (store, "round:shelf", "all fed 2 house flies", 1750000002000, NULL);
  return 0;
}
