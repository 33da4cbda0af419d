/* SPDX-License-Identifier: GPL-3.0-or-later */
/* move-in-paste.c — a table of a spreadsheet: tabs, semicolons or commas, quoted or not.
 *
 * What comes in is hostile until checked: its size, its letters, its shape. All of
 * it is read before the first cell is set. */
#include "desk/move-in-private.h"

#include <string.h>

#define MAX_BYTES (1024 * 1024)
#define MAX_CELLS 64 /* of one line */

typedef struct
{
  const char *text;
  char separator;
  GPtrArray *lines;  /* GPtrArray * of char * */
  GArray *numbers;   /* guint: which line of the text each is */
  guint line, quote; /* where we are; where a quotation opened */
  guint surplus; /* in which of `lines` a cell stands under no heading or is too long, and which */
  guint surplus_cell;
} Table;

/* The separator of the first line: a tab wins, then the commoner of semicolon and comma. */
static char
find_separator (const char *text)
{
  guint tabs = 0, semicolons = 0, commas = 0;
  gboolean quoted = FALSE;

  for (const char *p = text; *p != '\0' && (quoted || (*p != '\n' && *p != '\r')); p++)
    {
      quoted ^= *p == '"';
      tabs += !quoted && *p == '\t';
      semicolons += !quoted && *p == ';';
      commas += !quoted && *p == ',';
    }
  return tabs > 0 ? '\t' : semicolons > 0 ? ';' : commas > 0 ? ',' : '\t';
}

/* One cell from `at`, which is moved to the separator or the end of the line. */
static char *
read_cell (Table *table, const char **at)
{
  GString *cell = g_string_new (NULL);
  const char *p = *at;
  /* A ditto mark is no quotation. */
  gboolean quoted =
    p[0] == '"' && p[1] != table->separator && p[1] != '\n' && p[1] != '\r' && p[1] != '\0';

  if (quoted)
    {
      table->quote = table->line;
      for (p++; *p != '\0' && (*p != '"' || p[1] == '"'); p++)
        {
          p += *p == '"' ? 1 : 0;
          table->line += *p == '\n';
          g_string_append_c (cell, *p);
        }
      if (*p == '"')
        {
          table->quote = 0;
          p++;
        }
    }
  for (; *p != '\0' && *p != table->separator && *p != '\n' && *p != '\r'; p++)
    g_string_append_c (cell, *p);
  *at = p;
  return g_strstrip (g_string_free (cell, FALSE));
}

static gboolean
is_blank (GPtrArray *cells)
{
  for (guint i = 0; i < cells->len; i++)
    if (((char *) cells->pdata[i])[0] != '\0')
      return FALSE;
  return TRUE;
}

static MoveInProblem
read_line (Table *table, const char **at)
{
  g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
  guint number = table->line;
  gboolean more = TRUE;

  while (more)
    {
      g_ptr_array_add (cells, read_cell (table, at));
      if (table->quote != 0)
        return MOVE_IN_PASTE_QUOTE;
      if (cells->len > MAX_CELLS)
        return MOVE_IN_PASTE_WIDE;
      more = **at == table->separator;
      *at += more ? 1 : 0;
    }
  if (**at == '\r')
    (*at)++;
  if (**at == '\n')
    (*at)++;
  table->line++;
  if (!is_blank (cells))
    {
      g_array_append_val (table->numbers, number);
      g_ptr_array_add (table->lines, g_steal_pointer (&cells));
    }
  return MOVE_IN_OK;
}

/* "sep=;" above the table, as some spreadsheets write it. */
static gboolean
says_separator (Table *table, const char **at)
{
  const char *p = *at;

  if (g_ascii_strncasecmp (p, "sep=", 4) != 0 || p[4] == '\0' || strchr ("\r\n", p[4]) != NULL ||
      (p[5] != '\r' && p[5] != '\n'))
    return FALSE;
  table->separator = p[4];
  *at = p + 5 + (p[5] == '\r') + (p[5] == '\r' && p[6] == '\n') + (p[5] == '\n');
  return TRUE;
}

