/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-orient.c — the one place that says what "upright" is.
 *
 * Invariant: each of the eight orientations is an exchange of the axes (or
 * not) followed by a mirroring of the upright axes; everything below reads the
 * same table, so points and pixels can never disagree.
 */
#include "imaging/img-orient.h"

#include <string.h>

/* Columns of one cache-friendly block when rows become columns. */
#define BLOCK 16

typedef struct
{
  gboolean swap;   /* upright x comes from stored y */
  gboolean flip_x; /* then mirrored along upright x */
  gboolean flip_y;
} Turn;

static const Turn turns[9] = {
  { FALSE, FALSE, FALSE }, /* 0: not an orientation, read as 1 */
  { FALSE, FALSE, FALSE }, { FALSE, TRUE, FALSE }, { FALSE, TRUE, TRUE }, { FALSE, FALSE, TRUE },
  { TRUE, FALSE, FALSE },  { TRUE, TRUE, FALSE },  { TRUE, TRUE, TRUE },  { TRUE, FALSE, TRUE },
};

static const Turn *
turn_of (int orientation)
{
  return &turns[img_orient_is_valid (orientation) ? orientation : 1];
}

gboolean
img_orient_is_valid (int orientation)
{
  return orientation >= 1 && orientation <= 8;
}

gboolean
img_orient_swaps_sides (int orientation)
{
  return turn_of (orientation)->swap;
}

int
img_orient_inverse (int orientation)
{
  if (orientation == 6)
    return 8;
  if (orientation == 8)
    return 6;
  return img_orient_is_valid (orientation) ? orientation : 1;
}

void
img_orient_size (int orientation, int width, int height, int *upright_w, int *upright_h)
{
  gboolean swap = img_orient_swaps_sides (orientation);

  *upright_w = swap ? height : width;
  *upright_h = swap ? width : height;
}

void
img_orient_point (int orientation, double width, double height, double *x, double *y)
{
  const Turn *turn = turn_of (orientation);
  double across = turn->swap ? *y : *x, down = turn->swap ? *x : *y;

  *x = turn->flip_x ? (turn->swap ? height : width) - across : across;
  *y = turn->flip_y ? (turn->swap ? width : height) - down : down;
}

/* One run of upright pixels; `step` is the way to the next one in the source. */
static void
copy_run (guint8 *dst, const guint8 *src, gssize step, int n)
{
  if (step == 3)
    {
      memcpy (dst, src, (gsize) n * 3);
      return;
    }
  for (int i = 0; i < n; i++, dst += 3, src += step)
    {
      dst[0] = src[0];
      dst[1] = src[1];
      dst[2] = src[2];
    }
}

void
img_orient_rows (const guint8 *src,
                 gsize src_stride,
                 int width,
                 int height,
                 int orientation,
                 int first_row,
                 int n_rows,
                 guint8 *dst,
                 gsize dst_stride)
{
  const Turn *turn = turn_of (orientation);
  gssize stride = (gssize) src_stride;
  gssize step_x = turn->swap ? stride : 3, step_y = turn->swap ? 3 : stride;
  const guint8 *origin = src;
  int upright_w, upright_h, block;

  img_orient_size (orientation, width, height, &upright_w, &upright_h);
  if (turn->flip_x)
    {
      origin += step_x * (upright_w - 1);
      step_x = -step_x;
    }
  if (turn->flip_y)
    {
      origin += step_y * (upright_h - 1);
      step_y = -step_y;
    }

  /* Where rows become columns, neighbours along x lie a whole row apart: a
   * narrow block keeps the few source rows in the cache for all rows asked. */
  block = turn->swap ? BLOCK : upright_w;
  for (int x = 0; x < upright_w; x += block)
    for (int i = 0; i < n_rows; i++)
      copy_run (dst + (gsize) i * dst_stride + (gsize) x * 3,
                origin + step_y * (first_row + i) + step_x * x, step_x, MIN (block, upright_w - x));
}

ImgPixels *
img_orient_pixels (const ImgPixels *stored, int orientation)
{
  int width, height;
  gsize stride;
  guint8 *data;

  g_return_val_if_fail (stored != NULL, NULL);

  img_orient_size (orientation, stored->width, stored->height, &width, &height);
  stride = (gsize) width * 3;
  data = g_malloc (stride * (gsize) height);
  img_orient_rows (img_pixels_row (stored, 0), stored->stride, stored->width, stored->height,
                   orientation, 0, height, data, stride);
  return img_pixels_new_take (width, height, stride,
                              g_bytes_new_take (data, stride * (gsize) height));
}
