/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-profile.c — see words-profile.h.
 *
 * One row a key of the profile format; a key without a row is shown by its own name.
 */
#include "words/words-profile.h"

#include <math.h>
#include <string.h>

#include "words/words-private.h"

typedef enum
{
  UNIT_NONE,
  UNIT_DAYS,
  UNIT_C,
  UNIT_MM,
  UNIT_PERCENT,
  UNIT_MOULTS,
  UNIT_TIMES, /* a factor */
  N_UNITS
} Unit;

static const WordsTerm units[N_UNITS] = {
  [UNIT_NONE] = { NULL, "" },
  [UNIT_DAYS] = TERM ("unit", "days"),
  [UNIT_C] = TERM ("unit", "°C"),
  [UNIT_MM] = TERM ("unit", "mm"),
  [UNIT_PERCENT] = TERM ("unit", "%"),
  [UNIT_MOULTS] = TERM ("unit", "moults"),
  [UNIT_TIMES] = TERM ("unit", "×"),
};

typedef struct
{
  const char *group, *key;
  WordsTerm label;
  WordsProfileForm form;
  Unit unit;
  const WordsTerm *lack; /* what "-" or -1 means; NULL = unknown */
} Row;

static const WordsTerm unknown = TERM ("profile", "unknown");
static const WordsTerm borrowed = TERM ("profile", "taken from the general ladder");
static const WordsTerm no_spot = TERM ("profile", "none");
static const WordsTerm no_need = TERM ("profile", "no need");

#define ROW(group, key, label, form, unit)                                                         \
  {                                                                                                \
    group, key, label, WORDS_FORM_##form, UNIT_##unit, NULL                                        \
  }

