/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-logger.c — a logger's file becomes entries of a place. */
#include "desk/desk-logger.h"

#include <math.h>
#include <string.h>

#include "core/core-series.h"
#include "desk/desk-climate.h"
#include "desk/desk-private.h"
#include "exchange/exch-file.h"
#include "exchange/exch-readings.h"

#define LOCAL "local" /* the clock on the wall */

struct _DeskLogger /* g_atomic_rc_box */
{
  Desk *desk; /* owned */
  char *name;
  ExchTable *table;
  ExchMapping mapping;
  char *zone; /* as it was said, "local" = the clock on the wall; owned; NULL = as the file says */

  /* After looking */
  CoreId place;
  gboolean inside;
  ExchReadings *readings;
  WordsReadings found;
  DeskLoggerZone named; /* what `found` says of it */
};

static void
logger_clear (gpointer data)
{
  DeskLogger *self = data;

  g_clear_object (&self->desk);
  g_free (self->name);
  g_clear_pointer (&self->table, exch_table_unref);
  g_free (self->zone);
  g_clear_pointer (&self->readings, exch_readings_unref);
}

DeskLogger *
desk_logger_ref (DeskLogger *self)
{
  return g_atomic_rc_box_acquire (self);
}

void
desk_logger_unref (DeskLogger *self)
{
  if (self != NULL)
    g_atomic_rc_box_release_full (self, logger_clear);
}

static void
fail_readings (GError **error, ReadingsProblem problem, const char *a, const char *b)
{
  g_autofree char *text = words_readings_problem (WORDS_LOCAL, problem, a, b);

  g_set_error_literal (error, DESK_ERROR, DESK_ERROR_VALUE, text);
}

/* ---- opening ---- */

/* For the entry: clean, and short enough to stand in each of them. */
static char *
clean_name (const char *name)
{
  g_autofree char *text = g_filename_display_name (name);

  for (char *p = text; *p != '\0'; p++)
    if ((guchar) *p < 0x20 || *p == 0x7f)
      *p = ' ';
  return g_utf8_strlen (text, -1) > 60 ? g_utf8_substring (text, 0, 60) : g_steal_pointer (&text);
}

DeskLogger *
desk_logger_new (Desk *desk, GBytes *bytes, const char *name, GError **error)
{
  ReadingsProblem problem;
  g_autofree char *about = NULL;
  g_autoptr (ExchTable) table = exch_table_new (bytes, &problem, &about);
  DeskLogger *self;

  if (table == NULL)
    {
      fail_readings (error, problem, about, NULL);
      return NULL;
    }
  self = g_atomic_rc_box_new0 (DeskLogger);
  self->desk = g_object_ref (desk);
  self->name = clean_name (name);
  self->mapping = *exch_table_guess (table);
  self->table = g_steal_pointer (&table);
  return self;
}

/* At most one byte more than is taken: that one is refused. */
static GBytes *
load_file (GFile *file, GCancellable *cancellable, GError **error)
{
  gsize most = (gsize) EXCH_READINGS_MAX_MIB * 1024 * 1024 + 1;
  g_autoptr (GFileInputStream) stream = g_file_read (file, cancellable, error);
  g_autoptr (GByteArray) bytes = g_byte_array_new ();

  while (stream != NULL && bytes->len < most)
    {
      guint before = bytes->len;
      gsize room = MIN (most - before, (gsize) 1 << 20), n = 0;

      g_byte_array_set_size (bytes, before + (guint) room);
      if (!g_input_stream_read_all (G_INPUT_STREAM (stream), bytes->data + before, room, &n, cancellable,
                                    error))
        return NULL;
      g_byte_array_set_size (bytes, before + (guint) n);
      if (n < room)
        break;
    }
  return stream != NULL ? g_byte_array_free_to_bytes (g_steal_pointer (&bytes)) : NULL;
}

static void
open_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  GError *error = NULL;
  g_autoptr (GBytes) bytes = load_file (data, cancellable, &error);
  g_autofree char *name = g_file_get_basename (data);
  DeskLogger *self =
    bytes != NULL ? desk_logger_new (source, bytes, name != NULL ? name : "", &error) : NULL;

  if (self != NULL)
    g_task_return_pointer (task, self, (GDestroyNotify) desk_logger_unref);
  else
    g_task_return_error (task, error);
}

void
desk_logger_open_async (Desk *desk,
                        GFile *file,
                        GCancellable *cancellable,
                        GAsyncReadyCallback callback,
                        gpointer data)
{
  g_autoptr (GTask) task = g_task_new (desk, cancellable, callback, data);

  g_task_set_source_tag (task, desk_logger_open_async);
  g_task_set_task_data (task, g_object_ref (file), g_object_unref);
  g_task_run_in_thread (task, open_thread);
}

