/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-growth.c — ln length(m) = a + m ln rho + delta [m >= 1], models §4.
 *
 * A conjugate normal update on x = (A, ln rho, delta), where A = ln length at the
 * last moult N. The prior a | rho ~ N(ln adult - N ln rho - delta, .15²) makes A
 * independent of the others; N is known for sub-adults and adults, else its mean.
 * Where the profile also has a hatchling's length, rho is first fitted to the way from it
 * to the adult, so that no moult has to make up for what the usual ratio leaves over;
 * A and its spread stay as they are.
 */
#include "core/core-growth.h"

#include <math.h>
#include <string.h>

#define Z90 1.2815515655446004

/* ours, except the ratios: checks by Faber 1994 and Przibram */
static const double sd_adult = .15;   /* of A, when the profile gives an adult length */
static const double sd_unknown = 2;   /* of A, when nothing is known: the measures decide */
static const double sd_ratio = .04;   /* of ln rho */
static const double mean_delta = .10; /* body only: the first step is larger */
static const double sd_delta = .08;
static const double sd_residual = .03;
static const double sd_hatchling = .10; /* of the profile's length of a hatchling (ours) */
/* Ours: half as long again as the longest expected, or as short, is more likely a slip. */
static const double FAR_RATIO = 1.5;
static const double PART_RATIO = 1.2; /* wings may reach a little beyond the abdomen (ours) */
static const double SMALL_RATIO = 2.25; /* the length of a hatchling is known least */

typedef struct
{
  double mean[3];
  double cov[3][3];
  double total; /* N */
} Growth;

/* Mean and spread of the number of moults to adult of one sex, given more than `m`. */
static double
mean_moults (const CoreProfile *profile, int sex, int more_than)
{
  double sum = 0, weight = 0;

  for (int n = more_than + 1; n <= CORE_MAX_MOULTS; n++)
    {
      sum += profile->n_moults[sex][n] * n;
      weight += profile->n_moults[sex][n];
    }
  return weight > 0 ? sum / weight : more_than + 1;
}

static double
total_moults (const CoreState *state, const CoreProfile *profile, double p_male)
{
  int m = state->moults;

  if (m >= 0 && state->adult)
    return m > 0 ? m : 1;
  if (m >= 0 && state->subadult)
    return m + 1;
  m = m < 0 ? -1 : m;
  return p_male * mean_moults (profile, 0, m) + (1 - p_male) * mean_moults (profile, 1, m);
}

/* Mixture over the sex by moments. False when the profile knows no adult length. */
static bool
adult_log_length (const CoreProfile *profile, double p_male, double *mean, double *var)
{
  double mm[2] = { profile->adult_mm[0].v, profile->adult_mm[1].v };
  double d;

  for (int i = 0; i < 2; i++)
    if (!(isfinite (mm[i]) && mm[i] > 0))
      mm[i] = mm[1 - i];
  if (!(isfinite (mm[0]) && mm[0] > 0))
    return false;
  d = log (mm[0]) - log (mm[1]);
  *mean = p_male * log (mm[0]) + (1 - p_male) * log (mm[1]);
  *var = sd_adult * sd_adult + p_male * (1 - p_male) * d * d;
  return true;
}

static double
dimension_ratio (const CoreProfile *profile, CoreDimension what)
{
  double ratio = what == CORE_DIM_HEAD ? profile->ratio_head : profile->ratio_body;

  if (!(ratio > 1 && ratio < 3))
    ratio = what == CORE_DIM_HEAD ? 1.20 : 1.28;
  return ratio;
}

static void
design (const Growth *self, int moults, double x[3])
{
  x[0] = 1;
  x[1] = moults - self->total;
  x[2] = moults >= 1 ? 0 : -1;
}

/* Variance of a prediction, and the covariance vector that an update needs. */
static double
spread (const Growth *self, const double x[3], double cx[3])
{
  double var = 0;

  for (int i = 0; i < 3; i++)
    {
      cx[i] = 0;
      for (int j = 0; j < 3; j++)
        cx[i] += self->cov[i][j] * x[j];
      var += x[i] * cx[i];
    }
  return var;
}

static void
condition (Growth *self, const double x[3], double log_mm, double var_error)
{
  double cx[3], var, miss;

  var = spread (self, x, cx) + var_error;
  miss = log_mm - (x[0] * self->mean[0] + x[1] * self->mean[1] + x[2] * self->mean[2]);
  for (int i = 0; i < 3; i++)
    {
      self->mean[i] += cx[i] * miss / var;
      for (int j = 0; j < 3; j++)
        self->cov[i][j] -= cx[i] * cx[j] / var;
    }
}

static void
update (Growth *self, int moults, double log_mm, double var_error)
{
  double x[3];

  design (self, moults, x);
  condition (self, x, log_mm, var_error);
}

