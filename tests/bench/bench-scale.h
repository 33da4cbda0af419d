/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-scale.h — the measurements of bench-scale, each on a journal that is there. */
#pragma once

#include <math.h>
#include <stdio.h>

#include "desk/desk.h"

/* Of one measurement: by the clock, and by the processor (all threads), which a machine that is
 * shared with others disturbs less. */
typedef struct
{
  double wall, cpu; /* s */
} BenchTime;

typedef struct
{
  BenchTime select, open, plan;
  unsigned long peak_kb;
  guint living, tasks;
} BenchOpened;

void bench_fail (const GError *error) G_GNUC_NORETURN;
void bench_remove_tree (const char *path);
BenchTime bench_now (void);
BenchTime bench_since (BenchTime began);
BenchTime bench_sum (BenchTime a, BenchTime b);

/* bench-scale-desk.c */
void bench_open (const char *dir, CoreDay today, BenchOpened *out);
BenchTime bench_one_entry (const char *dir, CoreDay today); /* mean, without a durable write */
double bench_search (const char *dir, CoreDay today); /* slowest keystroke, s of processor */

/* bench-scale-sql.c */
BenchTime bench_select (const char *dir);
void bench_drop_snapshot (const char *dir);
double bench_round (const char *dir, CoreDay today); /* the store's time ÷ plain SQLite's */
