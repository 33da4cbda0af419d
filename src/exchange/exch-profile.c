/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-profile.c — reads one species profile.
 *
 * exch-profile-text.c has seen every line; the values are read through GKeyFile.
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

/* Values */

static gboolean
fail_range (ExchReader *self, const ExchProfileKey *key, const char *text)
{
  char lo[32], hi[32];
  g_autofree char *why = NULL;

  core_number_format (key->min, 3, lo);
  core_number_format (key->max, 3, hi);
  /* Translators: what was written, smallest and largest value that may be */
  why = g_strdup_printf (C_ ("profile error", "“%s” is not a number from %s to %s"), text, lo, hi);
  return exch_reader_fail (self, EXCH_PROFILE_ERROR_VALUE, key->group, key->key, why);
}

static gboolean
read_number (ExchReader *self, const ExchProfileKey *key, const char *text, double *out)
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
read_tag (ExchReader *self, const char *group, const char *from_key, const char *text, CoreTagged *out)
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
  if (strcmp (text, "own") == 0)
    {
      out->tag = CORE_TAG_OWN;
      return TRUE;
    }
  if (!g_str_has_prefix (text, "measured:"))
    {
      why = g_strdup_printf (
        /* Translators: ours, practice, own and measured: are words of the file format */
        C_ ("profile error", "“%s” is not one of ours, practice, own, measured:SOURCE"), text);
      return exch_reader_fail (self, EXCH_PROFILE_ERROR_TAG, group, from_key, why);
    }
  if (!g_ptr_array_find_with_equal_func (self->source_ids, text + strlen ("measured:"), g_str_equal,
                                         &index))
    {
      why = g_strdup_printf (C_ ("profile error", "[sources] has no “%s”"),
                             text + strlen ("measured:"));
      return exch_reader_fail (self, EXCH_PROFILE_ERROR_TAG, group, from_key, why);
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
  else if (tag == CORE_TAG_OWN)
    profile->n_own++;
  else
    profile->n_measured++;
}

/* Reads KEY.from for n values: one tag for all, or one each. FALSE when it is missing or bad. */
static gboolean
read_tags (ExchReader *self, const char *group, const char *key, gsize n, CoreTagged *out)
{
  g_autofree char *from_key = g_strconcat (key, ".from", NULL);
  g_autofree char *value = g_key_file_get_string (self->file, group, from_key, NULL);
  g_auto (GStrv) parts = NULL;
  guint n_parts;

  if (value == NULL)
    return exch_reader_fail (self, EXCH_PROFILE_ERROR_MISSING, group, from_key,
                 C_ ("profile error", "Every value says where it comes from"));
  parts = list_of (value);
  n_parts = g_strv_length (parts);
  if (n_parts != 1 && n_parts != n)
    return exch_reader_fail (self, EXCH_PROFILE_ERROR_TAG, group, from_key,
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
read_optional_tag (ExchReader *self, const ExchProfileKey *key)
{
  g_autofree char *from_key = g_strconcat (key->key, ".from", NULL);
  CoreTagged tag;

  return !g_key_file_has_key (self->file, key->group, from_key, NULL) ||
         read_tags (self, key->group, key->key, 1, &tag);
}

static gboolean
fail_count (ExchReader *self, const ExchProfileKey *key, const char *why)
{
  return exch_reader_fail (self, EXCH_PROFILE_ERROR_VALUE, key->group, key->key, why);
}

/* Numbers of a key with their tags; *n in: room, out: how many. */
static gboolean
read_list (ExchReader *self, const ExchProfileKey *key, const char *value, CoreTagged *out, gsize *n)
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
read_two (ExchReader *self, const ExchProfileKey *key, const char *value, CoreTagged v[2])
{
  gsize n = 2;

  if (!read_list (self, key, value, v, &n))
    return FALSE;
  if (n != 2)
    return fail_count (self, key, C_ ("profile error", "Two values are needed: a;b"));
  if (key->type != EXCH_KEY_MEAN_SD && (isnan (v[0].v) != isnan (v[1].v) || v[0].v > v[1].v))
    return exch_reader_fail (self, EXCH_PROFILE_ERROR_SENSE, key->group, key->key,
                 C_ ("profile error", "The first value must not be above the second"));
  return TRUE;
}

static gboolean
read_pair (ExchReader *self, const ExchProfileKey *key, const char *value)
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
read_single (ExchReader *self, const ExchProfileKey *key, const char *value)
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
read_stages (ExchReader *self, const ExchProfileKey *key, const char *value)
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
read_dist_part (ExchReader *self, const ExchProfileKey *key, char *part, double *p)
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
read_dist (ExchReader *self, const ExchProfileKey *key, const char *value)
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
    return exch_reader_fail (self, EXCH_PROFILE_ERROR_SENSE, key->group, key->key,
                 C_ ("profile error", "The chances must add up to 1"));
  for (int n = 0; n <= CORE_MAX_MOULTS; n++)
    (&FIELD (double, key->offset))[n] = p[n] / sum;
  if (!read_tags (self, key->group, key->key, 1, &tag))
    return FALSE;
  self->profile->n_moults_tag = tag.tag;
  return TRUE;
}

static gboolean
read_prey (ExchReader *self, const ExchProfileKey *key, const char *value)
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

          return exch_reader_fail (self, EXCH_PROFILE_ERROR_VALUE, key->group, key->key, why);
        }
      bits |= 1u << prey;
    }
  FIELD (unsigned, key->offset) = bits;
  return read_optional_tag (self, key);
}

