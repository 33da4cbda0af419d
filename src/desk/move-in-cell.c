/* SPDX-License-Identifier: GPL-3.0-or-later */
/* move-in-cell.c — reads one cell: what a keeper typed, or what is expected instead. */
#include "desk/move-in-private.h"

#include <math.h>
#include <string.h>

#include "core/core-date.h"
#include "desk/desk-private.h"
#include "words/words.h"

#define MAX_STAGE 15
#define MAX_NAMES 12
#define SERIAL_EPOCH 25569 /* days from 30 December 1899 to 1 January 1970 */

gboolean
move_in_is_beside (MoveInColumn column)
{
  return column == MOVE_IN_NAME || column == MOVE_IN_LOCALITY || column == MOVE_IN_NOTES;
}

gboolean
move_in_is_cell (MoveInColumn column)
{
  return column < MOVE_IN_N_COLUMNS || move_in_is_beside (column);
}

MoveInRow *
move_in_row_new (void)
{
  MoveInRow *row = g_new0 (MoveInRow, 1);

  for (int i = 0; i < MOVE_IN_N_CELLS; i++)
    {
      row->cells[i].text = g_strdup ("");
      row->cells[i].shown = g_strdup ("");
    }
  row->read = desk_newcomer_new ();
  return row;
}

void
move_in_row_free (gpointer data)
{
  MoveInRow *row = data;

  for (int i = 0; i < MOVE_IN_N_CELLS; i++)
    {
      g_free (row->cells[i].text);
      g_free (row->cells[i].shown);
      g_free (row->cells[i].a);
      g_free (row->cells[i].b);
    }
  desk_newcomer_free (row->read);
  g_free (row);
}

void
move_in_cell_put (MoveInRow *row, MoveInColumn column, const char *text)
{
  GString *kept = g_string_new (NULL);
  gsize most = move_in_is_beside (column) ? MOVE_IN_MAX_NOTES : MOVE_IN_MAX_BYTES;

  for (const char *p = text; *p != '\0' && kept->len <= most; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);

      g_string_append_unichar (kept, g_unichar_iscntrl (c) ? ' ' : c);
    }
  g_free (row->cells[column].text);
  row->cells[column].text = g_string_free (kept, FALSE);
}

/* ---- saying ---- */

static void
wrong (MoveInCell *cell, MoveInProblem problem, const char *a, const char *b)
{
  cell->problem = problem;
  cell->a = g_strdup (a);
  cell->b = g_strdup (b);
}

static void
show (MoveInCell *cell, const char *text)
{
  g_free (cell->shown);
  cell->shown = g_strdup (text);
}

static void
add_name (GString *names, guint *n, const char *name)
{
  if (*n < MAX_NAMES)
    g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", name);
  else if (*n == MAX_NAMES)
    g_string_append (names, " …");
  (*n)++;
}

/* ---- place ---- */

static const char *
title (DeskSubject *place)
{
  const CoreState *state = desk_subject_state (place);

  return state->name[0] != '\0' ? state->name : state->code;
}

/* Two letters that only one place begins with are that place; NULL: none, or several. */
static DeskSubject *
begun_place (MoveInModel *self, const char *text, GString *names)
{
  g_autoptr (GPtrArray) places = desk_places (self->desk);
  g_autofree char *folded = g_utf8_casefold (text, -1);
  DeskSubject *found = NULL;
  guint n = 0;

  for (guint i = 0; g_utf8_strlen (folded, -1) >= 2 && i < places->len; i++)
    {
      g_autofree char *name = g_utf8_casefold (title (places->pdata[i]), -1);

      if (!g_str_has_prefix (name, folded))
        continue;
      found = places->pdata[i];
      add_name (names, &n, title (found));
    }
  return n == 1 ? desk_subject_ref (found) : NULL;
}

