/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-calendar.c — the days to come as a calendar has them: weeks, bands, filters, what was missed, and
 * what would change for a lot. */
#include "desk-fixture.h"

#include <math.h>
#include <string.h>

#include "core/core-date.h"
#include "desk/desk-agenda.h"
#include "desk/desk-missed.h"
#include "desk/desk-weeks.h"
#include "desk/desk-what-if.h"

#define SHELF 6 /* animals on each of two shelves */

static const CoreId nowhere = { { 0 } };
static const DeskFilter everything = { NULL, -1, FALSE };

/* Animals that moulted and ate at different days, so that something is due on each. */
static void
fill_shelf (Desk *desk, const char *code, const char *species)
{
  g_autofree char *place = g_strdup_printf ("name=Shelf-%s code=%s day_c=25 night_c=21", code, code);
  g_autoptr (DeskSubject) shelf = fixture_add (desk, CORE_SUBJECT_PLACE, place);

  for (int i = 0; i < SHELF; i++)
    {
      g_autofree char *pairs = g_strdup_printf ("species=%s hatched=2026-03-01 place=%s", species, code);
      g_autoptr (DeskSubject) animal = fixture_add (desk, CORE_SUBJECT_ANIMAL, pairs);

      fixture_record (desk, animal, "stage", "seen=nymph moults=4", -12 - i);
      fixture_record (desk, animal, "moulted", "outcome=good seen=yes", -10 - i);
      fixture_record (desk, animal, "fed", "prey=hydei outcome=taken", -i % 4);
      fixture_record (desk, animal, "looked", "", -i % 3);
    }
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  fixture_set_up (fixture, data);
  fill_shelf (fixture->desk, "A", "hierodula");
  fill_shelf (fixture->desk, "B", "phyllocrania");
}

#define CALENDAR(path, func) g_test_add ("/calendar/" path, Fixture, NULL, set_up, func, fixture_tear_down)

static DeskAgenda *
agenda_of (Fixture *fixture, CoreId place)
{
  CoreDay today = desk_today (fixture->desk);

  return desk_agenda (fixture->desk, today, today + 89, place);
}

/* ---- weeks ---- */

static guint
sum (const DeskWeeks *weeks)
{
  guint n = 0;

  for (guint i = 0; i < weeks->days->len; i++)
    for (int kind = 0; kind < CORE_N_TASKS; kind++)
      n += g_array_index (weeks->days, DeskWeekDay, i).tasks[kind];
  return n;
}

static void
test_days (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskAgenda) agenda = agenda_of (fixture, nowhere);
  g_autoptr (DeskWeeks) weeks = desk_weeks_new (fixture->desk, agenda, nowhere, &everything, agenda->to);
  guint outside = 0, feeds = 0;

  g_assert_cmpint (core_day_weekday (weeks->from), ==, 0);
  g_assert_cmpint (weeks->from, <=, desk_today (fixture->desk));
  g_assert_cmpuint (weeks->days->len, ==, weeks->weeks->len * 7);
  g_assert_cmpint (weeks->from + (CoreDay) weeks->days->len, >, agenda->to);
  for (guint i = 0; i < agenda->rows->len; i++)
    {
      const DeskAgendaRow *row = &g_array_index (agenda->rows, DeskAgendaRow, i);

      outside += desk_weeks_day (weeks, row->day) == NULL ? 1 : 0;
      feeds += row->day == desk_today (fixture->desk) + 3 && row->kind == CORE_TASK_FEED ? 1 : 0;
    }
  g_assert_cmpuint (agenda->rows->len, >, 100);
  g_assert_cmpuint (sum (weeks), ==, agenda->rows->len - outside);
  g_assert_cmpuint (desk_weeks_day (weeks, desk_today (fixture->desk) + 3)->tasks[CORE_TASK_FEED], ==, feeds);
  g_assert_null (desk_weeks_day (weeks, weeks->from - 1));
}

