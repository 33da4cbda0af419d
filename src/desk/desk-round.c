/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-round.c — a round over a shelf from one typed line: preview, then one write.
 *
 * What the preview lists is what is written, made by the same call; any problem
 * refuses the whole line. */
#include "desk/desk-private.h"

#include "core/core-date.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- cups ---- */

static gboolean
due (const CorePlan *plan, CoreTaskKind kind, CoreDay today, const CoreTask **task)
{
  for (gsize i = 0; i < plan->tasks.n; i++)
    if (plan->tasks.v[i].kind == kind)
      {
        if (task != NULL)
          *task = &plan->tasks.v[i];
        return plan->tasks.v[i].earliest <= today;
      }
  return FALSE;
}

/* Prey was put in, and nothing is known of what became of it. */
static gboolean
has_prey_in (const CoreState *state)
{
  const CoreMeal *last = state->meals.n > 0 ? &state->meals.v[state->meals.n - 1] : NULL;

  return last != NULL && last->outcome == CORE_FED_OFFERED && !last->gone;
}

static void
fill_stage (const CoreState *state, CoreRoundCup *cup)
{
  cup->moults = state->moults;
  cup->adult = state->adult;
  cup->subadult = state->subadult;
  cup->maybe_adult = state->probably_adult;
}

static void
fill_plan (const CorePlan *plan, CoreDay day, CoreRoundCup *cup)
{
  const CoreTask *feed = NULL;

  cup->held = core_hold_alone (&plan->hold);
  cup->no_food = plan->ill >= 0;
  cup->due_food = due (plan, CORE_TASK_FEED, day, &feed);
  cup->due_mist = due (plan, CORE_TASK_MIST, day, NULL);
  cup->due_water = due (plan, CORE_TASK_WATER, day, NULL);
  cup->due_clean = due (plan, CORE_TASK_CLEAN, day, NULL);
  cup->due_look = due (plan, CORE_TASK_LOOK, day, NULL);
  cup->usual_prey = -1;
  if (feed != NULL && feed->n_prey > 0)
    {
      cup->usual_prey = feed->prey[0].prey;
      cup->usual_n = feed->prey[0].n;
    }
}

static void
fill_cup (DeskSubject *subject, CoreDay day, CoreRoundCup *cup)
{
  const CoreState *state = desk_subject_state (subject);

  memset (cup, 0, sizeof *cup);
  cup->subject = desk_subject_id (subject);
  cup->lot = desk_subject_kind (subject) == CORE_SUBJECT_LOT;
  cup->living_single = !cup->lot && desk_subject_living (subject);
  g_strlcpy (cup->number,
             cup->lot && state->number[0] != '\0' && state->code[0] != '\0' ? state->code
                                                                           : desk_subject_label (subject),
             sizeof cup->number);
  cup->species = -1;
  cup->offered = has_prey_in (state);
  fill_stage (state, cup);
  fill_plan (desk_subject_plan (subject), day, cup);
  for (int prey = 0; prey < CORE_N_PREY; prey++)
    cup->prey_fit[prey] = core_prey_fits (state, desk_subject_profile (subject),
                                          desk_subject_forecast (subject), desk_subject_verdict (subject), prey);
}

/* Of the shelf, or of none: lots are not always given a place. */
static void
add_lots (Desk *self, CoreId place, GPtrArray *subjects)
{
  g_autoptr (GPtrArray) lots = desk_lots (self);

  for (guint i = 0; i < lots->len; i++)
    {
      CoreId stands;

      if (core_id_is_none (place) || !desk_subject_place (lots->pdata[i], &stands, NULL) ||
          desk_lies_within (self, stands, place))
        g_ptr_array_add (subjects, desk_subject_ref (lots->pdata[i]));
    }
}

/* As it stands today. */
static GPtrArray *
stand_on (Desk *self, CoreId place)
{
  GPtrArray *subjects =
    core_id_is_none (place) ? desk_animals (self) : desk_animals_on (self, place);

  add_lots (self, place, subjects);
  return subjects;
}

/* All animals of the place with its lots, or of the whole journal when none is named, as of the
 * day of the round. */
static void
gather_cups (Desk *self, CoreId place, DeskRoundPreview *out)
{
  guint n_there = G_MAXUINT;

  out->subjects = out->day < self->today ? desk_stood_on (self, place, out->day, &n_there)
                                         : stand_on (self, place);
  out->cups = g_array_sized_new (FALSE, TRUE, sizeof (CoreRoundCup), out->subjects->len);
  g_array_set_size (out->cups, out->subjects->len);
  for (guint i = 0; i < out->subjects->len; i++)
    {
      CoreRoundCup *cup = &g_array_index (out->cups, CoreRoundCup, i);

      fill_cup (out->subjects->pdata[i], out->day, cup);
      cup->absent = i >= n_there;
    }
}

