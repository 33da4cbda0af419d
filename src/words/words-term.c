/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-term.c — the terms of the trade, in the order of the codes of core.
 *
 * Each table is as long as its enum: tests ask for every code.
 */
#include <string.h>

#include "words/words-private.h"

#define PICK(lang, table, i) words_term (lang, table, G_N_ELEMENTS (table), i)

const char *
words_subject_kind (WordsLang lang, CoreSubjectKind kind)
{
  static const WordsTerm table[] = {
    [CORE_SUBJECT_ANIMAL] = TERM ("subject", "animal"),
    [CORE_SUBJECT_LOT] = TERM ("subject", "lot"),
    [CORE_SUBJECT_EGGCASE] = TERM ("subject", "egg case"),
    [CORE_SUBJECT_PLACE] = TERM ("subject", "place"),
    [CORE_SUBJECT_CULTURE] = TERM ("subject", "feeder culture"),
    [CORE_SUBJECT_JOURNAL] = TERM ("subject", "journal"),
  };

  return PICK (lang, table, (int) kind);
}

const char *
words_kind (WordsLang lang, CoreKind kind)
{
  static const WordsTerm table[] = {
    [CORE_KIND_ACQUIRED] = TERM ("entry kind", "arrival"),
    [CORE_KIND_HATCHED] = TERM ("entry kind", "hatch"),
    [CORE_KIND_LOOKED] = TERM ("entry kind", "look"),
    [CORE_KIND_FED] = TERM ("entry kind", "feeding"),
    [CORE_KIND_GONE] = TERM ("entry kind", "prey gone"),
    [CORE_KIND_DRANK] = TERM ("entry kind", "drinking"),
    [CORE_KIND_MISTED] = TERM ("entry kind", "misting"),
    [CORE_KIND_WATERED] = TERM ("entry kind", "watering"),
    [CORE_KIND_CLEANED] = TERM ("entry kind", "cleaning"),
    [CORE_KIND_MOULTED] = TERM ("entry kind", "moult"),
    [CORE_KIND_STAGE] = TERM ("entry kind", "stage"),
    [CORE_KIND_SIGN] = TERM ("entry kind", "moult sign"),
    [CORE_KIND_BELLY] = TERM ("entry kind", "belly"),
    [CORE_KIND_MEASURED] = TERM ("entry kind", "measure"),
    [CORE_KIND_PHOTO] = TERM ("entry kind", "photo"),
    [CORE_KIND_MARKED] = TERM ("entry kind", "photo reading"),
    [CORE_KIND_SEXED] = TERM ("entry kind", "sex"),
    [CORE_KIND_HOUSED] = TERM ("entry kind", "home"),
    [CORE_KIND_NOTE] = TERM ("entry kind", "note"),
    [CORE_KIND_TROUBLE] = TERM ("entry kind", "trouble"),
    [CORE_KIND_LOOKS_DEAD] = TERM ("entry kind", "looks dead"),
    [CORE_KIND_DIED] = TERM ("entry kind", "death"),
    [CORE_KIND_ESCAPED] = TERM ("entry kind", "escape"),
    [CORE_KIND_FOUND] = TERM ("entry kind", "found again"),
    [CORE_KIND_LEFT] = TERM ("entry kind", "leaving"),
    [CORE_KIND_BACK] = TERM ("entry kind", "return"),
    [CORE_KIND_DONE] = TERM ("entry kind", "task done"),
    [CORE_KIND_PUT_OFF] = TERM ("entry kind", "task put off"),
    [CORE_KIND_SET] = TERM ("entry kind", "detail"),
    [CORE_KIND_READING] = TERM ("entry kind", "reading"),
    [CORE_KIND_POWER] = TERM ("entry kind", "power cut"),
    [CORE_KIND_VOID] = TERM ("entry kind", "taking back"),
    [CORE_KIND_PAIRED] = TERM ("entry kind", "pairing"),
    [CORE_KIND_LAID] = TERM ("entry kind", "laying"),
    [CORE_KIND_CALLED] = TERM ("entry kind", "calling"),
    [CORE_KIND_HATCHING] = TERM ("entry kind", "hatching"),
    [CORE_KIND_CULTURE] = TERM ("entry kind", "culture"),
    [CORE_KIND_SPLIT] = TERM ("entry kind", "split"),
    [CORE_KIND_JOINED] = TERM ("entry kind", "joined lots"),
    [CORE_KIND_RECOUNTED] = TERM ("entry kind", "count"),
    [CORE_KIND_EXCHANGED] = TERM ("entry kind", "mix-up put right"),
    [CORE_KIND_DOUBTFUL] = TERM ("entry kind", "doubt"),
    [CORE_KIND_HARDENED] = TERM ("entry kind", "hardening"),
    [CORE_KIND_DUD] = TERM ("entry kind", "dud"),
    [CORE_KIND_LOGGED] = TERM ("entry kind", "readings of a logger"),
  };

  return PICK (lang, table, (int) kind);
}

