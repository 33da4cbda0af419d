/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-table.c — the table in a logger's file: its letters, its separator, where it begins, its columns.
 *
 * Judged by what stands in the lines, not by the name of a maker: the separator is the one with
 * which most lines hold a time and a number, and the table begins with the first such line.
 */
#include <math.h>
#include <string.h>

#include "exchange/exch-table-private.h"

#define MIB (1024 * 1024)
#define LOOK_AT 200   /* lines, to learn the form */
#define MAX_LINE 4096 /* bytes of a line that is looked at */

static const char delimiters[] = { '\t', ';', ',', '|' };

/* ---- letters ---- */

static gboolean
has_mark (const guint8 *data, gsize size, guint8 a, guint8 b)
{
  return size >= 2 && data[0] == a && data[1] == b;
}

/* UTF-16 by its mark, or by every second byte being nothing in what is plainly ASCII. */
static const char *
wide_form (const guint8 *data, gsize size)
{
  gsize n = MIN (size, 64), odd = 0, even = 0;

  if (has_mark (data, size, 0xff, 0xfe))
    return "UTF-16LE";
  if (has_mark (data, size, 0xfe, 0xff))
    return "UTF-16BE";
  for (gsize i = 0; i < n; i++)
    if (data[i] == 0)
      *(i % 2 == 1 ? &odd : &even) += 1;
  if (n >= 8 && odd == n / 2 && even == 0)
    return "UTF-16LE";
  return n >= 8 && even == (n + 1) / 2 && odd == 0 ? "UTF-16BE" : NULL;
}

static GBytes *
plain_letters (GBytes *bytes, ReadingsProblem *problem)
{
  gsize size, written = 0;
  const guint8 *data = g_bytes_get_data (bytes, &size);
  const char *form = data != NULL ? wide_form (data, size) : NULL;
  gsize mark = form != NULL && (data[0] >= 0xfe) ? 2 : 0;
  char *text;

  if (size == 0)
    {
      *problem = READINGS_EMPTY;
      return NULL;
    }
  if (form != NULL)
    {
      text = g_convert ((const char *) data + mark, (gssize) (size - mark), "UTF-8", form, NULL, &written,
                        NULL);
      if (text != NULL)
        return g_bytes_new_take (text, written);
      *problem = READINGS_LETTERS;
      return NULL;
    }
  if (size >= 3 && memcmp (data, "\xef\xbb\xbf", 3) == 0)
    return g_bytes_new_from_bytes (bytes, 3, size - 3);
  return g_bytes_ref (bytes);
}

/* A heading may be of any old coding; what cannot be read becomes a question mark. */
static char *
clean_text (ExchCell cell)
{
  g_autofree char *text = NULL;

  cell = exch_cell_strip (cell);
  cell.length = MIN (cell.length, 80);
  if (g_utf8_validate_len (cell.at, cell.length, NULL))
    text = g_strndup (cell.at, cell.length);
  else
    text = g_convert_with_fallback (cell.at, (gssize) cell.length, "UTF-8", "WINDOWS-1252", "?", NULL, NULL,
                                    NULL);
  if (text == NULL)
    text = g_utf8_make_valid (cell.at, (gssize) cell.length);
  for (char *p = text; *p != '\0'; p++)
    if ((guchar) *p < 0x20 || *p == 0x7f)
      *p = ' ';
  return g_strdup (g_strstrip (text));
}

static gboolean
check_bytes (ExchTable *self, ReadingsProblem *problem, char **about)
{
  gsize size;
  const char *data = g_bytes_get_data (self->bytes, &size);
  const char *bad = size > 0 ? memchr (data, '\0', size) : NULL;
  guint line = 1;

  if (size == 0)
    {
      *problem = READINGS_EMPTY;
      return FALSE;
    }
  self->newline = memchr (data, '\n', size) == NULL && memchr (data, '\r', size) != NULL ? '\r' : '\n';
  if (bad == NULL)
    return TRUE;
  for (const char *p = data; p < bad; p++)
    line += *p == self->newline;
  *problem = READINGS_BINARY;
  *about = g_strdup_printf ("%u", line);
  return FALSE;
}

/* ---- lines and cells ---- */

gboolean
_exch_table_line (const ExchTable *self, gsize *at, ExchCell *line)
{
  gsize size;
  const char *data = g_bytes_get_data (self->bytes, &size);
  const char *end;

  if (*at >= size)
    return FALSE;
  end = memchr (data + *at, self->newline, size - *at);
  line->at = data + *at;
  line->length = end != NULL ? (gsize) (end - line->at) : size - *at;
  *at += line->length + 1;
  if (line->length > 0 && line->at[line->length - 1] == '\r')
    line->length--;
  return TRUE;
}

