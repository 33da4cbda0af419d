/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-thumb.h — a small picture of a photo, made in a worker and kept in the cache folder. */
#pragma once

#include "app/app-types.h"

#define APP_TYPE_THUMB (app_thumb_get_type ())
G_DECLARE_FINAL_TYPE (AppThumb, app_thumb, APP, THUMB, GtkWidget)

/* Of a file that is not in the journal, by what it holds; `width` × `height` in full. */
GtkWidget *app_thumb_new_for_file (const char *path, const char *hash, int width, int height, int side,
                                   const char *label);
/* At most `side` logical pixels wide and high; `label` says what it shows. */
GtkWidget *app_thumb_new (Desk *desk, CoreId photo, int side, const char *label);

/* The small copy itself, at most IMG_THUMB_SIDE pixels long; made if it is not there. */
void app_thumb_load_async (Desk *desk, CoreId photo, GCancellable *cancellable, GAsyncReadyCallback callback,
                           gpointer data);
GdkTexture *app_thumb_load_finish (GAsyncResult *result, GError **error) G_GNUC_WARN_UNUSED_RESULT;
