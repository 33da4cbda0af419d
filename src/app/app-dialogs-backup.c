/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-dialogs-backup.c — everything into one file, and a journal from one. */
#include <glib/gi18n.h>
#include <string.h>

#include "app/app-dialogs.h"
#include "app/app-form.h"
#include "app/app-pages.h"
#include "core/core-date.h"
#include "desk/desk-backup.h"
#include "words/words-tr.h"

/* ---- into a file ---- */

static char *
photos_words (const DeskBackup *backup)
{
  return g_strdup_printf (TN_ (WORDS_LOCAL, "backups", "%u photo", "%u photos", (gulong) backup->photos),
                          (guint) backup->photos);
}

static char *
backed_up_words (const DeskBackup *backup)
{
  g_autofree char *entries = g_strdup_printf (
    TN_ (WORDS_LOCAL, "backups", "%u entry", "%u entries", (gulong) backup->entries), (guint) backup->entries);
  g_autofree char *photos = photos_words (backup);
  g_autofree char *size = g_format_size ((guint64) backup->bytes);
  g_autofree char *shown = g_filename_display_name (backup->path);
  guint left = backup->left_out->len;

  if (left > 0)
    /* Translators: %1$s a file, %2$s "7 entries", %3$s "2 photos", %4$s a size */
    return g_strdup_printf (TN_ (WORDS_LOCAL, "backups", "Backed up to %1$s and read back: %2$s, %3$s, %4$s. %5$u photo is not in it.",
                                 "Backed up to %1$s and read back: %2$s, %3$s, %4$s. %5$u photos are not in it.", left),
                            shown, entries, photos, size, left);
  /* Translators: %1$s a file, %2$s "7 entries", %3$s "2 photos", %4$s a size */
  return g_strdup_printf (C_ ("backups", "Backed up to %1$s and read back: %2$s, %3$s, %4$s."), shown, entries, photos, size);
}

static void
backed_up_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppForm) form = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskBackup) backup = desk_backup_finish (DESK_DESK (source), result, &error);
  g_autofree char *text = backup != NULL ? backed_up_words (backup) : NULL;

  app_form_done (form, text, error);
}

static void
file_chosen_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppForm) form = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GFile) file = app_choose_finish (result, &error);
  g_autofree char *path = file != NULL ? g_file_get_path (file) : NULL;
  AppWindow *window = app_form_window (form);
  Desk *desk = window != NULL ? app_window_get_desk (window) : NULL;
  DeskBackupFlags flags = DESK_BACKUP_REPLACE; /* the chooser has asked */

  if (desk == NULL)
    return;
  if (path == NULL)
    {
      app_form_problem (form, file != NULL ? C_ ("backups", "The file must lie on this computer or a mounted disk.") : "");
      return;
    }
  if (strcmp (app_form_get (form, "positions"), "without") == 0)
    flags |= DESK_BACKUP_WITHOUT_POSITIONS;
  if (strcmp (app_form_get (form, "damaged"), "without") == 0)
    flags |= DESK_BACKUP_WITHOUT_DAMAGED;
  app_form_problem (form, C_ ("backups", "Writing, then reading it back…"));
  desk_backup_async (desk, path, flags, app_window_cancellable (window), backed_up_cb, g_object_ref (form));
}

static void
backup_submit (AppForm *form)
{
  AppWindow *window = app_form_window (form);
  char day[11];
  g_autofree char *name = NULL;

  core_day_to_text (desk_today (app_window_get_desk (window)), day);
  name = g_strdup_printf ("mantidary-%s" DESK_BACKUP_SUFFIX, day);
  app_choose_save_async (GTK_WINDOW (form), C_ ("backups", "Back up to a file"), name, app_window_cancellable (window),
                         file_chosen_cb, g_object_ref (form));
}

void
app_dialog_backup (AppWindow *window)
{
  const char *const positions[] = { C_ ("backups", "stay in the pictures"), C_ ("backups", "are left out"), NULL };
  const char *const damaged[] = { C_ ("backups", "end the backup"), C_ ("backups", "are left out and counted"), NULL };
  const char *const kept_or_not[] = { "kept", "without", NULL };
  const char *const stop_or_not[] = { "stop", "without", NULL };
  AppForm *form = app_form_new (window, C_ ("backups", "Back up to a file"), C_ ("backups", "C_hoose the file…"), backup_submit);

  app_form_note (form, C_ ("backups", "Pictures can say where they were taken, so where you live. To give the backup away, "
                                      "leave that out: JPEG, PNG and WebP are then copied without it, other kinds are not "
                                      "put in. Notes and names are copied as they are."));
  app_form_choice (form, "positions", C_ ("backups", "_Positions"), positions, kept_or_not, 0);
  app_form_choice (form, "damaged", C_ ("backups", "_Damaged photos"), damaged, stop_or_not, 0);
  app_form_show (form, "backup");
}