gboolean
_exch_table_cells (ExchCell line, char delimiter, ExchCell *cells, guint *n)
{
  const char *at = line.at, *end = line.at + line.length;

  for (*n = 0; *n < EXCH_READINGS_MAX_COLUMNS; at++)
    {
      const char *stop;

      while (at < end && *at == ' ')
        at++;
      if (at < end && *at == '"')
        {
          stop = memchr (at + 1, '"', (gsize) (end - at - 1));
          if (stop == NULL)
            return FALSE;
          cells[(*n)++] = (ExchCell){ at + 1, (gsize) (stop - at - 1) };
          at = stop + 1;
          while (at < end && *at != delimiter)
            at++;
        }
      else
        {
          stop = at < end ? memchr (at, delimiter, (gsize) (end - at)) : NULL;
          stop = stop != NULL ? stop : end;
          cells[(*n)++] = (ExchCell){ at, (gsize) (stop - at) };
          at = stop;
        }
      if (at >= end)
        return TRUE;
    }
  return TRUE;
}

/* ---- the form ---- */

typedef struct
{
  guint lines;                                 /* with a time and a number */
  guint commas, points;                        /* numbers with one */
  guint columns;                               /* most of such a line */
  guint dates[EXCH_READINGS_MAX_COLUMNS];      /* cells that are a date, or date and time */
  guint whole[EXCH_READINGS_MAX_COLUMNS];      /* date and time */
  guint clocks[EXCH_READINGS_MAX_COLUMNS];     /* a time of day alone */
  guint numbers[EXCH_READINGS_MAX_COLUMNS];
  char unit[EXCH_READINGS_MAX_COLUMNS];
  gsize sample;        /* where the first line with a time and a number begins */
  gsize first, before; /* where it or those with a day alone before it, and the line before these, begin;
                          before == first: none */
  guint first_line;
} Form;

/* Is it a number, with either sign between whole and part? */
static gboolean
is_number (ExchCell cell, char *sign, char *unit)
{
  double value;

  *sign = memchr (cell.at, ',', cell.length) != NULL ? ',' : '.';
  return exch_number_parse (cell, *sign, &value, unit) == EXCH_NUMBER_OK;
}

/* *has_day: it holds a day, though perhaps no number, as where a logger was read out while it had no
 * sensor. */
static gboolean
take_line (Form *form, const ExchCell *cells, guint n, gboolean *has_day)
{
  gboolean time = FALSE, number = FALSE;

  for (guint i = 0; i < n; i++)
    {
      ExchMoment moment;
      char sign, unit;

      if (exch_moment_parse (cells[i], EXCH_ORDER_UNKNOWN, &moment))
        time |= moment.day != CORE_DAY_NONE;
      else
        number |= is_number (cells[i], &sign, &unit);
    }
  *has_day = time;
  for (guint i = 0; time && number && i < n; i++)
    {
      ExchMoment moment;
      char sign = '.', unit = '\0';

      if (exch_moment_parse (cells[i], EXCH_ORDER_UNKNOWN, &moment))
        {
          form->dates[i] += moment.day != CORE_DAY_NONE;
          form->whole[i] += moment.day != CORE_DAY_NONE && moment.second >= 0;
          form->clocks[i] += moment.day == CORE_DAY_NONE;
        }
      else if (is_number (cells[i], &sign, &unit))
        {
          form->numbers[i]++;
          form->unit[i] = unit != '\0' ? unit : form->unit[i];
          form->commas += sign == ',';
          form->points += sign == '.' && memchr (cells[i].at, '.', cells[i].length) != NULL;
        }
    }
  return time && number;
}

static void
look_at (const ExchTable *self, char delimiter, Form *form)
{
  gsize at = 0, begin = 0, before = 0, run = 0;
  ExchCell line, cells[EXCH_READINGS_MAX_COLUMNS];
  guint n, number = 0, run_line = 0; /* of lines with a day and no number, just before; 0 = none */

  memset (form, 0, sizeof *form);
  for (guint i = 0; i < 4 * LOOK_AT && form->lines < LOOK_AT && _exch_table_line (self, &at, &line); i++)
    {
      gboolean some = exch_cell_strip (line).length > 0, has_day = FALSE;

      number++;
      if (some && line.length <= MAX_LINE && _exch_table_cells (line, delimiter, cells, &n) && n > 1 &&
          take_line (form, cells, n, &has_day))
        {
          if (form->lines++ == 0)
            {
              form->sample = begin;
              form->first = run_line > 0 ? run : begin;
              form->before = before;
              form->first_line = run_line > 0 ? run_line : number;
            }
          form->columns = MAX (form->columns, n);
        }
      else if (has_day && run_line == 0)
        {
          run = begin;
          run_line = number;
        }
      else if (some && !has_day)
        run_line = 0;
      if (some && !has_day)
        before = begin;
      begin = at;
    }
}

