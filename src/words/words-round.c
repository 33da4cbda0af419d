/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-round.c — what is wrong in a round line, and what it will write. */
#include <string.h>

#include "words/words-private.h"

/* The piece of the line that a problem points at; NULL when it is empty. */
static char *
piece (const CoreRoundProblem *problem, const char *line)
{
  gsize all = strlen (line);
  gsize start = MIN (problem->start, all);
  gsize length = MIN (problem->length, all - start);

  return length == 0 ? NULL : g_utf8_make_valid (line + start, (gssize) length);
}

static const char *
problem_said (WordsLang lang, CoreRoundError error)
{
  static const WordsTerm table[] = {
    [CORE_ROUND_OK] = TERM ("round", "nothing is wrong"),
    [CORE_ROUND_EMPTY] =
      TERM ("round", "say what you did, such as: all fed 2 house flies; or of one cup: 14 refused"),
    [CORE_ROUND_UNKNOWN_WORD] = TERM ("round", "this word is not known"),
    [CORE_ROUND_AMBIGUOUS] = TERM ("round", "this can mean more than one thing"),
    [CORE_ROUND_EXPECT_ACTION] =
      TERM ("round", "expected what was done: fed, sprayed, watered, cleaned or looked"),
    [CORE_ROUND_EXPECT_PREY] = TERM ("round", "expected a prey, such as house flies"),
    [CORE_ROUND_EXPECT_NUMBER] = TERM ("round", "expected the number of a cup"),
    [CORE_ROUND_EXPECT_OUTCOME] =
      TERM ("round", "expected what happened, such as refused, moulted or dead"),
    [CORE_ROUND_EXPECT_VALUE] = TERM ("round", "expected a number from 1 to 5"),
    [CORE_ROUND_BAD_VALUE] = TERM ("round", "this number does not fit here"),
    [CORE_ROUND_NO_SUCH_NUMBER] = TERM ("round", "no cup on this shelf has that number"),
    [CORE_ROUND_TWICE] = TERM ("round", "this cup has two outcomes that exclude each other"),
    [CORE_ROUND_TOO_LONG] = TERM ("round", "the line is too long: write two rounds"),
  };

  return words_term (lang, table, G_N_ELEMENTS (table), (int) error);
}

static char *
candidates (WordsLang lang, const CoreRoundProblem *problem)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (gsize i = 0; i < problem->n_candidates && i < G_N_ELEMENTS (problem->candidates); i++)
    g_string_append_printf (text, "%s%s", i > 0 ? T_ (lang, "list", ", ") : "",
                            problem->candidates[i]);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

char *
words_round_problem (WordsLang lang, const CoreRoundProblem *problem, const char *line)
{
  g_autofree char *at = piece (problem, line);
  g_autofree char *meant = candidates (lang, problem);
  const char *said = problem_said (lang, problem->error);
  g_autofree char *text = NULL;

  if (*meant != '\0')
    /* Translators: a problem, and the words that may be meant */
    text = g_strdup_printf (T_ (lang, "round", "%s: %s"), said, meant);
  else
    text = g_strdup (said);
  if (at == NULL)
    return words_sentence (g_steal_pointer (&text));
  /* Translators: a piece of the typed line, and what is wrong with it */
  return g_strdup_printf (T_ (lang, "round", "“%s”: %s."), at, text);
}

/* "fed 2 house flies", "sprayed". */
static char *
action_said (WordsLang lang, CoreRoundWord action, int prey, int n)
{
  g_autofree char *what = NULL;

  switch (action)
    {
    case CORE_WORD_FED:
      what = words_prey (lang, prey, n);
      return g_strdup_printf (T_ (lang, "round write", "fed %s"), what);
    case CORE_WORD_MISTED:
      return g_strdup (T_ (lang, "round write", "sprayed"));
    case CORE_WORD_WATERED:
      return g_strdup (T_ (lang, "round write", "floor dampened"));
    case CORE_WORD_CLEANED:
      return g_strdup (T_ (lang, "round write", "cleaned"));
    case CORE_WORD_LOOKED:
      return g_strdup (T_ (lang, "round write", "looked at"));
    default:
      return words_round_word (lang, action, 0);
    }
}

static char *
with_cups (WordsLang lang, const char *what, gsize n)
{
  /* Translators: what was done, and for how many: "fed 2 house flies: 23 cups" */
  return g_strdup_printf (TN_ (lang, "round write", "%s: %d cup", "%s: %d cups", (gulong) n), what,
                          (int) n);
}

