/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-types.h — the words that every room shares: days, ids, subjects, doubt.
 *
 * A day is a civil day of the keeper, counted from 1970-01-01 = 0. The evening
 * of day d is the time t = d; a moment inside the day d lies in (d - 1, d].
 */
#pragma once

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef int32_t CoreDay;
#define CORE_DAY_NONE INT32_MIN

/* Largest number of moults since hatch that any rule or table looks at. */
#define CORE_MAX_MOULTS 14

typedef struct
{
  uint8_t b[16]; /* UUIDv7, big endian; all zero = none */
} CoreId;

typedef enum
{
  CORE_SUBJECT_NONE,
  CORE_SUBJECT_ANIMAL,
  CORE_SUBJECT_LOT,
  CORE_SUBJECT_EGGCASE,
  CORE_SUBJECT_PLACE,
  CORE_SUBJECT_CULTURE,
  CORE_SUBJECT_JOURNAL,
  CORE_N_SUBJECTS
} CoreSubjectKind;

typedef enum
{
  CORE_OK,
  CORE_NO_MEMORY,
  CORE_BAD_INPUT,
  CORE_STOPPED
} CoreStatus;

typedef enum
{
  CORE_SEX_UNKNOWN,
  CORE_SEX_MALE,
  CORE_SEX_FEMALE
} CoreSex;

typedef enum
{
  CORE_SEEN_UNKNOWN,
  CORE_SEEN_NYMPH,
  CORE_SEEN_SUBADULT,
  CORE_SEEN_ADULT
} CoreSeenStage;

/* Units of the values of a reason; words turns them into text. */
typedef enum
{
  CORE_UNIT_NONE,
  CORE_UNIT_DAYS,
  CORE_UNIT_TIMES,
  CORE_UNIT_MM,
  CORE_UNIT_CELSIUS,
  CORE_UNIT_PERCENT,
  CORE_UNIT_SCORE,
  CORE_UNIT_PROBABILITY,
  CORE_UNIT_MOULTS,
  CORE_UNIT_DAY /* value is a CoreDay */
} CoreUnit;

#define CORE_REASON_ENTRIES 4

/* One link of a reason chain. `rule` is a stable id ("feed.interval"); only
 * words knows the sentence. value and value2 are in `unit`. */
typedef struct
{
  const char *rule; /* static, never NULL */
  CoreId entries[CORE_REASON_ENTRIES];
  uint8_t n_entries;
  CoreUnit unit;
  double value;
  double value2;
  double value3;      /* where a rule has a third */
  CoreDay day;        /* CORE_DAY_NONE when it has none */
  CoreDay day2;
  int code;           /* rule-specific: a prey, a sign, an outcome; 0 = none */
  bool has_shift;
  double shift_days;  /* forecast: median with the fact - median without it */
} CoreReason;

int core_id_compare (CoreId a, CoreId b);
bool core_id_is_none (CoreId id);
bool core_id_equal (CoreId a, CoreId b);
/* Writes 36 characters and a NUL: 8-4-4-4-12 lower-case hex. */
void core_id_to_text (CoreId id, char out[37]);
bool core_id_from_text (const char *text, CoreId *out);