static const DeskBand *
band_of (const DeskWeeks *weeks, const DeskSubject *subject)
{
  for (guint i = 0; i < weeks->bands->len; i++)
    {
      const DeskBand *band = &g_array_index (weeks->bands, DeskBand, i);

      if (core_id_equal (desk_subject_id (band->subject), desk_subject_id (subject)))
        return band;
    }
  return NULL;
}

/* The range as it is said, never one day, its middle half inside. */
static void
test_bands (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskAgenda) agenda = agenda_of (fixture, nowhere);
  g_autoptr (DeskWeeks) weeks = desk_weeks_new (fixture->desk, agenda, nowhere, &everything, agenda->to);
  g_autoptr (GPtrArray) animals = desk_animals (fixture->desk);

  g_assert_cmpuint (weeks->bands->len, ==, 2 * SHELF);
  for (guint i = 0; i < animals->len; i++)
    {
      const CoreForecast *forecast = desk_subject_outlook (animals->pdata[i]);
      const DeskBand *band = band_of (weeks, animals->pdata[i]);

      g_assert_nonnull (band);
      g_assert_cmpint (band->from, ==, words_forecast_from (forecast));
      g_assert_cmpint (band->to, ==, MAX (forecast->p90, band->from + 1));
      g_assert_cmpint (band->from, <=, (int) floor (band->half[0]));
      g_assert_cmpfloat (band->half[0], <, band->middle);
      g_assert_cmpfloat (band->middle, <, band->half[1]);
      g_assert_cmpfloat (band->half[1], <=, band->to + 1);
      /* Of the day on which it is most likely found: today + ceil (days). */
      g_assert_cmpint ((CoreDay) ceil (band->middle) - 1, ==, forecast->p50);
    }
}

/* Too cold to moult, or dead by its looks: no days are drawn, and none is near its moult. */
static void
test_no_band (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) cellar = fixture_add (fixture->desk, CORE_SUBJECT_PLACE, "name=Cellar code=K day_c=11 night_c=11");
  g_autoptr (DeskSubject) cold
    = fixture_add (fixture->desk, CORE_SUBJECT_ANIMAL, "species=hierodula hatched=2026-03-01 place=K");
  g_autoptr (GPtrArray) animals = desk_animals (fixture->desk);
  g_autoptr (DeskAgenda) agenda = NULL;
  g_autoptr (DeskWeeks) weeks = NULL;

  fixture_record (fixture->desk, animals->pdata[0], "looks_dead", "", 0);
  agenda = agenda_of (fixture, nowhere);
  weeks = desk_weeks_new (fixture->desk, agenda, nowhere, &everything, agenda->to);
  g_assert_nonnull (cellar);
  g_assert_cmpuint (weeks->bands->len, ==, 2 * SHELF - 1);
  g_assert_null (band_of (weeks, cold));
  g_assert_null (band_of (weeks, animals->pdata[0]));
}

/* One that hangs has the first lane of its week, however many ranges began before. */
static void
test_soonest_first (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GPtrArray) animals = desk_animals (fixture->desk);
  DeskSubject *hanging = animals->pdata[SHELF - 1]; /* the last to moult */
  g_autoptr (DeskAgenda) agenda = NULL;
  g_autoptr (DeskWeeks) weeks = NULL;
  const DeskWeek *week;
  const DeskLaid *first;
  const DeskBand *band;

  fixture_record (fixture->desk, hanging, "sign", "sign=hanging", 0);
  agenda = agenda_of (fixture, nowhere);
  weeks = desk_weeks_new (fixture->desk, agenda, nowhere, &everything, agenda->to);
  band = band_of (weeks, hanging);
  g_assert_nonnull (band);
  week = weeks->weeks->pdata[((int) band->middle - weeks->from) / 7];
  first = &g_array_index (week->laid, DeskLaid, 0);
  g_assert_cmpuint (first->lane, ==, 0);
  g_assert_true (&g_array_index (weeks->bands, DeskBand, first->band) == band);
}

