/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fixture.h — pictures made while the tests run; none is kept in the tree.
 *
 * The basic picture has four quarters of four colours, called R G B Y from top
 * left, top right, bottom left, bottom right, so that no turn looks like
 * another.
 */
#pragma once

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <gio/gio.h>

#include "imaging/img-pixels.h"

typedef struct
{
  int orientation;     /* 0: no such tag */
  const char *taken;   /* DateTimeOriginal as written; NULL: none */
  const char *subsec;  /* may be NULL */
  const char *offset;  /* may be NULL */
  gboolean big_endian; /* "MM" */
} FixtureExif;

/* A folder of its own that fixture_done() removes. */
char *fixture_dir (void);
void fixture_done (char *dir);
char *fixture_write (const char *dir, const char *name, GBytes *bytes);

GdkPixbuf *fixture_quarters (int width, int height);

/* The letters of the four corners, top left first, or '?' for a colour that is none of them. */
void fixture_corners (const ImgPixels *pixels, char out[5]);

GBytes *fixture_exif (const FixtureExif *exif); /* from the TIFF header on */
GBytes *fixture_jpeg (GdkPixbuf *pixbuf, const FixtureExif *exif);
GBytes *fixture_png (GdkPixbuf *pixbuf, const FixtureExif *exif, gboolean exif_after_pixels);
GBytes *fixture_png_header (guint32 width, guint32 height); /* no pixels at all */
GBytes *fixture_png_plain (guint32 width, guint32 height);  /* one colour, row by row */
GBytes *fixture_progressive_jpeg (GdkPixbuf *pixbuf);
GBytes *fixture_tiff (GdkPixbuf *pixbuf, int orientation);
GBytes *fixture_tiff_dated (GdkPixbuf *pixbuf, const FixtureExif *exif);
GBytes *fixture_webp (GdkPixbuf *pixbuf, const FixtureExif *exif); /* NULL: no encoder here */
GBytes *fixture_heic (const char *dir, GBytes *jpeg);              /* NULL: no encoder here */
GBytes *fixture_heic_turned (GBytes *heic, int quarter_turns);     /* counter-clockwise */
gboolean fixture_has_loader (const char *name);