DeskLogger *
desk_logger_open_finish (Desk *desk, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_task_is_valid (result, desk), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}

/* ---- how it is meant ---- */

const char *
desk_logger_name (DeskLogger *self)
{
  return self->name;
}

guint
desk_logger_n_columns (DeskLogger *self)
{
  return exch_table_n_columns (self->table);
}

const char *
desk_logger_heading (DeskLogger *self, guint column)
{
  return exch_table_heading (self->table, column);
}

const char *
desk_logger_sample (DeskLogger *self, guint column)
{
  return exch_table_sample (self->table, column);
}

static int *
column_of (DeskLogger *self, DeskLoggerColumn what)
{
  switch (what)
    {
    case DESK_LOGGER_TIME:
      return &self->mapping.time;
    case DESK_LOGGER_CLOCK:
      return &self->mapping.clock;
    case DESK_LOGGER_T:
      return &self->mapping.t;
    case DESK_LOGGER_RH:
    case DESK_LOGGER_N_COLUMNS:
    default:
      return &self->mapping.rh;
    }
}

int
desk_logger_column (DeskLogger *self, DeskLoggerColumn what)
{
  return *column_of (self, what);
}

char
desk_logger_unit (DeskLogger *self)
{
  return self->mapping.unit == EXCH_UNIT_C ? 'C' : self->mapping.unit == EXCH_UNIT_F ? 'F' : '\0';
}

static const char *const orders[] = { "", "ymd", "dmy", "mdy", "epoch", NULL };

const char *
desk_logger_dates (DeskLogger *self)
{
  return orders[self->mapping.order];
}

char
desk_logger_decimal (DeskLogger *self)
{
  return self->mapping.decimal;
}

static gboolean
set_column (DeskLogger *self, DeskLoggerColumn what, const char *value, GError **error)
{
  g_autofree char *headings = exch_table_headings (self->table);
  int column = strcmp (value, "-") == 0 ? -1 : exch_table_column (self->table, value);

  if (column < 0 && (strcmp (value, "-") != 0 || what == DESK_LOGGER_TIME))
    {
      fail_readings (error, READINGS_NO_COLUMN, value, headings);
      return FALSE;
    }
  for (int other = 0; column >= 0 && other < DESK_LOGGER_N_COLUMNS; other++)
    if (other != (int) what && *column_of (self, (DeskLoggerColumn) other) == column)
      *column_of (self, (DeskLoggerColumn) other) = -1; /* it is this now */
  *column_of (self, what) = column;
  if (what == DESK_LOGGER_T || what == DESK_LOGGER_RH)
    self->mapping.columns_said = TRUE;
  return TRUE;
}

/* NULL: the clock on the wall, or no such zone. */
static GTimeZone *
zone_called (const char *value)
{
  return g_ascii_strcasecmp (value, LOCAL) == 0 ? NULL : g_time_zone_new_identifier (value);
}

static gboolean
set_zone (DeskLogger *self, const char *value, GError **error)
{
  g_autoptr (GTimeZone) zone = zone_called (value);

  if (zone == NULL && g_ascii_strcasecmp (value, LOCAL) != 0)
    {
      fail_readings (error, READINGS_ZONE, value, NULL);
      return FALSE;
    }
  g_free (self->zone);
  self->zone = g_strdup (zone != NULL ? value : LOCAL);
  return TRUE;
}

gboolean
desk_logger_zone_named (DeskLogger *self, DeskLoggerZone *out)
{
  ExchZone zone;
  int minutes;

  if (!exch_table_zone (self->table, &self->mapping, &zone))
    return FALSE;
  minutes = ABS (zone.offset) / 60;
  *out = (DeskLoggerZone){ .certain = zone.certain };
  g_strlcpy (out->name, zone.name, sizeof out->name);
  if (zone.has_offset)
    g_snprintf (out->value, sizeof out->value, "%c%02d:%02d", zone.offset < 0 ? '-' : '+', minutes / 60, minutes % 60);
  return TRUE;
}

char *
desk_logger_zone (DeskLogger *self)
{
  DeskLoggerZone named;

  if (self->zone != NULL)
    return g_strdup (self->zone);
  if (!desk_logger_zone_named (self, &named))
    return g_strdup (LOCAL);
  return named.certain ? g_strdup (named.value) : NULL;
}

