/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-climate.c — a place too warm or too cold for what stands on it; one task per place.
 *
 * Readings of the shelf and readings inside a home are judged apart and never mixed. A reading
 * past "look at once" is enough; else four hours of a day outside the band of day or night, which
 * only readings that follow each other closely can show. A warm spot is compared with nothing:
 * no reading says that it is of one.
 */
#include <math.h>

#include "core/core-rule.h"

static const double DANGER_WEIGHT = 70, WEIGHT = 35;
static const int FRESH_DAYS = 1;     /* today's readings and yesterday's */
static const double MOST_HOURS = 4;
static const int GAP_MINUTES = 120;  /* between readings farther apart nobody knows (ours) */
static const int MORNING = 7 * 60;   /* the light comes on, as in the development clock (ours) */
static const double LIGHT_H = 12;    /* where it is not said (ours) */

static CoreShelfBand
band_of (const CoreRuleContext *ctx)
{
  CoreShelfBand band = { 0 };
  if (ctx->in->band)
    return *ctx->in->band;
  core_shelf_band_add (&band, ctx->p);
  return band;
}

/* The keeper has seen to it after this was written. */
static bool
seen_to (const CoreRuleContext *ctx, const CoreReadingAt *r)
{
  CoreId entry = { { 0 } };
  CoreDay done = core_done_day (ctx->s, CORE_TASK_CLIMATE, &entry);
  if (done == CORE_DAY_NONE || done < r->day)
    return false;
  return done > r->day || core_id_compare (entry, r->entry) > 0;
}

/* Readings of the last days are at the end; index of the first of that day or later. */
static size_t
first_of (const CorePlaceState *place, CoreDay day)
{
  size_t i = place->readings.n;
  while (i > 0 && place->readings.v[i - 1].day >= day)
    i--;
  return i;
}

/* ---- look at once ---- */

static const CoreReadingAt *
danger (const CoreRuleContext *ctx, const CoreShelfBand *band, bool inside)
{
  const CorePlaceState *place = &ctx->s->place;
  size_t first = first_of (place, ctx->in->today - FRESH_DAYS);
  for (size_t i = place->readings.n; i > first; i--)
    {
      const CoreReadingAt *r = &place->readings.v[i - 1];
      if (r->inside == inside && r->day <= ctx->in->today && !seen_to (ctx, r) &&
          (r->t > band->look_above || r->t < band->look_below))
        return r;
    }
  return NULL;
}

static bool
at_once (CoreRuleContext *ctx, const CoreShelfBand *band)
{
  CoreTask task;
  bool any = false;
  for (int inside = 0; inside < 2; inside++)
    {
      const CoreReadingAt *r = danger (ctx, band, inside);
      if (!r)
        continue;
      bool hot = r->t > band->look_above;
      CoreReason why = core_because_value (hot ? CORE_R_CLIMATE_HOT : CORE_R_CLIMATE_COLD,
                                           CORE_UNIT_CELSIUS, r->t,
                                           hot ? band->look_above : band->look_below, r->day,
                                           r->entry);
      why.code = inside;
      if (!any)
        task = core_task_make (ctx, CORE_TASK_CLIMATE, CORE_REACH_LOOK, r->day, r->day, r->day,
                               DANGER_WEIGHT);
      core_task_why (&task, why);
      any = true;
    }
  if (!any)
    return false;
  task.emergency = true;
  core_plan_add (ctx, &task);
  return true;
}

/* ---- hours out of the band ---- */

typedef struct
{
  double hot, cold;           /* hours */
  const CoreReadingAt *hottest, *coldest;
  double over, under;         /* the end of the band that those passed */
} Outside;

static bool
by_day (const CorePlaceState *place, int minute)
{
  double light = isfinite (place->light_h) ? place->light_h : LIGHT_H;
  return minute >= MORNING && minute < MORNING + light * 60;
}

/* 1 too warm, -1 too cold, for that time of the day. */
static int
side_of (const CorePlaceState *place, const CoreShelfBand *band, const CoreReadingAt *r)
{
  bool day = by_day (place, r->minute);
  double hi = day ? band->day_hi : band->night_hi, lo = day ? band->day_lo : band->night_lo;
  return r->t > hi ? 1 : r->t < lo ? -1 : 0;
}

static void
note_worst (const CorePlaceState *place,
            const CoreShelfBand *band,
            const CoreReadingAt *r,
            Outside *out)
{
  int side = side_of (place, band, r);
  bool day = by_day (place, r->minute);
  if (side > 0 && (!out->hottest || r->t > out->hottest->t))
    {
      out->hottest = r;
      out->over = day ? band->day_hi : band->night_hi;
    }
  if (side < 0 && (!out->coldest || r->t < out->coldest->t))
    {
      out->coldest = r;
      out->under = day ? band->day_lo : band->night_lo;
    }
}

/* Of one day; of a gap with one end outside half of it is. */
static Outside
hours_outside (const CoreRuleContext *ctx, const CoreShelfBand *band, bool inside, CoreDay day)
{
  const CorePlaceState *place = &ctx->s->place;
  const CoreReadingAt *before = NULL;
  Outside out = { 0 };
  for (size_t i = first_of (place, day); i < place->readings.n; i++)
    {
      const CoreReadingAt *r = &place->readings.v[i];
      if (r->day > day)
        break;
      if (r->inside != inside || r->minute < 0 || !isfinite (r->t) || seen_to (ctx, r))
        continue;
      note_worst (place, band, r, &out);
      if (before && r->minute - before->minute <= GAP_MINUTES)
        {
          double half = (r->minute - before->minute) / 120.;
          int a = side_of (place, band, before), b = side_of (place, band, r);
          out.hot += half * ((a > 0) + (b > 0));
          out.cold += half * ((a < 0) + (b < 0));
        }
      before = r;
    }
  return out;
}

static bool
too_long (CoreRuleContext *ctx, const CoreShelfBand *band, bool inside, CoreDay day)
{
  Outside out = hours_outside (ctx, band, inside, day);
  bool cold = out.cold > out.hot;
  const CoreReadingAt *worst = cold ? out.coldest : out.hottest;
  if (out.hot + out.cold <= MOST_HOURS || !worst)
    return false;
  CoreTask task =
    core_task_make (ctx, CORE_TASK_CLIMATE, CORE_REACH_LOOK, day, day, day + 1, WEIGHT);
  CoreReason why = core_because_value (CORE_R_CLIMATE_BAND, CORE_UNIT_CELSIUS, worst->t,
                                       cold ? out.under : out.over, day, worst->entry);
  why.value3 = out.hot + out.cold;
  why.code = inside + (cold ? 2 : 0);
  core_task_why (&task, why);
  core_plan_add (ctx, &task);
  return true;
}

void
core_rule_climate (CoreRuleContext *ctx)
{
  if (!ctx->p || ctx->s->place.readings.n == 0)
    return;
  CoreShelfBand band = band_of (ctx);
  if (band.n == 0 || at_once (ctx, &band)) /* nothing there that it could hurt */
    return;
  for (CoreDay day = ctx->in->today; day >= ctx->in->today - FRESH_DAYS; day--)
    for (int inside = 0; inside < 2; inside++)
      if (too_long (ctx, &band, inside, day))
        return;
}
