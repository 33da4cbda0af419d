/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-forecast-hyps.c — what is held possible before the windows speak: numbers of
 * moults, sex, the first stage, the nodes of the animal's own effect, laws of waits.
 */
#include "core/core-forecast-parts.h"
#include "core/core-room.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double n_above = .02, n_below = .01; /* models §3 */
static const double n_forced = 1e-4;              /* ours: an N that only the entries demand */

double
fc_at (const Fc *self, double t)
{
  return core_warmth_at (self->in->warmth, t);
}

double
fc_rate_to_come (const Fc *self)
{
  double today = self->in->today;

  return (fc_at (self, today + 14) - fc_at (self, today)) / 14;
}

/* One degree weighs 1 / (T - T0): at 25 °C the 8 % of FC_HABIT_SD, where it is cooler more. Where
 * it is warmer the rate no longer rises with every degree. */
static double
degree_weighs (const Fc *self, double t1, double t2)
{
  double rate = t2 > t1 ? (fc_at (self, t2) - fc_at (self, t1)) / (t2 - t1) : 1;

  return 1 / fmin (fmax (rate, .4), 1); /* .4, ours: no more than 2.5 times */
}

double
fc_warmth_sd (const Fc *self, double t1, double t2)
{
  const CoreWarmth *w = self->in->warmth;
  double habit, unknown;

  if (self->opt.no_growth_of_doubt)
    return 0;
  /* Days to come have no readings, whatever they follow. */
  habit = (FC_HABIT_SD * core_warmth_share (w, CORE_WARMTH_HABIT, t1, t2) +
           FC_RECENT_SD * core_warmth_share (w, CORE_WARMTH_RECENT, t1, t2)) *
          degree_weighs (self, t1, t2);
  unknown = FC_UNKNOWN_SD * core_warmth_share (w, CORE_WARMTH_UNKNOWN, t1, t2);
  return hypot (habit, unknown);
}

FcWait
fc_wait (const Fc *self, const FcHyp *hyp, int m, double warmth_sd)
{
  const CoreProfile *profile = self->in->profile;
  double extra, days, sigma;

  days = core_profile_stage_days (profile, m, hyp->n, hyp->sex, &extra);
  sigma = sqrt (profile->sd_eps * profile->sd_eps + extra * extra + warmth_sd * warmth_sd);
  if (self->opt.single_sd > 0)
    sigma = self->opt.single_sd;
  return (FcWait){ log (days), fmax (sigma, .01), false };
}

FcWait
fc_wait_here (const Fc *self, const FcHyp *hyp, int m, double warmth_sd)
{
  const CoreMessage *there = self->in->elsewhere ? &self->in->elsewhere[self->now_at] : NULL;
  FcWait wait;

  if (!there || self->leave & (FC_FOR_MESSAGE | FC_LEAVE_ROOM))
    return fc_wait (self, hyp, m, warmth_sd);
  wait = fc_wait (self, hyp, m, hypot (warmth_sd, there->sd));
  wait.mu += there->mean;
  return wait;
}

/* A shelf that is warmer than was thought is so on every day: what that adds to one stage it adds
 * to all. What a room has told it told of such days, too: the more it told the less is open. */
double
fc_shelf_sd (const CoreForecastInput *in, double told_sd)
{
  const CoreWarmth *w = in->warmth;
  double share = core_warmth_share (w, CORE_WARMTH_UNKNOWN, w->from, in->today + 20.);

  return FC_SHELF_SD * share * fmin (1, told_sd / core_room_neutral (in->profile).sd);
}

static void
options (Fc *self, bool coarse)
{
  if (self->in->options)
    self->opt = *self->in->options;
  if (self->opt.nodes <= 0)
    self->opt.nodes = 31;
  if (!(self->opt.cell > 0))
    self->opt.cell = .5;
  if (coarse)
    {
      self->opt.nodes = 15;
      self->opt.cell = 1;
    }
  self->opt.nodes = self->opt.nodes > FC_NODES ? FC_NODES : self->opt.nodes;
  self->opt.cell = fmin (fmax (self->opt.cell, .125), 2);
}

/* A grid of ± 4 sd of rho + lambda + eta. For a message it is flat: the animal's
 * own moults alone shall speak. */
