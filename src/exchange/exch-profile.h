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

/* How a value is written; the key table gives one to each key. */
typedef enum
{
  EXCH_KEY_TEXT, /* string into a char array of `size` bytes */
  EXCH_KEY_GROUP,
  EXCH_KEY_BOOL,
  EXCH_KEY_PREY,   /* list of prey names → bits */
  EXCH_KEY_NUMBER, /* double; "-" = unknown where `may_lack` */
  EXCH_KEY_INT,
  EXCH_KEY_TAGGED,  /* CoreTagged */
  EXCH_KEY_SPAN,    /* CoreSpan, a <= b */
  EXCH_KEY_PAIR,    /* two CoreTagged, lo <= hi */
  EXCH_KEY_MEAN_SD, /* two doubles */
  EXCH_KEY_STAGES,  /* list of CoreTagged, "-" = borrow */
  EXCH_KEY_DIST,    /* "6:.7;7:.3" → double[CORE_MAX_MOULTS + 1] */
  EXCH_KEY_SAYS     /* of a cue: male, female, either */
} ExchKeyType;

/* `text` need not be NUL-ended. `name` is used in messages; its stem becomes the id of the
 * profile. `out` must be unset; it is set only on TRUE (clear with core_profile_clear). */
gboolean exch_profile_parse (const char *name,
                             const char *text,
                             gsize length,
                             CoreProfile *out,
                             GError **error);
/* The same; on FALSE *why (may be NULL) is the reason alone, without the place, the caller's. No
 * mark of an editor is passed over. */
gboolean exch_profile_parse_why (const char *name,
                                 const char *text,
                                 gsize length,
                                 CoreProfile *out,
                                 char **why,
                                 GError **error);
/* The text of a regular file, NUL-ended, at most one byte more than a profile may have. */
char *exch_profile_read_file (GFile *file, gsize *length, GError **error);
gboolean exch_profile_load_file (GFile *file, CoreProfile *out, GError **error);

/* ---- the values one by one: exch-profile-value.c ---- */

typedef struct
{
  char *group, *key; /* "care" "mist"; "cue crown" "odds" */
  ExchKeyType type;
  double min, max;
  gboolean may_lack; /* "-" = unknown */
  gboolean needed;
  gboolean stands;         /* the file says it; else `value` is that of the table of its group */
  char *value;             /* as it is written in a file: "1;2" */
  char *from;              /* tags as written: "ours;practice"; NULL = none is needed or said */
  char *other, *other_from; /* where keepers disagree: the other side; NULL */
  char *note, *note_de;
} ExchValue;
void exch_value_free (ExchValue *self);

/* ExchValue *, in the order of the format, of a profile and the text that it was read from. */
GPtrArray *exch_profile_values (const CoreProfile *profile, const char *text);
/* The citation of a source of the text; NULL = there is none. Borrowed by nobody: free it. */
char *exch_profile_source (const char *text, const char *id);
/* What a person types ("1–2", "2,5", "6: 70 %, 7: 30 %") as it stands in a file; never fails,
 * what it does not understand stays as it is and is refused by the check. */
char *exch_value_from_typed (const ExchValue *value, const char *typed);
/* The reason why `text` with this value would be refused; NULL = it fits. Of the keeper's own. */
char *exch_profile_try (const char *text, const char *group, const char *key, const char *value);

/* ---- a copy against the shipped one: exch-profile-copy.c ---- */

/* Lines by group and key, of a text that is a profile. Owned. */
GKeyFile *exch_doc_new (const char *text);
/* In the order of the format, what is unknown to it left out. `head` = a comment on top, or NULL. */
char *exch_doc_text (GKeyFile *doc, const char *head);
/* The value of a key, with all that stands beside it, is that of `from` afterwards, or gone. */
void exch_doc_take (GKeyFile *doc, GKeyFile *from, const char *group, const char *key);
void exch_doc_set_own (GKeyFile *doc, const char *group, const char *key, const char *value);
/* Of the value alone, without what stands beside it. */
gboolean
exch_doc_value_is_same (GKeyFile *a, GKeyFile *b, const char *group, const char *key);
gboolean exch_doc_is_same (GKeyFile *a, GKeyFile *b, const char *group, const char *key);
/* What `doc` says otherwise than `shipped` (NULL = all of it), with the sources that it names; an
 * id that the shipped one gives to another source gets a number behind it. */
GKeyFile *exch_doc_diff (GKeyFile *doc, GKeyFile *shipped);
/* `shipped` (NULL = nothing) with what `diff` says. */
GKeyFile *exch_doc_apply (GKeyFile *shipped, GKeyFile *diff);
guint exch_doc_n_values (GKeyFile *doc); /* without the sources */

/* A diff is kept in parts, one for each group, all cues being one: "clock", "cues", "sources" … */
const char *const *exch_doc_parts (void); /* NULL-ended */
char *exch_doc_part (GKeyFile *doc, const char *part); /* its lines; "" = none */
/* Reads lines of a part; FALSE when they are none. */
gboolean exch_doc_add_part (GKeyFile *doc, const char *part, const char *lines);

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
/* The text that a profile of the set was read from; borrowed. */
const char *exch_profiles_text (const ExchProfiles *self, const CoreProfile *profile);
/* A set with these texts in the place of the profile of the same species, or behind the others.
 * `texts` are char *; a text that is refused is left out, and its reason stands in `why` under
 * the same index, which is NULL for the others. */
ExchProfiles *exch_profiles_with (const ExchProfiles *shipped, const GPtrArray *texts, GPtrArray *why);
/* For a species as it stands in a journal: the whole scientific name, else the general one. */
const CoreProfile *exch_profiles_for_species (const ExchProfiles *self, const char *scientific);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchProfiles, exch_profiles_free)

G_END_DECLS
