/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-task.c — tasks, what is held back, and when.
 *
 * A task that is late is "overdue"; an animal never is. While a moult sign is
 * the reason, "leave alone" names no weekday.
 */
#include <string.h>

#include "core/core-date.h"
#include "words/words-private.h"

const char *
words_task_kind (WordsLang lang, CoreTaskKind kind)
{
  static const WordsTerm table[] = {
    [CORE_TASK_LOOK] = TERM ("task", "look"),
    [CORE_TASK_FEED] = TERM ("task", "feed"),
    [CORE_TASK_TAKE_OUT] = TERM ("task", "take prey out"),
    [CORE_TASK_MIST] = TERM ("task", "spray"),
    [CORE_TASK_WATER] = TERM ("task", "dampen the floor"),
    [CORE_TASK_SHED] = TERM ("task", "look for a shed skin"),
    [CORE_TASK_AFTER_MOULT] = TERM ("task", "after the moult"),
    [CORE_TASK_HOME] = TERM ("task", "larger home"),
    [CORE_TASK_SEX_CHECK] = TERM ("task", "sex check"),
    [CORE_TASK_SEPARATE] = TERM ("task", "separate"),
    [CORE_TASK_CLEAN] = TERM ("task", "clean"),
    [CORE_TASK_CLIMATE] = TERM ("task", "climate"),
    [CORE_TASK_HEAT] = TERM ("task", "heater check"),
    [CORE_TASK_CULTURE] = TERM ("task", "feeder culture"),
    [CORE_TASK_EGGCASE] = TERM ("task", "egg case"),
    [CORE_TASK_ADULT] = TERM ("task", "adult life"),
    [CORE_TASK_IS_DEAD] = TERM ("task", "is it dead?"),
  };
  G_STATIC_ASSERT (G_N_ELEMENTS (table) == CORE_N_TASKS);

  return words_term (lang, table, G_N_ELEMENTS (table), (int) kind);
}

static const char *
plain_title (WordsLang lang, CoreTaskKind kind)
{
  static const WordsTerm table[] = {
    [CORE_TASK_LOOK] = TERM ("task title", "Look at it"),
    [CORE_TASK_FEED] = TERM ("task title", "Feed"),
    [CORE_TASK_TAKE_OUT] = TERM ("task title", "Take the prey out"),
    [CORE_TASK_MIST] = TERM ("task title", "Spray"),
    [CORE_TASK_WATER] = TERM ("task title", "Dampen the floor"),
    [CORE_TASK_SHED] = TERM ("task title", "Look for a shed skin"),
    [CORE_TASK_AFTER_MOULT] = TERM ("task title", "After the moult: see that all limbs are good"),
    [CORE_TASK_HOME] = TERM ("task title", "A taller home before the next moult"),
    [CORE_TASK_SEX_CHECK] = TERM ("task title", "Check the sex"),
    [CORE_TASK_SEPARATE] = TERM ("task title", "Separate the lot"),
    [CORE_TASK_CLEAN] = TERM ("task title", "Clean"),
    [CORE_TASK_CLIMATE] = TERM ("task title", "See to warmth and air"),
    [CORE_TASK_HEAT] = TERM ("task title", "Check thermostat, sensor and cable"),
    [CORE_TASK_CULTURE] = TERM ("task title", "See to the feeder culture"),
    [CORE_TASK_EGGCASE] = TERM ("task title", "See to the egg case"),
    [CORE_TASK_ADULT] = TERM ("task title", "Adult life"),
    [CORE_TASK_IS_DEAD] = TERM ("task title", "Is it dead? Look again"),
  };

  return words_term (lang, table, G_N_ELEMENTS (table), (int) kind);
}

static gboolean
has_reason (const CoreTask *task, const char *rule)
{
  for (size_t i = 0; i < task->n_reasons; i++)
    if (strcmp (task->reasons[i].rule, rule) == 0)
      return TRUE;
  return FALSE;
}