static void
nodes (Fc *self)
{
  const CoreProfile *p = self->in->profile;
  const CoreMessage *message =
    self->leave & FC_LEAVE_LOT && self->in->room_alone ? self->in->room_alone : self->in->message;
  CoreMessage told = core_room_neutral (p);
  double sd, sum = 0;

  if (message && !(self->leave & (FC_FOR_MESSAGE | FC_LEAVE_ROOM)) && isfinite (message->mean) &&
      isfinite (message->sd) && message->sd >= 0)
    told = (CoreMessage){ fmin (fmax (message->mean, -2), 2), message->sd };
  sd = hypot (told.sd, p->sd_eta);
  if (!self->opt.no_growth_of_doubt)
    sd = hypot (sd, fc_shelf_sd (self->in, told.sd));
  self->n_nodes = self->opt.single_sd > 0 || !(sd > 1e-6) ? 1 : self->opt.nodes;
  for (int k = 0; k < self->n_nodes; k++)
    {
      double z = self->n_nodes > 1 ? -4 + 8. * k / (self->n_nodes - 1) : 0;
      self->theta[k] = told.mean + z * (self->n_nodes > 1 ? sd : 0);
      self->prior[k] = self->leave & FC_FOR_MESSAGE ? 1 : exp (-.5 * z * z);
      sum += self->prior[k];
    }
  for (int k = 0; k < self->n_nodes; k++)
    self->prior[k] /= sum;
}

/* Stages that the recursion will use: the first with a date, then moults. */
static int
count_stages (const Fc *self)
{
  const CoreState *state = self->in->state;
  int count = 0;

  for (size_t n = 0; n < state->stages.n; n++)
    {
      const CoreStage *stage = &state->stages.v[n];
      if (isfinite (stage->hi) && (count == 0 || stage->start == CORE_START_MOULTED) &&
          !(stage->found > self->in->today))
        count++;
    }
  return count;
}

/* Chance of each m at the first stage: the present one less the moults since. With
 * nothing known an animal is met in a stage in proportion to its length (ours). */
static void
first_stage (Fc *self, int n_stages, int *lo, int *hi)
{
  const CoreState *state = self->in->state;
  double sum = 0;

  for (int m = n_stages - 1; m <= CORE_MAX_MOULTS && !(self->leave & FC_LEAVE_MOULTS); m++)
    sum += fmax (0, state->moults_p[m]);
  for (int m = 0; m + n_stages - 1 <= CORE_MAX_MOULTS; m++)
    {
      if (sum > 0)
        self->m0[m] = fmax (0, state->moults_p[m + n_stages - 1]) / sum;
      else if (m < CORE_MAX_MOULTS)
        self->m0[m] = core_profile_stage_days (self->in->profile, m, CORE_MAX_MOULTS + 3,
                                               CORE_SEX_UNKNOWN, NULL) /
                      100;
      if (self->m0[m] < 1e-4)
        self->m0[m] = 0;
    }
  *lo = CORE_MAX_MOULTS;
  *hi = -1;
  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    if (self->m0[m] > 0)
      {
        *lo = m < *lo ? m : *lo;
        *hi = m;
      }
  if (*hi < 0) /* more moults entered than any table has: the last is held on to */
    {
      self->m0[0] = 1;
      *lo = *hi = 0;
    }
}

/* Where no N that is held possible fits any of the stages that are: those nearest to what was
 * entered, and no more, or an unsure stage would bring in numbers that no kind has. */
static void
force (const Fc *self, int m_lo, int m_hi, double p[CORE_MAX_MOULTS + 1])
{
  int left = self->in->state->adult ? 0 : 1;
  bool fits = false;

  for (int m = m_lo; m <= m_hi && !fits; m++)
    for (int n = m + left; n <= CORE_MAX_MOULTS && !fits; n++)
      fits = p[n] > 0 && (n == m + left || !(self->subadult || self->in->state->adult));
  if (fits)
    return;
  for (int n = m_lo + left; n <= m_lo + 2 && n <= CORE_MAX_MOULTS; n++)
    if (n > 0 && p[n] <= 0)
      p[n] = n_forced;
}

/* P(N | sex) with one N more and one less, and those that the entries force. */
static void
numbers (const Fc *self, int sex, int m_lo, int m_hi, double p[CORE_MAX_MOULTS + 1])
{
  int lo = CORE_MAX_MOULTS + 1, hi = 0;
  double given = self->opt.n_as_given ? 1 : 1 - n_above - n_below;

  for (int n = 1; n <= CORE_MAX_MOULTS; n++)
    {
      p[n] = given * fmax (0, self->in->profile->n_moults[sex][n]);
      if (p[n] > 0)
        {
          lo = n < lo ? n : lo;
          hi = n;
        }
    }
  p[0] = 0;
  if (hi > 0 && hi < CORE_MAX_MOULTS && !self->opt.n_as_given)
    p[hi + 1] = n_above;
  if (lo > 1 && lo <= CORE_MAX_MOULTS && !self->opt.n_as_given)
    p[lo - 1] = n_below;
  force (self, m_lo, m_hi, p);
}

