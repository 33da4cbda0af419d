/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-segment-net.c — five convolutions ever wider apart (leaky ramps between), a
 * head for lines, a head for counts; two networks fitted from different starts,
 * averaged. Padding is zero. All sums in one fixed order.
 */
#include "core/core-segment-net.h"
#include "core/core-segment-net-table.h"

#include <string.h>

#define N CORE_SEGMENT_WIDE
#define C SEGMENT_NET_CHANNELS
#define HIDDEN SEGMENT_NET_HIDDEN
#define TAPS 9
#define CONVS 5
#define PAD 64  /* half of the widest convolution */
#define BIN 16  /* samples: the count head sees mean and top of each 16th of the axis */
#define BINS 18 /* and of both margins */
#define LEAK 0.1f

typedef struct
{
  float v[PAD + N + PAD]; /* the pads stay zero */
} Row;

typedef struct
{
  const signed char *weights; /* [outputs][inputs] or [outputs][inputs][TAPS] */
  const float *scale;         /* of each output's weights */
  const float *bias;
} Layer;

typedef struct
{
  Layer conv[CONVS], whole, count1, count2;
  const float *line; /* C weights and a bias */
} Net;

#define LAYER(name, b)                                                                             \
  {                                                                                                \
    name, name##_scale, b                                                                          \
  }
