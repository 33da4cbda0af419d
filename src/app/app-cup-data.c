/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-cup-data.c — what one cup shows, from what the desk computed and words says. */
#include "app/app-cup.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/app-danger.h"
#include "app/app-view.h"

/* Cups are drawn by their height relative to this one, a tall jar, in mm (ours). */
#define TALLEST_MM 300.0
/* When nobody said how high the cup is: the usual small cup (ours). */
#define USUAL_MM 150.0

AppMealDot
app_meal_dot (const CoreMeal *meal)
{
  if (meal->outcome == CORE_FED_TAKEN)
    return APP_MEAL_TAKEN;
  if (meal->outcome == CORE_FED_REFUSED)
    return APP_MEAL_REFUSED;
  return meal->gone ? APP_MEAL_PROBABLY : APP_MEAL_OFFERED;
}

static void
fill_meals (AppCupData *data, const CoreState *state)
{
  size_t first = state->meals.n > APP_CUP_DOTS ? state->meals.n - APP_CUP_DOTS : 0;

  for (size_t i = first; i < state->meals.n; i++)
    data->dots[data->n_dots++] = app_meal_dot (&state->meals.v[i]);
}

static void
fill_bar (AppCupData *data, const CoreState *state, const CoreForecast *forecast, CoreDay today)
{
  double begin = forecast->stage_began_hi;
  double end, span;

  if (!words_forecast_has_days (forecast) || core_state_looks_dead (state))
    return;
  if (isnan (begin)) /* start unknown: the bar begins today */
    begin = today;
  end = MAX ((double) forecast->p90, today + 1.0);
  span = end - begin;
  if (span < 1)
    return;
  data->has_bar = TRUE;
  data->today = CLAMP ((today - begin) / span, 0, 1);
  data->band_lo = CLAMP ((forecast->p10 - begin) / span, 0, 1);
  data->band_hi = 1;
  data->middle = CLAMP ((forecast->p50 - begin) / span, 0, 1);
}

static double
home_height (Desk *desk, DeskSubject *subject)
{
  const CoreStay *stay = core_state_stay_on (desk_subject_state (subject), desk_today (desk));
  g_autoptr (DeskSubject) place = NULL;

  if (stay == NULL)
    return NAN;
  if (!isnan (stay->height_mm))
    return stay->height_mm;
  place = desk_get (desk, stay->place);
  return place != NULL ? desk_subject_state (place)->place.height_mm : NAN;
}

static char *
trouble_words (const CoreState *state, const CorePlan *plan)
{
  if (app_danger_brief (plan) != NULL)
    return g_strdup (app_danger_brief (plan));
  if (!plan->trouble && !plan->thin)
    return NULL;
  if (plan->thin && state->refusals_since_taken > 0)
    return g_strdup_printf (C_ ("cup", "thin, refused %d×"), state->refusals_since_taken);
  if (plan->thin)
    return g_strdup (words_trouble (WORDS_LOCAL, CORE_TROUBLE_THIN));
  return g_strdup (words_plan_trouble (WORDS_LOCAL, plan));
}

/* "×96", "×~120", "?" while nobody counted them. */
static char *
lot_count (const CoreTally *tally)
{
  if (!tally->known)
    return g_strdup ("?");
  return g_strdup_printf (tally->counted ? "×%u" : "×~%u", (guint) tally->count);
}

/* The second line of an egg case: what is known of its young, else when it was laid. */
static char *
egg_stage (const WordsView *view, const CoreEggState *egg)
{
  g_autofree char *text = NULL;

  if (egg->hatched > 0)
    {
      text = words_amount (WORDS_LOCAL, egg->hatched, !egg->hatched_about);
      return g_strdup_printf (C_ ("cup", "%s hatched"), text);
    }
  if (egg->laid_day == CORE_DAY_NONE)
    return g_strdup (C_ ("cup", "laid: not known"));
  text = words_day (view, egg->laid_day, WORDS_DAY_SHORT);
  return g_strdup_printf (C_ ("cup", "laid %s"), text);
}

