/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-decode-private.h — between the parts of img-decode. */
#pragma once

#include "imaging/img-decode.h"

/* Full path of the decoder; free it. NULL with IMG_ERROR_NO_HELPER. */
char *img_decode_find_helper (GError **error);

/* Runs the decoder on `fd` until it ends, is cancelled or is out of time. TRUE: exit status 0 and
 * `memory_fd` is to be checked. */
gboolean img_decode_run (int fd,
                         int memory_fd,
                         const ImgDecodeOptions *options,
                         GCancellable *cancellable,
                         GError **error);

/* Checks seals, sizes and fields of what the decoder left; believes nothing. */
ImgPicture *img_decode_read_answer (int memory_fd, GError **error);
