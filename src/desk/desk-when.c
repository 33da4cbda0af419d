/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-when.c — reads a day as a keeper says it, as a span with the day that was said.
 *
 * A word is taken by its unique beginning among those that can stand at its place:
 * "mo" alone is Monday, after a number it is months. */
#include "desk/desk-when.h"

#include <string.h>

#include "core/core-date.h"
#include "words/words-when.h"

#define MAX_TOKENS 8
#define MAX_BYTES 64
#define OLDEST_DAYS 7305 /* 20 years */

/* How vague a day is, in days either way (ours). A day or weekday by name is that day; from a
 * week on a number of days is said to a seventh of it, weeks to half a week at least, months
 * to a week at least; "about" widens each to a quarter, to these days at least. */
enum
{
  ABOUT_DAY = 2,
  ABOUT_WEEKS = 3,
  ABOUT_MONTHS = 10,
  PLAIN_WEEKS = 3,
  PLAIN_MONTHS = 7
};

typedef struct
{
  gboolean number;
  int value; /* of a number, below a million; two digits or more of a year */
  guint digits;
  char text[MAX_BYTES]; /* of a word, folded */
} Token;

typedef struct
{
  Token tokens[MAX_TOKENS];
  guint n, at;
  gboolean about, ago;
  CoreDay today;
  DeskWhen *out;
} Reader;

/* ---- tokens ---- */

static gboolean
add_token (Reader *self, const char *from, gsize length, gboolean number)
{
  Token *token = &self->tokens[self->n];

  if (self->n == MAX_TOKENS || length >= sizeof token->text || (number && length > 6))
    return FALSE;
  memset (token, 0, sizeof *token);
  memcpy (token->text, from, length);
  token->number = number;
  token->digits = (guint) length;
  if (number)
    token->value = (int) g_ascii_strtoll (token->text, NULL, 10);
  self->n++;
  return TRUE;
}

/* Numbers and words; a dot, a comma, a stroke or a dash between them is only a gap. */
static gboolean
split (Reader *self, const char *text)
{
  for (const char *p = text; *p != '\0';)
    {
      const char *from = p;
      gboolean number = g_ascii_isdigit (*p);

      if (number)
        while (g_ascii_isdigit (*p))
          p++;
      else if (g_unichar_isalpha (g_utf8_get_char (p)))
        while (*p != '\0' && g_unichar_isalpha (g_utf8_get_char (p)))
          p = g_utf8_next_char (p);
      else if (strchr (" .,/-", *p) != NULL)
        {
          p++;
          continue;
        }
      else
        return FALSE;
      if (!add_token (self, from, (gsize) (p - from), number))
        return FALSE;
    }
  return TRUE;
}

/* ---- words ---- */

#define MAY(word) (1u << (word))

/* The one meaning, of those in `may`, that a word is or begins. */
static DeskWhenStatus
meaning (const char *text, guint may, const WordsWhenTerm **out)
{
  gsize n;
  const WordsWhenTerm *terms = words_when_terms (&n);

  *out = NULL;
  for (gsize i = 0; i < n; i++)
    if ((may & MAY (terms[i].word)) != 0 && strcmp (terms[i].text, text) == 0)
      {
        *out = &terms[i];
        return DESK_WHEN_OK;
      }
  for (gsize i = 0; i < n; i++)
    {
      if ((may & MAY (terms[i].word)) == 0 || !g_str_has_prefix (terms[i].text, text))
        continue;
      if (*out != NULL && ((*out)->word != terms[i].word || (*out)->code != terms[i].code))
        return DESK_WHEN_AMBIGUOUS;
      *out = &terms[i];
    }
  return *out != NULL ? DESK_WHEN_OK : DESK_WHEN_NO_DAY;
}

static const Token *
peek (const Reader *self, guint ahead)
{
  return self->at + ahead < self->n ? &self->tokens[self->at + ahead] : NULL;
}

