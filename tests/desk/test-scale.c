/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-scale.c — 40 animals and 8,000 entries: how long opening and one entry take.
 *
 * The bounds are wide, for slow machines; the measured times are printed. */
#include "desk-fixture.h"

#define ANIMALS 40
#define DAYS 100

static void
write_day (Fixture *fixture, GPtrArray *animals, int day)
{
  GPtrArray *entries = g_ptr_array_new ();
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < animals->len; i++)
    for (int k = 0; k < 2; k++)
      {
        gboolean moult = k == 1 && (day + (int) i) % 17 == 16;
        CoreEntry *entry = core_entry_new (moult    ? CORE_KIND_MOULTED
                                           : k == 1 ? CORE_KIND_LOOKED
                                                    : CORE_KIND_FED);

        entry->subject = desk_subject_id (animals->pdata[i]);
        entry->day = fixture_day (day - DAYS);
        if (entry->kind == CORE_KIND_FED)
          core_entry_set_num (entry, CORE_KEY_OUTCOME,
                              day % 4 == 0 ? CORE_FED_TAKEN : CORE_FED_OFFERED);
        g_ptr_array_add (entries, entry);
      }
  desk_write_async (fixture->desk, entries, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  desk_write_finish (fixture->desk, result, NULL, &error);
  g_assert_no_error (error);
}

static double
seconds_since (gint64 began)
{
  return (double) (g_get_monotonic_time () - began) / G_USEC_PER_SEC;
}

static void
test_scale (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) shelf =
    fixture_add (fixture->desk, CORE_SUBJECT_PLACE, "code=A day_c=26 night_c=21");
  g_autoptr (GPtrArray) animals =
    g_ptr_array_new_with_free_func ((GDestroyNotify) desk_subject_unref);
  gint64 began;
  double wrote, lazy, opened, entry;

  for (int i = 0; i < ANIMALS; i++)
    g_ptr_array_add (animals, fixture_add (fixture->desk, CORE_SUBJECT_ANIMAL,
                                           "species=hierodula hatched=2026-02-20 place=A"));
  began = g_get_monotonic_time ();
  for (int day = 0; day < DAYS; day++)
    write_day (fixture, animals, day);
  wrote = seconds_since (began);
  began = g_get_monotonic_time ();
  fixture_reopen (fixture, DESK_OPEN_LAZY);
  lazy = seconds_since (began);
  began = g_get_monotonic_time ();
  fixture_reopen (fixture, DESK_OPEN_DEFAULT);
  opened = seconds_since (began);
  began = g_get_monotonic_time ();
  fixture_record (fixture->desk, animals->pdata[0], "looked", "", 0);
  {
    g_autoptr (DeskSubject) now = fixture_now (fixture->desk, animals->pdata[0]);

    g_assert_cmpint (desk_subject_forecast (now)->why, ==, CORE_NO_FORECAST_NONE);
  }
  entry = seconds_since (began);
  g_test_message ("8,000 entries written in %.2f s; opened lazily in %.3f s, with all forecasts "
                  "and plans in %.3f s; one entry with its new plan %.4f s",
                  wrote, lazy, opened, entry);
  g_assert_cmpfloat (opened, <, 5);
  g_assert_cmpfloat (entry, <, 1);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/desk/scale", Fixture, NULL, fixture_set_up, test_scale, fixture_tear_down);
  return g_test_run ();
}
