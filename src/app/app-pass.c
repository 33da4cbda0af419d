/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-pass.c — see app-pass.h. */
#include "app/app-pass.h"

void
app_pass_init (AppPass *self)
{
  self->queue = g_array_new (FALSE, FALSE, sizeof (PhotoLater));
}

void
app_pass_clear (AppPass *self)
{
  g_clear_pointer (&self->queue, g_array_unref);
  self->on = FALSE;
}

static gboolean
waits (const GArray *list, CoreId photo)
{
  for (guint i = 0; i < list->len; i++)
    if (core_id_equal (g_array_index (list, PhotoLater, i).photo, photo))
      return TRUE;
  return FALSE;
}

gboolean
app_pass_start (AppPass *self, Desk *desk)
{
  g_autoptr (GArray) list = photo_later_list (desk);
  gboolean left = list->len > 0 && g_array_index (list, PhotoLater, 0).left;

  g_array_set_size (self->queue, 0);
  self->at = 0;
  for (guint i = 0; i < list->len; i++)
    if (g_array_index (list, PhotoLater, i).left == left)
      g_array_append_val (self->queue, g_array_index (list, PhotoLater, i));
  self->on = self->queue->len > 0;
  return self->on;
}

const PhotoLater *
app_pass_now (AppPass *self)
{
  return self->on && self->at < self->queue->len ? &g_array_index (self->queue, PhotoLater, self->at) : NULL;
}

gboolean
app_pass_is_counted (AppPass *self, Desk *desk)
{
  g_autoptr (GArray) list = photo_later_list (desk);
  const PhotoLater *now = app_pass_now (self);

  return now != NULL && !waits (list, now->photo);
}

gboolean
app_pass_next (AppPass *self, Desk *desk)
{
  g_autoptr (GArray) list = photo_later_list (desk);

  do
    self->at++;
  while (self->at < self->queue->len && !waits (list, g_array_index (self->queue, PhotoLater, self->at).photo));
  self->on = self->at < self->queue->len;
  return self->on;
}
