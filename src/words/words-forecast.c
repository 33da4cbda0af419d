/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-forecast.c — the next moult as a range, and what is said of a whole animal or shelf.
 *
 * A single day is never said of a moult to come.
 */
#include <math.h>

#include "words/words-private.h"

/* From this chance on it is said that it may have moulted unseen (ours). */
#define MAY_HAVE .25
/* From this chance on it is said beside the range that none may come at this temperature (ours). */
#define MAY_NOT .1

const char *
words_no_forecast (WordsLang lang, CoreNoForecast why)
{
  static const WordsTerm table[] = {
    [CORE_NO_FORECAST_NONE] = TERM ("no forecast", "a moult is expected"),
    [CORE_NO_FORECAST_DEAD] = TERM ("no forecast", "no moult to come: it is dead"),
    [CORE_NO_FORECAST_LEFT] = TERM ("no forecast", "no forecast: it has left"),
    [CORE_NO_FORECAST_ESCAPED] = TERM ("no forecast", "no forecast: it has escaped"),
    [CORE_NO_FORECAST_ADULT] = TERM ("no forecast", "adult: no moult to come"),
    [CORE_NO_FORECAST_NO_START] =
      TERM ("no forecast", "no forecast: enter its hatch, arrival or last moult"),
    [CORE_NO_FORECAST_NOT_AN_ANIMAL] = TERM ("no forecast", "no forecast: not a single animal"),
    [CORE_NO_FORECAST_EMPTY] = TERM ("no forecast", "no forecast: none are left in this lot"),
    [CORE_NO_FORECAST_TOO_COLD] =
      TERM ("no forecast", "no forecast: too cold, or too hot, to grow where it stands"),
  };

  return words_term (lang, table, G_N_ELEMENTS (table), (int) why);
}

const char *
words_no_forecast_id (CoreNoForecast why)
{
  static const char *const table[] = { "none",  "dead",     "left",          "escaped",
                                       "adult", "no_start", "not_an_animal", "too_cold",
                                       "empty" };

  return (gsize) why < G_N_ELEMENTS (table) ? table[why] : "none";
}

/* A range is never said as one day: where both ends fall together the next day joins. */
static char *
moult_range (const WordsView *view, CoreDay lo, CoreDay hi)
{
  return words_day_range (view, lo, hi > lo ? hi : lo + 1);
}

/* A moult of the coming night belongs to the day that ends tomorrow evening; whoever reads the
 * range by day must not take the hours before that for free. */
#define TONIGHT .5

CoreDay
words_forecast_from (const CoreForecast *forecast)
{
  if (forecast->p10 == CORE_DAY_NONE || !(forecast->days[CORE_Q10] > 0) ||
      !(forecast->days[CORE_Q10] <= TONIGHT))
    return forecast->p10;
  return forecast->p10 - 1;
}

/* The dates are those of the contract, today + ⌈days⌉: the hours before tomorrow's evening are
 * tomorrow's, and are said as such. */
char *
words_forecast_range (const WordsView *view, const CoreForecast *forecast)
{
  g_autofree char *last = NULL;

  if (words_forecast_from (forecast) == forecast->p10)
    return moult_range (view, forecast->p10, forecast->p90);
  if (forecast->p90 <= forecast->p10)
    return g_strdup (T_ (view->lang, "forecast", "tonight or tomorrow"));
  last = words_day (view, forecast->p90, WORDS_DAY_SHORT);
  /* Translators: a day: "tonight to 7 May", put behind "next moult about" */
  return g_strdup_printf (T_ (view->lang, "forecast", "tonight to %s"), last);
}

gboolean
words_forecast_doubtful (const CoreForecast *forecast)
{
  return forecast->why == CORE_NO_FORECAST_NONE && forecast->not_normal > .5;
}

gboolean
words_forecast_rough (const CoreState *state, gboolean species_known)
{
  return !species_known || state->basis == CORE_BASIS_UNKNOWN || state->moults < 0;
}

gboolean
words_forecast_has_days (const CoreForecast *forecast)
{
  return forecast->why == CORE_NO_FORECAST_NONE && forecast->still.why == CORE_STILL_NOT &&
         !words_forecast_doubtful (forecast) && !forecast->probably_moulted;
}

gboolean
words_forecast_may_not (const CoreForecast *forecast)
{
  return forecast->beyond >= MAY_NOT;
}

gboolean
words_forecast_none_expected (const CoreForecast *forecast)
{
  return forecast->still.why != CORE_STILL_NOT && !words_forecast_doubtful (forecast);
}

