/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-home.c — a home tall enough for the next moult.
 *
 * Inner height against three times the 90 % length after the next moult; the
 * last day for moving is three days before the 10 % day. No task for adults.
 */
#include <math.h>

#include "core/core-rule.h"

static const double HEIGHT_TIMES = 3; /* common practice, no source */
static const double LARGE_TIMES = 10; /* common practice, no source */
static const int BEFORE_RANGE_DAYS = 3;
static const int NOTICE_DAYS = 10;  /* asked for from this long before the last day (ours) */
static const int NO_RANGE_DAYS = 7; /* without a range: within a week (ours) */
static const double WEIGHT = 24;

/* Its own cup, else the home that it is housed in. NAN = not said. */
static double
side (const CoreRuleContext *ctx, size_t at)
{
  const CoreState *s = ctx->s;
  const CoreStay *stay = s->stays.n ? &s->stays.v[s->stays.n - 1] : NULL;
  const CoreState *home = ctx->in->place;
  double own[3] = { NAN, NAN, NAN }, place[3] = { NAN, NAN, NAN };
  if (stay)
    {
      own[0] = stay->height_mm;
      own[1] = stay->width_mm;
      own[2] = stay->depth_mm;
    }
  /* A shelf has a height too: only a place within another one is a home. */
  if (home && !core_id_is_none (home->place.within))
    {
      place[0] = home->place.height_mm;
      place[1] = home->place.width_mm;
      place[2] = home->place.depth_mm;
    }
  return isfinite (own[at]) && own[at] > 0 ? own[at] : place[at];
}

static void
too_large (CoreRuleContext *ctx)
{
  double least = fmin (side (ctx, 0), fmin (side (ctx, 1), side (ctx, 2)));
  bool all = isfinite (side (ctx, 0)) && isfinite (side (ctx, 1)) && isfinite (side (ctx, 2));
  if (!all || ctx->m_high < 0 || ctx->m_high > 1 || !isfinite (ctx->body.p50) ||
      least <= LARGE_TIMES * ctx->body.p50)
    return;
  CoreDay done = core_done_day (ctx->s, CORE_TASK_HOME, NULL), since = core_stage_since (ctx->s);
  if (done != CORE_DAY_NONE && since != CORE_DAY_NONE && done >= since)
    return;
  CoreTask task = core_task_make (ctx, CORE_TASK_HOME, CORE_REACH_TOUCH, ctx->in->today,
                                  ctx->in->today, ctx->in->today + 3, WEIGHT);
  core_task_id_stage (&task, ctx->s->moults);
  core_task_why (&task, core_because_value (CORE_R_HOME_TOO_LARGE, CORE_UNIT_MM, ctx->body.p50,
                                            least, CORE_DAY_NONE, (CoreId){ { 0 } }));
  core_plan_add (ctx, &task);
}

static const CoreSignSeen *
moult_sign (const CoreState *s)
{
  static const int signs[] = { CORE_SIGN_SPLITTING, CORE_SIGN_PUMPING, CORE_SIGN_HANGING,
                               CORE_SIGN_PADS, CORE_SIGN_DULL };
  for (size_t i = 0; i < sizeof signs / sizeof signs[0]; i++)
    {
      const CoreSignSeen *seen = core_sign_seen (s, signs[i]);
      if (seen)
        return seen;
    }
  return NULL;
}

static void
hold_for_sign (CoreRuleContext *ctx, const CoreTask *task, const CoreSignSeen *sign)
{
  CoreHeld held = { .subject = task->subject,
                    .kind = CORE_TASK_HOME,
                    .until = CORE_DAY_NONE,
                    .ask_again = ctx->in->today + 1 };
  CoreReason r = core_because (CORE_R_HOLD_SIGN, sign->last, sign->entry);
  r.code = sign->sign;
  core_held_why (&held, r);
  for (size_t i = 0; i < task->n_reasons; i++)
    core_held_why (&held, task->reasons[i]);
  if (core_plan_touches (ctx, task))
    core_plan_hold (ctx, &held);
}

