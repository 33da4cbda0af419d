/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-paste.h — pictures from the clipboard: files that were copied, or a picture itself. */
#pragma once

#include <gtk/gtk.h>

gboolean app_paste_has_pictures (GtkWidget *widget);
void app_paste_pictures_async (GtkWidget *widget, GAsyncReadyCallback callback, gpointer data);
/* GFile, the caller's; a picture lies as a PNG file in the cache folder until it is saved. NULL: there
 * is none, or (error) it could not be taken. */
GSList *app_paste_pictures_finish (GAsyncResult *result, GError **error);
/* It is such a PNG file: nothing says when it was taken. */
gboolean app_paste_is_bare (GFile *file);
