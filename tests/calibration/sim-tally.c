/* SPDX-License-Identifier: GPL-3.0-or-later */
/* sim-tally.c — coverage, its standard error over resampled rooms, and the fitted baselines. */
#include "sim-tally.h"

#define RESAMPLED 400

static double
wait_of (const Moment *m, Choice choice)
{
  return choice.true_moult ? m->y_true : m->y;
}

static gboolean
chosen (const Moment *m, Choice choice)
{
  return m->drawn == choice.drawn && (m->was & choice.all_of) == choice.all_of &&
         (m->was & choice.none_of) == 0 && m->waits >= choice.waits_from &&
         (choice.every == 0 || (m->room - 1) % choice.every == choice.of) &&
         isfinite (wait_of (m, choice));
}

typedef struct
{
  int n, in80, in50;
} RoomSum;

/* Standard errors of the two shares when whole rooms, of those that have any, are drawn with
 * replacement. */
static void
resample (RoomSum *sums, int all, double *se80, double *se50)
{
  SimRandom random;
  double sum[2] = { 0 }, square[2] = { 0 };
  int rooms = 0;

  for (int i = 0; i < all; i++)
    if (sums[i].n > 0)
      sums[rooms++] = sums[i];
  sim_seed (&random, 77, 0);
  for (int r = 0; r < RESAMPLED; r++)
    {
      int n = 0, in80 = 0, in50 = 0;
      for (int i = 0; i < rooms; i++)
        {
          const RoomSum *room = &sums[sim_below (&random, rooms)];
          n += room->n;
          in80 += room->in80;
          in50 += room->in50;
        }
      for (int k = 0; k < 2; k++)
        {
          double share = n > 0 ? (k == 0 ? in80 : in50) / (double) n : 0;
          sum[k] += share / RESAMPLED;
          square[k] += share * share / RESAMPLED;
        }
    }
  *se80 = sqrt (MAX (0, square[0] - sum[0] * sum[0]));
  *se50 = sqrt (MAX (0, square[1] - sum[1] * sum[1]));
}

Tally
tally (const GArray *moments, int rooms, Choice choice)
{
  g_autofree RoomSum *sums = g_new0 (RoomSum, rooms + 1);
  int n = 0, in80 = 0, in50 = 0, below = 0, above = 0, pit[10] = { 0 };
  Tally out = { 0 };

  for (guint i = 0; i < moments->len; i++)
    {
      const Moment *m = &g_array_index (moments, Moment, i);
      RoomSum *room = &sums[rooms > 0 ? m->room - 1 : 0];
      double y = wait_of (m, choice);
      gboolean wide, half;

      if (!chosen (m, choice))
        continue;
      wide = y >= m->q[CORE_Q10] && y <= m->q[CORE_Q90];
      half = y >= m->q[CORE_Q25] && y <= m->q[CORE_Q75];
      n++;
      in80 += wide;
      in50 += half;
      below += y < m->q[CORE_Q10];
      above += y > m->q[CORE_Q90];
      pit[CLAMP ((int) (10 * score_law_cdf (&m->law, y)), 0, 9)]++;
      *room = (RoomSum){ room->n + 1, room->in80 + wide, room->in50 + half };
    }
  out.n = n;
  if (n == 0)
    return out;
  out.in80 = in80 / (double) n;
  out.in50 = in50 / (double) n;
  out.below = below / (double) n;
  out.above = above / (double) n;
  for (int i = 0; i < 10; i++)
    out.pit[i] = pit[i] / (double) n;
  if (rooms > 0)
    resample (sums, rooms, &out.se80, &out.se50);
  return out;
}

double
tally_pit_off (const Tally *self)
{
  double off = 0;

  for (int i = 0; i < 10; i++)
    off = MAX (off, fabs (self->pit[i] - .1));
  return off;
}

