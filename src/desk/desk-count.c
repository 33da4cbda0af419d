/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-count.c — decode, find, and the boundaries of a count that was asked for. */
#include "desk/desk-count.h"

#include <string.h>

#include "desk/desk-private.h"
#include "imaging/img-decode.h"

static const WordsDeskProblem strip_problems[] = {
  [IMG_STRIP_BAD_MARKS] = WORDS_DESK_AXIS_BAD,
  [IMG_STRIP_OUTSIDE] = WORDS_DESK_AXIS_OUTSIDE,
  [IMG_STRIP_TOO_SHORT] = WORDS_DESK_AXIS_SHORT,
  [IMG_STRIP_STOPPED] = WORDS_DESK_STOPPED,
  [IMG_STRIP_CROSSED] = WORDS_DESK_AXIS_CROSSED,
};

static void
find_given (DeskCount *out, const ImgStrip *strip, int plates)
{
  if (!core_segment_given (&out->find.evidence, NULL, plates, out->given))
    return;
  out->n_given = plates - 1;
  for (int i = 0; i < out->n_given; i++)
    img_strip_point (strip, out->given[i].at, &out->given_x[i], &out->given_y[i]);
}

gboolean
desk_count_file (const char *path,
                 const double *axis,
                 int n_marks,
                 int plates,
                 DeskCount *out,
                 GError **error)
{
  g_autofree ImgStrip *strip = g_new0 (ImgStrip, 1);
  g_autoptr (ImgPicture) picture = NULL;
  ImgStripStatus status;
  gint64 began = g_get_monotonic_time ();
  gint64 decoded;

  memset (out, 0, sizeof *out);
  picture = img_decode (path, NULL, NULL, error);
  if (picture == NULL)
    return FALSE;
  decoded = g_get_monotonic_time ();
  status = img_find_segments (picture->pixels, axis, n_marks, NULL, &out->find, strip);
  out->decode_ms = (double) (decoded - began) / 1000;
  out->find_ms = (double) (g_get_monotonic_time () - decoded) / 1000;
  if (status != IMG_STRIP_OK)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, strip_problems[status], NULL);
      return FALSE;
    }
  if (plates > 0)
    find_given (out, strip, plates);
  return TRUE;
}
