/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-load.c — reading the journal back: subjects, notes by word.
 *
 * Invariant: what is returned is whole; at the first damaged row nothing is.
 */
#include "store/store-private.h"

#include <string.h>

#define MAX_WORDS 32 /* of a search */

GArray *
store_load_subjects (Store *self, GError **error)
{
  g_autoptr (GArray) subjects = g_array_new (FALSE, FALSE, sizeof (StoreSubject));
  g_autoptr (Stmt) stmt = NULL;
  gboolean row;

  g_return_val_if_fail (self != NULL, NULL);
  stmt = _store_prepare (self, "SELECT id, kind FROM subject ORDER BY id", error);
  if (stmt == NULL)
    return NULL;
  while (_store_step (self, stmt, &row, error))
    {
      StoreSubject subject;

      if (!row)
        return g_steal_pointer (&subjects);
      subject.kind = _store_subject_from_name (_store_column_text (stmt, 1));
      if (!_store_column_id (stmt, 0, &subject.id) || subject.kind == CORE_SUBJECT_NONE)
        {
          _store_set_damage (self, error);
          return NULL;
        }
      g_array_append_val (subjects, subject);
    }
  return NULL;
}

/* `word` with `from` written as `to`; NULL = it has none. */
static char *
respelled (const char *word, const char *from, const char *to)
{
  g_auto (GStrv) parts = g_strsplit (word, from, -1);

  return parts[0] != NULL && parts[1] != NULL ? g_strjoinv (to, parts) : NULL;
}

/* As typed; and with two s for a sharp one, which not every keyboard has, and the other way round:
 * the index knows no such thing. */
static void
add_word (GString *match, const char *word)
{
  g_autofree char *lower = g_utf8_strdown (word, -1);
  g_autofree char *sharp = respelled (lower, "ss", "ß");
  g_autofree char *plain = respelled (lower, "ß", "ss");

  g_string_append_printf (match, "%s(\"%s\"*", match->len > 0 ? " AND " : "", word);
  if (sharp != NULL)
    g_string_append_printf (match, " OR \"%s\"*", sharp);
  if (plain != NULL)
    g_string_append_printf (match, " OR \"%s\"*", plain);
  g_string_append_c (match, ')');
}

/* "hung up-side" → ("hung"*) AND ("up"*) AND ("side"*): quoted, so that no character of what
 * was typed is taken for the query language. */
static char *
match_of (const char *text)
{
  g_autoptr (GString) match = g_string_new (NULL);
  g_autoptr (GString) word = g_string_new (NULL);
  int words = 0;

  for (const char *p = text; words < MAX_WORDS; p += g_utf8_skip[(guchar) *p])
    {
      gunichar c = g_utf8_get_char (p);

      if (g_unichar_isalnum (c) || g_unichar_ismark (c))
        {
          g_string_append_unichar (word, c);
          continue;
        }
      if (word->len > 0)
        {
          add_word (match, word->str);
          words++;
        }
      g_string_truncate (word, 0);
      if (*p == '\0')
        break;
    }
  return g_string_free (g_steal_pointer (&match), FALSE);
}

GArray *
store_search (Store *self, const char *text, guint limit, GError **error)
{
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (CoreId));
  g_autoptr (Stmt) stmt = NULL;
  g_autofree char *valid = NULL;
  g_autofree char *match = NULL;
  gboolean row;

  g_return_val_if_fail (self != NULL && text != NULL, NULL);
  valid = g_utf8_make_valid (text, -1);
  match = match_of (valid);
  if (match[0] == '\0')
    return g_steal_pointer (&ids);
  stmt = _store_prepare (self,
                         "SELECT e.id FROM entry AS e WHERE e.seq IN (SELECT rowid FROM note_search"
                         "  WHERE note_search MATCH ?1 ORDER BY rowid DESC LIMIT max (?2, ?3))"
                         " ORDER BY e.day DESC, e.id DESC LIMIT ?2",
                         error);
  if (stmt == NULL)
    return NULL;
  sqlite3_bind_text (stmt, 1, match, -1, SQLITE_STATIC);
  sqlite3_bind_int64 (stmt, 2, limit);
  sqlite3_bind_int (stmt, 3, STORE_SEARCH_AMONG);
  while (_store_step (self, stmt, &row, error))
    {
      CoreId id;

      if (!row)
        return g_steal_pointer (&ids);
      if (_store_column_id (stmt, 0, &id))
        g_array_append_val (ids, id);
    }
  return NULL;
}

gboolean
store_poll (Store *self, gboolean *changed, GError **error)
{
  gint64 version;

  g_return_val_if_fail (self != NULL && changed != NULL, FALSE);
  *changed = FALSE;
  if (self->access == STORE_ACCESS_IMMUTABLE || self->access == STORE_ACCESS_COPY)
    return TRUE;
  if (!_store_get_int (self, "PRAGMA data_version", &version, error))
    return FALSE;
  *changed = self->data_version != -1 && version != self->data_version;
  self->data_version = version;
  return TRUE;
}
