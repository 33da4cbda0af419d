/* SPDX-License-Identifier: GPL-3.0-or-later */
/* move-in-model.c — rows that are typed, filled, pasted, kept as a draft, and saved as one round.
 *
 * Invariant: every cell was read after its text was set, and the numbers of all
 * rows after any change to one; so what is shown is what would be written. */
#include "desk/move-in-private.h"

#include <stdlib.h>
#include <string.h>

#include "desk/desk-private.h"

#define DRAFT "move-in"
#define DRAFT_HEAD "move-in 1 scheme="

G_DEFINE_TYPE (MoveInModel, move_in_model, G_TYPE_OBJECT)

static guint changed_signal;

/* ---- draft ---- */

static gboolean
is_typed (const MoveInRow *row)
{
  for (int i = 0; i < MOVE_IN_N_CELLS; i++)
    if (row->cells[i].text[0] != '\0')
      return TRUE;
  return FALSE;
}

/* Cells of a line of the draft, in their order there; what is kept beside the table only where it
 * is. */
static const MoveInColumn drafted[] = { MOVE_IN_PLACE,    MOVE_IN_AT,    MOVE_IN_NUMBER,
                                        MOVE_IN_SPECIES,  MOVE_IN_STAGE, MOVE_IN_SEX,
                                        MOVE_IN_MOULT,    MOVE_IN_FED,   MOVE_IN_NAME,
                                        MOVE_IN_LOCALITY, MOVE_IN_NOTES };

static guint
n_drafted (const MoveInRow *row)
{
  guint n = G_N_ELEMENTS (drafted);

  while (n > MOVE_IN_N_COLUMNS && row->cells[drafted[n - 1]].text[0] == '\0')
    n--;
  return n;
}

static void
keep_draft (MoveInModel *self)
{
  g_autoptr (GString) body = g_string_new (DRAFT_HEAD);
  gboolean any = FALSE;

  if (self->no_draft)
    return;
  g_string_append_printf (body, "%d", self->scheme);
  for (guint i = 0; i < self->rows->len; i++)
    {
      const MoveInRow *row = self->rows->pdata[i];

      any |= is_typed (row);
      for (guint j = 0; j < n_drafted (row); j++)
        g_string_append_printf (body, "%c%s", j == 0 ? '\n' : '\t', row->cells[drafted[j]].text);
    }
  desk_draft_set (self->desk, DRAFT, any ? body->str : NULL);
}

gboolean
move_in_model_has_draft (Desk *desk)
{
  g_autofree char *body = desk_draft_get (desk, DRAFT);

  return body != NULL;
}

static void
changed (MoveInModel *self)
{
  if (self->frozen > 0)
    return;
  keep_draft (self);
  g_signal_emit (self, changed_signal, 0);
}

void
move_in_freeze (MoveInModel *self)
{
  self->frozen++;
}

void
move_in_thaw (MoveInModel *self)
{
  if (--self->frozen > 0)
    return;
  move_in_read_numbers (self);
  changed (self);
}

void
move_in_model_keep_no_draft (MoveInModel *self)
{
  self->no_draft = TRUE;
}

/* ---- rows ---- */

MoveInRow *
move_in_row (MoveInModel *self, guint row)
{
  return row < self->rows->len ? self->rows->pdata[row] : NULL;
}

guint
move_in_model_n_rows (MoveInModel *self)
{
  return self->rows->len;
}

gboolean
move_in_model_append (MoveInModel *self)
{
  MoveInRow *row;

  if (self->rows->len >= MOVE_IN_MAX_ROWS)
    return FALSE;
  row = move_in_row_new ();
  if (self->rows->len > 0)
    move_in_cell_put (row, MOVE_IN_PLACE,
                      move_in_row (self, self->rows->len - 1)->cells[MOVE_IN_PLACE].text);
  g_ptr_array_add (self->rows, row);
  move_in_cell_read (self, row, MOVE_IN_PLACE);
  if (self->frozen == 0)
    move_in_read_numbers (self);
  changed (self);
  return TRUE;
}

void
move_in_model_remove (MoveInModel *self, guint row)
{
  if (move_in_row (self, row) == NULL)
    return;
  g_ptr_array_remove_index (self->rows, row);
  move_in_freeze (self);
  if (self->rows->len == 0)
    move_in_model_append (self);
  move_in_thaw (self);
}

