/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-round-edit.c — a round line that was read, changed by hand: marks on cups and what was
 * done to all, set and taken back. Places in the text no longer hold afterwards. */
#include "core/core-round-private.h"

#include <stdlib.h>
#include <string.h>

CoreRoundLine
core_round_line_none (void)
{
  return (CoreRoundLine){ .opening = { .species = -1, .pot = -1, .moults = -1, .lot = -1 } };
}

CoreStatus
core_round_line_copy (const CoreRoundLine *self, CoreRoundLine *out)
{
  *out = *self;
  out->exceptions = NULL;
  if (self->n_exceptions == 0)
    return CORE_OK;
  out->exceptions = malloc (self->n_exceptions * sizeof *out->exceptions);
  if (out->exceptions == NULL)
    {
      *out = core_round_line_none ();
      return CORE_NO_MEMORY;
    }
  memcpy (out->exceptions, self->exceptions, self->n_exceptions * sizeof *out->exceptions);
  return CORE_OK;
}

/* ---- for all ---- */

static size_t
find_action (const CoreRoundLine *line, CoreRoundWord action)
{
  size_t i = 0;

  while (i < line->n_actions && line->actions[i].action != action)
    i++;
  return i;
}

const CoreRoundAction *
core_round_get_action (const CoreRoundLine *line, CoreRoundWord action)
{
  size_t i = find_action (line, action);

  return i < line->n_actions ? &line->actions[i] : NULL;
}

CoreStatus
core_round_set_action (CoreRoundLine *line, const CoreRoundAction *action)
{
  size_t i = find_action (line, action->action);

  if (i == line->n_actions)
    {
      if (line->n_actions == CORE_ROUND_MAX_ACTIONS)
        return CORE_BAD_INPUT;
      line->n_actions++;
    }
  line->actions[i] = *action;
  return CORE_OK;
}

void
core_round_drop_action (CoreRoundLine *line, CoreRoundWord action)
{
  size_t i = find_action (line, action);

  if (i == line->n_actions)
    return;
  line->n_actions--;
  memmove (&line->actions[i], &line->actions[i + 1],
           (line->n_actions - i) * sizeof line->actions[0]);
}

/* ---- for one cup ---- */

static bool
same_mark (const CoreRoundException *a, const CoreRoundException *b)
{
  return a->lot == b->lot && strcmp (a->number, b->number) == 0 && a->outcome == b->outcome &&
         a->code == b->code && a->value == b->value && a->to == b->to &&
         a->days_back == b->days_back && a->prey == b->prey && a->n == b->n &&
         strcmp (a->other, b->other) == 0;
}

static void
drop_at (CoreRoundLine *line, size_t i)
{
  line->n_exceptions--;
  memmove (&line->exceptions[i], &line->exceptions[i + 1],
           (line->n_exceptions - i) * sizeof line->exceptions[0]);
}

/* Without the other half of a swap neither half means anything. */
static void
drop_halves (CoreRoundLine *line)
{
  for (size_t i = 0; i < line->n_exceptions;)
    {
      const CoreRoundException *half = &line->exceptions[i];
      bool whole = half->outcome != CORE_WORD_SWAP;

      for (size_t k = 0; k < line->n_exceptions && !whole; k++)
        whole = line->exceptions[k].outcome == CORE_WORD_SWAP &&
                strcmp (line->exceptions[k].number, half->other) == 0;
      if (whole)
        i++;
      else
        drop_at (line, i);
    }
}

bool
core_round_has_mark (const CoreRoundLine *line, const CoreRoundException *mark)
{
  for (size_t i = 0; i < line->n_exceptions; i++)
    if (same_mark (&line->exceptions[i], mark))
      return true;
  return false;
}

CoreStatus
core_round_toggle_mark (CoreRoundLine *line, const CoreRoundException *mark)
{
  bool there = core_round_has_mark (line, mark);
  CoreRoundException *v;

  if (!there)
    {
      if (line->n_exceptions >= CORE_ROUND_MAX_EXCEPTIONS)
        return CORE_BAD_INPUT;
      v = realloc (line->exceptions, (line->n_exceptions + 1) * sizeof *v);
      if (v == NULL)
        return CORE_NO_MEMORY;
      line->exceptions = v;
    }
  for (size_t i = line->n_exceptions; i-- > 0;)
    {
      CoreRoundException *old = &line->exceptions[i];

      if (there ? same_mark (old, mark)
                : old->lot == mark->lot && strcmp (old->number, mark->number) == 0 &&
                    round_exclude_each_other (old, mark))
        drop_at (line, i);
    }
  if (!there)
    line->exceptions[line->n_exceptions++] = *mark;
  drop_halves (line);
  return CORE_OK;
}

void
core_round_unmark (CoreRoundLine *line, const char *number)
{
  for (size_t i = line->n_exceptions; i-- > 0;)
    if (strcmp (line->exceptions[i].number, number) == 0)
      drop_at (line, i);
  drop_halves (line);
}
