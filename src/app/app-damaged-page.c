/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-damaged-page.c — see app-damaged-page.h. The damaged journal itself is never written. */
#include "app/app-damaged-page.h"

#include <glib/gi18n.h>

#include "app/app-pages.h"
#include "app/app-widgets.h"
#include "app/app-window.h"
#include "core/core-date.h"
#include "desk/desk-backup.h"
#include "words/words-tr.h"
#include "words/words.h"

struct _AppDamagedPage
{
  GtkWidget parent_instance;

  /* Template children, borrowed */
  GtkLabel *where;
  GtkLabel *newest_words;
  GtkButton *newest;
  GtkButton *salvage;
  GtkSpinner *spinner;

  /* Owned */
  char *dir;
  GPtrArray *backups; /* DeskDaily, newest first */
  char *target;       /* the new folder, while something is under way */

  CoreDay today;
  guint trying; /* which backup is being restored */
};

G_DEFINE_FINAL_TYPE (AppDamagedPage, app_damaged_page, GTK_TYPE_WIDGET)

static void
refresh (AppDamagedPage *self)
{
  gboolean idle = self->target == NULL;
  gboolean any = self->backups != NULL && self->backups->len > 0;
  WordsView view = { WORDS_LOCAL, self->today, 1 };

  gtk_spinner_set_spinning (self->spinner, !idle);
  gtk_widget_set_sensitive (GTK_WIDGET (self->newest), idle);
  gtk_widget_set_sensitive (GTK_WIDGET (self->salvage), idle);
  gtk_widget_set_visible (GTK_WIDGET (self->newest), any);
  if (any)
    {
      const DeskDaily *newest = g_ptr_array_index (self->backups, 0);
      g_autofree char *day = words_day (&view, newest->day, WORDS_DAY_FULL);
      g_autofree char *text
        = g_strdup_printf (C_ ("damaged", "The newest daily backup is of %s. It is read through first; if it is not sound "
                                          "the next older one is taken. It becomes a journal in a new folder beside."),
                           day);

      gtk_label_set_label (self->newest_words, text);
    }
  else
    gtk_label_set_label (self->newest_words, C_ ("damaged", "There are no daily backups in the usual place. If you have one "
                                                            "in a file or on another disk, restore that."));
}

void
app_damaged_page_set (AppDamagedPage *self, const char *dir, CoreDay today)
{
  g_autofree char *shown = g_filename_display_name (dir);
  g_autofree char *text
    = g_strdup_printf (C_ ("damaged", "The journal in %s cannot be read. Nothing in that folder was changed, and nothing "
                                      "will be: leave it as it is until you have your entries back."),
                       shown);

  g_return_if_fail (APP_IS_DAMAGED_PAGE (self));
  g_free (self->dir);
  self->dir = g_strdup (dir);
  self->today = today;
  g_clear_pointer (&self->backups, g_ptr_array_unref);
  self->backups = desk_backups_list (dir, today);
  gtk_label_set_label (self->where, text);
  refresh (self);
}

/* ---- what it does ---- */

/* Ends what is under way: opens the new journal, or says why there is none. */
static void
end (AppDamagedPage *self, const char *text, const GError *error)
{
  g_autofree char *target = g_steal_pointer (&self->target);
  AppWindow *window = app_window_of (self);

  refresh (self);
  if (window == NULL)
    return;
  if (error != NULL)
    {
      app_window_say_error (window, error);
      return;
    }
  app_window_open (window, target, FALSE, CORE_DAY_NONE);
  app_window_say (window, text);
}

static void try_next (AppDamagedPage *self);

static void
restored_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppDamagedPage) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskBackup) backup = desk_restore_finish (result, &error);
  WordsView view = { WORDS_LOCAL, CORE_DAY_NONE, 1 };
  g_autofree char *day = NULL;
  g_autofree char *shown = NULL;
  g_autofree char *text = NULL;

  if (backup == NULL && desk_error_fault (error) == DESK_FAULT_DAMAGED
      && ++self->trying < self->backups->len)
    {
      try_next (self);
      return;
    }
  if (backup != NULL)
    {
      day = words_day (&view, backup->made, WORDS_DAY_FULL);
      shown = g_filename_display_name (self->target);
      /* Translators: a day, a folder */
      text = g_strdup_printf (C_ ("damaged", "This is the backup of %s. It lies in %s."), day, shown);
    }
  end (self, text, error);
}

