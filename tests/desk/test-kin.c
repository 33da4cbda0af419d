/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-kin.c — what animals of a room and a lot tell each other, through the desk: it reaches the
 * forecast, whatever the order of entries, and plans nothing anew that does not hear it. */
#include "desk-fixture.h"

#include "core/core-date.h"

#define MATES 5
#define SLOW 22 /* days of each stage in the slow room; about ten are usual */

static DeskSubject *
add_place (Desk *desk, const char *code)
{
  g_autofree char *pairs = g_strdup_printf ("code=%s day_c=25 night_c=25 light_h=12", code);

  return fixture_add (desk, CORE_SUBJECT_PLACE, pairs);
}

static DeskSubject *
add_hatchling (Desk *desk, const char *place, int day)
{
  g_autofree char *pairs = NULL;
  char text[11];

  core_day_to_text (fixture_day (day), text);
  pairs = g_strdup_printf ("species=hierodula hatched=%s place=%s", text, place);
  return fixture_add (desk, CORE_SUBJECT_ANIMAL, pairs);
}

static CoreForecast
outlook (Desk *desk, DeskSubject *subject)
{
  g_autoptr (DeskSubject) now = fixture_now (desk, subject);

  return *desk_subject_outlook (now);
}

/* Three stages of each, one after the other; `reversed`: entered the other way round. */
static void
live_slowly (Desk *desk, DeskSubject *const mates[MATES], gboolean reversed)
{
  for (int k = 0; k < 3 * MATES; k++)
    {
      int i = reversed ? 3 * MATES - 1 - k : k;
      int day = -70 + (i / MATES + 1) * SLOW;

      fixture_record (desk, mates[i % MATES], "looked", "", day - 1);
      fixture_record (desk, mates[i % MATES], "moulted", "", day);
    }
}

typedef struct
{
  DeskSubject *mates[MATES], *young, *apart, *other;
} Room;

static Room
make_room (Desk *desk)
{
  g_autoptr (DeskSubject) slow = add_place (desk, "A");
  g_autoptr (DeskSubject) other = add_place (desk, "B");
  Room room = { 0 };

  for (int i = 0; i < MATES; i++)
    room.mates[i] = add_hatchling (desk, "A", -70);
  room.young = add_hatchling (desk, "A", -1);
  room.apart = add_hatchling (desk, "B", -1);
  room.other =
    fixture_add (desk, CORE_SUBJECT_ANIMAL, "species=hymenopus hatched=2026-05-31 place=A");
  return room;
}

static void
room_clear (Room *room)
{
  for (int i = 0; i < MATES; i++)
    desk_subject_unref (room->mates[i]);
  desk_subject_unref (room->young);
  desk_subject_unref (room->apart);
  desk_subject_unref (room->other);
}

/* A hatchling of a room in which all were slow is taken for slow, one of another room is not; one
 * of another species of that room a little. */
static void
test_reaches (Fixture *fixture, gconstpointer data)
{
  Room room = make_room (fixture->desk);
  CoreForecast before = outlook (fixture->desk, room.young), apart, young, other, other_before;

  (void) data;
  other_before = outlook (fixture->desk, room.other);
  live_slowly (fixture->desk, room.mates, FALSE);
  young = outlook (fixture->desk, room.young);
  apart = outlook (fixture->desk, room.apart);
  other = outlook (fixture->desk, room.other);
  g_assert_cmpfloat (young.days[CORE_Q50], >, 1.15 * before.days[CORE_Q50]);
  g_assert_cmpfloat (young.days[CORE_Q50], <, SLOW - 1); /* one day of it is over; never slower than they were */
  g_assert_cmpfloat (apart.days[CORE_Q50], ==, before.days[CORE_Q50]);
  g_assert_cmpfloat (other.days[CORE_Q50], >, 1.02 * other_before.days[CORE_Q50]);
  g_assert_cmpfloat (other.days[CORE_Q50] / other_before.days[CORE_Q50], <,
                     young.days[CORE_Q50] / before.days[CORE_Q50]);
  room_clear (&room);
}

/* What hears nothing new stays the very snapshot it was; a look tells the others next to nothing, most
 * of the time nothing at all. */
