/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-segment-net.c — convolutions ever wider apart (leaky ramps between), a
 * head for lines, a head for counts; networks fitted from different starts,
 * averaged. Padding is zero. All sums in one fixed order.
 *
 * The first layer reads what is alike on both sides of the axis and what differs
 * apart from each other: with the sides exchanged the second only changes its sign,
 * so that both readings cost one pass and weigh alike to the bit.
 */
#include "core/core-segment-net.h"
#include "core/core-segment-net-table.h"

#include <math.h>
#include <string.h>

#define N CORE_SEGMENT_WIDE
#define C SEGMENT_NET_CHANNELS
#define HIDDEN SEGMENT_NET_HIDDEN
#define TAPS 9
#define CONVS SEGMENT_NET_CONVS /* behind the first layer */
#define WHOLES 2                /* of which this many see the whole strip */
#define PAD 64                  /* half of the widest convolution */
#define BIN 16  /* samples: the count head sees mean and top of each 16th of the axis */
#define BINS 18 /* and of both margins */
#define LEAK 0.1f
#define WORTH_LEAST -4.0 /* logs; as fitted */
#define WORTH_MOST 2.0
#define HALF (CORE_SEGMENT_NET_LANES / 2)
#define ALIKE (3 * (HALF + 1)) /* rows: the middle lane and the pairs */
#define APART (3 * HALF)
#define OUTS 4                                         /* channels made at once */
#define COLUMNS 3                                      /* times 4 samples at once */
#define STEP (4 * COLUMNS)                             /* samples */
#define ROOM ((CORE_SEGMENT_WIDE + STEP - 1) / STEP * STEP) /* computed; what is too much drops out */

_Static_assert(C % OUTS == 0, "channels are made four at a time");

typedef struct
{
  float v[PAD + ROOM + PAD]; /* the pads stay zero */
} Row;

typedef float Four __attribute__ ((vector_size (16)));

typedef struct
{
  const signed char *weights; /* [outputs][inputs] or [outputs][inputs][TAPS] */
  const float *scale;         /* of each output's weights */
  const float *bias;
} Layer;

typedef struct
{
  Layer alike, apart, conv[CONVS], whole[WHOLES], count1, count2;
  const float *line; /* C weights and a bias */
  const float *mix;  /* what rows and count head weigh beside each other */
} Net;

#define LAYER(name, b)                                                                             \
  {                                                                                                \
    name, name##_scale, b                                                                          \
  }
