/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-round-act.c — what a round line says was done to all. */
#include "core/core-round-private.h"

#define MAX_PREY 1000
#define MAX_PREY_EACH 50 /* ours: more for one cup is a slip; a lot takes more */

/* "fruit flies" is the beginning of two kinds: for one lot it is the one that is proposed to
 * it, or the only one that fits. -1 = still to be asked. */
static int
prey_of_lot (const RoundParser *self, const MatchResult *result)
{
  const CoreRoundCup *cup;
  int found = -1;

  if (self->out->opening.lot < 0 || result->all != ROUND_WORD (CORE_WORD_PREY) ||
      result->n_candidates == ROUND_CANDIDATES)
    return -1;
  cup = &self->shelf->cups[self->out->opening.lot];
  for (size_t i = 0; i < result->n_candidates; i++)
    if (result->codes[i] == cup->usual_prey)
      return cup->usual_prey;
  for (size_t i = 0; i < result->n_candidates; i++)
    {
      if (cup->prey_fit[result->codes[i]] != 0 || result->codes[i] == found)
        continue;
      if (found >= 0)
        return -1;
      found = result->codes[i];
    }
  return found;
}

void
round_parse_prey (RoundParser *self, CoreRoundAction *action, bool counted)
{
  RoundWords others = counted ? 0 : ROUND_ACTIONS | ROUND_WORD (CORE_WORD_EXCEPT);
  MatchResult result;
  Match match;

  round_skip_fillers (self);
  match = round_match_here (self, ROUND_WORD (CORE_WORD_PREY) | others, &result);
  if (match == MATCH_SEVERAL && prey_of_lot (self, &result) >= 0)
    {
      action->prey = prey_of_lot (self, &result);
      self->at += result.n_tokens;
      return;
    }
  if (match == MATCH_ONE && result.word == CORE_WORD_PREY)
    {
      action->prey = result.code;
      self->at += result.n_tokens;
      return;
    }
  if (match == MATCH_ONE)
    return;
  if (!round_at_kind (self, TOKEN_WORD) && !counted)
    return;
  round_problem_word (self, match, &result, CORE_ROUND_EXPECT_PREY);
  round_skip_to_separator (self);
}

/* "2" before a prey: 1…1000. */
void
round_parse_count (RoundParser *self, CoreRoundAction *action)
{
  const Token *token = &self->tokens.v[self->at];
  long n = round_number_value (token);
  bool letter = token->text[token->length - 1] > '9';

  if (n < 1 || n > MAX_PREY || letter)
    round_problem_here (self, CORE_ROUND_BAD_VALUE);
  else if (n > MAX_PREY_EACH && self->out->opening.lot < 0)
    round_problem_here (self, CORE_ROUND_MANY_PREY);
  else
    action->n = (int) n;
  self->at++;
}

/* "fed all", "looked at all": says no more than a missing opening. */
static void
skip_all (RoundParser *self)
{
  RoundWords others = ROUND_ACTIONS | ROUND_WORD (CORE_WORD_EXCEPT) | ROUND_WORD (CORE_WORD_PREY);
  MatchResult result;

  round_skip_fillers (self);
  if (round_match_here (self, others | ROUND_WORD (CORE_WORD_ALL), &result) == MATCH_ONE &&
      result.word == CORE_WORD_ALL)
    self->at += result.n_tokens;
  round_skip_fillers (self);
}

/* Nothing more is said of this feeding. */
static bool
feeding_ends (const RoundParser *self)
{
  return round_at_end (self) || round_at_kind (self, TOKEN_COMMA) ||
         round_at_kind (self, TOKEN_SEMICOLON);
}

static void
parse_fed (RoundParser *self, CoreRoundAction *action)
{
  bool counted;

  skip_all (self);
  counted = round_at_kind (self, TOKEN_NUMBER);
  if (counted)
    round_parse_count (self, action);
  if (self->out->opening.pot >= 0 && feeding_ends (self))
    action->prey = counted ? self->out->opening.pot : -1; /* "house flies: fed 3" */
  else
    round_parse_prey (self, action, counted);
}

