/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-proof.c — draws one row after the other and hands it to libpng.
 *
 * Invariant: nothing here is as large as the picture; a row knows only the shapes that touch it.
 */
#include "imaging/img-proof.h"

#include <math.h>
#include <png.h>
#include <string.h>

#include "imaging/img-decode.h"

/* Photographs hardly shrink further above it; the time doubles. */
#define ZLIB_LEVEL 4
#define ROWS_BETWEEN_QUESTIONS 64 /* whether it was cancelled */

typedef enum
{
  SHAPE_STROKE,
  SHAPE_BOX,
  SHAPE_MASK
} ShapeKind;

typedef struct
{
  ShapeKind kind;
  ImgInk ink;
  double x0, y0, x1, y1; /* what it can touch at most; of a box, itself */
  ImgPoint *points;      /* owned; of a stroke */
  gsize n;
  double half_width;
  GBytes *coverage; /* owned; of a mask */
  int width, x, y;
} Shape;

struct _ImgProof
{
  ImgPixels *picture;
  int width, height, picture_x, picture_y;
  double px_per_mm; /* 0 = not known */
  GArray *shapes;   /* Shape */
  GArray *texts;    /* png_text; its strings are owned */
};

static void
shape_clear (gpointer data)
{
  Shape *self = data;

  g_free (self->points);
  g_clear_pointer (&self->coverage, g_bytes_unref);
}

static void
text_clear (gpointer data)
{
  png_text *self = data;

  g_free (self->key);
  g_free (self->lang);
  g_free (self->text);
}

ImgProof *
img_proof_new (const ImgPixels *picture, int width, int height, int picture_x, int picture_y)
{
  ImgProof *self;

  g_return_val_if_fail (picture != NULL, NULL);
  g_return_val_if_fail (width <= IMG_PROOF_MAX_SIDE && height <= IMG_PROOF_MAX_SIDE, NULL);
  g_return_val_if_fail (picture_x >= 0 && picture_x + picture->width <= width, NULL);
  g_return_val_if_fail (picture_y >= 0 && picture_y + picture->height <= height, NULL);

  self = g_new0 (ImgProof, 1);
  self->picture = img_pixels_copy (picture);
  self->width = width;
  self->height = height;
  self->picture_x = picture_x;
  self->picture_y = picture_y;
  self->shapes = g_array_new (FALSE, TRUE, sizeof (Shape));
  g_array_set_clear_func (self->shapes, shape_clear);
  self->texts = g_array_new (FALSE, TRUE, sizeof (png_text));
  g_array_set_clear_func (self->texts, text_clear);
  return self;
}

void
img_proof_free (ImgProof *self)
{
  if (self == NULL)
    return;
  img_pixels_free (self->picture);
  g_array_unref (self->shapes);
  g_array_unref (self->texts);
  g_free (self);
}

/* ---- what is drawn ---- */

void
img_proof_stroke (ImgProof *self, ImgInk ink, const ImgPoint *points, gsize n, double half_width)
{
  Shape shape = { SHAPE_STROKE, ink, INFINITY, INFINITY, -INFINITY, -INFINITY };

  g_return_if_fail (n > 0 && half_width > 0 && half_width < IMG_PROOF_MAX_SIDE);

  for (gsize i = 0; i < n; i++)
    {
      g_return_if_fail (isfinite (points[i].x) && isfinite (points[i].y));
      shape.x0 = MIN (shape.x0, points[i].x - half_width - 1);
      shape.x1 = MAX (shape.x1, points[i].x + half_width + 1);
      shape.y0 = MIN (shape.y0, points[i].y - half_width - 1);
      shape.y1 = MAX (shape.y1, points[i].y + half_width + 1);
    }
  shape.points = g_memdup2 (points, n * sizeof *points);
  shape.n = n;
  shape.half_width = half_width;
  g_array_append_val (self->shapes, shape);
}

void
img_proof_box (ImgProof *self, ImgInk ink, double x0, double y0, double x1, double y1)
{
  Shape shape = { SHAPE_BOX, ink, x0, y0, x1, y1 };

  g_return_if_fail (x0 <= x1 && y0 <= y1 && isfinite (x1 - x0) && isfinite (y1 - y0));

  g_array_append_val (self->shapes, shape);
}