static void
add_hyp (Fc *self, int n, CoreSex sex, double weight)
{
  if (weight > 1e-7 && self->n_hyps < FC_HYPS)
    self->hyp[self->n_hyps++] = (FcHyp){ n, sex, weight };
}

static void
hypotheses (Fc *self, int m_lo, int m_hi)
{
  double p_male = self->leave & FC_LEAVE_SEX ? .5 : self->in->p_male;
  double p[2][CORE_MAX_MOULTS + 1];
  bool same = !(self->in->profile->male_factor > 0) || self->in->profile->male_factor == 1;

  p_male = p_male >= 0 && p_male <= 1 ? p_male : .5;
  numbers (self, 0, m_lo, m_hi, p[0]);
  numbers (self, 1, m_lo, m_hi, p[1]);
  for (int n = m_lo > 0 ? m_lo : 1; n <= CORE_MAX_MOULTS; n++)
    if (same)
      add_hyp (self, n, CORE_SEX_UNKNOWN, p_male * p[0][n] + (1 - p_male) * p[1][n]);
    else
      {
        add_hyp (self, n, CORE_SEX_MALE, p_male * p[0][n]);
        add_hyp (self, n, CORE_SEX_FEMALE, (1 - p_male) * p[1][n]);
      }
}

/* The latest body length, if it was taken in a stage that the recursion uses. */
static void
find_size (Fc *self, int n_stages)
{
  const CoreState *state = self->in->state;
  int skipped = (int) state->stages.n - n_stages;

  for (size_t i = state->measures.n; i > 0 && !(self->leave & FC_LEAVE_SIZE); i--)
    {
      const CoreMeasure *measure = &state->measures.v[i - 1];
      if (measure->what == 0 && isfinite (measure->mm) && measure->mm > 0 &&
          measure->stage >= skipped && (size_t) measure->stage < state->stages.n)
        {
          self->size = measure;
          self->size_stage = measure->stage - skipped;
          return;
        }
    }
}

/* models §4 read backwards: ln length = ln adult - (N - m) ln ratio, with the spreads of
 * growth; one in twenty is none of these (ours), so that a slip never rules out an N. */
double
fc_size (const Fc *self, const FcHyp *hyp, int m)
{
  const CoreProfile *p = self->in->profile;
  double like = 0, error;

  if (!self->size || m > hyp->n || !(p->ratio_body > 1))
    return 1;
  error = self->size->sd > 0 ? self->size->sd / self->size->mm : .03;
  for (int sex = 0; sex < 2; sex++)
    {
      double share = hyp->sex == CORE_SEX_UNKNOWN ? .5 : (hyp->sex == CORE_SEX_MALE) == (sex == 0);
      double adult = p->adult_mm[sex].v > 0 ? p->adult_mm[sex].v : p->adult_mm[1 - sex].v;
      double left = hyp->n - m, miss, sd;

      if (!(adult > 0))
        return 1;
      miss = log (self->size->mm / adult) + left * log (p->ratio_body) + (m == 0 ? .10 : 0);
      sd = sqrt (.15 * .15 + .04 * .04 * left * left + .03 * .03 + error * error);
      like += share * (.95 * exp (-.5 * miss * miss / (sd * sd)) / sd +
                       .05 * exp (-.5 * miss * miss / .36) / .6);
    }
  return fmax (like, 1e-6);
}

CoreStatus
fc_init (Fc *self, const CoreForecastInput *in, unsigned leave, bool coarse)
{
  int n_stages, lo, hi;

  memset (self, 0, sizeof *self);
  self->in = in;
  self->leave = leave;
  self->tail = fc_tail_table ();
  options (self, coarse);
  nodes (self);
  self->subadult = in->state->subadult && !(leave & FC_LEAVE_SUBADULT);
  n_stages = self->n_stages = count_stages (self);
  if (n_stages == 0)
    return CORE_BAD_INPUT;
  first_stage (self, n_stages, &lo, &hi);
  find_size (self, n_stages);
  self->first_m = lo;
  self->slots = hi - lo + 1;
  if (!self->opt.no_missing_moult)
    self->slots += n_stages - 1 < FC_HIDDEN ? n_stages - 1 : FC_HIDDEN;
  hypotheses (self, lo + n_stages - 1, hi + n_stages - 1);
  return self->n_hyps == 0 ? CORE_BAD_INPUT : CORE_OK;
}

void
fc_clear (Fc *self)
{
  free (self->alpha);
  free (self->next);
  self->alpha = self->next = NULL;
}