static const WordsTerm prey_one[] = {
  [CORE_PREY_MELANOGASTER] = TERM ("prey", "small fruit fly"),
  [CORE_PREY_HYDEI] = TERM ("prey", "large fruit fly"),
  [CORE_PREY_HOUSE_FLY] = TERM ("prey", "house fly"),
  [CORE_PREY_GREEN_BOTTLE] = TERM ("prey", "green bottle"),
  [CORE_PREY_BLUE_BOTTLE] = TERM ("prey", "blue bottle"),
  [CORE_PREY_MOTH] = TERM ("prey", "moth"),
  [CORE_PREY_CRICKET] = TERM ("prey", "cricket"),
  [CORE_PREY_ROACH] = TERM ("prey", "roach"),
  [CORE_PREY_LOCUST] = TERM ("prey", "locust"),
  [CORE_PREY_MEALWORM] = TERM ("prey", "mealworm"),
  [CORE_PREY_WAXWORM] = TERM ("prey", "waxworm"),
  [CORE_PREY_HONEY] = TERM ("prey", "honey"),
  [CORE_PREY_OTHER] = TERM ("prey", "other prey"),
};
static const WordsTerm prey_many[] = {
  [CORE_PREY_MELANOGASTER] = TERM ("prey", "small fruit flies"),
  [CORE_PREY_HYDEI] = TERM ("prey", "large fruit flies"),
  [CORE_PREY_HOUSE_FLY] = TERM ("prey", "house flies"),
  [CORE_PREY_GREEN_BOTTLE] = TERM ("prey", "green bottles"),
  [CORE_PREY_BLUE_BOTTLE] = TERM ("prey", "blue bottles"),
  [CORE_PREY_MOTH] = TERM ("prey", "moths"),
  [CORE_PREY_CRICKET] = TERM ("prey", "crickets"),
  [CORE_PREY_ROACH] = TERM ("prey", "roaches"),
  [CORE_PREY_LOCUST] = TERM ("prey", "locusts"),
  [CORE_PREY_MEALWORM] = TERM ("prey", "mealworms"),
  [CORE_PREY_WAXWORM] = TERM ("prey", "waxworms"),
  [CORE_PREY_HONEY] = TERM ("prey", "honey"),
  [CORE_PREY_OTHER] = TERM ("prey", "other prey"),
};
G_STATIC_ASSERT (G_N_ELEMENTS (prey_one) == CORE_N_PREY);
G_STATIC_ASSERT (G_N_ELEMENTS (prey_many) == CORE_N_PREY);

const char *
words_prey_one (WordsLang lang, int prey)
{
  if (prey < 0)
    return T_ (lang, "prey", "prey");
  return PICK (lang, prey_one, prey);
}

char *
words_prey (WordsLang lang, int prey, int n)
{
  const char *name = n == 1     ? words_prey_one (lang, prey)
                     : prey < 0 ? T_ (lang, "prey", "prey")
                                : PICK (lang, prey_many, prey);

  if (n <= 0 || prey == CORE_PREY_HONEY)
    return g_strdup (name);
  /* Translators: number and prey: "2 house flies" */
  return g_strdup_printf (T_ (lang, "prey", "%d %s"), n, name);
}