#define NET(n)                                                                                     \
  {                                                                                                \
    { LAYER (segment_net##n##_w1, segment_net##n##_b1),                                            \
      LAYER (segment_net##n##_w2, segment_net##n##_b2),                                            \
      LAYER (segment_net##n##_w3, segment_net##n##_b3),                                            \
      LAYER (segment_net##n##_w4, segment_net##n##_b4),                                            \
      LAYER (segment_net##n##_w5, segment_net##n##_b5) },                                          \
      LAYER (segment_net##n##_whole, NULL),                                                        \
      LAYER (segment_net##n##_count1, segment_net##n##_count1_b),                                  \
      LAYER (segment_net##n##_count2, segment_net##n##_count2_b), segment_net##n##_line            \
  }

static const Net nets[] = { NET (0), NET (1) };
#define NETS ((int) (sizeof nets / sizeof nets[0]))
_Static_assert(sizeof nets / sizeof nets[0] == SEGMENT_NETS, "as many as in the table");

static float
ramp (float v)
{
  return v > 0.0f ? v : LEAK * v;
}

/* sum[x] of w[i][k] in[i][x + (k - 4) dilation] over i and k; three taps at a time, which
 * spares most of the loads and stores of the sum. */
static void
convolve_one (const Row *in, int n_in, int dilation, const signed char *w, float *restrict sum)
{
  memset (sum, 0, sizeof (float) * N);
  for (int i = 0; i < n_in; i++)
    for (int k = 0; k < TAPS; k += 3, w += 3)
      {
        const float *a = in[i].v + PAD + (k - TAPS / 2) * dilation, *b = a + dilation,
                    *c = b + dilation;
        float wa = w[0], wb = w[1], wc = w[2];

        for (int x = 0; x < N; x++)
          sum[x] += wa * a[x] + wb * b[x] + wc * c[x];
      }
}

/* out = ramp (conv (in) + bias + start) (+ in, where `on_top`); start may be NULL. */
static void
convolve (const Row *in,
          int n_in,
          int dilation,
          const Layer *layer,
          const float *start,
          bool on_top,
          Row *out)
{
  float sum[N];

  for (int o = 0; o < C; o++)
    {
      float more = layer->bias[o] + (start != NULL ? start[o] : 0.0f), scale = layer->scale[o];

      convolve_one (in, n_in, dilation, layer->weights + (size_t) o * (size_t) n_in * TAPS, sum);
      for (int x = 0; x < N; x++)
        out[o].v[PAD + x] = ramp (sum[x] * scale + more);
      for (int x = 0; on_top && x < N; x++)
        out[o].v[PAD + x] += in[o].v[PAD + x];
    }
}

static void
dense (const Layer *layer, const float *in, int n_in, int n_out, float *out)
{
  for (int o = 0; o < n_out; o++)
    {
      float sum = 0.0f;

      for (int i = 0; i < n_in; i++)
        sum += (float) layer->weights[o * n_in + i] * in[i];
      out[o] = sum * layer->scale[o] + (layer->bias != NULL ? layer->bias[o] : 0.0f);
    }
}

/* The third layer also sees the whole strip (mean and largest value of each channel):
 * where sutures are crisp, a place without one is certain; where they are faint, not. */
static void
whole_strip (const Row *in, const Layer *layer, float start[C])
{
  float context[2 * C];

  for (int c = 0; c < C; c++)
    {
      float sum = 0.0f, top = in[c].v[PAD];

      for (int x = PAD; x < PAD + N; x++)
        {
          sum += in[c].v[x];
          top = in[c].v[x] > top ? in[c].v[x] : top;
        }
      context[c] = sum / N;
      context[C + c] = top;
    }
  dense (layer, context, 2 * C, C, start);
}

static void
head_line (const Row *in, const float *weights, float share, float line[N])
{
  for (int x = 0; x < N; x++)
    line[x] += share * weights[C];
  for (int c = 0; c < C; c++)
    for (int x = 0; x < N; x++)
      line[x] += share * weights[c] * in[c].v[PAD + x];
}

/* First sample of bin b; bin 0 is the margin before the base, the last the one behind the tip. */
static int
bin_from (int b)
{
  return b == 0 ? 0 : b == BINS ? N : CORE_SEGMENT_MARGIN + (b - 1) * BIN;
}

/* The means of all bins of all channels, then the tops. */
static void
pool (const Row *in, float out[2 * C * BINS])
{
  for (int c = 0; c < C; c++)
    for (int b = 0; b < BINS; b++)
      {
        int from = bin_from (b), to = bin_from (b + 1);
        float sum = 0.0f, top = in[c].v[PAD + from];

        for (int x = from; x < to; x++)
          {
            float v = in[c].v[PAD + x];

            sum += v;
            top = v > top ? v : top;
          }
        out[c * BINS + b] = sum / (float) (to - from);
        out[(C + c) * BINS + b] = top;
      }
}

static void
head_count (const Row *in, const Net *net, double share, double count_log[CORE_SEGMENT_COUNTS])
{
  float pooled[2 * C * BINS], hidden[HIDDEN], out[CORE_SEGMENT_COUNTS];

  pool (in, pooled);
  dense (&net->count1, pooled, 2 * C * BINS, HIDDEN, hidden);
  for (int h = 0; h < HIDDEN; h++)
    hidden[h] = ramp (hidden[h]);
  dense (&net->count2, hidden, HIDDEN, CORE_SEGMENT_COUNTS, out);
  for (int k = 0; k < CORE_SEGMENT_COUNTS; k++)
    count_log[k] += share * (double) out[k];
}

void
core_segment_net (const float *in, CoreSegmentEvidence *out)
{
  Row strip[CORE_SEGMENT_NET_IN], a[C], b[C];
  float start[C], line[2][N] = { 0 };
  double count[2][CORE_SEGMENT_COUNTS] = { 0 };

  memset (out, 0, sizeof *out);
  memset (strip, 0, sizeof strip);
  memset (a, 0, sizeof a);
  memset (b, 0, sizeof b);
  for (int mirror = 0; mirror < 2; mirror++)
    {
      for (int c = 0; c < 3; c++)
        for (int l = 0; l < CORE_SEGMENT_NET_LANES; l++)
          {
            int from = mirror ? CORE_SEGMENT_NET_LANES - 1 - l : l;

            memcpy (strip[c * CORE_SEGMENT_NET_LANES + l].v + PAD,
                    in + (c * CORE_SEGMENT_NET_LANES + from) * N, sizeof (float) * N);
          }
      for (int n = 0; n < NETS; n++)
        {
          const Net *net = &nets[n];

          convolve (strip, CORE_SEGMENT_NET_IN, 1, &net->conv[0], NULL, false, a);
          convolve (a, C, 2, &net->conv[1], NULL, true, b);
          whole_strip (b, &net->whole, start);
          convolve (b, C, 4, &net->conv[2], start, true, a);
          convolve (a, C, 8, &net->conv[3], NULL, true, b);
          convolve (b, C, 16, &net->conv[4], NULL, true, a);
          head_line (a, net->line, .5f / NETS, line[mirror]);
          head_count (a, net, .5 / NETS, count[mirror]);
        }
    }
  for (int x = 0; x < N; x++) /* one sum of two, so that both readings weigh alike to the bit */
    line[0][x] += line[1][x];
  for (int k = 0; k < CORE_SEGMENT_COUNTS; k++)
    out->count_log[k] = count[0][k] + count[1][k];
  memcpy (out->before, line[0], sizeof out->before);
  memcpy (out->line, line[0] + CORE_SEGMENT_MARGIN, sizeof out->line);
  memcpy (out->after, line[0] + CORE_SEGMENT_MARGIN + CORE_SEGMENT_N, sizeof out->after);
}
