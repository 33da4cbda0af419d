/* SPDX-License-Identifier: GPL-3.0-or-later */
/* recipe-camera.c — what cameras and programs do to a picture: tone, casts,
 * sharpening halos, shrinking and growing, coarse noise, lost colour, JPEG.
 */
#include "recipe.h"

#include "demo/demo-rand.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <jpeglib.h>

static guint8
byte_of (double v)
{
  return (guint8) (CLAMP (v, 0.0, 255.0) + .5 * (v < 255.0));
}

static void
tone (DemoDrawing *d, DemoRand *rand)
{
  double gamma = demo_rand_lognormal (rand, 1.0, .22), grey = 0.0;
  double gain = demo_rand_lognormal (rand, 1.0, .12), lift = demo_rand_range (rand, -10, 18);
  guint8 map[3][256];

  if (demo_rand_chance (rand, .15))
    grey = demo_rand_range (rand, .4, 1.0);
  for (int c = 0; c < 3; c++)
    {
      double cast = demo_rand_lognormal (rand, 1.0, .06);

      for (int i = 0; i < 256; i++)
        map[c][i] =
          byte_of (lift + (255.0 - MAX (0.0, lift)) * gain * cast * pow (i / 255.0, gamma));
    }
  for (gsize i = 0; i < (gsize) d->width * (gsize) d->height; i++)
    {
      guint8 *p = d->rgb + 3 * i;
      double y;

      for (int c = 0; c < 3; c++)
        p[c] = map[c][p[c]];
      y = .3 * p[0] + .59 * p[1] + .11 * p[2];
      for (int c = 0; c < 3 && grey > 0.0; c++)
        p[c] = byte_of (p[c] + grey * (y - p[c]));
    }
}

/* out = in + amount × (in - mean of the box around it); a negative amount softens. */
static void
sharpen (DemoDrawing *d, double amount, int reach)
{
  gsize row = (gsize) 3 * (gsize) d->width, n = row * (gsize) d->height;
  g_autofree float *across = g_new (float, n);
  g_autofree guint8 *copy = g_memdup2 (d->rgb, n);
  float inv = 1.0f / (float) (2 * reach + 1);

  for (int y = 0; y < d->height; y++)
    for (int x = 0; x < d->width; x++)
      for (int c = 0; c < 3; c++)
        {
          float sum = 0;

          for (int k = -reach; k <= reach; k++)
            sum += copy[row * (gsize) y + 3 * (gsize) CLAMP (x + k, 0, d->width - 1) + (gsize) c];
          across[row * (gsize) y + 3 * (gsize) x + (gsize) c] = sum * inv;
        }
  for (int y = 0; y < d->height; y++)
    for (gsize i = 0; i < row; i++)
      {
        float sum = 0, v = copy[row * (gsize) y + i];

        for (int k = -reach; k <= reach; k++)
          sum += across[row * (gsize) CLAMP (y + k, 0, d->height - 1) + i];
        d->rgb[row * (gsize) y + i] = byte_of ((double) v + amount * (double) (v - sum * inv));
      }
}

/* Shrunk to a part of its size by nearest places, and grown again bilinearly. */
static void
resample (DemoDrawing *d, double part)
{
  int w = MAX (24, (int) (d->width * part)), h = MAX (24, (int) (d->height * part));
  g_autofree guint8 *small = g_new (guint8, (gsize) 3 * (gsize) w * (gsize) h);

  for (int y = 0; y < h; y++)
    for (int x = 0; x < w; x++)
      memcpy (small + 3 * ((gsize) w * (gsize) y + (gsize) x),
              d->rgb + 3 * ((gsize) d->width * (gsize) ((2 * y + 1) * d->height / (2 * h)) +
                            (gsize) ((2 * x + 1) * d->width / (2 * w))),
              3);
  for (int y = 0; y < d->height; y++)
    for (int x = 0; x < d->width; x++)
      {
        double fx = CLAMP ((x + .5) * w / d->width - .5, 0, w - 1.001);
        double fy = CLAMP ((y + .5) * h / d->height - .5, 0, h - 1.001);
        const guint8 *p = small + 3 * ((gsize) w * (gsize) fy + (gsize) fx);

        fx -= floor (fx);
        fy -= floor (fy);
        for (int c = 0; c < 3; c++)
          {
            double up = p[c] + fx * (p[c + 3] - p[c]);
            double down = p[3 * w + c] + fx * (p[3 * w + c + 3] - p[3 * w + c]);

            d->rgb[3 * ((gsize) d->width * (gsize) y + (gsize) x) + (gsize) c] =
              byte_of (up + fy * (down - up));
          }
      }
}