Tally
tally_lots (const GArray *lots, int rooms, gboolean drawn, int which)
{
  g_autofree RoomSum *sums = g_new0 (RoomSum, rooms + 1);
  int in80 = 0, below = 0, above = 0;
  Tally out = { 0 };

  for (guint i = 0; i < lots->len; i++)
    {
      const LotMoment *m = &g_array_index (lots, LotMoment, i);
      RoomSum *room = &sums[m->room - 1];
      gboolean early = m->y[which] < m->lo[which], late = m->y[which] > m->hi[which];

      if (m->drawn != drawn)
        continue;
      out.n++;
      below += early;
      above += late;
      in80 += !early && !late;
      *room = (RoomSum){ room->n + 1, room->in80 + (!early && !late), 0 };
    }
  if (out.n == 0)
    return out;
  out.in80 = in80 / (double) out.n;
  out.below = below / (double) out.n;
  out.above = above / (double) out.n;
  resample (sums, rooms, &out.se80, &out.se50);
  return out;
}

/* ---- baselines ---- */

static double
center_of (const Moment *m, Baseline baseline)
{
  switch (baseline)
    {
    case BASE_WARMTH:
      return m->usual / m->rate;
    case BASE_LAST:
      return 1.2 * m->last;
    case BASE_PROFILE:
    default:
      return m->usual;
    }
}

static double
score_of (const Moment *m, Baseline baseline, double sd)
{
  double mu = log (center_of (m, baseline)), y = m->y + m->age;

  return m->after > 0 ? score_crps_after (mu, sd, m->after, y) : score_crps_log_normal (mu, sd, y);
}

static double
mean_score (const GArray *chosen_moments, Baseline baseline, double sd)
{
  double sum = 0;

  for (guint i = 0; i < chosen_moments->len; i++)
    sum += score_of (g_array_index (chosen_moments, const Moment *, i), baseline, sd);
  return sum / chosen_moments->len;
}

/* Of a ratio of two sums over rooms (the delta method): what each room misses it by. */
static double
ratio_error (const GArray *chosen_moments, Baseline baseline, const Versus *of)
{
  g_autoptr (GArray) miss = g_array_new (FALSE, TRUE, sizeof (double));
  double sum = 0;

  for (guint i = 0; i < chosen_moments->len; i++)
    {
      const Moment *m = g_array_index (chosen_moments, const Moment *, i);

      if (miss->len <= (guint) m->room)
        g_array_set_size (miss, (guint) m->room + 1);
      g_array_index (miss, double, m->room) += m->crps - of->ours / of->theirs * score_of (m, baseline, of->sd);
    }
  for (guint i = 0; i < miss->len; i++)
    sum += g_array_index (miss, double, i) * g_array_index (miss, double, i);
  return sqrt (sum) / (of->theirs * of->n);
}

/* Golden section over the log-sd. */
static double
best_sd (const GArray *chosen_moments, Baseline baseline)
{
  const double ratio = .6180339887498949;
  double lo = .08, hi = .9;
  double a = hi - ratio * (hi - lo), b = lo + ratio * (hi - lo);
  double fa = mean_score (chosen_moments, baseline, a),
         fb = mean_score (chosen_moments, baseline, b);

  while (hi - lo > .01)
    if (fa < fb)
      {
        hi = b;
        b = a;
        fb = fa;
        a = hi - ratio * (hi - lo);
        fa = mean_score (chosen_moments, baseline, a);
      }
    else
      {
        lo = a;
        a = b;
        fa = fb;
        b = lo + ratio * (hi - lo);
        fb = mean_score (chosen_moments, baseline, b);
      }
  return (lo + hi) / 2;
}

Versus
versus (const GArray *moments, Choice choice, Baseline baseline)
{
  g_autoptr (GArray) use = g_array_new (FALSE, FALSE, sizeof (const Moment *));
  Versus out = { 0 };

  for (guint i = 0; i < moments->len; i++)
    {
      const Moment *m = &g_array_index (moments, Moment, i);
      if (!chosen (m, choice) || !(center_of (m, baseline) > 0))
        continue;
      g_array_append_val (use, m);
      out.ours += m->crps;
    }
  out.n = (int) use->len;
  if (out.n == 0)
    return out;
  out.ours /= out.n;
  out.sd = best_sd (use, baseline);
  out.theirs = mean_score (use, baseline, out.sd);
  out.se = ratio_error (use, baseline, &out);
  return out;
}