const char *
words_sign (WordsLang lang, int sign)
{
  static const WordsTerm table[] = {
    [CORE_SIGN_SLUGGISH] = TERM ("sign", "sluggish"),
    [CORE_SIGN_REFUSES] = TERM ("sign", "refuses food"),
    [CORE_SIGN_DULL] = TERM ("sign", "dull colour"),
    [CORE_SIGN_PADS] = TERM ("sign", "swollen wing pads"),
    [CORE_SIGN_HANGING] = TERM ("sign", "hanging"),
    [CORE_SIGN_PUMPING] = TERM ("sign", "pumping"),
    [CORE_SIGN_SPLITTING] = TERM ("sign", "skin splitting"),
  };
  G_STATIC_ASSERT (G_N_ELEMENTS (table) == CORE_N_SIGNS);

  return PICK (lang, table, sign);
}

const char *
words_sign_question (WordsLang lang, int sign)
{
  static const WordsTerm table[] = {
    [CORE_SIGN_SLUGGISH] = TERM ("sign question", "Sluggish: moves little, strikes prey away"),
    [CORE_SIGN_REFUSES] = TERM ("sign question", "Refuses: prey in view, not taken"),
    [CORE_SIGN_DULL] = TERM ("sign question", "Dull or milky colour"),
    [CORE_SIGN_PADS] = TERM ("sign question", "Wing pads swollen, standing off the body"),
    [CORE_SIGN_HANGING] =
      TERM ("sign question",
            "Same spot since yesterday, head down, legs spread, ignores prey that passes"),
    [CORE_SIGN_PUMPING] = TERM ("sign question", "Pumping: arms open, rocking, belly working"),
    [CORE_SIGN_SPLITTING] = TERM ("sign question", "Skin splitting behind the head"),
  };

  return PICK (lang, table, sign);
}

const char *
words_plan_trouble (WordsLang lang, const CorePlan *plan)
{
  if (plan->trouble && plan->trouble_what < 0)
    return T_ (lang, "trouble", "stuck in its old skin");
  return words_trouble (lang, plan->trouble_what);
}

const char *
words_trouble (WordsLang lang, int what)
{
  static const WordsTerm table[] = {
    [CORE_TROUBLE_FELL] = TERM ("trouble", "fell"),
    [CORE_TROUBLE_VOMIT] = TERM ("trouble", "vomits"),
    [CORE_TROUBLE_THIN] = TERM ("trouble", "thin"),
    [CORE_TROUBLE_FOOT] = TERM ("trouble", "a foot lost"),
    [CORE_TROUBLE_EYE] = TERM ("trouble", "eye worn or dark"),
    [CORE_TROUBLE_LIMB] = TERM ("trouble", "a limb bent or lost"),
    [CORE_TROUBLE_MITES] = TERM ("trouble", "mites"),
    [CORE_TROUBLE_MOULD] = TERM ("trouble", "mould"),
    [CORE_TROUBLE_WORM] = TERM ("trouble", "worm"),
    [CORE_TROUBLE_WEAK] = TERM ("trouble", "weak"),
    [CORE_TROUBLE_OTHER] = TERM ("trouble", "other trouble"),
    [CORE_TROUBLE_FLOODED] = TERM ("trouble", "too wet, flooded"),
  };

  return PICK (lang, table, what);
}

const char *
words_belly (WordsLang lang, int score)
{
  static const WordsTerm table[] = {
    TERM ("belly", "sunken"), TERM ("belly", "flat"),  TERM ("belly", "gently round"),
    TERM ("belly", "round"),  TERM ("belly", "tight"),
  };

  return PICK (lang, table, score - 1);
}

const char *
words_moult_outcome (WordsLang lang, int outcome)
{
  static const WordsTerm table[] = {
    [CORE_MOULT_GOOD] = TERM ("moult outcome", "good, all limbs"),
    [CORE_MOULT_FELL] = TERM ("moult outcome", "fell"),
    [CORE_MOULT_STUCK] = TERM ("moult outcome", "got stuck"),
    [CORE_MOULT_LIMB] = TERM ("moult outcome", "a limb bent or lost"),
  };

  return PICK (lang, table, outcome);
}

const char *
words_fed_outcome (WordsLang lang, int outcome)
{
  static const WordsTerm table[] = {
    [CORE_FED_OFFERED] = TERM ("fed outcome", "put in"),
    [CORE_FED_TAKEN] = TERM ("fed outcome", "seen eaten"),
    [CORE_FED_REFUSED] = TERM ("fed outcome", "refused"),
    [CORE_FED_NONE_IN_VIEW] = TERM ("fed outcome", "none in view"),
  };

  return PICK (lang, table, outcome);
}

