/* SPDX-License-Identifier: GPL-3.0-or-later */
/* draw-picture.c — a drawn picture with known truth, for tests of the command line.
 *
 * draw-picture PATH SEED PLATES LEVEL ORIENTATION: PLATES 0 = a leaf, -1 = an
 * unusable picture of eight. Prints one JSON object. */
#include <stdio.h>
#include <stdlib.h>

#include "demo/demo-draw.h"
#include "demo/demo-jpeg.h"

int
main (int argc, char **argv)
{
  DemoDrawOptions options = { .width = 1000, .height = 750, .subject = DEMO_SUBJECT_UNDERSIDE };
  g_autoptr (DemoDrawing) drawing = NULL;
  g_autoptr (GError) error = NULL;
  int plates;

  if (argc != 6)
    return 2;
  plates = atoi (argv[3]);
  options.seed = (guint64) atoi (argv[2]);
  options.level = atoi (argv[4]);
  options.subject = plates == 0 ? DEMO_SUBJECT_LEAF : DEMO_SUBJECT_UNDERSIDE;
  options.unusable = plates < 0;
  options.count = plates < 0 ? 8 : plates;
  drawing = demo_draw (&options);
  if (!demo_jpeg_write (argv[1], drawing->rgb, drawing->width, drawing->height, 92, atoi (argv[5]),
                        "2026-05-20 18:30:00", &error))
    {
      fprintf (stderr, "%s\n", error->message);
      return 1;
    }
  printf ("{\"count\":%d,\"axis\":[%d,%d,%d,%d,%d,%d]}\n", drawing->truth.count,
          (int) drawing->truth.base.x, (int) drawing->truth.base.y, (int) drawing->truth.mid.x,
          (int) drawing->truth.mid.y, (int) drawing->truth.tip.x, (int) drawing->truth.tip.y);
  return 0;
}
