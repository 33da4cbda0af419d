/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-segment-net.h — a small convolution network that reads a straightened
 * strip: evidence for a line at every sample, and for each count as a whole.
 * Its weights are the generated core-segment-net-table.h, fitted on drawn
 * pictures by tests/imaging/fit/fit.py. Pure arithmetic in a fixed order.
 */
#pragma once

#include "core/core-segment.h"

#define CORE_SEGMENT_NET_LANES 11
#define CORE_SEGMENT_NET_IN                                                                        \
  (3 * CORE_SEGMENT_NET_LANES) /* luminance of 11 lanes, then two colour ratios */

/* in: CORE_SEGMENT_NET_IN rows of CORE_SEGMENT_WIDE samples (margins first and last), each over its
 * robust sd, then tanh (x / 3). With the lanes the other way round (a mirrored picture) it says the
 * same, to the bit. */
void core_segment_net (const float *in, CoreSegmentEvidence *out);
