/* SPDX-License-Identifier: GPL-3.0-or-later */
/* demo-jpeg.c — gdk-pixbuf writes the JPEG, libexif the APP1 block, which goes
 * in right after the start-of-image marker (Exif 2.3, 4.5.4: APP1 follows SOI).
 */
#include "demo/demo-jpeg.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <libexif/exif-data.h>
#include <string.h>

#define EXIF_DATE_LEN 20 /* "YYYY:MM:DD HH:MM:SS" and a zero */

static ExifEntry *
new_entry (ExifData *data,
           ExifIfd ifd,
           ExifTag tag,
           ExifFormat format,
           guint size,
           guint components)
{
  ExifMem *mem = exif_mem_new_default ();
  ExifEntry *entry = exif_entry_new_mem (mem);

  entry->tag = tag;
  entry->format = format;
  entry->components = components;
  entry->size = size;
  entry->data = exif_mem_alloc (mem, size);
  exif_content_add_entry (data->ifd[ifd], entry);
  exif_entry_unref (entry);
  exif_mem_unref (mem);
  return entry;
}

static void
add_text (ExifData *data, ExifIfd ifd, ExifTag tag, const char *text)
{
  guint size = (guint) strlen (text) + 1;
  ExifEntry *entry = new_entry (data, ifd, tag, EXIF_FORMAT_ASCII, size, size);

  memcpy (entry->data, text, size);
}

static void
add_dates (ExifData *data, const char *taken)
{
  char date[EXIF_DATE_LEN];

  g_strlcpy (date, taken, sizeof date);
  for (int i = 0; i < 10 && date[i] != '\0'; i++)
    if (date[i] == '-')
      date[i] = ':';
  add_text (data, EXIF_IFD_0, EXIF_TAG_DATE_TIME, date);
  add_text (data, EXIF_IFD_EXIF, EXIF_TAG_DATE_TIME_ORIGINAL, date);
  add_text (data, EXIF_IFD_EXIF, EXIF_TAG_DATE_TIME_DIGITIZED, date);
}

/* The payload of APP1 ("Exif\0\0" and the TIFF structure). */
static GBytes *
exif_block (int orientation, const char *taken)
{
  ExifData *data = exif_data_new ();
  ExifEntry *entry;
  unsigned char *raw = NULL;
  unsigned int size = 0;
  GBytes *bytes;

  exif_data_set_byte_order (data, EXIF_BYTE_ORDER_INTEL);
  add_text (data, EXIF_IFD_0, EXIF_TAG_MAKE, "Drawn");
  add_text (data, EXIF_IFD_0, EXIF_TAG_MODEL, "Mantidary drawing");
  entry = new_entry (data, EXIF_IFD_0, EXIF_TAG_ORIENTATION, EXIF_FORMAT_SHORT, 2, 1);
  exif_set_short (entry->data, EXIF_BYTE_ORDER_INTEL, (ExifShort) orientation);
  if (taken != NULL)
    add_dates (data, taken);
  exif_data_save_data (data, &raw, &size);
  bytes = g_bytes_new (raw, size);
  g_free (raw);
  exif_data_unref (data);
  return bytes;
}

/* Where the stored pixel (x, y) lies in the upright picture. */
static void
stored_to_upright (int orientation, int x, int y, int w, int h, int *ux, int *uy)
{
  gboolean swapped = orientation >= 5;
  int sx = swapped ? y : x, sy = swapped ? x : y;
  gboolean flip_x = orientation == 2 || orientation == 3 || orientation == 6 || orientation == 7;
  gboolean flip_y = orientation == 3 || orientation == 4 || orientation == 7 || orientation == 8;

  *ux = flip_x ? w - 1 - sx : sx;
  *uy = flip_y ? h - 1 - sy : sy;
}

static GdkPixbuf *
stored_pixbuf (const guint8 *rgb, int width, int height, int orientation)
{
  gboolean swapped = orientation >= 5;
  int sw = swapped ? height : width, sh = swapped ? width : height, rowstride;
  GdkPixbuf *pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, sw, sh);
  guint8 *out;

  if (pixbuf == NULL)
    return NULL;
  out = gdk_pixbuf_get_pixels (pixbuf);
  rowstride = gdk_pixbuf_get_rowstride (pixbuf);
  for (int y = 0; y < sh; y++)
    {
      guint8 *row = out + (gsize) rowstride * y;

      if (orientation == 1)
        {
          memcpy (row, rgb + (gsize) 3 * width * y, (gsize) 3 * width);
          continue;
        }
      for (int x = 0; x < sw; x++)
        {
          int ux, uy;

          stored_to_upright (orientation, x, y, width, height, &ux, &uy);
          memcpy (row + 3 * x, rgb + 3 * ((gsize) width * uy + ux), 3);
        }
    }
  return pixbuf;
}

GBytes *
demo_jpeg_encode (const guint8 *rgb,
                  int width,
                  int height,
                  int quality,
                  int orientation,
                  const char *taken,
                  GError **error)
{
  g_autoptr (GdkPixbuf) pixbuf = NULL;
  g_autoptr (GBytes) exif = NULL;
  g_autofree char *jpeg = NULL;
  g_autofree char *q = g_strdup_printf ("%d", CLAMP (quality, 1, 100));
  gsize jpeg_size, exif_size, seg;
  GByteArray *out;
  guint8 head[4];

  orientation = CLAMP (orientation, 1, 8);
  pixbuf = stored_pixbuf (rgb, width, height, orientation);
  if (pixbuf == NULL)
    {
      g_set_error (error, GDK_PIXBUF_ERROR, GDK_PIXBUF_ERROR_INSUFFICIENT_MEMORY,
                   "Not enough memory for a picture of %d by %d pixels; draw a smaller one.", width,
                   height);
      return NULL;
    }
  if (!gdk_pixbuf_save_to_buffer (pixbuf, &jpeg, &jpeg_size, "jpeg", error, "quality", q, NULL))
    return NULL;
  exif = exif_block (orientation, taken);
  exif_size = g_bytes_get_size (exif);
  seg = exif_size + 2; /* the length counts itself; a few hundred bytes, far below 65535 */
  head[0] = 0xff;
  head[1] = 0xe1;
  head[2] = (guint8) (seg >> 8);
  head[3] = (guint8) (seg & 0xff);
  out = g_byte_array_sized_new ((guint) (jpeg_size + exif_size + 4));
  g_byte_array_append (out, (const guint8 *) jpeg, 2);
  g_byte_array_append (out, head, 4);
  g_byte_array_append (out, g_bytes_get_data (exif, NULL), (guint) exif_size);
  g_byte_array_append (out, (const guint8 *) jpeg + 2, (guint) (jpeg_size - 2));
  return g_byte_array_free_to_bytes (out);
}

gboolean
demo_jpeg_write (const char *path,
                 const guint8 *rgb,
                 int width,
                 int height,
                 int quality,
                 int orientation,
                 const char *taken,
                 GError **error)
{
  g_autoptr (GBytes) bytes = NULL;

  bytes = demo_jpeg_encode (rgb, width, height, quality, orientation, taken, error);
  if (bytes == NULL)
    return FALSE;
  return g_file_set_contents (path, g_bytes_get_data (bytes, NULL),
                              (gssize) g_bytes_get_size (bytes), error);
}