/* ---- from a file ---- */

typedef struct
{
  AppWindow *window; /* a reference */
  char *file;
  char *dir;
} Restoring;

static void
restoring_free (Restoring *self)
{
  g_object_unref (self->window);
  g_free (self->file);
  g_free (self->dir);
  g_free (self);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Restoring, restoring_free)

static void restore (Restoring *self, DeskBackupFlags flags);

/* Photos are missing beside a daily backup: its entries are better than nothing. */
static void
asked_cb (AdwMessageDialog *dialog, const char *response, Restoring *self)
{
  if (strcmp (response, "without") == 0)
    restore (self, DESK_BACKUP_WITHOUT_DAMAGED);
  else
    restoring_free (self);
}

static void
ask_without (Restoring *self, const GError *error)
{
  g_autofree char *why = app_error_text (error);
  GtkWidget *dialog
    = adw_message_dialog_new (GTK_WINDOW (self->window), C_ ("backups", "Photos of this backup are missing"), why);

  adw_message_dialog_add_responses (ADW_MESSAGE_DIALOG (dialog), "cancel", C_ ("backups", "_Cancel"), "without",
                                    C_ ("backups", "_Restore without them"), NULL);
  adw_message_dialog_set_default_response (ADW_MESSAGE_DIALOG (dialog), "without");
  adw_message_dialog_set_close_response (ADW_MESSAGE_DIALOG (dialog), "cancel");
  g_signal_connect (dialog, "response", G_CALLBACK (asked_cb), self);
  gtk_window_present (GTK_WINDOW (dialog));
}

static void
restored_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (Restoring) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskBackup) backup = desk_restore_finish (result, &error);
  WordsView view = { WORDS_LOCAL, CORE_DAY_NONE, 1 };
  g_autofree char *day = NULL;
  g_autofree char *text = NULL;

  if (g_error_matches (error, DESK_ERROR, DESK_ERROR_BACKUP))
    {
      ask_without (g_steal_pointer (&self), error);
      return;
    }
  if (backup == NULL)
    {
      app_window_say_error (self->window, error);
      return;
    }
  day = words_day (&view, backup->made, WORDS_DAY_FULL);
  if (backup->left_out->len > 0)
    text = g_strdup_printf (TN_ (WORDS_LOCAL, "backups", "This is the backup of %s, without %u photo that was not in it.",
                                 "This is the backup of %s, without %u photos that were not in it.", backup->left_out->len),
                            day, backup->left_out->len);
  else
    text = g_strdup_printf (C_ ("backups", "This is the backup of %s, whole."), day);
  app_window_open (self->window, self->dir, FALSE, CORE_DAY_NONE);
  app_window_say (self->window, text);
}

static void
restore (Restoring *self, DeskBackupFlags flags)
{
  app_window_say (self->window, C_ ("backups", "Reading the backup through and restoring it…"));
  desk_restore_async (self->file, self->dir, flags, app_window_cancellable (self->window), restored_cb, self);
}

static void
folder_chosen_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (Restoring) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GFile) folder = app_choose_finish (result, &error);

  self->dir = folder != NULL ? g_file_get_path (folder) : NULL;
  if (self->dir == NULL)
    {
      if (folder != NULL)
        app_window_say (self->window, C_ ("backups", "The folder must lie on this computer or a mounted disk."));
      return;
    }
  restore (g_steal_pointer (&self), DESK_BACKUP_DEFAULT);
}

static void
ask_folder (Restoring *self)
{
  app_choose_folder_async (GTK_WINDOW (self->window), C_ ("backups", "An empty folder for the restored journal"), TRUE,
                           app_window_cancellable (self->window), folder_chosen_cb, self);
}

static void
backup_chosen_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (Restoring) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GFile) file = app_choose_finish (result, &error);

  self->file = file != NULL ? g_file_get_path (file) : NULL;
  if (self->file != NULL)
    ask_folder (g_steal_pointer (&self));
  else if (file != NULL)
    app_window_say (self->window, C_ ("backups", "The file must lie on this computer or a mounted disk."));
}

void
app_dialog_restore (AppWindow *window, const char *file)
{
  Restoring *self = g_new0 (Restoring, 1);

  self->window = g_object_ref (window);
  self->file = g_strdup (file);
  if (file != NULL)
    ask_folder (self);
  else
    app_choose_backup_async (GTK_WINDOW (window), app_window_cancellable (window), backup_chosen_cb, self);
}
