/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-fasting.c — what is the matter with one that takes no food: the answer, what it rests on, what
 * to do, and what not.
 *
 * Whoever reads this is worried and may be new to it: one thing to do comes first, and what would
 * harm is named. Care of this kind is common practice, no source; where it does not help, a vet. */
#include <math.h>

#include "words/words-private.h"

/* From this chance on a moult is mentioned at all (ours). */
#define WORTH_SAYING .05

/* What is read first: of an adult it speaks of no moult. */
static const char *
answer_of (WordsLang lang, const CoreFasting *fasting)
{
  static const WordsTerm table[] = {
    [CORE_FASTING_NONE] = TERM ("fasting", "it eats"),
    [CORE_FASTING_MOULT_LIKELY] = TERM ("fasting", "A moult is likely: leave it alone"),
    [CORE_FASTING_HUNGRY] = TERM ("fasting", "Hungry, and something is wrong: water now"),
    [CORE_FASTING_CANNOT_TELL] = TERM ("fasting", "Moult or trouble: nobody can tell yet"),
    [CORE_FASTING_JUST_MOULTED] = TERM ("fasting", "Just moulted: it does not eat yet"),
    [CORE_FASTING_ILL] = TERM ("fasting", "It is ill: water, and no food yet"),
    [CORE_FASTING_MOULTED] = TERM ("fasting", "It has probably moulted: look for the skin"),
    [CORE_FASTING_NOT_KNOWN] = TERM ("fasting", "Whether it eats is not known"),
    [CORE_FASTING_RESTING] = TERM ("fasting", "Winter rest: to refuse is usual"),
  };

  if (fasting->by == CORE_FASTING_BY_STUCK)
    return T_ (lang, "fasting", "Its moult went wrong: see the emergency words");
  if (fasting->by == CORE_FASTING_BY_ADULT && fasting->belly > 0)
    return T_ (lang, "fasting", "Full, or unwell: adults do not moult");
  if (fasting->by == CORE_FASTING_BY_ADULT)
    return T_ (lang, "fasting", "Full, hungry or unwell: adults do not moult");
  return words_term (lang, table, G_N_ELEMENTS (table), (int) fasting->answer);
}

static const char *
todo_of (WordsLang lang, CoreFastingBy by)
{
  static const WordsTerm table[] = {
    [CORE_FASTING_BY_NONE] = TERM ("fasting", "Nothing."),
    [CORE_FASTING_BY_SIGN] =
      TERM ("fasting", "Take prey that could bite out, if that does not shake it. Look once a day, "
                       "through the wall."),
    [CORE_FASTING_BY_SOFT] =
      TERM ("fasting", "Wait for the day of its first meal. Water on the far wall, if it is dry."),
    [CORE_FASTING_BY_THIN] =
      TERM ("fasting", "Water on the wall, then one small soft prey; take out what it refuses, and "
                       "look at the belly tomorrow. Check the warmth. Still thin, or black vomit: "
                       "ask a vet who sees invertebrates."),
    [CORE_FASTING_BY_CHANCE] =
      TERM ("fasting", "Take the prey out, keep its air as its kind needs it, and look at it and "
                       "its belly daily, through the wall."),
    [CORE_FASTING_BY_BELLY] =
      TERM ("fasting", "Look at the belly and enter it, 1 to 5: round points to a moult, flat or "
                       "sunken to hunger. Water on the wall meanwhile."),
    [CORE_FASTING_BY_ROUND] =
      TERM ("fasting", "It is not starving. Offer another, smaller prey in two days, take it out "
                       "after an hour, and check the warmth."),
    [CORE_FASTING_BY_ILL] =
      TERM ("fasting", "Water on the wall, a clean cup, air; keep it apart. Black or brown vomit, a bad "
                       "smell, limp: see the emergency words, and ask a vet who sees invertebrates."),
    [CORE_FASTING_BY_ADULT] =
      TERM ("fasting", "Adults do not moult. Look at the belly: round, it is not starving, and a female "
                       "may be full of eggs. Offer another, smaller prey in two days, and check the warmth."),
    [CORE_FASTING_BY_MOULTED] =
      TERM ("fasting", "Look through the wall for the skin. It lies or hangs there: enter the moult; the animal is "
                       "soft, only water on the far wall. No skin: look at the belly; flat or sunken, water, then "
                       "one small soft prey."),
    [CORE_FASTING_BY_OFFERED] =
      TERM ("fasting", "Look after an hour, or the next morning, whether the prey is gone, and enter it; look at the "
                       "belly and enter it, 1 to 5."),
    [CORE_FASTING_BY_STUCK] =
      TERM ("fasting", "Look whether it is out of its skin. Still in it: damp the place with a wet cotton bud. Then "
                       "enter what became of it."),
    [CORE_FASTING_BY_REST] =
      TERM ("fasting", "Water now and then, little food, and a look at the belly once a week. Flat or sunken, or the "
                       "winter is over: warm it slowly, and enter the end of its rest."),
  };

  return words_term (lang, table, G_N_ELEMENTS (table), (int) by);
}

