/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-search.h — finding a fact again: by number, name, kind, place, stage, prey and
 * what became of it, words of notes, and what was entered. */
#pragma once

#include "desk/desk.h"

/* In the order in which hits come. */
typedef enum
{
  DESK_HIT_LABEL,   /* its number, code, or the name of a place */
  DESK_HIT_NAME,    /* its name */
  DESK_HIT_SPECIES, /* scientific or trade name, in the session's language or English */
  DESK_HIT_PLACE,   /* it stands there */
  DESK_HIT_STAGE,   /* it is in that stage, as far as is known */
  DESK_HIT_NOTE,    /* `entry` is the note, the latest first */
  DESK_HIT_ENTRY,   /* `entry` says it: a moult, a sale, a death, an origin; the latest first */
  DESK_HIT_PREY     /* `entry` is its latest meal of that prey, or with that outcome */
} DeskHitWhy;

typedef struct
{
  DeskHitWhy why;
  DeskSubject *subject;
  CoreId entry; /* none unless a note, a fact or a meal */
} DeskHit;
void desk_hit_free (DeskHit *self);

/* Nothing has to be read before the next search; some time after the desk was opened. */
gboolean desk_search_is_ready (Desk *self);

/* Every word of `text` is the beginning of a word, whatever its case and accents; the living
 * before the past. At most `limit` hits; one subject comes once for what it is called, and once for
 * each of its notes and entries. An empty text finds nothing. */
void desk_search_async (Desk *self,
                        const char *text,
                        guint limit,
                        GCancellable *cancellable,
                        GAsyncReadyCallback callback,
                        gpointer data);
/* Element type DeskHit. */
GPtrArray *desk_search_finish (Desk *self, GAsyncResult *result, GError **error);
