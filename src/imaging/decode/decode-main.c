/* SPDX-License-Identifier: GPL-3.0-or-later */
/* decode-main.c — mantidary-decode: one picture in, pixels out, then gone.
 *
 * Pictures come from anywhere, and their loaders are the widest door into the
 * program. So they run here: a process without the journal, without a network,
 * with bounds on memory and time. Whatever a picture does to it, the caller
 * sees only an exit status. The interface: decode-wire.h.
 */
#include "imaging/decode/decode-exif.h"
#include "imaging/decode/decode-find.h"
#include "imaging/decode/decode-limits.h"
#include "imaging/decode/decode-load.h"
#include "imaging/decode/decode-out.h"
#include "imaging/decode/decode-sniff.h"
#include "imaging/img-orient.h"

#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

typedef struct
{
  guint max_side;
  guint memory_mb;
  guint cpu_seconds;
  gboolean print_limits;
} Args;

static gboolean
number_arg (const char *arg, const char *name, guint *out)
{
  gsize n = strlen (name);
  guint64 value;

  if (strncmp (arg, name, n) != 0 ||
      !g_ascii_string_to_unsigned (arg + n, 10, 0, 1000 * 1000, &value, NULL))
    return FALSE;
  *out = (guint) value;
  return TRUE;
}

static gboolean
parse_args (int argc, char **argv, Args *args)
{
  for (int i = 1; i < argc; i++)
    {
      if (strcmp (argv[i], "--print-limits") == 0)
        args->print_limits = TRUE;
      else if (!number_arg (argv[i], "--max-side=", &args->max_side) &&
               !number_arg (argv[i], "--memory-mb=", &args->memory_mb) &&
               !number_arg (argv[i], "--cpu-seconds=", &args->cpu_seconds))
        return FALSE;
    }
  return TRUE;
}

/* Size of the picture's file, or a reason not to read it. */
static DecodeExit
check_file (gsize *size)
{
  struct stat st;

  if (fstat (DECODE_FD_IN, &st) != 0 || !S_ISREG (st.st_mode))
    return DECODE_EXIT_UNREADABLE;
  if (st.st_size == 0)
    return DECODE_EXIT_EMPTY;
  if (st.st_size > DECODE_MAX_FILE)
    return DECODE_EXIT_TOO_LARGE;
  *size = (gsize) st.st_size;
  return DECODE_EXIT_OK;
}

/* What is left to turn after the loader. HEIC: nothing, its decoder applies the file's own turns,
 * and its EXIF tag only repeats them. TIFF: the loader mirrors rows, and says what else is to do.
 */
static int
orientation_left (DecodeFormat format, const DecodeExif *exif, GdkPixbuf *pixbuf)
{
  const char *option;

  if (format == DECODE_FORMAT_HEIC)
    return 1;
  if (format != DECODE_FORMAT_TIFF)
    return exif->orientation;
  option = gdk_pixbuf_get_option (pixbuf, "orientation");
  if (option == NULL || option[0] < '1' || option[0] > '8' || option[1] != '\0')
    return 1;
  return option[0] - '0';
}

static void
fill_header (DecodeHeader *header,
             DecodeFormat format,
             const DecodeExif *exif,
             const DecodeLoaded *loaded)
{
  int full_w, full_h;

  header->format = format;
  header->orientation = (guint32) orientation_left (format, exif, loaded->pixbuf);
  img_orient_size ((int) header->orientation, loaded->full_width, loaded->full_height, &full_w,
                   &full_h);
  header->full_width = (guint32) full_w;
  header->full_height = (guint32) full_h;
  header->has_taken = exif->has_taken;
  memcpy (header->taken, exif->taken, sizeof header->taken);
  header->taken_ms = exif->taken_ms;
  header->utc_offset = exif->utc_offset;
}

static DecodeExit
decode (const guint8 *data, gsize size, const Args *args)
{
  DecodeFormat format = decode_sniff (data, size);
  g_auto (DecodeLoaded) loaded = { 0 };
  g_auto (DecodeFound) found = { 0 };
  DecodeHeader header = { 0 };
  DecodeExif exif;
  DecodeExit status;

  if (format == DECODE_FORMAT_NONE)
    return DECODE_EXIT_NOT_A_PICTURE;
  status = decode_load (format, data, size, (int) args->max_side, &loaded);
  if (status != DECODE_EXIT_OK)
    return status;
  decode_find (format, data, size, &found);
  if (!found.complete)
    return DECODE_EXIT_DAMAGED;
  decode_exif_read (found.exif != NULL ? g_bytes_get_data (found.exif, NULL) : NULL,
                    found.exif != NULL ? g_bytes_get_size (found.exif) : 0, &exif);
  fill_header (&header, format, &exif, &loaded);
  return decode_out_write (DECODE_FD_OUT, &header, loaded.pixbuf) ? DECODE_EXIT_OK
                                                                  : DECODE_EXIT_TOO_LARGE;
}

int
main (int argc, char **argv)
{
  Args args = { 0 };
  DecodeExit status;
  gsize size = 0;
  void *data;

  if (!parse_args (argc, argv, &args))
    return DECODE_EXIT_FAILED;
  if (!decode_limits_close_doors ())
    g_printerr ("mantidary-decode: this kernel cannot close off the network\n");
  status = args.print_limits ? DECODE_EXIT_OK : check_file (&size);
  if (status != DECODE_EXIT_OK)
    return status;
  if (!decode_limits_apply (args.memory_mb, args.cpu_seconds, size))
    return DECODE_EXIT_FAILED;
  if (args.print_limits)
    {
      decode_limits_print ();
      return DECODE_EXIT_OK;
    }
  data = mmap (NULL, size, PROT_READ, MAP_PRIVATE, DECODE_FD_IN, 0);
  if (data == MAP_FAILED)
    return DECODE_EXIT_UNREADABLE;
  status = decode (data, size, &args);
  munmap (data, size);
  return status;
}
