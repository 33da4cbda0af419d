/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-number.c — numbers as text, whatever the locale says.
 *
 * A number is [+-] digits [. digits] [e [+-] digits], at most 40 characters,
 * with a digit before or after the point. Up to 15 significant digits and an
 * exponent within ±22 the result is correctly rounded (both factors are exact).
 */
#include "core/core-entry.h"

#include <math.h>
#include <string.h>

#define MAX_LENGTH 40
#define MAX_DIGITS 18
#define MAX_EXPONENT 300

typedef struct
{
  const char *at;
  uint64_t mantissa;
  int digits;   /* significant ones kept in `mantissa` */
  int exponent; /* decimal */
  bool any;
} Scan;

static bool
is_digit (char c)
{
  return c >= '0' && c <= '9';
}

/* Reads a run of digits; digits past the 18th only move the exponent. */
static void
scan_digits (Scan *self, bool fraction)
{
  for (; is_digit (*self->at); self->at++)
    {
      self->any = true;
      if (self->digits < MAX_DIGITS)
        {
          self->mantissa = self->mantissa * 10 + (uint64_t) (*self->at - '0');
          self->digits += self->mantissa != 0;
          self->exponent -= fraction;
        }
      else
        self->exponent += !fraction;
    }
}

static bool
scan_exponent (Scan *self)
{
  int sign = 1, value = 0;

  self->at++;
  if (*self->at == '+' || *self->at == '-')
    sign = *self->at++ == '-' ? -1 : 1;
  if (!is_digit (*self->at))
    return false;
  for (; is_digit (*self->at); self->at++)
    if (value <= MAX_EXPONENT)
      value = value * 10 + (*self->at - '0');
  self->exponent += sign * value;
  return true;
}

/* value × 10^exponent; one rounding while the power is exact. */
static double
scale (double value, int exponent)
{
  static const double exact[] = { 1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                  1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                  1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22 };

  for (; exponent > 22; exponent -= 22)
    value *= exact[22];
  for (; exponent < -22; exponent += 22)
    value /= exact[22];
  return exponent < 0 ? value / exact[-exponent] : value * exact[exponent];
}

bool
core_number_parse (const char *text, double *out)
{
  Scan scan = { 0 };
  bool negative;
  double value;

  if (text == NULL || memchr (text, '\0', MAX_LENGTH + 1) == NULL)
    return false;
  negative = *text == '-';
  scan.at = text + (*text == '-' || *text == '+');
  scan_digits (&scan, false);
  if (*scan.at == '.')
    {
      scan.at++;
      if (!is_digit (*scan.at))
        return false;
      scan_digits (&scan, true);
    }
  if (!scan.any)
    return false;
  if ((*scan.at == 'e' || *scan.at == 'E') && !scan_exponent (&scan))
    return false;
  if (*scan.at != '\0' || scan.exponent > MAX_EXPONENT || scan.exponent < -2 * MAX_EXPONENT)
    return false;
  value = scale ((double) scan.mantissa, scan.exponent);
  if (!isfinite (value))
    return false;
  *out = negative ? -value : value;
  return true;
}

static char *
write_whole (char *at, uint64_t value)
{
  char digits[24];
  size_t n = 0;

  do
    {
      digits[n++] = (char) ('0' + value % 10);
      value /= 10;
    }
  while (value != 0);
  while (n > 0)
    *at++ = digits[--n];
  return at;
}

/* `value` < 10^places, as exactly `places` digits without the zeros at the end. */
static char *
write_fraction (char *at, uint64_t value, int places)
{
  if (value == 0)
    return at;
  for (; value % 10 == 0; places--)
    value /= 10;
  *at++ = '.';
  for (int i = places - 1; i >= 0; i--)
    {
      at[i] = (char) ('0' + value % 10);
      value /= 10;
    }
  return at + places;
}

/* |value| of 1e15 and more: digits e exponent. */
static char *
write_large (char *at, double value)
{
  int exponent = (int) floor (log10 (value)) - 14;

  at = write_whole (at, (uint64_t) (value / pow (10, exponent) + .5));
  *at++ = 'e';
  return write_whole (at, (uint64_t) exponent);
}

void
core_number_format (double value, int decimals, char *out)
{
  char *at = out;
  double magnitude = fabs (value);
  double power;
  uint64_t scaled;

  if (!isfinite (value))
    {
      memcpy (out, "nan", 4);
      return;
    }
  decimals = decimals < 0 ? 0 : decimals > 9 ? 9 : decimals;
  while (decimals > 0 && magnitude * pow (10, decimals) > 9e15)
    decimals--;
  power = floor (pow (10, decimals) + .5);
  scaled = magnitude < 1e15 ? (uint64_t) floor (magnitude * power + .5) : 0;
  if (value < 0 && (scaled != 0 || magnitude >= 1e15))
    *at++ = '-';
  if (magnitude >= 1e15)
    at = write_large (at, magnitude);
  else
    {
      at = write_whole (at, scaled / (uint64_t) power);
      at = write_fraction (at, scaled % (uint64_t) power, decimals);
    }
  *at = '\0';
}
