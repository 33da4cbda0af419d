/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-profile.h — species profiles: from key files to core structs, and the set of them.
 *
 * The format is described in DEVELOPERS.md, "The profile format". A file is
 * taken whole or refused with its line, group, key and reason; numbers are
 * read with '.' whatever the locale. A set is immutable once loaded.
 */
#pragma once

#include <gio/gio.h>

#include "core/core-profile.h"

G_BEGIN_DECLS

/* A profile file is at most this long. */
#define EXCH_PROFILE_MAX_BYTES (64 * 1024)
#define EXCH_PROFILES_MAX 500

typedef enum
{
  EXCH_PROFILE_ERROR_READ, /* the file or folder cannot be read */
  EXCH_PROFILE_ERROR_TOO_LONG,
  EXCH_PROFILE_ERROR_SYNTAX,  /* no key file, not UTF-8, a key twice */
  EXCH_PROFILE_ERROR_UNKNOWN, /* a group or key that the format does not have */
  EXCH_PROFILE_ERROR_MISSING, /* a needed key, tag or source is absent */
  EXCH_PROFILE_ERROR_VALUE,   /* no number, out of its range, a bad word */
  EXCH_PROFILE_ERROR_TAG,     /* a tag that is none, or names no source */
  EXCH_PROFILE_ERROR_SENSE,   /* values that contradict each other */
  EXCH_PROFILE_ERROR_SET      /* two profiles of one species, no general one, too many */
} ExchProfileError;

#define EXCH_PROFILE_ERROR (exch_profile_error_quark ())
GQuark exch_profile_error_quark (void);

/* `text` need not be NUL-ended. `name` is used in messages; its stem becomes the id of the
 * profile. `out` must be unset; it is set only on TRUE (clear with core_profile_clear). */
gboolean exch_profile_parse (const char *name,
                             const char *text,
                             gsize length,
                             CoreProfile *out,
                             GError **error);
gboolean exch_profile_load_file (GFile *file, CoreProfile *out, GError **error);

typedef struct ExchProfiles ExchProfiles;

/* All *.profile of a folder, sorted by file name; the first bad file fails the whole set. */
ExchProfiles *exch_profiles_load_dir (const char *dir, GError **error);
/* From $MANTIDARY_PROFILES if set, else the installed folder if it is there, else the source. */
ExchProfiles *exch_profiles_load (GError **error);
void exch_profiles_free (ExchProfiles *self);

gsize exch_profiles_count (const ExchProfiles *self);
const CoreProfile *exch_profiles_nth (const ExchProfiles *self, gsize i);
/* The profile that stands in for an unknown species; never NULL. */
const CoreProfile *exch_profiles_general (const ExchProfiles *self);
const CoreProfile *exch_profiles_by_id (const ExchProfiles *self, const char *id);

typedef enum
{
  EXCH_MATCH_NONE,
  EXCH_MATCH_ONE,
  EXCH_MATCH_SEVERAL
} ExchMatch;

/* By scientific name, trade name (English or German) or id, in any case: a whole name wins,
 * else its unique beginning. "unknown" and "" give the general profile. On SEVERAL,
 * *candidates (may be NULL) is an array of const CoreProfile *, owned by the caller. */
ExchMatch exch_profiles_find (const ExchProfiles *self,
                              const char *name,
                              const CoreProfile **out,
                              GPtrArray **candidates);
/* For a species as it stands in a journal: the whole scientific name, else the general one. */
const CoreProfile *exch_profiles_for_species (const ExchProfiles *self, const char *scientific);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchProfiles, exch_profiles_free)

G_END_DECLS
