/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo.h — an invented keeper's room: about 40 animals on three shelves over 120 days.
 *
 * Always the same: the seed and the days are fixed, so two demo journals hold the
 * same facts. Nothing in it is a real person, shop or brand.
 */
#pragma once

#include <gio/gio.h>

#include "core/core-types.h"

CoreDay demo_last_day (void); /* the demo's own today */

/* Make the demo journal in `dir` (which must not exist or be empty). Blocks for some seconds. */
gboolean demo_make (const char *dir, GCancellable *cancellable, GError **error);

/* Make it unless a demo journal is there already. Nothing half-made is left behind. */
void demo_ensure_async (const char *dir, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
gboolean demo_ensure_finish (GAsyncResult *result, GError **error);