static int
most_of (const guint *counts, guint n)
{
  int best = -1;

  for (guint i = 0; i < n; i++)
    if (counts[i] > 0 && (best < 0 || counts[i] > counts[best]))
      best = (int) i;
  return best;
}

/* ---- headings ---- */

typedef enum
{
  HEADING_NONE,
  HEADING_T,
  HEADING_RH,
  HEADING_OTHER /* of air too, but not what is kept: dew point, pressure … */
} HeadingKind;

static const struct
{
  const char *word;
  HeadingKind kind;
} heading_words[] = {
  { "dew", HEADING_OTHER },      { "tau", HEADING_OTHER },     { "press", HEADING_OTHER },
  { "druck", HEADING_OTHER },    { "hpa", HEADING_OTHER },     { "absol", HEADING_OTHER },
  { "vpd", HEADING_OTHER },      { "batt", HEADING_OTHER },    { "volt", HEADING_OTHER },
  { "lux", HEADING_OTHER },      { "co2", HEADING_OTHER },     { "heat index", HEADING_OTHER },
  { "feels", HEADING_OTHER },    { "g/m", HEADING_OTHER },     { "hum", HEADING_RH },
  { "feucht", HEADING_RH },      { "rh", HEADING_RH },         { "rf", HEADING_RH },
  { "r.h", HEADING_RH },         { "%", HEADING_RH },          { "temp", HEADING_T },
  { "°c", HEADING_T },           { "°f", HEADING_T },          { "celsius", HEADING_T },
  { "fahrenheit", HEADING_T },   { "[c]", HEADING_T },         { "(c)", HEADING_T },
  { "[f]", HEADING_T },          { "(f)", HEADING_T },         { "wärme", HEADING_T },
};

static HeadingKind
heading_kind (const char *heading)
{
  g_autofree char *folded = g_utf8_strdown (heading, -1);

  for (gsize i = 0; i < G_N_ELEMENTS (heading_words); i++)
    if (strstr (folded, heading_words[i].word) != NULL)
      return heading_words[i].kind;
  return HEADING_NONE;
}

static ExchUnit
heading_unit (const char *heading)
{
  static const char *const c[] = { "°c", "º" "c", "celsius", "(c)", "[c]", "degc", "deg c", "_c", "/c" };
  static const char *const f[] = { "°f", "º" "f", "fahrenheit", "(f)", "[f]", "degf", "deg f", "_f", "/f" };
  g_autofree char *folded = g_utf8_strdown (heading, -1);
  gboolean is_c = FALSE, is_f = FALSE;

  for (gsize i = 0; i < G_N_ELEMENTS (c); i++)
    is_c |= strstr (folded, c[i]) != NULL;
  for (gsize i = 0; i < G_N_ELEMENTS (f); i++)
    is_f |= strstr (folded, f[i]) != NULL;
  is_c |= g_str_has_suffix (folded, " c"); /* "Temperature C" */
  is_f |= g_str_has_suffix (folded, " f");
  return is_c == is_f ? EXCH_UNIT_UNKNOWN : is_c ? EXCH_UNIT_C : EXCH_UNIT_F;
}

static void
take_texts (ExchTable *self, gsize at, char **out)
{
  ExchCell line, cells[EXCH_READINGS_MAX_COLUMNS];
  guint n = 0;

  if (_exch_table_line (self, &at, &line) &&
      _exch_table_cells (line, self->guess.delimiter, cells, &n))
    for (guint i = 0; i < n && i < self->n_columns; i++)
      {
        g_free (out[i]);
        out[i] = clean_text (cells[i]);
      }
}

static void
find_values (ExchTable *self, const Form *form)
{
  ExchMapping *guess = &self->guess;
  int by_order[2] = { -1, -1 };
  guint n = 0;

  for (guint i = 0; i < self->n_columns; i++)
    {
      HeadingKind kind = heading_kind (self->headings[i]);

      if (form->numbers[i] == 0)
        continue;
      if (kind == HEADING_NONE && form->unit[i] != '\0')
        kind = form->unit[i] == '%' ? HEADING_RH : HEADING_T;
      if (kind == HEADING_T && guess->t < 0)
        guess->t = (int) i;
      if (kind == HEADING_RH && guess->rh < 0)
        guess->rh = (int) i;
      if (kind == HEADING_NONE && n < 2)
        by_order[n++] = (int) i;
    }
  guess->columns_said = guess->t >= 0 || guess->rh >= 0;
  if (!guess->columns_said)
    {
      guess->t = by_order[0];
      guess->rh = by_order[1];
    }
  if (guess->t >= 0)
    guess->unit = heading_unit (self->headings[guess->t]);
  if (guess->t >= 0 && guess->unit == EXCH_UNIT_UNKNOWN)
    guess->unit = form->unit[guess->t] == 'C'   ? EXCH_UNIT_C
                  : form->unit[guess->t] == 'F' ? EXCH_UNIT_F
                                                : EXCH_UNIT_UNKNOWN;
}