static void
fill_other (Desk *desk, DeskSubject *subject, const WordsView *view, AppCupData *data)
{
  const CoreState *state = desk_subject_state (subject);

  g_free (data->label);
  data->label = app_other_cup_label (desk, subject);
  g_free (data->sex_sign);
  data->sex_sign = data->kind == CORE_SUBJECT_LOT ? lot_count (&state->tally) : g_strdup ("");
  if (data->kind == CORE_SUBJECT_LOT)
    {
      data->n_drawn = state->tally.known && state->tally.count < 6 ? (int) state->tally.count : 6;
      return;
    }
  data->n_drawn = 0;
  data->has_bar = FALSE;
  g_clear_pointer (&data->stage, g_free);
  g_clear_pointer (&data->stage_brief, g_free);
  if (data->kind == CORE_SUBJECT_EGGCASE)
    {
      data->stage = egg_stage (view, &state->egg);
      return;
    }
  g_free (data->species);
  data->species = words_prey (WORDS_LOCAL, state->culture.prey, 0);
  data->stage = words_day (view, state->culture.started, WORDS_DAY_SHORT);
}

AppCupData *
app_cup_data_new (Desk *desk, DeskSubject *subject)
{
  AppCupData *data = g_new0 (AppCupData, 1);
  const CoreState *state = desk_subject_state (subject);
  const CorePlan *plan = desk_subject_plan (subject);
  const CoreTask *due = app_subject_first_due (subject, desk_today (desk));
  WordsView view = app_view (desk);
  double height = home_height (desk, subject);
  WordsCup cup = { desk_subject_label (subject), app_species_name (subject), state,
                   desk_subject_verdict (subject), desk_subject_outlook (subject), plan };

  data->id = desk_subject_id (subject);
  data->kind = desk_subject_kind (subject);
  data->n_drawn = 1;
  data->number = g_strdup (cup.label);
  data->sex_sign = g_strdup (words_sex_sign (cup.verdict->verdict));
  data->species = app_species_short (subject);
  data->stage = words_stage (&view, state);
  /* "?" alone beside the sign of the sex would be read as that. */
  data->stage_brief = state->basis == CORE_BASIS_UNKNOWN && !state->adult && !state->subadult
                        ? words_stage (&view, state) : words_stage_brief (&view, state);
  data->trouble = trouble_words (state, plan);
  if (core_hold_alone (&plan->hold))
    data->veil_words = words_hold_brief (&view, &plan->hold);
  if (due != NULL)
    {
      data->symbol = app_task_symbol (due->kind);
      data->overdue = due->latest < desk_today (desk);
    }
  data->come_forward = plan->unseen_long;
  if (plan->unseen_long) /* silence never hides an animal that nobody has seen */
    {
      data->symbol = app_task_symbol (CORE_TASK_LOOK);
      data->overdue = TRUE;
    }
  if (!desk_subject_species_known (subject) && state->species[0] == '\0' && state->basis == CORE_BASIS_UNKNOWN
      && !state->adult && !state->subadult)
    {
      g_free (data->species);
      g_clear_pointer (&data->stage_brief, g_free); /* both in one */
      g_clear_pointer (&data->stage, g_free);
      data->species = g_strdup (C_ ("cup", "kind, stage unknown"));
    }
  if (state->doubtful_since != CORE_DAY_NONE)
    {
      g_free (data->species);
      data->species = g_strdup (C_ ("cup", "which one?"));
    }
  fill_meals (data, state);
  fill_bar (data, state, cup.forecast, desk_today (desk));
  data->cup_height = CLAMP ((isnan (height) ? USUAL_MM : height) / TALLEST_MM, .4, 1);
  data->body = desk_subject_body_mm (subject) / (isnan (height) ? USUAL_MM : height);
  data->label = words_cup (&view, &cup);
  if (data->kind != CORE_SUBJECT_ANIMAL)
    fill_other (desk, subject, &view, data);
  return data;
}
