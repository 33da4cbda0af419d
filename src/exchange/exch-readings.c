/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-readings.c — the readings of a logger's table: every line read, or said why not.
 *
 * Invariant: a line is a reading, a repetition or a bad row, never two of them and never none; what
 * comes out is in order of time.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/core-date.h"
#include "exchange/exch-table-private.h"

#define OLDEST_DAYS 18262 /* what the journal takes: fifty years */
#define ASK_CANCELLED 4096

/* Which hour it is on a clock changes at full quarters of an hour only: asked once for each. */
#define STEADY 900

typedef struct
{
  gint64 from, shift;
  gboolean asked, exists;
} Quarter;

typedef struct
{
  ExchTable *table;
  const ExchMapping *mapping;
  const ExchClock *clock;
  ExchReadings *out;
  int needed; /* cells that a line must have */
  Quarter instant, clock_face;
} Reading;

/* ---- time ---- */

static gint64
zone_shift (GTimeZone *zone, GTimeType type, gint64 at, gint64 *interval)
{
  *interval = g_time_zone_find_interval (zone, type, at);
  return *interval >= 0 ? g_time_zone_get_offset (zone, (int) *interval) : 0;
}

/* Seconds of the clock on the wall at home, of an instant. */
static gint64
to_wall (const ExchClock *clock, gint64 utc)
{
  gint64 interval;

  return utc + zone_shift (clock->home, G_TIME_TYPE_UNIVERSAL, utc, &interval);
}

/* The distance of the zone from UTC; FALSE: its clock never shows that time. */
static gboolean
shift_at (Quarter *self, GTimeZone *zone, GTimeType type, gint64 at, gint64 *shift)
{
  gint64 from = at - (at % STEADY + STEADY) % STEADY, interval;

  if (!self->asked || from != self->from)
    {
      self->shift = zone_shift (zone, type, from, &interval);
      self->exists = interval >= 0;
      self->from = from;
      self->asked = TRUE;
    }
  *shift = self->shift;
  return self->exists;
}

/* From the clock that the time was read from to the one on the wall. */
static gboolean
to_home (Reading *self, const ExchMoment *moment, gint64 *at)
{
  GTimeZone *face = self->clock->zone != NULL ? self->clock->zone : self->clock->home;
  gint64 shift = moment->offset;

  if (!moment->zoned && !shift_at (&self->clock_face, face, G_TIME_TYPE_STANDARD, *at, &shift))
    return FALSE;
  if (!moment->zoned && self->clock->zone == NULL)
    return TRUE;
  *at -= shift;
  shift_at (&self->instant, self->clock->home, G_TIME_TYPE_UNIVERSAL, *at, &shift);
  *at += shift;
  return TRUE;
}

/* An hour that the clock on the wall shows twice, in autumn. */
static gboolean
is_shown_twice (const ExchClock *clock, gint64 at)
{
  gint64 summer, winter;
  gint64 a = zone_shift (clock->home, G_TIME_TYPE_DAYLIGHT, at, &summer);
  gint64 b = zone_shift (clock->home, G_TIME_TYPE_STANDARD, at, &winter);

  return a != b && to_wall (clock, at - a) == at && to_wall (clock, at - b) == at;
}

static ReadingsProblem
read_time (Reading *self, const ExchCell *cells, gint64 *at)
{
  ExchMoment moment, clock;
  gint64 wall, today = self->clock->today;

  if (!exch_moment_parse (cells[self->mapping->time], self->mapping->order, &moment) ||
      moment.day == CORE_DAY_NONE)
    return READINGS_ROW_TIME;
  if (self->mapping->clock >= 0)
    {
      if (moment.second >= 0 ||
          !exch_moment_parse (cells[self->mapping->clock], EXCH_ORDER_UNKNOWN, &clock) ||
          clock.day != CORE_DAY_NONE)
        return READINGS_ROW_TIME;
      clock.day = moment.day;
      moment = clock;
    }
  if (moment.second < 0)
    return READINGS_ROW_TIME;
  wall = (gint64) moment.day * CORE_SERIES_DAY + moment.second;
  if (!to_home (self, &moment, &wall))
    return READINGS_ROW_SKIPPED;
  if (wall < 0 || today - wall / CORE_SERIES_DAY > OLDEST_DAYS)
    return READINGS_ROW_OLD;
  if (wall / CORE_SERIES_DAY > today)
    return READINGS_ROW_FUTURE;
  *at = wall;
  return READINGS_OK;
}

