/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-warmth.c — warmth along stays: habits, readings, places within places, days to come. */
#include "animals.h"

#include "core/core-clock.h"

typedef struct
{
  CoreState animal, shelf, cup;
  CoreProfile profile;
} Room;

static const CoreState *
lookup (CoreId place, void *data)
{
  Room *room = data;

  if (core_id_equal (place, room->shelf.subject))
    return &room->shelf;
  return core_id_equal (place, room->cup.subject) ? &room->cup : NULL;
}

static void
room_init (Room *room)
{
  made_init (&room->animal, CORE_SUBJECT_ANIMAL);
  made_init (&room->shelf, CORE_SUBJECT_PLACE);
  made_init (&room->cup, CORE_SUBJECT_PLACE);
  room->cup.subject = made_id (CORE_SUBJECT_PLACE, 2);
  room->cup.place.within = room->shelf.subject;
  core_profile_init (&room->profile);
}

static void
room_clear (Room *room)
{
  made_clear (&room->animal);
  made_clear (&room->shelf);
  made_clear (&room->cup);
  core_profile_clear (&room->profile);
}

static void
put (Room *room, CoreDay day, const CoreState *place)
{
  PUSH (room->animal.stays, (CoreStay){ .day = day, .place = place->subject });
}

static void
reading (CoreState *place, CoreDay day, int minute, double t, bool inside)
{
  PUSH (place->place.readings,
        (CoreReadingAt){ .day = day, .minute = minute, .t = t, .rh = NAN, .inside = inside });
}

static void
build (Room *room, CoreDay from, CoreDay today, CoreDay to, CoreWarmth *out)
{
  g_assert_cmpint (core_warmth_build (&room->animal, &room->profile, lookup, room, from, today, to,
                                      out),
                   ==, CORE_OK);
}

/* Where nothing is known, the middle of what its kind is kept at, 12 h each, and no word of
 * it as if it had been said: 25 and 19.5 °C of the general profile, (13 + 7.5) / 2 / 13. */
static void
test_nothing_known (void)
{
  Room room;
  CoreWarmth w;

  room_init (&room);
  build (&room, 100, 110, 120, &w);
  g_assert_cmpuint (w.n, ==, 21);
  g_assert_cmpfloat_with_epsilon (w.u[20], 20 * 10.25 / 13, 1e-9);
  g_assert_cmpint (w.rest, ==, CORE_WARMTH_UNKNOWN);
  g_assert_cmpfloat_with_epsilon (w.typical_c, 22.25, 1e-12);
  g_assert_cmpfloat_with_epsilon (core_warmth_share (&w, CORE_WARMTH_UNKNOWN, 100, 120), 1, 1e-12);
  g_assert_cmpfloat_with_epsilon (core_warmth_share (&w, CORE_WARMTH_HABIT, 100, 120), 0, 1e-12);
  core_warmth_clear (&w);
  core_profile_group_defaults (&room.profile, CORE_GROUP_IDOLOMANTIS); /* 27–32, 18–22 °C */
  build (&room, 100, 110, 120, &w);
  g_assert_cmpfloat_with_epsilon (w.typical_c, (29.5 + 20) / 2, 1e-12);
  core_warmth_clear (&w);
  room_clear (&room);
}

/* Of day and night one is entered: the swing of its kind gives the other. */
static void
test_half_known (void)
{
  Room room;
  CoreWarmth w;

  room_init (&room);
  room.shelf.place.night_c = 18.5;
  put (&room, 0, &room.shelf);
  build (&room, 100, 110, 120, &w);
  g_assert_cmpint (w.rest, ==, CORE_WARMTH_HALF);
  g_assert_cmpfloat_with_epsilon (w.day_c, 24, 1e-12);
  g_assert_cmpfloat_with_epsilon (core_warmth_share (&w, CORE_WARMTH_HABIT, 100, 120), 1, 1e-12);
  core_warmth_clear (&w);
  room.shelf.place.night_c = NAN; /* no usual ones: a single late reading moves what is usual for its kind */
  reading (&room.shelf, 109, 720, 29, false);
  build (&room, 100, 110, 120, &w);
  g_assert_cmpint (w.rest, ==, CORE_WARMTH_READINGS);
  g_assert_cmpfloat (w.typical_c, >, 22.75);
  g_assert_cmpfloat_with_epsilon (core_warmth_share (&w, CORE_WARMTH_UNKNOWN, 110, 120), 1, 1e-12);
  core_warmth_clear (&w);
  build (&room, 100, 175, 180, &w); /* too long ago */
  g_assert_cmpint (w.rest, ==, CORE_WARMTH_UNKNOWN);
  core_warmth_clear (&w);
  room_clear (&room);
}