/* ---- the order of day and month ---- */

/* Over the whole file: one day above twelve proves it. */
static ExchOrder
find_order (const ExchTable *self)
{
  ExchCell line, cells[EXCH_READINGS_MAX_COLUMNS];
  gsize at = self->first;
  guint n;
  int column = self->guess.time;

  while (_exch_table_line (self, &at, &line))
    {
      ExchMoment moment;

      if (_exch_table_cells (line, self->guess.delimiter, cells, &n) && column < (int) n &&
          exch_moment_parse (cells[column], EXCH_ORDER_UNKNOWN, &moment) &&
          moment.day != CORE_DAY_NONE && moment.order != EXCH_ORDER_UNKNOWN)
        return moment.order;
    }
  return EXCH_ORDER_UNKNOWN;
}

static gboolean
find_form (ExchTable *self, Form *form)
{
  Form other;

  memset (form, 0, sizeof *form);
  for (gsize i = 0; i < G_N_ELEMENTS (delimiters); i++)
    {
      look_at (self, delimiters[i], &other);
      if (other.lines > form->lines)
        {
          *form = other;
          self->guess.delimiter = delimiters[i];
        }
    }
  return form->lines > 0;
}

/* With "23,4" unquoted between commas nobody can tell columns from places. */
static gboolean
commas_clash (ExchTable *self, const Form *form)
{
  ExchCell line, cells[EXCH_READINGS_MAX_COLUMNS];
  gsize at = form->before;
  guint n = 0;

  return self->guess.delimiter == ',' && form->before != form->first && _exch_table_line (self, &at, &line) &&
         _exch_table_cells (line, ',', cells, &n) && n > 1 && n < form->columns && form->points == 0;
}

static gboolean
understand (ExchTable *self, ReadingsProblem *problem)
{
  ExchMapping *guess = &self->guess;
  Form form;
  int whole;

  *guess = (ExchMapping){ .decimal = '.', .time = -1, .clock = -1, .t = -1, .rh = -1 };
  if (!find_form (self, &form))
    {
      *problem = READINGS_NO_TABLE;
      return FALSE;
    }
  if (commas_clash (self, &form))
    {
      *problem = READINGS_COMMAS;
      return FALSE;
    }
  self->first = form.first;
  self->first_line = form.first_line;
  self->before = form.before;
  self->n_columns = form.columns;
  guess->decimal = form.commas > form.points ? ',' : '.';
  whole = most_of (form.whole, form.columns);
  guess->time = whole >= 0 ? whole : most_of (form.dates, form.columns);
  if (whole < 0)
    guess->clock = most_of (form.clocks, form.columns);
  take_texts (self, form.sample, self->samples);
  if (form.before != form.first)
    take_texts (self, form.before, self->headings);
  find_values (self, &form);
  if (guess->t < 0 && guess->rh < 0)
    {
      *problem = READINGS_NO_VALUES;
      return FALSE;
    }
  guess->order = find_order (self);
  return TRUE;
}

ExchTable *
exch_table_new (GBytes *bytes, ReadingsProblem *problem, char **about)
{
  g_autoptr (ExchTable) self = g_atomic_rc_box_new0 (ExchTable);

  *problem = READINGS_OK;
  *about = NULL;
  for (guint i = 0; i < EXCH_READINGS_MAX_COLUMNS; i++)
    {
      self->headings[i] = g_strdup ("");
      self->samples[i] = g_strdup ("");
    }
  if (g_bytes_get_size (bytes) > (gsize) EXCH_READINGS_MAX_MIB * MIB)
    {
      *problem = READINGS_LARGE;
      *about = g_strdup_printf ("%d", EXCH_READINGS_MAX_MIB);
      return NULL;
    }
  self->bytes = plain_letters (bytes, problem);
  if (self->bytes == NULL || !check_bytes (self, problem, about) || !understand (self, problem))
    return NULL;
  return g_steal_pointer (&self);
}

/* ---- what is asked of it ---- */

