/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-proof.c — what stands on a proof sheet: for somebody who knows neither journal nor animal. */
#include "words/words-private.h"

#include <math.h>

const char *
words_language_tag (WordsLang lang)
{
  /* Translators: the code of your language, such as de (BCP 47) */
  return T_ (lang, "language tag", "en");
}

static char *
stage_alone (const WordsView *view, const CoreState *state, int stage, gboolean adult)
{
  int first = core_state_moults_at (state, 0);
  /* The skin of the stage before the first that is known. */
  int moults = stage == -1 && first > 0 ? first - 1 : core_state_moults_at (state, stage);
  g_autofree char *number = words_stage_number (moults, view->scheme);

  if (adult)
    return g_strdup (T_ (view->lang, "stage", "adult"));
  if (stage >= 0 && state->stages.v[stage].seen == CORE_SEEN_SUBADULT)
    return g_strdup (T_ (view->lang, "stage", "sub-adult"));
  if (moults < 0)
    return g_strdup (T_ (view->lang, "stage", "stage unknown"));
  if (!words_stage_is_about (state))
    return g_steal_pointer (&number);
  return g_strdup_printf (T_ (view->lang, "stage", "about %s"), number);
}

char *
words_proof_stage (const WordsView *view, const CoreState *state, int stage, gboolean adult, gboolean shed)
{
  g_autofree char *alone = stage_alone (view, state, stage, adult);
  g_autofree char *scheme = words_scheme (view->lang, view->scheme);

  if (shed)
    /* Translators: a stage, and "hatchling = L1" */
    return g_strdup_printf (T_ (view->lang, "proof", "shed skin of %s (%s)"), alone, scheme);
  return g_strdup_printf (T_ (view->lang, "proof", "%s (%s)"), alone, scheme);
}

char *
words_proof_verdict (const WordsView *view, const CoreSexVerdict *verdict)
{
  g_autofree char *said = words_verdict (view, verdict, NULL);
  g_autofree char *chance = words_percent (view->lang, MAX (verdict->male, verdict->female));

  if (verdict->verdict != CORE_VERDICT_FIRM_MALE && verdict->verdict != CORE_VERDICT_FIRM_FEMALE)
    return g_steal_pointer (&said);
  /* Translators: "Female." and "over 99 in 100" */
  return g_strdup_printf (T_ (view->lang, "proof", "%s The chance that it is so: %s."), said, chance);
}

/* What whoever counts again must know: is the small plate among them? NULL: nobody was asked. */
static const char *
small_plate_said (WordsLang lang, int small_plate)
{
  switch (small_plate)
    {
    case CORE_SMALL_COUNTED:
      return T_ (lang, "proof", "The small plate between the hind legs is one of them.");
    case CORE_SMALL_NOT:
      return T_ (lang, "proof", "The small plate between the hind legs is none of them.");
    case CORE_SMALL_UNKNOWN:
      return T_ (lang, "proof", "Whether the small plate between the hind legs is one of them was not to be seen.");
    default:
      return NULL;
    }
}

char *
words_proof_lines (WordsLang lang, const WordsProofLines *lines)
{
  g_autoptr (GString) said = g_string_new (NULL);
  const char *small = small_plate_said (lang, lines->small_plate);

  g_string_append_printf (
    said,
    lines->by_keeper
      ? TN_ (lang, "proof", "%d plate, marked or confirmed by the keeper.",
             "%d plates, marked or confirmed by the keeper.", (gulong) lines->plates)
      : TN_ (lang, "proof", "%d plate, proposed by the program and confirmed by nobody.",
             "%d plates, proposed by the program and confirmed by nobody.", (gulong) lines->plates),
    lines->plates);
  if (small != NULL)
    g_string_append_printf (said, " %s", small);
  if (lines->axis_open)
    g_string_append_printf (said, " %s", T_ (lang, "proof", "Nobody said that base and tip lie right."));
  if (lines->bands)
    g_string_append_printf (said, " %s", T_ (lang, "proof", "The pale bands show how far off a line may lie."));
  return g_string_free (g_steal_pointer (&said), FALSE);
}

char *
words_proof_scale (const WordsView *view, const WordsProofScale *scale)
{
  g_autofree char *px = NULL, *mm = NULL, *day = NULL;
  int percent;

  if (scale == NULL)
    return g_strdup (T_ (view->lang, "proof", "No scale is known: no length can be read off this sheet."));
  px = words_number (view->lang, scale->px_per_mm, scale->px_per_mm < 10 ? 2 : 1);
  mm = words_number (view->lang, scale->mm, 1);
  percent = MAX (1, (int) ceil (scale->share * 100));
  if (scale->day == CORE_DAY_NONE)
    /* Translators: pixels, an error in 100, millimetres */
    return g_strdup_printf (T_ (view->lang, "proof",
                                "%s pixels are one millimetre, give or take %d in 100, by %s mm marked in the picture: "
                                "good where they lay as near to the camera as the animal."),
                            px, percent, mm);
  day = words_day (view, scale->day, WORDS_DAY_FULL);
  /* Translators: pixels, an error in 100, millimetres, a day */
  return g_strdup_printf (T_ (view->lang, "proof",
                              "%s pixels are one millimetre, give or take %d in 100: the abdomen, from mark to "
                              "mark, was measured as %s mm on %s."),
                          px, percent, mm, day);
}

char *
words_proof_made (const WordsView *view, CoreDay taken, CoreDay made)
{
  g_autofree char *sheet = words_day (view, made, WORDS_DAY_FULL);
  g_autofree char *picture = NULL;

  if (taken == CORE_DAY_NONE)
    /* Translators: a day, the version */
    return g_strdup_printf (T_ (view->lang, "proof", "It is not known when the picture was taken. Sheet made on %s by "
                                                     "Mantidary %s."),
                            sheet, MANTIDARY_VERSION);
  picture = words_day (view, taken, WORDS_DAY_FULL);
  /* Translators: two days, the version */
  return g_strdup_printf (T_ (view->lang, "proof", "Picture taken on %s. Sheet made on %s by Mantidary %s."), picture,
                          sheet, MANTIDARY_VERSION);
}

const char *
words_proof_check (WordsLang lang)
{
  return T_ (lang, "proof", "Count for yourself: below the lines the picture is as it was taken, pixel for pixel.");
}
