/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-hatch.c — an egg case along the development clock of its kind.
 *
 * The profile's incubation is of cases kept at 27 °C; cooler or warmer ones take as much
 * longer or shorter as nymphs do (ours: eggs of few kinds were measured). In the cold the
 * clock stands still, so that a rest in a fridge that is entered as a place counts by itself.
 */
#include "core/core-hatch.h"

#include <math.h>
#include <string.h>

static const double INCUBATION_C = 27; /* the middle of keepers' 25 to 30 °C */
static const int REST_DAYS = 365;
static const double DUD_TIMES = 1.5;   /* common practice, no source */

static const CoreSetting *
rest_setting (const CoreState *egg)
{
  for (size_t i = 0; i < egg->settings.n; i++)
    if (strcmp (egg->settings.v[i].key, "rest") == 0 && egg->settings.v[i].value)
      return &egg->settings.v[i];
  return NULL;
}

static bool
rests (const CoreSetting *rest)
{
  return rest && strcmp (rest->value, "yes") == 0;
}

bool
core_egg_rests (const CoreState *egg, const CoreProfile *profile)
{
  return profile->eggs_rest && rests (rest_setting (egg));
}

CoreDay
core_hatch_from (const CoreState *egg)
{
  return egg->egg.laid_earliest != CORE_DAY_NONE ? egg->egg.laid_earliest : egg->first_day;
}

static CoreDay
day_of (double evening)
{
  return isfinite (evening) ? (CoreDay) ceil (evening) : CORE_DAY_NONE;
}

/* The days between which it began: laid, or the end of its rest. False when nobody knows. */
static bool
began (const CoreState *egg, const CoreProfile *profile, CoreDay *lo, CoreDay *hi, bool *came)
{
  const CoreSetting *rest = rest_setting (egg);

  *came = egg->egg.laid_day == CORE_DAY_NONE;
  *lo = *came ? egg->first_day : egg->egg.laid_earliest;
  *hi = *came ? (egg->acquired != CORE_DAY_NONE ? egg->acquired : egg->first_day)
              : egg->egg.laid_day;
  if (*hi == CORE_DAY_NONE)
    return false;
  /* Out of its rest: warm from that day on. */
  if (profile->eggs_rest && rest && !rests (rest) && rest->day > *hi)
    {
      *lo = *hi = rest->day;
      *came = false;
    }
  return true;
}

void
core_hatch (const CoreState *egg,
            const CoreProfile *profile,
            const CoreWarmth *warmth,
            CoreHatch *out)
{
  CoreClock clock = core_clock_from_profile (profile);
  double rate = core_clock_rate (&clock, INCUBATION_C);
  CoreDay lo, hi;

  *out = (CoreHatch){ .since = CORE_DAY_NONE,
                      .lo = CORE_DAY_NONE,
                      .hi = CORE_DAY_NONE,
                      .dud = CORE_DAY_NONE };
  out->resting = core_egg_rests (egg, profile);
  if (out->resting)
    out->since = rest_setting (egg)->day;
  if (out->resting || !began (egg, profile, &lo, &hi, &out->came))
    return;
  double first = core_warmth_at (warmth, lo), last = core_warmth_at (warmth, hi);
  out->since = hi;
  /* Of one that came nobody knows how much of its wait is behind it. */
  out->lo = out->came ? hi + 1
                      : day_of (core_warmth_when (warmth, first + profile->incubation.a.v * rate));
  out->hi = day_of (core_warmth_when (warmth, last + profile->incubation.b.v * rate));
  out->dud = day_of (core_warmth_when (warmth, last + DUD_TIMES * profile->incubation.b.v * rate));
  /* Where eggs may rest and nobody said whether they did, none is given up within its first year (ours). */
  if (profile->eggs_rest && !rest_setting (egg) && out->dud != CORE_DAY_NONE && out->dud < hi + REST_DAYS)
    out->dud = hi + REST_DAYS;
  out->known = rate > 0 && out->lo != CORE_DAY_NONE && out->hi != CORE_DAY_NONE;
}
