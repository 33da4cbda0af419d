/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-readings.h — the file of a logger: what is in it, how it is meant, its readings.
 *
 * Any text of columns: UTF-8 with or without a mark at its head, UTF-16, or one byte a letter;
 * lines before the table; tabs, semicolons, commas or bars; quoted or not. What can be meant in two
 * ways is not guessed but asked. Nothing here writes.
 */
#pragma once

#include <gio/gio.h>

#include "core/core-climate.h"
#include "exchange/exch-moment.h"
#include "exchange/exch-zone.h"
#include "words/words-readings.h"

#define EXCH_READINGS_MAX_MIB 256
#define EXCH_READINGS_MAX_COLUMNS 64
#define EXCH_READINGS_SHOWN 20 /* of bad lines and gaps */

typedef enum
{
  EXCH_UNIT_UNKNOWN,
  EXCH_UNIT_C,
  EXCH_UNIT_F
} ExchUnit;

typedef struct
{
  char delimiter;  /* tab ; , | */
  char decimal;    /* '.' or ',' */
  int time, clock; /* columns; clock -1 = the time of day stands with the date */
  int t, rh;       /* columns, -1 = there is none */
  ExchUnit unit;   /* UNKNOWN: to be asked */
  ExchOrder order; /* UNKNOWN: to be asked */
  gboolean columns_said; /* by their headings, or by a person */
} ExchMapping;

typedef struct _ExchTable ExchTable;

/* Looks at the whole; NULL with *problem and what belongs to it (owned, may be NULL). */
ExchTable *exch_table_new (GBytes *bytes, ReadingsProblem *problem, char **about);
ExchTable *exch_table_ref (ExchTable *self);
void exch_table_unref (ExchTable *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchTable, exch_table_unref)
const ExchMapping *exch_table_guess (ExchTable *self);
guint exch_table_n_columns (ExchTable *self);
const char *exch_table_heading (ExchTable *self, guint column); /* "" = it has none */
const char *exch_table_sample (ExchTable *self, guint column);  /* of the first reading */
void exch_table_range (ExchTable *self, int column, double *lo, double *hi); /* NAN = no numbers */
/* By heading (any case, or its unique beginning) or number from 1; -1 = there is no such. */
int exch_table_column (ExchTable *self, const char *name);
char *exch_table_headings (ExchTable *self); /* for a sentence: "Time", "Temp °C" */

/* What must be asked before it can be read, READINGS_OK = nothing. */
ReadingsProblem exch_table_asks (ExchTable *self, const ExchMapping *mapping, char **about, char **more);

/* The zone of times without one of their own that the heading of their column names, or the lines
 * before the table; FALSE = none. */
gboolean exch_table_zone (ExchTable *self, const ExchMapping *mapping, ExchZone *out);

typedef struct
{
  GTimeZone *home; /* of the clock on the wall */
  GTimeZone *zone; /* of times without one of their own; NULL = they are the clock on the wall */
  CoreDay today;
} ExchClock;

typedef struct
{
  guint line;
  ReadingsProblem why;
  char *about; /* owned, may be NULL */
} ExchBadRow;

typedef struct
{
  GArray *moments; /* CoreMoment, in order, each time once */
  guint rows;      /* lines with something in them */
  guint n_bad, duplicates, contradictions, n_gaps;
  GArray *bad;     /* ExchBadRow, the first of them */
  GArray *gaps;    /* ExchGap, the first of them */
  gint64 step;     /* usual, seconds */
} ExchReadings;

typedef struct
{
  gint64 from, to;
} ExchGap;

/* NULL when it was cancelled. */
ExchReadings *exch_readings_new (ExchTable *table,
                                 const ExchMapping *mapping,
                                 const ExchClock *clock,
                                 GCancellable *cancellable);
ExchReadings *exch_readings_ref (ExchReadings *self);
void exch_readings_unref (ExchReadings *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ExchReadings, exch_readings_unref)

/* Readings as a table that exch_table_new() reads back. */
void exch_readings_write (GString *out, const CoreMoment *moments, gsize n, gboolean heading);
