/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fake-decode.c — a decoder that misbehaves in the way MANTIDARY_FAKE names.
 *
 * It stands in for one that a picture has taken over. "good" is the yardstick:
 * the same writer, telling the truth, must be believed.
 */
#include "imaging/decode/decode-wire.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define WIDTH 4
#define HEIGHT 3

typedef struct
{
  const char *name;
  gsize field; /* offset in DecodeHeader */
  guint32 value;
} Lie;

#define AT(field) offsetof (DecodeHeader, field)

static const Lie lies[] = {
  { "good", AT (width), WIDTH },
  { "magic", AT (magic), 0x12345678 },
  { "version", AT (version), DECODE_VERSION + 1 },
  { "format-none", AT (format), DECODE_FORMAT_NONE },
  { "format-unknown", AT (format), 77 },
  { "width-0", AT (width), 0 },
  { "width-huge", AT (width), 0xffffffff },
  { "width-more", AT (width), WIDTH + 1 },
  { "height-0", AT (height), 0 },
  { "height-huge", AT (height), 0x80000001 },
  { "height-less", AT (height), HEIGHT - 1 },
  { "full-smaller", AT (full_width), WIDTH - 1 },
  { "full-huge", AT (full_height), 0x7fffffff },
  { "orientation-0", AT (orientation), 0 },
  { "orientation-9", AT (orientation), 9 },
  { "orientation-huge", AT (orientation), 0xfffffff1 },
  { "date-month-13", AT (taken[1]), 13 },
  { "date-year-huge", AT (taken[0]), 0x7fffffff },
  { "date-negative", AT (taken[2]), 0x80000000 },
};

static int
answer (const char *mode)
{
  DecodeHeader header = { DECODE_MAGIC,
                          DECODE_VERSION,
                          DECODE_FORMAT_PNG,
                          WIDTH,
                          HEIGHT,
                          WIDTH,
                          HEIGHT,
                          1,
                          1,
                          { 2026, 5, 17 },
                          -1,
                          G_MININT32 };
  guint8 pixels[WIDTH * HEIGHT * 3];
  gint64 end = DECODE_PIXELS_AT + (gint64) sizeof pixels;
  int seals = DECODE_SEALS;

  for (gsize i = 0; i < G_N_ELEMENTS (lies); i++)
    if (strcmp (mode, lies[i].name) == 0)
      memcpy ((char *) &header + lies[i].field, &lies[i].value, 4);
  if (strcmp (mode, "short") == 0)
    end--;
  if (strcmp (mode, "long") == 0)
    end++;
  if (strcmp (mode, "header-only") == 0)
    end = sizeof header;
  if (strcmp (mode, "unsealed") == 0)
    seals = 0;
  if (strcmp (mode, "may-shrink") == 0)
    seals &= ~F_SEAL_SHRINK;
  if (strcmp (mode, "may-write") == 0)
    seals &= ~F_SEAL_WRITE;
  memset (pixels, 99, sizeof pixels);
  if (pwrite (DECODE_FD_OUT, &header, sizeof header, 0) < 0 ||
      pwrite (DECODE_FD_OUT, pixels, sizeof pixels, DECODE_PIXELS_AT) < 0 ||
      ftruncate (DECODE_FD_OUT, end) != 0 ||
      (seals != 0 && fcntl (DECODE_FD_OUT, F_ADD_SEALS, seals) != 0))
    return DECODE_EXIT_FAILED;
  return 0;
}

int
main (void)
{
  const char *mode = getenv ("MANTIDARY_FAKE");

  if (mode == NULL)
    return 2;
  if (strcmp (mode, "killed") == 0)
    raise (SIGKILL);
  if (strcmp (mode, "crashed") == 0)
    raise (SIGSEGV);
  if (strcmp (mode, "cpu") == 0)
    raise (SIGXCPU);
  if (strcmp (mode, "hangs") == 0)
    for (;;)
      pause ();
  if (strcmp (mode, "exit-1") == 0)
    return 1;
  if (strcmp (mode, "exit-255") == 0)
    return 255;
  if (strcmp (mode, "silent") == 0)
    return 0;
  return answer (mode);
}
