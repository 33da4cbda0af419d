/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-desk-page.h — what every page over a journal has: the property "desk" (write only; NULL = none),
 * and the journal's signals while it is set. Its children go with it. */
#pragma once

#include "app/app-types.h"

#define APP_TYPE_DESK_PAGE (app_desk_page_get_type ())
G_DECLARE_DERIVABLE_TYPE (AppDeskPage, app_desk_page, APP, DESK_PAGE, GtkWidget)

struct _AppDeskPageClass
{
  GtkWidgetClass parent_class;

  /* Each may stay NULL. */
  void (*desk_set) (AppDeskPage *self);                       /* another journal, or none */
  void (*changed) (AppDeskPage *self, DeskSubject *subject);  /* subject NULL = everything */
  void (*today_changed) (AppDeskPage *self);
  void (*backup_done) (AppDeskPage *self);
  /* Where it begins; FALSE, or no function: with its first control. */
  gboolean (*focus) (AppDeskPage *self);
};

Desk *app_desk_page_desk (gpointer self); /* an AppDeskPage; borrowed, NULL = none */