/* ---- names of the shelf: its kinds and lots ---- */

static void
add_term (GArray *terms, const char *text, CoreRoundWord word, int code)
{
  g_autofree char *folded = g_utf8_strdown (text, -1);
  CoreRoundTerm term = { g_intern_string (folded), word, code };

  if (*folded != '\0')
    g_array_append_val (terms, term);
}

static const char *
kind_of (const DeskSubject *subject)
{
  return desk_subject_species_known (subject) ? desk_subject_profile (subject)->scientific
                                              : desk_subject_state (subject)->species;
}

static void
add_kind (GArray *terms, const DeskSubject *subject, int code)
{
  const CoreProfile *profile = desk_subject_profile (subject);

  add_term (terms, kind_of (subject), CORE_WORD_SPECIES, code);
  if (!desk_subject_species_known (subject))
    return;
  add_term (terms, profile->common, CORE_WORD_SPECIES, code);
  add_term (terms, profile->common_de, CORE_WORD_SPECIES, code);
}

/* The vocabulary with the names that mean something on this shelf. */
static GArray *
gather_terms (const DeskRoundPreview *preview, const CoreRoundTerm *terms, gsize n_terms)
{
  GArray *out = g_array_new (FALSE, FALSE, sizeof (CoreRoundTerm));
  g_autoptr (GPtrArray) kinds = g_ptr_array_new ();

  g_array_append_vals (out, terms, (guint) n_terms);
  for (guint i = 0; i < preview->subjects->len; i++)
    {
      CoreRoundCup *cup = &g_array_index (preview->cups, CoreRoundCup, i);
      const char *kind = kind_of (preview->subjects->pdata[i]);
      guint code = 0;

      if (cup->lot && !cup->absent)
        add_term (out, cup->number, CORE_WORD_LOT, (int) i);
      if (cup->lot || kind[0] == '\0')
        continue;
      if (!g_ptr_array_find_with_equal_func (kinds, kind, g_str_equal, &code))
        {
          code = kinds->len;
          g_ptr_array_add (kinds, (gpointer) kind);
          add_kind (out, preview->subjects->pdata[i], (int) code);
        }
      cup->species = (int) code;
    }
  return out;
}

/* Lower case letter by letter, where it takes as many bytes, so that places in the line stay. */
static char *
folded_line (const char *line)
{
  g_autoptr (GString) out = g_string_new (NULL);

  for (const char *at = line; *at != '\0';)
    {
      gunichar letter = g_utf8_get_char_validated (at, -1);
      gunichar lower = g_unichar_tolower (letter);
      char bytes[6];
      int n = (int) letter < 0 ? 1 : (int) (g_utf8_next_char (at) - at);

      if ((int) letter >= 0 && g_unichar_to_utf8 (lower, bytes) == n)
        g_string_append_len (out, bytes, n);
      else
        g_string_append_len (out, at, n);
      at += n;
    }
  return g_string_free (g_steal_pointer (&out), FALSE);
}

DeskRoundPreview *
desk_round_preview (Desk *self,
                    CoreId place,
                    const char *line,
                    const CoreRoundTerm *terms,
                    gsize n_terms,
                    CoreDay day)
{
  DeskRoundPreview *out = g_new0 (DeskRoundPreview, 1);
  g_autofree char *folded = folded_line (line);
  g_autoptr (GArray) words = NULL;
  CoreRoundShelf shelf = { .scheme = desk_scheme (self) == 2 ? 2 : 1 };
  CoreStatus status;

  out->day = day == CORE_DAY_NONE ? self->today : day;
  gather_cups (self, place, out);
  words = gather_terms (out, terms, n_terms);
  shelf.cups = (const CoreRoundCup *) out->cups->data;
  shelf.n_cups = out->cups->len;
  shelf.weekday = core_day_weekday (out->day);
  status = core_round_parse (folded, (const CoreRoundTerm *) words->data, words->len, &shelf,
                             &out->line);
  if (status != CORE_NO_MEMORY)
    status = core_round_resolve (&out->line, &shelf, &out->plan);
  if (status == CORE_NO_MEMORY)
    g_error ("out of memory while reading a round");
  return out;
}

void
desk_round_preview_free (DeskRoundPreview *self)
{
  core_round_line_clear (&self->line);
  core_round_plan_clear (&self->plan);
  g_array_unref (self->cups);
  g_ptr_array_unref (self->subjects);
  g_free (self);
}

/* ---- writing ---- */

