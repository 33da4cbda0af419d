/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-table-private.h — what the two files of a logger's table share. */
#pragma once

#include "exchange/exch-readings.h"

struct _ExchTable
{
  GBytes *bytes; /* owned, letters of ASCII and what follows; never '\0' */
  char newline;
  gsize first;   /* where the first line of readings begins */
  guint first_line;
  gsize before;  /* where the line of headings begins */
  guint n_columns;
  char *headings[EXCH_READINGS_MAX_COLUMNS]; /* owned, clean UTF-8 */
  char *samples[EXCH_READINGS_MAX_COLUMNS];
  ExchMapping guess;
};

/* The next line from *at, without its end; FALSE at the end of the text. */
gboolean _exch_table_line (const ExchTable *self, gsize *at, ExchCell *line);
/* Cells of a line; *n is how many it has, at most EXCH_READINGS_MAX_COLUMNS. FALSE: an open quotation. */
gboolean _exch_table_cells (ExchCell line, char delimiter, ExchCell *cells, guint *n);
