/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-profile.c — reads one species profile.
 *
 * The text is scanned once by line, so that every complaint can name its line
 * and a key given twice is seen; the values are then read through GKeyFile.
 * Nothing of a bad file is used.
 */
#include "exchange/exch-profile.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/core-entry.h"
#include "exchange/exch-profile-private.h"

/* clang-format off */
G_DEFINE_QUARK (exch-profile-error-quark, exch_profile_error)
/* clang-format on */

typedef struct
{
  const char *name;
  GKeyFile *file;
  GHashTable *lines;     /* "group\nkey" → line number */
  GPtrArray *source_ids; /* of char *, same order as profile->sources */
  CoreProfile *profile;
  GError **error;
} Reader;

/* The line of a key (or of a group, key NULL); 0 when it has none. */
static guint
line_of (Reader *self, const char *group, const char *key)
{
  g_autofree char *id = g_strdup_printf ("%s\n%s", group, key != NULL ? key : "");

  return GPOINTER_TO_UINT (g_hash_table_lookup (self->lines, id));
}

static gboolean
fail (Reader *self, ExchProfileError code, const char *group, const char *key, const char *why)
{
  guint line = line_of (self, group, key);

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

static gboolean
fail_line (Reader *self, ExchProfileError code, guint line, const char *why)
{
  g_set_error (self->error, EXCH_PROFILE_ERROR, code,
               /* Translators: file, line number, reason */
               C_ ("profile error", "%s, line %u: %s."), self->name, line, why);
  return FALSE;
}

/* Scan: which line says what. GKeyFile keeps no lines and takes the last of two keys. */

static gboolean
scan_line (Reader *self, char *line, guint number, char **group)
{
  char *id;
  char *sep;

  g_strstrip (line);
  if (*line == '\0' || *line == '#')
    return TRUE;
  if (*line == '[')
    {
      gsize n = strlen (line);

      if (n < 3 || line[n - 1] != ']')
        return fail_line (self, EXCH_PROFILE_ERROR_SYNTAX, number,
                          C_ ("profile error", "A group is written [name]"));
      g_free (*group);
      *group = g_strndup (line + 1, n - 2);
      id = g_strdup_printf ("%s\n", *group);
    }
  else
    {
      sep = strchr (line, '=');
      if (sep == NULL || *group == NULL)
        return fail_line (self, EXCH_PROFILE_ERROR_SYNTAX, number,
                          C_ ("profile error", "Expected [group], key = value or # comment"));
      *sep = '\0';
      g_strchomp (line);
      id = g_strdup_printf ("%s\n%s", *group, line);
    }
  if (g_hash_table_contains (self->lines, id))
    {
      g_free (id);
      return fail_line (self, EXCH_PROFILE_ERROR_SYNTAX, number,
                        C_ ("profile error", "This stands here for the second time; keep one"));
    }
  g_hash_table_insert (self->lines, id, GUINT_TO_POINTER (number));
  return TRUE;
}

static gboolean
scan (Reader *self, const char *text)
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

/* Values */

static gboolean
fail_range (Reader *self, const ExchProfileKey *key, const char *text)
{
  char lo[32], hi[32];
  g_autofree char *why = NULL;

  core_number_format (key->min, 3, lo);
  core_number_format (key->max, 3, hi);
  /* Translators: what was written, smallest and largest value that may be */
  why = g_strdup_printf (C_ ("profile error", "“%s” is not a number from %s to %s"), text, lo, hi);
  return fail (self, EXCH_PROFILE_ERROR_VALUE, key->group, key->key, why);
}

static gboolean
read_number (Reader *self, const ExchProfileKey *key, const char *text, double *out)
{
  if (key->may_lack && strcmp (text, "-") == 0)
    {
      *out = NAN;
      return TRUE;
    }
  if (!core_number_parse (text, out) || !(*out >= key->min && *out <= key->max))
    return fail_range (self, key, text);
  return TRUE;
}

/* The parts of "a;b;c", stripped; an empty last part is dropped. */
static GStrv
list_of (const char *value)
{
  GStrv parts = g_strsplit (value, ";", -1);
  guint n = g_strv_length (parts);

  for (guint i = 0; i < n; i++)
    g_strstrip (parts[i]);
  if (n > 1 && parts[n - 1][0] == '\0')
    {
      g_free (parts[n - 1]);
      parts[n - 1] = NULL;
    }
  return parts;
}

static gboolean
read_tag (Reader *self, const char *group, const char *from_key, const char *text, CoreTagged *out)
{
  g_autofree char *why = NULL;
  guint index;

  out->source = -1;
  if (strcmp (text, "ours") == 0)
    {
      out->tag = CORE_TAG_OURS;
      return TRUE;
    }
  if (strcmp (text, "practice") == 0)
    {
      out->tag = CORE_TAG_PRACTICE;
      return TRUE;
    }
  if (!g_str_has_prefix (text, "measured:"))
    {
      /* Translators: ours, practice and measured: are words of the file format */
      why =
        g_strdup_printf (C_ ("profile error", "“%s” is not one of ours, practice, measured:SOURCE"),
                         text);
      return fail (self, EXCH_PROFILE_ERROR_TAG, group, from_key, why);
    }
  if (!g_ptr_array_find_with_equal_func (self->source_ids, text + strlen ("measured:"), g_str_equal,
                                         &index))
    {
      why = g_strdup_printf (C_ ("profile error", "[sources] has no “%s”"),
                             text + strlen ("measured:"));
      return fail (self, EXCH_PROFILE_ERROR_TAG, group, from_key, why);
    }
  out->tag = CORE_TAG_MEASURED;
  out->source = (int) index;
  return TRUE;
}

static void
count_tag (CoreProfile *profile, CoreTag tag)
{
  if (tag == CORE_TAG_OURS)
    profile->n_ours++;
  else if (tag == CORE_TAG_PRACTICE)
    profile->n_practice++;
  else
    profile->n_measured++;
}

/* Reads KEY.from for n values: one tag for all, or one each. FALSE when it is missing or bad. */
static gboolean
read_tags (Reader *self, const char *group, const char *key, gsize n, CoreTagged *out)
{
  g_autofree char *from_key = g_strconcat (key, ".from", NULL);
  g_autofree char *value = g_key_file_get_string (self->file, group, from_key, NULL);
  g_auto (GStrv) parts = NULL;
  guint n_parts;

  if (value == NULL)
    return fail (self, EXCH_PROFILE_ERROR_MISSING, group, from_key,
                 C_ ("profile error", "Every value says where it comes from"));
  parts = list_of (value);
  n_parts = g_strv_length (parts);
  if (n_parts != 1 && n_parts != n)
    return fail (self, EXCH_PROFILE_ERROR_TAG, group, from_key,
                 C_ ("profile error", "Give one tag for all values, or one for each"));
  for (gsize i = 0; i < n; i++)
    {
      if (!read_tag (self, group, from_key, parts[n_parts == 1 ? 0 : i], &out[i]))
        return FALSE;
      count_tag (self->profile, out[i].tag);
    }
  return TRUE;
}

/* What is no number may say where it comes from. */
static gboolean
read_optional_tag (Reader *self, const ExchProfileKey *key)
{
  g_autofree char *from_key = g_strconcat (key->key, ".from", NULL);
  CoreTagged tag;

  return !g_key_file_has_key (self->file, key->group, from_key, NULL) ||
         read_tags (self, key->group, key->key, 1, &tag);
}

static gboolean
fail_count (Reader *self, const ExchProfileKey *key, const char *why)
{
  return fail (self, EXCH_PROFILE_ERROR_VALUE, key->group, key->key, why);
}

/* Numbers of a key with their tags; *n in: room, out: how many. */
static gboolean
read_list (Reader *self, const ExchProfileKey *key, const char *value, CoreTagged *out, gsize *n)
{
  g_auto (GStrv) parts = list_of (value);
  gsize n_parts = g_strv_length (parts);

  if (n_parts > *n)
    return fail_count (self, key, C_ ("profile error", "Too many values"));
  for (gsize i = 0; i < n_parts; i++)
    {
      if (!read_number (self, key, parts[i], &out[i].v))
        return FALSE;
    }
  *n = n_parts;
  return read_tags (self, key->group, key->key, n_parts, out);
}

#define FIELD(T, off) (*(T *) (void *) ((char *) self->profile + (off)))

static gboolean
read_two (Reader *self, const ExchProfileKey *key, const char *value, CoreTagged v[2])
{
  gsize n = 2;

  if (!read_list (self, key, value, v, &n))
    return FALSE;
  if (n != 2)
    return fail_count (self, key, C_ ("profile error", "Two values are needed: a;b"));
  if (key->type != EXCH_KEY_MEAN_SD && (isnan (v[0].v) != isnan (v[1].v) || v[0].v > v[1].v))
    return fail (self, EXCH_PROFILE_ERROR_SENSE, key->group, key->key,
                 C_ ("profile error", "The first value must not be above the second"));
  return TRUE;
}

static gboolean
read_pair (Reader *self, const ExchProfileKey *key, const char *value)
{
  CoreTagged v[2] = { { 0 } };

  if (!read_two (self, key, value, v))
    return FALSE;
  if (key->type == EXCH_KEY_SPAN)
    {
      FIELD (CoreSpan, key->offset).a = v[0];
      FIELD (CoreSpan, key->offset).b = v[1];
    }
  else if (key->type == EXCH_KEY_PAIR)
    {
      FIELD (CoreTagged, key->offset) = v[0];
      FIELD (CoreTagged, key->offset2) = v[1];
    }
  else
    {
      FIELD (double, key->offset) = v[0].v;
      FIELD (double, key->offset2) = v[1].v;
    }
  return TRUE;
}

static gboolean
read_single (Reader *self, const ExchProfileKey *key, const char *value)
{
  CoreTagged v = { 0 };
  gsize n = 1;

  if (!read_list (self, key, value, &v, &n))
    return FALSE;
  if (key->type == EXCH_KEY_TAGGED)
    FIELD (CoreTagged, key->offset) = v;
  else if (key->type == EXCH_KEY_NUMBER)
    FIELD (double, key->offset) = v.v;
  else if (v.v != floor (v.v))
    return fail_count (self, key, C_ ("profile error", "A whole number is needed"));
  else
    FIELD (int, key->offset) = (int) v.v;
  if (key->type == EXCH_KEY_INT && strcmp (key->key, "readable_from") == 0)
    self->profile->readable_tag = v.tag;
  return TRUE;
}

static gboolean
read_stages (Reader *self, const ExchProfileKey *key, const char *value)
{
  CoreTagged v[CORE_MAX_MOULTS] = { { 0 } };
  gsize n = CORE_MAX_MOULTS;

  if (!read_list (self, key, value, v, &n))
    return FALSE;
  for (gsize i = 0; i < CORE_MAX_MOULTS; i++)
    {
      if (i >= n)
        v[i] = (CoreTagged){ NAN, CORE_TAG_OURS, -1 };
      (&FIELD (CoreTagged, key->offset))[i] = v[i];
    }
  return TRUE;
}

/* One "6:.7" of a distribution over the number of moults. */
static gboolean
read_dist_part (Reader *self, const ExchProfileKey *key, char *part, double *p)
{
  char *colon = strchr (part, ':');
  double n, v;

  if (colon == NULL)
    return fail_range (self, key, part);
  *colon = '\0';
  if (!core_number_parse (g_strstrip (part), &n) || n != floor (n) || n < 1 ||
      n > CORE_MAX_MOULTS || p[(int) n] != 0)
    return fail_count (self, key,
                       C_ ("profile error", "Write NUMBER:CHANCE, each number of moults once"));
  if (!core_number_parse (g_strstrip (colon + 1), &v) || !(v > 0 && v <= 1))
    return fail_range (self, key, colon + 1);
  p[(int) n] = v;
  return TRUE;
}

static gboolean
read_dist (Reader *self, const ExchProfileKey *key, const char *value)
{
  g_auto (GStrv) parts = list_of (value);
  double p[CORE_MAX_MOULTS + 1] = { 0 };
  CoreTagged tag = { 0 };
  double sum = 0;

  for (guint i = 0; parts[i] != NULL; i++)
    {
      if (!read_dist_part (self, key, parts[i], p))
        return FALSE;
    }
  for (int n = 0; n <= CORE_MAX_MOULTS; n++)
    sum += p[n];
  if (fabs (sum - 1) > 0.005)
    return fail (self, EXCH_PROFILE_ERROR_SENSE, key->group, key->key,
                 C_ ("profile error", "The chances must add up to 1"));
  for (int n = 0; n <= CORE_MAX_MOULTS; n++)
    (&FIELD (double, key->offset))[n] = p[n] / sum;
  if (!read_tags (self, key->group, key->key, 1, &tag))
    return FALSE;
  self->profile->n_moults_tag = tag.tag;
  return TRUE;
}

static gboolean
read_prey (Reader *self, const ExchProfileKey *key, const char *value)
{
  g_auto (GStrv) parts = list_of (value);
  const char *const *words = core_kind_key (CORE_KIND_FED, CORE_KEY_PREY)->words;
  unsigned bits = 0;

  for (guint i = 0; parts[i] != NULL; i++)
    {
      int prey = core_word_index (words, parts[i]);

      if (prey < 0)
        {
          g_autofree char *why =
            g_strdup_printf (C_ ("profile error", "“%s” is no prey"), parts[i]);

          return fail (self, EXCH_PROFILE_ERROR_VALUE, key->group, key->key, why);
        }
      bits |= 1u << prey;
    }
  FIELD (unsigned, key->offset) = bits;
  return read_optional_tag (self, key);
}

static gboolean
read_text (Reader *self, const ExchProfileKey *key, const char *value)
{
  if (*value == '\0' || strlen (value) >= key->size)
    return fail (self, EXCH_PROFILE_ERROR_VALUE, key->group, key->key,
                 C_ ("profile error", "The name is empty or too long"));
  g_strlcpy (&FIELD (char, key->offset), value, key->size);
  return TRUE;
}

static int
group_index (const char *word)
{
  static const char *const words[] = { "hardy", "humid", "dry-hot", "idolomantis", NULL };

  return core_word_index (words, word);
}

static gboolean
read_word (Reader *self, const ExchProfileKey *key, const char *value)
{
  if (key->type == EXCH_KEY_BOOL)
    {
      if (strcmp (value, "true") != 0 && strcmp (value, "false") != 0)
        return fail (self, EXCH_PROFILE_ERROR_VALUE, key->group, key->key,
                     C_ ("profile error", "Write true or false"));
      FIELD (bool, key->offset) = strcmp (value, "true") == 0;
      return read_optional_tag (self, key);
    }
  if (group_index (value) < 0)
    return fail (self, EXCH_PROFILE_ERROR_VALUE, key->group, key->key,
                 C_ ("profile error", "Write hardy, humid, dry-hot or idolomantis"));
  FIELD (CoreGroup, key->offset) = (CoreGroup) group_index (value);
  return TRUE;
}

static gboolean
read_key (Reader *self, const ExchProfileKey *key)
{
  g_autofree char *value = g_key_file_get_string (self->file, key->group, key->key, NULL);

  if (value == NULL)
    return !key->needed || fail (self, EXCH_PROFILE_ERROR_MISSING, key->group, key->key,
                                 C_ ("profile error", "This key is needed"));
  g_strstrip (value);
  switch (key->type)
    {
    case EXCH_KEY_TEXT:
      return read_text (self, key, value);
    case EXCH_KEY_GROUP:
    case EXCH_KEY_BOOL:
      return read_word (self, key, value);
    case EXCH_KEY_PREY:
      return read_prey (self, key, value);
    case EXCH_KEY_NUMBER:
    case EXCH_KEY_INT:
    case EXCH_KEY_TAGGED:
      return read_single (self, key, value);
    case EXCH_KEY_SPAN:
    case EXCH_KEY_PAIR:
    case EXCH_KEY_MEAN_SD:
      return read_pair (self, key, value);
    case EXCH_KEY_STAGES:
      return read_stages (self, key, value);
    case EXCH_KEY_DIST:
      return read_dist (self, key, value);
    default:
      g_assert_not_reached ();
    }
}

/* Cues: one group each, [cue NAME]. */

static gboolean
cue_number (Reader *self, const char *group, const char *name, double min, double max, double *out)
{
  ExchProfileKey key = { group, name, EXCH_KEY_NUMBER, 0, 0, 0, min, max, TRUE, FALSE };
  g_autofree char *value = g_key_file_get_string (self->file, group, name, NULL);
  CoreTagged tag;

  if (value == NULL)
    return fail (self, EXCH_PROFILE_ERROR_MISSING, group, name,
                 C_ ("profile error", "This key is needed"));
  return read_number (self, &key, g_strstrip (value), out) &&
         read_tags (self, group, name, 1, &tag);
}

static gboolean
read_cue (Reader *self, const char *group)
{
  static const char *const says[] = { "either", "male", "female", NULL };
  const char *name = group + strlen ("cue ");
  g_autofree char *sex = g_key_file_get_string (self->file, group, "says", NULL);
  g_autofree char *adult = g_key_file_get_string (self->file, group, "adult_only", NULL);
  CoreSexCue *cue = &self->profile->cues[self->profile->n_cues];
  double from;

  if (self->profile->n_cues >= CORE_MAX_CUES || *name == '\0' || strlen (name) >= sizeof cue->name)
    return fail (self, EXCH_PROFILE_ERROR_VALUE, group, "says",
                 C_ ("profile error", "Too many cues, or a name that is empty or too long"));
  if (sex == NULL || core_word_index (says, g_strstrip (sex)) < 0)
    return fail (self, EXCH_PROFILE_ERROR_VALUE, group, "says",
                 C_ ("profile error", "Write male, female or either"));
  if (adult != NULL && strcmp (adult, "true") != 0 && strcmp (adult, "false") != 0)
    return fail (self, EXCH_PROFILE_ERROR_VALUE, group, "adult_only",
                 C_ ("profile error", "Write true or false"));
  if (!cue_number (self, group, "odds", 1, 1000, &cue->odds) ||
      !cue_number (self, group, "from_moults", 0, CORE_MAX_MOULTS, &from))
    return FALSE;
  if (from != floor (from))
    return fail (self, EXCH_PROFILE_ERROR_VALUE, group, "from_moults",
                 C_ ("profile error", "A whole number is needed"));
  g_strlcpy (cue->name, name, sizeof cue->name);
  cue->sex = (CoreSex) core_word_index (says, sex);
  cue->from_moults = (int) from;
  cue->adult_only = adult != NULL && strcmp (adult, "true") == 0;
  self->profile->n_cues++;
  return TRUE;
}

static gboolean
cue_key_known (const char *key)
{
  return g_str_equal (key, "says") || g_str_equal (key, "odds") ||
         g_str_equal (key, "from_moults") || g_str_equal (key, "adult_only") ||
         g_str_equal (key, "odds.from") || g_str_equal (key, "from_moults.from");
}

/* Is KEY or KEY.from one that the format has? */
static gboolean
key_known (const char *group, const char *key)
{
  g_autofree char *stem = NULL;

  if (strcmp (group, "sources") == 0)
    return TRUE;
  if (g_str_has_prefix (group, "cue "))
    return cue_key_known (key);
  stem = g_str_has_suffix (key, ".from") ? g_strndup (key, strlen (key) - strlen (".from"))
                                         : g_strdup (key);
  return exch_profile_key_find (group, stem) != NULL;
}

static gboolean
check_known (Reader *self)
{
  g_auto (GStrv) groups = g_key_file_get_groups (self->file, NULL);

  for (guint i = 0; groups[i] != NULL; i++)
    {
      g_auto (GStrv) keys = g_key_file_get_keys (self->file, groups[i], NULL, NULL);

      if (!exch_profile_group_known (groups[i]))
        return fail (self, EXCH_PROFILE_ERROR_UNKNOWN, groups[i], "",
                     C_ ("profile error", "There is no such group"));
      for (guint k = 0; keys != NULL && keys[k] != NULL; k++)
        {
          if (!key_known (groups[i], keys[k]))
            return fail (self, EXCH_PROFILE_ERROR_UNKNOWN, groups[i], keys[k],
                         C_ ("profile error", "There is no such key"));
        }
    }
  return TRUE;
}

static gboolean
read_sources (Reader *self)
{
  g_auto (GStrv) keys = g_key_file_get_keys (self->file, "sources", NULL, NULL);

  for (guint i = 0; keys != NULL && keys[i] != NULL; i++)
    {
      g_autofree char *text = g_key_file_get_string (self->file, "sources", keys[i], NULL);

      if (text == NULL || *text == '\0' || self->profile->n_sources >= CORE_MAX_SOURCES)
        return fail (self, EXCH_PROFILE_ERROR_VALUE, "sources", keys[i],
                     C_ ("profile error", "The source is empty, or there are too many"));
      /* core_profile_clear frees with free(): g_strdup is malloc since GLib 2.46 */
      self->profile->sources[self->profile->n_sources++] = g_steal_pointer (&text);
      g_ptr_array_add (self->source_ids, g_strdup (keys[i]));
    }
  return TRUE;
}

/* The group decides the defaults, so it is read before all other keys. */
static gboolean
read_all (Reader *self)
{
  g_auto (GStrv) groups = g_key_file_get_groups (self->file, NULL);
  const char *group, *key;
  g_autofree char *why = NULL;

  if (!check_known (self) || !read_sources (self) ||
      !read_key (self, exch_profile_key_find ("profile", "group")))
    return FALSE;
  core_profile_group_defaults (self->profile, self->profile->group);
  for (gsize i = 0; i < exch_profile_n_keys; i++)
    {
      if (!read_key (self, &exch_profile_keys[i]))
        return FALSE;
    }
  for (guint i = 0; groups[i] != NULL; i++)
    {
      if (g_str_has_prefix (groups[i], "cue ") && !read_cue (self, groups[i]))
        return FALSE;
    }
  if (!exch_profile_check (self->profile, &group, &key, &why))
    return fail (self, EXCH_PROFILE_ERROR_SENSE, group, key, why);
  return TRUE;
}

static gboolean
check_text (Reader *self, const char *text, gsize length)
{
  const char *end = NULL;
  guint line = 1;

  if (length > EXCH_PROFILE_MAX_BYTES)
    {
      g_set_error (self->error, EXCH_PROFILE_ERROR, EXCH_PROFILE_ERROR_TOO_LONG,
                   C_ ("profile error", "%s: A profile is at most 64 KiB long."), self->name);
      return FALSE;
    }
  (void) g_utf8_validate_len (text, length, &end);
  for (const char *p = text; p < text + length; p++)
    {
      if (*p == '\n')
        line++;
      if (p >= end || ((guchar) *p < 0x20 && *p != '\n' && *p != '\r' && *p != '\t') || *p == 0x7f)
        return fail_line (self, EXCH_PROFILE_ERROR_SYNTAX, line,
                          C_ ("profile error", "This is not plain UTF-8 text"));
    }
  return TRUE;
}

static void
set_id_and_hash (CoreProfile *profile, const char *name, const char *text, gsize length)
{
  g_autofree char *base = g_path_get_basename (name);
  g_autofree char *hash =
    g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) text, length);

  if (g_str_has_suffix (base, ".profile"))
    base[strlen (base) - strlen (".profile")] = '\0';
  g_strlcpy (profile->id, base, sizeof profile->id);
  g_strlcpy (profile->hash, hash, sizeof profile->hash);
}

