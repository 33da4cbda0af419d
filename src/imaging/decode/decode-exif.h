/* SPDX-License-Identifier: GPL-3.0-or-later */
/* decode-exif.h — the two things that the journal wants to know from EXIF.
 *
 * Orientation and the moment the picture was taken. No place, no camera, no
 * owner is looked up or handed on.
 */
#pragma once

#include "imaging/decode/decode-wire.h"

typedef struct
{
  int orientation; /* 1…8; 1 when absent or out of range */
  gboolean has_taken;
  gint32 taken[6]; /* as in DecodeHeader */
  gint32 taken_ms;
  gint32 utc_offset;
} DecodeExif;

/* `tiff` begins with the TIFF header ("II*\0" or "MM\0*"); NULL or garbage gives an empty answer.
 * At most the first 65,000 bytes are read. */
void decode_exif_read (const guint8 *tiff, gsize size, DecodeExif *out);

/* "YYYY:MM:DD HH:MM:SS" to numbers; FALSE unless the day is a real one. A missing or impossible
 * time of day gives hour -1. */
gboolean decode_exif_parse_date (const char *text, gint32 out[6]);
/* "+HH:MM", minutes east of UTC, or G_MININT32. */
gint32 decode_exif_parse_offset (const char *text);
/* "23" means 230 ms; -1 when it is not digits. */
gint32 decode_exif_parse_subsec (const char *text);
