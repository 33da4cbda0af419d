/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-double.h — what a test sets of the BenchModel that stands in for the real one. */
#pragma once

#include "desk/bench-model.h"

extern int bench_double_proposed;       /* plates */
extern double bench_double_chance;      /* of that count */
extern unsigned bench_double_unusable;  /* bits of CoreUnusable */
extern unsigned bench_double_doubts;    /* bits of BenchDoubt beside its own */
extern gboolean bench_double_fails;     /* loading fails */
extern int bench_double_records;        /* how often it was recorded */

void bench_double_go (BenchModel *self, BenchStep step);
