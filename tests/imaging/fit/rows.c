/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rows.c — for fit.py: how likely the recursion of core-segment.c finds the true
 * row of plates (count, and each boundary within NEAR samples), and how that
 * changes with each line's log-odds. Gain 1, shift 0, temperature 1.
 */
#include "core/core-segment-table.h"

#undef SEGMENT_LINE_GAIN
#undef SEGMENT_LINE_SHIFT
#define SEGMENT_LINE_GAIN 1.0
#define SEGMENT_LINE_SHIFT 0.0
#include "../../../src/core/core-segment.c"

#define NEAR 4

double
rows_gradient (int batch, const float *line, const float *at, const int *count, float *gradient);

/* log of the prior-weighted sum over rows; adds scale × the marginals to node_mass. */
static double
weighed (const Field *f, int only, double none, double scale, double node_mass[SPAN])
{
  static Row row[CORE_SEGMENT_TEMPLATES];
  static double mass[CORE_SEGMENT_MAX][SPAN];
  double sum = none, weight[CORE_SEGMENT_TEMPLATES];

  for (int i = 0; i < N_TEMPLATES; i++)
    {
      weight[i] = 0.0;
      if (only != 0 && templates[i].plates != only)
        continue;
      row[i].t = &templates[i];
      row_run (&row[i], f, i);
      weight[i] = template_weight (&templates[i], 0) *
                  prior_counts[0][core_segment_index (templates[i].plates)] * row[i].sum;
      sum += weight[i];
    }
  if (!(sum > 0.0))
    return -1e300;
  memset (mass, 0, sizeof mass);
  for (int i = 0; i < N_TEMPLATES; i++)
    if (weight[i] > 1e-6 * sum)
      row_backward (&row[i], f, weight[i] / sum, mass);
  for (int j = 0; j < CORE_SEGMENT_MAX; j++)
    for (int i = 0; i < SPAN; i++)
      node_mass[i] += scale * mass[j][i];
  return log (sum);
}

static double
one (const float *line, const float *at, int count, float *gradient)
{
  CoreSegmentEvidence e;
  Field field;
  double node_mass[SPAN] = { 0 }, all, truth;

  memcpy (e.line, line, sizeof e.line);
  field_init (&field, &e);
  all = weighed (&field, 0, prior_counts[0][0], 1.0, node_mass);
  if (count == 0)
    truth = log (prior_counts[0][0]);
  else
    {
      for (int i = 0; i < SPAN; i++)
        {
          int near = 0;

          for (int j = 0; j < count - 1; j++)
            near = near || fabs (i - MARGIN - (double) at[j] * N) <= NEAR;
          if (!near)
            field.odds[i] = 0.0;
        }
      truth = weighed (&field, count, 0.0, -1.0, node_mass);
    }
  if (truth < -1e299)
    return 0.0; /* two true boundaries nearer than any plate is short: nothing to learn */
  for (int s = 1; s < N; s++)
    {
      gradient[s - 1] += .5f * (float) node_mass[s + MARGIN];
      gradient[s] += .5f * (float) node_mass[s + MARGIN];
    }
  return all - truth;
}

double
rows_gradient (int batch, const float *line, const float *at, const int *count, float *gradient)
{
  double loss = 0.0;

  memset (gradient, 0, sizeof (float) * (size_t) batch * N);
  for (int b = 0; b < batch; b++)
    loss += one (line + b * N, at + b * 12, count[b], gradient + b * N);
  return loss;
}
