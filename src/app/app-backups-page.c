/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-backups-page.c — see app-backups-page.h. */
#include "app/app-backups-page.h"

#include <glib/gi18n.h>

#include "app/app-dialogs.h"
#include "app/app-pages.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-window.h"
#include "desk/desk-backup.h"
#include "words/words-tr.h"

struct _AppBackupsPage
{
  AppDeskPage parent_instance;

  /* Template children, borrowed */
  GtkWidget *scroller;
  GtkLabel *daily_words;
  GtkLabel *folder_words;
  GtkSwitch *daily;
  GtkButton *now;
  GtkButton *folder;
  GtkButton *usual;
  GtkSpinner *spinner;
  GtkListBox *list;

  gboolean filling;
  gboolean working;
};

G_DEFINE_FINAL_TYPE (AppBackupsPage, app_backups_page, APP_TYPE_DESK_PAGE)

static void refresh (AppBackupsPage *self);

/* ---- what it says ---- */

static char *
day_words (Desk *desk, CoreDay day)
{
  WordsView view = app_view (desk);

  return words_day (&view, day, WORDS_DAY_FULL);
}

/* How it stands: the first that applies. */
static char *
state_words (Desk *desk, GPtrArray *list, gboolean *trouble)
{
  const GError *failed = desk_backups_failed (desk);
  g_autofree char *why = NULL;
  g_autofree char *day = NULL;
  guint left_out = desk_backups_left_out (desk);

  *trouble = FALSE;
  if (desk_is_demo (desk))
    return g_strdup (C_ ("backups", "The demo journal is not backed up by itself. A journal of your own is."));
  if (desk_read_only (desk))
    return g_strdup (C_ ("backups", "This journal can only be read here, so it is not backed up by itself."));
  if (failed != NULL)
    {
      *trouble = TRUE;
      why = app_error_text (failed);
      return g_strdup_printf (C_ ("backups", "The last try failed: %s It is tried again within the hour."), why);
    }
  if (left_out > 0)
    {
      *trouble = TRUE;
      return g_strdup_printf (
        TN_ (WORDS_LOCAL, "backups",
             "The last backup had to do without %u photo that is missing or damaged. An older backup may have it.",
             "The last backup had to do without %u photos that are missing or damaged. An older backup may have them.",
             left_out),
        left_out);
    }
  if (!desk_backups_on (desk_dir (desk)))
    return g_strdup (C_ ("backups", "Switched off. Nothing is kept a second time unless you do it."));
  if (list->len == 0)
    return g_strdup (C_ ("backups", "There is none yet. The first is made within a minute of opening the journal."));
  day = day_words (desk, ((DeskDaily *) list->pdata[0])->day);
  return g_strdup_printf (C_ ("backups", "Last made on %s, and read back. Seven days and eight weeks are kept."), day);
}

static void
say_state (AppBackupsPage *self, Desk *desk, GPtrArray *list)
{
  gboolean trouble;
  g_autofree char *words = state_words (desk, list, &trouble);
  g_autofree char *folder = desk_backups_folder (desk_dir (desk));
  g_autofree char *shown = g_filename_display_name (folder);
  g_autofree char *where = g_strdup_printf (C_ ("backups", "They lie in %s."), shown);

  gtk_label_set_label (self->daily_words, words);
  if (trouble)
    gtk_widget_add_css_class (GTK_WIDGET (self->daily_words), "trouble");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self->daily_words), "trouble");
  gtk_label_set_label (self->folder_words, where);
}

static void
restore_cb (GtkButton *button, AppBackupsPage *self)
{
  const char *path = g_object_get_data (G_OBJECT (button), "path");

  gtk_widget_activate_action (GTK_WIDGET (self), "win.restore", "s", path);
}

static GtkWidget *
row_label (const char *text, int chars, const char *css)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_width_chars (GTK_LABEL (label), chars);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  if (css != NULL)
    gtk_widget_add_css_class (label, css);
  return label;
}

static const char *
keep_words (CoreKeep keep)
{
  switch (keep)
    {
    case CORE_KEEP_WEEKLY:
      return C_ ("backups", "of its week");
    case CORE_KEEP_AHEAD:
      return C_ ("backups", "of a day to come");
    default:
      return C_ ("backups", "of its day");
    }
}

