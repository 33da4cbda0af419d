/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-round-open.c — whom a round line speaks of.
 *
 * Most lines begin with what was done, so a beginning that a kind shares with an action
 * means the action, unless a colon follows; where an action follows at once, it is asked.
 */
#include "core/core-round-private.h"

#include <string.h>

#define MAX_L_NUMBER (CORE_MAX_MOULTS + 2)

static void
cover (RoundParser *self, size_t first)
{
  CoreRoundOpening *opening = &self->out->opening;
  const Token *from = &self->tokens.v[first], *to = &self->tokens.v[self->at - 1];

  if (opening->length == 0)
    opening->start = from->start;
  opening->length = to->start + to->length - opening->start;
}

/* ---- stages ---- */

/* "L4", "l4+"; the number, or -1; *up for the '+'. */
static int
l_number (const RoundParser *self, bool *up)
{
  const Token *token = self->at < self->tokens.n ? &self->tokens.v[self->at] : NULL;
  size_t i = 1;
  int number = 0;

  if (token == NULL || token->kind != TOKEN_WORD || token->length < 2 ||
      (token->text[0] != 'l' && token->text[0] != 'L'))
    return -1;
  for (; i < token->length && token->text[i] >= '0' && token->text[i] <= '9' && i < 4; i++)
    number = number * 10 + (token->text[i] - '0');
  *up = i + 1 == token->length && token->text[i] == '+';
  return i > 1 && (i == token->length || *up) ? number : -1;
}

/* "up", "and up": fillers count only when it follows. */
static bool
take_up (RoundParser *self)
{
  size_t before = self->at;

  if (round_take_word (self, CORE_WORD_UP))
    return true;
  round_skip_fillers (self);
  if (round_take_word (self, CORE_WORD_UP))
    return true;
  self->at = before;
  return false;
}

static bool
parse_l_number (RoundParser *self)
{
  CoreRoundOpening *opening = &self->out->opening;
  size_t first = self->at;
  bool up = false, from = round_take_word (self, CORE_WORD_FROM);
  int number = l_number (self, &up);

  if (number < 0)
    {
      self->at = first;
      return false;
    }
  if (number < self->shelf->scheme || number > MAX_L_NUMBER)
    round_problem_here (self, CORE_ROUND_EXPECT_STAGE);
  else
    opening->moults = number - self->shelf->scheme;
  self->at++;
  opening->up = take_up (self) || up || from;
  cover (self, first);
  return true;
}

/* ---- pots ---- */

/* "house flies:", with its colon. */
static bool
parse_pot (RoundParser *self)
{
  MatchResult result;
  Match match = round_match_here (self, ROUND_WORD (CORE_WORD_PREY), &result);
  size_t after = self->at + result.n_tokens;

  if (match == MATCH_NONE || after >= self->tokens.n || self->tokens.v[after].kind != TOKEN_COLON)
    return false;
  if (match == MATCH_SEVERAL)
    round_problem_word (self, match, &result, CORE_ROUND_EXPECT_PREY);
  else
    self->out->opening.pot = result.code;
  self->at = after;
  cover (self, after - result.n_tokens);
  return true;
}

/* ---- words ---- */

static bool
colon_after (const RoundParser *self, size_t n_tokens)
{
  size_t at = self->at + n_tokens;

  return at < self->tokens.n && self->tokens.v[at].kind == TOKEN_COLON;
}

static bool
action_after (const RoundParser *self, size_t n_tokens)
{
  RoundParser ahead = *self;
  MatchResult result;

  ahead.at += n_tokens;
  return round_match_here (&ahead, ROUND_ACTIONS, &result) != MATCH_NONE ||
         round_food_first (&ahead, &result) > 0;
}

/* "dead" may begin the name of a kind; with nothing after it that was done it is the word itself. */
static bool
is_an_outcome (const RoundParser *self, const MatchResult *opening)
{
  MatchResult result;

  return opening->word == CORE_WORD_SPECIES && !colon_after (self, opening->n_tokens) &&
         !action_after (self, opening->n_tokens) &&
         round_match_here (self, ROUND_OUTCOMES, &result) == MATCH_ONE &&
         strlen (result.candidates[0]) == self->tokens.v[self->at].length;
}

