/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-forecast-lot.c — order statistics of a lot.
 *
 * For each of a few values of what the lot-mates share the law of one animal comes
 * from the ordinary forecast, with that value given and the lot's looks and signs left
 * out. Its weight: the prior, times how well it fits the moults of the lot so far, times
 * the chance that at the last look half of the lot had not moulted yet.
 *
 * Where nobody knows when its stage began that, too, is shared: see core-forecast-lot-start.c.
 *
 * When one of the lot began its stage is known less well than for the lot: the windows of
 * its moults are widened by the spread of lot-mates (core-lot.c).
 */
#include "core/core-forecast-lot.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "core/core-forecast-parts.h"
#include "core/core-lot.h"
#include "core/core-room.h"

#define NODES 13    /* of what is shared, over ± 3 sd; finer moves no quantile by .1 day */
#define STEP .25    /* days between the points at which the laws are asked */
#define POINTS 1200 /* 300 days */
#define SIZES 3
#define LEAST_CHANCE 1e-3 /* ours */
#define TELL_APART 200. /* ours: no more of a lot than so many are taken to tell by themselves */
#define WHICH 3 /* first, median, last */

/* Ours: an estimate of a lot is right to about a quarter, either way. */
static const double size_factor[SIZES] = { .8, 1, 1.25 };
static const double size_weight[SIZES] = { .25, .5, .25 };
static const double shares[3] = { .10, .50, .90 };

typedef struct
{
  double from;        /* evening of the first point */
  double law[POINTS]; /* chance that one has moulted by then, of the node at work */
  double cdf[WHICH][POINTS];
  double weight;
  double beyond; /* of that weight: no moult of one within the horizon */
  /* Where the start of the stage stands open: development since it was known to have begun, at the
   * points, at the last look in it (NAN = none) and at the horizon. */
  double point[POINTS], look, end;
  double after; /* the evening by which those that it is made for had not moulted; NAN = not known */
  double ahead; /* and so many others had */
} Mix;

/* Chance that at least `k` of n have moulted when each has with chance f: the normal law with
 * half a step, exact at both ends of k. */
static double
at_least (double f, double k, double n)
{
  double mean = n * f, sd = sqrt (n * f * (1 - f));

  if (!(f > 0) || f >= 1)
    return f > 0 ? 1 : 0;
  if (k <= 1)
    return 1 - pow (1 - f, n);
  if (k >= n)
    return pow (f, n);
  if (!(sd > 1e-9))
    return mean >= k ? 1 : 0;
  return .5 * erfc ((k - .5 - mean) / (sd * sqrt (2)));
}

/* The middle one: of an even number the lower of the two. */
static double
middle_of (double n)
{
  return floor ((n + 1) / 2);
}

/* Ours: the first and the last of a lot may have moulted so many spreads of one stage before and
 * after half of it; with every stage they part further, each by its own pace and by chance. */
static const double ends_spreads = 2;

/* A copy of the lot's state as of one animal of it; `ends`: of one that may be the first or last.
 */
CoreStatus
fc_lot_one (const CoreState *lot, bool ends, CoreState *one)
{
  *one = *lot;
  one->kind = CORE_SUBJECT_ANIMAL;
  one->looks.n = 0;
  one->signs.n = 0;
  one->stages.v = NULL;
  if (lot->stages.n == 0)
    return CORE_OK;
  one->stages.v = malloc (lot->stages.n * sizeof *one->stages.v);
  if (one->stages.v == NULL)
    return CORE_NO_MEMORY;
  memcpy (one->stages.v, lot->stages.v, lot->stages.n * sizeof *one->stages.v);
  for (size_t i = 1; i < lot->stages.n; i++)
    {
      CoreStage *stage = &one->stages.v[i];
      double spread = core_lot_moult_spread (lot, i);

      spread *= ends ? ends_spreads * sqrt ((double) i) : 1;
      stage->of_lot = false; /* here it is the lot that speaks */
      if (isfinite (stage->lo))
        stage->lo = fmax (stage->lo - spread, one->stages.v[i - 1].lo);
      stage->hi += spread; /* of some it may be a day to come */
    }
  return CORE_OK;
}