gboolean
exch_profile_parse (const char *name,
                    const char *text,
                    gsize length,
                    CoreProfile *out,
                    GError **error)
{
  CoreProfile profile;
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (GHashTable) lines = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GPtrArray) ids = g_ptr_array_new_with_free_func (g_free);
  Reader self = { name, file, lines, ids, &profile, error };
  g_autofree char *copy = NULL;
  g_autoptr (GError) local = NULL;

  g_return_val_if_fail (name != NULL && (text != NULL || length == 0) && out != NULL, FALSE);
  if (!check_text (&self, text, length))
    return FALSE;
  copy = g_strndup (text, length);
  if (!scan (&self, copy))
    return FALSE;
  if (!g_key_file_load_from_data (file, copy, length, G_KEY_FILE_NONE, &local))
    {
      g_set_error (error, EXCH_PROFILE_ERROR, EXCH_PROFILE_ERROR_SYNTAX,
                   /* Translators: file, reason given by the key file reader */
                   C_ ("profile error", "%s: This is not a profile (%s)."), name, local->message);
      return FALSE;
    }
  core_profile_init (&profile);
  profile.general = false;
  if (!read_all (&self))
    {
      core_profile_clear (&profile);
      return FALSE;
    }
  set_id_and_hash (&profile, name, text, length);
  *out = profile;
  return TRUE;
}

gboolean
exch_profile_load_file (GFile *file, CoreProfile *out, GError **error)
{
  g_autofree char *name = g_file_get_basename (file);
  g_autoptr (GError) local = NULL;
  g_autoptr (GFileInputStream) stream = g_file_read (file, NULL, &local);
  g_autofree char *text = g_malloc (EXCH_PROFILE_MAX_BYTES + 1);
  gsize length = 0;

  if (stream == NULL ||
      !g_input_stream_read_all (G_INPUT_STREAM (stream), text, EXCH_PROFILE_MAX_BYTES + 1, &length,
                                NULL, &local))
    {
      g_set_error (error, EXCH_PROFILE_ERROR, EXCH_PROFILE_ERROR_READ,
                   /* Translators: file, reason given by the system */
                   C_ ("profile error", "%s: The profile cannot be read (%s)."), name,
                   local->message);
      return FALSE;
    }
  return exch_profile_parse (name, text, length, out, error);
}
