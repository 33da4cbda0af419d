/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-window.c — the window's frame: pages, what it says, the change of day.
 *
 * Invariant: every page has the same desk as the window, or none. */
#include "app/app-window-private.h"

#include <glib/gi18n.h>

#include "app/app-form.h"
#include "app/app-pages.h"
#include "app/app-settings.h"
#include "app/app-shelves-page.h"
#include "app/app-view.h"
#include "core/core-date.h"
#include "demo/demo.h"
#include "desk/desk-draft.h"
#include "desk/move-in-model.h"

G_DEFINE_FINAL_TYPE (AppWindow, app_window, ADW_TYPE_APPLICATION_WINDOW)

#define SAID_SECONDS 9

AppWindow *
app_window_of (gpointer widget)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (widget));

  return root != NULL && APP_IS_WINDOW (root) ? APP_WINDOW (root) : NULL;
}

Desk *
app_window_get_desk (AppWindow *self)
{
  g_return_val_if_fail (APP_IS_WINDOW (self), NULL);
  return self->desk;
}

gboolean
app_window_is_opening (AppWindow *self)
{
  g_return_val_if_fail (APP_IS_WINDOW (self), FALSE);
  return g_strcmp0 (gtk_stack_get_visible_child_name (self->pages), "opening") == 0;
}

GCancellable *
app_window_cancellable (AppWindow *self)
{
  g_return_val_if_fail (APP_IS_WINDOW (self), NULL);
  return self->cancellable;
}

/* ---- what the window says ---- */

static void
hush (AppWindow *self)
{
  g_clear_handle_id (&self->said_timeout, g_source_remove);
  gtk_widget_remove_css_class (GTK_WIDGET (self->said), "trouble");
  gtk_revealer_set_reveal_child (self->said_revealer, FALSE);
  gtk_widget_set_visible (GTK_WIDGET (self->said_revealer), FALSE);
}

void
app_window_hush_trouble (AppWindow *self)
{
  if (gtk_widget_has_css_class (GTK_WIDGET (self->said), "trouble"))
    hush (self);
}

/* In full screen the page has all of it. */
static void
fullscreened_cb (AppWindow *self)
{
  gboolean whole = gtk_window_is_fullscreen (GTK_WINDOW (self));

  gtk_widget_set_visible (self->header, !whole);
  gtk_widget_set_visible (GTK_WIDGET (self->journal_note), !whole && gtk_label_get_label (self->journal_note)[0] != '\0');
}

static void
hush_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  hush (APP_WINDOW (widget));
}

static gboolean
said_over_cb (gpointer data)
{
  AppWindow *self = data;

  self->said_timeout = 0;
  hush (self);
  return G_SOURCE_REMOVE;
}

void
app_window_say (AppWindow *self, const char *text)
{
  g_return_if_fail (APP_IS_WINDOW (self));

  if (self->cancellable == NULL) /* closed: a late answer has nobody to tell */
    return;
  hush (self);
  gtk_label_set_label (self->said, text);
  gtk_widget_set_visible (GTK_WIDGET (self->said_revealer), TRUE);
  gtk_revealer_set_reveal_child (self->said_revealer, TRUE);
  self->said_timeout = g_timeout_add_seconds (SAID_SECONDS, said_over_cb, self);
}

