/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-culture.c — feeder cultures: a new one weekly, an old one thrown away, more before a hatch.
 *
 * Only the two fruit flies are bred in jars with days of their own; other feeders come as pupae
 * or live in a tub for months, and have no task here. Days: common practice, no source.
 */
#include <math.h>
#include <string.h>

#include "core/core-rule.h"

typedef struct
{
  int prey;
  int from, to;             /* usable from day … to day … of its age */
  int before_a, before_b;   /* started so many days before a hatch: at the latest, at the earliest */
} Flies;

static const Flies FLIES[] = {
  { CORE_PREY_MELANOGASTER, 10, 30, 12, 14 },
  { CORE_PREY_HYDEI, 21, 45, 25, 28 },
};

static const double WEEK = 7;
static const int BIN_DAYS = 7;  /* to do it in (ours) */
static const int EARLY_DAYS = 3; /* what was started so long before its day is for that hatch (ours) */
/* 100 hatchlings empty three to five cultures a week: common practice, no source. */
static const double CULTURES_EACH = .04;
static const double WEIGHT = 16, HATCH_WEIGHT = 27, SPOILT_WEIGHT = 44;

static const CoreId NOBODY = { { 0 } };

static const Flies *
flies_of (int prey)
{
  for (size_t i = 0; i < sizeof FLIES / sizeof FLIES[0]; i++)
    if (FLIES[i].prey == prey)
      return &FLIES[i];
  return NULL;
}

/* "SUBJECT:culture:hydei": the same task however the days move. */
static void
id_by_word (CoreTask *task, const char *word)
{
  size_t at = strlen (task->id) - 10, n = strlen (word); /* behind the last ':' */
  if (at + n < sizeof task->id)
    memcpy (task->id + at, word, n + 1);
}

/* ---- a culture ---- */

static void
next_one (CoreRuleContext *ctx)
{
  const CoreCultureState *c = &ctx->s->culture;
  CoreEvery every = core_every (ctx, CORE_TASK_CULTURE, WEEK, WEEK + 1);
  CoreDay base = core_later (c->started, core_done_day (ctx->s, CORE_TASK_CULTURE, NULL));
  CoreDay due = base + (CoreDay) floor (every.a);
  CoreTask task = core_task_make (ctx, CORE_TASK_CULTURE, CORE_REACH_LOOK, due, due,
                                  base + (CoreDay) floor (every.b), WEIGHT);
  CoreReason r = core_because_value (CORE_R_CULTURE_WEEKLY, CORE_UNIT_DAYS, every.a, every.b,
                                     c->started, c->entry);
  r.code = c->prey;
  core_task_why (&task, r);
  core_plan_repeat (ctx, &task, every);
}

static void
old_one (CoreRuleContext *ctx, const Flies *flies)
{
  const CoreCultureState *c = &ctx->s->culture;
  CoreDay last = c->started + flies->to, due = last + 1;
  CoreDay done = core_done_day (ctx->s, CORE_TASK_CULTURE, NULL);
  if (done != CORE_DAY_NONE && done >= due)
    return;
  CoreTask task = core_task_make (ctx, CORE_TASK_CULTURE, CORE_REACH_LOOK, due, due,
                                  due + BIN_DAYS, WEIGHT);
  id_by_word (&task, "bin");
  CoreReason r = core_because_value (CORE_R_CULTURE_BIN, CORE_UNIT_DAYS, flies->from, flies->to,
                                     c->started, c->entry);
  r.code = c->prey;
  r.day2 = last;
  core_task_why (&task, r);
  core_plan_add (ctx, &task);
}

/* What was entered of it and not seen to since; NULL = nothing. */
static const CoreTroubleSeen *
spoilt (const CoreRuleContext *ctx)
{
  const CoreState *s = ctx->s;
  const CoreTroubleSeen *last = s->troubles.n ? &s->troubles.v[s->troubles.n - 1] : NULL;
  CoreId by = NOBODY;
  CoreDay done = core_done_day (s, CORE_TASK_CULTURE, &by);
  if (!last || last->day > ctx->in->today)
    return NULL;
  bool later = done > last->day || (done == last->day && core_id_compare (by, last->entry) > 0);
  return done != CORE_DAY_NONE && later ? NULL : last;
}

