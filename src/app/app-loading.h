/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-loading.h — a page waits for the picture of its model: the same for every page that has one. */
#pragma once

#include "app/app-types.h"

typedef struct
{
  gboolean (*finish) (gpointer model, GAsyncResult *result, GError **error);
  void (*show) (gpointer page);
  void (*refuse) (gpointer page, const char *text); /* there is no picture, and why */
} AppLoading;

/* Callback of the loading of a model; its data is app_loading_new(), which holds the page. `model`: where
 * the page keeps the one that it waits for now. What comes for an older one, or was cancelled, is dropped. */
void app_loading_cb (GObject *source, GAsyncResult *result, gpointer data);
gpointer app_loading_new (gpointer page, gconstpointer model, const AppLoading *kind);
