/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-axes.c — one line of an axes file: {"file":"…","axis":[[x,y],[x,y],…]}.
 *
 * A reader for exactly this: strings, numbers, nested arrays; other keys are
 * passed over when their value is a string, a number, a word or an array. */
#include "cli/cli.h"

#include <string.h>

typedef struct
{
  const char *at;
  gboolean ok;
} Reader;

static void
skip_space (Reader *r)
{
  while (g_ascii_isspace (*r->at))
    r->at++;
}

static gboolean
take (Reader *r, char c)
{
  skip_space (r);
  if (*r->at != c)
    return FALSE;
  r->at++;
  return TRUE;
}

static void
need (Reader *r, char c)
{
  if (!take (r, c))
    r->ok = FALSE;
}

/* Four hex digits; -1 when they are not there. */
static int
read_hex (Reader *r)
{
  int value = 0;

  for (int i = 0; i < 4; i++)
    {
      if (!g_ascii_isxdigit (r->at[i]))
        return -1;
      value = value * 16 + g_ascii_xdigit_value (r->at[i]);
    }
  r->at += 4;
  return value;
}

static void
read_unicode (Reader *r, GString *out)
{
  int first = read_hex (r);
  int second = -1;

  if (first >= 0xd800 && first < 0xdc00 && r->at[0] == '\\' && r->at[1] == 'u')
    {
      r->at += 2;
      second = read_hex (r);
      first = second < 0xdc00 || second > 0xdfff
                ? -1
                : 0x10000 + ((first - 0xd800) << 10) + (second - 0xdc00);
    }
  if (first <= 0 || (first >= 0xd800 && first <= 0xdfff))
    r->ok = FALSE;
  else
    g_string_append_unichar (out, (gunichar) first);
}

static char *
read_string (Reader *r)
{
  static const char escapes[] = "\"\\/bfnrt";
  static const char meant[] = "\"\\/\b\f\n\r\t";
  GString *out = g_string_new (NULL);

  need (r, '"');
  while (r->ok && *r->at != '"')
    {
      const char *found;

      if ((guchar) *r->at < 0x20)
        r->ok = FALSE;
      else if (*r->at != '\\')
        g_string_append_c (out, *r->at++);
      else if (r->at[1] == 'u')
        {
          r->at += 2;
          read_unicode (r, out);
        }
      else if (r->at[1] != '\0' && (found = strchr (escapes, r->at[1])) != NULL)
        {
          g_string_append_c (out, meant[found - escapes]);
          r->at += 2;
        }
      else
        r->ok = FALSE;
    }
  if (r->ok)
    r->at++;
  return g_string_free (out, FALSE);
}

static double
read_number (Reader *r)
{
  gsize length;
  g_autofree char *text = NULL;
  double value = 0;

  skip_space (r);
  length = strspn (r->at, "+-0123456789.eE");
  text = g_strndup (r->at, length);
  if (length == 0 || !core_number_parse (text, &value))
    r->ok = FALSE;
  r->at += length;
  return value;
}

static int
read_points (Reader *r, double *axis, int max)
{
  int n = 0;

  need (r, '[');
  do
    {
      if (n == max)
        r->ok = FALSE;
      if (!r->ok)
        return 0;
      need (r, '[');
      axis[2 * n] = read_number (r);
      need (r, ',');
      axis[2 * n + 1] = read_number (r);
      need (r, ']');
      n++;
    }
  while (take (r, ','));
  need (r, ']');
  return n;
}

static void
skip_value (Reader *r, int depth)
{
  skip_space (r);
  if (*r->at == '"')
    g_free (read_string (r));
  else if (take (r, '['))
    {
      if (depth > 8)
        r->ok = FALSE;
      if (take (r, ']'))
        return;
      do
        skip_value (r, depth + 1);
      while (r->ok && take (r, ','));
      need (r, ']');
    }
  else if (g_ascii_isalpha (*r->at))
    while (g_ascii_isalpha (*r->at))
      r->at++;
  else
    read_number (r);
}

int
cli_read_axes_line (const char *line, char **file, double *axis, int max)
{
  Reader r = { line, TRUE };
  int n = 0;

  need (&r, '{');
  do
    {
      g_autofree char *key = read_string (&r);

      need (&r, ':');
      if (!r.ok)
        break;
      if (strcmp (key, "file") == 0 && *file == NULL)
        *file = read_string (&r);
      else if (strcmp (key, "axis") == 0 && n == 0)
        n = read_points (&r, axis, max);
      else
        skip_value (&r, 0);
    }
  while (r.ok && take (&r, ','));
  need (&r, '}');
  skip_space (&r);
  return r.ok && *r.at == '\0' && *file != NULL ? n : 0;
}
