/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-refusal.c — what cannot be, and what to do instead.
 *
 * Two sentences at most: what is wrong, what would do. Codes of other rooms
 * come as numbers; a test compares them with their headers.
 */
#include <math.h>
#include <string.h>

#include "core/core-lot.h"
#include "words/words-private.h"

static char *
before_hatch (const WordsView *view, const CoreState *state)
{
  g_autofree char *day = NULL;

  if (state == NULL || state->stages.n == 0 || !state->hatched)
    return g_strdup (T_ (view->lang, "refusal",
                         "That day is before the hatch. Check the day, or correct the hatch."));
  day = words_day (view, state->hatched_day, WORDS_DAY_FULL);
  return g_strdup_printf (T_ (view->lang, "refusal",
                              "That day is before the hatch, %s. Check the day, or correct the "
                              "hatch."),
                          day);
}

static char *
after_end (const WordsView *view, const CoreState *state, const CoreEntry *entry)
{
  gboolean same = state != NULL && entry != NULL && entry->day == state->end_day &&
                  entry->kind != CORE_KIND_DIED && entry->kind != CORE_KIND_LEFT &&
                  entry->kind != CORE_KIND_ESCAPED;
  g_autofree char *day = NULL;

  if (state == NULL || state->end_day == CORE_DAY_NONE)
    return g_strdup (T_ (view->lang, "refusal",
                         "That day is after its end. Check the day, or take the end back."));
  day = words_day (view, state->end_day, WORDS_DAY_FULL);
  if (same)
    return g_strdup_printf (
      T_ (view->lang, "refusal",
          "Its page ended %s. If this was earlier that day, say at what time; "
          "or take that entry back."),
      day);
  return g_strdup_printf (
    T_ (view->lang, "refusal", "Its page ended %s. Check the day, or take that entry back."), day);
}

static char *
lot_moulted_more (WordsLang lang, const CoreState *state, const CoreEntry *entry)
{
  gint64 held = state != NULL ? core_lot_held (state, entry->day) : (gint64) -1;
  g_autofree char *amount = held >= 0 ? words_amount (lang, held, state->tally.counted) : NULL;

  if (amount == NULL)
    return g_strdup (T_ (lang, "refusal", "That is more than the lot holds. Count it anew first, or enter fewer."));
  return g_strdup_printf (T_ (lang, "refusal",
                              "The lot holds %s then, and no more can moult. Enter fewer; were there more, count "
                              "it anew first."),
                          amount);
}

/* One, or all of it: both as they are to be typed. An estimate is at its end only when it was counted. */
static char *
how_many (WordsLang lang, const CoreState *state, const CoreEntry *entry)
{
  gint64 held = state != NULL && entry != NULL ? core_lot_held (state, entry->day) : (gint64) -1;

  if (held < 0)
    return g_strdup (T_ (lang, "refusal", "How many of the lot? Say it: n=1 for one."));
  return g_strdup_printf (state->tally.counted
                            ? T_ (lang, "refusal", "How many of the lot? One: n=1; all of it: n=%d.")
                            : T_ (lang, "refusal",
                                  "How many of the lot? One: n=1; all of about %d: count it anew, as 0."),
                          (int) held);
}

static char *
moult_others (WordsLang lang, const CoreEntry *entry)
{
  return g_strdup_printf (T_ (lang, "refusal",
                              "%d of it are entered as moulted on that day already. Are these others, enter them "
                              "with sure=yes."),
                          entry != NULL ? (int) core_entry_num (entry, CORE_KEY_N, 0) : 0);
}

static char *
more_than_count (WordsLang lang, const CoreState *state, const CoreEntry *entry)
{
  gint64 most =
    state != NULL && entry != NULL ? core_lot_available (state, entry->day) : (gint64) -1;
  g_autofree char *amount = most >= 0 ? words_amount (lang, most, state->tally.counted) : NULL;

  if (entry != NULL && entry->kind == CORE_KIND_MOULTED)
    return lot_moulted_more (lang, state, entry);
  if (amount == NULL)
    return g_strdup (T_ (
      lang, "refusal", "That is more than the lot holds. Count it anew first, or take out fewer."));
  return g_strdup_printf (T_ (lang, "refusal",
                              "The lot holds %s then. Were there more, count it anew first; else "
                              "take out fewer."),
                          amount);
}

