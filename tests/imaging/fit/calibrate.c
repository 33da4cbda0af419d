/* SPDX-License-Identifier: GPL-3.0-or-later */
/* calibrate.c — prints what calibrate.py needs: for each strip of a file, for
 * one gain and shift of the lines' log-odds, the log sums of all counts.
 * calibrate STRIPS GAIN SHIFT prints "level count log4 … log10 head0 … head7
 * strongest"; calibrate blank prints the sums without evidence.
 * It is core-segment.c with the two constants as variables.
 */
#include "core/core-segment-net.h"
#include "core/core-segment-table.h"

static double gain = 1.0, shift = 0.0;
#undef SEGMENT_LINE_GAIN
#undef SEGMENT_LINE_SHIFT
#undef SEGMENT_ROW_WEIGHT
#undef SEGMENT_COUNT_WEIGHT
#undef SEGMENT_NONE_SHIFT
#undef SEGMENT_TEMPERATURE
#define SEGMENT_LINE_GAIN gain
#define SEGMENT_LINE_SHIFT shift
#define SEGMENT_ROW_WEIGHT 1.0
#define SEGMENT_COUNT_WEIGHT 0.0
#define SEGMENT_NONE_SHIFT 0.0
#define SEGMENT_TEMPERATURE 1.0
#include "../../../src/core/core-segment.c"

#include <stdio.h>

static int
one (FILE *file)
{
  static signed char raw[CORE_SEGMENT_NET_IN][CORE_SEGMENT_N];
  static float in[CORE_SEGMENT_NET_IN][CORE_SEGMENT_N];
  CoreSegmentEvidence evidence;
  double logs[CORE_SEGMENT_COUNTS];
  float truth[14];

  if (fread (raw, sizeof raw, 1, file) != 1 || fread (truth, sizeof truth, 1, file) != 1)
    return 0;
  for (int c = 0; c < CORE_SEGMENT_NET_IN; c++)
    for (int i = 0; i < CORE_SEGMENT_N; i++)
      in[c][i] = (float) raw[c][i] / 127.0f;
  core_segment_net (&in[0][0], &evidence);
  count_logs (&evidence, NULL, logs);
  printf ("%g %g", (double) truth[0], (double) truth[1]);
  for (int c = 1; c < CORE_SEGMENT_COUNTS; c++)
    printf (" %.5f", logs[c]);
  for (int c = 0; c < CORE_SEGMENT_COUNTS; c++)
    printf (" %.5f", evidence.count_log[c]);
  printf (" %.4f\n", strongest_lines (&evidence));
  return 1;
}

int
main (int argc, char **argv)
{
  FILE *file;

  if (argc == 2 && strcmp (argv[1], "blank") == 0)
    {
      for (int i = 0; i < N_TEMPLATES; i++)
        printf ("%.15g\n", core_segment_blank (i));
      return 0;
    }
  if (argc != 4 || (file = fopen (argv[1], "rb")) == NULL)
    {
      fprintf (stderr, "usage: calibrate STRIPS GAIN SHIFT | calibrate blank\n");
      return 2;
    }
  gain = atof (argv[2]);
  shift = atof (argv[3]);
  while (one (file))
    ;
  fclose (file);
  return 0;
}
