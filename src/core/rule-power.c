/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-power.c — the power was out: the look at every cup of that shelf comes forward to that
 * evening, until it was looked at (rule-look.c).
 *
 * A cut that let it fall below what its kind is looked at at once for cannot wait.
 */
#include <math.h>

#include "core/core-rule.h"

static const double WEIGHT = 60;
static const int FRESH_DAYS = 7; /* ours: what was not looked at by then is an unseen cup */

static const CorePlaceState *
later_cut (const CorePlaceState *a, const CoreState *b)
{
  if (!b || b->place.power_cut == CORE_DAY_NONE)
    return a;
  return a && a->power_cut >= b->place.power_cut ? a : &b->place;
}

/* On the day of the cut only a look that was written after it. */
static bool
looked_since (const CoreState *s, const CorePlaceState *cut)
{
  for (size_t i = s->looks.n; i > 0; i--)
    {
      const CoreLook *look = &s->looks.v[i - 1];
      if (look->day < cut->power_cut)
        return false;
      if (look->day > cut->power_cut || core_id_compare (look->entry, cut->power_entry) > 0)
        return true;
    }
  return false;
}

const CorePlaceState *
core_power_cut (const CoreRuleContext *ctx)
{
  const CorePlaceState *cut = later_cut (later_cut (NULL, ctx->in->place), ctx->in->shelf);
  CoreDay today = ctx->in->today;
  if (!cut || cut->power_cut > today || today - cut->power_cut > FRESH_DAYS ||
      looked_since (ctx->s, cut))
    return NULL;
  if (ctx->s->acquired != CORE_DAY_NONE && ctx->s->acquired > cut->power_cut)
    return NULL;
  CoreDay done = core_done_day (ctx->s, CORE_TASK_LOOK, NULL);
  return done != CORE_DAY_NONE && done > cut->power_cut ? NULL : cut;
}

void
core_power_say (const CoreRuleContext *ctx, const CorePlaceState *cut, CoreTask *task)
{
  task->weight = fmax (task->weight, WEIGHT);
  task->emergency = ctx->p && cut->power_lowest < ctx->p->look_below.v; /* false for NAN */
  core_task_why (task, core_because_value (CORE_R_LOOK_POWER, CORE_UNIT_CELSIUS, cut->power_lowest,
                                           NAN, cut->power_cut, cut->power_entry));
}
