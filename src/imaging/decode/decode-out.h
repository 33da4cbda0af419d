/* SPDX-License-Identifier: GPL-3.0-or-later */
/* decode-out.h — header and upright pixels into the memory file, then the seals. */
#pragma once

#include "imaging/decode/decode-wire.h"

#include <gdk-pixbuf/gdk-pixbuf.h>

/* Fills in magic, version, width and height. The pixels of `pixbuf` are used up: a picture with
 * transparent parts is laid on white in place. FALSE when the memory file would not take it. */
gboolean decode_out_write (int fd, DecodeHeader *header, GdkPixbuf *pixbuf);
