/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-zone.c — "Date Time, GMT+05:00": what a heading says of its times. */
#include "exchange/exch-zone.h"

#include <string.h>

typedef struct
{
  const char *at, *start, *end;
} Scan;

static char
peek (const Scan *scan)
{
  return scan->at < scan->end ? *scan->at : '\0';
}

static gboolean
take_text (Scan *scan, const char *text)
{
  gsize length = strlen (text);

  if ((gsize) (scan->end - scan->at) < length || memcmp (scan->at, text, length) != 0)
    return FALSE;
  scan->at += length;
  return TRUE;
}

/* A run of digits; how many there are. */
static int
take_digits (Scan *scan, int *out)
{
  int n = 0;

  for (*out = 0; n < 5 && g_ascii_isdigit (peek (scan)); n++)
    *out = *out * 10 + (*scan->at++ - '0');
  return n;
}

gboolean
exch_offset_take (const char **at, const char *end, int *offset)
{
  Scan scan = { *at, *at, end };
  gboolean minus = take_text (&scan, "-") || take_text (&scan, "\xe2\x88\x92");
  int hours, minutes = 0, n, more;

  if (!minus && !take_text (&scan, "+"))
    return FALSE;
  n = take_digits (&scan, &hours);
  if (n == 4)
    {
      minutes = hours % 100;
      hours /= 100;
    }
  else if (n == 0 || n > 2)
    return FALSE;
  else if (take_text (&scan, ":") && ((more = take_digits (&scan, &minutes)) == 0 || more > 2))
    return FALSE;
  if (hours > 14 || minutes > 59)
    return FALSE;
  *offset = (minus ? -1 : 1) * (hours * 3600 + minutes * 60);
  *at = scan.at;
  return TRUE;
}

/* Letters that loggers and spreadsheets write. Many stand for several zones (no offset here), and
 * whether a logger kept to one over the change of the clocks they do not tell. From memory. */
static const struct
{
  const char *name;
  gboolean known;
  int minutes;
} letters[] = {
  { "CEST", TRUE, 120 },  { "CET", TRUE, 60 },    { "MESZ", TRUE, 120 },  { "MEZ", TRUE, 60 },
  { "EEST", TRUE, 180 },  { "EET", TRUE, 120 },   { "WEST", TRUE, 60 },   { "WET", TRUE, 0 },
  { "BST", FALSE, 0 },    { "IST", FALSE, 0 },    { "EST", FALSE, 0 },    { "EDT", TRUE, -240 },
  { "CST", FALSE, 0 },    { "CDT", FALSE, 0 },    { "MST", FALSE, 0 },    { "MDT", TRUE, -360 },
  { "PST", FALSE, 0 },    { "PDT", TRUE, -420 },  { "AEST", TRUE, 600 },  { "AEDT", TRUE, 660 },
  { "ACST", TRUE, 570 },  { "AWST", TRUE, 480 },  { "NZST", TRUE, 720 },  { "NZDT", TRUE, 780 },
  { "JST", TRUE, 540 },   { "SAST", TRUE, 120 },  { "MSK", TRUE, 180 },
};

static gboolean
is_word (char c)
{
  return g_ascii_isalnum (c) || (guchar) c >= 0x80;
}

static gboolean
at_word (const Scan *scan)
{
  return scan->at == scan->start || !is_word (scan->at[-1]);
}

/* "UTC", "gmt+05:00", "UTC +2" */
static gboolean
take_utc (Scan *scan, ExchZone *out)
{
  Scan at = *scan, space;

  if (at.end - at.at < 3 || (g_ascii_strncasecmp (at.at, "utc", 3) != 0 && g_ascii_strncasecmp (at.at, "gmt", 3) != 0))
    return FALSE;
  at.at += 3;
  if (g_ascii_isalnum (peek (&at)))
    return FALSE;
  out->offset = 0;
  space = at;
  take_text (&space, " ");
  if (exch_offset_take (&space.at, space.end, &out->offset))
    at = space;
  *scan = at;
  return TRUE;
}

static gboolean
take_letters (Scan *scan, ExchZone *out)
{
  for (gsize i = 0; i < G_N_ELEMENTS (letters); i++)
    {
      Scan at = *scan;

      if (take_text (&at, letters[i].name) && !is_word (peek (&at)))
        {
          out->has_offset = letters[i].known;
          out->offset = letters[i].minutes * 60;
          *scan = at;
          return TRUE;
        }
    }
  return FALSE;
}

/* A zone that begins here. */
static gboolean
take_zone (Scan *scan, ExchZone *out)
{
  const char *begins = scan->at;
  gboolean bracket = begins > scan->start && (begins[-1] == '(' || begins[-1] == '[');

  *out = (ExchZone){ .certain = TRUE, .has_offset = TRUE };
  if (!at_word (scan))
    return FALSE;
  if (!take_utc (scan, out) && !(bracket && exch_offset_take (&scan->at, scan->end, &out->offset)))
    {
      out->certain = FALSE;
      if (!take_letters (scan, out))
        return FALSE;
    }
  g_strlcpy (out->name, begins, MIN ((gsize) (scan->at - begins) + 1, sizeof out->name));
  return TRUE;
}

gboolean
exch_zone_find (const char *text, gsize length, ExchZone *out)
{
  Scan scan = { text, text, text + length };
  gboolean found = FALSE;
  ExchZone zone;

  while (scan.at < scan.end)
    {
      if (!take_zone (&scan, &zone))
        scan.at++;
      else if (!found)
        {
          *out = zone;
          found = TRUE;
        }
      else if (zone.offset != out->offset || zone.has_offset != out->has_offset)
        out->certain = out->has_offset = FALSE;
    }
  return found;
}
