/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-shelf.c — what is to be done on a shelf today, in one sentence. */
#include "words/words-private.h"

static char *
shelf_unseen (const WordsView *view, const WordsShelf *shelf)
{
  g_autofree char *numbers = words_numbers (view->lang, shelf->unseen, shelf->n_unseen, FALSE);
  g_autofree char *day = NULL;

  if (shelf->unseen_since == CORE_DAY_NONE)
    return g_strdup_printf (T_ (view->lang, "shelf", "never looked at: %s"), numbers);
  day = words_day (view, shelf->unseen_since, WORDS_DAY_NEAR);
  /* Translators: day, numbers of cups */
  return g_strdup_printf (T_ (view->lang, "shelf", "not seen since %s: %s"), day, numbers);
}

static char *
shelf_food (const WordsView *view, const WordsShelf *shelf)
{
  g_autofree char *prey = NULL;

  if (shelf->prey < 0)
    return g_strdup_printf (TN_ (view->lang, "shelf", "%d due for food", "%d due for food",
                                 (gulong) shelf->n_due_food),
                            (int) shelf->n_due_food);
  prey = words_prey (view->lang, shelf->prey, 0);
  return g_strdup_printf (TN_ (view->lang, "shelf", "%d due for %s", "%d due for %s",
                               (gulong) shelf->n_due_food),
                          (int) shelf->n_due_food, prey);
}

/* By what the hand holds: a cloth for what is urgent, tongs, a camera and the eye, boxes, tools. */
static const CoreTaskKind by_hand[] = { CORE_TASK_LOOK,        CORE_TASK_CLIMATE,  CORE_TASK_IS_DEAD,
                                        CORE_TASK_TAKE_OUT,
                                        CORE_TASK_AFTER_MOULT, CORE_TASK_SEX_CHECK, CORE_TASK_ADULT,
                                        CORE_TASK_HOME,        CORE_TASK_SEPARATE, CORE_TASK_EGGCASE,
                                        CORE_TASK_CULTURE,     CORE_TASK_CLEAN,    CORE_TASK_HEAT };
#define N_URGENT 3 /* the first of them: fallen or stuck, too hot or too cold, perhaps dead */

static char *
task_of (WordsLang lang, CoreTaskKind kind, guint n)
{
  switch ((int) kind)
    {
    case CORE_TASK_LOOK:
      return g_strdup_printf (TN_ (lang, "shelf", "%u to see to first", "%u to see to first", n), n);
    case CORE_TASK_IS_DEAD:
      return g_strdup_printf (TN_ (lang, "shelf", "%u perhaps dead", "%u perhaps dead", n), n);
    case CORE_TASK_TAKE_OUT:
      return g_strdup_printf (TN_ (lang, "shelf", "prey to take out of %u", "prey to take out of %u", n), n);
    case CORE_TASK_AFTER_MOULT:
      return g_strdup_printf (TN_ (lang, "shelf", "%u to look over after the moult",
                                   "%u to look over after the moult", n),
                              n);
    case CORE_TASK_SEX_CHECK:
      return g_strdup_printf (TN_ (lang, "shelf", "the sex of %u to read", "the sex of %u to read", n), n);
    case CORE_TASK_ADULT:
      return g_strdup_printf (TN_ (lang, "shelf", "%u adult to think of", "%u adults to think of", n), n);
    case CORE_TASK_HOME:
      return g_strdup_printf (TN_ (lang, "shelf", "a taller home for %u", "taller homes for %u", n), n);
    case CORE_TASK_SEPARATE:
      return g_strdup_printf (TN_ (lang, "shelf", "%u lot to separate", "%u lots to separate", n), n);
    case CORE_TASK_EGGCASE:
      return g_strdup_printf (TN_ (lang, "shelf", "%u egg case to tend", "%u egg cases to tend", n), n);
    case CORE_TASK_CULTURE:
      return g_strdup_printf (TN_ (lang, "shelf", "%u feeder culture to tend", "%u feeder cultures to tend", n), n);
    case CORE_TASK_CLEAN:
      return g_strdup_printf (TN_ (lang, "shelf", "%u to clean", "%u to clean", n), n);
    case CORE_TASK_CLIMATE:
      return g_strdup_printf (TN_ (lang, "shelf", "warmth and air of %u to see to",
                                   "warmth and air of %u to see to", n),
                              n);
    case CORE_TASK_HEAT:
      return g_strdup_printf (TN_ (lang, "shelf", "%u heater to check", "%u heaters to check", n), n);
    default:
      return g_strdup_printf (TN_ (lang, "shelf", "%u other task", "%u other tasks", n), n);
    }
}

char *
words_shelf (const WordsView *view, const WordsShelf *shelf)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);

  if (shelf->n_cups == 0)
    return g_strdup (T_ (view->lang, "shelf", "Nothing stands here yet."));
  /* What cannot wait stands before all that can. */
  for (gsize i = 0; i < N_URGENT; i++)
    if (shelf->due[by_hand[i]] > 0)
      g_ptr_array_add (parts, task_of (view->lang, by_hand[i], (guint) shelf->due[by_hand[i]]));
  if (shelf->n_due_food > 0)
    g_ptr_array_add (parts, shelf_food (view, shelf));
  if (shelf->n_due_mist > 0)
    g_ptr_array_add (parts, g_strdup_printf (TN_ (view->lang, "shelf", "%d to spray", "%d to spray",
                                                  (gulong) shelf->n_due_mist),
                                             (int) shelf->n_due_mist));
  if (shelf->n_due_look > 0)
    g_ptr_array_add (parts, g_strdup_printf (TN_ (view->lang, "shelf", "%d to look at",
                                                  "%d to look at", (gulong) shelf->n_due_look),
                                             (int) shelf->n_due_look));
  for (gsize i = N_URGENT; i < G_N_ELEMENTS (by_hand); i++)
    if (shelf->due[by_hand[i]] > 0)
      g_ptr_array_add (parts, task_of (view->lang, by_hand[i], (guint) shelf->due[by_hand[i]]));
  if (shelf->n_alone > 0)
    g_ptr_array_add (parts, g_strdup_printf (TN_ (view->lang, "shelf", "%d to leave alone",
                                                  "%d to leave alone", (gulong) shelf->n_alone),
                                             (int) shelf->n_alone));
  if (shelf->n_unseen > 0)
    g_ptr_array_add (parts, shelf_unseen (view, shelf));
  if (parts->len == 0)
    return g_strdup (T_ (view->lang, "shelf", "Nothing is due today."));
  return words_join_sentence (view->lang, parts);
}
