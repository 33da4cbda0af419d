/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-strip.h — a recorded picture straightened, with the boundaries that were kept on it: to be looked
 * at beside another. */
#pragma once

#include "desk/bench-model.h"

typedef struct
{
  ImgPixels *strip; /* base at the top */
  double at[BENCH_MAX_BOUNDARIES]; /* 0 … 1 from the base */
  gsize n;
} DeskStrip;

void desk_strip_free (DeskStrip *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskStrip, desk_strip_free)

/* Have base and tip been recorded on it? */
gboolean desk_strip_known (Desk *self, CoreId photo);
/* Read on a thread, one picture after the other, no larger than the strip needs it. */
void desk_strip_async (Desk *self, CoreId photo, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
DeskStrip *desk_strip_finish (GAsyncResult *result, GError **error) G_GNUC_WARN_UNUSED_RESULT;