static const Row rows[] = {
  ROW ("profile", "scientific", TERM ("profile", "Scientific name"), TEXT, NONE),
  ROW ("profile", "common", TERM ("profile", "Name"), TEXT, NONE),
  ROW ("profile", "common_de", TERM ("profile", "German name"), TEXT, NONE),
  ROW ("profile", "group", TERM ("profile", "Group"), GROUP, NONE),
  ROW ("profile", "general", TERM ("profile", "Stands in for unknown species"), YES_NO, NONE),
  ROW ("profile", "empusid", TERM ("profile", "Belongs to the empusids"), YES_NO, NONE),
  ROW ("profile", "parthenogenetic", TERM ("profile", "Breeds without males too"), YES_NO, NONE),
  ROW ("profile", "communal", TERM ("profile", "Bears company"), YES_NO, NONE),
  ROW ("profile", "flying_prey_only", TERM ("profile", "Takes flying prey only"), YES_NO, NONE),
  ROW ("profile", "damp_substrate", TERM ("profile", "Wants a damp substrate"), YES_NO, NONE),
  ROW ("profile", "dry_kind", TERM ("profile", "Kept dry"), YES_NO, NONE),
  ROW ("profile", "winter_rest", TERM ("profile", "Nymphs rest in winter"), YES_NO, NONE),
  ROW ("profile", "avoid_prey", TERM ("profile", "Prey that is left out"), PREY, NONE),
  ROW ("clock", "t0", TERM ("profile", "No development at or below"), NUMBER, C),
  ROW ("clock", "topt", TERM ("profile", "Fastest from"), NUMBER, C),
  ROW ("clock", "tflat", TERM ("profile", "Fastest up to"), NUMBER, C),
  ROW ("clock", "tmax", TERM ("profile", "No development from"), NUMBER, C),
  { "development", "stage_days", TERM ("profile", "Stages from the hatch on, at 25 °C"), WORDS_FORM_LIST, UNIT_DAYS,
    &borrowed },
  { "development", "before_subadult_days", TERM ("profile", "Stage before sub-adult, at 25 °C"), WORDS_FORM_NUMBER,
    UNIT_DAYS, &borrowed },
  { "development", "subadult_days", TERM ("profile", "Sub-adult stage, at 25 °C"), WORDS_FORM_NUMBER, UNIT_DAYS,
    &borrowed },
  ROW ("development", "male_factor", TERM ("profile", "Stages of males against those of females"), NUMBER, TIMES),
  ROW ("development", "moults_male", TERM ("profile", "Moults to adult, males"), CHANCES, NONE),
  ROW ("development", "moults_female", TERM ("profile", "Moults to adult, females"), CHANCES, NONE),
  ROW ("development", "sd_room", TERM ("profile", "Spread between rooms (log scale)"), NUMBER, NONE),
  ROW ("development", "sd_lot", TERM ("profile", "Spread between lots (log scale)"), NUMBER, NONE),
  ROW ("development", "sd_animal", TERM ("profile", "Spread between animals (log scale)"), NUMBER, NONE),
  ROW ("development", "sd_stage", TERM ("profile", "Spread from stage to stage (log scale)"), NUMBER, NONE),
  ROW ("size", "adult_male_mm", TERM ("profile", "Adult male, body length"), NUMBER, MM),
  ROW ("size", "adult_female_mm", TERM ("profile", "Adult female, body length"), NUMBER, MM),
  ROW ("size", "hatchling_mm", TERM ("profile", "Hatchling, body length"), NUMBER, MM),
  ROW ("size", "ratio_body", TERM ("profile", "Growth of the body at each moult"), NUMBER, TIMES),
  ROW ("size", "ratio_head", TERM ("profile", "Growth of the head at each moult"), NUMBER, TIMES),
  ROW ("sex", "male_prior", TERM ("profile", "Chance of a male before any evidence"), NUMBER, NONE),
  ROW ("sex", "readable_from", TERM ("profile", "Plates can be read after"), NUMBER, MOULTS),
  ROW ("sex", "plates_male", TERM ("profile", "Belly plates, male"), NUMBER, NONE),
  ROW ("sex", "plates_female", TERM ("profile", "Belly plates, female"), NUMBER, NONE),
  ROW ("sex", "appendages_male", TERM ("profile", "Belly appendages, male"), NUMBER, NONE),
  ROW ("sex", "appendages_female", TERM ("profile", "Belly appendages, female"), NUMBER, NONE),
  ROW ("sex", "count_doubtful", TERM ("profile", "Sources disagree about the count"), YES_NO, NONE),
  ROW ("sex", "tegmen_pronotum_male", TERM ("profile", "Wing case ÷ neck shield, adult male"), MEAN, NONE),
  ROW ("sex", "tegmen_pronotum_female", TERM ("profile", "Wing case ÷ neck shield, adult female"), MEAN, NONE),
  ROW ("care", "feed_m0_1", TERM ("profile", "Food every: hatchling, after one moult"), SPAN, DAYS),
  ROW ("care", "feed_m2_3", TERM ("profile", "Food every: after two or three moults"), SPAN, DAYS),
  ROW ("care", "feed_m4", TERM ("profile", "Food every: after four moults, to sub-adult"), SPAN, DAYS),
  ROW ("care", "feed_adult_female", TERM ("profile", "Food every: adult female"), SPAN, DAYS),
  ROW ("care", "feed_adult_male", TERM ("profile", "Food every: adult male"), SPAN, DAYS),
  ROW ("care", "feed_gravid", TERM ("profile", "Food every: female with eggs"), SPAN, DAYS),
  ROW ("care", "mist", TERM ("profile", "Mist every"), SPAN, DAYS),
  ROW ("care", "clean", TERM ("profile", "Clean every"), SPAN, DAYS),
  ROW ("care", "touch_m3", TERM ("profile", "Do not touch after a moult: to the third"), NUMBER, DAYS),
  ROW ("care", "touch_m4", TERM ("profile", "Do not touch after a moult: from the fourth"), NUMBER, DAYS),
  ROW ("care", "touch_subadult", TERM ("profile", "Do not touch after a moult: to sub-adult"), NUMBER, DAYS),
  ROW ("care", "touch_adult", TERM ("profile", "Do not touch after a moult: to adult"), NUMBER, DAYS),
  ROW ("care", "food_m3", TERM ("profile", "No food after a moult: to the third"), SPAN, DAYS),
  ROW ("care", "food_m4", TERM ("profile", "No food after a moult: from the fourth"), SPAN, DAYS),
  ROW ("care", "food_subadult", TERM ("profile", "No food after a moult: to sub-adult"), SPAN, DAYS),
  ROW ("care", "food_adult", TERM ("profile", "No food after a moult: to adult"), SPAN, DAYS),
  ROW ("care", "subadult_fast_days", TERM ("profile", "Longest fast of a sub-adult that refuses"), NUMBER, DAYS),
  { "care", "split_moults", TERM ("profile", "Part lot-mates after"), WORDS_FORM_NUMBER, UNIT_MOULTS, &no_need },
  ROW ("care", "prey_nymph", TERM ("profile", "Largest prey of a nymph, of its body length"), NUMBER, TIMES),
  ROW ("care", "prey_adult", TERM ("profile", "Largest prey of an adult, of its body length"), NUMBER, TIMES),
  ROW ("climate", "day", TERM ("profile", "Cup by day"), SPAN, C),
  ROW ("climate", "night", TERM ("profile", "Cup by night"), SPAN, C),
  { "climate", "spot", TERM ("profile", "Warm spot"), WORDS_FORM_SPAN, UNIT_C, &no_spot },
  ROW ("climate", "look_above", TERM ("profile", "Look at once above"), NUMBER, C),
  ROW ("climate", "look_below", TERM ("profile", "Look at once below"), NUMBER, C),
  ROW ("climate", "humidity", TERM ("profile", "Humidity by day"), SPAN, PERCENT),
  ROW ("adult", "life_male", TERM ("profile", "Life as adult, male"), SPAN, DAYS),
  ROW ("adult", "life_female", TERM ("profile", "Life as adult, female"), SPAN, DAYS),
  ROW ("adult", "receptive_male", TERM ("profile", "Ready to mate after the adult moult, male"), SPAN, DAYS),
  ROW ("adult", "receptive_female", TERM ("profile", "Ready to mate after the adult moult, female"), SPAN, DAYS),
  ROW ("eggs", "incubation", TERM ("profile", "From laying to hatch, at 27 °C"), SPAN, DAYS),
  ROW ("eggs", "young", TERM ("profile", "Hatchlings of one egg case"), SPAN, NONE),
  ROW ("eggs", "guards", TERM ("profile", "The female stays with her egg case"), YES_NO, NONE),
  ROW ("eggs", "rest", TERM ("profile", "Eggs may rest through a cold winter"), YES_NO, NONE),
  ROW ("cue", "says", TERM ("profile", "What it says when it is there"), SAYS, NONE),
  ROW ("cue", "odds", TERM ("profile", "Weight (odds)"), NUMBER, NONE),
  ROW ("cue", "from_moults", TERM ("profile", "To be seen after"), NUMBER, MOULTS),
  ROW ("cue", "adult_only", TERM ("profile", "Of adults only"), YES_NO, NONE),
};

