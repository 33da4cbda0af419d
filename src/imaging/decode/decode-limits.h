/* SPDX-License-Identifier: GPL-3.0-or-later */
/* decode-limits.h — what this process takes from itself before it reads a picture. */
#pragma once

#include <glib.h>

/* No new privileges; no sockets, no other program. FALSE where the kernel will not. */
gboolean decode_limits_close_doors (void);

/* Address space and processor time. `memory_mb` and `cpu_seconds` lower the built-in limits; 0
 * leaves them. `file_size` is what the picture's own mapping needs. FALSE if one was refused. */
gboolean decode_limits_apply (guint memory_mb, guint cpu_seconds, gsize file_size);

/* Writes one line of what holds now, as found by trying. */
void decode_limits_print (void);
