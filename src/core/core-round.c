/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-round.c — the round line read as a whole.
 *
 * The parser goes on after a problem, at the next comma or semicolon, so that a
 * keeper sees all that is wrong at once; a line with any problem writes nothing.
 */
#include "core/core-round-private.h"

#include <stdlib.h>
#include <string.h>

#define ENDING_WORDS                                                                               \
  (ROUND_WORD (CORE_WORD_DEAD) | ROUND_WORD (CORE_WORD_ESCAPED) | ROUND_WORD (CORE_WORD_LEFT) |    \
   ROUND_WORD (CORE_WORD_SKIP))

/* ---- problems ---- */

CoreRoundProblem *
round_problem (RoundParser *self, CoreRoundError error, size_t start, size_t length)
{
  CoreRoundLine *out = self->out;
  CoreRoundProblem *problem;

  if (out->n_problems == CORE_ROUND_MAX_PROBLEMS)
    return NULL;
  problem = &out->problems[out->n_problems++];
  *problem = (CoreRoundProblem){ .error = error, .start = start, .length = length };
  return problem;
}

CoreRoundProblem *
round_problem_here (RoundParser *self, CoreRoundError error)
{
  const Token *token = self->at < self->tokens.n ? &self->tokens.v[self->at] : NULL;

  return token != NULL ? round_problem (self, error, token->start, token->length)
                       : round_problem (self, error, self->line_length, 0);
}

/* A word of the vocabulary, in full: what is wrong is where it stands. */
static bool
is_known (const RoundParser *self, MatchResult *result)
{
  const Token *token = &self->tokens.v[self->at];

  return round_match_here (self, ~UINT64_C (0), result) == MATCH_ONE &&
         (result->n_tokens > 1 || strlen (result->candidates[0]) == token->length);
}

/* What is said of all that can only be said of one; of a lot it wants a count. */
static CoreRoundError
known_but_not_here (const RoundParser *self, const MatchResult *known, CoreRoundError expected)
{
  RoundWords single = (ROUND_OUTCOMES | ROUND_OUTCOMES_LAST) & ~ROUND_ACTIONS;

  if (expected != CORE_ROUND_EXPECT_ACTION)
    return expected;
  if (self->out->opening.lot >= 0 &&
      (known->word == CORE_WORD_DEAD || known->word == CORE_WORD_REMAIN))
    return CORE_ROUND_EXPECT_LOT;
  return (ROUND_WORD (known->word) & single) != 0 ? CORE_ROUND_BY_NUMBER : expected;
}

void
round_problem_word (RoundParser *self,
                    Match match,
                    const MatchResult *result,
                    CoreRoundError expected)
{
  bool word = self->at < self->tokens.n && self->tokens.v[self->at].kind == TOKEN_WORD;
  CoreRoundError error = expected;
  CoreRoundProblem *problem;
  MatchResult known;

  if (match == MATCH_SEVERAL)
    error = CORE_ROUND_AMBIGUOUS;
  else if (word && result->n_candidates > 0)
    error = CORE_ROUND_TOO_SHORT;
  else if (word)
    error = is_known (self, &known) ? known_but_not_here (self, &known, expected) : CORE_ROUND_UNKNOWN_WORD;
  problem = round_problem_here (self, error);

  if (problem == NULL)
    return;
  problem->n_candidates = result->n_candidates;
  memcpy (problem->candidates, result->candidates, sizeof problem->candidates);
}

/* ---- tokens ---- */

bool
round_at_kind (const RoundParser *self, TokenKind kind)
{
  return self->at < self->tokens.n && self->tokens.v[self->at].kind == kind;
}

bool
round_at_end (const RoundParser *self)
{
  return self->at >= self->tokens.n;
}

Match
round_match_here (const RoundParser *self, RoundWords allowed, MatchResult *result)
{
  return round_match (&self->tokens, self->at, allowed, self->terms, self->n_terms, result);
}

bool
round_take_word (RoundParser *self, CoreRoundWord word)
{
  MatchResult result;

  if (round_match_here (self, ROUND_WORD (word), &result) != MATCH_ONE)
    return false;
  self->at += result.n_tokens;
  return true;
}

