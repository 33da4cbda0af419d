/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-round-words.c — the round line cut into tokens, and its words found.
 *
 * Case: ASCII is folded here; the caller folds other letters of the line in
 * place, so that positions stay those of what was typed.
 */
#include "core/core-round-private.h"

#include <stdlib.h>
#include <string.h>

/* ---- tokens ---- */

static bool
is_digit (char c)
{
  return c >= '0' && c <= '9';
}

static char
lower (char c)
{
  return c >= 'A' && c <= 'Z' ? (char) (c - 'A' + 'a') : c;
}

static bool
is_letter (char c)
{
  return lower (c) >= 'a' && lower (c) <= 'z';
}

/* Bytes of white space at `at`. */
static size_t
space_at (const char *at, const char *end)
{
  if (*at == ' ' || *at == '\t' || *at == '\n' || *at == '\r')
    return 1;
  return end - at >= 2 && memcmp (at, "\xc2\xa0", 2) == 0 ? 2 : 0;
}

/* Bytes of a dash: hyphen-minus, or the en dash that some keyboards write. */
static size_t
dash_at (const char *at, const char *end)
{
  if (*at == '-')
    return 1;
  return end - at >= 3 && memcmp (at, "\xe2\x80\x93", 3) == 0 ? 3 : 0;
}

static size_t
word_length (const char *at, const char *end)
{
  const char *from = at;
  bool number = is_digit (*at);

  while (at < end && *at != ',' && *at != ';' && *at != ':' && space_at (at, end) == 0 &&
         !(number && dash_at (at, end) > 0))
    at++;
  /* A full stop at its end belongs to the sentence. */
  while (at - from > 1 && at[-1] == '.')
    at--;
  return (size_t) (at - from);
}

static bool
is_number (const char *text, size_t length)
{
  size_t digits = 0;

  while (digits < length && is_digit (text[digits]))
    digits++;
  return digits > 0 && (digits == length || (digits + 1 == length && is_letter (text[digits])));
}

static Token
next_token (const char *line, const char *at, const char *end)
{
  Token token = { .text = at, .start = (size_t) (at - line), .length = 1 };
  size_t dash = dash_at (at, end);

  if (*at == ',')
    token.kind = TOKEN_COMMA;
  else if (*at == ';')
    token.kind = TOKEN_SEMICOLON;
  else if (*at == ':')
    token.kind = TOKEN_COLON;
  else if (dash > 0)
    {
      token.kind = TOKEN_DASH;
      token.length = dash;
    }
  else
    {
      token.length = word_length (at, end);
      token.kind = is_number (at, token.length) ? TOKEN_NUMBER : TOKEN_WORD;
    }
  return token;
}

CoreStatus
round_tokens (const char *line, size_t length, TokenList *out)
{
  const char *at = line, *end = line + length;

  *out = (TokenList){ .v = malloc ((length + 1) * sizeof *out->v) };
  if (out->v == NULL)
    return CORE_NO_MEMORY;
  while (at < end)
    {
      size_t space = space_at (at, end);

      if (space == 0 && *at == '.' && (at + 1 == end || space_at (at + 1, end) > 0))
        space = 1;
      if (space > 0)
        {
          at += space;
          continue;
        }
      out->v[out->n] = next_token (line, at, end);
      at += out->v[out->n].length;
      out->n++;
    }
  return CORE_OK;
}

/* ---- words ---- */

/* Is the token a beginning of the term's word, up to its blank or end? *whole says
 * whether it is all of it; the length of the word in *length. A kind is also said of
 * several: "ghosts", "ghost mantises". */
static bool
begins (const Token *token, const CoreRoundTerm *term, const char *word, bool *whole, size_t *length)
{
  size_t n = token->length;

  *length = strcspn (word, " ");
  if (term->word == CORE_WORD_SPECIES && n > *length && lower (token->text[n - 1]) == 's')
    n -= n == *length + 2 && lower (token->text[n - 2]) == 'e' ? 2 : 1;
  if (token->kind != TOKEN_WORD || n > *length)
    return false;
  for (size_t i = 0; i < n; i++)
    if (lower (token->text[i]) != lower (word[i]))
      return false;
  *whole = n == *length;
  return true;
}

