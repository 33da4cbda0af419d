/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-round-except.c — what a round line says of single cups and of lots.
 *
 * Outcomes are kept per number: a range becomes the numbers in it that stand on
 * this shelf.
 */
#include "core/core-round-private.h"

#include "core/core-entry.h"

#include <stdlib.h>
#include <string.h>

#define MAX_COUNT 100000 /* as the entries take */

/* ---- numbers ---- */

/* "014A" and "14a" are one number. */
static void
normal_number (const Token *token, char out[24])
{
  const char *text = token->text;
  size_t length = token->length;

  memset (out, 0, 24);
  while (length > 1 && text[0] == '0' && text[1] >= '0' && text[1] <= '9')
    {
      text++;
      length--;
    }
  if (length > 23)
    return;
  for (size_t i = 0; i < length; i++)
    out[i] = text[i] >= 'A' && text[i] <= 'Z' ? (char) (text[i] - 'A' + 'a') : text[i];
}

static const CoreRoundCup *
find_cup (const RoundParser *self, const char *number)
{
  for (size_t i = 0; number[0] != '\0' && i < self->shelf->n_cups; i++)
    if (self->shelf->cups[i].living_single && strcmp (self->shelf->cups[i].number, number) == 0)
      return &self->shelf->cups[i];
  return NULL;
}

static CoreRoundException *
add_exception (RoundParser *self, const char *number, size_t start, size_t length)
{
  CoreRoundLine *out = self->out;
  CoreRoundException exception = { .code = -1, .prey = -1, .start = start, .length = length };

  if (out->n_exceptions == CORE_ROUND_MAX_EXCEPTIONS)
    {
      round_problem (self, CORE_ROUND_TOO_LONG, start, length);
      return NULL;
    }
  if (out->n_exceptions == self->cap)
    {
      size_t cap = self->cap * 2 + 8;
      CoreRoundException *v = realloc (out->exceptions, cap * sizeof *v);

      if (v == NULL)
        {
          self->no_memory = true;
          return NULL;
        }
      out->exceptions = v;
      self->cap = cap;
    }
  memcpy (exception.number, number, sizeof exception.number);
  out->exceptions[out->n_exceptions] = exception;
  return &out->exceptions[out->n_exceptions++];
}

/* "3 dead" where no cup has the number 3: of which lot? */
static bool
ask_lot (RoundParser *self, size_t token)
{
  RoundParser here = *self;
  CoreRoundProblem *problem;

  here.at = token;
  if (!round_lot_count_follows (&here) || round_first_lot (self->shelf) == NULL)
    return false;
  problem = round_problem (self, CORE_ROUND_A_COUNT, self->tokens.v[token].start,
                           self->tokens.v[token].length);
  round_name_lots (self->shelf, problem);
  return true;
}

static void
parse_number (RoundParser *self)
{
  const Token *token = &self->tokens.v[self->at++];
  const CoreRoundCup *cup;
  char number[24];

  normal_number (token, number);
  cup = find_cup (self, number);
  if (cup == NULL && ask_lot (self, self->at - 1))
    return;
  if (cup == NULL || cup->absent)
    round_problem (self, cup == NULL ? CORE_ROUND_NO_SUCH_NUMBER : CORE_ROUND_NOT_THERE,
                   token->start, token->length);
  else
    (void) add_exception (self, number, token->start, token->length);
}

/* The numbers of the shelf from `first` to `last`; "23a" lies in 22-25. */
static void
add_range (RoundParser *self, long first, long last, size_t start, size_t length)
{
  bool any = false;

  for (size_t i = 0; i < self->shelf->n_cups; i++)
    {
      const CoreRoundCup *cup = &self->shelf->cups[i];
      Token token = { .text = cup->number, .length = strlen (cup->number) };
      long value = round_number_value (&token);

      if (!cup->living_single || cup->absent || token.length == 0 || value < first || value > last)
        continue;
      any = true;
      (void) add_exception (self, cup->number, start, length);
    }
  if (!any)
    round_problem (self, CORE_ROUND_NO_SUCH_NUMBER, start, length);
}

