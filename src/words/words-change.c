/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-change.c — what was just written, undone or redone, in one sentence. */
#include "words/words-private.h"

/* "14 fed 2 house flies", "14 refused moths", "14: looked at". That it was written for
 * the whole shelf stands before it, not here. */
static char *
change_one (const WordsView *view, const char *label, const char *place, const CoreEntry *entry)
{
  CoreEntry alone = *entry; /* its values stay the entry's */
  WordsEntry what = { .entry = &alone, .place = place };
  g_autofree char *text = NULL;

  if (entry->kind == CORE_KIND_FED &&
      core_entry_code (entry, CORE_KEY_OUTCOME, CORE_FED_OFFERED) != CORE_FED_NONE_IN_VIEW)
    {
      text = words_prey (view->lang, core_entry_code (entry, CORE_KEY_PREY, -1),
                         (int) core_entry_num (entry, CORE_KEY_N, 0));
      if (core_entry_code (entry, CORE_KEY_OUTCOME, CORE_FED_OFFERED) == CORE_FED_REFUSED)
        /* Translators: number of a cup and prey: "14 refused 2 house flies" */
        return g_strdup_printf (T_ (view->lang, "change", "%s refused %s"), label, text);
      return g_strdup_printf (T_ (view->lang, "change", "%s fed %s"), label, text);
    }
  alone.bulk = false;
  text = words_entry (view, &what);
  if (*label == '\0')
    return g_steal_pointer (&text);
  /* Translators: number of a cup, and an entry: "14: looked at" */
  return g_strdup_printf (T_ (view->lang, "change", "%s: %s"), label, text);
}

/* A meal is said in the order in which it happened; NULL = it is none. */
static char *
written_meal (const WordsView *view, const char *cup, const CoreEntry *entry)
{
  int outcome = core_entry_code (entry, CORE_KEY_OUTCOME, CORE_FED_OFFERED);
  g_autofree char *prey = NULL;

  if (entry->kind != CORE_KIND_FED || outcome == CORE_FED_NONE_IN_VIEW)
    return NULL;
  prey = words_prey (view->lang, core_entry_code (entry, CORE_KEY_PREY, -1),
                     (int) core_entry_num (entry, CORE_KEY_N, 0));
  if (outcome == CORE_FED_REFUSED)
    /* Translators: a cup and prey: "cup 20 refused 2 moths" */
    return g_strdup_printf (T_ (view->lang, "written", "%s refused %s"), cup, prey);
  if (outcome == CORE_FED_TAKEN)
    /* Translators: a cup and prey: "cup 20 ate 2 moths" */
    return g_strdup_printf (T_ (view->lang, "written", "%s ate %s"), cup, prey);
  /* Translators: a cup and prey that was put in: "cup 20 got 2 moths" */
  return g_strdup_printf (T_ (view->lang, "written", "%s got %s"), cup, prey);
}

char *
words_written (const WordsView *view, const char *label, const CoreState *state, const CoreEntry *entry)
{
  gboolean animal = state != NULL && state->kind == CORE_SUBJECT_ANIMAL;
  WordsEntry what = { .entry = entry, .state = state };
  /* Translators: %s is its number */
  g_autofree char *cup =
    animal ? g_strdup_printf (T_ (view->lang, "written", "cup %s"), label) : g_strdup (label);
  g_autofree char *text = written_meal (view, cup, entry);

  if (text != NULL)
    return g_steal_pointer (&text);
  text = words_entry (view, &what);
  /* Translators: a cup or a shelf, and an entry: "cup 14: looked at" */
  return *label == '\0' ? g_steal_pointer (&text)
                        : g_strdup_printf (T_ (view->lang, "written", "%s: %s"), cup, text);
}

/* A collection that came into the journal in one evening. */
static char *
change_move_in (WordsLang lang, gboolean redo, const char *label, int n)
{
  /* Translators: number of the first cup, and how many entries the moving in is in all */
  return g_strdup_printf (redo
                            ? TN_ (lang, "change", "Put back the moving in, from %s on: %d entry.",
                                   "Put back the moving in, from %s on: %d entries.", (gulong) n)
                            : TN_ (lang, "change", "Took back the moving in, from %s on: %d entry.",
                                   "Took back the moving in, from %s on: %d entries.", (gulong) n),
                          label, n);
}

/* The change of a round over a shelf. */
static char *
change_round (WordsLang lang, gboolean redo, const char *one, int more)
{
  if (more == 0)
    return g_strdup_printf (redo ? T_ (lang, "change", "Put back the round: %s.")
                                 : T_ (lang, "change", "Took back the round: %s."),
                            one);
  return g_strdup_printf (redo ? TN_ (lang, "change", "Put back the round: %s, and %d more.",
                                      "Put back the round: %s, and %d more.", (gulong) more)
                               : TN_ (lang, "change", "Took back the round: %s, and %d more.",
                                      "Took back the round: %s, and %d more.", (gulong) more),
                          one, more);
}

char *
words_change (const WordsView *view,
              gboolean redo,
              const char *label,
              const char *place,
              const CoreEntry *first,
              gsize n_entries)
{
  g_autofree char *one = change_one (view, label != NULL ? label : "", place, first);
  int more = n_entries > 0 ? (int) n_entries - 1 : 0;

  g_strstrip (one);
  if (core_entry_code (first, CORE_KEY_MOVED_IN, 1) == 0 && more > 0 && label != NULL)
    return change_move_in (view->lang, redo, label, (int) n_entries);
  if (first->bulk && first->kind != CORE_KIND_VOID)
    return change_round (view->lang, redo, one, more);
  if (more == 0 && first->kind != CORE_KIND_VOID && !core_id_is_none (first->names))
    return g_strdup_printf (redo ? T_ (view->lang, "change", "Put back the correction: %s.")
                                 : T_ (view->lang, "change", "Took back the correction: %s."),
                            one);
  if (more == 0)
    return g_strdup_printf (redo ? T_ (view->lang, "change", "Put back: %s.")
                                 : T_ (view->lang, "change", "Took back: %s."),
                            one);
  return g_strdup_printf (redo ? TN_ (view->lang, "change", "Put back: %s, and %d more.",
                                      "Put back: %s, and %d more.", (gulong) more)
                               : TN_ (view->lang, "change", "Took back: %s, and %d more.",
                                      "Took back: %s, and %d more.", (gulong) more),
                          one, more);
}

char *
words_correction_undone (const WordsView *view, const char *label, const char *place, const CoreEntry *again)
{
  g_autofree char *one = change_one (view, label, place, again);
  g_autofree char *day = words_day (view, again->day, WORDS_DAY_SHORT);

  g_strstrip (one);
  /* Translators: an entry and its day: "14: moulted" and "14 Apr" */
  return g_strdup_printf (
    T_ (view->lang, "change", "Took back the correction. What counts again: %s, %s."), one, day);
}
