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
      TERM ("round", "expected what was done: fed, sprayed, watered, cleaned, gone or looked"),
    [CORE_ROUND_EXPECT_PREY] = TERM ("round", "expected a prey, such as house flies"),
    [CORE_ROUND_EXPECT_NUMBER] = 
      TERM ("round", "expected the number of a cup, such as: 14 refused; to leave out cup 10: 10 skip"),
    [CORE_ROUND_EXPECT_OUTCOME] =
      TERM ("round", "expected what happened, such as refused, moulted or dead"),
    [CORE_ROUND_EXPECT_VALUE] = TERM ("round", "expected a number from 1 to 5"),
    [CORE_ROUND_BAD_VALUE] = TERM ("round", "this number does not fit here"),
    [CORE_ROUND_NO_SUCH_NUMBER] = TERM ("round", "no cup on this shelf has that number"),
    [CORE_ROUND_REPEATED] =
      TERM ("round", "this cup is named twice with the same outcome: is one of them another cup?"),
    [CORE_ROUND_ONLY_LOTS] =
      TERM ("round", "no animal in a cup of its own stands here, only lots, and a lot is meant by its code: "
                     "begin the line with it"),
    [CORE_ROUND_NOBODY] =
      TERM ("round", "no animal stands here: put some on this shelf, or choose another"),
    [CORE_ROUND_A_COUNT] =
      TERM ("round", "no cup on this shelf has that number; if it is how many of a lot, put the lot's code "
                     "before it"),
    [CORE_ROUND_TWICE] = TERM ("round", "this cup is named twice, and both cannot be kept"),
    [CORE_ROUND_EXPECT_STAGE] = TERM ("round", "no stage has that number"),
    [CORE_ROUND_NO_CUP] = TERM ("round", "no cup on this shelf is meant by this"),
    [CORE_ROUND_WHICH_DAY] =
      TERM ("round", "the day of this round or a week before? For the day of the round say none"),
    [CORE_ROUND_EXPECT_TWO] =
      TERM ("round", "expected the numbers of two cups that change places, such as: swap 14 15"),
    [CORE_ROUND_EXPECT_LOT] =
      TERM ("round", "expected how many of the lot, such as 3 dead or about 90 remain"),
    [CORE_ROUND_NOT_THERE] = TERM ("round", "this cup did not stand on this shelf on that day"),
    [CORE_ROUND_TOO_SHORT] = TERM ("round", "too short for what takes an animal off the shelf; write it out"),
    [CORE_ROUND_BY_NUMBER] =
      TERM ("round", "this is said of single cups, with their number before it, such as: 14 refused"),
    [CORE_ROUND_BACKWARDS] = TERM ("round", "the smaller number of a range comes first, such as 22-25"),
    [CORE_ROUND_ACTION_TWICE] = TERM ("round", "this is said of all already: once is enough"),
    [CORE_ROUND_MANY_PREY] =
      TERM ("round", "so many for each cup? A round takes up to 50; more is entered at the cup itself"),
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
    case CORE_WORD_GONE:
      return g_strdup (T_ (lang, "round write", "prey gone"));
    default:
      return words_round_word (lang, action, -1);
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

/* "moulted and fell, now adult". */
static char *
moult_said (WordsLang lang, int code, CoreSeenStage to)
{
  static const WordsTerm outcomes[] = {
    [CORE_MOULT_GOOD] = TERM ("round write", "moulted well"),
    [CORE_MOULT_FELL] = TERM ("round write", "moulted and fell"),
    [CORE_MOULT_STUCK] = TERM ("round write", "moulted and got stuck"),
    [CORE_MOULT_LIMB] = TERM ("round write", "moulted, a limb bent or lost"),
  };
  static const WordsTerm stages[] = {
    [CORE_SEEN_NYMPH] = TERM ("round write", "%s, still a nymph"),
    [CORE_SEEN_SUBADULT] = TERM ("round write", "%s, now sub-adult"),
    [CORE_SEEN_ADULT] = TERM ("round write", "%s, now adult"),
  };
  const char *bare = code < 0 || code >= (int) G_N_ELEMENTS (outcomes)
                       ? T_ (lang, "round write", "moulted")
                       : T_ (lang, outcomes[code].context, outcomes[code].text);
  g_auto (GStrv) parts = NULL;

  if (to <= CORE_SEEN_UNKNOWN || (gsize) to >= G_N_ELEMENTS (stages))
    return g_strdup (bare);
  parts = g_strsplit (T_ (lang, stages[to].context, stages[to].text), "%s", 2);
  return g_strconcat (parts[0], bare, parts[1], NULL);
}