static char *
lived_later (const WordsView *view, const CoreState *state)
{
  g_autofree char *day =
    words_day (view, state != NULL ? state->alive_last : CORE_DAY_NONE, WORDS_DAY_FULL);

  return g_strdup_printf (T_ (view->lang, "refusal",
                              "By another entry it was alive and here on %s. Choose that day or a "
                              "later one, or correct that entry."),
                          day);
}

/* Of the moults the one that is nearest. */
static char *
moult_soon (const WordsView *view, const CoreState *state, const CoreEntry *entry)
{
  CoreDay nearest = CORE_DAY_NONE;
  g_autofree char *day = NULL;

  for (gsize i = 0; state != NULL && entry != NULL && i < state->moult_days.n; i++)
    if (nearest == CORE_DAY_NONE || ABS (state->moult_days.v[i] - entry->day) < ABS (nearest - entry->day))
      nearest = state->moult_days.v[i];
  if (nearest == CORE_DAY_NONE && state != NULL)
    nearest = state->ahead.first; /* of some of a lot */
  day = words_day (view, nearest, WORDS_DAY_FULL);
  return g_strdup_printf (T_ (view->lang, "refusal",
                              "A moult is entered for %s, and so soon none moults again. Check the day; if it "
                              "did, enter it with sure=yes."),
                          day);
}

static char *
adult_younger (const WordsView *view, const CoreState *state, const CoreEntry *entry)
{
  g_autofree char *day = NULL;

  if (state == NULL || !state->adult || entry == NULL || entry->day < state->adult_seen)
    return g_strdup (T_ (view->lang, "refusal",
                         "It is entered as a nymph or sub-adult after that day, and adults stay "
                         "adult. If that was wrong, correct that entry."));
  day = words_day (view, state->adult_seen, WORDS_DAY_FULL);
  return g_strdup_printf (T_ (view->lang, "refusal",
                              "It is entered as adult on %s, and adults stay adult. If that was "
                              "wrong, correct that entry."),
                          day);
}

static char *
no_stage (const WordsView *view, const CoreEntry *entry)
{
  return g_strdup_printf (T_ (view->lang, "refusal",
                              "“%s” says no stage. Write L4, 4, L4-5, nymph, subadult or adult."),
                          entry != NULL ? core_entry_str (entry, CORE_KEY_STAGE) : "");
}

/* Those that name a day or what was typed; NULL = the plain sentence of the table. */
static char *
with_values (const WordsView *view,
             CoreRefusal refusal,
             const CoreState *state,
             const CoreEntry *entry)
{
  switch ((int) refusal)
    {
    case CORE_REFUSE_BEFORE_HATCH:
      return before_hatch (view, state);
    case CORE_REFUSE_AFTER_END:
      return after_end (view, state, entry);
    case CORE_REFUSE_LIVED_LATER:
      return lived_later (view, state);
    case CORE_REFUSE_ADULT_YOUNGER:
      return adult_younger (view, state, entry);
    case CORE_REFUSE_MOULT_SOON:
      return moult_soon (view, state, entry);
    case CORE_REFUSE_NO_STAGE:
      return no_stage (view, entry);
    case CORE_REFUSE_HOW_MANY:
      return how_many (view->lang, state, entry);
    case CORE_REFUSE_MOULT_OTHERS:
      return moult_others (view->lang, entry);
    case CORE_REFUSE_MORE_THAN_COUNT:
      return more_than_count (view->lang, state, entry);
    default:
      return NULL;
    }
}

