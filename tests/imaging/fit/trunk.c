/* SPDX-License-Identifier: GPL-3.0-or-later */
/* trunk.c — the three convolutions and their gradients for fit.py, which calls
 * it through ctypes; the same sums as core-segment-net.c, made for speed:
 * cc -O3 -march=native -ffast-math -shared -fPIC trunk.c -o trunk.so
 */
#include <string.h>

#define N 256
#define C 24
#define IN 33
#define TAPS 9
#define PAD 16
#define W (N + 2 * PAD)
#define TILE 64

void trunk_forward (int batch,
                    const float *x,
                    const float *const w[4],
                    const float *const b[3],
                    float *const a[3]);
void trunk_backward (int batch,
                     const float *x,
                     float *const a[3],
                     const float *const w[4],
                     const float *da,
                     float *const gw[4],
                     float *const gb[3]);

static const int dilation[3] = { 1, 2, 4 };

static void
pad (const float *in, int rows, float out[][W])
{
  for (int i = 0; i < rows; i++)
    {
      memset (out[i], 0, PAD * sizeof (float));
      memcpy (out[i] + PAD, in + i * N, N * sizeof (float));
      memset (out[i] + PAD + N, 0, PAD * sizeof (float));
    }
}

/* out[o] += sum w[o][i][k] in[i][x + (k - 4) d]; n_out a multiple of 3 or 4 is not asked. */
static void
convolve (float in[][W], int n_in, const float *w, int n_out, int d, float *out)
{
  for (int o = 0; o < n_out; o += 3)
    for (int x = 0; x < N; x += TILE)
      {
        float acc[3][TILE];

        for (int q = 0; q < 3; q++)
          for (int j = 0; j < TILE; j++)
            acc[q][j] = out[(o + q) * N + x + j];
        for (int i = 0; i < n_in; i++)
          for (int k = 0; k < TAPS; k++)
            {
              const float *src = in[i] + PAD + x + (k - TAPS / 2) * d;
              float w0 = w[((o + 0) * n_in + i) * TAPS + k],
                    w1 = w[((o + 1) * n_in + i) * TAPS + k];
              float w2 = w[((o + 2) * n_in + i) * TAPS + k];

              for (int j = 0; j < TILE; j++)
                {
                  acc[0][j] += w0 * src[j];
                  acc[1][j] += w1 * src[j];
                  acc[2][j] += w2 * src[j];
                }
            }
        for (int q = 0; q < 3; q++)
          for (int j = 0; j < TILE; j++)
            out[(o + q) * N + x + j] = acc[q][j];
      }
}

static void
weight_gradient (float in[][W], int n_in, const float *dz, int d, float *gw)
{
  for (int o = 0; o < C; o++)
    for (int i = 0; i < n_in; i++)
      for (int k = 0; k < TAPS; k++)
        {
          const float *src = in[i] + PAD + (k - TAPS / 2) * d, *g = dz + o * N;
          float sum = 0;

          for (int x = 0; x < N; x++)
            sum += src[x] * g[x];
          gw[(o * n_in + i) * TAPS + k] += sum;
        }
}

/* Mean and largest value of each channel over the whole strip; where the largest is. */
static void
whole_strip (const float *a, float context[2 * C], int top[C])
{
  for (int c = 0; c < C; c++)
    {
      float sum = 0;

      top[c] = 0;
      for (int x = 0; x < N; x++)
        {
          sum += a[c * N + x];
          if (a[c * N + x] > a[c * N + top[c]])
            top[c] = x;
        }
      context[c] = sum / N;
      context[C + c] = a[c * N + top[c]];
    }
}

/* The last layer also sees the whole strip: faint sutures or crisp ones. */
static void
context_gradient (const float *a, const float *g, const float *dz, float *gg, float *next)
{
  float context[2 * C], mean[C] = { 0 };
  int top[C];

  whole_strip (a, context, top);
  for (int o = 0; o < C; o++)
    {
      float sum = 0;

      for (int x = 0; x < N; x++)
        sum += dz[o * N + x];
      for (int c = 0; c < C; c++)
        {
          mean[c] += g[o * 2 * C + c] * sum / N;
          next[c * N + top[c]] += g[o * 2 * C + C + c] * sum;
        }
      for (int c = 0; c < 2 * C; c++)
        gg[o * 2 * C + c] += sum * context[c];
    }
  for (int c = 0; c < C; c++)
    for (int x = 0; x < N; x++)
      next[c * N + x] += mean[c];
}

void
trunk_forward (int batch,
               const float *x,
               const float *const w[4],
               const float *const b[3],
               float *const a[3])
{
  float in[IN][W], context[2 * C] = { 0 };
  int top[C];

  for (int s = 0; s < batch; s++)
    for (int l = 0; l < 3; l++)
      {
        int n_in = l == 0 ? IN : C;
        float *out = a[l] + s * C * N;

        pad (l == 0 ? x + s * IN * N : a[l - 1] + s * C * N, n_in, in);
        if (l == 2)
          whole_strip (a[1] + s * C * N, context, top);
        for (int o = 0; o < C; o++)
          {
            float start = b[l][o];

            for (int c = 0; l == 2 && c < 2 * C; c++)
              start += w[3][o * 2 * C + c] * context[c];
            for (int j = 0; j < N; j++)
              out[o * N + j] = start;
          }
        convolve (in, n_in, w[l], C, dilation[l], out);
        for (int j = 0; j < C * N; j++)
          out[j] = out[j] > 0 ? out[j] : .1f * out[j];
      }
}

void
trunk_backward (int batch,
                const float *x,
                float *const a[3],
                const float *const w[4],
                const float *da,
                float *const gw[4],
                float *const gb[3])
{
  float in[IN][W], flipped[C * C * TAPS], dz[C * N], next[C * N];

  for (int s = 0; s < batch; s++)
    {
      memcpy (next, da + s * C * N, sizeof next);
      for (int l = 2; l >= 0; l--)
        {
          const float *out = a[l] + s * C * N;

          for (int o = 0; o < C; o++)
            for (int j = 0; j < N; j++)
              {
                dz[o * N + j] = next[o * N + j] * (out[o * N + j] > 0 ? 1.0f : .1f);
                gb[l][o] += dz[o * N + j];
              }
          pad (l == 0 ? x + s * IN * N : a[l - 1] + s * C * N, l == 0 ? IN : C, in);
          weight_gradient (in, l == 0 ? IN : C, dz, dilation[l], gw[l]);
          if (l == 0)
            break;
          for (int o = 0; o < C; o++)
            for (int i = 0; i < C; i++)
              for (int k = 0; k < TAPS; k++)
                flipped[(i * C + o) * TAPS + TAPS - 1 - k] = w[l][(o * C + i) * TAPS + k];
          pad (dz, C, in);
          memset (next, 0, sizeof next);
          convolve (in, C, flipped, C, dilation[l], next);
          if (l == 2)
            context_gradient (a[1] + s * C * N, w[3], dz, gw[3], next);
        }
    }
}
