/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-strip-render.c — the straightened abdomen as a picture for the bench. */
#include "imaging/img-strip-private.h"

#include <math.h>

#define AROUND 1.3 /* of the widest half width */
#define RENDER_WITHIN .42 /* axis lengths: AROUND times the farthest outline */
#define LEVELS 256
#define CUT .02      /* of the abdomen's pixels at either end of the light */
#define MOST_GAIN 4.0 /* more would make a pattern of noise */

/* Red, green and blue weighed as the eye does (Rec. 601). */
static int
luma_of (const guint8 *rgb)
{
  return (299 * rgb[0] + 587 * rgb[1] + 114 * rgb[2]) / 1000;
}

static int
level_at (const guint *count, double share, guint total)
{
  double sum = 0;
  int level = 0;

  while (level < LEVELS - 1 && (sum += count[level]) <= share * total)
    level++;
  return level;
}

/* Spreads the light of the abdomen, not that of the ground beside it, over the whole scale. */
static void
stretch (guint8 *rgb, int width, int height, const ImgStrip *strip, double scale)
{
  guint count[LEVELS] = { 0 }, total = 0;
  int low, high;
  double gain;

  for (int y = 0; y < height; y++)
    {
      int i = MIN (STRIP_N - 1, y * STRIP_N / height);

      for (int x = 0; x < width; x++)
        {
          double d = (x + .5 - .5 * width) * scale;

          if (d < -strip->side[0][i] || d > strip->side[1][i])
            continue;
          count[luma_of (rgb + 3 * ((gsize) width * y + x))]++;
          total++;
        }
    }
  if (total == 0)
    return;
  low = level_at (count, CUT, total);
  high = level_at (count, 1 - CUT, total);
  gain = MIN (MOST_GAIN, 255.0 / MAX (1, high - low));
  if (gain <= 1)
    return;
  /* The middle of what is there comes to the middle of the scale. All channels move by as much, so that
   * colours stay. */
  for (gsize k = 0; k < (gsize) 3 * (gsize) width * (gsize) height; k += 3)
    {
      int light = luma_of (rgb + k);
      double more = 127.5 + gain * (light - .5 * (low + high)) - light;

      for (int c = 0; c < 3; c++)
        rgb[k + c] = (guint8) CLAMP (rgb[k + c] + more + .5, 0, 255);
    }
}

ImgPixels *
img_strip_render (const ImgPixels *pixels, const ImgStrip *strip, int height)
{
  StripRegion region = { 0 };
  double widest = 0.0, scale;
  int width;
  guint8 *out;
  gsize size;

  height = CLAMP (height, 16, 4096);
  for (int i = 0; i < STRIP_N; i++)
    widest = MAX (widest, MAX (strip->side[0][i], strip->side[1][i]));
  scale = strip->axis_px / height; /* upright pixels a row */
  width = CLAMP ((int) lround (2.0 * AROUND * widest / scale), 8, 2 * height);
  size = (gsize) 3 * (gsize) width * (gsize) height;
  out = g_malloc (size);
  strip_region_init (&region, pixels, strip, RENDER_WITHIN, NULL, NULL);
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      {
        double at = (y + .5) / height, d = (x + .5 - .5 * width) * scale, ax, ay;
        int i = MIN (STRIP_N - 1, (int) (at * STRIP_N));
        float rgb[3];

        img_strip_point (strip, at, &ax, &ay);
        strip_region_sample (&region, ax + d * strip->nx[i], ay + d * strip->ny[i], rgb);
        for (int c = 0; c < 3; c++)
          out[3 * ((gsize) width * y + x) + c] =
            (guint8) (255.0f * CLAMP (rgb[c], 0.0f, 1.0f) + .5f);
      }
  strip_region_clear (&region);
  stretch (out, width, height, strip, scale);
  return img_pixels_new_take (width, height, (gsize) 3 * width, g_bytes_new_take (out, size));
}