static void
add_row (AppBackupsPage *self, Desk *desk, const DeskDaily *daily)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *button = gtk_button_new_with_label (C_ ("backups", "Restore…"));
  g_autofree char *day = day_words (desk, daily->day);
  g_autofree char *size = g_format_size ((guint64) daily->bytes);
  /* Translators: a day */
  g_autofree char *name = g_strdup_printf (C_ ("backups", "Restore the backup of %s"), day);
  GtkWidget *when = row_label (day, 24, "numbers");

  gtk_widget_set_hexpand (when, TRUE);
  gtk_box_append (GTK_BOX (box), when);
  gtk_box_append (GTK_BOX (box), row_label (keep_words (daily->keep), 12, "dim"));
  gtk_box_append (GTK_BOX (box), row_label (size, 9, "dim"));
  gtk_widget_add_css_class (button, "quiet");
  gtk_widget_set_tooltip_text (button, name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_object_set_data_full (G_OBJECT (button), "path", g_strdup (daily->path), g_free);
  g_signal_connect_object (button, "clicked", G_CALLBACK (restore_cb), self, 0);
  gtk_box_append (GTK_BOX (box), button);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
  gtk_widget_set_focusable (row, FALSE); /* its button is */
  gtk_list_box_append (self->list, row);
}

static void
refresh (AppBackupsPage *self)
{
  Desk *desk = app_desk_page_desk (self);
  g_autoptr (GPtrArray) list = NULL;
  g_autofree char *folder = NULL;
  g_autofree char *usual = NULL;
  gboolean own;
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->list))) != NULL)
    gtk_list_box_remove (self->list, child);
  if (desk == NULL)
    return;
  own = !desk_is_demo (desk) && !desk_read_only (desk);
  folder = desk_backups_folder (desk_dir (desk));
  usual = desk_backups_usual_folder (desk_dir (desk));
  list = desk_backups_list (desk_dir (desk), desk_today (desk));
  say_state (self, desk, list);
  self->filling = TRUE;
  gtk_switch_set_active (self->daily, own && desk_backups_on (desk_dir (desk)));
  self->filling = FALSE;
  gtk_widget_set_sensitive (GTK_WIDGET (self->daily), own);
  gtk_widget_set_sensitive (GTK_WIDGET (self->now), !self->working);
  gtk_widget_set_sensitive (GTK_WIDGET (self->folder), own && !self->working);
  gtk_widget_set_visible (GTK_WIDGET (self->usual), own && g_strcmp0 (folder, usual) != 0);
  gtk_spinner_set_spinning (self->spinner, self->working);
  for (guint i = 0; i < list->len; i++)
    add_row (self, desk, g_ptr_array_index (list, i));
  gtk_widget_set_visible (GTK_WIDGET (self->list), list->len > 0);
}

/* ---- what it does ---- */

static void
made_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppBackupsPage) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (DeskBackup) made = desk_backups_make_finish (DESK_DESK (source), result, &error);
  AppWindow *window = app_window_of (self);

  self->working = FALSE;
  if (window != NULL && made == NULL)
    app_window_say_error (window, error);
  else if (window != NULL && made->left_out->len == 0)
    app_window_say (window, C_ ("backups", "The backup of today was made and read back."));
  refresh (self);
}

static void
now_cb (GtkButton *button, AppBackupsPage *self)
{
  Desk *desk = app_desk_page_desk (self);
  AppWindow *window = app_window_of (self);

  if (desk == NULL || self->working)
    return;
  self->working = TRUE;
  refresh (self);
  desk_backups_make_async (desk, TRUE, window != NULL ? app_window_cancellable (window) : NULL, made_cb,
                           g_object_ref (self));
}

static void
set_up (AppBackupsPage *self, const char *folder, gboolean on)
{
  Desk *desk = app_desk_page_desk (self);
  AppWindow *window = app_window_of (self);
  g_autoptr (GError) error = NULL;

  if (!desk_backups_set (desk_dir (desk), folder, on, &error))
    {
      if (window != NULL)
        app_window_say_error (window, error);
    }
  else if (on)
    desk_backups_watch (desk, 1000);
  refresh (self);
}