/* What is to be done, where one kind of task means several things: by its first reason. */
static const struct
{
  const char *rule;
  WordsTerm title;
} titles[] = {
  { "emergency.stuck", TERM ("task title", "Stuck in its old skin: see to it now") },
  { "emergency.fell", TERM ("task title", "It fell: see to it now") },
  { "emergency.vomit", TERM ("task title", "It vomits: see to it now") },
  { "trouble.open", TERM ("task title", "See to its trouble") },
  { "separate.few", TERM ("task title", "See whether they take each other") },
  { "climate.rest_over", TERM ("task title", "Is its winter rest over?") },
  { "egg.in_no_lot", TERM ("task title", "Put the hatchlings into a lot") },
  { "egg.over", TERM ("task title", "See whether the hatch is over") },
  { "egg.dud", TERM ("task title", "Most likely it will not hatch") },
  { "egg.move", TERM ("task title", "Move the egg case") },
  { "egg.guarded", TERM ("task title", "Leave the egg case with her") },
  { "egg.hatch_range", TERM ("task title", "Look for hatchlings") },
  { "egg.past_range", TERM ("task title", "Look for hatchlings") },
  { "egg.more", TERM ("task title", "Look for more hatchlings") },
  { "egg.rest", TERM ("task title", "Look for mould") },
  { "egg.rest_over", TERM ("task title", "Out of its winter rest") },
  { "egg.wants_rest", TERM ("task title", "Winter rest or not?") },
  { "egg.stands_still", TERM ("task title", "Here it does not develop") },
  { "adult.overdue", TERM ("task title", "Eggs, but no egg case: look at her") },
  { "culture.weekly", TERM ("task title", "Start a new culture") },
  { "culture.bin", TERM ("task title", "Throw the old culture away") },
  { "culture.spoilt", TERM ("task title", "Throw the culture out, start anew") },
  { "culture.before_hatch", TERM ("task title", "Start cultures for the hatch") },
  { "adult.receptive", TERM ("task title", "It may be ready to pair") },
  { "adult.calling", TERM ("task title", "She is calling") },
  { "adult.old", TERM ("task title", "An old one: make it easy") },
  { "climate.stands_cold", TERM ("task title", "First the temperature: it stands too cold") },
  { "climate.stands_hot", TERM ("task title", "First the temperature: it stands too hot") },
  { "home.too_large", TERM ("task title", "A smaller home") },
  { "home.too_late", TERM ("task title", "A taller home, after this moult") },
};

/* NULL = the title of its kind. */
static const char *
title_of (WordsLang lang, const CoreTask *task)
{
  for (gsize i = 0; i < G_N_ELEMENTS (titles); i++)
    if (has_reason (task, titles[i].rule))
      return T_ (lang, titles[i].title.context, titles[i].title.text);
  return NULL;
}

char *
words_task_title (const WordsView *view, const CoreTask *task)
{
  const char *title = title_of (view->lang, task);
  g_autofree char *prey = NULL;

  if (title != NULL)
    return g_strdup (title);
  if (task->kind != CORE_TASK_FEED || task->n_prey == 0)
    return g_strdup (plain_title (view->lang, task->kind));
  prey = words_prey (view->lang, task->prey[0].prey, task->prey[0].n);
  /* Translators: "Feed: 2 house flies" */
  return g_strdup_printf (T_ (view->lang, "task title", "Feed: %s"), prey);
}

#define NAMED 20 /* numbers, or rows of them, of one kind of task */

/* "feed 14, 17 and 31", "feed 140, among them 1, 2 …" */
static char *
missed_part (WordsLang lang, CoreTaskKind kind, const GPtrArray *labels)
{
  g_autoptr (GPtrArray) parts = words_number_parts (lang, (const char *const *) labels->pdata, labels->len);
  gsize named = MIN (parts->len, NAMED);
  g_autofree char *names = words_list (lang, (const char *const *) parts->pdata, named);
  const char *what = words_task_kind (lang, kind);

  if (parts->len > named)
    /* Translators: a kind of task such as "feed", how many cups, and the first of them */
    return g_strdup_printf (T_ (lang, "missed", "%s %u, among them %s"), what, labels->len, names);
  /* Translators: a kind of task such as "feed", and the cups: "feed 14, 17 and 31" */
  return g_strdup_printf (T_ (lang, "missed", "%s %s"), what, names);
}

