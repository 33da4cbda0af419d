/* SPDX-License-Identifier: GPL-3.0-or-later */
/* decode-wire.h — what mantidary-decode and its caller agree on.
 *
 *   mantidary-decode [--max-side=N] [--memory-mb=N] [--cpu-seconds=N]
 *   fd 3  the picture: a regular file open for reading (its offset is not used)
 *   fd 4  an empty memory file made with MFD_ALLOW_SEALING, open for writing
 *
 * Exit status 0: fd 4 holds one DecodeHeader, zeros up to DECODE_PIXELS_AT,
 * then height rows of stride = 3 × width bytes, 8-bit sRGB, upright, and
 * nothing more; it carries all of DECODE_SEALS. Any other status: fd 4 means
 * nothing. --memory-mb and --cpu-seconds can only lower the built-in limits.
 *
 * Numbers are in the byte order of the machine: both ends run on it.
 */
#pragma once

#include <fcntl.h>
#include <glib.h>

#define DECODE_FD_IN 3
#define DECODE_FD_OUT 4

#define DECODE_MAGIC 0x4345444du /* "MDEC" on a little-endian machine */
#define DECODE_VERSION 1u
#define DECODE_PIXELS_AT 4096
#define DECODE_SEALS (F_SEAL_SHRINK | F_SEAL_GROW | F_SEAL_WRITE | F_SEAL_SEAL)

/* No camera in a keeper's hand makes more; one that did would need gigabytes. */
#define DECODE_MAX_PIXELS (200 * 1000 * 1000)
/* 200 megapixels as an uncompressed TIFF, with room to spare. */
#define DECODE_MAX_FILE ((gint64) 1024 * 1024 * 1024)

typedef enum
{
  DECODE_FORMAT_NONE,
  DECODE_FORMAT_JPEG,
  DECODE_FORMAT_PNG,
  DECODE_FORMAT_HEIC,
  DECODE_FORMAT_WEBP,
  DECODE_FORMAT_TIFF,
  DECODE_N_FORMATS,
} DecodeFormat;

/* Exit statuses. 1 and 2 stay free for what a shell or a loader may say. */
typedef enum
{
  DECODE_EXIT_OK = 0,
  DECODE_EXIT_NOT_A_PICTURE = 20,
  DECODE_EXIT_TOO_LARGE = 21,
  DECODE_EXIT_DAMAGED = 22,
  DECODE_EXIT_EMPTY = 26, /* not 23: a leak checker ends with that */
  DECODE_EXIT_UNREADABLE = 24,
  DECODE_EXIT_FAILED = 25,
  DECODE_EXIT_NO_LOADER = 40, /* + DecodeFormat */
} DecodeExit;

typedef struct
{
  guint32 magic;
  guint32 version;
  guint32 format; /* DecodeFormat */
  guint32 width;  /* of the pixels that follow, upright */
  guint32 height;
  guint32 full_width; /* of the whole picture, upright; >= width */
  guint32 full_height;
  guint32 orientation; /* 1…8: the turn that was applied to what the loader gave */
  guint32 has_taken;   /* 0 or 1; the fields below are 0 without it */
  gint32 taken[6];     /* year, month, day, hour, minute, second; hour -1: no time of day */
  gint32 taken_ms;     /* sub-second part, 0…999; -1 unknown */
  gint32 utc_offset;   /* minutes east of UTC; G_MININT32 unknown */
} DecodeHeader;

G_STATIC_ASSERT (sizeof (DecodeHeader) <= DECODE_PIXELS_AT);