/* Mites, mould, a flood: out with it, and anew, whatever its age. */
static bool
throw_out (CoreRuleContext *ctx)
{
  const CoreTroubleSeen *t = spoilt (ctx);
  if (!t)
    return false;
  CoreTask task = core_task_make (ctx, CORE_TASK_CULTURE, CORE_REACH_LOOK, t->day, t->day,
                                  t->day + 1, SPOILT_WEIGHT);
  id_by_word (&task, "spoilt");
  CoreReason r = core_because (CORE_R_CULTURE_SPOILT, t->day, t->entry);
  r.code = t->what;
  task.trouble = true;
  core_task_why (&task, r);
  core_plan_add (ctx, &task);
  return true;
}

static void
of_culture (CoreRuleContext *ctx)
{
  const Flies *flies = flies_of (ctx->s->culture.prey);
  if (throw_out (ctx))
    return;
  if (!flies || ctx->s->culture.started == CORE_DAY_NONE)
    return;
  if (!ctx->in->superseded)
    next_one (ctx);
  old_one (ctx, flies);
}

/* ---- before a hatch ---- */

/* Is it small enough for a hatchling of this kind? The smaller of the two always is asked for. */
static bool
small_enough (const CoreRuleContext *ctx, int prey)
{
  if (prey == CORE_PREY_MELANOGASTER)
    return true;
  double mm = ctx->p->hatchling_mm.v;
  if (!isfinite (mm))
    mm = core_growth (ctx->s, ctx->p, .5, CORE_DIM_BODY, 0).p50;
  return isfinite (mm) && core_prey_mm (prey) <= ctx->p->prey_nymph * mm;
}

static void
before_hatch (CoreRuleContext *ctx, const Flies *flies)
{
  const CoreHatch *hatch = ctx->in->hatch;
  CoreDay due = core_later (hatch->lo - flies->before_b, hatch->since);
  CoreDay done = core_done_day (ctx->s, CORE_TASK_CULTURE, NULL);
  double young = (ctx->p->young.a.v + ctx->p->young.b.v) / 2;
  bool small = flies->prey == CORE_PREY_MELANOGASTER;
  if (!small_enough (ctx, flies->prey) || (done != CORE_DAY_NONE && done >= due - EARLY_DAYS))
    return;
  CoreTask task = core_task_make (ctx, CORE_TASK_CULTURE, CORE_REACH_LOOK, due, due,
                                  core_later (hatch->lo - flies->before_a, due), HATCH_WEIGHT);
  id_by_word (&task, small ? "small" : "large");
  CoreReason r = core_because_value (CORE_R_CULTURE_BEFORE_HATCH, CORE_UNIT_TIMES,
                                     fmax (1, ceil (young * CULTURES_EACH)), young, hatch->lo,
                                     NOBODY);
  r.code = flies->prey;
  core_task_why (&task, r);
  core_plan_add (ctx, &task);
}

/* Past its range nobody can say for when: the weekly ones must do. */
static void
of_egg (CoreRuleContext *ctx)
{
  const CoreHatch *hatch = ctx->in->hatch;
  if (!hatch || !hatch->known || ctx->s->egg.hatchings.n > 0 || ctx->in->today > hatch->hi)
    return;
  for (size_t i = 0; i < sizeof FLIES / sizeof FLIES[0]; i++)
    before_hatch (ctx, &FLIES[i]);
}

void
core_rule_culture (CoreRuleContext *ctx)
{
  if (ctx->s->end != CORE_END_NONE)
    return;
  if (ctx->s->kind == CORE_SUBJECT_CULTURE)
    of_culture (ctx);
  else
    of_egg (ctx);
}
