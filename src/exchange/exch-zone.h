/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-zone.h — the time zone that the head of a logger's file names. */
#pragma once

#include <glib.h>

#define EXCH_ZONE_NAME 24

typedef struct
{
  char name[EXCH_ZONE_NAME]; /* as it stands there: "GMT+05:00", "CEST" */
  gboolean certain;          /* names its distance from UTC; letters alone do not, nor do two zones */
  gboolean has_offset;       /* else nobody knows which zone these letters mean */
  int offset;                /* seconds east of UTC */
} ExchZone;

/* "+5", "+05", "+0530", "-05:30", also with the true minus sign, at *at: seconds east of UTC, and *at is
 * behind it. FALSE: no such thing stands there, and *at stays. */
gboolean exch_offset_take (const char **at, const char *end, int *offset);

/* The first zone named in `text`; FALSE = none. */
gboolean exch_zone_find (const char *text, gsize length, ExchZone *out);
