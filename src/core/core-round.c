/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-round.c — the round line read.
 *
 * The parser goes on after a problem, at the next comma or semicolon, so that a
 * keeper sees all that is wrong at once; a line with any problem writes nothing.
 * Outcomes are kept per number: a range becomes the numbers in it that stand on
 * this shelf.
 */
#include "core/core-round-private.h"

#include "core/core-entry.h"

#include <stdlib.h>
#include <string.h>

#define MAX_PREY 1000
#define ENDING_WORDS                                                                               \
  (ROUND_WORD (CORE_WORD_DEAD) | ROUND_WORD (CORE_WORD_ESCAPED) | ROUND_WORD (CORE_WORD_LEFT) |    \
   ROUND_WORD (CORE_WORD_SKIP))

typedef struct
{
  TokenList tokens;
  size_t at;
  size_t line_length;
  const CoreRoundTerm *terms;
  size_t n_terms;
  const CoreRoundCup *cups;
  size_t n_cups;
  CoreRoundLine *out;
  size_t cap; /* of out->exceptions */
  bool no_memory;
} Parser;

/* ---- problems ---- */

static CoreRoundProblem *
add_problem (Parser *self, CoreRoundError error, size_t start, size_t length)
{
  CoreRoundLine *out = self->out;
  CoreRoundProblem *problem;

  if (out->n_problems == CORE_ROUND_MAX_PROBLEMS)
    return NULL;
  problem = &out->problems[out->n_problems++];
  *problem = (CoreRoundProblem){ .error = error, .start = start, .length = length };
  return problem;
}

/* At the present token, or at the end of the line. */
static CoreRoundProblem *
problem_here (Parser *self, CoreRoundError error)
{
  const Token *token = self->at < self->tokens.n ? &self->tokens.v[self->at] : NULL;

  return token != NULL ? add_problem (self, error, token->start, token->length)
                       : add_problem (self, error, self->line_length, 0);
}

/* A word that is not what may come here: unknown, or one of several. */
static void
problem_word (Parser *self, Match match, const MatchResult *result, CoreRoundError expected)
{
  bool word = self->at < self->tokens.n && self->tokens.v[self->at].kind == TOKEN_WORD;
  CoreRoundProblem *problem = problem_here (self, match == MATCH_SEVERAL ? CORE_ROUND_AMBIGUOUS
                                                  : word                 ? CORE_ROUND_UNKNOWN_WORD
                                                                         : expected);

  if (problem == NULL)
    return;
  problem->n_candidates = result->n_candidates;
  memcpy (problem->candidates, result->candidates, sizeof problem->candidates);
}

/* ---- tokens ---- */

static bool
at_kind (const Parser *self, TokenKind kind)
{
  return self->at < self->tokens.n && self->tokens.v[self->at].kind == kind;
}

static bool
at_end (const Parser *self)
{
  return self->at >= self->tokens.n;
}

static Match
match_here (const Parser *self, unsigned allowed, MatchResult *result)
{
  return round_match (&self->tokens, self->at, allowed, self->terms, self->n_terms, result);
}

static bool
take_word (Parser *self, CoreRoundWord word)
{
  MatchResult result;

  if (match_here (self, ROUND_WORD (word), &result) != MATCH_ONE)
    return false;
  self->at += result.n_tokens;
  return true;
}

static void
skip_fillers (Parser *self)
{
  while (take_word (self, CORE_WORD_AT))
    continue;
}

static void
skip_to_separator (Parser *self)
{
  while (!at_end (self) && !at_kind (self, TOKEN_COMMA) && !at_kind (self, TOKEN_SEMICOLON))
    self->at++;
}

/* The digits of a number token; -1 when they are more than nine. */
static long
number_value (const Token *token)
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

/* ---- actions ---- */

static void
parse_prey (Parser *self, CoreRoundAction *action, bool counted)
{
  unsigned others = counted ? 0 : ROUND_ACTIONS | ROUND_WORD (CORE_WORD_EXCEPT);
  MatchResult result;
  Match match;

  skip_fillers (self);
  match = match_here (self, ROUND_WORD (CORE_WORD_PREY) | others, &result);
  if (match == MATCH_ONE && result.word == CORE_WORD_PREY)
    {
      action->prey = result.code;
      self->at += result.n_tokens;
      return;
    }
  if (match == MATCH_ONE)
    return;
  if (!at_kind (self, TOKEN_WORD) && !counted)
    return;
  problem_word (self, match, &result, CORE_ROUND_EXPECT_PREY);
  skip_to_separator (self);
}

