/* SPDX-License-Identifier: GPL-3.0-or-later */
/* decode-find-png.c — PNG's eXIf chunk, and whether IEND is there.
 *
 * eXIf may stand before or after the picture data. libpng reaches what comes
 * after only by unpacking all pixels, so it is given the same file with its
 * picture data left out: the header, every other chunk in order, and one empty
 * data chunk. libpng checks lengths and sums; nothing is unpacked.
 */
#include "imaging/decode/decode-find.h"

#include <png.h>
#include <string.h>

#define SIGNATURE 8
/* Text, profiles and EXIF of a camera fit in a fraction of this. */
#define MAX_SIDE_CHUNKS (8 * 1024 * 1024)

typedef struct
{
  const guint8 *data;
  gsize size;
  gsize at;
} Reader;

static void
read_cb (png_structp png, png_bytep out, size_t n)
{
  Reader *reader = png_get_io_ptr (png);

  if (n > reader->size - reader->at)
    png_error (png, "the file breaks off");
  memcpy (out, reader->data + reader->at, n);
  reader->at += n;
}

static void
error_cb (png_structp png, png_const_charp message)
{
  png_longjmp (png, 1);
}

static void
warning_cb (png_structp png, png_const_charp message)
{
}

/* The file without its picture data; NULL when there is no eXIf chunk to be read. */
static GByteArray *
without_picture (const guint8 *data, gsize size, gboolean *complete)
{
  static const guint8 empty_idat[12] = {
    0, 0, 0, 0, 'I', 'D', 'A', 'T', 0x35, 0xaf, 0x06, 0x1e
  }; /* CRC-32 of "IDAT" */
  g_autoptr (GByteArray) out = g_byte_array_new ();
  gboolean has_exif = FALSE;
  gsize at = SIGNATURE;

  g_byte_array_append (out, data, SIGNATURE);
  while (size - at >= 12)
    {
      const guint8 *chunk = data + at;
      gsize length =
        (gsize) chunk[0] << 24 | (gsize) chunk[1] << 16 | (gsize) chunk[2] << 8 | chunk[3];

      if (length > size - at - 12)
        break;
      at += 12 + length;
      if (memcmp (chunk + 4, "IEND", 4) == 0)
        {
          *complete = TRUE;
          break;
        }
      if (memcmp (chunk + 4, "IDAT", 4) == 0 || out->len + length > MAX_SIDE_CHUNKS)
        continue;
      has_exif = has_exif || memcmp (chunk + 4, "eXIf", 4) == 0;
      g_byte_array_append (out, chunk, (guint) (length + 12));
    }
  if (!has_exif)
    return NULL;
  g_byte_array_append (out, empty_idat, sizeof empty_idat);
  return g_steal_pointer (&out);
}

static GBytes *
read_exif (png_structp png, png_infop info, Reader *reader)
{
  png_bytep exif = NULL;
  png_uint_32 n = 0;

  if (setjmp (png_jmpbuf (png)))
    return NULL;
  png_set_read_fn (png, reader, read_cb);
  png_set_chunk_malloc_max (png, MAX_SIDE_CHUNKS);
  png_read_info (png, info);
  if (png_get_eXIf_1 (png, info, &n, &exif) == 0 || exif == NULL)
    return NULL;
  return g_bytes_new (exif, n);
}

void
decode_find_png (const guint8 *data, gsize size, DecodeFound *out)
{
  g_autoptr (GByteArray) rest = without_picture (data, size, &out->complete);
  Reader reader;
  png_structp png;
  png_infop info;

  if (rest == NULL)
    return;
  reader = (Reader){ rest->data, rest->len, 0 };
  png = png_create_read_struct (PNG_LIBPNG_VER_STRING, NULL, error_cb, warning_cb);
  if (png == NULL)
    return;
  info = png_create_info_struct (png);
  if (info != NULL)
    out->exif = read_exif (png, info, &reader);
  png_destroy_read_struct (&png, &info, NULL);
}