/* The evening by which none of those that have not moulted had: that of the day when some of it moulted,
 * or when all of it was found in its present skin. */
static double
not_moulted_by (const CoreState *lot, int64_t ahead)
{
  const CoreStage *now = core_state_stage_now (lot);

  if (ahead > 0)
    return lot->ahead.day;
  return now != NULL && now->start == CORE_START_MOULTED && isfinite (now->hi) ? now->hi : NAN;
}

/* The last look at the lot in its present stage, as an evening; NAN = none. */
static double
last_look (const CoreState *lot, CoreDay today)
{
  const CoreStage *now = core_state_stage_now (lot);

  for (size_t i = lot->looks.n; i > 0 && now != NULL; i--)
    if (lot->looks.v[i - 1].t <= today && lot->looks.v[i - 1].t > now->hi)
      return lot->looks.v[i - 1].t;
  return NAN;
}

/* Chance that half of it had not moulted by that evening. */
static double
half_waits (const FcNow *now, double look, double n)
{
  if (!isfinite (look))
    return 1;
  return 1 - at_least (fc_by (now, FC_WITHOUT_LOOKS | FC_WITHOUT_SIGNS, look), middle_of (n), n) *
               (1 - FC_LEAK);
}

static double
past_horizon (const FcNow *now)
{
  return now->beyond[0] + now->beyond[1];
}

static double
likelihood (const FcNow *now)
{
  double sum = past_horizon (now);

  for (int i = 0; i < now->n; i++)
    sum += now->base[0][i] + now->base[1][i];
  return sum;
}

/* The law of one animal at the points, in one pass over its cells. */
static void
read_law (Mix *mix, const FcNow *now)
{
  double all = 0, sum = 0;
  int cell = 0;

  for (int i = 0; i < now->n; i++)
    all += now->base[0][i] + now->base[1][i];
  for (int i = 0; i < POINTS; i++)
    {
      double t = mix->from + i * STEP, part;

      for (; cell < now->n && now->t[cell + 1] <= t; cell++)
        sum += now->base[0][cell] + now->base[1][cell];
      part = cell < now->n && t > now->t[cell]
               ? (t - now->t[cell]) / (now->t[cell + 1] - now->t[cell]) *
                   (now->base[0][cell] + now->base[1][cell])
               : 0;
      mix->law[i] = all > 0 ? fmin (1, (sum + part) / all) : 0;
    }
}

/* The chance of one to be of those that had moulted by the evening when some had; kept off 0 and 1,
 * since one odd moult must not rule out all that is known. */
static double
ahead_chance (const Mix *mix)
{
  int i = (int) fmin (fmax ((mix->after - mix->from) / STEP, 0), POINTS - 1);

  return fmin (fmax (mix->law[i], LEAST_CHANCE), 1 - LEAST_CHANCE);
}

/* How well the law fits that of n + ahead so many had moulted by then, and the others not. */
static double
ahead_fits (const Mix *mix, double n)
{
  double chance, much;

  if (mix->ahead <= 0)
    return 1;
  chance = ahead_chance (mix);
  much = fmin (1, TELL_APART / (mix->ahead + n));
  return exp (much * (mix->ahead * log (2 * chance) + n * log (2 * (1 - chance))));
}

/* The law of one of the others: none of them had moulted by then. */
static void
of_the_others (Mix *mix)
{
  double chance;

  if (isnan (mix->after))
    return;
  chance = ahead_chance (mix);
  for (int i = 0; i < POINTS; i++)
    mix->law[i] = mix->from + i * STEP <= mix->after ? 0 : fmin (1, fmax (0, (mix->law[i] - chance) / (1 - chance)));
}

/* At the points: that so many of n have moulted. */
static void
add_law (Mix *mix, int which, double n, double weight)
{
  double many = which == 0 ? 1 : which == 1 ? middle_of (n) : n;

  for (int i = 0; i < POINTS; i++)
    mix->cdf[which][i] += weight * at_least (mix->law[i], many, n);
}

