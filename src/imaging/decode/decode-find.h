/* SPDX-License-Identifier: GPL-3.0-or-later */
/* decode-find.h — walks a picture file's outer structure, without decoding.
 *
 * It answers two questions that the loaders leave open: where the EXIF block
 * lies, and whether the file ends before its picture does (several loaders
 * return half a picture without a word).
 */
#pragma once

#include "imaging/decode/decode-wire.h"

typedef struct
{
  GBytes *exif;      /* owned; from the TIFF header on; NULL when there is none */
  gboolean complete; /* FALSE: the file breaks off */
} DecodeFound;

void decode_find (DecodeFormat format, const guint8 *data, gsize size, DecodeFound *out);
void decode_found_clear (DecodeFound *self);

/* One format each; decode_find chooses. */
void decode_find_jpeg (const guint8 *data, gsize size, DecodeFound *out);
void decode_find_png (const guint8 *data, gsize size, DecodeFound *out);
void decode_find_webp (const guint8 *data, gsize size, DecodeFound *out);
void decode_find_heic (const guint8 *data, gsize size, DecodeFound *out);
void decode_find_tiff (const guint8 *data, gsize size, DecodeFound *out);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (DecodeFound, decode_found_clear)