static void
read_place (MoveInModel *self, MoveInRow *row, MoveInCell *cell, const char *text)
{
  gboolean fresh = text[0] == '+';
  g_autofree char *name = g_strdup (fresh ? text + 1 : text);
  g_autoptr (GString) names = g_string_new (NULL);
  g_autoptr (DeskSubject) place = NULL;

  g_strstrip (name);
  g_clear_pointer (&row->read->place, g_free);
  row->new_place = FALSE;
  if (name[0] == '\0')
    return;
  place = desk_place_called (self->desk, name);
  if (place == NULL && !fresh)
    place = begun_place (self, name, names);
  if (place == NULL && names->len > 0)
    {
      wrong (cell, MOVE_IN_PLACE_SEVERAL, name, names->str);
      return;
    }
  if (place == NULL && strlen (name) > 79)
    {
      wrong (cell, MOVE_IN_PLACE_LONG, NULL, NULL);
      return;
    }
  row->new_place = place == NULL;
  row->read->place = g_strdup (place != NULL ? title (place) : name);
  show (cell, row->read->place);
}

static void
read_at (MoveInRow *row, MoveInCell *cell, const char *text)
{
  g_autofree char *dotted = g_strdelimit (g_strdup (text), ",", '.');
  double at;

  row->read->at = NAN;
  if (text[0] == '\0')
    return;
  if (!core_number_parse (dotted, &at) || at < 0 || at > 100000)
    {
      wrong (cell, MOVE_IN_AT_NUMBER, text, NULL);
      return;
    }
  row->read->at = at;
  show (cell, text);
}

/* ---- species ---- */

static gboolean
begins (const char *name, const char *folded)
{
  g_autofree char *other = g_utf8_casefold (name, -1);

  return other[0] != '\0' && g_str_has_prefix (other, folded);
}

/* "H. membranacea": one letter of the genus, and a beginning of the second name. */
static const CoreProfile *
abbreviated (MoveInModel *self, const char *folded)
{
  const GPtrArray *profiles = desk_profiles (self->desk);
  const CoreProfile *found = NULL;
  const char *rest = folded + 1;

  if (!g_ascii_isalpha (folded[0]) || strchr (". ", rest[0]) == NULL || rest[0] == '\0')
    return NULL;
  rest += strspn (rest, ". ");
  for (guint i = 0; rest[0] != '\0' && i < profiles->len; i++)
    {
      const CoreProfile *profile = profiles->pdata[i];
      const char *second = strchr (profile->scientific, ' ');

      if (profile->general || g_ascii_tolower (profile->scientific[0]) != folded[0] ||
          second == NULL || !begins (second + 1, rest))
        continue;
      if (found != NULL)
        return NULL;
      found = profile;
    }
  return found;
}

static char *
name_species (MoveInModel *self, const char *folded, gboolean beginning)
{
  const GPtrArray *profiles = desk_profiles (self->desk);
  GString *names = g_string_new (NULL);
  guint n = 0;

  for (guint i = 0; i < profiles->len; i++)
    {
      const CoreProfile *profile = profiles->pdata[i];

      if (!profile->general &&
          (beginning ? begins (profile->scientific, folded) || begins (profile->common, folded) ||
                         begins (profile->common_de, folded)
                     : folded == NULL || desk_kind_near (profile, folded)))
        add_name (names, &n, profile->scientific);
    }
  return g_string_free (names, FALSE);
}

static void
no_species (MoveInModel *self, MoveInCell *cell, const char *text, const char *folded)
{
  g_autofree char *near = name_species (self, folded, FALSE);
  g_autofree char *all = name_species (self, NULL, FALSE);

  if (near[0] != '\0')
    wrong (cell, MOVE_IN_SPECIES_NEAR, text, near);
  else
    wrong (cell, MOVE_IN_SPECIES_NONE, text, all);
}

static void
read_species (MoveInModel *self, MoveInRow *row, MoveInCell *cell, const char *text)
{
  g_autofree char *folded = g_utf8_casefold (text, -1);
  g_autoptr (GError) error = NULL;
  g_autofree char *own = NULL;
  const CoreProfile *profile;

  g_clear_pointer (&row->read->species, g_free);
  if (text[0] == '\0')
    return;
  if (words_move_in_unknown (folded))
    {
      show (cell, T_ (WORDS_LOCAL, "move in", "unknown"));
      return;
    }
  profile = desk_find_profile (self->desk, text, &error);
  if (profile == NULL)
    profile = abbreviated (self, folded);
  if (profile != NULL)
    {
      row->read->species = profile->general ? NULL : g_strdup (profile->scientific);
      show (cell, profile->general ? T_ (WORDS_LOCAL, "move in", "unknown") : profile->scientific);
    }
  else if (g_error_matches (error, DESK_ERROR, DESK_ERROR_AMBIGUOUS))
    {
      g_autofree char *names = name_species (self, folded, TRUE);

      wrong (cell, MOVE_IN_SPECIES_SEVERAL, text, names);
    }
  else if ((own = desk_kind_own (self->desk, text)) != NULL)
    {
      show (cell, own);
      row->read->species = g_steal_pointer (&own);
    }
  else
    no_species (self, cell, text, folded);
}

