/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-loading.c — see app-loading.h. */
#include "app/app-loading.h"

#include "app/app-pages.h"

typedef struct
{
  GObject *page; /* held */
  GObject *const *model; /* of the page */
  const AppLoading *kind;
} Loading;

gpointer
app_loading_new (gpointer page, gconstpointer model, const AppLoading *kind)
{
  Loading *self = g_new0 (Loading, 1);

  self->page = g_object_ref (page);
  self->model = model;
  self->kind = kind;
  return self;
}

void
app_loading_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autofree Loading *self = data;
  g_autoptr (GObject) page = self->page;
  g_autoptr (GError) error = NULL;
  gboolean ok = self->kind->finish (source, result, &error);

  if (*self->model != source)
    return;
  if (ok)
    self->kind->show (page);
  else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    {
      g_autofree char *text = app_error_text (error);

      self->kind->refuse (page, text);
    }
}
