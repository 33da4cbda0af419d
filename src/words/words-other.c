/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-other.c — lots, egg cases and cultures as a whole: the one sentence of a page, all that
 * a card shows, the tally line by line.
 */
#include "words/words-private.h"

static void
add (GPtrArray *parts, char *text)
{
  if (text != NULL && *text != '\0')
    g_ptr_array_add (parts, text);
  else
    g_free (text);
}

/* ---- lot ---- */

static void
lot_parts (const WordsView *view, const WordsOther *what, GPtrArray *parts)
{
  const CoreState *state = what->state;
  g_autofree char *count = words_count_of (view->lang, &state->tally);

  if (state->tally.known)
    /* Translators: "96 in it", "about 120 in it": of a lot */
    add (parts, g_strdup_printf (T_ (view->lang, "lot", "%s in it"), count));
  else
    add (parts, g_steal_pointer (&count));
  add (parts, words_stage_phrase (view, state));
  if (state->end != CORE_END_NONE)
    return;
  add (parts, words_last_meal (view, state));
  if (what->lot != NULL && what->lot->why == CORE_NO_FORECAST_NONE)
    add (parts, words_lot_forecast (view, what->lot));
}

/* ---- egg case ---- */

static char *
laid_on (const WordsView *view, const CoreEggState *egg)
{
  g_autofree char *days = NULL;

  if (egg->laid_day == CORE_DAY_NONE)
    return g_strdup (T_ (view->lang, "egg case", "when it was laid is not known"));
  days = words_day_range (view, egg->laid_earliest, egg->laid_day);
  return g_strdup_printf (T_ (view->lang, "egg case", "laid %s"), days);
}

static char *
hatched_so_far (const WordsView *view, const CoreEggState *egg)
{
  g_autofree char *amount = words_amount (view->lang, egg->hatched, !egg->hatched_about);

  if (egg->hatchings.n == 0)
    return NULL;
  if (egg->hatched == 0)
    return g_strdup (T_ (view->lang, "egg case", "young hatched, not counted"));
  return g_strdup_printf (T_ (view->lang, "egg case", "%s hatched so far"), amount);
}

static void
egg_parts (const WordsView *view, const WordsOther *what, GPtrArray *parts)
{
  const CoreEggState *egg = &what->state->egg;
  gint64 loose = egg->hatched - egg->in_lots;

  add (parts, laid_on (view, egg));
  if (what->mother != NULL && what->series > 0)
    /* Translators: number of the mother, and which of her egg cases it is */
    add (parts, g_strdup_printf (T_ (view->lang, "egg case", "by %s, number %d of hers"),
                                 what->mother, what->series));
  else if (what->mother != NULL)
    add (parts, g_strdup_printf (T_ (view->lang, "egg case", "by %s"), what->mother));
  if (egg->hardened != CORE_DAY_NONE && egg->hatchings.n == 0)
    {
      g_autofree char *day = words_day (view, egg->hardened, WORDS_DAY_SHORT);

      add (parts, g_strdup_printf (T_ (view->lang, "egg case", "hard since %s"), day));
    }
  add (parts, hatched_so_far (view, egg));
  if (loose > 0)
    add (parts, g_strdup_printf (TN_ (view->lang, "egg case", "%u of them in no lot yet",
                                      "%u of them in no lot yet", (gulong) loose),
                                 (guint) loose));
}

/* ---- culture ---- */

static void
culture_parts (const WordsView *view, const WordsOther *what, GPtrArray *parts)
{
  const CoreCultureState *culture = &what->state->culture;
  g_autofree char *prey = words_prey (view->lang, culture->prey, 0);
  g_autofree char *day = words_day (view, culture->started, WORDS_DAY_SHORT);
  int age = view->today - culture->started;

  add (parts, g_strdup (prey));
  if (culture->started == CORE_DAY_NONE)
    return;
  add (parts, g_strdup_printf (T_ (view->lang, "culture", "started %s"), day));
  if (view->today != CORE_DAY_NONE && age > 0)
    add (parts, g_strdup_printf (
                  TN_ (view->lang, "culture", "%d day old", "%d days old", (gulong) age), age));
}