/* Photos that its folder lost do not keep a backup back: there is nothing better to be had. */
static void
try_next (AppDamagedPage *self)
{
  AppWindow *window = app_window_of (self);
  const DeskDaily *daily = g_ptr_array_index (self->backups, self->trying);

  desk_restore_async (daily->path, self->target, DESK_BACKUP_WITHOUT_DAMAGED,
                      window != NULL ? app_window_cancellable (window) : NULL, restored_cb, g_object_ref (self));
}

static void
newest_cb (GtkButton *button, AppDamagedPage *self)
{
  if (self->target != NULL || self->backups == NULL || self->backups->len == 0)
    return;
  self->target = desk_backups_new_folder (self->dir, self->today);
  self->trying = 0;
  refresh (self);
  try_next (self);
}

static char *
saved_words (const DeskSalvage *saved)
{
  g_autofree char *kept = g_strdup_printf (
    TN_ (WORDS_LOCAL, "damaged", "%u entry was saved", "%u entries were saved", (gulong) saved->entries),
    (guint) saved->entries);
  g_autofree char *lost =
    words_salvage_lost (WORDS_LOCAL, (gsize) saved->entries_lost, saved->pages_missing > 0);
  g_autofree char *photos
    = g_strdup_printf (TN_ (WORDS_LOCAL, "damaged", "%u photo was saved", "%u photos were saved", (gulong) saved->photos),
                       (guint) saved->photos);

  if (saved->photos_lost > 0)
    return g_strdup_printf (C_ ("damaged", "%s, %s; %s, %u lost. Read it through: what was taken back may count again."),
                            kept, lost, photos, (guint) saved->photos_lost);
  return g_strdup_printf (C_ ("damaged", "%s, %s; %s. Read it through: what was taken back may count again."), kept,
                          lost, photos);
}

static void
salvaged_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppDamagedPage) self = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  DeskSalvage saved;

  if (desk_salvage_finish (result, &saved, &error))
    text = saved_words (&saved);
  end (self, text, error);
}

static void
salvage_cb (GtkButton *button, AppDamagedPage *self)
{
  AppWindow *window = app_window_of (self);

  if (self->target != NULL || self->dir == NULL)
    return;
  self->target = desk_backups_new_folder (self->dir, self->today);
  refresh (self);
  desk_salvage_async (self->dir, self->target, window != NULL ? app_window_cancellable (window) : NULL, salvaged_cb,
                      g_object_ref (self));
}

/* ---- the page ---- */

static void
dispose (GObject *object)
{
  app_template_dispose (GTK_WIDGET (object), APP_TYPE_DAMAGED_PAGE);
  G_OBJECT_CLASS (app_damaged_page_parent_class)->dispose (object);
}

static void
finalize (GObject *object)
{
  AppDamagedPage *self = APP_DAMAGED_PAGE (object);

  g_free (self->dir);
  g_free (self->target);
  g_clear_pointer (&self->backups, g_ptr_array_unref);
  G_OBJECT_CLASS (app_damaged_page_parent_class)->finalize (object);
}

static void
app_damaged_page_class_init (AppDamagedPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  G_OBJECT_CLASS (klass)->finalize = finalize;
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/damaged-page.ui");
  gtk_widget_class_bind_template_child (widget_class, AppDamagedPage, where);
  gtk_widget_class_bind_template_child (widget_class, AppDamagedPage, newest_words);
  gtk_widget_class_bind_template_child (widget_class, AppDamagedPage, newest);
  gtk_widget_class_bind_template_child (widget_class, AppDamagedPage, salvage);
  gtk_widget_class_bind_template_child (widget_class, AppDamagedPage, spinner);
}

static void
app_damaged_page_init (AppDamagedPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->today = CORE_DAY_NONE;
  g_signal_connect_object (self->newest, "clicked", G_CALLBACK (newest_cb), self, 0);
  g_signal_connect_object (self->salvage, "clicked", G_CALLBACK (salvage_cb), self, 0);
}

GtkWidget *
app_damaged_page_new (void)
{
  return g_object_new (APP_TYPE_DAMAGED_PAGE, NULL);
}