static const Row *
find_row (const char *group, const char *key)
{
  if (g_str_has_prefix (group, "cue "))
    group = "cue";
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    if (strcmp (rows[i].key, key) == 0 && strcmp (rows[i].group, group) == 0)
      return &rows[i];
  return NULL;
}

WordsProfileForm
words_profile_form (const char *group, const char *key)
{
  const Row *row = find_row (group, key);

  return row != NULL ? row->form : WORDS_FORM_TEXT;
}

static const char *const group_words[] = { "hardy", "humid", "dry-hot", "idolomantis", NULL };
static const char *const yes_no_words[] = { "true", "false", NULL };
static const char *const says_words[] = { "either", "female", "male", NULL };

const char *const *
words_profile_choices (WordsProfileForm form)
{
  switch ((int) form)
    {
    case WORDS_FORM_GROUP:
      return group_words;
    case WORDS_FORM_YES_NO:
      return yes_no_words;
    case WORDS_FORM_SAYS:
      return says_words;
    default:
      return NULL;
    }
}

static const Row groups[] = {
  { "profile", NULL, TERM ("profile group", "The kind"), WORDS_FORM_TEXT, UNIT_NONE, NULL },
  { "climate", NULL, TERM ("profile group", "Climate"), WORDS_FORM_TEXT, UNIT_NONE, NULL },
  { "care", NULL, TERM ("profile group", "Care"), WORDS_FORM_TEXT, UNIT_NONE, NULL },
  { "development", NULL, TERM ("profile group", "Development"), WORDS_FORM_TEXT, UNIT_NONE, NULL },
  { "clock", NULL, TERM ("profile group", "Warmth and development"), WORDS_FORM_TEXT, UNIT_NONE, NULL },
  { "size", NULL, TERM ("profile group", "Size"), WORDS_FORM_TEXT, UNIT_NONE, NULL },
  { "sex", NULL, TERM ("profile group", "Telling the sex"), WORDS_FORM_TEXT, UNIT_NONE, NULL },
  { "adult", NULL, TERM ("profile group", "Adults"), WORDS_FORM_TEXT, UNIT_NONE, NULL },
  { "eggs", NULL, TERM ("profile group", "Egg cases"), WORDS_FORM_TEXT, UNIT_NONE, NULL },
  { "cues", NULL, TERM ("profile group", "Signs of the sex"), WORDS_FORM_TEXT, UNIT_NONE, NULL },
  { "sources", NULL, TERM ("profile group", "Sources"), WORDS_FORM_TEXT, UNIT_NONE, NULL },
};

