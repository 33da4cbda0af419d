/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-tile.h — square pieces of a pyramid's levels, in the form that a screen takes.
 *
 * A tile carries a rim of its neighbours' pixels, so that a filter between two pixels finds both
 * and no seam shows where tiles meet; at the edge of the picture the last pixel is repeated.
 */
#pragma once

#include "imaging/img-scale.h"

#define IMG_TILE_SIDE 512 /* pixels of the level, without the rim */
#define IMG_TILE_RIM 1

typedef struct
{
  int level, column, row;
} ImgTile;

/* Without the rim, in pixels of its level. */
typedef struct
{
  int x, y, width, height;
} ImgTileArea;

/* FALSE: there is no such tile. */
gboolean img_tile_area (const ImgPyramid *pyramid, ImgTile tile, ImgTileArea *out);
/* Opaque words 0xffRRGGBB, (width + 2 rims) × (height + 2 rims), rows of `stride` bytes. The tile
 * is one that is there. */
void img_tile_fill (const ImgPyramid *pyramid, ImgTile tile, void *out, gsize stride);
