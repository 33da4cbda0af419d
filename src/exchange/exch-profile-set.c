/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-profile-set.c — the profiles of a folder, and finding one by what a keeper types.
 *
 * A set always holds exactly one general profile and no species twice.
 */
#include "exchange/exch-profile.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "exchange/exch-profile-private.h"

/* Shared by the sets that hold it. */
typedef struct
{
  CoreProfile profile; /* first: a pointer to it is one to the whole */
  char *text;
} Held; /* g_atomic_rc_box */

struct ExchProfiles
{
  GPtrArray *profiles; /* of Held *, by file name */
  const CoreProfile *general;
};

static void
held_clear (gpointer data)
{
  Held *self = data;

  core_profile_clear (&self->profile);
  g_free (self->text);
}

static void
held_unref (gpointer data)
{
  g_atomic_rc_box_release_full (data, held_clear);
}

/* Takes `profile` and `text`. */
static Held *
held_new (const CoreProfile *profile, char *text)
{
  Held *self = g_atomic_rc_box_new0 (Held);

  self->profile = *profile;
  self->text = text;
  return self;
}

/* From a text that may be anything. NULL with an error. */
static Held *
held_parse (const char *name, const char *text, gsize length, GError **error)
{
  g_autofree CoreProfile *profile = g_new0 (CoreProfile, 1);

  return exch_profile_parse (name, text, length, profile, error)
           ? held_new (profile, g_strndup (text, length))
           : NULL;
}

static char *
fold (const char *text)
{
  g_autofree char *stripped = g_strstrip (g_strdup (text));
  g_autofree char *normal = g_utf8_normalize (stripped, -1, G_NORMALIZE_NFKC);

  return g_utf8_casefold (normal != NULL ? normal : "", -1);
}

static gboolean
same_name (const char *a, const char *b)
{
  g_autofree char *x = fold (a);
  g_autofree char *y = fold (b);

  return strcmp (x, y) == 0;
}