static void
say_error_of (AppWindow *self, const GError *error, const char *what)
{
  g_autofree char *text = NULL;

  g_return_if_fail (APP_IS_WINDOW (self));
  if (self->cancellable == NULL || error == NULL || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  text = app_error_text_of (error, what);
  app_window_say (self, text);
  g_clear_handle_id (&self->said_timeout, g_source_remove); /* stays until it is closed */
  gtk_widget_add_css_class (GTK_WIDGET (self->said), "trouble");
}

void
app_window_say_error (AppWindow *self, const GError *error)
{
  say_error_of (self, error, NULL);
}

/* ---- pages ---- */

static gboolean
page_is_top (const char *name)
{
  return g_strcmp0 (name, "opening") == 0 || g_strcmp0 (name, "shelves") == 0 || g_strcmp0 (name, "calendar") == 0
         || g_strcmp0 (name, "welcome") == 0;
}

static void
show_page_raw (AppWindow *self, const char *name)
{
  GtkWidget *page = gtk_stack_get_child_by_name (self->pages, name);
  gboolean top = page_is_top (name);

  if (page == NULL)
    return;
  app_window_hush_trouble (self); /* what went wrong on another page is over */
  gtk_stack_set_visible_child (self->pages, page);
  gtk_widget_set_visible (GTK_WIDGET (self->back_button), !g_queue_is_empty (self->trail) && !top);
  gtk_widget_set_visible (self->nav, self->desk != NULL);
  g_object_set (self->nav_shelves, "active", g_str_equal (name, "shelves"), NULL);
  g_object_set (self->nav_calendar, "active", g_str_equal (name, "calendar"), NULL);
  if (!gtk_widget_grab_focus (page))
    gtk_widget_child_focus (page, GTK_DIR_TAB_FORWARD);
}

/* A page shown again is gone back from as it was the first time: between two pages the keeper would go
 * to and fro for as long as he went on before. */
static void
leave_trail (AppWindow *self, const char *now, const char *name)
{
  GList *seen = g_queue_find_custom (self->trail, name, (GCompareFunc) g_strcmp0);

  if (seen == NULL)
    {
      g_queue_push_tail (self->trail, g_strdup (now));
      return;
    }
  for (guint n = g_queue_get_length (self->trail) - (guint) g_queue_index (self->trail, seen->data); n > 0; n--)
    g_free (g_queue_pop_tail (self->trail));
}

void
app_window_show_page (AppWindow *self, const char *name)
{
  const char *now;

  g_return_if_fail (APP_IS_WINDOW (self));
  now = gtk_stack_get_visible_child_name (self->pages);
  if (g_strcmp0 (now, name) == 0)
    return;
  if (page_is_top (name))
    g_queue_clear_full (self->trail, g_free);
  else if (now != NULL && !g_str_equal (now, "opening"))
    leave_trail (self, now, name);
  show_page_raw (self, name);
}

void
app_window_go_back (AppWindow *self)
{
  GtkWidget *page = gtk_stack_get_visible_child (self->pages);
  g_autofree char *name = NULL;

  g_return_if_fail (APP_IS_WINDOW (self));
  if (gtk_window_is_fullscreen (GTK_WINDOW (self)))
    {
      gtk_window_unfullscreen (GTK_WINDOW (self)); /* first the window as it was */
      return;
    }
  if (APP_IS_SHELVES_PAGE (page) && app_shelves_page_let_go (APP_SHELVES_PAGE (page)))
    return; /* the story is closed first */
  name = g_queue_pop_tail (self->trail);
  if (name != NULL)
    show_page_raw (self, name);
  else if (self->desk != NULL)
    show_page_raw (self, "shelves");
  else
    show_page_raw (self, "welcome");
}

/* ---- the day ---- */

CoreDay
_app_clock_day (void)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();

  return core_day_from_ymd (g_date_time_get_year (now), g_date_time_get_month (now),
                            g_date_time_get_day_of_month (now));
}

int
app_window_get_minute (AppWindow *self)
{
  g_autoptr (GDateTime) now = NULL;

  g_return_val_if_fail (APP_IS_WINDOW (self), -1);
  if (self->fixed_today)
    return -1;
  now = g_date_time_new_now_local ();
  return g_date_time_get_hour (now) * 60 + g_date_time_get_minute (now);
}

static void
update_day (AppWindow *self)
{
  g_autofree char *text = NULL;

  if (self->desk != NULL)
    {
      WordsView view = app_view (self->desk);

      view.today = CORE_DAY_NONE;
      text = words_day (&view, desk_today (self->desk), WORDS_DAY_FULL);
    }
  gtk_label_set_label (self->day_label, text != NULL ? text : "");
}

void
_app_window_set_today (AppWindow *self, CoreDay today)
{
  desk_set_today (self->desk, today);
  update_day (self);
}

static gboolean
day_tick_cb (gpointer data)
{
  AppWindow *self = data;

  if (self->desk != NULL && !self->fixed_today && desk_today (self->desk) != _app_clock_day ())
    _app_window_set_today (self, _app_clock_day ());
  return G_SOURCE_CONTINUE;
}