void
round_skip_fillers (RoundParser *self)
{
  for (;;)
    {
      if (round_at_kind (self, TOKEN_COLON))
        self->at++;
      else if (!round_take_word (self, CORE_WORD_AT))
        return;
    }
}

void
round_skip_to_separator (RoundParser *self)
{
  while (!round_at_end (self) && !round_at_kind (self, TOKEN_COMMA) &&
         !round_at_kind (self, TOKEN_SEMICOLON))
    self->at++;
}

long
round_number_value (const Token *token)
{
  long value = 0;
  int digits = 0;

  for (size_t i = 0; i < token->length && token->text[i] >= '0' && token->text[i] <= '9'; i++)
    {
      digits += digits > 0 || token->text[i] != '0';
      if (digits > 9)
        return -1;
      value = value * 10 + (token->text[i] - '0');
    }
  return value;
}

/* ---- one cup named twice ---- */

/* "5 refused moths; 5 ate 2 hydei": two meals, each with its own prey. */
static bool
two_meals (const CoreRoundException *a, const CoreRoundException *b)
{
  return (ROUND_WORD (a->outcome) & ROUND_FOOD) != 0 &&
         (ROUND_WORD (b->outcome) & ROUND_FOOD) != 0 && a->prey >= 0 && b->prey >= 0 &&
         a->prey != b->prey;
}

bool
round_exclude_each_other (const CoreRoundException *a, const CoreRoundException *b)
{
  RoundWords words = ROUND_WORD (a->outcome) | ROUND_WORD (b->outcome);
  RoundWords food = ROUND_FOOD | ROUND_WORD (CORE_WORD_MOULTED);

  if (a->lot)
    return a->outcome == b->outcome; /* some died, some remain */
  if ((words & ENDING_WORDS) != 0)
    return true;
  if (a->days_back != b->days_back || two_meals (a, b))
    return false;
  if (a->outcome == b->outcome)
    return a->outcome != CORE_WORD_SIGN || a->code == b->code;
  return (ROUND_WORD (a->outcome) & food) != 0 && (ROUND_WORD (b->outcome) & food) != 0;
}

/* Said again in the same words: most likely one of the two numbers is a slip for another cup. */
static bool
same_outcome (const CoreRoundException *a, const CoreRoundException *b)
{
  return !a->lot && !b->lot && strcmp (a->number, b->number) == 0 && a->outcome == b->outcome &&
         a->outcome != CORE_WORD_SWAP && a->code == b->code && a->value == b->value &&
         a->prey == b->prey && a->n == b->n && a->to == b->to && a->days_back == b->days_back;
}

static void
check_twice (RoundParser *self)
{
  const CoreRoundException *v = self->out->exceptions;

  for (size_t i = 1; i < self->out->n_exceptions; i++)
    for (size_t k = 0; k < i; k++)
      if (v[i].lot == v[k].lot && strcmp (v[i].number, v[k].number) == 0 &&
          round_exclude_each_other (&v[i], &v[k]))
        {
          round_problem (self, same_outcome (&v[i], &v[k]) ? CORE_ROUND_REPEATED : CORE_ROUND_TWICE,
                         v[i].start, v[i].length);
          break;
        }
}

/* ---- the line ---- */

/* "14 f 2 moths": "f" may begin a prey, but a meal of one cup follows. */
static bool
fed_one (const RoundParser *self)
{
  RoundParser ahead = *self;
  MatchResult result;

  ahead.at++;
  if (round_match_here (&ahead, ROUND_WORD (CORE_WORD_FED), &result) != MATCH_ONE)
    return false;
  return round_prey_follows (self, ahead.at + result.n_tokens);
}

/* A line that begins with an exception: a cup's number ("2 hydei" begins a feeding), the
 * count of the lot that opened it, or two cups that change places. */