gboolean
desk_logger_set (DeskLogger *self, const char *key, const char *value, GError **error)
{
  static const char *const columns[] = { "time", "clock", "temperature", "humidity", NULL };
  int what = core_word_index (columns, key), order = core_word_index (orders, value);

  if (what >= 0)
    return set_column (self, (DeskLoggerColumn) what, value, error);
  if (strcmp (key, "zone") == 0)
    return set_zone (self, value, error);
  if (strcmp (key, "unit") == 0 && (g_ascii_strcasecmp (value, "C") == 0 || g_ascii_strcasecmp (value, "F") == 0))
    self->mapping.unit = g_ascii_toupper (value[0]) == 'F' ? EXCH_UNIT_F : EXCH_UNIT_C;
  else if (strcmp (key, "dates") == 0 && order > EXCH_ORDER_UNKNOWN && order < EXCH_ORDER_EPOCH)
    self->mapping.order = (ExchOrder) order;
  else if (strcmp (key, "decimal") == 0 && (strcmp (value, ".") == 0 || strcmp (value, ",") == 0))
    self->mapping.decimal = value[0];
  else
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_KEY_UNKNOWN, key,
                 "unit (C, F), dates (ymd, dmy, mdy), decimal (. ,)", NULL);
      return FALSE;
    }
  return TRUE;
}

/* What the columns and the rest leave open, as the problem with its parts. */
static ReadingsProblem
open_question (DeskLogger *self, char **about, char **more)
{
  g_autofree char *zone = NULL;
  DeskLoggerZone named;
  ReadingsProblem problem;

  *about = *more = NULL;
  if (self->mapping.t < 0 && self->mapping.rh < 0)
    return READINGS_NO_VALUES;
  problem = exch_table_asks (self->table, &self->mapping, about, more);
  zone = desk_logger_zone (self);
  if (problem == READINGS_OK && zone == NULL && desk_logger_zone_named (self, &named))
    {
      *about = g_strdup (named.name);
      problem = READINGS_ASK_ZONE;
    }
  return problem;
}

char *
desk_logger_asks (DeskLogger *self, WordsLang lang)
{
  g_autofree char *about = NULL;
  g_autofree char *more = NULL;
  ReadingsProblem problem = open_question (self, &about, &more);

  return problem != READINGS_OK ? words_readings_problem (lang, problem, about, more) : NULL;
}

/* ---- looking ---- */

typedef struct
{
  ExchTable *table;
  ExchMapping mapping;
  GTimeZone *home, *zone;
  CoreDay today;
} Look;

static void
look_free (gpointer data)
{
  Look *look = data;

  exch_table_unref (look->table);
  g_time_zone_unref (look->home);
  g_clear_pointer (&look->zone, g_time_zone_unref);
  g_free (look);
}

static void
look_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Look *look = data;
  ExchClock clock = { look->home, look->zone, look->today };
  ExchReadings *readings = exch_readings_new (look->table, &look->mapping, &clock, cancellable);

  if (readings == NULL)
    g_task_return_new_error (task, G_IO_ERROR, G_IO_ERROR_CANCELLED, "cancelled");
  else
    g_task_return_pointer (task, readings, (GDestroyNotify) exch_readings_unref);
}

/* A task has an object for its source: the desk. */
void
desk_logger_look_async (DeskLogger *self,
                        CoreId place,
                        gboolean inside,
                        GCancellable *cancellable,
                        GAsyncReadyCallback callback,
                        gpointer data)
{
  g_autoptr (GTask) task = g_task_new (self->desk, cancellable, callback, data);
  g_autofree char *asks = desk_logger_asks (self, WORDS_LOCAL);
  g_autofree char *zone = desk_logger_zone (self);
  Look *look;

  g_task_set_source_tag (task, desk_logger_look_async);
  self->place = place;
  self->inside = inside;
  g_clear_pointer (&self->readings, exch_readings_unref);
  if (asks != NULL)
    {
      g_task_return_new_error (task, DESK_ERROR, DESK_ERROR_VALUE, "%s", asks);
      return;
    }
  look = g_new0 (Look, 1);
  look->table = exch_table_ref (self->table);
  look->mapping = self->mapping;
  look->home = g_time_zone_new_local ();
  look->zone = zone_called (zone); /* nothing is asked: it is known */
  look->today = desk_today (self->desk);
  g_task_set_task_data (task, look, look_free);
  g_task_run_in_thread (task, look_thread);
}

/* As far as a stretch keeps it: 0.01 °C, 0.1 %. */
static gboolean
same_value (float a, float b, float step)
{
  return (isnan (a) && isnan (b)) || fabsf (a - b) < .6f * step;
}