/* The law of one animal with that state, given what is shared. */
static CoreStatus
law_of (const CoreForecastInput *input, const CoreState *one, Mix *mix, FcNow *now)
{
  CoreForecastInput in = *input;
  CoreStatus status;
  Fc fc;

  in.state = one;
  status = fc_init (&fc, &in, 0, true);
  if (status == CORE_OK)
    status = fc_past (&fc);
  if (status == CORE_OK)
    status = fc_now (&fc, now);
  if (status == CORE_OK)
    read_law (mix, now);
  fc_clear (&fc);
  return status;
}

typedef struct
{
  int n;
  double size[SIZES], weight[SIZES];
} Sizes;

static Sizes
sizes_of (const CoreLotForecast *out)
{
  Sizes self = { 1, { (double) out->n }, { 1 } };

  if (out->about)
    self.n = SIZES;
  for (int k = 0; out->about && k < SIZES; k++)
    {
      self.size[k] = fmax (1, round ((double) out->n * size_factor[k]));
      self.weight[k] = size_weight[k];
    }
  return self;
}

/* Ours: how far lot-mates part differs from lot to lot by about a fifth either way, and the ends lie
 * a tenth further out than the normal law has them. The middle one hardly knows of either. */
#define PARTINGS 2
static const double parting[PARTINGS] = { .9, 1.3 };

/* First and last, given what is shared. */
static CoreStatus
add_ends (const CoreForecastInput *input, const CoreState *one, const Sizes *sizes, Mix *mix)
{
  CoreProfile profile = *input->profile;
  CoreForecastInput in = *input;
  CoreStatus status = CORE_OK;

  in.profile = &profile;
  for (int p = 0; p < PARTINGS && status == CORE_OK; p++)
    {
      FcNow now = { 0 };
      double wider = sizes->size[sizes->n - 1] > 1 ? parting[p] : 1; /* of one there are no ends */

      profile.sd_eta = wider * input->profile->sd_eta;
      profile.sd_eps = wider * input->profile->sd_eps;
      status = law_of (&in, one, mix, &now);
      if (status == CORE_OK)
        of_the_others (mix);
      for (int k = 0; status == CORE_OK && k < sizes->n; k++)
        {
          add_law (mix, 0, sizes->size[k], sizes->weight[k] / PARTINGS);
          add_law (mix, 2, sizes->size[k], sizes->weight[k] / PARTINGS);
        }
      fc_now_clear (&now);
    }
  return status;
}

/* The laws of one value of what is shared, into the mixture. How well it fits is told by half of
 * the lot; the ends of it lie further apart, and tell less. */
static CoreStatus
add_node (const CoreForecastInput *input,
          const CoreState ones[2],
          double prior,
          const CoreLotForecast *out,
          double look,
          Mix *mix)
{
  Sizes sizes = sizes_of (out);
  FcNow now = { 0 };
  CoreStatus status = law_of (input, &ones[0], mix, &now);

  for (int k = 0; status == CORE_OK && k < sizes.n; k++)
    {
      sizes.weight[k] *= prior * likelihood (&now) * ahead_fits (mix, sizes.size[k]) *
                         (mix->ahead > 0 ? 1 : half_waits (&now, look, sizes.size[k]));
      mix->weight += sizes.weight[k];
      mix->beyond += sizes.weight[k] * past_horizon (&now) / fmax (likelihood (&now), 1e-300);
    }
  if (status == CORE_OK)
    of_the_others (mix);
  for (int k = 0; status == CORE_OK && k < sizes.n; k++)
    add_law (mix, 1, sizes.size[k], sizes.weight[k]);
  fc_now_clear (&now);
  return status == CORE_OK ? add_ends (input, &ones[1], &sizes, mix) : status;
}

/* What stands open of its start, given what is shared: the middle one, and the ends that lie nearer
 * and further out. */
typedef struct
{
  FcLotLaw middle, ends[PARTINGS];
} OpenLaws;

