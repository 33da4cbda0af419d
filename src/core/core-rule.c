/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-rule.c — the context that every rule reads, and its small helpers.
 *
 * Days may be CORE_DAY_NONE (the smallest number): no helper does arithmetic on
 * a day before asking whether there is one.
 */
#include "core/core-rule.h"

#include <math.h>
#include <string.h>

#include "core/core-date.h"

/* A stage is thought possible from this probability on (ours). */
static const double POSSIBLE = .1;
/* After it a belly score is only out of date for so long. */
static const int BELLY_FADING_DAYS = 3;

CoreDay
core_later (CoreDay a, CoreDay b)
{
  if (a == CORE_DAY_NONE)
    return b;
  if (b == CORE_DAY_NONE)
    return a;
  return a > b ? a : b;
}

CoreDay
core_unseen_since (const CoreState *state)
{
  CoreDay seen = core_state_last_look (state);

  seen = core_later (seen == CORE_DAY_NONE ? state->first_day : seen, state->acquired);
  return core_later (seen, state->lot_since);
}

const CoreSignSeen *
core_sign_seen (const CoreState *state, int sign)
{
  for (size_t i = 0; i < state->signs.n; i++)
    if (state->signs.v[i].sign == sign)
      return &state->signs.v[i];
  return NULL;
}

CoreDay
core_stage_since (const CoreState *state)
{
  if (state->stages.n == 0)
    return CORE_DAY_NONE;
  double hi = state->stages.v[state->stages.n - 1].hi;
  return isfinite (hi) ? (CoreDay) ceil (hi) : CORE_DAY_NONE;
}

static void
find_stage (CoreRuleContext *self)
{
  self->m_low = self->m_high = self->s->moults;
  for (int m = CORE_MAX_MOULTS; m >= 0; m--)
    if (self->s->moults_p[m] >= POSSIBLE)
      self->m_low = m;
  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    if (self->s->moults_p[m] >= POSSIBLE)
      self->m_high = m;
}

static void
find_range (CoreRuleContext *self)
{
  const CoreForecast *f = self->in->forecast;
  if (!f || f->why != CORE_NO_FORECAST_NONE || f->range_lo == CORE_DAY_NONE ||
      f->still.why != CORE_STILL_NOT) /* then the range is that of the rare case */
    return;
  self->has_range = true;
  self->lo = f->range_lo;
  self->hi = f->range_hi;
  self->in_range = self->in->today >= f->range_lo;
  self->doubtful = f->not_normal > .5;
}

static void
find_belly (CoreRuleContext *self)
{
  int age = self->s->belly > 0 && self->s->belly_day != CORE_DAY_NONE
              ? self->in->today - self->s->belly_day
              : CORE_BELLY_KNOWN_DAYS + BELLY_FADING_DAYS;
  self->belly = age <= CORE_BELLY_KNOWN_DAYS                      ? CORE_BELLY_KNOWN
                : age < CORE_BELLY_KNOWN_DAYS + BELLY_FADING_DAYS ? CORE_BELLY_FADING
                                                                  : CORE_BELLY_UNKNOWN;
}

/* The present run of refusals: the fold ends it with a meal taken and with a
 * moult. Its second day is that of the second refused meal, where meals tell. */
static void
find_refusals (CoreRuleContext *self)
{
  const CoreSignSeen *run = core_sign_seen (self->s, CORE_SIGN_REFUSES);
  int n = 0;
  self->second_refusal = self->last_refusal = CORE_DAY_NONE;
  if (!run)
    return;
  self->refusals = run->times > 0 ? run->times : 1;
  self->last_refusal = run->last;
  if (self->refusals < 2)
    return;
  self->second_refusal = run->last;
  for (size_t i = 0; i < self->s->meals.n; i++)
    {
      const CoreMeal *meal = &self->s->meals.v[i];
      if (meal->outcome == CORE_FED_REFUSED && meal->day >= run->first && ++n == 2)
        self->second_refusal = meal->day;
    }
}

/* More cases follow within a month of one, and eggs within two of a mating (ours). */
static const int LAYING_DAYS = 30, MATED_DAYS = 60;