/* "; by day it wants 22 °C to 28 °C", where its kind's band is known. */
static char *
what_it_wants (const WordsView *view, const CoreStandstill *still)
{
  g_autofree char *lo = words_quantity (view, still->day_lo, CORE_UNIT_CELSIUS);
  g_autofree char *hi = words_quantity (view, still->day_hi, CORE_UNIT_CELSIUS);

  if (!isfinite (still->day_lo) || !isfinite (still->day_hi))
    return g_strdup ("");
  /* Translators: two temperatures; what comes before is why no moult is to be expected */
  return g_strdup_printf (T_ (view->lang, "forecast", "; by day it wants %s to %s"), lo, hi);
}

char *
words_standstill (const WordsView *view, const CoreStandstill *still)
{
  g_autofree char *mean = words_quantity (view, still->mean_c, CORE_UNIT_CELSIUS);
  g_autofree char *wants = what_it_wants (view, still);

  if (still->why == CORE_STILL_REST)
    /* Translators: %s is a temperature */
    return g_strdup_printf (
      T_ (view->lang, "forecast", "no moult to be expected while it rests in the cold, at about %s"), mean);
  if (still->why == CORE_STILL_HOT)
    /* Translators: a temperature; "; by day it wants 22 °C to 28 °C" */
    return g_strdup_printf (T_ (view->lang, "forecast",
                                "no moult to be expected while it stands at about %s: too hot, and "
                                "heat kills%s"),
                            mean, wants);
  /* Translators: a temperature; "; by day it wants 22 °C to 28 °C" */
  return g_strdup_printf (
    T_ (view->lang, "forecast",
        "no moult to be expected while it stands at about %s: too cold to grow%s"),
    mean, wants);
}

/* It may have come before it got so cold, or so hot. */
static char *
none_expected (const WordsView *view, const CoreForecast *forecast)
{
  g_autofree char *none = words_standstill (view, &forecast->still);
  g_autofree char *now = words_percent (view->lang, forecast->by_now);

  if (!(forecast->by_now >= MAY_HAVE))
    return g_steal_pointer (&none);
  /* Translators: why no moult is to be expected; a chance */
  return g_strdup_printf (
    T_ (view->lang, "forecast", "%s; it may have moulted before, unseen (%s): look"), none, now);
}

/* No day is said of a moult that most likely does not come. */
static char *
doubtful (const WordsView *view, const CoreForecast *forecast)
{
  if (forecast->doubt == CORE_DOUBT_WINGS)
    return g_strdup (T_ (view->lang, "forecast", "probably adult: are the wings full?"));
  if (forecast->doubt == CORE_DOUBT_ADULT)
    return g_strdup (T_ (view->lang, "forecast",
                         "longer than usual; whether a moult comes is doubtful: already adult, or "
                         "a wrong date?"));
  return g_strdup (T_ (view->lang, "forecast",
                       "longer than usual; whether a moult comes is doubtful: a missed moult, or a "
                       "wrong date?"));
}

/* Its skin was seen to split: it moults then, or has. */
static gboolean
was_moulting (const CoreForecast *forecast)
{
  return forecast->moulting == CORE_SIGN_SPLITTING && !forecast->overlooked &&
         forecast->days[CORE_Q75] <= 1;
}

static char *
skin_split (const WordsView *view, const CoreForecast *forecast)
{
  g_autofree char *day = words_day (view, forecast->moulting_day, WORDS_DAY_SHORT);
  g_autofree char *range = words_day_range (view, forecast->moulting_day, forecast->moulting_day + 1);

  if (forecast->moulting_day >= view->today)
    return g_strdup (T_ (view->lang, "forecast", "moulting now: its skin is splitting"));
  /* Translators: a range of two days; a day */
  return g_strdup_printf (
    T_ (view->lang, "forecast", "has most probably moulted, %s: its skin was splitting on %s; look"), range,
    day);
}

/* Nobody looked while it was due. */
static char *
moulted_unseen (const WordsView *view, const CoreForecast *forecast)
{
  g_autofree char *day = words_day (view, forecast->last_look, WORDS_DAY_SHORT);

  if (forecast->overlooked && forecast->last_look != CORE_DAY_NONE)
    /* Translators: "it has probably moulted, and the looks up to 1 Mar did not tell: look again" */
    return g_strdup_printf (
      T_ (view->lang, "forecast", "has probably moulted, and the looks up to %s did not tell: look again"), day);
  if (forecast->last_look == CORE_DAY_NONE)
    return g_strdup (
      T_ (view->lang, "forecast", "has probably moulted since it was last seen: look"));
  /* Translators: "has probably moulted since it was last seen, 1 Mar: look" */
  return g_strdup_printf (
    T_ (view->lang, "forecast", "has probably moulted since it was last seen, %s: look"), day);
}

