/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-sheet.c — what stands on printed sheets: short, for one cell of a table. */
#include "words/words-private.h"

const char *
words_sheet (WordsLang lang, WordsSheetPart part)
{
  static const WordsTerm table[] = {
    [WORDS_SHEET_NUMBER] = TERM ("sheet", "no."),
    [WORDS_SHEET_KIND] = TERM ("sheet", "kind and stage"),
    [WORDS_SHEET_DUE] = TERM ("sheet", "due"),
    [WORDS_SHEET_TOOK] = TERM ("sheet", "took"),
    [WORDS_SHEET_REFUSED] = TERM ("sheet", "refused"),
    [WORDS_SHEET_MOULTED] = TERM ("sheet", "moulted"),
    [WORDS_SHEET_OTHER] = TERM ("sheet", "other"),
    [WORDS_SHEET_NOTES] = TERM ("sheet", "what was seen"),
  };
  G_STATIC_ASSERT (G_N_ELEMENTS (table) == WORDS_N_SHEET_PARTS);

  return words_term (lang, table, G_N_ELEMENTS (table), (int) part);
}

char *
words_sheet_page (WordsLang lang, guint page, guint of)
{
  /* Translators: at the foot of a printed page */
  return g_strdup_printf (T_ (lang, "sheet", "Page %u of %u"), page, of);
}

char *
words_sheet_title (WordsLang lang, const char *place)
{
  /* Translators: %s is a shelf */
  return g_strdup_printf (T_ (lang, "sheet", "Round sheet: %s"), place);
}

char *
words_sheet_scheme (WordsLang lang, int scheme)
{
  g_autofree char *text = words_scheme (lang, scheme);

  /* Translators: %s is "hatchling = L1" */
  return g_strdup_printf (T_ (lang, "sheet", "Stages are counted with the %s."), text);
}

/* A cell names the prey itself; "feed" stands only where none is proposed. Beside an animal that
 * hangs or hardens a helper sprays the far wall, or nothing. */
static char *
task_words (const WordsView *view, const CoreTask *task, const CoreHold *hold)
{
  WordsLang lang = view->lang;

  if (task->kind == CORE_TASK_MIST && core_hold_alone (hold))
    return g_strdup (T_ (lang, "sheet", "spray the far wall only, or nothing"));
  if (task->kind == CORE_TASK_FEED && task->n_prey > 0)
    return words_prey (lang, task->prey[0].prey, task->prey[0].n);
  /* These kinds are many things: "adult life" alone says nothing. */
  if (task->kind == CORE_TASK_ADULT || task->kind == CORE_TASK_EGGCASE || task->kind == CORE_TASK_CULTURE || task->trouble)
    return words_task_title (view, task);
  return g_strdup (words_task_kind (lang, task->kind));
}

char *
words_sheet_due (const WordsView *view, const CorePlan *plan)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);

  if (plan->hold.kind != CORE_HOLD_NONE)
    {
      CoreHold hold = plan->hold;

      hold.ask_again = CORE_DAY_NONE; /* on paper the next sheet asks */
      g_ptr_array_add (parts, words_hold (view, &hold));
    }
  for (size_t i = 0; i < plan->tasks.n; i++)
    if (!plan->tasks.v[i].projected && plan->tasks.v[i].day <= view->today)
      {
        g_autofree char *words = task_words (view, &plan->tasks.v[i], &plan->hold);

        /* A cell says a thing once: small and large flies for one hatch are two tasks. */
        if (!g_ptr_array_find_with_equal_func (parts, words, g_str_equal, NULL))
          g_ptr_array_add (parts, g_steal_pointer (&words));
      }
  g_ptr_array_add (parts, NULL);
  return g_strjoinv (" · ", (char **) parts->pdata);
}
