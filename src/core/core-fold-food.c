/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-fold-food.c — meals, refusals, water.
 *
 * A run of refusals is one sign. It starts at its first refused meal, ends with
 * a meal taken (also one probably taken: offered, and gone at the next look), and
 * begins anew with the next refusal or the next moult. What was put in and is then
 * entered as refused, or as taken the same day, is one meal. So is what was refused and
 * is entered as refused again within the hour, or on one day without a time.
 */
#include "core/core-fold-private.h"

/* Refusals before meal number `meal` are over. */
static void
end_refusals (Fold *fold, size_t meal)
{
  size_t kept = 0;

  for (size_t i = 0; i < fold->refusals.n; i++)
    if (fold->refusals.v[i].meal > meal)
      fold->refusals.v[kept++] = fold->refusals.v[i];
  fold->refusals.n = kept;
}

void
fold_refused (Fold *fold, const CoreEntry *entry)
{
  FoldRefusal refusal = {
    .day = entry->day, .t = fold_time (entry), .meal = fold->state->meals.n, .entry = entry->id
  };

  FOLD_PUSH (fold, fold->refusals, refusal);
}

/* The meal put in before, of which this entry says what became; NULL = a meal of its own.
 * Prey of yesterday that is gone is entered as gone, so what is taken today is new. */
static CoreMeal *
settled_offer (const Fold *fold, const CoreMeal *meal)
{
  int days = meal->outcome == CORE_FED_REFUSED ? 1 : 0;

  if (meal->outcome != CORE_FED_REFUSED && meal->outcome != CORE_FED_TAKEN)
    return NULL;
  for (size_t i = fold->state->meals.n; i-- > 0;)
    {
      CoreMeal *before = &fold->state->meals.v[i];
      bool named = before->prey >= 0 && meal->prey >= 0;
      /* Of two that name nothing nobody can say that they are one, but on the same day. */
      bool same = named ? before->prey == meal->prey
                        : before->prey >= 0 || before->day == meal->day;

      if (before->day < meal->day - days)
        return NULL;
      if (before->outcome == CORE_FED_OFFERED && !before->gone && same)
        return before;
    }
  return NULL;
}

#define SAME_REFUSAL (1. / 24) /* of a day (ours): prey shown again so soon is the same meal */

/* The refused meal of which this entry says the same again; NULL = a meal of its own. */
static CoreMeal *
same_refusal (const Fold *fold, const CoreEntry *entry, const CoreMeal *meal)
{
  const FoldRefusal *last = fold->refusals.n > 0 ? &fold->refusals.v[fold->refusals.n - 1] : NULL;
  size_t n = fold->state->meals.n;
  CoreMeal *before = n > 0 ? &fold->state->meals.v[n - 1] : NULL;

  if (meal->outcome != CORE_FED_REFUSED || last == NULL || before == NULL || last->meal != n ||
      !core_id_equal (last->entry, before->entry) || before->day != meal->day)
    return NULL;
  if (before->prey != meal->prey)
    return NULL;
  return fold_time (entry) - last->t < SAME_REFUSAL ? before : NULL;
}

/* One meal in two entries: what the later one does not say the first did. It goes to the end. */
static void
settle_offer (Fold *fold, CoreMeal *before, CoreMeal meal)
{
  CoreState *state = fold->state;
  CoreMeal *last = &state->meals.v[state->meals.n - 1];

  if (meal.prey < 0)
    meal.prey = before->prey;
  if (meal.n <= 0 && meal.prey == before->prey)
    meal.n = before->n;
  for (; before < last; before++)
    *before = before[1];
  *last = meal;
}

void
fold_fed (Fold *fold, const CoreEntry *entry)
{
  CoreState *state = fold->state;
  CoreMeal meal = { .day = entry->day,
                    .prey = core_entry_code (entry, CORE_KEY_PREY, -1),
                    .n = (int) core_entry_num (entry, CORE_KEY_N, 0),
                    .outcome = core_entry_code (entry, CORE_KEY_OUTCOME, CORE_FED_OFFERED),
                    .bulk = entry->bulk,
                    .entry = entry->id };
  CoreMeal *before = same_refusal (fold, entry, &meal);

  if (before != NULL)
    return;
  if (meal.outcome == CORE_FED_OFFERED && fold->gone_day == entry->day)
    {
      meal.gone = true;
      fold->gone_day = CORE_DAY_NONE;
    }
  before = settled_offer (fold, &meal);
  if (before != NULL)
    settle_offer (fold, before, meal);
  else
    FOLD_PUSH (fold, state->meals, meal);
  if (meal.outcome == CORE_FED_REFUSED)
    fold_refused (fold, entry);
  else if (meal.outcome == CORE_FED_TAKEN || meal.gone)
    end_refusals (fold, state->meals.n);
}

/* The last meal offered and not yet decided; a meal of the same day may still
 * come in the order, so the day is kept. */
void
fold_gone (Fold *fold, const CoreEntry *entry)
{
  CoreState *state = fold->state;

  for (size_t i = state->meals.n; i-- > 0;)
    {
      CoreMeal *meal = &state->meals.v[i];

      if (meal->outcome == CORE_FED_TAKEN || (meal->outcome == CORE_FED_OFFERED && meal->gone))
        break;
      if (meal->outcome != CORE_FED_OFFERED)
        continue;
      meal->gone = true;
      end_refusals (fold, i + 1);
      return;
    }
  fold->gone_day = entry->day;
}

void
fold_drank (Fold *fold, const CoreEntry *entry)
{
  fold->state->drank = entry->day;
  fold->state->drank_eagerly = core_entry_code (entry, CORE_KEY_EAGER, 1) == 0;
  fold->state->drank_entry = entry->id;
}

static void
finish_run (Fold *fold)
{
  CoreSignSeen run = { .sign = CORE_SIGN_REFUSES };
  const FoldRefusal *v = fold->refusals.v;
  size_t n = fold->refusals.n;

  if (n == 0)
    return;
  run.first = v[0].day;
  run.last = v[n - 1].day;
  run.prev_look = fold_look_before (fold, v[0].t);
  run.times = (int) n;
  run.entry = v[0].entry;
  FOLD_PUSH (fold, fold->state->signs, run);
}

void
fold_finish_food (Fold *fold)
{
  CoreState *state = fold->state;

  for (size_t i = 0; i < state->meals.n; i++)
    {
      const CoreMeal *meal = &state->meals.v[i];

      if (meal->outcome == CORE_FED_NONE_IN_VIEW)
        continue;
      state->last_offered = meal->day;
      state->last_offered_entry = meal->entry;
      if (meal->outcome == CORE_FED_TAKEN || meal->gone)
        {
          state->last_taken = meal->day;
          state->last_taken_entry = meal->entry;
          state->refusals_since_taken = 0;
        }
      else if (meal->outcome == CORE_FED_REFUSED)
        state->refusals_since_taken++;
    }
  finish_run (fold);
}