char *
words_forecast_of (const WordsView *view, const CoreState *state, const CoreForecast *forecast)
{
  g_autofree char *text = words_forecast (view, forecast);
  g_autofree char *rough = NULL;
  g_autofree char *day = NULL;

  if (words_forecast_has_days (forecast) && words_forecast_rough (state, state->species[0] != '\0'))
    /* Translators: "next moult about 3–9 December, a rough guess" */
    rough = g_strdup_printf (T_ (view->lang, "forecast", "%s, a rough guess"), text);
  else
    rough = g_steal_pointer (&text);
  if (!core_state_looks_dead (state))
    return g_steal_pointer (&rough);
  day = words_day (view, state->looks_dead, WORDS_DAY_SHORT);
  /* Translators: a day, and what is forecast of a living one: "looked dead 3 Dec; if it lives, next
   * moult about 3–9 December" */
  return g_strdup_printf (T_ (view->lang, "forecast", "looked dead %s; if it lives, %s"), day, rough);
}

gboolean
words_stage_stale (const CoreForecast *forecast)
{
  return forecast != NULL && forecast->why == CORE_NO_FORECAST_NONE &&
         (forecast->probably_moulted || forecast->by_now > .5);
}

/* What was seen long ago is not asserted of today. */
static char *
stage_then (const WordsView *view, char *stage, const CoreForecast *forecast)
{
  g_autofree char *said = stage;
  g_autofree char *day = NULL;

  if (!words_stage_stale (forecast))
    return g_steal_pointer (&said);
  day = words_day (view, forecast->last_look, WORDS_DAY_SHORT);
  if (forecast->last_look == CORE_DAY_NONE)
    /* Translators: a stage: "fifth stage, perhaps one further by now" */
    return g_strdup_printf (T_ (view->lang, "stage", "%s, perhaps further by now"), said);
  /* Translators: a stage and a day: "fifth stage when last seen, 3 Mar" */
  return g_strdup_printf (T_ (view->lang, "stage", "%s when last seen, %s"), said, day);
}

/* The range as it is said, where its days may be. */
static char *
range_said (const WordsView *view, const CoreForecast *forecast)
{
  g_autofree char *range = words_forecast_range (view, forecast);

  if (forecast->seen_past_range)
    /* Translators: %s is a range of days */
    return g_strdup_printf (
      T_ (view->lang, "forecast", "longer than usual in this stage, next moult perhaps %s"), range);
  if (forecast->by_now >= MAY_HAVE)
    /* Translators: %s is a range of days; it may have moulted unseen */
    return g_strdup_printf (T_ (view->lang, "forecast", "next moult about %s, perhaps past: look"),
                            range);
  return g_strdup_printf (T_ (view->lang, "forecast", "next moult about %s"), range);
}

char *
words_forecast (const WordsView *view, const CoreForecast *forecast)
{
  g_autofree char *range = NULL;
  g_autofree char *none = NULL;

  if (words_forecast_none_expected (forecast))
    return none_expected (view, forecast);
  if (forecast->why != CORE_NO_FORECAST_NONE)
    return g_strdup (words_no_forecast (view->lang, forecast->why));
  if (words_forecast_doubtful (forecast))
    return doubtful (view, forecast);
  if (was_moulting (forecast))
    return skin_split (view, forecast);
  if (forecast->probably_moulted)
    return moulted_unseen (view, forecast);
  range = range_said (view, forecast);
  if (!words_forecast_may_not (forecast))
    return g_steal_pointer (&range);
  none = words_percent (view->lang, forecast->beyond);
  /* Translators: "next moult about 3–9 December, or none at this temperature (30 in 100)" */
  return g_strdup_printf (T_ (view->lang, "forecast", "%s, or none at this temperature (%s)"), range,
                          none);
}

