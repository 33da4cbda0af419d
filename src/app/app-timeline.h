/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-timeline.h — everything that was written about one subject, newest first, photos in it. */
#pragma once

#include "app/app-types.h"

#define APP_TYPE_TIMELINE (app_timeline_get_type ())
G_DECLARE_FINAL_TYPE (AppTimeline, app_timeline, APP, TIMELINE, GtkWidget)

GtkWidget *app_timeline_new (void);
/* A key pressed with Alt: picks a group of entries; TRUE when it meant something. */
gboolean app_timeline_key (AppTimeline *self, guint keyval);
void app_timeline_set (AppTimeline *self, Desk *desk, DeskSubject *subject); /* NULL = empty */
