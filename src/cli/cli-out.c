/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-out.c — JSON and indented text from the same calls.
 *
 * Everything is gathered in memory and written at the end, so that a failing
 * verb leaves stdout empty and never half an object. */
#include "cli/cli-out.h"

#include <math.h>
#include <stdio.h>

#include "core/core-date.h"
#include "core/core-entry.h"

void
cli_out_init (CliOut *self, gboolean json)
{
  self->text = g_string_new (NULL);
  self->json = json;
  self->depth = 0;
  self->first = TRUE;
}

void
cli_out_clear (CliOut *self)
{
  if (self->text != NULL)
    g_string_free (g_steal_pointer (&self->text), TRUE);
}

static void
append_quoted (GString *out, const char *value)
{
  g_autofree char *valid = g_utf8_make_valid (value, -1);

  g_string_append_c (out, '"');
  for (const char *p = valid; *p != '\0'; p++)
    switch (*p)
      {
      case '"':
        g_string_append (out, "\\\"");
        break;
      case '\\':
        g_string_append (out, "\\\\");
        break;
      case '\n':
        g_string_append (out, "\\n");
        break;
      case '\t':
        g_string_append (out, "\\t");
        break;
      default:
        if ((guchar) *p < 0x20)
          g_string_append_printf (out, "\\u%04x", (guchar) *p);
        else
          g_string_append_c (out, *p);
      }
  g_string_append_c (out, '"');
}

static void
lead (CliOut *self, const char *key)
{
  if (self->json)
    {
      if (!self->first)
        g_string_append_c (self->text, ',');
      if (key != NULL)
        {
          append_quoted (self->text, key);
          g_string_append_c (self->text, ':');
        }
    }
  else
    {
      for (int i = 1; i < self->depth; i++)
        g_string_append (self->text, "  ");
      g_string_append (self->text, key != NULL ? key : "-");
      g_string_append (self->text, key != NULL ? ": " : " ");
    }
  self->first = FALSE;
}

static void
open_with (CliOut *self, const char *key, char bracket)
{
  if (self->json)
    {
      lead (self, key);
      g_string_append_c (self->text, bracket);
    }
  else if (self->depth > 0)
    {
      lead (self, key);
      self->text->str[self->text->len - 1] = '\n';
    }
  self->depth++;
  self->first = TRUE;
}

static void
close_with (CliOut *self, char bracket)
{
  g_assert (self->depth > 0);
  self->depth--;
  if (self->json)
    g_string_append_c (self->text, bracket);
  self->first = FALSE;
}

void
cli_out_open (CliOut *self, const char *key)
{
  open_with (self, key, '{');
}

void
cli_out_close (CliOut *self)
{
  close_with (self, '}');
}

void
cli_out_array (CliOut *self, const char *key)
{
  open_with (self, key, '[');
}

void
cli_out_array_end (CliOut *self)
{
  close_with (self, ']');
}

/* A bare word: number, true, null. */
static void
put (CliOut *self, const char *key, const char *word)
{
  lead (self, key);
  g_string_append (self->text, word);
  if (!self->json)
    g_string_append_c (self->text, '\n');
}

void
cli_out_str (CliOut *self, const char *key, const char *value)
{
  if (value == NULL || !self->json)
    {
      put (self, key, value != NULL ? value : self->json ? "null" : "-");
      return;
    }
  lead (self, key);
  append_quoted (self->text, value);
}

void
cli_out_int (CliOut *self, const char *key, gint64 value)
{
  char buffer[32];

  g_snprintf (buffer, sizeof buffer, "%" G_GINT64_FORMAT, value);
  put (self, key, buffer);
}

void
cli_out_num (CliOut *self, const char *key, double value, int decimals)
{
  char buffer[64];

  if (!isfinite (value))
    {
      cli_out_null (self, key);
      return;
    }
  core_number_format (value, decimals, buffer);
  put (self, key, buffer);
}

void
cli_out_bool (CliOut *self, const char *key, gboolean value)
{
  put (self, key, self->json ? (value ? "true" : "false") : value ? "yes" : "no");
}

void
cli_out_null (CliOut *self, const char *key)
{
  put (self, key, self->json ? "null" : "-");
}

void
cli_out_day (CliOut *self, const char *key, CoreDay day)
{
  char buffer[11];

  if (day == CORE_DAY_NONE)
    {
      cli_out_null (self, key);
      return;
    }
  core_day_to_text (day, buffer);
  cli_out_str (self, key, buffer);
}

void
cli_out_id (CliOut *self, const char *key, CoreId id)
{
  char buffer[37];

  if (core_id_is_none (id))
    {
      cli_out_null (self, key);
      return;
    }
  core_id_to_text (id, buffer);
  cli_out_str (self, key, buffer);
}

gboolean
cli_out_flush (CliOut *self)
{
  gboolean ok;

  if (self->json)
    g_string_append_c (self->text, '\n');
  ok = fwrite (self->text->str, 1, self->text->len, stdout) == self->text->len;
  ok = fflush (stdout) == 0 && ok;
  g_string_truncate (self->text, 0);
  self->first = TRUE;
  return ok;
}
