/* SPDX-License-Identifier: GPL-3.0-or-later */
/* decode-find-tiff.c — the EXIF directory of a TIFF file.
 *
 * TIFF 6.0: a directory lies anywhere in the file, mostly behind the pixels. libexif reads blocks of
 * 64 KiB only, so what it is to read is put together anew: a small TIFF file with the texts of that
 * directory alone. Whether the file breaks off its loader says.
 */
#include "imaging/decode/decode-find.h"

#include <string.h>

#define ENTRY 12
#define TYPE_ASCII 2
#define TYPE_LONG 4
#define TAG_EXIF 0x8769
#define MOST_TEXT 64

/* Texts of CIPA DC-008 that the journal asks for: DateTimeOriginal, OffsetTimeOriginal,
 * SubSecTimeOriginal; in the order of their numbers. */
static const guint16 wanted[] = { 0x9003, 0x9011, 0x9291 };

typedef struct
{
  const guint8 *data;
  gsize size;
  gboolean big_endian;
} Tiff;

static guint32
number (const Tiff *tiff, gsize at, guint n_bytes)
{
  guint32 value = 0;

  for (guint i = 0; i < n_bytes; i++)
    value |= (guint32) tiff->data[at + i] << 8 * (tiff->big_endian ? n_bytes - 1 - i : i);
  return value;
}

/* The entry of that tag in the directory at `at`; 0 where there is none, or it does not lie in the
 * file. */
static gsize
find_entry (const Tiff *tiff, gsize at, guint16 tag)
{
  guint n;

  if (at < 8 || at > tiff->size - 2)
    return 0;
  n = number (tiff, at, 2);
  for (guint i = 0; i < n; i++)
    {
      gsize entry = at + 2 + (gsize) i * ENTRY;

      if (entry > tiff->size - ENTRY)
        return 0;
      if (number (tiff, entry, 2) == tag)
        return entry;
    }
  return 0;
}

/* The text of an entry; NULL when it is none, is too long, or leads outside. */
static const guint8 *
text_of (const Tiff *tiff, gsize entry, guint32 *length)
{
  gsize at = entry + 8;

  *length = number (tiff, entry + 4, 4);
  if (number (tiff, entry + 2, 2) != TYPE_ASCII || *length == 0 || *length > MOST_TEXT)
    return NULL;
  if (*length > 4)
    at = number (tiff, at, 4);
  return at <= tiff->size && *length <= tiff->size - at ? tiff->data + at : NULL;
}

static void
put (GByteArray *out, guint32 value, guint n_bytes)
{
  for (guint i = 0; i < n_bytes; i++)
    g_byte_array_append (out, &(guint8){ (guint8) (value >> 8 * i) }, 1);
}

static void
put_entry (GByteArray *out, guint16 tag, guint16 type, guint32 count, guint32 value)
{
  put (out, tag, 2);
  put (out, type, 2);
  put (out, count, 4);
  put (out, value, 4);
}

/* Up to four bytes lie in the entry itself. */
static void
put_text (GByteArray *entries, GByteArray *texts, guint32 texts_to, guint16 tag, const guint8 *text, guint32 length)
{
  put_entry (entries, tag, TYPE_ASCII, length, texts_to + texts->len);
  if (length > 4)
    g_byte_array_append (texts, text, length);
  else
    memcpy (entries->data + entries->len - 4, text, length);
}

/* A header, a directory that names the next one, and that one with its texts behind it. */
static GBytes *
small_file (const Tiff *tiff, gsize exif_at)
{
  g_autoptr (GByteArray) entries = g_byte_array_new (), texts = g_byte_array_new ();
  GByteArray *out = g_byte_array_new ();
  guint32 exif_to = 8 + 2 + ENTRY + 4, texts_to = exif_to + 2 + G_N_ELEMENTS (wanted) * ENTRY + 4;

  for (gsize i = 0; i < G_N_ELEMENTS (wanted); i++)
    {
      gsize entry = find_entry (tiff, exif_at, wanted[i]);
      guint32 length = 0;
      const guint8 *text = entry != 0 ? text_of (tiff, entry, &length) : NULL;

      put_text (entries, texts, texts_to, wanted[i], text != NULL ? text : (const guint8 *) "",
                text != NULL ? length : 1);
    }
  g_byte_array_append (out, (const guint8 *) "II*\0\x08\0\0\0", 8);
  put (out, 1, 2);
  put_entry (out, TAG_EXIF, TYPE_LONG, 1, exif_to);
  put (out, 0, 4);
  put (out, G_N_ELEMENTS (wanted), 2);
  g_byte_array_append (out, entries->data, entries->len);
  put (out, 0, 4);
  g_byte_array_append (out, texts->data, texts->len);
  return g_byte_array_free_to_bytes (out);
}

void
decode_find_tiff (const guint8 *data, gsize size, DecodeFound *out)
{
  Tiff tiff = { data, size, FALSE };
  gsize entry;

  out->complete = TRUE;
  if (size < 8 + 2 + ENTRY)
    return;
  tiff.big_endian = data[0] == 'M';
  entry = find_entry (&tiff, number (&tiff, 4, 4), TAG_EXIF);
  if (entry != 0 && number (&tiff, entry + 2, 2) == TYPE_LONG)
    out->exif = small_file (&tiff, number (&tiff, entry + 8, 4));
}
