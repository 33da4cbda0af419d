/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-window-journal.c — begin, open, switch: which folder the window works on.
 *
 * An existing journal is never touched by "begin": the store refuses a folder
 * that holds anything else. The demo lies in its own folder. The day that --today
 * named stays the day of whatever is opened. */
#include "app/app-window-private.h"

#include <glib/gi18n.h>

#include "app/app-dialogs.h"
#include "app/app-view.h"
#include "demo/demo.h"

void
app_window_ask_today (AppWindow *self, CoreDay today)
{
  g_return_if_fail (APP_IS_WINDOW (self));
  self->asked_today = today;
}

static char *
file_id (const char *path)
{
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GFileInfo) info = g_file_query_info (file, G_FILE_ATTRIBUTE_ID_FILE, G_FILE_QUERY_INFO_NONE, NULL, NULL);

  return info != NULL ? g_strdup (g_file_info_get_attribute_string (info, G_FILE_ATTRIBUTE_ID_FILE)) : NULL;
}

/* By the file system, so that a link or "./journal" is the same folder. */
static gboolean
is_same_folder (const char *a, const char *b)
{
  g_autofree char *of_a = file_id (a);
  g_autofree char *of_b = file_id (b);

  return of_a != NULL && g_strcmp0 (of_a, of_b) == 0;
}

static void
take_day (AppWindow *self, CoreDay today)
{
  WordsView view = app_view (self->desk);
  g_autofree char *day = NULL;
  g_autofree char *text = NULL;

  view.today = CORE_DAY_NONE;
  day = words_day (&view, today, WORDS_DAY_FULL);
  text = g_strdup_printf (C_ ("window", "The day is now taken to be %s."), day);
  self->fixed_today = TRUE;
  _app_window_set_today (self, today);
  app_window_say (self, text);
}

void
app_window_hand_over (AppWindow *self, const char *dir, CoreDay today)
{
  g_return_if_fail (APP_IS_WINDOW (self));

  if (dir != NULL && (self->desk == NULL || !is_same_folder (dir, desk_dir (self->desk))))
    {
      self->asked_today = today;
      app_window_open (self, dir, FALSE, today);
      return;
    }
  if (today != CORE_DAY_NONE)
    self->asked_today = today;
  if (today != CORE_DAY_NONE && self->desk != NULL && desk_today (self->desk) != today)
    take_day (self, today);
  else if (dir != NULL)
    app_window_say (self, C_ ("window", "This journal is open already."));
}

static char *
data_path (const char *name)
{
  return g_build_filename (g_get_user_data_dir (), "mantidary", name, NULL);
}

static void
new_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  g_autofree char *dir = data_path ("journal");
  g_autofree char *file = g_build_filename (dir, "journal.sqlite", NULL);
  AppWindow *self = APP_WINDOW (widget);

  /* The usual place; when a journal is there already, it is opened, not replaced. */
  if (g_file_test (file, G_FILE_TEST_EXISTS))
    {
      app_window_open (self, dir, FALSE, CORE_DAY_NONE);
      app_window_say (self, C_ ("window", "You have a journal already: here it is. To begin another, open an empty folder."));
    }
  else
    app_window_open (self, dir, TRUE, CORE_DAY_NONE);
}

static void
folder_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppWindow) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GFile) folder = app_choose_finish (result, &error);
  g_autofree char *dir = NULL;
  g_autofree char *file = NULL;

  if (folder == NULL)
    {
      app_window_say_error (self, error);
      return;
    }
  dir = g_file_get_path (folder);
  if (dir == NULL)
    {
      app_window_say (self, C_ ("window", "A journal must lie on this computer or a mounted disk."));
      return;
    }
  file = g_build_filename (dir, "journal.sqlite", NULL);
  app_window_open (self, dir, !g_file_test (file, G_FILE_TEST_EXISTS), CORE_DAY_NONE);
}

static void
open_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  app_choose_folder_async (GTK_WINDOW (widget), C_ ("window", "Open a journal, or begin one in an empty folder"), TRUE,
                           APP_WINDOW (widget)->cancellable, folder_cb, g_object_ref (widget));
}

static void
demo_made_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppWindow) self = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *dir = data_path ("demo");

  if (!demo_ensure_finish (result, &error))
    app_window_say_error (self, error);
  else
    app_window_open (self, dir, FALSE, CORE_DAY_NONE);
}

static void
demo_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  g_autofree char *dir = data_path ("demo");
  AppWindow *self = APP_WINDOW (widget);

  if (!g_file_test (dir, G_FILE_TEST_IS_DIR))
    app_window_say (self, C_ ("window", "Drawing the demo journal with its pictures; this takes some seconds."));
  demo_ensure_async (dir, self->asked_today != CORE_DAY_NONE ? self->asked_today : _app_clock_day (), self->cancellable, demo_made_cb, g_object_ref (self));
}

void
_app_window_journal_class_init (GtkWidgetClass *klass)
{
  gtk_widget_class_install_action (klass, "win.new-journal", NULL, new_cb);
  gtk_widget_class_install_action (klass, "win.open-journal", NULL, open_cb);
  gtk_widget_class_install_action (klass, "win.demo-journal", NULL, demo_cb);
}
