/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-sealed.h — a file of bytes that this account sealed, and the bytes in memory.
 *
 * The file lies in the folder of the journal; whoever removes it loses nothing. Nothing of
 * it is handed out before every byte of it has been found to be as it was written. */
#pragma once

#include "desk/desk-freeze.h"

#define DESK_SEALED_NAME "journal.snapshot"

/* ---- the bytes in memory: counted, since states are used where they lie ---- */

DeskSlab *desk_slab_new (gsize size);
DeskSlab *desk_slab_ref (DeskSlab *self);
void desk_slab_unref (DeskSlab *self);
guint8 *desk_slab_bytes (DeskSlab *self); /* on a page of its own */
gsize desk_slab_size (DeskSlab *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskSlab, desk_slab_unref)

/* ---- reading ---- */

typedef struct
{
  int fd; /* -1 = none */
  StoreTotals totals;
  guint64 size; /* of the bytes */
  guint64 *seals;
  guint8 key[DESK_SEAL_KEY];
  guint64 tie;
} DeskSealed;

/* The file of this folder, when it was sealed by this account under this `name`; of the bytes
 * none is read yet. */
gboolean desk_sealed_find (DeskSealed *self, const char *dir, const char *name);
/* All bytes; NULL: they are not those that were written. */
DeskSlab *desk_sealed_read (DeskSealed *self);
void desk_sealed_clear (DeskSealed *self);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (DeskSealed, desk_sealed_clear)

/* ---- writing ---- */

/* Adds some more bytes; FALSE: there are no more. */
typedef gboolean (*DeskSealedMore) (GByteArray *out, gpointer data);
/* Whole or not at all; FALSE also when another program is just writing it. */
gboolean desk_sealed_write (const char *dir,
                            const char *name,
                            const guint8 key[DESK_SEAL_KEY],
                            const StoreTotals *totals,
                            DeskSealedMore more,
                            gpointer data,
                            GError **error);