static CoreStatus
open_laws (const CoreForecastInput *input, const CoreState *one, int m, OpenLaws *self)
{
  CoreProfile profile = *input->profile;
  CoreForecastInput in = *input;
  CoreStatus status = fc_lot_law (input, one, m, &self->middle);

  in.profile = &profile;
  for (int p = 0; p < PARTINGS && status == CORE_OK && self->middle.weight > 0; p++)
    {
      profile.sd_eta = parting[p] * input->profile->sd_eta;
      profile.sd_eps = parting[p] * input->profile->sd_eps;
      status = fc_lot_law (&in, one, m, &self->ends[p]);
    }
  return status;
}

static void
read_open_law (Mix *mix, const FcLotLaw *law, double age)
{
  for (int i = 0; i < POINTS; i++)
    mix->law[i] = fc_lot_by_after (law, age, mix->point[i]);
}

/* One age that the lot may have been at, in its stage. */
static void
add_age (const OpenLaws *laws, double age, double weight, const Sizes *all, Mix *mix)
{
  Sizes sizes = *all;

  read_open_law (mix, &laws->middle, age);
  for (int k = 0; k < sizes.n; k++)
    {
      double half = middle_of (sizes.size[k]);
      double looked = isfinite (mix->look) && !(mix->ahead > 0)
                        ? at_least (fc_lot_by_after (&laws->middle, age, mix->look), half, sizes.size[k])
                        : 0;

      sizes.weight[k] *= weight * (1 - looked * (1 - FC_LEAK)) * ahead_fits (mix, sizes.size[k]);
      mix->weight += sizes.weight[k];
      mix->beyond += sizes.weight[k] * (1 - fc_lot_by_after (&laws->middle, age, mix->end));
    }
  of_the_others (mix);
  for (int k = 0; k < sizes.n; k++)
    add_law (mix, 1, sizes.size[k], sizes.weight[k]);
  for (int p = 0; p < PARTINGS; p++)
    {
      read_open_law (mix, sizes.size[sizes.n - 1] > 1 ? &laws->ends[p] : &laws->middle, age);
      of_the_others (mix);
      for (int k = 0; k < sizes.n; k++)
        {
          add_law (mix, 0, sizes.size[k], sizes.weight[k] / PARTINGS);
          add_law (mix, 2, sizes.size[k], sizes.weight[k] / PARTINGS);
        }
    }
}

/* Ours: a lot that came as of one stage was as likely as not looked through, so that more than a
 * twentieth ahead would have been seen; else it says only that half of it was in that stage. */
static double
age_waits (double moulted, double n)
{
  return .5 * (1 - at_least (moulted, middle_of (n), n)) +
         .5 * (1 - at_least (moulted, fmax (1, floor (n / 20)), n));
}

#define AGES 24 /* in one stage; twice as many move no quantile by .1 day */

/* All stages that it may be in, and all ages in them, into the mixture. */
static CoreStatus
add_open_node (const CoreForecastInput *input,
               const CoreState *one,
               double prior,
               const CoreLotForecast *out,
               OpenLaws *laws,
               Mix *mix)
{
  Sizes sizes = sizes_of (out);

  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    {
      CoreStatus status = open_laws (input, one, m, laws);
      double waits[AGES], all = 0, oldest;

      if (status != CORE_OK)
        return status;
      if (!(laws->middle.weight > 0))
        continue;
      oldest = fc_lot_oldest (&laws->middle, input->state, input->warmth);
      for (int a = 0; a < AGES; a++)
        all += waits[a] = age_waits (fc_lot_by (&laws->middle, oldest * (a + .5) / AGES),
                                     (double) (out->n + out->moulted));
      for (int a = 0; a < AGES && all > 0; a++)
        if (waits[a] > LEAST_CHANCE)
          add_age (laws, oldest * (a + .5) / AGES, prior * laws->middle.weight * waits[a] / all, &sizes,
                   mix);
    }
  return CORE_OK;
}