static bool
hatchling_log_length (const CoreProfile *profile, double *mean)
{
  double mm = profile->hatchling_mm.v;

  if (!(isfinite (mm) && mm > 0))
    return false;
  *mean = log (mm);
  return true;
}

/* The ratio that the profile's two lengths ask for, before A has a spread. The first step stays
 * what it is beside the others: one length more tells nothing of it. */
static void
reach_adult (Growth *self, const CoreProfile *profile)
{
  double hatchling, way[3] = { 0, -self->total, 0 };

  if (hatchling_log_length (profile, &hatchling))
    condition (self, way, hatchling + self->mean[2] - self->mean[0], sd_hatchling * sd_hatchling);
}

/* Of a kind whose adult length nobody knows: A by what lies between, as unsure as that. */
static bool
level_from_hatchling (Growth *self, const CoreProfile *profile)
{
  double hatchling, way[3] = { 0, self->total, 1 };

  if (!hatchling_log_length (profile, &hatchling))
    return false;
  self->mean[0] = hatchling + self->total * self->mean[1] + self->mean[2];
  self->cov[0][0] = sd_adult * sd_adult;
  for (int i = 1; i < 3; i++)
    {
      self->cov[0][i] = self->cov[i][0] = way[i] * self->cov[i][i];
      self->cov[0][0] += way[i] * way[i] * self->cov[i][i];
    }
  return true;
}

/* Which stage a measure belongs to; -1 when that is not known. */
static int
measure_moults (const CoreState *state, const CoreMeasure *measure)
{
  if (measure->stage < 0 || (size_t) measure->stage >= state->stages.n || state->moults < 0)
    return -1;
  return core_state_moults_at (state, measure->stage);
}

static bool
usable (const CoreState *state, const CoreMeasure *measure, CoreDimension what)
{
  return measure->what == (int) what && isfinite (measure->mm) && measure->mm > 0 &&
         measure_moults (state, measure) >= 0;
}

static double
measure_variance (const CoreMeasure *measure)
{
  double sd = isfinite (measure->sd) && measure->sd > 0 ? measure->sd / measure->mm : CORE_MEASURE_SHARE;

  return sd * sd + sd_residual * sd_residual;
}

/* Measures that lie farther apart than their errors widen the range by the ratio of the two
 * (Birge's ratio, from memory); never below 1. */
static double
disagreement (const Growth *self, const CoreState *state, CoreDimension what, int n)
{
  double sum = 0;

  for (size_t i = 0; i < state->measures.n; i++)
    {
      const CoreMeasure *measure = &state->measures.v[i];
      double x[3], miss;

      if (!usable (state, measure, what))
        continue;
      design (self, measure_moults (state, measure), x);
      miss = log (measure->mm) -
             (x[0] * self->mean[0] + x[1] * self->mean[1] + x[2] * self->mean[2]);
      sum += miss * miss / measure_variance (measure);
    }
  return n > 1 ? sqrt (fmax (1, sum / (n - 1))) : 1;
}

static int
learn (Growth *self, const CoreState *state, CoreDimension what)
{
  int n = 0;

  for (size_t i = 0; i < state->measures.n; i++)
    {
      const CoreMeasure *measure = &state->measures.v[i];

      if (!usable (state, measure, what))
        continue;
      update (self, measure_moults (state, measure), log (measure->mm),
              measure_variance (measure));
      n++;
    }
  return n;
}

/* Without an adult length the first measure gives the level, with a wide spread. */
static bool
level_from_measure (Growth *self, const CoreState *state, CoreDimension what)
{
  for (size_t i = 0; i < state->measures.n; i++)
    if (usable (state, &state->measures.v[i], what))
      {
        int m = measure_moults (state, &state->measures.v[i]);
        self->mean[0] = log (state->measures.v[i].mm) + (self->total - m) * self->mean[1];
        self->cov[0][0] = sd_unknown * sd_unknown;
        return true;
      }
  return false;
}

static bool
prior (Growth *self,
       const CoreState *state,
       const CoreProfile *profile,
       double p_male,
       CoreDimension what)
{
  double adult;

  memset (self, 0, sizeof *self);
  self->total = total_moults (state, profile, p_male);
  self->mean[1] = log (dimension_ratio (profile, what));
  self->cov[1][1] = sd_ratio * sd_ratio;
  if (what == CORE_DIM_BODY)
    {
      self->mean[2] = mean_delta;
      self->cov[2][2] = sd_delta * sd_delta;
      if (adult_log_length (profile, p_male, &self->mean[0], &adult))
        {
          reach_adult (self, profile);
          self->cov[0][0] = adult;
          return true;
        }
      if (level_from_hatchling (self, profile))
        return true;
    }
  return level_from_measure (self, state, what);
}

