/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-profile-private.h — what the parts of the profile reader share. */
#pragma once

#include "exchange/exch-profile.h"

G_BEGIN_DECLS

typedef struct
{
  const char *group;
  const char *key;
  ExchKeyType type;
  gsize offset, offset2;
  gsize size;      /* TEXT: bytes of the field */
  double min, max; /* inclusive; of both values of a pair */
  gboolean needed;
  gboolean may_lack; /* "-" gives NAN */
} ExchProfileKey;

extern const ExchProfileKey exch_profile_keys[];
extern const gsize exch_profile_n_keys;
#define EXCH_N_CUE_KEYS 4
extern const char *const exch_cue_says[]; /* in the order of CoreSex */
extern const ExchProfileKey exch_cue_keys[EXCH_N_CUE_KEYS];
const ExchProfileKey *exch_profile_key_find (const char *group, const char *key);
gboolean exch_profile_group_known (const char *group);

/* One file that is being read. */
typedef struct
{
  const char *name;
  GKeyFile *file;
  GHashTable *lines;     /* "group\nkey" → line number */
  GPtrArray *source_ids; /* of char *, same order as profile->sources */
  CoreProfile *profile;
  GError **error;
  char *why;            /* owned; the reason alone */
  CoreProfile *scratch; /* takes the other side of a value, so that it is checked like the value */
} ExchReader;

/* Both set the error and give FALSE; where the key has no line that of its group is named. */
gboolean exch_reader_fail (
  ExchReader *self, ExchProfileError code, const char *group, const char *key, const char *why);
gboolean
exch_reader_fail_line (ExchReader *self, ExchProfileError code, guint line, const char *why);
/* Size, UTF-8, no character that shows nothing. */
gboolean exch_reader_check_text (ExchReader *self, const char *text, gsize length);
/* Which line says what; nothing stands twice. */
gboolean exch_reader_scan (ExchReader *self, const char *text);
/* Every group and key is one of the format. */
gboolean exch_reader_check_known (ExchReader *self);

/* Finishes a profile whose keys were read: values that depend on each other. On FALSE *group
 * and *key say where, *why is a sentence. */
gboolean
exch_profile_check (const CoreProfile *profile, const char **group, const char **key, char **why);

G_END_DECLS