typedef struct
{
  size_t n_tokens;
  bool whole; /* every word of the term, in full */
} Fit;

static Fit
fit_term (const TokenList *tokens, size_t at, const CoreRoundTerm *term)
{
  Fit fit = { .n_tokens = 0, .whole = true };
  const char *word = term->text;

  while (*word != '\0' && at + fit.n_tokens < tokens->n)
    {
      bool whole;
      size_t length;

      if (!begins (&tokens->v[at + fit.n_tokens], term, word, &whole, &length))
        break;
      fit.whole = fit.whole && whole;
      fit.n_tokens++;
      word += length;
      word += *word == ' ';
    }
  fit.whole = fit.whole && *word == '\0';
  return fit;
}

/* Characters, not bytes. */
static size_t
letters (const Token *token)
{
  size_t n = 0;

  for (size_t i = 0; i < token->length; i++)
    n += ((unsigned char) token->text[i] & 0xc0) != 0x80;
  return n;
}

static bool
takes_away (CoreRoundWord word)
{
  return word == CORE_WORD_DEAD || word == CORE_WORD_LEFT || word == CORE_WORD_ESCAPED;
}

static bool
is_day (CoreRoundWord word)
{
  return word == CORE_WORD_DAY || word == CORE_WORD_WEEKDAY;
}

static void
add_candidate (MatchResult *out, const CoreRoundTerm *term)
{
  if (out->n_candidates == ROUND_CANDIDATES)
    return;
  out->codes[out->n_candidates] = term->code;
  out->candidates[out->n_candidates++] = term->text;
}

/* A term that fits as well as the best so far. */
static void
join_match (MatchResult *out, Match *match, const CoreRoundTerm *term)
{
  out->all |= ROUND_WORD (term->word);
  if (out->word == term->word && out->code == term->code)
    return;
  *match = MATCH_SEVERAL;
  add_candidate (out, term);
}

static bool
may_match (const CoreRoundTerm *term, RoundWords allowed, const Fit *fit, const Token *token)
{
  if ((allowed & ROUND_WORD (term->word)) == 0 || fit->n_tokens == 0)
    return false;
  if (term->word == CORE_WORD_AT || term->word == CORE_WORD_LOT)
    return fit->whole;
  return !is_day (term->word) || fit->whole || fit->n_tokens > 1 || letters (token) >= 3;
}

static MatchResult
first_match (const CoreRoundTerm *term, size_t n_tokens)
{
  MatchResult out = { .word = term->word,
                      .code = term->code,
                      .n_tokens = n_tokens,
                      .all = ROUND_WORD (term->word) };

  add_candidate (&out, term);
  return out;
}

Match
round_match (const TokenList *tokens,
             size_t at,
             RoundWords allowed,
             const CoreRoundTerm *terms,
             size_t n_terms,
             MatchResult *out)
{
  Fit best = { 0 };
  Match match = MATCH_NONE;
  MatchResult refused = { 0 };

  *out = (MatchResult){ 0 };
  if (at >= tokens->n || tokens->v[at].kind != TOKEN_WORD)
    return MATCH_NONE;
  for (size_t i = 0; i < n_terms; i++)
    {
      const CoreRoundTerm *term = &terms[i];
      Fit fit = fit_term (tokens, at, term);

      if (!may_match (term, allowed, &fit, &tokens->v[at]) || fit.n_tokens < best.n_tokens ||
          (fit.n_tokens == best.n_tokens && best.whole && !fit.whole))
        continue;
      if (takes_away (term->word) && fit.n_tokens == 1 && letters (&tokens->v[at]) < 2)
        {
          add_candidate (&refused, term);
          continue;
        }
      if (match != MATCH_NONE && fit.n_tokens == best.n_tokens && fit.whole == best.whole)
        {
          join_match (out, &match, term);
          continue;
        }
      match = MATCH_ONE;
      best = fit;
      *out = first_match (term, fit.n_tokens);
    }
  if (match == MATCH_NONE)
    *out = refused;
  return match;
}