/* When the next moult may come: by the length of the stage while that range is current,
 * later by what is left to expect. False: whether one comes at all, or is still to come, is
 * doubtful. */
static bool
moult_days (const CoreRuleContext *ctx, CoreDay *lo, CoreDay *hi, bool *late)
{
  const CoreForecast *f = ctx->in->forecast;
  *lo = ctx->lo;
  *hi = ctx->hi;
  *late = ctx->in->today > ctx->hi;
  if (!*late)
    return true;
  if (ctx->doubtful || f->probably_moulted || f->p10 == CORE_DAY_NONE)
    return false;
  *lo = f->p10;
  *hi = f->p90;
  return true;
}

/* False when there is nothing to be said of a day. */
static bool
set_window (const CoreRuleContext *ctx, CoreTask *task)
{
  CoreDay today = ctx->in->today, lo, hi;
  bool late;
  if (!ctx->has_range)
    {
      task->earliest = today;
      task->due = task->latest = today + NO_RANGE_DAYS;
      return true;
    }
  if (!moult_days (ctx, &lo, &hi, &late))
    return false;
  CoreDay last = lo - BEFORE_RANGE_DAYS;
  if (today > last)
    {
      /* Not any more: it stands for the days after that moult, so that nobody moves it now. */
      task->earliest = task->due = (hi > today ? hi : today) + BEFORE_RANGE_DAYS;
      task->latest = task->due + NO_RANGE_DAYS;
      task->weight = WEIGHT / 2;
      core_task_why (task, core_because (CORE_R_HOME_TOO_LATE, last, (CoreId){ { 0 } }));
      return true;
    }
  CoreReason r = core_because (CORE_R_HOME_LAST_DAY, last, (CoreId){ { 0 } });
  r.day2 = lo;
  r.code = late;
  core_task_why (task, r);
  task->earliest = last - NOTICE_DAYS;
  task->due = last - BEFORE_RANGE_DAYS;
  task->latest = last;
  if (today >= task->due)
    task->weight += 12;
  return true;
}

void
core_rule_home (CoreRuleContext *ctx)
{
  double height = side (ctx, 0);
  CoreDay done = core_done_day (ctx->s, CORE_TASK_HOME, NULL), since = core_stage_since (ctx->s);
  bool settled = done != CORE_DAY_NONE && since != CORE_DAY_NONE && done >= since;
  if (ctx->s->adult || ctx->s->probably_adult || ctx->s->moults < 0 ||
      ctx->s->moults >= CORE_MAX_MOULTS || !isfinite (height) || height <= 0)
    return;
  too_large (ctx);
  CoreGrowth g = core_growth (ctx->s, ctx->p, ctx->p_male, CORE_DIM_BODY, ctx->s->moults + 1);
  if (settled || !g.known || height >= HEIGHT_TIMES * g.p90)
    return;
  CoreTask task = core_task_make (ctx, CORE_TASK_HOME, CORE_REACH_TOUCH, ctx->in->today,
                                  ctx->in->today, ctx->in->today, WEIGHT);
  CoreId none = { { 0 } };
  core_task_id_stage (&task, ctx->s->moults);
  if (g.measured == 0)
    core_task_why (&task, core_because (CORE_R_HOME_MEASURE_FIRST, CORE_DAY_NONE, none));
  if (!set_window (ctx, &task))
    return;
  core_task_why (&task, core_because_value (CORE_R_HOME_HEIGHT, CORE_UNIT_MM, height,
                                            HEIGHT_TIMES * g.p90, CORE_DAY_NONE, none));
  core_task_why (&task, core_because_value (CORE_R_HOME_LENGTH_AFTER, CORE_UNIT_MM, g.p50, g.p90,
                                            CORE_DAY_NONE, none));
  const CoreSignSeen *sign = moult_sign (ctx->s);
  if (sign && task.reach > CORE_REACH_LOOK && ctx->hold.kind == CORE_HOLD_NONE)
    hold_for_sign (ctx, &task, sign);
  else
    core_plan_add (ctx, &task);
}