typedef struct
{
  CoreId place;
  char *line;
  const CoreRoundTerm *terms; /* static */
  gsize n_terms;
  DeskWhen when;
  char *seen_by; /* NULL = the keeper */
} RoundData;

static void
round_free (gpointer data)
{
  RoundData *self = data;

  g_free (self->line);
  g_free (self->seen_by);
  g_free (self);
}

/* Which kind and code a word of the line writes. */
typedef struct
{
  CoreRoundWord word;
  CoreKind kind;
  CoreKey key;
  int code; /* -1 = the write's own code, -2 = its value, -3 = its number */
} Effect;

static const Effect effects[] = {
  { CORE_WORD_FED, CORE_KIND_FED, CORE_KEY_OUTCOME, CORE_FED_OFFERED },
  { CORE_WORD_TOOK, CORE_KIND_FED, CORE_KEY_OUTCOME, CORE_FED_TAKEN },
  { CORE_WORD_REFUSED, CORE_KIND_FED, CORE_KEY_OUTCOME, CORE_FED_REFUSED },
  { CORE_WORD_MISTED, CORE_KIND_MISTED, CORE_KEY_NONE, 0 },
  { CORE_WORD_WATERED, CORE_KIND_WATERED, CORE_KEY_NONE, 0 },
  { CORE_WORD_CLEANED, CORE_KIND_CLEANED, CORE_KEY_NONE, 0 },
  { CORE_WORD_LOOKED, CORE_KIND_LOOKED, CORE_KEY_NONE, 0 },
  { CORE_WORD_MOULTED, CORE_KIND_MOULTED, CORE_KEY_OUTCOME, -1 },
  { CORE_WORD_DEAD, CORE_KIND_DIED, CORE_KEY_N, -3 },
  { CORE_WORD_REMAIN, CORE_KIND_RECOUNTED, CORE_KEY_N, -3 },
  { CORE_WORD_LOOKS_DEAD, CORE_KIND_LOOKS_DEAD, CORE_KEY_NONE, 0 },
  { CORE_WORD_ESCAPED, CORE_KIND_ESCAPED, CORE_KEY_NONE, 0 },
  { CORE_WORD_LEFT, CORE_KIND_LEFT, CORE_KEY_HOW, -1 },
  { CORE_WORD_BELLY, CORE_KIND_BELLY, CORE_KEY_SCORE, -2 },
  { CORE_WORD_GONE, CORE_KIND_GONE, CORE_KEY_NONE, 0 },
  { CORE_WORD_DRANK, CORE_KIND_DRANK, CORE_KEY_NONE, 0 },
  { CORE_WORD_SIGN, CORE_KIND_SIGN, CORE_KEY_SIGN, -1 },
  { CORE_WORD_SWAP, CORE_KIND_HOUSED, CORE_KEY_NONE, 0 },
};

/* -1: the key is left out. */
static int
value_of (const Effect *effect, const CoreRoundWrite *write, gboolean lot)
{
  switch (effect->code)
    {
    case -1:
      return write->code;
    case -2:
      return write->value;
    case -3:
      return lot ? write->n : -1;
    default:
      return effect->code;
    }
}

/* What else a word says beside its one code. */
static void
write_more (CoreEntry *entry, const CoreRoundWrite *write)
{
  if (entry->kind == CORE_KIND_FED && write->prey >= 0)
    core_entry_set_num (entry, CORE_KEY_PREY, write->prey);
  if (entry->kind == CORE_KIND_FED && write->n > 0)
    core_entry_set_num (entry, CORE_KEY_N, write->n);
  if (entry->kind == CORE_KIND_MOULTED && write->to != CORE_SEEN_UNKNOWN)
    core_entry_set_num (entry, CORE_KEY_TO, write->to - CORE_SEEN_NYMPH);
  if (entry->kind == CORE_KIND_RECOUNTED)
    core_entry_set_word (entry, CORE_KEY_COUNTED, write->about ? "no" : "yes");
}

/* Into the other's place. Cups of these places whose order was never written keep the one they
 * have by an entry of their own. */
static void
write_stands (CoreEntry *entry, const DeskRoundPreview *preview, gsize cup)
{
  CoreId place = { { 0 } };
  double at = desk_position_shown (preview->subjects, (guint) cup, &place);

  if (!core_id_is_none (place))
    core_entry_set_ref (entry, CORE_KEY_PLACE, place);
  if (!isnan (at))
    core_entry_set_num (entry, CORE_KEY_AT, at);
}

