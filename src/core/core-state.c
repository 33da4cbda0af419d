/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-state.c — making, clearing and asking a state. */
#include "core/core-state.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

void
core_state_init (CoreState *self)
{
  memset (self, 0, sizeof *self);
  self->last_day = CORE_DAY_NONE;
  self->first_day = CORE_DAY_NONE;
  self->hatched_earliest = CORE_DAY_NONE;
  self->hatched_day = CORE_DAY_NONE;
  self->acquired = CORE_DAY_NONE;
  self->here_day = CORE_DAY_NONE;
  self->alive_last = CORE_DAY_NONE;
  self->end_day = CORE_DAY_NONE;
  self->looks_dead = CORE_DAY_NONE;
  self->called = CORE_DAY_NONE;
  self->ahead.first = self->ahead.day = CORE_DAY_NONE;
  self->doubtful_since = CORE_DAY_NONE;
  self->moults = -1;
  self->adult_seen = CORE_DAY_NONE;
  self->last_offered = CORE_DAY_NONE;
  self->last_taken = CORE_DAY_NONE;
  self->belly_day = CORE_DAY_NONE;
  self->misted = CORE_DAY_NONE;
  self->watered = CORE_DAY_NONE;
  self->cleaned = CORE_DAY_NONE;
  self->drank = CORE_DAY_NONE;
  self->lot_since = CORE_DAY_NONE;
  self->tally.count_day = self->tally.first_count = CORE_DAY_NONE;
  self->egg.laid_earliest = CORE_DAY_NONE;
  self->egg.laid_day = CORE_DAY_NONE;
  self->egg.hardened = CORE_DAY_NONE;
  self->culture.prey = -1;
  self->culture.started = CORE_DAY_NONE;
  self->place.day_c = NAN;
  self->place.night_c = NAN;
  self->place.light_h = NAN;
  self->place.height_mm = NAN;
  self->place.width_mm = NAN;
  self->place.depth_mm = NAN;
  self->place.power_cut = CORE_DAY_NONE;
  self->place.power_lowest = NAN;
}

#define ARRAY(name)                                                                                \
  {                                                                                                \
    offsetof (CoreState, name), sizeof *((CoreState *) 0)->name.v                                  \
  }

const CoreStateArray core_state_arrays[] = {
  ARRAY (stages),        ARRAY (moult_days),     ARRAY (looks),    ARRAY (meals),
  ARRAY (signs),         ARRAY (measures),       ARRAY (troubles), ARRAY (stays),
  ARRAY (done),          ARRAY (put_off),        ARRAY (sex),      ARRAY (photos),
  ARRAY (settings),      ARRAY (conflicts),      ARRAY (layings),  ARRAY (steps),
  ARRAY (egg.hatchings), ARRAY (place.readings),
};
const size_t core_state_n_arrays = sizeof core_state_arrays / sizeof *core_state_arrays;

void
core_state_clear (CoreState *self)
{
  for (size_t i = 0; i < self->settings.n; i++)
    free (self->settings.v[i].value);
  for (size_t i = 0; i < core_state_n_arrays; i++)
    free (core_state_array (self, i)->v);
  core_state_init (self);
}

void
core_state_trim (CoreState *self)
{
  for (size_t i = 0; i < core_state_n_arrays; i++)
    {
      CoreAnyArray *array = core_state_array (self, i);
      void *smaller;

      if (array->n == array->cap || array->n == 0)
        continue;
      smaller = realloc (array->v, array->n * core_state_arrays[i].size);
      if (smaller == NULL)
        continue;
      array->v = smaller;
      array->cap = array->n;
    }
}

CoreStatus
core_state_add_conflict (CoreState *self, CoreConflict conflict)
{
  if (self->conflicts.n == self->conflicts.cap)
    {
      size_t cap = self->conflicts.cap * 2 + 4;
      CoreConflict *v = realloc (self->conflicts.v, cap * sizeof *v);

      if (v == NULL)
        return CORE_NO_MEMORY;
      self->conflicts.v = v;
      self->conflicts.cap = cap;
    }
  self->conflicts.v[self->conflicts.n++] = conflict;
  return CORE_OK;
}

const CoreSetting *
core_state_set (const CoreState *self, const char *key)
{
  for (size_t i = 0; i < self->settings.n; i++)
    if (strcmp (self->settings.v[i].key, key) == 0)
      return &self->settings.v[i];
  return NULL;
}

const char *
core_state_setting (const CoreState *self, const char *key)
{
  const CoreSetting *set = core_state_set (self, key);

  return set && set->value[0] != '\0' ? set->value : NULL;
}

double
core_moults_sd (const double p[CORE_MAX_MOULTS + 1])
{
  double mean = 0, square = 0;

  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    {
      mean += m * p[m];
      square += (double) m * m * p[m];
    }
  return sqrt (fmax (0, square - mean * mean));
}

bool
core_state_says_yes (const CoreState *self, const char *key)
{
  const char *v = core_state_setting (self, key);

  return v && (strcmp (v, "yes") == 0 || strcmp (v, "1") == 0 || strcmp (v, "true") == 0);
}

bool
core_state_looks_dead (const CoreState *self)
{
  bool asked = self->looks_dead != CORE_DAY_NONE && self->end == CORE_END_NONE;

  for (size_t i = 0; i < self->done.n && asked; i++)
    asked = strcmp (self->done.v[i].rule, "is_dead") != 0 || self->done.v[i].day <= self->looks_dead;
  return asked;
}

const CoreStay *
core_state_stay_on (const CoreState *self, CoreDay day)
{
  const CoreStay *found = NULL;

  for (size_t i = 0; i < self->stays.n && self->stays.v[i].day <= day; i++)
    found = &self->stays.v[i];
  return found;
}

const CoreStage *
core_state_stage_now (const CoreState *self)
{
  return self->stages.n > 0 ? &self->stages.v[self->stages.n - 1] : NULL;
}

CoreDay
core_state_last_look (const CoreState *self)
{
  return self->looks.n > 0 ? self->looks.v[self->looks.n - 1].day : CORE_DAY_NONE;
}

bool
core_state_sign_counts (const CoreState *self, const CoreSignSeen *sign)
{
  bool scored = self->belly >= 1 && self->belly_day != CORE_DAY_NONE &&
                self->belly_day >= sign->first - CORE_BELLY_KNOWN_DAYS;

  return sign->sign != CORE_SIGN_REFUSES || !scored || self->belly > 2;
}

const CoreMeal *
core_state_open_offer (const CoreState *self, CoreDay day)
{
  for (size_t i = self->meals.n; i-- > 0;)
    {
      const CoreMeal *meal = &self->meals.v[i];
      int64_t ago = (int64_t) day - meal->day;

      if (ago < 0)
        continue;
      if (ago > 1)
        return NULL;
      if (meal->outcome == CORE_FED_OFFERED && !meal->gone)
        return meal;
    }
  return NULL;
}

int
core_state_moults_at (const CoreState *self, int index)
{
  int moults;

  if (self->moults < 0 || index < 0 || (size_t) index >= self->stages.n)
    return -1;
  moults = self->moults - ((int) self->stages.n - 1 - index);
  return moults >= 0 ? moults : -1;
}