static void
parse_range (RoundParser *self)
{
  const Token *from = &self->tokens.v[self->at], *to = from + 2;
  size_t length = to->start + to->length - from->start;
  long first = round_number_value (from), last = round_number_value (to);

  self->at += 3;
  if (first < 0 || last < first)
    round_problem (self, first < 0 || last < 0 ? CORE_ROUND_BAD_VALUE : CORE_ROUND_BACKWARDS, from->start, length);
  else
    add_range (self, first, last, from->start, length);
}

static bool
at_range (const RoundParser *self)
{
  return self->at + 2 < self->tokens.n && self->tokens.v[self->at + 1].kind == TOKEN_DASH &&
         self->tokens.v[self->at + 2].kind == TOKEN_NUMBER;
}

/* At most `most` numbers and ranges with commas and fillers between; how many tokens they
 * took. */
static size_t
parse_numbers (RoundParser *self, size_t most)
{
  size_t before = self->at, first = self->out->n_exceptions;

  for (size_t i = 0;; i++)
    {
      size_t mark = self->at;

      if (i == most || self->out->n_exceptions - first >= most)
        return self->at - before;

      if (self->at > before && round_at_kind (self, TOKEN_COMMA))
        self->at++;
      round_skip_fillers (self);
      if (!round_at_kind (self, TOKEN_NUMBER))
        {
          self->at = mark;
          return self->at - before;
        }
      if (at_range (self))
        parse_range (self);
      else
        parse_number (self);
    }
}

/* ---- values of an outcome ---- */

/* 1…5 after "belly". */
static int
parse_score (RoundParser *self)
{
  long value;

  round_skip_fillers (self);
  if (!round_at_kind (self, TOKEN_NUMBER))
    {
      round_problem_here (self, CORE_ROUND_EXPECT_VALUE);
      return 0;
    }
  value =
    self->tokens.v[self->at].length == 1 ? round_number_value (&self->tokens.v[self->at]) : 0;
  if (value < 1 || value > 5)
    {
      round_problem_here (self, CORE_ROUND_EXPECT_VALUE);
      value = 0;
    }
  self->at++;
  return (int) value;
}

/* "fell", "stuck adult": how it went, and what it became. */
static void
parse_moult (RoundParser *self, CoreRoundException *said)
{
  RoundWords allowed = ROUND_WORD (CORE_WORD_FELL) | ROUND_WORD (CORE_WORD_STUCK) |
                       ROUND_WORD (CORE_WORD_LIMB) | ROUND_WORD (CORE_WORD_GOOD) |
                       ROUND_WORD (CORE_WORD_STAGE);
  static const int outcomes[CORE_N_WORDS] = { [CORE_WORD_FELL] = CORE_MOULT_FELL,
                                              [CORE_WORD_STUCK] = CORE_MOULT_STUCK,
                                              [CORE_WORD_LIMB] = CORE_MOULT_LIMB,
                                              [CORE_WORD_GOOD] = CORE_MOULT_GOOD };
  MatchResult result;

  for (;;)
    {
      size_t before = self->at;

      round_skip_fillers (self);
      if (round_match_here (self, allowed, &result) != MATCH_ONE)
        {
          self->at = before;
          return;
        }
      self->at += result.n_tokens;
      if (result.word == CORE_WORD_STAGE)
        {
          said->to = (CoreSeenStage) result.code;
          allowed &= ~ROUND_WORD (CORE_WORD_STAGE);
        }
      else
        {
          said->code = outcomes[result.word];
          allowed &= ROUND_WORD (CORE_WORD_STAGE);
        }
    }
}

/* Not where the word may be an outcome, then the number is a cup's, nor without a number
 * where it may be "except" or a day. */
