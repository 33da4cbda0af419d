/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-pack.c — packed entries come out as they went in; lists of places in the journal too. */
#include "desk/desk-private.h"

#include "../store/store-testing.h"

#define TIMES 40 /* of each kind */

static CoreId
subject (void)
{
  return testing_id (1);
}

static void
frame (CoreEntry *entry, GRand *rand, guint i)
{
  entry->id = testing_id (100 + i);
  entry->day = g_rand_int_range (rand, -5000, 30000);
  if (g_rand_boolean (rand))
    entry->earliest = entry->day - g_rand_int_range (rand, 0, 400);
  entry->minute = (gint16) g_rand_int_range (rand, -1, 1441);
  entry->written_ms = (gint64) g_rand_double_range (rand, 0, 4e12);
  entry->device = testing_id (10 + g_rand_int_range (rand, 0, 3));
  entry->round = testing_id (20 + i / 3);
  if (g_rand_boolean (rand))
    entry->names = testing_id (100 + g_rand_int_range (rand, 0, (int) i + 1));
  entry->bulk = g_rand_boolean (rand);
}

static void
test_every_kind (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20260614);
  g_autoptr (GPtrArray) in = g_ptr_array_new_with_free_func ((GDestroyNotify) core_entry_free);
  g_autoptr (GPtrArray) out = NULL;
  DeskPack *pack = g_new0 (DeskPack, 1);
  DeskPackShared shared;

  desk_pack_shared_init (&shared);
  for (guint i = 0; i < TIMES * (CORE_N_KINDS - 1); i++)
    {
      CoreEntry *entry = testing_entry ((CoreKind) (CORE_KIND_NONE + 1 + i / TIMES), subject (),
                                        rand, g_rand_boolean (rand));

      frame (entry, rand, i);
      if (i % 3 == 0)
        g_assert_cmpint (core_entry_add_beyond (entry, "colour", "green"), ==, CORE_VALUE_OK);
      desk_pack_add (pack, &shared, entry);
      g_ptr_array_add (in, entry);
    }
  out = desk_pack_entries (pack, &shared, subject ());
  g_assert_cmpuint (out->len, ==, in->len);
  for (guint i = 0; i < in->len; i++)
    testing_assert_same (out->pdata[i], in->pdata[i]);
  desk_pack_free (pack);
  desk_pack_shared_clear (&shared);
}

static void
test_seqs (void)
{
  static const gint64 wanted[] = { 1, 2, 129, 130, 20000, 3000000, G_MAXINT32, G_MAXINT64 };
  DeskSeqs seqs = { NULL };
  gint64 got[G_N_ELEMENTS (wanted)];

  for (gsize i = 0; i < G_N_ELEMENTS (wanted); i++)
    desk_seqs_add (&seqs, wanted[i]);
  g_assert_cmpuint (seqs.n, ==, G_N_ELEMENTS (wanted));
  desk_seqs_read (&seqs, got);
  g_assert_cmpmem (got, sizeof got, wanted, sizeof wanted);
  desk_seqs_clear (&seqs);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/desk/pack/every-kind", test_every_kind);
  g_test_add_func ("/desk/pack/seqs", test_seqs);
  return g_test_run ();
}