size_t
round_food_first (const RoundParser *self, MatchResult *prey)
{
  MatchResult fed;
  size_t at = self->at + (round_at_kind (self, TOKEN_NUMBER) ? 1 : 0);

  if (round_match (&self->tokens, at, ROUND_WORD (CORE_WORD_PREY) | ROUND_ACTIONS, self->terms,
                   self->n_terms, prey) != MATCH_ONE ||
      prey->word != CORE_WORD_PREY)
    return 0;
  at += prey->n_tokens;
  if (round_match (&self->tokens, at, ROUND_WORD (CORE_WORD_FED), self->terms, self->n_terms,
                   &fed) != MATCH_ONE)
    return 0;
  return at + fed.n_tokens;
}

/* Of one prey or of none: "fed 2 hydei, fed 3 moths" are two meals. */
static bool
done_already (const CoreRoundLine *line, const CoreRoundAction *action)
{
  for (size_t i = 0; i < line->n_actions; i++)
    if (line->actions[i].action == action->action &&
        (action->action != CORE_WORD_FED || line->actions[i].prey == action->prey))
      return true;
  return false;
}

static void
parse_action (RoundParser *self)
{
  CoreRoundLine *out = self->out;
  CoreRoundAction action = { .action = CORE_WORD_FED, .prey = -1 };
  MatchResult result;
  size_t first = self->at, end = round_food_first (self, &result);
  Match match = end > 0 ? MATCH_ONE : round_match_here (self, ROUND_ACTIONS, &result);

  if (match != MATCH_ONE || out->n_actions == CORE_ROUND_MAX_ACTIONS)
    {
      if (match == MATCH_ONE)
        round_problem_here (self, CORE_ROUND_TOO_LONG);
      else
        round_problem_word (self, match, &result, CORE_ROUND_EXPECT_ACTION);
      round_skip_to_separator (self);
      return;
    }
  if (end > 0)
    {
      action.prey = result.code;
      if (round_at_kind (self, TOKEN_NUMBER))
        round_parse_count (self, &action);
      self->at = end;
    }
  else
    {
      action.action = result.word;
      self->at += result.n_tokens;
      if (action.action == CORE_WORD_FED)
        parse_fed (self, &action);
    }
  skip_all (self);
  action.start = self->tokens.v[first].start;
  action.length = self->tokens.v[self->at - 1].start + self->tokens.v[self->at - 1].length -
                  action.start;
  if (done_already (out, &action))
    {
      round_problem (self, CORE_ROUND_ACTION_TWICE, action.start, action.length);
      return;
    }
  out->actions[out->n_actions++] = action;
}

/* "except" here? A beginning that may also be an action is left to the action. */
static bool
take_except (RoundParser *self)
{
  MatchResult result;

  if (round_match_here (self, ROUND_ACTIONS | ROUND_WORD (CORE_WORD_EXCEPT), &result) !=
        MATCH_ONE ||
      result.word != CORE_WORD_EXCEPT)
    return false;
  self->at += result.n_tokens;
  self->except = true;
  return true;
}

/* Exceptions without a word between: a cup's number, the count of a lot, a lot's code, swap. */
static bool
exceptions_begin (const RoundParser *self)
{
  RoundWords words = ROUND_ACTIONS | ROUND_WORD (CORE_WORD_SWAP) | ROUND_WORD (CORE_WORD_LOT);
  MatchResult result;

  if (self->out->opening.lot >= 0 && round_lot_count_follows (self))
    return true;
  if (round_at_kind (self, TOKEN_NUMBER))
    return self->out->opening.lot < 0 && round_food_first (self, &result) == 0;
  return round_match_here (self, words, &result) == MATCH_ONE &&
         (ROUND_WORD (result.word) & ROUND_ACTIONS) == 0;
}

bool
round_parse_actions (RoundParser *self)
{
  bool separated = true;

  while (!round_at_end (self))
    {
      round_skip_fillers (self);
      if (round_at_kind (self, TOKEN_SEMICOLON) || take_except (self))
        return true;
      if (separated && self->out->n_actions > 0 && exceptions_begin (self))
        return true;
      separated = round_at_kind (self, TOKEN_COMMA);
      if (separated)
        self->at++;
      else if (!round_at_end (self))
        parse_action (self);
    }
  return false;
}
