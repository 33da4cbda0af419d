/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-photo.c — what a picture can carry, and how to retake one that cannot. */
#include "words/words-private.h"

char *
words_unusable (WordsLang lang, WordsUnusable why)
{
  static const WordsTerm table[] = {
    [WORDS_UNUSABLE_SHORT] =
      TERM ("unusable", "The abdomen is too small in the picture. Go closer, or clip a macro lens "
                        "on."),
    [WORDS_UNUSABLE_BLUR] =
      TERM ("unusable", "The picture is not sharp on the belly. Hold still, tap on the belly to "
                        "focus, take three."),
    [WORDS_UNUSABLE_GLARE] =
      TERM ("unusable", "Light glares on the belly. No flash; wipe the wall, light from the side."),
    [WORDS_UNUSABLE_CONTRAST] =
      TERM ("unusable", "The plates hardly differ in light. Light from one side, low, so that "
                        "each edge throws a line."),
    [WORDS_UNUSABLE_WEAK] =
      TERM ("unusable", "No plates stand out clearly. Take another with the belly stretched, from "
                        "straight below."),
    [WORDS_UNUSABLE_NO_ANIMAL] =
      TERM ("unusable", "No abdomen is found along these marks. Set them from the base to the tip "
                        "of the abdomen."),
    [WORDS_UNUSABLE_BACK] =
      TERM ("unusable", "This is the back: it shows ten rings in both sexes. Take one of the "
                        "underside."),
    [WORDS_UNUSABLE_FLANK] =
      TERM ("unusable", "From the side the plates cannot be counted. Take one of the underside."),
    [WORDS_UNUSABLE_AXIS] =
      TERM ("unusable", "The marks lie too close together or outside the picture. Set them on the "
                        "base and the tip of the abdomen."),
    [WORDS_UNUSABLE_CROSSED] =
      TERM ("unusable", "The line through the marks crosses itself or doubles back. Put them one "
                        "after another from the base to the tip."),
  };
  G_STATIC_ASSERT (G_N_ELEMENTS (table) == WORDS_N_UNUSABLE);

  return g_strdup (words_term (lang, table, G_N_ELEMENTS (table), (int) why));
}

const char *
words_photo_undated (WordsLang lang)
{
  return T_ (lang, "photo",
             "The picture names no day: it is entered as of today and is no proof that the animal "
             "was seen today. Give the day on which it was taken if you know it.");
}

char *
words_photo_wrong_day (const WordsView *view, CoreWrongDay why, CoreDay day)
{
  /* Translators: {1} is a day */
  static const WordsTerm table[] = {
    [CORE_WRONG_DAY_AHEAD] = TERM ("photo", "The camera says {1}, a day still to come: its clock was wrong."),
    [CORE_WRONG_DAY_LONG_AGO] = TERM ("photo", "The camera says {1}, far too long ago: its clock was not set."),
    [CORE_WRONG_DAY_HATCH] = TERM ("photo", "The camera says {1}, before the hatch: its clock was wrong."),
    [CORE_WRONG_DAY_LAID] = TERM ("photo", "The camera says {1}, before the laying: its clock was wrong."),
  };
  g_autofree char *words = NULL;
  const char *format;

  if (why == CORE_WRONG_DAY_NONE)
    return NULL;
  words = words_day (view, day, WORDS_DAY_FULL);
  format = words_term (view->lang, table, G_N_ELEMENTS (table), (int) why);
  return words_fill (format, (const char *const[]){ words, NULL });
}

char *
words_photo_clock_wrong (const WordsView *view, CoreWrongDay why, CoreDay day)
{
  g_autofree char *wrong = words_photo_wrong_day (view, why, day);

  return wrong == NULL ? NULL
                       : g_strdup_printf ("%s %s", wrong,
                                          T_ (view->lang, "photo",
                                              "The picture is entered as of today and is no proof that the animal was seen "
                                              "today. Give the day on which it was taken if you know it."));
}

char *
words_shown_stage (const WordsView *view, const WordsShown *shown)
{
  g_autofree char *number = NULL;

  if (shown->adult)
    return g_strdup (T_ (view->lang, "stage", "adult"));
  if (shown->subadult)
    return g_strdup (T_ (view->lang, "stage", "sub-adult"));
  if (shown->moults < 0)
    return g_strdup (T_ (view->lang, "stage", "stage unknown"));
  number = words_stage_number (shown->moults, view->scheme);
  if (!shown->about)
    return g_steal_pointer (&number);
  return g_strdup_printf (T_ (view->lang, "stage", "about %s"), number);
}

char *
words_shown_kind (WordsLang lang, const WordsShown *shown)
{
  static const WordsTerm sides[] = {
    [CORE_SIDE_UNDERSIDE] = TERM ("picture", "underside"),
    [CORE_SIDE_BACK] = TERM ("picture", "back"),
    [CORE_SIDE_FLANK] = TERM ("picture", "side view"),
  };
  const char *side =
    shown->side >= 0 ? words_term (lang, sides, G_N_ELEMENTS (sides), shown->side) : NULL;

  if (shown->of == CORE_OF_SHED)
    return side == NULL ? g_strdup (T_ (lang, "picture", "shed skin"))
                        /* Translators: "underside", "back", "side view" */
                        : g_strdup_printf (T_ (lang, "picture", "shed skin, %s"), side);
  return g_strdup (side != NULL ? side : T_ (lang, "picture", "side not said yet"));
}

const char *
words_how_to_photograph (WordsLang lang)
{
  return T_ (lang, "photo",
             "Through the clean wall of a clear cup, from below, in line with the belly. Light "
             "from one side and low, no flash. The belly fed and stretched. Wait until it is "
             "still; never chill it for a photo, five minutes at most, no lamp close by. Best of "
             "all is the shed skin, spread, underside up: it shows the stage before the moult and "
             "disturbs nobody.");
}

static char *
count_one (WordsLang lang, int plates, double p)
{
  g_autofree char *chance = words_percent (lang, p);

  if (plates <= 0)
    return g_strdup_printf (T_ (lang, "count", "no plates seen, %s"), chance);
  return g_strdup_printf (TN_ (lang, "count", "%d plate, %s", "%d plates, %s", (gulong) plates),
                          plates, chance);
}

char *
words_count (WordsLang lang, int first, double p_first, int second, double p_second)
{
  g_autofree char *one = count_one (lang, first, p_first);
  g_autofree char *two = count_one (lang, second, p_second);
  g_autofree char *both = g_strjoin (T_ (lang, "entry list", "; "), one, two, NULL);

  return words_sentence (g_steal_pointer (&both));
}
