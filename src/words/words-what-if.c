/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-what-if.c — what would change, beside what is. */
#include <math.h>

#include "words/words-private.h"

/* A day either way is below what any range knows. */
static gboolean
same (const CoreForecast *now, const CoreForecast *then)
{
  if (now->why != CORE_NO_FORECAST_NONE || then->why != CORE_NO_FORECAST_NONE)
    return now->why == then->why && now->still.why == then->still.why;
  return now->still.why == then->still.why &&
         words_forecast_may_not (now) == words_forecast_may_not (then) &&
         fabs (now->days[CORE_Q10] - then->days[CORE_Q10]) < .5 &&
         fabs (now->days[CORE_Q90] - then->days[CORE_Q90]) < .5;
}

static gboolean
plain (const CoreForecast *forecast)
{
  return words_forecast_has_days (forecast) && !words_forecast_may_not (forecast);
}

/* One of both is more than a range of days: each is a sentence. */
static char *
in_sentences (const WordsView *view, const CoreForecast *now, const CoreForecast *then)
{
  g_autofree char *after = words_sentence (words_forecast (view, then));
  g_autofree char *before = words_forecast (view, now);

  /* Translators: what would be, a sentence; what is */
  return g_strdup_printf (T_ (view->lang, "what if", "%s As it is now: %s."), after, before);
}

char *
words_what_if_unknown (const WordsView *view, guint unknown)
{
  g_autoptr (GPtrArray) said = g_ptr_array_new ();

  if (unknown & WORDS_WHAT_IF_FOOD)
    g_ptr_array_add (said, (char *) T_ (view->lang, "what if",
                                        "How food changes the pace is not known: on less of it later, if anything, on "
                                        "more sooner."));
  if (unknown & WORDS_WHAT_IF_NO_WARMTH)
    g_ptr_array_add (said, (char *) T_ (view->lang, "what if",
                                        "No temperature is known for that place: this is for what its kind is kept "
                                        "at, a guess."));
  g_ptr_array_add (said, NULL);
  return said->len > 1 ? g_strjoinv (" ", (char **) said->pdata) : NULL;
}

static char *
with_unknown (const WordsView *view, char *said, guint unknown)
{
  g_autofree char *text = said;
  g_autofree char *more = words_what_if_unknown (view, unknown);

  return more != NULL ? g_strconcat (text, " ", more, NULL) : g_steal_pointer (&text);
}

static char *
moult_said (const WordsView *view, const CoreForecast *now, const CoreForecast *then, guint unknown)
{
  gboolean days = plain (now);
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;

  if (same (now, then))
    {
      before = days ? words_forecast_range (view, now) : words_forecast (view, now);
      if (days && unknown & WORDS_WHAT_IF_FOOD)
        /* Translators: a range of days */
        return g_strdup_printf (T_ (view->lang, "what if", "By warmth alone the next moult is %s, as now."), before);
      /* Translators: a range of days, or a sentence, that would not change */
      return g_strdup_printf (days ? T_ (view->lang, "what if", "Next moult as now: %s.")
                                   : T_ (view->lang, "what if", "As it is now: %s."),
                              before);
    }
  if (!days || !plain (then))
    return in_sentences (view, now, then);
  before = words_forecast_range (view, now);
  after = words_forecast_range (view, then);
  /* Translators: two ranges of days, the present one first */
  return g_strdup_printf (T_ (view->lang, "what if", "Next moult: %s instead of %s."), after, before);
}

char *
words_what_if_moult (const WordsView *view, const CoreForecast *now, const CoreForecast *then, guint unknown)
{
  return with_unknown (view, moult_said (view, now, then, unknown), unknown);
}

static gboolean
same_when (const CoreLotWhen *now, const CoreLotWhen *then)
{
  return fabs (now->days[0] - then->days[0]) < .5 && fabs (now->days[2] - then->days[2]) < .5;
}

static char *
lot_said (const WordsView *view, const CoreLotForecast *now, const CoreLotForecast *then, guint unknown)
{
  g_autofree char *was = words_lot_forecast (view, now);
  g_autofree char *would = words_lot_forecast (view, then);
  gboolean as_now = now->why == then->why && now->still.why == then->still.why;

  if (as_now && now->why == CORE_NO_FORECAST_NONE)
    as_now = same_when (&now->first, &then->first) && same_when (&now->median, &then->median) &&
             same_when (&now->last, &then->last);
  if (as_now && unknown & WORDS_WHAT_IF_FOOD)
    /* Translators: "first moults about 3–5 June, half of it by about …" */
    return g_strdup_printf (T_ (view->lang, "what if", "By warmth alone, as now: %s."), was);
  if (as_now)
    /* Translators: "first moults about 3–5 June, half of it by about …", which would not change */
    return g_strdup_printf (T_ (view->lang, "what if", "As now: %s."), was);
  /* Translators: what would be, and what is, each "first moults about 3–5 June, half of it by …" */
  return g_strdup_printf (T_ (view->lang, "what if", "It would be: %s. As it is: %s."), would, was);
}

char *
words_what_if_lot (const WordsView *view, const CoreLotForecast *now, const CoreLotForecast *then, guint unknown)
{
  return with_unknown (view, lot_said (view, now, then, unknown), unknown);
}

char *
words_what_if_meal (const WordsView *view, CoreDay now, CoreDay now_after, CoreDay then, CoreDay then_after)
{
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  g_autofree char *after_next = NULL;

  if (then == CORE_DAY_NONE)
    return g_strdup (T_ (view->lang, "what if", "No meal is due in the next four weeks."));
  after = words_day (view, then, WORDS_DAY_SHORT);
  after_next = then_after != CORE_DAY_NONE ? words_day (view, then_after, WORDS_DAY_SHORT) : g_strdup ("–");
  if (now == then && now_after == then_after)
    /* Translators: two days */
    return g_strdup_printf (T_ (view->lang, "what if", "Next meals as now: %s and %s."), after, after_next);
  before = now != CORE_DAY_NONE ? words_day (view, now, WORDS_DAY_SHORT) : g_strdup ("–");
  /* Translators: the next two days of food as they would be, and the next one as it is */
  return g_strdup_printf (T_ (view->lang, "what if", "Next meals: %s and %s; as it is, %s."), after, after_next, before);
}