/* ---- stage ---- */

/* "L4", "4", "l 4-5": first and last number. */
static gboolean
l_numbers (const char *text, int *first, int *last)
{
  int *numbers[] = { first, last };

  *last = 0;
  for (int i = 0; i < 2; i++)
    {
      int value = 0;
      guint digits = 0;

      text += strspn (text, " ");
      text += *text == 'l' || *text == 'i' ? 1 : 0;
      text += strspn (text, " ");
      for (; g_ascii_isdigit (*text) && digits < 3; text++, digits++)
        value = value * 10 + *text - '0';
      if (digits == 0 || digits > 2)
        return FALSE;
      *numbers[i] = value;
      text += strspn (text, " ");
      if (*text == '\0' && i == 0)
        *last = value;
      if (*text == '\0')
        return *first >= 1 && *first <= *last && *last <= MAX_STAGE && *last - *first <= 3;
      if (i == 1 || strchr ("-/", *text) == NULL)
        return FALSE;
      text++;
    }
  return FALSE;
}

/* "L4 scheme 2": cut off behind the stage. 0 = not said, -1 = no such scheme. */
static int
take_scheme (char *folded)
{
  char *number = strrchr (folded, ' '), *word;

  if (number == NULL)
    return 0;
  *number = '\0';
  word = strrchr (folded, ' ');
  if (word == NULL || words_move_in_heading (word + 1) != MOVE_IN_SCHEME)
    {
      *number = ' ';
      return 0;
    }
  *word = '\0';
  number += number[1] == 'l' ? 2 : 1;
  return strcmp (number, "1") == 0 ? 1 : strcmp (number, "2") == 0 ? 2 : -1;
}

static void
read_l_number (MoveInModel *self, MoveInRow *row, MoveInCell *cell, int first, int last)
{
  int scheme = row->read->scheme != 0 ? row->read->scheme : self->scheme;
  g_autofree char *claim =
    first == last ? g_strdup_printf ("L%d", first) : g_strdup_printf ("L%d-%d", first, last);

  if (first < scheme)
    {
      g_autofree char *hatchling = g_strdup_printf ("L%d", scheme);

      wrong (cell, MOVE_IN_STAGE_EARLY, claim, hatchling);
      return;
    }
  row->read->moults = first - scheme;
  row->read->stage = g_steal_pointer (&claim);
  if (scheme == self->scheme)
    show (cell, row->read->stage);
  else
    {
      g_autofree char *by = words_scheme (WORDS_LOCAL, scheme);
      g_autofree char *shown = g_strdup_printf ("%s (%s)", row->read->stage, by);

      show (cell, shown);
    }
}

static void
read_stage (MoveInModel *self, MoveInRow *row, MoveInCell *cell, const char *text)
{
  static const char *const words[] = { NULL, "nymph", "subadult", "adult" };
  g_autofree char *folded = g_utf8_casefold (text, -1);
  gboolean unknown = FALSE;
  int first, last;

  g_clear_pointer (&row->read->stage, g_free);
  row->read->seen = CORE_SEEN_UNKNOWN;
  row->read->moults = -1;
  row->read->scheme = take_scheme (folded);
  if (text[0] == '\0')
    return;
  if (row->read->scheme < 0)
    {
      row->read->scheme = 0;
      wrong (cell, MOVE_IN_STAGE_SCHEME, text, NULL);
      return;
    }
  if (l_numbers (folded, &first, &last))
    {
      read_l_number (self, row, cell, first, last);
      return;
    }
  row->read->seen = words_move_in_stage (folded, &unknown);
  if (row->read->seen == CORE_SEEN_UNKNOWN && !unknown)
    wrong (cell, MOVE_IN_STAGE_FORM, text, NULL);
  else if (!unknown)
    {
      row->read->stage = g_strdup (words[row->read->seen]);
      show (cell,
            words_code (WORDS_LOCAL, CORE_KIND_STAGE, CORE_KEY_SEEN, (int) row->read->seen - 1));
    }
}

