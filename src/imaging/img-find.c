/* SPDX-License-Identifier: GPL-3.0-or-later */
/* img-find.c — joins strip, network and recursion, and says when a picture is
 * not clear enough to count. The thresholds were set on drawn pictures
 * (tests/imaging/fit) and are no source for real ones.
 */
#include "imaging/img-find.h"
#include "core/core-segment-net.h"
#include "imaging/img-strip-private.h"

#include <math.h>
#include <string.h>

G_STATIC_ASSERT (STRIP_WIDE == CORE_SEGMENT_WIDE);

#define SHORTEST_PX 36.0  /* upright pixels: under two for a suture and a gap of eight plates */
#define LEAST_FINE 0.0036 /* fine part of the contrast: nothing but blur below */
#define MOST_GLARE 0.12
#define LEAST_CONTRAST 0.012
#define LEAST_STRONGEST 0.0 /* log-odds, mean of the three strongest lines */

void
img_find_input (const ImgStrip *strip, float *in)
{
  for (int c = 0; c < 3; c++)
    for (int l = 0; l < CORE_SEGMENT_NET_LANES; l++)
      {
        float *row = in + (gsize) (c * CORE_SEGMENT_NET_LANES + l) * STRIP_WIDE;
        const float *a = strip->flat[c][MAX (0, 2 * l - 1)], *b = strip->flat[c][2 * l];
        const float *d = strip->flat[c][MIN (STRIP_LANES - 1, 2 * l + 1)];
        float unit;

        for (int i = 0; i < STRIP_WIDE; i++)
          row[i] = .25f * a[i] + .5f * b[i] + .25f * d[i];
        unit = 1.0f / (float) MAX (1e-3, strip_robust_sd (row + STRIP_MARGIN, STRIP_N));
        for (int i = 0; i < STRIP_WIDE; i++)
          row[i] = tanhf (row[i] * unit / 3.0f);
      }
}

static void
judge (ImgFindResult *out)
{
  out->unusable = 0;
  if (out->length_px < SHORTEST_PX)
    out->unusable |= CORE_UNUSABLE_TOO_SHORT;
  if (out->sharpness * out->contrast < LEAST_FINE)
    out->unusable |= CORE_UNUSABLE_BLURRED;
  if (out->glare > MOST_GLARE)
    out->unusable |= CORE_UNUSABLE_GLARE;
  if (out->contrast < LEAST_CONTRAST)
    out->unusable |= CORE_UNUSABLE_LOW_CONTRAST;
  if (out->segments.strongest < LEAST_STRONGEST || out->segments.best == 0)
    out->unusable |= CORE_UNUSABLE_WEAK_EVIDENCE;
  out->usable = out->unusable == 0;
}

static void
place (ImgFindResult *out, const ImgStrip *strip)
{
  for (int i = 0; i < out->segments.n_bounds; i++)
    img_strip_point (strip, out->segments.bound[i].at, &out->bound_x[i], &out->bound_y[i]);
}

ImgStripStatus
img_find_segments (const ImgPixels *pixels,
                   const double *axis_xy,
                   int n_marks,
                   const ImgFindOptions *options,
                   ImgFindResult *out,
                   ImgStrip *strip_out)
{
  g_autofree ImgStrip *own = strip_out == NULL ? g_new (ImgStrip, 1) : NULL;
  g_autofree float *in = g_new (float, CORE_SEGMENT_NET_IN *STRIP_WIDE);
  ImgStrip *strip = strip_out != NULL ? strip_out : own;

  *out = (ImgFindResult){ 0 };
  out->status =
    img_strip_build (pixels, axis_xy, n_marks, strip, options != NULL ? options->should_stop : NULL,
                     options != NULL ? options->stop_data : NULL);
  if (out->status != IMG_STRIP_OK)
    {
      out->segments.posterior[0] = out->segments.likelihood[0] = out->segments.best_p = 1.0;
      out->unusable =
        out->status == IMG_STRIP_TOO_SHORT ? CORE_UNUSABLE_TOO_SHORT : CORE_UNUSABLE_WEAK_EVIDENCE;
      return out->status;
    }
  out->length_px = strip->axis_px;
  out->sharpness = strip->sharpness;
  out->glare = strip->glare;
  out->contrast = strip->contrast;
  img_find_input (strip, in);
  core_segment_net (in, &out->evidence);
  core_segment_run (&out->evidence, options != NULL ? &options->edits : NULL, &out->segments);
  place (out, strip);
  judge (out);
  return out->status;
}

/* Ours: of 57 proposed axes 36 had both ends within a tenth. With these two numbers 28 of 31 counts called
 * sure were right, without 32 of 42. */
#define ENDS_OFF .08
#define ENDS_WEIGHT .15
#define ENDS 4 /* either end out and in */

/* The nth of the other axes: one end moved along its last piece. */
static void
move_end (const ImgPixels *pixels, const double *axis_xy, int n_marks, int nth, double *xy)
{
  int end = nth < 2 ? 0 : n_marks - 1, next = nth < 2 ? 1 : n_marks - 2;
  double dx = axis_xy[2 * end] - axis_xy[2 * next], dy = axis_xy[2 * end + 1] - axis_xy[2 * next + 1];
  double piece = hypot (dx, dy), length = 0, by;

  for (int i = 1; i < n_marks; i++)
    length += hypot (axis_xy[2 * i] - axis_xy[2 * i - 2], axis_xy[2 * i + 1] - axis_xy[2 * i - 1]);
  memcpy (xy, axis_xy, 2 * (gsize) n_marks * sizeof *xy);
  by = piece > 0 ? (nth % 2 == 0 ? 1 : -1) * ENDS_OFF * length / piece : 0;
  xy[2 * end] = CLAMP (xy[2 * end] + by * dx, 0, pixels->width - 1);
  xy[2 * end + 1] = CLAMP (xy[2 * end + 1] + by * dy, 0, pixels->height - 1);
}

void
img_find_unsure_ends (const ImgPixels *pixels,
                      const double *axis_xy,
                      int n_marks,
                      const ImgFindOptions *options,
                      ImgFindResult *out,
                      const ImgStrip *strip)
{
  g_autofree ImgFindResult *found = g_new (ImgFindResult, 1);
  CoreSegmentResult others[ENDS];
  double xy[2 * IMG_STRIP_MAX_MARKS];

  if (out->status != IMG_STRIP_OK)
    return;
  for (int i = 0; i < ENDS; i++)
    {
      move_end (pixels, axis_xy, n_marks, i, xy);
      (void) img_find_segments (pixels, xy, n_marks, options, found, NULL); /* none is read: none is seen */
      others[i] = found->segments;
    }
  core_segment_mix (&out->evidence, others, ENDS, ENDS_WEIGHT, &out->segments);
  place (out, strip);
  judge (out);
}

gboolean
img_find_rerun (ImgFindResult *result, const ImgStrip *strip, const CoreSegmentEdits *edits)
{
  gboolean fits = core_segment_run (&result->evidence, edits, &result->segments);

  place (result, strip);
  return fits;
}
