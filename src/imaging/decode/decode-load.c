/* SPDX-License-Identifier: GPL-3.0-or-later */
/* decode-load.c — gdk-pixbuf's loader for one named format.
 *
 * Invariant: the size is judged in `size-prepared`, which every loader emits
 * before it allocates the picture.
 */
#include "imaging/decode/decode-load.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define STEP (64 * 1024)

/* Names of the loaders' formats; the installed ones are asked for them. */
static const char *const loader_names[DECODE_N_FORMATS] = {
  [DECODE_FORMAT_JPEG] = "jpeg", [DECODE_FORMAT_PNG] = "png",   [DECODE_FORMAT_HEIC] = "heif/avif",
  [DECODE_FORMAT_WEBP] = "webp", [DECODE_FORMAT_TIFF] = "tiff",
};

typedef struct
{
  int max_side;
  int full_width;
  int full_height;
} Sizes;

static void
size_prepared_cb (GdkPixbufLoader *loader, int width, int height, gpointer data)
{
  Sizes *sizes = data;
  double shrink;

  /* Not every loader can be stopped from here; leaving the process always can. */
  if (width < 1 || height < 1)
    _exit (DECODE_EXIT_DAMAGED);
  if ((gint64) width * height > DECODE_MAX_PIXELS)
    _exit (DECODE_EXIT_TOO_LARGE);
  sizes->full_width = width;
  sizes->full_height = height;
  if (sizes->max_side == 0 || MAX (width, height) <= sizes->max_side)
    return;
  shrink = (double) sizes->max_side / MAX (width, height);
  gdk_pixbuf_loader_set_size (loader, MAX (1, (int) (width * shrink + 0.5)),
                              MAX (1, (int) (height * shrink + 0.5)));
}

static gboolean
feed (GdkPixbufLoader *loader, const guint8 *data, gsize size, GError **error)
{
  for (gsize at = 0; at < size; at += STEP)
    if (!gdk_pixbuf_loader_write (loader, data + at, MIN (STEP, size - at), error))
      {
        gdk_pixbuf_loader_close (loader, NULL);
        return FALSE;
      }
  return gdk_pixbuf_loader_close (loader, error);
}

static gboolean
is_usable (GdkPixbuf *pixbuf)
{
  int channels;

  if (pixbuf == NULL)
    return FALSE;
  channels = gdk_pixbuf_get_n_channels (pixbuf);
  return gdk_pixbuf_get_bits_per_sample (pixbuf) == 8 && (channels == 3 || channels == 4);
}

/* libjpeg bounds what it keeps of a progressive picture: without chroma subsampling 108
 * megapixels passed and 200 did not (tried). gdk-pixbuf hands its words on under the code for a
 * damaged one. The HEIC loader may fail without giving any error. */
static DecodeExit
exit_for (const GError *error)
{
  if (g_error_matches (error, GDK_PIXBUF_ERROR, GDK_PIXBUF_ERROR_INSUFFICIENT_MEMORY) ||
      (error != NULL && strstr (error->message, "Backing store") != NULL))
    return DECODE_EXIT_TOO_LARGE;
  return DECODE_EXIT_DAMAGED;
}

DecodeExit
decode_load (DecodeFormat format, const guint8 *data, gsize size, int max_side, DecodeLoaded *out)
{
  g_autoptr (GdkPixbufLoader) loader = NULL;
  g_autoptr (GError) error = NULL;
  Sizes sizes = { .max_side = max_side };
  GdkPixbuf *pixbuf;

  g_assert (format > DECODE_FORMAT_NONE && format < DECODE_N_FORMATS);

  loader = gdk_pixbuf_loader_new_with_type (loader_names[format], NULL);
  if (loader == NULL)
    return (DecodeExit) (DECODE_EXIT_NO_LOADER + (int) format);
  g_signal_connect (loader, "size-prepared", G_CALLBACK (size_prepared_cb), &sizes);
  if (!feed (loader, data, size, &error))
    return exit_for (error);
  pixbuf = gdk_pixbuf_loader_get_pixbuf (loader);
  if (!is_usable (pixbuf) || sizes.full_width == 0)
    return DECODE_EXIT_DAMAGED;
  out->pixbuf = g_object_ref (pixbuf);
  out->full_width = sizes.full_width;
  out->full_height = sizes.full_height;
  return DECODE_EXIT_OK;
}

void
decode_loaded_clear (DecodeLoaded *self)
{
  g_clear_object (&self->pixbuf);
}
