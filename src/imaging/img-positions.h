/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-positions.h — a copy of a picture file that does not say where it was taken.
 *
 * By what is kept, not by what is dropped: only what the picture itself needs is copied (pixels,
 * tables, colours), so that no position survives in a place that nobody thought of: EXIF, XMP,
 * IPTC, comments, thumbnails, second pictures, what is appended. How the picture is turned and
 * the day it was taken are written anew.
 */
#pragma once

#include <glib.h>

#include "core/core-types.h"

/* JPEG, PNG and WebP. `orientation` 1…8 as in the file; `taken` or CORE_DAY_NONE, `minute` after
 * midnight or -1. NULL: another kind of file, or one that breaks off. The same file gives the same
 * bytes. */
GBytes *img_positions_remove (GBytes *whole, int orientation, CoreDay taken, int minute)
  G_GNUC_WARN_UNUSED_RESULT;