/* What a word says of one cup or lot, without its prey. */
static char *
outcome_said (WordsLang lang, const CoreRoundWrite *write)
{
  static const WordsTerm table[] = {
    [CORE_WORD_TOOK] = TERM ("round write", "seen eating"),
    [CORE_WORD_REFUSED] = TERM ("round write", "refused"),
    [CORE_WORD_DEAD] = TERM ("round write", "died"),
    [CORE_WORD_LOOKS_DEAD] = TERM ("round write", "looks dead"),
    [CORE_WORD_ESCAPED] = TERM ("round write", "escaped"),
    [CORE_WORD_LEFT] = TERM ("round write", "left"),
    [CORE_WORD_SKIP] = TERM ("round write", "nothing written"),
    [CORE_WORD_DRANK] = TERM ("round write", "drank"),
  };
  CoreRoundWord outcome = write->what;

  if (outcome == CORE_WORD_BELLY)
    return g_strdup_printf (T_ (lang, "round write", "belly %d of 5"), write->value);
  if (outcome == CORE_WORD_SIGN)
    return g_strdup_printf (T_ (lang, "round write", "moult sign: %s"),
                            words_sign (lang, write->code));
  if (outcome == CORE_WORD_MOULTED)
    return moult_said (lang, write->code, write->to);
  if (outcome == CORE_WORD_LEFT && write->code >= 0)
    return g_strdup_printf (T_ (lang, "round write", "left: %s"),
                            words_code (lang, CORE_KIND_LEFT, CORE_KEY_HOW, write->code));
  if (outcome == CORE_WORD_DEAD && write->n > 0)
    return g_strdup_printf (TN_ (lang, "round write", "%d died", "%d died", (gulong) write->n),
                            write->n);
  if (outcome == CORE_WORD_REMAIN)
    return g_strdup_printf (write->about ? T_ (lang, "round write", "about %d remain")
                                         : T_ (lang, "round write", "%d remain"),
                            write->n);
  if ((gsize) outcome < G_N_ELEMENTS (table) && table[outcome].text != NULL)
    return g_strdup (T_ (lang, table[outcome].context, table[outcome].text));
  return words_round_word (lang, outcome, -1);
}

static char *
numbered (WordsLang lang, const char *number, const char *what)
{
  /* Translators: number of a cup, and what is written: "14: refused" */
  return g_strdup_printf (T_ (lang, "round write", "%s: %s"), number, what);
}

static gboolean
is_action (CoreRoundWord word)
{
  return word == CORE_WORD_FED || word == CORE_WORD_MISTED || word == CORE_WORD_WATERED ||
         word == CORE_WORD_CLEANED || word == CORE_WORD_LOOKED || word == CORE_WORD_GONE;
}

static char *
write_said (WordsLang lang, const char *other, const CoreRoundWrite *write)
{
  gboolean meal = write->what == CORE_WORD_TOOK || write->what == CORE_WORD_REFUSED;
  g_autofree char *bare = NULL;
  g_autofree char *prey = NULL;

  if (is_action (write->what))
    return action_said (lang, write->what, write->prey, write->n);
  if (write->what == CORE_WORD_SWAP)
    /* Translators: number of the other cup */
    return g_strdup_printf (T_ (lang, "round write", "changes places with %s"), other);
  bare = outcome_said (lang, write);
  if (!meal || write->prey < 0)
    return g_steal_pointer (&bare);
  prey = words_prey (lang, write->prey, write->n);
  /* Translators: "refused" and prey: "refused, 2 house flies" */
  return g_strdup_printf (T_ (lang, "round write", "%s, %s"), bare, prey);
}

char *
words_round_write (const WordsView *view,
                   const char *number,
                   const char *other,
                   CoreDay day,
                   const CoreRoundWrite *write)
{
  WordsLang lang = view->lang;
  g_autofree char *what = write_said (lang, other != NULL ? other : "?", write);

  if (write->days_back > 0)
    {
      g_autofree char *bare = g_steal_pointer (&what);
      g_autofree char *then = words_day (view, day - write->days_back, WORDS_DAY_FULL);

      /* Translators: what happened to one cup, and on which earlier day: "moulted, on Sat 13 June" */
      what = g_strdup_printf (T_ (lang, "round write", "%s, on %s"), bare, then);
    }
  return number != NULL ? numbered (lang, number, what) : g_steal_pointer (&what);
}

static CoreRoundWrite
as_write (const CoreRoundException *exception)
{
  return (CoreRoundWrite){ .what = exception->outcome,
                           .prey = exception->prey,
                           .n = exception->n,
                           .code = exception->code,
                           .value = exception->value,
                           .to = exception->to,
                           .days_back = exception->days_back,
                           .about = exception->about,
                           .exception = true };
}