/* Passes one word when it means that exactly: no beginnings, so that "a" stays open. */
static gboolean
pass (Reader *self, WordsWhen word)
{
  const Token *token = peek (self, 0);
  gsize n;
  const WordsWhenTerm *terms = words_when_terms (&n);

  for (gsize i = 0; token != NULL && !token->number && i < n; i++)
    if (terms[i].word == word && strcmp (terms[i].text, token->text) == 0)
      {
        self->at++;
        return TRUE;
      }
  return FALSE;
}

/* ---- spans ---- */

static DeskWhenStatus
answer (Reader *self, gint64 said, gint64 less, gint64 more)
{
  if (said > self->today)
    return DESK_WHEN_FUTURE;
  if (self->today - said > OLDEST_DAYS)
    return DESK_WHEN_TOO_OLD;
  self->out->said = (CoreDay) said;
  self->out->earliest = (CoreDay) (said - less);
  self->out->latest = (CoreDay) MIN (said + more, self->today);
  return DESK_WHEN_OK;
}

static DeskWhenStatus
named_day (Reader *self, gint64 day)
{
  gint64 vague = self->about ? ABOUT_DAY : 0;

  return answer (self, day, vague, vague);
}

static DeskWhenStatus
ago (Reader *self, int n, int unit)
{
  gint64 days = unit == 30 ? ((gint64) n * 304 + 5) / 10 : (gint64) n * unit;
  gint64 vague = days / (self->about ? 4 : 7);

  if (unit == 30)
    vague = MAX (vague, self->about ? ABOUT_MONTHS : PLAIN_MONTHS);
  else if (unit == 7)
    vague = MAX (vague, self->about ? ABOUT_WEEKS : PLAIN_WEEKS);
  else if (self->about)
    vague = MAX (vague, ABOUT_DAY);
  return answer (self, self->today - days, vague, vague);
}

static DeskWhenStatus
weekday (Reader *self, int day, gboolean last)
{
  int back = (core_day_weekday (self->today) - day + 7) % 7;

  return named_day (self, self->today - (back == 0 && last ? 7 : back));
}

static int
full_year (const Token *year)
{
  return year->digits <= 2 ? 2000 + year->value : year->value;
}

/* Without its year: the latest such day that is not to come. */
static DeskWhenStatus
month_day (Reader *self, int day, int month, const Token *year)
{
  int this_year, m, d;
  CoreDay found;

  core_day_to_ymd (self->today, &this_year, &m, &d);
  if (year != NULL)
    {
      found = core_day_from_ymd (full_year (year), month, day);
      return found == CORE_DAY_NONE ? DESK_WHEN_NO_DAY : named_day (self, found);
    }
  for (int back = 0; back <= 8; back++) /* 29 February may be long ago */
    {
      found = core_day_from_ymd (this_year - back, month, day);
      if (found != CORE_DAY_NONE && found <= self->today)
        return named_day (self, found);
    }
  return DESK_WHEN_NO_DAY;
}

/* "November": some day of it. */
static DeskWhenStatus
whole_month (Reader *self, int month, const Token *year)
{
  int this_year, m, d;
  CoreDay first, last;

  core_day_to_ymd (self->today, &this_year, &m, &d);
  if (year != NULL)
    this_year = full_year (year);
  else if (month > m)
    this_year--;
  first = core_day_from_ymd (this_year, month, 1);
  last = core_day_from_ymd (month == 12 ? this_year + 1 : this_year, month % 12 + 1, 1);
  if (first == CORE_DAY_NONE || last == CORE_DAY_NONE)
    return DESK_WHEN_NO_DAY;
  last = MIN (last - 1, MAX (self->today, first));
  return answer (self, first + (last - first) / 2, (last - first) / 2,
                 last - (first + (last - first) / 2));
}

/* ---- forms ---- */

