/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tour-picture.c — one drawn picture with its truth beside it, for the tour.
 *
 * tour-picture OUT.jpg SEED COUNT LEVEL DAY [unusable]: writes OUT.jpg with DAY
 * (YYYY-MM-DD) in its EXIF, and prints the truth as JSON on stdout. All points
 * are pixels of the upright picture, whatever the locale numbers have a '.'.
 */
#include <gio/gio.h>
#include <stdio.h>
#include <string.h>

#include "demo/demo-draw.h"
#include "demo/demo-jpeg.h"

static void
put_point (GString *out, const char *name, DemoPoint p)
{
  char x[G_ASCII_DTOSTR_BUF_SIZE], y[G_ASCII_DTOSTR_BUF_SIZE];

  g_string_append_printf (out, "%s%s%s[%s,%s]", *name != '\0' ? ",\"" : "", name,
                          *name != '\0' ? "\":" : "", g_ascii_formatd (x, sizeof x, "%.2f", p.x),
                          g_ascii_formatd (y, sizeof y, "%.2f", p.y));
}

static char *
truth_json (const DemoDrawing *drawing)
{
  const DemoTruth *truth = &drawing->truth;
  GString *out = g_string_new (NULL);

  g_string_append_printf (out, "{\"width\":%d,\"height\":%d,\"countable\":%s,\"count\":%d",
                          drawing->width, drawing->height, truth->countable ? "true" : "false",
                          truth->count);
  put_point (out, "base", truth->base);
  put_point (out, "tip", truth->tip);
  put_point (out, "mid", truth->mid);
  g_string_append (out, ",\"bounds\":[");
  for (int i = 0; i < truth->n_bounds; i++)
    {
      g_string_append (out, i > 0 ? "," : "");
      put_point (out, "", truth->bound[i]);
    }
  g_string_append (out, "]}");
  return g_string_free (out, FALSE);
}

int
main (int argc, char **argv)
{
  DemoDrawOptions options = { 0 };
  g_autoptr (DemoDrawing) drawing = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *json = NULL;
  g_autofree char *taken = NULL;
  gboolean unusable = argc == 7 && strcmp (argv[6], "unusable") == 0;

  if (argc != 6 && !unusable)
    {
      fprintf (stderr, "Usage: tour-picture OUT.jpg SEED COUNT LEVEL YYYY-MM-DD [unusable]\n");
      return 2;
    }
  options.seed = g_ascii_strtoull (argv[2], NULL, 10);
  options.count = (int) g_ascii_strtoll (argv[3], NULL, 10);
  options.level = (int) g_ascii_strtoll (argv[4], NULL, 10);
  options.width = 2048;
  options.height = 1536;
  options.unusable = unusable;
  options.sex = options.count >= 7 ? DEMO_SEX_MALE : DEMO_SEX_FEMALE;
  drawing = demo_draw (&options);
  taken = g_strconcat (argv[5], " 10:12:00", NULL);
  if (!demo_jpeg_write (argv[1], drawing->rgb, drawing->width, drawing->height, 90, 6, taken, &error))
    {
      fprintf (stderr, "%s\n", error->message);
      return 1;
    }
  json = truth_json (drawing);
  return puts (json) >= 0 && fflush (stdout) == 0 ? 0 : 1;
}
