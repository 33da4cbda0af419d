/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-moment.c — times and numbers of loggers. No locale, no allocation: a file has a million. */
#include "exchange/exch-moment.h"

#include <string.h>

#include "core/core-date.h"
#include "exchange/exch-zone.h"

#define DAY 86400

typedef struct
{
  const char *at, *end;
} Scan;

static gboolean
is_space (char c)
{
  return c == ' ' || c == '\t';
}

static gboolean
is_digit (char c)
{
  return c >= '0' && c <= '9';
}

static char
peek (const Scan *scan)
{
  return scan->at < scan->end ? *scan->at : '\0';
}

static void
skip_spaces (Scan *scan)
{
  while (is_space (peek (scan)))
    scan->at++;
}

static gboolean
take (Scan *scan, char c)
{
  if (peek (scan) != c)
    return FALSE;
  scan->at++;
  return TRUE;
}

/* Up to `most` digits; *n how many there were. */
static gboolean
take_digits (Scan *scan, int most, gint64 *out, int *n)
{
  *out = 0;
  for (*n = 0; *n < most && is_digit (peek (scan)); (*n)++)
    *out = *out * 10 + (*scan->at++ - '0');
  return *n > 0 && !is_digit (peek (scan));
}

ExchCell
exch_cell_strip (ExchCell cell)
{
  while (cell.length > 0 && is_space (cell.at[0]))
    cell = (ExchCell){ cell.at + 1, cell.length - 1 };
  while (cell.length > 0 && is_space (cell.at[cell.length - 1]))
    cell.length--;
  return cell;
}

/* ---- times ---- */

/* What three numbers say of the order: a year in front, a day above twelve. */
static ExchOrder
proved_order (gint64 a, int a_digits, gint64 b, char separator)
{
  if (a_digits == 4)
    return EXCH_ORDER_YMD;
  if (separator == '.' || a > 12)
    return EXCH_ORDER_DMY;
  return b > 12 ? EXCH_ORDER_MDY : EXCH_ORDER_UNKNOWN;
}

static gboolean
take_date (Scan *scan, ExchOrder order, ExchMoment *out)
{
  gint64 n[3], year;
  int digits[3];
  char separator;

  if (!take_digits (scan, 4, &n[0], &digits[0]))
    return FALSE;
  separator = peek (scan);
  if ((separator != '-' && separator != '/' && separator != '.') || !take (scan, separator) ||
      !take_digits (scan, 2, &n[1], &digits[1]) || !take (scan, separator) ||
      !take_digits (scan, 4, &n[2], &digits[2]))
    return FALSE;
  out->order = proved_order (n[0], digits[0], n[1], separator);
  /* Two digits in front may be a year where somebody says so; four can be nothing else. */
  if (order == EXCH_ORDER_UNKNOWN || order == EXCH_ORDER_EPOCH || digits[0] == 4)
    order = out->order == EXCH_ORDER_UNKNOWN ? EXCH_ORDER_DMY : out->order;
  year = order == EXCH_ORDER_YMD ? n[0] : n[2];
  if (digits[order == EXCH_ORDER_YMD ? 0 : 2] == 2)
    year += 2000;
  out->day = core_day_from_ymd ((int) year, (int) (order == EXCH_ORDER_MDY ? n[0] : n[1]),
                                (int) (order == EXCH_ORDER_YMD   ? n[2]
                                       : order == EXCH_ORDER_MDY ? n[1]
                                                                 : n[0]));
  return out->day != CORE_DAY_NONE && year >= 1970;
}

static gboolean
take_half (Scan *scan, gint64 *hour)
{
  char c = (char) (peek (scan) | 0x20);
  gboolean after = c == 'p';

  if (c != 'a' && c != 'p')
    return TRUE;
  scan->at++;
  take (scan, '.');
  if ((peek (scan) | 0x20) != 'm')
    return FALSE;
  scan->at++;
  take (scan, '.');
  if (*hour < 1 || *hour > 12)
    return FALSE;
  *hour = *hour % 12 + (after ? 12 : 0);
  return TRUE;
}

/* None is none; what begins as one and is none is left for the end of the cell, where nothing may stand. */
static void
take_zone (Scan *scan, ExchMoment *out)
{
  out->zoned = take (scan, 'Z') || take (scan, 'z') || exch_offset_take (&scan->at, scan->end, &out->offset);
}