static void
show_sex (MoveInCell *cell, CoreSex sex, gboolean doubt)
{
  const char *plain = words_sex_plain (WORDS_LOCAL, sex);
  g_autofree char *doubtful = NULL;

  if (sex == CORE_SEX_UNKNOWN)
    return;
  /* Translators: a sex that somebody told and was not sure of: "female?" */
  doubtful = g_strdup_printf (T_ (WORDS_LOCAL, "move in", "%s?"), plain);
  show (cell, doubt ? doubtful : plain);
}

static void
read_sex (MoveInRow *row, MoveInCell *cell, const char *text)
{
  g_autofree char *folded = g_utf8_casefold (text, -1);
  gboolean doubt;
  int sex = words_move_in_sex (folded, &doubt);

  row->read->sex = CORE_SEX_UNKNOWN;
  g_clear_pointer (&row->read->sex_doubt, g_free);
  if (text[0] == '\0')
    return;
  if (sex < 0)
    wrong (cell, MOVE_IN_SEX_FORM, text, NULL);
  else
    {
      row->read->sex = (CoreSex) sex;
      row->read->sex_doubt = doubt ? g_strdup (text) : NULL;
      show_sex (cell, (CoreSex) sex, doubt);
    }
}

/* ---- days ---- */

static char *
day_text (MoveInModel *self, const DeskWhen *when)
{
  WordsView view = { WORDS_LOCAL, desk_today (self->desk), self->scheme };
  g_autofree char *day = words_day (&view, when->said, WORDS_DAY_SHORT);

  if (when->earliest == when->latest)
    return g_steal_pointer (&day);
  /* Translators: a vague day: "about 24 May" */
  return g_strdup_printf (T_ (WORDS_LOCAL, "move in", "about %s"), day);
}

/* "46180": how a spreadsheet counts the days from 1900 on inside, 1954 to 2064 by five digits.
 * NULL: it is none. It may count from 1904, so it is no answer. */
static char *
serial_day (const char *text)
{
  gsize digits = strspn (text, "0123456789"), more = strspn (text + digits, ".,0123456789");
  gint64 serial = digits == 5 && text[digits + more] == '\0' ? g_ascii_strtoll (text, NULL, 10) : 0;
  char day[11];

  if (serial < 20000 || serial > 60000)
    return NULL;
  core_day_to_text ((CoreDay) (serial - SERIAL_EPOCH), day);
  return g_strdup (day);
}

static void
read_day (MoveInModel *self, MoveInCell *cell, const char *text, DeskWhen *when)
{
  static const MoveInProblem problems[] = {
    [DESK_WHEN_NO_DAY] = MOVE_IN_DAY_FORM,
    [DESK_WHEN_AMBIGUOUS] = MOVE_IN_DAY_SEVERAL,
    [DESK_WHEN_FUTURE] = MOVE_IN_DAY_FUTURE,
    [DESK_WHEN_TOO_OLD] = MOVE_IN_DAY_OLD,
  };
  DeskWhenStatus status = desk_when_parse (text, desk_today (self->desk), when);
  g_autofree char *serial = status == DESK_WHEN_NO_DAY ? serial_day (text) : NULL;

  if (serial != NULL)
    {
      wrong (cell, MOVE_IN_DAY_SERIAL, text, serial);
      return;
    }
  if (status != DESK_WHEN_OK)
    {
      wrong (cell, problems[status], text, NULL);
      return;
    }
  if (when->said != CORE_DAY_NONE)
    {
      g_autofree char *shown = day_text (self, when);

      show (cell, shown);
    }
}

/* ---- number: the rest in move_in_read_numbers ---- */

static void
read_number (MoveInModel *self, MoveInRow *row, MoveInCell *cell, const char *text)
{
  g_clear_pointer (&row->read->number, g_free);
  if (text[0] == '\0')
    return;
  while (text[0] == '0' && g_ascii_isdigit (text[1])) /* "007" on the lid is 7 */
    text++;
  if (!desk_value_number_ok (text))
    wrong (cell, MOVE_IN_NUMBER_FORM, text, NULL);
  else if (desk_number_is_given (self->desk, (CoreId){ 0 }, text))
    wrong (cell, MOVE_IN_NUMBER_GIVEN, text, NULL);
  else
    {
      row->read->number = g_strdup (text);
      show (cell, text);
    }
}

