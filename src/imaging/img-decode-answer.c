/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-decode-answer.c — from the decoder's memory file to an ImgPicture.
 *
 * Invariant: nothing is mapped before the seals say that it can neither
 * shrink nor change, and no size is used before the file's own size confirms
 * it. The decoder may have been taken over by the picture it was reading.
 */
#include "imaging/decode/decode-wire.h"
#include "imaging/img-decode-private.h"
#include "imaging/img-orient.h"

#include <errno.h>
#include <fcntl.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

static const char *const format_names[DECODE_N_FORMATS] = {
  [DECODE_FORMAT_JPEG] = "jpeg", [DECODE_FORMAT_PNG] = "png",   [DECODE_FORMAT_HEIC] = "heic",
  [DECODE_FORMAT_WEBP] = "webp", [DECODE_FORMAT_TIFF] = "tiff",
};

typedef struct
{
  void *address;
  gsize size;
} Mapping;

static void
unmap_cb (gpointer data)
{
  Mapping *mapping = data;

  munmap (mapping->address, mapping->size);
  g_free (mapping);
}

static gboolean
is_sealed (int fd)
{
  int seals = fcntl (fd, F_GET_SEALS);

  return seals >= 0 && (seals & DECODE_SEALS) == DECODE_SEALS;
}

static gboolean
read_header (int fd, DecodeHeader *header)
{
  gssize n;

  do
    n = pread (fd, header, sizeof *header, 0);
  while (n < 0 && errno == EINTR);
  return n == (gssize) sizeof *header && header->magic == DECODE_MAGIC &&
         header->version == DECODE_VERSION;
}

static gboolean
is_side (guint32 side)
{
  return side >= 1 && side <= DECODE_MAX_PIXELS;
}

/* Sizes, orientation and format: possible, and of one piece with the file's length. */
static gboolean
sizes_agree (int fd, const DecodeHeader *h)
{
  struct stat st;

  if (!is_side (h->width) || !is_side (h->height) || !is_side (h->full_width) ||
      !is_side (h->full_height))
    return FALSE;
  if ((guint64) h->full_width * h->full_height > DECODE_MAX_PIXELS || h->width > h->full_width ||
      h->height > h->full_height)
    return FALSE;
  if (!img_orient_is_valid ((int) MIN (h->orientation, 99u)) || h->format <= DECODE_FORMAT_NONE ||
      h->format >= DECODE_N_FORMATS)
    return FALSE;
  return fstat (fd, &st) == 0 &&
         (guint64) st.st_size == DECODE_PIXELS_AT + (guint64) h->width * 3 * h->height;
}

static ImgPixels *
map_pixels (int fd, const DecodeHeader *h)
{
  gsize stride = (gsize) h->width * 3, size = stride * h->height + DECODE_PIXELS_AT;
  void *address = mmap (NULL, size, PROT_READ, MAP_SHARED, fd, 0);
  Mapping *mapping;

  if (address == MAP_FAILED)
    return NULL;
  mapping = g_new (Mapping, 1);
  *mapping = (Mapping){ address, size };
  return img_pixels_new_take ((int) h->width, (int) h->height, stride,
                              g_bytes_new_with_free_func ((guint8 *) address + DECODE_PIXELS_AT,
                                                          size - DECODE_PIXELS_AT, unmap_cb,
                                                          mapping));
}

/* A date that cannot be is left out; the picture itself is still good. */
static void
read_taken (const DecodeHeader *h, ImgPicture *picture)
{
  const gint32 *t = h->taken;
  gboolean has_time;
  GDate date;

  if (h->has_taken != 1 || t[0] < 1 || t[0] > 9999 || t[1] < 1 || t[1] > 12 || t[2] < 1 ||
      t[2] > 31 || !g_date_valid_dmy ((GDateDay) t[2], (GDateMonth) t[1], (GDateYear) t[0]))
    return;
  has_time = t[3] >= 0 && t[3] <= 23 && t[4] >= 0 && t[4] <= 59 && t[5] >= 0 && t[5] <= 60;
  picture->has_taken = TRUE;
  picture->year = t[0];
  picture->month = t[1];
  picture->day = t[2];
  picture->hour = has_time ? t[3] : -1;
  picture->minute = has_time ? t[4] : 0;
  picture->second = has_time ? t[5] : 0;
  picture->millisecond = h->taken_ms >= 0 && h->taken_ms <= 999 ? h->taken_ms : -1;
  picture->utc_offset =
    h->utc_offset >= -15 * 60 && h->utc_offset <= 15 * 60 ? h->utc_offset : G_MININT32;
  /* Day 1 of g_date is 0001-01-01; 1970-01-01 is day 719163. */
  g_date_set_dmy (&date, (GDateDay) t[2], (GDateMonth) t[1], (GDateYear) t[0]);
  picture->taken_day = (gint32) g_date_get_julian (&date) - 719163;
}

ImgPicture *
img_decode_read_answer (int memory_fd, GError **error)
{
  g_autoptr (ImgPicture) picture = NULL;
  DecodeHeader header;

  if (!is_sealed (memory_fd) || !read_header (memory_fd, &header) ||
      !sizes_agree (memory_fd, &header))
    {
      g_set_error_literal (error, IMG_ERROR, IMG_ERROR_HELPER_DIED,
                           "The program part that reads pictures gave an answer that cannot be. "
                           "Save the picture again from a picture viewer and add that.");
      return NULL;
    }
  picture = g_new0 (ImgPicture, 1);
  picture->pixels = map_pixels (memory_fd, &header);
  if (picture->pixels == NULL)
    {
      g_set_error_literal (error, IMG_ERROR, IMG_ERROR_FAILED,
                           "There is not enough memory to show this picture. Close other programs "
                           "and try again.");
      return NULL;
    }
  picture->orientation = (int) header.orientation;
  picture->original_width = (int) header.full_width;
  picture->original_height = (int) header.full_height;
  picture->format = g_strdup (format_names[header.format]);
  picture->hour = picture->millisecond = -1;
  picture->utc_offset = G_MININT32;
  read_taken (&header, picture);
  return g_steal_pointer (&picture);
}