static gboolean
same_reading (const CoreMoment *a, const CoreMoment *b)
{
  return same_value (a->t, b->t, .01f) && same_value (a->rh, b->rh, .1f);
}

/* Those of `found` that no entry of the place has; sorted both. *differing of them are of a time of
 * which another value is there. */
static GArray *
only_new (const GArray *found, const GArray *there, guint *differing)
{
  GArray *out = g_array_sized_new (FALSE, FALSE, sizeof (CoreMoment), found->len);
  guint k = 0;

  *differing = 0;
  for (guint i = 0; i < found->len; i++)
    {
      guint at;
      gboolean same;
      const CoreMoment *moment = &g_array_index (found, CoreMoment, i);

      while (k < there->len && g_array_index (there, CoreMoment, k).at < moment->at)
        k++;
      for (same = FALSE, at = k; at < there->len && !same; at++)
        if (g_array_index (there, CoreMoment, at).at != moment->at)
          break;
        else
          same = same_reading (&g_array_index (there, CoreMoment, at), moment);
      if (same)
        continue;
      *differing += at > k;
      g_array_append_vals (out, moment, 1);
    }
  return out;
}

static GArray *
new_moments (DeskLogger *self, guint *differing)
{
  g_autoptr (GArray) there = desk_climate_now (self->desk, self->place, self->inside, FALSE);

  return only_new (self->readings->moments, there, differing);
}

/* The zone that the file names, where its times are taken for that. */
static const char *
zone_taken (DeskLogger *self)
{
  g_autofree char *zone = desk_logger_zone (self);
  gboolean named = desk_logger_zone_named (self, &self->named);

  return named && zone != NULL && strcmp (zone, self->named.value) == 0 ? self->named.name : NULL;
}

static void
sum_up (DeskLogger *self)
{
  guint differing = 0;
  g_autoptr (GArray) fresh = new_moments (self, &differing);
  const GArray *all = self->readings->moments;

  self->found = (WordsReadings){ .readings = fresh->len,
                                 .already = all->len - fresh->len,
                                 .differing = differing,
                                 .duplicates = self->readings->duplicates,
                                 .contradictions = self->readings->contradictions,
                                 .gaps = self->readings->n_gaps,
                                 .bad = self->readings->n_bad,
                                 .first = CORE_DAY_NONE,
                                 .last = CORE_DAY_NONE,
                                 .zone = zone_taken (self) };
  if (all->len > 0)
    {
      self->found.first = CORE_MOMENT_DAY (&g_array_index (all, CoreMoment, 0));
      self->found.last = CORE_MOMENT_DAY (&g_array_index (all, CoreMoment, all->len - 1));
    }
}

gboolean
desk_logger_look_finish (DeskLogger *self, GAsyncResult *result, GError **error)
{
  ExchReadings *readings = g_task_propagate_pointer (G_TASK (result), error);

  if (readings == NULL)
    return FALSE;
  g_clear_pointer (&self->readings, exch_readings_unref);
  self->readings = readings;
  sum_up (self);
  return TRUE;
}

const WordsReadings *
desk_logger_found (DeskLogger *self)
{
  return &self->found;
}

gint64
desk_logger_step (DeskLogger *self)
{
  return self->readings != NULL ? self->readings->step : 0;
}

guint
desk_logger_n_bad (DeskLogger *self)
{
  return self->readings != NULL ? self->readings->bad->len : 0;
}

char *
desk_logger_bad (DeskLogger *self, WordsLang lang, guint i, guint *line)
{
  const ExchBadRow *row = &g_array_index (self->readings->bad, ExchBadRow, i);
  g_autofree char *why = words_readings_problem (lang, row->why, row->about, NULL);

  *line = row->line;
  return g_strdup_printf (T_ (lang, "readings", "line %u: %s"), row->line, why);
}

guint
desk_logger_n_gaps (DeskLogger *self)
{
  return self->readings != NULL ? self->readings->gaps->len : 0;
}

void
desk_logger_gap (DeskLogger *self, guint i, gint64 *from, gint64 *to)
{
  const ExchGap *gap = &g_array_index (self->readings->gaps, ExchGap, i);

  *from = gap->from;
  *to = gap->to;
}

/* ---- writing ---- */

