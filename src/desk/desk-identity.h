/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-identity.h — places exchanged, animals mixed up, and to whom an entry belongs. */
#pragma once

#include "desk/desk.h"

/* ---- places: desk-swap.c ---- */

/* The two exchange their places, today; one round. */
void desk_swap_async (Desk *self,
                      CoreId a,
                      CoreId b,
                      GAsyncReadyCallback callback,
                      gpointer data);
gboolean desk_swap_finish (Desk *self, GAsyncResult *result, GError **error);

/* ---- animals: desk-mixed.c ---- */

/* A picture, by any of its entries, and which of the two it shows; none = nobody can say. */
typedef struct
{
  CoreId photo, shows;
} DeskShown;

/* Two animals were taken for each other since that day: what was seen since then changes its
 * owner. Pictures that `shown` does not name go along, and what was read on them waits for a
 * second look; those that it names go to whom they show, and count. One round. */
void desk_mixed_async (Desk *self,
                       CoreId a,
                       CoreId b,
                       CoreDay since,
                       const DeskShown *shown,
                       gsize n_shown,
                       GAsyncReadyCallback callback,
                       gpointer data);
/* *n_moved: how many entries have changed their owner. */
gboolean desk_mixed_finish (Desk *self, GAsyncResult *result, guint *n_moved, GError **error);
/* The pictures of either that were taken since that day, oldest first: const CoreEntry *,
 * borrowed until the next change. */
GPtrArray *desk_mixed_photos (Desk *self, CoreId a, CoreId b, CoreDay since);

/* ---- to whom an entry belongs: desk-mixed.c ---- */

/* The live entry that stands in its place: itself, or a replacement; NULL = taken back. */
const CoreEntry *desk_entry_heir (Desk *self, CoreId entry);
/* The number of the other cup for which it was written, or to which it belongs now; NULL = none
 * other. */
char *desk_entry_was_of (Desk *self, const CoreEntry *entry);
char *desk_entry_now_of (Desk *self, const CoreEntry *entry);