static const char *
avoid_of (WordsLang lang, CoreFastingBy by)
{
  static const WordsTerm table[] = {
    [CORE_FASTING_BY_NONE] = TERM ("fasting", "Nothing."),
    [CORE_FASTING_BY_SIGN] =
      TERM ("fasting", "No feeding, no touching, no moving of its cup until it has moulted."),
    [CORE_FASTING_BY_SOFT] = TERM ("fasting", "No food, no touching before that day: it is soft."),
    [CORE_FASTING_BY_THIN] =
      TERM ("fasting", "Do not wait for a moult. Do not leave crickets or roaches with it."),
    [CORE_FASTING_BY_CHANCE] =
      TERM ("fasting", "Do not leave prey with it, and do not move or touch it."),
    [CORE_FASTING_BY_BELLY] = TERM ("fasting", "Do not leave prey with it over night."),
    [CORE_FASTING_BY_ROUND] = TERM ("fasting", "Do not leave prey with it over night."),
    [CORE_FASTING_BY_ILL] =
      TERM ("fasting", "No food before its day, no crickets; no prey of the same tub for others."),
    [CORE_FASTING_BY_ADULT] = TERM ("fasting", "Do not leave prey with it over night."),
    [CORE_FASTING_BY_MOULTED] =
      TERM ("fasting", "No food, no touching, no moving of its cup while it may be soft."),
    [CORE_FASTING_BY_OFFERED] = TERM ("fasting", "Do not take silence for appetite, nor leave prey that bites."),
    [CORE_FASTING_BY_STUCK] = TERM ("fasting", "Never pull. No food while it is in its skin."),
    [CORE_FASTING_BY_REST] = TERM ("fasting", "Do not leave prey with it over night."),
  };

  return words_term (lang, table, G_N_ELEMENTS (table), (int) by);
}

static char *
refused (const WordsView *view, const CoreFasting *fasting)
{
  g_autofree char *day = words_day (view, fasting->since, WORDS_DAY_NEAR);

  if (fasting->refusals == 1)
    /* Translators: %s is a day: "refused a meal yesterday" */
    return g_strdup_printf (T_ (view->lang, "fasting", "refused a meal %s"), day);
  /* Translators: number, day: "refused 3 meals since Tuesday" */
  return g_strdup_printf (TN_ (view->lang, "fasting", "refused %d meal since %s",
                               "refused %d meals since %s", (gulong) fasting->refusals),
                          fasting->refusals, day);
}

static char *
belly (const WordsView *view, const CoreFasting *fasting)
{
  g_autofree char *day = NULL;

  if (fasting->belly == 0)
    return g_strdup (T_ (view->lang, "fasting", "belly not known"));
  day = words_day (view, fasting->belly_day, WORDS_DAY_NEAR);
  /* Translators: score, day: "belly 4 of 5 (today)" */
  return g_strdup_printf (T_ (view->lang, "fasting", "belly %d of 5 (%s)"), fasting->belly, day);
}

