/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-decode.h — a picture file to upright pixels, through a process of its own.
 *
 * Whatever the file holds, the answer is a picture or an error: never a crash
 * and never a wait without end. Blocking functions may be called from any
 * thread but the one that draws; the async pair runs on a pool of its own.
 *
 * The decoder is looked for at $MANTIDARY_DECODE, then where it is installed,
 * then where it was built.
 */
#pragma once

#include <gio/gio.h>

#include "imaging/img-pixels.h"

typedef enum
{
  IMG_ERROR_NOT_A_PICTURE, /* none of JPEG, PNG, HEIC, WebP, TIFF by its first bytes */
  IMG_ERROR_UNSUPPORTED,   /* the loader for this format is not installed */
  IMG_ERROR_TOO_LARGE,     /* over 200 megapixels, or more memory than the decoder may use */
  IMG_ERROR_DAMAGED,       /* breaks off, or cannot be made sense of */
  IMG_ERROR_UNREADABLE,    /* may not be read, is gone, or is not a plain file */
  IMG_ERROR_EMPTY,         /* 0 bytes */
  IMG_ERROR_HELPER_DIED,   /* the decoder crashed, hung, or gave an answer that cannot be */
  IMG_ERROR_NO_HELPER,     /* mantidary-decode is not there or cannot be started */
  IMG_ERROR_FAILED,        /* this machine: no memory file, no descriptor */
} ImgError;

#define IMG_ERROR (img_error_quark ())
GQuark img_error_quark (void);

typedef struct
{
  int max_side;     /* 0: full size; else the longer side comes out at most this long, in pixels;
                     * a JPEG is shrunk while it is read, which is several times faster */
  guint timeout_ms; /* 0: twenty seconds; then the decoder is ended */
  guint memory_mb;  /* 0: the decoder's own limit; else a lower one */
} ImgDecodeOptions;

typedef struct
{
  ImgPixels *pixels;  /* owned; upright */
  int orientation;    /* 1…8: the turn applied to what the file's loader gave; 1 for HEIC, whose
                       * loader has turned already */
  int original_width; /* of the upright picture at full size */
  int original_height;
  char *format; /* owned; "jpeg", "png", "heic", "webp", "tiff" */

  /* EXIF DateTimeOriginal: local time of wherever the camera thought it was. */
  gboolean has_taken;
  int year, month, day;     /* a real day of the calendar */
  int hour, minute, second; /* hour -1: no time of day; second up to 60 */
  int millisecond;          /* -1 unknown */
  int utc_offset;           /* minutes east; G_MININT32 unknown */
  gint32 taken_day;         /* days since 1970-01-01 */
} ImgPicture;

void img_picture_free (ImgPicture *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ImgPicture, img_picture_free)

/* `options` may be NULL. `fd` stays the caller's and its offset is left alone. */
ImgPicture *img_decode (const char *path,
                        const ImgDecodeOptions *options,
                        GCancellable *cancellable,
                        GError **error) G_GNUC_WARN_UNUSED_RESULT;
ImgPicture *img_decode_file (GFile *file,
                             const ImgDecodeOptions *options,
                             GCancellable *cancellable,
                             GError **error) G_GNUC_WARN_UNUSED_RESULT;
ImgPicture *img_decode_fd (int fd,
                           const ImgDecodeOptions *options,
                           GCancellable *cancellable,
                           GError **error) G_GNUC_WARN_UNUSED_RESULT;

void img_decode_async (GFile *file,
                       const ImgDecodeOptions *options,
                       GCancellable *cancellable,
                       GAsyncReadyCallback callback,
                       gpointer user_data);
ImgPicture *img_decode_finish (GAsyncResult *result, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Opens a picture's file for img_decode_fd(): IMG_ERROR_UNREADABLE where it may not be read, is
 * gone, or is a folder, a pipe or a device. Returns -1 on error. */
int img_decode_open (const char *path, GError **error) G_GNUC_WARN_UNUSED_RESULT;
