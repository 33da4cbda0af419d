/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-io.c — what writing and reading backups share. */
#include "desk/desk-backup-private.h"

#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

char *
desk_scratch_new (const char *path, GError **error)
{
  g_autofree char *dir = exch_file_beside (path);

  exch_file_remove_leftovers (path);
  exch_file_remove_tree (dir); /* one left by a crash of a program with our number */
  return exch_file_make_dir (dir, error) ? g_steal_pointer (&dir) : NULL;
}

void
desk_scratch_remove (char *dir)
{
  if (dir != NULL)
    exch_file_remove_tree (dir);
  g_free (dir);
}

static char *
parent_of (char *path_taken)
{
  char *parent = g_path_get_dirname (path_taken);

  g_free (path_taken);
  return parent;
}

/* Links are followed first, so that a link to a journal's folder is that folder. A path that is
 * not there yet is looked at from the first folder above it that is. */
gboolean
desk_path_outside (const char *path, GError **error)
{
  g_autofree char *at = g_canonicalize_filename (path, NULL);
  char *real;

  while ((real = realpath (at, NULL)) == NULL && strcmp (at, "/") != 0)
    at = parent_of (g_steal_pointer (&at));
  if (real != NULL)
    {
      g_free (at);
      at = g_strdup (real);
      free (real);
    }
  while (!store_exists (at))
    {
      if (strcmp (at, "/") == 0)
        return TRUE;
      at = parent_of (g_steal_pointer (&at));
    }
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_INSIDE_JOURNAL, at, NULL);
  return FALSE;
}

void
desk_blame (GError **error, const char *file)
{
  ExchError code;

  if (error == NULL || *error == NULL)
    return;
  if (g_error_matches (*error, STORE_ERROR, STORE_ERROR_CORRUPT))
    code = EXCH_ERROR_DAMAGED;
  else if (g_error_matches (*error, STORE_ERROR, STORE_ERROR_TOO_NEW))
    code = EXCH_ERROR_TOO_NEW;
  else
    return;
  g_clear_error (error);
  exch_set_error (error, code, file);
}

int
desk_backup_error (const GError *error)
{
  return error->domain == EXCH_ERROR ? error->code : -1;
}

static void
free_left (gpointer data)
{
  DeskLeft *left = data;

  g_free (left->name);
  g_free (left);
}

DeskBackup *
desk_backup_new (const ExchManifest *manifest, const char *path)
{
  DeskBackup *self = g_new0 (DeskBackup, 1);
  GStatBuf st;

  self->path = g_strdup (path);
  self->made = manifest->made;
  self->bytes = g_stat (path, &st) == 0 ? st.st_size : 0;
  self->entries = manifest->n_entries;
  self->subjects = manifest->n_subjects;
  self->photos = manifest->photos->len;
  self->positions = manifest->positions;
  self->whole = manifest->inside;
  self->left_out = g_ptr_array_new_with_free_func (free_left);
  for (guint i = 0; i < manifest->left_out->len; i++)
    {
      const ExchPhoto *photo = &g_array_index (manifest->left_out, ExchPhoto, i);
      DeskLeft *left = g_new0 (DeskLeft, 1);

      left->name = exch_photo_name (photo);
      left->why = (DeskLeftWhy) photo->why;
      g_ptr_array_add (self->left_out, left);
    }
  return self;
}

G_STATIC_ASSERT ((int) DESK_LEFT_KIND == (int) EXCH_LEFT_KIND);

void
desk_backup_free (DeskBackup *self)
{
  if (self == NULL)
    return;
  g_free (self->path);
  g_ptr_array_unref (self->left_out);
  g_free (self);
}

/* Each row is in one of the two lists, as it stands there; and no list has more. */
static gboolean
photos_match (Store *store, const ExchManifest *manifest, gboolean *match, GError **error)
{
  g_autoptr (GArray) rows = store_load_photos (store, error);

  if (rows == NULL)
    return FALSE;
  *match = rows->len == manifest->photos->len + manifest->left_out->len;
  for (guint i = 0; *match && i < rows->len; i++)
    {
      const StorePhoto *row = &g_array_index (rows, StorePhoto, i);
      const ExchPhoto *inside = exch_manifest_find (manifest->photos, row->hash);
      const ExchPhoto *left = exch_manifest_find (manifest->left_out, row->hash);
      const ExchPhoto *photo = inside != NULL ? inside : left;

      *match = (inside == NULL) != (left == NULL) && photo->bytes == row->bytes &&
               strcmp (photo->format, row->format) == 0;
    }
  return TRUE;
}

gboolean
desk_unpacked_check (const char *dir, const ExchManifest *manifest, const char *file, GError **error)
{
  GError *local = NULL;
  g_autoptr (Store) store = store_open_unpacked (dir, &local);
  gboolean match = FALSE;
  StoreCounts counts;

  if (store != NULL && store_counts (store, &counts, &local) &&
      photos_match (store, manifest, &match, &local))
    {
      if (match && counts.entries == (guint64) manifest->n_entries &&
          counts.subjects == (guint64) manifest->n_subjects)
        return TRUE;
      exch_set_error (error, EXCH_ERROR_DAMAGED, file);
      return FALSE;
    }
  desk_blame (&local, file);
  g_propagate_error (error, local);
  return FALSE;
}

/* ---- on a thread of its own ---- */

typedef struct
{
  DeskWork work;
  gpointer job;
} Working;

static void
working_free (gpointer data)
{
  Working *self = data;

  self->work.job_free (self->job);
  g_free (self);
}

static void
work_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Working *self = data;
  GError *error = NULL;
  gpointer result = self->work.run (self->job, &error);

  if (result != NULL)
    g_task_return_pointer (task, result, self->work.result_free);
  else
    g_task_return_error (task, error);
}

static void
worked_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;
  Working *self = g_task_get_task_data (G_TASK (result));
  GError *error = NULL;
  gpointer value = g_task_propagate_pointer (G_TASK (result), &error);

  if (value != NULL)
    g_task_return_pointer (task, value, self->work.result_free);
  else
    g_task_return_error (task, error);
}

void
desk_work_start (gpointer source,
                 gpointer tag,
                 const DeskWork *work,
                 gpointer job,
                 GAsyncReadyCallback callback,
                 gpointer data)
{
  GTask *task = g_task_new (source, NULL, callback, data);
  g_autoptr (GTask) thread = g_task_new (NULL, NULL, worked_cb, task);
  Working *working = g_new0 (Working, 1);

  g_task_set_source_tag (task, tag);
  working->work = *work;
  working->job = job;
  g_task_set_task_data (thread, working, working_free);
  g_task_run_in_thread (thread, work_thread);
}
