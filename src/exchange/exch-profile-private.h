/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-profile-private.h — what the parts of the profile reader share. */
#pragma once

#include "exchange/exch-profile.h"

G_BEGIN_DECLS

/* How one key is read and where it goes. Two offsets: a pair fills both. */
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
  EXCH_KEY_DIST     /* "6:.7;7:.3" → double[CORE_MAX_MOULTS + 1] */
} ExchKeyType;

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
const ExchProfileKey *exch_profile_key_find (const char *group, const char *key);
gboolean exch_profile_group_known (const char *group);

/* Finishes a profile whose keys were read: values that depend on each other. On FALSE *group
 * and *key say where, *why is a sentence. */
gboolean
exch_profile_check (const CoreProfile *profile, const char **group, const char **key, char **why);

G_END_DECLS