static int
compare_names (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* File names of the folder that end in .profile, sorted. */
static GPtrArray *
list_folder (const char *dir, GError **error)
{
  g_autoptr (GError) local = NULL;
  g_autoptr (GDir) handle = g_dir_open (dir, 0, &local);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  const char *name;

  if (handle == NULL)
    {
      g_set_error (error, EXCH_PROFILE_ERROR, EXCH_PROFILE_ERROR_READ,
                   C_ ("profile error", "The species profiles cannot be read: %s."),
                   local->message);
      return NULL;
    }
  while ((name = g_dir_read_name (handle)) != NULL)
    {
      if (g_str_has_suffix (name, ".profile") && name[0] != '.')
        g_ptr_array_add (names, g_strdup (name));
      if (names->len > EXCH_PROFILES_MAX)
        {
          g_set_error (error, EXCH_PROFILE_ERROR, EXCH_PROFILE_ERROR_SET,
                       C_ ("profile error", "%s holds more than %d profiles."), dir,
                       EXCH_PROFILES_MAX);
          return NULL;
        }
    }
  g_ptr_array_sort (names, compare_names);
  return g_steal_pointer (&names);
}

/* Takes `held`. */
static gboolean
add_profile (ExchProfiles *self, Held *held, GError **error)
{
  const CoreProfile *profile = &held->profile;

  for (guint i = 0; i < self->profiles->len; i++)
    {
      const CoreProfile *other = g_ptr_array_index (self->profiles, i);

      if (same_name (other->scientific, profile->scientific) ||
          (other->general && profile->general))
        {
          g_set_error (error, EXCH_PROFILE_ERROR, EXCH_PROFILE_ERROR_SET,
                       C_ ("profile error",
                           "%s.profile and %s.profile are for the same species; keep one."),
                       other->id, profile->id);
          held_unref (held);
          return FALSE;
        }
    }
  g_ptr_array_add (self->profiles, held);
  if (profile->general)
    self->general = profile;
  return TRUE;
}

ExchProfiles *
exch_profiles_load_dir (const char *dir, GError **error)
{
  g_autoptr (GPtrArray) names = list_folder (dir, error);
  g_autoptr (ExchProfiles) self = NULL;

  if (names == NULL)
    return NULL;
  self = g_new0 (ExchProfiles, 1);
  self->profiles = g_ptr_array_new_with_free_func (held_unref);
  for (guint i = 0; i < names->len; i++)
    {
      g_autoptr (GFile) file = g_file_new_build_filename (dir, g_ptr_array_index (names, i), NULL);
      gsize length = 0;
      g_autofree char *text = exch_profile_read_file (file, &length, error);
      Held *held = text != NULL ? held_parse (g_ptr_array_index (names, i), text, length, error) : NULL;

      if (held == NULL || !add_profile (self, held, error))
        return NULL;
    }
  if (self->general == NULL)
    {
      g_set_error (error, EXCH_PROFILE_ERROR, EXCH_PROFILE_ERROR_SET,
                   C_ ("profile error", "%s holds no profile with general=true."), dir);
      return NULL;
    }
  return g_steal_pointer (&self);
}

/* ---- with the keeper's own ---- */

static guint
place_of (const ExchProfiles *self, const char *scientific)
{
  for (guint i = 0; i < self->profiles->len; i++)
    if (same_name (((CoreProfile *) self->profiles->pdata[i])->scientific, scientific))
      return i;
  return G_MAXUINT;
}

/* A name for messages and the id: "exemplum-fictum". */
static char *
stem_of_species (const char *scientific)
{
  g_autofree char *ascii = g_str_to_ascii (scientific, "C");

  for (char *p = ascii; *p != '\0'; p++)
    *p = g_ascii_isalnum (*p) ? g_ascii_tolower (*p) : '-';
  return g_steal_pointer (&ascii);
}

/* Which stands in for unknown species is not for a copy to say. */
static Held *
own_profile (const ExchProfiles *shipped, const char *text, guint *place, GError **error)
{
  Held *held = held_parse ("own.profile", text, strlen (text), error);
  g_autofree char *stem = NULL;
  gboolean general;

  if (held == NULL)
    return NULL;
  *place = place_of (shipped, held->profile.scientific);
  general = *place != G_MAXUINT && ((CoreProfile *) shipped->profiles->pdata[*place])->general;
  if (held->profile.general != general)
    {
      g_set_error (error, EXCH_PROFILE_ERROR, EXCH_PROFILE_ERROR_SET,
                   C_ ("profile error", "Only one profile stands in for unknown species; take "
                                        "general=true out."));
      held_unref (held);
      return NULL;
    }
  stem = stem_of_species (held->profile.scientific);
  g_strlcpy (held->profile.id,
             *place != G_MAXUINT ? ((CoreProfile *) shipped->profiles->pdata[*place])->id : stem,
             sizeof held->profile.id);
  return held;
}

static void
put_own (ExchProfiles *self, Held *held, guint place)
{
  if (place == G_MAXUINT)
    {
      g_ptr_array_add (self->profiles, held);
      return;
    }
  held_unref (self->profiles->pdata[place]);
  self->profiles->pdata[place] = held;
  if (held->profile.general)
    self->general = &held->profile;
}

ExchProfiles *
exch_profiles_with (const ExchProfiles *shipped, const GPtrArray *texts, GPtrArray *why)
{
  ExchProfiles *self = g_new0 (ExchProfiles, 1);

  self->profiles = g_ptr_array_new_with_free_func (held_unref);
  for (guint i = 0; i < shipped->profiles->len; i++)
    g_ptr_array_add (self->profiles, g_atomic_rc_box_acquire (shipped->profiles->pdata[i]));
  self->general = shipped->general;
  for (guint i = 0; i < texts->len; i++)
    {
      g_autoptr (GError) error = NULL;
      guint place = G_MAXUINT;
      Held *held = own_profile (self, texts->pdata[i], &place, &error);

      if (held != NULL)
        put_own (self, held, place);
      g_ptr_array_add (why, error != NULL ? g_strdup (error->message) : NULL);
    }
  return self;
}

const char *
exch_profiles_text (const ExchProfiles *self, const CoreProfile *profile)
{
  for (guint i = 0; i < self->profiles->len; i++)
    if (self->profiles->pdata[i] == (gpointer) (guintptr) profile)
      return ((Held *) self->profiles->pdata[i])->text;
  return NULL;
}

ExchProfiles *
exch_profiles_load (GError **error)
{
  const char *dir = g_getenv ("MANTIDARY_PROFILES");

  if (dir == NULL || *dir == '\0')
    dir = g_file_test (MANTIDARY_PROFILE_DIR, G_FILE_TEST_IS_DIR) ? MANTIDARY_PROFILE_DIR
                                                                  : MANTIDARY_PROFILE_SOURCE_DIR;
  return exch_profiles_load_dir (dir, error);
}

void
exch_profiles_free (ExchProfiles *self)
{
  if (self == NULL)
    return;
  g_ptr_array_unref (self->profiles);
  g_free (self);
}

gsize
exch_profiles_count (const ExchProfiles *self)
{
  return self->profiles->len;
}

const CoreProfile *
exch_profiles_nth (const ExchProfiles *self, gsize i)
{
  return i < self->profiles->len ? g_ptr_array_index (self->profiles, i) : NULL;
}

const CoreProfile *
exch_profiles_general (const ExchProfiles *self)
{
  return self->general;
}

const CoreProfile *
exch_profiles_by_id (const ExchProfiles *self, const char *id)
{
  for (guint i = 0; i < self->profiles->len; i++)
    {
      const CoreProfile *profile = g_ptr_array_index (self->profiles, i);

      if (strcmp (profile->id, id) == 0)
        return profile;
    }
  return NULL;
}

/* 0 no match, 1 a beginning, 2 the whole name. */
static int
match (const CoreProfile *profile, const char *folded)
{
  const char *const names[] = { profile->scientific, profile->common, profile->common_de,
                                profile->id };
  int best = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *name = fold (names[i]);

      if (*name == '\0' || !g_str_has_prefix (name, folded))
        continue;
      if (strcmp (name, folded) == 0)
        return 2;
      best = 1;
    }
  return best;
}

