/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-daily.c — the backup of each day: where it lies, which ones stay.
 *
 * Invariant: only files of the form YYYY-MM-DD.mantidary in the folder are ever removed, only those
 * that core_keep() lets go, and only after that of today has been read back. Photos are never
 * removed.
 */
#include "desk/desk-backup-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/core-date.h"

#define CONF_NAME "backups.ini"
#define CONF_GROUP "backups"

/* ---- where ---- */

static GKeyFile *
read_conf (const char *dir)
{
  g_autofree char *path = g_build_filename (dir, CONF_NAME, NULL);
  GKeyFile *conf = g_key_file_new ();

  g_key_file_load_from_file (conf, path, G_KEY_FILE_NONE, NULL);
  return conf;
}

char *
desk_backups_folder (const char *dir)
{
  g_autofree char *whole = g_canonicalize_filename (dir, NULL);
  g_autoptr (GKeyFile) conf = read_conf (whole);
  g_autofree char *set = g_key_file_get_string (conf, CONF_GROUP, "folder", NULL);

  if (set != NULL && g_path_is_absolute (set))
    return g_steal_pointer (&set);
  return desk_backups_usual_folder (whole);
}

char *
desk_backups_usual_folder (const char *dir)
{
  g_autofree char *whole = g_canonicalize_filename (dir, NULL);

  return g_strconcat (whole, "-backups", NULL);
}

char *
desk_backups_new_folder (const char *dir, CoreDay day)
{
  g_autofree char *whole = g_canonicalize_filename (dir, NULL);
  char text[11];

  core_day_to_text (day, text);
  for (int i = 1;; i++)
    {
      g_autofree char *path = i == 1 ? g_strdup_printf ("%s-restored-%s", whole, text)
                                     : g_strdup_printf ("%s-restored-%s-%d", whole, text, i);

      if (!g_file_test (path, G_FILE_TEST_EXISTS) && !g_file_test (path, G_FILE_TEST_IS_SYMLINK))
        return g_steal_pointer (&path);
    }
}

gboolean
desk_backups_may_help (const char *dir, const GError *error)
{
  return g_error_matches (error, STORE_ERROR, STORE_ERROR_CORRUPT) && store_exists (dir);
}

gboolean
desk_backups_on (const char *dir)
{
  g_autoptr (GKeyFile) conf = read_conf (dir);

  return !g_key_file_has_key (conf, CONF_GROUP, "on", NULL) ||
         g_key_file_get_boolean (conf, CONF_GROUP, "on", NULL);
}

static gboolean
write_conf (const char *dir, GKeyFile *conf, GError **error)
{
  g_autofree char *path = g_build_filename (dir, CONF_NAME, NULL);
  gsize n;
  g_autofree char *text = g_key_file_to_data (conf, &n, NULL);

  return exch_file_make_of (path, text, n, TRUE, error);
}

gboolean
desk_backups_set (const char *dir, const char *folder, gboolean on, GError **error)
{
  g_autoptr (GKeyFile) conf = read_conf (dir);
  g_autofree char *whole = folder != NULL ? g_canonicalize_filename (folder, NULL) : NULL;

  if (whole != NULL && !desk_path_outside (whole, error))
    return FALSE;
  if (whole != NULL)
    g_key_file_set_string (conf, CONF_GROUP, "folder", whole);
  else
    g_key_file_remove_key (conf, CONF_GROUP, "folder", NULL);
  g_key_file_set_boolean (conf, CONF_GROUP, "on", on);
  return write_conf (dir, conf, error);
}

/* ---- which ---- */

static CoreDay
day_of_name (const char *name)
{
  g_autofree char *day = NULL;

  if (!g_str_has_suffix (name, DESK_BACKUP_SUFFIX))
    return CORE_DAY_NONE;
  day = g_strndup (name, strlen (name) - strlen (DESK_BACKUP_SUFFIX));
  return core_day_from_text (day);
}

static void
free_daily (gpointer data)
{
  DeskDaily *daily = data;

  g_free (daily->path);
  g_free (daily);
}

static int
compare_newest_first (gconstpointer a, gconstpointer b)
{
  const DeskDaily *const *one = a;
  const DeskDaily *const *two = b;

  return ((*one)->day < (*two)->day) - ((*one)->day > (*two)->day);
}

static void
decide (GPtrArray *list, CoreDay today)
{
  g_autofree CoreDay *days = g_new (CoreDay, list->len);
  g_autofree CoreKeep *keep = g_new (CoreKeep, list->len);

  for (guint i = 0; i < list->len; i++)
    days[i] = ((DeskDaily *) list->pdata[i])->day;
  core_keep (days, list->len, today, keep);
  for (guint i = 0; i < list->len; i++)
    ((DeskDaily *) list->pdata[i])->keep = keep[i];
}

