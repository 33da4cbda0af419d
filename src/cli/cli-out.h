/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-out.h — one result as JSON (RFC 8259) or as indented text for people.
 *
 * The same calls write both. Numbers always have a '.', whatever the locale;
 * NAN and CORE_DAY_NONE become null. Inside an array the key is NULL.
 */
#pragma once

#include <glib.h>

#include "core/core-types.h"

typedef struct
{
  GString *text; /* owned */
  gboolean json;
  int depth; /* of text */
  gboolean first;
} CliOut;

void cli_out_init (CliOut *self, gboolean json);
void cli_out_clear (CliOut *self);
void cli_out_open (CliOut *self, const char *key); /* an object */
void cli_out_close (CliOut *self);
void cli_out_array (CliOut *self, const char *key);
void cli_out_array_end (CliOut *self);
void cli_out_str (CliOut *self, const char *key, const char *value); /* NULL = null */
void cli_out_int (CliOut *self, const char *key, gint64 value);
void cli_out_num (CliOut *self, const char *key, double value, int decimals);
void cli_out_bool (CliOut *self, const char *key, gboolean value);
void cli_out_null (CliOut *self, const char *key);
void cli_out_day (CliOut *self, const char *key, CoreDay day);
void cli_out_id (CliOut *self, const char *key, CoreId id); /* none = null */
/* Write what was gathered to stdout; FALSE when that failed (a full disk, a closed pipe). */
gboolean cli_out_flush (CliOut *self);
