/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-series.c — packed readings of a logger: there and back, hostile texts, what a place keeps. */
#include "journal.h"

#include <math.h>
#include <string.h>

#include "core/core-clock.h"
#include "core/core-hours.h"

/* Every 60 s, a wave of temperature, humidity against it, some without humidity. */
static size_t
make_day (CoreSample *out, int step)
{
  size_t n = 0;

  for (int s = 0; s < CORE_SERIES_DAY; s += step, n++)
    out[n] = (CoreSample){ s, round (100 * (24 + 4 * sin (s * 7.2722e-5))) / 100,
                           n % 7 == 3 ? NAN : round (10 * (60 - 9 * sin (s * 7.2722e-5))) / 10 };
  return n;
}

static gboolean
same (double a, double b)
{
  return (isnan (a) && isnan (b)) || fabs (a - b) < 1e-9;
}

static void
test_there_and_back (void)
{
  CoreSample day[1440];
  size_t n = make_day (day, 60), done = 0, texts = 0;
  char text[CORE_SERIES_MAX_BYTES];

  while (done < n)
    {
      size_t packed = core_series_pack (day + done, n - done, text, sizeof text), i = 0;
      CoreSeriesReader reader = core_series_read (text);
      CoreSample sample;

      g_assert_cmpuint (packed, >, 0);
      g_assert_cmpuint (strlen (text), <, sizeof text);
      for (; core_series_next (&reader, &sample); i++)
        {
          g_assert_cmpint (sample.second, ==, day[done + i].second);
          g_assert_true (same (sample.t, day[done + i].t) && same (sample.rh, day[done + i].rh));
        }
      g_assert_false (reader.bad);
      g_assert_cmpuint (i, ==, packed);
      done += packed;
      texts++;
    }
  g_assert_cmpuint (texts, <=, 2); /* a day of minutes: two texts at most */
}

static void
test_refuses_to_pack (void)
{
  static const CoreSample bad[][2] = {
    { { 10, 20, 50 }, { 9, 20, 50 } },   { { 10, 20, 50 }, { CORE_SERIES_DAY, 20, 50 } },
    { { 10, NAN, NAN }, { 11, 20, 50 } }, { { 10, 101, 50 }, { 11, 20, 50 } },
    { { 10, 20, -1 }, { 11, 20, 50 } },  { { -1, 20, 50 }, { 11, 20, 50 } },
  };
  char text[CORE_SERIES_MAX_BYTES];

  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    g_assert_cmpuint (core_series_pack (bad[i], 2, text, sizeof text), ==, 0);
}

static void
test_hostile (void)
{
  static const char *const bad[] = {
    "",       "2AAA",     "1",         "1A",          "1AB", "1________AAA", "1AAA", /* no value */
    "1AB\x01", "1 ABC",    "1ABCé",     "1BzzzzzzzAAA", "1ABA ", "1A-------BA",
  };

  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    if (core_series_valid (bad[i], NULL))
      g_error ("“%s” is no series", bad[i]);
  /* Any letters: never past the end, never out of range. */
  for (guint seed = 1; seed <= 3000; seed++)
    {
      char text[64];
      CoreSeriesReader reader;
      CoreSample sample;
      int last = 0;

      journal_seed (seed);
      text[0] = '1';
      for (gsize i = 1; i < sizeof text - 1; i++)
        text[i] = (char) (journal_draw (9) == 0 ? 33 + journal_draw (90) : 'A' + journal_draw (26));
      text[sizeof text - 1] = '\0';
      reader = core_series_read (text);
      while (core_series_next (&reader, &sample))
        {
          g_assert_cmpint (sample.second, >=, last);
          g_assert_cmpint (sample.second, <, CORE_SERIES_DAY);
          g_assert_true (!(sample.t < -60) && !(sample.t > 100));
          g_assert_true (!(sample.rh < 0) && !(sample.rh > 100));
          g_assert_false (isnan (sample.t) && isnan (sample.rh));
          last = sample.second;
        }
    }
}

static void
say_logged (Journal *journal, CoreDay day, int step, gboolean inside)
{
  CoreSample samples[1440];
  size_t n = make_day (samples, step), done = 0;
  char text[CORE_SERIES_MAX_BYTES];

  while (done < n)
    {
      size_t packed = core_series_pack (samples + done, n - done, text, sizeof text);
      g_autofree char *line =
        g_strdup_printf ("logged|series=%s%s", text, inside ? "|inside=yes" : "");

      journal_add (journal, day, line);
      done += packed;
    }
}

/* The state keeps the extremes of each hour, in the order of the day, between what was typed. */
static void
test_of_a_place (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreState place;
  double min = INFINITY, max = -INFINITY;
  int typed = 0;

  core_state_init (&place);
  journal_add (journal, 100, "reading|t=30|minute=740");
  journal_add (journal, 100, "reading|t=31");
  say_logged (journal, 100, 60, FALSE);
  journal_fold (journal, CORE_SUBJECT_PLACE, &place);
  g_assert_cmpuint (place.place.readings.n, <=, 2 + 2 * 24 + 2);
  g_assert_cmpuint (place.place.readings.n, >=, 2 + 24);
  for (size_t i = 0; i < place.place.readings.n; i++)
    {
      const CoreReadingAt *now = &place.place.readings.v[i];

      if (i > 0 && now->minute >= 0)
        g_assert_cmpint (now[-1].minute, <=, now->minute);
      if (now->t >= 30)
        typed++;
      else
        {
          min = fmin (min, now->t);
          max = fmax (max, now->t);
        }
    }
  g_assert_cmpint (typed, ==, 2);
  g_assert_cmpint (place.place.readings.v[place.place.readings.n - 1].minute, ==, -1);
  /* 24 ± 4 °C is what was written */
  g_assert_cmpfloat_with_epsilon (min, 20, .005);
  g_assert_cmpfloat_with_epsilon (max, 28, .005);
  core_state_clear (&place);
}