void
move_in_model_clear (MoveInModel *self)
{
  move_in_freeze (self);
  g_ptr_array_set_size (self->rows, 0);
  move_in_model_append (self);
  move_in_thaw (self);
}

/* ---- cells ---- */

const char *
move_in_model_text (MoveInModel *self, guint row, MoveInColumn column)
{
  MoveInRow *found = move_in_row (self, row);

  return found != NULL && move_in_is_cell (column) ? found->cells[column].text : "";
}

const char *
move_in_model_shown (MoveInModel *self, guint row, MoveInColumn column)
{
  MoveInRow *found = move_in_row (self, row);

  return found != NULL && move_in_is_cell (column) ? found->cells[column].shown : "";
}

MoveInProblem
move_in_model_problem (MoveInModel *self, guint row, MoveInColumn column)
{
  MoveInRow *found = move_in_row (self, row);

  return found != NULL && move_in_is_cell (column) ? found->cells[column].problem : MOVE_IN_OK;
}

char *
move_in_model_says (MoveInModel *self, guint row, MoveInColumn column)
{
  const MoveInCell *cell;

  if (move_in_model_problem (self, row, column) == MOVE_IN_OK)
    return NULL;
  cell = &move_in_row (self, row)->cells[column];
  return words_move_in_problem (WORDS_LOCAL, cell->problem, cell->a, cell->b);
}

gboolean
move_in_model_new_place (MoveInModel *self, guint row)
{
  MoveInRow *found = move_in_row (self, row);

  return found != NULL && found->new_place;
}

void
move_in_model_set (MoveInModel *self, guint row, MoveInColumn column, const char *text)
{
  MoveInRow *found = move_in_row (self, row);

  g_return_if_fail (move_in_is_cell (column));
  g_return_if_fail (g_utf8_validate (text, -1, NULL));

  if (found == NULL || strcmp (found->cells[column].text, text) == 0)
    return;
  move_in_cell_put (found, column, text);
  move_in_cell_read (self, found, column);
  if (column == MOVE_IN_NUMBER && self->frozen == 0)
    move_in_read_numbers (self);
  changed (self);
}

gboolean
move_in_model_ditto (MoveInModel *self, guint row, MoveInColumn column)
{
  if (row == 0 || move_in_row (self, row) == NULL || column == MOVE_IN_NUMBER)
    return FALSE;
  move_in_model_set (self, row, column, move_in_model_text (self, row - 1, column));
  return TRUE;
}

static gboolean
is_ditto (const char *text)
{
  static const char *const marks[] = { "\"", "''", "〃", "“", "”", "„", "=", NULL };
  g_autofree char *stripped = g_strstrip (g_strdup (text));

  return g_strv_contains (marks, stripped);
}

void
move_in_model_settle (MoveInModel *self, guint row, MoveInColumn column)
{
  if (is_ditto (move_in_model_text (self, row, column)) && !move_in_model_ditto (self, row, column))
    move_in_model_set (self, row, column, "");
}

guint
move_in_model_fill_down (MoveInModel *self, guint row, MoveInColumn column)
{
  g_autofree char *text = g_strdup (move_in_model_text (self, row, column));
  guint n = 0;

  if (column == MOVE_IN_NUMBER || text[0] == '\0')
    return 0;
  move_in_freeze (self);
  for (guint i = row + 1; i < self->rows->len && move_in_model_text (self, i, column)[0] == '\0';
       i++, n++)
    move_in_model_set (self, i, column, text);
  move_in_thaw (self);
  return n;
}

/* ---- what is read ---- */

static gboolean
says_something (const MoveInRow *row)
{
  for (int i = 0; i < MOVE_IN_N_CELLS; i++)
    if (i != MOVE_IN_PLACE && row->cells[i].text[0] != '\0')
      return TRUE;
  return FALSE;
}

/* Rows up to the last that says more than its place, which may only be carried down. */
static guint
n_counted (MoveInModel *self)
{
  guint n = self->rows->len;

  while (n > 0 && !says_something (self->rows->pdata[n - 1]))
    n--;
  return n;
}

gboolean
move_in_model_counts (MoveInModel *self, guint row)
{
  return row < n_counted (self);
}

void
move_in_summary_clear (MoveInSummary *self)
{
  g_clear_pointer (&self->new_places, g_strfreev);
}

static void
add_place (GStrvBuilder *names, GHashTable *seen, const MoveInRow *row)
{
  if (!row->new_place || row->read->place == NULL ||
      !g_hash_table_add (seen, g_utf8_casefold (row->read->place, -1)))
    return;
  g_strv_builder_add (names, row->read->place);
}