/* Signs that a profile may name, as people call them; others by their own word. */
static const struct
{
  const char *name;
  WordsTerm term;
} cues[] = {
  { "crown", TERM ("cue", "crown") },         { "lobes", TERM ("cue", "lobes of the abdomen") },
  { "collar", TERM ("cue", "collar") },       { "brow", TERM ("cue", "bump between the eyes") },
  { "leg-lobes", TERM ("cue", "leg lobes") }, { "shield", TERM ("cue", "neck shield") },
  { "antennae", TERM ("cue", "antennae") },
};

char *
words_profile_group (WordsLang lang, const char *group)
{
  if (g_str_has_prefix (group, "cue "))
    {
      const char *name = group + strlen ("cue ");

      for (gsize i = 0; i < G_N_ELEMENTS (cues); i++)
        if (strcmp (cues[i].name, name) == 0)
          name = T_ (lang, cues[i].term.context, cues[i].term.text);
      /* Translators: a sign of the sex in this kind: "Sign of the sex: crown" */
      return g_strdup_printf (T_ (lang, "profile group", "Sign of the sex: %s"), name);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (groups); i++)
    if (strcmp (groups[i].group, group) == 0)
      return g_strdup (T_ (lang, groups[i].label.context, groups[i].label.text));
  return g_strdup (group);
}

const char *
words_profile_label (WordsLang lang, const char *group, const char *key)
{
  const Row *row = find_row (group, key);

  return row != NULL ? T_ (lang, row->label.context, row->label.text) : key;
}

/* ---- values ---- */

static char *
number_words (WordsLang lang, const char *part)
{
  double v;

  return core_number_parse (part, &v) ? words_number (lang, v, 3) : g_strdup (part);
}

static char *
list_words (WordsLang lang, const char *value, const char *between)
{
  g_auto (GStrv) parts = g_strsplit (value, ";", -1);
  GString *out = g_string_new (NULL);

  for (guint i = 0; parts[i] != NULL; i++)
    {
      g_autofree char *number = number_words (lang, g_strstrip (parts[i]));

      if (number[0] != '\0')
        g_string_append_printf (out, "%s%s", out->len > 0 ? between : "",
                                strcmp (number, "-") == 0 ? "–" : number);
    }
  return g_string_free (out, FALSE);
}