static gboolean
take_clock (Scan *scan, ExchMoment *out)
{
  gint64 hour, minute, second = 0, rest;
  int digits;

  if (!take_digits (scan, 2, &hour, &digits) || !take (scan, ':') ||
      !take_digits (scan, 2, &minute, &digits) || digits != 2)
    return FALSE;
  if (take (scan, ':') && !take_digits (scan, 2, &second, &digits))
    return FALSE;
  if ((peek (scan) == '.' || peek (scan) == ',') && scan->at++ && !take_digits (scan, 9, &rest, &digits))
    return FALSE;
  skip_spaces (scan);
  if (!take_half (scan, &hour))
    return FALSE;
  skip_spaces (scan);
  take_zone (scan, out);
  out->second = (int) (hour * 3600 + minute * 60 + second);
  return minute < 60 && second < 60 && out->second <= DAY;
}

static gboolean
epoch (Scan scan, ExchMoment *out)
{
  gint64 n;
  int digits;

  if (!take_digits (&scan, 13, &n, &digits) || (digits != 10 && digits != 9 && digits != 13))
    return FALSE;
  if (take (&scan, '.') && !take_digits (&scan, 9, &(gint64){ 0 }, &(int){ 0 }))
    return FALSE;
  if (scan.at < scan.end)
    return FALSE;
  n = digits == 13 ? n / 1000 : n;
  *out = (ExchMoment){ (CoreDay) (n / DAY), (int) (n % DAY), TRUE, 0, EXCH_ORDER_EPOCH };
  return TRUE;
}

gboolean
exch_moment_parse (ExchCell cell, ExchOrder order, ExchMoment *out)
{
  Scan scan;

  cell = exch_cell_strip (cell);
  scan = (Scan){ cell.at, cell.at + cell.length };
  *out = (ExchMoment){ CORE_DAY_NONE, -1, FALSE, 0, order };
  if (epoch (scan, out))
    return TRUE;
  if (take_clock (&scan, out) && scan.at == scan.end)
    return TRUE;
  scan.at = cell.at;
  *out = (ExchMoment){ CORE_DAY_NONE, -1, FALSE, 0, order };
  if (!take_date (&scan, order, out))
    return FALSE;
  if (!take (&scan, 'T'))
    {
      take (&scan, ',');
      skip_spaces (&scan);
    }
  if (scan.at == scan.end)
    return TRUE;
  return take_clock (&scan, out) && scan.at == scan.end;
}

/* ---- numbers ---- */

static gboolean
says_nothing (Scan scan)
{
  static const char *const words[] = { "-", "--", "---", "nan", "null", "n/a", "na", "none", "error" };
  gsize length = (gsize) (scan.end - scan.at);

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (strlen (words[i]) == length && g_ascii_strncasecmp (words[i], scan.at, length) == 0)
      return TRUE;
  return length == 0;
}

/* "°C", "C", "F", "%", "% RH": the letter that tells, and nothing else. */
static gboolean
take_unit (Scan *scan, char *unit)
{
  static const struct
  {
    const char *text;
    char unit;
  } units[] = {
    { "%", '%' },        { "%rh", '%' },      { "% rh", '%' },     { "%rf", '%' },      { "% rf", '%' },
    { "c", 'C' },        { "\xc2\xb0" "c", 'C' }, { "\xb0" "c", 'C' }, { "\xc2\xba" "c", 'C' },
    { "f", 'F' },        { "\xc2\xb0" "f", 'F' }, { "\xb0" "f", 'F' }, { "\xc2\xba" "f", 'F' },
  };
  gsize length;

  skip_spaces (scan);
  length = (gsize) (scan->end - scan->at);
  for (gsize i = 0; i < G_N_ELEMENTS (units); i++)
    if (strlen (units[i].text) == length && g_ascii_strncasecmp (units[i].text, scan->at, length) == 0)
      {
        *unit = units[i].unit;
        return TRUE;
      }
  return length == 0;
}

ExchNumber
exch_number_parse (ExchCell cell, char decimal, double *out, char *unit)
{
  static const double powers[] = { 1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9 };
  Scan scan;
  gboolean minus;
  gint64 whole = 0, part = 0;
  int digits = 0, places = 0;

  cell = exch_cell_strip (cell);
  scan = (Scan){ cell.at, cell.at + cell.length };
  *unit = '\0';
  if (says_nothing (scan))
    return EXCH_NUMBER_NONE;
  minus = take (&scan, '-');
  if (!minus)
    take (&scan, '+');
  if (!take_digits (&scan, 9, &whole, &digits) && digits > 0)
    return EXCH_NUMBER_BAD;
  if (take (&scan, decimal))
    {
      take_digits (&scan, 9, &part, &places);
      while (is_digit (peek (&scan))) /* further places say nothing */
        scan.at++;
    }
  if (digits + places == 0 || !take_unit (&scan, unit))
    return EXCH_NUMBER_BAD;
  *out = (double) whole + (double) part / powers[places];
  *out = minus ? -*out : *out;
  return EXCH_NUMBER_OK;
}