void
move_in_model_summary (MoveInModel *self, MoveInSummary *out)
{
  g_autoptr (GStrvBuilder) names = g_strv_builder_new ();
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  *out = (MoveInSummary){ .animals = n_counted (self), .column = MOVE_IN_N_COLUMNS };
  for (guint i = 0; i < out->animals; i++)
    {
      const MoveInRow *row = self->rows->pdata[i];

      add_place (names, seen, row);
      for (int j = 0; j < MOVE_IN_N_COLUMNS; j++)
        if (row->cells[j].problem != MOVE_IN_OK && out->problems++ == 0)
          {
            out->row = i;
            out->column = (MoveInColumn) j;
          }
    }
  if (g_hash_table_size (seen) > 0)
    out->new_places = g_strv_builder_end (names);
}

int
move_in_model_scheme (MoveInModel *self)
{
  return self->scheme;
}

void
move_in_model_set_scheme (MoveInModel *self, int scheme)
{
  if (scheme == self->scheme || (scheme != 1 && scheme != 2))
    return;
  self->scheme = scheme;
  for (guint i = 0; i < self->rows->len; i++)
    move_in_cell_read (self, self->rows->pdata[i], MOVE_IN_STAGE);
  changed (self);
}

/* ---- range ---- */

typedef struct
{
  guint64 first, last;
  char exact[12]; /* "14a"; "" = first … last */
} Span;

/* "1-20", "25", "31a". */
static gboolean
read_span (const char *text, Span *out)
{
  g_autofree char *copy = g_strstrip (g_strdup (text));
  char *dash = strpbrk (copy, "-");
  char *other = dash != NULL ? dash + 1 : copy;

  memset (out, 0, sizeof *out);
  if (dash == NULL)
    dash = strstr (copy, "–");
  if (dash != NULL && other == copy)
    other = dash + strlen ("–");
  if (dash != NULL)
    *dash = '\0';
  g_strstrip (copy);
  other = dash != NULL ? g_strstrip (other) : copy;
  if (!desk_value_number_ok (copy) || !desk_value_number_ok (other))
    return FALSE;
  out->first = g_ascii_strtoull (copy, NULL, 10);
  out->last = g_ascii_strtoull (other, NULL, 10);
  if (dash == NULL && strspn (copy, "0123456789") < strlen (copy))
    g_strlcpy (out->exact, copy, sizeof out->exact);
  return out->first <= out->last;
}

static GArray *
read_spans (const char *range)
{
  g_auto (GStrv) parts = g_strsplit_set (range, ",;", 64);
  g_autoptr (GArray) spans = g_array_new (FALSE, FALSE, sizeof (Span));

  for (guint i = 0; parts[i] != NULL; i++)
    {
      Span span;

      if (g_strstrip (parts[i])[0] == '\0')
        continue;
      if (!read_span (parts[i], &span))
        return NULL;
      g_array_append_val (spans, span);
    }
  return g_steal_pointer (&spans);
}

static gboolean
in_span (const Span *span, const char *number)
{
  guint64 value = g_ascii_strtoull (number, NULL, 10);

  if (span->exact[0] != '\0')
    return g_ascii_strcasecmp (span->exact, number) == 0;
  return value >= span->first && value <= span->last;
}

static gboolean
in_spans (const GArray *spans, const char *number)
{
  if (spans->len == 0)
    return TRUE;
  for (guint i = 0; number != NULL && i < spans->len; i++)
    if (in_span (&g_array_index (spans, Span, i), number))
      return TRUE;
  return FALSE;
}

/* A row for this number: the last one while nothing stands in it, else a new one. */
static void
add_numbered (MoveInModel *self, const char *number)
{
  MoveInRow *last = move_in_row (self, self->rows->len - 1);

  if (last == NULL || says_something (last))
    move_in_model_append (self);
  move_in_model_set (self, self->rows->len - 1, MOVE_IN_NUMBER, number);
}

