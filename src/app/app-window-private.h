/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-window-private.h — shared by app-window.c and app-window-*.c only. */
#pragma once

#include "app/app-window.h"
#include "desk/desk-sheet.h"

struct _AppWindow
{
  AdwApplicationWindow parent_instance;

  /* Template children, borrowed */
  GtkWidget *header;
  GtkStack *pages;
  GtkLabel *day_label;
  GtkLabel *said;
  GtkRevealer *said_revealer;
  GtkWidget *nav;
  GtkToggleButton *nav_shelves;
  GtkToggleButton *nav_calendar;
  GtkButton *back_button;
  GtkLabel *journal_note;
  GtkWidget *backup_box;
  GtkLabel *backup_note;

  /* Owned */
  Desk *desk;
  GCancellable *cancellable;
  GQueue *trail;       /* names of pages to go back to, char * */
  GString *jump;       /* digits typed for a cup */

  guint said_timeout;
  guint jump_timeout;
  guint day_timeout;
  gboolean fixed_today;
  gboolean keeps_keys; /* the focus may not leave the page by itself */
  CoreDay asked_today; /* by --today, for every journal that this window opens; NONE = the clock */
};

void _app_window_actions_class_init (GtkWidgetClass *klass);
void _app_window_actions_update (AppWindow *self); /* which actions can be used now */
void _app_window_journal_class_init (GtkWidgetClass *klass);
void _app_window_pictures_class_init (GtkWidgetClass *klass);
void _app_window_print_class_init (GtkWidgetClass *klass);
/* Not run yet; holds the sheet. */
GtkPrintOperation *_app_window_print_operation (AppWindow *self, DeskSheet *sheet);
void _app_window_backup_class_init (GtkWidgetClass *klass);
/* After self->desk was set: what is said of its backups; `before` (NULL = none) is let go. */
void _app_window_backup_set_desk (AppWindow *self, Desk *before);
void _app_window_backup_begin (AppWindow *self); /* from now on, one each day */
/* The error of opening says that there is a journal and that it is damaged. */
gboolean _app_window_is_damaged (const char *dir, const GError *error);
void _app_window_show_damaged (AppWindow *self, const char *dir, CoreDay today); /* NONE: that of the clock */
void _app_window_set_today (AppWindow *self, CoreDay today); /* of the open journal */
CoreDay _app_clock_day (void); /* the civil day of this computer */
void _app_window_jump_init (AppWindow *self);
gboolean _app_window_jump_wanted (AppWindow *self);
gboolean _app_window_code_wanted (AppWindow *self); /* and does a capital letter begin one? */
/* A key for the cup or animal that was just jumped to; TRUE when it meant something. */
gboolean _app_window_letter (AppWindow *self, guint keyval);
/* Called after a journal was opened or closed; NULL shows the first page. */
void _app_window_set_desk (AppWindow *self, Desk *desk);