/* No two bands of a lane share a day, and none is forgotten. */
static void
test_lanes (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskAgenda) agenda = agenda_of (fixture, nowhere);
  g_autoptr (DeskWeeks) weeks = desk_weeks_new (fixture->desk, agenda, nowhere, &everything, agenda->to);
  guint more = 0;

  for (guint w = 0; w < weeks->weeks->len; w++)
    {
      const DeskWeek *week = weeks->weeks->pdata[w];
      CoreDay monday = weeks->from + (CoreDay) w * 7;
      guint touching = 0;

      for (guint i = 0; i < weeks->bands->len; i++)
        {
          const DeskBand *band = &g_array_index (weeks->bands, DeskBand, i);

          touching += band->to >= monday && band->from <= monday + 6 ? 1 : 0;
        }
      g_assert_cmpuint (week->laid->len + week->more, ==, touching);
      for (guint i = 0; i < week->laid->len; i++)
        for (guint k = 0; k < i; k++)
          {
            const DeskLaid *a = &g_array_index (week->laid, DeskLaid, i), *b = &g_array_index (week->laid, DeskLaid, k);
            const DeskBand *x = &g_array_index (weeks->bands, DeskBand, a->band);
            const DeskBand *y = &g_array_index (weeks->bands, DeskBand, b->band);

            g_assert_true (a->lane != b->lane || MAX (x->to, monday) < MAX (y->from, monday) ||
                           MAX (y->to, monday) < MAX (x->from, monday));
            g_assert_cmpuint (a->lane, <, DESK_WEEK_LANES);
          }
      more += week->more;
    }
  g_assert_cmpuint (more, >, 0); /* twelve of about one age: the lanes do not suffice */
}

static void
test_filters (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) shelf = desk_find (fixture->desk, "B", NULL);
  g_autoptr (DeskAgenda) all = agenda_of (fixture, nowhere);
  g_autoptr (DeskAgenda) there = agenda_of (fixture, desk_subject_id (shelf));
  DeskFilter kind = { "Hierodula membranacea", -1, FALSE };
  DeskFilter feed = { NULL, desk_hand_of (CORE_TASK_MIST, CORE_RANK_USUAL, -1), FALSE };
  g_autoptr (DeskWeeks) placed = desk_weeks_new (fixture->desk, there, desk_subject_id (shelf), &everything, there->to);
  g_autoptr (DeskWeeks) of_kind = desk_weeks_new (fixture->desk, all, nowhere, &kind, all->to);
  g_autoptr (DeskWeeks) sprayed = desk_weeks_new (fixture->desk, all, nowhere, &feed, all->to);
  DeskFilter none = { "Nobody", -1, FALSE };
  g_autoptr (DeskWeeks) nobody = desk_weeks_new (fixture->desk, all, nowhere, &none, all->to);

  g_assert_cmpuint (placed->bands->len, ==, SHELF);
  g_assert_cmpuint (of_kind->bands->len, ==, SHELF);
  for (guint i = 0; i < SHELF; i++)
    {
      const DeskSubject *subject = g_array_index (of_kind->bands, DeskBand, i).subject;

      g_assert_cmpstr (desk_subject_profile (subject)->scientific, ==, kind.species);
      g_assert_null (band_of (placed, subject));
    }
  for (guint i = 0; i < sprayed->days->len; i++)
    g_assert_cmpuint (g_array_index (sprayed->days, DeskWeekDay, i).tasks[CORE_TASK_FEED], ==, 0);
  g_assert_cmpuint (sum (sprayed), >, 0);
  g_assert_cmpuint (sum (nobody) + nobody->bands->len, ==, 0);
}

static void
test_near (Fixture *fixture, gconstpointer data)
{
  DeskFilter near = { NULL, -1, TRUE };
  CoreDay today = desk_today (fixture->desk);
  g_autoptr (GPtrArray) animals = desk_animals (fixture->desk);
  guint n = 0;

  for (guint i = 0; i < animals->len; i++)
    {
      const CoreForecast *forecast = desk_subject_outlook (animals->pdata[i]);
      gboolean soon = forecast->in_range || words_forecast_from (forecast) <= today + 7;

      g_assert_cmpint (desk_filter_shows (&near, animals->pdata[i], today), ==, soon);
      n += soon ? 1 : 0;
    }
  g_assert_cmpuint (n, >, 0);
  g_assert_cmpuint (n, <, animals->len);
}

