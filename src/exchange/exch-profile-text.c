/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-profile-text.c — is this text a profile at all: its bytes, its lines, the keys that it uses.
 *
 * GKeyFile keeps no lines, takes the last of two keys and reads escapes in values; so the text is
 * looked at by line before GKeyFile sees it.
 */
#include <glib/gi18n-lib.h>
#include <string.h>

#include "exchange/exch-profile-private.h"

#define MAX_LINE 1200

/* The line of a key (or of a group, key NULL); 0 when it has none. */
static guint
line_of (ExchReader *self, const char *group, const char *key)
{
  g_autofree char *id = g_strdup_printf ("%s\n%s", group, key != NULL ? key : "");

  return GPOINTER_TO_UINT (g_hash_table_lookup (self->lines, id));
}

static void
keep_why (ExchReader *self, const char *why)
{
  g_free (self->why);
  self->why = g_strdup (why);
}

gboolean
exch_reader_fail (
  ExchReader *self, ExchProfileError code, const char *group, const char *key, const char *why)
{
  guint line = line_of (self, group, key);

  keep_why (self, why);
  if (line == 0)
    line = line_of (self, group, NULL);
  if (line > 0)
    g_set_error (self->error, EXCH_PROFILE_ERROR, code,
                 /* Translators: file, line number, group, key, reason */
                 C_ ("profile error", "%s, line %u, [%s] %s: %s."), self->name, line, group, key,
                 why);
  else
    g_set_error (self->error, EXCH_PROFILE_ERROR, code,
                 /* Translators: file, group, key, reason */
                 C_ ("profile error", "%s, [%s] %s: %s."), self->name, group, key, why);
  return FALSE;
}

gboolean
exch_reader_fail_line (ExchReader *self, ExchProfileError code, guint line, const char *why)
{
  keep_why (self, why);
  g_set_error (self->error, EXCH_PROFILE_ERROR, code,
               /* Translators: file, line number, reason */
               C_ ("profile error", "%s, line %u: %s."), self->name, line, why);
  return FALSE;
}

/* ---- lines ---- */

static gboolean
scan_line (ExchReader *self, char *line, guint number, char **group)
{
  char *id;
  char *sep;

  if (strlen (line) > MAX_LINE)
    return exch_reader_fail_line (self, EXCH_PROFILE_ERROR_SYNTAX, number,
                                  C_ ("profile error", "A line is at most 1200 bytes long"));
  g_strstrip (line);
  if (*line == '\0' || *line == '#')
    return TRUE;
  if (*line == '[')
    {
      gsize n = strlen (line);

      if (n < 3 || line[n - 1] != ']')
        return exch_reader_fail_line (self, EXCH_PROFILE_ERROR_SYNTAX, number,
                                      C_ ("profile error", "A group is written [name]"));
      g_free (*group);
      *group = g_strndup (line + 1, n - 2);
      id = g_strdup_printf ("%s\n", *group);
    }
  else
    {
      sep = strchr (line, '=');
      if (sep == NULL || *group == NULL)
        return exch_reader_fail_line (self, EXCH_PROFILE_ERROR_SYNTAX, number,
                                      C_ ("profile error", "Expected [group], key = value or # comment"));
      *sep = '\0';
      g_strchomp (line);
      id = g_strdup_printf ("%s\n%s", *group, line);
    }
  if (g_hash_table_contains (self->lines, id))
    {
      g_free (id);
      return exch_reader_fail_line (self, EXCH_PROFILE_ERROR_SYNTAX, number,
                        C_ ("profile error", "This stands here for the second time; keep one"));
    }
  g_hash_table_insert (self->lines, id, GUINT_TO_POINTER (number));
  return TRUE;
}

gboolean
exch_reader_scan (ExchReader *self, const char *text)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  g_autofree char *group = NULL;

  for (guint i = 0; lines[i] != NULL; i++)
    {
      if (!scan_line (self, lines[i], i + 1, &group))
        return FALSE;
    }
  return TRUE;
}

/* ---- keys ---- */

/* What may be said of a value beside it. */
static const char *const beside[] = { "from", "other", "other.from", "note", "note_de", NULL };

static gboolean
is_plain (const char *text, gsize longest)
{
  gsize n = strspn (text, "abcdefghijklmnopqrstuvwxyz0123456789-_");

  return n > 0 && text[n] == '\0' && n <= longest;
}

/* Is KEY, or KEY with one of the words beside it, one that the format has? */
static gboolean
key_known (const char *group, const char *key)
{
  g_autofree char *stem = g_strndup (key, strcspn (key, "."));
  const char *dot = strchr (key, '.');

  if (strcmp (group, "sources") == 0)
    return is_plain (key, 40);
  return exch_profile_key_find (group, stem) != NULL &&
         (dot == NULL || g_strv_contains (beside, dot + 1));
}

gboolean
exch_reader_check_known (ExchReader *self)
{
  g_auto (GStrv) groups = g_key_file_get_groups (self->file, NULL);

  for (guint i = 0; groups[i] != NULL; i++)
    {
      g_auto (GStrv) keys = g_key_file_get_keys (self->file, groups[i], NULL, NULL);

      if (!exch_profile_group_known (groups[i]))
        return exch_reader_fail (self, EXCH_PROFILE_ERROR_UNKNOWN, groups[i], "",
                     C_ ("profile error", "There is no such group"));
      for (guint k = 0; keys != NULL && keys[k] != NULL; k++)
        {
          if (!key_known (groups[i], keys[k]))
            return exch_reader_fail (self, EXCH_PROFILE_ERROR_UNKNOWN, groups[i], keys[k],
                         C_ ("profile error", "There is no such key"));
        }
    }
  return TRUE;
}

/* ---- characters ---- */

/* Why the character at `p` may not stand in a profile; NULL = it may. What shows nothing could
 * make a line say something else than it seems to; a backslash would be read as an escape. */
static const char *
bad_character (const char *p, const char *end)
{
  GUnicodeType type = g_unichar_type (g_utf8_get_char (p));

  if (*p == '\n' || *p == '\t' || (*p == '\r' && p + 1 < end && p[1] == '\n'))
    return NULL;
  if (*p == '\\')
    return C_ ("profile error", "A backslash has no meaning here; leave it out");
  if (type == G_UNICODE_CONTROL || type == G_UNICODE_FORMAT ||
      type == G_UNICODE_LINE_SEPARATOR || type == G_UNICODE_PARAGRAPH_SEPARATOR)
    return C_ ("profile error", "This is not plain UTF-8 text");
  return NULL;
}

gboolean
exch_reader_check_text (ExchReader *self, const char *text, gsize length)
{
  const char *end = NULL;
  guint line = 1;
  const char *why;

  if (length > EXCH_PROFILE_MAX_BYTES)
    {
      g_set_error (self->error, EXCH_PROFILE_ERROR, EXCH_PROFILE_ERROR_TOO_LONG,
                   C_ ("profile error", "%s: A profile is at most 64 KiB long."), self->name);
      return FALSE;
    }
  (void) g_utf8_validate_len (text, length, &end);
  for (const char *p = text; p < text + length; p = g_utf8_next_char (p))
    {
      why = p >= end ? C_ ("profile error", "This is not plain UTF-8 text")
                     : bad_character (p, text + length);
      if (why != NULL)
        return exch_reader_fail_line (self, EXCH_PROFILE_ERROR_SYNTAX, line, why);
      if (*p == '\n')
        line++;
    }
  return TRUE;
}

