/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-readings.h — what is said of a logger's file: of the whole, and of a line. */
#pragma once

#include "core/core-climate.h"
#include "words/words.h"

G_BEGIN_DECLS

typedef enum
{
  READINGS_OK,
  /* The whole file */
  READINGS_EMPTY,
  READINGS_LARGE,   /* {1} most, MiB */
  READINGS_BINARY,  /* {1} line with a character that no text has */
  READINGS_LETTERS, /* it says which letters it uses, and uses others */
  READINGS_NO_TABLE,
  READINGS_COMMAS,  /* the comma separates columns and stands in numbers */
  READINGS_NO_VALUES,
  READINGS_NOTHING, /* no line could be read */
  READINGS_NO_COLUMN,  /* {1} what was asked for, {2} the headings that there are */
  READINGS_TWO_COLUMNS, /* {1} the same column is given twice */
  READINGS_ZONE,       /* {1} no such time zone */
  /* To be asked */
  READINGS_ASK_UNIT,    /* {1} from, {2} to */
  READINGS_ASK_ORDER,   /* {1} a date */
  READINGS_ASK_COLUMNS, /* {1} the headings that there are */
  READINGS_ASK_ZONE,    /* {1} the zone that the file names */
  /* One line */
  READINGS_ROW_QUOTE,
  READINGS_ROW_SHORT,
  READINGS_ROW_TIME,   /* {1} what stands there */
  READINGS_ROW_FUTURE, /* {1} */
  READINGS_ROW_OLD,    /* {1} */
  READINGS_ROW_SKIPPED, /* {1} an hour that there is not: the clocks are put forward */
  READINGS_ROW_NUMBER, /* {1} */
  READINGS_ROW_T,      /* {1} */
  READINGS_ROW_RH,     /* {1} */
  READINGS_ROW_NONE,   /* neither temperature nor humidity */
  READINGS_N_PROBLEMS
} ReadingsProblem;

/* One sentence with what to do; {1} and {2} from `a` and `b`, may be NULL. Owned. */
char *words_readings_problem (WordsLang lang, ReadingsProblem problem, const char *a, const char *b);

typedef struct
{
  guint readings, already, duplicates, contradictions, gaps, bad;
  guint differing; /* of the readings: another value stands in the journal at that time; both count */
  guint two_values; /* times that have two values in the journal */
  CoreDay first, last;
  const char *zone; /* borrowed: that the file names and that its times are of; NULL = none */
} WordsReadings;

/* "12,410 readings from 1 May to 14 June 2026; 3 twice in the file, 2 gaps, 5 lines not understood." */
char *words_readings_summary (const WordsView *view, const WordsReadings *what);

/* "By day the air is 24.1 °C at 61 %: its dew point is 16.1 °C. Cooled to 18 °C in the night …" */
char *words_climate_night (const WordsView *view, const CoreNight *night);

G_END_DECLS