/* "2" before a prey: 1…1000. */
static void
parse_count (Parser *self, CoreRoundAction *action)
{
  const Token *token = &self->tokens.v[self->at];
  long n = number_value (token);
  bool letter = token->text[token->length - 1] > '9';

  if (n < 1 || n > MAX_PREY || letter)
    problem_here (self, CORE_ROUND_BAD_VALUE);
  else
    action->n = (int) n;
  self->at++;
}

/* "fed all", "looked at all": says no more than a missing opening. */
static void
skip_all (Parser *self)
{
  unsigned others = ROUND_ACTIONS | ROUND_WORD (CORE_WORD_EXCEPT) | ROUND_WORD (CORE_WORD_PREY);
  MatchResult result;

  skip_fillers (self);
  if (match_here (self, others | ROUND_WORD (CORE_WORD_ALL), &result) == MATCH_ONE &&
      result.word == CORE_WORD_ALL)
    self->at += result.n_tokens;
  skip_fillers (self);
}

static void
parse_fed (Parser *self, CoreRoundAction *action)
{
  bool counted;

  skip_all (self);
  counted = at_kind (self, TOKEN_NUMBER);
  if (counted)
    parse_count (self, action);
  parse_prey (self, action, counted);
}

/* Where does "[2] house flies fed" end, some languages' order? 0 = not here. */
static size_t
food_first (const Parser *self, MatchResult *prey)
{
  MatchResult fed;
  size_t at = self->at + (at_kind (self, TOKEN_NUMBER) ? 1 : 0);

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

static void
parse_action (Parser *self)
{
  CoreRoundLine *out = self->out;
  CoreRoundAction action = { .action = CORE_WORD_FED, .prey = -1 };
  MatchResult result;
  size_t end = food_first (self, &result);
  Match match = end > 0 ? MATCH_ONE : match_here (self, ROUND_ACTIONS, &result);

  if (match != MATCH_ONE || out->n_actions == CORE_ROUND_MAX_ACTIONS)
    {
      if (match == MATCH_ONE)
        problem_here (self, CORE_ROUND_TOO_LONG);
      else
        problem_word (self, match, &result, CORE_ROUND_EXPECT_ACTION);
      skip_to_separator (self);
      return;
    }
  if (end > 0)
    {
      action.prey = result.code;
      if (at_kind (self, TOKEN_NUMBER))
        parse_count (self, &action);
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
  out->actions[out->n_actions++] = action;
}

/* Was there one? */
static bool
parse_opening (Parser *self)
{
  bool any = false;
  unsigned openings = ROUND_WORD (CORE_WORD_ALL) | ROUND_WORD (CORE_WORD_DUE);
  MatchResult result;

  self->out->opening = CORE_WORD_ALL;
  for (;;)
    {
      skip_fillers (self);
      if (match_here (self, openings | ROUND_ACTIONS, &result) != MATCH_ONE ||
          (ROUND_WORD (result.word) & openings) == 0)
        return any;
      any = true;
      if (result.word == CORE_WORD_DUE)
        self->out->opening = CORE_WORD_DUE;
      self->at += result.n_tokens;
    }
}

/* "except" here? A beginning that may also be an action is left to the action. */
static bool
take_except (Parser *self)
{
  MatchResult result;

  if (match_here (self, ROUND_ACTIONS | ROUND_WORD (CORE_WORD_EXCEPT), &result) != MATCH_ONE ||
      result.word != CORE_WORD_EXCEPT)
    return false;
  self->at += result.n_tokens;
  return true;
}

/* Actions up to the exceptions; true when exceptions follow. */
static bool
parse_actions (Parser *self)
{
  bool separated = true;
  MatchResult prey;

  while (!at_end (self))
    {
      skip_fillers (self);
      if (at_kind (self, TOKEN_SEMICOLON) || take_except (self))
        return true;
      if (separated && self->out->n_actions > 0 && at_kind (self, TOKEN_NUMBER) &&
          food_first (self, &prey) == 0)
        return true;
      separated = at_kind (self, TOKEN_COMMA);
      if (separated)
        self->at++;
      else if (!at_end (self))
        parse_action (self);
    }
  return false;
}

/* ---- exceptions ---- */

/* "014A" and "14a" are one number. */
static void
normal_number (const Token *token, char out[12])
{
  const char *text = token->text;
  size_t length = token->length;

  memset (out, 0, 12);
  while (length > 1 && text[0] == '0' && text[1] >= '0' && text[1] <= '9')
    {
      text++;
      length--;
    }
  if (length > 11)
    return;
  for (size_t i = 0; i < length; i++)
    out[i] = text[i] >= 'A' && text[i] <= 'Z' ? (char) (text[i] - 'A' + 'a') : text[i];
}

static const CoreRoundCup *
find_cup (const Parser *self, const char *number)
{
  for (size_t i = 0; number[0] != '\0' && i < self->n_cups; i++)
    if (self->cups[i].living_single && strcmp (self->cups[i].number, number) == 0)
      return &self->cups[i];
  return NULL;
}

static void
add_exception (Parser *self, const char *number, size_t start, size_t length)
{
  CoreRoundLine *out = self->out;
  CoreRoundException exception = { .code = -1, .prey = -1, .start = start, .length = length };

  if (out->n_exceptions == CORE_ROUND_MAX_EXCEPTIONS)
    {
      add_problem (self, CORE_ROUND_TOO_LONG, start, length);
      return;
    }
  if (out->n_exceptions == self->cap)
    {
      size_t cap = self->cap * 2 + 8;
      CoreRoundException *v = realloc (out->exceptions, cap * sizeof *v);

      if (v == NULL)
        {
          self->no_memory = true;
          return;
        }
      out->exceptions = v;
      self->cap = cap;
    }
  memcpy (exception.number, number, sizeof exception.number);
  out->exceptions[out->n_exceptions++] = exception;
}

static void
parse_number (Parser *self)
{
  const Token *token = &self->tokens.v[self->at++];
  char number[12];

  normal_number (token, number);
  if (find_cup (self, number) == NULL)
    add_problem (self, CORE_ROUND_NO_SUCH_NUMBER, token->start, token->length);
  else
    add_exception (self, number, token->start, token->length);
}

/* The numbers of the shelf from `first` to `last`; "23a" lies in 22-25. */
static void
add_range (Parser *self, long first, long last, size_t start, size_t length)
{
  bool any = false;

  for (size_t i = 0; i < self->n_cups; i++)
    {
      const CoreRoundCup *cup = &self->cups[i];
      Token token = { .text = cup->number, .length = strlen (cup->number) };
      long value = number_value (&token);

      if (!cup->living_single || token.length == 0 || value < first || value > last)
        continue;
      any = true;
      add_exception (self, cup->number, start, length);
    }
  if (!any)
    add_problem (self, CORE_ROUND_NO_SUCH_NUMBER, start, length);
}

static void
parse_range (Parser *self)
{
  const Token *from = &self->tokens.v[self->at], *to = from + 2;
  size_t length = to->start + to->length - from->start;
  long first = number_value (from), last = number_value (to);

  self->at += 3;
  if (first < 0 || last < first)
    add_problem (self, CORE_ROUND_BAD_VALUE, from->start, length);
  else
    add_range (self, first, last, from->start, length);
}

static bool
at_range (const Parser *self)
{
  return self->at + 2 < self->tokens.n && self->tokens.v[self->at + 1].kind == TOKEN_DASH &&
         self->tokens.v[self->at + 2].kind == TOKEN_NUMBER;
}

/* Numbers and ranges with commas and fillers between; how many tokens they took. */
static size_t
parse_numbers (Parser *self)
{
  size_t before = self->at;

  for (;;)
    {
      size_t mark = self->at;

      if (self->at > before && at_kind (self, TOKEN_COMMA))
        self->at++;
      skip_fillers (self);
      if (!at_kind (self, TOKEN_NUMBER))
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

/* 1…5 after "belly". */
static int
parse_score (Parser *self)
{
  long value;

  skip_fillers (self);
  if (!at_kind (self, TOKEN_NUMBER))
    {
      problem_here (self, CORE_ROUND_EXPECT_VALUE);
      return 0;
    }
  value = self->tokens.v[self->at].length == 1 ? number_value (&self->tokens.v[self->at]) : 0;
  if (value < 1 || value > 5)
    problem_here (self, CORE_ROUND_BAD_VALUE);
  self->at++;
  return (int) value;
}

static int
parse_moult (Parser *self)
{
  unsigned allowed = ROUND_WORD (CORE_WORD_FELL) | ROUND_WORD (CORE_WORD_STUCK);
  MatchResult result;

  if (match_here (self, allowed, &result) != MATCH_ONE)
    return -1;
  self->at += result.n_tokens;
  return result.word == CORE_WORD_FELL ? CORE_MOULT_FELL : CORE_MOULT_STUCK;
}

/* Does "[2] moths" stand at token `at`? Not where the word may be an outcome, then
 * the number is a cup's, nor without a number where it may be "except". */
static bool
prey_follows (const Parser *self, size_t at)
{
  Parser ahead = *self;
  unsigned others = ROUND_OUTCOMES;
  MatchResult result;

  ahead.at = at;
  skip_fillers (&ahead);
  if (at_kind (&ahead, TOKEN_NUMBER))
    {
      ahead.at++;
      skip_fillers (&ahead);
    }
  else
    others |= ROUND_WORD (CORE_WORD_EXCEPT);
  return match_here (&ahead, ROUND_WORD (CORE_WORD_PREY), &result) != MATCH_NONE &&
         match_here (&ahead, others, &result) == MATCH_NONE && result.n_candidates == 0;
}

/* "Fed" comes last: a beginning that it shares with another outcome means that one,
 * unless a prey follows ("given" is a beginning of "given away", "given 2 moths" not). */
static Match
match_outcome (const Parser *self, MatchResult *result)
{
  MatchResult fed;
  Match match = match_here (self, ROUND_OUTCOMES | ROUND_WORD (CORE_WORD_FED), result);

  if (match != MATCH_NONE && prey_follows (self, self->at + result->n_tokens))
    return match;
  match = match_here (self, ROUND_OUTCOMES, result);
  if (match == MATCH_NONE && match_here (self, ROUND_WORD (CORE_WORD_FED), &fed) == MATCH_ONE)
    {
      *result = fed;
      match = MATCH_ONE;
    }
  return match;
}

/* The prey of one cup after took, refused or fed; left as it is where none follows. */
static void
parse_own_prey (Parser *self, CoreRoundWord outcome, CoreRoundAction *own)
{
  if (prey_follows (self, self->at))
    {
      skip_fillers (self);
      if (at_kind (self, TOKEN_NUMBER))
        parse_count (self, own);
      parse_prey (self, own, true);
    }
  else if (outcome == CORE_WORD_FED && at_kind (self, TOKEN_NUMBER) &&
           self->at + 1 == self->tokens.n)
    {
      self->at++;
      problem_here (self, CORE_ROUND_EXPECT_PREY);
    }
}

/* Outcome of the exceptions from `first` on; false when there was none. */
static bool
parse_outcome (Parser *self, size_t first)
{
  CoreRoundLine *out = self->out;
  CoreRoundAction own = { .prey = -1 };
  MatchResult result;
  Match match;
  int code = -1, value = 0;

  skip_fillers (self);
  match = match_outcome (self, &result);
  if (match != MATCH_ONE)
    {
      problem_word (self, match, &result, CORE_ROUND_EXPECT_OUTCOME);
      return false;
    }
  self->at += result.n_tokens;
  if ((ROUND_WORD (result.word) & ROUND_FOOD) != 0)
    parse_own_prey (self, result.word, &own);
  else if (result.word == CORE_WORD_BELLY)
    value = parse_score (self);
  else if (result.word == CORE_WORD_MOULTED)
    code = parse_moult (self);
  else if (result.word == CORE_WORD_SIGN)
    code = result.code;
  for (size_t i = first; i < out->n_exceptions; i++)
    {
      out->exceptions[i].outcome = result.word;
      out->exceptions[i].code = code;
      out->exceptions[i].value = value;
      out->exceptions[i].prey = own.prey;
      out->exceptions[i].n = own.n;
    }
  return true;
}

static void
parse_exceptions (Parser *self)
{
  for (;;)
    {
      size_t first = self->out->n_exceptions;

      while (at_kind (self, TOKEN_COMMA) || at_kind (self, TOKEN_SEMICOLON) ||
             take_word (self, CORE_WORD_EXCEPT) || take_word (self, CORE_WORD_AT))
        self->at += at_kind (self, TOKEN_COMMA) || at_kind (self, TOKEN_SEMICOLON);
      if (at_end (self))
        return;
      if (parse_numbers (self) == 0)
        problem_here (self, CORE_ROUND_EXPECT_NUMBER);
      else if (parse_outcome (self, first))
        continue;
      self->out->n_exceptions = first;
      skip_to_separator (self);
    }
}

/* ---- the line as a whole ---- */

/* "5 refused moths; 5 ate 2 hydei": two meals, each with its own prey. */
static bool
two_meals (const CoreRoundException *a, const CoreRoundException *b)
{
  return (ROUND_WORD (a->outcome) & ROUND_FOOD) != 0 &&
         (ROUND_WORD (b->outcome) & ROUND_FOOD) != 0 && a->prey >= 0 && b->prey >= 0 &&
         a->prey != b->prey;
}

static bool
exclude_each_other (const CoreRoundException *a, const CoreRoundException *b)
{
  unsigned words = ROUND_WORD (a->outcome) | ROUND_WORD (b->outcome);
  unsigned food = ROUND_FOOD | ROUND_WORD (CORE_WORD_MOULTED);

  if ((words & ENDING_WORDS) != 0)
    return true;
  if (two_meals (a, b))
    return false;
  if (a->outcome == b->outcome)
    return a->outcome != CORE_WORD_SIGN || a->code == b->code;
  return (ROUND_WORD (a->outcome) & food) != 0 && (ROUND_WORD (b->outcome) & food) != 0;
}

static void
check_twice (Parser *self)
{
  const CoreRoundException *v = self->out->exceptions;

  for (size_t i = 1; i < self->out->n_exceptions; i++)
    for (size_t k = 0; k < i; k++)
      if (strcmp (v[i].number, v[k].number) == 0 && exclude_each_other (&v[i], &v[k]))
        {
          add_problem (self, CORE_ROUND_TWICE, v[i].start, v[i].length);
          break;
        }
}

/* A cup's number at the beginning: a line of exceptions only. "2 hydei" begins a feeding. */
static bool
exceptions_only (const Parser *self)
{
  MatchResult prey;

  return at_kind (self, TOKEN_NUMBER) && food_first (self, &prey) == 0 &&
         !prey_follows (self, self->at);
}

static void
parse_line (Parser *self)
{
  if (self->tokens.n == 0)
    {
      add_problem (self, CORE_ROUND_EMPTY, 0, 0);
      return;
    }
  if (parse_opening (self) || !exceptions_only (self))
    {
      bool more = parse_actions (self);

      if (self->out->n_actions == 0 && self->out->n_problems == 0)
        problem_here (self, CORE_ROUND_EXPECT_ACTION);
      if (!more)
        return;
    }
  parse_exceptions (self);
  check_twice (self);
}

CoreStatus
core_round_parse (const char *line,
                  const CoreRoundTerm *terms,
                  size_t n_terms,
                  const CoreRoundCup *cups,
                  size_t n_cups,
                  CoreRoundLine *out)
{
  Parser self = { .terms = terms, .n_terms = n_terms, .cups = cups, .n_cups = n_cups, .out = out };
  const char *end = memchr (line, '\0', ROUND_MAX_BYTES + 1);

  *out = (CoreRoundLine){ .opening = CORE_WORD_ALL };
  if (end == NULL)
    {
      add_problem (&self, CORE_ROUND_TOO_LONG, ROUND_MAX_BYTES, 0);
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
  return out->n_problems > 0 ? CORE_BAD_INPUT : CORE_OK;
}

void
core_round_line_clear (CoreRoundLine *self)
{
  free (self->exceptions);
  *self = (CoreRoundLine){ 0 };
}
