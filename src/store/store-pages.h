/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-pages.h — the rows of a database file read from its pages, without SQLite: what is left
 * when SQLite no longer opens it. Only for store-salvage.c and its tests.
 *
 * Invariant: nothing outside the mapped files is read, every walk ends, and the file is not
 * changed.
 */
#pragma once

#include <glib.h>

typedef enum
{
  PAGE_VALUE_NULL,
  PAGE_VALUE_INT,
  PAGE_VALUE_REAL,
  PAGE_VALUE_TEXT,
  PAGE_VALUE_BLOB
} PageValueType;

typedef struct
{
  PageValueType type;
  gint64 i;
  double r;
  const guint8 *bytes; /* of text and blob: valid during the callback */
  gsize n;
} PageValue;

#define PAGE_MAX_COLUMNS 32

typedef struct
{
  gboolean has_rowid; /* of a table with one; else a row of an index or a table without */
  gint64 rowid;
  int n;
  PageValue values[PAGE_MAX_COLUMNS];
} PageRow;

/* FALSE ends the walk. */
typedef gboolean (*PageRowFunc) (const PageRow *row, gpointer data);

/* What the file tells of itself that is not there any more. */
typedef struct
{
  guint32 pages;     /* that it should have beyond its end */
  gint64 last_entry; /* the table `entry` has had a row of this number at least; 0 = not told */
} PageLoss;

/* Every sound row on every page of the file and of what is committed in its "-wal", in the order
 * of the pages; a row can come more than once. FALSE when the files cannot be read at all, or
 * `func` ended it. */
gboolean _store_pages_walk (const char *db_path, PageRowFunc func, gpointer data, PageLoss *loss);