char *
words_travel (const WordsView *view, const CoreState *state, const CoreForecast *forecast)
{
  CoreDay until;
  CoreTravel why = core_travel (state, forecast, view->today, &until);
  g_autofree char *said = NULL;

  if (why == CORE_TRAVEL_FREE)
    return NULL;
  if (why == CORE_TRAVEL_SOFT)
    {
      said = words_day (view, until + 1, WORDS_DAY_FULL);
      return g_strdup_printf (
        T_ (view->lang, "travel", "By post only from %s on: after its moult it is still soft."),
        said);
    }
  said = words_forecast_of (view, state, forecast);
  /* Translators: %s is a forecast: "next moult about 3–9 December" */
  return g_strdup_printf (
    T_ (view->lang, "travel", "By post not within a week before a moult: %s."), said);
}

char *
words_adult (const WordsView *view, const CoreForecast *forecast)
{
  g_autofree char *range = NULL;

  if (forecast->why != CORE_NO_FORECAST_NONE || !forecast->has_adult ||
      forecast->still.why != CORE_STILL_NOT || words_forecast_doubtful (forecast))
    return g_strdup (T_ (view->lang, "forecast", "when it is adult cannot be said"));
  if (forecast->adult_p90 <= view->today)
    return g_strdup (T_ (view->lang, "forecast", "probably adult: are the wings full?"));
  range = moult_range (view, forecast->adult_p10, forecast->adult_p90);
  return g_strdup_printf (T_ (view->lang, "forecast", "adult about %s"), range);
}

static char *
chances_ahead (const WordsView *view, const CoreForecast *forecast)
{
  g_autofree char *now = words_percent (view->lang, forecast->by_now);
  g_autofree char *three = words_percent (view->lang, forecast->within3);
  g_autofree char *seven = words_percent (view->lang, forecast->within7);
  g_autofree char *fourteen = words_percent (view->lang, forecast->within14);

  if (forecast->by_now >= MAY_HAVE)
    return g_strdup_printf (T_ (view->lang, "forecast",
                                "already, unseen, %s, within 3 days %s, within 7 days %s, within "
                                "14 days %s"),
                            now, three, seven, fourteen);
  return g_strdup_printf (T_ (view->lang, "forecast",
                              "within 3 days %s, within 7 days %s, within 14 days %s"),
                          three, seven, fourteen);
}

char *
words_chances (const WordsView *view, const CoreForecast *forecast)
{
  g_autofree char *now = NULL;
  g_autofree char *chances = NULL;
  g_autofree char *never = NULL;

  if (forecast->why != CORE_NO_FORECAST_NONE)
    return g_strdup (words_no_forecast (view->lang, forecast->why));
  now = words_percent (view->lang, forecast->by_now);
  if (forecast->probably_moulted)
    /* Translators: %s is a chance: "96 in 100" */
    return g_strdup_printf (T_ (view->lang, "forecast", "moulted already, unseen: %s"), now);
  chances = chances_ahead (view, forecast);
  if (!words_forecast_may_not (forecast))
    return g_steal_pointer (&chances);
  never = words_percent (view->lang, forecast->beyond);
  /* Translators: chances within some days; a chance */
  return g_strdup_printf (T_ (view->lang, "forecast", "%s; none at this temperature %s"), chances,
                          never);
}

char *
words_shift (WordsLang lang, double days)
{
  g_autofree char *text = NULL;

  if (!isfinite (days) || fabs (days) < 0.25)
    return g_strdup ("");
  text = words_days (lang, fabs (days));
  if (days > 0)
    /* Translators: "2 days later" */
    return g_strdup_printf (T_ (lang, "shift", "%s later"), text);
  return g_strdup_printf (T_ (lang, "shift", "%s sooner"), text);
}

char *
words_growth (const WordsView *view, const CoreGrowth *growth, CoreDimension what)
{
  const char *name = words_dimension (view->lang, (int) what);
  g_autofree char *lo = words_quantity (view, growth->p10, CORE_UNIT_MM);
  g_autofree char *hi = words_quantity (view, growth->p90, CORE_UNIT_MM);

  if (!growth->known)
    return g_strdup (T_ (view->lang, "growth", "length not known: measure it first"));
  if (growth->measured == 0)
    /* Translators: body or head, shortest and longest expected length */
    return g_strdup_printf (T_ (view->lang, "growth",
                                "%s about %s to %s, by the species: measure it first"),
                            name, lo, hi);
  return g_strdup_printf (T_ (view->lang, "growth", "%s about %s to %s"), name, lo, hi);
}

static const CoreMeal *
last_meal (const CoreState *state)
{
  return state->meals.n > 0 ? &state->meals.v[state->meals.n - 1] : NULL;
}