void
img_proof_mask (ImgProof *self, ImgInk ink, GBytes *coverage, int width, int height, int x, int y)
{
  Shape shape = { SHAPE_MASK, ink, x, y, (double) x + width, (double) y + height };

  g_return_if_fail (width > 0 && height > 0);
  g_return_if_fail (g_bytes_get_size (coverage) == (gsize) width * (gsize) height);

  shape.coverage = g_bytes_ref (coverage);
  shape.width = width;
  shape.x = x;
  shape.y = y;
  g_array_append_val (self->shapes, shape);
}

void
img_proof_set_scale (ImgProof *self, double px_per_mm)
{
  self->px_per_mm = isfinite (px_per_mm) && px_per_mm > 0 ? px_per_mm : 0;
}

void
img_proof_text (ImgProof *self, const char *keyword, const char *language, const char *text)
{
  png_text row = { .compression = PNG_ITXT_COMPRESSION_NONE };

  g_return_if_fail (*keyword != '\0' && strlen (keyword) <= 79 && g_utf8_validate (text, -1, NULL));

  row.key = g_strdup (keyword);
  row.lang = g_strdup (language);
  row.text = g_strdup (text);
  row.itxt_length = strlen (text);
  g_array_append_val (self->texts, row);
}

/* ---- one row ---- */

typedef struct
{
  guint8 *rgb;  /* 3 bytes a pixel */
  float *cover; /* 0 … 1; all 0 between the shapes */
  int width;
  int y;
} Row;

static void
blend (const Row *row, const ImgInk *ink, int from, int to)
{
  const guint8 colour[3] = { ink->r, ink->g, ink->b };

  for (int x = from; x < to; x++)
    {
      float share = row->cover[x] * (float) ink->cover / 255;
      guint8 *at = row->rgb + (gsize) x * 3;

      for (int c = 0; c < 3; c++)
        at[c] = (guint8) ((float) at[c] + share * ((float) colour[c] - (float) at[c]) + .5f);
      row->cover[x] = 0;
    }
}

/* Whole columns of the row that lie in lo … hi. */
static void
columns (const Row *row, double lo, double hi, int *from, int *to)
{
  *from = (int) CLAMP (floor (lo), 0, row->width);
  *to = (int) CLAMP (ceil (hi), 0, row->width);
}

/* The part of a segment that can come near this row, and how much of each pixel it covers. */
static void
cover_segment (const Row *row, ImgPoint a, ImgPoint b, double half_width)
{
  double reach = half_width + 1, y = row->y + .5;
  double dx = b.x - a.x, dy = b.y - a.y, length2 = dx * dx + dy * dy;
  double t0 = 0, t1 = 1;
  int from, to;

  if (y < MIN (a.y, b.y) - reach || y > MAX (a.y, b.y) + reach)
    return;
  if (dy != 0)
    {
      double u = (y - reach - a.y) / dy, v = (y + reach - a.y) / dy;

      t0 = CLAMP (MIN (u, v), 0, 1);
      t1 = CLAMP (MAX (u, v), 0, 1);
    }
  columns (row, a.x + MIN (t0 * dx, t1 * dx) - reach, a.x + MAX (t0 * dx, t1 * dx) + reach, &from, &to);
  for (int x = from; x < to; x++)
    {
      double px = x + .5 - a.x, py = y - a.y;
      double t = length2 > 0 ? CLAMP ((px * dx + py * dy) / length2, 0, 1) : 0;
      double distance = hypot (px - t * dx, py - t * dy);

      row->cover[x] = MAX (row->cover[x], (float) CLAMP (half_width + .5 - distance, 0, 1));
    }
}

static void
cover_stroke (const Row *row, const Shape *shape)
{
  if (shape->n == 1)
    cover_segment (row, shape->points[0], shape->points[0], shape->half_width);
  for (gsize i = 1; i < shape->n; i++)
    cover_segment (row, shape->points[i - 1], shape->points[i], shape->half_width);
}

/* How much of the pixel i … i+1 lies in lo … hi. */
static double
share_of (int i, double lo, double hi)
{
  return CLAMP (MIN (hi, i + 1) - MAX (lo, i), 0, 1);
}

static void
cover_box (const Row *row, const Shape *shape, int from, int to)
{
  double down = share_of (row->y, shape->y0, shape->y1);

  for (int x = from; x < to; x++)
    row->cover[x] = (float) (down * share_of (x, shape->x0, shape->x1));
}

static void
cover_mask (const Row *row, const Shape *shape, int from, int to)
{
  const guint8 *bytes = g_bytes_get_data (shape->coverage, NULL);
  const guint8 *line = bytes + (gsize) (row->y - shape->y) * (gsize) shape->width;

  for (int x = from; x < to; x++)
    row->cover[x] = (float) line[x - shape->x] / 255;
}

