/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-weeks.c — see desk-weeks.h. All of it is counted from rows and outlooks that are there already. */
#include "desk/desk-weeks.h"

#include <string.h>

#include "core/core-date.h"
#include "desk/desk-private.h"

#define NEAR_DAYS 7
#define LEAST_HALF .5 /* days that the middle half takes at least, so that it can be seen */

/* ---- what is shown ---- */

int
desk_hand_of (CoreTaskKind kind, CoreTaskRank rank, int prey)
{
  static const int hands[CORE_N_TASKS] = {
    [CORE_TASK_IS_DEAD] = 1, [CORE_TASK_AFTER_MOULT] = 2, [CORE_TASK_TAKE_OUT] = 3, [CORE_TASK_FEED] = 4,
    [CORE_TASK_MIST] = 40,   [CORE_TASK_WATER] = 40,      [CORE_TASK_HOME] = 41,    [CORE_TASK_SEX_CHECK] = 42,
    [CORE_TASK_LOOK] = 43,   [CORE_TASK_SHED] = 44,       [CORE_TASK_CLEAN] = 45,
  };
  G_STATIC_ASSERT (CORE_N_PREY < 40 - 5);

  if (rank == CORE_RANK_EMERGENCY)
    return 0;
  if (kind == CORE_TASK_FEED && prey >= 0)
    return 5 + prey;
  return kind < CORE_N_TASKS && hands[kind] > 0 ? hands[kind] : 50 + (int) kind;
}

const char *
desk_filter_species (const DeskSubject *subject)
{
  return desk_subject_species_known (subject) ? desk_subject_profile (subject)->scientific
                                              : desk_subject_state (subject)->species;
}

static gboolean
has_moults (const DeskSubject *subject)
{
  CoreSubjectKind kind = desk_subject_kind (subject);

  return kind == CORE_SUBJECT_ANIMAL || kind == CORE_SUBJECT_LOT;
}

/* The range of days as it is said; FALSE: none is. */
static gboolean
range_of (const DeskSubject *subject, DeskBand *out)
{
  const CoreForecast *one = desk_subject_outlook (subject);
  const CoreLotForecast *lot = desk_subject_lot_forecast (subject);
  gboolean many = desk_subject_kind (subject) == CORE_SUBJECT_LOT;

  if (core_state_looks_dead (desk_subject_state (subject)))
    return FALSE;
  if (many ? lot->why != CORE_NO_FORECAST_NONE || lot->still.why != CORE_STILL_NOT : !words_forecast_has_days (one))
    return FALSE;
  out->from = many ? lot->first.p10 : words_forecast_from (one);
  out->to = MAX (many ? lot->last.p90 : one->p90, out->from + 1);
  return TRUE;
}

gboolean
desk_near_moult (const DeskSubject *subject, CoreDay today)
{
  const CoreForecast *one = desk_subject_outlook (subject);
  DeskBand band = { 0 };

  if (!has_moults (subject) || !desk_subject_living (subject))
    return FALSE;
  if (one->why == CORE_NO_FORECAST_NONE && one->still.why == CORE_STILL_NOT && (one->in_range || one->probably_moulted))
    return TRUE;
  return range_of (subject, &band) && band.from <= today + NEAR_DAYS;
}

gboolean
desk_filter_shows (const DeskFilter *filter, const DeskSubject *subject, CoreDay today)
{
  if (filter->species != NULL
      && (desk_subject_kind (subject) == CORE_SUBJECT_PLACE || desk_subject_kind (subject) == CORE_SUBJECT_CULTURE
          || strcmp (desk_filter_species (subject), filter->species) != 0))
    return FALSE;
  return !filter->near_moult || desk_near_moult (subject, today);
}

gboolean
desk_filter_shows_row (const DeskFilter *filter, const DeskAgendaRow *row)
{
  return filter->hand < 0
         || filter->hand == desk_hand_of ((CoreTaskKind) row->kind, (CoreTaskRank) row->rank, row->prey);
}

/* ---- days ---- */

static void
week_free (gpointer data)
{
  DeskWeek *week = data;

  g_array_unref (week->laid);
  g_free (week);
}

static void
clear_band (gpointer data)
{
  desk_subject_unref (((DeskBand *) data)->subject);
}

void
desk_weeks_free (DeskWeeks *self)
{
  g_array_unref (self->days);
  g_array_unref (self->bands);
  g_ptr_array_unref (self->weeks);
  g_free (self);
}

const DeskWeekDay *
desk_weeks_day (const DeskWeeks *self, CoreDay day)
{
  if (day < self->from || day >= self->from + (CoreDay) self->days->len)
    return NULL;
  return &g_array_index (self->days, DeskWeekDay, day - self->from);
}

static void
count_rows (DeskWeeks *self, const DeskAgenda *agenda, const DeskFilter *filter)
{
  g_autofree gboolean *shown = g_new (gboolean, agenda->subjects->len + 1);

  for (guint i = 0; i < agenda->subjects->len; i++)
    shown[i] = desk_filter_shows (filter, agenda->subjects->pdata[i], self->today);
  for (guint i = 0; i < agenda->rows->len; i++)
    {
      const DeskAgendaRow *row = &g_array_index (agenda->rows, DeskAgendaRow, i);
      CoreDay nth = row->day - self->from;

      if (nth >= 0 && nth < (CoreDay) self->days->len && shown[row->subject] && desk_filter_shows_row (filter, row))
        g_array_index (self->days, DeskWeekDay, nth).tasks[row->kind]++;
    }
}

