/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-ill.c — vomiting, mites, weakness: food waits, water does not.
 *
 * Common practice, no source: one that vomits is given air, a clean cup and water, and nothing to
 * eat; mites live on what is left of prey; a weak one drinks before it eats. How long is ours.
 */
#include "core/core-rule.h"

static const int LATELY = 7; /* days for which the first prey after it is a small soft one (ours) */

static const struct
{
  int what, days; /* without food, from the day on which it was entered */
  CorePlanReason held;
} ills[] = { { CORE_TROUBLE_VOMIT, 3, CORE_R_HOLD_VOMIT },
             { CORE_TROUBLE_MITES, 1, CORE_R_HOLD_MITES },
             { CORE_TROUBLE_WEAK, 1, CORE_R_HOLD_WEAK } };

#define N_ILLS (sizeof ills / sizeof *ills)

static size_t
row_of (int what)
{
  size_t row = 0;
  while (row < N_ILLS && ills[row].what != what)
    row++;
  return row;
}

/* Seen to eat after it, it is over; a weak one that is thin is fed as a thin one. */
static bool
counts (const CoreRuleContext *ctx, const CoreTroubleSeen *t)
{
  CoreDay taken = ctx->s->last_taken;
  return t->day <= ctx->in->today && ctx->in->today - t->day < LATELY &&
         row_of (t->what) < N_ILLS && (taken == CORE_DAY_NONE || taken <= t->day) &&
         !(t->what == CORE_TROUBLE_WEAK && ctx->out->thin);
}

void
core_ill_find (CoreRuleContext *ctx)
{
  ctx->ill_free = CORE_DAY_NONE;
  for (size_t i = 0; i < ctx->s->troubles.n && !ctx->lot; i++)
    {
      const CoreTroubleSeen *t = &ctx->s->troubles.v[i];
      if (!counts (ctx, t) || t->day + ills[row_of (t->what)].days < ctx->ill_free)
        continue;
      ctx->ill = t;
      ctx->ill_free = t->day + ills[row_of (t->what)].days;
    }
}

bool
core_ill_holds (const CoreRuleContext *ctx)
{
  return ctx->ill && ctx->in->today < ctx->ill_free;
}

CoreReason
core_ill_because (const CoreRuleContext *ctx, CorePlanReason reason)
{
  CoreReason r = core_because (reason, ctx->ill->day, ctx->ill->entry);
  r.code = ctx->ill->what;
  return r;
}

CoreReason
core_ill_reason (const CoreRuleContext *ctx)
{
  CoreReason r = core_ill_because (ctx, ills[row_of (ctx->ill->what)].held);
  r.day2 = ctx->ill_free;
  return r;
}
