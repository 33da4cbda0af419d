/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-round-line.c — a round as a keeper would type it: the parser's opposite.
 *
 * Full words of the vocabulary only, so that the line is read as it was meant; tests read every
 * word of every language back.
 */
#include <string.h>

#include "words/words-private.h"

static void
add_word (GString *text, WordsLang lang, CoreRoundWord word, int code)
{
  g_autofree char *said = words_round_word (lang, word, code);

  g_string_append_printf (text, "%s%s",
                          text->len > 0 && text->str[text->len - 1] != ' ' ? " " : "", said);
}

static void
add_prey (GString *text, WordsLang lang, int prey, int n)
{
  g_autofree char *said = NULL;

  if (prey < 0)
    return;
  said = words_prey (lang, prey, 0);
  if (n > 0)
    g_string_append_printf (text, " %d", n);
  if (n == 1)
    g_string_append_printf (text, " %s", words_prey_one (lang, prey));
  else
    g_string_append_printf (text, " %s", said);
}

static void
add_action (GString *text, WordsLang lang, const CoreRoundAction *action)
{
  add_word (text, lang, action->action, -1);
  add_prey (text, lang, action->prey, action->n);
}

/* ---- one outcome ---- */

static void
add_moult (GString *text, WordsLang lang, const CoreRoundException *said)
{
  static const CoreRoundWord outcomes[] = {
    [CORE_MOULT_GOOD] = CORE_WORD_GOOD,
    [CORE_MOULT_FELL] = CORE_WORD_FELL,
    [CORE_MOULT_STUCK] = CORE_WORD_STUCK,
    [CORE_MOULT_LIMB] = CORE_WORD_LIMB,
  };

  add_word (text, lang, CORE_WORD_MOULTED, -1);
  if (said->code >= 0 && said->code < (int) G_N_ELEMENTS (outcomes))
    add_word (text, lang, outcomes[said->code], -1);
  if (said->to != CORE_SEEN_UNKNOWN)
    add_word (text, lang, CORE_WORD_STAGE, said->to);
}

static void
add_day (GString *text, WordsLang lang, int days_back, int weekday)
{
  if (days_back <= 0)
    return;
  if (days_back <= 2)
    add_word (text, lang, CORE_WORD_DAY, days_back);
  else
    add_word (text, lang, CORE_WORD_WEEKDAY, (weekday - days_back + 14) % 7);
}

static void
add_outcome (GString *text, WordsLang lang, const CoreRoundException *said, int weekday)
{
  switch ((int) said->outcome)
    {
    case CORE_WORD_MOULTED:
      add_moult (text, lang, said);
      break;
    case CORE_WORD_BELLY:
      add_word (text, lang, CORE_WORD_BELLY, -1);
      g_string_append_printf (text, " %d", said->value);
      break;
    case CORE_WORD_SIGN:
      add_word (text, lang, CORE_WORD_SIGN, said->code);
      break;
    case CORE_WORD_LEFT:
      add_word (text, lang, CORE_WORD_LEFT, said->code + 1);
      break;
    default:
      add_word (text, lang, said->outcome, -1);
      add_prey (text, lang, said->prey, said->n);
    }
  add_day (text, lang, said->days_back, weekday);
}

/* ---- exceptions ---- */

static gboolean
says_the_same (const CoreRoundException *a, const CoreRoundException *b)
{
  return a->outcome == b->outcome && a->code == b->code && a->value == b->value &&
         a->prey == b->prey && a->n == b->n && a->to == b->to && a->days_back == b->days_back &&
         !a->lot && !b->lot;
}

/* Said already, with one before it? */
static gboolean
is_said (const CoreRoundLine *line, gsize i)
{
  const CoreRoundException *one = &line->exceptions[i];

  for (gsize k = 0; k < i; k++)
    {
      const CoreRoundException *before = &line->exceptions[k];

      if (one->outcome == CORE_WORD_SWAP
            ? before->outcome == CORE_WORD_SWAP && strcmp (before->number, one->other) == 0
            : says_the_same (before, one))
        return TRUE;
    }
  return FALSE;
}

static void
add_lot (GString *text, WordsLang lang, const CoreRoundLine *line, const CoreRoundException *said)
{
  if (line->opening.lot < 0)
    g_string_append (text, said->number);
  if (said->about)
    add_word (text, lang, CORE_WORD_ABOUT, -1);
  g_string_append_printf (text, "%s%d",
                          text->len > 0 && text->str[text->len - 1] != ' ' ? " " : "", said->n);
  add_word (text, lang, said->outcome, -1);
}

static void
add_exception (GString *text, WordsLang lang, const CoreRoundLine *line, gsize i, int weekday)
{
  const CoreRoundException *said = &line->exceptions[i];

  if (said->lot)
    {
      add_lot (text, lang, line, said);
      return;
    }
  if (said->outcome == CORE_WORD_SWAP)
    {
      add_word (text, lang, CORE_WORD_SWAP, -1);
      g_string_append_printf (text, " %s %s", said->number, said->other);
      return;
    }
  g_string_append (text, said->number);
  for (gsize k = i + 1; k < line->n_exceptions; k++)
    if (says_the_same (&line->exceptions[k], said))
      g_string_append_printf (text, " %s", line->exceptions[k].number);
  add_outcome (text, lang, said, weekday);
}

/* "all" says no more than nothing. */
static gboolean
narrows (const CoreRoundOpening *opening)
{
  return opening->due || opening->species >= 0 || opening->pot >= 0 || opening->moults >= 0 ||
         opening->seen != CORE_SEEN_UNKNOWN || opening->lot >= 0;
}

char *
words_round_line (WordsLang lang, const CoreRoundLine *line, const char *typed, int weekday)
{
  g_autoptr (GString) text = g_string_new (NULL);
  gsize start = MIN (line->opening.start, strlen (typed));
  gsize length = MIN (line->opening.length, strlen (typed) - start);
  gboolean opened = length > 0 && narrows (&line->opening) &&
                    (line->n_actions > 0 || line->opening.lot >= 0);
  gboolean any = line->n_actions > 0;

  if (opened)
    {
      g_string_append_len (text, typed + start, (gssize) length);
      g_string_append (text, ": ");
    }
  for (gsize i = 0; i < line->n_actions; i++)
    {
      g_string_append (text, i > 0 ? ", " : "");
      add_action (text, lang, &line->actions[i]);
    }
  for (gsize i = 0; i < line->n_exceptions; i++)
    {
      if (is_said (line, i))
        continue;
      g_string_append (text, any ? "; " : "");
      add_exception (text, lang, line, i, weekday);
      any = TRUE;
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}