static void
test_lazy (Fixture *fixture, gconstpointer data)
{
  Room room = make_room (fixture->desk);
  g_autoptr (DeskSubject) young = NULL;
  g_autoptr (DeskSubject) apart = NULL;
  int n_same = 0;

  (void) data;
  outlook (fixture->desk, room.young);
  outlook (fixture->desk, room.apart);
  young = fixture_now (fixture->desk, room.young);
  apart = fixture_now (fixture->desk, room.apart);
  live_slowly (fixture->desk, room.mates, FALSE);
  {
    g_autoptr (DeskSubject) young_now = fixture_now (fixture->desk, room.young);
    g_autoptr (DeskSubject) apart_now = fixture_now (fixture->desk, room.apart);

    g_assert_true (apart_now == apart);
    g_assert_false (young_now == young);
  }
  for (int i = 0; i < MATES; i++)
    {
      g_autoptr (DeskSubject) heard = fixture_now (fixture->desk, room.young);
      g_autoptr (DeskSubject) again = NULL;
      double median = desk_subject_outlook (heard)->days[CORE_Q50];

      fixture_record (fixture->desk, room.mates[i], "looked", "", 0);
      again = fixture_now (fixture->desk, room.young);
      n_same += again == heard;
      g_assert_cmpfloat_with_epsilon (desk_subject_outlook (again)->days[CORE_Q50], median, .2);
    }
  g_assert_cmpint (n_same, >=, MATES / 2);
  room_clear (&room);
}

static void
assert_same (const CoreForecast *a, const CoreForecast *b)
{
  for (int q = 0; q < CORE_N_Q; q++)
    g_assert_true (a->days[q] == b->days[q]);
  g_assert_cmpint (a->adult_p50, ==, b->adult_p50);
  g_assert_true (a->not_normal == b->not_normal);
}

/* The same entries in another order, asked in between or not at all: the same to the last bit, also
 * when opened anew. */
static void
test_order (Fixture *fixture, gconstpointer data)
{
  Fixture other = { 0 };
  Room a = make_room (fixture->desk), b;

  (void) data;
  fixture_set_up (&other, NULL);
  b = make_room (other.desk);
  live_slowly (fixture->desk, a.mates, FALSE);
  for (int i = 0; i < MATES; i++)
    outlook (other.desk, b.mates[i]);
  live_slowly (other.desk, b.mates, TRUE);
  for (int turn = 0; turn < 2; turn++)
    {
      for (int i = 0; i < MATES; i++)
        {
          CoreForecast x = outlook (fixture->desk, a.mates[i]),
                       y = outlook (other.desk, b.mates[i]);

          assert_same (&x, &y);
        }
      {
        CoreForecast x = outlook (fixture->desk, a.young), y = outlook (other.desk, b.young);

        assert_same (&x, &y);
      }
      if (turn == 0)
        fixture_reopen (&other, DESK_OPEN_DEFAULT);
    }
  room_clear (&a);
  room_clear (&b);
  fixture_tear_down (&other, NULL);
}

/* Moved to another room it keeps what it was there, and hears the new one from its next stage on.
 */
static void
test_moved (Fixture *fixture, gconstpointer data)
{
  Room room = make_room (fixture->desk);
  CoreForecast here, there;

  (void) data;
  live_slowly (fixture->desk, room.mates, FALSE);
  here = outlook (fixture->desk, room.young);
  fixture_record (fixture->desk, room.young, "housed", "place=B", 0);
  there = outlook (fixture->desk, room.young);
  g_assert_cmpfloat_with_epsilon (here.days[CORE_Q50], there.days[CORE_Q50], .05);
  fixture_record (fixture->desk, room.apart, "housed", "place=A", -1);
  there = outlook (fixture->desk, room.apart);
  g_assert_cmpfloat_with_epsilon (here.days[CORE_Q50], there.days[CORE_Q50], .05);
  room_clear (&room);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
#define TEST(path, func) g_test_add (path, Fixture, NULL, fixture_set_up, func, fixture_tear_down)
  TEST ("/desk/kin/reaches", test_reaches);
  TEST ("/desk/kin/lazy", test_lazy);
  TEST ("/desk/kin/order", test_order);
  TEST ("/desk/kin/moved", test_moved);
  return g_test_run ();
}