/* Which numbers of the spans have no row? FALSE: too many, or one was given before. */
static gboolean
missing_numbers (MoveInModel *self, const GArray *spans, GPtrArray *missing, char **problem)
{
  g_autoptr (GHashTable) there = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (guint i = 0; i < self->rows->len; i++)
    {
      const MoveInRow *row = self->rows->pdata[i];

      if (row->read->number != NULL && i < n_counted (self))
        g_hash_table_add (there, g_ascii_strdown (row->read->number, -1));
    }
  for (guint i = 0; i < spans->len; i++)
    {
      const Span *span = &g_array_index (spans, Span, i);

      for (guint64 number = span->first; number <= span->last; number++)
        {
          g_autofree char *text = span->exact[0] != '\0'
                                    ? g_ascii_strdown (span->exact, -1)
                                    : g_strdup_printf ("%" G_GUINT64_FORMAT, number);

          if (desk_number_is_given (self->desk, (CoreId){ 0 }, text))
            {
              *problem = words_move_in_problem (WORDS_LOCAL, MOVE_IN_RANGE_GIVEN, text, NULL);
              return FALSE;
            }
          if (g_hash_table_add (there, g_strdup (text)))
            g_ptr_array_add (missing, g_steal_pointer (&text));
          if (self->rows->len + missing->len > MOVE_IN_MAX_ROWS + 1)
            {
              g_autofree char *most = g_strdup_printf ("%d", MOVE_IN_MAX_ROWS);

              *problem = words_move_in_problem (WORDS_LOCAL, MOVE_IN_TOO_MANY, most, NULL);
              return FALSE;
            }
        }
    }
  return TRUE;
}

guint
move_in_model_fill (MoveInModel *self,
                    const char *range,
                    MoveInColumn column,
                    const char *text,
                    char **problem)
{
  g_autoptr (GArray) spans = read_spans (range);
  g_autoptr (GPtrArray) missing = g_ptr_array_new_with_free_func (g_free);
  guint n = 0;

  *problem = NULL;
  if (spans == NULL)
    {
      *problem = words_move_in_problem (WORDS_LOCAL, MOVE_IN_RANGE_FORM, range, NULL);
      return 0;
    }
  if (!missing_numbers (self, spans, missing, problem))
    return 0;
  move_in_freeze (self);
  for (guint i = 0; i < missing->len; i++)
    add_numbered (self, missing->pdata[i]);
  for (guint i = 0; i < self->rows->len; i++)
    if (in_spans (spans, move_in_row (self, i)->read->number) &&
        (spans->len > 0 || i < MAX (n_counted (self), 1)))
      {
        if (column != MOVE_IN_NUMBER)
          move_in_model_set (self, i, column, text);
        n++;
      }
  move_in_thaw (self);
  if (n == 0)
    *problem = words_move_in_problem (WORDS_LOCAL, MOVE_IN_RANGE_NONE, NULL, NULL);
  return n;
}

/* ---- restore ---- */

gboolean
move_in_model_restore (MoveInModel *self)
{
  g_autofree char *body = desk_draft_get (self->desk, DRAFT);
  g_auto (GStrv) lines = NULL;

  if (body == NULL || !g_str_has_prefix (body, DRAFT_HEAD) || !g_utf8_validate (body, -1, NULL))
    return FALSE;
  lines = g_strsplit (body, "\n", MOVE_IN_MAX_ROWS + 2);
  move_in_freeze (self);
  move_in_model_set_scheme (self, atoi (lines[0] + strlen (DRAFT_HEAD)));
  g_ptr_array_set_size (self->rows, 0);
  for (guint i = 1; lines[i] != NULL && i <= MOVE_IN_MAX_ROWS; i++)
    {
      g_auto (GStrv) cells = g_strsplit (lines[i], "\t", G_N_ELEMENTS (drafted));

      move_in_model_append (self);
      for (guint j = 0; j < G_N_ELEMENTS (drafted); j++)
        move_in_model_set (self, i - 1, drafted[j], j < g_strv_length (cells) ? cells[j] : "");
    }
  if (self->rows->len == 0)
    move_in_model_append (self);
  move_in_thaw (self);
  return TRUE;
}

/* ---- save ---- */

static DeskNewcomer *
copy_newcomer (const DeskNewcomer *from)
{
  DeskNewcomer *to = g_memdup2 (from, sizeof *from);

  to->place = g_strdup (from->place);
  to->number = g_strdup (from->number);
  to->species = g_strdup (from->species);
  to->stage = g_strdup (from->stage);
  to->sex_doubt = g_strdup (from->sex_doubt);
  to->name = g_strdup (from->name);
  to->locality = g_strdup (from->locality);
  to->notes = g_strdup (from->notes);
  return to;
}