/* ---- one line ---- */

static ReadingsProblem
read_number (const Reading *self, const ExchCell *cells, int column, float *out)
{
  double value;
  char unit;

  *out = NAN;
  if (column < 0)
    return READINGS_OK;
  switch (exch_number_parse (cells[column], self->mapping->decimal, &value, &unit))
    {
    case EXCH_NUMBER_OK:
      *out = (float) value;
      return READINGS_OK;
    case EXCH_NUMBER_NONE:
      return READINGS_OK;
    case EXCH_NUMBER_BAD:
    default:
      return READINGS_ROW_NUMBER;
    }
}

static ReadingsProblem
read_values (const Reading *self, const ExchCell *cells, CoreMoment *moment, int *column)
{
  ReadingsProblem problem;

  *column = self->mapping->t;
  problem = read_number (self, cells, self->mapping->t, &moment->t);
  if (problem != READINGS_OK)
    return problem;
  if (self->mapping->unit == EXCH_UNIT_F)
    moment->t = (moment->t - 32) * 5 / 9;
  moment->t = roundf (moment->t * 100) / 100;
  if (moment->t < -60 || moment->t > 100)
    return READINGS_ROW_T;
  *column = self->mapping->rh;
  problem = read_number (self, cells, self->mapping->rh, &moment->rh);
  moment->rh = roundf (moment->rh * 10) / 10;
  if (problem == READINGS_OK && (moment->rh < 0 || moment->rh > 100))
    problem = READINGS_ROW_RH;
  if (problem == READINGS_OK && isnan (moment->t) && isnan (moment->rh))
    problem = READINGS_ROW_NONE;
  return problem;
}

static void
note_bad (ExchReadings *out, guint line, ReadingsProblem why, ExchCell cell)
{
  ExchBadRow row = { .line = line, .why = why };

  out->n_bad++;
  if (out->bad->len >= EXCH_READINGS_SHOWN)
    return;
  cell = exch_cell_strip (cell);
  row.about = g_utf8_make_valid (cell.at, (gssize) MIN (cell.length, 40));
  for (char *p = row.about; *p != '\0'; p++)
    if ((guchar) *p < 0x20 || *p == 0x7f)
      *p = ' ';
  g_array_append_val (out->bad, row);
}

static void
read_line (Reading *self, ExchCell line, guint number)
{
  ExchCell cells[EXCH_READINGS_MAX_COLUMNS];
  CoreMoment moment;
  ReadingsProblem problem;
  int column = self->mapping->time;
  guint n = 0;

  self->out->rows++;
  if (!_exch_table_cells (line, self->mapping->delimiter, cells, &n))
    note_bad (self->out, number, READINGS_ROW_QUOTE, line);
  else if ((int) n < self->needed)
    note_bad (self->out, number, READINGS_ROW_SHORT, line);
  else
    {
      problem = read_time (self, cells, &moment.at);
      if (problem == READINGS_OK)
        problem = read_values (self, cells, &moment, &column);
      if (problem == READINGS_OK)
        g_array_append_val (self->out->moments, moment);
      else
        note_bad (self->out, number, problem, cells[MAX (column, 0)]);
    }
}

/* ---- all of them ---- */

typedef struct
{
  CoreMoment moment;
  guint order; /* in the file */
} Placed;

static int
compare_placed (const void *a, const void *b)
{
  const Placed *left = a, *right = b;

  if (left->moment.at != right->moment.at)
    return left->moment.at < right->moment.at ? -1 : 1;
  return (left->order > right->order) - (left->order < right->order);
}

static void
sort (GArray *moments)
{
  CoreMoment *v = (CoreMoment *) (void *) moments->data;
  g_autofree Placed *placed = NULL;
  guint i = 1;

  while (i < moments->len && v[i - 1].at <= v[i].at)
    i++;
  if (i >= moments->len)
    return;
  placed = g_new (Placed, moments->len);
  for (i = 0; i < moments->len; i++)
    placed[i] = (Placed){ v[i], i };
  qsort (placed, moments->len, sizeof *placed, compare_placed);
  for (i = 0; i < moments->len; i++)
    v[i] = placed[i].moment;
}

static gboolean
same_value (float a, float b)
{
  return (isnan (a) && isnan (b)) || a == b;
}

