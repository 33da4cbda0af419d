/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-sex-check.c — a picture of the underside, once per stage, from the first
 * readable one; no more once the sex is likely, unless it is for pairing or sale. */
#include <math.h>
#include <string.h>

#include "core/core-rule.h"

static const double WEIGHT = 12;
static const int WINDOW_DAYS = 14; /* ours */
/* A collection that moves in is not all photographed on its first day: from the next one on
 * over two weeks (ours). */
static const CoreDay SPREAD_DAYS = 14;

static bool
setting_is (const CoreState *s, const char *key, const char *value)
{
  const char *v = core_state_setting (s, key);
  return v && strcmp (v, value) == 0;
}

/* A picture of the back, or one on which nothing could be read, leaves the check open. */
static bool
picture_says (const CoreSexReading *r)
{
  bool plates = r->side != CORE_SIDE_BACK && r->side != CORE_SIDE_FLANK &&
                (r->count >= 0 || r->last_plate == CORE_LAST_BOAT || r->last_plate == CORE_LAST_SMALL);
  return plates || !isnan (r->wing_ratio) || !isnan (r->tegmen_pronotum) || r->cue[0] != '\0';
}

static bool
read_this_stage (const CoreState *s)
{
  int now = (int) s->stages.n - 1;
  CoreDay done = core_done_day (s, CORE_TASK_SEX_CHECK, NULL), since = core_stage_since (s);
  for (size_t i = 0; i < s->sex.n; i++)
    {
      const CoreSexReading *r = &s->sex.v[i];
      bool eyes = (r->from == CORE_KIND_MARKED && picture_says (r)) ||
                  (r->from == CORE_KIND_SEXED && r->method < CORE_METHOD_DESCENT);
      if (eyes && !r->of_other && r->stage == now && now >= 0)
        return true;
    }
  if (s->adult && s->adult_seen != CORE_DAY_NONE &&
      (since == CORE_DAY_NONE || s->adult_seen > since))
    since = s->adult_seen;
  return done != CORE_DAY_NONE && (since == CORE_DAY_NONE || done >= since);
}

static bool
wanted (const CoreRuleContext *ctx, bool purpose)
{
  const CoreSexVerdict *v = ctx->in->verdict;
  bool readable = ctx->s->adult || (ctx->m_low >= 0 && ctx->m_low >= ctx->p->readable_from);
  if (!v || !readable || setting_is (ctx->s, "sex_check", "not_needed") || read_this_stage (ctx->s))
    return false;
  if (v->verdict == CORE_VERDICT_FIRM_MALE || v->verdict == CORE_VERDICT_FIRM_FEMALE)
    return false;
  return v->verdict == CORE_VERDICT_UNDECIDED || purpose;
}

static void
hold_for (CoreRuleContext *ctx, const CoreTask *task, CoreReason why)
{
  CoreHeld held = { .subject = task->subject,
                    .kind = CORE_TASK_SEX_CHECK,
                    .until = CORE_DAY_NONE,
                    .ask_again = ctx->in->today + 1 };
  core_held_why (&held, why);
  for (size_t i = 0; i < task->n_reasons; i++)
    core_held_why (&held, task->reasons[i]);
  if (core_plan_touches (ctx, task))
    core_plan_hold (ctx, &held);
}

/* What pumped or split is in another stage by now: first its moult is entered. */
static bool
hold_after_sign (CoreRuleContext *ctx, const CoreTask *task)
{
  CoreDay latest;
  const CoreSignSeen *sign = core_certain_sign (ctx->s, &latest);
  if (!sign || (ctx->hold.kind != CORE_HOLD_NONE && !ctx->hold.by_sign))
    return false;
  CoreReason r = core_because (CORE_R_HOLD_SIGN, sign->last, sign->entry);
  r.code = sign->sign;
  hold_for (ctx, task, ctx->hold.by_sign ? ctx->hold.reasons[0] : r);
  return true;
}

/* 0 … days - 1: the same for an animal every day, and even over many. */
static CoreDay
turn_of (CoreId id, CoreDay days)
{
  uint32_t hash = 2166136261u; /* FNV-1a */
  for (size_t i = 0; i < sizeof id.b; i++)
    hash = (hash ^ id.b[i]) * 16777619u;
  return (CoreDay) (hash % (uint32_t) days);
}

static CoreDay
due_day (const CoreRuleContext *ctx)
{
  CoreDay since = core_stage_since (ctx->s), came = ctx->s->acquired;
  CoreDay due = since == CORE_DAY_NONE ? ctx->in->today : since;
  if (!ctx->s->moved_in || due > came || ctx->in->today < came)
    return due;
  CoreDay days = SPREAD_DAYS;
  const CoreStage *stage = core_state_stage_now (ctx->s);
  /* Before a range that opens between. Where the start of the stage is not known, or it opens
   * at once, the hold decides. */
  bool known = stage && stage->start != CORE_START_ACQUIRED;
  if (known && ctx->has_range && ctx->lo > came + 1 && ctx->lo - 1 - came < days)
    days = ctx->lo - 1 - came;
  return came + 1 + turn_of (ctx->s->subject, days);
}

void
core_rule_sex_check (CoreRuleContext *ctx)
{
  bool pairing = setting_is (ctx->s, "purpose", "pairing");
  bool sale = setting_is (ctx->s, "purpose", "sale");
  if (!wanted (ctx, pairing || sale))
    return;
  CoreDay due = due_day (ctx);
  CoreDay latest = due + WINDOW_DAYS;
  if (ctx->has_range && !ctx->in_range && latest >= ctx->lo)
    latest = ctx->lo - 1;
  CoreTask task =
    core_task_make (ctx, CORE_TASK_SEX_CHECK, CORE_REACH_TOUCH, due, due, latest, WEIGHT);
  core_task_id_stage (&task, ctx->s->moults);
  core_task_why (&task, core_because_value (CORE_R_SEX_CHECK_READABLE, CORE_UNIT_MOULTS,
                                            ctx->p->readable_from, ctx->m_low, CORE_DAY_NONE,
                                            (CoreId){ { 0 } }));
  CoreReason sure =
    core_because_value (CORE_R_SEX_CHECK_NOT_SURE, CORE_UNIT_PROBABILITY,
                        fmax (ctx->p_male, 1 - ctx->p_male), 0, CORE_DAY_NONE, (CoreId){ { 0 } });
  sure.code = ctx->p_male > .5 ? CORE_SEX_MALE : ctx->p_male < .5 ? CORE_SEX_FEMALE : 0;
  core_task_why (&task, sure);
  if (pairing || sale)
    {
      CoreReason r = core_because (CORE_R_SEX_CHECK_PURPOSE, CORE_DAY_NONE, (CoreId){ { 0 } });
      r.code = sale;
      core_task_why (&task, r);
    }
  /* "Any day now" is not said for ever: what most likely moults no more waits for nothing. */
  if (hold_after_sign (ctx, &task))
    return;
  if (ctx->in_range && !ctx->doubtful && ctx->hold.kind == CORE_HOLD_NONE)
    hold_for (ctx, &task, core_because_range (ctx, CORE_R_HOLD_IN_RANGE));
  else
    core_plan_add (ctx, &task);
}
