/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-adult.c — when it may be receptive, and, calmly, when it is old.
 *
 * Both count from the adult moult; where that is not known only "adult since at least" is, which
 * tells of age but not of readiness. Calling outdoes any number of days.
 */
#include <math.h>
#include <string.h>

#include "core/core-rule.h"

static const double WEIGHT = 6;
static const int CALLING_DAYS = 14;    /* a calling posture speaks for so long (ours) */
static const double OLD_SHARE = .75;   /* of the usual span of adult life (ours) */
static const int OLD_EVERY_DAYS = 30;  /* and then not again for so long (ours) */
/* The first case comes days to four weeks after a mating (common practice, no source); two weeks
 * on it is overdue (ours). */
static const int OVERDUE_DAYS = 42;
static const int OVERDUE_EVERY_DAYS = 14; /* ours */
static const double OVERDUE_WEIGHT = 26;

static CoreSex
sex_of (const CoreRuleContext *ctx)
{
  if (ctx->in->verdict && ctx->in->verdict->male >= CORE_SEX_LIKELY)
    return CORE_SEX_MALE;
  if (ctx->in->verdict && ctx->in->verdict->female >= CORE_SEX_LIKELY)
    return CORE_SEX_FEMALE;
  return CORE_SEX_UNKNOWN;
}

/* The day by which it was adult; *since_moult: and that is the day of its moult. */
static CoreDay
adult_day (const CoreState *s, bool *since_moult)
{
  const CoreStage *stage = core_state_stage_now (s);
  *since_moult = stage && stage->start == CORE_START_MOULTED && isfinite (stage->hi);
  return *since_moult ? (CoreDay) ceil (stage->hi) : s->adult_seen;
}

/* Nothing that is late: it says what is so today, until its days are over or it is put away. */
static CoreTask
note (const CoreRuleContext *ctx, CoreDay from, CoreDay to)
{
  CoreDay due = from > ctx->in->today ? from : ctx->in->today;
  CoreTask task = core_task_make (ctx, CORE_TASK_ADULT, CORE_REACH_LOOK, due, due, to, WEIGHT);
  core_task_id_stage (&task, ctx->s->moults);
  return task;
}

static bool
for_pairing (const CoreRuleContext *ctx)
{
  const char *purpose = core_state_setting (ctx->s, "purpose");
  return !purpose || strcmp (purpose, "pairing") == 0;
}

static void
receptive (CoreRuleContext *ctx, CoreDay adult, bool since_moult)
{
  const CoreState *s = ctx->s;
  CoreSex sex = sex_of (ctx);
  const CoreSpan *span = &ctx->p->receptive[sex == CORE_SEX_FEMALE];
  CoreDay today = ctx->in->today;
  bool calling = s->called != CORE_DAY_NONE && today - s->called <= CALLING_DAYS;
  if (sex == CORE_SEX_UNKNOWN || !for_pairing (ctx) || (!since_moult && !calling))
    return;
  CoreDay from = adult + (CoreDay) span->a.v, to = adult + (CoreDay) span->b.v;
  if (calling && (!since_moult || s->called < from))
    from = s->called;
  if (calling && (!since_moult || s->called + CALLING_DAYS > to))
    to = s->called + CALLING_DAYS;
  CoreDay done = core_done_day (s, CORE_TASK_ADULT, NULL);
  if (today > to || (done != CORE_DAY_NONE && done >= from))
    return;
  CoreTask task = note (ctx, from, to);
  if (calling)
    core_task_why (&task, core_because (CORE_R_ADULT_CALLING, s->called, s->called_entry));
  if (since_moult)
    {
      CoreReason r = core_because_value (CORE_R_ADULT_RECEPTIVE, CORE_UNIT_DAYS, span->a.v,
                                         span->b.v, adult, s->adult_entry);
      r.code = (int) sex;
      r.day2 = adult + (CoreDay) span->b.v;
      core_task_why (&task, r);
    }
  core_plan_add (ctx, &task);
}

static void
old (CoreRuleContext *ctx, CoreDay adult, bool since_moult)
{
  CoreSex sex = sex_of (ctx);
  /* Of unknown sex: by the longer life, so that none is called old too early. */
  const CoreSpan *span = &ctx->p->adult_life[sex != CORE_SEX_MALE];
  CoreDay from = adult + (CoreDay) ceil (span->a.v + OLD_SHARE * (span->b.v - span->a.v));
  CoreDay done = core_done_day (ctx->s, CORE_TASK_ADULT, NULL);
  if (done != CORE_DAY_NONE && done >= from)
    from = done + OLD_EVERY_DAYS;
  CoreTask task = note (ctx, from, from + OLD_EVERY_DAYS);
  CoreReason r = core_because_value (CORE_R_ADULT_OLD, CORE_UNIT_DAYS, ctx->in->today - adult,
                                     span->a.v, adult, ctx->s->adult_entry);
  r.value3 = span->b.v;
  r.code = !since_moult;
  core_task_why (&task, r);
  core_plan_add (ctx, &task);
}

/* She carries eggs and lays none: somewhere to lay, water, and a look at her. */
static void
overdue (CoreRuleContext *ctx)
{
  const CoreState *s = ctx->s;
  CoreDay since = ctx->carries_since, done = core_done_day (s, CORE_TASK_ADULT, NULL);
  CoreDay laid = s->layings.n ? s->layings.v[s->layings.n - 1].day : CORE_DAY_NONE;
  if (!ctx->gravid || since == CORE_DAY_NONE || (laid != CORE_DAY_NONE && laid >= since))
    return;
  CoreDay from = since + OVERDUE_DAYS;
  if (done != CORE_DAY_NONE && done >= from)
    from = done + OVERDUE_EVERY_DAYS;
  CoreTask task = core_task_make (ctx, CORE_TASK_ADULT, CORE_REACH_LOOK, from, from,
                                  core_later (from, ctx->in->today), OVERDUE_WEIGHT);
  CoreReason r = core_because (CORE_R_ADULT_OVERDUE, since, ctx->carries.entries[0]);
  r.code = ctx->carries.code;
  task.forward = true; /* she may be egg-bound */
  core_task_why (&task, r);
  core_plan_add (ctx, &task);
}

void
core_rule_adult (CoreRuleContext *ctx)
{
  bool since_moult;
  CoreDay adult = ctx->s->adult ? adult_day (ctx->s, &since_moult) : CORE_DAY_NONE;
  if (adult == CORE_DAY_NONE || adult > ctx->in->today)
    return;
  receptive (ctx, adult, since_moult);
  overdue (ctx);
  old (ctx, adult, since_moult);
}
