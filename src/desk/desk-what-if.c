/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-what-if.c — see desk-what-if.h. A copied state is asked; the journal is not touched. */
#include "desk/desk-what-if.h"

#include <math.h>
#include <string.h>

#include "core/core-clock.h"
#include "desk/desk-private.h"

#define AHEAD 28     /* days of the plan that is asked */
#define LEAST_C 0
#define MOST_C 50
#define MOST_DAYS 60 /* between two meals */

/* The subject as it would be: what differs is here, the rest is borrowed. */
typedef struct
{
  CoreState state;
  GArray *stays;    /* CoreStay */
  GArray *settings; /* CoreSetting */
} Other;

static void
other_clear (Other *self)
{
  g_array_unref (self->stays);
  g_array_unref (self->settings);
}

static void
other_init (Other *self, const CoreState *state, const DeskWhatIf *ask, CoreDay today)
{
  self->state = *state;
  self->stays = g_array_new (FALSE, FALSE, sizeof (CoreStay));
  self->settings = g_array_new (FALSE, FALSE, sizeof (CoreSetting));
  g_array_append_vals (self->stays, state->stays.v, (guint) state->stays.n);
  g_array_append_vals (self->settings, state->settings.v, (guint) state->settings.n);
  if (!core_id_is_none (ask->place))
    {
      CoreStay stay = { .day = today, .place = ask->place, .at = NAN, .height_mm = NAN, .width_mm = NAN, .depth_mm = NAN };

      g_array_append_val (self->stays, stay);
    }
  self->state.stays.v = (CoreStay *) self->stays->data;
  self->state.stays.n = self->stays->len;
}

/* `value` is the caller's, and stays as long as the state is asked. */
static void
other_set (Other *self, CoreDay today, const char *key, char *value)
{
  CoreSetting setting = { 0 };

  for (guint i = 0; i < self->settings->len; i++)
    if (strcmp (g_array_index (self->settings, CoreSetting, i).key, key) == 0)
      g_array_remove_index (self->settings, i--);
  g_strlcpy (setting.key, key, sizeof setting.key);
  setting.value = value;
  setting.day = today;
  g_array_append_val (self->settings, setting);
}

static void
other_finish (Other *self)
{
  self->state.settings.v = (CoreSetting *) self->settings->data;
  self->state.settings.n = self->settings->len;
}

/* ---- asking ---- */

DeskWhatIf
desk_what_if_nothing (void)
{
  return (DeskWhatIf){ NAN, NAN, { { 0 } }, NAN, NAN };
}

static gboolean
refuse (GError **error, WordsDeskProblem problem)
{
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, problem, NULL);
  return FALSE;
}

static gboolean
temperatures_ok (double day, double night)
{
  return day >= LEAST_C && day <= MOST_C && night >= LEAST_C && night <= day;
}

static gboolean
ask_ok (Desk *self, const DeskSubject *subject, const DeskWhatIf *ask, GError **error)
{
  g_autoptr (DeskSubject) place = core_id_is_none (ask->place) ? NULL : desk_get (self, ask->place);
  CoreSubjectKind kind = desk_subject_kind (subject);

  if ((kind != CORE_SUBJECT_ANIMAL && kind != CORE_SUBJECT_LOT) || !desk_subject_living (subject))
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_NOT_FOUND, WORDS_DESK_WHAT_IF_ANIMAL, NULL);
      return FALSE;
    }
  if (isnan (ask->day_c) != isnan (ask->night_c) ||
      (!isnan (ask->day_c) && !temperatures_ok (ask->day_c, ask->night_c)))
    return refuse (error, WORDS_DESK_WHAT_IF_WARMTH);
  if (!isnan (ask->feed_a) && !(ask->feed_a >= 1 && ask->feed_b >= ask->feed_a && ask->feed_b <= MOST_DAYS))
    return refuse (error, WORDS_DESK_WHAT_IF_DAYS);
  if (!core_id_is_none (ask->place) && (place == NULL || desk_subject_kind (place) != CORE_SUBJECT_PLACE))
    return refuse (error, WORDS_DESK_WHAT_IF_PLACE);
  return TRUE;
}

