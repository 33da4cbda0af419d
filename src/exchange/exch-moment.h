/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-moment.h — a time and a number as loggers write them, out of bytes that may be anything. */
#pragma once

#include <glib.h>

#include "core/core-types.h"

typedef enum
{
  EXCH_ORDER_UNKNOWN, /* 3/4/2026 can be two days */
  EXCH_ORDER_YMD,
  EXCH_ORDER_DMY,
  EXCH_ORDER_MDY,
  EXCH_ORDER_EPOCH    /* seconds or thousandths since 1970, UTC */
} ExchOrder;

typedef struct
{
  const char *at;
  gsize length;
} ExchCell;

typedef struct
{
  CoreDay day;       /* CORE_DAY_NONE = only a clock time */
  int second;        /* after midnight; -1 = only a date; 86400 = 24:00 */
  gboolean zoned;
  int offset;        /* seconds east of UTC, when zoned */
  ExchOrder order;   /* that the numbers leave open (UNKNOWN), or prove */
} ExchMoment;

/* The whole cell; with order UNKNOWN a date that could be two is read day first. */
gboolean exch_moment_parse (ExchCell cell, ExchOrder order, ExchMoment *out);

typedef enum
{
  EXCH_NUMBER_OK,
  EXCH_NUMBER_NONE, /* nothing stands there, or a word for nothing */
  EXCH_NUMBER_BAD
} ExchNumber;

/* `decimal` is '.' or ','; a unit behind the number is its last letter in *unit, or 0. */
ExchNumber exch_number_parse (ExchCell cell, char decimal, double *out, char *unit);
ExchCell exch_cell_strip (ExchCell cell);