const char *
words_dimension (WordsLang lang, int what)
{
  static const WordsTerm table[] = {
    TERM ("dimension", "body"),    TERM ("dimension", "head"),   TERM ("dimension", "pronotum"),
    TERM ("dimension", "abdomen"), TERM ("dimension", "tegmen"),
  };

  return PICK (lang, table, what);
}

const char *
words_group (WordsLang lang, CoreGroup group)
{
  static const WordsTerm table[] = {
    [CORE_GROUP_HARDY] = TERM ("group", "hardy"),
    [CORE_GROUP_HUMID] = TERM ("group", "humid"),
    [CORE_GROUP_DRY_HOT] = TERM ("group", "dry and hot"),
    [CORE_GROUP_IDOLOMANTIS] = TERM ("group", "hot days, cool nights"),
  };
  G_STATIC_ASSERT (G_N_ELEMENTS (table) == CORE_N_GROUPS);

  return PICK (lang, table, (int) group);
}

const char *
words_tag (WordsLang lang, CoreTag tag)
{
  static const WordsTerm table[] = {
    [CORE_TAG_OURS] = TERM ("tag", "a judgement made for this program"),
    [CORE_TAG_PRACTICE] = TERM ("tag", "common practice, no source"),
    [CORE_TAG_MEASURED] = TERM ("tag", "measured"),
  };

  return PICK (lang, table, (int) tag);
}

/* Names that come as text: looked up, else given back as they are. */
typedef struct
{
  const char *name;
  WordsTerm term;
} Named;

static const char *
named (WordsLang lang, const Named *table, gsize n, const char *name)
{
  for (gsize i = 0; i < n; i++)
    {
      if (strcmp (table[i].name, name) == 0)
        return T_ (lang, table[i].term.context, table[i].term.text);
    }
  return name;
}

const char *
words_cue (WordsLang lang, const char *cue)
{
  static const Named table[] = {
    { "crown", TERM ("cue", "crown") },
    { "shield", TERM ("cue", "shield") },
    { "collar", TERM ("cue", "collar") },
    { "brow", TERM ("cue", "bump between the eyes") },
    { "antennae", TERM ("cue", "antennae") },
    { "leg-lobes", TERM ("cue", "lobes of the hind legs") },
    { "lobes", TERM ("cue", "lobes of the abdomen") },
  };

  return named (lang, table, G_N_ELEMENTS (table), cue);
}

char *
words_cue_as (WordsLang lang, const char *cue, CoreSex sex)
{
  const char *name = words_cue (lang, cue);
  /* Translators: a sign of the species: "Crown: as in females" */
  g_autofree char *said = sex == CORE_SEX_MALE
                            ? g_strdup_printf (T_ (lang, "cue", "%s: as in males"), name)
                            : g_strdup_printf (T_ (lang, "cue", "%s: as in females"), name);
  g_autofree char *first = g_utf8_substring (said, 0, 1);
  g_autofree char *upper = g_utf8_strup (first, -1);

  return g_strconcat (upper, g_utf8_next_char (said), NULL);
}

const char *
words_cause (WordsLang lang, const char *cause)
{
  static const struct
  {
    const char *stored;
    WordsTerm term;
  } table[] = {
    { "moult", TERM ("cause of death", "in a moult") },
    { "fall", TERM ("cause of death", "a fall") },
    { "starved", TERM ("cause of death", "starved") },
    { "dried", TERM ("cause of death", "dried out") },
    { "drowned", TERM ("cause of death", "drowned") },
    { "cannibal", TERM ("cause of death", "eaten by another") },
    { "mated", TERM ("cause of death", "eaten while mating") },
    { "sick", TERM ("cause of death", "illness") },
    { "age", TERM ("cause of death", "old age") },
    { "shipping", TERM ("cause of death", "in the post") },
    { "unknown", TERM ("cause of death", "cause unknown") },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    if (strcmp (table[i].stored, cause) == 0)
      return words_tr (lang, table[i].term.context, table[i].term.text);
  return cause;
}
