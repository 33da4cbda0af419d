/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-profile-private.h — copies of profiles as the settings of a journal hold them. */
#pragma once

#include "desk/desk-private.h"
#include "desk/desk-profile.h"

/* Settings of the journal: "kind.1a2b3c.care"; six digits of the hash of the species, then a part
 * of exch_doc_parts(). The value: the species, the hash of the shipped profile or "-", lines. The
 * value of a setting is one line, and a profile holds no backslash: it stands between them. */
#define DESK_KIND "kind."
#define DESK_KIND_BREAK '\\'
#define DESK_KIND_BREAKS "\\"

typedef struct
{
  char *scientific;
  char *hash;     /* of the shipped one that it came from */
  GKeyFile *diff; /* owned */
  gboolean broken;
} DeskKindCopy;
void desk_kind_copy_free (gpointer copy);

char *desk_kind_key (const char *scientific, const char *part);
char *desk_kind_value (const char *scientific, const char *hash, const char *lines);
GPtrArray *desk_kind_copies (Desk *self); /* DeskKindCopy *, those that say something */
/* The shipped profile of a species; NULL = there is none. Also of a set with copies. */
const CoreProfile *desk_kind_shipped (DeskProfiles *profiles, const char *scientific);
char *desk_kind_text (DeskProfiles *shipped, const DeskKindCopy *copy); /* whole */

void desk_profile_value_free (gpointer value);
/* DeskProfileValue *: those of `profile`, beside those of `base` (NULL = none). */
GPtrArray *desk_profile_values (const CoreProfile *profile,
                                const char *text,
                                const CoreProfile *base,
                                const char *base_text);