/* Said to carry eggs, laid lately, or mated lately; what the keeper said last outdoes it. */
static void
find_gravid (CoreRuleContext *self)
{
  const CoreState *s = self->s;
  const CoreSetting *said = core_state_set (s, "gravid");
  CoreDay since = said ? said->day : CORE_DAY_NONE, today = self->in->today;
  const CoreLaying *laid = s->layings.n ? &s->layings.v[s->layings.n - 1] : NULL;
  self->gravid = core_state_says_yes (s, "gravid");
  self->carries =
    core_because (CORE_R_FEED_GRAVID, CORE_DAY_NONE, said ? said->entry : (CoreId){ { 0 } });
  self->carries_since = since;
  if (self->gravid || !s->adult)
    return;
  for (size_t i = s->sex.n; i > 0 && !self->gravid; i--)
    {
      const CoreSexReading *r = &s->sex.v[i - 1];
      bool mated = r->from == CORE_KIND_SEXED && r->method == CORE_METHOD_JOINED &&
                   r->sex == CORE_SEX_FEMALE;
      if (!mated || r->day > today || today - r->day > MATED_DAYS || r->day < since)
        continue;
      self->gravid = true;
      self->carries_since = r->day;
      self->carries = core_because (CORE_R_FEED_LAYING, r->day, r->entry);
      self->carries.code = 1;
    }
  if (laid && laid->day <= today && today - laid->day <= LAYING_DAYS && laid->day >= since)
    {
      self->gravid = true;
      self->carries_since = laid->day;
      self->carries = core_because (CORE_R_FEED_LAYING, laid->day, laid->entry);
    }
}

/* What some of a lot do today. */
static void
find_today (CoreRuleContext *self)
{
  const CoreState *s = self->s;
  const CoreStage *stage = core_state_stage_now (s);
  CoreDay today = self->in->today;
  if (!self->lot)
    return;
  for (size_t i = 0; i < s->signs.n; i++)
    if (s->signs.v[i].last == today && s->signs.v[i].sign >= CORE_SIGN_HANGING)
      self->some_sign = &s->signs.v[i];
  self->some_moulted = s->ahead.day == today || (stage && stage->start == CORE_START_MOULTED &&
                                                 stage->found == today);
}

void
core_rule_context_init (CoreRuleContext *self, const CorePlanInput *in, CorePlan *out)
{
  memset (self, 0, sizeof *self);
  self->in = in;
  self->s = in->state;
  self->p = in->profile;
  self->out = out;
  self->lot = in->state->kind == CORE_SUBJECT_LOT;
  self->lo = self->hi = CORE_DAY_NONE;
  self->moulted_from = self->meal_free = CORE_DAY_NONE; /* until core_hold_of() */
  self->p_male = in->verdict ? in->verdict->male : .5;
  self->outgrown = core_body_outgrown (in->state, in->forecast);
  self->body = (CoreGrowth){ .p10 = NAN, .p50 = NAN, .p90 = NAN };
  if (in->profile && !self->outgrown)
    self->body = core_body_range (in->state, in->profile, self->p_male);
  self->resting = in->profile && in->profile->winter_rest && core_state_says_yes (in->state, "rest");
  find_gravid (self);
  find_today (self);
  find_stage (self);
  find_range (self);
  find_belly (self);
  find_refusals (self);
  core_stands_find (self);
}

CoreReason
core_because (CorePlanReason reason, CoreDay day, CoreId entry)
{
  CoreReason r;
  memset (&r, 0, sizeof r);
  r.rule = core_plan_reason_id (reason);
  r.day = day;
  r.day2 = CORE_DAY_NONE;
  if (!core_id_is_none (entry))
    r.entries[r.n_entries++] = entry;
  return r;
}

CoreReason
core_because_value (CorePlanReason reason,
                    CoreUnit unit,
                    double value,
                    double value2,
                    CoreDay day,
                    CoreId entry)
{
  CoreReason r = core_because (reason, day, entry);
  r.unit = unit;
  r.value = value;
  r.value2 = value2;
  return r;
}

CoreReason
core_because_range (const CoreRuleContext *ctx, CorePlanReason reason)
{
  CoreReason r = core_because (reason, ctx->lo, (CoreId){ { 0 } });
  r.day2 = ctx->hi;
  r.code = ctx->in->forecast && ctx->in->forecast->probably_moulted ? 1 : 0;
  return r;
}