static void
table_clear (gpointer data)
{
  ExchTable *self = data;

  g_clear_pointer (&self->bytes, g_bytes_unref);
  for (guint i = 0; i < EXCH_READINGS_MAX_COLUMNS; i++)
    {
      g_free (self->headings[i]);
      g_free (self->samples[i]);
    }
}

ExchTable *
exch_table_ref (ExchTable *self)
{
  return g_atomic_rc_box_acquire (self);
}

void
exch_table_unref (ExchTable *self)
{
  g_atomic_rc_box_release_full (self, table_clear);
}

const ExchMapping *
exch_table_guess (ExchTable *self)
{
  return &self->guess;
}

guint
exch_table_n_columns (ExchTable *self)
{
  return self->n_columns;
}

const char *
exch_table_heading (ExchTable *self, guint column)
{
  return column < self->n_columns ? self->headings[column] : "";
}

const char *
exch_table_sample (ExchTable *self, guint column)
{
  return column < self->n_columns ? self->samples[column] : "";
}

void
exch_table_range (ExchTable *self, int column, double *lo, double *hi)
{
  ExchCell line, cells[EXCH_READINGS_MAX_COLUMNS];
  gsize at = self->first;
  guint n;

  *lo = *hi = NAN;
  for (guint i = 0; column >= 0 && i < 100 * LOOK_AT && _exch_table_line (self, &at, &line); i++)
    {
      double value;
      char unit;

      if (_exch_table_cells (line, self->guess.delimiter, cells, &n) && column < (int) n &&
          exch_number_parse (cells[column], self->guess.decimal, &value, &unit) == EXCH_NUMBER_OK)
        {
          *lo = fmin (*lo, value);
          *hi = fmax (*hi, value);
        }
    }
}

int
exch_table_column (ExchTable *self, const char *name)
{
  g_autofree char *wanted = g_utf8_casefold (name, -1);
  gint64 number;
  int found = -1, begins = 0;

  for (guint i = 0; i < self->n_columns; i++)
    {
      g_autofree char *heading = g_utf8_casefold (self->headings[i], -1);

      if (strcmp (heading, wanted) == 0)
        return (int) i;
      if (wanted[0] != '\0' && g_str_has_prefix (heading, wanted) && ++begins)
        found = (int) i;
    }
  if (g_ascii_string_to_signed (name, 10, 1, self->n_columns, &number, NULL))
    return (int) number - 1;
  return begins == 1 ? found : -1;
}

char *
exch_table_headings (ExchTable *self)
{
  g_autoptr (GString) all = g_string_new (NULL);

  for (guint i = 0; i < self->n_columns; i++)
    g_string_append_printf (all, "%s%u “%s”", i > 0 ? ", " : "", i + 1,
                            self->headings[i][0] != '\0' ? self->headings[i] : self->samples[i]);
  return g_string_free (g_steal_pointer (&all), FALSE);
}

ReadingsProblem
exch_table_asks (ExchTable *self, const ExchMapping *mapping, char **about, char **more)
{
  double lo, hi;

  *about = *more = NULL;
  if (!mapping->columns_said)
    {
      *about = exch_table_headings (self);
      return READINGS_ASK_COLUMNS;
    }
  if (mapping->t >= 0 && mapping->unit == EXCH_UNIT_UNKNOWN)
    {
      exch_table_range (self, mapping->t, &lo, &hi);
      *about = g_strdup_printf ("%.1f", lo);
      *more = g_strdup_printf ("%.1f", hi);
      return READINGS_ASK_UNIT;
    }
  if (mapping->order == EXCH_ORDER_UNKNOWN)
    {
      *about = g_strdup (exch_table_sample (self, (guint) mapping->time));
      return READINGS_ASK_ORDER;
    }
  return READINGS_OK;
}

static gboolean
heading_zone (ExchTable *self, int column, ExchZone *out)
{
  const char *heading = column >= 0 ? self->headings[column] : "";

  return exch_zone_find (heading, strlen (heading), out);
}

#define MOST_PREAMBLE 16384

gboolean
exch_table_zone (ExchTable *self, const ExchMapping *mapping, ExchZone *out)
{
  const char *text = g_bytes_get_data (self->bytes, NULL), *sample = self->samples[mapping->time];
  ExchMoment moment;

  if (exch_moment_parse ((ExchCell){ sample, strlen (sample) }, mapping->order, &moment) && moment.zoned)
    return FALSE;
  return heading_zone (self, mapping->time, out) || heading_zone (self, mapping->clock, out) ||
         exch_zone_find (text, MIN (self->before, MOST_PREAMBLE), out);
}
