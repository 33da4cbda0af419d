/* SPDX-License-Identifier: GPL-3.0-or-later */
/* decode-load.h — one picture through the loader of its format, and no other. */
#pragma once

#include "imaging/decode/decode-wire.h"

#include <gdk-pixbuf/gdk-pixbuf.h>

typedef struct
{
  GdkPixbuf *pixbuf; /* owned; 8 bit, 3 channels or 4 */
  int full_width;    /* as the file stores it, before any scaling */
  int full_height;
} DecodeLoaded;

/* `max_side` 0: full size; else the longer side comes out at most that long, never enlarged.
 * A picture over DECODE_MAX_PIXELS ends the process with DECODE_EXIT_TOO_LARGE before a pixel of
 * it is allocated. */
DecodeExit
decode_load (DecodeFormat format, const guint8 *data, gsize size, int max_side, DecodeLoaded *out);
void decode_loaded_clear (DecodeLoaded *self);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (DecodeLoaded, decode_loaded_clear)