/* Noise that grows with the light, and a few wild pixels. */
static void
spoil (DemoDrawing *d, DemoRand *rand)
{
  double sd = 10.0 * demo_rand_unit (rand) * demo_rand_unit (rand);
  double wild = demo_rand_chance (rand, .15) ? demo_rand_range (rand, 0.0, .004) : 0.0;
  double shared = demo_rand_unit (rand), table[1024];
  guint64 state = demo_rand_bits (rand) | 1;

  for (int i = 0; i < 1024; i++)
    table[i] = sd * demo_rand_normal (rand);
  for (gsize i = 0; i < (gsize) d->width * (gsize) d->height; i++)
    {
      guint8 *p = d->rgb + 3 * i;
      double all;

      state ^= state << 13;
      state ^= state >> 7;
      state ^= state << 17;
      all = table[state & 1023] * shared;
      for (int c = 0; c < 3; c++)
        p[c] = byte_of (p[c] + (.5 + p[c] / 255.0) *
                                 (all + (1 - shared) * table[(state >> (10 + 10 * c)) & 1023]));
      if (wild > 0.0 && (double) (state >> 48) < wild * 65536.0)
        memset (p, state & 4096 ? 255 : 0, 3);
    }
}

static unsigned char *
to_jpeg (const DemoDrawing *d, int quality, gboolean half_colour, unsigned long *size)
{
  struct jpeg_compress_struct c;
  struct jpeg_error_mgr errors;
  unsigned char *bytes = NULL;

  c.err = jpeg_std_error (&errors);
  jpeg_create_compress (&c);
  jpeg_mem_dest (&c, &bytes, size);
  c.image_width = (JDIMENSION) d->width;
  c.image_height = (JDIMENSION) d->height;
  c.input_components = 3;
  c.in_color_space = JCS_RGB;
  jpeg_set_defaults (&c);
  jpeg_set_quality (&c, quality, TRUE);
  c.comp_info[0].h_samp_factor = c.comp_info[0].v_samp_factor = half_colour ? 2 : 1;
  jpeg_start_compress (&c, TRUE);
  while (c.next_scanline < c.image_height)
    {
      JSAMPROW row = d->rgb + (gsize) 3 * (gsize) d->width * c.next_scanline;

      jpeg_write_scanlines (&c, &row, 1);
    }
  jpeg_finish_compress (&c);
  jpeg_destroy_compress (&c);
  return bytes;
}

static void
through_jpeg (DemoDrawing *d, int quality, gboolean half_colour)
{
  struct jpeg_decompress_struct c;
  struct jpeg_error_mgr errors;
  unsigned long size = 0;
  unsigned char *bytes = to_jpeg (d, quality, half_colour, &size);

  c.err = jpeg_std_error (&errors);
  jpeg_create_decompress (&c);
  jpeg_mem_src (&c, bytes, size);
  jpeg_read_header (&c, TRUE);
  c.out_color_space = JCS_RGB;
  jpeg_start_decompress (&c);
  while (c.output_scanline < c.output_height)
    {
      JSAMPROW row = d->rgb + (gsize) 3 * (gsize) d->width * c.output_scanline;

      jpeg_read_scanlines (&c, &row, 1);
    }
  jpeg_finish_decompress (&c);
  jpeg_destroy_decompress (&c);
  free (bytes);
}

void
recipe_camera (DemoDrawing *d, guint64 seed)
{
  DemoRand rand;

  demo_rand_init (&rand, seed, 80);
  if (demo_rand_chance (&rand, .3))
    sharpen (d, demo_rand_range (&rand, -.9, 1.8), demo_rand_int (&rand, 1, 2));
  if (demo_rand_chance (&rand, .5))
    tone (d, &rand);
  if (demo_rand_chance (&rand, .15))
    resample (d, demo_rand_range (&rand, .4, .9));
  if (demo_rand_chance (&rand, .5))
    spoil (d, &rand);
  if (demo_rand_chance (&rand, .6))
    through_jpeg (d, demo_rand_int (&rand, 35, 97), demo_rand_chance (&rand, .6));
}