static void
saved_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;
  MoveInModel *self = g_task_get_source_object (task);
  GError *error = NULL;

  self->saving = FALSE;
  if (!desk_move_in_finish (DESK_DESK (source), result, &error))
    {
      g_task_return_error (task, error);
      return;
    }
  move_in_model_clear (self);
  g_task_return_int (task, GPOINTER_TO_INT (g_task_get_task_data (task)));
}

void
move_in_model_save_async (MoveInModel *self,
                          GCancellable *cancellable,
                          GAsyncReadyCallback callback,
                          gpointer data)
{
  g_autoptr (GTask) task = g_task_new (self, cancellable, callback, data);
  GPtrArray *newcomers;
  MoveInSummary summary;

  g_task_set_source_tag (task, move_in_model_save_async);
  move_in_model_summary (self, &summary);
  move_in_summary_clear (&summary);
  if (summary.problems > 0 || summary.animals == 0)
    {
      g_autofree char *text = summary.animals == 0
                                ? words_move_in_problem (WORDS_LOCAL, MOVE_IN_NOTHING, NULL, NULL)
                                : move_in_model_says (self, summary.row, summary.column);

      g_task_return_new_error (task, DESK_ERROR, DESK_ERROR_VALUE, "%s", text);
      return;
    }
  newcomers = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_newcomer_free);
  for (guint i = 0; i < summary.animals; i++)
    g_ptr_array_add (newcomers, copy_newcomer (move_in_row (self, i)->read));
  g_task_set_task_data (task, GINT_TO_POINTER ((int) summary.animals), NULL);
  self->saving = TRUE;
  desk_move_in_async (self->desk, newcomers, self->scheme, cancellable, saved_cb,
                      g_steal_pointer (&task));
}

gboolean
move_in_model_save_finish (MoveInModel *self, GAsyncResult *result, guint *animals, GError **error)
{
  GError *local = NULL;
  gssize n;

  g_return_val_if_fail (g_task_is_valid (result, self), FALSE);
  n = g_task_propagate_int (G_TASK (result), &local);
  if (local != NULL)
    {
      g_propagate_error (error, local);
      return FALSE;
    }
  if (animals != NULL)
    *animals = (guint) n;
  return TRUE;
}

/* ---- the object ---- */

static gboolean
reread_cb (gpointer data)
{
  MoveInModel *self = data;

  self->reread_id = 0;
  for (guint i = 0; i < self->rows->len; i++)
    move_in_cell_read (self, self->rows->pdata[i], MOVE_IN_PLACE);
  move_in_read_numbers (self);
  g_signal_emit (self, changed_signal, 0);
  return G_SOURCE_REMOVE;
}

/* Another window or the command line gave a number, or made a place. A round changes many
 * subjects: they are read once, when it is over. */
static void
desk_changed_cb (MoveInModel *self)
{
  if (self->reread_id == 0 && !self->saving)
    self->reread_id = g_idle_add (reread_cb, self);
}

static void
move_in_model_dispose (GObject *object)
{
  MoveInModel *self = MOVE_IN_MODEL (object);

  g_clear_handle_id (&self->reread_id, g_source_remove);
  if (self->desk != NULL)
    g_clear_signal_handler (&self->desk_id, self->desk);
  g_clear_object (&self->desk);
  G_OBJECT_CLASS (move_in_model_parent_class)->dispose (object);
}

static void
move_in_model_finalize (GObject *object)
{
  g_ptr_array_unref (MOVE_IN_MODEL (object)->rows);
  G_OBJECT_CLASS (move_in_model_parent_class)->finalize (object);
}

static void
move_in_model_class_init (MoveInModelClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->dispose = move_in_model_dispose;
  object_class->finalize = move_in_model_finalize;
  changed_signal = g_signal_new ("changed", MOVE_IN_TYPE_MODEL, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                 NULL, G_TYPE_NONE, 0);
}

static void
move_in_model_init (MoveInModel *self)
{
  self->rows = g_ptr_array_new_with_free_func (move_in_row_free);
}

MoveInModel *
move_in_model_new (Desk *desk)
{
  MoveInModel *self = g_object_new (MOVE_IN_TYPE_MODEL, NULL);

  self->desk = g_object_ref (desk);
  self->scheme = desk_scheme (desk);
  self->desk_id = g_signal_connect_swapped (desk, "changed", G_CALLBACK (desk_changed_cb), self);
  /* An empty row; what a draft holds is not touched. */
  self->frozen++;
  move_in_model_append (self);
  self->frozen--;
  move_in_read_numbers (self);
  return self;
}
