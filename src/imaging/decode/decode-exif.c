/* SPDX-License-Identifier: GPL-3.0-or-later */
/* decode-exif.c — EXIF fields through libexif, dates checked by the calendar.
 *
 * Invariant: a date that is not a day of the calendar is no date. Cameras
 * write blanks or zeros for "unknown", and editing programs write prose.
 */
#include "imaging/decode/decode-exif.h"
#include "imaging/img-orient.h"

#include <libexif/exif-data.h>
#include <string.h>

/* What libexif reads of one block, less the six bytes put before it. */
#define MAX_BLOCK 65000

static gboolean
number (const char *text, int n, int *out)
{
  *out = 0;
  for (int i = 0; i < n; i++)
    {
      if (!g_ascii_isdigit (text[i]))
        return FALSE;
      *out = *out * 10 + (text[i] - '0');
    }
  return TRUE;
}

gboolean
decode_exif_parse_date (const char *text, gint32 out[6])
{
  int v[6];

  if (strlen (text) < 10 || text[4] != ':' || text[7] != ':' || !number (text, 4, &v[0]) ||
      !number (text + 5, 2, &v[1]) || !number (text + 8, 2, &v[2]))
    return FALSE;
  if (v[0] < 1 || v[1] < 1 || v[1] > 12 || v[2] < 1 ||
      !g_date_valid_dmy ((GDateDay) v[2], (GDateMonth) v[1], (GDateYear) v[0]))
    return FALSE;
  if (strlen (text) < 19 || text[13] != ':' || text[16] != ':' || !number (text + 11, 2, &v[3]) ||
      !number (text + 14, 2, &v[4]) || !number (text + 17, 2, &v[5]) || v[3] > 23 || v[4] > 59 ||
      v[5] > 60)
    {
      v[3] = -1;
      v[4] = v[5] = 0;
    }
  for (int i = 0; i < 6; i++)
    out[i] = v[i];
  return TRUE;
}

gint32
decode_exif_parse_offset (const char *text)
{
  int hours, minutes;

  if (strlen (text) < 6 || (text[0] != '+' && text[0] != '-') || text[3] != ':' ||
      !number (text + 1, 2, &hours) || !number (text + 4, 2, &minutes) || hours > 14 ||
      minutes > 59)
    return G_MININT32;
  return (text[0] == '-' ? -1 : 1) * (hours * 60 + minutes);
}

gint32
decode_exif_parse_subsec (const char *text)
{
  int ms = 0, n = 0;

  for (; n < 3 && g_ascii_isdigit (text[n]); n++)
    ms = ms * 10 + (text[n] - '0');
  if (n == 0)
    return -1;
  for (; n < 3; n++)
    ms *= 10;
  return ms;
}

/* Copies an ASCII field; FALSE when it is absent, of another type, or longer than `size`. */
static gboolean
ascii_field (ExifData *exif, ExifTag tag, char *out, gsize size)
{
  ExifEntry *entry = exif_content_get_entry (exif->ifd[EXIF_IFD_EXIF], tag);

  if (entry == NULL || entry->format != EXIF_FORMAT_ASCII || entry->data == NULL ||
      entry->size >= size)
    return FALSE;
  memcpy (out, entry->data, entry->size);
  out[entry->size] = '\0';
  return TRUE;
}

static void
read_taken (ExifData *exif, DecodeExif *out)
{
  char text[64];

  if (ascii_field (exif, EXIF_TAG_DATE_TIME_ORIGINAL, text, sizeof text))
    out->has_taken = decode_exif_parse_date (text, out->taken);
  if (!out->has_taken)
    return;
  if (ascii_field (exif, EXIF_TAG_SUB_SEC_TIME_ORIGINAL, text, sizeof text))
    out->taken_ms = decode_exif_parse_subsec (text);
  if (ascii_field (exif, (ExifTag) 0x9011, text, sizeof text)) /* OffsetTimeOriginal */
    out->utc_offset = decode_exif_parse_offset (text);
}

static void
read_orientation (ExifData *exif, DecodeExif *out)
{
  ExifEntry *entry = exif_content_get_entry (exif->ifd[EXIF_IFD_0], EXIF_TAG_ORIENTATION);
  int value;

  if (entry == NULL || entry->format != EXIF_FORMAT_SHORT || entry->components != 1 ||
      entry->data == NULL || entry->size < 2)
    return;
  value = exif_get_short (entry->data, exif_data_get_byte_order (exif));
  if (img_orient_is_valid (value))
    out->orientation = value;
}

void
decode_exif_read (const guint8 *tiff, gsize size, DecodeExif *out)
{
  g_autofree guint8 *block = NULL;
  ExifData *exif;

  *out = (DecodeExif){ .orientation = 1, .taken_ms = -1, .utc_offset = G_MININT32 };
  if (tiff == NULL || size < 8)
    return;
  size = MIN (size, MAX_BLOCK);
  block = g_malloc (size + 6);
  memcpy (block, "Exif\0\0", 6);
  memcpy (block + 6, tiff, size);

  exif = exif_data_new ();
  if (exif == NULL)
    return;
  /* What the file says, without what the standard would like to see added. */
  exif_data_unset_option (exif, EXIF_DATA_OPTION_FOLLOW_SPECIFICATION);
  exif_data_load_data (exif, block, (unsigned int) (size + 6));
  read_orientation (exif, out);
  read_taken (exif, out);
  exif_data_unref (exif);
}
