/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-plan-list.c — the headings of a plan that is read as a list. */
#include "words/words.h"
#include "words/words-tr.h"

char *
words_plan_day (const WordsView *view, CoreDay day)
{
  g_autofree char *text = words_day (view, day, WORDS_DAY_FULL);

  /* Translators: heading of what is due today; the day in full */
  return day == view->today ? g_strdup_printf (T_ (view->lang, "plan", "Today, %s"), text) : g_steal_pointer (&text);
}

const char *
words_plan_held (WordsLang lang)
{
  return T_ (lang, "plan", "Held back");
}