static const WordsTerm refusals[] = {
  [CORE_REFUSE_NOTHING] = TERM ("refusal", "Nothing speaks against it."),
  [CORE_REFUSE_FUTURE] =
    TERM ("refusal", "That day is still to come. Enter what happened, up to today."),
  [CORE_REFUSE_EARLIEST_AFTER_DAY] =
    TERM ("refusal", "The earliest day is after the day itself. Swap or correct them."),
  [CORE_REFUSE_WRONG_SUBJECT] =
    TERM ("refusal", "This cannot be entered for it. Choose another kind of entry."),
  [CORE_REFUSE_ADULT_MOULTS] = TERM ("refusal", "Adults do not moult. Are the wings full?"),
  [CORE_REFUSE_PADS_NOT_SUBADULT] =
    TERM ("refusal", "Swollen wing pads are a sign of sub-adults. Is it sub-adult? Enter that "
                     "first."),
  [CORE_REFUSE_ALREADY_HATCHED] =
    TERM ("refusal", "Its hatch is entered already. Correct that entry instead."),
  [CORE_REFUSE_NOT_ENDED] =
    TERM ("refusal", "It is not gone, so it cannot come back. Nothing needs entering."),
  [CORE_REFUSE_RESERVED] =
    TERM ("refusal", "This version cannot enter that yet. Write a note instead."),
  [CORE_REFUSE_TOO_OLD] =
    TERM ("refusal", "That day is more than 50 years back. Check the year."),
  [CORE_REFUSE_NOT_ADULT] =
    TERM ("refusal", "Only adults lay or mate, and it was not seen as adult by that day. Enter "
                     "its adult moult or stage first."),
  [CORE_REFUSE_FEWER_THAN_TAKEN] =
    TERM ("refusal", "More than that were taken out of the lot since that day. Check the number "
                     "and the day."),
  [CORE_REFUSE_ALREADY_LAID] =
    TERM ("refusal", "The day it was laid is entered already. Correct that entry instead."),
  [CORE_REFUSE_BEFORE_LAID] =
    TERM ("refusal", "That day is before the egg case was laid. Check the day, or correct when "
                     "it was laid."),
  [CORE_REFUSE_MOULT_TWICE] =
    TERM ("refusal", "A moult is entered on that day already. Correct that entry instead."),
  [CORE_REFUSE_LATER_MOULT] =
    TERM ("refusal", "A later moult is entered, and adults do not moult. Correct that moult, or "
                     "the stage here."),
  [CORE_REFUSE_TOO_YOUNG] =
    TERM ("refusal", "So soon after the hatch none has come so far. Check the day of the hatch, or the stage."),
  [CORE_REFUSE_STAGE_MOULTS] =
    TERM ("refusal", "The stage and the number of moults do not fit each other. Give one of the "
                     "two, or the scheme that the stage is counted by."),
  [CORE_REFUSE_BEFORE_ARRIVAL] =
    TERM ("refusal", "That day is before it came to you. Enter moults, meals or lengths that you "
                     "were told; or correct the day of its arrival."),
  [CORE_REFUSE_MANY_MOULTS] =
    TERM ("refusal", "No mantis moults so often. Is an earlier moult entered twice, or is this "
                     "another animal?"),
  [CORE_REFUSE_AWAY] =
    TERM ("refusal",
          "It was away on that day. Check the day, or when it went and came back. What a borrower told "
          "you of it is entered with their name: seen_by=NAME; a skin found after it escaped: seen=found."),
  [CORE_REFUSE_UNTIL_OVER] =
    TERM ("refusal", "It can only be put off until a later day. Give a day to come."),
  [CORE_REFUSE_READING_EMPTY] =
    TERM ("refusal", "A reading is a temperature, a humidity or both. Give one: t=23 or rh=55."),
  [CORE_REFUSE_POWER_LOWEST] =
    TERM ("refusal", "“lowest” is how cold it became without power, in °C: a value from -30 to 40. Leave it out if "
                     "nobody measured it."),
  [CORE_REFUSE_NOT_DOUBTFUL] =
    TERM ("refusal", "Nobody doubts which animal this is, so there is nothing to decide."),
  [CORE_REFUSE_UNTIL_FAR] =
    TERM ("refusal", "It can be put off for a year at most. Give an earlier day."),
  [CORE_REFUSE_MOULT_SOON] =
    TERM ("refusal", "A moult is entered for few days before or after. Check the day."),
  [CORE_REFUSE_HATCHED_DUD] =
    TERM ("refusal", "Some hatched from it, so it is no dud. If no more will come, enter hatching over=yes."),
  [CORE_REFUSE_MOULT_SUBADULT] =
    TERM ("refusal", "It was seen as sub-adult and has moulted since: that makes it adult, and adults do not "
                     "moult. Are the wings full? Then enter it as adult; if it surely moulted, enter it with "
                     "sure=yes."),
  [CORE_REFUSE_ONE_ANIMAL] =
    TERM ("refusal", "This is one animal, not a lot: leave the number out."),
};

