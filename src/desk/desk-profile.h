/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-profile.h — what is known of a species, value by value, and the keeper's own copy of it.
 *
 * A copy lives in the journal: what it says otherwise than the shipped profile, as entries `set`
 * of the journal itself (`kind.…`), so that undo, history and merging hold for it as for all else.
 * Values are in the form of the file format ("1;2"); words makes them readable.
 */
#pragma once

#include "desk/desk.h"

typedef struct
{
  char *group, *key; /* "care" "mist"; "cue crown" "odds" */
  char *value;       /* of the table of the group where it does not stand in the profile */
  char *from;        /* "practice", "ours;measured:moon"; NULL = none is said */
  char *other, *other_from; /* the other side where keepers disagree; NULL */
  char *note, *note_de;     /* NULL */
  char *shipped, *shipped_from; /* what the shipped one says; NULL = nothing, or there is none */
  double min, max;
  gboolean stands; /* in the profile itself */
  gboolean own;    /* otherwise than shipped */
} DeskProfileValue;

typedef struct
{
  char *id, *text;
} DeskProfileSource;

typedef struct
{
  DeskProfiles *profiles; /* owned */
  const CoreProfile *profile; /* of `profiles` */
  GPtrArray *values;  /* DeskProfileValue *, in the order of the format */
  GPtrArray *sources; /* DeskProfileSource * */
  gboolean shipped;   /* there is a shipped one; else it is a kind that the keeper took in */
  guint n_own;        /* values that are otherwise than shipped */
  gboolean moved_on;  /* the shipped one is no longer that from which the copy was made */
  char *problem;      /* the copy does not fit any more, and why; the shipped one is used. NULL */
} DeskProfileView;

/* Of a Desk or of the profiles alone; the errors of desk_find_profile(). */
DeskProfileView *desk_profile_view (Desk *self, const char *species, GError **error);
DeskProfileView *desk_profiles_view (DeskProfiles *self, const char *species, GError **error);
void desk_profile_view_free (DeskProfileView *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskProfileView, desk_profile_view_free)
const DeskProfileValue *desk_profile_value (const DeskProfileView *self, const char *group, const char *key);
const GPtrArray *desk_profiles_list (DeskProfiles *self); /* const CoreProfile *; borrowed */
gboolean desk_profile_is_own (DeskProfiles *self, const CoreProfile *profile); /* changed or taken in */
DeskProfiles *desk_profiles_of (Desk *self); /* shipped with the keeper's own; a new reference */
/* The copies that do not fit: "SPECIES: reason", one string each. */
GPtrArray *desk_profile_problems (DeskProfiles *self);

/* What was typed, as it would be stored, in *stored; why it is refused, or NULL when it fits.
 * NULL stored: there is no such value. */
char *desk_profile_try (const DeskProfileView *view, const char *group, const char *key,
                        const char *typed, char **stored);

/* One round. `edits` is a NULL-ended list of "GROUP.KEY=VALUE" as typed; "GROUP.KEY" alone goes
 * back to the shipped value. DESK_ERROR_VALUE, the message says which and why. */
void desk_profile_edit_async (Desk *self, const char *species, const char *const *edits,
                              GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
gboolean desk_profile_edit_finish (Desk *self, GAsyncResult *result, GError **error);
/* All values back; a kind without a shipped one goes. */
void desk_profile_reset_async (Desk *self, const char *species, GCancellable *cancellable,
                               GAsyncReadyCallback callback, gpointer data);
gboolean desk_profile_reset_finish (Desk *self, GAsyncResult *result, GError **error);

/* ---- files ---- */

/* A file that was read and is sound. */
typedef struct
{
  char *text;
  char *scientific, *common;
  gboolean known;      /* there is a profile of this species now */
  guint n_values;      /* that it says */
  GPtrArray *changes;  /* DeskProfileValue *: `shipped` is what is used now; empty = nothing new */
} DeskProfileFile;
/* `self` NULL: against the shipped ones. Nothing is written. */
void desk_profile_look_async (Desk *self, const char *path, GCancellable *cancellable,
                              GAsyncReadyCallback callback, gpointer data);
DeskProfileFile *desk_profile_look_finish (GAsyncResult *result, GError **error);
void desk_profile_file_free (DeskProfileFile *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskProfileFile, desk_profile_file_free)
/* What the file says replaces what is used now, as one round; what it leaves out stays. */
void desk_profile_take_async (Desk *self, const DeskProfileFile *file, GCancellable *cancellable,
                              GAsyncReadyCallback callback, gpointer data);
gboolean desk_profile_take_finish (Desk *self, GAsyncResult *result, GError **error);
/* The whole profile as it is used now; an existing file is refused unless `replace`. */
void desk_profile_give_async (Desk *self, const char *species, const char *path, gboolean replace,
                              GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
gboolean desk_profile_give_finish (GAsyncResult *result, GError **error);
char *desk_profile_file_name (const CoreProfile *profile); /* "hymenopus-coronatus.profile" */