/* It becomes part of file names and is shown everywhere. */
static gboolean
is_species_name (const char *text)
{
  if (!g_unichar_isalpha (g_utf8_get_char (text)))
    return FALSE;
  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    if (!g_unichar_isalpha (g_utf8_get_char (p)) &&
        (strchr (" .-", *p) == NULL || (*p != ' ' && p[1] == *p)))
      return FALSE;
  return TRUE;
}

static gboolean
read_text (ExchReader *self, const ExchProfileKey *key, const char *value)
{
  if (*value == '\0' || strlen (value) >= key->size)
    return exch_reader_fail (self, EXCH_PROFILE_ERROR_VALUE, key->group, key->key,
                             C_ ("profile error", "The name is empty or too long"));
  if (strcmp (key->key, "scientific") == 0 && !is_species_name (value))
    return exch_reader_fail (
      self, EXCH_PROFILE_ERROR_VALUE, key->group, key->key,
      C_ ("profile error", "A species has a name of letters, begun by a letter; between them may "
                           "be a space, a full stop or a hyphen"));
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
read_word (ExchReader *self, const ExchProfileKey *key, const char *value)
{
  if (key->type == EXCH_KEY_BOOL)
    {
      if (strcmp (value, "true") != 0 && strcmp (value, "false") != 0)
        return exch_reader_fail (self, EXCH_PROFILE_ERROR_VALUE, key->group, key->key,
                     C_ ("profile error", "Write true or false"));
      FIELD (bool, key->offset) = strcmp (value, "true") == 0;
      return read_optional_tag (self, key);
    }
  if (group_index (value) < 0)
    return exch_reader_fail (self, EXCH_PROFILE_ERROR_VALUE, key->group, key->key,
                 C_ ("profile error", "Write hardy, humid, dry-hot or idolomantis"));
  FIELD (CoreGroup, key->offset) = (CoreGroup) group_index (value);
  return TRUE;
}

static gboolean
read_says (ExchReader *self, const ExchProfileKey *key, const char *value)
{
  return core_word_index (exch_cue_says, value) >= 0 ||
         exch_reader_fail (self, EXCH_PROFILE_ERROR_VALUE, key->group, key->key,
                           C_ ("profile error", "Write male, female or either"));
}

static gboolean
read_value (ExchReader *self, const ExchProfileKey *key, const char *value)
{
  switch (key->type)
    {
    case EXCH_KEY_SAYS:
      return read_says (self, key, value);
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

/* ---- what stands beside a value ---- */

#define MAX_NOTE 320

static char *
get_beside (ExchReader *self, const ExchProfileKey *key, const char *word)
{
  g_autofree char *name = g_strconcat (key->key, word, NULL);
  char *value = g_key_file_get_string (self->file, key->group, name, NULL);

  return value != NULL ? g_strstrip (value) : NULL;
}

static gboolean
fail_beside (ExchReader *self,
             const ExchProfileKey *key,
             const char *word,
             ExchProfileError code,
             const char *why)
{
  g_autofree char *name = g_strconcat (key->key, word, NULL);

  return exch_reader_fail (self, code, key->group, name, why);
}

/* Where keepers disagree: the other side, of the same form and range. */
static gboolean
read_other (ExchReader *self, const ExchProfileKey *key)
{
  g_autofree char *value = get_beside (self, key, ".other");
  g_autofree char *from = get_beside (self, key, ".other.from");
  g_autofree char *name = g_strconcat (key->key, ".other", NULL);
  ExchProfileKey other = *key;
  CoreProfile *profile = self->profile;
  gboolean ok;

  if (value == NULL)
    return from == NULL ||
           fail_beside (self, key, ".other.from", EXCH_PROFILE_ERROR_MISSING,
                        C_ ("profile error", "There is no other value that comes from there"));
  if (key->type == EXCH_KEY_TEXT || key->type == EXCH_KEY_GROUP)
    return fail_beside (self, key, ".other", EXCH_PROFILE_ERROR_UNKNOWN,
                        C_ ("profile error", "A name has no other side"));
  other.key = name;
  self->profile = self->scratch;
  ok = read_value (self, &other, value);
  self->profile = profile;
  return ok;
}

/* KEY.other and the notes of a key; `there`: the key itself stands in the file. */
static gboolean
read_beside (ExchReader *self, const ExchProfileKey *key, gboolean there)
{
  static const char *const notes[] = { ".note", ".note_de" };
  g_autofree char *other = get_beside (self, key, ".other");

  for (gsize i = 0; i < G_N_ELEMENTS (notes); i++)
    {
      g_autofree char *note = get_beside (self, key, notes[i]);

      if (note != NULL && !there)
        return fail_beside (self, key, notes[i], EXCH_PROFILE_ERROR_MISSING,
                            C_ ("profile error", "There is no value that this note is about"));
      if (note != NULL && (*note == '\0' || strlen (note) > MAX_NOTE))
        return fail_beside (self, key, notes[i], EXCH_PROFILE_ERROR_VALUE,
                            C_ ("profile error", "A note has 1 to 320 bytes"));
    }
  if (other != NULL && !there)
    return fail_beside (self, key, ".other", EXCH_PROFILE_ERROR_MISSING,
                        C_ ("profile error", "There is no value that this is the other side of"));
  return read_other (self, key);
}

static gboolean
read_key (ExchReader *self, const ExchProfileKey *key)
{
  g_autofree char *value = g_key_file_get_string (self->file, key->group, key->key, NULL);

  if (value == NULL)
    return key->needed ? exch_reader_fail (self, EXCH_PROFILE_ERROR_MISSING, key->group, key->key,
                                           C_ ("profile error", "This key is needed"))
                       : read_beside (self, key, FALSE);
  return read_value (self, key, g_strstrip (value)) && read_beside (self, key, TRUE);
}

/* Cues: one group each, [cue NAME]. */

static gboolean
cue_number (ExchReader *self, const ExchProfileKey *key, double *out)
{
  g_autofree char *value = g_key_file_get_string (self->file, key->group, key->key, NULL);
  CoreTagged tag;

  if (!read_number (self, key, g_strstrip (value), out) ||
      !read_tags (self, key->group, key->key, 1, &tag))
    return FALSE;
  if (key->type == EXCH_KEY_INT && *out != floor (*out))
    return fail_count (self, key, C_ ("profile error", "A whole number is needed"));
  return TRUE;
}

static gboolean
read_cue_key (ExchReader *self, const char *group, const ExchProfileKey *row, CoreSexCue *cue)
{
  g_autofree char *value = g_key_file_get_string (self->file, group, row->key, NULL);
  ExchProfileKey key = *row;
  double number;

  key.group = group;
  if (value == NULL)
    return key.needed ? exch_reader_fail (self, EXCH_PROFILE_ERROR_MISSING, group, key.key,
                                          C_ ("profile error", "This key is needed"))
                      : read_beside (self, &key, FALSE);
  g_strstrip (value);
  if (key.type == EXCH_KEY_SAYS)
    {
      cue->sex = (CoreSex) core_word_index (exch_cue_says, value);
      return read_says (self, &key, value) && read_beside (self, &key, TRUE);
    }
  if (key.type == EXCH_KEY_BOOL)
    {
      cue->adult_only = strcmp (value, "true") == 0;
      return (cue->adult_only || strcmp (value, "false") == 0 ||
              fail_count (self, &key, C_ ("profile error", "Write true or false"))) &&
             read_beside (self, &key, TRUE);
    }
  if (!cue_number (self, &key, &number))
    return FALSE;
  if (key.type == EXCH_KEY_INT)
    cue->from_moults = (int) number;
  else
    cue->odds = number;
  return read_beside (self, &key, TRUE);
}

static gboolean
read_cue (ExchReader *self, const char *group)
{
  const char *name = group + strlen ("cue ");
  CoreSexCue *cue = &self->profile->cues[self->profile->n_cues];

  if (self->profile->n_cues >= CORE_MAX_CUES || *name == '\0' ||
      strlen (name) >= sizeof cue->name ||
      name[strspn (name, "abcdefghijklmnopqrstuvwxyz-")] != '\0')
    return exch_reader_fail (self, EXCH_PROFILE_ERROR_VALUE, group, "says",
                             C_ ("profile error", "Too many cues, or a name that is empty, too "
                                                  "long or not of small letters"));
  for (gsize i = 0; i < EXCH_N_CUE_KEYS; i++)
    if (!read_cue_key (self, group, &exch_cue_keys[i], cue))
      return FALSE;
  g_strlcpy (cue->name, name, sizeof cue->name);
  self->profile->n_cues++;
  return TRUE;
}

static gboolean
read_sources (ExchReader *self)
{
  g_auto (GStrv) keys = g_key_file_get_keys (self->file, "sources", NULL, NULL);

  for (guint i = 0; keys != NULL && keys[i] != NULL; i++)
    {
      g_autofree char *text = g_key_file_get_string (self->file, "sources", keys[i], NULL);

      if (text == NULL || *text == '\0' || self->profile->n_sources >= CORE_MAX_SOURCES)
        return exch_reader_fail (self, EXCH_PROFILE_ERROR_VALUE, "sources", keys[i],
                     C_ ("profile error", "The source is empty, or there are too many"));
      /* core_profile_clear frees with free(): g_strdup is malloc since GLib 2.46 */
      self->profile->sources[self->profile->n_sources++] = g_steal_pointer (&text);
      g_ptr_array_add (self->source_ids, g_strdup (keys[i]));
    }
  return TRUE;
}

/* The group decides the defaults, so it is read before all other keys. */
static gboolean
read_all (ExchReader *self)
{
  g_auto (GStrv) groups = g_key_file_get_groups (self->file, NULL);
  const char *group, *key;
  g_autofree char *why = NULL;

  if (!exch_reader_check_known (self) || !read_sources (self) ||
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
    return exch_reader_fail (self, EXCH_PROFILE_ERROR_SENSE, group, key, why);
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
exch_profile_parse_why (const char *name,
                        const char *text,
                        gsize length,
                        CoreProfile *out,
                        char **why,
                        GError **error)
{
  CoreProfile profile;
  g_autofree CoreProfile *scratch = g_new0 (CoreProfile, 1);
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (GHashTable) lines = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GPtrArray) ids = g_ptr_array_new_with_free_func (g_free);
  ExchReader self = { name, file, lines, ids, &profile, error, NULL, scratch };
  g_autofree char *copy = NULL;
  g_autoptr (GError) local = NULL;
  gboolean ok = FALSE;

  core_profile_init (&profile);
  profile.general = false;
  if (exch_reader_check_text (&self, text, length))
    {
      copy = g_strndup (text, length);
      ok = exch_reader_scan (&self, copy);
    }
  if (ok && !g_key_file_load_from_data (file, copy, length, G_KEY_FILE_KEEP_TRANSLATIONS, &local))
    {
      g_set_error (error, EXCH_PROFILE_ERROR, EXCH_PROFILE_ERROR_SYNTAX,
                   /* Translators: file, reason given by the key file reader */
                   C_ ("profile error", "%s: This is not a profile (%s)."), name, local->message);
      ok = FALSE;
    }
  ok = ok && read_all (&self);
  if (why != NULL)
    *why = g_steal_pointer (&self.why);
  g_free (self.why);
  if (!ok)
    {
      core_profile_clear (&profile);
      return FALSE;
    }
  set_id_and_hash (&profile, name, text, length);
  *out = profile;
  return TRUE;
}

gboolean
exch_profile_parse (const char *name,
                    const char *text,
                    gsize length,
                    CoreProfile *out,
                    GError **error)
{
  g_return_val_if_fail (name != NULL && (text != NULL || length == 0) && out != NULL, FALSE);

  if (length >= 3 && memcmp (text, "\xef\xbb\xbf", 3) == 0) /* the mark that some editors put first */
    return exch_profile_parse_why (name, text + 3, length - 3, out, NULL, error);
  return exch_profile_parse_why (name, text, length, out, NULL, error);
}

char *
exch_profile_read_file (GFile *file, gsize *length, GError **error)
{
  g_autofree char *name = g_file_get_basename (file);
  g_autoptr (GError) local = NULL;
  g_autofree char *text = g_malloc (EXCH_PROFILE_MAX_BYTES + 2);
  g_autoptr (GFileInputStream) stream = NULL;
  GFileType type = g_file_query_file_type (file, G_FILE_QUERY_INFO_NONE, NULL);

  /* A pipe or a device would keep who reads it waiting. */
  if (type != G_FILE_TYPE_REGULAR && type != G_FILE_TYPE_UNKNOWN && type != G_FILE_TYPE_DIRECTORY)
    {
      g_set_error (error, EXCH_PROFILE_ERROR, EXCH_PROFILE_ERROR_READ,
                   C_ ("profile error", "%s: This is no file."), name);
      return NULL;
    }
  stream = g_file_read (file, NULL, &local);
  if (stream == NULL ||
      !g_input_stream_read_all (G_INPUT_STREAM (stream), text, EXCH_PROFILE_MAX_BYTES + 1, length,
                                NULL, &local))
    {
      g_set_error (error, EXCH_PROFILE_ERROR, EXCH_PROFILE_ERROR_READ,
                   /* Translators: file, reason given by the system */
                   C_ ("profile error", "%s: The profile cannot be read (%s)."), name,
                   local->message);
      return NULL;
    }
  text[*length] = '\0';
  return g_steal_pointer (&text);
}

gboolean
exch_profile_load_file (GFile *file, CoreProfile *out, GError **error)
{
  g_autofree char *name = g_file_get_basename (file);
  gsize length = 0;
  g_autofree char *text = exch_profile_read_file (file, &length, error);

  return text != NULL && exch_profile_parse (name, text, length, out, error);
}
