/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-thumb.h — small copies of photos on disk, named by what the photo holds.
 *
 * A thumbnail is a JPEG of the upright picture, its longer side at most `side`
 * pixels, called <hash>-<side>.jpg in a cache folder that may be thrown away
 * at any time. It carries no EXIF: nothing about place or owner, and nothing
 * that would turn it again.
 */
#pragma once

#include <gio/gio.h>

#include "imaging/img-pixels.h"

#define IMG_THUMB_MIN_SIDE 16
#define IMG_THUMB_MAX_SIDE 2048
#define IMG_THUMB_SIDE 512 /* of those that pages show */

/* The cache folder of this user, there or not; free it. */
char *img_thumb_cache_dir (void);

/* The thumbnail's path, made if it is not there yet; free it. `hash`: 16…128 lower-case hex
 * digits of the photo's content. Errors of img_decode(), or G_IO_ERROR where the cache folder
 * cannot be written. Blocks; any thread; two at once for one photo are harmless. */
char *img_thumb_ensure (const char *cache_dir,
                        const char *hash,
                        const char *photo_path,
                        int side,
                        GCancellable *cancellable,
                        GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Where the thumbnail lies, there or not; NULL for a hash or side out of range. Free it. */
char *img_thumb_path (const char *cache_dir, const char *hash, int side);

/* TRUE when a whole thumbnail lies at `path` (begins and ends as a JPEG does). */
gboolean img_thumb_is_whole (const char *path);

/* Writes pixels as JPEG (quality 85), beside the final name first and then renamed; 0600. */
gboolean img_thumb_write (const ImgPixels *pixels, const char *path, GError **error);