/* A slice at a time it is the same; given up, nothing is left of it. */
static void
test_slices (Fixture *fixture, gconstpointer data)
{
  CoreDay today = desk_today (fixture->desk);
  g_autoptr (DeskAgenda) whole = agenda_of (fixture, nowhere);
  DeskAgendaMaker *maker = desk_agenda_begin (fixture->desk, today, today + 89, nowhere);
  g_autoptr (DeskAgenda) sliced = NULL;

  g_assert_true (desk_agenda_go_on (maker, 0));
  while (desk_agenda_go_on (maker, g_get_monotonic_time () + 1))
    ;
  sliced = desk_agenda_end (maker);
  g_assert_cmpuint (sliced->rows->len, ==, whole->rows->len);
  g_assert_cmpmem (sliced->rows->data, sliced->rows->len * sizeof (DeskAgendaRow), whole->rows->data,
                   whole->rows->len * sizeof (DeskAgendaRow));
  g_assert_cmpuint (sliced->subjects->len, ==, whole->subjects->len);
  desk_agenda_give_up (desk_agenda_begin (fixture->desk, today, today + 89, nowhere));
}

/* The days that are shown at once are those of the long plan. */
static void
test_first_days (Fixture *fixture, gconstpointer data)
{
  CoreDay today = desk_today (fixture->desk);
  g_autoptr (DeskAgenda) all = agenda_of (fixture, nowhere);
  g_autoptr (DeskAgenda) first = desk_agenda (fixture->desk, today, today + 27, nowhere);
  g_autoptr (DeskWeeks) whole = desk_weeks_new (fixture->desk, all, nowhere, &everything, all->to);
  g_autoptr (DeskWeeks) begun = desk_weeks_new (fixture->desk, first, nowhere, &everything, all->to);

  g_assert_cmpuint (begun->weeks->len, ==, whole->weeks->len);
  g_assert_cmpuint (begun->bands->len, ==, whole->bands->len);
  for (CoreDay day = today; day <= today + 27; day++)
    g_assert_cmpmem (desk_weeks_day (begun, day), sizeof (DeskWeekDay), desk_weeks_day (whole, day), sizeof (DeskWeekDay));
}

/* ---- missed ---- */

static GPtrArray *
missed_of (Fixture *fixture, guint *own, guint *tasks)
{
  g_autoptr (DeskPlan) plan = desk_plan (fixture->desk, desk_today (fixture->desk), desk_today (fixture->desk), nowhere);
  GPtrArray *missed = desk_missed_new ();

  *own = *tasks = 0;
  for (guint i = 0; i < plan->tasks->len; i++)
    {
      const DeskTask *row = &g_array_index (plan->tasks, DeskTask, i);

      if (row->task.day != desk_today (fixture->desk))
        continue;
      if (desk_missed_add (fixture->desk, missed, row->subject, &row->task))
        (*tasks)++;
      else if (row->task.due < desk_today (fixture->desk) && row->task.rank == CORE_RANK_USUAL)
        (*own)++;
    }
  desk_missed_done (fixture->desk, missed);
  return missed;
}

/* Two evenings without entries: what was due on them is one line a shelf, whatever it is. */
static void
test_one_line_a_shelf (Fixture *fixture, gconstpointer data)
{
  guint own, tasks, said = 0, unseen = 0;
  g_autoptr (GPtrArray) missed = NULL;

  desk_set_today (fixture->desk, fixture_day (2));
  missed = missed_of (fixture, &own, &tasks);
  g_assert_cmpuint (tasks, >, 4);
  g_assert_cmpuint (own, ==, 0);
  g_assert_cmpuint (missed->len, ==, 2);
  for (guint i = 0; i < missed->len; i++)
    {
      const DeskMissed *one = missed->pdata[i];
      g_autofree char *text = desk_missed_text (one, WORDS_ENGLISH);

      g_assert_cmpstr (desk_missed_name (one), ==, i == 0 ? "Shelf-A" : "Shelf-B");
      g_assert_nonnull (strstr (text, "Left from earlier evenings: "));
      /* Last seen four days ago: their line begins with them. */
      g_assert_cmpint (g_str_has_prefix (text, "Not seen for "), ==, one->unseen != NULL);
      unseen += one->unseen != NULL ? one->unseen->len : 0;
      g_assert_null (strchr (text, '\n'));
      said += one->n;
    }
  g_assert_cmpuint (said, ==, tasks);
  g_assert_cmpuint (unseen, >=, 2);
}