/* The points as development since the evening by which the stage that stands open had begun. */
static void
open_points (const CoreForecastInput *input, double look, Mix *mix)
{
  const CoreStage *stage = &input->state->stages.v[0];
  Fc fc = { .in = input };
  double came = fc_at (&fc, stage->hi);

  for (int i = 0; i < POINTS; i++)
    mix->point[i] = fc_at (&fc, mix->from + i * STEP) - came;
  mix->look = isfinite (look) ? fc_at (&fc, look) - came : NAN;
  mix->end = fc_at (&fc, input->today + (double) FC_HORIZON) - came;
}

static double
quantile (const double cdf[POINTS], double weight, double p)
{
  double before = 0;

  for (int i = 0; i < POINTS; i++)
    {
      double here = cdf[i] / weight;

      if (here >= p)
        return i == 0 ? 0 : (i - 1 + (p - before) / (here - before)) * STEP;
      before = here;
    }
  return INFINITY;
}

/* The middle is known better than the ends: it stays between them. */
static double
in_order (int w, double days, double middle)
{
  return w == 0 ? fmin (days, middle) : w == 2 ? fmax (days, middle) : days;
}

static bool
read_out (const Mix *mix, CoreDay today, CoreLotForecast *out)
{
  CoreLotWhen *when[WHICH] = { &out->first, &out->median, &out->last };

  for (int w = 0; w < WHICH; w++)
    {
      for (int q = 0; q < 3; q++)
        when[w]->days[q] = in_order (w, quantile (mix->cdf[w], mix->weight, shares[q]),
                                     quantile (mix->cdf[1], mix->weight, shares[q])) +
                           mix->from - today;
      if (!isfinite (when[w]->days[2]))
        return false;
      when[w]->p10 = today + (CoreDay) ceil (when[w]->days[0] - 1e-9);
      when[w]->p50 = today + (CoreDay) ceil (when[w]->days[1] - 1e-9);
      when[w]->p90 = today + (CoreDay) ceil (when[w]->days[2] - 1e-9);
    }
  return true;
}

static CoreNoForecast
why_not (const CoreState *lot)
{
  if (lot->end == CORE_END_DIED || (lot->end == CORE_END_EMPTY && lot->tally.separated + lot->tally.split_off +
                                                                     lot->tally.left + lot->tally.escaped == 0))
    return CORE_NO_FORECAST_DEAD;
  if (lot->end == CORE_END_EMPTY)
    return CORE_NO_FORECAST_EMPTY;
  if (lot->end == CORE_END_ESCAPED)
    return CORE_NO_FORECAST_ESCAPED;
  if (lot->end != CORE_END_NONE)
    return CORE_NO_FORECAST_LEFT;
  if (lot->adult)
    return CORE_NO_FORECAST_ADULT;
  return lot->stages.n == 0 ? CORE_NO_FORECAST_NO_START : CORE_NO_FORECAST_NONE;
}

/* Whatever is wrong with the temperatures is wrong for all of them: it belongs to what is shared,
 * not to each by itself. */
static double
shared_warmth_sd (const CoreForecastInput *input)
{
  const CoreStage *now = core_state_stage_now (input->state);
  Fc fc = { .in = input };

  if (input->options != NULL)
    fc.opt = *input->options;
  return now != NULL ? fc_warmth_sd (&fc, now->hi, fmax (input->today + 7, now->hi + 20)) : 0;
}

/* Ours: what all of a lot have in common in one stage: food and air of these weeks, and figures of a
 * profile that are rounded. Among fifty it does not average out. It comes on top of the spread of
 * one stage, which is how far animals lie apart. */
static const double stage_in_common = .10;

/* All values of what is shared. That a moult was never entered is a doubt about the journal, shared
 * by all of the lot; drawn for each of fifty alone, it would be certain of one of them. */
