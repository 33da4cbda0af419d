/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-round.c — a round over a shelf from one typed line: preview, then one write.
 *
 * What the preview lists is what is written, made by the same call; any problem
 * refuses the whole line. */
#include "desk/desk-private.h"

#include <stdlib.h>
#include <string.h>

/* ---- cups ---- */

static gboolean
feed_due (const CorePlan *plan, CoreDay today, const CoreTask **feed)
{
  for (gsize i = 0; i < plan->tasks.n; i++)
    if (plan->tasks.v[i].kind == CORE_TASK_FEED)
      {
        *feed = &plan->tasks.v[i];
        return plan->tasks.v[i].earliest <= today;
      }
  *feed = NULL;
  return FALSE;
}

static void
fill_cup (Desk *self, DeskSubject *subject, CoreRoundCup *cup)
{
  const CorePlan *plan = desk_subject_plan (subject);
  const CoreTask *feed = NULL;

  memset (cup, 0, sizeof *cup);
  g_strlcpy (cup->number, desk_subject_label (subject), sizeof cup->number);
  cup->subject = desk_subject_id (subject);
  cup->living_single = desk_subject_living (subject);
  cup->held = plan->hold.kind != CORE_HOLD_NONE;
  cup->due_food = feed_due (plan, self->today, &feed);
  cup->usual_prey = -1;
  if (feed != NULL && feed->n_prey > 0)
    {
      cup->usual_prey = feed->prey[0].prey;
      cup->usual_n = feed->prey[0].n;
    }
  for (int prey = 0; prey < CORE_N_PREY; prey++)
    cup->prey_fit[prey] =
      core_prey_fits (desk_subject_state (subject), desk_subject_profile (subject),
                      desk_subject_verdict (subject), prey);
}

/* All animals of the place, or of the whole journal when none is named. */
static void
gather_cups (Desk *self, CoreId place, DeskRoundPreview *out)
{
  out->subjects = core_id_is_none (place) ? desk_animals (self) : desk_animals_on (self, place);
  out->cups = g_array_sized_new (FALSE, TRUE, sizeof (CoreRoundCup), out->subjects->len);
  g_array_set_size (out->cups, out->subjects->len);
  for (guint i = 0; i < out->subjects->len; i++)
    fill_cup (self, out->subjects->pdata[i], &g_array_index (out->cups, CoreRoundCup, i));
}

DeskRoundPreview *
desk_round_preview (Desk *self,
                    CoreId place,
                    const char *line,
                    const CoreRoundTerm *terms,
                    gsize n_terms)
{
  DeskRoundPreview *out = g_new0 (DeskRoundPreview, 1);
  const CoreRoundCup *cups;
  CoreStatus status;

  gather_cups (self, place, out);
  cups = (const CoreRoundCup *) out->cups->data;
  status = core_round_parse (line, terms, n_terms, cups, out->cups->len, &out->line);
  if (status == CORE_OK)
    status = core_round_resolve (&out->line, cups, out->cups->len, &out->plan);
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
  CoreDay day;
} RoundData;

static void
round_free (gpointer data)
{
  RoundData *self = data;

  g_free (self->line);
  g_free (self);
}

/* Which kind and code a word of the line writes. */
typedef struct
{
  CoreRoundWord word;
  CoreKind kind;
  CoreKey key;
  int code; /* -1 = the write's own code, -2 = its value */
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
  { CORE_WORD_DEAD, CORE_KIND_DIED, CORE_KEY_NONE, 0 },
  { CORE_WORD_ESCAPED, CORE_KIND_ESCAPED, CORE_KEY_NONE, 0 },
  { CORE_WORD_LEFT, CORE_KIND_LEFT, CORE_KEY_NONE, 0 },
  { CORE_WORD_BELLY, CORE_KIND_BELLY, CORE_KEY_SCORE, -2 },
  { CORE_WORD_GONE, CORE_KIND_GONE, CORE_KEY_NONE, 0 },
  { CORE_WORD_DRANK, CORE_KIND_DRANK, CORE_KEY_NONE, 0 },
  { CORE_WORD_SIGN, CORE_KIND_SIGN, CORE_KEY_SIGN, -1 },
};

static void
write_one (DeskOp *op, CoreId subject, CoreDay day, const CoreRoundWrite *write)
{
  for (gsize i = 0; i < G_N_ELEMENTS (effects); i++)
    {
      const Effect *effect = &effects[i];
      CoreEntry *entry;
      int code = effect->code;

      if (effect->word != write->what)
        continue;
      entry = desk_op_entry (op, effect->kind, subject, day);
      entry->bulk = !write->exception;
      code = code == -1 ? write->code : code == -2 ? write->value : code;
      if (effect->key != CORE_KEY_NONE && code >= 0)
        core_entry_set_num (entry, effect->key, code);
      if (effect->kind == CORE_KIND_FED && write->prey >= 0)
        core_entry_set_num (entry, CORE_KEY_PREY, write->prey);
      if (effect->kind == CORE_KIND_FED && write->n > 0)
        core_entry_set_num (entry, CORE_KEY_N, write->n);
      return;
    }
}

static gboolean
prepare_round (Desk *self, DeskOp *op, GError **error)
{
  const RoundData *round = op->data;
  g_autoptr (DeskRoundPreview) preview =
    desk_round_preview (self, round->place, round->line, round->terms, round->n_terms);

  if (preview->line.n_problems > 0)
    {
      g_autofree char *text =
        words_round_problem (WORDS_LOCAL, &preview->line.problems[0], round->line);

      g_set_error_literal (error, DESK_ERROR, DESK_ERROR_ROUND, text);
      return FALSE;
    }
  for (gsize i = 0; i < preview->plan.n_writes; i++)
    {
      const CoreRoundWrite *write = &preview->plan.writes[i];

      write_one (op, desk_subject_id (preview->subjects->pdata[write->cup]), round->day, write);
    }
  return desk_op_check (op, error);
}

void
desk_round_write_async (Desk *self,
                        CoreId place,
                        const char *line,
                        const CoreRoundTerm *terms,
                        gsize n_terms,
                        CoreDay day,
                        GCancellable *cancellable,
                        GAsyncReadyCallback callback,
                        gpointer data)
{
  RoundData *round = g_new0 (RoundData, 1);

  round->place = place;
  round->line = g_strdup (line);
  round->terms = terms;
  round->n_terms = n_terms;
  round->day = day == CORE_DAY_NONE ? self->today : day;
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
