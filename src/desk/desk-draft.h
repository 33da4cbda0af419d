/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-draft.h — what was typed last is written before a window lets go of its journal. */
#pragma once

#include "desk/desk.h"

G_BEGIN_DECLS

/* At once, not within a second; finishes once it is on the disk, or cannot be (which is said in the log). */
void desk_drafts_write_async (Desk *self, GAsyncReadyCallback callback, gpointer data);
void desk_drafts_write_finish (Desk *self, GAsyncResult *result);

G_END_DECLS