static const Token *
year_at (Reader *self)
{
  const Token *token = peek (self, 0);

  if (token == NULL || !token->number || (token->digits != 2 && token->digits != 4))
    return NULL;
  self->at++;
  return token;
}

/* 10 Nov [2026], 3 weeks, 10 d. */
static DeskWhenStatus
number_word (Reader *self, int n)
{
  const WordsWhenTerm *term;
  DeskWhenStatus status =
    meaning (peek (self, 0)->text, MAY (WORDS_WHEN_UNIT) | MAY (WORDS_WHEN_MONTH), &term);

  if (status != DESK_WHEN_OK)
    return status;
  self->at++;
  if (term->word == WORDS_WHEN_MONTH)
    return month_day (self, n, term->code, year_at (self));
  pass (self, WORDS_WHEN_AGO);
  return n > 10000 ? DESK_WHEN_TOO_OLD : ago (self, n, term->code);
}

/* 10.11. [2026]; 10/11 may be either way round, 10.11. may not. */
static DeskWhenStatus
number_number (Reader *self, int n, gboolean dotted)
{
  int other = peek (self, 0)->value;

  self->at++;
  if (dotted || n > 12)
    return month_day (self, n, other, year_at (self));
  if (other > 12)
    return month_day (self, other, n, year_at (self));
  return other == n ? month_day (self, n, n, year_at (self)) : DESK_WHEN_AMBIGUOUS;
}

static DeskWhenStatus
read_number (Reader *self, gboolean dotted)
{
  const Token *token = peek (self, 0);
  const Token *next = peek (self, 1);

  if (token->digits == 4 && next != NULL && next->number && peek (self, 2) != NULL &&
      peek (self, 2)->number)
    {
      self->at += 3;
      return month_day (self, self->tokens[self->at - 1].value, next->value, token);
    }
  if (token->digits == 4 && next != NULL && next->number && next->digits <= 2)
    {
      self->at += 2; /* 2026-05: some day of May */
      return whole_month (self, next->value, token);
    }
  self->at++;
  if (token->digits > 4)
    return DESK_WHEN_NO_DAY;
  if (next == NULL)
    return ago (self, token->value, 1);
  return next->number ? number_number (self, token->value, dotted)
                      : number_word (self, token->value);
}

/* Nov 10 [2026], November [2026]. */
static DeskWhenStatus
read_month (Reader *self, int month)
{
  const Token *next = peek (self, 0);
  int day;

  if (next == NULL || !next->number || next->digits == 4)
    return whole_month (self, month, next != NULL && next->number ? year_at (self) : NULL);
  day = next->value;
  self->at++;
  return month_day (self, day, month, year_at (self));
}

static DeskWhenStatus
read_word (Reader *self, gboolean last)
{
  const WordsWhenTerm *term;
  guint may = MAY (WORDS_WHEN_WEEKDAY) | MAY (WORDS_WHEN_MONTH);
  DeskWhenStatus status;

  may |= last ? MAY (WORDS_WHEN_UNIT) : MAY (WORDS_WHEN_TODAY) | MAY (WORDS_WHEN_UNKNOWN);
  if (peek (self, 1) != NULL)
    may |= MAY (WORDS_WHEN_COUNT);
  status = meaning (peek (self, 0)->text, may, &term);
  if (status != DESK_WHEN_OK)
    return status;
  self->at++;
  switch (term->word)
    {
    case WORDS_WHEN_TODAY:
      return named_day (self, self->today - term->code);
    case WORDS_WHEN_WEEKDAY:
      return weekday (self, term->code, last);
    case WORDS_WHEN_MONTH:
      return read_month (self, term->code);
    case WORDS_WHEN_COUNT:
      return peek (self, 0)->number ? DESK_WHEN_NO_DAY : number_word (self, term->code);
    case WORDS_WHEN_UNIT:
      return ago (self, 1, term->code);
    case WORDS_WHEN_UNKNOWN:
      return DESK_WHEN_OK;
    default:
      return DESK_WHEN_NO_DAY;
    }
}