static void
test_moved (void)
{
  Room room;
  CoreWarmth w;

  room_init (&room);
  room.shelf.place.day_c = room.shelf.place.night_c = 25;
  room.cup.place.day_c = room.cup.place.night_c = 18.5;
  put (&room, 0, &room.shelf);
  put (&room, 11, &room.cup); /* from the day of the move it stood there */
  build (&room, 0, 20, 30, &w);
  g_assert_cmpfloat_with_epsilon (core_warmth_at (&w, 10), 10, 1e-9);
  g_assert_cmpfloat_with_epsilon (core_warmth_at (&w, 20), 15, 1e-9);
  g_assert_cmpfloat_with_epsilon (core_warmth_at (&w, 30), 20, 1e-9);
  g_assert_cmpfloat_with_epsilon (core_warmth_at (&w, 10.5), 10.25, 1e-9);
  g_assert_cmpfloat_with_epsilon (core_warmth_at (&w, -2), -2, 1e-9);
  g_assert_cmpfloat_with_epsilon (core_warmth_when (&w, 15), 20, 1e-9);
  g_assert_cmpfloat_with_epsilon (core_warmth_when (&w, -2), -2, 1e-9);
  g_assert_true (isinf (core_warmth_when (&w, 20.1)));
  g_assert_true (core_id_equal (w.place, room.cup.subject));
  core_warmth_clear (&w);
  room_clear (&room);
}

/* A cup without habits takes those of the shelf around it; a circle of places ends. */
static void
test_within (void)
{
  Room room;
  CoreWarmth w;

  room_init (&room);
  room.shelf.place.day_c = room.shelf.place.night_c = 25;
  room.shelf.place.within = room.cup.subject;
  put (&room, 0, &room.cup);
  build (&room, 0, 5, 10, &w);
  g_assert_cmpfloat_with_epsilon (w.u[10], 10, 1e-9);
  core_warmth_clear (&w);
  room_clear (&room);
}

static void
test_readings (void)
{
  Room room;
  CoreWarmth w;
  CoreClock clock = { 12, 28, 30, 38 };

  room_init (&room);
  room.shelf.place.day_c = 26;
  room.shelf.place.night_c = 20;
  put (&room, 0, &room.shelf);
  reading (&room.shelf, 2, 300, 18, false);
  reading (&room.shelf, 2, 900, 27, false);
  reading (&room.shelf, 3, 720, 25, false); /* one moment: 1 °C under the habit */
  reading (&room.shelf, 4, -1, NAN, false); /* air only: no temperature */
  build (&room, 0, 5, 6, &w);
  g_assert_cmpfloat_with_epsilon (w.u[2] - w.u[1], core_clock_day_sine (&clock, 18, 27), 1e-12);
  g_assert_cmpfloat_with_epsilon (w.u[3] - w.u[2], core_clock_day_habit (&clock, 25, 19, 12),
                                  1e-12);
  /* nobody read: usual, but for what the days before say of the place */
  g_assert_cmpfloat (w.u[4] - w.u[3], >, core_clock_day_habit (&clock, 25, 19, 12));
  g_assert_cmpfloat (w.u[4] - w.u[3], <, core_clock_day_habit (&clock, 26, 20, 12));
  g_assert_cmpint (w.measured[2], ==, 1);
  g_assert_cmpint (w.measured[4], ==, 0);
  g_assert_cmpfloat_with_epsilon (core_warmth_share (&w, CORE_WARMTH_HABIT, 1, 3), 0, 1e-12);
  g_assert_cmpfloat (core_warmth_share (&w, CORE_WARMTH_HABIT, 0, 6), >, .5);
  core_warmth_clear (&w);
  room_clear (&room);
}