char *
words_round_outcome (const WordsView *view, CoreDay day, const CoreRoundException *exception)
{
  CoreRoundWrite write = as_write (exception);

  return words_round_write (view, NULL, exception->other, day, &write);
}

char *
words_round_exception (WordsLang lang, const CoreRoundException *exception)
{
  WordsView view = { lang, CORE_DAY_NONE, 1 };
  CoreRoundWrite write = as_write (exception);

  write.days_back = 0; /* the day of the round is not known here */
  return words_round_write (&view, exception->number, exception->other, CORE_DAY_NONE, &write);
}

/* ---- numbers and who was left out ---- */

/* Where in `all` this number stands; n_all when nowhere. */
static gsize
place_of (const char *number, const char *const *all, gsize n_all)
{
  gsize i = 0;

  while (i < n_all && strcmp (number, all[i]) != 0)
    i++;
  return i;
}

char *
words_round_numbers (WordsLang lang,
                     const char *const *numbers,
                     gsize n,
                     const char *const *all,
                     gsize n_all)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (gsize i = 0; i < n;)
    {
      gsize run = 1, at = place_of (numbers[i], all, n_all);

      while (i + run < n && at + run < n_all && strcmp (numbers[i + run], all[at + run]) == 0)
        run++;
      g_string_append (text, i > 0 ? T_ (lang, "list", ", ") : "");
      if (run > 2)
        /* Translators: first and last of a row of numbers: "22–25" */
        g_string_append_printf (text, T_ (lang, "round write", "%s–%s"), numbers[i],
                                numbers[i + run - 1]);
      else
        {
          g_string_append (text, numbers[i]);
          run = 1;
        }
      i += run;
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

char *
words_round_left_out_part (WordsLang lang, CoreLeftOutWhy why, int prey, const char *numbers)
{
  g_autofree char *food = words_prey (lang, prey, 0);

  switch (why)
    {
    case CORE_LEFT_OUT_HELD:
      /* Translators: numbers of cups: "14, 31 leave alone" */
      return g_strdup_printf (T_ (lang, "round write", "%s leave alone"), numbers);
    case CORE_LEFT_OUT_TOO_SMALL:
      /* Translators: numbers and a prey: "22–25 too small for house flies" */
      return g_strdup_printf (T_ (lang, "round write", "%s too small for %s"), numbers, food);
    case CORE_LEFT_OUT_NOTHING_IN:
      return g_strdup_printf (T_ (lang, "round write", "%s had no prey in"), numbers);
    case CORE_LEFT_OUT_STAGE_UNKNOWN:
      return g_strdup_printf (T_ (lang, "round write", "%s stage not known"), numbers);
    case CORE_LEFT_OUT_LENGTH_UNKNOWN:
      /* Translators: numbers and a prey: "22–25 not known to be large enough for moths: by number
       * only" */
      return g_strdup_printf (T_ (lang, "round write",
                                  "%s not known to be large enough for %s: by number only"),
                              numbers, food);
    case CORE_LEFT_OUT_NOT_THERE:
      /* Translators: numbers of cups, on the day of the round: "14, 31 not there that day" */
      return g_strdup_printf (T_ (lang, "round write", "%s not there that day"), numbers);
    case CORE_LEFT_OUT_ILL:
      /* Translators: numbers of cups: "14, 31 ill: no food yet" */
      return g_strdup_printf (T_ (lang, "round write", "%s ill: no food yet"), numbers);
    case CORE_LEFT_OUT_LOT:
      /* Translators: codes of lots: "H1, H2 (lots: a line of their own, with the code before it)" */
      return g_strdup_printf (T_ (lang, "round write", "%s (a lot: in a line of its own, with its code before it)"),
                              numbers);
    case CORE_LEFT_OUT_NOT_ITS_PREY:
    case CORE_N_LEFT_OUT:
    default:
      return g_strdup_printf (T_ (lang, "round write", "%s not for %s"), numbers, food);
    }
}

char *
words_round_left_out (WordsLang lang, const char *parts)
{
  /* Translators: who and why, several separated by "; " */
  return g_strdup_printf (T_ (lang, "round write", "Left out: %s."), parts);
}

char *
words_round_left_out_due (WordsLang lang, const char *numbers)
{
  /* Translators: numbers of those that were left out and have something due: "22–25" */
  return g_strdup_printf (T_ (lang, "round write", "Due among them: %s."), numbers);
}

char *
words_round_wrote (WordsLang lang, gsize n_entries)
{
  return g_strdup_printf (TN_ (lang, "round write", "%d entry written.", "%d entries written.",
                               (gulong) n_entries),
                          (int) n_entries);
}