/* ---- the journal ---- */

static void
kept_cb (GObject *source, GAsyncResult *result, gpointer application)
{
  desk_drafts_write_finish (DESK_DESK (source), result);
  if (application != NULL)
    g_application_release (application);
}

/* What was typed, or cleared, less than a second ago: the program lives until it is on the disk. */
static void
keep_drafts (Desk *desk)
{
  GApplication *application = g_application_get_default ();

  if (desk == NULL)
    return;
  if (application != NULL)
    g_application_hold (application);
  desk_drafts_write_async (desk, kept_cb, application);
}

static gboolean
app_window_close_request (GtkWindow *window)
{
  keep_drafts (APP_WINDOW (window)->desk);
  return GTK_WINDOW_CLASS (app_window_parent_class)->close_request (window);
}

void
_app_window_set_desk (AppWindow *self, Desk *desk)
{
  g_autoptr (Desk) before = self->desk != NULL ? g_object_ref (self->desk) : NULL;
  g_autofree char *note = NULL;

  if (desk != self->desk)
    app_form_leave_all (self); /* a form writes to the journal over which it was opened */
  if (before != NULL && desk != before)
    keep_drafts (before);
  g_set_object (&self->desk, desk);
  _app_window_backup_set_desk (self, before);
  g_queue_clear_full (self->trail, g_free);
  app_pages_set_desk (self->pages, desk);
  if (desk != NULL && desk_is_demo (desk))
    note = g_strdup (C_ ("window", "This is the demo journal of an invented keeper. Your own begins in the menu."));
  else if (desk != NULL && desk_read_only (desk))
    note = g_strdup (C_ ("window", "This journal can be read but not written. Nothing that you enter is kept."));
  gtk_label_set_label (self->journal_note, note != NULL ? note : "");
  gtk_widget_set_visible (GTK_WIDGET (self->journal_note), note != NULL);
  update_day (self);
  _app_window_actions_update (self); /* before the page: a button that is greyed takes no focus */
  show_page_raw (self, desk != NULL ? "shelves" : "welcome");
}

typedef struct
{
  AppWindow *window; /* a reference */
  char *dir;
  gboolean begun; /* a new journal */
  CoreDay today; /* that was asked for; CORE_DAY_NONE = none */
} Opening;

static void
say_where (AppWindow *self)
{
  g_autofree char *text = g_strdup_printf (C_ ("window", "Your journal lies in %s."), desk_dir (self->desk));

  app_window_say (self, text);
}

/* Offered, also where there are animals already. */
static void
say_draft (AppWindow *self)
{
  if (move_in_model_has_draft (self->desk))
    app_window_say (self, C_ ("window", "Animals that move in were typed and not saved. They are kept: Ctrl+M goes on."));
}

static void
opened_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autofree char *dir = ((Opening *) data)->dir;
  g_autoptr (AppWindow) self = ((Opening *) data)->window;
  CoreDay today = ((Opening *) data)->today;
  gboolean begun = ((Opening *) data)->begun;
  g_autoptr (GError) error = NULL;
  g_autoptr (Desk) desk = desk_open_finish (result, &error);

  g_free (data);
  if (self->cancellable == NULL) /* closed meanwhile */
    return;
  if (desk == NULL)
    {
      gboolean damaged = _app_window_is_damaged (dir, error);

      if (self->desk == NULL && !damaged)
        show_page_raw (self, "welcome");
      if (damaged)
        _app_window_show_damaged (self, dir, today);
      else
        say_error_of (self, error, dir);
    }
  else
    {
      self->fixed_today = today != CORE_DAY_NONE;
      /* The demo is looked at on its own last day, unless a day was asked for. */
      if (!self->fixed_today && demo_day_of (desk) != CORE_DAY_NONE)
        {
          desk_set_today (desk, demo_day_of (desk));
          self->fixed_today = TRUE;
        }
      /* The demo is only looked at: where one's own journal lies is not forgotten for it. */
      if (demo_day_of (desk) == CORE_DAY_NONE)
        app_settings_set_journal (desk_dir (desk));
      _app_window_set_desk (self, desk);
      _app_window_backup_begin (self);
      if (begun)
        say_where (self);
      else
        say_draft (self);
    }
}