static const char *
meal_outcome (WordsLang lang, const CoreMeal *meal)
{
  if (meal->outcome == CORE_FED_OFFERED && meal->gone)
    return T_ (lang, "fed outcome", "put in, probably eaten");
  if (meal->outcome == CORE_FED_OFFERED)
    return T_ (lang, "fed outcome", "put in, not seen eaten");
  return words_fed_outcome (lang, meal->outcome);
}

char *
words_last_meal (const WordsView *view, const CoreState *state)
{
  const CoreMeal *meal = last_meal (state);
  g_autofree char *prey = NULL;
  g_autofree char *day = NULL;

  if (meal == NULL)
    return g_strdup (T_ (view->lang, "meal", "no meal entered"));
  prey = words_prey (view->lang, meal->prey, meal->n);
  day = words_day (view, meal->day, WORDS_DAY_NEAR);
  /* Translators: prey, outcome, day: "2 house flies, seen eaten, Saturday" */
  return g_strdup_printf (T_ (view->lang, "meal", "%s, %s, %s"), prey,
                          meal_outcome (view->lang, meal), day);
}

/* "seen eating Saturday", "2 meals refused, last yesterday", "no meal entered". */
static char *
latest_meal (const WordsView *view, const CoreState *state)
{
  const CoreMeal *meal = last_meal (state);
  g_autofree char *day = NULL;

  if (meal == NULL)
    return g_strdup (T_ (view->lang, "meal", "no meal entered"));
  day = words_day (view, meal->day, WORDS_DAY_NEAR);
  if (state->refusals_since_taken > 0 && meal->outcome == CORE_FED_REFUSED)
    return g_strdup_printf (TN_ (view->lang, "meal", "%d meal refused, last %s",
                                 "%d meals refused, last %s", (gulong) state->refusals_since_taken),
                            state->refusals_since_taken, day);
  if (state->last_taken == meal->day && meal->outcome == CORE_FED_TAKEN)
    return g_strdup_printf (T_ (view->lang, "meal", "seen eating %s"), day);
  if (meal->gone)
    return g_strdup_printf (T_ (view->lang, "meal", "probably ate %s"), day);
  if (meal->outcome == CORE_FED_NONE_IN_VIEW)
    return g_strdup_printf (T_ (view->lang, "meal", "no prey in view %s"), day);
  return g_strdup_printf (T_ (view->lang, "meal", "food put in %s, not seen eaten"), day);
}

/* What came last, and where that was no meal eaten, when it last ate. */
static char *
eating (const WordsView *view, const CoreState *state)
{
  const CoreMeal *meal = last_meal (state);
  g_autofree char *latest = latest_meal (view, state);
  g_autofree char *day = NULL;

  if (meal == NULL || meal->gone || state->last_taken == CORE_DAY_NONE ||
      state->last_taken >= meal->day)
    return g_steal_pointer (&latest);
  day = words_day (view, state->last_taken, WORDS_DAY_SHORT);
  /* Translators: "2 meals refused, last yesterday; last ate 9 Jun" */
  return g_strdup_printf (T_ (view->lang, "meal", "%s; last ate %s"), latest, day);
}

char *
words_ended (const WordsView *view, const CoreState *state)
{
  g_autofree char *day = words_day (view, state->end_day, WORDS_DAY_SHORT);

  if (state->end == CORE_END_DIED && state->kind == CORE_SUBJECT_CULTURE)
    return g_strdup_printf (T_ (view->lang, "end", "used up %s"), day);
  if (state->end == CORE_END_DIED)
    return g_strdup_printf (T_ (view->lang, "end", "died %s"), day);
  if (state->end == CORE_END_ESCAPED)
    return g_strdup_printf (T_ (view->lang, "end", "escaped %s"), day);
  if (state->end == CORE_END_EMPTY)
    return g_strdup_printf (T_ (view->lang, "end", "none left since %s"), day);
  if (state->end == CORE_END_JOINED)
    return g_strdup_printf (T_ (view->lang, "end", "went into another lot %s"), day);
  if (state->end == CORE_END_HATCHED)
    return g_strdup_printf (T_ (view->lang, "end", "all hatched by %s"), day);
  if (state->end == CORE_END_DUD)
    return g_strdup_printf (T_ (view->lang, "end", "given up as a dud %s"), day);
  return g_strdup_printf (state->lent ? T_ (view->lang, "end", "lent out since %s")
                                      : T_ (view->lang, "end", "left %s"),
                          day);
}

