/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-choose.c — GTK 4.8's native chooser as an async pair.
 *
 * GTK owns no reference to a native dialog: the task's data does. A destroyed
 * parent emits no response, so the cancellable of the window ends the wait;
 * whichever comes first disarms the other. */
#include "app/app-dialogs.h"

#include <glib/gi18n.h>

#include "desk/desk-backup.h"

typedef struct
{
  GtkFileChooserNative *chooser;
  gboolean many;
  gulong response;
  gulong cancelled;
  GCancellable *cancellable;
} Choose;

static void
choose_free (Choose *choose)
{
  g_clear_object (&choose->chooser);
  g_clear_object (&choose->cancellable);
  g_free (choose);
}

static void
disarm (Choose *choose)
{
  g_clear_signal_handler (&choose->response, choose->chooser);
  if (choose->cancellable != NULL)
    g_clear_signal_handler (&choose->cancelled, choose->cancellable);
}

static void
free_files (gpointer files)
{
  g_slist_free_full (files, g_object_unref);
}

static GSList *
chosen_files (GtkFileChooser *chooser)
{
  g_autoptr (GListModel) list = gtk_file_chooser_get_files (chooser);
  GSList *files = NULL;

  for (guint i = g_list_model_get_n_items (list); i > 0; i--)
    files = g_slist_prepend (files, g_list_model_get_item (list, i - 1));
  return files;
}

static void
response_cb (GtkNativeDialog *dialog, int response, GTask *task)
{
  Choose *choose = g_task_get_task_data (task);
  gboolean yes = response == GTK_RESPONSE_ACCEPT;
  GFile *file = yes && !choose->many ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog)) : NULL;
  GSList *files = yes && choose->many ? chosen_files (GTK_FILE_CHOOSER (dialog)) : NULL;

  disarm (choose);
  if (file != NULL)
    g_task_return_pointer (task, file, g_object_unref);
  else if (files != NULL)
    g_task_return_pointer (task, files, free_files);
  else
    g_task_return_new_error (task, G_IO_ERROR, G_IO_ERROR_CANCELLED, "%s", "Nothing was chosen.");
  g_object_unref (task);
}

static void
cancelled_cb (GCancellable *cancellable, GTask *task)
{
  Choose *choose = g_task_get_task_data (task);

  disarm (choose);
  gtk_native_dialog_hide (GTK_NATIVE_DIALOG (choose->chooser));
  g_task_return_new_error (task, G_IO_ERROR, G_IO_ERROR_CANCELLED, "%s", "The window was closed.");
  g_object_unref (task);
}

static void
run (GtkFileChooserNative *chooser, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  GTask *task = g_task_new (NULL, cancellable, callback, data);
  Choose *choose = g_new0 (Choose, 1);

  choose->chooser = chooser;
  choose->many = gtk_file_chooser_get_select_multiple (GTK_FILE_CHOOSER (chooser));
  g_task_set_check_cancellable (task, FALSE);
  g_task_set_task_data (task, choose, (GDestroyNotify) choose_free);
  choose->response = g_signal_connect (chooser, "response", G_CALLBACK (response_cb), task);
  if (cancellable != NULL)
    {
      choose->cancellable = g_object_ref (cancellable);
      choose->cancelled = g_signal_connect (cancellable, "cancelled", G_CALLBACK (cancelled_cb), task);
    }
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (chooser), TRUE);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

/* `filter` shows those that fit, all others can be shown as well. */
static GtkFileChooserNative *
opener_new (GtkWindow *parent, const char *title, const char *accept, GtkFileFilter *filter)
{
  GtkFileChooserNative *chooser
    = gtk_file_chooser_native_new (title, parent, GTK_FILE_CHOOSER_ACTION_OPEN, accept, NULL);
  g_autoptr (GtkFileFilter) all = gtk_file_filter_new ();

  gtk_file_filter_set_name (all, C_ ("chooser", "All files"));
  gtk_file_filter_add_pattern (all, "*");
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (chooser), filter);
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (chooser), all);
  return chooser;
}