/* Prey that bites is never left in a quiet line. */
static void
test_biting_prey_stays (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) animal = desk_find (fixture->desk, "1", NULL);
  g_autoptr (DeskPlan) plan = NULL;
  g_autoptr (GPtrArray) missed = desk_missed_new ();
  guint found = 0;

  fixture_record (fixture->desk, animal, "fed", "prey=cricket outcome=offered", -2);
  plan = desk_plan (fixture->desk, fixture->today, fixture->today, nowhere);
  for (guint i = 0; i < plan->tasks->len; i++)
    {
      const DeskTask *row = &g_array_index (plan->tasks, DeskTask, i);

      if (row->task.kind != CORE_TASK_TAKE_OUT)
        continue;
      g_assert_cmpint (row->task.due, <, fixture->today);
      g_assert_false (desk_missed_add (fixture->desk, missed, row->subject, &row->task));
      found++;
    }
  g_assert_cmpuint (found, ==, 1);
}

/* ---- what if, for a lot ---- */

static void
test_what_if_lot (Fixture *fixture, gconstpointer data)
{
  g_autoptr (DeskSubject) lot =
    fixture_add (fixture->desk, CORE_SUBJECT_LOT, "species=hierodula hatched=2026-05-29 place=A count=40 code=H1");
  DeskWhatIf as_it_is = desk_what_if_nothing (), cool = as_it_is;
  DeskWhatIfAnswer now, then;
  const CoreLotForecast *known;
  g_autoptr (DeskSubject) subject = fixture_now (fixture->desk, lot);
  guint before = desk_history (fixture->desk, desk_subject_id (lot), NULL)->len;

  cool.day_c = cool.night_c = 19;
  g_assert_true (desk_what_if (fixture->desk, subject, &as_it_is, &now, NULL));
  g_assert_true (desk_what_if (fixture->desk, subject, &cool, &then, NULL));
  known = desk_subject_lot_forecast (subject);
  g_assert_true (now.is_lot && then.is_lot);
  for (int q = 0; q < 3; q++)
    {
      g_assert_cmpfloat_with_epsilon (now.lot.first.days[q], known->first.days[q], 1e-6);
      g_assert_cmpfloat_with_epsilon (now.lot.last.days[q], known->last.days[q], 1e-6);
      g_assert_cmpfloat (then.lot.first.days[q], >, now.lot.first.days[q]);
      g_assert_cmpfloat (then.lot.median.days[q], >, now.lot.median.days[q]);
      g_assert_cmpfloat (then.lot.last.days[q], >, now.lot.last.days[q]);
    }
  g_assert_cmpuint (desk_history (fixture->desk, desk_subject_id (lot), NULL)->len, ==, before);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  CALENDAR ("days", test_days);
  CALENDAR ("bands", test_bands);
  CALENDAR ("no-band", test_no_band);
  CALENDAR ("soonest-first", test_soonest_first);
  CALENDAR ("lanes", test_lanes);
  CALENDAR ("filters", test_filters);
  CALENDAR ("near", test_near);
  CALENDAR ("slices", test_slices);
  CALENDAR ("first-days", test_first_days);
  CALENDAR ("one-line-a-shelf", test_one_line_a_shelf);
  CALENDAR ("biting-prey-stays", test_biting_prey_stays);
  CALENDAR ("what-if-lot", test_what_if_lot);
  return g_test_run ();
}