static void
read_beside (char **read, MoveInCell *cell, const char *text)
{
  g_clear_pointer (read, g_free);
  *read = text[0] != '\0' ? g_strdup (text) : NULL;
  show (cell, text);
}

void
move_in_cell_read (MoveInModel *self, MoveInRow *row, MoveInColumn column)
{
  MoveInCell *cell = &row->cells[column];
  g_autofree char *text = g_strstrip (g_strdup (cell->text));

  cell->problem = MOVE_IN_OK;
  g_clear_pointer (&cell->a, g_free);
  g_clear_pointer (&cell->b, g_free);
  show (cell, "");
  if (strlen (text) > MOVE_IN_MAX_BYTES && !move_in_is_beside (column))
    {
      wrong (cell, MOVE_IN_TOO_LONG, NULL, NULL);
      text[0] = '\0';
    }
  switch (column)
    {
    case MOVE_IN_PLACE:
      read_place (self, row, cell, text);
      break;
    case MOVE_IN_AT:
      read_at (row, cell, text);
      break;
    case MOVE_IN_NUMBER:
      read_number (self, row, cell, text);
      break;
    case MOVE_IN_SPECIES:
      read_species (self, row, cell, text);
      break;
    case MOVE_IN_STAGE:
      read_stage (self, row, cell, text);
      break;
    case MOVE_IN_SEX:
      read_sex (row, cell, text);
      break;
    case MOVE_IN_MOULT:
      read_day (self, cell, text, &row->read->moult);
      break;
    case MOVE_IN_FED:
      read_day (self, cell, text, &row->read->fed);
      break;
    case MOVE_IN_NAME:
      read_beside (&row->read->name, cell, text);
      break;
    case MOVE_IN_LOCALITY:
      read_beside (&row->read->locality, cell, text);
      break;
    case MOVE_IN_NOTES:
      read_beside (&row->read->notes, cell, text);
      break;
    case MOVE_IN_N_COLUMNS:
    case MOVE_IN_N_CELLS:
    case MOVE_IN_SCHEME:
    case MOVE_IN_ORIGIN:
    default:
      break;
    }
}

/* ---- numbers of all rows ---- */

static gboolean
is_free (MoveInModel *self, GHashTable *typed, guint64 number)
{
  g_autofree char *text = g_strdup_printf ("%" G_GUINT64_FORMAT, number);

  return !g_hash_table_contains (typed, text) &&
         !g_hash_table_contains (self->desk->all.numbers, text);
}

/* The empty ones go on from the row above; the first from the largest number ever given. */
void
move_in_read_numbers (MoveInModel *self)
{
  g_autoptr (GHashTable) typed = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  guint64 last = self->desk->all.top_number;

  for (guint i = 0; i < self->rows->len; i++)
    {
      MoveInRow *row = self->rows->pdata[i];

      move_in_cell_read (self, row, MOVE_IN_NUMBER);
      if (row->read->number != NULL &&
          !g_hash_table_add (typed, g_ascii_strdown (row->read->number, -1)))
        wrong (&row->cells[MOVE_IN_NUMBER], MOVE_IN_NUMBER_TWICE, row->read->number, NULL);
    }
  for (guint i = 0; i < self->rows->len; i++)
    {
      MoveInRow *row = self->rows->pdata[i];

      if (row->read->number != NULL)
        {
          last = g_ascii_strtoull (row->read->number, NULL, 10);
          continue;
        }
      if (row->cells[MOVE_IN_NUMBER].problem != MOVE_IN_OK)
        continue;
      do
        last++;
      while (!is_free (self, typed, last));
      row->read->number = g_strdup_printf ("%" G_GUINT64_FORMAT, last);
      show (&row->cells[MOVE_IN_NUMBER], row->read->number);
      if (!desk_value_number_ok (row->read->number))
        wrong (&row->cells[MOVE_IN_NUMBER], MOVE_IN_NUMBER_FORM, row->read->number, NULL);
    }
}
