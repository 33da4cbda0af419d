/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-profile-copy.c — a profile as lines by group and key: what a copy changes against the shipped
 * one, kept in parts and put together again.
 *
 * The unit is a value with all that stands beside it (.from, .other, .note …), the stem of its keys.
 * Nothing here checks: what comes out is read like any file.
 */
#include <string.h>

#include "core/core-entry.h"
#include "exchange/exch-profile-private.h"

#define SOURCES "sources"
#define CUES "cues"
#define CUE "cue "

static char *
stem_of (const char *key)
{
  return g_strndup (key, strcspn (key, "."));
}

GKeyFile *
exch_doc_new (const char *text)
{
  GKeyFile *doc = g_key_file_new ();
  gsize skip = g_str_has_prefix (text, "\xef\xbb\xbf") ? 3 : 0;

  (void) g_key_file_load_from_data (doc, text + skip, strlen (text + skip), G_KEY_FILE_KEEP_TRANSLATIONS, NULL);
  return doc;
}

/* The keys of a value that are there, the value itself first. */
static GPtrArray *
keys_of (GKeyFile *doc, const char *group, const char *stem)
{
  static const char *const beside[] = { "", ".from", ".other", ".other.from", ".note", ".note_de" };
  GPtrArray *keys = g_ptr_array_new_with_free_func (g_free);

  for (gsize i = 0; i < G_N_ELEMENTS (beside); i++)
    {
      g_autofree char *key = g_strconcat (stem, beside[i], NULL);

      if (g_key_file_has_key (doc, group, key, NULL))
        g_ptr_array_add (keys, g_steal_pointer (&key));
    }
  return keys;
}

static char *
get (GKeyFile *doc, const char *group, const char *key)
{
  char *value = g_key_file_get_value (doc, group, key, NULL);

  return value != NULL ? g_strstrip (g_strdelimit (value, "\t", ' ')) : NULL;
}

static void
forget (GKeyFile *doc, const char *group, const char *stem)
{
  g_autoptr (GPtrArray) keys = keys_of (doc, group, stem);

  for (guint i = 0; i < keys->len; i++)
    g_key_file_remove_key (doc, group, keys->pdata[i], NULL);
}

void
exch_doc_take (GKeyFile *doc, GKeyFile *from, const char *group, const char *key)
{
  g_autofree char *stem = stem_of (key);
  g_autoptr (GPtrArray) keys = keys_of (from, group, stem);

  forget (doc, group, stem);
  for (guint i = 0; i < keys->len; i++)
    {
      g_autofree char *value = get (from, group, keys->pdata[i]);

      g_key_file_set_value (doc, group, keys->pdata[i], value);
    }
}

/* The other side and the notes stay: they are about the question, not about the answer. */
void
exch_doc_set_own (GKeyFile *doc, const char *group, const char *key, const char *value)
{
  const ExchProfileKey *row = exch_profile_key_find (group, key);
  g_autofree char *from = g_strconcat (key, ".from", NULL);
  gboolean name = row != NULL && (row->type == EXCH_KEY_TEXT || row->type == EXCH_KEY_GROUP ||
                                  row->type == EXCH_KEY_SAYS);

  g_key_file_set_value (doc, group, key, value);
  if (!name)
    g_key_file_set_value (doc, group, from, "own");
}

/* Numbers and lists are the same however they are spaced and padded. */
static char *
plain (const char *value)
{
  g_auto (GStrv) parts = value != NULL ? g_strsplit_set (value, ";:", -1) : NULL;
  GString *out = g_string_new (NULL);

  for (guint i = 0; parts != NULL && parts[i] != NULL; i++)
    {
      char number[32];
      double v;

      g_strstrip (parts[i]);
      if (core_number_parse (parts[i], &v))
        core_number_format (v, 6, number);
      g_string_append_printf (out, "%s;", core_number_parse (parts[i], &v) ? number : parts[i]);
    }
  return g_string_free (out, FALSE);
}

gboolean
exch_doc_value_is_same (GKeyFile *a, GKeyFile *b, const char *group, const char *key)
{
  g_autofree char *x = get (a, group, key);
  g_autofree char *y = get (b, group, key);
  g_autofree char *plain_x = plain (x);
  g_autofree char *plain_y = plain (y);

  return x != NULL && y != NULL && strcmp (plain_x, plain_y) == 0;
}

