/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-tile.c — see img-tile.h. */
#include "imaging/img-tile.h"

gboolean
img_tile_area (const ImgPyramid *pyramid, ImgTile tile, ImgTileArea *out)
{
  const ImgPixels *level;

  g_return_val_if_fail (pyramid != NULL && out != NULL, FALSE);

  if (tile.level < 0 || tile.level >= pyramid->n_levels || tile.column < 0 || tile.row < 0)
    return FALSE;
  level = pyramid->levels[tile.level];
  if (tile.column > (level->width - 1) / IMG_TILE_SIDE ||
      tile.row > (level->height - 1) / IMG_TILE_SIDE)
    return FALSE;
  out->x = tile.column * IMG_TILE_SIDE;
  out->y = tile.row * IMG_TILE_SIDE;
  out->width = MIN (IMG_TILE_SIDE, level->width - out->x);
  out->height = MIN (IMG_TILE_SIDE, level->height - out->y);
  return TRUE;
}

static guint32
word_of (const guint8 *rgb)
{
  return 0xff000000u | ((guint32) rgb[0] << 16) | ((guint32) rgb[1] << 8) | rgb[2];
}

/* `n` pixels from `x` on; outside the row its first or last. */
static void
fill_row (guint32 *out, const guint8 *row, int x, int n, int width)
{
  int i = 0;

  for (; i < n && x + i < 0; i++)
    out[i] = word_of (row);
  for (; i < n && x + i < width; i++)
    out[i] = word_of (row + 3 * (gsize) (x + i));
  for (; i < n; i++)
    out[i] = word_of (row + 3 * (gsize) (width - 1));
}

void
img_tile_fill (const ImgPyramid *pyramid, ImgTile tile, void *out, gsize stride)
{
  const ImgPixels *level;
  ImgTileArea area;
  guint8 *to = out;

  g_return_if_fail (img_tile_area (pyramid, tile, &area));
  g_return_if_fail (stride >= 4 * ((gsize) area.width + 2 * IMG_TILE_RIM));

  level = pyramid->levels[tile.level];
  for (int y = area.y - IMG_TILE_RIM; y < area.y + area.height + IMG_TILE_RIM; y++, to += stride)
    fill_row ((guint32 *) (void *) to, img_pixels_row (level, CLAMP (y, 0, level->height - 1)),
              area.x - IMG_TILE_RIM, area.width + 2 * IMG_TILE_RIM, level->width);
}