ExchMatch
exch_profiles_find (const ExchProfiles *self,
                    const char *name,
                    const CoreProfile **out,
                    GPtrArray **candidates)
{
  g_autofree char *folded = fold (name);
  g_autoptr (GPtrArray) found = g_ptr_array_new ();

  *out = NULL;
  if (*folded == '\0' || strcmp (folded, "unknown") == 0)
    {
      *out = self->general;
      return EXCH_MATCH_ONE;
    }
  for (guint i = 0; i < self->profiles->len; i++)
    {
      CoreProfile *profile = g_ptr_array_index (self->profiles, i);
      int how = match (profile, folded);

      if (how == 2)
        {
          *out = profile;
          return EXCH_MATCH_ONE;
        }
      if (how == 1)
        g_ptr_array_add (found, profile);
    }
  if (found->len == 1)
    *out = g_ptr_array_index (found, 0);
  if (found->len > 1 && candidates != NULL)
    *candidates = g_ptr_array_ref (found);
  return found->len == 0 ? EXCH_MATCH_NONE : found->len == 1 ? EXCH_MATCH_ONE : EXCH_MATCH_SEVERAL;
}

const CoreProfile *
exch_profiles_for_species (const ExchProfiles *self, const char *scientific)
{
  /* As the desk wrote it, most of the time: found without folding the name of each. */
  for (guint i = 0; i < self->profiles->len; i++)
    if (strcmp (((CoreProfile *) self->profiles->pdata[i])->scientific, scientific) == 0)
      return self->profiles->pdata[i];
  for (guint i = 0; scientific[0] != '\0' && i < self->profiles->len; i++)
    if (same_name (((CoreProfile *) self->profiles->pdata[i])->scientific, scientific))
      return self->profiles->pdata[i];
  return self->general;
}
