/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-paste.c — see app-paste.h. A picture is written on a thread: a large one takes seconds. */
#include "app/app-paste.h"

static GdkContentFormats *
formats_of (GtkWidget *widget)
{
  GdkContentFormats *formats = gdk_clipboard_get_formats (gtk_widget_get_clipboard (widget));

  return gdk_content_formats_union_deserialize_gtypes (gdk_content_formats_ref (formats));
}

gboolean
app_paste_has_pictures (GtkWidget *widget)
{
  g_autoptr (GdkContentFormats) formats = formats_of (widget);

  return gdk_content_formats_contain_gtype (formats, GDK_TYPE_FILE_LIST)
         || gdk_content_formats_contain_gtype (formats, GDK_TYPE_TEXTURE);
}

static void
free_files (gpointer files)
{
  g_slist_free_full (files, g_object_unref);
}

static void
files_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;
  GError *error = NULL;
  const GValue *value = gdk_clipboard_read_value_finish (GDK_CLIPBOARD (source), result, &error);
  GSList *files;

  if (value == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  files = gdk_file_list_get_files (g_value_get_boxed (value));
  for (GSList *l = files; l != NULL; l = l->next)
    g_object_ref (l->data);
  g_task_return_pointer (task, files, free_files);
}

/* ---- a picture itself ---- */

static char *
folder (void)
{
  return g_build_filename (g_get_user_cache_dir (), "mantidary", "pasted", NULL);
}

gboolean
app_paste_is_bare (GFile *file)
{
  g_autofree char *dir = folder ();
  g_autoptr (GFile) of = g_file_new_for_path (dir);

  return g_file_has_parent (file, of);
}

static char *
new_name (void)
{
  g_autofree char *dir = folder ();
  g_autofree char *id = g_uuid_string_random ();
  g_autofree char *name = g_strdup_printf ("%.8s.png", id);

  (void) g_mkdir_with_parents (dir, 0700); /* writing says what is wrong */
  return g_build_filename (dir, name, NULL);
}

static void
write_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  g_autoptr (GBytes) png = gdk_texture_save_to_png_bytes (GDK_TEXTURE (data));
  g_autofree char *path = new_name ();
  GError *error = NULL;

  if (g_file_set_contents_full (path, g_bytes_get_data (png, NULL), (gssize) g_bytes_get_size (png),
                                G_FILE_SET_CONTENTS_CONSISTENT, 0600, &error))
    g_task_return_pointer (task, g_slist_prepend (NULL, g_file_new_for_path (path)), free_files);
  else
    g_task_return_error (task, error);
}

static void
texture_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;
  GError *error = NULL;
  GdkTexture *texture = gdk_clipboard_read_texture_finish (GDK_CLIPBOARD (source), result, &error);

  if (texture == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  g_task_set_task_data (task, texture, g_object_unref);
  g_task_run_in_thread (task, write_thread);
}

void
app_paste_pictures_async (GtkWidget *widget, GAsyncReadyCallback callback, gpointer data)
{
  GdkClipboard *clipboard = gtk_widget_get_clipboard (widget);
  g_autoptr (GdkContentFormats) formats = formats_of (widget);
  g_autoptr (GTask) task = g_task_new (widget, NULL, callback, data);

  g_task_set_source_tag (task, app_paste_pictures_async);
  if (gdk_content_formats_contain_gtype (formats, GDK_TYPE_FILE_LIST))
    gdk_clipboard_read_value_async (clipboard, GDK_TYPE_FILE_LIST, G_PRIORITY_DEFAULT, NULL, files_cb, g_object_ref (task));
  else if (gdk_content_formats_contain_gtype (formats, GDK_TYPE_TEXTURE))
    gdk_clipboard_read_texture_async (clipboard, NULL, texture_cb, g_object_ref (task));
  else
    g_task_return_pointer (task, NULL, NULL);
}

GSList *
app_paste_pictures_finish (GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, app_paste_pictures_async), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}