bool
round_prey_follows (const RoundParser *self, size_t at)
{
  RoundParser ahead = *self;
  RoundWords others = ROUND_OUTCOMES;
  MatchResult result;

  ahead.at = at;
  round_skip_fillers (&ahead);
  if (round_at_kind (&ahead, TOKEN_NUMBER))
    {
      ahead.at++;
      round_skip_fillers (&ahead);
    }
  else
    {
      others |= ROUND_WORD (CORE_WORD_EXCEPT);
      if (round_match_here (&ahead, ROUND_DAYS | ROUND_WORD (CORE_WORD_PREY), &result) ==
            MATCH_ONE &&
          result.word != CORE_WORD_PREY)
        return false;
    }
  return round_match_here (&ahead, ROUND_WORD (CORE_WORD_PREY), &result) != MATCH_NONE &&
         round_match_here (&ahead, others, &result) == MATCH_NONE && result.n_candidates == 0;
}

/* The prey of one cup after took, refused or fed; left as it is where none follows. */
static void
parse_own_prey (RoundParser *self, CoreRoundException *said)
{
  CoreRoundAction own = { .prey = -1 };

  if (round_prey_follows (self, self->at))
    {
      round_skip_fillers (self);
      if (round_at_kind (self, TOKEN_NUMBER))
        round_parse_count (self, &own);
      round_parse_prey (self, &own, true);
    }
  else if (round_at_kind (self, TOKEN_NUMBER) && self->at + 1 < self->tokens.n &&
           self->tokens.v[self->at + 1].kind == TOKEN_SEMICOLON)
    {
      round_problem_here (self, CORE_ROUND_EXPECT_PREY);
      self->at++;
    }
  else if (said->outcome == CORE_WORD_FED && round_at_kind (self, TOKEN_NUMBER) &&
           self->at + 1 == self->tokens.n)
    {
      self->at++;
      round_problem_here (self, CORE_ROUND_EXPECT_PREY);
    }
  said->prey = own.prey;
  said->n = own.n;
}

/* "yesterday", "on Sunday": before or after the outcome. */
static void
parse_day (RoundParser *self, CoreRoundException *said)
{
  RoundWords others = ROUND_OUTCOMES | ROUND_OUTCOMES_LAST | ROUND_WORD (CORE_WORD_EXCEPT);
  size_t before = self->at;
  MatchResult result;

  round_skip_fillers (self);
  if (round_match_here (self, ROUND_DAYS | others, &result) != MATCH_ONE ||
      (ROUND_WORD (result.word) & ROUND_DAYS) == 0)
    {
      self->at = before;
      return;
    }
  if (result.word == CORE_WORD_DAY)
    said->days_back = result.code;
  else
    {
      said->days_back = (self->shelf->weekday - result.code + 14) % 7;
      if (said->days_back == 0)
        round_problem_here (self, CORE_ROUND_WHICH_DAY);
    }
  self->at += result.n_tokens;
}

/* ---- outcomes ---- */

/* What comes last: a beginning that it shares with another outcome means that one, unless
 * a prey follows ("given" is a beginning of "given away", "given 2 moths" not). */
static Match
match_outcome (const RoundParser *self, MatchResult *result)
{
  Match match =
    round_match_here (self, ROUND_OUTCOMES | ROUND_WORD (CORE_WORD_FED), result);

  if (match != MATCH_NONE && round_prey_follows (self, self->at + result->n_tokens))
    return match;
  match = round_match_here (self, ROUND_OUTCOMES, result);
  if (match == MATCH_NONE && result->n_candidates == 0)
    match = round_match_here (self, ROUND_OUTCOMES_LAST, result);
  return match;
}

static void
parse_value (RoundParser *self, CoreRoundException *said, int code)
{
  if ((ROUND_WORD (said->outcome) & ROUND_FOOD) != 0)
    parse_own_prey (self, said);
  else if (said->outcome == CORE_WORD_BELLY)
    said->value = parse_score (self);
  else if (said->outcome == CORE_WORD_MOULTED)
    parse_moult (self, said);
  else if (said->outcome == CORE_WORD_SIGN)
    said->code = code;
  else if (said->outcome == CORE_WORD_LEFT)
    said->code = code - 1;
}