static MoveInProblem
read_table (Table *table)
{
  const char *at = table->text;

  table->line = 1;
  if (says_separator (table, &at))
    table->line++;
  else
    table->separator = find_separator (at);
  while (*at != '\0')
    {
      MoveInProblem problem = read_line (table, &at);

      if (problem != MOVE_IN_OK)
        return problem;
      if (table->lines->len > MOVE_IN_MAX_ROWS + 1)
        return MOVE_IN_TOO_MANY;
    }
  return table->lines->len == 0 ? MOVE_IN_PASTE_EMPTY : MOVE_IN_OK;
}

static MoveInProblem
check_bytes (const char *text, gsize length)
{
  if (length > MAX_BYTES)
    return MOVE_IN_PASTE_LARGE;
  if (memchr (text, '\0', length) != NULL)
    return MOVE_IN_PASTE_BINARY;
  return g_utf8_validate_len (text, length, NULL) ? MOVE_IN_OK : MOVE_IN_PASTE_NOT_UTF8;
}

/* ---- columns ---- */

static guint
cells_of (const Table *table, guint line)
{
  return ((GPtrArray *) table->lines->pdata[line])->len;
}

static const char *
cell_of (const Table *table, guint line, guint i)
{
  const GPtrArray *cells = table->lines->pdata[line];

  return i < cells->len ? cells->pdata[i] : "";
}

/* "Name" is of the kind, unless another column is that: then it is of the animal. */
static MoveInColumn
heading_of (const Table *table, guint i)
{
  g_autofree char *folded = g_utf8_casefold (cell_of (table, 0, i), -1);
  MoveInColumn column = words_move_in_heading (folded);

  for (guint j = 0; words_move_in_is_name (folded) && j < cells_of (table, 0); j++)
    {
      g_autofree char *other = g_utf8_casefold (cell_of (table, 0, j), -1);

      if (words_move_in_heading (other) == MOVE_IN_SPECIES && !words_move_in_is_name (other))
        return MOVE_IN_NAME;
    }
  return column;
}

/* Which column each cell of the first line names; how many do. Notes may be several. */
static guint
read_headings (const Table *table, MoveInColumn columns[MAX_CELLS])
{
  guint named = 0, taken = 0;

  for (guint i = 0; i < cells_of (table, 0); i++)
    {
      columns[i] = heading_of (table, i);
      if (columns[i] != MOVE_IN_N_COLUMNS && columns[i] != MOVE_IN_NOTES &&
          columns[i] != MOVE_IN_ORIGIN && (taken & (1u << columns[i])) != 0)
        columns[i] = MOVE_IN_N_COLUMNS;
      if (columns[i] == MOVE_IN_N_COLUMNS)
        continue;
      taken |= 1u << columns[i];
      named++;
    }
  return named;
}

/* What stands under a heading that is not of this table is said to be left out; under none it could
 * only be lost. */
static gboolean
all_under_headings (Table *table)
{
  for (guint line = 1; line < table->lines->len; line++)
    for (guint i = 0; i < cells_of (table, line); i++)
      if (cell_of (table, line, i)[0] != '\0' && cell_of (table, 0, i)[0] == '\0')
        {
          table->surplus = line;
          table->surplus_cell = i;
          return FALSE;
        }
  return TRUE;
}

/* A part of what was told is not cut off in silence. */
static gboolean
all_short (Table *table, const MoveInColumn columns[MAX_CELLS])
{
  for (guint line = 1; line < table->lines->len; line++)
    {
      gsize notes = 0;

      for (guint i = 0; i < cells_of (table, line) && i < MAX_CELLS; i++)
        {
          gboolean note = columns[i] == MOVE_IN_NOTES || columns[i] == MOVE_IN_ORIGIN;
          gsize length = strlen (cell_of (table, line, i));

          notes += note ? length + strlen (cell_of (table, 0, i)) + strlen (": ; ") : 0;
          if (note ? notes <= MOVE_IN_MAX_NOTES
                   : length <= MOVE_IN_MAX_NAME || !move_in_is_beside (columns[i]))
            continue;
          table->surplus = line;
          table->surplus_cell = i;
          return FALSE;
        }
    }
  return TRUE;
}

