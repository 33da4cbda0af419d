/* SPDX-License-Identifier: GPL-3.0-or-later */
/* calibrate.c — prints what calibrate.py needs: for each strip of a file, for
 * the log sums of all counts and what the head says of them. calibrate STRIPS prints "level count
 * kind worth*log4 … log10, log4 … log10 head0 … head7 strongest"; calibrate blank prints each template: plates, weight,
 * its sum without evidence, mean lengths. It is core-segment.c with another end.
 */
#include "core/core-segment-net.h"

#include "../../../src/core/core-segment.c"

#include <stdio.h>

static int
one (FILE *file)
{
  static signed char raw[CORE_SEGMENT_NET_IN][CORE_SEGMENT_WIDE];
  static float in[CORE_SEGMENT_NET_IN][CORE_SEGMENT_WIDE];
  CoreSegmentEvidence evidence;
  double logs[CORE_SEGMENT_COUNTS];
  float truth[15];

  if (fread (raw, sizeof raw, 1, file) != 1 || fread (truth, sizeof truth, 1, file) != 1)
    return 0;
  for (int c = 0; c < CORE_SEGMENT_NET_IN; c++)
    for (int i = 0; i < CORE_SEGMENT_WIDE; i++)
      in[c][i] = (float) raw[c][i] / 127.0f;
  core_segment_net (&in[0][0], &evidence);
  row_logs (&evidence, NULL, false, logs); /* weighed as this picture's rows deserve */
  printf ("%g %g %g", (double) truth[0], (double) truth[1], (double) truth[2]);
  for (int c = 1; c < CORE_SEGMENT_COUNTS; c++)
    printf (" %.5f", evidence.rows_worth * (logs[c] > ROWS_FLOOR ? logs[c] : ROWS_FLOOR));
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
        {
          printf ("%d %g %.15g", templates[i].plates, templates[i].weight, core_segment_blank (i));
          for (int j = 0; j < templates[i].plates; j++)
            printf (" %.9f", mean_length (&templates[i], j));
          printf ("\n");
        }
      return 0;
    }
  if (argc != 2 || (file = fopen (argv[1], "rb")) == NULL)
    {
      fprintf (stderr, "usage: calibrate STRIPS | calibrate blank\n");
      return 2;
    }
  while (one (file))
    ;
  fclose (file);
  return 0;
}
