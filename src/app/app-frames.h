/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-frames.h — what a frame costs where no graphics card draws it.
 *
 * GTK's cairo renderer hands each frame to the X server through shared memory. Cairo takes that from a
 * pool and gives the pool back as soon as nothing lies in it, which is after every frame: all its pages
 * are then made anew for the next. One image that stays in the pool keeps it, and the pages with it.
 */
#pragma once

#include <gtk/gtk.h>

/* Of a window that was realized; once for its display. Elsewhere than on X, or with a renderer of
 * another kind, there is nothing to do. */
void app_frames_keep (GtkWidget *window);
