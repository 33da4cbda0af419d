/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-dialogs.h — small windows that ask one thing; GTK 4.8's choosers behind async pairs. */
#pragma once

#include "app/app-window.h"

/* Files and folders. finish: NULL with G_IO_ERROR_CANCELLED when dismissed. */
void app_open_picture_async (GtkWindow *parent, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
/* Many at once: app_choose_many_finish(). */
void app_open_pictures_async (GtkWindow *parent, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
void app_choose_table_async (GtkWindow *parent, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
void app_choose_folder_async (GtkWindow *parent, const char *title, gboolean create, GCancellable *cancellable,
                              GAsyncReadyCallback callback, gpointer data);
/* A name for a new file, proposed; an existing one is asked about. */
void app_choose_save_async (GtkWindow *parent, const char *title, const char *name, GCancellable *cancellable,
                            GAsyncReadyCallback callback, gpointer data);
void app_choose_profile_async (GtkWindow *parent, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
void app_choose_backup_async (GtkWindow *parent, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
GSList *app_choose_many_finish (GAsyncResult *result, GError **error); /* GFile, the caller's; NULL = none */
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
void app_dialog_mixed (AppWindow *window, CoreId animal);      /* taken for another since a day */
void app_dialog_doubt (AppWindow *window, CoreId animal);      /* which one it is; or the decision */
void app_dialog_swap (AppWindow *window, CoreId animal);       /* places exchanged */
void app_dialog_purpose (AppWindow *window, CoreId animal);    /* pairing, sale; sex check or none */
void app_dialog_add_lot (AppWindow *window, CoreId place);
void app_dialog_add_eggcase (AppWindow *window, CoreId place);
void app_dialog_add_culture (AppWindow *window, CoreId place);
void app_dialog_lot_from (AppWindow *window, CoreId egg);        /* all that hatched, or some */
void app_dialog_edit_origin (AppWindow *window, CoreId id);      /* kind, where from, parents, line */
void app_dialog_separate (AppWindow *window, CoreId lot);
void app_dialog_split (AppWindow *window, CoreId lot);
void app_dialog_join (AppWindow *window, CoreId lot);
void app_dialog_recount (AppWindow *window, CoreId lot);
void app_dialog_some_died (AppWindow *window, CoreId lot);
void app_dialog_some_left (AppWindow *window, CoreId lot);
void app_dialog_some_escaped (AppWindow *window, CoreId lot);
void app_dialog_hatched (AppWindow *window, CoreId egg);
void app_dialog_dud (AppWindow *window, CoreId egg);
void app_dialog_note (AppWindow *window, CoreId id);
void app_dialog_used_up (AppWindow *window, CoreId culture);
void app_dialog_reading (AppWindow *window, CoreId place);       /* temperature, humidity */
void app_dialog_power (AppWindow *window, CoreId place);         /* the power was out */
void app_dialog_logger (AppWindow *window, CoreId place);        /* asks for the file of a logger */
void app_dialog_logger_file (AppWindow *window, CoreId place, GFile *file);
void app_dialog_backup (AppWindow *window);                      /* everything into one file */
void app_dialog_restore (AppWindow *window, const char *file);   /* NULL: asks which */
void app_dialog_correct (AppWindow *window, CoreId entry);       /* day and values of one entry */
void app_dialog_past_round (AppWindow *window);                  /* a round of another day, by whom */
/* The days of a sheet for a stand-in; then `print` takes the sheet. */
void app_dialog_standin (AppWindow *window);
