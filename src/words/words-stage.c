/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-stage.c — kinds, and stages in the keeper's scheme.
 *
 * Adult and sub-adult are seen, so they are said plainly; an L-number that is
 * not counted from the hatch wears "about".
 */
#include <math.h>

#include "core/core-lot.h"
#include "words/words-private.h"

const char *
words_profile_name (WordsLang lang, const CoreProfile *profile)
{
  const char *const *languages = g_get_language_names ();

  if (lang == WORDS_LOCAL && languages[0] != NULL && g_str_has_prefix (languages[0], "de") &&
      profile->common_de[0] != '\0')
    return profile->common_de;
  return profile->common[0] != '\0' ? profile->common : profile->scientific;
}

const char *
words_species (WordsLang lang, const CoreProfile *profile, const char *typed)
{
  if (profile != NULL)
    return words_profile_name (lang, profile);
  return typed[0] != '\0' ? typed : T_ (lang, "species", "kind unknown");
}

static int
l_number (int moults, int scheme)
{
  return moults + (scheme == 2 ? 2 : 1);
}

char *
words_stage_number (int moults, int scheme)
{
  if (moults < 0)
    return g_strdup ("");
  return g_strdup_printf ("L%d", l_number (moults, scheme));
}

char *
words_scheme (WordsLang lang, int scheme)
{
  /* Translators: which L-number the walking hatchling has */
  return g_strdup_printf (T_ (lang, "stage", "hatchling = L%d"), l_number (0, scheme));
}

gboolean
words_stage_is_about (const CoreState *state)
{
  return state->basis != CORE_BASIS_COUNTED || state->moults_sd > 0.3;
}

/* A neighbour this near to the likeliest number is said with it (ours). */
#define AS_LIKELY .8

/* The numbers of moults that are about as likely as the likeliest, which must be known. */
static void
likeliest (const CoreState *state, int *lo, int *hi)
{
  const double *p = state->moults_p;
  double least = AS_LIKELY * p[state->moults];

  *lo = *hi = state->moults;
  while (*lo > 0 && least > 0 && p[*lo - 1] >= least)
    (*lo)--;
  while (*hi < CORE_MAX_MOULTS && least > 0 && p[*hi + 1] >= least)
    (*hi)++;
}

/* "L5"; where two or more are about as likely "L3–L4". */
static char *
numbers_said (const WordsView *view, const CoreState *state)
{
  g_autofree char *first = NULL, *last = NULL;
  int lo, hi;

  likeliest (state, &lo, &hi);
  first = words_stage_number (lo, view->scheme);
  if (lo == hi)
    return g_steal_pointer (&first);
  last = words_stage_number (hi, view->scheme);
  return g_strconcat (first, "–", last, NULL);
}

/* No L-number is said of it. */
static gboolean
is_said_plainly (const CoreState *state)
{
  return state->adult || state->subadult || state->probably_adult || state->moults < 0;
}

/* Is the moult that began this stage the one to adult? It is where it was entered as such, or
 * where the stage before was sub-adult; else one may be missing since. */
static gboolean
moulted_to_adult (const CoreState *state)
{
  gsize n = state->stages.n;
  const CoreStage *stage = core_state_stage_now (state);

  if (stage == NULL || stage->start != CORE_START_MOULTED || !isfinite (stage->lo) ||
      !isfinite (stage->hi))
    return FALSE;
  return core_id_equal (stage->entry, state->adult_entry) ||
         (n > 1 && state->stages.v[n - 2].seen == CORE_SEEN_SUBADULT);
}

/* Adult since the moult, whose day is a window; where that is not known, since before it was
 * seen to be. */
static char *
adult_since (const WordsView *view, const CoreState *state)
{
  const CoreStage *stage = core_state_stage_now (state);
  gboolean window = moulted_to_adult (state);
  CoreDay lo = window ? (CoreDay) floor (stage->lo) + 1 : state->adult_seen;
  CoreDay hi = window ? (CoreDay) ceil (stage->hi) : state->adult_seen;
  g_autofree char *day = lo < hi ? words_day_range (view, lo, hi) : NULL;

  if (day == NULL)
    day = words_day (view, hi, WORDS_DAY_SHORT);
  if (stage != NULL && !window)
    /* Translators: a day: "adult since 3 Sep or before" */
    return g_strdup_printf (T_ (view->lang, "stage", "adult since %s or before"), day);
  /* Translators: a day or the days between which it moulted: "adult since 9–14 June" */
  return g_strdup_printf (T_ (view->lang, "stage", "adult since %s"), day);
}

/* Some of a lot are a moult ahead of the others. */
static gboolean
is_parted (const CoreState *state)
{
  gint64 least, most = 0;

  if (state->kind == CORE_SUBJECT_LOT)
    core_lot_ahead (state, &least, &most);
  return most > 0;
}

