/* SPDX-License-Identifier: GPL-3.0-or-later */
/* plan-case.c — see plan-case.h. */
#include "plan-case.h"

#include <string.h>

void
plan_case_init (PlanCase *self, CoreGroup group, int moults)
{
  memset (self, 0, sizeof *self);
  self->journal = journal_new ();
  self->kind = CORE_SUBJECT_ANIMAL;
  core_profile_init (&self->profile);
  core_profile_group_defaults (&self->profile, group);
  for (int sex = 0; sex < 2; sex++)
    self->profile.adult_mm[sex].v = 80;
  self->forecast.why = CORE_NO_FORECAST_NO_START;
  self->forecast.range_lo = self->forecast.range_hi = CORE_DAY_NONE;
  self->verdict.male = self->verdict.female = .5;
  self->verdict.provisional = true;
  core_state_init (&self->state);
  core_state_init (&self->place);
  core_plan_init (&self->plan);
  self->today = self->from = self->to = TODAY;
  if (moults >= 0)
    {
      g_autofree char *text = g_strdup_printf ("acquired|moults=%d", moults);
      plan_case_say (self, TODAY - 40, text);
    }
  else
    plan_case_say (self, TODAY - 40, "acquired");
}

void
plan_case_clear (PlanCase *self)
{
  journal_free (self->journal);
  core_state_clear (&self->state);
  core_state_clear (&self->place);
  core_profile_clear (&self->profile);
  core_plan_clear (&self->plan);
}

void
plan_case_range (PlanCase *self, CoreDay lo, CoreDay hi)
{
  self->forecast.why = CORE_NO_FORECAST_NONE;
  self->forecast.range_lo = lo;
  self->forecast.range_hi = hi;
  self->forecast.range_mid = (lo + hi) / 2;
  self->forecast.in_range = self->today >= lo;
}

void
plan_case_say (PlanCase *self, CoreDay day, const char *text)
{
  journal_add (self->journal, day, text);
}

void
plan_case_run (PlanCase *self)
{
  core_state_clear (&self->state);
  journal_fold (self->journal, self->kind, &self->state);
  self->forecast.in_range =
    self->forecast.why == CORE_NO_FORECAST_NONE && self->today >= self->forecast.range_lo;
  CorePlanInput in = { .state = &self->state,
                       .profile = &self->profile,
                       .forecast = &self->forecast,
                       .verdict = &self->verdict,
                       .place = self->has_place ? &self->place : NULL,
                       .shelf = self->has_place ? &self->place : NULL,
                       .hatch = &self->hatch,
                       .band = self->bare || self->band.n > 0 ? &self->band : NULL,
                       .superseded = self->superseded,
                       .today = self->today,
                       .from = self->from,
                       .to = self->to };
  if (self->kind == CORE_SUBJECT_PLACE)
    g_assert_cmpint (core_plan_place (&in, &self->plan), ==, CORE_OK);
  else
    g_assert_cmpint (core_plan (&in, &self->plan), ==, CORE_OK);
}

const CoreTask *
plan_case_task (const PlanCase *self, CoreTaskKind kind)
{
  for (size_t i = 0; i < self->plan.tasks.n; i++)
    if (self->plan.tasks.v[i].kind == kind && !self->plan.tasks.v[i].projected)
      return &self->plan.tasks.v[i];
  return NULL;
}

const CoreHeld *
plan_case_held (const PlanCase *self, CoreTaskKind kind)
{
  for (size_t i = 0; i < self->plan.held.n; i++)
    if (self->plan.held.v[i].kind == kind)
      return &self->plan.held.v[i];
  return NULL;
}

static const CoreReason *
find (const CoreReason *v, size_t n, const char *rule)
{
  for (size_t i = 0; i < n; i++)
    if (strcmp (v[i].rule, rule) == 0)
      return &v[i];
  return NULL;
}

const CoreReason *
plan_task_reason (const CoreTask *task, const char *rule)
{
  return find (task->reasons, task->n_reasons, rule);
}

const CoreReason *
plan_held_reason (const CoreHeld *held, const char *rule)
{
  return find (held->reasons, held->n_reasons, rule);
}
