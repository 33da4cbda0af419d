/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-segment-net.c — three convolutions (tanh-like units would cost more:
 * these are leaky ramps), a head for lines, a head for counts. Padding is zero.
 */
#include "core/core-segment-net.h"
#include "core/core-segment-net-table.h"

#include <math.h>
#include <string.h>

#define N CORE_SEGMENT_N
#define C SEGMENT_NET_CHANNELS
#define TAPS 9
#define BINS 16 /* the count head sees the mean of each 16th of the axis */
#define LEAK 0.1f

typedef float Rows[CORE_SEGMENT_NET_IN > C ? CORE_SEGMENT_NET_IN : C][N];

typedef struct
{
  const short *weights; /* [C][n_in][TAPS] */
  const float *scale;   /* [C] */
  int n_in, dilation;
} Layer;

/* out[o][x] = start + sum over i, k of w[o][i][k] in[i][x + (k - 4) dilation], then the ramp. */
static void
convolve (Rows in, const Layer *layer, const float *start, Rows out)
{
  for (int o = 0; o < C; o++)
    {
      float *row = out[o];

      memset (row, 0, sizeof out[o]);
      for (int i = 0; i < layer->n_in; i++)
        for (int k = 0; k < TAPS; k++)
          {
            float w = (float) layer->weights[(o * layer->n_in + i) * TAPS + k];
            int shift = (k - TAPS / 2) * layer->dilation;
            int from = shift < 0 ? -shift : 0, to = shift > 0 ? N - shift : N;
            const float *src = in[i];

            for (int x = from; x < to; x++)
              row[x] += w * src[x + shift];
          }
      for (int x = 0; x < N; x++)
        {
          float v = row[x] * layer->scale[o] + start[o];

          row[x] = v > 0.0f ? v : LEAK * v;
        }
    }
}

/* The last layer also sees the whole strip (mean and largest value of each channel):
 * where sutures are crisp, a place without one is certain; where they are faint, not. */
static void
whole_strip (Rows in, const float *bias, float start[C])
{
  float context[2 * C];

  for (int c = 0; c < C; c++)
    {
      float sum = 0.0f, top = in[c][0];

      for (int x = 0; x < N; x++)
        {
          sum += in[c][x];
          top = in[c][x] > top ? in[c][x] : top;
        }
      context[c] = sum / N;
      context[C + c] = top;
    }
  for (int o = 0; o < C; o++)
    {
      start[o] = 0.0f;
      for (int c = 0; c < 2 * C; c++)
        start[o] += (float) segment_net_whole[o * 2 * C + c] * context[c];
      start[o] = start[o] * segment_net_whole_s[o] + bias[o];
    }
}

static void
head_line (Rows in, float line[N])
{
  for (int x = 0; x < N; x++)
    line[x] += .5f * segment_net_line_bias;
  for (int c = 0; c < C; c++)
    for (int x = 0; x < N; x++)
      line[x] += .5f * segment_net_line[c] * in[c][x];
}

static void
head_count (Rows in, double count_log[CORE_SEGMENT_COUNTS])
{
  for (int o = 0; o < CORE_SEGMENT_COUNTS; o++)
    {
      double sum = (double) segment_net_count_bias[o];

      for (int c = 0; c < C; c++)
        for (int b = 0; b < BINS; b++)
          {
            float mean = 0.0f;

            for (int x = b * (N / BINS); x < (b + 1) * (N / BINS); x++)
              mean += in[c][x];
            sum += (double) segment_net_count[(o * C + c) * BINS + b] *
                   (double) segment_net_count_scale * (double) (mean / (N / BINS));
          }
      count_log[o] += .5 * sum;
    }
}

void
core_segment_net (const float *in, CoreSegmentEvidence *out)
{
  static const Layer layer[3] = { { segment_net_w1, segment_net_s1, CORE_SEGMENT_NET_IN, 1 },
                                  { segment_net_w2, segment_net_s2, C, 2 },
                                  { segment_net_w3, segment_net_s3, C, 4 } };
  Rows a, b;
  float start[C];

  memset (out, 0, sizeof *out);
  for (int mirror = 0; mirror < 2; mirror++)
    {
      for (int c = 0; c < 3; c++)
        for (int l = 0; l < CORE_SEGMENT_NET_LANES; l++)
          {
            int from = mirror ? CORE_SEGMENT_NET_LANES - 1 - l : l;

            memcpy (a[c * CORE_SEGMENT_NET_LANES + l], in + (c * CORE_SEGMENT_NET_LANES + from) * N,
                    sizeof a[0]);
          }
      convolve (a, &layer[0], segment_net_b1, b);
      convolve (b, &layer[1], segment_net_b2, a);
      whole_strip (a, segment_net_b3, start);
      convolve (a, &layer[2], start, b);
      head_line (b, out->line);
      head_count (b, out->count_log);
    }
}
