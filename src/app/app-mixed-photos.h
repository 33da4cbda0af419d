/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-mixed-photos.h — pictures of two animals that were mixed up, one by one: which does it show?
 *
 * Emits "changed" with every answer. */
#pragma once

#include "app/app-types.h"
#include "desk/desk-identity.h"

#define APP_TYPE_MIXED_PHOTOS (app_mixed_photos_get_type ())
G_DECLARE_FINAL_TYPE (AppMixedPhotos, app_mixed_photos, APP, MIXED_PHOTOS, GtkWidget)

GtkWidget *app_mixed_photos_new (void);
/* The pictures of both since that day; desk NULL = none. Answers to pictures that stay are kept. */
void app_mixed_photos_set (AppMixedPhotos *self, Desk *desk, DeskSubject *a, DeskSubject *b, CoreDay since);
guint app_mixed_photos_n (AppMixedPhotos *self);
/* DeskShown: the answers, also "nobody can say" (shows none); of the pictures that are there. */
GArray *app_mixed_photos_shown (AppMixedPhotos *self);
/* The answers as one line of text, for a draft, and back. */
char *app_mixed_photos_to_text (AppMixedPhotos *self);
void app_mixed_photos_from_text (AppMixedPhotos *self, const char *text);