static char **
headings_of (const Table *table, const MoveInColumn columns[MAX_CELLS], gboolean beside)
{
  g_autoptr (GStrvBuilder) names = g_strv_builder_new ();
  guint n = 0;

  for (guint i = 0; i < cells_of (table, 0); i++)
    {
      gboolean kept = move_in_is_beside (columns[i]) || columns[i] == MOVE_IN_ORIGIN;

      if (cell_of (table, 0, i)[0] == '\0' || (beside ? !kept : columns[i] != MOVE_IN_N_COLUMNS))
        continue;
      g_strv_builder_add (names, cell_of (table, 0, i));
      n++;
    }
  return n > 0 ? g_strv_builder_end (names) : NULL;
}

/* Does the first line name columns? One word alone may be a value ("name", "L"), so that at
 * least two are asked for where there are two. */
static gboolean
find_columns (Table *table,
              MoveInColumn first,
              MoveInColumn columns[MAX_CELLS],
              MoveInPasted *out,
              MoveInProblem *problem)
{
  guint n = cells_of (table, 0);
  guint named = read_headings (table, columns);

  *problem = MOVE_IN_OK;
  out->headings = named >= MIN (n, 2) && (table->lines->len > 1 || n > 1);
  if (out->headings)
    {
      out->left_out = headings_of (table, columns, FALSE);
      out->beside = headings_of (table, columns, TRUE);
      if (table->lines->len == 1)
        *problem = MOVE_IN_PASTE_HEADINGS;
      else if (!all_under_headings (table))
        *problem = MOVE_IN_PASTE_SURPLUS;
      else if (!all_short (table, columns))
        *problem = MOVE_IN_PASTE_LONG;
      return *problem == MOVE_IN_OK;
    }
  for (guint i = 0; i < table->lines->len; i++)
    n = MAX (n, cells_of (table, i));
  if (first + n > MOVE_IN_N_COLUMNS)
    first = 0;
  if (n > MOVE_IN_N_COLUMNS)
    *problem = MOVE_IN_PASTE_WIDE;
  for (guint i = 0; i < MOVE_IN_N_COLUMNS; i++)
    columns[i] = (MoveInColumn) MIN (first + i, MOVE_IN_N_COLUMNS);
  return *problem == MOVE_IN_OK;
}

/* ---- into the rows ---- */

/* Into the cell of the stage, where it stays with it; of no stage it says nothing. */
static void
put_scheme (MoveInModel *self, const Table *table, guint line, guint row, guint i)
{
  const char *stage = move_in_model_text (self, row, MOVE_IN_STAGE);
  const char *said = cell_of (table, line, i);
  gboolean sound = strcmp (said + (g_ascii_tolower (said[0]) == 'l'), "1") == 0 ||
                   strcmp (said + (g_ascii_tolower (said[0]) == 'l'), "2") == 0;
  g_autofree char *both = NULL;

  if (said[0] == '\0' || (stage[0] == '\0' && sound))
    return;
  both = g_strdup_printf ("%s %s %s", stage[0] != '\0' ? stage : "?", cell_of (table, 0, i), said);
  move_in_model_set (self, row, MOVE_IN_STAGE, both);
}

/* All notes of a row, those of whom it is from with their heading; what a line before it left is
 * gone. */
static void
put_notes (MoveInModel *self,
           const Table *table,
           guint line,
           guint row,
           const MoveInColumn *columns)
{
  g_autoptr (GString) notes = g_string_new (NULL);
  gboolean any = FALSE;

  for (guint i = 0; i < cells_of (table, line) && i < MAX_CELLS; i++)
    {
      const char *said = cell_of (table, line, i);

      if (columns[i] != MOVE_IN_NOTES && columns[i] != MOVE_IN_ORIGIN)
        continue;
      any = TRUE;
      if (said[0] != '\0')
        g_string_append_printf (notes, "%s%s%s%s", notes->len > 0 ? "; " : "",
                                columns[i] == MOVE_IN_ORIGIN ? cell_of (table, 0, i) : "",
                                columns[i] == MOVE_IN_ORIGIN ? ": " : "", said);
    }
  if (any)
    move_in_model_set (self, row, MOVE_IN_NOTES, notes->str);
}