static bool
exceptions_only (const RoundParser *self, bool opened)
{
  MatchResult result;

  if (self->out->opening.lot >= 0)
    return round_lot_count_follows (self) || round_at_kind (self, TOKEN_SEMICOLON);
  if (opened)
    return false;
  if (round_at_kind (self, TOKEN_NUMBER))
    return round_food_first (self, &result) == 0 &&
           (!round_prey_follows (self, self->at) || fed_one (self));
  return round_match_here (self, ROUND_ACTIONS | ROUND_WORD (CORE_WORD_SWAP), &result) ==
           MATCH_ONE &&
         result.word == CORE_WORD_SWAP;
}

/* The code of a lot that stands here; NULL = none. */
const char *
round_first_lot (const CoreRoundShelf *shelf)
{
  for (size_t i = 0; i < shelf->n_cups; i++)
    if (shelf->cups[i].lot && !shelf->cups[i].absent)
      return shelf->cups[i].number;
  return NULL;
}

void
round_name_lots (const CoreRoundShelf *shelf, CoreRoundProblem *problem)
{
  size_t most = sizeof problem->candidates / sizeof problem->candidates[0];

  for (size_t i = 0; problem != NULL && i < shelf->n_cups && problem->n_candidates < most; i++)
    if (shelf->cups[i].lot && !shelf->cups[i].absent)
      problem->candidates[problem->n_candidates++] = shelf->cups[i].number;
}

/* What was done to all was done to nobody: a round that writes nothing for it says why. */
static void
check_anybody (RoundParser *self)
{
  const CoreRoundLine *out = self->out;
  bool lots = round_first_lot (self->shelf) != NULL;

  if (out->n_actions == 0 || out->opening.lot >= 0 || out->n_problems > 0)
    return;
  for (size_t i = 0; i < self->shelf->n_cups; i++)
    if (self->shelf->cups[i].living_single)
      return;
  round_name_lots (self->shelf,
                   round_problem (self, lots ? CORE_ROUND_ONLY_LOTS : CORE_ROUND_NOBODY,
                                  out->actions[0].start, out->actions[0].length));
}

static void
parse_line (RoundParser *self)
{
  bool opened, more = true;

  if (self->tokens.n == 0)
    {
      round_problem (self, CORE_ROUND_EMPTY, 0, 0);
      return;
    }
  opened = round_parse_opening (self);
  if (self->out->opening.lot < 0)
    round_parse_left_out (self);
  if (!exceptions_only (self, opened))
    {
      more = round_parse_actions (self);
      if (self->out->n_actions == 0 && self->out->n_problems == 0)
        round_problem_here (self, CORE_ROUND_EXPECT_ACTION);
    }
  if (more)
    {
      round_parse_exceptions (self);
      check_twice (self);
    }
  check_anybody (self);
}

/* In the order of the line, as they are read. */
static void
sort_problems (CoreRoundLine *line)
{
  for (size_t i = 1; i < line->n_problems; i++)
    for (size_t k = i; k > 0 && line->problems[k].start < line->problems[k - 1].start; k--)
      {
        CoreRoundProblem swapped = line->problems[k];

        line->problems[k] = line->problems[k - 1];
        line->problems[k - 1] = swapped;
      }
}

CoreStatus
core_round_parse (const char *line,
                  const CoreRoundTerm *terms,
                  size_t n_terms,
                  const CoreRoundShelf *shelf,
                  CoreRoundLine *out)
{
  RoundParser self = { .terms = terms, .n_terms = n_terms, .shelf = shelf, .out = out };
  const char *end = memchr (line, '\0', ROUND_MAX_BYTES + 1);

  *out = core_round_line_none ();
  if (end == NULL)
    {
      round_problem (&self, CORE_ROUND_TOO_LONG, ROUND_MAX_BYTES, 0);
      return CORE_BAD_INPUT;
    }
  self.line_length = (size_t) (end - line);
  if (round_tokens (line, self.line_length, &self.tokens) != CORE_OK)
    return CORE_NO_MEMORY;
  parse_line (&self);
  free (self.tokens.v);
  if (self.no_memory)
    {
      core_round_line_clear (out);
      return CORE_NO_MEMORY;
    }
  sort_problems (out);
  return out->n_problems > 0 ? CORE_BAD_INPUT : CORE_OK;
}

void
core_round_line_clear (CoreRoundLine *self)
{
  free (self->exceptions);
  *self = (CoreRoundLine){ 0 };
}
