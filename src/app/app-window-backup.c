/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-window-backup.c — backups in the window: menu, the note on a failed one, a damaged journal. */
#include "app/app-window-private.h"

#include <glib/gi18n.h>

#include "app/app-damaged-page.h"
#include "app/app-dialogs.h"
#include "app/app-pages.h"
#include "desk/desk-backup.h"
#include "words/words-tr.h"

#define FIRST_BACKUP_MS 30000 /* after opening: the first looks are not disturbed */

static void
page_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  if (APP_WINDOW (widget)->desk != NULL)
    app_window_show_page (APP_WINDOW (widget), "backups");
}

static void
merge_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  if (APP_WINDOW (widget)->desk != NULL)
    app_window_show_page (APP_WINDOW (widget), "merge");
}

static void
file_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  if (APP_WINDOW (widget)->desk != NULL)
    app_dialog_backup (APP_WINDOW (widget));
}

static void
restore_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  const char *file = g_variant_get_string (parameter, NULL);

  app_dialog_restore (APP_WINDOW (widget), file[0] != '\0' ? file : NULL);
}

void
_app_window_backup_class_init (GtkWidgetClass *klass)
{
  gtk_widget_class_install_action (klass, "win.backups", NULL, page_cb);
  gtk_widget_class_install_action (klass, "win.backup-file", NULL, file_cb);
  gtk_widget_class_install_action (klass, "win.merge", NULL, merge_cb);
  gtk_widget_class_install_action (klass, "win.restore", "s", restore_cb);
}

/* ---- the note over the pages ---- */

static char *
note_words (Desk *desk)
{
  const GError *failed = desk_backups_failed (desk);
  guint left_out = desk_backups_left_out (desk);
  g_autofree char *why = NULL;

  if (failed != NULL)
    {
      why = app_error_text (failed);
      return g_strdup_printf (C_ ("backups", "The backup of today failed. %s"), why);
    }
  if (left_out > 0)
    return g_strdup_printf (TN_ (WORDS_LOCAL, "backups", "%u photo of this journal is missing or damaged and could not be backed up.",
                                 "%u photos of this journal are missing or damaged and could not be backed up.", left_out),
                            left_out);
  return NULL;
}

static void
done_cb (Desk *desk, AppWindow *self)
{
  g_autofree char *note = note_words (desk);

  gtk_label_set_label (self->backup_note, note != NULL ? note : "");
  gtk_widget_set_visible (self->backup_box, note != NULL);
}

/* Found while it is open: what its pages show may lack something by now, and nothing may be
 * written. */
static void
damaged_cb (Desk *desk, AppWindow *self)
{
  g_autoptr (Desk) left = g_object_ref (desk);

  _app_window_set_desk (self, NULL);
  _app_window_show_damaged (self, desk_dir (left), desk_today (left));
}

/* The handlers go with the desk or the window. */
void
_app_window_backup_set_desk (AppWindow *self, Desk *before)
{
  if (before != NULL)
    {
      g_signal_handlers_disconnect_by_func (before, done_cb, self);
      g_signal_handlers_disconnect_by_func (before, damaged_cb, self);
    }
  gtk_widget_set_visible (self->backup_box, FALSE);
  if (self->desk != NULL)
    g_signal_connect_object (self->desk, "backup-done", G_CALLBACK (done_cb), self, 0);
  if (self->desk != NULL)
    g_signal_connect_object (self->desk, "damaged", G_CALLBACK (damaged_cb), self, 0);
}

void
_app_window_backup_begin (AppWindow *self)
{
  desk_backups_watch (self->desk, FIRST_BACKUP_MS);
}

/* ---- a journal that is damaged ---- */

gboolean
_app_window_is_damaged (const char *dir, const GError *error)
{
  return desk_backups_may_help (dir, error);
}

void
_app_window_show_damaged (AppWindow *self, const char *dir, CoreDay today)
{
  GtkWidget *page = gtk_stack_get_child_by_name (self->pages, "damaged");

  app_damaged_page_set (APP_DAMAGED_PAGE (page), dir, today != CORE_DAY_NONE ? today : _app_clock_day ());
  app_window_show_page (self, "damaged");
}
