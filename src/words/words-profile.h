/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-profile.h — the values of a species profile for people: names, units, where they come from.
 *
 * Values come as their file has them ("1;2", "6:.7;7:.3"); group and key are words of the format.
 */
#pragma once

#include "words/words.h"

G_BEGIN_DECLS

typedef enum
{
  WORDS_FORM_TEXT,
  WORDS_FORM_GROUP,  /* hardy, humid, dry-hot, idolomantis */
  WORDS_FORM_YES_NO, /* true, false */
  WORDS_FORM_PREY,
  WORDS_FORM_NUMBER,
  WORDS_FORM_SPAN,    /* from – to */
  WORDS_FORM_MEAN,    /* mean ± sd */
  WORDS_FORM_LIST,    /* by stage */
  WORDS_FORM_CHANCES, /* by number of moults */
  WORDS_FORM_SAYS     /* of a cue: female, male, either */
} WordsProfileForm;

WordsProfileForm words_profile_form (const char *group, const char *key);
/* Words of the format that a value of this form may be; NULL-ended, NULL for other forms. */
const char *const *words_profile_choices (WordsProfileForm form);
char *words_profile_group (WordsLang lang, const char *group); /* "Climate", "Sign: crown" */
const char *words_profile_label (WordsLang lang, const char *group, const char *key);
/* "1–2 days"; "unknown"; what cannot be read comes as it is. */
char *words_profile_value (WordsLang lang, const char *group, const char *key, const char *value);
/* The same to be typed over: "1–2". */
char *words_profile_typed (WordsLang lang, const char *group, const char *key, const char *value);
/* What may be typed: "two numbers from 1 to 60, in days"; "" where it goes without saying. */
char *words_profile_hint (WordsLang lang, const char *group, const char *key, double min, double max);
/* "common practice", "measured [2], ours"; `ids` names the sources in the order of their numbers. */
char *words_profile_from (WordsLang lang, const char *from, const char *const *ids);

G_END_DECLS