static void
meals_of (const CorePlan *plan, DeskWhatIfAnswer *out)
{
  out->next_meal = out->meal_after = CORE_DAY_NONE;
  for (size_t i = 0; i < plan->tasks.n; i++)
    {
      CoreDay day = plan->tasks.v[i].day;

      if (plan->tasks.v[i].kind != CORE_TASK_FEED)
        continue;
      if (out->next_meal == CORE_DAY_NONE || day < out->next_meal)
        {
          out->meal_after = out->next_meal;
          out->next_meal = day;
        }
      else if (out->meal_after == CORE_DAY_NONE || day < out->meal_after)
        out->meal_after = day;
    }
}

/* Where a kind rests in winter and this one is said to, cold is no danger. */
static CorePast
past_of (const DeskSubject *animal, const CoreWarmth *warmth)
{
  const CoreProfile *profile = desk_subject_profile (animal);
  CorePast past = core_profile_past (profile, warmth->day_c, warmth->night_c);

  if (past.side < 0 && profile->winter_rest && core_state_says_yes (desk_subject_state (animal), "rest"))
    past.side = 0;
  return past;
}

static CoreStatus
answer (Desk *self, DeskSubject *subject, const CoreState *state, const DeskWhatIf *ask, DeskWhatIfAnswer *out)
{
  CoreDay today = desk_today (self);
  g_autoptr (GPtrArray) places = desk_subject_places_with (self, subject, ask->place);
  CorePlanInput as = { .state = state, .forecast = &out->forecast, .from = today, .to = today + AHEAD };
  CoreClock clock = core_clock_from_profile (desk_subject_profile (subject));
  CoreWarmth warmth = { 0 };
  CorePlan plan;
  CoreStatus status = desk_subject_warmth_as (subject, state, places, &warmth);

  core_plan_init (&plan);
  if (status == CORE_OK && !isnan (ask->day_c))
    core_warmth_keep (&warmth, &clock, today, ask->day_c, ask->night_c, CORE_USUAL_LIGHT_H);
  out->typical_c = warmth.typical_c;
  if (!isnan (ask->feed_a))
    out->unknown |= WORDS_WHAT_IF_FOOD;
  if (status == CORE_OK && isnan (ask->day_c) && !core_id_is_none (ask->place) && warmth.rest == CORE_WARMTH_UNKNOWN)
    out->unknown |= WORDS_WHAT_IF_NO_WARMTH;
  if (status == CORE_OK && out->is_lot)
    status = desk_subject_lot_forecast_as (subject, state, &warmth, &out->lot);
  else if (status == CORE_OK)
    status = desk_subject_forecast_as (subject, state, &warmth, &out->forecast);
  if (status == CORE_OK)
    out->past = past_of (subject, &warmth);
  if (status == CORE_OK)
    status = desk_subject_plan_as (subject, &as, places, &plan);
  if (status == CORE_OK)
    meals_of (&plan, out);
  core_plan_clear (&plan);
  core_warmth_clear (&warmth);
  return status;
}

gboolean
desk_what_if (Desk *self, DeskSubject *subject, const DeskWhatIf *ask, DeskWhatIfAnswer *out, GError **error)
{
  g_autofree char *interval = NULL;
  Other other;
  CoreStatus status;

  memset (out, 0, sizeof *out);
  out->is_lot = desk_subject_kind (subject) == CORE_SUBJECT_LOT;
  if (out->is_lot)
    out->forecast.why = CORE_NO_FORECAST_NOT_AN_ANIMAL;
  if (!ask_ok (self, subject, ask, error))
    return FALSE;
  other_init (&other, desk_subject_state (subject), ask, desk_today (self));
  if (!isnan (ask->feed_a))
    {
      interval = g_strdup_printf ("%d-%d", (int) ask->feed_a, (int) ask->feed_b);
      other_set (&other, desk_today (self), "interval.feed", interval);
    }
  other_finish (&other);
  status = answer (self, subject, &other.state, ask, out);
  other_clear (&other);
  if (status == CORE_NO_MEMORY)
    g_error ("out of memory");
  if (status != CORE_OK)
    *(out->is_lot ? &out->lot.why : &out->forecast.why) = CORE_NO_FORECAST_NO_START;
  return TRUE;
}