CoreGrowth
core_growth (const CoreState *state,
             const CoreProfile *profile,
             double p_male,
             CoreDimension what,
             int moults)
{
  CoreGrowth out = { .p10 = NAN, .p50 = NAN, .p90 = NAN, .moults = moults };
  bool adult_next = moults < 0 && state->moults < 0 && state->subadult;
  Growth g;
  double x[3], cx[3], mean, sd;

  if (!(p_male >= 0 && p_male <= 1))
    p_male = .5;
  if ((moults < 0 && !adult_next) || moults > CORE_MAX_MOULTS || (unsigned) what >= CORE_N_DIMS ||
      !prior (&g, state, profile, p_male, what))
    return out;
  out.measured = learn (&g, state, what);
  design (&g, moults, x);
  if (adult_next) /* however many moults that is */
    x[1] = x[2] = 0;
  mean = x[0] * g.mean[0] + x[1] * g.mean[1] + x[2] * g.mean[2];
  sd = sqrt (fmax (0, spread (&g, x, cx)) + sd_residual * sd_residual) *
       disagreement (&g, state, what, out.measured);
  out.known = true;
  out.p10 = exp (mean - Z90 * sd);
  out.p50 = exp (mean);
  out.p90 = exp (mean + Z90 * sd);
  return out;
}

/* Of a part of which no length is known: none is longer than the whole animal. *hi is that of its body. */
static bool
longer_than_body (const CoreState *state, const CoreProfile *profile, double p_male, bool any_stage, double mm, double *lo,
                  double *hi)
{
  (void) core_length_far (state, profile, p_male, any_stage, CORE_DIM_BODY, mm, lo, hi);
  *lo = 0;
  return *hi > 0 && mm > PART_RATIO * *hi;
}

bool
core_length_far (const CoreState *state,
                 const CoreProfile *profile,
                 double p_male,
                 bool any_stage,
                 CoreDimension what,
                 double mm,
                 double *lo,
                 double *hi)
{
  bool known = state->moults >= 0 && !any_stage;
  int first = known ? state->moults - 1 : 0;
  int last = known ? state->moults + 1 : (int) ceil (total_moults (state, profile, p_male));

  *lo = INFINITY;
  *hi = 0;
  for (int m = first > 0 ? first : 0; m <= last && m <= CORE_MAX_MOULTS; m++)
    {
      CoreGrowth growth = core_growth (state, profile, p_male, what, m);

      if (!growth.known)
        continue;
      *lo = fmin (*lo, growth.p10);
      *hi = fmax (*hi, growth.p90);
    }
  if (*hi <= 0 && what != CORE_DIM_BODY)
    return longer_than_body (state, profile, p_male, any_stage, mm, lo, hi);
  return *hi > 0 && (mm > FAR_RATIO * *hi || mm < *lo / (known ? FAR_RATIO : SMALL_RATIO));
}

/* Of an animal whose stage nobody knows the ruler still tells the length. */
static double
measured_now (const CoreState *state)
{
  for (size_t i = state->measures.n; i > 0; i--)
    {
      const CoreMeasure *measure = &state->measures.v[i - 1];
      if (measure->what == CORE_DIM_BODY && measure->stage + 1 == (int) state->stages.n &&
          isfinite (measure->mm) && measure->mm > 0)
        return measure->mm;
    }
  return NAN;
}

bool
core_body_outgrown (const CoreState *state, const CoreForecast *forecast)
{
  return forecast != NULL && forecast->why == CORE_NO_FORECAST_NONE &&
         (forecast->probably_moulted || forecast->by_now > .5) && !isfinite (measured_now (state));
}

CoreGrowth
core_body_range (const CoreState *state, const CoreProfile *profile, double p_male)
{
  CoreGrowth out = { .p10 = NAN, .p50 = NAN, .p90 = NAN, .moults = state->moults };
  double measured = measured_now (state), mean, var;

  if (state->moults >= 0)
    return core_growth (state, profile, p_male, CORE_DIM_BODY, state->moults);
  if (isfinite (measured))
    {
      out.known = true;
      out.measured = 1;
      out.p10 = out.p50 = out.p90 = measured;
    }
  /* However often it has moulted: a sub-adult is one moult from the adult. */
  else if ((state->adult || state->subadult) &&
           adult_log_length (profile, p_male >= 0 && p_male <= 1 ? p_male : .5, &mean, &var))
    {
      double sd = sqrt (var + sd_residual * sd_residual);

      mean -= state->adult ? 0 : log (dimension_ratio (profile, CORE_DIM_BODY));
      out.known = true;
      out.p10 = exp (mean - Z90 * sd);
      out.p50 = exp (mean);
      out.p90 = exp (mean + Z90 * sd);
    }
  return out;
}

double
core_body_now (const CoreState *state, const CoreProfile *profile, double p_male)
{
  return core_body_range (state, profile, p_male).p50;
}

double
core_body_safe (const CoreGrowth *body)
{
  return body->measured > 0 ? body->p50 : body->p10;
}
