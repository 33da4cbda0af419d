/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-forecast-stage.c — how long a stage takes at 25 °C, over all that is held possible:
 * numbers of moults, sex, the stage itself, the animal's own pace.
 */
#include "core/core-forecast-parts.h"

#include <math.h>
#include <stdlib.h>

static const double unseen_subadult = .2; /* models §3: not seen as sub-adult, yet m = N - 1 */

double
fc_next_weight (const Fc *fc, const FcHyp *hyp, int m_next)
{
  if (fc->subadult)
    return m_next == hyp->n ? 1 : 0;
  return m_next == hyp->n ? unseen_subadult : 1;
}

/* What is held possible of the stage in progress: log-normal laws with their weights. */
typedef struct
{
  double weight, mu, sigma;
} Law;

static double
alpha_of (const Fc *fc, int h, int s, int k)
{
  const double *cells = fc_alpha (fc, fc->alpha, h, s, k);
  double sum = 0;

  for (int i = 0; i < fc->window.n; i++)
    sum += cells[i];
  return sum;
}

static size_t
gather (const Fc *fc, Law *laws, double *all, double *lent)
{
  size_t n = 0;

  *all = *lent = 0;
  for (int h = 0; h < fc->n_hyps; h++)
    for (int s = 0; s < fc->slots; s++)
      {
        const FcHyp *hyp = &fc->hyp[h];
        int m = fc->first_m + fc->stage + s;
        double weight = m < hyp->n ? fc_next_weight (fc, hyp, m + 1) : 0, extra;
        FcWait wait;

        if (!(weight > 0))
          continue;
        wait = fc_wait (fc, hyp, m, 0);
        core_profile_stage_days (fc->in->profile, m, hyp->n, hyp->sex, &extra);
        for (int k = 0; k < fc->n_nodes; k++)
          {
            double mass = weight * alpha_of (fc, h, s, k);
            if (!(mass > 1e-7))
              continue;
            laws[n++] = (Law){ mass, wait.mu + fc->theta[k], wait.sigma };
            *all += mass;
            *lent += extra > 0 ? mass : 0;
          }
      }
  return n;
}

static double
quantile (const Fc *fc, const Law *laws, size_t n, double want)
{
  double lo = log (.1), hi = log (3000.);

  while (hi - lo > .002)
    {
      double mid = (lo + hi) / 2, sum = 0;
      for (size_t i = 0; i < n; i++)
        sum += laws[i].weight * fc_above (fc->tail, (laws[i].mu - mid) / laws[i].sigma);
      if (sum < want)
        lo = mid;
      else
        hi = mid;
    }
  return exp ((lo + hi) / 2);
}

CoreStatus
fc_stage_days (const Fc *fc, double days[3], double *lent)
{
  static const double p[3] = { .10, .50, .90 };
  size_t most = (size_t) fc->n_hyps * (size_t) fc->slots * (size_t) fc->n_nodes;
  Law *laws = calloc (most + 1, sizeof *laws);
  double all;
  size_t n;

  if (!laws)
    return CORE_NO_MEMORY;
  n = gather (fc, laws, &all, lent);
  for (int q = 0; q < 3; q++)
    days[q] = n > 0 ? quantile (fc, laws, n, p[q] * all) : NAN;
  *lent = n > 0 ? *lent / all : 0;
  free (laws);
  return CORE_OK;
}

/* Mean of the logs over numbers of moults and sex as they are held possible now, its own pace
 * and moults that nobody entered left out. */
double
fc_usual_days (const Fc *fc, int wait)
{
  double sum = 0, all = 0;

  for (int h = 0; h < fc->n_hyps; h++)
    {
      const FcHyp *hyp = &fc->hyp[h];
      double mass = 0;

      for (int s = 0; s < fc->slots; s++)
        for (int k = 0; k < fc->n_nodes; k++)
          mass += alpha_of (fc, h, s, k);
      for (int first = 0; first + wait < hyp->n && first <= CORE_MAX_MOULTS; first++)
        {
          all += mass * fc->m0[first];
          sum += mass * fc->m0[first] * fc_wait (fc, hyp, first + wait, 0).mu;
        }
    }
  return all > 0 ? exp (sum / all) : NAN;
}