char *
words_missed_parts (WordsLang lang, GPtrArray *const labels[CORE_N_TASKS])
{
  g_autoptr (GString) parts = g_string_new (NULL);

  for (int kind = 0; kind < CORE_N_TASKS; kind++)
    {
      g_autofree char *part = NULL;

      if (labels[kind] == NULL || labels[kind]->len == 0)
        continue;
      part = missed_part (lang, (CoreTaskKind) kind, labels[kind]);
      g_string_append_printf (parts, "%s%s", parts->len > 0 ? "; " : "", part);
    }
  return g_string_free (g_steal_pointer (&parts), FALSE);
}

char *
words_missed_unseen (WordsLang lang, const GPtrArray *labels, int days)
{
  g_autofree char *numbers = NULL;

  if (labels == NULL || labels->len == 0)
    return g_strdup ("");
  numbers = words_numbers (lang, (const char *const *) labels->pdata, labels->len, FALSE);
  return g_strdup_printf (
    labels->len == 1
      /* Translators: days, and a cup: "Not seen for 5 days: 14. Look first." */
      ? TN_ (lang, "missed", "Not seen for %d day: %s. Look first.", "Not seen for %d days: %s. Look first.", (gulong) days)
      /* Translators: the most days, and cups: "Not seen for up to 5 days: 14, 17. Look first." */
      : TN_ (lang, "missed", "Not seen for up to %d day: %s. Look first.",
             "Not seen for up to %d days: %s. Look first.", (gulong) days),
    days, numbers);
}

char *
words_missed (WordsLang lang, GPtrArray *const labels[CORE_N_TASKS])
{
  g_autofree char *parts = words_missed_parts (lang, labels);

  if (parts[0] == '\0')
    return g_strdup ("");
  /* Translators: kinds of tasks with their cups: "feed 14, 17 and 31; spray 22" */
  return g_strdup_printf (T_ (lang, "missed", "Left from earlier evenings: %s."), parts);
}

char *
words_task_when (const WordsView *view, const CoreTask *task)
{
  g_autofree char *day = NULL;

  if (view->today > task->latest)
    {
      day = words_day (view, task->latest, WORDS_DAY_NEAR);
      return g_strdup_printf (T_ (view->lang, "task when", "overdue since %s"), day);
    }
  day = words_day (view, task->due, WORDS_DAY_NEAR);
  if (view->today == task->due)
    return g_strdup (T_ (view->lang, "task when", "due today"));
  if (view->today > task->due)
    return g_strdup_printf (T_ (view->lang, "task when", "due since %s"), day);
  if (view->today >= task->earliest)
    return g_strdup_printf (T_ (view->lang, "task when", "from today, due %s"), day);
  return g_strdup_printf (T_ (view->lang, "task when", "due %s"), day);
}

/* "Fri" within a week, else "3 Dec"; "today", "tomorrow". */
static char *
until_day (const WordsView *view, CoreDay day)
{
  gint64 away = (gint64) day - view->today;

  if (view->today == CORE_DAY_NONE || away < 2 || away > 6)
    return words_day (view, day, WORDS_DAY_NEAR);
  return g_strdup (words_weekday_short (view->lang, core_day_weekday (day)));
}

static gboolean
waits_for_answer (const CoreHeld *held)
{
  for (size_t i = 0; i < held->n_reasons; i++)
    if (strcmp (held->reasons[i].rule, "hold.trouble") == 0)
      return TRUE;
  return FALSE;
}