static char *
chances_words (WordsLang lang, const char *value)
{
  g_auto (GStrv) parts = g_strsplit (value, ";", -1);
  GString *out = g_string_new (NULL);

  for (guint i = 0; parts[i] != NULL; i++)
    {
      g_auto (GStrv) two = g_strsplit (parts[i], ":", 2);
      g_autofree char *percent = NULL;
      double p;

      if (two[0] == NULL || two[1] == NULL || !core_number_parse (g_strstrip (two[1]), &p))
        continue;
      percent = words_number (lang, 100 * p, 1);
      g_string_append_printf (out, "%s%s: %s %%", out->len > 0 ? ", " : "", g_strstrip (two[0]),
                              percent);
    }
  return g_string_free (out, FALSE);
}

static char *
prey_words (WordsLang lang, const char *value)
{
  const char *const *names = core_kind_key (CORE_KIND_FED, CORE_KEY_PREY)->words;
  g_auto (GStrv) parts = g_strsplit (value, ";", -1);
  GString *out = g_string_new (NULL);

  for (guint i = 0; parts[i] != NULL; i++)
    {
      int prey = core_word_index (names, g_strstrip (parts[i]));
      g_autofree char *said = prey >= 0 ? words_prey (lang, prey, 0) : NULL;

      if (said != NULL)
        g_string_append_printf (out, "%s%s", out->len > 0 ? ", " : "", said);
    }
  if (out->len == 0)
    g_string_append (out, T_ (lang, "profile", "none"));
  return g_string_free (out, FALSE);
}

static const struct
{
  const char *word;
  WordsTerm term;
} stored[] = {
  { "true", TERM ("code", "yes") },
  { "false", TERM ("code", "no") },
  { "hardy", TERM ("profile", "hardy") },
  { "humid", TERM ("profile", "humid") },
  { "dry-hot", TERM ("profile", "dry and hot") },
  { "idolomantis", TERM ("profile", "devil's flower mantis") },
  { "either", TERM ("profile", "what was seen says it") },
  { "male", TERM ("sex", "male") },
  { "female", TERM ("sex", "female") },
};

static char *
word_words (WordsLang lang, const char *value)
{
  for (gsize i = 0; i < G_N_ELEMENTS (stored); i++)
    if (strcmp (stored[i].word, value) == 0)
      return g_strdup (T_ (lang, stored[i].term.context, stored[i].term.text));
  return g_strdup (value);
}

/* Nothing but "-", or -1 where that means "never". */
static gboolean
lacks (const Row *row, const char *value)
{
  if (row->form != WORDS_FORM_NUMBER && row->form != WORDS_FORM_SPAN && row->form != WORDS_FORM_LIST)
    return FALSE;
  return strspn (value, "-; ") == strlen (value) ||
         (row->lack == &no_need && strcmp (value, "-1") == 0);
}

static char *
plain_words (WordsLang lang, const Row *row, const char *value, const char *between)
{
  switch (row->form)
    {
    case WORDS_FORM_NUMBER:
      return number_words (lang, value);
    case WORDS_FORM_SPAN:
      return list_words (lang, value, "–");
    case WORDS_FORM_MEAN:
      return list_words (lang, value, " ± ");
    case WORDS_FORM_LIST:
      return list_words (lang, value, between);
    case WORDS_FORM_CHANCES:
      return chances_words (lang, value);
    case WORDS_FORM_PREY:
      return prey_words (lang, value);
    case WORDS_FORM_GROUP:
    case WORDS_FORM_YES_NO:
    case WORDS_FORM_SAYS:
      return word_words (lang, value);
    case WORDS_FORM_TEXT:
    default:
      return g_strdup (value);
    }
}

