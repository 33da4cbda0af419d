/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-strip-flat.c — takes out slow light, finds the one arc and slant of the
 * animal's plates, and shifts the lanes so that sutures run straight across.
 */
#include "imaging/img-strip-private.h"

#include <math.h>
#include <string.h>

#define SLOW_SD (0.075 * STRIP_N)
#define CLIP 4.0f
#define SEARCH_LANES 11 /* every second one */
#define PAD 64          /* samples; no shift of the search reaches farther */
#define PRIOR_ARC0 14.0 /* samples; broad, ours */
#define PRIOR_ARC1 12.0
#define PRIOR_TILT 8.0
#define PRIOR_WEIGHT 0.02

static float
lane_tau (int lane)
{
  return (float) (IMG_STRIP_REACH * (2.0 * lane / (STRIP_LANES - 1) - 1.0));
}

/* Beyond the marks the light of the end goes on: what is no longer body stands out. */
static void
take_out_slow_light (float wide[STRIP_WIDE])
{
  float slow[STRIP_N], clip, *row = wide + STRIP_MARGIN;

  memcpy (slow, row, sizeof slow);
  strip_smooth (slow, SLOW_SD);
  for (int i = -STRIP_MARGIN; i < STRIP_N + STRIP_MARGIN; i++)
    row[i] -= slow[CLAMP (i, 0, STRIP_N - 1)];
  clip = CLIP * (float) MAX (1e-4, strip_robust_sd (row, STRIP_N));
  for (int i = 0; i < STRIP_WIDE; i++)
    wide[i] = CLAMP (wide[i], -clip, clip);
}

static float
at_shift (const float *row, int n, float x)
{
  int i;

  x = CLAMP (x, 0.0f, (float) (n - 1));
  i = MIN ((int) x, n - 2);
  x -= (float) i;
  return row[i] + x * (row[i + 1] - row[i]);
}

/* Lanes for the search: smoothed a little, over their common spread. */
typedef struct
{
  float row[3][SEARCH_LANES][PAD + STRIP_N + PAD]; /* the ends repeat in the pads */
  float tau[SEARCH_LANES];
  double alone; /* the same sum without any shift, for the priors' scale */
} Search;

/* Adds a lane shifted by the same everywhere: most of the search. */
static void
add_shifted (const float *padded, float shift, float mean[STRIP_N])
{
  float whole = floorf (CLAMP (shift, 1.0f - PAD, PAD - 2.0f)), part = shift - whole;
  const float *at = padded + PAD + (int) whole;

  for (int i = 0; i < STRIP_N; i++)
    mean[i] += at[i] + part * (at[i + 1] - at[i]);
}

/* How much the lanes agree after this shift: squared derivative of their mean. */
static double
agreement (const Search *s, double arc0, double arc1, double tilt)
{
  double sum = 0.0;

  for (int c = 0; c < 3; c++)
    {
      float mean[STRIP_N] = { 0 };

      for (int l = 0; l < SEARCH_LANES; l++)
        {
          float t = s->tau[l], t2 = t * t;
          float shift = (float) (arc0 - .5 * arc1) * t2 + (float) tilt * t;
          float slope = (float) arc1 * t2 / STRIP_N;

          if (slope == 0.0f)
            add_shifted (s->row[c][l], shift, mean);
          for (int i = 0; slope != 0.0f && i < STRIP_N; i++)
            mean[i] +=
              at_shift (s->row[c][l] + PAD, STRIP_N, (float) i + shift + slope * (float) i);
        }
      for (int i = 12; i < STRIP_N - 12; i++)
        {
          float d = mean[i + 1] - mean[i - 1];

          sum += (double) (d * d);
        }
    }
  return sum;
}

static double
worth (const Search *s, const double p[3])
{
  double prior = p[0] * p[0] / (PRIOR_ARC0 * PRIOR_ARC0) + p[1] * p[1] / (PRIOR_ARC1 * PRIOR_ARC1) +
                 p[2] * p[2] / (PRIOR_TILT * PRIOR_TILT);

  return agreement (s, p[0], p[1], p[2]) - PRIOR_WEIGHT * s->alone * prior;
}

static void
search_init (Search *s, float rows[3][STRIP_LANES][STRIP_WIDE])
{
  static const float weight[3] = { 1.0f, .7f, .7f };

  for (int l = 0; l < SEARCH_LANES; l++)
    s->tau[l] = lane_tau (2 * l);
  for (int c = 0; c < 3; c++)
    for (int l = 0; l < SEARCH_LANES; l++)
      {
        float *row = s->row[c][l] + PAD, unit;

        memcpy (row, rows[c][2 * l] + STRIP_MARGIN, sizeof *row * STRIP_N);
        strip_smooth (row, 1.5);
        unit = weight[c] / (float) MAX (1e-4, strip_robust_sd (row, STRIP_N));
        for (int i = 0; i < STRIP_N; i++)
          row[i] = CLAMP (row[i] * unit, -3.0f, 3.0f);
        for (int i = 1; i <= PAD; i++)
          {
            row[-i] = row[0];
            row[STRIP_N - 1 + i] = row[STRIP_N - 1];
          }
      }
  s->alone = agreement (s, 0, 0, 0);
}

static void
find_arcs (const Search *s, double p[3])
{
  double best = -1e300, step[3] = { 2.0, 4.0, 1.5 };

  for (int a = -7; a <= 7; a++)
    for (int t = -6; t <= 6; t++)
      {
        double q[3] = { 3.0 * a, 0.0, 2.0 * t }, w = worth (s, q);

        if (w > best)
          {
            best = w;
            memcpy (p, q, sizeof q);
          }
      }
  for (int round = 0; round < 4; round++)
    for (int d = 0; d < 3; d++)
      {
        for (int sign = -1; sign <= 1; sign += 2)
          {
            double q[3] = { p[0], p[1], p[2] }, w;

            q[d] += sign * step[d];
            w = worth (s, q);
            if (w > best)
              {
                best = w;
                memcpy (p, q, sizeof q);
                break;
              }
          }
        step[d] *= .7;
      }
}

void
strip_flatten (ImgStrip *strip, gboolean arcs)
{
  float (*rows)[STRIP_LANES][STRIP_WIDE] = strip->flat;
  g_autofree Search *search = g_new (Search, 1);
  double p[3] = { 0, 0, 0 };

  for (int c = 0; c < 3; c++)
    for (int l = 0; l < STRIP_LANES; l++)
      take_out_slow_light (rows[c][l]);
  if (!arcs)
    return;
  search_init (search, rows);
  find_arcs (search, p);
  strip->arc0 = p[0];
  strip->arc1 = p[1];
  strip->tilt = p[2];
  for (int c = 0; c < 3; c++)
    for (int l = 0; l < STRIP_LANES; l++)
      {
        float copy[STRIP_WIDE], t = lane_tau (l), t2 = t * t;

        memcpy (copy, rows[c][l], sizeof copy);
        for (int i = 0; i < STRIP_WIDE; i++)
          {
            float s = (float) (i - STRIP_MARGIN) / STRIP_N;

            rows[c][l][i] = at_shift (copy, STRIP_WIDE,
                                      (float) i + ((float) p[0] + (float) p[1] * (s - .5f)) * t2 +
                                        (float) p[2] * t);
          }
      }
}