static void
write_order (DeskOp *op, const DeskRoundPreview *preview)
{
  for (guint i = 0; i < preview->subjects->len; i++)
    {
      double at = 0;
      CoreEntry *entry;
      gboolean swapped = FALSE;

      for (gsize w = 0; w < preview->plan.n_writes; w++)
        swapped |= preview->plan.writes[w].what == CORE_WORD_SWAP && preview->plan.writes[w].cup == i;
      if (swapped || !desk_subject_place (preview->subjects->pdata[i], NULL, &at) || !isnan (at) ||
          !g_array_index (preview->cups, CoreRoundCup, i).living_single ||
          g_array_index (preview->cups, CoreRoundCup, i).absent)
        continue;
      entry = desk_op_entry (op, CORE_KIND_HOUSED, desk_subject_id (preview->subjects->pdata[i]),
                             preview->day);
      entry->bulk = TRUE;
      write_stands (entry, preview, i);
    }
}

static void
write_one (DeskOp *op, const DeskRoundPreview *preview, const CoreRoundWrite *write)
{
  CoreId subject = desk_subject_id (preview->subjects->pdata[write->cup]);
  gboolean lot = g_array_index (preview->cups, CoreRoundCup, write->cup).lot;

  for (gsize i = 0; i < G_N_ELEMENTS (effects); i++)
    {
      const Effect *effect = &effects[i];
      CoreEntry *entry;
      int value = value_of (effect, write, lot);

      if (effect->word != write->what)
        continue;
      entry = desk_op_entry (op, effect->kind, subject, preview->day - write->days_back);
      entry->bulk = !write->exception;
      if (effect->key != CORE_KEY_NONE && value >= 0)
        core_entry_set_num (entry, effect->key, value);
      write_more (entry, write);
      if (write->what == CORE_WORD_SWAP)
        write_stands (entry, preview, write->other);
      return;
    }
}

/* The round was on one of several days; what was on a day of its own (a moult on Sunday) was not. */
static void
widen (DeskOp *op, const DeskWhen *when)
{
  for (guint i = 0; i < op->entries->len; i++)
    {
      CoreEntry *entry = op->entries->pdata[i];

      if (entry->day == when->latest)
        desk_when_span (when, entry->kind, &entry->day, &entry->earliest);
    }
}

/* Whose eyes it was. What is no observation (an exchange of places) carries no name. */
static gboolean
sign (Desk *self, DeskOp *op, const char *seen_by, GError **error)
{
  g_autofree char *pair = g_strdup_printf ("seen_by=%s", seen_by != NULL ? seen_by : "");

  if (seen_by == NULL)
    return TRUE;
  for (guint i = 0; i < op->entries->len; i++)
    {
      CoreEntry *entry = op->entries->pdata[i];

      if (core_kind_key (entry->kind, CORE_KEY_SEEN_BY) != NULL &&
          !desk_value_set (self, entry, pair, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
prepare_round (Desk *self, DeskOp *op, GError **error)
{
  const RoundData *round = op->data;
  g_autoptr (DeskRoundPreview) preview =
    desk_round_preview (self, round->place, round->line, round->terms, round->n_terms,
                        round->when.latest);
  gboolean swaps = FALSE;

  if (preview->line.n_problems > 0)
    {
      g_autofree char *text =
        words_round_problem (WORDS_LOCAL, &preview->line.problems[0], round->line);

      g_set_error_literal (error, DESK_ERROR, DESK_ERROR_ROUND, text);
      return FALSE;
    }
  for (gsize i = 0; i < preview->plan.n_writes; i++)
    {
      write_one (op, preview, &preview->plan.writes[i]);
      swaps |= preview->plan.writes[i].what == CORE_WORD_SWAP;
    }
  if (swaps)
    write_order (op, preview);
  if (round->when.earliest < round->when.latest)
    widen (op, &round->when);
  return sign (self, op, round->seen_by, error) && desk_op_check (op, error);
}

void
desk_round_write_async (Desk *self,
                        CoreId place,
                        const char *line,
                        const CoreRoundTerm *terms,
                        gsize n_terms,
                        const DeskWhen *when,
                        const char *seen_by,
                        GCancellable *cancellable,
                        GAsyncReadyCallback callback,
                        gpointer data)
{
  RoundData *round = g_new0 (RoundData, 1);

  round->place = place;
  round->line = g_strdup (line);
  round->terms = terms;
  round->n_terms = n_terms;
  round->when = *when;
  round->seen_by = g_strdup (seen_by);
  desk_op_start (self, prepare_round, prepare_round, round, round_free, cancellable, callback,
                 data);
}

gboolean
desk_round_write_finish (Desk *self, GAsyncResult *result, gsize *n_written, GError **error)
{
  DeskOp *op = desk_op_finish (self, result, prepare_round, error);

  if (op != NULL && n_written != NULL)
    *n_written = op->written->len;
  return op != NULL;
}