static DeskWhenStatus
read_day (Reader *self, gboolean dotted)
{
  gboolean last = FALSE, more = TRUE;
  DeskWhenStatus status;

  while (more)
    {
      gboolean about = pass (self, WORDS_WHEN_ABOUT);
      gboolean says_last = pass (self, WORDS_WHEN_LAST);

      self->about |= about;
      last |= says_last;
      more = about || says_last || pass (self, WORDS_WHEN_AGO) || pass (self, WORDS_WHEN_SKIP);
    }
  if (peek (self, 0) == NULL)
    return DESK_WHEN_NO_DAY;
  status = peek (self, 0)->number ? read_number (self, dotted) : read_word (self, last);
  if (status == DESK_WHEN_OK && self->at < self->n)
    return DESK_WHEN_NO_DAY;
  return status;
}

/* "10.11." and "10. November" are written day first. */
static gboolean
dot_after_digit (const char *text)
{
  for (const char *p = text; p[0] != '\0'; p++)
    if (g_ascii_isdigit (p[0]) && p[1] == '.')
      return TRUE;
  return FALSE;
}

DeskWhenStatus
desk_when_parse (const char *text, CoreDay today, DeskWhen *out)
{
  g_autofree char *folded = NULL;
  Reader self = { .today = today, .out = out };
  const char *from;
  DeskWhenStatus status;

  *out = (DeskWhen){ CORE_DAY_NONE, CORE_DAY_NONE, CORE_DAY_NONE };
  if (strlen (text) >= MAX_BYTES)
    return DESK_WHEN_NO_DAY;
  folded = g_utf8_casefold (text, -1);
  from = g_strstrip (folded);
  if (from[0] == '~')
    {
      self.about = TRUE;
      from++;
    }
  if (from[0] == '\0' || strcmp (from, "?") == 0 || strcmp (from, "-") == 0 ||
      strcmp (from, "–") == 0)
    return DESK_WHEN_OK;
  if (!split (&self, from))
    return DESK_WHEN_NO_DAY;
  status = read_day (&self, dot_after_digit (from));
  if (status != DESK_WHEN_OK)
    *out = (DeskWhen){ CORE_DAY_NONE, CORE_DAY_NONE, CORE_DAY_NONE };
  return status;
}

/* A word, or two numbers. */
static gboolean
says_a_day (const char *text)
{
  guint numbers = 0;

  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    {
      if (g_unichar_isalpha (g_utf8_get_char (p)))
        return TRUE;
      if (g_ascii_isdigit (p[0]) && !g_ascii_isdigit (p[1]))
        numbers++;
    }
  return numbers > 1;
}

gboolean
desk_when_days (const char *text, CoreDay today, DeskWhen *out)
{
  CoreDay day = core_day_from_text (text);

  *out = (DeskWhen){ day, day, day };
  if (day != CORE_DAY_NONE)
    return TRUE;
  return g_utf8_validate (text, -1, NULL) && says_a_day (text) &&
         desk_when_parse (text, today, out) == DESK_WHEN_OK && out->said != CORE_DAY_NONE;
}

void
desk_when_span (const DeskWhen *when, CoreKind kind, CoreDay *day, CoreDay *earliest)
{
  *day = kind == CORE_KIND_FED ? when->said : when->latest;
  if (*earliest == CORE_DAY_NONE && when->earliest < when->latest)
    *earliest = when->earliest;
}

CoreDay
desk_when_day (const char *text, CoreDay today)
{
  DeskWhen when;

  return desk_when_days (text, today, &when) && when.earliest == when.latest ? when.said
                                                                             : CORE_DAY_NONE;
}

/* What is today, and was a week before yesterday when it was not: only the name of a weekday. */
gboolean
desk_when_is_todays_weekday (const char *text, CoreDay today)
{
  return desk_when_day (text, today) == today && desk_when_day (text, today - 1) == today - 7;
}