char *
words_refusal (const WordsView *view,
               CoreRefusal refusal,
               const CoreState *state,
               const CoreEntry *entry)
{
  char *text = with_values (view, refusal, state, entry);

  if (text != NULL)
    return text;
  return g_strdup (words_term (view->lang, refusals, G_N_ELEMENTS (refusals), (int) refusal));
}

/* "offered, taken, refused" */
static char *
words_of_key (const CoreKindKey *key)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (gsize i = 0; key->words != NULL && key->words[i] != NULL; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? ", " : "", key->words[i]);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* The keys that a kind takes: "prey, n, outcome". */
static char *
keys_of_kind (CoreKind kind)
{
  g_autoptr (GString) text = g_string_new (NULL);
  const CoreKindKey *keys = kind > 0 && kind < CORE_N_KINDS ? core_kind_info (kind)->keys : NULL;

  for (gsize i = 0; keys != NULL && keys[i].key != CORE_KEY_NONE; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? ", " : "", keys[i].name);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static char *
unknown_key (WordsLang lang, CoreKind kind, const char *typed_key)
{
  g_autofree char *keys = keys_of_kind (kind);

  if (*keys == '\0')
    return g_strdup_printf (T_ (lang, "value", "“%s” is not known here: nothing can be added."),
                            typed_key);
  return g_strdup_printf (T_ (lang, "value", "“%s” is not known here. Known are: %s."), typed_key,
                          keys);
}

static char *
out_of_range (WordsLang lang, const CoreKindKey *key, const char *name, const char *value)
{
  g_autofree char *lo = key != NULL ? words_number (lang, key->min, 2) : NULL;
  g_autofree char *hi = key != NULL ? words_number (lang, key->max, 2) : NULL;

  if (key == NULL)
    return g_strdup_printf (T_ (lang, "value", "%s: “%s” is too small or too large."), name, value);
  return g_strdup_printf (T_ (lang, "value", "%s: “%s” is not from %s to %s."), name, value, lo,
                          hi);
}

static char *
bad_word (WordsLang lang, const CoreKindKey *key, const char *name, const char *value)
{
  g_autofree char *list = key != NULL ? words_of_key (key) : g_strdup ("");

  if (*list == '\0')
    return g_strdup_printf (T_ (lang, "value", "%s: “%s” is not known."), name, value);
  return g_strdup_printf (T_ (lang, "value", "%s: “%s” is not one of %s."), name, value, list);
}

static char *
plain_problem (WordsLang lang, CoreValueStatus status, const char *name, const char *value)
{
  switch (status)
    {
    case CORE_VALUE_BAD_NUMBER:
      return g_strdup_printf (T_ (lang, "value",
                                  "%s: “%s” is not a number. Write digits, with a point: 2.5."),
                              name, value);
    case CORE_VALUE_BAD_DAY:
      return g_strdup_printf (T_ (lang, "value",
                                  "%s: “%s” is not a day. Write year, month, day: 2026-11-25."),
                              name, value);
    case CORE_VALUE_BAD_LIST:
      return g_strdup_printf (
        T_ (lang, "value", "%s: “%s” is not a list. Write numbers with commas: 10,20,30,40."), name,
        value);
    case CORE_VALUE_BAD_TEXT:
      return g_strdup_printf (
        T_ (lang, "value", "%s: This text is too long or holds characters that cannot be kept."),
        name);
    case CORE_VALUE_BAD_ID:
      return g_strdup_printf (T_ (lang, "value", "%s: “%s” is not in this journal."), name, value);
    case CORE_VALUE_TWICE:
      return g_strdup_printf (T_ (lang, "value", "%s: This was given twice. Give it once."), name);
    case CORE_VALUE_MISSING:
      return g_strdup_printf (T_ (lang, "value", "%s: This is needed."), name);
    case CORE_VALUE_NO_MEMORY:
      return g_strdup (T_ (lang, "value", "There is not enough memory. Nothing was written."));
    default:
      return g_strdup_printf (T_ (lang, "value", "%s: “%s” cannot be used."), name, value);
    }
}

/* What a text of that key has to look like; NULL = any text. */
static char *
bad_form (WordsLang lang, const CoreKindKey *key, const char *name, const char *value)
{
  switch (key != NULL ? (int) key->key : CORE_KEY_NONE)
    {
    case CORE_KEY_OUT_FROM:
    case CORE_KEY_OUT_TO:
      return g_strdup_printf (
        T_ (lang, "value", "%s: “%s” is not a time. Write hours and minutes: 22:30."), name, value);
    case CORE_KEY_CUE:
      return g_strdup_printf (T_ (lang, "value",
                                  "%s: “%s” says no sex. Write the cue and the sex: crown:female."),
                              name, value);
    case CORE_KEY_TEXT:
      return *value != '\0'
               ? NULL
               : g_strdup_printf (T_ (lang, "value", "%s: Nothing is written. Write something."),
                                  name);
    default:
      return NULL;
    }
}

static char *
not_whole (WordsLang lang, const char *name, const char *value)
{
  return g_strdup_printf (
    T_ (lang, "value", "%s: “%s” is not a whole number. Write digits alone: 2."), name, value);
}

char *
words_value_problem (WordsLang lang,
                     CoreValueStatus status,
                     CoreKind kind,
                     const CoreKindKey *key,
                     const char *typed_key,
                     const char *typed_value)
{
  const char *name = typed_key != NULL ? typed_key : key != NULL ? key->name : "?";
  const char *value = typed_value != NULL ? typed_value : "";
  char *form = status == CORE_VALUE_BAD_TEXT ? bad_form (lang, key, name, value) : NULL;

  if (form != NULL)
    return form;
  if (status == CORE_VALUE_BAD_NUMBER && key != NULL && key->type == CORE_VALUE_INT)
    return not_whole (lang, name, value);
  if (status == CORE_VALUE_UNKNOWN_KEY)
    return unknown_key (lang, kind, name);
  if (status == CORE_VALUE_OUT_OF_RANGE)
    return out_of_range (lang, key, name, value);
  if (status == CORE_VALUE_BAD_WORD)
    return bad_word (lang, key, name, value);
  return plain_problem (lang, status, name, value);
}

char *
words_conflict (const WordsView *view, const CoreConflict *conflict)
{
  static const WordsTerm table[] = {
    [CORE_CONFLICT_BEFORE_HATCH] = TERM ("conflict", "An entry is older than the hatch."),
    [CORE_CONFLICT_AFTER_END] = TERM ("conflict", "An entry is later than its end."),
    [CORE_CONFLICT_TWO_HATCHES] = TERM ("conflict", "Its hatch is entered twice."),
    [CORE_CONFLICT_ADULT_MOULTED] = TERM ("conflict", "A moult, or a sign of one, is entered after it was adult."),
    [CORE_CONFLICT_TWO_REPLACEMENTS] =
      TERM ("conflict", "An entry was corrected twice, on two devices; the later one counts."),
    [CORE_CONFLICT_NAMES_MISSING] =
      TERM ("conflict", "A correction names an entry that is not in this journal."),
    [CORE_CONFLICT_SEX_SETTLED_TWICE] =
      TERM ("conflict", "Its sex is settled both ways: one of the two entries is wrong."),
    [CORE_CONFLICT_NUMBER_TAKEN] =
      TERM ("conflict", "Two subjects have the same number: give one a new number."),
    [CORE_CONFLICT_TALLY] =
      TERM ("conflict",
            "More were taken out of the lot than were in it: count it anew, or take one "
            "of the entries back."),
    [CORE_CONFLICT_CODE_TAKEN] =
      TERM ("conflict", "Two subjects have the same code: give one a new code."),
    [CORE_CONFLICT_TWO_LAYINGS] =
      TERM ("conflict", "When the egg case was laid is entered twice; the first counts."),
    [CORE_CONFLICT_BEFORE_LAID] =
      TERM ("conflict", "An entry is older than the laying of the egg case."),
    [CORE_CONFLICT_ADULT_YOUNGER] =
      TERM ("conflict", "It is entered as a nymph or sub-adult after it was adult."),
    [CORE_CONFLICT_MEASURES] =
      TERM ("conflict", "Two lengths of one stage differ too much: one of them is wrong."),
    [CORE_CONFLICT_FEW_MOULTS] =
      TERM ("conflict", "Adult or sub-adult after so few moults: some must be missing here, so how "
                        "many it has had is not known."),
    [CORE_CONFLICT_YOUNG] =
      TERM ("conflict", "So many moults since its hatch need more days: the day of the hatch or the stage is wrong."),
    [CORE_CONFLICT_SUBADULT_MOULTED] =
      TERM ("conflict", "It was seen as sub-adult, and its next moult did not make it adult: one of the two is wrong."),
    [CORE_CONFLICT_TWO_MARKS] =
      TERM ("conflict", "One picture was marked twice, on two devices; the later marks count."),
    [CORE_CONFLICT_FUTURE] =
      TERM ("conflict", "An entry is of a day that is still to come: it does not count yet."),
    [CORE_CONFLICT_TWO_READINGS] =
      TERM ("conflict", "Two readings of one minute differ, and both count. Take one of them back, or correct its time."),
    [CORE_CONFLICT_NAME_TAKEN] =
      TERM ("conflict", "Two places have this name: give one another name."),
    [CORE_CONFLICT_NAMELESS] =
      TERM ("conflict",
            "It was taken back on one device, while something was entered of it on another, and answers "
            "to what it was called. Take these entries back as well, or enter again what it is."),
    [CORE_CONFLICT_TWO_MOULTS] =
      TERM ("conflict",
            "A moult seems to be entered twice, and counts once. Take one of the two back; if it did "
            "moult twice, correct the later entry and say that it is sure."),
    [CORE_CONFLICT_CORRECTED_AND_VOIDED] =
      TERM ("conflict",
            "An entry was corrected on one device and taken back on another; the correction counts. "
            "Take it back as well if it should not."),
  };

  return g_strdup (words_term (view->lang, table, G_N_ELEMENTS (table), (int) conflict->kind));
}

/* A sentence with the thing it speaks of in front, where it is known. */
static char *
about (WordsLang lang, const char *what, const char *sentence)
{
  if (what == NULL || *what == '\0')
    return g_strdup (sentence);
  /* Translators: a file or folder, and a sentence about it */
  return g_strdup_printf (T_ (lang, "error", "%s: %s"), what, sentence);
}

char *
words_backup_error (WordsLang lang, int code, const char *what)
{
  static const WordsTerm table[] = {
    /* in the order of ExchError */
    TERM ("backup error", "The file could not be used. Check the disk, then try again."),
    TERM ("backup error", "It is not there. If it lies on another disk, connect that one; else "
                          "choose another folder."),
    TERM ("backup error", "There is something of that name already. Choose another name."),
    TERM ("backup error", "There is not enough room on the disk. Free some space, or choose "
                          "another disk."),
    TERM ("backup error", "It may not be used by you. Choose another folder, or ask its owner."),
    TERM ("backup error", "This is no backup of a journal. Choose a file that this program wrote."),
    TERM ("backup error", "The backup is damaged: it is not what was written. Nothing was restored. "
                          "Take an older one."),
    TERM ("backup error", "The file holds what no backup of this program holds, so nothing of it "
                          "was used. Take another one, and ask where this one came from."),
    TERM ("backup error", "The backup was made by a later version of this program. Install that "
                          "version, then restore it."),
    TERM ("backup error", "A photo of the journal is missing, or is not as it was added."),
  };

  if (code < 0 || (gsize) code >= G_N_ELEMENTS (table))
    code = 0;
  return about (lang, what, words_term (lang, table, G_N_ELEMENTS (table), code));
}

char *
words_store_error (WordsLang lang, int code, const char *what)
{
  static const WordsTerm table[] = {
    /* in the order of StoreError */
    TERM ("store error", "The journal could not be written. Nothing was changed; try again."),
    TERM ("store error", "Another program is writing into this journal. Try again in a moment."),
    TERM ("store error", "The journal is damaged, or this is no journal. Nothing was changed; "
                         "open a backup."),
    TERM ("store error",
          "The journal was made by a later version of this program. Install that version."),
    TERM ("store error", "There is no room on the disk. Nothing was written; make room and try "
                         "again."),
    TERM ("store error", "The journal can only be read here. To write, copy its folder to a place "
                         "of your own."),
    TERM ("store error", "There is not enough memory. Nothing was written."),
    TERM ("store error", "It is not there. Check the name, or make a new journal."),
    TERM ("store error", "There is something already. Choose another folder."),
    TERM ("store error", "The journal has changed meanwhile. Try again."),
    TERM ("store error", "This is not a copy as this journal was written: the same entry stands "
                         "there otherwise. Nothing was written. Take another copy; one that was "
                         "made without positions cannot come back."),
  };

  if (code < 0 || (gsize) code >= G_N_ELEMENTS (table))
    code = 0;
  return about (lang, what, words_term (lang, table, G_N_ELEMENTS (table), code));
}

char *
words_check_problem (WordsLang lang,
                     int kind,
                     gboolean unchecked,
                     const char *what,
                     const char *detail)
{
  static const WordsTerm found[] = {
    /* in the order of StoreProblemKind; each is followed by ": " and what it is about */
    TERM ("check", "The database is damaged"),
    TERM ("check", "A row of the database points nowhere"),
    TERM ("check", "An entry cannot be read"),
    TERM ("check", "The search index disagrees with the notes"),
    TERM ("check", "A photo's file is missing"),
    TERM ("check", "A photo's file is not the one that was added"),
    TERM ("check", "A photo is entered, but nothing is known of its file"),
  };
  static const WordsTerm open[] = {
    TERM ("check", "The database could not be read to its end, because it is damaged"),
    TERM ("check",
          "Whether its rows belong together could not be checked, because the database is damaged"),
    TERM ("check", "Not all entries could be checked, because the database is damaged"),
    TERM ("check", "The search index could not be checked, because the database is damaged"),
    TERM ("check", "The photos could not be checked, because the database is damaged"),
    TERM ("check", "The photos could not be checked, because the database is damaged"),
    TERM ("check",
          "Whether each photo has its file could not be checked, because the database is damaged"),
  };

  return g_strdup_printf ("%s: %s%s%s",
                          words_term (lang, unchecked ? open : found, G_N_ELEMENTS (found), kind),
                          what, detail != NULL ? ": " : "", detail != NULL ? detail : "");
}

char *
words_image_error (WordsLang lang, int code, const char *file)
{
  static const WordsTerm table[] = {
    /* in the order of ImgError */
    TERM ("image error", "This is not a picture. Choose a JPEG, PNG, HEIC, WebP or TIFF file."),
    TERM ("image error",
          "Pictures of this kind cannot be read on this computer. Save it as JPEG or PNG."),
    TERM ("image error", "The picture is too large. Choose one of at most 200 megapixels."),
    TERM ("image error", "The picture is damaged or cut off. Copy it from the camera again."),
    TERM ("image error", "The picture cannot be read. Check that it is still there and may be "
                         "read."),
    TERM ("image error", "The file is empty. Copy it from the camera again."),
    TERM ("image error", "Reading the picture failed halfway. Nothing was lost; try another "
                         "picture."),
    TERM ("image error", "The part that reads pictures is missing. Install the program again."),
    TERM ("image error", "The picture could not be read now. Try again."),
  };

  if (code < 0 || (gsize) code >= G_N_ELEMENTS (table))
    code = (int) G_N_ELEMENTS (table) - 1;
  return about (lang, file, words_term (lang, table, G_N_ELEMENTS (table), code));
}
