/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-plot.c — see core-plot.h. */
#include "core/core-plot.h"

#include <math.h>
#include <string.h>

#include "core/core-room.h"

#define Z90 1.2815515655446004 /* of the normal law, 90 % */

/* The commonest number of moults to adult of a sex that is more than `m`. */
static int
usual_moults (const CoreProfile *profile, CoreSex sex, int m)
{
  const double *p = profile->n_moults[sex == CORE_SEX_MALE ? 0 : 1];
  int best = m + 1;

  for (int n = m + 1; n <= CORE_MAX_MOULTS; n++)
    if (best > CORE_MAX_MOULTS || p[n] > p[best])
      best = n;
  return best > CORE_MAX_MOULTS ? CORE_MAX_MOULTS : best;
}

/* Moults to adult: seen, or what is usual for its more likely sex. */
static int
total_moults (const CoreState *state, const CoreProfile *profile, CoreSex sex)
{
  if (state->adult && state->moults > 0)
    return state->moults;
  if (state->subadult && state->moults >= 0)
    return state->moults + 1;
  return usual_moults (profile, sex, state->moults);
}

/* Days from evening `t` until `development` has passed. */
static double
days_for (const CoreWarmth *warmth, double t, double development)
{
  return core_warmth_when (warmth, core_warmth_at (warmth, t) + development) - t;
}

static void
expect (const CoreProfile *profile, const CoreWarmth *warmth, CoreSex sex, int n, double began, CoreInterval *out)
{
  double extra, median = core_profile_stage_days (profile, out->moults, n, sex, &extra);
  double shared = core_room_neutral (profile).sd;
  double sd = sqrt (shared * shared + profile->sd_eta * profile->sd_eta +
                    profile->sd_eps * profile->sd_eps + extra * extra);

  out->p10 = days_for (warmth, began, median * exp (-Z90 * sd));
  out->p50 = days_for (warmth, began, median);
  out->p90 = days_for (warmth, began, median * exp (Z90 * sd));
}

static bool
begins (const CoreStage *stage)
{
  return stage->start != CORE_START_ACQUIRED && isfinite (stage->lo) && isfinite (stage->hi);
}

size_t
core_intervals (const CoreState *state,
                const CoreProfile *profile,
                double p_male,
                const CoreWarmth *warmth,
                CoreDay today,
                CoreInterval out[CORE_MAX_MOULTS])
{
  CoreSex sex = p_male > .5 ? CORE_SEX_MALE : CORE_SEX_FEMALE;
  int n = total_moults (state, profile, sex);
  size_t found = 0;

  for (size_t i = 0; i < state->stages.n && found < CORE_MAX_MOULTS; i++)
    {
      const CoreStage *stage = &state->stages.v[i], *after = stage + 1;
      CoreInterval *row = &out[found];

      row->moults = core_state_moults_at (state, (int) i);
      row->finished = i + 1 < state->stages.n;
      if (!begins (stage) || row->moults < 0 || row->moults >= n || (!row->finished && state->adult))
        continue;
      if (row->finished && !(isfinite (after->lo) && isfinite (after->hi)))
        continue;
      row->lo = row->finished ? fmax (0, after->lo - stage->hi) : fmax (0, today - stage->hi);
      row->hi = row->finished ? after->hi - stage->lo : today - stage->lo;
      expect (profile, warmth, sex, n, (stage->lo + stage->hi) / 2, row);
      found++;
    }
  return found;
}

void
core_growth_curve (
  const CoreState *state, const CoreProfile *profile, double p_male, CoreDimension what, CoreGrowthCurve *out)
{
  CoreSex sex = p_male > .5 ? CORE_SEX_MALE : CORE_SEX_FEMALE;
  const size_t most = sizeof out->measured / sizeof out->measured[0];

  memset (out, 0, sizeof *out);
  out->n = (size_t) total_moults (state, profile, sex) + 1;
  for (size_t m = 0; m < out->n; m++)
    out->expected[m] = core_growth (state, profile, p_male, what, (int) m);
  for (size_t i = 0; i < state->measures.n; i++)
    {
      const CoreMeasure *measure = &state->measures.v[i];
      double sd = isfinite (measure->sd) ? measure->sd : .03 * measure->mm; /* models §4: 3 %, ours */
      int m = measure->stage >= 0 ? core_state_moults_at (state, measure->stage) : -1;

      if (measure->what != (int) what || m < 0)
        continue;
      if (out->n_measured == most)
        memmove (out->measured, out->measured + 1, (most - 1) * sizeof out->measured[0]), out->n_measured--;
      out->measured[out->n_measured++] =
        (CoreMeasuredAt){ m, measure->mm, measure->mm - 2 * sd, measure->mm + 2 * sd, measure->day };
    }
}