gboolean
exch_doc_is_same (GKeyFile *a, GKeyFile *b, const char *group, const char *key)
{
  g_autofree char *stem = stem_of (key);
  g_autoptr (GPtrArray) left = keys_of (a, group, stem);
  g_autoptr (GPtrArray) right = keys_of (b, group, stem);

  if (left->len != right->len)
    return FALSE;
  for (guint i = 0; i < left->len; i++)
    {
      g_autofree char *x = get (a, group, left->pdata[i]);
      g_autofree char *y = get (b, group, left->pdata[i]);
      g_autofree char *plain_x = plain (x);
      g_autofree char *plain_y = plain (y);

      if (y == NULL || strcmp (plain_x, plain_y) != 0)
        return FALSE;
    }
  return TRUE;
}

/* ---- in the order of the format ---- */

typedef void (*EachStem) (GKeyFile *doc, const char *group, const char *stem, gpointer data);

static void
each_of_group (GKeyFile *doc, const char *group, EachStem each, gpointer data)
{
  for (gsize i = 0; i < exch_profile_n_keys; i++)
    if (strcmp (exch_profile_keys[i].group, group) == 0 &&
        g_key_file_has_key (doc, group, exch_profile_keys[i].key, NULL))
      each (doc, group, exch_profile_keys[i].key, data);
}

static void
each_of_cues (GKeyFile *doc, EachStem each, gpointer data)
{
  g_auto (GStrv) groups = g_key_file_get_groups (doc, NULL);

  for (guint i = 0; groups[i] != NULL; i++)
    for (gsize k = 0; g_str_has_prefix (groups[i], CUE) && k < EXCH_N_CUE_KEYS; k++)
      if (g_key_file_has_key (doc, groups[i], exch_cue_keys[k].key, NULL))
        each (doc, groups[i], exch_cue_keys[k].key, data);
}

static void
each_source (GKeyFile *doc, EachStem each, gpointer data)
{
  g_auto (GStrv) ids = g_key_file_get_keys (doc, SOURCES, NULL, NULL);

  for (guint i = 0; ids != NULL && ids[i] != NULL; i++)
    each (doc, SOURCES, ids[i], data);
}

static void
each_of_part (GKeyFile *doc, const char *part, EachStem each, gpointer data)
{
  if (strcmp (part, CUES) == 0)
    each_of_cues (doc, each, data);
  else if (strcmp (part, SOURCES) == 0)
    each_source (doc, each, data);
  else
    each_of_group (doc, part, each, data);
}

const char *const *
exch_doc_parts (void)
{
  static const char *parts[24];
  static gsize made;

  if (g_once_init_enter (&made))
    {
      guint n = 0;

      for (gsize i = 0; i < exch_profile_n_keys; i++)
        if (n == 0 || strcmp (parts[n - 1], exch_profile_keys[i].group) != 0)
          parts[n++] = exch_profile_keys[i].group;
      parts[n++] = CUES;
      parts[n++] = SOURCES;
      g_assert (n < G_N_ELEMENTS (parts));
      g_once_init_leave (&made, 1);
    }
  return parts;
}

static void
each_value (GKeyFile *doc, EachStem each, gpointer data)
{
  for (const char *const *part = exch_doc_parts (); *part != NULL; part++)
    if (strcmp (*part, SOURCES) != 0)
      each_of_part (doc, *part, each, data);
}

static void
count_cb (GKeyFile *doc, const char *group, const char *stem, gpointer data)
{
  ++*(guint *) data;
}

guint
exch_doc_n_values (GKeyFile *doc)
{
  guint n = 0;

  each_value (doc, count_cb, &n);
  return n;
}

/* ---- text ---- */

typedef struct
{
  GString *out;
  char *group; /* of the line before */
  gboolean heads;
} Writing;

static void
write_cb (GKeyFile *doc, const char *group, const char *stem, gpointer data)
{
  Writing *self = data;
  g_autoptr (GPtrArray) keys = keys_of (doc, group, stem);

  if (self->heads && g_strcmp0 (self->group, group) != 0)
    {
      g_string_append_printf (self->out, "%s[%s]\n", self->out->len > 0 ? "\n" : "", group);
      g_free (self->group);
      self->group = g_strdup (group);
    }
  for (guint i = 0; i < keys->len; i++)
    {
      g_autofree char *value = get (doc, group, keys->pdata[i]);

      if (!self->heads && g_str_has_prefix (group, CUE))
        g_string_append_printf (self->out, "%s/", group + strlen (CUE));
      g_string_append_printf (self->out, "%s=%s\n", (char *) keys->pdata[i], value);
    }
}

char *
exch_doc_text (GKeyFile *doc, const char *head)
{
  Writing writing = { g_string_new (head), NULL, TRUE };

  for (const char *const *part = exch_doc_parts (); *part != NULL; part++)
    each_of_part (doc, *part, write_cb, &writing);
  g_free (writing.group);
  return g_string_free (writing.out, FALSE);
}