static void
draw_row (ImgProof *self, const Row *row)
{
  int in_picture = row->y - self->picture_y;

  memset (row->rgb, 0xff, (gsize) row->width * 3);
  if (in_picture >= 0 && in_picture < self->picture->height)
    memcpy (row->rgb + (gsize) self->picture_x * 3, img_pixels_row (self->picture, in_picture),
            (gsize) self->picture->width * 3);
  for (guint i = 0; i < self->shapes->len; i++)
    {
      const Shape *shape = &g_array_index (self->shapes, Shape, i);
      int from, to;

      if (row->y + 1 <= shape->y0 || row->y >= shape->y1)
        continue;
      columns (row, shape->x0, shape->x1, &from, &to);
      if (shape->kind == SHAPE_STROKE)
        cover_stroke (row, shape);
      else if (shape->kind == SHAPE_BOX)
        cover_box (row, shape, from, to);
      else
        cover_mask (row, shape, from, to);
      blend (row, &shape->ink, from, to);
    }
}

/* ---- the file ---- */

typedef struct
{
  ImgProofSink sink;
  gpointer data;
  GCancellable *cancellable;
  GError *error; /* owned; what the sink said */
} Writer;

static void
write_cb (png_structp png, png_bytep bytes, size_t n)
{
  Writer *writer = png_get_io_ptr (png);

  if (!writer->sink (bytes, n, writer->data, &writer->error))
    png_error (png, "not written");
}

static void
flush_cb (png_structp png)
{
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

static void
write_head (ImgProof *self, png_structp png, png_infop info)
{
  double per_metre = round (self->px_per_mm * 1000);

  png_set_IHDR (png, info, (png_uint_32) self->width, (png_uint_32) self->height, 8, PNG_COLOR_TYPE_RGB,
                PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
  png_set_sRGB (png, info, PNG_sRGB_INTENT_PERCEPTUAL);
  if (per_metre >= 1 && per_metre <= PNG_UINT_31_MAX)
    png_set_pHYs (png, info, (png_uint_32) per_metre, (png_uint_32) per_metre, PNG_RESOLUTION_METER);
  png_set_text (png, info, (png_const_textp) (gpointer) self->texts->data, (int) self->texts->len);
  png_set_compression_level (png, ZLIB_LEVEL);
  png_set_filter (png, PNG_FILTER_TYPE_BASE, PNG_FILTER_SUB | PNG_FILTER_UP);
  png_write_info (png, info);
}

/* libpng leaves by a long jump: nothing here is to be freed on the way. */
static gboolean
write_all (ImgProof *self, Row *row, Writer *writer, png_structp png, png_infop info)
{
  if (setjmp (png_jmpbuf (png)))
    return FALSE;
  png_set_write_fn (png, writer, write_cb, flush_cb);
  write_head (self, png, info);
  for (row->y = 0; row->y < self->height; row->y++)
    {
      if (row->y % ROWS_BETWEEN_QUESTIONS == 0 &&
          g_cancellable_set_error_if_cancelled (writer->cancellable, &writer->error))
        return FALSE;
      draw_row (self, row);
      png_write_row (png, row->rgb);
    }
  png_write_end (png, NULL);
  return TRUE;
}

gboolean
img_proof_write (
  ImgProof *self, ImgProofSink sink, gpointer data, GCancellable *cancellable, GError **error)
{
  g_autofree guint8 *rgb = g_try_malloc_n ((gsize) self->width, 3);
  g_autofree float *cover = g_try_new0 (float, self->width);
  Row row = { rgb, cover, self->width, 0 };
  Writer writer = { sink, data, cancellable, NULL };
  png_structp png = png_create_write_struct (PNG_LIBPNG_VER_STRING, NULL, error_cb, warning_cb);
  png_infop info = png != NULL ? png_create_info_struct (png) : NULL;
  gboolean ok = rgb != NULL && cover != NULL && info != NULL && write_all (self, &row, &writer, png, info);

  if (png != NULL)
    png_destroy_write_struct (&png, &info);
  if (ok)
    return TRUE;
  if (writer.error != NULL)
    g_propagate_error (error, writer.error);
  else
    g_set_error_literal (error, IMG_ERROR, IMG_ERROR_FAILED,
                         "The sheet could not be made. Close other programs and try again.");
  return FALSE;
}