char *
words_round_action (WordsLang lang, const CoreRoundAction *action, gsize n_cups)
{
  g_autofree char *what = action_said (lang, action->action, action->prey, action->n);
  g_autofree char *sentence =
    words_sentence (n_cups > 0 ? with_cups (lang, what, n_cups) : g_strdup (what));

  sentence[strlen (sentence) - 1] = '\0';
  return g_steal_pointer (&sentence);
}

static char *
outcome_said (WordsLang lang, CoreRoundWord outcome, int code, int value)
{
  static const WordsTerm table[] = {
    [CORE_WORD_TOOK] = TERM ("round write", "seen eating"),
    [CORE_WORD_REFUSED] = TERM ("round write", "refused"),
    [CORE_WORD_MOULTED] = TERM ("round write", "moulted"),
    [CORE_WORD_DEAD] = TERM ("round write", "died"),
    [CORE_WORD_ESCAPED] = TERM ("round write", "escaped"),
    [CORE_WORD_LEFT] = TERM ("round write", "left"),
    [CORE_WORD_SKIP] = TERM ("round write", "nothing written"),
    [CORE_WORD_GONE] = TERM ("round write", "prey gone"),
    [CORE_WORD_DRANK] = TERM ("round write", "drank"),
  };

  if (outcome == CORE_WORD_BELLY)
    return g_strdup_printf (T_ (lang, "round write", "belly %d of 5"), value);
  if (outcome == CORE_WORD_SIGN)
    return g_strdup_printf (T_ (lang, "round write", "moult sign: %s"), words_sign (lang, code));
  if (outcome == CORE_WORD_FELL || (outcome == CORE_WORD_MOULTED && code == CORE_MOULT_FELL))
    return g_strdup (T_ (lang, "round write", "moulted and fell"));
  if (outcome == CORE_WORD_STUCK || (outcome == CORE_WORD_MOULTED && code == CORE_MOULT_STUCK))
    return g_strdup (T_ (lang, "round write", "moulted and got stuck"));
  if ((gsize) outcome < G_N_ELEMENTS (table) && table[outcome].text != NULL)
    return g_strdup (T_ (lang, table[outcome].context, table[outcome].text));
  return words_round_word (lang, outcome, code);
}

static char *
numbered (WordsLang lang, const char *number, const char *what)
{
  /* Translators: number of a cup, and what is written: "14: refused" */
  return g_strdup_printf (T_ (lang, "round write", "%s: %s"), number, what);
}

char *
words_round_write (WordsLang lang, const char *number, const CoreRoundWrite *write)
{
  gboolean action = write->what == CORE_WORD_FED || write->what == CORE_WORD_MISTED ||
                    write->what == CORE_WORD_WATERED || write->what == CORE_WORD_CLEANED ||
                    write->what == CORE_WORD_LOOKED;
  gboolean meal = write->what == CORE_WORD_TOOK || write->what == CORE_WORD_REFUSED;
  g_autofree char *what = action ? action_said (lang, write->what, write->prey, write->n)
                                 : outcome_said (lang, write->what, write->code, write->value);

  if (meal && write->prey >= 0)
    {
      g_autofree char *prey = words_prey (lang, write->prey, write->n);
      g_autofree char *bare = g_steal_pointer (&what);

      /* Translators: "refused" and prey: "refused, 2 house flies" */
      what = g_strdup_printf (T_ (lang, "round write", "%s, %s"), bare, prey);
    }
  return number != NULL ? numbered (lang, number, what) : g_steal_pointer (&what);
}

char *
words_round_exception (WordsLang lang, const CoreRoundException *exception)
{
  CoreRoundWrite write = { .what = exception->outcome,
                           .prey = exception->prey,
                           .n = exception->n,
                           .code = exception->code,
                           .value = exception->value,
                           .exception = true };

  return words_round_write (lang, exception->number, &write);
}

char *
words_round_left_out (WordsLang lang, CoreLeftOutWhy why, const char *const *numbers, gsize n)
{
  g_autofree char *list = words_list (lang, numbers, n);

  switch (why)
    {
    case CORE_LEFT_OUT_HELD:
      return g_strdup_printf (T_ (lang, "round write", "Left out, to leave alone: %s."), list);
    case CORE_LEFT_OUT_TOO_SMALL:
      return g_strdup_printf (T_ (lang, "round write", "Left out, too small for this prey: %s."),
                              list);
    case CORE_LEFT_OUT_NOT_ITS_PREY:
    default:
      return g_strdup_printf (T_ (lang, "round write", "Left out, not its prey: %s."), list);
    }
}

char *
words_round_wrote (WordsLang lang, gsize n_entries)
{
  return g_strdup_printf (TN_ (lang, "round write", "%d entry written.", "%d entries written.",
                               (gulong) n_entries),
                          (int) n_entries);
}
