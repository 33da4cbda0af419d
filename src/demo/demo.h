/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo.h — an invented keeper's room: about 40 animals on three shelves over 120 days.
 *
 * The same last day always gives the same facts and the same photo files; only
 * identifiers and the time of writing differ. Nothing in it is a real person, shop or brand.
 */
#pragma once

#include <gio/gio.h>

#include "desk/desk.h"

/* Make the demo journal in `dir` (which must not exist or be empty), its story ending on the
 * evening of `last`. Blocks for some seconds. */
gboolean demo_make (const char *dir, CoreDay last, GCancellable *cancellable, GError **error);

/* The demo's own last day, on which it is looked at; CORE_DAY_NONE for any other journal. */
CoreDay demo_day_of (Desk *desk);

/* Make it unless a demo journal is there already. Nothing half-made is left behind. */
void demo_ensure_async (const char *dir, CoreDay last, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
gboolean demo_ensure_finish (GAsyncResult *result, GError **error);
