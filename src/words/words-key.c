/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-key.c — labels of the keys of entries and of their code words, for forms.
 *
 * Order and number follow the lists of core-kind.c: a test asks for every code.
 */
#include "words/words-private.h"

#define PICK(lang, table, i) words_term (lang, table, G_N_ELEMENTS (table), i)

static const WordsTerm key_terms[] = {
  [CORE_KEY_STAGE] = TERM ("key", "stage as said"),
  [CORE_KEY_SCHEME] = TERM ("key", "L-number of the hatchling"),
  [CORE_KEY_FROM] = TERM ("key", "from"),
  [CORE_KEY_PREY] = TERM ("key", "prey"),
  [CORE_KEY_N] = TERM ("key", "how many"),
  [CORE_KEY_OUTCOME] = TERM ("key", "outcome"),
  [CORE_KEY_BATCH] = TERM ("key", "batch of prey"),
  [CORE_KEY_EAGER] = TERM ("key", "eagerly"),
  [CORE_KEY_SEEN] = TERM ("key", "seen"),
  [CORE_KEY_TO] = TERM ("key", "to"),
  [CORE_KEY_SIGN] = TERM ("key", "sign"),
  [CORE_KEY_SCORE] = TERM ("key", "score, 1 to 5"),
  [CORE_KEY_WHAT] = TERM ("key", "what"),
  [CORE_KEY_MM] = TERM ("key", "length, mm"),
  [CORE_KEY_SD] = TERM ("key", "give or take, mm"),
  [CORE_KEY_HASH] = TERM ("key", "content of the photo"),
  [CORE_KEY_TAKEN] = TERM ("key", "taken"),
  [CORE_KEY_PHOTO] = TERM ("key", "photo"),
  [CORE_KEY_SIDE] = TERM ("key", "side"),
  [CORE_KEY_OF] = TERM ("key", "shows"),
  [CORE_KEY_AXIS] = TERM ("key", "marks of the abdomen"),
  [CORE_KEY_BOUNDS] = TERM ("key", "edges of the plates"),
  [CORE_KEY_COUNT] = TERM ("key", "plates"),
  [CORE_KEY_BY] = TERM ("key", "counted by"),
  [CORE_KEY_LIKELIHOOD] = TERM ("key", "weight of each count"),
  [CORE_KEY_SMALL_PLATE] = TERM ("key", "small plate at the hind legs"),
  [CORE_KEY_CONVENTION] = TERM ("key", "counted were"),
  [CORE_KEY_LAST_PLATE] = TERM ("key", "last plate"),
  [CORE_KEY_WING_RATIO] = TERM ("key", "wing against the abdomen"),
  [CORE_KEY_WING_SD] = TERM ("key", "its give or take"),
  [CORE_KEY_TEGMEN_PRONOTUM] = TERM ("key", "tegmen against pronotum"),
  [CORE_KEY_TEGMEN_PRONOTUM_SD] = TERM ("key", "its give or take"),
  [CORE_KEY_CUE] = TERM ("key", "sign of the species"),
  [CORE_KEY_BEST] = TERM ("key", "best of its stage"),
  [CORE_KEY_SEX] = TERM ("key", "sex"),
  [CORE_KEY_P] = TERM ("key", "chance"),
  [CORE_KEY_METHOD] = TERM ("key", "how it was read"),
  [CORE_KEY_PLACE] = TERM ("key", "place"),
  [CORE_KEY_AT] = TERM ("key", "order on the shelf"),
  [CORE_KEY_HEIGHT_MM] = TERM ("key", "inner height, mm"),
  [CORE_KEY_WIDTH_MM] = TERM ("key", "inner width, mm"),
  [CORE_KEY_DEPTH_MM] = TERM ("key", "inner depth, mm"),
  [CORE_KEY_TEXT] = TERM ("key", "text"),
  [CORE_KEY_SURE] = TERM ("key", "sure"),
  [CORE_KEY_CAUSE] = TERM ("key", "cause"),
  [CORE_KEY_HOW] = TERM ("key", "how"),
  [CORE_KEY_RULE] = TERM ("key", "task"),
  [CORE_KEY_UNTIL] = TERM ("key", "until"),
  [CORE_KEY_KEY] = TERM ("key", "detail"),
  [CORE_KEY_VALUE] = TERM ("key", "value"),
  [CORE_KEY_T] = TERM ("key", "temperature, °C"),
  [CORE_KEY_RH] = TERM ("key", "humidity, %"),
  [CORE_KEY_INSIDE] = TERM ("key", "inside a home"),
  [CORE_KEY_OUT_FROM] = TERM ("key", "out from"),
  [CORE_KEY_OUT_TO] = TERM ("key", "out to"),
  [CORE_KEY_LOWEST] = TERM ("key", "lowest, °C"),
  [CORE_KEY_SERIES] = TERM ("key", "readings, packed"),
  [CORE_KEY_AXIS_BY] = TERM ("key", "base and tip called right by"),
  [CORE_KEY_MOULTS] = TERM ("key", "moults since the hatch"),
  [CORE_KEY_PARTNER] = TERM ("key", "partner"),
  [CORE_KEY_WITH] = TERM ("key", "with"),
  [CORE_KEY_MOVED_IN] = TERM ("key", "kept here before"),
  [CORE_KEY_COUNTED] = TERM ("key", "counted"),
  [CORE_KEY_OVER] = TERM ("key", "no more awaited"),
  [CORE_KEY_KNOWN] = TERM ("key", "day it came known"),
  [CORE_KEY_SEEN_BY] = TERM ("key", "seen by somebody else"),
  [CORE_KEY_MOULTED] = TERM ("key", "had moulted before the others"),
};