static char *
moult (const WordsView *view, const CoreFasting *fasting)
{
  g_autofree char *days = NULL;

  if (fasting->moulted == CORE_DAY_NONE || fasting->moulted > view->today)
    return g_strdup (T_ (view->lang, "fasting", "last moult not known"));
  if (view->today - fasting->moulted < 2)
    {
      g_autofree char *day = words_day (view, fasting->moulted, WORDS_DAY_NEAR);

      /* Translators: %s is a day: "last moult yesterday" */
      return g_strdup_printf (T_ (view->lang, "fasting", "last moult %s"), day);
    }
  days = words_days (view->lang, view->today - fasting->moulted);
  /* Translators: %s is a length of time: "last moult 12 days ago" */
  return g_strdup_printf (T_ (view->lang, "fasting", "last moult %s ago"), days);
}

static char *
chance (const WordsView *view, const CoreFasting *fasting)
{
  g_autofree char *seven = words_percent (view->lang, fasting->within7);

  /* The chance of a moult to come holds that of one which nobody saw. */
  if (fasting->by_now >= WORTH_SAYING)
    return g_strdup_printf (T_ (view->lang, "fasting", "a moult within 7 days, or already: %s"), seven);
  /* Translators: %s is a chance: "a moult within 7 days: 62 in 100" */
  return g_strdup_printf (T_ (view->lang, "fasting", "a moult within 7 days: %s"), seven);
}

/* "moulted 2–4 June: 95 in 100" */
static char *
past_moult (const WordsView *view, const CoreFasting *fasting)
{
  g_autofree char *p = words_percent (view->lang, fasting->by_now);
  g_autofree char *when = NULL;

  if (fasting->moult_lo == CORE_DAY_NONE)
    return g_strdup_printf (T_ (view->lang, "fasting", "moulted unseen: %s"), p);
  when = words_day_range (view, fasting->moult_lo, fasting->moult_hi);
  /* Translators: days and a chance: "moulted, most likely 2–4 June: 95 in 100" */
  return g_strdup_printf (T_ (view->lang, "fasting", "moulted, most likely %s: %s"), when, p);
}

static char *
nothing_eaten (const WordsView *view, const CoreFasting *fasting)
{
  g_autofree char *day = words_day (view, fasting->nothing_since, WORDS_DAY_NEAR);

  /* Translators: number, day: "5 meals put in since 12 May, none seen to be eaten" */
  return g_strdup_printf (TN_ (view->lang, "fasting", "%d meal put in since %s, not seen to be eaten",
                               "%d meals put in since %s, none seen to be eaten", (gulong) fasting->offered),
                          fasting->offered, day);
}

static char *
because_of (const WordsView *view, const CoreFasting *fasting)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);

  if (fasting->sign >= 0)
    g_ptr_array_add (parts, g_strdup (words_sign (view->lang, fasting->sign)));
  if (fasting->refusals > 0)
    g_ptr_array_add (parts, refused (view, fasting));
  if (fasting->refusals == 0 || fasting->answer == CORE_FASTING_NOT_KNOWN)
    g_ptr_array_add (parts, nothing_eaten (view, fasting));
  g_ptr_array_add (parts, belly (view, fasting));
  g_ptr_array_add (parts, moult (view, fasting));
  if (fasting->answer == CORE_FASTING_MOULTED && isfinite (fasting->by_now) && fasting->by_now >= WORTH_SAYING)
    g_ptr_array_add (parts, past_moult (view, fasting));
  else if (isfinite (fasting->within7) && fasting->within7 >= WORTH_SAYING)
    g_ptr_array_add (parts, chance (view, fasting));
  return words_join_sentence (view->lang, parts);
}

WordsFasting
words_fasting (const WordsView *view, const CoreFasting *fasting)
{
  if (fasting->answer == CORE_FASTING_NONE)
    return (WordsFasting){ NULL, NULL, NULL, NULL };
  return (WordsFasting){ g_strdup (answer_of (view->lang, fasting)),
                         because_of (view, fasting), g_strdup (todo_of (view->lang, fasting->by)),
                         g_strdup (avoid_of (view->lang, fasting->by)) };
}

void
words_fasting_clear (WordsFasting *self)
{
  g_clear_pointer (&self->answer, g_free);
  g_clear_pointer (&self->because, g_free);
  g_clear_pointer (&self->todo, g_free);
  g_clear_pointer (&self->avoid, g_free);
}