/* As many of one day as one entry takes. */
static guint
write_stretch (DeskOp *op, DeskLogger *self, const CoreMoment *v, guint n)
{
  CoreDay day = CORE_MOMENT_DAY (&v[0]);
  CoreSample samples[CORE_SERIES_MAX_BYTES / 3];
  char series[CORE_SERIES_MAX_BYTES];
  guint count = 0, packed;
  CoreEntry *entry;

  for (; count < n && count < G_N_ELEMENTS (samples) && CORE_MOMENT_DAY (&v[count]) == day; count++)
    samples[count] = (CoreSample){ (int32_t) (v[count].at % CORE_SERIES_DAY), v[count].t, v[count].rh };
  packed = (guint) core_series_pack (samples, count, series, sizeof series);
  if (packed == 0)
    g_error ("readings that cannot be packed");
  entry = desk_op_entry (op, CORE_KIND_LOGGED, self->place, day);
  entry->minute = (int16_t) (samples[0].second / 60);
  core_entry_set_str (entry, CORE_KEY_SERIES, series);
  if (self->inside)
    core_entry_set_word (entry, CORE_KEY_INSIDE, "yes");
  if (self->name[0] != '\0')
    core_entry_set_str (entry, CORE_KEY_FROM, self->name);
  return packed;
}

/* Not entry by entry through desk_op_check(): each is sound by the way it was read, and the fold of
 * the place before each of thousands would take their square. */
static gboolean
prepare_write (Desk *desk, DeskOp *op, GError **error)
{
  DeskLogger *self = op->data;
  g_autoptr (GArray) fresh = NULL;

  if (desk_op_kind_of (op, self->place) != CORE_SUBJECT_PLACE)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_NOT_FOUND, WORDS_DESK_NO_SUBJECT, NULL);
      return FALSE;
    }
  fresh = new_moments (self, &self->found.differing);
  self->found.readings = fresh->len;
  for (guint i = 0; i < fresh->len;)
    i += write_stretch (op, self, &g_array_index (fresh, CoreMoment, i), fresh->len - i);
  return TRUE;
}

void
desk_logger_write_async (DeskLogger *self,
                         GCancellable *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer data)
{
  g_return_if_fail (self->readings != NULL);

  desk_op_start (self->desk, prepare_write, prepare_write, desk_logger_ref (self),
                 (GDestroyNotify) desk_logger_unref, cancellable, callback, data);
}

gboolean
desk_logger_write_finish (DeskLogger *self, GAsyncResult *result, guint *written, GError **error)
{
  if (desk_op_finish (self->desk, result, prepare_write, error) == NULL)
    return FALSE;
  *written = self->found.readings;
  return TRUE;
}

/* ---- out ---- */

typedef struct
{
  GArray *moments;
  char *path;
  gboolean replace;
} Export;

static void
export_free (gpointer data)
{
  Export *self = data;

  g_array_unref (self->moments);
  g_free (self->path);
  g_free (self);
}

#define AT_ONCE 20000 /* readings in memory as text */

static gboolean
write_table (int fd, const char *path, gpointer data, GError **error)
{
  const Export *self = data;
  const CoreMoment *v = (const CoreMoment *) (const void *) self->moments->data;
  gsize n = self->moments->len;

  for (gsize i = 0; i < n || i == 0; i += AT_ONCE)
    {
      g_autoptr (GString) text = g_string_new (NULL);

      exch_readings_write (text, n > 0 ? v + i : NULL, MIN (n - i, (gsize) AT_ONCE), i == 0);
      if (!exch_file_write (fd, text->str, text->len, path, error))
        return FALSE;
    }
  return TRUE;
}

static void
export_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Export *self = data;
  GError *error = NULL;

  if (exch_file_make (self->path, write_table, self, self->replace, &error))
    g_task_return_int (task, self->moments->len);
  else
    g_task_return_error (task, error);
}

void
desk_readings_export_async (Desk *desk,
                            CoreId place,
                            gboolean inside,
                            const char *path,
                            gboolean replace,
                            GAsyncReadyCallback callback,
                            gpointer data)
{
  g_autoptr (GTask) task = g_task_new (desk, NULL, callback, data);
  Export *self = g_new0 (Export, 1);

  self->moments = desk_climate_now (desk, place, inside, TRUE);
  self->path = g_canonicalize_filename (path, NULL);
  self->replace = replace;
  g_task_set_source_tag (task, desk_readings_export_async);
  g_task_set_task_data (task, self, export_free);
  g_task_run_in_thread (task, export_thread);
}

gboolean
desk_readings_export_finish (Desk *desk, GAsyncResult *result, guint *n, GError **error)
{
  gssize written = g_task_propagate_int (G_TASK (result), error);

  *n = written > 0 ? (guint) written : 0;
  return written >= 0;
}