static void
switched_cb (GtkSwitch *knob, GParamSpec *pspec, AppBackupsPage *self)
{
  Desk *desk = app_desk_page_desk (self);
  g_autofree char *folder = NULL;
  g_autofree char *usual = NULL;

  if (self->filling || desk == NULL)
    return;
  folder = desk_backups_folder (desk_dir (desk));
  usual = desk_backups_usual_folder (desk_dir (desk));
  set_up (self, g_strcmp0 (folder, usual) != 0 ? folder : NULL, gtk_switch_get_active (knob));
}

static void
folder_chosen_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppBackupsPage) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GFile) folder = app_choose_finish (result, &error);
  AppWindow *window = app_window_of (self);
  g_autofree char *path = folder != NULL ? g_file_get_path (folder) : NULL;

  if (app_desk_page_desk (self) == NULL || window == NULL)
    return;
  if (folder != NULL && path == NULL)
    app_window_say (window, C_ ("backups", "The folder must lie on this computer or a mounted disk."));
  else if (path != NULL)
    set_up (self, path, TRUE);
  else
    app_window_say_error (window, error);
}

static void
folder_cb (GtkButton *button, AppBackupsPage *self)
{
  AppWindow *window = app_window_of (self);

  if (window != NULL)
    app_choose_folder_async (GTK_WINDOW (window), C_ ("backups", "Where the daily backups are to lie"), TRUE,
                             app_window_cancellable (window), folder_chosen_cb, g_object_ref (self));
}

static void
usual_cb (GtkButton *button, AppBackupsPage *self)
{
  Desk *desk = app_desk_page_desk (self);

  if (desk != NULL)
    set_up (self, NULL, desk_backups_on (desk_dir (desk)));
}

/* ---- the page ---- */

static void
desk_set (AppDeskPage *page)
{
  refresh (APP_BACKUPS_PAGE (page));
}

/* A new day, a new backup. */
static void
look_again (AppDeskPage *page)
{
  if (gtk_widget_get_mapped (GTK_WIDGET (page)))
    refresh (APP_BACKUPS_PAGE (page));
}

/* It begins on the page, not on a switch that would do something. */
static gboolean
focus (AppDeskPage *page)
{
  return gtk_widget_grab_focus (APP_BACKUPS_PAGE (page)->scroller);
}

static void
dispose (GObject *object)
{
  app_template_dispose (GTK_WIDGET (object), APP_TYPE_BACKUPS_PAGE);
  G_OBJECT_CLASS (app_backups_page_parent_class)->dispose (object);
}

static void
app_backups_page_class_init (AppBackupsPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  APP_DESK_PAGE_CLASS (klass)->focus = focus;
  APP_DESK_PAGE_CLASS (klass)->desk_set = desk_set;
  APP_DESK_PAGE_CLASS (klass)->today_changed = look_again;
  APP_DESK_PAGE_CLASS (klass)->backup_done = look_again;
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/backups-page.ui");
  gtk_widget_class_bind_template_child (widget_class, AppBackupsPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, AppBackupsPage, daily_words);
  gtk_widget_class_bind_template_child (widget_class, AppBackupsPage, folder_words);
  gtk_widget_class_bind_template_child (widget_class, AppBackupsPage, daily);
  gtk_widget_class_bind_template_child (widget_class, AppBackupsPage, now);
  gtk_widget_class_bind_template_child (widget_class, AppBackupsPage, folder);
  gtk_widget_class_bind_template_child (widget_class, AppBackupsPage, usual);
  gtk_widget_class_bind_template_child (widget_class, AppBackupsPage, spinner);
  gtk_widget_class_bind_template_child (widget_class, AppBackupsPage, list);
}

static void
app_backups_page_init (AppBackupsPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect_object (self->daily, "notify::active", G_CALLBACK (switched_cb), self, 0);
  g_signal_connect_object (self->now, "clicked", G_CALLBACK (now_cb), self, 0);
  g_signal_connect_object (self->folder, "clicked", G_CALLBACK (folder_cb), self, 0);
  g_signal_connect_object (self->usual, "clicked", G_CALLBACK (usual_cb), self, 0);
  g_signal_connect (self, "map", G_CALLBACK (refresh), NULL);
}

GtkWidget *
app_backups_page_new (void)
{
  return g_object_new (APP_TYPE_BACKUPS_PAGE, NULL);
}