char *
words_join_sentence (WordsLang lang, GPtrArray *parts)
{
  g_autofree char *text = NULL;

  g_ptr_array_add (parts, NULL);
  text = g_strjoinv (T_ (lang, "list", ", "), (GStrv) parts->pdata);
  return words_sentence (g_steal_pointer (&text));
}

char *
words_identity (const WordsView *view, const CoreState *state)
{
  g_autofree char *day = NULL;

  if (state->doubtful_since == CORE_DAY_NONE)
    return NULL;
  day = words_day (view, state->doubtful_since, WORDS_DAY_SHORT);
  /* Translators: a day: "identity doubtful since 7 Jun" */
  return g_strdup_printf (T_ (view->lang, "state", "identity doubtful since %s"), day);
}

/* Where there is a doubt which animal it is. */
static void
add_identity (const WordsView *view, const CoreState *state, GPtrArray *parts)
{
  char *doubt = words_identity (view, state);

  if (doubt != NULL)
    g_ptr_array_add (parts, doubt);
}

char *
words_animal (const WordsView *view,
              const CoreState *state,
              const CoreSexVerdict *verdict,
              const CoreForecast *forecast,
              const CoreHold *hold)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);

  g_ptr_array_add (parts, state->end == CORE_END_NONE
                            ? stage_then (view, words_stage_phrase (view, state), forecast)
                            : words_stage_phrase (view, state));
  if (verdict != NULL)
    g_ptr_array_add (parts, g_strdup (words_sex_phrase (view->lang, verdict->verdict)));
  add_identity (view, state, parts);
  if (state->end != CORE_END_NONE)
    {
      g_ptr_array_add (parts, words_ended (view, state));
      return words_join_sentence (view->lang, parts);
    }
  g_ptr_array_add (parts, eating (view, state));
  if (forecast != NULL && forecast->why != CORE_NO_FORECAST_ADULT)
    g_ptr_array_add (parts, words_forecast_of (view, state, forecast));
  if (hold != NULL && hold->kind != CORE_HOLD_NONE)
    g_ptr_array_add (parts, words_hold (view, hold));
  return words_join_sentence (view->lang, parts);
}

void
words_tasks_due (const WordsView *view, const CorePlan *plan, GPtrArray *parts)
{
  for (gsize i = 0; i < plan->tasks.n; i++)
    {
      const CoreTask *task = &plan->tasks.v[i];
      g_autofree char *title = NULL;
      g_autofree char *when = NULL;

      if (task->due > view->today)
        continue;
      title = words_task_title (view, task);
      when = words_task_when (view, task);
      g_ptr_array_add (parts, g_strconcat (title, " – ", when, NULL));
    }
}

static void
add_alarms (const WordsView *view, const WordsCup *cup, GPtrArray *parts)
{
  CoreDay seen = core_state_last_look (cup->state);
  g_autofree char *day = NULL;

  if (cup->plan->trouble)
    g_ptr_array_add (parts, g_strdup_printf (T_ (view->lang, "cup", "trouble: %s"),
                                             words_plan_trouble (view->lang, cup->plan)));
  else if (cup->plan->thin)
    g_ptr_array_add (parts, g_strdup (words_trouble (view->lang, CORE_TROUBLE_THIN)));
  if (!cup->plan->unseen_long)
    return;
  day = words_day (view, seen, WORDS_DAY_NEAR);
  g_ptr_array_add (parts, seen == CORE_DAY_NONE
                            ? g_strdup (T_ (view->lang, "cup", "never looked at"))
                            : g_strdup_printf (T_ (view->lang, "cup", "not seen since %s"), day));
}

char *
words_cup (const WordsView *view, const WordsCup *cup)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);

  g_ptr_array_add (parts, g_strdup (cup->label));
  g_ptr_array_add (parts, g_strdup (cup->species != NULL && *cup->species != '\0'
                                      ? cup->species
                                      : T_ (view->lang, "cup", "species unknown")));
  g_ptr_array_add (parts, stage_then (view, words_stage (view, cup->state), cup->forecast));
  g_ptr_array_add (parts, words_sex (view->lang, cup->verdict));
  add_identity (view, cup->state, parts);
  g_ptr_array_add (parts, words_last_meal (view, cup->state));
  g_ptr_array_add (parts, words_forecast_of (view, cup->state, cup->forecast));
  if (cup->plan->hold.kind != CORE_HOLD_NONE)
    g_ptr_array_add (parts, words_hold (view, &cup->plan->hold));
  words_tasks_due (view, cup->plan, parts);
  add_alarms (view, cup, parts);
  return words_join_sentence (view->lang, parts);
}