/* ---- moults ---- */

/* `days` from this evening: whatever comes until tomorrow evening is tomorrow's. */
static double
on_axis (CoreDay today, double days)
{
  return today + 1 + days;
}

static void
add_band (DeskWeeks *self, DeskSubject *subject)
{
  const CoreForecast *one = desk_subject_outlook (subject);
  const CoreLotForecast *lot = desk_subject_lot_forecast (subject);
  DeskBand band = { .subject = subject };

  if (!range_of (subject, &band) || band.to < self->from || band.from > self->to)
    return;
  if (desk_subject_kind (subject) == CORE_SUBJECT_LOT)
    {
      band.half[0] = on_axis (self->today, lot->median.days[0]);
      band.middle = on_axis (self->today, lot->median.days[1]);
      band.half[1] = on_axis (self->today, lot->median.days[2]);
    }
  else
    {
      band.half[0] = on_axis (self->today, one->days[CORE_Q25]);
      band.middle = on_axis (self->today, one->days[CORE_Q50]);
      band.half[1] = on_axis (self->today, one->days[CORE_Q75]);
      band.adult = one->p_next_is_adult;
    }
  band.middle = CLAMP (band.middle, band.from, band.to + 1);
  band.half[0] = MAX (band.from, MIN (band.half[0], band.middle - LEAST_HALF / 2));
  band.half[1] = MIN (band.to + 1, MAX (band.half[1], band.middle + LEAST_HALF / 2));
  desk_subject_ref (subject);
  g_array_append_val (self->bands, band);
}

static int
by_middle (gconstpointer a, gconstpointer b)
{
  const DeskBand *x = a, *y = b;

  if (x->middle != y->middle)
    return x->middle < y->middle ? -1 : 1;
  if (x->from != y->from)
    return x->from < y->from ? -1 : 1;
  return desk_compare_by_number (&x->subject, &y->subject);
}

static void
add_bands (DeskWeeks *self, Desk *desk, CoreId place, const DeskFilter *filter)
{
  g_autoptr (GPtrArray) subjects = desk_planned_subjects (desk, place);

  for (guint i = 0; i < subjects->len; i++)
    if (has_moults (subjects->pdata[i]) && desk_filter_shows (filter, subjects->pdata[i], self->today))
      add_band (self, subjects->pdata[i]);
  g_array_sort (self->bands, by_middle);
}

/* Its days of that week as bits; 0 = none. */
static guint
days_in (const DeskBand *band, CoreDay monday)
{
  CoreDay first = MAX (band->from - monday, 0), last = MIN (band->to - monday, 6);
  guint days = 0;

  for (CoreDay day = first; day <= last; day++)
    days |= 1u << day;
  return days;
}

static void
lay (DeskWeek *week, guint band, guint days, guint used[DESK_WEEK_LANES])
{
  DeskLaid laid = { .band = band };

  while (laid.lane < DESK_WEEK_LANES && (used[laid.lane] & days) != 0)
    laid.lane++;
  if (laid.lane == DESK_WEEK_LANES)
    {
      week->more++;
      return;
    }
  used[laid.lane] |= days;
  week->lanes = MAX (week->lanes, laid.lane + 1);
  g_array_append_val (week->laid, laid);
}

/* When the middle of a band lies in this week: 0, later: 1, before: 2. */
static int
turn_of (const DeskBand *band, CoreDay monday)
{
  if (band->middle < monday)
    return 2;
  return band->middle < monday + 7 ? 0 : 1;
}

/* Those that most likely moult in this week come first to a lane, the soonest before all; then, while there
 * is room, those to come, and the late ones. */
static DeskWeek *
week_new (const DeskWeeks *self, CoreDay monday)
{
  DeskWeek *week = g_new0 (DeskWeek, 1);
  guint used[DESK_WEEK_LANES] = { 0 };

  week->laid = g_array_new (FALSE, FALSE, sizeof (DeskLaid));
  for (int turn = 0; turn < 3; turn++)
    for (guint i = 0; i < self->bands->len; i++)
      {
        const DeskBand *band = &g_array_index (self->bands, DeskBand, i);
        guint days = days_in (band, monday);

        if (days != 0 && turn_of (band, monday) == turn)
          lay (week, i, days, used);
      }
  return week;
}

DeskWeeks *
desk_weeks_new (Desk *desk, const DeskAgenda *agenda, CoreId place, const DeskFilter *filter, CoreDay to)
{
  DeskWeeks *self = g_new0 (DeskWeeks, 1);
  guint n;

  self->today = desk_today (desk);
  self->to = to;
  self->from = agenda->from - core_day_weekday (agenda->from);
  n = (guint) (to - self->from) / 7 + 1;
  self->days = g_array_new (FALSE, TRUE, sizeof (DeskWeekDay));
  g_array_set_size (self->days, n * 7);
  self->bands = g_array_new (FALSE, FALSE, sizeof (DeskBand));
  g_array_set_clear_func (self->bands, clear_band);
  self->weeks = g_ptr_array_new_with_free_func (week_free);
  count_rows (self, agenda, filter);
  add_bands (self, desk, place, filter);
  for (guint i = 0; i < n; i++)
    g_ptr_array_add (self->weeks, week_new (self, self->from + (CoreDay) i * 7));
  return self;
}
