/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-label.h — a text as letters to be laid over a picture: how much of each pixel they cover.
 *
 * Both masks are `width` × `height`, one byte a pixel, row by row without gaps; `halo` is the
 * letters with a rim around them.
 */
#pragma once

#include <glib.h>

typedef struct
{
  int width, height; /* with the rim */
  int rim;           /* pixels on each side, so that letters stand at (rim, rim) */
  GBytes *letters;   /* owned */
  GBytes *halo;      /* owned; NULL without a rim */
} ExchLabel;

/* `size` in pixels; lines are broken at `max_width` (0 = never), letters and rim together. */
ExchLabel *exch_label_new (const char *text, double size, gboolean bold, int max_width, int rim);
void exch_label_free (ExchLabel *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchLabel, exch_label_free)