char *
words_profile_value (WordsLang lang, const char *group, const char *key, const char *value)
{
  const Row *row = find_row (group, key);
  g_autofree char *said = NULL;
  double v;

  if (row == NULL)
    return g_strdup (value);
  if (lacks (row, value))
    {
      const WordsTerm *lack = row->lack != NULL ? row->lack : &unknown;

      return g_strdup (T_ (lang, lack->context, lack->text));
    }
  if (row->unit == UNIT_DAYS && row->form == WORDS_FORM_NUMBER && core_number_parse (value, &v))
    return words_days (lang, v);
  if (row->unit == UNIT_MOULTS && core_number_parse (value, &v))
    return g_strdup_printf (TN_ (lang, "profile", "%u moult", "%u moults", (gulong) v), (guint) v);
  said = plain_words (lang, row, value, " · ");
  if (row->unit == UNIT_NONE)
    return g_steal_pointer (&said);
  /* Translators: a number or a span, and its unit */
  return g_strdup_printf (T_ (lang, "profile", "%s %s"), said,
                          T_ (lang, units[row->unit].context, units[row->unit].text));
}

char *
words_profile_typed (WordsLang lang, const char *group, const char *key, const char *value)
{
  const Row *row = find_row (group, key);

  if (row == NULL || row->form == WORDS_FORM_PREY || words_profile_choices (row->form) != NULL)
    return g_strdup (value);
  if (lacks (row, value))
    return g_strdup (value);
  return plain_words (lang, row, value, "; ");
}

char *
words_profile_hint (WordsLang lang, const char *group, const char *key, double min, double max)
{
  const Row *row = find_row (group, key);
  g_autofree char *lo = words_number (lang, min, 2);
  g_autofree char *hi = words_number (lang, max, 2);
  const char *unit;

  if (row == NULL)
    return g_strdup ("");
  unit = row->unit != UNIT_NONE ? T_ (lang, units[row->unit].context, units[row->unit].text) : "";
  switch ((int) row->form)
    {
    case WORDS_FORM_NUMBER:
      return g_strstrip (g_strdup_printf (T_ (lang, "profile", "From %s to %s %s"), lo, hi, unit));
    case WORDS_FORM_SPAN:
      return g_strstrip (
        g_strdup_printf (T_ (lang, "profile", "Two numbers, such as 2–3, from %s to %s %s"), lo, hi, unit));
    case WORDS_FORM_MEAN:
      return g_strdup (T_ (lang, "profile", "Mean ± spread"));
    case WORDS_FORM_LIST:
      return g_strdup (T_ (lang, "profile",
                           "Days of each stage, the hatchling first, with ; between; – takes it "
                           "from the general ladder"));
    case WORDS_FORM_CHANCES:
      return g_strdup (T_ (lang, "profile", "NUMBER: CHANCE %, together 100 %"));
    default:
      return g_strdup ("");
    }
}

/* ---- where it comes from ---- */

static char *
tag_words (WordsLang lang, const char *tag, const char *const *ids)
{
  if (strcmp (tag, "ours") == 0)
    return g_strdup (T_ (lang, "profile", "ours"));
  if (strcmp (tag, "own") == 0)
    return g_strdup (T_ (lang, "profile", "own value"));
  if (!g_str_has_prefix (tag, "measured:"))
    return g_strdup (T_ (lang, "profile", "common practice"));
  for (guint i = 0; ids != NULL && ids[i] != NULL; i++)
    if (strcmp (ids[i], tag + strlen ("measured:")) == 0)
      /* Translators: %u is the number of the source below */
      return g_strdup_printf (T_ (lang, "profile", "measured [%u]"), i + 1);
  return g_strdup (T_ (lang, "profile", "measured"));
}

char *
words_profile_from (WordsLang lang, const char *from, const char *const *ids)
{
  g_auto (GStrv) tags = g_strsplit (from, ";", -1);
  g_autoptr (GPtrArray) said = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; tags[i] != NULL; i++)
    {
      g_autofree char *words = NULL;

      if (g_strstrip (tags[i])[0] == '\0')
        continue;
      words = tag_words (lang, tags[i], ids);
      if (!g_ptr_array_find_with_equal_func (said, words, g_str_equal, NULL))
        g_ptr_array_add (said, g_steal_pointer (&words));
    }
  g_ptr_array_add (said, NULL);
  return g_strjoinv (", ", (char **) said->pdata);
}