static CoreStatus
mix_nodes (const CoreForecastInput *input,
           const CoreState ones[2],
           const CoreLotForecast *out,
           Mix *mix)
{
  const CoreProfile *p = input->profile;
  double mean = input->message != NULL ? input->message->mean : 0;
  double sd = input->message != NULL ? input->message->sd : core_room_neutral (p).sd;
  double look = last_look (input->state, input->today);
  CoreForecastOptions options = { .no_signs = true,
                                  .no_reasons = true,
                                  .no_adult = true,
                                  .no_missing_moult = true,
                                  .no_growth_of_doubt = true };
  CoreForecastInput in = *input;
  CoreStatus status = CORE_OK;
  OpenLaws *open = NULL;

  if (fc_lot_start_open (input->state, input->today))
    {
      open = malloc (sizeof *open);
      if (open == NULL)
        return CORE_NO_MEMORY;
      open_points (input, look, mix);
    }
  sd = hypot (hypot (sd, shared_warmth_sd (input)), fc_shelf_sd (input, sd));
  sd = hypot (sd, stage_in_common);
  in.options = &options;
  for (int k = 0; k < NODES && status == CORE_OK; k++)
    {
      double z = -3 + 6. * k / (NODES - 1);
      CoreMessage shared = { mean + z * sd, 0 };

      in.message = &shared;
      status = open != NULL ? add_open_node (&in, &ones[0], exp (-.5 * z * z), out, open, mix)
                            : add_node (&in, ones, exp (-.5 * z * z), out, look, mix);
    }
  free (open);
  return status;
}

static bool
complete (const CoreForecastInput *in)
{
  return in && in->state && in->profile && in->warmth && in->warmth->u &&
         in->today != CORE_DAY_NONE;
}

/* From the beginning of the stage of the first of them. */
static double
first_point (const CoreState *one, CoreDay today)
{
  double back = today - 100., lo = one->stages.n > 0 ? one->stages.v[one->stages.n - 1].lo : NAN;

  return isfinite (lo) ? fmax (back, lo) : back;
}

static CoreStatus
forecast_lot (const CoreForecastInput *input, CoreState ones[2], Mix *mix, CoreLotForecast *out)
{
  CoreStatus status = fc_lot_one (input->state, false, &ones[0]);

  if (status == CORE_OK)
    status = fc_lot_one (input->state, out->n > 1, &ones[1]);
  if (status != CORE_OK)
    return status;
  mix->from = first_point (&ones[1], input->today);
  status = mix_nodes (input, ones, out, mix);
  if (status == CORE_OK)
    out->still = fc_standstill (input, mix->weight > 0 ? mix->beyond / mix->weight : 1);
  if (status == CORE_OK && (!(mix->weight > 0) || !read_out (mix, input->today, out)))
    out->why = CORE_NO_FORECAST_TOO_COLD;
  return status;
}

CoreStatus
core_forecast_lot (const CoreForecastInput *input, CoreLotForecast *out)
{
  CoreState ones[2];
  CoreStatus status;
  Mix *mix;

  memset (out, 0, sizeof *out);
  out->why = CORE_NO_FORECAST_NO_START;
  if (!complete (input) || input->state->kind != CORE_SUBJECT_LOT)
    return CORE_BAD_INPUT;
  out->why = why_not (input->state);
  if (out->why != CORE_NO_FORECAST_NONE)
    return CORE_OK;
  out->about = !input->state->tally.known || !input->state->tally.counted;
  core_lot_ahead (input->state, &out->moulted, &out->moulted_most);
  out->n = input->state->tally.count - out->moulted;
  out->n = out->n > 0 ? out->n : 1;
  mix = calloc (1, sizeof *mix);
  if (mix == NULL)
    return CORE_NO_MEMORY;
  mix->ahead = (double) out->moulted;
  mix->after = not_moulted_by (input->state, out->moulted);
  ones[0].stages.v = ones[1].stages.v = NULL;
  status = forecast_lot (input, ones, mix, out);
  if (status == CORE_BAD_INPUT)
    {
      out->why = CORE_NO_FORECAST_NO_START;
      status = CORE_OK;
    }
  free (ones[0].stages.v);
  free (ones[1].stages.v);
  free (mix);
  return status;
}