static void
put_line (MoveInModel *self, const Table *table, guint line, guint row, const MoveInColumn *columns)
{
  if (row == move_in_model_n_rows (self))
    move_in_model_append (self);
  for (guint i = 0; i < cells_of (table, line) && i < MAX_CELLS; i++)
    if (move_in_is_cell (columns[i]) && columns[i] != MOVE_IN_NOTES)
      {
        move_in_model_set (self, row, columns[i], cell_of (table, line, i));
        move_in_model_settle (self, row, columns[i]);
      }
  for (guint i = 0; i < cells_of (table, line) && i < MAX_CELLS; i++)
    if (columns[i] == MOVE_IN_SCHEME)
      put_scheme (self, table, line, row, i);
  put_notes (self, table, line, row, columns);
}

static char *
explain (const Table *table, MoveInProblem problem)
{
  g_autofree char *a = NULL;
  g_autofree char *b = problem == MOVE_IN_PASTE_SURPLUS
                         ? g_strdup (cell_of (table, table->surplus, table->surplus_cell))
                       : problem == MOVE_IN_PASTE_LONG
                         ? g_strdup (cell_of (table, 0, table->surplus_cell))
                         : g_strdup_printf ("%d", MOVE_IN_N_COLUMNS);

  if (problem == MOVE_IN_PASTE_QUOTE)
    a = g_strdup_printf ("%u", table->quote);
  else if (problem == MOVE_IN_PASTE_SURPLUS || problem == MOVE_IN_PASTE_LONG)
    a = g_strdup_printf ("%u", g_array_index (table->numbers, guint, table->surplus));
  else if (problem == MOVE_IN_PASTE_WIDE)
    a = g_strdup_printf ("%u", table->lines->len > 0 ? cells_of (table, 0) : MAX_CELLS);
  else if (problem == MOVE_IN_TOO_MANY)
    a = g_strdup_printf ("%d", MOVE_IN_MAX_ROWS);
  return words_move_in_problem (WORDS_LOCAL, problem, a, b);
}

void
move_in_pasted_clear (MoveInPasted *self)
{
  g_clear_pointer (&self->left_out, g_strfreev);
  g_clear_pointer (&self->beside, g_strfreev);
}

gboolean
move_in_model_paste (MoveInModel *self,
                     guint row,
                     MoveInColumn column,
                     const char *text,
                     gsize length,
                     MoveInPasted *pasted,
                     char **problem)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  g_autoptr (GArray) numbers = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autofree char *copy = NULL;
  MoveInColumn columns[MAX_CELLS];
  Table table = { .lines = lines, .numbers = numbers };
  MoveInProblem status = check_bytes (text, length);
  guint from;

  memset (pasted, 0, sizeof *pasted);
  *problem = NULL;
  for (guint i = 0; i < MAX_CELLS; i++)
    columns[i] = MOVE_IN_N_COLUMNS;
  if (status == MOVE_IN_OK)
    {
      copy = g_strndup (text, length);
      table.text = g_str_has_prefix (copy, "\xef\xbb\xbf") ? copy + 3 : copy;
      status = read_table (&table);
    }
  if (status == MOVE_IN_OK)
    find_columns (&table, column, columns, pasted, &status);
  from = pasted->headings ? 1 : 0;
  if (status == MOVE_IN_OK && row + lines->len - from > MOVE_IN_MAX_ROWS)
    status = MOVE_IN_TOO_MANY;
  if (status != MOVE_IN_OK)
    {
      move_in_pasted_clear (pasted);
      *problem = explain (&table, status);
      return FALSE;
    }
  move_in_freeze (self);
  for (guint i = from; i < lines->len; i++)
    put_line (self, &table, i, row + i - from, columns);
  move_in_thaw (self);
  pasted->rows = lines->len - from;
  return TRUE;
}