/* Of one time twice the first counts, but for the hour that there is twice. */
static void
drop_repeated (ExchReadings *self, const ExchClock *clock)
{
  CoreMoment *v = (CoreMoment *) (void *) self->moments->data;
  guint kept = 0;

  for (guint i = 0; i < self->moments->len; i++)
    {
      const CoreMoment *last = kept > 0 ? &v[kept - 1] : NULL;

      if (last == NULL || last->at != v[i].at)
        v[kept++] = v[i];
      else if (same_value (last->t, v[i].t) && same_value (last->rh, v[i].rh))
        self->duplicates++;
      else if (is_shown_twice (clock, v[i].at))
        v[kept++] = v[i];
      else
        self->contradictions++;
    }
  g_array_set_size (self->moments, kept);
}

static void
find_gaps (ExchReadings *self)
{
  const CoreMoment *v = (const CoreMoment *) (const void *) self->moments->data;
  gint64 gap;

  self->step = core_climate_step (v, self->moments->len);
  gap = core_climate_gap (self->step);
  for (guint i = 1; i < self->moments->len; i++)
    if (v[i].at - v[i - 1].at > gap)
      {
        ExchGap found = { v[i - 1].at, v[i].at };

        self->n_gaps++;
        if (self->gaps->len < EXCH_READINGS_SHOWN)
          g_array_append_val (self->gaps, found);
      }
}

static void
clear_bad (gpointer data)
{
  g_free (((ExchBadRow *) data)->about);
}

static ExchReadings *
readings_alloc (gsize bytes)
{
  ExchReadings *self = g_atomic_rc_box_new0 (ExchReadings);

  self->moments = g_array_sized_new (FALSE, FALSE, sizeof (CoreMoment), (guint) (bytes / 24) + 1);
  self->bad = g_array_new (FALSE, FALSE, sizeof (ExchBadRow));
  g_array_set_clear_func (self->bad, clear_bad);
  self->gaps = g_array_new (FALSE, FALSE, sizeof (ExchGap));
  return self;
}

ExchReadings *
exch_readings_new (ExchTable *table,
                   const ExchMapping *mapping,
                   const ExchClock *clock,
                   GCancellable *cancellable)
{
  g_autoptr (ExchReadings) self = readings_alloc (g_bytes_get_size (table->bytes));
  Reading reading = { .table = table, .mapping = mapping, .clock = clock, .out = self };
  guint number = table->first_line;
  gsize at = table->first;
  ExchCell line;

  reading.needed = 1 + MAX (MAX (mapping->time, mapping->clock), MAX (mapping->t, mapping->rh));
  for (; _exch_table_line (table, &at, &line); number++)
    {
      if (number % ASK_CANCELLED == 0 && g_cancellable_is_cancelled (cancellable))
        return NULL;
      if (exch_cell_strip (line).length > 0)
        read_line (&reading, line, number);
    }
  sort (self->moments);
  drop_repeated (self, clock);
  find_gaps (self);
  return g_steal_pointer (&self);
}

static void
readings_clear (gpointer data)
{
  ExchReadings *self = data;

  g_array_unref (self->moments);
  g_array_unref (self->bad);
  g_array_unref (self->gaps);
}

ExchReadings *
exch_readings_ref (ExchReadings *self)
{
  return g_atomic_rc_box_acquire (self);
}

void
exch_readings_unref (ExchReadings *self)
{
  g_atomic_rc_box_release_full (self, readings_clear);
}

/* ---- out again ---- */

void
exch_readings_write (GString *out, const CoreMoment *moments, gsize n, gboolean heading)
{
  if (heading)
    g_string_append (out, "Time;Temperature °C;Humidity %\r\n");
  for (gsize i = 0; i < n; i++)
    {
      int second = (int) (moments[i].at % CORE_SERIES_DAY);
      char day[11], t[G_ASCII_DTOSTR_BUF_SIZE] = "", rh[G_ASCII_DTOSTR_BUF_SIZE] = "";

      core_day_to_text (CORE_MOMENT_DAY (&moments[i]), day);
      if (!isnan (moments[i].t))
        g_ascii_formatd (t, sizeof t, "%.2f", moments[i].t);
      if (!isnan (moments[i].rh))
        g_ascii_formatd (rh, sizeof rh, "%.1f", moments[i].rh);
      g_string_append_printf (out, "%s %02d:%02d:%02d;%s;%s\r\n", day, second / 3600, second / 60 % 60,
                              second % 60, t, rh);
    }
}