/* Readings of the shelf and inside a home are not one series. */
static void
test_not_mixed (void)
{
  Room room;
  CoreWarmth w;
  CoreClock clock = { 12, 28, 30, 38 };

  room_init (&room);
  put (&room, 0, &room.shelf);
  reading (&room.shelf, 1, 300, 18, false);
  reading (&room.shelf, 1, 310, 22, true);
  reading (&room.shelf, 1, 890, 28, true);
  reading (&room.shelf, 1, 900, 24, false);
  build (&room, 0, 2, 3, &w);
  g_assert_cmpfloat_with_epsilon (w.u[1], core_clock_day_sine (&clock, 22, 28), 1e-12);
  core_warmth_clear (&w);
  room_clear (&room);
}

static void
test_days_to_come (void)
{
  Room room;
  CoreWarmth w;
  CoreClock clock = { 12, 28, 30, 38 };

  room_init (&room);
  room.shelf.place.day_c = room.shelf.place.night_c = 25;
  put (&room, 0, &room.shelf);
  for (CoreDay day = 80; day < 83; day++)
    {
      reading (&room.shelf, day, 300, 18, false);
      reading (&room.shelf, day, 900, 22, false);
    }
  build (&room, 70, 90, 100, &w);
  g_assert_cmpint (w.rest, !=, CORE_WARMTH_READINGS); /* three days are too few */
  g_assert_cmpfloat_with_epsilon (w.u[30] - w.u[29], 1, 1e-12);
  core_warmth_clear (&w);
  reading (&room.shelf, 84, 300, 18, false);
  reading (&room.shelf, 84, 900, 22, false);
  build (&room, 70, 90, 490, &w);
  g_assert_cmpint (w.rest, ==, CORE_WARMTH_READINGS);
  /* colder than said, less so with every day, and after a year as if nobody had read */
  g_assert_cmpfloat (w.u[21] - w.u[20], >, core_clock_day_sine (&clock, 18, 22));
  g_assert_cmpfloat (w.u[21] - w.u[20], <, core_clock_day_sine (&clock, 21, 25));
  for (gsize i = 22; i < w.n; i++)
    g_assert_cmpfloat (w.u[i] - w.u[i - 1], >, w.u[i - 1] - w.u[i - 2]);
  g_assert_cmpfloat_with_epsilon (w.u[w.n - 1] - w.u[w.n - 2], 1, .02);
  g_assert_cmpfloat (w.typical_c, >, 20);
  g_assert_cmpfloat (w.typical_c, <, 23);
  g_assert_cmpfloat_with_epsilon (core_warmth_share (&w, CORE_WARMTH_HABIT, 91, 100), 0, 1e-12);
  core_warmth_clear (&w);
  room_clear (&room);
}

/* Nothing was said of the place, and it was read once, at noon: that moves its days by something, its
 * nights and the weeks to come by less; and nothing of it is known any better than before. */
static void
test_one_reading (void)
{
  Room room;
  CoreWarmth none, one, night;

  room_init (&room);
  put (&room, 0, &room.shelf);
  build (&room, 70, 90, 130, &none);
  g_assert_cmpint (none.rest, ==, CORE_WARMTH_UNKNOWN);
  reading (&room.shelf, 90, 780, 31, false);
  build (&room, 70, 90, 130, &one);
  g_assert_cmpint (one.rest, ==, CORE_WARMTH_READINGS);
  g_assert_cmpint (one.read_days, ==, 1);
  g_assert_true (one.one_time);
  g_assert_cmpfloat (one.day_c, >, none.day_c);
  g_assert_cmpfloat (one.typical_c, >, none.typical_c + .5);
  g_assert_cmpfloat (one.typical_c, <, none.typical_c + 3); /* half of a day is 7 °C warmer */
  g_assert_cmpfloat (one.u[40] - one.u[21], >, none.u[40] - none.u[21]);
  g_assert_cmpfloat (one.u[40] - one.u[21], <, 1.25 * (none.u[40] - none.u[21]));
  g_assert_cmpfloat_with_epsilon (core_warmth_share (&one, CORE_WARMTH_UNKNOWN, 91, 130), 1, 1e-9);
  g_assert_cmpfloat (core_warmth_share (&one, CORE_WARMTH_READINGS, 89, 90), ==, 0);
  reading (&room.shelf, 90, 1400, 18, false);
  build (&room, 70, 90, 130, &night);
  g_assert_false (night.one_time);
  g_assert_cmpfloat_with_epsilon (night.typical_c, 24.5, .5);
  core_warmth_clear (&none);
  core_warmth_clear (&one);
  core_warmth_clear (&night);
  room_clear (&room);
}