/* "12 in L2, 5 in L3"; where it is not known of how many "L2, 3–5 in L3". */
static char *
parted (const WordsView *view, const CoreState *lot, char *plain_taken)
{
  g_autofree char *plain = plain_taken, *next = NULL, *n = NULL;
  const CoreTally *tally = &lot->tally;
  gint64 least, most;

  if (!is_parted (lot))
    return g_steal_pointer (&plain);
  core_lot_ahead (lot, &least, &most);
  n = least == most ? g_strdup_printf ("%" G_GINT64_FORMAT, most)
                    : g_strdup_printf ("%" G_GINT64_FORMAT "–%" G_GINT64_FORMAT, least, most);
  if (is_said_plainly (lot))
    /* Translators: the stage of a lot, and how many of it moulted before the others */
    return g_strdup_printf (T_ (view->lang, "stage", "%1$s, %2$s of them a moult ahead"), plain, n);
  next = words_stage_number (lot->moults + 1, view->scheme);
  if (least == most && tally->known && tally->counted && most < tally->count)
    /* Translators: of a lot, how many are in which stage: "12 in L2, 5 in L3" */
    return g_strdup_printf (T_ (view->lang, "stage", "%1$u in %2$s, %3$s in %4$s"),
                            (guint) (tally->count - most), plain, n, next);
  /* Translators: of a lot, its stage, and how many are in the next: "L2, 3–5 in L3" */
  return g_strdup_printf (T_ (view->lang, "stage", "%1$s, %2$s in %3$s"), plain, n, next);
}

static char *
one_stage (const WordsView *view, const CoreState *state)
{
  g_autofree char *number = NULL;

  if (state->adult)
    return state->adult_seen == CORE_DAY_NONE ? g_strdup (T_ (view->lang, "stage", "adult"))
                                              : adult_since (view, state);
  if (state->subadult)
    return g_strdup (T_ (view->lang, "stage", "sub-adult"));
  if (state->probably_adult)
    return g_strdup (T_ (view->lang, "stage", "probably adult"));
  if (state->moults < 0)
    return g_strdup (T_ (view->lang, "stage", "stage unknown"));
  number = numbers_said (view, state);
  if (!words_stage_is_about (state))
    return g_steal_pointer (&number);
  return g_strdup_printf (T_ (view->lang, "stage", "about %s"), number);
}

char *
words_stage (const WordsView *view, const CoreState *state)
{
  return parted (view, state, one_stage (view, state));
}

/* Some of a lot are in the next stage: "L2–L3". */
static char *
brief_span (const WordsView *view, const CoreState *lot)
{
  g_autofree char *here = words_stage_number (lot->moults, view->scheme);
  g_autofree char *next = words_stage_number (lot->moults + 1, view->scheme);

  return g_strconcat (here, "–", next, NULL);
}

char *
words_stage_brief (const WordsView *view, const CoreState *state)
{
  g_autofree char *number = NULL;

  if (state->adult)
    return g_strdup (T_ (view->lang, "stage", "adult"));
  if (state->subadult)
    return g_strdup (T_ (view->lang, "stage brief", "sub"));
  if (state->probably_adult)
    return g_strdup (T_ (view->lang, "stage brief", "adult?"));
  if (state->moults < 0)
    return g_strdup ("?");
  if (is_parted (state))
    return brief_span (view, state);
  number = numbers_said (view, state);
  return g_strconcat (words_stage_is_about (state) ? "~" : "", number, NULL);
}

/* "fifth stage"; beyond the table "stage 16". */
char *
words_stage_ordinal (WordsLang lang, int number)
{
  static const WordsTerm table[] = {
    TERM ("stage", "first stage"),      TERM ("stage", "second stage"),
    TERM ("stage", "third stage"),      TERM ("stage", "fourth stage"),
    TERM ("stage", "fifth stage"),      TERM ("stage", "sixth stage"),
    TERM ("stage", "seventh stage"),    TERM ("stage", "eighth stage"),
    TERM ("stage", "ninth stage"),      TERM ("stage", "tenth stage"),
    TERM ("stage", "eleventh stage"),   TERM ("stage", "twelfth stage"),
    TERM ("stage", "thirteenth stage"), TERM ("stage", "fourteenth stage"),
  };

  if (number < 1 || number > (int) G_N_ELEMENTS (table))
    return g_strdup_printf (T_ (lang, "stage", "stage %d"), number);
  return g_strdup (words_term (lang, table, G_N_ELEMENTS (table), number - 1));
}

/* "fifth stage", "about the fifth stage", "sub-adult", "adult since 3 Sep", "stage unknown". */
char *
words_stage_phrase (const WordsView *view, const CoreState *state)
{
  g_autofree char *ordinal = NULL;
  int lo, hi;

  if (is_said_plainly (state) || is_parted (state))
    return words_stage (view, state);
  likeliest (state, &lo, &hi);
  if (lo != hi)
    return words_stage (view, state);
  ordinal = words_stage_ordinal (view->lang, l_number (state->moults, view->scheme));
  if (!words_stage_is_about (state))
    return g_steal_pointer (&ordinal);
  /* Translators: %s is "fifth stage" */
  return g_strdup_printf (T_ (view->lang, "stage", "about the %s"), ordinal);
}

char *
words_stage_long (const WordsView *view, const CoreState *state)
{
  g_autofree char *phrase = words_stage_phrase (view, state);
  g_autofree char *scheme = words_scheme (view->lang, view->scheme);

  if (is_said_plainly (state))
    return g_steal_pointer (&phrase);
  /* Translators: "fifth stage" and "hatchling = L1" */
  return g_strdup_printf (T_ (view->lang, "stage", "%s (%s)"), phrase, scheme);
}
