/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-json.h — reading JSON (RFC 8259) one value after the other, from a file that others may
 * have written. Only inside this room.
 *
 * Invariant: nothing past `end` is read; nesting is bounded; after the first thing that is wrong
 * every further call fails.
 */
#pragma once

#include <glib.h>

typedef struct
{
  const char *at, *end;
  int depth;
  gboolean bad;
} ExchJson;

/* Reads the value of `key` (NULL in an array) by one of the calls below; FALSE: it is wrong. */
typedef gboolean (*ExchJsonMember) (ExchJson *self, const char *key, gpointer data);

void exch_json_init (ExchJson *self, const char *text, gsize n);
gboolean exch_json_object (ExchJson *self, ExchJsonMember member, gpointer data);
gboolean exch_json_array (ExchJson *self, ExchJsonMember item, gpointer data);
char *exch_json_string (ExchJson *self);                         /* owned; NULL: none */
gboolean exch_json_int (ExchJson *self, gint64 max, gint64 *out); /* 0 … max, digits alone */
gboolean exch_json_bool (ExchJson *self, gboolean *out);
gboolean exch_json_skip (ExchJson *self);   /* a value that is not known */
gboolean exch_json_at_end (ExchJson *self); /* nothing but space is left, all was right */

void exch_json_put_string (GString *out, const char *text); /* with its quotes */
