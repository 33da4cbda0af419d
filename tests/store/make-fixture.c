/* SPDX-License-Identifier: GPL-3.0-or-later */
/* make-fixture.c — writes the journal of which tests/fixtures keeps one for each
 * version of the schema. Run once when a version is released, never again:
 *
 *   ninja -C build tests/store/make-journal-fixture
 *   build/tests/store/make-journal-fixture DIR
 *   cp DIR/journal.sqlite tests/fixtures/journal-vN.sqlite
 *
 * In it: a subject of each kind, one entry of each entry kind with all its keys,
 * a photo row without its file, a draft. All of it invented. */
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
  write_photo (store);
  store_draft_put (store, "round:shelf", "all fed 2 house flies", 1750000002000, NULL);
  return 0;
}