/* One file. */
static void
open_one (GtkWindow *parent,
          const char *title,
          const char *accept,
          GtkFileFilter *filter,
          GCancellable *cancellable,
          GAsyncReadyCallback callback,
          gpointer data)
{
  run (opener_new (parent, title, accept, filter), cancellable, callback, data);
}

static GtkFileFilter *
pictures_filter (void)
{
  GtkFileFilter *pictures = gtk_file_filter_new ();

  gtk_file_filter_set_name (pictures, C_ ("chooser", "Pictures"));
  gtk_file_filter_add_mime_type (pictures, "image/*");
  return pictures;
}

void
app_open_pictures_async (GtkWindow *parent, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr (GtkFileFilter) pictures = pictures_filter ();
  GtkFileChooserNative *chooser
    = opener_new (parent, C_ ("chooser", "Choose pictures"), C_ ("chooser", "_Add"), pictures);

  gtk_file_chooser_set_select_multiple (GTK_FILE_CHOOSER (chooser), TRUE);
  run (chooser, cancellable, callback, data);
}

void
app_open_picture_async (GtkWindow *parent, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr (GtkFileFilter) pictures = pictures_filter ();

  open_one (parent, C_ ("chooser", "Choose a picture"), C_ ("chooser", "_Attach"), pictures, cancellable, callback, data);
}

void
app_choose_table_async (GtkWindow *parent, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr (GtkFileFilter) tables = gtk_file_filter_new ();

  gtk_file_filter_set_name (tables, C_ ("chooser", "Tables (CSV, text)"));
  gtk_file_filter_add_mime_type (tables, "text/*");
  gtk_file_filter_add_suffix (tables, "csv");
  open_one (parent, C_ ("chooser", "Choose a table"), C_ ("chooser", "_Open"), tables, cancellable, callback, data);
}

void
app_choose_profile_async (GtkWindow *parent, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr (GtkFileFilter) profiles = gtk_file_filter_new ();

  gtk_file_filter_set_name (profiles, C_ ("chooser", "Values of a kind"));
  gtk_file_filter_add_pattern (profiles, "*.profile");
  open_one (parent, C_ ("chooser", "Choose values of a kind"), C_ ("chooser", "_Open"), profiles, cancellable, callback,
            data);
}

void
app_choose_backup_async (GtkWindow *parent, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr (GtkFileFilter) backups = gtk_file_filter_new ();

  gtk_file_filter_set_name (backups, C_ ("chooser", "Backups"));
  gtk_file_filter_add_pattern (backups, "*" DESK_BACKUP_SUFFIX);
  open_one (parent, C_ ("chooser", "Choose a backup"), C_ ("chooser", "_Restore"), backups, cancellable, callback, data);
}

void
app_choose_folder_async (GtkWindow *parent,
                         const char *title,
                         gboolean create,
                         GCancellable *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer data)
{
  GtkFileChooserNative *chooser = gtk_file_chooser_native_new (
    title, parent, GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER, C_ ("chooser", "_Open"), NULL);

  gtk_file_chooser_set_create_folders (GTK_FILE_CHOOSER (chooser), create);
  run (chooser, cancellable, callback, data);
}

void
app_choose_save_async (GtkWindow *parent,
                       const char *title,
                       const char *name,
                       GCancellable *cancellable,
                       GAsyncReadyCallback callback,
                       gpointer data)
{
  GtkFileChooserNative *chooser
    = gtk_file_chooser_native_new (title, parent, GTK_FILE_CHOOSER_ACTION_SAVE, C_ ("chooser", "_Save"), NULL);

  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (chooser), name);
  run (chooser, cancellable, callback, data);
}

GFile *
app_choose_finish (GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_task_is_valid (result, NULL), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

GSList *
app_choose_many_finish (GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_task_is_valid (result, NULL), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}
