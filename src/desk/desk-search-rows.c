/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-search-rows.c — what each subject is called, folded, in one place.
 *
 * States of ten thousand subjects lie far apart in memory: to walk them at each
 * keystroke takes longer than to compare. Invariant: a row whose subject is the
 * one that the record has now is true; all others are made anew when asked for. */
#include "desk/desk-search-private.h"

#include <string.h>

#include "words/words-search.h"

static void
fold_any (GString *out, const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  g_autofree char *lower = g_utf8_casefold (valid, -1);
  g_autofree char *apart = g_utf8_normalize (lower, -1, G_NORMALIZE_ALL);

  for (const char *p = apart; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);

      if (g_unichar_isalnum (c))
        g_string_append_unichar (out, c);
      else if (!g_unichar_ismark (c) && out->str[out->len - 1] != ' ')
        g_string_append_c (out, ' ');
    }
}

/* Most texts need none of that. */
void
desk_search_fold (GString *out, const char *text)
{
  g_string_assign (out, " ");
  if (!g_str_is_ascii (text))
    {
      fold_any (out, text);
      return;
    }
  for (const char *p = text; *p != '\0'; p++)
    if (g_ascii_isalnum (*p))
      g_string_append_c (out, g_ascii_tolower (*p));
    else if (out->str[out->len - 1] != ' ')
      g_string_append_c (out, ' ');
}

/* ---- rows ---- */

static void
row_clear (gpointer data)
{
  DeskSearchRow *row = data;

  g_clear_pointer (&row->now, desk_subject_unref);
  g_clear_pointer (&row->label, g_free);
}

void
desk_search_rows_free (GArray *rows)
{
  if (rows != NULL)
    g_array_unref (rows);
}

static guint16
profile_of (Desk *self, const DeskSubject *subject)
{
  const GPtrArray *profiles = desk_profiles (self);

  for (guint i = 0; desk_subject_species_known (subject) && i < profiles->len; i++)
    if (profiles->pdata[i] == desk_subject_profile (subject))
      return (guint16) MIN (i, DESK_SEARCH_NO_PROFILE);
  return DESK_SEARCH_NO_PROFILE;
}

static void
append_folded (GString *all, GString *folded, const char *text)
{
  desk_search_fold (folded, text);
  g_string_append_len (all, folded->str, (gssize) folded->len + 1); /* with its end */
}

static void
note_meals (DeskSearchRow *row, const CoreState *state)
{
  for (int prey = 0; prey < DESK_SEARCH_PREYS; prey++)
    for (int outcome = 0; outcome < DESK_SEARCH_OUTCOMES; outcome++)
      row->fed[prey][outcome] = CORE_DAY_NONE;
  for (gsize i = 0; row->kind != CORE_SUBJECT_NONE && i < state->meals.n; i++)
    {
      const CoreMeal *meal = &state->meals.v[i];

      if (meal->outcome >= 0 && meal->outcome < DESK_SEARCH_OUTCOMES)
        row->fed[meal->prey < 0 ? CORE_N_PREY : meal->prey][meal->outcome] = meal->day;
    }
}

static void
make_row (Desk *self, DeskSearchRow *row, DeskSubject *now, GString *all, GString *folded)
{
  const CoreState *state = desk_subject_state (now);
  g_autofree char *said = words_search_stage (state, desk_scheme (self));
  gsize name, species = 0, stage;

  row_clear (row);
  row->now = desk_subject_ref (now);
  row->kind = state->exists ? (guint8) desk_subject_kind (now) : CORE_SUBJECT_NONE;
  row->number = g_ascii_strtoull (desk_subject_label (now), NULL, 10);
  row->living = desk_subject_living (now);
  note_meals (row, state);
  row->profile = profile_of (self, now);
  row->stands = (CoreId){ 0 };
  if (row->living)
    desk_subject_place (now, &row->stands, NULL);
  g_string_truncate (all, 0);
  append_folded (all, folded, desk_subject_label (now));
  name = all->len;
  append_folded (all, folded, state->name);
  if (!desk_subject_species_known (now) && state->species[0] != '\0')
    {
      species = all->len;
      append_folded (all, folded, state->species);
    }
  stage = all->len;
  append_folded (all, folded, said);
  row->label = g_memdup2 (all->str, all->len);
  row->name = row->label + name;
  row->stage = row->label + stage;
  row->species = species > 0 ? row->label + species : NULL;
}

/* How many rows were made anew, at most `most`. */
static guint
make_rows (Desk *self, guint most)
{
  const GPtrArray *order = self->all.order;
  g_autoptr (GString) all = g_string_new (NULL);
  g_autoptr (GString) folded = g_string_new (NULL);
  guint made = 0;

  if (self->search_rows == NULL)
    {
      self->search_rows = g_array_new (FALSE, TRUE, sizeof (DeskSearchRow));
      g_array_set_clear_func (self->search_rows, row_clear);
    }
  g_array_set_size (self->search_rows, order->len);
  for (guint i = 0; i < order->len && made < most; i++)
    {
      DeskSearchRow *row = &g_array_index (self->search_rows, DeskSearchRow, i);
      DeskRecord *record = order->pdata[i];
      DeskSubject *now = record->now;

      record->search_row = i;
      if (row->now == now)
        continue;
      make_row (self, row, now, all, folded);
      made++;
    }
  return made;
}

DeskSearchRow *
desk_search_rows (Desk *self)
{
  make_rows (self, G_MAXUINT);
  return &g_array_index (self->search_rows, DeskSearchRow, 0);
}

#define A_WHILE 500 /* rows: some milliseconds */

static gboolean
warm_cb (gpointer data)
{
  Desk *self = data;
  g_autoptr (GError) error = NULL;

  if (self->seeker == NULL && !desk_search_connect (self, &error))
    g_message ("no search: %s", error->message);
  else if (make_rows (self, A_WHILE) == A_WHILE)
    return G_SOURCE_CONTINUE;
  if (self->seeker != NULL)
    desk_search_read_facts (self);
  self->warm_id = 0;
  return G_SOURCE_REMOVE;
}

/* So that the first letter typed is as quick as all others. */
void
desk_search_warm (Desk *self)
{
  if (self->warm_id == 0 && !self->closed)
    self->warm_id = g_idle_add_full (G_PRIORITY_LOW, warm_cb, self, NULL);
}