static GPtrArray *
list_folder (const char *folder, CoreDay today)
{
  GPtrArray *list = g_ptr_array_new_with_free_func (free_daily);
  g_autoptr (GDir) listing = g_dir_open (folder, 0, NULL);
  const char *name;

  while (listing != NULL && (name = g_dir_read_name (listing)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      CoreDay day = day_of_name (name);
      DeskDaily *daily;
      GStatBuf st;

      if (day == CORE_DAY_NONE || g_lstat (path, &st) != 0 || !S_ISREG (st.st_mode))
        continue;
      daily = g_new0 (DeskDaily, 1);
      daily->path = g_steal_pointer (&path);
      daily->day = day;
      daily->bytes = st.st_size;
      g_ptr_array_add (list, daily);
    }
  g_ptr_array_sort (list, compare_newest_first);
  decide (list, today);
  return list;
}

GPtrArray *
desk_backups_list (const char *dir, CoreDay today)
{
  g_autofree char *folder = desk_backups_folder (dir);

  return list_folder (folder, today);
}

/* ---- making that of today ---- */

/* What a crash has left of an archive that was being written. */
static void
remove_leftovers (const char *folder)
{
  g_autoptr (GDir) listing = g_dir_open (folder, 0, NULL);
  const char *name;

  while (listing != NULL && (name = g_dir_read_name (listing)) != NULL)
    if (name[0] == '.' && strstr (name, DESK_BACKUP_SUFFIX ".part-") != NULL)
      {
        g_autofree char *path = g_build_filename (folder, name, NULL);

        if (g_file_test (path, G_FILE_TEST_IS_DIR))
          exch_file_remove_tree (path);
        else
          g_unlink (path);
      }
}

static void
remove_old (const char *folder, CoreDay today)
{
  g_autoptr (GPtrArray) list = list_folder (folder, today);

  for (guint i = 0; i < list->len; i++)
    {
      DeskDaily *daily = list->pdata[i];

      if (daily->keep == CORE_KEEP_NOT)
        g_unlink (daily->path);
    }
}

/* Two programs may have the journal open: the first to lock the folder makes the backup. */
static int
lock_folder (const char *folder, GError **error)
{
  int fd = g_open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC, 0);

  if (fd < 0)
    exch_set_errno (error, errno, folder);
  else if (flock (fd, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK)
    {
      desk_fail (error, STORE_ERROR, STORE_ERROR_BUSY, WORDS_DESK_BACKUP_BUSY, NULL);
      close (fd);
      return -1;
    }
  return fd;
}

static DeskBackup *
make_locked (const DeskBackupJob *job, GError **error)
{
  DeskBackup *backup;

  remove_leftovers (job->pool);
  backup = desk_backup_run (job, error);
  if (backup != NULL)
    remove_old (job->pool, job->today);
  return backup;
}

static gpointer
run_daily (gpointer data, GError **error)
{
  const DeskBackupJob *job = data;
  DeskBackup *backup;
  int fd;

  if (!desk_path_outside (job->pool, error) || !exch_file_make_dir (job->pool, error))
    return NULL;
  fd = lock_folder (job->pool, error);
  if (fd < 0)
    return NULL;
  backup = make_locked (job, error);
  close (fd); /* the lock goes with it */
  return backup;
}

static gboolean
is_made (const char *path)
{
  GStatBuf st;

  return g_lstat (path, &st) == 0 && S_ISREG (st.st_mode) && st.st_size > 0;
}

void
desk_backups_make_async (Desk *self,
                         gboolean again,
                         GCancellable *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer data)
{
  DeskWork work = { run_daily, desk_backup_job_free, (GDestroyNotify) desk_backup_free };
  g_autofree char *folder = desk_backups_folder (self->dir);
  g_autofree char *name = NULL;
  g_autofree char *path = NULL;
  DeskBackupJob *job;
  char day[11];

  core_day_to_text (self->today, day);
  name = g_strconcat (day, DESK_BACKUP_SUFFIX, NULL);
  path = g_build_filename (folder, name, NULL);
  if (!again && is_made (path))
    {
      g_autoptr (GTask) task = g_task_new (self, NULL, callback, data);

      g_task_set_source_tag (task, desk_backups_make_async);
      g_task_return_pointer (task, NULL, NULL);
      return;
    }
  job = desk_backup_job_new (self, path, DESK_BACKUP_REPLACE | DESK_BACKUP_WITHOUT_DAMAGED,
                             cancellable);
  job->pool = g_steal_pointer (&folder);
  desk_work_start (self, desk_backups_make_async, &work, job, callback, data);
}

DeskBackup *
desk_backups_make_finish (Desk *self, GAsyncResult *result, GError **error)
{
  GError *local = NULL;
  DeskBackup *made;

  g_return_val_if_fail (g_async_result_is_tagged (result, desk_backups_make_async), NULL);
  made = g_task_propagate_pointer (G_TASK (result), &local);
  desk_watch_note (self, made, local);
  if (local != NULL)
    g_propagate_error (error, local);
  return made;
}
