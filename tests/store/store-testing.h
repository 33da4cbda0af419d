/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-testing.h — what the tests of this room share: a folder that goes away,
 * entries with generated values, comparison to the bit. */
#pragma once

#include "store/store-private.h"

char *testing_dir_new (void);             /* an empty folder, absolute */
void testing_dir_remove (char *dir);      /* with all in it; frees dir */
Store *testing_journal (const char *dir); /* a new journal, or the one there */
StoreStamp testing_stamp (gint64 now_ms, guint seed);
CoreId testing_id (guint n); /* a sound UUIDv7, another for each n */

/* A journal with one animal; returns its id. */
CoreId testing_add_subject (Store *store, CoreSubjectKind kind, guint n);
/* An entry of that kind with all its keys (or only the required ones), values
 * drawn by `rand`. No id, no round. */
CoreEntry *testing_entry (CoreKind kind, CoreId subject, GRand *rand, gboolean all_keys);
CoreEntry *testing_note (CoreId subject, const char *text, CoreDay day);
/* Appends n entries in one batch; asserts nothing. */
gboolean testing_append (Store *store,
                         CoreEntry *const *entries,
                         gsize n,
                         const StoreStamp *stamp,
                         GError **error);
void testing_assert_same (const CoreEntry *a, const CoreEntry *b);
guint testing_count (const char *dir); /* entries, by a fresh Store */
/* A file of that content, open for reading. */
int testing_file (const char *dir, const char *name, const void *data, gsize n);
gsize testing_count_problems (Store *store);