/* "14 15 swapped": the exceptions from `first` on are two, and name each other. */
static void
pair_up (RoundParser *self, size_t first, size_t token)
{
  CoreRoundLine *out = self->out;
  CoreRoundException *v;

  if (out->n_exceptions - first != 2)
    {
      round_problem (self, CORE_ROUND_EXPECT_TWO, self->tokens.v[token].start,
                     self->tokens.v[token].length);
      return;
    }
  v = &out->exceptions[first];
  memcpy (v[0].other, v[1].number, sizeof v[0].other);
  memcpy (v[1].other, v[0].number, sizeof v[1].other);
}

/* Outcome of the exceptions from `first` on; false when there was none. */
static bool
parse_outcome (RoundParser *self, size_t first)
{
  CoreRoundLine *out = self->out;
  CoreRoundException said = { .code = -1, .prey = -1 };
  MatchResult result;
  Match match;
  size_t token, problems = out->n_problems;

  parse_day (self, &said);
  round_skip_fillers (self);
  match = match_outcome (self, &result);
  if (match != MATCH_ONE)
    {
      round_problem_word (self, match, &result, CORE_ROUND_EXPECT_OUTCOME);
      return false;
    }
  token = self->at;
  said.outcome = result.word;
  self->at += result.n_tokens;
  parse_value (self, &said, result.code);
  if (said.days_back == 0)
    parse_day (self, &said);
  for (size_t i = first; i < out->n_exceptions; i++)
    {
      CoreRoundException *exception = &out->exceptions[i];

      memcpy (said.number, exception->number, sizeof said.number);
      said.start = exception->start;
      said.length = exception->length;
      *exception = said;
    }
  if (said.outcome == CORE_WORD_SWAP)
    pair_up (self, first, token);
  if (out->n_problems > problems) /* what is not understood whole is not shown as if it were */
    out->n_exceptions = first;
  return true;
}

/* ---- swap 14 15 ---- */

static bool
parse_swap (RoundParser *self)
{
  MatchResult result;
  size_t first = self->out->n_exceptions, token = self->at, problems;
  Match match = round_match_here (self, ROUND_WORD (CORE_WORD_SWAP), &result);

  if (match != MATCH_ONE)
    return false;
  self->at += result.n_tokens;
  problems = self->out->n_problems;
  if (parse_numbers (self, 2) == 0)
    round_problem_here (self, CORE_ROUND_EXPECT_TWO);
  else if (self->out->n_problems == problems)
    {
      for (size_t i = first; i < self->out->n_exceptions; i++)
        self->out->exceptions[i].outcome = CORE_WORD_SWAP;
      pair_up (self, first, token);
    }
  if (self->out->n_problems > problems)
    self->out->n_exceptions = first;
  return true;
}

/* ---- lots ---- */

bool
round_lot_count_follows (const RoundParser *self)
{
  RoundWords words = ROUND_WORD (CORE_WORD_DEAD) | ROUND_WORD (CORE_WORD_REMAIN);
  RoundParser ahead = *self;
  MatchResult result;

  round_skip_fillers (&ahead);
  if (round_take_word (&ahead, CORE_WORD_ABOUT))
    round_skip_fillers (&ahead);
  if (!round_at_kind (&ahead, TOKEN_NUMBER))
    return false;
  ahead.at++;
  round_skip_fillers (&ahead);
  return round_match_here (&ahead, words, &result) != MATCH_NONE;
}