static const CoreState *
lookup (CoreId place, void *data)
{
  const CoreState *state = data;

  return core_id_equal (place, state->subject) ? state : NULL;
}

/* The development clock takes a logger's day as the sine through its lowest and highest. */
static void
test_feeds_the_clock (void)
{
  g_autoptr (Journal) journal = journal_new ();
  CoreState place, animal;
  CoreProfile profile;
  CoreWarmth warmth;
  CoreClock clock;
  double day;

  core_state_init (&place);
  core_state_init (&animal);
  core_profile_init (&profile);
  core_profile_group_defaults (&profile, CORE_GROUP_HARDY);
  say_logged (journal, 101, 600, FALSE);
  journal_fold (journal, CORE_SUBJECT_PLACE, &place);
  animal.stays.v = g_new0 (CoreStay, 1);
  animal.stays.n = animal.stays.cap = 1;
  animal.stays.v[0].day = 90;
  animal.stays.v[0].place = place.subject;
  g_assert_cmpint (
    core_warmth_build (&animal, &profile, lookup, &place, 100, 101, 101, &warmth), ==, CORE_OK);
  clock = core_clock_from_profile (&profile);
  day = core_clock_day_sine (&clock, 20, 28);
  g_assert_cmpfloat_with_epsilon (warmth.u[1], day, 1e-3);
  g_assert_cmpint (warmth.measured[1], ==, CORE_WARMTH_READINGS);
  core_warmth_clear (&warmth);
  g_free (animal.stays.v);
  animal.stays.v = NULL;
  animal.stays.n = animal.stays.cap = 0;
  core_profile_clear (&profile);
  core_state_clear (&place);
  core_state_clear (&animal);
}

/* Extremes of extremes are the same: so the short text may stand for the long one in a fold. */
static void
test_hours_of_hours (void)
{
  for (int round = 0; round < 200; round++)
    {
      CoreSample samples[600];
      char text[CORE_SERIES_MAX_BYTES], hours[CORE_SERIES_MAX_BYTES];
      CoreHours a, b;
      size_t n = 1 + journal_draw (600);
      int second = 0;

      for (size_t i = 0; i < n; i++)
        {
          unsigned what = journal_draw (6); /* now and then one of the two, or the same second again */

          second += (int) journal_draw (what == 5 ? 1 : 140);
          samples[i] = (CoreSample){ second, what == 0 ? NAN : journal_draw (400) / 10. - 5,
                                     what == 1 ? NAN : journal_draw (1000) / 10. };
        }
      g_assert_cmpuint (core_series_pack (samples, n, text, sizeof text), >, 0);
      g_assert_true (core_hours_series (text, hours, sizeof hours));
      core_hours_of (text, &a);
      core_hours_of (hours, &b);
      g_assert_cmpuint (a.n, ==, b.n);
      for (size_t i = 0; i < a.n; i++)
        {
          g_assert_cmpint (a.v[i].second, ==, b.v[i].second);
          g_assert_true (a.v[i].t == b.v[i].t || (isnan (a.v[i].t) && isnan (b.v[i].t)));
          g_assert_true (a.v[i].rh == b.v[i].rh || (isnan (a.v[i].rh) && isnan (b.v[i].rh)));
        }
    }
  g_assert_false (core_hours_series ("!", (char[100]){ 0 }, 100));
}

static void
test_hours_of_an_entry (void)
{
  CoreSample samples[1440];
  char text[CORE_SERIES_MAX_BYTES], hours[CORE_SERIES_MAX_BYTES];
  CoreEntry *entry = core_entry_new (CORE_KIND_LOGGED), *copy;

  make_day (samples, 60);
  g_assert_cmpuint (core_series_pack (samples, 600, text, sizeof text), ==, 600);
  g_assert_cmpint (core_entry_set_str (entry, CORE_KEY_SERIES, text), ==, CORE_VALUE_OK);
  g_assert_true (core_hours_series (text, hours, sizeof hours));
  copy = core_hours_entry (entry);
  g_assert_cmpstr (core_entry_str (copy, CORE_KEY_SERIES), ==, hours);
  g_assert_cmpstr (core_entry_str (entry, CORE_KEY_SERIES), ==, text);
  g_assert_null (core_hours_entry (copy)); /* as short as it gets */
  core_entry_free (copy);
  core_entry_free (entry);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/series/there-and-back", test_there_and_back);
  g_test_add_func ("/series/refuses-to-pack", test_refuses_to_pack);
  g_test_add_func ("/series/hostile", test_hostile);
  g_test_add_func ("/series/of-a-place", test_of_a_place);
  g_test_add_func ("/series/hours-of-hours", test_hours_of_hours);
  g_test_add_func ("/series/hours-of-an-entry", test_hours_of_an_entry);
  g_test_add_func ("/series/feeds-the-clock", test_feeds_the_clock);
  return g_test_run ();
}
