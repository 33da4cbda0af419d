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
#define LOOSE_SD .02 /* of the axis: a line that far off would cut a plate */
/* An abdomen narrows to its tip, and looks there much as in its middle. Of drawn ones the last 20 samples
 * were .52 of the middle wide where the tip was marked to 1 %, and 1.2 where it was marked 22 % too far out.
 * Other ways of drawing end bluntly: only with what lies along the axis another (2.5 sd; .8 and 4) is the
 * tip off the body. Of 178 pictures of five other ways 1 was taken for that. */
#define TIP_LONG 20
#define TIP_WIDE .80
#define TIP_ELSE 2.5
#define MIDDLE_FIRST 100
#define MIDDLE_LONG 56
#define BODY_FIRST 40
#define BODY_LONG 176
#define LEAST_SD .03 /* of a channel, log units: below it a body is of one tone */
/* Strongest line that the network sees beyond a mark, log-odds. Of 65 counts called sure along right marks,
 * in six ways of drawing, it was over these in none at the tip and in two at the base; with the tip 20 %
 * inside the body in 45 of 55, with the base so in 22 of 53, on the thorax in 9 of 42. */
#define AFTER_TIP -6.0
#define AFTER_WIDE_TIP -8.0 /* where what lies before the tip is as wide as the middle */
#define BEFORE_BASE -6.5
#define SPINE_FIRST 8
#define SPINE_LAST 12 /* lanes */
/* Log-odds, mean of the three strongest lines. Of 244 drawn pictures of six ways 2 of 6 below 2 were counted
 * right; of pictures far out of focus none had more than 3.9. */
#define LEAST_STRONGEST 2.0
#define SURELY_READ 4.5

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

/* Blur and flat light are measured in light alone. Where sutures differ in colour only, or are read
 * without doubt, neither is the keeper's trouble. */
static void
judge (ImgFindResult *out)
{
  gboolean read = out->segments.named && out->segments.strongest > SURELY_READ;

  out->unusable = 0;
  if (out->length_px < SHORTEST_PX)
    out->unusable |= CORE_UNUSABLE_TOO_SHORT;
  if (!read && out->sharpness * out->contrast < LEAST_FINE)
    out->unusable |= CORE_UNUSABLE_BLURRED;
  if (out->glare > MOST_GLARE)
    out->unusable |= CORE_UNUSABLE_GLARE;
  if (!read && out->contrast < LEAST_CONTRAST)
    out->unusable |= CORE_UNUSABLE_LOW_CONTRAST;
  if (out->segments.strongest < LEAST_STRONGEST || out->segments.best == 0)
    out->unusable |= CORE_UNUSABLE_WEAK_EVIDENCE;
  out->usable = out->unusable == 0;
}

/* Mean width over `n` samples from the first on. */
static double
width_over (const ImgStrip *strip, int first, int n)
{
  double sum = 0;

  for (int i = first; i < first + n; i++)
    sum += strip->side[0][i] + strip->side[1][i];
  return sum / n;
}

/* Mean, and the sum of squares about `about`, of a channel along the spine. */
static double
spine_mean (const ImgStrip *strip, int channel, int first, int n, double about, double *squares)
{
  double sum = 0, all = 0;

  for (int l = SPINE_FIRST; l <= SPINE_LAST; l++)
    for (int i = first; i < first + n; i++)
      {
        double v = (double) strip->raw[channel][l][i];

        sum += v;
        all += (v - about) * (v - about);
      }
  *squares = all;
  return sum / (n * (SPINE_LAST - SPINE_FIRST + 1));
}

/* How much what lies before the tip differs in light and colour from the body, in its sd. */
static double
tip_differs (const ImgStrip *strip)
{
  double sum = 0, squares;

  for (int c = 0; c < 3; c++)
    {
      double body = spine_mean (strip, c, BODY_FIRST, BODY_LONG, 0, &squares);
      double tip = spine_mean (strip, c, IMG_STRIP_N - TIP_LONG - 2, TIP_LONG, 0, &squares), off;

      (void) spine_mean (strip, c, BODY_FIRST, BODY_LONG, body, &squares);
      off = (tip - body) / (sqrt (squares / (BODY_LONG * (SPINE_LAST - SPINE_FIRST + 1))) + LEAST_SD);
      sum += off * off;
    }
  return sqrt (sum);
}

static float
strongest_of (const float *line)
{
  float top = line[0];

  for (int i = 1; i < CORE_SEGMENT_MARGIN; i++)
    top = MAX (top, line[i]);
  return top;
}

static void
doubt (ImgFindResult *out, const ImgStrip *strip)
{
  const CoreSegmentResult *segments = &out->segments;
  double middle = width_over (strip, MIDDLE_FIRST, MIDDLE_LONG), tip = width_over (strip, IMG_STRIP_N - TIP_LONG, TIP_LONG);
  int loose = 0;

  for (int i = 0; i < segments->n_bounds; i++)
    loose += segments->bound[i].sd > LOOSE_SD;
  out->doubt = 2 * loose > segments->n_bounds ? IMG_DOUBT_LINES : 0;
  if (tip > TIP_WIDE * middle && tip_differs (strip) > TIP_ELSE)
    out->doubt |= IMG_DOUBT_TIP;
  else if (strongest_of (out->evidence.after) > (tip > TIP_WIDE * middle ? AFTER_WIDE_TIP : AFTER_TIP))
    out->doubt |= IMG_DOUBT_AFTER;
  if (strongest_of (out->evidence.before) > BEFORE_BASE)
    out->doubt |= IMG_DOUBT_BEFORE;
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
  doubt (out, strip);
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
                      int ends,
                      ImgFindResult *out,
                      const ImgStrip *strip)
{
  g_autofree ImgFindResult *found = g_new (ImgFindResult, 1);
  CoreSegmentResult others[ENDS];
  double xy[2 * IMG_STRIP_MAX_MARKS];
  int n = 0;

  if (out->status != IMG_STRIP_OK)
    return;
  for (int i = 0; i < ENDS; i++)
    {
      if ((ends & (i < 2 ? IMG_FIND_BASE : IMG_FIND_TIP)) == 0)
        continue;
      move_end (pixels, axis_xy, n_marks, i, xy);
      (void) img_find_segments (pixels, xy, n_marks, options, found, NULL); /* none is read: none is seen */
      others[n++] = found->segments;
    }
  core_segment_mix (&out->evidence, others, n, ENDS_WEIGHT, &out->segments);
  place (out, strip);
  judge (out);
  doubt (out, strip);
}

gboolean
img_find_rerun (ImgFindResult *result, const ImgStrip *strip, const CoreSegmentEdits *edits)
{
  gboolean fits = core_segment_run (&result->evidence, edits, &result->segments);

  place (result, strip);
  doubt (result, strip);
  return fits;
}