char *
exch_doc_part (GKeyFile *doc, const char *part)
{
  Writing writing = { g_string_new (NULL), NULL, FALSE };

  each_of_part (doc, part, write_cb, &writing);
  return g_string_free (writing.out, FALSE);
}

static gboolean
add_line (GKeyFile *doc, const char *part, const char *line)
{
  const char *equals = strchr (line, '=');
  const char *slash = strchr (line, '/');
  g_autofree char *group = NULL;
  g_autofree char *key = NULL;

  if (equals == NULL || equals == line)
    return FALSE;
  if (strcmp (part, CUES) == 0)
    {
      if (slash == NULL || slash > equals)
        return FALSE;
      group = g_strdup_printf (CUE "%.*s", (int) (slash - line), line);
      line = slash + 1;
    }
  key = g_strndup (line, (gsize) (equals - line));
  if (key[strcspn (key, "[]#\t ")] != '\0' || key[0] == '\0')
    return FALSE;
  g_key_file_set_value (doc, group != NULL ? group : part, key, equals + 1);
  return TRUE;
}

gboolean
exch_doc_add_part (GKeyFile *doc, const char *part, const char *lines)
{
  g_auto (GStrv) all = g_strsplit (lines, "\n", -1);

  for (guint i = 0; all[i] != NULL; i++)
    if (all[i][0] != '\0' && !add_line (doc, part, all[i]))
      return FALSE;
  return TRUE;
}

/* ---- differences ---- */

typedef struct
{
  GKeyFile *shipped, *diff;
} Diffing;

static void
diff_cb (GKeyFile *doc, const char *group, const char *stem, gpointer data)
{
  Diffing *self = data;

  if (self->shipped == NULL || !exch_doc_is_same (doc, self->shipped, group, stem))
    exch_doc_take (self->diff, doc, group, stem);
}

/* An id under which `shipped` has nothing else. */
static char *
free_id (GKeyFile *shipped, const char *id, const char *citation)
{
  for (guint n = 1; n < 100; n++)
    {
      char *name = n == 1 ? g_strdup (id) : g_strdup_printf ("%s-%u", id, n);
      g_autofree char *there = shipped != NULL ? get (shipped, SOURCES, name) : NULL;

      if (there == NULL || strcmp (there, citation) == 0)
        return name;
      g_free (name);
    }
  return g_strdup (id);
}

/* "ours;measured:x" with the sources under their names in the diff, which gets them. */
static char *
carry_sources (GKeyFile *doc, Diffing *self, const char *from)
{
  g_auto (GStrv) tags = g_strsplit (from, ";", -1);

  for (guint i = 0; tags[i] != NULL; i++)
    {
      const char *id = g_strstrip (tags[i]);
      g_autofree char *citation = NULL;
      g_autofree char *name = NULL;

      if (!g_str_has_prefix (id, "measured:"))
        continue;
      id += strlen ("measured:");
      citation = get (doc, SOURCES, id);
      if (citation == NULL)
        continue;
      name = free_id (self->shipped, id, citation);
      if (self->shipped == NULL || !g_key_file_has_key (self->shipped, SOURCES, name, NULL))
        g_key_file_set_value (self->diff, SOURCES, name, citation);
      g_free (tags[i]);
      tags[i] = g_strconcat ("measured:", name, NULL);
    }
  return g_strjoinv (";", tags);
}

static void
sources_cb (GKeyFile *diff, const char *group, const char *stem, gpointer data)
{
  gpointer *both = data;
  Diffing *self = both[1];
  g_autoptr (GPtrArray) keys = keys_of (diff, group, stem);

  for (guint i = 0; i < keys->len; i++)
    if (g_str_has_suffix (keys->pdata[i], ".from"))
      {
        g_autofree char *from = get (diff, group, keys->pdata[i]);
        g_autofree char *carried = carry_sources (both[0], self, from);

        g_key_file_set_value (diff, group, keys->pdata[i], carried);
      }
}

GKeyFile *
exch_doc_diff (GKeyFile *doc, GKeyFile *shipped)
{
  Diffing diffing = { shipped, g_key_file_new () };
  gpointer both[] = { doc, &diffing };

  each_value (doc, diff_cb, &diffing);
  each_value (diffing.diff, sources_cb, both);
  return diffing.diff;
}

static void
apply_cb (GKeyFile *diff, const char *group, const char *stem, gpointer doc)
{
  exch_doc_take (doc, diff, group, stem);
}

GKeyFile *
exch_doc_apply (GKeyFile *shipped, GKeyFile *diff)
{
  g_autofree char *text = shipped != NULL ? exch_doc_text (shipped, NULL) : g_strdup ("");
  GKeyFile *doc = exch_doc_new (text);

  each_value (diff, apply_cb, doc);
  each_source (diff, apply_cb, doc);
  return doc;
}
