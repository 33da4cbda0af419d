/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-then.h — a shelf as of an earlier day is read before a round is typed in for it.
 *
 * Reading it takes the entries of every cup and a plan each: in small pieces on the main thread, and the
 * plans on another. Once it is read, desk_round_preview() of that day answers at once. */
#pragma once

#include "desk/desk.h"

G_BEGIN_DECLS

/* Today and later are always ready. */
gboolean desk_then_is_ready (Desk *self, CoreId place, CoreDay day);
/* Not ready afterwards where something was written meanwhile: then ask again. */
void desk_then_async (Desk *self, CoreId place, CoreDay day, GAsyncReadyCallback callback, gpointer data);
gboolean desk_then_finish (Desk *self, GAsyncResult *result, GError **error);

G_END_DECLS
