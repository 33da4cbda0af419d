/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-jpeg.h — writes a drawn picture as a camera would: JPEG with an Exif
 * block (date taken, orientation, invented camera), never a place.
 */
#pragma once

#include <glib.h>

/* rgb: upright, 3 * width bytes a row. orientation: Exif 1 … 8; the stored
 * picture is turned so that a reader who applies it sees rgb upright.
 * taken: "YYYY-MM-DD HH:MM:SS" or NULL for no date. quality 1 … 100.
 * Returns the file's bytes. */
GBytes *demo_jpeg_encode (const guint8 *rgb,
                          int width,
                          int height,
                          int quality,
                          int orientation,
                          const char *taken,
                          GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* The same, written to path (replaced as a whole or not at all). */
gboolean demo_jpeg_write (const char *path,
                          const guint8 *rgb,
                          int width,
                          int height,
                          int quality,
                          int orientation,
                          const char *taken,
                          GError **error);