const char *
words_key (WordsLang lang, CoreKey key)
{
  G_STATIC_ASSERT (G_N_ELEMENTS (key_terms) == CORE_N_KEYS);

  return PICK (lang, key_terms, (int) key);
}

const char *
words_method (WordsLang lang, int method)
{
  static const WordsTerm table[] = {
    TERM ("method", "by the plates"),
    TERM ("method", "by the wings"),
    TERM ("method", "by a sign of the species"),
    TERM ("method", "by its build"),
    TERM ("method", "by descent"),
    TERM ("method", "as claimed"),
    TERM ("method", "laid an egg case"),
    TERM ("method", "seen joined"),
  };

  return PICK (lang, table, method);
}

static const char *
of_photo (WordsLang lang, CoreKey key, int i)
{
  static const WordsTerm sides[] = { TERM ("code", "underside"), TERM ("code", "back"),
                                     TERM ("code", "flank") };
  static const WordsTerm of[] = { TERM ("code", "the animal"), TERM ("code", "its shed skin") };
  static const WordsTerm by[] = { TERM ("code", "the program"), TERM ("code", "the keeper") };
  static const WordsTerm small[] = { TERM ("code", "counted"), TERM ("code", "not counted"),
                                     TERM ("code", "not known") };
  static const WordsTerm conventions[] = { TERM ("code", "belly plates"),
                                           TERM ("code", "belly appendages"),
                                           TERM ("code", "not known") };
  static const WordsTerm last[] = { TERM ("code", "one large boat"),
                                    TERM ("code", "small among narrow ones"),
                                    TERM ("code", "unclear") };

  switch (key)
    {
    case CORE_KEY_SIDE:
      return PICK (lang, sides, i);
    case CORE_KEY_OF:
      return PICK (lang, of, i);
    case CORE_KEY_BY:
    case CORE_KEY_AXIS_BY:
      return PICK (lang, by, i);
    case CORE_KEY_SMALL_PLATE:
      return PICK (lang, small, i);
    case CORE_KEY_CONVENTION:
      return PICK (lang, conventions, i);
    case CORE_KEY_LAST_PLATE:
      return PICK (lang, last, i);
    default:
      return NULL;
    }
}

static const char *
of_life (WordsLang lang, CoreKind kind, CoreKey key, int i)
{
  static const WordsTerm stages[] = { TERM ("code", "nymph"), TERM ("code", "sub-adult"),
                                      TERM ("code", "adult") };
  static const WordsTerm seen[] = { TERM ("code", "seen happening"), TERM ("code", "found later") };
  static const WordsTerm sexes[] = { TERM ("sex", "male"), TERM ("sex", "female"),
                                     TERM ("sex", "unknown") };

  switch (key)
    {
    case CORE_KEY_PREY:
      return words_prey_one (lang, i);
    case CORE_KEY_OUTCOME:
      return kind == CORE_KIND_MOULTED ? words_moult_outcome (lang, i)
                                       : words_fed_outcome (lang, i);
    case CORE_KEY_SIGN:
      return words_sign (lang, i);
    case CORE_KEY_SEEN:
      return kind == CORE_KIND_MOULTED ? PICK (lang, seen, i) : PICK (lang, stages, i);
    case CORE_KEY_TO:
      return PICK (lang, stages, i);
    case CORE_KEY_WHAT:
      return kind == CORE_KIND_TROUBLE ? words_trouble (lang, i) : words_dimension (lang, i);
    case CORE_KEY_SEX:
      return PICK (lang, sexes, i);
    case CORE_KEY_METHOD:
      return words_method (lang, i);
    default:
      return NULL;
    }
}

const char *
words_code (WordsLang lang, CoreKind kind, CoreKey key, int i)
{
  static const WordsTerm yes_no[] = { TERM ("code", "yes"), TERM ("code", "no") };
  static const WordsTerm ways[] = { TERM ("entry", "sold"), TERM ("entry", "given away"),
                                    TERM ("entry", "swapped"), TERM ("entry", "lent out") };
  const char *text = of_photo (lang, key, i);

  if (text == NULL)
    text = of_life (lang, kind, key, i);
  if (text != NULL)
    return text;
  if (key == CORE_KEY_HOW)
    return PICK (lang, ways, i);
  return PICK (lang, yes_no, i);
}