char *
words_held (const WordsView *view, const CoreHeld *held)
{
  const char *task = plain_title (view->lang, held->kind);
  g_autofree char *day = NULL;

  if (held->until == CORE_DAY_NONE && waits_for_answer (held))
    /* Translators: a task that waits: "Check the sex: not until its trouble is answered" */
    return g_strdup_printf (T_ (view->lang, "held", "%s: not until its trouble is answered"), task);
  if (held->until == CORE_DAY_NONE)
    {
      if (held->ask_again == CORE_DAY_NONE)
        /* Translators: a task that waits: "Feed: not until it has moulted" */
        return g_strdup_printf (T_ (view->lang, "held", "%s: not until it has moulted"), task);
      day = until_day (view, held->ask_again);
      return g_strdup_printf (
        T_ (view->lang, "held", "%s: not until it has moulted; look again %s"), task, day);
    }
  day = until_day (view, held->until);
  /* Translators: a task that waits through a day: "Feed: not until Fri is over" */
  return g_strdup_printf (T_ (view->lang, "held", "%s: not before %s is over"), task, day);
}

/* Food may go in before it may be touched. */
static gboolean
food_first (const CoreHold *hold)
{
  return hold->reach != CORE_REACH_TOUCH && hold->touch_until > hold->until;
}

/* "Until Fri" reads as held through Friday in some ears and as free in others: the first free day is
 * what is said, on card, in sentence and on page. */
char *
words_hold_brief (const WordsView *view, const CoreHold *hold)
{
  g_autofree char *free_from = NULL;

  if (hold->kind == CORE_HOLD_NONE)
    return g_strdup ("");
  if (hold->kind == CORE_HOLD_TROUBLE)
    return g_strdup (T_ (view->lang, "leave alone", "until its trouble is answered"));
  if (hold->until == CORE_DAY_NONE || hold->kind == CORE_HOLD_BEFORE)
    return g_strdup (T_ (view->lang, "leave alone", "until it has moulted"));
  free_from = until_day (view, hold->until + 1);
  return g_strdup_printf (food_first (hold) ? T_ (view->lang, "leave alone", "food again %s")
                                            : T_ (view->lang, "leave alone", "free again %s"),
                          free_from);
}

static char *
hold_after (const WordsView *view, const CoreHold *hold, const char *again)
{
  g_autofree char *touch = NULL;

  if (hold->kind == CORE_HOLD_TROUBLE && hold->reach == CORE_REACH_TOUCH)
    /* Translators: "do not touch until its trouble is answered" */
    return g_strdup_printf (T_ (view->lang, "leave alone", "do not touch %s"), again);
  if (hold->until == CORE_DAY_NONE)
    /* Translators: "leave alone until it has moulted" */
    return g_strdup_printf (T_ (view->lang, "leave alone", "leave alone %s"), again);
  if (hold->reach == CORE_REACH_TOUCH)
    /* Translators: food may go in: "do not touch; free again Sat" */
    return g_strdup_printf (T_ (view->lang, "leave alone", "do not touch; %s"), again);
  if (!food_first (hold))
    /* Translators: "leave alone; free again Sat" */
    return g_strdup_printf (T_ (view->lang, "leave alone", "leave alone; %s"), again);
  touch = until_day (view, hold->touch_until + 1);
  /* Translators: "leave alone; food again Sat, touching again Mon" */
  return g_strdup_printf (T_ (view->lang, "leave alone", "leave alone; %s, touching again %s"), again,
                          touch);
}

char *
words_hold (const WordsView *view, const CoreHold *hold)
{
  g_autofree char *until = words_hold_brief (view, hold);
  g_autofree char *again = NULL;

  if (hold->kind == CORE_HOLD_NONE)
    return g_strdup ("");
  if (hold->kind != CORE_HOLD_BEFORE)
    return hold_after (view, hold, until);
  if (hold->ask_again == CORE_DAY_NONE)
    return g_strdup_printf (T_ (view->lang, "leave alone", "leave alone %s"), until);
  again = until_day (view, hold->ask_again);
  /* Translators: "leave alone until it has moulted; look again tomorrow" */
  return g_strdup_printf (T_ (view->lang, "leave alone", "leave alone %s; look again %s"), until,
                          again);
}