#define NET(n)                                                                                     \
  {                                                                                                \
    LAYER (segment_net##n##_alike, segment_net##n##_alike_b),                                      \
      LAYER (segment_net##n##_apart, NULL),                                                        \
      { LAYER (segment_net##n##_w1, segment_net##n##_b1),                                          \
        LAYER (segment_net##n##_w2, segment_net##n##_b2),                                          \
        LAYER (segment_net##n##_w3, segment_net##n##_b3),                                          \
        LAYER (segment_net##n##_w4, segment_net##n##_b4),                                          \
        LAYER (segment_net##n##_w5, segment_net##n##_b5),                                          \
        LAYER (segment_net##n##_w6, segment_net##n##_b6) },                                        \
      { LAYER (segment_net##n##_whole1, NULL), LAYER (segment_net##n##_whole2, NULL) },            \
      LAYER (segment_net##n##_count1, segment_net##n##_count1_b),                                  \
      LAYER (segment_net##n##_count2, segment_net##n##_count2_b), segment_net##n##_line,           \
      segment_net##n##_mix                                                                         \
  }

static const Net nets[] = { NET (0), NET (1) };
#define NETS ((int) (sizeof nets / sizeof nets[0]))
_Static_assert(sizeof nets / sizeof nets[0] == SEGMENT_NETS, "as many as in the table");

/* How far apart the taps are, and which layers see the whole strip. */
static const int dilation[CONVS] = { 2, 4, 8, 16, 8, 2 };
static const int whole_of[CONVS] = { -1, 0, -1, 1, -1, -1 };

static float
ramp (float v)
{
  return v > 0.0f ? v : LEAK * v;
}

/* sum[o][j] of w[i][k][o] in[i][x + j + (k - 4) apart] over i and k, kept in registers. */
static void
convolve_block (
  const Row *in, int n_in, int apart, const float (*w)[OUTS], int x, Four sum[OUTS][COLUMNS])
{
  Four s[OUTS][COLUMNS] = { 0 };

  for (int i = 0; i < n_in; i++)
    {
      const float *at = in[i].v + PAD + x - TAPS / 2 * apart;

      for (int k = 0; k < TAPS; k++, at += apart, w++)
        {
          Four a[COLUMNS];

          memcpy (a, at, sizeof a);
#define ADD(o)                                                                                     \
  s[o][0] += (*w)[o] * a[0];                                                                       \
  s[o][1] += (*w)[o] * a[1];                                                                       \
  s[o][2] += (*w)[o] * a[2]
          ADD (0);
          ADD (1);
          ADD (2);
          ADD (3);
#undef ADD
        }
    }
  memcpy (sum, s, sizeof s);
}

/* out = conv (in), without bias; four outputs at a time share what is loaded. */
static void
convolve (const Row *in, int n_in, int apart, const Layer *layer, Row *out)
{
  float w[C * TAPS][OUTS];

  for (int o = 0; o < C; o += OUTS)
    {
      for (int p = 0; p < OUTS; p++)
        for (int i = 0; i < n_in * TAPS; i++)
          w[i][p] = (float) layer->weights[(o + p) * n_in * TAPS + i] * layer->scale[o + p];
      for (int x = 0; x < ROOM; x += STEP)
        {
          Four sum[OUTS][COLUMNS];

          convolve_block (in, n_in, apart, (const float (*)[OUTS]) w, x, sum);
          for (int p = 0; p < OUTS; p++)
            memcpy (out[o + p].v + PAD + x, sum[p], sizeof sum[p]);
        }
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

/* Both readings of the strip at once: their mean. a, b: of the strip's halves. */
static void
first_layer (const Row *alike, const Row *apart, const Net *net, Row *a, Row *b)
{
  convolve (alike, ALIKE, 1, &net->alike, a);
  convolve (apart, APART, 1, &net->apart, b);
  for (int o = 0; o < C; o++)
    for (int x = PAD; x < PAD + N; x++)
      {
        float base = a[o].v[x] + net->alike.bias[o], by = b[o].v[x];

        a[o].v[x] = .5f * (ramp (base + by) + ramp (base - by));
      }
}

/* Mean and largest value of each channel: where sutures are crisp, a place without one is
 * certain; where they are faint, not. */
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

/* h += ramp (conv (h) + bias + what the whole strip says). */
static void
next_layer (const Net *net, int n, Row *h, Row *made)
{
  float start[C] = { 0 };

  if (whole_of[n] >= 0)
    whole_strip (h, &net->whole[whole_of[n]], start);
  convolve (h, C, dilation[n], &net->conv[n], made);
  for (int o = 0; o < C; o++)
    {
      float more = net->conv[n].bias[o] + start[o];

      for (int x = PAD; x < PAD + N; x++)
        h[o].v[x] += ramp (made[o].v[x] + more);
    }
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

/* Adds a share of what the whole strip says of the counts, and of what its rows are worth. */
static void
head_count (const Row *in, const Net *net, double share, CoreSegmentEvidence *out)
{
  float pooled[2 * C * BINS], hidden[HIDDEN], said[CORE_SEGMENT_COUNTS + 1];
  double worth;

  pool (in, pooled);
  dense (&net->count1, pooled, 2 * C * BINS, HIDDEN, hidden);
  for (int h = 0; h < HIDDEN; h++)
    hidden[h] = ramp (hidden[h]);
  dense (&net->count2, hidden, HIDDEN, CORE_SEGMENT_COUNTS + 1, said);
  for (int k = 0; k < CORE_SEGMENT_COUNTS; k++)
    out->count_log[k] += share * (double) net->mix[1] * (double) said[k];
  worth = (double) said[CORE_SEGMENT_COUNTS];
  worth = worth < WORTH_LEAST ? WORTH_LEAST : worth > WORTH_MOST ? WORTH_MOST : worth;
  out->rows_worth += share * (double) net->mix[0] * exp (worth);
}

/* Lanes of both sides: half their sum, half their difference. */
static void
take_apart (const float *in, Row *alike, Row *apart)
{
  for (int c = 0; c < 3; c++)
    for (int l = 0; l <= HALF; l++)
      {
        const float *a = in + (c * CORE_SEGMENT_NET_LANES + l) * N;
        const float *b = in + ((c + 1) * CORE_SEGMENT_NET_LANES - 1 - l) * N;

        for (int x = 0; x < N; x++)
          alike[c * (HALF + 1) + l].v[PAD + x] = .5f * (a[x] + b[x]);
        for (int x = 0; l < HALF && x < N; x++)
          apart[c * HALF + l].v[PAD + x] = .5f * (a[x] - b[x]);
      }
}

void
core_segment_net (const float *in, CoreSegmentEvidence *out)
{
  Row alike[ALIKE], apart[APART], h[C], made[C];
  float line[N] = { 0 };

  memset (out, 0, sizeof *out);
  memset (alike, 0, sizeof alike);
  memset (apart, 0, sizeof apart);
  memset (h, 0, sizeof h);
  take_apart (in, alike, apart);
  for (int n = 0; n < NETS; n++)
    {
      const Net *net = &nets[n];

      first_layer (alike, apart, net, h, made);
      for (int c = 0; c < C; c++) /* the samples computed too many */
        memset (h[c].v + PAD + N, 0, sizeof (float) * (ROOM - N));
      for (int i = 0; i < CONVS; i++)
        next_layer (net, i, h, made);
      head_line (h, net->line, 1.0f / NETS, line);
      head_count (h, net, 1.0 / NETS, out);
    }
  memcpy (out->before, line, sizeof out->before);
  memcpy (out->line, line + CORE_SEGMENT_MARGIN, sizeof out->line);
  memcpy (out->after, line + CORE_SEGMENT_MARGIN + CORE_SEGMENT_N, sizeof out->after);
}