/* [about] COUNT (dead | remain), of the lot at index `lot`. */
static bool
parse_lot_count (RoundParser *self, size_t lot)
{
  RoundWords words = ROUND_WORD (CORE_WORD_DEAD) | ROUND_WORD (CORE_WORD_REMAIN);
  CoreRoundException *said;
  const Token *token;
  MatchResult result;
  Match match;
  bool about, wrong;
  long count;

  round_skip_fillers (self);
  about = round_take_word (self, CORE_WORD_ABOUT);
  round_skip_fillers (self);
  if (!round_at_kind (self, TOKEN_NUMBER))
    {
      round_problem_here (self, CORE_ROUND_EXPECT_LOT);
      return false;
    }
  token = &self->tokens.v[self->at++];
  count = token->text[token->length - 1] > '9' ? -1 : round_number_value (token);
  wrong = count < 0 || count > MAX_COUNT;
  if (wrong)
    round_problem (self, CORE_ROUND_BAD_VALUE, token->start, token->length);
  round_skip_fillers (self);
  match = round_match_here (self, words, &result);
  if (match != MATCH_ONE)
    {
      round_problem_word (self, match, &result, CORE_ROUND_EXPECT_LOT);
      return false;
    }
  self->at += result.n_tokens;
  if (result.word == CORE_WORD_DEAD && count == 0)
    {
      round_problem (self, CORE_ROUND_BAD_VALUE, token->start, token->length);
      wrong = true;
    }
  if (wrong)
    return true; /* a count that cannot be is not shown as if it were understood */
  said = add_exception (self, self->shelf->cups[lot].number, token->start, token->length);
  if (said == NULL)
    return true;
  said->lot = true;
  said->outcome = result.word;
  said->n = (int) count;
  said->about = about;
  return true;
}

/* "H7 3 dead" among the exceptions of a shelf. */
static bool
take_lot (RoundParser *self, size_t *lot)
{
  MatchResult result;

  if (round_match_here (self, ROUND_WORD (CORE_WORD_LOT), &result) != MATCH_ONE)
    return false;
  self->at += result.n_tokens;
  *lot = (size_t) result.code;
  return true;
}

/* ---- all exceptions ---- */

static bool
at_separator (const RoundParser *self)
{
  return round_at_end (self) || round_at_kind (self, TOKEN_COMMA) || round_at_kind (self, TOKEN_SEMICOLON);
}

/* "except 10": nothing was done with it. */
static void
leave_out (RoundParser *self, size_t first)
{
  for (size_t i = first; i < self->out->n_exceptions; i++)
    self->out->exceptions[i].outcome = CORE_WORD_SKIP;
}

void
round_parse_left_out (RoundParser *self)
{
  MatchResult result;
  size_t first = self->out->n_exceptions;

  round_skip_fillers (self);
  if (round_match_here (self, ROUND_ACTIONS | ROUND_WORD (CORE_WORD_EXCEPT), &result) != MATCH_ONE ||
      result.word != CORE_WORD_EXCEPT)
    return;
  self->at += result.n_tokens;
  if (parse_numbers (self, SIZE_MAX) == 0)
    round_problem_here (self, CORE_ROUND_EXPECT_NUMBER);
  leave_out (self, first);
  if (round_at_kind (self, TOKEN_COMMA))
    self->at++;
}

static void
skip_separators (RoundParser *self)
{
  for (;;)
    {
      if (round_at_kind (self, TOKEN_COMMA) || round_at_kind (self, TOKEN_SEMICOLON))
        self->at++;
      else if (round_take_word (self, CORE_WORD_EXCEPT))
        self->except = true;
      else
        {
          size_t before = self->at;

          round_skip_fillers (self);
          if (self->at == before)
            return;
        }
    }
}

/* False where the rest up to the next separator must be passed over. */
static bool
parse_exception (RoundParser *self)
{
  size_t first = self->out->n_exceptions, lot;

  if (take_lot (self, &lot))
    return parse_lot_count (self, lot);
  if (self->out->opening.lot >= 0)
    return parse_lot_count (self, (size_t) self->out->opening.lot);
  if (parse_swap (self))
    return true;
  if (parse_numbers (self, SIZE_MAX) == 0)
    round_problem_here (self, CORE_ROUND_EXPECT_NUMBER);
  else if (self->except && at_separator (self))
    {
      leave_out (self, first);
      return true;
    }
  else if (parse_outcome (self, first))
    return true;
  self->out->n_exceptions = first;
  return false;
}

void
round_parse_exceptions (RoundParser *self)
{
  for (;;)
    {
      skip_separators (self);
      if (round_at_end (self))
        return;
      if (!parse_exception (self))
        round_skip_to_separator (self);
      self->except = false; /* it opened one exception */
    }
}
