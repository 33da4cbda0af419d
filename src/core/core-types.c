/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-types.c — identifiers: order, equality, text form and back. */
#include "core/core-types.h"

#include <string.h>

int
core_id_compare (CoreId a, CoreId b)
{
  int order = memcmp (a.b, b.b, sizeof a.b);

  return (order > 0) - (order < 0);
}

bool
core_id_is_none (CoreId id)
{
  static const CoreId none;

  return memcmp (id.b, none.b, sizeof id.b) == 0;
}

bool
core_id_equal (CoreId a, CoreId b)
{
  return memcmp (a.b, b.b, sizeof a.b) == 0;
}

static bool
dash_before (size_t byte)
{
  return byte == 4 || byte == 6 || byte == 8 || byte == 10;
}

void
core_id_to_text (CoreId id, char out[37])
{
  static const char digits[] = "0123456789abcdef";
  char *at = out;

  for (size_t i = 0; i < sizeof id.b; i++)
    {
      if (dash_before (i))
        *at++ = '-';
      *at++ = digits[id.b[i] >> 4];
      *at++ = digits[id.b[i] & 15];
    }
  *at = '\0';
}

/* 0…15, or -1 for anything that is no hex digit. */
static int
hex_value (char c)
{
  if (c >= '0' && c <= '9')
    return c - '0';
  if (c >= 'a' && c <= 'f')
    return c - 'a' + 10;
  if (c >= 'A' && c <= 'F')
    return c - 'A' + 10;
  return -1;
}

bool
core_id_from_text (const char *text, CoreId *out)
{
  CoreId id = { 0 };
  const char *at = text;

  if (text == NULL)
    return false;
  for (size_t i = 0; i < sizeof id.b; i++)
    {
      int high, low;

      if (dash_before (i) && *at++ != '-')
        return false;
      high = hex_value (at[0]);
      low = high < 0 ? -1 : hex_value (at[1]);
      if (low < 0)
        return false;
      id.b[i] = (uint8_t) (high << 4 | low);
      at += 2;
    }
  if (*at != '\0')
    return false;
  *out = id;
  return true;
}