/* Where nobody said what is usual, readings of weeks are what is to come, whatever its kind is kept
 * at (22.25 °C in the mean); and the days between them are like them. */
static void
test_read_only (void)
{
  Room room;
  CoreWarmth w;
  CoreClock clock = { 12, 28, 30, 38 };

  room_init (&room);
  put (&room, 0, &room.shelf);
  for (CoreDay day = 40; day <= 90; day += 2)
    {
      reading (&room.shelf, day, 300, 24, false);
      reading (&room.shelf, day, 900, 28, false);
    }
  build (&room, 40, 90, 130, &w);
  g_assert_cmpfloat_with_epsilon (w.typical_c, 26, .15);
  for (gsize i = 1; i < w.n; i++)
    g_assert_cmpfloat_with_epsilon (w.u[i] - w.u[i - 1], core_clock_day_sine (&clock, 24, 28),
                                    i > 50 ? .11 : .03);
  core_warmth_clear (&w);
  room_clear (&room);
}

static void
test_monotone (void)
{
  Room room;
  CoreWarmth w;

  room_init (&room);
  put (&room, 0, &room.shelf);
  for (CoreDay day = 0; day < 60; day++)
    {
      reading (&room.shelf, day, 300, 5 + day % 17, false);
      reading (&room.shelf, day, 900, 12 + day % 29, false);
    }
  build (&room, 0, 60, 200, &w);
  for (gsize i = 1; i < w.n; i++)
    g_assert_cmpfloat (w.u[i], >=, w.u[i - 1]);
  for (double t = .25; t < 200; t += 3.5)
    g_assert_cmpfloat_with_epsilon (core_warmth_at (&w,
                                                    core_warmth_when (&w, core_warmth_at (&w, t))),
                                    core_warmth_at (&w, t), 1e-9);
  core_warmth_clear (&w);
  room_clear (&room);
}

static void
test_refused (void)
{
  Room room;
  CoreWarmth w;

  room_init (&room);
  g_assert_cmpint (core_warmth_build (&room.animal, &room.profile, lookup, &room, 10, 10, 9, &w),
                   ==, CORE_BAD_INPUT);
  g_assert_cmpint (core_warmth_build (&room.animal, &room.profile, lookup, &room, CORE_DAY_NONE, 10,
                                      20, &w),
                   ==, CORE_BAD_INPUT);
  g_assert_cmpint (core_warmth_build (&room.animal, &room.profile, lookup, &room, -900000, 10, 20,
                                      &w),
                   ==, CORE_BAD_INPUT);
  g_assert_cmpint (core_warmth_build (&room.animal, &room.profile, NULL, NULL, 10, 10, 10, &w), ==,
                   CORE_OK);
  g_assert_true (isinf (core_warmth_when (&w, 1)));
  core_warmth_clear (&w);
  room_clear (&room);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/warmth/nothing-known", test_nothing_known);
  g_test_add_func ("/warmth/half-known", test_half_known);
  g_test_add_func ("/warmth/moved", test_moved);
  g_test_add_func ("/warmth/within", test_within);
  g_test_add_func ("/warmth/readings", test_readings);
  g_test_add_func ("/warmth/not-mixed", test_not_mixed);
  g_test_add_func ("/warmth/days-to-come", test_days_to_come);
  g_test_add_func ("/warmth/one-reading", test_one_reading);
  g_test_add_func ("/warmth/read-only", test_read_only);
  g_test_add_func ("/warmth/monotone", test_monotone);
  g_test_add_func ("/warmth/refused", test_refused);
  return g_test_run ();
}