void
app_window_open (AppWindow *self, const char *dir, gboolean create, CoreDay today)
{
  Opening *opening;

  g_return_if_fail (APP_IS_WINDOW (self));
  g_return_if_fail (dir != NULL);

  if (self->cancellable == NULL)
    return;
  if (today == CORE_DAY_NONE)
    today = self->asked_today;
  /* Not the first page: a keeper with a journal must not see "begin one" flash by. */
  if (self->desk == NULL)
    show_page_raw (self, "opening");
  opening = g_new (Opening, 1);
  opening->window = g_object_ref (self);
  opening->dir = g_strdup (dir);
  opening->begun = create;
  opening->today = today;
  desk_open_async (dir, today != CORE_DAY_NONE ? today : _app_clock_day (),
                   create ? DESK_OPEN_CREATE : DESK_OPEN_DEFAULT, self->cancellable, opened_cb,
                   opening);
}

/* A window that is closed lives on while somebody waits for an answer: a chooser would wait for ever. */
static void
app_window_unrealize (GtkWidget *widget)
{
  g_cancellable_cancel (APP_WINDOW (widget)->cancellable);
  GTK_WIDGET_CLASS (app_window_parent_class)->unrealize (widget);
}

static void
app_window_dispose (GObject *object)
{
  AppWindow *self = APP_WINDOW (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_handle_id (&self->said_timeout, g_source_remove);
  g_clear_handle_id (&self->jump_timeout, g_source_remove);
  g_clear_handle_id (&self->day_timeout, g_source_remove);
  g_clear_object (&self->desk);
  g_clear_object (&self->cancellable);
  G_OBJECT_CLASS (app_window_parent_class)->dispose (object);
}

static void
app_window_finalize (GObject *object)
{
  AppWindow *self = APP_WINDOW (object);

  g_queue_free_full (self->trail, g_free);
  g_string_free (self->jump, TRUE);
  G_OBJECT_CLASS (app_window_parent_class)->finalize (object);
}

static void
app_window_class_init (AppWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = app_window_dispose;
  G_OBJECT_CLASS (klass)->finalize = app_window_finalize;
  widget_class->unrealize = app_window_unrealize;
  GTK_WINDOW_CLASS (klass)->close_request = app_window_close_request;
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/window.ui");
  gtk_widget_class_bind_template_child (widget_class, AppWindow, header);
  gtk_widget_class_bind_template_child (widget_class, AppWindow, pages);
  gtk_widget_class_bind_template_child (widget_class, AppWindow, day_label);
  gtk_widget_class_bind_template_child (widget_class, AppWindow, said);
  gtk_widget_class_bind_template_child (widget_class, AppWindow, said_revealer);
  gtk_widget_class_bind_template_child (widget_class, AppWindow, nav);
  gtk_widget_class_bind_template_child (widget_class, AppWindow, nav_shelves);
  gtk_widget_class_bind_template_child (widget_class, AppWindow, nav_calendar);
  gtk_widget_class_bind_template_child (widget_class, AppWindow, back_button);
  gtk_widget_class_bind_template_child (widget_class, AppWindow, journal_note);
  gtk_widget_class_bind_template_child (widget_class, AppWindow, backup_box);
  gtk_widget_class_bind_template_child (widget_class, AppWindow, backup_note);
  gtk_widget_class_install_action (widget_class, "win.hush", NULL, hush_cb);
  _app_window_actions_class_init (widget_class);
}

static void
app_window_init (AppWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->trail = g_queue_new ();
  self->jump = g_string_new (NULL);
  self->cancellable = g_cancellable_new ();
  self->asked_today = CORE_DAY_NONE;
  app_pages_fill (self->pages);
  _app_window_jump_init (self);
  self->day_timeout = g_timeout_add_seconds (20, day_tick_cb, self);
  hush (self);
  g_signal_connect (self, "notify::fullscreened", G_CALLBACK (fullscreened_cb), NULL);
  app_settings_bind_window (GTK_APPLICATION_WINDOW (self));
  _app_window_set_desk (self, NULL);
}

AppWindow *
app_window_new (AdwApplication *application)
{
  return g_object_new (APP_TYPE_WINDOW, "application", application, NULL);
}