static void
other_parts (const WordsView *view, const WordsOther *what, GPtrArray *parts)
{
  switch ((int) what->state->kind)
    {
    case CORE_SUBJECT_LOT:
      lot_parts (view, what, parts);
      break;
    case CORE_SUBJECT_EGGCASE:
      egg_parts (view, what, parts);
      break;
    case CORE_SUBJECT_CULTURE:
      culture_parts (view, what, parts);
      break;
    default:
      break;
    }
  if (what->state->end != CORE_END_NONE)
    add (parts, words_ended (view, what->state));
}

char *
words_other (const WordsView *view, const WordsOther *what)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);

  other_parts (view, what, parts);
  return words_join_sentence (view->lang, parts);
}

char *
words_other_cup (const WordsView *view, const WordsOther *what)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);

  add (parts, g_strdup (what->label));
  add (parts, g_strdup (words_subject_kind (view->lang, what->state->kind)));
  add (parts, g_strdup (what->species));
  other_parts (view, what, parts);
  if (what->plan != NULL)
    words_tasks_due (view, what->plan, parts);
  return words_join_sentence (view->lang, parts);
}

/* ---- the tally ---- */

static void
add_number (GPtrArray *rows, WordsLang lang, gint64 n, gboolean about, const char *what)
{
  g_autofree char *amount = n > 0 ? words_amount (lang, n, !about) : NULL;

  if (amount != NULL)
    g_ptr_array_add (rows, g_strdup_printf ("%s %s", amount, what));
}

/* Counted later than it began: who went unseen in between nobody knows. */
static void
add_began (GPtrArray *rows, WordsLang lang, const CoreTally *tally)
{
  g_autofree char *amount = words_amount (lang, tally->began, !tally->began_about);

  if (!tally->began_derived || tally->began <= 0)
    add_number (rows, lang, tally->began, tally->began_about,
                T_ (lang, "tally", "at the beginning"));
  else
    /* Translators: a number of animals, which may be "about 120" */
    g_ptr_array_add (rows,
                     g_strdup_printf (T_ (lang, "tally", "at least %s at the beginning"), amount));
}

char *
words_tally_as_of (const WordsView *view, const CoreTally *tally)
{
  g_autofree char *amount = words_amount (view->lang, tally->count, tally->counted);
  g_autofree char *day = words_day (view, tally->first_count, WORDS_DAY_FULL);
  const char *args[] = { amount, day, NULL };

  if (!tally->known || !tally->began_derived)
    return NULL;
  return words_fill (
    T_ (view->lang, "tally",
        "{1} is what there was on {2}. What you enter as gone before that day "
        "was there beside them; where they were counted on another day, say which."),
    args);
}

GPtrArray *
words_tally (const WordsView *view, const CoreTally *tally)
{
  GPtrArray *rows = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *day = NULL;

  const struct
  {
    gint64 n;
    gboolean about;
    const char *what;
  } piles[] = {
    { tally->joined_in, FALSE, T_ (view->lang, "tally", "came in from other lots") },
    { tally->found_more, tally->lost_about,
      T_ (view->lang, "tally", "more than there should have been") },
    { tally->dead, FALSE, T_ (view->lang, "tally", "dead") },
    { tally->lost_unseen, tally->lost_about, T_ (view->lang, "tally", "lost unseen") },
    { tally->escaped, FALSE, T_ (view->lang, "tally", "escaped") },
    { tally->left, FALSE, T_ (view->lang, "tally", "sold, given away or lent") },
    { tally->separated, FALSE, T_ (view->lang, "tally", "in cups of their own") },
    { tally->split_off, FALSE, T_ (view->lang, "tally", "in other lots") },
  };

  add_began (rows, view->lang, tally);
  for (gsize i = 0; i < G_N_ELEMENTS (piles); i++)
    add_number (rows, view->lang, piles[i].n, piles[i].about, piles[i].what);
  if (tally->count_day == CORE_DAY_NONE)
    return rows;
  day = words_day (view, tally->count_day, WORDS_DAY_NEAR);
  g_ptr_array_add (
    rows, g_strdup_printf (tally->counted ? T_ (view->lang, "tally", "Last counted %s.")
                                          : T_ (view->lang, "tally", "An estimate, last made %s."),
                           day));
  return rows;
}
