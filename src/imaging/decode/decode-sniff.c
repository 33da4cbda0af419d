/* SPDX-License-Identifier: GPL-3.0-or-later */
/* decode-sniff.c — magic bytes of the five formats.
 *
 * Invariant: a loader is asked only for the format found here; the name of the
 * file plays no part. Other formats that the loaders know are never tried.
 */
#include "imaging/decode/decode-sniff.h"

#include <string.h>

typedef struct
{
  DecodeFormat format;
  gsize at; /* offset in bytes */
  gsize n;
  const char *bytes;
} Magic;

/* HEIC: the major brand of an ISO base media file (ISO/IEC 23008-12). */
static const Magic magics[] = {
  { DECODE_FORMAT_JPEG, 0, 3, "\xff\xd8\xff" }, { DECODE_FORMAT_PNG, 0, 8, "\x89PNG\r\n\x1a\n" },
  { DECODE_FORMAT_HEIC, 4, 8, "ftypheic" },     { DECODE_FORMAT_HEIC, 4, 8, "ftypheix" },
  { DECODE_FORMAT_HEIC, 4, 8, "ftypheim" },     { DECODE_FORMAT_HEIC, 4, 8, "ftypheis" },
  { DECODE_FORMAT_HEIC, 4, 8, "ftypmif1" },     { DECODE_FORMAT_WEBP, 8, 4, "WEBP" },
  { DECODE_FORMAT_TIFF, 0, 4, "II*\0" },        { DECODE_FORMAT_TIFF, 0, 4, "MM\0*" },
};

DecodeFormat
decode_sniff (const guint8 *data, gsize size)
{
  for (gsize i = 0; i < G_N_ELEMENTS (magics); i++)
    {
      const Magic *m = &magics[i];

      if (size < m->at + m->n || memcmp (data + m->at, m->bytes, m->n) != 0)
        continue;
      if (m->format == DECODE_FORMAT_WEBP && memcmp (data, "RIFF", 4) != 0)
        continue;
      return m->format;
    }
  return DECODE_FORMAT_NONE;
}
