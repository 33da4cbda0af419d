/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-profile-set.c — the profiles of a folder, and finding one by what a keeper types.
 *
 * A set always holds exactly one general profile and no species twice.
 */
#include "exchange/exch-profile.h"

#include <glib/gi18n-lib.h>
#include <string.h>

struct ExchProfiles
{
  GPtrArray *profiles; /* of CoreProfile *, by file name */
  const CoreProfile *general;
};

static void
profile_free (gpointer data)
{
  core_profile_clear (data);
  g_free (data);
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

static gboolean
add_profile (ExchProfiles *self, CoreProfile *profile, GError **error)
{
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
          profile_free (profile);
          return FALSE;
        }
    }
  g_ptr_array_add (self->profiles, profile);
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
  self->profiles = g_ptr_array_new_with_free_func (profile_free);
  for (guint i = 0; i < names->len; i++)
    {
      g_autoptr (GFile) file = g_file_new_build_filename (dir, g_ptr_array_index (names, i), NULL);
      g_autofree CoreProfile *profile = g_new0 (CoreProfile, 1);

      if (!exch_profile_load_file (file, profile, error) ||
          !add_profile (self, g_steal_pointer (&profile), error))
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
