/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-merge.c — see words-merge.h. */
#include "words/words-merge.h"

#include "words/words-private.h"

/* "2 animals" */
static char *
subjects_of (WordsLang lang, CoreSubjectKind kind, guint n)
{
  switch (kind)
    {
    case CORE_SUBJECT_ANIMAL:
      return g_strdup_printf (TN_ (lang, "merge", "%u animal", "%u animals", n), n);
    case CORE_SUBJECT_LOT:
      return g_strdup_printf (TN_ (lang, "merge", "%u lot", "%u lots", n), n);
    case CORE_SUBJECT_EGGCASE:
      return g_strdup_printf (TN_ (lang, "merge", "%u egg case", "%u egg cases", n), n);
    case CORE_SUBJECT_PLACE:
      return g_strdup_printf (TN_ (lang, "merge", "%u place", "%u places", n), n);
    case CORE_SUBJECT_CULTURE:
      return g_strdup_printf (TN_ (lang, "merge", "%u feeder culture", "%u feeder cultures", n), n);
    case CORE_SUBJECT_NONE:
    case CORE_SUBJECT_JOURNAL:
    default:
      return NULL;
    }
}

char *
words_merge_what (WordsLang lang, const WordsMerge *merge)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);

  if (merge->entries > 0)
    g_ptr_array_add (parts, g_strdup_printf (TN_ (lang, "merge", "%u entry", "%u entries",
                                                  merge->entries),
                                             merge->entries));
  for (int kind = CORE_SUBJECT_NONE + 1; kind < CORE_N_SUBJECTS; kind++)
    {
      char *part = merge->subjects[kind] > 0
                     ? subjects_of (lang, (CoreSubjectKind) kind, merge->subjects[kind])
                     : NULL;

      if (part != NULL)
        g_ptr_array_add (parts, part);
    }
  if (merge->photos > 0)
    g_ptr_array_add (parts, g_strdup_printf (TN_ (lang, "merge", "%u photo", "%u photos",
                                                  merge->photos),
                                             merge->photos));
  return parts->len > 0 ? words_list (lang, (const char *const *) parts->pdata, parts->len) : NULL;
}

char *
words_merge_coming (WordsLang lang, const WordsMerge *merge)
{
  g_autofree char *what = words_merge_what (lang, merge);

  if (what == NULL)
    return g_strdup (T_ (lang, "merge", "Nothing new is there: this journal has all of it."));
  /* Translators: %s is "48 entries, 2 animals and 3 photos" */
  return g_strdup_printf (T_ (lang, "merge", "Will come in: %s."), what);
}

char *
words_merge_came (WordsLang lang, const WordsMerge *merge)
{
  g_autofree char *what = words_merge_what (lang, merge);

  if (what == NULL)
    return g_strdup (T_ (lang, "merge", "Nothing came in: this journal had all of it."));
  /* Translators: %s is "48 entries, 2 animals and 3 photos" */
  return g_strdup_printf (T_ (lang, "merge", "Came in: %s."), what);
}

char *
words_merge_beside (WordsLang lang, const WordsMerge *merge)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);

  if (merge->already == 0 && merge->entries > 0)
    g_ptr_array_add (parts, g_strdup (T_ (lang, "merge",
                                          "It is no copy of this journal: the two have no entry in "
                                          "common.")));
  if (merge->left_out > 0)
    g_ptr_array_add (parts,
                     g_strdup_printf (TN_ (lang, "merge",
                                           "%u photo is missing or damaged there; its entry comes "
                                           "without the picture.",
                                           "%u photos are missing or damaged there; their entries "
                                           "come without the pictures.",
                                           merge->left_out),
                                      merge->left_out));
  if (merge->drafts > 0)
    g_ptr_array_add (parts, g_strdup (T_ (lang, "merge",
                                          "What was typed there and not recorded stays there.")));
  g_ptr_array_add (parts, NULL);
  return g_strjoinv (" ", (char **) parts->pdata);
}

