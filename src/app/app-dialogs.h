/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-dialogs.h — small windows that ask one thing; GTK 4.8's choosers behind async pairs. */
#pragma once

#include "app/app-window.h"

/* Files and folders. finish: NULL with G_IO_ERROR_CANCELLED when dismissed. */
void app_open_picture_async (GtkWindow *parent, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
void app_choose_table_async (GtkWindow *parent, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
void app_choose_folder_async (GtkWindow *parent, const char *title, gboolean create, GCancellable *cancellable,
                              GAsyncReadyCallback callback, gpointer data);
GFile *app_choose_finish (GAsyncResult *result, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Forms; each writes through the desk and says what it did. */
void app_dialog_add_animal (AppWindow *window, CoreId place);
void app_dialog_edit_animal (AppWindow *window, CoreId animal);
void app_dialog_add_place (AppWindow *window);
void app_dialog_edit_place (AppWindow *window, CoreId place);
void app_dialog_move (AppWindow *window, CoreId animal);       /* to another place, between two cups */
void app_dialog_died (AppWindow *window, CoreId animal);
void app_dialog_left (AppWindow *window, CoreId animal);
void app_dialog_moulted (AppWindow *window, CoreId animal);
void app_dialog_measure (AppWindow *window, CoreId animal);
void app_dialog_stage (AppWindow *window, CoreId animal);      /* adult, sub-adult, nymph: as seen */
void app_dialog_sex (AppWindow *window, CoreId animal);
void app_dialog_home (AppWindow *window, CoreId animal);       /* size of its cup */
void app_dialog_purpose (AppWindow *window, CoreId animal);    /* pairing, sale; sex check or none */
void app_dialog_correct (AppWindow *window, CoreId entry);       /* day and values of one entry */
