/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-story.h — the short story of the chosen cup: due and why, keys for one animal, last entries. */
#pragma once

#include "app/app-types.h"

#define APP_TYPE_STORY (app_story_get_type ())
G_DECLARE_FINAL_TYPE (AppStory, app_story, APP, STORY, GtkWidget)

void app_story_set_subject (AppStory *self, Desk *desk, DeskSubject *subject); /* NULL = none */
/* A key pressed on the chosen cup. */
gboolean app_story_key (AppStory *self, guint keyval);
void app_story_attach (AppStory *self, GFile *file); /* a picture, to the subject */