char *
words_merge_question (WordsLang lang, const WordsMerge *merge, guint n_names)
{
  g_autofree char *what = words_merge_what (lang, merge);
  GString *out = g_string_new (NULL);

  /* Translators: %s is "48 entries, 2 animals and 3 photos" */
  g_string_printf (out,
                   T_ (lang, "merge",
                       "The two have no entry in common: this is no copy, but a journal of its own, with %s."),
                   what != NULL ? what : "");
  if (n_names > 0)
    {
      g_string_append_c (out, ' ');
      g_string_append_printf (out,
                              TN_ (lang, "merge",
                                   "%u number or code is given in both: one of the two would answer "
                                   "to it with a letter.",
                                   "%u numbers and codes are given in both: of each, one of the two "
                                   "would answer to it with a letter.",
                                   n_names),
                              n_names);
    }
  g_string_append_c (out, ' ');
  g_string_append (out, T_ (lang, "merge", "Undo does not take a merge back: make a backup first."));
  return g_string_free (out, FALSE);
}

/* "ghost mantis (Shelf A)" */
static char *
who (WordsLang lang, const CoreState *state, const CoreProfile *profile, const char *where)
{
  const char *what = state->kind == CORE_SUBJECT_PLACE || state->kind == CORE_SUBJECT_CULTURE
                       ? words_subject_kind (lang, state->kind)
                       : words_species (lang, profile, state->species);

  if (state->kind == CORE_SUBJECT_PLACE && state->name[0] != '\0')
    /* Translators: "place" and its name */
    return g_strdup_printf (T_ (lang, "merge", "%s “%s”"), what, state->name);
  return where != NULL ? g_strdup_printf ("%s (%s)", what, where) : g_strdup (what);
}

static char *
namesakes (WordsLang lang, const WordsClash *clash)
{
  gboolean code = clash->conflict->kind == CORE_CONFLICT_CODE_TAKEN;
  g_autofree char *keeps = who (lang, clash->other, clash->other_profile, clash->other_where);
  g_autofree char *answers = who (lang, clash->state, clash->profile, clash->where);

  if (code)
    /* Translators: 1 a code, 2 and 3 kinds with their shelves, 4 the code with a letter */
    return g_strdup_printf (T_ (lang, "merge",
                                "%1$s: %2$s keeps the code; %3$s answers to %4$s until it gets a "
                                "new one."),
                            clash->state->code, keeps, answers, clash->label);
  /* Translators: 1 a number, 2 and 3 kinds with their shelves, 4 the number with a letter */
  return g_strdup_printf (T_ (lang, "merge",
                              "%1$s: %2$s keeps the number; %3$s answers to %4$s until it gets a "
                              "new one."),
                          clash->state->number, keeps, answers, clash->label);
}

/* On its day, since that may be what was corrected. */
static char *
entry_of (const WordsView *view, const WordsClash *clash, const CoreEntry *entry)
{
  WordsEntry what = { .entry = entry, .state = clash->state };
  g_autofree char *day = words_day (view, entry->day, WORDS_DAY_SHORT);
  g_autofree char *text = words_entry (view, &what);

  return g_strdup_printf ("%s (%s)", text, day);
}

static char *
corrections (const WordsView *view, const WordsClash *clash)
{
  g_autofree char *counts = entry_of (view, clash, clash->counts);
  g_autofree char *other = clash->not_counted != NULL ? entry_of (view, clash, clash->not_counted) : NULL;

  if (clash->conflict->kind == CORE_CONFLICT_TWO_MOULTS)
    /* Translators: 1 a number, 2 and 3 what was entered, with the day */
    return g_strdup_printf (T_ (view->lang, "merge",
                                "%1$s: a moult seems to be entered twice, and counts once. What "
                                "counts: %2$s. What does not: %3$s."),
                            clash->label, counts, other);
  if (other == NULL)
    /* Translators: 1 a number, 2 what was entered, with the day */
    return g_strdup_printf (T_ (view->lang, "merge",
                                "%1$s: one entry was corrected on one side and taken back on the "
                                "other. The correction counts: %2$s."),
                            clash->label, counts);
  /* Translators: 1 a number, 2 and 3 what was entered, with the day */
  return g_strdup_printf (T_ (view->lang, "merge",
                              "%1$s: one entry was corrected twice. What counts: %2$s. What does "
                              "not: %3$s."),
                          clash->label, counts, other);
}

char *
words_merge_clash (const WordsView *view, const WordsClash *clash)
{
  g_autofree char *text = NULL;

  if (clash->other != NULL)
    return namesakes (view->lang, clash);
  if (clash->counts != NULL &&
      (clash->not_counted != NULL || clash->conflict->kind == CORE_CONFLICT_CORRECTED_AND_VOIDED))
    return corrections (view, clash);
  text = words_conflict (view, clash->conflict);
  return g_strdup_printf ("%s: %s", clash->label, text);
}
