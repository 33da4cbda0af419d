/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-keep.h — which of the daily backups are kept, and which may go. */
#pragma once

#include <stddef.h>

#include "core/core-types.h"

#define CORE_KEEP_N_DAILY 7
#define CORE_KEEP_N_WEEKLY 8

typedef enum
{
  CORE_KEEP_NOT,    /* may be removed */
  CORE_KEEP_DAILY,  /* one of the last seven */
  CORE_KEEP_WEEKLY, /* the last one of its week, Monday to Sunday, before those */
  CORE_KEEP_AHEAD   /* of a day that has not come: not counted, never removed */
} CoreKeep;

/* `days`: each once, in any order; out[i] belongs to days[i]. Of the days up to
 * `today` the last seven are daily ones; among those before them the last of
 * each of the eight latest weeks are weekly ones. The latest is always kept. */
void core_keep (const CoreDay *days, size_t n, CoreDay today, CoreKeep *out);