void
core_task_why (CoreTask *task, CoreReason reason)
{
  if (task->n_reasons < CORE_TASK_REASONS)
    task->reasons[task->n_reasons++] = reason;
}

void
core_held_why (CoreHeld *held, CoreReason reason)
{
  if (held->n_reasons < CORE_TASK_REASONS)
    held->reasons[held->n_reasons++] = reason;
}

static void
id_start (CoreTask *task, const char *tail, size_t tail_n)
{
  const char *name = core_task_name (task->kind);
  size_t n = strlen (name), at = 36;
  char subject[37];
  core_id_to_text (task->subject, subject);
  memcpy (task->id, subject, at);
  task->id[at++] = ':';
  memcpy (task->id + at, name, n);
  at += n;
  task->id[at++] = ':';
  memcpy (task->id + at, tail, tail_n);
  task->id[at + tail_n] = 0;
}

void
core_task_id_day (CoreTask *task, CoreDay day)
{
  char text[11];
  core_day_to_text (day, text);
  id_start (task, text, 10);
}

void
core_task_id_stage (CoreTask *task, int moults)
{
  char text[8] = "m?";
  size_t n = 2;
  if (moults >= 0 && moults < 100)
    {
      n = 1;
      if (moults >= 10)
        text[n++] = (char) ('0' + moults / 10);
      text[n++] = (char) ('0' + moults % 10);
    }
  id_start (task, text, n);
}

/* What was known of an animal before it came stands behind its tasks, but none of them was
 * due before that day. */
static CoreDay
not_before_it_came (const CoreRuleContext *ctx, CoreDay day)
{
  CoreDay came = ctx->s->acquired;
  return came == CORE_DAY_NONE || day >= came || came > ctx->in->today ? day : came;
}

CoreTask
core_task_make (const CoreRuleContext *ctx,
                CoreTaskKind kind,
                CoreReach reach,
                CoreDay earliest,
                CoreDay due,
                CoreDay latest,
                double weight)
{
  CoreTask t;
  memset (&t, 0, sizeof t);
  t.subject = ctx->s->subject;
  t.kind = kind;
  t.reach = reach;
  t.earliest = not_before_it_came (ctx, earliest);
  t.due = not_before_it_came (ctx, due < earliest ? earliest : due);
  t.latest = latest < t.due ? t.due : latest;
  t.weight = weight;
  t.stage = ctx->s->moults;
  core_task_id_day (&t, t.due);
  return t;
}

/* "3" = every 3 to 4 days, "3-5" = every 3 to 5. */
bool
core_interval_parse (const char *text, double *a, double *b)
{
  char first[16];
  const char *dash = strchr (text, '-');
  size_t n = dash ? (size_t) (dash - text) : strlen (text);
  if (n == 0 || n >= sizeof first)
    return false;
  memcpy (first, text, n);
  first[n] = 0;
  if (!core_number_parse (first, a) || !(*a >= 1 && *a <= 365))
    return false;
  *b = *a + 1;
  return !dash || (core_number_parse (dash + 1, b) && *b >= *a && *b <= 365);
}

CoreEvery
core_every (const CoreRuleContext *ctx, CoreTaskKind kind, double a, double b)
{
  CoreEvery every = { .a = a, .b = b };
  char key[24] = "interval.";
  const char *name = core_task_name (kind);
  memcpy (key + 9, name, strlen (name) + 1);
  for (size_t i = 0; i < ctx->s->settings.n; i++)
    {
      const CoreSetting *set = &ctx->s->settings.v[i];
      double x, y;
      if (strcmp (set->key, key) == 0 && set->value && core_interval_parse (set->value, &x, &y))
        every = (CoreEvery){ .a = x, .b = y, .own = true, .entry = set->entry };
    }
  if (!(every.a >= 1))
    every.a = 1;
  if (!(every.b >= every.a))
    every.b = every.a;
  return every;
}

CoreDay
core_done_day (const CoreState *state, CoreTaskKind kind, CoreId *entry)
{
  CoreDay day = CORE_DAY_NONE;
  for (size_t i = 0; i < state->done.n; i++)
    if (strcmp (state->done.v[i].rule, core_task_name (kind)) == 0 &&
        (day == CORE_DAY_NONE || state->done.v[i].day >= day))
      {
        day = state->done.v[i].day;
        if (entry)
          *entry = state->done.v[i].entry;
      }
  return day;
}
