/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-series.c — readings of a logger as text.
 *
 * Each sample is three whole numbers: the change of the step in time, temperature in hundredths and
 * humidity in tenths, each but the first as 0 for "not said" or 1 + the change since the last that
 * was said. A number is written with its sign folded in (0, -1, 1, -2 …), five bits a character, the
 * lowest first, a sixth bit saying that more follow. The first character names the form.
 */
#include "core/core-series.h"

#include <math.h>
#include <string.h>

static const char DIGITS[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
#define FORM '1'
#define LONGEST 7     /* characters of a number: 35 bits */
#define SAMPLE_MAX 21 /* of a sample */

static const double T_STEPS = 100; /* in a degree */
static const double RH_STEPS = 10; /* in a percent */
static const double T_MIN = -60, T_MAX = 100;

static uint64_t
fold_sign (int64_t n)
{
  return n < 0 ? ((uint64_t) (-(n + 1)) << 1 | 1) : (uint64_t) n << 1;
}

static int64_t
unfold_sign (uint64_t n)
{
  return (n & 1) != 0 ? -(int64_t) (n >> 1) - 1 : (int64_t) (n >> 1);
}

static char *
put_number (char *at, uint64_t n)
{
  do
    {
      *at++ = DIGITS[(n & 31) | (n > 31 ? 32 : 0)];
      n >>= 5;
    }
  while (n > 0);
  return at;
}

static int
digit_of (char c)
{
  if (c >= 'A' && c <= 'Z')
    return c - 'A';
  if (c >= 'a' && c <= 'z')
    return c - 'a' + 26;
  if (c >= '0' && c <= '9')
    return c - '0' + 52;
  return c == '-' ? 62 : c == '_' ? 63 : -1;
}

static bool
get_number (const char **at, uint64_t *out)
{
  uint64_t n = 0;

  for (int i = 0; i < LONGEST; i++)
    {
      int digit = digit_of (**at);

      if (digit < 0)
        return false;
      (*at)++;
      n |= (uint64_t) (digit & 31) << (5 * i);
      if (digit < 32)
        {
          *out = n;
          return true;
        }
    }
  return false;
}

static bool
sample_ok (const CoreSample *self, int64_t after)
{
  bool t = !isnan (self->t), rh = !isnan (self->rh);

  return (t || rh) && self->second >= after && self->second < CORE_SERIES_DAY &&
         (!t || (self->t >= T_MIN && self->t <= T_MAX)) &&
         (!rh || (self->rh >= 0 && self->rh <= 100));
}

static char *
put_value (char *at, double value, double steps, int64_t *last)
{
  int64_t now;

  if (isnan (value))
    return put_number (at, 0);
  now = llround (value * steps);
  at = put_number (at, 1 + fold_sign (now - *last));
  *last = now;
  return at;
}

size_t
core_series_pack (const CoreSample *samples, size_t n, char *out, size_t size)
{
  int64_t second = 0, step = 0, t = 0, rh = 0;
  char *at = out;
  size_t i = 0;

  *at++ = FORM;
  for (; i < n && (size_t) (at - out) + SAMPLE_MAX < size; i++)
    {
      int64_t next = samples[i].second - second;

      if (!sample_ok (&samples[i], second))
        return 0;
      at = put_number (at, fold_sign (next - step));
      step = next;
      second = samples[i].second;
      at = put_value (at, samples[i].t, T_STEPS, &t);
      at = put_value (at, samples[i].rh, RH_STEPS, &rh);
    }
  *at = '\0';
  return i;
}

CoreSeriesReader
core_series_read (const char *text)
{
  CoreSeriesReader self = { .at = text };

  self.bad = *text != FORM;
  if (!self.bad)
    self.at++;
  return self;
}

static bool
get_value (CoreSeriesReader *self, double steps, int64_t *last, double *out)
{
  uint64_t n;

  if (!get_number (&self->at, &n))
    return false;
  *out = NAN;
  if (n == 0)
    return true;
  *last += unfold_sign (n - 1);
  *out = (double) *last / steps;
  return true;
}

bool
core_series_next (CoreSeriesReader *self, CoreSample *out)
{
  uint64_t n;
  int64_t before = self->second;

  if (self->bad || *self->at == '\0')
    return false;
  self->bad = true;
  if (!get_number (&self->at, &n))
    return false;
  self->step += unfold_sign (n);
  self->second += self->step;
  if (self->second < 0 || self->second >= CORE_SERIES_DAY)
    return false;
  out->second = (int32_t) self->second;
  if (!get_value (self, T_STEPS, &self->t, &out->t) ||
      !get_value (self, RH_STEPS, &self->rh, &out->rh) || !sample_ok (out, before))
    return false;
  self->bad = false;
  return true;
}

bool
core_series_valid (const char *text, size_t *n)
{
  CoreSeriesReader reader = core_series_read (text);
  CoreSample sample;
  size_t count = 0;

  while (core_series_next (&reader, &sample))
    count++;
  if (n != NULL)
    *n = count;
  return !reader.bad && count > 0;
}