/* The opening word at this token; MATCH_SEVERAL asks. */
static Match
match_opening (const RoundParser *self, MatchResult *result)
{
  Match match = round_match_here (self, ROUND_OPENINGS | ROUND_ACTIONS, result);
  bool action = (result->all & ROUND_ACTIONS) != 0;

  if (match == MATCH_NONE || (result->all & ROUND_OPENINGS) == 0 ||
      (match == MATCH_ONE && is_an_outcome (self, result)))
    return MATCH_NONE;
  if (match == MATCH_ONE || !action)
    return match;
  if (colon_after (self, result->n_tokens))
    return round_match_here (self, ROUND_OPENINGS, result);
  return action_after (self, result->n_tokens) ? MATCH_SEVERAL : MATCH_NONE;
}

static void
apply (RoundParser *self, const MatchResult *result)
{
  CoreRoundOpening *opening = &self->out->opening;

  switch ((int) result->word)
    {
    case CORE_WORD_DUE:
      opening->due = true;
      break;
    case CORE_WORD_SPECIES:
      opening->species = result->code;
      break;
    case CORE_WORD_LOT:
      opening->lot = result->code;
      break;
    case CORE_WORD_STAGE:
      opening->seen = (CoreSeenStage) result->code;
      opening->up = take_up (self);
      break;
    default:
      break;
    }
}

static bool
parse_word (RoundParser *self)
{
  MatchResult result;
  Match match = match_opening (self, &result);
  size_t first = self->at;

  if (match == MATCH_NONE)
    return false;
  if (match == MATCH_SEVERAL)
    round_problem_word (self, match, &result, CORE_ROUND_EXPECT_ACTION);
  self->at += result.n_tokens;
  if (match == MATCH_ONE)
    apply (self, &result);
  cover (self, first);
  return true;
}

/* Does it mean any cup of this shelf? What is due is worked out per action. */
static void
check_any (RoundParser *self)
{
  const CoreRoundOpening *opening = &self->out->opening;

  if (round_opening_is_all (opening) || self->out->n_problems > 0)
    return;
  for (size_t i = 0; i < self->shelf->n_cups; i++)
    {
      const CoreRoundCup *cup = &self->shelf->cups[i];

      if (opening->lot == (int) i || (cup->living_single && (round_opening_means (opening, cup) ||
                                                             round_opening_unsure (opening, cup))))
        return;
    }
  round_problem (self, CORE_ROUND_NO_CUP, opening->start, opening->length);
}

bool
round_parse_opening (RoundParser *self)
{
  bool any = false;

  do
    {
      round_skip_fillers (self);
      any = any || self->out->opening.length > 0;
    }
  while (parse_pot (self) || parse_l_number (self) || parse_word (self));
  check_any (self);
  return any;
}

/* ---- whom it means ---- */

bool
round_opening_is_all (const CoreRoundOpening *opening)
{
  return opening->species < 0 && opening->pot < 0 && opening->moults < 0 &&
         opening->seen == CORE_SEEN_UNKNOWN && opening->lot < 0;
}

static bool
apart_from_stage (const CoreRoundOpening *opening, const CoreRoundCup *cup)
{
  return opening->lot < 0 && (opening->species < 0 || cup->species == opening->species) &&
         (opening->pot < 0 || cup->usual_prey == opening->pot);
}

/* -1 = not known. An L-number is for nymphs; "and up" takes in what comes after. */
static int
stage_fits (const CoreRoundOpening *opening, const CoreRoundCup *cup)
{
  bool past = cup->adult || cup->maybe_adult || cup->subadult;
  bool unknown = !past && cup->moults < 0;

  if (opening->moults < 0 && opening->seen == CORE_SEEN_UNKNOWN)
    return 1;
  if (unknown)
    return opening->seen == CORE_SEEN_NYMPH && opening->up ? 1 : -1;
  if (opening->up && opening->moults >= 0)
    return past || cup->moults >= opening->moults;
  if (opening->up && opening->seen != CORE_SEEN_ADULT)
    return past || opening->seen == CORE_SEEN_NYMPH;
  if (cup->maybe_adult && !cup->adult)
    return -1;
  if (opening->moults >= 0)
    return cup->adult ? 0 : cup->moults < 0 ? -1 : cup->moults == opening->moults;
  return opening->seen == CORE_SEEN_ADULT      ? cup->adult
         : opening->seen == CORE_SEEN_SUBADULT ? cup->subadult && !cup->adult
                                               : !cup->adult;
}

bool
round_opening_means (const CoreRoundOpening *opening, const CoreRoundCup *cup)
{
  return apart_from_stage (opening, cup) && stage_fits (opening, cup) == 1;
}

bool
round_opening_unsure (const CoreRoundOpening *opening, const CoreRoundCup *cup)
{
  return apart_from_stage (opening, cup) && stage_fits (opening, cup) < 0;
}
